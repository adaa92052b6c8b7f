#![cfg(not(target_arch = "wasm32"))]
//! What is told of a treatment beside its verdict: what died, what came to nothing, and nothing that
//! a refusal refuses.

use barrowmix::figure::{Ends, Figure};
use barrowmix::quantity::Unit;
use barrowmix::recipe::{Amount, Kept, Recipe};
use barrowmix::trial::analysis::{Analysis, Limits};
use barrowmix::trial::date::Date;
use barrowmix::trial::layout::Layout;
use barrowmix::trial::plan::{Deed, Treatment, Trial, Vessel};
use barrowmix::trial::readings::When;
use barrowmix::trial::records::{Lost, Missing, Record};
use barrowmix::trial::seen::Seen;
use barrowmix::trial::seen::{Beside, as_measured, shown_mean};
use barrowmix::trial::table::{Said, read, table};
use barrowmix::trial::verdict::NoVerdict;
use barrowmix::words::trial::labels::label_of_record;
use barrowmix::words::trial::report::{TrialReport, read_measures, report};
use barrowmix::words::trial::seen::{
    SHUFFLED_TOGETHER, beside_text, kit_text, matters_said_text, seen_verdicts, unread_text,
};
use barrowmix::words::{METRIC, no_verdict_text};

const ROOTS: &str = "root_fresh_g";
/// Dug, compost, sand.
const GROWN: [[f64; 4]; 3] = [
    [100.0, 110.0, 95.0, 105.0],
    [163.0, 170.0, 166.0, 168.0],
    [101.0, 113.0, 99.0, 104.0],
];

fn trial(blocks: usize) -> (Trial, Layout) {
    let vessel = Vessel::Container {
        volume: Amount::new(10.0, Unit::Litre),
        height: Amount::new(25.0, Unit::Centimetre),
        empty: None,
        kept: Kept::new(),
    };
    let mut treatments = vec![Treatment::new(Deed::Dug)];
    for id in ["green_compost", "concrete_sand"] {
        treatments.push(Treatment::of(id));
    }
    let mut trial = Trial::new(treatments, vessel, 20_260_401);
    trial.blocks = blocks;
    trial.primary = Some(ROOTS.to_owned());
    trial.matters = Some(20.0);
    let layout = trial.layout().expect("it can be set out");
    (trial, layout)
}

/// Records each container; without a value it died, of what was added or of nobody knows what.
fn record(
    trial: &mut Trial,
    layout: &Layout,
    measure: &str,
    of_addition: Option<bool>,
    value: impl Fn(usize, usize) -> Option<f64>,
) {
    let day = Date::of(2026, 5, 20).expect("a day");
    for (container, spot) in layout.spots.iter().enumerate() {
        match value(spot.treatment, spot.block) {
            Some(value) => {
                let record = Record::of(container, day, measure, value);
                let added = trial.add(layout.spots.len(), record);
                assert!(added.is_ok(), "{added:?}");
            }
            None => trial.lost.push(Lost {
                container,
                reason: Missing::Died,
                of_addition,
                on: None,
                note: String::new(),
                kept: Kept::new(),
            }),
        }
    }
}

fn analysed(trial: &Trial, layout: &Layout, measure: &str) -> (Seen, Analysis) {
    let seen = Seen::of(trial, layout, measure, When::Usual).expect("it is a measure");
    let analysis = seen.analysed(&mut Limits::default()).expect("it reads");
    (seen, analysis)
}

/// What is said of each treatment but the control.
fn said(trial: &Trial, layout: &Layout, measure: &str) -> Vec<String> {
    let (seen, analysis) = analysed(trial, layout, measure);
    let told = seen_verdicts(&analysis, &seen, "", |_| None);
    told.each.into_iter().map(|(_, text)| text).collect()
}

fn recipe() -> Recipe {
    let text = include_str!("../examples/recipes/peat-third.json");
    Recipe::from_json(text).expect("it reads")
}

fn paper(trial: &Trial, layout: &Layout) -> TrialReport {
    let read = read_measures(trial, layout, &mut Limits::default());
    report(trial, &recipe(), layout, None, &read, METRIC)
}

#[test]
fn what_lived_is_not_praised_in_silence_of_what_died() {
    for of_addition in [None, Some(false), Some(true)] {
        let (mut trial, layout) = trial(4);
        record(&mut trial, &layout, ROOTS, of_addition, |of, block| {
            (of != 1 || block < 2).then(|| GROWN[of][block])
        });
        let told = said(&trial, &layout, ROOTS);
        let first = "2 of its 4 containers died; this is of those that lived. Helped";
        assert!(told[0].starts_with(first), "{told:?}");
        assert!(!told[1].contains("died"), "{told:?}");
        let on_paper = paper(&trial, &layout);
        let of = &on_paper.measures[0];
        assert!(of.table.rows[0][1].starts_with(first), "{:?}", of.table);
        let line = of.line();
        let died = line.find("2 of its 4").expect("it is told");
        assert!(died < line.find("Helped").expect("it helped"), "{line}");
    }
}

#[test]
fn deaths_are_told_whatever_the_rest_comes_to() {
    // All, all but one, and some of the control as well.
    for (dead, of_control, wanted) in [
        (4, 0, "All 4 of its containers died. No verdict"),
        (
            3,
            0,
            "3 of its 4 containers died; this is of the one that lived. No verdict",
        ),
        (
            2,
            1,
            "2 of its 4 containers died, and 1 of 4 of the control; this is",
        ),
    ] {
        let (mut trial, layout) = trial(4);
        record(&mut trial, &layout, ROOTS, None, |of, block| {
            let dead = [of_control, dead, 0][of];
            (block >= dead).then(|| GROWN[of][block])
        });
        let told = said(&trial, &layout, ROOTS);
        assert!(told[0].starts_with(wanted), "{told:?}");
    }
    // One container each is refused once, and what died is told of its own.
    let (mut trial, layout) = trial(1);
    record(&mut trial, &layout, ROOTS, None, |of, _| {
        (of != 1).then(|| GROWN[of][0])
    });
    let told = said(&trial, &layout, ROOTS);
    assert!(told[0].starts_with("Its only container died."), "{told:?}");
}

#[test]
fn no_range_stands_beside_a_refusal() {
    // One of compost lived.
    let (mut trial, layout) = trial(4);
    record(&mut trial, &layout, ROOTS, None, |of, block| {
        (of != 1 || block < 1).then(|| GROWN[of][block])
    });
    let (seen, analysis) = analysed(&trial, &layout, ROOTS);
    let rows = seen.differences(&analysis).rows;
    assert!(
        rows[0].2.is_none(),
        "the verdict of one is refused: {rows:?}"
    );
    assert!(rows[1].2.is_some(), "and that of four is not: {rows:?}");
    let row = &analysis.comparisons[0];
    assert!(row.p_together.is_none() && row.t.is_none(), "{row:?}");
    let line = paper(&trial, &layout).measures[0].line();
    assert!(
        line.contains("compost +") && line.contains("no range"),
        "{line}"
    );

    // Nobody said how many were sown, and nothing is the control.
    let (mut trial, layout) = self::trial(4);
    record(&mut trial, &layout, "emerged_count", None, |of, block| {
        Some([8.0, 3.0, 7.0][of] - (block % 2) as f64)
    });
    let (seen, analysis) = analysed(&trial, &layout, "emerged_count");
    let rows = seen.differences(&analysis).rows;
    assert!(rows.iter().all(|(.., range)| range.is_none()), "{rows:?}");
    let mut rows = analysis.comparisons.iter();
    assert!(rows.all(|row| row.p_together.is_none()), "{analysis:?}");
}

#[test]
fn what_came_to_nothing_is_said() {
    let (mut trial, layout) = trial(4);
    record(&mut trial, &layout, "top_fresh_g", None, |of, block| {
        Some(if of == 1 { 0.0 } else { GROWN[of][block] })
    });
    let told = said(&trial, &layout, "top_fresh_g");
    let first = "All 4 came to nothing. ";
    assert!(told[0].starts_with(first), "{told:?}");
    assert!(!told[1].contains("nothing"), "{told:?}");
    // None forked is no failure.
    record(&mut trial, &layout, "defect_count", None, |of, block| {
        Some(if of == 1 {
            0.0
        } else {
            4.0 + (block % 2) as f64
        })
    });
    let told = said(&trial, &layout, "defect_count");
    assert!(told[0].starts_with("All 4 read 0. "), "{told:?}");
    // Where the control came to nothing as well, that is no difference.
    let (mut trial, layout) = self::trial(4);
    record(&mut trial, &layout, "top_fresh_g", None, |of, block| {
        Some(if of < 2 { 0.0 } else { GROWN[of][block] })
    });
    let told = said(&trial, &layout, "top_fresh_g");
    assert!(!told[0].starts_with(first), "{told:?}");
}

#[test]
fn scores_of_one_container_each_are_refused() {
    let (mut trial, layout) = trial(1);
    record(&mut trial, &layout, "vigour_1to5", None, |of, _| {
        Some([1.0, 5.0, 2.0][of])
    });
    let (seen, analysis) = analysed(&trial, &layout, "vigour_1to5");
    let told = seen_verdicts(&analysis, &seen, "", |_| None);
    let all = told.all.expect("the same of all");
    assert!(
        all.starts_with("No verdict from one container each"),
        "{all}"
    );
    assert!(told.each.is_empty(), "no middle of one score: {told:?}");
}

#[test]
fn chances_by_shuffles_say_what_all_of_them_share() {
    for text in [
        label_of_record("read_chances_are"),
        no_verdict_text(NoVerdict::Score),
        no_verdict_text(NoVerdict::Limits),
    ] {
        assert!(text.ends_with(SHUFFLED_TOGETHER.text()), "{text}");
    }
}

#[test]
fn all_that_were_lost_are_said() {
    let (mut trial, layout) = trial(4);
    record(&mut trial, &layout, ROOTS, None, |_, _| None);
    let seen = Seen::of(&trial, &layout, ROOTS, When::Usual).expect("it is a measure");
    let refused = seen
        .analysed(&mut Limits::default())
        .expect_err("none is left");
    let told = unread_text(&seen, refused, |_| String::new());
    assert_eq!(told, "All 12 containers were lost, so nothing is shown.");
    let nothing = paper(&trial, &layout).nothing;
    assert_eq!(nothing, "Every container was lost, so nothing is shown.");
    trial.lost.pop();
    let seen = Seen::of(&trial, &layout, ROOTS, When::Usual).expect("it is a measure");
    let told = unread_text(&seen, refused, |_| String::new());
    assert_eq!(told, "No container was read.", "one is still to be read");
}

#[test]
fn what_takes_the_place_of_a_trial_says_where_the_trial_is_kept() {
    let text = label_of_record("read_write_keeps");
    for words in ["More", "Recipes kept here"] {
        assert!(text.contains(&["“", words, "”"].concat()), "{text}");
        let page = include_str!("../src/words/labels.rs");
        assert!(page.contains(&["\"", words, "\""].concat()), "{words}");
    }
}

#[test]
fn the_model_is_corrected_by_the_mean_that_is_shown() {
    let (mut trial, layout) = trial(4);
    record(
        &mut trial,
        &layout,
        "infiltration_min",
        None,
        |of, block| {
            Some(
                [
                    [100.0, 180.0, 60.0, 140.0],
                    [30.0, 50.0, 14.0, 35.0],
                    [80.0, 150.0, 50.0, 90.0],
                ][of][block],
            )
        },
    );
    let (_, analysis) = analysed(&trial, &layout, "infiltration_min");
    let mean = shown_mean(&analysis, &analysis.groups[0])
        .expect("it has a mean")
        .mean;
    // The fourth root of 100 x 180 x 60 x 140 is 110.8; 25 mm in so many minutes are 13.5 mm/h.
    assert!((mean - 110.8).abs() < 0.1, "{mean}");
    let (_, rate) = as_measured("infiltration_min", mean).expect("the model takes it");
    assert!((rate - 13.5).abs() < 0.05, "{rate}");
}

#[test]
fn errors_and_units_are_told_as_anyone_would() {
    let (trial, layout) = trial(4);
    for (id, wanted) in [
        ("bulk_density_g_cm3", "about 0.06 g/cm³ either"),
        ("infiltration_min", "about 0.25 min either"),
    ] {
        let measure = trial.measure(id).expect("it is known");
        let text = kit_text(&measure, 1.3).expect("its error is known");
        assert!(text.contains(wanted), "{text}");
    }
    let emerged = trial.measure("emerged_count").expect("it is known");
    let text = matters_said_text(&emerged, 20.0, false);
    assert!(text.contains("20 percentage points"), "{text}");
    // A table says the unit in plain letters, and is read back with either.
    let mut trial = trial;
    let day = Date::of(2026, 5, 20).expect("a day");
    let record = Record::of(0, day, "bulk_density_g_cm3", 1.25);
    trial.add(layout.spots.len(), record).expect("it goes in");
    let written = table(&trial, &layout);
    assert!(written.contains(",g/cm3,"), "{written}");
    trial.records.clear();
    for unit in ["g/cm3", "g/cm³"] {
        let text = written.replace("g/cm3,", &[unit, ","].concat());
        let back = read(&trial, &layout, text.as_bytes(), Said::default());
        assert!(back.faults.is_empty(), "{:?}", back.faults);
    }
}

#[test]
fn ranges_that_overlap_are_said_so() {
    let mut of = Beside {
        treatment: 1,
        expected: Figure {
            typical: 1.0,
            ends: Some(Ends {
                low: 0.9,
                high: 1.1,
            }),
        },
        mean: 1.2,
        range: Some([1.05, 1.35]),
        count: 4,
        decimals: 2,
    };
    let text = beside_text(&of, "g/cm³");
    assert!(
        text.contains("above what the model expected, but the two ranges overlap"),
        "{text}"
    );
    (of.mean, of.range) = (0.8, Some([0.7, 0.95]));
    let text = beside_text(&of, "g/cm³");
    assert!(
        text.contains("below what the model expected, but the two ranges overlap"),
        "{text}"
    );
}
