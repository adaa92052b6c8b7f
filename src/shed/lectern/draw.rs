//! The drawings of the lectern. They are as many units high as there are pixels on a screen of 1080
//! rows, and grow with it, so a size here is the size there.

use crate::outcome::{Measure, Outcome, texture_path};
use crate::plot::{FILLINGS, Frame, Point, cloud, column_parts, region, ticks};
use crate::shed::ink::Ink;
use crate::texture::REGIONS;
use crate::words::{Text, class_lines, fixed, label_of_lectern, percent};

/// Where the triangle stands in its drawing of 960 by 800.
pub(super) const TRIANGLE: Frame = Frame {
    left: 92.0,
    top: 52.0,
    side: 776.0,
};
/// Half the side of the ground's square; the other marks are a little larger.
const MARK: f64 = 12.0;
/// Top and height of the bars in their drawing of 660 by 270, and their places.
pub(super) const BARS: [f64; 2] = [44.0, 186.0];
const BAR_X: [f64; 2] = [0.0, 176.0];
const BAR_WIDTH: f64 = 140.0;
const KEY_X: f64 = 356.0;
const KEY_LINE: f64 = 38.0;
const SWATCH: f64 = 30.0;
/// Half the height of a line of text, so that it stands beside a point.
const HALF_TEXT: f64 = 10.0;
/// From a line of a class's name to the next.
const LINE: f64 = 30.0;
/// Less than this share of a bar is not named, %.
const LEAST_PCT: f64 = 0.5;
/// The parts of a bar from the top, as classes and labels.
const PARTS: [&str; FILLINGS] = ["air", "taken", "left", "closed", "organic", "mineral"];

/// What the audience thinks.
#[derive(Clone, Copy, Default)]
pub(super) struct Guess {
    pub(super) texture: Option<[f64; 3]>,
    pub(super) pores_pct: Option<f64>,
}

/// The triangle with what may be seen.
pub(super) fn triangle(outcome: &Outcome, guess: Guess, hidden: bool) -> String {
    let mut ink = Ink(String::with_capacity(24_000));
    let frame = &TRIANGLE;
    let seen = outcome.texture.filter(|_| !hidden);
    let here = seen.map(|texture| texture.class);
    let has_ground = outcome.barrow.ground_dry_kg > 0.0;
    let before = outcome.ground.class.filter(|_| has_ground);
    let point = |[clay, silt, sand]: [f64; 3]| frame.point([sand, silt, clay]);
    for area in REGIONS {
        let corners: Vec<Point> = area.corners.iter().copied().map(point).collect();
        let class = if here == Some(area.class) {
            "region here"
        } else {
            "region"
        };
        ink.path(class, &corners, true);
    }
    ink.path("edge", &frame.corners(), true);
    for tick in ticks(frame) {
        let [x, y] = tick.at;
        let (ends, at, anchor) = match tick.axis {
            0 => ([x, y + 10.0], [x, y + 40.0], "middle"),
            1 => ([x + 10.0, y], [x + 16.0, y + HALF_TEXT], "start"),
            _ => ([x - 10.0, y], [x - 16.0, y + HALF_TEXT], "end"),
        };
        ink.line("edge", tick.at, ends);
        ink.text("tick", at, anchor, &fixed(tick.share_pct, 0));
    }
    let [top, left, right] = frame.corners();
    for (name, at, anchor) in [
        (Text::Clay, [top[0], top[1] - 14.0], "middle"),
        (Text::Sand, [left[0] - 88.0, left[1] + 44.0], "start"),
        (Text::Silt, [right[0] + 88.0, right[1] + 44.0], "end"),
    ] {
        ink.text("axis", at, anchor, &[name.text(), " %"].concat());
    }
    for area in REGIONS {
        let [x, y] = point(area.label);
        let is_here = here == Some(area.class);
        let (first, second) = class_lines(area.class);
        let up = if second.is_some() { LINE / 2.0 } else { 0.0 };
        let class = if is_here || before == Some(area.class) {
            "class-name here"
        } else {
            "class-name"
        };
        for (line, text) in [Some(first), second].into_iter().flatten().enumerate() {
            let at = [x, y + HALF_TEXT - up + LINE * line as f64];
            ink.text(class, at, "middle", text);
        }
    }
    if seen.is_some() {
        let fractions = [Measure::Sand, Measure::Silt, Measure::Clay];
        let fractions = fractions.map(|of| outcome.drawn.column(of));
        let points = cloud(frame, fractions, outcome.drawn.weights());
        ink.dots("cloud", &points, 6.0);
        ink.path("held", &region(frame, &points), true);
        let way: Vec<Point> = texture_path(&outcome.barrow)
            .into_iter()
            .map(|texture| frame.point(texture))
            .collect();
        ink.path("path", &way, false);
    }
    if let Some(texture) = outcome.ground.fractions_pct.filter(|_| has_ground) {
        let at = frame.point(texture);
        ink.square("ground-square", at, MARK);
        name_of_mark(&mut ink, "of-ground", at, [26.0, -14.0], "start", "ground");
    }
    if let Some(texture) = seen {
        let at = frame.point(texture.fractions_pct.map(|figure| figure.typical));
        ink.circle("blend-dot", at, MARK + 2.0);
        name_of_mark(&mut ink, "of-blend", at, [-26.0, 10.0], "end", "blend");
    }
    if let Some(texture) = guess.texture {
        let at = frame.point(texture);
        diamond(&mut ink, at);
        name_of_mark(
            &mut ink,
            "of-guess",
            at,
            [0.0, 54.0],
            "middle",
            "your_guess",
        );
    }
    ink.0
}

fn name_of_mark(
    ink: &mut Ink,
    class: &str,
    [x, y]: Point,
    [dx, dy]: [f64; 2],
    anchor: &str,
    name: &'static str,
) {
    ink.text(class, [x + dx, y + dy], anchor, label_of_lectern(name));
}

/// The mark of a guess.
fn diamond(ink: &mut Ink, [x, y]: Point) {
    let reach = 1.6 * MARK;
    let corners = [
        [x, y - reach],
        [x + reach, y],
        [x, y + reach],
        [x - reach, y],
    ];
    ink.path("guess-mark", &corners, true);
}

/// Ground and blend as bars, with the key of what is in them.
pub(super) fn column(outcome: &Outcome, guess: Guess, hidden: bool) -> String {
    let mut ink = Ink(String::with_capacity(4_000));
    let [lying, _, _, settled, _] = column_parts(outcome);
    let [top, height] = BARS;
    let foot = top + height;
    let mut named = [false; FILLINGS];
    for (index, (parts, of)) in [(lying, "ground"), (settled, "blend")]
        .into_iter()
        .enumerate()
    {
        let (x, middle) = (BAR_X[index], BAR_X[index] + BAR_WIDTH / 2.0);
        let class = ["of-ground", "of-blend"][index];
        ink.text(class, [middle, foot + 36.0], "middle", label_of_lectern(of));
        let is_hidden = hidden && index == 1;
        let mut y = top;
        if !is_hidden {
            for (part, share) in parts.from_top_pct.into_iter().enumerate() {
                let tall = share.max(0.0) / 100.0 * height;
                if tall > 0.0 {
                    rect(&mut ink, PARTS[part], [x, y], [BAR_WIDTH, tall]);
                    named[part] |= share >= LEAST_PCT;
                }
                y += tall;
            }
        }
        let corners = [
            [x, top],
            [x + BAR_WIDTH, top],
            [x + BAR_WIDTH, foot],
            [x, foot],
        ];
        ink.path("bar-edge", &corners, true);
        if is_hidden {
            let at = [middle, top + height / 2.0 + 24.0];
            ink.text("unknown", at, "middle", label_of_lectern("hidden"));
        } else if y > top {
            let pores = percent(parts.pores_pct());
            ink.text("bar-pores", [middle, top - 12.0], "middle", &pores);
            let level = top + parts.pores_pct() / 100.0 * height;
            ink.line("level", [x - 8.0, level], [x + BAR_WIDTH + 8.0, level]);
        }
    }
    if let Some(pores_pct) = guess.pores_pct {
        let level = top + pores_pct / 100.0 * height;
        let right = BAR_X[1] + BAR_WIDTH;
        ink.line("guess-line", [BAR_X[1] - 8.0, level], [right, level]);
        diamond(&mut ink, [right, level]);
        let at = [BAR_X[1] + BAR_WIDTH / 2.0, level + 34.0];
        ink.text("of-guess", at, "middle", &percent(pores_pct));
    }
    let mut y = top;
    for (part, name) in PARTS.into_iter().enumerate() {
        if named[part] {
            rect(&mut ink, name, [KEY_X, y], [SWATCH, SWATCH]);
            let at = [KEY_X + SWATCH + 12.0, y + SWATCH - 6.0];
            ink.text("tick", at, "start", label_of_lectern(name));
            y += KEY_LINE;
        }
    }
    ink.0
}

fn rect(ink: &mut Ink, part: &str, [x, y]: Point, [width, height]: [f64; 2]) {
    ink.open("rect", &["seg ", part].concat());
    for (name, value) in [("x", x), ("y", y), ("width", width), ("height", height)] {
        ink.attribute(name, value);
    }
    ink.0 += "/>";
}
