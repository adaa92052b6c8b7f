//! What is said of a purchase that was found: its lines add up to its cost, and its words say what
//! the search knows and no more.

use barrowmix::errand::wish::{Band, OneWish, Wish, Wished};
use barrowmix::errand::{Findings, Search, errand_of};
use barrowmix::recipe::Recipe;
use barrowmix::words::errand::find::{
    bought, hindrance_text, money, one_wish_text, place_text, proof_text, reached_text,
    wished_name, wished_value,
};
use barrowmix::words::{METRIC, Speech, Units};

const US: Speech = Speech { units: Units::Us };

fn recipe(from: &str, to: &str) -> Recipe {
    let text = include_str!("../examples/recipes/loam-wish.json");
    assert!(text.contains(from), "the example has {from}");
    Recipe::from_json(&text.replace(from, to)).expect("a recipe")
}

fn found(recipe: &Recipe) -> (Search, Wish) {
    let errand = errand_of(recipe).expect("an errand").expect("one");
    let mut search = Search::of(recipe, &errand).expect("it can begin");
    while !search.advance() {}
    (search, errand.wish)
}

/// Money of a line as a number.
fn amount(text: &str) -> f64 {
    let number = text.rsplit(' ').next().unwrap_or_default();
    number.parse().expect("a number")
}

#[test]
fn lines_add_up_to_the_cost() {
    // Loose sand and compost alone, so that deliveries are paid.
    let loose = recipe(
        r#""without": ["sphagnum_peat"]"#,
        r#""without": ["pine_bark", "sphagnum_peat", "cattle_manure", "perlite", "greensand", "biochar_wood"]"#,
    );
    for recipe in [recipe("", ""), loose] {
        let (search, _) = found(&recipe);
        let Findings {
            cheapest,
            fewer,
            likeliest,
            ..
        } = search.findings();
        for found in [cheapest, fewer, likeliest].into_iter().flatten() {
            let lines = bought(&recipe, search.judge(), found, Some("EUR"));
            let sum: f64 = lines.iter().map(|line| amount(&line.money)).sum();
            assert!(
                (sum - found.cost).abs() < 0.005,
                "{lines:?} for {}",
                found.cost
            );
            assert_eq!(
                amount(&money(found.cost, Some("EUR"))),
                found.cost,
                "to the cent"
            );
            assert!(
                lines.iter().all(|line| line.invented),
                "all of it is invented"
            );
        }
    }
}

#[test]
fn a_proof_is_claimed_only_where_there_is_one() {
    let exact = recipe("", "");
    let (search, wish) = found(&exact);
    assert!(
        search.findings().proof.exact,
        "texture and organic matter are sums"
    );
    let text = proof_text(search.findings(), wish.all().len(), None);
    assert!(
        text.starts_with("No purchase in whole bags and loads costs less"),
        "{text}"
    );

    let open = recipe(
        r#""classes": ["loam", "clay_loam"]"#,
        r#""air_pct": { "least": 20 }, "ph": { "most": 6.7 }"#,
    );
    let (search, wish) = found(&open);
    let proof = &search.findings().proof;
    let text = proof_text(search.findings(), wish.all().len(), Some("EUR"));
    assert_eq!(
        proof.exact,
        text.contains("this is proven"),
        "{proof:?}: {text}"
    );
    let cost = search.findings().cheapest.as_ref().map(|found| found.cost);
    assert!(
        cost.is_none_or(|cost| proof.bound <= cost),
        "{proof:?} for {cost:?}"
    );
    if !proof.exact && cost.is_some() {
        assert!(
            text.contains(&money(proof.bound, Some("EUR"))),
            "the bound is told: {text}"
        );
    }

    let never = recipe(
        r#""classes": ["loam", "clay_loam"]"#,
        r#""sand_pct": { "least": 60 }, "clay_pct": { "least": 60 }"#,
    );
    let (search, wish) = found(&never);
    let text = proof_text(search.findings(), wish.all().len(), None);
    assert!(
        text.starts_with("Nothing on sale can meet all of these"),
        "{text}"
    );
    // No one sells clay: without that wish the sand can be had, and not the other way round.
    let hindrances = &search.findings().hindrances;
    let named: Vec<OneWish> = hindrances.iter().map(|one| one.wish).collect();
    assert_eq!(named, [OneWish::Figure(Wished::Clay)], "it alone");
    for hindrance in hindrances {
        let text = hindrance_text(&wish, hindrance, METRIC, None);
        assert!(text.contains("stands in the way"), "{text}");
        // What is nearest meets all the rest.
        let rest = wish.without(hindrance.wish);
        assert!(rest.is_met(&hindrance.nearest.values), "{hindrance:?}");
        assert!(!wish.is_met(&hindrance.nearest.values), "{hindrance:?}");
    }
}

#[test]
fn wishes_and_values_have_words_in_both_units() {
    for of in Wished::ALL.iter().copied() {
        assert!(!wished_name(of).is_empty(), "{of:?}");
        let (low, high) = of.limits();
        let mut wish = Wish::default();
        for band in [
            Band {
                least: Some(low),
                most: None,
            },
            Band {
                least: None,
                most: Some(high),
            },
            Band {
                least: Some(low),
                most: Some(high),
            },
        ] {
            wish.set(of, band);
            for speech in [METRIC, US] {
                let text = one_wish_text(&wish, OneWish::Figure(of), speech, Some("EUR"));
                assert!(text.starts_with(wished_name(of)), "{text}");
                assert!(!text.contains("NaN"), "{text}");
            }
        }
    }
    assert_eq!(
        wished_value(Wished::Density, 1200.0, METRIC, None),
        "1.20 kg/L",
        "metric"
    );
    // 1 lb/ft3 is 16.018 kg/m3 (from its definition).
    assert_eq!(
        wished_value(Wished::Density, 1200.0, US, None),
        "75 lb/ft³",
        "US"
    );
    assert_eq!(
        wished_value(Wished::Ph, f64::NAN, METRIC, None),
        "not known",
        "no number"
    );
}

#[test]
fn what_misses_is_told_by_its_place() {
    let recipe = recipe("", "");
    let errand = errand_of(&recipe).expect("an errand").expect("one");
    let at = |path: &str| place_text(path, &errand.offers, &recipe);
    assert_eq!(
        at("errand.offers[6].price").as_deref(),
        Some("Perlite, price"),
        "by name"
    );
    assert_eq!(
        at("errand.offers[0].bag.value").as_deref(),
        Some("Concrete sand, size"),
        "too"
    );
    assert_eq!(at("errand.wish"), None, "no offer");
    assert_eq!(at("errand.offers[99].price"), None, "no such offer");
}

#[test]
fn what_is_reached_is_told_of_every_wish() {
    let recipe = recipe(
        r#""classes": ["loam", "clay_loam"]"#,
        r#""classes": ["loam", "clay_loam"], "skeleton": false, "fill": { "value": 600, "unit": "L" }"#,
    );
    let (search, wish) = found(&recipe);
    let found = search.findings().cheapest.as_ref().expect("there is one");
    let texts: Vec<String> = wish
        .all()
        .into_iter()
        .map(|one| reached_text(one, &found.values, METRIC, Some("EUR")))
        .collect();
    assert_eq!(texts.len(), 4, "{texts:?}");
    assert!(texts[0].contains("loam"), "{texts:?}");
    assert!(texts[1].ends_with('%'), "{texts:?}");
    assert_eq!(texts[2], "they do not touch", "{texts:?}");
    assert!(texts[3].ends_with(" L"), "{texts:?}");
}

#[test]
fn a_pail_takes_part_of_a_bag() {
    // Twelve litres, and bags of forty and a hundred: they are opened, and paid for whole.
    let recipe = recipe(
        r#""classes": ["loam", "clay_loam"]"#,
        r#""fill": { "value": 12, "unit": "L" }, "ground": "to_fill", "air_pct": { "least": 14 }"#,
    );
    let (search, wish) = found(&recipe);
    let findings = search.findings();
    let found = findings.cheapest.as_ref().expect("part of a bag does it");
    assert!(wish.is_met(&found.values), "{found:?}");
    assert!(
        (found.values.settled_m3 - 0.012).abs() < 0.012 * 0.011,
        "{found:?}"
    );
    let lines = bought(&recipe, search.judge(), found, None);
    assert!(
        lines.iter().any(|line| line.what.contains(" of it used")),
        "{lines:?}"
    );
    let sum: f64 = lines.iter().map(|line| amount(&line.money)).sum();
    assert!(
        (sum - found.cost).abs() < 0.005,
        "whole bags are paid for: {lines:?}"
    );
    // Nothing that is sold costs less than the least of the bags.
    assert!(found.cost >= 4.2, "{lines:?}");
}

#[test]
fn waste_takes_nothing_from_what_may_be_bought() {
    // Half is lost, so twice as much may be bought: loose sand alone does it.
    let text = include_str!("../examples/recipes/loam-wish.json")
        .replace(r#""waste_pct": 3"#, r#""waste_pct": 50"#)
        .replace(
            r#""classes": ["loam", "clay_loam"],"#,
            r#""sand_pct": { "least": 90 }"#,
        )
        .replace(r#""organic_matter_pct": { "least": 4, "most": 8 }"#, "");
    let recipe = Recipe::from_json(&text).expect("a recipe");
    let (search, _) = found(&recipe);
    let cheapest = search.findings().cheapest.as_ref().expect("there is one");
    // 38 lots of loose sand at 12.00, brought in four loads at 45.00: a purchase that was found by hand.
    assert!(cheapest.cost <= 38.0 * 12.0 + 4.0 * 45.0, "{cheapest:?}");
}

#[test]
fn what_fills_over_is_no_likely_answer() {
    // All of 100 L cannot go into 60 L.
    let text = r#"{ "barrowmix": 1, "ground": { "sand_pct": 18, "silt_pct": 32, "clay_pct": 50 },
        "soil": { "value": 60, "unit": "L" },
        "errand": { "offers": [
            { "material": "yard_compost", "bag": { "value": 100, "unit": "L" }, "price": { "value": 5, "per": { "value": 1, "unit": "bag" } } },
            { "material": "yard_compost", "bag": { "value": 20, "unit": "L" }, "price": { "value": 4, "per": { "value": 1, "unit": "bag" } } } ],
          "wish": { "organic_matter_pct": { "least": 10 }, "fill": { "value": 60, "unit": "L" }, "ground": "to_fill" },
          "budget": 20 } }"#;
    let recipe = Recipe::from_json(text).expect("a recipe");
    let (search, wish) = found(&recipe);
    let Findings {
        cheapest,
        likeliest,
        ..
    } = search.findings();
    for found in [cheapest, likeliest] {
        let found = found.as_ref().expect("there is one");
        assert!(wish.miss(OneWish::Fill, &found.values) <= 0.0, "{found:?}");
    }
}
