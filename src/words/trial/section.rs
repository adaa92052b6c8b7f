//! Sentences of the section on the trial: crops, containers, what is foretold.

use super::plan::{best_for_text, crop_name, sensitivity_word, site_name};
use crate::figure::Figure;
use crate::quantity::Unit;
use crate::recipe::quoted;
use crate::tongue::Saying;
use crate::trial::crops::{EMERGE_C, TestCrop, Told};
use crate::trial::doses::{Bought, Doses, One};
use crate::trial::layout::{Design, GENERATOR, Layout, Site};
use crate::trial::mattering::MattersFault;
use crate::trial::measures::{From, Measure, Scale, usual_spread};
use crate::trial::plan::Predicted;
use crate::words::{Speech, bound, cost_text, fixed, mark_word, shown, significant};

/// Two numbers as a range, or one.
fn range(told: &Told) -> String {
    let [low, _, high] = told.value;
    if low == high {
        shown(low)
    } else {
        say!("{} to {}", shown(low), shown(high))
    }
}

/// What is known of a crop, in a few lines.
pub fn crop_lines(crop: &TestCrop, area_cm2: Option<f64>) -> Vec<String> {
    let mut up = Vec::new();
    for (days, celsius) in crop.emerge_days.iter().zip(EMERGE_C) {
        up.push(match days {
            Some(days) => say!("{} days at {} °C", shown(*days), shown(celsius)),
            None => say!("never at {} °C", shown(celsius)),
        });
    }
    let mut sown = say!(
        "Sow {} cm deep; in the end {} cm apart",
        range(&crop.depth_cm),
        range(&crop.spacing_cm)
    );
    match area_cm2.map(|area| crop.plants(area)) {
        Some(1) => sown += tr!(": one plant in each."),
        Some(plants) if plants > 1 => {
            sown += &say!(": thin to {} in each.", fixed(plants.into(), 0));
        }
        _ => sown += ".",
    }
    let salt = match crop.response() {
        Some(salt) => say!(
            "salt: full yield up to {} dS/m, then {} % less for each dS/m",
            shown(salt.threshold_ds_m),
            shown(salt.slope_pct)
        ),
        None => tr!("salt: no threshold is known").into(),
    };
    vec![
        say!(
            "{} is best for {}.",
            crop_name(crop.id),
            best_for_text(crop.best_for)
        ),
        say!(
            "{} days from sowing to harvest; {} hours of direct sun at the least.",
            range(&crop.harvest_days),
            range(&crop.sun_hours)
        ),
        say!("Comes up after {} of soil.", up.join(", ")),
        sown,
        say!(
            "Packed soil: {}; weedkiller in compost: {}; {}.",
            sensitivity_word(crop.compaction),
            sensitivity_word(crop.residue),
            salt
        ),
    ]
}

/// Where the numbers of a crop come from, line by line.
pub fn crop_sources(crop: &TestCrop) -> Vec<String> {
    let line = |what: &str, from: From| source_line(what, from);
    vec![
        line(tr!("Days to come up"), crop.emerge_from),
        line(tr!("Days to harvest"), crop.harvest_days.from),
        line(tr!("Depth"), crop.depth_cm.from),
        line(tr!("Spacing"), crop.spacing_cm.from),
        line(tr!("Sun"), crop.sun_hours.from),
    ]
}

fn source_line(what: &str, from: From) -> String {
    let (source, mark) = (source_told(from), mark_word(from.mark));
    if source == mark {
        return say!("{}: {}.", what, mark);
    }
    say!("{}: {} ({}).", what, source, mark)
}

/// A source of a crop or a measure; authors stay as they are.
fn source_told(from: From) -> &'static str {
    match from.source {
        "common practice" => tr!("common practice"),
        "a choice" => tr!("a choice"),
        "extension planting sheet" => tr!("extension planting sheet"),
        "a page on gardening, no trial" => tr!("a page on gardening, no trial"),
        "a seed seller's table of spacings" => tr!("a seed seller's table of spacings"),
        "common tables of field crops" => tr!("common tables of field crops"),
        "lettuce in four mixes, seven pots each, open data; computed here" => {
            tr!("lettuce in four mixes, seven pots each, open data; computed here")
        }
        source => source,
    }
}

/// The spread that a measure usually has, with its source.
pub fn usual_spread_text(measure: &str) -> Option<String> {
    let known = usual_spread(measure)?;
    let [low, _, high] = known.cv_pct;
    let between = if low == high {
        shown(low)
    } else {
        say!("{} to {}", shown(low), shown(high))
    };
    let mark = mark_word(known.from.mark);
    let source = source_told(known.from);
    let from = if source == mark {
        mark.to_owned()
    } else {
        [source, "; ", mark].concat()
    };
    Some(say!(
        "Usual between containers treated alike: {} % ({}). Your own, from an earlier row, is better.",
        between,
        from
    ))
}

/// What a difference that matters is in, for a measure.
pub fn matters_unit(measure: &Measure<'_>) -> String {
    match measure.scale {
        Scale::Log => "%".into(),
        Scale::Count if measure.of_sown => super::seen::POINTS.text().into(),
        Scale::Count if measure.unit.is_empty() => tr!("counted").into(),
        _ => measure.unit.to_owned(),
    }
}

/// A difference that matters with its unit.
fn matters_amount(measure: &Measure<'_>, value: f64) -> String {
    let unit = matters_unit(measure);
    if unit.is_empty() {
        shown(value)
    } else {
        [&shown(value), " ", &unit].concat()
    }
}

/// The difference that usually matters of a measure, with its source; none of what nobody knows.
pub fn usual_matters_text(measure: &Measure<'_>) -> Option<String> {
    let (value, from) = (measure.matters?, measure.matters_from?);
    Some(say!(
        "Usual: {} ({}).",
        matters_amount(measure, value),
        source_told(from)
    ))
}

/// Why a difference that matters cannot be said.
pub fn matters_fault_text(fault: &MattersFault) -> String {
    match fault {
        MattersFault::Measure { found } => {
            say!("Nobody knows the measure {}.", quoted(found))
        }
        MattersFault::Outside { low, high, .. } => limits_text((*low, *high), ""),
        MattersFault::Read { .. } => tr!(
            "This is measured already, so the difference that matters stays as it was said before."
        )
        .into(),
    }
}

/// Limits of what is typed, as one says them: a least value that nobody would weigh out is told as
/// more than nothing.
pub fn limits_text((low, high): (f64, f64), unit: &str) -> String {
    let unit = if unit.is_empty() {
        String::new()
    } else {
        [" ", unit].concat()
    };
    let high = bound(high);
    if low > 0.0 && low < LEAST_SAID {
        say!("It must be more than 0 and at most {}{}.", high, unit)
    } else {
        say!("It must be from {} to {}{}.", bound(low), high, unit)
    }
}

/// Below this a least value is told as more than nothing.
const LEAST_SAID: f64 = 0.001;

/// What one container weighs when it is filled, with the empty container, kg.
pub fn filled_kg(one: &One, empty_kg: f64) -> f64 {
    let added: f64 = one.added.iter().map(|added| added.moist_kg).sum();
    one.ground_moist_kg + added + empty_kg
}

/// The ground of one container.
pub fn ground_text(one: &One, speech: Speech) -> String {
    [
        &speech.mass(one.ground_moist_kg),
        " (",
        &speech.volume(one.ground_l),
        ")",
    ]
    .concat()
}

/// What is added to one container.
pub fn added_text(one: &One, speech: Speech) -> String {
    let many = one.added.len() > 1;
    let each = one.added.iter().map(|added| {
        let what = if many {
            [added.name.as_str(), " "].concat()
        } else {
            String::new()
        };
        let (mass, volume) = (speech.mass(added.moist_kg), speech.volume(added.loose_l));
        [&what, &mass, " (", &volume, ")"].concat()
    });
    let each: Vec<String> = each.collect();
    if each.is_empty() {
        tr!("nothing").into()
    } else {
        each.join("; ")
    }
}

/// What all containers together take, line by line: the ground first.
pub fn bought_lines(doses: &Doses, currency: Option<&str>, speech: Speech) -> Vec<String> {
    let mut out = vec![say!(
        "Ground to dig: {} ({} as it lies).",
        speech.mass(doses.ground_moist_kg),
        speech.volume(doses.ground_l)
    )];
    out.extend(
        doses
            .bought
            .iter()
            .map(|bought| bought_line(bought, currency, speech)),
    );
    if let Some(cost) = doses.cost
        && doses.bought.len() > 1
    {
        out.push(say!("Together {}.", cost_text(cost, currency)));
    }
    out
}

fn bought_line(bought: &Bought, currency: Option<&str>, speech: Speech) -> String {
    let mut out = say!(
        "{}: {} ({})",
        bought.name,
        speech.mass(bought.moist_kg),
        speech.volume(bought.loose_l)
    );
    if let Some(bags) = bought.bags {
        let bags = f64::from(bags);
        out += &say_many!(bags, ", {} bag", ", {} bags", fixed(bags, 0));
    }
    if let Some(cost) = bought.cost {
        out += &format!(", {}", cost_text(cost, currency));
    }
    out + "."
}

/// What lets anyone draw this layout again, and tells it from another.
pub fn drawn_from(layout: &Layout) -> String {
    say!(
        "Seed {}, generator {}, plan {}.",
        layout.seed,
        GENERATOR,
        layout.hash()
    )
}

/// How many blocks would find a difference in four of five trials.
pub fn needed_text(design: Design, needed: Option<u32>, difference: f64) -> String {
    let difference = fixed(difference, if difference.fract() == 0.0 { 0 } else { 1 });
    let what = match design {
        Design::Random => tr!("containers of each"),
        Design::Blocks => tr!("blocks"),
        Design::Latin => return String::new(),
    };
    match needed {
        Some(needed) => say!(
            "To find {} % in four of five such trials takes {} {}.",
            difference,
            fixed(needed.into(), 0),
            what
        ),
        None => say!(
            "To find {} % in four of five such trials takes more {} than anyone would fill.",
            difference,
            what
        ),
    }
}

/// What the plan from above shows.
pub fn plan_sentence(layout: &Layout, site: Option<Site>, blind: bool) -> String {
    let (rows, columns) = layout.grid();
    let block = match layout.design {
        Design::Blocks if rows > layout.blocks => tr!("a block takes several rows"),
        Design::Blocks => tr!("each row is a block: a strip of equal light with every treatment"),
        Design::Random => tr!("the rows only save room"),
        Design::Latin => tr!("every treatment stands once in each row and each column"),
    };
    let light = site.map_or(String::new(), |site| {
        let wedge = match site {
            Site::Even => "",
            Site::OneWay => tr!(" The wedge widens towards more light."),
            Site::TwoWays => tr!(" The wedges widen towards more light."),
        };
        say!(" Light: {}.{}", site_name(site), wedge)
    });
    let letters = if blind {
        tr!(" Letters hide what is in a container until all is scored; the key is below.")
    } else {
        tr!(" A thick ring is a control.")
    };
    say!(
        "Seen from above, {} rows of up to {} containers: {}.{}{}",
        rows,
        columns,
        block,
        light,
        letters
    )
}

/// Something foretold: its value, and its range where there is one.
pub fn foretold_text(of: Predicted, figure: Figure, speech: Speech) -> [String; 2] {
    let (factor, unit): (f64, &str) = match of {
        Predicted::AirSpace | Predicted::PoreSpace | Predicted::PlantWater => (100.0, " %"),
        Predicted::Density => (1.0, " g/cm³"),
        Predicted::Drainage => (1.0, " cm/h"),
        Predicted::Infiltration => (1.0, " min"),
        Predicted::Ph => (1.0, ""),
        Predicted::Salt => (1.0, " dS/m"),
        Predicted::Weight => {
            let told = speech.mass_told(figure);
            return [told.value, told.range];
        }
    };
    let number = |value: f64| {
        let value = value * factor;
        match of {
            Predicted::AirSpace | Predicted::PoreSpace | Predicted::PlantWater => fixed(value, 0),
            Predicted::Ph => fixed(value, 1),
            _ => significant(value, 2),
        }
    };
    let ends = figure.ends();
    let (low, high) = (number(ends.low), number(ends.high));
    let range = if low == high {
        String::new()
    } else {
        [&low, "–", &high].concat()
    };
    [number(figure.typical) + unit, range]
}

/// What is stored of a plan that has become another one.
pub const STALE: Saying = said!(
    "The plan has changed since the model’s expectation was stored: store it again, or it is done with the first record."
);

/// Whether doses are equal by mass, as their unit says; none where it says neither.
pub fn is_by_mass(unit: Unit) -> bool {
    use crate::quantity::Dimension;
    matches!(
        unit.dimension(),
        Dimension::Mass | Dimension::MassPerArea | Dimension::MassPerVolume
    )
}
