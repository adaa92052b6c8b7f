#![cfg(not(target_arch = "wasm32"))]
//! Wishes as rows over masses: linear ones say what the full outcome says, and the others rule out
//! nothing that the outcome finds good.

mod support;

use barrowmix::blend::{Barrow, Blend};
use barrowmix::errand::judge::Judge;
use barrowmix::errand::rows::Rows;
use barrowmix::errand::wish::{GroundUse, Wish, Wished};
use barrowmix::outcome::Outcome;
use proptest::prelude::*;
use support::dice::Dice;
use support::errands::{Case, Kind, fits_ground, judge, random, read};

/// Purchases tried of each case.
const EACH: usize = 6;
/// A row this near to nothing may fall on either side.
const HAIR: f64 = 1e-6;

fn case(seed: u64, linear: bool) -> Option<(Case, Dice)> {
    let mut dice = Dice::new(seed);
    let kind = Kind {
        offers: (3, 5),
        wishes: 1,
        purchases: 4000,
        linear,
        to_fill: false,
    };
    let case = random(&mut dice, kind)?;
    Some((case, dice))
}

fn purchase(dice: &mut Dice, most: &[u32]) -> Vec<u32> {
    let mut lot = |most: &u32| match dice.below(3) {
        0 => 0,
        _ => dice.below(*most as usize + 1) as u32,
    };
    most.iter().map(&mut lot).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn rows_of_masses_say_what_the_outcome_says(seed: u64) {
        let Some((case, mut dice)) = case(seed, true) else { return Ok(()) };
        let judge = judge(&case);
        for _ in 0..EACH {
            let lots = purchase(&mut dice, &judge.most());
            let Some(recipe) = judge.recipe(&lots) else { continue };
            let Ok(outcome) = Outcome::of(&recipe) else { continue };
            let Some(organic) = outcome.organic_matter_pct else { continue };
            // One limit at a time, so that a row is known to be its.
            let fractions = outcome.texture.as_ref().map(|texture| texture.fractions_pct);
            for (of, value) in [
                (Wished::Sand, fractions.map(|of| of[0].typical)),
                (Wished::Silt, fractions.map(|of| of[1].typical)),
                (Wished::Clay, fractions.map(|of| of[2].typical)),
                (Wished::OrganicMatter, Some(organic.typical)),
            ] {
                let band = case.errand.wish.band(of);
                let (Some(value), true) = (value, band.asks()) else { continue };
                let mut wish = Wish::default();
                wish.set(of, band);
                let one = judge.wishing(wish);
                let rows = Rows::of(&one);
                let sides = usize::from(band.least.is_some()) + usize::from(band.most.is_some());
                // Behind them stands what the ground can take.
                let sum = rows.always.iter().take(sides)
                    .map(|row| row.sum(&lots) / row.scale())
                    .fold(f64::INFINITY, f64::min);
                let by = [band.least.map(|least| value - least), band.most.map(|most| most - value)];
                let by = by.into_iter().flatten().fold(f64::INFINITY, f64::min);
                if by.abs() > HAIR && sum.abs() > HAIR {
                    prop_assert_eq!(
                        sum > 0.0, by > 0.0,
                        "{:?}: the row {}, the outcome {} of {:?} in {}",
                        of, sum, by, lots.clone(), case.document
                    );
                }
            }
        }
    }

    #[test]
    fn no_row_rules_out_what_meets_the_wish(seed: u64) {
        let Some((case, mut dice)) = case(seed, false) else { return Ok(()) };
        let mut judge = judge(&case);
        for _ in 0..EACH {
            let lots = purchase(&mut dice, &judge.most());
            let Some(values) = judge.values(&lots) else { continue };
            // Wishes that just about hold: the tightest that rows could wrongly refuse.
            let mut wish = Wish::default();
            let all = [Wished::PoreSpace, Wished::Air, Wished::Density, Wished::OrganicMatter, Wished::Clay];
            for of in all {
                let value = values.of(of);
                if value.is_finite() {
                    let (least, most) = (Some(value - 1e-6), Some(value + 1e-6));
                    wish.set(of, barrowmix::errand::wish::Band { least, most });
                }
            }
            wish.skeleton = values.to_touch.map(|by| by >= 0.0);
            let litres = (values.settled_m3 * 1000.0).max(0.01);
            wish.fill = Some(barrowmix::recipe::Amount::new(litres, barrowmix::quantity::Unit::Litre));
            if let Some(fractions) = values.fractions_pct {
                wish.classes = vec![barrowmix::texture::classify(fractions)];
            }
            let tight = judge.wishing(wish);
            prop_assert!(tight.wish.is_met(&values), "the wish is about what there is");
            if fits_ground(&case, &tight, &lots) {
                prop_assert!(
                    Rows::of(&tight).allow(&lots, false),
                    "{:?} is ruled out in {}: {:?}", lots, case.document, values
                );
            }
        }
    }

    #[test]
    fn a_ground_to_fill_up_is_never_ruled_out(seed: u64) {
        let mut dice = Dice::new(seed);
        let kind = Kind { offers: (3, 5), wishes: 1, purchases: 200, linear: false, to_fill: true };
        let Some(case) = random(&mut dice, kind) else { return Ok(()) };
        let mut judge = judge(&case);
        let lots = purchase(&mut dice, &judge.most());
        let Some(values) = judge.values(&lots) else { return Ok(()) };
        if !judge.wish.is_met(&values) { return Ok(()) }
        // The ground that filled it up is what the program may choose.
        let rows = Rows::of(&judge);
        let recipe = judge.recipe(&lots).expect("it was judged");
        let barrow = Barrow::of(&recipe).expect("it was mixed");
        for row in &rows.always {
            let bought: f64 = row.per_lot.iter().zip(&lots).map(|(each, lots)| each * f64::from(*lots)).sum();
            let sum = bought + row.ground * barrow.ground_dry_kg + row.constant;
            let scale = row.scale() * (1.0 + barrow.ground_dry_kg);
            prop_assert!(sum >= -1e-9 * scale, "{} of {:?} in {}", sum, lots, case.document);
        }
        prop_assert_eq!(judge.wish.ground, GroundUse::ToFill);
    }

    #[test]
    fn a_settled_blend_takes_no_more_room_than_its_parts(seed: u64) {
        let Some((case, mut dice)) = case(seed, false) else { return Ok(()) };
        let judge = judge(&case);
        let lots = purchase(&mut dice, &judge.most());
        let Some(recipe) = judge.recipe(&lots) else { return Ok(()) };
        let Ok(barrow) = Barrow::of(&recipe) else { return Ok(()) };
        let together = Blend::of(&barrow, &recipe.soil).volumes.settled_m3;
        let apart = apart_m3(&judge, &lots);
        prop_assert!(
            together <= apart * (1.0 + 1e-12),
            "{} m3 of {} m3 apart: {:?} in {}", together, apart, lots, case.document
        );
    }
}

/// Settled volume of the ground and of every lot alone, m3: by the row of a volume to fill.
fn apart_m3(judge: &Judge, lots: &[u32]) -> f64 {
    let mut wish = Wish::default();
    let litre = barrowmix::recipe::Amount::new(1.0, barrowmix::quantity::Unit::Litre);
    wish.fill = Some(litre);
    let rows = Rows::of(&judge.wishing(wish));
    rows.always[0].sum(lots) - rows.always[0].constant
}

/// A mineral so loose that its grains touch at less than half of the room.
#[test]
fn a_very_loose_mineral_may_touch_early() {
    let case = read(serde_json::json!({
        "barrowmix": 1,
        "ground": { "sand_pct": 20, "silt_pct": 30, "clay_pct": 50 },
        "soil": { "value": 100, "unit": "L" },
        "materials": [{
            "id": "flakes", "group": "porous_mineral", "loose_density_kg_m3": 100,
            "grain_density_kg_m3": 2000, "solid_density_kg_m3": 2650, "grain_mm": 3,
        }],
        "errand": {
            "offers": [{
                "material": "flakes", "bag": { "value": 5, "unit": "L" }, "most": 40,
                "price": { "value": 1, "per": { "value": 1, "unit": "bag" } },
            }],
            "wish": { "skeleton": true },
        },
    }));
    let mut judge = judge(&case);
    let rows = Rows::of(&judge);
    let touches = |judge: &mut Judge, lots: u32| {
        let values = judge.values(&[lots]).expect("a blend");
        judge.wish.is_met(&values)
    };
    let least = (1..=40)
        .find(|lots| touches(&mut judge, *lots))
        .expect("some touch");
    let values = judge.values(&[least]).expect("a blend");
    assert!(
        values.to_touch.is_some_and(|by| by < 0.2),
        "just enough of them"
    );
    assert!(
        rows.allow(&[least], false),
        "{least} bags are not ruled out"
    );
}
