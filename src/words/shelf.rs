//! Words of the shelf: labels, names of blends, figures side by side, how two differ, and what a
//! press has done.

use super::{
    Speech, Told, Units, class_name, cost_told, drains_told, fixed, in_sentence, odds, ph_told,
    salt_told, shown, significant, unit_name,
};
use crate::figure::Figure;
use crate::outcome::Outcome;
use crate::quantity::Unit;
use crate::recipe::{Addition, Found, Recipe};
use crate::shelf::{Compared, Difference, ShelfFault};
use crate::texture::Class;
use crate::tongue::Saying;

/// Its button: to open it, to fold it.
pub const SHELF_OPENS: [Saying; 2] = [said!("Open the shelf"), said!("Fold the shelf away")];
/// Materials of a proposed name at the most.
const NAMED: usize = 3;

/// Labels that stand in `www/shed.html`.
pub(super) const LABELS: &[(&str, &str)] = &[
    (
        "shelf_empty",
        "The shelf is empty. Keep a blend, change the sliders, keep another, and see here which of them gives your clay more.",
    ),
    ("shelf_undo", "Undo"),
    ("shelf_blends", "The blends"),
    ("shelf_triangle", "All of them on one triangle"),
    (
        "shelf_triangle_says",
        "Texture triangle with the ground, the blend on the page and the kept blends by number; the table has their numbers.",
    ),
    ("shelf_figures", "All of them in one table"),
    ("shelf_against", "Differences from"),
    ("shelf_ground", "the ground as it lies"),
    ("shelf_sort", "Sort by"),
    ("shelf_by_name", "name"),
    ("shelf_low", "Lowest first"),
    ("shelf_high", "Highest first"),
    ("shelf_clear", "Take the shelf away"),
    (
        "shelf_says_how",
        "Each cell: the typical value, what nine in ten lie within, and the difference with its own range. “More 9 in 10” says that in nine of ten draws this blend has more. Both blends are drawn with the same soil, the same materials and the same errors of the equations each time, so what they share cancels, and a difference may be surer than either figure.",
    ),
    (
        "shelf_says_not",
        "A difference that is sure need not be large. What the ground differs by is told of each blend’s own ground.",
    ),
];

/// Labels that are written while it runs.
const RUNNING: &[(&str, &str)] = &[
    ("now", "On the page now"),
    ("put", "Put on the page"),
    ("double", "Duplicate"),
    ("delete", "Delete"),
    ("earlier", "↑"),
    ("later", "↓"),
    ("earlier_of", "Move up"),
    ("later_of", "Move down"),
    ("name_of", "Name of blend"),
    ("class", "Texture class"),
    ("measure", "compared with this"),
    ("waits", "…"),
    ("none", "–"),
    ("cannot", "This blend cannot be mixed: "),
    (
        "full",
        "The shelf is full: it holds eight blends. Delete one to keep another.",
    ),
    ("other_ground", "; its ground is another one"),
    ("ground_mark", "ground"),
    ("now_mark", "now"),
];

/// A label that the shelf writes.
pub fn label_of_shelf(key: &'static str) -> &'static str {
    let all = RUNNING.iter().chain(LABELS);
    all.copied()
        .find_map(|(known, text)| (known == key).then(|| crate::tongue::tr(text)))
        .unwrap_or(key)
}

/// What the points on the triangle come to: a class for each.
pub fn shelf_classes(ground: Option<Class>, now: Option<Class>, kept: &[Option<Class>]) -> String {
    let ground = ground.map(|class| say!("Your ground is {}.", class_name(class)));
    let now = now.map(|class| say!("The blend on the page is {}.", class_name(class)));
    let kept = kept.iter().enumerate();
    let kept =
        kept.filter_map(|(at, class)| Some(say!("Blend {} is {}.", at + 1, class_name((*class)?))));
    let told: Vec<String> = ground.into_iter().chain(now).chain(kept).collect();
    told.join(" ")
}

/// The name of what is compared.
pub fn compared_name(of: Compared) -> &'static str {
    match of {
        Compared::Sand => tr!("Sand"),
        Compared::Silt => tr!("Silt"),
        Compared::Clay => tr!("Clay"),
        Compared::OrganicMatter => tr!("Organic matter"),
        Compared::Pores => tr!("Pore space, settled"),
        Compared::Air => tr!("Air, drained"),
        Compared::PlantWater => tr!("Water for plants"),
        Compared::Density => tr!("Density, settled"),
        Compared::Drainage => tr!("Drains"),
        Compared::Ph => "pH",
        Compared::Salt => tr!("Salt"),
        Compared::Weight => tr!("Weight, watered"),
        Compared::Cost => tr!("Cost"),
    }
}

/// A name for the blend of a recipe: what is added, in a few words.
pub fn kept_name(recipe: &Recipe) -> String {
    let parts: Vec<String> = recipe
        .additions
        .iter()
        .take(NAMED)
        .map(|addition| named(addition, recipe))
        .collect();
    if parts.is_empty() {
        return super::label_of_lectern("alone").to_owned();
    }
    parts.join(", ")
}

fn named(addition: &Addition, recipe: &Recipe) -> String {
    let found = recipe.find(&addition.material).map_or("", Found::name);
    // What stands in brackets or behind a comma is for those who choose.
    let short = found.split([',', '(']).next().unwrap_or(found).trim();
    let unit = match addition.amount.unit {
        Unit::VolumePercent | Unit::MassPercent => "%",
        unit => unit_name(unit),
    };
    format!(
        "{} {unit} {}",
        shown(addition.amount.value),
        in_sentence(short)
    )
}

/// A figure of a blend, where it has it.
pub fn compared_told(
    of: Compared,
    outcome: &Outcome,
    currency: Option<&str>,
    speech: Speech,
) -> Option<Told> {
    let figure = of.figure(outcome)?;
    Some(match of {
        Compared::OrganicMatter => Told::percent(figure, 0.1),
        Compared::Density => speech.density_told(figure),
        Compared::Drainage => drains_told(figure),
        Compared::Ph => ph_told(figure),
        Compared::Salt => salt_told(figure),
        Compared::Weight => speech.mass_told(figure),
        Compared::Cost => cost_told(figure, currency),
        _ => Told::percent(figure, 1.0),
    })
}

/// The class of a blend and the odds of it.
pub fn class_told(outcome: &Outcome) -> Option<Told> {
    let texture = outcome.texture?;
    let share = texture.class_odds[texture.class as usize];
    Some(Told {
        value: class_name(texture.class).to_owned(),
        range: say!("odds {}", odds(share)),
    })
}

/// How much more a blend has of something, with a sign; a drainage as a factor.
pub fn difference_told(
    of: Compared,
    difference: Figure,
    currency: Option<&str>,
    speech: Speech,
) -> Told {
    let ends = difference.ends();
    if of.is_by_ratio() {
        // What is known within a power of ten bears no second digit.
        let digits = if ends.high > 10.0 * ends.low { 1 } else { 2 };
        let [low, typical, high] =
            [ends.low, difference.typical, ends.high].map(|ratio| significant(ratio, digits));
        return Told {
            range: if low == high {
                String::new()
            } else {
                [&*low, "–", &high].concat()
            },
            value: match typical.as_str() {
                "1" | "1.0" | "1,0" => tr!("about as fast").to_owned(),
                _ => say!("{} times as fast", typical),
            },
        };
    }
    let largest = ends.low.abs().max(ends.high.abs());
    // Without a unit it is told in points.
    let (factor, decimals, unit) = match of {
        Compared::OrganicMatter => (1.0, 1, None),
        Compared::Ph => (1.0, 1, Some(String::new())),
        Compared::Salt => (
            1.0,
            if largest < 1.0 { 2 } else { 1 },
            Some(" dS/m".to_owned()),
        ),
        Compared::Density => (
            1.0 / speech.units.density_factor(),
            speech.units.density_decimals(),
            Some([" ", speech.units.density_unit()].concat()),
        ),
        Compared::Weight => {
            let (factor, unit) = match speech.units {
                Units::Metric => (1.0, " kg"),
                Units::Us => (1.0 / Unit::Pound.factor(), " lb"),
            };
            let decimals = if largest * factor < 10.0 { 1 } else { 0 };
            (factor, decimals, Some(unit.to_owned()))
        }
        Compared::Cost => {
            let decimals = if largest < 100.0 { 2 } else { 0 };
            let unit = currency.map_or(String::new(), |label| [" ", label].concat());
            (1.0, decimals, Some(unit))
        }
        _ => (1.0, 0, None),
    };
    let [low, typical, high] =
        [ends.low, difference.typical, ends.high].map(|value| signed(value * factor, decimals));
    let points = difference.typical.abs();
    let points = if decimals == 0 {
        points.round()
    } else {
        points
    };
    Told {
        range: if low == high {
            String::new()
        } else {
            say!("{} to {}", low, high)
        },
        value: match unit {
            Some(unit) => [typical, unit].concat(),
            None => say_many!(points, "{} point", "{} points", typical),
        },
    }
}

/// A number with its sign, nothing without one.
fn signed(value: f64, decimals: usize) -> String {
    let number = fixed(value.abs(), decimals);
    let is_nothing = number
        .bytes()
        .all(|letter| matches!(letter, b'0' | b'.' | b','));
    let sign = match value {
        _ if is_nothing => "",
        value if value < 0.0 => "−",
        _ => "+",
    };
    [sign, &number].concat()
}

/// In how many draws a blend has more, or less: the likelier of both; or that nothing differs.
pub fn odds_told(of: Compared, difference: &Difference) -> String {
    let [more, less] = match of {
        Compared::Density => [tr!("denser"), tr!("lighter")],
        Compared::Drainage => [tr!("faster"), tr!("slower")],
        Compared::Ph => [tr!("higher"), tr!("lower")],
        Compared::Salt => [tr!("saltier"), tr!("less salty")],
        Compared::Weight => [tr!("heavier"), tr!("lighter")],
        Compared::Cost => [tr!("dearer"), tr!("cheaper")],
        _ => [tr!("more"), tr!("less")],
    };
    let Difference {
        more: of_more,
        same,
        less: of_less,
        ..
    } = *difference;
    if same >= of_more && same >= of_less {
        return if same > 0.995 {
            tr!("the same").to_owned()
        } else {
            say!("the same {}", odds(same))
        };
    }
    if of_more >= of_less {
        say!("{} {}##which way, how likely", more, odds(of_more))
    } else {
        say!("{} {}##which way, how likely", less, odds(of_less))
    }
}

/// In how many draws the class is that of what it is compared with.
pub fn same_class_told(share: f64) -> String {
    match share {
        share if share > 0.995 => tr!("the same class").to_owned(),
        share if share < 0.005 => tr!("another class").to_owned(),
        share => say!("same class {}", odds(share)),
    }
}

/// What was done to the shelf.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Done<'a> {
    /// A blend was kept.
    Kept(&'a str),
    /// It was there already.
    There(&'a str),
    /// A blend has another name.
    Renamed(&'a str),
    /// A blend is there twice.
    Doubled(&'a str),
    /// A blend was deleted.
    Deleted(&'a str),
    /// A blend was moved.
    Moved(&'a str),
    /// The shelf has another order.
    Sorted,
    /// A blend is on the page.
    Put(&'a str),
    /// There is no shelf any more.
    Cleared,
}

/// What was done, and that it can be taken back.
pub fn shelf_done_text(done: Done<'_>) -> String {
    match done {
        Done::Kept(name) => say!("Kept as “{}”. Undo takes it off the shelf again.", name),
        Done::There(name) => say!("This blend is on the shelf already, as “{}”.", name),
        Done::Renamed(name) => say!(
            "It is called “{}” now. Undo brings the old name back.",
            name
        ),
        Done::Doubled(name) => say!("“{}” is there twice. Undo takes the second away.", name),
        Done::Deleted(name) => say!("“{}” is deleted. Undo brings it back.", name),
        Done::Moved(name) => say!("“{}” is moved. Undo moves it back.", name),
        Done::Sorted => tr!("The shelf is sorted. Undo brings the old order back.").into(),
        Done::Put(name) => {
            say!(
                "“{}” is on the page now. Undo brings back what was there.",
                name
            )
        }
        Done::Cleared => tr!("The shelf is taken away. Undo brings it back.").into(),
    }
}

/// Why the shelf does not change.
pub fn shelf_fault_text(fault: ShelfFault) -> String {
    match fault {
        ShelfFault::Full { limit } => {
            say!(
                "The shelf is full: it holds {} blends. Delete one to keep another.",
                limit
            )
        }
        ShelfFault::NoName => tr!("A blend needs a name.").into(),
        ShelfFault::LongName { limit } => say!("A name has at most {} letters.", limit),
        ShelfFault::Taken => {
            tr!("Another blend on the shelf has this name; capitals make no difference.").into()
        }
        ShelfFault::NoSuch => tr!("This blend is no longer on the shelf.").into(),
    }
}

/// What is told once a slider is let go.
pub fn shelf_told(outcome: &Outcome) -> String {
    let class = outcome
        .texture
        .map_or(super::Text::NoClass.text(), |texture| {
            class_name(texture.class)
        });
    say!(
        "The blend on the page now: {}. The table is up to date.",
        class
    )
}
