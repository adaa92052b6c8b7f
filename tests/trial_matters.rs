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
use barrowmix::words::{guessed_text, no_verdict_text, note_text};

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
        assert!(row.ratio_range.is_some(), "what was counted is told");
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
    // Of one more than was counted: two of the control's four are half.
    assert!((judged.matters - 0.5).abs() < 1e-9, "{judged:?}");
    assert!((judged.band.better - 2.0).abs() < 1e-9, "half of them");
    assert!((judged.band.worse - 1.0 / 1.5).abs() < 1e-9, "two more");
    let band = seen.differences(&analysis).band.expect("a band");
    assert!(
        (band[0] + 50.0).abs() < 1e-9 && (band[1] - 50.0).abs() < 1e-9,
        "as drawn: {band:?}"
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
