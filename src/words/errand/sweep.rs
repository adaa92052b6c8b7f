//! What a sweep shows, in words.

use crate::figure::Figure;
use crate::quantity::{Unit, round_significant};
use crate::recipe::{Addition, Recipe, RecipeError};
use crate::sweep::{AxisFault, Crossing, Point, Reach, Run, Stretch, Swept};
use crate::texture::Class;
use crate::tongue::Saying;
use crate::words::errand::mass_text;
use crate::words::{
    Speech, Told, Units, bound, class_name, fixed, in_sentence, odds, page_fault_text, shown,
    significant, unit_name,
};

/// What is said of a gap.
const NO_VALUE: Saying = said!("no value");
/// Significant digits of an amount that was found.
const DIGITS: usize = 3;

/// The name of a figure.
pub fn swept_name(swept: Swept) -> &'static str {
    match swept {
        Swept::Air => tr!("Air"),
        Swept::PoreSpace => tr!("Pore space"),
        Swept::PlantWater => tr!("Water for plants"),
        Swept::Density => tr!("Density"),
        Swept::Skeleton => tr!("Coarse grains, of the room"),
        Swept::OrganicMatter => tr!("Organic matter"),
        Swept::Class => tr!("Texture class"),
        Swept::Sand => tr!("Sand"),
        Swept::Silt => tr!("Silt"),
        Swept::Clay => tr!("Clay"),
        Swept::Drainage => tr!("Drainage"),
        Swept::Ph => "pH",
        Swept::Salt => tr!("Salt that crops feel"),
        Swept::Cost => tr!("Cost of what is used"),
        Swept::Weight => tr!("Weight, watered"),
    }
}

/// The same within a sentence.
fn in_words(swept: Swept) -> String {
    match swept {
        Swept::Ph => "pH".into(),
        Swept::Skeleton => tr!("the share of coarse grains").into(),
        Swept::Class => tr!("the class").into(),
        _ => swept_name(swept).to_lowercase(),
    }
}

/// A text that begins a sentence.
fn begin(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some('p') if text.starts_with("pH") => text.into(),
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// The stored unit in one of those shown, and what that is called, with a space before it.
pub fn swept_unit(swept: Swept, speech: Speech, currency: Option<&str>) -> (f64, String) {
    match swept {
        Swept::Density => (
            speech.units.density_factor(),
            [" ", speech.units.density_unit()].concat(),
        ),
        Swept::Weight => match speech.units {
            Units::Metric => (1.0, " kg".into()),
            Units::Us => (Unit::Pound.factor(), " lb".into()),
        },
        Swept::Drainage => (1.0, " mm/h".into()),
        Swept::Ph | Swept::Class => (1.0, String::new()),
        Swept::Salt => (1.0, " dS/m".into()),
        Swept::Cost => (
            1.0,
            currency.map_or(String::new(), |label| [" ", label].concat()),
        ),
        _ => (1.0, " %".into()),
    }
}

/// A value as a number, in the unit shown.
fn number(swept: Swept, value: f64, speech: Speech) -> String {
    let (factor, _) = swept_unit(swept, speech, None);
    let value = value / factor;
    match swept {
        Swept::Density => fixed(value, speech.units.density_decimals()),
        Swept::OrganicMatter | Swept::Ph => fixed(value, 1),
        Swept::Drainage | Swept::Salt => significant(value, 2),
        Swept::Cost => fixed(value, if value < 100.0 { 2 } else { 0 }),
        Swept::Weight => significant(value, 3),
        _ => fixed(value, 0),
    }
}

/// A value with its unit.
pub fn value_text(swept: Swept, value: f64, speech: Speech, currency: Option<&str>) -> String {
    let (_, unit) = swept_unit(swept, speech, currency);
    number(swept, value, speech) + &unit
}

/// A figure with its range.
pub fn swept_told(swept: Swept, figure: Figure, speech: Speech, currency: Option<&str>) -> Told {
    let ends = figure.ends();
    let [low, high] = [ends.low, ends.high].map(|value| number(swept, value, speech));
    Told {
        value: value_text(swept, figure.typical, speech, currency),
        range: if low == high {
            String::new()
        } else {
            [&low, "–", &high].concat()
        },
    }
}

/// An amount in its unit.
pub fn amount_text(value: f64, unit: Unit) -> String {
    [
        &shown(round_significant(value, DIGITS)),
        " ",
        unit_name(unit),
    ]
    .concat()
}

/// How an addition is called.
pub fn addition_name(recipe: &Recipe, addition: &Addition) -> String {
    let found = recipe.find(&addition.material);
    found
        .map_or(addition.material.as_str(), |found| found.name())
        .to_owned()
}

/// The unit in which an axis counts, with what it is of.
pub fn axis_text(recipe: &Recipe, line: usize) -> String {
    let Some(addition) = recipe.additions.get(line) else {
        return String::new();
    };
    let name = addition_name(recipe, addition);
    [&name, ", ", unit_name(addition.amount.unit)].concat()
}

/// What a range may be, where it cannot be what it is.
pub fn axis_fault_text(fault: AxisFault) -> String {
    match fault {
        AxisFault::NoAddition => tr!("This addition is not in the recipe any more.").into(),
        AxisFault::Outside { low, high, .. } => say!(
            "An end of the range is outside its limits: from {} to {}.",
            bound(low),
            bound(high)
        ),
        AxisFault::Backwards => tr!("The range must end above where it begins.").into(),
        AxisFault::Twice => tr!("Choose two different additions.").into(),
    }
}

/// What a sweep is told of: the run, the figure, what it is held against.
#[derive(Clone, Copy, Debug)]
pub struct Looked<'a> {
    /// The sweep.
    pub run: &'a Run,
    /// The figure.
    pub swept: Swept,
    /// The user's own threshold, in the stored unit.
    pub own: Option<f64>,
    /// The label of money.
    pub currency: Option<&'a str>,
    /// The units shown.
    pub speech: Speech,
}

impl Looked<'_> {
    fn addition(&self, axis: usize) -> Option<&Addition> {
        let line = self.run.axes().get(axis)?.line;
        self.run.recipe().additions.get(line)
    }

    /// What an axis is of, as a sentence begins with it.
    fn head(&self, axis: usize) -> String {
        let addition = self.addition(axis);
        addition.map_or(String::new(), |addition| {
            addition_name(self.run.recipe(), addition)
        })
    }

    fn name(&self, axis: usize) -> String {
        in_sentence(&self.head(axis))
    }

    fn unit(&self, axis: usize) -> Unit {
        let addition = self.addition(axis);
        addition.map_or(Unit::Litre, |addition| addition.amount.unit)
    }

    /// An amount along an axis.
    pub fn amount(&self, axis: usize, value: f64) -> String {
        amount_text(value, self.unit(axis))
    }

    fn value(&self, value: f64) -> String {
        value_text(self.swept, value, self.speech, self.currency)
    }

    /// What it is held against: the user's own as typed.
    fn threshold(&self, value: f64) -> String {
        if self.own.is_none() {
            return self.value(value);
        }
        let (factor, unit) = swept_unit(self.swept, self.speech, self.currency);
        shown(value / factor) + &unit
    }

    /// What an amount weighs, in brackets, where its unit does not say so already.
    fn weighs(&self, axis: usize, kg: f64) -> String {
        let is_said = match self.speech.units {
            Units::Metric => self.unit(axis) == Unit::Kilogram,
            Units::Us => self.unit(axis) == Unit::Pound,
        };
        if is_said || kg <= 0.0 {
            return String::new();
        }
        [" (", &mass_text(kg, self.speech), ")"].concat()
    }

    /// Why the figure is held against its threshold, set off by commas.
    fn why(&self) -> &'static str {
        match (self.own, self.swept) {
            (Some(_), _) => tr!(", your threshold,"),
            (None, Swept::Air) => tr!(", the least that roots want,"),
            (None, Swept::Density) => tr!(", from where roots are in trouble,"),
            (None, Swept::Salt) => tr!(", up to which your crop yields in full,"),
            _ => "",
        }
    }

    /// What the curve does, and where it meets what it is held against.
    pub fn curve(&self, crossings: &[Crossing], stretches: &[Stretch]) -> String {
        if self.swept == Swept::Class {
            return self.classes(stretches);
        }
        let mut points = self.run.points().iter().flatten();
        let there = |point: &Point| Some((point.amounts[0], point.figure(self.swept)?.typical));
        let values: Vec<(f64, f64)> = points.by_ref().filter_map(there).collect();
        let (Some((from, first)), Some((to, last))) = (values.first(), values.last()) else {
            return self.none();
        };
        let mut text = say!(
            "From {} to {} of {}, {} goes from {} to {}.",
            self.amount(0, *from),
            self.amount(0, *to),
            self.name(0),
            in_words(self.swept),
            self.value(*first),
            self.value(*last)
        );
        if self.value(*first) == self.value(*last) && crossings.is_empty() {
            text = say!(
                "From {} to {} of {}, {} stays near {}.",
                self.amount(0, *from),
                self.amount(0, *to),
                self.name(0),
                in_words(self.swept),
                self.value(*first)
            );
        }
        for crossing in crossings {
            text.push(' ');
            text += &self.crossing(crossing);
        }
        if crossings.is_empty() {
            text += &self.never();
        }
        text
    }

    /// Why there is nothing to tell.
    fn none(&self) -> String {
        match self.swept {
            _ if self.run.done() == 0 => {
                tr!("It was cancelled before the first blend: there is nothing to show yet.").into()
            }
            Swept::Cost => {
                tr!("No cost can be told: an addition has no price. Open its line to give it one.")
                    .into()
            }
            _ => say!("There is no value of {} here.", in_words(self.swept)),
        }
    }

    fn crossing(&self, crossing: &Crossing) -> String {
        let at = [
            &self.amount(0, crossing.amount),
            &*self.weighs(0, crossing.kg),
        ]
        .concat();
        if let Some(class) = crossing.becomes {
            let (class, from) = (class_name(class), self.value(crossing.threshold));
            let swept = in_words(self.swept);
            return if crossing.rises {
                say!(
                    "From {} on it is {}, of which roots are in trouble from {} on: {} is above that.",
                    at,
                    class,
                    from,
                    swept
                )
            } else {
                say!(
                    "From {} on it is {}, of which roots are in trouble from {} on: {} is below that.",
                    at,
                    class,
                    from,
                    swept
                )
            };
        }
        let mut text = if self.swept == Swept::Skeleton && self.own.is_none() {
            let share = self.value(crossing.threshold);
            if crossing.rises {
                say!("The grains touch from {} on, at {} of the room.", at, share)
            } else {
                say!("The grains no longer touch from {} on.", at)
            }
        } else {
            let swept = begin(&in_words(self.swept));
            let (threshold, why) = (self.threshold(crossing.threshold), self.why());
            if crossing.rises {
                say!("{} reaches {}{} at {}.", swept, threshold, why, at)
            } else {
                say!("{} falls below {}{} at {}.", swept, threshold, why, at)
            }
        };
        if let Some(likely) = crossing.likely {
            text += &self.likely(likely);
        }
        text
    }

    /// How sure a crossing is.
    fn likely(&self, likely: [Reach; 2]) -> String {
        let amount = |value: f64| self.amount(0, round_significant(value, 2));
        match likely {
            [Reach::Merges, Reach::Merges] => tr!(
                " The doubt reaches the crossings before and after it: maybe none of them is there."
            )
            .into(),
            [Reach::Merges, _] => {
                tr!(" The doubt reaches the crossing before it: maybe neither is there.").into()
            }
            [_, Reach::Merges] => {
                tr!(" The doubt reaches the crossing after it: maybe neither is there.").into()
            }
            [Reach::At(first), Reach::At(last)] if last > first => say!(
                " It may be anywhere from {} to {}.",
                shown(round_significant(first, 2)),
                amount(last)
            ),
            [Reach::At(first), Reach::Past] => say!(
                " It may be so from {} on, or not within this range.",
                amount(first)
            ),
            _ => String::new(),
        }
    }

    /// That the threshold is never met.
    fn never(&self) -> String {
        let mut points = self.run.points().iter().flatten();
        let held = points.find_map(|point| {
            let above = point.above(self.swept, self.own)?;
            Some((above, point.threshold(self.swept, self.own)?))
        });
        let Some((above, threshold)) = held else {
            return String::new();
        };
        if self.swept == Swept::Skeleton && self.own.is_none() {
            return if above < 0.0 {
                tr!(" The grains never touch within this range.").into()
            } else {
                tr!(" The grains touch all along this range.").into()
            };
        }
        let (threshold, why) = (self.threshold(threshold), self.why());
        if above < 0.0 {
            say!(" It stays below {}{} all along this range.", threshold, why)
        } else {
            say!(" It stays above {}{} all along this range.", threshold, why)
        }
    }

    fn classes(&self, stretches: &[Stretch]) -> String {
        let (Some(first), Some(last)) = (stretches.first(), stretches.last()) else {
            return self.none();
        };
        if first.class == last.class && stretches.len() == 1 {
            return say!(
                "From {} to {} of {} it stays {}.",
                self.amount(0, first.from),
                self.amount(0, last.to),
                self.name(0),
                class_name(first.class)
            );
        }
        let first_amount = self.amount(0, first.from);
        let mut text = say!(
            "With {} of {} it is {}",
            first_amount,
            self.name(0),
            class_name(first.class)
        );
        for stretch in stretches.get(1..).unwrap_or_default() {
            text += &say!(
                "; from {}{} on {}",
                self.amount(0, stretch.from),
                self.weighs(0, stretch.from_kg),
                class_name(stretch.class)
            );
        }
        text.push('.');
        text
    }

    /// What the map shows.
    pub fn map(&self) -> String {
        let across = [self.head(0), self.name(1)];
        if self.swept == Swept::Class {
            let mut names: Vec<&str> = Vec::new();
            let classes = self.run.points().iter().flatten();
            for (class, _) in classes.filter_map(|point| point.class) {
                let name = class_name(class);
                if !names.contains(&name) {
                    names.push(name);
                }
            }
            return say!(
                "{} to the right, {} up. It becomes {}.",
                across[0],
                across[1],
                names.join(", ")
            );
        }
        let points = || self.run.points().iter().flatten();
        let values = points().filter_map(|point| point.figure(self.swept));
        let (low, high) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), figure| {
            (low.min(figure.typical), high.max(figure.typical))
        });
        if low > high {
            return self.none();
        }
        let mut text = say!(
            "{} to the right, {} up: {} from {} to {}.",
            across[0],
            across[1],
            in_words(self.swept),
            self.value(low),
            self.value(high)
        );
        let above: Vec<f64> = points()
            .filter_map(|point| point.above(self.swept, self.own))
            .collect();
        let over = above.iter().filter(|above| **above >= 0.0).count();
        if above.is_empty() {
            return text;
        }
        if over > 0 && over < above.len() {
            text += &match (self.own, self.swept) {
                (None, Swept::Skeleton) => {
                    tr!(" The line is where the grains begin to touch.").to_owned()
                }
                (None, Swept::Density) => {
                    tr!(" Above the line’s density roots of that class are in trouble.").to_owned()
                }
                _ => {
                    let threshold = points()
                        .find_map(|point| point.threshold(self.swept, self.own))
                        .unwrap_or_default();
                    let why = self.why();
                    let why = why.strip_suffix(',').unwrap_or(why);
                    say!(" The line is {}{}.", self.threshold(threshold), why)
                }
            };
        } else {
            text += &self.never();
        }
        text
    }

    /// The blend at a point.
    pub fn point(&self, point: &Point) -> String {
        let mut text = String::new();
        for axis in 0..self.run.axes().len() {
            if axis > 0 {
                text += ", ";
            }
            text += &say!(
                "{} of {}{}",
                self.amount(axis, point.amounts[axis]),
                self.name(axis),
                self.weighs(axis, point.kg[axis])
            );
        }
        text += ": ";
        if self.swept == Swept::Class {
            return text + &class_of(point);
        }
        let Some(figure) = point.figure(self.swept) else {
            return text + NO_VALUE.text() + ".";
        };
        let told = swept_told(self.swept, figure, self.speech, self.currency);
        text += &in_words(self.swept);
        text += " ";
        text += &told.value;
        if self.run.axes().len() == 1 && !told.range.is_empty() {
            let (_, unit) = swept_unit(self.swept, self.speech, self.currency);
            text += &say!(", 9 in 10 within {}{}", told.range, unit);
        }
        text.push('.');
        text
    }

    /// A row of the table of a curve: amount, weight, value, range.
    pub fn row(&self, point: &Point) -> [String; 4] {
        let (value, range) = match (self.swept, point.figure(self.swept)) {
            (Swept::Class, _) => match &point.class {
                Some((class, shares)) => {
                    (class_name(*class).to_owned(), odds(shares[*class as usize]))
                }
                None => (NO_VALUE.text().into(), String::new()),
            },
            (_, Some(figure)) => {
                let told = swept_told(self.swept, figure, self.speech, self.currency);
                (told.value, told.range)
            }
            (_, None) => (NO_VALUE.text().into(), String::new()),
        };
        [
            self.amount(0, point.amounts[0]),
            mass_text(point.kg[0], self.speech),
            value,
            range,
        ]
    }

    /// A cell of the table of a map.
    pub fn cell(&self, point: Option<&Point>) -> String {
        let Some(point) = point else {
            return "–".into();
        };
        if self.swept == Swept::Class {
            let class = point.class.map(|(class, _)| class_name(class));
            return class.unwrap_or("–").to_owned();
        }
        let figure = point.figure(self.swept);
        figure.map_or("–".into(), |figure| {
            number(self.swept, figure.typical, self.speech)
        })
    }

    /// What a table's caption says: the figure and its unit.
    pub fn caption(&self) -> String {
        let (_, unit) = swept_unit(self.swept, self.speech, self.currency);
        match unit.trim() {
            "" => swept_name(self.swept).into(),
            unit => [swept_name(self.swept), ", ", unit].concat(),
        }
    }

    /// That some amounts cannot be, once; nothing where all can.
    pub fn gaps(&self) -> String {
        let Some((gaps, error, amounts)) = self.run.fault() else {
            return String::new();
        };
        let RecipeError { fault, .. } = error;
        let first = self.amount(0, amounts[0]);
        let all = fixed(self.run.done() as f64, 0);
        say!(
            "{} of {} blends cannot be mixed and are left out, the first at {} of {}: {}",
            fixed(gaps as f64, 0),
            all,
            first,
            self.name(0),
            page_fault_text(fault)
        )
    }
}

/// A point's class with its odds.
fn class_of(point: &Point) -> String {
    match &point.class {
        Some((class, shares)) => {
            let share = shares[*class as usize];
            // A typical evaluation has no odds to speak of.
            if share > 0.0 && share < 1.0 {
                say!("{}, odds {}.", class_name(*class), odds(share))
            } else {
                [class_name(*class), "."].concat()
            }
        }
        None => [NO_VALUE.text(), "."].concat(),
    }
}

/// The name of a class in a drawing.
pub fn class_in_drawing(class: Class) -> &'static str {
    class_name(class)
}

/// How far it has come.
pub fn progress_text(done: usize, all: usize) -> String {
    say!(
        "{} of {} blends",
        fixed(done as f64, 0),
        fixed(all as f64, 0)
    )
}

/// That a sweep was stopped.
pub fn stopped_text(done: usize, all: usize) -> String {
    say!("Stopped after {}.", progress_text(done, all))
}

/// That an amount was taken.
pub fn taken_text(text: &str) -> String {
    say!("The recipe has it now. {}", text)
}

/// Heads of the table of a curve: amount, weight, value, range.
pub const CURVE_HEADS: [Saying; 4] = [
    said!("Amount"),
    said!("Weighs"),
    said!("Value"),
    said!("9 in 10 within"),
];

/// Heads of the same where it is of classes.
pub const CLASS_HEADS: [Saying; 4] = [
    said!("Amount"),
    said!("Weighs"),
    said!("Class"),
    said!("Odds"),
];

/// That measurements are left out.
pub const NO_MEASUREMENTS: Saying = said!(
    "The map leaves out what you measured: it is drawn from typical values. The curve of one amount counts it."
);

/// What a map's table is of.
pub const EVERY_THIRD: Saying = said!("Every third square to the right, every second one up.");

/// The usual threshold, as it is shown where none is typed.
pub fn usual_text(swept: Swept, threshold: Option<f64>, speech: Speech) -> String {
    match (swept, threshold) {
        (Swept::Skeleton, Some(_)) => tr!("where they touch").into(),
        (_, Some(threshold)) => number(swept, threshold, speech),
        (_, None) => tr!("nothing").into(),
    }
}

/// No second amount.
pub const ALONE: Saying = said!("nothing else");
/// Names in the key of a drawing.
pub const KEY_NOW: Saying = said!("the blend now");
/// What is looked at.
pub const KEY_HERE: Saying = said!("what you look at");
/// The threshold.
pub const KEY_LINE: Saying = said!("the threshold");
/// The band of a curve.
pub const KEY_BAND: Saying = said!("9 in 10 within");
/// The same of classes.
pub const KEY_ODDS: Saying = said!("the wider, the likelier");

/// A tone of a map: between which values, in the unit shown, it lies.
pub fn tone_text(
    swept: Swept,
    low: Option<f64>,
    high: Option<f64>,
    speech: Speech,
    currency: Option<&str>,
) -> String {
    let (_, unit) = swept_unit(swept, speech, currency);
    let number = |value: f64| shown(round_significant(value, 4));
    match (low, high) {
        (Some(low), Some(high)) => say!("{} to {}{}", number(low), number(high), unit),
        (Some(low), None) => say!("{}{} and more", number(low), unit),
        (None, Some(high)) => say!("under {}{}", number(high), unit),
        (None, None) => tr!("everywhere alike").into(),
    }
}
