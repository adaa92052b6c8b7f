#![cfg(not(target_arch = "wasm32"))]
//! Reaction, lime and sulfur against worked examples, tables of advice and laws.

mod support;
#[path = "support/worked.rs"]
mod worked;

use barrowmix::chemistry::amounts::Slice;
use barrowmix::chemistry::liming::{
    Advice, AtOnce, BAND, FreeLime, GROUND_LIME, advice, lime_doses, lime_kg, limestone_pct,
    rise_ph, sulfur_doses, sulfur_for_lime_kg, sulfur_kg,
};
use barrowmix::chemistry::reaction::{
    BASE_OF_LIME_CMOL_KG, Balance, LIME_PH_MOST, ShakenIn, buffer_cmol_kg_ph, ph_1to5, ph_in_water,
};
use barrowmix::quantity::Unit;
use proptest::prelude::{Strategy, any, prop_assert, prop_oneof, proptest};
use support::{assert_close, assert_relative, table};
use worked::agree;

/// Dry soil of the furrow slice under 100 square feet, kg.
fn under_100_ft2() -> f64 {
    Slice::furrow().soil_kg_m2() * 100.0 * Unit::SquareFoot.factor()
}

fn number() -> impl Strategy<Value = f64> {
    prop_oneof![3 => 0.0..14.0, 1 => any::<f64>()]
}

#[test]
fn buffering_is_the_rule_and_the_tables() {
    let rule = [(5.0, 0.8), (20.0, 1.5), (33.0, 1.7), (50.0, 2.0)]
        .map(|(clay, carbon): (f64, f64)| buffer_cmol_kg_ph(clay / 100.0, carbon / 100.0));
    agree("buffering_by_rule", &rule);
    // Turned round, an amount of lime is a buffering.
    let slice = Slice::furrow().soil_kg_m2();
    let by_lime = [10.5, 8.0, 6.0].map(|lb| {
        let kg_m2 = lb * Unit::PoundPer100SquareFeet.factor();
        kg_m2 / lime_kg(slice, 1.0, 1.0, 100.0, 1.0)
    });
    agree("buffering_of_the_lime_table", &by_lime);
    let by_sulfur = [660.0, 2020.0, 3030.0].map(|lb| {
        let kg_m2 = lb * Unit::Pound.factor() / Unit::Acre.factor();
        kg_m2 / sulfur_kg(slice, 1.0, 2.0)
    });
    agree("buffering_of_the_sulfur_table", &by_sulfur);
}

/// Clay and organic carbon, %, that soils of a name usually have: a choice of this test, from the
/// middle of the class and common garden soil.
fn usual(texture: &str) -> (f64, f64) {
    match texture {
        "sand" => (4.0, 0.6),
        "sandy_loam" => (11.0, 1.2),
        "loam" => (20.0, 1.6),
        "clay_loam" => (33.0, 2.0),
        "clay" => (50.0, 2.0),
        other => panic!("no such texture: {other}"),
    }
}

#[test]
fn tables_of_advice_lie_in_the_band() {
    // The band of the buffering.
    const BUFFER_BAND: (f64, f64) = (0.6, 1.6);
    let slice = Slice::furrow().soil_kg_m2();
    for row in table("lime_and_sulfur", 30) {
        let (clay, carbon) = usual(row.text("texture"));
        let buffer = buffer_cmol_kg_ph(clay / 100.0, carbon / 100.0);
        let step = (row.number("to_ph") - row.number("from_ph")).abs();
        let (computed, unit) = match row.text("what") {
            "lime" => (
                lime_kg(slice, buffer, step, 100.0, GROUND_LIME),
                Unit::PoundPer100SquareFeet.factor(),
            ),
            _ => (
                sulfur_kg(slice, buffer, step),
                Unit::Pound.factor() / Unit::Acre.factor(),
            ),
        };
        let printed = row.number("amount") * unit;
        // What a pound of ground lime does differs as well.
        let (least, most) = (BUFFER_BAND.0 * 0.8, BUFFER_BAND.1);
        assert!(
            (least..=most).contains(&(printed / computed)),
            "{} of {} from {}: printed {printed}, computed {computed}",
            row.text("what"),
            row.text("texture"),
            row.text("from_ph")
        );
        let band = [computed / BAND, computed * BAND];
        assert!(
            band[0] <= printed && printed <= band[1],
            "and within half to twice: {printed} in {band:?}"
        );
    }
}

#[test]
fn reaction_is_balanced_and_not_averaged() {
    let balance = |parts: &[(f64, f64, f64)], lime: f64, lime_ph: f64| Balance {
        buffer: parts.iter().map(|(kg, buffer, _)| kg * buffer).sum(),
        buffer_ph: parts.iter().map(|(kg, buffer, ph)| kg * buffer * ph).sum(),
        acid: 0.0,
        lime: [lime, 0.0],
        lime_ph: [lime_ph; 2],
        overstated: 0.0,
    };
    let by_mass = [(1.0, 40.0, 4.0), (1.0, 4.0, 7.5)];
    agree("ph_by_mass", &[balance(&by_mass, 0.0, 8.0).without_lime()]);
    let by_volume = [(0.10, 40.0, 4.0), (1.20, 4.0, 7.5)];
    agree(
        "ph_by_volume",
        &[balance(&by_volume, 0.0, 8.0).without_lime()],
    );
    // Two percent of lime are more than half the volume of peat can take.
    let limy = [(0.10, 40.0, 4.0), (1.20, 4.0, 7.8)];
    let reserve = 0.02 * BASE_OF_LIME_CMOL_KG;
    let demand: f64 = limy
        .iter()
        .map(|(kg, buffer, ph)| kg * buffer * (LIME_PH_MOST - ph))
        .sum();
    agree("lime_against_peat", &[reserve, 1.2 * reserve, demand]);
    let ph = balance(&limy, 1.2 * reserve, LIME_PH_MOST).ph(7.8);
    assert_close(ph, 8.2, 1e-9, "it stays at what lime holds");
}

#[test]
fn lime_and_sulfur_are_as_worked_elsewhere() {
    let (kg, buffer) = (under_100_ft2(), 3.9);
    let lb = Unit::Pound.factor();
    agree(
        "lime_for_a_unit",
        &[
            lime_kg(kg, buffer, 1.0, 100.0, 1.0) / lb,
            lime_kg(kg, buffer, 1.0, 100.0, GROUND_LIME) / lb,
        ],
    );
    let slice = Slice::furrow().soil_kg_m2();
    agree(
        "sulfur_for_a_unit",
        &[
            sulfur_kg(kg, buffer, 1.0) / lb,
            1000.0 * sulfur_kg(slice, buffer, 1.0),
        ],
    );
    let acre = slice * Unit::Acre.factor();
    agree(
        "sulfur_eaten_by_lime",
        &[
            sulfur_for_lime_kg(acre, 1.0) / lb,
            sulfur_for_lime_kg(kg, 1.0) / lb,
        ],
    );
    assert_relative(
        sulfur_for_lime_kg(100.0, 1.0),
        0.3203,
        1e-3,
        "for a kg of carbonate",
    );
    agree("ash_on_buffering", &[rise_ph(2.0 * lb, 50.0, kg, buffer)]);
    let pot = 15.0 * Unit::Gallon.factor() * 1000.0;
    agree("sulfur_for_a_pot", &[1000.0 * sulfur_kg(pot, buffer, 0.5)]);
    // Older advice and the RHS, 98 and 270 g/m2 for a unit in clay, lie in the band.
    let band = sulfur_doses(sulfur_kg(slice, buffer, 1.0), AT_ONCE)
        .kg_m2
        .ends();
    assert!(band.low <= 0.098 && band.high >= 0.270, "{band:?}");
}

/// 5 lb of lime and 1 lb of sulfur on 100 square feet.
const AT_ONCE: AtOnce = AtOnce {
    lime_kg_m2: 0.244,
    sulfur_kg_m2: 0.0488,
};

#[test]
fn limestone_acts_as_a_blend_counts_it_and_at_worst_as_a_thesis_found() {
    // 94 % carbonate of the dry mass, half a percent of water, one percent over 2 mm.
    assert_close(limestone_pct(), 94.0 * 0.995 * 0.99, 1e-9, "as sold");
    let Advice::Lime(doses) = advice(Slice::furrow(), 3.9, 5.5, 6.5, FreeLime::None, AT_ONCE)
    else {
        panic!("upward");
    };
    let pure = lime_kg(Slice::furrow().soil_kg_m2(), 3.9, 1.0, 100.0, 1.0);
    assert_relative(doses.kg_m2.typical, pure / 0.925_947, 1e-6, "typical");
    let high = doses.kg_m2.typical * BAND / 0.73;
    assert_relative(doses.kg_m2.ends().high, high, 1e-9, "at worst");
}

#[test]
fn doses_are_split() {
    let lb = Unit::PoundPer100SquareFeet.factor();
    // Penn State: 5 lb at once.
    for (given, count) in [
        (0.0, 0),
        (4.9, 1),
        (5.1, 2),
        (10.0, 3),
        (11.0, 3),
        (21.0, 5),
    ] {
        let doses = lime_doses(given * lb, AT_ONCE);
        assert!(doses.each_kg_m2 <= AT_ONCE.lime_kg_m2, "{given} lb of lime");
        assert_eq!(doses.count, count, "{given} lb of lime");
        assert_eq!(doses.months, 6, "half a year apart");
    }
    for (given, count) in [(0.0, 0), (0.5, 1), (0.99, 1), (2.5, 3)] {
        let doses = sulfur_doses(given * lb, AT_ONCE);
        assert_eq!(doses.count, count, "{given} lb of sulfur");
        let sum = doses.each_kg_m2 * f64::from(doses.count);
        assert_relative(sum, given * lb, 1e-12, "they make the whole");
    }
}

#[test]
fn sulfur_is_refused_where_lime_would_eat_it() {
    let slice = Slice::furrow();
    let of = |from, to, lime| advice(slice, 3.9, from, to, lime, AT_ONCE);
    assert!(
        matches!(of(5.5, 6.5, FreeLime::Unknown), Advice::Lime(_)),
        "upward"
    );
    assert!(
        matches!(of(7.0, 6.0, FreeLime::Unknown), Advice::Sulfur(_)),
        "downward"
    );
    assert_eq!(
        of(7.6, 6.0, FreeLime::Unknown),
        Advice::AskFizz,
        "asks for the fizz"
    );
    assert!(
        matches!(of(7.6, 6.0, FreeLime::None), Advice::Sulfur(_)),
        "it does not fizz"
    );
    let Advice::InVain { eaten_kg_m2 } = of(7.6, 6.0, FreeLime::Pct(1.0)) else {
        panic!("free lime refuses sulfur");
    };
    assert_relative(
        eaten_kg_m2 / Unit::PoundPer100SquareFeet.factor(),
        14.707_146,
        1e-5,
        "what the lime takes first",
    );
    assert!(
        matches!(of(6.0, 5.0, FreeLime::Pct(0.1)), Advice::InVain { .. }),
        "any lime does"
    );
    assert_eq!(
        of(6.5, 6.52, FreeLime::Unknown),
        Advice::Nothing,
        "it is there"
    );
    for ph in [f64::NAN, -1.0, 15.0] {
        assert_eq!(of(ph, 6.5, FreeLime::Unknown), Advice::NoReaction, "{ph}");
        assert_eq!(of(6.5, ph, FreeLime::Unknown), Advice::NoReaction, "{ph}");
    }
    for ph in [0.0, 14.0] {
        let told = of(ph, 6.5, FreeLime::None);
        assert!(
            matches!(told, Advice::Lime(_) | Advice::Sulfur(_)),
            "{ph}: {told:?}"
        );
    }
}

#[test]
fn reaction_is_that_in_water() {
    agree("ph_in_five_parts", &[ph_1to5(6.5), ph_1to5(7.8)]);
    let back = ph_in_water(ph_1to5(6.5), ShakenIn::Water5);
    assert_close(back.typical, 6.5, 1e-9, "and back");
    let ends = back.ends();
    assert!(
        ends.high - back.typical > 0.44,
        "its error is told: {ends:?}"
    );
    assert!(
        !ph_in_water(6.4, ShakenIn::Water1).is_in_doubt(),
        "as printed"
    );
    let salt = ph_in_water(6.0, ShakenIn::CalciumChloride);
    assert_eq!(
        (salt.ends().low, salt.ends().high),
        (6.5, 6.8),
        "0.5 to 0.8 above"
    );
    assert!((6.5..=6.8).contains(&salt.typical), "{salt:?}");
}

proptest! {
    #[test]
    fn nothing_is_ever_no_number(a in number(), b in number(), c in number(), d in number()) {
        let slice = Slice { depth_m: a, density_kg_m3: b };
        for value in [
            lime_kg(a, b, c, d, a),
            rise_ph(a, b, c, d),
            sulfur_kg(a, b, c),
            sulfur_for_lime_kg(a, b),
            lime_doses(a, AT_ONCE).each_kg_m2,
            sulfur_doses(a, AT_ONCE).kg_m2.ends().high,
            sulfur_doses(a, AT_ONCE.on(b)).each_kg_m2,
        ] {
            prop_assert!(value.is_finite() && value >= 0.0, "{value}");
        }
        for shaken in [ShakenIn::Water1, ShakenIn::Water2AndAHalf, ShakenIn::Water5, ShakenIn::CalciumChloride] {
            let ph = ph_in_water(a, shaken);
            let ends = ph.ends();
            prop_assert!(0.0 <= ends.low && ends.low <= ph.typical && ph.typical <= ends.high && ends.high <= 14.0, "{ph:?}");
        }
        if let Advice::Lime(doses) | Advice::Sulfur(doses) = advice(slice, c, a, d, FreeLime::Pct(b), AT_ONCE.on(c)) {
            prop_assert!(doses.kg_m2.typical.is_finite() && doses.each_kg_m2.is_finite(), "{doses:?}");
        }
    }

    /// More buffering, a longer way or more ground never takes less.
    #[test]
    fn more_to_move_takes_no_less(kg in 1.0..1e4_f64, buffer in 0.1..40.0_f64, step in 0.0..5.0_f64, more in 1.0..3.0_f64) {
        let lime = |kg, buffer, step| lime_kg(kg, buffer, step, 95.0, GROUND_LIME);
        for (one, other) in [
            (lime(kg, buffer, step), lime(kg * more, buffer, step)),
            (lime(kg, buffer, step), lime(kg, buffer * more, step)),
            (lime(kg, buffer, step), lime(kg, buffer, step * more)),
            (sulfur_kg(kg, buffer, step), sulfur_kg(kg, buffer * more, step)),
            (sulfur_for_lime_kg(kg, step), sulfur_for_lime_kg(kg, step * more)),
        ] {
            prop_assert!(other >= one && one >= 0.0, "{one} {other}");
        }
        // Lime moves what it was worked out for.
        let moved = rise_ph(lime_kg(kg, buffer, step, 90.0, 1.0), 90.0, kg, buffer);
        prop_assert!((moved - step).abs() <= 1e-9 * step.max(1.0), "{moved}");
    }
}
