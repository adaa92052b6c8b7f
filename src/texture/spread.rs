//! What a class says of sand, silt and clay when nothing else is known.

use super::usda::{Class, REGIONS, classify};
use crate::figure::{Figure, within};

/// Steps of the grid along one side of the triangle, so 0.5 % each.
const STEPS: usize = 200;
/// Boxes of a histogram: the middles of the grid's small triangles lie on thirds of a step.
const BOXES: usize = 3 * STEPS + 1;
/// Weight of the class that was felt; the rest goes to its neighbours (about half of beginners'
/// calls are one class off; common practice).
const FELT_WEIGHT: f64 = 0.5;
/// The ends of an input.
const ENDS: [f64; 2] = [0.10, 0.90];

/// Sand, silt and clay, %, usual for a class: its midpoint in Cosby et al. 1984 (Water Resour. Res.
/// 20:682; verified in a reprint), and for silt, which they lack, its texture in Saxton & Rawls 2006
/// (Soil Sci. Soc. Am. J. 70:1569, Table 3; verified in a reprint).
pub fn typical_fractions_pct(class: Class) -> [f64; 3] {
    match class {
        Class::Sand => [92.0, 5.0, 3.0],
        Class::LoamySand => [82.0, 12.0, 6.0],
        Class::SandyLoam => [58.0, 32.0, 10.0],
        Class::Loam => [43.0, 39.0, 18.0],
        Class::SiltLoam => [17.0, 70.0, 13.0],
        Class::Silt => [10.0, 85.0, 5.0],
        Class::SandyClayLoam => [58.0, 15.0, 27.0],
        Class::ClayLoam => [32.0, 34.0, 34.0],
        Class::SiltyClayLoam => [10.0, 56.0, 34.0],
        Class::SandyClay => [52.0, 6.0, 42.0],
        Class::SiltyClay => [6.0, 47.0, 47.0],
        Class::Clay => [22.0, 20.0, 58.0],
    }
}

/// Sand, silt and clay, %, of a soil of which only the class is known: the ends are the 10th and
/// 90th percentile of textures spread evenly over the class's region.
pub fn class_spread(class: Class) -> [Figure; 3] {
    let mut weights = [0.0; Class::ALL.len()];
    weights[class as usize] = 1.0;
    spread(class, weights)
}

/// The same of a class judged by feel: half of the weight lies on the class, and half, in equal
/// parts, on the classes that share an edge with it.
pub fn felt_spread(class: Class) -> [Figure; 3] {
    let is_near = |other: &&Class| share_an_edge(class, **other);
    let near = Class::ALL.iter().filter(is_near).count();
    let mut weights = [0.0; Class::ALL.len()];
    for other in Class::ALL.iter().filter(is_near) {
        weights[*other as usize] = (1.0 - FELT_WEIGHT) / near as f64;
    }
    weights[class as usize] = FELT_WEIGHT;
    spread(class, weights)
}

/// Whether two different classes touch along an edge, not only in a corner.
pub fn share_an_edge(one: Class, other: Class) -> bool {
    one != other && edges(one).any(|[a, b]| edges(other).any(|[c, d]| overlap(a, b, c, d)))
}

/// The edges of a class's region, as clay and silt.
fn edges(class: Class) -> impl Iterator<Item = [[f64; 2]; 2]> {
    REGIONS
        .iter()
        .filter(move |region| region.class == class)
        .flat_map(|region| {
            let next = region.corners.iter().cycle().skip(1);
            region.corners.iter().zip(next)
        })
        .map(|([clay, silt, _], [next_clay, next_silt, _])| {
            [[*clay, *silt], [*next_clay, *next_silt]]
        })
}

/// Whether two edges lie on one line and share more than a point. Corners are whole numbers, so
/// nothing is rounded.
fn overlap(a: [f64; 2], b: [f64; 2], c: [f64; 2], d: [f64; 2]) -> bool {
    let (along, square) = ([b[0] - a[0], b[1] - a[1]], |v: [f64; 2]| {
        v[0] * v[0] + v[1] * v[1]
    });
    let from_a = |p: [f64; 2]| [p[0] - a[0], p[1] - a[1]];
    let cross = |p: [f64; 2]| along[0] * from_a(p)[1] - along[1] * from_a(p)[0];
    let dot = |p: [f64; 2]| along[0] * from_a(p)[0] + along[1] * from_a(p)[1];
    let (c_at, d_at) = (dot(c), dot(d));
    cross(c) == 0.0
        && cross(d) == 0.0
        && c_at.max(d_at).min(square(along)) > c_at.min(d_at).max(0.0)
}

/// Percentiles of textures spread evenly over each class, the classes weighted.
fn spread(class: Class, weights: [f64; Class::ALL.len()]) -> [Figure; 3] {
    let mut counts = [0_u32; Class::ALL.len()];
    triangles(|texture| counts[class_of(texture) as usize] += 1);
    let mut boxes = [[0.0; BOXES]; 3];
    triangles(|texture| {
        let of = class_of(texture) as usize;
        if weights[of] > 0.0 {
            let weight = weights[of] / f64::from(counts[of]);
            for (boxes, third) in boxes.iter_mut().zip(texture) {
                boxes[third] += weight;
            }
        }
    });
    let mut index = 0;
    typical_fractions_pct(class).map(|typical| {
        let [low, high] = ENDS.map(|share| value(&boxes[index], share));
        index += 1;
        Figure::between(
            within(low, 0.0, typical),
            typical,
            within(high, typical, 100.0),
        )
    })
}

/// Calls for the middle of each of the equal small triangles, fractions in thirds of a step: none
/// lies on an edge of the whole, and each stands for the same area.
fn triangles(mut of: impl FnMut([usize; 3])) {
    for clay in 0..STEPS {
        for silt in 0..STEPS - clay {
            let sand = STEPS - 1 - clay - silt;
            of([3 * sand + 1, 3 * silt + 1, 3 * clay + 1]);
            if sand > 0 {
                of([3 * sand - 1, 3 * silt + 2, 3 * clay + 2]);
            }
        }
    }
}

fn class_of(thirds: [usize; 3]) -> Class {
    classify(thirds.map(percent))
}

fn percent(thirds: usize) -> f64 {
    thirds as f64 * (100.0 / (3 * STEPS) as f64)
}

/// The value below which a share of the weight lies, %; inside a box the weight is spread evenly.
fn value(boxes: &[f64; BOXES], share: f64) -> f64 {
    let wanted = share * boxes.iter().sum::<f64>();
    let mut below = 0.0;
    for (third, weight) in boxes.iter().enumerate() {
        if *weight > 0.0 && below + weight >= wanted {
            let part = (wanted - below) / weight - 0.5;
            return percent(third) + part * percent(1);
        }
        below += weight;
    }
    100.0
}
