//! A sweep, point by point, so that whoever shows it can stop in between.

use super::figures::{FIGURES, Swept, usual_threshold};
use super::{Axis, AxisFault};
use crate::draws::Strata;
use crate::figure::Figure;
use crate::outcome::Outcome;
use crate::recipe::{Measured, Recipe, RecipeError};
use crate::texture::Class;

/// Points of a curve.
pub const POINTS: usize = 25;
/// Steps of a map, across and up: there is a point at both ends.
pub const MAP_STEPS: [usize; 2] = [24, 16];
/// Draws of a typical evaluation: the fewest that go through the kernel.
pub const FEW: u32 = 2;

/// All figures at one place of a sweep.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// The amounts, one for each axis.
    pub amounts: [f64; 2],
    /// What they weigh as sold, kg.
    pub kg: [f64; 2],
    figures: [Option<Figure>; FIGURES],
    thresholds: [Option<f64>; FIGURES],
    /// The class, and the share of the draws in each.
    pub class: Option<(Class, [f64; Class::ALL.len()])>,
}

impl Point {
    /// A recipe's point; the amounts must be those of the recipe.
    pub(super) fn of(recipe: &Recipe, outcome: &Outcome, axes: &[Axis]) -> Point {
        let mut point = Point {
            amounts: [0.0; 2],
            kg: [0.0; 2],
            figures: [None; FIGURES],
            thresholds: [None; FIGURES],
            class: outcome
                .texture
                .map(|texture| (texture.class, texture.class_odds)),
        };
        for (at, axis) in axes.iter().take(2).enumerate() {
            let addition = recipe.additions.get(axis.line);
            point.amounts[at] = addition.map_or(0.0, |addition| addition.amount.value);
            let line = outcome.barrow.lines.get(axis.line);
            point.kg[at] = line.map_or(0.0, |line| line.moist_kg);
        }
        for (at, swept) in Swept::ALL.iter().enumerate() {
            point.figures[at] = swept.of(outcome);
            point.thresholds[at] = usual_threshold(*swept, recipe, outcome);
        }
        point
    }

    /// A figure here; none where there is none.
    pub fn figure(&self, swept: Swept) -> Option<Figure> {
        self.figures.get(swept as usize).copied().flatten()
    }

    /// What it is held against here: the user's own threshold, or the usual one.
    pub fn threshold(&self, swept: Swept, own: Option<f64>) -> Option<f64> {
        own.or_else(|| self.thresholds.get(swept as usize).copied().flatten())
    }

    /// How far a figure is above what it is held against.
    pub fn above(&self, swept: Swept, own: Option<f64>) -> Option<f64> {
        Some(self.figure(swept)?.typical - self.threshold(swept, own)?)
    }
}

/// A sweep under way. Points of two axes lie in rows of the first, the low end of the second first.
#[derive(Clone, Debug)]
pub struct Run {
    recipe: Recipe,
    axes: Vec<Axis>,
    points: Vec<Option<Point>>,
    /// The first fault, and the amounts that it came at.
    fault: Option<(RecipeError, [f64; 2])>,
    /// Measurements are left out where two draws could not weigh them.
    pub leaves_measured: bool,
}

impl Run {
    /// A sweep of one amount or two. That of one is drawn with its ranges and so needs strata of
    /// all draws; that of two is typical, by [`FEW`].
    ///
    /// # Errors
    /// What is wrong with an axis.
    pub fn of(recipe: &Recipe, axes: &[Axis]) -> Result<Run, AxisFault> {
        let (first, second) = match axes {
            [first] => (first, None),
            [first, second] => (first, Some(second)),
            _ => return Err(AxisFault::NoAddition),
        };
        first.check(recipe)?;
        if let Some(second) = second {
            second.check(recipe)?;
            if first.line == second.line {
                return Err(AxisFault::Twice);
            }
        }
        let mut recipe = recipe.clone();
        // What no figure hangs on is not carried along.
        recipe.lectern = None;
        recipe.trial = None;
        recipe.shelf = None;
        recipe.errand = None;
        let leaves_measured = second.is_some() && recipe.measured != Measured::default();
        if leaves_measured {
            recipe.measured = Measured::default();
        }
        Ok(Run {
            recipe,
            axes: axes.to_vec(),
            points: Vec::new(),
            fault: None,
            leaves_measured,
        })
    }

    /// Its axes.
    pub fn axes(&self) -> &[Axis] {
        &self.axes
    }

    /// The recipe that is swept.
    pub fn recipe(&self) -> &Recipe {
        &self.recipe
    }

    /// Points across and up; one row for a curve.
    pub fn size(&self) -> [usize; 2] {
        if self.axes.len() > 1 {
            MAP_STEPS.map(|steps| steps + 1)
        } else {
            [POINTS, 1]
        }
    }

    /// How many points there will be.
    pub fn all(&self) -> usize {
        let [columns, rows] = self.size();
        columns * rows
    }

    /// How many there are.
    pub fn done(&self) -> usize {
        self.points.len()
    }

    /// Whether all are there.
    pub fn is_done(&self) -> bool {
        self.done() >= self.all()
    }

    /// The points that are there, gaps where the recipe cannot be.
    pub fn points(&self) -> &[Option<Point>] {
        &self.points
    }

    /// A point by its place.
    pub fn point(&self, column: usize, row: usize) -> Option<&Point> {
        let [columns, _] = self.size();
        if column >= columns {
            return None;
        }
        self.points.get(row * columns + column)?.as_ref()
    }

    /// Gaps, and the first fault with the amounts that it came at.
    pub fn fault(&self) -> Option<(usize, &RecipeError, [f64; 2])> {
        let (error, at) = self.fault.as_ref()?;
        let gaps = self.points.iter().filter(|point| point.is_none()).count();
        Some((gaps, error, *at))
    }

    /// Computes the next point; gives whether there are more to come.
    pub fn step(&mut self, strata: &mut Strata) -> bool {
        if self.is_done() {
            return false;
        }
        let [columns, rows] = self.size();
        let (column, row) = (self.done() % columns, self.done() / columns);
        let steps = [columns, rows].map(|points| points.saturating_sub(1));
        let mut amounts = [0.0; 2];
        for ((amount, axis), (step, steps)) in amounts
            .iter_mut()
            .zip(&self.axes)
            .zip([(column, steps[0]), (row, steps[1])])
        {
            *amount = axis.at(step, steps);
        }
        let point = match self.evaluate(amounts, strata) {
            Ok(point) => Some(point),
            Err(error) => {
                self.fault.get_or_insert((error, amounts));
                None
            }
        };
        self.points.push(point);
        !self.is_done()
    }

    /// All figures at any amounts.
    ///
    /// # Errors
    /// The fault that the recipe has with these.
    pub fn evaluate(
        &mut self,
        amounts: [f64; 2],
        strata: &mut Strata,
    ) -> Result<Point, RecipeError> {
        for (axis, amount) in self.axes.iter().zip(amounts) {
            if let Some(addition) = self.recipe.additions.get_mut(axis.line) {
                addition.amount.value = amount;
            }
        }
        let outcome = Outcome::drawn_from(&self.recipe, strata)?;
        Ok(Point::of(&self.recipe, &outcome, &self.axes))
    }
}
