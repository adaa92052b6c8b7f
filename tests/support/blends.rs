//! Random blends to judge, and their figures by name.

use super::dice::Dice;
use super::{assert_close, recipes};
use barrowmix::outcome::{Outcome, States};
use barrowmix::recipe::{Fault, Recipe};

/// Sums and quotients of a few hundred binary fractions.
pub const ROUNDING: f64 = 1e-12;

/// So many random recipes that can be mixed, each with its outcome.
pub fn mixed(seed: u64, count: usize, mut judge: impl FnMut(&Recipe, &Outcome, &mut Dice)) {
    let mut dice = Dice::new(seed);
    let (mut judged, mut refused) = (0, 0);
    while judged < count {
        let document = recipes::random(&mut dice);
        let recipe = recipes::recipe(&document);
        match Outcome::of(&recipe) {
            Ok(outcome) => {
                judge(&recipe, &outcome, &mut dice);
                judged += 1;
            }
            // Only a line's own moisture can make a material that cannot be.
            Err(error) => {
                assert!(
                    matches!(error.fault, Fault::Misfit(_)),
                    "{error:?} in {document}"
                );
                refused += 1;
            }
        }
    }
    assert!(
        refused * 5 < count,
        "{refused} recipes refused beside {count}"
    );
}

/// The outcome of a recipe that can be mixed.
pub fn outcome(recipe: &Recipe) -> Outcome {
    Outcome::of(recipe).unwrap_or_else(|error| panic!("{error:?} in {}", recipe.to_json()))
}

/// Numbers that describe a blend whatever its size.
pub fn character(outcome: &Outcome) -> Vec<(&'static str, f64)> {
    let states = |[fresh, settled, puddled]: [&'static str; 3], of: States| {
        [
            (fresh, of.fresh.typical),
            (settled, of.settled.typical),
            (puddled, of.puddled.typical),
        ]
    };
    let mut out = Vec::new();
    out.extend(states(
        ["fresh density", "settled density", "puddled density"],
        outcome.bulk_density_kg_m3,
    ));
    out.extend(states(
        ["fresh pores", "settled pores", "puddled pores"],
        outcome.pore_space_pct,
    ));
    if let Some(texture) = outcome.texture {
        let [sand, silt, clay] = texture.fractions_pct.map(|figure| figure.typical);
        out.extend([("sand", sand), ("silt", silt), ("clay", clay)]);
    }
    if let Some(organic) = outcome.organic_matter_pct {
        out.push(("organic matter", organic.typical));
    }
    out.push(("share", outcome.skeleton.share.typical));
    if let Some(threshold) = outcome.skeleton.threshold {
        out.push(("threshold", threshold.typical));
    }
    out
}

/// Numbers that grow with the size of a blend.
pub fn size(outcome: &Outcome) -> Vec<(&'static str, f64)> {
    vec![
        ("dry mass", outcome.dry_kg.typical),
        ("moist mass", outcome.moist_kg.typical),
        ("loose parts", outcome.loose_parts_l.typical),
        ("fresh volume", outcome.volume_l.fresh.typical),
        ("settled volume", outcome.volume_l.settled.typical),
        ("puddled volume", outcome.volume_l.puddled.typical),
    ]
}

/// Asserts that all figures of one are those of another, so many times as large.
pub fn assert_same(
    one: &[(&'static str, f64)],
    other: &[(&'static str, f64)],
    by: f64,
    tolerance: f64,
    what: &str,
) {
    assert_eq!(one.len(), other.len(), "{what}: the same figures are there");
    for ((name, one), (_, other)) in one.iter().zip(other) {
        // Shares and pore space in percent are judged against the whole, not against themselves.
        let room = if by == 1.0 {
            100.0_f64.max(one.abs())
        } else {
            (by * one).abs()
        };
        assert_close(
            *other,
            by * one,
            tolerance * room,
            &format!("{what}: {name}"),
        );
    }
}
