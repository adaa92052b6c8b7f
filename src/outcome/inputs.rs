//! What is drawn for an outcome: every number of the recipe that has a range, every estimate that
//! has a measured error, and what the model itself does not know.

#[cfg(not(feature = "page"))]
mod chemistry;

use crate::blend::{Barrow, Doubt, HALF_MIXED, Part, WaterErrors};
use crate::draws::{Column, NINETIETH, NINETY_FIFTH, Spread, Strata};
use crate::figure::Figure;
use crate::ground::{
    CRUMB_DEFAULT, EstimateErrors, Given, Ground, Measured, ORGANIC_MATTER_DEFAULT, Trait,
    drawn_fractions,
};
use crate::lane::Lane;
use crate::material::{Material, PROPERTIES, Property};
use crate::recipe::Recipe;
use crate::texture::classify;

/// Half-width of 90 % of the error in pore space where parts shrink by a fifth: mineral parts, and
/// with soft ones (pooled errors of 18 mixes of natural grains; sheets of the trade).
pub(crate) const PACKING_HALF_WIDTH: [f64; 2] = [0.03, 0.05];

/// The properties that a blend's figures depend on so far.
const DRAWN: [Property; 10] = [
    Property::WaterPerWet,
    Property::LooseDensity,
    Property::GrainDensity,
    Property::SolidDensity,
    Property::OrganicMatter,
    Property::Char,
    Property::Sand,
    Property::Silt,
    Property::Clay,
    Property::Coarse,
];

/// What a number that is drawn belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// A trait of the ground.
    Ground(Trait),
    /// A property of a material, by its first line in the recipe.
    Material(usize, Property),
    /// How far a settled bed goes along with the packing.
    HalfMixed,
    /// The error of the packing.
    Packing,
    /// What the water equations miss, for the ground or for the blend.
    Water,
    /// What the pores inside grains hold.
    InnerWater,
    /// How wide the pores between grains are.
    OpenPores,
    /// What the chemistry of blends does not know.
    Chemistry,
}

/// Where a number of a draw comes from: a column, at the place of the draw or always at the first.
#[derive(Clone, Copy, Debug)]
struct Source {
    column: usize,
    moves: bool,
}

impl Source {
    /// Nothing is given.
    const ABSENT: Source = Source {
        column: usize::MAX,
        moves: false,
    };

    #[allow(clippy::manual_map)] // a call less in what every draw runs
    #[inline(always)]
    fn get<L: Lane>(self, columns: &[Column], draw: usize) -> Option<L> {
        let at = if self.moves { draw } else { 0 };
        match columns.get(self.column) {
            Some(column) => Some(L::load(column, at)),
            None => None,
        }
    }
}

/// The numbers of a part's material.
type Sources = [Source; PROPERTIES];

/// Every input of a recipe, drawn.
#[derive(Clone, Debug)]
pub(super) struct Inputs {
    causes: Vec<(Cause, usize)>,
    columns: Vec<Column>,
    ground: [Source; Trait::ALL.len()],
    fractions_pct: [f64; 3],
    parts: Vec<Sources>,
    half_mixed: Source,
    packing: Source,
    /// What the water equations miss at 33 and 1500 kPa and for conductivity: ground, then blend.
    water: [Source; 6],
    inner_water: Source,
    open_width: Source,
    /// Whether density and moisture of the ground are given.
    given: [bool; 2],
    #[cfg(not(feature = "page"))]
    chemistry: chemistry::Sources,
}

/// Draws one input after the other.
struct Drawing<'a> {
    strata: &'a mut Strata,
    causes: Vec<(Cause, usize)>,
    columns: Vec<Column>,
}

impl Drawing<'_> {
    fn draw(&mut self, cause: Cause, id: &str, spread: Spread) -> Source {
        let column = self.strata.column(id, spread);
        self.keep(cause, column)
    }

    fn keep(&mut self, cause: Cause, column: Column) -> Source {
        self.causes.push((cause, self.columns.len()));
        self.columns.push(column);
        Source {
            column: self.columns.len() - 1,
            moves: true,
        }
    }

    fn exact(&mut self, value: f64) -> Source {
        self.columns.push(Column::from([value; 2]));
        Source {
            column: self.columns.len() - 1,
            moves: false,
        }
    }

    /// A figure of the recipe: drawn if it has a range, exact if not.
    fn figure(
        &mut self,
        cause: Cause,
        owner: &str,
        name: &str,
        figure: Figure,
        limits: (f64, f64),
    ) -> Source {
        if !figure.is_in_doubt() {
            return self.exact(figure.typical);
        }
        let id = [owner, name].join("/");
        self.draw(cause, &id, Spread::TwoPiece { figure, limits })
    }

    fn ground(&mut self, of: Trait, figure: Figure) -> Source {
        self.figure(Cause::Ground(of), "ground", of.name(), figure, of.limits())
    }

    /// The estimates that stand in for a density and a moisture that are not given: their errors
    /// as measured, drawn together.
    fn estimates(&mut self, recipe: &Recipe, barrow: &Barrow) -> [Source; 2] {
        let fractions_pct = barrow.ground.fractions.map(|share| share * 100.0);
        let errors = EstimateErrors::of(classify(fractions_pct));
        let (density, water) = (Trait::BulkDensity, Trait::WaterPerDry);
        let density_errors = Spread::Errors(errors.density_kg_m3);
        let water_errors = Spread::Errors(errors.theta_33);
        let density_is_given = recipe.ground.get(density).is_some();
        let density_source = match recipe.ground.get(density) {
            Some(figure) => self.ground(density, figure),
            None => self.draw(Cause::Ground(density), DENSITY_ID, density_errors),
        };
        let water_source = match recipe.ground.get(water) {
            Some(figure) => self.ground(water, figure),
            None if density_is_given || errors.correlation == 0.0 => {
                self.draw(Cause::Ground(water), WATER_ID, water_errors)
            }
            None => {
                let own = (1.0 - errors.correlation * errors.correlation).sqrt();
                let mut column = self.strata.scores_of(WATER_ID);
                let density_scores = self.strata.scores_of(DENSITY_ID);
                for (value, density) in column.iter_mut().zip(density_scores) {
                    let score = errors.correlation * density + own * *value;
                    *value = water_errors.value(self.strata.share_below(score), score);
                }
                self.keep(Cause::Ground(water), column.into())
            }
        };
        [density_source, water_source]
    }

    /// What the water equations miss, for the ground and for the blend, drawn together. Where the
    /// ground's moisture is estimated, it rests on the same water at 33 kPa.
    fn water_errors(
        &mut self,
        recipe: &Recipe,
        barrow: &Barrow,
        kinds: [&EstimateErrors; 2],
    ) -> [Source; 6] {
        let added_m3: f64 = barrow.mixed().map(|line| line.loose_m3).sum();
        let whole_m3 = added_m3 + barrow.ground_loose_m3();
        let added = (added_m3 / whole_m3 / NEIGHBOUR_SHARE).min(1.0);
        // In steps, so that order, splitting and size change no bit.
        let added = libm::round(added * STEPS) / STEPS;
        let like_ground = 1.0 - (1.0 - BLEND_LIKE_GROUND) * added;
        let ground_class = barrow.ground.fractions.map(|share| share * 100.0);
        let moisture = EstimateErrors::of(classify(ground_class));
        let is_estimated = recipe.ground.get(Trait::WaterPerDry).is_none();
        let with_density = if recipe.ground.get(Trait::BulkDensity).is_none() {
            moisture.correlation
        } else {
            0.0
        };
        let key = [
            like_ground,
            with_density,
            f64::from(u8::from(is_estimated)),
            kinds[0].theta_33[0],
            kinds[1].theta_33[0],
        ];
        let columns = self.strata.together(key, |strata| {
            let mut wet = strata.scores_of(if is_estimated {
                WATER_ID
            } else {
                WATER_ERRORS[0][0]
            });
            if with_density != 0.0 {
                mixed(&mut wet, &strata.scores_of(DENSITY_ID), with_density);
            }
            let mut own = [
                wet,
                strata.scores_of(WATER_ERRORS[0][1]),
                strata.scores_of(WATER_ERRORS[0][2]),
            ];
            let mut columns = Vec::with_capacity(6);
            for (soil, kind) in kinds.iter().enumerate() {
                if soil == 1 {
                    for (own, id) in own.iter_mut().zip(WATER_ERRORS[1]) {
                        let mut scores = strata.scores_of(id);
                        mixed(&mut scores, own, like_ground);
                        *own = scores;
                    }
                }
                let [dry, through, dry_through] = kind.together;
                let rest = (1.0 - dry * dry).sqrt();
                let second = (dry_through - dry * through) / rest;
                let third = (1.0 - through * through - second * second).sqrt();
                for (weights, quantiles) in [
                    ([1.0, 0.0, 0.0], kind.theta_33),
                    ([dry, rest, 0.0], kind.theta_1500),
                    ([through, second, third], kind.log10_conductivity),
                ] {
                    let [wet, dry, through] = &own;
                    let mut column = Vec::with_capacity(wet.len());
                    let errors = Spread::Errors(quantiles);
                    for ((wet, dry), through) in wet.iter().zip(dry).zip(through) {
                        let score = wet * weights[0] + dry * weights[1] + through * weights[2];
                        column.push(errors.value(strata.share_below(score), score));
                    }
                    columns.push(Column::from(column));
                }
            }
            columns
        });
        let mut sources = [Source::ABSENT; 6];
        for (source, column) in sources.iter_mut().zip(columns) {
            *source = self.keep(Cause::Water, column);
        }
        sources
    }
}

/// Scores that go along with others by a correlation.
fn mixed(scores: &mut [f64], others: &[f64], correlation: f64) {
    let own = (1.0 - correlation * correlation).max(0.0).sqrt();
    for (score, other) in scores.iter_mut().zip(others) {
        *score = correlation * other + own * *score;
    }
}

/// Doubt on what the pores inside grains hold, as a share of it (a choice: tables of the trade
/// differ by about so much).
const INNER_WATER: Figure = Figure::between(-0.25, 0.0, 0.20);

/// Doubt on the width of the pores between grains, as a logarithm: a factor of 1.6 (a choice: the
/// sizes sold under one name differ by 2, a mix of them by less).
const OPEN_WIDTH: Figure = Figure::between(-0.5, 0.0, 0.5);

/// The errors of the water equations for a blend and for its own ground correlate so much (measured
/// between neighbouring horizons of one profile).
const BLEND_LIKE_GROUND: f64 = 0.5;
/// Share of the heap from which additions make a blend such a neighbour; with less it is its own
/// ground the more, and with none wholly (a choice).
const NEIGHBOUR_SHARE: f64 = 0.1;

/// Steps in which it grows from its own ground to a neighbour.
const STEPS: f64 = 1024.0;

/// Names of what the water equations miss, for a ground and for a blend.
const WATER_ERRORS: [[&str; 3]; 2] = [
    [
        "ground/theta_33",
        "ground/theta_1500",
        "ground/conductivity",
    ],
    ["blend/theta_33", "blend/theta_1500", "blend/conductivity"],
];

/// Names of the two estimates that are drawn together.
const DENSITY_ID: &str = "ground/bulk_density_kg_m3";
const WATER_ID: &str = "ground/water_per_dry_pct";

impl Inputs {
    /// Draws every input of a recipe that can be mixed.
    pub(super) fn of(
        recipe: &Recipe,
        barrow: &Barrow,
        errors: [&EstimateErrors; 2],
        strata: &mut Strata,
    ) -> Inputs {
        let mut drawing = Drawing {
            strata,
            causes: Vec::new(),
            columns: Vec::new(),
        };
        let mut ground = [Source::ABSENT; Trait::ALL.len()];
        let absent = Figure::exact(0.0);
        for (of, otherwise) in [
            (Trait::Sand, absent),
            (Trait::Silt, absent),
            (Trait::Clay, absent),
            (Trait::OrganicMatter, ORGANIC_MATTER_DEFAULT),
            (Trait::Gravel, absent),
            (Trait::Crumb, CRUMB_DEFAULT),
        ] {
            let figure = recipe.ground.get(of).unwrap_or(otherwise);
            ground[of as usize] = drawing.ground(of, figure);
        }
        let [density, water] = drawing.estimates(recipe, barrow);
        ground[Trait::BulkDensity as usize] = density;
        ground[Trait::WaterPerDry as usize] = water;
        let parts = barrow
            .parts
            .iter()
            .map(|part| sources(recipe, part, &mut drawing));
        #[allow(unused_mut, reason = "the page draws no chemistry")]
        let mut parts: Vec<Sources> = parts.collect();
        let half_mixed = drawing.figure(
            Cause::HalfMixed,
            "blend",
            "half_mixed",
            HALF_MIXED,
            (0.0, 1.0),
        );
        let soft = barrow
            .parts
            .iter()
            .any(|part| !part.on_top && part.group.is_organic());
        // The error of the packing is a normal one; its ends as an input are those of 80 %.
        let end = PACKING_HALF_WIDTH[usize::from(soft)] / NINETY_FIFTH * NINETIETH;
        let packing = drawing.figure(
            Cause::Packing,
            "blend",
            "pore_space_pct",
            Figure::between(-end, 0.0, end),
            (-1.0, 1.0),
        );
        let water = drawing.water_errors(recipe, barrow, errors);
        let inner_water = drawing.figure(
            Cause::InnerWater,
            "blend",
            "inner_water",
            INNER_WATER,
            (-1.0, 1.0),
        );
        let open_width = drawing.figure(
            Cause::OpenPores,
            "blend",
            "open_width",
            OPEN_WIDTH,
            (-2.0, 2.0),
        );
        #[cfg(not(feature = "page"))]
        let chemistry = chemistry::draw(&mut drawing, recipe, barrow, &mut ground, &mut parts);
        Inputs {
            #[cfg(not(feature = "page"))]
            chemistry,
            causes: drawing.causes,
            columns: drawing.columns,
            ground,
            fractions_pct: recipe.ground.fractions_pct(),
            parts,
            half_mixed,
            packing,
            water,
            inner_water,
            open_width,
            given: [Trait::BulkDensity, Trait::WaterPerDry]
                .map(|of| recipe.ground.get(of).is_some()),
        }
    }

    /// What is drawn, each with its column.
    pub(super) fn drawn(&self) -> impl Iterator<Item = (Cause, &[f64])> {
        let causes = self.causes.iter();
        causes.map(|(cause, column)| (*cause, &self.columns[*column][..]))
    }

    #[inline(always)]
    fn trait_of<L: Lane>(&self, of: Trait, draw: usize) -> Option<L> {
        self.ground[of as usize].get(&self.columns, draw)
    }

    /// The ground from a draw on.
    pub(super) fn ground<L: Lane>(&self, draw: usize) -> Ground<L> {
        let share = |of: Trait| {
            self.trait_of(of, draw)
                .map_or(L::all(0.0), |pct: L| pct * 0.01)
        };
        let measured = |of: Trait, factor: f64, given: bool| {
            let value = self.trait_of(of, draw).unwrap_or(L::all(0.0));
            if given {
                Measured::Given(value * factor)
            } else {
                Measured::Estimated(value)
            }
        };
        let drawn = |of: Trait| {
            let source = self.ground[of as usize];
            source.get(&self.columns, draw).filter(|_| source.moves)
        };
        let fractions = [drawn(Trait::Sand), drawn(Trait::Silt), drawn(Trait::Clay)];
        Ground::complete(&Given {
            fractions: drawn_fractions(self.fractions_pct, fractions),
            organic: share(Trait::OrganicMatter),
            gravel: share(Trait::Gravel),
            crumb: self.trait_of(Trait::Crumb, draw).unwrap_or(L::all(0.5)),
            lying_density_kg_m3: measured(Trait::BulkDensity, 1.0, self.given[0]),
            water_per_dry: measured(Trait::WaterPerDry, 0.01, self.given[1]),
        })
    }

    /// The material of a part from a draw on.
    pub(super) fn material<L: Lane>(&self, at: usize, part: &Part, draw: usize) -> Material<L> {
        let sources = &self.parts[at];
        Material::complete(part.group, Some(part.settling), |property| {
            sources[property as usize].get(&self.columns, draw)
        })
    }

    /// What the model does not know, from a draw on.
    pub(super) fn doubt<L: Lane>(&self, draw: usize) -> Doubt<L> {
        let get = |source: Source| source.get(&self.columns, draw).unwrap_or(L::all(0.0));
        let errors = |at: usize| WaterErrors {
            theta_33: get(self.water[at]),
            theta_1500: get(self.water[at + 1]),
            log10_conductivity: get(self.water[at + 2]),
        };
        Doubt {
            half_mixed: get(self.half_mixed),
            pore_space: get(self.packing),
            water: [errors(0), errors(3)],
            inner_water: get(self.inner_water),
            open_width: get(self.open_width),
        }
    }
}

/// The numbers of a part's material, drawn where they have a range.
fn sources(recipe: &Recipe, part: &Part, drawing: &mut Drawing<'_>) -> Sources {
    let id = &recipe.additions[part.line].material;
    let mut sources = [Source::ABSENT; PROPERTIES];
    let Some(found) = recipe.find(id) else {
        return sources;
    };
    let properties = found.properties();
    for property in DRAWN {
        let figure = match (property, part.water_per_wet_pct) {
            (Property::WaterPerWet, Some(water)) => Some(water),
            _ => properties.get(property),
        };
        if let Some(figure) = figure {
            let cause = Cause::Material(part.line, property);
            let limits = property.limits();
            sources[property as usize] = drawing.figure(cause, id, property.name(), figure, limits);
        }
    }
    // A grain density that is estimated stays as estimated, whatever the line's moisture.
    if properties.get(Property::GrainDensity).is_none() && part.group.is_organic() {
        sources[Property::GrainDensity as usize] = drawing.exact(part.grain_kg_m3);
    }
    // Sizes are not drawn.
    if let Some(grain) = properties.get(Property::Grain) {
        sources[Property::Grain as usize] = drawing.exact(grain.typical);
    }
    sources
}
