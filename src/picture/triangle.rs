//! The texture triangle.

use super::pen::{Pen, through};
use super::{BLEND, GROUND, INK, LINE, MUTED, PAPER};
use crate::outcome::{Measure, Outcome, texture_path};
use crate::plot::{Point, TRIANGLE, axis_names, cloud, grid, region, ticks};
use crate::texture::REGIONS;
use crate::words::{Text, class_lines, fixed};

/// Half the side of the ground's square; the blend's circle is one larger.
const MARK: f64 = 6.0;
/// Height of a line of a class's name.
const LINE_HEIGHT: f64 = 12.5;

pub(super) fn draw(pen: &mut Pen, outcome: &Outcome) {
    regions(pen, outcome);
    edges(pen);
    names(pen, outcome);
    blend(pen, outcome);
}

/// A corner of a region as the classes' table has it.
fn point([clay, silt, sand]: [f64; 3]) -> Point {
    TRIANGLE.point([sand, silt, clay])
}

fn regions(pen: &mut Pen, outcome: &Outcome) {
    let here = outcome.texture.map(|texture| texture.class);
    for region in REGIONS {
        let corners: Vec<Point> = region.corners.iter().copied().map(point).collect();
        let look = if here == Some(region.class) {
            format!("fill=\"{BLEND}\" fill-opacity=\".12\" stroke=\"{BLEND}\" stroke-width=\"1.5\"")
        } else {
            format!("fill=\"none\" stroke=\"{LINE}\"")
        };
        pen.path(&look, &through(&corners, true));
    }
}

fn edges(pen: &mut Pen) {
    let frame = &TRIANGLE;
    let lines: String = grid(frame)
        .iter()
        .map(|ends| through(ends, false))
        .collect();
    pen.path(
        &format!("fill=\"none\" stroke=\"{LINE}\" stroke-width=\".5\" stroke-opacity=\".35\""),
        &lines,
    );
    pen.path(
        &format!("fill=\"none\" stroke=\"{INK}\" stroke-width=\"1.5\""),
        &through(&frame.corners(), true),
    );
    let look = format!("fill=\"{MUTED}\" font-size=\"11\"");
    for tick in ticks(frame) {
        let (at, anchor) = tick.label();
        pen.word(&look, anchor, at, &fixed(tick.share_pct, 0));
    }
    let corners = [Text::Clay, Text::Sand, Text::Silt];
    for (name, (at, anchor)) in corners.into_iter().zip(axis_names(frame)) {
        let text = [name.text(), " %"].concat();
        pen.word("font-weight=\"600\"", anchor, at, &text);
    }
}

/// The classes' names, each in the middle of its region on as many lines as that has room for.
fn names(pen: &mut Pen, outcome: &Outcome) {
    let here = outcome.texture.map(|texture| texture.class);
    for region in REGIONS {
        let [x, y] = point(region.label);
        let (first, second) = class_lines(region.class);
        let up = if second.is_some() {
            LINE_HEIGHT / 2.0
        } else {
            0.0
        };
        let look = if here == Some(region.class) {
            format!("fill=\"{INK}\" font-size=\"11.5\" font-weight=\"700\"")
        } else {
            format!("fill=\"{MUTED}\" font-size=\"11.5\"")
        };
        for (line, text) in [Some(first), second].into_iter().flatten().enumerate() {
            let at = [x, y + 4.0 - up + LINE_HEIGHT * line as f64];
            pen.word(&look, "middle", at, text);
        }
    }
}

/// The cloud of the draws, the way from the ground, and both points with their names.
fn blend(pen: &mut Pen, outcome: &Outcome) {
    let frame = &TRIANGLE;
    let column = |of: Measure| outcome.drawn.column(of);
    if outcome.texture.is_some() {
        let fractions = [Measure::Sand, Measure::Silt, Measure::Clay].map(column);
        let points = cloud(frame, fractions, outcome.drawn.weights());
        let dots: String = points
            .iter()
            .map(|dot| through(&[*dot], false) + "h0")
            .collect();
        pen.path(
            &format!(
                "fill=\"none\" stroke=\"{BLEND}\" stroke-width=\"2.8\" stroke-linecap=\"round\" \
                 stroke-opacity=\".22\""
            ),
            &dots,
        );
        pen.path(
            &format!("fill=\"none\" stroke=\"{BLEND}\""),
            &through(&region(frame, &points), true),
        );
    }
    let way: Vec<Point> = texture_path(&outcome.barrow)
        .iter()
        .map(|texture| frame.point(*texture))
        .collect();
    if way.len() > 1 {
        pen.path(
            &format!(
                "fill=\"none\" stroke=\"{BLEND}\" stroke-width=\"2.5\" stroke-linejoin=\"round\" \
                 stroke-linecap=\"round\" stroke-dasharray=\"1 5\""
            ),
            &through(&way, false),
        );
    }
    let halo = format!(
        "font-weight=\"700\" stroke=\"{PAPER}\" stroke-width=\"4\" stroke-linejoin=\"round\" \
         paint-order=\"stroke\""
    );
    let has_ground = outcome.barrow.ground_dry_kg > 0.0;
    if let Some(fractions) = outcome.ground.fractions_pct.filter(|_| has_ground) {
        let [x, y] = frame.point(fractions);
        let look = format!("fill=\"{PAPER}\" stroke=\"{GROUND}\" stroke-width=\"2.5\"");
        pen.rectangle(&look, [x - MARK, y - MARK], [2.0 * MARK; 2]);
        let look = format!("fill=\"{GROUND}\" {halo}");
        pen.word(&look, "start", [x + 11.0, y - 8.0], Text::YourGround.text());
    }
    if let Some(texture) = outcome.texture {
        let [x, y] = frame.point(texture.fractions_pct.map(|figure| figure.typical));
        let look = format!("fill=\"{BLEND}\" stroke=\"{PAPER}\" stroke-width=\"2\"");
        pen.circle(&look, [x, y], MARK + 1.0);
        let look = format!("fill=\"{BLEND}\" {halo}");
        pen.word(&look, "end", [x - 12.0, y + 4.0], Text::TheBlend.text());
    }
}
