//! The section on water and pots: opened in place, it follows the recipe for as long as it is open.
//!
//! What is drawn and the typical numbers come within the frame, from two draws; the ranges once the
//! slider is let go, or stands still.

mod draw;

use super::form;
use super::{page, speech};
use crate::dom::{
    self, Document, Element, Event, by_id, document, find, make, set, set_hidden, window,
};
use crate::draws::Strata;
use crate::figure::Figure;
use crate::outcome::{Home, Measure, Outcome, Use, Watered, days, drainage_odds, middle_half};
use crate::recipe::{Amount, Place, PlaceKind, Recipe, from_letters, to_letters};
use crate::water::roots::Roots;
use crate::words::{
    NO_WET_LAYER, Speech, Told, Typed, WATER_OPENS, about, clay_drains_text, curve_sentence,
    days_missing, days_sentence, drainage_heads, drainage_told, length_unit, lifting_text,
    no_roots_text, parse_typed, percent, pot_points, pot_sentence, roots_sentence,
    round_significant, shown, typed_text, water_told, weights_of,
};
use std::cell::RefCell;
use wasm_bindgen::prelude::*;

/// Quiet time before the ranges are drawn, ms.
const RANGES_AFTER_MS: i32 = 150;
/// Draws of a typical evaluation: the fewest that go through the kernel.
const FEW: u32 = 2;
/// Lengths that can be typed, cm: those of a place's height.
const LENGTHS_CM: (f64, f64) = (1.0, 300.0);
const CM_PER_M: f64 = 100.0;
/// Events after which the recipe may be another one.
const EVENTS: [&str; 4] = ["input", "change", "click", "keyup"];

/// The open section.
struct Section {
    /// The recipe and the units that are shown.
    letters: String,
    us: bool,
    /// Whether it has to be drawn in another size.
    resized: bool,
    recipe: Option<Recipe>,
    speech: Speech,
    /// Whether the ranges are those of the recipe.
    ranges: bool,
    strata: Strata,
    few: Strata,
    use_of: Use,
    /// Widths of the drawings, so that nothing is measured while a slider moves.
    drawing: draw::Drawing,
}

thread_local! {
    static SECTION: RefCell<Option<Section>> = const { RefCell::new(None) };
    static ASKED: RefCell<bool> = const { RefCell::new(false) };
    static TIMER: RefCell<Option<i32>> = const { RefCell::new(None) };
    /// Whether a control was let go since the last frame.
    static LET_GO: RefCell<bool> = const { RefCell::new(false) };
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

fn is_open() -> bool {
    !by_id("water-body").has_attribute("hidden")
}

/// Opens the section in place, or folds it.
pub(super) fn toggle(parts: Option<Document>) {
    let body = by_id("water-body");
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
    let button = by_id("water-open");
    set(
        &button,
        "aria-expanded",
        if opens { "true" } else { "false" },
    );
    put(&button, WATER_OPENS[usize::from(opens)]);
    if opens {
        with_section(|section| {
            let _ = section.drawing.measure();
            section.letters.clear();
        });
        ranges();
    }
}

fn furnish(parts: &Document, body: &Element) -> Option<()> {
    let template = parts.get_element_by_id("water")?;
    body.append_child(&document().import_node(&template.content(), true));
    SECTION.with(|cell| {
        *cell.borrow_mut() = Some(Section {
            letters: String::new(),
            us: false,
            resized: false,
            recipe: None,
            speech: speech(),
            ranges: false,
            strata: Strata::default(),
            few: Strata::of(FEW),
            use_of: Use::Warm,
            drawing: draw::Drawing::default(),
        });
    });
    for kind in EVENTS {
        let lets_go = kind == "change";
        dom::on(kind, move |event| {
            if dom::closest(&event, "#water-body").is_some() {
                touched(&event, lets_go);
            }
            if lets_go {
                LET_GO.with(|let_go| let_go.replace(true));
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
pub(super) fn follow() {
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
        // A year that is shown is shown here too.
        let letters = super::seasons::shown().unwrap_or_else(page::recipe);
        let us = page::speaks_us();
        let let_go = LET_GO.with(|let_go| let_go.replace(false));
        let after_ms = if let_go { 0 } else { RANGES_AFTER_MS };
        if letters == section.letters && us == section.us && !section.resized {
            if let_go && !section.ranges {
                later(after_ms);
            }
            return;
        }
        let stays = letters == section.letters && us == section.us && section.ranges;
        if section.resized && stays {
            section.resized = false;
            section.draw_all();
            return;
        }
        section.resized = false;
        section.letters = letters;
        section.us = us;
        section.speech = speech();
        let recipe = from_letters(&section.letters).ok();
        let outcome = recipe
            .as_ref()
            .and_then(|recipe| Outcome::drawn_from(recipe, &mut section.few).ok());
        set_hidden(&part("stale"), outcome.is_some());
        section.recipe = recipe;
        section.ranges = false;
        fill_home(section);
        if let Some(outcome) = outcome {
            write(section, &outcome, false);
            later(after_ms);
        }
    });
}

fn ranges() {
    if !is_open() {
        return;
    }
    frame();
    with_section(|section| {
        if section.ranges {
            return;
        }
        section.draw_all();
    });
}

impl Section {
    /// Everything with its ranges.
    fn draw_all(&mut self) {
        let Some(recipe) = &self.recipe else {
            return;
        };
        if let Ok(outcome) = Outcome::drawn_from(recipe, &mut self.strata) {
            self.ranges = true;
            write(self, &outcome, true);
            put_text("told", &water_told(&outcome));
        }
    }
}

/// The part of a name.
fn part(name: &str) -> Element {
    find(&["#water-body [data-part=", name, "]"].concat()).unwrap_or_else(|| make("span"))
}

/// Writes a text where it is another one; a number keeps its percent on its line.
fn put(place: &Element, text: &str) {
    let text = &text.replace(" %", "\u{a0}%");
    if place.text_content() != *text {
        place.set_text_content(text);
    }
}

fn put_text(name: &str, text: &str) {
    put(&part(name), text);
}

/// Writes a value, and its range where the draws were made.
fn put_told([value, range]: [&str; 2], told: &Told, with_ranges: bool) {
    put_text(value, &told.value);
    if with_ranges {
        put_text(range, &told.range);
    }
}

/// Items of a list, as many as there are texts.
fn put_list(list: &Element, texts: &[String]) {
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

/// Writes and draws all of it.
fn write(section: &mut Section, outcome: &Outcome, with_ranges: bool) {
    let Some(recipe) = section.recipe.clone() else {
        return;
    };
    let speech = section.speech;
    let body = by_id("water-body");
    // Ranges that belong to another recipe are not shown.
    if with_ranges {
        body.remove_attribute("data-waits");
    } else if !body.has_attribute("data-waits") {
        set(&body, "data-waits", "");
    }
    let watered = Watered::of(&recipe, outcome);
    write_home(&watered, outcome, speech, with_ranges);
    put_text("curve-says", &curve_sentence(outcome));
    write_days(section.use_of, &watered, outcome, speech, with_ranges);
    let place = recipe.place.as_ref();
    let count = place.and_then(|place| place.count).unwrap_or(1.0).max(1.0);
    put_text("weights-of", &weights_of(count, watered.home));
    for (name, figure) in [
        ("dry", outcome.dry_kg),
        ("moist", outcome.moist_kg),
        ("watered", outcome.watered_kg),
    ] {
        let told = speech.mass_told(figure.map(|kg| kg / count));
        let cells = [[name, "-0"].concat(), [name, "-1"].concat()];
        put_told([&cells[0], &cells[1]], &told, with_ranges);
    }
    let each_kg = outcome.watered_kg.typical / count;
    put_text("lifting", &lifting_text(each_kg, watered.home, speech));
    write_drainage(outcome, speech, with_ranges);
    let roots = outcome.texture.map(|texture| {
        let [_, _, clay] = texture.fractions_pct;
        (texture.class, Roots::of(texture.class, clay.typical))
    });
    put_text(
        "roots-says",
        &match &roots {
            Some((class, roots)) => roots_sentence(outcome, roots, *class, speech),
            None => no_roots_text().to_owned(),
        },
    );
    let roots = roots.map(|(_, roots)| roots);
    section
        .drawing
        .draw(&watered, outcome, roots.as_ref(), speech, with_ranges);
}

/// The pot or the bed in figures and sentences.
fn write_home(watered: &Watered, outcome: &Outcome, speech: Speech, with_ranges: bool) {
    put_text("pot-says", &pot_sentence(outcome, watered.home, speech));
    let whole = |pct: f64| percent(pct);
    let (kept, air, ground, wet) = match (watered.home, &outcome.container) {
        (Home::Pot(pot), Some(container)) => (
            container.water_pct,
            container.air_pct,
            watered.dug.map(|dug| dug.in_pot_pct(&pot)),
            [watered.dug, Some(watered.blend)].map(|profile| {
                profile.map_or(String::new(), |profile| {
                    speech.rough_length(profile.wet_layer_cm(&pot))
                })
            }),
        ),
        _ => {
            let pores = &outcome.pores_pct;
            let both = |low: Measure, high: Measure| {
                let sums = outcome.drawn.column(low).iter();
                let sums: Vec<f64> = sums
                    .zip(outcome.drawn.column(high))
                    .map(|(one, other)| one + other)
                    .collect();
                let typical = pores.available_water.typical + pores.unavailable_water.typical;
                match crate::draws::ends(&sums) {
                    Some(ends) => {
                        Figure::between(ends.low.min(typical), typical, ends.high.max(typical))
                    }
                    None => Figure::exact(typical),
                }
            };
            (
                both(Measure::Available, Measure::Unavailable),
                pores.air,
                watered
                    .dug
                    .map(|dug| [dug.water.field_capacity * 100.0, dug.water.air() * 100.0]),
                [NO_WET_LAYER.to_owned(), NO_WET_LAYER.to_owned()],
            )
        }
    };
    let [ground_kept, ground_air] =
        ground.map_or([String::new(), String::new()], |pair| pair.map(whole));
    put_text("kept-0", &ground_kept);
    put_text("air-0", &ground_air);
    put_told(["kept-1", "kept-2"], &Told::percent(kept, 1.0), with_ranges);
    put_told(["air-1", "air-2"], &Told::percent(air, 1.0), with_ranges);
    let [wet_ground, wet_blend] = wet;
    put_text("wet-0", &wet_ground);
    put_text("wet-1", &wet_blend);
    put_list(&part("points"), &pot_points(watered, outcome, speech));
}

fn write_days(of: Use, watered: &Watered, outcome: &Outcome, speech: Speech, with_ranges: bool) {
    match days(outcome, watered.home, of) {
        Some(figure) => {
            let mut told = speech.days_told(figure);
            told.value = about(&told.value);
            put_told(["days", "days-range"], &told, with_ranges);
            let ground = watered.days_of_ground(of);
            put_text(
                "days-says",
                &days_sentence(of, watered.home, ground, speech),
            );
        }
        None => {
            put_text("days", "–");
            put_text("days-range", "");
            put_text("days-says", days_missing(watered.home));
        }
    }
}

fn write_drainage(outcome: &Outcome, speech: Speech, with_ranges: bool) {
    for (name, text) in ["rain", "hole", "ring"]
        .into_iter()
        .zip(drainage_heads(speech))
    {
        put_text(name, text);
    }
    let ground = &outcome.ground;
    let [lying, _] = ground.drainage_mm_h;
    let class = outcome.texture.map(|texture| texture.class);
    let has_ground = outcome.barrow.ground_dry_kg > 0.0;
    let mut of_clay = crate::outcome::is_told_as_class(class);
    for (at, figure, measure, class, there) in [
        ("0", lying, Measure::LyingDrainage, ground.class, has_ground),
        ("1", outcome.drainage_mm_h, Measure::Drainage, class, true),
    ] {
        if at == "0" && has_ground {
            of_clay |= crate::outcome::is_told_as_class(class);
        }
        let shares = drainage_odds(outcome, measure);
        let middle = middle_half(outcome, measure);
        let told = drainage_told(figure, &shares, middle, class, speech);
        let write = |name: &str, text: &str| {
            put_text(&[name, "-", at].concat(), if there { text } else { "" });
        };
        write("class", &told.class);
        if with_ranges {
            write("odds", &told.odds);
            write("rain", &told.rain);
            write("hole", &told.hole);
            write("ring", &told.ring);
        }
    }
    put_text("clay", if of_clay { clay_drains_text() } else { "" });
}

/// Something in the section was touched.
fn touched(event: &Event, lets_go: bool) {
    let Some(field) = dom::closest(event, "[name]") else {
        return;
    };
    let name = field.get_attribute("name").unwrap_or_default();
    match name.as_str() {
        "use" if lets_go => with_section(|section| {
            if let Some(of) = Use::from_id(&form::value(&field)) {
                section.use_of = of;
                section.letters.clear();
            }
        }),
        "home" if lets_go => {
            let kind = form::value(&field);
            let kind = PlaceKind::ALL.iter().find(|of| of.spelling() == kind);
            change_place(|place| place.kind = kind.copied());
        }
        "height" | "top" | "bottom" if matches!(event.kind().as_str(), "input" | "change") => {
            let mut speech = None;
            with_section(|section| speech = Some(section.speech));
            let Some(speech) = speech else { return };
            match read_length(&field, speech) {
                Err(text) => {
                    set(&field, "aria-invalid", "true");
                    put(&by_id("water-says"), &text);
                }
                Ok(amount) => {
                    field.remove_attribute("aria-invalid");
                    put(&by_id("water-says"), "");
                    if lets_go && !is_as_shown(&field, &name, speech) {
                        change_place(|place| *length_of(place, &name) = amount);
                    }
                }
            }
        }
        _ => {}
    }
}

/// The length of a place that a box is for.
fn length_of<'a>(place: &'a mut Place, name: &str) -> &'a mut Option<Amount> {
    match name {
        "top" => &mut place.top_width,
        "bottom" => &mut place.bottom_width,
        _ => &mut place.height,
    }
}

/// A length as a box shows it.
fn in_box(amount: Option<&Amount>, speech: Speech) -> String {
    amount.map_or(String::new(), |amount| {
        let unit = length_unit(speech);
        if amount.unit == unit {
            shown(amount.value)
        } else {
            shown(round_significant(amount.si() / unit.factor(), 4))
        }
    })
}

/// Whether a box says what the recipe says: then nothing was typed.
fn is_as_shown(field: &Element, name: &str, speech: Speech) -> bool {
    let recipe = from_letters(&page::recipe()).ok();
    let mut place = recipe.and_then(|recipe| recipe.place).unwrap_or_default();
    in_box(length_of(&mut place, name).as_ref(), speech) == form::value(field).trim()
}

fn read_length(field: &Element, speech: Speech) -> Result<Option<Amount>, String> {
    let unit = length_unit(speech);
    let (least, most) = LENGTHS_CM;
    let shown = |cm: f64| cm / CM_PER_M / unit.factor();
    match parse_typed(&form::value(field)) {
        Typed::Empty => Ok(None),
        Typed::Number(value)
            if (least / CM_PER_M..=most / CM_PER_M).contains(&(value * unit.factor())) =>
        {
            Ok(Some(Amount::new(value, unit)))
        }
        typed => Err(typed_text(typed, shown(least), shown(most))),
    }
}

/// Goes on with another place; what is wrong with it is told.
fn change_place(change: impl FnOnce(&mut Place)) {
    let Ok(mut recipe) = from_letters(&page::recipe()) else {
        return;
    };
    let mut place = recipe.place.take().unwrap_or_default();
    change(&mut place);
    recipe.place = (place != Place::default()).then_some(place);
    let wrong = page::take(&to_letters(&recipe), false);
    put(&by_id("water-says"), &wrong);
}

/// Shows the place in its boxes; a box that is typed into stays as it is.
fn fill_home(section: &Section) {
    let Some(recipe) = &section.recipe else {
        return;
    };
    let mut place = recipe.place.clone().unwrap_or_default();
    let body = by_id("water-body");
    let field = |name: &str| {
        let selector = ["[name=", name, "]"].concat();
        body.query_selector(&selector)
    };
    if let Some(home) = field("home") {
        form::set_value(&home, place.kind.map_or("", PlaceKind::spelling));
    }
    let active = document().active_element();
    for name in ["height", "top", "bottom"] {
        let Some(field) = field(name) else { continue };
        let typed = active.as_ref() == Some(&field) || field.has_attribute("aria-invalid");
        if !typed {
            form::set_value(
                &field,
                &in_box(length_of(&mut place, name).as_ref(), section.speech),
            );
        }
    }
    for unit in body.query_selector_all("[data-part=unit]") {
        put(&unit, length_unit(section.speech).spelling());
    }
    let is_bed = place.kind == Some(PlaceKind::Bed);
    for label in body.query_selector_all("[data-part=widths]") {
        let class = if is_bed { "away" } else { "" };
        set(&label, "class", class);
    }
}
