//! One or two amounts across a range: the same figures as the recipe with those amounts has, and
//! crossings on both sides of which the outcome says so.

use barrowmix::draws::Strata;
use barrowmix::outcome::Outcome;
use barrowmix::plot::{SweepFrame, SweepGrid, SweepScale};
use barrowmix::quantity::Unit;
use barrowmix::recipe::{Amount, Recipe};
use barrowmix::sweep::{
    Axis, AxisFault, FEW, MAP_STEPS, POINTS, Reach, Run, Swept, crossings, stretches,
};
use proptest::prelude::*;

fn recipe() -> Recipe {
    let text = r#"{ "barrowmix": 1,
        "ground": { "sand_pct": 18, "silt_pct": 27, "clay_pct": 55, "organic_matter_pct": 2.4,
            "bulk_density_kg_m3": 1310 },
        "soil": { "value": 40, "unit": "L" },
        "additions": [
            { "material": "concrete_sand", "amount": { "value": 30, "unit": "lb" } },
            { "material": "yard_compost", "amount": { "value": 20, "unit": "%v" } } ] }"#;
    Recipe::from_json(text).expect("it reads")
}

fn with(recipe: &Recipe, amounts: &[(usize, f64)]) -> Recipe {
    let mut recipe = recipe.clone();
    for (line, amount) in amounts {
        recipe.additions[*line].amount.value = *amount;
    }
    recipe
}

fn axis(line: usize, low: f64, high: f64) -> Axis {
    Axis { line, low, high }
}

fn whole(recipe: &Recipe, axes: &[Axis]) -> Run {
    let mut run = Run::of(recipe, axes).expect("it can be swept");
    let mut strata = if axes.len() > 1 {
        Strata::of(FEW)
    } else {
        Strata::default()
    };
    while run.step(&mut strata) {}
    run
}

#[test]
fn a_curve_has_the_outcomes_of_its_recipes() {
    let recipe = recipe();
    let run = whole(&recipe, &[axis(1, 0.0, 60.0)]);
    assert_eq!(run.points().len(), POINTS, "all are there");
    assert!(run.is_done(), "it ends");
    for (at, point) in run.points().iter().enumerate().step_by(6) {
        let amount = 60.0 * at as f64 / 24.0;
        let outcome = Outcome::of(&with(&recipe, &[(1, amount)])).expect("it can be mixed");
        let point = point.as_ref().expect("no gap");
        for swept in Swept::ALL {
            let (here, there) = (point.figure(*swept), swept.of(&outcome));
            assert_eq!(here, there, "{} at {amount} %v", swept.id());
        }
        let kg = outcome.barrow.lines[1].moist_kg;
        assert!((point.kg[0] - kg).abs() < 1e-9, "its weight at {amount}");
        let class = outcome.texture.map(|texture| texture.class);
        assert_eq!(point.class.map(|(class, _)| class), class, "its class");
    }
}

#[test]
fn a_map_has_the_outcomes_of_its_recipes() {
    let recipe = recipe();
    let run = whole(&recipe, &[axis(0, 0.0, 600.0), axis(1, 0.0, 40.0)]);
    let [columns, rows] = run.size();
    assert_eq!([columns - 1, rows - 1], MAP_STEPS, "its size");
    for (column, row) in [(0, 0), (24, 0), (7, 5), (24, 16), (0, 16)] {
        let amounts = [25.0 * column as f64, 2.5 * row as f64];
        let recipe = with(&recipe, &[(0, amounts[0]), (1, amounts[1])]);
        let outcome = Outcome::of(&recipe).expect("it can be mixed");
        let point = run.point(column, row).expect("no gap");
        assert_eq!(point.amounts, amounts, "its place");
        for swept in Swept::ALL {
            let [here, there] = [point.figure(*swept), swept.of(&outcome)]
                .map(|figure| figure.map(|figure| figure.typical));
            assert_eq!(here, there, "{} at {amounts:?}", swept.id());
        }
    }
}

#[test]
fn a_crossing_is_where_the_outcome_turns() {
    let recipe = recipe();
    let mut run = whole(&recipe, &[axis(1, 0.0, 60.0)]);
    let mut few = Strata::of(FEW);
    let met = crossings(&mut run, Swept::Air, None, &mut few);
    assert!(
        !met.is_empty(),
        "compost brings this clay past a tenth of air"
    );
    for crossing in met {
        let air = |amount: f64| {
            let outcome = Outcome::of(&with(&recipe, &[(1, amount)])).expect("it can be mixed");
            (
                outcome.pores_pct.air.typical,
                outcome.barrow.lines[1].moist_kg,
            )
        };
        let hair = 60.0 / 24.0 / 500.0;
        let (before, after) = (air(crossing.amount - hair).0, air(crossing.amount + hair).0);
        assert_eq!(before < 10.0, crossing.rises, "{before} before it");
        assert_eq!(after >= 10.0, crossing.rises, "{after} after it");
        let kg = air(crossing.amount).1;
        assert!((kg - crossing.kg).abs() < 1e-6 * kg, "it weighs {kg} kg");
        let [first, last] = crossing.likely.expect("no jump");
        let Reach::At(first) = first else {
            panic!("the hopeful end meets it: {first:?}");
        };
        assert!(
            first <= crossing.amount,
            "the hopeful end comes first: {first}"
        );
        assert!(
            !matches!(last, Reach::At(last) if last < crossing.amount),
            "the doubtful end comes last: {last:?}"
        );
    }
    let never = crossings(&mut run, Swept::Air, Some(80.0), &mut few);
    assert!(never.is_empty(), "80 % air is never");
}

/// Much sand into clay: air falls while sand fills the pores and rises once its grains touch.
fn sanded() -> Recipe {
    let text = r#"{ "barrowmix": 1,
        "ground": { "sand_pct": 18, "silt_pct": 32,
            "clay_pct": { "low": 45, "typical": 50, "high": 55 },
            "organic_matter_pct": { "low": 1.8, "typical": 2.4, "high": 3.2 }, "ph": 6.9 },
        "soil": { "area": { "value": 2.88, "unit": "m2" }, "depth": { "value": 20, "unit": "cm" } },
        "additions": [
            { "material": "concrete_sand", "amount": { "value": 500, "unit": "L" } },
            { "material": "yard_compost", "amount": { "value": 50, "unit": "L" } } ] }"#;
    Recipe::from_json(text).expect("it reads")
}

#[test]
fn each_crossing_has_its_own_doubt() {
    let recipe = sanded();
    let mut run = whole(&recipe, &[axis(0, 0.0, 3000.0)]);
    let mut few = Strata::of(FEW);
    let mut several = 0;
    for own in (20..=60).map(|half| 0.5 * f64::from(half)) {
        let met = crossings(&mut run, Swept::Air, Some(own), &mut few);
        several += usize::from(met.len() > 1);
        for (at, crossing) in met.iter().enumerate() {
            let [first, last] = crossing.likely.expect("a threshold of one's own stays");
            let before = at.checked_sub(1).map(|before| met[before].amount);
            let after = met.get(at + 1).map(|after| after.amount);
            // The end of the band, at a point of the curve, is above its threshold.
            let is_above = |amount: f64, is_high: bool| {
                let points = run.points().iter().flatten();
                let point = points.min_by(|one, other| {
                    let far = |amounts: [f64; 2]| (amounts[0] - amount).abs();
                    far(one.amounts).total_cmp(&far(other.amounts))
                });
                let ends = point.and_then(|point| point.figure(Swept::Air));
                let ends = ends.expect("there is air").ends();
                (if is_high { ends.high } else { ends.low }) >= own
            };
            let step = 3000.0 / 24.0;
            match first {
                Reach::At(first) => {
                    assert!(first <= crossing.amount, "{own}: {met:?}");
                    assert!(before.is_none_or(|before| before < first), "{own}: {met:?}");
                    if first >= step {
                        let there = is_above(first - step, crossing.rises);
                        let is_alone = before.is_none_or(|before| before < first - 2.0 * step);
                        assert!(!is_alone || there != crossing.rises, "{own}: {met:?}");
                    }
                }
                Reach::Merges => assert!(before.is_some(), "{own}: {met:?}"),
                Reach::Past => panic!("the range begins: {met:?}"),
            }
            match last {
                Reach::At(last) => {
                    assert!(last >= crossing.amount, "{own}: {met:?}");
                    assert!(after.is_none_or(|after| after > last), "{own}: {met:?}");
                }
                Reach::Merges => assert!(after.is_some(), "{own}: {met:?}"),
                Reach::Past => assert!(after.is_none(), "{own}: {met:?}"),
            }
        }
    }
    assert!(several > 0, "some are met more than once");
    let met = crossings(&mut run, Swept::Air, Some(15.0), &mut few);
    assert_eq!(met.len(), 3, "up, down and up again: {met:?}");
    let between = with(
        &recipe,
        &[(0, 0.5 * (met[0].amount + met[1].amount).round())],
    );
    let ends = Outcome::of(&between)
        .expect("it can be mixed")
        .pores_pct
        .air
        .ends();
    assert!(ends.low < 15.0, "it may never be between the first two");
    let [_, last] = met[0].likely.expect("no jump");
    assert_eq!(last, Reach::Merges, "so the first may not be there");
}

#[test]
fn a_threshold_that_jumps_is_no_fall_of_the_figure() {
    let recipe = sanded();
    let mut run = whole(&recipe, &[axis(0, 0.0, 3000.0)]);
    let mut few = Strata::of(FEW);
    let met = crossings(&mut run, Swept::Density, None, &mut few);
    let jumps: Vec<_> = met
        .iter()
        .filter_map(|crossing| Some((crossing.amount, crossing.rises, crossing.becomes?)))
        .collect();
    assert!(!jumps.is_empty(), "roots of sand stand more: {met:?}");
    for (amount, rises, becomes) in jumps {
        let hair = 3000.0 / 24.0 / 500.0;
        let [before, after] = [amount - hair, amount + hair].map(|amount| {
            let outcome = Outcome::of(&with(&recipe, &[(0, amount)])).expect("it can be mixed");
            let class = outcome.texture.map(|texture| texture.class);
            (class, outcome.bulk_density_kg_m3.settled.typical)
        });
        assert_eq!(after.0, Some(becomes), "the class from {amount} on");
        assert_ne!(before.0, after.0, "another one than before {amount}");
        assert!((after.1 - before.1).abs() < 1.0, "as dense on both sides");
        assert!(!rises, "sand bears more than clay");
    }
    let own = crossings(&mut run, Swept::Density, Some(1500.0), &mut few);
    assert!(
        own.iter().all(|crossing| crossing.becomes.is_none()),
        "{own:?}"
    );
}

#[test]
fn sand_meets_its_threshold_where_it_touches() {
    let recipe = recipe();
    let mut run = whole(&recipe, &[axis(0, 0.0, 1000.0)]);
    let mut few = Strata::of(FEW);
    let met = crossings(&mut run, Swept::Skeleton, None, &mut few);
    assert_eq!(met.len(), 1, "once: {met:?}");
    let touches = |amount: f64| {
        let outcome = Outcome::of(&with(&recipe, &[(0, amount)])).expect("it can be mixed");
        outcome.skeleton.touching
    };
    let hair = 1000.0 / 24.0 / 500.0;
    assert_eq!(touches(met[0].amount - hair), Some(false), "not before");
    assert_eq!(touches(met[0].amount + hair), Some(true), "from there on");
}

#[test]
fn stretches_are_the_classes_on_the_way() {
    let recipe = recipe();
    let mut run = whole(&recipe, &[axis(0, 0.0, 1000.0)]);
    let mut few = Strata::of(FEW);
    let all = stretches(&mut run, &mut few);
    assert!(all.len() > 1, "so much sand changes the class: {all:?}");
    assert!(
        (all[0].from, all[all.len() - 1].to) == (0.0, 1000.0),
        "whole"
    );
    for pair in all.windows(2) {
        assert!((pair[0].to - pair[1].from).abs() < 1e-12, "no gap");
    }
    for stretch in &all {
        let middle = 0.5 * (stretch.from + stretch.to);
        let outcome = Outcome::of(&with(&recipe, &[(0, middle)])).expect("it can be mixed");
        let class = outcome.texture.map(|texture| texture.class);
        assert_eq!(class, Some(stretch.class), "in the middle at {middle} lb");
    }
}

#[test]
fn what_cannot_be_is_a_gap_and_told_once() {
    let mut recipe = recipe();
    recipe.additions[0].amount = Amount::new(70.0, Unit::VolumePercent);
    let run = whole(&recipe, &[axis(1, 0.0, 60.0)]);
    let (gaps, fault, amounts) = run.fault().expect("shares pass a hundred");
    // From 30 %v on nothing is left: 30, 32.5 ... 60.
    assert_eq!(gaps, 13, "{fault:?}");
    assert!((amounts[0] - 30.0).abs() < 1e-9, "first at {amounts:?}");
    assert!(run.points()[11].is_some(), "27.5 %v can be");
    assert!(run.points()[12].is_none(), "30 %v cannot");
}

#[test]
fn axes_that_cannot_be_are_refused() {
    let recipe = recipe();
    let refused = |axes: &[Axis]| Run::of(&recipe, axes).err();
    assert_eq!(refused(&[axis(2, 0.0, 1.0)]), Some(AxisFault::NoAddition));
    assert_eq!(refused(&[]), Some(AxisFault::NoAddition), "of none");
    assert_eq!(refused(&[axis(0, 5.0, 5.0)]), Some(AxisFault::Backwards));
    assert_eq!(refused(&[axis(0, 9.0, 5.0)]), Some(AxisFault::Backwards));
    let twice = [axis(0, 0.0, 5.0), axis(0, 0.0, 9.0)];
    assert_eq!(refused(&twice), Some(AxisFault::Twice));
    for value in [-1.0, f64::NAN, f64::INFINITY, 2e6] {
        let refused = refused(&[axis(0, 0.0, value)]);
        assert!(
            matches!(refused, Some(AxisFault::Outside { .. })),
            "{value}: {refused:?}"
        );
    }
}

#[test]
fn usual_ranges_hold_what_is_there() {
    let mut recipe = recipe();
    let usual = |recipe: &Recipe, line| Axis::usual(recipe, line).expect("there is one");
    assert_eq!(usual(&recipe, 0), axis(0, 0.0, 60.0), "30 lb");
    assert_eq!(usual(&recipe, 1), axis(1, 0.0, 40.0), "20 %v");
    assert_eq!(Axis::usual(&recipe, 2), None, "there are two");
    recipe.additions[0].amount = Amount::new(75.0, Unit::VolumePercent);
    assert_eq!(
        usual(&recipe, 1).high,
        20.0,
        "no more than is left, and 5 %"
    );
    assert!(usual(&recipe, 0).check(&recipe).is_ok(), "it can be swept");
}

#[test]
fn scales_are_round() {
    let scale = SweepScale::of([3.1, 22.0]);
    assert_eq!((scale.low, scale.high, scale.step), (0.0, 30.0, 10.0));
    assert_eq!(scale.marks(), [0.0, 10.0, 20.0, 30.0]);
    let high = SweepScale::of([1210.0, 1390.0]);
    assert_eq!((high.low, high.high, high.step), (1200.0, 1400.0, 50.0));
    let flat = SweepScale::of([6.8, 6.8]);
    assert!(flat.low < 6.8 && flat.high > 6.8, "{flat:?}");
    assert_eq!(
        SweepScale::between(0.0, 60.0).marks(),
        [0.0, 20.0, 40.0, 60.0]
    );
    assert_eq!(SweepScale::of([0.0, 0.9]).decimals(), 2, "by 0.25");
}

#[test]
fn lines_part_at_gaps() {
    let frame = SweepFrame {
        left: 10.0,
        top: 0.0,
        width: 100.0,
        height: 50.0,
        across: SweepScale::between(0.0, 10.0),
        up: SweepScale::between(0.0, 5.0),
    };
    let lines = frame.lines(&[Some([0.0, 0.0]), Some([5.0, 5.0]), None, Some([10.0, 2.5])]);
    assert_eq!(
        lines,
        [vec![[10.0, 50.0], [60.0, 0.0]], vec![[110.0, 25.0]]]
    );
    let bands = frame.bands(&[Some([0.0, 1.0, 2.0]), Some([10.0, 2.0, 3.0])]);
    assert_eq!(
        bands,
        [vec![
            [10.0, 30.0],
            [110.0, 20.0],
            [110.0, 30.0],
            [10.0, 40.0]
        ]]
    );
    assert_eq!(frame.shares([60.0, 25.0]), [0.5, 0.5], "and back");
}

#[test]
fn a_contour_is_the_line_of_a_plane() {
    // x + y = 2.5 over four by three points.
    let values = (0..12).map(|at| Some(f64::from(at % 4 + at / 4) - 2.5));
    let grid = SweepGrid {
        columns: 4,
        rows: 3,
        values: values.collect(),
    };
    let contour = grid.contour();
    assert!(!contour.is_empty(), "there is one");
    for [x, y] in contour.iter().flatten() {
        assert!((x + y - 2.5).abs() < 1e-12, "at {x}, {y}");
    }
    let length: f64 = contour
        .iter()
        .map(|[one, other]| libm::hypot(one[0] - other[0], one[1] - other[1]))
        .sum();
    // From (0.5, 2) to (2.5, 0).
    assert!((length - 8.0_f64.sqrt()).abs() < 1e-12, "{length}");
}

#[test]
fn cells_cover_the_whole_map() {
    let values = (0..12).map(|at| (at != 5).then_some(f64::from(at)));
    let grid = SweepGrid {
        columns: 4,
        rows: 3,
        values: values.collect(),
    };
    let area = |cells: Vec<barrowmix::plot::SweepCells>| -> f64 {
        cells
            .iter()
            .map(|cell| {
                let [left, low, right, high] = cell.edges;
                (right - left) * (high - low)
            })
            .sum()
    };
    let one = area(grid.cells(|_| 0));
    let many = area(grid.cells(|value| value as usize));
    // Three by two, less the gap's own cell of one.
    assert!(
        (one - 5.0).abs() < 1e-12 && (many - 5.0).abs() < 1e-12,
        "{one}, {many}"
    );
    let borders = grid.borders();
    assert!(borders.len() < 6 && borders.windows(2).all(|two| two[0] < two[1]));
}

#[test]
fn kinds_have_edges_and_middles() {
    let values = (0..9).map(|at| Some(f64::from(at % 3 / 2)));
    let grid = SweepGrid {
        columns: 3,
        rows: 3,
        values: values.collect(),
    };
    let edges = grid.edges();
    assert!(edges.iter().flatten().all(|[x, _]| *x == 1.5), "{edges:?}");
    let length: f64 = edges.iter().map(|[one, other]| other[1] - one[1]).sum();
    assert_eq!(length, 2.0, "from the lower edge to the upper");
    let middles = grid.middles();
    assert_eq!(middles.len(), 2, "two kinds");
    assert_eq!(
        (middles[1].1, middles[1].2),
        ([2.0, 1.0], 3),
        "the right column"
    );
}

proptest! {
    #[test]
    fn any_numbers_are_drawn(values in proptest::collection::vec(proptest::option::of(any::<f64>()), 0..60),
                             columns in 0_usize..9, rows in 0_usize..9, mark in any::<f64>()) {
        let grid = SweepGrid { columns, rows, values: values.clone() };
        let borders = grid.borders();
        prop_assert!(borders.len() <= 16, "{}", borders.len());
        let _ = (grid.contour(), grid.edges(), grid.middles(), grid.cells(|_| 1));
        let scale = SweepScale::of(values.iter().flatten().copied());
        prop_assert!(scale.marks().len() <= 64, "few marks");
        let share = scale.share(mark);
        prop_assert!(share.is_nan() || (0.0..=1.0).contains(&share), "{share}");
        let axis = Axis { line: 0, low: 0.0, high: 40.0 };
        let amount = axis.amount(mark);
        prop_assert!((0.0..=40.0).contains(&amount), "{amount}");
    }
}
