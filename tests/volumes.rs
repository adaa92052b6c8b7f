#![cfg(not(target_arch = "wasm32"))]
// A second way takes the functions of the standard library, not those of the crate.
#![allow(clippy::disallowed_methods)]
//! Volumes and skeleton of whole blends, worked a second time from their parts by the stated rules.

mod support;

use barrowmix::blend::{FRESH_K, Grains, Line, SETTLED_K, threshold_proportion};
use barrowmix::ground::Ground;
use barrowmix::material::Group;
use barrowmix::outcome::Outcome;
use support::assert_relative;
use support::blends::mixed;
use support::second_way::{DE_LARRARD, additive, packed};

/// Two codings, with sums over the parts in another order.
const SECOND_WAY: f64 = 1e-11;

/// Size and envelope of a piece of the ground.
type Form = (f64, f64);

fn crumbs(ground: &Ground) -> Form {
    let envelope = 1600.0_f64.max(ground.lying_density_kg_m3 / 0.88);
    (3.0, envelope.min(ground.solid_density_kg_m3))
}

fn slaked(ground: &Ground) -> Form {
    (0.01, ground.solid_density_kg_m3)
}

/// Geometric mean grain size of Shirazi & Boersma 1984.
fn grains(ground: &Ground) -> Form {
    let [sand, silt, clay] = ground.fractions;
    let size = 1.025_f64.powf(sand) * 0.026_f64.powf(silt) * 0.001_f64.powf(clay);
    (size, ground.solid_density_kg_m3)
}

/// A dry mass as a part.
fn part(dry_kg: f64, bulk: f64, (size_mm, envelope): Form) -> Grains {
    Grains {
        volume: dry_kg / bulk,
        porosity: 1.0 - bulk / envelope,
        size_mm,
    }
}

fn line(line: &Line, settled: bool) -> Grains {
    let material = &line.material;
    let bulk = if settled {
        material.settled_dry_density_kg_m3
    } else {
        material.fresh_dry_density_kg_m3
    };
    part(
        line.dry_kg,
        bulk,
        (material.grain_mm, material.grain_density_kg_m3),
    )
}

/// What packs of the additions.
fn lines(outcome: &Outcome) -> Vec<&Line> {
    let barrow = &outcome.barrow;
    barrow
        .mixed()
        .filter(|line| line.material.group != Group::Liquid && line.dry_kg > 0.0)
        .collect()
}

/// The whole blend with the ground in a form.
fn volume(outcome: &Outcome, form: Form, settled: bool) -> [f64; 2] {
    let barrow = &outcome.barrow;
    let (bulk, k) = if settled {
        (barrow.ground.settled_density_kg_m3(), SETTLED_K)
    } else {
        (barrow.ground.fresh_density_kg_m3(), FRESH_K)
    };
    let mut parts = vec![part(barrow.ground_dry_kg, bulk, form)];
    parts.extend(lines(outcome).into_iter().map(|of| line(of, settled)));
    [packed(&parts, k, DE_LARRARD), additive(&parts)]
}

#[test]
fn states_of_a_bed() {
    mixed(41, 1500, |recipe, outcome, _| {
        let ground = &outcome.barrow.ground;
        let two_forms = ((ground.clay_pct() - 15.0) / 10.0).clamp(0.0, 1.0);
        let weigh = |one: f64, two: f64| (1.0 - two_forms) * one + two_forms * two;
        let [as_grains, unmixed] = volume(outcome, grains(ground), true);
        let [as_slaked, _] = volume(outcome, slaked(ground), true);
        let [in_crumbs, _] = volume(outcome, crumbs(ground), true);
        // Natural soils show half of the packing (fitted on 7,980 horizons).
        let half = |packed: f64| 0.5 * unmixed + 0.5 * packed;
        let puddled = weigh(as_grains, as_slaked);
        let middle = weigh(half(as_grains), half(as_slaked));
        let crumbly = weigh(half(as_grains), half(as_slaked).max(in_crumbs));
        let crumb = ground.crumb;
        let settled = if crumb < 0.5 {
            puddled + (middle - puddled) * 2.0 * crumb
        } else {
            middle + (crumbly - middle) * (2.0 * crumb - 1.0)
        };
        let [fresh_grains, _] = volume(outcome, grains(ground), false);
        let [fresh_crumbs, _] = volume(outcome, crumbs(ground), false);
        let fresh = weigh(fresh_grains, fresh_crumbs).max(settled);
        let litres = outcome.volume_l;
        let what = recipe.to_json();
        assert_relative(litres.puddled.typical, 1000.0 * puddled, SECOND_WAY, &what);
        assert_relative(litres.settled.typical, 1000.0 * settled, SECOND_WAY, &what);
        assert_relative(litres.fresh.typical, 1000.0 * fresh, SECOND_WAY, &what);
    });
}

#[test]
fn density_of_the_ground() {
    mixed(42, 500, |recipe, outcome, _| {
        let ground = &outcome.barrow.ground;
        let (lying, normal) = (ground.lying_density_kg_m3, ground.normal_density_kg_m3);
        let settled = lying.min(1.10 * normal);
        let fresh = (lying / 1.25).min(settled / 1.10);
        let what = recipe.to_json();
        assert_relative(ground.settled_density_kg_m3(), settled, SECOND_WAY, &what);
        assert_relative(ground.fresh_density_kg_m3(), fresh, SECOND_WAY, &what);
    });
}

#[test]
fn skeleton_of_a_bed() {
    let (mut touching, mut floating) = (0, 0);
    mixed(43, 1500, |recipe, outcome, _| {
        let barrow = &outcome.barrow;
        let ground = &barrow.ground;
        let gravel_kg = barrow.ground_dry_kg * ground.gravel;
        let (mut coarse, mut rest) = (Vec::new(), Vec::new());
        let (mut coarse_kg, mut log_size) = (0.0, 0.0);
        if gravel_kg > 0.0 {
            coarse.push(part(gravel_kg, 1680.0, (10.0, 2650.0)));
            coarse_kg += gravel_kg;
            log_size += gravel_kg * 10.0_f64.ln();
        }
        for of in lines(outcome) {
            let carries = matches!(
                of.material.group,
                Group::Sand | Group::Grit | Group::MineralMeal | Group::PorousMineral
            ) && of.material.grain_mm >= 0.15;
            if carries {
                coarse.push(line(of, true));
                coarse_kg += of.dry_kg;
                log_size += of.dry_kg * of.material.grain_mm.ln();
            } else {
                rest.push(line(of, true));
            }
        }
        let what = recipe.to_json();
        let share = outcome.skeleton.share.typical;
        let has_clay = ground.clay_pct() > 15.0;
        if coarse.is_empty() {
            assert_eq!(share, 0.0, "no coarse grains in {what}");
            assert!(
                outcome.skeleton.threshold.is_none(),
                "no threshold in {what}"
            );
            return;
        }
        let earth_kg = barrow.ground_dry_kg - gravel_kg;
        let room = barrow.ground_dry_kg / ground.settled_density_kg_m3() - gravel_kg / 2650.0;
        let (size_mm, envelope) = slaked(ground);
        if earth_kg > 0.0 && room > 0.0 {
            // Its solids are those of the fine earth; the gravel's have left.
            let solids = barrow.ground_dry_kg / envelope - gravel_kg / 2650.0;
            rest.push(Grains {
                volume: room,
                porosity: 1.0 - solids / room,
                size_mm,
            });
        }
        let room_of = |parts: &[Grains]| {
            if parts.is_empty() {
                0.0
            } else {
                packed(parts, SETTLED_K, DE_LARRARD)
            }
        };
        let (coarse_m3, rest_m3) = (room_of(&coarse), room_of(&rest));
        assert_relative(share, coarse_m3 / (coarse_m3 + rest_m3), SECOND_WAY, &what);
        assert_eq!(
            outcome.skeleton.threshold.is_some(),
            has_clay,
            "threshold in {what}"
        );
        let Some(threshold) = outcome.skeleton.threshold else {
            assert_eq!(outcome.skeleton.touching, None, "touching in {what}");
            return;
        };
        let solid: f64 = coarse
            .iter()
            .map(|of| of.volume * (1.0 - of.porosity))
            .sum();
        let ratio = 0.01 / (log_size / coarse_kg).exp();
        let expected = threshold_proportion(1.0 - solid / coarse_m3, ratio);
        assert_relative(threshold.typical, expected, SECOND_WAY, &what);
        let touches = share >= threshold.typical;
        assert_eq!(
            outcome.skeleton.touching,
            Some(touches),
            "touching in {what}"
        );
        if touches {
            touching += 1
        } else {
            floating += 1
        }
    });
    assert!(
        touching > 50 && floating > 50,
        "{touching} touch, {floating} float: both are tried"
    );
}
