//! Where a curve meets its threshold, and where one texture class becomes another.

use super::figures::Swept;
use super::run::{Point, Run};
use crate::draws::Strata;
use crate::texture::Class;

/// Halvings of the stretch between two points: a thousandth of it is finer than one measures.
const HALVINGS: usize = 10;

/// Where a curve meets its threshold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// The amount, in its own unit.
    pub amount: f64,
    /// What that weighs as sold, kg.
    pub kg: f64,
    /// Whether the figure is above from here on; else it falls below.
    pub rises: bool,
    /// The threshold there.
    pub threshold: f64,
    /// Where the first and the last of nine in ten draws meet it; none beyond the range.
    pub likely: [Option<f64>; 2],
}

/// A stretch of the range in one texture class.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// The class.
    pub class: Class,
    /// From how much.
    pub from: f64,
    /// What that weighs, kg.
    pub from_kg: f64,
    /// To how much.
    pub to: f64,
}

/// Two points beside each other, both there.
fn pairs(run: &Run) -> impl Iterator<Item = (&Point, &Point)> {
    let pairs = run.points().windows(2);
    pairs.filter_map(|pair| match pair {
        [Some(one), Some(other)] => Some((one, other)),
        _ => None,
    })
}

/// Where the curve of a figure meets its threshold, from the low end on; refined by typical
/// evaluations, or by a straight line where measurements move what is typical.
pub fn crossings(run: &mut Run, swept: Swept, own: Option<f64>, few: &mut Strata) -> Vec<Crossing> {
    let is_straight = run.recipe().measured != crate::recipe::Measured::default();
    let met: Vec<(Point, Point)> = pairs(run)
        .filter(|(one, other)| {
            let [one, other] = [one, other].map(|point| point.above(swept, own));
            matches!((one, other), (Some(one), Some(other)) if (one >= 0.0) != (other >= 0.0))
        })
        .map(|(one, other)| (one.clone(), other.clone()))
        .collect();
    let mut found = Vec::with_capacity(met.len());
    for (one, other) in met {
        let rises = one.above(swept, own).is_some_and(|above| above < 0.0);
        let is_over = |point: &Point| point.above(swept, own).map(|above| above >= 0.0);
        let at = if is_straight {
            None
        } else {
            halve(run, &one, &other, few, |point| {
                is_over(point) == Some(!rises)
            })
        };
        let at = at.unwrap_or_else(|| straight(&one, &other, swept, own));
        found.push(Crossing {
            amount: at.amounts[0],
            kg: at.kg[0],
            rises,
            threshold: at.threshold(swept, own).unwrap_or_default(),
            likely: likely(run, swept, own, rises),
        });
    }
    found
}

/// Where the ends of the band meet the threshold: the hopeful end, then the doubtful one.
fn likely(run: &Run, swept: Swept, own: Option<f64>, rises: bool) -> [Option<f64>; 2] {
    let end = |is_high: bool| {
        let above = |point: &Point| {
            let ends = point.figure(swept)?.ends();
            let value = if is_high { ends.high } else { ends.low };
            Some((value - point.threshold(swept, own)?, point.amounts[0]))
        };
        let values: Vec<(f64, f64)> = run.points().iter().flatten().filter_map(above).collect();
        let is_met = |value: f64| (value >= 0.0) == rises;
        let first = values.iter().position(|(value, _)| is_met(*value))?;
        let (value, amount) = values[first];
        let Some((before, from)) = first.checked_sub(1).map(|at| values[at]) else {
            return Some(amount);
        };
        Some(from + (amount - from) * before / (before - value))
    };
    // What rises is met by the high end first; what falls, by the low end.
    [end(rises), end(!rises)]
}

/// Halves the stretch between two points, of which the first is what is asked and the second not.
fn halve(
    run: &mut Run,
    one: &Point,
    other: &Point,
    few: &mut Strata,
    is_before: impl Fn(&Point) -> bool,
) -> Option<Point> {
    let (mut from, mut to) = (one.amounts[0], other.amounts[0]);
    let mut last = None;
    for _ in 0..HALVINGS {
        let middle = 0.5 * (from + to);
        let point = run.evaluate([middle, 0.0], few).ok()?;
        if is_before(&point) {
            from = middle;
        } else {
            to = middle;
            last = Some(point);
        }
    }
    match last {
        Some(last) => Some(last),
        None => run.evaluate([to, 0.0], few).ok(),
    }
}

/// The point between two at which a straight line meets the threshold.
fn straight(one: &Point, other: &Point, swept: Swept, own: Option<f64>) -> Point {
    let [before, after] = [one, other].map(|point| point.above(swept, own).unwrap_or_default());
    let share = if before == after {
        1.0
    } else {
        before / (before - after)
    };
    let mut at = other.clone();
    for axis in 0..at.amounts.len() {
        let between = |from: f64, to: f64| from + (to - from) * share;
        at.amounts[axis] = between(one.amounts[axis], other.amounts[axis]);
        at.kg[axis] = between(one.kg[axis], other.kg[axis]);
    }
    at
}

/// The classes that the range goes through, from the low end on; a gap parts two stretches.
pub fn stretches(run: &mut Run, few: &mut Strata) -> Vec<Stretch> {
    let points: Vec<Option<Point>> = run.points().to_vec();
    let mut found: Vec<Stretch> = Vec::new();
    let mut before: Option<&Point> = None;
    for point in &points {
        let Some((point, class)) = point
            .as_ref()
            .and_then(|point| Some((point, point.class?.0)))
        else {
            before = None;
            continue;
        };
        let amount = point.amounts[0];
        match (before, found.last_mut()) {
            (Some(_), Some(last)) if last.class == class => last.to = amount,
            (Some(known), Some(last)) => {
                let was = last.class;
                let of = |point: &Point| point.class.map(|(class, _)| class);
                let border = halve(run, known, point, few, |point| of(point) == Some(was));
                let border = border.unwrap_or_else(|| point.clone());
                last.to = border.amounts[0];
                found.push(Stretch {
                    class,
                    from: border.amounts[0],
                    from_kg: border.kg[0],
                    to: amount,
                });
            }
            _ => found.push(Stretch {
                class,
                from: amount,
                from_kg: point.kg[0],
                to: amount,
            }),
        }
        before = Some(point);
    }
    found
}
