//! Finding a material to add: a list with a search, favourites first.

use super::form::{Form, Wrong, button, dialog, put, value};
use super::{Tool, page, with_tool};
use crate::dom::{Element, by_id, focus, make, set, set_hidden};
use crate::material::{Group, catalogue};
use crate::memory::{self, BETWEEN, FAVOURITES};
use crate::recipe::{Addition, Recipe, from_letters, to_letters};
use crate::words::{
    everyday_words, found_text, group_name, is_found, label_of_shed, material_line, own_kind_text,
};
use std::cell::{Cell, RefCell};

/// A material as the list shows it.
struct Item<'a> {
    id: &'a str,
    name: &'a str,
    group: Option<Group>,
    is_own: bool,
}

/// Where someone was in the list before looking at a material.
struct Place {
    typed: String,
    scrolled: f64,
    id: String,
}

thread_local! {
    static PLACE: RefCell<Option<Place>> = const { RefCell::new(None) };
    /// Whether there are other favourites than the page's own lists show.
    static STARRED: Cell<bool> = const { Cell::new(false) };
}

fn favourites() -> Vec<String> {
    let text = memory::read(FAVOURITES).unwrap_or_default();
    let ids = memory::items(&text);
    let ids = ids.into_iter().filter(|id| !id.is_empty());
    ids.map(str::to_owned).collect()
}

/// Every material, the recipe's own first; one that the recipe has taken the name of is its own.
fn items(recipe: &Recipe) -> Vec<Item<'_>> {
    let own = recipe.materials.iter().map(|own| Item {
        id: &own.id,
        name: own.name.as_deref().unwrap_or(&own.id),
        group: own.group,
        is_own: true,
    });
    let others = catalogue().iter().filter(|entry| {
        let taken = |own: &crate::recipe::OwnMaterial| own.id == entry.id;
        !recipe.materials.iter().any(taken)
    });
    let others = others.map(|entry| Item {
        id: entry.id,
        name: entry.told(),
        group: Some(entry.group),
        is_own: false,
    });
    own.chain(others).collect()
}

/// Fills the list; what was looked for before a material was looked at stands there again.
pub(super) fn fill(tool: &Tool, back: bool) {
    let place = PLACE.with(|place| place.borrow_mut().take());
    let place = place.filter(|_| back);
    if let Some(place) = &place {
        tool.form.set("seek", &place.typed);
    }
    build(tool);
    narrow(&tool.form);
    if let Some(place) = place {
        tool.form.part(".finds").set_scroll_top(place.scrolled);
        let about = tool.form.all(".finds [data-of]");
        let is_it = |about: &&Element| about.get_attribute("data-of").as_deref() == Some(&place.id);
        if let Some(about) = about.iter().find(is_it) {
            focus(about);
        }
    } else if let Some(seek) = tool.form.find("[name=seek]") {
        focus(&seek);
    }
}

/// Keeps where one is in the list.
pub(super) fn leave(form: &Form, id: &str) {
    let place = Place {
        typed: form.text("seek"),
        scrolled: form.part(".finds").scroll_top(),
        id: id.to_owned(),
    };
    PLACE.with(|kept| *kept.borrow_mut() = Some(place));
}

/// Builds the list: favourites, then what is one's own, then one kind after the other.
fn build(tool: &Tool) {
    let list = tool.form.list("finds");
    let starred = favourites();
    let is_starred = |item: &&Item| starred.iter().any(|id| id == item.id);
    let items = items(&tool.recipe);
    let (first, rest): (Vec<&Item>, Vec<&Item>) = items.iter().partition(is_starred);
    let (own, rest): (Vec<&Item>, Vec<&Item>) = rest.into_iter().partition(|item| item.is_own);
    section(&list, label_of_shed("favourites"), &first, true);
    section(&list, label_of_shed("own_group"), &own, false);
    for group in Group::ALL {
        let of_it = rest.iter().filter(|item| item.group == Some(*group));
        section(
            &list,
            group_name(*group),
            &of_it.copied().collect::<Vec<_>>(),
            false,
        );
    }
}

fn section(list: &Element, name: &str, items: &[&Item], starred: bool) {
    if items.is_empty() {
        return;
    }
    let section = put(list, "section", "");
    set(
        &section,
        "data-place",
        &list.child_element_count().to_string(),
    );
    put(&section, "h3", name);
    let list = put(&section, "ul", "");
    for (place, item) in items.iter().enumerate() {
        let element = shown(item, starred);
        set(&element, "data-place", &place.to_string());
        list.append_child(&element);
    }
}

fn shown(item: &Item, starred: bool) -> Element {
    let element = make("li");
    let line = if item.is_own {
        own_kind_text(item.group)
    } else {
        material_line(item.id).to_owned()
    };
    let kind = item.group.map_or("", group_name);
    // What it is found by; its own words stand in it already.
    let words = [item.id, " ", kind, " ", everyday_words(item.id)].concat();
    set(&element, "data-words", &words);
    let text = put(&element, "p", "");
    put(&text, "strong", item.name);
    put(&text, "span", &line);
    let named = |button: &Element, key: &'static str| {
        let title = [label_of_shed(key), ": ", item.name].concat();
        set(button, "aria-label", &title);
        element.append_child(button);
    };
    // The memory keeps ids with a sign between; one that holds it could not be told from two.
    if !item.id.contains(BETWEEN) {
        let star = button("star", item.id, "");
        set(&star, "class", "star");
        set(&star, "title", label_of_shed("favourite"));
        press(&star, starred);
        named(&star, "favourite");
    }
    let key = if item.is_own { "edit" } else { "about" };
    let about = make("button");
    set(&about, "type", "button");
    about.set_text_content(label_of_shed(key));
    point(&about, item.id, item.is_own);
    named(&about, key);
    named(&button("add", item.id, label_of_shed("add")), "add");
    element
}

/// Lets a button open the sheet of a material; one's own has none and is opened itself.
pub(super) fn point(button: &Element, id: &str, is_own: bool) {
    set(
        button,
        "data-shed",
        if is_own { "material" } else { "sheet" },
    );
    set(button, "data-of", id);
}

fn press(star: &Element, pressed: bool) {
    set(star, "aria-pressed", if pressed { "true" } else { "false" });
    star.set_text_content(if pressed { "★" } else { "☆" });
}

/// Shows what the search finds and hides the rest. What has the words in its name comes first, and
/// so does its kind.
pub(super) fn narrow(form: &Form) {
    let typed = form.text("seek");
    let (mut count, mut of) = (0, 0);
    let mut sections = Vec::new();
    for section in form.all(".finds section") {
        let mut items = Vec::new();
        for item in section.query_selector_all("li") {
            let text = |selector: &str| {
                let part = item.query_selector(selector);
                part.map_or(String::new(), |part| part.text_content())
            };
            let (name, line) = (text("strong"), text("span"));
            let words = item.get_attribute("data-words").unwrap_or_default();
            let rank = if is_found(&typed, &[&name]) {
                0
            } else if is_found(&typed, &[&name, &line, &words]) {
                1
            } else {
                2
            };
            set_hidden(&item, rank == 2);
            count += usize::from(rank < 2);
            of += 1;
            items.push((rank, item));
        }
        let best = items.iter().map(|(rank, _)| *rank).min().unwrap_or(2);
        set_hidden(&section, best == 2);
        arrange(items);
        sections.push((best, section));
    }
    arrange(sections);
    form.write("[data-part=found]", &found_text(count, of));
    set_hidden(&form.part(".none"), count > 0);
    form.part(".finds").set_scroll_top(0.0);
}

/// Puts brothers in the order of their rank, and those of a rank as they stood at first.
fn arrange(mut brothers: Vec<(u8, Element)>) {
    let place = |element: &Element| {
        let place = element.get_attribute("data-place");
        place.and_then(|place| place.parse::<usize>().ok())
    };
    brothers.sort_by_key(|(rank, element)| (*rank, place(element)));
    for (_, element) in brothers {
        if let Some(parent) = element.parent_element() {
            parent.append_child(&element);
        }
    }
}

/// Makes a material a favourite, or no longer one. It stays where it is as long as one looks.
pub(super) fn star(id: &str) {
    with_tool(|tool| {
        let mut ids = favourites();
        let was = ids.len();
        ids.retain(|known| known != id);
        let pressed = ids.len() == was;
        if pressed {
            ids.push(id.to_owned());
        }
        if !memory::write(FAVOURITES, &ids.join(BETWEEN)) {
            let text = label_of_shed("favourite_not_kept");
            tool.form.mark(Some(&Wrong::of(text)));
            return;
        }
        tool.form.mark(None);
        STARRED.set(true);
        for star in tool.form.all(".star") {
            if value(&star) == id {
                press(&star, pressed);
            }
        }
    });
}

/// The page's own lists have favourites first too.
pub(super) fn closed() {
    if STARRED.take() {
        page::take(&page::recipe(), false);
    }
}

/// Adds a material as a new line, and goes there.
pub(super) fn add(id: &str) {
    let Ok(mut recipe) = from_letters(&page::recipe()) else {
        return;
    };
    let amount = recipe.first_amount();
    recipe.additions.push(Addition::new(id, amount));
    let wrong = page::take(&to_letters(&recipe), false);
    if !wrong.is_empty() {
        with_tool(|tool| tool.form.mark(Some(&Wrong::of(wrong))));
        return;
    }
    STARRED.set(false);
    if let Some(dialog) = dialog() {
        dialog.close();
    }
    if let Some(slider) = by_id("additions")
        .query_selector_all("input[type=range]")
        .last()
    {
        focus(slider);
    }
}
