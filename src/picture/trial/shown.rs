//! Every container of a measure by treatment, and beside it how far the treatment differs from the
//! control.

use super::super::pen::{Pen, through};
use super::super::{BLEND, GROUND, INK, LINE, MUTED, PAPER};
use super::{EDGE, LINE_HEIGHT, WIDTH, cut, wrapped};
use crate::plot::{Point, TrialBar, TrialScale, difference_scale, dots_scale, swarm};
use crate::recipe::Recipe;
use crate::trial::analysis::{Limit, Scale};
use crate::trial::plan::Trial;
use crate::words::trial::plan::{measure_with_unit, treatment_name};
use crate::words::trial::report::ReadMeasure;
use crate::words::trial::seen::{
    AGAINST_CONTROL, THE_CONTROL, difference_ends, difference_tick, difference_unit, dots_key,
    mean_text, row_difference_text, tick_text,
};

/// Left and right edges of names, dots and differences.
const NAMES: [f64; 2] = [EDGE, 146.0];
const DOTS: [f64; 2] = [162.0, 378.0];
const BARS: [f64; 2] = [408.0, WIDTH - EDGE];
/// Room within these edges for half a number at an end.
const INSET: f64 = 12.0;
/// Letters of a line of a name, and its lines.
const NAME_LETTERS: usize = 21;
const NAME_LINES: usize = 2;
/// Height of a treatment: the usual, and where there are more of them than so many.
const ROWS: [f64; 2] = [29.0, 21.0];
/// Of it, what letters take above a lane.
const ABOVE: f64 = 13.0;
const MANY: usize = 6;
/// Radius of a container.
const RADIUS: f64 = 3.2;

/// Draws it; gives its height.
pub(in crate::picture) fn shown(
    pen: &mut Pen,
    trial: &Trial,
    recipe: &Recipe,
    read: &ReadMeasure,
    top: f64,
) -> f64 {
    let treatments = read.analysis.groups.len();
    let row = ROWS[usize::from(treatments > MANY)];
    let mut y = top + LINE_HEIGHT;
    let head = measure_with_unit(trial, &read.id);
    pen.word("font-weight=\"700\"", "start", [EDGE, y], &cut(&head, 80));
    y += 8.0;
    let bottom = y + row * treatments as f64;
    let name_lines = NAME_LINES - usize::from(treatments > MANY);
    for treatment in 0..treatments {
        let from = y + row * treatment as f64;
        if treatment > 0 {
            let look = format!("fill=\"none\" stroke=\"{LINE}\" stroke-opacity=\".4\"");
            pen.path(
                &look,
                &through(&[[EDGE, from], [WIDTH - EDGE, from]], false),
            );
        }
        let name = treatment_name(trial, recipe, treatment);
        let mut lines = wrapped(&name, NAME_LETTERS);
        if lines.len() > name_lines {
            let rest = lines.split_off(name_lines - 1).join(" ");
            lines.push(cut(&rest, NAME_LETTERS - 1));
        }
        let first = from + 0.5 * row + 4.0 - 6.5 * (lines.len() as f64 - 1.0);
        for (at, line) in lines.iter().enumerate() {
            let at = [NAMES[0], first + 13.0 * at as f64];
            pen.word("font-size=\"12\" font-weight=\"600\"", "start", at, line);
        }
    }
    let differ = read.seen.differences(&read.analysis).rows;
    let bars = read.seen.has_control && differ.iter().any(|(.., range)| range.is_some());
    dots(
        pen,
        trial,
        read,
        [y, row],
        if bars { DOTS[1] } else { BARS[1] },
    );
    if bars {
        differences(pen, trial, read, [y, row]);
    }
    y = bottom + 16.0;
    let look = format!("fill=\"{MUTED}\" font-size=\"10\"");
    for line in wrapped(dots_key(&read.analysis), if bars { 70 } else { 110 }) {
        y += 13.0;
        pen.word(&look, "start", [NAMES[0], y], &line);
    }
    // The ends of the scale stand below its numbers, beside the key.
    y.max(bottom + 16.0 + 26.0) + 6.0 - top
}

/// Numbers below, and lines through the lanes.
fn axis(
    pen: &mut Pen,
    scale: &TrialScale,
    [top, row]: [f64; 2],
    rows: usize,
    text: impl Fn(f64) -> String,
) {
    let bottom = top + row * rows as f64;
    let look = format!("fill=\"none\" stroke=\"{LINE}\" stroke-opacity=\".45\"");
    let mark = format!("fill=\"{MUTED}\" font-size=\"10\"");
    for tick in &scale.ticks {
        let x = scale.x(*tick);
        pen.path(&look, &through(&[[x, bottom], [x, bottom + 4.0]], false));
        pen.word(&mark, "middle", [x, bottom + 14.0], &text(*tick));
    }
    let ends = [[scale.left, bottom], [scale.left + scale.width, bottom]];
    pen.path(&look, &through(&ends, false));
}

fn dots(pen: &mut Pen, trial: &Trial, read: &ReadMeasure, [top, row]: [f64; 2], right: f64) {
    let ReadMeasure { seen, analysis, id } = read;
    let known = trial.measure(id);
    let classes = known
        .as_ref()
        .filter(|_| analysis.scale == Scale::Score)
        .map(|known| [known.limits.0, known.limits.1]);
    let by_logs = analysis.scale == Scale::Log;
    let values: Vec<f64> = seen.readings.iter().map(|of| of.value).collect();
    let means = analysis.groups.iter();
    let means: Vec<_> = means
        .map(|group| crate::trial::seen::shown_mean(analysis, group))
        .collect();
    let ranges: Vec<[f64; 2]> = means.iter().flatten().filter_map(|of| of.range).collect();
    let left = DOTS[0] + INSET;
    let width = right - INSET - left;
    let scale = dots_scale(&values, &ranges, classes, by_logs, left, width);
    axis(pen, &scale, [top, row], analysis.groups.len(), tick_text);
    let half = 0.5 * (row - ABOVE) - 1.0;
    let unit = known.map_or("", |known| seen.unit(&known));
    for (treatment, group) in analysis.groups.iter().enumerate() {
        let from = top + row * treatment as f64 + ABOVE;
        let middle = from + half;
        let at = [DOTS[0], from - 2.0];
        pen.word(
            "font-size=\"11\"",
            "start",
            at,
            &mean_text(group, means[treatment], unit, seen.decimals),
        );
        if let Some([low, high]) = means[treatment].and_then(|of| of.range) {
            let [low, high] = [low, high].map(|end| scale.x(end));
            let look = format!("fill=\"{BLEND}\" fill-opacity=\".22\"");
            pen.rectangle(&look, [low, middle - 4.5], [(high - low).max(0.0), 9.0]);
        }
        if let Some(mean) = means[treatment].map(|of| of.mean).or(group.median) {
            let x = scale.x(mean);
            let look = format!("fill=\"none\" stroke=\"{BLEND}\" stroke-width=\"2.5\"");
            pen.path(
                &look,
                &through(&[[x, middle - half], [x, middle + half]], false),
            );
        }
        let own = seen.readings.iter();
        let own: Vec<_> = own
            .filter(|of| of.treatment == treatment && of.value.is_finite())
            .collect();
        let xs: Vec<f64> = own.iter().map(|of| scale.x(of.value)).collect();
        for ((of, x), offset) in own.iter().zip(&xs).zip(&swarm(&xs, RADIUS, half)) {
            let is_beyond = of.limit != Limit::No;
            let fill = if is_beyond { PAPER } else { INK };
            let look = format!("fill=\"{fill}\" stroke=\"{INK}\" stroke-width=\".8\"");
            let at: Point = [*x, middle + offset];
            pen.circle(&look, at, RADIUS);
            if is_beyond {
                let way = if of.limit == Limit::Above { 1.0 } else { -1.0 };
                let ends = [[x + way * RADIUS, at[1]], [x + way * 2.5 * RADIUS, at[1]]];
                let look = format!("fill=\"none\" stroke=\"{INK}\" stroke-width=\"1.5\"");
                pen.path(&look, &through(&ends, false));
            }
        }
    }
}

fn differences(pen: &mut Pen, trial: &Trial, read: &ReadMeasure, [top, row]: [f64; 2]) {
    let ReadMeasure { id, seen, analysis } = read;
    let known = trial.measure(id);
    let unit = known.map_or("", |known| difference_unit(seen, &known));
    let differences = seen.differences(analysis);
    let drawn: Vec<(f64, Option<[f64; 2]>)> = differences
        .rows
        .iter()
        .map(|(_, estimate, range)| (*estimate, *range))
        .collect();
    let left = BARS[0] + INSET;
    let width = BARS[1] - INSET - left;
    let scale = difference_scale(&drawn, differences.band, differences.least, left, width);
    let rows = analysis.groups.len();
    let head = format!("fill=\"{MUTED}\" font-size=\"11\"");
    pen.word(&head, "end", [BARS[1], top - 8.0], AGAINST_CONTROL.text());
    // The band and the control's line lie in the lanes of bars, below what stands in letters.
    let zero = scale.x(0.0);
    for treatment in 0..rows {
        let lane = [top + row * treatment as f64 + ABOVE, row - ABOVE - 1.0];
        if let Some([low, high]) = differences.band {
            let [low, high] = [low, high].map(|end| scale.x(end));
            let look = format!("fill=\"{LINE}\" fill-opacity=\".22\"");
            pen.rectangle(&look, [low, lane[0]], [(high - low).max(0.0), lane[1]]);
        }
        let look = format!("fill=\"none\" stroke=\"{GROUND}\" stroke-width=\"1.5\"");
        let ends = [[zero, lane[0]], [zero, lane[0] + lane[1]]];
        pen.path(&look, &through(&ends, false));
        let own = differences.rows.iter();
        let own = own.clone().find(|(of, ..)| *of == treatment);
        let at = [BARS[0], lane[0] - 2.0];
        match own {
            Some((_, estimate, range)) => {
                let text = row_difference_text(*estimate, *range, &differences, unit);
                pen.word("font-size=\"11\"", "start", at, &text);
                let of = scale.bar(*estimate, range.unwrap_or([*estimate; 2]));
                bar(pen, &scale, &of, lane[0] + 0.5 * lane[1]);
            }
            None if treatment == seen.asked.control => {
                pen.word(&head, "start", at, THE_CONTROL.text());
            }
            None => {}
        }
    }
    axis(pen, &scale, [top, row], rows, |tick| {
        difference_tick(tick, differences.in_percent)
    });
    let [worse, better] = difference_ends(seen);
    let y = top + row * rows as f64 + 28.0;
    pen.word(&head, "start", [BARS[0], y], worse);
    pen.word(&head, "end", [BARS[1], y], better);
}

fn bar(pen: &mut Pen, scale: &TrialScale, bar: &TrialBar, y: f64) {
    let [low, high] = [scale.left, scale.left + scale.width];
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
    pen.circle(&look, [bar.x, y], 4.5);
}
