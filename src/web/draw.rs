//! The drawings as SVG, from geometry that the core computes.

use super::written::{Attribute, Text, svg};
use crate::dom::{by_id, set};
use crate::figure::Ends;
use crate::outcome::{Measure, Outcome, texture_path};
use crate::plot::{
    Bar, COLUMN_STATES, Frame, Parts, Point, bars, cloud, column_ends, column_parts, grid, region,
    ticks,
};
use crate::texture::{Class, REGIONS};
use crate::words::{self, class_lines, fixed, percent, state_name};
use wasm_bindgen::prelude::*;
use web_sys::Element;

/// Where the triangle stands in its drawing of 460 by 372.
pub(super) const FRAME: Frame = Frame {
    left: 42.0,
    top: 24.0,
    side: 376.0,
};
/// The same in the strip of a phone, 120 by 112.
const SMALL: Frame = Frame {
    left: 4.0,
    top: 4.0,
    side: 112.0,
};
/// Box of the bars in the pore column's drawing of 460 by 208.
const BARS: ([f64; 2], [f64; 2]) = ([4.0, 22.0], [452.0, 138.0]);
/// Names of the parts of a bar, from the top down, as their classes.
const PARTS: [&str; 4] = ["seg between", "seg inner", "seg organic", "seg mineral"];
/// Half the side of the ground's square and radius of the blend's circle.
const MARK: f64 = 6.0;

pub(super) struct Drawing {
    regions: Vec<(Class, Attribute, Attribute)>,
    cloud: Attribute,
    held: Attribute,
    path: Attribute,
    marks: Vec<Mark>,
    small_path: Attribute,
    small_marks: Vec<Mark>,
    bars: Vec<DrawnBar>,
}

/// A point that moves, with its name beside it.
struct Mark {
    place: Attribute,
    display: Attribute,
}

struct DrawnBar {
    segments: Vec<[Attribute; 2]>,
    pores: Text,
    bracket: Attribute,
    range: Attribute,
}

impl Drawing {
    pub(super) fn new() -> Result<Drawing, JsValue> {
        let triangle = by_id("triangle");
        let regions = draw_triangle(&triangle);
        let cloud = path(&triangle, "cloud", "");
        set(&cloud, "transform", "scale(.1)");
        let line = |under: &Element, class: &str| Attribute::of(path(under, class, ""), "d");
        let held = line(&triangle, "held");
        let way = line(&triangle, "path");
        let marks = vec![
            draw_mark(
                &triangle,
                "ground-mark",
                Some(words::Text::YourGround.text()),
            ),
            draw_mark(&triangle, "blend-mark", Some(words::Text::TheBlend.text())),
        ];
        let strip = by_id("strip-triangle");
        path(&strip, "edge", &closed(&SMALL.corners()));
        let small_path = line(&strip, "path");
        let small_marks = vec![
            draw_mark(&strip, "ground-mark", None),
            draw_mark(&strip, "blend-mark", None),
        ];
        Ok(Drawing {
            regions,
            cloud: Attribute::of(cloud, "d"),
            held,
            path: way,
            marks,
            small_path,
            small_marks,
            bars: draw_bars(&by_id("column")),
        })
    }

    pub(super) fn show(&mut self, outcome: &Outcome) {
        let class = outcome.texture.map(|texture| texture.class);
        for (region, shape, name) in &mut self.regions {
            let here = Some(*region) == class;
            shape.write(if here { "region here" } else { "region" });
            name.write(if here {
                "class-name here"
            } else {
                "class-name"
            });
        }
        let fractions = [
            outcome.drawn.column(Measure::Sand),
            outcome.drawn.column(Measure::Silt),
            outcome.drawn.column(Measure::Clay),
        ];
        let points = if class.is_some() {
            cloud(&FRAME, fractions)
        } else {
            Vec::new()
        };
        self.cloud.write(&dots(&points));
        self.held.write(&closed(&region(&FRAME, &points)));
        let way = texture_path(&outcome.barrow);
        let marked = [
            outcome
                .ground
                .fractions_pct
                .filter(|_| outcome.barrow.ground_dry_kg > 0.0),
            outcome
                .texture
                .map(|texture| texture.fractions_pct.map(|figure| figure.typical)),
        ];
        for (frame, path, marks) in [
            (FRAME, &mut self.path, &mut self.marks),
            (SMALL, &mut self.small_path, &mut self.small_marks),
        ] {
            let way: Vec<Point> = way.iter().map(|texture| frame.point(*texture)).collect();
            path.write(&open(&way));
            for (mark, point) in marks.iter_mut().zip(marked) {
                mark.display
                    .write(if point.is_some() { "inline" } else { "none" });
                let [x, y] = point.map_or([0.0, 0.0], |texture| frame.point(texture));
                mark.place.write(&filled("translate(# #)", &[x, y]));
            }
        }
        let parts = column_parts(outcome);
        let drawn = bars(&parts, BARS.0, BARS.1);
        let ends = column_ends(outcome);
        for (((bar, place), parts), ends) in self.bars.iter_mut().zip(drawn).zip(parts).zip(ends) {
            bar.show(&place, parts.pores_pct(), ends);
        }
    }
}

impl DrawnBar {
    fn show(&mut self, bar: &Bar, pores_pct: f64, ends: Ends) {
        for ([y, height], [top, tall]) in self.segments.iter_mut().zip(bar.segments) {
            y.write(&number(top));
            height.write(&number(tall));
        }
        let has_pores = pores_pct > 0.0;
        let write = |shown: bool, text: String| if shown { text } else { String::new() };
        self.pores.write(&write(has_pores, percent(pores_pct)));
        let [inside_top, inside_tall] = bar.segments[1];
        let bottom = inside_top + inside_tall;
        let line = filled("M# #H#", &[bar.x - 3.0, bottom, bar.x + bar.width + 3.0]);
        self.bracket.write(&write(has_pores, line));
        // Pores fill a bar from the top, so their ends are depths.
        let depth = |percent: f64| tenth(bar.segments[0][0] + percent / 100.0 * BARS.1[1]);
        let (low, high) = (depth(ends.low), depth(ends.high));
        let middle = bar.x + bar.width / 2.0;
        let (from, to) = (middle - 5.0, middle + 5.0);
        let range = filled(
            "M# #V#M# #H#M# #H#",
            &[middle, low, high, from, low, to, from, high, to],
        );
        self.range.write(&write(has_pores && low != high, range));
    }
}

/// To a tenth of a unit: finer is not seen.
fn tenth(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}

fn number(value: f64) -> String {
    crate::recipe::number_text(tenth(value))
}

/// A text with a number for each `#`.
fn filled(form: &str, numbers: &[f64]) -> String {
    let mut numbers = numbers.iter().copied();
    let mut out = String::new();
    for letter in form.bytes() {
        if letter == b'#' {
            out += &number(numbers.next().unwrap_or_default());
        } else {
            out.push(char::from(letter));
        }
    }
    out
}

/// A path at the end of another element.
fn path(under: &Element, class: &str, d: &str) -> Element {
    svg(under, "path", &[("class", class), ("d", d)])
}

/// A word at a point.
fn word(under: &Element, class: &str, anchor: &str, [x, y]: Point, text: &str) -> Element {
    let (x, y) = (number(x), number(y));
    let attributes = [
        ("class", class),
        ("text-anchor", anchor),
        ("x", &x),
        ("y", &y),
    ];
    let element = svg(under, "text", &attributes);
    element.set_text_content(Some(text));
    element
}

/// One round dot for each point, all in one path, in tenths of a unit: dots in the hundreds are
/// written at every move of a slider.
fn dots(points: &[Point]) -> String {
    let mut out = String::with_capacity(12 * points.len());
    for [x, y] in points {
        out.push('M');
        push_whole(&mut out, x * 10.0);
        out.push(' ');
        push_whole(&mut out, y * 10.0);
        out.push_str("h0");
    }
    out
}

/// A number between 0 and 99,999 as a whole one.
fn push_whole(out: &mut String, value: f64) {
    let mut rest = (value + 0.5) as u32;
    let mut power = 10_000;
    let mut begun = false;
    while power > 0 {
        let digit = rest / power;
        begun = begun || digit > 0 || power == 1;
        if begun {
            out.push(char::from(b'0' + (digit % 10) as u8));
        }
        rest %= power;
        power /= 10;
    }
}

fn open(points: &[Point]) -> String {
    let mut out = String::new();
    for (index, [x, y]) in points.iter().enumerate() {
        out.push(if index == 0 { 'M' } else { 'L' });
        out += &number(*x);
        out.push(' ');
        out += &number(*y);
    }
    out
}

fn closed(points: &[Point]) -> String {
    let line = open(points);
    if line.is_empty() { line } else { line + "Z" }
}

/// The still part of the triangle; gives the regions and their names.
fn draw_triangle(under: &Element) -> Vec<(Class, Attribute, Attribute)> {
    let mut lines = String::new();
    for ends in grid(&FRAME) {
        lines += &open(&ends);
    }
    let mut shapes = Vec::new();
    for region in REGIONS {
        let mut corners: Vec<Point> = Vec::new();
        for [clay, silt, sand] in region.corners {
            corners.push(FRAME.point([*sand, *silt, *clay]));
        }
        shapes.push(path(under, "region", &closed(&corners)));
    }
    path(under, "grid", &lines);
    path(under, "edge", &closed(&FRAME.corners()));
    for tick in ticks(&FRAME) {
        let [x, y] = tick.at;
        let (dx, dy, anchor) = match tick.axis {
            0 => (0.0, 16.0, "middle"),
            1 => (7.0, 4.0, "start"),
            _ => (-7.0, 4.0, "end"),
        };
        let text = fixed(tick.share_pct, 0);
        word(under, "tick", anchor, [x + dx, y + dy], &text);
    }
    let [top, left, right] = FRAME.corners();
    for (name, at, anchor) in [
        (words::Text::Clay, [top[0], top[1] - 10.0], "middle"),
        (words::Text::Sand, [left[0] - 40.0, left[1] + 18.0], "start"),
        (words::Text::Silt, [right[0] + 40.0, right[1] + 18.0], "end"),
    ] {
        word(under, "axis", anchor, at, &[name.text(), " %"].concat());
    }
    let mut regions = Vec::new();
    for (region, shape) in REGIONS.iter().zip(shapes) {
        let [clay, silt, sand] = region.label;
        let name = draw_class_name(under, region.class, FRAME.point([sand, silt, clay]));
        regions.push((
            region.class,
            Attribute::of(shape, "class"),
            Attribute::of(name, "class"),
        ));
    }
    regions
}

/// A class's name, on as many lines as its region has room for.
fn draw_class_name(under: &Element, class: Class, [x, y]: Point) -> Element {
    let (first_line, second_line) = class_lines(class);
    let text = svg(
        under,
        "text",
        &[("class", "class-name"), ("text-anchor", "middle")],
    );
    let line_height = 12.5;
    let mut y = y + 4.0;
    if second_line.is_some() {
        y -= line_height / 2.0;
    }
    for line in [Some(first_line), second_line].into_iter().flatten() {
        let part = svg(&text, "tspan", &[("x", &number(x)), ("y", &number(y))]);
        part.set_text_content(Some(line));
        y += line_height;
    }
    text
}

fn draw_mark(under: &Element, class: &str, name: Option<&str>) -> Mark {
    let group = svg(under, "g", &[("class", class), ("display", "none")]);
    if class == "ground-mark" {
        let side = number(2.0 * MARK);
        let corner = number(-MARK);
        svg(
            &group,
            "rect",
            &[
                ("x", &corner),
                ("y", &corner),
                ("width", &side),
                ("height", &side),
            ],
        );
    } else {
        svg(&group, "circle", &[("r", &number(MARK + 1.0))]);
    }
    if let Some(name) = name {
        // Each on its own side, so that they do not meet.
        let place: &[(&str, &str)] = if class == "ground-mark" {
            &[("x", "11"), ("y", "-8")]
        } else {
            &[("x", "-12"), ("y", "4"), ("text-anchor", "end")]
        };
        let text = svg(&group, "text", place);
        text.set_text_content(Some(name));
    }
    Mark {
        place: Attribute::of(group.clone(), "transform"),
        display: Attribute::of(group, "display"),
    }
}

fn draw_bars(under: &Element) -> Vec<DrawnBar> {
    let ([left, top], [width, height]) = BARS;
    let places = bars(&[Parts::NOTHING; 5], [left, top], [width, height]);
    let mut drawn = Vec::new();
    for (bar, state) in places.iter().zip(COLUMN_STATES) {
        let (x, wide) = (number(bar.x), number(bar.width));
        let mut segments = Vec::new();
        for class in PARTS {
            let attributes = [("class", class), ("x", &x), ("width", &wide)];
            let rect = svg(under, "rect", &attributes);
            segments.push([
                Attribute::of(rect.clone(), "y"),
                Attribute::of(rect, "height"),
            ]);
        }
        let middle = bar.x + bar.width / 2.0;
        let text =
            |class: &str, y: f64, text: &str| word(under, class, "middle", [middle, y], text);
        text("bar-name", top + height + 16.0, state_name(state));
        let bracket = path(under, "pore-line", "");
        drawn.push(DrawnBar {
            segments,
            pores: Text::of(text("bar-pores", top - 7.0, "")),
            bracket: Attribute::of(bracket, "d"),
            range: Attribute::of(path(under, "range", ""), "d"),
        });
    }
    for (name, from, to, class) in [
        (words::Text::Ground, 0, 1, "of-ground"),
        (words::Text::Blend, 2, 4, "of-blend"),
    ] {
        let (start, end) = (places[from].x, places[to].x + places[to].width);
        let at = [(start + end) / 2.0, top + height + 38.0];
        word(under, class, "middle", at, name.text());
        let line = filled("M# #H#", &[start, top + height + 23.0, end]);
        path(under, "under", &line);
    }
    drawn
}
