//! Words of the tools that read a soil report and crumbs in water.

use super::{Speech, Units, figure_text, fixed, in_sentence, shown, significant, trait_name};
use crate::chemistry::exchange::Cation;
use crate::chemistry::gypsum::{Reason, Requirement, RestsOn};
use crate::chemistry::liming::{Advice, Doses};
use crate::chemistry::sodicity::{ESP_SODIC_PCT, ESP_WATCH_PCT, MagnesiumCase, SaltClass};
use crate::figure::{Ends, Figure};
use crate::ground::dispersion::{Dispersion, DispersionFault};
use crate::ground::report::{Field, Finding, Read};
use crate::quantity::{Unit, round_significant};

/// Labels of both tools.
pub(super) const REPORT: &[(&str, &str)] = &[
    ("report_title", "Read a soil report"),
    (
        "report_intro",
        "Type what it prints, in its own units; the rest stays empty and is estimated as before. Only what you fill in changes.",
    ),
    ("report_reaction", "Reaction"),
    ("report_ph", "pH"),
    ("report_shaken", "Measured in"),
    ("report_water_1", "water 1:1"),
    ("report_water_2", "water 1:2.5"),
    ("report_water_5", "water 1:5"),
    ("report_cacl2", "calcium chloride"),
    ("report_buffer_ph", "Buffer pH"),
    ("report_buffer", "Buffer starts at"),
    ("report_buffer_7", "7.0, as SMP"),
    ("report_buffer_8", "8.0, as Clemson"),
    ("report_buffer_nc", "6.6, North Carolina"),
    ("report_sifted", "Weight to volume"),
    ("report_wanted", "pH you want"),
    ("report_exchange", "Exchange"),
    ("report_cec", "Capacity, CEC"),
    ("report_unit", "Cations in"),
    ("report_ppm", "ppm, mg/kg"),
    ("report_pounds", "lb/acre"),
    ("report_meq", "meq/100 g, cmol/kg"),
    ("report_share", "% of the CEC"),
    ("report_depth", "Pounds to a depth of"),
    ("report_ca", "Calcium, Ca"),
    ("report_mg", "Magnesium, Mg"),
    ("report_k", "Potassium, K"),
    ("report_na", "Sodium, Na"),
    ("report_h", "Acidity, H"),
    ("report_sar", "Or the ratio SAR"),
    ("report_organic", "Organic matter"),
    ("report_percent", "Percent"),
    ("report_by", "Found by"),
    ("report_by_unknown", "it does not say"),
    ("report_by_loss", "loss on ignition, calibrated"),
    ("report_by_raw_loss", "loss on ignition, as weighed"),
    ("report_by_carbon", "carbon, printed as carbon"),
    ("report_by_old", "carbon × 1.724"),
    ("report_salts", "Salts"),
    ("report_ec", "Salt, EC"),
    ("report_ec_unit", "Unit of conductivity"),
    ("report_paste", "saturated paste"),
    ("report_1to1", "1:1"),
    ("report_1to2", "1:2 by volume"),
    ("report_1to5", "1:5"),
    ("report_lime", "Free lime"),
    ("report_carbonate", "Carbonate, if printed"),
    (
        "report_fizz_how",
        "Or ask vinegar: a few drops on a teaspoon of dry soil without shells or grit. Listen closely; what does it do?",
    ),
    ("report_fizz", "What vinegar does"),
    ("report_fizz_none", "nothing"),
    ("report_fizz_weak", "a few bubbles"),
    ("report_fizz_strong", "it foams"),
    ("report_fizz_skip", "not tried"),
    ("report_phosphorus", "Phosphorus"),
    ("report_p", "Phosphorus, P"),
    ("report_p_unit", "Unit of phosphorus"),
    ("report_extractant", "Extracted by"),
    (
        "report_care",
        "A soil laboratory can tell you what its numbers mean, and the extension office what to give in your region. Where they say otherwise, they are right.",
    ),
    ("report_crumbs", "Or drop crumbs in water"),
    ("crumbs_title", "Drop crumbs in water"),
    (
        "crumbs_intro",
        "Sodium makes clay go milky in rain and seal. Crumbs in a glass show it; what merely falls apart lacks humus, not gypsum.",
    ),
    (
        "crumbs_dry",
        "Dry a few crumbs in the air, 3 to 5 mm across, from the depth you dig.",
    ),
    (
        "crumbs_water",
        "Fill a clear glass with rain or distilled water. Tap water hides it: its salts hold clay together.",
    ),
    (
        "crumbs_drop",
        "Lower three crumbs in. Do not stir, do not move the glass. Look after 2 hours and again after 20.",
    ),
    ("crumbs_2h", "After 2 hours"),
    ("crumbs_20h", "After 20 hours"),
    (
        "crumbs_worked",
        "It stays clear, so try it worked: wet a spoonful to putty, knead it for half a minute, roll small balls, and drop those in fresh rain water.",
    ),
    ("crumbs_worked_2h", "Worked wet, after 2 hours"),
    ("crumbs_worked_20h", "Worked wet, after 20 hours"),
    (
        "crumbs_care",
        "Salt, magnesium and little humus cloud water as well, and a salty soil may stay clear. A soil laboratory settles how much sodium there is.",
    ),
];

/// How milky the water is, from 0 to 4.
pub fn milkiness_name(score: u8) -> &'static str {
    match score {
        0 => tr!("clear"),
        1 => tr!("a slight haze"),
        2 => tr!("a halo"),
        3 => tr!("a thick halo"),
        _ => tr!("all of it milky"),
    }
}

fn field_name(of: Field) -> &'static str {
    match of {
        Field::Ph => "pH",
        Field::BufferPh => tr!("Buffer pH"),
        Field::SiftedWeight => tr!("Weight to volume"),
        Field::Cec => tr!("Exchange capacity"),
        Field::Cation(Cation::Calcium) => tr!("Calcium"),
        Field::Cation(Cation::Magnesium) => tr!("Magnesium"),
        Field::Cation(Cation::Potassium) => tr!("Potassium"),
        Field::Cation(Cation::Sodium) => tr!("Sodium"),
        Field::Cation(Cation::Acidity) => tr!("Acidity"),
        Field::Sar => tr!("SAR"),
        Field::Organic => tr!("Organic matter"),
        Field::Ec => tr!("Conductivity"),
        Field::Carbonate => tr!("Carbonate"),
        Field::Phosphorus => tr!("Phosphorus"),
    }
}

/// To so many figures; what is next to nothing is nothing.
fn figures(value: f64, digits: usize) -> String {
    let least = 1e-6;
    let value = if value.abs() < least { 0.0 } else { value };
    shown(round_significant(value, digits))
}

fn number(value: f64) -> String {
    figures(value, 3)
}

/// A share with its range.
fn share_text(share: Figure) -> String {
    let of = |value: f64| figures(value, 2);
    match share.ends {
        Some(ends) if ends.low < ends.high => format!(
            "{} % ({}–{})",
            of(share.typical),
            of(ends.low),
            of(ends.high)
        ),
        _ => format!("{} %", of(share.typical)),
    }
}

/// What is to be known of a report, in a sentence or two; of clay or of another soil.
pub fn finding_text(finding: &Finding, is_clay: bool) -> String {
    match *finding {
        Finding::Outside {
            field, low, high, ..
        } => say!("{} is left out: it can be from {} to {}.", field_name(field), shown(low), shown(high)),
        Finding::Unusual { field, value } => say!("{} {} is hardly found in any soil. Look at the report again.", field_name(field), figures(value, 4)),
        Finding::SharesDoNotSum { sum_pct } => say!("The shares come to {} %, and 100 is all there is. Until they do, none of them is taken.", number(sum_pct)),
        Finding::OverCapacity { sum_pct, written } => {
            let head = say!("The cations come to {} % of the exchange capacity.", number(sum_pct));
            let rest = if written {
                tr!(" Salt or lime in the extract does that; they are taken in proportion.")
            } else {
                tr!(" Look at the units: none of the shares is taken.")
            };
            head + rest
        }
        Finding::PerhapsPoundsPerAcre => {
            tr!("The cations are about twice what fits: are they in lb/acre? Nothing was changed; choose the unit.").into()
        }
        Finding::PerhapsPpm => {
            tr!("The cations are about half of what fits: are they in ppm? Nothing was changed; choose the unit.").into()
        }
        Finding::PerhapsMicrosiemens { value } => say!("{} dS/m is the salt of the sea: did the report say µS/cm? Nothing was changed; choose the unit.", number(value)),
        Finding::PerhapsDecisiemens { value } => say!("{} µS/cm is purer than rain: did the report say dS/m, mS/cm or mmho/cm? Nothing was changed; choose the unit.", number(value)),
        Finding::FreeLime { known, widened } => {
            let head = if known {
                tr!("This soil holds free lime, and the extract dissolves some of it: calcium and capacity look higher than they are, sodium looks lower.")
            } else {
                tr!("At this pH there may be free lime, which makes calcium look high and sodium low. Ask vinegar, below.")
            };
            let tail = if widened {
                tr!(" Their ranges are widened for it.")
            } else {
                ""
            };
            [head, tail].concat()
        }
        Finding::LimeInAcid { ph } => say!("Lime does not last in soil of pH {}: shells, grit or a fresh dressing may be in the sample.", number(ph)),
        Finding::SummedCapacity {
            cec_cmol_kg,
            acidity_cmol_kg,
        } => {
            let acidity = if acidity_cmol_kg > 0.0 {
                say!("{} of it acidity", number(acidity_cmol_kg))
            } else {
                tr!("without acidity").into()
            };
            say!("The exchange capacity is summed: {} cmol/kg, {}. That is no capacity at pH 7, so compare it only with reports made alike.", number(cec_cmol_kg), acidity)
        }
        Finding::NoAcidity { start_ph } => say!("The buffer stands at its start of {} or above: no acidity to be limed. If that surprises you, see which buffer it is.", fixed(start_ph, 1)),
        Finding::NoCapacity => {
            tr!("Amounts alone are no shares: type the exchange capacity, or calcium, magnesium and the buffer pH to sum it from.").into()
        }
        Finding::OnlyPh => {
            tr!("Only pH is given. It says nothing of salt, sodium or lime; these stay estimated.").into()
        }
        Finding::SodiumUnknown => {
            tr!("Nothing here tells of sodium, so nothing here speaks for gypsum or against it. Crumbs in rain water do.").into()
        }
        Finding::Sodium {
            share,
            salt,
            reason,
            ..
        } => sodium_text(share, salt, reason, is_clay),
        Finding::SarBeyond { sar } => say!("A SAR of {} is beyond what is known of its share of sodium, so that is wide.", number(sar)),
        Finding::Magnesium { case, share_pct } => say!("Magnesium holds {} % of the capacity: that {} make clay go milky with little sodium. Crumbs in rain water show it; there is no ideal share to aim for.", number(share_pct), match case {
                MagnesiumCase::Likely => tr!("may well"),
                _ => tr!("can"),
            }),
        Finding::PhosphorusHigh { ppm, stop_ppm } => say!("Phosphorus {} ppm is past {} ppm, from where more does no good and washes into water: add none, and go easy on manure and compost. It is told, not stored.", number(ppm), number(stop_ppm)),
        Finding::PhosphorusBelow { ppm, stop_ppm } => say!("Phosphorus {} ppm is below the {} ppm from where none is to be added. It is told, not stored.", number(ppm), number(stop_ppm)),
    }
}

fn sodium_text(share: Figure, salt: Option<SaltClass>, reason: Reason, is_clay: bool) -> String {
    let soil = if is_clay { tr!("clay") } else { tr!("soil") };
    let told = share_text(share);
    let text = match reason {
        Reason::NoneNeeded if share.ends().high >= ESP_WATCH_PCT => say!(
            "Gypsum has probably nothing to do in this {}: sodium {}, watched from {} %, which it may pass. Crumbs in a jar of rain water settle it.",
            soil,
            told,
            number(ESP_WATCH_PCT)
        ),
        Reason::NoneNeeded => say!(
            "No sign that gypsum would loosen this {} (sodium {}, watched from {} %); crumbs in a jar of rain water settle it.",
            soil,
            told,
            number(ESP_WATCH_PCT)
        ),
        Reason::Watch => say!(
            "Sodium {}: from {} % on clay may go milky in rain and seal. Drop crumbs in water; if they cloud, gypsum is worth a trial in one pot or corner.",
            told,
            number(ESP_WATCH_PCT)
        ),
        Reason::Sodic => say!(
            "Sodium {}, and {} % is called sodic. Calcium must come before water: rain or soft water alone would seal it further.",
            told,
            number(ESP_SODIC_PCT)
        ),
        Reason::Magnesium => say!(
            "Little sodium ({}), but much magnesium, which may act like it. Drop crumbs in water; if they cloud, gypsum is worth a trial.",
            told
        ),
    };
    let salty = match salt {
        Some(SaltClass::Saline) => {
            tr!(
                " With this salt the soil is saline: wash it out with clean water where that can leave."
            )
        }
        Some(SaltClass::SalineSodic) => {
            tr!(
                " It is saline too, and the salt still holds the clay together: do not wash it first."
            )
        }
        _ => "",
    };
    text + salty
}

/// An amount on an area.
fn on_area(kg_m2: f64, speech: Speech) -> String {
    to_figures_on_area(kg_m2, 2, speech)
}

fn to_figures_on_area(kg_m2: f64, digits: usize, speech: Speech) -> String {
    match speech.units {
        Units::Metric => format!("{} g/m²", significant(kg_m2 * 1000.0, digits)),
        Units::Us => {
            let lb = kg_m2 / Unit::PoundPer100SquareFeet.factor();
            say!("{} lb/100 ft²", significant(lb, digits))
        }
    }
}

fn range_on_area(kg_m2: Figure, speech: Speech) -> String {
    let ends = kg_m2.ends();
    say!(
        "{} ({} to {})",
        on_area(kg_m2.typical, speech),
        on_area(ends.low, speech),
        on_area(ends.high, speech)
    )
}

/// Water on an area, from mm.
pub(super) fn water_depth(mm: f64, speech: Speech) -> String {
    match speech.units {
        Units::Metric => significant(mm, 2) + " mm",
        Units::Us => significant(mm / 1000.0 / Unit::Inch.factor(), 2) + " in",
    }
}

/// Years of rain, from half years: to the half.
pub(super) fn years_of_rain(half_years: Figure) -> String {
    let Ends { low, high } = half_years.ends();
    let [low, high] = [low, high].map(|seasons| shown(seasons.round().max(1.0) / 2.0));
    if low == high {
        format!(
            "{low} {}",
            if low == "1" {
                tr!("year")
            } else {
                tr!("years")
            }
        )
    } else {
        say!("{} to {} years", low, high)
    }
}

/// What gypsum it would take; nothing where there is no reason for any.
pub fn requirement_text(need: &Requirement, depth_m: f64, speech: Speech) -> Option<String> {
    if need.pure_kg_m2 <= 0.0 {
        return None;
    }
    let rests = match need.rests_on {
        RestsOn::Given => tr!("By these numbers"),
        RestsOn::Estimated => tr!("By an estimate, which only a laboratory can settle,"),
    };
    Some(say!(
        "{} {} of gypsum as sold would bring the top {} to {} %{}. It takes {} of water to dissolve it and to carry the sodium away below; rain alone needs {}. Without a way out for the water it only adds salt.",
        rests,
        range_on_area(need.product_kg_m2, speech),
        speech.length(depth_m * 100.0),
        number(ESP_WATCH_PCT),
        if need.doses > 1 {
            say!(", in {} doses", need.doses)
        } else {
            String::new()
        },
        water_depth(need.water_mm(), speech),
        years_of_rain(need.seasons)
    ))
}

fn doses_text(doses: &Doses, speech: Speech) -> String {
    match doses.count {
        0 | 1 => say!("Test again {} months later.", doses.months),
        count => say!(
            "In {} doses of {}, {} months apart, with a test between.",
            count,
            to_figures_on_area(doses.each_kg_m2, 3, speech),
            doses.months
        ),
    }
}

/// What another reaction would take.
pub fn advice_text(advice: &Advice, to_ph: f64, depth_m: f64, speech: Speech) -> String {
    let to = say!(
        "to bring the top {} to pH {}",
        speech.length(depth_m * 100.0),
        shown(to_ph)
    );
    match advice {
        Advice::Nothing => tr!("It is at the pH you want.").into(),
        Advice::NoReaction => tr!("For that the pH of today is needed.").into(),
        Advice::Lime(doses) => say!("Ground lime {}: {}, by clay and humus alone; the laboratory's own figure comes first. {}", to, range_on_area(doses.kg_m2, speech), doses_text(doses, speech)),
        Advice::Sulfur(doses) => say!("Sulfur {}: {}, by clay and humus alone, in warm moist soil. {}", to, range_on_area(doses.kg_m2, speech), doses_text(doses, speech)),
        Advice::AskFizz => {
            tr!("Ask vinegar before you buy sulfur: with free lime it would be in vain.").into()
        }
        Advice::SodiumFirst => tr!("Its sodium comes first: where sodium makes a soil so basic, calcium in its place and water through it move the pH by themselves. Have sodium tested if it was not.").into(),
        Advice::Held => tr!("Free lime holds it where it is: more lime lifts it no further.").into(),
        Advice::InVain { eaten_kg_m2 } => say!("No sulfur: the free lime in the top {} would take {} of it before the pH moved at all. Choose plants that like lime, or soil without lime in a pot.", speech.length(depth_m * 100.0), on_area(*eaten_kg_m2, speech)),
    }
}

/// What a report writes into the ground.
pub fn written_text(read: &Read, speech: Speech) -> Option<String> {
    if read.traits.is_empty() {
        return None;
    }
    let told: Vec<String> = read
        .traits
        .iter()
        .map(|(of, figure)| {
            let (name, unit, factor) = trait_name(*of, speech);
            // One of three says “or” where it stands in their list.
            let name = name.strip_prefix("or ").unwrap_or(name);
            match name.split_once(", of the ") {
                Some((name, of)) => {
                    let unit = say!("{} of the {}", unit, of);
                    figure_text(&in_sentence(name), *figure, factor, &unit)
                }
                None => figure_text(&in_sentence(name), *figure, factor, unit),
            }
        })
        .collect();
    Some(say!("Will be written: {}.", told.join("; ")))
}

/// What crumbs in water say.
pub fn dispersion_text(index: u8, meaning: Dispersion) -> String {
    let head = say!("{} of 16: ", index);
    let text = match meaning {
        Dispersion::Stable => {
            tr!(
                "it holds together, worked or not. No sign that gypsum would loosen it; if it slakes, compost and roots help."
            )
        }
        Dispersion::OnlyWorked => {
            tr!(
                "it goes milky only after it was worked wet. Do not dig or tread it wet; gypsum is unlikely to pay."
            )
        }
        Dispersion::ByItself => {
            tr!(
                "it goes milky by itself. Have sodium and salt tested; try gypsum in one pot first, where water can leave."
            )
        }
        Dispersion::Severe => {
            tr!(
                "all of it goes milky. Have it tested before you dig: if sodium is behind it, gypsum and water right through it come first. Leave it alone when wet."
            )
        }
    };
    head + text
}

/// What is done with it.
pub fn dispersion_written_text(sodium: Figure, known: Option<Figure>) -> String {
    match known {
        Some(known) => say!(
            "The ground has sodium of {} already, which stays: a laboratory knows more than a glass.",
            share_text(known)
        ),
        None => say!(
            "Will be written: sodium {} of the CEC, which is a guess from the glass.",
            share_text(sodium)
        ),
    }
}

/// What crumbs cannot be read for.
pub fn dispersion_fault_text(fault: DispersionFault) -> String {
    match fault {
        DispersionFault::Outside { most, .. } => say!("Milkiness goes from 0 to {}.", most),
        DispersionFault::WorkWet => {
            tr!("Clear after 20 hours: now the same with balls worked wet, below.").into()
        }
    }
}
