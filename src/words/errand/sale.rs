//! What is on sale, in words.

use crate::errand::{Lot, Offer};
use crate::quantity::{LITRES_PER_M3, Unit};
use crate::recipe::{AMOUNT_LIMIT, Fault, Path, Recipe};
use crate::tongue::Saying;
use crate::words::errand::list::exact_money;
use crate::words::errand::sweep::amount_text;
use crate::words::errand::{mass_text, volume_text};
use crate::words::{Speech, Units, shown, significant, unit_name};

/// How something is sold: in bags, or loose.
pub const SOLD_AS: [(&str, &str); 2] =
    [("bag", mark!("in bags of")), ("loose", mark!("loose, by"))];
/// What a price is for: one bag or lot.
pub const PER_LOT: Saying = said!("one of these");
/// The mark of an invented price.
pub const INVENTED: Saying = said!("invented");
/// No price yet.
pub const NO_PRICE: Saying =
    said!("No price yet: a list has no sum, and nothing can be found by money.");
/// That there is room for no more.
pub const FULL: Saying = said!("There is room for 40 offers.");
/// That there are invented offers already.
pub const ALREADY_INVENTED: Saying = said!("The invented offers are here already.");

/// What a price is for: one of a unit.
pub fn one_unit(unit: Unit) -> String {
    match unit {
        Unit::TonUs => tr!("1 US ton").into(),
        _ => ["1 ", unit_name(unit)].concat(),
    }
}

/// Names of boxes, each with the offer that it is about.
pub fn box_name(what: &str, material: &str) -> String {
    let what = match what {
        "size" => tr!("Size"),
        "unit" => tr!("Unit of the size"),
        "sold" => tr!("How it is sold"),
        "price" => tr!("Price"),
        "per" => tr!("What the price is for"),
        "expands" => tr!("Fluffs up: loose litres of one printed"),
        "delivery" => tr!("Bringing a load costs"),
        "load" => tr!("One load is at most"),
        "load-unit" => tr!("Unit of the load"),
        "most" => tr!("There are at most"),
        "water" => tr!("Moisture as sold, % of its weight"),
        "remove" => tr!("Remove"),
        _ => tr!("Material"),
    };
    [what, ", ", material].concat()
}

/// What one lot comes to: what it holds, what it costs a litre.
pub fn lot_text(recipe: &Recipe, offer: &Offer, lot: &Lot, speech: Speech) -> String {
    let mut text = say!(
        "{} loose, {}",
        volume_text(lot.loose_m3, speech),
        mass_text(lot.moist_kg, speech)
    );
    let litres = lot.counted_m3 * LITRES_PER_M3;
    if offer.price.is_some() && litres > 0.0 {
        let currency = recipe.currency.as_deref();
        let price = exact_money(lot.price, currency);
        text += &match speech.units {
            Units::Metric => say!(
                "; {} each, {} a litre",
                price,
                significant(lot.price / litres, 2)
            ),
            Units::Us => say!(
                "; {} each, {} a gallon",
                price,
                significant(lot.price / lot.counted_m3 * Unit::Gallon.factor(), 2)
            ),
        };
    }
    if lot.counted_m3 < 0.99 * lot.loose_m3 {
        text += &say!(
            "; damp, a litre counts for {} L",
            significant(lot.counted_m3 / lot.loose_m3, 2)
        );
    }
    text + "."
}

/// That one lot would cost more than money goes here; nothing where it does not.
pub fn dear_text(recipe: &Recipe, offer: &Offer, at: &Path) -> Option<String> {
    let error = offer.lot(recipe, at).err()?;
    let of_price = at.field("price");
    let is_dear =
        error.fault != Fault::Missing && error.path.as_str().starts_with(of_price.as_str());
    is_dear.then(|| {
        say!(
            "one of these would cost more than {}. Look at what the price is for.",
            shown(AMOUNT_LIMIT)
        )
    })
}

/// How an offer is called.
pub fn offer_name(recipe: &Recipe, offer: &Offer) -> String {
    let found = recipe.find(&offer.material);
    let name = found.map_or(offer.material.as_str(), |found| found.name());
    [
        name,
        ", ",
        &amount_text(offer.lot.size.value, offer.lot.size.unit),
    ]
    .concat()
}

/// That an offer was taken away.
pub fn removed_text(name: &str) -> String {
    say!("{} is taken away. Undo brings it back.", name)
}

/// That offers were filled in.
pub fn filled_in_text(count: usize) -> String {
    say!(
        "{} invented offers are filled in. Put in what you are asked to pay.",
        count
    )
}

/// Units that a lot is printed in.
pub const LOT_UNITS: [Unit; 12] = [
    Unit::Litre,
    Unit::Kilogram,
    Unit::CubicMetre,
    Unit::Tonne,
    Unit::CubicFoot,
    Unit::QuartDry,
    Unit::CubicYard,
    Unit::Gallon,
    Unit::Pound,
    Unit::TonUs,
    Unit::Gram,
    Unit::Millilitre,
];
