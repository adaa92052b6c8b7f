//! Which lots of which offers are bought of a material: each line from its own offer where that comes
//! out, else the cheapest of all offers together.

use super::list::Need;
use super::offer::{Lot, Offer};
use crate::recipe::{Addition, Path, Price, Recipe, RecipeError};

/// Such a share of what is needed is no reason for another lot: what a search puts into a recipe
/// agrees with its lots only to this.
pub(super) const HAIR: f64 = 1e-6;
/// Combinations that are looked at, at most (a choice: no wait is felt; for what a garden takes it
/// is all of them).
const STEPS: u32 = 200_000;
/// Costs are rounded to the cent, so a least cost may be wrong by so much for each offer.
const ROUNDING: f64 = 0.01;

/// A number of lots, or steps, less what is forgiven.
pub(super) fn forgiven(exact: f64) -> f64 {
    exact * (1.0 - HAIR)
}

/// Whole lots that cover so many.
pub(super) fn whole(exact: f64) -> u32 {
    // What is more than anyone counts ends at the last.
    forgiven(exact).ceil() as u32
}

/// How many lots a need takes, with waste.
pub(super) fn lots_of(lot: &Lot, need: &Need, waste: f64) -> f64 {
    // Dry matter is what the blend gets, however wet it is sold.
    let used = if lot.dry_kg > 0.0 && need.dry_kg > 0.0 {
        need.dry_kg / lot.dry_kg
    } else {
        need.loose_m3 / lot.counted_m3
    };
    used / (1.0 - waste)
}

/// An offer of a material that is needed.
pub(super) struct Sold {
    pub offer: Offer,
    /// Which of the errand; none where the recipe's line says it.
    pub at: Option<usize>,
    pub lot: Lot,
    pub is_priced: bool,
    /// How many lots the whole need takes.
    pub exact: f64,
}

impl Sold {
    pub(super) fn of(
        recipe: &Recipe,
        offer: Offer,
        at: Option<usize>,
        path: &Path,
        need: &Need,
        waste: f64,
    ) -> Result<Sold, RecipeError> {
        let is_priced = offer.price.is_some();
        let lot = if is_priced {
            offer.lot(recipe, path)?
        } else {
            offer.contents(recipe, path)?
        };
        Ok(Sold {
            exact: lots_of(&lot, need, waste),
            offer,
            at,
            lot,
            is_priced,
        })
    }

    fn most(&self) -> u32 {
        self.lot.most.unwrap_or(u32::MAX)
    }

    /// Lots that cover so much of the need, as far as there are so many.
    fn covering(&self, rest: f64) -> u32 {
        let exact = (rest - HAIR).max(0.0) * self.exact;
        // What is more than anyone counts ends at the last.
        (exact.ceil() as u32).min(self.most())
    }

    /// What is still needed after so many, as a share of the whole need.
    fn after(&self, rest: f64, count: u32) -> f64 {
        let rest = rest - f64::from(count) / self.exact;
        // Also what is no number.
        if rest > HAIR { rest } else { 0.0 }
    }

    /// Money for all of the need, lots and loads not being whole.
    fn least_cost(&self) -> f64 {
        (self.lot.price + self.lot.delivery / self.lot.per_load) * self.exact
    }

    fn is_of(&self, addition: &Addition) -> bool {
        let terms = |price: &Price| (price.value, price.per.clone());
        addition.bag.as_ref() == Some(&self.offer.lot)
            && addition.price.as_ref().map(terms) == self.offer.price.as_ref().map(terms)
    }
}

/// Lines that are bought from their own offer.
pub(super) struct OwnLots<'a> {
    pub sold: &'a Sold,
    pub count: u32,
    pub lines: Vec<usize>,
    pub need: Need,
}

/// Each line in whole lots of the offer whose bag and price it carries; none where one is not.
pub(super) fn from_own_lots<'a>(
    sold: &'a [Sold],
    lines: &[(usize, &Addition, Need)],
    waste: f64,
) -> Option<Vec<OwnLots<'a>>> {
    let mut taken = vec![0_u32; sold.len()];
    let mut own: Vec<(usize, OwnLots<'a>)> = Vec::new();
    for (line, addition, need) in lines {
        let fits = sold.iter().zip(&taken).position(|(sold, taken)| {
            sold.is_of(addition)
                && even(lots_of(&sold.lot, need, waste))
                    .is_some_and(|count| count <= sold.most().saturating_sub(*taken))
        })?;
        let (sold, taken) = sold.get(fits).zip(taken.get_mut(fits))?;
        let count = even(lots_of(&sold.lot, need, waste))?;
        *taken += count;
        match own.iter_mut().find(|(at, _)| *at == fits) {
            Some((_, known)) => {
                known.count += count;
                known.lines.push(*line);
                known.need.add(need);
            }
            None => own.push((
                fits,
                OwnLots {
                    sold,
                    count,
                    lines: vec![*line],
                    need: *need,
                },
            )),
        }
    }
    Some(own.into_iter().map(|(_, own)| own).collect())
}

/// So many lots, where they are whole.
fn even(exact: f64) -> Option<u32> {
    let count = exact.round();
    let is_even = (exact - count).abs() <= HAIR * count && count >= 1.0;
    // More than anyone counts is not bought line by line.
    (is_even && count < 1e9).then_some(count as u32)
}

/// How many lots of each offer cover the need: for the least money, at equal money the least to
/// carry. What has no price is bought only where the rest does not do; where all of it is too
/// little, all is bought. Also whether it is enough.
pub(super) fn of_all(sold: &[Sold]) -> (Vec<u32>, bool) {
    let (priced, unpriced): (Vec<usize>, Vec<usize>) =
        (0..sold.len()).partition(|at| sold.get(*at).is_some_and(|sold| sold.is_priced));
    let mut counts = vec![0; sold.len()];
    let mut rest = 1.0;
    for group in [priced, unpriced] {
        if rest <= 0.0 {
            break;
        }
        let of: Vec<&Sold> = group.iter().filter_map(|at| sold.get(*at)).collect();
        let (found, is_enough) = cheapest(&of, rest);
        for ((at, sold), count) in group.iter().zip(of).zip(found) {
            rest = sold.after(rest, count);
            if let Some(place) = counts.get_mut(*at) {
                *place = count;
            }
        }
        if is_enough {
            rest = 0.0;
        }
    }
    let is_enough = rest <= 0.0;
    if is_enough {
        spare(sold, &mut counts);
    }
    (counts, is_enough)
}

/// Puts back what is too much, which a price of nothing or an end of the looking may leave.
fn spare(sold: &[Sold], counts: &mut [u32]) {
    for at in 0..counts.len() {
        let rest = sold
            .iter()
            .zip(&*counts)
            .enumerate()
            .filter(|(other, _)| *other != at)
            .fold(1.0, |rest, (_, (sold, count))| sold.after(rest, *count));
        if let Some((sold, count)) = sold.get(at).zip(counts.get_mut(at)) {
            *count = (*count).min(sold.covering(rest));
        }
    }
}

/// The cheapest lots that cover a share of the need, and whether they do; all there are where not.
fn cheapest(sold: &[&Sold], rest: f64) -> (Vec<u32>, bool) {
    // What costs least for its contents comes first: soon nothing else is worth a look.
    let mut order: Vec<usize> = (0..sold.len()).collect();
    let cost = |at: &usize| sold.get(*at).map_or(0.0, |sold| sold.least_cost());
    order.sort_by(|one, other| cost(one).total_cmp(&cost(other)));
    let ordered: Vec<&Sold> = order
        .iter()
        .filter_map(|at| sold.get(*at).copied())
        .collect();
    let mut looking = Looking {
        counts: vec![0; ordered.len()],
        best: None,
        steps: STEPS,
        slack: ROUNDING * ordered.len() as f64,
        sold: ordered,
    };
    looking.singles(rest);
    looking.look(0, rest, 0.0, 0.0);
    let best = looking.best.map(|best| best.counts);
    let mut counts = vec![0; sold.len()];
    for (place, at) in order.iter().enumerate() {
        if let (Some(count), Some(sold)) = (counts.get_mut(*at), sold.get(*at)) {
            *count = match &best {
                Some(best) => best.get(place).copied().unwrap_or_default(),
                None => sold.covering(rest),
            };
        }
    }
    (counts, best.is_some())
}

struct Best {
    cost: f64,
    moist_kg: f64,
    counts: Vec<u32>,
}

/// All combinations that could be better than the best so far.
struct Looking<'a> {
    sold: Vec<&'a Sold>,
    counts: Vec<u32>,
    best: Option<Best>,
    steps: u32,
    slack: f64,
}

impl Looking<'_> {
    /// Each offer alone.
    fn singles(&mut self, rest: f64) {
        for at in 0..self.sold.len() {
            let Some(sold) = self.sold.get(at).copied() else {
                continue;
            };
            let count = sold.covering(rest);
            if sold.after(rest, count) <= 0.0 {
                self.put(at, count);
                let moist_kg = f64::from(count) * sold.lot.moist_kg;
                self.weigh(sold.lot.cost(count), moist_kg);
                self.put(at, 0);
            }
        }
    }

    fn look(&mut self, at: usize, rest: f64, cost: f64, moist_kg: f64) {
        if rest <= 0.0 {
            self.weigh(cost, moist_kg);
            return;
        }
        let Some(sold) = self.sold.get(at).copied() else {
            return;
        };
        let is_last = at + 1 == self.sold.len();
        let most = sold.covering(rest);
        // The last has to cover what is left.
        let least = if is_last { most } else { 0 };
        for count in (least..=most).rev() {
            if self.steps == 0 {
                break;
            }
            self.steps -= 1;
            let rest = sold.after(rest, count);
            let cost = cost + sold.lot.cost(count);
            if self.is_hopeless(at + 1, rest, cost) {
                continue;
            }
            self.put(at, count);
            let moist_kg = moist_kg + f64::from(count) * sold.lot.moist_kg;
            self.look(at + 1, rest, cost, moist_kg);
        }
        self.put(at, 0);
    }

    /// Whether the offers from one on cannot make it cheaper than the best.
    fn is_hopeless(&self, from: usize, rest: f64, cost: f64) -> bool {
        let least = match self.sold.get(from) {
            Some(next) => next.least_cost() * rest,
            None => 0.0,
        };
        self.best
            .as_ref()
            .is_some_and(|best| cost + least - self.slack > best.cost)
    }

    fn put(&mut self, at: usize, count: u32) {
        if let Some(place) = self.counts.get_mut(at) {
            *place = count;
        }
    }

    fn weigh(&mut self, cost: f64, moist_kg: f64) {
        // A sum of cents is no whole number of them.
        let is_better = self.best.as_ref().is_none_or(|best| {
            let less = best.cost - cost;
            less > 0.001 || less > -0.001 && moist_kg < best.moist_kg
        });
        if is_better {
            let counts = self.counts.clone();
            self.best = Some(Best {
                cost,
                moist_kg,
                counts,
            });
        }
    }
}
