#![cfg(not(target_arch = "wasm32"))]
//! Sentences of faults, and the result as text to paste.

mod support;

use barrowmix::blend::fill::{FillFault, FillTarget, filled};
use barrowmix::figure::Figure;
use barrowmix::ground::Trait;
use barrowmix::quantity::Unit;
use barrowmix::quantity::pots::{COMMON_BAGS, TradePot, boxed};
use barrowmix::recipe::dug::DugFault;
use barrowmix::recipe::own::{OwnFault, delete, import, weighed_bucket};
use barrowmix::recipe::phrase::{PhraseFault, parse_parts};
use barrowmix::recipe::{Fault, Recipe};
use barrowmix::words::{
    METRIC, Speech, Units, bag_kind_name, bucket_fault_text, class_name, dug_fault_text,
    fill_fault_text, imported_text, number_in_words, outcome_as_text, own_fault_text,
    phrase_fault_text, ranges_text, remark_text, shape_fault_text, trade_pot_name,
};
use proptest::prelude::*;
use support::blends::{mixed, outcome};
use support::recipes;

const US: Speech = Speech { units: Units::Us };

fn full() -> Recipe {
    recipes::read(recipes::FULL)
}

/// One line that ends as a sentence does and names what it must.
fn assert_says(text: &str, what: &[&str]) {
    assert!(!text.contains(['\n', '\r', '\0']), "one line: {text:?}");
    assert!(text.ends_with(['.', '?']), "a sentence: {text:?}");
    for word in what {
        assert!(text.contains(word), "{word:?} in {text:?}");
    }
}

#[test]
fn faults_of_filling_are_told() {
    let text = |fault: FillFault| fill_fault_text(&fault, METRIC);
    assert_says(&text(FillFault::NoRoom), &["room"]);
    assert_says(&text(FillFault::NothingToScale), &["Nothing"]);
    let fault = |m3: f64| filled(&full(), m3).expect_err("no room");
    assert_says(&text(fault(0.0)), &["0 L", "1,000,000,000 L"]);
    assert_says(&text(fault(f64::NAN)), &["no number"]);
    assert_says(&fill_fault_text(&fault(-1.0), US), &["-264 gal"]);
    let share = FillTarget::of(1.0)
        .filled_to(2.0)
        .m3()
        .expect_err("too full");
    assert_says(&text(share), &["200 %", "1 to 150 %"]);
    let path = "soil.value".into();
    let amount = FillFault::Amount {
        path,
        value: 2.5e6,
        limit: 1e6,
    };
    assert_says(&text(amount), &["soil.value", "2,500,000", "1,000,000"]);
    let own = FillFault::Recipe(Fault::Empty.at("soil"));
    assert_says(&text(own), &["soil: there is nothing to mix"]);
}

#[test]
fn faults_of_pots_and_buckets_are_told() {
    let side = boxed(1.0, 0.0, 1.0).expect_err("no width");
    assert_says(
        &shape_fault_text(side),
        &["width", "0 cm", "0.1 to 10,000 cm"],
    );
    let side = boxed(f64::NAN, 1.0, 1.0).expect_err("no length");
    assert_says(&shape_fault_text(side), &["length", "no number"]);
    let text = |full, empty, m3| {
        bucket_fault_text(
            weighed_bucket(full, empty, m3).expect_err("a fault"),
            METRIC,
        )
    };
    assert_says(&text(1.0, 1.0, 0.0), &["0 cannot be"]);
    assert_says(&text(1.0, 2.0, 0.01), &["1.0 kg", "2.0 kg"]);
    assert_says(
        &text(40.0, 0.0, 0.01),
        &["4.00 kg/L", "0.02 kg/L", "3.00 kg/L"],
    );
    let unit = Unit::Kilogram;
    assert_says(
        &dug_fault_text(DugFault::NotAVolume { unit }),
        &["kg", "volume"],
    );
    let (value, low, high) = (-1.0, 0.0, 1e6);
    let fault = DugFault::OutOfRange { value, low, high };
    assert_says(&dug_fault_text(fault), &["-1", "from 0 to 1,000,000"]);
    let pot = TradePot::of_class(5).expect("it is listed");
    assert_eq!(trade_pot_name(pot, METRIC), "#5 (14.9 L)", "a pot");
    assert_eq!(trade_pot_name(pot, US), "#5 (3.94 gal)", "a pot");
    for bag in COMMON_BAGS {
        assert!(!bag_kind_name(bag.kind).is_empty(), "{bag:?} has a name");
    }
}

#[test]
fn faults_of_own_materials_are_told() {
    let mut recipe = full();
    recipe.additions.push(recipe.additions[1].clone());
    let text = |fault: &OwnFault| own_fault_text(&recipe, fault);
    let in_use = delete(&recipe, "pit_sand").expect_err("in use");
    assert_says(
        &text(&in_use),
        &["\"Sand from the pit\"", "lines 2 and 4 use"],
    );
    let unknown = delete(&recipe, "x\ny").expect_err("unknown");
    assert_says(&text(&unknown), &["\"x\\ny\""]);
    let id = "heap".to_owned();
    assert_says(&text(&OwnFault::Twice { id }), &["\"heap\""]);
    let error = Fault::Missing.at("materials[1].id");
    assert_says(
        &text(&OwnFault::Material(error)),
        &["materials[1].id", "required"],
    );
    let mut other = recipe.materials[0].clone();
    other.name = None;
    let same = recipe.materials[0].clone();
    let imported = import(&recipe, vec![other, same.clone()]).expect("good ones");
    assert_says(
        &imported_text(&imported),
        &["\"pit_sand\"", "\"pit_sand_2\"", "the same"],
    );
    let imported = import(&recipe, vec![]).expect("none");
    assert_eq!(imported_text(&imported), "", "nothing to say");
}

#[test]
fn faults_of_phrases_are_told() {
    let recipe = full();
    for (said, words) in [
        ("", &["3 soil"][..]),
        ("1 compost", &["soil"]),
        ("soil", &["\"soil\"", "number"]),
        ("1,5 soil", &["\"1\"", "point"]),
        ("2 kg soil", &["\"kg\""]),
        ("0 soil", &["0 parts", "more than 0"]),
        ("1 soil, 1 perlit", &["\"perlit\"", "Perlite"]),
        ("1 soil, 1 mud", &["\"mud\"", "own material"]),
        ("1 soil, 1 clay", &["The soil", "twice"]),
        ("1 soil, 1 compost, 2 compost", &["Green compost", "twice"]),
    ] {
        let fault = parse_parts(&recipe, said).expect_err("it has a fault");
        assert_says(&phrase_fault_text(&recipe, &fault), words);
    }
    let fault = PhraseFault::TooMany { limit: 64 };
    assert_says(&phrase_fault_text(&recipe, &fault), &["64"]);
}

proptest! {
    #[test]
    fn any_fault_of_any_text_is_one_line(said in any::<String>()) {
        let recipe = full();
        if let Err(fault) = parse_parts(&recipe, &said) {
            assert_says(&phrase_fault_text(&recipe, &fault), &[]);
        }
        if let Err(fault) = delete(&recipe, &said) {
            assert_says(&own_fault_text(&recipe, &fault), &[]);
        }
    }
}

/// The number that follows some words in a text.
fn number_after(text: &str, words: &str) -> f64 {
    let rest = text
        .split_once(words)
        .unwrap_or_else(|| panic!("{words:?} in {text}"))
        .1;
    let number = rest.split_whitespace().next().expect("a number");
    number
        .replace(',', "")
        .parse()
        .unwrap_or_else(|_| panic!("{number:?} in {text}"))
}

#[test]
fn a_result_as_text_says_everything() {
    mixed(41, 300, |recipe, outcome, _| {
        let text = outcome_as_text(recipe, outcome, METRIC);
        for remark in outcome.verdict.iter().chain(&outcome.notes) {
            let says = remark_text(remark, METRIC);
            assert!(text.contains(&says), "{says:?} in {text}");
        }
        if let Some(texture) = outcome.texture {
            assert!(text.contains(class_name(texture.class)), "class in {text}");
            assert!(text.contains("odds "), "odds in {text}");
        }
        let marks = ["Mixed in:\n", "On top:\n"];
        for (index, mark) in marks.iter().enumerate() {
            let is_any = outcome
                .barrow
                .lines
                .iter()
                .any(|line| line.on_top == (index == 1));
            assert_eq!(text.contains(mark), is_any, "{mark:?} in {text}");
        }
        for addition in &recipe.additions {
            let name = recipe.find(&addition.material).expect("known").name();
            let line = format!("- {name}, {}: ", number_in_words(&addition.amount));
            assert!(text.contains(&line), "{line:?} in {text}");
        }
        // Shown figures are those of the outcome, within the coarsest step that is shown.
        let pores = number_after(&text, "Pores, settled: ");
        let ends = outcome.pore_space_pct.settled.ends();
        let step = ((ends.high - ends.low) / 4.0).max(1.0);
        let apart = (pores - outcome.pore_space_pct.settled.typical).abs();
        assert!(apart <= step, "{pores} in {text}");
        assert!(
            text.contains("estimate") && text.contains("1024 times"),
            "how sure: {text}"
        );
        assert!(
            !text.contains("\n\n\n") && text.ends_with('\n'),
            "gaps in {text:?}"
        );
        assert!(!text.contains(['<', '>']), "no markup: {text}");
    });
}

#[test]
fn a_title_stays_on_its_line() {
    let mut recipe = full();
    recipe.title = Some("Bed\r\n\n*one* <b>".into());
    let text = outcome_as_text(&recipe, &outcome(&recipe), US);
    assert!(text.starts_with("Bed *one* <b>\n\nGround: "), "{text}");
    assert!(
        text.contains(" lb/ft³") && text.contains(" gal"),
        "US units: {text}"
    );
    assert!(
        text.contains("Given, eight in ten within: organic matter"),
        "{text}"
    );
    recipe.title = None;
    let text = outcome_as_text(&recipe, &outcome(&recipe), METRIC);
    assert!(
        text.starts_with("Ground: clay (18 % sand, 27 % silt, 55 % clay), 4 m², 20 cm deep: "),
        "{text}"
    );
}

/// Ranges of what is not drawn were once told as ranges of clay.
#[test]
fn a_range_is_told_under_its_own_name() {
    let mut recipe = full();
    let range = Figure::between(0.5, 1.0, 2.0);
    for of in Trait::ALL {
        if recipe.ground.get(*of).is_none() && *of != Trait::BulkDensity {
            recipe.ground.set(*of, Some(range));
        }
    }
    let text = ranges_text(&recipe, METRIC);
    assert!(!text.contains("clay"), "clay has no range: {text}");
    recipe
        .ground
        .set(Trait::Clay, Some(Figure::between(50.0, 55.0, 60.0)));
    let text = ranges_text(&recipe, METRIC);
    assert_eq!(text.matches("clay 50–60 %").count(), 1, "{text}");
}
