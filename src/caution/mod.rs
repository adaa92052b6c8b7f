//! What must be said before anyone digs, lifts, breathes or eats: by material, by amount, by place.
//! The sentences are in `words`; whom to ask stands in each of them.

mod known;
#[cfg(not(feature = "page"))]
mod lifting;
mod rules;

#[cfg(not(feature = "page"))]
pub use lifting::Lift;
#[cfg(not(feature = "page"))]
pub(crate) use rules::{ACID_PH, CAPS_KG_M2, LOCKED_NITROGEN, PHOSPHORUS};
pub use rules::{AREA_DEPTH_M, LIFT_KG};

use crate::blend::{Barrow, Chemistry};
use crate::recipe::Recipe;
use crate::texture::Class;
use known::Known;

/// How much a remark or a caution matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Good to know.
    Note,
    /// Worth a second thought; never folded away.
    Warn,
    /// Not before this is done; never folded away.
    Stop,
}

impl Severity {
    /// Its word in an outcome document.
    pub fn id(self) -> &'static str {
        match self {
            Severity::Note => "note",
            Severity::Warn => "warn",
            Severity::Stop => "stop",
        }
    }
}

macro_rules! cares {
    ($($(#[$doc:meta])* $name:ident $id:literal $severity:ident;)*) => {
        /// What a caution is about.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Care { $($(#[$doc])* $name,)* }

        impl Care {
            /// All of them, in the order in which they are told.
            pub const ALL: &[Care] = &[$(Care::$name,)*];

            /// Its id in an outcome document.
            pub fn id(self) -> &'static str {
                match self { $(Care::$name => $id,)* }
            }

            /// How much it matters.
            pub fn severity(self) -> Severity {
                match self { $(Care::$name => Severity::$severity,)* }
            }
        }
    };
}

cares! {
    /// Lines and pipes in the ground.
    BuriedLines "buried_lines" Stop;
    /// A container that no water leaves.
    NoHole "no_hole" Stop;
    /// Too salty for most plants.
    SaltHigh "salt_high" Stop;
    /// Lead near old buildings and roads.
    Lead "lead" Warn;
    /// Digging clay wet.
    WetClay "wet_clay" Warn;
    /// A container too heavy to lift.
    HeavyPot "heavy_pot" Warn;
    /// Weight on a deck or roof.
    DeckLoad "deck_load" Warn;
    /// A bed that drains into clay which does not.
    BathTub "bath_tub" Warn;
    /// A pot that stays wet.
    WetPot "wet_pot" Warn;
    /// Denser than roots grow in.
    TooDense "too_dense" Warn;
    /// Weedkillers left in manure, straw and compost.
    Herbicide "herbicide" Warn;
    /// Germs of raw manure.
    RawManure "raw_manure" Warn;
    /// Silica dust.
    Silica "silica" Warn;
    /// Burns by lime and ash.
    Caustic "caustic" Warn;
    /// Dust of sulfur.
    Sulfur "sulfur" Warn;
    /// Metals and lasting chemicals of sewage.
    Biosolids "biosolids" Warn;
    /// Metals of ash and of soil brought in.
    Metals "metals" Warn;
    /// Treated wood.
    TreatedWood "treated_wood" Warn;
    /// Ammonia.
    Ammonia "ammonia" Warn;
    /// More than the label in one go.
    OverRate "over_rate" Warn;
    /// Run-off to water.
    RunOff "run_off" Warn;
    /// Salt that stalls seedlings.
    SaltSeedling "salt_seedling" Warn;
    /// Sodium that must be replaced before it is washed.
    SodicFirst "sodic_first" Warn;
    /// Gypsum without water that leaves.
    GypsumLeach "gypsum_leach" Warn;
    /// Nitrogen taken up by what decays.
    NitrogenLockup "nitrogen_lockup" Warn;
    /// Too acid.
    PhLow "ph_low" Warn;
    /// Gypsum that has nothing to do.
    GypsumIdle "gypsum_idle" Note;
    /// Free lime.
    PhHigh "ph_high" Note;
    /// What salt costs a crop.
    SaltCrop "salt_crop" Note;
    /// Phosphorus that piles up.
    Phosphorus "phosphorus" Note;
    /// A mix that sinks as it decays.
    Sinks "sinks" Note;
    /// Germs of compost dust.
    Legionella "legionella" Note;
    /// Nuisance dust.
    Dust "dust" Note;
    /// Fire and dust of char.
    CharDust "char_dust" Note;
    /// Old stock of vermiculite.
    OldVermiculite "old_vermiculite" Note;
    /// Weeds, worms and pests brought in.
    Weeds "weeds" Note;
    /// Children and pets.
    Pets "pets" Note;
    /// Lifting by hand.
    Lifting "lifting" Note;
    /// Cuts, tetanus, heat.
    Hands "hands" Note;
}

/// A caution.
#[derive(Clone, Debug, PartialEq)]
pub struct Caution {
    /// What it is about.
    pub of: Care,
    /// Whether it asks, since a fact that decides is not known.
    pub asks: bool,
    /// The additions that raised it, by their place in the recipe; none where ground or place did.
    pub additions: Vec<usize>,
    /// The weight that raised it, or that would mend it, kg.
    pub weight_kg: Option<f64>,
    /// Another number that raised it: dS/m, %, pH or mg/kg.
    pub number: Option<f64>,
}

impl Caution {
    /// The field of the recipe that raised it, or that would answer it.
    pub fn field(&self) -> Option<String> {
        if let Some(index) = self.additions.first() {
            return Some(format!("additions[{index}].material"));
        }
        let field = match self.of {
            Care::BuriedLines | Care::HeavyPot => "place.kind",
            Care::NoHole => "place.drains",
            Care::WetPot => "place.height",
            Care::BathTub => "place.kind",
            Care::Lead | Care::RunOff => "place.near",
            Care::DeckLoad => "place.on",
            Care::WetClay => "ground.clay_pct",
            Care::SodicFirst | Care::GypsumIdle => "ground.sodium_share_pct",
            Care::PhHigh => "ground.carbonate_pct",
            Care::SaltCrop => "place.crop",
            _ => return None,
        };
        Some(field.into())
    }
}

/// What comes of a recipe, as far as cautions go; typical values.
#[derive(Clone, Copy, Debug)]
pub struct Becomes {
    /// What it weighs once watered and drained, without its container, kg.
    pub watered_kg: f64,
    /// How fast water goes through the ground as it lies and through the settled blend, mm/h.
    pub drainage_mm_h: [f64; 2],
    /// Air in its container, %, where there is one.
    pub pot_air_pct: Option<f64>,
    /// Settled density of what is not grains over 2 mm, kg/m3: tables of roots are for that.
    pub settled_kg_m3: f64,
    /// Texture class of the blend, and its clay, %.
    pub class: Option<(Class, f64)>,
    /// Its chemistry.
    pub chemistry: Chemistry,
}

/// Every caution of a recipe, the gravest first. The barrow and what becomes of it must be those of
/// the recipe.
pub fn cautions(recipe: &Recipe, barrow: &Barrow, becomes: Becomes) -> Vec<Caution> {
    let known = Known::of(recipe, barrow, becomes);
    let mut out = Vec::new();
    for care in Care::ALL {
        rules::raise(*care, &known, &mut out);
    }
    out
}
