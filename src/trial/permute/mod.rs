//! Chance without a distribution: treatments change places as they could have stood, within their
//! blocks, and it is counted how often they differ as much as they do. All arrangements where they
//! are few, else shuffles of a seed. It runs in steps, so that a page need not stand still.

mod block;
mod floor;

pub use floor::{least_of_blocks, least_of_sign_flips, least_of_two, sign_flips};

use super::fit::Point;
use super::power::{Design, MOST_TREATMENTS};
use super::ranks::complete_blocks;
use crate::draws::SplitMix64;
use block::{Block, Moves, arrangements_of, blocks_of};

/// Arrangements at the most of which every one is looked at.
pub const EXACT: u64 = 2_000_000;
/// Shuffles where there are more.
pub const SHUFFLES: u32 = 20_000;
/// Ties must count: as large is as large but for so much of it, by rounding.
const AS_LARGE: f64 = 1e-9;
/// And but for so much of what the readings come to.
const ROUNDING: f64 = 1e-12;

/// What is asked of the arrangements.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Question {
    /// Whether the treatments differ at all: by squares of their totals.
    Overall,
    /// Which of them differ from the control: by the largest difference of any, so that all
    /// comparisons together are held to the chance.
    AgainstControl,
}

/// Arrangements that are being gone through.
#[derive(Clone, Debug)]
pub struct Permutation {
    question: Question,
    blocks: Vec<Block>,
    /// Containers of each treatment.
    counts: Vec<f64>,
    control: usize,
    /// What counts as large: overall, or by treatment.
    limits: Vec<f64>,
    hits: Vec<u64>,
    /// How many will be looked at, and how many were.
    all: u64,
    seen: u64,
    chance: Option<SplitMix64>,
    /// Totals of treatments up to each block.
    totals: Vec<Vec<f64>>,
}

impl Permutation {
    /// None where containers stand in a square, a reading is no number, fewer than two treatments
    /// have readings, or what is compared has none.
    pub fn of(
        design: Design,
        points: &[Point],
        control: usize,
        question: Question,
        seed: u64,
    ) -> Option<Permutation> {
        Permutation::with(design, points, control, question, seed, SHUFFLES)
    }

    /// The same with another number of shuffles, where there are too many arrangements.
    pub fn with(
        design: Design,
        points: &[Point],
        control: usize,
        question: Question,
        seed: u64,
        shuffles: u32,
    ) -> Option<Permutation> {
        if design == Design::Latin || points.iter().any(|point| !point.value.is_finite()) {
            return None;
        }
        let last = points.iter().map(|point| point.treatment).max()?;
        if last >= MOST_TREATMENTS {
            return None;
        }
        let treatments = last + 1;
        let mut counts = vec![0.0; treatments];
        for point in points {
            *counts.get_mut(point.treatment)? += 1.0;
        }
        let there = counts.iter().filter(|count| **count > 0.0).count();
        let has_control = counts.get(control).is_some_and(|count| *count > 0.0);
        if there < 2 || (question == Question::AgainstControl && !has_control) {
            return None;
        }
        let in_blocks = design == Design::Blocks;
        let mut blocks = blocks_of(points, in_blocks);
        let whole = in_blocks && complete_blocks(points).is_some();
        if let Some(first) = blocks.first_mut()
            && whole
        {
            first.moves = match question {
                Question::Overall => Moves::Fixed,
                Question::AgainstControl => Moves::Control,
            };
        }
        let mut permutation = Permutation {
            question,
            totals: vec![vec![0.0; treatments]; blocks.len()],
            blocks,
            counts,
            control,
            limits: Vec::new(),
            hits: Vec::new(),
            all: 0,
            seen: 0,
            chance: None,
        };
        permutation.add_up(0);
        permutation.set_limits();
        match permutation.arrangements() {
            Some(all) if all <= EXACT => {
                permutation.all = all;
                for block in &mut permutation.blocks {
                    block.start(control);
                }
                permutation.add_up(0);
            }
            _ => {
                permutation.all = u64::from(shuffles);
                permutation.chance = Some(SplitMix64::new(seed));
            }
        }
        Some(permutation)
    }

    /// Whether every arrangement is looked at.
    pub fn is_exact(&self) -> bool {
        self.chance.is_none()
    }

    /// How many arrangements are looked at in all.
    pub fn len(&self) -> u64 {
        self.all
    }

    /// Never: one is always looked at.
    pub fn is_empty(&self) -> bool {
        self.all == 0
    }

    /// How many were.
    pub fn seen(&self) -> u64 {
        self.seen
    }

    /// Whether all were.
    pub fn is_done(&self) -> bool {
        self.seen >= self.all
    }

    /// Looks at so many more, and says whether all were.
    pub fn step(&mut self, most: u64) -> bool {
        for _ in 0..most.min(self.all - self.seen) {
            match &mut self.chance {
                Some(chance) => {
                    for block in &mut self.blocks {
                        block.shuffle(chance);
                    }
                    self.add_up(0);
                }
                // The first stands already.
                None if self.seen > 0 => self.advance(),
                None => {}
            }
            self.count();
            self.seen += 1;
        }
        self.is_done()
    }

    /// All at once.
    pub fn run(mut self) -> Permutation {
        self.step(self.all);
        self
    }

    /// The chance that treatments which do nothing differ as much; none before all were seen.
    pub fn overall(&self) -> Option<f64> {
        match self.question {
            Question::Overall => self.chance_of(0),
            Question::AgainstControl => None,
        }
    }

    /// The chance that any treatment would differ from the control as much as this one does.
    pub fn against_control(&self, treatment: usize) -> Option<f64> {
        let is_there = self.counts.get(treatment).is_some_and(|count| *count > 0.0);
        if self.question == Question::Overall || !is_there || treatment == self.control {
            return None;
        }
        self.chance_of(treatment)
    }

    fn chance_of(&self, at: usize) -> Option<f64> {
        if !self.is_done() {
            return None;
        }
        let hits = *self.hits.get(at)? as f64;
        let all = self.all as f64;
        // What stands is one of the shuffles that could have been.
        Some(match self.chance {
            Some(_) => (1.0 + hits) / (1.0 + all),
            None => hits / all,
        })
    }

    /// All that come to something else; none if they are too many to count.
    fn arrangements(&self) -> Option<u64> {
        let mut product = 1_u64;
        for block in &self.blocks {
            let own = match block.moves {
                Moves::Fixed => 1,
                Moves::Control => block.labels.len() as u64,
                Moves::All => arrangements_of(&block.labels)?,
            };
            product = product.checked_mul(own)?;
        }
        Some(product)
    }

    /// Totals from one block on.
    fn add_up(&mut self, from: usize) {
        for at in from..self.blocks.len() {
            let (before, here) = self.totals.split_at_mut(at);
            let here = &mut here[0];
            match before.last() {
                Some(before) => here.copy_from_slice(before),
                None => here.fill(0.0),
            }
            let block = &self.blocks[at];
            for (value, label) in block.values.iter().zip(&block.labels) {
                here[*label] += value;
            }
        }
    }

    /// The next arrangement: the last block first, as the last wheel of a counter.
    fn advance(&mut self) {
        let mut at = self.blocks.len();
        while at > 0 {
            at -= 1;
            if self.blocks[at].advance(self.control) {
                break;
            }
        }
        self.add_up(at);
    }

    fn overall_size(&self) -> f64 {
        let totals = self.totals.last().map_or(&[][..], Vec::as_slice);
        let both = totals.iter().zip(&self.counts);
        both.map(|(total, count)| {
            if *count > 0.0 {
                total * total / count
            } else {
                0.0
            }
        })
        .sum()
    }

    /// How far a treatment's mean lies from the control's.
    fn apart(&self, treatment: usize) -> f64 {
        let mean = |at: usize| match self.totals.last() {
            Some(totals) => totals[at] / self.counts[at],
            None => 0.0,
        };
        (mean(treatment) - mean(self.control)).abs()
    }

    /// The others that have readings.
    fn compared(&self) -> impl Iterator<Item = usize> {
        let control = self.control;
        let counts = self.counts.iter().enumerate();
        counts
            .filter(move |(at, count)| *at != control && **count > 0.0)
            .map(|(at, _)| at)
    }

    fn set_limits(&mut self) {
        let values = || self.blocks.iter().flat_map(|block| &block.values);
        self.limits = match self.question {
            Question::Overall => {
                let squares: f64 = values().map(|value| value * value).sum();
                vec![self.overall_size() * (1.0 - AS_LARGE) - ROUNDING * squares]
            }
            Question::AgainstControl => {
                let greatest = values().fold(0.0_f64, |most, value| most.max(value.abs()));
                let mut limits = vec![f64::INFINITY; self.counts.len()];
                for at in self.compared() {
                    limits[at] = self.apart(at) * (1.0 - AS_LARGE) - ROUNDING * greatest;
                }
                limits
            }
        };
        self.hits = vec![0; self.limits.len()];
    }

    fn count(&mut self) {
        let size = match self.question {
            Question::Overall => self.overall_size(),
            Question::AgainstControl => {
                self.compared().map(|at| self.apart(at)).fold(0.0, f64::max)
            }
        };
        for (hits, limit) in self.hits.iter_mut().zip(&self.limits) {
            *hits += u64::from(size >= *limit);
        }
    }
}
