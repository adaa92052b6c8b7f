//! The numbers that describe a material: names, units, limits. The build script reads this file too.

fields! {
    /// A number that describes a material.
    Property {
        /// Mass of water over moist mass, %.
        WaterPerWet "water_per_wet_pct" 0.0 .. 100.0;
        /// Moist mass over loose volume as sold, kg/m3.
        LooseDensity "loose_density_kg_m3" 20.0 .. 3000.0;
        /// Oven-dry mass over settled volume, kg/m3.
        SettledDryDensity "settled_dry_density_kg_m3" 20.0 .. 3000.0;
        /// Density of one grain with its inner pores, kg/m3.
        GrainDensity "grain_density_kg_m3" 30.0 .. 5000.0;
        /// Density of the solid matter, kg/m3.
        SolidDensity "solid_density_kg_m3" 30.0 .. 5000.0;
        /// One characteristic grain size, mm.
        Grain "grain_mm" 0.001 .. 75.0;
        /// Organic matter without char, % of dry mass.
        OrganicMatter "organic_matter_pct" 0.0 .. 100.0;
        /// Char, % of dry mass.
        Char "char_pct" 0.0 .. 100.0;
        /// Sand, % of the mineral part under 2 mm.
        Sand "sand_pct" 0.0 .. 100.0;
        /// Silt, % of the mineral part under 2 mm.
        Silt "silt_pct" 0.0 .. 100.0;
        /// Clay, % of the mineral part under 2 mm.
        Clay "clay_pct" 0.0 .. 100.0;
        /// Share over 2 mm of the mineral part, %.
        Coarse "coarse_pct" 0.0 .. 100.0;
        /// Reaction in water.
        Ph "ph" 0.0 .. 14.0;
        /// Electrical conductivity at 1:5 by mass, dS/m.
        Ec1To5 "ec_1to5_ds_m" 0.0 .. 200.0;
        /// Cation exchange capacity, cmol/kg.
        Cec "cec_cmol_kg" 0.0 .. 300.0;
        /// Buffering of the reaction, cmol/kg for one pH unit.
        Buffer "buffer_cmol_kg_ph" 0.0 .. 300.0;
        /// Calcium carbonate equivalent, % of dry mass.
        CarbonateEquivalent "calcium_carbonate_equivalent_pct" 0.0 .. 180.0;
        /// Gypsum, % of dry mass.
        Gypsum "gypsum_pct" 0.0 .. 100.0;
        /// Elemental sulfur, % of dry mass.
        Sulfur "sulfur_pct" 0.0 .. 100.0;
        /// Total nitrogen, % of dry mass.
        Nitrogen "total_nitrogen_pct" 0.0 .. 100.0;
        /// Total phosphorus (the element), % of dry mass.
        Phosphorus "total_phosphorus_pct" 0.0 .. 100.0;
        /// Total potassium (the element), % of dry mass.
        Potassium "total_potassium_pct" 0.0 .. 100.0;
        /// Total sodium, % of dry mass.
        Sodium "total_sodium_pct" 0.0 .. 100.0;
        /// Total carbon, % of dry mass.
        Carbon "carbon_pct" 0.0 .. 100.0;
        /// Organic matter left after a year, %.
        KeptAfterYear1 "kept_after_year_1_pct" 0.0 .. 100.0;
    }
}
