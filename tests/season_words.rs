#![cfg(not(target_arch = "wasm32"))]
//! Sentences of the section on seasons, by what they must say.

use barrowmix::figure::Figure;
use barrowmix::quantity::Unit;
use barrowmix::recipe::{Amount, Recipe};
use barrowmix::seasons::{Climate, Hold, Season, Seasons, SeasonsError, TopUp, aged, hold};
use barrowmix::words::{
    METRIC, Speech, Units, hold_sentence, season_row, season_sentences, seasons_error_text,
    top_up_materials, year_told, years_asked, years_sentence,
};

const US: Speech = Speech { units: Units::Us };

fn recipe(soil: &str, material: &str) -> Recipe {
    Recipe::from_json(&format!(
        r#"{{"barrowmix":1,"ground":{{"sand_pct":5,"silt_pct":43,"clay_pct":52}},"soil":{soil},
        "additions":[{{"material":"{material}","amount":{{"value":20,"unit":"%v"}}}}]}}"#
    ))
    .expect("the recipe has no fault")
}

const BED: &str = r#"{"area":{"value":2.88,"unit":"m2"},"depth":{"value":20,"unit":"cm"}}"#;
const POT: &str = r#"{"value":40,"unit":"L"}"#;

fn told(recipe: &Recipe, top_up: Option<&TopUp>, year: f64) -> [Season; 2] {
    let years = [0.0, year];
    let seasons = Seasons::of(recipe, &Climate::of(recipe), top_up, &years).expect("told");
    seasons.try_into().expect("two seasons")
}

fn text(recipe: &Recipe, year: f64, speech: Speech) -> String {
    let [today, then] = told(recipe, None, year);
    season_sentences(&then, &today, speech).join(" ")
}

#[test]
fn a_bed_of_compost_after_five_years() {
    let bed = recipe(BED, "yard_compost");
    let said = text(&bed, 5.0, METRIC);
    for part in [
        "After 5 years about two thirds of the organic matter you added is left (",
        "The blend holds ",
        " by settling and ",
        " cm",
        " by decay.",
        "Decay sets free about ",
        " g on a square metre)",
    ] {
        assert!(said.contains(part), "{part:?} in {said}");
    }
    let said = text(&bed, 1.0, US);
    assert!(
        said.contains("After 1 year about four fifths") && said.contains(" in by settling"),
        "{said}"
    );
    assert!(!said.contains(" cm") && !said.contains(" g "), "{said}");
}

#[test]
fn a_pot_is_told_without_an_area() {
    let said = text(&recipe(POT, "sawdust"), 2.0, METRIC);
    assert!(
        said.contains("% by settling")
            && said.contains("Decay takes up")
            && said.contains("feed it"),
        "{said}"
    );
    assert!(!said.contains("square metre"), "{said}");
    let char = text(&recipe(POT, "biochar_wood"), 20.0, METRIC);
    assert!(
        char.contains("about nine tenths") && char.contains("char included"),
        "{char}"
    );
    let sand = text(&recipe(POT, "concrete_sand"), 3.0, METRIC);
    assert!(!sand.contains("you added"), "sand does not decay: {sand}");
}

#[test]
fn what_is_mixed_in_later_raises_a_bed() {
    let bed = recipe(BED, "yard_compost");
    let top_up = TopUp {
        material: "yard_compost".into(),
        amount: Amount::new(20.0, Unit::Millimetre),
        every_years: 1,
    };
    let [today, then] = told(&bed, Some(&top_up), 10.0);
    let said = season_sentences(&then, &today, METRIC).join(" ");
    assert!(said.contains("has raised it"), "{said}");
    let row = season_row(&then, METRIC);
    assert!(
        row[6].starts_with('+') && row[6].ends_with(" cm"),
        "{row:?}"
    );
}

#[test]
fn what_holds_a_level_is_told_by_depth_or_volume() {
    let bed = recipe(BED, "yard_compost");
    let climate = Climate::of(&bed);
    let held = hold(&bed, &climate, 4.0, "yard_compost").expect("asked");
    let said = hold_sentence(held.as_ref(), 4.0, Some(4.5), "Green compost", METRIC);
    assert!(
        said.starts_with("To have 4 % in 20 years takes about ")
            && said.contains(" mm of green compost a year ("),
        "{said}"
    );
    let said = hold_sentence(held.as_ref(), 4.0, Some(4.0), "Green compost", US);
    assert!(
        said.starts_with("To hold today’s 4 %") && said.contains(" in of"),
        "{said}"
    );
    let pot = recipe(POT, "yard_compost");
    let held = hold(&pot, &Climate::of(&pot), 4.0, "yard_compost").expect("asked");
    let said = hold_sentence(held.as_ref(), 4.0, None, "Green compost", METRIC);
    assert!(said.contains(" L of green compost a year."), "{said}");
    let nothing = Hold {
        dry_kg: 0.0,
        moist_kg: 0.0,
        loose_l: 0.0,
        depth_mm: None,
    };
    let said = hold_sentence(Some(&nothing), 1.0, None, "Green compost", METRIC);
    assert!(said.contains("nothing has to be added"), "{said}");
    let said = hold_sentence(None, 9.0, None, "Concrete sand", METRIC);
    assert!(said.contains("no amount of concrete sand"), "{said}");
}

#[test]
fn what_is_wrong_is_told_with_its_limits() {
    let bed = recipe(BED, "yard_compost");
    let climate = Climate::of(&bed);
    let error = aged(&bed, 1e6, &climate).expect_err("too many years");
    let said = seasons_error_text(&error).expect("it is told");
    assert_eq!(said, "A year from 0 to 100.", "what is asked");
    assert_eq!(
        years_asked(0.0, 20.0),
        "A year from 0 to 20.",
        "in the section"
    );
    let pot = recipe(POT, "yard_compost");
    let deep = TopUp {
        material: "yard_compost".into(),
        amount: Amount::new(5.0, Unit::Millimetre),
        every_years: 1,
    };
    let error = Seasons::of(&pot, &climate, Some(&deep), &[3.0]).expect_err("no area");
    assert!(matches!(error, SeasonsError::TopUp(_)), "{error:?}");
    let said = seasons_error_text(&error).expect("it is told");
    assert!(said.contains("area"), "{said}");
}

#[test]
fn the_rest_of_the_section() {
    assert_eq!(year_told(0.0), "today", "no year");
    assert_eq!(year_told(1.0), "after 1 year", "one");
    assert_eq!(year_told(2.5), "after 2.5 years", "two and a half");
    assert!(
        years_sentence(Some(4.5), Some(2.5), 20.0).contains("falls from 4.5 % today to 2.5 %"),
        "falls"
    );
    assert!(
        years_sentence(Some(4.5), Some(4.52), 20.0).contains("stays"),
        "stays"
    );
    assert!(
        years_sentence(None, None, 20.0).contains("no organic matter"),
        "none"
    );
    let materials = top_up_materials(&recipe(BED, "leaf_mold"));
    assert_eq!(materials[0].0, "leaf_mold", "what is there comes first");
    assert!(
        materials.iter().all(|(id, _)| id != "concrete_sand"),
        "no sand"
    );
    let mut ids: Vec<&String> = materials.iter().map(|(id, _)| id).collect();
    ids.sort();
    ids.dedup();
    assert_eq!(ids.len(), materials.len(), "each once");
}

#[test]
fn a_mulch_alone_tells_no_settling_and_asks_for_no_feed() {
    let mulched = Recipe::from_json(&format!(
        r#"{{"barrowmix":1,"ground":{{"sand_pct":5,"silt_pct":43,"clay_pct":52}},"soil":{BED},
        "additions":[{{"material":"wood_chips","amount":{{"value":50,"unit":"mm"}},"on_top":true}}]}}"#
    ))
    .expect("the recipe has no fault");
    for year in [1.0, 20.0] {
        let said = text(&mulched, year, METRIC);
        assert!(
            !said.contains("settling") && !said.contains("feed it") && said.contains("sets free"),
            "{said}"
        );
    }
}

#[test]
fn nearly_all_of_a_char_is_nearly_all() {
    let pot = recipe(POT, "biochar_wood");
    let [today, mut then] = told(&pot, None, 1.0);
    for (pct, words) in [
        (97.0, "nearly all"),
        (95.0, "nearly all"),
        (94.9, "about nine tenths"),
    ] {
        then.kept_pct = Some(Figure::exact(pct));
        let said = season_sentences(&then, &today, METRIC).join(" ");
        assert!(
            said.contains(&format!("{words} of the organic")),
            "{pct}: {said}"
        );
    }
}
