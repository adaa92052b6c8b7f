//! Grounds to start from: `presets.csv`, checked and turned into a table when the crate is built.

use super::{Trait, Traits};
use crate::figure::Figure;
use crate::source::{Mark, Number};

/// A ground to start from, when nothing of one's own is known.
#[derive(Debug)]
pub struct Preset {
    /// Its id.
    pub id: &'static str,
    /// Its name in English.
    pub name: &'static str,
    /// Its traits with their ranges.
    pub traits: &'static [(Trait, Figure)],
    /// The same with where they come from.
    pub numbers: &'static [Number],
}

impl Preset {
    /// Its name in the language that is spoken.
    pub fn told(&self) -> &'static str {
        crate::tongue::tr(self.name)
    }

    /// The preset of an id, or none.
    pub fn find(id: &str) -> Option<&'static Preset> {
        PRESETS.iter().find(|preset| preset.id == id)
    }

    /// Its traits as a recipe holds them.
    pub fn traits(&self) -> Traits {
        let mut traits = Traits::NONE;
        for (of, figure) in self.traits {
            traits.set(*of, Some(*figure));
        }
        traits
    }
}

include!(concat!(env!("OUT_DIR"), "/presets.rs"));
