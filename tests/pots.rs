#![cfg(not(target_arch = "wasm32"))]
//! Pots, bags and shapes against what is printed of them.

mod support;

use barrowmix::blend::Barrow;
use barrowmix::quantity::pots::{
    BagKind, COMMON_BAGS, FILL_SHARE, SIDE_LIMITS_M, ShapeFault, Side, TRADE_POTS, TradePot,
    USUAL_CONTAINERS, UsualKind, boxed, round_straight, round_tapered,
};
use barrowmix::quantity::{LITRES_PER_M3, Unit};
use barrowmix::recipe::{Amount, Recipe, Soil};
use proptest::prelude::*;
use support::{Row, assert_printed, assert_relative, table};

const INCH_M: f64 = 0.0254;
/// Litres in 231 in3.
const GALLON_L: f64 = 231.0 * INCH_M * INCH_M * INCH_M * 1e3;

#[test]
fn trade_pots_are_the_listed_ones() {
    let rows = table("trade_pots", 9);
    assert_eq!(rows.len(), TRADE_POTS.len(), "classes");
    for (row, pot) in rows.iter().zip(TRADE_POTS) {
        let name = format!("#{}", pot.class);
        assert_eq!(f64::from(pot.class), row.number("class"), "class of {name}");
        assert_eq!(pot.litres, row.number("litres"), "litres of {name}");
        let range = (row.number("low_in3"), row.number("high_in3"));
        assert_eq!(pot.range_in3, range, "range of {name}");
        assert_printed(pot.over_nominal(), row.text("ratio"), &name);
        assert_relative(pot.volume_m3() * 1e3, pot.litres, 1e-12, &name);
        assert_eq!(TradePot::of_class(pot.class), Some(pot), "found {name}");
    }
    assert_eq!(TradePot::of_class(4), None, "there is no #4");
    // The worked ratios, to more digits.
    let ratios = [
        (1, 0.739682),
        (3, 0.792516),
        (5, 0.787233),
        (7, 0.928376),
        (15, 0.966870),
    ];
    for (class, ratio) in ratios {
        let pot = TradePot::of_class(class).expect("it is listed");
        assert_relative(pot.over_nominal(), ratio, 1e-5, "rate_15");
    }
}

/// Where a dose asks for a usual container, a nursery pot holds what its class does, and a pail or a
/// bag of cloth the gallons that it is named by.
#[test]
fn usual_pots_hold_what_their_class_does() {
    let rows = table("trade_pots", 9);
    let mut pots = 0;
    for usual in USUAL_CONTAINERS {
        let litres = usual.volume_m3() * LITRES_PER_M3;
        if usual.kind == UsualKind::TradePot {
            let is_it = |row: &&Row| row.number("class") == f64::from(usual.number);
            let row = rows.iter().find(is_it).expect("a listed class");
            assert_relative(litres, row.number("litres"), 1e-12, row.text("class"));
            pots += 1;
        } else {
            let gallons = f64::from(usual.number);
            assert_relative(litres, gallons * GALLON_L, 1e-6, "gallons");
        }
    }
    assert_eq!(pots, 8, "nursery pots");
}

#[test]
fn bags_hold_what_is_printed_on_them() {
    let rows = table("bags", 8);
    for row in &rows {
        let unit = Unit::from_spelling(row.text("unit")).expect("a unit");
        let kind = if row.text("kind") == "soil" {
            BagKind::SoilOrCompost
        } else {
            BagKind::PottingMix
        };
        let value = row.number("value");
        let bag = COMMON_BAGS
            .iter()
            .find(|bag| bag.kind == kind && bag.unit == unit && bag.value == value)
            .expect("a common bag");
        let litres = bag.loose_m3().expect("a volume") * LITRES_PER_M3;
        let printed = row.text("litres");
        // 70.48 L are printed as 70, and 35.24 as 35.
        assert_printed(litres, printed, &format!("{value} {}", unit.spelling()));
    }
    for bag in COMMON_BAGS {
        let is_bale = bag.kind == BagKind::PeatBale;
        assert_eq!(bag.expands.is_some(), is_bale, "only bales expand: {bag:?}");
        assert!(bag.value > 0.0, "{bag:?} holds something");
        let by_mass = bag.kind == BagKind::PlaySand;
        assert_eq!(bag.loose_m3().is_none(), by_mass, "{bag:?} by mass");
    }
    let expands = COMMON_BAGS
        .iter()
        .find_map(|bag| bag.expands)
        .expect("a bale");
    let ends = expands.ends();
    assert_eq!((ends.low, ends.high), (1.8, 2.2), "bales expand");
    // A foot is 0.3048 m; poured a bale is twice what is printed on it.
    for bale in COMMON_BAGS
        .iter()
        .filter(|bag| bag.kind == BagKind::PeatBale)
    {
        let foot_m: f64 = 0.3048;
        let poured_m3 = 2.0 * bale.value * foot_m * foot_m * foot_m;
        let loose_m3 = bale.loose_m3().expect("a volume");
        assert_relative(loose_m3, poured_m3, 1e-6, "a bale poured");
    }
    let fill = FILL_SHARE.ends();
    assert_eq!(
        (fill.low, FILL_SHARE.typical, fill.high),
        (0.9, 0.93, 0.95),
        "fill"
    );
}

/// Eight dry quarts are 8.81 L; taken for liquid ones they would be a sixth less.
#[test]
fn dry_quarts_are_no_liquid_quarts() {
    let litres = |unit: Unit| 8.0 * unit.factor() * LITRES_PER_M3;
    assert_printed(litres(Unit::QuartDry), "8.81", "8 dry quarts");
    let ratio = litres(Unit::QuartDry) / litres(Unit::QuartLiquid);
    assert_printed(ratio, "1.16", "dry over liquid");
}

#[test]
fn a_bucket_is_a_frustum() {
    let litres =
        round_tapered(11.25 * INCH_M, 10.25 * INCH_M, 13.75 * INCH_M).expect("a bucket") * 1e3;
    assert_relative(litres, 20.465564, 1e-6, "rate_16, L");
    assert_relative(litres / GALLON_L, 5.406430, 1e-6, "rate_16, gal");
    // An 18 x 13.5 in bag.
    let litres = round_straight(18.0 * INCH_M, 13.5 * INCH_M).expect("a bag") * 1e3;
    assert_printed(litres, "56.29", "18 x 13.5 in, L");
    assert_printed(litres / GALLON_L, "14.87", "18 x 13.5 in, gal");
    // A bed of 4 x 8 ft, an inch deep.
    let litres = boxed(96.0 * INCH_M, 48.0 * INCH_M, INCH_M).expect("a bed") * 1e3;
    assert_relative(litres, 75.511591, 1e-6, "rate_01, L");
}

proptest! {
    /// A frustum is the pile of many thin discs, and straight where its ends are alike.
    #[test]
    fn a_frustum_is_a_pile_of_discs(
        top in 0.01_f64..3.0, bottom in 0.01_f64..3.0, height in 0.01_f64..3.0,
    ) {
        let volume = round_tapered(top, bottom, height).expect("a pail");
        let discs = 2000;
        let mut pile = 0.0;
        for disc in 0..discs {
            let at = (f64::from(disc) + 0.5) / f64::from(discs);
            let width = bottom + (top - bottom) * at;
            pile += std::f64::consts::PI / 4.0 * width * width * height / f64::from(discs);
        }
        assert_relative(volume, pile, 1e-6, "discs");
        let straight = round_straight(top, height).expect("a pot");
        let tapered = round_tapered(top, top, height).expect("a pot");
        assert_relative(tapered, straight, 1e-12, "alike");
    }

    #[test]
    fn odd_sides_are_faults(value in any::<f64>()) {
        let (low_m, high_m) = SIDE_LIMITS_M;
        let is_good = (low_m..=high_m).contains(&value);
        let side = |side| ShapeFault { side, value_m: value, low_m, high_m };
        let faults = [
            (round_straight(value, 1.0), Side::Width),
            (round_straight(1.0, value), Side::Height),
            (round_tapered(value, 1.0, 1.0), Side::TopWidth),
            (round_tapered(1.0, value, 1.0), Side::BottomWidth),
            (round_tapered(1.0, 1.0, value), Side::Height),
            (boxed(value, 1.0, 1.0), Side::Length),
            (boxed(1.0, value, 1.0), Side::Width),
            (boxed(1.0, 1.0, value), Side::Height),
        ];
        for (volume, of) in faults {
            match volume {
                Ok(volume) => prop_assert!(is_good && volume > 0.0, "{value} gave {volume}"),
                Err(fault) => {
                    prop_assert!(!is_good);
                    // As text, since NaN is no equal of itself.
                    prop_assert_eq!(format!("{fault:?}"), format!("{:?}", side(of)));
                }
            }
        }
    }
}

#[test]
fn zero_and_negative_sides_are_faults() {
    for value in [0.0, -0.0, -1.0, f64::NAN, f64::INFINITY, 100.1] {
        assert!(boxed(value, 1.0, 1.0).is_err(), "{value}");
    }
}

/// One part of soil and three of sand that together are what a bag takes before it is mixed.
#[test]
fn parts_to_fill_a_bag() {
    let row = &table("worked_parts", 1)[0];
    let mut recipe = Recipe::from_json(
        r#"{"barrowmix":1,
        "ground":{"sand_pct":20,"silt_pct":20,"clay_pct":60},
        "soil":{"value":10,"unit":"L"},
        "additions":[{"material":"play_sand","amount":{"value":3,"unit":"part"}}]}"#,
    )
    .expect("the recipe is good");
    let barrow = Barrow::of(&recipe).expect("it can be mixed");
    let total_l = 15.0 * GALLON_L / 0.9;
    let factor = total_l / (barrow.loose_parts_m3() * 1e3);
    recipe.soil = Soil::Amount(Amount::new(10.0 * factor, Unit::Litre));
    let barrow = Barrow::of(&recipe).expect("it can be mixed");
    let tolerance = row.number("tolerance");
    for (litres, column) in [
        (barrow.loose_parts_m3() * 1e3, "total_l"),
        (barrow.ground_loose_m3() * 1e3, "part_l"),
        (barrow.lines[0].loose_m3 * 1e3, "three_parts_l"),
    ] {
        assert_relative(litres, row.number(column), tolerance, column);
    }
}
