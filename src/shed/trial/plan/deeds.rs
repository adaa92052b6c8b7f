//! What the plan's boxes and buttons do to the trial.

use super::{PART, settle_plan};
use crate::quantity::{Unit, round_significant};
use crate::recipe::{AMOUNT_LEAST, AMOUNT_LIMIT, Amount, Kept, Recipe};
use crate::shed::trial::fields::{fault, number_in};
use crate::trial::crops::TestCrop;
use crate::trial::doses::dose_limits;
use crate::trial::doses::{HEIGHT_LIMITS_M, VOLUME_LIMITS_M3};
use crate::trial::layout::TREATMENTS;
use crate::trial::plan::{Deed, Treatment, Trial, Vessel};
use crate::trial::start::strip_of;
use crate::words::Typed;
use crate::words::trial::page_plan::{NOTHING_EQUAL, full_text};
use crate::words::trial::page_record::typed_text;
use crate::words::trial::plan::plan_fault_text;
use crate::words::unit_name;

/// Containers of some kinds: name in the list, litres, height in cm (a choice; the volume is to be
/// measured).
pub(super) const KINDS: [(&str, f64, f64); 4] = [
    ("pail", 10.0, 25.0),
    ("bucket", 15.0, 25.0),
    ("pot", 5.0, 18.0),
    ("trough", 36.0, 20.0),
];
/// A strip of bed where the recipe has none: m2 and cm (a choice).
const STRIP: (f64, f64) = (1.0, 20.0);
/// Digits of a dose that is turned from volume to weight.
const DOSE_DIGITS: usize = 2;

fn unit_of(name: &str) -> Option<Unit> {
    Unit::from_spelling(&PART.field(&[name, "-unit"].concat())?.value())
}

/// The amount of a box with its unit; none where it is empty.
pub(super) fn typed_amount(name: &str) -> Result<Option<Amount>, ()> {
    let field = PART.field(name).ok_or(())?;
    let unit = unit_of(name).ok_or(())?;
    let value = number_in(&field, limits_of(name, unit), unit_name(unit))?;
    Ok(value.map(|value| Amount::new(value, unit)))
}

/// What an amount can be in the unit of its list.
fn limits_of(name: &str, unit: Unit) -> (f64, f64) {
    let si = Amount::new(1.0, unit).si();
    // Without the last bits of a unit's factor.
    let round = |value: f64| round_significant(value, 9);
    let of = |(low, high): (f64, f64)| (round(low / si), round(high / si));
    match name {
        "volume" => of(VOLUME_LIMITS_M3),
        "height" | "depth" => of(HEIGHT_LIMITS_M),
        "dose" => dose_limits(unit),
        _ => (AMOUNT_LEAST, AMOUNT_LIMIT),
    }
}

/// One box of a container or strip, with its unit; the others keep what they hold.
pub(super) fn vessel_box(name: &str) -> Result<(), ()> {
    let amount = typed_amount(name)?;
    // Only the weight of an empty one need not be told.
    if amount.is_none() && name != "empty" {
        let field = PART.field(name).ok_or(())?;
        let unit = unit_of(name).ok_or(())?;
        let (low, high) = limits_of(name, unit);
        fault(
            &field,
            &typed_text(Typed::Empty, low, high, unit_name(unit)),
        );
        return Err(());
    }
    settle_plan(|trial, _| {
        match &mut trial.vessel {
            Vessel::Container {
                volume,
                height,
                empty,
                ..
            } => match (name, amount) {
                ("volume", Some(amount)) => *volume = amount,
                ("height", Some(amount)) => *height = amount,
                ("empty", amount) => *empty = amount,
                _ => {}
            },
            Vessel::Strip { area, depth, .. } => match (name, amount) {
                ("area", Some(amount)) => *area = amount,
                ("depth", Some(amount)) => *depth = amount,
                _ => {}
            },
        }
        replant(trial);
        Ok(())
    });
    Ok(())
}

/// Adds treatments, as long as there is room for them.
pub(super) fn add(act: impl FnOnce(&mut Trial, &Recipe) -> Result<Vec<Treatment>, String>) -> bool {
    settle_plan(|trial, recipe| {
        let more = act(trial, recipe)?;
        if trial.treatments.len() + more.len() > TREATMENTS.1 {
            return Err(full_text());
        }
        trial.treatments.extend(more);
        Ok(())
    })
}

/// Plants follow the room for them.
pub(super) fn replant(trial: &mut Trial) {
    let known = trial.crop.as_deref().and_then(TestCrop::find);
    if let Some((crop, area)) = known.zip(trial.area_cm2()) {
        trial.plants = Some(crop.plants(area)).filter(|plants| *plants > 0);
    }
}

pub(super) fn own_dose(index: &str) -> Result<(), ()> {
    let at: usize = index.parse().map_err(|_| ())?;
    let name = ["dose-", index].concat();
    let field = PART.field(&name).ok_or(())?;
    let unit = PART.field(&["dose-unit-", index].concat()).ok_or(())?;
    let unit = Unit::from_spelling(&unit.value()).ok_or(())?;
    let value = number_in(&field, dose_limits(unit), unit_name(unit))?;
    settle_plan(|trial, _| {
        if let Some(treatment) = trial.treatments.get_mut(at) {
            treatment.dose = value.map(|value| Amount::new(value, unit));
        }
        Ok(())
    });
    Ok(())
}

pub(super) fn control(deed: Deed, wanted: bool) {
    settle_plan(|trial, _| {
        let known = trial.treatments.iter().position(|of| of.deed == deed);
        match (known, wanted) {
            (None, true) => {
                if trial.treatments.len() >= TREATMENTS.1 {
                    return Err(full_text());
                }
                // Controls stand first, the dug one at the top.
                let dug = trial.treatments.iter().any(|of| of.deed == Deed::Dug);
                let at = usize::from(dug && deed == Deed::Untouched);
                trial
                    .treatments
                    .insert(at.min(trial.treatments.len()), Treatment::new(deed));
            }
            (Some(at), false) => {
                trial.treatments.remove(at);
            }
            _ => {}
        }
        Ok(())
    });
}

pub(super) fn kind(kind: &str) {
    settle_plan(|trial, recipe| {
        let known = KINDS.iter().find(|known| known.0 == kind);
        let containers = trial.wanted().containers();
        trial.vessel = match (known, kind, &trial.vessel) {
            (Some((_, litres, cm)), ..) => Vessel::Container {
                volume: Amount::new(*litres, Unit::Litre),
                height: Amount::new(*cm, Unit::Centimetre),
                empty: None,
                kept: Kept::new(),
            },
            (None, "strip", Vessel::Container { .. }) => {
                strip_of(recipe, containers).unwrap_or(Vessel::Strip {
                    area: Amount::new(STRIP.0, Unit::SquareMetre),
                    depth: Amount::new(STRIP.1, Unit::Centimetre),
                    kept: Kept::new(),
                })
            }
            (None, "own", Vessel::Strip { .. }) => Vessel::Container {
                volume: Amount::new(KINDS[0].1, Unit::Litre),
                height: Amount::new(KINDS[0].2, Unit::Centimetre),
                empty: None,
                kept: Kept::new(),
            },
            (None, _, vessel) => vessel.clone(),
        };
        replant(trial);
        Ok(())
    });
    if kind == "own"
        && let Some(field) = PART.field("volume")
    {
        crate::dom::focus(&field);
    }
}

/// Doses of one volume become doses of one weight, or back: of their mean, so that about as much
/// is added as before.
pub(super) fn equal(by_mass: bool) {
    settle_plan(|trial, recipe| {
        let doses = trial
            .doses(recipe)
            .map_err(|fault| plan_fault_text(&fault, trial, recipe, crate::words::METRIC))?;
        let both = trial.treatments.iter().zip(&doses.each);
        let of_all = both.filter(|(treatment, _)| {
            matches!(treatment.deed, Deed::Addition { .. }) && treatment.dose.is_none()
        });
        let added: Vec<f64> = of_all
            .filter_map(|(_, one)| one.added.first())
            .map(|added| {
                if by_mass {
                    added.moist_kg
                } else {
                    added.loose_l
                }
            })
            .collect();
        if added.is_empty() {
            return Err(NOTHING_EQUAL.text().into());
        }
        let mean = added.iter().sum::<f64>() / added.len() as f64;
        let (value, unit) = match by_mass {
            true if mean < 1.0 => (mean * 1000.0, Unit::Gram),
            true => (mean, Unit::Kilogram),
            false => (mean, Unit::Litre),
        };
        trial.dose = Some(Amount::new(round_significant(value, DOSE_DIGITS), unit));
        Ok(())
    });
}
