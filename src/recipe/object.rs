//! One object of the document while it is read: what is asked for is taken out, what is left over
//! is unknown.

use super::{AMOUNT_LIMIT, Amount, Fault, Kept, Kind, Path, RecipeError, Tree};
use crate::figure::Figure;
use crate::quantity::{Dimension, Unit};

/// An object and where it stands.
pub(super) struct Object {
    pub(super) path: Path,
    pairs: Vec<(String, Tree)>,
    taken: Vec<String>,
    keep_unknown: bool,
}

impl Object {
    /// # Errors
    /// Not an object.
    pub(super) fn of(tree: Tree, path: Path, keep_unknown: bool) -> Result<Object, RecipeError> {
        let Tree::Object(pairs) = tree else {
            return Err(Fault::Kind(Kind::Object).at(path));
        };
        Ok(Object {
            path,
            pairs,
            taken: Vec::new(),
            keep_unknown,
        })
    }

    /// Takes a field out.
    pub(super) fn take(&mut self, name: &str) -> Option<Tree> {
        let index = self.pairs.iter().position(|(known, _)| known == name)?;
        let (name, value) = self.pairs.remove(index);
        self.taken.push(name);
        Some(value)
    }

    /// Takes a field that must be there.
    pub(super) fn need(&mut self, name: &str) -> Result<Tree, RecipeError> {
        let path = self.path.field(name);
        self.take(name).ok_or_else(|| Fault::Missing.at(path))
    }

    /// Takes an object out.
    pub(super) fn object(&mut self, name: &str) -> Result<Option<Object>, RecipeError> {
        let path = self.path.field(name);
        let keep_unknown = self.keep_unknown;
        self.take(name)
            .map(|tree| Object::of(tree, path, keep_unknown))
            .transpose()
    }

    /// Takes a list of objects out, empty where absent.
    pub(super) fn objects(&mut self, name: &str, limit: usize) -> Result<Vec<Object>, RecipeError> {
        let path = self.path.field(name);
        let keep_unknown = self.keep_unknown;
        match self.take(name) {
            None => Ok(Vec::new()),
            Some(Tree::List(items)) if items.len() > limit => {
                Err(Fault::TooMany { limit }.at(path))
            }
            Some(Tree::List(items)) => items
                .into_iter()
                .enumerate()
                .map(|(index, item)| Object::of(item, path.item(index), keep_unknown))
                .collect(),
            Some(_) => Err(Fault::Kind(Kind::List).at(path)),
        }
    }

    /// Takes a text out.
    pub(super) fn text(&mut self, name: &str) -> Result<Option<String>, RecipeError> {
        let path = self.path.field(name);
        match self.take(name) {
            None => Ok(None),
            Some(Tree::Text(text)) => Ok(Some(text)),
            Some(_) => Err(Fault::Kind(Kind::Text).at(path)),
        }
    }

    /// Takes a yes or no out.
    pub(super) fn bool(&mut self, name: &str) -> Result<Option<bool>, RecipeError> {
        let path = self.path.field(name);
        match self.take(name) {
            None => Ok(None),
            Some(Tree::Bool(value)) => Ok(Some(value)),
            Some(_) => Err(Fault::Kind(Kind::Bool).at(path)),
        }
    }

    /// Takes one of several words out.
    pub(super) fn word<T: Copy>(
        &mut self,
        name: &str,
        all: &[T],
        spelling: fn(T) -> &'static str,
    ) -> Result<Option<T>, RecipeError> {
        let path = self.path.field(name);
        let Some(found) = self.text(name)? else {
            return Ok(None);
        };
        match all.iter().find(|item| spelling(**item) == found) {
            Some(item) => Ok(Some(*item)),
            None => {
                let allowed = all.iter().map(|item| spelling(*item)).collect();
                Err(Fault::NotOneOf { found, allowed }.at(path))
            }
        }
    }

    /// Takes a plain number out.
    pub(super) fn number(
        &mut self,
        name: &str,
        limits: (f64, f64),
    ) -> Result<Option<f64>, RecipeError> {
        let path = self.path.field(name);
        match self.take(name) {
            None => Ok(None),
            Some(Tree::Number(text)) => within(&text, limits, path).map(Some),
            Some(_) => Err(Fault::Kind(Kind::Number).at(path)),
        }
    }

    /// Takes a number or a range of three out, and what a later release put into the range.
    pub(super) fn figure(
        &mut self,
        name: &str,
        limits: (f64, f64),
    ) -> Result<(Option<Figure>, Kept), RecipeError> {
        let path = self.path.field(name);
        let tree = match self.take(name) {
            None => return Ok((None, Kept::new())),
            Some(Tree::Number(text)) => {
                let value = within(&text, limits, path)?;
                return Ok((Some(Figure::exact(value)), Kept::new()));
            }
            Some(tree @ Tree::Object(_)) => tree,
            Some(_) => return Err(Fault::Kind(Kind::NumberOrRange).at(path)),
        };
        let mut range = Object::of(tree, path.clone(), self.keep_unknown)?;
        let mut part = |name: &str| {
            let missing = Fault::Missing.at(path.field(name));
            range.number(name, limits)?.ok_or(missing)
        };
        let (low, typical, high) = (part("low")?, part("typical")?, part("high")?);
        let kept = range.finish()?;
        if low <= typical && typical <= high {
            Ok((Some(Figure::between(low, typical, high)), kept))
        } else {
            Err(Fault::RangeOrder.at(path))
        }
    }

    /// Takes an amount out, in a unit of one of these dimensions.
    pub(super) fn amount(
        &mut self,
        name: &str,
        dimensions: &[Dimension],
    ) -> Result<Option<Amount>, RecipeError> {
        self.object(name)?
            .map(|object| object.into_amount(dimensions))
            .transpose()
    }

    /// Reads this whole object as an amount.
    pub(super) fn into_amount(mut self, dimensions: &[Dimension]) -> Result<Amount, RecipeError> {
        let (value, unit) = self.value_and_unit(dimensions)?;
        Ok(Amount {
            value,
            unit,
            kept: self.finish()?,
        })
    }

    /// Takes `value` and `unit` out.
    pub(super) fn value_and_unit(
        &mut self,
        dimensions: &[Dimension],
    ) -> Result<(f64, Unit), RecipeError> {
        let missing = |name| Fault::Missing.at(self.path.field(name));
        let (no_value, no_unit) = (missing("value"), missing("unit"));
        let value = self.number("value", (0.0, AMOUNT_LIMIT))?.ok_or(no_value)?;
        let units: Vec<Unit> = Unit::ALL
            .iter()
            .copied()
            .filter(|unit| dimensions.contains(&unit.dimension()))
            .collect();
        let unit = self.word("unit", &units, Unit::spelling)?.ok_or(no_unit)?;
        Ok((value, unit))
    }

    /// Ends the reading: what is left is kept or refused.
    pub(super) fn finish(self) -> Result<Kept, RecipeError> {
        if let Some((name, _)) = self
            .pairs
            .iter()
            .find(|(name, _)| self.taken.contains(name))
        {
            return Err(Fault::Twice.at(self.path.field(name)));
        }
        match self.pairs.first() {
            Some((name, _)) if !self.keep_unknown => {
                Err(Fault::UnknownField.at(self.path.field(name)))
            }
            _ => Ok(self.pairs),
        }
    }
}

/// A number inside its limits.
pub(super) fn within(text: &str, (low, high): (f64, f64), path: Path) -> Result<f64, RecipeError> {
    let value = super::number_of_text(text);
    if !value.is_finite() {
        Err(Fault::NotFinite { low, high }.at(path))
    } else if value < low || value > high {
        Err(Fault::OutOfRange { value, low, high }.at(path))
    } else {
        // Minus zero is zero.
        Ok(value + 0.0)
    }
}
