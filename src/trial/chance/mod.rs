//! Distributions, on `libm` alone, so that native and wasm agree to the bit.

mod beta;
mod dunnett;
mod normal;
mod root;
mod scale;
mod smooth;
mod tails;

pub use dunnett::{Dunnett, Sides, lambda};
pub use normal::{normal_above, normal_below, normal_density};
pub use root::least_reaching;
pub(super) use scale::Scale;
pub use tails::{
    chi_square_above, chi_square_below, chi_square_quantile, f_above, f_quantile, t_above, t_below,
    t_quantile, t_two_sided,
};
