#![cfg(not(target_arch = "wasm32"))]
//! What a trial shows on the page: from records to verdicts, and the geometry of its drawings.

use barrowmix::plot::{TrialScale, difference_scale, swarm};
use barrowmix::quantity::Unit;
use barrowmix::recipe::{Amount, Kept, Measurement};
use barrowmix::trial::analysis::{Limit, Limits, Scale};
use barrowmix::trial::date::Date;
use barrowmix::trial::layout::Layout;
use barrowmix::trial::plan::{Deed, Treatment, Trial, Vessel};
use barrowmix::trial::readings::When;
use barrowmix::trial::records::{Censor, Lost, Missing, Record};
use barrowmix::trial::seen::{Seen, as_measured, measures_read};
use barrowmix::trial::verdict::{NoVerdict, Verdict};
use barrowmix::words::Typed;
use barrowmix::words::trial::entry::{id_of_name, record_text, typed_value};
use barrowmix::words::trial::seen::{
    difference_text, difference_tick, seen_verdict_text, unasked_text, variance_text,
};
use proptest::prelude::*;

/// The invented set of radish roots, by treatment and block, as `tests/reference/trial_data.csv` has
/// it.
const RADISH: [[f64; 4]; 5] = [
    [118.0, 104.0, 96.0, 82.0],
    [161.0, 149.0, 131.0, 118.0],
    [112.0, 109.0, 84.0, 85.0],
    [127.0, 101.0, 103.0, 80.0],
    [133.0, 120.0, 97.0, 99.0],
];

fn trial(blocks: usize) -> (Trial, Layout) {
    let vessel = Vessel::Container {
        volume: Amount::new(10.0, Unit::Litre),
        height: Amount::new(25.0, Unit::Centimetre),
        empty: None,
        kept: Kept::new(),
    };
    let mut treatments = vec![Treatment::new(Deed::Dug)];
    for id in ["yard_compost", "concrete_sand", "gypsum", "biochar"] {
        treatments.push(Treatment::of(id));
    }
    let mut trial = Trial::new(treatments, vessel, 20_260_401);
    trial.blocks = blocks;
    trial.seeds = Some(20);
    trial.primary = Some("root_fresh_g".to_owned());
    trial.matters = Some(20.0);
    let layout = trial.layout().expect("it can be set out");
    (trial, layout)
}

fn day() -> Date {
    Date::of(2026, 5, 4).expect("a day")
}

fn add(trial: &mut Trial, layout: &Layout, measure: &str, value: impl Fn(usize, usize) -> f64) {
    for (at, spot) in layout.spots.iter().enumerate() {
        let record = Record::of(at, day(), measure, value(spot.treatment, spot.block));
        let added = trial.add(layout.spots.len(), record);
        assert!(added.is_ok(), "{added:?}");
    }
}

fn seen(trial: &Trial, layout: &Layout, measure: &str) -> Seen {
    Seen::of(trial, layout, measure, When::Usual).expect("it is a measure")
}

#[test]
fn records_come_to_the_known_verdicts() {
    let (mut trial, layout) = trial(4);
    add(&mut trial, &layout, "root_fresh_g", |of, block| {
        RADISH[of][block]
    });
    let seen = seen(&trial, &layout, "root_fresh_g");
    let analysis = seen.analysed(&mut Limits::default()).expect("it reads");
    let verdicts: Vec<_> = analysis
        .comparisons
        .iter()
        .map(|row| row.verdict.as_ref().map(|judged| judged.verdict))
        .collect();
    assert_eq!(verdicts[0], Ok(Verdict::HelpedAtLeast), "compost");
    assert_eq!(verdicts[3], Ok(Verdict::HelpedUncertain), "biochar");
    let shown = seen.differences(&analysis);
    assert!(shown.in_percent, "masses are compared in percent");
    let [low, high] = shown.band.expect("20 % matters");
    assert!((high - 20.0).abs() < 1e-9, "{high}");
    assert!((low - 100.0 * (1.0 / 1.2 - 1.0)).abs() < 1e-9, "{low}");
    // Biochar of the published example: 1.122302 (1.000747 to 1.258623).
    let (_, estimate, range) = shown.rows[3];
    let [from, to] = range.expect("a range");
    assert!((estimate - 12.2302).abs() < 1e-3, "{estimate}");
    assert!(
        (from - 0.0747).abs() < 1e-2 && (to - 25.8623).abs() < 1e-2,
        "{from} {to}"
    );
    let table = variance_text(&analysis).expect("there is a table");
    assert!(table.contains("on 4 and 12 degrees"), "{table}");
    assert_eq!(measures_read(&trial), [("root_fresh_g".to_owned(), 20)]);
}

#[test]
fn a_lost_container_is_no_zero() {
    let (mut trial, layout) = trial(4);
    let third = layout
        .spots
        .iter()
        .position(|spot| spot.treatment == 1 && spot.block == 2)
        .expect("compost in the third block");
    for (at, spot) in layout.spots.iter().enumerate() {
        if at != third {
            let value = RADISH[spot.treatment][spot.block];
            let record = Record::of(at, day(), "root_fresh_g", value);
            trial.add(layout.spots.len(), record).expect("it goes in");
        }
    }
    trial.lost.push(Lost {
        container: third,
        reason: Missing::Animal,
        of_addition: None,
        on: None,
        note: String::new(),
        kept: Kept::new(),
    });
    let seen = seen(&trial, &layout, "root_fresh_g");
    assert!(seen.readings[third].value.is_nan(), "no number, and no 0");
    assert_eq!(seen.unasked, [third], "it is to be asked");
    assert!(seen.died.is_empty(), "nobody said so");
    let asked = unasked_text(&layout, &seen.unasked);
    assert!(asked.contains("whether the addition did it"), "{asked}");
    let analysis = seen.analysed(&mut Limits::default()).expect("it reads");
    let biochar = &analysis.comparisons[3];
    assert_eq!(
        biochar.verdict.as_ref().map(|judged| judged.verdict),
        Ok(Verdict::CannotTell),
        "one lost container turns it"
    );
    trial.lost[0].of_addition = Some(true);
    let seen = Seen::of(&trial, &layout, "root_fresh_g", When::Usual).expect("a measure");
    assert_eq!(seen.died, [third], "a result without its number");
    assert!(seen.unasked.is_empty(), "it is answered");
}

#[test]
fn one_container_each_has_dots_and_no_verdict() {
    let (mut trial, layout) = trial(1);
    add(&mut trial, &layout, "root_fresh_g", |of, _| RADISH[of][0]);
    let seen = seen(&trial, &layout, "root_fresh_g");
    let analysis = seen.analysed(&mut Limits::default()).expect("it reads");
    for row in &analysis.comparisons {
        assert_eq!(row.verdict, Err(NoVerdict::OneContainer));
        let text = seen_verdict_text(row, &seen, "g");
        assert!(text.starts_with("No verdict"), "{text}");
    }
    assert!(
        seen.differences(&analysis).band.is_none(),
        "nothing is judged"
    );
}

#[test]
fn what_is_neither_good_nor_bad_is_not_helped() {
    let (mut trial, layout) = trial(4);
    add(&mut trial, &layout, "ph", |of, block| {
        6.0 + 0.8 * of as f64 + 0.05 * ((block + of) % 3) as f64
    });
    let seen = seen(&trial, &layout, "ph");
    let analysis = seen.analysed(&mut Limits::default()).expect("it reads");
    let texts: Vec<String> = analysis
        .comparisons
        .iter()
        .map(|row| seen_verdict_text(row, &seen, ""))
        .collect();
    assert!(texts[3].starts_with("Higher, by at least"), "{texts:?}");
    assert!(!texts.join(" ").contains("elped"), "{texts:?}");
}

#[test]
fn seedlings_are_compared_in_points_of_those_sown() {
    let (mut trial, layout) = trial(4);
    add(&mut trial, &layout, "emerged_count", |of, block| {
        [12.0, 18.0, 12.0, 6.0, 12.0][of] + ((block + of) % 2) as f64
    });
    let seen = seen(&trial, &layout, "emerged_count");
    assert!(seen.of_sown, "20 seeds were sown");
    assert_eq!(seen.asked.scale, Scale::Raw, "in points");
    let analysis = seen.analysed(&mut Limits::default()).expect("it reads");
    let shown = seen.differences(&analysis);
    assert!(!shown.in_percent, "points are no percent of the control");
    assert!((shown.rows[0].1 - 30.0).abs() < 1e-9, "6 of 20 more");
    assert_eq!(shown.band, Some([-20.0, 20.0]));
}

#[test]
fn limits_are_drawn_and_not_averaged() {
    let (mut trial, layout) = trial(4);
    add(&mut trial, &layout, "infiltration_min", |of, block| {
        30.0 + 10.0 * of as f64 + block as f64
    });
    trial.records[3].censor = Censor::Above;
    let seen = seen(&trial, &layout, "infiltration_min");
    assert_eq!(seen.readings[3].limit, Limit::Above);
    let analysis = seen.analysed(&mut Limits::default()).expect("it reads");
    assert!(
        analysis
            .comparisons
            .iter()
            .all(|row| row.verdict == Err(NoVerdict::Limits))
    );
    assert!(seen.differences(&analysis).rows.is_empty(), "no bars");
}

#[test]
fn what_was_measured_goes_into_a_recipe_in_its_unit() {
    let density = as_measured("bulk_density_g_cm3", 1.25);
    assert_eq!(density, Some((Measurement::BulkDensity, 1250.0)));
    let air = as_measured("air_space", 0.12);
    assert_eq!(air, Some((Measurement::Drained, 12.0)));
    // 25 mm in 50 minutes are 30 mm in an hour.
    let (of, rate) = as_measured("infiltration_min", 50.0).expect("a rate");
    assert_eq!(of, Measurement::Ring);
    assert!((rate - 30.0).abs() < 1e-9, "{rate}");
    assert_eq!(as_measured("bulk_density_g_cm3", 0.02), None, "too light");
    assert_eq!(as_measured("root_fresh_g", 100.0), None, "no such thing");
}

#[test]
fn words_of_entry() {
    assert_eq!(typed_value("5,2"), Typed::Number(5.2), "a keypad's comma");
    assert_eq!(typed_value("1,234"), Typed::Comma, "or a thousand: ask");
    assert_eq!(typed_value("1,234.5"), Typed::Comma, "both");
    assert_eq!(typed_value("twelve"), Typed::Other, "a word");
    let mut record = Record::of(0, day(), "infiltration_min", 480.0);
    record.censor = Censor::Above;
    assert_eq!(record_text(&[&record], "min"), "> 480 min");
    let gone = Record::without(0, day(), "infiltration_min", Missing::Animal);
    assert_eq!(record_text(&[&gone], "min"), "an animal had it");
    assert_eq!(id_of_name("  Worms, per pail! "), "worms_per_pail");
    assert_eq!(
        id_of_name("虫"),
        "measure",
        "letters that a table does not take"
    );
    assert_eq!(difference_tick(-20.0, true), "−20 %");
    assert_eq!(difference_tick(0.05, false), "+0.05");
    let size = difference_text(39.2, Some([21.9, 59.1]), true, "g");
    assert_eq!(size, "+39 % (+22 to +59)");
}

fn is_round(value: f64) -> bool {
    if value == 0.0 {
        return true;
    }
    let power = libm::exp10(libm::floor(libm::log10(value.abs())));
    let digits = value.abs() / power;
    // At most two digits, as people read them.
    let tenths = digits * 10.0;
    (tenths - tenths.round()).abs() < 1e-6
}

#[test]
fn scales_are_round_and_hold_all() {
    let of = |values: &[f64], by_logs: bool| TrialScale::holding(values, by_logs, 10.0, 300.0);
    assert_eq!(
        of(&[82.0, 161.0], true).ticks,
        [80.0, 100.0, 120.0, 140.0, 160.0, 180.0]
    );
    assert_eq!(
        of(&[3.0, 95.0], false).ticks,
        [0.0, 20.0, 40.0, 60.0, 80.0, 100.0]
    );
    let wide = of(&[1.0, 480.0], true);
    assert!(wide.by_logs, "it spreads far");
    assert_eq!(wide.ticks.first(), Some(&1.0));
    assert!(
        (wide.x(10.0) - wide.x(1.0) - (wide.x(100.0) - wide.x(10.0))).abs() < 1e-9,
        "by factors"
    );
    let one = of(&[7.0, 7.0], false);
    assert!(
        one.low < 7.0 && one.high > 7.0,
        "one value has room on both sides"
    );
    let none = of(&[f64::NAN, f64::INFINITY], false);
    assert!(
        none.low < none.high && !none.ticks.is_empty(),
        "nothing has a scale too"
    );
}

#[test]
fn dots_do_not_cover_each_other() {
    let xs = [50.0, 50.0, 50.0, 51.0, 80.0];
    let offsets = swarm(&xs, 3.0, 20.0);
    for one in 0..xs.len() {
        for other in 0..one {
            let (dx, dy) = (xs[one] - xs[other], offsets[one] - offsets[other]);
            assert!(
                dx * dx + dy * dy >= 36.0 - 1e-6,
                "{one} and {other} cover each other"
            );
        }
    }
    assert_eq!(offsets[4], 0.0, "alone it stands in the middle");
}

#[test]
fn a_useless_range_does_not_flatten_the_others() {
    let rows = [(10.0, Some([-5.0, 25.0])), (12.0, Some([-90.0, 9000.0]))];
    let scale = difference_scale(&rows, Some([-16.7, 20.0]), -100.0, 0.0, 400.0);
    assert!(scale.high < 200.0 && scale.low >= -100.0, "{scale:?}");
    let bar = scale.bar(12.0, [-90.0, 9000.0]);
    assert!(bar.cut_right, "it goes on");
    assert!(
        !scale.bar(10.0, [-5.0, 25.0]).cut_right,
        "and this does not"
    );
    assert!(bar.from >= 0.0 && bar.to <= 400.0, "inside");
}

proptest! {
    #[test]
    fn everything_lies_inside(
        values in prop::collection::vec(prop_oneof![
            -1e6_f64..1e6, 0.0_f64..1.0, 1e-6_f64..1e9, Just(f64::NAN), Just(f64::INFINITY)
        ], 0..30),
        by_logs in any::<bool>(),
    ) {
        let scale = TrialScale::holding(&values, by_logs, 12.0, 250.0);
        for value in &values {
            let x = scale.x(*value);
            prop_assert!((12.0..=262.0).contains(&x), "{value} is at {x}");
            if value.is_finite() {
                prop_assert!(scale.holds(*value), "{value} is off {scale:?}");
            }
        }
        prop_assert!(scale.ticks.len() <= 12, "{} ticks crowd", scale.ticks.len());
        for pair in scale.ticks.windows(2) {
            prop_assert!(pair[0] < pair[1], "ticks rise");
        }
        for tick in &scale.ticks {
            prop_assert!(scale.holds(*tick), "{tick} is off {scale:?}");
        }
    }

    #[test]
    fn ticks_are_round(low in -1e3_f64..1e3, span in 0.5_f64..1e5) {
        let scale = TrialScale::holding(&[low, low + span], false, 0.0, 100.0);
        let step = scale.ticks[1] - scale.ticks[0];
        prop_assert!(is_round(step), "{step} is no round step");
        for tick in &scale.ticks {
            let steps = tick / step;
            prop_assert!((steps - steps.round()).abs() < 1e-4, "{tick} is no multiple of {step}");
        }
    }

    #[test]
    fn dots_stay_in_their_row(
        xs in prop::collection::vec(0.0_f64..300.0, 0..200),
        radius in 0.5_f64..8.0,
        half in 0.0_f64..40.0,
    ) {
        let offsets = swarm(&xs, radius, half);
        let room = (half - radius).max(0.0) + 1e-9;
        for offset in offsets {
            prop_assert!(offset.abs() <= room, "{offset} is out of its row");
        }
    }

    #[test]
    fn bars_lie_inside(
        rows in prop::collection::vec((-500.0_f64..500.0, -1e4_f64..1e4, 0.0_f64..1e5), 1..8),
    ) {
        let rows: Vec<_> = rows
            .into_iter()
            .map(|(at, from, wide)| (at.max(-100.0), Some([from, from + wide])))
            .collect();
        let scale = difference_scale(&rows, Some([-16.7, 20.0]), -100.0, 5.0, 300.0);
        prop_assert!(scale.low >= -100.0, "nothing is less than none");
        prop_assert!(scale.holds(0.0), "the control's line is there");
        for (at, range) in rows {
            let bar = scale.bar(at, range.unwrap_or_default());
            for x in [bar.x, bar.from, bar.to] {
                prop_assert!((5.0..=305.0).contains(&x), "{x} is outside");
            }
        }
    }
}
