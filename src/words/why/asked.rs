//! The figures that one can ask about.

use crate::outcome::Measure;

/// A figure whose making one can ask about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asked {
    /// Texture class.
    Class,
    /// Pore space, settled.
    Pores,
    /// Density, settled.
    Density,
    /// Organic matter.
    OrganicMatter,
    /// Pore space, freshly turned.
    FreshPores,
    /// Pore space, puddled.
    PuddledPores,
    /// Volume, settled.
    Volume,
    /// Weight as mixed.
    Weight,
    /// Cost.
    Cost,
    /// Whether coarse grains touch.
    Skeleton,
    /// Air once the settled blend stopped draining.
    Air,
    /// Its water that plants can take.
    AvailableWater,
    /// How fast water goes through it.
    Drainage,
    /// Water and air in its container.
    Container,
    /// Reaction.
    Ph,
    /// Salts, and what crops feel of them.
    Salts,
    /// Sodium of the exchange, and gypsum.
    Sodium,
    /// Nitrogen of the first year, and phosphorus.
    Nitrogen,
}

impl Asked {
    /// Every one, in the order of the figures on the page.
    pub const ALL: &[Asked] = &[
        Asked::Class,
        Asked::Pores,
        Asked::Density,
        Asked::OrganicMatter,
        Asked::FreshPores,
        Asked::PuddledPores,
        Asked::Volume,
        Asked::Weight,
        Asked::Cost,
        Asked::Skeleton,
        Asked::Air,
        Asked::AvailableWater,
        Asked::Drainage,
        Asked::Container,
        Asked::Ph,
        Asked::Salts,
        Asked::Sodium,
        Asked::Nitrogen,
    ];

    /// Its id in a page.
    pub fn id(self) -> &'static str {
        match self {
            Asked::Class => tr!("class"),
            Asked::Pores => tr!("pores"),
            Asked::Density => tr!("density"),
            Asked::OrganicMatter => tr!("organic"),
            Asked::FreshPores => tr!("fresh"),
            Asked::PuddledPores => tr!("puddled"),
            Asked::Volume => tr!("volume"),
            Asked::Weight => tr!("weight"),
            Asked::Cost => tr!("cost"),
            Asked::Skeleton => tr!("skeleton"),
            Asked::Air => tr!("air"),
            Asked::AvailableWater => tr!("available"),
            Asked::Drainage => tr!("drainage"),
            Asked::Container => tr!("pot"),
            Asked::Ph => tr!("ph"),
            Asked::Salts => tr!("salts"),
            Asked::Sodium => tr!("sodium"),
            Asked::Nitrogen => tr!("nitrogen"),
        }
    }

    /// The one of an exact id, or none.
    pub fn from_id(id: &str) -> Option<Asked> {
        Asked::ALL.iter().copied().find(|asked| asked.id() == id)
    }

    /// The measure whose doubt is told; for the class the clay, as in the list on the page.
    pub fn measure(self) -> Measure {
        match self {
            Asked::Class => Measure::Clay,
            Asked::Pores => Measure::SettledPores,
            Asked::Density => Measure::SettledDensity,
            Asked::OrganicMatter => Measure::OrganicMatter,
            Asked::FreshPores => Measure::FreshPores,
            Asked::PuddledPores => Measure::PuddledPores,
            Asked::Volume => Measure::SettledVolume,
            Asked::Weight => Measure::MoistMass,
            Asked::Cost => Measure::Cost,
            Asked::Skeleton => Measure::Share,
            Asked::Air => Measure::Air,
            Asked::AvailableWater => Measure::Available,
            Asked::Drainage => Measure::Drainage,
            Asked::Container => Measure::PotAir,
            Asked::Ph => Measure::Ph,
            Asked::Salts => Measure::EcStress,
            Asked::Sodium => Measure::Esp,
            Asked::Nitrogen => Measure::FreedNitrogen,
        }
    }

    /// Whether it rests on the room that parts take, and not on masses alone.
    pub(super) fn packs(self) -> bool {
        !matches!(
            self,
            Asked::Class | Asked::OrganicMatter | Asked::Weight | Asked::Cost
        ) && !self.is_of_chemistry()
    }

    /// Whether it tells of chemistry.
    pub(super) fn is_of_chemistry(self) -> bool {
        matches!(
            self,
            Asked::Ph | Asked::Salts | Asked::Sodium | Asked::Nitrogen
        )
    }

    /// Whether the settled bed and so the natural half-way packing is in it.
    pub(super) fn settles_half(self) -> bool {
        matches!(self, Asked::Pores | Asked::Density | Asked::Volume) || self.is_of_water()
    }

    /// Whether it tells of water and air in the pores.
    pub(super) fn is_of_water(self) -> bool {
        matches!(
            self,
            Asked::Air | Asked::AvailableWater | Asked::Drainage | Asked::Container
        )
    }
}
