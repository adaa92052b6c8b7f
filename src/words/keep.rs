//! Sentences for what is kept, scaled and said: faults of filling, of own materials, of spoken
//! parts, of pots and buckets.

use super::english::fault_text;
use super::{Speech, bound, round_significant, significant, unit_name};
use crate::blend::fill::FillFault;
use crate::quantity::LITRES_PER_M3;
use crate::quantity::pots::{BagKind, ShapeFault, Side, TradePot};
use crate::recipe::dug::DugFault;
use crate::recipe::own::{BucketFault, Imported, OwnFault};
use crate::recipe::phrase::{PhraseFault, What};
use crate::recipe::{AMOUNT_LEAST, Recipe, quoted};

/// A number as it was, or what stands for none.
fn told(value: f64) -> String {
    if value.is_finite() {
        bound(value)
    } else {
        tr!("no number").into()
    }
}

/// Limits, where the least is a hair above nothing said so.
fn limits(low: f64, high: f64) -> String {
    if low == AMOUNT_LEAST {
        say!("more than 0 and at most {}", bound(high))
    } else {
        say!("from {} to {}", bound(low), bound(high))
    }
}

/// Names in a row: "a, b and c".
fn row(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., end] => say!("{} and {}", first.join(", "), end),
    }
}

/// A number as a bound, with the mark for decimals.
/// Why a place cannot be filled.
pub fn fill_fault_text(fault: &FillFault, speech: Speech) -> String {
    match fault {
        FillFault::NoRoom => {
            tr!("How much room there is, is not said: give the room under Where it goes.").into()
        }
        FillFault::Volume {
            m3,
            low_m3,
            high_m3,
        } => {
            let volume = |m3: f64| speech.volume(m3 * LITRES_PER_M3);
            let what = if m3.is_finite() {
                volume(*m3)
            } else {
                told(*m3)
            };
            say!(
                "{} is no room to fill: it must be from {} to {}.",
                what,
                volume(*low_m3),
                volume(*high_m3)
            )
        }
        FillFault::Share { value, low, high } => say!(
            "A place can be filled to {} to {} % of its room, not to {} %.",
            bound(round_significant(low * 100.0, 3)),
            bound(round_significant(high * 100.0, 3)),
            told(value * 100.0)
        ),
        FillFault::NothingToScale => {
            tr!("Nothing in this recipe could be made more or less to fill a place.").into()
        }
        FillFault::Amount { path, value, limit } => say!(
            "To fill that, {} would be {}, and an amount is at most {}: choose a larger unit.",
            path,
            significant(*value, 3),
            bound(*limit)
        ),
        FillFault::Recipe(error) => format!("{}: {}.", error.path, fault_text(&error.fault)),
    }
}

/// The name of a side of a container.
pub fn side_name(side: Side) -> &'static str {
    match side {
        Side::Width => tr!("width"),
        Side::TopWidth => tr!("width at the top"),
        Side::BottomWidth => tr!("width at the bottom"),
        Side::Height => tr!("height"),
        Side::Length => tr!("length"),
    }
}

/// What is wrong with a side.
pub fn shape_fault_text(fault: ShapeFault) -> String {
    let centimetres = |metres: f64| bound(round_significant(metres * 100.0, 3));
    let value = if fault.value_m.is_finite() {
        format!("{} cm", centimetres(fault.value_m))
    } else {
        told(fault.value_m)
    };
    say!(
        "The {} cannot be {}: from {} to {} cm.",
        side_name(fault.side),
        value,
        centimetres(fault.low_m),
        centimetres(fault.high_m)
    )
}

/// A nursery pot as the trade names it, with what it truly holds.
pub fn trade_pot_name(pot: &TradePot, speech: Speech) -> String {
    format!("#{} ({})", pot.class, speech.volume(pot.litres))
}

/// The name of what is sold in a common bag.
pub fn bag_kind_name(kind: BagKind) -> &'static str {
    match kind {
        BagKind::SoilOrCompost => tr!("soil or compost"),
        BagKind::PottingMix => tr!("potting mix"),
        BagKind::PeatBale => tr!("peat, a compressed bale"),
        BagKind::PerliteOrVermiculite => tr!("perlite or vermiculite"),
        BagKind::PlaySand => tr!("play sand"),
    }
}

/// What is wrong with buckets of dug ground.
pub fn dug_fault_text(fault: DugFault) -> String {
    match fault {
        DugFault::NotAVolume { unit } => say!(
            "A bucket's size is a volume, such as 12 L, not {}.",
            unit_name(unit)
        ),
        DugFault::OutOfRange { value, low, high } => {
            say!("{} cannot be: {}.", told(value), limits(low, high))
        }
    }
}

/// What is wrong with a weighed bucket.
pub fn bucket_fault_text(fault: BucketFault, speech: Speech) -> String {
    match fault {
        BucketFault::NotPositive { value } => say!(
            "{} cannot be: the full bucket and its volume are more than 0, the empty one not less.",
            told(value)
        ),
        BucketFault::FullNotHeavier { full_kg, empty_kg } => say!(
            "The full bucket ({}) must weigh more than the empty one ({}).",
            speech.mass(full_kg),
            speech.mass(empty_kg)
        ),
        BucketFault::OutOfRange {
            kg_m3,
            low_kg_m3,
            high_kg_m3,
        } => say!(
            "That would weigh {}; what can be mixed weighs from {} to {}. Check the scale and the volume.",
            speech.density(kg_m3),
            speech.density(low_kg_m3),
            speech.density(high_kg_m3)
        ),
    }
}

/// Why an own material cannot be so.
pub fn own_fault_text(recipe: &Recipe, fault: &OwnFault) -> String {
    match fault {
        OwnFault::Unknown { id } => say!("There is no material with the id {}.", short(id)),
        OwnFault::Twice { id } => say!(
            "Two materials would have the id {}; each needs its own.",
            short(id)
        ),
        OwnFault::InUse { id, lines } => {
            let name = recipe.find(id).map_or(id.as_str(), |found| found.name());
            let numbers: Vec<String> = lines.iter().map(|line| (line + 1).to_string()).collect();
            say_many!(
                lines.len() as f64,
                "{} cannot be deleted while line {} uses it: choose another material there first.",
                "{} cannot be deleted while lines {} use it: choose another material there first.",
                short(name),
                row(&numbers)
            )
        }
        OwnFault::Material(error) => format!("{}: {}.", error.path, fault_text(&error.fault)),
    }
}

/// What became of materials that were imported; nothing where all came as they were.
pub fn imported_text(imported: &Imported) -> String {
    let mut text = String::new();
    for renamed in &imported.renamed {
        text += &say!(
            "The id {} was taken, so it is {} now. ",
            short(&renamed.from),
            short(&renamed.to)
        );
    }
    if !imported.had.is_empty() {
        let had: Vec<String> = imported.had.iter().map(|id| short(id)).collect();
        text += &say!("Already here and the same: {}.", row(&had));
    }
    text.trim_end().to_owned()
}

/// What is not understood of spoken parts.
pub fn phrase_fault_text(recipe: &Recipe, fault: &PhraseFault) -> String {
    match fault {
        PhraseFault::Nothing => tr!("Say the parts, as in: 3 soil, 1 compost, 1 sand.").into(),
        PhraseFault::NoGround => {
            tr!("How many parts are soil? Say it too, as in: 3 soil, 1 compost.").into()
        }
        PhraseFault::NoNumber { found } => say!(
            "How many parts of {}? Put the number first, with a point for decimals.",
            short(found)
        ),
        PhraseFault::NoName { found } => say!(
            "{} parts of what? Name it after the number, and write decimals with a point.",
            short(found)
        ),
        PhraseFault::Mixed { first, second } => say!(
            "A {} and a {} hold different amounts: say all of it in one of them.",
            kind_name(first),
            kind_name(second)
        ),
        PhraseFault::Measure { found } => say!(
            "{} is a measure of its own: say parts, buckets, barrows or shovels, all of one size.",
            short(found)
        ),
        PhraseFault::Parts { parts, low, high } => {
            say!("{} parts cannot be: {}.", told(*parts), limits(*low, *high))
        }
        PhraseFault::Unknown { found, near } if near.is_empty() => say!(
            "No material here is called {}: choose one from the list, or make it an own material.",
            short(found)
        ),
        PhraseFault::Unknown { found, near } => {
            let mut near: Vec<String> = near.iter().map(|name| one_line(name)).collect();
            let last = near.pop().unwrap_or_default();
            let near = if near.is_empty() {
                last
            } else {
                say!("{} or {}", near.join(", "), last)
            };
            say!(
                "No material here is called {}. Did you mean {}?",
                short(found),
                near
            )
        }
        PhraseFault::Twice { what } => {
            let name = match what {
                What::Ground => tr!("The soil").into(),
                What::Material(_) => one_line(what.name(recipe).unwrap_or_default()),
            };
            say!("{} stands twice: say its parts together.", name)
        }
        PhraseFault::TooMany { limit } => {
            say!("A recipe holds at most {} additions.", limit)
        }
    }
}

/// What people count parts in.
fn kind_name(kind: &'static str) -> &'static str {
    match kind {
        "bucket" => tr!("bucket"),
        "pail" => tr!("pail"),
        "barrow" => tr!("barrow"),
        "shovel" => tr!("shovel"),
        "scoop" => tr!("scoop"),
        _ => tr!("part"),
    }
}

/// Text of others in quotes, on one line and not without end.
fn short(text: &str) -> String {
    quoted(text)
}

/// Text of others on one line, as it is.
pub(super) fn one_line(text: &str) -> String {
    let words: Vec<&str> = text.split(|letter: char| letter.is_control()).collect();
    let words: Vec<&str> = words.into_iter().filter(|word| !word.is_empty()).collect();
    words.join(" ").trim().to_owned()
}
