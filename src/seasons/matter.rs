//! What a recipe holds of organic matter, line by line, and what the years leave of it.

use super::climate::{Case, Climate};
use super::decay::{Pools, char_pools, pools, warmth};
use super::humus::{STABLE_SHARE, active_rate};
use super::{SeasonsError, TopUp};
use crate::blend::{Barrow, Brings, ChemistryDoubt, Line};
use crate::chemistry::nutrients::{ORGANIC_OVER_CARBON, SOIL_CARBON_TO_NITROGEN, freed_nitrogen};
use crate::figure::Figure;
use crate::ground::{ORGANIC_MATTER_DEFAULT, Trait};
use crate::lane::{Lane, Pair};
use crate::material::{Material, Properties, Property};
use crate::quantity::Dimension;
use crate::recipe::{Measured, Recipe, Soil};

/// So much of it is always left, so that there is something to weigh.
const LEAST_LEFT: f64 = 1e-4;

/// How organic matter goes.
#[derive(Clone, Copy, Debug)]
enum Course {
    /// As a soil's own.
    Humus { clay_pct: f64, carbonate_pct: f64 },
    /// In two pools, by the low, the typical and the high end of what is kept.
    Pools([Pools; 3]),
}

impl Course {
    fn left(&self, years: f64, case: &Case) -> f64 {
        let left = match *self {
            Course::Pools(pools) => pools[case.kept].left(years, warmth(case.mean_c)),
            Course::Humus {
                clay_pct,
                carbonate_pct,
            } => {
                let stable = STABLE_SHARE[usize::from(case.grass)];
                let rate = active_rate(case.mean_c, case.surplus_mm, clay_pct, carbonate_pct);
                stable + (1.0 - stable) * libm::exp(-rate * case.humus * years)
            }
        };
        left.max(LEAST_LEFT)
    }
}

/// So much dry matter that has been there for so many years.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cohort {
    pub(super) dry_kg: f64,
    pub(super) years: f64,
    /// Laid on top: no part of the blend, and it takes nothing from what lies below.
    pub(super) on_top: bool,
}

/// One material of the recipe, or its ground.
#[derive(Clone, Debug)]
pub(super) struct Matter {
    /// The material; none for the ground, whose dry mass is that of its fine earth.
    pub(super) id: Option<String>,
    /// What lies there from the start, and later what was added on top of it.
    pub(super) cohorts: Vec<Cohort>,
    /// Organic matter and char, of dry mass.
    pub(super) organic: f64,
    pub(super) char: f64,
    /// Organic matter as it is known.
    pub(super) organic_figure: Figure,
    /// Grains over 2 mm, of dry mass.
    pub(super) coarse: f64,
    /// Carbon of all organic matter and char, of dry mass.
    pub(super) carbon: f64,
    /// Nitrogen, of dry mass.
    nitrogen: Figure,
    organic_course: Course,
    char_course: Course,
}

/// What is left of matter: shares of what was given.
#[derive(Clone, Copy, Debug)]
pub(super) struct Left {
    pub(super) organic: Figure,
    pub(super) char: Figure,
}

impl Matter {
    pub(super) fn of_ground(recipe: &Recipe, barrow: &Barrow, years: f64) -> Matter {
        let ground = &barrow.ground;
        let given = recipe.ground.get(Trait::OrganicMatter);
        let course = Course::Humus {
            clay_pct: ground.clay_pct(),
            carbonate_pct: recipe.ground.typical(Trait::Carbonate).unwrap_or(0.0),
        };
        let carbon = ground.organic / ORGANIC_OVER_CARBON;
        Matter {
            id: None,
            cohorts: vec![Cohort {
                dry_kg: barrow.ground_dry_kg * (1.0 - ground.gravel),
                years,
                on_top: false,
            }],
            organic: ground.organic,
            char: 0.0,
            organic_figure: given
                .unwrap_or(ORGANIC_MATTER_DEFAULT)
                .map(|pct| pct * 0.01),
            coarse: 0.0,
            carbon,
            nitrogen: Figure::exact(carbon / SOIL_CARBON_TO_NITROGEN),
            organic_course: course,
            char_course: course,
        }
    }

    pub(super) fn of_material(id: &str, properties: &Properties, material: &Material) -> Matter {
        let share = |of| {
            properties
                .get(of)
                .map(|figure| figure.map(|pct| pct * 0.01))
        };
        let kept = properties.get(Property::KeptAfterYear1);
        let Material { organic, char, .. } = *material;
        let course = match pools(material.group, kept) {
            Some(pools) => Course::Pools(pools),
            None => Course::Humus {
                clay_pct: 100.0 * material.fractions[2],
                carbonate_pct: 0.0,
            },
        };
        // What is not told is as the chemistry takes it.
        let given = |of: Property| properties.typical(of).map(Pair::all);
        let (lanes, doubt) = (material.map(Pair::all), ChemistryDoubt::none());
        let brings = Brings::of_material(&lanes, false, given, &doubt);
        Matter {
            id: Some(id.to_owned()),
            cohorts: Vec::new(),
            organic,
            char,
            organic_figure: share(Property::OrganicMatter).unwrap_or(Figure::exact(0.0)),
            coarse: material.mineral() * material.coarse,
            // Carbonates hold carbon too, which stays.
            carbon: brings.carbon.first().min(organic + char),
            nitrogen: share(Property::Nitrogen)
                .unwrap_or_else(|| Figure::exact(brings.nitrogen.first())),
            organic_course: course,
            char_course: Course::Pools(char_pools(material.group, kept)),
        }
    }

    /// What of it is mixed in.
    fn mixed(&self) -> Matter {
        let mut mixed = self.clone();
        mixed.cohorts.retain(|cohort| !cohort.on_top);
        mixed
    }

    /// Dry mass of everything that was ever given, kg.
    pub(super) fn given_kg(&self) -> f64 {
        self.cohorts.iter().map(|cohort| cohort.dry_kg).sum()
    }

    /// Mineral matter, of dry mass.
    pub(super) fn mineral(&self) -> f64 {
        (1.0 - self.organic - self.char).max(0.0)
    }

    fn share(&self, course: &Course, case: &Case) -> f64 {
        self.share_later(course, case, 0.0)
    }

    /// The same so many years later.
    fn share_later(&self, course: &Course, case: &Case, later: f64) -> f64 {
        let given_kg = self.given_kg();
        let of = |cohort: &Cohort| cohort.dry_kg * course.left(cohort.years + later, case);
        match self.cohorts.as_slice() {
            [] => 1.0,
            [only] => course.left(only.years + later, case),
            [first, ..] if given_kg <= 0.0 => course.left(first.years + later, case),
            cohorts => cohorts.iter().map(of).sum::<f64>() / given_kg,
        }
    }

    /// What is left of organic matter in one case, as a share of what was given.
    pub(super) fn organic_left(&self, case: &Case) -> f64 {
        self.share(&self.organic_course, case)
    }

    /// The same of one cohort alone.
    pub(super) fn organic_left_after(&self, years: f64, case: &Case) -> f64 {
        self.organic_course.left(years, case)
    }

    /// What is left, with its doubt.
    pub(super) fn left(&self, climate: &Climate) -> Left {
        Left {
            organic: climate.over_cases(|case| self.share(&self.organic_course, case)),
            char: climate.over_cases(|case| self.share(&self.char_course, case)),
        }
    }

    /// What is left of organic matter and char together; of all where there is none.
    pub(super) fn both_left(&self, case: &Case) -> f64 {
        self.both_left_later(case, 0.0)
    }

    fn both_left_later(&self, case: &Case, later: f64) -> f64 {
        let both = self.organic + self.char;
        if both <= 0.0 {
            return 1.0;
        }
        let organic = self.organic * self.share_later(&self.organic_course, case, later);
        (organic + self.char * self.share_later(&self.char_course, case, later)) / both
    }

    /// The same of what has been there for so many years.
    fn both_left_at(&self, years: f64, case: &Case) -> f64 {
        let both = self.organic + self.char;
        if both <= 0.0 {
            return 1.0;
        }
        let organic = self.organic * self.organic_course.left(years, case);
        (organic + self.char * self.char_course.left(years, case)) / both
    }

    /// What the year that follows leaves of what is there, %; none where nothing decays.
    pub(super) fn kept_next_year_pct(&self, climate: &Climate) -> Option<Figure> {
        let of = |case: &Case| 100.0 * self.both_left_later(case, 1.0) / self.both_left(case);
        (self.organic + self.char > 0.0).then(|| climate.over_cases(of))
    }

    /// Carbon that has decayed so far, kg.
    pub(super) fn decayed_carbon_kg(&self, case: &Case) -> f64 {
        self.given_kg() * self.carbon * (1.0 - self.both_left(case))
    }

    /// Nitrogen that decay has freed so far (less than nothing: that it took up), kg.
    pub(super) fn freed_nitrogen_kg(&self, case: &Case) -> f64 {
        let decayed = 1.0 - self.both_left(case);
        let given_kg = self.given_kg();
        let [carbon, nitrogen] = [self.carbon, self.nitrogen.typical].map(|share| share * given_kg);
        if self.id.is_none() {
            // What humus loses is what its microbes have left over: all of its nitrogen comes free.
            return nitrogen * decayed;
        }
        freed_nitrogen(carbon, nitrogen, decayed)
    }

    /// How much less and how much more of it the years that passed last may free for its own
    /// nitrogen, kg. What came in different years are different lots (a choice).
    pub(super) fn nitrogen_doubt_kg(&self, case: &Case, passed: f64) -> [f64; 2] {
        let (typical, ends) = (self.nitrogen.typical, self.nitrogen.ends());
        let decayed = |years: f64| {
            self.both_left_at((years - passed).max(0.0), case) - self.both_left_at(years, case)
        };
        let [_, kg] = self.sum_of_lots(decayed);
        [typical - ends.low, ends.high - typical].map(|arm| arm * kg)
    }

    /// How much narrower the doubt on what is left is for coming from several lots.
    pub(super) fn narrower_by_lots(&self, case: &Case) -> f64 {
        let [sum, spread] = self.sum_of_lots(|years| self.both_left_at(years, case));
        if sum > 0.0 { spread / sum } else { 1.0 }
    }

    /// The dry mass of lots times something of their age: added up, and in quadrature.
    fn sum_of_lots(&self, of: impl Fn(f64) -> f64) -> [f64; 2] {
        let mut lots: Vec<Cohort> = Vec::new();
        for cohort in &self.cohorts {
            match lots.iter_mut().find(|lot| lot.years == cohort.years) {
                Some(lot) => lot.dry_kg += cohort.dry_kg,
                None => lots.push(*cohort),
            }
        }
        let (mut sum, mut squares) = (0.0, 0.0);
        for lot in &lots {
            let kg = lot.dry_kg * of(lot.years);
            sum += kg;
            squares += kg * kg;
        }
        [sum, squares.sqrt()]
    }
}

/// Everything in a recipe that decays, after so many years of it and of top-ups. The ground comes
/// first; mulches are of the material that they are.
#[derive(Clone, Debug)]
pub(super) struct Ledger {
    pub(super) barrow: Barrow,
    pub(super) matters: Vec<Matter>,
    /// What a top-up is, once.
    pub(super) topped: Option<Line>,
    /// Of which material.
    pub(super) topped_id: String,
    /// Dry mass of all top-ups so far, kg.
    pub(super) topped_kg: f64,
}

impl Ledger {
    pub(super) fn of(
        recipe: &Recipe,
        years: f64,
        top_up: Option<&TopUp>,
    ) -> Result<Ledger, SeasonsError> {
        let barrow = Barrow::of(recipe).map_err(SeasonsError::Recipe)?;
        let mut ledger = Ledger {
            matters: vec![Matter::of_ground(recipe, &barrow, years)],
            barrow,
            topped: None,
            topped_id: String::new(),
            topped_kg: 0.0,
        };
        for (at, addition) in recipe.additions.iter().enumerate() {
            let line = &ledger.barrow.lines[at];
            let (material, dry_kg, on_top) = (line.material, line.dry_kg, line.on_top);
            let matter = ledger.matter(recipe, &addition.material, &material);
            if dry_kg > 0.0 || matter.cohorts.is_empty() {
                matter.cohorts.push(Cohort {
                    dry_kg,
                    years,
                    on_top,
                });
            }
        }
        if let Some(top_up) = top_up {
            ledger.top(recipe, top_up, years)?;
        }
        Ok(ledger)
    }

    /// The matter of a material, new where it was not there.
    fn matter(&mut self, recipe: &Recipe, id: &str, material: &Material) -> &mut Matter {
        let named = |matter: &Matter| matter.id.as_deref() == Some(id);
        let at = match self.matters.iter().position(named) {
            Some(at) => at,
            None => {
                let none = Properties::NONE;
                let properties = recipe.find(id).map_or(&none, |found| found.properties());
                self.matters
                    .push(Matter::of_material(id, properties, material));
                self.matters.len() - 1
            }
        };
        &mut self.matters[at]
    }

    /// The cohorts of a top-up at the ends of the years so far.
    fn top(&mut self, recipe: &Recipe, top_up: &TopUp, years: f64) -> Result<(), SeasonsError> {
        let line = alone(recipe, top_up)?;
        let every = f64::from(top_up.every_years);
        let matter = self.matter(recipe, &top_up.material, &line.material);
        let mut topped_kg = 0.0;
        let mut at = every;
        while at <= years {
            matter.cohorts.push(Cohort {
                dry_kg: line.dry_kg,
                years: years - at,
                on_top: false,
            });
            topped_kg += line.dry_kg;
            at += every;
        }
        if matter.cohorts.is_empty() {
            self.matters.pop();
        }
        self.topped = (topped_kg > 0.0).then_some(line);
        self.topped_id.clone_from(&top_up.material);
        self.topped_kg = topped_kg;
        Ok(())
    }

    /// What of it is mixed in.
    pub(super) fn mixed(&self) -> Ledger {
        Ledger {
            matters: self.matters.iter().map(Matter::mixed).collect(),
            ..self.clone()
        }
    }

    /// A sum over everything, or over what was added.
    pub(super) fn sum(&self, of: impl Fn(&Matter) -> f64) -> [f64; 2] {
        let [ground, added @ ..] = self.matters.as_slice() else {
            return [0.0; 2];
        };
        let added = added.iter().map(&of).sum::<f64>();
        [of(ground) + added, added]
    }
}

/// How many containers share what is blended.
fn containers(recipe: &Recipe) -> f64 {
    match (&recipe.soil, &recipe.place) {
        (Soil::Amount(_), Some(place)) => place.count.unwrap_or(1.0),
        _ => 1.0,
    }
}

/// A line of its own in a copy of the recipe that holds nothing else, by which a top-up counts.
pub(super) fn alone(recipe: &Recipe, top_up: &TopUp) -> Result<Line, SeasonsError> {
    let mut copy = recipe.clone();
    copy.measured = Measured::default();
    let mut amount = top_up.amount.clone();
    if let Dimension::Length | Dimension::MassPerArea = amount.unit.dimension() {
        // So deep in each container; a recipe's area is that of one.
        amount.value *= containers(recipe);
    }
    let addition = crate::recipe::Addition::new(top_up.material.clone(), amount);
    copy.additions = vec![addition];
    let barrow = Barrow::of(&copy).map_err(SeasonsError::TopUp)?;
    match barrow.lines.into_iter().next() {
        Some(line) => Ok(line),
        None => Err(SeasonsError::NoTopUp),
    }
}
