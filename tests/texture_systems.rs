#![cfg(not(target_arch = "wasm32"))]
// A second way takes the functions of the standard library, not those of the crate.
#![allow(clippy::disallowed_methods)]
//! Eight systems of texture classes: regions, conditions told a second time, points on edges, and
//! fractions by other limits of size.

mod support;

use barrowmix::plot::{Frame, name_spot};
use barrowmix::source::Mark;
use barrowmix::texture::{
    Class, DrawnIn, Placed, System, SystemClass, TextureFault, Way, checked, classify, classify_in,
    convert, regression_pct,
};
use barrowmix::words::{asks_text, system_class_name, system_mark_text, system_odds_text};
use proptest::prelude::*;
use std::collections::BTreeSet;
use support::dice::Dice;
use support::{assert_close, assert_printed, table};

/// Steps of half a percent.
const STEPS: usize = 200;

fn system(id: &str) -> System {
    System::find(id).unwrap_or_else(|| panic!("{id} is a system"))
}

fn class_in(fractions: [f64; 3], system: System) -> &'static SystemClass {
    classify_in(fractions, system).unwrap_or_else(|fault| panic!("{fractions:?}: {fault:?}"))
}

fn on_the_grid(mut judge: impl FnMut([f64; 3])) -> usize {
    let mut points = 0;
    for clay in 0..=STEPS {
        for silt in 0..=STEPS - clay {
            let [clay, silt] = [clay, silt].map(|steps| steps as f64 / 2.0);
            judge([100.0 - clay - silt, silt, clay]);
            points += 1;
        }
    }
    assert_eq!(points, 20_301, "every half percent");
    points
}

/// Whether a point lies strictly inside corners (all on one side, or a ray), and how far from the
/// nearest edge, both in the plane of clay and silt.
fn inside(corners: &[[f64; 3]], [x, y]: [f64; 2]) -> (bool, f64) {
    let (mut is_inside, mut nearest) = (false, f64::INFINITY);
    for (index, [ax, ay, _]) in corners.iter().copied().enumerate() {
        let [bx, by, _] = corners[(index + 1) % corners.len()];
        if (ay > y) != (by > y) && x < ax + (y - ay) / (by - ay) * (bx - ax) {
            is_inside = !is_inside;
        }
        let length = (bx - ax).hypot(by - ay);
        let along = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / (length * length);
        let along = along.clamp(0.0, 1.0);
        let away = (x - ax - along * (bx - ax)).hypot(y - ay - along * (by - ay));
        nearest = nearest.min(away);
    }
    (is_inside, nearest)
}

fn area_and_centroid(corners: &[[f64; 3]]) -> (f64, [f64; 2]) {
    let (mut twice, mut centroid) = (0.0, [0.0; 2]);
    for (index, [x, y, _]) in corners.iter().enumerate() {
        let [next_x, next_y, _] = corners[(index + 1) % corners.len()];
        let cross = x * next_y - next_x * y;
        twice += cross;
        centroid[0] += (x + next_x) * cross;
        centroid[1] += (y + next_y) * cross;
    }
    (twice.abs(), centroid.map(|sum| sum / (3.0 * twice)))
}

#[test]
fn regions_tile_the_triangle() {
    for system in System::ALL {
        let whole: f64 = system
            .classes()
            .iter()
            .map(|class| area_and_centroid(class.corners).0)
            .sum();
        assert_eq!(whole, 100.0 * 100.0, "{} covers all", system.id());
        on_the_grid(|fractions| {
            let [_, silt, clay] = fractions;
            let class = class_in(fractions, system);
            let mut strictly = 0;
            for other in system.classes() {
                let (is_inside, away) = inside(other.corners, [clay, silt]);
                if away > 1e-9 {
                    strictly += usize::from(is_inside);
                    let told = format!("{} {fractions:?} {}", system.id(), other.id);
                    assert_eq!(is_inside, class.id == other.id, "{told}");
                } else if class.id == other.id {
                    // On an edge of its own.
                    strictly += 1;
                }
            }
            assert_eq!(strictly, 1, "{} {fractions:?} has one region", system.id());
        });
    }
}

#[test]
fn regions_have_the_areas_and_centroids_of_another_program() {
    let rows = table("texture_regions", 92);
    let known: usize = System::ALL.iter().map(|of| of.classes().len()).sum();
    assert_eq!(known, rows.len(), "every class is judged");
    for row in rows {
        let system = system(row.text("system"));
        let id = row.text("class");
        let class = system.classes().iter().find(|class| class.id == id);
        let class = class.unwrap_or_else(|| panic!("{id} of {}", system.id()));
        assert_eq!(class.corners.len(), row.number("corners") as usize, "{id}");
        let (twice, [clay, silt]) = area_and_centroid(class.corners);
        let told = format!("{id} of {}", system.id());
        assert_printed(twice / 100.0, row.text("area"), &told);
        assert_printed(clay, row.text("clay"), &told);
        assert_printed(silt, row.text("silt"), &told);
        if row.text("inside") == "yes" {
            let centroid = row.three(["sand", "silt", "clay"]);
            assert_eq!(class_in(centroid, system).id, id, "{told} {centroid:?}");
        }
    }
}

#[test]
fn points_on_and_beside_edges() {
    for row in table("texture_points", 88) {
        let fractions = row.three(["sand", "silt", "clay"]);
        let system = system(row.text("system"));
        let class = class_in(fractions, system);
        assert_eq!(class.id, row.text("class"), "{} {fractions:?}", system.id());
    }
}

/// The conditions of a system as its source words them, every class on its own. They are written
/// from the sources once more, not from the table of the crate.
fn conditions(system: System, s: f64, z: f64, c: f64) -> Vec<(&'static str, bool)> {
    let is = |low: f64, value: f64, high: f64| low <= value && value < high;
    match system {
        System::Usda | System::Canada => vec![],
        // Hodgson 1997, from memory.
        System::Uk => vec![
            ("sand", z + 1.5 * c < 15.0),
            ("loamy_sand", z + 1.5 * c >= 15.0 && z + 2.0 * c < 30.0),
            ("sandy_loam", c < 18.0 && s >= 50.0 && z + 2.0 * c >= 30.0),
            ("sandy_silt_loam", c < 18.0 && is(20.0, s, 50.0)),
            ("silt_loam", c < 18.0 && s < 20.0),
            ("sandy_clay_loam", is(18.0, c, 30.0) && s >= 50.0),
            (
                "clay_loam",
                is(18.0, c, 35.0) && is(20.0, s, 50.0) && !(c >= 30.0 && z <= 20.0),
            ),
            ("silty_clay_loam", is(18.0, c, 35.0) && s < 20.0),
            (
                "sandy_clay",
                (is(30.0, c, 35.0) && z <= 20.0) || (c >= 35.0 && s >= 45.0),
            ),
            ("clay", c >= 35.0 && s < 45.0 && z < 45.0),
            ("silty_clay", c >= 35.0 && z >= 45.0),
        ],
        // Bodenkundliche Kartieranleitung 2005: rectangles of clay and silt.
        System::Germany => GERMAN
            .iter()
            .map(|&(id, [from, to], [least, most])| {
                // 100 ends nothing.
                let most = if most == 100.0 { 101.0 } else { most };
                let to = if to == 100.0 { 101.0 } else { to };
                // Where clay and silt are 35 and 65 there is no sand and no other rectangle.
                let corner = id == "strongly_silty_clay" && c == 35.0 && z == 65.0;
                (id, corner || (is(from, c, to) && is(least, z, most)))
            })
            .collect(),
        // The European soil map's attribute of surface texture, its coarse class the right way round.
        System::Europe => vec![
            ("coarse", c <= 18.0 && s > 65.0),
            (
                "medium",
                (18.0 < c && c < 35.0 && s >= 15.0) || (c <= 18.0 && (15.0..=65.0).contains(&s)),
            ),
            ("medium_fine", c < 35.0 && s < 15.0),
            ("fine", (35.0..=60.0).contains(&c)),
            ("very_fine", c > 60.0),
        ],
        // Less than 18 % clay and more than 65 % sand; less than 35 % clay; the rest.
        System::Fao => {
            let coarse = c < 18.0 && s > 65.0;
            vec![
                ("coarse", coarse),
                ("medium", c < 35.0 && !coarse),
                ("fine", c >= 35.0),
            ]
        }
        System::International => vec![
            ("sand", s >= 85.0 && c <= 5.0),
            ("loamy_sand", s >= 85.0 && c > 5.0 && c < 15.0),
            ("sandy_loam", is(65.0, s, 85.0) && c < 15.0),
            ("loam", s < 65.0 && z < 45.0 && c < 15.0),
            ("silt_loam", z >= 45.0 && c < 15.0),
            ("sandy_clay_loam", is(15.0, c, 25.0) && z < 20.0),
            ("clay_loam", is(15.0, c, 25.0) && is(20.0, z, 45.0)),
            ("silty_clay_loam", is(15.0, c, 25.0) && z >= 45.0),
            ("sandy_clay", is(25.0, c, 45.0) && s >= 55.0),
            ("light_clay", is(25.0, c, 45.0) && s < 55.0 && z < 45.0),
            ("silty_clay", is(25.0, c, 45.0) && z >= 45.0),
            ("heavy_clay", c >= 45.0),
        ],
        System::Brazil => vec![
            ("sandy", s - c > 70.0),
            ("silty", c < 35.0 && s < 15.0),
            ("medium", c < 35.0 && s >= 15.0 && s - c <= 70.0),
            ("clayey", (35.0..=60.0).contains(&c)),
            ("very_clayey", c > 60.0),
        ],
    }
}

/// Clay from and to, silt from and to, %; 100 is no end.
const GERMAN: [(&str, [f64; 2], [f64; 2]); 31] = [
    ("pure_sand", [0., 5.], [0., 10.]),
    ("slightly_silty_sand", [0., 5.], [10., 25.]),
    ("slightly_loamy_sand", [5., 8.], [10., 25.]),
    ("medium_silty_sand", [0., 8.], [25., 40.]),
    ("strongly_silty_sand", [0., 8.], [40., 50.]),
    ("sandy_silt", [0., 8.], [50., 80.]),
    ("pure_silt", [0., 8.], [80., 100.]),
    ("slightly_clayey_sand", [5., 17.], [0., 10.]),
    ("medium_loamy_sand", [8., 12.], [10., 40.]),
    ("strongly_loamy_sand", [12., 17.], [10., 40.]),
    ("silty_loamy_sand", [8., 17.], [40., 50.]),
    ("sandy_loamy_silt", [8., 17.], [50., 65.]),
    ("slightly_clayey_silt", [8., 12.], [65., 100.]),
    ("medium_clayey_silt", [12., 17.], [65., 100.]),
    ("medium_clayey_sand", [17., 25.], [0., 15.]),
    ("strongly_sandy_loam", [17., 25.], [15., 30.]),
    ("medium_sandy_loam", [17., 25.], [30., 40.]),
    ("slightly_sandy_loam", [17., 25.], [40., 50.]),
    ("silty_loam", [17., 30.], [50., 65.]),
    ("strongly_clayey_silt", [17., 25.], [65., 100.]),
    ("strongly_sandy_clay", [25., 35.], [0., 15.]),
    ("sandy_clayey_loam", [25., 45.], [15., 30.]),
    ("slightly_clayey_loam", [25., 35.], [30., 50.]),
    ("strongly_silty_clay", [25., 35.], [65., 100.]),
    ("medium_silty_clay", [30., 45.], [50., 65.]),
    ("medium_sandy_clay", [35., 45.], [0., 15.]),
    ("medium_clayey_loam", [35., 45.], [30., 50.]),
    ("slightly_sandy_clay", [45., 65.], [0., 15.]),
    ("loamy_clay", [45., 65.], [15., 30.]),
    ("slightly_silty_clay", [45., 65.], [30., 100.]),
    ("pure_clay", [65., 100.], [0., 100.]),
];

#[test]
fn conditions_told_once_more_agree() {
    for system in System::ALL {
        let mut judged = 0;
        let mut judge = |[sand, silt, clay]: [f64; 3]| {
            let class = class_in([sand, silt, clay], system);
            // Those of the United States have a second way of their own.
            let usda = classify([sand, silt, clay]);
            match system {
                System::Usda => assert_eq!(class.id, usda.id(), "{sand} {silt} {clay}"),
                System::Canada if clay > 60.0 => assert_eq!(class.id, "heavy_clay", "{clay}"),
                System::Canada => assert_eq!(class.id, usda.id(), "{sand} {silt} {clay}"),
                _ => {
                    let conditions = conditions(system, sand, silt, clay);
                    let mut met = conditions.iter().filter(|(_, is_met)| *is_met);
                    let (id, _) = met.next().expect("a condition is met");
                    assert_eq!(*id, class.id, "{} {sand} {silt} {clay}", system.id());
                    assert!(met.next().is_none(), "{} {sand} {silt} {clay}", system.id());
                }
            }
            judged += 1;
        };
        on_the_grid(&mut judge);
        let mut dice = Dice::new(91);
        for _ in 0..20_000 {
            // Thousandths, so that rounding moves nothing.
            let [_, silt, clay] = dice.shares_pct().map(|pct| (pct * 1000.0).floor() / 1000.0);
            let sand = ((100.0 - silt - clay) * 1000.0).round() / 1000.0;
            judge([sand, silt, clay]);
        }
        assert_eq!(judged, 40_301, "points of {}", system.id());
    }
}

#[test]
fn usda_is_the_table_of_the_triangle() {
    let ids: Vec<&str> = System::Usda.classes().iter().map(|of| of.id).collect();
    let known: Vec<&str> = Class::ALL.iter().map(|class| class.id()).collect();
    assert_eq!(ids, known, "the same classes in the same order");
    for row in table("usda_check_points", 86) {
        let fractions = row.three(["sand", "silt", "clay"]);
        let class = class_in(fractions, System::Usda);
        assert_eq!(class.id, classify(fractions).id(), "{fractions:?}");
    }
}

#[test]
fn systems_say_what_they_are() {
    let counts = [12, 13, 11, 31, 5, 3, 12, 5];
    let limits = [50.0, 50.0, 60.0, 63.0, 50.0, 50.0, 20.0, 50.0];
    let remembered = [System::Uk, System::International, System::Brazil];
    for (at, system) in System::ALL.into_iter().enumerate() {
        assert_eq!(system as usize, at, "in order");
        assert_eq!(System::find(system.id()), Some(system), "found by its id");
        assert_eq!(system.classes().len(), counts[at], "{}", system.id());
        assert_eq!(system.silt_um(), limits[at], "{}", system.id());
        let is_remembered = system.mark() == Mark::Memory;
        assert_eq!(
            is_remembered,
            remembered.contains(&system),
            "{}",
            system.id()
        );
        let mut ids = BTreeSet::new();
        for class in system.classes() {
            assert!(ids.insert(class.id), "{} stands once", class.id);
            assert_eq!(class.mark, system.mark(), "{}", class.id);
            assert_eq!(class.source, system.source(), "{}", class.id);
            let id = class.name.replace([' ', '-'], "_");
            assert_eq!(id, class.id, "an id is the name in full words");
        }
    }
    for nonsense in ["", " ", "u", "usda2", "British", "\u{0}"] {
        assert_eq!(System::find(nonsense), None, "{nonsense:?} is no system");
    }
}

#[test]
fn conversions_of_others() {
    for row in table("texture_conversions", 10) {
        let fractions = row.three(["sand", "silt", "clay"]);
        let [from, to] = ["from", "to"].map(|column| system(row.text(column)));
        let converted = convert(fractions, from, to).expect("they sum to 100");
        assert_close(
            converted.fractions_pct[1],
            row.number("to_silt"),
            row.number("within"),
            &format!("{} {fractions:?} to {}", row.text("kind"), to.id()),
        );
        if row.text("kind") == "regression" {
            assert_eq!(converted.way, Way::Regression, "{fractions:?}");
            let silt = regression_pct(fractions[1], fractions[0]);
            assert_printed(silt, row.text("to_silt"), "the regression itself");
        }
    }
}

/// Thousandths too sum to a hundred: where clay and silt would both be rounded up, silt is not, and
/// less than 45 % of it makes no silty clay in the United Kingdom.
#[test]
fn thousandths_sum_to_a_hundred() {
    let class = |silt: f64| class_in([0.0, silt, 100.0 - silt], System::Uk).id;
    for (silt, id) in [
        (44.999, "clay"),
        (44.999_5, "clay"),
        (45.0, "silty_clay"),
        (45.001, "silty_clay"),
    ] {
        assert_eq!(class(silt), id, "{silt} %");
    }
}

#[test]
fn what_nearly_sums_to_a_hundred_is_made_to() {
    for sum in [99.6, 99.9, 100.0, 100.1, 100.4] {
        let fractions = [0.4, 0.35, 0.25].map(|share| share * sum);
        let is = checked(fractions).expect("near enough");
        for (is, should) in is.into_iter().zip([40.0, 35.0, 25.0]) {
            assert_close(is, should, 1e-9, "of their sum");
        }
    }
}

/// Where the first rule of the regression comes to less than nothing there is the second, by hand:
/// 0.8289 * 2 + 0.0198 * 20; it is never less than the finer silt.
#[test]
fn little_silt_has_a_rule_of_its_own() {
    assert_close(regression_pct(2.0, 20.0), 2.0538, 1e-9, "the second rule");
    assert_close(regression_pct(0.0, 10.0), 0.198, 1e-9, "no finer silt");
    assert_close(
        regression_pct(4.0, 10.0),
        4.0,
        1e-9,
        "as much as the finer silt",
    );
    // Without silt both ways say none, and the line is told.
    let none = convert([60.0, 0.0, 40.0], System::Usda, System::International);
    let none = none.expect("it sums to 100");
    assert_eq!(
        (none.fractions_pct[1], none.way),
        (0.0, Way::LogLinear),
        "{none:?}"
    );
}

/// A soil whose grains were measured at 20 um: the regression turned round meets it, and the
/// straight line is seven points off. This is why the one is preferred to the other.
#[test]
fn the_line_gives_too_much_fine_silt() {
    let measured = 55.4 - 31.8;
    let turned = convert([25.4, 42.9, 31.8], System::Usda, System::International);
    let turned = turned.expect("they sum to 100.1");
    let by_line = 42.9 * 10f64.ln() / 25f64.ln();
    assert_eq!(turned.way, Way::Inverse, "the regression");
    let [near, far] = [turned.fractions_pct[1], by_line].map(|silt| (silt - measured).abs());
    assert!(near < 1.0 && far > 6.0, "{near} and {far}");
    assert!(turned.doubt_pct >= far - near - 0.5, "{turned:?}");
    // As much as the two ways differ, of fractions that are taken to sum to 100.
    let apart = by_line * (100.0 / 100.1) - turned.fractions_pct[1];
    assert!((5.0..10.0).contains(&apart), "{apart}");
    assert_close(turned.doubt_pct, apart, 1e-9, "the doubt");
}

#[test]
fn faults_are_told_and_nothing_panics() {
    let fault = |fractions| classify_in(fractions, System::Uk).expect_err("a fault");
    assert_eq!(
        fault([50.0, f64::NAN, 50.0]),
        TextureFault::NotANumber { at: 1 },
        "not a number"
    );
    assert_eq!(
        fault([50.0, 60.0, -10.0]),
        TextureFault::OutOfRange { at: 2, pct: -10.0 },
        "less than nothing"
    );
    assert_eq!(
        fault([f64::INFINITY, 0.0, 0.0]),
        TextureFault::OutOfRange {
            at: 0,
            pct: f64::INFINITY
        },
        "more than all"
    );
    assert_eq!(
        fault([50.0, 30.0, 20.6]),
        TextureFault::Sum { pct: 100.6 },
        "a sum"
    );
    assert!(
        checked([50.0, 30.0, 20.5]).is_ok(),
        "half a percent is rounding"
    );
    assert!(checked([50.0, 30.0, 19.5]).is_ok(), "downwards too");
    assert!(checked([50.0, 30.0, 19.4]).is_err(), "and no more");
    let numbers = [
        f64::NAN,
        f64::NEG_INFINITY,
        f64::INFINITY,
        -1e300,
        -1.0,
        -0.0,
        f64::MIN_POSITIVE,
        33.3,
        33.4,
        50.0,
        99.6,
        100.0,
        100.0 + 1e-13,
        1e300,
    ];
    for sand in numbers {
        for silt in numbers {
            for clay in numbers {
                for system in System::ALL {
                    let class = classify_in([sand, silt, clay], system);
                    let converted = convert([sand, silt, clay], System::Usda, system);
                    let back = convert([sand, silt, clay], system, System::Usda);
                    assert_eq!(class.is_ok(), converted.is_ok(), "{sand} {silt} {clay}");
                    assert_eq!(class.is_ok(), back.is_ok(), "{sand} {silt} {clay}");
                }
            }
        }
    }
}

/// More fine silt never makes less silt in all: the regression falls from about 62 % on.
#[test]
fn more_fine_silt_is_no_less_silt() {
    for clay in 0..=100 {
        for to in [System::Usda, System::Uk, System::Germany] {
            let mut before = 0.0;
            for step in 0..=2 * (100 - clay) {
                let silt = f64::from(step) / 2.0;
                let clay = f64::from(clay);
                let parts = [100.0 - clay - silt, silt, clay];
                let told = convert(parts, System::International, to).expect("it sums to a hundred");
                let [_, found, _] = told.fractions_pct;
                // The second rule of the regression, for next to no silt, lies above the first.
                let is_second = silt < 6.0;
                assert!(
                    found >= before - 1e-9 || is_second,
                    "{parts:?}: {found} after {before}"
                );
                before = found;
            }
        }
    }
}

#[test]
fn there_and_back_is_within_the_doubt() {
    for to in System::ALL {
        on_the_grid(|fractions| {
            let there = convert(fractions, System::Usda, to).expect("it sums to 100");
            let back = convert(there.fractions_pct, to, System::Usda).expect("it sums to 100");
            let off = (back.fractions_pct[1] - fractions[1]).abs();
            if to.silt_um() == 50.0 {
                assert_eq!(back.fractions_pct, fractions, "nothing to convert");
                assert_eq!((back.way, back.doubt_pct), (Way::Same, 0.0), "no doubt");
            } else if there.way == Way::Inverse && there.fractions_pct[1] > 1e-9 {
                // The root of the regression gives the regression back.
                assert!(off < 1e-6, "{} {fractions:?} {off}", to.id());
            } else if to.silt_um() > 50.0 {
                assert!(
                    off <= there.doubt_pct.max(back.doubt_pct) + 1e-9,
                    "{} {fractions:?} {off}",
                    to.id()
                );
            }
        });
    }
}

#[test]
fn draws_are_counted_by_their_weight() {
    // Two clays, a loam and a draw without texture.
    let sand = [20.0, 21.0, 40.0, f64::NAN];
    let silt = [20.0, 20.0, 40.0, f64::NAN];
    let clay = [60.0, 59.0, 20.0, f64::NAN];
    let drawn = DrawnIn::of([&sand, &silt, &clay], &[], System::Canada);
    let told = |drawn: &DrawnIn| -> Vec<(&str, f64)> {
        let shares = drawn.shares.iter();
        shares.map(|(class, share)| (class.id, *share)).collect()
    };
    let (two, one) = (2.0 / 3.0, 1.0 / 3.0);
    assert_eq!(told(&drawn), [("clay", two), ("loam", one)], "each alike");
    assert_eq!(drawn.columns[2][..3], clay[..3], "clay stays");
    assert!(drawn.columns[0][3].is_nan(), "nothing is nothing");
    let drawn = DrawnIn::of([&sand, &silt, &clay], &[0.5, 0.0, 1.5, 1.0], System::Canada);
    assert_eq!(told(&drawn), [("loam", 0.75), ("clay", 0.25)], "by weight");
    let class = |id: &str| {
        let mut classes = System::Canada.classes().iter();
        classes.find(|class| class.id == id).expect("a class")
    };
    for (id, share) in [("loam", 0.75), ("clay", 0.25), ("sand", 0.0)] {
        assert_eq!(drawn.share(class(id)), share, "the share of {id}");
    }
    let clay = class_in([20.0, 20.0, 60.0], System::Canada);
    let text = system_odds_text(&drawn, clay);
    assert!(
        text.starts_with("Odds ") && text.contains("that it is loam"),
        "{text}"
    );
    // What weighs nothing is in no class, alone too.
    let drawn = DrawnIn::of(
        [&sand, &silt, &[60.0, 59.0, 20.0]],
        &[1.0, 1.0, 0.0],
        System::Canada,
    );
    assert_eq!(told(&drawn), [("clay", 1.0)], "a loam of no weight");
    let drawn = DrawnIn::of(
        [&sand, &silt, &[60.0, 59.0, 20.0]],
        &[0.0; 3],
        System::Canada,
    );
    assert_eq!(told(&drawn), [], "none of any weight");
    let none = DrawnIn::of([&[], &[], &[]], &[], System::Uk);
    assert_eq!(told(&none), [], "no draws");
    assert_eq!(system_odds_text(&none, clay), "", "and no odds");
}

/// By hand: the UK limit takes 1.1 points from this soil's sand, and 3 more lead over the line at 20 %
/// sand.
#[test]
fn the_doubt_of_a_conversion_names_other_classes() {
    let near = Placed::of([22.0, 58.0, 20.0], System::Uk).expect("it sums to 100");
    assert_eq!(near.class.id, "clay_loam", "{near:?}");
    let others: Vec<&str> = near.within_doubt.iter().map(|class| class.id).collect();
    assert_eq!(others, ["silty_clay_loam"], "{near:?}");
    // One point of sand moves here, and 3 less lead back over that line.
    let beyond = Placed::of([20.5, 59.5, 20.0], System::Uk).expect("it sums to 100");
    assert_eq!(beyond.class.id, "silty_clay_loam", "{beyond:?}");
    let others: Vec<&str> = beyond.within_doubt.iter().map(|class| class.id).collect();
    assert_eq!(others, ["clay_loam"], "{beyond:?}");
    // Three points more are still short of it.
    let far = Placed::of([26.0, 54.0, 20.0], System::Uk).expect("it sums to 100");
    assert_eq!(far.class.id, "clay_loam", "{far:?}");
    assert!(far.within_doubt.is_empty(), "{far:?}");
    // There is no more silt than what is no clay.
    let silty = Placed::of([1.0, 59.0, 40.0], System::Uk).expect("it sums to 100");
    assert_eq!(silty.class.id, "silty_clay", "{silty:?}");
    let same = Placed::of([22.0, 58.0, 20.0], System::Brazil).expect("it sums to 100");
    assert!(same.within_doubt.is_empty(), "nothing was converted");
}

/// Going from the least silt within the doubt to the most, a tenth of the doubt at a step, every class
/// that is met is named once.
#[test]
fn classes_within_the_doubt_stand_by_their_silt() {
    let mut both = 0;
    for system in System::ALL.iter().copied() {
        for clay in (0..=100).step_by(4) {
            for silt in (0..=100 - clay).step_by(3) {
                let [silt, clay] = [silt, clay].map(f64::from);
                let there = Placed::of([100.0 - silt - clay, silt, clay], system);
                let there = there.expect("it sums to 100");
                let [_, silt, clay] = there.converted.fractions_pct;
                let mut met: Vec<&str> = Vec::new();
                let mut sides = [false; 2];
                for tenths in -10..=10 {
                    let more = silt + there.converted.doubt_pct * f64::from(tenths) / 10.0;
                    let more = more.clamp(0.0, 100.0 - clay);
                    let class = class_in([100.0 - clay - more, more, clay], system);
                    if class.id != there.class.id {
                        sides[usize::from(tenths > 0)] = true;
                        if !met.contains(&class.id) {
                            met.push(class.id);
                        }
                    }
                }
                let told: Vec<&str> = there.within_doubt.iter().map(|class| class.id).collect();
                assert_eq!(told, met, "{there:?}");
                both += usize::from(sides == [true; 2] && met.len() > 1);
            }
        }
    }
    assert!(both > 0, "none has classes on both sides");
}

#[test]
fn words_name_every_class_and_what_it_asks() {
    let class = |system: System, id: &str| {
        let found = system.classes().iter().find(|class| class.id == id);
        found.unwrap_or_else(|| panic!("{id} of {}", system.id()))
    };
    for system in System::ALL {
        for class in system.classes() {
            assert_eq!(system_class_name(class), class.name, "{}", system.id());
            let asks = asks_text(class);
            assert!(asks.contains(|c: char| c.is_ascii_digit()), "{asks}");
        }
        let mark = system_mark_text(system);
        assert_eq!(
            mark.contains("from memory"),
            system.mark() == Mark::Memory,
            "{mark}"
        );
        assert!(mark.contains(system.source()), "{mark}");
    }
    for (system, id, told) in [
        (
            System::Usda,
            "silt_loam",
            "12 ≤ clay < 27; silt ≥ 50, or clay < 12; 50 ≤ silt < 80",
        ),
        (System::Usda, "sand", "silt + 1½ × clay < 15"),
        (System::Brazil, "sandy", "silt + 2 × clay < 30"),
        (
            System::Europe,
            "medium",
            "18 < clay < 35; sand ≥ 15, or clay ≤ 18; 15 ≤ sand ≤ 65",
        ),
        (System::Fao, "fine", "clay ≥ 35"),
    ] {
        assert_eq!(asks_text(class(system, id)), told, "{id}");
    }
}

/// A name's box lies in its region, whatever the size of the triangle.
#[test]
fn names_stand_inside_their_regions() {
    for side in [240.0, 500.0] {
        let frame = Frame {
            left: 40.0,
            top: 20.0,
            side,
        };
        for system in System::ALL {
            let mut named = 0;
            for class in system.classes() {
                let point = |[clay, silt, sand]: &[f64; 3]| frame.point([*sand, *silt, *clay]);
                let corners: Vec<[f64; 2]> = class.corners.iter().map(point).collect();
                let wide = 7.0 * class.name.len() as f64;
                let boxes = [[wide, 13.0], [wide / 2.0, 26.0], [14.0, 13.0]];
                let Some((which, [x, y])) = name_spot(&corners, &boxes) else {
                    continue;
                };
                named += 1;
                let [wide, high] = boxes[which];
                let plane: Vec<[f64; 3]> = corners.iter().map(|[x, y]| [*x, *y, 0.0]).collect();
                for (dx, dy) in [
                    (-0.5, -0.5),
                    (0.5, -0.5),
                    (0.5, 0.5),
                    (-0.5, 0.5),
                    (0.0, 0.0),
                ] {
                    let (is_inside, away) = inside(&plane, [x + dx * wide, y + dy * high]);
                    assert!(is_inside || away < 1e-6, "{} of {}", class.id, system.id());
                }
            }
            assert!(
                named * 3 >= system.classes().len(),
                "{} at {side}",
                system.id()
            );
        }
    }
}

fn texture() -> impl Strategy<Value = [f64; 3]> {
    (0.0..=1.0, 0.0..=1.0).prop_map(|(one, other): (f64, f64)| {
        let [low, high] = [one.min(other), one.max(other)];
        [low, high - low, 1.0 - high].map(|share| share * 100.0)
    })
}

fn any_system() -> impl Strategy<Value = System> {
    (0..System::ALL.len()).prop_map(|at| System::ALL[at])
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4000))]

    #[test]
    fn what_is_converted_is_a_texture(fractions in texture(), from in any_system(), to in any_system()) {
        let converted = convert(fractions, from, to);
        let converted = converted.map_err(|fault| TestCaseError::fail(format!("{fault:?}")))?;
        let sum: f64 = converted.fractions_pct.iter().sum();
        prop_assert!((sum - 100.0).abs() < 1e-9, "{converted:?}");
        for part in converted.fractions_pct {
            prop_assert!((0.0..=100.0 + 1e-12).contains(&part), "{converted:?}");
        }
        prop_assert!((converted.fractions_pct[2] - fractions[2]).abs() < 1e-9, "clay stays");
        let grew = converted.fractions_pct[1] - fractions[1];
        if to.silt_um() > from.silt_um() {
            prop_assert!(grew > -1e-9, "a wider limit takes more in: {converted:?}");
        } else {
            prop_assert!(grew < 1e-9, "a narrower one takes less: {converted:?}");
        }
        prop_assert!(converted.doubt_pct.is_finite() && converted.doubt_pct <= 10.0, "{converted:?}");
        prop_assert!(classify_in(converted.fractions_pct, to).is_ok(), "it has a class");
    }

    /// More silt in one system is not less in another, clay being the same. The regression itself
    /// falls where nearly all is silt, so what comes from 20 um is left out.
    #[test]
    fn more_stays_more(fractions in texture(), share in 0.0..1.0_f64, to in any_system()) {
        let [sand, silt, clay] = fractions;
        let more = [sand * share, silt + sand * (1.0 - share), clay];
        for from in [System::Usda, System::Uk, System::Germany] {
            let silts = [fractions, more].map(|fractions| convert(fractions, from, to));
            let [Ok(less), Ok(more)] = silts else {
                return Err(TestCaseError::fail("it sums to 100"));
            };
            prop_assert!(less.fractions_pct[1] <= more.fractions_pct[1] + 1e-9, "{less:?} {more:?}");
        }
    }

    /// A small move makes a small move: there are no steps in what is told for 20 um.
    #[test]
    fn nothing_jumps(fractions in texture(), to in any_system()) {
        let [sand, silt, clay] = fractions;
        let step = 0.001_f64.min(sand);
        let silts = [fractions, [sand - step, silt + step, clay]];
        let [Ok(one), Ok(next)] = silts.map(|fractions| convert(fractions, System::Usda, to)) else {
            return Err(TestCaseError::fail("it sums to 100"));
        };
        let moved = (one.fractions_pct[1] - next.fractions_pct[1]).abs();
        prop_assert!(moved < 0.01, "{moved}");
    }

    #[test]
    fn any_numbers_do(sand in any::<f64>(), silt in any::<f64>(), clay in any::<f64>(), to in any_system()) {
        let _ = (classify_in([sand, silt, clay], to), convert([sand, silt, clay], to, System::Usda));
    }
}
