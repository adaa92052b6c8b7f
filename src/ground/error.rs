//! How wrong the estimates of a ground are, as measured.

use crate::texture::Class;

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
}

impl EstimateErrors {
    /// The errors for a texture class.
    pub fn of(class: Class) -> EstimateErrors {
        let kind = kind(class) as usize;
        EstimateErrors {
            density_kg_m3: DENSITY_G_CM3[kind].map(|error| error * 1000.0),
            theta_33: THETA_33[kind],
            correlation: CORRELATION[kind],
        }
    }
}
