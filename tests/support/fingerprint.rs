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
    let states = |states: &States| {
        [
            states.fresh.typical,
            states.settled.typical,
            states.puddled.typical,
        ]
    };
    let mut out = Vec::new();
    out.extend(
        outcome
            .texture
            .iter()
            .flat_map(|texture| texture.fractions_pct.map(|f| f.typical)),
    );
    out.extend([
        outcome.dry_kg.typical,
        outcome.moist_kg.typical,
        outcome.loose_parts_l.typical,
    ]);
    out.extend(
        [
            &outcome.volume_l,
            &outcome.bulk_density_kg_m3,
            &outcome.pore_space_pct,
        ]
        .into_iter()
        .flat_map(states),
    );
    out.push(outcome.skeleton.share.typical);
    let maybe = [
        outcome.organic_matter_pct,
        outcome.organic_matter_with_char_pct,
        outcome.on_top_kg,
        outcome.skeleton.threshold,
        outcome.skeleton.more_to_touch_kg,
        outcome.cost,
    ];
    out.extend(maybe.iter().flatten().map(|figure| figure.typical));
    out
}
