//! The list of the lectern's steps, as part of the recipe.

use super::form::{Wrong, button, option, put, put_box, set_value};
use super::{Answer, Tool};
use crate::dom::{Element, focus, make, mark, set, set_disabled};
use crate::recipe::lectern::{
    Asked, CAPTION_LIMIT, FIGURES, Moved, STEPS_LIMIT, Shown, Step, set_steps, shortened, steps,
};
use crate::recipe::{Recipe, Tree};
use crate::words::{error_text, label_of_lectern, mix_text, moved_name, shown_name};
use std::cell::RefCell;

/// Choices that are not the name of a figure.
const NOTHING: &str = "";
const DRAWINGS: &str = "drawings";

/// Steps as they were typed, beside those of the recipe that they began with.
type Draft = (Option<Tree>, Option<Tree>);

thread_local! {
    static DRAFT: RefCell<Option<Draft>> = const { RefCell::new(None) };
    /// The steps of the recipe as the tool was opened.
    static BEGAN: RefCell<Option<Tree>> = const { RefCell::new(None) };
}

/// Begins with what was typed before and not used.
pub(super) fn begin(tool: &mut Tool) {
    let began = tool.recipe.lectern.clone();
    DRAFT.with(|draft| {
        if let Some((of, typed)) = draft.borrow().as_ref()
            && *of == began
        {
            tool.recipe.lectern.clone_from(typed);
        }
    });
    BEGAN.with(|cell| *cell.borrow_mut() = began);
    fill(tool, None);
}

/// Keeps what the list holds now.
pub(super) fn keep(tool: &Tool) {
    let Ok(steps) = listed(tool) else {
        return;
    };
    let mut recipe = tool.recipe.clone();
    set_steps(&mut recipe, &steps);
    let began = BEGAN.with(|cell| cell.borrow().clone());
    DRAFT.with(|draft| *draft.borrow_mut() = Some((began, recipe.lectern)));
}

/// Nothing is typed any more.
pub(super) fn forget() {
    DRAFT.with(|draft| *draft.borrow_mut() = None);
}

/// Writes the list, with the figures of one step unfolded.
fn fill(tool: &Tool, unfolded: Option<usize>) {
    let list = tool.form.list("steps");
    list.set_text_content("");
    let steps = match steps(&tool.recipe) {
        Ok(steps) => steps,
        Err(error) => {
            let item = put(&list, "li", "");
            put(&item, "span", &error_text(&error));
            item.append_child(&button("step-clear", "", label_of_lectern("clear")));
            return;
        }
    };
    if steps.is_empty() {
        put(&list, "li", label_of_lectern("none"));
    }
    let last = steps.len().saturating_sub(1);
    for (index, step) in steps.iter().enumerate() {
        let item = put(&list, "li", "");
        row(&item, step, index, &tool.recipe, unfolded == Some(index));
        for (what, key, called, off) in [
            ("step-up", "up", "up_step", index == 0),
            ("step-down", "down", "down_step", index == last),
            ("step-remove", "remove", "remove_step", false),
        ] {
            let button = button(what, &index.to_string(), label_of_lectern(key));
            set(&button, "class", "small");
            let called = [&of_step(called, index), ": ", &step.caption].concat();
            set(&button, "aria-label", &called);
            set_disabled(&button, off);
            item.append_child(&button);
        }
    }
    let full = steps.len() >= STEPS_LIMIT;
    if let Some(add) = tool.form.find("[data-tool=step-add]") {
        set_disabled(&add, full);
    }
}

/// A label with the number of its step.
fn of_step(label: &'static str, index: usize) -> String {
    let number = (index + 1).to_string();
    let step = label_of_lectern("step");
    [step, " ", &number, ": ", label_of_lectern(label)].concat()
}

fn row(item: &Element, step: &Step, index: usize, base: &Recipe, unfolded: bool) {
    let number = index.to_string();
    let recipe = step.recipe(base).ok();
    let holds = recipe
        .as_ref()
        .map_or(label_of_lectern("cannot").to_owned(), mix_text);
    put(item, "span", &holds);
    let called = of_step("caption", index);
    let caption = put_box(item, &["caption-", &number].concat(), &called);
    set(&caption, "class", "words");
    set(&caption, "inputmode", "text");
    set(&caption, "maxlength", &CAPTION_LIMIT.to_string());
    set_value(&caption, &step.caption);
    let label = put(item, "label", "");
    put(&label, "span", label_of_lectern("asks"));
    let mut choices = vec![
        (NOTHING, label_of_lectern("asks_nothing").to_owned()),
        (DRAWINGS, label_of_lectern("asks_drawings").to_owned()),
    ];
    for of in Shown::guessable() {
        let name = [label_of_lectern("asks_figure"), shown_name(of)].concat();
        choices.push((of.spelling(), name));
    }
    let asked = match step.guess {
        Asked::Nothing => NOTHING,
        Asked::Drawings => DRAWINGS,
        Asked::Figure(of) => of.spelling(),
    };
    let asks = choice(&label, &["asks-", &number].concat(), &choices, asked);
    set(&asks, "aria-label", &of_step("asks", index));
    let more = put(item, "details", "");
    mark(&more, "open", unfolded);
    let summary = put(&more, "summary", label_of_lectern("more_of_step"));
    set(&summary, "aria-label", &of_step("more_of_step", index));
    let shown = step.shown();
    for place in 0..FIGURES {
        let mut choices = vec![(NOTHING, label_of_lectern("figure_none").to_owned())];
        for of in Shown::ALL {
            choices.push((of.spelling(), shown_name(*of).to_owned()));
        }
        let now = shown.get(place).map_or(NOTHING, |of| of.spelling());
        let name = figure_name(index, place);
        let field = choice(&more, &name, &choices, now);
        let called = [&of_step("figure", index), " ", &(place + 1).to_string()].concat();
        set(&field, "aria-label", &called);
    }
    if let Some(recipe) = &recipe {
        let label = put(&more, "label", "");
        put(&label, "span", label_of_lectern("moves"));
        let all = Moved::all(recipe);
        let all: Vec<(String, String)> = all
            .into_iter()
            .map(|moved| (moved.path(), moved_name(moved, recipe)))
            .collect();
        let mut choices = vec![(NOTHING, label_of_lectern("moves_last").to_owned())];
        choices.extend(all.iter().map(|(path, name)| (path.as_str(), name.clone())));
        let now = step.moves.as_deref().unwrap_or(NOTHING);
        let field = choice(&label, &["moves-", &number].concat(), &choices, now);
        set(&field, "aria-label", &of_step("moves", index));
    }
    let renew = button("step-renew", &number, label_of_lectern("renew"));
    set(&renew, "aria-label", &of_step("renew", index));
    more.append_child(&renew);
    if unfolded {
        let done = put(&more, "span", label_of_lectern("renewed"));
        set(&done, "role", "status");
    }
}

fn figure_name(index: usize, place: usize) -> String {
    ["figure-", &index.to_string(), "-", &place.to_string()].concat()
}

fn choice(under: &Element, name: &str, choices: &[(&str, String)], now: &str) -> Element {
    let field = make("select");
    set(&field, "name", name);
    for (value, text) in choices {
        field.append_child(&option(value, text));
    }
    under.append_child(&field);
    set_value(&field, now);
    field
}

/// The steps as the list has them now.
fn listed(tool: &Tool) -> Result<Vec<Step>, Wrong> {
    let mut steps = steps(&tool.recipe).map_err(|error| Wrong::of(error_text(&error)))?;
    for (index, step) in steps.iter_mut().enumerate() {
        let number = index.to_string();
        let field = |name: &str| [name, "-", &number].concat();
        let selector = ["[name=", &field("caption"), "]"].concat();
        if tool.form.find(&selector).is_none() {
            continue;
        }
        step.caption = shortened(&tool.form.text(&field("caption")));
        let of_word = |word: &str| Shown::ALL.iter().copied().find(|of| of.spelling() == word);
        let mut figures: Vec<Shown> = Vec::new();
        for place in 0..FIGURES {
            let of = of_word(&tool.form.text(&figure_name(index, place)));
            figures.extend(of.filter(|of| !figures.contains(of)));
        }
        if figures.is_empty() {
            figures.extend(Shown::USUAL);
        }
        let asks = tool.form.text(&field("asks"));
        step.guess = match of_word(&asks) {
            Some(of) => {
                // What is asked for must be shown.
                if !figures.contains(&of) {
                    figures.truncate(FIGURES - 1);
                    figures.push(of);
                }
                Asked::Figure(of)
            }
            None if asks == DRAWINGS => Asked::Drawings,
            None => Asked::Nothing,
        };
        step.figures = if figures == Shown::USUAL {
            Vec::new()
        } else {
            figures
        };
        let moves = tool.form.text(&field("moves"));
        step.moves = (moves != NOTHING).then_some(moves);
    }
    Ok(steps)
}

/// Adds, moves, renews or removes a step.
pub(super) fn act(tool: &mut Tool, what: &str, value: &str) {
    let mut steps = match listed(tool) {
        Ok(steps) => steps,
        // Steps that cannot be read give way only to being removed.
        Err(_) if what == "step-clear" => Vec::new(),
        Err(_) => return,
    };
    let index = value.parse().unwrap_or(usize::MAX);
    match what {
        "step-add" if steps.len() < STEPS_LIMIT => {
            steps.push(Step::of_moment(&tool.recipe, ""));
        }
        "step-renew" if index < steps.len() => {
            let step = &mut steps[index];
            step.changes = Step::of_moment(&tool.recipe, "").changes;
            let known = step.moves.as_deref();
            if known.is_some_and(|path| Moved::of_path(path, &tool.recipe).is_none()) {
                step.moves = None;
            }
        }
        "step-up" if index > 0 && index < steps.len() => steps.swap(index, index - 1),
        "step-down" if index < steps.len().saturating_sub(1) => steps.swap(index, index + 1),
        "step-remove" if index < steps.len() => {
            steps.remove(index);
        }
        "step-clear" => steps.clear(),
        _ => return,
    }
    set_steps(&mut tool.recipe, &steps);
    fill(tool, (what == "step-renew").then_some(index));
    keep(tool);
    let focused = match what {
        "step-add" => steps.len().checked_sub(1),
        "step-up" => Some(index - 1),
        "step-down" => Some(index + 1),
        "step-remove" if !steps.is_empty() => Some(index.min(steps.len() - 1)),
        _ => None,
    };
    let target = focused.and_then(|index| {
        let name = ["[name=caption-", &index.to_string(), "]"].concat();
        tool.form.find(&name)
    });
    let renewed = ["[data-tool=step-renew][value=\"", value, "\"]"].concat();
    let target = target.or_else(|| tool.form.find(&renewed));
    let target = target.or_else(|| tool.form.find("[data-tool=step-add]"));
    if let Some(target) = target {
        focus(&target);
    }
}

/// The recipe with the list as it stands.
pub(super) fn answer(tool: &Tool) -> Result<Answer, Wrong> {
    let steps = listed(tool)?;
    let mut recipe = tool.recipe.clone();
    set_steps(&mut recipe, &steps);
    let mut lines = Vec::new();
    if steps.len() >= STEPS_LIMIT {
        lines.push(label_of_lectern("too_many").to_owned());
    }
    Ok(Answer {
        lines,
        recipe: Some(recipe),
    })
}
