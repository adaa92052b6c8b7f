#![cfg(not(target_arch = "wasm32"))]
// A second way takes the functions of the standard library, not those of the crate.
#![allow(clippy::disallowed_methods)]
//! Numbers and names on their way into a recipe and out of it, worked a second time: digits that can
//! be typed, errors of a measurement, surfaces of pots, classes felt, and names that are like others.

mod support;

use barrowmix::blend::Barrow;
use barrowmix::figure::Figure;
use barrowmix::material::{Property, catalogue};
use barrowmix::quantity::pots::{USUAL_CONTAINERS, UsualKind};
use barrowmix::quantity::{Unit, round_significant};
use barrowmix::recipe::own::with_loose_density;
use barrowmix::recipe::phrase::{PhraseFault, What, apply_parts, parse_parts};
use barrowmix::recipe::{
    ADDITIONS_LIMIT, Addition, Amount, History, Measurement, Recipe, from_letters, link_words,
    number_text, to_letters,
};
use barrowmix::texture::{Class, class_spread, classify};
use serde_json::{Value, json};
use support::dice::Dice;
use support::recipes::{self, FULL, read};
use support::{assert_close, assert_relative};

/// What the standard library prints with so many digits, read again.
#[test]
fn digits_are_those_that_are_printed() {
    let mut dice = Dice::new(9903);
    let check = |value: f64, digits: usize| {
        let printed = format!("{value:.*e}", digits - 1);
        let expected: f64 = printed.parse().expect("a number");
        let is = round_significant(value, digits);
        assert_eq!(is, expected, "{value} in {digits} digits");
        assert_eq!(round_significant(-value, digits), -expected, "-{value}");
    };
    for _ in 0..4000 {
        let value = dice.between_sizes(1e-6, 1e9);
        check(value, 1 + dice.below(10));
    }
    for power in -6..=9 {
        let ten = 10.0_f64.powi(power);
        for value in [ten, 9.996 * ten, 9.994 * ten, 1.0004 * ten] {
            for digits in 1..=4 {
                check(value, digits);
            }
        }
    }
    assert_eq!(round_significant(1234.5678, 3), 1230.0, "as one writes it");
    assert_eq!(round_significant(0.0, 3), 0.0, "nothing");
    assert!(round_significant(f64::NAN, 3).is_nan(), "no number");
    assert_eq!(round_significant(f64::INFINITY, 3), f64::INFINITY, "no end");
    // Where doubles end: rounded or as it was, and never nothing, no number or without end.
    for value in [
        f64::MAX,
        1.7e308,
        1e308,
        1.234_567e-300,
        1.234_567e-306,
        f64::MIN_POSITIVE,
        1.234e-320,
        5e-324,
    ] {
        for digits in [1, 3, 10, 17] {
            for value in [value, -value] {
                let is = round_significant(value, digits);
                let half = 0.5 * 10.0_f64.powi(1 - digits as i32);
                let near = (is / value - 1.0).abs() <= half + 1e-15;
                assert!(near, "{value:e} in {digits} digits is {is:e}");
            }
        }
    }
}

#[test]
fn numbers_without_end_have_a_name() {
    assert_eq!(number_text(f64::INFINITY), "inf", "no end");
    assert_eq!(number_text(f64::NEG_INFINITY), "-inf", "no end below");
    assert_eq!(number_text(-0.0), "-0", "nothing from below");
    let mut dice = Dice::new(9904);
    for _ in 0..500 {
        let value = dice.between_sizes(1e-300, 1e300);
        let text = number_text(value);
        let digits = |text: &str| {
            let plain = text.split(['e', 'E']).next().unwrap_or_default();
            let digits: String = plain.chars().filter(char::is_ascii_digit).collect();
            digits.trim_matches('0').len()
        };
        assert_eq!(text.parse(), Ok(value), "{text}");
        let shortest = format!("{value:e}");
        assert_eq!(digits(&text), digits(&shortest), "{text} and {shortest}");
    }
}

#[test]
fn the_surface_of_a_usual_container_is_a_circle() {
    for of in USUAL_CONTAINERS {
        let radius_m = of.across_in * 0.0254 / 2.0;
        let circle_m2 = std::f64::consts::PI * radius_m * radius_m;
        assert_relative(of.area_m2(), circle_m2, 1e-12, &format!("{of:?}"));
        // Its volume would stand on that surface no higher than a man and no lower than a hand.
        let height_m = of.volume_m3() / of.area_m2();
        assert!(height_m > 0.1 && height_m < 0.6, "{of:?}: {height_m} m");
        if of.kind != UsualKind::TradePot {
            let gallons = of.volume_m3() / 0.003_785_411_784;
            assert_relative(gallons, f64::from(of.number), 1e-7, &format!("{of:?}"));
        }
    }
}

/// An end that says nothing is that of the usual error, and one that says something stays.
#[test]
fn each_end_of_a_measurement_stands_for_itself() {
    // A can errs by 6 %, drained water by 3 and water left by 2.5 points, a hole by a factor of 3.6
    // and a ring by 3 (common practice).
    for (of, value, low, high) in [
        (Measurement::BulkDensity, 1200.0, 1128.0, 1272.0),
        (Measurement::Drained, 20.0, 17.0, 23.0),
        (Measurement::WaterPerDry, 20.0, 17.5, 22.5),
        (Measurement::Hole, 18.0, 5.0, 64.8),
        (Measurement::Ring, 18.0, 6.0, 54.0),
    ] {
        for (given, expected) in [
            ([value; 3], [low, high]),
            ([0.99 * value, value, value], [0.99 * value, high]),
            ([value, value, 1.01 * value], [low, 1.01 * value]),
            (
                [0.5 * value, value, 2.0 * value],
                [0.5 * value, 2.0 * value],
            ),
        ] {
            let [under, typical, over] = given;
            let is = of.with_error(Figure::between(under, typical, over));
            let ends = is.ends();
            assert_eq!(is.typical, value, "{of:?} of {given:?}");
            assert_relative(ends.low, expected[0], 1e-12, &format!("{of:?} {given:?}"));
            assert_relative(ends.high, expected[1], 1e-12, &format!("{of:?} {given:?}"));
        }
        assert_eq!(of.errs_by_factor(), of.name().ends_with("mm_h"), "{of:?}");
    }
}

/// Of the weight as sold only the dry part makes grains heavier: a bulk takes at most 0.80 of them.
#[test]
fn water_makes_no_grain_heavier() {
    let ground = json!({ "sand_pct": 20, "silt_pct": 25, "clay_pct": 55 });
    for (water, settled, loose, grain) in [
        // 366 kg/m3 dry over 0.80, and a thousandth.
        (40.0, Some(186.0), 610.0, 458.0),
        // The settled bulk decides: 1.12 of 366 over 0.88.
        (40.0, None, 610.0, 466.3),
        (0.0, Some(305.0), 480.0, 600.6),
    ] {
        let mut own = json!({ "id": "own", "group": "porous_mineral", "water_per_wet_pct": water,
            "loose_density_kg_m3": 300, "grain_density_kg_m3": 400 });
        if let Some(settled) = settled {
            own["settled_dry_density_kg_m3"] = json!(settled);
        }
        let recipe = recipes::recipe(&json!({ "barrowmix": 1, "ground": ground,
            "soil": { "value": 40, "unit": "L" }, "additions": [], "materials": [own] }));
        let moved = with_loose_density(&recipe.materials[0], Figure::exact(loose));
        let figure = moved.properties.get(Property::GrainDensity);
        assert_close(figure.expect("told").typical, grain, 0.051, "grain density");
    }
}

/// Percentiles of a class from the middles of small triangles, each spread over a third of a step.
#[test]
fn ends_of_a_class_are_those_of_its_small_triangles() {
    const STEPS: i32 = 200;
    let third = 100.0 / f64::from(3 * STEPS);
    let mut classes: Vec<Vec<[f64; 3]>> = vec![Vec::new(); Class::ALL.len()];
    let mut put = |corners: [[i32; 3]; 3]| {
        let sum = |at: usize| corners.iter().map(|corner| corner[at]).sum::<i32>();
        let middle = [0, 1, 2].map(|at| f64::from(sum(at)) * third);
        assert_close(middle.iter().sum(), 100.0, 1e-9, "a middle");
        classes[classify(middle) as usize].push(middle);
    };
    for sand in 0..=STEPS {
        for silt in 0..=STEPS - sand {
            let clay = STEPS - sand - silt;
            // The two triangles of which this is the corner of most sand.
            if sand > 0 {
                let [one, other] = [[sand - 1, silt + 1, clay], [sand - 1, silt, clay + 1]];
                put([[sand, silt, clay], one, other]);
                if clay > 0 {
                    put([[sand, silt, clay], one, [sand, silt + 1, clay - 1]]);
                }
            }
        }
    }
    let count: usize = classes.iter().map(Vec::len).sum();
    assert_eq!(count, (STEPS * STEPS) as usize, "they fill the whole");
    for class in Class::ALL {
        let middles = &classes[*class as usize];
        let below = |value: f64, of: usize| {
            let share = |middle: &[f64; 3]| ((value - middle[of]) / third + 0.5).clamp(0.0, 1.0);
            middles.iter().map(share).sum::<f64>() / middles.len() as f64
        };
        for (of, figure) in class_spread(*class).into_iter().enumerate() {
            let ends = figure.ends();
            for (end, share) in [(ends.low, 0.10), (ends.high, 0.90)] {
                if end != figure.typical {
                    // A box of the widest holds a hundredth, and roundings are far below that.
                    assert_close(below(end, of), share, 1e-6, &format!("{class:?} {of}"));
                }
            }
        }
    }
}

fn near(text: &str) -> Vec<String> {
    let fault = parse_parts(&read(FULL), text).expect_err("it is unknown");
    let PhraseFault::Unknown { near, .. } = fault else {
        panic!("{fault:?}");
    };
    near
}

/// Names of a third other letters are near, or that begin alike; no others.
#[test]
fn names_are_near_by_letters() {
    let has = |said: &str, name: &str| {
        let near = near(&format!("3 soil, 1 {said}"));
        near.iter().any(|shown| shown.to_lowercase().contains(name))
    };
    assert_eq!(
        near("3 soil, 1 xqzzyv"),
        Vec::<String>::new(),
        "like nothing"
    );
    // Two of seven letters, three of eleven.
    assert!(has("perxyte", "perlite"), "two of seven");
    assert!(!has("pexxyte", "perlite"), "three of seven");
    assert!(has("vexmixulixe", "vermiculite"), "three of eleven");
    assert!(!has("vexxixulixe", "vermiculite"), "four of eleven");
    assert!(!has("vexxixxlixe", "vermiculite"), "five of eleven");
    // One too many in front, and two others: three of eight.
    assert!(!has("xpxxlite", "perlite"), "three of eight");
    assert!(has("xpexlite", "perlite"), "two of eight");
    // One begins with the other.
    assert!(has("perl", "perlite"), "begins");
    assert!(has("perlitedust", "perlite"), "goes on");
    assert!(!has("per", "perlite"), "three letters say little");
}

fn heard(recipe: &Recipe, text: &str) -> Result<Vec<What>, PhraseFault> {
    let shares = parse_parts(recipe, text)?;
    Ok(shares.into_iter().map(|share| share.what).collect())
}

#[test]
fn names_go_on_behind_a_comma_only_as_one_name() {
    let recipe = read(FULL);
    let pit = || Ok(vec![What::Ground, What::Material("pit_sand".into())]);
    // "Sand from the pit", in pieces of no other meaning.
    assert_eq!(heard(&recipe, "3 soil, 1 pit, from"), pit(), "one name");
    assert_eq!(
        heard(&recipe, "3 soil, 1 sand, from the pit"),
        pit(),
        "whole"
    );
    // No other thing is called a pit.
    assert_eq!(heard(&recipe, "3 soil, 1 sand, pit"), pit(), "in part");
    // Sand is a thing by itself.
    let found = "sand".to_owned();
    let fault = Err(PhraseFault::NoNumber { found });
    assert_eq!(heard(&recipe, "3 soil, 1 from, sand"), fault, "two things");
    // Many of it are it, and what ends in two s is no plural.
    let perlite = || Ok(vec![What::Ground, What::Material("perlite".into())]);
    assert_eq!(heard(&recipe, "3 soil, 1 perlites"), perlite(), "a plural");
    assert!(heard(&recipe, "3 soil, 1 perlitess").is_err(), "no plural");
}

/// A word of three letters is whole, and of two names that are alike the first is meant.
#[test]
fn short_names_are_whole_and_the_first_of_equals_is_meant() {
    let own = |id: &str, name: &str| json!({ "id": id, "name": name, "group": "sand", "loose_density_kg_m3": 1500 });
    let recipe = recipes::recipe(&json!({ "barrowmix": 1,
        "ground": { "sand_pct": 20, "silt_pct": 25, "clay_pct": 55 },
        "soil": { "value": 40, "unit": "L" },
        "materials": [own("first", "Gas"), own("second", "Rubble quux"),
                      own("third", "Rubble frob")] }));
    let meant = |id: &str| Ok(vec![What::Ground, What::Material(id.into())]);
    assert_eq!(heard(&recipe, "3 soil, 1 gas"), meant("first"), "whole");
    assert!(
        heard(&recipe, "3 soil, 1 ga").is_err(),
        "no plural of three"
    );
    assert_eq!(heard(&recipe, "3 soil, 1 rubble"), meant("second"), "first");
    assert_eq!(
        heard(&recipe, "3 soil, 1 rubble xyzzy"),
        meant("second"),
        "first"
    );
    assert_eq!(
        heard(&recipe, "3 soil, 1 rubble frob"),
        meant("third"),
        "whole"
    );
}

#[test]
fn as_many_parts_as_a_recipe_has_lines_and_no_more() {
    let letters = |at: usize| {
        let letter = |of: usize| char::from(b'a' + of as u8);
        format!("heapq{}{}x", letter(at / 20), letter(at % 20))
    };
    let own = |at: usize| {
        json!({ "id": letters(at), "name": letters(at), "group": "sand",
                "loose_density_kg_m3": 1500 })
    };
    let count = ADDITIONS_LIMIT + 1;
    let recipe = recipes::recipe(&json!({ "barrowmix": 1,
        "ground": { "sand_pct": 20, "silt_pct": 25, "clay_pct": 55 },
        "soil": { "value": 40, "unit": "L" },
        "materials": (0..count).map(own).collect::<Vec<Value>>() }));
    let said = |count: usize| {
        let parts: Vec<String> = (0..count).map(|at| format!("1 {}", letters(at))).collect();
        format!("3 soil, {}", parts.join(", "))
    };
    let most = parse_parts(&recipe, &said(ADDITIONS_LIMIT)).expect("a recipe holds so many");
    assert_eq!(most.len(), count, "with the ground");
    let limit = ADDITIONS_LIMIT;
    assert_eq!(
        parse_parts(&recipe, &said(count)),
        Err(PhraseFault::TooMany { limit }),
        "one too many"
    );
    // What lies on top is a line too.
    let full = apply_parts(&recipe, &most).expect("a recipe holds so many");
    assert_eq!(full.additions.len(), ADDITIONS_LIMIT, "as many as said");
    let mut mulched = recipe.clone();
    let mut mulch = Addition::new(letters(0), Amount::new(5.0, Unit::Centimetre));
    mulch.on_top = Some(true);
    mulched.additions = vec![mulch];
    let fewer = apply_parts(&mulched, &most[..count - 1]).expect("with the mulch as many");
    assert_eq!(
        fewer.additions.len(),
        ADDITIONS_LIMIT,
        "the mulch with them"
    );
    assert_eq!(
        apply_parts(&mulched, &most),
        Err(PhraseFault::TooMany { limit }),
        "the mulch is one too many"
    );
}

#[test]
fn fractions_of_a_laboratory_are_rounded() {
    let recipe = |clay: f64| {
        let text = json!({ "barrowmix": 1,
            "ground": { "sand_pct": 33.3, "silt_pct": 33.3, "clay_pct": clay },
            "soil": { "value": 40, "unit": "L" } });
        Recipe::from_json(&text.to_string())
    };
    for clay in [32.9, 33.0, 33.3, 33.9] {
        let recipe = recipe(clay).unwrap_or_else(|error| panic!("{clay}: {error:?}"));
        let ground = Barrow::of(&recipe).expect("it can be mixed").ground;
        let sum = 33.3 + 33.3 + clay;
        assert_relative(ground.fractions[2], clay / sum, 1e-12, "of their sum");
    }
    assert!(recipe(32.8).is_err(), "six tenths missing");
    assert!(recipe(34.0).is_err(), "six tenths too many");
}

/// Letters carry six bits and bytes eight: what is left over is nothing.
#[test]
fn links_have_no_letter_too_many() {
    const LETTERS: &[u8] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
    let mut rests = [0; 4];
    for length in 0..8 {
        let mut recipe = read(FULL);
        recipe.title = Some("q".repeat(length));
        let letters = to_letters(&recipe);
        assert_eq!(from_letters(&letters), Ok(recipe), "there and back");
        let rest = (letters.len() - 1) % 4;
        rests[rest] += 1;
        if rest == 0 {
            let more = format!("{letters}A");
            assert!(from_letters(&more).is_err(), "a letter too many");
        } else {
            // Another last letter with the same whole bytes.
            let last = letters.as_bytes()[letters.len() - 1];
            let at = LETTERS.iter().position(|letter| *letter == last);
            let other = char::from(LETTERS[at.expect("a letter") ^ 1]);
            let changed = format!("{}{other}", &letters[..letters.len() - 1]);
            assert!(from_letters(&changed).is_err(), "bits left over");
        }
    }
    assert!(rests[0] > 0 && rests[2] > 0 && rests[3] > 0, "{rests:?}");
}

/// Every material, a text of any control, and nothing that was not there.
#[test]
fn letters_and_files_keep_every_name() {
    for entry in catalogue() {
        let mut recipe = read(FULL);
        recipe.additions.truncate(1);
        recipe.additions[0].material = entry.id.to_owned();
        let back = from_letters(&to_letters(&recipe));
        assert_eq!(back.as_ref(), Ok(&recipe), "{}", entry.id);
    }
    // Also every word that letters have a shorter sign for.
    let words = link_words();
    for word in words.lines() {
        let mut recipe = read(FULL);
        recipe.title = Some(word.to_owned());
        let back = from_letters(&to_letters(&recipe));
        assert_eq!(back.as_ref(), Ok(&recipe), "{word}");
    }
    for control in 0..32 {
        let mut recipe = read(FULL);
        recipe.title = Some(format!("a{}b", char::from(control)));
        let text = recipe.to_json();
        let value: Value = serde_json::from_str(&text).expect("it is JSON");
        assert_eq!(value["title"].as_str(), recipe.title.as_deref(), "{text}");
    }
    let plain = recipes::recipe(&json!({ "barrowmix": 1,
        "ground": { "sand_pct": 20, "silt_pct": 25, "clay_pct": 55 },
        "soil": { "value": 40, "unit": "L" } }));
    assert!(!plain.to_json().contains("measured"), "nothing was");
}

#[test]
fn steps_back_and_forward_tell_where_they_lead() {
    let mut history = History::new("one".to_owned());
    assert_eq!(history.undo(), None, "no step yet");
    assert_eq!(history.redo(), None, "no step yet");
    assert!(history.change("two".to_owned()), "a step");
    assert!(history.change_along("three".to_owned(), "slider"), "a step");
    assert!(
        history.change_along("four".to_owned(), "slider"),
        "moved on"
    );
    assert!(!history.change_along("four".to_owned(), "slider"), "stays");
    assert_eq!(history.undo(), Some("two"), "a row is one step");
    assert_eq!(history.redo(), Some("four"), "forward");
    assert_eq!(history.undo(), Some("two"), "back");
    assert_eq!(history.undo(), Some("one"), "to the start");
    assert_eq!(history.redo(), Some("two"), "forward");
    assert_eq!(history.redo(), Some("four"), "to the end");
    assert_eq!(history.redo(), None, "no more");
}
