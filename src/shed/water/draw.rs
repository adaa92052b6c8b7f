//! The drawings of the section: the pot in section, the curve, the densities.

use super::part;
use crate::dom::{Element, make, set, set_hidden};
use crate::figure::Figure;
use crate::outcome::{Home, Outcome, Profile, Watered};
use crate::plot::{CURVE_CM, CurveFrame, DOT_RADIUS, Point, PotFrame, curve_top_pct, ruler};
use crate::shed::ink::Ink;
use crate::water::pot::Pot;
use crate::water::retention::{FIELD_CM, Store, WILTING_CM};
use crate::water::roots::Roots;
use crate::words::{
    DRAWN, ROOTS_DRAWN, ROOTS_ROWS, Speech, Units, air_mark, fixed, known_heights, length_unit,
    percent, pot_mark, profile_names, wet_mark,
};

/// Height of the curve in ems, as `style.css` has it.
const CURVE_EM: f64 = 20.0;
/// Layers of a pot's water.
const LAYERS: usize = 24;
/// The ground's depth below a bed that is drawn, over the bed's height.
const BELOW: f64 = 0.16;
/// Densities drawn, kg/m3: of soils, and of what is far lighter.
const DENSITIES: [(f64, f64); 2] = [(800.0, 1900.0), (0.0, 1900.0)];
const CM_PER_M: f64 = 100.0;
const INCH_CM: f64 = 2.54;

/// A drawing's size on the page.
#[derive(Clone, Copy, Default, PartialEq)]
struct Size {
    width: f64,
    height: f64,
    em: f64,
}

/// The drawings: how large they are, and what stands in each.
#[derive(Default)]
pub(super) struct Drawing {
    sizes: [Size; 3],
    drawn: [String; 3],
}

impl Drawing {
    /// Looks how large the drawings are; gives whether any has changed.
    pub(super) fn measure(&mut self) -> bool {
        let [pot, curve, roots] = ["pot", "curve", "roots"].map(|name| {
            let place = part(name);
            [place.client_width().max(240), place.client_height().max(60)].map(f64::from)
        });
        // The curve is so many ems high on every screen.
        let [_, high] = curve;
        let sizes = [pot, curve, roots].map(|[width, height]| Size {
            width,
            height,
            em: high / CURVE_EM,
        });
        let changed = sizes != self.sizes;
        self.sizes = sizes;
        changed
    }

    pub(super) fn draw(
        &mut self,
        watered: &Watered,
        outcome: &Outcome,
        roots: Option<&Roots>,
        speech: Speech,
        with_ranges: bool,
    ) {
        let [pot, curve, dense] = self.sizes;
        self.put(0, "pot", draw_pot(pot, watered, outcome, speech));
        self.put(1, "curve", draw_curve(curve, watered, speech));
        write_rows(watered, speech);
        write_roots(outcome, roots, speech);
        // While a slider moves the range is another recipe's.
        let density = outcome.bulk_density_kg_m3.settled;
        let density = if with_ranges {
            density
        } else {
            Figure::exact(density.typical)
        };
        self.put(
            2,
            "roots",
            draw_roots(dense, density, outcome, roots, speech),
        );
    }

    fn put(&mut self, at: usize, name: &str, ink: Ink) {
        if self.drawn[at] == ink.0 {
            return;
        }
        let size = self.sizes[at];
        let place = part(name);
        let view = [
            "0 0 ",
            &crate::words::written(size.width, 0),
            " ",
            &crate::words::written(size.height, 0),
        ];
        set(&place, "viewBox", &view.concat());
        place.set_inner_html(&ink.0);
        self.drawn[at] = ink.0;
    }
}

/// A length as a ruler counts it, in cm.
fn ruler_unit_cm(speech: Speech) -> f64 {
    match speech.units {
        Units::Metric => 1.0,
        Units::Us => INCH_CM,
    }
}

/// Widths of the mix at bottom and top, cm, where both are told.
fn widths_cm(pot: &Pot) -> Option<[f64; 2]> {
    // Untold ones are 1 and 1.
    (pot.top_width != 1.0 || pot.bottom_width != 1.0)
        .then(|| [pot.bottom_width, pot.top_width].map(|width| width * CM_PER_M))
}

fn draw_pot(size: Size, watered: &Watered, outcome: &Outcome, speech: Speech) -> Ink {
    let mut ink = Ink(String::with_capacity(16_000));
    let em = size.em;
    let (pot, is_bed) = match watered.home {
        Home::Pot(pot) => (Some(pot), false),
        Home::Bed(depth_cm) => (Some(Pot::straight(depth_cm.unwrap_or(25.0))), true),
        _ => (None, false),
    };
    let (left, top) = (2.4 * em, 3.6 * em);
    let below = if is_bed {
        BELOW * size.height
    } else {
        0.8 * em
    };
    let gap = 1.6 * em;
    let soils = [
        (
            if is_bed { watered.lying } else { watered.dug },
            "of-ground",
        ),
        (Some(watered.blend), "of-blend"),
    ];
    let count = soils.iter().filter(|(soil, _)| soil.is_some()).count() as f64;
    let each = (size.width - left - gap * (count - 1.0) - 0.4 * em) / count;
    let height = size.height - top - below;
    let mut x = left;
    let names = profile_names(watered.home);
    for ((soil, class), name) in soils.into_iter().zip(names) {
        let Some(soil) = soil else { continue };
        let shape = pot.unwrap_or(Pot::straight(20.0));
        let widths = match (pot, is_bed) {
            (Some(pot), false) => widths_cm(&pot),
            (Some(pot), true) => Some([pot.height_cm * 1.5; 2]),
            _ => None,
        };
        let frame = PotFrame::fit(shape.height_cm, widths, [x, top], [each, height]);
        let is_blend = class == "of-blend";
        let middle = frame.middle;
        let over = frame.y(shape.height_cm);
        ink.text(class, [middle, over - 2.6 * em], "middle", name);
        if pot.is_none() {
            let [a, b, c, d] = frame.layer(0.0, shape.height_cm);
            ink.path("ghost", &[b, a, d, c], false);
            x += each + gap;
            continue;
        }
        let air = match (watered.home, is_blend, &outcome.container) {
            (Home::Pot(_), true, Some(container)) => container.air_pct.typical,
            (Home::Pot(pot), false, _) => soil.in_pot_pct(&pot)[1],
            _ => 100.0 * soil.water.air(),
        };
        ink.text("large", [middle, over - 1.1 * em], "middle", &air_mark(air));
        profile(&mut ink, &frame, &soil, is_bed);
        let [low_left, top_left, top_right, low_right] = frame.layer(0.0, shape.height_cm);
        if is_bed {
            let bottom = frame.bottom;
            let deep = [
                [low_left[0], bottom],
                [low_left[0], bottom + 1.5 * em],
                [low_right[0], bottom + 1.5 * em],
                [low_right[0], bottom],
            ];
            ink.path("below", &deep, true);
            ink.line("surface", top_left, top_right);
            ink.line("soil-edge", low_left, low_right);
            for share in [-0.6, 0.0, 0.6] {
                let at = middle + share * frame.halves[0];
                let (from, to) = (bottom - 0.5 * em, bottom + 1.0 * em);
                ink.line("runs", [at, from], [at, to]);
                ink.path(
                    "runs",
                    &[
                        [at - 0.3 * em, to - 0.4 * em],
                        [at, to],
                        [at + 0.3 * em, to - 0.4 * em],
                    ],
                    false,
                );
            }
            if is_blend {
                ink.text(
                    "tick",
                    [size.width - 0.4 * em, size.height - 0.2 * em],
                    "end",
                    DRAWN[7].text(),
                );
            }
        } else {
            let rim = 0.5 * em;
            let up = |[x, y]: Point| [x, y - rim];
            ink.path("wall", &[up(top_left), low_left], false);
            ink.path("wall", &[up(top_right), low_right], false);
            ink.line("wall holes", low_left, low_right);
            ink.line("surface", top_left, top_right);
            let wet_cm = soil.wet_layer_cm(&shape);
            let mark = wet_mark(wet_cm, shape.height_cm, speech);
            if !mark.is_empty() {
                let [_, wet_left, wet_right, _] = frame.layer(0.0, wet_cm);
                ink.line("wet-line", wet_left, wet_right);
                let y = (frame.y(wet_cm) - 0.4 * em).max(frame.y(shape.height_cm) + 1.4 * em);
                ink.text("haloed", [middle, y], "middle", &mark);
            }
        }
        if x == left {
            scale(&mut ink, &frame, left, em, speech);
        }
        x += each + gap;
    }
    ink
}

/// Water and air of a soil by height.
fn profile(ink: &mut Ink, frame: &PotFrame, soil: &Profile, is_bed: bool) {
    let high = frame.height_cm;
    let fillable = soil.water.fillable.max(1e-9);
    let air_at = |cm: f64| {
        if is_bed {
            soil.water.air()
        } else {
            soil.air_at(cm)
        }
    };
    let count = if is_bed { 1 } else { LAYERS };
    for layer in 0..count {
        let share = |at: usize| high * at as f64 / count as f64;
        let (from, to) = (share(layer), share(layer + 1));
        let full = 1.0 - air_at(0.5 * (from + to)) / fillable;
        let points = frame.layer(from, to);
        ink.open("path", "soak");
        ink.opacity(0.1 + 0.7 * full * full);
        ink.0 += " d=\"M";
        for (index, point) in points.iter().enumerate() {
            if index > 0 {
                ink.0 += "L";
            }
            ink.point(*point);
        }
        ink.0 += "Z\"/>";
    }
    let dots = frame.dots(air_at);
    ink.dots("dots rim", &dots, 2.0 * DOT_RADIUS);
    ink.dots("dots", &dots, 2.0 * DOT_RADIUS - 2.0);
}

/// The ruler at the left.
fn scale(ink: &mut Ink, frame: &PotFrame, left: f64, em: f64, speech: Speech) {
    let unit = ruler_unit_cm(speech);
    let x = left - 0.6 * em;
    ink.line("ruler", [x, frame.bottom], [x, frame.y(frame.height_cm)]);
    for mark in ruler(frame.height_cm / unit) {
        let y = frame.y(mark * unit);
        ink.line("ruler", [x - 0.3 * em, y], [x, y]);
        let text = crate::words::shown(mark);
        ink.text("tick", [x - 0.5 * em, y + 0.3 * em], "end", &text);
    }
    let over = frame.y(frame.height_cm) - 1.1 * em;
    ink.text(
        "tick",
        [x - 0.5 * em, over],
        "end",
        length_unit(speech).spelling(),
    );
}

fn draw_curve(size: Size, watered: &Watered, speech: Speech) -> Ink {
    let mut ink = Ink(String::with_capacity(12_000));
    let em = size.em;
    let soils = [watered.lying, Some(watered.blend)];
    let pores = |soil: &Profile| 100.0 * soil.water.fillable;
    let tops: Vec<f64> = soils.iter().flatten().map(pores).collect();
    let frame = CurveFrame {
        left: 2.6 * em,
        top: 3.4 * em,
        width: size.width - 3.2 * em,
        height: size.height - 6.4 * em,
        most_pct: curve_top_pct(&tops),
    };
    let (left, right) = (frame.left, frame.left + frame.width);
    let bottom = frame.top + frame.height;
    ink.0 += "<defs><pattern id=\"hatch-locked\" width=\"5\" height=\"5\" patternUnits=\"userSpaceOnUse\"><path class=\"hatch locked\" d=\"M-1 1 1-1M0 5 5 0M4 6 6 4\"/></pattern>\
        <pattern id=\"dots-air\" width=\"9\" height=\"9\" patternUnits=\"userSpaceOnUse\"><circle class=\"dot-air\" cx=\"2.2\" cy=\"2.2\" r=\"1.1\"/><circle class=\"dot-air\" cx=\"6.7\" cy=\"6.7\" r=\"1.1\"/></pattern></defs>";
    let blend = &watered.blend;
    let line = frame.line(&blend.store);
    let full_y = frame.y(pores(blend));
    let field = 100.0 * blend.water.field_capacity;
    let wilting = 100.0 * blend.water.wilting_point;
    // Air above the curve, water below it, and what plants leave at the bottom.
    let mut air = line.clone();
    air.extend([[right, full_y], [left, full_y]]);
    ink.path("curve-air", &air, true);
    let mut water = line.clone();
    water.extend([[right, bottom], [left, bottom]]);
    ink.path("curve-water", &water, true);
    let locked = frame.y(wilting);
    let floor = [
        [left, locked],
        [right, locked],
        [right, bottom],
        [left, bottom],
    ];
    ink.path("curve-locked", &floor, true);
    let mut pct = 0.0;
    while pct <= frame.most_pct {
        let y = frame.y(pct);
        ink.line("grid", [left, y], [right, y]);
        let text = if pct >= frame.most_pct {
            percent(pct)
        } else {
            fixed(pct, 0)
        };
        let x = left - 0.5 * em;
        ink.text("tick", [x, y + 0.3 * em], "end", &text);
        pct += 20.0;
    }
    // The two points, and the pot.
    let [(field_x, _), (dry_x, _)] = [(frame.x(FIELD_CM), ()), (frame.x(WILTING_CM), ())];
    ink.line(
        "station",
        [field_x, frame.top - 0.4 * em],
        [field_x, bottom],
    );
    ink.line("station", [dry_x, frame.top - 1.8 * em], [dry_x, bottom]);
    ink.text(
        "tick",
        [field_x, frame.top - 0.8 * em],
        "middle",
        DRAWN[2].text(),
    );
    ink.text(
        "tick",
        [dry_x + 0.3 * em, frame.top - 2.2 * em],
        "end",
        DRAWN[3].text(),
    );
    if let Home::Pot(pot) = watered.home {
        let x = frame.x(pot.height_cm);
        let y = frame.top - 1.8 * em;
        ink.line("reach", [left, y], [x, y]);
        ink.line("reach", [x, y], [x, bottom]);
        ink.text(
            "strong",
            [left, y - 0.5 * em],
            "start",
            &pot_mark(pot.height_cm, speech),
        );
    }
    ink.line("full-line", [left, full_y], [right, full_y]);
    if let Some(ground) = &watered.lying {
        ink.path("curve-line of-ground", &frame.line(&ground.store), false);
    }
    ink.path("curve-line of-blend", &line, false);
    ink.line("edge", [left, bottom], [right, bottom]);
    // What the areas are.
    let bracket_x = field_x;
    ink.line(
        "bracket",
        [bracket_x, frame.y(field)],
        [bracket_x, frame.y(wilting)],
    );
    let middle_y = 0.5 * (frame.y(field) + frame.y(wilting)) + 0.35 * em;
    let takes = [DRAWN[5].text(), " ", &percent(field - wilting)].concat();
    ink.text("haloed", [bracket_x - 0.6 * em, middle_y], "end", &takes);
    let leaves = [DRAWN[6].text(), " ", &percent(wilting)].concat();
    ink.text(
        "haloed",
        [bracket_x - 0.6 * em, 0.5 * (locked + bottom) + 0.35 * em],
        "end",
        &leaves,
    );
    let air_y = 0.5 * (full_y + frame.y(0.5 * (field + wilting))) + 0.35 * em;
    let air_x = 0.5 * (bracket_x + dry_x) + 0.4 * em;
    ink.text("haloed", [air_x, air_y], "middle", DRAWN[4].text());
    for (cm, share) in [(FIELD_CM, field), (WILTING_CM, wilting)] {
        ink.circle("blend-dot", [frame.x(cm), frame.y(share)], 5.0);
    }
    name_lines(&mut ink, &frame, watered, em);
    for (cm, word, length) in known_heights(speech) {
        let x = frame.x(cm);
        ink.line("ruler", [x, bottom], [x, bottom + 0.4 * em]);
        let (x, anchor) = if cm < 2.0 {
            (left - 0.2 * em, "start")
        } else {
            (x, "middle")
        };
        ink.text("tick", [x, bottom + 1.4 * em], anchor, word);
        ink.text("tick", [x, bottom + 2.6 * em], anchor, length);
    }
    ink
}

/// Names at the two lines, where they are farthest apart.
fn name_lines(ink: &mut Ink, frame: &CurveFrame, watered: &Watered, em: f64) {
    let (least, _) = CURVE_CM;
    let at = |store: &Store, cm: f64| frame.y(100.0 * store.theta_at(cm));
    let ground = watered.lying.map(|ground| ground.store);
    // Left of where water stopped draining, and right of the axis.
    let mut best = (0.0, least * 12.0);
    if let Some(ground) = &ground {
        for step in 0..8 {
            let cm = least * [4.0, 6.0, 9.0, 14.0, 22.0, 35.0, 55.0, 80.0][step];
            let apart = (at(ground, cm) - at(&watered.blend.store, cm)).abs();
            if apart > best.0 + 0.5 {
                best = (apart, cm);
            }
        }
    }
    let (_, cm) = best;
    let x = frame.x(cm);
    let blend_y = at(&watered.blend.store, cm);
    let ground_y = ground.as_ref().map(|ground| at(ground, cm));
    let over = |y: f64| y - 0.7 * em;
    let under = |y: f64| y + 1.4 * em;
    let blend_is_upper = ground_y.is_none_or(|ground| blend_y <= ground);
    let y = if blend_is_upper {
        over(blend_y)
    } else {
        under(blend_y)
    };
    ink.text("of-blend haloed", [x, y], "middle", DRAWN[0].text());
    if let Some(ground_y) = ground_y {
        let y = if blend_is_upper {
            under(ground_y)
        } else {
            over(ground_y)
        };
        ink.text("of-ground haloed", [x, y], "middle", DRAWN[1].text());
    }
}

/// The curve in numbers.
fn write_rows(watered: &Watered, speech: Speech) {
    let list = part("curve-rows");
    let mut heights: Vec<(String, f64)> = known_heights(speech)
        .into_iter()
        .map(|(cm, word, length)| ([word, ", ", length].concat(), cm))
        .collect();
    if let Home::Pot(pot) = watered.home {
        heights.push((pot_mark(pot.height_cm, speech), pot.height_cm));
    }
    heights.push((DRAWN[2].text().to_owned(), FIELD_CM));
    heights.push((DRAWN[3].text().to_owned(), WILTING_CM));
    heights.sort_by(|one, other| one.1.total_cmp(&other.1));
    let rows = list.query_selector_all("tr");
    for extra in rows.iter().skip(heights.len()) {
        extra.remove();
    }
    for (index, (name, cm)) in heights.iter().enumerate() {
        let row: Element = match rows.get(index) {
            Some(row) => row.clone(),
            None => {
                let row = make("tr");
                set(&super::form::put(&row, "th", ""), "scope", "row");
                super::form::put(&row, "td", "");
                super::form::put(&row, "td", "");
                list.append_child(&row);
                row
            }
        };
        let told = |soil: Option<Profile>| {
            soil.map_or(String::new(), |soil| {
                percent(100.0 * soil.store.theta_at(*cm))
            })
        };
        let cells = row.query_selector_all("th, td");
        let texts = [name.clone(), told(watered.lying), told(Some(watered.blend))];
        for (cell, text) in cells.iter().zip(&texts) {
            super::put(cell, text);
        }
    }
}

/// The densities in numbers.
fn write_roots(outcome: &Outcome, roots: Option<&Roots>, speech: Speech) {
    set_hidden(&part("roots-all"), roots.is_none());
    let Some(roots) = roots else {
        return;
    };
    super::put(&part("roots-unit"), speech.units.density_unit());
    let has_ground = outcome.barrow.ground_dry_kg > 0.0;
    let lying = outcome.ground.lying_density_kg_m3.typical;
    let values = [
        Some(outcome.bulk_density_kg_m3.settled.typical),
        has_ground.then_some(lying),
        Some(roots.affected_kg_m3[0].min(roots.restricted_kg_m3[0])),
        Some(roots.restricted_kg_m3[0]),
    ];
    let list = part("roots-rows");
    if list.query_selector("tr").is_none() {
        for name in ROOTS_ROWS {
            let row = super::form::put(&list, "tr", "");
            set(&super::form::put(&row, "th", name.text()), "scope", "row");
            super::form::put(&row, "td", "");
        }
    }
    for (row, value) in list.query_selector_all("tr").iter().zip(values) {
        set_hidden(row, value.is_none());
        if let (Some(cell), Some(value)) = (row.query_selector("td"), value) {
            super::put(&cell, &number(value, speech));
        }
    }
}

fn draw_roots(
    size: Size,
    density: Figure,
    outcome: &Outcome,
    roots: Option<&Roots>,
    speech: Speech,
) -> Ink {
    let mut ink = Ink(String::with_capacity(3000));
    let em = size.em;
    let [soils, light] = DENSITIES;
    let (least, most) = if density.typical < soils.0 {
        light
    } else {
        soils
    };
    let (left, right) = (0.4 * em, size.width - 0.4 * em);
    let x = |kg_m3: f64| {
        let share = (kg_m3.max(least).min(most) - least) / (most - least);
        left + share * (right - left)
    };
    // No label is cut at an edge.
    let held = |x: f64| x.max(left + 4.0 * em).min(right - 4.0 * em);
    let y = 3.2 * em;
    let half = 0.55 * em;
    if let Some(roots) = roots {
        let [trouble, stopped] = roots.band_kg_m3();
        let band = |from: f64, to: f64| {
            [
                [x(from), y - half],
                [x(to), y - half],
                [x(to), y + half],
                [x(from), y + half],
            ]
        };
        ink.path("easy", &band(least, roots.ideal_kg_m3), true);
        ink.path("differ", &band(trouble, stopped), true);
        ink.path("stopped", &band(stopped, most), true);
        for (from, to, name) in [
            (least, roots.ideal_kg_m3, ROOTS_DRAWN[0].text()),
            (trouble, stopped, ROOTS_DRAWN[1].text()),
            (stopped, most, ROOTS_DRAWN[2].text()),
        ] {
            let middle = 0.5 * (x(from) + x(to));
            let held = middle.max(left + 2.0 * em).min(right - 2.4 * em);
            let row = if name == ROOTS_DRAWN[1].text() {
                2.4
            } else {
                1.2
            };
            ink.text("tick", [held, y + half + row * em], "middle", name);
        }
    }
    ink.line("edge", [left, y], [right, y]);
    if outcome.barrow.ground_dry_kg > 0.0 {
        let lying = outcome.ground.lying_density_kg_m3.typical;
        ink.square("ground-square", [x(lying), y], 5.0);
        let text = [DRAWN[1].text(), " ", &number(lying, speech)].concat();
        ink.text("of-ground", [held(x(lying)), y - 2.2 * em], "middle", &text);
        ink.line("lead", [x(lying), y - 2.0 * em], [x(lying), y - 7.0]);
    }
    if let Some(ends) = density.ends {
        ink.line("spread", [x(ends.low), y], [x(ends.high), y]);
    }
    ink.circle("blend-dot", [x(density.typical), y], 6.0);
    let text = [DRAWN[0].text(), " ", &number(density.typical, speech)].concat();
    let at = [held(x(density.typical)), y - 1.0 * em];
    ink.text("of-blend haloed", at, "middle", &text);
    ink
}

fn number(kg_m3: f64, speech: Speech) -> String {
    fixed(speech.units.density(kg_m3), speech.units.density_decimals())
}
