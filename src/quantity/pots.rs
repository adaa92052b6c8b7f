//! Pots and bags as the trade sells them, and the room in simple shapes.

use super::{LITRES_PER_M3, Unit};
use crate::figure::Figure;
use std::f64::consts::PI;

/// Share of a container's true volume that is filled: 25 to 50 mm are left below the rim for water
/// (common practice).
pub const FILL_SHARE: Figure = Figure::between(0.90, 0.93, 0.95);
/// Limits of a side of a shape, m (a choice: from a seedling's plug to a long bed).
pub const SIDE_LIMITS_M: (f64, f64) = (0.001, 100.0);

/// A trade class of nursery pots. `#5` is a name, not five gallons.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TradePot {
    /// The number after `#`.
    pub class: u32,
    /// True volume, L.
    pub litres: f64,
    /// The range that the class may have, in3.
    pub range_in3: (f64, f64),
}

const fn pot(class: u32, litres: f64, low_in3: f64, high_in3: f64) -> TradePot {
    TradePot {
        class,
        litres,
        range_in3: (low_in3, high_in3),
    }
}

/// The classes. Volumes: a Colorado nursery's list in litres, which state law requires (verified);
/// other nurseries differ, in small pots by up to a half. Ranges: ANSI Z60.1 (from memory).
pub const TRADE_POTS: &[TradePot] = &[
    pot(1, 2.8, 152.0, 251.0),
    pot(2, 6.0, 320.0, 474.0),
    pot(3, 9.0, 628.0, 742.0),
    pot(5, 14.9, 785.0, 1242.0),
    pot(7, 24.6, 1337.0, 1790.0),
    pot(10, 34.1, 2080.0, 2646.0),
    pot(15, 54.9, 2768.0, 3696.0),
    pot(20, 74.2, 4520.0, 5152.0),
    pot(25, 104.5, 5775.0, 6861.0),
];

impl TradePot {
    /// The pot of a class, or none.
    pub fn of_class(class: u32) -> Option<&'static TradePot> {
        TRADE_POTS.iter().find(|pot| pot.class == class)
    }

    /// True volume, m3.
    pub fn volume_m3(&self) -> f64 {
        self.litres / LITRES_PER_M3
    }

    /// True volume over that of as many US gallons as the class says.
    pub fn over_nominal(&self) -> f64 {
        self.volume_m3() / (f64::from(self.class) * Unit::Gallon.factor())
    }
}

/// What is sold in a bag.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BagKind {
    /// Soil or compost.
    SoilOrCompost,
    /// Potting mix; dry quarts, which hold a sixth more than liquid ones.
    PottingMix,
    /// Peat, compressed.
    PeatBale,
    /// Perlite or vermiculite.
    PerliteOrVermiculite,
    /// Play sand.
    PlaySand,
}

/// A bag as the trade sells it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CommonBag {
    /// What is in it.
    pub kind: BagKind,
    /// Printed size.
    pub value: f64,
    /// Its unit.
    pub unit: Unit,
    /// Loose volume over printed volume, where it is compressed.
    pub expands: Option<Figure>,
}

/// Loose volume of a compressed bale over its printed one (common practice: 1.8 to 2.2).
const BALE_EXPANDS: Figure = Figure::between(1.8, 2.0, 2.2);

const fn bag(kind: BagKind, value: f64, unit: Unit) -> CommonBag {
    let expands = match kind {
        BagKind::PeatBale => Some(BALE_EXPANDS),
        _ => None,
    };
    CommonBag {
        kind,
        value,
        unit,
        expands,
    }
}

/// Sizes that most shops have (common practice).
pub const COMMON_BAGS: &[CommonBag] = &[
    bag(BagKind::SoilOrCompost, 0.75, Unit::CubicFoot),
    bag(BagKind::SoilOrCompost, 1.0, Unit::CubicFoot),
    bag(BagKind::SoilOrCompost, 1.5, Unit::CubicFoot),
    bag(BagKind::SoilOrCompost, 2.0, Unit::CubicFoot),
    bag(BagKind::PottingMix, 8.0, Unit::QuartDry),
    bag(BagKind::PottingMix, 16.0, Unit::QuartDry),
    bag(BagKind::PottingMix, 32.0, Unit::QuartDry),
    bag(BagKind::PottingMix, 64.0, Unit::QuartDry),
    bag(BagKind::PeatBale, 1.0, Unit::CubicFoot),
    bag(BagKind::PeatBale, 2.2, Unit::CubicFoot),
    bag(BagKind::PeatBale, 3.0, Unit::CubicFoot),
    bag(BagKind::PeatBale, 3.8, Unit::CubicFoot),
    bag(BagKind::PerliteOrVermiculite, 2.0, Unit::CubicFoot),
    bag(BagKind::PerliteOrVermiculite, 4.0, Unit::CubicFoot),
    bag(BagKind::PlaySand, 50.0, Unit::Pound),
];

impl CommonBag {
    /// Loose volume in it, m3; none for a bag sold by mass.
    pub fn loose_m3(&self) -> Option<f64> {
        let by_volume = self.unit.dimension() == super::Dimension::Volume;
        let expands = self.expands.map_or(1.0, |figure| figure.typical);
        by_volume.then(|| self.value * self.unit.factor() * expands)
    }
}

/// A side of a shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Inside width of a round one.
    Width,
    /// Inside width at the top.
    TopWidth,
    /// Inside width at the bottom.
    BottomWidth,
    /// How deep it is filled.
    Height,
    /// Inside length of a box.
    Length,
}

/// A side that no container has.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShapeFault {
    /// Which.
    pub side: Side,
    /// As given, m.
    pub value_m: f64,
    /// Least accepted, m.
    pub low_m: f64,
    /// Greatest accepted, m.
    pub high_m: f64,
}

fn side(side: Side, value_m: f64) -> Result<f64, ShapeFault> {
    let (low_m, high_m) = SIDE_LIMITS_M;
    // Also refuses what is no number.
    if value_m >= low_m && value_m <= high_m {
        return Ok(value_m);
    }
    Err(ShapeFault {
        side,
        value_m,
        low_m,
        high_m,
    })
}

/// Room in a round container with straight walls, m3: `pi D^2 h / 4`, from inside measures.
///
/// # Errors
/// The side that is outside [`SIDE_LIMITS_M`].
pub fn round_straight(width_m: f64, height_m: f64) -> Result<f64, ShapeFault> {
    let width = side(Side::Width, width_m)?;
    Ok(PI / 4.0 * width * width * side(Side::Height, height_m)?)
}

/// Room in a round container that narrows, m3: a frustum, `pi h (D^2 + D d + d^2) / 12`.
///
/// # Errors
/// The side that is outside [`SIDE_LIMITS_M`].
pub fn round_tapered(
    top_width_m: f64,
    bottom_width_m: f64,
    height_m: f64,
) -> Result<f64, ShapeFault> {
    let top = side(Side::TopWidth, top_width_m)?;
    let bottom = side(Side::BottomWidth, bottom_width_m)?;
    let height = side(Side::Height, height_m)?;
    Ok(PI / 12.0 * height * (top * top + top * bottom + bottom * bottom))
}

/// Room in a box, m3.
///
/// # Errors
/// The side that is outside [`SIDE_LIMITS_M`].
pub fn boxed(length_m: f64, width_m: f64, height_m: f64) -> Result<f64, ShapeFault> {
    Ok(side(Side::Length, length_m)? * side(Side::Width, width_m)? * side(Side::Height, height_m)?)
}

/// What a container is, as people call it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum UsualKind {
    /// A nursery pot of a trade class.
    TradePot,
    /// A bag of cloth, in US gallons.
    ClothBag,
    /// A pail, in US gallons.
    Pail,
}

/// A container that many have, with what a dose needs of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UsualContainer {
    /// What it is.
    pub kind: UsualKind,
    /// The number in its name.
    pub number: u32,
    /// Inside width at the top, in (common practice, right within a tenth).
    pub across_in: f64,
}

const fn usual(kind: UsualKind, number: u32, across_in: f64) -> UsualContainer {
    UsualContainer {
        kind,
        number,
        across_in,
    }
}

/// Containers that many have.
pub const USUAL_CONTAINERS: &[UsualContainer] = &[
    usual(UsualKind::ClothBag, 5, 12.0),
    usual(UsualKind::ClothBag, 7, 14.0),
    usual(UsualKind::ClothBag, 10, 16.0),
    usual(UsualKind::ClothBag, 15, 18.0),
    usual(UsualKind::ClothBag, 20, 20.0),
    usual(UsualKind::ClothBag, 25, 21.0),
    usual(UsualKind::Pail, 5, 11.25),
    usual(UsualKind::TradePot, 1, 6.5),
    usual(UsualKind::TradePot, 2, 8.5),
    usual(UsualKind::TradePot, 3, 10.0),
    usual(UsualKind::TradePot, 5, 11.0),
    usual(UsualKind::TradePot, 7, 14.0),
    usual(UsualKind::TradePot, 10, 16.0),
    usual(UsualKind::TradePot, 15, 17.0),
    usual(UsualKind::TradePot, 25, 22.0),
];

impl UsualContainer {
    /// True volume, m3: of a nursery pot as [`TRADE_POTS`] has it, else its gallons.
    pub fn volume_m3(&self) -> f64 {
        match (self.kind, TradePot::of_class(self.number)) {
            (UsualKind::TradePot, Some(pot)) => pot.volume_m3(),
            _ => f64::from(self.number) * Unit::Gallon.factor(),
        }
    }

    /// Its surface, m2.
    pub fn area_m2(&self) -> f64 {
        let across = self.across_in * Unit::Inch.factor();
        PI / 4.0 * across * across
    }
}
