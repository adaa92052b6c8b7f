#![cfg(not(target_arch = "wasm32"))]
// A second way takes the functions of the standard library, not those of the crate.
#![allow(clippy::disallowed_methods)]
//! What blends weigh, how large their open pores are and when their stones touch, worked a second
//! time or held to laws: size, order and splitting change nothing.

mod support;

use barrowmix::blend::fill::{FillFault, filled};
use barrowmix::blend::{Barrow, Blend};
use barrowmix::material::Group;
use barrowmix::outcome::{Measure, Outcome, Remark};
use barrowmix::recipe::{AMOUNT_LIMIT, Fault, Recipe};
use barrowmix::texture::classify;
use serde_json::{Value, json};
use support::blends::mixed;
use support::second_bed::Coarse;
use support::{assert_close, assert_relative, recipes};

/// Two codings of sums.
const SUMS: f64 = 1e-11;
/// Two codings, and a packing that one of them halves its way to.
const SECOND_WAY: f64 = 1e-8;

fn materials() -> Value {
    json!([
        { "id": "pebbles", "group": "porous_mineral", "loose_density_kg_m3": 500,
          "grain_density_kg_m3": 900, "grain_mm": 8, "coarse_pct": 100, "water_per_wet_pct": 3 },
        { "id": "flint", "group": "grit", "loose_density_kg_m3": 1400, "grain_mm": 3,
          "coarse_pct": 80, "water_per_wet_pct": 0 },
        { "id": "wet_stones", "group": "porous_mineral", "loose_density_kg_m3": 900,
          "grain_mm": 4, "water_per_wet_pct": 100 },
        { "id": "cinders", "group": "char", "loose_density_kg_m3": 250,
          "grain_density_kg_m3": 500, "char_pct": 70, "organic_matter_pct": 5, "grain_mm": 4,
          "water_per_wet_pct": 10, "coarse_pct": 20 },
        { "id": "flour", "group": "powder", "loose_density_kg_m3": 1000, "grain_mm": 0.02,
          "organic_matter_pct": 12, "char_pct": 3, "water_per_wet_pct": 2 },
        { "id": "bagged", "group": "sand", "loose_density_kg_m3": 1500, "grain_mm": 0.7,
          "water_per_wet_pct": 4, "bag": { "value": 40, "unit": "L" } },
        { "id": "molasses", "group": "liquid", "loose_density_kg_m3": 1300,
          "water_per_wet_pct": 30 },
        { "id": "dust", "group": "mineral_meal", "loose_density_kg_m3": 800, "grain_mm": 0.002 },
        { "id": "muck", "group": "peat_coir",
          "loose_density_kg_m3": { "low": 600, "typical": 600, "high": 600 },
          "organic_matter_pct": 100, "water_per_wet_pct": { "low": 50, "typical": 75, "high": 90 } }
    ])
}

fn line(material: &str, value: f64, unit: &str) -> Value {
    json!({ "material": material, "amount": { "value": value, "unit": unit } })
}

/// A clay with gravel.
fn clay() -> Value {
    json!({ "sand_pct": 20, "silt_pct": 30, "clay_pct": 50, "organic_matter_pct": 4,
        "gravel_pct": 6, "crumb": 0.5, "bulk_density_kg_m3": 1250, "water_per_dry_pct": 20 })
}

fn read(ground: &Value, soil: &Value, additions: &[Value]) -> Recipe {
    recipes::recipe(&json!({ "barrowmix": 1, "ground": ground, "soil": soil,
        "additions": additions, "materials": materials() }))
}

fn litres(value: f64) -> Value {
    json!({ "value": value, "unit": "L" })
}

fn blend(recipe: &Recipe) -> (Barrow, Blend) {
    let barrow = Barrow::of(recipe).unwrap_or_else(|error| panic!("{error:?}"));
    let blend = Blend::of(&barrow, &recipe.soil);
    (barrow, blend)
}

/// Masses and solid volumes, a second time.
fn weigh(outcome: &Outcome, what: &str) {
    let (barrow, masses) = (&outcome.barrow, &outcome.blend.masses);
    let ground = &barrow.ground;
    let earth_kg = barrow.ground_dry_kg * (1.0 - ground.gravel);
    let mut organic = earth_kg * ground.organic;
    let mineral_kg = earth_kg - organic;
    let mut fines = ground.fractions.map(|share| share * mineral_kg);
    let mut coarse = barrow.ground_dry_kg - earth_kg;
    let (mut char, mut other, mut dry) = (0.0, 0.0, barrow.ground_dry_kg);
    // Solids of organic matter weigh 1430 kg/m3 and of char 1600.
    let mut organic_m3 = organic / 1430.0;
    for line in barrow.mixed() {
        let material = &line.material;
        let mineral = line.dry_kg * (1.0 - material.organic - material.char);
        dry += line.dry_kg;
        organic += line.dry_kg * material.organic;
        char += line.dry_kg * material.char;
        if matches!(material.group, Group::Powder | Group::Liquid) {
            other += mineral;
        } else {
            coarse += mineral * material.coarse;
            for (sum, share) in fines.iter_mut().zip(material.fractions) {
                *sum += mineral * (1.0 - material.coarse) * share;
            }
        }
        if material.group != Group::Liquid {
            let solid_m3 =
                line.dry_kg * material.organic / 1430.0 + line.dry_kg * material.char / 1600.0;
            organic_m3 += solid_m3.min(line.dry_kg / material.solid_density_kg_m3);
        }
    }
    let expected = [
        (masses.dry_kg, dry),
        (masses.organic_kg, organic),
        (masses.char_kg, char),
        (masses.fines_kg[0], fines[0]),
        (masses.fines_kg[1], fines[1]),
        (masses.fines_kg[2], fines[2]),
        (masses.coarse_kg, coarse),
        (masses.other_kg, other),
    ];
    for (at, (is, expected)) in expected.into_iter().enumerate() {
        assert_close(is, expected, SUMS * dry, &format!("mass {at} of {what}"));
    }
    assert_relative(masses.organic_solid_m3, organic_m3, SUMS, what);
    let all: f64 = expected.iter().skip(1).map(|(is, _)| is).sum();
    assert_relative(all, masses.dry_kg, SUMS, what);
    let sum: f64 = fines.iter().sum();
    let pct = masses.fractions_pct();
    assert_eq!(pct.is_some(), sum > 1e-9 * dry, "a texture of {what}");
    if let Some(pct) = pct {
        for (is, part) in pct.into_iter().zip(fines) {
            assert_close(is, 100.0 * part / sum, 1e-9, what);
        }
        assert_eq!(masses.class(), Some(classify(pct)), "class of {what}");
        let told = outcome.texture.as_ref().expect("it has a texture");
        assert_eq!(masses.class(), Some(told.class), "class of {what}");
    }
}

/// Size of what the open pores lie between, mm: the mean of the logarithms by room, and of the
/// stones alone as they touch.
fn open_mm(barrow: &Barrow) -> f64 {
    let ground = &barrow.ground;
    let two_forms = ((ground.clay_pct() - 15.0) / 10.0).clamp(0.0, 1.0);
    let [sand, silt, clay] = ground.fractions;
    let grain_mm = 1.025_f64.powf(sand) * 0.026_f64.powf(silt) * 0.001_f64.powf(clay);
    let ground_mm = 3.0_f64.powf(two_forms) * grain_mm.powf(1.0 - two_forms);
    let crumb = 1600.0_f64.max(ground.lying_density_kg_m3 / 0.88);
    let mut rooms = vec![(
        barrow.ground_dry_kg / crumb.min(ground.solid_density_kg_m3),
        ground_mm,
    )];
    for line in barrow.mixed() {
        let material = &line.material;
        if material.group != Group::Liquid {
            rooms.push((
                line.dry_kg / material.grain_density_kg_m3,
                material.grain_mm,
            ));
        }
    }
    let room: f64 = rooms.iter().map(|(room, _)| room).sum();
    let mean = rooms.iter().map(|(room, mm)| room * mm.ln()).sum::<f64>() / room;
    let coarse = Coarse::of(barrow);
    // A fifth of the bed open between them, and they alone decide.
    let alone = (coarse.between() / 0.20).min(1.0);
    (mean * (1.0 - alone) + coarse.log_mm * alone).exp()
}

fn judge(outcome: &Outcome, what: &str) {
    weigh(outcome, what);
    // Jurin at 20 C: a hole between six spheres, 0.414 of their diameter.
    let cm = 2.970 / (0.414 * open_mm(&outcome.barrow));
    assert_relative(outcome.blend.open_cm, cm, SECOND_WAY, what);
}

#[test]
fn random_blends_weigh_what_their_lines_do() {
    mixed(9902, 250, |recipe, outcome, _| {
        judge(outcome, &recipe.to_json())
    });
}

#[test]
fn chosen_blends_weigh_what_their_lines_do() {
    let loam = json!({ "sand_pct": 40, "silt_pct": 40, "clay_pct": 20, "organic_matter_pct": 3,
        "gravel_pct": 10, "bulk_density_kg_m3": 1300 });
    let (mut partly, mut wholly) = (0, 0);
    for ground in [clay(), loam] {
        for stones in [0.0, 5.0, 55.0, 70.0, 90.0, 400.0] {
            let additions = [
                line("pebbles", stones, "L"),
                line("cinders", 2.0, "L"),
                line("flour", 1.0, "kg"),
                line("flint", stones / 10.0, "L"),
            ];
            let recipe = read(&ground, &litres(20.0), &additions);
            let outcome = Outcome::of(&recipe).expect("it can be mixed");
            judge(&outcome, &recipe.to_json());
            let between = Coarse::of(&outcome.barrow).between();
            partly += usize::from(between > 0.0 && between < 0.2);
            wholly += usize::from(between >= 0.2);
        }
    }
    assert!(partly > 1 && wholly > 1, "{partly} and {wholly} touch");
    // Stones alone, and no texture.
    let recipe = read(&clay(), &litres(0.0), &[line("pebbles", 9.0, "L")]);
    let outcome = Outcome::of(&recipe).expect("it can be mixed");
    judge(&outcome, "stones alone");
    assert_eq!(outcome.blend.masses.class(), None, "stones have no texture");
}

/// A thimble and a mountain of the same mix.
#[test]
fn size_changes_no_character() {
    let of = |soil_m3: f64| {
        let soil = json!({ "value": soil_m3, "unit": "m3" });
        let additions = [
            line("pebbles", soil_m3 * 0.2, "m3"),
            line("flint", soil_m3 * 0.05, "m3"),
            line("cinders", soil_m3 * 0.1, "m3"),
        ];
        let (_, blend) = blend(&read(&clay(), &soil, &additions));
        blend
    };
    let usual = of(0.1);
    let more = usual.skeleton.more_to_touch_kg.expect("they float");
    for soil_m3 in [1e-8, 1e-6, 1e-4, 1.0, 1e3, 1e6] {
        let blend = of(soil_m3);
        let what = format!("{soil_m3} m3");
        let by = soil_m3 / 0.1;
        assert_relative(blend.skeleton.share, usual.skeleton.share, 1e-9, &what);
        assert_relative(blend.open_cm, usual.open_cm, 1e-9, &what);
        let told = blend.skeleton.more_to_touch_kg;
        assert_relative(told.expect("they float"), more * by, 1e-9, &what);
        assert_eq!(blend.masses.class(), usual.masses.class(), "{what}");
        let pct = blend.masses.fractions_pct().expect("a texture");
        let expected = usual.masses.fractions_pct().expect("a texture");
        for (is, expected) in pct.into_iter().zip(expected) {
            assert_relative(is, expected, 1e-9, &what);
        }
    }
}

/// With so much more of the largest as was told the stones just touch.
#[test]
fn what_is_missing_makes_stones_touch() {
    for (pebbles, flint, gravel) in [
        (1.0, 0.0, 0.0),
        (10.0, 0.0, 0.0),
        (10.0, 1.0, 20.0),
        (3.0, 1.0, 6.0),
        (1.0, 5.0, 6.0),
        (2.0, 8.0, 30.0),
        (30.0, 2.0, 3.0),
    ] {
        let mut ground = clay();
        ground["gravel_pct"] = json!(gravel);
        let mut additions = vec![line("pebbles", pebbles, "L"), line("cinders", 4.0, "L")];
        if flint > 0.0 {
            additions.push(line("flint", flint, "L"));
        }
        let (barrow, before) = blend(&read(&ground, &litres(20.0), &additions));
        let what = format!("{pebbles} and {flint} L, {gravel} % gravel");
        let more = before.skeleton.more_to_touch_kg;
        let more = more.unwrap_or_else(|| panic!("{what} float"));
        let largest = before.skeleton.largest.expect("there are stones");
        let dry = |at: usize| barrow.lines[at].dry_kg;
        let heavier = if flint > 0.0 && dry(2) > dry(0) { 2 } else { 0 };
        assert_eq!(largest, heavier, "{what}");
        let name = additions[largest]["material"].as_str().expect("a name");
        let more = line(name, more, "kg");
        additions.push(more);
        let (_, after) = blend(&read(&ground, &litres(20.0), &additions));
        let threshold = after.skeleton.threshold.expect("a clay has one");
        assert_relative(after.skeleton.share, threshold, 1e-9, &what);
        assert!(
            before.skeleton.share < after.skeleton.share * (1.0 - 1e-3),
            "{what} floated"
        );
    }
}

#[test]
fn only_stones_with_matter_make_a_skeleton() {
    let mut ground = clay();
    ground["gravel_pct"] = json!(0);
    for additions in [
        vec![],
        vec![line("cinders", 5.0, "L")],
        vec![line("wet_stones", 5.0, "L")],
    ] {
        let (_, blend) = blend(&read(&ground, &litres(20.0), &additions));
        let skeleton = blend.skeleton;
        assert_eq!(skeleton.share, 0.0, "{additions:?}");
        assert_eq!(skeleton.threshold, None, "{additions:?}");
        assert_eq!(skeleton.touching, Some(false), "{additions:?}");
        assert_eq!(skeleton.largest, None, "{additions:?}");
        assert_eq!(skeleton.more_to_touch_kg, None, "{additions:?}");
    }
}

/// The packing errs in pore space, by as much more as the parts shrink more: the error that one
/// state tells is that of the other. Without crumbs half mixing has no say.
#[test]
fn one_error_of_packing_in_every_state() {
    let mut ground = clay();
    ground["crumb"] = json!(0);
    let recipe = read(&ground, &litres(20.0), &[line("pebbles", 12.0, "L")]);
    let outcome = Outcome::of(&recipe).expect("it can be mixed");
    let (barrow, volumes) = (&outcome.barrow, &outcome.blend.volumes);
    let pebbles = &barrow.lines[0];
    let unmixed =
        |ground: f64, stones: f64| barrow.ground_dry_kg / ground + pebbles.dry_kg / stones;
    let settled = unmixed(
        barrow.ground.settled_density_kg_m3(),
        pebbles.material.settled_dry_density_kg_m3,
    );
    let fresh = unmixed(
        barrow.ground.fresh_density_kg_m3(),
        pebbles.material.fresh_dry_density_kg_m3,
    );
    let errors = |of: Measure, volume: f64, unmixed: f64| -> Vec<f64> {
        let shrinkage = 1.0 - volume / unmixed;
        assert!(shrinkage > 0.02, "they fill one another");
        let typical = 1.0 - outcome.blend.masses.solid_m3 / volume;
        let column = outcome.drawn.column(of).iter();
        column
            .map(|pct| (pct / 100.0 - typical) * 0.20 / shrinkage)
            .collect()
    };
    let settled = errors(Measure::SettledPores, volumes.settled_m3, settled);
    let fresh = errors(Measure::FreshPores, volumes.fresh_m3, fresh);
    let mut apart = 0.0_f64;
    for (settled, fresh) in settled.iter().zip(&fresh) {
        assert_close(*settled, *fresh, 1e-9, "one error");
        apart = apart.max(settled.abs());
    }
    assert!(apart > 0.01, "it errs by {apart}");
}

fn fault(soil_l: f64, additions: &[Value]) -> Option<Fault> {
    let recipe = read(&clay(), &litres(soil_l), additions);
    Barrow::of(&recipe).err().map(|error| error.fault)
}

#[test]
fn shares_together_leave_something() {
    let shares =
        |volume: f64, mass: f64| [line("pebbles", volume, "%v"), line("pebbles", mass, "%m")];
    assert_eq!(
        fault(40.0, &shares(30.0, 30.0)),
        None,
        "it leaves something"
    );
    // Each alone would leave enough.
    for (volume, mass) in [(60.0, 60.0), (80.0, 70.0), (99.0, 20.0), (20.0, 99.0)] {
        let is = fault(40.0, &shares(volume, mass));
        assert!(
            matches!(is, Some(Fault::Shares { .. })),
            "{volume} and {mass}: {is:?}"
        );
    }
    // Light ones by volume and heavy ones by mass: both too much, and yet the balance would close.
    let both = [
        line("cinders", 60.0, "%v"),
        line("cinders", 90.0, "%v"),
        line("flint", 60.0, "%m"),
        line("flint", 90.0, "%m"),
    ];
    let is = fault(40.0, &both);
    assert!(matches!(is, Some(Fault::Shares { .. })), "{is:?}");
    // What is nothing but water is no share of mass, but may be poured.
    assert_eq!(fault(40.0, &[line("wet_stones", 1.0, "L")]), None, "poured");
    let share = [line("wet_stones", 1.0, "%m")];
    assert_eq!(fault(40.0, &share), Some(Fault::NoDryMatter), "a share");
    // Without ground a known volume is enough for a share.
    let known = [line("pebbles", 5.0, "L"), line("flint", 10.0, "%v")];
    assert_eq!(fault(0.0, &known), None, "a share of stones");
}

#[test]
fn the_greatest_amount_can_be_filled() {
    let soil = json!({ "value": AMOUNT_LIMIT, "unit": "mL" });
    let recipe = read(&clay(), &soil, &[]);
    let (_, blend) = blend(&recipe);
    let settled_m3 = blend.volumes.settled_m3;
    let (same, told) = filled(&recipe, settled_m3).expect("it is the greatest");
    assert_eq!(told.factor, 1.0, "nothing to scale");
    assert_eq!(same, recipe, "nothing to scale");
    let more = filled(&recipe, settled_m3 * (1.0 + 1e-9));
    assert!(matches!(more, Err(FillFault::Amount { .. })), "{more:?}");
}

/// Lines that differ in what they say are not one, whatever is left unsaid in the other.
#[test]
fn lines_are_added_as_each_is() {
    let mut drier = line("bagged", 6.0, "L");
    drier["water_per_wet_pct"] = json!(1);
    let bag = |size: Value| {
        let mut bagged = line("bagged", 2.0, "bag");
        bagged["bag"] = size;
        bagged
    };
    let plain = json!({ "value": 10, "unit": "kg" });
    let expands = json!({ "value": 10, "unit": "kg", "expands": 1 });
    for additions in [
        vec![line("bagged", 6.0, "L"), drier],
        vec![bag(plain), bag(expands)],
        vec![
            line("bagged", 2.0, "bag"),
            bag(json!({ "value": 1, "unit": "kg" })),
        ],
        vec![
            line("bagged", 2.0, "bag"),
            bag(json!({ "value": 1, "unit": "g" })),
        ],
        vec![
            line("bagged", 2.0, "bag"),
            bag(json!({ "value": 1, "unit": "L" })),
        ],
    ] {
        let (barrow, blend) = blend(&read(&clay(), &litres(20.0), &additions));
        let what = json!(additions).to_string();
        let sum = |of: &dyn Fn(usize) -> f64| (0..2).map(of).sum::<f64>();
        let dry = sum(&|at| barrow.lines[at].dry_kg) + barrow.ground_dry_kg;
        let loose = sum(&|at| barrow.lines[at].loose_m3) + barrow.ground_loose_m3();
        assert_relative(blend.masses.dry_kg, dry, 1e-12, &what);
        assert_relative(blend.masses.loose_m3, loose, 1e-12, &what);
    }
}

/// Two halves of a line with another of its material between them.
#[test]
fn halves_apart_change_no_bit() {
    let of = |additions: &[Value]| {
        let (_, blend) = blend(&read(&clay(), &litres(20.0), additions));
        blend
    };
    let drier = |value: f64| {
        let mut drier = line("pebbles", value, "L");
        drier["water_per_wet_pct"] = json!(7);
        drier
    };
    let whole = of(&[
        line("pebbles", 5.1, "L"),
        drier(4.0),
        line("flint", 1.0, "L"),
    ]);
    let halves = of(&[
        line("pebbles", 2.0, "L"),
        drier(4.0),
        line("flint", 1.0, "L"),
        line("pebbles", 3.1, "L"),
    ]);
    assert_eq!(whole.volumes, halves.volumes, "volumes");
    assert_eq!(whole.masses, halves.masses, "masses");
    let turned = of(&[
        line("flint", 1.0, "L"),
        drier(4.0),
        line("pebbles", 5.1, "L"),
    ]);
    assert_eq!(whole.volumes, turned.volumes, "volumes");
    assert_eq!(whole.masses, turned.masses, "masses");
}

/// What a pinch changes is seen beside the bed without it, also where that has a line of no matter.
#[test]
fn a_pinch_is_idle_beside_water() {
    let pinch = line("perlite", 0.01, "L");
    for others in [
        vec![],
        vec![line("wet_stones", 3.0, "L")],
        vec![line("pebbles", 4.0, "L"), line("wet_stones", 3.0, "L")],
        // More than the ground weighs.
        vec![line("flint", 30.0, "L")],
    ] {
        let additions = [others, vec![pinch.clone()]].concat();
        let recipe = read(&clay(), &litres(20.0), &additions);
        let outcome = Outcome::of(&recipe).expect("it can be mixed");
        let told = outcome.verdict.iter().find_map(|remark| match remark {
            Remark::Idle { names, .. } => Some(names.clone()),
            _ => None,
        });
        let told = told.unwrap_or_else(|| panic!("not idle: {:?}", outcome.verdict));
        assert!(
            told.iter()
                .any(|name| name.to_lowercase().contains("perlite")),
            "{told:?}"
        );
    }
}

/// What is not told of a ground's exchange capacity is estimated within a factor of exp(-0.43) to
/// exp(0.41), 0.65 to 1.5, at a tenth and nine tenths.
#[test]
fn estimated_exchange_capacity_errs_by_its_factor() {
    let recipe = read(&clay(), &litres(20.0), &[]);
    let outcome = Outcome::of(&recipe).expect("it can be mixed");
    let mut drawn = outcome.drawn.column(Measure::Cec).to_vec();
    drawn.sort_by(f64::total_cmp);
    let middle = drawn[drawn.len() / 2];
    for (share, log) in [(0.10, -0.43_f64), (0.90, 0.41)] {
        let end = drawn[(share * drawn.len() as f64) as usize] / middle;
        assert_close(end.ln(), log, 0.008, "a tenth or nine tenths");
    }
}

/// Only what packs makes something to mix: neither what lies on top of nothing nor a liquid alone.
#[test]
fn mulch_and_liquid_alone_are_nothing_to_mix() {
    let mut mulch = line("cinders", 5.0, "L");
    mulch["on_top"] = json!(true);
    let liquid = line("molasses", 5.0, "L");
    for alone in [
        vec![mulch.clone()],
        vec![liquid.clone()],
        vec![mulch.clone(), liquid.clone()],
    ] {
        assert_eq!(fault(0.0, &alone), Some(Fault::Empty), "{alone:?}");
        let mut with = alone.clone();
        with.push(line("pebbles", 0.001, "mL"));
        assert_eq!(fault(0.0, &with), None, "a pebble is something: {with:?}");
    }
}

/// Of two that weigh the same the first in the order of the parts is meant, whatever the lines'.
#[test]
fn of_equals_the_first_is_largest() {
    let [a, mut b] = ["flint", "pebbles"].map(|name| line(name, 5.0, "kg"));
    // As dry as the other, so that five kilograms are five of both.
    b["water_per_wet_pct"] = json!(0);
    for additions in [[a.clone(), b.clone()], [b, a]] {
        let (barrow, blend) = blend(&read(&clay(), &litres(20.0), &additions));
        assert_eq!(barrow.lines[0].dry_kg, barrow.lines[1].dry_kg, "equals");
        let largest = blend.skeleton.largest.expect("there are stones");
        assert_eq!(
            additions[largest]["material"], "flint",
            "by the id: {additions:?}"
        );
    }
}

/// Nothing has no texture, however little of it there is.
#[test]
fn nothing_has_no_texture() {
    let (_, blend) = blend(&read(&clay(), &litres(20.0), &[]));
    let mut masses = blend.masses;
    assert!(masses.fractions_pct().is_some(), "a clay has one");
    masses.fines_kg = [0.0; 3];
    assert_eq!(masses.fractions_pct(), None, "no fines");
    masses.dry_kg = 0.0;
    assert_eq!(masses.fractions_pct(), None, "nothing at all");
}

/// Dust finer than the puddled ground stands against its grains, not against its room.
#[test]
fn dust_finer_than_clay_is_packed_too() {
    for dust in [1.0, 8.0, 30.0] {
        let additions = [line("pebbles", 25.0, "L"), line("dust", dust, "kg")];
        let (barrow, blend) = blend(&read(&clay(), &litres(20.0), &additions));
        let should = Coarse::of(&barrow).share();
        assert_relative(
            blend.skeleton.share,
            should,
            SECOND_WAY,
            &format!("{dust} kg"),
        );
    }
}

/// Stones that touch lack nothing; and in sand, where nothing floats, nobody asks.
#[test]
fn what_touches_lacks_nothing() {
    let sand = json!({ "sand_pct": 92, "silt_pct": 5, "clay_pct": 3, "gravel_pct": 6 });
    for (ground, stones, touching) in [
        (clay(), 5.0, Some(false)),
        (clay(), 90.0, Some(true)),
        (sand.clone(), 5.0, None),
        (sand, 90.0, None),
    ] {
        let (_, blend) = blend(&read(
            &ground,
            &litres(20.0),
            &[line("pebbles", stones, "L")],
        ));
        assert_eq!(blend.skeleton.touching, touching, "{stones} L in {ground}");
        let lacks = blend.skeleton.more_to_touch_kg.is_some();
        assert_eq!(lacks, touching == Some(false), "{stones} L in {ground}");
    }
}

/// What is nothing but water has no dry matter for others' shares to count, and takes its room.
#[test]
fn water_beside_a_share_is_only_poured() {
    for unit in ["%v", "%m"] {
        let additions = [line("wet_stones", 2.0, "L"), line("flint", 20.0, unit)];
        let (barrow, blend) = blend(&read(&clay(), &litres(20.0), &additions));
        assert_relative(barrow.lines[0].loose_m3, 0.002, SUMS, "as poured");
        assert_eq!(barrow.lines[0].dry_kg, 0.0, "no dry matter");
        let flint = &barrow.lines[1];
        let share = if unit == "%v" {
            flint.loose_m3 / barrow.loose_parts_m3()
        } else {
            flint.dry_kg / (barrow.ground_dry_kg + flint.dry_kg)
        };
        assert_relative(share, 0.2, SUMS, unit);
        let dry_kg = barrow.ground_dry_kg + flint.dry_kg;
        assert_relative(blend.masses.dry_kg, dry_kg, SUMS, "of the blend");
        assert!(blend.volumes.settled_m3.is_finite(), "it takes room");
    }
}

/// A share of dry mass is one in every draw, however wet the lot: of all that is organic in a ground
/// without organic matter it is the share that was typed. But no draw takes more than ten times the
/// room that is typical.
#[test]
fn shares_of_mass_hold_in_every_draw() {
    let exact = |value: f64| json!({ "low": value, "typical": value, "high": value });
    let mut ground = json!({ "sand_pct": exact(20.0), "silt_pct": exact(30.0),
        "clay_pct": exact(50.0), "gravel_pct": exact(0.0), "bulk_density_kg_m3": exact(1250.0) });
    ground["organic_matter_pct"] = exact(0.0);
    let recipe = read(&ground, &litres(20.0), &[line("muck", 10.0, "%m")]);
    let outcome = Outcome::of(&recipe).expect("it can be mixed");
    let mut organic = outcome.drawn.column(Measure::OrganicMatter).to_vec();
    organic.sort_by(f64::total_cmp);
    let [a_tenth, most] = [organic.len() / 10, organic.len() - 1].map(|at| organic[at]);
    assert_close(a_tenth, 10.0, 1e-9, "but for the wettest");
    assert_close(most, 10.0, 1e-9, "never more");
    assert!(
        organic[0] < 9.0,
        "of the wettest it is less: {}",
        organic[0]
    );
    let barrow = &outcome.barrow;
    let loose = outcome.drawn.column(Measure::LooseParts);
    let largest = loose.iter().copied().fold(0.0, f64::max) / 1000.0 - barrow.ground_loose_m3();
    assert_relative(
        largest,
        10.0 * barrow.lines[0].loose_m3,
        1e-9,
        "room of the wettest",
    );
}
