//! Drawings of the shelf: a small pore column, and the points on the triangle.

use crate::outcome::Outcome;
use crate::plot::{FILLINGS, Parts, Point, TRIANGLE, bars};
use crate::recipe::whole_text;
use crate::shed::ink::Ink;
use crate::words::{label_of_shelf, percent};

/// Size of a small column, as `table.rs` has its box.
pub(super) const PORES: [f64; 2] = [44.0, 108.0];
/// Top and height of its bar: its share of pores stands above.
const BAR: [f64; 2] = [18.0, 88.0];
const BAR_WIDTH: f64 = 34.0;
/// A bar's share of the drawing of five.
const FIVE: f64 = 32.0 / 5.0;
/// The parts of a bar from the top down, as their classes.
const PARTS: [&str; FILLINGS] = ["air", "taken", "left", "closed", "organic", "mineral"];
/// Radius of a number's ring, of the blend on the page, and half the side of the ground's square.
const RING: f64 = 8.5;
const NOW: f64 = 7.0;
const GROUND: f64 = 6.0;
/// How far rings lie from each other and from other marks at least.
const RINGS_APART: f64 = 2.0 * RING + 1.0;
const MARKS_APART: f64 = RING + NOW + 1.0;
/// Where a ring goes whose place is taken: so far off, in so many directions.
const OFF: [f64; 4] = [20.0, 30.0, 42.0, 56.0];
const DIRECTIONS: u32 = 16;

/// A small pore column of the settled blend.
pub(super) fn pores(parts: Parts) -> String {
    let mut ink = Ink(String::with_capacity(600));
    let [top, height] = BAR;
    let left = (PORES[0] - BAR_WIDTH) / 2.0;
    let [bar, ..] = bars(&[parts; 5], [left, top], [BAR_WIDTH * FIVE, height]);
    for (class, [y, tall]) in PARTS.iter().zip(bar.segments) {
        if tall > 0.0 {
            ink.open("rect", &["seg ", class].concat());
            for (name, value) in [
                ("x", bar.x),
                ("y", y),
                ("width", bar.width),
                ("height", tall),
            ] {
                ink.attribute(name, value);
            }
            ink.0 += "/>";
        }
    }
    let pores_pct = parts.pores_pct();
    let foot = top + pores_pct / 100.0 * height;
    ink.line(
        "pore-line",
        [bar.x - 3.0, foot],
        [bar.x + bar.width + 3.0, foot],
    );
    let at = [PORES[0] / 2.0, top - 5.0];
    ink.text("shelf-share", at, "middle", &percent(pores_pct));
    ink.0
}

fn point_of(outcome: &Outcome) -> Option<Point> {
    let texture = outcome.texture?;
    Some(TRIANGLE.point(texture.fractions_pct.map(|figure| figure.typical)))
}

fn apart([x, y]: Point, [u, v]: Point) -> f64 {
    libm::sqrt((x - u) * (x - u) + (y - v) * (y - v))
}

/// The ground, the blend on the page, and the kept blends by their numbers. A number whose place is
/// taken stands aside, with a line to its point.
pub(super) fn points(now: &Outcome, kept: &[Option<&Outcome>]) -> String {
    let mut ink = Ink(String::with_capacity(2_000));
    let has_ground = now.barrow.ground_dry_kg > 0.0;
    let ground = now.ground.fractions_pct.filter(|_| has_ground);
    let ground = ground.map(|fractions| TRIANGLE.point(fractions));
    let here = point_of(now);
    let marks: Vec<Point> = [ground, here].into_iter().flatten().collect();
    let kept: Vec<(usize, Point)> = kept
        .iter()
        .enumerate()
        .filter_map(|(at, outcome)| Some((at, point_of((*outcome)?)?)))
        .collect();
    let mut rings: Vec<Point> = Vec::new();
    for (own, (_, point)) in kept.iter().enumerate() {
        let others = kept.iter().enumerate().filter(|(at, _)| *at != own);
        let others: Vec<Point> = others.map(|(_, (_, at))| *at).collect();
        let free = |at: Point, stays: bool| {
            rings.iter().all(|ring| apart(*ring, at) >= RINGS_APART)
                && marks.iter().all(|mark| apart(*mark, at) >= MARKS_APART)
                // A ring that stands aside hides no point.
                && (stays || others.iter().all(|other| apart(*other, at) >= MARKS_APART))
        };
        rings.push(if free(*point, true) {
            *point
        } else {
            aside(*point).find(|at| free(*at, false)).unwrap_or(*point)
        });
    }
    for ((_, point), ring) in kept.iter().zip(&rings) {
        if point != ring {
            ink.line("shelf-lead", *point, *ring);
            ink.circle("shelf-dot", *point, 3.0);
        }
    }
    if let Some(at) = ground {
        ink.square("shelf-square", at, GROUND);
    }
    if let Some(at) = here {
        ink.circle("shelf-now", at, NOW);
    }
    for ((index, _), ring) in kept.iter().zip(&rings) {
        ink.circle("shelf-ring", *ring, RING);
        let [x, y] = *ring;
        let digit = whole_text(*index as u64 + 1);
        ink.text("shelf-digit", [x, y + 4.2], "middle", &digit);
    }
    let mut taken = rings;
    taken.extend(marks);
    for (at, class, name) in [
        (ground, "shelf-of-ground", "ground_mark"),
        (here, "shelf-of-now", "now_mark"),
    ] {
        if let Some(at) = at {
            let text = label_of_shelf(name);
            let wide = 7.5 * text.len() as f64;
            let (place, anchor, middle) = beside(at, wide, &taken);
            ink.text(class, place, anchor, text);
            taken.push(middle);
        }
    }
    ink.0
}

/// Places around a point, the nearest first.
fn aside([x, y]: Point) -> impl Iterator<Item = Point> {
    OFF.into_iter().flat_map(move |off| {
        (0..DIRECTIONS).map(move |direction| {
            let turn = f64::from(direction) / f64::from(DIRECTIONS) * std::f64::consts::TAU;
            [x + off * libm::cos(turn), y + off * libm::sin(turn)]
        })
    })
}

/// Where a name stands beside its mark, its anchor and its middle: where it covers least.
fn beside([x, y]: Point, wide: f64, taken: &[Point]) -> (Point, &'static str, Point) {
    let mut best = None;
    let mut least = usize::MAX;
    for (dx, dy, anchor) in [
        (11.0, -8.0, "start"),
        (-11.0, -8.0, "end"),
        (11.0, 18.0, "start"),
        (-11.0, 18.0, "end"),
    ] {
        let side: f64 = if dx > 0.0 { 1.0 } else { -1.0 };
        let middle = [x + dx + side * wide / 2.0, y + dy - 4.0];
        let covered = |[u, v]: &Point| {
            (u - middle[0]).abs() < wide / 2.0 + RING && (v - middle[1]).abs() < 6.0 + RING
        };
        let covers = taken.iter().filter(|at| covered(at)).count();
        if covers < least {
            least = covers;
            best = Some(([x + dx, y + dy], anchor, middle));
        }
    }
    best.unwrap_or(([x, y], "start", [x, y]))
}
