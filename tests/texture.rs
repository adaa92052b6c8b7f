#![cfg(not(target_arch = "wasm32"))]
// A second way takes the functions of the standard library, not those of the crate.
#![allow(clippy::disallowed_methods)]
//! Texture classes against their published wording, points, corners and areas.

mod support;

use barrowmix::outcome::Outcome;
use barrowmix::recipe::Recipe;
use barrowmix::texture::{Class, HEIGHT, REGIONS, Spot, classify, from_spot, spot};
use support::dice::Dice;
use support::{assert_close, assert_printed, class_of_code, table};

/// Binary fractions in sums of a few numbers about 100.
const ROUNDING: f64 = 1e-9;

/// The conditions of the Soil Survey Manual (2017), chapter 3, in the wording of Benham & Ahrens
/// 2009, for sand S, silt Z and clay C in percent: every class on its own, none by what is left.
fn conditions(s: f64, z: f64, c: f64) -> [(Class, bool); 12] {
    [
        (Class::Sand, z + 1.5 * c < 15.0),
        (Class::LoamySand, z + 1.5 * c >= 15.0 && z + 2.0 * c < 30.0),
        (
            Class::SandyLoam,
            z + 2.0 * c >= 30.0
                && (((7.0..20.0).contains(&c) && s > 52.0) || (c < 7.0 && z < 50.0)),
        ),
        (
            Class::Loam,
            (7.0..27.0).contains(&c) && (28.0..50.0).contains(&z) && s <= 52.0,
        ),
        (
            Class::SiltLoam,
            (z >= 50.0 && (12.0..27.0).contains(&c)) || ((50.0..80.0).contains(&z) && c < 12.0),
        ),
        (Class::Silt, z >= 80.0 && c < 12.0),
        (
            Class::SandyClayLoam,
            (20.0..35.0).contains(&c) && z < 28.0 && s > 45.0,
        ),
        (
            Class::ClayLoam,
            (27.0..40.0).contains(&c) && s > 20.0 && s <= 45.0,
        ),
        (Class::SiltyClayLoam, (27.0..40.0).contains(&c) && s <= 20.0),
        (Class::SandyClay, c >= 35.0 && s > 45.0),
        (Class::SiltyClay, c >= 40.0 && z >= 40.0),
        (Class::Clay, c >= 40.0 && s <= 45.0 && z < 40.0),
    ]
}

/// Twice the area and the centroid of corners as clay, silt.
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

/// Whether a point lies inside corners (ray to the right), and how far from the nearest edge.
fn inside(corners: &[[f64; 3]], [x, y]: [f64; 2]) -> (bool, f64) {
    let (mut is_inside, mut nearest) = (false, f64::INFINITY);
    for (index, [ax, ay, _]) in corners.iter().copied().enumerate() {
        let [bx, by, _] = corners[(index + 1) % corners.len()];
        if (ay > y) != (by > y) && x < ax + (y - ay) / (by - ay) * (bx - ax) {
            is_inside = !is_inside;
        }
        let along =
            ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / ((bx - ax).powi(2) + (by - ay).powi(2));
        let along = along.clamp(0.0, 1.0);
        let away = (x - ax - along * (bx - ax)).hypot(y - ay - along * (by - ay));
        nearest = nearest.min(away);
    }
    (is_inside, nearest)
}

#[test]
fn published_points() {
    for row in table("usda_check_points", 86) {
        let fractions = row.three(["sand", "silt", "clay"]);
        let class = class_of_code(row.text("usda_class"));
        assert_eq!(
            classify(fractions),
            class,
            "{fractions:?}: {}",
            row.text("source")
        );
    }
}

#[test]
fn typical_textures_fall_in_their_own_class() {
    let mut judged = 0;
    for row in table("usda_class_centroids", 12) {
        let class = class_of_code(row.text("class_code"));
        for kind in ["centroid", "cosby1984", "saxton_rawls_t3"] {
            let columns = ["sand", "silt", "clay"].map(|part| format!("{kind}_{part}"));
            if row.text(&columns[0]).is_empty() {
                continue;
            }
            let fractions = [0, 1, 2].map(|index: usize| row.number(&columns[index]));
            assert_eq!(classify(fractions), class, "{kind} {fractions:?}");
            judged += 1;
        }
    }
    assert_eq!(
        judged, 35,
        "Cosby et al. give no silt, all others are there"
    );
}

#[test]
fn one_condition_holds_at_every_half_percent() {
    let mut points = 0;
    for sand in 0..=200 {
        for silt in 0..=200 - sand {
            let [s, z, c] = [sand, silt, 200 - sand - silt].map(|halves| f64::from(halves) / 2.0);
            let holding: Vec<Class> = conditions(s, z, c)
                .into_iter()
                .filter_map(|(class, holds)| holds.then_some(class))
                .collect();
            assert_eq!(
                holding,
                [classify([s, z, c])],
                "conditions true at {s}/{z}/{c}"
            );
            points += 1;
        }
    }
    assert_eq!(points, 20_301, "points of the grid");
}

#[test]
fn regions_agree_with_classes() {
    let mut dice = Dice::new(12);
    let mut judged = 0;
    for _ in 0..20_000 {
        let (mut clay, mut silt) = (dice.between(0.0, 100.0), dice.between(0.0, 100.0));
        if clay + silt > 100.0 {
            (clay, silt) = (100.0 - clay, 100.0 - silt);
        }
        let hits: Vec<(Class, f64)> = REGIONS
            .iter()
            .map(|region| (region.class, inside(region.corners, [clay, silt])))
            .filter_map(|(class, (is_inside, away))| is_inside.then_some((class, away)))
            .collect();
        // Nearer an edge than the rounding of `classify` the side is a matter of wording.
        let near = REGIONS
            .iter()
            .any(|region| inside(region.corners, [clay, silt]).1 < 0.002);
        if near {
            continue;
        }
        let class = classify([100.0 - clay - silt, silt, clay]);
        assert_eq!(hits.len(), 1, "regions over clay {clay}, silt {silt}");
        assert_eq!(hits[0].0, class, "region at clay {clay}, silt {silt}");
        judged += 1;
    }
    assert!(
        judged > 19_900,
        "only {judged} points are away from all edges"
    );
}

#[test]
fn region_areas_and_centroids() {
    let whole = 100.0 * 100.0;
    let areas: f64 = REGIONS
        .iter()
        .map(|region| area_and_centroid(region.corners).0)
        .sum();
    assert_close(
        areas,
        whole,
        ROUNDING * whole,
        "the regions fill the triangle",
    );
    for row in table("usda_class_centroids", 12) {
        let class = class_of_code(row.text("class_code"));
        let region = REGIONS.iter().find(|region| region.class == class);
        let region = region.unwrap_or_else(|| panic!("no region for {class:?}"));
        let (area, [clay, silt]) = area_and_centroid(region.corners);
        let what = format!("{class:?}");
        assert_printed(
            100.0 * area / whole,
            row.text("share_of_triangle_pct"),
            &what,
        );
        assert_printed(clay, row.text("centroid_clay"), &what);
        assert_printed(silt, row.text("centroid_silt"), &what);
        assert_printed(100.0 - clay - silt, row.text("centroid_sand"), &what);
        let [clay, silt, sand] = region.label;
        assert_eq!(
            classify([sand, silt, clay]),
            class,
            "the label stands in its region"
        );
        assert_close(clay + silt + sand, 100.0, ROUNDING, "a label is a texture");
    }
}

#[test]
fn region_corners_are_the_published_ones() {
    let rows = table("usda_corners", 53);
    for region in REGIONS {
        let published: Vec<[f64; 3]> = rows
            .iter()
            .filter(|row| class_of_code(row.text("class_code")) == region.class)
            .map(|row| row.three(["clay", "silt", "sand"]))
            .collect();
        // From which corner and which way round they are listed does not matter.
        let len = published.len();
        let same = (0..len).any(|from| {
            let forward =
                (0..len).all(|i| region.corners.get(i) == Some(&published[(from + i) % len]));
            let backward =
                (0..len).all(|i| region.corners.get(i) == Some(&published[(from + len - i) % len]));
            forward || backward
        });
        assert!(
            same && region.corners.len() == len,
            "{:?} has the corners {:?}, published are {published:?}",
            region.class,
            region.corners
        );
    }
    let listed: usize = REGIONS.iter().map(|region| region.corners.len()).sum();
    assert_eq!(listed, rows.len(), "every published corner is drawn");
}

/// Clay of 20/20/60 without organic matter, and a clean sand of 95/3/2.
fn clay_and_sand(soil: &str, amount: &str) -> Outcome {
    let recipe = format!(
        r#"{{"barrowmix":1,
        "ground":{{"sand_pct":20,"silt_pct":20,"clay_pct":60,"organic_matter_pct":0,"bulk_density_kg_m3":1200}},
        "soil":{soil},
        "additions":[{{"material":"clean_sand","amount":{amount}}}],
        "materials":[{{"id":"clean_sand","group":"sand","loose_density_kg_m3":1550,
            "sand_pct":95,"silt_pct":3,"clay_pct":2}}]}}"#
    );
    let recipe = Recipe::from_json(&recipe).expect("the recipe is good");
    Outcome::of(&recipe).expect("the recipe can be mixed")
}

#[test]
fn mixing_by_mass() {
    for row in table("texture_mixing", 4) {
        let percent = 100.0 * row.number("sand_share");
        let outcome = clay_and_sand(
            r#"{"value":100,"unit":"kg"}"#,
            &format!(r#"{{"value":{percent},"unit":"%m"}}"#),
        );
        let texture = outcome.texture.expect("there are mineral fines");
        for (figure, column) in texture.fractions_pct.iter().zip(["sand", "silt", "clay"]) {
            assert_printed(
                figure.typical,
                row.text(column),
                &format!("{column} at {percent} %"),
            );
        }
        let class = class_of_code(row.text("usda_class"));
        assert_eq!(texture.class, class, "class at {percent} % sand");
    }
}

#[test]
fn five_centimetres_of_sand_in_twenty_of_clay() {
    let bed = r#"{"area":{"value":1,"unit":"m2"},"depth":{"value":20,"unit":"cm"}}"#;
    let outcome = clay_and_sand(bed, r#"{"value":5,"unit":"cm"}"#);
    let share = 100.0 * outcome.barrow.lines[0].dry_kg / outcome.dry_kg.typical;
    // 1.55 and 1.2 g/cm3: worked by hand as "about 24 %" of the mineral mass, still a clay.
    assert_printed(share, "24", "share of the sand, %");
    let texture = outcome.texture.expect("there are mineral fines");
    assert_eq!(texture.class, Class::Clay, "the class of the bed");
}

#[test]
fn triangle_there_and_back() {
    let corners = [
        ([0.0, 0.0, 100.0], Spot { x: 0.5, y: 0.0 }),
        ([100.0, 0.0, 0.0], Spot { x: 0.0, y: HEIGHT }),
        ([0.0, 100.0, 0.0], Spot { x: 1.0, y: HEIGHT }),
    ];
    for (fractions, place) in corners {
        let found = spot(fractions);
        assert_close(found.x, place.x, ROUNDING, "x of a corner");
        assert_close(found.y, place.y, ROUNDING, "y of a corner");
    }
    assert_close(
        HEIGHT,
        0.75_f64.sqrt(),
        ROUNDING,
        "the triangle has three equal sides",
    );
    let mut dice = Dice::new(3);
    for _ in 0..10_000 {
        let fractions = dice.shares_pct();
        let back = from_spot(spot(fractions));
        for (there, back) in fractions.iter().zip(back) {
            assert_close(
                back,
                *there,
                ROUNDING,
                &format!("{fractions:?} there and back"),
            );
        }
        let outside = from_spot(Spot {
            x: dice.between(-1.0, 2.0),
            y: dice.between(-1.0, 2.0),
        });
        assert_close(
            outside.iter().sum(),
            100.0,
            ROUNDING,
            "shares of a place outside",
        );
        assert!(
            outside.iter().all(|share| *share >= -ROUNDING),
            "a place outside gives {outside:?}"
        );
    }
}
