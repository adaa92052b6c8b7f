//! Sand, silt and clay told by another limit between silt and sand.
//!
//! Within an interval the cumulative mass is taken as linear in the logarithm of the size (Shirazi,
//! Boersma & Johnson 2001, Soil Sci. Soc. Am. J. 65:300, from memory; the simplest of those compared
//! by Nemes et al. 1999, Geoderma 90:187). From the limit of 20 um upwards the regression of Minasny
//! & McBratney 2001 is used. Nothing is extrapolated below 2 um or above 2 mm: clay stays.

use super::systems::{CLAY_UM, FINE_EARTH_UM, System, TextureFault, checked};
use crate::figure::within;

/// What a step of the limit to or from 20 um is in doubt by, points of silt: as much as the line and
/// the regression differ, within these (the lower by common practice, the upper a choice).
const WIDE_DOUBT_PCT: (f64, f64) = (5.0, 10.0);
/// The same of a step between 50, 60 and 63 um, at least: as much as moves (a choice: mostly 1 to 3
/// points move, and 3 more did in a soil whose grains were measured).
const NARROW_DOUBT_PCT: f64 = 3.0;

/// How fractions came to another limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Both systems have the same limit.
    Same,
    /// Linear in the logarithm of the size.
    LogLinear,
    /// By the regression, from 20 um.
    Regression,
    /// By the regression turned round, to 20 um.
    Inverse,
}

/// Fractions by another system's limits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Converted {
    /// Sand, silt, clay, %.
    pub fractions_pct: [f64; 3],
    /// How they were come by.
    pub way: Way,
    /// By how many points sand and silt may be off.
    pub doubt_pct: f64,
}

/// Tells sand, silt and clay, %, by another system's limits of size. Clay is under 2 um in all of
/// them and does not change.
///
/// Upwards from 20 um it is the regression; downwards to 20 um the regression turned round where
/// that leaves more between 20 and 50 um than the straight line does, and else the line: the line
/// gives that band too little in most soils, the regression nothing at all in silts. Where the two
/// ways differ by more than 5 points, so much is in doubt, up to 10.
///
/// ```
/// use barrowmix::texture::{System, convert};
///
/// let uk = convert([30.0, 40.0, 30.0], System::Usda, System::Uk).expect("it sums to 100");
/// assert!((uk.fractions_pct[1] - 41.48).abs() < 0.01); // silt to 60 um instead of 50
/// let back = convert(uk.fractions_pct, System::Uk, System::Usda).expect("it sums to 100");
/// assert!((back.fractions_pct[1] - 40.0).abs() < back.doubt_pct);
/// ```
pub fn convert(
    fractions_pct: [f64; 3],
    from: System,
    to: System,
) -> Result<Converted, TextureFault> {
    let fractions_pct = checked(fractions_pct)?;
    let [_, silt, clay] = fractions_pct;
    let (from_um, to_um) = (from.silt_um(), to.silt_um());
    if from_um == to_um {
        return Ok(Converted {
            fractions_pct,
            way: Way::Same,
            doubt_pct: 0.0,
        });
    }
    let room = 100.0 - clay;
    let silt = within(silt, 0.0, room);
    let by_line = line(silt, room, from_um, to_um);
    let (told, way, doubt_pct) = if from == System::International {
        // The regression leads to 50 um, the line on from there. From its top on the regression would
        // fall, as no silt does: there it stays at its top until the line is above.
        let finest = silt.min(top_pct(room));
        let regressed = regression_pct(finest, room - finest).max(silt);
        let regressed = line(regressed, room, System::Usda.silt_um(), to_um);
        let doubt = wide(regressed, by_line);
        if finest < silt && by_line > regressed {
            (by_line, Way::LogLinear, doubt)
        } else {
            (regressed, Way::Regression, doubt)
        }
    } else if to == System::International {
        let to_50 = line(silt, room, from_um, System::Usda.silt_um());
        let inverse = inverse_pct(to_50, room);
        let way = if inverse < by_line {
            Way::Inverse
        } else {
            Way::LogLinear
        };
        (inverse.min(by_line), way, wide(inverse, by_line))
    } else {
        (
            by_line,
            Way::LogLinear,
            (by_line - silt).abs().max(NARROW_DOUBT_PCT),
        )
    };
    let told = within(told, 0.0, room);
    Ok(Converted {
        fractions_pct: [room - told, told, clay],
        way,
        doubt_pct,
    })
}

/// The doubt where two ways differ.
fn wide(one: f64, other: f64) -> f64 {
    let (least, most) = WIDE_DOUBT_PCT;
    within((one - other).abs(), least, most)
}

/// Silt up to another size, %, where all silt and sand are `room`.
fn line(silt: f64, room: f64, from_um: f64, to_um: f64) -> f64 {
    let share = |low: f64, high: f64| libm::log(to_um / low) / libm::log(high / low);
    if to_um == from_um {
        silt
    } else if to_um < from_um {
        silt * share(CLAY_UM, from_um)
    } else {
        silt + (room - silt) * share(from_um, FINE_EARTH_UM)
    }
}

/// The regression of Minasny & McBratney 2001 (Aust. J. Soil Res. 39:1443; coefficients from memory),
/// all in %: what stands alone, by silt of 2 to 20 um, by sand of 20 um to 2 mm, by their squares.
const ALONE: f64 = -18.3914;
const BY_SILT: f64 = 2.0971;
const BY_SAND: f64 = 0.6726;
const BY_SILT_SQUARED: f64 = -0.0142;
const BY_SAND_SQUARED: f64 = -0.0049;

/// Silt of 2 to 50 um, %, by silt of 2 to 20 um and sand of 20 um to 2 mm (Minasny & McBratney 2001,
/// Aust. J. Soil Res. 39:1443; coefficients from memory). Never less than the finer silt, never more
/// than all of both.
///
/// ```
/// let silt = barrowmix::texture::regression_pct(20.0, 50.0);
/// assert!((silt - 39.2506).abs() < 1e-9);
/// ```
pub fn regression_pct(silt_20: f64, sand_20: f64) -> f64 {
    let (a, b) = (silt_20, sand_20);
    let whole =
        ALONE + BY_SILT * a + BY_SAND * b + BY_SILT_SQUARED * a * a + BY_SAND_SQUARED * b * b;
    let told = if whole < 0.0 {
        0.8289 * a + 0.0198 * b
    } else {
        whole
    };
    within(told, a, a + b)
}

/// With sand = room - silt the regression is flat + slope a - bend a^2.
const BEND: f64 = -(BY_SILT_SQUARED + BY_SAND_SQUARED);

fn slope(room: f64) -> f64 {
    BY_SILT - BY_SAND - 2.0 * BY_SAND_SQUARED * room
}

/// The silt of 2 to 20 um, %, from which on the regression would fall.
fn top_pct(room: f64) -> f64 {
    slope(room) / (2.0 * BEND)
}

/// The least silt of 2 to 20 um, %, to which the regression without its second rule gives this silt
/// of 2 to 50 um: a root of a quadratic, and all of the silt where there is none below it.
fn inverse_pct(silt_50: f64, room: f64) -> f64 {
    let (slope, bend) = (slope(room), BEND);
    let flat = ALONE + BY_SAND * room + BY_SAND_SQUARED * room * room;
    let under = slope * slope - 4.0 * bend * (silt_50 - flat);
    if under < 0.0 {
        return silt_50;
    }
    let root = (slope - under.sqrt()) / (2.0 * bend);
    within(root, 0.0, silt_50)
}
