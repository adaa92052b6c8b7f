//! What can be wrong with a recipe: which field, what was found, what the limits are. No sentences.

use crate::ground::GroundFault;
use crate::material::Misfit;
use std::fmt;

/// A fault and the field that has it.
#[derive(Clone, Debug, PartialEq)]
pub struct RecipeError {
    /// The field, such as `additions[0].amount.unit`; `$` is the whole document.
    pub path: Path,
    /// What is wrong with it.
    pub fault: Fault,
}

/// What is wrong with a field.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Fault {
    /// The text is not JSON.
    NotJson {
        /// Line of the first fault, from 1.
        line: usize,
        /// Column of the first fault, from 1.
        column: usize,
    },
    /// A version that this release does not know.
    Version {
        /// The newest version that it knows.
        newest: u32,
    },
    /// A field that does not exist.
    UnknownField,
    /// A field that stands twice.
    Twice,
    /// A field that is required.
    Missing,
    /// Another kind of value was expected.
    Kind(Kind),
    /// Not a finite number.
    NotFinite {
        /// Least value accepted.
        low: f64,
        /// Greatest value accepted.
        high: f64,
    },
    /// A number outside its limits.
    OutOfRange {
        /// The number.
        value: f64,
        /// Least value accepted.
        low: f64,
        /// Greatest value accepted.
        high: f64,
    },
    /// A range without `low <= typical <= high`.
    RangeOrder,
    /// A text that is none of the words that can stand here.
    NotOneOf {
        /// What was found.
        found: String,
        /// What can stand here.
        allowed: Vec<&'static str>,
    },
    /// A material of neither the catalogue nor the recipe.
    UnknownMaterial {
        /// What was found.
        found: String,
    },
    /// Sand, silt and clay do not sum to 100.
    Fractions {
        /// Their sum.
        sum_pct: f64,
    },
    /// A list that is too long.
    TooMany {
        /// How many it may hold.
        limit: usize,
    },
    /// Only one of several fields may stand.
    OnlyOneOf(Vec<&'static str>),
    /// Nothing to mix.
    Empty,
    /// A share, part or g/L without a ground to count against.
    NoGround,
    /// Shares of the whole that leave nothing for the rest.
    Shares {
        /// Sum of the shares by volume, %.
        volume_pct: f64,
        /// Sum of the shares by mass, %.
        mass_pct: f64,
    },
    /// A depth or a rate without an area.
    NoArea,
    /// Bags without a bag.
    NoBag,
    /// A mulch counted as a share of what it is not mixed into.
    MulchShare,
    /// The material cannot be counted by mass, since it holds no dry matter.
    NoDryMatter,
    /// A material whose numbers cannot be true together.
    Misfit(Misfit),
    /// A ground that cannot be, or a measured density.
    Ground(GroundFault),
    /// A share link that is cut short or is not one.
    Link,
    /// A share link that is too long.
    LinkTooLong {
        /// The most letters it may have.
        limit: usize,
    },
}

/// A kind of value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// `{...}`
    Object,
    /// `[...]`
    List,
    /// A text.
    Text,
    /// A number.
    Number,
    /// A number, or a range of three.
    NumberOrRange,
    /// `true` or `false`.
    Bool,
    /// A whole number.
    Whole,
}

impl Fault {
    /// The fault of a field.
    pub fn at(self, path: impl Into<Path>) -> RecipeError {
        RecipeError {
            path: path.into(),
            fault: self,
        }
    }
}

/// How much of a strange field name or text is shown.
const ODD_LENGTH: usize = 60;

/// A field's place in the document.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Path(String);

impl Path {
    /// The whole document.
    pub fn root() -> Path {
        Path(String::new())
    }

    /// A field of this.
    pub fn field(&self, name: &str) -> Path {
        let plain = name.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'_');
        if !plain || name.is_empty() || name.len() > ODD_LENGTH {
            // A name that nobody meant: quoted, on one line, and not without end.
            return Path([self.as_str(), "[", &quoted(name), "]"].concat());
        }
        if self.0.is_empty() {
            Path(name.to_owned())
        } else {
            Path([&self.0, ".", name].concat())
        }
    }

    /// An item of this.
    pub fn item(&self, index: usize) -> Path {
        Path([&self.0, "[", &super::whole_text(index as u64), "]"].concat())
    }

    /// Whether a field lies in this one.
    #[cfg(not(feature = "page"))]
    pub(crate) fn holds(&self, other: &Path) -> bool {
        let rest = other.0.strip_prefix(self.0.as_str());
        rest.is_some_and(|rest| {
            rest.starts_with(['.', '[']) || self.0.is_empty() && !rest.is_empty()
        })
    }

    /// The path as written, `$` for the whole.
    pub fn as_str(&self) -> &str {
        if self.0.is_empty() { "$" } else { &self.0 }
    }
}

impl From<&str> for Path {
    fn from(path: &str) -> Path {
        Path(path.to_owned())
    }
}

impl From<String> for Path {
    fn from(path: String) -> Path {
        Path(path)
    }
}

impl fmt::Display for Path {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(self.as_str())
    }
}

/// A text of others in quotes, on one line and not without end.
pub(crate) fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for (count, letter) in text.chars().enumerate() {
        if count == ODD_LENGTH {
            break;
        }
        let escape = match letter {
            '"' | '\\' => letter,
            '\n' => 'n',
            '\r' => 'r',
            '\t' => 't',
            _ if letter.is_control() => 'u',
            _ => {
                out.push(letter);
                continue;
            }
        };
        out += "\\";
        out.push(escape);
        if escape == 'u' {
            let code = letter as usize;
            let digit = |index: usize| "0123456789abcdef".get(index..=index).unwrap_or_default();
            let first = if code > 15 { digit(code >> 4) } else { "" };
            out += &["{", first, digit(code & 15), "}"].concat();
        }
    }
    out += "\"";
    out
}
