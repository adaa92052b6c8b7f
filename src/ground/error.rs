//! How wrong the estimates of a ground are, as measured.

use crate::figure::within;
use crate::texture::{Class, classify};

/// Kinds of texture among which the measured errors were counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Sandy,
    SandyLoam,
    Loamy,
    Silty,
    ClayLoam,
    Clayey,
}

fn kind(class: Class) -> Kind {
    match class {
        Class::Sand | Class::LoamySand => Kind::Sandy,
        Class::SandyLoam => Kind::SandyLoam,
        Class::Loam | Class::SandyClayLoam => Kind::Loamy,
        Class::SiltLoam | Class::Silt => Kind::Silty,
        Class::ClayLoam | Class::SiltyClayLoam => Kind::ClayLoam,
        Class::Clay | Class::SiltyClay | Class::SandyClay => Kind::Clayey,
    }
}

/// Measured less estimated density, g/cm3, at the shares 0.05, 0.10, 0.25, 0.50, 0.75, 0.90 and
/// 0.95: 8,265 horizons of open sets (organic matter to 8 %, clay to 60 %), by kind of texture.
const DENSITY_G_CM3: [[f64; 7]; 6] = [
    [-0.1237, -0.0852, -0.0241, 0.0559, 0.1191, 0.1608, 0.2057],
    [-0.2697, -0.209, -0.1282, 0.0051, 0.08, 0.16, 0.1913],
    [-0.3521, -0.2514, -0.1366, -0.017, 0.0607, 0.1336, 0.18],
    [-0.3314, -0.2614, -0.146, -0.0323, 0.0746, 0.1672, 0.2386],
    [-0.6568, -0.2736, -0.1612, -0.0312, 0.1025, 0.2088, 0.282],
    [-0.298, -0.2224, -0.1168, -0.0083, 0.1004, 0.2068, 0.2554],
];

/// Measured less estimated water at 33 kPa, by volume, at the same shares: 6,406 horizons; in clay
/// with the density coefficient that the estimate uses.
const THETA_33: [[f64; 7]; 6] = [
    [-0.0098, -0.001, 0.0102, 0.0271, 0.0544, 0.1095, 0.1413],
    [-0.006, -0.0005, 0.028, 0.0615, 0.1064, 0.1456, 0.1598],
    [-0.0295, -0.0101, 0.0092, 0.0471, 0.0794, 0.1281, 0.1451],
    [-0.0607, -0.0484, -0.0173, 0.0079, 0.0488, 0.0895, 0.1361],
    [-0.1366, -0.0664, -0.0232, 0.0115, 0.0651, 0.1012, 0.1237],
    [-0.074, -0.0649, -0.0244, 0.0078, 0.0488, 0.0811, 0.0864],
];

/// Measured less estimated water at 1500 kPa, by volume, at the same shares: 6,477 horizons.
const THETA_1500: [[f64; 7]; 6] = [
    [-0.0145, -0.0058, 0.0046, 0.0125, 0.0213, 0.0325, 0.0388],
    [-0.0364, -0.028, -0.0094, 0.01, 0.0343, 0.0618, 0.0844],
    [-0.0463, -0.039, -0.016, 0.0141, 0.0456, 0.0758, 0.1002],
    [-0.0296, -0.0118, 0.0019, 0.0154, 0.0286, 0.0569, 0.0735],
    [-0.0486, -0.0366, -0.0131, 0.0475, 0.0688, 0.1321, 0.1451],
    [-0.1148, -0.088, -0.0502, -0.0099, 0.0279, 0.0614, 0.0806],
];

/// Measured over estimated conductivity, logarithm of base 10, at the same shares: 6,986 samples,
/// with the least effective pore space that the estimate uses.
#[allow(clippy::approx_constant)] // counted, and only by chance near log10 e
const LOG10_CONDUCTIVITY: [[f64; 7]; 6] = [
    [-1.3295, -0.9848, -0.4343, -0.117, 0.2791, 0.5244, 0.6512],
    [-1.6417, -1.1487, -0.6831, -0.1286, 0.2154, 0.5955, 0.7771],
    [-1.1443, -0.8027, -0.2501, 0.3215, 0.712, 1.1557, 1.3191],
    [-1.0328, -0.8178, -0.3505, 0.1967, 0.7175, 1.1233, 1.5273],
    [-1.1886, -0.9555, -0.2597, 0.5512, 1.0031, 1.8543, 2.1482],
    [-1.0987, -0.8424, -0.2167, 0.8653, 1.53, 1.9145, 2.1527],
];

/// Middle of the measured error at 33 and 1500 kPa that the typical value takes along, by volume:
/// in sandy ground, sandy loam and loam two independent sets agree on it, elsewhere they do not.
const MIDDLE: [[f64; 2]; 6] = [
    [0.025, 0.013],
    [0.06, 0.01],
    [0.045, 0.015],
    [0.0; 2],
    [0.0; 2],
    [0.0; 2],
];

/// How the errors at 33 and 1500 kPa go together, and that at 33 kPa with the logarithm of
/// conductivity (same sets, by kind where it was counted, else all).
const TOGETHER: [[f64; 2]; 6] = [
    [0.46, -0.53],
    [0.57, -0.49],
    [0.65, -0.51],
    [0.46, -0.53],
    [0.46, -0.53],
    [0.69, -0.39],
];
/// And that at 1500 kPa with the logarithm of conductivity (all kinds).
const DRY_WITH_CONDUCTIVITY: f64 = -0.32;

/// How the two errors go together: the denser than estimated, the drier (same sets; 0 where they
/// showed nothing). In clay computed with the density coefficient that the estimate uses; with the
/// published one it would be -0.67, of which the estimate already takes its part.
const CORRELATION: [f64; 6] = [0.0, 0.0, -0.27, 0.0, 0.0, -0.21];

/// The errors of the estimates that stand in for what is not given of a ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EstimateErrors {
    /// Of density as it lies, kg/m3, at the tabulated shares.
    pub density_kg_m3: [f64; 7],
    /// Of water at 33 kPa, by volume, at the tabulated shares.
    pub theta_33: [f64; 7],
    /// Their correlation.
    pub correlation: f64,
    /// Of water at 1500 kPa, by volume, at the tabulated shares.
    pub theta_1500: [f64; 7],
    /// Of the logarithm (base 10) of conductivity, at the tabulated shares.
    pub log10_conductivity: [f64; 7],
    /// Correlations: 33 with 1500 kPa, 33 kPa with conductivity, 1500 kPa with conductivity.
    pub together: [f64; 3],
    /// What the typical value takes along of the errors at 33 and 1500 kPa.
    pub middle: [f64; 2],
}

/// So far around a texture, % of sand and of clay, its neighbours have their say (a choice: about
/// what two laboratories differ by), in so many steps each way.
const AROUND_PCT: f64 = 4.9;
const STEPS: i32 = 3;

impl EstimateErrors {
    /// The errors for a texture, %: those of its kind, and near a border those of the neighbours in
    /// proportion, so that nothing jumps where one class ends. All zero for no texture.
    pub fn around(fractions_pct: Option<[f64; 3]>) -> EstimateErrors {
        let mut sum = EstimateErrors {
            density_kg_m3: [0.0; 7],
            theta_33: [0.0; 7],
            correlation: 0.0,
            theta_1500: [0.0; 7],
            log10_conductivity: LOG10_CONDUCTIVITY[0],
            together: [0.0, 0.0, 0.0],
            middle: [0.0; 2],
        };
        let Some([sand, _, clay]) = fractions_pct else {
            return sum;
        };
        sum.log10_conductivity = [0.0; 7];
        let mut weights = [0.0; 6];
        let mut all = 0.0;
        for more_sand in -STEPS..=STEPS {
            for more_clay in -STEPS..=STEPS {
                let by = |steps: i32| f64::from(steps) * (AROUND_PCT / f64::from(STEPS));
                // The nearer the more.
                let weight =
                    f64::from((STEPS + 1 - more_sand.abs()) * (STEPS + 1 - more_clay.abs()));
                let clay = within(clay + by(more_clay), 0.0, 100.0);
                let sand = within(sand + by(more_sand), 0.0, 100.0 - clay);
                let class = classify([sand, 100.0 - clay - sand, clay]);
                weights[kind(class) as usize] += weight;
                all += weight;
            }
        }
        for (kind, weight) in weights.iter().enumerate() {
            let weight = weight / all;
            let [dry, conductivity] = TOGETHER[kind];
            let [wet, wilted] = MIDDLE[kind];
            sum.middle[0] += weight * wet;
            sum.middle[1] += weight * wilted;
            sum.together[0] += weight * dry;
            sum.together[1] += weight * conductivity;
            sum.together[2] += weight * DRY_WITH_CONDUCTIVITY;
            for at in 0..7 {
                sum.theta_33[at] += weight * THETA_33[kind][at];
                sum.theta_1500[at] += weight * THETA_1500[kind][at];
                sum.log10_conductivity[at] += weight * LOG10_CONDUCTIVITY[kind][at];
            }
        }
        sum
    }

    /// The errors for a texture class.
    pub fn of(class: Class) -> EstimateErrors {
        let kind = kind(class) as usize;
        let [dry, conductivity] = TOGETHER[kind];
        EstimateErrors {
            density_kg_m3: DENSITY_G_CM3[kind].map(|error| error * 1000.0),
            theta_33: THETA_33[kind],
            correlation: CORRELATION[kind],
            theta_1500: THETA_1500[kind],
            log10_conductivity: LOG10_CONDUCTIVITY[kind],
            together: [dry, conductivity, DRY_WITH_CONDUCTIVITY],
            middle: MIDDLE[kind],
        }
    }
}
