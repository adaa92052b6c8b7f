//! The triangle of the lectern. It has as many units as there are pixels on a screen of 1080 rows,
//! whatever room it has, so a size here is the size there.

use super::labels::{Room, beside, taken};
use crate::outcome::{Measure, Outcome, texture_path};
use crate::plot::{Frame, Point, cloud, region, ticks};
use crate::shed::ink::Ink;
use crate::texture::{HEIGHT, REGIONS};
use crate::words::{Text, class_lines, fixed, label_of_lectern};

/// Room that numbers and names take: left and right, above, below.
const ASIDE: f64 = 92.0;
const ABOVE: f64 = 52.0;
const BELOW: f64 = 58.0;
/// Smallest side of a triangle that is drawn at all.
const LEAST_SIDE: f64 = 120.0;
/// Half the side of the ground's square; the other marks are a little larger.
pub(super) const MARK: f64 = 12.0;
/// Half the height of a line of text, so that it stands beside a point.
const HALF_TEXT: f64 = 10.0;
/// From a line of a class's name to the next.
const LINE: f64 = 30.0;
/// Sizes of the names of classes and of marks, as in the sheet of styles.
const CLASS_SIZE: f64 = 28.0;
const NAME_SIZE: f64 = 30.0;
/// Most of a class's name that something else may cover before it is left out.
const COVERED: f64 = 0.08;
/// How far a name may reach out of the box around its region, and of the triangle.
const OUT: f64 = 12.0;

/// What the audience thinks.
#[derive(Clone, Copy, Default)]
pub(super) struct Guess {
    pub(super) texture: Option<[f64; 3]>,
    pub(super) pores_pct: Option<f64>,
    /// Of the figure that is asked for.
    pub(super) figure: Option<f64>,
}

/// Where the triangle stands in the room that there is.
pub(super) fn frame([wide, high]: [f64; 2]) -> Frame {
    let side = (wide - 2.0 * ASIDE).min((high - ABOVE - BELOW) / HEIGHT);
    let side = side.max(LEAST_SIDE);
    Frame {
        left: (wide - side) / 2.0,
        top: ABOVE,
        side,
    }
}

/// A name that waits for its place.
struct Name {
    lines: Vec<(Point, &'static str)>,
    room: Room,
    class: &'static str,
}

/// The triangle with what may be seen, in a room of this size.
pub(super) fn triangle(outcome: &Outcome, guess: Guess, hidden: bool, size: [f64; 2]) -> String {
    let mut ink = Ink(String::with_capacity(24_000));
    let frame = &frame(size);
    let seen = outcome.texture.filter(|_| !hidden);
    let here = seen.map(|texture| texture.class);
    let has_ground = outcome.barrow.ground_dry_kg > 0.0;
    let before = outcome.ground.class.filter(|_| has_ground);
    let point = |[clay, silt, sand]: [f64; 3]| frame.point([sand, silt, clay]);
    for area in REGIONS {
        let corners: Vec<Point> = area.corners.iter().copied().map(point).collect();
        let class = if here == Some(area.class) {
            "region here"
        } else {
            "region"
        };
        ink.path(class, &corners, true);
    }
    ink.path("edge", &frame.corners(), true);
    let mut rooms = edges(&mut ink, frame);
    if seen.is_some() {
        let fractions = [Measure::Sand, Measure::Silt, Measure::Clay];
        let fractions = fractions.map(|of| outcome.drawn.column(of));
        let points = cloud(frame, fractions, outcome.drawn.weights());
        ink.dots("cloud", &points, 6.0);
        ink.path("held", &region(frame, &points), true);
        let way: Vec<Point> = texture_path(&outcome.barrow)
            .into_iter()
            .map(|texture| frame.point(texture))
            .collect();
        ink.path("path", &way, false);
    }
    let ground = outcome.ground.fractions_pct.filter(|_| has_ground);
    let marks = [
        ground.map(|texture| (frame.point(texture), "of-ground", "ground")),
        seen.map(|texture| {
            let typical = texture.fractions_pct.map(|figure| figure.typical);
            (frame.point(typical), "of-blend", "blend")
        }),
        guess
            .texture
            .map(|texture| (frame.point(texture), "of-guess", "your_guess")),
    ];
    for (at, class, _) in marks.into_iter().flatten() {
        match class {
            "of-ground" => ink.square("ground-square", at, MARK),
            "of-blend" => ink.circle("blend-dot", at, MARK + 2.0),
            _ => diamond(&mut ink, at),
        }
        rooms.push(Room::around(at, 1.6 * MARK));
    }
    // Names stand above the marks' halos: first those that matter, then those for which there is room.
    let mut areas: Vec<_> = REGIONS.iter().collect();
    areas.sort_by_key(|area| here != Some(area.class) && before != Some(area.class));
    for area in areas {
        let matters = here == Some(area.class) || before == Some(area.class);
        let corners: Vec<Point> = area.corners.iter().copied().map(point).collect();
        if let Some(name) = name_of(
            area.class,
            point(area.label),
            &corners,
            matters,
            &rooms,
            frame,
        ) {
            for (at, text) in &name.lines {
                ink.text(name.class, *at, "middle", text);
            }
            rooms.push(name.room);
        }
    }
    let all = Room {
        left: 0.0,
        top: 0.0,
        right: size[0],
        bottom: size[1],
    };
    for (at, class, name) in marks.into_iter().flatten() {
        let text = label_of_lectern(name);
        let (at, anchor, room) = beside(text, NAME_SIZE, at, &rooms, all);
        ink.text(class, at, anchor, text);
        rooms.push(room);
    }
    ink.0
}

/// Numbers and names along the edges, and what they take up.
fn edges(ink: &mut Ink, frame: &Frame) -> Vec<Room> {
    let mut rooms = Vec::new();
    for tick in ticks(frame) {
        let [x, y] = tick.at;
        let (ends, at, anchor) = match tick.axis {
            0 => ([x, y + 10.0], [x, y + 40.0], "middle"),
            1 => ([x + 10.0, y], [x + 16.0, y + HALF_TEXT], "start"),
            _ => ([x - 10.0, y], [x - 16.0, y + HALF_TEXT], "end"),
        };
        let text = fixed(tick.share_pct, 0);
        ink.line("edge", tick.at, ends);
        ink.text("tick", at, anchor, &text);
        rooms.push(Room::of_text(&text, CLASS_SIZE, at, anchor));
    }
    let [top, left, right] = frame.corners();
    for (name, at, anchor) in [
        (Text::Clay, [top[0], top[1] - 14.0], "middle"),
        (Text::Sand, [left[0] - 88.0, left[1] + 44.0], "start"),
        (Text::Silt, [right[0] + 88.0, right[1] + 44.0], "end"),
    ] {
        let text = [name.text(), " %"].concat();
        ink.text("axis", at, anchor, &text);
        rooms.push(Room::of_text(&text, 32.0, at, anchor));
    }
    rooms
}

/// A class's name where it covers least, a little off its place if need be. One that is neither the
/// ground's nor the blend's is left out where there is no room.
fn name_of(
    class: crate::texture::Class,
    [x, y]: Point,
    corners: &[Point],
    matters: bool,
    rooms: &[Room],
    frame: &Frame,
) -> Option<Name> {
    let (first, second) = class_lines(class);
    let texts: Vec<&'static str> = [Some(first), second].into_iter().flatten().collect();
    let up = LINE / 2.0 * (texts.len() - 1) as f64;
    let mut best: Option<(Name, f64)> = None;
    for [dx, dy] in OFFSETS {
        let lines: Vec<(Point, &'static str)> = texts
            .iter()
            .enumerate()
            .map(|(line, text)| {
                let at = [x + dx, y + dy + HALF_TEXT - up + LINE * line as f64];
                (at, *text)
            })
            .collect();
        let room = lines
            .iter()
            .map(|(at, text)| Room::of_text(text, CLASS_SIZE, *at, "middle"))
            .reduce(Room::with)?;
        let cost = taken(rooms, room) + 3.0 * (dx.abs() + dy.abs());
        if best.as_ref().is_none_or(|(_, least)| cost < *least) {
            let class = if matters {
                "class-name here"
            } else {
                "class-name"
            };
            best = Some((Name { lines, room, class }, cost));
        }
    }
    let (name, _) = best?;
    let own = corners
        .iter()
        .map(|at| Room::around(*at, OUT))
        .reduce(Room::with)?;
    let outside = name.room.area() - name.room.shared(own);
    // A point outside has the texture of the nearest one inside.
    let inside = name.room.corners().into_iter().all(|corner| {
        let [x, y] = frame.point(frame.fractions_pct(corner));
        (x - corner[0]).abs().max((y - corner[1]).abs()) < OUT
    });
    let fits = inside && taken(rooms, name.room) + outside <= COVERED * name.room.area();
    (matters || fits).then_some(name)
}

/// How far a class's name may be moved off its place.
const OFFSETS: [[f64; 2]; 9] = [
    [0.0, 0.0],
    [0.0, -22.0],
    [0.0, 22.0],
    [0.0, -44.0],
    [0.0, 44.0],
    [-34.0, 0.0],
    [34.0, 0.0],
    [-64.0, 0.0],
    [64.0, 0.0],
];

/// The mark of a guess.
pub(super) fn diamond(ink: &mut Ink, [x, y]: Point) {
    let reach = 1.6 * MARK;
    let corners = [
        [x, y - reach],
        [x + reach, y],
        [x, y + reach],
        [x - reach, y],
    ];
    ink.path("guess-mark", &corners, true);
}
