//! The text of a drawing.

use crate::plot::Point;

/// Ink: the text of a drawing as it grows.
pub(super) struct Ink(pub(super) String);

impl Ink {
    pub(super) fn number(&mut self, value: f64) {
        // Tenths of a pixel are more than a screen shows.
        let tenths = (value * 10.0).round() / 10.0;
        self.0 += &crate::recipe::number_text(if tenths == 0.0 { 0.0 } else { tenths });
    }

    pub(super) fn attribute(&mut self, name: &str, value: f64) {
        self.0 += " ";
        self.0 += name;
        self.0 += "=\"";
        self.number(value);
        self.0 += "\"";
    }

    /// An opacity, in hundredths.
    pub(super) fn opacity(&mut self, value: f64) {
        self.0 += " fill-opacity=\"";
        self.0 += &crate::words::written(value, 2);
        self.0 += "\"";
    }

    pub(super) fn open(&mut self, name: &str, class: &str) {
        self.0 += "<";
        self.0 += name;
        self.0 += " class=\"";
        self.0 += class;
        self.0 += "\"";
    }

    pub(super) fn point(&mut self, [x, y]: Point) {
        self.number(x);
        self.0 += " ";
        self.number(y);
    }

    pub(super) fn path(&mut self, class: &str, points: &[Point], closed: bool) {
        if points.is_empty() {
            // A browser complains of a way that only closes.
            return;
        }
        self.open("path", class);
        self.0 += " d=\"";
        for (index, point) in points.iter().enumerate() {
            self.0 += if index == 0 { "M" } else { "L" };
            self.point(*point);
        }
        self.0 += if closed { "Z\"/>" } else { "\"/>" };
    }

    /// Dots, as one path of round ends.
    pub(super) fn dots(&mut self, class: &str, points: &[Point], width: f64) {
        self.open("path", class);
        self.attribute("stroke-width", width);
        self.0 += " d=\"";
        for point in points {
            self.0 += "M";
            self.point(*point);
            self.0 += "h0";
        }
        self.0 += "\"/>";
    }

    pub(super) fn line(&mut self, class: &str, from: Point, to: Point) {
        self.path(class, &[from, to], false);
    }

    pub(super) fn text(&mut self, class: &str, [x, y]: Point, anchor: &str, text: &str) {
        self.open("text", class);
        self.attribute("x", x);
        self.attribute("y", y);
        self.0 += " text-anchor=\"";
        self.0 += anchor;
        self.0 += "\">";
        self.0 += text;
        self.0 += "</text>";
    }

    pub(super) fn circle(&mut self, class: &str, [x, y]: Point, radius: f64) {
        self.open("circle", class);
        self.attribute("cx", x);
        self.attribute("cy", y);
        self.attribute("r", radius);
        self.0 += "/>";
    }

    pub(super) fn square(&mut self, class: &str, [x, y]: Point, half: f64) {
        self.open("rect", class);
        for (name, value) in [
            ("x", x - half),
            ("y", y - half),
            ("width", 2.0 * half),
            ("height", 2.0 * half),
        ] {
            self.attribute(name, value);
        }
        self.0 += "/>";
    }
}
