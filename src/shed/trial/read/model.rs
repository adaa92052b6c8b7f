//! What the model expected beside what happened, and the model corrected by it, if the user presses.

use super::{ME, Page};
use crate::dom::{make, set, set_hidden};
use crate::figure::Figure;
use crate::recipe::{Measurement, Sample, from_letters, to_letters};
use crate::shed::page;
use crate::shed::section::put;
use crate::shed::trial::{State, again, says, with};
use crate::trial::doses::{Foretold, One};
use crate::trial::guessed::guessed;
use crate::trial::plan::{Deed, Predicted};
use crate::trial::readings::When;
use crate::trial::seen::{Seen, as_measured, beside, measured_as, shown_mean};
use crate::words::trial::labels::label_of_record;
use crate::words::trial::plan::{plan_fault_text, stage_text};
use crate::words::trial::seen::{
    GUESSES_STOOD, beside_text, corrected_text, difference_unit, kit_text, measured_as_text,
};
use crate::words::{error_text, guessed_text, round_significant, usual_error_text};

/// Digits of a mean that is written into a recipe.
const DIGITS: usize = 4;
/// What is shown of a corrected model.
const SHOWN: [Predicted; 4] = [
    Predicted::AirSpace,
    Predicted::PoreSpace,
    Predicted::Density,
    Predicted::Drainage,
];

pub(super) fn write(page: &Page) {
    let id = page.measure.id;
    let rows = beside(page.trial, id, &page.analysis);
    let offers = measured_as(id).is_some();
    let guesses = guessed(page.trial, id, &page.seen, &page.analysis);
    let nothing = rows.is_empty() && guesses.is_empty();
    set_hidden(&ME.part("beside-all"), nothing && !offers);
    let stage = match (rows.is_empty(), guesses.is_empty()) {
        (true, true) => "",
        (true, false) => GUESSES_STOOD.text(),
        (false, _) => stage_text(page.trial.stage()),
    };
    put(&ME.part("stage"), stage);
    let apart = difference_unit(&page.seen, &page.measure);
    let first = rows.first();
    let kit = first.and_then(|row| kit_text(&page.measure, row.mean));
    put(&ME.part("kit"), &kit.unwrap_or_default());
    let list = ME.part("beside");
    // What was said of the corrected model stays as long as the rest is the same.
    let key = format!("{id} {rows:?} {guesses:?} {:?}", page.analysis.groups);
    if list.get_attribute("data-holds").as_deref() == Some(&key) {
        return;
    }
    set(&list, "data-holds", &key);
    list.set_text_content("");
    for (treatment, name) in page.names.iter().enumerate() {
        let row = rows.iter().find(|row| row.treatment == treatment);
        let group = page.analysis.groups.get(treatment);
        let mean = group.and_then(|group| shown_mean(&page.analysis, group));
        let mean = mean.map(|back| back.mean);
        let measured = mean.and_then(|mean| as_measured(id, mean));
        let guess = guesses.iter().find(|of| of.treatment == treatment);
        if row.is_none() && measured.is_none() && guess.is_none() {
            continue;
        }
        let item = make("li");
        let head = make("b");
        head.set_text_content(name);
        item.append_child(&head);
        if let Some(guess) = guess {
            let text = make("p");
            put(&text, &guessed_text(guess, apart));
            item.append_child(&text);
        }
        if let Some(row) = row {
            let text = make("p");
            put(&text, &beside_text(row, page.seen.unit(&page.measure)));
            item.append_child(&text);
        }
        if let Some((of, value)) = measured {
            let told = make("p");
            put(&told, &[&measured_as_text(of, value), ". "].concat());
            let label = match page.trial.treatments.get(treatment).map(|of| &of.deed) {
                Some(Deed::Untouched) => "read_write_ground",
                Some(Deed::Blend) => "read_write_blend",
                _ => "read_write_other",
            };
            for (deed, label) in [("read-then", "read_then"), ("read-correct", label)] {
                let button = make("button");
                set(&button, "type", "button");
                set(&button, "data-trial", deed);
                set(&button, "value", &treatment.to_string());
                button.set_text_content(label_of_record(label));
                told.append_child(&button);
                told.append_child(&space());
            }
            if label == "read_write_other" {
                let keeps = make("span");
                set(&keeps, "class", "hint");
                put(&keeps, label_of_record("read_write_keeps"));
                told.append_child(&keeps);
            }
            item.append_child(&told);
            let corrected = make("p");
            set(&corrected, "data-corrected", &treatment.to_string());
            set(&corrected, "role", "status");
            item.append_child(&corrected);
        }
        list.append_child(&item);
    }
}

fn space() -> crate::dom::Element {
    let space = make("span");
    space.set_text_content(" ");
    space
}

/// What was measured of a treatment, in its own recipe of one container.
struct Corrected {
    deed: Deed,
    /// Before and after.
    own: [One; 2],
    sample: Sample,
    of: Measurement,
    value: f64,
}

/// A button was pressed.
pub(super) fn pressed(deed: &str, value: &str, id: &str, when: When) {
    let Ok(treatment) = value.parse::<usize>() else {
        return;
    };
    let made = with(|state| corrected(state, treatment, id, when)).flatten();
    let corrected = match made {
        Some(Ok(corrected)) => corrected,
        Some(Err(wrong)) => {
            says(&wrong);
            return;
        }
        None => return,
    };
    match deed {
        "then" => then(&corrected, treatment),
        "correct" => write_into(&corrected),
        _ => {}
    }
}

fn corrected(
    state: &mut State,
    treatment: usize,
    id: &str,
    when: When,
) -> Option<Result<Corrected, String>> {
    let (trial, layout) = (state.trial.as_ref()?, state.layout.as_ref()?);
    let seen = Seen::of(trial, layout, id, when).ok()?;
    let analysis = seen.analysed(&mut state.limits).ok()?;
    let mean = shown_mean(&analysis, analysis.groups.get(treatment)?)?.mean;
    let (of, value) = as_measured(id, mean)?;
    let deed = trial.treatments.get(treatment)?.deed.clone();
    let doses = match trial.doses(&state.recipe) {
        Ok(doses) => doses,
        Err(fault) => {
            let text = plan_fault_text(&fault, trial, &state.recipe, state.speech);
            return Some(Err(text));
        }
    };
    let before = doses.each.get(treatment)?.clone();
    let mut after = before.clone();
    let sample = match deed {
        Deed::Untouched => Sample::Ground,
        Deed::Dug | Deed::Addition { .. } | Deed::Blend => Sample::Blend,
    };
    let figure = Some(Figure::exact(round_significant(value, DIGITS)));
    after.recipe.set_measured(sample, of, figure);
    Some(Ok(Corrected {
        deed,
        own: [before, after],
        sample,
        of,
        value,
    }))
}

/// Says what the model would then say of a container.
fn then(corrected: &Corrected, treatment: usize) {
    let foretold = with(|state| {
        let trial = state.trial.as_ref()?;
        let [before, after] = corrected
            .own
            .each_ref()
            .map(|one| Foretold::of(trial, treatment, one));
        Some(before.and_then(|before| Ok((before, after?))))
    });
    let text = match foretold.flatten() {
        Some(Ok((before, after))) => {
            let of = |all: &Foretold, of: Predicted| {
                let mut figures = all.figures.iter();
                figures
                    .find(|(known, _)| *known == of)
                    .map(|(_, figure)| *figure)
            };
            let each = SHOWN.into_iter();
            let changed: Vec<_> = each
                .filter_map(|known| Some((known, of(&before, known)?, of(&after, known)?)))
                .collect();
            corrected_text(&changed)
        }
        Some(Err(error)) => error_text(&error),
        None => return,
    };
    let selector = ["[data-corrected='", &treatment.to_string(), "']"].concat();
    if let Some(place) = ME.panel().query_selector(&selector) {
        let text = [&text, " ", &usual_error_text(corrected.of)].concat();
        put(&place, &text);
    }
}

/// Writes it into this recipe where the treatment is the ground or the blend of it; else opens the
/// treatment's own, and this one is laid by.
fn write_into(corrected: &Corrected) {
    let is_this = matches!(corrected.deed, Deed::Untouched | Deed::Blend);
    let recipe = if is_this {
        let Ok(mut recipe) = from_letters(&page::recipe()) else {
            return;
        };
        let figure = Figure::exact(round_significant(corrected.value, DIGITS));
        recipe.set_measured(corrected.sample, corrected.of, Some(figure));
        recipe
    } else {
        let [_, own] = &corrected.own;
        own.recipe.clone()
    };
    says(&page::take(&to_letters(&recipe), !is_this));
    again();
}
