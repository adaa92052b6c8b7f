//! A pot in section: its walls, layers of water, and air as dots that cover their share of it.

use super::Point;
use crate::figure::within;

/// Distance of the places where a dot may stand, and a dot's radius.
const DOT_STEP: f64 = 6.5;
/// Radius of a dot.
pub const DOT_RADIUS: f64 = 2.5;
/// Height of a row of places over their distance: rows are set half a place apart.
const ROW_OVER_STEP: f64 = 0.866_025_403_784_438_6;
/// Share of the area that all dots together cover.
const COVERED: f64 =
    core::f64::consts::PI * DOT_RADIUS * DOT_RADIUS / (DOT_STEP * DOT_STEP * ROW_OVER_STEP);
/// Steps of a sequence in two dimensions that spreads most evenly: 1/g and 1/g^2, g^3 = g + 1.
const SPREAD: [f64; 2] = [0.754_877_666_246_692_7, 0.569_840_290_998_053_2];
/// A pot whose widths are not told is drawn so wide, over its height.
const UNTOLD_WIDTH: f64 = 0.85;
/// A pot wider than this over its height is drawn no wider: it is then a slice of it.
const WIDEST: f64 = 1.5;
/// And one narrower than this no narrower.
const NARROWEST: f64 = 0.3;

/// Where a pot stands in a drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PotFrame {
    /// Middle of the pot, x.
    pub middle: f64,
    /// Bottom of the mix, y.
    pub bottom: f64,
    /// Lengths in the drawing for a cm.
    pub scale: f64,
    /// Height of the mix, cm.
    pub height_cm: f64,
    /// Half of the widths at its bottom and top, in the drawing.
    pub halves: [f64; 2],
}

impl PotFrame {
    /// The largest that fits a box, given by its top left corner, width and height. Widths at the
    /// bottom and the top, cm, where they are told.
    pub fn fit(
        height_cm: f64,
        widths_cm: Option<[f64; 2]>,
        [left, top]: Point,
        [width, height]: [f64; 2],
    ) -> PotFrame {
        let height_cm = height_cm.max(0.01);
        let told = widths_cm.map(|widths| widths.map(|width| width.max(0.0) / height_cm));
        let [bottom, rim] = told.unwrap_or([UNTOLD_WIDTH; 2]);
        let widest = bottom.max(rim);
        // As a share of the height: held, so that a flat dish or a pipe still shows its layers.
        let held = within(widest, NARROWEST, WIDEST);
        let tall = height.min(width / held);
        let half = |share: f64| {
            let share = if widest > 0.0 { share / widest } else { 1.0 };
            0.5 * share * held * tall
        };
        PotFrame {
            middle: left + 0.5 * width,
            bottom: top + height,
            scale: tall / height_cm,
            height_cm,
            halves: [half(bottom), half(rim)],
        }
    }

    /// Where a height above the bottom is.
    pub fn y(&self, cm: f64) -> f64 {
        self.bottom - cm * self.scale
    }

    /// Half of the width there.
    pub fn half(&self, cm: f64) -> f64 {
        let [bottom, top] = self.halves;
        bottom + (top - bottom) * cm / self.height_cm
    }

    /// The corners of what lies between two heights, clockwise from the lower left.
    pub fn layer(&self, from_cm: f64, to_cm: f64) -> [Point; 4] {
        let (low, high) = (self.half(from_cm), self.half(to_cm));
        [
            [self.middle - low, self.y(from_cm)],
            [self.middle - high, self.y(to_cm)],
            [self.middle + high, self.y(to_cm)],
            [self.middle + low, self.y(from_cm)],
        ]
    }

    /// Dots for the air: at each height they cover as much as there is air, up to about half. A dot
    /// stays where it is while the air about it lasts.
    pub fn dots(&self, air_at: impl Fn(f64) -> f64) -> Vec<Point> {
        let mut dots = Vec::new();
        let row = DOT_STEP * ROW_OVER_STEP;
        let top = self.y(self.height_cm);
        let mut line: u32 = 0;
        let mut y = self.bottom - 0.5 * row;
        while y > top + DOT_RADIUS {
            let cm = (self.bottom - y) / self.scale;
            let air = air_at(cm) / COVERED;
            let reach = self.half(cm) - DOT_RADIUS - 1.0;
            let shift = if line.is_multiple_of(2) { 0.0 } else { 0.5 };
            let count = (reach / DOT_STEP).max(0.0) as i32 + 1;
            for place in -count..=count {
                let x = (f64::from(place) + shift) * DOT_STEP;
                let even = 0.5 + f64::from(place + 512) * SPREAD[0] + f64::from(line) * SPREAD[1];
                if x.abs() <= reach && even - even.floor() < air {
                    dots.push([self.middle + x, y]);
                }
            }
            y -= row;
            line += 1;
        }
        dots
    }
}

/// Heights for a ruler beside it, from the bottom up, at most about eight steps of 1, 2 or 5.
pub fn ruler(height: f64) -> Vec<f64> {
    let mut step: f64 = 1.0;
    for factor in [2.0, 2.5, 2.0].into_iter().cycle() {
        // A pot is never so high that this would not end.
        if height / step <= 7.0 || step > 1e6 {
            break;
        }
        step *= factor;
    }
    let mut marks = Vec::new();
    let mut at = 0.0;
    while at <= height * (1.0 + 1e-9) && marks.len() < 9 {
        marks.push(at);
        at += step;
    }
    marks
}
