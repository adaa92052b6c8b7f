//! The curve of organic matter with its band, the year that is shown marked on it.

use super::part;
use crate::dom::set;
use crate::plot::{YearsFrame, years_top_pct};
use crate::shed::ink::Ink;
use crate::words::{fixed, in_year, shown, year_axis};

/// Height of the drawing in ems, as `style.css` has it.
const HIGH_EM: f64 = 18.0;
/// Years that are marked below.
const MARKS: [f64; 5] = [0.0, 5.0, 10.0, 15.0, 20.0];

/// The drawing: how large it is, and what stands in it.
#[derive(Default)]
pub(super) struct Drawing {
    width: f64,
    height: f64,
    drawn: String,
    /// The top of the scale while the ranges are not there.
    top_pct: f64,
}

impl Drawing {
    /// Looks how large it is; gives whether that has changed.
    pub(super) fn measure(&mut self) -> bool {
        let place = part("curve");
        let size = [place.client_width().max(240), place.client_height().max(60)].map(f64::from);
        let changed = size != [self.width, self.height];
        [self.width, self.height] = size;
        changed
    }

    /// A line of years and shares; a band of years, low and high ends, if it is known.
    pub(super) fn draw(&mut self, line: &[[f64; 2]], band: &[[f64; 3]], year: f64) {
        let mut ink = Ink(String::with_capacity(4_000));
        let em = self.height / HIGH_EM;
        let needs = years_top_pct(line.iter().map(|[_, pct]| *pct));
        if band.is_empty() {
            // The band may need more than the line: the scale of before stays where it can.
            self.top_pct = self.top_pct.max(needs);
        } else {
            self.top_pct = needs.max(years_top_pct(band.iter().map(|[_, _, high]| *high)));
        }
        let [_, .., last] = MARKS;
        let frame = YearsFrame {
            left: 3.2 * em,
            top: 1.6 * em,
            width: self.width - 4.4 * em,
            height: self.height - 4.6 * em,
            years: last,
            most_pct: self.top_pct,
        };
        let (right, bottom) = (frame.left + frame.width, frame.top + frame.height);
        let decimals = usize::from(self.top_pct < 4.0 || self.top_pct % 4.0 != 0.0);
        for pct in frame.marks_pct() {
            let y = frame.y(pct);
            ink.line("easy", [frame.left, y], [right, y]);
            let text = fixed(pct, decimals) + " %";
            ink.text("tick", [frame.left - 0.5 * em, y + 0.3 * em], "end", &text);
        }
        ink.line("full-line", [frame.left, bottom], [right, bottom]);
        for mark in MARKS {
            let x = frame.x(mark);
            ink.line("ruler", [x, bottom], [x, bottom + 0.4 * em]);
            let (anchor, text) = if mark == last {
                ("end", year_axis(mark))
            } else {
                ("middle", shown(mark))
            };
            ink.text("tick", [x, bottom + 1.6 * em], anchor, &text);
        }
        if !band.is_empty() {
            let low: Vec<[f64; 2]> = band.iter().map(|[year, low, _]| [*year, *low]).collect();
            let high: Vec<[f64; 2]> = band.iter().map(|[year, _, high]| [*year, *high]).collect();
            ink.path("years-band", &frame.band(&low, &high), true);
        }
        ink.path("curve-line of-blend", &frame.line(line), false);
        if year <= last {
            let pct = value_at(line, year);
            let (x, y) = (frame.x(year), frame.y(pct));
            ink.line("lead", [x, bottom], [x, y]);
            ink.circle("blend-dot", [x, y], 0.5 * em);
            let anchor = if year < 3.0 {
                "start"
            } else if year > 17.0 {
                "end"
            } else {
                "middle"
            };
            let text = [&fixed(pct, 1), " %"].concat();
            let text = if year > 0.0 {
                [&in_year(year), ": ", &text].concat()
            } else {
                text
            };
            ink.text("of-blend haloed", [x, y - 1.0 * em], anchor, &text);
        }
        self.put(ink);
    }

    fn put(&mut self, ink: Ink) {
        if self.drawn == ink.0 {
            return;
        }
        let place = part("curve");
        let whole = |value: f64| crate::words::written(value, 0);
        let view = ["0 0 ", &whole(self.width), " ", &whole(self.height)].concat();
        set(&place, "viewBox", &view);
        place.set_inner_html(&ink.0);
        self.drawn = ink.0;
    }
}

/// The value of a line at a year, between its points.
fn value_at(line: &[[f64; 2]], year: f64) -> f64 {
    let after = line.iter().position(|[at, _]| *at >= year);
    match after {
        Some(0) | None => line.first().map_or(0.0, |[_, pct]| *pct),
        Some(after) => {
            let ([from, low], [to, high]) = (line[after - 1], line[after]);
            low + (high - low) * (year - from) / (to - from)
        }
    }
}
