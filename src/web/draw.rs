//! What moves in the drawings, from geometry that the core computes; what stands still is in
//! `index.html`.

use super::written::{Attribute, Text};
use crate::dom::{Element, by_id, make};
use crate::figure::Ends;
use crate::outcome::{Measure, Outcome, texture_path};
use crate::plot::{
    BARS, Bar, FILLINGS, Point, SMALL_TRIANGLE, TRIANGLE, bars, cloud, column_ends, column_parts,
    region,
};
use crate::words::percent;

pub(super) struct Drawing {
    /// Of each class: its region and its name.
    regions: Vec<[Attribute; 1]>,
    names: Vec<[Attribute; 1]>,
    cloud: Attribute,
    held: Attribute,
    path: Attribute,
    marks: Vec<[Attribute; 2]>,
    small_path: Attribute,
    small_marks: Vec<[Attribute; 2]>,
    bars: Vec<DrawnBar>,
}

struct DrawnBar {
    segments: Vec<[Attribute; 2]>,
    pores: Text,
    bracket: Attribute,
    range: Attribute,
}

impl Drawing {
    pub(super) fn new() -> Drawing {
        let triangle = by_id("triangle");
        let strip = by_id("strip-triangle");
        let column = by_id("column");
        let mut bars = Vec::new();
        let segments = column.query_selector_all(".seg");
        for (index, segments) in segments.chunks(FILLINGS).enumerate() {
            let part = |selector: &str| part(&column, selector, index);
            bars.push(DrawnBar {
                segments: parts_of(segments, ["y", "height"]),
                pores: Text::of(part(".bar-pores")),
                bracket: Attribute::of(part(".pore-line"), "d"),
                range: Attribute::of(part(".range"), "d"),
            });
        }
        Drawing {
            regions: parts_of(&triangle.query_selector_all(".region"), ["class"]),
            names: parts_of(&triangle.query_selector_all(".class-name"), ["class"]),
            cloud: Attribute::of(part(&triangle, ".cloud", 0), "d"),
            held: Attribute::of(part(&triangle, ".held", 0), "d"),
            path: Attribute::of(part(&triangle, ".path", 0), "d"),
            marks: marks(&triangle),
            small_path: Attribute::of(part(&strip, ".path", 0), "d"),
            small_marks: marks(&strip),
            bars,
        }
    }

    pub(super) fn show(&mut self, outcome: &Outcome) {
        let class = outcome.texture.map(|texture| texture.class);
        let here = class.map(|class| class as usize);
        for (index, [shape]) in self.regions.iter_mut().enumerate() {
            shape.write(if here == Some(index) {
                "region here"
            } else {
                "region"
            });
        }
        for (index, [name]) in self.names.iter_mut().enumerate() {
            name.write(if here == Some(index) {
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
            cloud(&TRIANGLE, fractions, outcome.drawn.weights())
        } else {
            Vec::new()
        };
        self.cloud.write(&dots(&points));
        self.held.write(&closed(&region(&TRIANGLE, &points)));
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
            (TRIANGLE, &mut self.path, &mut self.marks),
            (SMALL_TRIANGLE, &mut self.small_path, &mut self.small_marks),
        ] {
            let way: Vec<Point> = way.iter().map(|texture| frame.point(*texture)).collect();
            path.write(&open(&way));
            for ([place, display], point) in marks.iter_mut().zip(marked) {
                display.write(if point.is_some() { "inline" } else { "none" });
                let [x, y] = point.map_or([0.0, 0.0], |texture| frame.point(texture));
                place.write(&filled("translate(# #)", &[x, y]));
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
        let [closed_top, closed_tall] = bar.segments[3];
        let bottom = closed_top + closed_tall;
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

/// One of the elements of a selector below another, which `index.html` has.
fn part(under: &Element, selector: &str, index: usize) -> Element {
    let all = under.query_selector_all(selector);
    all.into_iter().nth(index).unwrap_or_else(|| make("span"))
}

/// The same attributes of each element.
fn parts_of<const N: usize>(all: &[Element], names: [&'static str; N]) -> Vec<[Attribute; N]> {
    let mut parts = Vec::new();
    for element in all {
        parts.push(names.map(|name| Attribute::of(element.clone(), name)));
    }
    parts
}

/// The points of ground and blend.
fn marks(under: &Element) -> Vec<[Attribute; 2]> {
    parts_of(&under.query_selector_all("g"), ["transform", "display"])
}
