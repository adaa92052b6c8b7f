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
    /// The class from here on, where the threshold jumps with the class and the figure itself passes
    /// neither the old nor the new one.
    pub becomes: Option<Class>,
    /// Where the first and the last of nine in ten draws meet it; not told of a jump, nor where one
    /// cuts it off.
    pub likely: Option<[Reach; 2]>,
}

/// How far the doubt about a crossing goes to one side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reach {
    /// The end of the band meets the threshold at this amount.
    At(f64),
    /// Not before the end of the range, or a gap.
    Past,
    /// As far as the next crossing.
    Merges,
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
        let halved = if is_straight {
            None
        } else {
            halve(run, &one, &other, few, |point| {
                is_over(point) == Some(!rises)
            })
        };
        let (before, at) = halved.unwrap_or_else(|| {
            let at = straight(&one, &other, swept, own);
            (one, at)
        });
        let jumps = is_jump(&before, &at, swept, own);
        found.push(Crossing {
            amount: at.amounts[0],
            kg: at.kg[0],
            rises,
            threshold: at.threshold(swept, own).unwrap_or_default(),
            becomes: at.class.map(|(class, _)| class).filter(|_| jumps),
            likely: None,
        });
    }
    let places: Vec<(f64, bool)> = found
        .iter()
        .map(|crossing| (crossing.amount, crossing.becomes.is_some()))
        .collect();
    for (at, crossing) in found.iter_mut().enumerate() {
        let before = at.checked_sub(1).map(|before| places[before]);
        let beside = [before, places.get(at + 1).copied()];
        let limits = beside.map(|beside| beside.map(|(amount, _)| amount));
        let reaches = likely(run, swept, own, crossing, limits);
        // What is beyond a jump is held against something else: nothing can be told of it.
        let is_cut = reaches.iter().zip(beside).any(|(reach, beside)| {
            *reach == Reach::Merges && beside.is_some_and(|(_, jumps)| jumps)
        });
        crossing.likely = Some(reaches).filter(|_| !is_cut && crossing.becomes.is_none());
    }
    found
}

/// Whether only the threshold changes sides between two points: against that of either, the figure
/// stays on its side.
fn is_jump(before: &Point, after: &Point, swept: Swept, own: Option<f64>) -> bool {
    let [is, was] = [after, before].map(|point| point.figure(swept).map(|figure| figure.typical));
    let (Some(is), Some(was)) = (is, was) else {
        return false;
    };
    let stays = |point: &Point| {
        let threshold = point.threshold(swept, own);
        threshold.is_some_and(|threshold| (is >= threshold) == (was >= threshold))
    };
    // The others move by and by, or not at all.
    swept == Swept::Density && stays(before) && stays(after)
}

/// How far the doubt about a crossing goes: the hopeful end of the band to the left, the doubtful
/// one to the right, no farther than the crossings before and after it.
fn likely(
    run: &Run,
    swept: Swept,
    own: Option<f64>,
    crossing: &Crossing,
    [before, after]: [Option<f64>; 2],
) -> [Reach; 2] {
    let rises = crossing.rises;
    let above = |point: &Point, is_high: bool| {
        let ends = point.figure(swept)?.ends();
        let value = if is_high { ends.high } else { ends.low };
        Some((point.amounts[0], value - point.threshold(swept, own)?))
    };
    let is_met = |value: f64| (value >= 0.0) == rises;
    let points = run.points();
    // The first point at or after it: a crossing lies between that and the one before.
    let next = points
        .iter()
        .position(|point| {
            let point = point.as_ref();
            point.is_some_and(|point| point.amounts[0] >= crossing.amount)
        })
        .unwrap_or(points.len());
    let (to_left, to_right) = points.split_at(next);
    // What rises is met by the high end first; what falls, by the low end.
    let first = {
        let from = to_right.first().into_iter().chain(to_left.iter().rev());
        let values = from.map(|point| above(point.as_ref()?, rises));
        match walk(values, |value| !is_met(value), before, false) {
            Reach::At(amount) => Reach::At(amount.min(crossing.amount)),
            far => far,
        }
    };
    let last = {
        let from = to_left.last().into_iter().chain(to_right);
        let values = from.map(|point| above(point.as_ref()?, !rises));
        match walk(values, is_met, after, true) {
            Reach::At(amount) => Reach::At(amount.max(crossing.amount)),
            far => far,
        }
    };
    [first, last]
}

/// Walks along the end of a band, amounts with how far it is above the threshold, until it is what
/// is looked for, up to a limit.
fn walk(
    values: impl Iterator<Item = Option<(f64, f64)>>,
    is_it: impl Fn(f64) -> bool,
    limit: Option<f64>,
    upwards: bool,
) -> Reach {
    let is_past = |amount: f64| {
        limit.is_some_and(|limit| {
            if upwards {
                amount >= limit
            } else {
                amount <= limit
            }
        })
    };
    let mut known: Option<(f64, f64)> = None;
    for value in values {
        let Some((amount, value)) = value else {
            break;
        };
        if is_it(value) {
            let met = known.map_or(amount, |(from, before)| {
                from + (amount - from) * before / (before - value)
            });
            return if is_past(met) {
                Reach::Merges
            } else {
                Reach::At(met)
            };
        }
        if is_past(amount) {
            return Reach::Merges;
        }
        known = Some((amount, value));
    }
    match known {
        // So from the start on.
        Some((amount, _)) if !upwards => Reach::At(amount),
        _ => Reach::Past,
    }
}

/// Halves the stretch between two points, of which the first is what is asked and the second not;
/// gives the last point that is, and the first that is not.
fn halve(
    run: &mut Run,
    one: &Point,
    other: &Point,
    few: &mut Strata,
    is_before: impl Fn(&Point) -> bool,
) -> Option<(Point, Point)> {
    let (mut from, mut to) = (one.amounts[0], other.amounts[0]);
    let (mut before, mut after) = (None, None);
    for _ in 0..HALVINGS {
        let middle = 0.5 * (from + to);
        let point = run.evaluate([middle, 0.0], few).ok()?;
        if is_before(&point) {
            from = middle;
            before = Some(point);
        } else {
            to = middle;
            after = Some(point);
        }
    }
    let mut or_there = |known: Option<Point>, amount: f64| match known {
        Some(known) => Some(known),
        None => run.evaluate([amount, 0.0], few).ok(),
    };
    Some((or_there(before, from)?, or_there(after, to)?))
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
                let border = border.map_or_else(|| point.clone(), |(_, border)| border);
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
