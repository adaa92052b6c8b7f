#![cfg(not(target_arch = "wasm32"))]
// A second way takes the functions of the standard library, not those of the crate.
#![allow(clippy::disallowed_methods)]
//! Units against their exact definitions, written out by hand.

mod support;

use barrowmix::blend::Barrow;
use barrowmix::quantity::{Dimension, LITRES_PER_M3, Unit};
use barrowmix::recipe::Recipe;
use std::f64::consts::PI;
use support::{Row, assert_printed, assert_relative, table};

/// `uom` prints the factors of NIST with seven digits.
const SEVEN_DIGITS: f64 = 1e-6;

// NIST Special Publication 811 (2008), appendix B, exact.
const INCH_M: f64 = 25.4e-3;
const FOOT_M: f64 = 12.0 * INCH_M;
const POUND_KG: f64 = 0.453_592_37;
const INCH3_M3: f64 = INCH_M * INCH_M * INCH_M;
const GALLON_M3: f64 = 231.0 * INCH3_M3;
const BUSHEL_M3: f64 = 2150.42 * INCH3_M3;
const FOOT2_M2: f64 = FOOT_M * FOOT_M;

/// Every unit by its definition, in kg, m3, m, m2, kg/m2, kg/m3 or as a plain number.
const DEFINITIONS: [(&str, Dimension, f64); 36] = [
    ("g", Dimension::Mass, 1e-3),
    ("kg", Dimension::Mass, 1.0),
    ("t", Dimension::Mass, 1e3),
    ("lb", Dimension::Mass, POUND_KG),
    ("oz", Dimension::Mass, POUND_KG / 16.0),
    ("ton_us", Dimension::Mass, 2000.0 * POUND_KG),
    ("mL", Dimension::Volume, 1e-6),
    ("L", Dimension::Volume, 1e-3),
    ("m3", Dimension::Volume, 1.0),
    ("gal", Dimension::Volume, GALLON_M3),
    ("gal_imp", Dimension::Volume, 4.546_09e-3),
    ("qt_dry", Dimension::Volume, BUSHEL_M3 / 32.0),
    ("qt_liquid", Dimension::Volume, GALLON_M3 / 4.0),
    ("fl_oz", Dimension::Volume, GALLON_M3 / 128.0),
    ("ft3", Dimension::Volume, FOOT_M * FOOT_M * FOOT_M),
    ("yd3", Dimension::Volume, 27.0 * FOOT_M * FOOT_M * FOOT_M),
    ("bu", Dimension::Volume, BUSHEL_M3),
    ("cup", Dimension::Volume, GALLON_M3 / 16.0),
    ("mm", Dimension::Length, 1e-3),
    ("cm", Dimension::Length, 1e-2),
    ("m", Dimension::Length, 1.0),
    ("in", Dimension::Length, INCH_M),
    ("ft", Dimension::Length, FOOT_M),
    ("m2", Dimension::Area, 1.0),
    ("ft2", Dimension::Area, FOOT2_M2),
    ("acre", Dimension::Area, 43_560.0 * FOOT2_M2),
    ("%v", Dimension::ShareOfVolume, 0.01),
    ("%m", Dimension::ShareOfMass, 0.01),
    ("part", Dimension::Part, 1.0),
    (
        "lb/100ft2",
        Dimension::MassPerArea,
        POUND_KG / (100.0 * FOOT2_M2),
    ),
    (
        "lb/1000ft2",
        Dimension::MassPerArea,
        POUND_KG / (1000.0 * FOOT2_M2),
    ),
    ("kg/m2", Dimension::MassPerArea, 1.0),
    ("g/m2", Dimension::MassPerArea, 1e-3),
    ("g/L", Dimension::MassPerVolume, 1.0),
    ("bag", Dimension::Bag, 1.0),
    // The dry quart once more, by its own number in the same table: 67.200625 in3.
    ("qt_dry", Dimension::Volume, 67.200_625 * INCH3_M3),
];

fn factor(spelling: &str) -> f64 {
    let unit = Unit::from_spelling(spelling);
    unit.unwrap_or_else(|| panic!("no unit {spelling}"))
        .factor()
}

/// A worked example and its printed numbers, in order, without names and labels.
fn worked(rows: &[Row], id: &str) -> Vec<String> {
    let row = rows.iter().find(|row| row.text("id") == id);
    let text = row
        .unwrap_or_else(|| panic!("no row {id}"))
        .text("expected_outputs");
    let mut numbers = Vec::new();
    for word in text.split([' ', ';']) {
        let has_point = word.contains('.') && word.parse::<f64>().is_ok();
        if has_point {
            numbers.push(word.to_owned());
        }
    }
    numbers
}

fn assert_worked(rows: &[Row], id: &str, computed: &[f64]) {
    let printed = worked(rows, id);
    assert_eq!(printed.len(), computed.len(), "{id} prints {printed:?}");
    for (computed, printed) in computed.iter().zip(&printed) {
        let value: f64 = printed.parse().expect("a number");
        // Six decimals of a number above ten are more than the seven digits of the factors.
        let tolerance = SEVEN_DIGITS.max(support::half_unit(printed) / value);
        assert_relative(*computed, value, tolerance, id);
    }
}

#[test]
fn factors_are_the_defined_ones() {
    for (spelling, dimension, defined) in DEFINITIONS {
        let unit = Unit::from_spelling(spelling);
        let unit = unit.unwrap_or_else(|| panic!("no unit {spelling}"));
        assert_eq!(unit.spelling(), spelling, "spelling of {unit:?}");
        assert_eq!(unit.dimension(), dimension, "dimension of {spelling}");
        assert_relative(unit.factor(), defined, SEVEN_DIGITS, spelling);
    }
    for unit in Unit::ALL {
        assert!(
            DEFINITIONS
                .iter()
                .any(|(spelling, ..)| *spelling == unit.spelling()),
            "{unit:?} has no definition here"
        );
    }
    assert_eq!(LITRES_PER_M3, 1.0 / 1e-3, "litres in a cubic metre");
}

#[test]
fn spellings_are_exact() {
    for odd in [
        "", "KG", "Kg", " kg", "kg ", "lbs", "l", "ml", "liter", "ton", "gal_us", "%", "qt",
    ] {
        assert_eq!(Unit::from_spelling(odd), None, "{odd:?} is no unit");
    }
}

#[test]
fn worked_rates() {
    let rows = table("worked_rates", 8);
    let (inch, foot2, foot3) = (factor("in"), factor("ft2"), factor("ft3"));
    let litre = factor("L");
    let layer = |area_ft2: f64| inch * area_ft2 * foot2;
    assert_worked(
        &rows,
        "rate_01",
        &[
            layer(100.0) / foot3,
            layer(100.0) / factor("yd3"),
            layer(1000.0) / foot3,
            layer(1000.0) / factor("yd3"),
            layer(32.0) / foot3,
            layer(32.0) / litre,
        ],
    );
    let tonne_per_hectare = factor("t") / 1e4;
    let rate = |kg_m2: f64| {
        [
            kg_m2 / factor("lb/100ft2"),
            kg_m2 / factor("lb/1000ft2"),
            kg_m2 / factor("g/m2"),
            kg_m2 / tonne_per_hectare,
        ]
    };
    let thousand_pounds = 1000.0 * factor("lb") / factor("acre");
    assert_worked(&rows, "rate_02", &rate(thousand_pounds));
    // As the university prints it: 2.30 lb, and 22 lb 15 oz.
    assert_printed(
        rate(thousand_pounds)[0],
        "2.30",
        "lb to 100 ft2, as printed",
    );
    let ounces = rate(thousand_pounds)[1] * factor("lb") / factor("oz");
    assert_printed(ounces, "367", "22 lb 15 oz to 1000 ft2, as printed");
    let ton_per_acre = factor("ton_us") / factor("acre");
    assert_worked(
        &rows,
        "rate_03",
        &[
            ton_per_acre,
            ton_per_acre / tonne_per_hectare,
            ton_per_acre / factor("lb/1000ft2"),
        ],
    );
    assert_worked(
        &rows,
        "rate_04",
        &[
            factor("lb/1000ft2") / factor("g/m2"),
            factor("kg/m2") / factor("lb/100ft2"),
            tonne_per_hectare * factor("acre") / factor("lb"),
        ],
    );
    let volumes = ["yd3", "qt_dry", "qt_liquid", "cup"].map(|unit| factor(unit) / litre);
    let foot = [foot3 / litre, foot3 / factor("gal")];
    assert_worked(&rows, "rate_05", &[&foot[..], &volumes[..]].concat());
}

#[test]
fn worked_containers() {
    let rows = table("worked_rates", 8);
    let gallon_l = factor("gal") / factor("L");
    let listed = [
        (1.0, 2.8),
        (3.0, 9.0),
        (5.0, 14.9),
        (7.0, 24.6),
        (15.0, 54.9),
    ];
    let ratios = listed.map(|(nominal, litres)| litres / (nominal * gallon_l));
    assert_worked(&rows, "rate_15", &ratios);
    let [top, bottom, height] = [11.25, 10.25, 13.75].map(|inches| inches * factor("in"));
    let bucket = PI * height * (top * top + top * bottom + bottom * bottom) / 12.0;
    assert_worked(
        &rows,
        "rate_16",
        &[bucket / factor("L"), bucket / factor("gal")],
    );
    let dose = |gallons: f64| 2.0 * factor("%v") * gallons * factor("gal") / factor("cup");
    let of_twenty_litres = 2.0 * factor("%v") * 20.0 * factor("L") / factor("mL");
    assert_worked(&rows, "rate_17", &[dose(1.0), dose(15.0), of_twenty_litres]);
}

/// The same depth and rate through a whole recipe, and not only through factors.
#[test]
fn depths_and_rates_of_a_bed() {
    let recipe = Recipe::from_json(
        r#"{"barrowmix":1,
        "ground":{"sand_pct":20,"silt_pct":20,"clay_pct":60},
        "soil":{"area":{"value":100,"unit":"ft2"},"depth":{"value":6,"unit":"in"}},
        "additions":[
            {"material":"play_sand","amount":{"value":1,"unit":"in"}},
            {"material":"gypsum","amount":{"value":40,"unit":"lb/1000ft2"}}]}"#,
    )
    .expect("the recipe is good");
    let barrow = Barrow::of(&recipe).expect("the recipe can be mixed");
    let feet3 = barrow.lines[0].loose_m3 / (FOOT_M * FOOT_M * FOOT_M);
    assert_relative(feet3, 100.0 / 12.0, SEVEN_DIGITS, "1 in over 100 ft2, ft3");
    let pounds = barrow.lines[1].moist_kg / POUND_KG;
    assert_relative(pounds, 4.0, SEVEN_DIGITS, "40 lb/1000 ft2 over 100 ft2, lb");
    let soil_m3 = barrow.ground_dry_kg / barrow.ground.lying_density_kg_m3;
    assert_relative(
        soil_m3,
        50.0 * FOOT_M.powi(3),
        SEVEN_DIGITS,
        "100 ft2 dug 6 in deep",
    );
}
