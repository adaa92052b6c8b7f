//! Sentences of the section on seasons.

use super::{Speech, Units, fixed, in_sentence, page_fault_text, percent, significant, typed_text};
use super::{Told, Typed};
use crate::figure::Figure;
use crate::quantity::Unit;
use crate::recipe::Recipe;
use crate::seasons::{Asked, HOLD_YEARS, Hold, Season, SeasonsError};
use crate::tongue::Saying;

const INCH_CM: f64 = 2.54;
const INCH_MM: f64 = 25.4;
/// Less than so much is not told as sunk, cm.
const FLAT_CM: f64 = 0.25;
/// The same where no area is told, % of the height.
const FLAT_PCT: f64 = 0.5;
/// Nitrogen on a square metre below which nothing comes free and nothing is taken up, g.
const NO_NITROGEN_G: f64 = 0.1;
const GRAMS_PER_KG: f64 = 1000.0;

/// Shares in words, from so many percent on.
const SHARES: [(f64, &str); 14] = [
    (95.0, mark!("nearly all")),
    (86.0, mark!("about nine tenths")),
    (77.5, mark!("about four fifths")),
    (71.0, mark!("about three quarters")),
    (60.5, mark!("about two thirds")),
    (54.5, mark!("a little more than half")),
    (46.0, mark!("about half")),
    (36.5, mark!("about two fifths")),
    (29.0, mark!("about a third")),
    (22.5, mark!("about a quarter")),
    (15.0, mark!("about a fifth")),
    (7.5, mark!("about a tenth")),
    (2.0, mark!("little")),
    (0.0, mark!("next to nothing")),
];

fn share_in_words(pct: f64) -> &'static str {
    let found = SHARES.iter().find(|(least, _)| pct >= *least);
    found.map_or(tr!("next to nothing"), |(_, words)| words)
}

fn years_text(year: f64) -> String {
    let number = super::shown(year);
    let unit = if number == "1" {
        tr!(" year")
    } else {
        tr!(" years")
    };
    number + unit
}

/// The last year below a curve.
pub fn year_axis(year: f64) -> String {
    years_text(year)
}

/// The badge beside the figures.
pub fn in_year(year: f64) -> String {
    say!("In year {}", super::shown(year))
}

/// What the button of the section says: closed, open.
pub const SEASONS_OPENS: [Saying; 2] = [said!("Open seasons"), said!("Fold seasons away")];

/// A year as the slider says it.
pub fn year_told(year: f64) -> String {
    if year > 0.0 {
        say!("after {}", years_text(year))
    } else {
        tr!("today").into()
    }
}

/// What years can be asked for, where another was.
pub fn years_asked(low: f64, high: f64) -> String {
    say!(
        "A year from {} to {}.",
        super::shown(low),
        super::shown(high)
    )
}

/// Units of a temperature and of rain: name, factor to the unit shown, offset.
pub fn warmth_unit(speech: Speech) -> (&'static str, f64, f64) {
    match speech.units {
        Units::Metric => ("°C", 1.0, 0.0),
        Units::Us => ("°F", 1.8, 32.0),
    }
}

/// The same of rain.
pub fn rain_unit(speech: Speech) -> (&'static str, f64) {
    match speech.units {
        Units::Metric => ("mm", 1.0),
        Units::Us => ("in", 1.0 / INCH_MM),
    }
}

fn cm_text(cm: f64, speech: Speech) -> String {
    match speech.units {
        Units::Metric if cm < 0.75 => tr!("half a centimetre").into(),
        Units::Metric => [&fixed(cm, 0), " cm"].concat(),
        Units::Us => {
            let quarters = (4.0 * cm / INCH_CM).round().max(1.0);
            let whole = (quarters / 4.0).floor();
            let part = ["", "¼", "½", "¾"][(quarters - 4.0 * whole) as usize % 4];
            let whole = if whole > 0.0 {
                fixed(whole, 0)
            } else {
                String::new()
            };
            [&whole, part, " in"].concat()
        }
    }
}

/// What a year leaves, sentence by sentence; the first is the answer.
pub fn season_sentences(season: &Season, today: &Season, speech: Speech) -> Vec<String> {
    let year = season.year;
    let mut out = Vec::new();
    if year <= 0.0 {
        out.push(tr!("Today nothing has decayed yet. Move the year, and all figures above show the blend as it is then.").to_owned());
    } else {
        if let Some(kept) = season.kept_pct {
            let ends = Told::percent(kept, 1.0).range;
            let ends = if ends.is_empty() {
                String::new()
            } else {
                [" (", &ends, " %)"].concat()
            };
            out.push(say!(
                "After {} {} of the organic matter you added is left{}.",
                years_text(year),
                share_in_words(kept.typical),
                ends
            ));
        }
        let organic = |season: &Season| {
            let with_char = season.organic_matter_with_char_pct;
            with_char.or(season.organic_matter_pct)
        };
        if let (Some(then), Some(now)) = (organic(season), organic(today)) {
            let counted = if season.organic_matter_with_char_pct.is_some() {
                tr!(", char included")
            } else {
                ""
            };
            out.push(say!(
                "The blend holds {} % organic matter then, against {} % today{}.",
                fixed(then.typical, 1),
                fixed(now.typical, 1),
                counted
            ));
        }
        out.push(sunk_sentence(season, speech));
        out.extend(nitrogen_sentence(season, speech));
    }
    out
}

/// How far settling and decay let it sink, apart.
fn sunk_sentence(season: &Season, speech: Speech) -> String {
    let lengths = season.sunk_cm.map(|sunk| {
        sunk.map(|cm| (cm.abs() >= FLAT_CM).then(|| (cm < 0.0, cm_text(cm.abs(), speech))))
    });
    let shares = || {
        [season.height_by_settling, season.height_by_decay].map(|left| {
            let lost_pct = 100.0 * (1.0 - left);
            (lost_pct.abs() >= FLAT_PCT).then(|| (lost_pct < 0.0, percent(lost_pct.abs())))
        })
    };
    match lengths.unwrap_or_else(shares) {
        [Some((_, settling)), Some((true, risen))] => say!(
            "It has sunk {} by settling; what was added since, less what decayed, has raised it {}.",
            settling,
            risen
        ),
        [None, Some((true, risen))] => {
            say!(
                "What was added since, less what decayed, has raised it {}.",
                risen
            )
        }
        [Some((_, settling)), Some((false, decay))] => {
            say!(
                "It has sunk {} by settling and {} by decay.",
                settling,
                decay
            )
        }
        [Some((_, settling)), None] => {
            say!("It has sunk {} by settling, and hardly by decay.", settling)
        }
        // Nothing was dug in.
        [None, Some((false, decay))] if season.height_by_settling == 1.0 => {
            say!("It has sunk {} by decay.", decay)
        }
        [None, Some((false, decay))] => {
            say!("It has sunk {} by decay, and hardly by settling.", decay)
        }
        [None, None] => tr!("It has hardly sunk.").into(),
    }
}

/// Nitrogen in grams, or on a square metre; ounces in US units.
fn nitrogen_mass(grams: f64, speech: Speech) -> String {
    match speech.units {
        Units::Metric => [&significant(grams, 1), " g"].concat(),
        Units::Us => {
            let ounces = grams / GRAMS_PER_KG / Unit::Ounce.factor();
            [&significant(ounces, 1), " oz"].concat()
        }
    }
}

fn nitrogen_sentence(season: &Season, speech: Speech) -> Option<String> {
    let [all, _] = season.freed_nitrogen_g;
    let small = season
        .freed_nitrogen_g_m2
        .map_or(all.typical.abs() < NO_NITROGEN_G, |each| {
            each.typical.abs() < NO_NITROGEN_G
        });
    if small {
        return None;
    }
    let mass = nitrogen_mass(all.typical.abs(), speech);
    let each = match (season.freed_nitrogen_g_m2, speech.units) {
        (Some(each), Units::Metric) => say!(
            " ({} g on a square metre)",
            significant(each.typical.abs(), 1)
        ),
        _ => String::new(),
    };
    Some(if all.typical > 0.0 {
        say!(
            "Decay sets free about {} of nitrogen in that year{}.",
            mass,
            each
        )
    } else {
        say!(
            "Decay takes up about {} of nitrogen in that year{}: feed it, or plants go short.",
            mass,
            each
        )
    })
}

/// How much of a material holds a level.
pub fn hold_sentence(
    hold: Option<&Hold>,
    level_pct: f64,
    today_pct: Option<f64>,
    name: &str,
    speech: Speech,
) -> String {
    let name = in_sentence(name);
    let level = [&fixed(level_pct, 1), " %"].concat();
    let level = level.replace(".0 %", " %");
    let is_today = today_pct.is_some_and(|today| (today - level_pct).abs() < 0.05);
    let so = if is_today {
        say!("To hold today’s {}", level)
    } else {
        say!("To have {} in {} years", level, fixed(HOLD_YEARS, 0))
    };
    let Some(hold) = hold else {
        return say!("{}, no amount of {} is enough.", so, name);
    };
    if hold.loose_l <= 0.0 {
        return say!("{}, nothing has to be added.", so);
    }
    let each = match (hold.depth_mm, speech.units) {
        (Some(mm), Units::Metric) => [&significant(mm, 1), " mm"].concat(),
        (Some(mm), Units::Us) => {
            let inches = mm / INCH_MM;
            if inches >= 0.95 {
                [&significant(inches, 2), " in"].concat()
            } else {
                let parts = (1.0 / inches).round().max(2.0);
                ["1/", &fixed(parts, 0), " in"].concat()
            }
        }
        (None, _) => speech.volume(super::round_significant(hold.loose_l, 2)),
    };
    let litres = super::round_significant(hold.loose_l, 2);
    let all = match hold.depth_mm {
        Some(_) => [" (", &speech.volume(litres), ")"].concat(),
        None => String::new(),
    };
    say!("{} takes about {} of {} a year{}.", so, each, name, all)
}

/// What is wrong with a climate or a top-up; none where it is the recipe, which the page tells.
pub fn seasons_error_text(error: &SeasonsError) -> Option<String> {
    match error {
        SeasonsError::OutOfRange {
            of: Asked::Years,
            low,
            high,
            ..
        } => Some(years_asked(*low, *high)),
        SeasonsError::OutOfRange {
            value, low, high, ..
        } => Some(typed_text(Typed::Number(*value), *low, *high)),
        SeasonsError::TopUp(error) => Some(page_fault_text(&error.fault)),
        SeasonsError::NoTopUp => Some(typed_text(Typed::Other, 0.0, crate::recipe::AMOUNT_LIMIT)),
        SeasonsError::Recipe(_) => None,
    }
}

/// A row of the years: year, organic matter with its range, left of what was added, density, sunk by
/// settling and by decay, nitrogen.
pub fn season_row(season: &Season, speech: Speech) -> [String; 8] {
    let organic = season
        .organic_matter_with_char_pct
        .or(season.organic_matter_pct);
    let organic = organic.map(|figure| Told::percent(figure, 0.1));
    let [value, range] = organic.map_or(["–".into(), String::new()], |told| {
        [told.value, told.range]
    });
    let left = season.kept_pct.map_or("–".into(), |kept| {
        if season.year > 0.0 {
            percent(kept.typical)
        } else {
            "100 %".into()
        }
    });
    let [settling, decay] = match season.sunk_cm {
        Some(sunk) => sunk.map(|cm| {
            // Whole centimetres, and tenths of what is small.
            let size = if cm.abs() < 3.0 {
                cm.abs()
            } else {
                cm.abs().round()
            };
            let text = speech.length(size);
            let is_none = text.starts_with("0 ");
            if cm < 0.0 && !is_none {
                ["+", &text].concat()
            } else {
                text
            }
        }),
        None => [season.height_by_settling, season.height_by_decay].map(|left| {
            let lost = 100.0 * (1.0 - left);
            if lost <= -0.5 {
                ["+", &percent(-lost)].concat()
            } else {
                percent(lost.max(0.0))
            }
        }),
    };
    let year = if season.year > 0.0 {
        super::shown(season.year)
    } else {
        tr!("today").into()
    };
    let [all, _] = season.freed_nitrogen_g;
    let nitrogen = if season.year > 0.0 {
        signed_mass(all, speech)
    } else {
        "–".into()
    };
    [
        year,
        value,
        range,
        left,
        speech.density(season.settled_density_kg_m3.typical),
        settling,
        decay,
        nitrogen,
    ]
}

fn signed_mass(figure: Figure, speech: Speech) -> String {
    let text = nitrogen_mass(figure.typical.abs(), speech);
    if figure.typical < 0.0 {
        ["−", &text].concat()
    } else {
        text
    }
}

/// What the curve shows.
pub fn years_sentence(now_pct: Option<f64>, then_pct: Option<f64>, years: f64) -> String {
    match (now_pct, then_pct) {
        (Some(now), Some(then)) => {
            let way = if then < now - 0.05 {
                tr!("falls")
            } else if then > now + 0.05 {
                tr!("rises")
            } else {
                tr!("stays")
            };
            if way == "stays" {
                return say!("Organic matter stays at about {} %.", fixed(now, 1));
            }
            say!(
                "Organic matter {} from {} % today to {} % in {}.",
                way,
                fixed(now, 1),
                fixed(then, 1),
                years_text(years)
            )
        }
        _ => tr!("There is no organic matter in it.").into(),
    }
}

/// Materials that can top up: those of the recipe first, then organic ones of the list; id and name.
pub fn top_up_materials(recipe: &Recipe) -> Vec<(String, String)> {
    let mut out: Vec<(String, String)> = Vec::new();
    let mut put = |id: &str, name: &str| {
        if out.iter().all(|(known, _)| known != id) {
            out.push((id.to_owned(), name.to_owned()));
        }
    };
    for addition in &recipe.additions {
        if let Some(found) = recipe.find(&addition.material)
            && found.group().is_organic()
        {
            put(&addition.material, found.name());
        }
    }
    for own in &recipe.materials {
        if own.group.is_some_and(crate::material::Group::is_organic) {
            put(&own.id, own.name.as_deref().unwrap_or(&own.id));
        }
    }
    for entry in crate::material::catalogue() {
        if entry.group.is_organic() {
            put(entry.id, entry.name);
        }
    }
    out
}
