//! Where the name of a region stands: inside it, or nowhere.

use super::Point;

/// Places that are tried along each side of a region's box.
const TRIED: usize = 24;

/// A region with the names that it might have, of which the first that has room is taken.
///
/// `boxes` are widths and heights of the names; what comes back is which of them fits, and the
/// middle of its box, as near as can be to the middle of the region.
///
/// ```
/// use barrowmix::plot::name_spot;
///
/// let square = [[0.0, 0.0], [100.0, 0.0], [100.0, 50.0], [0.0, 50.0]];
/// let (which, _) = name_spot(&square, &[[120.0, 12.0], [60.0, 24.0]]).expect("there is room");
/// assert_eq!(which, 1); // in two lines
/// assert_eq!(name_spot(&square, &[[120.0, 12.0]]), None);
/// ```
pub fn name_spot(corners: &[Point], boxes: &[[f64; 2]]) -> Option<(usize, Point)> {
    let middle = middle(corners)?;
    let ends = |at: usize| {
        let along = corners.iter().map(|corner| corner[at]);
        let low = along.clone().fold(f64::INFINITY, f64::min);
        (low, along.fold(f64::NEG_INFINITY, f64::max))
    };
    let [(left, right), (top, bottom)] = [ends(0), ends(1)];
    for (which, [wide, high]) in boxes.iter().copied().enumerate() {
        let mut best: Option<(f64, Point)> = None;
        for row in 0..=TRIED {
            for column in 0..=TRIED {
                let share = |at: usize| at as f64 / TRIED as f64;
                let spot = [
                    left + share(column) * (right - left),
                    top + share(row) * (bottom - top),
                ];
                let away = (spot[0] - middle[0]) * (spot[0] - middle[0])
                    + (spot[1] - middle[1]) * (spot[1] - middle[1]);
                if best.is_none_or(|(least, _)| away < least) && fits(corners, spot, [wide, high]) {
                    best = Some((away, spot));
                }
            }
        }
        if let Some((_, spot)) = best {
            return Some((which, spot));
        }
    }
    None
}

/// The middle of a region's area.
fn middle(corners: &[Point]) -> Option<Point> {
    let next = corners.iter().cycle().skip(1);
    let (mut twice, mut sum) = (0.0, [0.0; 2]);
    for ([x, y], [next_x, next_y]) in corners.iter().zip(next) {
        let cross = x * next_y - next_x * y;
        twice += cross;
        sum[0] += (x + next_x) * cross;
        sum[1] += (y + next_y) * cross;
    }
    (twice != 0.0).then(|| sum.map(|sum| sum / (3.0 * twice)))
}

/// Whether a box lies inside: its corners do, and no edge of the region cuts it.
fn fits(corners: &[Point], [x, y]: Point, [wide, high]: [f64; 2]) -> bool {
    let (left, right) = (x - wide / 2.0, x + wide / 2.0);
    let (top, bottom) = (y - high / 2.0, y + high / 2.0);
    let of_box = [[left, top], [right, top], [right, bottom], [left, bottom]];
    if !of_box.iter().all(|point| inside(corners, *point)) {
        return false;
    }
    // The corners of the region that reach into a box that is not convex with it.
    let within = |[x, y]: &Point| left < *x && *x < right && top < *y && *y < bottom;
    !corners.iter().any(within)
}

/// Whether a point lies in a region (a ray to the right).
fn inside(corners: &[Point], [x, y]: Point) -> bool {
    let next = corners.iter().cycle().skip(1);
    let mut is_inside = false;
    for ([ax, ay], [bx, by]) in corners.iter().zip(next) {
        if (*ay > y) != (*by > y) && x < ax + (y - ay) / (by - ay) * (bx - ax) {
            is_inside = !is_inside;
        }
    }
    is_inside
}
