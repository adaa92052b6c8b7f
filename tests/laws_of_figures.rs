#![cfg(not(target_arch = "wasm32"))]
//! Figures of a blend stay possible, and its states stand in order.

mod support;

use barrowmix::figure::Figure;
use barrowmix::ground::Trait;
use barrowmix::material::catalogue;
use barrowmix::outcome::Remark;
use barrowmix::recipe::Recipe;
use serde_json::json;
use support::blends::{ROUNDING, character, mixed, outcome, size};
use support::{assert_close, assert_relative, recipes};

#[test]
fn every_figure_is_possible() {
    mixed(5, 5000, |recipe, outcome, _| {
        let what = recipe.to_json();
        for (name, value) in size(outcome).into_iter().chain(character(outcome)) {
            assert!(
                value.is_finite() && value >= 0.0,
                "{name} is {value} in {what}"
            );
        }
        let pores = outcome.pore_space_pct;
        for (name, state) in [
            ("fresh", pores.fresh),
            ("settled", pores.settled),
            ("puddled", pores.puddled),
        ] {
            let pores = state.typical;
            assert!(
                pores > 0.0 && pores < 100.0,
                "{name} pore space {pores} in {what}"
            );
        }
        let volumes = outcome.volume_l;
        let ordered = |less: f64, more: f64| less <= more * (1.0 + ROUNDING);
        assert!(
            ordered(volumes.puddled.typical, volumes.settled.typical)
                && ordered(volumes.settled.typical, volumes.fresh.typical),
            "puddled <= settled <= fresh: {volumes:?} in {what}"
        );
        let barrow = &outcome.barrow;
        let unmixed = barrow.ground_dry_kg / barrow.ground.settled_density_kg_m3()
            + barrow
                .mixed()
                .filter(|line| line.material.packs() && line.dry_kg > 0.0)
                .map(|line| line.dry_kg / line.material.settled_dry_density_kg_m3)
                .sum::<f64>();
        assert!(
            ordered(volumes.settled.typical, 1000.0 * unmixed),
            "settled {volumes:?} above the parts, {unmixed} m3, in {what}"
        );
        if let Some(texture) = outcome.texture {
            let sum: f64 = texture
                .fractions_pct
                .iter()
                .map(|figure| figure.typical)
                .sum();
            assert_close(sum, 100.0, 100.0 * ROUNDING, "fractions sum to 100");
        }
        for organic in [
            outcome.organic_matter_pct,
            outcome.organic_matter_with_char_pct,
        ] {
            let share = organic.map_or(0.0, |figure| figure.typical);
            assert!(
                (0.0..=100.0).contains(&share),
                "organic matter {share} % in {what}"
            );
        }
        let share = outcome.skeleton.share.typical;
        assert!(
            (0.0..=1.0).contains(&share),
            "coarse share {share} in {what}"
        );
        if let Some(cost) = outcome.cost {
            assert!(
                cost.typical.is_finite() && cost.typical >= 0.0,
                "cost {cost:?} in {what}"
            );
        }
    });
}

#[test]
fn the_ground_alone_is_itself() {
    mixed(6, 1000, |recipe, _, _| {
        let mut alone = recipe.clone();
        alone.additions.clear();
        let outcome = outcome(&alone);
        let ground = &outcome.barrow.ground;
        let density = outcome.bulk_density_kg_m3;
        let settled = ground.settled_density_kg_m3();
        assert_relative(
            density.settled.typical,
            settled,
            ROUNDING,
            "settled density",
        );
        assert_relative(
            density.puddled.typical,
            settled,
            ROUNDING,
            "puddled density",
        );
        assert_relative(
            density.fresh.typical,
            ground.fresh_density_kg_m3(),
            ROUNDING,
            "fresh density",
        );
        let loose = outcome.loose_parts_l.typical;
        assert_relative(
            outcome.volume_l.fresh.typical,
            loose,
            ROUNDING,
            "fresh volume",
        );
        assert!(
            matches!(outcome.verdict[0], Remark::NothingAdded { .. }),
            "said of the ground alone: {:?}",
            outcome.verdict
        );
    });
}

#[test]
fn crumb_places_the_bed() {
    mixed(7, 500, |recipe, _, dice| {
        let settled = |crumb: f64| {
            let mut recipe = recipe.clone();
            let figure = Figure::exact(crumb);
            recipe.ground.set(Trait::Crumb, Some(figure));
            outcome(&recipe).blend.volumes
        };
        let volumes = settled(0.5);
        let (puddled, half, crumbly) = (
            volumes.puddled_m3,
            volumes.half_mixed_m3,
            volumes.crumbly_m3,
        );
        assert_relative(
            settled(0.0).settled_m3,
            puddled,
            ROUNDING,
            "crumb 0 is puddled",
        );
        assert_relative(
            volumes.settled_m3,
            half,
            ROUNDING,
            "crumb 0.5 is half mixed",
        );
        assert_relative(
            settled(1.0).settled_m3,
            crumbly,
            ROUNDING,
            "crumb 1 holds its crumbs",
        );
        let share = dice.unit();
        let low = puddled + share * (half - puddled);
        assert_relative(
            settled(share / 2.0).settled_m3,
            low,
            ROUNDING,
            "linear below 0.5",
        );
        let high = half + share * (crumbly - half);
        assert_relative(
            settled(0.5 + share / 2.0).settled_m3,
            high,
            ROUNDING,
            "linear above 0.5",
        );
        assert!(
            puddled <= half * (1.0 + ROUNDING),
            "puddled {puddled}, half mixed {half}"
        );
        assert!(
            half <= crumbly * (1.0 + ROUNDING),
            "half mixed {half}, crumbly {crumbly}"
        );
    });
}

/// "Half sand, half clay" is a common rule of thumb; by weight the grains then only float.
#[test]
fn one_to_one_by_weight_floats() {
    let sands = ["play_sand", "concrete_sand", "sharp_sand"];
    for sand in sands {
        assert!(
            catalogue().iter().any(|entry| entry.id == sand),
            "{sand} is in the catalogue"
        );
        for clay in [25, 30, 40, 50, 60] {
            for on_hand in [10.0, 30.0, 2000.0] {
                let recipe = recipes::recipe(&json!({
                    "barrowmix": 1,
                    "ground": { "sand_pct": 20, "silt_pct": 80 - clay, "clay_pct": clay },
                    "soil": { "value": on_hand, "unit": "lb" },
                    "additions": [{ "material": sand, "amount": { "value": on_hand, "unit": "lb" } }],
                }));
                let outcome = outcome(&recipe);
                let what = format!("{sand} in {clay} % clay");
                let skeleton = &outcome.skeleton;
                let threshold = skeleton
                    .threshold
                    .expect("there is clay to float in")
                    .typical;
                assert!(skeleton.share.typical < threshold, "{what}: {skeleton:?}");
                assert_eq!(skeleton.touching, Some(false), "{what} does not touch");
                assert!(
                    matches!(outcome.verdict[0], Remark::Floating { .. }),
                    "{what}: said first is {:?}",
                    outcome.verdict[0]
                );
                // What is said to make the grains touch does so, and a little less does not.
                let more = skeleton
                    .more_to_touch_kg
                    .expect("enough sand touches")
                    .typical;
                for (times, touching) in [(1.001, true), (0.999, false)] {
                    let mut richer = recipe.clone();
                    richer.additions[0].amount.value += times * more / 0.453_592_37;
                    let found = outcome_touching(&richer);
                    assert_eq!(found, Some(touching), "{what}, {times} of what touches");
                }
            }
        }
    }
}

fn outcome_touching(recipe: &Recipe) -> Option<bool> {
    outcome(recipe).skeleton.touching
}
