//! Chances and shuffles: shuffles run in slices of frames, once their pane is opened, or at once for
//! scores, which nothing else tells of. The page never stands still.

use super::{ME, Page, again};
use crate::dom::{make, set, set_hidden, window};
use crate::shed::section::{put, put_list};
use crate::trial::analysis::{Limit, permutation};
use crate::trial::permute::{Permutation, Question};
use crate::trial::verdict::NoVerdict;
use crate::words::trial::seen::{
    NO_SHUFFLES, difference_unit, row_difference_text, shuffling_text, variance_text,
};
use crate::words::{chance_text, note_text, permutation_text};
use std::cell::RefCell;
use wasm_bindgen::prelude::*;

/// Shuffles between two looks at the clock.
const SLICE: u64 = 250;
/// Time that shuffles take of a frame, ms: the rest is the page's.
const FRAME_MS: f64 = 8.0;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(js_namespace = performance)]
    fn now() -> f64;
}

/// Both questions, one after the other, and what they belong to.
#[derive(Default)]
struct Shuffles {
    key: String,
    overall: Option<Permutation>,
    against: Option<Permutation>,
    asked: bool,
    /// Whether a verdict waits for them.
    waited_for: bool,
}

thread_local! {
    static SHUFFLES: RefCell<Shuffles> = RefCell::new(Shuffles::default());
    static SHUFFLE: Closure<dyn FnMut()> = Closure::new(shuffle);
}

fn shuffles<R>(act: impl FnOnce(&mut Shuffles) -> R) -> Option<R> {
    SHUFFLES.with(|cell| Some(act(&mut *cell.try_borrow_mut().ok()?)))
}

/// What shuffles belong to: the same readings need no others.
fn key(page: &Page) -> String {
    let mut key = [page.measure.id, " "].concat();
    for reading in &page.seen.readings {
        key += &crate::recipe::number_text(reading.value);
        key += if reading.limit == Limit::No {
            " "
        } else {
            "! "
        };
    }
    key + &format!("{} {:?}", page.seen.asked.control, page.seen.asked.scale)
}

/// How often chance alone parts a treatment from the control as far, where that is known by now.
pub(super) fn against(page: &Page, treatment: usize) -> Option<f64> {
    let key = key(page);
    let of = |all: &mut Shuffles| {
        let against = all.against.as_ref().filter(|_| all.key == key)?;
        against.against_control(treatment)
    };
    shuffles(of).flatten()
}

/// Notes, the table of chances, and shuffles where they are looked at or waited for.
pub(super) fn write(page: &Page) {
    let pane = ME.part("details");
    set_hidden(&pane, false);
    let compares = page.seen.has_control;
    let notes: Vec<String> = page.analysis.notes.iter().map(note_text).collect();
    put_list(&ME.part("notes"), &notes);
    put(
        &ME.part("variance"),
        &variance_text(&page.analysis).unwrap_or_default(),
    );
    let table = ME.part("chances");
    table.set_text_content("");
    let unit = difference_unit(&page.seen, &page.measure);
    let compared = page.analysis.comparisons.iter().filter(|_| compares);
    for row in compared {
        let line = make("tr");
        let head = make("th");
        set(&head, "scope", "row");
        head.set_text_content(page.names.get(row.treatment).map_or("", String::as_str));
        line.append_child(&head);
        let mut of = page.differences.rows.iter();
        let size = of.find(|(of, ..)| *of == row.treatment);
        let size = size.map_or(String::new(), |(_, estimate, range)| {
            row_difference_text(*estimate, *range, &page.differences, unit)
        });
        let together = row.p_together.map(chance_text).unwrap_or_default();
        for (text, of) in [(size, ""), (together, ""), (String::new(), "shuffled")] {
            let cell = make("td");
            cell.set_text_content(&text);
            if !of.is_empty() {
                set(&cell, "data-of", &row.treatment.to_string());
            }
            line.append_child(&cell);
        }
        table.append_child(&line);
    }
    let mut rows = page.analysis.comparisons.iter().filter(|_| compares);
    let waited_for =
        rows.any(|row| matches!(row.verdict, Err(NoVerdict::Score | NoVerdict::Limits)));
    if pane.get_attribute("open").is_none() && !waited_for {
        put(&ME.part("shuffled"), "");
        return;
    }
    let key = key(page);
    let of = |question| {
        let seen = &page.seen;
        permutation(&seen.asked, &seen.readings, question, page.trial.seed)
    };
    let more = shuffles(|all| {
        if all.key != key {
            all.key = key;
            all.overall = of(Question::Overall);
            all.against = of(Question::AgainstControl).filter(|_| compares);
        }
        all.waited_for = waited_for;
        all.tell();
        all.both().any(|one| !one.is_done())
    });
    if more == Some(true) {
        ask();
    }
}

/// Asks for a frame of shuffles.
fn ask() {
    if shuffles(|all| std::mem::replace(&mut all.asked, true)).unwrap_or(true) {
        return;
    }
    SHUFFLE.with(|closure| {
        window().request_animation_frame(closure.as_ref());
    });
}

fn shuffle() {
    let left = shuffles(|all| {
        all.asked = false;
        let until = now() + FRAME_MS;
        // What a verdict waits for comes first.
        let both = [&mut all.against, &mut all.overall];
        for one in both.into_iter().flatten() {
            while !one.is_done() && now() < until {
                one.step(SLICE);
            }
        }
        all.tell();
        let more = all.both().any(|one| !one.is_done());
        (more, all.waited_for)
    });
    let Some((more, waited_for)) = left else {
        return;
    };
    let open = ME.part("details").get_attribute("open").is_some();
    if more && (open || waited_for) && !ME.panel().has_attribute("hidden") {
        ask();
    } else if waited_for {
        again();
    }
}

impl Shuffles {
    fn both(&self) -> impl Iterator<Item = &Permutation> {
        [&self.overall, &self.against].into_iter().flatten()
    }

    /// Tells how far the shuffles have come, or what they came to.
    fn tell(&self) {
        let sum = |of: fn(&Permutation) -> u64| self.both().map(of).sum::<u64>();
        let (seen, all) = (sum(Permutation::seen), sum(Permutation::len));
        let text = match &self.overall {
            None => NO_SHUFFLES.text().to_owned(),
            Some(_) if seen < all => shuffling_text(seen, all),
            Some(overall) => match overall.overall() {
                Some(p) => permutation_text(overall, p),
                None => String::new(),
            },
        };
        put(&ME.part("shuffled"), &text);
        for cell in ME.panel().query_selector_all("[data-of]") {
            let of = cell.get_attribute("data-of").unwrap_or_default();
            let p = self.against.as_ref().and_then(|against| {
                let treatment = of.parse().ok()?;
                against.against_control(treatment)
            });
            put(&cell, &p.map(chance_text).unwrap_or_default());
        }
    }
}
