//! What a soil holds, by the height above standing water: heights to the right by their logarithm,
//! water up from none.

use super::Point;
use crate::water::retention::Store;
use libm::{exp, log};

/// The heights drawn, cm: a fingertip, and a little more than what plants can draw from.
pub const CURVE_CM: (f64, f64) = (1.0, 16_000.0);
/// Points of a line.
const POINTS: usize = 64;
/// Tops of the scale, % of the volume: the first that holds all is taken, so that the drawing is
/// rarely scaled anew.
const TOPS_PCT: [f64; 3] = [60.0, 80.0, 100.0];

/// Where a curve stands in a drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CurveFrame {
    /// Left edge.
    pub left: f64,
    /// Top edge.
    pub top: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
    /// Water at the top edge, %.
    pub most_pct: f64,
}

impl CurveFrame {
    /// Where a height above standing water is, held at the edges.
    pub fn x(&self, cm: f64) -> f64 {
        let (least, most) = CURVE_CM;
        let share = log(cm.max(least).min(most) / least) / log(most / least);
        self.left + share * self.width
    }

    /// Where a share of the volume is, held at the edges.
    pub fn y(&self, pct: f64) -> f64 {
        let share = pct.max(0.0).min(self.most_pct) / self.most_pct;
        self.top + (1.0 - share) * self.height
    }

    /// The line of what is held, from the wet end to the dry one.
    pub fn line(&self, store: &Store) -> Vec<Point> {
        let (least, most) = CURVE_CM;
        let step = log(most / least) / (POINTS - 1) as f64;
        let point = |index: usize| {
            let cm = least * exp(step * index as f64);
            [self.x(cm), self.y(100.0 * store.theta_at(cm))]
        };
        (0..POINTS).map(point).collect()
    }
}

/// The top of the scale that holds shares of the volume, %.
pub fn curve_top_pct(shares_pct: &[f64]) -> f64 {
    let most = shares_pct.iter().fold(0.0, |most: f64, pct| most.max(*pct));
    let [.., last] = TOPS_PCT;
    TOPS_PCT
        .into_iter()
        .find(|top| most <= *top)
        .unwrap_or(last)
}
