#![cfg(not(target_arch = "wasm32"))]
//! What salt costs crops, and how they are found.

mod support;

use barrowmix::chemistry::crop::{BEET_GERMINATING_DS_M, crops, find};
use proptest::prelude::{ProptestConfig, any, prop_assert, proptest};
use support::table;

#[test]
fn numbers_are_those_published() {
    let rows = table("maas_1990", 24);
    for row in &rows {
        let name = row.text("crop");
        let crop = find(name).unwrap_or_else(|| panic!("{name} is known"));
        let response = crop
            .response
            .unwrap_or_else(|| panic!("{name} has numbers"));
        let told = [response.threshold_ds_m, response.slope_pct];
        let published = [row.number("threshold"), row.number("slope")];
        assert_eq!(told, published, "{name}, found as {}", crop.id);
    }
    let known = crops().filter(|crop| crop.response.is_some()).count();
    assert_eq!(known, rows.len(), "crops with numbers");
}

#[test]
fn yields_are_those_worked_out() {
    for row in table("crop_yields", 12) {
        let name = row.text("crop");
        let response = find(name).and_then(|crop| crop.response);
        let response = response.unwrap_or_else(|| panic!("{name} has numbers"));
        let told = response.yield_pct(row.number("ece"));
        let apart = (told - row.number("yield_pct")).abs();
        assert!(
            apart <= row.number("tolerance"),
            "{name} at {}: {told}",
            row.text("ece")
        );
    }
}

/// The id that a text finds, or nothing.
fn id(text: &str) -> &'static str {
    find(text).map_or("", |crop| crop.id)
}

#[test]
fn crops_are_found_by_what_people_call_them() {
    for (text, expected) in [
        ("Beans", "bean"),
        ("runner beans", "bean"),
        ("Broad Bean", "broad_bean"),
        ("fava", "broad_bean"),
        ("TOMATOES", "tomato"),
        ("cherry tomatoes", "cherry_tomato"),
        ("cherry-tomato", "cherry_tomato"),
        ("strawberries", "strawberry"),
        ("Strawberry", "strawberry"),
        ("sweetcorn", "sweet_corn"),
        ("sweet potatoes", "sweet_potato"),
        ("new potatoes", "potato"),
        ("courgettes", "zucchini"),
        ("Aubergine", "eggplant"),
        ("beets", "beet"),
        ("beetroot", "beet"),
        ("red beet", "beet"),
        ("radishes", "radish"),
        ("lettuces, mixed", "lettuce"),
        ("summer squash", "scallop_squash"),
        ("spring onions", "onion"),
        ("chillies", "pepper"),
        ("jalapeno pepper", "pepper"),
        ("peas", "pea"),
        ("sugar snap peas", "pea"),
        ("lady's fingers", "okra"),
        ("parsnips", "parsnip"),
        // Other plants, other tolerance; nothing is said of them.
        ("chard", ""),
        ("spinach beet", ""),
        ("sugar beets", ""),
        ("soybean", ""),
        ("chickpeas", ""),
        ("sweet peas", ""),
        ("butternut squash", ""),
        ("Chinese cabbage", ""),
        ("peach", ""),
        ("pear", ""),
        ("peanut", ""),
        ("beanstalk", ""),
        ("roses", ""),
        ("pe\u{e4}s", ""),
        ("", ""),
        ("  ", ""),
    ] {
        assert_eq!(id(text), expected, "{text:?}");
    }
}

#[test]
fn some_are_sensitive_without_numbers() {
    for name in ["pea", "okra", "parsnip"] {
        let crop = find(name).unwrap_or_else(|| panic!("{name} is known"));
        assert_eq!(crop.response, None, "{name}");
    }
    let beet = find("beet").and_then(|crop| crop.response);
    let beet = beet.expect("beet has numbers");
    assert!(
        BEET_GERMINATING_DS_M < beet.threshold_ds_m,
        "beet takes less while it germinates"
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]
    #[test]
    fn yields_stay_within_and_fall(ece in any::<f64>(), more in 0.0..100.0) {
        for crop in crops() {
            let Some(response) = crop.response else { continue };
            let here = response.yield_pct(ece);
            prop_assert!((0.0..=100.0).contains(&here), "{} at {ece}: {here}", crop.id);
            let further = response.yield_pct(ece + more);
            prop_assert!(further <= here || ece.is_nan(), "{} falls", crop.id);
        }
    }

    #[test]
    fn a_yield_is_found_back(pct in 0.0..100.0) {
        for crop in crops() {
            let Some(response) = crop.response else { continue };
            let back = response.yield_pct(response.ece_at_yield(pct));
            prop_assert!((back - pct).abs() < 1e-9, "{}: {pct} and {back}", crop.id);
        }
    }

    #[test]
    fn any_text_is_taken(text in ".*") {
        let _ = find(&text);
    }
}

/// Of several that are named the most sensitive counts; a name that only looks like one is another
/// plant.
#[test]
fn of_several_crops_the_most_sensitive_counts() {
    for (text, id) in [
        ("beans and asparagus", "bean"),
        ("zucchini, beans", "bean"),
        ("lettuce; zucchini", "lettuce"),
        ("peas and tomatoes", "pea"),
        ("tomato and red beet", "tomato"),
        ("broad beans", "broad_bean"),
        ("cherry tomatoes", "cherry_tomato"),
        ("spinach, beet", "spinach"),
    ] {
        let found = find(text).unwrap_or_else(|| panic!("{text} names one"));
        assert_eq!(found.id, id, "of {text}");
    }
    for text in [
        "asparagus bean",
        "corn salad",
        "horse-radish",
        "spinach beet",
        "roses",
        "",
    ] {
        assert_eq!(find(text), None, "{text} is none of them");
    }
}
