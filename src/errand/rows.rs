//! Wishes as sums over masses: what each lot adds to a row, and the row must not be negative.
//!
//! Organic matter and texture are shares of masses, so a limit of them is one row, exactly. Of the
//! other wishes a row holds what no blend can do without: a blend never takes more room than its
//! parts apart, so its pore space is at most theirs. Such rows only rule out; outcomes decide.

use super::judge::Judge;
use super::wish::{FILLED, GroundUse, Wished};
use crate::blend::Blend;
use crate::texture::Class;

/// A texture is judged to this, %.
const THOUSANDTH_PCT: f64 = 0.001;
/// Rounding of sums over masses, %.
const HAIR_PCT: f64 = 1e-6;
/// Most that fine grains leave open of their own against what they leave of a coarse packing, over
/// all sizes: 1.3105 at fine grains of 0.26 of the coarse (a test scans it).
const MOST_OPEN: f64 = 1.311;

/// Least share of the room at which coarse grains of a porosity touch, whatever their size.
pub fn least_threshold(coarse_porosity: f64) -> f64 {
    1.0 / (1.0 + MOST_OPEN * coarse_porosity)
}

/// A sum that must not be negative.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// What one lot of each adds.
    pub per_lot: Vec<f64>,
    /// What the ground adds; of a ground to fill up, what a kilogram of it adds, dry.
    pub ground: f64,
    /// What is there whatever is bought.
    pub constant: f64,
}

impl Row {
    /// The sum for a purchase with all of the ground.
    pub fn sum(&self, lots: &[u32]) -> f64 {
        let bought: f64 = self
            .per_lot
            .iter()
            .zip(lots)
            .map(|(each, count)| each * f64::from(*count))
            .sum();
        bought + self.ground + self.constant
    }

    /// Its size, so that rounding can be told.
    pub fn scale(&self) -> f64 {
        let each = self.per_lot.iter().chain([&self.ground, &self.constant]);
        each.fold(0.0_f64, |most, value| most.max(value.abs()))
    }
}

/// The rows of an errand: those that always count, and those of each piece that a class falls into;
/// one of them is enough.
#[derive(Clone, Debug)]
pub struct Rows {
    /// Rows that always count.
    pub always: Vec<Row>,
    /// Rows of each alternative; at least one, perhaps empty.
    pub pieces: Vec<Vec<Row>>,
}

/// What sums are made of: of one lot, or of the ground.
#[derive(Clone, Copy, Debug, Default)]
struct Sums {
    dry_kg: f64,
    organic_kg: f64,
    coarse_kg: f64,
    fines_kg: [f64; 3],
    solid_m3: f64,
    settled_m3: f64,
    /// Settled volume of what can carry, and solid volume of the rest.
    carrying_m3: f64,
    rest_solid_m3: f64,
}

impl Sums {
    fn of(blend: &Blend, carries: bool) -> Sums {
        let masses = &blend.masses;
        Sums {
            dry_kg: masses.dry_kg,
            organic_kg: masses.organic_kg,
            coarse_kg: masses.coarse_kg,
            fines_kg: masses.fines_kg,
            solid_m3: masses.solid_m3,
            settled_m3: blend.volumes.settled_m3,
            carrying_m3: if carries {
                blend.volumes.settled_m3
            } else {
                0.0
            },
            rest_solid_m3: if carries { 0.0 } else { masses.solid_m3 },
        }
    }

    fn scaled(self, by: f64) -> Sums {
        Sums {
            dry_kg: self.dry_kg * by,
            organic_kg: self.organic_kg * by,
            coarse_kg: self.coarse_kg * by,
            fines_kg: self.fines_kg.map(|kg| kg * by),
            solid_m3: self.solid_m3 * by,
            settled_m3: self.settled_m3 * by,
            carrying_m3: self.carrying_m3 * by,
            rest_solid_m3: self.rest_solid_m3 * by,
        }
    }
}

/// A side of a class: so many percent of sand, silt and clay together are at least this, or more
/// than this.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Side {
    /// How often sand, silt and clay count.
    pub shares: [f64; 3],
    /// Least, %.
    pub least_pct: f64,
    /// The edge itself is of the neighbour.
    pub is_open: bool,
}

impl Side {
    const fn least(shares: [f64; 3], least_pct: f64) -> Side {
        Side {
            shares,
            least_pct,
            is_open: false,
        }
    }

    const fn above(shares: [f64; 3], least_pct: f64) -> Side {
        Side {
            shares,
            least_pct,
            is_open: true,
        }
    }

    /// How often silt and clay count where sand is what they leave.
    fn of_silt_and_clay(&self) -> [f64; 2] {
        let [sand, silt, clay] = self.shares;
        [silt - sand, clay - sand]
    }

    /// How much less than its least may be of the class: silt and clay are judged to a thousandth,
    /// so each may be half of one away, and what lies beyond an open edge is a step away from it.
    fn rounding_pct(&self) -> f64 {
        let [silt, clay] = self.of_silt_and_clay();
        let away = 0.5 * THOUSANDTH_PCT * (silt.abs() + clay.abs());
        let whole = silt.fract() == 0.0 && clay.fract() == 0.0;
        let step = if whole { 1.0 } else { 0.5 } * THOUSANDTH_PCT;
        if self.is_open && away == step {
            // Silt and clay would both have to round just so: the edge itself is out.
            -HAIR_PCT
        } else {
            away - if self.is_open { step } else { 0.0 } + HAIR_PCT
        }
    }
}

const fn above_sand(pct: f64) -> Side {
    Side::above([1.0, 0.0, 0.0], pct)
}
const fn most_sand(pct: f64) -> Side {
    Side::least([-1.0, 0.0, 0.0], -pct)
}
const fn least_silt(pct: f64) -> Side {
    Side::least([0.0, 1.0, 0.0], pct)
}
const fn below_silt(pct: f64) -> Side {
    Side::above([0.0, -1.0, 0.0], -pct)
}
const fn least_clay(pct: f64) -> Side {
    Side::least([0.0, 0.0, 1.0], pct)
}
const fn below_clay(pct: f64) -> Side {
    Side::above([0.0, 0.0, -1.0], -pct)
}

/// The convex pieces of a class, with their edges: by the inequalities of Agriculture Handbook 18
/// (2017). Sandy loam and silt loam are two each.
pub fn pieces(class: Class) -> Vec<Vec<Side>> {
    const COARSE: Side = Side::least([0.0, 1.0, 2.0], 30.0);
    match class {
        Class::Sand => vec![vec![Side::above([0.0, -1.0, -1.5], -15.0)]],
        Class::LoamySand => vec![vec![
            Side::least([0.0, 1.0, 1.5], 15.0),
            Side::above([0.0, -1.0, -2.0], -30.0),
        ]],
        Class::SandyLoam => vec![
            vec![COARSE, below_clay(7.0), below_silt(50.0)],
            vec![COARSE, below_clay(20.0), above_sand(52.0)],
        ],
        Class::Loam => vec![vec![
            least_clay(7.0),
            below_clay(27.0),
            least_silt(28.0),
            below_silt(50.0),
            most_sand(52.0),
        ]],
        Class::SiltLoam => vec![
            vec![least_silt(50.0), below_silt(80.0), below_clay(27.0)],
            vec![least_silt(80.0), least_clay(12.0), below_clay(27.0)],
        ],
        Class::Silt => vec![vec![least_silt(80.0), below_clay(12.0)]],
        Class::SandyClayLoam => vec![vec![
            least_clay(20.0),
            below_clay(35.0),
            below_silt(28.0),
            above_sand(45.0),
        ]],
        Class::ClayLoam => vec![vec![
            least_clay(27.0),
            below_clay(40.0),
            above_sand(20.0),
            most_sand(45.0),
        ]],
        Class::SiltyClayLoam => vec![vec![least_clay(27.0), below_clay(40.0), most_sand(20.0)]],
        Class::SandyClay => vec![vec![least_clay(35.0), above_sand(45.0)]],
        Class::SiltyClay => vec![vec![least_clay(40.0), least_silt(40.0)]],
        Class::Clay => vec![vec![least_clay(40.0), below_silt(40.0), most_sand(45.0)]],
    }
}

impl Rows {
    /// The rows of an errand's wish.
    pub fn of(judge: &Judge) -> Rows {
        let (ground, lots) = judge.alone();
        let to_fill = judge.wish.ground == GroundUse::ToFill;
        let mut earth = ground
            .as_ref()
            .map_or(Sums::default(), |blend| Sums::of(blend, false));
        if to_fill && earth.dry_kg > 0.0 {
            earth = earth.scaled(1.0 / earth.dry_kg);
        }
        let lots: Vec<Sums> = lots
            .iter()
            .enumerate()
            .map(|(at, blend)| match blend {
                Some(blend) => Sums::of(blend, judge.carrying_porosity(at).is_some()),
                // A liquid takes no room, but has its mass.
                None => {
                    let (dry_kg, organic_kg) = judge.masses(at);
                    Sums {
                        dry_kg,
                        organic_kg,
                        ..Sums::default()
                    }
                }
            })
            .collect();
        let row = |of: &dyn Fn(&Sums) -> f64, constant: f64| Row {
            per_lot: lots.iter().map(of).collect(),
            ground: of(&earth),
            constant,
        };
        let mut always = Vec::new();
        for of in Wished::ALL.iter().copied() {
            let band = judge.wish.band(of);
            for (limit, sign) in [(band.least, 1.0), (band.most, -1.0)] {
                let Some(limit) = limit else { continue };
                let share = limit / 100.0;
                match of {
                    Wished::Sand | Wished::Silt | Wished::Clay => {
                        let at = of as usize;
                        always.push(row(
                            &|sums| {
                                let all: f64 = sums.fines_kg.iter().sum();
                                sign * (sums.fines_kg[at] - share * all)
                            },
                            0.0,
                        ));
                    }
                    Wished::OrganicMatter => always.push(row(
                        &|sums| sign * (sums.organic_kg - share * (sums.dry_kg - sums.coarse_kg)),
                        0.0,
                    )),
                    // Air is less than the pores that it is in.
                    Wished::PoreSpace | Wished::Air if sign > 0.0 => always.push(row(
                        &|sums| (1.0 - share) * sums.settled_m3 - sums.solid_m3,
                        0.0,
                    )),
                    Wished::Density if sign < 0.0 => {
                        always.push(row(&|sums| limit * sums.settled_m3 - sums.dry_kg, 0.0));
                    }
                    _ => {}
                }
            }
        }
        if judge.wish.skeleton == Some(true) {
            // The ground's gravel is of the coarse set too, so a ground with gravel rules nothing out.
            let gravel = ground.as_ref().is_some_and(|of| of.masses.coarse_kg > 0.0);
            if !gravel {
                let porosities = (0..lots.len()).filter_map(|at| judge.carrying_porosity(at));
                let least = least_threshold(porosities.fold(0.0, f64::max));
                let per_rest = least / (1.0 - least).max(1e-9);
                always.push(row(
                    &|sums| sums.carrying_m3 - per_rest * sums.rest_solid_m3,
                    0.0,
                ));
            }
        }
        if let Some(target_m3) = judge.target_m3() {
            always.push(row(&|sums| sums.settled_m3, -FILLED * target_m3));
            if to_fill {
                always.push(row(&|sums| -sums.solid_m3, target_m3 / FILLED));
            }
        }
        if let Some(room_m3) = judge.room_m3() {
            always.push(Row {
                per_lot: judge
                    .sold
                    .iter()
                    .map(|(_, _, lot)| -lot.counted_m3 * judge.used())
                    .collect(),
                ground: 0.0,
                constant: room_m3,
            });
        }
        let slack_pct = judge.wish.slack_pct;
        let mut alternatives = Vec::new();
        for class in &judge.wish.classes {
            for piece in pieces(*class) {
                let sides = piece.iter().map(|side| {
                    let rounding_pct = side.rounding_pct();
                    let less_pct = if slack_pct > 0.0 {
                        // Distances are counted in silt and clay.
                        let [silt, clay] = side.of_silt_and_clay();
                        rounding_pct.max(0.0) + slack_pct * libm::sqrt(silt * silt + clay * clay)
                    } else {
                        rounding_pct
                    };
                    let least = (side.least_pct - less_pct) / 100.0;
                    row(
                        &|sums| {
                            let each = sums.fines_kg.iter().zip(side.shares);
                            each.map(|(kg, share)| kg * (share - least)).sum()
                        },
                        0.0,
                    )
                });
                alternatives.push(sides.collect());
            }
        }
        if alternatives.is_empty() {
            alternatives.push(Vec::new());
        }
        Rows {
            always,
            pieces: alternatives,
        }
    }

    /// Whether no row rules a purchase out; with a ground to fill up none is asked.
    pub fn allow(&self, lots: &[u32], to_fill: bool) -> bool {
        if to_fill {
            return true;
        }
        let holds = |row: &Row| row.sum(lots) >= -1e-9 * row.scale();
        self.always.iter().all(holds) && self.pieces.iter().any(|piece| piece.iter().all(holds))
    }
}
