#![cfg(not(target_arch = "wasm32"))]
//! The verdict's rules, each on both sides of its threshold: an amount is found where a sentence
//! turns, and there the figures, taken from outcomes and not from the rule, stand at the threshold.

mod support;

use barrowmix::outcome::{Outcome, RULES, Remark, Standing};
use barrowmix::words::{METRIC, remark_text};
use serde_json::{Value, json};
use support::{assert_close, recipes};

/// A clay of 100 kg, dry, with additions in kg.
fn clay(additions: &[(&str, f64)]) -> Value {
    let additions: Vec<Value> = additions
        .iter()
        .map(|(id, kg)| json!({ "material": id, "amount": { "value": kg, "unit": "kg" } }))
        .collect();
    json!({
        "barrowmix": 1,
        "ground": { "sand_pct": 20, "silt_pct": 30, "clay_pct": 50, "organic_matter_pct": 2.0,
                    "bulk_density_kg_m3": 1300, "water_per_dry_pct": 0, "crumb": 0.5 },
        "soil": { "value": 100, "unit": "kg" },
        "additions": additions,
        "materials": [
            // Its grains are half air and its solids heavy: it adds pores and no weight.
            { "id": "hollow", "group": "porous_mineral", "loose_density_kg_m3": 1300, "grain_mm": 0.01,
              "settled_dry_density_kg_m3": 1300, "grain_density_kg_m3": 2690, "solid_density_kg_m3": 5000,
              "sand_pct": 20, "silt_pct": 30, "clay_pct": 50, "organic_matter_pct": 0 },
        ],
    })
}

fn outcome(recipe: &Value) -> Outcome {
    let read = recipes::recipe(recipe);
    Outcome::of(&read).unwrap_or_else(|error| panic!("{error:?}: {recipe}"))
}

fn limit(id: &str) -> f64 {
    let rule = RULES.iter().find(|rule| rule.id == id);
    rule.unwrap_or_else(|| panic!("no rule {id}")).limit
}

/// The amounts just before and just after something turns from false to true, to a billionth.
fn turn(mut low: f64, mut high: f64, turned: impl Fn(f64) -> bool) -> [f64; 2] {
    assert!(!turned(low), "not yet at {low}");
    assert!(turned(high), "turned at {high}");
    while high - low > 1e-9 * high {
        let middle = 0.5 * (low + high);
        if turned(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    [low, high]
}

fn beside_digging(outcome: &Outcome) -> Standing {
    let mut says = outcome.verdict.iter();
    let found = says.find_map(|remark| match remark {
        Remark::BesideDigging { standing, .. } => Some(*standing),
        _ => None,
    });
    found.expect("it is told")
}

fn gain_over_digging(outcome: &Outcome) -> f64 {
    outcome.pore_space_pct.settled.typical - outcome.ground.settled_pore_space_pct.typical
}

#[test]
fn same_pores_and_same_soft_pores() {
    for (id, rule, kg) in [
        ("pumice", "same_pores", 60.0),
        ("yard_compost", "same_soft_pores", 60.0),
    ] {
        let at = |kg: f64| outcome(&clay(&[(id, kg)]));
        let more = |kg: f64| beside_digging(&at(kg)) == Standing::More;
        for kg in turn(0.1, kg, more) {
            let gain = gain_over_digging(&at(kg));
            assert_close(
                gain,
                limit(rule),
                1e-6,
                &format!("{rule} at {kg} kg of {id}"),
            );
        }
    }
    // And on the other side: sand that tightens.
    let at = |kg: f64| outcome(&clay(&[("concrete_sand", kg)]));
    let less = |kg: f64| beside_digging(&at(kg)) == Standing::Less;
    for kg in turn(0.1, 60.0, less) {
        assert_close(
            gain_over_digging(&at(kg)),
            -limit("same_pores"),
            1e-6,
            "tighter",
        );
    }
    // Against the ground as it lies the same holds.
    let lies = |outcome: &Outcome| {
        outcome.verdict.iter().any(|remark| {
            matches!(
                remark,
                Remark::BothEnds {
                    standing: [Standing::Less, _],
                    ..
                }
            )
        })
    };
    for kg in turn(0.1, 100.0, |kg| lies(&at(kg))) {
        let outcome = at(kg);
        let blend = &outcome.blend;
        let crumbly = 100.0 * blend.pore_space(blend.volumes.crumbly_m3);
        let lying = outcome.ground.lying_pore_space_pct.typical;
        assert_close(
            crumbly - lying,
            -limit("same_pores"),
            1e-6,
            "tighter than it lies",
        );
    }
}

fn idle_text(outcome: &Outcome) -> String {
    let mut says = outcome.verdict.iter();
    let idle = says.find(|remark| matches!(remark, Remark::Idle { .. }));
    remark_text(idle.expect("it is told"), METRIC)
}

fn is_idle(outcome: &Outcome) -> bool {
    outcome
        .verdict
        .iter()
        .any(|remark| matches!(remark, Remark::Idle { .. }))
}

/// How far the settled blend differs from the clay alone, over each threshold.
fn shown(id: &str, kg: f64) -> [(&'static str, f64); 4] {
    // A microgram of the same stands for nothing: the clay goes the same way through the model.
    let [with, without] = [kg, 1e-9].map(|kg| outcome(&clay(&[(id, kg)])));
    let differ = |of: fn(&Outcome) -> f64| (of(&with) - of(&without)).abs();
    let fractions = |outcome: &Outcome| outcome.texture.expect("fines").fractions_pct;
    let (one, other) = (fractions(&with), fractions(&without));
    let texture = (0..3).map(|index| (one[index].typical - other[index].typical).abs());
    [
        (
            "no_pores",
            differ(|outcome| outcome.pore_space_pct.settled.typical),
        ),
        (
            "no_density",
            differ(|outcome| outcome.bulk_density_kg_m3.settled.typical),
        ),
        (
            "no_organic_matter",
            differ(|outcome| outcome.organic_matter_pct.expect("fines").typical),
        ),
        ("no_texture", texture.fold(0.0, f64::max)),
    ]
}

#[test]
fn what_changes_nothing_measurable_is_said_to_be_idle() {
    // Each measure is the first to show in one of them.
    for (id, first) in [
        ("play_sand", "no_texture"),
        ("yard_compost", "no_organic_matter"),
        ("perlite", "no_density"),
        ("hollow", "no_pores"),
    ] {
        let idle = |kg: f64| is_idle(&outcome(&clay(&[(id, kg)])));
        for kg in turn(1e-6, 6.0, |kg| !idle(kg)) {
            for (rule, by) in shown(id, kg) {
                if rule == first {
                    assert_close(
                        by,
                        limit(rule),
                        1e-3 * limit(rule),
                        &format!("{rule} of {id}"),
                    );
                } else {
                    assert!(by < limit(rule), "{rule} of {id} at {kg} kg: {by}");
                }
            }
        }
    }
}

#[test]
fn only_just_touching() {
    let at = |kg: f64| outcome(&clay(&[("concrete_sand", kg)]));
    let [before, after] = turn(1.0, 2000.0, |kg| at(kg).skeleton.touching == Some(true));
    let room = |kg: f64| {
        let skeleton = at(kg).skeleton;
        skeleton.share.typical - skeleton.threshold.expect("clay").typical
    };
    assert!(
        room(before) < 0.0 && room(after) >= 0.0,
        "they touch from the threshold on"
    );
    let firmly = |kg: f64| {
        matches!(
            at(kg).verdict[0],
            Remark::Touching {
                only_just: false,
                ..
            }
        )
    };
    for kg in turn(after, 3000.0, firmly) {
        assert_close(room(kg), limit("only_just"), 1e-6, "only just");
    }
}

#[test]
fn odds_that_grains_touch_all_the_same() {
    let at = |kg: f64| outcome(&clay(&[("concrete_sand", kg)]));
    let told = |outcome: &Outcome| remark_text(&outcome.verdict[0], METRIC).contains("Odds");
    // Grain sizes and fractions of the ground are certain, so the odds go from none to some.
    let [before, after] = turn(1.0, 290.0, |kg| told(&at(kg)));
    let odds = |kg: f64| at(kg).skeleton.touching_odds.expect("clay");
    assert!(odds(before) < limit("told_odds"), "{}", odds(before));
    assert!(odds(after) >= limit("told_odds"), "{}", odds(after));
    assert!(odds(after) - odds(before) < 0.01, "it turns there");
}

#[test]
fn more_than_anyone_would_buy() {
    // Stones of the ground and pumice help to touch, so less sand is needed.
    let at = |pumice: f64| {
        let mut recipe = clay(&[("concrete_sand", 60.0), ("pumice", pumice)]);
        recipe["ground"]["gravel_pct"] = json!(80);
        recipe["ground"]["bulk_density_kg_m3"] = json!(1500);
        outcome(&recipe)
    };
    let floating = |outcome: &Outcome, much: bool| matches!(outcome.verdict[0], Remark::Floating { too_much, .. } if too_much == much);
    for pumice in turn(0.1, 40.0, |pumice| floating(&at(pumice), false)) {
        let outcome = at(pumice);
        let line = &outcome.barrow.lines[0];
        let more_kg = outcome
            .skeleton
            .more_to_touch_kg
            .expect("they float")
            .typical;
        let loose = line.loose_m3 * (line.moist_kg + more_kg) / line.moist_kg;
        let parts = loose / outcome.barrow.ground_loose_m3();
        assert_close(parts, limit("too_much"), 1e-6, "parts to one of ground");
        let text = remark_text(&outcome.verdict[0], METRIC);
        assert_eq!(
            text.contains("than anyone would buy"),
            parts > 1.0,
            "{text}"
        );
        assert_eq!(floating(&outcome, true), parts > 1.0, "{parts}");
    }
    // Of what is idle: so many times as much.
    let needed = |kg: f64| {
        let outcome = outcome(&clay(&[("greensand", kg)]));
        outcome.verdict.iter().find_map(|remark| match remark {
            Remark::Idle { needed_kg, .. } => Some(*needed_kg),
            _ => None,
        })
    };
    let shows = needed(0.1)
        .flatten()
        .expect("a tenth of a kilogram is idle");
    let text = idle_text(&outcome(&clay(&[("greensand", 0.1)])));
    assert!(
        text.contains("would be needed before anything showed"),
        "{text}"
    );
    let [few, many] = turn(1e-5, 0.1, |kg| needed(kg).flatten().is_some());
    for kg in [few, many] {
        assert_close(shows / kg, limit("too_many_times"), 2.0, "times as much");
    }
    let text = idle_text(&outcome(&clay(&[("greensand", few)])));
    assert!(text.contains("more than anyone would buy"), "{text}");
}

#[test]
fn only_of_little_it_is_asked_whether_it_shows() {
    // A soil like the ground changes nothing, however much of it; a material that cannot be told from
    // the ground is idle up to the share.
    let at = |share: f64| {
        let mut recipe = clay(&[]);
        recipe["materials"] = json!([{
            "id": "same", "group": "porous_mineral", "loose_density_kg_m3": 1040, "grain_mm": 0.003,
            "settled_dry_density_kg_m3": 1300, "grain_density_kg_m3": 2650, "solid_density_kg_m3": 2650,
            "organic_matter_pct": 2, "sand_pct": 20, "silt_pct": 30, "clay_pct": 50,
        }]);
        recipe["additions"] =
            json!([{ "material": "same", "amount": { "value": share, "unit": "%v" } }]);
        outcome(&recipe)
    };
    for share in turn(1.0, 9.0, |share| !is_idle(&at(share))) {
        assert_close(
            share / 100.0,
            limit("small_share"),
            1e-6,
            "share of the heap",
        );
    }
}

#[test]
fn compost_is_told_instead_unless_there_is_enough() {
    let at = |compost: f64| {
        let mut recipe = clay(&[("concrete_sand", 20.0)]);
        if compost > 0.0 {
            recipe["additions"].as_array_mut().expect("a list").push(
                json!({ "material": "yard_compost", "amount": { "value": compost, "unit": "%v" } }),
            );
        }
        outcome(&recipe)
    };
    let told = |outcome: &Outcome| {
        outcome.verdict.iter().find_map(|remark| match remark {
            Remark::Instead {
                litres,
                pores_pct,
                kg,
                ..
            } => Some([*litres, *pores_pct, *kg]),
            _ => None,
        })
    };
    for share in turn(1.0, 40.0, |share| told(&at(share)).is_none()) {
        assert_close(
            share / 100.0,
            limit("enough_organic"),
            1e-6,
            "organic share of the heap",
        );
    }
    // What is told is what a recipe of its own comes to.
    let [litres, pores_pct, kg] = told(&at(0.0)).expect("it is told");
    let mut alone = clay(&[]);
    let share = 100.0 * limit("instead_share");
    alone["additions"] =
        json!([{ "material": "yard_compost", "amount": { "value": share, "unit": "%v" } }]);
    let alone = outcome(&alone);
    let line = &alone.barrow.lines[0];
    assert_close(litres, line.loose_m3 * 1000.0, 1e-6, "litres");
    assert_close(kg, line.moist_kg, 1e-6, "kg");
    assert_close(
        pores_pct,
        alone.pore_space_pct.settled.typical,
        1e-6,
        "pores",
    );
}

fn holds(outcome: &Outcome) -> Option<(Standing, bool)> {
    outcome.verdict.iter().find_map(|remark| match remark {
        Remark::Holds {
            standing,
            buys_air,
            air_pct,
            available_pct,
        } => {
            // It tells the figures of the outcome.
            let (pores, ground) = (outcome.pores_pct, outcome.ground);
            assert_eq!(
                [*air_pct, *available_pct],
                [
                    [ground.settled_air_pct.typical, pores.air.typical],
                    [
                        ground.settled_available_water_pct.typical,
                        pores.available_water.typical
                    ]
                ],
                "what it tells"
            );
            let text = remark_text(remark, METRIC);
            assert!(text.len() > 40 && !text.contains("{}"), "{text}");
            Some((*standing, *buys_air))
        }
        _ => None,
    })
}

/// More air and more water for plants than the ground dug alone has.
fn gains(outcome: &Outcome) -> [f64; 2] {
    let (pores, ground) = (outcome.pores_pct, outcome.ground);
    [
        pores.air.typical - ground.settled_air_pct.typical,
        pores.available_water.typical - ground.settled_available_water_pct.typical,
    ]
}

/// So much of the heap, in %, of one material in a ground.
fn share_in(ground: [f64; 3], id: &str, share: f64) -> Value {
    let mut recipe = clay(&[]);
    for (name, value) in ["sand_pct", "silt_pct", "clay_pct"].iter().zip(ground) {
        recipe["ground"][*name] = json!(value);
    }
    recipe["additions"] = json!([{ "material": id, "amount": { "value": share, "unit": "%v" } }]);
    recipe
}

const CLAY: [f64; 3] = [20.0, 30.0, 50.0];
const SANDY_LOAM: [f64; 3] = [65.0, 25.0, 10.0];

#[test]
fn same_water() {
    let same = limit("same_water");
    for (ground, id, standing, most) in [
        (SANDY_LOAM, "sphagnum_peat", Standing::More, 80.0),
        (SANDY_LOAM, "concrete_sand", Standing::Less, 60.0),
        (SANDY_LOAM, "pea_gravel", Standing::Less, 60.0),
    ] {
        let at = |share: f64| outcome(&share_in(ground, id, share));
        let side = if standing == Standing::More {
            1.0
        } else {
            -1.0
        };
        let told = |share: f64| holds(&at(share)) == Some((standing, false));
        // What equations miss goes in small steps from class to class, so water does too.
        let [before, after] = turn(0.5, most, told).map(|share| side * gains(&at(share))[1]);
        assert!(
            before < same && after >= same,
            "{before} and {after} of {id}"
        );
        assert_close(before, after, 0.3, &format!("water at the turn of {id}"));
    }
    // In heavy clay compost buys air, and that is told from as much on.
    let at = |share: f64| outcome(&share_in(CLAY, "yard_compost", share));
    let told = |share: f64| holds(&at(share)) == Some((Standing::Same, true));
    for share in turn(1.0, 40.0, told) {
        let [air, water] = gains(&at(share));
        assert_close(air, same, 1e-6, "air");
        assert!(water.abs() < same, "and {water} points of water");
    }
    assert_eq!(holds(&at(5.0)), None, "little changes neither");
}

#[test]
fn compost_in_heavy_clay_buys_air_and_not_water() {
    let ground = |clay: f64| [30.0, 70.0 - clay, clay];
    let heavy = limit("heavy_clay");
    let at = |clay: f64| outcome(&share_in(ground(clay), "yard_compost", 40.0));
    let buys = |clay: f64| holds(&at(clay)) == Some((Standing::Same, true));
    for clay in turn(heavy - 5.0, heavy + 15.0, buys) {
        assert_close(clay, heavy, 1e-6, "clay from which it buys air");
        let [air, water] = gains(&at(clay));
        let same = limit("same_water");
        assert!(
            air > same && water.abs() < same,
            "{air} of air, {water} of water"
        );
    }
    // What is told instead of sand says so too.
    let instead = |clay: f64| {
        let mut recipe = share_in(ground(clay), "concrete_sand", 10.0);
        recipe["ground"]["crumb"] = json!(0.5);
        let outcome = outcome(&recipe);
        let found = outcome.verdict.iter().find_map(|remark| match remark {
            Remark::Instead { buys_air, .. } => Some(*buys_air),
            _ => None,
        });
        found.unwrap_or_else(|| panic!("it is told at {clay} % clay: {:?}", outcome.verdict))
    };
    for clay in turn(heavy - 2.0, heavy + 10.0, instead) {
        assert_close(clay, heavy, 1e-6, "clay from which compost would");
    }
}

#[test]
fn sand_alone_never_holds_more() {
    let mut told = 0;
    for ground in [
        [20.0, 30.0, 50.0],
        [5.0, 35.0, 60.0],
        [5.0, 50.0, 45.0],
        [32.0, 34.0, 34.0],
        [40.0, 40.0, 20.0],
        [20.0, 65.0, 15.0],
        [5.0, 88.0, 7.0],
        [65.0, 25.0, 10.0],
        [90.0, 5.0, 5.0],
    ] {
        for id in [
            "play_sand",
            "mason_sand",
            "concrete_sand",
            "sharp_sand",
            "pea_gravel",
        ] {
            for share in [2.0, 10.0, 20.0, 35.0, 50.0, 70.0, 90.0] {
                let outcome = outcome(&share_in(ground, id, share));
                let found = holds(&outcome);
                assert!(
                    !matches!(found, Some((Standing::More, _) | (_, true))),
                    "{found:?} of {share} % {id} in {ground:?}"
                );
                told += usize::from(found.is_some());
            }
        }
    }
    assert!(told > 20, "{told} hold less");
}

#[test]
fn each_rule_is_in_the_table_once_and_tested_here() {
    let here = include_str!("verdict.rs");
    for (index, rule) in RULES.iter().enumerate() {
        assert!(
            RULES[..index].iter().all(|other| other.id != rule.id),
            "{} once",
            rule.id
        );
        assert!(
            rule.limit > 0.0 && !rule.unit.is_empty(),
            "{} has a limit",
            rule.id
        );
        assert!(!rule.source.is_empty(), "{} has a source", rule.id);
        assert!(
            here.contains(&format!("\"{}\"", rule.id)),
            "{} is tested",
            rule.id
        );
    }
}

#[test]
fn an_addition_that_tightens_is_named() {
    // Gravel in a sandy loam takes the room of pores.
    let mut recipe = clay(&[("pea_gravel", 100.0)]);
    recipe["ground"] = json!({ "sand_pct": 70, "silt_pct": 20, "clay_pct": 10,
                               "bulk_density_kg_m3": 1400, "water_per_dry_pct": 0 });
    let outcome = outcome(&recipe);
    let told = outcome.verdict.iter().find_map(|remark| match remark {
        Remark::Tightens {
            name,
            pores_pct,
            without_pct,
        } => Some((name, *pores_pct, *without_pct)),
        _ => None,
    });
    let (name, pores_pct, without_pct) = told.expect("it is told");
    assert_eq!(name, "Pea gravel", "the only one");
    assert_close(
        pores_pct,
        outcome.pore_space_pct.settled.typical,
        1e-9,
        "this blend",
    );
    let alone = outcome.ground.settled_pore_space_pct.typical;
    assert_close(without_pct, alone, 1e-6, "without it, the ground alone");
    // What opens is not named.
    let open = outcome_of("pumice");
    let tightens = |remark: &Remark| matches!(remark, Remark::Tightens { .. });
    assert!(!open.verdict.iter().any(tightens), "pumice opens");
}

fn outcome_of(id: &str) -> Outcome {
    outcome(&clay(&[(id, 40.0)]))
}

#[test]
fn greensand_at_its_garden_rate_does_nothing() {
    // 50 lb on 1000 ft2 is 0.244 kg/m2, about 0.13 % of a layer of 15 cm that weighs 195 kg/m2
    // (computed from the label rate; factors NIST), so no fraction moves by more than that.
    let mut recipe = clay(&[]);
    recipe["soil"] = json!({ "value": 195, "unit": "kg" });
    let plain = outcome(&recipe);
    recipe["additions"] =
        json!([{ "material": "greensand", "amount": { "value": 0.244, "unit": "kg" } }]);
    let with = outcome(&recipe);
    let fractions = |outcome: &Outcome| outcome.texture.expect("fines").fractions_pct;
    for (one, other) in fractions(&with).iter().zip(fractions(&plain)) {
        let moved = (one.typical - other.typical).abs();
        assert!(moved <= 0.13, "a fraction moved by {moved}");
    }
    let last = &with.verdict[0]; // all that is added is idle: it comes first
    let Remark::Idle {
        names,
        share_pct,
        is_chemical,
        ..
    } = last
    else {
        panic!("greensand is idle: {last:?}");
    };
    assert_eq!(names, &["Greensand"], "it alone");
    assert_close(*share_pct, 0.13, 0.015, "share of the dry mass");
    assert!(!is_chemical, "it is a meal of minerals");
    let text = remark_text(last, METRIC);
    assert!(
        text.starts_with("Nothing that you could measure comes of greensand at this rate."),
        "{text}"
    );
}

#[test]
fn gypsum_leaves_texture_alone() {
    let plain = outcome(&clay(&[]));
    let with = outcome(&clay(&[("gypsum", 5.0)]));
    let fractions = |outcome: &Outcome| outcome.texture.expect("fines").fractions_pct;
    for (one, other) in fractions(&with).iter().zip(fractions(&plain)) {
        assert_close(
            one.typical,
            other.typical,
            1e-9,
            "gypsum is no sand, silt or clay",
        );
    }
    let small = outcome(&clay(&[("gypsum", 0.1)]));
    let text = idle_text(&small);
    assert!(
        text.contains("comes of gypsum") && text.contains("soil test"),
        "{text}"
    );
}

#[test]
fn a_liquid_at_label_rate_is_said_to_be_unproven() {
    let outcome = outcome(&clay(&[("liquid_conditioner", 0.01)]));
    let text = idle_text(&outcome);
    assert!(text.contains("no lasting change in the soil"), "{text}");
    assert!(text.contains("more than anyone would buy"), "{text}");
}

#[test]
fn several_idle_ones_are_told_together() {
    let outcome = outcome(&clay(&[
        ("gypsum", 0.1),
        ("greensand", 0.1),
        ("sulfur", 0.02),
    ]));
    let text = idle_text(&outcome);
    assert!(
        text.starts_with("Nothing that you could measure comes of gypsum, greensand and sulfur"),
        "{text}"
    );
}

#[test]
fn many_little_ones_may_show_together() {
    let sands = ["play_sand", "mason_sand", "concrete_sand", "sharp_sand"];
    for id in sands {
        assert!(
            is_idle(&outcome(&clay(&[(id, 0.8)]))),
            "so little {id} does not show"
        );
    }
    let all = outcome(&clay(&sands.map(|id| (id, 0.8))));
    assert!(!is_idle(&all), "but all of them do: {:?}", all.verdict);
}

#[test]
fn half_peat_gives_the_organic_matter_of_hand_calculation() {
    // By volume half and half: peat as in the catalogue (typical values), ground 100 kg dry with 2 %
    // organic matter, dug at 1300/1.25 kg/m3; masses by hand.
    let peat = barrowmix::material::catalogue()
        .iter()
        .find(|entry| entry.id == "sphagnum_peat");
    let peat = &peat.expect("peat").properties;
    use barrowmix::material::Property;
    let typical = |of: Property| peat.get(of).expect("it is known").typical;
    let mut recipe = clay(&[]);
    recipe["additions"] =
        json!([{ "material": "sphagnum_peat", "amount": { "value": 50, "unit": "%v" } }]);
    let outcome = outcome(&recipe);
    let dug_m3 = 100.0 / outcome.ground.dug_density_kg_m3.typical;
    let peat_kg =
        dug_m3 * typical(Property::LooseDensity) * (1.0 - typical(Property::WaterPerWet) / 100.0);
    let coarse = typical(Property::Coarse) / 100.0;
    let organic = typical(Property::OrganicMatter) / 100.0;
    let fine_kg = peat_kg - peat_kg * (1.0 - organic) * coarse;
    let expected = 100.0 * (2.0 + peat_kg * organic) / (100.0 + fine_kg);
    let computed = outcome.organic_matter_pct.expect("there is some").typical;
    assert_close(computed, expected, 1e-9, "organic matter of half peat");
    assert!(computed > 8.0, "peat shows: {computed} %");
}
