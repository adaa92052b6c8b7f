//! The trial in the saved recipe: its field `trial`, which the page keeps unread.
//!
//! Records stand in sheets: one measure, one day, the values of the containers from a number on, in
//! the order of labels. So a hundred readings take a few hundred letters of a link. Containers count
//! from 1; `null` is no record, `">480"` a value that is only known to lie above. What else is to be
//! said of a container stands in `more`.

use super::date::Date;
use super::layout::{
    CONTAINERS_LIMIT, COPIES_LIMIT, Design, SeedFault, Site, TREATMENTS, seed_of_text,
};
use super::measures::{Good, ID_LETTERS, MEASURES, OWN_LIMITS, OwnMeasure, Scale, find, is_id};
use super::plan::{Deed, GUESS_LIMITS_PCT, Guess, Predicted, Treatment, Trial, Vessel, Way};
use super::records::{
    Censor, Lost, Missing, RECORDS_LIMIT, REPS_LIMIT, Record, TEXT_LIMIT,
};
use crate::figure::Figure;
use crate::quantity::{Dimension, Unit};
use crate::recipe::object::{Object, Reading};
use crate::recipe::{
    Amount, Fault, Kept, Kind, Path, Recipe, RecipeError, Tree, number_of_text, number_text,
};

/// Most letters of the trial's own name on labels.
pub const NAME_LETTERS: usize = 20;
/// Most letters of a title, a treatment's name, a crop or a variety.
pub const TITLE_LETTERS: usize = 120;
/// Most letters of the notes.
pub const NOTES_LETTERS: usize = 4000;
/// Most measures of the user's own.
pub const OWN_MEASURES_LIMIT: usize = 20;
/// Most days for photographs.
pub const PHOTO_DAYS_LIMIT: usize = 50;
/// The last day of a trial, from sowing.
pub const DAYS_LIMIT: f64 = 4000.0;
/// Limits of the difference that matters, in % or the measure's unit.
pub const MATTERS_LIMITS: (f64, f64) = (1e-6, 1e6);
/// Limits of a spread that is expected, %.
pub const CV_LIMITS_PCT: (f64, f64) = (0.1, 300.0);
/// Most seeds or plants in a container.
pub const PLANTS_LIMIT: f64 = 10_000.0;
/// Most decimals that an own measure shows.
const DECIMALS_LIMIT: f64 = 6.0;
/// Most steps between two containers of a sheet that are bridged by `null`.
const BRIDGED: usize = 8;

const DOSES: [Dimension; 6] = [
    Dimension::Mass,
    Dimension::Volume,
    Dimension::Length,
    Dimension::MassPerArea,
    Dimension::MassPerVolume,
    Dimension::ShareOfVolume,
];

/// The trial of a recipe, if it has one.
///
/// # Errors
/// The first fault, with its path below `trial`.
pub fn trial_of(recipe: &Recipe) -> Result<Option<Trial>, RecipeError> {
    let Some(tree) = &recipe.trial else {
        return Ok(None);
    };
    let reading = Reading::new(recipe.is_of_later_release());
    let root = Object::of(&reading, tree.clone(), Path::from("trial"));
    let trial = trial(root);
    match reading.fault() {
        None => Ok(Some(trial)),
        Some(fault) => Err(fault),
    }
}

/// Gives a recipe a trial; none takes the field away.
pub fn set_trial(recipe: &mut Recipe, trial: Option<&Trial>) {
    recipe.trial = trial.map(tree);
}

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
fn some_amount(object: &mut Object, name: &'static str, dimensions: &[Dimension]) -> Option<Amount> {
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

fn trial(mut root: Object) -> Trial {
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
        blocks: count(&mut root, "blocks", CONTAINERS_LIMIT as f64)
            .unwrap_or(super::layout::USUAL_BLOCKS.0),
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
        expected_cv_pct: root.number("expected_cv_pct", CV_LIMITS_PCT),
        start: date(&mut root, "start"),
        photo_days: photo_days(&mut root),
        lost: root
            .objects("lost", CONTAINERS_LIMIT)
            .into_iter()
            .map(lost)
            .collect(),
        records: records(&mut root, &own_measures),
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
        object.wrong_field("id", Fault::TooMany { limit: ID_LETTERS.1 });
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

/// What a sheet says of one container beyond its value.
struct More {
    container: usize,
    missing: Option<Missing>,
    reps: u32,
    note: String,
    kept: Kept,
}

fn more(mut object: Object) -> More {
    More {
        container: container(&mut object, "container"),
        missing: object.word("missing", Missing::ALL, Missing::spelling),
        reps: count(&mut object, "reps", f64::from(REPS_LIMIT)).unwrap_or(1) as u32,
        note: text(&mut object, "note", TEXT_LIMIT).unwrap_or_default(),
        kept: object.finish(),
    }
}

fn records(root: &mut Object, own: &[OwnMeasure]) -> Vec<Record> {
    let mut out = Vec::new();
    for sheet in root.objects("records", RECORDS_LIMIT) {
        read_sheet(sheet, own, &mut out);
        if out.len() > RECORDS_LIMIT {
            let limit = RECORDS_LIMIT;
            root.wrong_field("records", Fault::TooMany { limit });
            out.truncate(limit);
        }
    }
    out
}

fn read_sheet(mut object: Object, own: &[OwnMeasure], out: &mut Vec<Record>) {
    let measure = object.text("measure").unwrap_or_else(|| {
        object.missing("measure");
        String::new()
    });
    known_measure(&object, "measure", own, &measure);
    let limits = find(own, &measure).map_or(OWN_LIMITS, |measure| measure.limits);
    let date = date(&mut object, "date").unwrap_or_else(|| {
        object.missing("date");
        // Never seen: the fault is told.
        Date::FIRST
    });
    let instrument = text(&mut object, "instrument", TEXT_LIMIT).unwrap_or_default();
    let scorer = text(&mut object, "scorer", TEXT_LIMIT).unwrap_or_default();
    let error = object.number("u", (0.0, OWN_LIMITS.1));
    let from = count(&mut object, "from", CONTAINERS_LIMIT as f64).unwrap_or(1) - 1;
    let values = match object.take("values") {
        Some(Tree::List(values)) => values,
        Some(_) => {
            object.wrong_field("values", Fault::Kind(Kind::List));
            Vec::new()
        }
        None => {
            object.missing("values");
            Vec::new()
        }
    };
    if from + values.len() > CONTAINERS_LIMIT {
        let limit = CONTAINERS_LIMIT;
        object.wrong_field("values", Fault::TooMany { limit });
    }
    let items = object.objects("more", CONTAINERS_LIMIT);
    let mut mores: Vec<More> = items.into_iter().map(more).collect();
    let first = out.len();
    for (index, value) in values.iter().take(CONTAINERS_LIMIT).enumerate() {
        let container = from + index;
        let of = mores.iter().position(|more| more.container == container);
        let more = of.map(|at| mores.swap_remove(at));
        let (value, censor) = match entry(value, limits) {
            Ok(entry) => entry,
            Err(fault) => {
                object.wrong_field("values", fault);
                continue;
            }
        };
        let missing = more.as_ref().and_then(|more| more.missing);
        if value.is_some() == missing.is_some() {
            if more.is_some() {
                object.wrong_field("more", Fault::OnlyOneOf(vec!["values", "missing"]));
            }
            if value.is_none() {
                continue;
            }
        }
        let mut record = Record {
            value,
            censor,
            missing,
            instrument: instrument.clone(),
            scorer: scorer.clone(),
            error,
            ..Record::of(container, date, measure.clone(), 0.0)
        };
        if let Some(more) = more {
            record.reps = more.reps;
            record.note = more.note;
            record.kept[0] = more.kept;
        }
        out.push(record);
    }
    // What is said of a container that has no place in the sheet would be lost.
    if !mores.is_empty() {
        object.wrong_field("more", Fault::UnknownField);
    }
    let kept = object.finish();
    if let Some(record) = out.get_mut(first) {
        record.kept[1] = kept;
    }
}

/// A value of a sheet.
fn entry(tree: &Tree, (low, high): (f64, f64)) -> Result<(Option<f64>, Censor), Fault> {
    let (value, censor) = match tree {
        Tree::Null => return Ok((None, Censor::None)),
        Tree::Number(text) => (number_of_text(text), Censor::None),
        Tree::Text(text) => {
            let censor = match text.as_bytes().first() {
                Some(b'>') => Censor::Above,
                Some(b'<') => Censor::Below,
                _ => return Err(Fault::Kind(Kind::Number)),
            };
            (number_of_text(text.get(1..).unwrap_or_default()), censor)
        }
        _ => return Err(Fault::Kind(Kind::Number)),
    };
    if !value.is_finite() {
        return Err(Fault::NotFinite { low, high });
    }
    if value < low || value > high {
        return Err(Fault::OutOfRange { value, low, high });
    }
    Ok((Some(value + 0.0), censor))
}

/// An object while it is written.
#[derive(Default)]
struct Pairs(Vec<(String, Tree)>);

impl Pairs {
    fn put(&mut self, name: &str, value: Option<Tree>) {
        if let Some(value) = value {
            self.0.push((name.to_owned(), value));
        }
    }

    fn text(&mut self, name: &str, value: Option<&str>) {
        self.put(name, value.map(Tree::text));
    }

    /// A text that is left out where it is empty.
    fn some(&mut self, name: &str, value: &str) {
        self.text(name, (!value.is_empty()).then_some(value));
    }

    fn number(&mut self, name: &str, value: Option<f64>) {
        self.put(name, value.map(Tree::number));
    }

    fn count(&mut self, name: &str, value: Option<usize>) {
        self.number(name, value.map(|value| value as f64));
    }

    fn amount(&mut self, name: &str, value: Option<&Amount>) {
        self.put(name, value.map(amount));
    }

    fn list(&mut self, name: &str, items: Vec<Tree>) {
        self.put(name, (!items.is_empty()).then_some(Tree::List(items)));
    }

    fn end(mut self, kept: &[(String, Tree)]) -> Tree {
        self.0.extend(kept.iter().cloned());
        Tree::Object(self.0)
    }
}

fn amount(amount: &Amount) -> Tree {
    let mut out = Pairs::default();
    out.number("value", Some(amount.value));
    out.text("unit", Some(amount.unit.spelling()));
    out.end(&amount.kept)
}

fn tree(trial: &Trial) -> Tree {
    let mut out = Pairs::default();
    out.text("id", Some(&trial.id));
    out.text("title", trial.title.as_deref());
    out.list("treatments", trial.treatments.iter().map(treatment_tree).collect());
    match &trial.vessel {
        Vessel::Container {
            volume,
            height,
            empty,
            kept,
        } => {
            let mut of = Pairs::default();
            of.amount("volume", Some(volume));
            of.amount("height", Some(height));
            of.amount("empty", empty.as_ref());
            out.put("container", Some(of.end(kept)));
        }
        Vessel::Strip { area, depth, kept } => {
            let mut of = Pairs::default();
            of.amount("area", Some(area));
            of.amount("depth", Some(depth));
            out.put("strip", Some(of.end(kept)));
        }
    }
    out.amount("dose", trial.dose.as_ref());
    out.text("design", Some(trial.design.spelling()));
    out.count("blocks", Some(trial.blocks));
    out.text("seed", Some(&trial.seed.to_string()));
    out.count("columns", trial.columns);
    out.text("site", trial.site.map(Site::spelling));
    out.put("blind", (!trial.blind).then_some(Tree::Bool(false)));
    out.text("crop", trial.crop.as_deref());
    out.text("variety", trial.variety.as_deref());
    out.number("seeds", trial.seeds.map(f64::from));
    out.number("plants", trial.plants.map(f64::from));
    out.text("primary", trial.primary.as_deref());
    out.number("matters", trial.matters);
    out.number("expected_cv_pct", trial.expected_cv_pct);
    out.list("measures", trial.own_measures.iter().map(own_tree).collect());
    out.text("start", trial.start.map(Date::iso).as_deref());
    let days = trial.photo_days.iter().copied().map(f64::from);
    out.list("photo_days", days.map(Tree::number).collect());
    out.list("lost", trial.lost.iter().map(lost_tree).collect());
    out.list("records", sheets(&trial.records));
    out.text("notes", trial.notes.as_deref());
    out.end(&trial.kept)
}

fn treatment_tree(treatment: &Treatment) -> Tree {
    let mut out = Pairs::default();
    out.text("is", Some(treatment.deed.spelling()));
    if let Deed::Addition { material } = &treatment.deed {
        out.text("material", Some(material));
    }
    out.text("name", treatment.name.as_deref());
    out.amount("dose", treatment.dose.as_ref());
    out.count("copies", treatment.copies);
    out.text("guess", treatment.guess.map(|guess| guess.way.spelling()));
    out.number("guess_pct", treatment.guess.and_then(|guess| guess.by_pct));
    if !treatment.predicted.is_empty() {
        let mut of = Pairs::default();
        for (which, figure) in &treatment.predicted {
            let tree = match figure.ends {
                None => Tree::number(figure.typical),
                Some(ends) => {
                    let three = [ends.low, figure.typical, ends.high];
                    Tree::List(three.map(Tree::number).to_vec())
                }
            };
            of.put(which.spelling(), Some(tree));
        }
        out.put("predicted", Some(of.end(&[])));
    }
    out.end(&treatment.kept)
}

fn own_tree(measure: &OwnMeasure) -> Tree {
    let mut out = Pairs::default();
    out.text("id", Some(&measure.id));
    out.text("name", measure.name.as_deref());
    out.some("unit", &measure.unit);
    out.text("scale", Some(measure.scale.spelling()));
    out.text("good", Some(measure.good.spelling()));
    out.number("matters", measure.matters);
    out.number("u", measure.error);
    let (low, high) = measure.limits;
    out.number("low", (low != OWN_LIMITS.0).then_some(low));
    out.number("high", (high != OWN_LIMITS.1).then_some(high));
    out.count("decimals", Some(measure.decimals));
    out.end(&measure.kept)
}

fn lost_tree(lost: &Lost) -> Tree {
    let mut out = Pairs::default();
    out.count("container", Some(lost.container + 1));
    out.text("reason", Some(lost.reason.spelling()));
    out.put("of_addition", lost.of_addition.map(Tree::Bool));
    out.text("on", lost.on.map(Date::iso).as_deref());
    out.some("note", &lost.note);
    out.end(&lost.kept)
}

/// Whether a record goes on with the sheet of another that stands right before it.
fn goes_on(before: &Record, record: &Record) -> bool {
    record.container > before.container
        && record.container - before.container <= BRIDGED
        && record.date == before.date
        && record.measure == before.measure
        && record.instrument == before.instrument
        && record.scorer == before.scorer
        && record.error == before.error
        && record.kept[1].is_empty()
}

fn sheets(records: &[Record]) -> Vec<Tree> {
    let mut out = Vec::new();
    for sheet in records.chunk_by(goes_on) {
        let Some(first) = sheet.first() else {
            continue;
        };
        let mut of = Pairs::default();
        of.text("measure", Some(&first.measure));
        of.text("date", Some(&first.date.iso()));
        of.some("instrument", &first.instrument);
        of.number("u", first.error);
        of.some("scorer", &first.scorer);
        of.count("from", (first.container > 0).then_some(first.container + 1));
        let mut values = Vec::with_capacity(sheet.len());
        let mut mores = Vec::new();
        for record in sheet {
            let place = record.container - first.container;
            values.resize(place, Tree::Null);
            values.push(match (record.value, record.censor) {
                (None, _) => Tree::Null,
                (Some(value), Censor::None) => Tree::number(value),
                (Some(value), censor) => {
                    Tree::Text([censor.sign(), &number_text(value)].concat())
                }
            });
            mores.extend(more_tree(record));
        }
        of.put("values", Some(Tree::List(values)));
        of.list("more", mores);
        out.push(of.end(&first.kept[1]));
    }
    out
}

fn more_tree(record: &Record) -> Option<Tree> {
    let mut out = Pairs::default();
    out.count("container", Some(record.container + 1));
    out.text("missing", record.missing.map(Missing::spelling));
    let reps = (record.reps != 1).then_some(record.reps);
    out.number("reps", reps.map(f64::from));
    out.some("note", &record.note);
    let says = out.0.len() > 1 || !record.kept[0].is_empty();
    says.then(|| out.end(&record.kept[0]))
}
