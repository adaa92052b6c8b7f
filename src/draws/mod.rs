//! Draws by Latin hypercube: each input visits every stratum of its distribution once, in an order
//! that its own name decides. So the order of a recipe's lines changes nothing, and any program
//! can repeat it.

mod normal;
mod percentile;
mod sequence;
mod spread;

use std::rc::Rc;

pub use normal::{NINETIETH, NINETY_FIFTH, quantile};
pub use percentile::{effective, ends, share_of, weighted};
pub use sequence::{SplitMix64, fnv1a};
pub use spread::{Spread, TABULATED};

/// How many draws an outcome rests on, always and everywhere.
pub const DRAWS: u32 = 1024;
/// Inputs that are remembered at the most.
const REMEMBERED: usize = 1024;

/// The strata of so many draws, and the inputs already drawn: at a move of a slider nearly all of
/// them stay as they are.
#[derive(Clone, Debug)]
pub struct Strata {
    /// Standard normal quantile of each stratum's middle.
    scores: Vec<f64>,
    inputs: Vec<Input>,
    /// Columns that were drawn together last, and from what.
    together: Option<(Together, Vec<Column>)>,
}

/// What columns that are drawn together follow from.
type Together = [f64; 5];

/// What is remembered of an input.
#[derive(Clone, Debug)]
struct Input {
    seed: u64,
    /// Which stratum each draw takes.
    order: Vec<u32>,
    /// What was drawn last, and from what.
    drawn: Option<(Spread, Column)>,
}

/// One value for each draw.
pub type Column = Rc<[f64]>;

impl Strata {
    /// The strata of so many draws, an even number.
    pub fn of(draws: u32) -> Strata {
        let share = |stratum: u32| (f64::from(stratum) + 0.5) / f64::from(draws);
        Strata {
            scores: (0..draws).map(|stratum| quantile(share(stratum))).collect(),
            inputs: Vec::new(),
            together: None,
        }
    }

    /// Columns that are drawn together, remembered as long as what they follow from stays.
    pub fn together(
        &mut self,
        key: Together,
        draw: impl FnOnce(&mut Strata) -> Vec<Column>,
    ) -> Vec<Column> {
        if let Some((known, columns)) = &self.together
            && *known == key
        {
            return columns.clone();
        }
        let columns = draw(self);
        self.together = Some((key, columns.clone()));
        columns
    }

    /// How many draws.
    pub fn draws(&self) -> usize {
        self.scores.len()
    }

    /// The share below the middle of a stratum.
    pub fn share(&self, stratum: usize) -> f64 {
        (stratum as f64 + 0.5) / self.draws() as f64
    }

    /// The share of the standard normal distribution below a score, straight between the strata.
    pub fn share_below(&self, score: f64) -> f64 {
        let above = self.scores.partition_point(|known| *known < score);
        let last = self.draws() - 1;
        let high = above.max(1).min(last);
        let low = high - 1;
        let part = (score - self.scores[low]) / (self.scores[high] - self.scores[low]);
        let share = self.share(low) + part / self.draws() as f64;
        share
            .max(self.share(0) * 0.5)
            .min(1.0 - self.share(0) * 0.5)
    }

    /// Which stratum of an input each draw takes.
    pub fn strata_of(&mut self, id: &str) -> &[u32] {
        let input = self.input(id);
        &self.inputs[input].order
    }

    /// One value of a spread for each draw, in the order that the input's name gives.
    pub fn column(&mut self, id: &str, spread: Spread) -> Column {
        let at = self.input(id);
        if let Some((known, column)) = &self.inputs[at].drawn
            && *known == spread
        {
            return Rc::clone(column);
        }
        let mut by_stratum = Vec::with_capacity(self.draws());
        for (stratum, score) in self.scores.iter().enumerate() {
            by_stratum.push(spread.value(self.share(stratum), *score));
        }
        let mut column = Vec::with_capacity(self.draws());
        for stratum in &self.inputs[at].order {
            column.push(by_stratum[*stratum as usize]);
        }
        let column = Column::from(column);
        self.inputs[at].drawn = Some((spread, Rc::clone(&column)));
        column
    }

    /// The standard normal scores of an input, one for each draw.
    pub fn scores_of(&mut self, id: &str) -> Vec<f64> {
        let at = self.input(id);
        let order = self.inputs[at].order.iter();
        order
            .map(|stratum| self.scores[*stratum as usize])
            .collect()
    }

    /// The place of an input, its order shuffled if it is new.
    fn input(&mut self, id: &str) -> usize {
        let seed = fnv1a(id);
        if let Some(at) = self.inputs.iter().position(|known| known.seed == seed) {
            return at;
        }
        if self.inputs.len() >= REMEMBERED {
            self.inputs.clear();
        }
        let order = SplitMix64::new(seed).order(self.scores.len() as u32);
        self.inputs.push(Input {
            seed,
            order,
            drawn: None,
        });
        self.inputs.len() - 1
    }
}

impl Default for Strata {
    fn default() -> Strata {
        Strata::of(DRAWS)
    }
}
