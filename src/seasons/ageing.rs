//! The same recipe as the years leave it, as a recipe.

use super::climate::Climate;
use super::matter::{Ledger, Left, Matter};
use super::{SeasonsError, TopUp, check};
use crate::blend::Line;
use crate::figure::{Figure, within};
use crate::ground::{Ground, Trait};
use crate::material::{Properties, Property, solid_density_kg_m3};
use crate::quantity::{Dimension, LITRES_PER_M3, Unit, round_significant};
use crate::recipe::{
    ADDITIONS_LIMIT, AMOUNT_LIMIT, Addition, Amount, Fault, Found, Kept, Measured, OwnMaterial,
    Price, Recipe, RecipeError, Soil,
};

/// Properties whose mass stays while organic matter goes; of salt, as if none were washed out.
const STAYS: [Property; 7] = [
    Property::Ec1To5,
    Property::Phosphorus,
    Property::Potassium,
    Property::Sodium,
    Property::CarbonateEquivalent,
    Property::Gypsum,
    Property::Sulfur,
];
/// Digits that prices of aged lines keep, so that lines of one price stay of one price.
const PRICE_DIGITS: usize = 12;

/// The recipe after so many years. Mineral mass stays; organic matter goes by its pools, that of
/// the ground as humus. Every addition becomes an own material of the same id and an absolute
/// volume; the pore space of each material stays, so that its volume follows its solids. What was
/// measured was measured today, and is left out. After no time it is the recipe itself.
///
/// # Errors
/// Years or a climate outside their limits, and the first fault of the recipe.
pub fn aged(recipe: &Recipe, years: f64, climate: &Climate) -> Result<Recipe, SeasonsError> {
    aged_with(recipe, years, climate, None)
}

/// The same with something mixed in at the end of every so many years.
///
/// # Errors
/// As [`aged`], and what is wrong with the top-up.
pub fn aged_with(
    recipe: &Recipe,
    years: f64,
    climate: &Climate,
    top_up: Option<&TopUp>,
) -> Result<Recipe, SeasonsError> {
    check(years, climate, top_up)?;
    if years == 0.0 {
        return Ok(recipe.clone());
    }
    let ledger = Ledger::of(recipe, years, top_up)?;
    let mut out = recipe.clone();
    out.measured = Measured::default();
    age_ground(recipe, &ledger, climate, &mut out)?;
    age_additions(recipe, &ledger, climate, &mut out)?;
    Ok(out)
}

/// How a dry mass and its solids change.
#[derive(Clone, Copy)]
struct Change {
    /// Dry mass over what it was.
    mass: f64,
    /// Density of the solids over what it was.
    density: f64,
}

impl Matter {
    /// Dry mass left, of what was given, where so much of organic matter and char is left.
    fn mass(&self, organic: f64, char: f64) -> f64 {
        self.organic * organic + self.char * char + self.mineral()
    }

    /// Organic matter as it is then, of dry mass, if it was so much and so much of it is left.
    fn organic_then(&self, organic: f64, left: f64, char_left: f64) -> f64 {
        let mineral = (1.0 - organic - self.char).max(0.0);
        organic * left / (organic * left + self.char * char_left + mineral)
    }

    fn change(&self, left: &Left, fractions: [f64; 3]) -> Change {
        let (organic, char) = (left.organic.typical, left.char.typical);
        let mass = self.mass(organic, char);
        let then = [self.organic * organic / mass, self.char * char / mass];
        let solid = |[organic, char]: [f64; 2]| solid_density_kg_m3(organic, char, fractions);
        Change {
            mass,
            density: solid(then) / solid([self.organic, self.char]),
        }
    }
}

/// A figure about a value, with arms in quadrature, within limits.
fn with_arms(typical: f64, arms: &[[f64; 2]], (low, high): (f64, f64)) -> Figure {
    let arm = |at: usize| {
        let sum: f64 = arms.iter().map(|arm| arm[at] * arm[at]).sum();
        sum.sqrt()
    };
    let (below, above) = (typical - arm(0), typical + arm(1));
    if below == typical && above == typical {
        return Figure::exact(typical);
    }
    Figure::between(
        within(below, low, typical),
        typical,
        within(above, typical, high),
    )
}

/// How far a value is from a figure's, down and up.
fn arms_of(typical: f64, [low, high]: [f64; 2]) -> [f64; 2] {
    [(typical - low).max(0.0), (high - typical).max(0.0)]
}

fn age_ground(
    recipe: &Recipe,
    ledger: &Ledger,
    climate: &Climate,
    out: &mut Recipe,
) -> Result<(), SeasonsError> {
    let (ground, dry_kg) = (&ledger.barrow.ground, ledger.barrow.ground_dry_kg);
    let matter = &ledger.matters[0];
    let left = matter.left(climate);
    let then = |organic: f64, left: f64| matter.organic_then(organic, left, 1.0);
    let typical = then(ground.organic, left.organic.typical);
    let (today, kept) = (matter.organic_figure.ends(), left.organic.ends());
    let arms = [
        arms_of(
            typical,
            [today.low, today.high].map(|organic| then(organic, left.organic.typical)),
        ),
        arms_of(
            typical,
            [kept.low, kept.high].map(|left| then(ground.organic, left)),
        ),
    ];
    let organic = with_arms(typical, &arms, (0.0, 1.0)).map(|share| share * 100.0);
    out.ground.set(Trait::OrganicMatter, Some(organic));
    let fine = matter.mass(left.organic.typical, 1.0);
    let gravel = |share: f64| share / (share + (1.0 - share) * fine);
    if let Some(figure) = recipe.ground.get(Trait::Gravel) {
        let then = figure.map(|pct| 100.0 * gravel(pct * 0.01));
        out.ground.set(Trait::Gravel, Some(then));
    }
    let whole = |out: &Recipe| Ground::of(&out.ground).map_err(ground_fault);
    if let Some(density) = recipe.ground.get(Trait::BulkDensity) {
        // Its pore space stays.
        let mut bare = out.ground.clone();
        bare.set(Trait::BulkDensity, None);
        let solid = Ground::of(&bare).map_err(ground_fault)?.solid_density_kg_m3;
        let factor = solid / ground.solid_density_kg_m3;
        let (low, high) = Trait::BulkDensity.limits();
        let then = density.map(|kg_m3| within(kg_m3 * factor, low, high));
        out.ground.set(Trait::BulkDensity, Some(then));
    }
    let then = whole(out)?;
    for of in [Trait::Ec1To5, Trait::Ec1To2, Trait::EcSaturatedPaste] {
        // Salt stays. 1:2 counts by volume.
        let over = match of {
            Trait::Ec1To2 => then.lying_density_kg_m3 / ground.lying_density_kg_m3,
            _ => 1.0,
        };
        let (low, high) = of.limits();
        let salt = recipe.ground.get(of);
        let salt = salt.map(|figure| figure.map(|ec| within(ec * over / fine, low, high)));
        out.ground.set(of, salt);
    }
    let dry_kg = dry_kg * (ground.gravel + (1.0 - ground.gravel) * fine);
    let held = |value: f64| value.min(AMOUNT_LIMIT);
    let lying_m3 = dry_kg / then.lying_density_kg_m3;
    match &mut out.soil {
        Soil::Amount(amount) if amount.unit.dimension() == Dimension::Mass => {
            amount.value = held(dry_kg * (1.0 + then.water_per_dry) / amount.unit.factor());
        }
        Soil::Amount(amount) => amount.value = held(lying_m3 / amount.unit.factor()),
        Soil::Bed { area, depth, .. } => {
            let area_m2 = area.si();
            if area_m2 > 0.0 {
                depth.value = held(lying_m3 / area_m2 / depth.unit.factor());
            }
        }
    }
    Ok(())
}

fn ground_fault(fault: crate::ground::GroundFault) -> SeasonsError {
    SeasonsError::Recipe(RecipeError {
        path: "ground.bulk_density_kg_m3".into(),
        fault: Fault::Ground(fault),
    })
}

fn age_additions(
    recipe: &Recipe,
    ledger: &Ledger,
    climate: &Climate,
    out: &mut Recipe,
) -> Result<(), SeasonsError> {
    let mut materials: Vec<OwnMaterial> = Vec::new();
    let mut changes = Vec::new();
    for matter in &ledger.matters[1..] {
        let Some((id, found)) = matter
            .id
            .as_deref()
            .and_then(|id| Some((id, recipe.find(id)?)))
        else {
            continue;
        };
        let material = found.material().map_err(|misfit| {
            SeasonsError::Recipe(RecipeError {
                path: "materials".into(),
                fault: Fault::Misfit(misfit),
            })
        })?;
        let by_volume = recipe
            .additions
            .iter()
            .any(|addition| addition.material == id && !is_by_mass(addition, found))
            || ledger.topped_id == id;
        let left = matter.left(climate);
        let change = limited(found, matter.change(&left, material.fractions));
        let mut own = own_of(id, found);
        age_material(&mut own, matter, &left, change, by_volume);
        if found.group().is_organic() {
            // What exchanges and buffers is the organic matter; of minerals it stays.
            let left = matter.both_left(&climate.typical()) / change.mass;
            scale(&mut own.properties, Property::Cec, left);
            scale(&mut own.properties, Property::Buffer, left);
        }
        if let Some(figure) = own.properties.get(Property::Nitrogen) {
            let (typical, ends) = (figure.typical, figure.ends());
            let narrower = matter.narrower_by_lots(&climate.typical());
            let arms = arms_of(typical, [ends.low, ends.high]).map(|arm| arm * narrower);
            let then = with_arms(typical, &[arms], Property::Nitrogen.limits());
            own.properties.set(Property::Nitrogen, Some(then));
        }
        if let Some(kept) = matter.kept_next_year_pct(climate) {
            let kept = kept.map(|pct| within(pct, 0.0, 100.0));
            own.properties.set(Property::KeptAfterYear1, Some(kept));
        }
        materials.push(own);
        changes.push((id, change));
    }
    let change_of = |id: &str| {
        let found = changes.iter().find(|(other, _)| *other == id);
        found.map(|(_, change)| *change)
    };
    for (addition, line) in out.additions.iter_mut().zip(&ledger.barrow.lines) {
        let Some(change) = change_of(&addition.material) else {
            continue;
        };
        let then_m3 = line.loose_m3 * change.mass / change.density;
        addition.amount = litres(then_m3);
        if then_m3 > 0.0 {
            addition.bag = None;
            addition.price = line.cost.map(|cost| price(cost, &addition.amount));
        }
    }
    if let Some(topped) = &ledger.topped {
        mix_in(ledger, topped, change_of, out)?;
    }
    out.materials = materials;
    Ok(())
}

/// Puts all top-ups into the first mixed line of their material, or into one of their own; a mulch
/// of it stays one.
fn mix_in(
    ledger: &Ledger,
    topped: &Line,
    change_of: impl Fn(&str) -> Option<Change>,
    out: &mut Recipe,
) -> Result<(), SeasonsError> {
    let id = ledger.topped_id.as_str();
    let Some(change) = change_of(id) else {
        return Ok(());
    };
    let dry_kg_m3 = topped.material.fresh_dry_density_kg_m3;
    let fresh_m3 = if topped.dry_kg > 0.0 {
        ledger.topped_kg / dry_kg_m3
    } else {
        0.0
    };
    let mixed = |addition: &Addition| addition.material == id && !addition.is_on_top();
    let then_m3 = fresh_m3 * change.mass / change.density;
    match out.additions.iter().position(mixed) {
        Some(at) => {
            let addition = &mut out.additions[at];
            // By its own moisture, if it has one: the dry mass is what is added.
            let line = &ledger.barrow.lines[at].material;
            let own = dry_kg_m3 / line.fresh_dry_density_kg_m3;
            let own = if own.is_finite() { own } else { 1.0 };
            let before_m3 = addition.amount.si();
            addition.amount = litres(before_m3 + then_m3 * own);
        }
        None if out.additions.len() >= ADDITIONS_LIMIT => {
            let limit = ADDITIONS_LIMIT;
            return Err(SeasonsError::TopUp(RecipeError {
                path: "additions".into(),
                fault: Fault::TooMany { limit },
            }));
        }
        None => out.additions.push(Addition::new(id, litres(then_m3))),
    }
    Ok(())
}

/// Whether a line's mass is known, and not its volume.
fn is_by_mass(addition: &Addition, found: Found<'_>) -> bool {
    match addition.amount.unit.dimension() {
        Dimension::Mass
        | Dimension::MassPerArea
        | Dimension::MassPerVolume
        | Dimension::ShareOfMass => true,
        Dimension::Bag => {
            let own = match found {
                Found::Own(own, _) => own.bag.as_ref(),
                Found::Catalogue(_) => None,
            };
            let bag = addition.bag.as_ref().or(own);
            bag.is_some_and(|bag| {
                bag.size.unit.dimension() == Dimension::Mass && bag.expands.is_none()
            })
        }
        _ => false,
    }
}

/// A volume in litres, or in cubic metres where that passes what can be typed.
fn litres(m3: f64) -> Amount {
    let value = m3 * LITRES_PER_M3;
    if value <= AMOUNT_LIMIT {
        Amount::new(value, Unit::Litre)
    } else {
        Amount::new(m3, Unit::CubicMetre)
    }
}

/// What a line cost, as a price for what is left of it.
fn price(cost: f64, amount: &Amount) -> Price {
    let value = round_significant(cost / amount.value, PRICE_DIGITS);
    Price {
        value: within(value, 0.0, AMOUNT_LIMIT),
        per: Amount::new(1.0, amount.unit),
        kept: Kept::new(),
    }
}

/// The own material that a material becomes.
fn own_of(id: &str, found: Found<'_>) -> OwnMaterial {
    match found {
        Found::Own(own, _) => own.clone(),
        Found::Catalogue(entry) => OwnMaterial {
            id: id.to_owned(),
            name: Some(entry.told().to_owned()),
            group: Some(entry.group),
            properties: entry.properties.clone(),
            ranges_kept: Vec::new(),
            bag: None,
            price: None,
            kept: Kept::new(),
        },
    }
}

/// Densities that go up together as far as each of them can.
const DENSITIES: [Property; 4] = [
    Property::LooseDensity,
    Property::SettledDryDensity,
    Property::GrainDensity,
    Property::SolidDensity,
];

fn limited(found: Found<'_>, change: Change) -> Change {
    let mut density = change.density;
    for of in DENSITIES {
        if let Some(typical) = found.properties().typical(of) {
            let (low, high) = of.limits();
            density = density.min(high / typical).max(low / typical);
        }
    }
    Change { density, ..change }
}

/// A material's numbers after the years.
fn age_material(
    own: &mut OwnMaterial,
    matter: &Matter,
    left: &Left,
    change: Change,
    by_volume: bool,
) {
    let properties = &mut own.properties;
    let was = properties.clone();
    let (organic, char) = (left.organic.typical, left.char.typical);
    let (organic_ends, char_ends) = (left.organic.ends(), left.char.ends());
    let mass_at = [
        matter.mass(organic_ends.low, char_ends.low),
        matter.mass(organic_ends.high, char_ends.high),
    ];
    // What is not known of the mass that is left lies in the density of the volume that it fills.
    let mass_arms = arms_of(1.0, mass_at.map(|mass| mass / change.mass));
    for of in DENSITIES {
        if let Some(figure) = was.get(of) {
            let (low, high) = of.limits();
            let typical = within(figure.typical * change.density, low, high);
            let ends = figure.ends();
            let drawn = of != Property::LooseDensity || by_volume;
            let own = arms_of(figure.typical, [ends.low, ends.high]);
            let own = own.map(|arm| if drawn { arm * change.density } else { 0.0 });
            let mass = match of {
                Property::LooseDensity => mass_arms.map(|arm| arm * typical),
                _ => [0.0; 2],
            };
            let then = with_arms(typical, &[own, mass], (low, high));
            properties.set(of, Some(then));
        }
    }
    let share = |of: Property| was.get(of).map(|figure| figure.map(|pct| pct * 0.01));
    // The share carries what the density does not of the doubt on what is left.
    let rest = |left: f64, ends: [f64; 2]| {
        let logs = |ratio: f64| libm::log(ratio.max(1e-9));
        let of = |at: usize| {
            let (whole, told) = (logs(ends[at] / left), logs(mass_at[at] / change.mass));
            (whole * whole - told * told).max(0.0).sqrt()
        };
        [libm::exp(-of(0)), libm::exp(of(1))]
    };
    if share(Property::OrganicMatter).is_some() {
        let typical = matter.organic * organic / change.mass;
        let today = matter.organic_figure.ends();
        let arms = [
            arms_of(
                typical,
                [today.low, today.high].map(|share| matter.organic_then(share, organic, char)),
            ),
            arms_of(
                typical,
                rest(organic, [organic_ends.low, organic_ends.high]).map(|factor| typical * factor),
            ),
        ];
        let then = with_arms(typical, &arms, (0.0, 1.0));
        properties.set(Property::OrganicMatter, Some(percent(then)));
    }
    if let Some(figure) = share(Property::Char) {
        let typical = matter.char * char / change.mass;
        let ends = figure.ends();
        let of = |share: f64| typical * share / figure.typical.max(1e-9);
        let arms = [
            arms_of(typical, [of(ends.low), of(ends.high)]),
            arms_of(
                typical,
                rest(char, [char_ends.low, char_ends.high]).map(|factor| typical * factor),
            ),
        ];
        let then = with_arms(typical, &arms, (0.0, 1.0));
        properties.set(Property::Char, Some(percent(then)));
    }
    let both = matter.organic + matter.char;
    let both_left = if both > 0.0 {
        (matter.organic * organic + matter.char * char) / both
    } else {
        1.0
    };
    // Its C:N stays: what decay takes of one it takes of the other.
    scale(properties, Property::Carbon, both_left / change.mass);
    scale(properties, Property::Nitrogen, both_left / change.mass);
    for of in STAYS {
        scale(properties, of, 1.0 / change.mass);
    }
}

/// So many times a property, within its limits, where it is told.
fn scale(properties: &mut Properties, of: Property, factor: f64) {
    let (low, high) = of.limits();
    if let Some(figure) = properties.get(of) {
        let then = figure.map(|value| within(value * factor, low, high));
        properties.set(of, Some(then));
    }
}

fn percent(share: Figure) -> Figure {
    share.map(|share| within(share * 100.0, 0.0, 100.0))
}
