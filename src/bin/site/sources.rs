//! `sources.html`: every source with what rests on it, and how well founded the whole is.

use super::html::{escape, label, page, sentence};
use barrowmix::ground::PRESETS;
use barrowmix::material::{EVIDENCE, Entry, Hazard, NUMBERS};
use barrowmix::source::{Mark, Number, SOURCES, Shares, Source};
use barrowmix::tongue::tr;
use barrowmix::words::{
    Counted, constants, counted_text, equations, field_name, findings_shares_text,
    numbers_shares_text,
};
use std::fmt::Write as _;

/// From how many lines on the list of what rests on a source is folded.
const FOLDED_FROM: usize = 9;

/// The whole page.
pub(crate) fn sources_page() -> String {
    let mut body = String::new();
    let _ = writeln!(
        body,
        "<section class=\"how\">\n<h2>{}</h2>\n<p>{}</p>\n<p>{}</p>\n<p>{}</p>\n</section>",
        label("sources_shares_heading"),
        escape(&numbers_shares_text(
            numbers().map(|number| number.mark).collect(),
            numbers()
                .filter(|number| !is_hazard(number))
                .map(|number| number.mark)
                .collect(),
        )),
        escape(&findings_shares_text(
            EVIDENCE.iter().map(|finding| finding.mark).collect()
        )),
        label("materials_read_marks"),
    );
    let _ = writeln!(
        body,
        "<nav aria-labelledby=\"contents\">\n<h2 id=\"contents\">{}</h2>\n<ul>\
         <li><a href=\"#sources\">{}</a></li><li><a href=\"#equations\">{}</a></li>\
         <li><a href=\"#constants\">{}</a></li></ul>\n</nav>",
        label("contents"),
        label("sources_list_heading"),
        label("sources_equations_heading"),
        label("sources_constants_heading"),
    );
    let _ = writeln!(
        body,
        "<h2 id=\"sources\" class=\"kind\">{}</h2>",
        label("sources_list_heading")
    );
    let mut sorted: Vec<&Source> = SOURCES.iter().collect();
    sorted.sort_by_key(|source| source.citation.to_lowercase());
    for source in sorted {
        article(&mut body, source);
    }
    let _ = writeln!(
        body,
        "<h2 id=\"equations\" class=\"kind\">{}</h2>\n<p>{}</p>\n<dl class=\"given\">",
        label("sources_equations_heading"),
        label("sources_equations_intro")
    );
    for equation in equations() {
        let _ = writeln!(
            body,
            "<dt>{}</dt><dd>{}<span class=\"aside\">{}</span></dd>",
            escape(&equation.name),
            escape(&equation.source),
            escape(&equation.holds)
        );
    }
    let _ = writeln!(
        body,
        "</dl>\n<h2 id=\"constants\" class=\"kind\">{}</h2>\n<p>{}</p>\n<dl class=\"given\">",
        label("sources_constants_heading"),
        label("sources_constants_intro")
    );
    for (what, source) in constants() {
        let _ = writeln!(body, "<dt>{}</dt><dd>{}</dd>", escape(what), escape(source));
    }
    body.push_str("</dl>\n");
    let links = format!(" <a href=\"materials.html\">{}</a>", label("all_materials"));
    page(
        "sources_title",
        "all_sources",
        "sources_intro",
        &links,
        &body,
    )
}

/// Every number of materials and usual soils.
fn numbers() -> impl Iterator<Item = &'static Number> {
    let of_grounds = PRESETS.iter().flat_map(|preset| preset.numbers);
    NUMBERS
        .iter()
        .flat_map(|(_, numbers)| *numbers)
        .chain(of_grounds)
}

fn is_hazard(number: &Number) -> bool {
    Hazard::ALL.iter().any(|of| of.name() == number.field)
}

/// The names of those of some numbers that rest on a source, each once; hazards in one word.
fn names(numbers: &[Number], key: &str) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for number in numbers.iter().filter(|number| number.source == key) {
        let name = if is_hazard(number) {
            label("sources_hazards")
        } else {
            escape(field_name(number.field).unwrap_or(number.field))
        };
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

fn article(body: &mut String, source: &Source) {
    let key = source.key;
    let marks: Vec<Mark> = numbers()
        .filter(|number| number.source == key)
        .map(|number| number.mark)
        .collect();
    let found: Vec<_> = EVIDENCE
        .iter()
        .filter(|finding| finding.source == key)
        .collect();
    let of_findings: Shares = found.iter().map(|finding| finding.mark).collect();
    let mut counts = Vec::new();
    if !marks.is_empty() {
        counts.push(counted_text(Counted::Numbers, marks.into_iter().collect()));
    }
    if !found.is_empty() {
        counts.push(counted_text(Counted::Findings, of_findings));
    }
    let mut lines = Vec::new();
    for (id, numbers) in NUMBERS {
        let names = names(numbers, key);
        if !names.is_empty() {
            lines.push(format!("{}: {}", material_link(id), names.join("; ")));
        }
    }
    for preset in PRESETS {
        let names = names(preset.numbers, key);
        if !names.is_empty() {
            lines.push(format!(
                "{} ({}): {}",
                escape(preset.told()),
                label("sources_grounds").to_lowercase(),
                names.join("; ")
            ));
        }
    }
    for finding in found {
        let about: Vec<String> = finding
            .materials
            .iter()
            .map(|id| material_link(id))
            .collect();
        let outcome = escape(&sentence(tr(finding.outcome)));
        lines.push(if about.is_empty() {
            format!("<a href=\"materials.html#g-any\">{outcome}</a>")
        } else {
            format!("{outcome} ({})", about.join(", "))
        });
    }
    let many = lines.len() >= FOLDED_FROM;
    let list: String = lines
        .iter()
        .map(|line| format!("<li>{line}</li>\n"))
        .collect();
    let list = format!("<ul class=\"rests\">\n{list}</ul>\n");
    let list = if many {
        format!(
            "<details><summary>{}</summary>\n{list}</details>\n",
            label("sources_what_rests")
        )
    } else {
        list
    };
    let _ = writeln!(
        body,
        "<article id=\"s-{key}\" class=\"source\">\n<h3>{} <span class=\"key-of\">{key}</span></h3>\n\
         <p class=\"aside\">{}</p>\n{list}</article>",
        escape(source.citation),
        escape(&counts.join(". ")),
    );
}

fn material_link(id: &str) -> String {
    let name = Entry::find(id).map_or(id, |entry| entry.name);
    format!("<a href=\"materials.html#m-{id}\">{}</a>", escape(name))
}
