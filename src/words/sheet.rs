//! The pages of all materials and of all sources. They stand in the site from the start, so the
//! running page knows nothing of them.

use super::{METRIC, fixed, property_name, round_significant, shown, trait_name};
use crate::ground::Trait;
use crate::material::{Fact, Hazard, Property};
use crate::source::{Mark, Shares};
use crate::tongue::tr;

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
        mark!("Usual sand, silt and clay of a texture class that is only named"),
        mark!(
            "Cosby et al. 1984, Water Resour. Res. 20:682; silt after Saxton & Rawls 2006, Soil Sci. Soc. Am. J. 70:1569, Table 3 (both read in a reprint)"
        ),
    ),
    (
        mark!("Limits of sand, silt, clay and gravel"),
        mark!("Soil Survey Manual 2017, Agriculture Handbook 18, chapter 3 (read)"),
    ),
    (
        mark!("Questions that lead from the feel of a soil to its class"),
        mark!(
            "Thien 1979, J. Agron. Educ. 8:54; half of beginners’ calls one class off by common practice"
        ),
    ),
    (
        mark!("Weight of the layers in a jar"),
        mark!(
            "Lara & Pemberton 1963, deposits always under water (remembered); errors of reading by common practice"
        ),
    ),
    (
        mark!("When to read a jar"),
        mark!(
            "Stokes’ law, with the drag of natural grains in Ferguson & Church 2004, J. Sediment. Res. 74:933 (remembered)"
        ),
    ),
    (
        mark!("Viscosity of water"),
        mark!("Patek et al. 2009, J. Phys. Chem. Ref. Data 38:21 (remembered)"),
    ),
    (
        mark!("Density of water"),
        mark!("Tanaka et al. 2001, Metrologia 38:301, equation 1 (remembered)"),
    ),
    (
        mark!("Errors of the estimated density and moisture of a ground"),
        mark!(
            "Counted here on 8,265 and 6,406 horizons of open sets, those of Gupta et al. 2021 and Leenaars 2014 among them, and widened by 15 %"
        ),
    ),
    (
        mark!("Usual errors of what you measure in a pot, hole, ring or can of the blend"),
        mark!("Common practice"),
    ),
    (
        mark!("Error of the packing"),
        mark!(
            "18 measured mixes of natural grains, among them Thevanayagam et al. 2002, J. Geotech. Geoenviron. Eng. 128:849 (remembered), and 48 of spheres computed by the method of Farr & Groot 2009, J. Chem. Phys. 131:244104 (remembered)"
        ),
    ),
    (
        mark!("What a soil holds at a tension"),
        mark!(
            "Form of the curve: van Genuchten 1980, Soil Sci. Soc. Am. J. 44:892 (remembered); trapped air and water that stays in sand fitted on measured cores"
        ),
    ),
    (
        mark!("Water and air of a drained pot"),
        mark!(
            "White & Mastalerz 1966, Proc. Am. Soc. Hortic. Sci. 89:758 (remembered); Bilderback & Fonteno 1987, J. Environ. Hortic. 5:180 (read in its abstract)"
        ),
    ),
    (
        mark!("Gravel in the way of water"),
        mark!("Peck & Watson 1979 (remembered, and derived anew)"),
    ),
    (
        mark!("Coarse grains that float in the way of water"),
        mark!("Maxwell 1873; from touching grains to clean ones by a rule of this program"),
    ),
    (
        mark!("What a drop in a hole says of conductivity"),
        mark!("Elrick & Reynolds; shape factors of Zhang et al. 1998 (both remembered)"),
    ),
    (
        mark!("Densities that trouble roots"),
        mark!(
            "Tables of the USDA Natural Resources Conservation Service (read in part); University of Florida after Harris 1990 and Morris & Lowery 1988 (read); a lecture table (read)"
        ),
    ),
    (
        mark!("How grains of unlike size loosen each other, and the packing index"),
        mark!("de Larrard 1999, natural grains (remembered)"),
    ),
    (
        mark!("Largest shrinkage by mixing that was measured"),
        mark!("Salgado, Bandini & Karim 2000, J. Geotech. Geoenviron. Eng. 126:451 (remembered)"),
    ),
    (
        mark!("Density of char, without its pores"),
        mark!("Brewer et al. 2014, Biomass & Bioenergy 66:176 (remembered)"),
    ),
    (
        mark!("Density of organic matter in a soil as it lies"),
        mark!("Adams 1973, J. Soil Sci. 24:10"),
    ),
    (
        mark!("Mean sizes of sand, silt and clay"),
        mark!("Shirazi & Boersma 1984, Soil Sci. Soc. Am. J. 48:142"),
    ),
    (
        mark!("Phosphorus and potassium in P₂O₅ and K₂O, as bags print them"),
        mark!("Atomic masses of IUPAC 2007, Wieser & Berglund 2009 (remembered)"),
    ),
    (
        mark!("Units"),
        mark!("NIST Special Publication 811, 2008, appendix B; factors of the uom library"),
    ),
    (
        mark!("What nursery pots hold"),
        mark!("A Colorado nursery’s list in litres (read); ranges of ANSI Z60.1 (remembered)"),
    ),
    (
        mark!("Quantiles of the normal distribution, for the draws"),
        mark!("Wichura 1988, Applied Statistics 37:477"),
    ),
    (
        mark!("Order of the draws"),
        mark!("SplitMix64 of Steele, Lea & Flood 2014; hash of Fowler, Noll & Vo"),
    ),
    (
        mark!("What an acre's layer of soil weighs, and pounds of it as parts per million"),
        mark!("University of Florida IFAS HS1229; Purdue University (read)"),
    ),
    (
        mark!("Acidity by the buffer of a laboratory, for a capacity by summation"),
        mark!("Clemson University; a laboratory of the Midwest; North Carolina (read)"),
    ),
    (
        mark!("Organic matter over organic carbon"),
        mark!("Pribyl 2010, Geoderma 156:75; 1.724 by the old convention (read)"),
    ),
    (
        mark!(
            "Sodium of the capacity by the ratio of an extract, classes of salt and sodium, gypsum for sodium"
        ),
        mark!(
            "US Salinity Laboratory 1954, Agriculture Handbook 60 (classes read; coefficients remembered); Oster & Frenkel 1980 for what is lost of gypsum (remembered)"
        ),
    ),
    (
        mark!("Sodium that is watched, and salt that keeps clay together"),
        mark!(
            "Northcote & Skene 1972; McKenzie 1998; Rengasamy & Marchuk 2011, Soil Res. 49 (all remembered)"
        ),
    ),
    (
        mark!("pH in five parts of water by that in one"),
        mark!("Libohova et al. 2014, Geoderma (read)"),
    ),
    (
        mark!("Salt of a saturated paste by that in one part of water"),
        mark!("PLOS ONE 13(6):e0198290, 2018, table 2 (read)"),
    ),
    (
        mark!("What lime and sulfur are split into, and what ground lime does of pure carbonate"),
        mark!(
            "Penn State; New Hampshire; a thesis of the University of Georgia (read); caps of sulfur by common practice"
        ),
    ),
    (
        mark!("Crumbs in water: what milky water means"),
        mark!(
            "Soil Quality Knowledge Base, Western Australia; a laboratory method of New South Wales (read); the sodium that it stands for is a choice"
        ),
    ),
    (
        mark!(
            "How materials settle, how ground loosens when it is dug, sizes of crumbs and slaked clay, errors of cans and scales"
        ),
        mark!("Common practice; no single source"),
    ),
    (
        mark!("A soil’s own organic matter over the years, and what holds it"),
        mark!(
            "AMG, first version, after Saffih-Hdadi & Mary 2008, Soil Biol. Biochem. 40:594 (read in published code); how far it may be off by choice, beside Levavasseur et al. 2020; Hénin & Dupuis 1945. Checked against Coleman & Jenkinson 1999 (read) and Remy & Marin-Laflèche 1974 (remembered)"
        ),
    ),
    (
        mark!("What is left of organic matter that was added"),
        mark!(
            "Each material’s own first year; char by Wang, Xiong & Kuzyakov 2016, GCB Bioenergy 8:512 (read); the slow part of composts by Hadas & Portnoy 1994, J. Environ. Qual. 23:1184 (read); other rates, and doubling over 10 degrees, by common practice"
        ),
    ),
    (
        mark!("Trials: several treatments against one control"),
        mark!(
            "Dunnett 1955, J. Am. Stat. Assoc. 50:1096; in one dimension Curnow & Dunnett 1962 (both remembered); checked against tables that were read and values computed elsewhere"
        ),
    ),
    (
        mark!("Trials: what blocks were worth, and a lost container"),
        mark!(
            "Gomez & Gomez 1984, Statistical Procedures for Agricultural Research; Yates 1933 (both remembered)"
        ),
    ),
    (
        mark!("Trials: unlike spreads, steps of adjusted chances, ranks, shares"),
        mark!(
            "Welch 1947; Welch 1951; Holm 1979; Kruskal & Wallis 1952; Friedman 1937; Wilson 1927 (all remembered)"
        ),
    ),
    (
        mark!("Trials: differences that usually matter, and spreads too unlike to be one"),
        mark!("Common practice"),
    ),
    (
        mark!("Settling by rain"),
        mark!("The form of EPIC as in Lutz et al. 2019, Geosci. Model Dev. 12:2419 (remembered)"),
    ),
    (
        "Texture classes of other countries",
        "Canadian System of Soil Classification 1998; Bodenkundliche Kartieranleitung, 5th edition, 2005; European Soil Map and HYPRES, Wosten et al. 1999, Geoderma 90:169; FAO-UNESCO Soil Map of the World (all read). Hodgson 1997, Soil Survey Field Handbook, for England and Wales; the international triangle as used in Japan; Embrapa’s groups for Brazil (these three remembered, not checked against the original drawings)",
    ),
    (
        "Silt and sand by another limit of size",
        "Cumulative mass linear in the logarithm of size: Shirazi, Boersma & Johnson 2001, Soil Sci. Soc. Am. J. 65:300, and Nemes et al. 1999, Geoderma 90:187; at 20 µm the regression of Minasny & McBratney 2001, Aust. J. Soil Res. 39:1443 (all remembered; held against one soil whose grains were measured)",
    ),
];

/// What rests on constants of the program, each with where it comes from.
pub fn constants() -> Vec<(&'static str, &'static str)> {
    let told = |(what, source): &(&'static str, &'static str)| (tr(what), tr(source));
    CONSTANTS.iter().map(told).collect()
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
        ("% vol of mix", tr!("% of the mix by volume")),
        ("% vol, check value", tr!("% of volume")),
        ("ft3 compressed", tr!("ft3 compressed")),
        ("(surface mulch)", tr!("(surface mulch)")),
        ("kg solids", tr!("kg solids")),
        ("(dry)", tr!("(dry)")),
        ("(moist)", tr!("(moist)")),
        ("(sodic)", tr!("(sodic)")),
        (
            "loose volume / printed volume (coir: L per kg)",
            tr!("loose volume / printed volume (coir: L per kg)"),
        ),
        ("ft3", "ft³"),
        ("ft2", "ft²"),
        ("m3", "m³"),
        ("m2", "m²"),
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
#[cfg(not(feature = "page"))]
pub fn counted_text(what: Counted, shares: Shares) -> String {
    let (all, short) = (shares.all(), shares_in_short(shares));
    match what {
        Counted::Numbers => say_many!(all as f64, "{} number: {}", "{} numbers: {}", all, short),
        Counted::Findings => say_many!(all as f64, "{} finding: {}", "{} findings: {}", all, short),
    }
}

/// What is counted.
#[cfg(not(feature = "page"))]
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
