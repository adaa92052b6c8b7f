//! What a trial shows, in plain words: never stars, and never a chance in place of a size.

use super::super::{fixed, significant};
use crate::trial::analysis::{
    Analysis, Comparison, Group, Judged, Method, More, Note, Refused, Scale,
};
use crate::trial::compare::Blocking;
use crate::trial::permute::Permutation;
use crate::trial::power::{Design, Plan, USUAL_POWER, alike_apart, best_by_luck, log_spread};
use crate::trial::verdict::{NoVerdict, Verdict};

/// What every verdict is followed by.
pub const RANGE_COVERS: &str = "The range covers chance between containers, for all comparisons together, in 95 of 100 such trials. It does not cover a recipe that was weighed wrong, nor another season, site or clay; and containers are not beds.";

/// More blocks than this are told as more than anyone would grow (a choice).
const MANY_MORE: u32 = 60;
/// Blocks that saved less than so many percent of the containers were worth nothing (a choice).
const WORTH_PCT: f64 = 5.0;

/// A share in percent, with one decimal where it is small.
fn share(value: f64) -> String {
    let pct = 100.0 * value;
    if !pct.is_finite() {
        return "any amount".into();
    }
    if pct > 0.0 && pct < 0.05 {
        return "under 0.1 %".into();
    }
    let tenths = (10.0 * pct.abs()).round();
    let decimals = usize::from(tenths < 100.0 && tenths % 10.0 != 0.0);
    fixed(pct, decimals) + " %"
}

/// A gain above no difference, or a loss below it, by its ratio or in its unit.
fn gain(judged: &Judged, value: f64, unit: &str) -> String {
    if judged.is_ratio {
        share((value - 1.0).abs())
    } else {
        amount(value.abs(), unit)
    }
}

fn amount(value: f64, unit: &str) -> String {
    let number = significant(value, 3);
    if unit.is_empty() {
        number
    } else {
        [&number, " ", unit].concat()
    }
}

/// A verdict in words; `unit` is that of the measure.
pub fn verdict_text(judged: &Judged, design: Design, unit: &str) -> String {
    let matters = if judged.is_ratio {
        share(judged.matters)
    } else {
        amount(judged.matters, unit)
    };
    let [low, high] = judged.range.map(|value| gain(judged, value, unit));
    match judged.verdict {
        Verdict::HelpedAtLeast => ["Helped, by at least ", &matters, "."].concat(),
        Verdict::HelpedLess => [
            "Helped, but by less than what you said matters (",
            &matters,
            ").",
        ]
        .concat(),
        Verdict::HelpedUncertain => [
            "Helped; how much is uncertain: between ",
            &low,
            " and ",
            &high,
            ".",
        ]
        .concat(),
        Verdict::NoDifference => "No difference that matters, either way.".into(),
        Verdict::HarmedAtLeast => ["Harmed, by at least about ", &matters, "."].concat(),
        Verdict::HarmedLess => [
            "Harmed, but by less than what you said matters (",
            &matters,
            ").",
        ]
        .concat(),
        Verdict::HarmedUncertain => [
            "Harmed; how much is uncertain: between ",
            &high,
            " and ",
            &low,
            ".",
        ]
        .concat(),
        Verdict::CannotTell => [
            "Cannot tell: this trial could not separate a gain of ",
            &high,
            " from a loss of ",
            &low,
            ".",
            &more_text(judged.more, design),
        ]
        .concat(),
    }
}

fn more_text(more: Option<More>, design: Design) -> String {
    let what = match design {
        Design::Random => ["container of each", "containers of each"],
        Design::Blocks | Design::Square => ["block", "blocks"],
    };
    match more {
        Some(More::About(1)) => [" About 1 more ", what[0], " would."].concat(),
        Some(More::About(more)) if more <= MANY_MORE => [
            " About ",
            &fixed(more.into(), 0),
            " more ",
            what[1],
            " would.",
        ]
        .concat(),
        Some(More::About(_) | More::Beyond) => [
            " More ",
            what[1],
            " than anyone would grow would be needed.",
        ]
        .concat(),
        Some(More::Enough) => [
            " It was large enough to find what matters in four of five such trials; more ",
            what[1],
            " narrow the range.",
        ]
        .concat(),
        None => String::new(),
    }
}

/// Why there is no verdict.
pub fn no_verdict_text(why: NoVerdict) -> &'static str {
    match why {
        NoVerdict::OneContainer => {
            "No verdict from one container each. With one container of each you can see that they differ, but not why. In a row of identical untouched containers a gap this size would be ordinary."
        }
        NoVerdict::NoDegrees => {
            "No verdict: nothing here tells how far containers treated alike lie apart."
        }
        NoVerdict::NoSpread => {
            "No verdict: containers treated alike read exactly the same, so nothing tells chance. Read with more digits, or check the entries."
        }
        NoVerdict::Lost => "No verdict: every container of it was lost.",
        NoVerdict::NoControl => "No verdict: every container of the control was lost.",
        NoVerdict::Apart => "No verdict: it never stood in a block with what leads to the control.",
        NoVerdict::Score => {
            "Scores have an order and no sizes, so no percentages: look at the dots, the middle scores and the shuffles."
        }
        NoVerdict::Limits => {
            "Some readings are limits alone, which are never averaged: look at the dots, the middle readings and the shuffles."
        }
        NoVerdict::ControlNotAboveZero => {
            "No verdict: the control is not above zero, so there is no percentage of it."
        }
        NoVerdict::NothingMatters => {
            "No verdict: first say what difference would matter, above zero."
        }
    }
}

/// A comparison with its range; what was chosen as mattering does not change it.
pub fn comparison_text(row: &Comparison, analysis: &Analysis, unit: &str) -> String {
    let told = |ratio: f64| {
        if ratio >= 1.0 {
            share(ratio - 1.0) + " more"
        } else {
            share(1.0 - ratio) + " less"
        }
    };
    let size = match (row.ratio, row.difference) {
        (Some(ratio), _) => told(ratio) + " than the control",
        (None, Some(difference)) if analysis.scale == Scale::Raw => signed(difference, unit),
        _ => return String::new(),
    };
    let range = match (row.ratio_range, row.range) {
        (Some([low, high]), _) => [&told(low), " to ", &told(high)].concat(),
        (None, Some([low, high])) => [&signed(low, unit), " to ", &signed(high, unit)].concat(),
        _ => return size + "; no range",
    };
    let how = match row.method {
        Method::Together => "",
        Method::Apart => ", by the spreads of these two",
    };
    [&size, " (", &range, how, ")"].concat()
}

fn signed(value: f64, unit: &str) -> String {
    let sign = if value < 0.0 { "−" } else { "+" };
    [sign, &amount(value.abs(), unit)].concat()
}

/// Number, mean or middle, and range of a treatment.
pub fn treatment_text(group: &Group, unit: &str) -> String {
    let count = match group.count {
        0 => return "no container left".into(),
        1 => "1 container".into(),
        count => fixed(count as f64, 0) + " containers",
    };
    let Some(own) = group.own else {
        let middle = match group.median {
            Some(median) => ["middle ", &amount(median, unit)].concat(),
            None => "the middle one is a limit alone".into(),
        };
        return [&count, ", ", &middle].concat();
    };
    let mut out = [&count, ", mean ", &amount(own.mean, unit)].concat();
    if let Some([low, high]) = own.range {
        out += &[
            " (",
            &significant(low, 3),
            " to ",
            &significant(high, 3),
            ")",
        ]
        .concat();
    }
    if let Some(cv) = group.cv {
        out += &[", spread ", &share(cv)].concat();
    }
    out
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
        [
            "all ",
            &count,
            " ways in which the treatments could have stood",
        ]
        .concat()
    } else {
        [&count, " shuffles of the treatments"].concat()
    };
    let share = if p < 0.001 {
        "fewer than 1 in 1000".into()
    } else {
        fixed(100.0 * p, 1) + " in 100"
    };
    ["Of ", &what, ", ", &share, " differ as much."].concat()
}

/// What a plan can find, by the spread that is expected; shares of the control. A measure that is
/// compared by logarithms is planned by them.
pub fn plan_text(plan: &Plan, scale: Scale, spread: f64, difference: f64) -> String {
    let each = match plan.design {
        Design::Random => "containers of each",
        Design::Blocks => "blocks",
        Design::Square => "rows and columns",
    };
    let (found, least) = if scale == Scale::Log {
        let spread = log_spread(spread);
        let least = plan.smallest_found(spread, USUAL_POWER);
        (
            plan.power(libm::log1p(difference), spread),
            least.map(libm::expm1),
        )
    } else {
        let least = plan.smallest_found(spread, USUAL_POWER);
        (plan.power(difference, spread), least)
    };
    match (found, least) {
        (Some(found), Some(least)) => [
            "With ",
            &fixed(plan.each.into(), 0),
            " ",
            each,
            " and a spread of ",
            &share(spread),
            " between containers treated alike, a true difference of ",
            &share(difference),
            " is found in ",
            &fixed(100.0 * found, 0),
            " of 100 such trials; what four of five find is ",
            &share(least),
            " or more.",
        ]
        .concat(),
        _ => no_verdict_text(NoVerdict::OneContainer).into(),
    }
}

/// What luck alone does with one container of each, by the usual spread.
pub fn one_container_text(treatments: u32, spread: f64, difference: f64) -> String {
    let luck = best_by_luck(treatments, difference / spread);
    [
        no_verdict_text(NoVerdict::OneContainer),
        " Two containers treated alike differ by up to ",
        &share(alike_apart(spread)),
        " where the spread is ",
        &share(spread),
        "; if nothing here did anything, the best would still beat the control by ",
        &share(difference),
        " or more in ",
        &fixed(100.0 * luck, 0),
        " of 100 such rows.",
    ]
    .concat()
}

/// What blocks were worth.
pub fn blocking_text(blocking: &Blocking) -> String {
    let pct = 100.0 * (blocking.adjusted - 1.0);
    if pct >= WORTH_PCT {
        let pct = fixed(pct, 0);
        [
            "Blocks were worth it: without them you would have needed ",
            &pct,
            " % more containers.",
        ]
        .concat()
    } else {
        "Blocks were worth nothing this time: containers differed no more between blocks than within."
            .into()
    }
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
            count(*lost, "container was lost", "containers were lost")
                + " and is left out, not counted as nothing. One that died of what was added is a result: enter what it yielded."
        }
        Note::Limits(limits) => {
            count(*limits, "reading is a limit", "readings are limits")
                + " alone: shuffles take it as the farthest, and nothing is averaged."
        }
        Note::ZeroHasNoLogarithm => {
            "Some containers yielded nothing, so differences are of plain means, not of ratios container by container. What died is told as such.".into()
        }
        Note::NegativeHasNoLogarithm => {
            "Some readings are below zero, so differences are of plain means.".into()
        }
        Note::OneMore => "Counts hold zeros: percentages are of one more than was counted.".into(),
        Note::ControlTakenAsExact => {
            "Percentages take the mean of the control as exact.".into()
        }
        Note::Few(degrees) => {
            [
                "Few containers: the spread rests on ",
                &count(*degrees, "degree of freedom", "degrees of freedom"),
                ", and ranges are wide.",
            ]
            .concat()
        }
        Note::Approximate => "Blocks are not complete, so ranges are approximate.".into(),
        Note::SpreadsDiffer(ratio) => [
            "The widest spread is ",
            &fixed(*ratio, 0),
            " times the narrowest, so each pair is compared by its own spreads.",
        ]
        .concat(),
    }
}

/// Why a measure is not read; `place` is where a reading stands, such as its row.
pub fn refused_text(refused: Refused, place: impl Fn(usize) -> String) -> String {
    match refused {
        Refused::NoReadings => "No container was read.".into(),
        Refused::NoSuchTreatment(at) => place(at) + ": there is no such treatment.",
        Refused::NoSuchControl => "The control is none of the treatments.".into(),
        Refused::NoPlace(at) => place(at) + ": it does not say where it stands.",
        Refused::NotFinite(at) => place(at) + ": the value is too large.",
        Refused::TooLarge => "So many treatments and blocks are too many for one trial.".into(),
    }
}
