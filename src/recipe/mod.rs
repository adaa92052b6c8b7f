//! The saved document: ground, barrow, place and what was measured, in the units that the user typed.

mod base64;
mod decimal;
pub mod dug;
mod fault;
mod history;
mod json;
mod label;
pub mod lectern;
mod link;
pub(crate) mod moment;
mod names;
pub(crate) mod object;
pub mod own;
pub mod phrase;
mod read;
mod shortest;
mod spoken;
mod stock;
mod tree;
mod write;

pub use decimal::number_of_text;
pub(crate) use fault::quoted;
pub use fault::{Fault, Kind, Path, RecipeError};
pub use history::{History, STEPS_LIMIT};
#[cfg(feature = "page")]
pub(crate) use link::lend_words;
#[cfg(not(feature = "page"))]
pub use link::link_words;
pub use link::{LINK_LIMIT, from_letters, from_link, to_letters, to_link};
#[cfg(not(feature = "page"))]
pub(crate) use read::{bag as read_bag, price as read_price};
pub use shortest::number_text;
pub(crate) use shortest::whole_text;
pub use stock::{stock_of_text, stock_text};
pub use tree::{NotJson, Tree};
#[cfg(not(feature = "page"))]
pub(crate) use write::{Fields, bag as bag_tree, price as price_tree};

use crate::figure::Figure;
use crate::ground::{Trait, Traits};
use crate::material::{Entry, Group, Misfit, Properties, Property};
use crate::quantity::Unit;

/// The newest version of the document; it rises only when a meaning changes.
pub const VERSION: u32 = 1;
/// This release.
pub const RELEASE: &str = env!("CARGO_PKG_VERSION");
/// Most additions in a recipe.
pub const ADDITIONS_LIMIT: usize = 64;
/// Greatest amount, in its own unit.
pub const AMOUNT_LIMIT: f64 = 1e6;
/// Least amount where nothing at all would make no sense, such as the size of a bag.
pub const AMOUNT_LEAST: f64 = 1e-9;

/// Fields of a later release, kept as they came.
pub type Kept = Vec<(String, Tree)>;

/// A recipe.
#[derive(Clone, Debug, PartialEq)]
pub struct Recipe {
    /// What the user calls it.
    pub title: Option<String>,
    /// The starting soil.
    pub ground: Traits,
    /// Fields of a later release in `ground`.
    pub ground_kept: Kept,
    /// Fields of a later release in the ranges of `ground`.
    pub ground_ranges_kept: Vec<(Trait, Kept)>,
    /// How much of it.
    pub soil: Soil,
    /// How many parts it counts as, against additions in parts.
    pub parts_of_soil: Option<f64>,
    /// What is mixed in or laid on top.
    pub additions: Vec<Addition>,
    /// Where it goes.
    pub place: Option<Place>,
    /// What was measured.
    pub measured: Measured,
    /// Label of the prices.
    pub currency: Option<String>,
    /// The release that wrote it.
    pub made_by: Option<String>,
    /// The recipe's own materials.
    pub materials: Vec<OwnMaterial>,
    /// What is shown at a lectern, step by step, as it came; the room `lectern` reads it.
    pub lectern: Option<Tree>,
    /// The side-by-side trial, as it came; the room `trial` reads it.
    pub trial: Option<Tree>,
    /// Blends that are kept to compare, as they came; the room `shelf` reads them.
    pub shelf: Option<Tree>,
    /// What is on sale and what is wished for, as it came; the room `errand` reads it.
    pub errand: Option<Tree>,
    /// Fields of a later release.
    pub kept: Kept,
}

/// An amount as typed.
#[derive(Clone, Debug, PartialEq)]
pub struct Amount {
    /// How many.
    pub value: f64,
    /// Of what.
    pub unit: Unit,
    /// Fields of a later release.
    pub kept: Kept,
}

impl Amount {
    /// So many of a unit.
    pub fn new(value: f64, unit: Unit) -> Amount {
        Amount {
            value,
            unit,
            kept: Kept::new(),
        }
    }

    /// The amount in SI, or a plain number for shares, parts and bags.
    pub fn si(&self) -> f64 {
        self.value * self.unit.factor()
    }
}

/// How much of the ground is mixed.
#[derive(Clone, Debug, PartialEq)]
pub enum Soil {
    /// A moist mass as dug, or a bulk volume as it lies.
    Amount(Amount),
    /// A bed dug to a depth.
    Bed {
        /// Its area.
        area: Amount,
        /// How deep it is dug.
        depth: Amount,
        /// Fields of a later release.
        kept: Kept,
    },
}

/// One addition.
#[derive(Clone, Debug, PartialEq)]
pub struct Addition {
    /// Id of a material of the catalogue or of the recipe.
    pub material: String,
    /// How much.
    pub amount: Amount,
    /// Moisture, where it is not the material's own, % of moist mass.
    pub water_per_wet_pct: Option<Figure>,
    /// Fields of a later release in the range of the moisture.
    pub water_kept: Kept,
    /// Laid on top as a mulch, not mixed; as written, if it was.
    pub on_top: Option<bool>,
    /// The bag it comes in.
    pub bag: Option<Bag>,
    /// What it costs.
    pub price: Option<Price>,
    /// Fields of a later release.
    pub kept: Kept,
}

impl Addition {
    /// So much of a material, mixed in.
    pub fn new(material: impl Into<String>, amount: Amount) -> Addition {
        Addition {
            material: material.into(),
            amount,
            water_per_wet_pct: None,
            water_kept: Kept::new(),
            on_top: None,
            bag: None,
            price: None,
            kept: Kept::new(),
        }
    }

    /// Whether it lies on top as a mulch.
    pub fn is_on_top(&self) -> bool {
        self.on_top == Some(true)
    }
}

/// A bag as printed.
#[derive(Clone, Debug, PartialEq)]
pub struct Bag {
    /// Printed size.
    pub size: Amount,
    /// Loose litres for a printed litre, or for a printed kilogram.
    pub expands: Option<f64>,
}

/// A price.
#[derive(Clone, Debug, PartialEq)]
pub struct Price {
    /// Money.
    pub value: f64,
    /// For how much.
    pub per: Amount,
    /// Fields of a later release.
    pub kept: Kept,
}

macro_rules! words {
    ($(#[$meta:meta])* $kind:ident { $($(#[$doc:meta])* $variant:ident $spelling:literal;)* }) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum $kind { $($(#[$doc])* $variant,)* }

        impl $kind {
            /// Every one, in document order.
            pub const ALL: &[$kind] = &[$($kind::$variant,)*];

            /// The spelling in a recipe.
            pub fn spelling(self) -> &'static str {
                match self { $($kind::$variant => $spelling,)* }
            }
        }
    };
}

mod measured;
pub use measured::{Measured, Measurement, Sample};

words! {
    /// What the blend goes into.
    PlaceKind {
        /// A pot, pail or bag.
        Container "container";
        /// A bed.
        Bed "bed";
    }
}

words! {
    /// What the place stands on.
    Support {
        /// The ground.
        Ground "ground";
        /// A deck or balcony.
        Deck "deck";
        /// A roof.
        Roof "roof";
    }
}

words! {
    /// What is near the place.
    Near {
        /// An old building.
        OldBuilding "old_building";
        /// A road.
        Road "road";
        /// A slope.
        Slope "slope";
        /// Water.
        Water "water";
    }
}

/// Where the blend goes. It never changes the blend.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Place {
    /// Container or bed.
    pub kind: Option<PlaceKind>,
    /// Room in one of them.
    pub volume: Option<Amount>,
    /// Height inside.
    pub height: Option<Amount>,
    /// Inside width at the top.
    pub top_width: Option<Amount>,
    /// Inside width at the bottom.
    pub bottom_width: Option<Amount>,
    /// How many of them share the blend.
    pub count: Option<f64>,
    /// Whether water can leave at the bottom.
    pub drains: Option<bool>,
    /// What it stands on.
    pub on: Option<Support>,
    /// What is near.
    pub near: Option<Near>,
    /// What grows there.
    pub crop: Option<String>,
    /// Mean temperature of the year, degrees Celsius.
    pub mean_temperature_c: Option<f64>,
    /// Fields of a later release.
    pub kept: Kept,
}

impl Place {
    /// Whether it says nothing.
    pub fn is_silent(&self) -> bool {
        let amounts = [
            &self.volume,
            &self.height,
            &self.top_width,
            &self.bottom_width,
        ];
        amounts.iter().all(|amount| amount.is_none())
            && self.kind.is_none()
            && self.count.is_none()
            && self.drains.is_none()
            && self.on.is_none()
            && self.near.is_none()
            && self.crop.is_none()
            && self.mean_temperature_c.is_none()
            && self.kept.is_empty()
    }
}

/// A material of the recipe's own.
#[derive(Clone, Debug, PartialEq)]
pub struct OwnMaterial {
    /// Its id in this recipe.
    pub id: String,
    /// Its name.
    pub name: Option<String>,
    /// What kind of thing it is; sand where not given.
    pub group: Option<Group>,
    /// Its properties.
    pub properties: Properties,
    /// Fields of a later release in the ranges of its properties.
    pub ranges_kept: Vec<(Property, Kept)>,
    /// The bag it comes in.
    pub bag: Option<Bag>,
    /// What it costs.
    pub price: Option<Price>,
    /// Fields of a later release.
    pub kept: Kept,
}

/// A material as a recipe finds it: its own come first, so that a catalogue that grows never
/// changes an old recipe.
#[derive(Clone, Copy, Debug)]
pub enum Found<'a> {
    /// The recipe's own, and its place in the list.
    Own(&'a OwnMaterial, usize),
    /// The catalogue's.
    Catalogue(&'static Entry),
}

impl<'a> Found<'a> {
    /// The name to show.
    pub fn name(self) -> &'a str {
        match self {
            Found::Own(own, _) => own.name.as_deref().unwrap_or(&own.id),
            Found::Catalogue(entry) => entry.told(),
        }
    }

    /// Its properties.
    pub fn properties(self) -> &'a Properties {
        match self {
            Found::Own(own, _) => &own.properties,
            Found::Catalogue(entry) => &entry.properties,
        }
    }

    /// Its group; sand where a recipe's own material does not say.
    pub fn group(self) -> Group {
        match self {
            Found::Own(own, _) => own.group.unwrap_or(Group::Sand),
            Found::Catalogue(entry) => entry.group,
        }
    }

    /// The material with every number that mixing needs.
    ///
    /// # Errors
    /// A [`Misfit`] when its numbers cannot be true together.
    pub fn material(self) -> Result<crate::material::Material, Misfit> {
        crate::material::Material::of(self.group(), self.properties())
    }
}

impl Recipe {
    /// Reads a recipe from JSON.
    ///
    /// # Errors
    /// The first fault, with the path of its field.
    pub fn from_json(text: &str) -> Result<Recipe, RecipeError> {
        let tree = tree_of_text(text)?;
        Recipe::from_tree(tree)
    }

    /// Reads a recipe from the bytes of a file.
    ///
    /// # Errors
    /// The first fault, with the path of its field; bytes that are no text are told with the line
    /// and column where the text ends.
    pub fn from_bytes(bytes: &[u8]) -> Result<Recipe, RecipeError> {
        match std::str::from_utf8(bytes) {
            Ok(text) => Recipe::from_json(text),
            Err(error) => {
                let NotJson { line, column } = tree::place(bytes, error.valid_up_to());
                Err(Fault::NotJson { line, column }.at(Path::root()))
            }
        }
    }

    /// Writes the recipe as JSON for people.
    pub fn to_json(&self) -> String {
        self.to_tree().pretty()
    }

    /// The material of an id, if there is one.
    pub fn find(&self, id: &str) -> Option<Found<'_>> {
        let own = self
            .materials
            .iter()
            .enumerate()
            .find(|(_, own)| own.id == id);
        own.map(|(index, own)| Found::Own(own, index))
            .or_else(|| Entry::find(id).map(Found::Catalogue))
    }

    /// How much of a new addition to begin with: a tenth of the heap, or ten litres where shares
    /// have nothing to count against or little left.
    pub fn first_amount(&self) -> Amount {
        let (mut shares, mut by_mass) = (0.0, false);
        for amount in self.additions.iter().map(|addition| &addition.amount) {
            match amount.unit {
                Unit::VolumePercent => shares += amount.value,
                Unit::MassPercent => by_mass = true,
                _ => {}
            }
        }
        let no_soil = match &self.soil {
            Soil::Amount(amount) => amount.value <= 0.0,
            Soil::Bed { area, depth, .. } => area.value <= 0.0 || depth.value <= 0.0,
        };
        if no_soil || by_mass || shares > 60.0 {
            Amount::new(10.0, Unit::Litre)
        } else {
            Amount::new(10.0, Unit::VolumePercent)
        }
    }

    /// Whether a later release wrote it, so that unknown fields are kept and not refused.
    pub fn is_of_later_release(&self) -> bool {
        self.made_by.as_deref().is_some_and(is_later)
    }
}

impl Recipe {
    /// Whether fields of a later release are kept in it, unread.
    pub fn keeps_unknown_fields(&self) -> bool {
        let amount = |amount: &Amount| !amount.kept.is_empty();
        let bag = |bag: &Option<Bag>| bag.as_ref().is_some_and(|bag| amount(&bag.size));
        let price = |price: &Option<Price>| {
            price
                .as_ref()
                .is_some_and(|price| !price.kept.is_empty() || amount(&price.per))
        };
        let soil = match &self.soil {
            Soil::Amount(value) => amount(value),
            Soil::Bed { area, depth, kept } => amount(area) || amount(depth) || !kept.is_empty(),
        };
        let place = self.place.as_ref().is_some_and(|place| {
            let sizes = [
                &place.volume,
                &place.height,
                &place.top_width,
                &place.bottom_width,
            ];
            !place.kept.is_empty() || sizes.into_iter().flatten().any(amount)
        });
        let additions = self.additions.iter().any(|addition| {
            !addition.kept.is_empty()
                || !addition.water_kept.is_empty()
                || amount(&addition.amount)
                || bag(&addition.bag)
                || price(&addition.price)
        });
        let materials = self.materials.iter().any(|own| {
            !own.kept.is_empty()
                || !own.ranges_kept.is_empty()
                || bag(&own.bag)
                || price(&own.price)
        });
        let own = !self.kept.is_empty()
            || !self.ground_kept.is_empty()
            || !self.ground_ranges_kept.is_empty();
        own || soil || place || self.measured.keeps_unknown_fields() || additions || materials
    }
}

/// The tree of a text; what is no JSON is told with its place.
fn tree_of_text(text: &str) -> Result<Tree, RecipeError> {
    Tree::parse(text.trim_start_matches('\u{feff}')).map_err(|place| {
        Fault::NotJson {
            line: place.line,
            column: place.column,
        }
        .at(Path::root())
    })
}

/// Whether a release is later than this one.
fn is_later(release: &str) -> bool {
    match (release_numbers(release), release_numbers(RELEASE)) {
        (Some(theirs), Some(ours)) => theirs > ours,
        _ => false,
    }
}

/// The numbers of a release, such as `0.1.0`; none where it is none.
fn release_numbers(release: &str) -> Option<Vec<u32>> {
    let mut numbers = Vec::new();
    let mut number = None;
    for letter in release.bytes() {
        if letter == b'.' {
            numbers.push(number.take()?);
        } else {
            let digit = letter.wrapping_sub(b'0');
            if digit > 9 {
                return None;
            }
            let more = number.unwrap_or(0_u32).checked_mul(10)?;
            number = Some(more.checked_add(u32::from(digit))?);
        }
    }
    numbers.push(number?);
    Some(numbers)
}
