//! User units and their factors to SI. The factors are those of the `uom` crate.
//!
//! ```
//! use barrowmix::quantity::Unit;
//!
//! let yard = Unit::from_spelling("yd3").expect("a unit of recipes");
//! assert!((yard.factor() - 0.764_555).abs() < 1e-6); // m3
//! assert_eq!(yard.spelling(), "yd3");
//! ```

pub mod pots;
mod round;

pub use round::round_significant;
pub(crate) use round::{magnitude, ten_to};

use uom::si::area::{square_foot, square_meter};
use uom::si::f64::{Area, Length, Mass, Volume};
use uom::si::length::{centimeter, foot, inch, meter, millimeter};
use uom::si::mass::{gram, kilogram, ounce, pound, ton, ton_short};
use uom::si::volume::{
    bushel, cubic_foot, cubic_meter, cubic_yard, cup, fluid_ounce, gallon, gallon_imperial, liter,
    milliliter, quart_dry, quart_liquid,
};

/// Square feet in an acre, exact: 1 acre = 43,560 ft2 (NIST SP 811, 2008, appendix B.8). The acre
/// of `uom` rests on the survey foot and is 4 parts in a million larger.
const SQUARE_FEET_PER_ACRE: f64 = 43_560.0;

/// What a unit measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dimension {
    /// Mass, kg.
    Mass,
    /// Volume, m3.
    Volume,
    /// Length, m.
    Length,
    /// Area, m2.
    Area,
    /// A share of the blend's loose volume, as a fraction.
    ShareOfVolume,
    /// A share of the blend's dry mass, as a fraction.
    ShareOfMass,
    /// Parts counted against the ground's.
    Part,
    /// Mass as sold over an area, kg/m2.
    MassPerArea,
    /// Mass as sold in the ground's loose volume, kg/m3.
    MassPerVolume,
    /// Bags of a size given elsewhere.
    Bag,
}

macro_rules! units {
    ($($(#[$doc:meta])* $name:ident $spelling:literal $dimension:ident $factor:expr;)*) => {
        /// A unit of the recipe document.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Unit { $($(#[$doc])* $name,)* }

        impl Unit {
            /// Every unit, in the order in which lists show them.
            pub const ALL: &[Unit] = &[$(Unit::$name,)*];

            /// The exact spelling in a recipe, such as `lb/1000ft2`.
            pub fn spelling(self) -> &'static str {
                match self { $(Unit::$name => $spelling,)* }
            }

            /// What the unit measures.
            pub fn dimension(self) -> Dimension {
                match self { $(Unit::$name => Dimension::$dimension,)* }
            }

            /// One of this unit in SI: kg, m3, m, m2, kg/m2, kg/m3, or a plain number.
            pub fn factor(self) -> f64 {
                match self { $(Unit::$name => $factor,)* }
            }
        }
    };
}

/// 1 ft2 in m2.
fn square_foot_m2() -> f64 {
    Area::new::<square_foot>(1.0).get::<square_meter>()
}

/// Kilograms in one pound.
fn pound_kg() -> f64 {
    Mass::new::<pound>(1.0).get::<kilogram>()
}

macro_rules! of {
    ($quantity:ident $unit:ident $si:ident) => {
        $quantity::new::<$unit>(1.0).get::<$si>()
    };
}

units! {
    /// Gram.
    Gram "g" Mass of!(Mass gram kilogram);
    /// Kilogram.
    Kilogram "kg" Mass 1.0;
    /// Tonne, 1000 kg.
    Tonne "t" Mass of!(Mass ton kilogram);
    /// Avoirdupois pound.
    Pound "lb" Mass pound_kg();
    /// Avoirdupois ounce.
    Ounce "oz" Mass of!(Mass ounce kilogram);
    /// US short ton, 2000 lb.
    TonUs "ton_us" Mass of!(Mass ton_short kilogram);
    /// Millilitre.
    Millilitre "mL" Volume of!(Volume milliliter cubic_meter);
    /// Litre.
    Litre "L" Volume of!(Volume liter cubic_meter);
    /// Cubic metre.
    CubicMetre "m3" Volume 1.0;
    /// US liquid gallon.
    Gallon "gal" Volume of!(Volume gallon cubic_meter);
    /// Imperial gallon.
    GallonImperial "gal_imp" Volume of!(Volume gallon_imperial cubic_meter);
    /// US dry quart.
    QuartDry "qt_dry" Volume of!(Volume quart_dry cubic_meter);
    /// US liquid quart.
    QuartLiquid "qt_liquid" Volume of!(Volume quart_liquid cubic_meter);
    /// US fluid ounce.
    FluidOunce "fl_oz" Volume of!(Volume fluid_ounce cubic_meter);
    /// Cubic foot.
    CubicFoot "ft3" Volume of!(Volume cubic_foot cubic_meter);
    /// Cubic yard.
    CubicYard "yd3" Volume of!(Volume cubic_yard cubic_meter);
    /// US bushel.
    Bushel "bu" Volume of!(Volume bushel cubic_meter);
    /// US cup.
    Cup "cup" Volume of!(Volume cup cubic_meter);
    /// Millimetre.
    Millimetre "mm" Length of!(Length millimeter meter);
    /// Centimetre.
    Centimetre "cm" Length of!(Length centimeter meter);
    /// Metre.
    Metre "m" Length 1.0;
    /// Inch.
    Inch "in" Length of!(Length inch meter);
    /// Foot.
    Foot "ft" Length of!(Length foot meter);
    /// Square metre.
    SquareMetre "m2" Area 1.0;
    /// Square foot.
    SquareFoot "ft2" Area square_foot_m2();
    /// Acre of 43,560 ft2.
    Acre "acre" Area SQUARE_FEET_PER_ACRE * square_foot_m2();
    /// Percent of the sum of all loose volumes.
    VolumePercent "%v" ShareOfVolume 0.01;
    /// Percent of the sum of all dry masses.
    MassPercent "%m" ShareOfMass 0.01;
    /// Parts by loose volume, against the ground's.
    Part "part" Part 1.0;
    /// Pounds to 100 square feet.
    PoundPer100SquareFeet "lb/100ft2" MassPerArea pound_kg() / (100.0 * square_foot_m2());
    /// Pounds to 1000 square feet.
    PoundPer1000SquareFeet "lb/1000ft2" MassPerArea pound_kg() / (1000.0 * square_foot_m2());
    /// Kilograms to a square metre.
    KilogramPerSquareMetre "kg/m2" MassPerArea 1.0;
    /// Grams to a square metre.
    GramPerSquareMetre "g/m2" MassPerArea 0.001;
    /// Grams to a litre of the ground, loose.
    GramPerLitre "g/L" MassPerVolume 1.0;
    /// Bags.
    Bag "bag" Bag 1.0;
}

impl Unit {
    /// The unit of an exact spelling, or none.
    pub fn from_spelling(spelling: &str) -> Option<Unit> {
        Unit::ALL
            .iter()
            .copied()
            .find(|unit| unit.spelling() == spelling)
    }
}

/// Litres in a cubic metre, to print volumes in litres.
pub const LITRES_PER_M3: f64 = 1000.0;
