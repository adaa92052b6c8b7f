//! Water and air of a pot that has drained: the bottom of the mix is full, and a point at a height
//! in cm is under that tension in cm of water (White & Mastalerz 1966, Proc. Am. Soc. Hortic. Sci.
//! 89:758; with a curve of retention Bilderback & Fonteno 1987, J. Environ. Hortic. 5:180).

use super::retention::Store;
use crate::figure::within;
use crate::lane::Lane;
use libm::{exp, log};

/// Air that roots need, a fraction of the volume: a rule of thumb (University of Nebraska,
/// University of California), since near it the air's paths come apart.
pub const AIR_LEAST: f64 = 0.10;
/// Heights that are computed with, cm: beyond any pot.
const HEIGHT_LIMITS_CM: (f64, f64) = (0.01, 10_000.0);
/// Halvings of a height: to a rounding.
const HALVINGS: usize = 60;

/// Where a mean over the height is taken: points and weights of Gauss and Legendre in t, spread as
/// height = t exp(-spread (1 - t)), since water turns near the bottom of a tall pot.
pub struct Nodes<const HALF: usize> {
    /// The points above the middle and their weights (their mirror images are the others), on -1
    /// to 1 (Abramowitz & Stegun 1964, table 25.4).
    pub half: [[f64; 2]; HALF],
    /// How strongly they gather at the bottom.
    pub spread: f64,
}

/// Eight points, for the draws. Over heights of 1 to 300 cm, alpha 0.004 to 2.5 /cm and n 1.02 to
/// 2.7 a mean is within 0.0004 of all that the fine pores hold, and 0.0011 of the open ones.
pub const DRAW_NODES: Nodes<4> = Nodes {
    half: [
        [0.183_434_642_495_649_8, 0.362_683_783_378_362],
        [0.525_532_409_916_329, 0.313_706_645_877_887_27],
        [0.796_666_477_413_626_7, 0.222_381_034_453_374_48],
        [0.960_289_856_497_536_2, 0.101_228_536_290_376_26],
    ],
    spread: 3.0,
};

/// Thirty-two points: within 1e-9 of the fine pores and 2e-8 of the open ones, over the same.
pub const FULL_NODES: Nodes<16> = Nodes {
    half: [
        [0.048_307_665_687_738_32, 0.096_540_088_514_727_8],
        [0.144_471_961_582_796_5, 0.095_638_720_079_274_86],
        [0.239_287_362_252_137_06, 0.093_844_399_080_804_57],
        [0.331_868_602_282_127_67, 0.091_173_878_695_763_89],
        [0.421_351_276_130_635_33, 0.087_652_093_004_403_81],
        [0.506_899_908_932_229_4, 0.083_311_924_226_946_75],
        [0.587_715_757_240_762_3, 0.078_193_895_787_070_31],
        [0.663_044_266_930_215_2, 0.072_345_794_108_848_5],
        [0.732_182_118_740_289_7, 0.065_822_222_776_361_85],
        [0.794_483_795_967_942_4, 0.058_684_093_478_535_544],
        [0.849_367_613_732_57, 0.050_998_059_262_376_175],
        [0.896_321_155_766_052_1, 0.042_835_898_022_226_68],
        [0.934_906_075_937_739_7, 0.034_273_862_913_021_43],
        [0.964_762_255_587_506_4, 0.025_392_065_309_262_06],
        [0.985_611_511_545_268_4, 0.016_274_394_730_905_67],
        [0.997_263_861_849_481_6, 0.007_018_610_009_470_096],
    ],
    spread: 4.5,
};

/// Shape of the mix in a pot. Its height is that of the mix alone: gravel or shards below it hold
/// the same full layer at the mix's bottom, and only take height away.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pot {
    /// Height of the mix, cm.
    pub height_cm: f64,
    /// Width at the top, in any unit.
    pub top_width: f64,
    /// Width at the bottom of the mix, in the same.
    pub bottom_width: f64,
}

/// A height in a pot.
#[derive(Clone, Copy, Debug)]
struct Level {
    cm: f64,
    log_cm: f64,
    /// Share of the volume that it stands for.
    share: f64,
}

/// The heights at which a pot is looked at, made once for all draws.
#[derive(Clone, Copy, Debug)]
pub struct Levels<const HALF: usize> {
    levels: [[Level; 2]; HALF],
}

impl Pot {
    /// A pot as wide below as above, or a bed.
    pub fn straight(height_cm: f64) -> Pot {
        Pot {
            height_cm,
            top_width: 1.0,
            bottom_width: 1.0,
        }
    }

    /// The heights at which it is looked at. Widths that cannot be count as straight.
    pub fn levels<const HALF: usize>(&self, nodes: &Nodes<HALF>) -> Levels<HALF> {
        let (least, most) = HEIGHT_LIMITS_CM;
        let height_cm = within(self.height_cm, least, most);
        let log_height = log(height_cm);
        // As shares of their sum, so that no width is too large to square.
        let bottom = self.bottom_width.max(0.0) / 2.0;
        let top = self.top_width.max(0.0) / 2.0;
        let bottom = match bottom / (bottom + top) {
            share if share.is_finite() => share,
            _ => 0.5,
        };
        let level = |point: f64, weight: f64| {
            let t = 0.5 + 0.5 * point;
            let log_share = log(t) - nodes.spread * (1.0 - t);
            let up = exp(log_share);
            let width = bottom + (1.0 - 2.0 * bottom) * up;
            Level {
                cm: height_cm * up,
                log_cm: log_height + log_share,
                share: weight * (1.0 / t + nodes.spread) * up * width * width,
            }
        };
        let mut levels = nodes.half.map(|[point, weight]| {
            let below = level(-point, weight);
            [below, level(point, weight)]
        });
        let all: f64 = levels.iter().flatten().map(|level| level.share).sum();
        for level in levels.iter_mut().flatten() {
            level.share /= all;
        }
        Levels { levels }
    }
}

impl<const HALF: usize> Levels<HALF> {
    /// Container capacity: the mean of the water over the volume, once the pot has drained.
    pub fn water<L: Lane>(&self, store: &Store<L>) -> L {
        let log_alpha = store.fine.alpha_per_cm.each(log);
        let (mut fine, mut open) = (L::all(0.0), L::all(0.0));
        for level in self.levels.iter().flatten() {
            fine += store.fine.filled(log_alpha, level.log_cm) * level.share;
            open += store.open_filled(level.cm) * level.share;
        }
        let room = store.fine.theta_s - store.fine.theta_r;
        store.fine.theta_r + room * fine + store.open * open
    }

    /// Air once the pot has drained, a volume fraction: all pores less the water.
    pub fn air<L: Lane>(&self, pores: L, store: &Store<L>) -> L {
        (pores - self.water(store)).at_least(L::all(0.0))
    }
}

/// Height from the bottom up to which less than [`AIR_LEAST`] of the volume is air, cm.
pub fn wet_layer_cm(height_cm: f64, pores: f64, store: &Store) -> f64 {
    let wet = |cm: f64| pores - store.theta_at(cm) < AIR_LEAST;
    let (least, most) = HEIGHT_LIMITS_CM;
    let (mut low, mut high) = (0.0, within(height_cm, least, most));
    if wet(high) {
        return high;
    }
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if wet(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    // Where the bottom itself has air there is no wet layer.
    low
}
