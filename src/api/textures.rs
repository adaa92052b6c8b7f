//! Textures: systems of classes, the class of fractions, fractions by other limits.

use super::ask::one;
use super::{Answer, Issue};
use crate::recipe::{Fault, Kind, Path};
use crate::texture::{System, TextureFault, Way, classify_in};
use crate::words::{system_class_name, system_name};

/// A class of a system.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Classified {
    /// The system.
    pub system: &'static str,
    /// The class's id in it.
    pub id: &'static str,
    /// Its name in the language that is spoken.
    pub name: &'static str,
}

/// A system of texture classes.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct SystemTold {
    /// Its id.
    pub id: &'static str,
    /// Where it is used, in the language that is spoken.
    pub name: &'static str,
    /// Where its silt ends and its sand begins, um; [`convert`] tells fractions of other limits by it.
    pub silt_um: f64,
    /// Its classes, from coarse to fine.
    pub classes: Vec<ClassTold>,
    /// Where they come from.
    pub source: &'static str,
    /// How well they were read there.
    pub mark: &'static str,
}

/// A class with its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
pub struct ClassTold {
    /// Its id.
    pub id: &'static str,
    /// Its name.
    pub name: &'static str,
}

/// The systems that [`classify`] knows, the usual one first.
pub fn systems() -> Vec<SystemTold> {
    let told = System::ALL.map(|system| SystemTold {
        id: system.id(),
        name: system_name(system),
        silt_um: system.silt_um(),
        classes: system
            .classes()
            .iter()
            .map(|class| ClassTold {
                id: class.id,
                name: system_class_name(class),
            })
            .collect(),
        source: system.source(),
        mark: system.mark().id(),
    });
    told.into()
}

/// The class of sand, silt and clay in percent that sum to 100, by the limits of size of a system
/// (that of the United States where none is named). What is none is no number.
///
/// ```
/// use barrowmix::api::classify;
///
/// let class = classify([Some(20.0), Some(25.0), Some(55.0)], None);
/// assert_eq!(class.as_ref().map(|class| class.id), Ok("clay"));
/// let short = classify([Some(20.0), Some(25.0), None], Some("uk"));
/// assert_eq!(short.as_ref().map_err(|issues| issues[0].path.clone()), Err("clay".to_owned()));
/// ```
pub fn classify(fractions_pct: [Option<f64>; 3], system: Option<&str>) -> Answer<Classified> {
    Answer::new("class", class_of(fractions_pct, system))
}

/// Fractions by the limits of size of a system.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct ConvertedTold {
    /// The system.
    pub system: &'static str,
    /// Sand, %.
    pub sand_pct: f64,
    /// Silt, %.
    pub silt_pct: f64,
    /// Clay, %.
    pub clay_pct: f64,
    /// How they were come by: `same`, `log_linear`, `regression` or `inverse_regression`.
    pub way: &'static str,
    /// By how many points sand and silt may be off.
    pub doubt_pct: f64,
}

/// Sand, silt and clay in percent that sum to 100, by the limits of size of another system
/// ([`crate::texture::convert`]).
///
/// ```
/// use barrowmix::api::convert;
///
/// let uk = convert([Some(30.0), Some(40.0), Some(30.0)], "usda", "uk");
/// let uk = uk.as_ref().expect("it sums to 100");
/// assert!((uk.silt_pct - 41.48).abs() < 0.01); // silt to 60 um instead of 50
/// assert_eq!((uk.way, uk.doubt_pct), ("log_linear", 3.0));
/// ```
pub fn convert(fractions_pct: [Option<f64>; 3], from: &str, to: &str) -> Answer<ConvertedTold> {
    Answer::new("fractions", converted(fractions_pct, from, to))
}

fn converted(given: [Option<f64>; 3], from: &str, to: &str) -> Result<ConvertedTold, Vec<Issue>> {
    let mut issues = strange(given);
    let from = system_of("from", from).map_err(|issue| issues.push(issue));
    let to = system_of("to", to).map_err(|issue| issues.push(issue));
    let (true, Ok(from), Ok(to)) = (issues.is_empty(), from, to) else {
        return Err(issues);
    };
    let found = crate::texture::convert(given.map(Option::unwrap_or_default), from, to);
    let found = found.map_err(refused)?;
    let [sand_pct, silt_pct, clay_pct] = found.fractions_pct;
    Ok(ConvertedTold {
        system: to.id(),
        sand_pct,
        silt_pct,
        clay_pct,
        way: match found.way {
            Way::Same => "same",
            Way::LogLinear => "log_linear",
            Way::Regression => "regression",
            Way::Inverse => "inverse_regression",
        },
        doubt_pct: found.doubt_pct,
    })
}

fn class_of(given: [Option<f64>; 3], system: Option<&str>) -> Result<Classified, Vec<Issue>> {
    let mut issues = strange(given);
    let system = system_of("system", system.unwrap_or(System::Usda.id()));
    let system = system.map_err(|issue| issues.push(issue));
    let (true, Ok(system)) = (issues.is_empty(), system) else {
        return Err(issues);
    };
    let class = classify_in(given.map(Option::unwrap_or_default), system).map_err(refused)?;
    Ok(Classified {
        system: system.id(),
        id: class.id,
        name: system_class_name(class),
    })
}

const NAMES: [&str; 3] = ["sand", "silt", "clay"];
/// What a fraction can be, %.
const LIMITS: (f64, f64) = (0.0, 100.0);

/// Which fractions are no numbers.
fn strange(given: [Option<f64>; 3]) -> Vec<Issue> {
    let (low, high) = LIMITS;
    let mut issues = Vec::new();
    for (value, name) in given.into_iter().zip(NAMES) {
        match value {
            None => issues.push(Fault::Kind(Kind::Number).at(name).into()),
            Some(value) if !value.is_finite() => {
                issues.push(Fault::NotFinite { low, high }.at(name).into());
            }
            Some(_) => {}
        }
    }
    issues
}

fn system_of(field: &str, found: &str) -> Result<System, Issue> {
    let known = System::ALL.into_iter().find(|system| system.id() == found);
    known.ok_or_else(|| {
        let (found, allowed) = (found.to_owned(), System::ALL.map(System::id).into());
        Fault::NotOneOf { found, allowed }.at(field).into()
    })
}

fn refused(fault: TextureFault) -> Vec<Issue> {
    let (low, high) = LIMITS;
    one(match fault {
        TextureFault::NotANumber { at } => Fault::NotFinite { low, high }.at(NAMES[at]),
        TextureFault::OutOfRange { at, pct: value } => {
            Fault::OutOfRange { value, low, high }.at(NAMES[at])
        }
        TextureFault::Sum { pct } => Fault::Fractions { sum_pct: pct }.at(Path::root()),
    })
}
