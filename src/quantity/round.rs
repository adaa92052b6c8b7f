//! Rounding to digits that can be typed.

/// The power of ten of a number's first digit; 0 for zero.
pub(crate) fn magnitude(value: f64) -> i32 {
    if value == 0.0 || !value.is_finite() {
        return 0;
    }
    // A hair up, so that 1000 is not taken for 999; the greatest number has no hair above it.
    let value = (value.abs() * (1.0 + 1e-12)).min(f64::MAX);
    let mut power = 0;
    while ten_to(power + 1) <= value {
        power += 1;
    }
    while ten_to(power) > value {
        power -= 1;
    }
    power
}

/// A whole power of ten; exact as far as a double can be, to 22.
pub(crate) fn ten_to(power: i32) -> f64 {
    let mut scale = 1.0;
    for _ in 0..power.abs() {
        scale *= 10.0;
    }
    if power < 0 { 1.0 / scale } else { scale }
}

/// A number rounded to so many significant digits: the nearest one that can be typed.
pub fn round_significant(value: f64, digits: usize) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value;
    }
    let power = digits as i32 - 1 - magnitude(value);
    // Dividing by a whole power of ten gives the nearest double; multiplying by a tenth does not.
    let scale = ten_to(power.abs());
    let rounded = if power >= 0 {
        (value * scale).round() / scale
    } else {
        (value / scale).round() * scale
    };
    // Where no power of ten can scale it, it has no other.
    if rounded.is_finite() { rounded } else { value }
}
