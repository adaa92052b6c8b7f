//! What the blend should be: limits of its figures, and how far a blend is from them.

use crate::figure::within;
use crate::recipe::{Amount, Kept};
use crate::texture::{Class, REGIONS, classify};

macro_rules! wished {
    ($($(#[$doc:meta])* $name:ident $spelling:literal $low:literal $high:literal $scale:literal;)*) => {
        /// A figure that can be wished for.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Wished { $($(#[$doc])* $name,)* }

        impl Wished {
            /// All of them, in document order.
            pub const ALL: &'static [Wished] = &[$(Wished::$name,)*];

            /// Its field in the document.
            pub fn spelling(self) -> &'static str {
                match self { $(Wished::$name => $spelling,)* }
            }

            /// What can be asked for: least and greatest.
            pub fn limits(self) -> (f64, f64) {
                match self { $(Wished::$name => ($low, $high),)* }
            }

            /// A step that a gardener would call large, so that distances of several wishes can be
            /// added (a choice; it decides only where the search looks first).
            pub fn scale(self) -> f64 {
                match self { $(Wished::$name => $scale,)* }
            }
        }
    };
}

wished! {
    /// Sand, % of mineral fines.
    Sand "sand_pct" 0.0 100.0 10.0;
    /// Silt, % of mineral fines.
    Silt "silt_pct" 0.0 100.0 10.0;
    /// Clay, % of mineral fines.
    Clay "clay_pct" 0.0 100.0 10.0;
    /// Organic matter without char, %.
    OrganicMatter "organic_matter_pct" 0.0 100.0 2.0;
    /// Pore space, settled, %.
    PoreSpace "pore_space_pct" 0.0 100.0 5.0;
    /// Air once it stopped draining, settled, %.
    Air "air_pct" 0.0 100.0 5.0;
    /// Density, settled, kg/m3.
    Density "bulk_density_kg_m3" 20.0 2650.0 100.0;
    /// Reaction.
    Ph "ph" 0.0 14.0 0.5;
    /// Conductivity of the saturation extract, dS/m.
    Salt "ec_saturated_paste_ds_m" 0.0 200.0 1.0;
    /// Money for all that is bought.
    Cost "cost" 0.0 1000000.0 20.0;
}

/// How many figures there are.
pub const WISHED: usize = Wished::ALL.len();

/// Settled volume is filled where it comes to this share of what is wished (a choice: the model is
/// not better than that).
pub const FILLED: f64 = 0.99;
/// Rounding that no wish is missed by.
const HAIR: f64 = 1e-9;

/// Least and greatest that will do.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Band {
    /// Least.
    pub least: Option<f64>,
    /// Greatest.
    pub most: Option<f64>,
}

impl Band {
    /// Whether it asks for anything.
    pub fn asks(&self) -> bool {
        self.least.is_some() || self.most.is_some()
    }

    /// How far a value is outside, and 0 within; what is no number is nowhere near.
    pub fn miss(&self, value: f64) -> f64 {
        let under = self.least.map_or(0.0, |least| least - value);
        let over = self.most.map_or(0.0, |most| value - most);
        if value.is_nan() && self.asks() {
            return f64::INFINITY;
        }
        let miss = under.max(over);
        if miss > HAIR * (1.0 + value.abs()) {
            miss
        } else {
            0.0
        }
    }
}

/// How the ground comes into it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum GroundUse {
    /// All that the recipe has.
    #[default]
    All,
    /// As much as fills the volume beside what is bought.
    ToFill,
}

/// What is wished for.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Wish {
    /// One of these classes; none: any.
    pub classes: Vec<Class>,
    /// Limits, in the order of [`Wished::ALL`].
    pub bands: [Band; WISHED],
    /// Whether coarse grains must touch, or must not.
    pub skeleton: Option<bool>,
    /// Volume to fill, settled.
    pub fill: Option<Amount>,
    /// How the ground comes into it.
    pub ground: GroundUse,
    /// How far outside its classes a texture still counts, %; the search for the nearest widens it.
    pub(super) slack_pct: f64,
    /// Fields of a later release.
    pub kept: Kept,
}

/// One wish of several.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OneWish {
    /// The texture class.
    Classes,
    /// A figure's limits.
    Figure(Wished),
    /// The coarse grains.
    Skeleton,
    /// The volume.
    Fill,
}

impl Wish {
    /// The limits of a figure.
    pub fn band(&self, of: Wished) -> Band {
        self.bands[of as usize]
    }

    /// Sets the limits of a figure.
    pub fn set(&mut self, of: Wished, band: Band) {
        self.bands[of as usize] = band;
    }

    /// What is asked for, in document order.
    pub fn all(&self) -> Vec<OneWish> {
        let mut all = Vec::new();
        if !self.classes.is_empty() {
            all.push(OneWish::Classes);
        }
        let asked = Wished::ALL.iter().filter(|of| self.band(**of).asks());
        all.extend(asked.map(|of| OneWish::Figure(*of)));
        if self.skeleton.is_some() {
            all.push(OneWish::Skeleton);
        }
        if self.fill.is_some() {
            all.push(OneWish::Fill);
        }
        all
    }

    /// The same without one of them.
    #[must_use]
    pub fn without(&self, one: OneWish) -> Wish {
        let mut wish = self.clone();
        match one {
            OneWish::Classes => wish.classes.clear(),
            OneWish::Figure(of) => wish.set(of, Band::default()),
            OneWish::Skeleton => wish.skeleton = None,
            OneWish::Fill => wish.fill = None,
        }
        wish
    }

    /// Whether every wish is a sum over masses, so that the search is exact.
    pub fn is_linear(&self) -> bool {
        let linear = |one: &OneWish| match one {
            OneWish::Classes => true,
            OneWish::Figure(of) => of.is_linear(),
            OneWish::Skeleton | OneWish::Fill => false,
        };
        self.ground == GroundUse::All && self.all().iter().all(linear)
    }

    /// How far values are from a wish, in its large steps; 0 where it is met.
    pub fn miss(&self, one: OneWish, values: &Values) -> f64 {
        match one {
            OneWish::Classes => self.class_miss(values),
            OneWish::Figure(of) => self.band(of).miss(values.of(of)) / of.scale(),
            OneWish::Skeleton => match (self.skeleton, values.to_touch) {
                (Some(true), Some(by)) => (-by).max(0.0) * SHARE_STEPS,
                (Some(false), Some(by)) if by >= 0.0 => (by + SHARE_HAIR) * SHARE_STEPS,
                (Some(false), _) | (None, _) => 0.0,
                (Some(true), None) => f64::INFINITY,
            },
            OneWish::Fill => {
                let wanted = self.fill.as_ref().map_or(0.0, Amount::si);
                let ratio = values.settled_m3 / wanted;
                let over = match self.ground {
                    GroundUse::All => 0.0,
                    // Overfull by what is bought alone.
                    GroundUse::ToFill => (ratio - 1.0 / FILLED).max(0.0),
                };
                let miss = (FILLED - ratio).max(over) * SHARE_STEPS;
                if miss > HAIR { miss } else { 0.0 }
            }
        }
    }

    /// How far values are from all of it.
    pub fn distance(&self, values: &Values) -> f64 {
        self.all()
            .into_iter()
            .map(|one| self.miss(one, values))
            .sum()
    }

    /// How likely values are to stay within all wishes, as a logarithm, if every figure were spread
    /// on its own: a guide to purchases whose draws are worth asking.
    pub(super) fn depth(&self, values: &Values, spreads: &Spreads) -> f64 {
        let mut sum = 0.0;
        for one in self.all() {
            sum += match one {
                OneWish::Classes => log_odds(self.class_depth(values) / spreads.texture_pct),
                OneWish::Figure(of) => {
                    let (band, value) = (self.band(of), values.of(of));
                    let spread = spreads.of[of as usize];
                    let under = band.least.map(|least| value - least);
                    let over = band.most.map(|most| most - value);
                    let sides = [under, over].into_iter().flatten();
                    sides.map(|side| log_odds(side / spread)).sum()
                }
                OneWish::Skeleton => match (self.skeleton, values.to_touch) {
                    (Some(true), Some(by)) => log_odds(by / spreads.share),
                    (Some(false), Some(by)) => log_odds(-by / spreads.share),
                    (Some(true), None) => f64::NEG_INFINITY,
                    _ => 0.0,
                },
                OneWish::Fill => {
                    let wanted = self.fill.as_ref().map_or(0.0, Amount::si);
                    match self.ground {
                        GroundUse::All => {
                            log_odds((values.settled_m3 / wanted - FILLED) / spreads.volume)
                        }
                        GroundUse::ToFill => -self.miss(one, values) / spreads.volume,
                    }
                }
            };
        }
        if sum.is_nan() { f64::NEG_INFINITY } else { sum }
    }

    /// How far a texture lies within its classes, %, and below nothing outside.
    fn class_depth(&self, values: &Values) -> f64 {
        let Some([_, silt, clay]) = values.fractions_pct else {
            return f64::NEG_INFINITY;
        };
        let missed = self.class_miss(values);
        if missed > 0.0 {
            return -missed * Wished::Sand.scale();
        }
        let others = REGIONS
            .iter()
            .filter(|region| !self.classes.contains(&region.class));
        let away = others.map(|region| away_pct(region.corners, [clay, silt]));
        away.fold(100.0, f64::min)
    }

    /// Whether values meet all of it.
    pub fn is_met(&self, values: &Values) -> bool {
        self.all()
            .into_iter()
            .all(|one| self.miss(one, values) <= 0.0)
    }

    /// Distance to the nearest of the classes, in tens of percent.
    fn class_miss(&self, values: &Values) -> f64 {
        let Some([sand, silt, clay]) = values.fractions_pct else {
            return f64::INFINITY;
        };
        if self.classes.contains(&classify([sand, silt, clay])) {
            return 0.0;
        }
        let regions = REGIONS
            .iter()
            .filter(|region| self.classes.contains(&region.class));
        let nearest = regions.map(|region| away_pct(region.corners, [clay, silt]));
        // On an edge that belongs to the neighbour it is still not within.
        let away = nearest.fold(f64::INFINITY, f64::min).max(1e-3);
        (away - self.slack_pct).max(0.0) / Wished::Sand.scale()
    }
}

/// Steps in a share of the room, or of a volume.
const SHARE_STEPS: f64 = 10.0;
/// Grains that just touch are not apart.
const SHARE_HAIR: f64 = 1e-6;

/// Distance in clay and silt from a point to a region's edge; the point lies outside.
fn away_pct(corners: &[[f64; 3]], [clay, silt]: [f64; 2]) -> f64 {
    let mut nearest = f64::INFINITY;
    for (at, end) in corners.iter().enumerate() {
        let start = corners[(at + corners.len() - 1) % corners.len()];
        let along = [end[0] - start[0], end[1] - start[1]];
        let from = [clay - start[0], silt - start[1]];
        let length = along[0] * along[0] + along[1] * along[1];
        let part = within((from[0] * along[0] + from[1] * along[1]) / length, 0.0, 1.0);
        let (dc, ds) = (from[0] - part * along[0], from[1] - part * along[1]);
        nearest = nearest.min(libm::sqrt(dc * dc + ds * ds));
    }
    nearest
}

impl Wished {
    /// Whether a limit of it is a sum over masses.
    pub fn is_linear(self) -> bool {
        matches!(
            self,
            Wished::Sand | Wished::Silt | Wished::Clay | Wished::OrganicMatter | Wished::Cost
        )
    }
}

/// Logarithm of the odds of a normal number to lie on this side of its mean by so many standard
/// deviations; the logistic curve of slope 1.702 comes within a hundredth (Camilli 1994).
fn log_odds(deviations: f64) -> f64 {
    let steep = -1.702 * deviations;
    if steep > 30.0 {
        -steep
    } else {
        -libm::log1p(libm::exp(steep))
    }
}

/// How far the draws spread each figure: what a distance is counted in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Spreads {
    /// In the order of [`Wished::ALL`].
    pub(super) of: [f64; WISHED],
    /// Of the texture, %.
    pub(super) texture_pct: f64,
    /// Of the coarse share.
    pub(super) share: f64,
    /// Of the volume, as a share of it.
    pub(super) volume: f64,
}

/// What a blend comes to, as far as wishes ask.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Values {
    /// Sand, silt and clay, %; none without mineral fines.
    pub fractions_pct: Option<[f64; 3]>,
    /// Organic matter, %; no number where there is nothing to count it of.
    pub organic_matter_pct: f64,
    /// Pore space, settled, %.
    pub pore_space_pct: f64,
    /// Air, settled, %.
    pub air_pct: f64,
    /// Density, settled, kg/m3.
    pub bulk_density_kg_m3: f64,
    /// Reaction; no number where nothing tells any.
    pub ph: f64,
    /// Conductivity of the saturation extract, dS/m.
    pub ec_paste_ds_m: f64,
    /// Coarse share less the share at which grains touch; none where the question makes no sense.
    pub to_touch: Option<f64>,
    /// Settled volume, m3.
    pub settled_m3: f64,
    /// Money.
    pub cost: f64,
}

impl Values {
    /// A figure; no number where there is none.
    pub fn of(&self, of: Wished) -> f64 {
        let share = |at: usize| self.fractions_pct.map_or(f64::NAN, |all| all[at]);
        match of {
            Wished::Sand => share(0),
            Wished::Silt => share(1),
            Wished::Clay => share(2),
            Wished::OrganicMatter => self.organic_matter_pct,
            Wished::PoreSpace => self.pore_space_pct,
            Wished::Air => self.air_pct,
            Wished::Density => self.bulk_density_kg_m3,
            Wished::Ph => self.ph,
            Wished::Salt => self.ec_paste_ds_m,
            Wished::Cost => self.cost,
        }
    }
}
