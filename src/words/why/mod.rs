//! Why a figure is what it is: how it is made, by whose equations, of which inputs, and whether
//! this blend lies where they hold. Written once for a panel, so nothing that moves calls it.

mod asked;
mod chemistry;
mod cost;
mod equations;
mod inputs;
mod limits;
mod made;
mod room;
mod sums;

pub use asked::Asked;
pub use equations::equations;

use super::{Speech, Told, sharpen_text};
use crate::figure::Figure;
use crate::ground::Trait;
use crate::material::Property;
use crate::outcome::Outcome;
use crate::quantity::Dimension;
use crate::recipe::{Addition, Found, Recipe, Soil};

/// How a figure of one blend is made.
#[derive(Clone, Debug, PartialEq)]
pub struct Why {
    /// The figure's name.
    pub title: String,
    /// How it is made, in one or two plain sentences; or why this blend has none.
    pub made: String,
    /// The equations and rules behind it.
    pub equations: Vec<Equation>,
    /// This blend's inputs to it: name, and value with unit and standing.
    pub inputs: Vec<(String, String)>,
    /// Where the equations hold, each judged against this blend.
    pub limits: Vec<Limit>,
    /// What most of its doubt comes from, and what would narrow it.
    pub rests_on: String,
}

/// An equation or rule.
#[derive(Clone, Debug, PartialEq)]
pub struct Equation {
    /// What it gives, and whose it is.
    pub name: String,
    /// Author, year, where; or that it is common practice.
    pub source: String,
    /// Where it holds, and how well it did on measured soils and mixes.
    pub holds: String,
}

/// A limit of an equation against this blend.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// The limit with this blend's value.
    pub text: String,
    /// Whether the blend lies inside.
    pub inside: bool,
}

/// How a figure of an outcome is made. The outcome must be that of the recipe.
pub fn why(of: Asked, recipe: &Recipe, outcome: &Outcome, speech: Speech) -> Why {
    let case = Case {
        of,
        recipe,
        outcome,
        speech,
    };
    Why {
        title: made::title(of).into(),
        made: case.made(),
        equations: case.equations(),
        inputs: case.inputs(),
        limits: case.limits(),
        rests_on: sharpen_text(recipe, outcome, of.measure()),
    }
}

/// What is asked, of which blend.
struct Case<'a> {
    of: Asked,
    recipe: &'a Recipe,
    outcome: &'a Outcome,
    speech: Speech,
}

/// An addition that is in the blend.
struct Part<'a> {
    addition: &'a Addition,
    line: &'a crate::blend::Line,
    found: Found<'a>,
}

impl Part<'_> {
    /// What is given for a property, by the recipe or the catalogue.
    fn given(&self, of: Property) -> Option<Figure> {
        match (of, self.addition.water_per_wet_pct) {
            (Property::WaterPerWet, Some(water)) => Some(water),
            _ => self.found.properties().get(of),
        }
    }
}

impl<'a> Case<'a> {
    fn has_ground(&self) -> bool {
        self.outcome.barrow.ground_dry_kg > 0.0
    }

    /// Whether the ground has sand, silt or clay.
    fn has_fines(&self) -> bool {
        self.has_ground() && self.outcome.ground.fractions_pct.is_some()
    }

    /// Whether a trait of the ground is not given.
    fn lacks(&self, of: Trait) -> bool {
        self.recipe.ground.get(of).is_none()
    }

    /// The additions with their materials, in the recipe's order.
    fn parts(&self) -> impl Iterator<Item = Part<'a>> {
        let lines = self.outcome.barrow.lines.iter();
        let recipe = self.recipe;
        recipe
            .additions
            .iter()
            .zip(lines)
            .filter_map(|(addition, line)| {
                recipe.find(&addition.material).map(|found| Part {
                    addition,
                    line,
                    found,
                })
            })
    }

    /// The additions that are mixed in.
    fn mixed(&self) -> impl Iterator<Item = Part<'a>> {
        self.parts()
            .filter(|part| !part.line.on_top && part.line.moist_kg > 0.0)
    }

    /// The additions that take room in the blend.
    fn packed(&self) -> impl Iterator<Item = Part<'a>> {
        self.mixed()
            .filter(|part| part.line.material.packs() && part.line.dry_kg > 0.0)
    }

    /// Whether there are several parts that could fill each other's gaps.
    fn mixes(&self) -> bool {
        usize::from(self.has_ground()) + self.packed().count() > 1
    }

    /// Whether the ground is given by the room that it takes.
    fn soil_by_room(&self) -> bool {
        match &self.recipe.soil {
            Soil::Amount(amount) => amount.unit.dimension() != Dimension::Mass,
            Soil::Bed { .. } => true,
        }
    }

    /// Whether an addition is counted in one of these ways.
    fn counts(&self, ways: &[Dimension]) -> bool {
        let mut additions = self.recipe.additions.iter();
        additions.any(|addition| ways.contains(&addition.amount.unit.dimension()))
    }

    /// Whether the density rule has a part in the figure.
    fn rests_on_density(&self) -> bool {
        let by_room = self.counts(&[
            Dimension::ShareOfVolume,
            Dimension::Part,
            Dimension::MassPerVolume,
        ]);
        let by_mass = self.counts(&[Dimension::ShareOfMass]);
        let sets_mass = self.soil_by_room() && self.lacks(Trait::BulkDensity);
        self.has_ground()
            && match self.of {
                Asked::Cost => by_room || (by_mass && sets_mass),
                Asked::Weight => by_room || sets_mass,
                Asked::Class | Asked::OrganicMatter => {
                    self.mixed().next().is_some() && (by_room || sets_mass)
                }
                _ => true,
            }
    }

    /// Whether the moisture rule has a part in the figure.
    fn rests_on_water(&self) -> bool {
        let of_the_rest = self.counts(&[
            Dimension::ShareOfVolume,
            Dimension::ShareOfMass,
            Dimension::Part,
            Dimension::MassPerVolume,
        ]);
        self.has_ground()
            && self.lacks(Trait::WaterPerDry)
            && match self.of {
                Asked::Weight => true,
                _ if self.soil_by_room() => false,
                Asked::Cost => of_the_rest,
                Asked::Volume => true,
                _ => self.mixed().next().is_some(),
            }
    }

    /// A density with its unit.
    fn density(&self, kg_m3: f64) -> String {
        density(kg_m3, self.speech)
    }

    /// A mass with its unit, to three figures.
    fn mass(&self, kg: f64) -> String {
        self.speech.mass_told(Figure::exact(kg)).value
    }
}

/// A density with its unit.
fn density(kg_m3: f64, speech: Speech) -> String {
    speech.density_told(Figure::exact(kg_m3)).value
}

/// A number to three figures, without powers of ten.
fn number(value: f64) -> String {
    match value {
        0.0 => "0".into(),
        value if value.abs() < 0.001 => tr!("under 0.001").into(),
        value => crate::recipe::number_text(super::round_significant(value, 3)),
    }
}

/// A share in percent.
fn percent(value: f64) -> String {
    [&number(value), " %"].concat()
}

/// A share in percent, and its ends where it has some.
fn percent_told(figure: Figure) -> Told {
    if figure.is_in_doubt() {
        Told::percent(figure, 0.1)
    } else {
        Told {
            value: percent(figure.typical),
            range: String::new(),
        }
    }
}

/// Several names as a list in a sentence.
fn listed(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => say!("{} and {}", first.join(", "), last),
    }
}
