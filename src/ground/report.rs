//! The report of a soil laboratory: what it prints becomes traits of the ground, and what is to be
//! known of it is told. Nothing is corrected in silence: what looks like another unit is asked about.
//!
//! ```
//! use barrowmix::ground::{Trait, Traits, report};
//!
//! let printed = report::Report { ph: Some(7.9), ec: Some(0.4), ..report::Report::EMPTY };
//! let read = report::read(&printed, &Traits::NONE);
//! assert_eq!(read.figure(Trait::Ph).map(|ph| ph.typical), Some(7.9));
//! ```

mod reading;

pub use crate::chemistry::phosphorus::Extractant;
pub use reading::{paste_of_1to1_ds_m, read};

use super::dispersion::Fizz;
use super::{Trait, Traits};
use crate::chemistry::amounts::OrganicMethod;
use crate::chemistry::exchange::{Buffer, Cation};
use crate::chemistry::gypsum::Reason;
use crate::chemistry::reaction::ShakenIn;
use crate::chemistry::sodicity::{MagnesiumCase, SaltClass, SodiumClass};
use crate::figure::Figure;
use crate::quantity::round_significant;

/// µS/cm in one dS/m.
const US_CM: f64 = 1000.0;
/// Least number that is told from nothing, in the unit of any trait.
const LEAST: f64 = 1e-9;
/// Figures that are kept of what is computed: no laboratory knows more.
const DIGITS: usize = 4;

/// A field of a report.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Field {
    /// Reaction.
    Ph,
    /// pH of the buffer.
    BufferPh,
    /// Weight of a litre of sifted soil.
    SiftedWeight,
    /// Exchange capacity.
    Cec,
    /// One of the cations.
    Cation(Cation),
    /// Sodium adsorption ratio.
    Sar,
    /// Organic matter or carbon.
    Organic,
    /// Conductivity.
    Ec,
    /// Carbonate.
    Carbonate,
    /// Phosphorus.
    Phosphorus,
}

/// The unit of the cations.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CationUnit {
    /// mg/kg.
    Ppm,
    /// Pounds on an acre, so deep, m.
    PoundsPerAcre {
        /// Depth that the laboratory counts on.
        depth_m: f64,
    },
    /// meq/100 g, which is cmol/kg.
    Meq,
    /// Share of the capacity, %.
    Share,
}

/// How conductivity was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EcMethod {
    /// In the extract of a saturated paste.
    Paste,
    /// In one part of water by mass.
    OneToOne,
    /// In two parts of water by volume.
    OneToTwo,
    /// In five parts of water by mass.
    OneToFive,
}

/// A report. What it does not say is absent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Report {
    /// Reaction as printed.
    pub ph: Option<f64>,
    /// In what it was measured.
    pub shaken: ShakenIn,
    /// pH of the buffer.
    pub buffer_ph: Option<f64>,
    /// Which buffer.
    pub buffer: Buffer,
    /// Weight of a litre of sifted soil, kg.
    pub sifted_kg_l: Option<f64>,
    /// Exchange capacity, cmol/kg.
    pub cec: Option<f64>,
    /// Cations, in the order of [`Cation::ALL`].
    pub cations: [Option<f64>; 5],
    /// Their unit.
    pub unit: CationUnit,
    /// Sodium adsorption ratio.
    pub sar: Option<f64>,
    /// Organic matter or carbon, %.
    pub organic: Option<f64>,
    /// By which method.
    pub organic_by: OrganicMethod,
    /// Conductivity.
    pub ec: Option<f64>,
    /// Whether it is printed in µS/cm; else in dS/m, which is mS/cm and mmho/cm.
    pub ec_in_us_cm: bool,
    /// By which method.
    pub ec_by: EcMethod,
    /// Carbonate, %.
    pub carbonate: Option<f64>,
    /// What vinegar does; a printed carbonate wins.
    pub fizz: Option<Fizz>,
    /// Phosphorus, mg/kg, or pounds on an acre where a depth is given.
    pub phosphorus: Option<f64>,
    /// Depth of that acre, m.
    pub phosphorus_to_m: Option<f64>,
    /// By what it was extracted.
    pub extractant: Extractant,
}

impl Report {
    /// Nothing printed, in the units that are printed most.
    pub const EMPTY: Report = Report {
        ph: None,
        shaken: ShakenIn::Water1,
        buffer_ph: None,
        buffer: Buffer::FromSeven,
        sifted_kg_l: None,
        cec: None,
        cations: [None; 5],
        unit: CationUnit::Ppm,
        sar: None,
        organic: None,
        organic_by: OrganicMethod::Unknown,
        ec: None,
        ec_in_us_cm: false,
        ec_by: EcMethod::Paste,
        carbonate: None,
        fizz: None,
        phosphorus: None,
        phosphorus_to_m: None,
        extractant: Extractant::Mehlich3,
    };

    /// What a field can hold.
    pub fn limits(&self, of: Field) -> (f64, f64) {
        match of {
            Field::Ph | Field::BufferPh => (0.0, 14.0),
            Field::SiftedWeight => (0.1, 2.0),
            Field::Cec => Trait::Cec.limits(),
            Field::Cation(_) => match self.unit {
                CationUnit::Ppm => (0.0, 1e5),
                CationUnit::PoundsPerAcre { .. } => (0.0, 2e5),
                CationUnit::Meq => Trait::Cec.limits(),
                CationUnit::Share => (0.0, 100.0),
            },
            Field::Sar => (0.0, 200.0),
            Field::Organic | Field::Carbonate => (0.0, 100.0),
            Field::Ec => {
                let (low, high) = Trait::EcSaturatedPaste.limits();
                let times = if self.ec_in_us_cm { US_CM } else { 1.0 };
                (low * times, high * times)
            }
            Field::Phosphorus => (0.0, 1e4),
        }
    }
}

/// What is to be known of a report.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Finding {
    /// A number outside of what can be; it is left out.
    Outside {
        /// Of which field.
        field: Field,
        /// As given.
        value: f64,
        /// The least.
        low: f64,
        /// The most.
        high: f64,
    },
    /// A number that hardly any soil has: look again.
    Unusual {
        /// Of which field.
        field: Field,
        /// As given.
        value: f64,
    },
    /// Shares sum to something else than 100 %; they are left out.
    SharesDoNotSum {
        /// What they come to, %.
        sum_pct: f64,
    },
    /// Cations come to more than the capacity.
    OverCapacity {
        /// What they come to, % of it.
        sum_pct: f64,
        /// Whether they are written all the same, in proportion.
        written: bool,
    },
    /// Cations come to twice the capacity: pounds on an acre, perhaps?
    PerhapsPoundsPerAcre,
    /// Cations come to half of the capacity: ppm, perhaps?
    PerhapsPpm,
    /// A conductivity that looks like µS/cm.
    PerhapsMicrosiemens {
        /// As given, dS/m.
        value: f64,
    },
    /// A conductivity that looks like dS/m.
    PerhapsDecisiemens {
        /// As given, µS/cm.
        value: f64,
    },
    /// The extract dissolves free lime too: calcium and capacity look high, sodium looks low.
    FreeLime {
        /// Whether lime is known of; else the reaction lets it be expected.
        known: bool,
        /// Whether anything written is the wider for it.
        widened: bool,
    },
    /// Lime in so acid a soil is not to be expected.
    LimeInAcid {
        /// The reaction.
        ph: f64,
    },
    /// The capacity is a sum, so it is that at the pH of the laboratory's buffer.
    SummedCapacity {
        /// The sum, cmol/kg.
        cec_cmol_kg: f64,
        /// The acidity in it.
        acidity_cmol_kg: f64,
    },
    /// The buffer stands at or above its start: no acidity.
    NoAcidity {
        /// Where it starts.
        start_ph: f64,
    },
    /// Amounts of cations are no shares without a capacity, or the acidity that makes one.
    NoCapacity,
    /// Only the reaction is given.
    OnlyPh,
    /// Nothing tells of sodium.
    SodiumUnknown,
    /// What sodium there is, and whether gypsum has a reason.
    Sodium {
        /// Share of the capacity, %.
        share: Figure,
        /// How that is judged.
        class: SodiumClass,
        /// With salt, where the salt of the paste is known.
        salt: Option<SaltClass>,
        /// Whether gypsum is called for.
        reason: Reason,
    },
    /// A ratio beyond what its equation was fitted to.
    SarBeyond {
        /// As given.
        sar: f64,
    },
    /// Magnesium that may disperse clay by itself.
    Magnesium {
        /// How likely.
        case: MagnesiumCase,
        /// Share of the capacity, %.
        share_pct: f64,
    },
    /// Enough phosphorus: none is to be added.
    PhosphorusHigh {
        /// As given, mg/kg.
        ppm: f64,
        /// From where on.
        stop_ppm: f64,
    },
    /// Phosphorus below that.
    PhosphorusBelow {
        /// As given, mg/kg.
        ppm: f64,
        /// From where on.
        stop_ppm: f64,
    },
}

/// What a report comes to.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Read {
    /// What it says of the ground.
    pub traits: Vec<(Trait, Figure)>,
    /// What is to be known of it, the gravest first.
    pub findings: Vec<Finding>,
}

impl Read {
    /// Writes it into a ground. Only one conductivity can stand there, so the others go.
    pub fn put(&self, ground: &mut Traits) {
        const SALTS: [Trait; 3] = [Trait::EcSaturatedPaste, Trait::Ec1To5, Trait::Ec1To2];
        for (of, figure) in &self.traits {
            if SALTS.contains(of) {
                for salt in SALTS {
                    ground.set(salt, None);
                }
            }
            ground.set(*of, Some(*figure));
        }
    }

    /// What it says of one trait.
    pub fn figure(&self, of: Trait) -> Option<Figure> {
        let found = self.traits.iter().find(|(known, _)| *known == of)?;
        Some(found.1)
    }

    /// As printed, to the last digit.
    fn set(&mut self, of: Trait, figure: Figure) {
        let (low, high) = of.limits();
        let held = |value: f64| {
            // What no laboratory could tell from nothing is nothing.
            let value = if value.abs() < LEAST { 0.0 } else { value };
            value.max(low).min(high)
        };
        self.traits.push((of, figure.map(held)));
    }

    /// Computed from what is printed.
    fn set_computed(&mut self, of: Trait, figure: Figure) {
        self.set(of, figure.map(|value| round_significant(value, DIGITS)));
    }
}

impl Finding {
    /// What must be seen first has the least.
    fn rank(&self) -> u8 {
        match self {
            Finding::Outside { .. } => 0,
            Finding::SharesDoNotSum { .. }
            | Finding::OverCapacity { .. }
            | Finding::PerhapsPoundsPerAcre
            | Finding::PerhapsPpm
            | Finding::PerhapsMicrosiemens { .. }
            | Finding::PerhapsDecisiemens { .. }
            | Finding::Unusual { .. } => 1,
            Finding::Sodium { class, .. } if *class != SodiumClass::Low => 2,
            Finding::NoCapacity | Finding::FreeLime { .. } | Finding::LimeInAcid { .. } => 3,
            Finding::Magnesium { .. } | Finding::PhosphorusHigh { .. } => 4,
            Finding::Sodium { .. } | Finding::SodiumUnknown | Finding::SarBeyond { .. } => 5,
            _ => 6,
        }
    }
}
