//! One number, or two side by side. What is computed for a blend is written once, for any of them:
//! the draws go through it two at a time, the typical values as a pair of equals.

use std::fmt::Debug;
use std::ops::{Add, AddAssign, Div, Mul, Sub};

/// A number in a computation that may hold several at once. Every lane is computed as if it were
/// alone, with the same roundings on every machine.
pub trait Lane:
    Copy
    + Debug
    + PartialEq
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + Mul<f64, Output = Self>
    + AddAssign
{
    /// How many numbers it holds.
    const WIDTH: usize;

    /// The same number in every lane.
    fn all(value: f64) -> Self;
    /// Neighbours in a column, from a place on; beyond its end there are no numbers.
    fn load(column: &[f64], at: usize) -> Self;
    /// Puts the lanes into a column, from a place on.
    fn store(self, column: &mut [f64], at: usize);
    /// The number of the first lane.
    fn first(self) -> f64;
    /// The greater of two.
    fn at_least(self, least: Self) -> Self;
    /// The smaller of two.
    fn at_most(self, most: Self) -> Self;
    /// `yes` where the lane is above a limit, else `no`; a lane that is no number is above nothing.
    fn where_above(self, limit: Self, yes: Self, no: Self) -> Self;
    /// Whether any lane is above its limit.
    fn any_above(self, limit: Self) -> bool;
    /// A function of each lane.
    fn each(self, of: impl Fn(f64) -> f64) -> Self;
}

impl Lane for f64 {
    const WIDTH: usize = 1;

    fn all(value: f64) -> f64 {
        value
    }
    fn load(column: &[f64], at: usize) -> f64 {
        column[at]
    }
    fn store(self, column: &mut [f64], at: usize) {
        column[at] = self;
    }
    fn first(self) -> f64 {
        self
    }
    fn at_least(self, least: f64) -> f64 {
        if self < least { least } else { self }
    }
    fn at_most(self, most: f64) -> f64 {
        if most < self { most } else { self }
    }
    fn where_above(self, limit: f64, yes: f64, no: f64) -> f64 {
        if self > limit { yes } else { no }
    }
    fn any_above(self, limit: f64) -> bool {
        self > limit
    }
    fn each(self, of: impl Fn(f64) -> f64) -> f64 {
        of(self)
    }
}

pub use pair::Pair;

/// Two numbers in one register of the wasm machine.
#[cfg(all(target_arch = "wasm32", target_feature = "simd128"))]
mod pair {
    use super::Lane;
    use core::arch::wasm32::{
        f64x2, f64x2_add, f64x2_div, f64x2_extract_lane, f64x2_gt, f64x2_mul, f64x2_pmax,
        f64x2_pmin, f64x2_splat, f64x2_sub, v128, v128_any_true, v128_bitselect,
    };
    use std::ops::{Add, AddAssign, Div, Mul, Sub};

    /// Two numbers side by side.
    #[derive(Clone, Copy, Debug)]
    pub struct Pair(v128);

    impl Pair {
        #[inline(always)]
        fn both(self) -> [f64; 2] {
            [
                f64x2_extract_lane::<0>(self.0),
                f64x2_extract_lane::<1>(self.0),
            ]
        }
    }

    impl PartialEq for Pair {
        fn eq(&self, other: &Pair) -> bool {
            self.both() == other.both()
        }
    }

    macro_rules! operator {
        ($trait:ident $name:ident $act:ident) => {
            impl $trait for Pair {
                type Output = Pair;
                #[inline(always)]
                fn $name(self, other: Pair) -> Pair {
                    Pair($act(self.0, other.0))
                }
            }
        };
    }
    operator!(Add add f64x2_add);
    operator!(Sub sub f64x2_sub);
    operator!(Mul mul f64x2_mul);
    operator!(Div div f64x2_div);

    impl Mul<f64> for Pair {
        type Output = Pair;
        #[inline(always)]
        fn mul(self, by: f64) -> Pair {
            Pair(f64x2_mul(self.0, f64x2_splat(by)))
        }
    }

    impl AddAssign for Pair {
        #[inline(always)]
        fn add_assign(&mut self, other: Pair) {
            self.0 = f64x2_add(self.0, other.0);
        }
    }

    impl Lane for Pair {
        const WIDTH: usize = 2;

        #[inline(always)]
        fn all(value: f64) -> Pair {
            Pair(f64x2_splat(value))
        }
        #[inline(always)]
        fn load(column: &[f64], at: usize) -> Pair {
            match column.get(at..at + 2) {
                Some([one, other]) => Pair(f64x2(*one, *other)),
                _ => Pair::all(f64::NAN),
            }
        }
        #[inline(always)]
        fn store(self, column: &mut [f64], at: usize) {
            if let Some([one, other]) = column.get_mut(at..at + 2) {
                [*one, *other] = self.both();
            }
        }
        #[inline(always)]
        fn first(self) -> f64 {
            f64x2_extract_lane::<0>(self.0)
        }
        #[inline(always)]
        fn at_least(self, least: Pair) -> Pair {
            Pair(f64x2_pmax(self.0, least.0))
        }
        #[inline(always)]
        fn at_most(self, most: Pair) -> Pair {
            Pair(f64x2_pmin(self.0, most.0))
        }
        #[inline(always)]
        fn where_above(self, limit: Pair, yes: Pair, no: Pair) -> Pair {
            Pair(v128_bitselect(yes.0, no.0, f64x2_gt(self.0, limit.0)))
        }
        #[inline(always)]
        fn any_above(self, limit: Pair) -> bool {
            v128_any_true(f64x2_gt(self.0, limit.0))
        }
        #[inline(always)]
        fn each(self, of: impl Fn(f64) -> f64) -> Pair {
            let [one, other] = self.both();
            // Draws often share a number, and functions are dear.
            let first = of(one);
            Pair(f64x2(first, if one == other { first } else { of(other) }))
        }
    }
}

/// Two numbers in plain Rust.
#[cfg(not(all(target_arch = "wasm32", target_feature = "simd128")))]
mod pair {
    use super::Lane;
    use std::ops::{Add, AddAssign, Div, Mul, Sub};

    /// Two numbers side by side.
    #[derive(Clone, Copy, Debug, PartialEq)]
    pub struct Pair([f64; 2]);

    macro_rules! operator {
        ($trait:ident $name:ident $sign:tt) => {
            impl $trait for Pair {
                type Output = Pair;
                #[inline(always)]
                fn $name(self, other: Pair) -> Pair {
                    Pair([self.0[0] $sign other.0[0], self.0[1] $sign other.0[1]])
                }
            }
        };
    }
    operator!(Add add +);
    operator!(Sub sub -);
    operator!(Mul mul *);
    operator!(Div div /);

    impl Mul<f64> for Pair {
        type Output = Pair;
        #[inline(always)]
        fn mul(self, by: f64) -> Pair {
            Pair([self.0[0] * by, self.0[1] * by])
        }
    }

    impl AddAssign for Pair {
        #[inline(always)]
        fn add_assign(&mut self, other: Pair) {
            *self = *self + other;
        }
    }

    impl Pair {
        #[inline(always)]
        fn with(self, other: Pair, of: impl Fn(f64, f64) -> f64) -> Pair {
            Pair([of(self.0[0], other.0[0]), of(self.0[1], other.0[1])])
        }
    }

    impl Lane for Pair {
        const WIDTH: usize = 2;

        #[inline(always)]
        fn all(value: f64) -> Pair {
            Pair([value; 2])
        }
        #[inline(always)]
        fn load(column: &[f64], at: usize) -> Pair {
            match column.get(at..at + 2) {
                Some([one, other]) => Pair([*one, *other]),
                _ => Pair::all(f64::NAN),
            }
        }
        #[inline(always)]
        fn store(self, column: &mut [f64], at: usize) {
            if let Some([one, other]) = column.get_mut(at..at + 2) {
                [*one, *other] = self.0;
            }
        }
        #[inline(always)]
        fn first(self) -> f64 {
            self.0[0]
        }
        #[inline(always)]
        fn at_least(self, least: Pair) -> Pair {
            self.with(least, Lane::at_least)
        }
        #[inline(always)]
        fn at_most(self, most: Pair) -> Pair {
            self.with(most, Lane::at_most)
        }
        #[inline(always)]
        fn where_above(self, limit: Pair, yes: Pair, no: Pair) -> Pair {
            let one = |at: usize| self.0[at].where_above(limit.0[at], yes.0[at], no.0[at]);
            Pair([one(0), one(1)])
        }
        #[inline(always)]
        fn any_above(self, limit: Pair) -> bool {
            self.0[0] > limit.0[0] || self.0[1] > limit.0[1]
        }
        #[inline(always)]
        fn each(self, of: impl Fn(f64) -> f64) -> Pair {
            let [one, other] = self.0;
            let first = of(one);
            Pair([first, if one == other { first } else { of(other) }])
        }
    }
}
