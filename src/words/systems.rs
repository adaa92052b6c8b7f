//! Sentences of the section on texture in other systems.

use super::{class_name, fixed, odds};
use crate::source::Mark;
use crate::texture::{
    Ask, Class, DrawnIn, Placed, Quantity, System, SystemClass, TextureFault, Way,
};
use crate::tongue::{Saying, tr};

/// What the button of the section says: closed, open.
pub const SYSTEMS_OPENS: [Saying; 2] = [
    said!("Open texture elsewhere"),
    said!("Fold texture elsewhere away"),
];

/// Labels of the section.
pub(super) const LABELS: &[(&str, &str)] = &[
    ("systems", "Texture elsewhere"),
    ("systems_is", "what another country calls it"),
    (
        "systems_intro",
        "The class of your ground and of the blend by the lines that other countries draw, each with its own limit between silt and sand.",
    ),
    ("systems_open", "Open texture elsewhere"),
    ("systems_which", "Classes of"),
    ("systems_class", "The class"),
    ("systems_both", "Class and fractions of ground and blend"),
    ("systems_usual", "By the USDA"),
    ("systems_chosen", "By the classes chosen"),
    ("systems_drawing", "The triangle of the classes chosen"),
    ("systems_table", "The classes, and what each asks"),
    ("systems_number", "Number"),
    ("systems_asks", "What it asks, in percent"),
];

/// Names of classes beyond the twelve of the United States, by their ids. What is after the signs
/// tells translators what is named.
const CLASSES: &[(&str, &str)] = &[
    ("clayey", "clayey##texture group"),
    ("coarse", "coarse##texture class"),
    ("fine", "fine##texture class"),
    ("heavy_clay", "heavy clay"),
    ("light_clay", "light clay"),
    ("loamy_clay", "loamy clay"),
    ("medium", "medium##texture class"),
    ("medium_clayey_loam", "medium clayey loam"),
    ("medium_clayey_sand", "medium clayey sand"),
    ("medium_clayey_silt", "medium clayey silt"),
    ("medium_fine", "medium fine##texture class"),
    ("medium_loamy_sand", "medium loamy sand"),
    ("medium_sandy_clay", "medium sandy clay"),
    ("medium_sandy_loam", "medium sandy loam"),
    ("medium_silty_clay", "medium silty clay"),
    ("medium_silty_sand", "medium silty sand"),
    ("pure_clay", "pure clay"),
    ("pure_sand", "pure sand"),
    ("pure_silt", "pure silt"),
    ("sandy", "sandy##texture group"),
    ("sandy_clayey_loam", "sandy-clayey loam"),
    ("sandy_loamy_silt", "sandy-loamy silt"),
    ("sandy_silt", "sandy silt"),
    ("sandy_silt_loam", "sandy silt loam"),
    ("silty", "silty##texture group"),
    ("silty_loam", "silty loam"),
    ("silty_loamy_sand", "silty-loamy sand"),
    ("slightly_clayey_loam", "slightly clayey loam"),
    ("slightly_clayey_sand", "slightly clayey sand"),
    ("slightly_clayey_silt", "slightly clayey silt"),
    ("slightly_loamy_sand", "slightly loamy sand"),
    ("slightly_sandy_clay", "slightly sandy clay"),
    ("slightly_sandy_loam", "slightly sandy loam"),
    ("slightly_silty_clay", "slightly silty clay"),
    ("slightly_silty_sand", "slightly silty sand"),
    ("strongly_clayey_silt", "strongly clayey silt"),
    ("strongly_loamy_sand", "strongly loamy sand"),
    ("strongly_sandy_clay", "strongly sandy clay"),
    ("strongly_sandy_loam", "strongly sandy loam"),
    ("strongly_silty_clay", "strongly silty clay"),
    ("strongly_silty_sand", "strongly silty sand"),
    ("very_clayey", "very clayey##texture group"),
    ("very_fine", "very fine##texture class"),
];

/// The name of a system, as it stands in a list.
pub fn system_name(system: System) -> &'static str {
    match system {
        System::Usda => tr!("the United States (USDA)"),
        System::Canada => tr!("Canada"),
        System::Uk => tr!("England and Wales"),
        System::Germany => tr!("Germany"),
        System::Europe => tr!("the soil map of Europe"),
        System::Fao => tr!("the FAO’s soil map of the world"),
        System::International => tr!("the international triangle, as in Japan"),
        System::Brazil => tr!("Brazil, groups of classes"),
    }
}

/// The name of a class of a system.
pub fn system_class_name(class: &SystemClass) -> &'static str {
    if let Some(usda) = Class::ALL.iter().find(|usda| usda.id() == class.id) {
        return class_name(*usda);
    }
    let found = CLASSES.iter().find(|(id, _)| *id == class.id);
    found.map_or(class.name, |(_, name)| tr(name))
}

/// The limits of size of a system.
pub fn limits_text(system: System) -> String {
    say!(
        "Clay is under 2 µm here, silt from 2 to {} µm, sand from {} µm to 2 mm.",
        fixed(system.silt_um(), 0),
        fixed(system.silt_um(), 0)
    )
}

/// How the fractions came to the limits of a system, and how much that is in doubt.
pub fn conversion_text(placed: &Placed) -> String {
    let points = fixed(placed.converted.doubt_pct, 0);
    match placed.converted.way {
        Way::Same => tr!("These are the USDA’s limits too: nothing had to be converted.").into(),
        Way::LogLinear => say!(
            "Converted, ± {} points of silt and sand: mass is spread evenly over the logarithm of size between two limits (Shirazi, Boersma & Johnson 2001).",
            points
        ),
        Way::Regression | Way::Inverse => say!(
            "Converted, ± {} points of silt and sand, by the regression of Minasny & McBratney 2001 turned round.",
            points
        ),
    }
}

/// What else it may be for that doubt; nothing where it changes no class.
pub fn within_doubt_text(placed: &Placed) -> String {
    let names: Vec<&str> = placed
        .within_doubt
        .iter()
        .map(|class| system_class_name(class))
        .collect();
    match names[..] {
        [] if placed.converted.doubt_pct > 0.0 => {
            tr!("The conversion’s doubt, which the odds leave out, leads to no other class.").into()
        }
        [] => String::new(),
        _ => say!(
            "For the conversion’s doubt, which the odds leave out, the blend may also be: {}.",
            names.join(", ")
        ),
    }
}

/// How likely the class of the blend is, and the next.
pub fn system_odds_text(drawn: &DrawnIn, class: &SystemClass) -> String {
    if drawn.shares.is_empty() {
        return String::new();
    }
    let best = drawn.share(class);
    let mut others = drawn
        .shares
        .iter()
        .filter(|(known, _)| known.id != class.id);
    match others.next() {
        Some((next, share)) if *share >= 0.05 => {
            // Each is rounded, but together they are no more than ten.
            let left = 1.0 - (best * 10.0).round() / 10.0;
            let share = share.min(left.max(0.05));
            say!(
                "Odds {} that it is {}, {} that it is {}.",
                odds(best),
                system_class_name(class),
                odds(share),
                system_class_name(next)
            )
        }
        _ => say!(
            "Odds {} that it is {}.",
            odds(best),
            system_class_name(class)
        ),
    }
}

/// How well the lines are known.
pub fn system_mark_text(system: System) -> String {
    match system.mark() {
        Mark::Memory => say!(
            "These lines are drawn from memory of their source, not checked against the original drawing: {}.",
            system.source()
        ),
        _ => say!("The lines are those of: {}.", system.source()),
    }
}

/// What the drawing shows.
pub fn system_sentence(system: System, ground: Option<&Placed>, blend: Option<&Placed>) -> String {
    let name = |placed: &Placed| system_class_name(placed.class);
    match (ground, blend) {
        (Some(ground), Some(blend)) => say!(
            "By the classes of {}: your ground is {}, the blend {}.",
            system_name(system),
            name(ground),
            name(blend)
        ),
        (_, Some(blend)) => say!(
            "By the classes of {}: the blend is {}.",
            system_name(system),
            name(blend)
        ),
        _ => tr!("There is no sand, silt and clay in the blend that could be classed.").into(),
    }
}

/// The class in a line of the outcome as text.
pub fn system_line(system: System, blend: &Placed) -> String {
    let sentence = system_sentence(system, None, Some(blend));
    [&sentence, " ", &conversion_text(blend)].concat()
}

/// What a class asks, in percent: its ways one by one.
pub fn asks_text(class: &SystemClass) -> String {
    let ways: Vec<String> = class
        .ways
        .iter()
        .map(|way| {
            let asks: Vec<String> = way.iter().map(ask_text).collect();
            asks.join("; ")
        })
        .collect();
    match &ways[..] {
        [one, other] => say!("{}, or {}", one, other),
        _ => ways.join(" / "),
    }
}

fn ask_text(ask: &Ask) -> String {
    let name = match ask.of {
        Quantity::Clay => tr!("clay##a share"),
        Quantity::Silt => tr!("silt##a share"),
        Quantity::Sand => tr!("sand##a share"),
        Quantity::SiltAndHalfMoreClay => tr!("silt + 1½ × clay"),
        Quantity::SiltAndTwiceClay => tr!("silt + 2 × clay"),
    };
    let sign = |belongs: bool, [with, without]: [&'static str; 2]| {
        if belongs { with } else { without }
    };
    match (ask.low, ask.high) {
        (Some(low), Some(high)) => format!(
            "{} {} {name} {} {}",
            low.pct,
            sign(low.belongs, ["≤", "<"]),
            sign(high.belongs, ["≤", "<"]),
            high.pct
        ),
        (Some(low), None) => format!("{name} {} {}", sign(low.belongs, ["≥", ">"]), low.pct),
        (None, Some(high)) => format!("{name} {} {}", sign(high.belongs, ["≤", "<"]), high.pct),
        (None, None) => name.to_owned(),
    }
}

/// Why fractions have no class.
pub fn texture_fault_text(fault: TextureFault) -> String {
    let name = |at: usize| {
        [
            tr!("sand##a share"),
            tr!("silt##a share"),
            tr!("clay##a share"),
        ][at.min(2)]
    };
    match fault {
        TextureFault::NotANumber { at } => say!("{}: not a number.", name(at)),
        TextureFault::OutOfRange { at, .. } => say!("{}: from 0 to 100 %.", name(at)),
        TextureFault::Sum { pct } => say!(
            "Sand, silt and clay sum to {} %, not to 100.",
            fixed(pct, 1)
        ),
    }
}
