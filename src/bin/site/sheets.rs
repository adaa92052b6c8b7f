//! `materials.html`: a sheet for every material, with where each of its numbers comes from.

use super::html::{escape, label, page, sentence, source_link};
use barrowmix::material::{
    About, EVIDENCE, Entry, Fact, Finding, Group, Hazard, NUMBERS, Property, catalogue,
};
use barrowmix::source::Number;
use barrowmix::tongue::tr;
use barrowmix::words::{
    METRIC, Speech, Units, fact_name, group_name, hazard_name, hazard_text, mark_word, printed,
    printed_range, printed_unit, property_name,
};
use std::fmt::Write as _;

const US: Speech = Speech { units: Units::Us };

/// The whole page.
pub(crate) fn materials_page() -> String {
    let mut body = String::new();
    let _ = write!(
        body,
        "<section class=\"how\">\n<h2>{}</h2>\n<p>{}</p>\n<p>{}</p>\n<p>{}</p>\n<p>{}</p>\n</section>\n",
        label("materials_read_heading"),
        label("materials_read_range"),
        label("materials_read_marks"),
        label("materials_read_hazards"),
        label("materials_ask"),
    );
    contents(&mut body);
    for group in Group::ALL {
        let mut of_group = entries(*group).peekable();
        if of_group.peek().is_none() {
            continue;
        }
        let _ = writeln!(
            body,
            "<h2 id=\"g-{}\" class=\"kind\">{}</h2>",
            group.spelling(),
            escape(group_name(*group))
        );
        for entry in of_group {
            sheet(&mut body, entry);
        }
    }
    let mut of_any = of_no_material().peekable();
    if of_any.peek().is_some() {
        let _ = writeln!(
            body,
            "<h2 id=\"g-any\" class=\"kind\">{}</h2>\n<p>{}</p>\n{}",
            label("found_any"),
            label("found_any_intro"),
            findings(of_any)
        );
    }
    let links = format!(" <a href=\"sources.html\">{}</a>", label("all_sources"));
    page(
        "materials_title",
        "all_materials",
        "materials_intro",
        &links,
        &body,
    )
}

fn entries(group: Group) -> impl Iterator<Item = &'static Entry> {
    catalogue().iter().filter(move |entry| entry.group == group)
}

fn of_no_material() -> impl Iterator<Item = &'static Finding> {
    EVIDENCE
        .iter()
        .filter(|finding| finding.materials.is_empty())
}

fn contents(body: &mut String) {
    let _ = writeln!(
        body,
        "<nav aria-labelledby=\"contents\">\n<h2 id=\"contents\">{}</h2>\n<dl class=\"contents\">",
        label("contents")
    );
    for group in Group::ALL {
        let links: Vec<String> = entries(*group)
            .map(|entry| format!("<a href=\"#m-{}\">{}</a>", entry.id, escape(entry.told())))
            .collect();
        if !links.is_empty() {
            let _ = writeln!(
                body,
                "<dt>{}</dt><dd>{}</dd>",
                escape(group_name(*group)),
                links.join(" ")
            );
        }
    }
    if of_no_material().next().is_some() {
        let _ = writeln!(
            body,
            "<dt><a href=\"#g-any\">{}</a></dt>",
            label("found_any")
        );
    }
    body.push_str("</dl>\n</nav>\n");
}

/// A part of a sheet: its heading in the margin, and what it says.
fn part(heading: &str, inside: &str) -> String {
    format!(
        "<section class=\"part\"><h4>{}</h4><div>{inside}</div></section>\n",
        label(heading)
    )
}

fn sheet(body: &mut String, entry: &Entry) {
    let _ = writeln!(
        body,
        "<article id=\"m-{}\" class=\"sheet\">\n<h3>{}</h3>",
        entry.id,
        escape(entry.told())
    );
    let numbers = numbers_of(entry.id);
    let about = About::find(entry.id);
    if let Some(about) = about {
        let _ = writeln!(
            body,
            "<p class=\"what-it-is\">{}</p>",
            escape(tr(about.what))
        );
        body.push_str(&part(
            "sheet_clay",
            &format!("<p>{}</p>", escape(tr(about.clay))),
        ));
    }
    let found = findings(Finding::of(entry.id));
    let found = if found.is_empty() {
        format!("<p>{}</p>", label("sheet_found_none"))
    } else {
        found
    };
    body.push_str(&part("sheet_found", &found));
    body.push_str(&part("sheet_hazards", &hazards(entry)));
    let rates = facts(
        numbers,
        &[
            Fact::UsualRate,
            Fact::UsualRate2,
            Fact::UsualRate3,
            Fact::UsualRate4,
        ],
    );
    let told = about.map_or(String::new(), |about| {
        format!("<p>{}</p>", escape(tr(about.rate)))
    });
    let rates = if rates.is_empty() {
        String::new()
    } else {
        format!("<p class=\"aside\">{}</p>", rates.join("; "))
    };
    body.push_str(&part("sheet_rate", &[told, rates].concat()));
    let bags = facts(numbers, &[Fact::BagUs, Fact::BagMetric]);
    let expands = facts(numbers, &[Fact::BagExpands]);
    if !bags.is_empty() {
        let mut text = format!("<p>{}</p>", bags.join("; "));
        if let Some(expands) = expands.first() {
            let name = escape(fact_name(Fact::BagExpands));
            let _ = write!(text, "<p class=\"aside\">{name}: {expands}</p>");
        }
        body.push_str(&part("sheet_bags", &text));
    }
    let _ = writeln!(
        body,
        "<details><summary>{}</summary>\n{}</details>\n</article>",
        label("sheet_numbers"),
        table(entry.told(), numbers)
    );
}

/// The numbers of a material.
fn numbers_of(id: &str) -> &'static [Number] {
    NUMBERS
        .iter()
        .find(|(of, _)| *of == id)
        .map_or(&[], |(_, numbers)| *numbers)
}

/// Facts that a material has, each with its range and unit as printed.
fn facts(numbers: &[Number], of: &[Fact]) -> Vec<String> {
    of.iter()
        .filter_map(|fact| numbers.iter().find(|number| number.field == fact.name()))
        .map(|number| {
            let range = printed_range(number.low, number.typical, number.high);
            escape(&format!("{range} {}", printed_unit(number.unit)))
        })
        .collect()
}

/// Findings as a list; nothing where there are none.
fn findings(of: impl Iterator<Item = &'static Finding>) -> String {
    let mut out = String::new();
    for finding in of {
        let _ = write!(
            out,
            "<li><span class=\"topic\">{}</span> <span class=\"effect\">{}</span> <span class=\"aside\">",
            escape(&sentence(tr(finding.outcome))),
            escape(tr(finding.effect))
        );
        for (name, text) in [
            ("found_soils", tr(finding.soils)),
            ("found_doubt", tr(finding.spread)),
        ] {
            if !text.is_empty() {
                let _ = write!(out, "{}: {}. ", label(name), escape(text));
            }
        }
        let _ = writeln!(
            out,
            "{}: {} ({}).</span></li>",
            label("found_source"),
            source_link(finding.source),
            mark_word(finding.mark)
        );
    }
    if out.is_empty() {
        return out;
    }
    format!("<ul class=\"found\">\n{out}</ul>\n")
}

/// The hazards of a material, the gravest first.
fn hazards(entry: &Entry) -> String {
    let levels = |of: Hazard| (entry.hazards.worst(of), entry.hazards.typical(of));
    let mut all: Vec<Hazard> = Hazard::ALL.to_vec();
    all.sort_by_key(|of| std::cmp::Reverse(levels(*of)));
    let mut out = String::new();
    for hazard in all {
        let (worst, typical) = levels(hazard);
        if let Some(text) = hazard_text(typical, worst) {
            let grave = if worst > 2 { " class=\"grave\"" } else { "" };
            let _ = writeln!(
                out,
                "<li{grave}><span class=\"topic\">{}</span> {}</li>",
                escape(hazard_name(hazard)),
                escape(&text)
            );
        }
    }
    if out.is_empty() {
        return format!("<p>{}</p>", label("sheet_hazards_none"));
    }
    format!("<ul class=\"hazards\">\n{out}</ul>\n")
}

/// The table of a material's numbers; hazards have their own list.
fn table(name: &str, numbers: &[Number]) -> String {
    let mut out = format!(
        "<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"{}\">\n<table class=\"numbers\" aria-label=\"{0}\">\n<thead><tr><th scope=\"col\">{}</th>\
         <th scope=\"col\">{}</th><th scope=\"col\">{}</th><th scope=\"col\">{}</th>\
         <th scope=\"col\">{}</th><th scope=\"col\">{}</th><th scope=\"col\">{}</th></tr></thead>\n<tbody>\n",
        escape(name),
        label("sheet_col_what"),
        label("low"),
        label("typical"),
        label("high"),
        label("sheet_col_unit"),
        label("sheet_col_source"),
        label("sheet_col_mark"),
    );
    for number in numbers {
        let property = Property::ALL.iter().find(|of| of.name() == number.field);
        let fact = Fact::ALL.iter().find(|of| of.name() == number.field);
        if let Some(property) = property {
            let (name, unit, factor) = property_name(*property, METRIC);
            let (_, unit_us, factor_us) = property_name(*property, US);
            if unit == unit_us {
                row(&mut out, number, ("", name), unit, factor, true);
            } else {
                row(
                    &mut out,
                    number,
                    (" class=\"metric\"", name),
                    unit,
                    factor,
                    true,
                );
                row(
                    &mut out,
                    number,
                    (" class=\"us\"", name),
                    unit_us,
                    factor_us,
                    false,
                );
            }
        } else if let Some(fact) = fact {
            let unit = printed_unit(number.unit);
            row(&mut out, number, ("", fact_name(*fact)), &unit, 1.0, true);
        }
    }
    out.push_str("</tbody>\n</table>\n</div>\n");
    out
}

/// A row of the table. The note stands once, where a number has two rows.
fn row(
    out: &mut String,
    number: &Number,
    (class, name): (&str, &str),
    unit: &str,
    factor: f64,
    with_note: bool,
) {
    let told = |value: f64| printed(value / factor);
    let typical = told(number.typical);
    let (low, high) = (told(number.low), told(number.high));
    // A number without a range stands alone.
    let (low, high) = if number.low == number.high {
        (String::new(), String::new())
    } else {
        (low, high)
    };
    let note = if with_note && !number.note.is_empty() {
        format!("<span class=\"aside\">{}</span>", escape(tr(number.note)))
    } else {
        String::new()
    };
    let _ = writeln!(
        out,
        "<tr{class}><th scope=\"row\">{}{note}</th><td>{low}</td><td>{typical}</td><td>{high}</td><td>{}</td>\
         <td><a href=\"sources.html#s-{}\">{}</a></td><td>{}</td></tr>",
        escape(name),
        escape(unit),
        number.source,
        number.source,
        mark_word(number.mark)
    );
}
