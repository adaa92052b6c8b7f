//! The cloud of draws in the triangle, and the region that holds nine in ten of them.

use super::{Frame, Point};
use crate::draws::share_of;

/// Corners of the region's outline before the triangle cuts it.
const CORNERS: usize = 48;
/// Cosine and sine of the angle between neighbouring corners, TAU/48.
const TURN: [f64; 2] = [0.991_444_861_373_810_4, 0.130_526_192_220_051_6];
/// Share of the draws inside.
pub const HELD: f64 = 0.9;
/// A cloud thinner than this, as a share of the triangle's side, is drawn so wide.
const THINNEST: f64 = 0.002;

/// A draw that counts less than this share of the mean is not shown (a choice).
const FAINTEST: f64 = 0.1;

/// The points of the draws that have a texture, fractions in percent. Where they are weighed, those
/// that hardly count are left out.
pub fn cloud(frame: &Frame, [sand, silt, clay]: [&[f64]; 3], weights: &[f64]) -> Vec<Point> {
    let mut least = 0.0;
    for weight in weights {
        least += weight * FAINTEST / weights.len() as f64;
    }
    let mut points = Vec::new();
    for (draw, ((sand, silt), clay)) in sand.iter().zip(silt).zip(clay).enumerate() {
        if sand.is_finite() && weights.get(draw).is_none_or(|weight| *weight >= least) {
            points.push(frame.point([*sand, *silt, *clay]));
        }
    }
    points
}

/// The outline of the ellipse about the points' mean, of their own shape, that holds nine in ten
/// of them, cut at the triangle's edges. Nothing for fewer than three points.
pub fn region(frame: &Frame, points: &[Point]) -> Vec<Point> {
    if points.len() < 3 {
        return Vec::new();
    }
    let count = points.len() as f64;
    let sum = |of: &dyn Fn(&Point) -> f64| points.iter().map(of).sum::<f64>() / count;
    let [x, y] = [sum(&|p| p[0]), sum(&|p| p[1])];
    let thin = THINNEST * frame.side * THINNEST * frame.side;
    let xx = sum(&|p| (p[0] - x) * (p[0] - x)) + thin;
    let yy = sum(&|p| (p[1] - y) * (p[1] - y)) + thin;
    let xy = sum(&|p| (p[0] - x) * (p[1] - y));
    // The lower triangle of the root of the covariance turns a circle into the ellipse.
    let a = xx.sqrt();
    let b = xy / a;
    let c = (yy - b * b).max(thin).sqrt();
    let sizes: Vec<f64> = points
        .iter()
        .map(|p| {
            let u = (p[0] - x) / a;
            let v = (p[1] - y - b * u) / c;
            u * u + v * v
        })
        .collect();
    let size = share_of(&sizes, HELD).unwrap_or(0.0).sqrt();
    let [cosine, sine] = TURN;
    let (mut u, mut v) = (size, 0.0);
    let mut outline: Vec<Point> = Vec::with_capacity(CORNERS);
    for _ in 0..CORNERS {
        outline.push([x + a * u, y + b * u + c * v]);
        (u, v) = (u * cosine - v * sine, u * sine + v * cosine);
    }
    let corners = frame.corners();
    for side in 0..3 {
        outline = cut(&outline, corners[side], corners[(side + 1) % 3]);
    }
    outline
}

/// The part of an outline on the inner side of an edge, whose ends follow one another as the
/// corners do: clay, sand, silt.
fn cut(outline: &[Point], from: Point, to: Point) -> Vec<Point> {
    let inside =
        |p: Point| (to[0] - from[0]) * (p[1] - from[1]) - (to[1] - from[1]) * (p[0] - from[0]);
    let mut kept = Vec::with_capacity(outline.len() + 2);
    for (index, point) in outline.iter().enumerate() {
        let next = outline[(index + 1) % outline.len()];
        let (here, there) = (inside(*point), inside(next));
        if here <= 0.0 {
            kept.push(*point);
        }
        if (here < 0.0) != (there < 0.0) && here != there {
            let part = here / (here - there);
            kept.push([
                point[0] + part * (next[0] - point[0]),
                point[1] + part * (next[1] - point[1]),
            ]);
        }
    }
    kept
}
