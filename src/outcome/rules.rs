//! The thresholds of the verdict, all in one table.

/// A rule of the verdict.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rule {
    /// Its id.
    pub id: &'static str,
    /// Where it turns.
    pub limit: f64,
    /// The unit of its limit.
    pub unit: &'static str,
    /// Why there.
    pub source: &'static str,
}

macro_rules! rules {
    ($($(#[$doc:meta])* $name:ident $id:literal $limit:literal $unit:literal $source:literal;)*) => {
        $($(#[$doc])* pub(crate) const $name: f64 = $limit;)*

        /// Every rule of the verdict.
        pub const RULES: &[Rule] = &[
            $(Rule { id: $id, limit: $limit, unit: $unit, source: $source },)*
        ];
    };
}

rules! {
    /// Pores that must differ before two states are called different.
    SAME_PORES_PCT "same_pores" 3.0 "percentage points of pores"
        "the packing's own doubt for mineral mixes";
    /// The same where soft or sticky parts are in it.
    SAME_SOFT_PORES_PCT "same_soft_pores" 5.0 "percentage points of pores"
        "the packing's own doubt with soft parts";
    /// Less than this changes no pores that anyone would find out in a bed.
    NO_PORES_PCT "no_pores" 1.0 "percentage points of pores" "a choice: nobody would find it out";
    /// The same of density.
    NO_DENSITY_KG_M3 "no_density" 20.0 "kg/m3" "a choice: nobody would find it out";
    /// The same of organic matter.
    NO_ORGANIC_MATTER_PCT "no_organic_matter" 0.2 "percentage points of organic matter"
        "a choice: laboratories differ by as much";
    /// The same of sand, silt and clay.
    NO_TEXTURE_PCT "no_texture" 1.0 "percentage points of sand, silt or clay"
        "a choice: laboratories differ by more";
    /// Air or water must differ by this much before a verdict tells it.
    SAME_WATER_PCT "same_water" 4.0 "percentage points of the volume"
        "four models of one soil differ by as much in water for plants";
    /// From so much clay on organic matter buys air and not water.
    HEAVY_CLAY_PCT "heavy_clay" 35.0 "% clay" "where measured soils part (density and water of clays)";
    /// Grains that take less than this much more room than they need only just touch.
    ONLY_JUST "only_just" 0.05 "share of the room" "the packing's own doubt on the threshold";
    /// Odds from which it is told that grains may touch all the same.
    TOLD_ODDS "told_odds" 0.05 "share of the draws" "a choice: less is never told";
    /// More parts than this of one addition to one of ground make another soil: nobody buys that.
    TOO_MUCH_PARTS "too_much" 1.0 "loose parts to 1 of ground" "common practice";
    /// So many times what is there before anything shows is more than anyone would buy, too.
    TOO_MUCH_TIMES "too_many_times" 100.0 "times the amount" "a choice";
    /// Of less of the heap than this it is asked whether it changes anything.
    SMALL_SHARE "small_share" 0.05 "share of the loose parts" "a choice: more nearly always shows";
    /// What compost is told as instead of sand: so much of the heap (common practice: 5 to 8 cm dug
    /// into 15 to 20).
    INSTEAD_SHARE "instead_share" 0.25 "share of the loose parts" "common practice";
    /// From so much organic stuff in the heap on nothing more is told instead.
    ENOUGH_SHARE "enough_organic" 0.2 "share of the loose parts" "common practice";
}
