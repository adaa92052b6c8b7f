//! What a laboratory printed, and what crumbs in water show: both become traits of the ground.

use super::form::{Form, Wrong, value};
use super::{Answer, Tool};
use crate::chemistry::amounts::{OrganicMethod, Slice};
use crate::chemistry::exchange::Cation;
use crate::chemistry::exchange::{Buffer, estimated_cec_cmol_kg};
use crate::chemistry::gypsum::{Requirement, RestsOn};
use crate::chemistry::liming::{Advice, FreeLime, advice};
use crate::chemistry::nutrients::ORGANIC_OVER_CARBON;
use crate::chemistry::reaction::{FREE_LIME_PH, ShakenIn, buffer_cmol_kg_ph};
use crate::chemistry::sodicity::{ESP_SODIC_PCT, SODIC_PH};
use crate::dom::{make, set, set_hidden};
use crate::ground::dispersion::{Dispersion, DispersionFault, Fizz, Milkiness, SCORE_MOST, index};
use crate::ground::report::{CationUnit, EcMethod, Extractant, Field, Finding, Read, Report, read};
use crate::ground::{ORGANIC_MATTER_DEFAULT, Trait, Traits};
use crate::outcome::{Layer, at_once};
use crate::quantity::Unit;
use crate::words::{
    Units, advice_text, dispersion_fault_text, dispersion_text, dispersion_written_text,
    finding_text, milkiness_name, requirement_text, written_text,
};

/// Clay from which a soil is called one here, % (clay loams and heavier).
const CLAY_PCT: f64 = 25.0;
/// Depths that laboratories count on, m.
const DEPTH_M: (f64, f64) = (0.01, 1.0);
/// Names of the cations' fields, as [`Cation::ALL`] has them.
const CATIONS: [&str; 5] = ["ca", "mg", "k", "na", "h"];

pub(super) fn fill(tool: &Tool) {
    if tool.speech.units == Units::Metric {
        tool.form.set("depth-unit", "cm");
        tool.form.set("depth", "17");
    }
}

/// What is chosen of drawings.
fn chosen(form: &Form, name: &str) -> Option<String> {
    let found = form.find(&["[name='", name, "']:checked"].concat())?;
    Some(value(&found)).filter(|value| !value.is_empty())
}

/// A number of the report.
fn number(form: &Form, report: &Report, name: &str, of: Field) -> Result<Option<f64>, Wrong> {
    form.number(name, report.limits(of))
}

/// Depth of the acre that pounds are told of, m.
fn depth_m(form: &Form) -> Result<f64, Wrong> {
    let unit = form.unit("depth-unit").map_or(1.0, Unit::factor);
    let (least, most) = DEPTH_M;
    // To a tenth, so that the limits can be read.
    let tidy = |depth: f64| (depth / unit * 10.0).round() / 10.0;
    Ok(form.need("depth", (tidy(least).max(0.1), tidy(most)))? * unit)
}

/// The report as typed.
fn typed(form: &Form) -> Result<Report, Wrong> {
    let mut report = Report::EMPTY;
    report.shaken = match form.text("shaken").as_str() {
        "2" => ShakenIn::Water2AndAHalf,
        "5" => ShakenIn::Water5,
        "salt" => ShakenIn::CalciumChloride,
        _ => ShakenIn::Water1,
    };
    report.buffer = match form.text("buffer").as_str() {
        "8" => Buffer::FromEight,
        "nc" => Buffer::NorthCarolina,
        _ => Buffer::FromSeven,
    };
    let unit = form.text("unit");
    let in_pounds = form.text("p-unit") == "pounds";
    report.unit = match unit.as_str() {
        "pounds" => CationUnit::PoundsPerAcre {
            depth_m: depth_m(form)?,
        },
        "meq" => CationUnit::Meq,
        "share" => CationUnit::Share,
        _ => CationUnit::Ppm,
    };
    report.ph = number(form, &report, "ph", Field::Ph)?;
    report.buffer_ph = number(form, &report, "buffer-ph", Field::BufferPh)?;
    if report.buffer.counts_by_volume() {
        report.sifted_kg_l = number(form, &report, "sifted", Field::SiftedWeight)?;
    }
    report.cec = number(form, &report, "cec", Field::Cec)?;
    for (at, (name, of)) in CATIONS.into_iter().zip(Cation::ALL).enumerate() {
        report.cations[at] = number(form, &report, name, Field::Cation(of))?;
    }
    report.sar = number(form, &report, "sar", Field::Sar)?;
    report.organic = number(form, &report, "organic", Field::Organic)?;
    report.organic_by = match form.text("organic-by").as_str() {
        "loss" => OrganicMethod::LossCalibrated,
        "raw" => OrganicMethod::LossAsWeighed,
        "carbon" => OrganicMethod::Carbon,
        "old" => OrganicMethod::FromCarbon,
        _ => OrganicMethod::Unknown,
    };
    report.ec_in_us_cm = form.text("ec-unit") == "us";
    report.ec = number(form, &report, "ec", Field::Ec)?;
    report.ec_by = match form.text("ec-by").as_str() {
        "1" => EcMethod::OneToOne,
        "2" => EcMethod::OneToTwo,
        "5" => EcMethod::OneToFive,
        _ => EcMethod::Paste,
    };
    report.carbonate = number(form, &report, "carbonate", Field::Carbonate)?;
    let fizz = chosen(form, "fizz");
    report.fizz = Fizz::ALL
        .into_iter()
        .find(|known| fizz.as_deref() == Some(known.id()));
    report.phosphorus = number(form, &report, "p", Field::Phosphorus)?;
    report.extractant = match form.text("extractant").as_str() {
        "bray" => Extractant::Bray1,
        "olsen" => Extractant::Olsen,
        _ => Extractant::Mehlich3,
    };
    if in_pounds && report.phosphorus.is_some() {
        report.phosphorus_to_m = Some(match report.unit {
            CationUnit::PoundsPerAcre { depth_m } => depth_m,
            _ => Slice::furrow().depth_m,
        });
    }
    Ok(report)
}

pub(super) fn answer(tool: &Tool) -> Result<Answer, Wrong> {
    let form = &tool.form;
    let unit = match form.text("unit").as_str() {
        "pounds" => "lb/acre",
        "meq" => "meq/100 g",
        "share" => "%",
        _ => "ppm",
    };
    for place in form.all("[data-part=cation-unit]") {
        place.set_text_content(unit);
    }
    let report = typed(form)?;
    let wanted = form.number("wanted", (3.0, 9.0))?;
    let mut recipe = tool.recipe.clone();
    let found = read(&report, &recipe.ground);
    found.put(&mut recipe.ground);
    let written = |of: &Trait| found.figure(*of).is_some();
    recipe.ground_ranges_kept.retain(|(of, _)| !written(of));
    let is_clay = typical(&recipe.ground, Trait::Clay).unwrap_or(0.0) >= CLAY_PCT;
    let layer = Layer::of_ground(&recipe);
    let mut lines = Vec::new();
    for finding in &found.findings {
        lines.push(finding_text(finding, is_clay));
        if let Finding::Sodium { .. } = finding {
            let need = requirement(&recipe.ground, &found, layer);
            lines.extend(requirement_text(&need, layer.depth_m, tool.speech));
        }
    }
    if let Some(to_ph) = wanted {
        let advice = wanted_advice(&recipe.ground, layer, to_ph);
        lines.push(advice_text(&advice, to_ph, layer.depth_m, tool.speech));
    }
    lines.extend(written_text(&found, tool.speech));
    Ok(Answer {
        lines,
        recipe: (!found.traits.is_empty()).then_some(recipe),
    })
}

fn typical(ground: &Traits, of: Trait) -> Option<f64> {
    Some(ground.get(of)?.typical)
}

/// Clay and organic matter as fractions.
fn clay_and_organic(ground: &Traits) -> (f64, f64) {
    let organic = typical(ground, Trait::OrganicMatter);
    (
        typical(ground, Trait::Clay).unwrap_or(0.0) / 100.0,
        organic.unwrap_or(ORGANIC_MATTER_DEFAULT.typical) / 100.0,
    )
}

fn requirement(ground: &Traits, found: &Read, layer: Slice) -> Requirement {
    let (clay, organic) = clay_and_organic(ground);
    let cec = typical(ground, Trait::Cec);
    let cec = cec.unwrap_or_else(|| estimated_cec_cmol_kg(clay, organic));
    let share = |of, absent| typical(ground, of).unwrap_or(absent);
    let shares = [
        share(Trait::CalciumShare, 100.0),
        share(Trait::MagnesiumShare, 0.0),
        share(Trait::SodiumShare, 0.0),
    ];
    let sodium = found.figure(Trait::SodiumShare);
    let rests_on = if sodium.is_some_and(|figure| !figure.is_in_doubt()) {
        RestsOn::Given
    } else {
        RestsOn::Estimated
    };
    Requirement::to_watch(layer, cec, shares, rests_on)
}

fn wanted_advice(ground: &Traits, layer: Slice, to_ph: f64) -> Advice {
    let (clay, organic) = clay_and_organic(ground);
    let buffer = buffer_cmol_kg_ph(clay, organic / ORGANIC_OVER_CARBON);
    let free_lime = match typical(ground, Trait::Carbonate) {
        None => FreeLime::Unknown,
        Some(pct) if pct > 0.0 => FreeLime::Pct(pct),
        Some(_) => FreeLime::None,
    };
    let from = typical(ground, Trait::Ph).unwrap_or(f64::NAN);
    let sodium_pct = typical(ground, Trait::SodiumShare);
    let is_sodic = sodium_pct.map_or(from > SODIC_PH, |pct| pct >= ESP_SODIC_PCT);
    if to_ph < from && is_sodic {
        return Advice::SodiumFirst;
    }
    let limed = matches!(free_lime, FreeLime::Pct(_)) && from >= FREE_LIME_PH;
    if to_ph > from && limed {
        return Advice::Held;
    }
    advice(layer, buffer, from, to_ph, free_lime, at_once())
}

/// The lists of glasses.
const GLASSES: [&str; 4] = ["natural-2h", "natural-20h", "worked-2h", "worked-20h"];
/// How far a cloud reaches from its crumb, across and up, and how thick it is, by the score.
const CLOUDS: [(f64, f64, f64); 5] = [
    (0.0, 0.0, 0.0),
    (6.0, 8.0, 0.3),
    (8.0, 14.0, 0.5),
    (12.0, 24.0, 0.6),
    (90.0, 90.0, 0.4),
];

pub(super) fn fill_crumbs(tool: &Tool) {
    for name in GLASSES {
        let list = tool.form.list(name);
        for score in 0..=SCORE_MOST {
            let Some(glass) = super::part("glass") else {
                return;
            };
            // What is imported is a fragment, which is empty once it is appended.
            let holder = make("div");
            holder.append_child(&glass);
            let (wide, high, thick) = CLOUDS[usize::from(score)];
            for cloud in holder.query_selector_all(".milk") {
                set(&cloud, "rx", &crate::words::written(wide, 2));
                set(&cloud, "ry", &crate::words::written(high, 2));
                set(&cloud, "opacity", &crate::words::written(thick, 2));
            }
            if score == SCORE_MOST {
                for bit in holder.query_selector_all(".bit") {
                    bit.remove();
                }
            }
            if let Some(radio) = holder.query_selector("input") {
                set(&radio, "name", name);
                set(&radio, "value", &score.to_string());
            }
            if let Some(called) = holder.query_selector("[data-part=called]") {
                called.set_text_content(milkiness_name(score));
            }
            if let Some(label) = holder.query_selector("label") {
                list.append_child(&label);
            }
        }
    }
}

fn milkiness(form: &Form, at_2h: &str, at_20h: &str) -> Option<Milkiness> {
    let score = |name| chosen(form, name)?.parse().ok();
    Some(Milkiness {
        at_2h: score(at_2h)?,
        at_20h: score(at_20h)?,
    })
}

pub(super) fn answer_crumbs(tool: &Tool) -> Result<Answer, Wrong> {
    let form = &tool.form;
    let [natural_2h, natural_20h, worked_2h, worked_20h] = GLASSES;
    let natural = milkiness(form, natural_2h, natural_20h);
    let clear = natural
        == Some(Milkiness {
            at_2h: 0,
            at_20h: 0,
        });
    set_hidden(&form.part("[data-part=worked]"), !clear);
    let Some(natural) = natural else {
        return Ok(Answer::default());
    };
    let meaning = match index(natural, milkiness(form, worked_2h, worked_20h)) {
        Ok(found) => (found, Dispersion::of_index(found)),
        Err(fault @ DispersionFault::WorkWet) => {
            return Ok(Answer {
                lines: vec![dispersion_fault_text(fault)],
                recipe: None,
            });
        }
        Err(fault) => return Err(Wrong::of(dispersion_fault_text(fault))),
    };
    let (found, meaning) = meaning;
    let known = tool.recipe.ground.get(Dispersion::TRAIT);
    let sodium = meaning.sodium_pct();
    // What this tool wrote before gives way to it.
    let known = known.filter(|figure| Dispersion::of_sodium(*figure).is_none());
    let lines = vec![
        dispersion_text(found, meaning),
        dispersion_written_text(sodium, known),
    ];
    let mut recipe = tool.recipe.clone();
    if known.is_none() {
        recipe.ground.set(Dispersion::TRAIT, Some(sodium));
        recipe
            .ground_ranges_kept
            .retain(|(of, _)| *of != Dispersion::TRAIT);
    }
    Ok(Answer {
        lines,
        recipe: known.is_none().then_some(recipe),
    })
}
