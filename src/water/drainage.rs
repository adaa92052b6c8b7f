//! How fast water leaves: classes of saturated conductivity, what a hole or a ring in the ground
//! tells, and what coarse grains make of the soil between them.

use crate::lane::Lane;
use libm::{exp, log};

/// An inch, mm (exact).
const INCH_MM: f64 = 25.4;
/// Slower than any soil, mm/h: a wait is then long, not endless.
const SLOWEST_MM_H: f64 = 1e-6;

macro_rules! classes {
    ($(#[$what:meta])* $name:ident $under:ident, $doc:literal; $($(#[$doc_of:meta])* $class:ident $limit:expr;)* [$(#[$doc_last:meta])* $last:ident]) => {
        $(#[$what])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum $name { $($(#[$doc_of])* $class,)* $(#[$doc_last])* $last }

        impl $name {
            /// All of them, in the order of their numbers.
            pub const ALL: &[$name] = &[$($name::$class,)* $name::$last];

            #[doc = $doc]
            pub fn $under(value: f64) -> $name {
                $(if value < $limit { return $name::$class; })*
                $name::$last
            }

            /// The number that the class ends below; the last has none.
            pub fn below(self) -> Option<f64> {
                match self {
                    $($name::$class => Some($limit),)*
                    $name::$last => None,
                }
            }
        }
    };
}

classes! {
    /// Classes of saturated conductivity (Soil Survey Manual, Agriculture Handbook 18, 2017). They
    /// are not for what falls in a hole: [`HoleClass`] is.
    ConductivityClass of_mm_h, "The class of a saturated conductivity in mm/h.";
    /// Under 0.01 um/s.
    VeryLow 0.036;
    /// 0.01 to 0.1 um/s.
    Low 0.36;
    /// 0.1 to 1 um/s.
    ModeratelyLow 3.6;
    /// 1 to 10 um/s.
    ModeratelyHigh 36.0;
    /// 10 to 100 um/s.
    High 360.0;
    [
        /// 100 um/s and more.
        VeryHigh
    ]
}

classes! {
    /// What the drop in a soaked hole of 12 by 12 inches says (Cornell University extension). No
    /// measure of conductivity: see [`hole_conductivity_mm_h`].
    HoleClass of_mm_h, "The class of a drop in mm/h.";
    /// Poor: under an inch an hour.
    Poor INCH_MM;
    /// Well drained: 1 to 6 inches an hour.
    WellDrained 6.0 * INCH_MM;
    [
        /// Excessive.
        Excessive
    ]
}

classes! {
    /// How long a filled hole 18 inches deep takes to empty (University of Florida extension).
    EmptyingClass of_hours, "The class of a time in hours.";
    /// Good: within an hour.
    Good 1.0;
    /// Fair: several hours to a day.
    Fair 24.0;
    [
        /// Poor, or water stands high.
        Poor
    ]
}

classes! {
    /// How fast an inch of water sinks into a ring on wet soil (USDA soil quality test kit guide,
    /// 1999, from memory).
    RingClass of_minutes, "The class of a time for one inch, in minutes.";
    /// Under 3 minutes.
    VeryRapid 3.0;
    /// 3 to 10 minutes.
    Rapid 10.0;
    /// 10 to 30 minutes.
    ModeratelyRapid 30.0;
    /// 30 to 100 minutes.
    Moderate 100.0;
    /// 100 to 300 minutes.
    ModeratelySlow 300.0;
    /// 300 to 1000 minutes.
    Slow 1000.0;
    [
        /// Longer.
        VerySlow
    ]
}

/// Hours for an inch of rain to go in, steadily, at a saturated conductivity: the slow end, since
/// dry soil takes the first of it faster.
pub fn hours_for_an_inch(conductivity_mm_h: f64) -> f64 {
    INCH_MM / conductivity_mm_h.max(SLOWEST_MM_H)
}

/// Drop in a hole, mm/h, from that of the first quarter of an hour.
pub fn drop_mm_h(quarter_hour_mm: f64) -> f64 {
    4.0 * quarter_hour_mm
}

/// Walls of a hole: how far fine pores draw water out of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wall {
    /// Structured loam or clay.
    Structured,
    /// Fine soil without structure.
    Unstructured,
    /// Compacted clay.
    Compacted,
}

impl Wall {
    /// All of them.
    pub const ALL: [Wall; 3] = [Wall::Structured, Wall::Unstructured, Wall::Compacted];

    /// alpha*, 1/cm (Elrick & Reynolds, from memory), and the three numbers of the shape factor
    /// ((H/a) / (first + second H/a))^third (Zhang et al. 1998, from memory).
    fn constants(self) -> (f64, [f64; 3]) {
        match self {
            Wall::Structured => (0.12, [2.074, 0.093, 0.754]),
            Wall::Unstructured => (0.04, [1.992, 0.091, 0.683]),
            Wall::Compacted => (0.01, [2.102, 0.118, 0.655]),
        }
    }
}

/// Saturated conductivity over the drop in a hole, by its radius and the depth of water in it, cm:
/// the steady well of Elrick & Reynolds (from memory). Water leaves by the walls too, so it is far
/// below 1. Lengths above 0.
pub fn conductivity_over_drop(wall: Wall, radius_cm: f64, water_cm: f64) -> f64 {
    use core::f64::consts::PI;
    let (alpha, [first, second, third]) = wall.constants();
    let (a, h) = (radius_cm.max(0.1), water_cm.max(0.1));
    let slender = h / a;
    let c = exp(third * log(slender / (first + second * slender)));
    let base = PI * a * a;
    c * base / (2.0 * PI * h * h + base * c + 2.0 * PI * h / alpha)
}

/// Lowest and highest over all walls.
fn over_walls(radius_cm: f64, water_cm: f64) -> [f64; 2] {
    let [first, rest @ ..] =
        Wall::ALL.map(|wall| conductivity_over_drop(wall, radius_cm, water_cm));
    rest.into_iter().fold([first; 2], |[low, high], share| {
        [low.min(share), high.max(share)]
    })
}

/// Saturated conductivity that a drop in a hole stands for, mm/h, lowest and highest, since the
/// walls are not known.
pub fn hole_conductivity_mm_h(drop_mm_h: f64, radius_cm: f64, water_cm: f64) -> [f64; 2] {
    over_walls(radius_cm, water_cm).map(|share| share * drop_mm_h)
}

/// The drop to expect in a hole, mm/h, lowest and highest, at a saturated conductivity.
pub fn hole_drop_mm_h(conductivity_mm_h: f64, radius_cm: f64, water_cm: f64) -> [f64; 2] {
    let [low, high] = over_walls(radius_cm, water_cm);
    [conductivity_mm_h / high, conductivity_mm_h / low]
}

/// A ring of 15 cm reads so many times too high, since water spreads below it (common practice).
pub const RING_READS_HIGH: [f64; 2] = [2.0, 3.0];

/// Water that stands an inch high in a ring, mL, by its inner diameter.
pub fn ring_inch_ml(diameter_mm: f64) -> f64 {
    core::f64::consts::FRAC_PI_4 * diameter_mm * diameter_mm * INCH_MM / 1000.0
}

/// Saturated conductivity that the time for an inch in a ring stands for, mm/h, lowest and highest.
pub fn ring_conductivity_mm_h(minutes: f64) -> [f64; 2] {
    let seen = 60.0 * INCH_MM / minutes.max(0.01);
    let [least, most] = RING_READS_HIGH;
    [seen / most, seen / least]
}

/// Weight of water over its viscosity at 20 C, 1/(m s): density, gravity, viscosity (handbook).
const WEIGHT_OVER_VISCOSITY: f64 = 998.2 * 9.81 / 1.002e-3;
/// mm/h in a m/s.
const MM_H_PER_M_S: f64 = 3.6e6;
/// By their middle size grains read so many times too fast (a measured turf sand; 10 to 20 % finer
/// is the size that counts).
const MIDDLE_SIZE_READS_HIGH: f64 = 3.0;
/// Most pore space between grains, a fraction: beyond, nothing is packed.
const PORES_MOST: f64 = 0.95;

/// Conductivity of clean grains, mm/h (Kozeny & Carman, constant 180), by the pores between them and
/// the size that counts. Only for sand and coarser: clay has sheets and cracks.
pub fn kozeny_carman_mm_h<L: Lane>(pores: L, size_mm: L) -> L {
    let n = pores.at_least(L::all(0.0)).at_most(L::all(PORES_MOST));
    let solids = L::all(1.0) - n;
    let metres = size_mm * 1e-3;
    n * n * n / (solids * solids) * metres * metres * (WEIGHT_OVER_VISCOSITY / 180.0 * MM_H_PER_M_S)
}

/// The same by the middle size of the grains.
pub fn clean_conductivity_mm_h<L: Lane>(pores: L, middle_mm: L) -> L {
    kozeny_carman_mm_h(pores, middle_mm) * (1.0 / MIDDLE_SIZE_READS_HIGH)
}

/// Conductivity of soil with coarse grains in it, in the unit of the two given, both above 0.
/// `share` is the coarse grains' share of the loose volumes, `pores` what is open between them
/// alone, a fraction; `of_fines` the soil's conductivity, `of_clean` that of the grains alone.
///
/// While the grains float they are in the way (Maxwell 1873). Once they touch, soil fills the holes
/// between them less and less; by what stays open the logarithm goes over to that of clean grains.
/// Right within a factor of 2 to 3 on the few measured mixes.
pub fn skeleton_conductivity<L: Lane>(of_fines: L, share: L, pores: L, of_clean: L) -> L {
    let (none, one) = (L::all(0.0), L::all(1.0));
    let share = share.at_least(L::all(1e-9)).at_most(one);
    let pores = pores.at_least(L::all(1e-3)).at_most(L::all(PORES_MOST));
    let solids = one - pores;
    // Solids of the grains in the mix; no more than when they touch.
    let grains = (share * solids / (one - share * pores)).at_most(solids);
    let floating = of_fines * (one - grains) / (one + grains * 0.5);
    let open = (pores - (one - share) / share).at_least(none);
    if !open.any_above(none) {
        return floating;
    }
    let way = open / pores;
    let log_floating = floating.each(log);
    let through = (log_floating + way * (of_clean.each(log) - log_floating)).each(exp);
    // No lane knows of its neighbour.
    open.where_above(none, through, floating)
}
