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
const PARTS: [&str; 4] = ["between", "inner", "organic", "mineral"];
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
        let cloud = &[("class", "cloud"), ("transform", "scale(.1)")];
        let cloud = Attribute::of(svg(&triangle, "path", cloud), "d");
        let held = Attribute::of(svg(&triangle, "path", &[("class", "held")]), "d");
        let path = Attribute::of(svg(&triangle, "path", &[("class", "path")]), "d");
        let marks = vec![
            draw_mark(
                &triangle,
                "ground-mark",
                Some(words::Text::YourGround.text()),
            ),
            draw_mark(&triangle, "blend-mark", Some(words::Text::TheBlend.text())),
        ];
        let strip = by_id("strip-triangle");
        svg(
            &strip,
            "path",
            &[("class", "edge"), ("d", &closed(&SMALL.corners()))],
        );
        let small_path = Attribute::of(svg(&strip, "path", &[("class", "path")]), "d");
        let small_marks = vec![
            draw_mark(&strip, "ground-mark", None),
            draw_mark(&strip, "blend-mark", None),
        ];
        Ok(Drawing {
            regions,
            cloud,
            held,
            path,
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
                mark.place
                    .write(&["translate(", &number(x), " ", &number(y), ")"].concat());
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
        let pores = percent(pores_pct);
        self.pores.write(if pores_pct > 0.0 { &pores } else { "" });
        let [inside_top, inside_tall] = bar.segments[1];
        let bottom = number(inside_top + inside_tall);
        let (left, right) = (number(bar.x - 3.0), number(bar.x + bar.width + 3.0));
        let line = ["M", &left, " ", &bottom, "H", &right].concat();
        self.bracket.write(if pores_pct > 0.0 { &line } else { "" });
        // Pores fill a bar from the top, so their ends are depths.
        let depth = |percent: f64| number(bar.segments[0][0] + percent / 100.0 * BARS.1[1]);
        let (low, high) = (depth(ends.low), depth(ends.high));
        let middle = number(bar.x + bar.width / 2.0);
        let (from, to) = (
            number(bar.x + bar.width / 2.0 - 5.0),
            number(bar.x + bar.width / 2.0 + 5.0),
        );
        let range = [
            "M", &middle, " ", &low, "V", &high, "M", &from, " ", &low, "H", &to, "M", &from, " ",
            &high, "H", &to,
        ]
        .concat();
        let shown = pores_pct > 0.0 && low != high;
        self.range.write(if shown { &range } else { "" });
    }
}

/// To a tenth of a unit: finer is not seen.
fn number(value: f64) -> String {
    crate::recipe::number_text((value * 10.0).round() / 10.0)
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
    let lines: String = grid(&FRAME).iter().map(|ends| open(ends)).collect();
    let shapes: Vec<Element> = REGIONS
        .iter()
        .map(|region| {
            let corners: Vec<Point> = region
                .corners
                .iter()
                .map(|[clay, silt, sand]| FRAME.point([*sand, *silt, *clay]))
                .collect();
            svg(
                under,
                "path",
                &[("class", "region"), ("d", &closed(&corners))],
            )
        })
        .collect();
    svg(under, "path", &[("class", "grid"), ("d", &lines)]);
    svg(
        under,
        "path",
        &[("class", "edge"), ("d", &closed(&FRAME.corners()))],
    );
    for tick in ticks(&FRAME) {
        let [x, y] = tick.at;
        let (dx, dy, anchor) = match tick.axis {
            0 => (0.0, 16.0, "middle"),
            1 => (7.0, 4.0, "start"),
            _ => (-7.0, 4.0, "end"),
        };
        let text = svg(
            under,
            "text",
            &[
                ("class", "tick"),
                ("text-anchor", anchor),
                ("x", &number(x + dx)),
                ("y", &number(y + dy)),
            ],
        );
        text.set_text_content(Some(&fixed(tick.share_pct, 0)));
    }
    let [top, left, right] = FRAME.corners();
    for (name, [x, y], anchor) in [
        (words::Text::Clay, [top[0], top[1] - 10.0], "middle"),
        (words::Text::Sand, [left[0] - 40.0, left[1] + 18.0], "start"),
        (words::Text::Silt, [right[0] + 40.0, right[1] + 18.0], "end"),
    ] {
        let text = svg(
            under,
            "text",
            &[
                ("class", "axis"),
                ("text-anchor", anchor),
                ("x", &number(x)),
                ("y", &number(y)),
            ],
        );
        text.set_text_content(Some(&[name.text(), " %"].concat()));
    }
    REGIONS
        .iter()
        .zip(shapes)
        .map(|(region, shape)| {
            let [clay, silt, sand] = region.label;
            let name = draw_class_name(under, region.class, FRAME.point([sand, silt, clay]));
            (
                region.class,
                Attribute::of(shape, "class"),
                Attribute::of(name, "class"),
            )
        })
        .collect()
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
    let drawn = places
        .iter()
        .zip(COLUMN_STATES)
        .map(|(bar, state)| {
            let (x, wide) = (number(bar.x), number(bar.width));
            let segments = PARTS
                .iter()
                .map(|part| {
                    let class = ["seg ", part].concat();
                    let rect = svg(
                        under,
                        "rect",
                        &[("class", &class), ("x", &x), ("width", &wide)],
                    );
                    [
                        Attribute::of(rect.clone(), "y"),
                        Attribute::of(rect, "height"),
                    ]
                })
                .collect();
            let middle = number(bar.x + bar.width / 2.0);
            let text = |class: &str, y: f64| {
                svg(
                    under,
                    "text",
                    &[
                        ("class", class),
                        ("text-anchor", "middle"),
                        ("x", &middle),
                        ("y", &number(y)),
                    ],
                )
            };
            let name = text("bar-name", top + height + 16.0);
            name.set_text_content(Some(state_name(state)));
            let bracket = svg(under, "path", &[("class", "pore-line")]);
            DrawnBar {
                segments,
                pores: Text::of(text("bar-pores", top - 7.0)),
                bracket: Attribute::of(bracket, "d"),
                range: Attribute::of(svg(under, "path", &[("class", "range")]), "d"),
            }
        })
        .collect();
    for (name, from, to, class) in [
        (words::Text::Ground, 0, 1, "of-ground"),
        (words::Text::Blend, 2, 4, "of-blend"),
    ] {
        let middle = (places[from].x + places[to].x + places[to].width) / 2.0;
        let heading = svg(
            under,
            "text",
            &[
                ("class", class),
                ("text-anchor", "middle"),
                ("x", &number(middle)),
                ("y", &number(top + height + 38.0)),
            ],
        );
        heading.set_text_content(Some(name.text()));
        let (start, end) = (places[from].x, places[to].x + places[to].width);
        let y = number(top + height + 23.0);
        let line = svg(under, "path", &[("class", "under")]);
        set(
            &line,
            "d",
            &["M", &number(start), " ", &y, "H", &number(end)].concat(),
        );
    }
    drawn
}
