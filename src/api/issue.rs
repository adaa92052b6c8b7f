//! What is wrong with something that came in, for programs: a code, a place, a sentence, limits.

use crate::recipe::{Fault, Path, RecipeError};
use crate::words::{fault_text, strange_text};

/// Something that is wrong with a field.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Issue {
    /// What is wrong, as a word that never changes its meaning.
    pub code: &'static str,
    /// The field, such as `additions[0].amount.unit`; `$` is the whole.
    pub path: String,
    /// A sentence for people.
    pub text: String,
    /// The least value accepted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub low: Option<f64>,
    /// The greatest value accepted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub high: Option<f64>,
    /// What can stand there.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub allowed: Vec<&'static str>,
}

/// A value that no document holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Strange {
    /// Not an object, list, text, number or truth value: a function, a date, a map and the like.
    NoData,
    /// A field that throws when it is read.
    Unreadable,
    /// Objects in objects without end, or nearly.
    TooDeep,
    /// More values or letters than any recipe has.
    TooLarge,
    /// Half of a letter that takes two places.
    HalfLetter,
}

impl Strange {
    /// The issue of a field.
    pub fn at(self, path: &Path) -> Issue {
        let code = match self {
            Strange::NoData => "no_data",
            Strange::Unreadable => "unreadable",
            Strange::TooDeep => "too_deep",
            Strange::TooLarge => "too_large",
            Strange::HalfLetter => "half_letter",
        };
        // What has no end has no place: its path would be as long.
        let path = match self {
            Strange::TooDeep | Strange::TooLarge => Path::root().to_string(),
            _ => path.to_string(),
        };
        Issue::plain(code, path, strange_text(self).to_owned())
    }
}

impl Issue {
    fn plain(code: &'static str, path: String, text: String) -> Issue {
        let (low, high, allowed) = (None, None, Vec::new());
        Issue {
            code,
            path,
            text,
            low,
            high,
            allowed,
        }
    }
}

impl From<RecipeError> for Issue {
    fn from(RecipeError { path, fault }: RecipeError) -> Issue {
        let text = fault_text(&fault);
        let mut issue = Issue::plain(code(&fault), path.to_string(), text);
        match fault {
            Fault::NotFinite { low, high } | Fault::OutOfRange { low, high, .. } => {
                (issue.low, issue.high) = (Some(low), Some(high));
            }
            Fault::TooMany { limit } | Fault::LinkTooLong { limit } => {
                issue.high = Some(limit as f64);
            }
            Fault::Version { newest } => issue.high = Some(f64::from(newest)),
            Fault::NotOneOf { allowed, .. } | Fault::OnlyOneOf(allowed) => issue.allowed = allowed,
            _ => {}
        }
        issue
    }
}

fn code(fault: &Fault) -> &'static str {
    match fault {
        Fault::NotJson { .. } => "not_json",
        Fault::Version { .. } => "version",
        Fault::UnknownField => "unknown_field",
        Fault::Twice => "twice",
        Fault::Missing => "missing",
        Fault::Kind(_) => "kind",
        Fault::NotFinite { .. } => "not_finite",
        Fault::OutOfRange { .. } => "out_of_range",
        Fault::RangeOrder => "range_order",
        Fault::NotOneOf { .. } => "not_one_of",
        Fault::UnknownMaterial { .. } => "unknown_material",
        Fault::Fractions { .. } => "fractions",
        Fault::TooMany { .. } => "too_many",
        Fault::OnlyOneOf(_) => "only_one_of",
        Fault::Empty => "empty",
        Fault::NoGround => "no_ground",
        Fault::Shares { .. } => "shares",
        Fault::NoArea => "no_area",
        Fault::NoBag => "no_bag",
        Fault::MulchShare => "mulch_share",
        Fault::NoDryMatter => "no_dry_matter",
        Fault::Misfit(_) => "misfit",
        Fault::Ground(_) => "too_dense",
        Fault::Link => "link",
        Fault::LinkTooLong { .. } => "link_too_long",
    }
}
