//! The section on water and pots.

mod draw;

use super::section::{Now, Section, again, put, put_list};
use super::{form, page, section};
use crate::dom::{self, Element, Event, document, set};
use crate::figure::Figure;
use crate::outcome::{Home, Measure, Outcome, Use, Watered, days, drainage_odds, middle_half};
use crate::recipe::{Amount, Place, PlaceKind, Recipe, from_letters};
use crate::water::roots::Roots;
use crate::words::{
    NO_WET_LAYER, Speech, Told, Typed, WATER_OPENS, about, clay_drains_text, curve_sentence,
    days_missing, days_sentence, drainage_heads, drainage_told, length_unit, lifting_text,
    no_roots_text, parse_typed, percent, pot_points, pot_sentence, roots_sentence,
    round_significant, shown, typed_text, water_told, weights_of,
};
use std::cell::{Cell, RefCell};

/// Lengths that can be typed, cm: those of a place's height.
const LENGTHS_CM: (f64, f64) = (1.0, 300.0);
const CM_PER_M: f64 = 100.0;

pub(super) static WATER: Section = Section {
    id: "water",
    opens: WATER_OPENS,
    resized,
    show,
    write,
    touched,
    told: water_told,
};

thread_local! {
    /// Widths of the drawings, so that nothing is measured while a slider moves.
    static DRAWING: RefCell<draw::Drawing> = RefCell::new(draw::Drawing::default());
    static USE_OF: Cell<Use> = const { Cell::new(Use::Warm) };
}

fn resized() -> bool {
    DRAWING.with_borrow_mut(|drawing| drawing.measure())
}

/// The part of a name.
fn part(name: &str) -> Element {
    WATER.part(name)
}

fn put_text(name: &str, text: &str) {
    WATER.put_text(name, text);
}

fn put_told(names: [&str; 2], told: &Told, with_ranges: bool) {
    WATER.put_told(names, told, with_ranges);
}

/// Writes and draws all of it.
fn write(now: &Now<'_>) {
    let &Now {
        recipe,
        outcome,
        speech,
        with_ranges,
    } = now;
    let watered = Watered::of(recipe, outcome);
    write_home(&watered, outcome, speech, with_ranges);
    put_text("curve-says", &curve_sentence(outcome));
    write_days(USE_OF.get(), &watered, outcome, speech, with_ranges);
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
    DRAWING.with_borrow_mut(|drawing| {
        drawing.draw(&watered, outcome, roots.as_ref(), speech, with_ranges);
    });
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
                [
                    NO_WET_LAYER.text().to_owned(),
                    NO_WET_LAYER.text().to_owned(),
                ],
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
        "use" if lets_go => {
            if let Some(of) = Use::from_id(&form::value(&field)) {
                USE_OF.set(of);
                again();
            }
        }
        "home" if lets_go => {
            let kind = form::value(&field);
            let kind = PlaceKind::ALL.iter().find(|of| of.spelling() == kind);
            WATER.change_place(|place| place.kind = kind.copied());
        }
        "height" | "top" | "bottom" if matches!(event.kind().as_str(), "input" | "change") => {
            let speech = section::units_shown();
            match read_length(&field, speech) {
                Err(text) => {
                    set(&field, "aria-invalid", "true");
                    WATER.says(&text);
                }
                Ok(amount) => {
                    field.remove_attribute("aria-invalid");
                    WATER.says("");
                    if lets_go && !is_as_shown(&field, &name, speech) {
                        WATER.change_place(|place| *length_of(place, &name) = amount);
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

/// Shows the place in its boxes; a box that is typed into stays as it is.
fn show(recipe: &Recipe, speech: Speech) {
    let mut place = recipe.place.clone().unwrap_or_default();
    if let Some(home) = WATER.field("home") {
        form::set_value(&home, place.kind.map_or("", PlaceKind::spelling));
    }
    let active = document().active_element();
    for name in ["height", "top", "bottom"] {
        let Some(field) = WATER.field(name) else {
            continue;
        };
        let typed = active.as_ref() == Some(&field) || field.has_attribute("aria-invalid");
        if !typed {
            form::set_value(
                &field,
                &in_box(length_of(&mut place, name).as_ref(), speech),
            );
        }
    }
    for unit in WATER.parts("unit") {
        put(&unit, length_unit(speech).spelling());
    }
    let is_bed = place.kind == Some(PlaceKind::Bed);
    for label in WATER.parts("widths") {
        set(&label, "class", if is_bed { "away" } else { "" });
    }
}
