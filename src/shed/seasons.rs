//! The section on the years: opened in place, it follows the recipe for as long as it is open, and
//! lets the page show the blend as it is in a later year.
//!
//! What is typical comes within the frame; the ranges once the slider is let go, or stands still.

mod draw;

use super::{form, page, section, speech, voice};
use crate::dom::{
    self, Document, Element, Event, by_id, document, find, make, set, set_hidden, window,
};
use crate::draws::Strata;
use crate::figure::Figure;
use crate::quantity::Unit;
use crate::recipe::{AMOUNT_LIMIT, Amount, Place, Recipe, Soil, from_letters, to_letters};
use crate::seasons::{
    Climate, EVERY_LIMITS, LEVEL_LIMITS_PCT, SURPLUS_LIMITS_MM, Season, Seasons, SeasonsError,
    TEMPERATURE_LIMITS_C, TopUp, aged_with, hold, organic_matter_pct,
};
use crate::words::{
    SEASONS_OPENS, Speech, Typed, hold_sentence, in_year, parse_typed, rain_unit,
    round_significant, season_row, season_sentences, seasons_error_text, shown as shown_number,
    top_up_materials, typed_text, warmth_unit, year_told, years_asked, years_sentence,
};
use std::cell::RefCell;
use wasm_bindgen::prelude::*;

/// Quiet time before the ranges are drawn, ms.
const RANGES_AFTER_MS: i32 = 150;
/// Draws of a typical evaluation: the fewest that go through the kernel.
const FEW: u32 = 2;
/// Years of the table, and those between which the band is drawn straight.
const ROWS: [f64; 6] = [0.0, 1.0, 2.0, 5.0, 10.0, 20.0];
const BAND: [f64; 9] = [0.0, 1.0, 2.0, 3.0, 5.0, 7.0, 10.0, 15.0, 20.0];
/// Years of the curve.
const CURVE_YEARS: u8 = 20;
/// Events after which the recipe may be another one.
const EVENTS: [&str; 4] = ["input", "change", "click", "keyup"];
/// Tops up where the recipe has nothing organic.
const USUAL: &str = "yard_compost";

/// The open section.
struct Section {
    /// The recipe and the units that are shown.
    letters: String,
    us: bool,
    /// Whether something of the section itself was changed.
    touched: bool,
    /// Whether nothing but the year was moved.
    moved: bool,
    resized: bool,
    recipe: Option<Recipe>,
    speech: Speech,
    /// Whether the ranges are those of the recipe.
    ranges: bool,
    strata: Strata,
    few: Strata,
    year: f64,
    /// A mean temperature that is not yet in the recipe, C; what is inside may be none.
    mean_c: Option<Option<f64>>,
    surplus_mm: Option<f64>,
    grass: bool,
    amount: Option<f64>,
    unit: Unit,
    material: Option<String>,
    every_years: u32,
    level_pct: Option<f64>,
    /// Whether the last fault that is told is one of climate or top-up.
    told_fault: bool,
    /// Materials as they stand in the list.
    materials: Vec<(String, String)>,
    /// The recipe that the page shows, in letters.
    shown: String,
    /// The blend today, and what holds its level.
    today: Option<Season>,
    holds: Option<String>,
    /// The line, and the seasons of the band where they are of this recipe.
    line: Vec<[f64; 2]>,
    band: Vec<Season>,
    drawing: draw::Drawing,
}

thread_local! {
    static SECTION: RefCell<Option<Section>> = const { RefCell::new(None) };
    static ASKED: RefCell<bool> = const { RefCell::new(false) };
    static TIMER: RefCell<Option<i32>> = const { RefCell::new(None) };
    static FRAME: Closure<dyn FnMut()> = Closure::new(frame);
    static RANGES: Closure<dyn FnMut()> = Closure::new(ranges);
}

fn with_section(act: impl FnOnce(&mut Section)) {
    SECTION.with(|cell| {
        if let Ok(mut section) = cell.try_borrow_mut()
            && let Some(section) = section.as_mut()
        {
            act(section);
        }
    });
}

fn body() -> Element {
    by_id("seasons-body")
}

fn is_open() -> bool {
    !body().has_attribute("hidden")
}

/// The recipe of the year that is shown, in letters; none today.
pub(super) fn shown() -> Option<String> {
    let mut shown = None;
    with_section(|section| shown = (!section.shown.is_empty()).then(|| section.shown.clone()));
    shown
}

/// Opens the section in place, or folds it; folded, it is today.
pub(super) fn toggle(parts: Option<Document>) {
    let body = body();
    let opens = body.has_attribute("hidden");
    if opens && SECTION.with(|cell| cell.borrow().is_none()) {
        let Some(parts) = parts else {
            return;
        };
        if furnish(&parts, &body).is_none() {
            return;
        }
    }
    set_hidden(&body, !opens);
    let button = by_id("seasons-open");
    set(
        &button,
        "aria-expanded",
        if opens { "true" } else { "false" },
    );
    put(&button, SEASONS_OPENS[usize::from(opens)].text());
    with_section(|section| {
        if opens {
            let _ = section.drawing.measure();
            section.touched = true;
        } else {
            section.year = 0.0;
            section.show(String::new());
            section.fill();
        }
    });
    if opens {
        ranges();
    }
}

fn furnish(parts: &Document, body: &Element) -> Option<()> {
    let template = parts.get_element_by_id("seasons")?;
    body.append_child(&document().import_node(&template.content(), true));
    let recipe = from_letters(&page::recipe()).ok();
    let unit = match recipe.as_ref().map(|recipe| &recipe.soil) {
        Some(Soil::Bed { .. }) if page::speaks_us() => Unit::Inch,
        Some(Soil::Bed { .. }) => Unit::Millimetre,
        _ => Unit::Litre,
    };
    SECTION.with(|cell| {
        *cell.borrow_mut() = Some(Section {
            letters: String::new(),
            us: false,
            touched: true,
            moved: false,
            resized: false,
            recipe: None,
            speech: speech(),
            ranges: false,
            strata: Strata::default(),
            few: Strata::of(FEW),
            year: 0.0,
            mean_c: None,
            surplus_mm: None,
            grass: false,
            amount: None,
            unit,
            material: None,
            every_years: 1,
            level_pct: None,
            told_fault: false,
            materials: Vec::new(),
            shown: String::new(),
            today: None,
            holds: None,
            line: Vec::new(),
            band: Vec::new(),
            drawing: draw::Drawing::default(),
        });
    });
    if let Some(list) = field("unit", "select") {
        form::set_value(&list, unit.spelling());
    }
    voice::listen();
    for kind in EVENTS {
        let lets_go = kind == "change";
        dom::on(kind, move |event| {
            if dom::closest(&event, "#seasons-body").is_some() {
                touched(&event, lets_go);
            }
            follow();
        });
    }
    for kind in ["hashchange", "resize"] {
        let resized = kind == "resize";
        dom::listen(&window(), kind, move |_| {
            if resized && is_open() {
                with_section(|section| section.resized |= section.drawing.measure());
            }
            follow();
        });
    }
    Some(())
}

/// Looks in the next frame whether the recipe has become another one.
fn follow() {
    if !is_open() || ASKED.with(|asked| asked.replace(true)) {
        return;
    }
    FRAME.with(|closure| {
        window().request_animation_frame(closure.as_ref());
    });
}

/// Draws the ranges after a while, unless something moves before.
fn later(ms: i32) {
    TIMER.with(|timer| {
        if let Some(old) = timer.take() {
            window().clear_timeout(old);
        }
        RANGES.with(|closure| {
            *timer.borrow_mut() = Some(window().set_timeout(closure.as_ref(), ms));
        });
    });
}

fn frame() {
    ASKED.with(|asked| asked.replace(false));
    if !is_open() {
        return;
    }
    with_section(|section| {
        let (letters, us) = (page::recipe(), page::speaks_us());
        let is_another = letters != section.letters || us != section.us;
        let all = is_another || section.touched;
        if all || section.moved {
            section.letters = letters;
            section.us = us;
            section.touched = false;
            section.moved = false;
            section.speech = speech();
            section.recipe = from_letters(&section.letters).ok();
            section.refresh(all);
            later(RANGES_AFTER_MS);
        } else if section.resized {
            section.draw();
        }
        section.resized = false;
    });
}

/// Writes what was moved into the recipe, and draws the ranges.
fn ranges() {
    if !is_open() {
        return;
    }
    let mut mean_c = None;
    with_section(|section| mean_c = section.mean_c.take());
    if let Some(mean_c) = mean_c {
        keep_mean(mean_c);
        with_section(|section| section.touched = true);
        // What the water section shows hangs on the year, not on this.
    }
    frame();
    with_section(|section| {
        if !section.ranges {
            section.draw_ranges();
        }
        let first = part("says").query_selector("li");
        let told = first.map_or(String::new(), |first| first.text_content());
        voice::tell(&part("told"), &told);
    });
}

/// Puts a mean temperature into the recipe.
fn keep_mean(mean_c: Option<f64>) {
    let Ok(mut recipe) = from_letters(&page::recipe()) else {
        return;
    };
    let mut place = recipe.place.take().unwrap_or_default();
    if place.mean_temperature_c == mean_c {
        return;
    }
    place.mean_temperature_c = mean_c;
    recipe.place = (place != Place::default()).then_some(place);
    let wrong = page::take(&to_letters(&recipe), false);
    put(&by_id("seasons-says"), &wrong);
}

/// The part of a name.
fn part(name: &str) -> Element {
    find(&["#seasons-body [data-part=", name, "]"].concat()).unwrap_or_else(|| make("span"))
}

/// The box, slider or list of a name.
fn field(name: &str, kind: &str) -> Option<Element> {
    let of = if kind == "select" {
        ["select[name=", name, "]"].concat()
    } else {
        ["input[type=", kind, "][name=", name, "]"].concat()
    };
    body().query_selector(&of)
}

/// Writes a text where it is another one; a number keeps its percent on its line.
fn put(place: &Element, text: &str) {
    let text = &text.replace(" %", "\u{a0}%");
    if place.text_content() != *text {
        place.set_text_content(text);
    }
}

impl Section {
    fn climate(&self, recipe: &Recipe) -> Climate {
        let mut climate = Climate::of(recipe);
        match self.mean_c {
            Some(Some(mean_c)) => climate.mean_temperature_c = Figure::exact(mean_c),
            Some(None) => climate.mean_temperature_c = crate::seasons::MEAN_TEMPERATURE_C,
            None => {}
        }
        if let Some(surplus_mm) = self.surplus_mm {
            climate.surplus_mm = Figure::exact(surplus_mm);
        }
        climate.grass = self.grass;
        climate
    }

    /// The material that tops up and holds.
    fn material(&self) -> String {
        let known = |id: &&String| self.materials.iter().any(|(other, _)| other == *id);
        let chosen = self.material.as_ref().filter(known);
        let first = self.materials.first().map(|(id, _)| id);
        chosen
            .or(first)
            .map_or(USUAL.to_owned(), |id| id.to_owned())
    }

    fn top_up(&self) -> Option<TopUp> {
        let value = self.amount.filter(|amount| *amount > 0.0)?;
        Some(TopUp {
            material: self.material(),
            amount: Amount::new(value, self.unit),
            every_years: self.every_years,
        })
    }

    /// Everything that comes within the frame, or what hangs on the year alone.
    fn refresh(&mut self, all: bool) {
        if all {
            self.ranges = false;
            self.list_materials();
        }
        self.fill();
        let told = match self.recipe.take() {
            Some(recipe) => {
                let told = self.tell(&recipe, all);
                self.recipe = Some(recipe);
                told
            }
            None => {
                set_hidden(&part("stale"), false);
                return;
            }
        };
        let fault = told.err();
        let is_stale = matches!(fault, Some(SeasonsError::Recipe(_)));
        set_hidden(&part("stale"), !is_stale);
        let text = fault.as_ref().and_then(seasons_error_text);
        // What is typed wrong stays told.
        if body().query_selector("[aria-invalid]").is_none() && (text.is_some() || self.told_fault)
        {
            put(&by_id("seasons-says"), text.as_deref().unwrap_or_default());
        }
        self.told_fault = text.is_some();
    }

    /// Shows the year on the page, writes sentences and draws; with `all` also what hangs on the
    /// recipe.
    fn tell(&mut self, recipe: &Recipe, all: bool) -> Result<(), SeasonsError> {
        let climate = self.climate(recipe);
        let top_up = self.top_up();
        let top_up = top_up.as_ref();
        let later = aged_with(recipe, self.year, &climate, top_up)?;
        let mut seasons = Seasons::from(recipe, &climate, top_up, &mut self.few)?;
        let mut rows = Vec::with_capacity(ROWS.len());
        for year in ROWS.into_iter().take(if all { ROWS.len() } else { 0 }) {
            rows.push(seasons.at(year)?);
        }
        let season = seasons.at(self.year)?;
        self.show(if self.year > 0.0 {
            to_letters(&later)
        } else {
            String::new()
        });
        if all {
            self.write_all(recipe, &climate, top_up, rows)?;
        }
        if let Some(today) = &self.today {
            let mut texts = season_sentences(&season, today, self.speech);
            texts.extend(self.holds.clone());
            write_list(&part("says"), &texts);
        }
        put(&part("heading"), &capital(&year_told(self.year)));
        self.draw();
        Ok(())
    }

    /// What hangs on the recipe and not on the year: rows, line, what holds the level.
    fn write_all(
        &mut self,
        recipe: &Recipe,
        climate: &Climate,
        top_up: Option<&TopUp>,
        mut rows: Vec<Season>,
    ) -> Result<(), SeasonsError> {
        let body = body();
        if !body.has_attribute("data-waits") {
            set(&body, "data-waits", "");
        }
        self.write_rows(&rows, false);
        let today = rows.swap_remove(0);
        let with_char = today.organic_matter_with_char_pct.is_some();
        self.line.clear();
        for year in (0..=CURVE_YEARS).map(f64::from) {
            let pct = organic_matter_pct(recipe, climate, top_up, with_char, year)?;
            self.line.push([year, pct.map_or(0.0, |pct| pct.typical)]);
        }
        self.band.clear();
        let now_pct = today.organic_matter_pct.map(|figure| figure.typical);
        let (low, high) = LEVEL_LIMITS_PCT;
        let level = self.level_pct.or(now_pct);
        self.holds = None;
        if let Some(level_pct) = level.filter(|level| (low..=high).contains(level)) {
            let material = self.material();
            let held = hold(recipe, climate, level_pct, &material)?;
            let name = recipe.find(&material).map_or("", |found| found.name());
            let held = held.as_ref();
            self.holds = Some(hold_sentence(held, level_pct, now_pct, name, self.speech));
        }
        self.today = Some(today);
        if let [from, .., to] = self.line.as_slice() {
            let some = |[_, pct]: &[f64; 2]| (*pct > 0.0).then_some(*pct);
            let text = years_sentence(some(from), some(to), f64::from(CURVE_YEARS));
            put(&part("curve-says"), &text);
        }
        Ok(())
    }

    /// Lets the page show a recipe, or its own.
    fn show(&mut self, letters: String) {
        put(
            &by_id("in-year"),
            &if letters.is_empty() {
                String::new()
            } else {
                in_year(self.year)
            },
        );
        if letters == self.shown {
            return;
        }
        page::shows(&letters);
        self.shown = letters;
        section::follow();
    }

    /// The ranges, from all draws.
    fn draw_ranges(&mut self) {
        let Some(recipe) = self.recipe.take() else {
            return;
        };
        if let Ok(band) = self.all_draws(&recipe) {
            self.ranges = true;
            let rows: Vec<&Season> = band
                .iter()
                .filter(|season| ROWS.contains(&season.year))
                .collect();
            for (at, season) in rows.into_iter().enumerate() {
                self.write_row(at, season, true);
            }
            self.band = band;
            self.draw();
            body().remove_attribute("data-waits");
        }
        self.recipe = Some(recipe);
    }

    fn all_draws(&mut self, recipe: &Recipe) -> Result<Vec<Season>, SeasonsError> {
        let climate = self.climate(recipe);
        let top_up = self.top_up();
        let mut seasons = Seasons::from(recipe, &climate, top_up.as_ref(), &mut self.strata)?;
        let mut band = Vec::with_capacity(BAND.len());
        for year in BAND {
            band.push(seasons.at(year)?);
        }
        Ok(band)
    }

    fn write_rows(&self, rows: &[Season], with_ranges: bool) {
        for (at, season) in rows.iter().enumerate() {
            self.write_row(at, season, with_ranges);
        }
    }

    fn write_row(&self, at: usize, season: &Season, with_ranges: bool) {
        let list = part("rows");
        let texts = season_row(season, self.speech);
        let rows = list.query_selector_all("tr");
        let row = match rows.get(at) {
            Some(row) => row.clone(),
            None => {
                let row = make("tr");
                for index in 0..texts.len() {
                    let cell = form::put(&row, if index == 0 { "th" } else { "td" }, "");
                    if index == 0 {
                        set(&cell, "scope", "row");
                    } else if index == 2 {
                        set(&cell, "class", "within");
                    }
                }
                list.append_child(&row);
                row
            }
        };
        let cells = row.query_selector_all("th, td");
        for (index, (cell, text)) in cells.iter().zip(&texts).enumerate() {
            // Of two draws there is no range.
            if index != 2 || with_ranges {
                put(cell, text);
            }
        }
    }

    fn draw(&mut self) {
        let band: Vec<[f64; 3]> = self
            .band
            .iter()
            .filter_map(|season| {
                let with_char = season.organic_matter_with_char_pct;
                let ends = with_char.or(season.organic_matter_pct)?.ends();
                Some([season.year, ends.low, ends.high])
            })
            .collect();
        self.drawing.draw(&self.line, &band, self.year);
    }

    /// The list of materials, where it is another one.
    fn list_materials(&mut self) {
        let Some(recipe) = &self.recipe else { return };
        let materials = top_up_materials(recipe);
        if materials == self.materials {
            return;
        }
        self.materials = materials;
        if let Some(list) = field("material", "select") {
            list.set_text_content("");
            for (id, name) in &self.materials {
                list.append_child(&form::option(id, name));
            }
            form::set_value(&list, &self.material());
        }
    }

    /// Shows everything in its controls; a box that is typed into stays as it is.
    fn fill(&self) {
        let active = document().active_element();
        let fill = |name: &str, value: Option<f64>, [factor, offset]: [f64; 2], unit: &str| {
            if let Some(slider) = field(name, "range") {
                // A range that is not told stands in the middle of what is usual.
                let usual = match name {
                    "mean" => crate::seasons::MEAN_TEMPERATURE_C.typical,
                    "surplus" => crate::seasons::SURPLUS_MM.typical,
                    _ => 0.0,
                };
                let value = value.unwrap_or(usual);
                if active.as_ref() != Some(&slider) {
                    // A slider takes a point in every language.
                    form::set_value(&slider, &crate::recipe::number_text(value));
                }
                let told = if name == "year" {
                    year_told(value)
                } else {
                    let number = shown_number(round_significant(value * factor + offset, 3));
                    [&number, " ", unit].concat()
                };
                if slider.get_attribute("aria-valuetext").as_deref() != Some(&told) {
                    set(&slider, "aria-valuetext", &told);
                }
            }
            if let Some(field) = field(name, "text") {
                let typed = active.as_ref() == Some(&field) || field.has_attribute("aria-invalid");
                if !typed {
                    let text = value.map_or(String::new(), |value| {
                        shown_number(round_significant(value * factor + offset, 4))
                    });
                    form::set_value(&field, &text);
                }
            }
        };
        let (warmth, factor, offset) = warmth_unit(self.speech);
        let (rain, per_mm) = rain_unit(self.speech);
        put(&part("unit-mean"), warmth);
        put(&part("unit-surplus"), rain);
        fill("year", Some(self.year), [1.0, 0.0], "");
        let place = self
            .recipe
            .as_ref()
            .and_then(|recipe| recipe.place.as_ref());
        let told_c = place.and_then(|place| place.mean_temperature_c);
        fill(
            "mean",
            self.mean_c.unwrap_or(told_c),
            [factor, offset],
            warmth,
        );
        fill("surplus", self.surplus_mm, [per_mm, 0.0], rain);
        for (name, usual) in [
            ("mean", crate::seasons::MEAN_TEMPERATURE_C),
            ("surplus", crate::seasons::SURPLUS_MM),
        ] {
            let [factor, offset] = if name == "mean" {
                [factor, offset]
            } else {
                [per_mm, 0.0]
            };
            if let Some(field) = field(name, "text") {
                let text = shown_number(round_significant(usual.typical * factor + offset, 2));
                set(&field, "placeholder", &text);
            }
        }
    }
}

/// Items of a list, as many as there are texts.
fn write_list(list: &Element, texts: &[String]) {
    let items = list.query_selector_all("li");
    for (item, text) in items.iter().zip(texts) {
        put(item, text);
    }
    for extra in items.iter().skip(texts.len()) {
        extra.remove();
    }
    for text in texts.iter().skip(items.len()) {
        put(&form::put(list, "li", ""), text);
    }
}

fn capital(text: &str) -> String {
    let mut text = text.to_owned();
    if let Some(first) = text.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    text
}

/// A number as typed, in the unit of the recipe; nothing where nothing is typed.
fn read(
    field: &Element,
    (low, high): (f64, f64),
    [factor, offset]: [f64; 2],
) -> Result<Option<f64>, String> {
    let shown = |value: f64| value * factor + offset;
    match parse_typed(&form::value(field)) {
        Typed::Empty => Ok(None),
        Typed::Number(value) => {
            let value = (value - offset) / factor;
            if value >= low && value <= high {
                Ok(Some(value))
            } else {
                Err(typed_text(
                    Typed::Number(shown(value)),
                    shown(low),
                    shown(high),
                ))
            }
        }
        typed => Err(typed_text(typed, shown(low), shown(high))),
    }
}

/// Something in the section was touched.
fn touched(event: &Event, lets_go: bool) {
    if !matches!(event.kind().as_str(), "input" | "change") {
        return;
    }
    let Some(field) = dom::closest(event, "[name]") else {
        return;
    };
    let name = field.get_attribute("name").unwrap_or_default();
    let is_slider = field.get_attribute("type").as_deref() == Some("range");
    with_section(|section| {
        if name == "year" {
            section.moved = true;
        } else {
            section.touched = true;
        }
        match name.as_str() {
            "grass" => {
                section.grass = field.checked();
                return;
            }
            "unit" => {
                if let Some(unit) = Unit::from_spelling(&form::value(&field)) {
                    section.unit = unit;
                }
                return;
            }
            "material" => {
                section.material = Some(form::value(&field));
                return;
            }
            _ => {}
        }
        let (_, factor, offset) = warmth_unit(section.speech);
        let (_, per_mm) = rain_unit(section.speech);
        let (limits, unit) = match name.as_str() {
            "mean" => (TEMPERATURE_LIMITS_C, [factor, offset]),
            "surplus" => (SURPLUS_LIMITS_MM, [per_mm, 0.0]),
            "every" => (EVERY_LIMITS, [1.0, 0.0]),
            "level" => (LEVEL_LIMITS_PCT, [1.0, 0.0]),
            "amount" => ((0.0, AMOUNT_LIMIT), [1.0, 0.0]),
            _ => ((0.0, f64::from(CURVE_YEARS)), [1.0, 0.0]),
        };
        // A slider carries the number itself.
        let unit = if is_slider { [1.0, 0.0] } else { unit };
        match read(&field, limits, unit) {
            Err(text) => {
                set(&field, "aria-invalid", "true");
                let text = match name.as_str() {
                    "year" => years_asked(limits.0, limits.1),
                    _ => text,
                };
                put(&by_id("seasons-says"), &text);
            }
            Ok(value) => {
                field.remove_attribute("aria-invalid");
                if is_slider && let Some(twin) = self::field(&name, "text") {
                    twin.remove_attribute("aria-invalid");
                }
                if body().query_selector("[aria-invalid]").is_none() {
                    put(&by_id("seasons-says"), "");
                }
                match name.as_str() {
                    "year" => section.year = value.unwrap_or(0.0),
                    "mean" if is_slider || !section.is_mean_as_shown(&field) => {
                        section.mean_c = Some(value);
                    }
                    "surplus" if is_slider || lets_go || value.is_some() => {
                        section.surplus_mm = value;
                    }
                    "every" => section.every_years = value.map_or(1, |years| years.max(1.0) as u32),
                    "level" => section.level_pct = value,
                    "amount" => section.amount = value,
                    _ => {}
                }
            }
        }
    });
}

impl Section {
    /// Whether the box says what the recipe says: then nothing was typed.
    fn is_mean_as_shown(&self, field: &Element) -> bool {
        let place = self
            .recipe
            .as_ref()
            .and_then(|recipe| recipe.place.as_ref());
        let (_, factor, offset) = warmth_unit(self.speech);
        let text = place
            .and_then(|place| place.mean_temperature_c)
            .map_or(String::new(), |value| {
                shown_number(round_significant(value * factor + offset, 4))
            });
        self.mean_c.is_none() && form::value(field).trim() == text
    }
}
