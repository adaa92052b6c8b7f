#![cfg(not(target_arch = "wasm32"))]
//! The jar: water, falling grains, and layers read as texture.

mod support;

use barrowmix::ground::jar::{JarFault, JarHeight, JarReading, reading_times};
use barrowmix::ground::settling::{
    SettlingFault, SettlingNumber, cut_diameter_um, settling_time_s, settling_velocity_m_s,
    stokes_velocity_m_s, water_density_kg_m3, water_viscosity_pa_s,
};
use barrowmix::plot::jar_layers;
use barrowmix::texture::Class;
use barrowmix::words;
use proptest::prelude::{Strategy, any, prop_assert, prop_assert_eq, prop_oneof, proptest};
use support::{assert_close, assert_printed, assert_relative, class_of_code, table};

/// The tables took water of 1.0016e-3 Pa s and 998.2 kg/m3, with their last digits cut.
const CUT_DIGITS: f64 = 3e-4;
/// Sums of three shares.
const ROUNDING: f64 = 1e-9;

/// Any number, and often one that may be a height.
fn height() -> impl Strategy<Value = f64> {
    prop_oneof![3 => 0.0..1000.0, 1 => any::<f64>()]
}

#[test]
fn water_is_that_of_the_handbooks() {
    for row in table("water", 6) {
        let celsius = row.number("celsius");
        let what = format!("at {celsius} C");
        let viscosity = water_viscosity_pa_s(celsius).expect("within limits");
        let density = water_density_kg_m3(celsius).expect("within limits");
        assert_relative(viscosity * 1e3, row.number("viscosity_mpa_s"), 1e-3, &what);
        assert_printed(density, row.text("density_kg_m3"), &what);
    }
}

#[test]
fn grains_fall_as_tabulated_at_20_celsius() {
    for row in table("settling_20c", 12) {
        let um = row.number("diameter_um");
        let what = format!("{um} um");
        let stokes = stokes_velocity_m_s(um / 1e6, 20.0).expect("within limits");
        let held = settling_velocity_m_s(um / 1e6, 20.0).expect("within limits");
        let time = settling_time_s(um, 100.0, 20.0).expect("within limits");
        for (computed, column) in [
            (stokes, "stokes_m_s"),
            (time, "stokes_time_10cm_s"),
            (held, "drag_corrected_m_s"),
            (0.1 / held, "drag_corrected_time_10cm_s"),
        ] {
            assert_relative(
                computed,
                row.number(column),
                CUT_DIGITS,
                &format!("{what}: {column}"),
            );
        }
    }
}

#[test]
fn grains_fall_as_tabulated_at_other_temperatures() {
    for row in table("settling_times", 10) {
        let (um, celsius) = (row.number("diameter_um"), row.number("celsius"));
        let seconds = settling_time_s(um, 100.0, celsius).expect("within limits");
        let per_unit = if row.text("unit") == "h" { 3600.0 } else { 1.0 };
        let what = format!("{um} um at {celsius} C");
        assert_printed(seconds / per_unit, row.text("time"), &what);
    }
}

#[test]
fn what_has_fallen_is_as_tabulated() {
    for row in table("settling_cuts", 4) {
        let height = row.number("height_mm");
        for seconds in [40.0, 60.0, 1800.0, 7200.0, 86_400.0, 172_800.0] {
            let cut = cut_diameter_um(height, seconds, 20.0).expect("within limits");
            let what = format!("{height} mm in {seconds} s");
            assert_printed(cut, row.text(&format!("s{seconds}")), &what);
        }
    }
}

#[test]
fn numbers_outside_their_limits_are_named() {
    let which = |fault: SettlingFault| {
        let SettlingFault::Outside { which, .. } = fault;
        assert!(!words::settling_fault_text(&fault).is_empty());
        which
    };
    for celsius in [-0.1, 40.1, f64::NAN, f64::INFINITY] {
        let fault = water_density_kg_m3(celsius).expect_err("too cold or warm");
        assert_eq!(which(fault), SettlingNumber::Celsius, "{celsius}");
        let fault = water_viscosity_pa_s(celsius).expect_err("too cold or warm");
        assert_eq!(which(fault), SettlingNumber::Celsius, "{celsius}");
    }
    for fall in [0.9, 1000.1, -5.0, f64::NAN] {
        let fault = settling_time_s(2.0, fall, 20.0).expect_err("no jar");
        assert_eq!(which(fault), SettlingNumber::FallMm, "{fall}");
        let fault = reading_times(fall, 20.0).expect_err("no jar");
        assert_eq!(which(fault), SettlingNumber::FallMm, "{fall}");
    }
    for metres in [0.0, -1e-6, 0.01, f64::NAN] {
        let fault = stokes_velocity_m_s(metres, 20.0).expect_err("no grain");
        assert_eq!(which(fault), SettlingNumber::SizeUm, "{metres}");
    }
    for seconds in [0.0, 1e9, f64::NAN] {
        let fault = cut_diameter_um(100.0, seconds, 20.0).expect_err("no reading");
        assert_eq!(which(fault), SettlingNumber::Seconds, "{seconds}");
    }
}

#[test]
fn reading_times_are_those_of_the_limits_between_sand_silt_and_clay() {
    let times = reading_times(100.0, 20.0).expect("within limits");
    assert_printed(times.sand_s, "44.5", "sand");
    assert_printed(times.silt_s / 3600.0, "7.73", "silt");
    let text = words::reading_times_text(times);
    assert!(text.contains("about 45 seconds after"), "{text}");
    assert!(text.contains("about 7 h 44 min after"), "{text}");
}

#[test]
fn durations_are_told_in_two_parts_at_most() {
    for (seconds, text) in [
        (0.3, "less than a second"),
        (1.2, "about 1 second"),
        (44.52, "about 45 seconds"),
        (59.6, "about 1 min"),
        (278.25, "about 4 min 38 s"),
        (3599.7, "about 1 h"),
        (27_825.0, "about 7 h 44 min"),
        (86_390.0, "about 1 day"),
        (100_000.0, "about 1 day 4 h"),
        (172_800.0, "about 2 days"),
        (-1.0, "an unknown time"),
        (f64::NAN, "an unknown time"),
        (f64::INFINITY, "an unknown time"),
    ] {
        assert_eq!(words::duration_text(seconds), text, "{seconds}");
    }
}

#[test]
fn layers_give_the_printed_shares_and_classes() {
    for row in table("jar_layers", 3) {
        let heights = row.three(["sand_mm", "silt_mm", "clay_mm"]);
        let reading = JarReading::of_layers(heights, Some(100.0)).expect("a good jar");
        let what = format!("{heights:?}");
        for (index, column) in ["mass_sand", "mass_silt", "mass_clay"].iter().enumerate() {
            assert_printed(reading.by_mass_pct[index], row.text(column), &what);
            assert_close(
                reading.by_height_pct[index],
                heights[index],
                ROUNDING,
                &what,
            );
        }
        let classes = ["class_by_height", "class_by_mass"].map(|c| class_of_code(row.text(c)));
        assert_eq!(reading.classes(), classes, "{what}");
        let [sand, silt, clay] = heights;
        let marks = [sand, sand + silt, sand + silt + clay];
        assert_eq!(JarReading::of_marks(marks), Ok(reading), "{what} by marks");
    }
}

/// 25/35/40 by mass shows heights of 11/22/67 % (computed from the densities, printed in whole
/// percent).
#[test]
fn the_way_back_shows_the_printed_heights() {
    let true_pct = [25.0, 35.0, 40.0];
    let densities = [1550.0, 1120.0, 416.0];
    let mut heights = [0.0; 3];
    for index in 0..3 {
        heights[index] = true_pct[index] / densities[index] * 1000.0;
    }
    let reading = JarReading::of_layers(heights, None).expect("a good jar");
    for (index, printed) in ["11", "22", "67"].iter().enumerate() {
        assert_printed(reading.by_height_pct[index], printed, "height");
        assert_close(
            reading.by_mass_pct[index],
            true_pct[index],
            ROUNDING,
            "mass",
        );
    }
}

#[test]
fn the_band_lies_around_both_answers() {
    let reading = JarReading::of_layers([30.0, 25.0, 45.0], None).expect("a good jar");
    let band = reading.band();
    // By the printed shares 49.9/30.0/20.1, the middles, and 7, root of 149, 10 points.
    let silt_error = 149.0_f64.sqrt();
    for (index, (low, typical, high)) in [
        (30.0 - 7.0, 39.95, 49.9 + 7.0),
        (25.0 - silt_error, 27.5, 30.0 + silt_error),
        (20.1 - 10.0, 32.55, 45.0 + 10.0),
    ]
    .into_iter()
    .enumerate()
    {
        let ends = band[index].ends();
        assert_close(ends.low, low, 0.06, "low");
        assert_close(band[index].typical, typical, 0.06, "typical");
        assert_close(ends.high, high, 0.06, "high");
    }
    assert_eq!(
        words::jar_band_text(&reading),
        "Between loam and clay: by height 30 % sand, 25 % silt, 45 % clay; by weight 50 % sand, \
         30 % silt, 20 % clay."
    );
    let sand = JarReading::of_layers([50.0, 0.0, 0.0], None).expect("only sand");
    assert_eq!(sand.classes(), [Class::Sand; 2]);
    assert!(words::jar_band_text(&sand).starts_with("Sand both ways: by height 100 % sand,"));
}

#[test]
fn jars_that_cannot_be_are_told() {
    let layers = |heights, total| {
        let fault = JarReading::of_layers(heights, total).expect_err("a bad jar");
        assert!(!words::jar_fault_text(&fault).is_empty());
        fault
    };
    let marks = |marks| JarReading::of_marks(marks).expect_err("bad marks");
    let named = |fault, expected| match fault {
        JarFault::Outside { which, .. } | JarFault::MarkFalls { which, .. } => {
            assert_eq!(which, expected, "{fault:?}");
        }
        other => panic!("{other:?} names no layer"),
    };
    named(layers([-1.0, 1.0, 1.0], None), JarHeight::Sand);
    named(layers([1.0, f64::NAN, 1.0], None), JarHeight::Silt);
    named(layers([1.0, 1.0, f64::INFINITY], None), JarHeight::Clay);
    named(layers([1.0, 1.0, 1000.5], None), JarHeight::Clay);
    named(layers([1.0, 1.0, 1.0], Some(f64::NAN)), JarHeight::Total);
    named(marks([-1.0, 2.0, 3.0]), JarHeight::Sand);
    named(marks([3.0, 2.0, 4.0]), JarHeight::Silt);
    named(marks([3.0, 4.0, 3.5]), JarHeight::Clay);
    named(marks([3.0, f64::NAN, 3.5]), JarHeight::Silt);
    assert_eq!(layers([0.0; 3], None), JarFault::Empty);
    assert_eq!(layers([0.0; 3], Some(0.0)), JarFault::Empty);
    assert_eq!(layers([1.0; 3], Some(0.0)), JarFault::Empty);
    assert_eq!(marks([0.0; 3]), JarFault::Empty);
    let (sum, total) = (94.0, 100.0);
    let fault = layers([30.0, 30.0, 34.0], Some(total));
    assert_eq!(fault, JarFault::LayersDoNotAddUp { sum, total });
    for sum in [95.0, 100.0, 105.0] {
        let heights = [sum - 60.0, 30.0, 30.0];
        assert!(JarReading::of_layers(heights, Some(100.0)).is_ok(), "{sum}");
    }
}

proptest! {
    #[test]
    fn any_jar_is_read_or_refused(heights in [height(), height(), height()], total in height()) {
        let readings = [
            JarReading::of_layers(heights, None),
            JarReading::of_layers(heights, Some(total)),
            JarReading::of_marks(heights),
        ];
        for reading in readings {
            let reading = match reading {
                Ok(reading) => reading,
                Err(fault) => {
                    prop_assert!(!words::jar_fault_text(&fault).is_empty());
                    continue;
                }
            };
            let band = reading.band();
            let sums = [
                reading.by_height_pct.iter().sum::<f64>(),
                reading.by_mass_pct.iter().sum(),
                band.iter().map(|figure| figure.typical).sum(),
            ];
            for sum in sums {
                prop_assert!((sum - 100.0).abs() < ROUNDING, "{sum}");
            }
            for figure in band {
                let ends = figure.ends();
                prop_assert!(0.0 <= ends.low && ends.low <= figure.typical);
                prop_assert!(figure.typical <= ends.high && ends.high <= 100.0);
            }
            // Clay lies loosest, sand densest.
            prop_assert!(reading.by_mass_pct[2] <= reading.by_height_pct[2] + ROUNDING);
            prop_assert!(reading.by_mass_pct[0] >= reading.by_height_pct[0] - ROUNDING);
        }
    }

    #[test]
    fn only_proportions_of_layers_count(
        heights in [1.0..100.0, 1.0..100.0, 1.0..100.0],
        factor in 0.1..10.0,
    ) {
        let one = JarReading::of_layers(heights, None).expect("a good jar");
        let other = JarReading::of_layers(heights.map(|h| h * factor), None).expect("a good jar");
        for index in 0..3 {
            prop_assert!((one.by_mass_pct[index] - other.by_mass_pct[index]).abs() < ROUNDING);
        }
    }

    #[test]
    fn a_cut_has_just_fallen(fall in 1.0..1000.0, size in 0.5..60.0, celsius in 0.0..=40.0) {
        let time = settling_time_s(size, fall, celsius).expect("within limits");
        if let Ok(cut) = cut_diameter_um(fall, time, celsius) {
            prop_assert!((cut - size).abs() < 1e-9 * size);
        }
        let held = settling_velocity_m_s(size * 1e-6, celsius).expect("within limits");
        let free = stokes_velocity_m_s(size * 1e-6, celsius).expect("within limits");
        prop_assert!(held < free && (fall * 1e-3 / free - time).abs() < 1e-9 * time);
    }

    #[test]
    fn warm_water_is_thinner_and_lighter(celsius in 4.0..39.0) {
        let [cold, warm] = [celsius, celsius + 1.0]
            .map(|t| (water_viscosity_pa_s(t).expect("warm"), water_density_kg_m3(t).expect("warm")));
        prop_assert!(warm.0 < cold.0 && warm.1 < cold.1);
    }

    #[test]
    fn layers_of_the_drawing_stand_on_each_other(heights in [height(), height(), height()]) {
        let layers = jar_layers(heights, [10.0, 20.0], [30.0, 40.0]);
        let mut bottom = 60.0;
        for layer in layers {
            prop_assert!(layer.height >= 0.0 && layer.y >= 20.0 - ROUNDING);
            prop_assert!((layer.y + layer.height - bottom).abs() < ROUNDING);
            prop_assert_eq!([layer.x, layer.width], [10.0, 30.0]);
            bottom = layer.y;
        }
        if let Ok(reading) = JarReading::of_layers(heights, None) {
            for (layer, share) in layers.iter().zip(reading.by_height_pct) {
                prop_assert!((layer.height - share * 0.4).abs() < ROUNDING);
            }
        }
    }
}
