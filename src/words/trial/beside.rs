//! Sizes with their ranges, notes and faults of a trial.

use super::super::{fixed, significant};
use super::plan::way_name;
use super::verdict::{amount_at, middle_text, share, size_at};
use crate::trial::analysis::{Analysis, Comparison, Group, Method, Note, Refused, Scale};
use crate::trial::guessed::{Guessed, Held};
use crate::trial::permute::Permutation;
use crate::trial::plan::Way;
use crate::trial::seen::Differences;

/// A comparison with its range; what was chosen as mattering does not change it.
pub fn comparison_text(row: &Comparison, analysis: &Analysis, unit: &str) -> String {
    let told = |ratio: f64| {
        if ratio >= 1.0 {
            share(ratio - 1.0) + tr!(" more")
        } else {
            share(1.0 - ratio) + tr!(" less")
        }
    };
    let size = match (row.ratio, row.difference) {
        (Some(ratio), _) => told(ratio) + tr!(" than the control"),
        (None, Some(difference)) if analysis.scale == Scale::Raw => signed(difference, unit),
        _ => return String::new(),
    };
    let range = match (row.ratio_range, row.range) {
        (Some([low, high]), _) => say!("{} to {}", told(low), told(high)),
        (None, Some([low, high])) => say!("{} to {}", signed(low, unit), signed(high, unit)),
        _ => return size + tr!("; no range"),
    };
    let how = match row.method {
        Method::Together => "",
        Method::Apart => tr!(", by the spreads of these two"),
    };
    [&size, " (", &range, how, ")"].concat()
}

fn signed(value: f64, unit: &str) -> String {
    let sign = if value < 0.0 { "−" } else { "+" };
    [sign, &amount_at(value.abs(), unit, None)].concat()
}

/// What was read, or a mean of it: to the decimals of the instrument, but to two figures at the
/// least, since a mean of several is known better than one of them.
pub(super) fn reading_at(value: f64, decimals: Option<usize>) -> String {
    // Nothing has no figures to count.
    if value == 0.0 {
        return "0".into();
    }
    let Some(decimals) = decimals.filter(|_| value.abs() < 100.0) else {
        return significant(value, 3);
    };
    let figures = |count: i32| {
        let power = libm::floor(libm::log10(value.abs().max(1e-9))) as i32;
        usize::try_from(count - 1 - power).unwrap_or(0)
    };
    fixed(value, figures(3).min(figures(2).max(decimals)))
}

/// A number as text with its unit.
pub(super) fn with_unit(number: &str, unit: &str) -> String {
    if unit.is_empty() {
        number.to_owned()
    } else {
        [number, " ", unit].concat()
    }
}

/// A difference with its range: percent of the control, or in a unit to so many decimals.
pub fn size_text(
    estimate: f64,
    range: Option<[f64; 2]>,
    in_percent: bool,
    unit: &str,
    decimals: Option<usize>,
) -> String {
    let unit = if in_percent { "%" } else { unit };
    let signed = |value: f64| {
        let size = if in_percent {
            // Below one percent a tenth tells on which side of nothing it is.
            fixed(value.abs(), usize::from(value.abs() < 1.0 && value != 0.0))
        } else {
            size_at(value.abs(), decimals)
        };
        [sign_of(value), &size].concat()
    };
    let of_unit = if unit.is_empty() {
        String::new()
    } else {
        [" ", unit].concat()
    };
    match range {
        Some([low, high]) => say!(
            "{}{} ({} to {})",
            signed(estimate),
            of_unit,
            signed(low),
            signed(high)
        ),
        None => say!("{}{}, no range", signed(estimate), of_unit),
    }
}

/// The sign of a difference.
fn sign_of(value: f64) -> &'static str {
    if value < 0.0 { "−" } else { "+" }
}

/// Both ends of what does not matter, as they are drawn; empty where nothing is judged. Of ratios
/// they are not alike: a loss is the gain undone.
pub fn band_ends_text(differences: &Differences, unit: &str) -> String {
    let Some(band) = differences.band else {
        return String::new();
    };
    let end = |value: f64| {
        let size = if differences.in_percent {
            share(value.abs() / 100.0)
        } else {
            amount_at(value.abs(), unit, Some(differences.decimals))
        };
        [sign_of(value), &size].concat()
    };
    let [low, high] = band.map(end);
    say!("{} to {}", low, high)
}

/// Number, mean or middle, and range of a treatment.
pub fn treatment_text(group: &Group, unit: &str) -> String {
    treatment_text_at(group, unit, None)
}

/// The same to so many decimals, where the instrument gives no more.
pub fn treatment_text_at(group: &Group, unit: &str, decimals: Option<usize>) -> String {
    let reading = |value: f64| reading_at(value, decimals);
    let count = match group.count {
        0 => return tr!("none read").into(),
        1 => tr!("1 container").into(),
        count => fixed(count as f64, 0) + tr!(" containers"),
    };
    let Some(own) = group.own else {
        let middle = match group.median {
            Some(median) => say!("middle {}", with_unit(&middle_text(median), unit)),
            None => tr!("the middle one is a limit alone").into(),
        };
        return [&count, ", ", &middle].concat();
    };
    let mut out = say!("{}, mean {}", count, with_unit(&reading(own.mean), unit));
    if let Some([low, high]) = own.range {
        out += &say!(" ({} to {})", reading(low), reading(high));
    }
    if let Some(cv) = group.cv {
        out += &say!(", spread {}", share(cv));
    }
    out
}

/// A guess beside what happened; `unit` is that of the measure's differences.
pub fn guessed_text(of: &Guessed, unit: &str) -> String {
    let by = of.guess.by_pct.filter(|by| *by > 0.0);
    let by = by
        .filter(|_| of.guess.way != Way::Same)
        .map(|by| share(by / 100.0));
    let mut out = say!("You guessed {}", way_name(of.guess.way));
    if let Some(by) = &by {
        out += &say!(", by about {}", by);
    }
    let came = match (of.estimate, of.middles) {
        (Some(estimate), _) => say!(
            "it came out {}",
            size_text(estimate, of.range, of.in_percent, unit, Some(of.decimals))
        ),
        (None, Some([own, control])) => {
            let [own, control] = [own, control].map(middle_text);
            say!("the middle is {} against {}", own, control)
        }
        (None, None) => return out + tr!(". What came of it is not known."),
    };
    let held = match (of.held, of.guess.way) {
        (Held::Right, Way::Same) => tr!(": as you guessed"),
        (Held::Right, _) => tr!(": the way you guessed"),
        (Held::OtherWay, _) => tr!(": the other way"),
        (Held::Nothing, _) => tr!(": no difference that matters"),
        (Held::Something, _) => tr!(": a difference that matters"),
        (Held::Open, _) => tr!(": this trial cannot tell"),
        (Held::NoRange, _) => tr!("; without a range nothing is told"),
    };
    out += &["; ", &came, held].concat();
    let amount = by.zip(of.by_held);
    if let Some((by, holds)) = amount.filter(|_| matches!(of.held, Held::Right | Held::Open)) {
        out += &match (of.held, holds) {
            (Held::Right, true) => say!(", and {} lies in the range", by),
            (_, true) => say!(", but {} lies in the range", by),
            (_, false) => say!(", and {} lies outside of the range", by),
        };
    }
    out + "."
}

/// A chance: three decimals, and no more than is known.
pub fn chance_text(p: f64) -> String {
    if p < 0.001 {
        "< 0.001".into()
    } else {
        fixed(p, 3)
    }
}

/// What shuffles came to, where all were gone through.
pub fn permutation_text(all: &Permutation, p: f64) -> String {
    let count = fixed(all.len() as f64, 0);
    let what = if all.is_exact() {
        say!(
            "all {} ways in which the treatments could have stood",
            count
        )
    } else {
        say!("{} shuffles of the treatments", count)
    };
    let share = if p < 0.001 {
        tr!("fewer than 1 in 1000").into()
    } else {
        fixed(100.0 * p, 1) + tr!(" in 100")
    };
    say!("Of {}, {} differ as much.", what, share)
}

/// What must be said beside the figures.
pub fn note_text(note: &Note) -> String {
    let count = |count: usize, one: &str, many: &str| {
        if count == 1 {
            ["1 ", one].concat()
        } else {
            [&fixed(count as f64, 0), " ", many].concat()
        }
    };
    match note {
        Note::Lost(lost) => {
            count(
                *lost,
                tr!("container was lost and is left out"),
                tr!("containers were lost and are left out"),
            ) + tr!(", not counted as nothing. One that died of what was added is a result: enter what it yielded.")
        }
        Note::NotRead(unread) => {
            count(
                *unread,
                tr!("container is not measured yet and is left out."),
                tr!("containers are not measured yet and are left out."),
            )
        }
        Note::SaidLate => {
            tr!("What difference matters was said after this was measured, so these verdicts were not settled beforehand.").into()
        }
        Note::Limits(limits) => {
            count(*limits, tr!("reading is a limit"), tr!("readings are limits"))
                + tr!(" alone: shuffles take it as the farthest, and nothing is averaged.")
        }
        Note::ZeroHasNoLogarithm => {
            tr!("Some containers yielded nothing, so differences are of plain means, not of ratios container by container. What died is told as such.").into()
        }
        Note::NegativeHasNoLogarithm => {
            tr!("Some readings are below zero, so differences are of plain means.").into()
        }
        Note::OneMore => tr!("Some counted nothing: means are by logarithms of one more than was counted.").into(),
        Note::ControlTakenAsExact => {
            tr!("Percentages take the mean of the control as exact.").into()
        }
        Note::Few(degrees) => {
            say!("Few containers: the spread rests on {}, and ranges are wide.", count(*degrees, tr!("degree of freedom"), tr!("degrees of freedom")))
        }
        Note::Approximate => tr!("Blocks are not complete, so ranges are approximate.").into(),
        Note::SpreadsDiffer(ratio) => say!("The widest spread is {} times the narrowest, so each pair is compared by its own spreads.", fixed(*ratio, 0)),
    }
}

/// Why a measure is not read; `place` is where a reading stands, such as its row.
pub fn refused_text(refused: Refused, place: impl Fn(usize) -> String) -> String {
    match refused {
        Refused::NoReadings => tr!("No container was read.").into(),
        Refused::NoSuchTreatment(at) => place(at) + tr!(": there is no such treatment."),
        Refused::NoSuchControl => tr!("The control is none of the treatments.").into(),
        Refused::NoPlace(at) => place(at) + tr!(": it does not say where it stands."),
        Refused::NotFinite(at) => place(at) + tr!(": the value is too large."),
        Refused::TooLarge => {
            tr!("So many treatments and blocks are too many for one trial.").into()
        }
    }
}
