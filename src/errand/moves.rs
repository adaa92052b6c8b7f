//! Purchases near a purchase, and all purchases of a few materials in the order of an odometer.

use super::judge::Judge;

/// Steps by which a count is changed at once.
const STEPS: [u32; 7] = [1, 2, 4, 8, 16, 32, 64];

/// Every purchase that has so many more or fewer of one offer.
pub(super) fn changed(lots: &[u32], at: usize, most: u32) -> Vec<Vec<u32>> {
    let mut near = Vec::with_capacity(2 * STEPS.len());
    for step in STEPS {
        let now = lots[at];
        for count in [now.checked_add(step), now.checked_sub(step)] {
            if let Some(count) = count.filter(|count| *count <= most) {
                let mut lots = lots.to_vec();
                lots[at] = count;
                near.push(lots);
            }
        }
    }
    near
}

/// Cheaper purchases: fewer of one offer, perhaps with some of another in its place.
pub(super) fn exchanged(judge: &Judge, lots: &[u32], at: usize, most: &[u32]) -> Vec<Vec<u32>> {
    let mut near = Vec::new();
    let price = judge.price_of(at);
    for less in [1, 2, 3, 5, 8] {
        let Some(left) = lots[at].checked_sub(less) else {
            break;
        };
        let mut without = lots.to_vec();
        without[at] = left;
        near.push(without.clone());
        for other in 0..judge.sold.len() {
            if other == at {
                continue;
            }
            let freed = price * f64::from(less);
            let each = judge.price_of(other);
            let affordable = if each > 0.0 {
                (freed / each).min(f64::from(u16::MAX)) as u32
            } else {
                u32::from(u16::MAX)
            };
            let room = most[other].saturating_sub(lots[other]);
            let top = affordable.min(room);
            for more in [1, 2, 3, top / 2, top] {
                if more > 0 && more <= top {
                    let mut instead = without.clone();
                    instead[other] += more;
                    near.push(instead);
                }
            }
        }
    }
    near.sort_unstable();
    near.dedup();
    near
}

/// How many choices there are of so many things.
pub(super) fn choices(things: usize, of: usize) -> u64 {
    (0..of as u64).fold(1, |all, at| {
        all * (things as u64).saturating_sub(at) / (at + 1)
    })
}

/// Each choice of so many things, the first ones first.
#[derive(Clone, Debug)]
pub(super) struct Choices {
    things: usize,
    next: Option<Vec<usize>>,
}

impl Choices {
    pub(super) fn of(things: usize, of: usize) -> Choices {
        let next = (of <= things).then(|| (0..of).collect());
        Choices { things, next }
    }
}

impl Iterator for Choices {
    type Item = Vec<usize>;

    fn next(&mut self) -> Option<Vec<usize>> {
        let now = self.next.take()?;
        let of = now.len();
        let moves = |at: &usize| now[*at] < self.things - of + at;
        if let Some(at) = (0..of).rev().find(moves) {
            let mut next = now.clone();
            let from = next[at] + 1;
            for (offset, place) in next[at..].iter_mut().enumerate() {
                *place = from + offset;
            }
            self.next = Some(next);
        }
        Some(now)
    }
}

/// All purchases of exactly these offers that cost less than a limit.
#[derive(Clone, Debug)]
pub(super) struct Odometer {
    of: Vec<usize>,
    counts: Vec<u32>,
    over: bool,
}

impl Odometer {
    /// From one lot of each.
    pub(super) fn of(offers: &[usize], most: &[u32]) -> Odometer {
        Odometer {
            of: offers.to_vec(),
            counts: vec![1; offers.len()],
            over: offers.is_empty() || offers.iter().any(|at| most[*at] == 0),
        }
    }

    /// Puts the next purchase into `lots`, which is empty but for these offers; false at the end.
    pub(super) fn next(
        &mut self,
        judge: &Judge,
        most: &[u32],
        limit: f64,
        lots: &mut [u32],
    ) -> bool {
        while !self.over {
            for (at, count) in self.of.iter().zip(&self.counts) {
                lots[*at] = *count;
            }
            let last = self.of.len() - 1;
            let fits = |counts: &[u32], at: usize| counts[at] <= most[self.of[at]];
            if fits(&self.counts, last) && self.cost(judge) < limit {
                self.counts[last] += 1;
                return true;
            }
            self.carry(judge, most, limit);
        }
        false
    }

    /// What costs more of the last offer only costs more: goes on with the one before it.
    pub(super) fn skip(&mut self, judge: &Judge, most: &[u32], limit: f64) {
        self.carry(judge, most, limit);
    }

    fn carry(&mut self, judge: &Judge, most: &[u32], limit: f64) {
        let mut at = self.of.len() - 1;
        loop {
            self.counts[at] = 1;
            if at == 0 {
                self.over = true;
                return;
            }
            at -= 1;
            self.counts[at] += 1;
            if self.counts[at] <= most[self.of[at]] && self.cost(judge) < limit {
                return;
            }
        }
    }

    fn cost(&self, judge: &Judge) -> f64 {
        let each = self.of.iter().zip(&self.counts);
        each.map(|(at, count)| judge.cost_of(*at, *count)).sum()
    }

    /// Clears what it put into `lots`.
    pub(super) fn clear(&self, lots: &mut [u32]) {
        for at in &self.of {
            lots[*at] = 0;
        }
    }
}
