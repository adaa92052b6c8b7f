//! Decimals of many digits or of large powers of ten.

use super::exponent_of;

/// Digits that are read; one more stands for all the rest. Between two neighbours lies a number of
/// at most 767 digits, so more decide nothing.
const DIGITS_READ: i64 = 800;
/// Bits of a quotient: those of a number, at least two that round it.
const QUOTIENT_BITS: i64 = 56;
/// The power of two of the least number.
const LEAST_POWER: i64 = -1074;
const INFINITE: u64 = 0x7ff << 52;

/// A whole number without sign; limbs of 32 bits, the lowest first and the highest not 0.
#[derive(Default)]
struct Whole(Vec<u32>);

impl Whole {
    #[inline(never)]
    fn multiply_add(&mut self, factor: u32, mut carry: u32) {
        for limb in &mut self.0 {
            let wide = u64::from(*limb) * u64::from(factor) + u64::from(carry);
            *limb = wide as u32;
            carry = (wide >> 32) as u32;
        }
        if carry > 0 {
            self.0.push(carry);
        }
    }

    /// Times a power; `base` to the ninth must fit a limb.
    fn scale(&mut self, base: u32, mut power: i64) {
        while power > 0 {
            let step = power.min(9);
            let mut factor = 1;
            for _ in 0..step {
                factor *= base;
            }
            self.multiply_add(factor, 0);
            power -= step;
        }
    }

    fn bits(&self) -> i64 {
        let top = self.0.last().map_or(0, |limb| limb.leading_zeros());
        self.0.len() as i64 * 32 - i64::from(top)
    }

    fn is_less(&self, other: &Whole) -> bool {
        if self.0.len() != other.0.len() {
            return self.0.len() < other.0.len();
        }
        for (one, other) in self.0.iter().zip(&other.0).rev() {
            if one != other {
                return one < other;
            }
        }
        false
    }

    /// Takes away what is not more.
    fn subtract(&mut self, other: &Whole) {
        let mut borrow = 0;
        for (index, limb) in self.0.iter_mut().enumerate() {
            let less = other.0.get(index).copied().unwrap_or(0);
            let wide = i64::from(*limb) - i64::from(less) + borrow;
            *limb = wide as u32;
            borrow = wide >> 32;
        }
        while self.0.last() == Some(&0) {
            self.0.pop();
        }
    }
}

/// The number of a text that is one.
pub(super) fn size(text: &[u8]) -> f64 {
    let mut whole = Whole::default();
    // Digits of the whole number, and the power of ten of its last.
    let (mut count, mut power) = (0, 0);
    let (mut point, mut more) = (false, false);
    for (index, byte) in text.iter().copied().enumerate() {
        match byte {
            b'0'..=b'9' => {
                let digit = u32::from(byte - b'0');
                if count < DIGITS_READ {
                    if count > 0 || digit > 0 {
                        whole.multiply_add(10, digit);
                        count += 1;
                    }
                    power -= i64::from(point);
                } else {
                    more |= digit > 0;
                    power += i64::from(!point);
                }
            }
            b'.' => point = true,
            _ => {
                power += exponent_of(&text[index + 1..]).unwrap_or_default();
                break;
            }
        }
    }
    if more {
        whole.multiply_add(10, 1);
        count += 1;
        power -= 1;
    }
    nearest(whole, count, power)
}

/// The number nearest to a whole one, of so many digits, times a power of ten.
fn nearest(mut whole: Whole, count: i64, power: i64) -> f64 {
    // Below 10 to the -324 or from 10 to the 309 on.
    if count == 0 || count + power <= -324 {
        return 0.0;
    }
    if count + power > 309 {
        return f64::INFINITY;
    }
    let mut divisor = Whole(vec![1]);
    whole.scale(10, power);
    divisor.scale(10, -power);
    // Their quotient comes to between a half and two, and then one bit after the other.
    let two = whole.bits() - divisor.bits();
    whole.scale(2, -two);
    divisor.scale(2, two);
    let mut quotient = 0_u64;
    let bits = QUOTIENT_BITS.min(two + 3 - LEAST_POWER);
    for _ in 0..bits {
        quotient <<= 1;
        if !whole.is_less(&divisor) {
            whole.subtract(&divisor);
            quotient |= 1;
        }
        whole.multiply_add(2, 0);
    }
    quotient |= u64::from(!whole.0.is_empty());
    // The quotient's last bit is worth two to this power.
    let last = two + 1 - bits;
    rounded(quotient, last)
}

/// A quotient times a power of two, as a number.
fn rounded(quotient: u64, last: i64) -> f64 {
    let extra = 11_u32.saturating_sub(quotient.leading_zeros()).max(2);
    let (size, rest) = (quotient >> extra, quotient & ((1 << extra) - 1));
    let half = 1 << (extra - 1);
    let up = rest > half || rest == half && size & 1 == 1;
    let exponent = (last + i64::from(extra) - LEAST_POWER) as u64;
    // What carries over from the digits raises the exponent, up to infinity.
    let bits = (exponent << 52) + size + u64::from(up);
    f64::from_bits(bits.min(INFINITE))
}
