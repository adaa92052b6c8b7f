//! Prints twenty years of a blend: `cargo run --release --example seasons` for compost, bark, peat
//! and biochar, a fifth of the heap each, in the invented ground of Willowbank School; with the
//! name of a recipe, or `-` for standard input, of its own additions.
//!
//! Exit 1: the recipe has a fault, told in one line on standard error. Exit 2: it cannot be read.

use barrowmix::figure::Figure;
use barrowmix::recipe::Recipe;
use barrowmix::seasons::{Climate, Season, Seasons, SeasonsError};
use barrowmix::words::error_text;
use std::fmt::Write as _;
use std::io::{Read as _, Write as _};
use std::process::ExitCode;

/// The four that are compared.
const COMPARED: [&str; 4] = ["yard_compost", "pine_bark", "sphagnum_peat", "biochar_wood"];

/// A raised bed of the invented demo, with a fifth of something mixed in.
fn willowbank(material: &str) -> String {
    format!(
        r#"{{"barrowmix":1,"ground":{{"sand_pct":5,"silt_pct":43,
        "clay_pct":{{"low":47,"typical":52,"high":57}},
        "organic_matter_pct":{{"low":1.8,"typical":2.6,"high":3.4}},
        "bulk_density_kg_m3":{{"low":1150,"typical":1250,"high":1350}},
        "gravel_pct":1,"water_per_dry_pct":30,"crumb":0.5}},
        "soil":{{"area":{{"value":2.88,"unit":"m2"}},"depth":{{"value":20,"unit":"cm"}}}},
        "additions":[{{"material":"{material}","amount":{{"value":20,"unit":"%v"}}}}]}}"#
    )
}

fn main() -> ExitCode {
    let mut arguments = std::env::args_os().skip(1);
    let mut out = String::new();
    let told = match (arguments.next(), arguments.next()) {
        (None, _) => COMPARED.iter().try_for_each(|material| {
            let recipe = Recipe::from_json(&willowbank(material)).map_err(SeasonsError::Recipe)?;
            print(&recipe, &mut out)
        }),
        (Some(name), None) => {
            let bytes = if name == "-" {
                let mut bytes = Vec::new();
                std::io::stdin().read_to_end(&mut bytes).map(|_| bytes)
            } else {
                std::fs::read(&name)
            };
            match bytes {
                Ok(bytes) => Recipe::from_bytes(&bytes)
                    .map_err(SeasonsError::Recipe)
                    .and_then(|recipe| print(&recipe, &mut out)),
                Err(error) => {
                    eprintln!("{}: {error}", name.display());
                    return ExitCode::from(2);
                }
            }
        }
        _ => {
            eprintln!("usage: seasons [FILE] (or - for standard input)");
            return ExitCode::from(2);
        }
    };
    match told {
        Ok(()) => match std::io::stdout().write_all(out.as_bytes()) {
            Ok(()) => ExitCode::SUCCESS,
            Err(error) => {
                eprintln!("standard output: {error}");
                ExitCode::from(2)
            }
        },
        Err(SeasonsError::Recipe(error) | SeasonsError::TopUp(error)) => {
            eprintln!("{}", error_text(&error));
            ExitCode::FAILURE
        }
        Err(error) => {
            eprintln!("{error:?}");
            ExitCode::FAILURE
        }
    }
}

/// A figure with its ends, in columns.
fn range(figure: Option<Figure>, digits: usize) -> String {
    let Some(figure) = figure else {
        return format!("{:>7}{:>16}", "-", "");
    };
    let ends = figure.ends();
    let ends = format!("({:.digits$} to {:.digits$})", ends.low, ends.high);
    format!("{:>7.digits$} {ends:<15}", figure.typical)
}

fn print(recipe: &Recipe, out: &mut String) -> Result<(), SeasonsError> {
    let years: Vec<f64> = (0..=20_u8).map(f64::from).collect();
    let seasons = Seasons::of(recipe, &Climate::of(recipe), None, &years)?;
    let names: Vec<&str> = recipe
        .additions
        .iter()
        .filter_map(|addition| recipe.find(&addition.material))
        .map(|found| found.name())
        .collect();
    let names = if names.is_empty() {
        "nothing added".to_owned()
    } else {
        names.join(", ")
    };
    // A text takes what is written into it, always.
    let _ = writeln!(out, "{names}");
    let _ = writeln!(
        out,
        "{:>4} {:<23} {:<23} {:>7} {:>8} {:>8} {:>7}",
        "year", "  organic matter, %", "  kept of added, %", "kg/m3", "settling", "decay", "N, g"
    );
    for season in &seasons {
        line(season, out);
    }
    let _ = writeln!(
        out,
        "Organic matter counts char where there is some. Settling and decay: height over what it \
         was, each alone. N: set free that year by ground and additions; below 0 it is taken up.\n"
    );
    Ok(())
}

fn line(season: &Season, out: &mut String) {
    let organic = season
        .organic_matter_with_char_pct
        .or(season.organic_matter_pct);
    let _ = writeln!(
        out,
        "{:>4} {} {} {:>7.0} {:>8.3} {:>8.3} {:>7.0}",
        season.year,
        range(organic, 1),
        range(season.kept_pct, 0),
        season.settled_density_kg_m3.typical,
        season.height_by_settling,
        season.height_by_decay,
        season.freed_nitrogen_g[0].typical,
    );
}
