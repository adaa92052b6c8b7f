//! Ways to say what the ground is: a usual soil, a jar, feel, a class, a can, ranges.

use super::figures::Entry;
use super::form::{Wrong, button, put, value};
use super::{Answer, Tool};
use crate::dom::{make, set};
use crate::figure::{Ends, Figure};
use crate::ground::can::{Can, CanFault, CanNumber, CanSize, CanWeighing};
use crate::ground::feel::Feel;
use crate::ground::jar::{JarFault, JarHeight, JarReading, reading_times};
use crate::ground::{PRESETS, Preset, Trait};
use crate::plot::jar_layers;
use crate::recipe::Recipe;
use crate::texture::{Class, class_spread, classify, felt_spread};
use crate::words::{
    Speech, Text, Units, can_fault_text, can_text, class_name, feel_answer_text,
    feel_question_text, feel_result_text, fixed, fractions_text, jar_band_text, jar_fault_text,
    label_of_shed, reading_times_text, settling_fault_text, trait_name,
};

/// Where the layers of the jar's drawing stand.
const JAR_BOX: ([f64; 2], [f64; 2]) = ([22.0, 32.0], [76.0, 118.0]);
/// Highest number in a jar, mm; the reader of the jar has its own limits.
const ANY: (f64, f64) = (0.0, 1e6);

/// Sand, silt and clay as a recipe keeps them: to a tenth.
fn set_fractions(recipe: &mut Recipe, figures: [Figure; 3]) {
    let tenth = |value: f64| (value * 10.0).round() / 10.0;
    for (of, figure) in [Trait::Sand, Trait::Silt, Trait::Clay]
        .into_iter()
        .zip(figures)
    {
        let ends = figure.ends();
        let typical = tenth(figure.typical);
        let figure = Figure::between(
            tenth(ends.low).min(typical),
            typical,
            tenth(ends.high).max(typical),
        );
        recipe.ground.set(of, Some(figure));
    }
    recipe
        .ground_ranges_kept
        .retain(|(of, _)| !matches!(of, Trait::Sand | Trait::Silt | Trait::Clay));
}

pub(super) fn fill(tool: &mut Tool) {
    if tool.speech.units == Units::Us {
        tool.form.set("length", "in");
        tool.form.set("mass", "oz");
    }
    match tool.name.as_str() {
        "usual" => {
            let list = tool.form.list("usual");
            for preset in PRESETS {
                let label = make("label");
                set(&label, "class", "choice");
                let radio = make("input");
                for (name, value) in [("type", "radio"), ("name", "usual"), ("value", preset.id)] {
                    set(&radio, name, value);
                }
                label.append_child(&radio);
                put(&label, "strong", preset.told());
                let traits = preset.traits();
                put(&label, "span", &fractions_text(traits.fractions_pct()));
                list.append_child(&label);
            }
        }
        "class" => {
            let options: Vec<_> = Class::ALL
                .iter()
                .map(|class| (class.id(), class_name(*class)))
                .collect();
            tool.form.options("class", &options);
            let now = classify(tool.recipe.ground.fractions_pct());
            tool.form.set("class", now.id());
        }
        "ranges" => {
            let list = tool.form.list("traits");
            for of in Trait::ALL {
                entry(*of, tool.speech).put(&list, tool.recipe.ground.get(*of));
            }
        }
        "feel" => show_question(tool),
        _ => {}
    }
}

/// A trait as it is typed.
fn entry(of: Trait, speech: Speech) -> Entry {
    Entry::new(of.name(), of.limits(), trait_name(of, speech))
}

fn show_question(tool: &Tool) {
    let list = tool.form.list("answers");
    match tool.feel.question() {
        Some(question) => {
            tool.form
                .write("[data-part=question]", feel_question_text(question));
            for (index, answer) in tool.feel.answers().iter().enumerate() {
                let index = index.to_string();
                list.append_child(&button("answer", &index, feel_answer_text(*answer)));
            }
        }
        None => tool.form.write("[data-part=question]", ""),
    }
    crate::dom::set_disabled(
        &tool.form.part("[data-tool=back]"),
        tool.feel == Feel::start(),
    );
}

/// An answer to the question that stands, or a step back.
pub(super) fn step(tool: &mut Tool, what: &str, value: &str) {
    let answer = value
        .parse::<usize>()
        .ok()
        .and_then(|index| tool.feel.answers().get(index).copied());
    tool.feel = match answer {
        Some(answer) if what == "answer" => tool.feel.answer(answer),
        _ => tool.feel.back(),
    };
    show_question(tool);
    // The button that was pressed is gone.
    if let Some(first) = tool.form.find("[data-list=answers] button, .use") {
        crate::dom::focus(&first);
    }
}

pub(super) fn answer(tool: &Tool) -> Result<Answer, Wrong> {
    let form = &tool.form;
    let mut recipe = tool.recipe.clone();
    let lines = match tool.name.as_str() {
        "usual" => {
            let Some(chosen) = form.find("[name=usual]:checked") else {
                return Ok(Answer::default());
            };
            let id = value(&chosen);
            let Some(preset) = Preset::find(&id) else {
                return Ok(Answer::default());
            };
            let traits = preset.traits();
            let crumb = recipe.ground.get(Trait::Crumb);
            recipe.ground = traits.clone();
            recipe.ground.set(Trait::Crumb, crumb);
            recipe.ground_ranges_kept.clear();
            preset_lines(&traits, tool.speech)
        }
        "jar" => {
            let water = form.number("water", (0.1, 100.0))?.unwrap_or(12.0);
            let celsius = form.number("celsius", (0.0, 40.0))?.unwrap_or(20.0);
            let times = reading_times(water * 10.0, celsius)
                .map_err(|fault| Wrong::at("water", settling_fault_text(&fault)))?;
            form.write("#jar-times", &reading_times_text(times));
            draw_jar(tool, None);
            let mut heights = [0.0; 3];
            for (height, name) in heights.iter_mut().zip(["sand", "silt", "clay"]) {
                *height = form.need(name, ANY)?;
            }
            let reading = if form.text("marks") == "marks" {
                JarReading::of_marks(heights)
            } else {
                JarReading::of_layers(heights, form.number("total", ANY)?)
            };
            let reading =
                reading.map_err(|fault| Wrong::at(jar_field(&fault), jar_fault_text(&fault)))?;
            draw_jar(tool, Some(&reading));
            let band = reading.band();
            set_fractions(&mut recipe, band);
            vec![jar_band_text(&reading), spread_text(band)]
        }
        "feel" => {
            let Some(class) = tool.feel.result() else {
                return Ok(Answer::default());
            };
            let spread = felt_spread(class);
            set_fractions(&mut recipe, spread);
            vec![feel_result_text(class), spread_text(spread)]
        }
        "class" => {
            let id = form.text("class");
            let Some(class) = Class::ALL.iter().copied().find(|class| class.id() == id) else {
                return Ok(Answer::default());
            };
            let spread = class_spread(class);
            set_fractions(&mut recipe, spread);
            vec![spread_text(spread)]
        }
        "can" => can(tool, &mut recipe)?,
        _ => ranges(tool, &mut recipe)?,
    };
    Ok(Answer {
        lines,
        recipe: Some(recipe),
    })
}

/// Sand, silt and clay with their ends.
fn spread_text(figures: [Figure; 3]) -> String {
    crate::words::fractions_spread_text(figures)
}

/// What a usual soil brings.
fn preset_lines(traits: &crate::ground::Traits, speech: Speech) -> Vec<String> {
    let told = Trait::ALL.iter().filter_map(|of| {
        let figure = traits.get(*of)?;
        let (name, unit, factor) = trait_name(*of, speech);
        Some(crate::words::figure_text(name, figure, factor, unit))
    });
    let told: Vec<String> = told.collect();
    vec![told.join("; ") + "."]
}

/// The field of a jar's fault.
fn jar_field(fault: &JarFault) -> &'static str {
    match fault {
        JarFault::Outside { which, .. } | JarFault::MarkFalls { which, .. } => match which {
            JarHeight::Sand => "sand",
            JarHeight::Silt => "silt",
            JarHeight::Clay => "clay",
            JarHeight::Total => "total",
        },
        JarFault::LayersDoNotAddUp { .. } => "total",
        JarFault::Empty => "sand",
    }
}

/// The field of a can's fault.
fn can_field(fault: &CanFault) -> &'static str {
    match fault {
        CanFault::Outside { which, .. } | CanFault::NoSoil { which, .. } => match which {
            CanNumber::VolumeCm3 => "volume",
            CanNumber::DiameterCm => "width",
            CanNumber::HeightCm => "height",
            CanNumber::CanG => "empty",
            CanNumber::MoistGrossG => "moist",
            CanNumber::DryGrossG => "dry",
            CanNumber::WaterPerDryPct => "moisture",
        },
        CanFault::NoVolume => "height",
        _ => "dry",
    }
}

fn draw_jar(tool: &Tool, reading: Option<&JarReading>) {
    let heights = reading.map_or([0.0; 3], |reading| reading.heights_mm);
    let layers = jar_layers(heights, JAR_BOX.0, JAR_BOX.1);
    let rects = tool.form.all(".jar-drawing .layer");
    let texts = tool.form.all(".jar-drawing text");
    // They stand from the top down, as they lie in the jar: clay, silt, sand.
    for ((rect, text), (index, name)) in rects.iter().zip(&texts).zip([
        (2, Text::Clay.text()),
        (1, Text::Silt.text()),
        (0, Text::Sand.text()),
    ]) {
        let layer = layers[index];
        set(rect, "y", &fixed(layer.y, 1));
        set(rect, "height", &fixed(layer.height, 1));
        set(text, "y", &fixed(layer.y + layer.height / 2.0 + 4.0, 1));
        let room = layer.height >= 12.0;
        text.set_text_content(if room { name } else { "" });
    }
}

/// Turns what is typed into the units of the can: centimetres and grams.
fn can(tool: &Tool, recipe: &mut Recipe) -> Result<Vec<String>, Wrong> {
    let form = &tool.form;
    let in_cm = form
        .unit("length")
        .map_or(1.0, |unit| unit.factor() * 100.0);
    let in_g = form.unit("mass").map_or(1.0, |unit| unit.factor() * 1000.0);
    // A can has limits of its own; these only keep out what is no number.
    let any = (-1e6, 1e6);
    let size = if form.text("by") == "volume" {
        CanSize::Volume {
            volume_cm3: form.need("volume", any)?,
        }
    } else {
        CanSize::Measures {
            diameter_cm: form.need("width", any)? * in_cm,
            height_cm: form.need("height", any)? * in_cm,
        }
    };
    let can_g = form.need("empty", any)? * in_g;
    let moist = form.number("moist", any)?;
    let dry = form.number("dry", any)?;
    let water = form.number("moisture", any)?;
    if dry.is_some() && water.is_some() {
        return Err(Wrong::at("moisture", label_of_shed("dry_or_moisture")));
    }
    let weighing = match (moist, dry, water) {
        (Some(moist), Some(dry), _) => CanWeighing::MoistAndDry {
            moist_gross_g: moist * in_g,
            dry_gross_g: dry * in_g,
        },
        (None, Some(dry), _) => CanWeighing::Dry {
            dry_gross_g: dry * in_g,
        },
        (Some(moist), None, Some(water_per_dry_pct)) => CanWeighing::MoistWithWater {
            moist_gross_g: moist * in_g,
            water_per_dry_pct,
        },
        _ => {
            form.need("dry", any)?;
            return Ok(Vec::new());
        }
    };
    let can = Can {
        size,
        can_g,
        weighing,
    };
    let reading = can
        .read()
        .map_err(|fault| Wrong::at(can_field(&fault), can_fault_text(&fault)))?;
    let rounded = |figure: Figure, step: f64| {
        let round = |value: f64| (value * step).round() / step;
        Figure {
            typical: round(figure.typical),
            ends: figure.ends.map(|ends| Ends {
                low: round(ends.low),
                high: round(ends.high),
            }),
        }
    };
    let density = rounded(reading.bulk_density_kg_m3, 1.0);
    let water = reading.water_per_dry_pct.map(|water| rounded(water, 10.0));
    recipe.ground.set(Trait::BulkDensity, Some(density));
    if water.is_some() {
        recipe.ground.set(Trait::WaterPerDry, water);
    }
    recipe
        .ground_ranges_kept
        .retain(|(of, _)| !matches!(of, Trait::BulkDensity | Trait::WaterPerDry));
    Ok(vec![can_text(&reading, tool.speech)])
}

fn ranges(tool: &Tool, recipe: &mut Recipe) -> Result<Vec<String>, Wrong> {
    for of in Trait::ALL {
        let was = recipe.ground.get(*of);
        let figure = entry(*of, tool.speech).read(&tool.form, was)?;
        if figure != was {
            recipe.ground.set(*of, figure);
            recipe.ground_ranges_kept.retain(|(kept, _)| kept != of);
        }
    }
    Ok(Vec::new())
}
