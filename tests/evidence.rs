#![cfg(not(target_arch = "wasm32"))]
//! What trials found: the numbers are those copied out apart from the table, and the pages of all
//! materials and all sources tell each of them.

mod support;

use barrowmix::ground::PRESETS;
use barrowmix::material::{About, EVIDENCE, Entry, Finding, Hazard, NUMBERS, catalogue};
use barrowmix::source::SOURCES;
use barrowmix::words::{
    constants, equations, field_name, first_label, hazard_name, hazard_text, printed,
    printed_range, printed_unit, short_citation,
};
use html::{escape, sentence};
use std::collections::BTreeSet;
use support::table;

#[path = "../src/bin/site/html.rs"]
mod html;
#[path = "../src/bin/site/sheets.rs"]
mod sheets;
#[path = "../src/bin/site/sources.rs"]
mod sources;

/// The numbers of a text, in order. A minus belongs to its number.
fn numbers(text: &str) -> Vec<f64> {
    let text = text.replace('−', "-");
    let mut out = Vec::new();
    let mut word = String::new();
    for letter in text.chars().chain([' ']) {
        if letter.is_ascii_digit() || (letter == '.' && !word.is_empty()) {
            word.push(letter);
        } else {
            if let Ok(number) = word.trim_end_matches('.').parse() {
                out.push(number);
            }
            word.clear();
            if letter == '-' {
                word.push(letter);
            }
        }
    }
    out
}

#[test]
fn numbers_of_a_text_are_found() {
    assert_eq!(
        numbers("−7.6 % / +8.4 %; 3 to 10 times."),
        [-7.6, 8.4, 3.0, 10.0],
        "signs, decimals and a full stop"
    );
}

#[test]
fn numbers_are_those_copied_out() {
    let rows = table("evidence_numbers", 24);
    let mut copied = 0;
    for row in &rows {
        let start = row.text("source");
        let keys: Vec<&str> = SOURCES
            .iter()
            .filter(|source| source.citation.starts_with(start))
            .map(|source| source.key)
            .collect();
        assert_eq!(keys.len(), 1, "one source starts with {start}: {keys:?}");
        let of_source = || EVIDENCE.iter().filter(|finding| finding.source == keys[0]);
        assert!(of_source().count() > 0, "findings of {start}");
        let mut told: Vec<f64> = of_source()
            .flat_map(|finding| numbers(finding.effect))
            .collect();
        for number in row.text("numbers").split_whitespace() {
            let number: f64 = number.parse().unwrap_or_else(|_| panic!("{number}"));
            let at = told.iter().position(|known| *known == number);
            let at = at.unwrap_or_else(|| panic!("{number} of {start} is told: {told:?}"));
            // Each is told as often as it was copied out.
            told.remove(at);
            copied += 1;
        }
    }
    assert_eq!(copied, 84, "numbers that were copied out");
}

#[test]
fn findings_name_what_is_known() {
    let mut ids = BTreeSet::new();
    for finding in EVIDENCE {
        assert!(ids.insert(finding.id), "{} stands once", finding.id);
        for material in finding.materials {
            assert!(
                Entry::find(material).is_some(),
                "{} names {material}",
                finding.id
            );
        }
        assert!(
            SOURCES.iter().any(|source| source.key == finding.source),
            "{} cites {}",
            finding.id,
            finding.source
        );
    }
    assert!(ids.len() >= 100, "{} findings", ids.len());
}

/// What stands between two texts of a page.
fn between<'a>(page: &'a str, from: &str, to: &str) -> &'a str {
    let (_, rest) = page
        .split_once(from)
        .unwrap_or_else(|| panic!("{from} stands in the page"));
    rest.split_once(to).map_or(rest, |(inside, _)| inside)
}

#[test]
fn every_sheet_tells_what_is_known_of_its_material() {
    let page = sheets::materials_page();
    for entry in catalogue() {
        let from = format!("<article id=\"m-{}\"", entry.id);
        let sheet = between(&page, &from, "</article>");
        let has = |text: &str, what: &str| {
            assert!(
                sheet.contains(&escape(text)),
                "the sheet of {} tells its {what}: {text}",
                entry.id
            );
        };
        has(entry.name, "name");
        let about = About::find(entry.id).unwrap_or_else(|| panic!("{} is told", entry.id));
        has(about.what, "make");
        has(about.clay, "deeds in clay");
        has(about.rate, "rate");
        for finding in Finding::of(entry.id) {
            has(&sentence(finding.outcome), "outcomes");
            has(finding.effect, "effects");
            has(finding.spread, "doubt");
            has(finding.soils, "soils");
            assert!(
                sheet.contains(&format!("href=\"sources.html#s-{}\"", finding.source)),
                "{} links {}",
                entry.id,
                finding.source
            );
        }
        for hazard in Hazard::ALL {
            let [typical, worst] = [entry.hazards.typical(*hazard), entry.hazards.worst(*hazard)];
            match hazard_text(typical, worst) {
                Some(text) => {
                    has(hazard_name(*hazard), "hazards");
                    has(&text, "levels");
                }
                None => assert!(
                    !sheet.contains(&escape(hazard_name(*hazard))),
                    "{} has no {hazard:?}",
                    entry.id
                ),
            }
        }
        let of_entry = NUMBERS.iter().find(|(id, _)| *id == entry.id);
        let (_, of_entry) = of_entry.unwrap_or_else(|| panic!("{} has numbers", entry.id));
        for number in *of_entry {
            if number.field.starts_with("flag_") {
                continue;
            }
            let name = field_name(number.field).unwrap_or_else(|| panic!("{}", number.field));
            has(name, "numbers");
            has(number.note, "notes");
            if number.field.contains("usual_rate") || number.field.starts_with("bag_") {
                has(
                    &printed_range(number.low, number.typical, number.high),
                    "rates and bags",
                );
                has(&printed_unit(number.unit), "units");
            }
        }
    }
    // What belongs to no material is told as well.
    for finding in EVIDENCE {
        assert!(
            page.contains(&escape(finding.effect)),
            "{} is told",
            finding.id
        );
    }
}

#[test]
fn densities_are_told_in_both_units() {
    let page = sheets::materials_page();
    let sheet = between(&page, "<article id=\"m-gypsum\"", "</article>");
    // 2320 kg/m3, and 16.0185 kg/m3 in a pound per cubic foot (NIST SP 811, 2008).
    let metric = between(
        sheet,
        "<tr class=\"metric\"><th scope=\"row\">Density of its solids",
        "</tr>",
    );
    let us = between(
        sheet,
        "<tr class=\"us\"><th scope=\"row\">Density of its solids",
        "</tr>",
    );
    assert!(metric.contains("<td>2.32</td>"), "{metric}");
    assert!(metric.contains("<td>kg/L</td>"), "{metric}");
    assert!(us.contains("<td>145</td>"), "{us}");
    assert!(us.contains("<td>lb/ft³</td>"), "{us}");
}

#[test]
fn every_source_tells_what_rests_on_it() {
    let page = sources::sources_page();
    let mut before = String::new();
    let order = page.match_indices("<article id=\"s-").map(|(at, found)| {
        let key = &page[at + found.len()..];
        &key[..key.find('"').unwrap_or_default()]
    });
    let order: Vec<&str> = order.collect();
    assert_eq!(order.len(), SOURCES.len(), "every source once");
    for key in order {
        let source = SOURCES.iter().find(|source| source.key == key);
        let source = source.unwrap_or_else(|| panic!("{key} is known"));
        let now = source.citation.to_lowercase();
        assert!(before <= now, "{before} stands before {now}");
        before = now;
        let article = between(&page, &format!("<article id=\"s-{key}\""), "</article>");
        assert!(
            article.contains(&escape(source.citation)),
            "{key} is cited in full"
        );
        let mut count = 0;
        for (id, numbers) in NUMBERS {
            let here = numbers.iter().filter(|number| number.source == key).count();
            count += here;
            assert_eq!(
                article.contains(&format!("<li><a href=\"materials.html#m-{id}\">")),
                here > 0,
                "{key} links the numbers of {id}"
            );
        }
        for preset in PRESETS {
            let numbers = preset.numbers.iter();
            count += numbers.filter(|number| number.source == key).count();
        }
        if count > 0 {
            let told = [format!("{count} number: "), format!("{count} numbers: ")];
            assert!(
                told.iter().any(|told| article.contains(told.as_str())),
                "{key} tells of {count} numbers: {article}"
            );
        }
        for finding in EVIDENCE.iter().filter(|finding| finding.source == key) {
            assert!(
                article.contains(&escape(&sentence(finding.outcome))),
                "{key} tells of {}",
                finding.id
            );
        }
    }
    for equation in equations() {
        for text in [equation.name, equation.source, equation.holds] {
            assert!(page.contains(&escape(&text)), "{text}");
        }
    }
    for (what, source) in constants() {
        for text in [what, source] {
            assert!(page.contains(&escape(text)), "{text}");
        }
    }
}

/// Every author with a year that the comments of the code name is told in the page of sources,
/// save those of algorithms on which no figure rests.
#[test]
fn authors_in_the_code_are_told() {
    const NO_FIGURE: [&str; 2] = ["Levenshtein 1966", "Stegun 1964"];
    let page = sources::sources_page();
    let mut found = BTreeSet::new();
    let mut folders = vec![format!("{}/src", env!("CARGO_MANIFEST_DIR"))];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(&folder).expect("a folder of the package") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path.to_string_lossy().into_owned());
            } else if path.extension().is_some_and(|end| end == "rs") {
                let text = std::fs::read_to_string(&path).expect("a text");
                let comments: String = text
                    .lines()
                    .filter_map(|line| line.trim_start().strip_prefix("//"))
                    .map(|line| [line.trim_start_matches(['/', '!', ' ']), " "].concat())
                    .collect();
                authors(&comments, &mut found);
            }
        }
    }
    assert!(found.len() >= 15, "authors are found: {found:?}");
    for (author, year) in found {
        if NO_FIGURE.contains(&format!("{author} {year}").as_str()) {
            continue;
        }
        let told = page.match_indices(&author).any(|(at, _)| {
            let near: String = page[at..].chars().take(60).collect();
            near.contains(&year)
        });
        assert!(told, "{author} {year} is told in the page of sources");
    }
}

/// The last surname before a year, such as "Rawls 2006" of "Saxton & Rawls 2006" or "Cosby 1984"
/// of "Cosby et al. 1984".
fn authors(text: &str, found: &mut BTreeSet<(String, String)>) {
    let words: Vec<&str> = text.split_whitespace().collect();
    for (at, word) in words.iter().enumerate() {
        let year = word.trim_matches(|c: char| !c.is_ascii_digit());
        let is_year = year.len() == 4 && (year.starts_with("19") || year.starts_with("20"));
        if !is_year || !word.starts_with(year) || at == 0 {
            continue;
        }
        let mut back = at - 1;
        if words[back] == "al." && back >= 2 {
            back -= 2;
        }
        let author = words[back].trim_start_matches('(');
        let is_name = author.len() > 3
            && author.chars().all(char::is_alphabetic)
            && author.starts_with(char::is_uppercase)
            && author[1..].contains(char::is_lowercase);
        if is_name {
            found.insert((author.to_owned(), year.to_owned()));
        }
    }
}

#[test]
fn labels_of_the_pages_exist_once() {
    let keys: Vec<&str> = barrowmix::words::label_keys().collect();
    for key in ["all_materials", "all_sources", "sheet_numbers"] {
        assert!(first_label(key).is_some(), "{key}");
        let count = keys.iter().filter(|known| **known == key).count();
        assert_eq!(count, 1, "{key} stands once");
    }
}

#[test]
fn numbers_are_printed_without_false_digits() {
    for (value, text) in [
        (1666.17, "1670"),
        (0.0132039, "0.0132"),
        (0.1, "0.1"),
        (40.0, "40"),
        (0.0, "0"),
        (12.35, "12.4"),
    ] {
        assert_eq!(printed(value), text, "{value}");
    }
    assert_eq!(printed_range(1.0, 2.0, 4.0), "1 to 4, mostly 2", "a range");
    assert_eq!(printed_range(1.0, 1.0, 4.0), "1 to 4", "typical at an end");
    assert_eq!(printed_range(2.0, 2.0, 2.0), "2", "no range");
    assert_eq!(printed_unit("lb/1000 ft2"), "lb/1000 ft²", "an area");
}

#[test]
fn citations_are_cut_after_the_year() {
    for (citation, short) in [
        (
            "Kranz et al. 2020, J. Environ. Manage. 261:110209",
            "Kranz et al. 2020",
        ),
        (
            "Evans, Konduru & Stamps 1996, Source variation",
            "Evans, Konduru & Stamps 1996",
        ),
        ("Common practice", "Common practice"),
        ("EN 13041 convention: 1/pd", "EN 13041 convention"),
        (
            "Study of a German landfill cap, Int. Agrophys. 32:11-18, 2018",
            "Study of a German landfill cap",
        ),
    ] {
        let cut = short_citation(citation);
        assert!(citation.starts_with(cut), "{cut}");
        assert_eq!(cut, short, "{citation}");
    }
}
