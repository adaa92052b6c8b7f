//! Where a rising function reaches a height.

/// Turns at the most; a bisection alone would need as many for any two doubles.
const TURNS: u32 = 200;
/// Doublings of the upper end at the most.
const DOUBLINGS: u32 = 60;
/// How narrow the answer is held, relative.
const NARROW: f64 = 1e-14;

/// The least `x` from `low` on at which a function that never falls reaches `height`, by bisection;
/// between two halvings the straight line through the ends is tried (the Illinois way: an end that
/// stays counts half), which ends the search earlier. The upper end, above 0, is doubled until it
/// reaches. None if it never does, or if something is no number.
pub fn least_reaching(low: f64, high: f64, height: f64, of: impl Fn(f64) -> f64) -> Option<f64> {
    let (mut low, mut high) = (low, high);
    let mut above = of(high) - height;
    let mut doublings = 0;
    while above < 0.0 {
        doublings += 1;
        if doublings > DOUBLINGS {
            return None;
        }
        low = high;
        high *= 2.0;
        above = of(high) - height;
    }
    let mut below = of(low) - height;
    if !(below.is_finite() && above.is_finite()) {
        return None;
    }
    if below >= 0.0 {
        return Some(low);
    }
    let mut wide = high - low;
    let mut stayed = 0_i32;
    for turn in 0..TURNS {
        let width = high - low;
        if width <= NARROW * high.abs() || above == 0.0 {
            break;
        }
        let half = low + 0.5 * width;
        let straight = low + width * (below / (below - above));
        // Three tries by the line must have brought it to half, or it is halved.
        let halve = turn % 4 == 3 && width > 0.5 * wide;
        if turn % 4 == 3 {
            wide = width;
        }
        let middle = if halve || !(straight > low && straight < high) {
            half
        } else {
            straight
        };
        if !(middle > low && middle < high) {
            break;
        }
        let here = of(middle) - height;
        if here >= 0.0 {
            (high, above) = (middle, here);
            if stayed > 0 {
                below *= 0.5;
            }
            stayed = 1;
        } else if here < 0.0 {
            (low, below) = (middle, here);
            if stayed < 0 {
                above *= 0.5;
            }
            stayed = -1;
        } else {
            return None;
        }
    }
    Some(high)
}
