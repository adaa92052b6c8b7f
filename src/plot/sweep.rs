//! Geometry of a sweep: a curve with its band over an amount, or a map over two.

use super::Point;
use crate::figure::within;
use crate::quantity::{magnitude, ten_to};

/// Marks along an axis, at the least as many.
const MARKS: f64 = 4.0;
/// Steps of colour in a map at the most: more cannot be told apart.
const TONES: f64 = 6.0;
/// A span of no width is drawn as wide as this share of its value.
const FLAT: f64 = 0.1;

/// A scale of round numbers.
#[derive(Clone, Debug, PartialEq)]
pub struct SweepScale {
    /// Its low end.
    pub low: f64,
    /// Its high end.
    pub high: f64,
    /// From mark to mark.
    pub step: f64,
}

impl SweepScale {
    /// The scale that holds values; from nothing up where they begin near it.
    pub fn of(values: impl IntoIterator<Item = f64>) -> SweepScale {
        let (low, high) = ends(values);
        let from = if low >= 0.0 && low < 0.35 * high {
            0.0
        } else {
            low
        };
        let step = round_step((high - from) / MARKS);
        SweepScale {
            low: (from / step + 1e-9).floor() * step,
            high: (high / step - 1e-9).ceil() * step,
            step,
        }
    }

    /// The scale of a range of amounts, whose ends stay as they are.
    pub fn between(low: f64, high: f64) -> SweepScale {
        SweepScale {
            low,
            high,
            step: round_step((high - low) / MARKS),
        }
    }

    /// Numbers that are marked.
    pub fn marks(&self) -> Vec<f64> {
        let first = (self.low / self.step - 1e-9).ceil();
        let marks = (0..64).map(|at| (first + f64::from(at)) * self.step);
        let top = self.high + 1e-9 * self.step;
        marks.take_while(|mark| *mark <= top).collect()
    }

    /// Decimals that its marks need.
    pub fn decimals(&self) -> usize {
        let mut step = self.step;
        let mut decimals = 0;
        while decimals < 9 && (step - step.round()).abs() > 1e-6 * step {
            step *= 10.0;
            decimals += 1;
        }
        decimals
    }

    /// Where a value lies, 0 at the low end and 1 at the high one, held at them.
    pub fn share(&self, value: f64) -> f64 {
        let share = (value - self.low) / (self.high - self.low);
        within(share, 0.0, 1.0)
    }
}

/// Least and greatest of what are numbers, apart from each other.
fn ends(values: impl IntoIterator<Item = f64>) -> (f64, f64) {
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for value in values {
        if value.is_finite() {
            low = low.min(value);
            high = high.max(value);
        }
    }
    if low > high {
        return (0.0, 1.0);
    }
    let span = high - low;
    if span <= 1e-9 * high.abs().max(low.abs()).max(1e-9) {
        let room = (FLAT * high.abs()).max(1e-6);
        return ((low - room).max(low.min(0.0)), high + room);
    }
    (low, high)
}

/// The round step that is not below another: 1, 2, 2.5 or 5 times a power of ten.
fn round_step(step: f64) -> f64 {
    if !(step > 1e-12 && step < 1e15) {
        return if step >= 1e15 { step } else { 1e-12 };
    }
    let scale = ten_to(magnitude(step));
    let round = [1.0, 2.0, 2.5, 5.0, 10.0].into_iter();
    let mut round = round.map(|round| round * scale);
    round
        .find(|round| *round >= step * (1.0 - 1e-9))
        .unwrap_or(step)
}

/// Where amounts and values stand in a drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct SweepFrame {
    /// Left edge.
    pub left: f64,
    /// Top edge.
    pub top: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
    /// To the right.
    pub across: SweepScale,
    /// Up.
    pub up: SweepScale,
}

impl SweepFrame {
    /// Where an amount is, held at the edges.
    pub fn x(&self, value: f64) -> f64 {
        self.left + self.across.share(value) * self.width
    }

    /// Where a value is, held at the edges.
    pub fn y(&self, value: f64) -> f64 {
        self.top + (1.0 - self.up.share(value)) * self.height
    }

    /// Right edge.
    pub fn right(&self) -> f64 {
        self.left + self.width
    }

    /// Lower edge.
    pub fn bottom(&self) -> f64 {
        self.top + self.height
    }

    /// How far a point of the drawing lies along both scales, 0 to 1, held at the edges.
    pub fn shares(&self, [x, y]: Point) -> [f64; 2] {
        [
            within((x - self.left) / self.width, 0.0, 1.0),
            within((self.bottom() - y) / self.height, 0.0, 1.0),
        ]
    }

    /// Lines through what is there, parted by gaps.
    pub fn lines(&self, values: &[Option<[f64; 2]>]) -> Vec<Vec<Point>> {
        pieces(values, |[amount, value]| [self.x(amount), self.y(value)])
    }

    /// Outlines of what lies between low and high values, parted by gaps.
    pub fn bands(&self, values: &[Option<[f64; 3]>]) -> Vec<Vec<Point>> {
        let both = pieces(values, |[amount, low, high]| {
            [self.x(amount), self.y(low), self.y(high)]
        });
        let outline = |piece: Vec<[f64; 3]>| {
            let high = piece.iter().map(|[x, _, high]| [*x, *high]);
            let low = piece.iter().rev().map(|[x, low, _]| [*x, *low]);
            high.chain(low).collect()
        };
        both.into_iter().map(outline).collect()
    }

    /// Where a point of a grid is that lies along both axes from edge to edge.
    pub fn at(&self, grid: &SweepGrid, [column, row]: Point) -> Point {
        let share = |at: f64, points: usize| at / points.saturating_sub(1).max(1) as f64;
        [
            self.left + share(column, grid.columns) * self.width,
            self.bottom() - share(row, grid.rows) * self.height,
        ]
    }
}

/// What is there, in pieces, each value moved.
fn pieces<V: Copy, W>(values: &[Option<V>], of: impl Fn(V) -> W) -> Vec<Vec<W>> {
    let mut pieces: Vec<Vec<W>> = Vec::new();
    let mut goes_on = false;
    for value in values {
        match (value, pieces.last_mut()) {
            (Some(value), Some(last)) if goes_on => last.push(of(*value)),
            (Some(value), _) => pieces.push(vec![of(*value)]),
            (None, _) => {}
        }
        goes_on = value.is_some();
    }
    pieces
}

/// Values at the points of a grid, in rows, the lowest row first.
#[derive(Clone, Debug, PartialEq)]
pub struct SweepGrid {
    /// Points across.
    pub columns: usize,
    /// Points up.
    pub rows: usize,
    /// The values; gaps where there is none.
    pub values: Vec<Option<f64>>,
}

/// Cells of one tone beside each other, from edge to edge in the points of the grid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SweepCells {
    /// Left, lower, right and upper edge.
    pub edges: [f64; 4],
    /// Which tone, from 0.
    pub tone: usize,
}

impl SweepGrid {
    /// A value by its place.
    pub fn value(&self, column: usize, row: usize) -> Option<f64> {
        if column >= self.columns || row >= self.rows {
            return None;
        }
        *self.values.get(row * self.columns + column)?
    }

    /// Round borders between tones of its values, the lowest first.
    pub fn borders(&self) -> Vec<f64> {
        let (low, high) = ends(self.values.iter().flatten().copied());
        let step = round_step((high - low) / TONES);
        let first = (low / step + 1e-9).floor() + 1.0;
        let borders = (0..16).map(|at| (first + f64::from(at)) * step);
        borders
            .take_while(|border| *border < high - 1e-9 * step)
            .collect()
    }

    /// Its cells, those of one tone in a row together: a cell goes half-way to its neighbours.
    pub fn cells(&self, tone: impl Fn(f64) -> usize) -> Vec<SweepCells> {
        let mut cells: Vec<SweepCells> = Vec::new();
        let edge = |at: f64, points: usize| within(at, 0.0, points.saturating_sub(1) as f64);
        for row in 0..self.rows {
            let mut open: Option<SweepCells> = None;
            for column in 0..self.columns {
                let tone = self.value(column, row).map(&tone);
                let right = edge(column as f64 + 0.5, self.columns);
                match (&mut open, tone) {
                    (Some(cells), Some(tone)) if cells.tone == tone => cells.edges[2] = right,
                    (_, tone) => {
                        cells.extend(open.take());
                        open = tone.map(|tone| SweepCells {
                            edges: [
                                edge(column as f64 - 0.5, self.columns),
                                edge(row as f64 - 0.5, self.rows),
                                right,
                                edge(row as f64 + 0.5, self.rows),
                            ],
                            tone,
                        });
                    }
                }
            }
            cells.extend(open);
        }
        cells
    }

    /// Lines along which the values are nothing, straight within each square of four points; a
    /// square with a gap has none.
    pub fn contour(&self) -> Vec<[Point; 2]> {
        let mut lines = Vec::new();
        for row in 1..self.rows {
            for column in 1..self.columns {
                let at = [
                    (column - 1, row - 1),
                    (column, row - 1),
                    (column, row),
                    (column - 1, row),
                ];
                let corners = at.map(|(column, row)| {
                    let value = self.value(column, row)?;
                    Some(([column as f64, row as f64], value))
                });
                if let [Some(one), Some(two), Some(three), Some(four)] = corners {
                    square(&mut lines, [one, two, three, four]);
                }
            }
        }
        lines
    }

    /// The edges between cells of different values, where values are kinds and not amounts.
    pub fn edges(&self) -> Vec<[Point; 2]> {
        let mut lines = Vec::new();
        let end = |at: f64, points: usize| within(at, 0.0, points.saturating_sub(1) as f64);
        for row in 0..self.rows {
            for column in 0..self.columns {
                let Some(here) = self.value(column, row) else {
                    continue;
                };
                let differs = |other: Option<f64>| other.is_some_and(|other| other != here);
                let (x, y) = (column as f64, row as f64);
                let [left, right] = [x - 0.5, x + 0.5].map(|x| end(x, self.columns));
                let [low, high] = [y - 0.5, y + 0.5].map(|y| end(y, self.rows));
                if differs(self.value(column + 1, row)) {
                    lines.push([[right, low], [right, high]]);
                }
                if differs(self.value(column, row + 1)) {
                    lines.push([[left, high], [right, high]]);
                }
            }
        }
        lines
    }

    /// For each kind of value the point of the grid that is nearest to the middle of all of that
    /// kind, and how many there are.
    pub fn middles(&self) -> Vec<(f64, Point, usize)> {
        let mut kinds: Vec<(f64, Vec<Point>)> = Vec::new();
        for row in 0..self.rows {
            for column in 0..self.columns {
                let Some(value) = self.value(column, row) else {
                    continue;
                };
                let point = [column as f64, row as f64];
                match kinds.iter_mut().find(|(known, _)| *known == value) {
                    Some((_, points)) => points.push(point),
                    None => kinds.push((value, vec![point])),
                }
            }
        }
        let middle = |(value, points): (f64, Vec<Point>)| {
            let count = points.len();
            let mean = |axis: usize| {
                let sum: f64 = points.iter().map(|point| point[axis]).sum();
                sum / count as f64
            };
            let mean = [mean(0), mean(1)];
            let far = |[x, y]: Point| {
                let [x, y] = [x - mean[0], y - mean[1]];
                x * x + y * y
            };
            let first = points.first().copied().unwrap_or(mean);
            let nearest = points.iter().fold(first, |best, point| {
                if far(*point) < far(best) {
                    *point
                } else {
                    best
                }
            });
            (value, nearest, count)
        };
        kinds.into_iter().map(middle).collect()
    }
}

/// The lines of one square, its corners around it.
fn square(lines: &mut Vec<[Point; 2]>, corners: [(Point, f64); 4]) {
    let mut met = Vec::with_capacity(4);
    for at in 0..4 {
        let (from, before) = corners[at];
        let (to, after) = corners[(at + 1) % 4];
        if (before >= 0.0) != (after >= 0.0) {
            let share = before / (before - after);
            met.push([
                from[0] + (to[0] - from[0]) * share,
                from[1] + (to[1] - from[1]) * share,
            ]);
        }
    }
    match met[..] {
        [one, other] => lines.push([one, other]),
        // A saddle: the middle says which corners belong together.
        [one, two, three, four] => {
            let middle: f64 = corners.iter().map(|(_, value)| value).sum();
            if (middle >= 0.0) == (corners[0].1 >= 0.0) {
                lines.extend([[one, two], [three, four]]);
            } else {
                lines.extend([[four, one], [two, three]]);
            }
        }
        _ => {}
    }
}
