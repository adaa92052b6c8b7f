//! The drawing of a sweep: a curve with its band, or a map in tones of one colour.

use super::shown::key_item;
use super::{AXES, PART};
use crate::dom::set;
use crate::plot::{Point as At, SweepFrame, SweepGrid, SweepScale};
use crate::shed::ink::Ink;
use crate::sweep::{Axis, Point, Stretch, Swept};
use crate::texture::Class;
use crate::words::errand::sweep::{
    KEY_BAND, KEY_HERE, KEY_LINE, KEY_NOW, KEY_ODDS, Looked, axis_text, class_in_drawing,
    swept_unit, tone_text,
};
use crate::words::fixed;

/// Height of the drawing in ems, as `style.css` has it.
const HIGH_EM: f64 = 22.0;
/// Least share of the draws at which a class has a row of its own.
const LEAST_ODDS: f64 = 0.1;
/// Tones that `style.css` knows.
const TONES: usize = 8;

/// The drawing: how large it is, and what stands in it.
#[derive(Default)]
pub(super) struct Drawing {
    frame: Option<SweepFrame>,
    drawn: String,
    key: String,
}

impl Drawing {
    /// How far a place of the drawing lies along the axes.
    pub(super) fn amounts(&self, at: At) -> [f64; AXES] {
        self.frame
            .as_ref()
            .map_or([0.0; AXES], |frame| frame.shares(at))
    }

    /// Draws all of it.
    pub(super) fn draw(
        &mut self,
        looked: &Looked<'_>,
        classes: &[Stretch],
        now: [f64; AXES],
        here: Option<[f64; AXES]>,
    ) {
        let place = PART.part("drawing");
        let width = f64::from(place.client_width().max(240));
        let height = f64::from(place.client_height().max(160));
        let em = height / HIGH_EM;
        let mut ink = Ink(String::with_capacity(20_000));
        let Some(first) = looked.run.axes().first().copied() else {
            return;
        };
        let second = looked.run.axes().get(1).copied();
        let frame = SweepFrame {
            left: 4.6 * em,
            top: 1.8 * em,
            width: (width - 6.0 * em).max(em),
            height: height - 5.6 * em,
            across: SweepScale::between(first.low, first.high),
            up: match second {
                Some(second) => SweepScale::between(second.low, second.high),
                None => scale(looked),
            },
        };
        let mut pen = Pen {
            looked,
            frame: &frame,
            em,
            ink: &mut ink,
        };
        let key = if second.is_some() {
            pen.map(now, here)
        } else if looked.swept == Swept::Class {
            pen.ribbons(classes, now, here)
        } else {
            pen.curve(now, here)
        };
        let whole = |value: f64| fixed(value, 0).replace(',', "");
        let view = ["0 0 ", &whole(width), " ", &whole(height)].concat();
        set(&place, "viewBox", &view);
        if self.drawn != ink.0 {
            place.set_inner_html(&ink.0);
            self.drawn = ink.0;
        }
        self.frame = Some(frame);
        let text: String = key
            .iter()
            .map(|(shape, text)| [*shape, text].concat())
            .collect();
        if self.key != text {
            self.key = text;
            let list = PART.part("key");
            list.set_text_content("");
            for (class, text) in &key {
                key_item(&list, class, text);
            }
        }
    }
}

/// The scale of a curve's values, in the unit shown; its threshold is held by it where it is near.
fn scale(looked: &Looked<'_>) -> SweepScale {
    let (factor, _) = swept_unit(looked.swept, looked.speech, None);
    let points = || looked.run.points().iter().flatten();
    let figures = points().filter_map(|point| point.figure(looked.swept));
    let mut values: Vec<f64> = figures
        .flat_map(|figure| [figure.ends().low, figure.typical, figure.ends().high])
        .collect();
    let least = values.iter().copied().fold(f64::INFINITY, f64::min);
    let most = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let near = most - least;
    let thresholds = points().filter_map(|point| point.threshold(looked.swept, looked.own));
    let thresholds = thresholds.filter(|value| *value < most + near && *value > least - near);
    values.extend(thresholds.collect::<Vec<f64>>());
    SweepScale::of(values.into_iter().map(|value| value / factor))
}

/// What the drawing is made with.
struct Pen<'a> {
    looked: &'a Looked<'a>,
    frame: &'a SweepFrame,
    em: f64,
    ink: &'a mut Ink,
}

/// What stands in the key: the class of its mark, and its name.
type Key = Vec<(&'static str, String)>;

impl Pen<'_> {
    fn axis(&self, at: usize) -> Option<Axis> {
        self.looked.run.axes().get(at).copied()
    }

    /// Marks and names below.
    fn across(&mut self) {
        let (frame, em) = (self.frame, self.em);
        let bottom = frame.bottom();
        self.ink
            .line("full-line", [frame.left, bottom], [frame.right(), bottom]);
        let scale = &frame.across;
        for mark in scale.marks() {
            let x = frame.x(mark);
            self.ink.line("ruler", [x, bottom], [x, bottom + 0.4 * em]);
            let text = fixed(mark, scale.decimals());
            self.ink
                .text("tick", [x, bottom + 1.5 * em], "middle", &text);
        }
        if let Some(axis) = self.axis(0) {
            let name = escaped(&axis_text(self.looked.run.recipe(), axis.line));
            let at = [frame.right(), bottom + 3.1 * em];
            self.ink.text("axis-name", at, "end", &name);
        }
    }

    /// Marks to the left, and the name above them.
    fn up(&mut self, name: &str, across: bool) {
        let (frame, em) = (self.frame, self.em);
        let scale = &frame.up;
        for mark in scale.marks() {
            let y = frame.y(mark);
            if across {
                self.ink.line("easy", [frame.left, y], [frame.right(), y]);
            } else {
                self.ink
                    .line("ruler", [frame.left - 0.4 * em, y], [frame.left, y]);
            }
            let text = fixed(mark, scale.decimals());
            let at = [frame.left - 0.6 * em, y + 0.3 * em];
            self.ink.text("tick", at, "end", &text);
        }
        let at = [0.2 * em, frame.top - 0.8 * em];
        self.ink.text("axis-name", at, "start", &escaped(name));
    }

    fn points(&self) -> impl Iterator<Item = &Option<Point>> {
        self.looked.run.points().iter()
    }

    fn curve(&mut self, now: [f64; AXES], here: Option<[f64; AXES]>) -> Key {
        let (frame, em) = (self.frame, self.em);
        let (swept, own) = (self.looked.swept, self.looked.own);
        let (factor, _) = swept_unit(swept, self.looked.speech, None);
        let of = |point: &Option<Point>| {
            let point = point.as_ref()?;
            let figure = point.figure(swept)?;
            let ends = figure.ends();
            let values = [ends.low, figure.typical, ends.high].map(|value| value / factor);
            Some((point.amounts[0], values))
        };
        let values: Vec<Option<(f64, [f64; 3])>> = self.points().map(of).collect();
        let lines: Vec<Option<[f64; 2]>> = values
            .iter()
            .map(|value| value.map(|(amount, [_, typical, _])| [amount, typical]))
            .collect();
        let bands: Vec<Option<[f64; 3]>> = values
            .iter()
            .map(|value| value.map(|(amount, [low, _, high])| [amount, low, high]))
            .collect();
        let thresholds: Vec<Option<[f64; 2]>> = self
            .points()
            .map(|point| {
                let point = point.as_ref()?;
                let threshold = point.threshold(swept, own)? / factor;
                let up = &frame.up;
                // A line that would lie on the frame is no threshold.
                let is_seen = threshold >= up.low && threshold <= up.high;
                is_seen.then_some([point.amounts[0], threshold])
            })
            .collect();
        self.up(&self.looked.caption(), true);
        self.across();
        for band in frame.bands(&bands) {
            self.ink.path("years-band", &band, true);
        }
        for line in frame.lines(&thresholds) {
            self.ink.path("sweep-threshold", &line, false);
        }
        for line in frame.lines(&lines) {
            self.ink.path("curve-line of-blend", &line, false);
        }
        let at = |amount: f64| {
            let y = value_at(&lines, amount)?;
            Some([frame.x(amount), frame.y(y)])
        };
        if let Some(point) = here.and_then(|here| at(here[0])) {
            self.ink.line(
                "sweep-here-line",
                [point[0], frame.top],
                [point[0], frame.bottom()],
            );
            self.ink.circle("sweep-here-dot", point, 0.55 * em);
        }
        self.now_mark(at(now[0]));
        let mut key = vec![
            ("key-now", KEY_NOW.text().to_owned()),
            ("key-band", KEY_BAND.text().to_owned()),
        ];
        if thresholds.iter().any(Option::is_some) {
            key.push(("key-line", KEY_LINE.text().to_owned()));
        }
        if here.is_some() {
            key.push(("key-here", KEY_HERE.text().to_owned()));
        }
        key
    }

    fn now_mark(&mut self, at: Option<At>) {
        if let Some(at) = at {
            self.ink.circle("sweep-now", at, 0.5 * self.em);
        }
    }

    /// One row for each class: as thick as the draws are many that have it.
    fn ribbons(
        &mut self,
        stretches: &[Stretch],
        now: [f64; AXES],
        here: Option<[f64; AXES]>,
    ) -> Key {
        let (frame, em) = (self.frame, self.em);
        let points: Vec<&Point> = self.looked.run.points().iter().flatten().collect();
        let mut rows: Vec<Class> = Vec::new();
        for stretch in stretches {
            if !rows.contains(&stretch.class) {
                rows.push(stretch.class);
            }
        }
        for class in Class::ALL.iter().copied() {
            let shares = points.iter().filter_map(|point| point.class);
            let most = shares.fold(0.0, |most: f64, (_, shares)| {
                most.max(shares[class as usize])
            });
            if most >= LEAST_ODDS && !rows.contains(&class) {
                rows.push(class);
            }
        }
        self.across();
        let high = frame.height / rows.len().max(1) as f64;
        for (row, class) in rows.iter().enumerate() {
            let middle = frame.bottom() - (row as f64 + 0.5) * high;
            let half = |point: &Point| {
                let share = point
                    .class
                    .map_or(0.0, |(_, shares)| shares[*class as usize]);
                0.5 * share * (high - 1.7 * em).max(0.6 * em)
            };
            let low = middle + 0.6 * em;
            let mut outline: Vec<At> = Vec::new();
            outline.extend(
                points
                    .iter()
                    .map(|point| [frame.x(point.amounts[0]), low - half(point)]),
            );
            outline.extend(
                points
                    .iter()
                    .rev()
                    .map(|point| [frame.x(point.amounts[0]), low + half(point)]),
            );
            self.ink.path("sweep-odds", &outline, true);
            for stretch in stretches.iter().filter(|stretch| stretch.class == *class) {
                let [from, to] = [stretch.from, stretch.to].map(|amount| frame.x(amount));
                self.ink.line("curve-line of-blend", [from, low], [to, low]);
            }
            let top = middle - 0.5 * high + em;
            let name = class_in_drawing(*class);
            self.ink
                .text("haloed", [frame.left + 0.4 * em, top], "start", name);
        }
        let row_at = |amount: f64| {
            let stretch = stretches
                .iter()
                .find(|stretch| amount >= stretch.from && amount <= stretch.to)?;
            let row = rows.iter().position(|class| *class == stretch.class)?;
            let middle = frame.bottom() - (row as f64 + 0.5) * high + 0.6 * em;
            Some([frame.x(amount), middle])
        };
        let mut key = vec![
            ("key-now", KEY_NOW.text().to_owned()),
            ("key-odds", KEY_ODDS.text().to_owned()),
        ];
        if let Some(here) = here {
            let x = frame.x(here[0]);
            self.ink
                .line("sweep-here-line", [x, frame.top], [x, frame.bottom()]);
            key.push(("key-here", KEY_HERE.text().to_owned()));
        }
        self.now_mark(row_at(now[0]));
        key
    }

    fn map(&mut self, now: [f64; AXES], here: Option<[f64; AXES]>) -> Key {
        let (frame, em) = (self.frame, self.em);
        let (swept, own) = (self.looked.swept, self.looked.own);
        let [columns, rows] = self.looked.run.size();
        let mut classes: Vec<Class> = Vec::new();
        for point in self.points().flatten() {
            if let Some((class, _)) = point.class
                && !classes.contains(&class)
            {
                classes.push(class);
            }
        }
        let value = |point: &Option<Point>| {
            let point = point.as_ref()?;
            if swept == Swept::Class {
                let (class, _) = point.class?;
                return classes
                    .iter()
                    .position(|known| *known == class)
                    .map(|at| at as f64);
            }
            Some(point.figure(swept)?.typical)
        };
        let (factor, _) = swept_unit(swept, self.looked.speech, None);
        let shown = |point: &Option<Point>| value(point).map(|value| value / factor);
        let grid = SweepGrid {
            columns,
            rows,
            values: self.points().map(shown).collect(),
        };
        let borders = grid.borders();
        let tone = |value: f64| {
            if swept == Swept::Class {
                value as usize % TONES
            } else {
                borders
                    .iter()
                    .filter(|border| value >= **border)
                    .count()
                    .min(TONES - 1)
            }
        };
        let mut used: Vec<usize> = Vec::new();
        for cells in grid.cells(tone) {
            if !used.contains(&cells.tone) {
                used.push(cells.tone);
            }
            let [left, low, right, high] = cells.edges;
            let [from, to] = [[left, high], [right, low]].map(|at| frame.at(&grid, at));
            self.ink
                .open("rect", &["tone tone-", &cells.tone.to_string()].concat());
            self.ink.attribute("x", from[0]);
            self.ink.attribute("y", from[1]);
            self.ink.attribute("width", to[0] - from[0]);
            self.ink.attribute("height", to[1] - from[1]);
            self.ink.0 += "/>";
        }
        self.across();
        let name = self.axis(1).map_or(String::new(), |axis| {
            axis_text(self.looked.run.recipe(), axis.line)
        });
        self.up(&name, false);
        let left = [frame.left, frame.left];
        self.ink
            .line("full-line", [left[0], frame.top], [left[1], frame.bottom()]);
        let mut key: Key = vec![("key-now", KEY_NOW.text().to_owned())];
        let lines = if swept == Swept::Class {
            grid.edges()
        } else {
            let above = |point: &Option<Point>| point.as_ref()?.above(swept, own);
            let above = SweepGrid {
                columns,
                rows,
                values: self.points().map(above).collect(),
            };
            above.contour()
        };
        for class in ["sweep-contour-under", "sweep-contour"] {
            self.segments(class, &grid, &lines);
        }
        if swept == Swept::Class {
            for (value, at, count) in grid.middles() {
                // In a few squares a name has no room; the pointer tells it.
                if count >= 12
                    && let Some(class) = classes.get(value as usize)
                {
                    let [x, y] = frame.at(&grid, at);
                    let name = class_in_drawing(*class);
                    self.ink.text("haloed", [x, y + 0.3 * em], "middle", name);
                }
            }
        } else {
            if !lines.is_empty() {
                key.push(("key-line", KEY_LINE.text().to_owned()));
            }
            used.sort_unstable();
            for tone in used {
                let low = tone.checked_sub(1).and_then(|at| borders.get(at)).copied();
                let high = borders.get(tone).copied();
                let text = tone_text(swept, low, high, self.looked.speech, self.looked.currency);
                key.push((TONE_KEYS[tone.min(TONES - 1)], text));
            }
        }
        let place = |[x, y]: [f64; AXES]| [frame.x(x), frame.y(y)];
        if let Some(here) = here {
            let [x, y] = place(here);
            self.ink
                .line("sweep-here-line", [x, frame.top], [x, frame.bottom()]);
            self.ink
                .line("sweep-here-line", [frame.left, y], [frame.right(), y]);
            key.push(("key-here", KEY_HERE.text().to_owned()));
        }
        let is_in = |axis: usize| {
            self.axis(axis)
                .is_some_and(|axis_of| now[axis] >= axis_of.low && now[axis] <= axis_of.high)
        };
        self.now_mark((is_in(0) && is_in(1)).then(|| place(now)));
        key
    }

    fn segments(&mut self, class: &str, grid: &SweepGrid, lines: &[[At; 2]]) {
        if lines.is_empty() {
            return;
        }
        self.ink.open("path", class);
        self.ink.0 += " d=\"";
        for [from, to] in lines {
            self.ink.0 += "M";
            self.ink.point(self.frame.at(grid, *from));
            self.ink.0 += "L";
            self.ink.point(self.frame.at(grid, *to));
        }
        self.ink.0 += "\"/>";
    }
}

/// The marks of tones in the key.
const TONE_KEYS: [&str; TONES] = [
    "key-tone tone-0",
    "key-tone tone-1",
    "key-tone tone-2",
    "key-tone tone-3",
    "key-tone tone-4",
    "key-tone tone-5",
    "key-tone tone-6",
    "key-tone tone-7",
];

/// A text as it stands within a drawing.
fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;")
}

/// The value of a line at an amount, between its points; none outside of them.
fn value_at(line: &[Option<[f64; 2]>], amount: f64) -> Option<f64> {
    line.windows(2).find_map(|pair| {
        let [Some([from, low]), Some([to, high])] = pair else {
            return None;
        };
        let is_between = amount >= *from && amount <= *to;
        is_between.then(|| low + (high - low) * (amount - from) / (to - from))
    })
}
