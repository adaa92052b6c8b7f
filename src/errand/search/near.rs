//! Purchases looked at by their full outcome: few of one or two materials, downhill from the best of
//! them, cheaper ones near the cheapest, and all of a few materials.

use super::{
    FEWER_FOR, MOST_CHOICES, MOST_SUMMED, MOST_TRIED, NO_MONEY, PAIRED, PER_STEP, SUMS_PER_BLEND,
    Search, TRIED_OF, Task,
};
use crate::errand::judge::Judge;
use crate::errand::moves::{Choices, Odometer, changed, choices, exchanged};

/// A pass downhill: the changes that are left to look at, and the best of them so far.
#[derive(Clone, Debug)]
pub(super) struct Descent {
    distance: f64,
    pass: u32,
    near: Vec<Vec<u32>>,
    better: Option<(f64, Vec<u32>)>,
}

impl Descent {
    pub(super) fn of(lots: Vec<u32>, distance: f64, pass: u32, most: &[u32]) -> Descent {
        let each = most.iter().enumerate();
        let mut near: Vec<Vec<u32>> = each
            .flat_map(|(at, most)| changed(&lots, at, *most))
            .collect();
        // The first offer first.
        near.reverse();
        Descent {
            distance,
            pass,
            near,
            better: None,
        }
    }
}

/// What lies near the cheapest and costs less, one offer at a time.
#[derive(Clone, Debug)]
pub(super) struct Trim {
    lots: Vec<u32>,
    at: usize,
    near: Vec<Vec<u32>>,
    /// What the cheapest cost before this offer.
    before: f64,
}

impl Trim {
    pub(super) fn of(judge: &Judge, lots: Vec<u32>, most: &[u32]) -> Trim {
        let before = judge.cost(&lots);
        let mut trim = Trim {
            lots,
            at: 0,
            near: Vec::new(),
            before,
        };
        trim.look(judge, most);
        trim
    }

    fn look(&mut self, judge: &Judge, most: &[u32]) {
        if self.lots[self.at] > 0 {
            self.near = exchanged(judge, &self.lots, self.at, most);
            self.near.reverse();
        }
    }
}

impl Search {
    /// From so many lots of one offer on.
    pub(super) fn single(&mut self, at: usize, from: u32) {
        let mut lots = vec![0; self.most.len()];
        let mut count = from;
        let until = self.judge.judged + PER_STEP;
        while count <= self.most[at] {
            if self.judge.judged >= until {
                self.tasks.push_front(Task::Single(at, count));
                return;
            }
            lots[at] = count;
            let distance = self.consider(&lots);
            self.singles[at] = self.singles[at].min(distance);
            if distance <= 0.0 {
                break;
            }
            count += count.div_ceil(3);
        }
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
                self.tasks.push_back(Task::Pair(*first, *second, 1));
            }
        }
    }

    /// From so many lots of the first on.
    pub(super) fn pair(&mut self, first: usize, second: usize, from: u32) {
        let mut lots = vec![0; self.most.len()];
        let more = |count: u32| count + count.div_ceil(2);
        let until = self.judge.judged + PER_STEP;
        let mut a = from;
        while a <= self.most[first] {
            if self.judge.judged >= until {
                self.tasks.push_front(Task::Pair(first, second, a));
                return;
            }
            let mut b = 1;
            while b <= self.most[second] {
                (lots[first], lots[second]) = (a, b);
                let cost = self.judge.cost(&lots);
                if self.best.as_ref().is_some_and(|best| cost >= best.cost) {
                    break;
                }
                if self.rows.allow(&lots, self.to_fill) && self.consider(&lots) <= 0.0 {
                    break;
                }
                b = more(b);
            }
            a = more(a);
        }
    }

    /// One pass over all changes of one offer.
    pub(super) fn downhill(&mut self, mut descent: Descent) {
        let until = self.judge.judged + PER_STEP;
        while let Some(near) = descent.near.pop() {
            let found = self.consider(&near);
            let known = descent.better.as_ref();
            if known.is_none_or(|(known, _)| found < *known) {
                descent.better = Some((found, near));
            }
            if self.judge.judged >= until && !descent.near.is_empty() {
                self.tasks.push_front(Task::Downhill(descent));
                return;
            }
        }
        let passes = if self.quick { 4 } else { 12 };
        if let Some((found, near)) = descent.better
            && found < descent.distance
            && found > 0.0
            && descent.pass < passes
        {
            let descent = Descent::of(near, found, descent.pass + 1, &self.most);
            self.tasks.push_front(Task::Downhill(descent));
        }
    }

    /// Cheaper purchases near the cheapest, one offer at a time.
    pub(super) fn trim(&mut self, mut trim: Trim) {
        let cheapest = |search: &Search| {
            let best = search.best.as_ref();
            best.map_or(f64::INFINITY, |best| best.cost)
        };
        let until = self.judge.judged + PER_STEP;
        while let Some(near) = trim.near.pop() {
            let cost = self.judge.cost(&near);
            if cost < cheapest(self) && self.rows.allow(&near, self.to_fill) {
                self.consider(&near);
            }
            if self.judge.judged >= until && !trim.near.is_empty() {
                self.tasks.push_front(Task::Trim(trim));
                return;
            }
        }
        match &self.best {
            Some(best) if best.cost < trim.before => {
                let trim = Trim::of(&self.judge, best.lots.clone(), &self.most);
                self.tasks.push_front(Task::Trim(trim));
            }
            _ if trim.at + 1 < trim.lots.len() => {
                trim.at += 1;
                trim.look(&self.judge, &self.most);
                self.tasks.push_front(Task::Trim(trim));
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
                let before = self.judge.judged;
                if self.consider(&lots) <= 0.0 {
                    odometer.skip(&self.judge, &self.most, limit);
                }
                self.tried += self.judge.judged - before;
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
