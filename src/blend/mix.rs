//! What is mixed, as one draw or the typical evaluation has it: parts with their masses.

use super::barrow::{Barrow, Line, Rate, ground_dry_kg};
use super::skeleton::carries;
use crate::figure::Figure;
use crate::ground::Ground;
use crate::lane::{Lane, Pair};
use crate::material::{FRESH_SHARE_OF_GRAIN, Group, Material, SETTLED_SHARE_OF_GRAIN};
use crate::recipe::{Addition, Amount, Bag, Recipe, Soil};

/// How much of an addition: what is known of it, and shares that wait for the rest.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Size {
    /// Mass as sold, kg.
    pub(super) moist_kg: f64,
    /// Loose volume as sold, m3.
    pub(super) loose_m3: f64,
    /// Mass as sold for each cubic metre of the ground, loose, kg.
    pub(super) moist_kg_per_ground_m3: f64,
    /// Loose volume for each loose volume of the ground.
    pub(super) loose_per_ground: f64,
    /// Share of the loose volume of everything mixed.
    pub(super) share_of_volume: f64,
    /// Share of the dry mass of everything mixed.
    pub(super) share_of_mass: f64,
}

impl Size {
    /// Whether something is there whatever the rest is.
    pub(super) fn is_known(&self) -> bool {
        self.moist_kg + self.loose_m3 + self.moist_kg_per_ground_m3 + self.loose_per_ground > 0.0
    }

    fn and(self, more: Size) -> Size {
        Size {
            moist_kg: self.moist_kg + more.moist_kg,
            loose_m3: self.loose_m3 + more.loose_m3,
            moist_kg_per_ground_m3: self.moist_kg_per_ground_m3 + more.moist_kg_per_ground_m3,
            loose_per_ground: self.loose_per_ground + more.loose_per_ground,
            share_of_volume: self.share_of_volume + more.share_of_volume,
            share_of_mass: self.share_of_mass + more.share_of_mass,
        }
    }
}

/// A draw cannot be refused. Of the dry matter in what is a share of mass, and of what shares leave
/// for the rest, it keeps at least this part of the typical value.
const LEAST_OF_TYPICAL: f64 = 0.1;

/// A size, and what it takes to turn it into a volume.
#[derive(Clone, Copy, Debug)]
pub(super) struct Wanted<L> {
    pub(super) size: Size,
    pub(super) on_top: bool,
    dry_kg_m3: L,
    loose_kg_m3: L,
    /// Dry mass of a loose volume that it has at least where it is a share of mass.
    least_kg_m3: L,
    /// Loose volume as sold, m3.
    pub(super) loose_m3: L,
}

impl<L: Lane> Wanted<L> {
    pub(super) fn of(
        size: Size,
        on_top: bool,
        material: &Material<L>,
        least_kg_m3: f64,
    ) -> Wanted<L> {
        Wanted {
            size,
            on_top,
            dry_kg_m3: material.fresh_dry_density_kg_m3,
            loose_kg_m3: material.loose_density_kg_m3,
            least_kg_m3: L::all(least_kg_m3),
            loose_m3: L::all(0.0),
        }
    }

    /// Dry mass of a loose volume, as a share of mass counts it.
    fn share_kg_m3(&self) -> L {
        self.dry_kg_m3.at_least(self.least_kg_m3)
    }
}

/// Finds the loose volumes. Shares are solved all together: two balances, one of loose volume and
/// one of dry mass. Returns what the shares leave for the rest, 1 where there are none; it counts
/// as `least` where it is less.
pub(super) fn loose_volumes<L: Lane>(
    [ground_kg, ground_m3]: [L; 2],
    wanted: &mut [Wanted<L>],
    least: f64,
) -> L {
    let (one, zero) = (L::all(1.0), L::all(0.0));
    let (mut fixed_m3, mut fixed_kg) = (ground_m3, ground_kg);
    let (mut of_volume, mut of_mass) = (0.0, 0.0);
    // Volume of a kilogram of the mass shares, and mass of a cubic metre of the volume shares.
    let (mut m3_per_kg, mut kg_per_m3) = (zero, zero);
    for line in wanted.iter_mut() {
        let size = &line.size;
        let moist_kg = L::all(size.moist_kg) + ground_m3 * size.moist_kg_per_ground_m3;
        let loose_m3 = L::all(size.loose_m3) + ground_m3 * size.loose_per_ground;
        line.loose_m3 = loose_m3 + moist_kg / line.loose_kg_m3;
        if line.on_top {
            continue;
        }
        fixed_m3 += line.loose_m3;
        fixed_kg += line.loose_m3 * line.dry_kg_m3;
        of_volume += size.share_of_volume;
        kg_per_m3 += line.dry_kg_m3 * size.share_of_volume;
        if size.share_of_mass > 0.0 {
            of_mass += size.share_of_mass;
            m3_per_kg += L::all(size.share_of_mass) / line.share_kg_m3();
        }
    }
    if of_volume + of_mass <= 0.0 {
        return one;
    }
    let (rest_m3, rest_kg) = (1.0 - of_volume, 1.0 - of_mass);
    let left = L::all(rest_m3 * rest_kg) - m3_per_kg * kg_per_m3;
    let divisor = left.at_least(L::all(least));
    let whole_m3 = (fixed_m3 * rest_kg + fixed_kg * m3_per_kg) / divisor;
    let whole_kg = (fixed_kg * rest_m3 + fixed_m3 * kg_per_m3) / divisor;
    for line in wanted.iter_mut() {
        let size = &line.size;
        line.loose_m3 += whole_m3 * size.share_of_volume;
        if size.share_of_mass > 0.0 {
            line.loose_m3 += whole_kg * size.share_of_mass / line.share_kg_m3();
        }
    }
    left
}

/// Lines of one kind, as one part of the blend.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Part {
    /// The first of its lines in the recipe.
    pub(crate) line: usize,
    /// The lines' own moisture.
    pub(crate) water_per_wet_pct: Option<Figure>,
    /// What kind of thing it is.
    pub(crate) group: Group,
    /// One characteristic size, mm.
    pub(crate) grain_mm: f64,
    /// Density of one grain, typical, kg/m3.
    pub(crate) grain_kg_m3: f64,
    /// Dry mass of a loose volume, typical, kg/m3.
    dry_kg_m3: f64,
    /// Settled over fresh dry density, in every draw.
    pub(crate) settling: f64,
    /// Laid on top, not mixed.
    pub(crate) on_top: bool,
    pub(super) carries: bool,
    pub(super) packs: bool,
    pub(super) size: Size,
    pub(super) rate: Option<Rate>,
}

impl Part {
    /// Whether its grains can form a skeleton.
    pub(crate) fn is_coarse(&self) -> bool {
        self.carries
    }
}

/// What decides whether two lines are one part, as numbers in a fixed order; then their unit and
/// value, so that equal amounts are added in an equal order.
fn key(addition: &Addition) -> [f64; 12] {
    let figure = |figure: Option<Figure>| {
        figure.map_or([-1.0; 3], |figure| {
            let ends = figure.ends();
            [ends.low, figure.typical, ends.high]
        })
    };
    let amount = |amount: &Amount| [amount.value, f64::from(amount.unit as u8)];
    let [low, typical, high] = figure(addition.water_per_wet_pct);
    let price = addition.price.as_ref();
    let [lot, lot_unit] = price.map_or([-1.0; 2], |price| amount(&price.per));
    let bag: Option<&Bag> = addition.bag.as_ref();
    let [bag_size, bag_unit] = bag.map_or([-1.0; 2], |bag| amount(&bag.size));
    let [value, unit] = amount(&addition.amount);
    [
        f64::from(u8::from(addition.is_on_top())),
        low,
        typical,
        high,
        price.map_or(-1.0, |price| price.value),
        lot,
        lot_unit,
        bag_size,
        bag_unit,
        bag.and_then(|bag| bag.expands).unwrap_or(-1.0),
        unit,
        value,
    ]
}

/// How many of a key's numbers tell parts apart.
const KIND: usize = 10;

/// A line in the order of the parts.
struct Entry<'a> {
    /// Coarse ones come first, then what else packs, then liquids and mulches.
    rank: u8,
    id: &'a str,
    key: [f64; 12],
    index: usize,
}

impl Entry<'_> {
    /// Whether two are of one part; with `unit` also whether their amounts can be added as typed.
    fn is_like(&self, other: &Entry<'_>, numbers: usize) -> bool {
        let same = |at: usize| self.key[at] == other.key[at];
        self.rank == other.rank && self.id == other.id && (0..numbers).all(same)
    }

    fn is_before(&self, other: &Entry<'_>) -> bool {
        if self.rank != other.rank {
            return self.rank < other.rank;
        }
        if self.id != other.id {
            return self.id < other.id;
        }
        let differs = (0..self.key.len()).find(|at| self.key[*at] != other.key[*at]);
        differs.is_some_and(|at| self.key[at] < other.key[at])
    }
}

/// The parts of the lines.
pub(super) fn parts(
    recipe: &Recipe,
    lines: &[Line],
    rates: &[Option<Rate>],
    size_of: impl Fn(usize, f64) -> Size,
) -> Vec<Part> {
    let mut order: Vec<Entry<'_>> = Vec::with_capacity(lines.len());
    for (index, line) in lines.iter().enumerate() {
        let addition = &recipe.additions[index];
        let new = Entry {
            rank: rank(line),
            id: &addition.material,
            key: key(addition),
            index,
        };
        let mut at = order.len();
        while at > 0 && new.is_before(&order[at - 1]) {
            at -= 1;
        }
        order.insert(at, new);
    }
    let mut parts: Vec<Part> = Vec::with_capacity(lines.len());
    let mut at = 0;
    while at < order.len() {
        let first = &order[at];
        // Equal units are added as typed, so that splitting a line changes no bit.
        let mut size = Size::default();
        while at < order.len() && order[at].is_like(first, KIND) {
            let unit = &order[at];
            let mut value = 0.0;
            while at < order.len() && order[at].is_like(unit, KIND + 1) {
                value += order[at].key[KIND + 1];
                at += 1;
            }
            size = size.and(size_of(unit.index, value));
        }
        if size != Size::default() {
            let line = &lines[first.index];
            parts.push(Part {
                water_per_wet_pct: recipe.additions[first.index].water_per_wet_pct,
                size,
                rate: rates[first.index],
                ..Part::of(first.index, line)
            });
        }
    }
    parts
}

/// Where a line stands among the parts: what can carry, what packs, what only wets, what lies on top.
pub(super) fn rank(line: &Line) -> u8 {
    match line {
        line if line.on_top => 3,
        line if !line.material.packs() => 2,
        line if carries(line) => 0,
        _ => 1,
    }
}

impl Part {
    /// A line as a part of its own, of no certain amount.
    pub(super) fn of(index: usize, line: &Line) -> Part {
        let rank = rank(line);
        Part {
            line: index,
            water_per_wet_pct: None,
            group: line.material.group,
            grain_mm: line.material.grain_mm,
            grain_kg_m3: line.material.grain_density_kg_m3,
            dry_kg_m3: line.material.fresh_dry_density_kg_m3,
            settling: line.material.settling(),
            on_top: line.on_top,
            carries: rank == 0,
            packs: rank <= 1,
            size: Size::default(),
            rate: None,
        }
    }
}

impl Share<Pair> {
    /// So much as a line is.
    pub(super) fn of(line: &Line) -> Share<Pair> {
        Share {
            material: line.material.cut().map(Pair::all),
            dry_kg: Pair::all(line.dry_kg),
            moist_kg: Pair::all(line.moist_kg),
            loose_m3: Pair::all(line.loose_m3),
        }
    }
}

/// One part of a mix.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Share<L> {
    /// Its material.
    pub(crate) material: Material<L>,
    /// Oven-dry mass, kg.
    pub(crate) dry_kg: L,
    /// Mass as sold, kg.
    pub(crate) moist_kg: L,
    /// Loose volume as sold, m3.
    pub(crate) loose_m3: L,
}

impl<L: Lane> Share<L> {
    /// Unmixed volume and that of its grains, m3.
    pub(super) fn room(&self, settled: bool) -> [L; 2] {
        let material = &self.material;
        let grain = material.grain_density_kg_m3;
        let density = if settled {
            material
                .settled_dry_density_kg_m3
                .at_most(grain * SETTLED_SHARE_OF_GRAIN)
        } else {
            material
                .fresh_dry_density_kg_m3
                .at_most(grain * FRESH_SHARE_OF_GRAIN)
        };
        // Without density there is no dry mass either.
        [
            self.dry_kg / density.at_least(L::all(1e-9)),
            self.dry_kg / grain,
        ]
    }
}

/// Everything that is mixed, and what lies on top, in the order of the barrow's parts.
#[derive(Clone, Debug)]
pub(crate) struct Mix<L> {
    pub(crate) ground: Ground<L>,
    pub(crate) ground_dry_kg: L,
    pub(crate) shares: Vec<Share<L>>,
    wanted: Vec<Wanted<L>>,
}

impl<L: Lane> Mix<L> {
    /// Nothing but a ground.
    pub(crate) fn of(ground: Ground<L>, ground_dry_kg: L) -> Mix<L> {
        Mix {
            ground,
            ground_dry_kg,
            shares: Vec::new(),
            wanted: Vec::new(),
        }
    }

    /// Fills itself with a barrow's parts, each of the material that it has in this draw.
    pub(crate) fn fill(
        &mut self,
        barrow: &Barrow,
        soil: &Soil,
        ground: Ground<L>,
        material: impl Fn(usize, &Part) -> Material<L>,
    ) {
        self.ground = ground;
        self.ground_dry_kg = ground_dry_kg(&self.ground, soil);
        let ground_m3 = self.ground_dry_kg / self.ground.fresh_density_kg_m3();
        let zero = L::all(0.0);
        for (at, part) in barrow.parts.iter().enumerate() {
            let material = material(at, part);
            let least = LEAST_OF_TYPICAL * part.dry_kg_m3;
            let wanted = Wanted::of(part.size, part.on_top, &material, least);
            let share = Share {
                material: material.cut(),
                dry_kg: zero,
                moist_kg: zero,
                loose_m3: zero,
            };
            // The room of the last draw serves again.
            match (self.shares.get_mut(at), self.wanted.get_mut(at)) {
                (Some(old_share), Some(old_wanted)) => {
                    *old_share = share;
                    *old_wanted = wanted;
                }
                _ => {
                    self.shares.push(share);
                    self.wanted.push(wanted);
                }
            }
        }
        let least = LEAST_OF_TYPICAL * barrow.left;
        loose_volumes([self.ground_dry_kg, ground_m3], &mut self.wanted, least);
        for (share, wanted) in self.shares.iter_mut().zip(&self.wanted) {
            share.loose_m3 = wanted.loose_m3;
            share.moist_kg = wanted.loose_m3 * share.material.loose_density_kg_m3;
            share.dry_kg = share.moist_kg * (L::all(1.0) - share.material.water_per_wet);
        }
    }

    /// Loose volume of the ground, m3.
    pub(crate) fn ground_loose_m3(&self) -> L {
        self.ground_dry_kg / self.ground.fresh_density_kg_m3()
    }
}

impl Barrow {
    /// The mix of the typical values.
    pub(crate) fn typical<L: Lane>(&self, soil: &Soil) -> Mix<L> {
        let ground = self.ground.map(L::all);
        let mut mix = Mix::of(ground, L::all(0.0));
        mix.fill(self, soil, ground, |_, part| {
            let material = self.lines[part.line].material;
            // As every draw has it, so that a draw without doubt is this to the last bit.
            let settled = material.fresh_dry_density_kg_m3 * part.settling;
            Material {
                settled_dry_density_kg_m3: settled,
                ..material
            }
            .map(L::all)
        });
        mix
    }

    /// The heaviest coarse addition: its place in the recipe.
    pub(crate) fn largest(&self) -> Option<usize> {
        super::skeleton::largest(self)
    }

    /// What the additions cost together; none if one has no price.
    pub(crate) fn cost<L: Lane>(&self, mix: &Mix<L>) -> Option<L> {
        if self.lines.iter().any(|line| line.cost.is_none()) {
            return None;
        }
        let mut sum = L::all(0.0);
        for (part, share) in self.parts.iter().zip(&mix.shares) {
            let [kg, m3] = part.rate?;
            sum += share.moist_kg * kg + share.loose_m3 * m3;
        }
        Some(sum)
    }
}
