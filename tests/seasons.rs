#![cfg(not(target_arch = "wasm32"))]
//! The years: what is conserved, what only falls, what gives back the recipe, and what is refused.

mod support;

use barrowmix::blend::Barrow;
use barrowmix::chemistry::nitrogen::native_kg_m2;
use barrowmix::chemistry::nutrients::ORGANIC_OVER_CARBON;
use barrowmix::draws::Strata;
use barrowmix::figure::Figure;
use barrowmix::material::{Entry, Group, Property};
use barrowmix::outcome::{Outcome, Supplied};
use barrowmix::quantity::Unit;
use barrowmix::recipe::{Amount, Recipe, from_letters, to_letters};
use barrowmix::seasons::decay::pools;
use barrowmix::seasons::{
    Asked, Climate, HOLD_YEARS, Season, Seasons, SeasonsError, TopUp, aged, aged_with,
    ground_nitrogen_kg, hold, organic_matter_pct,
};
use support::dice::Dice;
use support::recipes::{random, random_measured, read, recipe};

fn bed(additions: &str) -> Recipe {
    read(&format!(
        r#"{{"barrowmix":1,"ground":{{"sand_pct":5,"silt_pct":43,"clay_pct":52,
        "organic_matter_pct":{{"low":1.8,"typical":2.6,"high":3.4}},"bulk_density_kg_m3":1250,
        "gravel_pct":4}},
        "soil":{{"area":{{"value":2.88,"unit":"m2"}},"depth":{{"value":20,"unit":"cm"}}}},
        "additions":[{additions}]}}"#
    ))
}

fn twenty_pct(material: &str) -> String {
    format!(r#"{{"material":"{material}","amount":{{"value":20,"unit":"%v"}}}}"#)
}

fn compost_a_year(litres: f64) -> TopUp {
    TopUp {
        material: "yard_compost".into(),
        amount: Amount::new(litres, Unit::Litre),
        every_years: 1,
    }
}

/// What a recipe holds, typical: mineral matter of ground and of all additions, organic matter
/// with char, carbon of both, kg.
fn held(recipe: &Recipe) -> [f64; 3] {
    let barrow = Barrow::of(recipe).expect("it can be mixed");
    let ground = &barrow.ground;
    let fine_kg = barrow.ground_dry_kg * (1.0 - ground.gravel);
    let mut sums = [
        barrow.ground_dry_kg - fine_kg * ground.organic,
        fine_kg * ground.organic,
        fine_kg * ground.organic / ORGANIC_OVER_CARBON,
    ];
    for (addition, line) in recipe.additions.iter().zip(&barrow.lines) {
        let found = recipe.find(&addition.material).expect("a material");
        let carbon = found.properties().get(Property::Carbon);
        let organic_kg = line.dry_kg * (line.material.organic + line.material.char);
        sums[0] += line.dry_kg - organic_kg;
        sums[1] += organic_kg;
        // Without a carbon of its own as the ground's.
        sums[2] += carbon.map_or(organic_kg / ORGANIC_OVER_CARBON, |pct| {
            line.dry_kg * pct.typical * 0.01
        });
    }
    sums
}

fn close(ours: f64, theirs: f64, what: &str) {
    let scale = theirs.abs().max(1e-9);
    assert!(
        (ours - theirs).abs() <= 1e-9 * scale,
        "{what}: {ours}, not {theirs}"
    );
}

#[test]
fn carbon_and_minerals_are_conserved() {
    for material in ["yard_compost", "pine_bark", "sphagnum_peat", "biochar_wood"] {
        let given = bed(&twenty_pct(material));
        let climate = Climate::of(&given);
        let before = held(&given);
        let compost = compost_a_year(12.0);
        for years in [0.4, 1.0, 7.0, 20.0, 100.0] {
            for top_up in [None, Some(&compost)] {
                let later = aged_with(&given, years, &climate, top_up).expect("it ages");
                let after = held(&later);
                let mut added = [0.0; 2];
                if top_up.is_some() {
                    let entry = Entry::find("yard_compost").expect("compost");
                    let typical = |of| entry.properties.get(of).expect("given").typical;
                    let dry_kg = 0.012
                        * typical(Property::LooseDensity)
                        * (1.0 - 0.01 * typical(Property::WaterPerWet));
                    let times = years.floor();
                    added = [
                        times * dry_kg * (1.0 - 0.01 * typical(Property::OrganicMatter)),
                        times * dry_kg * 0.01 * typical(Property::Carbon),
                    ];
                }
                let what = format!("{material} after {years} years");
                close(
                    after[0],
                    before[0] + added[0],
                    &format!("minerals of {what}"),
                );
                let seasons = Seasons::of(&given, &climate, top_up, &[years]).expect("told");
                close(
                    after[2] + seasons[0].decayed_carbon_kg,
                    before[2] + added[1],
                    &format!("carbon of {what}"),
                );
            }
        }
    }
}

#[test]
fn organic_matter_only_falls_without_top_ups() {
    for material in [
        "yard_compost",
        "straw",
        "sphagnum_peat",
        "biochar_wood",
        "alfalfa_meal",
    ] {
        let given = bed(&twenty_pct(material));
        let climate = Climate::of(&given);
        let mut last = f64::INFINITY;
        for years in [0.0, 0.1, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0] {
            let later = aged(&given, years, &climate).expect("it ages");
            let organic_kg = held(&later)[1];
            assert!(
                organic_kg <= last * (1.0 + 1e-12),
                "{material}: {organic_kg} kg after {years} years, {last} before"
            );
            last = organic_kg;
            // And again from there: two pools start anew, but nothing rises.
            let twice = aged(&later, 5.0, &climate).expect("it ages again");
            assert!(held(&twice)[1] <= organic_kg * (1.0 + 1e-12), "{material}");
        }
    }
}

#[test]
fn today_is_the_recipe_itself() {
    let mut dice = Dice::new(7);
    for _ in 0..50 {
        let given = recipe(&random_measured(&mut dice));
        let today = aged(&given, 0.0, &Climate::of(&given)).expect("no time passes");
        assert_eq!(today, given, "nothing changes");
    }
}

#[test]
fn a_first_year_at_twelve_degrees_keeps_what_the_material_says() {
    for (material, kept) in [("yard_compost", 0.80), ("pine_bark", 0.84), ("straw", 0.35)] {
        let given = bed(&twenty_pct(material));
        let climate = Climate {
            mean_temperature_c: Figure::exact(12.0),
            ..Climate::of(&given)
        };
        let [season] = &Seasons::of(&given, &climate, None, &[1.0]).expect("told")[..] else {
            panic!("one season");
        };
        let pct = season.kept_pct.expect("organic matter was added").typical;
        assert!((pct - 100.0 * kept).abs() < 1e-7, "{material}: {pct} %");
    }
}

#[test]
fn splitting_a_line_changes_nothing() {
    let litres = |value: f64| {
        format!(r#"{{"material":"yard_compost","amount":{{"value":{value},"unit":"L"}}}}"#)
    };
    let whole = bed(&litres(150.0));
    let split = bed(&[litres(50.0), litres(100.0)].join(","));
    let climate = Climate::of(&whole);
    for top_up in [None, Some(&compost_a_year(10.0))] {
        let [one, two] = [&whole, &split].map(|recipe| {
            let later = aged_with(recipe, 8.0, &climate, top_up).expect("it ages");
            Outcome::of(&later).expect("it can be mixed")
        });
        for (one, two) in [
            (one.dry_kg, two.dry_kg),
            (one.volume_l.settled, two.volume_l.settled),
            (one.pores_pct.air, two.pores_pct.air),
        ] {
            close(two.typical, one.typical, "typical");
            close(two.ends().low, one.ends().low, "low");
            close(two.ends().high, one.ends().high, "high");
        }
    }
}

#[test]
fn any_recipe_ages_and_can_be_told_of() {
    let mut dice = Dice::new(20_260_107);
    let mut told = 0;
    for round in 0..400 {
        let document = if round % 3 == 0 {
            random_measured(&mut dice)
        } else {
            random(&mut dice)
        };
        let given = recipe(&document);
        if Outcome::of(&given).is_err() {
            continue;
        }
        let climate = Climate::of(&given);
        let litres = dice.between_sizes(0.1, 100.0);
        let top_up = TopUp {
            every_years: 1 + dice.below(3) as u32,
            ..compost_a_year(litres)
        };
        let top_up = dice.one_in(2).then_some(&top_up);
        let years = *dice.pick(&[0.0, 0.01, 1.0, 3.5, 20.0, 100.0]);
        let later = aged_with(&given, years, &climate, top_up)
            .unwrap_or_else(|error| panic!("{error:?} after {years} years of {document}"));
        let outcome = Outcome::of(&later)
            .unwrap_or_else(|error| panic!("{error:?} after {years} years of {document}"));
        for (what, figure) in [
            ("dry mass", outcome.dry_kg),
            ("volume", outcome.volume_l.settled),
            ("density", outcome.bulk_density_kg_m3.settled),
            ("air", outcome.pores_pct.air),
            ("drainage", outcome.drainage_mm_h),
        ] {
            let ends = figure.ends();
            assert!(
                figure.typical.is_finite() && ends.low.is_finite() && ends.high.is_finite(),
                "{what} after {years} years of {document}: {figure:?}"
            );
        }
        // It can be written and opened, as the page does.
        let letters = to_letters(&later);
        let again = from_letters(&letters)
            .unwrap_or_else(|error| panic!("{error:?} after {years} years of {document}"));
        assert_eq!(again, later, "letters of {document}");
        told += 1;
    }
    assert!(told > 250, "{told} recipes were told of");
}

#[test]
fn what_is_asked_stays_within_limits() {
    let given = bed(&twenty_pct("yard_compost"));
    let climate = Climate::of(&given);
    let refused = |result: Result<Recipe, SeasonsError>, of: Asked, what: &str| match result {
        Err(SeasonsError::OutOfRange {
            of: found,
            low,
            high,
            ..
        }) => assert!(found == of && low < high, "{what}: {found:?}"),
        other => panic!("{what}: {other:?}"),
    };
    for years in [-1.0, 1e6, f64::NAN, f64::INFINITY, -1e-9] {
        refused(aged(&given, years, &climate), Asked::Years, "years");
        assert!(
            Seasons::of(&given, &climate, None, &[years]).is_err(),
            "{years} years are not told of"
        );
        assert!(
            organic_matter_pct(&given, &climate, None, false, years).is_err(),
            "{years} years have no curve"
        );
    }
    for mean in [-31.0, 41.0, f64::NAN] {
        let climate = Climate {
            mean_temperature_c: Figure::exact(mean),
            ..climate
        };
        refused(aged(&given, 1.0, &climate), Asked::MeanTemperature, "mean");
    }
    let out_of_order = Climate {
        surplus_mm: Figure::between(5.0, 1.0, 9.0),
        ..climate
    };
    refused(aged(&given, 1.0, &out_of_order), Asked::Surplus, "order");
    let never = TopUp {
        every_years: 0,
        ..compost_a_year(1.0)
    };
    refused(
        aged_with(&given, 1.0, &climate, Some(&never)),
        Asked::Every,
        "every 0 years",
    );
    for amount in [-1.0, f64::NAN, f64::INFINITY] {
        let wrong = compost_a_year(amount);
        let result = aged_with(&given, 1.0, &climate, Some(&wrong));
        assert_eq!(result, Err(SeasonsError::NoTopUp), "{amount} litres");
    }
    let unknown = TopUp {
        material: "moon_dust".into(),
        ..compost_a_year(1.0)
    };
    assert!(
        matches!(
            aged_with(&given, 1.0, &climate, Some(&unknown)),
            Err(SeasonsError::TopUp(_))
        ),
        "an unknown material"
    );
    for level in [0.0, 100.0, f64::NAN] {
        let result = hold(&given, &climate, level, "yard_compost");
        assert!(result.is_err(), "a level of {level} %");
    }
}

#[test]
fn what_holds_a_level_holds_it() {
    let given = bed(&twenty_pct("yard_compost"));
    let climate = Climate::of(&given);
    for (level, material) in [
        (4.0, "yard_compost"),
        (6.0, "leaf_mold"),
        (5.0, "sphagnum_peat"),
    ] {
        let hold = hold(&given, &climate, level, material).expect("it can be asked");
        let hold = hold.unwrap_or_else(|| panic!("{material} can hold {level} %"));
        let top_up = TopUp {
            material: material.into(),
            amount: Amount::new(hold.loose_l, Unit::Litre),
            every_years: 1,
        };
        let later = aged_with(&given, HOLD_YEARS, &climate, Some(&top_up)).expect("it ages");
        let outcome = Outcome::of(&later).expect("it can be mixed");
        let pct = outcome.organic_matter_pct.expect("organic matter").typical;
        assert!(
            (pct - level).abs() < 1e-6,
            "{material}: {pct}, not {level} %"
        );
        let curve = organic_matter_pct(&given, &climate, Some(&top_up), false, HOLD_YEARS);
        let curve = curve.expect("a curve").expect("organic matter").typical;
        close(curve, pct, "the quick way and the whole one");
        let depth = hold.depth_mm.expect("a bed has an area");
        close(depth * 2.88, hold.loose_l, "a depth over the bed");
    }
    let sand = hold(&given, &climate, 4.0, "concrete_sand").expect("it can be asked");
    assert!(sand.is_none(), "no sand ever does: {sand:?}");
    let little = hold(&given, &climate, 0.5, "yard_compost").expect("it can be asked");
    assert_eq!(
        little.map(|hold| hold.dry_kg),
        Some(0.0),
        "it has that anyway"
    );
}

/// Without an outcome of the years, char hardly moves, straw is nearly gone, and sawdust takes up
/// nitrogen where alfalfa frees it.
#[test]
fn materials_go_as_gardeners_know_them() {
    let told = |material: &str, year: f64| {
        let given = bed(&twenty_pct(material));
        let climate = Climate::of(&given);
        let mut seasons = Seasons::of(&given, &climate, None, &[year]).expect("told");
        seasons.remove(0)
    };
    let kept = |material: &str| told(material, 5.0).kept_pct.expect("organic").typical;
    assert!(kept("biochar_wood") > 90.0, "char stays");
    assert!(kept("sphagnum_peat") > 70.0, "peat mostly");
    assert!(kept("straw") < 25.0, "straw goes");
    let freed = |material: &str| told(material, 1.0).freed_nitrogen_g[1].typical;
    assert!(freed("sawdust") < -100.0, "sawdust takes up nitrogen");
    assert!(freed("alfalfa_meal") > 100.0, "alfalfa frees it");
    let peat = told("sphagnum_peat", 10.0);
    assert!(
        peat.height_by_decay < 1.0 && peat.height_by_settling < 1.0,
        "a bed sinks by both"
    );
    let [settling, decay] = peat.sunk_cm.expect("a bed has an area");
    assert!(settling > 0.0 && decay > 0.0, "{settling} and {decay} cm");
}

/// In a mix whose band hangs on what is kept, the ends of the outcome lie about where the ends of
/// what is kept put them.
#[test]
fn the_band_knows_what_is_kept() {
    let given = bed(&twenty_pct("sawdust"));
    let climate = Climate {
        mean_temperature_c: Figure::exact(12.0),
        ..Climate::of(&given)
    };
    let later = aged(&given, 1.0, &climate).expect("it ages");
    let own = later.find("sawdust").expect("it is its own");
    let barrow = Barrow::of(&later).expect("it can be mixed");
    let density = own.properties().get(Property::LooseDensity).expect("given");
    let organic = own
        .properties()
        .get(Property::OrganicMatter)
        .expect("given");
    // Kept are 45, 60 or 75 of 100, of nearly pure organic matter.
    assert!(
        density.ends().low / density.typical < 0.80 && density.ends().high / density.typical > 1.20,
        "{density:?}"
    );
    assert!(organic.typical > 98.0, "{organic:?}");
    assert!(barrow.lines[0].dry_kg > 0.0, "something is left");
}

/// A mulch of the material that tops up stays a mulch, and lines of another moisture take the same
/// dry mass.
#[test]
fn top_ups_do_not_touch_a_mulch() {
    let given = bed(
        r#"{"material":"yard_compost","amount":{"value":50,"unit":"L"},"on_top":true},
        {"material":"yard_compost","amount":{"value":80,"unit":"kg"},"water_per_wet_pct":55}"#,
    );
    let climate = Climate::of(&given);
    let on_top = |recipe: &Recipe| {
        let barrow = Barrow::of(recipe).expect("it can be mixed");
        let lines: Vec<f64> = barrow
            .lines
            .iter()
            .filter(|line| line.on_top)
            .map(|line| line.dry_kg * (1.0 - line.material.organic))
            .collect();
        assert_eq!(lines.len(), 1, "one mulch");
        let mixed: f64 = barrow
            .mixed()
            .map(|line| line.dry_kg * (1.0 - line.material.organic))
            .sum();
        [lines[0], mixed]
    };
    let top_up = compost_a_year(10.0);
    let later = aged_with(&given, 6.0, &climate, Some(&top_up)).expect("it ages");
    assert_eq!(later.additions.len(), 2, "no line is added");
    let ([mulch, mixed], [later_mulch, later_mixed]) = (on_top(&given), on_top(&later));
    assert!(mulch > 0.0, "ash of the mulch");
    // 60 litres of 600 kg/m3 with 40 % water and 58 % ash.
    let ash_kg = 0.060 * 600.0 * 0.60 * 0.58;
    close(later_mulch + later_mixed, mulch + mixed + ash_kg, "all ash");
}

#[test]
fn a_full_recipe_takes_no_other_material() {
    let line = r#"{"material":"concrete_sand","amount":{"value":1,"unit":"kg"}}"#;
    let given = bed(&vec![line; 64].join(","));
    let climate = Climate::of(&given);
    let result = aged_with(&given, 3.0, &climate, Some(&compost_a_year(1.0)));
    assert!(
        matches!(result, Err(SeasonsError::TopUp(_))),
        "there is no room for it: {result:?}"
    );
}

#[test]
fn what_it_cost_stays_what_it_cost() {
    let line = |amount: &str| {
        format!(
            r#"{{"material":"yard_compost","amount":{amount},
            "price":{{"value":45,"per":{{"value":1,"unit":"m3"}}}}}}"#
        )
    };
    let given = bed(&line(r#"{"value":150,"unit":"L"}"#));
    let later = aged(&given, 9.0, &Climate::of(&given)).expect("it ages");
    let cost = |recipe: &Recipe| Outcome::of(recipe).expect("mixed").cost.expect("a price");
    close(cost(&later).typical, cost(&given).typical, "its cost");
    let none = bed(&line(r#"{"value":0,"unit":"L"}"#));
    let later = aged(&none, 9.0, &Climate::of(&none)).expect("it ages");
    assert_eq!(cost(&later).typical, 0.0, "nothing costs nothing");
}

fn exact_climate(recipe: &Recipe, mean_c: f64) -> Climate {
    Climate {
        mean_temperature_c: Figure::exact(mean_c),
        surplus_mm: Figure::exact(100.0),
        ..Climate::of(recipe)
    }
}

fn one(recipe: &Recipe, climate: &Climate, top_up: Option<&TopUp>, year: f64) -> Season {
    let mut seasons = Seasons::of(recipe, climate, top_up, &[year]).expect("told");
    seasons.remove(0)
}

/// What the chemistry of the recipe of a year tells of the nitrogen of the additions is what the
/// table tells of the year that follows; with its range.
#[test]
fn the_chemistry_of_a_year_tells_the_nitrogen_of_the_next() {
    for material in ["pine_bark", "yard_compost", "alfalfa_meal", "biochar_wood"] {
        for top_up in [None, Some(&compost_a_year(20.0))] {
            let given = bed(&twenty_pct(material));
            let climate = Climate::of(&given);
            for year in [1.0, 2.0, 5.0, 10.0, 19.0] {
                let later = aged_with(&given, year, &climate, top_up).expect("it ages");
                let outcome = Outcome::of(&later).expect("it can be mixed");
                let mut strata = Strata::default();
                let supplied = Supplied::of(&later, &outcome, Some(&mut strata));
                let sum = |of: fn(Figure) -> f64| -> f64 {
                    let supplies = supplied.supplies.iter();
                    supplies.map(|it| 1000.0 * of(it.nitrogen_kg)).sum()
                };
                let table = one(&given, &climate, top_up, year + 1.0).freed_nitrogen_g[1];
                let what = format!("{material} after {year} years");
                close(sum(|it| it.typical), table.typical, &what);
                // Ranges of one material; of two they do not add up.
                if supplied.supplies.len() == 1 {
                    let wide = |low: f64, high: f64| high - low;
                    let told = wide(table.ends().low, table.ends().high);
                    let drawn = wide(sum(|it| it.ends().low), sum(|it| it.ends().high));
                    assert!(
                        told < 1.05 * drawn,
                        "{what}: {told} g told, {drawn} g drawn"
                    );
                }
            }
        }
    }
}

/// Nothing is hazardous for having lain in a bed.
#[test]
fn ageing_invents_no_caution() {
    for entry in barrowmix::material::catalogue() {
        let given = bed(&format!(
            r#"{{"material":"{}","amount":{{"value":20,"unit":"kg"}}}}"#,
            entry.id
        ));
        let Ok(now) = Outcome::of(&given) else {
            continue;
        };
        let later = aged(&given, 1e-6, &Climate::of(&given)).expect("it ages");
        let then = Outcome::of(&later).expect("it can be mixed");
        let cares = |outcome: &Outcome| -> Vec<_> {
            outcome.cautions.iter().map(|caution| caution.of).collect()
        };
        assert_eq!(cares(&then), cares(&now), "cautions of {}", entry.id);
    }
}

/// Salt has nowhere to go; exchange and buffering go with the organic matter.
#[test]
fn salt_stays_and_exchange_goes() {
    for material in ["yard_compost", "straw", "sphagnum_peat"] {
        let given = bed(&twenty_pct(material));
        let later = aged(&given, 10.0, &Climate::of(&given)).expect("it ages");
        let of = |recipe: &Recipe| {
            let barrow = Barrow::of(recipe).expect("it can be mixed");
            let found = recipe.find(material).expect("it is there");
            let typical = |of| found.properties().get(of).map_or(0.0, |it| it.typical);
            let line = &barrow.lines[0];
            let organic_kg = line.dry_kg * line.material.organic;
            let ec = typical(Property::Ec1To5) * line.dry_kg;
            [
                ec,
                typical(Property::Cec) * line.dry_kg / organic_kg,
                typical(Property::Buffer) * line.dry_kg / organic_kg,
            ]
        };
        for (then, now) in of(&later).into_iter().zip(of(&given)) {
            close(then, now, material);
        }
    }
    let ground = |ec: &str| {
        let text = r#"{"barrowmix":1,"ground":{"sand_pct":30,"silt_pct":40,"clay_pct":30,
            "organic_matter_pct":20,"EC":0.8},"soil":{"value":100,"unit":"kg"}}"#;
        read(&text.replace("EC", ec))
    };
    for ec in ["ec_1to5_ds_m", "ec_saturated_paste_ds_m", "ec_1to2_ds_m"] {
        let given = ground(ec);
        let later = aged(&given, 50.0, &Climate::of(&given)).expect("it ages");
        let [now, then] = [&given, &later].map(|recipe| {
            let outcome = Outcome::of(recipe).expect("it can be mixed");
            outcome.chemistry.ec_1to5_ds_m * outcome.chemistry.fine_kg
        });
        close(then, now, ec);
    }
}

/// A mulch locks up nothing below the top centimetre, and nothing was loosened for it.
#[test]
fn a_mulch_takes_no_nitrogen_and_settles_nothing() {
    let mulch = r#"{"material":"wood_chips","amount":{"value":50,"unit":"mm"},"on_top":true}"#;
    let climate = Climate::of(&bed(""));
    for year in [1.0, 5.0] {
        let [bare, mulched] =
            [bed(""), bed(mulch)].map(|recipe| one(&recipe, &climate, None, year));
        close(
            mulched.freed_nitrogen_g[0].typical,
            bare.freed_nitrogen_g[0].typical,
            "nitrogen",
        );
        let added = mulched.freed_nitrogen_g[1].ends();
        assert_eq!([added.low, added.high], [0.0; 2], "none of the mulch");
        for season in [&bare, &mulched] {
            let [settling, decay] = season.sunk_cm.expect("a bed has an area");
            assert!(settling == 0.0 && decay > 0.0, "{settling} and {decay} cm");
            assert_eq!(season.height_by_settling, 1.0, "nothing was dug in");
        }
    }
    // With top-ups of the same material mixed in below, only those count.
    let compost = |on_top: bool| {
        bed(&format!(
            r#"{{"material":"yard_compost","amount":{{"value":50,"unit":"L"}},"on_top":{on_top}}}"#
        ))
    };
    let top_up = compost_a_year(10.0);
    for year in [1.0, 2.0, 7.0] {
        let of = |recipe: &Recipe| one(recipe, &climate, Some(&top_up), year).freed_nitrogen_g[1];
        let (mulched, bare) = (of(&compost(true)), of(&bed("")));
        close(mulched.typical, bare.typical, "only top-ups count");
        close(mulched.ends().low, bare.ends().low, "low");
        close(mulched.ends().high, bare.ends().high, "high");
    }
}

/// Twelve pots are one pot twelve times.
#[test]
fn the_years_of_many_pots_are_those_of_one() {
    let pots = |count: f64, height: &str| {
        read(&format!(
            r#"{{"barrowmix":1,"ground":{{"sand_pct":40,"silt_pct":40,"clay_pct":20}},
            "soil":{{"value":{},"unit":"L"}},
            "additions":[{{"material":"sphagnum_peat","amount":{{"value":{},"unit":"L"}}}}],
            "place":{{"kind":"container","top_width":{{"value":28,"unit":"cm"}},{height}
            "count":{count}}}}}"#,
            6.0 * count,
            6.0 * count
        ))
    };
    let height = r#""height":{"value":25,"unit":"cm"},"#;
    let [single, dozen] = [1.0, 12.0].map(|count| pots(count, ""));
    let climate = Climate::of(&single);
    let top_up = TopUp {
        amount: Amount::new(10.0, Unit::Millimetre),
        ..compost_a_year(0.0)
    };
    for top_up in [None, Some(&top_up)] {
        let [single, dozen] = [&single, &dozen].map(|recipe| one(recipe, &climate, top_up, 3.0));
        let (one, all) = (
            single.sunk_cm.expect("an area"),
            dozen.sunk_cm.expect("an area"),
        );
        for (all, one) in all.into_iter().zip(one) {
            close(all, one, "sunk");
        }
        close(
            dozen.freed_nitrogen_g_m2.expect("an area").typical,
            single.freed_nitrogen_g_m2.expect("an area").typical,
            "nitrogen on a square metre",
        );
    }
    let hold = |recipe: &Recipe| {
        let hold = hold(recipe, &climate, 12.0, "yard_compost").expect("asked");
        hold.expect("it can").depth_mm.expect("an area")
    };
    close(hold(&dozen), hold(&single), "depth that holds a level");
    // Twelve pots' worth in one that is 25 cm high.
    let mut heaped = pots(12.0, height);
    if let Some(place) = &mut heaped.place {
        place.count = None;
    }
    let [settling, decay] = one(&heaped, &climate, None, 20.0).sunk_cm.expect("an area");
    assert!(
        settling > 0.0 && decay > 0.0 && settling + decay < 25.0,
        "{settling} and {decay} cm"
    );
}

/// What humus loses in carbon it loses in nitrogen, at a carbon over nitrogen of 11; and on a loam of
/// much clay that is in what common practice counts with, 10 to 20 pounds an acre for a percent.
#[test]
fn the_ground_frees_the_nitrogen_of_what_it_loses() {
    let given = read(
        r#"{"barrowmix":1,"ground":{"sand_pct":35,"silt_pct":35,"clay_pct":30,
        "organic_matter_pct":3,"bulk_density_kg_m3":1300},
        "soil":{"area":{"value":10,"unit":"m2"},"depth":{"value":17,"unit":"cm"}}}"#,
    );
    let climate = exact_climate(&given, 12.0);
    let season = one(&given, &climate, None, 1.0);
    let grams = season.freed_nitrogen_g[0].typical;
    close(grams, 1000.0 * season.decayed_carbon_kg / 11.0, "nitrogen");
    let usual = native_kg_m2(3.0);
    let kg_m2 = grams / 1000.0 / 10.0;
    assert!(
        usual.low < kg_m2 && kg_m2 < usual.high,
        "{kg_m2} of {usual:?}"
    );
    let told = ground_nitrogen_kg(&given, &climate).expect("told").typical;
    close(1000.0 * told, grams, "the chemistry's line");
}

#[test]
fn in_lasting_frost_nothing_decays() {
    let given = bed(&twenty_pct("yard_compost"));
    for mean_c in [0.0, -5.0, -30.0] {
        let climate = exact_climate(&given, mean_c);
        let season = one(&given, &climate, None, 20.0);
        let kept = season.kept_pct.expect("organic matter was added").ends();
        assert_eq!([kept.low, kept.high], [100.0; 2], "{mean_c} C");
        close(season.height_by_decay, 1.0, "height");
        assert_eq!(season.freed_nitrogen_g[0].typical, 0.0, "{mean_c} C");
    }
}

/// Lots of different years differ by themselves: by hand, of pools at 12 C.
#[test]
fn lots_of_different_years_are_drawn_apart() {
    let text = r#"{"barrowmix":1,"ground":{"sand_pct":40,"silt_pct":40,"clay_pct":20},
        "soil":{"value":500,"unit":"L"},"materials":[{"id":"mine","group":"compost_manure",
        "loose_density_kg_m3":500,"water_per_wet_pct":0,"organic_matter_pct":50,"carbon_pct":25,
        "total_nitrogen_pct":{"low":1,"typical":2,"high":4},"kept_after_year_1_pct":80}]}"#;
    let given = read(text);
    let climate = exact_climate(&given, 12.0);
    let top_up = TopUp {
        material: "mine".into(),
        amount: Amount::new(10.0, Unit::Litre),
        every_years: 1,
    };
    let figure = one(&given, &climate, Some(&top_up), 6.0).freed_nitrogen_g[1];
    let [_, pools, _] =
        pools(Group::CompostManure, Some(Figure::exact(80.0))).expect("it is no humus");
    // Five lots of 5 kg, 1 to 5 years old at the end of the sixth.
    let decayed = (1..=5).map(|age| {
        let age = f64::from(age);
        5000.0 * (pools.left(age - 1.0, 1.0) - pools.left(age, 1.0))
    });
    let squares: f64 = decayed.map(|grams| grams * grams).sum();
    let ends = figure.ends();
    close(
        figure.typical - ends.low,
        0.01 * squares.sqrt(),
        "1 % less in each lot",
    );
    close(
        ends.high - figure.typical,
        0.02 * squares.sqrt(),
        "2 % more in each lot",
    );
}

/// Recipes at the edge of what can be typed give numbers, or say what is wrong.
#[test]
fn hostile_recipes_give_finite_figures() {
    let lines = |count: usize, amount: &str, more: &str| {
        let line = format!(
            r#"{{"material":"yard_compost","amount":{{"value":{amount},"unit":"L"}}{more}}}"#
        );
        vec![line; count].join(",")
    };
    let recipe = |ground: &str, soil: &str, additions: &str| {
        read(&format!(
            r#"{{"barrowmix":1,"ground":{{"sand_pct":40,"silt_pct":40,"clay_pct":20{ground}}},
            "soil":{soil},"additions":[{additions}],
            "place":{{"kind":"container","top_width":{{"value":30,"unit":"cm"}},"count":7}}}}"#
        ))
    };
    let some = r#"{"value":50,"unit":"L"}"#;
    let none = r#"{"value":0,"unit":"L"}"#;
    let wide = r#","organic_matter_pct":{"low":0,"typical":50,"high":100},
        "gravel_pct":{"low":0,"typical":50,"high":100},
        "carbonate_pct":{"low":0,"typical":10,"high":100}"#;
    let cases = [
        recipe("", none, &lines(1, "20", "")),
        recipe("", none, &lines(64, "1e-6", "")),
        recipe(r#","gravel_pct":100"#, some, &lines(2, "20", "")),
        recipe(r#","gravel_pct":100"#, some, ""),
        recipe(r#","organic_matter_pct":100"#, some, &lines(1, "0", "")),
        recipe(wide, some, &lines(64, "3", "")),
        recipe(wide, some, &lines(3, "0", "")),
        recipe("", some, &lines(1, "1e6", r#","on_top":true"#)),
        recipe("", r#"{"value":1e6,"unit":"m3"}"#, &lines(1, "1e-9", "")),
    ];
    let mut told = 0;
    for (at, given) in cases.iter().enumerate() {
        for mean in [-30.0, 11.0, 40.0] {
            let climate = Climate {
                mean_temperature_c: Figure::between(-30.0, mean, 40.0),
                surplus_mm: Figure::between(-2000.0, 0.0, 5000.0),
                grass: true,
            };
            for litres in [None, Some(0.0), Some(1e-9), Some(1e9)] {
                let top_up = litres.map(compost_a_year);
                let seasons = Seasons::of(
                    given,
                    &climate,
                    top_up.as_ref(),
                    &[0.0, 0.5, 1.0, 20.0, 100.0],
                );
                for season in seasons.into_iter().flatten() {
                    let figures = [
                        Some(season.settled_density_kg_m3),
                        Some(season.settled_l),
                        season.kept_pct,
                        season.organic_matter_pct,
                        Some(season.freed_nitrogen_g[0]),
                        Some(season.freed_nitrogen_g[1]),
                        season.freed_nitrogen_g_m2,
                    ];
                    let mut numbers = season.sunk_cm.map_or(vec![], |sunk| sunk.to_vec());
                    numbers.extend([
                        season.height_by_settling,
                        season.height_by_decay,
                        season.decayed_carbon_kg,
                    ]);
                    for figure in figures.into_iter().flatten() {
                        numbers.extend([figure.ends().low, figure.typical, figure.ends().high]);
                    }
                    assert!(
                        numbers.iter().all(|number| number.is_finite()),
                        "case {at}, top-up {litres:?}: {season:?}"
                    );
                    told += 1;
                }
            }
        }
    }
    assert!(told >= cases.len() * 3 * 5 * 3, "{told} were told of");
}
