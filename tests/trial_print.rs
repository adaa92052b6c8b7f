#![cfg(not(target_arch = "wasm32"))]
//! What of a trial is printed: every container on every sheet, and nothing that gives the key away.

use barrowmix::picture::{
    Picture, trial_picture, trial_plan_picture, trial_report_picture, trial_shown_picture,
    trial_small_plan_picture,
};
use barrowmix::recipe::{Recipe, to_letters};
use barrowmix::trial::date::Date;
use barrowmix::trial::document::{set_trial, trial_of};
use barrowmix::trial::limits::Limits;
use barrowmix::trial::plan::Treatment;
use barrowmix::trial::records::Record;
use barrowmix::words::METRIC;
use barrowmix::words::trial::print::sheets;
use barrowmix::words::trial::report::{primary, read_measures, report};

const INVENTED: &str = include_str!("../examples/recipes/trial-invented.json");
const MARKUP: &str = "<script>1</script>&\"";

#[test]
fn every_container_is_on_every_sheet() {
    let recipe = Recipe::from_json(INVENTED).expect("it reads");
    let trial = trial_of(&recipe).expect("it reads").expect("a trial");
    let layout = trial.layout().expect("it is set out");
    let doses = trial.doses(&recipe).expect("it is a plan");
    let told = sheets(
        &trial,
        &recipe,
        &layout,
        &doses,
        Some("top_fresh_g"),
        METRIC,
    );
    let mut walked: Vec<&str> = told
        .record
        .table
        .rows
        .iter()
        .map(|row| row[2].as_str())
        .collect();
    walked.sort_unstable();
    let mut labelled: Vec<&str> = told
        .labels
        .iter()
        .map(|label| label.code.as_str())
        .collect();
    labelled.sort_unstable();
    let weighed: Vec<&str> = told.weigh.rows.iter().map(|row| row[0].as_str()).collect();
    assert_eq!(walked, labelled, "a line for each label");
    assert_eq!(weighed, labelled, "and a weight");
    assert_eq!(labelled.len(), 20, "all of them");
    assert!(
        told.record.foot[0].starts_with("19 "),
        "one is lost: {:?}",
        told.record.foot
    );
    let said = format!("{:?} {:?} {:?}", told.record, told.labels, told.layout);
    for name in ["compost", "sand", "Untouched", "blend"] {
        assert!(!said.contains(name), "{name} in {said}");
    }
}

#[test]
fn a_report_tells_what_it_does_not_show() {
    let recipe = Recipe::from_json(INVENTED).expect("it reads");
    let mut trial = trial_of(&recipe).expect("it reads").expect("a trial");
    trial.title = Some(MARKUP.into());
    let layout = trial.layout().expect("it is set out");
    let read = read_measures(&trial, &layout, &mut Limits::default());
    let told = report(&trial, &recipe, &layout, None, &read, METRIC);
    assert!(told.measures[0].is_primary, "what decides comes first");
    assert!(
        told.not
            .iter()
            .any(|text| text.contains("containers are not beds")),
        "{:?}",
        told.not
    );
    assert!(told.made.contains("invented"), "{}", told.made);
    let picture = trial_report_picture(&trial, &recipe, &layout, &told, primary(&trial, &read));
    let document = roxmltree::Document::parse(&picture.svg).expect("another program reads it");
    assert!(!picture.svg.contains("<script"), "markup stays text");
    assert!(
        document
            .descendants()
            .any(|node| node.text() == Some(MARKUP)),
        "as it was typed"
    );
    for head in [
        "What was compared",
        "What it does not show",
        "Expected beside what happened",
    ] {
        assert!(picture.svg.contains(head), "{head} stands in the picture");
    }
    let dots = document
        .descendants()
        .filter(|node| node.tag_name().name() == "circle" && node.attribute("r") == Some("3.2"));
    let count = read[0].seen.count();
    assert_eq!(
        dots.count(),
        count,
        "a dot for every container that was read"
    );
    let planned = trial_picture(&trial, &recipe, &layout);
    assert!(
        !planned.svg.contains("compost"),
        "letters hide until something is read"
    );
}

#[test]
fn records_in_any_order_make_one_short_link() {
    let recipe = Recipe::from_json(INVENTED).expect("it reads");
    let mut trial = trial_of(&recipe).expect("it reads").expect("a trial");
    trial.records.clear();
    trial.lost.clear();
    let layout = trial.layout().expect("it is set out");
    let day = Date::of(2026, 7, 1).expect("a day");
    let link = |order: &[usize]| {
        let mut trial = trial.clone();
        for at in order {
            for (measure, value) in [("top_fresh_g", 200.0), ("emerged_count", 6.0)] {
                let record = Record::of(*at, day, measure, value + *at as f64 % 3.0);
                trial.enter(layout.spots.len(), record).expect("it goes in");
            }
        }
        let mut recipe = recipe.clone();
        set_trial(&mut recipe, Some(&trial));
        to_letters(&recipe)
    };
    let in_order: Vec<usize> = (0..layout.spots.len()).collect();
    let walked = layout.walk();
    assert_ne!(in_order, walked, "a walk goes back along every second row");
    assert_eq!(link(&walked), link(&in_order), "by thumb or by table");
}

/// The smallest letters of a drawing that is printed so wide, pt.
fn least_points(picture: &Picture, printed_mm: f64) -> f64 {
    let document = roxmltree::Document::parse(&picture.svg).expect("it reads");
    let mut least = f64::INFINITY;
    for text in document
        .descendants()
        .filter(|node| node.has_tag_name("text"))
    {
        let size = text
            .ancestors()
            .find_map(|node| node.attribute("font-size"))
            .and_then(|size| size.parse::<f64>().ok())
            .expect("a size");
        let scale: f64 = text
            .ancestors()
            .filter_map(|node| {
                let (_, scale) = node.attribute("transform")?.split_once("scale(")?;
                scale.trim_end_matches(')').parse::<f64>().ok()
            })
            .product();
        least = least.min(size * scale);
    }
    least * printed_mm / picture.size[0] / 25.4 * 72.0
}

#[test]
fn drawings_on_paper_are_read_without_a_glass() {
    // A4 without its margins; what stands beside a table has half of it.
    const WHOLE_MM: f64 = 188.0;
    const HALF_MM: f64 = 91.5;
    let recipe = Recipe::from_json(INVENTED).expect("it reads");
    let trial = trial_of(&recipe).expect("it reads").expect("a trial");
    let layout = trial.layout().expect("it is set out");
    let read = read_measures(&trial, &layout, &mut Limits::default());
    let shown = trial_shown_picture(&trial, &recipe, &read[0]);
    let points = least_points(&shown, WHOLE_MM);
    assert!(points >= 7.0, "what was read: {points} pt");
    for (treatments, blocks) in [(2, 2), (5, 4), (5, 8), (12, 3), (4, 12), (12, 16)] {
        let mut trial = trial.clone();
        trial.records.clear();
        trial.lost.clear();
        trial.treatments.truncate(1);
        let more = (1..treatments).map(|_| Treatment::of("gypsum"));
        trial.treatments.extend(more);
        trial.blocks = blocks;
        let layout = trial.layout().expect("it is set out");
        let whole = trial_plan_picture(&trial, &recipe, &layout, true);
        let points = least_points(&whole, WHOLE_MM);
        assert!(points >= 7.0, "{treatments} in {blocks}: {points} pt");
        if let Some(small) = trial_small_plan_picture(&trial, &recipe, &layout) {
            let points = least_points(&small, HALF_MM);
            assert!(
                points >= 7.0,
                "{treatments} in {blocks}, small: {points} pt"
            );
            assert!(
                small.size[1] <= 0.75 * small.size[0],
                "{treatments} in {blocks}"
            );
        }
    }
}
