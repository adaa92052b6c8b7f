#![cfg(not(target_arch = "wasm32"))]
//! What is said of a plan, of days and of lost containers before anything false is read from them.

use barrowmix::quantity::Unit;
use barrowmix::recipe::{Amount, Kept, Recipe};
use barrowmix::trial::analysis::{Limits, Note};
use barrowmix::trial::date::Date;
use barrowmix::trial::doses::{PlanAdvice, height_limits, volume_limits};
use barrowmix::trial::layout::{Design, Layout, LayoutAdvice, TREATMENTS, advice};
use barrowmix::trial::measures::{Good, OWN_LIMITS, OwnMeasure, Scale};
use barrowmix::trial::plan::{DayAdvice, Deed, Treatment, Trial, Vessel};
use barrowmix::trial::readings::When;
use barrowmix::trial::records::{Lost, Missing, Record, RecordFault};
use barrowmix::trial::seen::Seen;
use barrowmix::trial::table::container_table;
use barrowmix::words::trial::entry::{OwnMeasureFault, check_own_measure, own_measure_fault_text};
use barrowmix::words::trial::page_plan::count_text;
use barrowmix::words::trial::plan::{layout_advice_text, most_treatments_text, plan_advice_text};
use barrowmix::words::trial::records::{day_advice_text, record_fault_text};
use barrowmix::words::trial::section::limits_text;

fn base() -> Recipe {
    Recipe::from_json(
        r#"{"barrowmix":1,"ground":{"sand_pct":20,"silt_pct":25,"clay_pct":55},
        "soil":{"value":40,"unit":"L"}}"#,
    )
    .expect("a recipe")
}

fn trial(deeds: &[Deed]) -> Trial {
    let vessel = Vessel::Container {
        volume: Amount::new(10.0, Unit::Litre),
        height: Amount::new(24.0, Unit::Centimetre),
        empty: None,
        kept: Kept::new(),
    };
    let mut treatments: Vec<Treatment> = deeds.iter().cloned().map(Treatment::new).collect();
    for id in ["yard_compost", "concrete_sand", "gypsum"] {
        treatments.push(Treatment::of(id));
    }
    let mut trial = Trial::new(treatments, vessel, 7);
    trial.dose = Some(Amount::new(2.0, Unit::Litre));
    trial
}

fn layout(trial: &Trial) -> Layout {
    trial.layout().expect("it can be set out")
}

fn day(month: u32, day: u32) -> Date {
    Date::of(2026, month, day).expect("a day")
}

#[test]
fn without_a_control_nothing_can_be_found() {
    let none = trial(&[]);
    assert!(none.power_plan().is_none(), "nothing is compared");
    let text = count_text(&none, &layout(&none));
    assert!(text.contains("no control among them"), "{text}");
    let one = trial(&[Deed::Dug]);
    let plan = one.power_plan().expect("a plan");
    assert_eq!((plan.treatments, plan.each), (3, 4), "three additions");
    let text = count_text(&one, &layout(&one));
    assert!(
        text.contains("4 treatments, one of them the control"),
        "{text}"
    );
    let mut alone = trial(&[Deed::Dug]);
    alone.treatments.truncate(1);
    assert!(alone.power_plan().is_none(), "a control alone");
}

#[test]
fn ground_that_was_not_dug_is_no_control_of_an_addition() {
    let said = |deeds: &[Deed]| {
        let trial = trial(deeds);
        let doses = trial.doses(&base()).expect("a plan");
        trial.plan_advice(&doses)
    };
    assert!(
        said(&[Deed::Untouched]).contains(&PlanAdvice::OnlyUntouched),
        "digging is in each difference"
    );
    assert!(!said(&[Deed::Dug]).contains(&PlanAdvice::OnlyUntouched));
    assert!(!said(&[Deed::Untouched, Deed::Dug]).contains(&PlanAdvice::OnlyUntouched));
    let text = plan_advice_text(PlanAdvice::OnlyUntouched, &trial(&[]), &base());
    assert!(
        text.contains("digging") && text.contains("Dug, nothing added"),
        "{text}"
    );
}

#[test]
fn squares_that_are_too_small_or_too_large_are_told() {
    let mut three = trial(&[Deed::Dug]);
    three.treatments.truncate(3);
    three.design = Design::Latin;
    let said = advice(&three.wanted(), None);
    assert!(said.contains(&LayoutAdvice::LatinOfThree), "{said:?}");
    let mut ten = trial(&[Deed::Dug]);
    for dose in 0..6 {
        let dose = Amount::new(0.5 + f64::from(dose), Unit::Litre);
        ten.treatments.push(Treatment::of("biochar").at(dose));
    }
    ten.design = Design::Latin;
    assert_eq!(ten.treatments.len(), 10, "ten rows and columns");
    let said = advice(&ten.wanted(), None);
    let large = LayoutAdvice::LargeSquare { most: 6 };
    assert!(said.contains(&large), "{said:?}");
    assert!(layout_advice_text(large).contains("fewer treatments"));
    while ten.has_room() {
        ten.treatments.push(Treatment::of("gypsum"));
    }
    assert_eq!(ten.treatments.len(), TREATMENTS.1, "no more than these");
    assert!(most_treatments_text().contains("at most 12 treatments"));
}

#[test]
fn odd_days_are_told() {
    let mut trial = trial(&[Deed::Dug]);
    trial.start = Some(day(4, 6));
    assert_eq!(trial.day_advice(day(5, 4), Some(day(5, 4))), None, "usual");
    let before = trial.day_advice(day(4, 1), None);
    assert_eq!(before, Some(DayAdvice::BeforeSowing { days: 5 }));
    let far = Date::of(2099, 12, 31).expect("a day");
    assert!(
        matches!(
            trial.day_advice(far, None),
            Some(DayAdvice::LongAfter { .. })
        ),
        "without a clock"
    );
    assert_eq!(
        trial.day_advice(day(5, 5), Some(day(5, 4))),
        Some(DayAdvice::ToCome),
        "tomorrow"
    );
    assert_eq!(trial.start_advice(day(12, 1)), None, "nothing is measured");
    trial
        .records
        .push(Record::of(0, day(5, 4), "root_fresh_g", 10.0));
    let first = day(5, 4);
    assert_eq!(
        trial.start_advice(day(6, 1)),
        Some(DayAdvice::SownAfter { first })
    );
    // In the plan it is told without asking.
    trial.start = Some(day(6, 1));
    let doses = trial.doses(&base()).expect("a plan");
    let said = trial.plan_advice(&doses);
    let odd = PlanAdvice::Day(DayAdvice::SownAfter { first });
    assert!(said.contains(&odd), "{said:?}");
    trial.start = Some(Date::of(2020, 4, 1).expect("a day"));
    let said: Vec<String> = trial
        .plan_advice(&doses)
        .into_iter()
        .map(|advice| plan_advice_text(advice, &trial, &base()))
        .collect();
    assert!(
        said.iter().any(|text| text.contains("is its year right")),
        "{said:?}"
    );
    let text = day_advice_text(DayAdvice::SownAfter { first });
    assert!(text.contains("2026-05-04"), "{text}");
    assert_eq!(
        day_advice_text(DayAdvice::BeforeSowing { days: 1 }),
        "This is 1 day before the day of sowing."
    );
}

#[test]
fn a_lost_container_with_a_value_is_one_thing() {
    let mut trial = trial(&[Deed::Dug]);
    let layout = layout(&trial);
    let containers = layout.spots.len();
    for at in 0..containers {
        let value = 100.0 + at as f64;
        trial
            .add(containers, Record::of(at, day(5, 4), "root_fresh_g", value))
            .expect("it goes in");
    }
    trial.lost.push(Lost {
        container: 2,
        reason: Missing::Animal,
        of_addition: None,
        on: Some(day(5, 4)),
        note: String::new(),
        kept: Kept::new(),
    });
    // It was there when it was read: the value counts, and nobody calls it lost.
    let seen = Seen::of(&trial, &layout, "root_fresh_g", When::Usual).expect("a measure");
    assert_eq!(seen.readings[2].value, 102.0, "it was read");
    assert!(seen.unasked.is_empty(), "{:?}", seen.unasked);
    let analysis = seen.analysed(&mut Limits::default()).expect("it reads");
    assert!(
        !analysis
            .notes
            .iter()
            .any(|note| matches!(note, Note::Lost(_))),
        "{:?}",
        analysis.notes
    );
    // A value of a later day contradicts the loss.
    let later = Record::of(2, day(5, 9), "top_fresh_g", 50.0);
    let fault = RecordFault::Lost { on: day(5, 4) };
    assert_eq!(trial.enter(containers, later.clone()), Err(fault.clone()));
    let text = record_fault_text(&fault);
    assert!(text.contains("lost on 2026-05-04"), "{text}");
    let gone = Record::without(2, day(5, 9), "top_fresh_g", Missing::Animal);
    trial.enter(containers, gone).expect("a reason can stand");
    // What died of the addition yielded what it yielded.
    trial.lost[0].of_addition = Some(true);
    trial
        .enter(containers, later)
        .expect("what it yielded is a result");
}

#[test]
fn computed_masses_have_no_more_figures_than_they_bear() {
    let trial = trial(&[Deed::Dug]);
    let layout = layout(&trial);
    let doses = trial.doses(&base()).expect("a plan");
    let text = container_table(&trial, &layout, &doses);
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    for row in reader.records() {
        let row = row.expect("a row");
        assert_eq!((&row[10], &row[11]), ("10", "24"), "as they were told");
        for cell in [&row[12], &row[14], &row[15]] {
            let digits = cell.bytes().filter(u8::is_ascii_digit);
            let digits: Vec<u8> = digits.skip_while(|digit| *digit == b'0').collect();
            assert!(digits.len() <= 4, "{cell} in {row:?}");
        }
        // What is in a container weighs what was computed, to these figures.
        let of = layout.spots[reader_row(&row, &layout)].treatment;
        let kg: f64 = row[12].parse().expect("a mass");
        let computed = doses.each[of].ground_moist_kg;
        assert!((kg / computed - 1.0).abs() < 1e-3, "{kg} of {computed}");
    }
}

fn reader_row(row: &csv::StringRecord, layout: &Layout) -> usize {
    layout.container_of(&row[1]).expect("a container")
}

#[test]
fn limits_are_said_as_people_say_them() {
    assert_eq!(
        limits_text((1e-6, 1e6), "L"),
        "It must be more than 0 and at most 1,000,000 L."
    );
    assert_eq!(
        limits_text((1.0, 300.0), "cm"),
        "It must be from 1 to 300 cm."
    );
    // A litre is a thousandth of a cubic metre, an inch 2.54 cm.
    let (low, high) = volume_limits(Unit::Litre);
    assert!((low - 0.01).abs() < 1e-12 && (high - 100_000.0).abs() < 1e-6);
    let (low, high) = height_limits(Unit::Inch);
    assert!((low - 1.0 / 2.54).abs() < 1e-9 && (high - 300.0 / 2.54).abs() < 1e-9);
}

#[test]
fn own_measures_that_cannot_be_are_told() {
    let mut trial = trial(&[Deed::Dug]);
    let own = |name: &str, id: &str| OwnMeasure {
        id: id.into(),
        name: Some(name.into()),
        unit: String::new(),
        scale: Scale::Raw,
        good: Good::More,
        matters: None,
        error: None,
        limits: OWN_LIMITS,
        decimals: 1,
        kept: Kept::new(),
    };
    assert_eq!(check_own_measure(&trial, &own("Worms", "worms")), Ok(()));
    let long = own(&"w".repeat(300), "w");
    assert_eq!(
        check_own_measure(&trial, &long),
        Err(OwnMeasureFault::LongName { most: 120 })
    );
    let text = own_measure_fault_text(OwnMeasureFault::LongName { most: 120 });
    assert!(text.contains("more than 120 letters"), "{text}");
    let mut unit = own("Worms", "worms");
    unit.unit = "per".repeat(10);
    assert_eq!(
        check_own_measure(&trial, &unit),
        Err(OwnMeasureFault::LongUnit { most: 20 })
    );
    let mut matters = own("Worms", "worms");
    matters.matters = Some(-1.0);
    assert_eq!(
        check_own_measure(&trial, &matters),
        Err(OwnMeasureFault::Matters)
    );
    assert_eq!(
        check_own_measure(&trial, &own("pH", "ph")),
        Err(OwnMeasureFault::Taken)
    );
    // What passes can be saved and read.
    trial.own_measures.push(own(&"w".repeat(120), "worms"));
    let mut recipe = base();
    barrowmix::trial::document::set_trial(&mut recipe, Some(&trial));
    let again = barrowmix::trial::document::trial_of(&recipe);
    assert_eq!(again, Ok(Some(trial)), "whole");
}
