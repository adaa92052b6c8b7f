#![cfg(not(target_arch = "wasm32"))]
//! A label's rate for a container: against worked examples, and the laws that it keeps.

mod support;

use barrowmix::caution::LIFT_KG;
use barrowmix::dose::{
    Deed, Given, Label, RATE_UNITS, Rate, Reading, SHRINKS_TO, Soil, UNSAID_DEPTH_IN,
    cups_per_gallon, furrow_slice_kg_m3, loose_to_fill,
};
use barrowmix::material::Group;
use barrowmix::quantity::Unit;
use barrowmix::quantity::pots::{FILL_SHARE, USUAL_CONTAINERS, UsualKind, round_straight};
use proptest::prelude::*;
use support::{Row, assert_relative, table};

/// `uom` prints the factors of NIST with seven digits.
const SEVEN_DIGITS: f64 = 1e-6;
const INCH_M: f64 = 0.0254;
const FOOT_M: f64 = 0.3048;

fn label() -> Label {
    let rate = Rate::Area(40.0 * Unit::PoundPer1000SquareFeet.factor());
    Label::of(rate, Some(6.0 * INCH_M), None).expect("a label that is usual")
}

/// Surface and volume of a row, by its own measures.
fn room(row: &Row) -> [f64; 2] {
    if row.text("litres").is_empty() {
        let area = row.number("long_ft") * row.number("wide_ft") * FOOT_M * FOOT_M;
        return [area, area * row.number("deep_in") * INCH_M];
    }
    let radius = row.number("across_in") * INCH_M / 2.0;
    let area = std::f64::consts::PI * radius * radius;
    [area, row.number("litres") / 1000.0]
}

#[test]
fn worked_labels() {
    for row in table("label_rates", 4) {
        let place = row.text("place");
        let [area, volume] = room(&row);
        for (density, column) in [(700.0, "mass_070_g"), (1200.0, "mass_120_g")] {
            let soil = Soil::of(area, volume, density).expect("a soil");
            let readings = label().readings(&soil);
            let pairs = [
                ("area_g", readings.area_kg),
                ("volume_g", readings.volume_kg),
                (column, readings.mass_kg),
            ];
            for (column, kg) in pairs {
                if row.text(column).is_empty() {
                    continue;
                }
                let grams = row.number(column);
                // The row gives litres with five figures.
                let tolerance = row.number("tolerance") / grams + 1e-5;
                assert_relative(1000.0 * kg, grams, tolerance, &format!("{place}, {column}"));
            }
        }
    }
}

#[test]
fn furrow_slice_is_that_of_soil_tests() {
    // 2,000,000 lb on an acre 6 2/3 in deep.
    let m3 = 43_560.0 * FOOT_M * FOOT_M * (20.0 / 3.0) * INCH_M;
    let kg_m3 = 2e6 * 0.453_592_37 / m3;
    assert_relative(furrow_slice_kg_m3(), kg_m3, SEVEN_DIGITS, "furrow slice");
    assert_relative(kg_m3, 1323.84, SEVEN_DIGITS, "as printed");
}

#[test]
fn watered_weights() {
    let fill = FILL_SHARE.typical;
    for row in table("watered_weights", 6) {
        let litres = row.number("gallons") * Unit::Gallon.factor() * 1000.0;
        let kg = litres * fill * (row.number("dry_kg_l") + row.number("water"));
        assert_relative(kg, row.number("kg"), SEVEN_DIGITS, row.text("mix"));
        let pounds = kg / Unit::Pound.factor();
        assert_relative(pounds, row.number("lb"), SEVEN_DIGITS, row.text("mix"));
    }
    // The largest that one lifts, of half clay and half compost.
    let litres = LIFT_KG / (0.80 + 0.48);
    assert_relative(litres, 17.968_75, SEVEN_DIGITS, "litres");
    let gallons = litres / 1000.0 / Unit::Gallon.factor();
    assert_relative(gallons, 4.746_842, SEVEN_DIGITS, "gallons");
}

#[test]
fn cups_and_loose_parts() {
    assert_relative(cups_per_gallon(0.02), 0.32, SEVEN_DIGITS, "cups");
    assert_relative(15.0 * cups_per_gallon(0.02), 4.8, SEVEN_DIGITS, "cups");
    // 15 gallons of one part and three, where mixing takes a tenth.
    let loose = loose_to_fill(56.781, SHRINKS_TO.typical);
    assert_relative(loose, 63.090_196, 1e-5, "all loose parts");
    assert_relative(loose / 4.0, 15.772_549, 1e-5, "one part");
    assert!(loose_to_fill(f64::NAN, f64::NAN).is_finite(), "no number");
    assert_eq!(cups_per_gallon(f64::NAN), 0.0, "no number");
}

#[test]
fn kinds_have_their_reading() {
    for (group, on_top, deed, reading) in [
        (Group::Powder, false, Deed::Reacts, Reading::Mass),
        (Group::Meal, false, Deed::Feeds, Reading::Volume),
        (Group::MineralMeal, false, Deed::Feeds, Reading::Volume),
        (Group::Sand, false, Deed::Fills, Reading::Volume),
        (Group::PeatCoir, false, Deed::Fills, Reading::Volume),
        (Group::CompostManure, false, Deed::Fills, Reading::Volume),
        (Group::CompostManure, true, Deed::OnTop, Reading::Area),
        (Group::Powder, true, Deed::OnTop, Reading::Area),
        (Group::Liquid, false, Deed::OnTop, Reading::Area),
    ] {
        let found = Deed::of(group, on_top);
        assert_eq!(found, deed, "{group:?}");
        assert_eq!(label().reading(found), reading, "{group:?}");
        let fills = deed == Deed::Fills;
        assert_eq!(found.allows(Reading::Area), !fills, "{group:?}");
        assert!(found.allows(reading), "{group:?}");
    }
    let by_volume = Label::of(Rate::Volume(2.0), None, None).expect("a label");
    assert_eq!(by_volume.reading(Deed::Reacts), Reading::Volume, "of a mix");
}

#[test]
fn usual_containers_are_those_of_the_trade() {
    for usual in USUAL_CONTAINERS {
        let across = usual.across_in * INCH_M;
        let straight = round_straight(across, 1.0).expect("a width");
        assert_relative(usual.area_m2(), straight, SEVEN_DIGITS, "surface");
        // As deep as common containers are: 5 to 20 in.
        let deep_in = usual.volume_m3() / straight / INCH_M;
        assert!((5.0..20.0).contains(&deep_in), "{usual:?}: {deep_in} in");
        if usual.kind != UsualKind::TradePot {
            let gallons = usual.volume_m3() / Unit::Gallon.factor();
            assert_relative(gallons, f64::from(usual.number), SEVEN_DIGITS, "gallons");
        }
    }
}

#[test]
fn depth_that_is_not_said_is_told() {
    let rate = Rate::Area(0.2);
    let unsaid = Label::of(rate, None, None).expect("a label");
    let said = Label::of(rate, Some(UNSAID_DEPTH_IN * INCH_M), None).expect("a label");
    assert!(!unsaid.depth_said && said.depth_said, "whether it is said");
    let soil = Soil::of(0.2, 0.05, 900.0).expect("a soil");
    let [unsaid, said] = [unsaid, said].map(|label| label.readings(&soil).mass_kg);
    assert_relative(unsaid, said, SEVEN_DIGITS, "the same depth");
}

#[test]
fn faults_name_what_is_wrong() {
    let rate = Rate::Area(0.2);
    for odd in [f64::NAN, f64::INFINITY, -1.0, 0.0] {
        let wrong = Label::of(Rate::Area(odd), None, None).map_err(|fault| fault.of);
        assert_eq!(wrong, Err(Given::Rate), "{odd}");
        let wrong = Label::of(Rate::Volume(odd), None, None).map_err(|fault| fault.of);
        assert_eq!(wrong, Err(Given::Rate), "{odd}");
        let wrong = Label::of(rate, Some(odd), None).map_err(|fault| fault.of);
        assert_eq!(wrong, Err(Given::LabelDepth), "{odd}");
        let wrong = Label::of(rate, None, Some(odd)).map_err(|fault| fault.of);
        assert_eq!(wrong, Err(Given::LabelDensity), "{odd}");
        let wrong = Soil::of(odd, 0.1, 900.0).map_err(|fault| fault.of);
        assert_eq!(wrong, Err(Given::Area), "{odd}");
        let wrong = Soil::of(0.1, odd, 900.0).map_err(|fault| fault.of);
        assert_eq!(wrong, Err(Given::Volume), "{odd}");
        let wrong = Soil::of(0.1, 0.1, odd).map_err(|fault| fault.of);
        assert_eq!(wrong, Err(Given::Density), "{odd}");
        let soil = Soil::of(0.1, 0.1, 900.0).expect("a soil");
        let wrong = label().rate_of(odd, Reading::Mass, &soil);
        assert_eq!(wrong.map_err(|fault| fault.of), Err(Given::Dose), "{odd}");
    }
}

prop_compose! {
    fn soils()(area in 1e-3..1e3, deep in 0.01..2.0, density in 50.0..2000.0) -> Soil {
        Soil::of(area, area * deep, density).expect("a soil within limits")
    }
}

prop_compose! {
    fn labels()(rate in 1e-6..100.0, deep in 0.005..2.0, density in 50.0..2000.0) -> Label {
        Label::of(Rate::Area(rate), Some(deep), Some(density)).expect("a label within limits")
    }
}

proptest! {
    /// By volume over by surface is the soil's depth over the label's; by mass over by volume is the
    /// soil's density over the label's.
    #[test]
    fn readings_part_by_depth_and_density(
        rate in 1e-6..100.0, deep in 0.005..2.0, of_label in 50.0..2000.0, soil in soils(),
    ) {
        let label = Label::of(Rate::Area(rate), Some(deep), Some(of_label)).expect("a label");
        let readings = label.readings(&soil);
        let over = readings.volume_kg / readings.area_kg;
        prop_assert!((over / (soil.depth_m() / deep) - 1.0).abs() < 1e-9, "{over}");
        let density = soil.dry_kg() / (soil.depth_m() * readings.area_kg / rate);
        let over = readings.mass_kg / readings.volume_kg;
        prop_assert!((over / (density / of_label) - 1.0).abs() < 1e-9, "{over}");
    }

    #[test]
    fn a_dose_tells_its_label_again(label in labels(), soil in soils()) {
        let readings = label.readings(&soil);
        for reading in Reading::ALL {
            let dose = readings.of(reading);
            prop_assert!(dose.is_finite() && dose > 0.0, "{dose}");
            let Ok(rate) = label.rate_of(dose, reading, &soil) else { continue };
            prop_assert!((rate / label.per_area_kg_m2() - 1.0).abs() < 1e-9, "{rate}");
            let times = label.times_per_area(dose, &soil);
            prop_assert!((times - dose / readings.area_kg).abs() <= 1e-9 * times, "{times}");
        }
    }

    /// Two pots need twice as much of one.
    #[test]
    fn doses_scale(rate in 1e-6..100.0, area in 1e-3..10.0, volume in 1e-3..10.0) {
        let label = Label::of(Rate::Area(rate), None, None).expect("a label");
        let one = label.readings(&Soil::of(area, volume, 900.0).expect("a soil"));
        let two = label.readings(&Soil::of(2.0 * area, 2.0 * volume, 900.0).expect("a soil"));
        for reading in Reading::ALL {
            let over = two.of(reading) / one.of(reading);
            prop_assert!((over - 2.0).abs() < 1e-9, "{reading:?}: {over}");
        }
    }

    #[test]
    fn any_numbers_are_taken(
        rate in any::<f64>(), deep in any::<f64>(), density in any::<f64>(), volume in any::<f64>(),
    ) {
        if let (Ok(label), Ok(soil)) = (
            Label::of(Rate::Volume(rate), Some(deep), Some(density)),
            Soil::of(volume, volume, density),
        ) {
            let readings = label.readings(&soil);
            for reading in Reading::ALL {
                prop_assert!(readings.of(reading).is_finite(), "{reading:?}");
            }
        }
        prop_assert!(loose_to_fill(rate, deep).is_finite(), "{rate}");
        prop_assert!(cups_per_gallon(rate).is_finite(), "{rate}");
    }
}

#[test]
fn units_of_labels() {
    // 1 lb to 1000 square feet is 4.882428 g/m2; a pound to a cubic yard 0.593276 kg/m3 (NIST SP 811).
    for (unit, expected) in [
        ("lb/1000ft2", 4.882_428e-3),
        ("lb/100ft2", 48.824_28e-3),
        ("g/m2", 1e-3),
        ("kg/m2", 1.0),
        ("g/L", 1.0),
        ("lb/yd3", 0.593_276),
    ] {
        let rate = Rate::of(1.0, unit).unwrap_or_else(|| panic!("{unit}"));
        assert_relative(rate.value(), expected, SEVEN_DIGITS, unit);
        let is_of_volume = matches!(rate, Rate::Volume(_));
        assert_eq!(is_of_volume, ["g/L", "lb/yd3"].contains(&unit), "{unit}");
        assert!(RATE_UNITS.contains(&unit), "{unit}");
    }
    for odd in ["kg", "oz/yd2", ""] {
        assert_eq!(Rate::of(1.0, odd), None, "{odd:?}");
    }
}
