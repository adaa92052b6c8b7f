//! What trials found of the materials, and what each of them is: `evidence.csv` and `about.csv`,
//! checked and turned into these tables when the crate is built.

use crate::source::Mark;

/// What a trial found, or plain arithmetic gives.
#[derive(Debug)]
pub struct Finding {
    /// Its id.
    pub id: &'static str,
    /// Ids of the materials it is about; none where the catalogue has no such material.
    pub materials: &'static [&'static str],
    /// What was measured.
    pub outcome: &'static str,
    /// What was found.
    pub effect: &'static str,
    /// How sure that is; empty where nothing is told.
    pub spread: &'static str,
    /// In which soils, and in how many; empty where that is not told.
    pub soils: &'static str,
    /// The key of its source.
    pub source: &'static str,
    /// How it was come by.
    pub mark: Mark,
}

/// What a material is, in words.
#[derive(Debug)]
pub struct About {
    /// The id of the material.
    pub id: &'static str,
    /// What it is, in a line.
    pub what: &'static str,
    /// What it does in clay, as far as trials tell.
    pub clay: &'static str,
    /// How much is usual, and how.
    pub rate: &'static str,
}

impl Finding {
    /// The findings about a material.
    pub fn of(material: &str) -> impl Iterator<Item = &'static Finding> {
        EVIDENCE
            .iter()
            .filter(move |finding| finding.materials.contains(&material))
    }
}

impl About {
    /// The words about a material, or none.
    pub fn find(id: &str) -> Option<&'static About> {
        ABOUT.iter().find(|about| about.id == id)
    }

    /// The line that says what a material is, or none.
    pub fn line(id: &str) -> Option<&'static str> {
        let found = LINES.iter().find(|(known, _)| *known == id);
        found.map(|(_, line)| *line)
    }
}

include!(concat!(env!("OUT_DIR"), "/evidence.rs"));
include!(concat!(env!("OUT_DIR"), "/about.rs"));
