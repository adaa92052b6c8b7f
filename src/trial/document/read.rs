//! From the tree to a trial.

mod sheet;

use super::{
    CV_LIMITS_PCT, DAYS_LIMIT, MATTERS_LIMITS, NAME_LETTERS, NOTES_LETTERS, OWN_MEASURES_LIMIT,
    PHOTO_DAYS_LIMIT, PLANTS_LIMIT, TITLE_LETTERS,
};
use crate::figure::Figure;
use crate::quantity::{Dimension, Unit};
use crate::recipe::object::Object;
use crate::recipe::{Amount, Fault, Kept, Kind, Tree, number_of_text};
use crate::trial::date::Date;
use crate::trial::layout::{
    CONTAINERS_LIMIT, COPIES_LIMIT, Design, SeedFault, Site, TREATMENTS, USUAL_BLOCKS, seed_of_text,
};
use crate::trial::mattering::SaidMatters;
use crate::trial::measures::{
    Good, ID_LETTERS, MEASURES, OWN_LIMITS, OwnMeasure, Scale, find, is_id,
};
use crate::trial::plan::{Deed, GUESS_LIMITS_PCT, Guess, Predicted, Treatment, Trial, Vessel, Way};
use crate::trial::records::{Lost, Missing, TEXT_LIMIT};

/// Most decimals that an own measure shows.
const DECIMALS_LIMIT: f64 = 6.0;
const DOSES: [Dimension; 6] = [
    Dimension::Mass,
    Dimension::Volume,
    Dimension::Length,
    Dimension::MassPerArea,
    Dimension::MassPerVolume,
    Dimension::ShareOfVolume,
];

/// A text that is not too long.
fn text(object: &mut Object, name: &'static str, most: usize) -> Option<String> {
    let text = object.text(name)?;
    if text.chars().count() > most {
        object.wrong_field(name, Fault::TooMany { limit: most });
    }
    Some(text)
}

fn whole(object: &mut Object, name: &'static str, limits: (f64, f64)) -> Option<f64> {
    let value = object.number(name, limits)?;
    if value.fract() != 0.0 {
        object.wrong_field(name, Fault::Kind(Kind::Whole));
    }
    Some(value)
}

fn count(object: &mut Object, name: &'static str, most: f64) -> Option<usize> {
    whole(object, name, (1.0, most)).map(|value| value as usize)
}

fn date(object: &mut Object, name: &'static str) -> Option<Date> {
    let found = object.text(name)?;
    let date = Date::of_iso(&found);
    if date.is_none() {
        let allowed = vec!["YYYY-MM-DD"];
        object.wrong_field(name, Fault::NotOneOf { found, allowed });
    }
    date
}

/// An amount that is more than nothing.
fn some_amount(
    object: &mut Object,
    name: &'static str,
    dimensions: &[Dimension],
) -> Option<Amount> {
    let amount = object.amount(name, dimensions)?;
    if amount.value <= 0.0 {
        let (low, high) = (crate::recipe::AMOUNT_LEAST, crate::recipe::AMOUNT_LIMIT);
        let value = amount.value;
        object.wrong_value(name, Fault::OutOfRange { value, low, high });
    }
    Some(amount)
}

fn needed(object: &mut Object, name: &'static str, dimensions: &[Dimension]) -> Amount {
    let amount = some_amount(object, name, dimensions);
    amount.unwrap_or_else(|| {
        object.missing(name);
        Amount::new(0.0, Unit::Litre)
    })
}

fn seed(object: &mut Object) -> u64 {
    let Some(text) = object.text("seed") else {
        object.missing("seed");
        return 0;
    };
    let fault = match seed_of_text(&text) {
        Ok(seed) => return seed,
        Err(SeedFault::NotDigits) => Fault::Kind(Kind::Whole),
        Err(SeedFault::TooLarge { most }) => Fault::OutOfRange {
            value: number_of_text(&text),
            low: 0.0,
            high: most as f64,
        },
    };
    object.wrong_field("seed", fault);
    0
}

pub(super) fn trial(mut root: Object) -> Trial {
    let id = text(&mut root, "id", NAME_LETTERS).unwrap_or_else(|| {
        root.missing("id");
        String::new()
    });
    let own_measures: Vec<OwnMeasure> = root
        .objects("measures", OWN_MEASURES_LIMIT)
        .into_iter()
        .map(own_measure)
        .collect();
    for (index, measure) in own_measures.iter().enumerate() {
        let twice = |other: &OwnMeasure| other.id == measure.id;
        if own_measures[..index].iter().any(twice) {
            root.wrong_field("measures", Fault::Twice);
        }
    }
    let primary = root.text("primary");
    if let Some(found) = &primary {
        known_measure(&root, "primary", &own_measures, found);
    }
    let treatments = root.objects("treatments", TREATMENTS.1);
    Trial {
        id,
        title: text(&mut root, "title", TITLE_LETTERS),
        treatments: treatments.into_iter().map(treatment).collect(),
        vessel: vessel(&mut root),
        dose: some_amount(&mut root, "dose", &DOSES),
        design: root
            .word("design", Design::ALL, Design::spelling)
            .unwrap_or(Design::Blocks),
        blocks: count(&mut root, "blocks", CONTAINERS_LIMIT as f64).unwrap_or(USUAL_BLOCKS.0),
        seed: seed(&mut root),
        columns: count(&mut root, "columns", CONTAINERS_LIMIT as f64),
        site: root.word("site", Site::ALL, Site::spelling),
        blind: root.bool("blind").unwrap_or(true),
        crop: text(&mut root, "crop", TITLE_LETTERS),
        variety: text(&mut root, "variety", TITLE_LETTERS),
        seeds: count(&mut root, "seeds", PLANTS_LIMIT).map(|seeds| seeds as u32),
        plants: count(&mut root, "plants", PLANTS_LIMIT).map(|plants| plants as u32),
        primary,
        matters: root.number("matters", MATTERS_LIMITS),
        said_matters: {
            let mut said = Vec::new();
            said_matters(&mut root, "matters_of", &own_measures, &mut said);
            said_matters(&mut root, "matters_late", &own_measures, &mut said);
            said
        },
        expected_cv_pct: root.number("expected_cv_pct", CV_LIMITS_PCT),
        start: date(&mut root, "start"),
        photo_days: photo_days(&mut root),
        lost: root
            .objects("lost", CONTAINERS_LIMIT)
            .into_iter()
            .map(lost)
            .collect(),
        records: sheet::records(&mut root, &own_measures),
        notes: text(&mut root, "notes", NOTES_LETTERS),
        own_measures,
        kept: root.finish(),
    }
}

fn known_measure(object: &Object, name: &str, own: &[OwnMeasure], found: &str) {
    if find(own, found).is_none() {
        let found = found.to_owned();
        let allowed = MEASURES.iter().map(|measure| measure.id).collect();
        object.wrong_field(name, Fault::NotOneOf { found, allowed });
    }
}

/// Differences that matter by their measures, each once.
fn said_matters(
    root: &mut Object,
    name: &'static str,
    own: &[OwnMeasure],
    out: &mut Vec<SaidMatters>,
) {
    let pairs = match root.take(name) {
        None => return,
        Some(Tree::Object(pairs)) => pairs,
        Some(_) => {
            root.wrong_field(name, Fault::Kind(Kind::Object));
            return;
        }
    };
    for (measure, value) in pairs {
        known_measure(root, name, own, &measure);
        if out.iter().any(|said| said.measure == measure) {
            root.wrong_field(name, Fault::Twice);
        }
        let (low, high) = MATTERS_LIMITS;
        match number(&value) {
            Ok(value) if value >= low && value <= high => out.push(SaidMatters {
                measure,
                value,
                late: name == "matters_late",
            }),
            Ok(value) => root.wrong_field(name, Fault::OutOfRange { value, low, high }),
            Err(fault) => root.wrong_field(name, fault),
        }
    }
}

fn vessel(root: &mut Object) -> Vessel {
    let container = root.object("container");
    let strip = root.object("strip");
    if container.is_some() && strip.is_some() {
        root.wrong(Fault::OnlyOneOf(vec!["container", "strip"]));
    }
    if let Some(mut strip) = strip {
        return Vessel::Strip {
            area: needed(&mut strip, "area", &[Dimension::Area]),
            depth: needed(&mut strip, "depth", &[Dimension::Length]),
            kept: strip.finish(),
        };
    }
    let Some(mut container) = container else {
        root.missing("container");
        return Vessel::Container {
            volume: Amount::new(0.0, Unit::Litre),
            height: Amount::new(0.0, Unit::Centimetre),
            empty: None,
            kept: Kept::new(),
        };
    };
    Vessel::Container {
        volume: needed(&mut container, "volume", &[Dimension::Volume]),
        height: needed(&mut container, "height", &[Dimension::Length]),
        empty: container.amount("empty", &[Dimension::Mass]),
        kept: container.finish(),
    }
}

fn treatment(mut object: Object) -> Treatment {
    let spelling = |index: usize| Deed::SPELLINGS.get(index).copied().unwrap_or("");
    let deed = object.word("is", &[0, 1, 2, 3], spelling);
    if deed.is_none() {
        object.missing("is");
    }
    let material = object.text("material");
    let deed = match (deed, material) {
        (Some(2), None) => {
            object.missing("material");
            Deed::Dug
        }
        (Some(2), Some(material)) => Deed::Addition { material },
        (_, Some(_)) => {
            object.wrong_field("material", Fault::UnknownField);
            Deed::Dug
        }
        (Some(0), None) => Deed::Untouched,
        (Some(3), None) => Deed::Blend,
        (_, None) => Deed::Dug,
    };
    let way = object.word("guess", Way::ALL, Way::spelling);
    let by_pct = object.number("guess_pct", GUESS_LIMITS_PCT);
    if way.is_none() && by_pct.is_some() {
        object.missing("guess");
    }
    Treatment {
        deed,
        name: text(&mut object, "name", TITLE_LETTERS),
        dose: some_amount(&mut object, "dose", &DOSES),
        copies: count(&mut object, "copies", COPIES_LIMIT as f64),
        guess: way.map(|way| Guess { way, by_pct }),
        predicted: predicted(&mut object),
        kept: object.finish(),
    }
}

/// Figures as a number, or a list of low, typical and high.
fn predicted(object: &mut Object) -> Vec<(Predicted, Figure)> {
    let mut out: Vec<(Predicted, Figure)> = Vec::new();
    let pairs = match object.take("predicted") {
        None => return out,
        Some(Tree::Object(pairs)) => pairs,
        Some(_) => {
            object.wrong_field("predicted", Fault::Kind(Kind::Object));
            return out;
        }
    };
    for (name, value) in pairs {
        let mut all = Predicted::ALL.iter().copied();
        let Some(of) = all.find(|of| of.spelling() == name) else {
            let allowed = Predicted::ALL.iter().map(|of| of.spelling()).collect();
            let found = name;
            object.wrong_field("predicted", Fault::NotOneOf { found, allowed });
            continue;
        };
        if out.iter().any(|(known, _)| *known == of) {
            object.wrong_field("predicted", Fault::Twice);
        }
        match figure(&value) {
            Ok(figure) => out.push((of, figure)),
            Err(fault) => object.wrong_field("predicted", fault),
        }
    }
    out
}

fn number(tree: &Tree) -> Result<f64, Fault> {
    let Tree::Number(text) = tree else {
        return Err(Fault::Kind(Kind::Number));
    };
    let value = number_of_text(text);
    let (low, high) = OWN_LIMITS;
    if value >= low && value <= high {
        // Minus zero is zero.
        return Ok(value + 0.0);
    }
    if value.is_finite() {
        return Err(Fault::OutOfRange { value, low, high });
    }
    Err(Fault::NotFinite { low, high })
}

fn figure(tree: &Tree) -> Result<Figure, Fault> {
    let Tree::List(items) = tree else {
        return number(tree).map(Figure::exact);
    };
    let [low, typical, high] = items.as_slice() else {
        return Err(Fault::Kind(Kind::NumberOrRange));
    };
    let (low, typical, high) = (number(low)?, number(typical)?, number(high)?);
    if low <= typical && typical <= high {
        Ok(Figure::between(low, typical, high))
    } else {
        Err(Fault::RangeOrder)
    }
}

fn own_measure(mut object: Object) -> OwnMeasure {
    let id = object.text("id").unwrap_or_else(|| {
        object.missing("id");
        "a".to_owned()
    });
    if id.len() > ID_LETTERS.1 {
        object.wrong_field(
            "id",
            Fault::TooMany {
                limit: ID_LETTERS.1,
            },
        );
    } else if !is_id(&id) {
        let (found, allowed) = (id.clone(), vec!["a-z", "0-9", "_"]);
        object.wrong_field("id", Fault::NotOneOf { found, allowed });
    } else if MEASURES.iter().any(|known| known.id == id) {
        object.wrong_field("id", Fault::Twice);
    }
    let low = object.number("low", OWN_LIMITS).unwrap_or(OWN_LIMITS.0);
    let high = object.number("high", OWN_LIMITS).unwrap_or(OWN_LIMITS.1);
    if low > high {
        object.wrong_field("low", Fault::RangeOrder);
    }
    OwnMeasure {
        id,
        name: text(&mut object, "name", TITLE_LETTERS),
        unit: text(&mut object, "unit", NAME_LETTERS).unwrap_or_default(),
        scale: object
            .word("scale", Scale::ALL, Scale::spelling)
            .unwrap_or(Scale::Raw),
        good: object
            .word("good", Good::ALL, Good::spelling)
            .unwrap_or(Good::Neither),
        matters: object.number("matters", MATTERS_LIMITS),
        error: object.number("u", (0.0, OWN_LIMITS.1)),
        limits: (low, high),
        decimals: whole(&mut object, "decimals", (0.0, DECIMALS_LIMIT)).unwrap_or(1.0) as usize,
        kept: object.finish(),
    }
}

fn photo_days(root: &mut Object) -> Vec<u32> {
    let limit = PHOTO_DAYS_LIMIT;
    let items = match root.take("photo_days") {
        None => return Vec::new(),
        Some(Tree::List(items)) if items.len() <= limit => items,
        Some(Tree::List(_)) => {
            root.wrong_field("photo_days", Fault::TooMany { limit });
            return Vec::new();
        }
        Some(_) => {
            root.wrong_field("photo_days", Fault::Kind(Kind::List));
            return Vec::new();
        }
    };
    let mut days = Vec::with_capacity(items.len());
    for item in &items {
        let (low, high) = (0.0, DAYS_LIMIT);
        match number(item) {
            Ok(value) if value < low || value > high => {
                root.wrong_field("photo_days", Fault::OutOfRange { value, low, high });
            }
            Ok(value) if value.fract() != 0.0 => {
                root.wrong_field("photo_days", Fault::Kind(Kind::Whole));
            }
            Ok(value) => days.push(value as u32),
            Err(fault) => root.wrong_field("photo_days", fault),
        }
    }
    days
}

/// The number of a container, which counts from 1 there and from 0 here.
fn container(object: &mut Object, name: &'static str) -> usize {
    let container = count(object, name, CONTAINERS_LIMIT as f64);
    container.unwrap_or_else(|| {
        object.missing(name);
        1
    }) - 1
}

fn lost(mut object: Object) -> Lost {
    let container = container(&mut object, "container");
    let reason = object.word("reason", Missing::ALL, Missing::spelling);
    if reason.is_none() {
        object.missing("reason");
    }
    Lost {
        container,
        reason: reason.unwrap_or(Missing::Other),
        of_addition: object.bool("of_addition"),
        on: date(&mut object, "on"),
        note: text(&mut object, "note", TEXT_LIMIT).unwrap_or_default(),
        kept: object.finish(),
    }
}
