//! A trial: the plan from above, and how far each treatment differs from the control.

use super::pen::{Pen, number, through};
use super::{AIR, BLEND, GROUND, INK, LINE, MUTED, PAPER};
use crate::plot::{Point, TrialPlan, difference_scale};
use crate::recipe::Recipe;
use crate::trial::layout::Layout;
use crate::trial::plan::{Deed, Trial, Vessel};
use crate::words::trial::plan::{measure_with_unit, treatment_name};
use crate::words::trial::report::ReadMeasure;
use crate::words::trial::seen::{
    difference_ends, difference_tick, difference_unit, row_difference_text, seen_verdict_text,
};

/// Width of a drawing.
pub(super) const WIDTH: f64 = 640.0;
/// Edge about a drawing.
const EDGE: f64 = 10.0;
/// Height of a line of text.
const LINE_HEIGHT: f64 = 17.0;
/// Letters of a line from edge to edge, at the size of notes.
const LINE_LETTERS: usize = 104;
/// Letters of a treatment's name beside its bar.
const NAME_LETTERS: usize = 44;
/// Height of a row of differences, without its verdict.
const ROW: f64 = 36.0;

/// Draws the plan; gives its height. `named` says what each letter stands for.
pub(super) fn plan(
    pen: &mut Pen,
    trial: &Trial,
    recipe: &Recipe,
    layout: &Layout,
    top: f64,
    named: bool,
) -> f64 {
    let plan = TrialPlan::of(layout, trial.site, WIDTH - 2.0 * EDGE);
    // A plan that is wider than the paper is drawn smaller.
    let scale = ((WIDTH - 2.0 * EDGE) / plan.size[0]).min(1.0);
    let left = 0.5 * (WIDTH - scale * plan.size[0]);
    let mut own = Pen::default();
    draw_plan(&mut own, trial, layout, &plan);
    pen.0 += &format!(
        "<g transform=\"translate({} {}) scale({scale:.3})\">{}</g>",
        number(left),
        number(top),
        own.0
    );
    let mut y = top + scale * plan.size[1] + LINE_HEIGHT;
    if named {
        for treatment in 0..layout.treatments {
            let letter = layout.letter(treatment).map(String::from);
            let name = treatment_name(trial, recipe, treatment);
            let text = [&letter.unwrap_or_default(), " – ", &name].concat();
            let at = [
                EDGE + (WIDTH / 2.0 - EDGE) * f64::from(u8::from(treatment % 2 == 1)),
                y,
            ];
            pen.word("font-size=\"12\"", "start", at, &cut(&text, NAME_LETTERS));
            if treatment % 2 == 1 || treatment + 1 == layout.treatments {
                y += LINE_HEIGHT;
            }
        }
    }
    y - top
}

fn draw_plan(pen: &mut Pen, trial: &Trial, layout: &Layout, plan: &TrialPlan) {
    for wedge in &plan.wedges {
        let look = format!("fill=\"{AIR}\" fill-opacity=\".25\" stroke=\"{AIR}\"");
        pen.path(&look, &through(&wedge.corners, true));
        let lines: String = wedge
            .hatches
            .iter()
            .map(|ends| through(ends, false))
            .collect();
        pen.path(
            &format!("fill=\"none\" stroke=\"{INK}\" stroke-width=\".8\""),
            &lines,
        );
    }
    for block in &plan.blocks {
        let look = format!("fill=\"none\" stroke=\"{LINE}\" stroke-dasharray=\"5 3\" rx=\"6\"");
        pen.rectangle(&look, block.at, block.size);
        let [x, y] = block.at;
        let look = format!("fill=\"{MUTED}\" font-size=\"12\"");
        let at = [x - 4.0, y + 0.5 * block.size[1] + 4.0];
        pen.word(&look, "end", at, &format!("B{}", block.block + 1));
    }
    let is_strip = matches!(trial.vessel, Vessel::Strip { .. });
    let half = 0.5 * plan.side;
    for (place, spot) in plan.places.iter().zip(&layout.spots) {
        let [x, y] = place.middle;
        let of = trial.treatments.get(spot.treatment).map(|of| &of.deed);
        let is_control = of.is_some_and(Deed::is_control);
        // Which are controls is not to be seen while letters hide it.
        let color = if is_control && !trial.blind {
            GROUND
        } else {
            INK
        };
        let look = format!("fill=\"{PAPER}\" stroke=\"{color}\" stroke-width=\"1.5\"");
        if is_strip {
            pen.rectangle(&look, [x - half, y - half], [plan.side; 2]);
        } else {
            pen.circle(&look, place.middle, half);
        }
        let letter = layout.letter(spot.treatment).map(String::from);
        let look = "font-size=\"16\" font-weight=\"700\"";
        pen.word(look, "middle", [x, y + 2.0], &letter.unwrap_or_default());
        let code = layout.code(place.container).unwrap_or_default();
        let look = format!("fill=\"{MUTED}\" font-size=\"10\"");
        pen.word(&look, "middle", [x, y + 14.0], &code);
    }
}

/// Draws how far each treatment differs from the control, with its verdict where that stands nowhere
/// else; gives its height.
pub(super) fn differences(
    pen: &mut Pen,
    trial: &Trial,
    recipe: &Recipe,
    read: &ReadMeasure,
    top: f64,
    with_verdicts: bool,
) -> f64 {
    let ReadMeasure { id, seen, analysis } = read;
    let known = trial.measure(id);
    let unit = known
        .as_ref()
        .map_or("", |known| difference_unit(seen, known));
    let differences = seen.differences(analysis);
    let mut y = top + LINE_HEIGHT;
    let head = measure_with_unit(trial, id);
    pen.word("font-weight=\"700\"", "start", [EDGE, y], &cut(&head, 80));
    let drawn: Vec<(f64, Option<[f64; 2]>)> = differences
        .rows
        .iter()
        .map(|(_, estimate, range)| (*estimate, *range))
        .collect();
    let (left, width) = (EDGE, WIDTH - 2.0 * EDGE);
    let scale = difference_scale(&drawn, differences.band, differences.least, left, width);
    let rows = analysis.comparisons.iter().map(|row| {
        let verdict = seen_verdict_text(row, seen, unit);
        let lines = if with_verdicts {
            wrapped(&verdict, LINE_LETTERS)
        } else {
            Vec::new()
        };
        let own = differences
            .rows
            .iter()
            .find(|(of, _, _)| *of == row.treatment);
        (row.treatment, own, lines)
    });
    let rows: Vec<_> = rows.collect();
    y += 8.0;
    let from = y;
    let height: f64 = rows
        .iter()
        .map(|(_, _, lines)| ROW + LINE_HEIGHT * lines.len() as f64)
        .sum();
    if let Some([low, high]) = differences.band {
        let [low, high] = [low, high].map(|end| scale.x(end));
        let look = format!("fill=\"{LINE}\" fill-opacity=\".16\"");
        pen.rectangle(&look, [low, from], [(high - low).max(0.0), height]);
    }
    let zero = scale.x(0.0);
    let look = format!("fill=\"none\" stroke=\"{GROUND}\" stroke-width=\"1.5\"");
    pen.path(
        &look,
        &through(&[[zero, from], [zero, from + height]], false),
    );
    for (treatment, own, lines) in rows {
        let name = cut(&treatment_name(trial, recipe, treatment), NAME_LETTERS);
        y += LINE_HEIGHT;
        pen.word("font-weight=\"600\"", "start", [EDGE, y], &name);
        if let Some((_, estimate, range)) = own {
            let text = row_difference_text(*estimate, *range, &differences, unit);
            pen.word("font-size=\"12\"", "end", [WIDTH - EDGE, y], &text);
            bar(
                pen,
                &scale.bar(*estimate, range.unwrap_or([*estimate; 2])),
                y + 10.0,
            );
        }
        y += ROW - LINE_HEIGHT;
        for line in lines {
            let look = format!("fill=\"{MUTED}\" font-size=\"12\"");
            y += LINE_HEIGHT;
            pen.word(&look, "start", [EDGE, y - 4.0], &line);
        }
    }
    y = from + height;
    let look = format!("fill=\"{MUTED}\" font-size=\"11\"");
    for tick in &scale.ticks {
        let x = scale.x(*tick);
        let line = format!("fill=\"none\" stroke=\"{LINE}\"");
        pen.path(&line, &through(&[[x, y], [x, y + 4.0]], false));
        let anchor = if x < left + 20.0 {
            "start"
        } else if x > left + width - 20.0 {
            "end"
        } else {
            "middle"
        };
        let text = difference_tick(*tick, differences.in_percent);
        pen.word(&look, anchor, [x, y + 16.0], &text);
    }
    let [worse, better] = difference_ends(seen);
    y += 16.0 + LINE_HEIGHT;
    pen.word(&look, "start", [left, y], worse);
    pen.word(&look, "end", [left + width, y], better);
    y + EDGE - top
}

fn bar(pen: &mut Pen, bar: &crate::plot::TrialBar, y: f64) {
    let [low, high] = [EDGE, WIDTH - EDGE];
    let [from, to] = [bar.from.max(low), bar.to.min(high)];
    let look = format!("fill=\"none\" stroke=\"{BLEND}\" stroke-width=\"3\"");
    pen.path(&look, &through(&[[from, y], [to, y]], false));
    let thin = format!("fill=\"none\" stroke=\"{BLEND}\" stroke-width=\"2\"");
    for (is_cut, x, side) in [(bar.cut_left, from, 1.0), (bar.cut_right, to, -1.0)] {
        // An arrow where it goes on, a stop where it ends.
        let points: Vec<Point> = if is_cut {
            vec![[x + 5.0 * side, y - 4.0], [x, y], [x + 5.0 * side, y + 4.0]]
        } else {
            vec![[x, y - 4.0], [x, y + 4.0]]
        };
        pen.path(&thin, &through(&points, false));
    }
    let look = format!("fill=\"{BLEND}\" stroke=\"{PAPER}\" stroke-width=\"1.5\"");
    pen.circle(&look, [bar.x, y], 5.0);
}

/// Texts in lines from the left edge; gives their height.
pub(super) fn lines(pen: &mut Pen, texts: &[String], top: f64) -> f64 {
    let look = format!("fill=\"{MUTED}\" font-size=\"12\"");
    let mut y = top;
    for text in texts {
        for line in wrapped(text, LINE_LETTERS) {
            y += LINE_HEIGHT;
            pen.word(&look, "start", [EDGE, y - 4.0], &line);
        }
    }
    y - top
}

fn cut(text: &str, most: usize) -> String {
    let mut out: String = text.chars().take(most).collect();
    if out.len() < text.len() {
        out.push('…');
    }
    out
}

/// A text in lines of so many letters at the most, broken between words where there are any.
fn wrapped(text: &str, most: usize) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        for piece in pieces(word, most) {
            let room = out.last().map(|line| line.chars().count());
            match (room, out.last_mut()) {
                (Some(long), Some(line)) if long + 1 + piece.chars().count() <= most => {
                    line.push(' ');
                    line.push_str(&piece);
                }
                _ => out.push(piece),
            }
        }
    }
    out
}

fn pieces(word: &str, most: usize) -> Vec<String> {
    let letters: Vec<char> = word.chars().collect();
    letters
        .chunks(most)
        .map(|piece| piece.iter().collect())
        .collect()
}
