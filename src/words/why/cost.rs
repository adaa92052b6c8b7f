//! What a blend costs: its rows and its limits.

use super::super::{cost_text, fixed, number_in_words, unit_name};
use super::{Case, Limit, Part, number};
use crate::quantity::{Dimension, LITRES_PER_M3, Unit};
use crate::recipe::{Bag, Found, Price};

impl Case<'_> {
    pub(super) fn cost_rows(&self, part: &Part<'_>, rows: &mut Vec<(String, String)>) {
        let name = part.found.name();
        let currency = self.recipe.currency.as_deref();
        let mut row = |what: &str, value: String| rows.push(([name, ": ", what].concat(), value));
        row(
            tr!("used"),
            say!(
                "{} as sold, {} loose",
                self.mass(part.line.moist_kg),
                self.speech.volume(part.line.loose_m3 * LITRES_PER_M3)
            ),
        );
        let Some(price) = part.price() else {
            row(tr!("price"), tr!("not given").into());
            return;
        };
        let per = &price.per;
        let per_text = if per.unit == Unit::Bag && per.value == 1.0 {
            tr!("a bag").into()
        } else {
            number_in_words(per)
        };
        let text = say!("{} for {}", cost_text(price.value, currency), per_text);
        row(tr!("price"), say!("{}, given", text));
        if let Some(bags) = part.bags() {
            row(
                tr!("bags used"),
                [&number(bags), " ", unit_name(Unit::Bag)].concat(),
            );
        }
        if let Some(cost) = part.line.cost {
            row(tr!("comes to"), cost_text(cost, currency));
        }
    }

    pub(super) fn prices(&self, out: &mut Vec<Limit>) {
        let all = self.recipe.additions.len();
        if all == 0 {
            return;
        }
        let priced = self.parts().filter(|part| part.line.cost.is_some()).count();
        let inside = priced == all;
        let so = if inside {
            tr!("inside")
        } else {
            tr!("outside, a sum needs a price on every one")
        };
        out.push(Limit {
            text: say!("{} of {} additions have a price: {}", priced, all, so),
            inside,
        });
        for part in self.parts() {
            let (Some(price), Some(_)) = (part.price(), part.line.cost) else {
                continue;
            };
            let name = part.found.name();
            let (so, inside) = match part.bags() {
                Some(bags) if (bags - bags.round()).abs() > 1e-6 => (
                    say!(
                        "{} bags, counted pro rata: outside whole bags, so you likely pay for {}",
                        number(bags),
                        fixed(bags.ceil(), 0)
                    ),
                    false,
                ),
                Some(bags) => (say!("{} bags: inside whole bags", number(bags)), true),
                None => (
                    say!(
                        "priced for {}, counted pro rata: inside, if it is sold loose",
                        number_in_words(&price.per)
                    ),
                    true,
                ),
            };
            out.push(Limit {
                text: [name, ": ", &so].concat(),
                inside,
            });
        }
    }
}

impl Part<'_> {
    /// Its price, of the line or of its own material.
    fn price(&self) -> Option<&Price> {
        self.addition.price.as_ref().or(match self.found {
            Found::Own(own, _) => own.price.as_ref(),
            Found::Catalogue(_) => None,
        })
    }

    /// How many bags are used of what is priced by the bag.
    fn bags(&self) -> Option<f64> {
        let price = self.price()?;
        if price.per.unit != Unit::Bag {
            return None;
        }
        let bag: &Bag = self.addition.bag.as_ref().or(match self.found {
            Found::Own(own, _) => own.bag.as_ref(),
            Found::Catalogue(_) => None,
        })?;
        let is_mass = bag.size.unit.dimension() == Dimension::Mass;
        let bags = match (is_mass, bag.expands) {
            (true, None) => self.line.moist_kg / bag.size.si(),
            (true, Some(loose_l)) => self.line.loose_m3 * LITRES_PER_M3 / (bag.size.si() * loose_l),
            (false, expands) => self.line.loose_m3 / (bag.size.si() * expands.unwrap_or(1.0)),
        };
        bags.is_finite().then_some(bags)
    }
}
