//! The drawings as files of their own: SVG with its looks written into it, in the light colours,
//! with a title and a description.

mod column;
mod pen;
mod trial;
mod triangle;

use crate::outcome::Outcome;
use crate::plot::{Point, column_parts};
use crate::recipe::{RELEASE, Recipe};
use crate::tongue::Saying;
use crate::trial::layout::Layout;
use crate::trial::plan::Trial;
use crate::words::trial::print::{light_text, plan_drawing_text, set_out_text, trial_title};
use crate::words::trial::report::{REPORT_HEADS, ReadMeasure, TrialReport, drawn_from_text};
use crate::words::trial::seen::{difference_unit, differences_text, dots_text};
use crate::words::{column_sentence, triangle_sentence};
pub(crate) use pen::escape;
use pen::{Pen, number};

/// Widest title above a drawing, letters; a longer one is cut there and whole in the file's title.
const TITLE_LETTERS: usize = 52;
/// Height of the title's line above a drawing.
const TITLE_HEIGHT: f64 = 30.0;

// The light colours of the page, on white: a file goes into other documents.
const PAPER: &str = "#ffffff";
const INK: &str = "#211a14";
const MUTED: &str = "#5e5348";
const LINE: &str = "#8a7b6b";
const BLEND: &str = "#a63d1e";
const GROUND: &str = "#2b4c7e";
const WATER: &str = "#1f6fa8";
const AIR: &str = "#b8872b";
const MINERAL: &str = "#8c6a4f";
const ORGANIC: &str = "#4f6b2a";

/// A drawing in a file of its own.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// The file's text.
    pub svg: String,
    /// Width and height, units.
    pub size: [f64; 2],
    /// What it shows, in words.
    pub says: String,
}

/// The texture triangle of an outcome, which must be that of the recipe.
pub fn triangle_picture(recipe: &Recipe, outcome: &Outcome) -> Picture {
    let mut pen = Pen::default();
    triangle::draw(&mut pen, outcome);
    framed(recipe, &triangle_sentence(outcome), [460.0, 372.0], &pen)
}

/// The pore column of an outcome, which must be that of the recipe.
pub fn column_picture(recipe: &Recipe, outcome: &Outcome) -> Picture {
    let parts = column_parts(outcome);
    let mut pen = Pen::default();
    let height = column::draw(&mut pen, outcome, &parts);
    framed(
        recipe,
        &column_sentence(outcome, &parts),
        [460.0, height],
        &pen,
    )
}

/// A trial from above; where it is `named`, with what the letters stand for. It has no title, since
/// that stands above it.
pub fn trial_plan_picture(trial: &Trial, recipe: &Recipe, layout: &Layout, named: bool) -> Picture {
    let mut pen = Pen::default();
    let height = trial::plan(&mut pen, trial, recipe, layout, 4.0, named);
    let says = plan_drawing_text(trial, recipe, layout);
    titled("", &says, [trial::WIDTH, height + 4.0], &pen)
}

/// A trial from above as it stands beside a table that tells the letters. None of a trial that
/// could not be read so small.
pub fn trial_small_plan_picture(
    trial: &Trial,
    recipe: &Recipe,
    layout: &Layout,
) -> Option<Picture> {
    let mut pen = Pen::default();
    let size = trial::narrow_plan(&mut pen, trial, layout)?;
    let says = plan_drawing_text(trial, recipe, layout);
    Some(titled("", &says, size, &pen))
}

/// What one measure shows: every container, and each treatment against the control.
pub fn trial_shown_picture(trial: &Trial, recipe: &Recipe, read: &ReadMeasure) -> Picture {
    let mut pen = Pen::default();
    let height = trial::shown(&mut pen, trial, recipe, read, 0.0);
    let says = shown_says(trial, recipe, read);
    titled("", &says, [trial::WIDTH, height], &pen)
}

fn shown_says(trial: &Trial, recipe: &Recipe, read: &ReadMeasure) -> String {
    let known = trial.measure(&read.id);
    let [unit, apart] = known.map_or(["", ""], |known| {
        [read.seen.unit(&known), difference_unit(&read.seen, &known)]
    });
    let each = dots_text(
        trial,
        recipe,
        &read.analysis.groups,
        unit,
        read.seen.decimals,
    );
    if !read.seen.has_control {
        return each;
    }
    let differences = read.seen.differences(&read.analysis);
    let apart = differences_text(trial, recipe, &differences, apart);
    [&each, " ", &apart].concat().trim_end().to_owned()
}

/// The plan of a trial in a picture; what its letters stand for is told where they hide nothing.
pub fn trial_picture(trial: &Trial, recipe: &Recipe, layout: &Layout) -> Picture {
    let mut pen = Pen::default();
    let about = [
        set_out_text(trial, layout),
        light_text(trial.site).to_owned(),
        drawn_from_text(layout),
    ];
    let mut y = trial::lines(&mut pen, &about, 0.0) + 8.0;
    y += trial::plan(&mut pen, trial, recipe, layout, y, !trial.blind);
    let says = plan_drawing_text(trial, recipe, layout);
    titled(&trial_title(trial), &says, [trial::WIDTH, y], &pen)
}

/// The report of a trial as one picture: everything that stands on paper, but for the link.
pub fn trial_report_picture(
    trial: &Trial,
    recipe: &Recipe,
    layout: &Layout,
    told: &TrialReport,
    read: Option<&ReadMeasure>,
) -> Picture {
    let [compared, shows, not, expected, _] = REPORT_HEADS.map(Saying::text);
    let mut pen = Pen::default();
    let mut y = trial::lines(&mut pen, &told.question, 0.0);
    let part = |pen: &mut Pen, y: &mut f64, head: &str, texts: &[String]| {
        *y += trial::head(pen, head, *y);
        *y += trial::lines(pen, texts, *y);
    };
    part(&mut pen, &mut y, compared, &told.doses.lines());
    y += 8.0;
    y += trial::plan(&mut pen, trial, recipe, layout, y, true);
    part(&mut pen, &mut y, shows, &[]);
    let mut says = plan_drawing_text(trial, recipe, layout);
    if !told.nothing.is_empty() {
        y += trial::lines(&mut pen, &[told.nothing.to_owned()], y);
    }
    if let Some(read) = read {
        y += trial::shown(&mut pen, trial, recipe, read, y);
        says = [&says, " ", &shown_says(trial, recipe, read)].concat();
    }
    for (at, measure) in told.measures.iter().enumerate() {
        let texts = if at == 0 {
            measure.told()
        } else {
            vec![measure.line()]
        };
        y += trial::lines(&mut pen, &texts, y) + 4.0;
    }
    y += trial::lines(&mut pen, &told.also, y);
    for (head, texts) in [(not, &told.not), (expected, &told.expected)] {
        if !texts.is_empty() {
            part(&mut pen, &mut y, head, texts);
        }
    }
    y += 8.0;
    y += trial::lines(&mut pen, std::slice::from_ref(&told.made), y) + 8.0;
    titled(&told.title, &says, [trial::WIDTH, y], &pen)
}

/// A drawing with its title above, on paper.
fn framed(recipe: &Recipe, says: &str, size: Point, pen: &Pen) -> Picture {
    let title = recipe.title.as_deref().map(str::trim).unwrap_or_default();
    titled(title, says, size, pen)
}

fn titled(title: &str, says: &str, [width, height]: Point, pen: &Pen) -> Picture {
    let above = if title.is_empty() { 0.0 } else { TITLE_HEIGHT };
    let mut head = Pen::default();
    let place = [0.0, -above];
    let size = [width, height + above];
    head.rectangle(&format!("fill=\"{PAPER}\""), place, size);
    if !title.is_empty() {
        let mut shown: String = title.chars().take(TITLE_LETTERS).collect();
        if shown.len() < title.len() {
            shown.push('…');
        }
        let look = format!("fill=\"{INK}\" font-size=\"15\" font-weight=\"700\"");
        head.word(&look, "start", [8.0, 20.0 - above], &shown);
    }
    let named = if title.is_empty() {
        says.to_owned()
    } else {
        [title, ": ", says].concat()
    };
    let svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 {} {} {}\" width=\"{}\" \
         height=\"{}\" role=\"img\" font-family=\"system-ui, 'Segoe UI', Roboto, 'Noto Sans', \
         'DejaVu Sans', sans-serif\" font-size=\"13\" fill=\"{INK}\"><title>{}</title>\
         <desc>{} Barrowmix {RELEASE}; an estimate.</desc>{}{}</svg>\n",
        number(-above),
        number(size[0]),
        number(size[1]),
        number(size[0]),
        number(size[1]),
        escape(&named),
        escape(says),
        head.0,
        pen.0
    );
    Picture {
        svg,
        size,
        says: says.to_owned(),
    }
}
