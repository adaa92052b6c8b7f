//! The measures that have a name in tables.

use super::{CHOICE, Error, From, Good, Measure, PRACTICE, Scale};
use crate::source::Mark;

/// Mass on a kitchen scale, g (common practice).
const SCALE_G: Error = Error::By(1.0);

/// Those that have a name in tables. Limits are a choice but for those of scores, shares and pH.
/// A difference that matters of what is counted is one: whatever is thinned to, more would pass a
/// loss of everything as no difference.
pub const MEASURES: &[Measure<'static>] = &[
    Measure::of(
        "emerged_count",
        "",
        Scale::Count,
        Good::More,
        (0.0, 10_000.0),
        0,
    )
    .matters(20.0, CHOICE)
    .of_sown(),
    Measure::of(
        "plants_count",
        "",
        Scale::Count,
        Good::More,
        (0.0, 10_000.0),
        0,
    )
    .matters(1.0, CHOICE),
    // 1 dying, 2 clearly poor, 3 ordinary, 4 good, 5 outstanding; always the same scorer.
    Measure::of("vigour_1to5", "", Scale::Score, Good::More, (1.0, 5.0), 0).matters(1.0, CHOICE),
    Measure::of("height_cm", "cm", Scale::Log, Good::More, (0.1, 1000.0), 1)
        .matters(20.0, CHOICE)
        .errs(Error::By(0.5), PRACTICE),
    Measure::of(
        "top_fresh_g",
        "g",
        Scale::Log,
        Good::More,
        (0.0, 100_000.0),
        0,
    )
    .matters(20.0, PRACTICE)
    .errs(SCALE_G, PRACTICE)
    .summed(),
    Measure::of(
        "root_fresh_g",
        "g",
        Scale::Log,
        Good::More,
        (0.0, 100_000.0),
        0,
    )
    .matters(20.0, PRACTICE)
    .errs(SCALE_G, PRACTICE)
    .summed(),
    Measure::of(
        "marketable_g",
        "g",
        Scale::Log,
        Good::More,
        (0.0, 100_000.0),
        0,
    )
    .matters(20.0, PRACTICE)
    .errs(SCALE_G, PRACTICE)
    .summed(),
    Measure::of(
        "defect_count",
        "",
        Scale::Count,
        Good::Less,
        (0.0, 10_000.0),
        0,
    )
    .matters(1.0, CHOICE)
    .summed(),
    Measure::of(
        "container_kg",
        "kg",
        Scale::Log,
        Good::Neither,
        (0.0, 2000.0),
        2,
    )
    .matters(5.0, CHOICE)
    .errs(Error::By(0.01), PRACTICE),
    Measure::of(
        "water_l",
        "L",
        Scale::Log,
        Good::Neither,
        (0.0, 10_000.0),
        2,
    )
    .matters(20.0, CHOICE)
    .errs(Error::By(0.05), PRACTICE)
    .summed(),
    // What is spilt and where the line is filled to: a larger share in small pots.
    Measure::of("drained_ml", "mL", Scale::Log, Good::More, (0.0, 1e6), 0)
        .matters(20.0, CHOICE)
        .errs(Error::By(10.0), PRACTICE),
    Measure::of("air_space", "mL/mL", Scale::Raw, Good::More, (0.0, 1.0), 3)
        .matters(0.02, CHOICE)
        .errs(Error::By(0.01), PRACTICE),
    Measure::of(
        "total_porosity",
        "mL/mL",
        Scale::Raw,
        Good::More,
        (0.0, 1.0),
        3,
    )
    .matters(0.03, CHOICE)
    .errs(Error::By(0.025), PRACTICE),
    // Instruments alone err by 0.02; cans side by side in one bed differ by this.
    Measure::of(
        "bulk_density_g_cm3",
        "g/cm³",
        Scale::Raw,
        Good::Less,
        (0.02, 2.7),
        2,
    )
    .matters(0.1, PRACTICE)
    .errs(Error::By(0.06), PRACTICE),
    Measure::of(
        "water_g_g",
        "g/g",
        Scale::Raw,
        Good::Neither,
        (0.0, 10.0),
        3,
    )
    .matters(0.03, CHOICE)
    .errs(Error::By(0.01), PRACTICE),
    Measure::of(
        "infiltration_min",
        "min",
        Scale::Log,
        Good::Less,
        (0.01, 100_000.0),
        1,
    )
    .matters(30.0, PRACTICE)
    .errs(Error::By(0.25), PRACTICE),
    Measure::of(
        "ksat_cm_h",
        "cm/h",
        Scale::Log,
        Good::More,
        (1e-5, 100_000.0),
        2,
    )
    .matters(30.0, PRACTICE),
    // Herrick's classes of crumbs in water.
    Measure::of("slake_0to6", "", Scale::Score, Good::More, (0.0, 6.0), 0).matters(1.0, CHOICE),
    // The milky halo of crumbs after two hours.
    Measure::of("halo_0to4", "", Scale::Score, Good::Less, (0.0, 4.0), 0).matters(1.0, CHOICE),
    Measure::of("flag_cm", "cm", Scale::Raw, Good::More, (0.0, 200.0), 0)
        .matters(5.0, CHOICE)
        .errs(Error::By(3.0), PRACTICE),
    Measure::of(
        "surface_depth_cm",
        "cm",
        Scale::Raw,
        Good::Less,
        (0.0, 200.0),
        1,
    )
    .matters(2.0, CHOICE)
    .errs(Error::By(0.5), PRACTICE),
    Measure::of("ph", "", Scale::Raw, Good::Neither, (0.0, 14.0), 1)
        .matters(0.5, PRACTICE)
        .errs(Error::By(0.5), PRACTICE),
    // The ways from 1:1 to the saturation extract lie apart by factors of 1.6 to 3.35.
    Measure::of(
        "ec_ds_m",
        "dS/m",
        Scale::Log,
        Good::Neither,
        (0.001, 200.0),
        2,
    )
    .matters(50.0, CHOICE)
    .errs(
        Error::Share(0.3),
        From {
            source: "PLOS ONE 13(6):e0198290, 2018, table 2",
            mark: Mark::Verified,
        },
    ),
    Measure::of(
        "light_hours",
        "h",
        Scale::Raw,
        Good::Neither,
        (0.0, 24.0),
        1,
    )
    .matters(1.0, CHOICE)
    .errs(Error::By(0.5), PRACTICE),
];
