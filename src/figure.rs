//! A number with its doubt: low, typical and high.

use serde::ser::{Serialize, SerializeMap, Serializer};

/// Low, typical and high of one quantity, in the unit that the field's name carries.
///
/// An input's ends are its 10th and 90th percentile, an outcome's its 5th and 95th. Without ends
/// an input is exact, and an outcome is the evaluation at all-typical inputs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure {
    /// The most likely value.
    pub typical: f64,
    /// The ends, when the doubt is stated.
    pub ends: Option<Ends>,
}

/// The two ends of a [`Figure`], `low <= typical <= high`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ends {
    /// The low end.
    pub low: f64,
    /// The high end.
    pub high: f64,
}

impl Figure {
    /// A figure without stated ends.
    pub const fn exact(typical: f64) -> Self {
        Self {
            typical,
            ends: None,
        }
    }

    /// A figure between two ends. The caller keeps `low <= typical <= high`.
    pub const fn between(low: f64, typical: f64, high: f64) -> Self {
        Self {
            typical,
            ends: Some(Ends { low, high }),
        }
    }
}

impl Figure {
    /// The ends; without stated ones the value itself.
    pub fn ends(&self) -> Ends {
        self.ends.unwrap_or(Ends {
            low: self.typical,
            high: self.typical,
        })
    }

    /// The same doubt about another value: ends move along, as far as the limits allow.
    #[must_use]
    pub fn moved(self, typical: f64, (least, most): (f64, f64)) -> Figure {
        let Some(Ends { low, high }) = self.ends else {
            return Figure::exact(typical);
        };
        let by = typical - self.typical;
        Figure::between(
            within(low + by, least, typical),
            typical,
            within(high + by, typical, most),
        )
    }

    /// The same of each of its numbers; the function must rise.
    #[must_use]
    pub fn map(self, of: impl Fn(f64) -> f64) -> Figure {
        Figure {
            typical: of(self.typical),
            ends: self.ends.map(|ends| Ends {
                low: of(ends.low),
                high: of(ends.high),
            }),
        }
    }

    /// Whether its ends leave room for doubt.
    pub fn is_in_doubt(&self) -> bool {
        self.ends.is_some_and(|ends| ends.low < ends.high)
    }
}

impl Serialize for Figure {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(None)?;
        if let Some(ends) = self.ends {
            map.serialize_entry("low", &ends.low)?;
        }
        map.serialize_entry("typical", &self.typical)?;
        if let Some(ends) = self.ends {
            map.serialize_entry("high", &ends.high)?;
        }
        map.end()
    }
}

/// A value held between two limits. Unlike the standard `clamp` it has no case that panics, and so
/// no message about it either.
pub fn within(value: f64, low: f64, high: f64) -> f64 {
    value.max(low).min(high)
}
