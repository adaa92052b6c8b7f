//! A fingerprint of every figure of an outcome: FNV-1a (64 bits) over the bits of the numbers.

use barrowmix::outcome::{Outcome, States};

/// The fingerprint, as sixteen letters.
pub(crate) fn fingerprint(outcome: &Outcome) -> String {
    let mut hash = 0xcbf2_9ce4_8422_2325_u64;
    for number in numbers(outcome) {
        for byte in number.to_bits().to_le_bytes() {
            hash = (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }
    format!("{hash:016x}")
}

fn numbers(outcome: &Outcome) -> Vec<f64> {
    let states = |states: &States| [states.fresh, states.settled, states.puddled];
    let mut figures = Vec::new();
    figures.extend(outcome.texture.iter().flat_map(|t| t.fractions_pct));
    figures.extend([outcome.dry_kg, outcome.moist_kg, outcome.loose_parts_l]);
    figures.extend(
        [
            &outcome.volume_l,
            &outcome.bulk_density_kg_m3,
            &outcome.pore_space_pct,
        ]
        .into_iter()
        .flat_map(states),
    );
    figures.push(outcome.skeleton.share);
    let maybe = [
        outcome.organic_matter_pct,
        outcome.organic_matter_with_char_pct,
        outcome.on_top_kg,
        outcome.skeleton.threshold,
        outcome.skeleton.more_to_touch_kg,
        outcome.cost,
    ];
    figures.extend(maybe.iter().flatten());
    let changes = outcome.changes.iter().flat_map(|changes| {
        let [pores, density] = [changes.pore_space_pct, changes.bulk_density_kg_m3];
        pores
            .into_iter()
            .chain(density)
            .chain(changes.organic_matter_pct)
    });
    let changes: Vec<_> = changes.collect();
    figures.extend(changes.iter().map(|change| change.difference));
    let mut out = Vec::new();
    for figure in figures {
        let ends = figure.ends();
        out.extend([ends.low, figure.typical, ends.high]);
    }
    out.extend(
        changes
            .iter()
            .flat_map(|change| [change.odds_more, change.odds_less]),
    );
    out.extend(outcome.texture.iter().flat_map(|t| t.class_odds));
    out.extend(outcome.skeleton.touching_odds);
    out
}
