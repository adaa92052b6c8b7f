#![cfg(not(target_arch = "wasm32"))]
//! What is estimated where a recipe is silent, worked by hand from the stated rules.

mod support;

use barrowmix::figure::Figure;
use barrowmix::ground::{Ground, Trait, Traits};
use barrowmix::material::{Group, Material, Properties, Property};
use barrowmix::outcome::Outcome;
use serde_json::json;
use support::{assert_close, assert_printed, assert_relative, recipes};

/// A few products and quotients.
const ROUNDING: f64 = 1e-12;

/// Settled over fresh dry density by group. Common practice: sand 5-12 %, light grains 5-15 %,
/// organic matter 15-30 %.
const GAINS: [(&str, f64); 12] = [
    ("sand", 1.10),
    ("grit", 1.08),
    ("porous_mineral", 1.12),
    ("mineral_meal", 1.12),
    ("char", 1.25),
    ("peat_coir", 1.30),
    ("compost_manure", 1.25),
    ("bark_wood_straw", 1.25),
    ("meal", 1.25),
    ("soil", 1.20),
    ("powder", 1.20),
    ("liquid", 1.0),
];

fn group(spelling: &str) -> Group {
    Group::from_spelling(spelling).unwrap_or_else(|| panic!("no group {spelling}"))
}

fn material(of: Group, given: &[(Property, f64)]) -> Material {
    let mut properties = Properties::NONE;
    for (property, value) in given {
        properties.set(*property, Some(Figure::exact(*value)));
    }
    Material::of(of, &properties).unwrap_or_else(|misfit| panic!("{misfit:?} of {of:?}"))
}

#[test]
fn settled_density_by_group() {
    assert_eq!(GAINS.len(), Group::ALL.len(), "every group is here");
    for (spelling, gain) in GAINS {
        let found = material(
            group(spelling),
            &[
                (Property::LooseDensity, 500.0),
                (Property::WaterPerWet, 20.0),
            ],
        );
        assert_relative(found.fresh_dry_density_kg_m3, 400.0, ROUNDING, spelling);
        assert_relative(
            found.settled_dry_density_kg_m3,
            400.0 * gain,
            ROUNDING,
            spelling,
        );
    }
    let heavy = [(Property::LooseDensity, 1700.0)];
    let sand = material(Group::Sand, &heavy).settled_dry_density_kg_m3;
    assert_eq!(sand, 1750.0, "no sand settles further");
    let grit = material(Group::Grit, &heavy).settled_dry_density_kg_m3;
    assert_relative(grit, 1836.0, ROUNDING, "grit may");
}

#[test]
fn moisture_of_a_line_keeps_the_settling() {
    let recipe = recipes::recipe(&json!({
        "barrowmix": 1,
        "ground": { "sand_pct": 20, "silt_pct": 25, "clay_pct": 55 },
        "soil": { "value": 10, "unit": "L" },
        "additions": [{ "material": "heap", "amount": { "value": 10, "unit": "L" }, "water_per_wet_pct": 50 }],
        "materials": [{ "id": "heap", "group": "sand", "loose_density_kg_m3": 1000,
            "water_per_wet_pct": 20, "settled_dry_density_kg_m3": 1200 }],
    }));
    let outcome = Outcome::of(&recipe).expect("it can be mixed");
    let wetter = outcome.barrow.lines[0].material;
    assert_relative(wetter.fresh_dry_density_kg_m3, 500.0, ROUNDING, "fresh");
    assert_relative(
        wetter.settled_dry_density_kg_m3,
        750.0,
        ROUNDING,
        "settled: 1200/800 of fresh",
    );
}

#[test]
fn absent_properties_of_a_material() {
    let loose = (Property::LooseDensity, 400.0);
    let compost = material(
        Group::CompostManure,
        &[loose, (Property::OrganicMatter, 50.0)],
    );
    for (found, share) in compost.fractions.iter().zip([0.60, 0.25, 0.15]) {
        assert_relative(*found, share, ROUNDING, "ash of an organic group");
    }
    // Settled 500, and 0.65 of its grains.
    assert_printed(
        compost.grain_density_kg_m3,
        "769.23",
        "grains of an organic group",
    );
    // 1/(0.5/1430 + 0.5 (0.60/2660 + 0.25/2690 + 0.15/2760)), by hand.
    assert_printed(
        compost.solid_density_kg_m3,
        "1865",
        "solids of an organic group",
    );
    let sand = material(Group::Sand, &[loose]);
    assert_eq!(sand.fractions, [1.0, 0.0, 0.0], "a mineral group is sand");
    assert_relative(sand.solid_density_kg_m3, 2660.0, ROUNDING, "solids of sand");
    assert_relative(
        sand.grain_density_kg_m3,
        2660.0,
        ROUNDING,
        "grains are solid",
    );
    let nothing = [sand.water_per_wet, sand.organic, sand.char, sand.coarse];
    assert_eq!(nothing, [0.0; 4], "what is not given is not there");
    assert_eq!(sand.grain_mm, 1.0, "grain size");
    let char = material(Group::Char, &[loose, (Property::Char, 100.0)]);
    assert_relative(char.solid_density_kg_m3, 1600.0, ROUNDING, "solids of char");
    let odd = [loose, (Property::Sand, 30.0), (Property::Clay, 10.0)];
    let rescaled = material(Group::Soil, &odd).fractions;
    assert_eq!(rescaled, [0.75, 0.0, 0.25], "fractions are rescaled");
}

#[test]
fn densities_at_their_limits() {
    let solid = (Property::GrainDensity, 1000.0);
    let judged = |fresh: f64, settled: f64| {
        let mut properties = Properties::NONE;
        let given = [
            (Property::LooseDensity, fresh),
            (Property::SettledDryDensity, settled),
            solid,
        ];
        for (property, value) in given {
            properties.set(property, Some(Figure::exact(value)));
        }
        Material::of(Group::Grit, &properties).is_ok()
    };
    assert!(
        judged(800.0, 880.0),
        "0.80 and 0.88 of the grains are taken"
    );
    assert!(!judged(801.0, 880.0), "fresh above 0.80 is refused");
    assert!(!judged(800.0, 881.0), "settled above 0.88 is refused");
}

fn ground(given: &[(Trait, f64)]) -> Ground {
    let mut traits = Traits::NONE;
    for (of, value) in given {
        traits.set(*of, Some(Figure::exact(*value)));
    }
    Ground::of(&traits).unwrap_or_else(|fault| panic!("{fault:?}"))
}

#[test]
fn absent_traits_of_the_ground() {
    let clay = [
        (Trait::Sand, 25.0),
        (Trait::Silt, 25.0),
        (Trait::Clay, 50.0),
    ];
    let found = ground(&clay);
    assert_relative(found.organic, 0.025, ROUNDING, "organic matter");
    assert_eq!((found.gravel, found.crumb), (0.0, 0.5), "gravel and crumb");
    // 1/(0.025/0.244 + 0.975/1.36) with the mineral density of clay as printed, which has three
    // digits.
    assert_close(
        found.normal_density_kg_m3,
        1221.0,
        5.0,
        "normal density of clay",
    );
    assert_relative(
        found.lying_density_kg_m3,
        found.normal_density_kg_m3,
        ROUNDING,
        "lies so",
    );
    // Field capacity of clay is 42 % of the volume (Saxton & Rawls 2006, Table 3, at 1.33 g/cm3);
    // here it lies at 0.92 of that, which counts 0.9 x the 0.042 of room more.
    let theta = found.water_per_dry * found.lying_density_kg_m3 / 1000.0;
    assert_close(
        theta,
        0.42 + 0.9 * 0.041,
        0.01,
        "water of the ground, of its volume",
    );
    let with = |more: (Trait, f64)| ground(&[clay[0], clay[1], clay[2], more]);
    let peaty = with((Trait::OrganicMatter, 30.0));
    assert!(
        peaty.normal_density_kg_m3 < 900.0,
        "peat lies lighter than what is estimated"
    );
    assert_eq!(peaty.lying_density_kg_m3, 900.0, "estimates end at 900");
    let stony = with((Trait::Gravel, 70.0));
    assert!(
        stony.normal_density_kg_m3 > 1600.0,
        "gravel lies denser than what is estimated"
    );
    assert_eq!(stony.lying_density_kg_m3, 1600.0, "estimates end at 1600");
    // 1/(0.3/1221 + 0.7/2650) with the density of clay above.
    assert_close(
        stony.normal_density_kg_m3,
        1962.0,
        5.0,
        "normal density with gravel",
    );
}

#[test]
fn a_ground_denser_than_usual() {
    let clay = [
        (Trait::Sand, 25.0),
        (Trait::Silt, 25.0),
        (Trait::Clay, 50.0),
    ];
    let at = |times: f64| {
        let density = times * ground(&clay).normal_density_kg_m3;
        ground(&[clay[0], clay[1], clay[2], (Trait::BulkDensity, density)])
    };
    for (times, pressed, very_dense) in [
        (1.0, false, false),
        (1.10, false, false),
        // 1.10 is 5 % less than 1.158.
        (1.157, false, false),
        (1.159, true, false),
        (1.374, true, false),
        (1.376, true, true),
    ] {
        let found = at(times);
        assert_eq!(found.is_pressed(), pressed, "pressed at {times} x normal");
        assert_eq!(
            found.is_very_dense(),
            very_dense,
            "very dense at {times} x normal"
        );
    }
}

#[test]
fn organic_matter_is_of_all_but_gravel() {
    let outcome = |gravel: f64| {
        let recipe = recipes::recipe(&json!({
            "barrowmix": 1,
            "ground": { "sand_pct": 20, "silt_pct": 25, "clay_pct": 55, "organic_matter_pct": 4,
                "gravel_pct": gravel },
            "soil": { "value": 100, "unit": "L" },
        }));
        Outcome::of(&recipe)
            .expect("it can be mixed")
            .organic_matter_pct
    };
    for gravel in [0.0, 25.0, 60.0] {
        let organic = outcome(gravel).expect("there is fine earth").typical;
        assert_relative(organic, 4.0, ROUNDING, &format!("with {gravel} % gravel"));
    }
    assert_eq!(outcome(100.0), None, "gravel alone has no organic matter");
}

#[test]
fn powders_keep_their_mass_and_give_no_texture() {
    let recipe = recipes::recipe(&json!({
        "barrowmix": 1,
        "ground": { "sand_pct": 20, "silt_pct": 25, "clay_pct": 55, "organic_matter_pct": 0,
            "water_per_dry_pct": 0 },
        "soil": { "value": 100, "unit": "kg" },
        "additions": [{ "material": "lime", "amount": { "value": 10, "unit": "kg" } }],
        "materials": [{ "id": "lime", "group": "powder", "loose_density_kg_m3": 1000, "coarse_pct": 50 }],
    }));
    let outcome = Outcome::of(&recipe).expect("it can be mixed");
    assert_relative(outcome.dry_kg.typical, 110.0, ROUNDING, "dry mass");
    assert_relative(
        outcome.blend.masses.other_kg,
        10.0,
        ROUNDING,
        "of it the powder",
    );
    assert_eq!(
        outcome.blend.masses.coarse_kg, 0.0,
        "a powder has no coarse share"
    );
    let texture = outcome.texture.expect("the ground has one").fractions_pct;
    for (figure, share) in texture.iter().zip([20.0, 25.0, 55.0]) {
        assert_relative(figure.typical, share, ROUNDING, "texture of the ground");
    }
}
