//! The room that a mix takes in each state, from one table of filling for all draws.

use super::mix::{Mix, Part};
use super::packing::{FRESH_K, Filling, SETTLED_K, full_share, opening, root, threshold_of};
use super::skeleton::{self, Touch};
use super::{Doubt, Masses, Volumes};
use crate::ground::{Form, Forms, GRAVEL_SOLID_KG_M3, PUDDLED_MM};
use crate::lane::Lane;

/// Shrinkage at which the error of the packing is stated.
const STATED_SHRINKAGE: f64 = 0.20;

/// Places of the ground in the table of filling, after the additions.
#[derive(Clone, Copy)]
enum Place {
    Puddled,
    Crumbs,
    Grains,
    Gravel,
}

/// Parts in fixed sizes, and room to work in.
pub(crate) struct Heap<L> {
    filling: Filling,
    /// How many of the parts can carry, and how many take room; the first ones.
    coarse: usize,
    packing: usize,
    grain_mm: f64,
    log_sizes: Box<[f64]>,
    settled: Rooms<L>,
    fresh: Rooms<L>,
    limits: Box<[[L; 2]]>,
    /// What fine grains leave open at the coarse set's size; by the logarithm of the size.
    opening: (L, [L; 2]),
}

/// Unmixed volumes of the additions and of their grains, and what coarse ones and the rest give
/// each as a carrier.
struct Rooms<L> {
    parts: Box<[[L; 2]]>,
    from_coarse: Box<[L]>,
    from_rest: Box<[L]>,
    s: f64,
    k: f64,
}

impl<L: Lane> Rooms<L> {
    fn of(k: f64, packing: usize) -> Rooms<L> {
        Rooms {
            parts: vec![[L::all(0.0); 2]; packing].into(),
            from_coarse: vec![L::all(0.0); packing].into(),
            from_rest: vec![L::all(0.0); packing].into(),
            s: full_share(k),
            k,
        }
    }

    fn fill(&mut self, mix: &Mix<L>, filling: &Filling, coarse: usize, settled: bool) {
        for (room, share) in self.parts.iter_mut().zip(&mix.shares) {
            *room = share.room(settled);
        }
        let (front, back) = self.parts.split_at(coarse);
        let sums = self.from_coarse.iter_mut().zip(&mut self.from_rest);
        for (carrier, (from_coarse, from_rest)) in sums.enumerate() {
            *from_coarse = filling.weigh_all(carrier, 0, front, self.s);
            *from_rest = filling.weigh_all(carrier, coarse, back, self.s);
        }
    }
}

impl<L: Lane> Heap<L> {
    /// Room for parts beside a ground whose single grains have a size in mm.
    pub(crate) fn of(parts: &[Part], grain_mm: f64) -> Heap<L> {
        let coarse = parts.iter().filter(|part| part.carries).count();
        let packing = parts.iter().filter(|part| part.packs).count();
        let mut sizes: Vec<f64> = parts
            .iter()
            .take(packing)
            .map(|part| part.grain_mm)
            .collect();
        let log_sizes = sizes.iter().map(|size| libm::log(*size)).collect();
        sizes.extend([
            PUDDLED_MM,
            crate::ground::CRUMB_MM,
            grain_mm,
            skeleton::GRAVEL_MM,
        ]);
        Heap {
            filling: Filling::of(&sizes),
            coarse,
            packing,
            grain_mm,
            log_sizes,
            settled: Rooms::of(SETTLED_K, packing),
            fresh: Rooms::of(FRESH_K, packing),
            limits: vec![[L::all(0.0); 2]; packing + 1].into(),
            opening: (L::all(f64::NAN), [L::all(0.0); 2]),
        }
    }

    /// Lays a mix into the heap.
    pub(crate) fn lay(&mut self, mix: &Mix<L>) {
        self.settled.fill(mix, &self.filling, self.coarse, true);
        self.fresh.fill(mix, &self.filling, self.coarse, false);
    }

    /// Volume of neighbouring parts with the ground, or a part of it, in one of its places.
    fn pack(&mut self, settled: bool, parts: [usize; 2], place: Place, ground: [L; 2]) -> L {
        let rooms = if settled { &self.settled } else { &self.fresh };
        let [from, to] = parts;
        let place = self.packing + place as usize;
        for (slot, carrier) in self.limits.iter_mut().zip(from..to) {
            let mut limit = self.filling.weigh(carrier, place, ground, rooms.s);
            if from < self.coarse {
                limit += rooms.from_coarse[carrier];
            }
            if to > self.coarse {
                limit += rooms.from_rest[carrier];
            }
            *slot = [rooms.parts[carrier][0], limit];
        }
        let others = self
            .filling
            .weigh_all(place, from, &rooms.parts[from..to], rooms.s);
        self.limits[to - from] = [ground[0], others + ground[0] * rooms.s];
        root(&self.limits[..=to - from], rooms.s, rooms.k)
    }

    /// The volumes of the mix laid in, in each state.
    pub(crate) fn volumes(
        &mut self,
        mix: &Mix<L>,
        masses: &Masses<L>,
        doubt: &Doubt<L>,
    ) -> Volumes<L> {
        let (zero, one) = (L::all(0.0), L::all(1.0));
        let ground = &mix.ground;
        let forms = Forms::of(ground, self.grain_mm);
        let all = [0, self.packing];
        let settled_m3 = mix.ground_dry_kg / ground.settled_density_kg_m3();
        let fresh_m3 = mix.ground_loose_m3();
        let room = |volume: L, form: &Form<L>| [volume, mix.ground_dry_kg / form.envelope_kg_m3];
        let sum = |rooms: &Rooms<L>, ground: L| {
            rooms
                .parts
                .iter()
                .fold(ground, |sum, [volume, _]| sum + *volume)
        };
        let unmixed = sum(&self.settled, settled_m3);
        let unmixed_fresh = sum(&self.fresh, fresh_m3);
        let half = |packed: L| unmixed + (packed - unmixed) * doubt.half_mixed;

        let clay = forms.clay_weight;
        let grain = one - clay;
        let (mut puddled, mut half_mixed, mut crumbly, mut fresh) = (zero, zero, zero, zero);
        if one.any_above(clay) {
            let packed = self.pack(true, all, Place::Grains, room(settled_m3, &forms.grains));
            puddled += grain * packed;
            half_mixed += grain * half(packed);
            crumbly += grain * half(packed);
            fresh += grain * self.pack(false, all, Place::Grains, room(fresh_m3, &forms.grains));
        }
        if clay.any_above(zero) {
            let packed = self.pack(true, all, Place::Puddled, room(settled_m3, &forms.puddled));
            let crumbs = self.pack(true, all, Place::Crumbs, room(settled_m3, &forms.crumbs));
            puddled += clay * packed;
            half_mixed += clay * half(packed);
            crumbly += clay * half(packed).at_least(crumbs);
            fresh += clay * self.pack(false, all, Place::Crumbs, room(fresh_m3, &forms.crumbs));
        }
        let below = ground.crumb.at_most(L::all(0.5)) * 2.0;
        let above = (ground.crumb - L::all(0.5)).at_least(zero) * 2.0;
        let settled = puddled + (half_mixed - puddled) * below + (crumbly - half_mixed) * above;

        // The packing's error is one of pore space and grows with what filling did.
        let solid = masses.solid_m3;
        let erring = |volume: L, unmixed: L| {
            let shrinkage = one - volume / unmixed;
            let error = doubt.pore_space * shrinkage * (1.0 / STATED_SHRINKAGE);
            let divisor = one - error * volume / solid;
            volume / divisor.at_most(volume / solid).at_least(volume / unmixed)
        };
        let settled = erring(settled, unmixed);
        Volumes {
            loose_parts_m3: masses.loose_m3,
            fresh_m3: erring(fresh, unmixed_fresh).at_least(settled),
            settled_m3: settled,
            puddled_m3: erring(puddled, unmixed).at_most(settled),
            half_mixed_m3: half_mixed,
            crumbly_m3: crumbly,
        }
    }

    /// Whether the coarse grains of the mix laid in touch, settled and puddled; `largest` is the
    /// part that more is asked of.
    pub(crate) fn touch(&mut self, mix: &Mix<L>, largest: Option<usize>) -> Touch<L> {
        let zero = L::all(0.0);
        let ground = &mix.ground;
        let gravel_kg = mix.ground_dry_kg * ground.gravel;
        let gravel = skeleton::gravel_room(gravel_kg);
        let earth_kg = mix.ground_dry_kg - gravel_kg;
        let earth_m3 = mix.ground_dry_kg / ground.settled_density_kg_m3()
            - gravel_kg * (1.0 / GRAVEL_SOLID_KG_M3);
        // The rest of the ground keeps the room it has.
        let earth = [
            earth_m3.at_least(zero),
            earth_kg / ground.fine_solid_density_kg_m3,
        ];
        let rest = self.pack(true, [self.coarse, self.packing], Place::Puddled, earth);
        let mut judge = |more_m3: L| self.judge(mix, gravel_kg, gravel, rest, largest, more_m3);
        let (mut touch, mut lack) = judge(zero);
        let mut more = zero;
        if largest.is_some() && lack.any_above(zero) {
            // The coarse set grows almost by what is added, so a secant finds the root in a few steps.
            let mut before = (zero, lack);
            let mut going = L::all(1.0);
            more = lack.at_least(zero);
            for _ in 0..SECANTS {
                (_, lack) = judge(more);
                let rise = (before.1 - lack) / (more - before.0);
                let step = lack / rise.at_least(L::all(0.05));
                // A lane that touches already, or stands on the root, has no step.
                let up = step.where_above(zero, step, zero);
                let step = (zero - step).where_above(zero, step, up) * going;
                before = (more, lack);
                more = (more + step).at_least(zero);
                // A step this small leaves an error far below the roundings of what it is told in.
                let near = (rest + more) * LAST_STEP;
                going = (step * step).where_above(near * near, going, zero);
                if !going.any_above(zero) {
                    break;
                }
            }
        }
        touch.more_m3 = match largest {
            // No more of what is nothing but water makes grains touch.
            Some(at) => self.settled.parts[at][0].where_above(zero, more, L::all(f64::NAN)),
            None => more,
        };
        touch
    }

    /// How the grains stand, and the coarse volume that lacks, with more of the largest part, as
    /// its settled volume.
    fn judge(
        &mut self,
        mix: &Mix<L>,
        gravel_kg: L,
        gravel: [L; 2],
        rest: L,
        largest: Option<usize>,
        more_m3: L,
    ) -> (Touch<L>, L) {
        let one = L::all(1.0);
        let mut kg = gravel_kg;
        let mut log_kg = gravel_kg * skeleton::log_gravel_mm();
        let mut solids = gravel[1];
        let place = self.packing + Place::Gravel as usize;
        let s = self.settled.s;
        let mut gravel_limit = gravel[0] * s;
        let grown = largest.map(|at| {
            let [volume, solid] = self.settled.parts[at];
            // A draw of nothing but water takes no room.
            let volume = volume.at_least(L::all(1e-300));
            let more_kg = more_m3 * mix.shares[at].dry_kg / volume;
            (at, [more_m3, more_m3 * solid / volume], more_kg)
        });
        for carrier in 0..self.coarse {
            let mut part = self.settled.parts[carrier];
            let mut part_kg = mix.shares[carrier].dry_kg;
            let mut limit =
                self.settled.from_coarse[carrier] + self.filling.weigh(carrier, place, gravel, s);
            if let Some((at, more, more_kg)) = grown {
                limit += self.filling.weigh(carrier, at, more, s);
                if at == carrier {
                    part = [part[0] + more[0], part[1] + more[1]];
                    part_kg += more_kg;
                }
            }
            gravel_limit += self.filling.weigh(place, carrier, part, s);
            kg += part_kg;
            log_kg += part_kg * self.log_sizes[carrier];
            solids += part[1];
            self.limits[carrier] = [part[0], limit];
        }
        self.limits[self.coarse] = [gravel[0], gravel_limit];
        let coarse = root(&self.limits[..=self.coarse], s, self.settled.k);
        let none = L::all(1e-300);
        let alone = self.coarse == 1 && !gravel_kg.any_above(L::all(0.0));
        let log_mm = if alone {
            L::all(self.log_sizes[0])
        } else {
            log_kg / kg.at_least(none)
        };
        // Draws often share the size, and functions are dear.
        let (known, open) = self.opening;
        let open = if known == log_mm {
            open
        } else {
            opening(L::all(PUDDLED_MM) / log_mm.each(libm::exp))
        };
        self.opening = (log_mm, open);
        let porosity = one - solids / coarse.at_least(none);
        let threshold = threshold_of(porosity, open);
        let share = coarse / (coarse + rest).at_least(none);
        let touch = Touch {
            share,
            threshold,
            more_m3,
            porosity,
            log_mm,
            grains_m3: solids,
        };
        (touch, threshold / (one - threshold) * rest - coarse)
    }
}

/// A secant step that is the last, against the room of the whole.
const LAST_STEP: f64 = 1e-8;
/// Secant steps at the most.
const SECANTS: usize = 40;
