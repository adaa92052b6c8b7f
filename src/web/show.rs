//! The outcome as words and figures: only what changed is written.

use super::cares::Cares;
use super::lines::Lines;
use super::written::Text;
use crate::dom::{Element, Event, by_id, find, make, mark, root, set, set_hidden};
use crate::figure::Figure;
use crate::outcome::{Outcome, Pores, Remark};
use crate::plot::{FILLINGS, column_parts};
use crate::quantity::{Dimension, LITRES_PER_M3};
use crate::recipe::{Fault, Recipe, RecipeError};
use crate::words::{
    Speech, Told, changes_text, class_name, class_odds_text, column_sentence, cost_told,
    drains_told, page_fault_text, percent, remark_parts, remark_text, triangle_sentence,
};

/// Stands where there is nothing to say.
const NONE: &str = "–";

/// Writes a row of the figures: the ground as it lies and dug, the blend, and the blend's ends.
fn write_row(cells: &mut [Text; 4], figures: [Option<&Told>; 3]) {
    let [_, _, blend] = figures;
    for (cell, told) in cells.iter_mut().zip(figures) {
        cell.write(told.map_or(NONE, |told| &told.value));
    }
    cells[3].write(blend.map_or("", |told| &told.range));
}

pub(super) struct Screen {
    verdict: Vec<[Text; 2]>,
    class_ground: Text,
    class_blend: Text,
    class_odds: Text,
    changes: Text,
    strip: [Text; 4],
    /// Pores, density, organic matter, fresh and puddled pores, volume, weight, cost.
    rows: Vec<[Text; 4]>,
    cost_row: Element,
    notes: Element,
    notes_now: Vec<String>,
    cares: Cares,
    triangle_says: Text,
    column_says: Text,
    triangle_rows: Vec<[Text; 4]>,
    column_rows: Vec<[Text; FILLINGS]>,
    /// Where a fault of the recipe is told now.
    fault_line: Option<Element>,
}

impl Screen {
    pub(super) fn new() -> Screen {
        let text = |id: &str| Text::of(by_id(id));
        Screen {
            verdict: texts("#verdict > p > *"),
            class_ground: text("class-ground"),
            class_blend: text("class-blend"),
            class_odds: text("class-odds"),
            changes: text("changes"),
            strip: [
                "strip-class",
                "strip-pores",
                "strip-density",
                "strip-organic",
            ]
            .map(text),
            rows: texts("#figures tbody td"),
            cost_row: by_id("cost-row"),
            notes: by_id("notes"),
            notes_now: Vec::new(),
            cares: Cares::new(),
            triangle_says: text("triangle-says"),
            column_says: text("column-says"),
            triangle_rows: texts("#triangle-rows td"),
            column_rows: texts("#column-rows td"),
            fault_line: None,
        }
    }

    /// Tells a fault of the recipe beside its field, or clears the last one.
    pub(super) fn fault(&mut self, error: Option<&RecipeError>, recipe: &Recipe, lines: &Lines) {
        set_hidden(&by_id("stale"), error.is_none());
        let text = error.map(|error| page_fault_text(&error.fault));
        let line = error.map(|error| place_of(error, recipe, lines));
        if let Some(old) = self.fault_line.take()
            && Some(&old) != line.as_ref()
        {
            old.set_text_content("");
        }
        if let (Some(line), Some(text)) = (line, text) {
            line.set_text_content(&text);
            by_id("status").set_text_content(&text);
            self.fault_line = Some(line);
        }
    }

    /// Verdict, notes and cautions of the recipe today, figures of the outcome that is shown.
    pub(super) fn show(
        &mut self,
        recipe: &Recipe,
        today: &Outcome,
        outcome: &Outcome,
        speech: Speech,
    ) {
        for (index, [head, rest]) in self.verdict.iter_mut().enumerate() {
            let parts = today
                .verdict
                .get(index)
                .map(|remark| remark_parts(remark, speech));
            let (first, second) = parts.unwrap_or_default();
            head.write(&first);
            rest.write(&second);
        }
        let ground = &outcome.ground;
        let has_ground = outcome.barrow.ground_dry_kg > 0.0;
        let class_before = ground.class.map_or(NONE, class_name);
        let class_after = outcome
            .texture
            .map_or(NONE, |texture| class_name(texture.class));
        self.class_ground
            .write(if has_ground { class_before } else { NONE });
        self.class_blend.write(class_after);
        self.class_odds.write(&class_odds_text(outcome));
        self.changes.write(&changes_text(outcome));

        let pores = outcome.pore_space_pct;
        let percent: &dyn Fn(Figure) -> Told = &|figure| Told::percent(figure, 1.0);
        let tenths: &dyn Fn(Figure) -> Told = &|figure| Told::percent(figure, 0.1);
        let density: &dyn Fn(Figure) -> Told = &|figure| speech.density_told(figure);
        let drains: &dyn Fn(Figure) -> Told = &drains_told;
        let volume: &dyn Fn(Figure) -> Told = &|figure| speech.volume_told(figure);
        let ground_kg = outcome.barrow.ground_dry_kg;
        let litres = |density: Figure| {
            let litres = ground_kg / density.typical * LITRES_PER_M3;
            Some(Figure::exact(litres))
        };
        let organic_ground = Some(ground.organic_matter_pct);
        // A row: the ground as it lies, dug, and the blend.
        let rows = [
            (
                percent,
                Some(ground.lying_pore_space_pct),
                Some(ground.settled_pore_space_pct),
                Some(pores.settled),
            ),
            (
                density,
                Some(ground.lying_density_kg_m3),
                Some(ground.settled_density_kg_m3),
                Some(outcome.bulk_density_kg_m3.settled),
            ),
            (
                tenths,
                organic_ground,
                organic_ground,
                outcome.organic_matter_pct,
            ),
            (
                percent,
                Some(ground.lying_pores_pct.air),
                Some(ground.settled_air_pct),
                Some(outcome.pores_pct.air),
            ),
            (
                percent,
                Some(ground.lying_pores_pct.available_water),
                Some(ground.settled_available_water_pct),
                Some(outcome.pores_pct.available_water),
            ),
            (
                drains,
                Some(ground.drainage_mm_h[0]),
                Some(ground.drainage_mm_h[1]),
                Some(outcome.drainage_mm_h),
            ),
            (
                volume,
                litres(ground.lying_density_kg_m3),
                litres(ground.settled_density_kg_m3),
                Some(outcome.volume_l.settled),
            ),
        ];
        let mut strip = self.strip.iter_mut();
        if let Some(text) = strip.next() {
            text.write(class_after);
        }
        for (cells, (tell, lying, dug, blend)) in self.rows.iter_mut().zip(rows) {
            let told = |figure: Option<Figure>| figure.map(tell);
            let of_ground = |figure: Option<Figure>| told(figure.filter(|_| has_ground));
            let blend = told(blend);
            let told = [&of_ground(lying), &of_ground(dug), &blend];
            write_row(cells, told.map(Option::as_ref));
            // The first three stand in the strip too.
            if let Some(text) = strip.next() {
                text.write(blend.as_ref().map_or("", |told| &told.value));
            }
        }
        let moist = Told {
            value: speech.mass(ground_kg * (1.0 + outcome.barrow.ground.water_per_dry)),
            range: String::new(),
        };
        let moist = Some(&moist).filter(|_| has_ground);
        let mass = speech.mass_told(outcome.moist_kg);
        if let Some(weight) = self.rows.get_mut(7) {
            write_row(weight, [moist, moist, Some(&mass)]);
        }
        let cost = outcome.cost.filter(|_| !recipe.additions.is_empty());
        set_hidden(&self.cost_row, cost.is_none());
        let money = cost.map(|cost| cost_told(cost, recipe.currency.as_deref()));
        if let Some([.., value, range]) = self.rows.get_mut(8) {
            value.write(money.as_ref().map_or(NONE, |told| &told.value));
            range.write(money.as_ref().map_or("", |told| &told.range));
        }
        self.show_notes(&today.notes, speech);
        self.cares.follow(recipe, today, speech);
        self.show_drawings(outcome);
    }

    fn show_notes(&mut self, notes: &[Remark], speech: Speech) {
        let mut texts = Vec::new();
        for note in notes {
            texts.push(remark_text(note, speech));
        }
        if texts == self.notes_now {
            return;
        }
        self.notes.set_text_content("");
        for (text, note) in texts.iter().zip(notes) {
            let item = make("li");
            item.set_text_content(text);
            set(&item, "class", note.severity().id());
            self.notes.append_child(&item);
        }
        self.notes_now = texts;
    }

    fn show_drawings(&mut self, outcome: &Outcome) {
        self.triangle_says.write(&triangle_sentence(outcome));
        let parts = column_parts(outcome);
        self.column_says.write(&column_sentence(outcome, &parts));
        let has_ground = outcome.barrow.ground_dry_kg > 0.0;
        let ground = outcome.ground.fractions_pct.zip(outcome.ground.class);
        let ground = ground.filter(|_| has_ground);
        let blend = outcome.texture.map(|texture| {
            (
                texture.fractions_pct.map(|figure| figure.typical),
                texture.class,
            )
        });
        for (row, soil) in self.triangle_rows.iter_mut().zip([ground, blend]) {
            for (index, cell) in row.iter_mut().enumerate() {
                let text = match soil {
                    Some((fractions, _)) if index < 3 => &percent(fractions[index]),
                    Some((_, class)) => class_name(class),
                    None => NONE,
                };
                cell.write(text);
            }
        }
        let lying = &outcome.ground.lying_pores_pct;
        for (at, (row, parts)) in self.column_rows.iter_mut().zip(parts).enumerate() {
            // Of these two states the doubt is known.
            let pores = match at {
                0 if has_ground => Some(lying),
                3 => Some(&outcome.pores_pct),
                _ => None,
            };
            let figures = pores.map_or([None; 4], |pores| {
                let Pores {
                    air,
                    available_water,
                    unavailable_water,
                    closed,
                } = *pores;
                [air, available_water, unavailable_water, closed].map(Some)
            });
            for (of, (cell, share)) in row.iter_mut().zip(parts.from_top_pct).enumerate() {
                let mut text = percent(share);
                if let Some(Some(figure)) = figures.get(of) {
                    let range = Told::percent(*figure, 1.0).range;
                    if !range.is_empty() {
                        text += &[" (", &range, ")"].concat();
                    }
                }
                cell.write(&text);
            }
        }
    }
}

/// The texts of all elements of a selector, so many together.
fn texts<const N: usize>(selector: &str) -> Vec<[Text; N]> {
    let mut all = root().query_selector_all(selector).into_iter();
    let mut out = Vec::new();
    for _ in 0..all.len() / N {
        let mut next = || all.next().unwrap_or_else(|| make("span"));
        out.push(std::array::from_fn(|_| Text::of(next())));
    }
    out
}

/// The line that stands beside the field of a fault.
fn place_of(error: &RecipeError, recipe: &Recipe, lines: &Lines) -> Element {
    let path = error.path.as_str();
    let counts_over_area = |addition: &crate::recipe::Addition| {
        matches!(
            addition.amount.unit.dimension(),
            Dimension::Length | Dimension::MassPerArea
        )
    };
    let index = if error.fault == Fault::NoArea {
        // Told where the area is missed, not where it would be given.
        recipe.additions.iter().position(counts_over_area)
    } else {
        path.strip_prefix("additions[").map(|rest| {
            let digits = rest.bytes().take_while(u8::is_ascii_digit);
            digits.fold(0, |sum, digit| 10 * sum + usize::from(digit - b'0'))
        })
    };
    if let Some(line) = index.and_then(|index| lines.says(index)) {
        return line;
    }
    let selector = if path.starts_with("soil") {
        "[data-field=soil] .says".to_owned()
    } else {
        ["[data-field='", path, "'] .says"].concat()
    };
    find(&selector)
        .or_else(|| find("#barrow-says"))
        .unwrap_or_else(|| by_id("stale"))
}

/// On a phone, while a slider is held, a strip at the lower edge shows what it does.
pub(super) fn hold(event: &Event, held: bool) {
    let slider = crate::dom::closest(event, "input[type=range]");
    mark(&root(), "data-holding", held && slider.is_some());
}
