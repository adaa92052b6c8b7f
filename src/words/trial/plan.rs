//! Faults and advice of plans as sentences.

use super::records::day_advice_text;
use crate::quantity::{LITRES_PER_M3, Unit};
use crate::recipe::Recipe;
use crate::trial::convert::{ConvertFault, Entry};
use crate::trial::crops::{BestFor, Sensitivity};
use crate::trial::doses::{PlanAdvice, PlanFault};
use crate::trial::layout::{Design, LayoutAdvice, LayoutFault, SeedFault, Site, TREATMENTS};
use crate::trial::measures::{Spreads, find};
use crate::trial::plan::{DayAdvice, Deed, Locked, Predicted, Stage, Trial, Way};
use crate::words::keep::one_line;
use crate::words::{Speech, error_text, fixed, shown, significant, unit_name};

/// What a treatment is called: as the user calls it, else what is done.
pub fn treatment_name(trial: &Trial, recipe: &Recipe, treatment: usize) -> String {
    let Some(of) = trial.treatments.get(treatment) else {
        return String::new();
    };
    if let Some(name) = &of.name {
        return one_line(name);
    }
    match &of.deed {
        Deed::Untouched => "Untouched".into(),
        Deed::Dug => "Dug, nothing added".into(),
        Deed::Blend => "The blend".into(),
        Deed::Addition { material } => {
            let found = recipe.find(material);
            let name = one_line(found.map_or(material, |found| found.name()));
            // Two doses of a material are told apart by them.
            let others = trial
                .treatments
                .iter()
                .filter(|other| other.deed == of.deed);
            match of.dose.as_ref().or(trial.dose.as_ref()) {
                Some(dose) if others.count() > 1 => {
                    let unit = dose.unit.spelling().trim_start_matches('%');
                    let percent = if dose.unit == Unit::VolumePercent {
                        "% by volume"
                    } else {
                        unit
                    };
                    format!("{name}, {} {percent}", shown(dose.value))
                }
                _ => name,
            }
        }
    }
}

/// Why a control is worth its containers.
pub fn control_reason(deed: &Deed) -> &'static str {
    match deed {
        Deed::Untouched => "Untouched ground, not even broken up: it shows what digging alone did.",
        Deed::Dug => {
            "The same clay, broken up, sieved and filled like all the others, with nothing added. \
             It tells the addition from the digging, so additions are compared with it."
        }
        Deed::Addition { .. } | Deed::Blend => "",
    }
}

/// A design by name.
pub fn design_name(design: Design) -> &'static str {
    match design {
        Design::Blocks => "Randomised blocks",
        Design::Random => "Completely random",
        Design::Latin => "Latin square",
    }
}

/// A design within a sentence.
fn design_in_sentence(design: Design) -> &'static str {
    match design {
        Design::Blocks => "randomised blocks, each a strip of equal light",
        Design::Random => "a completely random layout",
        Design::Latin => "a Latin square",
    }
}

/// What the light does, as a choice.
pub fn site_name(site: Site) -> &'static str {
    match site {
        Site::Even => "The same light everywhere",
        Site::OneWay => "More light at one end, as beside a wall or hedge",
        Site::TwoWays => "Two changes that cross",
    }
}

/// A guess as a choice.
pub fn way_name(way: Way) -> &'static str {
    match way {
        Way::More => "more",
        Way::Same => "no difference that matters",
        Way::Less => "less",
    }
}

/// Something that the model foretells, by name.
pub fn predicted_name(of: Predicted) -> &'static str {
    match of {
        Predicted::AirSpace => "Air once drained",
        Predicted::PoreSpace => "Pore space",
        Predicted::Density => "Bulk density",
        Predicted::PlantWater => "Water for plants",
        Predicted::Drainage => "Conductivity when full",
        Predicted::Infiltration => "Time for 25 mm of water",
        Predicted::Ph => "pH",
        Predicted::Salt => "Conductivity at 1:5",
        Predicted::Weight => "Weight, watered and drained",
    }
}

/// How far foretelling has come.
pub fn stage_text(stage: Stage) -> &'static str {
    match stage {
        Stage::Planned => "Nothing is measured yet, and nothing foretold.",
        Stage::Foretold => {
            "What the model expects is stored. Your own guesses can still change until the first \
             record."
        }
        Stage::Measured => "The expectations below were stored before the first record.",
        Stage::MeasuredUnforetold => {
            "Records came before anything was foretold, so nothing here was a prediction."
        }
    }
}

/// Why something cannot be changed any more.
pub fn locked_text(locked: Locked) -> String {
    match locked {
        Locked::ByRecords { records: 1 } => {
            "There is a record already, so the plan and the guesses stay as they are.".into()
        }
        Locked::ByRecords { records } => format!(
            "There are {} records already, so the plan and the guesses stay as they are.",
            fixed(records as f64, 0)
        ),
        Locked::NoTreatment { treatments } => {
            format!("There are {treatments} treatments; this is none of them.")
        }
    }
}

/// Why there is no room for another treatment.
pub fn most_treatments_text() -> String {
    format!(
        "A trial has at most {} treatments, the controls among them.",
        TREATMENTS.1
    )
}

/// What is wrong with a seed.
pub fn seed_fault_text(fault: SeedFault) -> String {
    match fault {
        SeedFault::NotDigits => "A seed is a whole number in digits, such as 20260401.".into(),
        SeedFault::TooLarge { most } => format!("A seed can be at most {most}."),
    }
}

/// What cannot be set out.
pub fn layout_fault_text(fault: &LayoutFault) -> String {
    let whole = |count: usize| fixed(count as f64, 0);
    match fault {
        LayoutFault::Treatments { found, least, most } => format!(
            "{} is no number of treatments to compare: it must be from {least} to {most}, the \
             controls among them.",
            whole(*found)
        ),
        LayoutFault::Copies {
            treatment,
            found,
            most,
        } => format!(
            "Treatment {} stands {} times in a block: it must be from 1 to {most}.",
            treatment + 1,
            whole(*found)
        ),
        LayoutFault::NoBlocks => "There must be at least one block.".into(),
        LayoutFault::Containers { found, most } => format!(
            "{} containers are too many: at most {most}.",
            // A slip of the finger has twenty digits.
            if *found > 1_000_000 {
                "So many".into()
            } else {
                whole(*found)
            }
        ),
        LayoutFault::LatinCopies { treatment } => format!(
            "In a Latin square each treatment stands once in a row; treatment {} stands oftener.",
            treatment + 1
        ),
        LayoutFault::NoColumns => "At least one container stands side by side.".into(),
    }
}

/// What is to be said of a layout.
pub fn layout_advice_text(advice: LayoutAdvice) -> String {
    match advice {
        LayoutAdvice::OneEach => {
            "One container of each can show that they differ, but not why: containers treated \
             alike differ too, and nothing here tells by how much."
                .into()
        }
        LayoutAdvice::FewLeft { freedom, wanted } => format!(
            "Only {freedom} degrees of freedom are left to tell chance by; {wanted} are better. \
             More blocks give more."
        ),
        LayoutAdvice::LatinOfThree => {
            "A Latin square of three leaves two degrees of freedom: too few to stand alone. Use \
             blocks, or two such squares."
                .into()
        }
        LayoutAdvice::LargeSquare { most } => format!(
            "A Latin square of more than {most} rows takes more room than light stays even in. Use \
             blocks, or fewer treatments."
        ),
        LayoutAdvice::OtherDesign { better } => format!(
            "For this light {} suits better.",
            design_in_sentence(better)
        ),
        LayoutAdvice::ManyForOnePlace { most } => format!(
            "More than {most} containers hardly ever stand in the same light: {} are safer.",
            design_in_sentence(Design::Blocks)
        ),
        LayoutAdvice::LongStrip { most } => format!(
            "More than {most} containers in a strip: use fewer treatments, or two trials with the \
             control in both."
        ),
        LayoutAdvice::Blocks { least, most } => {
            format!("From {least} to {most} blocks are usual.")
        }
    }
}

/// What makes no trial.
pub fn plan_fault_text(
    fault: &PlanFault,
    trial: &Trial,
    recipe: &Recipe,
    speech: Speech,
) -> String {
    let name = |treatment: &usize| treatment_name(trial, recipe, *treatment);
    let litres = |litres: f64| {
        if litres.is_finite() {
            speech.volume(litres)
        } else {
            "no number".into()
        }
    };
    match fault {
        PlanFault::NoControl => {
            "There is no control: without one nothing is known of what an addition did. Add \
             “Dug, nothing added”."
                .into()
        }
        PlanFault::Layout(fault) => layout_fault_text(fault),
        PlanFault::Volume {
            m3,
            low_m3,
            high_m3,
        } => format!(
            "{} is no room for soil: it must be from {} to {}.",
            litres(m3 * LITRES_PER_M3),
            litres(low_m3 * LITRES_PER_M3),
            litres(high_m3 * LITRES_PER_M3)
        ),
        PlanFault::Height { m, low_m, high_m } => {
            let cm = |m: f64| {
                if m.is_finite() {
                    format!("{} cm", significant(m * 100.0, 3))
                } else {
                    "no number".into()
                }
            };
            format!(
                "{} is no depth of soil: it must be from {} to {}.",
                cm(*m),
                cm(*low_m),
                cm(*high_m)
            )
        }
        PlanFault::NoDose { treatment } => {
            format!(
                "How much of {} goes into a container is not said.",
                name(treatment)
            )
        }
        PlanFault::DoseUnit { treatment, unit } => format!(
            "A dose of {} cannot be in {}: say how much goes into one container.",
            name(treatment),
            unit_name(*unit)
        ),
        PlanFault::TooMuch {
            treatment,
            takes_l,
            room_l,
        } => format!(
            "{} alone takes up {}, and a container holds {}: no ground is left in it.",
            name(treatment),
            litres(*takes_l),
            litres(*room_l)
        ),
        PlanFault::Same { first, second } => format!(
            "Treatments {} and {} are the same: {}. Use more blocks instead.",
            first + 1,
            second + 1,
            name(first)
        ),
        PlanFault::EmptyBlend { .. } => {
            "The blend has nothing mixed in, so it is the control. Take it out.".into()
        }
        PlanFault::NoGround => "There is no ground to fill in.".into(),
        PlanFault::Recipe { treatment, error } => {
            format!("{}: {}", name(treatment), error_text(error))
        }
    }
}

/// What is to be said of a plan.
pub fn plan_advice_text(advice: PlanAdvice, trial: &Trial, recipe: &Recipe) -> String {
    let name = |treatment: usize| treatment_name(trial, recipe, treatment);
    let times = |by: f64| {
        if by.is_finite() {
            format!("{} times", significant(by, 2))
        } else {
            "without limit".into()
        }
    };
    match advice {
        PlanAdvice::OfferUntouched => format!(
            "You could add a control. {}",
            control_reason(&Deed::Untouched)
        ),
        PlanAdvice::OfferDug => {
            format!("You should add a control. {}", control_reason(&Deed::Dug))
        }
        PlanAdvice::Day(DayAdvice::LongAfter { days }) => format!(
            "The last record is {} days after the day of sowing: is its year right?",
            fixed(f64::from(days), 0)
        ),
        PlanAdvice::Day(day) => day_advice_text(day),
        PlanAdvice::OnlyUntouched => {
            "The only control is untouched ground, so what an addition did cannot be told from what \
             the digging did: both are in each difference. Add “Dug, nothing added”."
                .into()
        }
        PlanAdvice::Feeds { treatment } => format!(
            "{} feeds as well. Only a control with the same nutrients and nothing else would tell \
             food from looser soil.",
            name(treatment)
        ),
        PlanAdvice::TryBeansFirst { treatment } => format!(
            "If {} was bought, sow a few beans in it first, beside some in plain potting mix: new \
             leaves that cup or twist only there mean weedkiller in it.",
            name(treatment)
        ),
        PlanAdvice::GypsumDries { treatment } => format!(
            "{} loses water of its own in a hot oven, which reads as moisture. Dry all samples, \
             the control's too, at 60 °C for 48 hours. Its salt in water is no harm to plants \
             either.",
            name(treatment)
        ),
        PlanAdvice::MassDiffers { by } => format!(
            "Doses are equal by volume; by weight the heaviest is {} the lightest.",
            times(by)
        ),
        PlanAdvice::VolumeDiffers { by } => format!(
            "Doses are equal by weight; by volume the largest is {} the smallest.",
            times(by)
        ),
        PlanAdvice::NeitherEqual { by_mass, by_volume } => format!(
            "Doses differ: by weight the heaviest is {} the lightest, by volume the largest {} \
             the smallest. So this compares doses as well as additions.",
            times(by_mass),
            times(by_volume)
        ),
    }
}

/// A test crop by name.
pub fn crop_name(id: &str) -> &str {
    match id {
        "radish" => "Radish",
        "beet" => "Beet",
        "lettuce" => "Leaf lettuce",
        "bean" => "Bush bean",
        "oat" => "Oat",
        other => other,
    }
}

/// What a crop is best for.
pub fn best_for_text(best: BestFor) -> &'static str {
    match best {
        BestFor::QuickAnswer => "a quick answer of a whole crop, and for how loose the soil is",
        BestFor::LongTrial => "a long trial, and for the shape of roots",
        BestFor::FoodSaltWater => "food, salt and water",
        BestFor::ResidueAlarm => "an alarm for weedkiller and salt",
        BestFor::GrassCheck => {
            "a check beside beans: where beans fail and oats do not, suspect weedkiller"
        }
    }
}

/// How a crop answers.
pub fn sensitivity_word(of: Sensitivity) -> &'static str {
    match of {
        Sensitivity::Tolerant => "tolerant",
        Sensitivity::Moderate => "moderate",
        Sensitivity::Sensitive => "sensitive",
        Sensitivity::Very => "very sensitive",
    }
}

/// What a usual spread is of.
pub fn spread_name(of: Spreads) -> &'static str {
    match of {
        Spreads::ManyPlants => "Mass of a crop, four plants or more in each",
        Spreads::OnePlant => "Mass of a crop, one plant in each",
        Spreads::UnderGlass => "Lettuce in pots under glass",
        Spreads::Conductivity => "Conductivity of cores of topsoil",
        Spreads::RingTime => "Time for water to go in",
        Spreads::Density => "Bulk density",
    }
}

/// A measure by name: the user's own, or ours.
pub fn measure_name(trial: &Trial, id: &str) -> String {
    let mut own = trial.own_measures.iter();
    if let Some(own) = own.find(|own| own.id == id) {
        return one_line(own.name.as_deref().unwrap_or(&own.id));
    }
    known_measure_name(id).to_owned()
}

/// A measure of ours by name; another's is its id.
fn known_measure_name(id: &str) -> &str {
    match id {
        "emerged_count" => "Seedlings up",
        "plants_count" => "Plants",
        "vigour_1to5" => "Vigour, 1 to 5",
        "height_cm" => "Height",
        "top_fresh_g" => "Fresh tops",
        "root_fresh_g" => "Fresh roots",
        "marketable_g" => "Good to eat",
        "defect_count" => "Forked, split or scabbed",
        "container_kg" => "Weight of the container",
        "water_l" => "Water given",
        "drained_ml" => "Water that ran out",
        "air_space" => "Air once drained",
        "total_porosity" => "Pore space",
        "bulk_density_g_cm3" => "Bulk density",
        "water_g_g" => "Moisture",
        "infiltration_min" => "Time for water to go in",
        "ksat_cm_h" => "Conductivity when full",
        "slake_0to6" => "Crumbs in water, 0 to 6",
        "halo_0to4" => "Milky halo, 0 to 4",
        "flag_cm" => "How deep a wire goes",
        "surface_depth_cm" => "Surface below the rim",
        "ph" => "pH",
        "ec_ds_m" => "Conductivity of the slurry",
        "light_hours" => "Hours of sun",
        other => other,
    }
}

/// A measure with its unit.
pub fn measure_with_unit(trial: &Trial, id: &str) -> String {
    let name = measure_name(trial, id);
    match find(&trial.own_measures, id) {
        Some(measure) if !measure.unit.is_empty() => {
            format!("{name} ({})", one_line(measure.unit))
        }
        _ => name,
    }
}

/// What nothing follows from.
pub fn convert_fault_text(fault: &ConvertFault) -> String {
    let (what, unit) = match fault.of {
        Entry::VolumeMl => ("The volume", " mL"),
        Entry::DryG => ("The dry mass", " g"),
        Entry::SaturatingG => ("The water that fills it", " g"),
        Entry::DrainedMl => ("The water that ran out", " mL"),
        Entry::PouredMl => ("The water poured in", " mL"),
        Entry::WaterBeforeMl => ("The water that was in it", " mL"),
        Entry::DensityGMl => ("The dry density", " g/mL"),
        Entry::WaterGG => ("The moisture", " g/g"),
        Entry::DiameterCm => ("The diameter", " cm"),
        Entry::DepthMm => ("The depth of water", " mm"),
        Entry::Minutes => ("The time", " min"),
        Entry::Seconds => ("The time", " s"),
        Entry::SoilCm => ("The depth of soil", " cm"),
        Entry::FirstCm => ("The water above it at first", " cm"),
        Entry::LastCm => ("The water above it at the end", " cm"),
        Entry::GypsumPct => ("The gypsum", " %"),
        Entry::SunkCm => ("How far it sank", " cm"),
        Entry::EcDsM => ("The conductivity", " dS/m"),
        Entry::Celsius => ("The temperature", " °C"),
        Entry::SaturationGG => ("The water in the paste", " g/g"),
    };
    let value = if fault.value.is_finite() {
        format!("is {}{unit}", shown(fault.value))
    } else {
        "is no number".into()
    };
    format!(
        "{what} {value}: it must be from {} to {}{unit}.",
        shown(fault.low),
        shown(fault.high)
    )
}
