//! Geometry of the drawings, as numbers. Nothing here knows of a page.

mod cloud;
mod column;
#[cfg(not(feature = "page"))]
mod curve;
mod jar;
#[cfg(not(feature = "page"))]
mod naming;
#[cfg(not(feature = "page"))]
mod pot;
#[cfg(not(feature = "page"))]
mod qr;
#[cfg(not(feature = "page"))]
mod sweep;
#[cfg(not(feature = "page"))]
mod trial;
#[cfg(not(feature = "page"))]
mod trial_dots;
mod triangle;
#[cfg(not(feature = "page"))]
mod years;

pub use cloud::{HELD, cloud, region};
pub use column::{
    BARS, Bar, COLUMN_STATES, ColumnState, FILLINGS, Parts, bars, column_ends, column_parts,
};
#[cfg(not(feature = "page"))]
pub use curve::{CURVE_CM, CurveFrame, curve_top_pct};
pub use jar::{JarLayer, jar_layers};
#[cfg(not(feature = "page"))]
pub use naming::name_spot;
#[cfg(not(feature = "page"))]
pub use pot::{DOT_RADIUS, PotFrame, ruler};
#[cfg(not(feature = "page"))]
pub use qr::{QUIET, Qr, Run, qr};
#[cfg(not(feature = "page"))]
pub use sweep::{SweepCells, SweepFrame, SweepGrid, SweepScale};
#[cfg(not(feature = "page"))]
pub use trial::{BlockOutline, Place, TrialPlan, Wedge};
#[cfg(not(feature = "page"))]
pub use trial_dots::{TrialBar, TrialScale, difference_scale, dots_scale, swarm};
pub use triangle::{Frame, GRID_STEP_PCT, SMALL_TRIANGLE, TRIANGLE, Tick, axis_names, grid, ticks};
#[cfg(not(feature = "page"))]
pub use years::{YearsFrame, years_top_pct};

/// A point in a drawing: x to the right, y down.
pub type Point = [f64; 2];
