//! Containers that were lost, and the question whether what was added did it.

use super::ME;
use crate::dom::{focus, make, set, set_hidden};
use crate::shed::trial::change_with;
use crate::trial::date::Date;
use crate::trial::layout::Layout;
use crate::trial::plan::Trial;
use crate::trial::records::{Lost, Missing};
use crate::words::trial::entry::lost_text;
use crate::words::trial::labels::label_of_record;
use crate::words::trial::page_record::lost_told;
use crate::words::trial::records::missing_name;

/// Reasons of a whole container.
const REASONS: [Missing; 4] = [
    Missing::Lost,
    Missing::Animal,
    Missing::Died,
    Missing::Other,
];

pub(super) fn fill(trial: &Trial, layout: &Layout) {
    set_hidden(&ME.part("lost-all"), trial.lost.is_empty());
    let list = ME.part("lost");
    let key: String = trial
        .lost
        .iter()
        .map(|lost| lost_text(layout, lost) + "\n")
        .collect();
    if list.get_attribute("data-holds").as_deref() == Some(&key) {
        return;
    }
    set(&list, "data-holds", &key);
    list.set_text_content("");
    for lost in &trial.lost {
        let item = make("li");
        let text = make("p");
        text.set_text_content(&lost_text(layout, lost));
        item.append_child(&text);
        let container = lost.container.to_string();
        let ask = make("p");
        let called = make("span");
        let id = ["trial-lost-", &container].concat();
        set(&called, "id", &id);
        called.set_text_content(label_of_record("record_lost_ask"));
        set(&ask, "role", "group");
        set(&ask, "aria-labelledby", &id);
        ask.append_child(&called);
        for (label, answer) in [
            ("record_lost_yes", Some(true)),
            ("record_lost_no", Some(false)),
        ] {
            let deed = if answer == Some(true) {
                "record-lost-yes"
            } else {
                "record-lost-no"
            };
            let button = super::press(deed, &container, label_of_record(label));
            let is_it = lost.of_addition == answer;
            set(
                &button,
                "aria-pressed",
                if is_it { "true" } else { "false" },
            );
            ask.append_child(&button);
        }
        item.append_child(&ask);
        let why = make("p");
        let called = make("span");
        called.set_text_content(label_of_record("record_lost_why"));
        why.append_child(&called);
        for reason in REASONS {
            let value = [&container, " ", reason.spelling()].concat();
            let button = super::press("record-lost-why", &value, missing_name(reason));
            let is_it = lost.reason == reason;
            set(
                &button,
                "aria-pressed",
                if is_it { "true" } else { "false" },
            );
            why.append_child(&button);
        }
        item.append_child(&why);
        let back = super::press(
            "record-lost-back",
            &container,
            label_of_record("record_lost_back"),
        );
        item.append_child(&back);
        list.append_child(&item);
    }
}

/// Counts a container as lost from a day on: what was read of it since is taken out. The question is
/// asked where it then stands.
pub(super) fn lose(container: usize, code: &str, on: Option<Date>) {
    let mut taken = 0;
    let done = change_with(|trial, _| {
        if trial.lost(container).is_none() {
            trial.lost.push(Lost {
                container,
                reason: Missing::Lost,
                of_addition: None,
                on,
                note: String::new(),
                kept: Default::default(),
            });
        }
        let before = trial.records.len();
        trial.records.retain(|record| {
            let since = on.is_none_or(|on| record.date >= on);
            record.container != container || record.value.is_none() || !since
        });
        taken = before - trial.records.len();
        Ok(())
    });
    if done {
        super::desk(|desk| {
            desk.filled = None;
            desk.kept = lost_told(code, taken);
        });
        super::refill();
        set_hidden(&ME.part("lost-all"), false);
        if let Some(heading) = crate::dom::find("#trial-lost") {
            focus(&heading);
        }
    }
}

pub(super) fn pressed(deed: &str, value: &str) {
    let (container, reason) = value.split_once(' ').unwrap_or((value, ""));
    let Ok(container) = container.parse::<usize>() else {
        return;
    };
    let change = |act: &dyn Fn(&mut Lost)| {
        change_with(|trial, _| {
            let mut all = trial.lost.iter_mut();
            if let Some(lost) = all.find(|lost| lost.container == container) {
                act(lost);
            }
            Ok(())
        });
    };
    match deed {
        "lost-yes" => change(&|lost| lost.of_addition = Some(true)),
        "lost-no" => change(&|lost| lost.of_addition = Some(false)),
        "lost-why" => {
            if let Some(reason) = Missing::of_spelling(reason) {
                change(&|lost| lost.reason = reason);
            }
        }
        "lost-back" => {
            change_with(|trial, _| {
                trial.lost.retain(|lost| lost.container != container);
                Ok(())
            });
        }
        _ => {}
    }
}
