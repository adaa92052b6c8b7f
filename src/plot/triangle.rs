//! The texture triangle: where its lines, numbers and points stand.

use super::Point;
use crate::texture::{HEIGHT, Spot, from_spot, spot};

/// Distance of the grid lines, %.
pub const GRID_STEP_PCT: f64 = 10.0;
/// Distance of the numbers along the edges, %.
const TICK_STEP_PCT: f64 = 20.0;

/// Where the triangle stands in a drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Left corner, x.
    pub left: f64,
    /// Top corner, y.
    pub top: f64,
    /// Length of a side.
    pub side: f64,
}

/// Where the triangle stands in its drawing of 460 by 372.
pub const TRIANGLE: Frame = Frame {
    left: 42.0,
    top: 24.0,
    side: 376.0,
};
/// The same in the strip of a phone, 120 by 112.
pub const SMALL_TRIANGLE: Frame = Frame {
    left: 4.0,
    top: 4.0,
    side: 112.0,
};

impl Frame {
    /// The point of a texture, fractions in percent.
    pub fn point(&self, fractions_pct: [f64; 3]) -> Point {
        let Spot { x, y } = spot(fractions_pct);
        [self.left + x * self.side, self.top + y * self.side]
    }

    /// The texture of a point.
    pub fn fractions_pct(&self, [x, y]: Point) -> [f64; 3] {
        from_spot(Spot {
            x: (x - self.left) / self.side,
            y: (y - self.top) / self.side,
        })
    }

    /// The three corners: clay, sand, silt.
    pub fn corners(&self) -> [Point; 3] {
        [[0.0, 0.0, 100.0], [100.0, 0.0, 0.0], [0.0, 100.0, 0.0]].map(|all| self.point(all))
    }

    /// Height of the triangle.
    pub fn height(&self) -> f64 {
        HEIGHT * self.side
    }
}

/// Ends of every grid line inside the triangle.
pub fn grid(frame: &Frame) -> Vec<[Point; 2]> {
    let mut lines = Vec::new();
    let mut share = GRID_STEP_PCT;
    while share < 100.0 {
        let rest = 100.0 - share;
        for ends in [
            [[rest, 0.0, share], [0.0, rest, share]],
            [[share, rest, 0.0], [share, 0.0, rest]],
            [[rest, share, 0.0], [0.0, share, rest]],
        ] {
            lines.push(ends.map(|end| frame.point(end)));
        }
        share += GRID_STEP_PCT;
    }
    lines
}

/// A number along an edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tick {
    /// Where it stands on the edge.
    pub at: Point,
    /// 0 sand along the bottom, 1 silt along the right, 2 clay along the left.
    pub axis: usize,
    /// The share, %.
    pub share_pct: f64,
}

impl Tick {
    /// Where its number stands beside the edge, and which end of the number that is, as SVG has it.
    pub fn label(&self) -> (Point, &'static str) {
        let [x, y] = self.at;
        match self.axis {
            0 => ([x, y + 16.0], "middle"),
            1 => ([x + 7.0, y + 4.0], "start"),
            _ => ([x - 7.0, y + 4.0], "end"),
        }
    }
}

/// Where the names of clay, sand and silt stand at their corners, and which end of the name that is.
pub fn axis_names(frame: &Frame) -> [(Point, &'static str); 3] {
    let [top, left, right] = frame.corners();
    [
        ([top[0], top[1] - 10.0], "middle"),
        ([left[0] - 40.0, left[1] + 18.0], "start"),
        ([right[0] + 40.0, right[1] + 18.0], "end"),
    ]
}

/// The numbers along the edges: clay up the left, silt down the right, sand leftwards below.
pub fn ticks(frame: &Frame) -> Vec<Tick> {
    let mut out = Vec::new();
    let mut share_pct = TICK_STEP_PCT;
    while share_pct < 100.0 {
        let rest = 100.0 - share_pct;
        for (axis, texture) in [
            [share_pct, rest, 0.0],
            [0.0, share_pct, rest],
            [rest, 0.0, share_pct],
        ]
        .into_iter()
        .enumerate()
        {
            let at = frame.point(texture);
            out.push(Tick {
                at,
                axis,
                share_pct,
            });
        }
        share_pct += TICK_STEP_PCT;
    }
    out
}
