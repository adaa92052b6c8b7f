//! From a report to traits and findings.

use super::{CationUnit, EcMethod, Field, Finding, Read, Report, US_CM};
use crate::chemistry::amounts::{Slice, organic_matter_pct};
use crate::chemistry::exchange::{Cation, Held};
use crate::chemistry::gypsum::Reason;
use crate::chemistry::reaction::{FREE_LIME_PH, ShakenIn, ph_in_water};
use crate::chemistry::sodicity::{
    ESP_OF_SAR_ERROR, MagnesiumCase, SAR_LIMIT, SaltClass, SodiumClass, esp_of_sar_pct,
};
use crate::figure::Figure;
use crate::ground::{Trait, Traits};
use crate::texture::{Class, classify};

/// Shares that a laboratory rounds may sum to so much more or less than 100, %.
const SUM_SLACK_PCT: f64 = 2.0;
/// Cations up to so much of a given capacity are soluble salt and rounding; beyond, units are in
/// question, % (a choice).
const SUM_MOST_PCT: f64 = 120.0;
/// Where cations come to so much of the capacity, % , pounds on an acre were perhaps read as ppm.
const TWICE_PCT: (f64, f64) = (160.0, 240.0);
/// And the other way round.
const HALF_PCT: (f64, f64) = (40.0, 60.0);
/// Above this a carbonate makes itself felt in the extract, % (a choice).
const LIME_FELT_PCT: f64 = 0.5;
/// pH from which lime is taken to be there when nothing is known of it.
const LIME_LIKELY_PH: f64 = 7.5;
/// pH below which lime does not last.
const LIME_GONE_PH: f64 = 6.5;
/// pH from which there is no acidity to be counted.
const NO_ACIDITY_PH: f64 = 7.0;
/// Of a capacity summed from an extract that dissolved lime, this may be all that there is (a choice).
const LEAST_OF_LIMY_SUM: f64 = 0.6;
/// Capacity below that of washed sand, which is no capacity to have shares of, cmol/kg.
const LEAST_CEC_CMOL_KG: f64 = 0.1;
/// pH outside of which there is hardly any soil.
const USUAL_PH: (f64, f64) = (3.5, 10.5);
/// Conductivity beyond which dS/m were perhaps µS/cm, and below which µS/cm were perhaps dS/m.
const PERHAPS_US_CM: f64 = 20.0;
const PERHAPS_DS_M: f64 = 10.0;
/// What a conductivity computed from another dilution may be off by, of itself (common practice).
const EC_ERROR: f64 = 0.3;
/// Weight of a litre of sifted soil where it is not told, kg (common practice).
const SIFTED_KG_L: f64 = 1.0;

/// One part of water to the saturation extract, dS/m, by kind of texture (PLOS ONE 13(6):e0198290,
/// 2018, table 2): coarse, medium, fine. Never less than what was measured.
pub fn paste_of_1to1_ds_m(ec_1to1_ds_m: f64, class: Option<Class>) -> f64 {
    let x = if ec_1to1_ds_m > 0.0 {
        ec_1to1_ds_m.min(Trait::EcSaturatedPaste.limits().1)
    } else {
        0.0
    };
    let (slope, less) = match class {
        Some(Class::Sand | Class::LoamySand | Class::SandyLoam) => (3.01, 0.06),
        Some(
            Class::ClayLoam
            | Class::SiltyClayLoam
            | Class::SandyClay
            | Class::SiltyClay
            | Class::Clay,
        ) => (2.66, 0.97),
        _ => (3.01, 0.77),
    };
    (slope * x - less).max(x)
}

/// Reads a report of a ground of which the rest is known.
pub fn read(report: &Report, ground: &Traits) -> Read {
    let mut reading = Reading {
        report,
        ground,
        read: Read::default(),
        ph: None,
        limy: None,
    };
    reading.reaction();
    reading.lime();
    let shares = reading.exchange();
    reading.organic();
    let paste = reading.salts();
    reading.sodium(shares, paste);
    reading.phosphorus();
    reading.read.findings.sort_by_key(Finding::rank);
    reading.read
}

struct Reading<'a> {
    report: &'a Report,
    ground: &'a Traits,
    read: Read,
    /// Reaction in water.
    ph: Option<f64>,
    /// Free lime: known of, or only to be expected; none where it is not.
    limy: Option<bool>,
}

impl Reading<'_> {
    /// A number that can be; one that cannot is told and left out.
    fn number(&mut self, field: Field, value: Option<f64>) -> Option<f64> {
        let value = value?;
        let (low, high) = self.report.limits(field);
        if value >= low && value <= high {
            return Some(value);
        }
        self.read.findings.push(Finding::Outside {
            field,
            value,
            low,
            high,
        });
        None
    }

    fn tell(&mut self, finding: Finding) {
        self.read.findings.push(finding);
    }

    fn reaction(&mut self) {
        let known = self.ground.typical(Trait::Ph);
        let Some(printed) = self.number(Field::Ph, self.report.ph) else {
            self.ph = known;
            return;
        };
        let (low, high) = USUAL_PH;
        if !(low..=high).contains(&printed) {
            self.tell(Finding::Unusual {
                field: Field::Ph,
                value: printed,
            });
        }
        let ph = ph_in_water(printed, self.report.shaken);
        self.ph = Some(ph.typical);
        if self.report.shaken == ShakenIn::Water1 {
            self.read.set(Trait::Ph, ph);
        } else {
            self.read.set_computed(Trait::Ph, ph);
        }
        let Report {
            buffer_ph,
            cec,
            cations,
            sar,
            organic,
            ec,
            carbonate,
            fizz,
            phosphorus,
            ..
        } = *self.report;
        let others = [buffer_ph, cec, sar, organic, ec, carbonate, phosphorus];
        if others.iter().chain(&cations).all(Option::is_none) && fizz.is_none() {
            self.tell(Finding::OnlyPh);
        }
    }

    fn lime(&mut self) {
        let printed = self.number(Field::Carbonate, self.report.carbonate);
        let found = match (printed, self.report.fizz) {
            (Some(pct), _) => Some(Figure::exact(pct)),
            (None, Some(fizz)) => Some(fizz.carbonate_pct()),
            (None, None) => None,
        };
        if let Some(carbonate) = found {
            self.read.set(Trait::Carbonate, carbonate);
        }
        let known = found.map_or_else(
            || self.ground.typical(Trait::Carbonate),
            |figure| Some(figure.typical),
        );
        self.limy = match (known, self.ph) {
            (Some(pct), _) => (pct >= LIME_FELT_PCT).then_some(true),
            (None, Some(ph)) => (ph > FREE_LIME_PH).then_some(false),
            (None, None) => None,
        };
        if let (Some(pct), Some(ph)) = (found, self.ph)
            && pct.typical >= LIME_FELT_PCT
            && ph < LIME_GONE_PH
        {
            self.tell(Finding::LimeInAcid { ph });
        }
    }

    /// Whether the extract is taken to have dissolved lime.
    fn widens(&self) -> bool {
        match self.limy {
            Some(true) => true,
            Some(false) => self.ph.is_some_and(|ph| ph > LIME_LIKELY_PH),
            None => false,
        }
    }

    /// Acidity, cmol/kg, where it is known.
    fn acidity(&mut self, typed: Option<f64>) -> Option<f64> {
        let buffer = self.report.buffer;
        if let Some(ph) = self.number(Field::BufferPh, self.report.buffer_ph) {
            if ph >= buffer.start_ph() {
                self.tell(Finding::NoAcidity {
                    start_ph: buffer.start_ph(),
                });
            }
            let weight = self.number(Field::SiftedWeight, self.report.sifted_kg_l);
            let by_buffer = buffer.acidity_cmol_kg(ph, weight.unwrap_or(SIFTED_KG_L));
            return Some(typed.unwrap_or(by_buffer));
        }
        typed.or_else(|| (self.ph? >= NO_ACIDITY_PH).then_some(0.0))
    }

    /// Capacity and shares; gives the shares of calcium, magnesium and sodium that were written.
    fn exchange(&mut self) -> [Option<Figure>; 3] {
        let given = self.number(Field::Cec, self.report.cec);
        if let Some(value) = given.filter(|cec| *cec < LEAST_CEC_CMOL_KG) {
            self.tell(Finding::Unusual {
                field: Field::Cec,
                value,
            });
        }
        let mut printed = [None; 5];
        for ((cell, value), of) in printed.iter_mut().zip(self.report.cations).zip(Cation::ALL) {
            *cell = self.number(Field::Cation(of), value);
        }
        if self.report.unit == CationUnit::Share {
            if let Some(cec) = given {
                self.read.set(Trait::Cec, Figure::exact(cec));
            }
            // Nobody prints the acidity alone: the buffer then only tells whether there is any.
            if self.report.buffer_ph.is_some() {
                self.acidity(None);
            }
            return self.shares(printed);
        }
        self.amounts(given, printed)
    }

    fn shares(&mut self, printed: [Option<f64>; 5]) -> [Option<Figure>; 3] {
        let sum: f64 = printed.iter().flatten().sum();
        let all = printed.iter().all(Option::is_some);
        if sum > 100.0 + SUM_SLACK_PCT || (all && sum < 100.0 - SUM_SLACK_PCT) {
            self.tell(Finding::SharesDoNotSum { sum_pct: sum });
            return [None; 3];
        }
        let any = printed.iter().any(Option::is_some);
        let widened = any && self.widens();
        self.tell_lime(any, widened);
        self.write_shares(printed, widened)
    }

    fn amounts(&mut self, given: Option<f64>, printed: [Option<f64>; 5]) -> [Option<Figure>; 3] {
        let mut cmol = [None; 5];
        for ((cell, value), of) in cmol.iter_mut().zip(printed).zip(Cation::ALL) {
            *cell = value.map(|value| match self.report.unit {
                CationUnit::PoundsPerAcre { depth_m } => {
                    of.cmol_of_ppm(Slice::furrow_to(depth_m).ppm_of_lb_acre(value))
                }
                CationUnit::Meq => value,
                _ => of.cmol_of_ppm(value),
            });
        }
        let acidity = self.acidity(cmol[4]);
        let bases = &cmol[..4];
        let any = bases.iter().any(Option::is_some);
        let held = Held {
            cmol_kg: cmol.map(|held| held.unwrap_or(0.0)),
        };
        let [calcium, magnesium, ..] = cmol;
        let summed = match (given, acidity) {
            (None, Some(acidity)) if calcium.is_some() && magnesium.is_some() => {
                Some((held.bases_cmol_kg() + acidity, acidity))
            }
            _ => None,
        };
        let widened = summed.is_some() && self.widens();
        if let Some((cec_cmol_kg, acidity_cmol_kg)) = summed {
            let figure = if widened {
                Figure::between(cec_cmol_kg * LEAST_OF_LIMY_SUM, cec_cmol_kg, cec_cmol_kg)
            } else {
                Figure::exact(cec_cmol_kg)
            };
            self.read.set_computed(Trait::Cec, figure);
            self.tell(Finding::SummedCapacity {
                cec_cmol_kg,
                acidity_cmol_kg,
            });
        } else if let Some(cec) = given {
            self.read.set(Trait::Cec, Figure::exact(cec));
        }
        self.tell_lime(any, widened);
        if !any {
            return [None; 3];
        }
        let known = || self.ground.typical(Trait::Cec);
        let cec = given.or(summed.map(|(cec, _)| cec)).or_else(known);
        let Some(cec) = cec.filter(|cec| *cec >= LEAST_CEC_CMOL_KG) else {
            self.tell(Finding::NoCapacity);
            return [None; 3];
        };
        let bases = held.bases_cmol_kg();
        let sum_pct = 100.0 * (bases + acidity.unwrap_or(0.0)) / cec;
        let mut shares = held.shares_pct(cec);
        let within = |(low, high): (f64, f64)| (low..=high).contains(&sum_pct);
        if summed.is_none() {
            let in_pounds = matches!(self.report.unit, CationUnit::PoundsPerAcre { .. });
            if self.report.unit == CationUnit::Ppm && within(TWICE_PCT) {
                self.tell(Finding::PerhapsPoundsPerAcre);
            } else if in_pounds && acidity.is_some() && within(HALF_PCT) {
                self.tell(Finding::PerhapsPpm);
            }
        }
        let limy = self.limy.is_some() && calcium.is_some();
        let others: f64 = shares[1..4].iter().sum();
        if sum_pct > 100.0 + SUM_SLACK_PCT {
            if limy && others <= 100.0 {
                // What is too much came out of the lime.
                shares[0] = 100.0 - others;
                self.tell(Finding::OverCapacity {
                    sum_pct,
                    written: true,
                });
            } else if sum_pct <= SUM_MOST_PCT {
                shares = shares.map(|share| share * 100.0 / sum_pct);
                self.tell(Finding::OverCapacity {
                    sum_pct,
                    written: true,
                });
            } else {
                self.tell(Finding::OverCapacity {
                    sum_pct,
                    written: false,
                });
                return [None; 3];
            }
        }
        let mut told = [None; 5];
        for ((cell, share), had) in told.iter_mut().zip(shares).zip(cmol) {
            *cell = had.map(|_| share);
        }
        self.write_shares(told, widened)
    }

    fn tell_lime(&mut self, any: bool, widened: bool) {
        if let (Some(known), true) = (self.limy, any) {
            self.tell(Finding::FreeLime { known, widened });
        }
    }

    fn write_shares(&mut self, pct: [Option<f64>; 5], widened: bool) -> [Option<Figure>; 3] {
        let figure = |share: f64, of: Cation| {
            let share = share.min(100.0);
            if !widened {
                return Figure::exact(share);
            }
            if of == Cation::Calcium {
                let least = 100.0 - (100.0 - share) / LEAST_OF_LIMY_SUM;
                return Figure::between(least.max(0.0), share, share);
            }
            Figure::between(share, share, (share / LEAST_OF_LIMY_SUM).min(100.0))
        };
        let traits = [
            Some(Trait::CalciumShare),
            Some(Trait::MagnesiumShare),
            Some(Trait::PotassiumShare),
            Some(Trait::SodiumShare),
            None,
        ];
        let mut written = [None; 5];
        for (index, of) in Cation::ALL.into_iter().enumerate() {
            let share = pct[index].map(|share| figure(share, of));
            written[index] = share;
            if let (Some(share), Some(of)) = (share, traits[index]) {
                if self.report.unit == CationUnit::Share && !widened {
                    self.read.set(of, share);
                } else {
                    self.read.set_computed(of, share);
                }
            }
        }
        [written[0], written[1], written[3]]
    }

    fn organic(&mut self) {
        if let Some(printed) = self.number(Field::Organic, self.report.organic) {
            let clay = self.ground.typical(Trait::Clay).unwrap_or(0.0);
            let organic = organic_matter_pct(printed, self.report.organic_by, clay);
            self.read.set_computed(Trait::OrganicMatter, organic);
        }
    }

    /// Gives the conductivity of the saturation extract where it is known or told.
    fn salts(&mut self) -> Option<f64> {
        let Some(printed) = self.number(Field::Ec, self.report.ec) else {
            return self.ground.typical(Trait::EcSaturatedPaste);
        };
        let in_us_cm = self.report.ec_in_us_cm;
        if in_us_cm && printed > 0.0 && printed < PERHAPS_DS_M {
            self.tell(Finding::PerhapsDecisiemens { value: printed });
        } else if !in_us_cm && printed > PERHAPS_US_CM {
            self.tell(Finding::PerhapsMicrosiemens { value: printed });
        }
        let ds_m = if in_us_cm { printed / US_CM } else { printed };
        let (of, figure) = match self.report.ec_by {
            EcMethod::Paste => (Trait::EcSaturatedPaste, Figure::exact(ds_m)),
            EcMethod::OneToTwo => (Trait::Ec1To2, Figure::exact(ds_m)),
            EcMethod::OneToFive => (Trait::Ec1To5, Figure::exact(ds_m)),
            EcMethod::OneToOne => {
                let fractions = self.ground.fractions_pct();
                let known = fractions.iter().sum::<f64>() > 0.0;
                let paste = paste_of_1to1_ds_m(ds_m, known.then(|| classify(fractions)));
                // The extract of a paste is never thinner than what was measured.
                let low = (paste * (1.0 - EC_ERROR)).max(ds_m.min(paste));
                let figure = Figure::between(low, paste, paste * (1.0 + EC_ERROR));
                (Trait::EcSaturatedPaste, figure)
            }
        };
        self.read.set_computed(of, figure);
        (of == Trait::EcSaturatedPaste).then_some(figure.typical)
    }

    fn sodium(&mut self, [calcium, magnesium, sodium]: [Option<Figure>; 3], paste: Option<f64>) {
        let sar = self.number(Field::Sar, self.report.sar);
        let share = sodium.or_else(|| {
            let sar = sar?;
            let esp = esp_of_sar_pct(sar);
            let error = if sar > SAR_LIMIT { 2.0 } else { 1.0 } * ESP_OF_SAR_ERROR;
            Some(Figure::between(
                (esp - error).max(0.0),
                esp,
                (esp + error).min(100.0),
            ))
        });
        // What other shares leave is all that sodium can have.
        let of_shares = [
            Trait::CalciumShare,
            Trait::MagnesiumShare,
            Trait::PotassiumShare,
        ];
        let others: f64 = of_shares
            .iter()
            .filter_map(|of| Some(self.read.figure(*of)?.typical))
            .sum();
        if let (Some(share), None) = (share, sodium)
            && share.typical + others > 100.0 + SUM_SLACK_PCT
        {
            self.tell(Finding::SharesDoNotSum {
                sum_pct: share.typical + others,
            });
            return;
        }
        if let (Some(sar), None) = (sar.filter(|sar| *sar > SAR_LIMIT), sodium) {
            self.tell(Finding::SarBeyond { sar });
        }
        let pct = |figure: Option<Figure>| figure.map(|figure| figure.typical);
        if let (Some(calcium), Some(magnesium)) = (pct(calcium), pct(magnesium)) {
            let case = MagnesiumCase::of(calcium, magnesium);
            if case != MagnesiumCase::No {
                self.tell(Finding::Magnesium {
                    case,
                    share_pct: magnesium,
                });
            }
        }
        match share {
            Some(share) => {
                if sodium.is_none() {
                    self.read.set_computed(Trait::SodiumShare, share);
                }
                let class = SodiumClass::of(share.typical);
                let (calcium, magnesium) = (pct(calcium), pct(magnesium));
                self.tell(Finding::Sodium {
                    share,
                    class,
                    salt: paste.map(|paste| SaltClass::of(paste, share.typical)),
                    reason: Reason::of(
                        share.typical,
                        calcium.unwrap_or(100.0),
                        magnesium.unwrap_or(0.0),
                    ),
                });
            }
            None if self.report.cations.iter().any(Option::is_some)
                || self.report.cec.is_some() =>
            {
                self.tell(Finding::SodiumUnknown);
            }
            None => {}
        }
    }

    fn phosphorus(&mut self) {
        let Some(printed) = self.number(Field::Phosphorus, self.report.phosphorus) else {
            return;
        };
        let ppm = match self.report.phosphorus_to_m {
            Some(depth_m) => Slice::furrow_to(depth_m).ppm_of_lb_acre(printed),
            None => printed,
        };
        let stop_ppm = self.report.extractant.stop_ppm();
        self.tell(if ppm >= stop_ppm {
            Finding::PhosphorusHigh { ppm, stop_ppm }
        } else {
            Finding::PhosphorusBelow { ppm, stop_ppm }
        });
    }
}
