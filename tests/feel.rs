#![cfg(not(target_arch = "wasm32"))]
//! Texture by feel: every way through the questions.

mod support;

use barrowmix::ground::feel::{Answer, Feel, Question};
use barrowmix::texture::Class;
use barrowmix::words;
use support::dice::Dice;
use support::{class_of_code, table};

const ALL: [Answer; 13] = [
    Answer::Holds,
    Answer::TooWet,
    Answer::TooDry,
    Answer::FallsApart,
    Answer::Done,
    Answer::RibbonForms,
    Answer::NoRibbon,
    Answer::Short,
    Answer::Medium,
    Answer::Long,
    Answer::Gritty,
    Answer::Smooth,
    Answer::Between,
];

/// An answer of the table; none for an empty cell.
fn answer(cell: &str) -> Option<Answer> {
    Some(match cell {
        "" => return None,
        "holds" => Answer::Holds,
        "falls_apart" => Answer::FallsApart,
        "forms" => Answer::RibbonForms,
        "none" => Answer::NoRibbon,
        "short" => Answer::Short,
        "medium" => Answer::Medium,
        "long" => Answer::Long,
        "gritty" => Answer::Gritty,
        "smooth" => Answer::Smooth,
        "between" => Answer::Between,
        other => panic!("no answer {other:?}"),
    })
}

/// Walks all answers, advice at most once; calls for every end.
fn walk(feel: &Feel, advised: bool, found: &mut Vec<Class>) {
    let Some(question) = feel.question() else {
        assert!(feel.answers().is_empty(), "nothing is left to answer");
        found.push(feel.result().expect("an end has a class"));
        return;
    };
    assert_eq!(feel.result(), None, "{question:?} is still open");
    assert!(
        !words::feel_question_text(question).is_empty(),
        "{question:?}"
    );
    for answer in feel.answers() {
        assert!(!words::feel_answer_text(*answer).is_empty(), "{answer:?}");
        let next = feel.answer(*answer);
        assert_eq!(&next.back(), feel, "back undoes {answer:?}");
        let is_advice = matches!(
            next.question(),
            Some(Question::AddSoil | Question::AddWater)
        );
        if is_advice && !advised {
            let again = next.answer(Answer::Done);
            assert_eq!(again.question(), Some(Question::Ball), "after advice");
            walk(&again, true, found);
        } else if !is_advice {
            walk(&next, advised, found);
        }
    }
    // What is not an answer of the question changes nothing.
    for other in ALL {
        if !feel.answers().contains(&other) {
            assert_eq!(&feel.answer(other), feel, "{question:?} {other:?}");
        }
    }
}

#[test]
fn the_ways_lead_where_they_are_printed_to() {
    for row in table("feel_classes", 11) {
        let mut feel = Feel::start();
        for cell in ["ball", "ribbon", "length", "feel"] {
            if let Some(answer) = answer(row.text(cell)) {
                assert!(feel.answers().contains(&answer), "{answer:?} is asked for");
                feel = feel.answer(answer);
            }
        }
        assert_eq!(feel.result(), Some(class_of_code(row.text("class_code"))));
    }
}

#[test]
fn every_class_but_silt_is_reached_and_back_undoes() {
    let mut found = Vec::new();
    walk(&Feel::start(), false, &mut found);
    // Eleven straight, and eleven after each of the two advices.
    assert_eq!(found.len(), 33);
    for class in Class::ALL {
        let times = found.iter().filter(|other| *other == class).count();
        assert_eq!(
            times,
            if *class == Class::Silt { 0 } else { 3 },
            "{class:?}"
        );
        assert!(words::feel_result_text(*class).contains(words::class_name(*class)));
    }
    assert_eq!(Feel::start().back(), Feel::start());
}

#[test]
fn any_row_of_answers_can_be_undone() {
    let mut dice = Dice::new(71);
    for _ in 0..500 {
        let mut feel = Feel::start();
        let mut before = Vec::new();
        for _ in 0..dice.below(30) {
            let next = feel.answer(*dice.pick(&ALL));
            if next != feel {
                before.push(feel);
            }
            feel = next;
            assert_eq!(feel.question().is_some(), feel.result().is_none());
        }
        while let Some(expected) = before.pop() {
            feel = feel.back();
            assert_eq!(feel, expected);
        }
        assert_eq!(feel, Feel::start());
    }
}
