//! Words of the tool that reads a label's rate for a pot, pail, bag or bed.

use super::keep::trade_pot_name;
use super::{Speech, Units, fixed, in_sentence, shown, significant};
use crate::dose::{Deed, DoseFault, Given, OVER_LABEL, Reading, UNSAID_DEPTH_IN, WEIGHED_BELOW_KG};
use crate::quantity::pots::{TradePot, UsualContainer, UsualKind};
use crate::quantity::{LITRES_PER_M3, Unit};
use crate::recipe::Amount;

/// Sentences and names that the tool writes while it runs.
pub fn label_of_dose(key: &str) -> &'static str {
    match key {
        "place" => tr!("where the recipe goes"),
        "round" => tr!("another container"),
        "bed" => tr!("a bed"),
        "in-recipe" => tr!("in the recipe"),
        "taken" => tr!("taken"),
        "no-place" => {
            tr!(
                "The recipe does not say how wide or how high its place is. Say it under “Where it goes”, or choose another place here."
            )
        }
        "share" => {
            tr!(
                "This works by its share of the volume. By surface or by weight a pot would get another share than the label means: take it by volume."
            )
        }
        "full" => tr!("The recipe has no room for another line."),
        _ => "",
    }
}

impl Speech {
    /// A dose: three figures, as one weighs it.
    pub fn dose(self, kg: f64) -> String {
        let amount = self.dose_amount(kg);
        let value = amount.value;
        [&significant(value, 3), " ", super::unit_name(amount.unit)].concat()
    }

    /// The same as an amount. What has to be weighed is in grams, since scales that can do it are.
    pub fn dose_amount(self, kg: f64) -> Amount {
        let unit = match self.units {
            Units::Us if kg >= Unit::Pound.factor() => Unit::Pound,
            Units::Us if kg >= WEIGHED_BELOW_KG => Unit::Ounce,
            _ if kg >= Unit::Kilogram.factor() => Unit::Kilogram,
            _ => Unit::Gram,
        };
        Amount::new(super::round_significant(kg / unit.factor(), 3), unit)
    }
}

/// A container of the list.
pub fn usual_container_name(usual: &UsualContainer, speech: Speech) -> String {
    let number = usual.number;
    let kind = match usual.kind {
        UsualKind::TradePot => {
            let pot = TradePot::of_class(number);
            let name = pot.map_or(String::new(), |pot| trade_pot_name(pot, speech));
            return say!("nursery pot {}", name);
        }
        UsualKind::ClothBag => tr!("cloth bag"),
        UsualKind::Pail => tr!("pail"),
    };
    let mut name = say!("{} of {} US gallons", kind, number);
    if speech.units == Units::Metric {
        let litres = speech.volume(usual.volume_m3() * LITRES_PER_M3);
        name += &format!(" ({litres})");
    }
    name
}

/// The room that a dose is for.
pub fn dose_room_text(area_m2: f64, volume_m3: f64, speech: Speech) -> String {
    let (area, unit) = match speech.units {
        Units::Metric => (area_m2, "m²"),
        Units::Us => (area_m2 / Unit::SquareFoot.factor(), tr!("ft²")),
    };
    say!(
        "{} of soil with a surface of {} {}, so {} deep.",
        speech.volume(volume_m3 * LITRES_PER_M3),
        significant(area, 3),
        unit,
        speech.length(volume_m3 / area_m2 * 100.0)
    )
}

fn reading_name(reading: Reading) -> &'static str {
    match reading {
        Reading::Area => tr!("by surface"),
        Reading::Volume => tr!("by volume"),
        Reading::Mass => tr!("by the dry weight of the soil"),
    }
}

/// Which reading to use, and why; of a share of the volume where that is what counts.
pub fn dose_advice(label_is_of_volume: bool, deed: Deed, share: Option<f64>) -> String {
    if label_is_of_volume {
        return tr!("Use it by volume: the label means a volume of mix.").into();
    }
    match deed {
        Deed::Reacts => tr!("Use it by the dry weight of the soil: it reacts with the soil itself, and a pot of light mix has less of that than the label’s ground.").into(),
        Deed::OnTop => tr!("Use it by surface: what lies on top counts by the surface that it covers.").into(),
        Deed::Feeds => tr!("Use it by volume: it feeds the room that roots have. In a mix much lighter than soil the dry weight is the careful reading.").into(),
        Deed::Fills => {
            let share = share.map_or(String::new(), |share| {
                say!(", here {} %", significant(100.0 * share, 2))
            });
            say!("Use it by volume: it works by its share of the volume, as the label’s is{}. By surface a deep pot gets too little of it.", share)
        }
    }
}

/// What using the dose does to the recipe.
pub fn dose_use_text(
    name: &str,
    reading: Reading,
    total_kg: f64,
    was: Option<&Amount>,
    speech: Speech,
) -> String {
    let mut text = say!(
        "“Use this” puts {} of {} into the recipe, {}",
        speech.dose(total_kg),
        in_sentence(name),
        reading_name(reading)
    );
    text += &match was {
        Some(was) => say!(
            ", in place of {} {}.",
            shown(was.value),
            super::unit_name(was.unit)
        ),
        None => tr!(", as a new line.").into(),
    };
    text
}

/// The depth that is taken where the label says none.
pub fn dose_depth_text(speech: Speech) -> String {
    let taken = match speech.units {
        Units::Metric => {
            let cm = UNSAID_DEPTH_IN * Unit::Inch.factor() * 100.0;
            format!("{} cm", fixed(cm, 0))
        }
        Units::Us => tr!("6 2/3 in").to_owned(),
    };
    say!("No depth is stated: {} is taken, as soil tests do.", taken)
}

/// What is to be minded of a dose in one container, of so many times the label's rate for an area.
pub fn dose_cautions(kg: f64, times: f64, deed: Deed) -> Vec<String> {
    let mut out = Vec::new();
    if times > OVER_LABEL {
        out.push(say!("That is {} times the label’s rate for this surface. More than {} times is much at once: give it in several goes.", significant(times, 2), shown(OVER_LABEL)));
    }
    if kg < WEIGHED_BELOW_KG {
        out.push(tr!("So little has to be weighed: spoons of powder differ twofold.").into());
    }
    if deed == Deed::Reacts {
        out.push(tr!("For lime, sulfur and gypsum better still is what a soil test says is needed; the label is only a check on that.").into());
    }
    out.push(tr!("If the label gives a rate for pots, that one wins.").into());
    out
}

/// The recipe is for another volume than the dose.
pub fn dose_mismatch_text(recipe_m3: f64, dosed_m3: f64, speech: Speech) -> String {
    let volume = |m3: f64| speech.volume(m3 * LITRES_PER_M3);
    say!(
        "The recipe comes to {} settled, and this dose is for {}: make them the same, or the mix gets another share of it.",
        volume(recipe_m3),
        volume(dosed_m3)
    )
}

/// What was given, as the rates that a label would have to say, in its own unit.
pub fn dose_back_text(
    given_kg: f64,
    rates: &[(Reading, f64)],
    unit: &str,
    speech: Speech,
) -> String {
    let rates: Vec<String> = rates
        .iter()
        .map(|(reading, rate)| format!("{} {}", significant(*rate, 3), reading_name(*reading)))
        .collect();
    say!(
        "{} in one is as if the label said, in {}: {}.",
        speech.dose(given_kg),
        unit,
        rates.join(", ")
    )
}

/// The unit of a label's rate as it is written.
pub fn rate_unit_name(spelling: &str) -> &'static str {
    match spelling {
        "lb/yd3" => tr!("lb/yd³"),
        _ => Unit::from_spelling(spelling).map_or("", super::unit_name),
    }
}

/// What a dose cannot be computed with.
pub fn dose_fault_text(fault: DoseFault, is_of_volume: bool, speech: Speech) -> String {
    let us = speech.units == Units::Us;
    let (name, unit, factor) = match fault.of {
        Given::Rate if is_of_volume => (tr!("rate"), "g/L", 1.0),
        Given::Rate => (tr!("rate"), "g/m²", Unit::GramPerSquareMetre.factor()),
        Given::LabelDepth if us => (tr!("depth it is worked in to"), "in", Unit::Inch.factor()),
        Given::LabelDepth => (
            tr!("depth it is worked in to"),
            "cm",
            Unit::Centimetre.factor(),
        ),
        Given::LabelDensity => (
            tr!("density that the label means"),
            speech.units.density_unit(),
            speech.units.density_factor(),
        ),
        Given::Density => (
            tr!("density of the soil"),
            speech.units.density_unit(),
            speech.units.density_factor(),
        ),
        Given::Area if us => (tr!("surface"), tr!("ft²"), Unit::SquareFoot.factor()),
        Given::Area => (tr!("surface"), "m²", 1.0),
        Given::Volume if us => (tr!("soil in it"), "gal", Unit::Gallon.factor()),
        Given::Volume => (tr!("soil in it"), "L", Unit::Litre.factor()),
        Given::Dose if us => (tr!("dose"), "oz", Unit::Ounce.factor()),
        Given::Dose => (tr!("dose"), "g", Unit::Gram.factor()),
    };
    let number = |value: f64| significant(value / factor, 3);
    say!(
        "The {} must be from {} to {} {}.",
        name,
        number(fault.low),
        number(fault.high),
        unit
    )
}
