//! What was measured, of the blend and of the ground: each way comes to one number of the recipe.

use super::form::{Form, Wrong, in_table, put};
use super::{Answer, Tool};
use crate::dom::{around, make, set, set_hidden};
use crate::figure::Figure;
use crate::outcome::{Outcome, Remark};
use crate::quantity::Unit;
use crate::recipe::{Amount, Measurement, PlaceKind, Recipe, Sample, Support};
use crate::words::{
    Speech, Told, Units, agreement_text, disagreement_text, drains_told, error_text,
    label_of_measure, measured_factor, measured_outside_text, measured_text, of_the_other_text,
    range_behind, remark_text, round_significant, usual_error_text,
};

/// What is read off a scale or a jug.
const ANY: (f64, f64) = (0.0, 1e6);
/// Minutes of a hole or a ring: up to ten weeks.
const MINUTES: (f64, f64) = (0.01, 1e5);
/// Minutes in an hour; a rate is shown as what falls in one.
const HOUR: f64 = 60.0;
/// Water poured into a ring, mm: one of these is chosen.
const POURED_MM: [f64; 2] = [25.0, 25.4];
/// Digits that are kept of a rate, so that units leave no binary remainder.
const DIGITS: usize = 12;

/// What can be measured of a sample: a ground as it lies is in no pot.
fn of(sample: Sample) -> impl Iterator<Item = Measurement> {
    let all = Measurement::ALL.iter().copied();
    all.filter(move |of| !(sample == Sample::Ground && *of == Measurement::Drained))
}

/// The boxes of one sample.
struct Boxes<'a> {
    form: &'a Form,
    recipe: &'a Recipe,
    speech: Speech,
    sample: Sample,
}

impl<'a> Boxes<'a> {
    fn of(tool: &'a Tool, sample: Sample) -> Boxes<'a> {
        Boxes {
            form: &tool.form,
            recipe: &tool.recipe,
            speech: tool.speech,
            sample,
        }
    }

    fn name(&self, field: &str) -> String {
        [self.sample.spelling(), ".", field].concat()
    }

    fn set(&self, field: &str, text: &str) {
        self.form.set(&self.name(field), text);
    }

    fn text(&self, field: &str) -> String {
        self.form.text(&self.name(field))
    }

    fn number(&self, field: &str, limits: (f64, f64)) -> Result<Option<f64>, Wrong> {
        self.form.number(&self.name(field), limits)
    }

    /// One of the unit chosen beside a number, in SI.
    fn unit(&self, field: &str) -> f64 {
        let unit = self.form.unit(&self.name(field));
        unit.map_or(1.0, Unit::factor)
    }

    fn wrong(&self, field: &str, text: impl Into<String>) -> Wrong {
        Wrong::at(&self.name(field), text)
    }

    /// Lengths as the user has them: a small one and a large one.
    fn lengths(&self) -> [&'static str; 2] {
        match self.speech.units {
            Units::Us => ["in", "in"],
            Units::Metric => ["mm", "cm"],
        }
    }

    /// Two numbers of which one needs the other.
    fn both(
        &self,
        one: &str,
        other: &str,
        limits: (f64, f64),
    ) -> Result<Option<(f64, f64)>, Wrong> {
        let typed = (self.number(one, limits)?, self.number(other, limits)?);
        if typed == (None, None) {
            return Ok(None);
        }
        let need = |field| self.form.need(&self.name(field), limits);
        Ok(Some((need(one)?, need(other)?)))
    }

    fn fill(&self) {
        let [small, large] = self.lengths();
        self.set("fell-unit", small);
        self.set("height-unit", large);
        self.set("mix-unit", "L");
        if self.speech.units == Units::Us {
            for (field, unit) in [
                ("room-unit", "fl_oz"),
                ("dry-unit", "oz"),
                ("ran-unit", "fl_oz"),
                ("mix-unit", "gal"),
                ("poured", "in"),
                ("mass", "oz"),
            ] {
                self.set(field, unit);
            }
        }
        for of in of(self.sample) {
            let Some(figure) = self.recipe.measured(self.sample, of) else {
                continue;
            };
            match of {
                Measurement::Hole => {
                    self.set("fell", &self.fell(figure));
                    self.set("minutes", &in_table(HOUR));
                }
                Measurement::Ring => self.set("gone", &self.gone(figure)),
                _ => {
                    let factor = measured_factor(of, self.speech);
                    self.set(of.name(), &in_table(figure.typical / factor));
                }
            }
        }
        let place = self.recipe.place.as_ref();
        if let Some(height) = place.and_then(|place| place.height.as_ref()) {
            self.set("height", &in_table(height.si() / self.unit("height-unit")));
        }
    }

    /// A rate as what falls in an hour.
    fn fell(&self, figure: Figure) -> String {
        in_table(figure.typical * Unit::Millimetre.factor() / self.unit("fell-unit"))
    }

    /// A rate as the minutes that what was poured takes.
    fn gone(&self, figure: Figure) -> String {
        in_table(self.poured_mm() / figure.typical * HOUR)
    }

    fn poured_mm(&self) -> f64 {
        POURED_MM[usize::from(self.text("poured") == "in")]
    }

    /// What a way comes to. What was filled in and not touched stays what it was.
    fn read(&self, of: Measurement) -> Result<Option<Figure>, Wrong> {
        let was = self.recipe.measured(self.sample, of);
        let (first, value) = match of {
            Measurement::Hole => {
                let typed = self.number("fell", ANY)?;
                let minutes = self.number("minutes", MINUTES)?;
                if typed.is_none() && minutes.is_none() {
                    return Ok(None);
                }
                let untouched =
                    |was: &Figure| self.text("fell") == self.fell(*was) && minutes == Some(HOUR);
                if was.as_ref().is_some_and(untouched) {
                    return Ok(was);
                }
                let fell = self.form.need(&self.name("fell"), ANY)?;
                let minutes = self.form.need(&self.name("minutes"), MINUTES)?;
                let fell_mm = fell * self.unit("fell-unit") / Unit::Millimetre.factor();
                ("fell", fell_mm / minutes * HOUR)
            }
            Measurement::Ring => {
                let Some(minutes) = self.number("gone", MINUTES)? else {
                    return Ok(None);
                };
                if was.is_some_and(|was| self.text("gone") == self.gone(was)) {
                    return Ok(was);
                }
                ("gone", self.poured_mm() / minutes * HOUR)
            }
            _ => return self.read_share(of, was),
        };
        self.checked(of, first, value)
    }

    /// The same for a way that has two numbers, or what they come to.
    fn read_share(&self, of: Measurement, was: Option<Figure>) -> Result<Option<Figure>, Wrong> {
        let factor = measured_factor(of, self.speech);
        let typical = was.map(|was| was.typical);
        let name = self.name(of.name());
        let given = self.form.number_in(&name, of.limits(), typical, factor)?;
        let (first, other, twice) = match of {
            Measurement::BulkDensity => ("room", "dry", "room"),
            Measurement::Drained => ("ran", "mix", "share"),
            _ => ("moist", "dried", "left"),
        };
        let Some((one, two)) = self.both(first, other, ANY)? else {
            return Ok(match given {
                Some(value) if typical == Some(value) => was,
                _ => given.map(Figure::exact),
            });
        };
        // A new measurement takes the place of the one that is there.
        if given.is_some() && given != typical {
            return Err(self.wrong(of.name(), label_of_measure(twice)));
        }
        let none = |field: &str| self.wrong(field, label_of_measure("none"));
        match of {
            Measurement::BulkDensity => {
                if one <= 0.0 {
                    return Err(none(first));
                }
                let (room_m3, dry_kg) = (one * self.unit("room-unit"), two * self.unit("dry-unit"));
                self.checked(of, other, dry_kg / room_m3)
            }
            Measurement::Drained => {
                let (ran, mix) = (one * self.unit("ran-unit"), two * self.unit("mix-unit"));
                if mix <= 0.0 {
                    return Err(none(other));
                }
                if ran > mix {
                    return Err(self.wrong(first, label_of_measure("ran")));
                }
                self.checked(of, first, ran / mix * 100.0)
            }
            _ => {
                if two <= 0.0 {
                    return Err(none(other));
                }
                if two > one {
                    return Err(self.wrong(other, label_of_measure("dried")));
                }
                self.checked(of, first, (one / two - 1.0) * 100.0)
            }
        }
    }

    fn checked(&self, of: Measurement, field: &str, value: f64) -> Result<Option<Figure>, Wrong> {
        let (low, high) = of.limits();
        if !(low..=high).contains(&value) {
            return Err(self.wrong(field, measured_outside_text(of, value, self.speech)));
        }
        Ok(Some(Figure::exact(round_significant(value, DIGITS))))
    }

    /// Takes the pot's height into the recipe, which has it under where the blend goes.
    fn read_height(&self, recipe: &mut Recipe) -> Result<(), Wrong> {
        if is_bed(recipe) {
            return Ok(());
        }
        let typed = self.number("height", ANY)?;
        let drained = recipe.measured(self.sample, Measurement::Drained);
        let (Some(value), Some(_)) = (typed, drained) else {
            return Ok(());
        };
        let unit = self.form.unit(&self.name("height-unit"));
        let unit = unit.unwrap_or(Unit::Centimetre);
        let place = recipe.place.get_or_insert_default();
        let same = |height: &Amount| in_table(height.si() / unit.factor()) == self.text("height");
        if !place.height.as_ref().is_some_and(same) {
            place.height = Some(Amount::new(value, unit));
        }
        place.kind = place.kind.or(Some(PlaceKind::Container));
        Ok(())
    }
}

/// Whether what drains out of it goes into the ground below, so that no pot can be compared.
fn is_bed(recipe: &Recipe) -> bool {
    recipe.place.as_ref().is_some_and(|place| {
        place.kind == Some(PlaceKind::Bed)
            && !matches!(place.on, Some(Support::Deck | Support::Roof))
    })
}

/// The sample that is shown.
fn shown(form: &Form) -> Sample {
    if form.text("sample") == Sample::Ground.spelling() {
        Sample::Ground
    } else {
        Sample::Blend
    }
}

pub(super) fn fill(tool: &Tool) {
    let form = &tool.form;
    for sample in Sample::ALL.iter().copied() {
        let list = form.list(sample.spelling());
        let Some(ways) = super::part("measure-ways") else {
            return;
        };
        list.append_child(&ways);
        for attribute in ["name", "data-follow"] {
            for element in list.query_selector_all(&["[", attribute, "]"].concat()) {
                let name = element.get_attribute(attribute).unwrap_or_default();
                set(
                    &element,
                    attribute,
                    &[sample.spelling(), ".", &name].concat(),
                );
            }
        }
        for unit in list.query_selector_all("[data-part=density-unit]") {
            unit.set_text_content(tool.speech.units.density_unit());
        }
        let mut any = false;
        for way in list.query_selector_all("[data-way]") {
            let name = way.get_attribute("data-way").unwrap_or_default();
            let Some(of) = of(sample).find(|of| of.name() == name) else {
                way.remove();
                continue;
            };
            if let Some(errs) = way.query_selector(".errs") {
                errs.set_text_content(&usual_error_text(of));
            }
            if tool.recipe.measured(sample, of).is_some() {
                set(&way, "open", "");
                any = true;
            }
        }
        if !any && let Some(first) = list.query_selector("[data-way]") {
            set(&first, "open", "");
        }
        Boxes::of(tool, sample).fill();
    }
    let bed = is_bed(&tool.recipe);
    set_hidden(&form.part("[data-part=bed]"), !bed);
    set_hidden(&form.part("[data-part=height-why]"), bed);
    let height = form.part("[name='blend.height']");
    if let Some(height) = around(&height, "label") {
        set_hidden(&height, bed);
    }
}

/// Shows the sample that the tool was asked for about.
pub(super) fn show_sample(form: &Form, about: &str) {
    form.set("sample", if about == "ground" { "ground" } else { "blend" });
}

pub(super) fn answer(tool: &Tool) -> Result<Answer, Wrong> {
    let form = &tool.form;
    let mut recipe = tool.recipe.clone();
    let mut wrong: Option<Wrong> = None;
    for sample in Sample::ALL.iter().copied() {
        let boxes = Boxes::of(tool, sample);
        for of in of(sample) {
            let read = boxes.read(of);
            let told = match &read {
                Ok(Some(figure)) => measured_text(of, *figure, tool.speech),
                _ => String::new(),
            };
            let place = format!(
                "[data-list={}] [data-way={}] .comes",
                sample.spelling(),
                of.name()
            );
            form.write(&place, &told);
            match read {
                Ok(figure) => recipe.set_measured(sample, of, figure),
                Err(found) => keep_first(&mut wrong, found, sample, form),
            }
        }
    }
    if let Err(found) = Boxes::of(tool, Sample::Blend).read_height(&mut recipe) {
        keep_first(&mut wrong, found, Sample::Blend, form);
    }
    set_hidden(&form.part("[data-part=does]"), true);
    if let Some(wrong) = wrong {
        return Err(wrong);
    }
    let outcome = match Outcome::of(&recipe) {
        Ok(outcome) => outcome,
        Err(error) => {
            if let Some(field) = error.path.as_str().strip_prefix("measured.") {
                return Err(Wrong::at(field, error_text(&error)));
            }
            // What is to be mended elsewhere does not keep anyone from measuring.
            return Ok(Answer {
                lines: vec![error_text(&error)],
                recipe: Some(recipe),
            });
        }
    };
    let mut lines = Vec::new();
    if let Some(measured) = &outcome.measured {
        for found in &measured.disagreements {
            lines.push(disagreement_text(found, tool.speech));
        }
        for (sample, of) in &measured.unused {
            lines.push(remark_text(&Remark::NotCompared(*sample, *of), tool.speech));
        }
        let few = |note: &Remark| matches!(note, Remark::FewAgree { .. });
        lines.push(agreement_text(measured, outcome.notes.iter().any(few)));
        compare(tool, &recipe, &outcome);
    }
    Ok(Answer {
        lines,
        recipe: Some(recipe),
    })
}

/// What cannot be is told before what is still to be typed.
fn keep_first(wrong: &mut Option<Wrong>, mut found: Wrong, sample: Sample, form: &Form) {
    if wrong
        .as_ref()
        .is_none_or(|first| first.missing && !found.missing)
    {
        if sample != shown(form) {
            found.text = of_the_other_text(sample, &found.text);
        }
        *wrong = Some(found);
    }
}

/// Figures without what was measured, and with it.
fn compare(tool: &Tool, recipe: &Recipe, outcome: &Outcome) {
    let mut without = recipe.clone();
    for sample in Sample::ALL {
        for of in Measurement::ALL {
            without.set_measured(*sample, *of, None);
        }
    }
    let Ok(before) = Outcome::of(&without) else {
        return;
    };
    let form = &tool.form;
    let list = form.list("compared");
    let sample = shown(form);
    let after = figures(outcome, sample, tool.speech);
    for ((name, before), (_, after)) in figures(&before, sample, tool.speech).iter().zip(&after) {
        let row = make("tr");
        set(&put(&row, "th", label_of_measure(name)), "scope", "row");
        for told in [before, after] {
            let cell = put(&row, "td", &[&told.value, " "].concat());
            put(&cell, "span", &range_behind(told));
        }
        list.append_child(&row);
    }
    set_hidden(&form.part("[data-part=does]"), false);
}

fn figures(outcome: &Outcome, sample: Sample, speech: Speech) -> [(&'static str, Told); 5] {
    let (density, pores, parts, drainage) = match sample {
        Sample::Blend => (
            outcome.bulk_density_kg_m3.settled,
            outcome.pore_space_pct.settled,
            &outcome.pores_pct,
            outcome.drainage_mm_h,
        ),
        Sample::Ground => (
            outcome.ground.lying_density_kg_m3,
            outcome.ground.lying_pore_space_pct,
            &outcome.ground.lying_pores_pct,
            outcome.ground.drainage_mm_h[0],
        ),
    };
    [
        ("density", speech.density_told(density)),
        ("pores", Told::percent(pores, 1.0)),
        ("air", Told::percent(parts.air, 1.0)),
        ("water", Told::percent(parts.available_water, 1.0)),
        ("drains", drains_told(drainage)),
    ]
}

/// Opens the way that holds what is wrong.
pub(super) fn unfold(form: &Form) {
    let field = form.find("[aria-invalid]");
    if let Some(way) = field.and_then(|field| around(&field, "details")) {
        set(&way, "open", "");
    }
}

/// Empties the boxes of the sample that is shown; gives the recipe without it where that held any.
pub(super) fn clear(tool: &Tool) -> Option<Recipe> {
    let sample = shown(&tool.form);
    let mut recipe = tool.recipe.clone();
    let list = ["[data-list=", sample.spelling(), "] input"].concat();
    for field in tool.form.all(&list) {
        // The pot is still as high.
        if field.get_attribute("name").as_deref() != Some("blend.height") {
            super::form::set_value(&field, "");
        }
    }
    for of in of(sample) {
        recipe.set_measured(sample, of, None);
    }
    (recipe != tool.recipe).then_some(recipe)
}
