//! What Plan, Lay out and Record say beside their boxes.

use barrowmix::tongue::{Language, speak};
use barrowmix::trial::date::Date;
use barrowmix::trial::layout::{Design, Layout, Wanted};
use barrowmix::words::Typed;
use barrowmix::words::date::{date_text, set_dates};
use barrowmix::words::trial::page_plan::{odd_day_text, order_text, sown_late_text};
use barrowmix::words::trial::page_record::{
    Filled, between_text, filled_text, lost_told, typed_text,
};

fn day(month: u32, day: u32) -> Date {
    Date::of(2026, month, day).expect("a day")
}

#[test]
fn limits_are_told_as_people_write_them() {
    assert_eq!(
        between_text(1e-9, 1e6, "L"),
        "More than 0, at most 1,000,000 L",
        "no 0.000000001"
    );
    assert_eq!(
        between_text(0.01, 1e5, "L"),
        "From 0.01 to 100,000 L",
        "of a container"
    );
    assert_eq!(between_text(0.0, 100.0, "%"), "From 0 to 100 %", "a share");
    assert_eq!(between_text(1.0, 8.0, ""), "From 1 to 8", "no unit");
    // A limit in another unit is rounded: 1 cm and 3 m in inches.
    assert_eq!(
        between_text(0.393_700_787, 118.110_236, "in"),
        "From 0.394 to 118 in",
        "inches"
    );
    let asked = typed_text(Typed::Comma, 0.0, 10.0, "g");
    assert!(
        asked.contains("1234") && asked.contains("1.234"),
        "both that it could be: {asked}"
    );
}

#[test]
fn what_is_left_to_measure_is_not_lost() {
    let filled = Filled {
        read: 6,
        reasons: 0,
        lost: 0,
        of: 16,
    };
    assert_eq!(
        filled_text(&filled, Some(day(5, 4)), Some(day(5, 4))),
        "2026-05-04: 6 of 16 measured, 10 not measured yet.",
        "none is lost"
    );
    let filled = Filled {
        read: 12,
        reasons: 1,
        lost: 2,
        of: 16,
    };
    assert_eq!(
        filled_text(&filled, Some(day(5, 4)), Some(day(5, 4))),
        "2026-05-04: 12 of 16 measured, 1 with a reason why not, 2 lost, 1 not measured yet.",
        "each by itself"
    );
    // Another day than that of the records: nobody is to think that they are gone.
    let none = Filled {
        of: 16,
        ..Filled::default()
    };
    let text = filled_text(&none, Some(day(6, 1)), Some(day(5, 4)));
    assert!(
        text.ends_with("What was measured before is kept, the last on 2026-05-04."),
        "{text}"
    );
    assert_eq!(
        lost_told("B1-02", 0),
        "B1-02 counts as lost.",
        "nothing read"
    );
    assert!(
        lost_told("B1-02", 3).contains("3 values of it are taken out"),
        "what is gone is told"
    );
}

#[test]
fn the_order_is_told_by_numbers() {
    let wanted = Wanted {
        design: Design::Blocks,
        copies: vec![1; 5],
        blocks: 4,
        seed: 20_260_401,
        columns: None,
    };
    let layout = Layout::of(&wanted).expect("a layout");
    // ADBCE BDCAE ECDBA ADBEC, as the vector of this seed is published.
    assert!(
        order_text(&layout).ends_with("1 4 2 3 5; 2 4 3 1 5; 5 3 4 2 1; 1 4 2 5 3."),
        "{}",
        order_text(&layout)
    );
}

#[test]
fn days_that_can_hardly_be_meant_are_told() {
    let (today, sown) = (Some(day(5, 4)), Some(day(4, 6)));
    assert_eq!(odd_day_text(day(5, 4), today, sown), "", "today");
    assert!(
        odd_day_text(day(5, 5), today, sown).contains("still to come"),
        "tomorrow"
    );
    assert!(
        odd_day_text(day(4, 5), today, sown).contains("2026-04-06"),
        "before the sowing"
    );
    assert!(
        sown_late_text(day(5, 4)).contains("2026-05-04"),
        "the first record"
    );
}

#[test]
fn days_are_told_in_the_language() {
    let day = |text| Date::of_iso(text).expect("a day");
    assert_eq!(date_text(day("2026-05-04")), "2026-05-04", "2026-05-04");
    speak(Language::Spanish);
    assert_eq!(
        date_text(day("2026-05-04")),
        "4 de mayo de 2026",
        "2026-05-04"
    );
    assert_eq!(
        date_text(day("2026-12-31")),
        "31 de diciembre de 2026",
        "2026-12-31"
    );
    speak(Language::French);
    assert_eq!(date_text(day("2026-05-04")), "4 mai 2026", "2026-05-04");
    assert_eq!(
        date_text(day("2026-01-01")),
        "1er janvier 2026",
        "2026-01-01"
    );
    speak(Language::English);
}

#[test]
fn lent_patterns_win() {
    let months = std::array::from_fn(|at| format!("{{1}}/{}/{{0}}", at + 1));
    set_dates(Some(months));
    let day = Date::of(2026, 5, 4).expect("a day");
    assert_eq!(date_text(day), "2026/5/4", "a day in May");
    set_dates(None);
    assert_eq!(date_text(day), "2026-05-04", "a day in May");
}
