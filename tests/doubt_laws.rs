#![cfg(not(target_arch = "wasm32"))]
//! Laws that the ranges of every blend must keep, tried on random recipes with wide ranges.

#[path = "support/doubt.rs"]
mod doubt;
mod support;

use barrowmix::draws::ends;
use barrowmix::figure::Figure;
use barrowmix::ground::Trait;
use barrowmix::material::{Entry, Group, Property, catalogue};
use barrowmix::outcome::{Measure, Outcome};
use barrowmix::recipe::Recipe;
use doubt::{MEASURES, Number, assert_same_bits, brief, doubtful, numbers, scaled, three};
use serde_json::{Value, json};
use support::blends::{ROUNDING, outcome};
use support::dice::Dice;
use support::{assert_close, assert_relative, recipes};

#[test]
fn every_figure_and_every_draw_is_possible() {
    let mut pots = 0;
    doubtful(41, 300, |recipe, outcome, _| {
        let what = brief(recipe);
        let numbers = numbers(outcome);
        let of_pot = |(name, _): &&(String, Number)| name.starts_with("container.");
        let told = numbers.iter().filter(of_pot).count();
        assert_eq!(
            told,
            if outcome.container.is_some() { 4 } else { 0 },
            "{what}"
        );
        pots += usize::from(told > 0);
        if let Some(pot) = &outcome.container {
            assert!(
                pot.wet_layer_cm <= pot.pot.height_cm && pot.pot.height_cm > 0.0,
                "{pot:?} in {what}"
            );
        }
        for (name, number) in &numbers {
            match number {
                Number::Figure([low, typical, high]) => {
                    assert!(
                        low.is_finite() && high.is_finite() && low <= typical && typical <= high,
                        "{name} is {low} to {typical} to {high} in {what}"
                    );
                    let difference = name.ends_with("difference");
                    assert!(difference || *low >= 0.0, "{name} from {low} in {what}");
                    assert!(
                        difference || !name.contains("_pct") || *high <= 100.0,
                        "{name} to {high} in {what}"
                    );
                }
                Number::Odds(odds) => assert!(
                    (0.0..=1.0 + ROUNDING).contains(odds),
                    "{name} is {odds} in {what}"
                ),
            }
        }
        assert_draws(outcome, &what);
    });
    assert!(pots > 30, "{pots} pots");
}

fn assert_draws(outcome: &Outcome, what: &str) {
    let column = |of: Measure| outcome.drawn.column(of);
    for (of, percent) in MEASURES {
        // What a draw may lack: fines, fine earth, clay to float in, a price, a pot.
        let may_lack = matches!(
            of,
            Measure::Sand
                | Measure::Silt
                | Measure::Clay
                | Measure::OrganicMatter
                | Measure::OrganicMatterWithChar
                | Measure::Threshold
                | Measure::MoreToTouch
                | Measure::Cost
                | Measure::PotWater
                | Measure::PotAir
        );
        let most = if percent { 100.0 + 1e-9 } else { f64::MAX };
        for (draw, value) in column(of).iter().enumerate() {
            assert!(
                (0.0..=most).contains(value) || (value.is_nan() && may_lack),
                "draw {draw} of {of:?} is {value} in {what}"
            );
        }
    }
    for draw in 0..column(Measure::Sand).len() {
        let of = |of: Measure| column(of)[draw];
        let sum = of(Measure::Sand) + of(Measure::Silt) + of(Measure::Clay);
        assert!(
            sum.is_nan() || (sum - 100.0).abs() < 1e-9,
            "fractions of draw {draw} sum to {sum} in {what}"
        );
        let ordered = |less: Measure, more: Measure| of(less) <= of(more) * (1.0 + ROUNDING);
        assert!(
            ordered(Measure::PuddledVolume, Measure::SettledVolume)
                && ordered(Measure::SettledVolume, Measure::FreshVolume)
                && ordered(Measure::DryMass, Measure::MoistMass),
            "states of draw {draw} in {what}"
        );
    }
}

#[test]
fn class_odds_sum_to_one() {
    // A ground that may be all organic, and one that may be all gravel: not every draw has fines.
    let mut grounds = vec![
        json!({ "sand_pct": 20, "silt_pct": 30, "clay_pct": 50,
            "organic_matter_pct": { "low": 0, "typical": 50, "high": 100 } }),
        json!({ "sand_pct": 20, "silt_pct": 30, "clay_pct": 50,
            "gravel_pct": { "low": 20, "typical": 60, "high": 100 } }),
    ];
    let mut dice = Dice::new(42);
    for _ in 0..100 {
        let [sand, silt, clay] = dice.shares_pct();
        let (low, high) = (dice.between(0.0, clay), dice.between(clay, 100.0));
        grounds.push(json!({ "sand_pct": sand, "silt_pct": silt,
            "clay_pct": { "low": low, "typical": clay, "high": high } }));
    }
    for ground in grounds {
        let document =
            json!({ "barrowmix": 1, "ground": ground, "soil": { "value": 40, "unit": "L" } });
        let texture = outcome(&recipes::recipe(&document)).texture.expect("fines");
        let sum: f64 = texture.class_odds.iter().sum();
        assert_close(sum, 1.0, 1e-9, &format!("class odds of {document}"));
    }
}

#[test]
fn order_of_additions_changes_no_bit() {
    doubtful(43, 120, |recipe, one, dice| {
        let mut other = recipe.clone();
        shuffle(&mut other, dice);
        let what = format!("in another order {}", brief(recipe));
        assert_same_bits(one, &outcome(&other), &what);
    });
}

fn shuffle(recipe: &mut Recipe, dice: &mut Dice) {
    for index in (1..recipe.additions.len()).rev() {
        recipe.additions.swap(index, dice.below(index + 1));
    }
}

fn garden(additions: &Value) -> Recipe {
    recipes::recipe(&json!({
        "barrowmix": 1,
        "ground": { "sand_pct": 18, "silt_pct": 27, "clay_pct": { "low": 48, "typical": 55, "high": 62 } },
        "soil": { "value": 40, "unit": "L" },
        "additions": additions,
        "place": { "kind": "bed", "top_width": { "value": 70, "unit": "cm" } },
    }))
}

#[test]
fn order_of_prices_changes_no_bit() {
    let line = |material: &str, litres: f64, price: f64| {
        json!({ "material": material, "amount": { "value": litres, "unit": "L" },
            "price": { "value": price, "per": { "value": 3, "unit": "kg" } } })
    };
    let lines = [
        line("concrete_sand", 10.3, 0.1),
        line("yard_compost", 7.7, 0.7),
        line("perlite", 3.1, 5.3),
        line("pine_bark", 0.9, 1.1),
        line("pumice", 2.3, 3.7),
        line("gypsum", 0.3, 2.9),
        line("sphagnum_peat", 5.9, 6.1),
    ];
    let one = outcome(&garden(&json!(lines)));
    let mut dice = Dice::new(44);
    for _ in 0..40 {
        let mut recipe = garden(&json!(lines));
        shuffle(&mut recipe, &mut dice);
        assert_same_bits(&one, &outcome(&recipe), "prices in another order");
    }
}

/// Two sands of the same mass: either could be the one of which more is asked.
#[test]
fn order_of_equals_changes_no_bit() {
    let line = |material: &str| {
        json!({ "material": material, "amount": { "value": 10, "unit": "kg" },
            "water_per_wet_pct": 4 })
    };
    let lines = [line("concrete_sand"), line("sharp_sand")];
    let one = outcome(&garden(&json!(lines)));
    let other = outcome(&garden(&json!([lines[1], lines[0]])));
    assert_same_bits(&one, &other, "equals in another order");
}

#[test]
fn splitting_an_addition_changes_no_bit() {
    let mut split = 0;
    doubtful(45, 120, |recipe, one, dice| {
        if recipe.additions.is_empty() {
            return;
        }
        let mut other = recipe.clone();
        for at in 0..recipe.additions.len() {
            let value = recipe.additions[at].amount.value;
            // Halves, and whole numbers: what sums to the same bits again.
            let part = if value.fract() == 0.0 && value >= 2.0 && dice.one_in(2) {
                1.0 + dice.below(value as usize - 1) as f64
            } else {
                value / 2.0
            };
            let mut second = other.additions[at].clone();
            other.additions[at].amount.value = part;
            second.amount.value = value - part;
            assert_eq!(part + second.amount.value, value, "nothing is lost");
            if dice.one_in(2) {
                other.additions.push(second);
                split += 1;
            } else {
                other.additions[at].amount.value = value;
            }
        }
        shuffle(&mut other, dice);
        let what = format!("split {}", brief(recipe));
        assert_same_bits(one, &outcome(&other), &what);
    });
    assert!(split > 100, "{split} lines were split");
}

#[test]
fn splitting_changes_no_bit_in_any_unit() {
    let line = |material: &str, value: f64, unit: &str| json!({ "material": material, "amount": { "value": value, "unit": unit } });
    for (unit, whole, parts) in [
        ("lb", 32.0, [8.0, 24.0]),
        ("L", 30.0, [10.0, 20.0]),
        ("kg", 33.0, [11.0, 22.0]),
        ("ft3", 3.0, [1.0, 2.0]),
        ("gal", 7.0, [3.0, 4.0]),
        ("oz", 99.0, [33.0, 66.0]),
        ("%v", 30.0, [10.0, 20.0]),
        ("%m", 21.0, [7.0, 14.0]),
        ("part", 3.0, [1.0, 2.0]),
        ("g/L", 90.0, [30.0, 60.0]),
        ("cm", 6.0, [1.0, 5.0]),
        ("in", 3.0, [1.0, 2.0]),
        ("kg/m2", 7.0, [3.0, 4.0]),
        ("lb/100ft2", 70.0, [30.0, 40.0]),
    ] {
        let compost = line("yard_compost", 12.0, "L");
        let [first, second] = parts.map(|value| line("concrete_sand", value, unit));
        let one = outcome(&garden(&json!([
            line("concrete_sand", whole, unit),
            compost
        ])));
        let other = outcome(&garden(&json!([first, compost, second])));
        assert_same_bits(&one, &other, &format!("{whole} {unit} as {parts:?}"));
    }
}

/// Where a draw is almost all water, a share of mass is cut to what can be.
#[test]
fn splitting_changes_no_bit_where_shares_are_cut() {
    let line = |value: f64| {
        json!({ "material": "cattle_manure", "amount": { "value": value, "unit": "%m" },
            "water_per_wet_pct": { "low": 40, "typical": 70, "high": 100 } })
    };
    let compost = json!({ "material": "yard_compost", "amount": { "value": 40, "unit": "%v" } });
    let one = outcome(&garden(&json!([line(45.0), compost])));
    for part in 1..45 {
        let part = f64::from(part);
        let lines = json!([line(part), compost, line(45.0 - part)]);
        let what = format!("45 %m as {part} and the rest");
        assert_same_bits(&one, &outcome(&garden(&lines)), &what);
    }
}

#[test]
fn size_changes_nothing_but_amounts() {
    doubtful(46, 120, |recipe, one, dice| {
        let by = dice.between_sizes(0.05, 20.0);
        let other = outcome(&scaled(recipe, by));
        let grows = |name: &str| {
            ["mass.", "volume_l.", "cost", "skeleton.more_to_touch_kg"]
                .iter()
                .any(|start| name.starts_with(start))
        };
        let recipe = brief(recipe);
        let (ones, others) = (numbers(one), numbers(&other));
        assert_eq!(ones.len(), others.len(), "the same figures are there");
        for ((name, one), (_, other)) in ones.iter().zip(&others) {
            let what = format!("{name} of {recipe} times {by}");
            match (one, other) {
                (Number::Figure(one), Number::Figure(other)) => {
                    let by = if grows(name) { by } else { 1.0 };
                    // Differences are judged against what they are differences of.
                    let size = 100.0_f64.max(one[2].abs()) * by;
                    for (one, other) in one.iter().zip(other) {
                        assert_close(*other, by * one, 1e-9 * size, &what);
                    }
                }
                // A draw that stands on a border may fall to the other side by a rounding.
                (Number::Odds(one), Number::Odds(other)) => {
                    assert_close(*one, *other, 1.5 / 1024.0, &what);
                }
                _ => panic!("{what}: {one:?} and {other:?}"),
            }
        }
    });
}

#[test]
fn nothing_added_changes_nothing() {
    let mut dice = Dice::new(49);
    for _ in 0..30 {
        let [sand, silt, clay] = dice.shares_pct();
        let outcome = outcome(&recipes::recipe(&json!({
            "barrowmix": 1,
            "ground": { "sand_pct": sand, "silt_pct": silt, "clay_pct": clay },
            "soil": { "value": 40, "unit": "L" },
        })));
        let changes = outcome.changes.expect("a ground to compare with");
        let organic = changes.organic_matter_pct.expect("fine earth");
        let [_, pores] = changes.pore_space_pct;
        let [_, density] = changes.bulk_density_kg_m3;
        for (name, change) in [
            ("organic matter", organic),
            ("pores", pores),
            ("density", density),
        ] {
            let what = format!("{name} of a ground with {clay} % clay");
            let most = three(change.difference).map(f64::abs);
            assert!(most.iter().all(|most| *most < 1e-9), "{most:?} in {what}");
            assert_eq!([change.odds_more, change.odds_less], [0.0; 2], "{what}");
        }
    }
}

/// Asserts a law of each draw.
fn assert_draw_by_draw(outcome: &Outcome, of: Measure, law: impl Fn(usize) -> f64, what: &str) {
    for (draw, value) in outcome.drawn.column(of).iter().enumerate() {
        let expected = law(draw);
        assert!(
            (value - expected).abs() <= ROUNDING * expected.abs(),
            "draw {draw} of {of:?} is {value} and not {expected} in {what}"
        );
    }
}

fn assert_figures(one: [f64; 3], other: [f64; 3], by: f64, what: &str) {
    for (one, other) in one.iter().zip(other) {
        assert_relative(*one, by * other, 1e-9, what);
    }
}

#[test]
fn one_material_packs_as_itself() {
    // Many draws of a powder are denser than its grains allow, and are cut; a liquid takes no room.
    let loose = |entry: &&Entry| !matches!(entry.group, Group::Powder | Group::Liquid);
    for entry in catalogue().iter().filter(loose) {
        let document = json!({
            "barrowmix": 1,
            "ground": { "sand_pct": 30, "silt_pct": 30, "clay_pct": 40 },
            "soil": { "value": 0, "unit": "L" },
            "additions": [ { "material": entry.id, "amount": { "value": 55, "unit": "kg" } } ],
        });
        let outcome = outcome(&recipes::recipe(&document));
        let settling = outcome.barrow.lines[0].material.settling();
        let column = |of: Measure| outcome.drawn.column(of);
        // A draw of nothing but water takes no room.
        let is_dry = |draw: &usize| column(Measure::DryMass)[*draw] > 0.0;
        let draws: Vec<usize> = (0..1024).filter(is_dry).collect();
        assert!(draws.len() > 950, "{} draws of {}", draws.len(), entry.id);
        for (of, by, figure) in [
            (Measure::FreshVolume, 1.0, outcome.volume_l.fresh),
            (Measure::SettledVolume, settling, outcome.volume_l.settled),
            (Measure::PuddledVolume, settling, outcome.volume_l.puddled),
        ] {
            let what = format!("{of:?} of {}", entry.id);
            let loose = |draw: &usize| column(Measure::LooseParts)[*draw] / by;
            let mut cut = 0;
            for draw in &draws {
                let (room, poured) = (column(of)[*draw], loose(draw));
                // What a few draws have that is too dense for its grains takes more room.
                if room > poured * (1.0 + ROUNDING) {
                    cut += 1;
                } else {
                    assert_relative(room, poured, ROUNDING, &what);
                }
            }
            assert!(cut <= 20, "{cut} draws of {} are cut", entry.id);
            if cut > 0 {
                continue;
            }
            let expected = ends(&draws.iter().map(loose).collect::<Vec<_>>()).expect("numbers");
            let typical = outcome.loose_parts_l.typical / by;
            let expected = [expected.low, typical, expected.high];
            assert_figures(three(figure), expected, 1.0, &what);
        }
    }
}

#[test]
fn a_ground_alone_packs_as_itself() {
    let mut dice = Dice::new(47);
    for case in 0..60 {
        let mut document = doubt::random(&mut dice);
        document["additions"] = json!([]);
        let has_soil = document["soil"]["value"] != json!(0);
        if !has_soil {
            document["soil"] = json!({ "value": 90, "unit": "kg" });
        }
        let Ok(outcome) = Recipe::from_json(&document.to_string()).and_then(|r| Outcome::of(&r))
        else {
            continue;
        };
        let what = format!("case {case}: {document}");
        let column = |of: Measure| outcome.drawn.column(of);
        let mass = column(Measure::DryMass);
        for (of, density) in [
            (Measure::FreshVolume, Measure::DugDensity),
            (Measure::LooseParts, Measure::DugDensity),
            (Measure::SettledVolume, Measure::AloneDensity),
            (Measure::PuddledVolume, Measure::AloneDensity),
        ] {
            let density = column(density);
            assert_draw_by_draw(
                &outcome,
                of,
                |draw| 1000.0 * mass[draw] / density[draw],
                &what,
            );
        }
        let ground = &outcome.ground;
        let densities = outcome.bulk_density_kg_m3;
        let alone = three(ground.settled_density_kg_m3);
        assert_figures(three(densities.settled), alone, 1.0, &what);
        assert_figures(three(densities.puddled), alone, 1.0, &what);
        let dug = three(ground.dug_density_kg_m3);
        assert_figures(three(densities.fresh), dug, 1.0, &what);
    }
}

/// A recipe without a range anywhere.
fn exact(dice: &mut Dice) -> Recipe {
    let [sand, silt, clay] = dice.shares_pct();
    let own = |dice: &mut Dice, id: &str, group: &str, loose: f64, organic: f64| {
        let [sand, silt, clay] = dice.shares_pct();
        json!({
            "id": id, "group": group, "loose_density_kg_m3": loose,
            "water_per_wet_pct": dice.typed(1.0, 30.0), "organic_matter_pct": organic,
            "coarse_pct": dice.typed(0.0, 30.0),
            "sand_pct": sand, "silt_pct": silt, "clay_pct": clay,
        })
    };
    let (sand_kg_m3, leaf_kg_m3) = (dice.typed(1300.0, 1600.0), dice.typed(300.0, 700.0));
    recipes::recipe(&json!({
        "barrowmix": 1,
        "ground": {
            "sand_pct": sand, "silt_pct": silt, "clay_pct": clay,
            "organic_matter_pct": dice.typed(0.0, 8.0),
            "bulk_density_kg_m3": dice.typed(900.0, 1700.0),
            "gravel_pct": dice.typed(0.0, 30.0),
            "water_per_dry_pct": dice.typed(0.0, 40.0),
            "crumb": dice.typed(0.0, 1.0),
        },
        "soil": { "value": 40, "unit": *dice.pick(&["L", "kg"]) },
        "additions": [
            { "material": "pit", "amount": { "value": dice.typed(1.0, 90.0), "unit": "kg" } },
            { "material": "leaf", "amount": { "value": dice.typed(1.0, 30.0), "unit": "%v" } },
        ],
        "materials": [
            own(dice, "pit", "sand", sand_kg_m3, 0.3),
            own(dice, "leaf", "compost_manure", leaf_kg_m3, 48.0),
        ],
    }))
}

#[test]
fn exact_numbers_leave_no_doubt_in_masses() {
    let mut dice = Dice::new(48);
    for _ in 0..60 {
        let recipe = exact(&mut dice);
        let outcome = outcome(&recipe);
        let texture = outcome.texture.expect("fines");
        let [sand, silt, clay] = texture.fractions_pct;
        for (name, figure) in [
            ("dry mass", Some(outcome.dry_kg)),
            ("moist mass", Some(outcome.moist_kg)),
            ("loose parts", Some(outcome.loose_parts_l)),
            ("organic matter", outcome.organic_matter_pct),
            ("sand", Some(sand)),
            ("silt", Some(silt)),
            ("clay", Some(clay)),
            (
                "density as it lies",
                Some(outcome.ground.lying_density_kg_m3),
            ),
        ] {
            let [low, typical, high] = three(figure.expect("a figure"));
            assert!(
                low == typical && typical == high,
                "{name} is {low} to {typical} to {high} in {}",
                brief(&recipe)
            );
        }
        let odds = texture.class_odds[texture.class as usize];
        assert_close(odds, 1.0, 1e-9, "the class is sure");
        // What the packing does not know stays.
        let [low, typical, high] = three(outcome.pore_space_pct.settled);
        assert!(
            low < typical && typical < high,
            "pore space is {low} to {typical} to {high} in {}",
            brief(&recipe)
        );
    }
}

/// What a single input does when only its range grows, from nothing to the widest that no limit
/// cuts (3.4 standard deviations beyond the typical value).
#[test]
fn a_wider_range_is_never_narrower() {
    let mut dice = Dice::new(50);
    let width = |figure: Figure| three(figure)[2] - three(figure)[0];
    for case in 0..6 {
        let base = exact(&mut dice);
        for (input, least, most) in [
            (Input::Ground(Trait::Clay), 0.0, 100.0),
            (Input::Ground(Trait::OrganicMatter), 0.0, 100.0),
            (Input::Ground(Trait::BulkDensity), 200.0, 1900.0),
            (Input::Ground(Trait::Gravel), 0.0, 100.0),
            (Input::Ground(Trait::WaterPerDry), 0.0, 300.0),
            (Input::Material(0, Property::LooseDensity), 20.0, 3000.0),
            (Input::Material(0, Property::WaterPerWet), 0.0, 100.0),
            (Input::Material(1, Property::OrganicMatter), 0.0, 100.0),
            (Input::Material(1, Property::LooseDensity), 20.0, 3000.0),
            (Input::Material(1, Property::WaterPerWet), 0.0, 100.0),
        ] {
            let typical = input.typical(&base);
            // The outermost stratum stands 3.3 standard deviations away, and an arm is 1.28.
            let arms = [typical - least, most - typical].map(|room| room / 2.7);
            let mut before = [0.0; 3];
            for step in 0..=5 {
                let [below, above] = arms.map(|arm| arm * f64::from(step) / 5.0);
                let mut recipe = base.clone();
                input.set(
                    &mut recipe,
                    Figure::between(typical - below, typical, typical + above),
                );
                let outcome = outcome(&recipe);
                let sand = outcome.texture.expect("fines").fractions_pct[0];
                let organic = outcome.organic_matter_pct.expect("fine earth");
                let widths = [outcome.dry_kg, sand, organic].map(width);
                for (at, name) in ["dry mass", "sand", "organic matter"].iter().enumerate() {
                    assert!(
                        widths[at] >= before[at] * (1.0 - ROUNDING) - 1e-12,
                        "{name} of case {case} at step {step} of {input:?}: {} after {} in {}",
                        widths[at],
                        before[at],
                        brief(&base)
                    );
                }
                before = widths;
            }
        }
    }
}

/// A number of a recipe that can have a range.
#[derive(Clone, Copy, Debug)]
enum Input {
    Ground(Trait),
    Material(usize, Property),
}

impl Input {
    fn typical(self, recipe: &Recipe) -> f64 {
        let figure = match self {
            Input::Ground(of) => recipe.ground.get(of),
            Input::Material(at, of) => recipe.materials[at].properties.get(of),
        };
        figure.expect("it is given").typical
    }

    fn set(self, recipe: &mut Recipe, figure: Figure) {
        match self {
            Input::Ground(of) => recipe.ground.set(of, Some(figure)),
            Input::Material(at, of) => recipe.materials[at].properties.set(of, Some(figure)),
        }
    }
}

/// Each draw moves a little, and so no percentile can move more than the draw that moves most.
#[test]
fn a_small_step_moves_the_ends_no_more_than_a_draw() {
    let mut judged = 0;
    doubtful(51, 100, |recipe, one, dice| {
        let mut other = recipe.clone();
        let by = 1.0 + dice.between_sizes(1e-6, 0.02);
        match dice.below(3) {
            0 if !other.additions.is_empty() => {
                let at = dice.below(other.additions.len());
                other.additions[at].amount.value *= by;
            }
            1 => {
                let crumb = recipe.ground.get(Trait::Crumb);
                let crumb = crumb.map_or(0.5, |crumb| crumb.typical);
                let moved = Figure::exact((crumb * by).min(1.0));
                other.ground.set(Trait::Crumb, Some(moved));
            }
            _ => {
                let density = three(one.ground.lying_density_kg_m3);
                let moved = density.map(|end| end / by);
                let [low, typical, high] = moved;
                let moved = Figure::between(low.max(200.0), typical.max(200.0), high.max(200.0));
                other.ground.set(Trait::BulkDensity, Some(moved));
            }
        }
        let Ok(other) = Outcome::of(&other) else {
            return;
        };
        for (of, figure) in MEASURED {
            let [one_column, other_column] = [one, &other].map(|one| one.drawn.column(of));
            let (Some(one_figure), Some(other_figure)) = (figure(one), figure(&other)) else {
                continue;
            };
            let both = one_column.iter().zip(other_column);
            let mut most = (one_figure.typical - other_figure.typical).abs();
            for (one, other) in both {
                most = most.max((one - other).abs());
                // A draw that comes or goes moves the others' places.
                if one.is_nan() || other.is_nan() {
                    most = f64::INFINITY;
                }
            }
            let (one, other) = (three(one_figure), three(other_figure));
            let size = one[2].abs().max(other[2].abs());
            for (one, other) in one.iter().zip(other) {
                assert!(
                    (one - other).abs() <= most + ROUNDING * size,
                    "{of:?} goes from {one} to {other} and no draw more than {most} in {}",
                    brief(recipe)
                );
            }
            judged += usize::from(most.is_finite());
        }
    });
    assert!(judged > 700, "{judged} figures judged");
}

type Reading = fn(&Outcome) -> Option<Figure>;

/// Measures with the figures that are read from them.
const MEASURED: [(Measure, Reading); 11] = [
    (Measure::Sand, |of| of.texture.map(|t| t.fractions_pct[0])),
    (Measure::Clay, |of| of.texture.map(|t| t.fractions_pct[2])),
    (Measure::OrganicMatter, |of| of.organic_matter_pct),
    (Measure::DryMass, |of| Some(of.dry_kg)),
    (Measure::MoistMass, |of| Some(of.moist_kg)),
    (Measure::FreshVolume, |of| Some(of.volume_l.fresh)),
    (Measure::SettledVolume, |of| Some(of.volume_l.settled)),
    (Measure::SettledDensity, |of| {
        Some(of.bulk_density_kg_m3.settled)
    }),
    (Measure::SettledPores, |of| Some(of.pore_space_pct.settled)),
    (Measure::PuddledPores, |of| Some(of.pore_space_pct.puddled)),
    (Measure::Share, |of| Some(of.skeleton.share)),
];
