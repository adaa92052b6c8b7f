#![cfg(not(target_arch = "wasm32"))]
//! What difference matters of every measure, and the user's guess beside what happened.

use barrowmix::quantity::Unit;
use barrowmix::recipe::{Amount, Kept, Recipe};
use barrowmix::trial::analysis::{Analysis, Limits, Note, permutation};
use barrowmix::trial::date::Date;
use barrowmix::trial::document::{set_trial, trial_of};
use barrowmix::trial::guessed::{Held, guessed};
use barrowmix::trial::layout::Layout;
use barrowmix::trial::mattering::MattersFault;
use barrowmix::trial::measures::{Good, MEASURES, OWN_LIMITS, OwnMeasure, Scale};
use barrowmix::trial::permute::Question;
use barrowmix::trial::plan::{Deed, Guess, Treatment, Trial, Vessel, Way};
use barrowmix::trial::readings::When;
use barrowmix::trial::records::Record;
use barrowmix::trial::seen::Seen;
use barrowmix::trial::verdict::{Matters, NoVerdict, Verdict};
use barrowmix::words::trial::seen::{row_difference_text, seen_verdict_text};
use barrowmix::words::{
    band_ends_text, guessed_text, no_verdict_text, note_text, row_text, said_once,
    treatment_text_at,
};
use proptest::prelude::*;

fn trial(blocks: usize) -> (Trial, Layout) {
    let vessel = Vessel::Container {
        volume: Amount::new(10.0, Unit::Litre),
        height: Amount::new(25.0, Unit::Centimetre),
        empty: None,
        kept: Kept::new(),
    };
    let treatments = vec![
        Treatment::new(Deed::Dug),
        Treatment::of("yard_compost"),
        Treatment::of("concrete_sand"),
        Treatment::new(Deed::Untouched),
    ];
    let mut trial = Trial::new(treatments, vessel, 20_260_401);
    trial.blocks = blocks;
    let layout = trial.layout().expect("it can be set out");
    (trial, layout)
}

fn day() -> Date {
    Date::of(2026, 5, 4).expect("a day")
}

/// Fills a measure in walking order by treatment and block.
fn add(trial: &mut Trial, layout: &Layout, id: &str, value: impl Fn(usize, usize) -> f64) {
    for (at, spot) in layout.spots.iter().enumerate() {
        let record = Record::of(at, day(), id, value(spot.treatment, spot.block));
        let added = trial.add(layout.spots.len(), record);
        assert!(added.is_ok(), "{id}: {added:?}");
    }
}

fn read(trial: &Trial, layout: &Layout, id: &str) -> (Seen, Analysis) {
    let seen = Seen::of(trial, layout, id, When::Usual).expect("a measure");
    let analysis = seen.analysed(&mut Limits::default()).expect("it reads");
    (seen, analysis)
}

#[test]
fn seedlings_without_a_count_of_seeds_have_no_verdict() {
    let (mut trial, layout) = trial(4);
    for at in 0..layout.spots.len() {
        let record = Record::of(at, day(), "emerged_count", (at % 9) as f64);
        trial
            .add(layout.spots.len(), record)
            .expect("a count of seedlings");
    }
    let (seen, analysis) = read(&trial, &layout, "emerged_count");
    assert!(seen.not_sown, "nobody said how many were sown");
    for row in &analysis.comparisons {
        assert_eq!(row.verdict, Err(NoVerdict::NotSown), "no scale, no verdict");
        assert!(row.ratio.is_some(), "what was counted is told");
        assert!(row.ratio_range.is_none(), "and no range beside a refusal");
    }
    assert!(
        seen.differences(&analysis).band.is_none(),
        "no band of seedlings by percentages"
    );
    let text = no_verdict_text(NoVerdict::NotSown);
    assert!(text.contains("how many seeds were sown"), "{text}");
    // The same count with the seeds told is judged in points of those sown.
    trial.seeds = Some(10);
    let (seen, analysis) = read(&trial, &layout, "emerged_count");
    assert_eq!(seen.asked.matters, Matters::Difference(20.0), "points");
    assert!(
        analysis.comparisons.iter().all(|row| row.verdict.is_ok()),
        "{:?}",
        analysis.comparisons
    );
}

/// Values that containers of each measure read, as gardeners find them: the control, and how far
/// containers treated alike differ, as a share of it.
const TYPICAL: &[(&str, f64, f64)] = &[
    ("emerged_count", 16.0, 0.02),
    ("plants_count", 12.0, 0.005),
    ("height_cm", 14.0, 0.02),
    ("top_fresh_g", 80.0, 0.02),
    ("root_fresh_g", 120.0, 0.02),
    ("marketable_g", 90.0, 0.02),
    ("defect_count", 4.0, 0.02),
    ("container_kg", 15.0, 0.003),
    ("water_l", 6.0, 0.02),
    ("drained_ml", 900.0, 0.02),
    ("air_space", 0.1, 0.01),
    ("total_porosity", 0.5, 0.005),
    ("bulk_density_g_cm3", 1.2, 0.005),
    ("water_g_g", 0.25, 0.01),
    ("infiltration_min", 40.0, 0.02),
    ("ksat_cm_h", 2.0, 0.02),
    ("flag_cm", 15.0, 0.02),
    ("surface_depth_cm", 4.0, 0.02),
    ("ph", 6.8, 0.005),
    ("ec_ds_m", 0.4, 0.02),
    ("light_hours", 6.0, 0.01),
];

/// What matters of a control, in the measure's unit, told by hand for each scale.
fn matters_of(id: &str, control: f64) -> f64 {
    match id {
        "emerged_count" => 0.2 * 20.0,
        "plants_count" | "defect_count" | "light_hours" => 1.0,
        "container_kg" => 0.05 * control,
        "air_space" => 0.02,
        "total_porosity" | "water_g_g" => 0.03,
        "bulk_density_g_cm3" => 0.1,
        "infiltration_min" | "ksat_cm_h" => 0.3 * control,
        "flag_cm" => 5.0,
        "surface_depth_cm" => 2.0,
        "ph" | "ec_ds_m" if id == "ph" => 0.5,
        "ec_ds_m" => 0.5 * control,
        _ => 0.2 * control,
    }
}

#[test]
fn every_measure_is_judged_by_what_matters_of_it() {
    for measure in MEASURES.iter().filter(|of| of.asks_matters()) {
        let id = measure.id;
        let typical = TYPICAL.iter().find(|(known, ..)| *known == id);
        let (_, control, spread) = *typical.unwrap_or_else(|| panic!("{id} is not tried"));
        assert!(
            measure.matters.is_some() && measure.matters_from.is_some(),
            "{id} says nothing of what matters, or not where that is from"
        );
        let matters = matters_of(id, control);
        // Nothing but chance; a fifth of what matters; three times what matters, more and less.
        for (times, wanted) in [(0.2, "same"), (2.0, "more"), (-2.0, "less")] {
            let (mut trial, layout) = trial(5);
            trial.seeds = Some(20);
            let mut mean = control + times * matters;
            if id == "emerged_count" && times > 0.0 {
                // No more than were sown can come up.
                mean = if times > 1.0 { 20.0 } else { mean };
            }
            if mean <= 0.0 {
                mean = 0.02 * control;
            }
            let control = if wanted == "more" && id == "emerged_count" {
                12.0
            } else {
                control
            };
            for (at, spot) in layout.spots.iter().enumerate() {
                let level = if spot.treatment == 1 { mean } else { control };
                let odd = ((spot.block * 7 + spot.treatment * 3) % 5) as f64 - 2.0;
                let value = level * (1.0 + spread * odd);
                let value = value.min(measure.limits.1);
                let value = if measure.of_sown {
                    value.min(20.0)
                } else {
                    value
                };
                let mut record = Record::of(at, day(), id, value);
                // A mean of several, so that counts need not be whole.
                record.reps = 2;
                let added = trial.add(layout.spots.len(), record);
                assert!(added.is_ok(), "{id} {value}: {added:?}");
            }
            let (_, analysis) = read(&trial, &layout, id);
            let verdict = analysis.comparisons[0].verdict.as_ref();
            let verdict = verdict.unwrap_or_else(|why| panic!("{id} {wanted}: {why:?}"));
            let helps = match (measure.good, wanted) {
                (Good::Less, "more") | (Good::More | Good::Neither, "less") => "harmed",
                (_, "same") => "same",
                _ => "helped",
            };
            let expected: &[Verdict] = match helps {
                "same" => &[
                    Verdict::NoDifference,
                    Verdict::HelpedLess,
                    Verdict::HarmedLess,
                ],
                "helped" => &[Verdict::HelpedAtLeast],
                _ => &[Verdict::HarmedAtLeast],
            };
            assert!(
                expected.contains(&verdict.verdict),
                "{id} {wanted}: {verdict:?} of {control} and {mean}"
            );
        }
    }
}

#[test]
fn fewer_of_what_is_counted_is_as_many_as_was_said() {
    // Three forked roots in each container, one in each with compost; two fewer matter.
    let (mut trial, layout) = trial(5);
    trial
        .set_matters("defect_count", Some(2.0))
        .expect("nothing is measured");
    add(&mut trial, &layout, "defect_count", |of, block| match of {
        1 => 1.0 + f64::from(u8::from(block == 0)),
        _ => 3.0,
    });
    let (seen, analysis) = read(&trial, &layout, "defect_count");
    let judged = analysis.comparisons[0].verdict.as_ref();
    let judged = judged.expect("a verdict");
    // In what is counted, as it was said: not as a share of it, nor of one more.
    assert_eq!((judged.matters, judged.is_ratio), (2.0, false));
    assert_eq!((judged.band.better, judged.band.worse), (2.0, -2.0));
    let drawn = seen.differences(&analysis);
    assert_eq!(drawn.band, Some([-2.0, 2.0]), "as drawn");
    assert!(!drawn.in_percent, "in forks");
    // The mean by logarithms of a two and ones, less three.
    let mean = libm::pow(2.0, 1.0 / trial.blocks as f64);
    let (_, estimate, range) = drawn.rows[0];
    assert!(
        (estimate - (mean - 3.0)).abs() < 1e-9,
        "{estimate} from {mean}"
    );
    let [low, high] = range.expect("a range");
    assert!(-3.0 < low && low < estimate && high > estimate, "{range:?}");
    // With a zero it is one more that has a logarithm: five less than nothing is no count.
    add(&mut trial, &layout, "plants_count", |of, block| match of {
        1 if block == 0 => 0.0,
        1 => 2.0,
        _ => 5.0,
    });
    let (seen, analysis) = read(&trial, &layout, "plants_count");
    let (_, estimate, _) = seen.differences(&analysis).rows[0];
    let blocks = trial.blocks as f64;
    let mean = libm::pow(3.0, (blocks - 1.0) / blocks) - 1.0;
    assert!(
        (estimate - (mean - 5.0)).abs() < 1e-9,
        "{estimate} from {mean}"
    );
}

fn own(matters: Option<f64>) -> OwnMeasure {
    OwnMeasure {
        id: "worms".into(),
        name: None,
        unit: String::new(),
        scale: Scale::Raw,
        good: Good::More,
        matters,
        error: None,
        limits: OWN_LIMITS,
        decimals: 0,
        kept: Kept::new(),
    }
}

#[test]
fn what_matters_is_said_before_its_measure_is_read() {
    let (mut trial, layout) = trial(4);
    trial.primary = Some("root_fresh_g".into());
    trial.own_measures.push(own(None));
    assert_eq!(trial.matters_for("ph"), Some(0.5), "the usual");
    assert_eq!(trial.matters_for("worms"), None, "nobody knows");
    trial.set_matters("ph", Some(0.3)).expect("in time");
    trial.set_matters("root_fresh_g", Some(30.0)).expect("too");
    assert_eq!(trial.matters, Some(30.0), "of the one that decides");
    assert_eq!(trial.matters_for("ph"), Some(0.3), "as said");
    let outside = trial.set_matters("ph", Some(0.0));
    assert!(
        matches!(outside, Err(MattersFault::Outside { .. })),
        "{outside:?}"
    );
    let unknown = trial.set_matters("smell", Some(1.0));
    assert!(
        matches!(unknown, Err(MattersFault::Measure { .. })),
        "{unknown:?}"
    );
    add(&mut trial, &layout, "ph", |of, block| {
        6.5 + 0.1 * (of + block % 2) as f64
    });
    let (seen, _) = read(&trial, &layout, "ph");
    assert_eq!(seen.asked.matters, Matters::Difference(0.3), "as said");
    assert_eq!(
        trial.set_matters("ph", Some(0.1)),
        Err(MattersFault::Read { records: 16 }),
        "it stays"
    );
    assert_eq!(trial.matters_for("ph"), Some(0.3), "unchanged");
    trial
        .set_matters("container_kg", Some(2.0))
        .expect("this is not read yet");
    // Where nothing was known, it can be said late, which is told.
    add(&mut trial, &layout, "worms", |of, block| {
        (3 + of + (block * of) % 3) as f64
    });
    let (_, analysis) = read(&trial, &layout, "worms");
    assert_eq!(
        analysis.comparisons[0].verdict,
        Err(NoVerdict::NothingMatters),
        "nobody said"
    );
    trial.set_matters("worms", Some(2.0)).expect("late");
    let (seen, analysis) = read(&trial, &layout, "worms");
    assert!(seen.is_late && analysis.comparisons[0].verdict.is_ok());
    assert!(
        trial.set_matters("worms", Some(5.0)).is_err(),
        "and not again"
    );
    // All of it is saved.
    let mut recipe = Recipe::from_json(
        r#"{"barrowmix":1,"ground":{"sand_pct":20,"silt_pct":25,"clay_pct":55},
        "soil":{"value":40,"unit":"L"}}"#,
    )
    .expect("a recipe");
    set_trial(&mut recipe, Some(&trial));
    let again = Recipe::from_json(&recipe.to_json()).expect("what is written is read");
    assert_eq!(trial_of(&again), Ok(Some(trial)), "whole");
}

#[test]
fn a_guess_is_held_beside_what_happened() {
    let (mut trial, layout) = trial(4);
    trial.primary = Some("root_fresh_g".into());
    let guess = |way, by_pct| Some(Guess { way, by_pct });
    trial.treatments[1].guess = guess(Way::Less, None);
    trial.treatments[2].guess = guess(Way::More, Some(30.0));
    trial.treatments[3].guess = guess(Way::Same, None);
    // Compost 1.4 times the control, sand the same, the untouched within 2 %.
    add(&mut trial, &layout, "root_fresh_g", |of, block| {
        let level = [100.0, 140.0, 100.5, 99.0][of];
        level * (1.0 + 0.02 * ((block + of) % 3) as f64)
    });
    let (seen, analysis) = read(&trial, &layout, "root_fresh_g");
    let all = guessed(&trial, "root_fresh_g", &seen, &analysis);
    let held: Vec<_> = all.iter().map(|of| (of.treatment, of.held)).collect();
    assert_eq!(
        held,
        [(1, Held::OtherWay), (2, Held::Nothing), (3, Held::Right)]
    );
    let text = guessed_text(&all[0], "g");
    assert!(
        text.starts_with("You guessed less; it came out +4") && text.ends_with(": the other way."),
        "{text}"
    );
    let text = guessed_text(&all[1], "g");
    assert!(
        text.starts_with("You guessed more, by about 30 %; it came out")
            && text.ends_with(": no difference that matters."),
        "{text}"
    );
    let text = guessed_text(&all[2], "g");
    assert!(text.ends_with(": as you guessed."), "{text}");
    assert!(
        guessed(&trial, "ph", &seen, &analysis).is_empty(),
        "a guess is of the measure that decides"
    );
    // Percentages that were guessed: 1.4 times is within the range, 3 times is not.
    trial.treatments[1].guess = guess(Way::More, Some(40.0));
    let all = guessed(&trial, "root_fresh_g", &seen, &analysis);
    assert_eq!((all[0].held, all[0].by_held), (Held::Right, Some(true)));
    let text = guessed_text(&all[0], "g");
    assert!(
        text.ends_with(": the way you guessed, and 40 % lies in the range."),
        "{text}"
    );
    trial.treatments[1].guess = guess(Way::More, Some(200.0));
    let all = guessed(&trial, "root_fresh_g", &seen, &analysis);
    assert_eq!(all[0].by_held, Some(false), "too much");
}

#[test]
fn a_guess_from_one_container_each_is_not_judged() {
    let (mut trial, layout) = trial(1);
    trial.primary = Some("root_fresh_g".into());
    trial.treatments[1].guess = Some(Guess {
        way: Way::More,
        by_pct: Some(30.0),
    });
    add(&mut trial, &layout, "root_fresh_g", |of, _| {
        100.0 + 40.0 * of as f64
    });
    let (seen, analysis) = read(&trial, &layout, "root_fresh_g");
    let all = guessed(&trial, "root_fresh_g", &seen, &analysis);
    assert_eq!((all[0].held, all[0].by_held), (Held::NoRange, None));
    let text = guessed_text(&all[0], "g");
    assert!(text.contains("no range"), "{text}");
    for question in [Question::Overall, Question::AgainstControl] {
        assert!(
            permutation(&seen.asked, &seen.readings, question, 1).is_none(),
            "no chance from one container each"
        );
    }
}

#[test]
fn what_is_not_measured_yet_is_not_lost() {
    let (mut trial, layout) = trial(4);
    for at in 0..6 {
        let record = Record::of(at, day(), "root_fresh_g", 100.0 + at as f64);
        trial.add(layout.spots.len(), record).expect("it goes in");
    }
    let gone = Record::without(
        6,
        day(),
        "root_fresh_g",
        barrowmix::trial::records::Missing::Animal,
    );
    trial.add(layout.spots.len(), gone).expect("it goes in");
    let (_, analysis) = read(&trial, &layout, "root_fresh_g");
    assert!(
        analysis.notes.contains(&Note::NotRead(9)) && analysis.notes.contains(&Note::Lost(1)),
        "{:?}",
        analysis.notes
    );
    let text = note_text(&Note::NotRead(9));
    assert_eq!(text, "9 containers are not measured yet and are left out.");
    let text = note_text(&Note::Lost(2));
    assert!(
        text.starts_with("2 containers were lost and are left out"),
        "{text}"
    );
}

#[test]
fn no_mean_of_seedlings_lies_above_all_that_were_sown() {
    let (mut trial, layout) = trial(4);
    trial.seeds = Some(20);
    add(&mut trial, &layout, "emerged_count", |of, block| {
        if of == 0 && block == 1 {
            9.0
        } else {
            20.0 - (block % 2) as f64
        }
    });
    let (_, analysis) = read(&trial, &layout, "emerged_count");
    for group in &analysis.groups {
        for back in [group.own, group.model].into_iter().flatten() {
            let [low, high] = back.range.expect("a range");
            assert!(low >= 0.0 && high <= 100.0, "{low} to {high}");
        }
    }
}

#[test]
fn containers_that_all_read_the_same_have_no_noise() {
    let (mut trial, layout) = trial(4);
    add(&mut trial, &layout, "root_fresh_g", |_, _| 100.0);
    let (_, analysis) = read(&trial, &layout, "root_fresh_g");
    for group in &analysis.groups {
        assert_eq!(group.own.map(|own| own.mean), Some(100.0), "to the bit");
        assert_eq!(
            group.geometric.map(|own| own.mean),
            Some(100.0),
            "to the bit"
        );
        assert_eq!(
            group.geometric.and_then(|own| own.range),
            Some([100.0, 100.0]),
            "to the bit"
        );
        assert_eq!(group.model.map(|own| own.mean), Some(100.0), "to the bit");
    }
    assert_eq!(
        analysis.comparisons[0].verdict,
        Err(NoVerdict::NoSpread),
        "nothing tells chance"
    );
    let (mut trial, layout) = self::trial(4);
    add(&mut trial, &layout, "root_fresh_g", |_, _| 0.0);
    let (_, analysis) = read(&trial, &layout, "root_fresh_g");
    for row in &analysis.comparisons {
        assert_eq!(row.verdict, Err(NoVerdict::AllNothing), "all are dead");
    }
    let text = no_verdict_text(NoVerdict::AllNothing);
    assert!(text.contains("read 0") && text.contains("died"), "{text}");
}

#[test]
fn ph_is_told_to_the_digits_of_its_kit() {
    let (mut trial, layout) = trial(4);
    add(&mut trial, &layout, "ph", |of, block| {
        6.5 + 0.05 * of as f64 + 0.6 * f64::from(u8::from((block + of) % 3 == 0))
    });
    let (seen, analysis) = read(&trial, &layout, "ph");
    let shown = seen.differences(&analysis);
    let digits = |text: &str| {
        let numbers = text.split(|letter: char| !letter.is_ascii_digit() && letter != '.');
        let after = numbers
            .filter_map(|number| Some(number.trim_end_matches('.').split_once('.')?.1.len()));
        after.max().unwrap_or(0)
    };
    for (row, (_, estimate, range)) in analysis.comparisons.iter().zip(&shown.rows) {
        let size = row_difference_text(*estimate, *range, &shown, "");
        assert!(digits(&size) == 1, "{size}");
        let verdict = seen_verdict_text(row, &seen, "");
        assert!(digits(&verdict) <= 1, "{verdict}");
        assert!(!verdict.contains("would."), "would what? {verdict}");
    }
    for group in &analysis.groups {
        let text = treatment_text_at(group, "", Some(seen.decimals));
        let mean = text.split(", spread").next().expect("a mean");
        assert!(digits(mean) == 1, "{text}");
    }
}

#[test]
fn both_ends_of_what_does_not_matter_are_told() {
    let (mut trial, layout) = trial(4);
    add(&mut trial, &layout, "root_fresh_g", |of, block| {
        100.0 + (of + block) as f64
    });
    let (seen, analysis) = read(&trial, &layout, "root_fresh_g");
    // A fifth more, or a fifth more undone: 1/1.2 is 17 % less.
    let ends = band_ends_text(&seen.differences(&analysis), "g");
    assert_eq!(ends, "−17 % to +20 %");
    add(&mut trial, &layout, "ph", |of, block| {
        6.5 + 0.1 * ((of + block) % 3) as f64
    });
    let (seen, analysis) = read(&trial, &layout, "ph");
    let ends = band_ends_text(&seen.differences(&analysis), "");
    assert_eq!(ends, "−0.5 to +0.5");
}

#[test]
fn a_control_is_not_harmed() {
    let (mut trial, layout) = trial(5);
    add(&mut trial, &layout, "root_fresh_g", |of, block| {
        let level = [100.0, 150.0, 40.0, 50.0][of];
        level * (1.0 + 0.02 * ((block * of + block) % 3) as f64)
    });
    let (seen, analysis) = read(&trial, &layout, "root_fresh_g");
    let texts: Vec<String> = analysis
        .comparisons
        .iter()
        .map(|row| seen_verdict_text(row, &seen, "g"))
        .collect();
    assert!(texts[0].starts_with("Helped"), "compost: {texts:?}");
    assert!(texts[1].starts_with("Harmed"), "sand: {texts:?}");
    assert!(
        texts[2].starts_with("Came out less"),
        "untouched: {texts:?}"
    );
    // Where less is better, a control that took longer came out more.
    let (mut trial, layout) = self::trial(5);
    add(&mut trial, &layout, "infiltration_min", |of, block| {
        let level = [40.0, 20.0, 40.0, 120.0][of];
        level * (1.0 + 0.02 * ((block * of + block) % 3) as f64)
    });
    let (seen, analysis) = read(&trial, &layout, "infiltration_min");
    let text = seen_verdict_text(&analysis.comparisons[2], &seen, "min");
    assert!(text.starts_with("Came out more"), "{text}");
}

#[test]
fn scores_say_once_what_they_are_and_what_shuffles_say_of_each() {
    let (mut trial, layout) = trial(4);
    add(&mut trial, &layout, "vigour_1to5", |of, block| match of {
        1 => 5.0,
        2 => 3.0,
        _ => 2.0 + f64::from(u8::from(block % 2 == 0)),
    });
    let (seen, analysis) = read(&trial, &layout, "vigour_1to5");
    let once = said_once(&analysis).expect("none has a verdict");
    assert_eq!(once, no_verdict_text(NoVerdict::Score));
    let shuffled = seen.shuffled(7);
    assert_eq!(shuffled[0], None, "not of the control");
    let p = shuffled[1].expect("it can be shuffled");
    // Shuffled another way: all orders of four treatments in each of four blocks, the control's total
    // against the others.
    let rows: Vec<[f64; 4]> = (0..4)
        .map(|block| {
            [
                2.0 + f64::from(u8::from(block % 2 == 0)),
                5.0,
                3.0,
                2.0 + f64::from(u8::from(block % 2 == 0)),
            ]
        })
        .collect();
    let exact = share_as_far(&rows, 1);
    assert!((p - exact).abs() < 0.005, "{p} and {exact}");
    let text = row_text(&analysis, 1, 0, Some(p));
    assert!(
        text.starts_with("Middle 5 against 2.5; by shuffles such a gap comes in "),
        "{text}"
    );
    assert!(text.ends_with("of 100."), "{text}");
    // With sizes nothing is said once.
    add(&mut trial, &layout, "root_fresh_g", |of, block| {
        100.0 + (of + block) as f64
    });
    let (_, analysis) = read(&trial, &layout, "root_fresh_g");
    assert_eq!(said_once(&analysis), None, "each has a verdict");
    // From one container each the refusal is said once.
    let (mut single, layout) = self::trial(1);
    add(&mut single, &layout, "root_fresh_g", |of, _| {
        100.0 + of as f64
    });
    let (_, analysis) = read(&single, &layout, "root_fresh_g");
    assert_eq!(
        said_once(&analysis),
        Some(no_verdict_text(NoVerdict::OneContainer))
    );
    assert_eq!(row_text(&analysis, 1, 0, None), "No verdict.");
}

/// How often, of all orders within blocks, any treatment's total lies as far from the control's as
/// one's does here.
fn share_as_far(rows: &[[f64; 4]], of: usize) -> f64 {
    let total = |at: usize| rows.iter().map(|row| row[at]).sum::<f64>();
    let observed = (total(of) - total(0)).abs();
    let mut orders = Vec::new();
    for a in 0..4 {
        for b in 0..4 {
            for c in 0..4 {
                for d in 0..4 {
                    let order = [a, b, c, d];
                    let mut seen = order;
                    seen.sort_unstable();
                    if seen == [0, 1, 2, 3] {
                        orders.push(order);
                    }
                }
            }
        }
    }
    // Totals of all four, and how often each comes.
    let mut sums: std::collections::BTreeMap<[i64; 4], f64> = [([0; 4], 1.0)].into();
    for row in rows {
        let mut next = std::collections::BTreeMap::new();
        for (sum, times) in &sums {
            for order in &orders {
                let mut new = *sum;
                for (at, from) in order.iter().enumerate() {
                    new[at] += (2.0 * row[*from]) as i64;
                }
                *next.entry(new).or_insert(0.0) += times;
            }
        }
        sums = next;
    }
    let far =
        |sum: &[i64; 4]| (1..4).any(|at| 0.5 * (sum[at] - sum[0]).abs() as f64 >= observed - 1e-9);
    let all: f64 = sums.values().sum();
    let hits: f64 = sums
        .iter()
        .filter(|(sum, _)| far(sum))
        .map(|(_, times)| times)
        .sum();
    hits / all
}

#[test]
fn a_second_sub_sample_is_no_second_container() {
    let (mut trial, layout) = trial(4);
    add(&mut trial, &layout, "root_fresh_g", |of, block| {
        100.0 + (3 * of + (block * of) % 5 + block) as f64
    });
    let (_, once) = read(&trial, &layout, "root_fresh_g");
    // The same of each container again, which only the note tells apart.
    for mut again in trial.records.clone() {
        again.note = "second bag".into();
        trial.add(layout.spots.len(), again).expect("a sub-sample");
    }
    let (seen, twice) = read(&trial, &layout, "root_fresh_g");
    assert_eq!(seen.count(), layout.spots.len(), "as many containers");
    assert!(seen.taken.iter().all(|of| of.reps == 2), "of two each");
    assert_eq!(twice.readings, once.readings, "one value for each");
    let degrees = |of: &Analysis| of.table.map(|table| table.error_degrees);
    assert_eq!(degrees(&twice), degrees(&once), "no more is known");
    for (one, two) in once.comparisons.iter().zip(&twice.comparisons) {
        let [one, two] = [one, two].map(|row| row.range.expect("a range"));
        assert!(
            (one[0] - two[0]).abs() < 1e-9 && (one[1] - two[1]).abs() < 1e-9,
            "{one:?} {two:?}"
        );
    }
    // And the very same record is no sub-sample at all.
    let count = trial.records.len();
    let same = trial.records[0].clone();
    trial.add(layout.spots.len(), same).expect("it is known");
    assert_eq!(trial.records.len(), count, "nothing is added");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn whatever_is_read_is_told_without_nonsense(
        which in 0..MEASURES.len(),
        blocks in 1_usize..6,
        shares in prop::collection::vec(
            prop_oneof![3 => (0.0_f64..1.0).prop_map(Some), 1 => Just(Some(0.0)), 1 => Just(None)],
            20,
        ),
        seeds in prop_oneof![Just(None), Just(Some(10_000_u32))],
        said in prop_oneof![Just(None), (1e-6_f64..1e6).prop_map(Some)],
        by in prop_oneof![Just(None), (0.0_f64..1000.0).prop_map(Some)],
        small in any::<bool>(),
    ) {
        let measure = MEASURES[which];
        let (mut trial, layout) = trial(blocks);
        trial.seeds = seeds;
        trial.primary = Some(measure.id.to_owned());
        if said.is_some() {
            let told = trial.set_matters(measure.id, said);
            prop_assert_eq!(told, Ok(()));
        }
        for (at, way) in Way::ALL.iter().enumerate() {
            trial.treatments[at + 1].guess = Some(Guess { way: *way, by_pct: by });
        }
        let (low, high) = measure.limits;
        let high = if small { low + 0.01 * (high - low) } else { high };
        for (at, share) in shares.iter().take(layout.spots.len()).enumerate() {
            let Some(share) = share else { continue };
            let value = low + share * (high - low);
            let value = if measure.whole { value.floor() } else { value };
            let added = trial.add(layout.spots.len(), Record::of(at, day(), measure.id, value));
            prop_assert!(added.is_ok(), "{:?} of {}", added, value);
        }
        let seen = Seen::of(&trial, &layout, measure.id, When::Usual).expect("a measure");
        let Ok(analysis) = seen.analysed(&mut Limits::default()) else {
            prop_assert_eq!(seen.count(), 0);
            return Ok(());
        };
        let shown = seen.differences(&analysis);
        let mut texts = vec![band_ends_text(&shown, measure.unit)];
        texts.extend(said_once(&analysis).map(str::to_owned));
        texts.extend(analysis.notes.iter().map(note_text));
        for group in &analysis.groups {
            texts.push(treatment_text_at(group, measure.unit, Some(seen.decimals)));
        }
        for row in &analysis.comparisons {
            texts.push(seen_verdict_text(row, &seen, measure.unit));
            texts.push(row_text(&analysis, row.treatment, 0, Some(0.02)));
            let Ok(judged) = &row.verdict else { continue };
            prop_assert!(!seen.not_sown, "no verdict without the seeds");
            let [worse, better] = [judged.band.worse, judged.band.better];
            prop_assert!(worse < judged.band.nothing && better > judged.band.nothing);
            if judged.verdict == Verdict::NoDifference {
                let [from, to] = judged.range;
                prop_assert!(from > worse && to < better, "{judged:?}");
                // And what was said mattered is not hidden in it.
                let groups = &analysis.groups;
                let control = groups[0].model.map_or(0.0, |back| back.mean);
                let own = groups[row.treatment].model.map_or(0.0, |back| back.mean);
                let matters = trial.matters_for(measure.id).expect("said or usual");
                let apart = (own - control).abs();
                let far = match measure.scale {
                    Scale::Log => matters / 100.0 * control.max(own),
                    _ => matters,
                };
                prop_assert!(apart <= far * 1.000_001 + 1e-9, "{apart} of {far}: {judged:?}");
            }
        }
        for (_, estimate, range) in &shown.rows {
            texts.push(row_difference_text(*estimate, *range, &shown, measure.unit));
        }
        for of in guessed(&trial, measure.id, &seen, &analysis) {
            if of.held == Held::NoRange {
                prop_assert_eq!(of.by_held, None);
            }
            texts.push(guessed_text(&of, measure.unit));
        }
        for text in texts {
            prop_assert!(!text.contains("NaN") && !text.contains("inf "), "{}", text);
        }
        for group in &analysis.groups {
            for back in [group.own, group.geometric, group.model].into_iter().flatten() {
                if let Some([from, to]) = back.range {
                    let [least, most] = seen.possible;
                    prop_assert!(from >= least && to <= most && from <= to, "{back:?}");
                }
            }
        }
    }
}
