//! The list to take along: whole bags and loose loads, what is left over, what is carried, and what
//! it costs.

use super::document::Errand;
use super::offer::{Lot, Offer, to_the_cent};
use super::work::{Work, work};
use crate::blend::fill::{FillFault, filled};
use crate::blend::{Barrow, Line};
use crate::draws::Strata;
use crate::figure::Figure;
use crate::material::Property;
use crate::outcome::Outcome;
use crate::quantity::{Dimension, LITRES_PER_M3, magnitude, ten_to};
use crate::recipe::{Addition, Bag, Found, Path, Price, Recipe, RecipeError, Soil};

/// A load of a wheelbarrow, L: filled level (common practice: builders' barrows hold 60 to 65 L
/// level and 85 to 90 heaped).
pub const BARROW_L: f64 = 60.0;
/// The most that it is loaded with, kg (a choice: what one person wheels over soft ground).
pub const BARROW_KG: f64 = 60.0;
/// Digits of an amount that is poured loose, rounded up (a choice: what a seller's bucket can tell).
const LOOSE_DIGITS: i32 = 2;
/// So much of a bag, or of a step, is no reason for another: rounding, not soil.
const HAIR: f64 = 1e-9;

/// What is bought, carried and done.
#[derive(Clone, Debug, PartialEq)]
pub struct List {
    /// What is to be bought, in the order of the recipe.
    pub items: Vec<Item>,
    /// Ground that is dug and carried; none where it is a bed, or there is none.
    pub ground: Option<Dug>,
    /// Money for all of it with what bringing it costs; none where a price is missing.
    pub cost: Option<Figure>,
    /// Money for bringing it.
    pub delivery: f64,
    /// What is bought, kg.
    pub moist_kg: f64,
    /// Barrow-loads of it.
    pub barrow_loads: f64,
    /// What every amount of the recipe was multiplied by to fill the place.
    pub factor: f64,
    /// How the work goes.
    pub work: Work,
}

/// One material that is bought.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// Its id.
    pub material: String,
    /// The additions that it is for.
    pub lines: Vec<usize>,
    /// What is needed, without waste.
    pub need: Need,
    /// How it is bought.
    pub buy: Buy,
    /// What is bought, kg as sold.
    pub moist_kg: f64,
    /// What is bought, loose, as sold, m3.
    pub loose_m3: f64,
    /// What is left over once waste is taken off, kg as sold; less than nothing where too little is
    /// on sale.
    pub left_kg: f64,
    /// The same as a loose volume, m3.
    pub left_m3: f64,
    /// Money without bringing it; none without a price.
    pub cost: Option<Figure>,
    /// Money for bringing it.
    pub delivery: f64,
    /// How many loads it comes in.
    pub loads: u32,
    /// Barrow-loads of it.
    pub barrow_loads: f64,
    /// Whether its price was invented.
    pub invented: bool,
}

/// So much of a material.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Need {
    /// Oven-dry, kg.
    pub dry_kg: f64,
    /// As the recipe has it, kg.
    pub moist_kg: f64,
    /// Loose, as the recipe has it, m3.
    pub loose_m3: f64,
}

/// How a material is bought.
#[derive(Clone, Debug, PartialEq)]
pub enum Buy {
    /// In whole bags or lots.
    Lots {
        /// How many.
        count: u32,
        /// How many are needed, with waste.
        exact: f64,
        /// As printed.
        size: Bag,
        /// What one holds.
        lot: Lot,
        /// Poured loose, not in bags.
        loose: bool,
        /// Which offer it is; none where the recipe's line says it.
        offer: Option<usize>,
        /// How many more would be needed than there are.
        short: u32,
    },
    /// Loose, by mass, kg.
    Mass(f64),
    /// Loose, by volume, m3.
    Volume(f64),
}

/// Ground that is dug and carried.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dug {
    /// Moist, as dug, kg.
    pub moist_kg: f64,
    /// Loose, m3.
    pub loose_m3: f64,
    /// Barrow-loads of it.
    pub barrow_loads: f64,
}

/// Why there is no list.
#[derive(Clone, Debug, PartialEq)]
pub enum ListFault {
    /// A fault of the recipe, or of an offer, with the path of its field.
    Recipe(RecipeError),
    /// A place that cannot be filled.
    Fill(FillFault),
}

impl From<RecipeError> for ListFault {
    fn from(error: RecipeError) -> ListFault {
        ListFault::Recipe(error)
    }
}

impl From<FillFault> for ListFault {
    fn from(fault: FillFault) -> ListFault {
        match fault {
            FillFault::Recipe(error) => ListFault::Recipe(error),
            fault => ListFault::Fill(fault),
        }
    }
}

/// Barrow-loads of a mass and a loose volume: whichever fills it first, whole loads.
pub fn barrow_loads(moist_kg: f64, loose_m3: f64) -> f64 {
    let loads = (moist_kg / BARROW_KG).max(loose_m3 * LITRES_PER_M3 / BARROW_L);
    if loads > 0.0 {
        (loads - HAIR).ceil()
    } else {
        0.0
    }
}

impl List {
    /// The list of a recipe with what is on sale, for its amounts as they stand or for a settled
    /// volume, m3.
    ///
    /// # Errors
    /// A fault of the recipe or of an offer, with the path of its field, or a volume that cannot be
    /// filled.
    pub fn of(
        recipe: &Recipe,
        errand: &Errand,
        fill_m3: Option<f64>,
        strata: &mut Strata,
    ) -> Result<List, ListFault> {
        let scaled;
        let (recipe, factor) = match fill_m3 {
            None => (recipe, 1.0),
            Some(target_m3) => {
                let (recipe, filled) = filled(recipe, target_m3)?;
                scaled = recipe;
                (&scaled, filled.factor)
            }
        };
        let outcome = Outcome::drawn_from(recipe, strata)?;
        let barrow = &outcome.barrow;
        let mut items = Vec::new();
        for (material, lines) in materials(recipe, barrow) {
            items.push(item(recipe, errand, barrow, material, lines)?);
        }
        let delivery = to_the_cent(items.iter().map(|item| item.delivery).sum());
        Ok(List {
            cost: cost(&items, delivery),
            delivery,
            moist_kg: items.iter().map(|item| item.moist_kg).sum(),
            barrow_loads: items.iter().map(|item| item.barrow_loads).sum(),
            ground: dug(recipe, barrow),
            work: work(recipe, &outcome),
            items,
            factor,
        })
    }
}

/// The materials of a recipe that are used, in its order, each with its lines.
fn materials<'a>(recipe: &'a Recipe, barrow: &Barrow) -> Vec<(&'a str, Vec<usize>)> {
    let mut found: Vec<(&str, Vec<usize>)> = Vec::new();
    for (at, (addition, line)) in recipe.additions.iter().zip(&barrow.lines).enumerate() {
        let known = found
            .iter_mut()
            .find(|(material, _)| *material == addition.material);
        match known {
            _ if line.moist_kg <= 0.0 => {}
            Some((_, lines)) => lines.push(at),
            None => found.push((&addition.material, vec![at])),
        }
    }
    found
}

fn cost(items: &[Item], delivery: f64) -> Option<Figure> {
    let mut sum = [delivery; 3];
    let mut doubt = false;
    for item in items {
        let cost = item.cost?;
        let ends = cost.ends();
        doubt |= cost.is_in_doubt();
        for (sum, value) in sum.iter_mut().zip([ends.low, cost.typical, ends.high]) {
            *sum += value;
        }
    }
    let [low, typical, high] = sum.map(to_the_cent);
    Some(if doubt {
        Figure::between(low, typical, high)
    } else {
        Figure::exact(typical)
    })
}

fn dug(recipe: &Recipe, barrow: &Barrow) -> Option<Dug> {
    let is_carried = matches!(recipe.soil, Soil::Amount(_)) && barrow.ground_dry_kg > 0.0;
    is_carried.then(|| {
        let moist_kg = barrow.ground_dry_kg * (1.0 + barrow.ground.water_per_dry);
        let loose_m3 = barrow.ground_loose_m3();
        Dug {
            moist_kg,
            loose_m3,
            barrow_loads: barrow_loads(moist_kg, loose_m3),
        }
    })
}

fn item(
    recipe: &Recipe,
    errand: &Errand,
    barrow: &Barrow,
    material: &str,
    lines: Vec<usize>,
) -> Result<Item, RecipeError> {
    let mut need = Need::default();
    let of = |line: &usize| -> Option<(&Line, &Addition)> {
        barrow.lines.get(*line).zip(recipe.additions.get(*line))
    };
    for (line, _) in lines.iter().filter_map(of) {
        need.dry_kg += line.dry_kg;
        need.moist_kg += line.moist_kg;
        need.loose_m3 += line.loose_m3;
    }
    let waste = errand.waste_pct.unwrap_or(0.0) * 0.01;
    let found = recipe.find(material);
    let mut best: Option<Bought> = None;
    for (at, offer) in errand.offers.iter().enumerate() {
        if offer.material == material {
            let path = Path::from("errand").field("offers").item(at);
            let bought = Bought::of(recipe, offer, Some(at), &path, &need, waste)?;
            if best.as_ref().is_none_or(|best| bought.is_better(best)) {
                best = Some(bought);
            }
        }
    }
    // Without an offer the line's own bag and price say it, or those of the material.
    let own = own_terms(found, lines.iter().filter_map(of));
    if best.is_none()
        && let Some(bag) = own.bag
    {
        let mut offer = Offer::new(material, bag.size.clone());
        offer.lot = bag.clone();
        offer.price = own.price.cloned();
        let at = lines.first().copied().unwrap_or_default();
        let path = Path::from("additions").item(at);
        best = Some(Bought::of(recipe, &offer, None, &path, &need, waste)?);
    }
    Ok(match best {
        Some(bought) => bought.item(material, lines, need, waste),
        None => loose(found, material, lines, need, waste, &own),
    })
}

/// Bag and price of a material where it has no offer.
struct Own<'a> {
    bag: Option<&'a Bag>,
    price: Option<&'a Price>,
    /// Whether the amounts are masses.
    by_mass: bool,
}

fn own_terms<'a>(
    found: Option<Found<'a>>,
    lines: impl Iterator<Item = (&'a Line, &'a Addition)>,
) -> Own<'a> {
    let mut own = Own {
        bag: None,
        price: None,
        by_mass: true,
    };
    for (_, addition) in lines {
        own.bag = own.bag.or(addition.bag.as_ref());
        own.price = own.price.or(addition.price.as_ref());
        let dimension = addition.amount.unit.dimension();
        own.by_mass &= matches!(
            dimension,
            Dimension::Mass | Dimension::MassPerArea | Dimension::MassPerVolume
        );
    }
    if let Some(Found::Own(material, _)) = found {
        own.bag = own.bag.or(material.bag.as_ref());
        own.price = own.price.or(material.price.as_ref());
    }
    own
}

/// Lots of one offer that cover a need, as far as there are so many.
struct Bought {
    offer: Offer,
    at: Option<usize>,
    lot: Lot,
    exact: f64,
    count: u32,
    short: u32,
    cost: Option<f64>,
}

impl Bought {
    fn of(
        recipe: &Recipe,
        offer: &Offer,
        at: Option<usize>,
        path: &Path,
        need: &Need,
        waste: f64,
    ) -> Result<Bought, RecipeError> {
        let is_priced = offer.price.is_some();
        let lot = if is_priced {
            offer.lot(recipe, path)?
        } else {
            offer.contents(recipe, path)?
        };
        // Dry matter is what the blend gets, however wet it is sold.
        let used = if lot.dry_kg > 0.0 && need.dry_kg > 0.0 {
            need.dry_kg / lot.dry_kg
        } else {
            need.loose_m3 / lot.counted_m3
        };
        let exact = used / (1.0 - waste);
        let wanted = whole(exact);
        let count = lot.most.map_or(wanted, |most| wanted.min(most));
        Ok(Bought {
            offer: offer.clone(),
            at,
            exact,
            count,
            short: wanted - count,
            cost: is_priced.then(|| lot.cost(count)),
            lot,
        })
    }

    /// Whether it is to be bought rather than another: what is enough first, then what has a price,
    /// then what costs less, then what is less to carry.
    fn is_better(&self, other: &Bought) -> bool {
        if (self.short == 0) != (other.short == 0) {
            return self.short == 0;
        }
        if self.short > 0 {
            let covers = |bought: &Bought| f64::from(bought.count) / bought.exact;
            return covers(self) > covers(other);
        }
        match (self.cost, other.cost) {
            (Some(cost), Some(known)) if cost != known => cost < known,
            (Some(_), None) => true,
            (None, Some(_)) => false,
            _ => self.moist_kg() < other.moist_kg(),
        }
    }

    fn moist_kg(&self) -> f64 {
        f64::from(self.count) * self.lot.moist_kg
    }

    fn item(self, material: &str, lines: Vec<usize>, need: Need, waste: f64) -> Item {
        let count = f64::from(self.count);
        let moist_kg = self.moist_kg();
        let loose_m3 = count * self.lot.loose_m3;
        let left = (count - self.exact) * (1.0 - waste);
        let loads = self.lot.loads(self.count);
        let delivery = to_the_cent(self.lot.delivery * f64::from(loads));
        let cost = self.cost.map(|_| to_the_cent(self.lot.price * count));
        Item {
            material: material.to_owned(),
            lines,
            need,
            moist_kg,
            loose_m3,
            left_kg: left * self.lot.moist_kg,
            left_m3: left * self.lot.counted_m3,
            cost: cost.map(Figure::exact),
            delivery,
            loads,
            barrow_loads: barrow_loads(moist_kg, loose_m3),
            invented: self.offer.invented,
            buy: Buy::Lots {
                count: self.count,
                exact: self.exact,
                size: self.offer.lot,
                lot: self.lot,
                loose: self.offer.loose,
                offer: self.at,
                short: self.short,
            },
        }
    }
}

/// Whole lots that cover so many.
fn whole(exact: f64) -> u32 {
    // What is no number, or more than anyone counts, ends at the last.
    (exact * (1.0 - HAIR)).ceil() as u32
}

/// What is poured loose, of which no bag or lot is known.
fn loose(
    found: Option<Found<'_>>,
    material: &str,
    lines: Vec<usize>,
    need: Need,
    waste: f64,
    own: &Own<'_>,
) -> Item {
    let by_mass = match own.price {
        Some(price) => price.per.unit.dimension() == Dimension::Mass,
        None => own.by_mass,
    };
    let kept = 1.0 - waste;
    let (buy, share) = if by_mass {
        let kg = rounded_up(need.moist_kg / kept);
        (Buy::Mass(kg), kg / need.moist_kg)
    } else {
        let m3 = rounded_up(need.loose_m3 * LITRES_PER_M3 / kept) / LITRES_PER_M3;
        (Buy::Volume(m3), m3 / need.loose_m3)
    };
    let (moist_kg, loose_m3) = (share * need.moist_kg, share * need.loose_m3);
    let left = share * kept - 1.0;
    let cost = own.price.map(|price| {
        let (amount, other) = if by_mass {
            (moist_kg, own.by_mass)
        } else {
            (loose_m3, !own.by_mass)
        };
        let money = |share: f64| to_the_cent(price.value * amount * share / price.per.si());
        // Weighed or measured as the recipe counts it, there is nothing to doubt; else as much as
        // there is of the density.
        let density = found.and_then(|found| found.properties().get(Property::LooseDensity));
        match density.filter(|density| !other && density.is_in_doubt()) {
            None => Figure::exact(money(1.0)),
            Some(density) => {
                let ends = density.ends();
                let share = |kg_m3: f64| {
                    if by_mass {
                        kg_m3 / density.typical
                    } else {
                        density.typical / kg_m3
                    }
                };
                let (one, two) = (money(share(ends.low)), money(share(ends.high)));
                Figure::between(one.min(two), money(1.0), one.max(two))
            }
        }
    });
    Item {
        material: material.to_owned(),
        lines,
        need,
        buy,
        moist_kg,
        loose_m3,
        left_kg: left * need.moist_kg,
        left_m3: left * need.loose_m3,
        cost,
        delivery: 0.0,
        loads: 0,
        barrow_loads: barrow_loads(moist_kg, loose_m3),
        invented: false,
    }
}

/// A number rounded up to what can be measured.
fn rounded_up(value: f64) -> f64 {
    if value <= 0.0 || !value.is_finite() {
        return 0.0;
    }
    let power = LOOSE_DIGITS - 1 - magnitude(value);
    let scale = ten_to(power.abs());
    if power >= 0 {
        (value * scale * (1.0 - HAIR)).ceil() / scale
    } else {
        (value / scale * (1.0 - HAIR)).ceil() * scale
    }
}
