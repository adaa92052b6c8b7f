#![cfg(not(target_arch = "wasm32"))]
//! Water of grounds, pots and root zones against what others computed or measured.

mod support;

use barrowmix::blend::Blend;
use barrowmix::draws::ends;
use barrowmix::figure::{Ends, Figure};
use barrowmix::material::NUMBERS;
use barrowmix::outcome::{Measure, Outcome};
use barrowmix::recipe::Recipe;
use barrowmix::source::Mark;
use support::{Row, table};

fn outcome(text: &str) -> Outcome {
    let recipe = Recipe::from_json(text).unwrap_or_else(|error| panic!("{error:?} in {text}"));
    Outcome::of(&recipe).unwrap_or_else(|error| panic!("{error:?} in {text}"))
}

fn range(figure: Figure) -> [f64; 2] {
    let Ends { low, high } = figure.ends();
    [low, high]
}

/// A ground of a texture at 2.5 % organic matter, and more that is told of it.
fn ground(row: &Row, more: &str) -> Outcome {
    let [sand, silt, clay] = row.three(["sand", "silt", "clay"]);
    outcome(&format!(
        r#"{{"barrowmix":1,"ground":{{"sand_pct":{sand},"silt_pct":{silt},"clay_pct":{clay},
        "organic_matter_pct":2.5{more}}},"soil":{{"value":1,"unit":"L"}}}}"#
    ))
}

/// Another model, fitted on other soils, lies within our ranges in nine of ten figures.
#[test]
fn ranges_hold_another_model() {
    let (mut held, mut asked, mut missed) = (0, 0, String::new());
    for row in table("zhang_schaap_against_saxton_rawls", 24) {
        if row.text("zs_input") != "texture_plus_bulk_density" {
            continue;
        }
        let density = 2650.0 * (1.0 - row.number("sr_sat_pctv") / 100.0);
        let given = ground(&row, &format!(r#","bulk_density_kg_m3":{density}"#));
        let pores = &given.ground.lying_pores_pct;
        let column = |of| given.drawn.column(of);
        let sums: Vec<f64> = column(Measure::LyingAvailable)
            .iter()
            .zip(column(Measure::LyingUnavailable))
            .map(|(available, unavailable)| available + unavailable)
            .collect();
        let Ends { low, high } = ends(&sums).expect("there are draws");
        // At a density that is known pore space has no range; where it is not, it has one.
        let free = ground(&row, "");
        let store = Blend::lying(&given.barrow).1;
        let filled = 100.0 * store.theta_s() / given.ground.lying_pore_space_pct.typical;
        let full = range(free.ground.lying_pore_space_pct).map(|end| end * filled);
        for (name, value, [low, high]) in [
            ("full", row.number("zs_sat_pctv"), full),
            ("33 kPa", row.number("zs_33kPa_pctv"), [low, high]),
            (
                "1500 kPa",
                row.number("zs_1500kPa_pctv"),
                range(pores.unavailable_water),
            ),
            (
                "available",
                row.number("zs_paw_pctv"),
                range(pores.available_water),
            ),
            (
                "conductivity",
                row.number("zs_ksat_mm_h"),
                range(given.ground.drainage_mm_h[0]),
            ),
        ] {
            asked += 1;
            if (low..=high).contains(&value) {
                held += 1;
            } else {
                let class = row.text("class");
                missed += &format!("{class}, {name}: {value} outside {low:.2} to {high:.2}\n");
            }
        }
    }
    assert_eq!(asked, 60, "figures");
    assert!(held >= 54, "{held} of 60 within; outside:\n{missed}");
}

/// A pure material in a pot 15 cm high.
fn pot_of(material: &str) -> Outcome {
    outcome(&format!(
        r#"{{"barrowmix":1,"ground":{{"sand_pct":20,"silt_pct":30,"clay_pct":50}},
        "soil":{{"value":0,"unit":"L"}},
        "additions":[{{"material":"{material}","amount":{{"value":20,"unit":"L"}}}}],
        "place":{{"kind":"container","height":{{"value":15,"unit":"cm"}}}}}}"#
    ))
}

/// Water that pots of one material keep: our range meets that of the catalogue where it was read in
/// a source. What was only remembered is told beside it.
#[test]
fn pots_of_one_material() {
    let (mut judged, mut failed, mut told) = (0, 0, String::new());
    for (id, numbers) in NUMBERS {
        let field = |number: &&barrowmix::source::Number| number.field == "container_capacity_pct";
        let Some(theirs) = numbers.iter().find(field) else {
            continue;
        };
        let pot = pot_of(id).container.expect("a pot with a height");
        let [low, high] = range(pot.water_pct);
        let meets = low <= theirs.high && high >= theirs.low;
        let read = theirs.mark == Mark::Verified;
        judged += usize::from(read);
        failed += usize::from(read && !meets);
        told += &format!(
            "{} {:<18}{:>6.1} {:>5.1} {:>5.1}  read {:>4} {:>4} {:>4} {}\n",
            if meets { " " } else { "!" },
            id,
            low,
            pot.water_pct.typical,
            high,
            theirs.low,
            theirs.typical,
            theirs.high,
            theirs.mark.id(),
        );
    }
    assert!(judged >= 8, "only {judged} were read");
    assert_eq!(failed, 0, "our low, typical, high:\n{told}");
}

/// A root zone: litres of turf sand and of silt and clay that hardly crumbles, and more.
fn root_zone(sand_l: f64, fines_l: f64, more: &str) -> Outcome {
    outcome(&format!(
        r#"{{"barrowmix":1,
        "ground":{{"sand_pct":0,"silt_pct":60,"clay_pct":40,"organic_matter_pct":1,"crumb":0.2}},
        "soil":{{"area":{{"value":1,"unit":"m2"}},"depth":{{"value":{depth_mm},"unit":"mm"}}}},
        "additions":[{{"material":"turf_sand","amount":{{"value":{sand_l},"unit":"L"}}}}{more}],
        "materials":[{{"id":"turf_sand","group":"sand","loose_density_kg_m3":1500,
        "water_per_wet_pct":3,"grain_mm":0.5,"sand_pct":99,"silt_pct":0.5,"clay_pct":0.5}}]}}"#,
        // Dug it stands a quarter higher.
        depth_mm = 0.8 * fines_l,
    ))
}

/// Turf sand with silt and clay, conductivity in mm/h by share of the unmixed volumes: 2650 and more
/// at 1, 430 at 0.9, under 50 at 0.8 (measured on cores; HortScience, abstract on fines in turf
/// sand). The whole model comes within a factor of 3, and its range holds what was measured.
#[test]
fn sand_with_fines() {
    const FACTOR: f64 = 3.0;
    for (sand_l, fines_l, least, most) in [
        (100.0, 0.0, 2650.0, f64::INFINITY),
        (90.0, 10.0, 430.0, 430.0),
        (80.0, 20.0, 0.0, 50.0),
    ] {
        let mix = root_zone(sand_l, fines_l, "");
        let ours = mix.drainage_mm_h;
        let share = mix.barrow.lines[0].loose_m3 / mix.barrow.loose_parts_m3();
        assert!((share - sand_l / 100.0).abs() < 1e-9, "share {share}");
        let [low, high] = range(ours);
        let what = format!("{ours:?} at {share}, measured {least} to {most}");
        assert!(low <= most && high >= least, "{what}");
        assert!(
            ours.typical >= least / FACTOR && ours.typical <= most * FACTOR,
            "{what}"
        );
    }
}

/// A root zone of nine parts of sand to one of peat, by what golf greens are built to: pore space 35
/// to 55 %, air 15 to 30 % and water 15 to 25 % under 30 cm, 150 mm/h and more (USGA, from memory).
#[test]
fn sand_with_peat() {
    let peat = r#",{"material":"sphagnum_peat","amount":{"value":10,"unit":"%v"}}"#;
    let mix = root_zone(100.0, 0.0, peat);
    let under_30_cm = mix.blend.store().theta_at(30.0);
    let fillable = mix.blend.water.fillable;
    for (what, value, low, high) in [
        ("pore space", mix.pore_space_pct.settled.typical, 35.0, 55.0),
        ("air", 100.0 * (fillable - under_30_cm), 15.0, 30.0),
        ("water", 100.0 * under_30_cm, 15.0, 25.0),
        (
            "conductivity",
            mix.drainage_mm_h.typical,
            150.0,
            f64::INFINITY,
        ),
    ] {
        assert!(
            (low..=high).contains(&value),
            "{what} {value}, asked {low} to {high}"
        );
    }
}
