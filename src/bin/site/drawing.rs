//! What stands still in the drawings of the page, as SVG; the page's module moves the rest.

use super::html::escape;
use barrowmix::plot::{
    BARS, COLUMN_STATES, FILLINGS, Frame, Parts, Point, SMALL_TRIANGLE, TRIANGLE, axis_names, bars,
    grid, ticks,
};
use barrowmix::quantity::{Dimension, Unit};
use barrowmix::recipe::number_text;
use barrowmix::texture::REGIONS;
use barrowmix::water::pot::AIR_LEAST;
use barrowmix::words::{Text, class_lines, fixed, state_name, unit_name};

/// Names of the parts of a bar, from the top down, as their classes.
const PARTS: [&str; FILLINGS] = ["air", "taken", "left", "closed", "organic", "mineral"];
/// Half the side of the ground's square; the blend's circle is one larger.
const MARK: f64 = 6.0;
/// Height of a line of a class's name.
const LINE: f64 = 12.5;

/// To a tenth of a unit: finer is not seen.
fn number(value: f64) -> String {
    number_text((value * 10.0).round() / 10.0)
}

fn open(points: &[Point]) -> String {
    let mut out = String::new();
    for (index, [x, y]) in points.iter().enumerate() {
        let letter = if index == 0 { 'M' } else { 'L' };
        out += &format!("{letter}{} {}", number(*x), number(*y));
    }
    out
}

fn path(class: &str, d: &str) -> String {
    format!("<path class=\"{class}\" d=\"{d}\"/>")
}

fn edge(frame: &Frame) -> String {
    path("edge", &(open(&frame.corners()) + "Z"))
}

/// A word at a point.
fn word(class: &str, anchor: &str, [x, y]: Point, text: &str) -> String {
    format!(
        "<text class=\"{class}\" text-anchor=\"{anchor}\" x=\"{}\" y=\"{}\">{}</text>",
        number(x),
        number(y),
        escape(text)
    )
}

/// The points of ground and blend, with their names where there is room.
fn marks(named: bool) -> String {
    // Each name on its own side, so that they do not meet.
    let name = |place: &str, text: Text| match named {
        true => format!("<text {place}>{}</text>", escape(text.text())),
        false => String::new(),
    };
    let (side, corner) = (number(2.0 * MARK), number(-MARK));
    format!(
        "<g class=\"ground-mark\" display=\"none\"><rect x=\"{corner}\" y=\"{corner}\" \
         width=\"{side}\" height=\"{side}\"/>{}</g>\
         <g class=\"blend-mark\" display=\"none\"><circle r=\"{}\"/>{}</g>",
        name("x=\"11\" y=\"-8\"", Text::YourGround),
        number(MARK + 1.0),
        name("x=\"-12\" y=\"4\" text-anchor=\"end\"", Text::TheBlend),
    )
}

/// The texture triangle; its regions and their names stand in the order of the classes.
pub(super) fn triangle() -> String {
    let frame = &TRIANGLE;
    let point = |[clay, silt, sand]: [f64; 3]| frame.point([sand, silt, clay]);
    let mut out = String::new();
    for region in REGIONS {
        let corners: Vec<Point> = region.corners.iter().copied().map(point).collect();
        out += &path("region", &(open(&corners) + "Z"));
    }
    let lines: String = grid(frame).iter().map(|ends| open(ends)).collect();
    out += &path("grid", &lines);
    out += &edge(frame);
    for tick in ticks(frame) {
        let (at, anchor) = tick.label();
        out += &word("tick", anchor, at, &fixed(tick.share_pct, 0));
    }
    let corners = [Text::Clay, Text::Sand, Text::Silt];
    for (name, (at, anchor)) in corners.into_iter().zip(axis_names(frame)) {
        out += &word("axis", anchor, at, &format!("{} %", name.text()));
    }
    for region in REGIONS {
        let [x, y] = point(region.label);
        let (first, second) = class_lines(region.class);
        // In the middle of its region, on as many lines as that has room for.
        let up = if second.is_some() { LINE / 2.0 } else { 0.0 };
        out += "<text class=\"class-name\" text-anchor=\"middle\">";
        for (line, text) in [Some(first), second].into_iter().flatten().enumerate() {
            out += &format!(
                "<tspan x=\"{}\" y=\"{}\">{}</tspan>",
                number(x),
                number(y + 4.0 - up + LINE * line as f64),
                escape(text)
            );
        }
        out += "</text>";
    }
    out += "<path class=\"cloud\" d=\"\" transform=\"scale(.1)\"/>";
    out + &path("held", "") + &path("path", "") + &marks(true)
}

/// The triangle in the strip of a phone.
pub(super) fn small_triangle() -> String {
    edge(&SMALL_TRIANGLE) + &path("path", "") + &marks(false)
}

/// The bars of the pore column, empty.
pub(super) fn column() -> String {
    let ([left, top], [width, height]) = BARS;
    let places = bars(&[Parts::NOTHING; 5], [left, top], [width, height]);
    let mut out = String::new();
    for (bar, state) in places.iter().zip(COLUMN_STATES) {
        let (x, wide) = (number(bar.x), number(bar.width));
        for part in PARTS {
            out += &format!("<rect class=\"seg {part}\" x=\"{x}\" width=\"{wide}\"/>");
        }
        let middle = bar.x + bar.width / 2.0;
        let text = |class: &str, y: f64, text: &str| word(class, "middle", [middle, y], text);
        out += &text("bar-name", top + height + 16.0, state_name(state));
        out += &path("pore-line", "");
        out += &text("bar-pores", top - 7.0, "");
        out += &path("range", "");
    }
    // What roots want at least, from the top of the bars.
    let y = top + AIR_LEAST * height;
    let (right, gap) = (
        places[4].x + places[4].width,
        [places[1].x + places[1].width, places[2].x],
    );
    let line = format!(
        "M{} {y}H{}M{} {y}H{}",
        number(left),
        number(gap[0]),
        number(gap[1]),
        number(right),
        y = number(y)
    );
    out += &path("air-line", &line);
    out += &word(
        "bar-name",
        "middle",
        [(gap[0] + gap[1]) / 2.0, y + 4.0],
        Text::AirLine.text(),
    );
    for (name, from, to, class) in [
        (Text::Ground, 0, 1, "of-ground"),
        (Text::Blend, 2, 4, "of-blend"),
    ] {
        let (start, end) = (places[from].x, places[to].x + places[to].width);
        let at = [(start + end) / 2.0, top + height + 38.0];
        out += &word(class, "middle", at, name.text());
        let y = number(top + height + 23.0);
        out += &path("under", &format!("M{} {y}H{}", number(start), number(end)));
    }
    out
}

/// Empty rows of a table, each with its name.
fn rows(names: &[&str], cells: usize) -> String {
    let row = |name: &&str| {
        let cells = "<td></td>".repeat(cells);
        format!("<tr><th scope=\"row\">{}</th>{cells}</tr>", escape(name))
    };
    names.iter().map(row).collect()
}

/// The rows of the numbers of the triangle.
pub(super) fn triangle_rows() -> String {
    rows(&[Text::Ground.text(), Text::Blend.text()], 4)
}

/// The rows of the numbers of the column.
pub(super) fn column_rows() -> String {
    rows(&COLUMN_STATES.map(state_name), FILLINGS)
}

/// The units of a dimension as a list of choices; beside their names lengths are plain ones, not
/// "cm deep".
pub(super) fn units(of: Dimension) -> String {
    let mut out = String::new();
    for unit in Unit::ALL.iter().filter(|unit| unit.dimension() == of) {
        let name = match of {
            Dimension::Length => unit.spelling(),
            _ => unit_name(*unit),
        };
        out += &format!(
            "<option value=\"{}\">{}</option>",
            escape(unit.spelling()),
            escape(name)
        );
    }
    out
}
