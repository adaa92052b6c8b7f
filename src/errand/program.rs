//! The least cost of whole lots under linear rows: one mixed integer program for each piece of the
//! wish, solved by the crate `microlp` a few nodes at a time.

use super::judge::Judge;
use super::rows::{Row, Rows};
use microlp::{
    ComparisonOp, Error, OptimizationDirection, Problem, SolveOptions, SolveOutcome, Variable,
};

/// What a free lot counts, so that no more of it is taken than is of use; ten thousand of them make
/// a cent.
pub(super) const FREE: f64 = 1e-6;

/// What a program came to.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Solved {
    /// The cheapest lots, and what they cost before rounding to cents.
    Found(Vec<u32>, f64),
    /// No lots meet the rows.
    Nothing,
    /// It gave up; nothing costs less than this.
    Unsure(f64),
}

/// A program that goes on by steps.
#[derive(Debug)]
pub(super) struct Program {
    lots: Vec<Variable>,
    at: At,
}

#[derive(Debug)]
enum At {
    Fresh(Box<Problem>),
    Going(Box<SolveOutcome>),
    Over,
}

impl Program {
    /// The program of a piece, with rows held by a margin of their scale.
    pub(super) fn of(
        judge: &Judge,
        rows: &Rows,
        piece: usize,
        most: &[u32],
        to_fill: bool,
        margin: f64,
    ) -> Program {
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let mut lots = Vec::with_capacity(most.len());
        let mut budget: Vec<(Variable, f64)> = Vec::new();
        for (at, ((_, _, lot), most)) in judge.sold.iter().zip(most).enumerate() {
            let top = i32::try_from(*most).unwrap_or(i32::MAX);
            // What is free is still not bought for nothing.
            let price = lot.price.max(FREE);
            let parts = judge.parts_of(at);
            let each = if parts == 1 { price } else { FREE };
            let count = problem.add_integer_var(each, (0, top));
            let (mut whole, mut top_whole) = (count, top);
            if parts > 1 {
                // Portions of lots that are paid for whole.
                top_whole = i32::try_from(most.div_ceil(parts)).unwrap_or(i32::MAX);
                whole = problem.add_integer_var(price, (0, top_whole));
                let from = [(whole, f64::from(parts)), (count, -1.0)];
                problem.add_constraint(from, ComparisonOp::Ge, 0.0);
            }
            budget.push((whole, lot.price));
            if lot.delivery > 0.0 && top_whole > 0 {
                // Every load that is begun is paid for.
                let in_load = lot.per_load.min(f64::from(top_whole));
                let loads = (f64::from(top_whole) / in_load).ceil() as i32;
                let loads = problem.add_integer_var(lot.delivery, (0, loads));
                budget.push((loads, lot.delivery));
                problem.add_constraint(
                    [(whole, -1.0 / in_load), (loads, 1.0)],
                    ComparisonOp::Ge,
                    0.0,
                );
            }
            lots.push(count);
        }
        let ground = to_fill.then(|| problem.add_var(0.0, (0.0, f64::INFINITY)));
        for row in rows.always.iter().chain(&rows.pieces[piece]) {
            add(&mut problem, row, &lots, ground, margin);
        }
        if !to_fill && judge.room_m3().is_none() {
            // Without ground something must be bought.
            let each: Vec<(Variable, f64)> = lots.iter().map(|lot| (*lot, 1.0)).collect();
            problem.add_constraint(&each[..], ComparisonOp::Ge, 1.0);
        }
        if let Some(most) = judge.wish.band(super::wish::Wished::Cost).most {
            problem.add_constraint(&budget[..], ComparisonOp::Le, most);
        }
        Program {
            lots,
            at: At::Fresh(Box::new(problem)),
        }
    }

    /// Goes on by so many nodes; none as long as it is not over.
    pub(super) fn advance(&mut self, nodes: u64) -> Option<Solved> {
        let result = match std::mem::replace(&mut self.at, At::Over) {
            At::Fresh(problem) => {
                let mut options = SolveOptions::default();
                options.node_limit = Some(nodes);
                problem.solve_with(options)
            }
            // As many again.
            At::Going(outcome) => outcome.resume(),
            At::Over => return Some(Solved::Unsure(0.0)),
        };
        let outcome = match result {
            Ok(outcome) => outcome,
            Err(Error::Infeasible) => return Some(Solved::Nothing),
            Err(_) => return Some(Solved::Unsure(0.0)),
        };
        if !outcome.is_optimal() {
            self.at = At::Going(Box::new(outcome));
            return None;
        }
        let Some(solution) = outcome.solution() else {
            return Some(Solved::Unsure(0.0));
        };
        let count = |of: &Variable| solution.var_value(*of).round().max(0.0) as u32;
        Some(Solved::Found(
            self.lots.iter().map(count).collect(),
            solution.objective(),
        ))
    }

    /// What nothing costs less than, as far as it is known.
    pub(super) fn bound(&self) -> f64 {
        match &self.at {
            At::Going(outcome) => outcome.stats().best_bound.unwrap_or(0.0).max(0.0),
            _ => 0.0,
        }
    }
}

/// A row, scaled so that its greatest coefficient is 1: tolerances then mean the same everywhere.
fn add(problem: &mut Problem, row: &Row, lots: &[Variable], ground: Option<Variable>, margin: f64) {
    let scale = row
        .per_lot
        .iter()
        .fold(0.0_f64, |most, value| most.max(value.abs()))
        .max(ground.map_or(0.0, |_| row.ground.abs()));
    let constant = row.constant + if ground.is_some() { 0.0 } else { row.ground };
    if scale <= 0.0 {
        // Nothing on sale moves it: it holds or it never will.
        if constant < 0.0
            && let Some(first) = lots.first()
        {
            problem.add_constraint([(*first, 0.0)], ComparisonOp::Ge, 1.0);
        }
        return;
    }
    let mut terms: Vec<(Variable, f64)> = Vec::with_capacity(lots.len() + 1);
    for (variable, value) in lots.iter().zip(&row.per_lot) {
        if *value != 0.0 {
            terms.push((*variable, value / scale));
        }
    }
    if let Some(ground) = ground {
        terms.push((ground, row.ground / scale));
    }
    let held = margin * row.scale() / scale;
    problem.add_constraint(&terms[..], ComparisonOp::Ge, -constant / scale + held);
}
