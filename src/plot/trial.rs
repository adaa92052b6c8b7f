//! A trial from above: containers in rows along equal light, blocks outlined, and how the light
//! changes as wedges that widen towards more of it.
//!
//! The first row is the far end, nearest to what shades. Where the light changes two ways, it also
//! grows from the left to the right.

use super::Point;
use crate::figure::within;
use crate::trial::layout::{Design, Layout, Site};

/// Sides of a container's square at the least, so that a code can be read in it, and at the most.
const SIDES: (f64, f64) = (46.0, 84.0);
/// The same in a small drawing, where it may hold a letter alone.
const SMALL_SIDES: (f64, f64) = (16.0, 40.0);
/// Room about all of it, for half a stroke.
const RIM: f64 = 1.0;
/// Between two blocks.
const BLOCK_GAP: f64 = 14.0;
/// Between a block's outline and its containers.
const BLOCK_PAD: f64 = 4.0;
/// A container is so much smaller than its square, on each side.
const PAD: f64 = 3.0;
/// Room on the left for the names of blocks.
const NAMES: f64 = 30.0;
/// Room for a wedge.
const WEDGE: f64 = 26.0;
/// A wedge's narrow end and its wide one.
const WEDGE_ENDS: [f64; 2] = [2.0, 16.0];
/// Lines across a wedge; they stand denser where there is more shade.
const HATCHES: usize = 9;

/// A container in the drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Which, in the order of labels.
    pub container: usize,
    /// Its middle.
    pub middle: Point,
}

/// A block's outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BlockOutline {
    /// Which, from 0.
    pub block: usize,
    /// Top left corner.
    pub at: Point,
    /// Width and height.
    pub size: [f64; 2],
}

/// A wedge that widens towards more light.
#[derive(Clone, Debug, PartialEq)]
pub struct Wedge {
    /// Whether the light grows from the top down; else from the left to the right.
    pub is_down: bool,
    /// Corners: the narrow end, then the wide one.
    pub corners: [Point; 4],
    /// Lines across it, dense in the shade.
    pub hatches: Vec<[Point; 2]>,
}

/// A trial from above.
#[derive(Clone, Debug, PartialEq)]
pub struct TrialPlan {
    /// Width and height of the drawing.
    pub size: [f64; 2],
    /// The side of a container's square, or the diameter of its circle.
    pub side: f64,
    /// Containers, in the order of labels.
    pub places: Vec<Place>,
    /// Blocks; none where nothing is outlined.
    pub blocks: Vec<BlockOutline>,
    /// How the light changes; none where it is even.
    pub wedges: Vec<Wedge>,
    /// The walk from container to container, along one row and back along the next.
    pub walk: Vec<Point>,
}

impl TrialPlan {
    /// The drawing of a layout, as wide as is wanted where containers do not get too small or too
    /// large by it.
    pub fn of(layout: &Layout, site: Option<Site>, width: f64) -> TrialPlan {
        TrialPlan::sized(layout, site, width, SIDES)
    }

    /// A small drawing of a layout.
    pub fn small(layout: &Layout, site: Option<Site>, width: f64) -> TrialPlan {
        TrialPlan::sized(layout, site, width, SMALL_SIDES)
    }

    fn sized(
        layout: &Layout,
        site: Option<Site>,
        width: f64,
        (least, most): (f64, f64),
    ) -> TrialPlan {
        let (rows, columns) = layout.grid();
        let has_down = matches!(site, Some(Site::OneWay | Site::TwoWays));
        let has_across = site == Some(Site::TwoWays);
        let is_outlined = layout.design == Design::Blocks;
        let left = if is_outlined { NAMES } else { BLOCK_PAD } + RIM;
        let right = if has_down { WEDGE } else { 0.0 } + BLOCK_PAD + RIM;
        let top = if has_across { WEDGE } else { 0.0 } + BLOCK_PAD + RIM;
        let room = (width - left - right) / columns.max(1) as f64;
        let square = within(room, least, most);
        let gap = if is_outlined {
            BLOCK_GAP.min(0.25 * square).max(2.0 * BLOCK_PAD + RIM)
        } else {
            0.0
        };
        let pad = PAD.min(0.08 * square);
        let y = |row: usize, block: usize| top + square * row as f64 + gap * block as f64;
        let gap_blocks = |block: usize| if is_outlined { block } else { 0 };
        let middle = |container: usize| -> Point {
            let Some(spot) = layout.spots.get(container) else {
                return [0.0; 2];
            };
            [
                left + square * (spot.column as f64 + 0.5),
                y(spot.row, gap_blocks(spot.block)) + 0.5 * square,
            ]
        };
        let wide = square * columns as f64;
        let last = gap_blocks(layout.blocks.saturating_sub(1));
        let bottom = y(rows, last);
        let places = (0..layout.spots.len()).map(|container| Place {
            container,
            middle: middle(container),
        });
        let blocks = (0..layout.blocks).filter(|_| is_outlined).map(|block| {
            let of = || layout.spots.iter().filter(|spot| spot.block == block);
            let first = of().map(|spot| spot.row).min().unwrap_or(0);
            let end = of().map(|spot| spot.row + 1).max().unwrap_or(0);
            BlockOutline {
                block,
                at: [left - BLOCK_PAD, y(first, block) - BLOCK_PAD],
                size: [
                    wide + 2.0 * BLOCK_PAD,
                    square * (end - first) as f64 + 2.0 * BLOCK_PAD,
                ],
            }
        });
        let mut wedges = Vec::new();
        if has_down {
            let x = left + wide + BLOCK_PAD + 0.5 * WEDGE;
            wedges.push(wedge(true, x, [top, bottom]));
        }
        if has_across {
            wedges.push(wedge(
                false,
                top - BLOCK_PAD - 0.5 * WEDGE,
                [left, left + wide],
            ));
        }
        TrialPlan {
            size: [left + wide + right, bottom + BLOCK_PAD + RIM],
            side: square - 2.0 * pad,
            places: places.collect(),
            blocks: blocks.collect(),
            wedges,
            walk: layout.walk().into_iter().map(middle).collect(),
        }
    }
}

/// A wedge about a line from one end to the other.
fn wedge(is_down: bool, across: f64, [from, to]: [f64; 2]) -> Wedge {
    let point = |along: f64, off: f64| -> Point {
        if is_down {
            [across + off, along]
        } else {
            [along, across + off]
        }
    };
    let half = |share: f64| 0.5 * (WEDGE_ENDS[0] + (WEDGE_ENDS[1] - WEDGE_ENDS[0]) * share);
    let line = |share: f64| {
        let along = from + (to - from) * share;
        [point(along, -half(share)), point(along, half(share))]
    };
    let [one, other] = line(0.0);
    let [far, end] = line(1.0);
    // By the square of the count: close together in the shade.
    let hatches = (1..HATCHES).map(|count| {
        let share = count as f64 / HATCHES as f64;
        line(share * share)
    });
    Wedge {
        is_down,
        corners: [one, other, end, far],
        hatches: hatches.collect(),
    }
}
