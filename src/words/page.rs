//! Sentences of the page that follow the numbers.

use super::{Speech, Typed, class_name, fixed, label, significant};
use crate::blend::{Barrow, Line};
use crate::outcome::Outcome;
use crate::plot::{ColumnState, Parts};
use crate::quantity::{LITRES_PER_M3, Unit};
use crate::recipe::{AMOUNT_LEAST, Amount, Fault, number_text};
use crate::texture::Class;

/// A unit's name in a list.
pub fn unit_name(unit: Unit) -> &'static str {
    match unit {
        Unit::TonUs => "US tons",
        Unit::Gallon => "gal (US)",
        Unit::GallonImperial => "gal (imp.)",
        Unit::QuartDry => "qt (dry)",
        Unit::QuartLiquid => "qt (liquid)",
        Unit::FluidOunce => "fl oz",
        Unit::CubicMetre => "m³",
        Unit::CubicFoot => "ft³",
        Unit::CubicYard => "yd³",
        Unit::Bushel => "bushels",
        Unit::Cup => "cups",
        Unit::SquareMetre => "m²",
        Unit::SquareFoot => "ft²",
        Unit::Acre => "acres",
        Unit::VolumePercent => "% by volume",
        Unit::MassPercent => "% by dry mass",
        Unit::Part => "parts",
        Unit::Millimetre => "mm deep",
        Unit::Centimetre => "cm deep",
        Unit::Metre => "m deep",
        Unit::Inch => "in deep",
        Unit::Foot => "ft deep",
        Unit::PoundPer100SquareFeet => "lb/100 ft²",
        Unit::PoundPer1000SquareFeet => "lb/1000 ft²",
        Unit::KilogramPerSquareMetre => "kg/m²",
        Unit::GramPerSquareMetre => "g/m²",
        Unit::GramPerLitre => "g/L of ground",
        Unit::Bag => "bags",
        other => other.spelling(),
    }
}

/// An amount as it is read aloud.
pub fn number_in_words(amount: &Amount) -> String {
    format!("{} {}", super::shown(amount.value), unit_name(amount.unit))
}

/// What an addition comes to: its weight, loose volume, share and cost.
pub fn line_text(line: &Line, barrow: &Barrow, currency: Option<&str>, speech: Speech) -> String {
    let mut text = format!(
        "{}, {} loose",
        speech.mass(line.moist_kg),
        speech.volume(line.loose_m3 * LITRES_PER_M3)
    );
    if line.on_top {
        text += ", on top";
    } else {
        let share = 100.0 * line.loose_m3 / barrow.loose_parts_m3();
        text += &format!(", {} % of the heap", fixed(share, 0));
    }
    if let Some(cost) = line.cost {
        text += &format!(", {}", super::cost_text(cost, currency));
    }
    text
}

/// What the ground's amount comes to.
pub fn soil_text(outcome: &Outcome, speech: Speech) -> String {
    let barrow = &outcome.barrow;
    let kg = barrow.ground_dry_kg * (1.0 + barrow.ground.water_per_dry);
    let lying = barrow.ground_dry_kg / barrow.ground.lying_density_kg_m3 * LITRES_PER_M3;
    let dug = barrow.ground_loose_m3() * LITRES_PER_M3;
    format!(
        "{} moist, {} in place, {} once dug",
        speech.mass(kg),
        speech.volume(lying),
        speech.volume(dug)
    )
}

/// The name of a state in the pore column.
pub fn state_name(state: ColumnState) -> &'static str {
    label(match state {
        ColumnState::Lying => "state_lying",
        ColumnState::Dug => "state_dug",
        ColumnState::Fresh => "state_fresh",
        ColumnState::Settled => "state_settled",
        ColumnState::Puddled => "state_puddled",
    })
}

/// A class's name on as many lines as its region has room for.
pub fn class_lines(class: Class) -> &'static [&'static str] {
    match class {
        Class::Sand => &["sand"],
        Class::LoamySand => &["loamy", "sand"],
        Class::SandyLoam => &["sandy loam"],
        Class::Loam => &["loam"],
        Class::SiltLoam => &["silt loam"],
        Class::Silt => &["silt"],
        Class::SandyClayLoam => &["sandy clay", "loam"],
        Class::ClayLoam => &["clay loam"],
        Class::SiltyClayLoam => &["silty clay", "loam"],
        Class::SandyClay => &["sandy", "clay"],
        Class::SiltyClay => &["silty", "clay"],
        Class::Clay => &["clay"],
    }
}

/// What the triangle shows.
pub fn triangle_sentence(outcome: &Outcome) -> String {
    match (outcome.ground.class, outcome.texture) {
        (_, None) => "Nothing in this blend has a texture.".into(),
        (Some(before), Some(after)) if outcome.barrow.ground_dry_kg > 0.0 => {
            if before == after.class {
                format!("The texture stays {}.", class_name(before))
            } else {
                format!(
                    "The texture goes from {} to {}.",
                    class_name(before),
                    class_name(after.class)
                )
            }
        }
        (_, Some(after)) => format!("The texture is {}.", class_name(after.class)),
    }
}

/// What the pore column shows.
pub fn column_sentence(outcome: &Outcome, parts: &[Parts; 5]) -> String {
    let [lying, _, _, settled, _] = parts.map(Parts::pores_pct);
    if outcome.barrow.ground_dry_kg <= 0.0 {
        return format!(
            "Pores: {} of every 100 parts of the settled blend.",
            fixed(settled, 0)
        );
    }
    format!(
        "Pores: {} of every 100 parts now, {} in the settled blend.",
        fixed(lying, 0),
        fixed(settled, 0)
    )
}

/// What a screen reader is told once a change has ended.
pub fn told(outcome: &Outcome) -> String {
    let class = outcome
        .texture
        .map_or("no texture", |texture| class_name(texture.class));
    let organic = outcome.organic_matter_pct.map_or(String::new(), |figure| {
        format!(", organic matter {} percent", fixed(figure.typical, 1))
    });
    format!(
        "The blend is {class}, settled with {} percent pores{organic}.",
        fixed(outcome.pore_space_pct.settled.typical, 0)
    )
}

/// A fault of the recipe in the words of the page, which has boxes and no field names.
pub fn page_fault_text(fault: &Fault) -> String {
    match fault {
        Fault::NoArea => {
            "A depth or a rate needs an area: choose a bed by depth for the ground, or say \
            room and height under Where it goes."
                .into()
        }
        Fault::NoGround => {
            "This counts against the ground, and there is none: choose litres or kilograms.".into()
        }
        Fault::Empty => "There is nothing to mix yet.".into(),
        other => super::fault_text(other),
    }
}

/// What is wrong with a number as typed.
pub fn typed_text(typed: Typed, low: f64, high: f64) -> String {
    let limits = if low == AMOUNT_LEAST {
        format!("More than 0 and at most {}", number_text(high))
    } else {
        // Limits shown in other units are rounded, for people.
        let end = |value: f64| {
            if value == 0.0 || value.fract() == 0.0 {
                number_text(value)
            } else {
                significant(value, 3)
            }
        };
        format!("From {} to {}", end(low), end(high))
    };
    match typed {
        Typed::Comma => {
            "Write decimals with a point, as in 2.5, and thousands without a mark.".into()
        }
        Typed::Empty => format!("A number is needed here. {limits}."),
        Typed::Other => format!("This is not a number. {limits}."),
        Typed::Number(_) => format!("This is outside its limits. {limits}."),
    }
}
