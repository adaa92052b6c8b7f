//! Find: what the blend should be, and the cheapest whole lots that make it, looked for in slices of
//! frames.

mod told;

use super::boxes::{choices, mend, number, show};
use super::{Part, State, again, change, says, tell};
use crate::dom::{Element, Event, closest, set_disabled, set_hidden, window};
use crate::errand::document::ODDS_LIMITS_PCT;
use crate::errand::judge::without_purchase;
use crate::errand::wish::{Band, GroundUse, Wished};
use crate::errand::{Errand, Findings, Search, errand_of, set_errand};
use crate::quantity::{Dimension, Unit, round_significant};
use crate::recipe::{AMOUNT_LIMIT, Amount, Recipe, RecipeError, Soil, to_letters};
use crate::shed::section::put as put_text;
use crate::texture::Class;
use crate::words::errand::find::{
    FILL_GROUND, MEND_FIRST, NOTHING_ON_SALE, NOTHING_WISHED, SKELETON, errand_error_text,
    search_progress_text, wished_name, wished_unit,
};
use crate::words::errand::sweep::addition_name;
use crate::words::{Speech, error_text, shown, unit_name};
use std::cell::RefCell;
use wasm_bindgen::prelude::*;

const PART: Part = Part::Find;
/// Time that a search takes of a frame, ms: the rest is the page's.
const FRAME_MS: f64 = 8.0;
/// Significant digits of a number in a box.
const DIGITS: usize = 4;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(js_namespace = performance)]
    fn now() -> f64;
}

/// A search and what it is of.
struct Hunt {
    search: Search,
    recipe: Recipe,
    errand: Errand,
    key: String,
    over: bool,
}

#[derive(Default)]
struct Find {
    recipe: Option<Recipe>,
    speech: Option<Speech>,
    errand: Errand,
    hunt: Option<Hunt>,
    /// The ground is to fill a volume that is not told yet.
    will_fill: bool,
}

thread_local! {
    static FIND: RefCell<Find> = RefCell::default();
    static ASKED: RefCell<bool> = const { RefCell::new(false) };
    static SLICE: Closure<dyn FnMut()> = Closure::new(slice);
}

fn with<R>(act: impl FnOnce(&mut Find) -> R) -> Option<R> {
    FIND.with(|cell| Some(act(&mut *cell.try_borrow_mut().ok()?)))
}

/// What a search is of: the recipe's ground and place, and its errand.
fn key_of(recipe: &Recipe) -> String {
    let errand = errand_of(recipe).ok().flatten().unwrap_or_default();
    // A ground that fills up is no part of the question.
    let soil = match errand.wish.ground {
        GroundUse::All => recipe.soil.clone(),
        GroundUse::ToFill => Soil::Amount(Amount::new(1.0, Unit::Litre)),
    };
    let bare = Recipe {
        soil,
        title: None,
        errand: recipe.errand.clone(),
        ..without_purchase(recipe)
    };
    to_letters(&bare)
}

/// Fills what stands still.
pub(super) fn furnish() {
    told::furnish();
}

/// Shows what is so now.
pub(super) fn fill(state: &State) {
    let errand = errand_of(&state.recipe);
    if let Err(error) = &errand {
        says(&error_text(error));
    }
    let errand = errand.ok().flatten().unwrap_or_default();
    let currency = state.recipe.currency.as_deref();
    for of in Wished::ALL.iter().copied() {
        let band = errand.wish.band(of);
        let (factor, unit) = wished_unit(of, state.speech, currency);
        let text = |value: Option<f64>| {
            value.map_or(String::new(), |value| {
                shown(round_significant(value / factor, DIGITS))
            })
        };
        show(PART, &["least-", of.spelling()].concat(), &text(band.least));
        show(PART, &["most-", of.spelling()].concat(), &text(band.most));
        put_text(&PART.part(&["unit-", of.spelling()].concat()), &unit);
    }
    for field in PART.panel().query_selector_all("[name=class]") {
        let wished = errand
            .wish
            .classes
            .iter()
            .any(|class| class.id() == field.value());
        field.set_checked(wished);
    }
    let skeleton = match errand.wish.skeleton {
        None => "any",
        Some(true) => "touch",
        Some(false) => "apart",
    };
    choose("skeleton", SKELETON, skeleton);
    let will_fill = errand.wish.fill.is_none() && with(|find| find.will_fill) == Some(true);
    let to_fill = will_fill || errand.wish.ground == GroundUse::ToFill;
    choose(
        "ground",
        FILL_GROUND,
        if to_fill { "to_fill" } else { "all" },
    );
    let fill = errand.wish.fill.as_ref();
    show(
        PART,
        "fill",
        &fill.map_or(String::new(), |fill| shown(fill.value)),
    );
    if let Some(list) = PART.field("fill-unit") {
        let units = Unit::ALL
            .iter()
            .filter(|unit| unit.dimension() == Dimension::Volume);
        let units: Vec<(String, String)> = units
            .map(|unit| (unit.spelling().to_owned(), unit_name(*unit).to_owned()))
            .collect();
        let usual = match state.speech.units {
            crate::words::Units::Metric => Unit::Litre,
            crate::words::Units::Us => Unit::Gallon,
        };
        let unit = fill.map_or(usual, |fill| fill.unit);
        choices(&list, &units, unit.spelling());
    }
    let number = |value: Option<f64>| value.map_or(String::new(), shown);
    show(PART, "odds", &number(errand.odds_pct));
    show(PART, "budget", &number(errand.budget));
    put_text(&PART.part("unit-budget"), currency.unwrap_or_default());
    refusals(&state.recipe, &errand);
    with(|find| {
        find.recipe = Some(state.recipe.clone());
        find.speech = Some(state.speech);
        find.errand = errand;
        find.tell();
    });
}

fn choose(name: &str, options: &[(&str, &'static str)], chosen: &str) {
    if let Some(list) = PART.field(name) {
        let own = |(value, text): &(&str, &'static str)| {
            ((*value).to_owned(), crate::tongue::tr(text).to_owned())
        };
        let options: Vec<(String, String)> = options.iter().map(own).collect();
        choices(&list, &options, chosen);
    }
}

/// The materials on sale, each with a box to refuse it.
fn refusals(recipe: &Recipe, errand: &Errand) {
    let mut materials: Vec<&str> = Vec::new();
    for offer in &errand.offers {
        if !materials.contains(&offer.material.as_str()) {
            materials.push(&offer.material);
        }
    }
    let place = PART.part("without");
    let key = materials.join(" ");
    if place.get_attribute("data-key").as_deref() != Some(&key) {
        place.set_text_content("");
        for id in &materials {
            let line = crate::recipe::Addition::new(*id, Amount::new(1.0, Unit::Litre));
            told::tick(&place, "without", id, &addition_name(recipe, &line));
        }
        crate::dom::set(&place, "data-key", &key);
    }
    set_hidden(&PART.part("without-all"), materials.is_empty());
    for field in place.query_selector_all("[name=without]") {
        let refused = errand.without.contains(&field.value());
        field.set_checked(refused);
    }
}

/// Changes the errand of the recipe.
fn errand_change(act: impl FnOnce(&mut Errand)) {
    change(|recipe| {
        // What cannot be read is told and stays as it is.
        if let Ok(errand) = errand_of(recipe) {
            let mut errand = errand.unwrap_or_default();
            act(&mut errand);
            let nothing = errand == Errand::default();
            set_errand(recipe, (!nothing).then_some(&errand));
        }
    });
}

/// A control was touched or let go.
pub(super) fn touched(event: &Event, lets_go: bool) {
    if !lets_go {
        return;
    }
    let Some(field) = closest(event, "[name]") else {
        return;
    };
    let name = field.get_attribute("name").unwrap_or_default();
    let (kind, of) = name.split_once('-').unwrap_or((&name, ""));
    let wished = Wished::ALL
        .iter()
        .copied()
        .find(|wished| wished.spelling() == of);
    match (kind, wished) {
        ("least" | "most", Some(of)) => end(&field, of, kind == "least"),
        ("class", _) => {
            let chosen = ticked("class");
            errand_change(|errand| {
                let all = Class::ALL.iter().copied();
                errand.wish.classes = all
                    .filter(|class| chosen.contains(&class.id().to_owned()))
                    .collect();
            });
        }
        ("without", _) => {
            let chosen = ticked("without");
            errand_change(|errand| errand.without = chosen);
        }
        ("skeleton", _) => {
            let chosen = match field.value().as_str() {
                "touch" => Some(true),
                "apart" => Some(false),
                _ => None,
            };
            errand_change(|errand| errand.wish.skeleton = chosen);
        }
        ("fill" | "ground", _) => filled(),
        ("odds", _) => {
            if let Ok(value) = number(&field, ODDS_LIMITS_PCT, "%") {
                errand_change(|errand| errand.odds_pct = value);
            }
        }
        ("budget", _) => {
            if let Ok(value) = number(&field, (0.0, AMOUNT_LIMIT), "") {
                errand_change(|errand| errand.budget = value);
            }
        }
        _ => {}
    }
    again();
}

/// The values of the boxes of a name that are ticked.
fn ticked(name: &str) -> Vec<String> {
    let selector = ["[name=", name, "]"].concat();
    let fields = PART.panel().query_selector_all(&selector);
    let ticked = fields.iter().filter(|field| field.checked());
    ticked.map(Element::value).collect()
}

/// A limit of a figure.
fn end(field: &Element, of: Wished, is_least: bool) {
    let known = with(|find| {
        let currency = find
            .recipe
            .as_ref()
            .and_then(|recipe| recipe.currency.clone());
        let speech = find.speech.unwrap_or(crate::words::METRIC);
        (
            wished_unit(of, speech, currency.as_deref()),
            find.errand.wish.band(of),
        )
    });
    let Some(((factor, unit), band)) = known else {
        return;
    };
    let (low, high) = of.limits();
    let value = number(field, (low / factor, high / factor), &unit);
    let Ok(value) = value else {
        return;
    };
    // What was typed, and no binary remainder of the other unit.
    let value = value.map(|value| {
        if factor == 1.0 {
            value
        } else {
            round_significant(value * factor, 2 * DIGITS)
        }
    });
    let band = if is_least {
        Band {
            least: value,
            ..band
        }
    } else {
        Band {
            most: value,
            ..band
        }
    };
    if let Some((least, most)) = band
        .least
        .zip(band.most)
        .filter(|(least, most)| least > most)
    {
        let (least, most) = (shown(least / factor), shown(most / factor));
        let text = crate::words::errand::find::backwards_text(wished_name(of), &least, &most);
        super::boxes::fault(field, &text);
        return;
    }
    for kind in ["least-", "most-"] {
        if let Some(field) = PART.field(&[kind, of.spelling()].concat()) {
            mend(&field);
        }
    }
    errand_change(|errand| errand.wish.set(of, band));
}

/// The volume to fill, its unit and what the ground does.
fn filled() {
    let (Some(field), Some(unit), Some(ground)) = (
        PART.field("fill"),
        PART.field("fill-unit"),
        PART.field("ground"),
    ) else {
        return;
    };
    let unit = Unit::ALL
        .iter()
        .copied()
        .find(|known| known.spelling() == unit.value());
    let unit = unit.unwrap_or(Unit::Litre);
    let limits = (crate::recipe::AMOUNT_LEAST, AMOUNT_LIMIT);
    let Ok(value) = number(&field, limits, unit_name(unit)) else {
        return;
    };
    let to_fill = ground.value() == "to_fill";
    with(|find| find.will_fill = to_fill);
    errand_change(|errand| {
        errand.wish.fill = value.map(|value| Amount::new(value, unit));
        errand.wish.ground = if to_fill && value.is_some() {
            GroundUse::ToFill
        } else {
            GroundUse::All
        };
    });
    if to_fill && value.is_none() {
        super::boxes::fault(&field, crate::words::errand::find::FILL_NEEDED.text());
    }
}

/// A button was pressed.
pub(super) fn pressed(deed: &str, value: &str) {
    match deed {
        "look" => look(),
        "cancel" => {
            with(|find| {
                find.hunt = None;
                find.tell();
            });
            tell(crate::words::errand::find::CANCELLED.text());
        }
        "take" => told::take(value),
        "keep" => told::keep(value),
        _ => {}
    }
}

/// Begins a search; not while a box holds what cannot be used.
fn look() {
    if let Some(wrong) = PART.panel().query_selector("[aria-invalid]") {
        crate::dom::focus(&wrong);
        says(&[&super::boxes::still_wrong(), " ", MEND_FIRST.text()].concat());
        return;
    }
    says("");
    let begun = with(|find| {
        let recipe = find.recipe.clone()?;
        let errand = errand_of(&recipe);
        let search = errand.and_then(|errand| {
            let errand = errand.unwrap_or_default();
            Search::of(&recipe, &errand).map(|search| (search, errand))
        });
        match search {
            Ok((search, errand)) => {
                let key = key_of(&recipe);
                find.hunt = Some(Hunt {
                    search,
                    recipe,
                    errand,
                    key,
                    over: false,
                });
                find.tell();
                Some(None)
            }
            Err(error) => {
                let text = fault_of(&error, find, &recipe);
                Some(Some(text))
            }
        }
    });
    match begun.flatten() {
        Some(None) => ask(),
        Some(Some(text)) => says(&text),
        None => {}
    }
}

/// Why no search can begin, in words of the form.
fn fault_of(error: &RecipeError, find: &Find, recipe: &Recipe) -> String {
    match error.path.as_str() {
        "errand.offers" => NOTHING_ON_SALE.text().into(),
        "errand.wish" => NOTHING_WISHED.text().into(),
        _ => errand_error_text(error, &find.errand.offers, recipe),
    }
}

/// Asks for a frame of the search.
fn ask() {
    if ASKED.with(|asked| asked.replace(true)) {
        return;
    }
    SLICE.with(|closure| {
        window().request_animation_frame(closure.as_ref());
    });
}

fn slice() {
    ASKED.with(|asked| asked.replace(false));
    let ended = with(|find| {
        let hunt = find.hunt.as_mut().filter(|hunt| !hunt.over)?;
        let until = now() + FRAME_MS;
        while !hunt.over && now() < until {
            hunt.over = hunt.search.advance();
        }
        let over = hunt.over;
        if over {
            find.tell();
        } else {
            let progress = PART.part("progress");
            let share = hunt.search.progress();
            crate::dom::set(
                &progress,
                "value",
                &crate::recipe::number_text(round_significant(share, 3)),
            );
            put_text(
                &PART.part("progress-says"),
                &search_progress_text(&hunt.search),
            );
        }
        Some(over)
    });
    match ended.flatten() {
        Some(false) => ask(),
        Some(true) => {
            if let Some(Some(text)) = with(|find| find.hunt.as_ref().map(told::in_short)) {
                tell(&text);
            }
        }
        None => {}
    }
}

impl Find {
    /// Shows how far a search is, or what it came to.
    fn tell(&self) {
        let runs = self.hunt.as_ref().is_some_and(|hunt| !hunt.over);
        set_hidden(&PART.part("progress"), !runs);
        set_hidden(&PART.part("progress-says"), !runs);
        if let Some(button) = PART.panel().query_selector("[data-errand=find-cancel]") {
            set_hidden(&button, !runs);
        }
        if let Some(button) = PART.panel().query_selector("[data-errand=find-look]") {
            set_disabled(&button, runs);
        }
        let hunt = self.hunt.as_ref().filter(|hunt| hunt.over);
        let speech = self.speech.unwrap_or(crate::words::METRIC);
        let stale = hunt.is_some_and(|hunt| {
            self.recipe
                .as_ref()
                .is_some_and(|recipe| key_of(recipe) != hunt.key)
        });
        told::tell(hunt, speech, stale);
    }
}

impl Hunt {
    fn findings(&self) -> &Findings {
        self.search.findings()
    }
}
