//! Exchangeable cations: capacity, shares, sodium.

use super::amounts::sound;
use crate::lane::Lane;

/// Grams in a mole of charge of sodium (IUPAC atomic mass 22.98977).
pub const SODIUM_G_MOL: f64 = 22.98977;

/// Exchange capacity where it is not given, cmol/kg for a percent of clay and of organic matter
/// (a choice; clay of mixed minerals holds 30-70 cmol/kg, humus 150-250: common practice).
const CEC_OF_CLAY: f64 = 0.5;
const CEC_OF_ORGANIC: f64 = 2.0;

/// Exchange capacity estimated from clay and organic matter, as fractions, cmol/kg.
pub fn estimated_cec_cmol_kg<L: Lane>(clay: L, organic: L) -> L {
    clay * (100.0 * CEC_OF_CLAY) + organic * (100.0 * CEC_OF_ORGANIC)
}

/// Sodium, % of the exchange capacity; 0 where there is no capacity.
pub fn esp_pct<L: Lane>(sodium_cmol_kg: L, cec_cmol_kg: L) -> L {
    let hundred = L::all(100.0);
    let share = sodium_cmol_kg * 100.0 / cec_cmol_kg.at_least(L::all(1e-9));
    cec_cmol_kg
        .where_above(L::all(0.0), share, L::all(0.0))
        .at_most(hundred)
}

/// A cation that soil holds for exchange.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cation {
    /// Calcium.
    Calcium,
    /// Magnesium.
    Magnesium,
    /// Potassium.
    Potassium,
    /// Sodium.
    Sodium,
    /// Hydrogen with aluminium: the acidity.
    Acidity,
}

impl Cation {
    /// In the order in which laboratories print them.
    pub const ALL: [Cation; 5] = [
        Cation::Calcium,
        Cation::Magnesium,
        Cation::Potassium,
        Cation::Sodium,
        Cation::Acidity,
    ];

    /// Grams in a mole of charge (IUPAC atomic masses).
    pub fn g_mol(self) -> f64 {
        match self {
            Cation::Calcium => 40.078 / 2.0,
            Cation::Magnesium => 24.305 / 2.0,
            Cation::Potassium => 39.0983,
            Cation::Sodium => SODIUM_G_MOL,
            Cation::Acidity => 1.00794,
        }
    }

    /// Of mg/kg, cmol of charge for a kilogram: the same number in meq/100 g.
    pub fn cmol_of_ppm(self, ppm: f64) -> f64 {
        sound(ppm) / (MG_IN_CMOL_OF_G * self.g_mol())
    }

    /// Of cmol/kg, mg/kg.
    pub fn ppm_of_cmol(self, cmol_kg: f64) -> f64 {
        sound(cmol_kg) * MG_IN_CMOL_OF_G * self.g_mol()
    }
}

/// Milligrams in a hundredth of a mole, for each gram in a mole.
const MG_IN_CMOL_OF_G: f64 = 10.0;

/// The buffer by which a laboratory finds the acidity. Never to be mixed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Buffer {
    /// One that begins at pH 8.0 (Clemson University, Agricultural Service Laboratory).
    FromEight,
    /// One that begins at pH 7.0, as SMP (a laboratory of the American Midwest).
    FromSeven,
    /// That of North Carolina (Mehlich), which counts by volume.
    NorthCarolina,
}

impl Buffer {
    /// Every one.
    pub const ALL: [Buffer; 3] = [Buffer::FromEight, Buffer::FromSeven, Buffer::NorthCarolina];

    /// pH at which it begins: there is no acidity in what leaves it there.
    pub fn start_ph(self) -> f64 {
        match self {
            Buffer::FromEight => 8.0,
            Buffer::FromSeven => 7.0,
            Buffer::NorthCarolina => 6.6,
        }
    }

    /// Acidity for each unit of pH below it, meq in 100 g, or in 100 cm3 where it counts so.
    fn acidity_for_ph(self) -> f64 {
        match self {
            Buffer::FromEight => 8.0,
            Buffer::FromSeven => 12.0,
            Buffer::NorthCarolina => 4.0,
        }
    }

    /// Whether it counts by volume, so that the weight of the sifted soil is needed.
    pub fn counts_by_volume(self) -> bool {
        self == Buffer::NorthCarolina
    }

    /// Acidity, cmol/kg, by the pH that it shows; never below nothing. The weight of a volume of
    /// sifted soil, kg/L, counts only where the buffer counts by volume.
    pub fn acidity_cmol_kg(self, buffer_ph: f64, kg_l: f64) -> f64 {
        let drop = sound(self.start_ph() - buffer_ph).min(self.start_ph());
        let acidity = drop * self.acidity_for_ph();
        if self.counts_by_volume() {
            acidity / sound(kg_l).max(LIGHTEST_KG_L)
        } else {
            acidity
        }
    }
}

/// Lightest sifted soil, kg/L (peat; common practice).
const LIGHTEST_KG_L: f64 = 0.1;

/// What is held for exchange, cmol/kg, in the order of [`Cation::ALL`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// One by one.
    pub cmol_kg: [f64; 5],
}

impl Held {
    /// From what a laboratory prints in mg/kg.
    pub fn of_ppm(ppm: [f64; 5]) -> Held {
        let mut cmol_kg = [0.0; 5];
        for ((cmol, ppm), of) in cmol_kg.iter_mut().zip(ppm).zip(Cation::ALL) {
            *cmol = of.cmol_of_ppm(ppm);
        }
        Held { cmol_kg }
    }

    /// From shares of a capacity, %.
    pub fn of_shares(cec_cmol_kg: f64, shares_pct: [f64; 5]) -> Held {
        let cec = sound(cec_cmol_kg);
        Held {
            cmol_kg: shares_pct.map(|share| cec * sound(share) / 100.0),
        }
    }

    /// Bases alone: all but the acidity.
    pub fn bases_cmol_kg(&self) -> f64 {
        self.cmol_kg[..4].iter().map(|held| sound(*held)).sum()
    }

    /// The capacity by summation. It is that at the pH of the buffer, not at pH 7.
    pub fn cec_cmol_kg(&self) -> f64 {
        self.bases_cmol_kg() + sound(self.cmol_kg[4])
    }

    /// Shares of a capacity, %; nothing where there is none.
    pub fn shares_pct(&self, cec_cmol_kg: f64) -> [f64; 5] {
        let cec = sound(cec_cmol_kg);
        self.cmol_kg.map(|held| {
            if cec > 0.0 {
                sound(100.0 * sound(held) / cec)
            } else {
                0.0
            }
        })
    }

    /// Bases as a share of the capacity by summation, %.
    pub fn base_saturation_pct(&self) -> f64 {
        let cec = self.cec_cmol_kg();
        if cec > 0.0 {
            100.0 * self.bases_cmol_kg() / cec
        } else {
            0.0
        }
    }
}
