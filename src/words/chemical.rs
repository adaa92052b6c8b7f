//! Notes on the chemistry, which the page's module has none of.

use super::number::{fixed, significant};
use crate::ground::Trait;
use crate::outcome::Remark;

/// What a note on the chemistry says; nothing for any other.
pub(super) fn note_text(remark: &Remark) -> String {
    match remark {
        Remark::EstimatedChemistry { of, value } => {
            let value = significant(*value, 2);
            match of {
                Trait::Ph => {
                    format!("pH of the ground is not given: taken as {value}, usual for a garden.")
                }
                Trait::EcSaturatedPaste => format!(
                    "Salts of the ground are not given: taken as {value} dS/m (saturation extract), \
                     usual where it rains."
                ),
                Trait::Cec => format!(
                    "Exchange capacity of the ground is not given: taken as {value} cmol/kg, from \
                     its clay and organic matter."
                ),
                Trait::SodiumShare => format!(
                    "Sodium of the ground is not given: taken as {value} % of the exchange, usual \
                     where it rains."
                ),
                _ => format!(
                    "Carbonate of the ground is not given: taken as {value} %, usual at this pH. A \
                     drop of vinegar that fizzes shows it."
                ),
            }
        }
        Remark::EstimatedKind { name, .. } => format!(
            "The pH of {name} is not given, so it does not move that of the blend; its salts and \
             nutrients are taken as usual for its kind where they are not given."
        ),
        Remark::ReactionAlone { name, .. } => format!(
            "The pH of {name} does not say how much of it moves a soil, so it is not counted: type \
             its lime equivalent, or its sulfur, from the label."
        ),
        Remark::SharesOver { sum_pct } => format!(
            "Calcium, magnesium, potassium and sodium together are {} % of the exchange; they \
             cannot pass 100. Look at the report again.",
            fixed(*sum_pct, 0)
        ),
        Remark::LimeInAcid => "Carbonate is given, yet the pH is below 7.3: fine lime would have \
             raised it. It is counted as lime that still acts; a drop of vinegar shows it."
            .into(),
        Remark::ReactionOutside => "The pH is outside 5 to 7, where soils resist more than \
             reckoned here, so it may move less than it says."
            .into(),
        Remark::UnknownCrop { crop } => format!(
            "No table read here has numbers for how {crop} bears salt; take it for sensitive."
        ),
        _ => String::new(),
    }
}
