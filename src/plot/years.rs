//! A figure over the years: years to the right, shares up from none.

use super::Point;

/// Tops of the scale, %: the first that holds all is taken, so that it is rarely scaled anew.
const TOPS_PCT: [f64; 8] = [2.0, 4.0, 6.0, 10.0, 15.0, 30.0, 60.0, 100.0];
/// Lines across, of a scale.
const LINES: usize = 4;

/// Where years and shares stand in a drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct YearsFrame {
    /// Left edge.
    pub left: f64,
    /// Top edge.
    pub top: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
    /// Years at the right edge.
    pub years: f64,
    /// Share at the top edge, %.
    pub most_pct: f64,
}

impl YearsFrame {
    /// Where a year is, held at the edges.
    pub fn x(&self, year: f64) -> f64 {
        self.left + year.max(0.0).min(self.years) / self.years * self.width
    }

    /// Where a share is, held at the edges.
    pub fn y(&self, pct: f64) -> f64 {
        let share = pct.max(0.0).min(self.most_pct) / self.most_pct;
        self.top + (1.0 - share) * self.height
    }

    /// Points of a line of years and shares.
    pub fn line(&self, values: &[[f64; 2]]) -> Vec<Point> {
        let point = |[year, pct]: &[f64; 2]| [self.x(*year), self.y(*pct)];
        values.iter().map(point).collect()
    }

    /// The outline of what lies between two lines.
    pub fn band(&self, low: &[[f64; 2]], high: &[[f64; 2]]) -> Vec<Point> {
        let mut outline = self.line(high);
        outline.extend(self.line(low).into_iter().rev());
        outline
    }

    /// Shares that are marked, %.
    pub fn marks_pct(&self) -> [f64; LINES] {
        std::array::from_fn(|at| self.most_pct * (at + 1) as f64 / LINES as f64)
    }
}

/// The top of the scale that holds shares, %.
pub fn years_top_pct(shares_pct: impl IntoIterator<Item = f64>) -> f64 {
    let most = shares_pct.into_iter().fold(0.0, f64::max);
    let [.., last] = TOPS_PCT;
    TOPS_PCT
        .into_iter()
        .find(|top| most <= *top)
        .unwrap_or(last)
}
