//! The standard normal distribution.

// The constants stand as published, whatever of them a double holds.
#![allow(clippy::excessive_precision)]

use libm::log;

/// The standard normal quantile of the 90th percentile (Wichura 1988, as `quantile` gives it).
pub const NINETIETH: f64 = 1.281_551_565_544_600_4;
/// And of the 95th.
pub const NINETY_FIFTH: f64 = 1.644_853_626_951_472_2;

/// Below this distance from the middle the central fraction serves.
const CENTRAL: f64 = 0.425;

/// Where the share `u` of the standard normal distribution lies below, for u inside 0 to 1: the
/// rational fractions PPND16 of Wichura 1988 (Applied Statistics 37:477), good to about 1e-16.
pub fn quantile(u: f64) -> f64 {
    let q = u - 0.5;
    if q.abs() <= CENTRAL {
        return q * fraction(CENTRAL * CENTRAL - q * q, &CENTRE);
    }
    let tail = if q < 0.0 { u } else { 1.0 - u };
    let r = (-log(tail)).sqrt();
    let size = if r <= 5.0 {
        fraction(r - 1.6, &TAIL)
    } else {
        fraction(r - 5.0, &FAR_TAIL)
    };
    if q < 0.0 { -size } else { size }
}

/// A quotient of two polynomials; the constant terms come last.
fn fraction(x: f64, [above, below]: &[[f64; 8]; 2]) -> f64 {
    let sum = |of: &[f64; 8]| of.iter().fold(0.0, |sum, term| sum * x + term);
    sum(above) / sum(below)
}

const CENTRE: [[f64; 8]; 2] = [
    [
        2.509_080_928_730_122_7e3,
        3.343_057_558_358_812_8e4,
        6.726_577_092_700_870_1e4,
        4.592_195_393_154_987_1e4,
        1.373_169_376_550_946_1e4,
        1.971_590_950_306_551_4e3,
        1.331_416_678_917_843_8e2,
        3.387_132_872_796_366_6,
    ],
    [
        5.226_495_278_852_854_6e3,
        2.872_908_573_572_194_3e4,
        3.930_789_580_009_271_1e4,
        2.121_379_430_158_659_6e4,
        5.394_196_021_424_751_1e3,
        6.871_870_074_920_579_1e2,
        4.231_333_070_160_091_1e1,
        1.0,
    ],
];

const TAIL: [[f64; 8]; 2] = [
    [
        7.745_450_142_783_414_1e-4,
        2.272_384_498_926_918_5e-2,
        2.417_807_251_774_506_1e-1,
        1.270_458_252_452_368_4,
        3.647_848_324_763_204_6,
        5.769_497_221_460_691_4,
        4.630_337_846_156_545_3,
        1.423_437_110_749_683_6,
    ],
    [
        1.050_750_071_644_416_8e-9,
        5.475_938_084_995_344_9e-4,
        1.519_866_656_361_645_7e-2,
        1.481_039_764_274_800_7e-1,
        6.897_673_349_851e-1,
        1.676_384_830_183_803_8,
        2.053_191_626_637_758_8,
        1.0,
    ],
];

const FAR_TAIL: [[f64; 8]; 2] = [
    [
        2.010_334_399_292_288_1e-7,
        2.711_555_568_743_487_6e-5,
        1.242_660_947_388_078_4e-3,
        2.653_218_952_657_612_3e-2,
        2.965_605_718_285_048_9e-1,
        1.784_826_539_917_291_3,
        5.463_784_911_164_114_4,
        6.657_904_643_501_103_8,
    ],
    [
        2.044_263_103_389_939_8e-15,
        1.421_511_758_316_445_9e-7,
        1.846_318_317_510_054_7e-5,
        7.868_691_311_456_132_6e-4,
        1.487_536_129_085_061_5e-2,
        1.369_298_809_227_358_1e-1,
        5.998_322_065_558_879_4e-1,
        1.0,
    ],
];
