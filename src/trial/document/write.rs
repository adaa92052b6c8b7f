//! From a trial to the tree.

use crate::recipe::{Amount, Tree, number_text};
use crate::trial::date::Date;
use crate::trial::layout::Site;
use crate::trial::measures::{OWN_LIMITS, OwnMeasure};
use crate::trial::plan::{Deed, Treatment, Trial, Vessel};
use crate::trial::records::{Censor, Lost, Missing, Record};

/// Most steps between two containers of a sheet that are bridged by `null`.
const BRIDGED: usize = 8;

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

pub(super) fn tree(trial: &Trial) -> Tree {
    let mut out = Pairs::default();
    out.text("id", Some(&trial.id));
    out.text("title", trial.title.as_deref());
    out.list(
        "treatments",
        trial.treatments.iter().map(treatment_tree).collect(),
    );
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
    out.put("matters_of", matters(trial, false));
    out.put("matters_late", matters(trial, true));
    out.number("expected_cv_pct", trial.expected_cv_pct);
    out.list(
        "measures",
        trial.own_measures.iter().map(own_tree).collect(),
    );
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

/// Differences that matter by their measures. One of the user's own that is gone takes its own along.
fn matters(trial: &Trial, late: bool) -> Option<Tree> {
    let all = trial.said_matters.iter();
    let of = all.filter(|said| said.late == late && trial.measure(&said.measure).is_some());
    let pairs: Vec<(String, Tree)> = of
        .map(|said| (said.measure.clone(), Tree::number(said.value)))
        .collect();
    (!pairs.is_empty()).then_some(Tree::Object(pairs))
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
                (Some(value), censor) => Tree::Text([censor.sign(), &number_text(value)].concat()),
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
