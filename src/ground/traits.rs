//! The numbers that describe the ground: names, units, limits. The build script reads this file too.

fields! {
    /// A number that describes the ground.
    Trait {
        /// Sand, % of mineral fines.
        Sand "sand_pct" 0.0 .. 100.0;
        /// Silt, % of mineral fines.
        Silt "silt_pct" 0.0 .. 100.0;
        /// Clay, % of mineral fines.
        Clay "clay_pct" 0.0 .. 100.0;
        /// Organic matter, % of dry fine earth.
        OrganicMatter "organic_matter_pct" 0.0 .. 100.0;
        /// Oven-dry mass over the volume of the whole soil as it lies, kg/m3.
        BulkDensity "bulk_density_kg_m3" 200.0 .. 2200.0;
        /// Gravel, % of the whole dry soil.
        Gravel "gravel_pct" 0.0 .. 100.0;
        /// Mass of water over dry mass, %.
        WaterPerDry "water_per_dry_pct" 0.0 .. 300.0;
        /// Where the clay stands between puddled (0) and crumbs (1).
        Crumb "crumb" 0.0 .. 1.0;
        /// Reaction in water.
        Ph "ph" 0.0 .. 14.0;
        /// Electrical conductivity of the saturation extract, dS/m.
        EcSaturatedPaste "ec_saturated_paste_ds_m" 0.0 .. 200.0;
        /// Electrical conductivity at 1:5 by mass, dS/m.
        Ec1To5 "ec_1to5_ds_m" 0.0 .. 200.0;
        /// Electrical conductivity at 1:2 by volume, dS/m.
        Ec1To2 "ec_1to2_ds_m" 0.0 .. 200.0;
        /// Cation exchange capacity, cmol/kg of fine earth.
        Cec "cec_cmol_kg" 0.0 .. 300.0;
        /// Calcium, % of the exchange capacity.
        CalciumShare "calcium_share_pct" 0.0 .. 100.0;
        /// Magnesium, % of the exchange capacity.
        MagnesiumShare "magnesium_share_pct" 0.0 .. 100.0;
        /// Potassium, % of the exchange capacity.
        PotassiumShare "potassium_share_pct" 0.0 .. 100.0;
        /// Sodium, % of the exchange capacity.
        SodiumShare "sodium_share_pct" 0.0 .. 100.0;
        /// Carbonate, % of dry fine earth.
        Carbonate "carbonate_pct" 0.0 .. 100.0;
    }
}
