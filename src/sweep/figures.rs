//! What can be looked at along a sweep, and what it is held against.

use crate::chemistry::crop;
use crate::figure::Figure;
use crate::outcome::Outcome;
use crate::recipe::Recipe;
use crate::water::pot::AIR_LEAST;
use crate::water::roots::Roots;

macro_rules! figures {
    ($($(#[$doc:meta])* $name:ident $id:literal;)*) => {
        /// A figure of an outcome along a sweep.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Swept { $($(#[$doc])* $name,)* }

        impl Swept {
            /// Every one, in the order of lists.
            pub const ALL: &[Swept] = &[$(Swept::$name,)*];

            /// Its id.
            pub fn id(self) -> &'static str {
                match self { $(Swept::$name => $id,)* }
            }
        }
    };
}

figures! {
    /// Air of the settled blend once it stopped draining, %.
    Air "air";
    /// Pore space of the settled blend, %.
    PoreSpace "pore_space";
    /// Water that plants can take, %.
    PlantWater "plant_water";
    /// Dry density, settled, kg/m3.
    Density "density";
    /// Coarse share of the room against that at which the grains touch, %.
    Skeleton "skeleton";
    /// Organic matter, %.
    OrganicMatter "organic_matter";
    /// Texture class.
    Class "class";
    /// Sand, % of mineral fines.
    Sand "sand";
    /// Silt, % of mineral fines.
    Silt "silt";
    /// Clay, % of mineral fines.
    Clay "clay";
    /// How fast water goes through, mm/h.
    Drainage "drainage";
    /// Reaction.
    Ph "ph";
    /// Conductivity of the saturation extract that crops feel, dS/m.
    Salt "salt";
    /// Money.
    Cost "cost";
    /// Weight once watered and drained, kg.
    Weight "weight";
}

/// How many there are.
pub(super) const FIGURES: usize = Swept::ALL.len();

impl Swept {
    /// The figure of an id.
    pub fn find(id: &str) -> Option<Swept> {
        Swept::ALL.iter().copied().find(|swept| swept.id() == id)
    }

    /// Its value in an outcome; none where the outcome has none. A class is no number.
    pub fn of(self, outcome: &Outcome) -> Option<Figure> {
        let fraction = |at: usize| outcome.texture.map(|texture| texture.fractions_pct[at]);
        let figure = match self {
            Swept::Air => Some(outcome.pores_pct.air),
            Swept::PoreSpace => Some(outcome.pore_space_pct.settled),
            Swept::PlantWater => Some(outcome.pores_pct.available_water),
            Swept::Density => Some(outcome.bulk_density_kg_m3.settled),
            Swept::Skeleton => Some(outcome.skeleton.share.map(|share| 100.0 * share)),
            Swept::OrganicMatter => outcome.organic_matter_pct,
            Swept::Class => None,
            Swept::Sand => fraction(0),
            Swept::Silt => fraction(1),
            Swept::Clay => fraction(2),
            Swept::Drainage => Some(outcome.drainage_mm_h),
            Swept::Ph => outcome.chemical.ph,
            Swept::Salt => Some(outcome.chemical.ec_stress_ds_m),
            Swept::Cost => outcome.cost,
            Swept::Weight => Some(outcome.watered_kg),
        };
        figure.filter(|figure| figure.typical.is_finite())
    }
}

/// What a figure is usually held against in an outcome, in its unit: the least air that roots want,
/// the share at which coarse grains touch, the density at which roots of this class are in trouble,
/// and the salt up to which the crop of the place yields in full.
pub fn usual_threshold(swept: Swept, recipe: &Recipe, outcome: &Outcome) -> Option<f64> {
    let threshold = match swept {
        Swept::Air => Some(100.0 * AIR_LEAST),
        Swept::Skeleton => {
            let threshold = outcome.skeleton.threshold;
            threshold.map(|threshold| 100.0 * threshold.typical)
        }
        Swept::Density => outcome.texture.map(|texture| {
            let [_, _, clay] = texture.fractions_pct;
            let [low, _] = Roots::of(texture.class, clay.typical).band_kg_m3();
            low
        }),
        Swept::Salt => {
            let place = recipe.place.as_ref();
            let crop = place.and_then(|place| place.crop.as_deref());
            let crop = crop.and_then(crop::find);
            let response = crop.and_then(|crop| crop.response);
            response.map(|response| response.threshold_ds_m)
        }
        _ => None,
    };
    threshold.filter(|threshold| threshold.is_finite())
}
