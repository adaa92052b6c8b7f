//! Odds: which purchase is most often what was wished for, and the cheapest that is often enough.
//!
//! Typical values lead the way: deeper within all wishes, counted in the spread of each figure.
//! Draws decide.

use super::{
    Found, MOST_FOR_ODDS, MOST_SIEVED, MOST_SUMMED, NEAR_SURE, NO_MONEY, PASSES, PER_STEP, POOL,
    SIEVE_SLACK, Search, Task,
};
use crate::errand::moves::{Odometer, changed, exchanged};
use crate::errand::wish::{Spreads, Wished};

/// Budgets within which the odds are looked for, in turn, against the cheapest.
const DEARER: [f64; 8] = [1.2, 1.5, 2.0, 2.8, 4.0, 6.0, 10.0, 20.0];
/// Passes of a way inwards within one budget.
const DEEP_PASSES: u32 = 16;
/// Materials that a way inwards changes, beside those that it has.
const DEEP_POOL: usize = 10;

/// Odds above those that are asked for, by the sieve, that all draws are likely to confirm.
const ABOVE: f64 = 0.02;
/// Odds so far below are not worth a climb.
const FAR: f64 = 0.3;

/// Odds that are no better: a few points are not worth much money.
const AS_LIKELY: f64 = 0.03;
/// What the sieve may lose of them as a purchase is made cheaper: a draw.
const LOSES: f64 = 0.02;
/// Odds under which a purchase is no answer.
const LEAST_ODDS: f64 = 0.005;

/// A purchase that is made cheaper as long as it is as likely.
#[derive(Clone, Debug)]
pub(super) struct Lean {
    at: Vec<u32>,
    odds: f64,
    near: Vec<Vec<u32>>,
}

/// A way inwards.
#[derive(Clone, Debug)]
pub(super) struct Deep {
    at: Vec<u32>,
    pool: Vec<usize>,
    depth: f64,
    spreads: Spreads,
    material: usize,
    /// What is left to look at of that one.
    near: Vec<Vec<u32>>,
    better: Option<(Vec<u32>, f64)>,
    pass: u32,
    /// Budgets, the next one last.
    budgets: Vec<f64>,
    for_odds: bool,
}

/// A climb by odds.
#[derive(Clone, Debug)]
pub(super) struct Climb {
    at: Vec<u32>,
    odds: f64,
    material: usize,
    better: Option<(Vec<u32>, f64)>,
    pass: u32,
    /// Sieved odds that are enough.
    enough: f64,
    pool: Vec<usize>,
    budget: f64,
    /// The way that it is a part of, where certain odds are looked for.
    way: Option<Box<Deep>>,
}

impl Search {
    /// Whether the way to the odds has taken long enough.
    fn is_long(&mut self) -> bool {
        let from = *self.odds_from.get_or_insert(self.judge.judged);
        self.judge.judged - from > MOST_FOR_ODDS
    }

    /// The offers that a purchase has, and the most promising others.
    fn pool(&self, at: &[u32], most: usize) -> Vec<usize> {
        let mut pool: Vec<usize> = (0..at.len()).filter(|index| at[*index] > 0).collect();
        for index in self.ranked() {
            if pool.len() < most && !pool.contains(&index) {
                pool.push(index);
            }
        }
        pool
    }

    fn climb(&mut self, at: Vec<u32>, enough: f64, budget: f64) -> Climb {
        let odds = self.judge.odds(&at, &mut self.sieve).unwrap_or(0.0);
        let pool = self.pool(&at, POOL);
        Climb {
            at,
            odds,
            material: 0,
            better: None,
            pass: 0,
            enough,
            pool,
            budget,
            way: None,
        }
    }

    /// One offer's changes of a climb; true where a pass is over and it goes on.
    fn climbed(&mut self, climb: &mut Climb) -> bool {
        // Nothing at all where the money buys no lot of anything.
        let Some(&at) = climb.pool.get(climb.material) else {
            return false;
        };
        let mut near: Vec<Vec<u32>> = Vec::new();
        for step in [1_u32, 2, 4, 8] {
            let now = climb.at[at];
            for count in [now.checked_add(step), now.checked_sub(step)] {
                if let Some(count) = count.filter(|count| *count <= self.most[at]) {
                    let mut lots = climb.at.clone();
                    lots[at] = count;
                    near.push(lots);
                }
            }
        }
        // All of it half as much again, or twice as much.
        if climb.material == 0 && !self.to_fill {
            for by in [5, 6, 8] {
                let each = climb.at.iter().zip(&self.most);
                let more = each.map(|(count, most)| (count * by / 4).min(*most));
                near.push(more.collect());
            }
        }
        // One of it for one of another.
        for other in &climb.pool {
            if *other != at && climb.at[*other] > 0 && climb.at[at] < self.most[at] {
                let mut lots = climb.at.clone();
                lots[*other] -= 1;
                lots[at] += 1;
                near.push(lots);
            }
        }
        for lots in near {
            if self.judge.cost(&lots) > climb.budget + NO_MONEY {
                continue;
            }
            let Some(odds) = self.judge.odds(&lots, &mut self.sieve) else {
                continue;
            };
            let known = climb.better.as_ref().map_or(climb.odds, |(_, odds)| *odds);
            let cheaper = climb
                .better
                .as_ref()
                .is_some_and(|(other, _)| self.judge.cost(&lots) < self.judge.cost(other));
            if odds > known || (odds == known && odds > climb.odds && cheaper) {
                climb.better = Some((lots, odds));
            }
        }
        climb.material += 1;
        if climb.material < climb.pool.len() {
            return true;
        }
        let Some((lots, odds)) = climb.better.take() else {
            return false;
        };
        (climb.at, climb.odds) = (lots, odds);
        climb.material = 0;
        climb.pass += 1;
        climb.pass < PASSES && climb.odds < climb.enough
    }

    /// Whether a purchase meets the wishes by typical values and in enough draws; the cheapest is kept.
    fn is_sure(&mut self, lots: &[u32], required: f64) -> bool {
        let Some(values) = self.judge.values(lots) else {
            return false;
        };
        if !self.judge.wish.is_met(&values) {
            return false;
        }
        self.sieved += 1;
        let sieved = self.judge.odds(lots, &mut self.sieve).unwrap_or(0.0);
        if sieved < required - SIEVE_SLACK {
            return false;
        }
        let odds = self.judge.odds(lots, &mut self.strata).unwrap_or(0.0);
        if odds < required {
            return false;
        }
        let found = Found {
            lots: lots.to_vec(),
            cost: values.cost,
            values,
            odds: Some(odds),
        };
        let count = self.materials(lots);
        let dear = self.judge.dearness(lots);
        let cheaper = |known: &Option<Found>| {
            known.as_ref().is_none_or(|is| {
                is.odds.is_none_or(|odds| odds < required) || dear < self.judge.dearness(&is.lots)
            })
        };
        if cheaper(&self.by_count[count]) {
            self.by_count[count] = Some(found.clone());
        }
        if cheaper(&self.sure) {
            self.sure = Some(found);
        }
        true
    }

    /// Cheaper purchases near the cheapest that is sure enough, the cheapest last.
    fn near_sure(&self) -> Vec<Vec<u32>> {
        let Some(sure) = &self.sure else {
            return Vec::new();
        };
        self.cheaper_near(&sure.lots)
    }

    /// Cheaper purchases near one, the cheapest last: whole offers and halves of them left out, and
    /// small exchanges.
    fn cheaper_near(&self, lots: &[u32]) -> Vec<Vec<u32>> {
        let (mut whole, mut near) = (Vec::new(), Vec::new());
        for at in 0..lots.len() {
            let mut left = lots[at];
            if left > 0 {
                near.extend(exchanged(&self.judge, lots, at, &self.most));
            }
            // All of it for as much room of another.
            for other in (0..lots.len()).filter(|other| *other != at && lots[*other] > 0) {
                let as_much = f64::from(lots[at]) * self.judge.counted_of(at);
                let more = (as_much / self.judge.counted_of(other)).round();
                let mut instead = lots.to_vec();
                instead[at] = 0;
                instead[other] = instead[other]
                    .saturating_add(more as u32)
                    .min(self.most[other]);
                if left > 0 {
                    whole.push(instead);
                }
            }
            while left > 0 {
                left /= 2;
                for count in [left, lots[at] - left] {
                    let mut less = lots.to_vec();
                    less[at] = count;
                    whole.push(less);
                }
            }
        }
        let mut all = self.cheaper(lots, near);
        all.truncate(NEAR_SURE);
        all.extend(self.cheaper(lots, whole));
        all
    }

    /// Those that are cheaper than a purchase, the cheapest last.
    fn cheaper(&self, lots: &[u32], near: Vec<Vec<u32>>) -> Vec<Vec<u32>> {
        let dear = self.judge.dearness(lots);
        let mut priced: Vec<(f64, Vec<u32>)> = near
            .into_iter()
            .map(|lots| (self.judge.dearness(&lots), lots))
            .filter(|(cost, _)| *cost < dear)
            .collect();
        priced.sort_by(|a, b| b.0.total_cmp(&a.0));
        priced.into_iter().map(|(_, lots)| lots).collect()
    }

    pub(super) fn trim_sure(&mut self, mut near: Vec<Vec<u32>>) {
        let required = self.required.unwrap_or(0.0);
        let until = self.judge.judged + PER_STEP;
        while let Some(lots) = near.pop().filter(|_| self.sieved < MOST_SIEVED) {
            let known = self.sure.as_ref();
            let dear = known.map_or(f64::INFINITY, |sure| self.judge.dearness(&sure.lots));
            if self.judge.dearness(&lots) < dear && self.is_sure(&lots, required) {
                near = self.near_sure();
            }
            if self.judge.judged >= until {
                self.tasks.push_front(Task::TrimSure(near));
                return;
            }
        }
    }

    /// Plans all purchases of one and two offers that cost less than the cheapest that is sure.
    pub(super) fn plan_sure_tried(&mut self) {
        if self.sure.is_none() {
            return;
        }
        self.summed = 0;
        let ranked = self.ranked();
        for (i, a) in ranked.iter().enumerate() {
            let alone = Odometer::of(&[*a], &self.most);
            self.tasks.push_back(Task::SureTried(alone));
            for b in &ranked[i + 1..] {
                let both = Odometer::of(&[*a, *b], &self.most);
                self.tasks.push_back(Task::SureTried(both));
            }
        }
    }

    pub(super) fn try_sure(&mut self, mut odometer: Odometer) {
        let required = self.required.unwrap_or(0.0);
        let until = self.judge.judged + PER_STEP;
        let mut lots = vec![0; self.most.len()];
        while self.sieved < MOST_SIEVED && self.summed < MOST_SUMMED {
            let limit = self.sure.as_ref().map_or(0.0, |sure| sure.cost - NO_MONEY);
            if !odometer.next(&self.judge, &self.most, limit, &mut lots) {
                return;
            }
            self.summed += 1;
            if self.rows.allow(&lots, self.to_fill) && self.is_sure(&lots, required) {
                odometer.skip(&self.judge, &self.most, limit);
            }
            if self.judge.judged >= until {
                self.tasks.push_front(Task::SureTried(odometer));
                return;
            }
        }
    }

    pub(super) fn plan_likely(&mut self) {
        // Where the odds that were asked for are not reached, the best at any price are told.
        let missed = self.required.is_some() && self.sure.is_none();
        if self.quick || (self.budget.is_none() && !missed) {
            return;
        }
        self.odds_from = None;
        if let Some(deep) = self.deep(&[self.spend()], false) {
            self.tasks.push_back(Task::Deep(deep));
        }
    }

    /// Money that may be spent.
    fn spend(&self) -> f64 {
        self.budget.unwrap_or(f64::MAX)
    }

    /// Plans the way to the odds that are asked for.
    pub(super) fn plan_sure(&mut self) {
        if self.quick || self.required.is_none() {
            return;
        }
        let Some(cost) = self.best.as_ref().map(|best| best.cost) else {
            return;
        };
        let most = self
            .judge
            .wish
            .band(Wished::Cost)
            .most
            .unwrap_or(f64::INFINITY);
        let budgets = DEARER.map(|by| (by * cost.max(NO_MONEY)).min(most));
        if let Some(deep) = self.deep(&budgets, true) {
            self.tasks.push_back(Task::Deep(deep));
        }
    }

    /// The start of a way inwards, within the first of these budgets.
    fn deep(&mut self, budgets: &[f64], for_odds: bool) -> Option<Deep> {
        let first = *budgets.first()?;
        let within = |found: &&Found| found.cost <= first + NO_MONEY;
        let start = self
            .best
            .as_ref()
            .filter(within)
            .map(|found| found.lots.clone());
        let near = || {
            let mut seeds = self.seeds.iter();
            let fits = |lots: &[u32]| self.judge.cost(lots) <= first + NO_MONEY;
            seeds
                .find(|(_, lots)| fits(lots))
                .map(|(_, lots)| lots.clone())
        };
        let at = start.or_else(near)?;
        let spreads = self.judge.spreads(&at, &mut self.sieve)?;
        let depth = self.depth(&at, &spreads);
        let mut budgets = budgets.to_vec();
        budgets.reverse();
        Some(Deep {
            at,
            depth,
            spreads,
            material: 0,
            near: Vec::new(),
            pool: Vec::new(),
            better: None,
            pass: 0,
            budgets,
            for_odds,
        })
    }

    fn depth(&mut self, lots: &[u32], spreads: &Spreads) -> f64 {
        let values = self.judge.values(lots);
        values.map_or(f64::NEG_INFINITY, |values| {
            self.judge.wish.depth(&values, spreads)
        })
    }

    /// One offer's changes of a way inwards: what lies deeper within all wishes, by typical values.
    pub(super) fn deeper(&mut self, mut deep: Deep) {
        if self.is_long() {
            return;
        }
        let budget = deep.budgets.last().copied().unwrap_or(0.0) + NO_MONEY;
        if deep.near.is_empty() {
            if deep.material == 0 {
                deep.pool = self.pool(&deep.at, DEEP_POOL);
            }
            let Some(&at) = deep.pool.get(deep.material) else {
                return;
            };
            deep.near = self.inwards(&deep.at, at, &deep.pool);
        }
        let until = self.judge.judged + PER_STEP;
        while let Some(lots) = deep.near.pop() {
            if self.judge.cost(&lots) > budget {
                continue;
            }
            let depth = self.depth(&lots, &deep.spreads);
            if depth > deep.better.as_ref().map_or(deep.depth, |(_, depth)| *depth) {
                deep.better = Some((lots, depth));
            }
            if self.judge.judged >= until && !deep.near.is_empty() {
                self.tasks.push_front(Task::Deep(deep));
                return;
            }
        }
        deep.material += 1;
        if deep.material < deep.pool.len() {
            self.tasks.push_front(Task::Deep(deep));
            return;
        }
        deep.material = 0;
        deep.pass += 1;
        if let Some((lots, depth)) = deep.better.take() {
            (deep.at, deep.depth) = (lots, depth);
            if deep.pass < DEEP_PASSES {
                self.tasks.push_front(Task::Deep(deep));
                return;
            }
        }
        if deep.for_odds {
            self.came_deep(deep);
            return;
        }
        // From the deepest, and from the cheapest: which is better the draws tell.
        let climb = self.climb(deep.at, 1.0, self.spend());
        self.tasks.push_front(Task::Likely(climb));
        if let Some(best) = &self.best
            && best.cost <= budget
        {
            let at = best.lots.clone();
            let climb = self.climb(at, 1.0, self.spend());
            self.tasks.push_front(Task::Likely(climb));
        }
    }

    /// Changes of one offer, alone and with another, the last ones to be looked at first.
    fn inwards(&self, lots: &[u32], at: usize, pool: &[usize]) -> Vec<Vec<u32>> {
        let mut near = changed(lots, at, self.most[at]);
        for other in pool.iter().copied() {
            if other == at {
                continue;
            }
            for (this, that) in [(1, 1), (2, 1), (1, 2), (4, 1), (1, 4)] {
                let mut more = lots.to_vec();
                more[at] += this;
                more[other] += that;
                if more[at] <= self.most[at] && more[other] <= self.most[other] {
                    near.push(more);
                }
            }
            for (less, more) in [(1, 1), (2, 1), (1, 2), (4, 1)] {
                if lots[at] >= less && lots[other] + more <= self.most[other] {
                    let mut instead = lots.to_vec();
                    instead[at] -= less;
                    instead[other] += more;
                    near.push(instead);
                }
            }
        }
        near.reverse();
        near
    }

    /// The deepest within a budget: by odds from there, where they are not far.
    fn came_deep(&mut self, deep: Deep) {
        let required = self.required.unwrap_or(0.0);
        let (at, budget) = (deep.at.clone(), deep.budgets.last().copied());
        let mut climb = self.climb(at, required + ABOVE, budget.unwrap_or(0.0));
        let far = climb.odds < required - FAR;
        climb.way = Some(Box::new(deep));
        if far {
            self.came_up(climb);
        } else {
            self.tasks.push_front(Task::Likely(climb));
        }
    }

    /// The best odds within a budget: sure enough, or on with the next budget.
    fn came_up(&mut self, climb: Climb) {
        let required = self.required.unwrap_or(0.0);
        let Some(mut deep) = climb.way else {
            return;
        };
        if self.is_sure(&climb.at, required) {
            let near = self.near_sure();
            self.tasks.push_front(Task::TrimSure(near));
            return;
        }
        deep.budgets.pop();
        if deep.budgets.is_empty() {
            return;
        }
        deep.pass = 0;
        deep.depth = self.depth(&climb.at, &deep.spreads);
        deep.at = climb.at;
        self.tasks.push_front(Task::Deep(*deep));
    }

    pub(super) fn likelier(&mut self, mut climb: Climb) {
        if climb.odds < climb.enough && !self.is_long() && self.climbed(&mut climb) {
            self.tasks.push_front(Task::Likely(climb));
            return;
        }
        if climb.way.is_some() {
            self.came_up(climb);
            return;
        }
        let known = [&self.sure, &self.best];
        let known = known.map(|found| found.as_ref().map(|found| found.lots.clone()));
        for lots in std::iter::once(Some(climb.at.clone()))
            .chain(known)
            .flatten()
        {
            self.tasks.push_front(Task::AskLikely(lots));
        }
        let near = self.cheaper_near(&climb.at);
        let (at, odds) = (climb.at, climb.odds - LOSES);
        self.tasks
            .push_front(Task::TrimLikely(Lean { at, odds, near }));
    }

    /// What is cheaper and as likely, as far as the sieve tells.
    pub(super) fn leaner(&mut self, mut lean: Lean) {
        let until = self.judge.judged + PER_STEP;
        while let Some(lots) = lean.near.pop() {
            self.sieved += 1;
            let odds = self.judge.odds(&lots, &mut self.sieve).unwrap_or(0.0);
            if odds >= lean.odds {
                lean.near = self.cheaper_near(&lots);
                lean.at = lots;
            }
            if self.sieved >= MOST_SIEVED || self.is_long() {
                break;
            }
            if self.judge.judged >= until {
                self.tasks.push_front(Task::TrimLikely(lean));
                return;
            }
        }
        self.tasks.push_front(Task::AskLikely(lean.at));
    }

    /// Asks all draws of a purchase that may be the likeliest.
    pub(super) fn ask_likely(&mut self, lots: Vec<u32>) {
        let cost = self.judge.cost(&lots);
        let known = self.likeliest.as_ref();
        if cost > self.spend() + NO_MONEY || known.is_some_and(|known| known.lots == lots) {
            return;
        }
        let Some(odds) = self.judge.odds(&lots, &mut self.strata) else {
            return;
        };
        let Some(values) = self.judge.values(&lots) else {
            return;
        };
        if let Some(required) = self.required.filter(|required| odds >= *required)
            && self.is_sure(&lots, required)
        {
            let near = self.near_sure();
            self.tasks.push_front(Task::TrimSure(near));
        }
        let better = self.likeliest.as_ref().is_none_or(|known| {
            let gained = odds - known.odds.unwrap_or(0.0);
            gained > AS_LIKELY
                || (gained >= -AS_LIKELY
                    && self.judge.dearness(&lots) < self.judge.dearness(&known.lots))
        });
        if odds >= LEAST_ODDS && better {
            self.likeliest = Some(Found {
                lots,
                cost,
                values,
                odds: Some(odds),
            });
        }
    }
}
