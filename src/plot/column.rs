//! The pore column: what fills a bed, state by state.

use crate::blend::{Blend, Water};
use crate::figure::Ends;
use crate::outcome::Outcome;

/// The states drawn, from left to right.
pub const COLUMN_STATES: [ColumnState; 5] = [
    ColumnState::Lying,
    ColumnState::Dug,
    ColumnState::Fresh,
    ColumnState::Settled,
    ColumnState::Puddled,
];

/// A state of the ground or of the blend.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ColumnState {
    /// The ground as it lies.
    Lying,
    /// The ground dug, nothing added.
    Dug,
    /// The blend freshly turned.
    Fresh,
    /// The blend settled.
    Settled,
    /// The blend puddled.
    Puddled,
}

/// How many kinds of filling are told apart.
pub const FILLINGS: usize = 6;

/// What fills a volume once it stopped draining, % of it; sums to 100, or to nothing where there is
/// no ground to show.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Parts {
    /// From the top of a bar down: air, water that plants take, water that they leave, closed cells,
    /// organic solids and char, mineral solids.
    pub from_top_pct: [f64; FILLINGS],
}

impl Parts {
    /// No bar: there is no ground.
    pub const NOTHING: Parts = Parts {
        from_top_pct: [0.0; FILLINGS],
    };

    /// All pores.
    pub fn pores_pct(self) -> f64 {
        let [air, taken, left, closed, ..] = self.from_top_pct;
        air + taken + left + closed
    }
}

/// The parts of every state.
pub fn column_parts(outcome: &Outcome) -> [Parts; 5] {
    let blend = &outcome.blend;
    // The ground alone, a kilogram of it.
    let ground = outcome.barrow.ground;
    let alone = Blend::alone(&outcome.barrow);
    let no_ground = outcome.barrow.ground_dry_kg <= 0.0;
    let settled = parts(blend, blend.volumes.settled_m3, blend.water);
    COLUMN_STATES.map(|state| match state {
        ColumnState::Lying | ColumnState::Dug if no_ground => Parts::NOTHING,
        ColumnState::Lying => {
            let lying = &outcome.ground.lying_pores_pct;
            let solids = parts(&alone, 1.0 / ground.lying_density_kg_m3, alone.water);
            let mut parts = solids;
            parts.from_top_pct[0] = lying.air.typical;
            parts.from_top_pct[1] = lying.available_water.typical;
            parts.from_top_pct[2] = lying.unavailable_water.typical;
            parts
        }
        ColumnState::Dug => in_volume(&alone, alone.volumes.fresh_m3),
        ColumnState::Fresh => in_volume(blend, blend.volumes.fresh_m3),
        ColumnState::Settled => settled,
        ColumnState::Puddled => in_volume(blend, blend.volumes.puddled_m3),
    })
}

/// A blend in another volume: its matter holds the same water, as far as there is room.
fn in_volume(blend: &Blend, volume_m3: f64) -> Parts {
    parts(blend, volume_m3, blend.water_in(volume_m3))
}

fn parts(blend: &Blend, volume_m3: f64, water: Water) -> Parts {
    let pores_pct = 100.0 * blend.pore_space(volume_m3);
    let organic_pct = 100.0 * blend.masses.organic_solid_m3 / volume_m3;
    Parts {
        from_top_pct: [
            100.0 * water.air(),
            100.0 * water.available(),
            100.0 * water.wilting_point,
            100.0 * water.closed,
            organic_pct,
            100.0 - pores_pct - organic_pct,
        ],
    }
}

/// The ends of the pores of every state, %, in the order of [`COLUMN_STATES`].
pub fn column_ends(outcome: &Outcome) -> [Ends; 5] {
    let ground = &outcome.ground;
    let pores = &outcome.pore_space_pct;
    [
        ground.lying_pore_space_pct.ends(),
        ground.dug_pore_space_pct.ends(),
        pores.fresh.ends(),
        pores.settled.ends(),
        pores.puddled.ends(),
    ]
}

/// One bar of the drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bar {
    /// Left edge.
    pub x: f64,
    /// Width.
    pub width: f64,
    /// Top and height of each part, from the top down.
    pub segments: [[f64; 2]; FILLINGS],
}

/// Corner and size of the box of the bars in the pore column's drawing of 460 by 208.
pub const BARS: ([f64; 2], [f64; 2]) = ([4.0, 22.0], [452.0, 138.0]);

/// The bars of the drawing: two of the ground, a gap, three of the blend, inside a box.
pub fn bars(parts: &[Parts; 5], [left, top]: [f64; 2], [width, height]: [f64; 2]) -> [Bar; 5] {
    // Five bars and four small gaps, with a wide gap between ground and blend.
    let unit = width / (5.0 * 5.0 + 3.0 * 1.0 + 4.0);
    let mut x = left;
    let mut index = 0;
    parts.map(|parts| {
        let mut y = top;
        let segments = parts.from_top_pct.map(|share| {
            let tall = (share / 100.0).max(0.0) * height;
            let segment = [y, tall];
            y += tall;
            segment
        });
        let bar = Bar {
            x,
            width: 5.0 * unit,
            segments,
        };
        x += 5.0 * unit + if index == 1 { 4.0 * unit } else { unit };
        index += 1;
        bar
    })
}
