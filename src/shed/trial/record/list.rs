//! All containers of a day, in walking order.

use super::{Desk, ME, press};
use crate::dom::{make, set};
use crate::shed::section::put;
use crate::trial::layout::Layout;
use crate::trial::plan::Trial;
use crate::trial::records::Record;
use crate::words::trial::entry::record_text;
use crate::words::trial::labels::label_of_record;
use crate::words::trial::page_record::{Filled, filled_text};

impl Desk {
    pub(super) fn fill_list(&self, trial: &Trial, layout: &Layout) {
        let Some(measure) = trial.measure(&self.measure) else {
            return;
        };
        let walk = layout.walk();
        let mut each: Vec<Vec<&Record>> = vec![Vec::new(); layout.spots.len()];
        for record in &trial.records {
            if Some(record.date) == self.date
                && record.measure == self.measure
                && let Some(list) = each.get_mut(record.container)
            {
                list.push(record);
            }
        }
        let list = ME.part("list");
        let items = list.query_selector_all("li");
        for extra in items.iter().skip(walk.len()) {
            extra.remove();
        }
        let mut filled = Filled {
            of: walk.len(),
            ..Filled::default()
        };
        for (step, container) in walk.iter().enumerate() {
            let records = &each[*container];
            let is_read = records.iter().any(|record| record.value.is_some());
            let lost = trial.lost(*container).is_some();
            let state = match (is_read, records.is_empty(), lost) {
                (true, ..) => "read",
                (false, false, _) | (false, true, true) => "reason",
                (false, true, false) => "open",
            };
            filled.read += usize::from(state == "read");
            filled.lost += usize::from(state == "reason" && lost);
            filled.reasons += usize::from(state == "reason" && !lost);
            let told = match state {
                "open" => label_of_record("record_empty").to_owned(),
                _ if records.is_empty() => label_of_record("record_is_lost").to_owned(),
                _ => record_text(records, measure.unit),
            };
            let item = items.get(step).cloned().unwrap_or_else(|| {
                let item = make("li");
                let button = press("record-go", &step.to_string(), "");
                for name in ["b", "span"] {
                    button.append_child(&make(name));
                }
                item.append_child(&button);
                list.append_child(&item);
                item
            });
            let Some(button) = item.query_selector("button") else {
                continue;
            };
            if button.get_attribute("data-state").as_deref() != Some(state) {
                set(&button, "data-state", state);
            }
            let here = step == self.step;
            if here != button.get_attribute("aria-current").is_some() {
                if here {
                    set(&button, "aria-current", "true");
                } else {
                    button.remove_attribute("aria-current");
                }
            }
            if let Some(code) = button.query_selector("b") {
                put(&code, &layout.code(*container).unwrap_or_default());
            }
            if let Some(value) = button.query_selector("span") {
                put(&value, &told);
            }
        }
        let days = trial.days_of(&self.measure);
        put(
            &ME.part("filled"),
            &filled_text(&filled, self.date, days.last().copied()),
        );
    }
}
