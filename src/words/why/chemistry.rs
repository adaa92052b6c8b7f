//! The figures of chemistry: how they are made, by whose equations, of which inputs.

use super::super::fixed;
use super::equations::{equation, release, salt_and_crops, washing};
use super::limits::up_to;
use super::{Asked, Case, Equation, Limit, Part, number};
use crate::blend::{EC_PASTE_DEFAULT, PH_DEFAULT, SODIUM_SHARE_DEFAULT};
use crate::chemistry::reaction::LINEAR_PH;
use crate::chemistry::sodicity::ESP_SODIC_PCT;
use crate::figure::Figure;
use crate::ground::{ORGANIC_MATTER_DEFAULT, Trait};
use crate::material::Property;
use crate::recipe::Found;

/// Sodium to which its classes are asked for, % (nothing grows above).
const SODIUM_TOLD_PCT: f64 = 4.0 * ESP_SODIC_PCT;
/// Salt to which the tables of crops go, dS/m.
const SALT_TOLD_DS_M: f64 = 16.0;

impl Case<'_> {
    pub(super) fn made_chemistry(&self) -> String {
        match self.of {
            Asked::Ph => tr!("Acid that some parts bring is held against base that others do, each by what it takes to move its pH by one; where they meet is the pH of the mix. Free lime is spent first, and what is left of it holds the pH. A mean of pH would be wrong.")
                .into(),
            Asked::Salts => tr!("Salts of all parts are added by dry weight, and so is the water of a saturated paste; from both follows what its extract conducts. Gypsum counts by what dissolves of it, and not at all for what plants feel.")
                .into(),
            Asked::Sodium => tr!("Sodium on the exchange of the ground and half of what the additions bring, over what all of them can hold. It is told as mixed, before rain washes anything out.")
                .into(),
            _ => tr!("As an addition decays, its nitrogen is set free, and microbes keep a twenty-fourth of the carbon that decays as nitrogen of their own. What is left is for plants; less than nothing is taken from them.")
                .into(),
        }
    }

    pub(super) fn chemistry_equations(&self) -> Vec<Equation> {
        match self.of {
            Asked::Ph => vec![buffering(), free_lime(), doses_for_ph()],
            Asked::Salts => vec![paste(), seedlings(), salt_and_crops(), washing()],
            Asked::Sodium => vec![sodium_classes(), gypsum_for_sodium(), paste()],
            _ => vec![nitrogen_balance(), release(), phosphorus_stops()],
        }
    }

    pub(super) fn chemistry_rows(&self, rows: &mut Vec<(String, String)>) {
        if self.has_ground() {
            let traits: &[(Trait, &str, &str, Option<Figure>)] = match self.of {
                Asked::Ph => &[
                    (Trait::Ph, "pH", "", Some(PH_DEFAULT)),
                    (Trait::Carbonate, tr!("carbonate"), " %", None),
                    (Trait::Clay, tr!("clay"), " %", None),
                    (
                        Trait::OrganicMatter,
                        tr!("organic matter"),
                        " %",
                        Some(ORGANIC_MATTER_DEFAULT),
                    ),
                ],
                Asked::Salts => &[
                    (
                        Trait::EcSaturatedPaste,
                        tr!("salts of a saturated paste"),
                        " dS/m",
                        Some(EC_PASTE_DEFAULT),
                    ),
                    (Trait::Ec1To5, tr!("salts at 1:5"), " dS/m", None),
                    (Trait::Ec1To2, tr!("salts at 1:2"), " dS/m", None),
                ],
                Asked::Sodium => &[
                    (
                        Trait::SodiumShare,
                        tr!("sodium, of the exchange"),
                        " %",
                        Some(SODIUM_SHARE_DEFAULT),
                    ),
                    (Trait::Cec, tr!("exchange capacity"), tr!(" cmol/kg"), None),
                    (
                        Trait::MagnesiumShare,
                        tr!("magnesium, of the exchange"),
                        " %",
                        None,
                    ),
                ],
                _ => &[(
                    Trait::OrganicMatter,
                    tr!("organic matter"),
                    " %",
                    Some(ORGANIC_MATTER_DEFAULT),
                )],
            };
            for (of, name, unit, otherwise) in traits {
                let given = self.recipe.ground.get(*of);
                let others = [Trait::Ec1To5, Trait::Ec1To2];
                let told_elsewhere = *of == Trait::EcSaturatedPaste
                    && others.iter().any(|other| !self.lacks(*other));
                let Some(figure) = given.or(otherwise.filter(|_| !told_elsewhere)) else {
                    continue;
                };
                let standing = if given.is_some() {
                    tr!("given")
                } else {
                    tr!("estimated")
                };
                rows.push((say!("Ground: {}", name), told(figure, unit, standing)));
            }
        }
        for part in self.mixed() {
            self.chemistry_of(&part, rows);
        }
    }

    fn chemistry_of(&self, part: &Part<'_>, rows: &mut Vec<(String, String)>) {
        let name = part.found.name();
        let mut row = |what: &str, value: String| rows.push(([name, ": ", what].concat(), value));
        row(tr!("dry mass"), self.mass(part.line.dry_kg));
        let properties: &[(Property, &str, &str)] = match self.of {
            Asked::Ph => &[
                (Property::Ph, "pH", ""),
                (
                    Property::Buffer,
                    tr!("holds its pH by"),
                    tr!(" cmol/kg for one"),
                ),
                (Property::CarbonateEquivalent, tr!("counts as lime"), " %"),
                (Property::Sulfur, tr!("sulfur"), " %"),
            ],
            Asked::Salts => &[
                (Property::Ec1To5, tr!("salts at 1:5"), " dS/m"),
                (Property::Gypsum, tr!("gypsum"), " %"),
            ],
            Asked::Sodium => &[
                (Property::Sodium, tr!("sodium"), " %"),
                (Property::Cec, tr!("exchange capacity"), tr!(" cmol/kg")),
                (Property::Gypsum, tr!("gypsum"), " %"),
            ],
            _ => &[
                (Property::Carbon, tr!("carbon"), " %"),
                (Property::Nitrogen, tr!("nitrogen"), " %"),
                (Property::KeptAfterYear1, tr!("left after a year"), " %"),
                (Property::Phosphorus, tr!("phosphorus"), " %"),
            ],
        };
        let standing = match part.found {
            Found::Own(..) => tr!("given"),
            Found::Catalogue(_) => tr!("catalogue"),
        };
        for (of, what, unit) in properties {
            if let Some(figure) = part.given(*of) {
                row(what, told(figure, unit, standing));
            }
        }
    }

    pub(super) fn chemistry_limits(&self, out: &mut Vec<Limit>) {
        let it = &self.outcome.chemistry;
        match self.of {
            Asked::Ph if it.ph.is_finite() => {
                let (low, high) = LINEAR_PH;
                let inside = (low..=high).contains(&it.ph);
                let so = if inside {
                    tr!("inside")
                } else {
                    tr!("outside")
                };
                let end = if inside || it.lime_left_pct > 0.0 {
                    ""
                } else {
                    tr!(", so the change may be smaller")
                };
                out.push(Limit {
                    text: say!(
                        "pH {}: {} {} to {}, where buffering is even{}",
                        fixed(it.ph, 2),
                        so,
                        fixed(low, 0),
                        fixed(high, 0),
                        end
                    ),
                    inside,
                });
            }
            Asked::Salts => out.push(up_to_number(
                tr!("Salt of the paste"),
                it.ec_stress_ds_m,
                SALT_TOLD_DS_M,
                " dS/m",
            )),
            Asked::Sodium => out.push(up_to(
                tr!("Sodium of the exchange"),
                it.esp_pct,
                SODIUM_TOLD_PCT,
                tr!(", where nothing but a laboratory helps"),
            )),
            _ => {}
        }
    }
}

fn up_to_number(what: &str, value: f64, limit: f64, unit: &str) -> Limit {
    let inside = value <= limit;
    let so = if inside {
        tr!("inside")
    } else {
        tr!("outside")
    };
    Limit {
        text: say!(
            "{} {}{}: {} 0 to {}",
            what,
            number(value),
            unit,
            so,
            number(limit)
        ),
        inside,
    }
}

/// A value with its unit and standing, and its range.
fn told(figure: Figure, unit: &str, standing: &str) -> String {
    let mut text = [&number(figure.typical), unit, ", ", standing].concat();
    if figure.is_in_doubt() {
        let ends = figure.ends();
        text += &say!(
            ", eight in ten within {}–{}",
            number(ends.low),
            number(ends.high)
        );
    }
    text
}

/// All of them, for the page of sources.
pub(super) fn all() -> Vec<Equation> {
    vec![
        buffering(),
        free_lime(),
        doses_for_ph(),
        paste(),
        seedlings(),
        sodium_classes(),
        gypsum_for_sodium(),
        nitrogen_balance(),
        phosphorus_stops(),
    ]
}

fn buffering() -> Equation {
    equation(
        tr!("pH of a mix, by the acid and base that its parts hold"),
        tr!("Nelson & Su 2010, Aust. J. Soil Res. 48:201, in its abstract, and Magdoff & Bartlett 1985, Soil Sci. Soc. Am. J. 49:145, from memory, for where it is even; how much clay and humus hold fitted to two tables of extension offices, so an estimate; organic carbon after Pribyl 2010, Geoderma 156:75"),
        tr!("From pH 5 to 7. Beyond, the change is overstated by up to 0.4 of it, which is in the range; soils of one kind differ by 0.6 to 1.6 times.")
            .into(),
    )
}

fn free_lime() -> Equation {
    equation(
        tr!("Free lime holds the pH"),
        tr!("Base and acid from atomic masses; held at 7.8 to 8.2 by common practice"),
        tr!("Fine lime, given a season. Coarse grains act by a thin shell of theirs in a year.")
            .into(),
    )
}

fn doses_for_ph() -> Equation {
    equation(
        tr!("Lime and sulfur for another pH"),
        tr!("The same buffering; ground limestone as 73 % of pure by a thesis of the University of Georgia; splits after Penn State extension, sulfur in limy soil after the RHS; common practice"),
        tr!("Half to twice: advice differs so much for one and the same soil. A laboratory's lime requirement is better.")
            .into(),
    )
}

fn paste() -> Equation {
    equation(
        tr!("Salts of a saturated paste, from those at 1:5"),
        tr!("Slavich & Petterson 1993, Aust. J. Soil Res. 31:73; water of the paste by texture a choice; what gypsum dissolves and conducts from memory"),
        tr!("Soils; composts and peat lie outside, and two ways to add up salts differ by a quarter, which is in the range.")
            .into(),
    )
}

fn seedlings() -> Equation {
    equation(
        tr!("Where salt begins to hurt"),
        tr!(
            "M. H. Ali, Practices of Irrigation & On-farm Water Management, table 8.6: classes of the US Salinity Laboratory 1954"
        ),
        tr!(
            "Field soils by their saturation extract. Fed potting mixes are read on another scale."
        )
        .into(),
    )
}

fn sodium_classes() -> Equation {
    equation(
        tr!("Sodium of the exchange, and when clay falls apart"),
        tr!("US Salinity Laboratory 1954, Agriculture Handbook 60, for 15 %; Northcote & Skene 1972, from memory, for 6 %; McKenzie 1998, from memory, for salt over sodium; Rengasamy & Marchuk 2011, Soil Res. 49, from memory, for potassium and magnesium"),
        tr!("What a clay does differs: crumbs dropped in rain water tell more than the number. A report of a limy soil shows too little sodium.")
            .into(),
    )
}

fn gypsum_for_sodium() -> Equation {
    equation(
        tr!("Gypsum that replaces sodium"),
        tr!(
            "Charge for charge, as in the US Salinity Laboratory 1954, Agriculture Handbook 60; a fifth goes astray after Oster & Frenkel 1980, from memory; what a litre dissolves from memory"
        ),
        tr!("With water that passes through and away. What is sold holds 70 to 95 % of gypsum.")
            .into(),
    )
}

fn nitrogen_balance() -> Equation {
    equation(
        tr!("Nitrogen that decay frees or takes up"),
        tr!(
            "Break-even at 24 of carbon to one of nitrogen by common practice; organic carbon after Pribyl 2010, Geoderma 156:75"
        ),
        tr!("Mixed in, moist and warm, in the first year. Measured composts differ threefold.")
            .into(),
    )
}

fn phosphorus_stops() -> Equation {
    equation(
        tr!("Phosphorus that piles up"),
        tr!(
            "Stop lines of Rutgers University for Mehlich 3, others common practice; half of what is added found by a test: a choice"
        ),
        tr!("Extractants do not stand for each other. Soils with much iron or lime fix more.")
            .into(),
    )
}
