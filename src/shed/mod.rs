//! The second module of the page: the ways to say what one has and the tools beside them. It is
//! fetched when one is asked for, reads the recipe from the page, and gives another one back.

mod barrow;
#[cfg(feature = "bench")]
mod bench;
mod browser;
mod chemistry;
mod choose;
mod dose;
mod draft;
mod errand;
mod figures;
mod file;
mod form;
mod ground;
mod ink;
mod lectern;
mod measure;
mod own;
mod paper;
mod report;
mod seasons;
mod section;
mod sheet;
mod shelf;
mod steps;
mod systems;
mod trial;
mod voice;
mod water;
mod why;

use crate::dom::{self, Document, Element, Event, document, focus, set, set_disabled, set_hidden};
use crate::ground::feel::Feel;
use crate::recipe::{OwnMaterial, Recipe, from_letters, to_letters};
use crate::tongue::{self, Language};
use crate::words::{METRIC, Speech, Units, label_of_shed, page_fault_text};
use browser::File;
use form::{Form, Wrong};
use std::cell::RefCell;
use wasm_bindgen::prelude::*;

/// What the page lets the shed do.
mod page {
    use wasm_bindgen::prelude::*;

    #[wasm_bindgen(raw_module = "./barrowmix.js")]
    extern "C" {
        /// The recipe as it stands.
        pub(super) fn recipe() -> String;
        /// Goes on with a recipe; gives what is wrong with it.
        pub(super) fn take(text: &str, another: bool) -> String;
        /// Begins anew.
        pub(super) fn forget();
        /// Shows another recipe's figures; letters of none end it.
        pub(super) fn shows(text: &str);
        /// Whether figures are shown in US units.
        pub(super) fn speaks_us() -> bool;
    }
}

/// What an open tool comes to.
#[derive(Default)]
pub(super) struct Answer {
    /// What it would mean, line by line.
    lines: Vec<String>,
    /// The recipe that it would give.
    recipe: Option<Recipe>,
}

/// The tool that is open.
struct Tool {
    name: String,
    /// The name with what it is about: a line, a material.
    key: String,
    /// The recipe in letters, as the page gave it.
    letters: String,
    form: Form,
    recipe: Recipe,
    speech: Speech,
    /// Whether anything was typed: before that nothing is wrong.
    touched: bool,
    /// The addition it is about.
    line: usize,
    /// Where the flow of questions stands.
    feel: Feel,
    /// The material in hand.
    material: Option<OwnMaterial>,
}

thread_local! {
    static PARTS: RefCell<Option<Document>> = const { RefCell::new(None) };
    static TOOL: RefCell<Option<Tool>> = const { RefCell::new(None) };
    /// The page of all materials, once it was fetched.
    static SHEETS: RefCell<Option<Document>> = const { RefCell::new(None) };
    /// The tool that a sheet was opened from, and the addition that this is about.
    static BACK: RefCell<Option<(String, usize)>> = const { RefCell::new(None) };
    /// The control that opened it.
    static OPENER: RefCell<Option<Element>> = const { RefCell::new(None) };
}

/// Speaks the language of the parts, in the texts that they lend, and writes dates as `days` has it:
/// a line for each month, with places for day and year.
fn speak(parts: &Document, days: &str) {
    let root = parts.document_element();
    let tag = root.get_attribute("lang").unwrap_or_default();
    let language = Language::of_tag(&tag).unwrap_or_default();
    let lent = parts.get_element_by_id("tongue");
    let lines = lent.map(|lines| lines.text_content()).unwrap_or_default();
    tongue::speak(language, Some(&lines));
    dom::take_marks();
    let months: Vec<String> = days.lines().map(str::to_owned).collect();
    crate::words::date::set_dates(months.try_into().ok());
}

/// Takes the parts that tools are built of, the page's language, and listens in the dialog.
#[wasm_bindgen]
#[allow(unreachable_pub)] // its caller is the glue
pub fn furnish(parts: Document, days: &str) {
    speak(&parts, days);
    PARTS.with(|cell| *cell.borrow_mut() = Some(parts));
    dom::on("input", |event| {
        if in_dialog(&event) {
            with_tool(|tool| tool.typed(&event));
        }
    });
    dom::on("keydown", |event| {
        if in_dialog(&event)
            && dom::closest(&event, "input").is_some()
            && event.key().as_deref() == Some("Enter")
        {
            // The control that the focus goes back to is not to be pressed by it.
            event.prevent_default();
            act("use", "");
        }
    });
    // Escape closes the dialog by itself.
    if let Some(dialog) = form::dialog() {
        dom::listen(&dialog, "close", |_| paper::clear());
        dom::listen(&dialog, "cancel", |event| {
            event.prevent_default();
            close();
        });
    }
    dom::on("click", |event| {
        if in_dialog(&event)
            && let Some(button) = dom::closest(&event, "[data-tool]")
        {
            let what = button.get_attribute("data-tool").unwrap_or_default();
            act(&what, &form::value(&button));
        }
    });
}

fn in_dialog(event: &Event) -> bool {
    dom::closest(event, "#shed").is_some()
}

fn with_tool(act: impl FnOnce(&mut Tool)) {
    TOOL.with(|cell| {
        if let Ok(mut tool) = cell.try_borrow_mut()
            && let Some(tool) = tool.as_mut()
        {
            act(tool);
        }
    });
}

/// Opens the tool that a control of the page names, or one of the open tool. A sheet needs the page
/// of all materials.
#[wasm_bindgen]
#[allow(unreachable_pub)]
pub fn open(from: &Element, sheets: Option<Document>) {
    if sheets.is_some() {
        SHEETS.with(|cell| *cell.borrow_mut() = sheets);
    }
    let name = from.get_attribute("data-shed").unwrap_or_default();
    match name.as_str() {
        "open" => file::choose(false),
        "save" => file::save(),
        "chemistry" => chemistry::CHEMISTRY.toggle(PARTS.with(|cell| cell.borrow().clone())),
        "water" => water::WATER.toggle(PARTS.with(|cell| cell.borrow().clone())),
        "shelf" => shelf::toggle(PARTS.with(|cell| cell.borrow().clone())),
        "keep" => shelf::keep(PARTS.with(|cell| cell.borrow().clone())),
        "systems" => {
            let id = from.get_attribute("data-of").unwrap_or_default();
            // The address says it once.
            from.remove_attribute("data-of");
            systems::toggle(PARTS.with(|cell| cell.borrow().clone()), &id);
        }
        "seasons" => seasons::toggle(PARTS.with(|cell| cell.borrow().clone())),
        "errand" => errand::toggle(PARTS.with(|cell| cell.borrow().clone())),
        "trial" => trial::toggle(PARTS.with(|cell| cell.borrow().clone())),
        "lectern" => {
            let id = from.get_attribute("data-of").unwrap_or_default();
            // The address says it once; the menu opens the recipe's own.
            from.remove_attribute("data-of");
            lectern::open(PARTS.with(|cell| cell.borrow().clone()), &id);
        }
        _ => {
            let of = from.get_attribute("data-of").unwrap_or_default();
            let mut back = None;
            if form::dialog().is_some_and(|dialog| dialog.contains(from)) {
                with_tool(|tool| {
                    back = Some((tool.name.clone(), tool.line));
                    if tool.name == "choose" {
                        choose::leave(&tool.form, &of);
                    }
                });
            }
            let within = back.as_ref().map(|(_, line)| *line);
            BACK.with(|cell| *cell.borrow_mut() = back);
            if let Some(line) = within {
                show(&name, &of, line);
                return;
            }
            OPENER.with(|cell| *cell.borrow_mut() = Some(from.clone()));
            let line = dom::around(from, ".addition");
            let line = line.map_or(0, |line| {
                let lines = dom::by_id("additions").query_selector_all(".addition");
                lines.iter().position(|known| *known == line).unwrap_or(0)
            });
            show(&name, &of, line);
        }
    }
}

/// Opens a file that was dropped on the page.
#[wasm_bindgen]
#[allow(unreachable_pub)]
pub fn open_file(file: File) {
    file::open(&file, false);
}

fn speech() -> Speech {
    if page::speaks_us() {
        Speech { units: Units::Us }
    } else {
        METRIC
    }
}

/// A copy of one of the parts that tools are built of.
fn part(id: &str) -> Option<Element> {
    let parts = PARTS.with(|cell| cell.borrow().clone())?;
    let template = parts.get_element_by_id(id)?;
    Some(document().import_node(&template.content(), true))
}

/// Shows a tool in the dialog.
fn show(name: &str, of: &str, line: usize) {
    paper::clear();
    let Some(tool) = Tool::open(name, of, line) else {
        return;
    };
    TOOL.with(|cell| {
        if let Ok(mut cell) = cell.try_borrow_mut() {
            *cell = Some(tool);
        }
    });
    with_tool(|tool| {
        tool.fill(of);
        tool.touched = draft::fill(tool);
        if name == "measure" {
            measure::show_sample(&tool.form, of);
        }
        tool.refresh();
        let title = tool.form.find("#shed-title");
        if name != "choose"
            && let Some(title) = title
        {
            focus(&title);
        }
    });
}

/// Shows a text in the dialog, such as what was wrong with a file. A tool that is being filled in
/// stays, and tells it at its foot.
fn say(title: &str, text: &str) {
    let mut told = false;
    with_tool(|tool| {
        if tool.is_open() && tool.uses() {
            tool.form.mark(Some(&Wrong::of(text)));
            told = true;
        }
    });
    if told {
        return;
    }
    show("say", title, 0);
    with_tool(|tool| {
        tool.form.write("#shed-title", title);
        tool.form.write(".shed-body", text);
    });
}

/// What a button of the open tool asks for.
fn act(what: &str, value: &str) {
    match what {
        "close" => close(),
        "use" => {
            let mut taken = None;
            with_tool(|tool| {
                if tool.catch_up() {
                    taken = tool.use_it();
                }
            });
            match taken {
                Some(Use::Recipe(recipe)) => {
                    let wrong = page::take(&to_letters(&recipe), false);
                    if wrong.is_empty() {
                        close();
                    } else {
                        with_tool(|tool| tool.form.mark(Some(&Wrong::of(wrong))));
                    }
                }
                Some(Use::Forget) => {
                    file::forget();
                    close();
                }
                Some(Use::Own(recipe)) => {
                    let wrong = page::take(&to_letters(&recipe), false);
                    if wrong.is_empty() {
                        show("own", "", 0);
                    } else {
                        with_tool(|tool| tool.form.mark(Some(&Wrong::of(wrong))));
                    }
                }
                None => {}
            }
        }
        "clear-measured" => {
            let mut cleared = None;
            with_tool(|tool| {
                if tool.catch_up() {
                    cleared = measure::clear(tool);
                    draft::used(tool);
                }
            });
            let wrong = cleared.map(|recipe| page::take(&to_letters(&recipe), false));
            with_tool(|tool| {
                tool.look_again();
                tool.refresh();
                if let Some(wrong) = wrong.filter(|wrong| !wrong.is_empty()) {
                    tool.form.mark(Some(&Wrong::of(wrong)));
                }
            });
        }
        "print" => paper::to_printer(),
        "picture" => {
            let mut made = None;
            with_tool(|tool| made = paper::picture(tool, value));
            if let Some((name, picture)) = made {
                paper::save_picture(name, &picture);
            }
        }
        "table" => {
            let mut made = None;
            with_tool(|tool| made = paper::table(tool));
            if let Some((name, text)) = made {
                paper::save_table(&name, &text);
            }
        }
        "import" => file::choose(true),
        "export" => own::export(value),
        "edit" => show("material", value, 0),
        "own" => show("own", "", 0),
        "star" => choose::star(value),
        "add" => choose::add(value),
        "return" => {
            if let Some((name, line)) = BACK.with(|cell| cell.borrow_mut().take()) {
                // The list is shown where it was left; other tools have their drafts.
                show(&name, if name == "choose" { "back" } else { "" }, line);
            }
        }
        "copy-material" => own::copy(),
        "delete-material" => own::delete(value),
        "open-kept" => file::open_kept(value),
        "delete-kept" => {
            file::delete_kept(value);
            show("kept", "", 0);
        }
        _ => with_tool(|tool| {
            tool.touched = true;
            if what == "answer" || what == "back" {
                ground::step(tool, what, value);
            }
            if tool.name == "steps" {
                steps::act(tool, what, value);
            }
            tool.refresh();
        }),
    }
}

/// Closes the dialog; the focus goes back to what opened it, or to what stands there now.
fn close() {
    if let Some(dialog) = form::dialog() {
        dialog.close();
    }
    choose::closed();
    let mut line = 0;
    with_tool(|tool| line = tool.line);
    let opener = OPENER.with(|cell| cell.borrow().clone());
    let Some(opener) = opener else {
        return;
    };
    if !opener.is_connected() {
        // The list was built anew.
        let more = dom::by_id("additions").query_selector_all("[data-shed=line]");
        if let Some(more) = more.get(line) {
            focus(more);
        }
        return;
    }
    let menu = dom::around(&opener, ".menu");
    let summary = menu.and_then(|menu| menu.query_selector("summary"));
    focus(&summary.unwrap_or(opener));
}

/// What using a tool comes to.
enum Use {
    /// Goes on with a recipe.
    Recipe(Recipe),
    /// The same, back to the list of materials.
    Own(Recipe),
    /// Everything is to be forgotten.
    Forget,
}

impl Tool {
    fn open(name: &str, of: &str, line: usize) -> Option<Tool> {
        // One tool for both samples.
        let of = if name == "measure" { "" } else { of };
        let dialog = form::dialog()?;
        let letters = page::recipe();
        let recipe = from_letters(&letters).ok()?;
        let parts = PARTS.with(|cell| cell.borrow().clone())?;
        let copy = |id: &str| {
            let template = parts.get_element_by_id(id)?;
            let title = template.get_attribute("data-title").unwrap_or_default();
            Some((document().import_node(&template.content(), true), title))
        };
        dialog.set_text_content("");
        let (frame, _) = copy("frame")?;
        dialog.append_child(&frame);
        let form = Form::of(dialog.clone());
        if let Some((body, title)) = copy(name) {
            form.part(".shed-body").append_child(&body);
            form.write("#shed-title", &title);
        }
        set(&dialog, "data-tool-open", name);
        if !dialog.open() {
            dialog.show_modal();
        }
        Some(Tool {
            name: name.to_owned(),
            key: format!("{name} {of} {line}"),
            letters,
            form,
            recipe,
            speech: speech(),
            touched: false,
            line,
            feel: Feel::start(),
            material: None,
        })
    }

    fn fill(&mut self, of: &str) {
        match self.name.as_str() {
            "usual" | "jar" | "feel" | "class" | "can" | "ranges" => ground::fill(self),
            "parts" | "dug" | "fill" | "line" => barrow::fill(self),
            "measure" => measure::fill(self),
            "dose" => dose::fill(self, of),
            "report" => report::fill(self),
            "crumbs" => report::fill_crumbs(self),
            "own" => own::fill_list(self),
            "material" => own::fill_material(self, of),
            "kept" => file::fill_kept(self),
            "text" => file::fill_text(self),
            "paper" => paper::fill(self),
            "why" => why::fill(self, of),
            "choose" => choose::fill(self, of == "back"),
            "steps" => steps::begin(self),
            "sheet" => {
                let sheets = SHEETS.with(|cell| cell.borrow().clone());
                let from = BACK.with(|cell| cell.borrow().clone());
                let from = from.as_ref().map(|(name, _)| name.as_str());
                if !sheet::fill(self, sheets.as_ref(), of, from) {
                    self.form
                        .write("[data-part=sheet]", label_of_shed("no_sheet"));
                }
            }
            _ => {}
        }
    }

    fn typed(&mut self, event: &Event) {
        self.touched = true;
        if let Some(field) = dom::closest(event, "[name]") {
            let name = field.get_attribute("name").unwrap_or_default();
            match self.name.as_str() {
                "dug" | "line" => barrow::chose(self, &name),
                "dose" => dose::chose(self, &name),
                "material" => own::typed(self, &name),
                "choose" => choose::narrow(&self.form),
                _ => {}
            }
        }
        self.refresh();
        draft::keep(self);
    }

    fn is_open(&self) -> bool {
        form::dialog().is_some_and(|dialog| dialog.open())
    }

    /// Whether it comes to something that can be used.
    fn uses(&self) -> bool {
        let tells = [
            "own", "kept", "text", "paper", "why", "say", "choose", "sheet",
        ];
        !tells.contains(&self.name.as_str())
    }

    /// The recipe may have changed since the tool was opened. What was measured holds for the new
    /// one too; what began with the old one has to be looked at again.
    fn catch_up(&mut self) -> bool {
        let letters = page::recipe();
        if letters == self.letters {
            return true;
        }
        self.look_again();
        if draft::is_of_recipe(&self.name) || self.name == "steps" {
            let text = label_of_shed("changed_meanwhile");
            self.form.mark(Some(&Wrong::of(text)));
            return false;
        }
        true
    }

    /// Takes the recipe as the page has it now.
    fn look_again(&mut self) {
        let letters = page::recipe();
        if let Ok(recipe) = from_letters(&letters) {
            self.recipe = recipe;
            self.letters = letters;
        }
    }

    fn answer(&self) -> Result<Answer, Wrong> {
        let answer = match self.name.as_str() {
            "usual" | "jar" | "feel" | "class" | "can" | "ranges" => ground::answer(self),
            "parts" | "dug" | "fill" | "line" => barrow::answer(self),
            "material" => own::answer(self),
            "measure" => measure::answer(self),
            "dose" => dose::answer(self),
            "report" => report::answer(self),
            "crumbs" => report::answer_crumbs(self),
            "steps" => steps::answer(self),
            _ => Ok(Answer::default()),
        }?;
        // What the page could not open is told here, where it can be mended.
        if let Some(recipe) = &answer.recipe
            && let Err(error) = from_letters(&to_letters(recipe))
        {
            return Err(Wrong::of(page_fault_text(&error.fault)));
        }
        Ok(answer)
    }

    /// Writes what the form comes to now.
    fn refresh(&mut self) {
        self.form.follow_choices();
        let answer = self.answer();
        let wrong = answer.as_ref().err();
        let told = wrong.filter(|wrong| self.touched && !wrong.missing);
        self.form.mark(told);
        measure::unfold(&self.form);
        let lines = match &answer {
            Ok(answer) => answer.lines.clone(),
            Err(wrong) if wrong.missing && self.touched => vec![wrong.text.clone()],
            Err(_) => Vec::new(),
        };
        let place = self.form.part("#shed-answer");
        place.set_text_content("");
        for line in lines {
            form::put(&place, "p", &line);
        }
        set_hidden(&self.form.part(".use"), !self.uses());
        if self.name == "forget" {
            self.form.write(".use", label_of_shed("forget_do"));
        } else {
            let ready = answer.is_ok_and(|answer| answer.recipe.is_some());
            set_disabled(&self.form.part(".use"), !ready);
        }
    }

    fn use_it(&mut self) -> Option<Use> {
        if self.name == "forget" {
            return Some(Use::Forget);
        }
        self.touched = true;
        let recipe = self.answer().ok()?.recipe?;
        draft::used(self);
        if matches!(self.name.as_str(), "dug" | "line") {
            barrow::remember_sizes(&self.form);
        }
        Some(match self.name.as_str() {
            "material" => Use::Own(recipe),
            _ => Use::Recipe(recipe),
        })
    }
}
