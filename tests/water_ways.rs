#![cfg(not(target_arch = "wasm32"))]
// A second way takes the functions of the standard library, not those of the crate.
#![allow(clippy::disallowed_methods)]
//! What beds hold and how fast water goes through them, worked a second time from their lines, and
//! what their draws have in common.

mod support;

use barrowmix::blend::{Blend, Held};
use barrowmix::outcome::{Measure, Outcome};
use barrowmix::water::retention::{Retention, filled_share, residual};
use serde_json::{Value, json};
use support::blends::mixed;
use support::second_bed::{
    Coarse, Earth, conductivity, floats, held_by_ground, held_by_mix, in_room, pieces,
};
use support::{assert_close, assert_relative, recipes};

/// Two codings, and a packing that one of them halves its way to.
const SECOND_WAY: f64 = 1e-8;

fn outcome(ground: &Value, soil_l: f64, additions: &Value, materials: &Value) -> Outcome {
    let recipe = recipes::recipe(&json!({ "barrowmix": 1, "ground": ground,
        "soil": { "value": soil_l, "unit": "L" }, "additions": additions,
        "materials": materials }));
    Outcome::of(&recipe).unwrap_or_else(|error| panic!("{error:?} in {}", recipe.to_json()))
}

/// A ground of which nothing is left to guess.
fn exact(sand: f64, clay: f64, organic: f64, gravel: f64, density: f64) -> Value {
    json!({ "sand_pct": sand, "silt_pct": 100.0 - sand - clay, "clay_pct": clay,
        "organic_matter_pct": organic, "gravel_pct": gravel, "crumb": 0.5,
        "bulk_density_kg_m3": density, "water_per_dry_pct": 20 })
}

fn line(material: &str, litres: f64) -> Value {
    json!({ "material": material, "amount": { "value": litres, "unit": "L" } })
}

/// Own materials without any range.
fn materials() -> Value {
    json!([
        { "id": "pebbles", "group": "porous_mineral", "loose_density_kg_m3": 500,
          "grain_density_kg_m3": 900, "grain_mm": 8, "coarse_pct": 100, "water_per_wet_pct": 0 },
        { "id": "flint", "group": "grit", "loose_density_kg_m3": 1400, "grain_mm": 5,
          "coarse_pct": 100, "water_per_wet_pct": 0 },
        { "id": "grit_sand", "group": "sand", "loose_density_kg_m3": 1450, "grain_mm": 1,
          "sand_pct": 100, "water_per_wet_pct": 0 },
        { "id": "cinders", "group": "char", "loose_density_kg_m3": 250,
          "grain_density_kg_m3": 500, "char_pct": 100, "organic_matter_pct": 0, "grain_mm": 4,
          "water_per_wet_pct": 0 },
        { "id": "loam", "group": "soil", "loose_density_kg_m3": 1100, "grain_mm": 0.05,
          "sand_pct": 30, "silt_pct": 33, "clay_pct": 37, "water_per_wet_pct": 5 },
        { "id": "leafmould", "group": "compost_manure", "loose_density_kg_m3": 400,
          "grain_density_kg_m3": 700, "organic_matter_pct": 60, "sand_pct": 55, "silt_pct": 35,
          "clay_pct": 10, "coarse_pct": 4, "grain_mm": 2, "water_per_wet_pct": 40 },
        { "id": "chips", "group": "bark_wood_straw", "loose_density_kg_m3": 200,
          "grain_density_kg_m3": 400, "organic_matter_pct": 97, "grain_mm": 10,
          "water_per_wet_pct": 30 }
    ])
}

/// Beds that chance does not reach, by name.
fn beds() -> Vec<(String, Outcome)> {
    let loam =
        |organic: f64, gravel: f64, density: f64| exact(40.0, 20.0, organic, gravel, density);
    let clay = exact(20.0, 50.0, 2.0, 5.0, 1250.0);
    let mut out = Vec::new();
    let mut bed = |name: &str, ground: &Value, soil_l: f64, additions: &[Value]| {
        let materials = materials();
        let of = outcome(ground, soil_l, &json!(additions), &materials);
        out.push((name.to_owned(), of));
    };
    bed("gravel that touches", &loam(2.0, 95.0, 1900.0), 20.0, &[]);
    bed("mostly gravel", &loam(2.0, 97.0, 1850.0), 20.0, &[]);
    bed("gravel that floats", &clay, 20.0, &[]);
    bed("a peaty ground", &loam(25.0, 8.0, 700.0), 20.0, &[]);
    bed(
        "pressed silt",
        &exact(8.0, 10.0, 1.0, 0.0, 2100.0),
        20.0,
        &[],
    );
    for litres in [1.0, 6.0, 8.0, 10.0, 14.0] {
        bed(
            "compost in loam",
            &loam(2.0, 12.0, 1350.0),
            20.0,
            &[line("leafmould", litres), line("chips", 1.0)],
        );
    }
    bed("compost in clay", &clay, 20.0, &[line("leafmould", 1.0)]);
    for litres in [4.0, 20.0, 70.0, 150.0] {
        bed("pebbles in clay", &clay, 20.0, &[line("pebbles", litres)]);
        bed(
            "stones of two sizes in loam",
            &loam(3.0, 20.0, 1300.0),
            20.0,
            &[
                line("flint", litres),
                line("grit_sand", 5.0),
                line("cinders", 3.0),
            ],
        );
    }
    let mulch = json!({ "material": "chips", "amount": { "value": 9, "unit": "L" },
                        "on_top": true });
    bed(
        "below a mulch",
        &clay,
        20.0,
        &[mulch, line("leafmould", 2.0)],
    );
    for litres in [0.4, 1.5] {
        bed(
            "no ground",
            &clay,
            0.0,
            &[line("loam", 20.0), line("leafmould", litres)],
        );
    }
    bed(
        "nothing but stones",
        &clay,
        0.0,
        &[line("flint", 5.0), line("pebbles", 5.0)],
    );
    out
}

fn assert_held(of: &Held, expected: &Held, what: &str) {
    let numbers = |held: &Held| {
        [
            held.at_33_m3,
            held.at_1500_m3,
            held.closed_m3,
            held.room_m3,
            held.earth_m3,
            held.sand,
            held.clay,
            held.drains,
            held.lambda,
        ]
    };
    let pairs = numbers(of).into_iter().zip(numbers(expected));
    for (at, (is, expected)) in pairs.enumerate() {
        let room = SECOND_WAY * is.abs().max(expected.abs()).max(1e-9);
        assert_close(is, expected, room, &format!("number {at} of {what}"));
    }
}

/// Everything of water in a bed, a second time.
fn judge(outcome: &Outcome, what: &str) {
    let (barrow, blend) = (&outcome.barrow, &outcome.blend);
    let ground = &barrow.ground;
    let volume_m3 = blend.volumes.settled_m3;
    let coarse = Coarse::of(barrow);
    let held = held_by_mix(barrow, blend.errors[1].middle);
    assert_held(&blend.held, &held, what);
    let settled = ground.settled_density_kg_m3();
    let factor = Earth::of_ground(ground).density_factor(ground, settled);
    assert_relative(blend.density_factor, factor, SECOND_WAY, what);

    let water = in_room(&held, volume_m3, blend.masses.solid_m3, coarse.between());
    assert_close(blend.water.open, water.open, SECOND_WAY, what);
    assert_close(
        blend.water.field_capacity,
        water.field_capacity,
        SECOND_WAY,
        what,
    );
    let alone = held_by_ground(ground, settled, blend.errors[0].middle);
    let through = conductivity(&held, volume_m3, &coarse, &alone, floats(barrow));
    assert_relative(outcome.drainage_mm_h.typical, through, SECOND_WAY, what);

    if barrow.ground_dry_kg <= 0.0 {
        return;
    }
    let densities = [ground.lying_density_kg_m3, settled];
    for (density, told) in densities.into_iter().zip(outcome.ground.drainage_mm_h) {
        let of_ground = held_by_ground(ground, density, blend.errors[0].middle);
        let gravel = Coarse::of_ground(ground, density);
        let through = conductivity(&of_ground, 1.0 / density, &gravel, &of_ground, 0.0);
        let what = format!("the ground at {density} of {what}");
        assert_relative(told.typical, through, SECOND_WAY, &what);
    }
}

#[test]
fn random_beds_hold_and_lead_water_as_their_lines_say() {
    mixed(9901, 250, |recipe, outcome, _| {
        judge(outcome, &recipe.to_json())
    });
}

#[test]
fn chosen_beds_hold_and_lead_water_as_their_lines_say() {
    let beds = beds();
    for (name, outcome) in &beds {
        judge(outcome, name);
    }
    // They are what they were chosen for.
    let count = |is: &dyn Fn(&Outcome) -> bool| beds.iter().filter(|(_, of)| is(of)).count();
    let between = |of: &Outcome| Coarse::of(&of.barrow).between();
    let part = |of: &Outcome| pieces(&of.barrow);
    let gravel = |of: &Outcome| {
        let ground = &of.barrow.ground;
        Coarse::of_ground(ground, ground.lying_density_kg_m3).between()
    };
    assert!(count(&|of| between(of) > 0.02) >= 3, "some touch");
    assert!(count(&|of| gravel(of) > 0.02) >= 1, "gravel touches");
    assert!(
        count(&|of| part(of) > 0.05 && part(of) < 0.95) >= 3,
        "some pieces are partly inclusions"
    );
    let bare = |of: &Outcome| of.barrow.ground_dry_kg <= 0.0;
    assert!(
        count(&|of| bare(of) && part(of) > 0.05 && part(of) < 0.95) >= 1,
        "also those of a clay without ground"
    );
}

/// What holds at every tension: the ground as it lies, and the settled blend.
#[test]
fn curves_stand_on_the_waters_of_their_bed() {
    let mut full = 0;
    for (name, outcome) in beds() {
        let (barrow, blend) = (&outcome.barrow, &outcome.blend);
        let ground = &barrow.ground;
        let density = ground.lying_density_kg_m3;
        let (water, store) = Blend::lying(barrow);
        let held = held_by_ground(ground, density, blend.errors[0].middle);
        let gravel = Coarse::of_ground(ground, density);
        let solid_m3 = 1.0 / ground.solid_density_kg_m3;
        let lying = in_room(&held, 1.0 / density, solid_m3, gravel.between());
        for (is, expected) in [
            (water.field_capacity, lying.field_capacity),
            (water.wilting_point, lying.wilting_point),
            (water.fillable, lying.fillable),
            (water.open, lying.open),
        ] {
            assert_close(is, expected, SECOND_WAY, &name);
        }
        let volume_m3 = blend.volumes.settled_m3;
        for (water, held, volume_m3, store) in [
            (lying, held, 1.0 / density, store),
            (blend.water, blend.held, volume_m3, blend.store()),
        ] {
            // Air that stays trapped and water that stays belong to the earth.
            let earth = (held.earth_m3 / volume_m3).min(1.0);
            let trapped = earth * (1.0 - filled_share(held.sand, held.clay));
            let fine = (water.fillable - water.open) * (1.0 - trapped);
            let least = water.field_capacity / 0.98;
            full += usize::from(fine < least * 0.99);
            let stays = earth * residual(water.wilting_point, held.sand);
            let curve = Retention::through(
                stays,
                fine.max(least),
                water.field_capacity,
                water.wilting_point,
            );
            assert_close(store.fine.theta_s, curve.theta_s, SECOND_WAY, &name);
            assert_close(store.fine.theta_r, curve.theta_r, SECOND_WAY, &name);
            let told = store.fine.theta_at(100.0);
            assert_close(told, curve.theta_at(100.0), SECOND_WAY, &name);
            assert_close(store.open, water.open, SECOND_WAY, &name);
        }
    }
    assert!(full > 0, "one is so dense that 33 kPa leave it full");
}

/// The logarithms of what draws have over the typical value.
fn errors(outcome: &Outcome, of: Measure, typical: f64) -> Vec<f64> {
    let column = outcome.drawn.column(of).iter();
    column.map(|value| (value / typical).log10()).collect()
}

/// The value that a share of them lies below.
fn below(values: &[f64], share: f64) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted[(share * sorted.len() as f64) as usize]
}

/// Of a table of measured errors the tenth, half and nine tenths, the ends 1.15 times as far from the
/// half: so much wider they held other sources.
fn widened(measured: [f64; 7]) -> [(f64, f64); 3] {
    let half = measured[3];
    let end = |at: usize| half + 1.15 * (measured[at] - half);
    [(0.10, end(1)), (0.50, half), (0.90, end(5))]
}

/// Nothing of the ground is left to guess, so its draws differ from the typical value by what the
/// equation was measured to miss.
#[test]
fn conductivity_errs_as_measured() {
    for ground in [
        exact(20.0, 50.0, 2.0, 0.0, 1250.0),
        exact(60.0, 10.0, 2.0, 0.0, 1350.0),
        exact(40.0, 20.0, 2.0, 0.0, 1350.0),
    ] {
        let outcome = outcome(&ground, 20.0, &json!([]), &json!([]));
        let typical = outcome.ground.drainage_mm_h[0].typical;
        let errors = errors(&outcome, Measure::LyingDrainage, typical);
        let measured = outcome.blend.errors[0].log10_conductivity;
        for (share, expected) in widened(measured) {
            // A thousand draws.
            assert_close(below(&errors, share), expected, 0.15, &ground.to_string());
        }
    }
}

/// While stones float, what the equation misses is the ground's; where they touch, the blend's takes
/// its place as far as their holes stay open. What the blend misses is no figure of its own: one bed
/// tells it, and the others must agree.
#[test]
fn errors_of_ground_and_blend_share_the_way() {
    let ground = exact(20.0, 50.0, 2.0, 0.0, 1250.0);
    let bed = |material: &str, litres: f64| {
        let of = outcome(
            &ground,
            20.0,
            &json!([line(material, litres)]),
            &materials(),
        );
        let misses = errors(&of, Measure::Drainage, of.drainage_mm_h.typical);
        let coarse = Coarse::of(&of.barrow);
        // Of the holes between the stones the ground fills so much.
        let filled = 1.0 - coarse.between() / coarse.porosity();
        (of, misses, filled)
    };
    let (first, misses, filled) = bed("pebbles", 80.0);
    assert!(filled < 0.9, "they touch");
    let alone = first.ground.drainage_mm_h[1].typical;
    let of_ground = errors(&first, Measure::AloneDrainage, alone);
    let pairs = misses.iter().zip(&of_ground);
    let of_blend: Vec<f64> = pairs
        .map(|(all, ground)| (all - ground * filled) / (1.0 - filled))
        .collect();
    let measured = first.blend.errors[1].log10_conductivity;
    for (share, expected) in widened(measured) {
        assert_close(below(&of_blend, share), expected, 0.15, "errors of a blend");
    }
    for (material, litres) in [("pebbles", 6.0), ("pebbles", 160.0), ("flint", 80.0)] {
        let (of, misses, filled) = bed(material, litres);
        assert_eq!(
            of.blend.errors[1], first.blend.errors[1],
            "stones change no texture"
        );
        assert_eq!(filled < 1.0, litres > 10.0, "{litres} L of {material}");
        for (is, (blend, ground)) in misses.iter().zip(of_blend.iter().zip(&of_ground)) {
            let expected = ground * filled + blend * (1.0 - filled);
            assert_close(*is, expected, 1e-9, &format!("{litres} L of {material}"));
        }
    }
}

/// A heap of pebbles holds 0.40 of their pores at 33 kPa and 0.16 at 1500 kPa, both more or less by
/// the same doubt: a quarter less to a fifth more.
#[test]
fn pores_inside_hold_more_or_less_at_both_tensions() {
    let ground = exact(20.0, 50.0, 2.0, 0.0, 1250.0);
    let of = outcome(&ground, 0.0, &json!([line("pebbles", 20.0)]), &materials());
    let usable = of.drawn.column(Measure::Available);
    let left = of.drawn.column(Measure::Unavailable);
    let typical = of.pores_pct.unavailable_water.typical;
    for (usable, left) in usable.iter().zip(left) {
        assert_relative(
            *usable,
            left * (0.40 - 0.16) / 0.16,
            1e-9,
            "of the same pores",
        );
    }
    // Half mixing moves nothing where there is one material.
    for (share, factor) in [(0.10, 0.75), (0.90, 1.20)] {
        let drawn = below(left, share) / typical;
        assert_close(drawn, factor, 0.02, "a tenth and nine tenths");
    }
}
