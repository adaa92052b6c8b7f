//! Where names stand in the triangle: beside the marks, and where nothing else is.

use crate::plot::Point;

/// A box that something takes up.
#[derive(Clone, Copy)]
pub(super) struct Room {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) right: f64,
    pub(super) bottom: f64,
}

/// Width of a letter and height above and below the line, as shares of a text's size: of wide fonts.
const LETTER: f64 = 0.6;
const ABOVE: f64 = 0.8;
const BELOW: f64 = 0.22;

impl Room {
    /// Around a point.
    pub(super) fn around([x, y]: Point, reach: f64) -> Room {
        Room {
            left: x - reach,
            top: y - reach,
            right: x + reach,
            bottom: y + reach,
        }
    }

    /// Of a text.
    pub(super) fn of_text(text: &str, size: f64, [x, y]: Point, anchor: &str) -> Room {
        let width = text.chars().count() as f64 * LETTER * size;
        let left = match anchor {
            "start" => x,
            "end" => x - width,
            _ => x - width / 2.0,
        };
        Room {
            left,
            top: y - ABOVE * size,
            right: left + width,
            bottom: y + BELOW * size,
        }
    }

    /// Its corners.
    pub(super) fn corners(self) -> [Point; 4] {
        [
            [self.left, self.top],
            [self.right, self.top],
            [self.left, self.bottom],
            [self.right, self.bottom],
        ]
    }

    /// Both.
    pub(super) fn with(self, other: Room) -> Room {
        Room {
            left: self.left.min(other.left),
            top: self.top.min(other.top),
            right: self.right.max(other.right),
            bottom: self.bottom.max(other.bottom),
        }
    }

    pub(super) fn area(self) -> f64 {
        (self.right - self.left) * (self.bottom - self.top)
    }

    /// Area of what both take up.
    pub(super) fn shared(self, other: Room) -> f64 {
        let wide = self.right.min(other.right) - self.left.max(other.left);
        let high = self.bottom.min(other.bottom) - self.top.max(other.top);
        wide.max(0.0) * high.max(0.0)
    }
}

/// What is taken up already.
pub(super) fn taken(all: &[Room], room: Room) -> f64 {
    all.iter().map(|known| room.shared(*known)).sum()
}

/// Where a name stands beside a mark: around it, near before far, where it covers least.
pub(super) fn beside(
    text: &str,
    size: f64,
    [x, y]: Point,
    all: &[Room],
    within: Room,
) -> (Point, &'static str, Room) {
    let middle = 0.36 * size;
    let mut best = ([x, y], "middle", f64::INFINITY, Room::around([x, y], 0.0));
    for reach in [26.0, 44.0, 70.0, 100.0] {
        let tries = [
            ([x - reach, y + middle], "end"),
            ([x + reach, y + middle], "start"),
            ([x, y - reach], "middle"),
            ([x, y + reach + 2.0 * middle], "middle"),
            ([x + 0.8 * reach, y - 0.6 * reach], "start"),
            ([x - 0.8 * reach, y - 0.6 * reach], "end"),
            ([x + 0.8 * reach, y + 0.6 * reach + 2.0 * middle], "start"),
            ([x - 0.8 * reach, y + 0.6 * reach + 2.0 * middle], "end"),
        ];
        for (at, anchor) in tries {
            let room = Room::of_text(text, size, at, anchor);
            let outside = room.area() - room.shared(within);
            // A name that is far from its mark is worse than one that touches a line.
            let cost = taken(all, room) + 2.0 * outside + 4.0 * reach;
            if cost < best.2 {
                best = (at, anchor, cost, room);
            }
        }
    }
    (best.0, best.1, best.3)
}
