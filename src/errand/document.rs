//! What is on sale and what is wished for, in the saved recipe: its field `errand`, which the page
//! keeps unread.

use super::offer::{LOTS_LIMIT, OFFERS_LIMIT, Offer, WASTE_LIMITS_PCT};
use super::wish::{Band, GroundUse, Wish, Wished};
use crate::quantity::Dimension;
use crate::recipe::object::{Object, Reading};
use crate::recipe::{
    AMOUNT_LEAST, AMOUNT_LIMIT, Amount, Fault, Fields, Kept, Kind, Path, Recipe, RecipeError, Tree,
    bag_tree, price_tree, read_bag, read_price,
};
use crate::texture::Class;

/// Odds that can be asked for, %.
pub const ODDS_LIMITS_PCT: (f64, f64) = (50.0, 99.0);
/// Most materials that can be refused.
const WITHOUT_LIMIT: usize = 100;
/// Moisture of what is sold, % of moist mass.
const WATER_LIMITS_PCT: (f64, f64) = (0.0, 99.0);
const MASS_OR_VOLUME: &[Dimension] = &[Dimension::Mass, Dimension::Volume];

/// An errand.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Errand {
    /// What is on sale.
    pub offers: Vec<Offer>,
    /// Share of what is bought that never reaches the blend, %.
    pub waste_pct: Option<f64>,
    /// What the blend should be.
    pub wish: Wish,
    /// Materials that must not be in it.
    pub without: Vec<String>,
    /// Odds with which the wish must be met, %; absent: typical values decide.
    pub odds_pct: Option<f64>,
    /// Money that may be spent for the best odds.
    pub budget: Option<f64>,
    /// Fields of a later release.
    pub kept: Kept,
}

/// The errand of a recipe, if it has one.
///
/// # Errors
/// The first fault, with its path below `errand`.
pub fn errand_of(recipe: &Recipe) -> Result<Option<Errand>, RecipeError> {
    let Some(tree) = &recipe.errand else {
        return Ok(None);
    };
    let reading = Reading::new(recipe.is_of_later_release());
    let root = Object::of(&reading, tree.clone(), Path::from("errand"));
    let errand = errand(root);
    if let Some(fault) = reading.fault() {
        return Err(fault);
    }
    for (index, offer) in errand.offers.iter().enumerate() {
        if recipe.find(&offer.material).is_none() {
            let path = Path::from("errand").field("offers").item(index);
            let found = offer.material.clone();
            return Err(Fault::UnknownMaterial { found }.at(path.field("material")));
        }
    }
    Ok(Some(errand))
}

/// Gives a recipe an errand; none takes the field away.
pub fn set_errand(recipe: &mut Recipe, errand: Option<&Errand>) {
    recipe.errand = errand.map(tree);
}

fn errand(mut root: Object) -> Errand {
    let offers = root.objects("offers", OFFERS_LIMIT);
    Errand {
        offers: offers.into_iter().map(offer).collect(),
        waste_pct: root.number("waste_pct", WASTE_LIMITS_PCT),
        wish: root.object("wish").map(wish).unwrap_or_default(),
        without: texts(&mut root, "without"),
        odds_pct: root.number("odds_pct", ODDS_LIMITS_PCT),
        budget: root.number("budget", (0.0, AMOUNT_LIMIT)),
        kept: root.finish(),
    }
}

fn texts(object: &mut Object, name: &'static str) -> Vec<String> {
    let mut texts = Vec::new();
    match object.take(name) {
        None => {}
        Some(Tree::List(items)) if items.len() > WITHOUT_LIMIT => {
            let limit = WITHOUT_LIMIT;
            object.wrong_field(name, Fault::TooMany { limit });
        }
        Some(Tree::List(items)) => {
            for item in items {
                match item {
                    Tree::Text(text) => texts.push(text),
                    _ => object.wrong_field(name, Fault::Kind(Kind::Text)),
                }
            }
        }
        Some(_) => object.wrong_field(name, Fault::Kind(Kind::List)),
    }
    texts
}

fn some_amount(object: &mut Object, name: &'static str, of: &[Dimension]) -> Option<Amount> {
    let amount = object.amount(name, of)?;
    if amount.value < AMOUNT_LEAST {
        let (value, low, high) = (amount.value, AMOUNT_LEAST, AMOUNT_LIMIT);
        object.wrong_value(name, Fault::OutOfRange { value, low, high });
    }
    Some(amount)
}

fn offer(mut object: Object) -> Offer {
    let material = object.text("material").unwrap_or_else(|| {
        object.missing("material");
        String::new()
    });
    let lot = read_bag(&mut object);
    if lot.is_none() {
        object.missing("bag");
    }
    let most = object.number("most", (0.0, LOTS_LIMIT));
    if most.is_some_and(|most| most.fract() != 0.0) {
        object.wrong_field("most", Fault::Kind(Kind::Whole));
    }
    let nothing = Offer::new("", Amount::new(1.0, crate::quantity::Unit::Kilogram));
    Offer {
        material,
        lot: lot.unwrap_or(nothing.lot),
        loose: object.bool("loose").unwrap_or(false),
        price: read_price(&mut object),
        delivery: object.number("delivery", (0.0, AMOUNT_LIMIT)),
        load: some_amount(&mut object, "load", MASS_OR_VOLUME),
        most,
        water_per_wet_pct: object.number("water_per_wet_pct", WATER_LIMITS_PCT),
        invented: object.bool("invented").unwrap_or(false),
        kept: object.finish(),
    }
}

fn wish(mut object: Object) -> Wish {
    let mut wish = Wish::default();
    for found in texts(&mut object, "classes") {
        match Class::ALL.iter().find(|class| class.id() == found) {
            Some(class) if wish.classes.contains(class) => {
                object.wrong_field("classes", Fault::Twice);
            }
            Some(class) => wish.classes.push(*class),
            None => {
                let allowed = Class::ALL.iter().map(|class| class.id()).collect();
                object.wrong_field("classes", Fault::NotOneOf { found, allowed });
            }
        }
    }
    for of in Wished::ALL.iter().copied() {
        if let Some(mut band) = object.object(of.spelling()) {
            // No one wishes to spend at least so much.
            let least = (of != Wished::Cost).then(|| band.number("least", of.limits()));
            let (least, most) = (least.flatten(), band.number("most", of.limits()));
            if least.zip(most).is_some_and(|(least, most)| least > most) {
                band.wrong(Fault::RangeOrder);
            }
            wish.set(of, Band { least, most });
            band.finish();
        }
    }
    wish.skeleton = object.bool("skeleton");
    wish.fill = some_amount(&mut object, "fill", &[Dimension::Volume]);
    wish.ground = match object.word("ground", &[false, true], ground_word) {
        Some(true) => GroundUse::ToFill,
        _ => GroundUse::All,
    };
    if wish.ground == GroundUse::ToFill && wish.fill.is_none() {
        object.missing("fill");
    }
    wish.kept = object.finish();
    wish
}

fn ground_word(to_fill: bool) -> &'static str {
    if to_fill { "to_fill" } else { "all" }
}

fn tree(errand: &Errand) -> Tree {
    let mut out = Fields::default();
    out.list("offers", errand.offers.iter().map(offer_tree).collect());
    out.number("waste_pct", errand.waste_pct);
    let wish = wish_fields(&errand.wish);
    out.filled("wish", wish, &errand.wish.kept);
    let words = errand.without.iter().map(|id| Tree::text(&**id));
    out.list("without", words.collect());
    out.number("odds_pct", errand.odds_pct);
    out.number("budget", errand.budget);
    out.end(&errand.kept)
}

fn offer_tree(offer: &Offer) -> Tree {
    let mut out = Fields::default();
    out.text("material", Some(&offer.material));
    out.put("bag", Some(bag_tree(&offer.lot)));
    out.put("loose", offer.loose.then_some(Tree::Bool(true)));
    out.put("price", offer.price.as_ref().map(price_tree));
    out.number("delivery", offer.delivery);
    out.amount("load", offer.load.as_ref());
    out.number("most", offer.most);
    out.number("water_per_wet_pct", offer.water_per_wet_pct);
    out.put("invented", offer.invented.then_some(Tree::Bool(true)));
    out.end(&offer.kept)
}

fn wish_fields(wish: &Wish) -> Fields {
    let mut out = Fields::default();
    let classes = wish.classes.iter().map(|class| Tree::text(class.id()));
    out.list("classes", classes.collect());
    for of in Wished::ALL.iter().copied() {
        let band = wish.band(of);
        let mut limits = Fields::default();
        limits.number("least", band.least);
        limits.number("most", band.most);
        out.filled(of.spelling(), limits, &[]);
    }
    out.put("skeleton", wish.skeleton.map(Tree::Bool));
    out.amount("fill", wish.fill.as_ref());
    let to_fill = wish.ground == GroundUse::ToFill;
    out.text("ground", to_fill.then_some(ground_word(true)));
    out
}
