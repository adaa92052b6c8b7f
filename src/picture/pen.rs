//! Writes SVG that stands alone: every style is an attribute, every text is escaped.

use crate::plot::Point;
use crate::recipe::number_text;

/// A text as it stands in XML, between tags or in an attribute; what XML cannot hold is left out.
pub(crate) fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out += "&amp;",
            '<' => out += "&lt;",
            '>' => out += "&gt;",
            '"' => out += "&quot;",
            '\'' => out += "&#39;",
            '\t' | '\n' | '\r' => out.push(' '),
            '\u{0}'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => {}
            other => out.push(other),
        }
    }
    out
}

/// To a tenth of a unit: finer is not seen.
pub(super) fn number(value: f64) -> String {
    let tenth = (value * 10.0).round() / 10.0;
    number_text(if tenth == 0.0 { 0.0 } else { tenth })
}

/// The letters of a path through points.
pub(super) fn through(points: &[Point], closed: bool) -> String {
    let mut out = String::new();
    for (index, [x, y]) in points.iter().enumerate() {
        out.push(if index == 0 { 'M' } else { 'L' });
        out += &number(*x);
        out.push(' ');
        out += &number(*y);
    }
    if closed && !out.is_empty() {
        out.push('Z');
    }
    out
}

/// A drawing as it grows.
#[derive(Default)]
pub(super) struct Pen(pub(super) String);

impl Pen {
    /// A path with its look; nothing where there is nothing to draw.
    pub(super) fn path(&mut self, look: &str, d: &str) {
        if !d.is_empty() {
            self.0 += &format!("<path {look} d=\"{d}\"/>");
        }
    }

    pub(super) fn word(&mut self, look: &str, anchor: &str, [x, y]: Point, text: &str) {
        self.0 += &format!(
            "<text {look} text-anchor=\"{anchor}\" x=\"{}\" y=\"{}\">{}</text>",
            number(x),
            number(y),
            escape(text)
        );
    }

    pub(super) fn rectangle(&mut self, look: &str, [x, y]: Point, [wide, high]: [f64; 2]) {
        self.0 += &format!(
            "<rect {look} x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>",
            number(x),
            number(y),
            number(wide),
            number(high)
        );
    }

    pub(super) fn circle(&mut self, look: &str, [x, y]: Point, radius: f64) {
        self.0 += &format!(
            "<circle {look} cx=\"{}\" cy=\"{}\" r=\"{}\"/>",
            number(x),
            number(y),
            number(radius)
        );
    }
}
