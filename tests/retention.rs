#![cfg(not(target_arch = "wasm32"))]
//! The curve of retention: through its points, between its bounds, and the pores it speaks of.

mod support;

use barrowmix::lane::{Lane, Pair};
use barrowmix::water::retention::{
    CM_PER_KPA, FIELD_CM, Retention, Store, WILTING_CM, filled_share, open_cm, pore_um, residual,
    tension_of_pore_kpa,
};
use proptest::prelude::*;
use support::{assert_close, assert_printed, table};

/// A proper curve meets its points within this, a volume fraction.
const THROUGH: f64 = 1e-8;

#[test]
fn tensions_of_the_points() {
    assert_printed(33.0 * CM_PER_KPA, "336.5", "33 kPa");
    assert_printed(1500.0 * CM_PER_KPA, "15296", "1500 kPa, cm");
    let curve = Retention::through(0.0, 0.5, 0.3, 0.1);
    assert_close(curve.theta_at(FIELD_CM), 0.3, THROUGH, "33 kPa");
    assert_close(curve.theta_at(WILTING_CM), 0.1, THROUGH, "1500 kPa");
}

/// The printed parameters give the printed waters, and through those waters come the parameters.
#[test]
fn curves_of_zhang_and_schaap() {
    for row in table("zhang_schaap_against_saxton_rawls", 24) {
        let what = format!("{}, {}", row.text("code"), row.text("zs_input"));
        let curve = Retention {
            theta_r: row.number("theta_r"),
            theta_s: row.number("theta_s"),
            alpha_per_cm: row.number("alpha_per_cm"),
            n: row.number("n"),
        };
        // Parameters are printed with five digits.
        let waters = [(33.0, "zs_33kPa_pctv"), (1500.0, "zs_1500kPa_pctv")].map(|(kpa, column)| {
            let theta = curve.theta_at(kpa * CM_PER_KPA);
            assert_close(
                100.0 * theta,
                row.number(column),
                2e-3,
                &format!("{column}: {what}"),
            );
            theta
        });
        let [field, wilting] = waters;
        let found = Retention::through(curve.theta_r, curve.theta_s, field, wilting);
        assert_close(found.n, curve.n, 2e-3, &format!("n: {what}"));
        let alpha = found.alpha_per_cm / curve.alpha_per_cm;
        assert_close(alpha, 1.0, 2e-3, &format!("alpha: {what}"));
    }
}

#[test]
fn curves_of_carsel_and_parrish() {
    let mut checked = 0;
    for row in table("container_capacity_model", 31) {
        if !row.text("parameter_set").starts_with("Carsel") {
            continue;
        }
        let curve = Retention {
            theta_r: row.number("theta_r"),
            theta_s: row.number("theta_s"),
            alpha_per_cm: row.number("alpha_per_cm"),
            n: row.number("n"),
        };
        let code = row.text("material");
        let models = table("soil_water_models", 47);
        let model = models
            .iter()
            .find(|model| model.text("code") == code && model.text("model").starts_with("Carsel"));
        let model = model.expect("the class is there");
        for (kpa, column) in [(33.0, "theta_33kPa_pctv"), (1500.0, "theta_1500kPa_pctv")] {
            let theta = 100.0 * curve.theta_at(kpa * CM_PER_KPA);
            assert_close(
                theta,
                model.number(column),
                6e-3,
                &format!("{column} of {code}"),
            );
        }
        checked += 1;
    }
    assert_eq!(checked, 12, "classes");
}

#[test]
fn residual_and_trapped_air() {
    for (sand, of_wilting) in [
        (0.0, 0.0),
        (0.70, 0.0),
        (0.775, 0.4),
        (0.85, 0.8),
        (1.0, 0.8),
    ] {
        assert_close(
            residual(0.05, sand),
            0.05 * of_wilting,
            1e-12,
            &format!("sand {sand}"),
        );
    }
    for (sand, clay, share) in [
        (0.40, 0.20, 0.93),
        (0.20, 0.27, 0.93),
        (0.20, 0.335, 0.965),
        (0.20, 0.40, 1.0),
        (0.775, 0.05, 0.965),
        (0.90, 0.03, 1.0),
    ] {
        let what = format!("sand {sand}, clay {clay}");
        assert_close(filled_share(sand, clay), share, 1e-12, &what);
    }
}

#[test]
fn pores_by_tension() {
    for row in table("pore_diameters", 7) {
        let kpa = row.number("kpa");
        assert_printed(pore_um(kpa), row.text("um"), &format!("{kpa} kPa"));
        assert_close(tension_of_pore_kpa(pore_um(kpa)), kpa, 1e-9, "and back");
        // The same law in cm.
        assert_close(
            2970.0 / (kpa * CM_PER_KPA) / pore_um(kpa),
            1.0,
            2e-3,
            "in cm",
        );
    }
    // Macropores of 0.08 mm are empty from 3.7 kPa on, field pores of 30 um from 10 kPa on.
    assert_printed(tension_of_pore_kpa(80.0), "3.6", "0.08 mm");
    // The hole between six spheres of 1 mm: 0.414 mm, 7.17 cm.
    assert_printed(open_cm(1.0), "7.17", "grains of 1 mm");
    assert_printed(open_cm(0.5), "14.3", "grains of 0.5 mm");
}

#[test]
fn a_flat_curve_keeps_the_first_point() {
    let curve = Retention::through(0.0, 0.5, 0.45, 0.4495);
    assert_eq!(curve.n, 1.02, "n is held");
    assert_close(curve.theta_at(FIELD_CM), 0.45, THROUGH, "33 kPa");
    assert!(
        curve.theta_at(WILTING_CM) < 0.4495,
        "steeper than asked for"
    );
}

fn store(curve: Retention, open: f64, open_cm: f64) -> Store {
    Store {
        fine: curve,
        open,
        open_cm,
    }
}

proptest! {
    #[test]
    fn it_passes_through_proper_points(
        theta_r in 0.0..0.1_f64, room in 0.2..0.6_f64, field in 0.0005..0.9999_f64, of_field in 0.001..0.9_f64,
    ) {
        let field = field.max(2e-3);
        let wilting = field * of_field;
        let at = |share: f64| theta_r + room * share;
        let curve = Retention::through(theta_r, theta_r + room, at(field), at(wilting));
        prop_assert!((curve.theta_at(FIELD_CM) - at(field)).abs() < THROUGH);
        if curve.n > 1.02 {
            prop_assert!((curve.theta_at(WILTING_CM) - at(wilting)).abs() < THROUGH, "{:?}", curve);
        }
    }

    #[test]
    fn it_finds_the_curve_that_made_the_points(alpha in 0.001..2.0_f64, n in 1.03..2.5_f64) {
        let curve = Retention { theta_r: 0.03, theta_s: 0.5, alpha_per_cm: alpha, n };
        let (field, wilting) = (curve.theta_at(FIELD_CM), curve.theta_at(WILTING_CM));
        prop_assume!(wilting > 0.0301);
        let found = Retention::through(0.03, 0.5, field, wilting);
        prop_assert!((found.n - n).abs() < 1e-5, "{} for {}", found.n, n);
        prop_assert!((found.alpha_per_cm / alpha - 1.0).abs() < 1e-4);
    }

    #[test]
    fn water_falls_with_tension(
        theta_r in 0.0..0.2_f64, theta_s in 0.0..0.8_f64, field in -0.2..0.9_f64, wilting in -0.2..0.9_f64,
        open in 0.0..0.4_f64, grain_mm in 0.01..75.0_f64, cm in 0.0..1e4_f64, by in 1.0..1e6_f64,
    ) {
        let theta_s = theta_s.max(theta_r);
        let curve = Retention::through(theta_r, theta_s, field, wilting);
        prop_assert!(curve.n >= 1.02 && curve.n.is_finite());
        prop_assert!(curve.alpha_per_cm > 0.0 && curve.alpha_per_cm.is_finite());
        let store = store(curve, open, open_cm(grain_mm));
        let (wet, dry) = (store.theta_at(cm), store.theta_at(cm * by));
        prop_assert!(dry <= wet + 1e-15);
        for theta in [wet, dry, store.theta_at(1e9 * CM_PER_KPA), store.theta_at(0.0)] {
            prop_assert!(theta >= theta_r - 1e-12 && theta <= store.theta_s() + 1e-12);
        }
        prop_assert!((store.theta_at(0.0) - store.theta_s()).abs() < 1e-12);
    }

    #[test]
    fn two_lanes_are_one_and_one(field in 0.1..0.45_f64, of_field in 0.1..0.95_f64, cm in 0.0..1e5_f64) {
        let other = Retention::through(0.02, 0.4, 0.2, 0.1);
        let one = Retention::through(0.0, 0.5, field, field * of_field);
        let pair = |a: f64, b: f64| Pair::load(&[a, b], 0);
        let both = Retention::through(pair(0.0, 0.02), pair(0.5, 0.4), pair(field, 0.2), pair(field * of_field, 0.1));
        let mut out = [0.0; 2];
        both.theta_at(cm).store(&mut out, 0);
        prop_assert_eq!(out, [one.theta_at(cm), other.theta_at(cm)]);
    }
}

#[test]
fn nothing_that_is_given_panics() {
    let odd = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1.0, 0.0, 1e300];
    for a in odd {
        for b in odd {
            let curve = Retention::through(a, b, b, a);
            let _ = store(curve, a, b).theta_at(a);
        }
    }
}
