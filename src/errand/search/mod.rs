//! The cheapest whole lots that make what is wished for, found a little at a time.
//!
//! Wishes that are sums over masses are solved exactly. For the others the same program, with rows
//! that no blend can do without, tells what nothing costs less than; purchases are looked for by
//! their full outcome: first few of one or two materials, from the best of these downhill, and then
//! all purchases of one, two and three materials that cost less than the best. What the search
//! cannot rule out it tells.

mod bound;
mod hinder;
mod near;
mod odds;

use hinder::Halving;
use near::{Descent, Trim};
use odds::{Climb, Deep, Lean};

use super::document::Errand;
use super::judge::Judge;
use super::moves::Odometer;
use super::program::Program;
use super::rows::Rows;
use super::wish::{GroundUse, OneWish, Values, Wished};
use crate::draws::Strata;
use crate::recipe::{Fault, Path, Recipe, RecipeError};
use std::collections::VecDeque;

/// An alternative may cost this much more for fewer materials.
pub const FEWER_FOR: f64 = 1.10;
/// Money that counts as none: half a cent.
const NO_MONEY: f64 = 0.005;
/// Nodes of a program in one step: a few milliseconds in a browser.
const NODES: u64 = 25;
/// Nodes after which a program gives up.
const MOST_NODES: u64 = 20_000;
/// Margins of the rows, as a share of their scale: none, then more where an answer lies on an edge.
const MARGINS: [f64; 3] = [0.0, 1e-7, 1e-5];
/// Blends looked at while purchases of few materials are gone through.
const MOST_TRIED: u64 = 25_000;
/// Blends looked at to find which wish stands in the way.
const MOST_HINDERED: u64 = 20_000;
/// Purchases whose rows are summed there.
const MOST_SUMMED: u64 = 3_000_000;
/// Blends in one step, and sums of rows that take as long as one.
const PER_STEP: u64 = 120;
const SUMS_PER_BLEND: u64 = 40;
/// Materials of which all purchases are gone through together.
const TRIED_OF: usize = 3;
/// Choices of offers up to which more of them are gone through together.
const MOST_CHOICES: u64 = 4_100;
/// Places from which the search goes downhill.
const SEEDS: usize = 6;
/// Materials of which pairs are tried for seeds.
const PAIRED: usize = 10;
/// Draws by which purchases are sieved before all of them are asked.
const SIEVE: u32 = 64;
/// Passes of a climb by odds.
const PASSES: u32 = 30;
/// Materials that a climb by odds changes.
const POOL: usize = 8;
/// What a sieve may be wrong by.
const SIEVE_SLACK: f64 = 0.06;
/// Cheaper neighbours of a sure purchase that are looked at.
const NEAR_SURE: usize = 150;
/// Purchases that are sieved in all.
const MOST_SIEVED: u32 = 2_000;
/// Blends that a way to the odds may take.
const MOST_FOR_ODDS: u64 = 80_000;
/// Times a wish that stands in the way is halved towards what can be had.
const HALVINGS: usize = 7;

/// A purchase, and what it comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// Lots of each of [`Judge::sold`].
    pub lots: Vec<u32>,
    /// What they cost, to the cent.
    pub cost: f64,
    /// Typical values.
    pub values: Values,
    /// Share of the draws in which all wishes are met, where it was asked.
    pub odds: Option<f64>,
}

/// How sure the answer is.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Proof {
    /// Every wish is a sum over masses, and the program ran to its end.
    pub exact: bool,
    /// Nothing costs less than this.
    pub bound: f64,
    /// All purchases of up to so many materials that cost less were gone through.
    pub all_of: usize,
    /// How many blends were looked at.
    pub judged: u64,
    /// That nothing on sale can: the rows alone contradict each other.
    pub none_can: bool,
}

/// A wish that stands in the way: without it there is a purchase.
#[derive(Clone, Debug, PartialEq)]
pub struct Hindrance {
    /// Which.
    pub wish: OneWish,
    /// The nearest that was had with all others met.
    pub nearest: Found,
}

/// What an errand came to.
#[derive(Clone, Debug, Default)]
pub struct Findings {
    /// The cheapest.
    pub cheapest: Option<Found>,
    /// Fewer materials for at most a tenth more.
    pub fewer: Option<Found>,
    /// The best odds for the budget.
    pub likeliest: Option<Found>,
    /// How sure that is.
    pub proof: Proof,
    /// Where nothing was found: each wish that alone stands in the way.
    pub hindrances: Vec<Hindrance>,
    /// Where nothing was found: what comes nearest to all wishes together.
    pub nearest: Option<Found>,
    /// The odds that were asked for are not reached: the cheapest is by typical values.
    pub odds_missed: bool,
}

#[derive(Debug)]
enum Task {
    Bound {
        piece: usize,
        margin: usize,
        program: Option<Box<Program>>,
        nodes: u64,
    },
    Single(usize, u32),
    Pair(usize, usize, u32),
    Downhill(Descent),
    Trim(Trim),
    Tried(Odometer, usize),
    Deep(Deep),
    TrimSure(Vec<Vec<u32>>),
    SureTried(Odometer),
    Likely(Climb),
    TrimLikely(Lean),
    AskLikely(Vec<u32>),
    Hinder(usize, Box<Search>, Option<Halving>),
    Ask(usize),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Phase {
    Bound,
    Singles,
    Pairs,
    Downhill,
    Trim,
    Tried,
    Sure,
    SureTried,
    Likely,
    Hinder,
    Ask,
    Over,
}

/// A search.
#[derive(Debug)]
pub struct Search {
    judge: Judge,
    rows: Rows,
    most: Vec<u32>,
    to_fill: bool,
    linear: bool,
    required: Option<f64>,
    budget: Option<f64>,
    quick: bool,
    phase: Phase,
    tasks: VecDeque<Task>,
    planned: usize,
    bounds: Vec<f64>,
    unsure: bool,
    seeds: Vec<(f64, Vec<u32>)>,
    singles: Vec<f64>,
    best: Option<Found>,
    by_count: Vec<Option<Found>>,
    all_of: usize,
    tried: u64,
    summed: u64,
    cut_short: bool,
    hindered: u64,
    sieved: u32,
    /// Blends that had been looked at when odds were first asked for.
    odds_from: Option<u64>,
    sure: Option<Found>,
    likeliest: Option<Found>,
    hindrances: Vec<Hindrance>,
    findings: Findings,
    sieve: Strata,
    strata: Strata,
}

impl Search {
    /// The search of a recipe's errand.
    ///
    /// # Errors
    /// The first fault, with the path of its field: an offer that cannot be or has no price, nothing
    /// on sale, nothing wished for.
    pub fn of(recipe: &Recipe, errand: &Errand) -> Result<Search, RecipeError> {
        let judge = Judge::of(recipe, errand)?;
        if judge.sold.is_empty() {
            return Err(Fault::Missing.at(Path::from("errand").field("offers")));
        }
        if judge.wish.all().is_empty() {
            return Err(Fault::Missing.at(Path::from("errand").field("wish")));
        }
        let required = errand.odds_pct.map(|pct| pct / 100.0);
        let budget = errand.budget.or(judge.wish.band(Wished::Cost).most);
        Ok(Search::with(judge, required, budget, false))
    }

    fn with(judge: Judge, required: Option<f64>, budget: Option<f64>, quick: bool) -> Search {
        let rows = Rows::of(&judge);
        let pieces = rows.pieces.len();
        let offers = judge.sold.len();
        let mut search = Search {
            most: judge.most(),
            to_fill: judge.wish.ground == GroundUse::ToFill,
            linear: judge.wish.is_linear(),
            judge,
            rows,
            required,
            budget,
            quick,
            phase: Phase::Bound,
            tasks: VecDeque::new(),
            planned: 0,
            bounds: vec![0.0; pieces],
            unsure: false,
            seeds: Vec::new(),
            singles: vec![f64::INFINITY; offers],
            best: None,
            by_count: vec![None; offers + 1],
            all_of: 0,
            tried: 0,
            summed: 0,
            cut_short: false,
            hindered: 0,
            sieved: 0,
            odds_from: None,
            sure: None,
            likeliest: None,
            hindrances: Vec::new(),
            findings: Findings::default(),
            sieve: Strata::of(SIEVE),
            strata: Strata::default(),
        };
        for piece in 0..pieces {
            search.tasks.push_back(Task::Bound {
                piece,
                margin: 0,
                program: None,
                nodes: 0,
            });
        }
        search.planned = search.tasks.len();
        search
    }

    /// The judge, which knows what is sold.
    pub fn judge(&self) -> &Judge {
        &self.judge
    }

    /// How far it is, 0 to 1.
    pub fn progress(&self) -> f64 {
        let phases = f64::from(Phase::Over as u8);
        let within =
            1.0 - self.tasks.len() as f64 / self.planned.max(self.tasks.len()).max(1) as f64;
        ((f64::from(self.phase as u8) + within) / phases).min(1.0)
    }

    /// Does a little: at most some hundred blends. True when it is over.
    pub fn advance(&mut self) -> bool {
        while self.tasks.is_empty() {
            if self.phase == Phase::Over {
                return true;
            }
            self.next_phase();
        }
        if let Some(task) = self.tasks.pop_front() {
            self.run(task);
        }
        self.tasks.is_empty() && self.phase == Phase::Over
    }

    /// Runs to its end.
    pub fn finish(mut self) -> Findings {
        while !self.advance() {}
        self.findings
    }

    /// What it came to, once it is over.
    pub fn findings(&self) -> &Findings {
        &self.findings
    }

    /// Puts together what was found, still without odds.
    fn gather(&mut self) {
        let bound = self.bounds.iter().copied().fold(f64::INFINITY, f64::min);
        // Every purchase that costs less was gone through: that proves it too.
        let can_be_bought = self.most.iter().filter(|most| **most > 0).count();
        let all_tried = self.all_of >= can_be_bought && !self.cut_short;
        let none_can = (bound.is_infinite() && !self.unsure) || (all_tried && self.best.is_none());
        let cheapest = self.sure.clone().or_else(|| self.best.clone());
        let least = cheapest.as_ref().map_or(f64::INFINITY, |found| found.cost);
        let asks_odds = self.required.is_some();
        let exact = !asks_odds && cheapest.is_some() && (self.is_done() || all_tried);
        let bound = if exact { least } else { bound.min(least) };
        self.findings = Findings {
            proof: Proof {
                exact,
                bound: super::offer::to_the_cent(bound),
                // Of odds only some purchases were asked.
                all_of: if asks_odds { 0 } else { self.all_of },
                judged: 0,
                none_can,
            },
            fewer: self.fewer(cheapest.as_ref()),
            cheapest,
            likeliest: self.likeliest.clone(),
            hindrances: self.hindrances.clone(),
            nearest: self.nearest(),
            odds_missed: self.required.is_some() && self.sure.is_none() && self.best.is_some(),
        };
    }

    /// Asks for the odds of one of them.
    fn ask_odds(&mut self, at: usize) {
        let findings = &mut self.findings;
        let found = match at {
            0 => findings.cheapest.as_mut(),
            1 => findings.fewer.as_mut(),
            2 => findings.likeliest.as_mut(),
            _ => findings.nearest.as_mut(),
        };
        if let Some(found) = found.filter(|found| found.odds.is_none()) {
            found.odds = self.judge.odds(&found.lots, &mut self.strata);
        }
        self.findings.proof.judged = self.judge.judged;
    }

    /// Fewer materials than the cheapest, for at most a tenth more.
    fn fewer(&self, cheapest: Option<&Found>) -> Option<Found> {
        let cheapest = cheapest?;
        let limit = cheapest.cost * FEWER_FOR + NO_MONEY;
        let count = self.materials(&cheapest.lots);
        let fewer = self.by_count.iter().take(count).flatten();
        fewer
            .filter(|found| found.cost <= limit && found.lots != cheapest.lots)
            .find(|found| {
                self.required
                    .is_none_or(|odds| found.odds.is_some_and(|has| has >= odds))
            })
            .cloned()
    }

    /// What comes nearest, where nothing was found.
    fn nearest(&mut self) -> Option<Found> {
        if self.best.is_some() {
            return None;
        }
        let lots = self.seeds.first()?.1.clone();
        let values = self.judge.values(&lots)?;
        Some(Found {
            cost: self.judge.cost(&lots),
            lots,
            values,
            odds: None,
        })
    }

    /// How many materials a purchase has.
    fn materials(&self, lots: &[u32]) -> usize {
        let mut seen: Vec<&str> = Vec::new();
        for ((_, offer, _), count) in self.judge.sold.iter().zip(lots) {
            if *count > 0 && !seen.contains(&offer.material.as_str()) {
                seen.push(&offer.material);
            }
        }
        seen.len()
    }

    fn is_done(&self) -> bool {
        let bound = self.bounds.iter().copied().fold(f64::INFINITY, f64::min);
        self.best
            .as_ref()
            // Each line is rounded to the cent.
            .is_some_and(|best| {
                best.cost <= bound + NO_MONEY * (1 + self.materials(&best.lots)) as f64
            })
    }

    fn next_phase(&mut self) {
        let none_can = self.bounds.iter().all(|bound| bound.is_infinite()) && !self.unsure;
        self.phase = match self.phase {
            Phase::Bound => {
                let singles = (0..self.most.len()).map(|at| Task::Single(at, 1));
                self.tasks.extend(singles);
                Phase::Singles
            }
            Phase::Singles => {
                self.plan_pairs();
                Phase::Pairs
            }
            Phase::Pairs => {
                let seeds = match () {
                    () if self.is_done() => 0,
                    () if self.quick => SEEDS / 2,
                    () => SEEDS,
                };
                for (distance, lots) in self.seeds.iter().take(seeds) {
                    let descent = Descent::of(lots.clone(), *distance, 0, &self.most);
                    let task = Task::Downhill(descent);
                    self.tasks.push_back(task);
                }
                Phase::Downhill
            }
            Phase::Downhill => {
                if let Some(best) = self.best.as_ref().filter(|_| !self.is_done()) {
                    let trim = Trim::of(&self.judge, best.lots.clone(), &self.most);
                    self.tasks.push_back(Task::Trim(trim));
                }
                Phase::Trim
            }
            Phase::Trim => {
                if !self.quick && !none_can {
                    self.plan_tried();
                }
                Phase::Tried
            }
            Phase::Tried => {
                self.plan_sure();
                Phase::Sure
            }
            Phase::Sure => {
                self.plan_sure_tried();
                Phase::SureTried
            }
            Phase::SureTried => {
                self.plan_likely();
                Phase::Likely
            }
            Phase::Likely => {
                if self.best.is_none() && !self.quick {
                    self.plan_hindered();
                }
                Phase::Hinder
            }
            Phase::Hinder => {
                self.gather();
                self.tasks
                    .extend((0..4 + self.hindrances.len()).map(Task::Ask));
                Phase::Ask
            }
            Phase::Ask | Phase::Over => Phase::Over,
        };
        self.planned = self.tasks.len();
    }

    fn run(&mut self, task: Task) {
        match task {
            Task::Bound {
                piece,
                margin,
                program,
                nodes,
            } => self.bound(piece, margin, program, nodes),
            Task::Single(at, from) => self.single(at, from),
            Task::Pair(first, second, from) => self.pair(first, second, from),
            Task::Downhill(descent) => self.downhill(descent),
            Task::Trim(trim) => self.trim(trim),
            Task::Tried(odometer, of) => self.try_all(odometer, of),
            Task::Deep(deep) => self.deeper(deep),
            Task::TrimSure(near) => self.trim_sure(near),
            Task::SureTried(odometer) => self.try_sure(odometer),
            Task::Likely(climb) => self.likelier(climb),
            Task::TrimLikely(lean) => self.leaner(lean),
            Task::AskLikely(lots) => self.ask_likely(lots),
            Task::Hinder(at, search, halving) => self.hinder(at, search, halving),
            Task::Ask(at) => self.ask_odds(at),
        }
    }

    /// Looks at a purchase: how far it is from the wishes; keeps it where it meets them.
    fn consider(&mut self, lots: &[u32]) -> f64 {
        let Some(values) = self.judge.values(lots) else {
            return f64::INFINITY;
        };
        let distance = self.judge.wish.distance(&values);
        if distance > 0.0 || !self.judge.wish.is_met(&values) {
            self.keep_seed(distance.max(f64::MIN_POSITIVE), lots);
            return distance.max(f64::MIN_POSITIVE);
        }
        let found = Found {
            lots: lots.to_vec(),
            cost: values.cost,
            values,
            odds: None,
        };
        let dear = self.judge.dearness(lots);
        let cheaper = |known: &Option<Found>| {
            known
                .as_ref()
                .is_none_or(|is| dear < self.judge.dearness(&is.lots))
        };
        let count = self.materials(lots);
        if cheaper(&self.by_count[count]) {
            self.by_count[count] = Some(found.clone());
        }
        if cheaper(&self.best) {
            self.best = Some(found);
        }
        0.0
    }

    /// Keeps the places from which to go downhill, the nearest first.
    fn keep_seed(&mut self, distance: f64, lots: &[u32]) {
        if !distance.is_finite() {
            return;
        }
        let at = self.seeds.partition_point(|(known, _)| *known <= distance);
        if at < 2 * SEEDS {
            // Of one choice of materials only the nearest.
            let same = |other: &[u32]| other.iter().zip(lots).all(|(a, b)| (*a > 0) == (*b > 0));
            if let Some(known) = self.seeds.iter().position(|(_, other)| same(other)) {
                if known < at {
                    return;
                }
                self.seeds.remove(known);
            }
            self.seeds.insert(at, (distance, lots.to_vec()));
            self.seeds.truncate(2 * SEEDS);
        }
    }
}
