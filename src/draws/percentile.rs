//! Percentiles of draws.

use crate::figure::Ends;

/// The 5th and 95th percentile of what is a number among the values, straight between neighbours
/// (position share x (count - 1)); none if nothing is. The values lose their order.
pub fn ends(values: &mut Vec<f64>) -> Option<Ends> {
    values.retain(|value| value.is_finite());
    let first = *values.first()?;
    if values.iter().all(|value| *value == first) {
        return Some(Ends {
            low: first,
            high: first,
        });
    }
    Some(Ends {
        low: share_of(values, 0.05),
        high: share_of(values, 0.95),
    })
}

/// The value that a share of the values lies below, straight between neighbours. All are numbers,
/// and there is at least one; they lose their order.
pub fn share_of(values: &mut [f64], share: f64) -> f64 {
    let position = share * (values.len() - 1) as f64;
    let below = position as usize;
    let value = select(values, below);
    let next = values
        .get(below + 1..)
        .unwrap_or_default()
        .iter()
        .fold(f64::INFINITY, |least: f64, value| least.min(*value));
    let part = position - below as f64;
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
