//! What is told of the years: organic matter, density, height, nitrogen.

use super::ageing::aged_with;
use super::climate::{Case, Climate};
use super::matter::{Ledger, Matter, alone};
use super::{Asked, LEVEL_LIMITS_PCT, SeasonsError, TopUp, YEARS_LIMITS, check, held};
use crate::blend::Barrow;
use crate::draws::Strata;
use crate::figure::Figure;
use crate::outcome::Outcome;
use crate::quantity::LITRES_PER_M3;
use crate::recipe::{Amount, Recipe, Soil};

const CM_PER_M: f64 = 100.0;
/// Years over which a level is held.
pub const HOLD_YEARS: f64 = 20.0;

/// A blend at the end of a year.
#[derive(Clone, Debug)]
pub struct Season {
    /// Years from now.
    pub year: f64,
    /// Organic matter without char, %.
    pub organic_matter_pct: Option<Figure>,
    /// The same with char, where there is char.
    pub organic_matter_with_char_pct: Option<Figure>,
    /// What is left of the organic matter and char added today, %; none where none was added.
    pub kept_pct: Option<Figure>,
    /// Dry density, settled, kg/m3.
    pub settled_density_kg_m3: Figure,
    /// Pore space, settled, %.
    pub pore_space_pct: Figure,
    /// Air in it once it stopped draining, %.
    pub air_pct: Figure,
    /// Its volume, settled, litres.
    pub settled_l: Figure,
    /// What settling leaves of its height, from the day it is mixed to its first settled state; 1
    /// on that day.
    pub height_by_settling: f64,
    /// What decay and top-ups leave of its settled height; 1 on the day it is mixed.
    pub height_by_decay: f64,
    /// How far settling and decay let it sink, cm, where the recipe gives an area; less than
    /// nothing where top-ups raise it.
    pub sunk_cm: Option<[f64; 2]>,
    /// Nitrogen that decay sets free in the year that ends here (less than nothing: that it takes
    /// up), g: of the ground and all additions, and of the additions alone.
    pub freed_nitrogen_g: [Figure; 2],
    /// The first of these on a square metre.
    pub freed_nitrogen_g_m2: Option<Figure>,
    /// Carbon that has decayed since the beginning, kg.
    pub decayed_carbon_kg: f64,
}

/// The outcome that the years start from, and strata that they share.
pub struct Seasons<'a> {
    recipe: &'a Recipe,
    climate: Climate,
    top_up: Option<&'a TopUp>,
    strata: &'a mut Strata,
    today: Today,
}

/// What later years are compared with.
struct Today {
    /// As it is mixed; where nothing is mixed in, nothing was loosened.
    fresh_l: f64,
    settled_l: f64,
    area_m2: Option<f64>,
    /// Height of the fill as it is mixed, cm.
    fill_cm: Option<f64>,
}

impl<'a> Seasons<'a> {
    /// One season for each of the years asked for.
    ///
    /// # Errors
    /// Years, a climate or a top-up outside their limits, and the first fault of the recipe.
    pub fn of(
        recipe: &Recipe,
        climate: &Climate,
        top_up: Option<&TopUp>,
        years: &[f64],
    ) -> Result<Vec<Season>, SeasonsError> {
        let mut strata = Strata::default();
        let mut seasons = Seasons::from(recipe, climate, top_up, &mut strata)?;
        years.iter().map(|year| seasons.at(*year)).collect()
    }

    /// The start, from strata that are kept between recipes.
    ///
    /// # Errors
    /// As [`Seasons::of`].
    pub fn from(
        recipe: &'a Recipe,
        climate: &Climate,
        top_up: Option<&'a TopUp>,
        strata: &'a mut Strata,
    ) -> Result<Seasons<'a>, SeasonsError> {
        check(0.0, climate, top_up)?;
        let mut bare = recipe.clone();
        bare.measured = Default::default();
        let outcome = Outcome::drawn_from(&bare, strata).map_err(SeasonsError::Recipe)?;
        let barrow = &outcome.barrow;
        let is_mixed = barrow
            .mixed()
            .any(|line| line.dry_kg > 0.0 && line.material.packs());
        let volume_l = &outcome.volume_l;
        let fresh_l = if is_mixed {
            volume_l.fresh.typical
        } else {
            volume_l.settled.typical
        };
        let area_m2 = whole_area_m2(barrow, recipe);
        // No fill is higher than what it is in.
        let walls_cm = match (&recipe.soil, &recipe.place) {
            (Soil::Amount(_), Some(place)) => {
                place.height.as_ref().map(|height| height.si() * CM_PER_M)
            }
            _ => None,
        };
        let fill_cm = area_m2.map(|area_m2| {
            let cm = fresh_l / LITRES_PER_M3 / area_m2 * CM_PER_M;
            walls_cm.map_or(cm, |walls_cm| cm.min(walls_cm))
        });
        Ok(Seasons {
            recipe,
            climate: *climate,
            top_up,
            strata,
            today: Today {
                fresh_l,
                settled_l: volume_l.settled.typical,
                area_m2,
                fill_cm,
            },
        })
    }

    /// The blend after so many years.
    ///
    /// # Errors
    /// As [`Seasons::of`].
    pub fn at(&mut self, year: f64) -> Result<Season, SeasonsError> {
        let (recipe, climate, top_up) = (self.recipe, self.climate, self.top_up);
        let later = aged_with(recipe, year, &climate, top_up)?;
        let outcome = Outcome::drawn_from(&later, self.strata).map_err(SeasonsError::Recipe)?;
        let before = (year - 1.0).max(YEARS_LIMITS.0);
        let ledger = Ledger::of(recipe, year, top_up)?;
        // A mulch takes nothing from what lies below, and is no part of the blend.
        let ledgers = [ledger.mixed(), Ledger::of(recipe, before, top_up)?.mixed()];
        let only_given = Ledger::of(recipe, year, None)?.mixed();
        let today = &self.today;
        let settled_l = outcome.volume_l.settled;
        let height_by_decay = settled_l.typical / today.settled_l;
        let height_by_settling = if year > 0.0 {
            today.settled_l / today.fresh_l
        } else {
            1.0
        };
        let freed = freed_g(&ledgers, &climate, year - before);
        Ok(Season {
            year,
            organic_matter_pct: outcome.organic_matter_pct,
            organic_matter_with_char_pct: outcome.organic_matter_with_char_pct,
            kept_pct: kept_pct(&only_given, &climate),
            settled_density_kg_m3: outcome.bulk_density_kg_m3.settled,
            pore_space_pct: outcome.pore_space_pct.settled,
            air_pct: outcome.pores_pct.air,
            settled_l,
            height_by_settling,
            height_by_decay,
            sunk_cm: today.fill_cm.map(|fill_cm| {
                let settled = today.settled_l / today.fresh_l;
                [
                    fill_cm * (1.0 - height_by_settling),
                    fill_cm * settled * (1.0 - height_by_decay),
                ]
            }),
            freed_nitrogen_g: freed,
            freed_nitrogen_g_m2: today
                .area_m2
                .map(|area_m2| freed[0].map(|grams| grams / area_m2)),
            decayed_carbon_kg: ledger.sum(|matter| {
                let case = climate.typical();
                matter.decayed_carbon_kg(&case)
            })[0],
        })
    }
}

/// What is left of the organic matter and char that was added, %.
fn kept_pct(ledger: &Ledger, climate: &Climate) -> Option<Figure> {
    let both = |matter: &Matter| matter.given_kg() * (matter.organic + matter.char);
    let [_, given_kg] = ledger.sum(both);
    // What clings to sand is not what one adds it for.
    let [_, all_kg] = ledger.sum(Matter::given_kg);
    if given_kg <= LEAST_ORGANIC * all_kg {
        return None;
    }
    let left = |case: &Case| {
        let [_, left_kg] = ledger.sum(|matter| both(matter) * matter.both_left(case));
        100.0 * left_kg / given_kg
    };
    Some(climate.over_cases(left))
}

/// Organic share of what was added below which nothing is told of how much of it is kept.
const LEAST_ORGANIC: f64 = 0.005;

/// Nitrogen freed between two ledgers, so many years apart, g.
fn freed_g([now, before]: &[Ledger; 2], climate: &Climate, passed: f64) -> [Figure; 2] {
    let typical = climate.typical();
    [0, 1].map(|which| {
        let freed = |case: &Case| {
            let [now, before] = [now, before]
                .map(|ledger| ledger.sum(|matter| matter.freed_nitrogen_kg(case))[which]);
            1000.0 * (now - before)
        };
        let figure = climate.over_cases(freed);
        let arms = [0, 1].map(|end| {
            let arm = |matter: &Matter| 1000.0 * matter.nitrogen_doubt_kg(&typical, passed)[end];
            now.sum(|matter| arm(matter) * arm(matter))[which]
        });
        let ends = figure.ends();
        let (down, up) = (figure.typical - ends.low, ends.high - figure.typical);
        let below = down * down + arms[0];
        let above = up * up + arms[1];
        Figure::between(
            figure.typical - below.sqrt(),
            figure.typical,
            figure.typical + above.sqrt(),
        )
    })
}

/// Organic matter, char and the rest of the dry mass less grains over 2 mm, kg.
fn fine_kg(ledger: &Ledger, case: &Case) -> [f64; 3] {
    let mut sums = [0.0; 3];
    for matter in &ledger.matters {
        let given_kg = matter.given_kg();
        let left_kg = given_kg * matter.organic * matter.organic_left(case);
        let both_kg = given_kg * (matter.organic + matter.char) * matter.both_left(case);
        sums[0] += left_kg;
        sums[1] += both_kg - left_kg;
        sums[2] += given_kg * (matter.mineral() - matter.coarse);
    }
    sums
}

/// The area of all of it, m2, where there is one.
fn whole_area_m2(barrow: &Barrow, recipe: &Recipe) -> Option<f64> {
    let area_m2 = barrow.whole_area_m2(recipe);
    area_m2.filter(|area_m2| *area_m2 > 0.0)
}

/// Nitrogen that the ground's own organic matter gives in the year that follows, kg.
///
/// # Errors
/// As [`Seasons::of`].
pub fn ground_nitrogen_kg(recipe: &Recipe, climate: &Climate) -> Result<Figure, SeasonsError> {
    check(1.0, climate, None)?;
    let barrow = Barrow::of(recipe).map_err(SeasonsError::Recipe)?;
    let matter = Matter::of_ground(recipe, &barrow, 1.0);
    Ok(climate.over_cases(|case| matter.freed_nitrogen_kg(case)))
}

/// Organic matter of the blend after so many years, with char or without, and its doubt by decay
/// alone, %: quick, for a curve. None where there is none.
///
/// # Errors
/// As [`Seasons::of`].
pub fn organic_matter_pct(
    recipe: &Recipe,
    climate: &Climate,
    top_up: Option<&TopUp>,
    with_char: bool,
    year: f64,
) -> Result<Option<Figure>, SeasonsError> {
    check(year, climate, top_up)?;
    let ledger = Ledger::of(recipe, year, top_up)?.mixed();
    let of = |case: &Case| {
        let [organic_kg, char_kg, rest_kg] = fine_kg(&ledger, case);
        let counted_kg = organic_kg + if with_char { char_kg } else { 0.0 };
        100.0 * counted_kg / (organic_kg + char_kg + rest_kg).max(1e-12)
    };
    let figure = climate.over_cases(of);
    Ok((figure.typical > 0.0).then_some(figure))
}

/// What holds a level: so much of a material at the end of each year.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hold {
    /// Oven-dry mass, kg.
    pub dry_kg: f64,
    /// Mass as sold, kg.
    pub moist_kg: f64,
    /// Loose volume as sold, litres.
    pub loose_l: f64,
    /// How deep it lies, mm, where the recipe gives an area.
    pub depth_mm: Option<f64>,
}

/// How much of a material, mixed in at the end of each year, brings the blend to a level of organic
/// matter after [`HOLD_YEARS`], and so holds it if that is its level today. None where that
/// material never can; nothing where the level is held without.
///
/// # Errors
/// A level or a climate outside their limits, the first fault of the recipe, an unknown material.
pub fn hold(
    recipe: &Recipe,
    climate: &Climate,
    level_pct: f64,
    material: &str,
) -> Result<Option<Hold>, SeasonsError> {
    check(HOLD_YEARS, climate, None)?;
    held(Asked::Level, Figure::exact(level_pct), LEVEL_LIMITS_PCT)?;
    let top_up = TopUp {
        material: material.to_owned(),
        amount: Amount::new(1.0, crate::quantity::Unit::Litre),
        every_years: 1,
    };
    let ledger = Ledger::of(recipe, HOLD_YEARS, None)?.mixed();
    let line = alone(recipe, &top_up)?;
    let case = climate.typical();
    let [organic_kg, char_kg, rest_kg] = fine_kg(&ledger, &case);
    let rest_kg = rest_kg + char_kg;
    let found = recipe.find(material);
    let Some(found) = found else {
        return Ok(None);
    };
    let matter = Matter::of_material(material, found.properties(), &line.material);
    // What one litre a year comes to by then.
    let mut one_kg = [0.0; 2];
    let mut years = 0.0;
    while years < HOLD_YEARS {
        let left = matter.organic * matter.organic_left_after(years, &case);
        one_kg[0] += line.dry_kg * left;
        one_kg[1] += line.dry_kg * (matter.mineral() - matter.coarse + matter.char);
        years += 1.0;
    }
    let over_rest = level_pct / (100.0 - level_pct);
    let wanted_kg = over_rest * rest_kg - organic_kg;
    let each_kg = one_kg[0] - over_rest * one_kg[1];
    if wanted_kg > 0.0 && each_kg <= 0.0 {
        return Ok(None);
    }
    let litres = if wanted_kg > 0.0 {
        wanted_kg / each_kg
    } else {
        0.0
    };
    Ok(Some(Hold {
        dry_kg: litres * line.dry_kg,
        moist_kg: litres * line.moist_kg,
        loose_l: litres,
        depth_mm: whole_area_m2(&ledger.barrow, recipe).map(|area_m2| litres / area_m2),
    }))
}
