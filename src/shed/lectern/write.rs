//! What the lectern writes and draws.

use super::{Lectern, field, layer, part};
use crate::dom::{Element, set, set_disabled, set_hidden};
use crate::outcome::Outcome;
use crate::recipe::lectern::{FIGURES, Shown};
use crate::shed::section::put;
use crate::words::{
    classes_told, guess_text, guess_told, label_of_lectern, moved_number, shown, shown_name,
    shown_told,
};

/// Units of the ruler that tells how large one is on this screen.
const RULER: f64 = 1000.0;

/// Says in large letters why nothing can be shown, and takes away what was; or lets it be seen.
pub(super) fn fault(text: Option<&str>) {
    let stage = part("stage");
    crate::dom::mark(&stage, "data-fault", text.is_some());
    let told = text.map_or(String::new(), |text| {
        [text, " ", label_of_lectern("lectern_fault")].concat()
    });
    put(&part("fault"), &told);
    if text.is_some() {
        part("triangle").set_inner_html("");
        part("column").set_inner_html("");
        put(&part("class"), "");
        put(&part("says"), "");
        put(&part("status"), &told);
        for name in ["show", "guess"] {
            set_hidden(&part(name), true);
        }
        for place in layer().query_selector_all(".lectern-figures > div") {
            set_hidden(&place, true);
        }
        set_hidden(&part("guessing"), true);
    }
}

/// The room of a drawing, in units of the lectern.
pub(super) fn room_of(drawing: &Element) -> [f64; 2] {
    let ruler = part("ruler").get_bounding_client_rect().width();
    let area = drawing.get_bounding_client_rect();
    if ruler > 0.0 {
        [area.width(), area.height()].map(|pixels| pixels / ruler * RULER)
    } else {
        [0.0, 0.0]
    }
}

impl Lectern {
    /// Writes and draws everything that can be seen.
    pub(super) fn write(&self) {
        fault(self.fault.as_deref());
        self.write_slider();
        set_disabled(&part("back"), self.at == 0);
        let last = self.at + 1 >= self.steps.len();
        set_disabled(&part("next"), last && !self.hidden);
        let Some(outcome) = &self.outcome else {
            return;
        };
        set_hidden(&part("show"), !self.hidden);
        set_hidden(&part("guess"), self.hidden);
        crate::dom::mark(&part("stage"), "data-hidden", self.hidden);
        let figures = self.step().shown();
        let places = layer().query_selector_all(".lectern-figures > div");
        for index in 0..FIGURES {
            let Some(place) = places.get(index) else {
                continue;
            };
            let of = figures.get(index).copied();
            set_hidden(place, of.is_none());
            if let Some(of) = of {
                self.write_figure(place, of, outcome);
            }
        }
        self.write_guess(outcome);
        put(&part("class"), &classes_told(outcome, self.hidden));
        let triangle = part("triangle");
        let size = room_of(&triangle);
        let [wide, high] = size.map(|side| crate::recipe::number_text(side.floor()));
        set(&triangle, "viewBox", &["0 0 ", &wide, " ", &high].concat());
        let guess = self.seen().guess;
        let drawn = super::draw::triangle(outcome, guess, self.hidden, size);
        triangle.set_inner_html(&unread(&drawn));
        let column = super::bars::column(outcome, guess, self.hidden);
        part("column").set_inner_html(&unread(&column));
        put(&part("guessed"), &self.guess_text());
    }

    pub(super) fn guess_text(&self) -> String {
        let guess = self.seen().guess;
        let figure = self.figure_guess();
        // The bar's pores are told once.
        let figure = figure.filter(|(of, _)| *of != Shown::Pores);
        guess_text(guess.texture, guess.pores_pct, figure)
    }

    fn write_slider(&self) {
        let Some(moved) = self.moved else {
            return;
        };
        let number = moved_number(moved, &self.recipe);
        let (figure, unit) = number.split_once(' ').unwrap_or((&number, ""));
        put(&part("number"), figure);
        put(&part("number-unit"), unit);
        let slider = field("slider");
        let now = shown(moved.number(&self.recipe).unwrap_or_default());
        if slider.value() != now {
            slider.set_value(&now);
        }
        set(&slider, "aria-valuetext", &number);
    }

    /// The row of the guess: its controls as long as it is asked for.
    fn write_guess(&self, outcome: &Outcome) {
        let asked = self.asked().filter(|_| self.hidden);
        set_hidden(&part("guessing"), asked.is_none());
        let waits = self.hidden && asked.is_none();
        let wish = label_of_lectern("waits");
        let says = part("says");
        if waits {
            put(&says, wish);
        } else if says.text_content() == wish || asked.is_some() {
            put(&says, "");
        }
        let Some((of, ends)) = asked.and_then(|of| Some((of, of.guess_ends()?))) else {
            return;
        };
        let name = [shown_name(of), label_of_lectern("hidden")].concat();
        put(&part("guess-name"), &name);
        let called = [label_of_lectern("lectern_guess_of"), ": ", shown_name(of)].concat();
        let (slider, number) = (field("guess"), field("guess-number"));
        for control in [&slider, &number] {
            set(control, "aria-label", &called);
        }
        set(&slider, "min", &crate::recipe::number_text(ends.least));
        set(&slider, "max", &crate::recipe::number_text(ends.most));
        set(
            &slider,
            "step",
            &ends
                .step
                .map_or("any".to_owned(), crate::recipe::number_text),
        );
        let guess = self.figure_guess().map(|(_, value)| value);
        let start = guess.unwrap_or_else(|| super::guess_start(of, outcome));
        let text = shown(start);
        if slider.value() != text {
            slider.set_value(&text);
        }
        let text = guess.map_or(String::new(), shown);
        // What is being typed is not written over: 5. is on its way to 5.5.
        let typed = crate::words::parse_typed(&number.value());
        if guess.is_none() || typed != crate::words::Typed::Number(start) {
            number.set_value(&text);
        }
        let [told, unit] = guess_told(of, start);
        put(&part("guess-unit"), &unit);
        let spoken = [&told, " ", &unit].concat();
        set(&slider, "aria-valuetext", spoken.trim());
    }

    fn write_figure(&self, place: &Element, of: Shown, outcome: &Outcome) {
        let [lying, blend] = shown_told(of, outcome, self.speech);
        let guess = self.figure_guess().filter(|(asked, _)| *asked == of);
        let guess = guess.map(|(_, value)| guess_told(of, value));
        let (value, range) = match (blend, &guess) {
            (_, Some([number, unit])) if self.hidden => {
                let hidden = label_of_lectern("hidden");
                ([number, " ", unit, hidden].concat(), String::new())
            }
            _ if self.hidden => (label_of_lectern("hidden").to_owned(), String::new()),
            (Some(told), _) => (told.value, told.range),
            (None, _) => (label_of_lectern("no_number").to_owned(), String::new()),
        };
        let lying = lying.map_or(String::new(), |told| {
            [label_of_lectern("ground"), " ", &told.value].concat()
        });
        let beside = guess.as_ref().filter(|_| !self.hidden);
        let beside = beside.map_or(String::new(), |[number, unit]| {
            let unit = if unit == "%" { " %" } else { "" };
            [label_of_lectern("of_guess"), " ", number, unit].concat()
        });
        crate::dom::mark(place, "data-guess", self.hidden && guess.is_some());
        // The unit is smaller than the number.
        let (number, unit) = value.rsplit_once([' ', '\u{a0}']).unwrap_or((&value, ""));
        let texts = [shown_name(of), number, unit, &range, &beside, &lying];
        for (name, text) in ["name", "value", "unit-of", "range", "guessed", "before"]
            .into_iter()
            .zip(texts)
        {
            let selector = [".", name].concat();
            if let Some(place) = place.query_selector(&selector) {
                put(&place, text);
            }
        }
    }
}

/// A drawing that is told in words beside it: its ticks and names one by one tell nothing.
fn unread(drawn: &str) -> String {
    ["<g aria-hidden=\"true\">", drawn, "</g>"].concat()
}
