//! Purchases looked at by their full outcome: few of one or two materials, downhill from the best of
//! them, cheaper ones near the cheapest, and all of a few materials.

use super::{
    FEWER_FOR, MOST_CHOICES, MOST_SUMMED, MOST_TRIED, NO_MONEY, PAIRED, PER_STEP, SUMS_PER_BLEND,
    Search, TRIED_OF, Task,
};
use crate::errand::moves::{Choices, Odometer, changed, choices, exchanged};

impl Search {
    pub(super) fn single(&mut self, at: usize) {
        let mut lots = vec![0; self.most.len()];
        let mut count = 1_u32;
        let mut nearest = f64::INFINITY;
        while count <= self.most[at] {
            lots[at] = count;
            let distance = self.consider(&lots);
            nearest = nearest.min(distance);
            if distance <= 0.0 {
                break;
            }
            count += count.div_ceil(3);
        }
        self.singles[at] = nearest;
    }

    /// Offers, the most promising first.
    pub(super) fn ranked(&self) -> Vec<usize> {
        let mut ranked: Vec<usize> = (0..self.most.len())
            .filter(|at| self.most[*at] > 0)
            .collect();
        ranked.sort_by(|a, b| self.singles[*a].total_cmp(&self.singles[*b]));
        ranked
    }

    pub(super) fn plan_pairs(&mut self) {
        if self.is_done() {
            return;
        }
        let mut ranked = self.ranked();
        ranked.truncate(if self.quick { PAIRED / 2 } else { PAIRED });
        for (index, first) in ranked.iter().enumerate() {
            for second in &ranked[index + 1..] {
                self.tasks.push_back(Task::Pair(*first, *second));
            }
        }
    }

    pub(super) fn pair(&mut self, first: usize, second: usize) {
        let mut lots = vec![0; self.most.len()];
        let counts = |most: u32| {
            let mut count = 1_u32;
            std::iter::from_fn(move || {
                let now = count;
                count += count.div_ceil(2);
                (now <= most).then_some(now)
            })
        };
        for a in counts(self.most[first]) {
            for b in counts(self.most[second]) {
                (lots[first], lots[second]) = (a, b);
                let cost = self.judge.cost(&lots);
                if self.best.as_ref().is_some_and(|best| cost >= best.cost) {
                    break;
                }
                if self.rows.allow(&lots, self.to_fill) && self.consider(&lots) <= 0.0 {
                    break;
                }
            }
        }
    }

    /// One pass over all changes of one offer.
    pub(super) fn downhill(&mut self, mut lots: Vec<u32>, mut distance: f64, pass: u32) {
        let mut better: Option<(f64, Vec<u32>)> = None;
        for at in 0..self.most.len() {
            for near in changed(&lots, at, self.most[at]) {
                let found = self.consider(&near);
                if better.as_ref().is_none_or(|(known, _)| found < *known) {
                    better = Some((found, near));
                }
            }
        }
        let passes = if self.quick { 4 } else { 12 };
        if let Some((found, near)) = better
            && found < distance
        {
            (lots, distance) = (near, found);
            if distance > 0.0 && pass < passes {
                self.tasks
                    .push_front(Task::Downhill(lots, distance, pass + 1));
            }
        }
    }

    /// Cheaper purchases near the cheapest, one offer at a time.
    pub(super) fn trim(&mut self, lots: &[u32], at: usize) {
        let before = self.best.as_ref().map_or(f64::INFINITY, |best| best.cost);
        if lots[at] > 0 {
            for near in exchanged(&self.judge, lots, at, &self.most) {
                let cost = self.judge.cost(&near);
                let best = self.best.as_ref().map_or(f64::INFINITY, |best| best.cost);
                if cost < best && self.rows.allow(&near, self.to_fill) {
                    self.consider(&near);
                }
            }
        }
        match &self.best {
            Some(best) if best.cost < before => {
                let task = Task::Trim(best.lots.clone(), 0);
                self.tasks.push_front(task);
            }
            _ if at + 1 < lots.len() => {
                self.tasks.push_front(Task::Trim(lots.to_vec(), at + 1));
            }
            _ => {}
        }
    }

    /// Plans all purchases of one, two and three offers, and of more where there are few choices.
    pub(super) fn plan_tried(&mut self) {
        let ranked = self.ranked();
        // Where the cheapest is proven, only fewer materials are left to look for.
        let count = self
            .best
            .as_ref()
            .map_or(0, |best| self.materials(&best.lots));
        let is_proven = self.is_done() || (self.linear && !self.unsure);
        let largest = if is_proven {
            count.saturating_sub(1).min(TRIED_OF)
        } else {
            TRIED_OF
        };
        let mut chosen = 0;
        for of in 1..=ranked.len() {
            // More of few offers, where choices are not too many.
            chosen += choices(ranked.len(), of);
            if of > largest && (is_proven || chosen > MOST_CHOICES) {
                break;
            }
            for choice in Choices::of(ranked.len(), of) {
                let offers: Vec<usize> = choice.iter().map(|at| ranked[*at]).collect();
                let task = Task::Tried(Odometer::of(&offers, &self.most), of);
                self.tasks.push_back(task);
            }
        }
    }

    pub(super) fn try_all(&mut self, mut odometer: Odometer, of: usize) {
        if self.cut_short {
            return;
        }
        let mut lots = vec![0; self.most.len()];
        let until = self.judge.judged + PER_STEP;
        let mut sums = 0;
        loop {
            let limit = self.limit(of);
            if !odometer.next(&self.judge, &self.most, limit, &mut lots) {
                // The last of its size, unless something was left out.
                let more = |task: &Task| matches!(task, Task::Tried(_, other) if *other == of);
                if !self.tasks.iter().any(more) {
                    self.all_of = of;
                }
                return;
            }
            self.summed += 1;
            sums += 1;
            if self.rows.allow(&lots, self.to_fill) {
                self.tried += 1;
                if self.consider(&lots) <= 0.0 {
                    odometer.skip(&self.judge, &self.most, limit);
                }
            }
            if self.tried > MOST_TRIED || self.summed > MOST_SUMMED {
                self.cut_short = true;
                return;
            }
            if self.judge.judged >= until || sums >= PER_STEP * SUMS_PER_BLEND {
                odometer.clear(&mut lots);
                self.tasks.push_front(Task::Tried(odometer, of));
                return;
            }
        }
    }

    /// What a purchase of so many offers must cost less than.
    fn limit(&self, of: usize) -> f64 {
        let Some(best) = &self.best else {
            return f64::INFINITY;
        };
        let known = self.by_count[of]
            .as_ref()
            .map_or(f64::INFINITY, |of| of.cost);
        if of < self.materials(&best.lots) {
            (best.cost * FEWER_FOR + 2.0 * NO_MONEY).min(known)
        } else {
            best.cost.min(known)
        }
    }
}
