//! Holds the stated 90 % ranges against soils that others measured:
//! `cargo run --release --example coverage -- FILE.csv`.
//!
//! A row needs sand, silt and clay, organic matter (or carbon) and density; every other column may
//! be absent or empty. Each row becomes a ground with exactly these numbers, and its figures as it
//! lies are held against what was measured: how many were, how far they are off (measured less
//! typical), and how many lie within low and high.
//!
//! Exit 1: the table has a fault; nothing on standard output, one line on standard error with the
//! column. Exit 2: the file cannot be read, or none was named.

use barrowmix::blend::Blend;
use barrowmix::draws::{Strata, ends};
use barrowmix::figure::Figure;
use barrowmix::outcome::{Measure, Outcome};
use barrowmix::recipe::Recipe;
use barrowmix::texture::{Class, classify};
use std::fmt::Write as _;
use std::io::Write as _;
use std::process::ExitCode;

/// Organic carbon is so often in organic matter (convention).
const MATTER_OVER_CARBON: f64 = 1.724;
/// What the equations were fitted on, %.
const ORGANIC_MATTER_MOST_PCT: f64 = 8.0;
const CLAY_MOST_PCT: f64 = 60.0;
/// A kilopascal in cm of water.
const CM_PER_KPA: f64 = 10.197_162;
/// Neighbours farther apart than this in tension are not read between.
const APART_MOST: f64 = 4.0;
/// A source with fewer values in a group has no weight of its own there.
const SOURCE_LEAST: usize = 10;

const GROUPS: [&str; 6] = [
    "sandy",
    "sandy loam",
    "loamy",
    "silty",
    "clay loam",
    "clayey",
];
/// The figures, the digits they are printed with, and whether they have a range.
const FIGURES: [(&str, usize, bool); 9] = [
    ("water at 33 kPa, %", 1, true),
    ("water at 1500 kPa, %", 1, true),
    ("available water, %", 1, true),
    ("density, not given, kg/m3", 0, true),
    ("conductivity, log10 mm/h", 2, true),
    ("water at 10 kPa, %", 1, false),
    ("water at 5 kPa, %", 1, false),
    ("water at 3 kPa, %", 1, false),
    ("water at 1 kPa, %", 1, false),
];
/// Tensions of the last four, kPa.
const ON_THE_CURVE_KPA: [f64; 4] = [10.0, 5.0, 3.0, 1.0];

/// A value held against a figure.
struct Held {
    figure: usize,
    group: usize,
    source: usize,
    error: f64,
    within: bool,
}

/// Where the columns of a table are.
struct Columns {
    fractions: [usize; 3],
    organic: (usize, f64),
    density: usize,
    conductivity: Option<usize>,
    source: Option<usize>,
    /// Tensions, cm, and whether they are printed in kPa.
    water: Vec<(f64, usize)>,
    in_kpa: bool,
}

/// What a table comes to.
#[derive(Default)]
struct Judged {
    held: Vec<Held>,
    sources: Vec<String>,
    left_out: [usize; 4],
    rows: usize,
}

const LEFT_OUT: [&str; 4] = [
    "without texture, organic matter or density",
    "with more than 8 % organic matter",
    "with more than 60 % clay",
    "that cannot be a ground",
];

impl Columns {
    fn of(head: &csv::StringRecord) -> Result<Columns, String> {
        let find = |is: &dyn Fn(&str) -> bool| head.iter().position(|name| is(name.trim()));
        let named = |name: &str| find(&|other| other == name);
        let need = |name: &str| named(name).ok_or_else(|| format!("{name}: no such column"));
        let fractions = [need("sand_pct")?, need("silt_pct")?, need("clay_pct")?];
        let organic = match (named("organic_matter_pct"), named("organic_carbon_pct")) {
            (Some(at), _) => (at, 1.0),
            (None, Some(at)) => (at, MATTER_OVER_CARBON),
            _ => return Err("organic_matter_pct or organic_carbon_pct: no such column".into()),
        };
        let mut water = Vec::new();
        let mut in_kpa = true;
        for (at, name) in head.iter().enumerate() {
            // theta_33kPa_cm3_cm3, theta_3.8cm_cm3_cm3
            let Some(rest) = name.trim().strip_prefix("theta_") else {
                continue;
            };
            let tension = rest.split('_').next().unwrap_or_default();
            if let Some(kpa) = tension
                .strip_suffix("kPa")
                .and_then(|of| of.parse::<f64>().ok())
            {
                water.push((kpa * CM_PER_KPA, at));
            } else if let Some(cm) = tension.strip_suffix("cm").and_then(|of| of.parse().ok()) {
                water.push((cm, at));
                in_kpa = false;
            }
        }
        water.sort_by(|one, other| one.0.total_cmp(&other.0));
        Ok(Columns {
            fractions,
            organic,
            density: need("bulk_density_g_cm3")?,
            conductivity: find(&|name| name == "ksat_mm_h" || name == "ksat_lab_mm_h"),
            source: named("source"),
            water,
            in_kpa,
        })
    }

    /// Water at a tension, by volume: as printed, or between two printed ones in a table by cm.
    fn water(&self, cells: &[Option<f64>], kpa: f64) -> Option<f64> {
        let cm = kpa * CM_PER_KPA;
        let known = self
            .water
            .iter()
            .filter_map(|(at_cm, column)| Some((*at_cm, cells[*column]?)));
        let (mut below, mut above) = (None, None);
        for (at_cm, theta) in known {
            if (at_cm - cm).abs() <= 1e-6 * cm {
                return Some(theta);
            }
            if at_cm < cm {
                below = Some((at_cm, theta));
            } else if above.is_none() {
                above = Some((at_cm, theta));
            }
        }
        let (((low_cm, wet), (high_cm, dry)), false) = (below.zip(above)?, self.in_kpa) else {
            return None;
        };
        if high_cm > APART_MOST * low_cm {
            return None;
        }
        let way = libm::log(cm / low_cm) / libm::log(high_cm / low_cm);
        Some(wet + (dry - wet) * way)
    }
}

fn group(class: Class) -> usize {
    match class {
        Class::Sand | Class::LoamySand => 0,
        Class::SandyLoam => 1,
        Class::Loam | Class::SandyClayLoam => 2,
        Class::SiltLoam | Class::Silt => 3,
        Class::ClayLoam | Class::SiltyClayLoam => 4,
        Class::Clay | Class::SiltyClay | Class::SandyClay => 5,
    }
}

/// Low and high of a figure.
fn range(of: Figure) -> [f64; 2] {
    of.ends
        .map_or([of.typical; 2], |ends| [ends.low, ends.high])
}

/// A litre of ground with these numbers and nothing else told.
fn recipe(fractions: [f64; 3], organic: f64, density: Option<f64>) -> Option<Recipe> {
    let [sand, silt, clay] = fractions;
    let density = density.map_or_else(String::new, |of| format!(",\"bulk_density_kg_m3\":{of}"));
    let text = format!(
        "{{\"barrowmix\":1,\"ground\":{{\"sand_pct\":{sand},\"silt_pct\":{silt},\"clay_pct\":{clay},\
         \"organic_matter_pct\":{organic}{density}}},\"soil\":{{\"value\":1,\"unit\":\"L\"}}}}"
    );
    Recipe::from_json(&text).ok()
}

fn judge(bytes: &[u8]) -> Result<Judged, String> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(bytes);
    let head = reader.headers().map_err(|error| error.to_string())?.clone();
    let columns = Columns::of(&head)?;
    let mut judged = Judged::default();
    let mut strata = Strata::default();
    let mut known = vec![false; head.len()];
    for record in reader.records() {
        let record = record.map_err(|error| error.to_string())?;
        judged.rows += 1;
        let mut cells = vec![None; record.len()];
        let water = columns.water.iter().map(|(_, at)| *at);
        let used = [columns.organic.0, columns.density];
        let used = columns.fractions.into_iter().chain(used).chain(water);
        for at in used.chain(columns.conductivity) {
            let text = record.get(at).unwrap_or_default().trim();
            if text.is_empty() {
                continue;
            }
            let number: f64 = text.parse().map_err(|_| {
                let line = record.position().map_or(0, csv::Position::line);
                let name = head.get(at).unwrap_or_default();
                format!("{name}: line {line} holds {text:?}, not a number")
            })?;
            if number.is_finite() {
                cells[at] = Some(number);
                known[at] = true;
            }
        }
        let source = columns.source.and_then(|at| record.get(at));
        judged.row(&columns, &cells, source.unwrap_or("all"), &mut strata);
    }
    let needed = [columns.organic.0, columns.density];
    for at in columns.fractions.into_iter().chain(needed) {
        if !known[at] {
            return Err(format!("{}: no numbers", &head[at]));
        }
    }
    Ok(judged)
}

impl Judged {
    fn row(&mut self, columns: &Columns, cells: &[Option<f64>], source: &str, strata: &mut Strata) {
        let fractions = columns.fractions.map(|at| cells[at]);
        let organic = cells[columns.organic.0].map(|value| value * columns.organic.1);
        let ([Some(sand), Some(silt), Some(clay)], Some(organic), Some(density)) =
            (fractions, organic, cells[columns.density])
        else {
            self.left_out[0] += 1;
            return;
        };
        if organic > ORGANIC_MATTER_MOST_PCT {
            self.left_out[1] += 1;
            return;
        }
        if clay > CLAY_MOST_PCT {
            self.left_out[2] += 1;
            return;
        }
        let fractions = [sand, silt, clay];
        let density = density * 1000.0;
        let mut outcome = |density| {
            let recipe = recipe(fractions, organic, density)?;
            Outcome::drawn_from(&recipe, strata).ok()
        };
        let (Some(given), Some(estimated)) = (outcome(Some(density)), outcome(None)) else {
            self.left_out[3] += 1;
            return;
        };
        let known = self.sources.iter().position(|name| name == source);
        let source = known.unwrap_or_else(|| {
            self.sources.push(source.into());
            self.sources.len() - 1
        });
        let group = group(classify(fractions));
        let mut hold = |figure: usize, measured: Option<f64>, typical: f64, low: f64, high: f64| {
            if let Some(measured) = measured {
                self.held.push(Held {
                    figure,
                    group,
                    source,
                    error: measured - typical,
                    within: (low..=high).contains(&measured),
                });
            }
        };
        let drawn = &given.drawn;
        let pores = &given.ground.lying_pores_pct;
        let [available, unavailable] = [pores.available_water, pores.unavailable_water];
        let field: Vec<f64> = drawn
            .column(Measure::LyingAvailable)
            .iter()
            .zip(drawn.column(Measure::LyingUnavailable))
            .map(|(available, unavailable)| available + unavailable)
            .collect();
        let percent = |kpa| columns.water(cells, kpa).map(|theta| theta * 100.0);
        let [wet, dry] = [33.0, 1500.0].map(percent);
        let typical = available.typical + unavailable.typical;
        if let Some(ends) = ends(&field) {
            hold(0, wet, typical, ends.low, ends.high);
        }
        let figures = [
            (1, dry, unavailable),
            (2, wet.zip(dry).map(|(wet, dry)| wet - dry), available),
            (3, Some(density), estimated.ground.lying_density_kg_m3),
        ];
        for (figure, measured, ours) in figures {
            let [low, high] = range(ours);
            hold(figure, measured, ours.typical, low, high);
        }
        let [lying, _] = given.ground.drainage_mm_h;
        let conductivity = columns.conductivity.and_then(|at| cells[at]);
        let log = conductivity.filter(|of| *of > 0.0).map(libm::log10);
        let [low, high] = range(lying);
        let [typical, low, high] = [lying.typical, low, high].map(libm::log10);
        hold(4, log, typical, low, high);
        let curve = Blend::lying(&given.barrow).1;
        for (at, kpa) in ON_THE_CURVE_KPA.into_iter().enumerate() {
            let typical = 100.0 * curve.theta_at(kpa * CM_PER_KPA);
            hold(5 + at, percent(kpa), typical, f64::NAN, f64::NAN);
        }
    }

    /// A line of the table: the values that fit, each with a weight.
    fn line(&self, out: &mut String, figure: usize, name: &str, fits: &dyn Fn(&Held) -> bool) {
        let (_, digits, has_range) = FIGURES[figure];
        let held: Vec<&Held> = self
            .held
            .iter()
            .filter(|held| held.figure == figure && fits(held))
            .collect();
        if held.is_empty() {
            return;
        }
        let mut cells = [[0_usize; GROUPS.len()]; 64];
        for value in &held {
            cells[value.source.min(63)][value.group] += 1;
        }
        // In a group every source counts alike, and so does every group.
        let weight = |value: &Held| {
            let own = cells[value.source.min(63)][value.group];
            let sources = cells
                .iter()
                .filter(|cells| cells[value.group] >= SOURCE_LEAST)
                .count();
            if own < SOURCE_LEAST {
                0.0
            } else {
                1.0 / (own * sources) as f64
            }
        };
        let mean = |weight: &dyn Fn(&Held) -> f64, of: &dyn Fn(&Held) -> f64| {
            let (mut sum, mut weights) = (0.0, 0.0);
            for value in &held {
                sum += weight(value) * of(value);
                weights += weight(value);
            }
            (weights > 0.0).then(|| sum / weights)
        };
        write!(out, "  {name:<22}{:>6}", held.len()).expect("a text takes everything");
        for weight in [&|_: &Held| 1.0_f64, &weight as &dyn Fn(&Held) -> f64] {
            let numbers = [
                mean(weight, &|value| value.error).map(|bias| format!("{bias:+.digits$}")),
                mean(weight, &|value| value.error * value.error)
                    .map(|square| format!("{:.digits$}", square.sqrt())),
                mean(weight, &|value| f64::from(u8::from(value.within)))
                    .filter(|_| has_range)
                    .map(|share| format!("{:.1}", 100.0 * share)),
            ];
            for number in numbers {
                let number = number.unwrap_or_else(|| "-".into());
                write!(out, "{number:>9}").expect("a text takes everything");
            }
        }
        out.push('\n');
    }

    fn report(&self) -> String {
        let mut out = String::new();
        let left: usize = self.left_out.iter().sum();
        writeln!(out, "{} rows, {} judged", self.rows, self.rows - left).expect("a text");
        for (count, why) in self.left_out.iter().zip(LEFT_OUT) {
            writeln!(out, "  left out: {count} {why}").expect("a text");
        }
        for (figure, (name, ..)) in FIGURES.into_iter().enumerate() {
            if !self.held.iter().any(|held| held.figure == figure) {
                continue;
            }
            writeln!(
                out,
                "\n{name}{:>1$}",
                "plain: bias, RMSE, % within | weighted",
                70 - name.len()
            )
            .expect("a text");
            for (group, name) in GROUPS.into_iter().enumerate() {
                self.line(&mut out, figure, name, &|held| held.group == group);
            }
            self.line(&mut out, figure, "all", &|_| true);
            for (source, name) in self.sources.iter().enumerate() {
                if self.sources.len() > 1 {
                    let name = format!("from {name}");
                    self.line(&mut out, figure, &name, &|held| held.source == source);
                }
            }
        }
        out
    }
}

fn main() -> ExitCode {
    let mut arguments = std::env::args_os().skip(1);
    let (Some(name), None) = (arguments.next(), arguments.next()) else {
        eprintln!("usage: coverage FILE.csv");
        return ExitCode::from(2);
    };
    let bytes = match std::fs::read(&name) {
        Ok(bytes) => bytes,
        Err(error) => {
            eprintln!("{}: {error}", name.display());
            return ExitCode::from(2);
        }
    };
    match judge(&bytes) {
        Ok(judged) => {
            if let Err(error) = write!(std::io::stdout(), "{}", judged.report()) {
                eprintln!("standard output: {error}");
                return ExitCode::from(2);
            }
            ExitCode::SUCCESS
        }
        Err(fault) => {
            eprintln!("{fault}");
            ExitCode::FAILURE
        }
    }
}
