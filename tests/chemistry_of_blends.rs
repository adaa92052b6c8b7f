#![cfg(not(target_arch = "wasm32"))]
//! The chemistry of blends: worked examples of others, laws, and where the cautions turn.

mod support;

use barrowmix::blend::{Barrow, Chemistry};
use barrowmix::caution::Care;
use barrowmix::figure::Figure;
use barrowmix::outcome::{Chemical, Outcome};
use barrowmix::recipe::Recipe;
use serde_json::{Value, json};
use support::recipes;

fn outcome(recipe: &Value) -> Outcome {
    let read = recipes::recipe(recipe);
    Outcome::of(&read).unwrap_or_else(|error| panic!("{error:?}: {recipe}"))
}

fn chemical(recipe: &Value) -> Chemical {
    outcome(recipe).chemical
}

/// A clay loam of which a kilogram buffers 4 cmol for a pH unit by the rule (clay 33 %, organic
/// carbon 1.96 %), 1.2 kg/L, with so much of a peat of 0.10 kg/L and of 40 cmol, both exact.
fn peat(percent: f64, ph: f64, carbonate: f64) -> Value {
    // 0.05 x 33 + 1.2 x OC = 4 where OC is 1.958 %, or 3.721 % of organic matter at 1.9.
    let organic = (4.0 - 0.05 * 33.0) / 1.2 * 1.9;
    json!({
        "barrowmix": 1,
        "ground": { "sand_pct": 33, "silt_pct": 34, "clay_pct": 33, "organic_matter_pct": organic,
                    "bulk_density_kg_m3": 1200, "water_per_dry_pct": 0, "ph": ph,
                    "carbonate_pct": carbonate },
        "soil": { "value": 1.2 * (100.0 - percent), "unit": "kg" },
        "additions": [{ "material": "peat", "amount": { "value": percent, "unit": "L" } }],
        "materials": [{ "id": "peat", "group": "peat_coir", "loose_density_kg_m3": 100,
                        "organic_matter_pct": 95, "ph": 4.0, "buffer_cmol_kg_ph": 40 }],
    })
}

/// Peat by volume into a clay loam without lime, by the mean weighed with buffering (computed; the
/// mean is that of a titration with constant buffering), and by mass and volume one to one.
#[test]
fn peat_lowers_ph_by_its_buffering() {
    for (percent, ph) in [
        (10.0, 6.745_763),
        (20.0, 6.482_759),
        (30.0, 6.210_526),
        (40.0, 5.928_571),
        (50.0, 5.636_364),
    ] {
        let told = chemical(&peat(percent, 7.0, 0.0)).ph.expect("a pH");
        assert!(
            (told.typical - ph).abs() < 1e-6,
            "{percent} %: {} for {ph}",
            told.typical
        );
        assert!(
            told.ends().low < told.typical && told.ends().high > told.typical,
            "a band"
        );
    }
    let told = chemical(&peat(50.0, 7.5, 0.0)).ph.expect("a pH");
    assert!((told.typical - 5.909_091).abs() < 1e-6, "{told:?}");
    // One to one by mass.
    let mut equal = peat(50.0, 7.5, 0.0);
    equal["soil"] = json!({ "value": 5.0, "unit": "kg" });
    equal["additions"][0]["amount"] = json!({ "value": 5.0, "unit": "kg" });
    let told = chemical(&equal).ph.expect("a pH");
    assert!((told.typical - 4.318_182).abs() < 1e-6, "{told:?}");
}

/// Two percent of lime beat half of peat by volume: the reserve, 39.97 cmol/kg, is more than the
/// demand (computed from atomic masses).
#[test]
fn lime_holds_against_peat_until_it_is_used_up() {
    // As the reserve is more than the demand, the measured reaction holds.
    let told = chemical(&peat(50.0, 7.8, 2.0)).ph.expect("a pH");
    let ends = told.ends();
    assert!(
        ends.low >= 7.6 && ends.high <= 8.2 && (told.typical - 7.8).abs() < 1e-9,
        "{told:?}"
    );
    // One that stood lower than lime holds stays there or rises, at most to what lime holds.
    let told = chemical(&peat(50.0, 7.0, 2.0)).ph.expect("a pH");
    let ends = told.ends();
    assert!((told.typical - 7.0).abs() < 1e-9, "{told:?}");
    assert!(ends.high > 7.6 && ends.high <= 8.2, "{told:?}");
    // One that was not measured stands where lime holds it (common practice: 7.8 to 8.2).
    let mut unknown = peat(50.0, 7.0, 2.0);
    let ground = unknown["ground"].as_object_mut().expect("an object");
    ground.remove("ph");
    let told = chemical(&unknown).ph.expect("a pH");
    let ends = told.ends();
    assert!(
        ends.low >= 7.8 - 1e-9 && ends.high <= 8.2 + 1e-9,
        "{told:?} about 8"
    );
    // Demand of the peat and the ground to 7.8: 0.05 L x 0.1 x 40 x 3.8 for 0.6 kg of ground.
    let demand_cmol_kg = (5.0 * 40.0 * 3.8) / 60.0;
    let enough_pct = demand_cmol_kg / 19.983;
    let short = outcome(&peat(50.0, 7.8, 0.9 * enough_pct));
    let long = outcome(&peat(50.0, 7.8, 1.1 * enough_pct));
    assert!(short.chemistry.ph < 7.8 - 1e-6, "{:?}", short.chemistry);
    assert!(short.chemistry.lime_left_pct <= 0.0, "all of it is used");
    assert!(
        (long.chemistry.ph - 7.8).abs() < 1e-9,
        "{:?}",
        long.chemistry
    );
    assert!(long.chemistry.lime_left_pct > 0.0, "some is left");
}

/// Compost of 3 dS/m at 1:5 by volume and by mass in a clay loam (computed mass balance with the
/// factor of Slavich & Petterson 1993, Aust. J. Soil Res. 31:73-81).
#[test]
fn salts_add_by_dry_mass() {
    let recipe = |soil_kg: f64, compost_kg: f64| {
        json!({
            "barrowmix": 1,
            "ground": { "sand_pct": 33, "silt_pct": 34, "clay_pct": 33, "organic_matter_pct": 3,
                        "bulk_density_kg_m3": 1200, "water_per_dry_pct": 0, "ec_1to5_ds_m": 0.15 },
            "soil": { "value": soil_kg, "unit": "kg" },
            "additions": [{ "material": "c", "amount": { "value": compost_kg, "unit": "kg" } }],
            "materials": [{ "id": "c", "group": "compost_manure", "loose_density_kg_m3": 350,
                            "organic_matter_pct": 40, "ec_1to5_ds_m": 3.0, "coarse_pct": 0 }],
        })
    };
    for (soil_kg, compost_kg, ec) in [(0.96, 0.07, 0.343_689), (0.8, 0.2, 0.72)] {
        let told = chemical(&recipe(soil_kg, compost_kg));
        assert!(
            (told.ec_1to5_ds_m.typical - ec).abs() < 1e-5,
            "{:?} for {ec}",
            told.ec_1to5_ds_m
        );
        let whole = soil_kg + compost_kg;
        // A clay loam of 33 % clay holds 0.49, the compost 1.2.
        let paste = (soil_kg * 0.49 + compost_kg * 1.2) / whole;
        let ece = (2.46 + 3.03 / paste) * ec;
        assert!(
            (told.ec_paste_ds_m.typical - ece).abs() < 1e-4 * ece,
            "{:?} for {ece}",
            told.ec_paste_ds_m
        );
        assert_eq!(
            told.ec_paste_ds_m, told.ec_stress_ds_m,
            "there is no gypsum"
        );
    }
}

/// Gypsum: neutral, and its salt by what dissolves, not by its mass (2.2 dS/m at 2.4 g/L, from
/// memory); a saturation extract of a clay reads up to 2.2 more, and crops feel none of it.
#[test]
fn gypsum_is_neutral_and_its_salt_is_what_dissolves() {
    let recipe = |kg: f64| {
        json!({
            "barrowmix": 1,
            "ground": { "sand_pct": 20, "silt_pct": 30, "clay_pct": 50, "ph": 6.4,
                        "ec_saturated_paste_ds_m": 0.5, "water_per_dry_pct": 0 },
            "soil": { "value": 1000, "unit": "kg" },
            "additions": [{ "material": "gypsum", "amount": { "value": kg, "unit": "kg" } }],
        })
    };
    let none = chemical(&recipe(0.0));
    assert!((none.ec_paste_ds_m.typical - 0.5).abs() < 1e-12, "as given");
    let mut last = 0.0;
    for kg in [0.2, 1.0, 5.0, 100.0] {
        let told = chemical(&recipe(kg));
        let ph = told.ph.expect("a pH");
        assert!((ph.typical - 6.4).abs() < 1e-9, "{ph:?} with {kg} kg");
        let own = told.ec_paste_ds_m.typical - told.ec_stress_ds_m.typical;
        assert!(own > 0.0 && own <= 2.2 + 1e-9, "{own} dS/m of {kg} kg");
        assert!(own >= last, "more gypsum is not less salt");
        assert!(
            told.ec_stress_ds_m.typical <= 0.5 + 1e-9,
            "crops feel none of it"
        );
        last = own;
    }
    assert!((last - 2.2).abs() < 1e-9, "saturated: {last}");
    // At 1:5 a tenth of gypsum is far beyond saturation.
    let full = chemical(&recipe(100.0));
    assert!(
        full.ec_1to5_ds_m.typical <= 2.2 + 0.1,
        "{:?}",
        full.ec_1to5_ds_m
    );
}

/// What cannot be told is absent, and what is told is finite, at the ends of what a report can say.
#[test]
fn ends_of_a_report_give_finite_figures() {
    for report in [
        json!({ "ph": 0 }),
        json!({ "ph": 14 }),
        json!({ "cec_cmol_kg": 0 }),
        json!({ "sodium_share_pct": 100 }),
        json!({ "ec_saturated_paste_ds_m": 50 }),
        json!({ "ec_1to5_ds_m": 200 }),
        json!({ "ec_1to2_ds_m": 200 }),
        json!({ "carbonate_pct": 100 }),
        json!({ "calcium_share_pct": 90, "magnesium_share_pct": 40 }),
        json!({ "ph": 14, "cec_cmol_kg": 0, "sodium_share_pct": 100, "carbonate_pct": 100 }),
    ] {
        for addition in [
            "sphagnum_peat",
            "gypsum",
            "sulfur",
            "lime_calcitic",
            "pumice",
            "sawdust",
        ] {
            let mut recipe = json!({
                "barrowmix": 1,
                "ground": { "sand_pct": 20, "silt_pct": 30, "clay_pct": 50 },
                "soil": { "value": 10, "unit": "L" },
                "additions": [{ "material": addition, "amount": { "value": 2, "unit": "L" } }],
            });
            for (name, value) in report.as_object().expect("an object") {
                recipe["ground"][name] = value.clone();
            }
            let told = chemical(&recipe);
            let some = [
                told.ph,
                told.carbon_to_nitrogen,
                told.carbon_to_nitrogen_added,
            ];
            for figure in some.into_iter().flatten().chain([
                told.ec_paste_ds_m,
                told.ec_stress_ds_m,
                told.ec_1to5_ds_m,
                told.cec_cmol_kg,
                told.esp_pct,
                told.freed_nitrogen_kg,
            ]) {
                let ends = figure.ends();
                assert!(
                    ends.low.is_finite() && ends.high.is_finite() && figure.typical.is_finite(),
                    "{figure:?} of {addition} with {report}"
                );
            }
        }
    }
    let over = outcome(&json!({
        "barrowmix": 1,
        "ground": { "sand_pct": 20, "silt_pct": 30, "clay_pct": 50,
                    "calcium_share_pct": 90, "magnesium_share_pct": 40 },
        "soil": { "value": 10, "unit": "L" }, "additions": [],
    }));
    assert!(
        over.notes.iter().any(|note| note.id() == "shares_over"),
        "shares over 100 are told"
    );
}

/// Splitting a line, order and size change nothing but amounts, to the last bit where the packing
/// says so, else to rounding.
#[test]
fn order_and_size_change_no_chemistry() {
    let lines = [("sphagnum_peat", 3.0), ("gypsum", 0.2), ("smc_fresh", 2.0)];
    let recipe = |order: [usize; 3], by: f64| {
        json!({
            "barrowmix": 1,
            "ground": { "sand_pct": 20, "silt_pct": 30, "clay_pct": 50, "ph": 7.2 },
            "soil": { "value": 30.0 * by, "unit": "kg" },
            "additions": order.map(|at| json!({
                "material": lines[at].0,
                "amount": { "value": lines[at].1 * by, "unit": "kg" },
            })),
        })
    };
    let base = chemical(&recipe([0, 1, 2], 1.0));
    assert_eq!(base, chemical(&recipe([2, 1, 0], 1.0)), "order");
    let doubled = chemical(&recipe([0, 1, 2], 2.0));
    for (one, two) in [
        (base.ph.expect("a pH"), doubled.ph.expect("a pH")),
        (base.ec_paste_ds_m, doubled.ec_paste_ds_m),
        (base.esp_pct, doubled.esp_pct),
        (base.cec_cmol_kg, doubled.cec_cmol_kg),
    ] {
        assert!((one.typical - two.typical).abs() < 1e-9, "{one:?} {two:?}");
    }
    let twice = doubled.freed_nitrogen_kg.typical / base.freed_nitrogen_kg.typical;
    assert!((twice - 2.0).abs() < 1e-9, "amounts double");
}

/// Sawdust: of 10 kg dry (45 % carbon, C:N 400) with 30 % decayed, 0.0529 kg of nitrogen are
/// missing; compost of C:N 12 with 15 % decayed frees 7.5 % of its own (computed from the usual
/// break-even of 24).
#[test]
fn nitrogen_is_balanced_at_the_break_even() {
    let recipe = |carbon: f64, nitrogen: f64, kept: f64| {
        json!({
            "barrowmix": 1,
            "ground": { "sand_pct": 20, "silt_pct": 30, "clay_pct": 50 },
            "soil": { "value": 100, "unit": "kg" },
            "additions": [{ "material": "it", "amount": { "value": 10, "unit": "kg" } }],
            "materials": [{ "id": "it", "group": "bark_wood_straw", "loose_density_kg_m3": 200,
                "organic_matter_pct": 90, "carbon_pct": carbon, "total_nitrogen_pct": nitrogen,
                "kept_after_year_1_pct": kept }],
        })
    };
    let sawdust = chemical(&recipe(45.0, 45.0 / 400.0, 70.0)).freed_nitrogen_kg;
    assert!((sawdust.typical + 0.052_875).abs() < 1e-9, "{sawdust:?}");
    let compost = chemical(&recipe(25.0, 25.0 / 12.0, 85.0)).freed_nitrogen_kg;
    assert!((compost.typical - 0.015_625).abs() < 1e-9, "{compost:?}");
}

/// The cautions of salt, acid and phosphorus turn where the figure passes its threshold.
#[test]
fn cautions_turn_at_their_figures() {
    let recipe = |material: &str, share: f64| {
        json!({
            "barrowmix": 1,
            "ground": { "sand_pct": 20, "silt_pct": 30, "clay_pct": 50, "ph": 6.5 },
            "soil": { "value": 100, "unit": "kg" },
            "additions": [{ "material": material, "amount": { "value": share, "unit": "%v" } }],
        })
    };
    let raised = |material: &str, share: f64, of: Care| {
        let outcome = outcome(&recipe(material, share));
        outcome.cautions.iter().any(|caution| caution.of == of)
    };
    let figure = |material: &str, share: f64, of: Care| {
        let told = outcome(&recipe(material, share));
        match of {
            Care::PhLow => told.chemistry.ph,
            Care::Phosphorus => 0.5e6 * told.chemistry.phosphorus_kg / told.chemistry.fine_kg,
            _ => told.chemistry.ec_stress_ds_m,
        }
    };
    for (material, of, threshold) in [
        ("smc_fresh", Care::SaltSeedling, 2.0),
        ("smc_fresh", Care::SaltHigh, 4.0),
        ("sphagnum_peat", Care::PhLow, 5.2),
        ("yard_compost", Care::Phosphorus, 68.0),
    ] {
        let (mut low, mut high) = (0.001, if of == Care::SaltSeedling { 15.0 } else { 90.0 });
        assert!(!raised(material, low, of), "{of:?} not yet");
        assert!(raised(material, high, of), "{of:?} at {high} %");
        for _ in 0..40 {
            let middle = 0.5 * (low + high);
            if raised(material, middle, of) {
                high = middle;
            } else {
                low = middle;
            }
        }
        let at = figure(material, high, of);
        assert!(
            (at - threshold).abs() < 1e-3 * threshold,
            "{of:?} turns at {at}, not {threshold}"
        );
    }
}

/// Whatever a report says, a recipe of anything keeps its charge: capacity and sodium of the blend
/// are the sums of what the parts brought.
#[test]
fn charge_is_the_sum_of_the_parts() {
    let recipe = json!({
        "barrowmix": 1,
        "ground": { "sand_pct": 20, "silt_pct": 30, "clay_pct": 50, "organic_matter_pct": 2,
                    "water_per_dry_pct": 0, "cec_cmol_kg": 26, "sodium_share_pct": 4 },
        "soil": { "value": 80, "unit": "kg" },
        "additions": [{ "material": "a", "amount": { "value": 20, "unit": "kg" } }],
        "materials": [{ "id": "a", "group": "compost_manure", "loose_density_kg_m3": 400,
            "cec_cmol_kg": 60, "total_sodium_pct": 0.3, "organic_matter_pct": 40, "coarse_pct": 0 }],
    });
    let told = chemical(&recipe);
    let cec = (80.0 * 26.0 + 20.0 * 60.0) / 100.0;
    assert!((told.cec_cmol_kg.typical - cec).abs() < 1e-9, "{told:?}");
    // Half of the sodium of an addition counts as exchanged: 3 g/kg over 22.98977 g/mol.
    let sodium = (80.0 * 26.0 * 0.04 + 20.0 * 0.5 * 3.0 / 22.989_77 * 100.0) / 100.0;
    assert!(
        (told.esp_pct.typical - 100.0 * sodium / cec).abs() < 1e-9,
        "{told:?}"
    );
}

/// A recipe from its letters has the same chemistry.
#[test]
fn letters_keep_the_report() {
    let recipe = recipes::recipe(&peat(30.0, 7.2, 1.0));
    let letters = barrowmix::recipe::to_letters(&recipe);
    let again: Recipe = barrowmix::recipe::from_letters(&letters).expect("a recipe");
    let of = |recipe: &Recipe| Outcome::of(recipe).expect("an outcome").chemical;
    assert_eq!(of(&recipe), of(&again), "the same");
}

/// What was measured stays as it was measured when nothing is added, whatever lime is told.
#[test]
fn a_measured_ph_stays_when_nothing_is_added() {
    for ph in [
        0.0, 3.0, 4.4, 6.5, 7.29, 7.31, 7.5, 7.51, 8.2, 8.6, 10.0, 14.0,
    ] {
        for carbonate in [None, Some(0.0), Some(0.1), Some(1.0), Some(40.0)] {
            let mut recipe = peat(0.0, ph, 0.0);
            recipe["additions"] = json!([]);
            recipe["ground"]["carbonate_pct"] = json!(carbonate);
            if carbonate.is_none() {
                let ground = recipe["ground"].as_object_mut().expect("an object");
                ground.remove("carbonate_pct");
            }
            let told = chemical(&recipe);
            for figure in [told.ph.expect("a pH"), told.ground_ph] {
                let ends = figure.ends();
                assert!(
                    [ends.low, figure.typical, ends.high]
                        .iter()
                        .all(|it| (it - ph).abs() < 1e-9),
                    "{figure:?} of {ph} with {carbonate:?}"
                );
            }
        }
    }
}

/// Peat never raises the pH of a basic ground, lime and ash never lower it, and none of it jumps:
/// a hundredth of the way moves the figure by no more than a twentieth of its whole way.
#[test]
fn ph_and_salt_move_smoothly_and_one_way() {
    let mix = |material: &str, share: f64, ph: f64, carbonate: f64| {
        let recipe = recipes::recipe(&json!({
            "barrowmix": 1,
            "ground": { "sand_pct": 20, "silt_pct": 30, "clay_pct": 50, "ph": ph,
                        "carbonate_pct": carbonate },
            "soil": { "value": 100, "unit": "kg" },
            "additions": [{ "material": material, "amount": { "value": share, "unit": "%v" } }],
        }));
        let barrow = Barrow::of(&recipe).expect("a barrow");
        Chemistry::typical(&recipe, &barrow)
    };
    for carbonate in [0.0, 0.05, 2.0] {
        for ph in [5.0, 6.9, 7.3, 7.9] {
            for (material, way) in [
                ("sphagnum_peat", -1.0),
                ("lime_calcitic", 1.0),
                ("wood_ash", 1.0),
                ("concrete_sand", 1.0),
            ] {
                let most = match material {
                    "sphagnum_peat" => 70.0,
                    "concrete_sand" => 20.0,
                    _ => 0.5,
                };
                let scan: Vec<_> = (0..=100)
                    .map(|step| mix(material, 0.01 * most * f64::from(step), ph, carbonate))
                    .collect();
                let what = format!("{material} into pH {ph} with {carbonate} % of lime");
                assert!((scan[0].ph - ph).abs() < 1e-9, "{what} begins there");
                let whole = (scan[100].ph - scan[0].ph).abs().max(0.2);
                for pair in scan.windows(2) {
                    let step = pair[1].ph - pair[0].ph;
                    assert!(way * step > -1e-9, "{what}: {} {}", pair[0].ph, pair[1].ph);
                    assert!(
                        step.abs() <= 0.35 * whole,
                        "{what} jumps: {} {}",
                        pair[0].ph,
                        pair[1].ph
                    );
                }
            }
        }
    }
    // Salt: more of a salty material is more salt, all the way.
    let scan: Vec<f64> = (0..90)
        .map(|step| mix("smc_fresh", f64::from(step), 6.5, 0.0).ec_stress_ds_m)
        .collect();
    for pair in scan.windows(2) {
        assert!(pair[1] > pair[0], "{pair:?}");
        assert!(pair[1] - pair[0] < 0.1 * scan[89], "{pair:?} jumps");
    }
}

/// Sulfur beyond what the lowest pH told can show is known: a kilogram gives 6,238 cmol (from
/// atomic masses).
#[test]
fn acid_beyond_the_scale_is_known() {
    let mix = |kg: f64| {
        outcome(&json!({
            "barrowmix": 1,
            "ground": { "sand_pct": 33, "silt_pct": 34, "clay_pct": 33, "ph": 6.5 },
            "soil": { "value": 1000, "unit": "kg" },
            "additions": [{ "material": "sulfur", "amount": { "value": kg, "unit": "kg" } }],
        }))
        .chemistry
    };
    assert!(
        mix(0.5).surplus_acid_cmol <= 0.0,
        "half a kilogram is within"
    );
    let (some, more) = (mix(20.0), mix(40.0));
    assert!((some.ph - 3.5).abs() < 1e-9 && some.surplus_acid_cmol > 0.0);
    let per_kg = (more.surplus_acid_cmol - some.surplus_acid_cmol) / 20.0;
    // 90 % of it is sulfur, 1 % of its moisture is water at the most.
    assert!(
        (0.88 * 6238.0..=0.9 * 6238.0 + 1.0).contains(&per_kg),
        "{per_kg} cmol of a kilogram"
    );
}

/// Twelve pots of a dozen litres are a dozen times one: nothing that counts over an area differs.
#[test]
fn pots_count_in_rates() {
    let pots = |count: f64| {
        outcome(&json!({
            "barrowmix": 1,
            "ground": { "sand_pct": 33, "silt_pct": 34, "clay_pct": 33 },
            "soil": { "value": 12.0 * count, "unit": "L" },
            "additions": [{ "material": "gypsum", "amount": { "value": 15.0 * count, "unit": "g" } }],
            "place": { "kind": "container", "count": count, "drains": true,
                "volume": { "value": 14, "unit": "L" }, "height": { "value": 25, "unit": "cm" } },
        }))
    };
    let over = |outcome: &Outcome| {
        let mut cautions = outcome.cautions.iter();
        cautions.any(|caution| caution.of == Care::OverRate)
    };
    let (one, dozen) = (pots(1.0), pots(12.0));
    assert_eq!(over(&one), over(&dozen), "the rate is the same");
    let area = |outcome: &Outcome, count: f64| {
        let recipe = recipes::recipe(&json!({
            "barrowmix": 1, "ground": { "sand_pct": 33, "silt_pct": 34, "clay_pct": 33 },
            "soil": { "value": 1, "unit": "L" }, "additions": [],
            "place": { "count": count, "volume": { "value": 14, "unit": "L" },
                       "height": { "value": 25, "unit": "cm" } },
        }));
        outcome.barrow.whole_area_m2(&recipe).expect("an area")
    };
    let [one, dozen] = [area(&one, 1.0), area(&dozen, 12.0)];
    assert!((one - 0.014 / 0.25).abs() < 1e-12 && (dozen - 12.0 * one).abs() < 1e-12);
}

/// What is only assumed is in doubt: at 7.51 lime may be there or not, so that sulfur may act.
#[test]
fn assumed_lime_is_in_doubt() {
    let mix = |ph: f64| {
        chemical(&json!({
            "barrowmix": 1,
            "ground": { "sand_pct": 33, "silt_pct": 34, "clay_pct": 33, "ph": ph },
            "soil": { "value": 100, "unit": "L" },
            "additions": [{ "material": "sulfur", "amount": { "value": 150, "unit": "g" } }],
        }))
        .ph
        .expect("a pH")
        .ends()
    };
    let (below, above) = (mix(7.5), mix(7.51));
    assert!(above.low < below.high, "{below:?} meets {above:?}");
}

/// Ground limestone on a ground that its own lime holds lifts it no further; without lime of its
/// own it does.
#[test]
fn lime_on_lime_does_nothing() {
    let mix = |ph: f64, carbonate: f64| {
        outcome(&json!({
            "barrowmix": 1,
            "ground": { "sand_pct": 33, "silt_pct": 34, "clay_pct": 33, "ph": ph,
                        "carbonate_pct": carbonate },
            "soil": { "value": 100, "unit": "L" },
            "additions": [{ "material": "lime_calcitic", "amount": { "value": 300, "unit": "g" } }],
        }))
        .chemistry
        .ph
    };
    assert!(
        (mix(7.6, 5.0) - 7.6).abs() < 1e-9,
        "held: {}",
        mix(7.6, 5.0)
    );
    assert!(mix(7.6, 0.0) > 7.8, "not held: {}", mix(7.6, 0.0));
    assert!(mix(6.0, 0.0) > 6.1, "limed: {}", mix(6.0, 0.0));
}

/// To tell the gypsum of a material of which the salt is not told takes nothing from its salt.
#[test]
fn gypsum_takes_nothing_from_salt_that_is_only_usual() {
    let stress = |gypsum: f64| {
        chemical(&json!({
            "barrowmix": 1,
            "ground": { "sand_pct": 33, "silt_pct": 34, "clay_pct": 33 },
            "soil": { "value": 100, "unit": "L" },
            "additions": [{ "material": "c", "amount": { "value": 30, "unit": "%v" } }],
            "materials": [{ "id": "c", "group": "compost_manure", "loose_density_kg_m3": 500,
                            "organic_matter_pct": 40, "gypsum_pct": gypsum }],
        }))
        .ec_stress_ds_m
        .typical
    };
    assert!(
        (stress(0.0) - stress(10.0)).abs() < 1e-9,
        "{} {}",
        stress(0.0),
        stress(10.0)
    );
}

/// A pH on a bag of powder moves nothing by itself, and that is said; two limes count as one.
#[test]
fn powders_are_told_by_what_acts() {
    let noted = |material: Value| {
        let told = outcome(&json!({
            "barrowmix": 1,
            "ground": { "sand_pct": 33, "silt_pct": 34, "clay_pct": 33, "ph": 5.5 },
            "soil": { "value": 100, "unit": "L" },
            "additions": [{ "material": "p", "amount": { "value": 2, "unit": "kg" } }],
            "materials": [material],
        }));
        told.notes.iter().any(|note| note.id() == "reaction_alone")
    };
    assert!(
        noted(json!({ "id": "p", "group": "powder", "loose_density_kg_m3": 900, "ph": 12.4 })),
        "its lime is not told"
    );
    assert!(
        !noted(
            json!({ "id": "p", "group": "powder", "loose_density_kg_m3": 900, "ph": 12.4,
                       "calcium_carbonate_equivalent_pct": 130 })
        ),
        "its lime is told"
    );
    let over = |limes: &[&str]| {
        let told = outcome(&json!({
            "barrowmix": 1,
            "ground": { "sand_pct": 33, "silt_pct": 34, "clay_pct": 33 },
            "soil": { "area": { "value": 1, "unit": "m2" }, "depth": { "value": 15, "unit": "cm" } },
            "additions": limes.iter().map(|id| json!({
                "material": id, "amount": { "value": 0.2, "unit": "kg" } })).collect::<Vec<_>>(),
        }));
        told.cautions
            .iter()
            .any(|caution| caution.of == Care::OverRate)
    };
    assert!(
        !over(&["lime_calcitic"]) && !over(&["lime_dolomitic"]),
        "each is within"
    );
    assert!(over(&["lime_calcitic", "lime_dolomitic"]), "both are not");
}

/// A ground alone is what was measured of it: the extract's salt is turned into that at 1:5 and back
/// by one factor, so no doubt of the factor is left; what was measured otherwise has it.
#[test]
fn salt_of_a_ground_alone_is_as_sure_as_it_was_measured() {
    let alone = |name: &str| {
        let mut recipe = json!({
            "barrowmix": 1,
            "ground": { "sand_pct": 33, "silt_pct": 34, "clay_pct": 33, "organic_matter_pct": 3,
                        "bulk_density_kg_m3": 1200 },
            "soil": { "value": 10, "unit": "L" }, "additions": [],
        });
        recipe["ground"][name] = json!(1.5);
        chemical(&recipe)
    };
    let width = |figure: Figure| figure.ends().high - figure.ends().low;
    let extract = alone("ec_saturated_paste_ds_m");
    for told in [extract.ec_paste_ds_m, extract.ec_stress_ds_m] {
        assert!((told.typical - 1.5).abs() < 1e-9, "{told:?}");
        assert!(width(told) < 1e-9, "as measured: {told:?}");
    }
    assert!(width(extract.ec_1to5_ds_m) > 0.01, "{extract:?}");
    let mass = alone("ec_1to5_ds_m");
    assert!(width(mass.ec_1to5_ds_m) < 1e-9, "as measured: {mass:?}");
    assert!(width(mass.ec_paste_ds_m) > 0.1, "{mass:?}");
    // One to two by volume is two litres to 1.2 kg, so a third of the water that 1:5 has.
    let volume = alone("ec_1to2_ds_m").ec_1to5_ds_m;
    assert!((volume.typical - 0.5).abs() < 1e-9, "{volume:?}");
}
