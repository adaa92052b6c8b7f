//! Percentiles of draws.

use crate::figure::Ends;

/// Shares at which an outcome's ends lie.
const ENDS: [f64; 2] = [0.05, 0.95];
/// Boxes that values are counted in before the few around a percentile are looked at.
const BOXES: usize = 256;

/// The 5th and 95th percentile of what is a number among the values, straight between neighbours
/// (position share x (count - 1)); none if nothing is.
pub fn ends(values: &[f64]) -> Option<Ends> {
    let [low, high] = shares_of(values, ENDS)?;
    Some(Ends { low, high })
}

/// The value that a share of the values lies below, in the same way.
pub fn share_of(values: &[f64], share: f64) -> Option<f64> {
    shares_of(values, [share; 2]).map(|[value, _]| value)
}

/// The least of what is a number, the scale by which its values fall into boxes, and how many they
/// are; none if nothing is a number. Where all are equal the scale is no number.
fn boxes_of(values: &[f64]) -> Option<(f64, f64, usize)> {
    let (mut least, mut most, mut count) = (f64::INFINITY, f64::NEG_INFINITY, 0_usize);
    for value in values {
        if value.is_finite() {
            if *value < least {
                least = *value;
            }
            if *value > most {
                most = *value;
            }
            count += 1;
        }
    }
    if count == 0 {
        return None;
    }
    Some((least, (BOXES - 1) as f64 / (most - least), count))
}

/// Counting in boxes costs no jumps of the processor; only the box with the percentile is searched.
fn shares_of(values: &[f64], shares: [f64; 2]) -> Option<[f64; 2]> {
    let (least, scale, count) = boxes_of(values)?;
    if !scale.is_finite() {
        return Some([least; 2]);
    }
    let mut counts = [0_usize; BOXES];
    for value in values {
        if value.is_finite() {
            counts[box_of(*value, least, scale)] += 1;
        }
    }
    let mut near = Vec::new();
    Some(shares.map(|share| {
        let position = share * (count - 1) as f64;
        let below = position as usize;
        // The boxes of the neighbours below and above.
        let (mut before, mut first) = (0, 0);
        while before + counts[first] <= below {
            before += counts[first];
            first += 1;
        }
        let (mut reached, mut last) = (before + counts[first], first);
        while reached <= below + 1 && last + 1 < BOXES {
            last += 1;
            reached += counts[last];
        }
        near.clear();
        for value in values {
            let at = box_of(*value, least, scale);
            if at >= first && at <= last && value.is_finite() {
                near.push(*value);
            }
        }
        between(&mut near, below - before, position - below as f64)
    }))
}

/// The 5th percentile, the median and the 95th of what is a number among values of which some
/// count more than others; none if nothing counts. A value lies at the share of the others' weight
/// that is below it, straight between neighbours: with equal weights as [`ends`].
pub fn weighted(values: &[f64], weights: &[f64]) -> Option<[f64; 3]> {
    let (least, scale, count) = boxes_of(values)?;
    let shares = [ENDS[0], 0.5, ENDS[1]];
    if !scale.is_finite() {
        return Some([least; 3]);
    }
    // By boxes they are nearly in order.
    let mut places = [0_usize; BOXES];
    for value in values {
        if value.is_finite() {
            places[box_of(*value, least, scale)] += 1;
        }
    }
    let mut sum = 0;
    for place in &mut places {
        sum += *place;
        *place = sum - *place;
    }
    let mut order = vec![(0.0, 0.0); count];
    let mut total = 0.0;
    for (value, weight) in values.iter().zip(weights) {
        if value.is_finite() {
            let place = &mut places[box_of(*value, least, scale)];
            if let Some(pair) = order.get_mut(*place) {
                *pair = (*value, *weight);
            }
            *place += 1;
            total += *weight;
        }
    }
    for mut end in 2..=count {
        while let Some([.., before, last]) = order.get_mut(..end)
            && before.0 > last.0
        {
            std::mem::swap(before, last);
            end -= 1;
        }
    }
    if total <= 0.0 {
        return None;
    }
    let mut rest = &order[..];
    let mut below = 0.0;
    let mut out = [0.0; 3];
    for (value, share) in out.iter_mut().zip(shares) {
        while let [(here, weight), later @ ..] = rest {
            *value = *here;
            let [(next, its), ..] = later else {
                break;
            };
            let passed = below + weight;
            if passed + share * its > share * total {
                let from = below / (total - weight);
                let part = (share - from) / (passed / (total - its) - from);
                // It is no number where one value has all the weight.
                if part > 0.0 {
                    *value += part.min(1.0) * (next - here);
                }
                break;
            }
            below = passed;
            rest = later;
        }
    }
    Some(out)
}

/// How many draws of equal weight tell as much: the square of the weights' sum over the sum of
/// their squares; nothing where nothing counts.
pub fn effective(weights: &[f64]) -> f64 {
    let (mut sum, mut squares) = (0.0, 0.0);
    for weight in weights {
        sum += weight;
        squares += weight * weight;
    }
    if squares > 0.0 {
        sum * sum / squares
    } else {
        0.0
    }
}

#[inline(always)]
fn box_of(value: f64, least: f64, scale: f64) -> usize {
    (((value - least) * scale) as usize).min(BOXES - 1)
}

/// The value at a place of the sorted order, and so far on to the next.
fn between(values: &mut [f64], place: usize, part: f64) -> f64 {
    let value = select(values, place);
    let mut next = f64::INFINITY;
    for later in values.get(place + 1..).unwrap_or_default() {
        next = next.min(*later);
    }
    if part > 0.0 && next.is_finite() {
        value + part * (next - value)
    } else {
        value
    }
}

/// The value at a place of the sorted order; smaller ones end up before it, greater ones behind.
/// Hoare's selection. The values are numbers.
fn select(values: &mut [f64], place: usize) -> f64 {
    let (mut from, mut to) = (0, values.len() - 1);
    while from < to {
        let middle = values[usize::midpoint(from, to)];
        // The median of three, so that ordered values are no bad case.
        let (one, other) = (values[from].min(values[to]), values[from].max(values[to]));
        let pivot = middle.max(one).min(other);
        let (mut left, mut right) = (from, to);
        loop {
            while values[left] < pivot {
                left += 1;
            }
            while values[right] > pivot {
                right -= 1;
            }
            if left >= right {
                break;
            }
            values.swap(left, right);
            left += 1;
            right -= 1;
        }
        // Everything before `left` is at most the pivot, everything after `right` at least.
        if place <= right && right < to {
            to = right;
        } else if place >= left && left > from {
            from = left;
        } else {
            // Between them stands the pivot itself.
            break;
        }
    }
    values[place]
}
