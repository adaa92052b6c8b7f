//! What is wished for and what was found, in words.

use super::sweep::addition_name;
use crate::errand::judge::Judge;
use crate::errand::offer::{Offer, to_the_cent};
use crate::errand::wish::{GroundUse, OneWish, Values, Wish, Wished};
use crate::errand::{Findings, Found, Hindrance, Search};
use crate::quantity::{LITRES_PER_M3, Unit};
use crate::recipe::{Amount, Recipe, RecipeError, Soil};
use crate::tongue::Saying;
use crate::words::{
    Speech, class_name, error_text, fault_text, fixed, labelled, odds, shown, significant,
    unit_name,
};

/// The name of a figure that can be wished for.
pub fn wished_name(of: Wished) -> &'static str {
    match of {
        Wished::Sand => tr!("Sand"),
        Wished::Silt => tr!("Silt"),
        Wished::Clay => tr!("Clay"),
        Wished::OrganicMatter => tr!("Organic matter"),
        Wished::PoreSpace => tr!("Pore space"),
        Wished::Air => tr!("Air"),
        Wished::Density => tr!("Density"),
        Wished::Ph => "pH",
        Wished::Salt => tr!("Salt"),
        Wished::Cost => tr!("Cost"),
    }
}

/// Its unit as shown, and what that is in the stored one.
pub fn wished_unit(of: Wished, speech: Speech, currency: Option<&str>) -> (f64, String) {
    match of {
        Wished::Density => (
            speech.units.density_factor(),
            speech.units.density_unit().into(),
        ),
        Wished::Ph => (1.0, String::new()),
        Wished::Salt => (1.0, "dS/m".into()),
        Wished::Cost => (1.0, currency.unwrap_or_default().into()),
        _ => (1.0, "%".into()),
    }
}

/// A value of a figure, with its unit.
pub fn wished_value(of: Wished, value: f64, speech: Speech, currency: Option<&str>) -> String {
    if !value.is_finite() {
        return NOT_KNOWN.text().into();
    }
    let (factor, unit) = wished_unit(of, speech, currency);
    let value = value / factor;
    let number = match of {
        Wished::Cost => return money(value, currency),
        Wished::Density => fixed(value, speech.units.density_decimals()),
        Wished::Salt => significant(value, 2),
        _ => fixed(value, 1),
    };
    with_unit(number, &unit)
}

/// A limit as it was typed.
fn limit(of: Wished, value: f64, speech: Speech, currency: Option<&str>) -> String {
    let (factor, unit) = wished_unit(of, speech, currency);
    match of {
        Wished::Cost => money(value, currency),
        // What was typed in one unit is shown in another with three figures.
        Wished::Density => with_unit(significant(value / factor, 3), &unit),
        _ => with_unit(shown(value / factor), &unit),
    }
}

fn with_unit(number: String, unit: &str) -> String {
    if unit.is_empty() {
        number
    } else {
        [&number, " ", unit].concat()
    }
}

/// What has no value.
const NOT_KNOWN: Saying = said!("not known");

/// Money to the cent, after its label.
pub fn money(value: f64, currency: Option<&str>) -> String {
    labelled(fixed(to_the_cent(value), 2), currency)
}

/// Several names, the last after "or".
fn any_of(names: &[&str]) -> String {
    match names {
        [] => String::new(),
        [one] => (*one).into(),
        [first @ .., last] => say!("{} or {}", first.join(", "), last),
    }
}

/// A wish of the errand, as a short phrase.
pub fn one_wish_text(wish: &Wish, one: OneWish, speech: Speech, currency: Option<&str>) -> String {
    match one {
        OneWish::Classes => {
            let names: Vec<&str> = wish
                .classes
                .iter()
                .map(|class| class_name(*class))
                .collect();
            any_of(&names)
        }
        OneWish::Figure(of) => {
            let band = wish.band(of);
            let name = wished_name(of);
            let limit = |value| limit(of, value, speech, currency);
            match (band.least, band.most) {
                (Some(least), Some(most)) => {
                    say!("{} from {} to {}", name, limit(least), limit(most))
                }
                (Some(least), None) => say!("{} at least {}", name, limit(least)),
                (None, Some(most)) => say!("{} at most {}", name, limit(most)),
                (None, None) => name.into(),
            }
        }
        OneWish::Skeleton => match wish.skeleton {
            Some(false) => tr!("Coarse grains that do not touch").into(),
            _ => tr!("Coarse grains that touch").into(),
        },
        OneWish::Fill => {
            let fill = wish.fill.as_ref();
            let volume = fill.map_or(String::new(), amount);
            match wish.ground {
                GroundUse::All => say!("At least {}, settled", volume),
                GroundUse::ToFill => say!("{} filled, settled", volume),
            }
        }
    }
}

/// What values come to in a wish, as a short phrase.
pub fn reached_text(
    one: OneWish,
    values: &Values,
    speech: Speech,
    currency: Option<&str>,
) -> String {
    match one {
        OneWish::Classes => {
            let class = values.fractions_pct.map(crate::texture::classify);
            class.map_or(tr!("no texture"), class_name).into()
        }
        OneWish::Figure(of) => wished_value(of, values.of(of), speech, currency),
        OneWish::Skeleton => match values.to_touch {
            Some(by) if by >= 0.0 => tr!("they touch").into(),
            Some(_) => tr!("they do not touch").into(),
            None => tr!("not told for this ground").into(),
        },
        OneWish::Fill => speech.volume(values.settled_m3 * LITRES_PER_M3),
    }
}

fn amount(amount: &Amount) -> String {
    [&shown(amount.value), " ", unit_name(amount.unit)].concat()
}

/// So many lots of an offer.
pub fn lots_text(offer: &Offer, lots: u32) -> String {
    let size = &offer.lot.size;
    if offer.loose {
        let all = Amount::new(size.value * f64::from(lots), size.unit);
        return say!("{} loose", amount(&all));
    }
    let count = f64::from(lots);
    say_many!(count, "{} bag of {}", "{} bags of {}", lots, amount(size))
}

/// One line of a purchase: what, and the money for it.
#[derive(Clone, Debug, PartialEq)]
pub struct BuyLine {
    /// What is bought.
    pub what: String,
    /// Money for it, to the cent.
    pub money: String,
    /// The price was invented to try it.
    pub invented: bool,
}

/// What a purchase is, line by line; deliveries come last.
pub fn bought(
    recipe: &Recipe,
    judge: &Judge,
    found: &Found,
    currency: Option<&str>,
) -> Vec<BuyLine> {
    let mut lines = Vec::new();
    let mut brought = Vec::new();
    for (at, ((_, offer, lot), count)) in judge.sold.iter().zip(&found.lots).enumerate() {
        if *count == 0 {
            continue;
        }
        let line = crate::recipe::Addition::new(&*offer.material, Amount::new(1.0, Unit::Litre));
        let name = addition_name(recipe, &line);
        let lots = judge.lots_of(at, *count);
        let mut what = say!("{} {}##lots of a material", lots_text(offer, lots), name);
        let parts = judge.parts_of(at);
        if !count.is_multiple_of(parts) {
            let size = &offer.lot.size;
            let used = size.value * f64::from(*count) / f64::from(parts);
            let used = Amount::new(crate::quantity::round_significant(used, 3), size.unit);
            what += &say!(", {} of it used", amount(&used));
        }
        lines.push(BuyLine {
            what,
            money: money(lot.price * f64::from(lots), currency),
            invented: offer.invented,
        });
        let loads = lot.loads(lots);
        if lot.delivery > 0.0 {
            let what = if loads == 1 {
                say!("{} brought", name)
            } else {
                say!("{} brought in {} loads", name, loads.to_string())
            };
            brought.push(BuyLine {
                what,
                money: money(lot.delivery * f64::from(loads), currency),
                invented: offer.invented,
            });
        }
    }
    lines.extend(brought);
    lines
}

/// How much of the ground goes in, where it fills up.
pub fn ground_text(recipe: &Recipe, wish: &Wish) -> String {
    match (&recipe.soil, wish.ground) {
        (Soil::Amount(litres), GroundUse::ToFill) if litres.value > 0.0 => {
            let litres = Amount::new(
                crate::quantity::round_significant(litres.value, 3),
                litres.unit,
            );
            say!("{} of your ground, as it lies", amount(&litres))
        }
        (_, GroundUse::ToFill) => tr!("none of your ground").into(),
        _ => String::new(),
    }
}

/// In how many draws all wishes are met; with a number where certain odds were asked for.
pub fn odds_text(found: &Found, asked: bool) -> String {
    match found.odds {
        Some(share) if asked => {
            let hundred = fixed(share * 100.0, 0);
            say!("All wishes are met in {} of 100 draws.", hundred)
        }
        Some(share) => say!("Odds that all wishes are met: {}.", odds(share)),
        None => String::new(),
    }
}

/// What was found, and how sure that is.
pub fn proof_text(findings: &Findings, wishes: usize, currency: Option<&str>) -> String {
    let proof = &findings.proof;
    let looked = say!("{} blends were looked at.", grouped(proof.judged));
    let Some(cheapest) = &findings.cheapest else {
        return if proof.none_can {
            let what = if wishes == 1 {
                tr!("Nothing on sale can do it")
            } else {
                tr!("Nothing on sale can meet all of these together")
            };
            [what, SEARCHED.text()].concat()
        } else {
            say!(
                "No purchase was found that meets all of this. It is not proven that there is none. {}",
                looked
            )
        };
    };
    if cheapest.lots.iter().all(|lots| *lots == 0) {
        return tr!("Your ground is all of this already: nothing need be bought.").into();
    }
    let text = if findings.odds_missed {
        tr!("The odds that you ask for were not reached: the cheapest by typical values is told, and the best odds that were found.")
            .to_owned()
    } else if proof.exact {
        tr!("No purchase in whole bags and loads costs less: this is proven.").to_owned()
    } else {
        let gap = to_the_cent(cheapest.cost - proof.bound);
        let mut text = say!(
            "The cheapest that was found. Nothing under {} can do it, so at most {} could still be saved",
            money(proof.bound, currency),
            money(gap, currency)
        );
        text += &match proof.all_of {
            0 => ".".to_owned(),
            1 => tr!("; not by any one thing on sale alone: all such purchases were tried.")
                .to_owned(),
            2 => tr!("; not by one or two of the things on sale: all such purchases were tried.")
                .to_owned(),
            count => {
                say!(
                    "; not by up to {} of the things on sale: all such purchases were tried.",
                    count
                )
            }
        };
        text
    };
    [&text, " ", &looked].concat()
}

/// A whole number with its thousands apart.
fn grouped(number: u64) -> String {
    let digits = number.to_string();
    let mut text = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            text += crate::tongue::marks().group;
        }
        text.push(digit);
    }
    text
}

/// A wish that stands in the way.
pub fn hindrance_text(
    wish: &Wish,
    hindrance: &Hindrance,
    speech: Speech,
    currency: Option<&str>,
) -> String {
    let one = hindrance.wish;
    let wished = one_wish_text(wish, one, speech, currency);
    let reached = reached_text(one, &hindrance.nearest.values, speech, currency);
    let cost = money(hindrance.nearest.cost, currency);
    match one {
        OneWish::Skeleton => say!(
            "{} stand in the way: with all the rest met, no purchase was found that makes it so.",
            wished
        ),
        // It is told by its cost already.
        OneWish::Figure(Wished::Cost) => say!(
            "{} stands in the way: the least found for all the rest is {}.",
            wished,
            reached
        ),
        _ => say!(
            "{} stands in the way: with all the rest met, the nearest found is {}, for {}.",
            wished,
            reached,
            cost
        ),
    }
}

/// What a search goes through, where it proves that nothing will do.
const SEARCHED: Saying = said!(
    ": this is proven for whole bags that are used up (but for those larger than half of a volume to fill), at most ten thousand of each, and no more in all than nine times your ground, or what goes into the volume."
);

/// Where there is one wish alone.
pub const ONE_STANDS: Saying = said!("This comes nearest:");
/// That no single wish stands in the way.
pub const SEVERAL_STAND: Saying =
    said!("No single wish stands in the way: at least two would have to give. This comes nearest:");

/// A fault of the errand, its place by the name of its box where it has one.
pub fn errand_error_text(error: &RecipeError, offers: &[Offer], recipe: &Recipe) -> String {
    match place_text(error.path.as_str(), offers, recipe) {
        Some(place) => [&place, ": ", &fault_text(&error.fault)].concat(),
        None => error_text(error),
    }
}

/// What a wish of the form is called in a fault of the errand, where it has a box.
pub fn place_text(path: &str, search: &[Offer], recipe: &Recipe) -> Option<String> {
    let rest = path.strip_prefix("errand.offers[")?;
    let (index, field) = rest.split_once(']')?;
    let offer = search.get(index.parse::<usize>().ok()?)?;
    let line = crate::recipe::Addition::new(&*offer.material, Amount::new(1.0, Unit::Litre));
    let name = addition_name(recipe, &line);
    let field = match field.trim_start_matches('.').split('.').next() {
        Some("price") => tr!("price"),
        Some("bag") => tr!("size"),
        Some("load") => tr!("load"),
        Some("water_per_wet_pct") => tr!("moisture"),
        _ => tr!("offer"),
    };
    Some([&name, ", ", field].concat())
}

/// How far a search has come.
pub fn search_progress_text(search: &Search) -> String {
    say!(
        "{} %, {} blends looked at",
        fixed(search.progress() * 100.0, 0),
        grouped(search.judge().judged)
    )
}

/// Choices for the coarse grains.
pub const SKELETON: &[(&str, &str)] = &[
    ("any", "does not matter"),
    ("touch", "must touch"),
    ("apart", "must not touch"),
];
/// Choices for the ground.
pub const FILL_GROUND: &[(&str, &str)] = &[
    ("all", "all of the ground in the recipe"),
    ("to_fill", "as much ground as fills it up"),
];
/// Where no search can begin.
pub const NOTHING_ON_SALE: Saying = said!(
    "Nothing is on sale yet, or all of it is refused: say under On sale what can be bought, and for how much."
);
/// The same.
pub const NOTHING_WISHED: Saying = said!("Say first what the blend should be.");
/// A ground that fills up needs a volume.
pub const FILL_NEEDED: Saying = said!("say which volume is to be filled");
/// A search that was ended.
pub const CANCELLED: Saying = said!("The search was cancelled.");
/// Over the cards.
pub const CARD_HEADS: [Saying; 5] = [
    said!("The cheapest"),
    said!("Fewer materials, for at most a tenth more"),
    said!("Best odds for the money"),
    said!("The nearest"),
    said!("The cheapest by typical values"),
];
/// What its blend is called on the shelf.
pub const SHELF_NAMES: [Saying; 4] = [
    said!("The cheapest"),
    said!("Fewer materials"),
    said!("Best odds"),
    said!("The nearest"),
];
/// Of the lines of a card.
pub const BUY_CAPTION: Saying = said!("What to buy");
/// Below them.
pub const INVENTED: Saying = said!("* an invented price");
/// The recipe is another one.
pub const OUTDATED: Saying =
    said!("The ground, the prices or the wishes have changed since: look for it again.");
/// The button of a card.
pub const PUT_ON_PAGE: Saying = said!("Put it into the recipe");
/// Beside it.
pub const KEEP_ON_SHELF: Saying = said!("Keep it on the shelf");
/// Once that was pressed.
pub const KEPT: Saying = said!("It is on the shelf. Undo takes it off again.");
/// The same where the ground fills up.
pub const TAKEN_FILLED: Saying = said!(
    "It is in the recipe, in place of what was added, with as much ground as fills the volume. Undo brings back what was there."
);
/// Where a box of the form cannot be used.
pub const MEND_FIRST: Saying = said!("Mend what is marked first.");
/// Once it was pressed.
pub const TAKEN: Saying =
    said!("It is in the recipe, in place of what was added. Undo brings that back.");

/// Limits that contradict each other.
pub fn backwards_text(name: &str, least: &str, most: &str) -> String {
    say!("{} cannot be at least {} and at most {}", name, least, most)
}

/// What was found, in a sentence.
pub fn in_short_text(findings: &Findings, wishes: usize, currency: Option<&str>) -> String {
    match &findings.cheapest {
        Some(found) => {
            let cost = money(found.cost, currency);
            say!("The cheapest that was found costs {}.", cost)
        }
        None => proof_text(findings, wishes, currency),
    }
}
