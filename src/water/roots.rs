//! Bulk densities that trouble roots, as four printed tables have them. They disagree for the same
//! class by up to 300 kg/m3, so a band is told.

use crate::figure::within;
use crate::source::Mark;
use crate::texture::Class::{self, *};

/// A row of a table; densities are of oven-dry soil.
#[derive(Clone, Copy, Debug)]
pub struct Limits {
    /// The table.
    pub table: Table,
    /// The classes it names.
    pub classes: &'static [Class],
    /// The clay it is for, %: above the first, up to the second.
    pub clay_pct: [f64; 2],
    /// Below this it is ideal.
    pub ideal_kg_m3: Option<f64>,
    /// From here on roots are affected.
    pub affected_kg_m3: Option<f64>,
    /// Above this it stops them.
    pub restricted_kg_m3: Option<f64>,
}

/// The tables.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Table {
    /// Soil quality table of the USDA Natural Resources Conservation Service, in seven groups.
    Detailed,
    /// The same in three groups.
    ThreeGroups,
    /// University of Florida after Harris 1990, Morris & Lowery 1988: a critical range, whose ends
    /// are taken as affected and restricted.
    Critical,
    /// A university's lecture table: where roots begin to have problems, taken as restricted.
    Lecture,
}

impl Table {
    /// How well it was read.
    pub fn mark(self) -> Mark {
        match self {
            Table::Detailed => Mark::Memory,
            _ => Mark::Verified,
        }
    }
}

const ANY: [f64; 2] = [-1.0, 101.0];

const fn row(
    table: Table,
    classes: &'static [Class],
    clay_pct: [f64; 2],
    [ideal, affected, restricted]: [f64; 3],
) -> Limits {
    // 0 stands for what a table does not print.
    const fn printed(value: f64) -> Option<f64> {
        if value > 0.0 { Some(value) } else { None }
    }
    Limits {
        table,
        classes,
        clay_pct,
        ideal_kg_m3: printed(ideal),
        affected_kg_m3: printed(affected),
        restricted_kg_m3: printed(restricted),
    }
}

/// Every row. Where a table names a class twice, both count. Clay of at most 45 % goes with sandy
/// and silty clay, as the detailed table's clay begins there.
pub const ROWS: &[Limits] = {
    use Table::*;
    &[
        row(Detailed, &[Sand, LoamySand], ANY, [1600.0, 1690.0, 1800.0]),
        row(Detailed, &[SandyLoam, Loam], ANY, [1400.0, 1630.0, 1800.0]),
        row(Detailed, &[SandyClayLoam], ANY, [1400.0, 1600.0, 1750.0]),
        row(
            Detailed,
            &[ClayLoam],
            [-1.0, 35.0],
            [1400.0, 1600.0, 1750.0],
        ),
        row(Detailed, &[Silt, SiltLoam], ANY, [1400.0, 1600.0, 1750.0]),
        row(
            Detailed,
            &[SiltLoam, SiltyClayLoam],
            ANY,
            [1400.0, 1550.0, 1650.0],
        ),
        row(
            Detailed,
            &[SandyClay, SiltyClay],
            ANY,
            [1100.0, 1490.0, 1580.0],
        ),
        row(
            Detailed,
            &[ClayLoam],
            [35.0, 101.0],
            [1100.0, 1490.0, 1580.0],
        ),
        row(Detailed, &[Clay], [-1.0, 45.0], [1100.0, 1490.0, 1580.0]),
        row(Detailed, &[Clay], [45.0, 101.0], [1100.0, 1390.0, 1470.0]),
        row(ThreeGroups, &[Sand, LoamySand], ANY, [1600.0, 0.0, 1800.0]),
        row(
            ThreeGroups,
            &[Silt, SiltLoam, SiltyClayLoam],
            ANY,
            [1400.0, 0.0, 1650.0],
        ),
        row(
            ThreeGroups,
            &[SandyClay, SiltyClay, Clay],
            ANY,
            [1100.0, 0.0, 1470.0],
        ),
        row(Critical, &[Clay, SiltLoam], ANY, [0.0, 1400.0, 1550.0]),
        row(
            Critical,
            &[SiltyClay, SiltyClayLoam, Silt],
            ANY,
            [0.0, 1400.0, 1450.0],
        ),
        row(Critical, &[ClayLoam], ANY, [0.0, 1450.0, 1550.0]),
        row(Critical, &[Loam], ANY, [0.0, 1450.0, 1600.0]),
        row(Critical, &[SandyClay], ANY, [0.0, 1550.0, 1650.0]),
        row(
            Critical,
            &[SandyClayLoam, SandyLoam],
            ANY,
            [0.0, 1550.0, 1750.0],
        ),
        row(Critical, &[LoamySand, Sand], ANY, [0.0, 1750.0, 0.0]),
        row(Lecture, &[Sand, LoamySand], ANY, [0.0, 0.0, 1800.0]),
        row(Lecture, &[SandyLoam], ANY, [0.0, 0.0, 1750.0]),
        row(Lecture, &[Loam, SandyClayLoam], ANY, [0.0, 0.0, 1700.0]),
        row(Lecture, &[ClayLoam], ANY, [0.0, 0.0, 1650.0]),
        row(Lecture, &[SandyClay], ANY, [0.0, 0.0, 1600.0]),
        row(Lecture, &[Silt, SiltLoam], ANY, [0.0, 0.0, 1550.0]),
        row(Lecture, &[SiltyClayLoam], ANY, [0.0, 0.0, 1500.0]),
        row(Lecture, &[SiltyClay], ANY, [0.0, 0.0, 1450.0]),
        row(Lecture, &[Clay], ANY, [0.0, 0.0, 1400.0]),
    ]
};

/// What the tables together say of a soil: lowest and highest of each, kg/m3.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Roots {
    /// Below this no table sees any harm.
    pub ideal_kg_m3: f64,
    /// From here on roots are affected.
    pub affected_kg_m3: [f64; 2],
    /// Above this they are stopped.
    pub restricted_kg_m3: [f64; 2],
}

impl Roots {
    /// Of a class; its clay in % parts two of them.
    pub fn of(class: Class, clay_pct: f64) -> Roots {
        let clay_pct = within(clay_pct, 0.0, 100.0);
        let rows = || {
            ROWS.iter().filter(move |row| {
                let [above, to] = row.clay_pct;
                row.classes.contains(&class) && clay_pct > above && clay_pct <= to
            })
        };
        let band = |of: fn(&Limits) -> Option<f64>| {
            rows()
                .filter_map(of)
                .fold([f64::INFINITY, 0.0], |[low, high]: [f64; 2], value| {
                    [low.min(value), high.max(value)]
                })
        };
        Roots {
            ideal_kg_m3: band(|row| row.ideal_kg_m3)[0],
            affected_kg_m3: band(|row| row.affected_kg_m3),
            restricted_kg_m3: band(|row| row.restricted_kg_m3),
        }
    }

    /// The band in which it depends on whom one asks: from the lowest density at which any table
    /// sees roots in trouble to the highest at which any has them stopped.
    pub fn band_kg_m3(&self) -> [f64; 2] {
        let [affected, restricted] = [self.affected_kg_m3, self.restricted_kg_m3];
        [
            affected[0].min(restricted[0]),
            restricted[1].max(affected[1]),
        ]
    }
}
