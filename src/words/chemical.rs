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
                    say!("pH of the ground is not given: taken as {}, usual for a garden.", value)
                }
                Trait::EcSaturatedPaste => say!("Salts of the ground are not given: taken as {} dS/m (saturation extract), usual where it rains.", value),
                Trait::Cec => say!("Exchange capacity of the ground is not given: taken as {} cmol/kg, from its clay and organic matter.", value),
                Trait::SodiumShare => say!("Sodium of the ground is not given: taken as {} % of the exchange, usual where it rains.", value),
                _ => say!("Carbonate of the ground is not given: taken as {} %, usual at this pH. A drop of vinegar that fizzes shows it.", value),
            }
        }
        Remark::EstimatedKind { name, .. } => say!("The pH of {} is not given, so it does not move that of the blend; its salts and nutrients are taken as usual for its kind where they are not given.", name),
        Remark::ReactionAlone { name, .. } => say!("The pH of {} does not say how much of it moves a soil, so it is not counted: type its lime equivalent, or its sulfur, from the label.", name),
        Remark::SharesOver { sum_pct } => say!("Calcium, magnesium, potassium and sodium together are {} % of the exchange; they cannot pass 100. Look at the report again.", fixed(*sum_pct, 0)),
        Remark::LimeInAcid => tr!("Carbonate is given, yet the pH is below 7.3: fine lime would have raised it. It is counted as lime that still acts; a drop of vinegar shows it.")
            .into(),
        Remark::ReactionOutside => tr!("The pH is outside 5 to 7, where soils resist more than reckoned here, so it may move less than it says.")
            .into(),
        Remark::UnknownCrop { crop } => say!("No table read here has numbers for how {} bears salt; take it for sensitive.", crop),
        _ => String::new(),
    }
}
