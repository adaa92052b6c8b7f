#![cfg(not(target_arch = "wasm32"))]
//! What a trial is said to show: plain words, a size with each, never stars.

mod support;

use barrowmix::trial::analysis::{Judged, Limit, More, Note, Refused, Scale};
use barrowmix::trial::compare::{Blocking, worth_of_blocks};
use barrowmix::trial::fit::Fit;
use barrowmix::trial::power::{Design, Plan};
use barrowmix::trial::verdict::{Band, Good, NoVerdict, Verdict};
use barrowmix::words::{
    RANGE_COVERS, blocking_text, chance_text, comparison_text, no_verdict_text, note_text,
    one_container_text, plan_text, refused_text, treatment_text, verdict_text,
};
use support::trials::set;

fn judged(verdict: Verdict, range: [f64; 2]) -> Judged {
    Judged {
        verdict,
        range,
        is_ratio: true,
        matters: 0.2,
        band: Band::of_ratio(0.2).expect("a band"),
        good: Good::More,
        more: None,
    }
}

#[test]
fn verdicts_are_said_plainly() {
    for (verdict, range, text) in [
        (
            Verdict::HelpedAtLeast,
            [1.25, 1.57],
            "Helped, by at least 20 %.",
        ),
        (
            Verdict::HelpedLess,
            [1.02, 1.1],
            "Helped, but by less than what you said matters (20 %).",
        ),
        (
            Verdict::HelpedUncertain,
            [1.0007, 1.2586],
            "Helped; how much is uncertain: between 0.1 % and 26 %.",
        ),
        (
            Verdict::NoDifference,
            [0.9, 1.1],
            "No difference that matters, either way.",
        ),
        (
            Verdict::HarmedAtLeast,
            [0.5, 0.7],
            "Harmed, by at least about 20 %.",
        ),
        (
            Verdict::HarmedLess,
            [0.9, 0.95],
            "Harmed, but by less than what you said matters (20 %).",
        ),
        (
            Verdict::HarmedUncertain,
            [0.6, 0.95],
            "Harmed; how much is uncertain: between 5 % and 40 %.",
        ),
        (
            Verdict::CannotTell,
            [0.81, 1.05],
            "Cannot tell: this trial could not separate a gain of 5 % from a loss of 19 %.",
        ),
    ] {
        let told = verdict_text(&judged(verdict, range), Design::Blocks, "");
        assert_eq!(told, text, "{verdict:?}");
    }
    let mut open = judged(Verdict::CannotTell, [0.81, 1.1]);
    let told = |open: &Judged, design| verdict_text(open, design, "");
    for (more, design, end) in [
        (
            More::About(1),
            Design::Blocks,
            " About 1 more block would tell.",
        ),
        (
            More::About(5),
            Design::Blocks,
            " About 5 more blocks would tell.",
        ),
        (
            More::About(5),
            Design::Random,
            " About 5 more containers of each would tell.",
        ),
    ] {
        open.more = Some(more);
        let text = told(&open, design);
        assert!(text.ends_with(end), "{text}");
    }
    for more in [More::Enough, More::Beyond, More::About(1000)] {
        open.more = Some(more);
        assert!(told(&open, Design::Blocks).contains("blocks"), "{more:?}");
    }
    let density = Judged {
        verdict: Verdict::HelpedUncertain,
        range: [0.02, 0.14],
        is_ratio: false,
        matters: 0.1,
        band: Band::of_difference(0.1).expect("a band"),
        good: Good::More,
        more: None,
    };
    assert_eq!(
        verdict_text(&density, Design::Blocks, "g/cm³"),
        "Helped; how much is uncertain: between 0.0200 g/cm³ and 0.140 g/cm³.",
        "a difference in its unit"
    );
    // Minutes that water takes: −69 % to −36 % of them is told so, and not as what that gains.
    let faster = Judged {
        good: Good::Less,
        range: [1.0 / 0.64, 1.0 / 0.31],
        ..judged(Verdict::HelpedUncertain, [1.0; 2])
    };
    let minutes = |of: &Judged| verdict_text(of, Design::Blocks, "min");
    assert_eq!(
        minutes(&faster),
        "Helped; how much is uncertain: between 36 % and 69 %."
    );
    let open = Judged {
        verdict: Verdict::CannotTell,
        range: [1.0 / 1.24, 1.0 / 0.59],
        ..faster
    };
    let text = minutes(&open);
    assert!(
        text.contains("separate a fall of 41 % from a rise of 24 %"),
        "{text}"
    );
    let much = Judged {
        verdict: Verdict::HelpedAtLeast,
        ..faster
    };
    assert_eq!(
        minutes(&much),
        "Helped, by at least 17 %.",
        "1 - 1/1.2 of them"
    );
    let endless = judged(Verdict::HelpedUncertain, [1.1, f64::INFINITY]);
    let text = told(&endless, Design::Blocks);
    assert!(
        text.contains("any amount") && !text.contains("inf"),
        "{text}"
    );
}

/// The pair of data sets that one lost container turns: the same size, other words.
#[test]
fn one_lost_container_turns_the_words() {
    let text = |case| {
        let set = set(case);
        let analysis = set.analysed();
        let row = set.versus(&analysis, "biochar");
        let verdict = verdict_text(&row.verdict.expect("a verdict"), Design::Blocks, "g");
        (verdict, comparison_text(row, &analysis, "g"))
    };
    let (verdict, size) = text("synth_radish/ln");
    assert!(
        verdict.starts_with("Helped; how much is uncertain"),
        "{verdict}"
    );
    assert!(size.starts_with("12 % more than the control"), "{size}");
    let (verdict, size) = text("synth_radish_missing/ln");
    assert!(verdict.starts_with("Cannot tell"), "{verdict}");
    assert!(size.starts_with("12 % more than the control"), "{size}");
}

#[test]
fn one_container_is_refused_firmly() {
    let text = one_container_text(4, 0.2, 0.2);
    assert!(
        text.contains("you can see that they differ, but not why"),
        "{text}"
    );
    // 51 of 100 and 55 %, as computed elsewhere.
    assert!(
        text.contains("51 of 100") && text.contains("55 %"),
        "{text}"
    );
    let plan = Plan::even(Design::Blocks, 4, 1);
    let text = plan_text(&plan, Scale::Raw, 0.2, 0.2);
    assert!(
        text.starts_with("No verdict from one container each"),
        "{text}"
    );
}

#[test]
fn plans_are_told_by_what_they_find() {
    let plan = Plan::even(Design::Blocks, 4, 4);
    let text = plan_text(&plan, Scale::Raw, 0.2, 0.3);
    // Power 0.29, and 53 % with four of five, as computed elsewhere.
    assert!(
        text.contains("29 of 100") && text.contains("53 %"),
        "{text}"
    );
    let logs = plan_text(&plan, Scale::Log, 0.2, 0.3);
    assert!(logs.contains("of 100") && logs != text, "{logs}");
}

#[test]
fn blocks_are_told_by_what_they_saved() {
    let set = set("gomez_seedrate");
    let fit = Fit::of(Design::Blocks, &set.points(), 6, 0).expect("a fit");
    let text = blocking_text(&worth_of_blocks(&fit).expect("blocks"));
    assert!(text.contains("61 % more containers"), "{text}");
    let nothing = Blocking {
        efficiency: 1.0,
        adjusted: 0.9,
    };
    assert!(blocking_text(&nothing).contains("worth nothing"), "nothing");
}

#[test]
fn nothing_has_stars_or_bare_chances() {
    let mut texts: Vec<String> = vec![RANGE_COVERS.text().into()];
    for case in [
        "plantgrowth/ln",
        "lettuce/ln",
        "gomez_larvae/log10p1",
        "gomez_maize_latin/ln",
        "synth_infiltration_min/ln",
        "cochran_latin",
    ] {
        let mut set = set(case);
        for scale in [set.measure.scale, Scale::Score] {
            set.measure.scale = scale;
            let analysis = set.analysed();
            for row in &analysis.comparisons {
                texts.push(comparison_text(row, &analysis, "g"));
                texts.push(match &row.verdict {
                    Ok(judged) => verdict_text(judged, set.measure.design, "g"),
                    Err(why) => no_verdict_text(*why).into(),
                });
            }
            texts.extend(
                analysis
                    .groups
                    .iter()
                    .map(|group| treatment_text(group, "g")),
            );
        }
        set.readings[0].limit = Limit::Above;
        texts.extend(
            set.analysed()
                .groups
                .iter()
                .map(|group| treatment_text(group, "g")),
        );
    }
    for why in [
        NoVerdict::OneContainer,
        NoVerdict::NoDegrees,
        NoVerdict::NoSpread,
        NoVerdict::Lost,
        NoVerdict::NoControl,
        NoVerdict::Apart,
        NoVerdict::Score,
        NoVerdict::Limits,
        NoVerdict::ControlNotAboveZero,
        NoVerdict::NothingMatters,
    ] {
        texts.push(no_verdict_text(why).into());
    }
    for note in [
        Note::Lost(1),
        Note::Lost(3),
        Note::Limits(2),
        Note::ZeroHasNoLogarithm,
        Note::NegativeHasNoLogarithm,
        Note::OneMore,
        Note::ControlTakenAsExact,
        Note::Few(1),
        Note::Approximate,
        Note::SpreadsDiffer(4.0),
    ] {
        texts.push(note_text(&note));
    }
    for text in texts {
        assert!(
            !text.contains('*') && !text.contains("significant"),
            "{text}"
        );
        assert!(!text.contains("NaN") && !text.contains("inf "), "{text}");
        assert!(!text.contains(" p ") && !text.contains("  "), "{text}");
    }
    assert_eq!(chance_text(0.00049), "< 0.001", "no more than is known");
    assert_eq!(chance_text(0.0366), "0.037", "three decimals");
    let text = refused_text(Refused::NoPlace(4), |at| format!("row {}", at + 2));
    assert!(text.starts_with("row 6"), "{text}");
}
