//! Readings as they came, made ready to be compared.

use super::super::fit::Point;
use super::super::power::{Design, MOST_TREATMENTS};
use super::{Limit, Measure, Note, Reading, Refused, Scale};

/// Readings that are there, on the scale that is compared; limits lie beyond everything.
pub(super) struct Read {
    pub(super) scale: Scale,
    pub(super) points: Vec<Point>,
    /// As they were read, in the same order.
    pub(super) raw: Vec<f64>,
    pub(super) lost: usize,
    pub(super) limits: usize,
    pub(super) fallen_back: Option<Note>,
}

impl Read {
    pub(super) fn of(measure: &Measure, readings: &[Reading]) -> Result<Read, Refused> {
        if measure.control >= measure.treatments {
            return Err(Refused::NoSuchControl);
        }
        if measure.treatments > MOST_TREATMENTS {
            return Err(Refused::TooLarge);
        }
        let mut points = Vec::with_capacity(readings.len());
        let (mut lost, mut limits) = (0, 0);
        for (at, reading) in readings.iter().enumerate() {
            if reading.treatment >= measure.treatments {
                return Err(Refused::NoSuchTreatment(at));
            }
            let place = match measure.design {
                Design::Random => Some((0, 0)),
                Design::Blocks => reading.block.map(|block| (block, 0)),
                Design::Latin => reading.row.zip(reading.column),
            };
            let (block, column) = place.ok_or(Refused::NoPlace(at))?;
            if reading.value.is_nan() {
                lost += 1;
                continue;
            }
            if reading.value.is_infinite() {
                return Err(Refused::NotFinite(at));
            }
            // All limits of one kind are tied at the end: which of them is farther is not known.
            let value = match reading.limit {
                Limit::No => reading.value,
                Limit::Above => f64::INFINITY,
                Limit::Below => f64::NEG_INFINITY,
            };
            limits += usize::from(reading.limit != Limit::No);
            points.push(Point {
                treatment: reading.treatment,
                block: block as usize,
                column: column as usize,
                value,
            });
        }
        if points.is_empty() {
            return Err(Refused::NoReadings);
        }
        let raw: Vec<f64> = points.iter().map(|point| point.value).collect();
        let known = || raw.iter().filter(|value| value.is_finite());
        let least = known().fold(f64::INFINITY, |least, value| least.min(*value));
        let fallen_back = match measure.scale {
            Scale::Log | Scale::LogOfOneMore if least < 0.0 => Some(Note::NegativeHasNoLogarithm),
            Scale::Log if least == 0.0 => Some(Note::ZeroHasNoLogarithm),
            _ => None,
        };
        let scale = match fallen_back {
            Some(_) => Scale::Raw,
            None => measure.scale,
        };
        for point in &mut points {
            point.value = match scale {
                _ if point.value.is_infinite() => point.value,
                Scale::Raw | Scale::Score => point.value,
                Scale::Log => libm::log(point.value),
                Scale::LogOfOneMore => libm::log1p(point.value) / std::f64::consts::LN_10,
            };
        }
        Ok(Read {
            scale,
            points,
            raw,
            lost,
            limits,
            fallen_back,
        })
    }

    /// The readings of a treatment, on the scale that is compared.
    pub(super) fn of_treatment(&self, treatment: usize) -> Vec<f64> {
        let own = self
            .points
            .iter()
            .filter(|point| point.treatment == treatment);
        own.map(|point| point.value).collect()
    }
}
