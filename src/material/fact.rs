//! What the catalogue tells of a material beside its properties: what it holds in a pot, its bags
//! and usual rates, and its hazards. The build script reads this file too.

fields! {
    /// A number of the catalogue that no recipe holds. Its unit stands in its row.
    Fact {
        /// Water held in a drained pot, a check on the model, % of volume.
        ContainerCapacity "container_capacity_pct" 0.0 .. 100.0;
        /// Air in a drained pot, a check on the model, % of volume.
        AirSpace "air_space_pct" 0.0 .. 100.0;
        /// What a usual bag holds where it is sold in US units.
        BagUs "bag_us" 0.0 .. 1000.0;
        /// What a usual bag holds where it is sold in metric units.
        BagMetric "bag_metric" 0.0 .. 1000.0;
        /// Loose volume over the volume printed; of a block, loose litres of a kilogram.
        BagExpands "bag_expands" 0.0 .. 100.0;
        /// The usual rate.
        UsualRate "usual_rate" 0.0 .. 1000.0;
        /// The usual rate in another unit.
        UsualRate2 "usual_rate_2" 0.0 .. 1000.0;
        /// The usual rate in a third unit.
        UsualRate3 "usual_rate_3" 0.0 .. 1000.0;
        /// The usual rate in a fourth unit.
        UsualRate4 "usual_rate_4" 0.0 .. 1000.0;
    }
}

fields! {
    /// What can be wrong with a material, from 0 (nothing) to 3 (can decide against its use).
    /// Judgements of common practice.
    Hazard {
        /// Dissolved salts.
        Salt "flag_salt" 0.0 .. 3.0;
        /// Sodium, which disperses clay.
        Sodium "flag_sodium" 0.0 .. 3.0;
        /// Metals.
        Metals "flag_metals" 0.0 .. 3.0;
        /// Lasting fluorinated chemicals.
        Pfas "flag_pfas" 0.0 .. 3.0;
        /// Weedkillers that pass through animals and composting.
        Herbicide "flag_herbicide" 0.0 .. 3.0;
        /// Weed seeds.
        Weed "flag_weed" 0.0 .. 3.0;
        /// Germs.
        Pathogen "flag_pathogen" 0.0 .. 3.0;
        /// Peatland and its carbon.
        Peatland "flag_peatland" 0.0 .. 3.0;
        /// Dust, for nose and lungs.
        Dust "flag_dust" 0.0 .. 3.0;
        /// Crystalline silica in that dust.
        Silica "flag_silica" 0.0 .. 3.0;
        /// Nitrogen tied up when dug in.
        NitrogenTieUp "flag_nimm" 0.0 .. 3.0;
        /// Hard to wet again when dry.
        Hydrophobic "flag_hydrophobic" 0.0 .. 3.0;
        /// Bits of plastic.
        Plastic "flag_plastic" 0.0 .. 3.0;
        /// Ammonia.
        Ammonia "flag_ammonia" 0.0 .. 3.0;
        /// Burns of skin and eyes.
        Caustic "flag_caustic" 0.0 .. 3.0;
        /// Fire.
        Fire "flag_fire" 0.0 .. 3.0;
        /// Mould spores.
        Mould "flag_mould" 0.0 .. 3.0;
        /// Fluoride.
        Fluoride "flag_fluoride" 0.0 .. 3.0;
        /// Manganese.
        Manganese "flag_manganese" 0.0 .. 3.0;
        /// Tars of burning.
        Tars "flag_pah" 0.0 .. 3.0;
        /// Asbestos in old stock.
        OldAsbestos "flag_asbestos_legacy" 0.0 .. 3.0;
        /// Claims that trials did not bear out.
        Unproven "flag_unproven" 0.0 .. 3.0;
    }
}

/// The hazards of a material, two bits for each: their typical and their worst case.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Hazards {
    /// Typical cases.
    pub typical: u64,
    /// Worst cases.
    pub worst: u64,
}

impl Hazards {
    /// The level of a hazard in the typical case, 0 to 3.
    pub fn typical(self, of: Hazard) -> u8 {
        (self.typical >> (2 * of as u32)) as u8 & 3
    }

    /// The level of a hazard in the worst case, 0 to 3.
    pub fn worst(self, of: Hazard) -> u8 {
        (self.worst >> (2 * of as u32)) as u8 & 3
    }

    /// The same with a hazard.
    #[must_use]
    pub fn with(self, of: Hazard, typical: u8, worst: u8) -> Hazards {
        let at = |level: u8| u64::from(level & 3) << (2 * of as u32);
        Hazards {
            typical: self.typical | at(typical),
            worst: self.worst | at(worst),
        }
    }
}
