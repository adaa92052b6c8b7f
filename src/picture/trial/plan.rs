//! The plan from above.

use super::super::pen::{Pen, number, through};
use super::super::{AIR, GROUND, INK, LINE, MUTED, PAPER};
use super::{EDGE, LINE_HEIGHT, WIDTH, cut};
use crate::figure::within;
use crate::plot::TrialPlan;
use crate::recipe::Recipe;
use crate::trial::layout::Layout;
use crate::trial::plan::{Deed, Trial, Vessel};
use crate::words::trial::plan::treatment_name;

/// Width of a plan that stands beside a table.
const NARROW: f64 = 320.0;
/// Height that is left for it, and for one on a sheet of its own.
const HIGHEST: [f64; 2] = [190.0, 480.0];
/// Letters of a treatment's name beside its letter.
const NAME_LETTERS: usize = 44;
/// A place of this side holds its code below its letter.
const HOLDS_CODE: f64 = 31.0;
/// The smallest letters that are drawn, and the largest.
const FONTS: (f64, f64) = (9.0, 16.0);

/// Draws the plan; gives its height. `named` says what each letter stands for.
pub(in crate::picture) fn plan(
    pen: &mut Pen,
    trial: &Trial,
    recipe: &Recipe,
    layout: &Layout,
    top: f64,
    named: bool,
) -> f64 {
    let room = WIDTH - 2.0 * EDGE;
    let plan = TrialPlan::of(layout, trial.site, room);
    let plan = if plan.size[1] > HIGHEST[1] || plan.size[0] > room {
        low(layout, trial, room, HIGHEST[1])
    } else {
        plan
    };
    let mut y = top + placed(pen, trial, layout, &plan, top, WIDTH, room);
    for treatment in 0..if named { layout.treatments } else { 0 } {
        let letter = layout.letter(treatment).map(String::from);
        let name = treatment_name(trial, recipe, treatment);
        let text = [&letter.unwrap_or_default(), " – ", &name].concat();
        let is_right = treatment % 2 == 1;
        if !is_right {
            y += LINE_HEIGHT;
        }
        let x = EDGE + if is_right { 0.5 * WIDTH - EDGE } else { 0.0 };
        pen.word(
            "font-size=\"12\"",
            "start",
            [x, y],
            &cut(&text, NAME_LETTERS),
        );
    }
    y + 4.0 - top
}

/// Draws the plan as it stands beside a table; gives its size. None where it would be too high, or
/// too wide to be read.
pub(in crate::picture) fn narrow_plan(
    pen: &mut Pen,
    trial: &Trial,
    layout: &Layout,
) -> Option<[f64; 2]> {
    let plan = low(layout, trial, NARROW, HIGHEST[0]);
    let [wide, high] = plan.size;
    if wide > NARROW || high > HIGHEST[0] {
        return None;
    }
    Some([
        NARROW,
        placed(pen, trial, layout, &plan, 0.0, NARROW, NARROW),
    ])
}

/// A plan that is no higher than it may be, if it can be.
fn low(layout: &Layout, trial: &Trial, width: f64, highest: f64) -> TrialPlan {
    let mut plan = TrialPlan::small(layout, trial.site, width);
    let mut width = width;
    while plan.size[1] > highest && width > 1.0 {
        width *= 0.95;
        plan = TrialPlan::small(layout, trial.site, width);
    }
    plan
}

/// Puts a plan into the middle, smaller where it is wider than its room; gives its height.
fn placed(
    pen: &mut Pen,
    trial: &Trial,
    layout: &Layout,
    plan: &TrialPlan,
    top: f64,
    width: f64,
    room: f64,
) -> f64 {
    let scale = (room / plan.size[0]).min(1.0);
    let left = 0.5 * (width - scale * plan.size[0]);
    let mut own = Pen::default();
    draw(&mut own, trial, layout, plan);
    pen.0 += &format!(
        "<g transform=\"translate({} {}) scale({scale:.3})\">{}</g>",
        number(left),
        number(top),
        own.0
    );
    scale * plan.size[1]
}

fn draw(pen: &mut Pen, trial: &Trial, layout: &Layout, plan: &TrialPlan) {
    for wedge in &plan.wedges {
        let look = format!("fill=\"{AIR}\" fill-opacity=\".25\" stroke=\"{AIR}\"");
        pen.path(&look, &through(&wedge.corners, true));
        let lines: String = wedge
            .hatches
            .iter()
            .map(|ends| through(ends, false))
            .collect();
        pen.path(
            &format!("fill=\"none\" stroke=\"{INK}\" stroke-width=\".8\""),
            &lines,
        );
    }
    for block in &plan.blocks {
        let look = format!("fill=\"none\" stroke=\"{LINE}\" stroke-dasharray=\"5 3\" rx=\"6\"");
        pen.rectangle(&look, block.at, block.size);
        let [x, y] = block.at;
        let look = format!("fill=\"{MUTED}\" font-size=\"11\"");
        let at = [x - 4.0, y + 0.5 * block.size[1] + 4.0];
        pen.word(&look, "end", at, &format!("B{}", block.block + 1));
    }
    let is_strip = matches!(trial.vessel, Vessel::Strip { .. });
    let half = 0.5 * plan.side;
    let has_code = plan.side >= HOLDS_CODE;
    let share = if has_code { 0.42 } else { 0.6 };
    let font = within(share * plan.side, FONTS.0, FONTS.1);
    let look_of_letter = format!("font-size=\"{}\" font-weight=\"700\"", number(font));
    let look_of_code = format!("fill=\"{MUTED}\" font-size=\"{}\"", FONTS.0);
    for (place, spot) in plan.places.iter().zip(&layout.spots) {
        let [x, y] = place.middle;
        let of = trial.treatments.get(spot.treatment).map(|of| &of.deed);
        let is_control = of.is_some_and(Deed::is_control);
        // Which are controls is not to be seen while letters hide it.
        let color = if is_control && !trial.blind {
            GROUND
        } else {
            INK
        };
        let look = format!("fill=\"{PAPER}\" stroke=\"{color}\" stroke-width=\"1.5\"");
        if is_strip {
            pen.rectangle(&look, [x - half, y - half], [plan.side; 2]);
        } else {
            pen.circle(&look, place.middle, half);
        }
        let letter = layout.letter(spot.treatment).map(String::from);
        let down = if has_code { 0.0 } else { 0.36 * font };
        let letter = letter.unwrap_or_default();
        pen.word(&look_of_letter, "middle", [x, y + down], &letter);
        if has_code {
            let code = layout.code(place.container).unwrap_or_default();
            pen.word(&look_of_code, "middle", [x, y + 0.27 * plan.side], &code);
        }
    }
}
