//! The sentences as data: what the page is lent must be what the program holds, line for line.

use barrowmix::recipe::link_words;
use barrowmix::words::{Text, lines};

#[test]
fn every_text_is_one_line() {
    let lent = lines();
    let mut count = 0;
    for (text, line) in Text::all().zip(lent.split('\n')) {
        assert!(!text.text().contains(['\n', '\r']), "{:?}", text.text());
        assert_eq!(text.text(), line);
        count += 1;
    }
    assert_eq!(Text::all().count(), count, "a line is missing");
    assert_eq!(lent.split('\n').count(), count, "a line is left over");
}

#[test]
fn what_is_told_fills_the_gaps_in_order() {
    assert_eq!(
        Text::FaultNotFinite.with(&["1", "2"]),
        "expected a number from 1 to 2"
    );
    // What is told is never searched for gaps.
    assert_eq!(
        Text::FaultNotFinite.with(&["{}", "2"]),
        "expected a number from {} to 2"
    );
    assert_eq!(Text::TypedComma.with(&["x"]), Text::TypedComma.text());
}

#[test]
fn no_gap_is_left() {
    for text in Text::all() {
        let gaps = text.text().matches("{}").count();
        let told = vec!["told"; gaps];
        let filled = text.with(&told);
        assert!(!filled.contains("{}"), "{filled}");
        assert_eq!(filled, text.text().replace("{}", "told"));
    }
}

#[test]
fn texts_of_a_kind_stand_in_a_row() {
    use barrowmix::material::Group;
    use barrowmix::quantity::Unit;
    use barrowmix::texture::Class;
    use barrowmix::words::{class_lines, class_name, group_name, unit_name};
    for class in Class::ALL.iter().copied() {
        assert_eq!(class_name(class), class.id().replace('_', " "));
        let lines = match class_lines(class) {
            (first, Some(second)) => [first, " ", second].concat(),
            (only, None) => only.to_owned(),
        };
        assert_eq!(lines, class_name(class));
    }
    assert_eq!(group_name(Group::Sand), "Sand");
    assert_eq!(group_name(Group::BarkWoodStraw), "Bark, wood and straw");
    assert_eq!(group_name(Group::Liquid), "Liquids");
    for (unit, name) in [
        (Unit::Gram, "g"),
        (Unit::TonUs, "US tons"),
        (Unit::CubicMetre, "m³"),
        (Unit::Cup, "cups"),
        (Unit::Foot, "ft deep"),
        (Unit::PoundPer1000SquareFeet, "lb/1000 ft²"),
        (Unit::Bag, "bags"),
    ] {
        assert_eq!(unit_name(unit), name);
    }
}

#[test]
fn every_word_of_links_is_a_line_of_its_own() {
    let all = link_words();
    let plain = |word: &str| {
        let mut bytes = word.bytes();
        !word.is_empty() && bytes.all(|byte| byte.is_ascii_graphic())
    };
    assert!(all.split('\n').all(plain), "a word of links is no line");
}
