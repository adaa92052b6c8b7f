//! The print sheet, and the drawings and figures as files.

use super::barrow::own_sizes;
use super::browser::{
    Blob, Options, create_object_url, location, print, revoke_object_url, to_blob, today_told,
};
use super::file::{download_blob, not_saved};
use super::form::put;
use super::{Tool, part};
use crate::dom::{Element, by_id, find, listen, make, mark, root, set, set_disabled, set_hidden};
use crate::outcome::Outcome;
use crate::picture::{Picture, column_picture, triangle_picture};
use crate::plot::qr;
use crate::recipe::{Amount, Recipe, to_link};
use crate::table::outcome_as_csv;
use crate::words::{Paper, error_text, file_name, label_of_shed, paper, too_long_for_a_code};
use wasm_bindgen::prelude::*;

/// A code of more squares along a side is drawn on 56 mm in place of 38, so that a square is 0.44 mm
/// at the least (a choice: what a phone reads from paper).
const SMALL_SQUARES: usize = 85;
/// Pixels of a picture for a unit of its drawing.
const PIXELS: f64 = 3.0;
/// The kind of a drawing's file.
const SVG: &str = "image/svg+xml";
/// The id of what is printed.
pub(super) const PRINTED: &str = "sheet-of-paper";

/// Shows the sheet, and lays the same where the printer finds it.
pub(super) fn fill(tool: &Tool) {
    let place = tool.form.part("[data-part=preview]");
    let told = sheet(tool);
    for control in tool
        .form
        .all("[data-tool=print], [data-tool=picture], [data-tool=table]")
    {
        set_disabled(&control, told.is_err());
    }
    let sheet = match told {
        Ok(sheet) => sheet,
        Err(wrong) => {
            put(&place, "p", &wrong);
            return;
        }
    };
    let Some(seen) = part("paper-sheet") else {
        return;
    };
    place.append_child(&seen);
    write(&place, &sheet);
    lay(&sheet);
}

/// Takes away what would be printed, so that the browser's own menu prints the page.
pub(super) fn clear() {
    mark(&root(), "data-paper", false);
    if let Some(old) = find(&["#", PRINTED].concat()) {
        old.remove();
    }
}

fn lay(sheet: &Sheet) {
    clear();
    let (Some(copy), Some(body)) = (part("paper-sheet"), by_id("shed").parent_element()) else {
        return;
    };
    let section = make("section");
    set(&section, "id", PRINTED);
    section.append_child(&copy);
    body.append_child(&section);
    write(&section, sheet);
    mark(&root(), "data-paper", true);
}

/// Opens the browser's printing.
pub(super) fn to_printer() {
    print();
}

fn outcome(recipe: &Recipe) -> Result<Outcome, String> {
    Outcome::of(recipe).map_err(|error| error_text(&error))
}

/// What is told, the drawings and the link.
struct Sheet {
    told: Paper,
    drawings: [Picture; 2],
    /// Or the label of why there is none.
    link: Result<String, &'static str>,
}

fn sheet(tool: &Tool) -> Result<Sheet, String> {
    let outcome = outcome(&tool.recipe)?;
    let sizes = own_sizes().map(|(value, unit)| Amount::new(value, unit));
    let told = paper(&tool.recipe, &outcome, &sizes, tool.speech);
    // The sheet has a title of its own.
    let untitled = Recipe {
        title: None,
        ..tool.recipe.clone()
    };
    let drawings = [
        triangle_picture(&untitled, &outcome),
        column_picture(&untitled, &outcome),
    ];
    Ok(Sheet {
        told,
        drawings,
        link: link_to(&tool.recipe),
    })
}

/// The link to a recipe, or the label of why there is none.
pub(super) fn link_to(recipe: &Recipe) -> Result<String, &'static str> {
    // The sequence for the lectern would only make it longer.
    let bare = Recipe {
        lectern: None,
        ..recipe.clone()
    };
    let address = location().href();
    let page = address.split(['#', '?']).next().unwrap_or_default();
    match to_link(&bare) {
        _ if page.starts_with("file:") => Err("paper_from_file"),
        Err(_) => Err("paper_no_link"),
        Ok(letters) => Ok([page, "#", &letters].concat()),
    }
}

fn write(under: &Element, sheet: &Sheet) {
    let Sheet {
        told: paper,
        drawings,
        link,
    } = sheet;
    let part = |name: &str| {
        let found = under.query_selector(&["[data-part=", name, "]"].concat());
        found.unwrap_or_else(|| make("div"))
    };
    part("title").set_text_content(&paper.title);
    part("date").set_text_content(&today_told());
    for line in &paper.ground {
        put(&part("ground"), "p", line);
    }
    let head = part("weigh-head");
    for name in &paper.weigh_head {
        set(&put(&head, "th", name), "scope", "col");
    }
    let last = paper.weigh.len().saturating_sub(1);
    for (index, cells) in paper.weigh.iter().enumerate() {
        let row = row(&part("weigh"), cells);
        if index == last {
            set(&row, "class", "sum");
        }
    }
    for note in &paper.weigh_notes {
        put(&part("weigh-notes"), "p", note);
    }
    part("class").set_text_content(&paper.class);
    for cells in &paper.figures {
        row(&part("figures"), cells);
    }
    for [head, rest] in &paper.verdict {
        let line = put(&part("verdict"), "p", "");
        put(&line, "strong", head);
        put(&line, "span", &[" ", rest].concat());
    }
    for [word, head, text] in &paper.cautions {
        let item = put(&part("cautions"), "li", "");
        let head = if word.is_empty() {
            head.clone()
        } else {
            [word, ": ", head].concat()
        };
        put(&item, "strong", &head);
        put(&item, "span", &[" ", text].concat());
    }
    for note in &paper.notes {
        put(&part("notes"), "li", note);
    }
    for (name, drawing) in ["triangle", "column"].iter().zip(drawings) {
        show_picture(&part(name), drawing);
    }
    for [name, sources] in &paper.rests {
        let item = put(&part("rests"), "li", "");
        put(&item, "span", &[name, ": "].concat());
        put(&item, "span", sources);
    }
    part("made").set_text_content(&paper.made);
    for (name, empty) in [
        ("cautions-all", paper.cautions.is_empty()),
        ("notes-all", paper.notes.is_empty()),
        ("rests-all", paper.rests.is_empty()),
    ] {
        set_hidden(&part(name), empty);
    }
    write_link(&part("code"), &part("code-says"), &part("link"), link);
}

/// The link and its code, or why there is none.
pub(super) fn write_link(
    code: &Element,
    says: &Element,
    place: &Element,
    link: &Result<String, &'static str>,
) {
    let link = match link {
        Ok(link) => link,
        Err(why) => {
            set_hidden(code, true);
            return says.set_text_content(label_of_shed(why));
        }
    };
    place.set_text_content(link);
    let drawn = qr(link);
    set_hidden(code, drawn.is_none());
    let Some(drawn) = drawn else {
        says.set_text_content(&too_long_for_a_code(link.chars().count()));
        return;
    };
    let whole = drawn.whole();
    set(code, "viewBox", &format!("0 0 {whole} {whole}"));
    if whole > SMALL_SQUARES {
        set(code, "class", "large");
    }
    if let Some(path) = code.query_selector("path") {
        set(&path, "d", &drawn.path());
    }
}

/// A row of a table, its first cell the head.
fn row(under: &Element, cells: &[String]) -> Element {
    let row = put(under, "tr", "");
    for (index, cell) in cells.iter().enumerate() {
        if index == 0 {
            set(&put(&row, "th", cell), "scope", "row");
        } else {
            put(&row, "td", cell);
        }
    }
    row
}

/// The figures as a file: its name and text.
pub(super) fn table(tool: &Tool) -> Option<(String, String)> {
    let outcome = outcome(&tool.recipe).ok()?;
    let name = file_name(tool.recipe.title.as_deref(), "csv");
    Some((name, outcome_as_csv(&tool.recipe, &outcome)))
}

/// Hands the figures to the browser.
pub(super) fn save_table(name: &str, text: &str) {
    // Spreadsheets take the letters for what they are only after this mark.
    save(name, &["\u{feff}", text].concat(), "text/csv;charset=utf-8");
}

/// A drawing as a file, `triangle.svg`, `column.png` and the like: its name and itself.
pub(super) fn picture(tool: &Tool, which: &str) -> Option<(String, Picture)> {
    let outcome = outcome(&tool.recipe).ok()?;
    let picture = if which.starts_with("triangle") {
        triangle_picture(&tool.recipe, &outcome)
    } else {
        column_picture(&tool.recipe, &outcome)
    };
    Some((file_name(tool.recipe.title.as_deref(), which), picture))
}

/// Hands a drawing to the browser.
pub(super) fn save_picture(name: String, picture: &Picture) {
    if name.ends_with(".svg") {
        save(&name, &picture.svg, SVG);
    } else {
        save_pixels(name, picture);
    }
}

/// Shows a drawing in the place of an image. Where the browser refuses, its words stand there.
pub(super) fn show_picture(image: &Element, picture: &Picture) {
    set(image, "alt", &picture.says);
    let Ok(url) = create_object_url(&blob(&picture.svg, SVG)) else {
        return;
    };
    set(image, "src", &url);
    listen(image, "load", move |_| revoke_object_url(&url));
}

fn blob(text: &str, kind: &str) -> Blob {
    let options = Options::new();
    options.set_kind(kind);
    Blob::of_kind(vec![JsValue::from_str(text)], &options)
}

fn save(name: &str, text: &str, kind: &str) {
    download_blob(name, &blob(text, kind));
}

/// Draws a picture on a canvas, and hands that to the browser as a file.
fn save_pixels(name: String, picture: &Picture) {
    let Ok(url) = create_object_url(&blob(&picture.svg, SVG)) else {
        not_saved();
        return;
    };
    let [wide, high] = picture.size.map(|units| units * PIXELS);
    let image = make("img");
    let (loaded, done) = (image.clone(), url.clone());
    listen(&image, "load", move |_| {
        let canvas = make("canvas");
        set(&canvas, "width", &format!("{wide}"));
        set(&canvas, "height", &format!("{high}"));
        if let Some(context) = canvas.get_context("2d") {
            context.draw_image(&loaded, 0.0, 0.0, wide, high);
        }
        revoke_object_url(&done);
        let name = name.clone();
        let take = Closure::once_into_js(move |pixels: Option<Blob>| match pixels {
            Some(pixels) => download_blob(&name, &pixels),
            None => not_saved(),
        });
        if to_blob(&canvas, &take, "image/png").is_err() {
            not_saved();
        }
    });
    listen(&image, "error", |_| not_saved());
    set(&image, "src", &url);
}
