//! English.

use super::{Speech, Text, Units, bound, fixed, significant, with_mark};
use crate::ground::GroundFault;
use crate::material::{Group, Misfit};
use crate::outcome::{MeasuredOutcome, Remark, Standing, TOLD_ODDS};
use crate::quantity::{LITRES_PER_M3, Unit};
use crate::recipe::{Fault, Measurement, RecipeError, quoted};
use crate::texture::Class;

/// The name of a class.
pub fn class_name(class: Class) -> &'static str {
    Text::after(Text::ClassSand, class as usize).text()
}

/// The name of a group, as a heading over its materials.
pub fn group_name(group: Group) -> &'static str {
    Text::after(Text::GroupSand, group as usize).text()
}

/// The word for a place between puddled and crumb.
pub fn crumb_word(crumb: f64) -> &'static str {
    match crumb {
        c if c < 0.2 => Text::CrumbSealed,
        c if c < 0.4 => Text::CrumbCloddy,
        c if c < 0.65 => Text::CrumbOrdinary,
        _ => Text::CrumbGarden,
    }
    .text()
}

/// An amount of money with its label.
pub fn cost_text(value: f64, currency: Option<&str>) -> String {
    let decimals = if value < 100.0 { 2 } else { 0 };
    labelled(fixed(value, decimals), currency)
}

/// A number after the label of its money, if there is one.
pub(super) fn labelled(amount: String, currency: Option<&str>) -> String {
    match currency {
        Some(label) => Text::Money.with(&[label, &amount]),
        None => amount,
    }
}

impl Speech {
    /// A density with its unit.
    pub fn density(self, kg_m3: f64) -> String {
        let units = self.units;
        let number = fixed(units.density(kg_m3), units.density_decimals());
        [&number, " ", units.density_unit()].concat()
    }

    /// A mass with its unit.
    pub fn mass(self, kg: f64) -> String {
        let (value, unit) = match self.units {
            Units::Metric if kg < 1.0 => (kg * 1000.0, " g"),
            Units::Metric => (kg, " kg"),
            Units::Us => (kg / Unit::Pound.factor(), " lb"),
        };
        significant(value, 2) + unit
    }

    /// A volume with its unit.
    pub fn volume(self, litres: f64) -> String {
        let (value, unit) = match self.units {
            Units::Metric => (litres, " L"),
            Units::Us => (litres / LITRES_PER_M3 / Unit::Gallon.factor(), " gal"),
        };
        significant(value, 3) + unit
    }
}

/// What was measured, with its unit.
#[inline(never)]
fn measured(of: Measurement, value: f64, speech: Speech) -> String {
    match of {
        Measurement::BulkDensity => speech.density(value),
        _ if of.errs_by_factor() => significant(value, 2) + " mm/h",
        _ => percent(value),
    }
}

/// How many draws agree with what was measured.
pub fn agree_text(measured: &MeasuredOutcome) -> String {
    Text::Agree.with(&[&fixed(measured.effective_draws, 0), &fixed(measured.of, 0)])
}

/// A whole number of percent.
pub fn percent(value: f64) -> String {
    fixed(value, 0) + " %"
}

/// A remark as text.
pub fn remark_text(remark: &Remark, speech: Speech) -> String {
    let (head, rest) = remark_parts(remark, speech);
    if rest.is_empty() {
        head
    } else {
        [&head, " ", &rest].concat()
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
            let [crumbly, puddled, lying] =
                [crumbly, puddled, lying].map(|(_, pores_pct)| percent(*pores_pct));
            let rest = Text::EndsRest.with(&[&crumbly, &puddled, &lying]);
            (head.text().into(), rest)
        }
        Remark::BesideDigging {
            standing,
            pores_pct,
            settled_pores_pct,
        } => {
            let head = match standing {
                Standing::More => Text::DiggingMore,
                Standing::Same => Text::DiggingSame,
                Standing::Less => Text::DiggingLess,
            };
            let rest =
                Text::DiggingRest.with(&[&percent(*settled_pores_pct), &percent(*pores_pct)]);
            (head.text().into(), rest)
        }
        Remark::Holds {
            standing,
            buys_air,
            air_pct,
            available_pct,
        } => {
            let head = match standing {
                _ if *buys_air => Text::HoldsAir,
                Standing::Less => Text::HoldsLess,
                _ => Text::HoldsMore,
            };
            let rest = Text::HoldsRest.with(&[
                &percent(air_pct[1]),
                &percent(available_pct[1]),
                &percent(air_pct[0]),
                &percent(available_pct[0]),
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
            buys_air,
        } => (
            Text::Instead.with(&[name]),
            Text::InsteadRest.with(&[
                &speech.volume(*litres),
                &speech.mass(*kg),
                &cost_part(cost),
                &percent(*pores_pct),
                if *buys_air {
                    Text::InsteadAir
                } else {
                    Text::Stop
                }
                .text(),
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
        loosens_clay,
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
    } else if !several && !*is_chemical {
        rest += Text::IdleTooMuch.text();
    }
    if *is_unproven {
        rest += Text::IdleUnproven.text();
    }
    if *is_chemical {
        rest += Text::IdleChemical.text();
    }
    if *loosens_clay {
        rest += Text::IdleInstead.text();
    }
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
    let mut text = name.as_bytes().to_vec();
    match text.as_mut_slice() {
        [_, b'A'..=b'Z', ..] => {}
        // À to Þ, each before its small letter by as much as A before a.
        [0xC3, second @ 0x80..=0x9E, ..] => *second += 0x20,
        [first, ..] => first.make_ascii_lowercase(),
        [] => {}
    }
    String::from_utf8(text).unwrap_or_default()
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
        _ => Text::FloatingOnly.text().into(),
    };
    if name.is_none() || more_kg.is_none() {
        rest += &Text::FloatingShare.with(&[&percent(*share_pct), &percent(*threshold_pct)]);
    }
    if *touching_odds >= TOLD_ODDS {
        rest += &Text::FloatingOdds.with(&[&super::odds(*touching_odds)]);
    }
    if let (Some(_), Some(kg)) = (name, more_kg) {
        rest += &Text::FloatingMore.with(&[&speech.mass(*kg)]);
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
    labelled(significant(value, 2), currency)
}

fn note(remark: &Remark, speech: Speech) -> String {
    let densities = |text: Text, one: f64, other: f64| {
        text.with(&[&speech.density(one), &speech.density(other)])
    };
    let volumes =
        |text: Text, one: f64, other: f64| text.with(&[&speech.volume(one), &speech.volume(other)]);
    match remark {
        Remark::EstimatedOrganicMatter { organic_matter_pct } => {
            Text::EstimatedOrganic.with(&[&fixed(*organic_matter_pct, 1)])
        }
        Remark::EstimatedDensity {
            density_kg_m3,
            outside,
        } => {
            let mut text = Text::EstimatedDensity.with(&[&speech.density(*density_kg_m3)]);
            if *outside {
                text += Text::EstimatedOutside.text();
            }
            text
        }
        Remark::EstimatedWater { water_per_dry_pct } => {
            Text::EstimatedWater.with(&[&percent(*water_per_dry_pct)])
        }
        #[cfg(not(feature = "page"))]
        Remark::EstimatedChemistry { .. }
        | Remark::EstimatedKind { .. }
        | Remark::ReactionAlone { .. }
        | Remark::SharesOver { .. }
        | Remark::LimeInAcid
        | Remark::ReactionOutside
        | Remark::UnknownCrop { .. } => super::chemical::note_text(remark),
        Remark::EstimatedCrumb => Text::EstimatedCrumb.text().into(),
        Remark::EstimatedGroup { name, .. } => Text::EstimatedGroup.with(&[name]),
        Remark::EstimatedFractions { name, .. } => Text::EstimatedFractions.with(&[name]),
        Remark::Pressed {
            lying_kg_m3,
            settled_kg_m3,
        } => densities(Text::Pressed, *lying_kg_m3, *settled_kg_m3),
        Remark::VeryDense {
            lying_kg_m3,
            normal_kg_m3,
        } => densities(Text::VeryDense, *lying_kg_m3, *normal_kg_m3),
        Remark::FewFines { share_pct } => Text::FewFines.with(&[&significant(*share_pct, 2)]),
        Remark::NoTexture => Text::NoTexture.text().into(),
        Remark::NoSkeletonQuestion => Text::NoSkeletonQuestion.text().into(),
        Remark::Overfull {
            settled_l, room_l, ..
        } => volumes(Text::Overfull, *settled_l, *room_l),
        Remark::Underfull {
            settled_l, room_l, ..
        } => volumes(Text::Underfull, *settled_l, *room_l),
        Remark::Disagrees(found) => {
            let told = |value: f64| measured(found.measurement, value, speech);
            let what = Text::after(Text::MeasuredDensity, found.measurement as usize);
            let sample = Text::after(Text::YourGround, found.sample as usize);
            Text::MeasuredOutside.with(&[
                &told(found.value),
                what.text(),
                sample.text(),
                &told(found.expected.low),
                &told(found.expected.high),
            ])
        }
        Remark::NotCompared(sample, measurement) => Text::after(
            Text::NotComparedGround,
            *sample as usize,
        )
        .with(&[Text::after(Text::MeasuredDensity, *measurement as usize).text()]),
        Remark::WaterAdded { points } => Text::WaterAdded.with(&[&fixed(*points, 1)]),
        Remark::WaterOutside => Text::WaterOutside.text().into(),
        Remark::NoHeight => Text::NoHeight.text().into(),
        Remark::FewAgree { effective_draws } => Text::FewAgree.with(&[&fixed(*effective_draws, 0)]),
        Remark::KeptFields => Text::KeptFields.text().into(),
        // The verdict has its sentences above.
        _ => String::new(),
    }
}

/// An error as one sentence, the field's path first.
pub fn error_text(error: &RecipeError) -> String {
    [error.path.as_str(), ": ", &fault_text(&error.fault)].concat()
}

/// A fault as a sentence.
pub fn fault_text(fault: &Fault) -> String {
    let plain = match fault {
        Fault::NotJson { line, column } => {
            return Text::FaultNotJson.with(&[&bound(*line as f64), &bound(*column as f64)]);
        }
        Fault::Version { newest } => return Text::FaultVersion.with(&[&bound((*newest).into())]),
        Fault::UnknownField => Text::FaultUnknownField,
        Fault::Twice => Text::FaultTwice,
        Fault::Missing => Text::FaultMissing,
        Fault::Kind(kind) => {
            let kind = Text::after(Text::KindObject, *kind as usize).text();
            return Text::FaultKind.with(&[kind]);
        }
        Fault::NotFinite { low, high } => {
            return Text::FaultNotFinite.with(&[&bound(*low), &bound(*high)]);
        }
        Fault::OutOfRange { value, low, high } => {
            let (low, high, mut found) = (bound(*low), bound(*high), bound(*value));
            if found == low || found == high {
                found = with_mark(crate::recipe::number_text(*value));
            }
            return Text::FaultOutOfRange.with(&[&found, &low, &high]);
        }
        Fault::RangeOrder => Text::FaultRangeOrder,
        Fault::NotOneOf { found, allowed } => {
            return Text::FaultNotOneOf.with(&[&quoted(found), &allowed.join(" ")]);
        }
        Fault::UnknownMaterial { found } => {
            let mut known = Vec::new();
            for entry in crate::material::catalogue() {
                known.push(entry.id);
            }
            return Text::FaultUnknownMaterial.with(&[&quoted(found), &known.join(" ")]);
        }
        Fault::Fractions { sum_pct } => {
            return Text::FaultFractions.with(&[&significant(*sum_pct, 4)]);
        }
        Fault::TooMany { limit } => return Text::FaultTooMany.with(&[&bound(*limit as f64)]),
        Fault::OnlyOneOf(names) => return Text::FaultOnlyOneOf.with(&[&names.join(", ")]),
        Fault::Empty => Text::FaultEmpty,
        Fault::NoGround => Text::FaultNoGround,
        Fault::Shares {
            volume_pct,
            mass_pct,
        } => return Text::FaultShares.with(&[&percent(*volume_pct), &percent(*mass_pct)]),
        Fault::NoArea => Text::FaultNoArea,
        Fault::NoBag => Text::FaultNoBag,
        Fault::MulchShare => Text::FaultMulchShare,
        Fault::NoDryMatter => Text::FaultNoDryMatter,
        Fault::Misfit(misfit) => return misfit_text(*misfit),
        Fault::Ground(GroundFault::DenserThanSolids {
            lying_kg_m3,
            limit_kg_m3,
            solid_kg_m3,
        }) => {
            return Text::FaultDense.with(&[
                &fixed(*lying_kg_m3, 0),
                &fixed(*solid_kg_m3, 0),
                &fixed(*limit_kg_m3, 0),
            ]);
        }
        Fault::Link => Text::FaultLink,
        Fault::LinkTooLong { limit } => {
            return Text::FaultLinkTooLong.with(&[&bound(*limit as f64)]);
        }
    };
    plain.text().into()
}

fn misfit_text(misfit: Misfit) -> String {
    let (text, first, second) = match misfit {
        Misfit::NoLooseDensity => (Text::MisfitNoLooseDensity, 0.0, 0.0),
        Misfit::OrganicAndChar { sum_pct } => {
            return Text::MisfitOrganicAndChar.with(&[&significant(sum_pct, 4)]);
        }
        Misfit::NoFractions => (Text::MisfitNoFractions, 0.0, 0.0),
        Misfit::SettledAboveGrain {
            settled_kg_m3,
            limit_kg_m3,
        } => (Text::MisfitSettled, settled_kg_m3, limit_kg_m3),
        Misfit::GrainAboveSolid {
            grain_kg_m3,
            solid_kg_m3,
        } => (Text::MisfitGrain, grain_kg_m3, solid_kg_m3),
        Misfit::FreshAboveGrain {
            fresh_kg_m3,
            limit_kg_m3,
        } => (Text::MisfitFresh, fresh_kg_m3, limit_kg_m3),
    };
    text.with(&[&fixed(first, 0), &fixed(second, 0)])
}
