//! One purchase judged: the recipe that it makes, what that comes to, and how often it is what was
//! wished for.

use super::document::Errand;
use super::offer::{Lot, Offer, to_the_cent};
use super::wish::{FILLED, GroundUse, OneWish, Spreads, Values, WISHED, Wish, Wished};
use crate::blend::{Barrow, Blend, Chemistry};
use crate::draws::Strata;
use crate::outcome::{Measure, Outcome};
use crate::quantity::{LITRES_PER_M3, Unit};
use crate::recipe::{Amount, Path, Recipe, RecipeError, Soil};

/// Loose volume of all that is bought against that of the ground, at the most: beyond it the ground
/// is the addition (a choice).
pub const MOST_PER_GROUND: f64 = 9.0;
/// A lot larger than this share of the volume to fill need not be used up (a choice).
pub const LARGE: f64 = 0.5;
/// It is then used by portions of this share of the volume (a choice), as far as they are not too many.
const PORTION: f64 = 0.05;
/// Most portions of a lot.
const MOST_PORTIONS: f64 = 100.0;
/// Steps of the search for how much ground fills up; far more than it takes.
const STEPS: usize = 40;
/// A volume found to this share of itself.
const FULL: f64 = 1e-6;

/// What judges purchases of one errand.
#[derive(Clone, Debug)]
pub struct Judge {
    base: Recipe,
    /// What is on sale and not refused: its place in the errand, the offer, one lot of it.
    pub sold: Vec<(usize, Offer, Lot)>,
    waste_pct: f64,
    /// What is wished for.
    pub wish: Wish,
    asks_chemistry: bool,
    target_m3: Option<f64>,
    /// Portions of one lot of each: more than one where it is too large to be used up.
    parts: Vec<u32>,
    /// Room for all that is bought, m3, where all of the ground is used.
    room_m3: Option<f64>,
    /// How many blends were looked at.
    pub judged: u64,
}

impl Judge {
    /// The judge of a recipe's errand.
    ///
    /// # Errors
    /// An offer that cannot be, or has no price, with the path of its field; a ground that cannot be.
    pub fn of(recipe: &Recipe, errand: &Errand) -> Result<Judge, RecipeError> {
        let offers = Path::from("errand").field("offers");
        let mut sold = Vec::new();
        for (index, offer) in errand.offers.iter().enumerate() {
            if errand.without.contains(&offer.material) {
                continue;
            }
            let lot = offer.lot(recipe, &offers.item(index))?;
            sold.push((index, offer.clone(), lot));
        }
        let base = without_purchase(recipe);
        crate::ground::Ground::of(&base.ground)
            .map_err(|fault| crate::recipe::Fault::Ground(fault).at("ground.bulk_density_kg_m3"))?;
        Ok(Judge::with(base, sold, errand, errand.wish.clone()))
    }

    fn with(base: Recipe, sold: Vec<(usize, Offer, Lot)>, errand: &Errand, wish: Wish) -> Judge {
        let mut judge = Judge {
            room_m3: None,
            parts: Vec::new(),
            base,
            sold,
            waste_pct: errand.waste_pct.unwrap_or(0.0),
            asks_chemistry: asks_chemistry(&wish),
            target_m3: target_m3(&wish),
            wish,
            judged: 0,
        };
        judge.room_m3 = judge.room_m3();
        judge.parts = judge.portions();
        judge
    }

    /// The same for another wish.
    #[must_use]
    pub fn wishing(&self, wish: Wish) -> Judge {
        let mut judge = Judge {
            // What was asked before may be asked again.
            asks_chemistry: self.asks_chemistry || asks_chemistry(&wish),
            target_m3: target_m3(&wish),
            wish,
            ..self.clone()
        };
        judge.room_m3 = judge.room_m3();
        judge.parts = judge.portions();
        judge
    }

    /// Money for a purchase, to the cent.
    pub fn cost(&self, lots: &[u32]) -> f64 {
        let each = lots.iter().enumerate();
        to_the_cent(each.map(|(at, count)| self.cost_of(at, *count)).sum())
    }

    /// Money for so many portions of one of them: whole lots are paid for.
    pub(super) fn cost_of(&self, at: usize, count: u32) -> f64 {
        self.sold[at].2.cost(self.lots_of(at, count))
    }

    /// Money for a portion of one of them, without bringing it.
    pub(super) fn price_of(&self, at: usize) -> f64 {
        self.sold[at].2.price / f64::from(self.parts_of(at))
    }

    /// Loose volume of a portion of one of them, m3.
    pub(super) fn counted_of(&self, at: usize) -> f64 {
        self.sold[at].2.counted_m3 / f64::from(self.parts_of(at))
    }

    /// Whole lots that so many portions are taken from.
    pub fn lots_of(&self, at: usize, count: u32) -> u32 {
        count.div_ceil(self.parts_of(at))
    }

    /// Portions of one lot: one, but for a bag that is larger than [`LARGE`] of the volume to fill.
    pub fn parts_of(&self, at: usize) -> u32 {
        self.parts.get(at).copied().unwrap_or(1)
    }

    fn portions(&self) -> Vec<u32> {
        let to_fill = self.wish.ground == GroundUse::ToFill;
        let room_m3 = self.target_m3.filter(|_| to_fill);
        let each = self.sold.iter().map(|(_, _, lot)| match room_m3 {
            Some(room_m3) if lot.counted_m3 > LARGE * room_m3 => {
                let parts = (lot.counted_m3 / (PORTION * room_m3)).ceil();
                crate::figure::within(parts, 1.0, MOST_PORTIONS) as u32
            }
            _ => 1,
        });
        each.collect()
    }

    /// The same for choosing between purchases: of equal ones the one with less of it.
    pub(super) fn dearness(&self, lots: &[u32]) -> f64 {
        let count: f64 = lots.iter().map(|count| f64::from(*count)).sum();
        self.cost(lots) + super::program::FREE * count
    }

    /// The recipe that a purchase makes; none where there is no ground that fills up, or nothing to
    /// mix.
    pub fn recipe(&self, lots: &[u32]) -> Option<Recipe> {
        self.filled(lots, &mut 0)
    }

    /// The same, counting the blends that it takes.
    fn filled(&self, lots: &[u32], blends: &mut u64) -> Option<Recipe> {
        let mut recipe = self.base.clone();
        self.put(&mut recipe, lots);
        if self.wish.ground == GroundUse::ToFill {
            let litres = self.filling_l(&mut recipe, blends)?;
            recipe.soil = Soil::Amount(Amount::new(litres, Unit::Litre));
        }
        Some(recipe)
    }

    fn put(&self, recipe: &mut Recipe, lots: &[u32]) {
        for (at, ((_, offer, lot), count)) in self.sold.iter().zip(lots).enumerate() {
            if *count > 0 {
                let used = f64::from(*count) / f64::from(self.parts_of(at));
                let addition = offer.addition(recipe, lot, used, self.waste_pct);
                recipe.additions.push(addition);
            }
        }
    }

    /// How much ground, as it lies, fills the volume beside what is bought, litres: regula falsi
    /// after Illinois. Nothing where what is bought fills it alone.
    fn filling_l(&self, recipe: &mut Recipe, blends: &mut u64) -> Option<f64> {
        let target_m3 = self.target_m3?;
        let mut over = |litres: f64| {
            *blends += 1;
            recipe.soil = Soil::Amount(Amount::new(litres, Unit::Litre));
            let barrow = Barrow::of(recipe).ok()?;
            let volume_m3 = Blend::of(&barrow, &recipe.soil).volumes.settled_m3;
            volume_m3.is_finite().then_some(volume_m3 - target_m3)
        };
        let (mut low, mut high) = (0.0, target_m3 * LITRES_PER_M3);
        let mut under = over(low).unwrap_or(-target_m3);
        if under >= 0.0 {
            return Some(0.0);
        }
        let mut above = over(high)?;
        for _ in 0..STEPS {
            if above >= 0.0 {
                break;
            }
            (low, under) = (high, above);
            high *= 2.0;
            above = over(high)?;
        }
        if above < 0.0 {
            return None;
        }
        let mut rose = None;
        for _ in 0..STEPS {
            let middle = high - above * ((high - low) / (above - under));
            let off = over(middle)?;
            if off.abs() <= FULL * target_m3 {
                return Some(middle);
            }
            if off < 0.0 {
                (low, under) = (middle, off);
                if rose == Some(true) {
                    above /= 2.0;
                }
            } else {
                (high, above) = (middle, off);
                if rose == Some(false) {
                    under /= 2.0;
                }
            }
            rose = Some(off < 0.0);
        }
        Some((low + high) / 2.0)
    }

    /// Whether it is more than [`MOST_PER_GROUND`] of the ground.
    fn is_too_much(&self, lots: &[u32]) -> bool {
        let Some(room_m3) = self.room_m3 else {
            return false;
        };
        let each = self.sold.iter().zip(lots);
        let counted_m3: f64 = each
            .map(|((_, _, lot), count)| lot.counted_m3 * f64::from(*count))
            .sum();
        counted_m3 * self.used() > room_m3 * (1.0 + 1e-9)
    }

    /// What a purchase comes to, typical values; none where it makes no blend or is too much.
    pub fn values(&mut self, lots: &[u32]) -> Option<Values> {
        if self.is_too_much(lots) {
            return None;
        }
        let mut blends = 1;
        let recipe = self.filled(lots, &mut blends);
        self.judged += blends;
        let recipe = recipe?;
        let barrow = Barrow::of(&recipe).ok()?;
        let blend = Blend::of(&barrow, &recipe.soil);
        let masses = &blend.masses;
        let settled_m3 = blend.volumes.settled_m3;
        let counted_kg = masses.dry_kg - masses.coarse_kg;
        let chemistry = self
            .asks_chemistry
            .then(|| Chemistry::typical(&recipe, &barrow));
        let skeleton = &blend.skeleton;
        Some(Values {
            fractions_pct: masses.fractions_pct(),
            organic_matter_pct: 100.0 * masses.organic_kg / counted_kg,
            pore_space_pct: 100.0 * blend.pore_space(settled_m3),
            air_pct: 100.0 * blend.water.air(),
            bulk_density_kg_m3: blend.density_kg_m3(settled_m3),
            ph: chemistry.map_or(f64::NAN, |of| of.ph),
            ec_paste_ds_m: chemistry.map_or(f64::NAN, |of| of.ec_paste_ds_m),
            to_touch: skeleton
                .threshold
                .map(|threshold| skeleton.share - threshold)
                .or(skeleton.touching.map(|_| -1.0)),
            settled_m3,
            cost: self.cost(lots),
        })
    }

    /// Share of the draws in which a purchase is all that was wished for.
    pub fn odds(&mut self, lots: &[u32], strata: &mut Strata) -> Option<f64> {
        if self.is_too_much(lots) {
            return None;
        }
        let recipe = self.recipe(lots)?;
        self.judged += strata.draws() as u64 / DRAWS_PER_BLEND;
        let outcome = Outcome::drawn_from(&recipe, strata).ok()?;
        Some(self.odds_of(&outcome, self.cost(lots)))
    }

    /// The same of an outcome that is there already, and costs so much.
    pub fn odds_of(&self, outcome: &Outcome, cost: f64) -> f64 {
        // How much ground goes in is seen as it is filled in; what fills it over is no answer.
        let fills_over = self.wish.ground == GroundUse::ToFill
            && self.target_m3.is_some_and(|target_m3| {
                let settled_l = outcome.volume_l.settled.typical;
                settled_l / LITRES_PER_M3 * FILLED > target_m3
            });
        if fills_over {
            return 0.0;
        }
        let draws = outcome.drawn.column(Measure::Sand).len();
        let asked: Vec<OneWish> = self
            .wish
            .all()
            .into_iter()
            .filter(|one| *one != OneWish::Fill || self.wish.ground == GroundUse::All)
            .collect();
        let of = |measure: Measure, draw: usize| outcome.drawn.column(measure)[draw];
        let asks = outcome.skeleton.touching.is_some();
        let met = (0..draws).filter(|draw| {
            let of = |measure| of(measure, *draw);
            let fractions = [Measure::Sand, Measure::Silt, Measure::Clay].map(of);
            let threshold = of(Measure::Threshold);
            let values = Values {
                fractions_pct: fractions[0].is_finite().then_some(fractions),
                organic_matter_pct: of(Measure::OrganicMatter),
                pore_space_pct: of(Measure::SettledPores),
                air_pct: of(Measure::Air),
                bulk_density_kg_m3: of(Measure::SettledDensity),
                ph: of(Measure::Ph),
                ec_paste_ds_m: of(Measure::EcPaste),
                to_touch: asks.then(|| {
                    if threshold.is_finite() {
                        of(Measure::Share) - threshold
                    } else {
                        -1.0
                    }
                }),
                settled_m3: of(Measure::SettledVolume) / LITRES_PER_M3,
                cost,
            };
            asked.iter().all(|one| self.wish.miss(*one, &values) <= 0.0)
        });
        met.count() as f64 / draws.max(1) as f64
    }

    /// How far the draws of a purchase spread each figure.
    pub(super) fn spreads(&mut self, lots: &[u32], strata: &mut Strata) -> Option<Spreads> {
        let recipe = self.recipe(lots)?;
        let outcome = Outcome::drawn_from(&recipe, strata).ok()?;
        let spread = |of: Measure| spread(outcome.drawn.column(of));
        let mut of = Wished::ALL.iter().map(|of| match of {
            Wished::Sand => spread(Measure::Sand),
            Wished::Silt => spread(Measure::Silt),
            Wished::Clay => spread(Measure::Clay),
            Wished::OrganicMatter => spread(Measure::OrganicMatter),
            Wished::PoreSpace => spread(Measure::SettledPores),
            Wished::Air => spread(Measure::Air),
            Wished::Density => spread(Measure::SettledDensity),
            Wished::Ph => spread(Measure::Ph),
            Wished::Salt => spread(Measure::EcPaste),
            // Money is no draw: any cost within its limits will do.
            Wished::Cost => LEAST_SPREAD,
        });
        let all: [f64; WISHED] = std::array::from_fn(|_| of.next().unwrap_or(LEAST_SPREAD));
        Some(Spreads {
            of: all,
            texture_pct: all[Wished::Silt as usize].max(all[Wished::Clay as usize]),
            share: spread(Measure::Share),
            volume: spread(Measure::SettledVolume)
                / (outcome.volume_l.settled.typical).max(LEAST_SPREAD),
        })
    }

    /// Most lots of each that make sense: what there is, what the money buys, and no more than
    /// [`MOST_PER_GROUND`] of the ground or the volume to fill.
    pub fn most(&self) -> Vec<u32> {
        let budget = self.wish.band(Wished::Cost).most;
        let room_m3 = match self.wish.ground {
            // Packed, it takes less room than alone; twice is more than any blend shrinks.
            GroundUse::ToFill => self.target_m3.map(|m3| 2.0 * m3 / FILLED),
            GroundUse::All => self.room_m3,
        };
        let most = |at: usize| {
            let (_, offer, lot) = &self.sold[at];
            let parts = f64::from(self.parts_of(at));
            let mut lots = super::offer::LOTS_LIMIT;
            if let Some(told) = lot.most {
                lots = lots.min(f64::from(told));
            }
            if let Some(budget) = budget
                && lot.price > 0.0
            {
                lots = lots.min((budget - lot.delivery) / lot.price * (1.0 + 1e-9));
            }
            // The limit of a recipe's amounts.
            let one = offer.addition(&self.base, lot, 1.0, self.waste_pct).amount;
            lots = lots.min(crate::recipe::AMOUNT_LIMIT / one.value.max(1e-12));
            let mut most = lots.max(0.0).floor() * parts;
            if let Some(room_m3) = room_m3 {
                most = most.min(room_m3 / (lot.counted_m3 * self.used()) * parts);
            }
            most.floor() as u32
        };
        (0..self.sold.len()).map(most).collect()
    }

    /// The recipe without anything bought, and with one lot of each alone: for sums over masses.
    pub(super) fn alone(&self) -> (Option<Blend>, Vec<Option<Blend>>) {
        let blend = |recipe: &Recipe| {
            let barrow = Barrow::of(recipe).ok()?;
            Some(Blend::of(&barrow, &recipe.soil))
        };
        let bare = Recipe {
            additions: Vec::new(),
            ..self.base.clone()
        };
        let ground = blend(&bare);
        let nothing = Recipe {
            soil: Soil::Amount(Amount::new(0.0, Unit::Litre)),
            ..bare
        };
        let lot = |at: usize| {
            let mut one = vec![0; self.sold.len()];
            one[at] = 1;
            let mut recipe = nothing.clone();
            self.put(&mut recipe, &one);
            blend(&recipe)
        };
        (ground, (0..self.sold.len()).map(lot).collect())
    }

    /// One lot as a line of a recipe.
    fn line(&self, at: usize) -> Option<crate::blend::Line> {
        let mut one = vec![0; self.sold.len()];
        one[at] = 1;
        let mut recipe = Recipe {
            additions: Vec::new(),
            ..self.base.clone()
        };
        self.put(&mut recipe, &one);
        Barrow::of(&recipe).ok()?.lines.pop()
    }

    /// Pores between the grains of an offer that can form a skeleton, settled and alone.
    pub(super) fn carrying_porosity(&self, at: usize) -> Option<f64> {
        let line = self.line(at).filter(crate::blend::carries)?;
        let of = &line.material;
        Some(1.0 - of.settled_dry_density_kg_m3 / of.grain_density_kg_m3)
    }

    /// Dry and organic mass of one lot, kg.
    pub(super) fn masses(&self, at: usize) -> (f64, f64) {
        self.line(at).map_or((0.0, 0.0), |line| {
            (line.dry_kg, line.dry_kg * line.material.organic)
        })
    }

    /// The volume to fill, m3.
    pub(super) fn target_m3(&self) -> Option<f64> {
        self.target_m3
    }

    /// Room for all that is bought, m3; none where the ground fills up, or there is none.
    pub(super) fn room_m3(&self) -> Option<f64> {
        let bare = Recipe {
            additions: Vec::new(),
            ..self.base.clone()
        };
        let all = self.wish.ground == GroundUse::All;
        let ground_m3 = Barrow::of(&bare).map_or(0.0, |of| of.ground_loose_m3());
        (all && ground_m3 > 0.0).then_some(ground_m3 * MOST_PER_GROUND)
    }

    /// Share of what is bought that reaches the blend.
    pub(super) fn used(&self) -> f64 {
        1.0 - self.waste_pct * 0.01
    }
}

/// A spread of nothing, so that it can be divided by.
const LEAST_SPREAD: f64 = 1e-6;

/// Standard deviation of the draws that there are.
fn spread(values: &[f64]) -> f64 {
    let there = || values.iter().copied().filter(|value| value.is_finite());
    let count = there().count().max(1) as f64;
    let mean = there().sum::<f64>() / count;
    let square = there()
        .map(|value| (value - mean) * (value - mean))
        .sum::<f64>()
        / count;
    libm::sqrt(square).max(LEAST_SPREAD)
}

/// The recipe that purchases are put into: what lies on top stays. What stands beside the blend would
/// only be cloned with it, and what was measured was measured in another one.
pub fn without_purchase(recipe: &Recipe) -> Recipe {
    let additions = recipe.additions.iter();
    Recipe {
        additions: additions
            .filter(|addition| addition.is_on_top())
            .cloned()
            .collect(),
        measured: crate::recipe::Measured::default(),
        lectern: None,
        trial: None,
        shelf: None,
        errand: None,
        ..recipe.clone()
    }
}

/// Draws that take as long as one blend with its recipe.
const DRAWS_PER_BLEND: u64 = 2;

fn asks_chemistry(wish: &Wish) -> bool {
    [Wished::Ph, Wished::Salt]
        .into_iter()
        .any(|of| wish.band(of).asks())
}

fn target_m3(wish: &Wish) -> Option<f64> {
    wish.fill.as_ref().map(Amount::si)
}
