#![cfg(not(target_arch = "wasm32"))]
//! What one lot is and costs, by hand; damp sand by common practice.

mod support;

use barrowmix::errand::Lot;
use barrowmix::errand::offer::bulking;
use barrowmix::outcome::Outcome;
use serde_json::{Value, json};
use support::errands::{judge, read};

/// A sand of 0.25 mm, 1,500 kg/m3 loose and dry, and a compost of 600 kg/m3 with 40 % water.
fn lots(offers: Value, waste_pct: f64) -> (Vec<Lot>, barrowmix::errand::judge::Judge) {
    let case = read(json!({
        "barrowmix": 1,
        "ground": { "sand_pct": 20, "silt_pct": 30, "clay_pct": 50 },
        "soil": { "value": 2000, "unit": "L" },
        "materials": [
            { "id": "fine_sand", "group": "sand", "loose_density_kg_m3": 1500, "grain_mm": 0.25,
                "grain_density_kg_m3": 2650, "solid_density_kg_m3": 2650 },
            { "id": "grit", "group": "grit", "loose_density_kg_m3": 1500, "grain_mm": 5,
                "grain_density_kg_m3": 2650, "solid_density_kg_m3": 2650 },
            { "id": "heap", "group": "compost_manure", "loose_density_kg_m3": 600,
                "water_per_wet_pct": 40, "organic_matter_pct": 50 },
        ],
        "errand": { "offers": offers, "waste_pct": waste_pct,
            "wish": { "organic_matter_pct": { "least": 3 } } },
    }));
    let judge = judge(&case);
    (judge.sold.iter().map(|(_, _, lot)| *lot).collect(), judge)
}

fn offer(material: &str, size: (f64, &str), price: (f64, f64, &str), more: Value) -> Value {
    let mut out = json!({
        "material": material,
        "bag": { "value": size.0, "unit": size.1 },
        "price": { "value": price.0, "per": { "value": price.1, "unit": price.2 } },
    });
    for (name, value) in more.as_object().into_iter().flatten() {
        out[name] = value.clone();
    }
    out
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * b.abs().max(1e-9)
}

#[test]
fn one_price_in_any_measure_is_one_price() {
    // 25 kg of a sand of 1,500 kg/m3 are a sixtieth of a cubic metre.
    let sand = |price| offer("fine_sand", (25.0, "kg"), price, json!({}));
    let heap = |size, price| offer("heap", size, price, json!({}));
    let (lots, _) = lots(
        json!([
            sand((4.20, 1.0, "bag")),
            sand((168.0, 1.0, "t")),
            sand((0.168, 1.0, "kg")),
            sand((252.0, 1.0, "m3")),
            sand((8.40, 2.0, "bag")),
            // 40 L of 600 kg/m3 are 24 kg as sold, of which 14.4 kg are dry.
            heap((40.0, "L"), (6.0, 1.0, "bag")),
            heap((40.0, "L"), (150.0, 1.0, "m3")),
            heap((40.0, "L"), (250.0, 1.0, "t")),
            heap((24.0, "kg"), (0.15, 1.0, "L")),
        ]),
        0.0,
    );
    for lot in &lots[..5] {
        assert!(near(lot.price, 4.20), "of 25 kg of sand: {lot:?}");
        assert!(
            near(lot.moist_kg, 25.0) && near(lot.loose_m3, 1.0 / 60.0),
            "{lot:?}"
        );
    }
    for lot in &lots[5..] {
        assert!(near(lot.price, 6.0), "of 40 L of compost: {lot:?}");
        assert!(
            near(lot.moist_kg, 24.0) && near(lot.dry_kg, 14.4),
            "{lot:?}"
        );
        assert!(near(lot.loose_m3, 0.04), "{lot:?}");
    }
}

#[test]
fn money_is_counted_to_the_cent() {
    let (lots, judge) = lots(
        json!([
            offer("fine_sand", (25.0, "kg"), (1.0, 3.0, "bag"), json!({})),
            offer(
                "heap",
                (40.0, "L"),
                (0.1, 1.0, "L"),
                json!({ "delivery": 12.34 })
            ),
            offer(
                "grit",
                (0.25, "m3"),
                (48.0, 1.0, "m3"),
                json!({ "delivery": 45, "load": { "value": 1, "unit": "m3" } })
            ),
        ]),
        0.0,
    );
    // Three for one: a hundred are 33.33, rounded once; three of them are one, and not 99 cents.
    assert_eq!(lots[0].cost(100), 33.33, "money is rounded once");
    assert_eq!(lots[0].cost(3), 1.0, "and never for each lot");
    // Four a bag, brought once however many there are.
    for (count, costs) in [(0, 0.0), (1, 16.34), (7, 40.34)] {
        assert_eq!(lots[1].cost(count), costs, "{count} bags");
    }
    // Twelve a lot of 0.25 m3, four in a load; a load that is begun is paid for.
    for (count, loads, costs) in [
        (1, 1, 57.0),
        (4, 1, 93.0),
        (5, 2, 150.0),
        (8, 2, 186.0),
        (9, 3, 243.0),
    ] {
        assert_eq!(
            (lots[2].loads(count), lots[2].cost(count)),
            (loads, costs),
            "{count} lots"
        );
    }
    assert_eq!(judge.cost(&[3, 1, 5]), 167.34, "all together");
}

#[test]
fn a_load_by_mass_holds_whole_lots() {
    let load = |value: f64| json!({ "load": { "value": value, "unit": "kg" }, "delivery": 10 });
    let sand = |value| offer("fine_sand", (25.0, "kg"), (1.0, 1.0, "bag"), load(value));
    let (lots, _) = lots(json!([sand(75.0), sand(99.9), sand(100.0)]), 0.0);
    let each: Vec<f64> = lots.iter().map(|lot| lot.per_load).collect();
    assert_eq!(
        each,
        [3.0, 3.0, 4.0],
        "75, 99.9 and 100 kg of bags of 25 kg"
    );
}

#[test]
fn waste_never_reaches_the_blend() {
    let bag = || {
        json!([offer(
            "fine_sand",
            (25.0, "kg"),
            (4.2, 1.0, "bag"),
            json!({})
        )])
    };
    let mass = |waste_pct: f64| {
        let (_, judge) = lots(bag(), waste_pct);
        let with = judge.recipe(&[10]).expect("a recipe");
        let without = judge.recipe(&[0]).expect("a recipe");
        let dry = |recipe| Outcome::of(recipe).expect("an outcome").dry_kg.typical;
        (dry(&with) - dry(&without), judge.cost(&[10]))
    };
    let (all, costs) = mass(0.0);
    let (most, still) = mass(8.0);
    assert!((all - 250.0).abs() < 1e-6, "ten bags: {all}");
    assert!((most - 230.0).abs() < 1e-6, "with 8 % spilt: {most}");
    assert_eq!((costs, still), (42.0, 42.0), "what is spilt is paid for");
}

#[test]
fn wetter_compost_by_weight_is_less_compost() {
    // 24 kg with 40 % water hold 14.4 kg dry; with 60 % 9.6 kg.
    let heap = |more| offer("heap", (24.0, "kg"), (6.0, 1.0, "bag"), more);
    let (lots, judge) = lots(
        json!([heap(json!({})), heap(json!({ "water_per_wet_pct": 60 }))]),
        0.0,
    );
    assert!(
        near(lots[0].dry_kg, 14.4) && near(lots[1].dry_kg, 9.6),
        "{lots:?}"
    );
    let dry = |lots: &[u32]| {
        let recipe = judge.recipe(lots).expect("a recipe");
        Outcome::of(&recipe).expect("an outcome").dry_kg.typical
    };
    let ground = dry(&[0, 0]);
    assert!(
        (dry(&[5, 0]) - ground - 72.0).abs() < 1e-6,
        "five bags as usual"
    );
    assert!((dry(&[0, 5]) - ground - 48.0).abs() < 1e-6, "five wet ones");
}

/// Moist mass over dry mass less one, from water over moist mass.
fn wet(per_dry: f64) -> f64 {
    per_dry / (1.0 + per_dry)
}

#[test]
fn damp_sand_bulks_by_a_fifth_to_two_fifths() {
    for grain_mm in [0.15, 0.25, 0.4, 0.5, 0.7, 1.0] {
        for per_dry in [0.05, 0.06, 0.07, 0.08] {
            let more = bulking(grain_mm, wet(per_dry));
            assert!(
                (0.199..=0.401).contains(&more),
                "{grain_mm} mm at {per_dry}: {more}"
            );
        }
    }
    let at = |grain_mm| bulking(grain_mm, wet(0.06));
    assert!(
        at(0.25) > at(0.5) && at(0.5) > at(1.0) && at(1.0) > at(3.0),
        "fine sand most"
    );
    assert_eq!(at(8.0), 0.0, "and gravel not at all");
    assert_eq!(bulking(0.25, 0.0), 0.0, "dry");
    assert_eq!(bulking(0.25, wet(0.30)), 0.0, "flooded, as when dry");
    let mut last = f64::INFINITY;
    for step in 8..30 {
        let now = bulking(0.25, wet(f64::from(step) / 100.0));
        assert!(now <= last, "wetter than 8 % it sinks again");
        last = now;
    }
}

#[test]
fn a_litre_of_damp_fine_sand_holds_a_quarter_less() {
    let at = |water: f64| json!({ "water_per_wet_pct": 100.0 * wet(water) });
    let litre = |water| offer("fine_sand", (1.0, "L"), (1.0, 1.0, "bag"), at(water));
    let bag = |water| offer("fine_sand", (10.0, "kg"), (1.0, 1.0, "bag"), at(water));
    let (lots, judge) = lots(
        json!([litre(0.0), litre(0.06), litre(0.30), bag(0.0), bag(0.06)]),
        0.0,
    );
    let share = lots[1].dry_kg / lots[0].dry_kg;
    assert!(
        (0.70..=0.78).contains(&share),
        "about three quarters: {share}"
    );
    assert!(near(lots[2].dry_kg, lots[0].dry_kg), "flooded as dry");
    // By weight only the water is paid for, whatever room it takes.
    assert!(
        near(lots[4].dry_kg, 10.0 / 1.06) && near(lots[3].dry_kg, 10.0),
        "{lots:?}"
    );
    assert!(near(lots[4].moist_kg, 10.0), "as it is weighed");
    // What counts is sand, so equal dry masses are one blend.
    let outcome = |lots: &[u32]| {
        let recipe = judge.recipe(lots).expect("a recipe");
        Outcome::of(&recipe).expect("an outcome")
    };
    let dry = outcome(&[0, 0, 0, 0, 0]).dry_kg.typical;
    let damp = outcome(&[0, 400, 0, 0, 0]).dry_kg.typical - dry;
    assert!((damp - 400.0 * lots[1].dry_kg).abs() < 1e-6, "{damp} kg");
    let by_weight = outcome(&[0, 0, 0, 0, 40]).dry_kg.typical - dry;
    assert!((by_weight - 400.0 / 1.06).abs() < 1e-6, "{by_weight} kg");
}

#[test]
fn peat_in_a_bale_counts_as_it_expands() {
    let bale = json!([{
        "material": "heap", "bag": { "value": 100, "unit": "L", "expands": 2 },
        "price": { "value": 20, "per": { "value": 1, "unit": "bag" } },
    }]);
    let (lots, _) = lots(bale, 0.0);
    assert!(
        near(lots[0].loose_m3, 0.2) && near(lots[0].moist_kg, 120.0),
        "{lots:?}"
    );
}
