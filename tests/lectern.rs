#![cfg(not(target_arch = "wasm32"))]
//! The steps of the lectern: whole through JSON and letters, limits, bad input, and six ready ones.

use barrowmix::figure::Figure;
use barrowmix::outcome::Outcome;
use barrowmix::recipe::lectern::{
    CAPTION_LIMIT, FIGURES, Moved, STEPS_LIMIT, Shown, Step, set_steps, shortened, steps,
};
use barrowmix::recipe::{
    Fault, LINK_LIMIT, Recipe, RecipeError, Tree, from_letters, from_link, to_letters, to_link,
};
use barrowmix::words::{METRIC, READY, label_of_lectern, moved_name, moved_number, shown_told};

const PLAIN: &str = r#""barrowmix":1,
    "ground":{"sand_pct":20,"silt_pct":25,"clay_pct":55},
    "soil":{"value":40,"unit":"L"},
    "additions":[{"material":"yard_compost","amount":{"value":10,"unit":"L"}}]"#;

fn with(lectern: &str) -> Recipe {
    let json = format!("{{{PLAIN},\"lectern\":{lectern}}}");
    Recipe::from_json(&json).expect("the page reads it, whatever its steps are")
}

fn wrong(lectern: &str) -> RecipeError {
    steps(&with(lectern)).expect_err("these steps have a fault")
}

/// A recipe with many kinds of steps.
fn full() -> Recipe {
    with(
        r#"[{"caption":"As it is"},
        {"caption":"Sand “now”, <b>", "guess":true, "moves":"ground.clay_pct",
         "figures":["ph","pot_air"], "changes":{"additions":[
            {"material":"concrete_sand","amount":{"value":20,"unit":"%v"}}],
         "place":{"kind":"container"},"soil":{"value":1e2,"unit":"L"}}},
        {"caption":"", "changes":{"additions":null}}]"#,
    )
}

#[test]
fn steps_go_through_json_and_letters() {
    let recipe = full();
    let read = steps(&recipe).expect("they are right");
    assert_eq!(read.len(), 3, "all of them");
    let again = Recipe::from_json(&recipe.to_json()).expect("what is written is read");
    assert_eq!(again, recipe, "JSON holds them");
    let again = from_letters(&to_letters(&recipe)).expect("letters are read");
    assert_eq!(again, recipe, "letters hold them, digits and all");
    let again = from_link(&to_link(&recipe).expect("it is short")).expect("a link is read");
    assert_eq!(steps(&again), Ok(read.clone()), "and links");
    let mut written = recipe.clone();
    set_steps(&mut written, &read);
    assert_eq!(steps(&written), Ok(read), "written anew they are the same");
    set_steps(&mut written, &[]);
    assert_eq!(written.lectern, None, "no steps are no field");
    assert!(!written.to_json().contains("lectern"), "nor in the file");
}

#[test]
fn a_step_changes_whole_fields() {
    let recipe = full();
    let read = steps(&recipe).expect("they are right");
    let first = read[0].recipe(&recipe).expect("it can be read");
    assert_eq!(first.additions, recipe.additions, "nothing is otherwise");
    assert_eq!(first.lectern, None, "a step has no steps");
    let second = read[1].recipe(&recipe).expect("it can be read");
    assert_eq!(
        second.additions[0].material, "concrete_sand",
        "the list is new"
    );
    assert_eq!(second.ground, recipe.ground, "what is not named stays");
    assert!(second.place.is_some(), "what is new is there");
    assert_eq!(
        read[1].moved(&second).map(Moved::path).as_deref(),
        Some("ground.clay_pct"),
        "the slider is the one named"
    );
    let third = read[2].recipe(&recipe).expect("it can be read");
    assert!(third.additions.is_empty(), "null takes away");
    assert_eq!(read[2].shown(), Shown::USUAL, "the usual figures");
}

#[test]
fn a_moment_stays_whatever_becomes_of_the_recipe() {
    let mut recipe = with("[]");
    let before = Outcome::of(&recipe).expect("it can be mixed");
    let step = Step::of_moment(&recipe, "Before");
    let place = r#"{"barrowmix":1,"ground":{"sand_pct":60,"silt_pct":20,"clay_pct":20},
        "soil":{"value":3,"unit":"ft3"},"place":{"kind":"bed"},"parts_of_soil":2}"#;
    let other = Recipe::from_json(place).expect("it is right");
    recipe.ground = other.ground;
    recipe.soil = other.soil;
    recipe.place = other.place;
    recipe.parts_of_soil = other.parts_of_soil;
    recipe.additions.clear();
    set_steps(&mut recipe, &[step]);
    let read = steps(&recipe).expect("it is right");
    let then = read[0].recipe(&recipe).expect("it can be read");
    assert_eq!(then.place, None, "what came later is not there");
    let then = Outcome::of(&then).expect("it can be mixed");
    assert_eq!(
        then.pore_space_pct, before.pore_space_pct,
        "the same outcome, to the last bit"
    );
}

#[test]
fn bad_steps_are_told_with_their_place() {
    for (lectern, path) in [
        ("7", "lectern"),
        (r#"["a"]"#, "lectern[0]"),
        (r#"[{}]"#, "lectern[0].caption"),
        (r#"[{"caption":5}]"#, "lectern[0].caption"),
        (r#"[{"caption":"a","guess":1}]"#, "lectern[0].guess"),
        (r#"[{"caption":"a","figures":"ph"}]"#, "lectern[0].figures"),
        (
            r#"[{"caption":"a","figures":["colour"]}]"#,
            "lectern[0].figures",
        ),
        (r#"[{"caption":"a","figures":[1]}]"#, "lectern[0].figures"),
        (r#"[{"caption":"a","changes":[]}]"#, "lectern[0].changes"),
        (
            r#"[{"caption":"a","changes":{"title":"b"}}]"#,
            "lectern[0].changes",
        ),
        (
            r#"[{"caption":"a","changes":{"soil":null,"soil":null}}]"#,
            "lectern[0].changes",
        ),
        (
            r#"[{"caption":"a"},{"caption":"a","changes":{"ground":null}}]"#,
            "lectern[1].changes.ground",
        ),
        (
            r#"[{"caption":"a","changes":{"additions":[{"material":"gold","amount":{"value":1,"unit":"L"}}]}}]"#,
            "lectern[0].changes.additions[0].material",
        ),
        (
            r#"[{"caption":"a","moves":"additions[1].amount"}]"#,
            "lectern[0].moves",
        ),
        (r#"[{"caption":"a","moves":"<b>"}]"#, "lectern[0].moves"),
        (r#"[{"caption":"a","colour":1}]"#, "lectern[0].colour"),
    ] {
        assert_eq!(wrong(lectern).path.as_str(), path, "{lectern}");
    }
}

#[test]
fn limits_hold_at_their_last_number() {
    let many = |count: usize| format!("[{}]", vec![r#"{"caption":"a"}"#; count].join(","));
    assert_eq!(
        steps(&with(&many(STEPS_LIMIT))).map(|steps| steps.len()),
        Ok(STEPS_LIMIT),
        "so many are read"
    );
    let limit = STEPS_LIMIT;
    assert_eq!(
        wrong(&many(STEPS_LIMIT + 1)).fault,
        Fault::TooMany { limit },
        "and no more"
    );
    let caption = |count: usize| format!(r#"[{{"caption":"{}"}}]"#, "é".repeat(count));
    assert!(steps(&with(&caption(CAPTION_LIMIT))).is_ok(), "so long");
    let limit = CAPTION_LIMIT;
    assert_eq!(
        wrong(&caption(CAPTION_LIMIT + 1)).fault,
        Fault::TooMany { limit },
        "and no longer"
    );
    let long = "é".repeat(1000);
    assert_eq!(
        shortened(&long).chars().count(),
        CAPTION_LIMIT,
        "cut by letters"
    );
    let figures = |count: usize| {
        let words = vec![r#""ph""#; count].join(",");
        format!(r#"[{{"caption":"a","figures":[{words}]}}]"#)
    };
    assert!(steps(&with(&figures(FIGURES))).is_ok(), "so many figures");
    assert!(steps(&with(&figures(FIGURES + 1))).is_err(), "and no more");
}

#[test]
fn a_later_release_may_put_more_into_a_step() {
    let json = format!(
        r#"{{{PLAIN},"made_by":"99.0.0","lectern":[{{"caption":"a","colour":{{"deep":[1.50]}}}}]}}"#
    );
    let recipe = Recipe::from_json(&json).expect("it is kept");
    let read = steps(&recipe).expect("it is kept");
    assert_eq!(read[0].kept.len(), 1, "unread, but there");
    let mut written = recipe.clone();
    set_steps(&mut written, &read);
    assert_eq!(
        written.lectern, recipe.lectern,
        "and written again as it came"
    );
}

#[test]
fn any_tree_in_place_of_steps_breaks_nothing() {
    let mut tree = Tree::Null;
    for depth in 0..40 {
        tree = match depth % 3 {
            0 => Tree::List(vec![tree]),
            1 => Tree::Object(vec![
                ("changes".into(), tree),
                ("caption".into(), Tree::text("a")),
            ]),
            _ => Tree::Object(vec![("lectern".into(), tree)]),
        };
        let mut recipe = with("[]");
        recipe.lectern = Some(tree.clone());
        let _ = steps(&recipe);
        assert!(Outcome::of(&recipe).is_ok(), "the recipe itself is right");
    }
}

#[test]
fn the_slider_has_only_what_the_recipe_tells() {
    let recipe = with("[]");
    let paths: Vec<String> = Moved::all(&recipe).into_iter().map(Moved::path).collect();
    assert_eq!(
        paths,
        ["additions[0].amount", "ground.clay_pct"],
        "organic matter and pH are not told"
    );
    for path in &paths {
        let moved = Moved::of_path(path, &recipe).expect("it is one of them");
        assert!(!moved_name(moved, &recipe).is_empty(), "{path} has a name");
        assert!(
            !moved_number(moved, &recipe).is_empty(),
            "{path} has a number"
        );
    }
    assert_eq!(moved_number(Moved::Amount(0), &recipe), "10 L", "as typed");
}

#[test]
fn ready_sequences_can_all_be_shown() {
    for ready in &READY {
        let recipe = Recipe::from_json(ready.json).expect(ready.id);
        let read = steps(&recipe).expect(ready.id);
        assert!((4..=6).contains(&read.len()), "{}: a few steps", ready.id);
        assert!(read.iter().any(|step| step.guess), "{}: a guess", ready.id);
        let title = recipe.title.clone().unwrap_or_default();
        assert!(
            title.contains("Willowbank School"),
            "{title}: the invented garden"
        );
        let mut letters = 0;
        for (index, step) in read.iter().enumerate() {
            let shown = step.recipe(&recipe).expect(ready.id);
            let outcome = Outcome::of(&shown).expect(ready.id);
            for of in step.shown() {
                let [_, blend] = shown_told(of, &outcome, METRIC);
                let told = blend.is_some_and(|told| !told.value.is_empty());
                assert!(told, "{} step {index}: {} is told", ready.id, of.spelling());
            }
            letters = letters.max(step.caption.chars().count());
        }
        assert!(letters <= CAPTION_LIMIT, "{}: {letters} letters", ready.id);
        let link = to_link(&recipe).expect("it fits into a link");
        assert!(
            link.len() < LINK_LIMIT / 2,
            "{}: {} letters",
            ready.id,
            link.len()
        );
        assert_eq!(from_link(&link), Ok(recipe), "{}: whole", ready.id);
    }
}

/// The figure of a step of a ready sequence.
fn of_step(id: &str, index: usize, figure: fn(&Outcome) -> Figure) -> f64 {
    let ready = READY.iter().find(|ready| ready.id == id).expect(id);
    let recipe = Recipe::from_json(ready.json).expect(id);
    let read = steps(&recipe).expect(id);
    let shown = read[index].recipe(&recipe).expect(id);
    figure(&Outcome::of(&shown).expect(id)).typical
}

#[test]
fn ready_sequences_show_what_their_captions_ask() {
    let pores = |outcome: &Outcome| outcome.pore_space_pct.settled;
    let sand = "bucket_of_sand";
    assert!(
        (of_step(sand, 1, pores) - of_step(sand, 0, pores)).abs() < 1.0,
        "one bucket does not show"
    );
    assert!(
        of_step(sand, 3, pores) < of_step(sand, 0, pores) - 3.0,
        "forty buckets make it denser"
    );
    let organic = |outcome: &Outcome| outcome.organic_matter_pct.unwrap_or(Figure::exact(0.0));
    let compost = "compost_by_the_barrow";
    let [two, four] = [2, 3].map(|index| of_step(compost, index, organic));
    assert!(
        two < four && four < 2.0 * two,
        "four barrows are not twice two"
    );
    let sodium = |outcome: &Outcome| outcome.chemical.esp_pct;
    let gypsum = "who_needs_gypsum";
    let rise = |from: usize, of: fn(&Outcome) -> Figure| {
        of_step(gypsum, from + 1, of) - of_step(gypsum, from, of)
    };
    assert!(of_step(gypsum, 0, sodium) < 2.0, "one clay without sodium");
    assert!(of_step(gypsum, 2, sodium) > 15.0, "and one with");
    let salt = |outcome: &Outcome| outcome.chemical.ec_paste_ds_m;
    for from in [0, 2] {
        assert!(rise(from, salt) > 0.5, "gypsum is a salt in both");
        assert!(rise(from, pores).abs() < 0.5, "and opens neither by itself");
    }
    let ph = |outcome: &Outcome| outcome.chemical.ph.unwrap_or(Figure::exact(0.0));
    let peat = "peat_and_ph";
    let [plain, third, half, lime] = [0, 1, 2, 3].map(|index| of_step(peat, index, ph));
    assert!(plain > third && third > half, "peat makes it sourer");
    assert!(lime > half + 1.0, "free lime holds against it");
    let air = |outcome: &Outcome| {
        let container = outcome.container;
        container.map_or(Figure::exact(0.0), |pot| pot.air_pct)
    };
    let pot = "pot_that_stays_wet";
    let [clay, tall, flat, tube] = [0, 1, 2, 3].map(|index| of_step(pot, index, air));
    assert!(
        clay < tall && flat < tall && tall < tube,
        "height lets air in"
    );
}

#[test]
fn every_label_of_the_lectern_is_a_word() {
    for key in ["ground", "blend", "your_guess", "waits", "lectern_next"] {
        assert_ne!(label_of_lectern(key), key, "{key} has a text");
    }
}
