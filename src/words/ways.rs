//! Sentences of the ways to get to know one's ground: feel, jar, can.

use super::{Speech, bound, class_name, fixed, significant};
use crate::figure::Ends;
use crate::ground::can::{CanFault, CanNumber, CanReading};
use crate::ground::feel::{Answer, Question};
use crate::ground::jar::{JarFault, JarHeight, JarReading, ReadingTimes};
use crate::ground::settling::{SettlingFault, SettlingNumber};
use crate::texture::Class;

/// A question of the feel test, or its advice.
pub fn feel_question_text(question: Question) -> &'static str {
    match question {
        Question::Ball => {
            tr!(
                "Pick the stones out of a small handful of soil, wet it a little at a time and knead it to a putty. Squeeze it. Does it hold as a ball?"
            )
        }
        Question::AddSoil => tr!("It is too wet. Knead in a little dry soil, then squeeze again."),
        Question::AddWater => tr!("It is too dry. Knead in a little water, then squeeze again."),
        Question::Ribbon => {
            tr!(
                "Push the ball between thumb and forefinger into a flat ribbon. Does a ribbon form?"
            )
        }
        Question::Length => {
            tr!(
                "Let the ribbon grow over the finger until it breaks of its own weight. How long is it then?"
            )
        }
        Question::Rub => {
            tr!(
                "Wet a pinch of soil in the palm until it is runny, and rub it with a finger. How does it feel?"
            )
        }
    }
}

/// An answer of the feel test.
pub fn feel_answer_text(answer: Answer) -> &'static str {
    match answer {
        Answer::Holds => tr!("It holds"),
        Answer::TooWet => tr!("No, it is too wet"),
        Answer::TooDry => tr!("No, it is too dry"),
        Answer::FallsApart => tr!("No, it falls apart, wet or dry"),
        Answer::Done => tr!("Done"),
        Answer::RibbonForms => tr!("Yes"),
        Answer::NoRibbon => tr!("No, it only crumbles"),
        Answer::Short => tr!("Under 2.5 cm (1 in)"),
        Answer::Medium => tr!("2.5 to 5 cm (1 to 2 in)"),
        Answer::Long => tr!("Over 5 cm (2 in)"),
        Answer::Gritty => tr!("Very gritty"),
        Answer::Smooth => tr!("Very smooth"),
        Answer::Between => tr!("Neither gritty nor smooth"),
    }
}

/// What the feel test comes to.
pub fn feel_result_text(class: Class) -> String {
    say!(
        "By feel your soil is {}. With little practice about half of such calls are one class off.",
        class_name(class)
    )
}

/// A duration in words, in two parts at most.
pub fn duration_text(seconds: f64) -> String {
    // Longer than any reading, and no number at all.
    if !(0.0..1e9).contains(&seconds) {
        return tr!("an unknown time").into();
    }
    let whole = |value: f64| value.round() as u64;
    let rounded = whole(seconds);
    if rounded == 0 {
        return tr!("less than a second").into();
    }
    if rounded < 60 {
        return say_many!(
            rounded as f64,
            "about {} second",
            "about {} seconds",
            rounded
        );
    }
    if rounded < 3600 {
        return match (rounded / 60, rounded % 60) {
            (minutes, 0) => say!("about {} min", minutes),
            (minutes, seconds) => say!("about {} min {} s", minutes, seconds),
        };
    }
    let minutes = whole(seconds / 60.0);
    if minutes < 24 * 60 {
        return match (minutes / 60, minutes % 60) {
            (hours, 0) => say!("about {} h", hours),
            (hours, minutes) => say!("about {} h {} min", hours, minutes),
        };
    }
    let hours = whole(seconds / 3600.0);
    let (days, hours) = (hours / 24, hours % 24);
    let count = days as f64;
    match hours {
        0 => say_many!(count, "about {} day", "about {} days", days),
        _ => say_many!(
            count,
            "about {} day {} h",
            "about {} days {} h",
            days,
            hours
        ),
    }
}

/// When to mark the layers of a jar.
pub fn reading_times_text(times: ReadingTimes) -> String {
    say!(
        "Mark the top of the sand {} after you put the jar down, and the top of the silt {} after. Clay takes one or two days more.",
        duration_text(times.sand_s),
        duration_text(times.silt_s)
    )
}

/// What a jar says: the band between both answers.
pub fn jar_band_text(reading: &JarReading) -> String {
    let [one, other] = reading.classes();
    // From sand to clay, as the classes are listed.
    let (first, second) = if one as usize <= other as usize {
        (one, other)
    } else {
        (other, one)
    };
    let head = if first == second {
        let mut name = class_name(first).to_owned();
        if let Some(letter) = name.get_mut(..1) {
            letter.make_ascii_uppercase();
        }
        say!("{} both ways", name)
    } else {
        say!("Between {} and {}", class_name(first), class_name(second))
    };
    let parts = |[sand, silt, clay]: [f64; 3]| {
        say!(
            "{} % sand, {} % silt, {} % clay",
            fixed(sand, 0),
            fixed(silt, 0),
            fixed(clay, 0)
        )
    };
    say!(
        "{}: by height {}; by weight {}.",
        head,
        parts(reading.by_height_pct),
        parts(reading.by_mass_pct)
    )
}

/// What a can says.
pub fn can_text(reading: &CanReading, speech: Speech) -> String {
    let density = reading.bulk_density_kg_m3;
    let Ends { low, high } = density.ends();
    let (units, decimals) = (speech.units, speech.units.density_decimals());
    let lies = speech.density(density.typical);
    let [low, high] = [low, high].map(|end| fixed(units.density(end), decimals));
    match reading.water_per_dry_pct {
        Some(water) => say!(
            "The ground lies at {} dry ({} to {}), with water of {} % of its dry mass.",
            lies,
            low,
            high,
            fixed(water.typical, 0)
        ),
        None => say!("The ground lies at {} dry ({} to {}).", lies, low, high),
    }
}

fn outside(name: &str, value: f64, low: f64, high: f64, unit: &str) -> String {
    let limits = say!("from {} to {}{}", bound(low), bound(high), unit);
    if value.is_finite() {
        say!(
            "{} of {}{} is outside its limits: {}.",
            name,
            bound(value),
            unit,
            limits
        )
    } else {
        say!("{} must be a number {}.", name, limits)
    }
}

/// A fault of the fall through water.
pub fn settling_fault_text(fault: &SettlingFault) -> String {
    let SettlingFault::Outside {
        which,
        value,
        low,
        high,
    } = *fault;
    let (name, unit) = match which {
        SettlingNumber::Celsius => (tr!("A water temperature"), " °C"),
        SettlingNumber::FallMm => (tr!("A height of water"), " mm"),
        SettlingNumber::SizeUm => (tr!("A grain size"), " µm"),
        SettlingNumber::Seconds => (tr!("A time"), " s"),
    };
    outside(name, value, low, high, unit)
}

/// A fault of the jar.
pub fn jar_fault_text(fault: &JarFault) -> String {
    match *fault {
        JarFault::Outside {
            which,
            value_mm,
            low_mm,
            high_mm,
        } => {
            let name = match which {
                JarHeight::Sand => tr!("A sand height"),
                JarHeight::Silt => tr!("A silt height"),
                JarHeight::Clay => tr!("A clay height"),
                JarHeight::Total => tr!("A total height"),
            };
            outside(name, value_mm, low_mm, high_mm, " mm")
        }
        JarFault::Empty => {
            tr!("There is no soil in the jar: some height must be more than 0.").into()
        }
        JarFault::LayersDoNotAddUp { sum, total } => say!(
            "The layers sum to {} mm and the whole was measured as {} mm. They should agree within 5 %: measure again.",
            significant(sum, 3),
            significant(total, 3)
        ),
        JarFault::MarkFalls {
            which,
            mark_mm,
            before_mm,
        } => {
            let name = match which {
                JarHeight::Sand => tr!("after the sand"),
                JarHeight::Silt => tr!("after the silt"),
                JarHeight::Clay | JarHeight::Total => tr!("at the end"),
            };
            say!(
                "The mark {}, {} mm, lies below the one before it, {} mm. Soil only piles up: measure all marks from the bottom of the jar.",
                name,
                significant(mark_mm, 3),
                significant(before_mm, 3)
            )
        }
    }
}

/// A fault of the can.
pub fn can_fault_text(fault: &CanFault) -> String {
    let grams = |value: f64| format!("{} g", significant(value, 4));
    match *fault {
        CanFault::Outside {
            which,
            value,
            low,
            high,
        } => {
            let (name, unit) = match which {
                CanNumber::VolumeCm3 => (tr!("A volume"), " cm³"),
                CanNumber::DiameterCm => (tr!("An inner diameter"), " cm"),
                CanNumber::HeightCm => (tr!("A height"), " cm"),
                CanNumber::CanG => (tr!("An empty can"), " g"),
                CanNumber::MoistGrossG => (tr!("A can with moist soil"), " g"),
                CanNumber::DryGrossG => (tr!("A can with dry soil"), " g"),
                CanNumber::WaterPerDryPct => (tr!("A moisture"), tr!(" % of the dry mass")),
            };
            outside(name, value, low, high, unit)
        }
        CanFault::NoVolume => tr!("The can needs a volume of more than 0.").into(),
        CanFault::NoSoil {
            which,
            gross_g,
            can_g,
        } => {
            let soil = if which == CanNumber::DryGrossG {
                tr!("dry soil")
            } else {
                tr!("moist soil")
            };
            say!(
                "The can with its {} weighs {}, no more than the empty can, {}. Weigh the soil with the can.",
                soil,
                grams(gross_g),
                grams(can_g)
            )
        }
        CanFault::DryAboveMoist {
            dry_gross_g,
            moist_gross_g,
        } => say!(
            "Dried, the can weighs {}, more than moist, {}. Are the two mixed up?",
            grams(dry_gross_g),
            grams(moist_gross_g)
        ),
        CanFault::DensityOutside {
            density_kg_m3,
            low_kg_m3,
            high_kg_m3,
        } => say!(
            "This comes to {} kg/m³; soils lie from {} to {}. Check the size of the can and the weights.",
            significant(density_kg_m3, 3),
            bound(low_kg_m3),
            bound(high_kg_m3)
        ),
        CanFault::WaterOutside {
            water_per_dry_pct,
            low_pct,
            high_pct,
        } => say!(
            "This comes to water of {} % of the dry mass; it goes from {} to {}. Check the weights.",
            significant(water_per_dry_pct, 3),
            bound(low_pct),
            bound(high_pct)
        ),
    }
}
