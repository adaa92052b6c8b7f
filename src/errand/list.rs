//! The list to take along: whole bags and loose loads, what is left over, what is carried, and what
//! it costs.

use super::bought::{HAIR, Sold, forgiven, from_own_lots, lots_of, of_all, whole};
use super::document::Errand;
use super::offer::{Lot, Offer, to_the_cent};
use super::work::{Dig, Work, work};
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
/// A factor nearer to 1 than this fills the place already (a choice: a tenth of a litre in a cubic
/// metre).
const FILLS_ALREADY: f64 = 1e-4;

/// What is bought, carried and done.
#[derive(Clone, Debug, PartialEq)]
pub struct List {
    /// What is to be bought, in the order of the recipe; several of a material that is bought in
    /// several ways.
    pub items: Vec<Item>,
    /// Ground that is dug and carried; none where it stays in its bed, or there is none.
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

/// One material, bought in one way.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// Its id.
    pub material: String,
    /// The additions that it is for.
    pub lines: Vec<usize>,
    /// What is needed of it, without waste.
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
    /// How many loads it comes in; none where it is carried home in bags.
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

impl Need {
    fn of(line: &Line) -> Need {
        Need {
            dry_kg: line.dry_kg,
            moist_kg: line.moist_kg,
            loose_m3: line.loose_m3,
        }
    }

    pub(super) fn add(&mut self, other: &Need) {
        self.dry_kg += other.dry_kg;
        self.moist_kg += other.moist_kg;
        self.loose_m3 += other.loose_m3;
    }

    fn share(&self, share: f64) -> Need {
        Need {
            dry_kg: self.dry_kg * share,
            moist_kg: self.moist_kg * share,
            loose_m3: self.loose_m3 * share,
        }
    }
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
        forgiven(loads).ceil()
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
        let own = recipe;
        let scaled;
        let (recipe, factor) = match fill_m3 {
            None => (recipe, 1.0),
            Some(target_m3) => {
                let (recipe, filled) = filled(recipe, target_m3)?;
                if (filled.factor - 1.0).abs() <= FILLS_ALREADY {
                    (own, 1.0)
                } else {
                    scaled = recipe;
                    (&scaled, filled.factor)
                }
            }
        };
        // What fills a volume is not dug in where it lies.
        let from_bed = fill_m3.and_then(|_| Dig::of(own, factor));
        let outcome = Outcome::drawn_from(recipe, strata)?;
        let barrow = &outcome.barrow;
        let mut items = Vec::new();
        for (material, lines) in materials(recipe, barrow) {
            items.extend(bought(recipe, errand, barrow, material, lines)?);
        }
        let delivery = to_the_cent(items.iter().map(|item| item.delivery).sum());
        Ok(List {
            cost: cost(&items, delivery),
            delivery,
            moist_kg: items.iter().map(|item| item.moist_kg).sum(),
            barrow_loads: items.iter().map(|item| item.barrow_loads).sum(),
            ground: dug(recipe, barrow, from_bed.is_some()),
            work: work(recipe, &outcome, from_bed),
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

fn dug(recipe: &Recipe, barrow: &Barrow, from_bed: bool) -> Option<Dug> {
    let is_taken = from_bed || matches!(recipe.soil, Soil::Amount(_));
    let is_carried = is_taken && barrow.ground_dry_kg > 0.0;
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

/// A material as it is bought: each line from its own offer where that is one and comes out in
/// whole lots, else the cheapest lots of all its offers together.
fn bought(
    recipe: &Recipe,
    errand: &Errand,
    barrow: &Barrow,
    material: &str,
    lines: Vec<usize>,
) -> Result<Vec<Item>, RecipeError> {
    let of = |line: &usize| -> Option<(&Line, &Addition)> {
        barrow.lines.get(*line).zip(recipe.additions.get(*line))
    };
    let needs: Vec<(usize, &Addition, Need)> = lines
        .iter()
        .filter_map(|at| of(at).map(|(line, addition)| (*at, addition, Need::of(line))))
        .collect();
    let mut need = Need::default();
    for (.., line) in &needs {
        need.add(line);
    }
    let waste = errand.waste_pct.unwrap_or(0.0) * 0.01;
    let mut sold = Vec::new();
    for (at, offer) in errand.offers.iter().enumerate() {
        if offer.material == material {
            let path = Path::from("errand").field("offers").item(at);
            sold.push(Sold::of(
                recipe,
                offer.clone(),
                Some(at),
                &path,
                &need,
                waste,
            )?);
        }
    }
    if let Some(own) = from_own_lots(&sold, &needs, waste) {
        return Ok(own
            .into_iter()
            .map(|own| {
                let exact = lots_of(&own.sold.lot, &own.need, waste);
                lots(own.sold, own.count, (exact, 0), own.lines, own.need, waste)
            })
            .collect());
    }
    // Without an offer the line's own bag and price say it, or those of the material.
    let found = recipe.find(material);
    let own = own_terms(found, lines.iter().filter_map(of));
    if sold.is_empty()
        && let Some(bag) = own.bag
    {
        let mut offer = Offer::new(material, bag.size.clone());
        offer.lot = bag.clone();
        offer.price = own.price.cloned();
        let at = lines.first().copied().unwrap_or_default();
        let path = Path::from("additions").item(at);
        sold.push(Sold::of(recipe, offer, None, &path, &need, waste)?);
    }
    if sold.is_empty() {
        return Ok(vec![loose(found, material, lines, need, waste, &own)]);
    }
    Ok(combined(&sold, &lines, need, waste))
}

/// The lots of all offers, what is left over being of the last.
fn combined(sold: &[Sold], lines: &[usize], need: Need, waste: f64) -> Vec<Item> {
    let (counts, is_enough) = of_all(sold);
    let last = counts.iter().rposition(|count| *count > 0).unwrap_or(0);
    let mut rest = 1.0;
    let mut items = Vec::new();
    for (at, (sold, count)) in sold.iter().zip(counts).enumerate() {
        if at == last {
            let exact = rest * sold.exact;
            let need = need.share(rest);
            let short = match is_enough {
                true => 0,
                false => whole(exact).saturating_sub(count),
            };
            items.push(lots(
                sold,
                count,
                (exact, short),
                lines.to_vec(),
                need,
                waste,
            ));
        } else if count > 0 {
            let share = f64::from(count) / sold.exact;
            rest -= share;
            let need = need.share(share);
            let exact = f64::from(count);
            items.push(lots(sold, count, (exact, 0), lines.to_vec(), need, waste));
        }
    }
    items
}

/// So many lots of an offer, for a need that takes `exact` of them, and how many more there should
/// be.
fn lots(
    sold: &Sold,
    count: u32,
    (exact, short): (f64, u32),
    lines: Vec<usize>,
    need: Need,
    waste: f64,
) -> Item {
    let (offer, lot) = (&sold.offer, sold.lot);
    let lots = f64::from(count);
    let (moist_kg, loose_m3) = (lots * lot.moist_kg, lots * lot.loose_m3);
    // What is forgiven is neither left nor lacking.
    let left = lots - exact;
    let is_even = left.abs() <= 2.0 * HAIR * sold.exact.max(1.0);
    let left = if is_even { 0.0 } else { left * (1.0 - waste) };
    let is_brought = offer.loose || offer.delivery.is_some();
    let loads = if is_brought { lot.loads(count) } else { 0 };
    Item {
        material: offer.material.clone(),
        lines,
        need,
        moist_kg,
        loose_m3,
        left_kg: left * lot.moist_kg,
        left_m3: left * lot.counted_m3,
        cost: sold
            .is_priced
            .then(|| Figure::exact(to_the_cent(lot.price * lots))),
        delivery: to_the_cent(lot.delivery * f64::from(loads)),
        loads,
        barrow_loads: barrow_loads(moist_kg, loose_m3),
        invented: offer.invented,
        buy: Buy::Lots {
            count,
            exact,
            size: offer.lot.clone(),
            lot,
            loose: offer.loose,
            offer: sold.at,
            short,
        },
    }
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
    let left = if left.abs() <= HAIR { 0.0 } else { left };
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
        forgiven(value * scale).ceil() / scale
    } else {
        forgiven(value / scale).ceil() * scale
    }
}
