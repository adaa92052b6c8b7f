//! Reaction: what acid and base come to through buffering and free lime.

use crate::figure::{Figure, within};
use crate::lane::Lane;

/// Base in a kilogram of calcium carbonate, cmol of charge (from atomic masses).
pub const BASE_OF_LIME_CMOL_KG: f64 = 1998.2635;
/// Acid of a kilogram of elemental sulfur once it is oxidised, cmol of charge (from atomic masses).
pub const ACID_OF_SULFUR_CMOL_KG: f64 = 6238.303;
/// Reaction that free lime holds where it is not the ground's own (calcite in air and soil air;
/// common practice: 7.8 to 8.2).
pub const LIME_PH: f64 = 8.0;
/// And this far either way.
pub const LIME_PH_WITHIN: f64 = 0.2;
/// Highest reaction to which free lime is spent.
pub const LIME_PH_MOST: f64 = 8.2;
/// Reaction from which a soil may hold free lime.
pub const FREE_LIME_PH: f64 = 7.3;
/// A blend's reaction is held within these, unless its ground lies outside.
pub const PH_LIMITS: (f64, f64) = (3.5, 9.0);
/// Buffering is known to be about linear between these; outside the linear answer says too much
/// (Nelson & Su 2010, Aust. J. Soil Res. 48:201; Magdoff & Bartlett 1985, from memory).
pub const LINEAR_PH: (f64, f64) = (5.0, 7.0);
/// Buffering of a soil, cmol/kg for a pH unit, of a percent of clay and of organic carbon (fitted to
/// two tables of advice, see `tests/reference`; no published regression).
const BUFFER_OF_CLAY: f64 = 0.05;
const BUFFER_OF_CARBON: f64 = 1.2;

/// Buffering of a soil from clay and organic carbon, as fractions, cmol/kg for a pH unit.
pub fn buffer_cmol_kg_ph<L: Lane>(clay: L, carbon: L) -> L {
    clay * (100.0 * BUFFER_OF_CLAY) + carbon * (100.0 * BUFFER_OF_CARBON)
}

/// Acid and base that come together, in any one unit of charge.
#[derive(Clone, Copy, Debug)]
pub struct Balance<L> {
    /// Buffering, charge for a pH unit, of everything.
    pub buffer: L,
    /// Buffering of each part times its reaction.
    pub buffer_ph: L,
    /// Acid that sulfur gives.
    pub acid: L,
    /// Base in free lime: the ground's own, and what is added.
    pub lime: [L; 2],
    /// Reaction that each of them holds.
    pub lime_ph: [L; 2],
    /// Share of what the linear answer says outside [`LINEAR_PH`] that does not come about.
    pub overstated: L,
}

impl<L: Lane> Balance<L> {
    /// The reaction without sulfur and free lime.
    pub fn bare(&self) -> L {
        self.buffer_ph / self.buffer.at_least(L::all(1e-9))
    }

    /// The reaction without free lime.
    pub fn without_lime(&self) -> L {
        (self.buffer_ph - self.acid) / self.buffer.at_least(L::all(1e-9))
    }

    /// Acid beyond what brings everything to the least of [`PH_LIMITS`], lime spent.
    pub fn surplus_acid(&self) -> L {
        let (least, _) = PH_LIMITS;
        let [own, added] = self.lime;
        let to_least = self.buffer_ph - self.buffer * least + own + added;
        (self.acid - to_least.at_least(L::all(0.0))).at_least(L::all(0.0))
    }

    /// The reaction after each lime has lifted to what it holds and no further.
    fn lifted(&self) -> [L; 2] {
        let mut ph = self.without_lime();
        let lift = |ph: L, at: usize| {
            let most = ph + self.lime[at] / self.buffer.at_least(L::all(1e-9));
            ph.at_least(most.at_most(self.lime_ph[at]))
        };
        ph = lift(ph, 0);
        [ph, lift(ph, 1)]
    }

    /// Base of the lime that is left once the reaction stands where lime holds it; 0 where all of
    /// it is used up.
    pub fn lime_left(&self) -> L {
        let [_, by_added] = self.lifted();
        let [own, added] = self.lime;
        let used = (by_added - self.without_lime()) * self.buffer;
        let left = (own + added - used).at_least(L::all(0.0));
        // What is only rounding of all that was used is nothing.
        left.where_above((own + added) * 1e-9, left, L::all(0.0))
    }

    /// The reaction that it comes to, from `from` on.
    pub fn ph(&self, from: L) -> L {
        let [_, ph] = self.lifted();
        let (low, high) = LINEAR_PH;
        let below = (L::all(low).at_most(from) - ph).at_least(L::all(0.0));
        let above = (ph - L::all(high).at_least(from)).at_least(L::all(0.0));
        // What lime holds is no matter of buffering.
        let [own, added] = self.lime_ph;
        let above = own.at_least(added).where_above(ph, above, L::all(0.0));
        let (least, most) = PH_LIMITS;
        (ph + (below - above) * self.overstated)
            .at_least(L::all(least).at_most(from))
            .at_most(L::all(most).at_least(from))
    }
}

/// pH in five parts of water by that in one (Libohova et al. 2014, Geoderma: 563 samples).
const ONE_TO_FIVE: (f64, f64) = (-0.51, 1.06);
/// Its root mean square error.
pub const ONE_TO_FIVE_ERROR: f64 = 0.44;
/// What pH in calcium chloride lies below that in water (common practice: 0.5 to 0.8).
pub const BELOW_WATER: Figure = Figure::between(0.5, 0.65, 0.8);
/// Half of eight in ten, for an error of one (normal distribution).
const EIGHT_IN_TEN: f64 = 1.2816;
/// What pH in two and a half parts of water may be off by (a choice: a third of the way to five).
const ONE_TO_TWO_AND_A_HALF_ERROR: f64 = 0.2;

/// In what a laboratory shook the soil.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShakenIn {
    /// One part of water.
    Water1,
    /// Two and a half parts of water.
    Water2AndAHalf,
    /// Five parts of water.
    Water5,
    /// Calcium chloride of 0.01 mol/L.
    CalciumChloride,
}

/// pH in five parts of water by that in one, within 0 to 14.
pub fn ph_1to5(ph_1to1: f64) -> f64 {
    let (at_none, slope) = ONE_TO_FIVE;
    held(at_none + slope * ph_1to1)
}

/// pH in one part of water, which is what all else here means by it.
pub fn ph_in_water(printed: f64, shaken: ShakenIn) -> Figure {
    let around = |ph: f64, error: f64| Figure::between(ph - error, ph, ph + error).map(held);
    match shaken {
        ShakenIn::Water1 => Figure::exact(held(printed)),
        ShakenIn::Water2AndAHalf => around(printed, ONE_TO_TWO_AND_A_HALF_ERROR),
        ShakenIn::Water5 => {
            let (at_none, slope) = ONE_TO_FIVE;
            around(
                (printed - at_none) / slope,
                ONE_TO_FIVE_ERROR * EIGHT_IN_TEN / slope,
            )
        }
        ShakenIn::CalciumChloride => BELOW_WATER.map(|below| held(printed + below)),
    }
}

/// A pH that can be; what is no number is held at the lower end.
fn held(ph: f64) -> f64 {
    within(ph, 0.0, 14.0)
}
