#![cfg(not(target_arch = "wasm32"))]
//! A trial from above.

use barrowmix::plot::TrialPlan;
use barrowmix::trial::layout::{CONTAINERS_LIMIT, Design, Layout, Site, Wanted};
use proptest::prelude::*;

fn layout(design: Design, treatments: usize, blocks: usize, columns: Option<usize>) -> Layout {
    let wanted = Wanted {
        design,
        copies: vec![1; treatments],
        blocks,
        seed: 20_260_401,
        columns,
    };
    Layout::of(&wanted).expect("it can be set out")
}

#[test]
fn rows_lie_along_equal_light() {
    let layout = layout(Design::Blocks, 5, 4, None);
    let plan = TrialPlan::of(&layout, Some(Site::OneWay), 420.0);
    assert_eq!(plan.blocks.len(), 4, "each block is outlined");
    assert_eq!(plan.wedges.len(), 1, "one way");
    let wedge = &plan.wedges[0];
    assert!(wedge.is_down, "across the rows");
    let [narrow, _, _, wide] = wedge.corners;
    assert!(narrow[1] < wide[1], "more light below");
    let gaps: Vec<f64> = wedge
        .hatches
        .windows(2)
        .map(|two| two[1][0][1] - two[0][0][1])
        .collect();
    assert!(
        gaps.windows(2).all(|two| two[0] < two[1]),
        "lines are dense in the shade: {gaps:?}"
    );
    for (place, spot) in plan.places.iter().zip(&layout.spots) {
        let block = plan.blocks[spot.block];
        for axis in [0, 1] {
            let from = place.middle[axis] - 0.5 * plan.side;
            let to = from + plan.side;
            let end = block.at[axis] + block.size[axis];
            assert!(block.at[axis] <= from && to <= end, "within its block");
        }
    }
    let one = plan.places.iter().filter(|place| place.container < 5);
    let heights: Vec<f64> = one.map(|place| place.middle[1]).collect();
    assert!(
        heights.iter().all(|y| (y - heights[0]).abs() < 1e-9),
        "a block is a row: {heights:?}"
    );
}

#[test]
fn light_is_drawn_as_it_is_told() {
    let square = layout(Design::Latin, 4, 4, None);
    let of = |site| TrialPlan::of(&square, site, 420.0).wedges.len();
    assert_eq!(of(None), 0, "not told");
    assert_eq!(of(Some(Site::Even)), 0, "even");
    assert_eq!(of(Some(Site::TwoWays)), 2, "two ways");
    assert!(
        TrialPlan::of(&square, None, 420.0).blocks.is_empty(),
        "rows and columns of a square are no strips"
    );
}

#[test]
fn the_walk_never_jumps_within_a_row() {
    let layout = layout(Design::Random, 4, 5, Some(5));
    let plan = TrialPlan::of(&layout, None, 420.0);
    assert_eq!(plan.walk.len(), 20, "all of them");
    for two in plan.walk.windows(2) {
        let far = (two[0][0] - two[1][0]).hypot(two[0][1] - two[1][1]);
        assert!(far <= plan.side + 6.1, "to a neighbour: {two:?}");
    }
}

proptest! {
    /// Whatever is set out, nothing lies outside the drawing or on another container.
    #[test]
    fn everything_lies_inside(
        design in prop::sample::select(Design::ALL),
        treatments in 2_usize..=12,
        blocks in 1_usize..=16,
        columns in prop::option::of(1_usize..=40),
        site in prop::sample::select(vec![None, Some(Site::OneWay), Some(Site::TwoWays)]),
        width in -10.0_f64..2000.0,
    ) {
        prop_assume!(treatments * blocks.max(treatments) <= CONTAINERS_LIMIT);
        let layout = layout(design, treatments, blocks, columns);
        let plan = TrialPlan::of(&layout, site, width);
        prop_assert_eq!(plan.places.len(), layout.spots.len());
        let inside = |[x, y]: [f64; 2], by: f64| {
            let by = by - 1e-9;
            x - by >= 0.0 && y - by >= 0.0 && x + by <= plan.size[0] && y + by <= plan.size[1]
        };
        for place in &plan.places {
            prop_assert!(inside(place.middle, 0.5 * plan.side), "{:?}", place);
        }
        for block in &plan.blocks {
            let [x, y] = block.at;
            prop_assert!(inside(block.at, 0.0), "{:?}", block);
            prop_assert!(inside([x + block.size[0], y + block.size[1]], 0.0), "{:?}", block);
        }
        for two in plan.blocks.windows(2) {
            prop_assert!(two[0].at[1] + two[0].size[1] <= two[1].at[1], "blocks lie apart");
        }
        for wedge in &plan.wedges {
            for corner in wedge.corners {
                prop_assert!(inside(corner, 0.0), "{:?}", corner);
            }
        }
        for (at, one) in plan.places.iter().enumerate() {
            for other in &plan.places[at + 1..] {
                let far = (one.middle[0] - other.middle[0])
                    .abs()
                    .max((one.middle[1] - other.middle[1]).abs());
                prop_assert!(far > plan.side, "{:?} on {:?}", one, other);
            }
        }
    }
}
