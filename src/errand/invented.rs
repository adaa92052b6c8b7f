//! Invented offers, to try the errand with: those of the demo's town, none of any shop.

use super::offer::Offer;
use crate::quantity::Unit;
use crate::recipe::{Amount, Price, Recipe};

/// An invented offer: material, size of a lot, whether it is loose, price of one lot, delivery.
type Row = (&'static str, (f64, Unit), bool, f64, Option<f64>);

/// What they have at Willowbank: all of these numbers are invented.
const WILLOWBANK: &[Row] = &[
    ("yard_compost", (40.0, Unit::Litre), false, 5.9, None),
    (
        "yard_compost",
        (0.5, Unit::CubicMetre),
        true,
        24.0,
        Some(30.0),
    ),
    ("concrete_sand", (25.0, Unit::Kilogram), false, 4.2, None),
    ("concrete_sand", (0.25, Unit::Tonne), true, 14.0, Some(30.0)),
    ("pine_bark", (60.0, Unit::Litre), false, 7.9, None),
    ("leaf_mold", (50.0, Unit::Litre), false, 6.4, None),
    ("horse_manure", (45.0, Unit::Litre), false, 5.2, None),
    ("sphagnum_peat", (70.0, Unit::Litre), false, 11.5, None),
    ("coir", (50.0, Unit::Litre), false, 9.8, None),
    ("perlite", (100.0, Unit::Litre), false, 24.0, None),
    ("pumice", (20.0, Unit::Litre), false, 9.5, None),
    ("expanded_shale", (25.0, Unit::Litre), false, 11.0, None),
    ("biochar_wood", (20.0, Unit::Litre), false, 16.5, None),
    ("topsoil", (20.0, Unit::Kilogram), false, 3.6, None),
    ("gypsum", (5.0, Unit::Kilogram), false, 7.4, None),
    ("pea_gravel", (25.0, Unit::Kilogram), false, 4.8, None),
];

/// The invented offers that a recipe can use, each marked so.
pub fn invented(recipe: &Recipe) -> Vec<Offer> {
    let known = WILLOWBANK
        .iter()
        .filter(|(material, ..)| recipe.find(material).is_some());
    known
        .map(|&(material, (size, unit), loose, price, delivery)| {
            let mut offer = Offer::new(material, Amount::new(size, unit));
            offer.loose = loose;
            offer.price = Some(Price {
                value: price,
                per: Amount::new(1.0, Unit::Bag),
                kept: Vec::new(),
            });
            offer.delivery = delivery;
            offer.invented = true;
            offer
        })
        .collect()
}
