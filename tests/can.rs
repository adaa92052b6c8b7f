#![cfg(not(target_arch = "wasm32"))]
//! Density by a can.

mod support;

use barrowmix::ground::can::{Can, CanFault, CanNumber, CanReading, CanSize, CanWeighing};
use barrowmix::words;
use proptest::prelude::{Strategy, any, prop_assert, prop_oneof, proptest};
use support::{assert_close, assert_printed};

/// The worked example: a can of 7.3 by 9.8 cm, soil of 641 g moist and 512 g dry; the can, of 85 g,
/// is ours.
const EXAMPLE: Can = Can {
    size: CanSize::Measures {
        diameter_cm: 7.3,
        height_cm: 9.8,
    },
    can_g: 85.0,
    weighing: CanWeighing::MoistAndDry {
        moist_gross_g: 641.0 + 85.0,
        dry_gross_g: 512.0 + 85.0,
    },
};

fn read(can: Can) -> CanReading {
    can.read()
        .unwrap_or_else(|fault| panic!("{can:?}: {fault:?}"))
}

fn refused(can: Can) -> CanFault {
    let fault = can.read().expect_err("this cannot be");
    assert!(
        words::can_fault_text(&fault).ends_with(['.', '?']),
        "{fault:?}"
    );
    fault
}

#[test]
fn the_worked_example_comes_out() {
    let reading = read(EXAMPLE);
    assert_printed(reading.volume_cm3, "410.167908", "volume");
    assert_printed(
        reading.bulk_density_kg_m3.typical / 1000.0,
        "1.248269",
        "density",
    );
    assert_printed(
        reading.instrument_error_kg_m3 / 1000.0,
        "0.021461",
        "u of density",
    );
    let water = reading.water_per_dry_pct.expect("it was weighed");
    assert_printed(water.typical / 100.0, "0.251953", "water");
    assert!(!water.is_in_doubt(), "water is exact");
    // The second way: both errors as variances, and the 90th percentile of a normal spread.
    let half = 1.281_551_6 * f64::sqrt(21.461 * 21.461 + 60.0 * 60.0);
    let ends = reading.bulk_density_kg_m3.ends();
    assert_close(ends.high - 1248.269, half, 0.01, "high");
    assert_close(1248.269 - ends.low, half, 0.01, "low");
    let text = words::can_text(&reading, words::METRIC);
    assert_eq!(
        text,
        "The ground lies at 1.25 kg/L dry (1.17 to 1.33), with water of 25 % of its dry mass."
    );
}

#[test]
fn the_other_ways_of_weighing_agree() {
    let whole = read(EXAMPLE);
    let dry = read(Can {
        weighing: CanWeighing::Dry { dry_gross_g: 597.0 },
        ..EXAMPLE
    });
    assert_eq!(dry.bulk_density_kg_m3, whole.bulk_density_kg_m3);
    assert_eq!(dry.water_per_dry_pct, None);
    let told = read(Can {
        weighing: CanWeighing::MoistWithWater {
            moist_gross_g: 726.0,
            water_per_dry_pct: 129.0 / 512.0 * 100.0,
        },
        ..EXAMPLE
    });
    assert_close(
        told.bulk_density_kg_m3.typical,
        whole.bulk_density_kg_m3.typical,
        1e-9,
        "moisture told",
    );
    let volume = read(Can {
        size: CanSize::Volume {
            volume_cm3: whole.volume_cm3,
        },
        ..EXAMPLE
    });
    assert_close(
        volume.bulk_density_kg_m3.typical,
        whole.bulk_density_kg_m3.typical,
        1e-9,
        "volume told",
    );
}

#[test]
fn cans_that_cannot_be_are_told() {
    let weighed = |moist_gross_g, dry_gross_g| {
        refused(Can {
            weighing: CanWeighing::MoistAndDry {
                moist_gross_g,
                dry_gross_g,
            },
            ..EXAMPLE
        })
    };
    let sized = |volume_cm3| {
        refused(Can {
            size: CanSize::Volume { volume_cm3 },
            ..EXAMPLE
        })
    };
    let no_soil = |which, gross_g| CanFault::NoSoil {
        which,
        gross_g,
        can_g: 85.0,
    };
    assert_eq!(weighed(80.0, 79.0), no_soil(CanNumber::MoistGrossG, 80.0));
    assert_eq!(weighed(641.0, 85.0), no_soil(CanNumber::DryGrossG, 85.0));
    assert_eq!(
        weighed(600.0, 641.0),
        CanFault::DryAboveMoist {
            dry_gross_g: 641.0,
            moist_gross_g: 600.0
        }
    );
    assert!(matches!(
        weighed(726.0, 200.0),
        CanFault::WaterOutside { .. }
    ));
    assert_eq!(sized(0.0), CanFault::NoVolume);
    assert!(
        matches!(sized(5000.0), CanFault::DensityOutside { .. }),
        "light"
    );
    assert!(
        matches!(sized(200.0), CanFault::DensityOutside { .. }),
        "heavy"
    );
    for value in [f64::NAN, f64::INFINITY, -1.0] {
        let of = |fault| match fault {
            CanFault::Outside { which, .. } => which,
            other => panic!("{other:?} names no number"),
        };
        assert_eq!(of(sized(value)), CanNumber::VolumeCm3);
        assert_eq!(of(weighed(value, 500.0)), CanNumber::MoistGrossG);
        assert_eq!(of(weighed(726.0, value)), CanNumber::DryGrossG);
        let can = Can {
            can_g: value,
            ..EXAMPLE
        };
        assert_eq!(of(refused(can)), CanNumber::CanG);
        let weighing = CanWeighing::MoistWithWater {
            moist_gross_g: 726.0,
            water_per_dry_pct: value,
        };
        let can = Can {
            weighing,
            ..EXAMPLE
        };
        assert_eq!(of(refused(can)), CanNumber::WaterPerDryPct);
    }
    for (diameter_cm, height_cm) in [(0.0, 10.0), (7.0, 0.0)] {
        let size = CanSize::Measures {
            diameter_cm,
            height_cm,
        };
        assert_eq!(refused(Can { size, ..EXAMPLE }), CanFault::NoVolume);
    }
}

fn number() -> impl Strategy<Value = f64> {
    prop_oneof![4 => 0.0..1000.0, 1 => any::<f64>()]
}

proptest! {
    #[test]
    fn any_can_is_read_or_refused(
        [a, b] in [number(), number()],
        can_g in number(),
        [moist_gross_g, other] in [number(), number()],
        is_volume: bool,
        way in 0..3,
    ) {
        let size = if is_volume {
            CanSize::Volume { volume_cm3: a }
        } else {
            CanSize::Measures { diameter_cm: a / 10.0, height_cm: b / 10.0 }
        };
        let weighing = match way {
            0 => CanWeighing::MoistAndDry { moist_gross_g, dry_gross_g: other },
            1 => CanWeighing::Dry { dry_gross_g: other },
            _ => CanWeighing::MoistWithWater { moist_gross_g, water_per_dry_pct: other / 10.0 },
        };
        match (Can { size, can_g, weighing }).read() {
            Ok(reading) => {
                let figure = reading.bulk_density_kg_m3;
                let ends = figure.ends();
                prop_assert!(200.0 <= ends.low && ends.low < figure.typical.next_up());
                prop_assert!(figure.typical <= ends.high && ends.high <= 2200.0);
                if let Some(water) = reading.water_per_dry_pct {
                    prop_assert!((0.0..=300.0).contains(&water.typical));
                }
            }
            Err(fault) => prop_assert!(!words::can_fault_text(&fault).is_empty()),
        }
    }
}
