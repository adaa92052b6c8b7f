//! The section on texture in other systems: the class of ground and blend by the lines of another
//! country, with their triangle.

mod draw;

use super::form;
use super::section::{Now, Section, again, put};
use crate::dom::{self, Document, Element, Event, make, set};
use crate::draws;
use crate::figure::Figure;
use crate::memory::{self, SYSTEM};
use crate::outcome::{Measure, Outcome, Remark};
use crate::recipe::Recipe;
use crate::texture::{DrawnIn, Placed, System};
use crate::words::{
    METRIC, SYSTEMS_OPENS, Speech, Told, asks_text, class_name, conversion_text, limits_text,
    remark_text, system_class_name, system_line, system_mark_text, system_name, system_odds_text,
    system_sentence, within_doubt_text,
};
use std::cell::{Cell, RefCell};

pub(super) static SYSTEMS: Section = Section {
    id: "systems",
    opens: SYSTEMS_OPENS,
    resized,
    show,
    write,
    touched,
    told,
};

thread_local! {
    /// The system that was chosen, once it is known.
    static CHOSEN: Cell<Option<System>> = const { Cell::new(None) };
    static DRAWING: RefCell<draw::Drawing> = RefCell::new(draw::Drawing::default());
}

/// The system that was chosen here or before, or the usual one.
pub(super) fn chosen() -> System {
    CHOSEN.get().unwrap_or_else(|| {
        let kept = memory::read(SYSTEM).and_then(|id| System::find(&id));
        kept.unwrap_or(System::Usda)
    })
}

/// Opens the section, or folds it; with an id it is opened with that system, and an id of none
/// counts as not asked for.
pub(super) fn toggle(parts: Option<Document>, id: &str) {
    if !id.is_empty() {
        let Some(system) = System::find(id) else {
            return;
        };
        CHOSEN.set(Some(system));
    }
    SYSTEMS.toggle(parts);
}

/// The blend in the chosen system, for the outcome as text; nothing where that is the usual one.
pub(super) fn line(outcome: &Outcome) -> Option<String> {
    let system = chosen();
    let [_, blend] = placed(outcome, system);
    let blend = blend.filter(|_| system != System::Usda)?;
    Some(system_line(system, &blend))
}

fn resized() -> bool {
    DRAWING.with_borrow_mut(draw::Drawing::measure)
}

/// Ground and blend in a system.
fn placed(outcome: &Outcome, system: System) -> [Option<Placed>; 2] {
    let has_ground = outcome.barrow.ground_dry_kg > 0.0;
    let ground = outcome.ground.fractions_pct.filter(|_| has_ground);
    let blend = outcome
        .texture
        .map(|texture| texture.fractions_pct.map(|figure| figure.typical));
    [ground, blend].map(|fractions| Placed::of(fractions?, system).ok())
}

fn show(_: &Recipe, _: Speech) {
    let Some(list) = SYSTEMS.field("system") else {
        return;
    };
    if list.query_selector("option").is_none() {
        for system in System::ALL {
            list.append_child(&form::option(system.id(), system_name(system)));
        }
    }
    let system = chosen();
    if form::value(&list) != system.id() {
        form::set_value(&list, system.id());
    }
}

fn write(now: &Now<'_>) {
    let &Now {
        outcome,
        with_ranges,
        ..
    } = now;
    let system = chosen();
    let [ground, blend] = placed(outcome, system);
    let columns = [Measure::Sand, Measure::Silt, Measure::Clay].map(|of| outcome.drawn.column(of));
    let weights = outcome.drawn.weights();
    let drawn = if with_ranges && blend.is_some() {
        DrawnIn::of(columns, weights, system)
    } else {
        DrawnIn::default()
    };
    let usda = [
        ground.as_ref().and(outcome.ground.class),
        outcome.texture.map(|texture| texture.class),
    ];
    for (at, (usda, placed)) in usda.into_iter().zip([&ground, &blend]).enumerate() {
        let at = at.to_string();
        let cell = |name: &str| [name, "-", &at].concat();
        SYSTEMS.put_text(&cell("usda"), usda.map_or("", class_name));
        let name = placed
            .as_ref()
            .map(|placed| system_class_name(placed.class));
        SYSTEMS.put_text(&cell("class"), name.unwrap_or_default());
    }
    for (part, name) in ["sand", "silt", "clay"].into_iter().enumerate() {
        let of = |placed: &Option<Placed>| {
            let pct = placed.as_ref()?.converted.fractions_pct[part];
            Some(Figure::exact(pct))
        };
        let ground = of(&ground).map_or(String::new(), |pct| Told::percent(pct, 1.0).value);
        SYSTEMS.put_text(&[name, "-0"].concat(), &ground);
        let figure = of(&blend).map(|pct| ranged(pct.typical, &drawn.columns[part], weights));
        let told = figure.map_or(Told::default(), |figure| Told::percent(figure, 1.0));
        let cells = [[name, "-1"].concat(), [name, "-2"].concat()];
        SYSTEMS.put_told([&cells[0], &cells[1]], &told, with_ranges);
    }
    if with_ranges {
        let odds = blend
            .as_ref()
            .map(|blend| system_odds_text(&drawn, blend.class));
        // Odds say how sure a class is, not whether a class says anything.
        let little = outcome.notes.iter();
        let little = little.filter(|note| matches!(note, Remark::FewFines { .. }));
        let little: String = little
            .map(|note| [" ", &remark_text(note, METRIC)].concat())
            .collect();
        SYSTEMS.put_text("odds", &(odds.unwrap_or_default() + &little));
    }
    SYSTEMS.put_text("limits", &limits_text(system));
    let told = |of: fn(&Placed) -> String| blend.as_ref().map_or(String::new(), of);
    SYSTEMS.put_text("conversion", &told(conversion_text));
    SYSTEMS.put_text("doubt", &told(within_doubt_text));
    SYSTEMS.put_text("mark", &system_mark_text(system));
    let sentence = system_sentence(system, ground.as_ref(), blend.as_ref());
    SYSTEMS.put_text("says", &sentence);
    write_rows(system);
    DRAWING.with_borrow_mut(|drawing| {
        drawing.draw(system, [ground.as_ref(), blend.as_ref()], &drawn, weights);
    });
}

/// A fraction with the range that holds nine in ten draws.
fn ranged(typical: f64, column: &[f64], weights: &[f64]) -> Figure {
    let ends = if weights.is_empty() {
        draws::ends(column).map(|ends| [ends.low, ends.high])
    } else {
        draws::weighted(column, weights).map(|[low, _, high]| [low, high])
    };
    match ends {
        Some([low, high]) => Figure::between(low.min(typical), typical, high.max(typical)),
        None => Figure::exact(typical),
    }
}

/// The classes in a table: number in the drawing, name, what it asks.
fn write_rows(system: System) {
    let list = SYSTEMS.part("rows");
    if list.get_attribute("data-of").as_deref() == Some(system.id()) {
        return;
    }
    set(&list, "data-of", system.id());
    list.set_text_content("");
    for (at, class) in system.classes().iter().enumerate() {
        let row: Element = make("tr");
        form::put(&row, "td", &(at + 1).to_string());
        set(
            &form::put(&row, "th", system_class_name(class)),
            "scope",
            "row",
        );
        put(&form::put(&row, "td", ""), &asks_text(class));
        list.append_child(&row);
    }
}

/// Another system was chosen.
fn touched(event: &Event, _: bool) {
    if event.kind() != "change" {
        return;
    }
    let Some(list) = dom::closest(event, "[name=system]") else {
        return;
    };
    if let Some(system) = System::find(&form::value(&list)) {
        CHOSEN.set(Some(system));
        let _ = memory::write(SYSTEM, system.id());
        again();
    }
}

fn told(outcome: &Outcome) -> String {
    let system = chosen();
    let [ground, blend] = placed(outcome, system);
    system_sentence(system, ground.as_ref(), blend.as_ref())
}
