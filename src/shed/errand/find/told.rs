//! What a search came to, as cards.

use super::{Hunt, PART, change, with};
use crate::dom::{Element, make, set, set_hidden};
use crate::draws::Strata;
use crate::errand::Found;
use crate::errand::wish::GroundUse;
use crate::outcome::Outcome;
use crate::recipe::Recipe;
use crate::shed::section::put as put_text;
use crate::shelf::{self, set_shelf, shelf_of};
use crate::texture::Class;
use crate::words::errand::find::{
    CARD_HEADS, INVENTED, KEEP_ON_SHELF, KEPT, ONE_STANDS, OUTDATED, PUT_ON_PAGE, SEVERAL_STAND,
    SHELF_NAMES, TAKEN, TAKEN_FILLED, bought, ground_text, hindrance_text, in_short_text, money,
    odds_text, one_wish_text, proof_text, reached_text,
};
use crate::words::{Speech, care_line, class_name, error_text, shelf_fault_text};

/// Draws of an outcome whose typical values are enough.
const FEW: u32 = 2;

/// The boxes of the classes, which stand still.
pub(super) fn furnish() {
    let place = PART.part("classes");
    for class in Class::ALL.iter().copied() {
        tick(&place, "class", class.id(), class_name(class));
    }
}

/// A box to tick, with its label.
pub(super) fn tick(place: &Element, name: &str, value: &str, text: &str) {
    let label = make("label");
    set(&label, "class", "errand-tick");
    let field = make("input");
    set(&field, "type", "checkbox");
    set(&field, "name", name);
    set(&field, "value", value);
    label.append_child(&field);
    let span = make("span");
    span.set_text_content(text);
    label.append_child(&span);
    place.append_child(&label);
}

/// What was found, in a sentence for those who do not see it.
pub(super) fn in_short(hunt: &Hunt) -> String {
    let findings = hunt.findings();
    in_short_text(
        findings,
        hunt.errand.wish.all().len(),
        hunt.recipe.currency.as_deref(),
    )
}

/// Shows the cards, or clears them.
pub(super) fn tell(hunt: Option<&Hunt>, speech: Speech, stale: bool) {
    let place = PART.part("found");
    let says = PART.part("proof");
    let old = PART.part("outdated");
    set_hidden(&place, hunt.is_none());
    put_text(&old, if stale { OUTDATED.text() } else { "" });
    let Some(hunt) = hunt else {
        put_text(&says, "");
        place.set_text_content("");
        set(&place, "data-key", "");
        return;
    };
    let key = format!("{:p} {speech:?}", &raw const *hunt.findings());
    let key = [&key, " ", &hunt.key].concat();
    if place.get_attribute("data-key").as_deref() == Some(&key) {
        return;
    }
    set(&place, "data-key", &key);
    place.set_text_content("");
    let findings = hunt.findings();
    let currency = hunt.recipe.currency.as_deref();
    let wishes = hunt.errand.wish.all().len();
    put_text(&says, &proof_text(findings, wishes, currency));
    let all = [&findings.cheapest, &findings.fewer, &findings.likeliest];
    for (at, found) in all.into_iter().enumerate() {
        if let Some(found) = found.as_ref().filter(|found| is_something(found)) {
            let head = if at == 0 && findings.odds_missed {
                CARD_HEADS[4].text()
            } else {
                CARD_HEADS[at].text()
            };
            card(&place, hunt, found, head, &at.to_string(), speech);
        }
    }
    for hindrance in &findings.hindrances {
        let text = hindrance_text(&hunt.errand.wish, hindrance, speech, currency);
        let line = make("p");
        line.set_text_content(&text);
        place.append_child(&line);
    }
    if let (Some(nearest), None) = (&findings.nearest, &findings.cheapest)
        && is_something(nearest)
    {
        if findings.hindrances.is_empty() {
            let line = make("p");
            let text = if wishes > 1 {
                SEVERAL_STAND.text()
            } else {
                ONE_STANDS.text()
            };
            line.set_text_content(text);
            place.append_child(&line);
        }
        card(&place, hunt, nearest, CARD_HEADS[3].text(), "3", speech);
    }
}

fn is_something(found: &Found) -> bool {
    found.lots.iter().any(|lots| *lots > 0)
}

/// One purchase.
fn card(place: &Element, hunt: &Hunt, found: &Found, head: &str, value: &str, speech: Speech) {
    let currency = hunt.recipe.currency.as_deref();
    let put = |under: &Element, name: &str, class: &str, text: &str| {
        let element = make(name);
        if !class.is_empty() {
            set(&element, "class", class);
        }
        element.set_text_content(text);
        under.append_child(&element);
        element
    };
    let card = put(place, "article", "errand-card", "");
    put(&card, "h3", "", head);
    put(&card, "p", "errand-cost", &money(found.cost, currency));
    let table = put(&card, "table", "plain errand-lines", "");
    put(
        &table,
        "caption",
        "unseen",
        crate::words::errand::find::BUY_CAPTION.text(),
    );
    let rows = put(&table, "tbody", "", "");
    let mut invented = false;
    for line in bought(&hunt.recipe, hunt.search.judge(), found, currency) {
        let row = put(&rows, "tr", "", "");
        let name = put(&row, "th", "", &line.what);
        set(&name, "scope", "row");
        let mark = if line.invented { "*" } else { "" };
        put(&row, "td", "", &[&line.money, mark].concat());
        invented |= line.invented;
    }
    let mixed = hunt.search.judge().recipe(&found.lots);
    if let Some(text) = mixed.map(|mixed| ground_text(&mixed, &hunt.errand.wish))
        && !text.is_empty()
    {
        let row = put(&rows, "tr", "", "");
        let name = put(&row, "th", "", &text);
        set(&name, "scope", "row");
        put(&row, "td", "", "");
    }
    if invented {
        put(&card, "p", "muted", INVENTED.text());
    }
    let list = put(&card, "ul", "errand-reached", "");
    for one in hunt.errand.wish.all() {
        let wished = one_wish_text(&hunt.errand.wish, one, speech, currency);
        let reached = reached_text(one, &found.values, speech, currency);
        let met = hunt.errand.wish.miss(one, &found.values) <= 0.0;
        let item = put(&list, "li", if met { "" } else { "missed" }, "");
        put(&item, "span", "", &wished);
        put(&item, "b", "", &reached);
    }
    put(
        &card,
        "p",
        "errand-odds",
        &odds_text(found, hunt.errand.odds_pct.is_some()),
    );
    let mixed = hunt.search.judge().recipe(&found.lots);
    if let Some(text) = mixed.map(|mixed| cares(&mixed, &hunt.recipe))
        && !text.is_empty()
    {
        put(&card, "p", "errand-cares", &text);
    }
    let buttons = put(&card, "p", "errand-does", "");
    let button = put(&buttons, "button", "", PUT_ON_PAGE.text());
    set(&button, "type", "button");
    set(&button, "data-errand", "find-take");
    set(&button, "value", value);
    let button = put(&buttons, "button", "", KEEP_ON_SHELF.text());
    set(&button, "type", "button");
    set(&button, "data-errand", "find-keep");
    set(&button, "value", value);
}

/// The graver cautions of a blend, but for those that stand on the page whatever is bought.
fn cares(mixed: &Recipe, now: &Recipe) -> String {
    let of = |recipe: &Recipe| {
        let outcome = Outcome::drawn_from(recipe, &mut Strata::of(FEW));
        outcome.map(|outcome| outcome.cautions).unwrap_or_default()
    };
    let bare = Recipe {
        additions: Vec::new(),
        ..now.clone()
    };
    let known = of(&bare);
    care_line(&of(mixed), |caution| {
        !known.iter().any(|other| other.of == caution.of)
    })
}

/// The recipe that a card makes, and what its card is called.
fn mixed(value: &str) -> Option<(Recipe, &'static str)> {
    let mixed = with(|find| {
        let hunt = find.hunt.as_ref()?;
        let findings = hunt.findings();
        let (found, head) = match value {
            "0" => (&findings.cheapest, SHELF_NAMES[0].text()),
            "1" => (&findings.fewer, SHELF_NAMES[1].text()),
            "2" => (&findings.likeliest, SHELF_NAMES[2].text()),
            _ => (&findings.nearest, SHELF_NAMES[3].text()),
        };
        let lots = &found.as_ref()?.lots;
        Some((hunt.search.judge().recipe(lots)?, head))
    });
    mixed.flatten()
}

/// Puts a purchase into the recipe.
pub(super) fn take(value: &str) {
    let Some((mixed, _)) = mixed(value) else {
        return;
    };
    let fills = with(|find| find.errand.wish.ground == GroundUse::ToFill);
    let taken = change(|recipe| {
        recipe.additions = mixed.additions;
        recipe.soil = mixed.soil;
    });
    if taken {
        super::tell(if fills == Some(true) {
            TAKEN_FILLED.text()
        } else {
            TAKEN.text()
        });
    }
}

/// Keeps the blend of a purchase on the shelf.
pub(super) fn keep(value: &str) {
    let Some((mixed, head)) = mixed(value) else {
        return;
    };
    let mut wrong = String::new();
    let kept = change(|recipe| {
        let blend = Recipe {
            shelf: recipe.shelf.clone(),
            ..mixed
        };
        let kept = shelf_of(recipe).map_err(|error| error_text(&error));
        let kept = kept.and_then(|list| shelf::keep(&list, &blend, head).map_err(shelf_fault_text));
        match kept {
            Ok(list) => set_shelf(recipe, &list),
            Err(text) => wrong = text,
        }
    });
    if !wrong.is_empty() {
        super::says(&wrong);
    } else if kept {
        super::tell(KEPT.text());
    }
}
