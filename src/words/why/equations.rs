//! Whose equations a figure rests on, and where they hold.

use super::super::{METRIC, Speech, fixed};
use super::{Asked, Case, Equation, density};
use crate::blend::{FRESH_K, HALF_MIXED, SETTLED_K};
use crate::ground::{
    CRUMB_CLAY_PCT, CRUMB_MM, DUG_OVER_LYING, DUG_OVER_SETTLED, Forms, GRAIN_CLAY_PCT, PUDDLED_MM,
    SETTLED_OVER_NORMAL,
};

pub(super) fn equation(name: &str, source: &str, holds: String) -> Equation {
    Equation {
        name: name.into(),
        source: source.into(),
        holds,
    }
}

const PACKING_SOURCE: &str = "Stovall, de Larrard & Buil 1986, Powder Technol. 48:1; de Larrard \
    1999, whose constants are used from memory";

impl Case<'_> {
    pub(super) fn equations(&self) -> Vec<Equation> {
        if self.of.is_of_chemistry() {
            return self.chemistry_equations();
        }
        let mut out = Vec::new();
        match self.of {
            Asked::Class => out.extend([fine_earth(), classes()]),
            Asked::OrganicMatter => out.push(fine_earth()),
            Asked::Weight => out.push(weights()),
            Asked::Cost => out.push(pro_rata()),
            Asked::Skeleton => out.push(touching()),
            Asked::Air | Asked::AvailableWater => out.extend([held_water(), inside_grains()]),
            Asked::Drainage => out.extend([conductivity(), among_grains()]),
            Asked::Container => {
                out.extend([pots(), retention(), held_water(), inside_grains()]);
            }
            _ => {}
        }
        if self.of.packs() {
            if self.mixes() {
                out.push(filling(self.of == Asked::FreshPores));
            }
            if self.mixes() && self.of.settles_half() {
                out.push(half_way());
            }
            if self.has_ground() && self.mixes() {
                out.extend(self.forms());
            }
            if self.mixes() || !matches!(self.of, Asked::Density | Asked::Volume) {
                out.push(solids(self.speech));
            }
            if self.has_ground() {
                out.push(digging());
            }
        }
        if self.rests_on_density() {
            out.push(density_of_soil(self.speech));
        }
        if self.rests_on_water() {
            out.push(water_of_soil());
        }
        // One part alone takes the room that it takes.
        if out.is_empty() {
            out.push(alone());
        }
        out
    }

    /// The forms in which the ground packs.
    fn forms(&self) -> Vec<Equation> {
        let clay = Forms::of(&self.outcome.barrow.ground, 1.0).clay_weight;
        let mut out = Vec::new();
        if clay > 0.0 {
            out.push(two_forms());
        }
        if clay < 1.0 && self.of != Asked::Skeleton {
            out.push(single_grains());
        }
        out
    }
}

/// Every equation and rule that a figure can rest on, in the order of a computation.
pub fn equations() -> Vec<Equation> {
    let mut all = vec![
        weights(),
        fine_earth(),
        classes(),
        density_of_soil(METRIC),
        water_of_soil(),
        solids(METRIC),
        digging(),
        single_grains(),
        two_forms(),
        filling(false),
        half_way(),
        touching(),
        alone(),
        pro_rata(),
        held_water(),
        inside_grains(),
        retention(),
        pots(),
        conductivity(),
        among_grains(),
        hole_walls(),
        root_limits(),
        salt_and_crops(),
        washing(),
        release(),
        label_rates(),
    ];
    all.extend(super::chemistry::all());
    all
}

/// The rule for a soil's usual density.
fn density_of_soil(speech: Speech) -> Equation {
    let unit = |kg_m3: f64| density(kg_m3, speech);
    equation(
        tr!("Usual density of a soil: Adams, with the mineral density of Saxton & Rawls"),
        tr!(
            "Adams 1973, J. Soil Sci. 24:10; Saxton & Rawls 2006, Soil Sci. Soc. Am. J. 70:1569, equation 6 at no organic matter"
        ),
        say!(
            "Clay to 60 %, organic matter to 8 %. On 4,145 measured topsoils it is right on the middle within {}, and nine in ten lie within {} up to 1 % organic matter, {} up to 3 % and {} up to 8 %; above, to 20 %, it reads low by {} and errs by {}.",
            unit(20.0),
            unit(180.0),
            unit(250.0),
            unit(290.0),
            unit(140.0),
            unit(550.0)
        ),
    )
}

fn solids(speech: Speech) -> Equation {
    equation(
        tr!("Density of solid matter: harmonic mean of organic matter, sand, silt and clay"),
        tr!(
            "Ruehlmann & Korschens, as cited by Robinson et al. 2022, Scientific Reports; char after Brewer et al. 2014, from memory; gravel as quartz"
        ),
        say!(
            "On measured soils right within {}. A material's own density of solids stands where it is known.",
            density(90.0, speech)
        ),
    )
}

fn digging() -> Equation {
    equation(
        tr!("How a ground digs and settles"),
        tr!("Common practice and a choice; no single source"),
        say!(
            "Dug it stands at its density over {}, and at least a factor {} looser than settled; it settles to what it was, at most {} times the usual density of its texture. Denser is the work of feet and wheels.",
            fixed(DUG_OVER_LYING, 2),
            fixed(DUG_OVER_SETTLED, 2),
            fixed(SETTLED_OVER_NORMAL, 2)
        ),
    )
}

fn filling(fresh: bool) -> Equation {
    let (state, k) = if fresh {
        (tr!("freshly turned"), fixed(FRESH_K, 2))
    } else {
        (tr!("settled"), fixed(SETTLED_K, 0))
    };
    equation(
        tr!("How parts fill each other's gaps: compressible packing"),
        PACKING_SOURCE,
        say!(
            "Hard, compact grains, well mixed; packing index {}, {}. On 18 measured mixes of natural grains it errs by 2.4 points of pore space (root mean square), on 48 of spheres by 2.8. Fine parts that stick fill less than it says. Not in it: swelling, frost, roots, clods that stay whole, kneading while wet, perlite that floats.",
            k,
            state
        ),
    )
}

fn two_forms() -> Equation {
    equation(
        tr!("Clay in two forms: crumbs and puddled"),
        tr!("Sizes by common practice; weight of a crumb from measured clods"),
        say!(
            "In full from {} % clay on. Crumbs count as {} mm, slaked clay as {} mm; the crumbs hold only while they are not kneaded or sealed by rain.",
            fixed(CRUMB_CLAY_PCT, 0),
            fixed(CRUMB_MM, 0),
            fixed(PUDDLED_MM, 2)
        ),
    )
}

fn single_grains() -> Equation {
    equation(
        tr!("Size of single grains: geometric mean of sand, silt and clay"),
        tr!("Shirazi & Boersma 1984, Soil Sci. Soc. Am. J. 48:142"),
        say!(
            "A ground of {} % clay or less in full, up to {} % in part.",
            fixed(GRAIN_CLAY_PCT, 0),
            fixed(CRUMB_CLAY_PCT, 0)
        ),
    )
}

fn weights() -> Equation {
    units(
        tr!("Sum of dry weights and of water"),
        tr!("Nothing is lost in mixing. What dries or is rained on afterwards is not in it."),
    )
}

fn pro_rata() -> Equation {
    units(
        tr!("Pro rata: price times amount used over amount priced"),
        tr!("For what is sold loose; of bags one pays whole ones."),
    )
}

fn alone() -> Equation {
    units(
        tr!("Dry weight over settled volume, of one part alone"),
        tr!("As good as the weight and the settling of that part are known."),
    )
}

fn fine_earth() -> Equation {
    equation(
        tr!("Sum by dry weight, of what is under 2 mm"),
        tr!("Soil Survey Manual 2017, Agriculture Handbook 18, chapter 3, for the limit of 2 mm"),
        tr!("Any blend: nothing is lost in mixing. Powders and liquids count in the weight, but their minerals give no texture.")
            .into(),
    )
}

fn classes() -> Equation {
    equation(
        tr!("The twelve texture classes of the United States"),
        tr!("Soil Survey Manual 2017, Agriculture Handbook 18, chapter 3, in the wording of Benham & Ahrens 2009"),
        tr!("Any sand, silt and clay, with silt from 0.002 to 0.05 mm; each falls in exactly one class. Other countries draw other lines.")
            .into(),
    )
}

fn half_way() -> Equation {
    let ends = HALF_MIXED.ends();
    equation(
        tr!("How far a natural bed goes along with the packing"),
        tr!(
            "Fitted on 7,980 measured horizons of sand and clay: Gupta et al. 2021, Earth Syst. Sci. Data 13:1593; Leenaars 2014, Africa Soil Profiles Database, ISRIC report 2012/03"
        ),
        say!(
            "A settled bed; {} of the full effect, eight in ten within {} to {}. Half way it came within 2 to 3 points of the mean pore space of four sets; single places scatter by 4 to 8. Fitted on those same soils, so itself an estimate.",
            fixed(HALF_MIXED.typical, 1),
            fixed(ends.low, 2),
            fixed(ends.high, 2)
        ),
    )
}

fn touching() -> Equation {
    equation(
        tr!("Share at which coarse grains just touch, from the same packing"),
        PACKING_SOURCE,
        tr!("Grains of one size among much finer ones; known within about 5 points. Several coarse parts count as one size, their mean by weight.")
            .into(),
    )
}

fn water_of_soil() -> Equation {
    equation(
        tr!("Water of a ground a day or two after rain"),
        tr!("Saxton & Rawls 2006, Soil Sci. Soc. Am. J. 70:1569, equations 2, 3, 5 to 9, at 33 kPa"),
        tr!("Clay to 60 %, organic matter to 8 %. From 35 to 40 % clay on, density counts for more than published, as measured clays have it. Its errors on 6,406 measured horizons are in the range.")
            .into(),
    )
}

fn held_water() -> Equation {
    equation(
        tr!("Water of the fine earth, once drained and where plants give up"),
        tr!("Saxton & Rawls 2006, Soil Sci. Soc. Am. J. 70:1569, equations 1 to 3 and 5 to 9, at 33 and 1500 kPa"),
        tr!("Clay to 60 %, organic matter to 8 %, densities of 0.9 to 1.3 times the usual. Moved by the middle of its errors on measured sandy and loamy soils; what is left, some 4 points of the volume, is in the range. Room that mixing and crumbs add counts as air.")
            .into(),
    )
}

fn inside_grains() -> Equation {
    equation(
        tr!("Water inside pieces of peat, bark, compost, char and light minerals"),
        tr!("Peats after Liu & Lennartz 2019, Hydrol. Process. 33:101, from memory; the rest common practice, tables of the trade"),
        tr!("Each kind keeps a share of its own pores, whatever stands around it. Not measured in mixes, so a wide doubt is drawn.")
            .into(),
    )
}

fn retention() -> Equation {
    equation(
        tr!("Water at every height between: a curve through the two points"),
        tr!("van Genuchten 1980, Soil Sci. Soc. Am. J. 44:892"),
        tr!("Between 1 and 10 kPa it is within about 3 points of measured cores, group by group. Some air stays trapped in loams; open pores between crumbs or coarse grains empty by their size.")
            .into(),
    )
}

fn pots() -> Equation {
    equation(
        tr!("Water kept by a pot: the curve summed over its height"),
        tr!("White & Mastalerz 1966, Proc. Am. Soc. Hortic. Sci. 89:758; Bilderback & Fonteno 1987, J. Environ. Hortic. 5:180; summed at the points of Abramowitz & Stegun 1964, table 25.4"),
        tr!("Mixes that drain freely at the bottom, settled, without roots. Mixes of clay with crumbs were hardly ever measured in pots.")
            .into(),
    )
}

fn conductivity() -> Equation {
    equation(
        tr!("Water through a full soil, by the pores that drain"),
        tr!("Saxton & Rawls 2006, Soil Sci. Soc. Am. J. 70:1569, equations 16 and 18"),
        tr!("On measured soils right within a factor of about 3, in clays 10, which is in the range. Cracks, worm holes and a pan below are not in it.")
            .into(),
    )
}

fn among_grains() -> Equation {
    equation(
        tr!("Water past coarse grains, and between them"),
        tr!("Maxwell 1873 while they float; Kozeny & Carman 1937 between touching ones"),
        tr!("Right within a factor of 2 to 3 on the few mixes that were measured.").into(),
    )
}

fn hole_walls() -> Equation {
    equation(
        tr!("What a hole or a ring in the ground shows"),
        tr!("Steady well of Elrick & Reynolds, shape factors of Zhang et al. 1998, both from memory; classes of the Soil Survey Manual 2017, of Cornell University and University of Florida extension, and of the USDA soil quality test kit guide, 1999, from memory"),
        tr!("A hole loses water by its walls, so what falls in it is some ten times the conductivity; a ring of 15 cm reads two to three times too fast.")
            .into(),
    )
}

fn root_limits() -> Equation {
    equation(
        tr!("Densities that trouble roots"),
        tr!(
            "USDA Natural Resources Conservation Service, soil quality tables, in part from memory; University of Florida after Harris 1990 and Morris & Lowery 1988; a university's lecture table"
        ),
        tr!("Mineral soils, moist. For one class the tables differ by up to a fifth.").into(),
    )
}

pub(super) fn salt_and_crops() -> Equation {
    equation(
        tr!("What salt costs a crop"),
        tr!("Maas 1990, table of the US Salinity Laboratory, in the form of Maas & Hoffman 1977; beet while it germinates after FAO Irrigation and Drainage Paper 29, from memory"),
        tr!("Grown plants in the field, in percent of the yield without salt. Seedlings are more sensitive; other plants are not told.")
            .into(),
    )
}

pub(super) fn washing() -> Equation {
    equation(
        tr!("What washes salt out"),
        tr!("FAO Irrigation and Drainage Paper 29, and Hoffman 1980, both from memory"),
        tr!("Salt as a whole, in soil that drains. Sodium held by clay needs gypsum first.").into(),
    )
}

pub(super) fn release() -> Equation {
    equation(
        tr!("Nitrogen of the first years"),
        tr!(
            "Colorado State University extension, GardenNotes, second-hand; a table of Oregon State University, EM 9217, from memory; locking up by the carbon that microbes keep"
        ),
        tr!("Composts of one ratio of carbon to nitrogen differ threefold.").into(),
    )
}

fn label_rates() -> Equation {
    equation(
        tr!("A label's rate for a container"),
        tr!("Plain arithmetic; where a label gives no depth, the furrow slice of soil tests: 2,000,000 pounds of dry soil to an acre, 6 2/3 inches deep"),
        tr!("What a label means by an area is soil worked as deep as it says; in a deep pot the readings part.")
            .into(),
    )
}

/// Plain arithmetic, in exact units.
fn units(name: &str, holds: &str) -> Equation {
    equation(
        name,
        tr!("Plain arithmetic; units as defined in NIST Special Publication 811, 2008, appendix B"),
        holds.into(),
    )
}
