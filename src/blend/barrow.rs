//! From amounts in the user's units to oven-dry masses: the checked recipe in SI.

use crate::ground::Ground;
use crate::material::Material;
use crate::quantity::{Dimension, LITRES_PER_M3};
use crate::recipe::{Addition, Amount, Bag, Fault, Found, Path, Price, Recipe, RecipeError, Soil};
use std::f64::consts::PI;

/// Less than this is nothing to mix, kg: a grain of dust, and far from where numbers lose digits.
const LEAST_KG: f64 = 1e-9;

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
            ground_loose_m3: ground_dry_kg / ground.fresh_density_kg_m3(),
            area_m2: area_m2(recipe),
        };
        let lines = recipe
            .additions
            .iter()
            .enumerate()
            .map(|(index, addition)| {
                let path = Path::from("additions").item(index);
                counted.line(addition, &path)
            })
            .collect::<Result<Vec<_>, _>>()?;
        let lines = solve_shares(recipe, lines, ground_dry_kg, counted.ground_loose_m3)?;
        let lines = lines
            .into_iter()
            .zip(&recipe.additions)
            .enumerate()
            .map(|(index, (line, addition))| {
                let path = Path::from("additions").item(index);
                let cost = cost(recipe, addition, &line, &path)?;
                Ok(Line { cost, ..line })
            })
            .collect::<Result<Vec<_>, RecipeError>>()?;
        // A liquid alone takes no room, so it is nothing to mix.
        let mixed_kg: f64 = lines
            .iter()
            .filter(|line| !line.on_top && line.material.packs())
            .map(|line| line.dry_kg)
            .sum();
        if ground_dry_kg + mixed_kg < LEAST_KG {
            return Err(Fault::Empty.at("soil"));
        }
        Ok(Barrow {
            ground,
            ground_dry_kg,
            area_m2: counted.area_m2,
            lines,
        })
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
pub fn ground_dry_kg(ground: &Ground, soil: &Soil) -> f64 {
    match soil {
        Soil::Amount(amount) if amount.unit.dimension() == Dimension::Mass => {
            amount.si() / (1.0 + ground.water_per_dry)
        }
        Soil::Amount(amount) => amount.si() * ground.lying_density_kg_m3,
        Soil::Bed { area, depth, .. } => area.si() * depth.si() * ground.lying_density_kg_m3,
    }
}

/// What the amounts of a recipe count against.
struct Counted<'a> {
    recipe: &'a Recipe,
    ground_loose_m3: f64,
    area_m2: Option<f64>,
}

/// A line's amount: known, or a share that waits for all the others.
enum Size {
    Loose(f64),
    Moist(f64),
    ShareOfVolume(f64),
    ShareOfMass(f64),
}

impl Counted<'_> {
    /// The line of an addition; shares come out empty and are solved together afterwards.
    fn line(&self, addition: &Addition, path: &Path) -> Result<Line, RecipeError> {
        let found = self.find(addition, path)?;
        let material = material(found, addition, path)?;
        let size = self.size(addition, found, path)?;
        if addition.is_on_top()
            && matches!(
                addition.amount.unit.dimension(),
                Dimension::ShareOfVolume | Dimension::ShareOfMass | Dimension::Part
            )
        {
            return Err(Fault::MulchShare.at(path.field("amount").field("unit")));
        }
        let loose_m3 = match size {
            Size::Loose(volume) => volume,
            Size::Moist(mass) => mass / material.loose_density_kg_m3,
            Size::ShareOfVolume(_) => 0.0,
            Size::ShareOfMass(share) => {
                if share > 0.0 && material.fresh_dry_density_kg_m3 <= 0.0 {
                    return Err(Fault::NoDryMatter.at(path.field("amount").field("unit")));
                }
                0.0
            }
        };
        Ok(Line::of(material, loose_m3, addition.is_on_top()))
    }

    fn find(&self, addition: &Addition, path: &Path) -> Result<Found<'_>, RecipeError> {
        self.recipe.find(&addition.material).ok_or_else(|| {
            let found = addition.material.clone();
            Fault::UnknownMaterial { found }.at(path.field("material"))
        })
    }

    fn size(
        &self,
        addition: &Addition,
        found: Found<'_>,
        path: &Path,
    ) -> Result<Size, RecipeError> {
        let amount = &addition.amount;
        let no_ground = || Fault::NoGround.at(path.field("amount").field("unit"));
        Ok(match amount.unit.dimension() {
            Dimension::Mass => Size::Moist(amount.si()),
            Dimension::Volume => Size::Loose(amount.si()),
            Dimension::Length => Size::Loose(amount.si() * self.area()?),
            Dimension::MassPerArea => Size::Moist(amount.si() * self.area()?),
            Dimension::ShareOfVolume => Size::ShareOfVolume(amount.si()),
            Dimension::ShareOfMass => Size::ShareOfMass(amount.si()),
            Dimension::Part => {
                if self.ground_loose_m3 <= 0.0 {
                    return Err(no_ground());
                }
                let part = self.ground_loose_m3 / self.recipe.parts_of_soil.unwrap_or(1.0);
                Size::Loose(amount.si() * part)
            }
            Dimension::MassPerVolume => {
                if self.ground_loose_m3 <= 0.0 {
                    return Err(no_ground());
                }
                Size::Moist(amount.si() * self.ground_loose_m3)
            }
            Dimension::Bag => {
                let bag = bag_of(addition, found)
                    .ok_or_else(|| Fault::NoBag.at(path.field("amount").field("unit")))?;
                in_bags(amount.value, bag)
            }
            // The reader lets no other unit through; a recipe built by hand is told so.
            Dimension::Area => return Err(Fault::NoArea.at(path.field("amount").field("unit"))),
        })
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
            .with_water(water.typical / 100.0, !addition.is_on_top())
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

fn in_bags(count: f64, bag: &Bag) -> Size {
    let printed = count * bag.size.si();
    match (bag.size.unit.dimension(), bag.expands) {
        (Dimension::Mass, None) => Size::Moist(printed),
        // Loose litres for a printed kilogram.
        (Dimension::Mass, Some(expands)) => Size::Loose(printed * expands / LITRES_PER_M3),
        (_, expands) => Size::Loose(printed * expands.unwrap_or(1.0)),
    }
}

/// Solves the lines that are a share of the whole, all together: two balances, one of loose
/// volume and one of dry mass.
fn solve_shares(
    recipe: &Recipe,
    lines: Vec<Line>,
    ground_dry_kg: f64,
    ground_loose_m3: f64,
) -> Result<Vec<Line>, RecipeError> {
    let share_of = |amount: &Amount| match amount.unit.dimension() {
        Dimension::ShareOfVolume => Some(Size::ShareOfVolume(amount.si())),
        Dimension::ShareOfMass => Some(Size::ShareOfMass(amount.si())),
        _ => None,
    };
    // Fixed sums; shares of volume and of mass; volume of a kilogram of the mass shares and mass
    // of a cubic metre of the volume shares.
    let (mut fixed_m3, mut fixed_kg) = (ground_loose_m3, ground_dry_kg);
    let (mut of_volume, mut of_mass, mut volume_per_kg, mut mass_per_m3) = (0.0, 0.0, 0.0, 0.0);
    let mut first_share = None;
    for (index, (addition, line)) in recipe.additions.iter().zip(&lines).enumerate() {
        let dry_density = line.material.fresh_dry_density_kg_m3;
        let share = share_of(&addition.amount);
        if share.is_some() {
            first_share = first_share.or(Some(index));
        }
        match share {
            Some(Size::ShareOfVolume(share)) => {
                of_volume += share;
                mass_per_m3 += share * dry_density;
            }
            Some(Size::ShareOfMass(share)) if share > 0.0 => {
                of_mass += share;
                volume_per_kg += share / dry_density;
            }
            Some(_) => {}
            None if line.on_top => {}
            None => {
                fixed_m3 += line.loose_m3;
                fixed_kg += line.dry_kg;
            }
        }
    }
    let Some(first_share) = first_share else {
        return Ok(lines);
    };
    let path = Path::from("additions").item(first_share).field("amount");
    if of_volume + of_mass > 0.0 && fixed_m3 <= 0.0 {
        return Err(Fault::NoGround.at(path.field("unit")));
    }
    let determinant = (1.0 - of_volume) * (1.0 - of_mass) - volume_per_kg * mass_per_m3;
    // Shares that leave nothing, or next to nothing, for what they are shares of.
    if of_volume >= 1.0 || of_mass >= 1.0 || determinant <= 1e-12 {
        return Err(Fault::Shares {
            volume_pct: of_volume * 100.0,
            mass_pct: of_mass * 100.0,
        }
        .at(path.field("value")));
    }
    let whole_m3 = (fixed_m3 * (1.0 - of_mass) + fixed_kg * volume_per_kg) / determinant;
    let whole_kg = (fixed_kg * (1.0 - of_volume) + fixed_m3 * mass_per_m3) / determinant;
    let solved = lines.into_iter().zip(&recipe.additions);
    Ok(solved
        .map(|(line, addition)| match share_of(&addition.amount) {
            Some(Size::ShareOfVolume(share)) => {
                Line::of(line.material, share * whole_m3, line.on_top)
            }
            Some(Size::ShareOfMass(share)) if share > 0.0 => Line::of(
                line.material,
                share * whole_kg / line.material.fresh_dry_density_kg_m3,
                line.on_top,
            ),
            _ => line,
        })
        .collect())
}

/// Cost of a line, pro rata on what is used.
fn cost(
    recipe: &Recipe,
    addition: &Addition,
    line: &Line,
    path: &Path,
) -> Result<Option<f64>, RecipeError> {
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
    let size = match price.per.unit.dimension() {
        Dimension::Mass => Size::Moist(per),
        Dimension::Volume => Size::Loose(per),
        _ => {
            let bag = bag_of(addition, found)
                .ok_or_else(|| Fault::NoBag.at(price_path.field("per").field("unit")))?;
            in_bags(price.per.value, bag)
        }
    };
    let lots = match size {
        Size::Moist(mass) => line.moist_kg / mass,
        Size::Loose(volume) => line.loose_m3 / volume,
        // A price is for a mass, a volume or a bag; never for a share.
        Size::ShareOfVolume(_) | Size::ShareOfMass(_) => return Ok(None),
    };
    Ok(Some(lots * price.value))
}
