#![cfg(not(target_arch = "wasm32"))]
//! The section on water: its geometry, and what it tells against a second way.

mod support;

use barrowmix::outcome::{
    Home, Measure, Outcome, TALLER, USED_UP, Use, Watered, days, drainage_odds, middle_half,
};
use barrowmix::plot::{CurveFrame, DOT_RADIUS, PotFrame, curve_top_pct, ruler};
use barrowmix::recipe::Recipe;
use barrowmix::water::pot::Pot;
use barrowmix::water::retention::{FIELD_CM, Retention, Store, WILTING_CM};
use barrowmix::words::{METRIC, Speech, Units, drainage_told, pot_points, pot_sentence};
use serde_json::{Value, json};
use support::{assert_close, blends, recipes};

fn store() -> Store {
    Store {
        fine: Retention::through(0.0, 0.50, 0.33, 0.18),
        open: 0.08,
        open_cm: 5.0,
    }
}

const FRAME: CurveFrame = CurveFrame {
    left: 30.0,
    top: 20.0,
    width: 400.0,
    height: 200.0,
    most_pct: 80.0,
};

#[test]
fn the_curve_falls_within_its_frame() {
    let line = FRAME.line(&store());
    assert_eq!(line[0][0], 30.0, "it begins at the left edge");
    assert_close(
        line[line.len() - 1][0],
        430.0,
        1e-9,
        "and ends at the right",
    );
    for pair in line.windows(2) {
        assert!(pair[1][0] > pair[0][0], "to the right: {pair:?}");
        assert!(pair[1][1] >= pair[0][1], "less and less water: {pair:?}");
    }
    // Each factor of ten is as wide as the next.
    let step = FRAME.x(100.0) - FRAME.x(10.0);
    assert_close(FRAME.x(1000.0) - FRAME.x(100.0), step, 1e-9, "decades");
    assert_eq!(FRAME.y(0.0), 220.0, "no water at the foot");
    assert_eq!(FRAME.y(80.0), 20.0, "the most at the top");
    assert_eq!(FRAME.y(200.0), 20.0, "held there");
    assert!(FRAME.x(FIELD_CM) < FRAME.x(WILTING_CM), "in this order");
    assert_eq!(
        [
            curve_top_pct(&[52.0]),
            curve_top_pct(&[52.0, 61.0]),
            curve_top_pct(&[140.0])
        ],
        [60.0, 80.0, 100.0],
        "few tops"
    );
}

#[test]
fn dots_cover_the_share_of_air() {
    for (bottom, top) in [(20.0, 20.0), (14.0, 22.0)] {
        let frame = PotFrame::fit(20.0, Some([bottom, top]), [10.0, 20.0], [300.0, 240.0]);
        let [low, high] = frame.halves;
        let area = (low + high) * 20.0 * frame.scale;
        for air in [0.05, 0.1, 0.2, 0.35] {
            let dots = frame.dots(|_| air);
            let covered = dots.len() as f64 * std::f64::consts::PI * DOT_RADIUS * DOT_RADIUS;
            assert_close(covered / area, air, 0.15 * air + 0.004, "share of the area");
            for [x, y] in &dots {
                let cm = (frame.bottom - y) / frame.scale;
                assert!((0.0..=20.0).contains(&cm), "within its height: {cm}");
                assert!(
                    (x - frame.middle).abs() < frame.half(cm),
                    "within its walls"
                );
            }
        }
        let few = frame.dots(|_| 0.1);
        let more = frame.dots(|_| 0.2);
        assert!(
            few.iter().all(|dot| more.contains(dot)),
            "a dot stays where it is"
        );
        assert!(frame.dots(|_| 0.0).is_empty(), "no air, no dots");
        let rising = frame.dots(|cm| 0.02 * cm);
        let above = rising.iter().filter(|dot| dot[1] < frame.y(10.0)).count();
        assert!(above * 2 > rising.len(), "more where there is more air");
    }
}

#[test]
fn pots_fit_their_box() {
    for (height, widths) in [
        (24.0, Some([20.0, 28.0])),
        (24.0, Some([28.0, 20.0])),
        (2.0, Some([200.0, 200.0])),
        (300.0, Some([1.0, 3.0])),
        (30.0, None),
        (0.0, Some([0.0, 0.0])),
    ] {
        let frame = PotFrame::fit(height, widths, [40.0, 30.0], [150.0, 200.0]);
        let [low, high] = frame.halves;
        assert!(
            low <= 75.0 + 1e-9 && high <= 75.0 + 1e-9,
            "as wide as the box: {frame:?}"
        );
        assert!(low.max(high) > 5.0, "and to be seen: {frame:?}");
        assert!(
            frame.y(frame.height_cm) >= 30.0 - 1e-9,
            "as high as the box: {frame:?}"
        );
        if let Some([bottom, top]) = widths.filter(|widths| widths[0] > 0.0) {
            assert_close(low / high, bottom / top, 1e-9, "its taper");
        }
    }
    assert_eq!(ruler(24.0), [0.0, 5.0, 10.0, 15.0, 20.0], "steps of five");
    assert_eq!(ruler(7.0).len(), 8, "of one");
    assert_eq!(
        ruler(300.0),
        [0.0, 50.0, 100.0, 150.0, 200.0, 250.0, 300.0],
        "of fifty"
    );
    assert_eq!(ruler(f64::INFINITY).len(), 9, "it ends");
}

fn demo_in(place: &Value) -> (Recipe, Outcome) {
    let text = include_str!("../examples/recipes/willowbank.json");
    let mut document: Value = serde_json::from_str(text).expect("it is JSON");
    document["place"] = place.clone();
    let recipe = recipes::recipe(&document);
    let outcome = blends::outcome(&recipe);
    (recipe, outcome)
}

fn pot(cm: f64) -> Value {
    json!({ "kind": "container", "height": { "value": cm, "unit": "cm" } })
}

#[test]
fn homes_are_told_apart() {
    let home = |place: &Value| {
        let (recipe, outcome) = demo_in(place);
        Home::of(&recipe, &outcome)
    };
    assert!(
        matches!(home(&pot(20.0)), Home::Pot(pot) if (pot.height_cm - 20.0).abs() < 1e-9),
        "a pot"
    );
    assert_eq!(
        home(&json!({ "kind": "container" })),
        Home::PotOfNoHeight,
        "no height"
    );
    assert_eq!(
        home(&json!({ "kind": "bed" })),
        Home::Bed(Some(20.0)),
        "as deep as it is dug"
    );
    assert_eq!(
        home(&json!({})),
        Home::Bed(Some(20.0)),
        "dug by area and depth"
    );
    assert_eq!(
        home(&json!({ "on": "roof" })),
        Home::PotOfNoHeight,
        "a roof keeps its water"
    );
}

/// The days again, by sheets of water: volume over the top.
#[test]
fn days_follow_the_water_over_the_top() {
    let place = json!({ "kind": "container", "height": { "value": 25, "unit": "cm" },
        "top_width": { "value": 30, "unit": "cm" }, "bottom_width": { "value": 20, "unit": "cm" } });
    let (recipe, outcome) = demo_in(&place);
    let watered = Watered::of(&recipe, &outcome);
    let container = outcome.container.expect("a pot");
    let litres = std::f64::consts::PI / 12.0 * 25.0 * (900.0 + 600.0 + 400.0) / 1000.0;
    let top_m2 = std::f64::consts::PI * 0.15 * 0.15;
    for of in Use::ALL {
        let days = days(&outcome, watered.home, of).expect("a height is told");
        let usable = container.water_pct.typical - outcome.pores_pct.unavailable_water.typical;
        let mm = usable / 100.0 * litres / top_m2;
        assert_close(days.typical, mm * USED_UP / of.mm_per_day(), 1e-9, "days");
        let ends = days.ends();
        assert!(
            ends.low <= days.typical && days.typical <= ends.high,
            "in order: {days:?}"
        );
    }
    let [kept, air] = watered.blend.in_pot_pct(&container.pot);
    assert_close(
        kept,
        container.water_pct.typical,
        1e-9,
        "the kernel's water",
    );
    assert_close(air, container.air_pct.typical, 1e-9, "and air");
}

#[test]
fn gravel_lifts_and_height_drains() {
    for cm in [8.0, 15.0, 30.0, 60.0] {
        let (recipe, outcome) = demo_in(&pot(cm));
        let watered = Watered::of(&recipe, &outcome);
        let shape = Pot::straight(cm);
        let air = watered.blend.in_pot_pct(&shape)[1];
        let over = watered
            .blend
            .air_over_gravel_pct(&shape, 3.0)
            .expect("room is left");
        assert!(over < air, "less air over gravel: {over} of {air}");
        let shorter = watered.blend.in_pot_pct(&Pot::straight(cm - 3.0))[1];
        assert_close(over, shorter, 1e-9, "as in a pot that much lower");
        let taller = watered.blend.in_pot_pct(&Pot::straight(cm * TALLER))[1];
        assert_close(
            watered.blend.air_if_taller_pct(&shape),
            taller,
            1e-9,
            "taller",
        );
        assert!(taller > air, "more air in a taller one");
        assert!(
            watered.blend.wet_layer_cm(&shape) <= cm,
            "no higher than the mix"
        );
    }
    let (recipe, outcome) = demo_in(&pot(5.0));
    let watered = Watered::of(&recipe, &outcome);
    assert_eq!(
        watered.blend.air_over_gravel_pct(&Pot::straight(5.0), 3.0),
        None,
        "too little left"
    );
}

#[test]
fn sentences_are_whole_in_every_home() {
    let places = [
        pot(20.0),
        pot(1.0),
        pot(300.0),
        json!({ "kind": "container" }),
        json!({ "kind": "bed" }),
        json!({}),
    ];
    for place in &places {
        let (recipe, outcome) = demo_in(place);
        let watered = Watered::of(&recipe, &outcome);
        for units in [Units::Metric, Units::Us] {
            let speech = Speech { units };
            let mut texts = pot_points(&watered, &outcome, speech);
            texts.push(pot_sentence(&outcome, watered.home, speech));
            let shares = drainage_odds(&outcome, Measure::Drainage);
            assert_close(shares.iter().sum(), 1.0, 1e-9, "every draw has a class");
            let class = outcome.texture.map(|texture| texture.class);
            let told = drainage_told(
                outcome.drainage_mm_h,
                &shares,
                middle_half(&outcome, Measure::Drainage),
                class,
                speech,
            );
            texts.extend([told.class, told.odds, told.hole, told.rain, told.ring]);
            let all = texts.join("\n");
            assert!(
                !all.contains("NaN") && !all.contains("inf") && !all.contains("  "),
                "{all}"
            );
            if units == Units::Us {
                assert!(!all.contains(" cm") && !all.contains(" mm"), "{all}");
            }
        }
    }
    let (_, outcome) = demo_in(&pot(20.0));
    let told = drainage_told(
        outcome.ground.drainage_mm_h[0],
        &[],
        middle_half(&outcome, Measure::LyingDrainage),
        outcome.ground.class,
        METRIC,
    );
    let figures = |text: &str| text.chars().any(|c| c.is_ascii_digit());
    assert!(
        !figures(&told.rain) && !figures(&told.hole) && !figures(&told.ring),
        "clay has words only: {told:?}"
    );
}
