//! The outcome document: the same numbers, named for anyone who reads them by program.

use crate::figure::Figure;
use crate::outcome::{Outcome, Remark, States};
use crate::words::{Speech, remark_text};
use serde::Serialize;

/// An outcome as a document, its sentences in the words chosen.
pub fn document(outcome: &Outcome, speech: Speech) -> impl Serialize + use<> {
    let says = |remarks: &[Remark]| -> Vec<Says> {
        let one = |remark: &Remark| Says {
            id: remark.id(),
            severity: remark.severity().id(),
            text: remark_text(remark, speech),
            field: remark.field().map(|path| path.to_string()),
        };
        remarks.iter().map(one).collect()
    };
    Document {
        texture: outcome.texture.map(|texture| {
            let [sand_pct, silt_pct, clay_pct] = texture.fractions_pct;
            TextureDocument {
                sand_pct,
                silt_pct,
                clay_pct,
                class: texture.class.id(),
            }
        }),
        organic_matter_pct: outcome.organic_matter_pct,
        organic_matter_with_char_pct: outcome.organic_matter_with_char_pct,
        mass: Mass {
            dry_kg: outcome.dry_kg,
            moist_kg: outcome.moist_kg,
            on_top_kg: outcome.on_top_kg,
        },
        volume_l: Volume {
            loose_parts: outcome.loose_parts_l,
            states: outcome.volume_l.into(),
        },
        bulk_density_kg_m3: outcome.bulk_density_kg_m3.into(),
        pore_space_pct: outcome.pore_space_pct.into(),
        skeleton: SkeletonDocument {
            share: outcome.skeleton.share,
            threshold: outcome.skeleton.threshold,
            touching: outcome.skeleton.touching,
            more_to_touch_kg: outcome.skeleton.more_to_touch_kg,
        },
        cost: outcome.cost,
        verdict: says(&outcome.verdict),
        notes: says(&outcome.notes),
    }
}

#[derive(Serialize)]
struct Document {
    #[serde(skip_serializing_if = "Option::is_none")]
    texture: Option<TextureDocument>,
    #[serde(skip_serializing_if = "Option::is_none")]
    organic_matter_pct: Option<Figure>,
    #[serde(skip_serializing_if = "Option::is_none")]
    organic_matter_with_char_pct: Option<Figure>,
    mass: Mass,
    volume_l: Volume,
    bulk_density_kg_m3: StatesDocument,
    pore_space_pct: StatesDocument,
    skeleton: SkeletonDocument,
    #[serde(skip_serializing_if = "Option::is_none")]
    cost: Option<Figure>,
    verdict: Vec<Says>,
    notes: Vec<Says>,
}

#[derive(Serialize)]
struct TextureDocument {
    sand_pct: Figure,
    silt_pct: Figure,
    clay_pct: Figure,
    class: &'static str,
}

#[derive(Serialize)]
struct Mass {
    dry_kg: Figure,
    moist_kg: Figure,
    #[serde(skip_serializing_if = "Option::is_none")]
    on_top_kg: Option<Figure>,
}

#[derive(Serialize)]
struct Volume {
    loose_parts: Figure,
    #[serde(flatten)]
    states: StatesDocument,
}

#[derive(Serialize)]
struct StatesDocument {
    fresh: Figure,
    settled: Figure,
    puddled: Figure,
}

impl From<States> for StatesDocument {
    fn from(states: States) -> Self {
        StatesDocument {
            fresh: states.fresh,
            settled: states.settled,
            puddled: states.puddled,
        }
    }
}

#[derive(Serialize)]
struct SkeletonDocument {
    share: Figure,
    #[serde(skip_serializing_if = "Option::is_none")]
    threshold: Option<Figure>,
    #[serde(skip_serializing_if = "Option::is_none")]
    touching: Option<bool>,
    #[serde(skip_serializing_if = "Option::is_none")]
    more_to_touch_kg: Option<Figure>,
}

#[derive(Serialize)]
struct Says {
    id: &'static str,
    severity: &'static str,
    text: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    field: Option<String>,
}
