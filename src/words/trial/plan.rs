//! Faults and advice of plans as sentences.

use super::records::day_advice_text;
use crate::quantity::LITRES_PER_M3;
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
        Deed::Untouched => tr!("Untouched").into(),
        Deed::Dug => tr!("Dug, nothing added").into(),
        Deed::Blend => tr!("The blend").into(),
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
                    format!("{name}, {} {}", shown(dose.value), unit_name(dose.unit))
                }
                _ => name,
            }
        }
    }
}

/// Why a control is worth its containers.
pub fn control_reason(deed: &Deed) -> &'static str {
    match deed {
        Deed::Untouched => {
            tr!("Untouched ground, not even broken up: it shows what digging alone did.")
        }
        Deed::Dug => {
            tr!(
                "The same clay, broken up, sieved and filled like all the others, with nothing added. It tells the addition from the digging, so additions are compared with it."
            )
        }
        Deed::Addition { .. } | Deed::Blend => "",
    }
}

/// A design by name.
pub fn design_name(design: Design) -> &'static str {
    match design {
        Design::Blocks => tr!("Randomised blocks"),
        Design::Random => tr!("Completely random"),
        Design::Latin => tr!("Latin square"),
    }
}

/// A design within a sentence.
fn design_in_sentence(design: Design) -> &'static str {
    match design {
        Design::Blocks => tr!("randomised blocks, each a strip of equal light"),
        Design::Random => tr!("a completely random layout"),
        Design::Latin => tr!("a Latin square"),
    }
}

/// What the light does, as a choice.
pub fn site_name(site: Site) -> &'static str {
    match site {
        Site::Even => tr!("The same light everywhere"),
        Site::OneWay => tr!("More light at one end, as beside a wall or hedge"),
        Site::TwoWays => tr!("Two changes that cross"),
    }
}

/// A guess as a choice.
pub fn way_name(way: Way) -> &'static str {
    match way {
        Way::More => tr!("more"),
        Way::Same => tr!("no difference that matters"),
        Way::Less => tr!("less"),
    }
}

/// Something that the model foretells, by name.
pub fn predicted_name(of: Predicted) -> &'static str {
    match of {
        Predicted::AirSpace => tr!("Air once drained"),
        Predicted::PoreSpace => tr!("Pore space"),
        Predicted::Density => tr!("Bulk density"),
        Predicted::PlantWater => tr!("Water for plants"),
        Predicted::Drainage => tr!("Conductivity when full"),
        Predicted::Infiltration => tr!("Time for 25 mm of water"),
        Predicted::Ph => "pH",
        Predicted::Salt => tr!("Conductivity at 1:5"),
        Predicted::Weight => tr!("Weight, watered and drained"),
    }
}

/// How far foretelling has come.
pub fn stage_text(stage: Stage) -> &'static str {
    match stage {
        Stage::Planned => tr!("Nothing is measured yet, and nothing foretold."),
        Stage::Foretold => {
            tr!(
                "What the model expects is stored. Your own guesses can still change until the first record."
            )
        }
        Stage::Measured => tr!("The expectations below were stored before the first record."),
        Stage::MeasuredUnforetold => {
            tr!("Records came before anything was foretold, so nothing here was a prediction.")
        }
    }
}

/// Why something cannot be changed any more.
pub fn locked_text(locked: Locked) -> String {
    match locked {
        Locked::ByRecords { records: 1 } => {
            tr!("There is a record already, so the plan and the guesses stay as they are.").into()
        }
        Locked::ByRecords { records } => say!(
            "There are {} records already, so the plan and the guesses stay as they are.",
            fixed(records as f64, 0)
        ),
        Locked::NoTreatment { treatments } => {
            say!("There are {} treatments; this is none of them.", treatments)
        }
    }
}

/// Why there is no room for another treatment.
pub fn most_treatments_text() -> String {
    say!(
        "A trial has at most {} treatments, the controls among them.",
        TREATMENTS.1
    )
}

/// What is wrong with a seed.
pub fn seed_fault_text(fault: SeedFault) -> String {
    match fault {
        SeedFault::NotDigits => tr!("A seed is a whole number in digits, such as 20260401.").into(),
        SeedFault::TooLarge { most } => say!("A seed can be at most {}.", most),
    }
}

/// What cannot be set out.
pub fn layout_fault_text(fault: &LayoutFault) -> String {
    let whole = |count: usize| fixed(count as f64, 0);
    match fault {
        LayoutFault::Treatments { found, least, most } => say!(
            "{} is no number of treatments to compare: it must be from {} to {}, the controls among them.",
            whole(*found),
            least,
            most
        ),
        LayoutFault::Copies {
            treatment,
            found,
            most,
        } => say!(
            "Treatment {} stands {} times in a block: it must be from 1 to {}.",
            treatment + 1,
            whole(*found),
            most
        ),
        LayoutFault::NoBlocks => tr!("There must be at least one block.").into(),
        LayoutFault::Containers { found, most } if *found > 1_000_000 => {
            say!("So many containers are too many: at most {}.", most)
        }
        LayoutFault::Containers { found, most } => say!(
            "{} containers are too many: at most {}.",
            whole(*found),
            most
        ),
        LayoutFault::LatinCopies { treatment } => say!(
            "In a Latin square each treatment stands once in a row; treatment {} stands oftener.",
            treatment + 1
        ),
        LayoutFault::NoColumns => tr!("At least one container stands side by side.").into(),
    }
}

/// What is to be said of a layout.
pub fn layout_advice_text(advice: LayoutAdvice) -> String {
    match advice {
        LayoutAdvice::OneEach => {
            tr!("One container of each can show that they differ, but not why: containers treated alike differ too, and nothing here tells by how much.")
                .into()
        }
        LayoutAdvice::FewLeft { freedom, wanted } => say!("Only {} degrees of freedom are left to tell chance by; {} are better. More blocks give more.", freedom, wanted),
        LayoutAdvice::LatinOfThree => {
            tr!("A Latin square of three leaves two degrees of freedom: too few to stand alone. Use blocks, or two such squares.")
                .into()
        }
        LayoutAdvice::LargeSquare { most } => say!("A Latin square of more than {} rows takes more room than light stays even in. Use blocks, or fewer treatments.", most),
        LayoutAdvice::OtherDesign { better } => say!("For this light {} suits better.", design_in_sentence(better)),
        LayoutAdvice::ManyForOnePlace { most } => say!("More than {} containers hardly ever stand in the same light: {} are safer.", most, design_in_sentence(Design::Blocks)),
        LayoutAdvice::LongStrip { most } => say!("More than {} containers in a strip: use fewer treatments, or two trials with the control in both.", most),
        LayoutAdvice::Blocks { least, most } => {
            say!("From {} to {} blocks are usual.", least, most)
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
            tr!("no number").into()
        }
    };
    match fault {
        PlanFault::NoControl => {
            tr!("There is no control: without one nothing is known of what an addition did. Add “Dug, nothing added”.")
                .into()
        }
        PlanFault::Layout(fault) => layout_fault_text(fault),
        PlanFault::Volume {
            m3,
            low_m3,
            high_m3,
        } => say!("{} is no room for soil: it must be from {} to {}.", litres(m3 * LITRES_PER_M3), litres(low_m3 * LITRES_PER_M3), litres(high_m3 * LITRES_PER_M3)),
        PlanFault::Height { m, low_m, high_m } => {
            let cm = |m: f64| {
                if m.is_finite() {
                    format!("{} cm", significant(m * 100.0, 3))
                } else {
                    tr!("no number").into()
                }
            };
            say!("{} is no depth of soil: it must be from {} to {}.", cm(*m), cm(*low_m), cm(*high_m))
        }
        PlanFault::NoDose { treatment } => {
            say!("How much of {} goes into a container is not said.", name(treatment))
        }
        PlanFault::DoseUnit { treatment, unit } => say!("A dose of {} cannot be in {}: say how much goes into one container.", name(treatment), unit_name(*unit)),
        PlanFault::TooMuch {
            treatment,
            takes_l,
            room_l,
        } => say!("{} alone takes up {}, and a container holds {}: no ground is left in it.", name(treatment), litres(*takes_l), litres(*room_l)),
        PlanFault::Same { first, second } => say!("Treatments {} and {} are the same: {}. Use more blocks instead.", first + 1, second + 1, name(first)),
        PlanFault::EmptyBlend { .. } => {
            tr!("The blend has nothing mixed in, so it is the control. Take it out.").into()
        }
        PlanFault::NoGround => tr!("There is no ground to fill in.").into(),
        PlanFault::Recipe { treatment, error } => {
            say!("{}: {}", name(treatment), error_text(error))
        }
    }
}

/// What is to be said of a plan.
pub fn plan_advice_text(advice: PlanAdvice, trial: &Trial, recipe: &Recipe) -> String {
    let name = |treatment: usize| treatment_name(trial, recipe, treatment);
    let times = |by: f64| {
        if by.is_finite() {
            say!("{} times", significant(by, 2))
        } else {
            tr!("without limit").into()
        }
    };
    match advice {
        PlanAdvice::OfferUntouched => say!("You could add a control. {}", control_reason(&Deed::Untouched)),
        PlanAdvice::OfferDug => {
            say!("You should add a control. {}", control_reason(&Deed::Dug))
        }
        PlanAdvice::Day(DayAdvice::LongAfter { days }) => say!("The last record is {} days after the day of sowing: is its year right?", fixed(f64::from(days), 0)),
        PlanAdvice::Day(day) => day_advice_text(day),
        PlanAdvice::OnlyUntouched => {
            tr!("The only control is untouched ground, so what an addition did cannot be told from what the digging did: both are in each difference. Add “Dug, nothing added”.")
                .into()
        }
        PlanAdvice::Feeds { treatment } => say!("{} feeds as well. Only a control with the same nutrients and nothing else would tell food from looser soil.", name(treatment)),
        PlanAdvice::TryBeansFirst { treatment } => say!("If {} was bought, sow a few beans in it first, beside some in plain potting mix: new leaves that cup or twist only there mean weedkiller in it.", name(treatment)),
        PlanAdvice::GypsumDries { treatment } => say!("{} loses water of its own in a hot oven, which reads as moisture. Dry all samples, the control's too, at 60 °C for 48 hours. Its salt in water is no harm to plants either.", name(treatment)),
        PlanAdvice::MassDiffers { by } => say!("Doses are equal by volume; by weight the heaviest is {} the lightest.", times(by)),
        PlanAdvice::VolumeDiffers { by } => say!("Doses are equal by weight; by volume the largest is {} the smallest.", times(by)),
        PlanAdvice::NeitherEqual { by_mass, by_volume } => say!("Doses differ: by weight the heaviest is {} the lightest, by volume the largest {} the smallest. So this compares doses as well as additions.", times(by_mass), times(by_volume)),
    }
}

/// A test crop by name.
pub fn crop_name(id: &str) -> &str {
    match id {
        "radish" => tr!("Radish"),
        "beet" => tr!("Beet"),
        "lettuce" => tr!("Leaf lettuce"),
        "bean" => tr!("Bush bean"),
        "oat" => tr!("Oat"),
        other => other,
    }
}

/// What a crop is best for.
pub fn best_for_text(best: BestFor) -> &'static str {
    match best {
        BestFor::QuickAnswer => {
            tr!("a quick answer of a whole crop, and for how loose the soil is")
        }
        BestFor::LongTrial => tr!("a long trial, and for the shape of roots"),
        BestFor::FoodSaltWater => tr!("food, salt and water"),
        BestFor::ResidueAlarm => tr!("an alarm for weedkiller and salt"),
        BestFor::GrassCheck => {
            tr!("a check beside beans: where beans fail and oats do not, suspect weedkiller")
        }
    }
}

/// How a crop answers.
pub fn sensitivity_word(of: Sensitivity) -> &'static str {
    match of {
        Sensitivity::Tolerant => tr!("tolerant"),
        Sensitivity::Moderate => tr!("moderate"),
        Sensitivity::Sensitive => tr!("sensitive"),
        Sensitivity::Very => tr!("very sensitive"),
    }
}

/// What a usual spread is of.
pub fn spread_name(of: Spreads) -> &'static str {
    match of {
        Spreads::ManyPlants => tr!("Mass of a crop, four plants or more in each"),
        Spreads::OnePlant => tr!("Mass of a crop, one plant in each"),
        Spreads::UnderGlass => tr!("Lettuce in pots under glass"),
        Spreads::Conductivity => tr!("Conductivity of cores of topsoil"),
        Spreads::RingTime => tr!("Time for water to go in"),
        Spreads::Density => tr!("Bulk density"),
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
        "emerged_count" => tr!("Seedlings up"),
        "plants_count" => tr!("Plants"),
        "vigour_1to5" => tr!("Vigour, 1 to 5"),
        "height_cm" => tr!("Height"),
        "top_fresh_g" => tr!("Fresh tops"),
        "root_fresh_g" => tr!("Fresh roots"),
        "marketable_g" => tr!("Good to eat"),
        "defect_count" => tr!("Forked, split or scabbed"),
        "container_kg" => tr!("Weight of the container"),
        "water_l" => tr!("Water given"),
        "drained_ml" => tr!("Water that ran out"),
        "air_space" => tr!("Air once drained"),
        "total_porosity" => tr!("Pore space"),
        "bulk_density_g_cm3" => tr!("Bulk density"),
        "water_g_g" => tr!("Moisture"),
        "infiltration_min" => tr!("Time for water to go in"),
        "ksat_cm_h" => tr!("Conductivity when full"),
        "slake_0to6" => tr!("Crumbs in water, 0 to 6"),
        "halo_0to4" => tr!("Milky halo, 0 to 4"),
        "flag_cm" => tr!("How deep a wire goes"),
        "surface_depth_cm" => tr!("Surface below the rim"),
        "ph" => "pH",
        "ec_ds_m" => tr!("Conductivity of the slurry"),
        "light_hours" => tr!("Hours of sun"),
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
        Entry::VolumeMl => (tr!("The volume"), " mL"),
        Entry::DryG => (tr!("The dry mass"), " g"),
        Entry::SaturatingG => (tr!("The water that fills it"), " g"),
        Entry::DrainedMl => (tr!("The water that ran out"), " mL"),
        Entry::PouredMl => (tr!("The water poured in"), " mL"),
        Entry::WaterBeforeMl => (tr!("The water that was in it"), " mL"),
        Entry::DensityGMl => (tr!("The dry density"), " g/mL"),
        Entry::WaterGG => (tr!("The moisture"), " g/g"),
        Entry::DiameterCm => (tr!("The diameter"), " cm"),
        Entry::DepthMm => (tr!("The depth of water"), " mm"),
        Entry::Minutes => (tr!("The time"), " min"),
        Entry::Seconds => (tr!("The time"), " s"),
        Entry::SoilCm => (tr!("The depth of soil"), " cm"),
        Entry::FirstCm => (tr!("The water above it at first"), " cm"),
        Entry::LastCm => (tr!("The water above it at the end"), " cm"),
        Entry::GypsumPct => (tr!("The gypsum"), " %"),
        Entry::SunkCm => (tr!("How far it sank"), " cm"),
        Entry::EcDsM => (tr!("The conductivity"), " dS/m"),
        Entry::Celsius => (tr!("The temperature"), " °C"),
        Entry::SaturationGG => (tr!("The water in the paste"), " g/g"),
    };
    let (low, high) = (shown(fault.low), shown(fault.high));
    if fault.value.is_finite() {
        say!(
            "{} is {}{}: it must be from {} to {}{}.",
            what,
            shown(fault.value),
            unit,
            low,
            high,
            unit
        )
    } else {
        say!(
            "{} is no number: it must be from {} to {}{}.",
            what,
            low,
            high,
            unit
        )
    }
}
