//! What a trial shows, in plain words: never stars, and never a chance in place of a size.

use super::super::{fixed, shown, significant};
use crate::quantity::round_significant;
use crate::tongue::Saying;
use crate::trial::analysis::{Analysis, Judged, More, Scale};
use crate::trial::compare::Blocking;
use crate::trial::limits::Limits;
use crate::trial::power::{Design, Plan, USUAL_POWER, alike_apart, best_by_luck, log_spread};
use crate::trial::verdict::{Good, NoVerdict, Verdict};

/// What every verdict is followed by.
pub const RANGE_COVERS: Saying = said!(
    "The range covers chance between containers, for all comparisons together, in 95 of 100 such trials. It does not cover a recipe that was weighed wrong, nor another season, site or clay; and containers are not beds."
);

/// More blocks than this are told as more than anyone would grow (a choice).
const MANY_MORE: u32 = 60;
/// Blocks that saved less than so many percent of the containers were worth nothing (a choice).
const WORTH_PCT: f64 = 5.0;

/// A share in percent, with one decimal where it is small.
pub(super) fn share(value: f64) -> String {
    let pct = 100.0 * value;
    if !pct.is_finite() {
        return tr!("any amount").into();
    }
    if pct > 0.0 && pct < 0.05 {
        return tr!("under 0.1 %").into();
    }
    let tenths = (10.0 * pct.abs()).round();
    let decimals = usize::from(tenths < 100.0 && tenths % 10.0 != 0.0);
    fixed(pct, decimals) + " %"
}

/// How far a ratio lies from one, or a difference from nothing in its unit.
fn size(judged: &Judged, value: f64, unit: &str, decimals: Option<usize>) -> String {
    if judged.is_ratio {
        share((value - 1.0).abs())
    } else {
        amount_at(value.abs(), unit, decimals)
    }
}

/// A middle reading or score: as it was read, without digits that nobody read.
pub(super) fn middle_text(value: f64) -> String {
    shown(round_significant(value, 3))
}

/// A difference to so many decimals, as far as they are small.
pub(super) fn size_at(value: f64, decimals: Option<usize>) -> String {
    match decimals.filter(|_| value.abs() < 1000.0) {
        Some(decimals) => fixed(value, decimals),
        None => significant(value, 3),
    }
}

/// A number with its unit.
pub(super) fn amount(value: f64, unit: &str) -> String {
    amount_at(value, unit, None)
}

/// The same to so many decimals.
pub(super) fn amount_at(value: f64, unit: &str, decimals: Option<usize>) -> String {
    let number = size_at(value, decimals);
    if unit.is_empty() {
        number
    } else {
        [&number, " ", unit].concat()
    }
}

/// A verdict in words; `unit` is that of the measure.
pub fn verdict_text(judged: &Judged, design: Design, unit: &str) -> String {
    verdict_text_at(judged, design, unit, None)
}

/// The same to the decimals of the instrument, where differences are in its unit.
pub fn verdict_text_at(
    judged: &Judged,
    design: Design,
    unit: &str,
    decimals: Option<usize>,
) -> String {
    let text = |value: f64| size(judged, value, unit, decimals);
    // As it was measured: a third of the minutes is two thirds less, whatever it gains.
    let is_less = judged.good == Good::Less;
    let plain = |range: [f64; 2]| {
        let [one, other] = judged.plain(range);
        let in_order = if is_less { [other, one] } else { [one, other] };
        in_order.map(text)
    };
    let [low, high] = plain(judged.range);
    let said = if judged.is_ratio {
        share(judged.matters)
    } else {
        amount_at(judged.matters, unit, decimals)
    };
    let (matters, helps, harms) = if is_less && judged.is_ratio {
        let [harms, helps] = plain([judged.band.worse, judged.band.better]);
        (tr!("matters"), helps, harms)
    } else {
        (tr!("you said matters"), said.clone(), said)
    };
    match judged.verdict {
        Verdict::HelpedAtLeast => say!("Helped, by at least {}.", helps),
        Verdict::HelpedLess => say!("Helped, but by less than what {} ({}).", matters, helps),
        Verdict::HelpedUncertain => say!(
            "Helped; how much is uncertain: between {} and {}.",
            low,
            high
        ),
        Verdict::NoDifference => tr!("No difference that matters, either way.").into(),
        Verdict::HarmedAtLeast => say!("Harmed, by at least about {}.", harms),
        Verdict::HarmedLess => say!("Harmed, but by less than what {} ({}).", matters, harms),
        Verdict::HarmedUncertain => say!(
            "Harmed; how much is uncertain: between {} and {}.",
            high,
            low
        ),
        Verdict::CannotTell => say!(
            "Cannot tell: this trial could not separate {}{}{}{}.{}",
            if is_less {
                tr!("a fall of ")
            } else {
                tr!("a gain of ")
            },
            high,
            if is_less {
                tr!(" from a rise of ")
            } else {
                tr!(" from a loss of ")
            },
            low,
            more_text(judged.more, design)
        ),
    }
}

fn more_text(more: Option<More>, design: Design) -> String {
    let what = match design {
        Design::Random => [tr!("container of each"), tr!("containers of each")],
        Design::Blocks | Design::Latin => [tr!("block"), tr!("blocks")],
    };
    match more {
        Some(More::About(1)) => say!(" About 1 more {} would tell.", what[0]),
        Some(More::About(more)) if more <= MANY_MORE => say!(
            " About {} more {} would tell.",
            fixed(more.into(), 0),
            what[1]
        ),
        Some(More::About(_) | More::Beyond) => {
            say!(" More {} than anyone would grow would be needed.", what[1])
        }
        Some(More::Enough) => say!(
            " It was large enough to find what matters in four of five such trials; more {} narrow the range.",
            what[1]
        ),
        None => String::new(),
    }
}

/// Why there is no verdict.
pub fn no_verdict_text(why: NoVerdict) -> &'static str {
    match why {
        NoVerdict::OneContainer => {
            tr!(
                "No verdict from one container each. With one container of each you can see that they differ, but not why. In a row of identical untouched containers a gap this size would be ordinary."
            )
        }
        NoVerdict::NoDegrees => {
            tr!("No verdict: nothing here tells how far containers treated alike lie apart.")
        }
        NoVerdict::NoSpread => {
            tr!(
                "No verdict: containers treated alike read exactly the same, so nothing tells chance. Read with more digits, or check the entries."
            )
        }
        NoVerdict::AllNothing => {
            tr!(
                "No verdict: every container read 0, of the control too, so there is nothing to compare. If all of them died, that is what the trial shows."
            )
        }
        NoVerdict::NotSown => {
            tr!(
                "No verdict: say under Plan how many seeds were sown in each container. What matters is a share of those sown."
            )
        }
        NoVerdict::NotRead => tr!("No verdict: no container of it is measured yet."),
        NoVerdict::ControlNotRead => {
            tr!("No verdict: no container of the control is measured yet.")
        }
        NoVerdict::Lost => tr!("No verdict: every container of it was lost."),
        NoVerdict::NoControl => tr!("No verdict: every container of the control was lost."),
        NoVerdict::Apart => {
            tr!("No verdict: it never stood in a block with what leads to the control.")
        }
        NoVerdict::Score => {
            tr!(
                "Scores have an order and no sizes, so no percentages: look at the dots, the middle scores and the shuffles. All treatments are shuffled together, so where one of them differs much, the chances of the others come out too high."
            )
        }
        NoVerdict::Limits => {
            tr!(
                "Some readings are limits alone, which are never averaged: look at the dots, the middle readings and the shuffles. All treatments are shuffled together, so where one of them differs much, the chances of the others come out too high."
            )
        }
        NoVerdict::ControlNotAboveZero => {
            tr!("No verdict: the control is not above zero, so there is no percentage of it.")
        }
        NoVerdict::NothingMatters => {
            tr!("No verdict: first say what difference would matter, above zero.")
        }
    }
}

/// A verdict of what is neither good nor bad, or of a control: which way it went, and nothing of help.
/// What is good of less "helped" where less of it came out.
pub fn without_praise(text: &str, good: Good, neither: bool) -> String {
    let [helped, harmed] = match good {
        Good::Less => [tr!("Came out less"), tr!("Came out more")],
        Good::More if neither => [tr!("Higher"), tr!("Lower")],
        Good::More => [tr!("Came out more"), tr!("Came out less")],
    };
    let [gain, loss] = match good {
        Good::Less => [tr!("a fall of"), tr!("a rise of")],
        Good::More => [tr!("a rise of"), tr!("a fall of")],
    };
    let words = [
        (tr!("Helped"), helped),
        (tr!("Harmed"), harmed),
        (tr!("a gain of"), gain),
        (tr!("a loss of"), loss),
    ];
    words
        .iter()
        .fold(text.to_owned(), |text, (from, to)| text.replace(from, to))
}

/// What is to be said once of a measure, above its treatments, where the same keeps all of them from
/// a verdict.
pub fn said_once(analysis: &Analysis) -> Option<&'static str> {
    let mut rows = analysis.comparisons.iter();
    let first = rows.next()?.verdict.as_ref().err()?;
    let same = rows.all(|row| row.verdict.as_ref().err() == Some(first));
    same.then(|| no_verdict_text(*first))
}

/// What is left to say of one treatment where that is said: of scores and limits the middle ones and
/// how often shuffles part them as far, else that there is no verdict.
pub fn row_text(
    analysis: &Analysis,
    treatment: usize,
    control: usize,
    shuffled: Option<f64>,
) -> String {
    let mut rows = analysis.comparisons.iter();
    let row = rows.find(|row| row.treatment == treatment);
    let why = row.and_then(|row| row.verdict.as_ref().err());
    if !matches!(why, Some(NoVerdict::Score | NoVerdict::Limits)) {
        return tr!("No verdict.").into();
    }
    let middle = |of: usize| {
        let group = analysis.groups.get(of);
        let median = group.and_then(|group| group.median);
        match (median, group.map_or(0, |group| group.count)) {
            (_, 0) => tr!("none").into(),
            (Some(median), _) => middle_text(median),
            (None, _) => tr!("one beyond").into(),
        }
    };
    let shuffled = shuffled.map_or(String::new(), |p| {
        let hundred = 100.0 * p;
        let often = if hundred < 1.0 {
            tr!("fewer than 1 of 100").into()
        } else {
            say!("{} of 100", fixed(hundred, 0))
        };
        say!("; by shuffles such a gap comes in {}", often)
    });
    say!(
        "Middle {} against {}{}.",
        middle(treatment),
        middle(control),
        shuffled
    )
}

/// What a plan can find, by the spread that is expected; shares of the control. A measure that is
/// compared by logarithms is planned by them.
pub fn plan_text(plan: &Plan, scale: Scale, spread: f64, difference: f64) -> String {
    plan_text_by(&mut Limits::default(), plan, scale, spread, difference)
}

/// The same by limits that may be known, which a plan that is moved about needs.
pub fn plan_text_by(
    limits: &mut Limits,
    plan: &Plan,
    scale: Scale,
    spread: f64,
    difference: f64,
) -> String {
    let each = match plan.design {
        Design::Random => tr!("containers of each"),
        Design::Blocks => tr!("blocks"),
        Design::Latin => tr!("rows and columns"),
    };
    let (found, least) = if scale == Scale::Log {
        let spread = log_spread(spread);
        let least = plan.smallest_found_by(limits, spread, USUAL_POWER);
        (
            plan.power_by(limits, libm::log1p(difference), spread),
            least.map(libm::expm1),
        )
    } else {
        let least = plan.smallest_found_by(limits, spread, USUAL_POWER);
        (plan.power_by(limits, difference, spread), least)
    };
    match (found, least) {
        (Some(found), Some(least)) => say!(
            "With {} {} and a spread of {} between containers treated alike, a true difference of {} is found in {} of 100 such trials; what four of five find is {} or more.",
            fixed(plan.each.into(), 0),
            each,
            share(spread),
            share(difference),
            fixed(100.0 * found, 0),
            share(least)
        ),
        _ => no_verdict_text(NoVerdict::OneContainer).into(),
    }
}

/// What luck alone does with one container of each, by the usual spread.
pub fn one_container_text(treatments: u32, spread: f64, difference: f64) -> String {
    let luck = best_by_luck(treatments, difference / spread);
    say!(
        "{} Two containers treated alike differ by up to {} where the spread is {}; if nothing here did anything, the best would still beat the control by {} or more in {} of 100 such rows.",
        no_verdict_text(NoVerdict::OneContainer),
        share(alike_apart(spread)),
        share(spread),
        share(difference),
        fixed(100.0 * luck, 0)
    )
}

/// What blocks were worth.
pub fn blocking_text(blocking: &Blocking) -> String {
    let pct = 100.0 * (blocking.adjusted - 1.0);
    if pct >= WORTH_PCT {
        let pct = fixed(pct, 0);
        say!(
            "Blocks were worth it: without them you would have needed {} % more containers.",
            pct
        )
    } else {
        tr!("Blocks were worth nothing this time: containers differed no more between blocks than within.")
            .into()
    }
}
