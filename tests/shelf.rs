#![cfg(not(target_arch = "wasm32"))]
//! The shelf: whole through JSON, letters and links, limits, bad input, what every change leaves as
//! it was.

use barrowmix::recipe::{
    Fault, LINK_LIMIT, Recipe, RecipeError, from_letters, from_link, to_letters, to_link,
};
use barrowmix::shelf::{
    NAME_LIMIT, SHELF_LIMIT, ShelfFault, Shelved, by_figure, by_name, delete, duplicate, keep,
    moved, rename, set_shelf, shelf_of,
};
use barrowmix::words::{error_text, kept_name, shelf_fault_text};
use proptest::prelude::*;

const GROUND: &str = r#""ground":{"sand_pct":20,"silt_pct":25,"clay_pct":55}"#;
const SOIL: &str = r#""soil":{"value":40,"unit":"L"}"#;

fn with(shelf: &str) -> Recipe {
    let json = format!("{{\"barrowmix\":1,{GROUND},{SOIL},\"shelf\":{shelf}}}");
    Recipe::from_json(&json).expect("the page reads it, whatever its shelf is")
}

fn wrong(shelf: &str) -> RecipeError {
    shelf_of(&with(shelf)).expect_err("this shelf has a fault")
}

/// So many litres of compost in the clay.
fn recipe(litres: f64) -> Recipe {
    let json = format!(
        "{{\"barrowmix\":1,{GROUND},{SOIL},\"currency\":\"EUR\",\"additions\":[{{\"material\":\
         \"yard_compost\",\"amount\":{{\"value\":{litres},\"unit\":\"L\"}}}}]}}"
    );
    Recipe::from_json(&json).expect("it is right")
}

fn names(list: &[Shelved]) -> Vec<&str> {
    list.iter().map(|blend| blend.name.as_str()).collect()
}

/// A shelf of these names, with more and more compost.
fn shelf(names: &[&str]) -> Vec<Shelved> {
    let mut list = Vec::new();
    for (at, name) in names.iter().enumerate() {
        list = keep(&list, &recipe(1.5 + at as f64), name).expect("there is room");
    }
    list
}

fn kept_in(list: &[Shelved]) -> Recipe {
    let mut recipe = recipe(10.0);
    set_shelf(&mut recipe, list);
    recipe
}

#[test]
fn a_shelf_goes_through_json_letters_and_links() {
    let list = shelf(&["Thin", "“Half” & <half>", "Thick", "Ä"]);
    let recipe = kept_in(&list);
    assert_eq!(
        shelf_of(&recipe),
        Ok(list.clone()),
        "what is written is read"
    );
    let again = Recipe::from_json(&recipe.to_json()).expect("JSON is read");
    assert_eq!(again, recipe, "JSON holds it");
    let again = from_letters(&to_letters(&recipe)).expect("letters are read");
    assert_eq!(again, recipe, "letters hold it, digits and all");
    let again = from_link(&to_link(&recipe).expect("it is short")).expect("a link is read");
    assert_eq!(shelf_of(&again), Ok(list), "and links");
    let mut empty = recipe;
    set_shelf(&mut empty, &[]);
    assert_eq!(empty.shelf, None, "no blends are no field");
    assert!(!empty.to_json().contains("shelf"), "nor in the file");
}

#[test]
fn a_kept_blend_stays_whatever_becomes_of_the_recipe() {
    let before = recipe(7.25);
    let list = keep(&[], &before, "Before").expect("there is room");
    let mut other = with("[]");
    other.place = Recipe::from_json(&format!(
        "{{\"barrowmix\":1,{GROUND},{SOIL},\"place\":{{\"kind\":\"bed\"}},\"parts_of_soil\":2}}"
    ))
    .expect("it is right")
    .place;
    other.parts_of_soil = Some(3.0);
    other.title = Some("Another".into());
    other.trial = Some(barrowmix::recipe::Tree::Null);
    set_shelf(&mut other, &list);
    let put = shelf_of(&other).expect("it reads")[0]
        .put_on(&other)
        .expect("it can be put on");
    assert_eq!(put.additions, before.additions, "what was added");
    assert_eq!(put.place, None, "what came later is not there");
    assert_eq!(put.parts_of_soil, None, "nor this");
    assert_eq!(put.title, other.title, "the title is the page's");
    assert_eq!(put.trial, other.trial, "and what stands beside the blend");
    assert_eq!(put.shelf, other.shelf, "the shelf too");
    assert!(list[0].is_of(&put), "it is the one that was kept");
    assert!(!list[0].is_of(&other), "the other one is not");
}

#[test]
fn what_blends_share_is_written_once() {
    let one = kept_in(&shelf(&["a"]));
    let eight = kept_in(&shelf(&["a", "b", "c", "d", "e", "f", "g", "h"]));
    let json = eight.to_json();
    assert_eq!(
        json.matches("clay_pct").count(),
        2,
        "one ground on the shelf"
    );
    assert_eq!(
        json.matches("\"like\"").count(),
        7,
        "the others are like it"
    );
    let [one, eight] = [one, eight].map(|recipe| to_link(&recipe).expect("it is short").len());
    assert!(
        eight < LINK_LIMIT / 10,
        "{eight} letters for eight, {one} for one"
    );
    // A place that one has and the next has not is taken away again.
    let mut placed = recipe(1.0);
    placed.parts_of_soil = Some(2.0);
    let list = keep(&[], &placed, "placed").expect("there is room");
    let list = keep(&list, &recipe(1.0), "not placed").expect("there is room");
    let read = shelf_of(&kept_in(&list)).expect("it reads");
    assert_eq!(read, list, "also what the second has not");
    assert!(kept_in(&list).to_json().contains("null"), "it says so");
}

#[test]
fn bad_shelves_are_told_with_their_place() {
    let blend = format!("{{{GROUND},{SOIL}}}");
    let item = |name: &str| format!("{{\"name\":\"{name}\",\"blend\":{blend}}}");
    let long = "x".repeat(NAME_LIMIT + 1);
    let nine: Vec<String> = (0..9).map(|at| item(&format!("n{at}"))).collect();
    let forward = format!("[{},{{\"name\":\"b\",\"like\":1}}]", item("a"));
    let twice = format!("[{},{}]", item("a"), item("a"));
    for (shelf, path) in [
        ("7".to_owned(), "shelf"),
        ("{}".to_owned(), "shelf"),
        ("[1]".to_owned(), "shelf[0]"),
        (format!("[{}]", nine.join(",")), "shelf"),
        (format!("[{{\"blend\":{blend}}}]"), "shelf[0].name"),
        (format!("[{}]", item("  ")), "shelf[0].name"),
        (format!("[{}]", item(&long)), "shelf[0].name"),
        (
            format!("[{{\"name\":5,\"blend\":{blend}}}]"),
            "shelf[0].name",
        ),
        (twice, "shelf[1].name"),
        (forward, "shelf[1].like"),
        (r#"[{"name":"a","like":0}]"#.to_owned(), "shelf[0].like"),
        (r#"[{"name":"a","like":"a"}]"#.to_owned(), "shelf[0].like"),
        (r#"[{"name":"a","like":-1}]"#.to_owned(), "shelf[0].like"),
        (r#"[{"name":"a"}]"#.to_owned(), "shelf[0].blend"),
        (r#"[{"name":"a","blend":[]}]"#.to_owned(), "shelf[0].blend"),
        (
            r#"[{"name":"a","blend":{}}]"#.to_owned(),
            "shelf[0].blend.ground",
        ),
        (
            format!("[{{\"name\":\"a\",\"blend\":{{{GROUND}}}}}]"),
            "shelf[0].blend.soil",
        ),
        (
            format!("[{{\"name\":\"a\",\"blend\":{blend},\"more\":1}}]"),
            "shelf[0].more",
        ),
        (
            format!("[{{\"name\":\"a\",\"blend\":{{{GROUND},{SOIL},\"title\":\"b\"}}}}]"),
            "shelf[0].blend.title",
        ),
        (
            format!(
                "[{},{{\"name\":\"b\",\"like\":0,\"blend\":{{\"additions\":[{{\"material\":\
                 \"moon_dust\",\"amount\":{{\"value\":1,\"unit\":\"L\"}}}}]}}}}]",
                item("a")
            ),
            "shelf[1].blend.additions[0].material",
        ),
        (
            format!(
                "[{},{{\"name\":\"b\",\"like\":0,\"blend\":{{\"soil\":{{\"value\":-1,\
                 \"unit\":\"L\"}}}}}}]",
                item("a")
            ),
            "shelf[1].blend.soil.value",
        ),
        (
            format!(
                "[{},{{\"name\":\"b\",\"like\":0,\"blend\":{{\"ground\":null}}}}]",
                item("a")
            ),
            "shelf[1].blend.ground",
        ),
    ] {
        let error = wrong(&shelf);
        assert_eq!(error.path.to_string(), path, "{shelf}: {error:?}");
        assert!(error_text(&error).contains(path), "it is said where");
    }
    let error = wrong(&format!("[{}]", nine.join(",")));
    assert_eq!(error.fault, Fault::TooMany { limit: SHELF_LIMIT }, "nine");
    assert_eq!(
        wrong(&format!("[{},{}]", item("a"), item("a"))).fault,
        Fault::Twice,
        "one name twice"
    );
}

#[test]
fn fields_of_a_later_release_stay() {
    let json = format!(
        "{{\"barrowmix\":1,{GROUND},{SOIL},\"made_by\":\"99.0.0\",\"shelf\":[{{\"name\":\"a\",\
         \"blend\":{{{GROUND},{SOIL},\"frost\":[1,2]}},\"colour\":\"red\"}},{{\"name\":\"b\",\
         \"like\":0,\"blend\":{{\"frost\":3}}}}]}}"
    );
    let mut recipe = Recipe::from_json(&json).expect("a later release wrote it");
    let list = shelf_of(&recipe).expect("what is not known is kept");
    let before = recipe.clone();
    set_shelf(&mut recipe, &list);
    assert_eq!(shelf_of(&recipe), Ok(list.clone()), "nothing is lost");
    let text = recipe.to_json().replace(char::is_whitespace, "");
    for field in ["\"frost\":[1,2]", "\"frost\":3", "\"colour\":\"red\""] {
        assert!(text.contains(field), "{field} in {text}");
    }
    let renamed = rename(&list, 0, "c").expect("it can have it");
    set_shelf(&mut recipe, &renamed);
    assert!(recipe.to_json().contains("frost"), "nor by another name");
    assert_ne!(before, recipe, "which it has");
}

#[test]
fn names_are_made_unique_and_short() {
    let long = "Yard compost and concrete sand and more of both";
    let mut list = Vec::new();
    for _ in 0..SHELF_LIMIT {
        list = keep(&list, &recipe(1.0), long).expect("there is room");
    }
    for (at, blend) in list.iter().enumerate() {
        assert!(blend.name.chars().count() <= NAME_LIMIT, "{}", blend.name);
        assert!(
            !names(&list[..at]).contains(&&*blend.name),
            "{}",
            blend.name
        );
    }
    assert_eq!(
        names(&list)[..2],
        [
            "Yard compost and concrete sand and more…",
            "Yard compost and concrete sand and mo… 2"
        ],
        "cut, and with a number"
    );
    assert_eq!(
        keep(&list, &recipe(1.0), "one more"),
        Err(ShelfFault::Full { limit: SHELF_LIMIT }),
        "no ninth"
    );
    assert_eq!(
        duplicate(&list, 0),
        Err(ShelfFault::Full { limit: SHELF_LIMIT }),
        "not by doubling either"
    );
    let blank = keep(&[], &recipe(1.0), " \n ").expect("there is room");
    assert!(!blank[0].name.trim().is_empty(), "no blank name");
    assert_eq!(shelf_of(&kept_in(&list)), Ok(list), "they all read");
}

#[test]
fn capitals_do_not_tell_names_apart() {
    let list = shelf(&["Bed by the wall", "Übertopf"]);
    for name in ["bed BY the wall", "BED by  the wall"] {
        assert_eq!(rename(&list, 1, name), Err(ShelfFault::Taken), "{name}");
    }
    assert_eq!(
        rename(&list, 0, "üBERTOPF"),
        Err(ShelfFault::Taken),
        "also of other letters"
    );
    let own = rename(&list, 0, "BED by the wall").expect("its own name");
    assert_eq!(names(&own), ["BED by the wall", "Übertopf"], "in capitals");
    let more = keep(&list, &recipe(3.0), "bed by the WALL").expect("there is room");
    assert_eq!(names(&more)[2], "bed by the WALL 2", "with a number");
    // A shelf that was kept with such names still reads.
    let json = kept_in(&list)
        .to_json()
        .replace("Übertopf", "BED by the wall");
    let kept = shelf_of(&Recipe::from_json(&json).expect("it is right")).expect("it reads");
    assert_eq!(names(&kept), ["Bed by the wall", "BED by the wall"], "both");
}

#[test]
fn each_change_leaves_the_rest() {
    let list = shelf(&["b", "a", "c"]);
    let renamed = rename(&list, 1, "  d  e ").expect("it can have it");
    assert_eq!(names(&renamed), ["b", "d e", "c"], "a plain name");
    assert!(rename(&list, 1, "a").is_ok(), "its own name stays");
    assert_eq!(rename(&list, 1, "b"), Err(ShelfFault::Taken), "another's");
    assert_eq!(rename(&list, 1, " "), Err(ShelfFault::NoName), "none");
    let long = "é".repeat(NAME_LIMIT + 1);
    assert_eq!(
        rename(&list, 1, &long),
        Err(ShelfFault::LongName { limit: NAME_LIMIT }),
        "too long"
    );
    assert!(
        rename(&list, 1, &"é".repeat(NAME_LIMIT)).is_ok(),
        "letters are counted, not bytes"
    );
    let doubled = duplicate(&list, 0).expect("there is room");
    assert_eq!(names(&doubled), ["b", "b 2", "a", "c"], "after it");
    let deleted = delete(&doubled, 1).expect("it is there");
    assert_eq!(deleted, list, "as before");
    for index in [3, usize::MAX] {
        assert_eq!(delete(&list, index), Err(ShelfFault::NoSuch), "{index}");
        assert_eq!(
            rename(&list, index, "x"),
            Err(ShelfFault::NoSuch),
            "{index}"
        );
        assert_eq!(duplicate(&list, index), Err(ShelfFault::NoSuch), "{index}");
        assert_eq!(moved(&list, index, 0), Err(ShelfFault::NoSuch), "{index}");
        assert_eq!(moved(&list, 0, index), Err(ShelfFault::NoSuch), "{index}");
    }
    let there = moved(&list, 0, 2).expect("both are there");
    assert_eq!(names(&there), ["a", "c", "b"], "the first to the end");
    assert_eq!(moved(&there, 2, 0), Ok(list.clone()), "and back");
    assert_eq!(names(&by_name(&list, false)), ["a", "b", "c"], "by name");
    assert_eq!(names(&by_name(&list, true)), ["c", "b", "a"], "backwards");
    let figures = [Some(2.0), None, Some(3.0)];
    assert_eq!(
        names(&by_figure(&list, &figures, true)),
        ["c", "b", "a"],
        "most first"
    );
    assert_eq!(
        names(&by_figure(&list, &figures, false)),
        ["b", "c", "a"],
        "least first"
    );
    let not = [Some(f64::NAN), Some(1.0)];
    assert_eq!(
        names(&by_figure(&list, &not, false)),
        ["a", "b", "c"],
        "what is no number comes last"
    );
}

#[test]
fn a_proposed_name_says_what_is_in_it() {
    assert_eq!(
        kept_name(&recipe(20.0)),
        "20 L green compost",
        "one addition"
    );
    let mut none = recipe(1.0);
    none.additions.clear();
    assert_eq!(kept_name(&none), "Ground alone", "nothing added");
}

#[test]
fn every_fault_has_words() {
    for fault in [
        ShelfFault::Full { limit: SHELF_LIMIT },
        ShelfFault::NoName,
        ShelfFault::LongName { limit: NAME_LIMIT },
        ShelfFault::Taken,
        ShelfFault::NoSuch,
    ] {
        let text = shelf_fault_text(fault);
        assert!(text.ends_with('.') && !text.contains('{'), "{text}");
    }
    assert!(
        shelf_fault_text(ShelfFault::Full { limit: 8 }).contains('8'),
        "how many"
    );
}

proptest! {
    /// Whatever is pressed, in whatever order, the shelf reads again as it was written.
    #[test]
    fn whatever_is_done_reads_again(
        presses in prop::collection::vec((0_usize..7, 0_usize..9, 0_usize..9, ".{0,50}"), 0..24)
    ) {
        let mut list: Vec<Shelved> = Vec::new();
        for (what, one, other, name) in presses {
            let next = match what {
                0 | 1 => keep(&list, &recipe(one as f64 + 0.1 * other as f64), &name),
                2 => rename(&list, one, &name),
                3 => duplicate(&list, one),
                4 => delete(&list, one),
                5 => moved(&list, one, other),
                _ => Ok(by_name(&list, other % 2 == 0)),
            };
            list = next.unwrap_or(list);
            prop_assert!(list.len() <= SHELF_LIMIT, "{} blends", list.len());
            let read = shelf_of(&kept_in(&list));
            prop_assert_eq!(read.as_ref(), Ok(&list));
        }
    }

    /// A sorted list has the same blends in rising order, and sorting it again changes nothing.
    #[test]
    fn sorting_is_an_order(
        figures in prop::collection::vec(prop::option::of(-5_i8..5), 0..=8),
        highest_first in any::<bool>(),
    ) {
        let figures: Vec<Option<f64>> =
            figures.into_iter().map(|figure| figure.map(f64::from)).collect();
        let called: Vec<String> = (0..figures.len()).map(|at| format!("n{at}")).collect();
        let called: Vec<&str> = called.iter().map(String::as_str).collect();
        let list = shelf(&called);
        let sorted = by_figure(&list, &figures, highest_first);
        let of: Vec<Option<f64>> = sorted
            .iter()
            .map(|blend| figures[list.iter().position(|known| known == blend).unwrap_or(0)])
            .collect();
        let there: Vec<f64> = of.iter().copied().flatten().collect();
        for pair in there.windows(2) {
            let [low, high] = if highest_first { [1, 0] } else { [0, 1] };
            prop_assert!(pair[low] <= pair[high], "the order");
        }
        prop_assert!(of[there.len()..].iter().all(Option::is_none), "those without are last");
        for blend in &list {
            prop_assert!(sorted.contains(blend), "{} is still there", blend.name);
        }
        let again = by_figure(&sorted, &of, highest_first);
        prop_assert_eq!(&again, &sorted);
    }

    /// No bytes in the field make it panic.
    #[test]
    fn any_shelf_reads_or_is_told(text in "[\\[\\]{}:,\"a-z0-9 .]{0,60}") {
        let json = format!("{{\"barrowmix\":1,{GROUND},{SOIL},\"shelf\":{text}}}");
        if let Ok(recipe) = Recipe::from_json(&json)
            && let Err(error) = shelf_of(&recipe)
        {
            prop_assert!(error.path.as_str().starts_with("shelf"), "{error:?}");
        }
    }
}
