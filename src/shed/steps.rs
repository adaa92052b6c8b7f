//! The list of the lectern's steps, as part of the recipe.

use super::form::{Wrong, button, put, put_box, set_value};
use super::{Answer, Tool};
use crate::dom::{make, set};
use crate::recipe::lectern::{CAPTION_LIMIT, STEPS_LIMIT, Step, set_steps, shortened, steps};
use crate::words::{error_text, label_of_lectern};

/// Writes the list.
pub(super) fn fill(tool: &Tool) {
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
        let number = index.to_string();
        let item = make("li");
        let caption = put_box(
            &item,
            &["caption-", &number].concat(),
            label_of_lectern("caption"),
        );
        set(&caption, "class", "words");
        set(&caption, "inputmode", "text");
        set(&caption, "maxlength", &CAPTION_LIMIT.to_string());
        set_value(&caption, &step.caption);
        let tick = put(&item, "label", "");
        let guess = make("input");
        set(&guess, "type", "checkbox");
        set(&guess, "name", &["guess-", &number].concat());
        guess.set_checked(step.guess);
        tick.append_child(&guess);
        put(&tick, "span", label_of_lectern("guess_first"));
        for (what, key, called, off) in [
            ("step-up", "up", "up_step", index == 0),
            ("step-down", "down", "down_step", index == last),
            ("step-remove", "remove", "remove_step", false),
        ] {
            let button = button(what, &number, label_of_lectern(key));
            set(&button, "class", "small");
            let called = [label_of_lectern(called), ": ", &step.caption].concat();
            set(&button, "aria-label", &called);
            crate::dom::set_disabled(&button, off);
            item.append_child(&button);
        }
        list.append_child(&item);
    }
}

/// The steps as the list has them now.
fn listed(tool: &Tool) -> Result<Vec<Step>, Wrong> {
    let mut steps = steps(&tool.recipe).map_err(|error| Wrong::of(error_text(&error)))?;
    for (index, step) in steps.iter_mut().enumerate() {
        let number = index.to_string();
        let caption = ["caption-", &number].concat();
        if tool
            .form
            .find(&["[name=", &caption, "]"].concat())
            .is_some()
        {
            step.caption = shortened(&tool.form.text(&caption));
            step.guess = tool.form.is_ticked(&["guess-", &number].concat());
        }
    }
    Ok(steps)
}

/// Adds, moves or removes a step.
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
        "step-up" if index > 0 && index < steps.len() => steps.swap(index, index - 1),
        "step-down" if index < steps.len().saturating_sub(1) => steps.swap(index, index + 1),
        "step-remove" if index < steps.len() => {
            steps.remove(index);
        }
        "step-clear" => steps.clear(),
        _ => return,
    }
    set_steps(&mut tool.recipe, &steps);
    fill(tool);
    let focused = match what {
        "step-add" => steps.len().checked_sub(1),
        "step-up" => Some(index - 1),
        "step-down" => Some(index + 1),
        _ => None,
    };
    let target = focused.and_then(|index| {
        let name = ["[name=caption-", &index.to_string(), "]"].concat();
        tool.form.find(&name)
    });
    let target = target.or_else(|| tool.form.find("[data-tool=step-add]"));
    if let Some(target) = target {
        crate::dom::focus(&target);
    }
}

/// The recipe with the list as it stands.
pub(super) fn answer(tool: &Tool) -> Result<Answer, Wrong> {
    let steps = listed(tool)?;
    let mut recipe = tool.recipe.clone();
    set_steps(&mut recipe, &steps);
    Ok(Answer {
        lines: Vec::new(),
        recipe: Some(recipe),
    })
}
