//! The containers of one block, and the ways in which their treatments can stand.

use super::super::fit::Point;
use crate::draws::SplitMix64;

/// Which arrangements of a block are looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Moves {
    /// All.
    All,
    /// One for each place of the control: the others' order comes to the same.
    Control,
    /// None: any other comes to the same.
    Fixed,
}

#[derive(Clone, Debug)]
pub(super) struct Block {
    /// Less their mean.
    pub(super) values: Vec<f64>,
    /// Which treatment each has now.
    pub(super) labels: Vec<usize>,
    pub(super) moves: Moves,
}

impl Block {
    /// The first arrangement.
    pub(super) fn start(&mut self, control: usize) {
        match self.moves {
            Moves::All => self.labels.sort_unstable(),
            Moves::Control => {
                self.labels.sort_unstable();
                self.labels.sort_by_key(|label| *label != control);
            }
            Moves::Fixed => {}
        }
    }

    /// The next one; false where it is the first again.
    pub(super) fn advance(&mut self, control: usize) -> bool {
        match self.moves {
            Moves::Fixed => false,
            Moves::Control => {
                let last = self.labels.len() - 1;
                let at = self.labels.iter().position(|label| *label == control);
                match at {
                    Some(at) if at < last => {
                        self.labels.swap(at, at + 1);
                        true
                    }
                    _ => {
                        self.labels.rotate_right(1);
                        false
                    }
                }
            }
            Moves::All => next_order(&mut self.labels),
        }
    }

    /// Fisher and Yates, from the end.
    pub(super) fn shuffle(&mut self, chance: &mut SplitMix64) {
        for last in (1..self.labels.len()).rev() {
            let at = chance.below(last as u64 + 1) as usize;
            self.labels.swap(last, at);
        }
    }
}

/// The blocks of containers; all of them are one where they stand at random.
pub(super) fn blocks_of(points: &[Point], in_blocks: bool) -> Vec<Block> {
    let mut sorted = points.to_vec();
    if in_blocks {
        sorted.sort_by_key(|point| point.block);
    }
    let blocks = sorted.chunk_by(|a, b| !in_blocks || a.block == b.block);
    let block = |of: &[Point]| {
        let mean = of.iter().map(|point| point.value).sum::<f64>() / of.len() as f64;
        Block {
            values: of.iter().map(|point| point.value - mean).collect(),
            labels: of.iter().map(|point| point.treatment).collect(),
            moves: Moves::All,
        }
    };
    blocks.map(block).collect()
}

/// The next order of labels, equal ones not told apart; at the last, the first again, and false.
fn next_order(labels: &mut [usize]) -> bool {
    let Some(at) = (1..labels.len())
        .rev()
        .find(|at| labels[at - 1] < labels[*at])
    else {
        labels.reverse();
        return false;
    };
    let pivot = labels[at - 1];
    if let Some(other) = (at..labels.len())
        .rev()
        .find(|other| labels[*other] > pivot)
    {
        labels.swap(at - 1, other);
    }
    labels[at..].reverse();
    true
}

/// Orders of labels, equal ones not told apart; none if beyond counting.
pub(super) fn arrangements_of(labels: &[usize]) -> Option<u64> {
    let mut sorted = labels.to_vec();
    sorted.sort_unstable();
    let (mut product, mut placed) = (1_u64, 0_u64);
    for equal in sorted.chunk_by(|a, b| a == b) {
        for number in 1..=equal.len() as u64 {
            placed += 1;
            product = product.checked_mul(placed)? / number;
        }
    }
    Some(product)
}
