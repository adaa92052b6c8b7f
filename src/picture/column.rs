//! The pore column with its key.

use super::pen::{Pen, number, through};
use super::{AIR, BLEND, GROUND, INK, LINE, MINERAL, MUTED, ORGANIC, PAPER, WATER};
use crate::figure::Ends;
use crate::outcome::Outcome;
use crate::plot::{BARS, Bar, COLUMN_STATES, FILLINGS, Parts, bars, column_ends};
use crate::water::pot::AIR_LEAST;
use crate::words::{Text, first_label, percent, state_name};

/// Labels of the parts of a bar, from the top down, and what fills them.
const PARTS: [(&str, &str); FILLINGS] = [
    ("part_air", PAPER),
    ("part_taken", "url(#taken)"),
    ("part_left", "url(#left)"),
    ("part_closed", "url(#closed)"),
    ("organic_solids", "url(#organic)"),
    ("mineral_solids", "url(#mineral)"),
];
/// Where the key begins, and the height of its lines.
const KEY: [f64; 2] = [212.0, 22.0];
/// Parts on a line of the key.
const KEY_COLUMNS: usize = 3;

/// Draws it; gives its height.
pub(super) fn draw(pen: &mut Pen, outcome: &Outcome, parts: &[Parts; 5]) -> f64 {
    patterns(pen);
    let ([left, top], [width, height]) = BARS;
    let places = bars(parts, [left, top], [width, height]);
    let ends = column_ends(outcome);
    for (((bar, state), parts), ends) in places.iter().zip(COLUMN_STATES).zip(parts).zip(ends) {
        let middle = bar.x + bar.width / 2.0;
        let look = format!("fill=\"{MUTED}\" font-size=\"12.5\"");
        let at = [middle, top + height + 16.0];
        pen.word(&look, "middle", at, state_name(state));
        filled(pen, bar, parts.pores_pct(), ends);
    }
    air_line(pen, &places);
    for (name, from, to, colour) in [(Text::Ground, 0, 1, GROUND), (Text::Blend, 2, 4, BLEND)] {
        let (start, end) = (places[from].x, places[to].x + places[to].width);
        let look = format!("fill=\"{colour}\" font-weight=\"700\"");
        let at = [(start + end) / 2.0, top + height + 38.0];
        pen.word(&look, "middle", at, name.text());
        let y = top + height + 23.0;
        let look = format!("fill=\"none\" stroke=\"{LINE}\"");
        pen.path(&look, &through(&[[start, y], [end, y]], false));
    }
    key(pen)
}

/// What fills a bar, how much of it is pores, and between which ends.
fn filled(pen: &mut Pen, bar: &Bar, pores_pct: f64, ends: Ends) {
    for ((_, fill), [y, tall]) in PARTS.iter().zip(bar.segments) {
        if tall > 0.0 {
            let look = format!("fill=\"{fill}\" stroke=\"{INK}\" stroke-width=\".75\"");
            pen.rectangle(&look, [bar.x, y], [bar.width, tall]);
        }
    }
    if pores_pct <= 0.0 {
        return;
    }
    let ([_, top], [_, height]) = BARS;
    let middle = bar.x + bar.width / 2.0;
    pen.word(
        "font-size=\"15\" font-weight=\"700\"",
        "middle",
        [middle, top - 7.0],
        &percent(pores_pct),
    );
    let [closed_top, closed_tall] = bar.segments[3];
    let y = closed_top + closed_tall;
    pen.path(
        &format!("fill=\"none\" stroke=\"{INK}\" stroke-width=\"2.5\""),
        &through(&[[bar.x - 3.0, y], [bar.x + bar.width + 3.0, y]], false),
    );
    // Pores fill a bar from the top, so their ends are depths.
    let [low, high] = [ends.low, ends.high].map(|end| number(top + end / 100.0 * height));
    if low != high {
        let [from, to] = [middle - 5.0, middle + 5.0].map(number);
        let middle = number(middle);
        pen.path(
            &format!("fill=\"none\" stroke=\"{INK}\" stroke-width=\"1.5\""),
            &format!("M{middle} {low}V{high}M{from} {low}H{to}M{from} {high}H{to}"),
        );
    }
}

/// What roots want at least, from the top of the bars.
fn air_line(pen: &mut Pen, places: &[Bar; 5]) {
    let ([left, top], [_, height]) = BARS;
    let y = top + AIR_LEAST * height;
    let gap = [places[1].x + places[1].width, places[2].x];
    let right = places[4].x + places[4].width;
    pen.path(
        &format!("fill=\"none\" stroke=\"{INK}\" stroke-dasharray=\"3 3\""),
        &[
            through(&[[left, y], [gap[0], y]], false),
            through(&[[gap[1], y], [right, y]], false),
        ]
        .concat(),
    );
    let look = format!("fill=\"{MUTED}\" font-size=\"12.5\"");
    let at = [(gap[0] + gap[1]) / 2.0, y + 4.0];
    pen.word(&look, "middle", at, Text::AirLine.text());
}

fn key(pen: &mut Pen) -> f64 {
    let [top, line] = KEY;
    for (index, (label, fill)) in PARTS.iter().enumerate() {
        let column = index % KEY_COLUMNS;
        let row = index / KEY_COLUMNS;
        let [x, y] = [8.0 + 150.0 * column as f64, top + line * row as f64];
        let look = format!("fill=\"{fill}\" stroke=\"{INK}\" stroke-width=\".75\"");
        pen.rectangle(&look, [x, y], [16.0; 2]);
        let look = format!("fill=\"{MUTED}\" font-size=\"12.5\"");
        let name = first_label(label).unwrap_or(label);
        pen.word(&look, "start", [x + 22.0, y + 12.5], name);
    }
    top + line * (FILLINGS / KEY_COLUMNS) as f64 + 6.0
}

fn patterns(pen: &mut Pen) {
    let line = |colour: &str, d: &str| {
        format!("<path fill=\"none\" stroke=\"{colour}\" stroke-width=\"1.6\" d=\"{d}\"/>")
    };
    let dots = format!(
        "<circle fill=\"{AIR}\" cx=\"2\" cy=\"2\" r=\"1.4\"/>\
         <circle fill=\"{AIR}\" cx=\"6\" cy=\"6\" r=\"1.4\"/>"
    );
    pen.0 += "<defs>";
    for (id, wide, high, drawn) in [
        (
            "mineral",
            6,
            6,
            line(MINERAL, "M-1 7 7 -1M-1 1 1 -1M5 7 7 5"),
        ),
        ("organic", 6, 6, line(ORGANIC, "M0 3h6M3 0v6")),
        ("closed", 8, 8, dots),
        ("taken", 10, 6, line(WATER, "M0 4q2.5 -3 5 0t5 0")),
        ("left", 4, 4, line(WATER, "M0 2h4")),
    ] {
        pen.0 += &format!(
            "<pattern id=\"{id}\" width=\"{wide}\" height=\"{high}\" \
             patternUnits=\"userSpaceOnUse\">{drawn}</pattern>"
        );
    }
    pen.0 += "</defs>";
}
