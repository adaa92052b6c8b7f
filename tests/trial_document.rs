#![cfg(not(target_arch = "wasm32"))]
//! The trial in the saved recipe: whole through JSON and letters, short, limits, bad input.

use barrowmix::figure::Figure;
use barrowmix::quantity::Unit;
use barrowmix::recipe::{
    Amount, Fault, Kept, Kind, LINK_LIMIT, Recipe, RecipeError, Tree, from_letters, from_link,
    number_of_text, to_letters, to_link,
};
use barrowmix::trial::date::Date;
use barrowmix::trial::document::{NOTES_LETTERS, set_trial, trial_of};
use barrowmix::trial::layout::{CONTAINERS_LIMIT, Design, Site};
use barrowmix::trial::mattering::SaidMatters;
use barrowmix::trial::measures::{Good, MEASURES, OWN_LIMITS, OwnMeasure, Scale};
use barrowmix::trial::plan::{Deed, Guess, Predicted, Treatment, Trial, Vessel, Way};
use barrowmix::trial::records::{Censor, Lost, Missing, Record};
use barrowmix::words::error_text;
use proptest::prelude::*;

const PLAIN: &str = r#""barrowmix":1,
    "ground":{"sand_pct":20,"silt_pct":25,"clay_pct":55},
    "soil":{"value":40,"unit":"L"}"#;

/// The least that is a trial.
const LEAST: &str = r#""id":"T1","seed":"1","container":{"volume":{"value":10,"unit":"L"},"height":{"value":25,"unit":"cm"}}"#;

fn with(trial: &str) -> Recipe {
    let json = format!("{{{PLAIN},\"trial\":{trial}}}");
    Recipe::from_json(&json).expect("the page reads it, whatever its trial is")
}

fn wrong(trial: &str) -> RecipeError {
    trial_of(&with(trial)).expect_err("this trial has a fault")
}

fn bare() -> Recipe {
    Recipe::from_json(&format!("{{{PLAIN}}}")).expect("it is right")
}

fn day(month: u32, day: u32) -> Date {
    Date::of(2026, month, day).expect("a day")
}

/// A trial with everything that one can have.
fn full() -> Trial {
    let mut compost = Treatment::of("yard_compost");
    compost.name = Some("Compost, “black”".into());
    compost.guess = Some(Guess {
        way: Way::More,
        by_pct: Some(30.0),
    });
    compost.predicted = vec![
        (Predicted::AirSpace, Figure::between(0.05, 0.08, 0.125)),
        (Predicted::Ph, Figure::exact(7.1)),
    ];
    let mut dug = Treatment::new(Deed::Dug);
    dug.copies = Some(2);
    let sand = Treatment::of("concrete_sand").at(Amount::new(3.0, Unit::Kilogram));
    let vessel = Vessel::Container {
        volume: Amount::new(9.5, Unit::Litre),
        height: Amount::new(25.0, Unit::Centimetre),
        empty: Some(Amount::new(400.0, Unit::Gram)),
        kept: Kept::new(),
    };
    let treatments = vec![
        Treatment::new(Deed::Untouched),
        dug,
        compost,
        sand,
        Treatment::new(Deed::Blend),
    ];
    let mut trial = Trial::new(treatments, vessel, u64::MAX);
    trial.id = "T7".into();
    trial.title = Some("Row by the wall".into());
    trial.dose = Some(Amount::new(2.0, Unit::Litre));
    trial.blocks = 5;
    trial.columns = Some(3);
    trial.site = Some(Site::OneWay);
    trial.blind = false;
    trial.crop = Some("radish".into());
    trial.variety = Some("Round red".into());
    trial.seeds = Some(20);
    trial.plants = Some(12);
    trial.primary = Some("root_fresh_g".into());
    trial.matters = Some(20.0);
    trial.said_matters = [("ph", 0.3, false), ("worms", 2.5, true)]
        .map(|(measure, value, late)| SaidMatters {
            measure: measure.into(),
            value,
            late,
        })
        .to_vec();
    trial.expected_cv_pct = Some(22.5);
    trial.start = Some(day(4, 6));
    trial.photo_days = vec![0, 7, 14, 28];
    trial.notes = Some("Slugs in the first week.\nThen none.".into());
    trial.own_measures.push(OwnMeasure {
        id: "worms".into(),
        name: Some("Earthworms".into()),
        unit: "each".into(),
        scale: Scale::Count,
        good: Good::More,
        matters: Some(3.0),
        error: Some(1.0),
        limits: (0.0, OWN_LIMITS.1),
        decimals: 0,
        kept: Kept::new(),
    });
    trial.lost.push(Lost {
        container: 4,
        reason: Missing::Died,
        of_addition: Some(true),
        on: Some(day(5, 1)),
        note: "wilted".into(),
        kept: Kept::new(),
    });
    let mut records = vec![
        Record::of(0, day(5, 4), "root_fresh_g", 118.0),
        Record::without(1, day(5, 4), "root_fresh_g", Missing::Animal),
        Record::of(3, day(5, 4), "root_fresh_g", 96.5),
        Record::of(20, day(5, 4), "root_fresh_g", 1e-3),
        Record::of(2, day(5, 6), "infiltration_min", 480.0),
        Record::of(2, day(5, 6), "infiltration_min", 2.0),
        Record::of(2, day(5, 6), "worms", 2.0),
    ];
    records[1].note = "slugs".into();
    records[4].censor = Censor::Above;
    records[5].censor = Censor::Below;
    records[5].reps = 3;
    records[6].instrument = "eyes".into();
    records[6].scorer = "AB".into();
    records[6].error = Some(0.5);
    trial.records = records;
    trial
}

#[test]
fn a_trial_goes_through_json_and_letters() {
    let mut recipe = bare();
    assert_eq!(trial_of(&recipe), Ok(None), "a recipe needs none");
    let trial = full();
    set_trial(&mut recipe, Some(&trial));
    assert_eq!(trial_of(&recipe), Ok(Some(trial.clone())), "as a tree");
    let again = Recipe::from_json(&recipe.to_json()).expect("what is written is read");
    assert_eq!(again, recipe, "JSON holds it");
    assert_eq!(
        trial_of(&again),
        Ok(Some(trial.clone())),
        "and the trial is the same"
    );
    let again = from_letters(&to_letters(&recipe)).expect("letters are read");
    assert_eq!(again, recipe, "letters hold it, digits and all");
    let again = from_link(&to_link(&recipe).expect("it is short")).expect("a link is read");
    assert_eq!(trial_of(&again), Ok(Some(trial)), "and links");
    set_trial(&mut recipe, None);
    assert_eq!(recipe, bare(), "no trial is no field");
    assert!(!recipe.to_json().contains("trial"), "nor in the file");
}

#[test]
fn the_least_is_a_trial() {
    let trial = trial_of(&with(&format!("{{{LEAST}}}"))).expect("it is right");
    let trial = trial.expect("there is one");
    assert_eq!(
        (trial.design, trial.blocks, trial.blind),
        (Design::Blocks, 4, true),
        "the usual rest"
    );
    let strip = r#"{"id":"a","seed":"0","strip":{"area":{"value":2,"unit":"m2"},"depth":{"value":20,"unit":"cm"}}}"#;
    let trial = trial_of(&with(strip))
        .expect("it is right")
        .expect("there is one");
    assert!(
        matches!(trial.vessel, Vessel::Strip { .. }),
        "a strip of bed"
    );
}

#[test]
fn outcomes_know_nothing_of_it() {
    let mut recipe = bare();
    let before = barrowmix::outcome::Outcome::of(&recipe).expect("it can be mixed");
    set_trial(&mut recipe, Some(&full()));
    let after = barrowmix::outcome::Outcome::of(&recipe).expect("it can be mixed");
    assert_eq!(
        before.pore_space_pct, after.pore_space_pct,
        "to the last bit"
    );
}

/// Containers by measures that a link must hold: what a home trial comes to.
#[test]
fn a_home_trial_fits_into_a_link() {
    let mut trial = full();
    trial.records.clear();
    for (at, measure) in [
        "emerged_count",
        "vigour_1to5",
        "height_cm",
        "root_fresh_g",
        "drained_ml",
        "infiltration_min",
    ]
    .iter()
    .enumerate()
    {
        for container in 0..30 {
            let value = ((container * 37 + at * 11) % 900 + 10) as f64 / 10.0;
            let value = if *measure == "vigour_1to5" {
                3.0
            } else {
                value.round()
            };
            let date = day(5, at as u32 + 1);
            trial
                .records
                .push(Record::of(container, date, *measure, value));
        }
    }
    let mut recipe = bare();
    set_trial(&mut recipe, Some(&trial));
    let link = to_link(&recipe).expect("a home trial fits");
    assert!(link.len() < 2500, "{} letters", link.len());
    // A large one goes into a file.
    trial.records.clear();
    let mut count = 0;
    for days in 0..10 {
        for measure in MEASURES.iter().take(5) {
            for container in 0..CONTAINERS_LIMIT {
                let date = day(4, 6).later(days).expect("a day");
                let value = measure.limits.0.max(1.0) + f64::from(count % 4);
                count += 1;
                trial
                    .records
                    .push(Record::of(container, date, measure.id, value));
            }
        }
    }
    assert_eq!(trial.records.len(), 10_000, "ten thousand");
    set_trial(&mut recipe, Some(&trial));
    let error = to_link(&recipe).expect_err("too much for a link");
    assert_eq!(
        error.fault,
        Fault::LinkTooLong { limit: LINK_LIMIT },
        "it is told"
    );
    let again = Recipe::from_json(&recipe.to_json()).expect("a file holds it");
    assert_eq!(trial_of(&again), Ok(Some(trial)), "all of it");
}

#[test]
fn a_bad_trial_is_told_with_its_place() {
    let sheet = |rest: &str| {
        format!(r#"{{{LEAST},"records":[{{"measure":"ph","date":"2026-05-04"{rest}}}]}}"#)
    };
    let least = |rest: &str| format!("{{{LEAST},{rest}}}");
    for (trial, path) in [
        ("7".to_owned(), "trial"),
        ("[]".to_owned(), "trial"),
        ("{}".to_owned(), "trial.id"),
        (r#"{"id":"T1"}"#.to_owned(), "trial.container"),
        (format!(r#"{{"id":"{}"}}"#, "x".repeat(21)), "trial.id"),
        (
            LEAST.replace(r#""seed":"1","#, "").replacen('"', "{\"", 1) + "}",
            "trial.seed",
        ),
        (least(r#""colour":1"#), "trial.colour"),
        (least(r#""strip":{}"#), "trial"),
        (least(r#""title":5"#), "trial.title"),
        (least(r#""design":"squares""#), "trial.design"),
        (least(r#""blocks":0"#), "trial.blocks"),
        (least(r#""blocks":2.5"#), "trial.blocks"),
        (least(r#""blocks":1e9"#), "trial.blocks"),
        (least(r#""site":"sunny""#), "trial.site"),
        (least(r#""blind":"yes""#), "trial.blind"),
        (least(r#""seeds":-1"#), "trial.seeds"),
        (least(r#""primary":"mood""#), "trial.primary"),
        (least(r#""matters":0"#), "trial.matters"),
        (least(r#""matters_of":3"#), "trial.matters_of"),
        (least(r#""matters_of":{"mood":3}"#), "trial.matters_of"),
        (least(r#""matters_of":{"ph":0}"#), "trial.matters_of"),
        (least(r#""matters_of":{"ph":"3"}"#), "trial.matters_of"),
        (
            least(r#""matters_of":{"ph":1},"matters_late":{"ph":2}"#),
            "trial.matters_late",
        ),
        (least(r#""expected_cv_pct":1000"#), "trial.expected_cv_pct"),
        (least(r#""start":"4.5.2026""#), "trial.start"),
        (least(r#""start":"2026-02-30""#), "trial.start"),
        (least(r#""photo_days":7"#), "trial.photo_days"),
        (least(r#""photo_days":[7,-1]"#), "trial.photo_days"),
        (least(r#""photo_days":[7.5]"#), "trial.photo_days"),
        (
            least(r#""dose":{"value":1,"unit":"part"}"#),
            "trial.dose.unit",
        ),
        (
            least(r#""dose":{"value":0,"unit":"L"}"#),
            "trial.dose.value",
        ),
        (least(r#""treatments":{}"#), "trial.treatments"),
        (least(r#""treatments":[{}]"#), "trial.treatments[0].is"),
        (
            least(r#""treatments":[{"is":"prayed"}]"#),
            "trial.treatments[0].is",
        ),
        (
            least(r#""treatments":[{"is":"addition"}]"#),
            "trial.treatments[0].material",
        ),
        (
            least(r#""treatments":[{"is":"dug","material":"sand"}]"#),
            "trial.treatments[0].material",
        ),
        (
            least(r#""treatments":[{"is":"dug","copies":9}]"#),
            "trial.treatments[0].copies",
        ),
        (
            least(r#""treatments":[{"is":"dug","guess":"much"}]"#),
            "trial.treatments[0].guess",
        ),
        (
            least(r#""treatments":[{"is":"dug","guess_pct":5}]"#),
            "trial.treatments[0].guess",
        ),
        (
            least(r#""treatments":[{"is":"dug","predicted":{"mood":1}}]"#),
            "trial.treatments[0].predicted",
        ),
        (
            least(r#""treatments":[{"is":"dug","predicted":{"ph":[3,2,1]}}]"#),
            "trial.treatments[0].predicted",
        ),
        (
            least(r#""treatments":[{"is":"dug","predicted":{"ph":[1,2]}}]"#),
            "trial.treatments[0].predicted",
        ),
        (
            least(r#""treatments":[{"is":"dug","predicted":{"ph":1,"ph":2}}]"#),
            "trial.treatments[0].predicted",
        ),
        (least(r#""measures":[{}]"#), "trial.measures[0].id"),
        (
            least(r#""measures":[{"id":"Worms!"}]"#),
            "trial.measures[0].id",
        ),
        (least(r#""measures":[{"id":"ph"}]"#), "trial.measures[0].id"),
        (
            least(r#""measures":[{"id":"a"},{"id":"a"}]"#),
            "trial.measures",
        ),
        (
            least(r#""measures":[{"id":"a","low":2,"high":1}]"#),
            "trial.measures[0].low",
        ),
        (
            least(r#""measures":[{"id":"a","decimals":7}]"#),
            "trial.measures[0].decimals",
        ),
        (least(r#""lost":[{}]"#), "trial.lost[0].container"),
        (
            least(r#""lost":[{"container":0,"reason":"lost"}]"#),
            "trial.lost[0].container",
        ),
        (
            least(r#""lost":[{"container":1,"reason":"bored"}]"#),
            "trial.lost[0].reason",
        ),
        (least(r#""records":[{}]"#), "trial.records[0].measure"),
        (sheet(""), "trial.records[0].values"),
        (sheet(r#","values":7"#), "trial.records[0].values"),
        (sheet(r#","values":[15]"#), "trial.records[0].values"),
        (sheet(r#","values":["7"]"#), "trial.records[0].values"),
        (sheet(r#","values":[">"]"#), "trial.records[0].values"),
        (sheet(r#","values":[true]"#), "trial.records[0].values"),
        (sheet(r#","from":0,"values":[7]"#), "trial.records[0].from"),
        (
            sheet(r#","from":200,"values":[7,7]"#),
            "trial.records[0].values",
        ),
        (sheet(r#","u":-1,"values":[7]"#), "trial.records[0].u"),
        (
            sheet(r#","values":[7],"more":[{"container":1,"missing":"lost"}]"#),
            "trial.records[0].more",
        ),
        (
            sheet(r#","values":[null],"more":[{"container":1}]"#),
            "trial.records[0].more",
        ),
        (
            sheet(r#","values":[7],"more":[{"container":2}]"#),
            "trial.records[0].more",
        ),
        (
            sheet(r#","values":[7],"more":[{"container":1,"reps":0}]"#),
            "trial.records[0].more[0].reps",
        ),
        (
            sheet(r#","values":[7],"colour":1"#),
            "trial.records[0].colour",
        ),
        (
            least(&format!(r#""notes":"{}""#, "x".repeat(NOTES_LETTERS + 1))),
            "trial.notes",
        ),
        (
            least(&format!(
                r#""treatments":[{}]"#,
                [r#"{"is":"dug"}"#; 13].join(",")
            )),
            "trial.treatments",
        ),
    ] {
        let error = wrong(&trial);
        assert_eq!(error.path.as_str(), path, "{trial}");
        let text = error_text(&error);
        assert!(
            text.starts_with(path) && text.len() > path.len() + 5,
            "{text}"
        );
    }
    let ten = LEAST.replace("\"1\"", "\"ten\"");
    let fault = wrong(&format!("{{{ten}}}")).fault;
    assert_eq!(fault, Fault::Kind(Kind::Whole), "a seed is digits");
    let large = LEAST.replace("\"1\"", "\"18446744073709551616\"");
    assert!(
        matches!(
            wrong(&format!("{{{large}}}")).fault,
            Fault::OutOfRange { .. }
        ),
        "with a limit"
    );
}

#[test]
fn fields_of_a_later_release_are_kept() {
    let later = format!(
        r#"{{{PLAIN},"made_by":"99.0.0","trial":{{"id":"T1","seed":"1","moon":"full",
        "container":{{"volume":{{"value":10,"unit":"L","as":"x"}},"height":{{"value":25,"unit":"cm"}},"lid":true}},
        "treatments":[{{"is":"dug","by":"fork"}}],
        "measures":[{{"id":"worms","scale":"count","good":"more","decimals":0,"deep":[1.50]}}],
        "lost":[{{"container":2,"reason":"other","found":false}}],
        "records":[{{"measure":"ph","date":"2026-05-04","values":[7,6.5],
            "more":[{{"container":2,"smell":"sour"}}],"light":{{"a":1}}}}]}}}}"#
    );
    let recipe = Recipe::from_json(&later).expect("a later release may know more");
    let trial = trial_of(&recipe)
        .expect("what is known is right")
        .expect("there is one");
    assert_eq!(trial.records.len(), 2, "both values");
    let mut written = recipe.clone();
    set_trial(&mut written, Some(&trial));
    let text = written.to_json();
    for word in [
        "moon", "as", "lid", "by", "deep", "1.50", "found", "smell", "light",
    ] {
        assert!(text.contains(word), "{word} in {text}");
    }
    assert_eq!(trial_of(&written), Ok(Some(trial)), "nothing is lost");
    let earlier = later.replace("99.0.0", "0.0.1");
    let recipe = Recipe::from_json(&earlier).expect("the page does not look into it");
    assert!(
        trial_of(&recipe).is_err(),
        "in an earlier one they are faults"
    );
}

fn any_record() -> impl Strategy<Value = Record> {
    let measure = prop::sample::select(vec!["root_fresh_g", "ph", "flag_cm", "worms"]);
    let value = prop_oneof![
        3 => (0.0..13.0_f64).prop_map(Ok),
        1 => prop::sample::select(Missing::ALL.to_vec()).prop_map(Err),
    ];
    let censor = prop::sample::select(vec![Censor::None, Censor::Above, Censor::Below]);
    let text = prop_oneof![Just(String::new()), "\\PC{0,6}"];
    (
        0..40_usize,
        0..3_i32,
        measure,
        value,
        censor,
        1..3_u32,
        text,
    )
        .prop_map(|(container, days, measure, value, censor, reps, note)| {
            let date = day(4, 6).later(days).expect("a day");
            let mut record = match value {
                Ok(value) => Record::of(container, date, measure, value),
                Err(missing) => Record::without(container, date, measure, missing),
            };
            if record.value.is_some() {
                record.censor = censor;
            }
            record.reps = reps;
            record.scorer = note.chars().take(2).collect();
            record.note = note;
            record
        })
}

fn any_tree() -> impl Strategy<Value = Tree> {
    let number = prop_oneof![
        any::<f64>()
            .prop_filter("a number", |value| value.is_finite())
            .prop_map(Tree::number),
        (0..300_i32).prop_map(|value| Tree::number(f64::from(value))),
    ];
    let word = prop::sample::select(vec![
        "T1",
        "1",
        "dug",
        "addition",
        "yard_compost",
        "L",
        "cm",
        "2026-05-04",
        "ph",
        ">7",
        "lost",
        "blocks",
        "latin",
        "more",
    ]);
    let leaf = prop_oneof![
        Just(Tree::Null),
        any::<bool>().prop_map(Tree::Bool),
        number,
        word.prop_map(Tree::text),
        "\\PC{0,5}".prop_map(Tree::text),
    ];
    let name = prop::sample::select(vec![
        "id",
        "seed",
        "container",
        "strip",
        "volume",
        "height",
        "value",
        "unit",
        "treatments",
        "is",
        "material",
        "dose",
        "records",
        "measure",
        "date",
        "values",
        "more",
        "lost",
        "reason",
        "from",
        "measures",
        "predicted",
        "photo_days",
        "u",
        "reps",
        "low",
        "high",
    ]);
    leaf.prop_recursive(4, 60, 8, move |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..5).prop_map(Tree::List),
            prop::collection::vec((name.clone().prop_map(str::to_owned), inner), 0..8)
                .prop_map(Tree::Object),
        ]
    })
}

proptest! {
    #[test]
    fn records_in_any_order_come_back(records in prop::collection::vec(any_record(), 0..60)) {
        let mut trial = full();
        trial.records = records;
        let mut recipe = bare();
        set_trial(&mut recipe, Some(&trial));
        let json = Recipe::from_json(&recipe.to_json()).expect("what is written is read");
        let read = trial_of(&json);
        prop_assert_eq!(read, Ok(Some(trial.clone())));
        let letters = from_letters(&to_letters(&recipe)).expect("letters are read");
        prop_assert_eq!(trial_of(&letters), Ok(Some(trial)));
    }

    #[test]
    fn any_tree_is_a_trial_or_a_fault(tree in any_tree()) {
        let mut recipe = bare();
        recipe.trial = Some(tree.clone());
        match trial_of(&recipe) {
            Ok(None) => prop_assert!(false, "there is a tree"),
            Ok(Some(trial)) => {
                set_trial(&mut recipe, Some(&trial));
                let again = trial_of(&recipe);
                prop_assert_eq!(again, Ok(Some(trial)));
            }
            Err(error) => prop_assert!(error.path.as_str().starts_with("trial"), "{:?}", error),
        }
        let again = Recipe::from_json(&recipe.to_json());
        prop_assert!(again.is_ok(), "the page keeps whatever it is");
    }

    #[test]
    fn a_field_that_is_another_thing_is_a_fault_or_a_trial(
        tree in any_tree(), at in any::<prop::sample::Index>(), depth in 0..3_usize,
    ) {
        let mut recipe = bare();
        set_trial(&mut recipe, Some(&full()));
        // One field of a good trial, at some depth, is replaced.
        let mut path = Vec::new();
        let mut known = recipe.trial.clone().expect("there is one");
        for _ in 0..=depth {
            known = match known {
                Tree::Object(mut pairs) if !pairs.is_empty() => {
                    path.push(at.index(pairs.len()));
                    pairs.swap_remove(at.index(pairs.len())).1
                }
                Tree::List(mut items) if !items.is_empty() => {
                    path.push(at.index(items.len()));
                    items.swap_remove(at.index(items.len()))
                }
                _ => break,
            };
        }
        let mut place = recipe.trial.as_mut().expect("there is one");
        for index in path {
            place = match place {
                Tree::Object(pairs) => &mut pairs[index].1,
                Tree::List(items) => &mut items[index],
                _ => return Ok(()),
            };
        }
        *place = tree;
        if let Ok(Some(trial)) = trial_of(&recipe) {
            set_trial(&mut recipe, Some(&trial));
            let again = trial_of(&recipe);
            prop_assert_eq!(again, Ok(Some(trial)));
        }
    }
}

#[test]
fn numbers_are_kept_to_the_last_bit() {
    for text in ["0.1", "1e-300", "123456789.123456789", "5e-324"] {
        let trial = format!(
            r#"{{{LEAST},"measures":[{{"id":"a"}}],"records":[{{"measure":"a","date":"2026-05-04","values":[{text}]}}]}}"#
        );
        let read = trial_of(&with(&trial))
            .expect("it is right")
            .expect("there is one");
        assert_eq!(read.records[0].value, Some(number_of_text(text)), "{text}");
    }
}
