//! What of the trial goes on paper and into files. A sheet is laid where the printer finds it as a
//! button is pressed, and lies there until something else is pressed.

use super::{Part, State, says, tell, template, with};
use crate::dom::{
    self, Element, by_id, find, listen, make, mark, root, set, set_disabled, set_hidden,
};
use crate::picture::{
    Picture, trial_picture, trial_plan_picture, trial_report_picture, trial_shown_picture,
    trial_small_plan_picture,
};
use crate::plot::qr;
use crate::recipe::Recipe;
use crate::shed::browser::print;
use crate::shed::form::put;
use crate::shed::paper::{self, PRINTED, link_to, save_picture, show_picture, write_link};
use crate::trial::document::set_trial;
use crate::trial::layout::Layout;
use crate::trial::limits::Limits;
use crate::trial::measures::MEASURES;
use crate::trial::plan::Trial;
use crate::words::trial::plan::{measure_with_unit, plan_fault_text};
use crate::words::trial::print::{
    LABELS_ARE, Label, MEASURE_BLANK, NO_SHEETS, NORTH, PHOTO_DAYS, PaperTable, ROOM, SHEETS_LAID,
    Sheet, Sheets, TO_GET, keep_away_text, labels_by_page, sheets,
};
use crate::words::trial::report::{
    Code, MANY_TREATMENTS, REPORT_HEADS, ReadMeasure, TrialReport, back_text, link_text, primary,
    read_measures, report,
};
use crate::words::{Speech, file_name};
use std::cell::Cell;
use std::rc::Rc;

/// The class of what lies on paper, so that a tool's sheet is left alone.
const LAID: &str = "trial-sheets";
/// The list of measures of the record sheet.
const MEASURE: &str = "sheet-measure";

/// What is printed from.
struct Copy {
    trial: Trial,
    recipe: Recipe,
    layout: Layout,
    speech: Speech,
}

fn copy() -> Option<Copy> {
    with(|state| {
        Some(Copy {
            trial: state.trial.clone()?,
            recipe: state.recipe.clone(),
            layout: state.layout.clone()?,
            speech: state.speech,
        })
    })?
}

/// Puts the buttons where they stand.
pub(super) fn furnish() {
    if let Some(buttons) = template("trial-print-layout") {
        Part::Layout.part("prints").append_child(&buttons);
    }
    if let Some(buttons) = template("trial-print-read") {
        Part::Read.panel().append_child(&buttons);
    }
    for kind in ["pointerdown", "keydown"] {
        dom::on(kind, |_| clear());
    }
}

/// Which buttons can be pressed, and for which measures there is a record sheet.
pub(super) fn fill(state: &State) {
    let Some(trial) = &state.trial else {
        return;
    };
    for part in [Part::Layout, Part::Read] {
        for button in part
            .panel()
            .query_selector_all("[data-trial^=print-]")
            .iter()
        {
            set_disabled(button, state.layout.is_none());
        }
    }
    let Some(list) = Part::Layout.field(MEASURE) else {
        return;
    };
    let own = trial.own_measures.iter().map(|own| own.id.as_str());
    let known = MEASURES.iter().map(|measure| measure.id);
    let ids: Vec<&str> = own.chain(known).collect();
    let names = ids.iter().map(|id| measure_with_unit(trial, id));
    let names: Vec<String> = names.collect();
    let primary = trial.primary.as_deref().unwrap_or_default();
    let key = [primary, "|", &names.join("|")].concat();
    // A choice of the user's stays until the measures are others.
    if list.get_attribute("data-key").as_deref() == Some(&key) {
        return;
    }
    set(&list, "data-key", &key);
    list.set_text_content("");
    set(&put(&list, "option", MEASURE_BLANK.text()), "value", "");
    for (id, name) in ids.iter().zip(&names) {
        set(&put(&list, "option", name), "value", id);
    }
    list.set_value(primary);
}

/// A button was pressed.
pub(super) fn pressed(deed: &str, value: &str) {
    let Some(copy) = copy() else {
        return says(NO_SHEETS.text());
    };
    match deed {
        "sheets" => print_sheets(&copy, value),
        "report" => print_report(&copy),
        "picture" => {
            let picture = picture(&copy, value);
            save_picture(file_name(copy.trial.title.as_deref(), value), &picture);
        }
        _ => {}
    }
}

/// The plan, or the report.
fn picture(copy: &Copy, value: &str) -> Picture {
    let Copy {
        trial,
        recipe,
        layout,
        ..
    } = copy;
    if value.starts_with("plan") {
        return trial_picture(trial, recipe, layout);
    }
    let (told, read) = told(copy);
    trial_report_picture(trial, recipe, layout, &told, primary(trial, &read))
}

/// The report in words, and what it is drawn from.
fn told(copy: &Copy) -> (TrialReport, Vec<ReadMeasure>) {
    let Copy {
        trial,
        recipe,
        layout,
        speech,
    } = copy;
    let doses = trial.doses(recipe).ok();
    let read = read_measures(trial, layout, &mut Limits::default());
    let told = report(trial, recipe, layout, doses.as_ref(), &read, *speech);
    (told, read)
}

fn print_sheets(copy: &Copy, which: &str) {
    let Copy {
        trial,
        recipe,
        layout,
        speech,
    } = copy;
    let doses = match trial.doses(recipe) {
        Ok(doses) => doses,
        Err(fault) => return says(&plan_fault_text(&fault, trial, recipe, *speech)),
    };
    let measure = Part::Layout.field(MEASURE).map(|list| list.value());
    let measure = measure.filter(|id| !id.is_empty());
    let told = sheets(trial, recipe, layout, &doses, measure.as_deref(), *speech);
    let laid = lay();
    let all = Sheet::ALL.iter();
    for sheet in all.filter(|sheet| which == "all" || which == sheet.spelling()) {
        let page = page(&laid, sheet.spelling());
        put(&page, "h2", sheet.head());
        put(&page, "p", &told.mark);
        let warns = keep_away_text(trial, *sheet);
        if !warns.is_empty() {
            set(&put(&page, "p", warns), "class", "trial-keep");
        }
        write(&page, *sheet, &told, copy);
    }
    when_drawn(&laid);
}

fn write(page: &Element, sheet: Sheet, told: &Sheets, copy: &Copy) {
    match sheet {
        Sheet::Layout => {
            lines(page, &told.layout);
            let named = !copy.trial.blind;
            let drawn = trial_plan_picture(&copy.trial, &copy.recipe, &copy.layout, named);
            image(page, &drawn);
            if !told.photos.rows.is_empty() {
                put(page, "h3", PHOTO_DAYS.text());
                table(page, &told.photos, "");
            }
        }
        Sheet::Weigh => {
            lines(page, &told.weigh_notes);
            table(page, &told.weigh, "trial-weigh");
            let buy = put(page, "section", "");
            set(&buy, "class", "trial-whole");
            put(&buy, "h3", TO_GET.text());
            table(&buy, &told.buy, "");
        }
        Sheet::Labels => {
            put(page, "p", LABELS_ARE.text());
            for labels in labels_by_page(&told.labels) {
                let all = put(page, "div", "");
                set(&all, "class", "trial-labels");
                for one in labels {
                    label(&all, one);
                }
            }
        }
        Sheet::Key => {
            lines(page, &told.key_intro);
            table(page, &told.key, "");
            lines(page, &told.key_notes);
        }
        Sheet::Record => {
            let head = put(page, "dl", "");
            set(&head, "class", "trial-record-head");
            for [name, value] in &told.record.head {
                let pair = put(&head, "div", "");
                put(&pair, "dt", name);
                if value == ROOM {
                    set(&put(&pair, "dd", ""), "class", "trial-blank");
                } else {
                    put(&pair, "dd", value);
                }
            }
            lines(page, &told.record.notes);
            table(page, &told.record.table, "trial-record-lines");
            lines(page, &told.record.foot);
        }
    }
}

fn label(under: &Element, label: &Label) {
    let one = put(under, "div", "");
    set(&one, "class", "trial-label");
    set(&put(&one, "span", NORTH), "class", "trial-north");
    put(&one, "span", &label.trial);
    set(&put(&one, "b", &label.code), "class", "trial-code");
    let class = if label.is_blind {
        "trial-letter"
    } else {
        "trial-plain"
    };
    set(&put(&one, "b", &label.letter), "class", class);
    put(&one, "span", &label.sown);
    put(&one, "small", &label.plain);
}

fn print_report(copy: &Copy) {
    let (told, read) = told(copy);
    let laid = lay();
    let Some(sheet) = template("trial-report-sheet") else {
        return;
    };
    laid.append_child(&sheet);
    write_report(&laid, &told, copy, primary(&copy.trial, &read));
    when_drawn(&laid);
}

fn write_report(under: &Element, told: &TrialReport, copy: &Copy, read: Option<&ReadMeasure>) {
    let part = |name: &str| {
        let found = under.query_selector(&["[data-part=", name, "]"].concat());
        found.unwrap_or_else(|| make("div"))
    };
    let Copy {
        trial,
        recipe,
        layout,
        ..
    } = copy;
    let [compared, shows, not, expected, back] = REPORT_HEADS.map(crate::tongue::Saying::text);
    let is_many = layout.treatments >= MANY_TREATMENTS;
    if let Some(sheet) = under.query_selector(".trial-report") {
        mark(&sheet, "data-many", is_many);
    }
    part("title").set_text_content(&told.title);
    lines(&part("question"), &told.question);
    write_back(&part, copy, is_many);
    put(&part("compared"), "h3", compared);
    table(&part("compared"), &told.doses, "");
    // Here the letters hide nothing any more.
    let drawn = part("drawn");
    match trial_small_plan_picture(trial, recipe, layout) {
        Some(small) => image(&drawn, &small),
        None => image(&drawn, &trial_plan_picture(trial, recipe, layout, false)),
    }
    if is_many {
        drawn.append_child(&part("compared"));
    }
    put(&part("shows"), "h3", shows);
    if !told.nothing.is_empty() {
        put(&part("shows"), "p", told.nothing);
    }
    if let Some(read) = read {
        image(&part("seen"), &trial_shown_picture(trial, recipe, read));
    }
    for (at, measure) in told.measures.iter().enumerate() {
        if at > 0 {
            let line = put(&part("more"), "p", "");
            put(&line, "b", &measure.name);
            let rest = measure.line();
            let rest = rest.get(measure.name.len()..).unwrap_or_default();
            put(&line, "span", rest);
            continue;
        }
        let place = part("shows");
        if !measure.all.is_empty() {
            put(&place, "p", measure.all);
        }
        if !measure.table.rows.is_empty() {
            table(&place, &measure.table, "trial-verdict-table");
        }
        let notes = put(&place, "p", &measure.notes.join(" "));
        set(&notes, "class", "fine");
    }
    lines(&part("more"), &told.also);
    for (name, head, texts) in [
        ("not", not, &told.not),
        ("expected", expected, &told.expected),
    ] {
        set_hidden(&part(name), texts.is_empty());
        put(&part(name), "h3", head);
        let list = put(&part(name), "ul", "");
        for text in texts {
            put(&list, "li", text);
        }
    }
    part("back").set_text_content(back);
    put(&part("made"), "span", &told.made);
}

/// The way back: a code of all of it where that can be scanned, else of the plan where there is room
/// for one; and the link, which can be pressed where the page is a file.
fn write_back(part: &impl Fn(&str) -> Element, copy: &Copy, is_many: bool) {
    let [code, says, place] = [part("code"), part("code-says"), part("link")];
    let all = match link_to(&copy.recipe) {
        Ok(link) => link,
        Err(why) => return write_link(&code, &says, &place, &Err(why)),
    };
    let mut recipe = copy.recipe.clone();
    let mut plan = Trial {
        records: Vec::new(),
        lost: Vec::new(),
        ..copy.trial.clone()
    };
    // The model can say it again, and the report has said it.
    for treatment in &mut plan.treatments {
        treatment.predicted.clear();
    }
    set_trial(&mut recipe, Some(&plan));
    let fits = |link: &String| !is_many && qr(link).is_some();
    let plan = link_to(&recipe).ok().filter(fits);
    let (kind, coded) = if fits(&all) {
        (Code::All, Some(all.clone()))
    } else if plan.is_some() {
        (Code::Plan, plan)
    } else {
        (Code::None, None)
    };
    if let Some(link) = coded {
        write_link(&code, &says, &place, &Ok(link));
        place.set_text_content("");
    } else {
        set_hidden(&code, true);
    }
    says.set_text_content(&back_text(kind, all.chars().count()));
    set(&put(&place, "a", &link_text(&all)), "href", &all);
}

/// Lays an empty place for sheets where the printer finds it.
fn lay() -> Element {
    paper::clear();
    let section = make("section");
    set(&section, "id", PRINTED);
    set(&section, "class", LAID);
    if let Some(body) = by_id("shed").parent_element() {
        body.append_child(&section);
        mark(&root(), "data-paper", true);
    }
    section
}

/// Takes away what was laid here.
fn clear() {
    if find(&["#", PRINTED, ".", LAID].concat()).is_some() {
        paper::clear();
    }
}

/// Opens the browser's printing once every drawing is there.
fn when_drawn(laid: &Element) {
    says("");
    tell(SHEETS_LAID.text());
    let images = laid.query_selector_all("img");
    let waits = Rc::new(Cell::new(images.len()));
    if images.is_empty() {
        return print();
    }
    for image in images.iter() {
        for kind in ["load", "error"] {
            let waits = waits.clone();
            listen(image, kind, move |_| {
                waits.set(waits.get().saturating_sub(1));
                if waits.get() == 0 {
                    print();
                }
            });
        }
    }
}

fn page(under: &Element, name: &str) -> Element {
    let page = put(under, "article", "");
    set(&page, "class", &["paper trial-sheet trial-", name].concat());
    page
}

fn lines(under: &Element, texts: &[String]) {
    for text in texts {
        put(under, "p", text);
    }
}

fn image(under: &Element, picture: &Picture) {
    let image = put(under, "img", "");
    set(&image, "class", "trial-picture");
    show_picture(&image, picture);
}

fn table(under: &Element, told: &PaperTable, class: &str) {
    let table = put(under, "table", "");
    set(&table, "class", ["plain ", class].concat().trim_end());
    let head = put(&put(&table, "thead", ""), "tr", "");
    for name in &told.head {
        set(&put(&head, "th", name), "scope", "col");
    }
    let body = put(&table, "tbody", "");
    for cells in &told.rows {
        let row = put(&body, "tr", "");
        for (at, cell) in cells.iter().enumerate() {
            if at == 0 {
                set(&put(&row, "th", cell), "scope", "row");
            } else {
                put(&row, "td", cell);
            }
        }
    }
}
