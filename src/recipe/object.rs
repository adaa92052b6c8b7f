//! One object of the document while it is read: what is asked for is taken out, what is left over
//! is unknown.
//!
//! Reading goes on after a fault, with nothing in place of what is wrong, and the first fault is
//! told at the end: that takes a third of the code that leaving at each fault takes.

use super::{AMOUNT_LIMIT, Amount, Fault, Kept, Kind, Path, RecipeError, Tree};
use crate::figure::Figure;
use crate::quantity::{Dimension, Unit};
use std::cell::Cell;

/// What all objects of a document share.
pub(crate) struct Reading {
    first: Cell<Option<RecipeError>>,
    /// All of them, for forms; the page tells one at a time.
    #[cfg(not(feature = "page"))]
    all: std::cell::RefCell<Vec<RecipeError>>,
    keep_unknown: bool,
}

impl Reading {
    pub(crate) fn new(keep_unknown: bool) -> Reading {
        Reading {
            first: Cell::new(None),
            #[cfg(not(feature = "page"))]
            all: std::cell::RefCell::default(),
            keep_unknown,
        }
    }

    /// Notes a fault; the first one stays.
    #[inline(never)]
    pub(crate) fn note(&self, path: Path, fault: Fault) {
        #[cfg(not(feature = "page"))]
        self.also(&path, &fault);
        let first = self.first.take().unwrap_or(RecipeError { path, fault });
        self.first.set(Some(first));
    }

    /// The first fault.
    pub(crate) fn fault(&self) -> Option<RecipeError> {
        self.first.take()
    }

    /// Keeps a fault, unless it only follows from one before: a field has one fault, an object whose
    /// field is at fault has none of its own, and nothing is missing in what is no object.
    #[cfg(not(feature = "page"))]
    fn also(&self, path: &Path, fault: &Fault) {
        let mut all = self.all.borrow_mut();
        let follows = |before: &RecipeError| {
            let no_object = matches!(before.fault, Fault::Kind(_));
            before.path == *path || path.holds(&before.path) || no_object && before.path.holds(path)
        };
        if all.len() < FAULTS_LIMIT && !all.iter().any(follows) {
            all.push(fault.clone().at(path.clone()));
        }
    }

    /// Whether a fault was found there or within.
    #[cfg(not(feature = "page"))]
    pub(crate) fn is_wrong_in(&self, path: &Path) -> bool {
        let all = self.all.borrow();
        all.iter()
            .any(|before| before.path == *path || path.holds(&before.path))
    }

    /// All faults, the first one first.
    #[cfg(not(feature = "page"))]
    pub(crate) fn faults(self) -> Vec<RecipeError> {
        self.all.into_inner()
    }
}

/// Most faults that are told of one document.
#[cfg(not(feature = "page"))]
const FAULTS_LIMIT: usize = 100;

/// An object and where it stands.
pub(crate) struct Object<'a> {
    reading: &'a Reading,
    path: Path,
    pairs: Vec<(String, Tree)>,
    asked: Vec<&'static str>,
}

impl<'a> Object<'a> {
    pub(crate) fn of(reading: &'a Reading, tree: Tree, path: Path) -> Object<'a> {
        let pairs = match tree {
            Tree::Object(pairs) => pairs,
            _ => {
                reading.note(path.clone(), Fault::Kind(Kind::Object));
                Vec::new()
            }
        };
        Object {
            reading,
            path,
            pairs,
            asked: Vec::new(),
        }
    }

    /// Notes a fault of the object itself.
    pub(crate) fn wrong(&self, fault: Fault) {
        self.reading.note(self.path.clone(), fault);
    }

    /// Notes a fault of a field.
    #[inline(never)]
    pub(crate) fn wrong_field(&self, name: &str, fault: Fault) {
        self.reading.note(self.path.field(name), fault);
    }

    /// Notes a fault of the value of an amount.
    pub(crate) fn wrong_value(&self, name: &str, fault: Fault) {
        self.reading
            .note(self.path.field(name).field("value"), fault);
    }

    /// Notes that another kind of value was expected.
    fn wrong_kind(&self, name: &str, kind: Kind) {
        self.wrong_field(name, Fault::Kind(kind));
    }

    /// Notes that a field is missing.
    pub(crate) fn missing(&self, name: &str) {
        self.wrong_field(name, Fault::Missing);
    }

    /// Takes a field out.
    #[inline(never)]
    pub(crate) fn take(&mut self, name: &'static str) -> Option<Tree> {
        self.asked.push(name);
        let index = self.pairs.iter().position(|(known, _)| known == name)?;
        Some(self.pairs.remove(index).1)
    }

    /// Takes an object out.
    #[inline(never)]
    pub(crate) fn object(&mut self, name: &'static str) -> Option<Object<'a>> {
        let tree = self.take(name)?;
        Some(Object::of(self.reading, tree, self.path.field(name)))
    }

    /// Takes a list of objects out, empty where absent.
    pub(crate) fn objects(&mut self, name: &'static str, limit: usize) -> Vec<Object<'a>> {
        let mut objects = Vec::new();
        match self.take(name) {
            None => {}
            Some(Tree::List(items)) if items.len() > limit => {
                self.wrong_field(name, Fault::TooMany { limit });
            }
            Some(Tree::List(items)) => {
                let path = self.path.field(name);
                for (index, item) in items.into_iter().enumerate() {
                    objects.push(Object::of(self.reading, item, path.item(index)));
                }
            }
            Some(_) => self.wrong_kind(name, Kind::List),
        }
        objects
    }

    /// Takes a text out.
    #[inline(never)]
    pub(crate) fn text(&mut self, name: &'static str) -> Option<String> {
        match self.take(name)? {
            Tree::Text(text) => return Some(text),
            _ => self.wrong_kind(name, Kind::Text),
        }
        None
    }

    /// Takes a yes or no out.
    pub(crate) fn bool(&mut self, name: &'static str) -> Option<bool> {
        match self.take(name)? {
            Tree::Bool(value) => return Some(value),
            _ => self.wrong_kind(name, Kind::Bool),
        }
        None
    }

    /// Takes one of several words out.
    pub(crate) fn word<T: Copy>(
        &mut self,
        name: &'static str,
        all: &[T],
        spelling: fn(T) -> &'static str,
    ) -> Option<T> {
        let index = self.word_index(name, all.len(), &|index| spelling(all[index]))?;
        Some(all[index])
    }

    #[inline(never)]
    fn word_index(
        &mut self,
        name: &'static str,
        count: usize,
        spelling: &dyn Fn(usize) -> &'static str,
    ) -> Option<usize> {
        let found = self.text(name)?;
        let mut allowed = Vec::new();
        for index in 0..count {
            let word = spelling(index);
            if word == found {
                return Some(index);
            }
            allowed.push(word);
        }
        self.wrong_field(name, Fault::NotOneOf { found, allowed });
        None
    }

    /// Takes a plain number out.
    #[inline(never)]
    pub(crate) fn number(&mut self, name: &'static str, limits: (f64, f64)) -> Option<f64> {
        match self.take(name)? {
            Tree::Number(text) => return self.within(name, &text, limits),
            _ => self.wrong_kind(name, Kind::Number),
        }
        None
    }

    /// Takes a number that must be there.
    pub(crate) fn need_number(&mut self, name: &'static str, limits: (f64, f64)) -> f64 {
        let value = self.number(name, limits);
        if value.is_none() {
            self.missing(name);
        }
        value.unwrap_or(0.0)
    }

    /// Takes a number or a range of three out, and what a later release put into the range.
    #[inline(never)]
    pub(crate) fn figure(
        &mut self,
        name: &'static str,
        limits: (f64, f64),
    ) -> (Option<Figure>, Kept) {
        let nothing = (None, Kept::new());
        let tree = match self.take(name) {
            None => return nothing,
            Some(Tree::Number(text)) => {
                let value = self.within(name, &text, limits);
                return (value.map(Figure::exact), Kept::new());
            }
            Some(tree @ Tree::Object(_)) => tree,
            Some(_) => {
                self.wrong_kind(name, Kind::NumberOrRange);
                return nothing;
            }
        };
        let mut range = Object::of(self.reading, tree, self.path.field(name));
        let low = range.need_number("low", limits);
        let typical = range.need_number("typical", limits);
        let high = range.need_number("high", limits);
        let kept = range.finish();
        if !(low <= typical && typical <= high) {
            self.wrong_field(name, Fault::RangeOrder);
        }
        (Some(Figure::between(low, typical, high)), kept)
    }

    /// Takes an amount out, in a unit of one of these dimensions.
    #[inline(never)]
    pub(crate) fn amount(
        &mut self,
        name: &'static str,
        dimensions: &[Dimension],
    ) -> Option<Amount> {
        Some(self.object(name)?.into_amount(dimensions))
    }

    /// Takes an amount out that must be there.
    pub(crate) fn need_amount(&mut self, name: &'static str, dimensions: &[Dimension]) -> Amount {
        let amount = self.amount(name, dimensions);
        amount.unwrap_or_else(|| {
            self.missing(name);
            Amount::new(0.0, Unit::ALL[0])
        })
    }

    /// Reads this whole object as an amount.
    #[inline(never)]
    pub(crate) fn into_amount(mut self, dimensions: &[Dimension]) -> Amount {
        let (value, unit) = self.value_and_unit(dimensions);
        Amount {
            value,
            unit,
            kept: self.finish(),
        }
    }

    /// Takes `value` and `unit` out.
    #[inline(never)]
    pub(crate) fn value_and_unit(&mut self, dimensions: &[Dimension]) -> (f64, Unit) {
        let value = self.need_number("value", (0.0, AMOUNT_LIMIT));
        let mut units = Vec::new();
        for unit in Unit::ALL.iter().copied() {
            if dimensions.contains(&unit.dimension()) {
                units.push(unit);
            }
        }
        let unit = self.word("unit", &units, Unit::spelling);
        if unit.is_none() {
            self.missing("unit");
        }
        (value, unit.unwrap_or(Unit::ALL[0]))
    }

    /// Ends the reading: what is left is kept or refused.
    #[inline(never)]
    pub(crate) fn finish(self) -> Kept {
        for (name, _) in &self.pairs {
            if self.asked.contains(&name.as_str()) {
                self.wrong_field(name, Fault::Twice);
            }
        }
        if !self.reading.keep_unknown {
            for (name, _) in &self.pairs {
                self.wrong_field(name, Fault::UnknownField);
            }
        }
        self.pairs
    }

    /// A number inside its limits.
    fn within(&self, name: &str, text: &str, (low, high): (f64, f64)) -> Option<f64> {
        let value = super::number_of_text(text);
        let fault = if !value.is_finite() {
            Fault::NotFinite { low, high }
        } else if value < low || value > high {
            Fault::OutOfRange { value, low, high }
        } else {
            // Minus zero is zero.
            return Some(value + 0.0);
        };
        self.wrong_field(name, fault);
        None
    }
}
