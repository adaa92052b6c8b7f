//! Words of the tool for what was measured.

use super::{
    Speech, Told, Units, bound, fixed, remark_text, round_significant, shown, significant,
};
use crate::figure::{Ends, Figure};
use crate::outcome::{Disagreement, MeasuredOutcome, Remark};
use crate::quantity::Unit;
use crate::recipe::{Measurement, Sample};

/// Labels of the tool.
pub(super) const MEASURE: &[(&str, &str)] = &[
    ("measure", "Measure it"),
    (
        "measure_intro",
        "One pot, can or hole of your own says more than any table. Open what you have and fill it in; the rest stays empty. Results that agree with it count more, and the ranges narrow.",
    ),
    ("measure_of", "Measured of"),
    ("measure_blend", "the blend, settled"),
    ("measure_ground", "the ground as it lies"),
    (
        "measure_then",
        "It is taken as measured of the blend as it was then: clear it if you have changed the mix.",
    ),
    (
        "measure_then_ground",
        "It is taken as measured of this ground, before digging: clear it if you have another in mind.",
    ),
    ("measure_density", "Density, by a can or core"),
    (
        "measure_density_how",
        "Push a can without lid and bottom in until it is full, cut it off level, and dry what it holds until it loses no more weight. Weigh that without the can.",
    ),
    ("measure_room", "The can holds"),
    ("measure_dry_soil", "Dry soil from it"),
    ("measure_or_density", "Or its density"),
    ("measure_pot", "What drains out of a pot"),
    (
        "measure_pot_how",
        "Close the holes, fill the pot with the mix and water it slowly until the top shines. Open them and catch what runs out until the dripping ends, after ten minutes to an hour or more.",
    ),
    ("measure_ran", "Ran out"),
    ("measure_mix", "Mix in the pot"),
    ("measure_or_share", "Or its share"),
    ("measure_height", "Inside height of the pot"),
    (
        "measure_height_why",
        "A low pot keeps more water than a tall one, so the height is needed; it goes under “Where it goes”.",
    ),
    (
        "measure_bed",
        "This blend goes into a bed. A pot is compared only where it goes into one: change that under “Where it goes”.",
    ),
    ("measure_hole", "How fast a hole empties"),
    (
        "measure_hole_how",
        "Dig it a foot (30 cm) wide and deep, fill it with water and let that drain away. Fill it again to a hand below the rim and time how far it falls.",
    ),
    ("measure_fell", "It fell by"),
    ("measure_within", "Within"),
    ("measure_ring", "How fast a ring takes water"),
    (
        "measure_ring_how",
        "Press a ring of 15 cm (6 in) half way into bare soil, lay film in it, pour the water on, draw the film away and time it. Do that twice: the second time counts.",
    ),
    ("measure_gone", "Second time gone after"),
    ("measure_poured", "Water poured"),
    ("measure_25", "25 mm"),
    ("measure_inch", "1 inch"),
    ("measure_left", "Water left after draining"),
    (
        "measure_left_how",
        "Soak it, cover it, and let it drain until nothing more comes: a pot for an hour or two, ground for two days. Weigh some, dry it, weigh it again.",
    ),
    ("measure_moist", "Moist"),
    ("measure_dried", "Dried"),
    ("measure_or_water", "Or water, of dry mass"),
    ("minutes", "min"),
    ("measure_does", "What it does"),
    ("measure_without", "Without"),
    ("measure_with", "With it"),
    ("measure_clear", "Clear"),
];

/// Sentences and names that the tool writes while it runs.
pub fn label_of_measure(key: &str) -> &'static str {
    match key {
        "density" => tr!("Density"),
        "pores" => tr!("Pores"),
        "air" => tr!("Air once drained"),
        "water" => tr!("Water for plants"),
        "drains" => tr!("Drains"),
        "room" => {
            tr!("Give what the can holds and the dry soil from it, or the density: not both.")
        }
        "share" => tr!("Give what ran out and the mix in the pot, or the share: not both."),
        "left" => tr!("Give the moist and the dry weight, or the water: not both."),
        "none" => tr!("Nothing was measured in nothing."),
        "ran" => tr!("More ran out than the pot holds."),
        "dried" => tr!("Dried it cannot weigh more than moist."),
        _ => tr!("Of the ground as it lies: "),
    }
}

/// A sentence about what is measured of the sample that is not shown.
pub fn of_the_other_text(sample: Sample, text: &str) -> String {
    let of = match sample {
        Sample::Ground => label_of_measure("other"),
        Sample::Blend => tr!("Of the blend: "),
    };
    [of, text].concat()
}

/// How exact a way is taken to be.
pub fn usual_error_text(of: Measurement) -> String {
    let whole = 100.0;
    let high = of.with_error(Figure::exact(whole)).ends().high;
    let times = shown(round_significant(high / whole, 2));
    let over = shown(round_significant(high - whole, 2));
    match of {
        Measurement::BulkDensity => say!("Counted as right within {} %.", over),
        Measurement::Drained => say!("Counted as right within {} points of the volume.", over),
        Measurement::Hole => {
            say!(
                "Counted as right within a factor of {}: water leaves by the walls too.",
                times
            )
        }
        Measurement::Ring => {
            say!(
                "Counted as right within a factor of {}: rings side by side differ so.",
                times
            )
        }
        Measurement::WaterPerDry => {
            say!("Counted as right within {} points of the dry mass.", over)
        }
    }
}

impl Speech {
    /// A number that was measured, without its unit.
    fn measured_number(self, of: Measurement, value: f64) -> String {
        let value = value / measured_factor(of, self);
        match of {
            Measurement::BulkDensity => fixed(value, self.units.density_decimals()),
            _ if of.errs_by_factor() => significant(value, 2),
            _ => fixed(value, 0),
        }
    }
}

/// The unit that something measured is shown in.
pub fn measured_unit(of: Measurement, speech: Speech) -> &'static str {
    match of {
        Measurement::BulkDensity => speech.units.density_unit(),
        Measurement::Drained | Measurement::WaterPerDry => "%",
        _ if speech.units == Units::Us => "in/h",
        _ => "mm/h",
    }
}

/// One of that unit in the stored one.
pub fn measured_factor(of: Measurement, speech: Speech) -> f64 {
    match of {
        Measurement::BulkDensity => speech.units.density_factor(),
        _ if of.errs_by_factor() && speech.units == Units::Us => {
            Unit::Inch.factor() / Unit::Millimetre.factor()
        }
        _ => 1.0,
    }
}

/// What was measured, with what it counts as.
pub fn measured_text(of: Measurement, figure: Figure, speech: Speech) -> String {
    let Ends { low, high } = of.with_error(figure).ends();
    format!(
        "{} {} ({}–{})",
        speech.measured_number(of, figure.typical),
        measured_unit(of, speech),
        speech.measured_number(of, low.max(0.0)),
        speech.measured_number(of, high)
    )
}

/// What comes to more or less than can be.
pub fn measured_outside_text(of: Measurement, value: f64, speech: Speech) -> String {
    let (low, high) = of.limits();
    let unit = measured_unit(of, speech);
    let number = |value: f64| bound(round_significant(value / measured_factor(of, speech), 3));
    say!(
        "That comes to {} {}; what can be lies between {} and {} {}.",
        number(value),
        unit,
        number(low),
        number(high),
        unit
    )
}

/// How many draws agree; says so where they are few.
pub fn agreement_text(measured: &MeasuredOutcome, is_few: bool) -> String {
    let effective_draws = measured.effective_draws;
    if is_few {
        return remark_text(&Remark::FewAgree { effective_draws }, super::METRIC);
    }
    super::agree_text(measured)
}

/// Where measurement and model differ by more than both allow.
pub fn disagreement_text(found: &Disagreement, speech: Speech) -> String {
    let of = found.measurement;
    let sample = match found.sample {
        Sample::Ground => tr!("the ground##measured"),
        Sample::Blend => tr!("the blend##measured"),
    };
    let number = |value: f64| speech.measured_number(of, value);
    say!(
        "Measurement and model disagree about {}: you measured {} {}, the model expected {}–{} {}. Check the measurement, or what is entered of {}.",
        sample,
        number(found.value),
        measured_unit(of, speech),
        number(found.expected.low),
        number(found.expected.high),
        measured_unit(of, speech),
        sample
    )
}

/// The range of a figure behind it; nothing where it has none.
pub fn range_behind(told: &Told) -> String {
    if told.range.is_empty() {
        return String::new();
    }
    ["(", &told.range, ")"].concat()
}
