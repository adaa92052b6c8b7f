//! The list of what to buy and do, in words.

use super::find::{errand_error_text, lots_text};
use super::sweep::amount_text;
use super::{mass_text, volume_text};
use crate::caution::{LIFT_KG, Lift};
use crate::errand::list::{BARROW_KG, BARROW_L, Buy, Item, List, ListFault};
use crate::errand::work::{WorkPlace, goes};
use crate::errand::{Errand, Lot};
use crate::quantity::{Dimension, LITRES_PER_M3, Unit};
use crate::recipe::{Amount, RELEASE, Recipe};
use crate::tongue::Saying;
use crate::words::{
    Speech, Units, cost_text, cost_told, fill_fault_text, fixed, shown, significant,
};

/// Heads of the table: what, how it is bought, what is needed, carried, left over, barrow-loads,
/// money.
pub const LIST_HEADS: [Saying; 7] = [
    said!("Material"),
    said!("Buy"),
    said!("Needed"),
    said!("To carry"),
    said!("Left over"),
    said!("Barrow-loads"),
    said!("Cost"),
];
/// Above the order of work.
pub const ORDER: Saying = said!("In this order");
/// The head of the sheet.
pub const SHEET_TITLE: Saying = said!("What to buy and do");
/// Where nothing is bought.
pub const NOTHING_TO_BUY: Saying = said!("Nothing is added yet, so there is nothing to buy.");
/// That the sheet was laid for the printer.
pub const LIST_LAID: Saying = said!("The list is ready for the printer.");
/// That the table was saved.
pub const LIST_SAVED: Saying = said!("The list is saved as a table.");
const MM_PER_M: f64 = 1000.0;
/// A thickness that is spread is not told more finely, mm.
const LAYER_STEP_MM: f64 = 1.0;
/// Below this no layer can be spread with a rake: it is strewn.
const STREWN_MM: f64 = 3.0;
/// What sinks less is not spoken of, as a share.
const SINKS_LEAST: f64 = 0.01;

/// A list in words.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ListTold {
    /// A row for each material, under [`LIST_HEADS`].
    pub rows: Vec<[String; LIST_HEADS.len()]>,
    /// Money, loads, ground: a sentence each.
    pub sums: Vec<String>,
    /// What must be said of it.
    pub notes: Vec<String>,
    /// The order of work.
    pub work: Vec<String>,
}

/// The list in words.
pub fn list_told(recipe: &Recipe, errand: &Errand, list: &List, speech: Speech) -> ListTold {
    let told = Told {
        recipe,
        errand,
        list,
        speech,
    };
    if list.items.is_empty() {
        return ListTold {
            sums: vec![NOTHING_TO_BUY.text().into()],
            ..ListTold::default()
        };
    }
    ListTold {
        rows: list.items.iter().map(|item| told.row(item)).collect(),
        sums: told.sums(),
        notes: told.notes(),
        work: told.work(),
    }
}

/// Why there is no list.
pub fn list_fault_text(
    fault: &ListFault,
    recipe: &Recipe,
    errand: &Errand,
    speech: Speech,
) -> String {
    match fault {
        ListFault::Recipe(error) => errand_error_text(error, &errand.offers, recipe),
        ListFault::Fill(fault) => fill_fault_text(fault, speech),
    }
}

/// What the sheet says of its making.
pub fn made_text() -> String {
    say!(
        "Made by Barrowmix {}, from estimates. The label on a bag and a laboratory’s report go before them.",
        RELEASE
    )
}

struct Told<'a> {
    recipe: &'a Recipe,
    errand: &'a Errand,
    list: &'a List,
    speech: Speech,
}

impl Told<'_> {
    fn name(&self, id: &str) -> String {
        let found = self.recipe.find(id);
        found.map_or(id, |found| found.name()).to_owned()
    }

    fn volume(&self, m3: f64) -> String {
        volume_text(m3, self.speech)
    }

    fn mass(&self, kg: f64) -> String {
        mass_text(kg, self.speech)
    }

    fn money(&self, value: f64) -> String {
        exact_money(value, self.recipe.currency.as_deref())
    }

    fn row(&self, item: &Item) -> [String; LIST_HEADS.len()] {
        let cost = match item.cost {
            None => tr!("no price").into(),
            Some(cost) if !cost.is_in_doubt() => self.money(cost.typical),
            Some(cost) => {
                let told = cost_told(cost, self.recipe.currency.as_deref());
                format!("{} ({})", told.value, told.range)
            }
        };
        let brought = match item.loads {
            _ if item.delivery <= 0.0 => String::new(),
            1 => say!(" + {} to bring it", self.money(item.delivery)),
            loads => say!(
                " + {} to bring it in {} loads",
                self.money(item.delivery),
                fixed(loads.into(), 0)
            ),
        };
        [
            self.name(&item.material),
            self.buy(item),
            [
                &self.volume(item.need.loose_m3),
                ", ",
                &*self.mass(item.need.moist_kg),
            ]
            .concat(),
            self.carry(item),
            self.left(item),
            fixed(item.barrow_loads, 0),
            cost + &brought,
        ]
    }

    fn buy(&self, item: &Item) -> String {
        match &item.buy {
            Buy::Lots {
                count,
                size,
                loose,
                offer,
                ..
            } => {
                let offer = offer.and_then(|at| self.errand.offers.get(at));
                if let Some(offer) = offer.filter(|_| *loose) {
                    return lots_text(offer, *count);
                }
                let one = amount_text(size.size.value, size.size.unit);
                let count = f64::from(*count);
                say_many!(count, "{} bag of {}", "{} bags of {}", fixed(count, 0), one)
            }
            Buy::Mass(kg) => say!("{} loose", self.mass(*kg)),
            Buy::Volume(m3) => say!("{} loose", self.volume(*m3)),
        }
    }

    fn carry(&self, item: &Item) -> String {
        let all = self.mass(item.moist_kg);
        match &item.buy {
            Buy::Lots {
                loose: false, lot, ..
            } => say!("{}, {} a bag", all, self.mass(lot.moist_kg)),
            _ => all,
        }
    }

    fn left(&self, item: &Item) -> String {
        if item.left_kg < -1e-6 {
            return tr!("too little").into();
        }
        // Less than a hundredth of what is bought is nothing to keep.
        if item.left_kg < 0.01 * item.moist_kg {
            return tr!("nothing").into();
        }
        let by_mass = match &item.buy {
            Buy::Lots { size, .. } => size.size.unit.dimension() == Dimension::Mass,
            Buy::Mass(_) => true,
            Buy::Volume(_) => false,
        };
        if by_mass {
            self.mass(item.left_kg)
        } else {
            self.volume(item.left_m3)
        }
    }

    fn sums(&self) -> Vec<String> {
        let list = self.list;
        let mut sums = Vec::new();
        if let Some(cost) = list.cost {
            let mut text = if cost.is_in_doubt() {
                let told = cost_told(cost, self.recipe.currency.as_deref());
                say!("In all about {}, likely {}", told.value, told.range)
            } else {
                say!("In all {}", self.money(cost.typical))
            };
            if list.delivery > 0.0 {
                text += &say!(", of it {} for bringing it", self.money(list.delivery));
            }
            sums.push(text + ".");
        }
        sums.push(say!(
            "To carry: {}, {}.",
            self.mass(list.moist_kg),
            loads_text(list.barrow_loads)
        ));
        if let Some(dug) = &list.ground {
            sums.push(say!(
                "Ground to dig and carry: {}, {} loose, {}.",
                self.mass(dug.moist_kg),
                self.volume(dug.loose_m3),
                loads_text(dug.barrow_loads)
            ));
        }
        if self.list.factor != 1.0 {
            sums.push(say!(
                "To fill {} once settled, every amount of the recipe is multiplied by {}.",
                self.volume(list.work.settled_l / LITRES_PER_M3),
                significant(list.factor, 3)
            ));
        }
        sums
    }

    fn notes(&self) -> Vec<String> {
        let mut notes = Vec::new();
        for item in &self.list.items {
            for note in self.notes_of(item) {
                // Of a material that is bought in several ways some are the same.
                if !notes.contains(&note) {
                    notes.push(note);
                }
            }
        }
        let waste = self.errand.waste_pct.filter(|waste| *waste > 0.0);
        notes.extend(
            waste.map(|waste| say!("{} % is counted as waste and bought too.", shown(waste))),
        );
        notes.push(say!(
            "A barrow-load is {} or {}, whichever comes first.",
            self.volume(BARROW_L / LITRES_PER_M3),
            self.mass(BARROW_KG)
        ));
        notes
    }

    fn notes_of(&self, item: &Item) -> Vec<String> {
        let mut notes = Vec::new();
        let name = self.name(&item.material);
        if item.cost.is_none() {
            notes.push(say!(
                "{} has no price, so there is no sum. Give it one under On sale.",
                name
            ));
        }
        if item.invented {
            notes.push(say!("The price of {} is invented: put in yours.", name));
        }
        if let Buy::Lots {
            count,
            short,
            lot,
            loose,
            offer,
            ..
        } = &item.buy
        {
            if *short > 0 {
                notes.push(say!(
                    "{}: only {} of {} are on sale.",
                    name,
                    fixed((*count).into(), 0),
                    fixed(f64::from(*count) + f64::from(*short), 0)
                ));
            }
            if !loose {
                notes.extend(self.lifting(&name, lot));
            }
            let offer = offer.and_then(|at| self.errand.offers.get(at));
            if offer.is_some_and(|offer| offer.water_per_wet_pct.is_some())
                && lot.counted_m3 < 0.99 * lot.loose_m3
            {
                notes.push(say!(
                    "{} is sold damp and lies loose: a litre of it counts for {} L.",
                    name,
                    significant(lot.counted_m3 / lot.loose_m3, 2)
                ));
            }
        }
        notes
    }

    /// What is said of a heavy bag.
    fn lifting(&self, name: &str, lot: &Lot) -> Option<String> {
        let most_kg = Lift::FROM_GROUND.most_kg();
        let bag = self.mass(lot.moist_kg);
        if lot.moist_kg > LIFT_KG {
            Some(say!(
                "A bag of {} weighs {}, more than the {} that one person should ever lift: take two, or have it brought.",
                name,
                bag,
                self.mass(LIFT_KG)
            ))
        } else if lot.moist_kg > most_kg {
            Some(say!(
                "A bag of {} weighs {}; from the ground about {} is the most for a good lift. Take two people or a cart.",
                name,
                bag,
                self.mass(most_kg)
            ))
        } else {
            None
        }
    }

    fn work(&self) -> Vec<String> {
        let work = &self.list.work;
        let mut told = vec![
            tr!("Read the cautions of this recipe, the labels on the bags, and a laboratory’s report if there is one: they go before this list.")
                .to_owned(),
        ];
        let is_dug = match work.place {
            WorkPlace::Bed { .. } => !work.layers.is_empty(),
            WorkPlace::Filled { .. } => true,
        };
        if work.has_ground && is_dug {
            told.push(
                tr!("Dig only when a handful of the clay crumbles and does not smear: dug wet, it turns to clods.")
                    .into(),
            );
        }
        match work.place {
            WorkPlace::Bed {
                area_m2, depth_m, ..
            } => {
                if is_dug {
                    self.dig_in(area_m2, depth_m, &mut told);
                }
            }
            WorkPlace::Filled {
                count, pots, from, ..
            } => {
                if let Some(dig) = from.filter(|_| work.has_ground) {
                    told.push(say!(
                        "Take the ground from {}, {} deep and no deeper.",
                        self.area(dig.area_m2),
                        self.length(dig.depth_m)
                    ));
                }
                let ground = if work.has_ground {
                    tr!("the ground first")
                } else {
                    tr!("all of it")
                };
                let names = self.layer_names();
                let then = if names.is_empty() || !work.has_ground {
                    String::new()
                } else {
                    say!(", then {}", names)
                };
                told.push(say!(
                    "Mix on a sheet: {}{}. Turn the heap over three times.",
                    ground,
                    then
                ));
                let each = self.volume(work.fresh_l / count / LITRES_PER_M3);
                let number = fixed(count, 0);
                let fill = match (count > 1.5, pots) {
                    (true, true) => say!("Fill each of the {} pots with {}", number, each),
                    (true, false) => say!("Fill each of the {} beds with {}", number, each),
                    (false, true) => say!("Fill the pot with {}", each),
                    (false, false) => say!("Fill the bed with {}", each),
                };
                told.push([&fill, &*self.heaps()].concat());
            }
        }
        told.push(tr!("Water it gently until all of it is moist.").into());
        told.extend(self.settles().filter(|_| is_dug));
        if !work.mulches.is_empty() {
            let layers = self.layers(&work.mulches, false);
            told.push(say!("Lay on top, off the stems: {}.", layers));
        }
        told.push(self.weighs());
        told
    }

    /// How what is added gets into a bed that is dug where it lies.
    fn dig_in(&self, area_m2: f64, depth_m: f64, told: &mut Vec<String>) {
        let layers = &self.list.work.layers;
        let all_mm: f64 = layers.iter().filter_map(|(_, mm)| *mm).sum();
        let depth = self.length(depth_m);
        if all_mm > depth_m * MM_PER_M {
            told.push(say!("What is added is thicker than what is dug, so turned in from above it would not be mixed. Dig {} out, {} deep, and mix it on a sheet: the ground first, then {}. Turn the heap over three times.", self.area(area_m2), depth, self.layer_names()));
            told.push(tr!("Fill it back in layers.").into());
            return;
        }
        told.push(say!(
            "Spread evenly over the {}: {}.",
            self.area(area_m2),
            self.layers(layers, true)
        ));
        let in_goes = layers
            .iter()
            .any(|(_, mm)| mm.is_some_and(|mm| goes(mm) > 1));
        told.push(if in_goes {
            say!(
                "After each go turn it in to {}, no deeper, and break the clods as you go.",
                depth
            )
        } else {
            say!(
                "Turn it in to {}, no deeper, and break the clods as you go.",
                depth
            )
        });
    }

    /// The names of what is mixed in.
    fn layer_names(&self) -> String {
        let names: Vec<String> = self
            .list
            .work
            .layers
            .iter()
            .filter_map(|(line, _)| self.recipe.additions.get(*line))
            .map(|addition| self.name(&addition.material))
            .collect();
        names.join(", ")
    }

    /// How high what is filled is heaped; the end of a sentence.
    fn heaps(&self) -> String {
        match self.list.work.place {
            WorkPlace::Filled {
                height_m,
                sinks,
                full,
                ..
            } if sinks >= SINKS_LEAST => {
                let share = fixed(100.0 * sinks, 0);
                let above = match height_m {
                    Some(height_m) => {
                        let settled_m = height_m * full.unwrap_or(1.0).min(1.0);
                        say!(", about {}", self.length(settled_m * sinks))
                    }
                    None => String::new(),
                };
                say!(
                    ", in two goes, and heap it {} % higher than it shall stand{}: so much it settles over a season. Top up then.",
                    share,
                    above
                )
            }
            _ => ".".into(),
        }
    }

    /// By how much a bed sinks.
    fn settles(&self) -> Option<String> {
        match self.list.work.place {
            WorkPlace::Bed { sinks_mm, .. } => (sinks_mm >= 1.0).then(|| {
                say!("Let it settle. On the day it stands about {} higher than after a season of rain: top up then.", self.length(sinks_mm / MM_PER_M))
            }),
            WorkPlace::Filled { .. } => None,
        }
    }

    /// What it weighs once watered.
    fn weighs(&self) -> String {
        let work = &self.list.work;
        let told = self.speech.mass_told(work.watered_kg);
        let range = if told.range.is_empty() {
            String::new()
        } else {
            format!(" ({})", told.range)
        };
        let (what, is_pot) = match work.place {
            WorkPlace::Bed { .. } => (tr!("it"), false),
            WorkPlace::Filled { count, pots, .. } if count > 1.5 => (
                if pots {
                    tr!("each pot")
                } else {
                    tr!("each bed")
                },
                pots,
            ),
            WorkPlace::Filled { pots, .. } => {
                (if pots { tr!("the pot") } else { tr!("the bed") }, pots)
            }
        };
        let mut text = say!(
            "Watered and drained, {} weighs about {}{}.",
            what,
            told.value,
            range
        );
        if is_pot && work.watered_kg.typical > LIFT_KG {
            text += &say!(
                " That is more than the {} that one person should ever lift: fill it where it will stand.",
                self.mass(LIFT_KG)
            );
        }
        text
    }

    /// Layers, each with how deep it lies, and in how many goes it is turned in, if it is.
    fn layers(&self, layers: &[(usize, Option<f64>)], turned_in: bool) -> String {
        let mut texts = Vec::new();
        for (line, mm) in layers {
            let Some(addition) = self.recipe.additions.get(*line) else {
                continue;
            };
            let name = self.name(&addition.material);
            let Some(mm) = mm else {
                texts.push(name);
                continue;
            };
            texts.push(if *mm < STREWN_MM {
                say!("{}, strewn thinly", name)
            } else {
                let thick = self.length(mm / MM_PER_M);
                match goes(*mm) {
                    goes if turned_in && goes > 1 => {
                        say!("{}, {} in {} goes", name, thick, fixed(goes.into(), 0))
                    }
                    _ => format!("{name}, {thick}"),
                }
            });
        }
        texts.join("; ")
    }

    fn area(&self, m2: f64) -> String {
        match self.speech.units {
            Units::Metric => [&significant(m2, 3), " m²"].concat(),
            Units::Us => significant(m2 / Unit::SquareFoot.factor(), 3) + " ft²",
        }
    }

    fn length(&self, m: f64) -> String {
        match self.speech.units {
            Units::Metric if m < 0.1 => {
                let mm = (m * 1000.0 / LAYER_STEP_MM).round() * LAYER_STEP_MM;
                [&fixed(mm, 0), " mm"].concat()
            }
            Units::Metric => [&significant(m * 100.0, 2), " cm"].concat(),
            Units::Us => [&significant(m / Unit::Inch.factor(), 2), " in"].concat(),
        }
    }
}

/// Money to the cent, however much it is.
pub fn exact_money(value: f64, currency: Option<&str>) -> String {
    let amount = fixed(value, 2);
    if value >= 100.0 {
        crate::words::labelled(amount, currency)
    } else {
        cost_text(value, currency)
    }
}

fn loads_text(loads: f64) -> String {
    if loads == 1.0 {
        tr!("one barrow-load").into()
    } else {
        say!("{} barrow-loads", fixed(loads, 0))
    }
}

/// The volume that is filled, as it is shown in its box: value and unit.
pub fn fill_units(speech: Speech) -> &'static [Unit] {
    match speech.units {
        Units::Metric => &[Unit::Litre, Unit::CubicMetre],
        Units::Us => &[Unit::Gallon, Unit::CubicFoot, Unit::CubicYard],
    }
}

/// What is filled, for the sheet.
pub fn for_what(recipe: &Recipe, fill: Option<&Amount>) -> String {
    let title = recipe.title.as_deref().unwrap_or_default().trim();
    let filled = fill.map(|amount| {
        say!(
            "for {} once settled",
            amount_text(amount.value, amount.unit)
        )
    });
    match (title, filled) {
        ("", None) => String::new(),
        ("", Some(filled)) => filled,
        (title, None) => title.into(),
        (title, Some(filled)) => format!("{title}, {filled}"),
    }
}
