//! The side-by-side trial: containers treated apart, and what their readings show.
//!
//! | room | what it holds |
//! |---|---|
//! | [`chance`] | normal, t, F and chi-square; several treatments against one control |
//! | [`power`] | what a trial of so many containers can find, and what luck alone does |
//! | [`limits`] | limits that were computed once |
//! | [`fit`] | means by least squares: random, in blocks, in a square; containers may be missing |
//! | [`permute`] | chance by shuffling the treatments of the containers that were measured |
//! | [`ranks`] | tests by ranks, for scores and readings with a limit |
//! | [`compare`] | pairs of treatments with spreads of their own; adjusted chances; proportions |
//! | [`verdict`] | a range and the difference that matters in, a verdict out |
//! | [`analysis`] | one measure in, everything out |

pub mod analysis;
pub mod chance;
pub mod compare;
pub mod fit;
pub mod limits;
pub mod permute;
pub mod power;
pub mod ranks;
pub mod verdict;
