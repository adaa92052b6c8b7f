#![cfg(not(target_arch = "wasm32"))]
//! What the chemistry of a blend comes to, worked a second time from its parts by the stated rules:
//! sums over dry mass without grains over 2 mm, for an own material that does not tell what is usual
//! of its kind, and the reaction that buffering and lime come to. The equations of one soil have tests
//! of their own.

mod support;

use barrowmix::blend::{Barrow, Chemistry, Line, carries};
use barrowmix::chemistry::exchange::estimated_cec_cmol_kg;
use barrowmix::chemistry::salt::{
    gypsum_1to5_ds_m, gypsum_paste_ds_m, paste_factor, saturation_of_clay,
};
use barrowmix::figure::within;
use barrowmix::outcome::{Measure, Outcome};
use serde_json::{Value, json};
use support::assert_relative;
use support::dice::Dice;
use support::recipes;

/// Two codings.
const SECOND_WAY: f64 = 1e-11;
/// Random blends.
const BLENDS: usize = 2000;

/// A kind and what is usual of it (common practice): conductivity at 1:5, dS/m; water of a saturated
/// paste, kg/kg, none where its clay tells it; carbon over nitrogen; the share of its carbon that the
/// first year takes; whether its organic matter exchanges as humus does, and whether it dissolves.
type Kind = (&'static str, f64, Option<f64>, f64, f64, bool, bool);

const KINDS: [Kind; 12] = [
    ("sand", 0.1, None, 11.0, 0.0, false, false),
    ("grit", 0.1, None, 11.0, 0.0, false, false),
    ("porous_mineral", 0.1, Some(0.8), 11.0, 0.0, false, false),
    ("mineral_meal", 0.1, None, 11.0, 0.0, false, false),
    ("char", 0.7, Some(1.2), 200.0, 0.0, false, false),
    ("peat_coir", 0.7, Some(4.5), 55.0, 0.06, true, false),
    ("compost_manure", 4.0, Some(1.2), 15.0, 0.3, true, false),
    ("bark_wood_straw", 0.7, Some(2.0), 100.0, 0.25, false, false),
    ("meal", 5.0, Some(1.2), 8.0, 0.7, false, false),
    ("soil", 0.1, None, 11.0, 0.0, true, false),
    ("powder", 0.0, Some(0.3), 11.0, 0.0, false, true),
    ("liquid", 0.1, Some(0.0), 11.0, 0.0, false, true),
];

/// What may be told of a material, with limits within which it is likely.
const TOLD: [(&str, f64, f64); 14] = [
    ("ec_1to5_ds_m", 0.0, 12.0),
    ("cec_cmol_kg", 0.0, 150.0),
    ("gypsum_pct", 0.0, 60.0),
    ("total_nitrogen_pct", 0.01, 6.0),
    ("total_phosphorus_pct", 0.0, 3.0),
    ("total_sodium_pct", 0.0, 2.0),
    ("carbon_pct", 0.0, 45.0),
    ("kept_after_year_1_pct", 5.0, 100.0),
    ("coarse_pct", 0.0, 60.0),
    ("ph", 3.0, 10.0),
    ("buffer_cmol_kg_ph", 0.0, 90.0),
    ("calcium_carbonate_equivalent_pct", 0.0, 9.0),
    ("sulfur_pct", 0.0, 0.5),
    ("grain_mm", 0.01, 8.0),
];

/// Sums over the parts.
#[derive(Default)]
struct Sums {
    fine_kg: f64,
    salt: f64,
    paste: f64,
    capacity: f64,
    sodium: f64,
    /// Of the ground, of the additions, kg.
    carbon_kg: [f64; 2],
    nitrogen_kg: [f64; 2],
    freed_kg: f64,
    phosphorus_kg: f64,
    gypsum_kg: f64,
}

fn number(object: &Value, name: &str) -> Option<f64> {
    object.get(name).and_then(Value::as_f64)
}

fn ground(sums: &mut Sums, told: &Value, barrow: &Barrow) {
    let of = &barrow.ground;
    let kg = barrow.ground_dry_kg * (1.0 - of.gravel);
    let clay = of.fractions[2];
    let saturation = saturation_of_clay(clay);
    let salt = if let Some(ec) = number(told, "ec_1to5_ds_m") {
        ec
    } else if let Some(ec) = number(told, "ec_1to2_ds_m") {
        // Two litres of water to a litre of soil as it lies, of so many kilograms; 1:5 has five
        // litres to a kilogram, and the same salt.
        ec * 2.0 / (of.lying_density_kg_m3 / 1000.0) / 5.0
    } else {
        number(told, "ec_saturated_paste_ds_m").unwrap_or(0.6) / paste_factor(saturation)
    };
    let capacity =
        number(told, "cec_cmol_kg").unwrap_or_else(|| estimated_cec_cmol_kg(clay, of.organic));
    let sodium_pct = number(told, "sodium_share_pct").unwrap_or(1.0);
    sums.fine_kg += kg;
    sums.salt += kg * salt;
    sums.paste += kg * saturation;
    sums.capacity += kg * capacity;
    sums.sodium += kg * capacity * sodium_pct / 100.0;
    sums.carbon_kg[0] += kg * of.organic / 1.9;
    sums.nitrogen_kg[0] += kg * of.organic / 1.9 / 11.0;
}

fn addition(sums: &mut Sums, kind: &Kind, told: &Value, line: &Line) {
    let (_, usual_ec, paste, carbon_to_nitrogen, decays, exchanges, dissolves) = *kind;
    let percent = |name: &str| number(told, name).map(|percent| percent / 100.0);
    let organic = percent("organic_matter_pct").unwrap_or(line.material.organic);
    let char = percent("char_pct").unwrap_or(line.material.char);
    let mineral = if dissolves { 0.0 } else { 1.0 - organic - char };
    let clay = mineral * line.material.fractions[2];
    let kg = line.dry_kg * (1.0 - mineral * percent("coarse_pct").unwrap_or(line.material.coarse));
    let gypsum = percent("gypsum_pct").unwrap_or(0.0);
    let salt = number(told, "ec_1to5_ds_m")
        .map_or(usual_ec, |ec| (ec - gypsum_1to5_ds_m(gypsum)).max(0.0));
    let humus = if exchanges { organic } else { organic / 5.0 };
    let capacity = number(told, "cec_cmol_kg").unwrap_or(if dissolves {
        0.0
    } else {
        estimated_cec_cmol_kg(clay, humus)
    });
    let carbon = percent("carbon_pct").unwrap_or(organic / 1.9 + 0.75 * char);
    let nitrogen = percent("total_nitrogen_pct").unwrap_or(carbon / carbon_to_nitrogen);
    let decayed = percent("kept_after_year_1_pct").map_or(decays, |kept| 1.0 - kept);
    sums.fine_kg += kg;
    sums.salt += kg * salt;
    sums.paste += kg * paste.unwrap_or_else(|| saturation_of_clay(clay));
    sums.capacity += kg * capacity;
    // Half of it ends on the exchange; a mole of sodium is 22.98977 g.
    let grams = 1000.0 * percent("total_sodium_pct").unwrap_or(0.0);
    sums.sodium += kg * 0.5 * 100.0 * grams / 22.989_77;
    sums.carbon_kg[1] += kg * carbon;
    sums.nitrogen_kg[1] += kg * nitrogen;
    // Microbes keep a third of the carbon, with one of nitrogen to eight: 24 break even.
    sums.freed_kg += kg * decayed * (nitrogen - carbon / 24.0);
    sums.phosphorus_kg += kg * percent("total_phosphorus_pct").unwrap_or(0.0);
    sums.gypsum_kg += kg * gypsum;
}

/// A ground of which a laboratory told some, with one to three own materials.
fn blend(dice: &mut Dice) -> (Value, Vec<(Kind, Value)>) {
    let [sand, silt, clay] = dice.shares_pct();
    let mut told = json!({ "sand_pct": sand, "silt_pct": silt, "clay_pct": clay,
        "organic_matter_pct": dice.typed(0.0, 8.0), "gravel_pct": dice.typed(0.0, 40.0) });
    match dice.below(4) {
        0 => told["ec_1to5_ds_m"] = json!(dice.typed(0.0, 4.0)),
        1 => told["ec_1to2_ds_m"] = json!(dice.typed(0.0, 4.0)),
        2 => told["ec_saturated_paste_ds_m"] = json!(dice.typed(0.0, 9.0)),
        _ => {}
    }
    if dice.one_in(2) {
        told["cec_cmol_kg"] = json!(dice.typed(1.0, 60.0));
    }
    if dice.one_in(2) {
        told["sodium_share_pct"] = json!(dice.typed(0.0, 40.0));
    }
    if dice.one_in(2) {
        told["ph"] = json!(dice.typed(4.0, 9.0));
    }
    if dice.one_in(2) {
        let most = *dice.pick(&[0.0, 0.8, 8.0]);
        told["carbonate_pct"] = json!(dice.between(0.0, most));
    }
    let mut own = Vec::new();
    for index in 0..1 + dice.below(3) {
        let kind = *dice.pick(&KINDS);
        let mut material = json!({ "id": format!("own{index}"), "group": kind.0,
            "loose_density_kg_m3": dice.typed(200.0, 900.0) });
        if dice.one_in(2) {
            material["organic_matter_pct"] = json!(dice.typed(0.0, 90.0));
            material["char_pct"] = json!(dice.typed(0.0, 10.0));
        }
        for (name, low, high) in TOLD {
            if dice.one_in(2) {
                material[name] = json!(dice.between(low, high));
            }
        }
        own.push((kind, material));
    }
    (told, own)
}

/// Random blends, with what each was told of and its recipe.
fn each(seed: u64, mut judge: impl FnMut(&Value, &[(Kind, Value)], &Barrow, &Chemistry, &str)) {
    let mut dice = Dice::new(seed);
    let mut mixed = 0;
    for _ in 0..BLENDS {
        let (told, own) = blend(&mut dice);
        let additions: Vec<Value> = own
            .iter()
            .map(|(_, material)| {
                json!({ "material": material["id"],
                        "amount": { "value": dice.between(0.5, 9.0), "unit": "L" } })
            })
            .collect();
        let soil = if dice.one_in(8) { 0.0 } else { 10.0 };
        let document = json!({ "barrowmix": 1, "ground": told,
            "soil": { "value": soil, "unit": "L" }, "additions": additions,
            "materials": own.iter().map(|(_, material)| material).collect::<Vec<_>>() });
        let recipe = recipes::recipe(&document);
        // What does not fit together is refused, and nothing but liquids is nothing to mix.
        if let Ok(barrow) = Barrow::of(&recipe) {
            mixed += 1;
            let is = Chemistry::typical(&recipe, &barrow);
            judge(&told, &own, &barrow, &is, &document.to_string());
        }
    }
    assert!(mixed > BLENDS / 2, "{mixed} of {BLENDS} were mixed");
}

#[test]
fn sums_of_a_blend() {
    each(50, |told, own, barrow, is, what| {
        let mut sums = Sums::default();
        ground(&mut sums, told, barrow);
        for ((kind, material), line) in own.iter().zip(&barrow.lines) {
            addition(&mut sums, kind, material, line);
        }
        let same = |is: f64, should: f64, of: &str| {
            assert_relative(is, should, SECOND_WAY, &format!("{of}: {what}"));
        };
        same(is.fine_kg, sums.fine_kg, "dry mass without coarse grains");
        let per = |sum: f64| sum / sums.fine_kg;
        let (gypsum, saturation) = (per(sums.gypsum_kg), per(sums.paste));
        same(
            is.ec_1to5_ds_m,
            per(sums.salt) + gypsum_1to5_ds_m(gypsum),
            "salt at 1:5",
        );
        let felt = per(sums.salt) * paste_factor(saturation);
        same(is.ec_stress_ds_m, felt, "salt that crops feel");
        same(
            is.ec_paste_ds_m,
            felt + gypsum_paste_ds_m(gypsum, saturation),
            "salt of the extract",
        );
        same(is.cec_cmol_kg, per(sums.capacity), "capacity");
        if sums.capacity > 1e-9 {
            let share = (100.0 * sums.sodium / sums.capacity).min(100.0);
            same(is.esp_pct, share, "sodium's share");
        }
        let [[earth_c, more_c], [earth_n, more_n]] = [sums.carbon_kg, sums.nitrogen_kg];
        if more_n > 0.0 {
            same(
                is.carbon_to_nitrogen_added,
                more_c / more_n,
                "C:N of the additions",
            );
            let all = (earth_c + more_c) / (earth_n + more_n);
            same(is.carbon_to_nitrogen, all, "C:N of everything");
        } else {
            assert!(
                is.carbon_to_nitrogen_added.is_nan(),
                "no nitrogen, no ratio: {what}"
            );
        }
        // It is a difference: held against what it is one of.
        let off = (is.freed_nitrogen_kg - sums.freed_kg).abs();
        assert!(
            off <= SECOND_WAY * (more_n + more_c),
            "freed: {} for {}: {what}",
            is.freed_nitrogen_kg,
            sums.freed_kg
        );
        same(is.phosphorus_kg, sums.phosphorus_kg, "phosphorus");
        same(is.gypsum_kg, sums.gypsum_kg, "gypsum");
    });
}

/// Charge, cmol: what buffers for a pH unit, the same times its reaction, and acid.
#[derive(Default)]
struct Charge {
    buffer: f64,
    buffer_ph: f64,
    acid: f64,
    /// Base in the ground's own lime, and in what is added.
    lime: [f64; 2],
}

/// Base in a kilogram of calcium carbonate and acid of one of sulfur, cmol, by atomic masses (Ca
/// 40.078, C 12.011, O 15.999, S 32.06; two charges each).
const LIME: f64 = 2e5 / (40.078 + 12.011 + 3.0 * 15.999);
const SULFUR: f64 = 2e5 / 32.06;

fn charge(kind: &Kind, told: &Value, line: &Line, sum: &mut Charge) {
    let (name, .., dissolves) = *kind;
    let percent = |name: &str| number(told, name).map(|percent| percent / 100.0);
    let organic = percent("organic_matter_pct").unwrap_or(line.material.organic);
    let char = percent("char_pct").unwrap_or(line.material.char);
    let mineral = if dissolves { 0.0 } else { 1.0 - organic - char };
    let clay = mineral * line.material.fractions[2];
    let kg = line.dry_kg * (1.0 - mineral * percent("coarse_pct").unwrap_or(line.material.coarse));
    if let Some(ph) = number(told, "ph").filter(|_| !dissolves) {
        let usual = 5.0 * clay + 42.0 * organic;
        let buffer = number(told, "buffer_cmol_kg_ph").unwrap_or(usual).max(0.05);
        sum.buffer += kg * buffer;
        sum.buffer_ph += kg * buffer * ph;
    }
    // Of a grain a shell of 0.02 mm; of what is organic the buffering holds it already.
    let acts = if carries(line) {
        let inner = (1.0 - 0.04 / line.material.grain_mm).max(0.0);
        1.0 - inner * inner * inner
    } else if ["peat_coir", "compost_manure", "bark_wood_straw", "meal"].contains(&name) {
        0.0
    } else {
        1.0
    };
    sum.lime[1] += kg * LIME * acts * percent("calcium_carbonate_equivalent_pct").unwrap_or(0.0);
    sum.acid += kg * SULFUR * percent("sulfur_pct").unwrap_or(0.0);
}

#[test]
fn reaction_of_a_blend() {
    // Atomic masses are printed in five figures.
    let close = |is: f64, should: f64, of: &str, what: &str| {
        support::assert_close(is, should, 1e-4, &format!("{of}: {what}"));
    };
    let mut lifted = [0; 3];
    each(51, |told, own, barrow, is, what| {
        let of = &barrow.ground;
        let kg = barrow.ground_dry_kg * (1.0 - of.gravel);
        let ph = number(told, "ph").unwrap_or(6.8);
        let buffer = (5.0 * of.fractions[2] + 120.0 * of.organic / 1.9).max(0.05);
        let carbonate = number(told, "carbonate_pct").unwrap_or(if ph > 7.5 { 1.0 } else { 0.0 });
        let mut sum = Charge {
            buffer: kg * buffer,
            buffer_ph: kg * buffer * ph,
            lime: [kg * LIME * carbonate / 100.0, 0.0],
            ..Charge::default()
        };
        for ((kind, material), line) in own.iter().zip(&barrow.lines) {
            charge(kind, material, line, &mut sum);
        }
        if sum.buffer <= 0.0 {
            assert!(is.ph.is_nan(), "nothing tells a reaction: {what}");
            return;
        }
        // Lime that was there as the reaction was measured holds that, and no other lifts further
        // where there is half a percent of it and more, from 7 to 7.3 on.
        let was_there = told.get("ph").is_some() || told.get("carbonate_pct").is_none();
        let (mut own_holds, mut added_holds) = (8.0, 8.0);
        if carbonate > 0.0 && was_there {
            own_holds = ph.min(8.2);
            let much = if kg > 0.0 {
                (carbonate / 0.5).min(1.0)
            } else {
                0.0
            };
            let basic = within((own_holds - 7.0) / 0.3, 0.0, 1.0);
            added_holds += (own_holds - 8.0) * much * basic;
        }
        let bare = (sum.buffer_ph - sum.acid) / sum.buffer;
        let mut comes_to = bare;
        let mut left = 0.0;
        for (at, (lime, holds)) in sum
            .lime
            .into_iter()
            .zip([own_holds, added_holds])
            .enumerate()
        {
            let room = ((holds - comes_to) * sum.buffer).max(0.0);
            let used = lime.min(room);
            lifted[at] += usize::from(used > 0.0);
            comes_to += used / sum.buffer;
            left += lime - used;
        }
        let from = if kg > 0.0 {
            ph
        } else {
            sum.buffer_ph / sum.buffer
        };
        let told_ph = comes_to.max(from.min(3.5)).min(from.max(9.0));
        close(is.ph, told_ph, "pH", what);
        let percent = 100.0 * left / LIME / is.fine_kg;
        close(is.lime_left_pct, percent, "lime that is left", what);
        let neutralises = sum.buffer_ph - 3.5 * sum.buffer + sum.lime[0] + sum.lime[1];
        let surplus = (sum.acid - neutralises.max(0.0)).max(0.0);
        lifted[2] += usize::from(surplus > 0.0);
        let scale = sum.acid.max(1.0);
        close(is.surplus_acid_cmol / scale, surplus / scale, "acid", what);
    });
    assert!(lifted.iter().all(|times| *times > 20), "{lifted:?}");
}

/// Of the buffering of a ground it is known that it lies within a factor of exp(-0.51) to exp(0.47),
/// 0.6 to 1.6, at a tenth and nine tenths: acid of sulfur moves the reaction by so much the more or
/// the less.
#[test]
fn buffering_errs_by_its_factor() {
    let exact = |value: f64| json!({ "low": value, "typical": value, "high": value });
    let recipe = recipes::recipe(&json!({ "barrowmix": 1,
        "ground": { "sand_pct": exact(20.0), "silt_pct": exact(25.0), "clay_pct": exact(55.0),
            "organic_matter_pct": exact(3.0), "gravel_pct": exact(0.0), "ph": exact(6.9),
            "bulk_density_kg_m3": exact(1300.0) },
        "soil": { "value": 20, "unit": "L" },
        "additions": [{ "material": "brimstone", "amount": { "value": 5, "unit": "g" } }],
        "materials": [{ "id": "brimstone", "group": "powder", "loose_density_kg_m3": exact(900.0),
            "water_per_wet_pct": exact(0.0), "sulfur_pct": exact(100.0) }] }));
    let outcome = Outcome::of(&recipe).expect("it can be mixed");
    let mut moved: Vec<f64> = outcome.drawn.column(Measure::Ph).to_vec();
    moved.iter_mut().for_each(|ph| *ph = 6.9 - *ph);
    moved.sort_by(f64::total_cmp);
    let middle = moved[moved.len() / 2];
    assert!((0.05..0.4).contains(&middle), "it moves a little: {middle}");
    // The least buffering moves most.
    for (share, log) in [(0.10, -0.47), (0.90, 0.51)] {
        let end = moved[(share * moved.len() as f64) as usize] / middle;
        support::assert_close(libm::log(end), log, 0.008, "a tenth or nine tenths");
    }
}
