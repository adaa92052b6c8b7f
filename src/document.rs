//! The outcome document: the same numbers, named for anyone who reads them by program.

use crate::figure::Figure;
use crate::outcome::{Change, Changes, Container, Outcome, Pores, Remark, States};
use crate::texture::Class;
use crate::words::{Speech, care_head, care_text, remark_text};
use serde::ser::{Serialize, SerializeMap, Serializer};

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
                class_odds: Odds(texture.class_odds),
            }
        }),
        organic_matter_pct: outcome.organic_matter_pct,
        organic_matter_with_char_pct: outcome.organic_matter_with_char_pct,
        mass: Mass {
            dry_kg: outcome.dry_kg,
            moist_kg: outcome.moist_kg,
            watered_kg: outcome.watered_kg,
            on_top_kg: outcome.on_top_kg,
        },
        volume_l: Volume {
            loose_parts: outcome.loose_parts_l,
            states: outcome.volume_l.into(),
        },
        bulk_density_kg_m3: outcome.bulk_density_kg_m3.into(),
        pore_space_pct: outcome.pore_space_pct.into(),
        pores_pct: outcome.pores_pct.into(),
        drainage_mm_h: outcome.drainage_mm_h,
        container: outcome.container.map(ContainerDocument::from),
        skeleton: SkeletonDocument {
            share: outcome.skeleton.share,
            threshold: outcome.skeleton.threshold,
            touching: outcome.skeleton.touching,
            touching_odds: outcome.skeleton.touching_odds,
            more_to_touch_kg: outcome.skeleton.more_to_touch_kg,
        },
        ph: outcome.chemical.ph,
        ec_saturated_paste_ds_m: outcome.chemical.ec_paste_ds_m,
        ec_1to5_ds_m: outcome.chemical.ec_1to5_ds_m,
        cec_cmol_kg: outcome.chemical.cec_cmol_kg,
        esp_pct: outcome.chemical.esp_pct,
        carbon_to_nitrogen: outcome.chemical.carbon_to_nitrogen,
        carbon_to_nitrogen_added: outcome.chemical.carbon_to_nitrogen_added,
        cost: outcome.cost,
        changes: outcome.changes.map(ChangesDocument::from),
        measured: outcome.measured.as_ref().map(|measured| MeasuredDocument {
            effective_draws: measured.effective_draws,
        }),
        verdict: says(&outcome.verdict),
        notes: says(&outcome.notes),
        cautions: outcome
            .cautions
            .iter()
            .map(|caution| Says {
                id: caution.of.id(),
                severity: caution.of.severity().id(),
                text: [care_head(caution), ": ", &care_text(caution, speech)].concat(),
                field: caution.field(),
            })
            .collect(),
    }
}

#[derive(serde::Serialize)]
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
    pores_pct: PoresDocument,
    drainage_mm_h: Figure,
    #[serde(skip_serializing_if = "Option::is_none")]
    container: Option<ContainerDocument>,
    skeleton: SkeletonDocument,
    #[serde(skip_serializing_if = "Option::is_none")]
    ph: Option<Figure>,
    ec_saturated_paste_ds_m: Figure,
    ec_1to5_ds_m: Figure,
    cec_cmol_kg: Figure,
    esp_pct: Figure,
    #[serde(skip_serializing_if = "Option::is_none")]
    carbon_to_nitrogen: Option<Figure>,
    #[serde(skip_serializing_if = "Option::is_none")]
    carbon_to_nitrogen_added: Option<Figure>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cost: Option<Figure>,
    #[serde(skip_serializing_if = "Option::is_none")]
    changes: Option<ChangesDocument>,
    #[serde(skip_serializing_if = "Option::is_none")]
    measured: Option<MeasuredDocument>,
    verdict: Vec<Says>,
    notes: Vec<Says>,
    cautions: Vec<Says>,
}

#[derive(serde::Serialize)]
struct TextureDocument {
    sand_pct: Figure,
    silt_pct: Figure,
    clay_pct: Figure,
    class: &'static str,
    class_odds: Odds,
}

/// Shares by class id; classes that no draw falls in are left out.
struct Odds([f64; Class::ALL.len()]);

impl Serialize for Odds {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(None)?;
        for (class, share) in Class::ALL.iter().zip(&self.0) {
            if *share > 0.0 {
                map.serialize_entry(class.id(), share)?;
            }
        }
        map.end()
    }
}

/// The blend less the ground, taken in each draw.
#[derive(serde::Serialize)]
struct ChangesDocument {
    pore_space_pct: Against,
    bulk_density_kg_m3: Against,
    #[serde(skip_serializing_if = "Option::is_none")]
    organic_matter_pct: Option<ChangeDocument>,
}

impl From<Changes> for ChangesDocument {
    fn from(changes: Changes) -> Self {
        ChangesDocument {
            pore_space_pct: changes.pore_space_pct.into(),
            bulk_density_kg_m3: changes.bulk_density_kg_m3.into(),
            organic_matter_pct: changes.organic_matter_pct.map(ChangeDocument::from),
        }
    }
}

#[derive(serde::Serialize)]
struct MeasuredDocument {
    effective_draws: f64,
}

#[derive(serde::Serialize)]
struct Against {
    ground_as_it_lies: ChangeDocument,
    dug_nothing_added: ChangeDocument,
}

impl From<[Change; 2]> for Against {
    fn from([lying, dug]: [Change; 2]) -> Self {
        Against {
            ground_as_it_lies: lying.into(),
            dug_nothing_added: dug.into(),
        }
    }
}

#[derive(serde::Serialize)]
struct ChangeDocument {
    difference: Figure,
    odds_more: f64,
    odds_less: f64,
}

impl From<Change> for ChangeDocument {
    fn from(change: Change) -> Self {
        ChangeDocument {
            difference: change.difference,
            odds_more: change.odds_more,
            odds_less: change.odds_less,
        }
    }
}

#[derive(serde::Serialize)]
struct Mass {
    dry_kg: Figure,
    moist_kg: Figure,
    watered_kg: Figure,
    #[serde(skip_serializing_if = "Option::is_none")]
    on_top_kg: Option<Figure>,
}

#[derive(serde::Serialize)]
struct Volume {
    loose_parts: Figure,
    #[serde(flatten)]
    states: StatesDocument,
}

#[derive(serde::Serialize)]
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

/// Shares of the settled volume; they sum to the settled pore space.
#[derive(serde::Serialize)]
struct PoresDocument {
    air: Figure,
    available_water: Figure,
    unavailable_water: Figure,
    closed: Figure,
}

impl From<Pores> for PoresDocument {
    fn from(pores: Pores) -> Self {
        PoresDocument {
            air: pores.air,
            available_water: pores.available_water,
            unavailable_water: pores.unavailable_water,
            closed: pores.closed,
        }
    }
}

/// A figure of which no doubt is computed.
fn certain(value: f64) -> Figure {
    Figure::between(value, value, value)
}

/// Shares of the mix's volume, watered and drained in its container.
#[derive(serde::Serialize)]
struct ContainerDocument {
    height_cm: Figure,
    water_pct: Figure,
    air_pct: Figure,
    wet_layer_cm: Figure,
}

impl From<Container> for ContainerDocument {
    fn from(container: Container) -> Self {
        ContainerDocument {
            height_cm: certain(container.pot.height_cm),
            water_pct: container.water_pct,
            air_pct: container.air_pct,
            wet_layer_cm: certain(container.wet_layer_cm),
        }
    }
}

#[derive(serde::Serialize)]
struct SkeletonDocument {
    share: Figure,
    #[serde(skip_serializing_if = "Option::is_none")]
    threshold: Option<Figure>,
    #[serde(skip_serializing_if = "Option::is_none")]
    touching: Option<bool>,
    #[serde(skip_serializing_if = "Option::is_none")]
    touching_odds: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    more_to_touch_kg: Option<Figure>,
}

#[derive(serde::Serialize)]
struct Says {
    id: &'static str,
    severity: &'static str,
    text: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    field: Option<String>,
}
