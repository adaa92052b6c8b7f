//! The triangle of a system. It has as many units as it has pixels, so that its text has the size
//! that the sheet of styles says.

use super::SYSTEMS;
use crate::dom::set;
use crate::plot::{Frame, Point, axis_names, cloud, grid, name_spot, region, ticks};
use crate::recipe::number_text;
use crate::shed::ink::Ink;
use crate::texture::{DrawnIn, HEIGHT, Placed, System, SystemClass};
use crate::words::{Text, fixed, system_class_name};

/// Height over width, as the sheet of styles has it.
const TALL: f64 = 7.0 / 8.0;
/// Room for numbers and names: left and right, above.
const ASIDE: f64 = 42.0;
const ABOVE: f64 = 26.0;
/// Width of a letter and height of a line of a class's name, px: of wide fonts at .75rem.
const LETTER: f64 = 6.9;
const LINE: f64 = 13.5;
/// Half the size of the marks.
const MARK: f64 = 5.5;

#[derive(Default)]
pub(super) struct Drawing {
    width: f64,
    drawn: String,
}

impl Drawing {
    /// Looks how wide it is; gives whether that changed.
    pub(super) fn measure(&mut self) -> bool {
        let width = f64::from(SYSTEMS.part("triangle").client_width().max(240));
        let changed = width != self.width;
        self.width = width;
        changed
    }

    pub(super) fn draw(
        &mut self,
        system: System,
        [ground, blend]: [Option<&Placed>; 2],
        drawn: &DrawnIn,
        weights: &[f64],
    ) {
        let side = (self.width - 2.0 * ASIDE).min((TALL * self.width - 2.0 * ABOVE) / HEIGHT);
        let frame = Frame {
            left: (self.width - side) / 2.0,
            top: ABOVE,
            side,
        };
        let mut ink = Ink(String::with_capacity(30_000));
        for [from, to] in grid(&frame) {
            ink.line("grid", from, to);
        }
        let is_of = |placed: Option<&Placed>, class: &SystemClass| {
            placed.is_some_and(|placed| placed.class.id == class.id)
        };
        let regions: Vec<(&SystemClass, Vec<Point>)> = system
            .classes()
            .iter()
            .map(|class| {
                let point = |[clay, silt, sand]: &[f64; 3]| frame.point([*sand, *silt, *clay]);
                (class, class.corners.iter().map(point).collect())
            })
            .collect();
        // The blend's region last, so that its edge lies over those of others.
        for here in [false, true] {
            for (class, corners) in &regions {
                if is_of(blend, class) == here {
                    let look = if here { "region here" } else { "region" };
                    ink.path(look, corners, true);
                }
            }
        }
        ink.path("edge", &frame.corners(), true);
        axes(&mut ink, &frame);
        for (at, (class, corners)) in regions.iter().enumerate() {
            let look = if is_of(blend, class) || is_of(ground, class) {
                "class-name here"
            } else {
                "class-name"
            };
            name(&mut ink, look, corners, system_class_name(class), at + 1);
        }
        let [sand, silt, clay] = &drawn.columns;
        let points = cloud(&frame, [sand, silt, clay], weights);
        ink.dots("cloud", &points, 3.5);
        ink.path("held", &region(&frame, &points), true);
        if let Some(blend) = blend {
            let [_, silt, clay] = blend.converted.fractions_pct;
            let doubt = blend.converted.doubt_pct;
            let [least, most] = [silt - doubt, silt + doubt]
                .map(|silt| silt.max(0.0).min(100.0 - clay))
                .map(|silt| frame.point([100.0 - clay - silt, silt, clay]));
            ink.line("spread", least, most);
        }
        if let Some(ground) = ground {
            let at = frame.point(ground.converted.fractions_pct);
            ink.square("ground-square", at, MARK);
        }
        if let Some(blend) = blend {
            let at = frame.point(blend.converted.fractions_pct);
            ink.circle("blend-dot", at, MARK + 0.5);
        }
        self.put(ink);
    }

    fn put(&mut self, ink: Ink) {
        if self.drawn == ink.0 {
            return;
        }
        let place = SYSTEMS.part("triangle");
        let [wide, high] = [self.width, TALL * self.width].map(number_text);
        set(&place, "viewBox", &["0 0 ", &wide, " ", &high].concat());
        place.set_inner_html(&ink.0);
        self.drawn = ink.0;
    }
}

fn axes(ink: &mut Ink, frame: &Frame) {
    for tick in ticks(frame) {
        let (at, anchor) = tick.label();
        ink.text("tick", at, anchor, &fixed(tick.share_pct, 0));
    }
    let names = [Text::Clay, Text::Sand, Text::Silt];
    for (name, (at, anchor)) in names.into_iter().zip(axis_names(frame)) {
        ink.text("axis", at, anchor, &[name.text(), " %"].concat());
    }
}

/// A class's name inside its region, in up to three lines; else its number in the table; else
/// nothing.
fn name(ink: &mut Ink, look: &str, corners: &[Point], name: &str, number: usize) {
    let mut ways: Vec<Vec<String>> = (1..=3).filter_map(|lines| broken(name, lines)).collect();
    ways.push(vec![number.to_string()]);
    let boxes: Vec<[f64; 2]> = ways
        .iter()
        .map(|lines| {
            let letters = lines.iter().map(|line| line.chars().count()).max();
            let wide = letters.unwrap_or(0) as f64 * LETTER;
            [wide, lines.len() as f64 * LINE]
        })
        .collect();
    let Some((which, [x, y])) = name_spot(corners, &boxes) else {
        return;
    };
    let lines = &ways[which];
    for (at, line) in lines.iter().enumerate() {
        let down = at as f64 - (lines.len() as f64 - 1.0) / 2.0;
        ink.text(look, [x, y + down * LINE + 4.2], "middle", line);
    }
}

/// A name in so many lines, the longest of them as short as can be; none where it has fewer words.
fn broken(name: &str, lines: usize) -> Option<Vec<String>> {
    let words: Vec<&str> = name.split_inclusive([' ', '-']).collect();
    let join = |words: &[&str]| words.concat().trim_end().to_owned();
    let longest = |lines: &[String]| lines.iter().map(|line| line.chars().count()).max();
    match lines {
        1 => Some(vec![name.to_owned()]),
        2 => (1..words.len())
            .map(|at| vec![join(&words[..at]), join(&words[at..])])
            .min_by_key(|lines| longest(lines)),
        _ if words.len() == 3 => Some(words.iter().map(|word| join(&[word])).collect()),
        _ => None,
    }
}
