//! One blend per draw, two at a time, and what all of them say together.

use super::inputs::{Cause, Inputs};
use super::measured::{MeasuredOutcome, weigh};
#[cfg(not(feature = "page"))]
use crate::blend::Chemistry;
use crate::blend::{
    Barrow, Blend, Doubt, Earth, Heap, LEAST_FINES, Mix, Part, Through, Water, as_sold_kg,
    between_grains, conductivity, floats, gravel_touch, held_by_ground, held_by_mix, masses,
    part_of,
};
use crate::draws::{self, Strata};
use crate::figure::{Ends, Figure};
use crate::ground::{EstimateErrors, Forms, mean_grain_mm};
use crate::lane::{Lane, Pair};
use crate::quantity::LITRES_PER_M3;
use crate::recipe::Recipe;
use crate::texture::{Class, classify};
use crate::water::pot::{DRAW_NODES, Levels, Pot};

macro_rules! measures {
    ($($(#[$doc:meta])* $name:ident,)*) => {
        /// A figure of an outcome, as every draw has it.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Measure { $($(#[$doc])* $name,)* }

        /// How many there are; the page's module draws no chemistry.
        const MEASURES: usize = if cfg!(feature = "page") {
            Measure::AloneDrainage as usize + 1
        } else {
            [$(Measure::$name,)*].len()
        };
    };
}

measures! {
    /// Sand, % of mineral fines.
    Sand,
    /// Silt, % of mineral fines.
    Silt,
    /// Clay, % of mineral fines.
    Clay,
    /// Organic matter without char, %.
    OrganicMatter,
    /// Organic matter with char, %.
    OrganicMatterWithChar,
    /// Oven-dry mass, kg.
    DryMass,
    /// Mass as mixed, kg.
    MoistMass,
    /// Mulch as sold, kg.
    OnTop,
    /// Sum of the loose parts, litres.
    LooseParts,
    /// Fresh volume, litres.
    FreshVolume,
    /// Settled volume, litres.
    SettledVolume,
    /// Puddled volume, litres.
    PuddledVolume,
    /// Fresh density, kg/m3.
    FreshDensity,
    /// Settled density, kg/m3.
    SettledDensity,
    /// Puddled density, kg/m3.
    PuddledDensity,
    /// Fresh pore space, %.
    FreshPores,
    /// Settled pore space, %.
    SettledPores,
    /// Puddled pore space, %.
    PuddledPores,
    /// Coarse share of the room, as a fraction.
    Share,
    /// Share at which coarse grains touch.
    Threshold,
    /// What is missing of the largest coarse addition until they touch, kg as sold.
    MoreToTouch,
    /// Money.
    Cost,
    /// Organic matter of the ground, %.
    GroundOrganicMatter,
    /// Density of the ground as it lies, kg/m3.
    LyingDensity,
    /// Pore space of the ground as it lies, %.
    LyingPores,
    /// Density of the ground dug, on the day, kg/m3.
    DugDensity,
    /// Pore space of the ground dug, on the day, %.
    DugPores,
    /// Density of the ground dug, after a season, kg/m3.
    AloneDensity,
    /// Pore space of the ground dug, after a season, %.
    AlonePores,
    /// Air of the settled blend once it stopped draining, %.
    Air,
    /// Its water that plants can take, %.
    Available,
    /// Its water that plants leave, %.
    Unavailable,
    /// Its cells that no water enters, %.
    Closed,
    /// How fast water goes through it when it is full, mm/h.
    Drainage,
    /// Mass once watered and drained, kg.
    WateredMass,
    /// Water in its container, watered and drained, %.
    PotWater,
    /// Air in it, %.
    PotAir,
    /// Air of the ground as it lies, %.
    LyingAir,
    /// Its water that plants can take, %.
    LyingAvailable,
    /// Its water that plants leave, %.
    LyingUnavailable,
    /// Both, %.
    LyingFieldCapacity,
    /// How fast water goes through it, mm/h.
    LyingDrainage,
    /// Air of the ground dug, after a season, %.
    AloneAir,
    /// Its water that plants can take, %.
    AloneAvailable,
    /// How fast water goes through it, mm/h.
    AloneDrainage,
    /// Reaction of the blend in water.
    Ph,
    /// Conductivity at 1:5, dS/m.
    Ec1To5,
    /// Conductivity of the saturation extract, dS/m.
    EcPaste,
    /// Of it what crops feel, dS/m.
    EcStress,
    /// Exchange capacity, cmol/kg.
    Cec,
    /// Sodium, % of it.
    Esp,
    /// Carbon over nitrogen.
    CarbonToNitrogen,
    /// Of the additions.
    CarbonToNitrogenAdded,
    /// Nitrogen that the additions set free in a year, kg.
    FreedNitrogen,
    /// Phosphorus that was added, kg.
    Phosphorus,
    /// Reaction of the ground.
    GroundPh,
    /// Conductivity of its saturation extract, dS/m.
    GroundEcPaste,
    /// Its sodium, % of the exchange capacity.
    GroundEsp,
}

/// All draws of an outcome.
#[derive(Clone, Debug)]
pub struct Drawn {
    draws: usize,
    values: Vec<f64>,
    figures: Vec<Figure>,
    inputs: Inputs,
    /// What each draw counts, the best of them 1; nothing where all count the same.
    weights: Vec<f64>,
}

/// The kernel: a recipe's inputs, and room for one pair of blends after the other.
struct Kernel<'a> {
    recipe: &'a Recipe,
    barrow: &'a Barrow,
    inputs: &'a Inputs,
    mix: Mix<Pair>,
    heap: Heap<Pair>,
    largest: Option<usize>,
    /// Errors of the water equations, for the ground and for the blend.
    errors: [&'a EstimateErrors; 2],
    /// The container, and what empties the pores between crumbs or grains in it, cm.
    levels: Option<Levels<4>>,
    open_cm: f64,
}

impl Drawn {
    /// Draws a recipe that can be mixed.
    pub(super) fn of(
        recipe: &Recipe,
        barrow: &Barrow,
        blend: &Blend,
        pot: Option<&Pot>,
        strata: &mut Strata,
    ) -> (Drawn, Option<MeasuredOutcome>) {
        let errors = [&blend.errors[0], &blend.errors[1]];
        let inputs = Inputs::of(recipe, barrow, errors, strata);
        let draws = strata.draws();
        let mut values = vec![0.0; MEASURES * draws];
        let mut kernel = Kernel {
            recipe,
            barrow,
            inputs: &inputs,
            mix: Mix::of(barrow.ground.map(Pair::all), Pair::all(0.0)),
            heap: Heap::of(&barrow.parts, mean_grain_mm(barrow.ground.fractions)),
            largest: part_of(barrow, barrow.largest()),
            errors,
            levels: pot.map(|pot| pot.levels(&DRAW_NODES)),
            open_cm: blend.open_cm,
        };
        let mut draw = 0;
        while draw + Pair::WIDTH <= draws {
            for (column, value) in values.chunks_exact_mut(draws).zip(kernel.pair(draw)) {
                value.store(column, draw);
            }
            draw += Pair::WIDTH;
        }
        let mut weights = Vec::new();
        let measured = weigh(
            recipe,
            barrow.ground_dry_kg > 0.0,
            &values,
            draws,
            &mut weights,
        );
        let mut figures = Vec::with_capacity(MEASURES);
        for (column, typical) in values.chunks_exact(draws).zip(kernel.typical()) {
            figures.push(around(typical.first(), column, &weights));
        }
        if !weights.is_empty() {
            // Medians do not add up: air is what the rest leaves.
            use Measure::*;
            for (air, all, rest) in [
                (Air, SettledPores, [Available, Unavailable, Closed]),
                (
                    LyingAir,
                    LyingPores,
                    [LyingAvailable, LyingUnavailable, LyingAir],
                ),
                (PotAir, SettledPores, [PotWater, Closed, PotAir]),
            ] {
                let mut left = figures[all as usize].typical;
                for of in rest {
                    if of as usize != air as usize {
                        left -= figures[of as usize].typical;
                    }
                }
                let Ends { low, high } = figures[air as usize].ends();
                figures[air as usize] = Figure::between(low.min(left), left, high.max(left));
            }
        }
        let drawn = Drawn {
            draws,
            values,
            figures,
            inputs,
            weights,
        };
        (drawn, measured)
    }

    /// What each draw counts, the best of them 1; nothing where all count the same.
    pub fn weights(&self) -> &[f64] {
        &self.weights
    }

    fn weight(&self, draw: usize) -> f64 {
        weight_of(&self.weights, draw)
    }

    /// The values of a measure, one for each draw; what a draw does not have is no number.
    pub fn column(&self, of: Measure) -> &[f64] {
        let start = of as usize * self.draws;
        &self.values[start..start + self.draws]
    }

    /// A figure with its ends; where the typical value lies outside them, the nearer one moves to it.
    pub(super) fn figure(&self, of: Measure) -> Figure {
        self.figures[of as usize]
    }

    /// A figure that the typical evaluation may not have.
    pub(super) fn some(&self, of: Measure) -> Option<Figure> {
        Some(self.figure(of)).filter(|figure| figure.typical.is_finite())
    }

    /// How a measure differs from another in the same draw; less than `least` is no change.
    pub(super) fn change(&self, of: Measure, from: Measure, least: f64) -> Change {
        let typical = self.figure(of).typical - self.figure(from).typical;
        let pairs = self.column(of).iter().zip(self.column(from));
        // What is only rounding is no change.
        let differences: Vec<f64> = pairs
            .map(|(to, from)| {
                let difference = to - from;
                let hair = 1e-12 * (to.abs() + from.abs());
                if difference.abs() <= hair {
                    0.0
                } else {
                    difference
                }
            })
            .collect();
        let (mut counted, mut more, mut less) = (0.0, 0.0, 0.0);
        for (draw, value) in differences.iter().enumerate() {
            let weight = self.weight(draw);
            counted += weight;
            if *value > least {
                more += weight;
            } else if *value < -least {
                less += weight;
            }
        }
        Change {
            odds_more: more / counted,
            odds_less: less / counted,
            difference: figure_of(typical, &differences, &self.weights, false),
        }
    }

    /// Share of the draws in each texture class.
    pub(super) fn class_odds(&self) -> [f64; Class::ALL.len()] {
        let mut odds = [0.0; Class::ALL.len()];
        let mut counted = 0.0;
        let [sand, silt, clay] =
            [Measure::Sand, Measure::Silt, Measure::Clay].map(|of| self.column(of));
        for (draw, ((sand, silt), clay)) in sand.iter().zip(silt).zip(clay).enumerate() {
            if sand.is_finite() {
                let weight = self.weight(draw);
                odds[classify([*sand, *silt, *clay]) as usize] += weight;
                counted += weight;
            }
        }
        if counted > 0.0 {
            for share in &mut odds {
                *share /= counted;
            }
        }
        odds
    }

    /// Share of the draws with enough clay to ask in which the coarse grains touch.
    pub(super) fn touching_odds(&self) -> Option<f64> {
        let shares = self.column(Measure::Share).iter();
        let (mut asked, mut touching) = (0.0, 0.0);
        let thresholds = self.column(Measure::Threshold);
        for (draw, (share, threshold)) in shares.zip(thresholds).enumerate() {
            if threshold.is_finite() {
                let weight = self.weight(draw);
                asked += weight;
                if *share > 0.0 && share >= threshold {
                    touching += weight;
                }
            }
        }
        (asked > 0.0).then(|| touching / asked)
    }

    /// The inputs that a measure's spread comes from, the greatest first, each with the share of
    /// the spread that goes along with it (squared correlation); what explains less than a tenth
    /// is left out.
    pub fn causes(&self, of: Measure) -> Vec<(Cause, f64)> {
        let mut causes: Vec<(Cause, f64)> = Vec::new();
        let values = self.column(of);
        let mut seen: Vec<&[f64]> = Vec::new();
        for (cause, column) in self.inputs.drawn() {
            // Parts of one material share its draws.
            if seen.iter().any(|known| std::ptr::eq(*known, column)) {
                continue;
            }
            seen.push(column);
            let share = shared(values, column, &self.weights);
            if share >= LEAST_CAUSE {
                let at = causes.iter().position(|(_, known)| *known < share);
                causes.insert(at.unwrap_or(causes.len()), (cause, share));
            }
        }
        causes.truncate(MOST_CAUSES);
        causes
    }
}

/// Density of water, kg/m3.
pub(super) const WATER_KG_M3: f64 = 1000.0;

/// A cause that explains less than this share of a spread is not worth a test.
const LEAST_CAUSE: f64 = 0.1;
/// Causes told at the most.
const MOST_CAUSES: usize = 3;

/// A difference between two figures of one outcome, taken in each draw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Change {
    /// How much more.
    pub difference: Figure,
    /// Share of the draws with more.
    pub odds_more: f64,
    /// Share of the draws with less.
    pub odds_less: f64,
}

/// What a draw counts.
#[inline(never)]
fn weight_of(weights: &[f64], draw: usize) -> f64 {
    weights.get(draw).copied().unwrap_or(1.0)
}

/// A figure with the ends of its draws. Where they are weighed, its typical value moves as their
/// median does, in proportion: so a measurement that says nothing moves nothing.
fn around(typical: f64, values: &[f64], weights: &[f64]) -> Figure {
    figure_of(typical, values, weights, true)
}

/// The same; a typical value that has moved already stays, within the ends.
fn figure_of(mut typical: f64, values: &[f64], weights: &[f64], moves: bool) -> Figure {
    let mut ends = None;
    if weights.is_empty() {
        ends = draws::ends(values);
    } else if let Some([low, median, high]) = draws::weighted(values, weights)
        && let Some(before) = draws::share_of(values, 0.5)
        && typical.is_finite()
    {
        typical = if !moves {
            typical
        } else if before > 0.0 && median > 0.0 {
            typical * (median / before)
        } else {
            typical + (median - before)
        };
        typical = typical.max(low).min(high);
        ends = Some(Ends { low, high });
    }
    let Ends { low, high } = ends.unwrap_or(Ends {
        low: typical,
        high: typical,
    });
    // What is only rounding is no doubt.
    let hair = 1e-12 * typical.abs();
    let snap = |end: f64| {
        if (end - typical).abs() <= hair {
            typical
        } else {
            end
        }
    };
    Figure::between(snap(low.min(typical)), typical, snap(high.max(typical)))
}

/// Squared correlation of two columns over the draws in which both are numbers; 0 where one stands
/// still.
fn shared(values: &[f64], causes: &[f64], weights: &[f64]) -> f64 {
    let (mut count, mut x, mut y) = (0.0, 0.0, 0.0);
    let pairs = || {
        values
            .iter()
            .zip(causes)
            .enumerate()
            .filter(|(_, (value, _))| value.is_finite())
    };
    for (draw, (value, cause)) in pairs() {
        let weight = weight_of(weights, draw);
        count += weight;
        x += weight * cause;
        y += weight * value;
    }
    let (x, y) = (x / count, y / count);
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    for (draw, (value, cause)) in pairs() {
        let weight = weight_of(weights, draw);
        let (from_x, from_y) = (cause - x, value - y);
        xx += weight * from_x * from_x;
        xy += weight * from_x * from_y;
        yy += weight * from_y * from_y;
    }
    // What is only rounding is no spread.
    if xx > 1e-18 * x * x * count && yy > 1e-18 * y * y * count {
        xy * xy / (xx * yy)
    } else {
        0.0
    }
}

/// Writes the chemistry of the ground and of the blend into the measures.
#[cfg(not(feature = "page"))]
fn chemical(ground: &Chemistry<Pair>, blend: &Chemistry<Pair>, out: &mut [Pair; MEASURES]) {
    for (of, value) in [
        (Measure::Ph, blend.ph),
        (Measure::Ec1To5, blend.ec_1to5_ds_m),
        (Measure::EcPaste, blend.ec_paste_ds_m),
        (Measure::EcStress, blend.ec_stress_ds_m),
        (Measure::Cec, blend.cec_cmol_kg),
        (Measure::Esp, blend.esp_pct),
        (Measure::CarbonToNitrogen, blend.carbon_to_nitrogen),
        (
            Measure::CarbonToNitrogenAdded,
            blend.carbon_to_nitrogen_added,
        ),
        (Measure::FreedNitrogen, blend.freed_nitrogen_kg),
        (Measure::Phosphorus, blend.phosphorus_kg),
        (Measure::GroundPh, ground.ph),
        (Measure::GroundEcPaste, ground.ec_paste_ds_m),
        (Measure::GroundEsp, ground.esp_pct),
    ] {
        out[of as usize] = value;
    }
}

impl Kernel<'_> {
    /// Every measure of two draws.
    fn pair(&mut self, draw: usize) -> [Pair; MEASURES] {
        let inputs = self.inputs;
        let material = |at: usize, part: &Part| inputs.material(at, part, draw);
        self.mix.fill(
            self.barrow,
            &self.recipe.soil,
            inputs.ground(draw),
            material,
        );
        #[allow(unused_mut, reason = "the page draws no chemistry")]
        let mut out = self.measure(&inputs.doubt(draw));
        #[cfg(not(feature = "page"))]
        {
            let ground = inputs.ground_chemistry(draw);
            let blend = inputs.chemistry(&self.barrow.parts, &self.mix, draw);
            chemical(&ground, &blend, &mut out);
        }
        out
    }

    /// Every measure of the typical values.
    fn typical(&mut self) -> [Pair; MEASURES] {
        self.mix = self.barrow.typical(&self.recipe.soil);
        #[allow(unused_mut, reason = "the page draws no chemistry")]
        let mut out = self.measure(&Doubt::none(self.errors));
        #[cfg(not(feature = "page"))]
        {
            let ground = Chemistry::of_ground(self.recipe, &self.mix);
            let blend = Chemistry::of_typical(self.recipe, self.barrow, &self.mix);
            chemical(&ground, &blend, &mut out);
        }
        out
    }

    /// Every measure of the mix.
    fn measure(&mut self, doubt: &Doubt<Pair>) -> [Pair; MEASURES] {
        let parts = &self.barrow.parts;
        self.heap.lay(&self.mix);
        let mix = &self.mix;
        let (zero, one, hundred) = (Pair::all(0.0), Pair::all(1.0), Pair::all(100.0));
        let none = Pair::all(f64::NAN);
        let masses = masses(parts, mix);
        let volumes = self.heap.volumes(mix, &masses, doubt);
        let touch = self.heap.touch(mix, self.largest);

        let mut out = [zero; MEASURES];
        let mut set = |of: Measure, value: Pair| out[of as usize] = value;
        let [sand, silt, clay] = masses.fines_kg;
        let fines = sand + silt + clay;
        let whole = masses.dry_kg * LEAST_FINES;
        for (of, part) in [Measure::Sand, Measure::Silt, Measure::Clay]
            .into_iter()
            .zip(masses.fines_kg)
        {
            let share = (part * 100.0 / fines).at_most(hundred);
            set(of, fines.where_above(whole, share, none));
        }
        let earth = masses.dry_kg - masses.coarse_kg;
        let of_earth =
            |kg: Pair| earth.where_above(zero, (kg * 100.0 / earth).at_most(hundred), none);
        set(Measure::OrganicMatter, of_earth(masses.organic_kg));
        set(
            Measure::OrganicMatterWithChar,
            of_earth(masses.organic_kg + masses.char_kg),
        );
        set(Measure::DryMass, masses.dry_kg);
        set(Measure::MoistMass, masses.dry_kg + masses.water_kg);
        set(Measure::OnTop, masses.on_top_kg);
        set(Measure::LooseParts, volumes.loose_parts_m3 * LITRES_PER_M3);
        let pores = |volume: Pair| (one - masses.solid_m3 / volume) * 100.0;
        for (volume, [litres, density, space]) in [
            (
                volumes.fresh_m3,
                [
                    Measure::FreshVolume,
                    Measure::FreshDensity,
                    Measure::FreshPores,
                ],
            ),
            (
                volumes.settled_m3,
                [
                    Measure::SettledVolume,
                    Measure::SettledDensity,
                    Measure::SettledPores,
                ],
            ),
            (
                volumes.puddled_m3,
                [
                    Measure::PuddledVolume,
                    Measure::PuddledDensity,
                    Measure::PuddledPores,
                ],
            ),
        ] {
            set(litres, volume * LITRES_PER_M3);
            set(density, masses.dry_kg / volume);
            set(space, pores(volume));
        }
        set(Measure::Share, touch.share);
        let ground = &mix.ground;
        let asks = Forms::of(ground, 1.0).clay_weight;
        set(
            Measure::Threshold,
            asks.where_above(zero, touch.threshold, none),
        );
        let more = self
            .largest
            .map_or(zero, |part| as_sold_kg(mix, part, touch.more_m3));
        set(Measure::MoreToTouch, asks.where_above(zero, more, none));
        set(Measure::Cost, self.barrow.cost(mix).unwrap_or(none));
        set(Measure::GroundOrganicMatter, ground.organic * 100.0);
        for (of, density) in [
            (
                [Measure::LyingDensity, Measure::LyingPores],
                ground.lying_density_kg_m3,
            ),
            (
                [Measure::DugDensity, Measure::DugPores],
                ground.fresh_density_kg_m3(),
            ),
            (
                [Measure::AloneDensity, Measure::AlonePores],
                ground.settled_density_kg_m3(),
            ),
        ] {
            let [dense, space] = of;
            set(dense, density);
            set(space, (one - density / ground.solid_density_kg_m3) * 100.0);
        }

        let [ground_errors, errors] = &doubt.water;
        let earth = Earth::of_ground(ground);
        // The last one is the ground dug and settled, as it goes into the blend.
        let mut alone = Through {
            drains: zero,
            lambda: zero,
            log10_error: zero,
        };
        for (of, density) in [
            (
                [
                    Measure::LyingAir,
                    Measure::LyingAvailable,
                    Measure::LyingDrainage,
                ],
                ground.lying_density_kg_m3,
            ),
            (
                [
                    Measure::AloneAir,
                    Measure::AloneAvailable,
                    Measure::AloneDrainage,
                ],
                ground.settled_density_kg_m3(),
            ),
        ] {
            let room_m3 = one / density;
            let held = held_by_ground(ground, &earth, density, ground_errors);
            let touch = gravel_touch(ground, density);
            let solid_m3 = one / ground.solid_density_kg_m3;
            let water = held.in_room(room_m3, solid_m3, between_grains(&touch));
            let [air, available, drainage] = of;
            set(air, water.air() * 100.0);
            set(available, water.available() * 100.0);
            alone = Through {
                drains: held.drains,
                lambda: held.lambda,
                log10_error: ground_errors.log10_conductivity,
            };
            let error = ground_errors.log10_conductivity;
            set(
                drainage,
                conductivity(&held, room_m3, &touch, &alone, zero, error),
            );
            if air as usize == Measure::LyingAir as usize {
                set(Measure::LyingUnavailable, water.wilting_point * 100.0);
                set(Measure::LyingFieldCapacity, water.field_capacity * 100.0);
            }
        }
        let factor = earth.density_factor(ground, ground.settled_density_kg_m3());
        let held = held_by_mix(parts, mix, &masses, factor, doubt.inner_water, errors);
        let settled_m3 = volumes.settled_m3;
        let water: Water<Pair> = held.in_room(settled_m3, masses.solid_m3, between_grains(&touch));
        let floats = floats(parts, mix);
        let error = errors.log10_conductivity;
        set(Measure::Air, water.air() * 100.0);
        set(Measure::Available, water.available() * 100.0);
        set(Measure::Unavailable, water.wilting_point * 100.0);
        set(Measure::Closed, water.closed * 100.0);
        set(
            Measure::Drainage,
            conductivity(&held, settled_m3, &touch, &alone, floats, error),
        );
        let mut kept = water.field_capacity;
        let mut pot = [none; 2];
        if let Some(levels) = &self.levels {
            let open_cm = doubt.open_width.each(|width| libm::exp(-width)) * self.open_cm;
            let store = water.store(&held, settled_m3, open_cm);
            kept = levels.water(&store);
            // Closed cells are no air for roots.
            pot = [kept * 100.0, (water.fillable - kept) * 100.0];
        }
        set(Measure::PotWater, pot[0]);
        set(Measure::PotAir, pot[1]);
        let kept_kg = kept * settled_m3 * WATER_KG_M3;
        set(Measure::WateredMass, masses.dry_kg + kept_kg);
        out
    }
}
