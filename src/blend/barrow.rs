//! From amounts in the user's units to oven-dry masses: the checked recipe in SI.

use super::mix::{Part, Size, Wanted, loose_volumes};
use crate::ground::Ground;
use crate::lane::{Lane, Pair};
use crate::material::Material;
use crate::quantity::{Dimension, LITRES_PER_M3};
use crate::recipe::{Addition, Bag, Fault, Found, Path, Price, Recipe, RecipeError, Soil};
use std::f64::consts::PI;

/// Less than this is nothing to mix, kg: a grain of dust, and far from where numbers lose digits.
const LEAST_KG: f64 = 1e-9;
/// Shares that leave less than this for what they are shares of leave nothing.
const LEAST_LEFT: f64 = 1e-12;

/// What is mixed, by mass.
#[derive(Clone, Debug, PartialEq)]
pub struct Barrow {
    /// The ground.
    pub ground: Ground,
    /// Its oven-dry mass, kg.
    pub ground_dry_kg: f64,
    /// The area that depths and label rates count over, m2, where the recipe gives one.
    pub area_m2: Option<f64>,
    /// The additions, in the recipe's order.
    pub lines: Vec<Line>,
    /// What is mixed, lines of one kind together, in an order of its own; the same for any order
    /// of the lines.
    pub(crate) parts: Vec<Part>,
    /// What the shares leave for the rest.
    pub(super) left: f64,
}

/// One addition by mass.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The material, with the line's own moisture.
    pub material: Material,
    /// Oven-dry mass, kg.
    pub dry_kg: f64,
    /// Mass as sold, kg.
    pub moist_kg: f64,
    /// Loose volume as sold, m3.
    pub loose_m3: f64,
    /// Laid on top, not mixed.
    pub on_top: bool,
    /// What it costs, where there is a price.
    pub cost: Option<f64>,
}

impl Line {
    /// So much of a material, by its loose volume as sold; not yet priced.
    pub fn of(material: Material, loose_m3: f64, on_top: bool) -> Line {
        let moist_kg = loose_m3 * material.loose_density_kg_m3;
        Line {
            material,
            dry_kg: moist_kg * (1.0 - material.water_per_wet),
            moist_kg,
            loose_m3,
            on_top,
            cost: None,
        }
    }
}

/// Money for a kilogram and for a cubic metre, as sold; one of them is 0.
pub(super) type Rate = [f64; 2];

impl Barrow {
    /// Checks a recipe and turns every amount into masses.
    ///
    /// # Errors
    /// The first fault, with the path of its field.
    pub fn of(recipe: &Recipe) -> Result<Barrow, RecipeError> {
        let ground = Ground::of(&recipe.ground)
            .map_err(|fault| Fault::Ground(fault).at("ground.bulk_density_kg_m3"))?;
        let ground_dry_kg = ground_dry_kg(&ground, &recipe.soil);
        let counted = Counted {
            recipe,
            has_ground: ground_dry_kg > 0.0,
            area_m2: area_m2(recipe),
        };
        let mut lines = Vec::with_capacity(recipe.additions.len());
        let mut wanted = Vec::with_capacity(recipe.additions.len());
        let mut rates = Vec::with_capacity(recipe.additions.len());
        for (index, addition) in recipe.additions.iter().enumerate() {
            let path = Path::from("additions").item(index);
            let (line, size) = counted.line(addition, &path)?;
            rates.push(rate(recipe, addition, &path)?);
            wanted.push(Wanted::of(
                size,
                line.on_top,
                &line.material.map(Pair::all),
                0.0,
            ));
            lines.push(line);
        }
        let ground_m3 = ground_dry_kg / ground.fresh_density_kg_m3();
        let ground_sum = [ground_dry_kg, ground_m3].map(Pair::all);
        let left = loose_volumes(ground_sum, &mut wanted, 0.0);
        shares_fit(&wanted, left.first(), ground_dry_kg)?;
        for ((line, wanted), rate) in lines.iter_mut().zip(&wanted).zip(&rates) {
            *line = Line::of(line.material, wanted.loose_m3.first(), line.on_top);
            line.cost = rate.map(|[kg, m3]| kg * line.moist_kg + m3 * line.loose_m3);
        }
        // A liquid alone takes no room, so it is nothing to mix.
        let mixed_kg: f64 = lines
            .iter()
            .filter(|line| !line.on_top && line.material.packs())
            .map(|line| line.dry_kg)
            .sum();
        if ground_dry_kg + mixed_kg < LEAST_KG {
            return Err(Fault::Empty.at("soil"));
        }
        let size_of = |index: usize, value: f64| {
            let addition = &recipe.additions[index];
            let size = counted.size(addition, value, &Path::root());
            size.unwrap_or_default()
        };
        let parts = super::mix::parts(recipe, &lines, &rates, size_of);
        // Once more by parts, whose sums know no order of the lines.
        let mut merged = Vec::with_capacity(parts.len());
        for part in &parts {
            let material = lines[part.line].material.map(Pair::all);
            merged.push(Wanted::of(part.size, part.on_top, &material, 0.0));
        }
        let left = loose_volumes(ground_sum, &mut merged, 0.0);
        Ok(Barrow {
            ground,
            ground_dry_kg,
            area_m2: counted.area_m2,
            lines,
            parts,
            left: left.first(),
        })
    }

    /// The area of the bed, or of all containers, m2, where the recipe gives one: the masses are of
    /// all of them.
    pub fn whole_area_m2(&self, recipe: &Recipe) -> Option<f64> {
        let count = match &recipe.soil {
            Soil::Bed { .. } => None,
            Soil::Amount(_) => recipe.place.as_ref().and_then(|place| place.count),
        };
        Some(self.area_m2? * count.unwrap_or(1.0))
    }

    /// The additions that are mixed in.
    pub fn mixed(&self) -> impl Iterator<Item = &Line> {
        self.lines.iter().filter(|line| !line.on_top)
    }

    /// Loose volume of the ground, m3.
    pub fn ground_loose_m3(&self) -> f64 {
        self.ground_dry_kg / self.ground.fresh_density_kg_m3()
    }

    /// Sum of the loose volumes of everything mixed, m3.
    pub fn loose_parts_m3(&self) -> f64 {
        self.ground_loose_m3() + self.mixed().map(|line| line.loose_m3).sum::<f64>()
    }
}

/// Oven-dry mass of an amount of ground, kg.
pub fn ground_dry_kg<L: Lane>(ground: &Ground<L>, soil: &Soil) -> L {
    let lying = ground.lying_density_kg_m3;
    match soil {
        Soil::Amount(amount) if amount.unit.dimension() == Dimension::Mass => {
            L::all(amount.si()) / (L::all(1.0) + ground.water_per_dry)
        }
        Soil::Amount(amount) => lying * amount.si(),
        Soil::Bed { area, depth, .. } => lying * (area.si() * depth.si()),
    }
}

/// Whether the shares leave something for what they are shares of.
fn shares_fit(wanted: &[Wanted<Pair>], left: f64, ground_dry_kg: f64) -> Result<(), RecipeError> {
    let sum = |of: fn(&Size) -> f64| -> f64 { wanted.iter().map(|line| of(&line.size)).sum() };
    let of_volume = sum(|size| size.share_of_volume);
    let of_mass = sum(|size| size.share_of_mass);
    let is_share = |size: &Size| size.share_of_volume + size.share_of_mass > 0.0;
    let Some(first) = wanted.iter().position(|line| is_share(&line.size)) else {
        return Ok(());
    };
    let path = Path::from("additions").item(first).field("amount");
    let others = wanted
        .iter()
        .any(|line| !line.on_top && line.size.is_known());
    if ground_dry_kg <= 0.0 && !others {
        return Err(Fault::NoGround.at(path.field("unit")));
    }
    if of_volume >= 1.0 || of_mass >= 1.0 || left <= LEAST_LEFT {
        return Err(Fault::Shares {
            volume_pct: of_volume * 100.0,
            mass_pct: of_mass * 100.0,
        }
        .at(path.field("value")));
    }
    Ok(())
}

/// What the amounts of a recipe count against.
struct Counted<'a> {
    recipe: &'a Recipe,
    has_ground: bool,
    area_m2: Option<f64>,
}

impl Counted<'_> {
    /// The line of an addition, still empty, and how much of it is wanted.
    fn line(&self, addition: &Addition, path: &Path) -> Result<(Line, Size), RecipeError> {
        let found = self.find(addition, path)?;
        let material = material(found, addition, path)?;
        let size = self.size(addition, addition.amount.value, path)?;
        let unit = || path.field("amount").field("unit");
        let of_the_rest = matches!(
            addition.amount.unit.dimension(),
            Dimension::ShareOfVolume | Dimension::ShareOfMass | Dimension::Part
        );
        if addition.is_on_top() && of_the_rest {
            return Err(Fault::MulchShare.at(unit()));
        }
        if size.share_of_mass > 0.0 && material.fresh_dry_density_kg_m3 <= 0.0 {
            return Err(Fault::NoDryMatter.at(unit()));
        }
        Ok((Line::of(material, 0.0, addition.is_on_top()), size))
    }

    fn find(&self, addition: &Addition, path: &Path) -> Result<Found<'_>, RecipeError> {
        self.recipe.find(&addition.material).ok_or_else(|| {
            let found = addition.material.clone();
            Fault::UnknownMaterial { found }.at(path.field("material"))
        })
    }

    fn size(&self, addition: &Addition, value: f64, path: &Path) -> Result<Size, RecipeError> {
        let amount = &addition.amount;
        let si = value * amount.unit.factor();
        let mut size = Size::default();
        let unit = || path.field("amount").field("unit");
        let dimension = amount.unit.dimension();
        if !self.has_ground && matches!(dimension, Dimension::Part | Dimension::MassPerVolume) {
            return Err(Fault::NoGround.at(unit()));
        }
        match dimension {
            Dimension::Mass => size.moist_kg = si,
            Dimension::Volume => size.loose_m3 = si,
            Dimension::Length => size.loose_m3 = si * self.area()?,
            Dimension::MassPerArea => size.moist_kg = si * self.area()?,
            Dimension::ShareOfVolume => size.share_of_volume = si,
            Dimension::ShareOfMass => size.share_of_mass = si,
            Dimension::Part => {
                size.loose_per_ground = si / self.recipe.parts_of_soil.unwrap_or(1.0)
            }
            Dimension::MassPerVolume => size.moist_kg_per_ground_m3 = si,
            Dimension::Bag => {
                let found = self.find(addition, path)?;
                let bag = bag_of(addition, found).ok_or_else(|| Fault::NoBag.at(unit()))?;
                [size.moist_kg, size.loose_m3] = in_bags(value, bag);
            }
            // The reader lets no other unit through; a recipe built by hand is told so.
            Dimension::Area => return Err(Fault::NoArea.at(unit())),
        }
        Ok(size)
    }

    fn area(&self) -> Result<f64, RecipeError> {
        self.area_m2.ok_or_else(|| Fault::NoArea.at("soil.area"))
    }
}

/// The area that depths and label rates count over: the bed's, else the circle of the place's
/// top, else its volume over its height.
fn area_m2(recipe: &Recipe) -> Option<f64> {
    if let Soil::Bed { area, .. } = &recipe.soil {
        return Some(area.si());
    }
    let place = recipe.place.as_ref()?;
    if let Some(width) = &place.top_width {
        let radius = width.si() / 2.0;
        return Some(PI * radius * radius);
    }
    let (volume, height) = place.volume.as_ref().zip(place.height.as_ref())?;
    Some(volume.si() / height.si())
}

/// The material of a line, with the line's own moisture.
fn material(found: Found<'_>, addition: &Addition, path: &Path) -> Result<Material, RecipeError> {
    let material = found
        .material()
        .map_err(|misfit| Fault::Misfit(misfit).at(path.field("material")))?;
    match addition.water_per_wet_pct {
        None => Ok(material),
        Some(water) => material
            .with_water(water.typical * 0.01, !addition.is_on_top())
            .map_err(|misfit| Fault::Misfit(misfit).at(path.field("water_per_wet_pct"))),
    }
}

/// The bag of a line, or of its own material.
fn bag_of<'a>(addition: &'a Addition, found: Found<'a>) -> Option<&'a Bag> {
    addition.bag.as_ref().or(match found {
        Found::Own(own, _) => own.bag.as_ref(),
        Found::Catalogue(_) => None,
    })
}

/// So many bags, as kilograms and cubic metres as sold; one of them is 0.
fn in_bags(count: f64, bag: &Bag) -> [f64; 2] {
    let printed = count * bag.size.si();
    match (bag.size.unit.dimension(), bag.expands) {
        (Dimension::Mass, None) => [printed, 0.0],
        // Loose litres for a printed kilogram.
        (Dimension::Mass, Some(expands)) => [0.0, printed * expands / LITRES_PER_M3],
        (_, expands) => [0.0, printed * expands.unwrap_or(1.0)],
    }
}

/// What a line costs, pro rata on what is used; none without a price.
fn rate(recipe: &Recipe, addition: &Addition, path: &Path) -> Result<Option<Rate>, RecipeError> {
    let Some(found) = recipe.find(&addition.material) else {
        return Ok(None);
    };
    let (price, price_path): (&Price, Path) = match (&addition.price, found) {
        (Some(price), _) => (price, path.field("price")),
        (None, Found::Own(own, index)) => match &own.price {
            Some(price) => (price, Path::from("materials").item(index).field("price")),
            None => return Ok(None),
        },
        (None, Found::Catalogue(_)) => return Ok(None),
    };
    let per = price.per.si();
    let lot = match price.per.unit.dimension() {
        Dimension::Mass => [per, 0.0],
        Dimension::Volume => [0.0, per],
        _ => {
            let bag = bag_of(addition, found)
                .ok_or_else(|| Fault::NoBag.at(price_path.field("per").field("unit")))?;
            in_bags(price.per.value, bag)
        }
    };
    Ok(Some(lot.map(|size| {
        if size > 0.0 { price.value / size } else { 0.0 }
    })))
}
