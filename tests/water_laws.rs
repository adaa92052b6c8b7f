#![cfg(not(target_arch = "wasm32"))]
//! Laws that water and air of every blend must keep, tried on random recipes.

mod support;

use barrowmix::figure::{Ends, Figure};
use barrowmix::outcome::{Measure, Outcome};
use barrowmix::recipe::{Fault, Recipe};
use proptest::prelude::*;
use serde_json::{Value, json};
use support::blends::ROUNDING;
use support::dice::Dice;
use support::judge::judge;
use support::recipes;

/// What few nodes leave open of a mean over a height, in points.
const NODES: f64 = 0.1;

/// The outcome of a document; none where a line's own moisture makes a material that cannot be.
fn outcome(document: &Value) -> Option<Outcome> {
    match Outcome::of(&recipes::recipe(document)) {
        Ok(outcome) => Some(outcome),
        Err(error) => {
            assert!(
                matches!(error.fault, Fault::Misfit(_)),
                "{error:?} in {document}"
            );
            None
        }
    }
}

/// A random recipe that can be mixed.
fn random(seed: u64) -> (Value, Outcome) {
    let mut dice = Dice::new(seed);
    loop {
        let document = recipes::random(&mut dice);
        if let Some(outcome) = outcome(&document) {
            return (document, outcome);
        }
    }
}

/// Everything that is told of water and air, whatever the size of the blend.
fn told(of: &Outcome) -> Vec<Figure> {
    let (pores, ground) = (&of.pores_pct, &of.ground);
    let mut out = vec![
        pores.air,
        pores.available_water,
        pores.unavailable_water,
        pores.closed,
        of.drainage_mm_h,
        ground.lying_pores_pct.air,
        ground.lying_pores_pct.available_water,
        ground.lying_pores_pct.unavailable_water,
        ground.settled_air_pct,
        ground.settled_available_water_pct,
        ground.drainage_mm_h[0],
        ground.drainage_mm_h[1],
    ];
    if let Some(pot) = &of.container {
        out.extend([pot.water_pct, pot.air_pct, Figure::exact(pot.wet_layer_cm)]);
    }
    out
}

/// Whether two figures are one but for rounding.
fn alike(one: Figure, other: Figure, tolerance: f64) -> bool {
    let [one, other] = [one, other].map(|figure| {
        let Ends { low, high } = figure.ends();
        [low, figure.typical, high]
    });
    let pairs = one.into_iter().zip(other);
    pairs
        .into_iter()
        .all(|(one, other)| (one - other).abs() <= tolerance * one.abs().max(other.abs()).max(1.0))
}

/// Multiplies the value of an amount.
fn times(amount: &mut Value, by: f64) {
    let value = amount["value"].as_f64().expect("a number");
    amount["value"] = json!(value * by);
}

/// A recipe with an exact ground that is told with every number but its density.
fn bare(seed: u64) -> Value {
    let mut dice = Dice::new(seed);
    let [sand, silt, clay] = dice.shares_pct();
    json!({
        "barrowmix": 1,
        "ground": {
            "sand_pct": sand, "silt_pct": silt, "clay_pct": clay,
            "organic_matter_pct": dice.typed(0.0, 12.0), "gravel_pct": dice.typed(0.0, 40.0),
            "crumb": dice.typed(0.0, 1.0), "water_per_dry_pct": 20,
        },
        "soil": { "value": 100, "unit": "L" },
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn pores_are_filled_and_no_more(seed: u64) {
        let (document, outcome) = random(seed);
        let pores = outcome.pores_pct;
        let parts = [pores.air, pores.available_water, pores.unavailable_water, pores.closed];
        for part in parts {
            prop_assert!(part.typical >= 0.0 && part.ends().low >= 0.0, "{pores:?} of {document}");
        }
        let sum: f64 = parts.iter().map(|part| part.typical).sum();
        let space = outcome.pore_space_pct.settled.typical;
        prop_assert!((sum - space).abs() < 1e-9, "{sum} of {space} in {document}");
    }

    /// Room for water, water once drained, water that plants leave: in this order in every draw.
    #[test]
    fn waters_stand_in_order(seed: u64) {
        let (document, outcome) = random(seed);
        let column = |of| outcome.drawn.column(of);
        for (space, parts) in [
            (Measure::SettledPores, vec![
                Measure::Air, Measure::Available, Measure::Unavailable, Measure::Closed,
            ]),
            (Measure::LyingPores, vec![
                Measure::LyingAir, Measure::LyingAvailable, Measure::LyingUnavailable,
            ]),
        ] {
            for (draw, space) in column(space).iter().enumerate() {
                let parts: Vec<f64> = parts.iter().map(|part| column(*part)[draw]).collect();
                prop_assert!(parts.iter().all(|part| *part >= 0.0), "{parts:?} in {document}");
                let sum: f64 = parts.iter().sum();
                // Nothing is packed so that no pore is left; then nothing is held.
                let open = space.max(0.0);
                prop_assert!((sum - open).abs() < 1e-9, "{parts:?} of {space} in {document}");
            }
        }
        for of in [Measure::AloneAir, Measure::AloneAvailable] {
            prop_assert!(column(of).iter().all(|part| *part >= 0.0), "{of:?} in {document}");
        }
        for of in [Measure::Drainage, Measure::LyingDrainage, Measure::AloneDrainage] {
            prop_assert!(column(of).iter().all(|speed| *speed >= 0.0 && speed.is_finite()), "{of:?}");
        }
    }

    #[test]
    fn a_denser_ground_never_drains_faster(seed: u64, loose in 700.0..1570.0_f64, by in 1.0..1.4_f64) {
        let mut document = bare(seed);
        let mut speeds = Vec::new();
        for density in [loose, loose * by] {
            document["ground"]["bulk_density_kg_m3"] = json!(density);
            // Denser than its grains is a fault.
            let Ok(outcome) = Outcome::of(&recipes::recipe(&document)) else { return Ok(()) };
            speeds.push(outcome.ground.drainage_mm_h.map(|speed| speed.typical));
        }
        for at in 0..2 {
            prop_assert!(
                speeds[1][at] <= speeds[0][at] * (1.0 + ROUNDING),
                "{speeds:?} at {loose} and {} in {document}", loose * by
            );
        }
    }

    /// The same matter in less room never drains faster.
    #[test]
    fn crumbs_never_slow_water(seed: u64, low in 0.0..1.0_f64, high in 0.0..1.0_f64) {
        let (mut document, _) = random(seed);
        let mut of = |crumb: f64| {
            document["ground"]["crumb"] = json!(crumb);
            outcome(&document)
        };
        if let (Some(less), Some(more)) = (of(low.min(high)), of(low.max(high))) {
            prop_assert!(
                less.volume_l.settled.typical <= more.volume_l.settled.typical * (1.0 + ROUNDING),
                "volume in {document}"
            );
            prop_assert!(
                less.drainage_mm_h.typical <= more.drainage_mm_h.typical * (1.0 + 1e-9),
                "{:?} then {:?} in {document}", less.drainage_mm_h, more.drainage_mm_h
            );
        }
    }

    #[test]
    fn a_taller_pot_never_has_less_air(seed: u64, height in 1.0..100.0_f64, by in 1.0..3.0_f64) {
        let (mut document, _) = random(seed);
        let mut of = |height: f64| {
            document["place"] = json!({
                "kind": "container", "height": { "value": height, "unit": "cm" },
            });
            // What is told by area has none in such a place.
            let outcome = Outcome::of(&recipes::recipe(&document)).ok()?;
            outcome.container
        };
        if let (Some(low), Some(tall)) = (of(height), of(height * by)) {
            prop_assert!(
                tall.air_pct.typical >= low.air_pct.typical - NODES,
                "{:?} then {:?} in {document}", low.air_pct, tall.air_pct
            );
        }
    }

    /// Twice as much of everything, in twice as many places, is the same mix.
    #[test]
    fn more_of_the_same(seed: u64, by in 1..6_u32) {
        let (document, one) = random(seed);
        let by = f64::from(by);
        let mut larger = document.clone();
        let has_area = larger["soil"].get("area").is_some();
        if has_area {
            times(&mut larger["soil"]["area"], by);
        } else {
            times(&mut larger["soil"], by);
        }
        for addition in larger.get_mut("additions").and_then(Value::as_array_mut).into_iter().flatten() {
            let unit = addition["amount"]["unit"].as_str().expect("a unit").to_string();
            let is_share = ["%v", "%m", "part", "g/L"].contains(&&*unit);
            let is_rate = recipes::by_area(&unit);
            // A rate goes by the area: of the soil, or of a place that stays as it is.
            if !(is_share || is_rate && has_area) {
                times(&mut addition["amount"], by);
            }
        }
        if let Some(place) = larger.get_mut("place") {
            let count = place.get("count").and_then(Value::as_f64).unwrap_or(1.0);
            place["count"] = json!(count * by);
        }
        let Some(more) = outcome(&larger) else { return Ok(()) };
        for (at, (one, more)) in told(&one).into_iter().zip(told(&more)).enumerate() {
            prop_assert!(alike(one, more, 1e-6), "{at}: {one:?} then {more:?} in {document}");
        }
        let masses = [one.watered_kg, more.watered_kg.map(|kg| kg / by)];
        prop_assert!(alike(masses[0], masses[1], 1e-6), "{masses:?} in {document}");
    }

    #[test]
    fn nothing_added_is_the_ground_dug(seed: u64) {
        let (mut document, _) = random(seed);
        document["additions"] = json!([]);
        let Some(outcome) = outcome(&document) else { return Ok(()) };
        let (pores, ground) = (outcome.pores_pct, outcome.ground);
        for (what, blend, alone) in [
            ("air", pores.air, ground.settled_air_pct),
            ("water", pores.available_water, ground.settled_available_water_pct),
            ("drainage", outcome.drainage_mm_h, ground.drainage_mm_h[1]),
        ] {
            prop_assert!(alike(blend, alone, 1e-9), "{what}: {blend:?} and {alone:?} in {document}");
        }
    }

    #[test]
    fn order_changes_no_bit(seed: u64, first: prop::sample::Index, second: prop::sample::Index) {
        let (mut document, one) = random(seed);
        let additions = document.get_mut("additions").and_then(Value::as_array_mut);
        let Some(additions) = additions else { return Ok(()) };
        if additions.len() < 2 {
            return Ok(());
        }
        let (first, second) = (first.index(additions.len()), second.index(additions.len()));
        additions.swap(first, second);
        let other = outcome(&document).expect("the same lines");
        prop_assert_eq!(told(&one), told(&other), "in {}", document);
        prop_assert_eq!(one.watered_kg, other.watered_kg, "in {}", document);
    }
}

/// What stands at the ends of what can be told gives finite figures.
#[test]
fn ends_of_what_can_be() {
    let grounds = [
        r#""sand_pct":100,"silt_pct":0,"clay_pct":0"#,
        r#""sand_pct":0,"silt_pct":100,"clay_pct":0"#,
        r#""sand_pct":0,"silt_pct":0,"clay_pct":100"#,
        r#""sand_pct":0,"silt_pct":0,"clay_pct":100,"organic_matter_pct":100"#,
        r#""sand_pct":40,"silt_pct":40,"clay_pct":20,"gravel_pct":100"#,
        r#""sand_pct":40,"silt_pct":40,"clay_pct":20,"gravel_pct":99.9,"organic_matter_pct":99.9"#,
        r#""sand_pct":40,"silt_pct":40,"clay_pct":20,"bulk_density_kg_m3":200"#,
        r#""sand_pct":0,"silt_pct":0,"clay_pct":100,"bulk_density_kg_m3":2200"#,
        r#""sand_pct":0,"silt_pct":0,"clay_pct":100,"bulk_density_kg_m3":2350"#,
        r#""sand_pct":90,"silt_pct":5,"clay_pct":5,"bulk_density_kg_m3":2200,"organic_matter_pct":0"#,
    ];
    let additions = [
        "",
        r#"{"material":"sphagnum_peat","amount":{"value":50,"unit":"L"}}"#,
        r#"{"material":"perlite","amount":{"value":50,"unit":"L"}}"#,
        r#"{"material":"play_sand","amount":{"value":50,"unit":"L"}}"#,
        r#"{"material":"straw","amount":{"value":50,"unit":"L"}}"#,
        r#"{"material":"pea_gravel","amount":{"value":1e6,"unit":"L"}}"#,
        r#"{"material":"biochar_wood","amount":{"value":1e-9,"unit":"L"}}"#,
    ];
    let mut mixed = 0;
    for ground in grounds {
        for addition in additions {
            for soil in [0.0, 1.0] {
                for height in [1, 300] {
                    let text = format!(
                        r#"{{"barrowmix":1,"ground":{{{ground}}},"soil":{{"value":{soil},"unit":"L"}},
                        "additions":[{addition}],
                        "place":{{"kind":"container","height":{{"value":{height},"unit":"cm"}}}}}}"#
                    );
                    mixed += usize::from(judge(Recipe::from_json(&text), &text));
                    if let Ok(outcome) = Recipe::from_json(&text).and_then(|of| Outcome::of(&of)) {
                        for figure in told(&outcome) {
                            let Ends { low, high } = figure.ends();
                            let ordered = low <= figure.typical && figure.typical <= high;
                            assert!(ordered && low >= 0.0, "{figure:?} of {text}");
                        }
                    }
                }
            }
        }
    }
    assert!(mixed > 150, "only {mixed} could be mixed");
}
