//! The settled mix where it stands, watered: what a pot keeps at each height, what gravel below it
//! or a taller pot would change, how long the water lasts, and how fast it leaves.

use super::{Measure, Outcome};
use crate::blend::{Blend, Water};
use crate::draws;
use crate::figure::Figure;
use crate::recipe::{Amount, PlaceKind, Recipe, Soil, Support};
use crate::texture::Class;
use crate::water::drainage::ConductivityClass;
use crate::water::pot::{DRAW_NODES, Pot, wet_layer_cm};
use crate::water::retention::Store;

/// Share of what plants can take that is used up when one waters again (common practice).
pub const USED_UP: f64 = 0.5;
/// A layer of gravel as people lay it, cm (common practice).
pub const GRAVEL_CM: f64 = 3.0;
/// How much higher the pot is that is told of for comparison (a choice).
pub const TALLER: f64 = 1.5;
/// Centimetres in a metre, and millimetres in a centimetre.
const CM_PER_M: f64 = 100.0;
const MM_PER_CM: f64 = 10.0;

/// What draws water from a bed or a pot; mm a day over its top (common practice).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Use {
    /// Seedlings and leaf crops while it is cool.
    Cool,
    /// Leaf crops in warm weather.
    Warm,
    /// Large plants on hot and windy days.
    Hot,
}

impl Use {
    /// All of them, the least first.
    pub const ALL: [Use; 3] = [Use::Cool, Use::Warm, Use::Hot];

    /// Its id in a page.
    pub fn id(self) -> &'static str {
        match self {
            Use::Cool => "cool",
            Use::Warm => "warm",
            Use::Hot => "hot",
        }
    }

    /// The one of an id.
    pub fn from_id(id: &str) -> Option<Use> {
        Use::ALL.into_iter().find(|of| of.id() == id)
    }

    /// Water used, mm a day over the top (common practice).
    pub fn mm_per_day(self) -> f64 {
        match self {
            Use::Cool => 2.0,
            Use::Warm => 4.0,
            Use::Hot => 7.0,
        }
    }
}

/// Where the mix stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Home {
    /// In something that keeps its water to itself.
    Pot(Pot),
    /// In such a thing, whose height is not told.
    PotOfNoHeight,
    /// A bed on the ground, and how deep it is where that is told.
    Bed(Option<f64>),
    /// Not said.
    Unsaid,
}

impl Home {
    /// The home of a recipe's blend; the outcome must be that of the recipe.
    pub fn of(recipe: &Recipe, outcome: &Outcome) -> Home {
        if let Some(container) = &outcome.container {
            return Home::Pot(container.pot);
        }
        let place = recipe.place.as_ref();
        let kind = place.and_then(|place| place.kind);
        let on = place.and_then(|place| place.on);
        if kind == Some(PlaceKind::Container) || matches!(on, Some(Support::Deck | Support::Roof)) {
            return Home::PotOfNoHeight;
        }
        let told = place.and_then(|place| place.height.as_ref());
        let dug = match &recipe.soil {
            Soil::Bed { depth, .. } => Some(depth),
            Soil::Amount(_) => None,
        };
        let cm = |amount: &Amount| amount.si() * CM_PER_M;
        let depth_cm = told.or(dug).map(cm).filter(|depth| *depth > 0.0);
        match (kind, dug) {
            (Some(_), _) | (_, Some(_)) => Home::Bed(depth_cm),
            _ => Home::Unsaid,
        }
    }

    /// Depth of a sheet of water that a percent of the mix's volume makes on its top, mm.
    fn mm_per_pct(self) -> Option<f64> {
        let depth_cm = match self {
            Home::Pot(pot) => {
                // Volume over the top of a cone cut off.
                let ratio = pot.bottom_width / pot.top_width;
                let share = (1.0 + ratio + ratio * ratio) / 3.0;
                pot.height_cm * if share.is_finite() { share } else { 1.0 }
            }
            Home::Bed(depth_cm) => depth_cm?,
            _ => return None,
        };
        Some(depth_cm * MM_PER_CM / 100.0)
    }
}

/// One soil, watered: what it holds at every height above standing water.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Profile {
    /// What it holds at every tension.
    pub store: Store,
    /// Water and air once it stopped draining.
    pub water: Water,
}

impl Profile {
    fn of(blend: &Blend) -> Profile {
        Profile {
            store: blend.store(),
            water: blend.water,
        }
    }

    /// Air at a height above standing water, a fraction of the volume.
    pub fn air_at(&self, cm: f64) -> f64 {
        (self.water.fillable - self.store.theta_at(cm)).max(0.0)
    }

    /// Water and air of a pot that has drained, %.
    pub fn in_pot_pct(&self, pot: &Pot) -> [f64; 2] {
        let kept = pot.levels(&DRAW_NODES).water(&self.store);
        [100.0 * kept, 100.0 * (self.water.fillable - kept).max(0.0)]
    }

    /// Height up to which less than a tenth is air, cm.
    pub fn wet_layer_cm(&self, pot: &Pot) -> f64 {
        wet_layer_cm(pot.height_cm, self.water.fillable, &self.store)
    }

    /// Air left to the mix over a layer of gravel in the same pot, %; none where little of the pot
    /// would be left.
    pub fn air_over_gravel_pct(&self, pot: &Pot, gravel_cm: f64) -> Option<f64> {
        let share = gravel_cm / pot.height_cm;
        (share <= 0.5).then(|| {
            let wider = pot.top_width - pot.bottom_width;
            let rest = Pot {
                height_cm: pot.height_cm - gravel_cm,
                bottom_width: pot.bottom_width + wider * share,
                ..*pot
            };
            self.in_pot_pct(&rest)[1]
        })
    }

    /// Air in a pot that is [`TALLER`], %.
    pub fn air_if_taller_pct(&self, pot: &Pot) -> f64 {
        let taller = Pot {
            height_cm: pot.height_cm * TALLER,
            ..*pot
        };
        self.in_pot_pct(&taller)[1]
    }
}

/// The blend and its ground, watered; typical values.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Watered {
    /// Where it stands.
    pub home: Home,
    /// The blend, settled.
    pub blend: Profile,
    /// The ground as it lies; none where there is none.
    pub lying: Option<Profile>,
    /// The ground dug, nothing added, settled.
    pub dug: Option<Profile>,
}

impl Watered {
    /// Of a recipe and its outcome.
    pub fn of(recipe: &Recipe, outcome: &Outcome) -> Watered {
        let has_ground = outcome.barrow.ground_dry_kg > 0.0;
        let lying = || {
            let (water, store) = Blend::lying(&outcome.barrow);
            Profile { store, water }
        };
        Watered {
            home: Home::of(recipe, outcome),
            blend: Profile::of(&outcome.blend),
            lying: has_ground.then(lying),
            dug: has_ground.then(|| Profile::of(&Blend::alone(&outcome.barrow))),
        }
    }

    /// Days of the ground dug, in the same place; typical alone.
    pub fn days_of_ground(&self, of: Use) -> Option<f64> {
        let dug = self.dug?;
        let kept = match self.home {
            Home::Pot(pot) => dug.in_pot_pct(&pot)[0] / 100.0,
            _ => dug.water.field_capacity,
        };
        let usable_pct = 100.0 * (kept - dug.water.wilting_point).max(0.0);
        Some(usable_pct * USED_UP * self.home.mm_per_pct()? / of.mm_per_day())
    }
}

/// Days until half of what plants can take is used up, counted from full and drained, in every draw;
/// none where the depth is not told.
pub fn days(outcome: &Outcome, home: Home, of: Use) -> Option<Figure> {
    let per_pct = USED_UP * home.mm_per_pct()? / of.mm_per_day();
    let column = |of: Measure| outcome.drawn.column(of).iter();
    let days = |usable_pct: f64| usable_pct.max(0.0) * per_pct;
    let pores = &outcome.pores_pct;
    let (typical, values): (f64, Vec<f64>) = match &outcome.container {
        Some(container) => {
            let kept = column(Measure::PotWater).zip(column(Measure::Unavailable));
            (
                days(container.water_pct.typical - pores.unavailable_water.typical),
                kept.map(|(kept, left)| days(kept - left)).collect(),
            )
        }
        None => (
            days(pores.available_water.typical),
            column(Measure::Available).map(|pct| days(*pct)).collect(),
        ),
    };
    Some(match draws::ends(&values) {
        Some(ends) => Figure::between(ends.low.min(typical), typical, ends.high.max(typical)),
        None => Figure::exact(typical),
    })
}

/// Share of the draws in each class of conductivity.
pub fn drainage_odds(outcome: &Outcome, of: Measure) -> [f64; ConductivityClass::ALL.len()] {
    let mut odds = [0.0; ConductivityClass::ALL.len()];
    let values = outcome.drawn.column(of);
    for value in values {
        odds[ConductivityClass::of_mm_h(*value) as usize] += 1.0 / values.len() as f64;
    }
    odds
}

/// Between which values the middle half of the draws lies.
pub fn middle_half(outcome: &Outcome, of: Measure) -> [f64; 2] {
    let values = outcome.drawn.column(of);
    [0.25, 0.75].map(|share| draws::share_of(values, share).unwrap_or(f64::NAN))
}

/// Whether the conductivity of a class is told as a class only: in clay cracks and worms decide, and
/// models differ by a factor of ten and more.
pub fn is_told_as_class(class: Option<Class>) -> bool {
    matches!(
        class,
        Some(Class::Clay | Class::SiltyClay | Class::SandyClay)
    )
}
