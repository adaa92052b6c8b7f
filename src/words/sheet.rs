//! The pages of all materials and of all sources. They stand in the site from the start, so the
//! running page knows nothing of them.

use super::{METRIC, fixed, property_name, round_significant, shown, trait_name};
use crate::ground::Trait;
use crate::material::{Fact, Hazard, Property};
use crate::source::{Mark, Shares};

/// Labels of the two pages.
pub(super) const SHEET: &[(&str, &str)] = &[
    ("all_materials", "All materials"),
    ("all_sources", "All sources"),
    ("materials_title", "Barrowmix: all materials"),
    ("sources_title", "Barrowmix: all sources"),
    (
        "materials_intro",
        "What each material is, what it did in clay where anyone looked, what to beware of, and every number that Barrowmix computes with.",
    ),
    ("materials_read_heading", "How to read a sheet"),
    (
        "materials_read_range",
        "Low, typical and high: of ten loads, about one lies below low and one above high. A number that stands alone has no range of its own. What varies little from load to load is sharper than what does: a compost can be half or twice the usual in almost everything.",
    ),
    (
        "materials_read_marks",
        "Each number and each finding says how it was come by. “Read”: read in the source that is named, or computed from what was read there. “Remembered”: from memory of that source, so look it up before you quote it. “Common practice”: what growers, sellers and laboratories go by, or a rule of this program, with no measurement behind it.",
    ),
    (
        "materials_read_hazards",
        "Hazards are judged here, by common practice: minor, plan for it, or can decide against use. Where the worst load is worse than the usual one, both are told.",
    ),
    (
        "materials_ask",
        "The label of the product, a soil laboratory and the extension office or a local gardening society know your load and your place. They win over this page.",
    ),
    ("contents", "Contents"),
    ("sheet_clay", "In clay"),
    ("sheet_found", "What was found"),
    ("sheet_found_none", "No trial was found."),
    ("sheet_hazards", "Beware of"),
    (
        "sheet_hazards_none",
        "Nothing that is known to need planning.",
    ),
    ("sheet_rate", "How much"),
    ("sheet_bags", "As it is sold"),
    ("sheet_numbers", "Numbers and where they come from"),
    ("sheet_col_what", "What"),
    ("sheet_col_unit", "Unit"),
    ("sheet_col_source", "Source"),
    ("sheet_col_mark", "Mark"),
    ("found_soils", "Soils"),
    ("found_doubt", "How sure"),
    ("found_source", "Source"),
    ("found_any", "Whatever is added"),
    (
        "found_any_intro",
        "Findings about clay that belong to no material of this list.",
    ),
    (
        "sources_intro",
        "Every source that a number or a finding here rests on, and what rests on it. No number is without one.",
    ),
    ("sources_shares_heading", "How well founded is it?"),
    ("sources_list_heading", "Sources of numbers and findings"),
    ("sources_what_rests", "What rests on it"),
    ("sources_findings", "Findings"),
    ("sources_grounds", "Usual soils"),
    ("sources_hazards", "hazards"),
    ("sources_equations_heading", "Equations"),
    (
        "sources_equations_intro",
        "What turns these numbers into the figures of a blend, and how well each did where it was tried.",
    ),
    ("sources_constants_heading", "Constants and other rules"),
    (
        "sources_constants_intro",
        "What stands in the program itself, beside the equations.",
    ),
];

/// What rests on constants of the program, and where they come from.
const CONSTANTS: &[(&str, &str)] = &[
    (
        "Usual sand, silt and clay of a texture class that is only named",
        "Cosby et al. 1984, Water Resour. Res. 20:682; silt after Saxton & Rawls 2006, Soil Sci. Soc. Am. J. 70:1569, Table 3 (both read in a reprint)",
    ),
    (
        "Limits of sand, silt, clay and gravel",
        "Soil Survey Manual 2017, Agriculture Handbook 18, chapter 3 (read)",
    ),
    (
        "Questions that lead from the feel of a soil to its class",
        "Thien 1979, J. Agron. Educ. 8:54; half of beginners’ calls one class off by common practice",
    ),
    (
        "Weight of the layers in a jar",
        "Lara & Pemberton 1963, deposits always under water (remembered); errors of reading by common practice",
    ),
    (
        "When to read a jar",
        "Stokes’ law, with the drag of natural grains in Ferguson & Church 2004, J. Sediment. Res. 74:933 (remembered)",
    ),
    (
        "Viscosity of water",
        "Patek et al. 2009, J. Phys. Chem. Ref. Data 38:21 (remembered)",
    ),
    (
        "Density of water",
        "Tanaka et al. 2001, Metrologia 38:301, equation 1 (remembered)",
    ),
    (
        "Errors of the estimated density and moisture of a ground",
        "Counted here on 8,265 and 6,406 horizons of open sets, those of Gupta et al. 2021 and Leenaars 2014 among them, and widened by 15 %",
    ),
    (
        "Usual errors of what you measure in a pot, hole, ring or can of the blend",
        "Common practice",
    ),
    (
        "Error of the packing",
        "18 measured mixes of natural grains, among them Thevanayagam et al. 2002, J. Geotech. Geoenviron. Eng. 128:849 (remembered), and 48 of spheres computed by the method of Farr & Groot 2009, J. Chem. Phys. 131:244104 (remembered)",
    ),
    (
        "What a soil holds at a tension",
        "Form of the curve: van Genuchten 1980, Soil Sci. Soc. Am. J. 44:892 (remembered); trapped air and water that stays in sand fitted on measured cores",
    ),
    (
        "Water and air of a drained pot",
        "White & Mastalerz 1966, Proc. Am. Soc. Hortic. Sci. 89:758 (remembered); Bilderback & Fonteno 1987, J. Environ. Hortic. 5:180 (read in its abstract)",
    ),
    (
        "Gravel in the way of water",
        "Peck & Watson 1979 (remembered, and derived anew)",
    ),
    (
        "Coarse grains that float in the way of water",
        "Maxwell 1873; from touching grains to clean ones by a rule of this program",
    ),
    (
        "What a drop in a hole says of conductivity",
        "Elrick & Reynolds; shape factors of Zhang et al. 1998 (both remembered)",
    ),
    (
        "Densities that trouble roots",
        "Tables of the USDA Natural Resources Conservation Service (read in part); University of Florida after Harris 1990 and Morris & Lowery 1988 (read); a lecture table (read)",
    ),
    (
        "How grains of unlike size loosen each other, and the packing index",
        "de Larrard 1999, natural grains (remembered)",
    ),
    (
        "Largest shrinkage by mixing that was measured",
        "Salgado, Bandini & Karim 2000, J. Geotech. Geoenviron. Eng. 126:451 (remembered)",
    ),
    (
        "Density of char, without its pores",
        "Brewer et al. 2014, Biomass & Bioenergy 66:176 (remembered)",
    ),
    (
        "Density of organic matter in a soil as it lies",
        "Adams 1973, J. Soil Sci. 24:10",
    ),
    (
        "Mean sizes of sand, silt and clay",
        "Shirazi & Boersma 1984, Soil Sci. Soc. Am. J. 48:142",
    ),
    (
        "Phosphorus and potassium in P₂O₅ and K₂O, as bags print them",
        "Atomic masses of IUPAC 2007, Wieser & Berglund 2009 (remembered)",
    ),
    (
        "Units",
        "NIST Special Publication 811, 2008, appendix B; factors of the uom library",
    ),
    (
        "What nursery pots hold",
        "A Colorado nursery’s list in litres (read); ranges of ANSI Z60.1 (remembered)",
    ),
    (
        "Quantiles of the normal distribution, for the draws",
        "Wichura 1988, Applied Statistics 37:477",
    ),
    (
        "Order of the draws",
        "SplitMix64 of Steele, Lea & Flood 2014; hash of Fowler, Noll & Vo",
    ),
    (
        "What an acre's layer of soil weighs, and pounds of it as parts per million",
        "University of Florida IFAS HS1229; Purdue University (read)",
    ),
    (
        "Acidity by the buffer of a laboratory, for a capacity by summation",
        "Clemson University; a laboratory of the Midwest; North Carolina (read)",
    ),
    (
        "Organic matter over organic carbon",
        "Pribyl 2010, Geoderma 156:75; 1.724 by the old convention (read)",
    ),
    (
        "Sodium of the capacity by the ratio of an extract, classes of salt and sodium, gypsum for sodium",
        "US Salinity Laboratory 1954, Agriculture Handbook 60 (classes read; coefficients remembered); Oster & Frenkel 1980 for what is lost of gypsum (remembered)",
    ),
    (
        "Sodium that is watched, and salt that keeps clay together",
        "Northcote & Skene 1972; McKenzie 1998; Rengasamy & Marchuk 2011, Soil Res. 49 (all remembered)",
    ),
    (
        "pH in five parts of water by that in one",
        "Libohova et al. 2014, Geoderma (read)",
    ),
    (
        "Salt of a saturated paste by that in one part of water",
        "PLOS ONE 13(6):e0198290, 2018, table 2 (read)",
    ),
    (
        "What lime and sulfur are split into, and what ground lime does of pure carbonate",
        "Penn State; New Hampshire; a thesis of the University of Georgia (read); caps of sulfur by common practice",
    ),
    (
        "Crumbs in water: what milky water means",
        "Soil Quality Knowledge Base, Western Australia; a laboratory method of New South Wales (read); the sodium that it stands for is a choice",
    ),
    (
        "How materials settle, how ground loosens when it is dug, sizes of crumbs and slaked clay, errors of cans and scales",
        "Common practice; no single source",
    ),
    (
        "A soil’s own organic matter over the years, and what holds it",
        "AMG, first version, after Saffih-Hdadi & Mary 2008, Soil Biol. Biochem. 40:594 (read in published code); how far it may be off by choice, beside Levavasseur et al. 2020; Hénin & Dupuis 1945. Checked against Coleman & Jenkinson 1999 (read) and Remy & Marin-Laflèche 1974 (remembered)",
    ),
    (
        "What is left of organic matter that was added",
        "Each material’s own first year; char by Wang, Xiong & Kuzyakov 2016, GCB Bioenergy 8:512 (read); the slow part of composts by Hadas & Portnoy 1994, J. Environ. Qual. 23:1184 (read); other rates, and doubling over 10 degrees, by common practice",
    ),
    (
        "Trials: several treatments against one control",
        "Dunnett 1955, J. Am. Stat. Assoc. 50:1096; in one dimension Curnow & Dunnett 1962 (both remembered); checked against tables that were read and values computed elsewhere",
    ),
    (
        "Trials: what blocks were worth, and a lost container",
        "Gomez & Gomez 1984, Statistical Procedures for Agricultural Research; Yates 1933 (both remembered)",
    ),
    (
        "Trials: unlike spreads, steps of adjusted chances, ranks, shares",
        "Welch 1947; Welch 1951; Holm 1979; Kruskal & Wallis 1952; Friedman 1937; Wilson 1927 (all remembered)",
    ),
    (
        "Trials: differences that usually matter, and spreads too unlike to be one",
        "Common practice",
    ),
    (
        "Settling by rain",
        "The form of EPIC as in Lutz et al. 2019, Geosci. Model Dev. 12:2419 (remembered)",
    ),
];

/// What rests on constants of the program, each with where it comes from.
pub fn constants() -> &'static [(&'static str, &'static str)] {
    CONSTANTS
}

/// How a number or finding was come by, in a word or two.
pub fn mark_word(mark: Mark) -> &'static str {
    match mark {
        Mark::Verified => tr!("read"),
        Mark::Memory => tr!("remembered"),
        Mark::Practice => tr!("common practice"),
    }
}

/// What a fact of the catalogue is.
pub fn fact_name(of: Fact) -> &'static str {
    match of {
        Fact::ContainerCapacity => tr!("Water held in a drained pot"),
        Fact::AirSpace => tr!("Air in a drained pot"),
        Fact::BagUs => tr!("Bag, US"),
        Fact::BagMetric => tr!("Bag, metric"),
        Fact::BagExpands => tr!("Fluffs up"),
        Fact::UsualRate => tr!("Usual rate"),
        Fact::UsualRate2 | Fact::UsualRate3 | Fact::UsualRate4 => tr!("Usual rate, told otherwise"),
    }
}

/// What can be wrong, in plain words.
pub fn hazard_name(of: Hazard) -> &'static str {
    match of {
        Hazard::Salt => tr!("Salts"),
        Hazard::Sodium => tr!("Sodium, which makes clay slake"),
        Hazard::Metals => tr!("Heavy metals"),
        Hazard::Pfas => tr!("Lasting fluorinated chemicals (PFAS)"),
        Hazard::Herbicide => tr!("Weedkillers that outlast animals and composting"),
        Hazard::Weed => tr!("Weed seeds"),
        Hazard::Pathogen => tr!("Germs"),
        Hazard::Peatland => tr!("Loss of peatland and its carbon"),
        Hazard::Dust => tr!("Dust in nose and lungs"),
        Hazard::Silica => tr!("Fine crystalline silica in the dust"),
        Hazard::NitrogenTieUp => tr!("Nitrogen tied up when dug in"),
        Hazard::Hydrophobic => tr!("Hard to wet again once dry"),
        Hazard::Plastic => tr!("Bits of plastic"),
        Hazard::Ammonia => tr!("Ammonia"),
        Hazard::Caustic => tr!("Burns of skin and eyes"),
        Hazard::Fire => tr!("Fire"),
        Hazard::Mould => tr!("Mould spores"),
        Hazard::Fluoride => tr!("Fluoride"),
        Hazard::Manganese => tr!("Manganese"),
        Hazard::Tars => tr!("Tars of burning (PAH)"),
        Hazard::OldAsbestos => tr!("Asbestos in old stock"),
        Hazard::Unproven => tr!("Claims that trials did not bear out"),
    }
}

/// How grave a hazard is, from 1 on.
fn level_word(level: u8) -> &'static str {
    match level {
        0 => tr!("none as a rule"),
        1 => tr!("minor"),
        2 => tr!("plan for it"),
        _ => tr!("can decide against use"),
    }
}

/// How grave a hazard is, with the worst case where it is worse; nothing where it is none.
pub fn hazard_text(typical: u8, worst: u8) -> Option<String> {
    match (typical, worst) {
        (0, 0) => None,
        (typical, worst) if worst > typical => Some(say!(
            "{}; at worst: {}",
            level_word(typical),
            level_word(worst)
        )),
        (typical, _) => Some(level_word(typical).into()),
    }
}

/// The name of a field of the tables, in plain words.
pub fn field_name(field: &str) -> Option<&'static str> {
    let property = Property::ALL.iter().find(|of| of.name() == field);
    let of_ground = Trait::ALL.iter().find(|of| of.name() == field);
    let fact = Fact::ALL.iter().find(|of| of.name() == field);
    let hazard = Hazard::ALL.iter().find(|of| of.name() == field);
    property
        .map(|of| property_name(*of, METRIC).0)
        .or_else(|| of_ground.map(|of| trait_name(*of, METRIC).0))
        .or_else(|| fact.map(|of| fact_name(*of)))
        .or_else(|| hazard.map(|of| hazard_name(*of)))
}

/// A unit of the tables as it is printed.
pub fn printed_unit(unit: &str) -> String {
    [
        (tr!("ft3"), tr!("ft³")),
        (tr!("ft2"), tr!("ft²")),
        ("m3", "m³"),
        ("m2", "m²"),
        (tr!("% vol of mix"), tr!("% of the mix by volume")),
        (tr!("% vol, check value"), tr!("% of volume")),
    ]
    .iter()
    .fold(unit.to_owned(), |text, (plain, printed)| {
        text.replace(plain, printed)
    })
}

/// A number of a table: three figures at most, and none that only fill up.
pub fn printed(value: f64) -> String {
    shown(round_significant(value, 3))
}

/// A number with its ends.
pub fn printed_range(low: f64, typical: f64, high: f64) -> String {
    let [low, middle, high] = [low, typical, high].map(printed);
    if low == high {
        return middle;
    }
    if middle == low || middle == high {
        return say!("{} to {}", low, high);
    }
    say!("{} to {}, mostly {}", low, high, middle)
}

/// A citation cut to author and year, or to what stands before the first comma.
pub fn short_citation(citation: &str) -> &str {
    /// How far in a year may stand.
    const FAR: usize = 55;
    let bytes = citation.as_bytes();
    let is_digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    let year = (1..bytes.len().min(FAR)).find(|at| {
        let century = citation.get(*at..at + 2);
        matches!(century, Some("18" | "19" | "20"))
            && bytes[at - 1] == b' '
            && is_digit(at + 2)
            && is_digit(at + 3)
            && !is_digit(at + 4)
    });
    if let Some(at) = year {
        return &citation[..at + 4];
    }
    let ends = [", ", " (", ": ", "; "];
    let cut = ends.iter().filter_map(|end| citation.find(end)).min();
    &citation[..cut.unwrap_or(citation.len())]
}

/// How many were come by in which way, such as "3 read, 1 remembered".
pub fn shares_in_short(shares: Shares) -> String {
    let told: Vec<String> = Mark::ALL
        .iter()
        .filter(|mark| shares.of(**mark) > 0)
        .map(|mark| format!("{} {}", shares.of(*mark), mark_word(*mark)))
        .collect();
    told.join(", ")
}

/// What the numbers or findings of a source come to.
pub fn counted_text(what: Counted, shares: Shares) -> String {
    let (one, more) = match what {
        Counted::Numbers => (tr!("number"), tr!("numbers")),
        Counted::Findings => (tr!("finding"), tr!("findings")),
    };
    let name = if shares.all() == 1 { one } else { more };
    format!("{} {name}: {}", shares.all(), shares_in_short(shares))
}

/// What is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Counted {
    /// Numbers of a table.
    Numbers,
    /// Findings.
    Findings,
}

fn percents(shares: Shares) -> String {
    let told = Mark::ALL.map(|mark| {
        let share = 100.0 * shares.of(mark) as f64 / shares.all().max(1) as f64;
        format!("{}\u{a0}% {}", fixed(share, 0), mark_word(mark))
    });
    told.join(", ")
}

/// How many numbers materials and grounds rest on, and how well they are founded.
pub fn numbers_shares_text(all: Shares, without_hazards: Shares) -> String {
    say!(
        "Materials and usual soils rest on {} numbers: {}. The hazards among them are judged here; without these it is {} numbers: {}.",
        all.all(),
        percents(all),
        without_hazards.all(),
        percents(without_hazards)
    )
}

/// The same of the findings.
pub fn findings_shares_text(shares: Shares) -> String {
    say!("Of {} findings: {}.", shares.all(), percents(shares))
}
