//! A smooth function kept as polynomials, so that it can be asked ten thousand times.

use std::f64::consts::PI;

/// Coefficients of each piece.
const TERMS: usize = 24;
/// Width of a piece.
const WIDTH: f64 = 1.0;

/// A function between two ends, by Chebyshev polynomials in pieces.
#[derive(Clone, Debug)]
pub(super) struct Smooth {
    from: f64,
    pieces: Vec<[f64; TERMS]>,
}

impl Smooth {
    /// Of a function that bends like a normal distribution: 24 terms leave less than 1e-13.
    pub(super) fn of(from: f64, pieces: u32, of: impl Fn(f64) -> f64) -> Smooth {
        let angle = |number: usize| PI * (number as f64 + 0.5) / TERMS as f64;
        let piece = |piece: u32| {
            let middle = from + WIDTH * (f64::from(piece) + 0.5);
            let mut values = [0.0; TERMS];
            for (number, value) in values.iter_mut().enumerate() {
                *value = of(middle + 0.5 * WIDTH * libm::cos(angle(number)));
            }
            let mut terms = [0.0; TERMS];
            for (order, term) in terms.iter_mut().enumerate() {
                let mut sum = 0.0;
                for (number, value) in values.iter().enumerate() {
                    sum += value * libm::cos(order as f64 * angle(number));
                }
                *term = sum * 2.0 / TERMS as f64;
            }
            terms[0] *= 0.5;
            terms
        };
        Smooth {
            from,
            pieces: (0..pieces).map(piece).collect(),
        }
    }

    /// The function's value; none outside of its ends.
    pub(super) fn at(&self, x: f64) -> Option<f64> {
        let place = (x - self.from) / WIDTH;
        if place.is_nan() || place < 0.0 {
            return None;
        }
        let terms = self.pieces.get(place as usize)?;
        let x = 2.0 * (place - place.floor()) - 1.0;
        // The sum of Clenshaw, from the last term on.
        let (mut one, mut two) = (0.0, 0.0);
        for term in terms[1..].iter().rev() {
            (one, two) = (2.0 * x * one - two + term, one);
        }
        Some(x * one - two + terms[0])
    }
}
