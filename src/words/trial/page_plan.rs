//! What Plan and Lay out say beside their boxes.

use super::plan::treatment_name;
use crate::caution::Caution;
use crate::quantity::{Dimension, Unit};
use crate::recipe::Recipe;
use crate::tongue::Saying;
use crate::trial::date::Date;
use crate::trial::layout::{Design, Layout, Spot, TREATMENTS};
use crate::trial::plan::{Trial, Vessel};
use crate::words::date::date_text;
use crate::words::{Speech, care_head, care_text, fixed, significant, unit_name};

/// Labels beside those of [`super::labels`].
pub(in crate::words) const LABELS: &[(&str, &str)] = &[
    ("trial_names", "Names of your own"),
    ("trial_title", "The trial"),
    ("trial_photos", "Photographs, days after sowing"),
    (
        "trial_photos_hint",
        "From the same place at the same hour: what nobody thought of measuring is on them.",
    ),
    (
        "trial_spare_hint",
        "Every addition is held against the control, so a second one in each block sharpens all comparisons.",
    ),
];

/// Kinds of containers by name, in the order of the page's own list.
pub const KINDS: [Saying; 4] = [
    said!("a pail of 10 L"),
    said!("a bucket 28 cm wide"),
    said!("a pot of 5 L"),
    said!("a trough 30 by 60 cm"),
];
/// A container that is none of them.
pub const OTHER_KIND: Saying = said!("another container");
/// No container at all.
pub const STRIP_KIND: Saying = said!("a strip of bed");
/// No crop of ours.
pub const NO_CROP: Saying = said!("no crop, or another");
/// A site of which nothing is said.
pub const NO_SITE: Saying = said!("not known");
/// What is hidden by a letter.
pub const HIDDEN: Saying = said!("hidden");
/// A dose that is the trial's.
pub const AS_ALL: Saying = said!("as all");
/// A share of a container's volume, as a unit.
pub const OF_VOLUME: Saying = said!("% of volume");
/// What a strip of bed weighs.
pub const NOT_WEIGHED: &str = "–";

/// A unit as people write it.
pub fn unit_shown(unit: Unit) -> String {
    match unit {
        Unit::VolumePercent => OF_VOLUME.text().to_owned(),
        // A length is no depth here.
        _ if unit.dimension() == Dimension::Length => unit.spelling().to_owned(),
        _ => unit_name(unit).to_owned(),
    }
}

/// A number that is not whole.
pub const WHOLE: Saying = said!("A whole number, please.");
/// A second dose of nothing.
pub const NO_DOSE_YET: Saying = said!("First say how much of each addition goes in.");
/// Something stands in the list now.
pub const ADDED: Saying = said!("Added.");
/// Nothing takes the dose of all.
pub const NOTHING_EQUAL: Saying =
    said!("No addition takes the dose of all, so there is nothing to make equal.");
/// A guess of a size without a way.
pub const WAY_FIRST: Saying = said!("First say whether more or less.");
/// Nothing is guessed.
pub const NO_GUESS: Saying = said!("no guess");
/// What others are held against.
pub const MEASURE_OF_ALL: Saying = said!("the measure of all");
/// Nothing is foretold of it.
pub const NOT_KNOWN: Saying = said!("not known");
/// A chance that nobody can tell.
pub const CANNOT_TELL: Saying = said!("cannot tell");
/// Scores have no percentages to plan by.
pub const SCORE_DECIDES: Saying = said!(
    "Scores have an order and no sizes, so what so many can find cannot be told in percent. Let a weight or a count decide, and score beside it."
);

/// Without a control there is no power.
pub const NO_CONTROL: Saying = said!(
    "Without a control nothing is found, however many containers there are: add “Dug, nothing added”."
);
/// The dug control is missing, and there is another.
pub const UNTOUCHED_ONLY: Saying = said!(
    "With the untouched control alone, what digging did and what an addition did cannot be told apart. Tick “Dug, nothing added” as well."
);
/// In a square the number of rows is that of the treatments.
pub const SQUARE: Saying =
    said!("In a Latin square there are as many rows and columns as treatments.");

/// No more treatments can be.
pub fn full_text() -> String {
    say!(
        "A trial compares at most {} treatments, the controls among them.",
        fixed(TREATMENTS.1 as f64, 0)
    )
}

/// What the number of each is called.
pub fn each_name(design: Design) -> &'static str {
    match design {
        Design::Blocks => tr!("Blocks"),
        Design::Random => tr!("Containers of each"),
        Design::Latin => tr!("Rows and columns"),
    }
}

/// What the number of controls is called beside which one of each other treatment stands.
pub fn spare_name(design: Design) -> &'static str {
    match design {
        Design::Random => tr!("Controls for one of each"),
        Design::Blocks | Design::Latin => tr!("Controls in each block"),
    }
}

/// What the difference is called that a measure is planned for.
pub fn difference_name(by_ratio: bool) -> &'static str {
    if by_ratio {
        tr!("Difference that matters")
    } else {
        tr!("Difference to plan for, of the control")
    }
}

/// How many containers there are, and of what.
pub fn count_text(trial: &Trial, layout: &Layout) -> String {
    let containers = fixed(layout.spots.len() as f64, 0);
    let each = match layout.design {
        Design::Blocks => say_many!(
            layout.blocks as f64,
            "in {} block",
            "in {} blocks",
            layout.blocks
        ),
        Design::Latin => say!("in {} rows and as many columns", layout.blocks),
        Design::Random => tr!("in no order").into(),
    };
    let controls = trial.treatments.iter().filter(|of| of.deed.is_control());
    let controls = match controls.count() {
        0 => tr!("no control among them").to_owned(),
        1 => tr!("one of them the control").to_owned(),
        some => say!("{} of them controls", fixed(some as f64, 0)),
    };
    let treatments = layout.treatments;
    match trial.vessel {
        Vessel::Container { .. } => say!(
            "{} containers {}: {} treatments, {}.",
            containers,
            each,
            treatments,
            controls
        ),
        Vessel::Strip { .. } => say!(
            "{} strips {}: {} treatments, {}.",
            containers,
            each,
            treatments,
            controls
        ),
    }
}

/// The order as it was drawn, by the numbers that treatments have in the plan: letters stand for
/// something else while they hide what is in a container.
pub fn order_text(layout: &Layout) -> String {
    let number = |spot: &Spot| fixed((spot.treatment + 1) as f64, 0);
    let blocks = layout.blocks.max(1);
    let rows = (0..blocks).map(|block| {
        let of = layout.spots.iter().filter(|spot| spot.block == block);
        of.map(number).collect::<Vec<_>>().join(" ")
    });
    say!(
        "As drawn, by number in the list of the plan: {}.",
        rows.collect::<Vec<_>>().join("; ")
    )
}

/// A box of a treatment by what is asked, for those who do not see where it stands.
pub fn of_treatment(what: TreatmentBox, name: &str) -> String {
    match what {
        TreatmentBox::Dose => say!("Dose of {}", name),
        TreatmentBox::Unit => say!("Unit of the dose of {}", name),
        TreatmentBox::Remove => say!("Take out: {}", name),
        TreatmentBox::Guess => say!("Your guess of {}", name),
        TreatmentBox::GuessBy => say!("Your guess of {}, %", name),
    }
}

/// A control of a treatment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TreatmentBox {
    /// Its dose.
    Dose,
    /// The unit of it.
    Unit,
    /// What takes it out.
    Remove,
    /// Which way it is guessed to go.
    Guess,
    /// How far.
    GuessBy,
}

/// Head of the column of guesses.
pub fn guess_head(measure: &str) -> String {
    say!("Your guess: {}", measure)
}

/// Two doses stand in the list now.
pub fn added_two(times: f64) -> String {
    say!(
        "Added at the dose and at {} times as much.",
        significant(times, 2)
    )
}

/// What a treatment is called where it has no name of the user's.
pub fn plain_name(trial: &Trial, recipe: &Recipe, treatment: usize) -> String {
    let mut plain = trial.clone();
    for of in &mut plain.treatments {
        of.name = None;
    }
    treatment_name(&plain, recipe, treatment)
}

/// A name that is too long.
pub fn letters_text(most: usize) -> String {
    say!("A name has at most {} letters.", fixed(most as f64, 0))
}

/// A day of sowing after the first record.
pub fn sown_late_text(first: Date) -> String {
    say!(
        "Something was measured on {} already, so it was sown by then.",
        date_text(first)
    )
}

/// A day of measuring that can hardly be meant; nothing where it can.
pub fn odd_day_text(on: Date, today: Option<Date>, sown: Option<Date>) -> String {
    if today.is_some_and(|today| on > today) {
        return tr!("This day is still to come.").into();
    }
    match sown {
        Some(sown) if on < sown => {
            say!("This day is before that of sowing, {}.", date_text(sown))
        }
        _ => String::new(),
    }
}

/// Days of photographs as a list that can be typed.
pub fn days_list(days: &[u32]) -> String {
    let all: Vec<String> = days.iter().map(|day| fixed((*day).into(), 0)).collect();
    all.join(", ")
}

/// Why days of photographs cannot be.
pub fn days_fault_text(most: usize, last: f64) -> String {
    say!(
        "Days are whole numbers from 0 to {}, with commas or spaces between them; at most {} of them.",
        fixed(last, 0),
        fixed(most as f64, 0)
    )
}

/// When photographs are taken, where the day of sowing is known.
pub fn photo_dates_text(dates: &[Date]) -> String {
    let all: Vec<String> = dates.iter().copied().map(date_text).collect();
    all.join(", ")
}

/// What to beware of in a treatment, in one line.
pub fn treatment_care_text(caution: &Caution, speech: Speech) -> String {
    let text = care_text(caution, speech);
    let lines: Vec<&str> = text.split_whitespace().collect();
    [care_head(caution), ": ", &lines.join(" ")].concat()
}
