//! What a sweep and a list say.

use barrowmix::draws::Strata;
use barrowmix::errand::invented::invented;
use barrowmix::errand::list::List;
use barrowmix::errand::{Errand, Offer};
use barrowmix::quantity::Unit;
use barrowmix::recipe::{Amount, Fault, Path, Price, Recipe};
use barrowmix::sweep::{Axis, FEW, Run, Swept, crossings, stretches};
use barrowmix::words::errand::list::{LIST_HEADS, ListTold, list_told};
use barrowmix::words::errand::sale::{dear_text, lot_text, one_unit};
use barrowmix::words::errand::sweep::{Looked, addition_name, swept_name, usual_text};
use barrowmix::words::{METRIC, Speech, Units};

const US: Speech = Speech { units: Units::Us };

fn willowbank() -> Recipe {
    let text = include_str!("../examples/recipes/willowbank.json");
    Recipe::from_json(text).expect("it reads")
}

fn sweep(recipe: &Recipe, axes: &[Axis]) -> Run {
    let mut run = Run::of(recipe, axes).expect("it can be swept");
    let mut strata = Strata::of(FEW);
    while run.step(&mut strata) {}
    run
}

fn said(run: &mut Run, swept: Swept, own: Option<f64>, speech: Speech) -> String {
    let mut few = Strata::of(FEW);
    let (met, classes) = (
        crossings(run, swept, own, &mut few),
        stretches(run, &mut few),
    );
    let looked = Looked {
        run,
        swept,
        own,
        currency: Some("EUR"),
        speech,
    };
    looked.curve(&met, &classes)
}

fn compost(low: f64, high: f64) -> Axis {
    Axis { line: 1, low, high }
}

#[test]
fn a_curve_says_where_it_goes_and_what_it_meets() {
    let recipe = willowbank();
    let mut run = sweep(&recipe, &[compost(0.0, 300.0)]);
    let text = said(&mut run, Swept::OrganicMatter, Some(4.0), METRIC);
    assert!(
        text.starts_with("From 0 L to 300 L of green compost, organic matter goes from "),
        "{text}"
    );
    assert!(text.contains(" reaches 4 %, your threshold, at "), "{text}");
    assert!(
        text.contains(" L (") && text.contains(" kg)"),
        "with its weight: {text}"
    );
    let text = said(&mut run, Swept::OrganicMatter, Some(4.0), US);
    assert!(text.contains(" lb)"), "in US units: {text}");
    let text = said(&mut run, Swept::Density, Some(1200.0), METRIC);
    assert!(text.contains("1.2 kg/L, your threshold,"), "{text}");
    let text = said(&mut run, Swept::Air, Some(99.0), METRIC);
    assert!(
        text.ends_with("It stays below 99 %, your threshold, all along this range."),
        "{text}"
    );
    let text = said(&mut run, Swept::Skeleton, None, METRIC);
    assert!(
        text.ends_with("The grains never touch within this range."),
        "{text}"
    );
    let text = said(&mut run, Swept::Class, None, METRIC);
    assert!(
        text.starts_with("From 0 L to 300 L of green compost it stays "),
        "{text}"
    );
}

#[test]
fn a_threshold_of_ones_own_is_said_as_typed() {
    let recipe = willowbank();
    let mut run = sweep(&recipe, &[compost(0.0, 300.0)]);
    for (own, typed) in [(12.5, "12.5 %"), (36.2, "36.2 %"), (99.75, "99.75 %")] {
        let text = said(&mut run, Swept::PoreSpace, Some(own), METRIC);
        let typed = [" ", typed, ", your threshold,"].concat();
        assert!(text.contains(&typed), "{text}");
    }
    let text = said(&mut run, Swept::Density, Some(1.234 * 1000.0), METRIC);
    assert!(text.contains(" 1.234 kg/L, your threshold,"), "{text}");
    let map = sweep(
        &recipe,
        &[
            compost(0.0, 300.0),
            Axis {
                line: 0,
                low: 0.0,
                high: 400.0,
            },
        ],
    );
    let middle = map
        .point(12, 8)
        .and_then(|point| point.figure(Swept::Weight));
    let own = (middle.expect("it weighs something").typical * 100.0).round() / 100.0;
    let looked = Looked {
        run: &map,
        swept: Swept::Weight,
        own: Some(own),
        currency: None,
        speech: METRIC,
    };
    let text = looked.map();
    let typed = format!(" The line is {own} kg, your threshold.");
    assert!(text.ends_with(&typed), "{text}, {own}");
}

#[test]
fn a_sweep_cancelled_before_its_first_blend_says_so() {
    let recipe = willowbank();
    for axes in [
        vec![compost(0.0, 300.0)],
        vec![
            compost(0.0, 300.0),
            Axis {
                line: 0,
                low: 0.0,
                high: 400.0,
            },
        ],
    ] {
        let mut run = Run::of(&recipe, &axes).expect("it can be swept");
        for swept in [Swept::Air, Swept::Class, Swept::Cost] {
            let map = Looked {
                run: &run,
                swept,
                own: None,
                currency: None,
                speech: METRIC,
            }
            .map();
            let is_map = axes.len() > 1 && swept != Swept::Class;
            let text = if is_map {
                map
            } else {
                said(&mut run, swept, None, METRIC)
            };
            assert!(text.starts_with("It was cancelled before"), "{text}");
        }
    }
}

#[test]
fn a_curve_that_turns_tells_each_crossing_by_itself() {
    let text = r#"{ "barrowmix": 1,
        "ground": { "sand_pct": 18, "silt_pct": 32, "clay_pct": { "low": 45, "typical": 50, "high": 55 },
            "organic_matter_pct": { "low": 1.8, "typical": 2.4, "high": 3.2 }, "ph": 6.9 },
        "soil": { "area": { "value": 2.88, "unit": "m2" }, "depth": { "value": 20, "unit": "cm" } },
        "additions": [
            { "material": "concrete_sand", "amount": { "value": 500, "unit": "L" } },
            { "material": "yard_compost", "amount": { "value": 50, "unit": "L" } } ] }"#;
    let recipe = Recipe::from_json(text).expect("it reads");
    let sand = Axis {
        line: 0,
        low: 0.0,
        high: 3000.0,
    };
    let mut run = Run::of(&recipe, &[sand]).expect("it can be swept");
    let mut strata = Strata::default();
    while run.step(&mut strata) {}
    let text = said(&mut run, Swept::Air, Some(15.0), METRIC);
    assert!(
        text.matches("It may be so from 0 L on").count() <= 1,
        "{text}"
    );
    assert!(
        text.contains(" The doubt reaches the crossing after it: maybe neither is there."),
        "{text}"
    );
    let text = said(&mut run, Swept::Density, None, METRIC);
    assert!(
        !text.contains("The doubt reaches"),
        "a jump is none: {text}"
    );
    assert!(
        text.contains(" of which roots are in trouble from 1.69 kg/L on: density is below that."),
        "{text}"
    );
    assert!(!text.contains("falls below 1.69"), "{text}");
}

#[test]
fn without_a_price_the_cost_is_not_told() {
    let mut recipe = willowbank();
    recipe.additions[0].price = None;
    let mut run = sweep(&recipe, &[compost(0.0, 300.0)]);
    let text = said(&mut run, Swept::Cost, None, METRIC);
    assert!(text.starts_with("No cost can be told"), "{text}");
}

#[test]
fn every_figure_has_something_to_say_of_curve_and_map() {
    let recipe = willowbank();
    let sand = Axis {
        line: 0,
        low: 0.0,
        high: 400.0,
    };
    let mut curve = sweep(&recipe, &[sand]);
    let map = sweep(&recipe, &[sand, compost(0.0, 300.0)]);
    for swept in Swept::ALL.iter().copied() {
        assert_eq!(Swept::find(swept.id()), Some(swept), "its id");
        let text = said(&mut curve, swept, None, METRIC);
        assert!(text.ends_with('.') && !text.contains("NaN"), "{text}");
        let looked = Looked {
            run: &map,
            swept,
            own: None,
            currency: None,
            speech: METRIC,
        };
        let text = looked.map();
        assert!(
            text.starts_with("Concrete sand to the right, green compost up"),
            "{text}"
        );
        let point = map.point(12, 8).expect("it can be mixed");
        let text = looked.point(point);
        assert!(
            text.starts_with("200 kg of concrete sand, 150 L of green compost (90 kg): "),
            "{text}"
        );
        assert!(
            !looked.cell(Some(point)).is_empty(),
            "{}",
            swept_name(swept)
        );
        assert!(
            !usual_text(swept, None, METRIC).is_empty(),
            "{}",
            swept_name(swept)
        );
    }
    assert_eq!(
        addition_name(&recipe, &recipe.additions[0]),
        "Concrete sand"
    );
}

fn told(recipe: &Recipe, errand: &Errand, speech: Speech) -> (List, ListTold) {
    let list = List::of(recipe, errand, None, &mut Strata::default()).expect("there is a list");
    let told = list_told(recipe, errand, &list, speech);
    (list, told)
}

#[test]
fn a_list_of_a_bed_in_order() {
    let recipe = willowbank();
    let errand = Errand {
        offers: invented(&recipe),
        waste_pct: Some(5.0),
        ..Errand::default()
    };
    let (_, all) = told(&recipe, &errand, METRIC);
    assert_eq!(all.rows.len(), 2, "two materials");
    assert_eq!(all.rows[0].len(), LIST_HEADS.len(), "a cell for each head");
    // 200 kg / 0.95 = 210.5: nine bags of 25 kg for 37.80; 150 L / 0.95 = 157.9: four of 40 L.
    assert_eq!(all.rows[0][1], "9 bags of 25 kg");
    assert_eq!(all.rows[0][6], "EUR 37.80");
    assert_eq!(all.rows[1][1], "4 bags of 40 L");
    let notes = all.notes.join(" ");
    assert!(
        notes.contains("The price of Concrete sand is invented"),
        "{notes}"
    );
    assert!(notes.contains("5 % is counted as waste"), "{notes}");
    assert!(
        notes.contains("more than the 23 kg that one person should ever lift"),
        "{notes}"
    );
    let work = all.work.join(" ");
    for words in [
        "labels on the bags",
        "crumbles and does not smear",
        // 150 L over 2.88 m2.
        "Green compost, 52 mm",
        "Turn it in to 20 cm",
        "Water it gently",
        "top up then",
        "Watered and drained, it weighs about",
    ] {
        assert!(work.contains(words), "{words}: {work}");
    }
    let (_, all) = told(&recipe, &errand, US);
    assert!(
        all.rows[1][2].contains("ft³") && all.rows[1][2].contains("lb"),
        "{:?}",
        all.rows[1]
    );
}

#[test]
fn a_list_of_pots_in_order() {
    let text = r#"{ "barrowmix": 1, "ground": { "sand_pct": 18, "silt_pct": 27, "clay_pct": 55 },
        "soil": { "value": 300, "unit": "L" },
        "additions": [ { "material": "yard_compost", "amount": { "value": 100, "unit": "L" } } ],
        "place": { "kind": "container", "volume": { "value": 50, "unit": "L" },
            "height": { "value": 35, "unit": "cm" }, "count": 8 } }"#;
    let recipe = Recipe::from_json(text).expect("it reads");
    let (list, all) = told(&recipe, &Errand::default(), METRIC);
    assert!(list.ground.is_some(), "it is dug and carried");
    let sums = all.sums.join(" ");
    assert!(sums.contains("Ground to dig and carry: "), "{sums}");
    let work = all.work.join(" ");
    for words in [
        "Mix on a sheet: the ground first, then Green compost.",
        "Fill each of the 8 pots with ",
        "higher than it shall stand",
        "each pot weighs about",
        "fill it where it will stand",
    ] {
        assert!(work.contains(words), "{words}: {work}");
    }
    assert!(
        all.notes.join(" ").contains("has no price"),
        "{:?}",
        all.notes
    );
}

#[test]
fn a_lot_beyond_the_limits_of_money_is_refused_with_its_price() {
    let recipe = willowbank();
    let at = Path::from("errand").field("offers").item(3);
    let mut offer = Offer::new("yard_compost", Amount::new(40.0, Unit::Kilogram));
    let mut asks = |value: f64, per: f64| {
        offer.price = Some(Price {
            value,
            per: Amount::new(per, Unit::Kilogram),
            kept: Vec::new(),
        });
        (offer.lot(&recipe, &at), dear_text(&recipe, &offer, &at))
    };
    // 40 kg at 25,000 are a million.
    let (lot, dear) = asks(25_000.0, 1.0);
    assert_eq!(lot.map(|lot| lot.price), Ok(1e6), "just so much");
    assert_eq!(dear, None, "nothing to tell");
    for (value, per) in [(25_001.0, 1.0), (3.0, 1e-6)] {
        let (lot, dear) = asks(value, per);
        let error = lot.expect_err("too dear");
        assert!(matches!(error.fault, Fault::OutOfRange { .. }), "{error:?}");
        assert!(
            error.path.as_str().starts_with("errand.offers[3].price"),
            "{error:?}"
        );
        let dear = dear.expect("told");
        assert!(dear.contains("more than 1000000"), "{dear}");
    }
    offer.price = None;
    assert_eq!(
        dear_text(&recipe, &offer, &at),
        None,
        "no price is not dear"
    );
}
fn bed(depth_cm: f64, additions: &str) -> Recipe {
    let text = format!(
        r#"{{ "barrowmix": 1, "ground": {{ "sand_pct": 18, "silt_pct": 27, "clay_pct": 55 }},
        "soil": {{ "area": {{ "value": 3, "unit": "m2" }},
            "depth": {{ "value": {depth_cm}, "unit": "cm" }} }},
        "additions": [{additions}] }}"#
    );
    Recipe::from_json(&text).expect("it reads")
}

fn compost_mm(mm: f64) -> String {
    format!(r#"{{ "material": "yard_compost", "amount": {{ "value": {mm}, "unit": "mm" }} }}"#)
}

#[test]
fn thick_layers_go_in_in_goes_or_on_the_heap() {
    let work = |depth_cm: f64, mm: &[f64]| {
        let lines: Vec<String> = mm.iter().map(|mm| compost_mm(*mm)).collect();
        let recipe = bed(depth_cm, &lines.join(","));
        told(&recipe, &Errand::default(), METRIC).1.work.join(" ")
    };
    let deep = work(60.0, &[200.0, 80.0]);
    assert!(deep.contains("Green compost, 28 cm in 3 goes."), "{deep}");
    assert_eq!(deep.matches("Green compost").count(), 1, "once: {deep}");
    assert!(deep.contains("After each go turn it in to 60 cm"), "{deep}");
    let heap = work(20.0, &[280.0]);
    assert!(
        heap.contains("mix it on a sheet: the ground first, then Green compost."),
        "{heap}"
    );
    assert!(!heap.contains("urn it in to"), "{heap}");
    assert!(!heap.contains("Spread evenly"), "{heap}");
}

#[test]
fn a_bed_that_fills_a_volume_is_not_dug_shallower() {
    let recipe = bed(20.0, &compost_mm(50.0));
    let errand = Errand::default();
    let fill = |m3: f64| {
        let list = List::of(&recipe, &errand, Some(m3), &mut Strata::default());
        let list = list.expect("there is a list");
        (
            list.work.settled_l,
            list_told(&recipe, &errand, &list, METRIC),
        )
    };
    let (settled_l, little) = fill(0.05);
    let work = little.work.join(" ");
    assert!(!work.contains("Turn it in"), "{work}");
    assert!(work.contains(", 20 cm deep and no deeper."), "{work}");
    assert!(work.contains("Fill the bed with "), "{work}");
    assert!(
        little.sums.join(" ").contains("is multiplied by"),
        "{little:?}"
    );
    assert!((settled_l - 50.0).abs() < 0.1, "{settled_l}");
    // What it fills already is not multiplied by 1.00.
    let own = told(&recipe, &errand, METRIC).0.work.settled_l;
    let (_, same) = fill(own / 1000.0 * 1.00005);
    assert!(!same.sums.join(" ").contains("multiplied"), "{same:?}");
}

#[test]
fn it_is_heaped_before_it_is_watered() {
    let text = r#"{ "barrowmix": 1, "ground": { "sand_pct": 18, "silt_pct": 27, "clay_pct": 55 },
        "soil": { "value": 300, "unit": "L" },
        "additions": [ { "material": "yard_compost", "amount": { "value": 100, "unit": "L" } } ] }"#;
    let recipe = Recipe::from_json(text).expect("it reads");
    let work = told(&recipe, &Errand::default(), METRIC).1.work.join(" ");
    let place = |words: &str| {
        let place = work.find(words);
        assert!(place.is_some(), "{words}: {work}");
        place
    };
    assert!(
        place("in two goes, and heap it") < place("Water it gently"),
        "{work}"
    );
    assert!(place("Fill the pot with ") < place("in two goes"), "{work}");
}

#[test]
fn nothing_added_is_nothing_to_do() {
    let recipe = bed(20.0, "");
    let all = told(&recipe, &Errand::default(), METRIC).1;
    assert_eq!(
        all,
        ListTold {
            sums: vec!["Nothing is added yet, so there is nothing to buy.".into()],
            ..ListTold::default()
        }
    );
}

#[test]
fn what_comes_loose_is_told_in_all() {
    let recipe = bed(60.0, &compost_mm(400.0));
    let mut offer = Offer::new("yard_compost", Amount::new(0.25, Unit::CubicMetre));
    offer.loose = true;
    offer.delivery = Some(22.5);
    offer.load = Some(Amount::new(1.0, Unit::CubicMetre));
    offer.price = Some(Price {
        value: 38.0,
        per: Amount::new(1.0, Unit::CubicMetre),
        kept: Vec::new(),
    });
    let errand = Errand {
        offers: vec![offer],
        ..Errand::default()
    };
    // 3 m2 x 40 cm are 1.2 m3: five quarters for 47.50, in two loads.
    let all = told(&recipe, &errand, METRIC).1;
    assert_eq!(all.rows[0][1], "1.25 m³ loose", "{:?}", all.rows);
    assert_eq!(all.rows[0][6], "47.50 + 45.00 to bring it in 2 loads");
}

/// A US gallon holds 3.785411784 L (NIST Handbook 44, appendix C): 8 for 40 L are 0.20 a litre and
/// 0.757 a gallon.
#[test]
fn a_price_is_told_by_the_volume_that_one_knows() {
    let recipe = willowbank();
    let mut offer = Offer::new("yard_compost", Amount::new(40.0, Unit::Litre));
    let per = Amount::new(1.0, Unit::Bag);
    offer.price = Some(Price {
        value: 8.0,
        per,
        kept: Vec::new(),
    });
    let lot = offer.lot(&recipe, &Path::root()).expect("it is sold");
    let told = |units| lot_text(&recipe, &offer, &lot, Speech { units });
    let (metric, us) = (told(Units::Metric), told(Units::Us));
    assert!(metric.contains("0.20 a litre"), "{metric}");
    assert!(us.contains("0.76 a gallon"), "{us}");
    assert_eq!(one_unit(Unit::TonUs), "1 US ton", "of one");
    assert_eq!(one_unit(Unit::Litre), "1 L", "of one");
}
