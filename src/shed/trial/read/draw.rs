//! The drawings: every container by treatment, and differences from the control.

use super::{ME, Page};
use crate::dom::{Element, set};
use crate::picture::escape;
use crate::plot::{Point, TrialScale, difference_scale, dots_scale, swarm};
use crate::shed::ink::Ink;
use crate::trial::analysis::{Limit, Scale};
use crate::trial::seen::shown_mean;
use crate::words::trial::seen::{
    difference_ends, difference_tick, difference_unit, differences_text, dots_text,
    row_difference_text, tick_text,
};

/// Ems of the invisible ruler, as `style.css` has it.
const RULER_EM: f64 = 10.0;
/// Least and greatest width, px.
const WIDTHS: (f64, f64) = (240.0, 900.0);
/// Rows, in ems: the name, then the lane.
const NAME: f64 = 1.5;
const LANE: f64 = 2.2;
const THIN_LANE: f64 = 1.2;
const AXIS: f64 = 2.6;

/// Size of a drawing: the width, and one em.
fn size(place: &Element) -> [f64; 2] {
    let em = f64::from(ME.part("em").client_height()) / RULER_EM;
    let em = if em > 0.0 { em } else { 16.0 };
    let width = f64::from(place.client_width());
    [width.max(WIDTHS.0).min(WIDTHS.1), em]
}

fn put(place: &Element, [width, height]: [f64; 2], ink: &Ink, told: &str) {
    let mut view = Ink("0 0 ".to_owned());
    view.point([width, height]);
    if place.get_attribute("viewBox").as_deref() != Some(&view.0) {
        set(place, "viewBox", &view.0);
        let mut high = Ink(String::new());
        high.number(height);
        set(place, "height", &high.0);
    }
    set(place, "aria-label", told);
    // Drawn anew only where it is another drawing.
    let hash = ink.0.len().to_string() + ink.0.get(ink.0.len() / 2..).unwrap_or_default();
    if place.get_attribute("data-holds").as_deref() != Some(&hash) {
        set(place, "data-holds", &hash);
        place.set_inner_html(&ink.0);
    }
}

/// Ticks below, with lines through each lane and through no letters.
fn axis(
    ink: &mut Ink,
    scale: &TrialScale,
    lanes: &[[f64; 2]],
    bottom: f64,
    em: f64,
    text: impl Fn(f64) -> String,
) {
    for tick in &scale.ticks {
        let x = scale.x(*tick);
        for [from, to] in lanes {
            ink.line("tick", [x, *from], [x, *to]);
        }
        ink.text("mark", [x, bottom + em], "middle", &escape(&text(*tick)));
    }
}

/// Lanes of rows below so much for letters.
fn lanes(rows: usize, row: f64, letters: f64) -> Vec<[f64; 2]> {
    let each = (0..rows).map(|at| row * at as f64);
    each.map(|top| [top + letters, top + row]).collect()
}

/// Every container, in a lane for each treatment.
pub(super) fn dots(page: &Page) {
    let place = ME.part("dots");
    let [width, em] = size(&place);
    let unit = page.seen.unit(&page.measure);
    let radius = 0.3 * em;
    let analysis = &page.analysis;
    let by_logs = analysis.scale == Scale::Log;
    let values: Vec<f64> = page.seen.readings.iter().map(|of| of.value).collect();
    let backs: Vec<_> = analysis
        .groups
        .iter()
        .map(|group| shown_mean(analysis, group))
        .collect();
    let ranges: Vec<[f64; 2]> = backs.iter().flatten().filter_map(|of| of.range).collect();
    let (low_end, high_end) = page.measure.limits;
    let classes = (analysis.scale == Scale::Score).then_some([low_end, high_end]);
    let edge = 1.4 * em;
    let scale = dots_scale(&values, &ranges, classes, by_logs, edge, width - 2.0 * edge);
    let mut ink = Ink(String::with_capacity(20_000));
    let rows = page.names.len();
    let row = (NAME + LANE) * em;
    let bottom = rows as f64 * row;
    let across = lanes(rows, row, NAME * em);
    axis(&mut ink, &scale, &across, bottom, em, tick_text);
    let half = 0.5 * LANE * em;
    for (treatment, name) in page.names.iter().enumerate() {
        let top = treatment as f64 * row;
        let middle = top + NAME * em + half;
        ink.text("name", [0.0, top + 1.1 * em], "start", &escape(name));
        let group = &analysis.groups[treatment];
        if let Some(back) = backs[treatment] {
            if let Some([low, high]) = back.range {
                let bar = scale.bar(back.mean, [low, high]);
                ink.path(
                    "span",
                    &[
                        [bar.from, middle - 0.35 * em],
                        [bar.to, middle - 0.35 * em],
                        [bar.to, middle + 0.35 * em],
                        [bar.from, middle + 0.35 * em],
                    ],
                    true,
                );
            }
            let x = scale.x(back.mean);
            ink.line("mean", [x, middle - half], [x, middle + half]);
        } else if let Some(median) = group.median {
            let x = scale.x(median);
            ink.line("mean", [x, middle - half], [x, middle + half]);
        }
        let own: Vec<_> = page
            .seen
            .readings
            .iter()
            .filter(|of| of.treatment == treatment && of.value.is_finite())
            .collect();
        let xs: Vec<f64> = own.iter().map(|of| scale.x(of.value)).collect();
        let offsets = swarm(&xs, radius, half);
        for ((of, x), offset) in own.iter().zip(&xs).zip(&offsets) {
            let at: Point = [*x, middle + offset];
            let beyond = of.limit != Limit::No;
            ink.circle(if beyond { "dot beyond" } else { "dot" }, at, radius);
            if beyond {
                let way = if of.limit == Limit::Above { 1.0 } else { -1.0 };
                let from = [x + way * radius, at[1]];
                ink.line("beyond-line", from, [x + way * 2.5 * radius, at[1]]);
            }
        }
    }
    if !unit.is_empty() {
        let at = [width - edge, bottom + 2.2 * em];
        ink.text("mark", at, "end", &escape(unit));
    }
    let told = dots_text(
        page.trial,
        &page.state.recipe,
        &analysis.groups,
        unit,
        page.seen.decimals,
    );
    put(&place, [width, bottom + AXIS * em], &ink, &told);
}

/// Differences from the control as bars.
pub(super) fn bars(page: &Page) {
    let place = ME.part("bars");
    let [width, em] = size(&place);
    let differences = &page.differences;
    let unit = difference_unit(&page.seen, &page.measure);
    let edge = 1.8 * em;
    let sizes: Vec<(f64, Option<[f64; 2]>)> = differences
        .rows
        .iter()
        .map(|(_, estimate, range)| (*estimate, *range))
        .collect();
    let scale = difference_scale(
        &sizes,
        differences.band,
        differences.least,
        edge,
        width - 2.0 * edge,
    );
    let mut ink = Ink(String::with_capacity(8000));
    let row = (NAME + NAME + THIN_LANE) * em;
    let rows = differences.rows.len();
    let bottom = rows as f64 * row;
    let across = lanes(rows, row, (NAME + NAME - 0.4) * em);
    if let Some([low, high]) = differences.band {
        let (from, to) = (scale.x(low), scale.x(high));
        for [top, end] in &across {
            let outline = [[from, *top], [to, *top], [to, *end], [from, *end]];
            ink.path("no-matter", &outline, true);
        }
    }
    axis(&mut ink, &scale, &across, bottom, em, |tick| {
        difference_tick(tick, differences.in_percent)
    });
    let zero = scale.x(0.0);
    for [top, end] in &across {
        ink.line("control-line", [zero, *top], [zero, *end]);
    }
    for (at, (treatment, estimate, range)) in differences.rows.iter().enumerate() {
        let top = at as f64 * row;
        let middle = top + (NAME + NAME + 0.5 * THIN_LANE - 0.2) * em;
        let name = page.names.get(*treatment).map_or("", String::as_str);
        ink.text("name", [0.0, top + 1.1 * em], "start", &escape(name));
        let text = row_difference_text(*estimate, *range, differences, unit);
        ink.text("amount", [0.0, top + 2.4 * em], "start", &escape(&text));
        if let Some(range) = *range {
            let bar = scale.bar(*estimate, range);
            ink.line("reach", [bar.from, middle], [bar.to, middle]);
            let tip = 0.3 * em;
            for (cut, x, way) in [(bar.cut_left, bar.from, 1.0), (bar.cut_right, bar.to, -1.0)] {
                if cut {
                    // It goes on: an arrow in place of an end.
                    let points = [
                        [x + way * tip, middle - tip],
                        [x, middle],
                        [x + way * tip, middle + tip],
                    ];
                    ink.path("reach", &points, false);
                } else {
                    ink.line("reach", [x, middle - tip], [x, middle + tip]);
                }
            }
        }
        ink.circle("estimate", [scale.x(*estimate), middle], 0.36 * em);
    }
    let [left, right] = difference_ends(&page.seen);
    let y = bottom + 2.2 * em;
    ink.text("mark", [0.0, y], "start", left);
    ink.text("mark", [width, y], "end", right);
    let told = differences_text(page.trial, &page.state.recipe, differences, unit);
    put(&place, [width, bottom + AXIS * em], &ink, &told);
}
