//! English.

use super::{Speech, Text, Units, fixed, significant};
use crate::ground::GroundFault;
use crate::material::{Group, Misfit};
use crate::outcome::{Remark, Standing, TOLD_ODDS};
use crate::quantity::{LITRES_PER_M3, Unit};
use crate::recipe::{Fault, Kind, RecipeError};
use crate::texture::Class;

/// The name of a class.
pub fn class_name(class: Class) -> &'static str {
    match class {
        Class::Sand => "sand",
        Class::LoamySand => "loamy sand",
        Class::SandyLoam => "sandy loam",
        Class::Loam => "loam",
        Class::SiltLoam => "silt loam",
        Class::Silt => "silt",
        Class::SandyClayLoam => "sandy clay loam",
        Class::ClayLoam => "clay loam",
        Class::SiltyClayLoam => "silty clay loam",
        Class::SandyClay => "sandy clay",
        Class::SiltyClay => "silty clay",
        Class::Clay => "clay",
    }
}

/// The name of a group, as a heading over its materials.
pub fn group_name(group: Group) -> &'static str {
    match group {
        Group::Sand => "Sand",
        Group::Grit => "Grit and gravel",
        Group::PorousMineral => "Porous grains",
        Group::MineralMeal => "Crushed minerals",
        Group::Char => "Char",
        Group::PeatCoir => "Peat and coir",
        Group::CompostManure => "Compost and manure",
        Group::BarkWoodStraw => "Bark, wood and straw",
        Group::Meal => "Meals",
        Group::Soil => "Soil",
        Group::Powder => "Powders",
        Group::Liquid => "Liquids",
    }
}

/// The word for a place between puddled and crumb.
pub fn crumb_word(crumb: f64) -> &'static str {
    match crumb {
        c if c < 0.2 => "sealed",
        c if c < 0.4 => "cloddy",
        c if c < 0.65 => "ordinary bed",
        _ => "garden crumb",
    }
}

/// An amount of money with its label.
pub fn cost_text(value: f64, currency: Option<&str>) -> String {
    let decimals = if value < 100.0 { 2 } else { 0 };
    match currency {
        Some(label) => format!("{label} {}", fixed(value, decimals)),
        None => fixed(value, decimals),
    }
}

impl Speech {
    /// A density with its unit.
    pub fn density(self, kg_m3: f64) -> String {
        let units = self.units;
        let unit = match units {
            Units::Metric => "kg/L",
            Units::Us => "lb/ft³",
        };
        format!(
            "{} {unit}",
            fixed(units.density(kg_m3), units.density_decimals())
        )
    }

    /// A mass with its unit.
    pub fn mass(self, kg: f64) -> String {
        match self.units {
            Units::Metric if kg < 1.0 => format!("{} g", significant(kg * 1000.0, 2)),
            Units::Metric => format!("{} kg", significant(kg, 2)),
            Units::Us => format!("{} lb", significant(kg / Unit::Pound.factor(), 2)),
        }
    }

    /// A volume with its unit.
    pub fn volume(self, litres: f64) -> String {
        match self.units {
            Units::Metric => format!("{} L", significant(litres, 3)),
            Units::Us => {
                let gallons = litres / LITRES_PER_M3 / Unit::Gallon.factor();
                format!("{} gal", significant(gallons, 3))
            }
        }
    }
}

fn percent(value: f64) -> String {
    format!("{} %", fixed(value, 0))
}

/// A remark as text.
pub fn remark_text(remark: &Remark, speech: Speech) -> String {
    let (head, rest) = remark_parts(remark, speech);
    if rest.is_empty() {
        head
    } else {
        format!("{head} {rest}")
    }
}

/// A remark as a short sentence and what belongs to it.
pub fn remark_parts(remark: &Remark, speech: Speech) -> (String, String) {
    let at = |(kg_m3, pores_pct): (f64, f64)| [percent(pores_pct), speech.density(kg_m3)];
    match remark {
        Remark::NoCoarseGrains => (
            Text::NoCoarseGrains.text().into(),
            Text::NoCoarseGrainsRest.text().into(),
        ),
        Remark::LightGround { clay_pct } => (
            Text::LightGround.text().into(),
            Text::LightGroundRest.with(&[&percent(*clay_pct)]),
        ),
        Remark::Floating { .. } => floating(remark, speech),
        Remark::Touching {
            name,
            share_pct,
            threshold_pct,
            only_just,
            touching_odds,
        } => {
            let (head, rest) = if *only_just {
                (Text::OnlyJust, Text::OnlyJustRest)
            } else {
                (Text::Touching, Text::TouchingRest)
            };
            (
                head.with(&[&of_name(name.as_deref())]),
                rest.with(&[
                    &percent(*share_pct),
                    &percent(*threshold_pct),
                    &super::odds(*touching_odds),
                ]),
            )
        }
        Remark::BothEnds {
            standing,
            crumbly,
            puddled,
            lying,
        } => {
            let head = match standing {
                [Standing::More, Standing::More] => Text::EndsMore,
                [Standing::Same, Standing::Same] => Text::EndsSame,
                [Standing::More, Standing::Same] => Text::EndsMoreSame,
                [Standing::More, _] => Text::EndsMoreLess,
                [Standing::Same, _] => Text::EndsSameLess,
                [Standing::Less, _] => Text::EndsLess,
            };
            let ([crumbly, dense], [puddled, puddled_dense]) = (at(*crumbly), at(*puddled));
            let [lying, lying_dense] = at(*lying);
            let rest = Text::EndsRest.with(&[
                &crumbly,
                &dense,
                &puddled,
                &puddled_dense,
                &lying,
                &lying_dense,
            ]);
            (head.text().into(), rest)
        }
        Remark::BesideDigging {
            standing,
            pores_pct,
            dug_pores_pct,
            settled_pores_pct,
        } => {
            let head = match standing {
                Standing::More => Text::DiggingMore,
                Standing::Same => Text::DiggingSame,
                Standing::Less => Text::DiggingLess,
            };
            let rest = Text::DiggingRest.with(&[
                &percent(*dug_pores_pct),
                &percent(*settled_pores_pct),
                &percent(*pores_pct),
            ]);
            (head.text().into(), rest)
        }
        Remark::BothEndsAlone { crumbly, puddled } => {
            let ([crumbly, dense], [puddled, puddled_dense]) = (at(*crumbly), at(*puddled));
            (
                Text::AloneHead.text().into(),
                Text::AloneRest.with(&[&crumbly, &dense, &puddled, &puddled_dense]),
            )
        }
        Remark::NothingAdded {
            lying,
            dug_pores_pct,
            settled_pores_pct,
        } => {
            let [pores, dense] = at(*lying);
            let (dug, settled) = (percent(*dug_pores_pct), percent(*settled_pores_pct));
            (
                Text::NothingAdded.text().into(),
                Text::NothingAddedRest.with(&[&pores, &dense, &dug, &settled]),
            )
        }
        Remark::Idle { .. } => idle(remark, speech),
        Remark::Tightens {
            name,
            pores_pct,
            without_pct,
        } => (
            Text::Tightens.with(&[name]),
            Text::TightensRest.with(&[&percent(*without_pct), &percent(*pores_pct)]),
        ),
        Remark::Instead {
            name,
            litres,
            kg,
            cost,
            pores_pct,
        } => (
            Text::Instead.with(&[name]),
            Text::InsteadRest.with(&[
                &speech.volume(*litres),
                &speech.mass(*kg),
                &cost_part(cost),
                &percent(*pores_pct),
            ]),
        ),
        other => (note(other, speech), String::new()),
    }
}

fn idle(remark: &Remark, speech: Speech) -> (String, String) {
    let Remark::Idle {
        names,
        share_pct,
        needed_kg,
        needed_cost,
        is_chemical,
        is_unproven,
    } = remark
    else {
        return Default::default();
    };
    let several = names.len() > 1;
    let head = if several {
        Text::IdleMany
    } else {
        Text::IdleOne
    };
    let share = match *share_pct {
        share if share < 0.01 => Text::UnderAHundredth.text().into(),
        share => [&significant(share, 2), " %"].concat(),
    };
    let mut rest = Text::IdleRest.with(&[&share]);
    if let Some(kg) = needed_kg {
        rest += &Text::IdleNeeded.with(&[&speech.mass(*kg)]);
        rest += &cost_part(needed_cost);
        rest += Text::Stop.text();
    } else if !several {
        rest += Text::IdleTooMuch.text();
    }
    if *is_unproven {
        rest += Text::IdleUnproven.text();
    }
    rest += if *is_chemical {
        Text::IdleChemical
    } else {
        Text::IdleInstead
    }
    .text();
    (head.with(&[&listed(names)]), rest)
}

/// Names inside a sentence.
fn listed(names: &[String]) -> String {
    let mut text = String::new();
    for (index, name) in names.iter().enumerate() {
        if index > 0 {
            text += if index + 1 == names.len() {
                Text::And.text()
            } else {
                Text::Between.text()
            };
        }
        text += &in_sentence(name);
    }
    text
}

/// What something costs, as a part of a sentence.
fn cost_part(cost: &Option<(f64, Option<String>)>) -> String {
    cost.as_ref().map_or(String::new(), |(cost, currency)| {
        Text::AboutCost.with(&[&about_cost(*cost, currency.as_deref())])
    })
}

fn of_name(name: Option<&str>) -> String {
    name.map_or(Text::Gravel.text().into(), in_sentence)
}

/// A material's name inside a sentence: the first letter small, unless it is an abbreviation.
pub(super) fn in_sentence(name: &str) -> String {
    let mut text = name.to_owned();
    let second = name.as_bytes().get(1).copied().unwrap_or(b' ');
    if !second.is_ascii_uppercase()
        && let Some(first) = text.get_mut(..1)
    {
        first.make_ascii_lowercase();
    }
    text
}

fn floating(remark: &Remark, speech: Speech) -> (String, String) {
    let Remark::Floating {
        name,
        share_pct,
        threshold_pct,
        more_kg,
        more,
        more_cost,
        parts_to_touch,
        pores_pct,
        pores_without_pct,
        harms,
        too_much,
        touching_odds,
    } = remark
    else {
        return Default::default();
    };
    let head = if *harms {
        Text::FloatingHarms
    } else {
        Text::Floating
    };
    let head = head.with(&[&of_name(name.as_deref())]);
    let mut rest = match pores_without_pct {
        Some(without) => Text::FloatingWithout.with(&[&percent(*without), &percent(*pores_pct)]),
        None => Text::FloatingOnly.text().into(),
    };
    if name.is_none() || more_kg.is_none() {
        rest += &Text::FloatingShare.with(&[&percent(*share_pct), &percent(*threshold_pct)]);
    }
    if *touching_odds >= TOLD_ODDS {
        rest += &Text::FloatingOdds.with(&[&super::odds(*touching_odds)]);
    }
    if let (Some(name), Some(kg)) = (name, more_kg) {
        rest += &Text::FloatingMore.with(&[&speech.mass(*kg), &in_sentence(name)]);
        if let Some(more) = more {
            rest += &Text::InBrackets.with(&[&speech.mass_told(*more).range]);
        }
        rest += &cost_part(more_cost);
        if let Some(parts) = parts_to_touch {
            rest += &Text::FloatingParts.with(&[&significant(*parts, 2)]);
        }
        if *too_much {
            rest += Text::FloatingTooMuch.text();
        }
        rest += Text::Stop.text();
    }
    (head, rest)
}

/// Money that is an estimate: two figures.
fn about_cost(value: f64, currency: Option<&str>) -> String {
    let amount = significant(value, 2);
    currency.map_or(amount.clone(), |label| format!("{label} {amount}"))
}

fn note(remark: &Remark, speech: Speech) -> String {
    match remark {
        Remark::EstimatedOrganicMatter { organic_matter_pct } => format!(
            "Organic matter of the ground is not given: taken as {} %, usual for a garden.",
            fixed(*organic_matter_pct, 1)
        ),
        Remark::EstimatedDensity {
            density_kg_m3,
            outside,
        } => {
            let mut text = format!(
                "Density of the ground is not given: taken as {}, usual for its texture and organic \
                 matter, give or take a fifth.",
                speech.density(*density_kg_m3)
            );
            if *outside {
                text += " Its clay or organic matter is outside what that rule was fitted on, so it \
                    may be further off.";
            }
            text
        }
        Remark::EstimatedWater { water_per_dry_pct } => format!(
            "Moisture of the ground is not given: taken as {} of its dry mass, as it is a day or two \
             after rain.",
            percent(*water_per_dry_pct)
        ),
        Remark::EstimatedCrumb => "Crumb is not given: taken as an ordinary bed.".into(),
        Remark::EstimatedGroup { name, .. } => {
            format!("What kind of material {name} is, is not given: treated as a sand.")
        }
        Remark::EstimatedFractions { name, .. } => format!(
            "Sand, silt and clay of {name} are not given: its mineral part is taken as sand."
        ),
        Remark::Pressed {
            lying_kg_m3,
            settled_kg_m3,
        } => format!(
            "Your ground lies at {}, pressed by feet or wheels. Once dug it settles to about {}; \
             only traffic would press it back.",
            speech.density(*lying_kg_m3),
            speech.density(*settled_kg_m3),
        ),
        Remark::VeryDense {
            lying_kg_m3,
            normal_kg_m3,
        } => format!(
            "{} is very dense for this texture (about {} is usual). Check the measurement before \
             trusting what follows.",
            speech.density(*lying_kg_m3),
            speech.density(*normal_kg_m3),
        ),
        Remark::FewFines { share_pct } => format!(
            "Only {} % of the dry mass is sand, silt and clay, so the texture says little about \
             this blend.",
            significant(*share_pct, 2)
        ),
        Remark::NoTexture => {
            "There is no sand, silt or clay in this blend, so it has no texture class.".into()
        }
        Remark::NoSkeletonQuestion => {
            "Whether coarse grains touch is judged against clay that they \
            could float in; with 15 % clay or less it is not asked."
                .into()
        }
        Remark::Overfull {
            settled_l, room_l, ..
        } => format!(
            "Settled, the blend fills {}, more than the {} that there is room for.",
            speech.volume(*settled_l),
            speech.volume(*room_l),
        ),
        Remark::Underfull {
            settled_l, room_l, ..
        } => format!(
            "Settled, the blend fills {} of the {} that there is room for.",
            speech.volume(*settled_l),
            speech.volume(*room_l),
        ),
        Remark::KeptFields => {
            "This recipe was made by a later release. What this release does not \
            know was left as it is and will be saved again."
                .into()
        }
        // The verdict has its sentences above.
        _ => String::new(),
    }
}

/// An error as one sentence, the field's path first.
pub fn error_text(error: &RecipeError) -> String {
    format!("{}: {}", error.path, fault_text(&error.fault))
}

/// Text of others on one line and not without end.
fn quoted(text: &str) -> String {
    let short: String = text.chars().take(60).collect();
    crate::recipe::quoted(&short)
}

fn bound(value: f64) -> String {
    crate::recipe::number_text(value)
}

fn limits(low: f64, high: f64) -> String {
    format!("from {} to {}", bound(low), bound(high))
}

/// A fault as a sentence.
pub fn fault_text(fault: &Fault) -> String {
    match fault {
        Fault::NotJson { line, column } => {
            format!("this is not JSON at line {line}, column {column}")
        }
        Fault::Version { newest } => {
            format!("this release opens recipes of version 1 to {newest}")
        }
        Fault::UnknownField => "there is no such field".into(),
        Fault::Twice => "this stands twice; once is enough".into(),
        Fault::Missing => "this is required".into(),
        Fault::Kind(kind) => format!("expected {}", kind_name(*kind)),
        Fault::NotFinite { low, high } => format!("expected a number {}", limits(*low, *high)),
        Fault::OutOfRange { value, low, high } => {
            format!(
                "{} is outside its limits: {}",
                bound(*value),
                limits(*low, *high)
            )
        }
        Fault::RangeOrder => "a range needs low <= typical <= high".into(),
        Fault::NotOneOf { found, allowed } => {
            format!(
                "{} is not known here; use one of: {}",
                quoted(found),
                allowed.join(" ")
            )
        }
        Fault::UnknownMaterial { found } => {
            let known: Vec<&str> = crate::material::catalogue()
                .iter()
                .map(|entry| entry.id)
                .collect();
            format!(
                "{} is neither in the recipe's materials nor in the catalogue: {}",
                quoted(found),
                known.join(" ")
            )
        }
        Fault::Fractions { sum_pct } => format!(
            "sand, silt and clay sum to {}; they must sum to 100, within 0.5",
            significant(*sum_pct, 4)
        ),
        Fault::TooMany { limit } => format!("at most {limit} can stand here"),
        Fault::OnlyOneOf(names) => format!("give only one of: {}", names.join(", ")),
        Fault::Empty => "there is nothing to mix: some dry matter must be more than 0".into(),
        Fault::NoGround => {
            "a share, a part or g/L counts against the other parts, and there are none".into()
        }
        Fault::Shares {
            volume_pct,
            mass_pct,
        } => format!(
            "shares of {} by volume and {} by mass leave nothing for the rest; they must stay below 100 together",
            percent(*volume_pct),
            percent(*mass_pct),
        ),
        Fault::NoArea => {
            "a depth or a rate needs an area: give soil.area and soil.depth, place.top_width, or \
            place.volume with place.height"
                .into()
        }
        Fault::NoBag => "bags need a bag: give its size".into(),
        Fault::MulchShare => {
            "a mulch lies on top and is no share of the blend: give a mass, a volume or a depth"
                .into()
        }
        Fault::NoDryMatter => {
            "this holds no dry matter, so it cannot be a share of the dry mass".into()
        }
        Fault::Misfit(misfit) => misfit_text(*misfit),
        Fault::Ground(GroundFault::DenserThanSolids {
            lying_kg_m3,
            limit_kg_m3,
            solid_kg_m3,
        }) => format!(
            "{} kg/m3 cannot be: the solids of this ground weigh {} kg/m3 (from its fractions and \
             organic matter) and a soil reaches at most {} kg/m3",
            fixed(*lying_kg_m3, 0),
            fixed(*solid_kg_m3, 0),
            fixed(*limit_kg_m3, 0),
        ),
        Fault::Link => "this link is cut short, was changed on its way, or is of a later release; ask for it again".into(),
        Fault::LinkTooLong { limit } => {
            format!("this recipe is longer than the {limit} letters that a link can have")
        }
    }
}

fn kind_name(kind: Kind) -> &'static str {
    match kind {
        Kind::Object => "an object in braces",
        Kind::List => "a list in brackets",
        Kind::Text => "a text in quotes",
        Kind::Number => "a number",
        Kind::NumberOrRange => "a number, or low, typical and high",
        Kind::Bool => "true or false",
        Kind::Whole => "a whole number",
    }
}

fn misfit_text(misfit: Misfit) -> String {
    match misfit {
        Misfit::NoLooseDensity => "loose_density_kg_m3 is required".into(),
        Misfit::OrganicAndChar { sum_pct } => format!(
            "organic_matter_pct and char_pct sum to {}; together they are at most 100",
            significant(sum_pct, 4)
        ),
        Misfit::NoFractions => "sand_pct, silt_pct and clay_pct are all 0".into(),
        Misfit::SettledAboveGrain {
            settled_kg_m3,
            limit_kg_m3,
        } => format!(
            "settled_dry_density_kg_m3 comes to {}; it is at most 0.88 of grain_density_kg_m3, here {}",
            fixed(settled_kg_m3, 0),
            fixed(limit_kg_m3, 0),
        ),
        Misfit::GrainAboveSolid {
            grain_kg_m3,
            solid_kg_m3,
        } => format!(
            "grain_density_kg_m3 is {}; it is at most solid_density_kg_m3, here {}",
            fixed(grain_kg_m3, 0),
            fixed(solid_kg_m3, 0),
        ),
        Misfit::FreshAboveGrain {
            fresh_kg_m3,
            limit_kg_m3,
        } => format!(
            "loose_density_kg_m3 without its water comes to {}; it is at most 0.80 of grain_density_kg_m3, here {}",
            fixed(fresh_kg_m3, 0),
            fixed(limit_kg_m3, 0),
        ),
    }
}
