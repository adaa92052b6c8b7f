//! The chemistry of a blend with its ranges, and what must be noted of it. The page's module has
//! typical values alone.

use super::drawn::{Drawn, Measure};
use super::{Outcome, Remark};
use crate::blend::{
    CARBONATE_ABOVE_PCT, CARBONATE_ABOVE_PH, EC_PASTE_DEFAULT, PH_DEFAULT, SODIUM_SHARE_DEFAULT,
};
use crate::chemistry::crop;
use crate::chemistry::exchange::estimated_cec_cmol_kg;
use crate::chemistry::reaction::{FREE_LIME_PH, LINEAR_PH};
use crate::figure::Figure;
use crate::ground::Trait;
use crate::material::{Group, Property};
use crate::recipe::{Path, Recipe};

/// Figures of the chemistry of a blend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chemical {
    /// Reaction in water; none where nothing says anything of it.
    pub ph: Option<Figure>,
    /// Conductivity of the saturation extract, dS/m.
    pub ec_paste_ds_m: Figure,
    /// Of it what crops feel, dS/m.
    pub ec_stress_ds_m: Figure,
    /// Conductivity at 1:5 by mass, dS/m.
    pub ec_1to5_ds_m: Figure,
    /// Exchange capacity, cmol/kg.
    pub cec_cmol_kg: Figure,
    /// Sodium, % of it, as mixed.
    pub esp_pct: Figure,
    /// Carbon over nitrogen; none without nitrogen.
    pub carbon_to_nitrogen: Option<Figure>,
    /// Of the additions.
    pub carbon_to_nitrogen_added: Option<Figure>,
    /// Nitrogen that the additions set free in their first year, kg; less than nothing: take up.
    pub freed_nitrogen_kg: Figure,
    /// Phosphorus that was added, kg.
    pub phosphorus_kg: Figure,
    /// Reaction of the ground.
    pub ground_ph: Figure,
    /// Conductivity of its saturation extract, dS/m.
    pub ground_ec_paste_ds_m: Figure,
    /// Its sodium, % of the exchange capacity.
    pub ground_esp_pct: Figure,
}

impl Chemical {
    pub(super) fn of(drawn: &Drawn) -> Chemical {
        let figure = |of: Measure| drawn.figure(of);
        Chemical {
            ph: drawn.some(Measure::Ph),
            ec_paste_ds_m: figure(Measure::EcPaste),
            ec_stress_ds_m: figure(Measure::EcStress),
            ec_1to5_ds_m: figure(Measure::Ec1To5),
            cec_cmol_kg: figure(Measure::Cec),
            esp_pct: figure(Measure::Esp),
            carbon_to_nitrogen: drawn.some(Measure::CarbonToNitrogen),
            carbon_to_nitrogen_added: drawn.some(Measure::CarbonToNitrogenAdded),
            freed_nitrogen_kg: figure(Measure::FreedNitrogen),
            phosphorus_kg: figure(Measure::Phosphorus),
            ground_ph: figure(Measure::GroundPh),
            ground_ec_paste_ds_m: figure(Measure::GroundEcPaste),
            ground_esp_pct: figure(Measure::GroundEsp),
        }
    }
}

/// Shares of the exchange may pass 100 % by so much, for rounding.
const SHARES_SLACK_PCT: f64 = 0.5;

/// What was assumed of the chemistry, and what is outside its limits.
pub(super) fn notes(recipe: &Recipe, outcome: &Outcome, notes: &mut Vec<Remark>) {
    let given = |of: Trait| recipe.ground.typical(of);
    if outcome.barrow.ground_dry_kg > 0.0 {
        let ground = &outcome.barrow.ground;
        let mut assume = |of: Trait, value: f64| {
            if given(of).is_none() {
                notes.push(Remark::EstimatedChemistry { of, value });
            }
        };
        assume(Trait::Ph, PH_DEFAULT.typical);
        if given(Trait::Ec1To5).is_none() && given(Trait::Ec1To2).is_none() {
            assume(Trait::EcSaturatedPaste, EC_PASTE_DEFAULT.typical);
        }
        let cec = estimated_cec_cmol_kg(ground.fractions[2], ground.organic);
        assume(Trait::Cec, cec);
        assume(Trait::SodiumShare, SODIUM_SHARE_DEFAULT.typical);
        if given(Trait::Ph).is_some_and(|ph| ph > CARBONATE_ABOVE_PH) {
            assume(Trait::Carbonate, CARBONATE_ABOVE_PCT);
        }
        let ph = given(Trait::Ph).unwrap_or(PH_DEFAULT.typical);
        if given(Trait::Carbonate).is_some_and(|pct| pct > 0.0) && ph < FREE_LIME_PH {
            notes.push(Remark::LimeInAcid);
        }
        let shares = [
            Trait::CalciumShare,
            Trait::MagnesiumShare,
            Trait::PotassiumShare,
            Trait::SodiumShare,
        ];
        let sum_pct: f64 = shares.into_iter().filter_map(given).sum();
        if sum_pct > 100.0 + SHARES_SLACK_PCT {
            notes.push(Remark::SharesOver { sum_pct });
        }
    }
    for (index, own) in recipe.materials.iter().enumerate() {
        if !recipe.additions.iter().any(|line| line.material == own.id) {
            continue;
        }
        let tells = |of: Property| own.properties.get(of).is_some();
        let dissolves = matches!(own.group, Some(Group::Powder | Group::Liquid));
        let acts = tells(Property::CarbonateEquivalent) || tells(Property::Sulfur);
        let name = || own.name.clone().unwrap_or_else(|| own.id.clone());
        let path = || Path::from("materials").item(index);
        if !tells(Property::Ph) {
            notes.push(Remark::EstimatedKind {
                name: name(),
                path: path(),
            });
        } else if dissolves && !acts {
            notes.push(Remark::ReactionAlone {
                name: name(),
                path: path(),
            });
        }
    }
    let (low, high) = LINEAR_PH;
    if let Some(ph) = outcome.chemical.ph {
        let from = outcome.chemical.ground_ph.typical;
        let moves = (ph.typical - from).abs() > LEAST_MOVE;
        let lime_holds = outcome.chemistry.lime_left_pct > 0.0;
        if moves && !lime_holds && !(low..=high).contains(&ph.typical) {
            notes.push(Remark::ReactionOutside);
        }
    }
    let place = recipe.place.as_ref();
    if let Some(crop) = place.and_then(|place| place.crop.as_ref())
        && !crop.trim().is_empty()
        && crop::find(crop).is_none_or(|crop| crop.response.is_none())
    {
        notes.push(Remark::UnknownCrop { crop: crop.clone() });
    }
}

/// Less is no move of the reaction.
const LEAST_MOVE: f64 = 0.1;
