//! Undo and redo of whole recipes.
//!
//! A step keeps its additions and materials one by one and shares those that did not change, so a
//! long session on a long recipe costs kilobytes a step and not hundreds of them.

use super::{Addition, OwnMaterial, Recipe};
use std::collections::VecDeque;
use std::rc::Rc;

/// Most steps that can be undone; the oldest is forgotten first. At some kilobytes a step that is
/// a few megabytes (a choice: more moves than anyone undoes one by one).
pub const STEPS_LIMIT: usize = 2000;

/// A recipe with its past and with what was undone.
#[derive(Clone, Debug)]
pub struct History {
    now: Recipe,
    kept_now: Step,
    past: VecDeque<Step>,
    undone: Vec<Step>,
    /// The control whose moves still go into the last step.
    key: Option<String>,
}

/// A recipe in pieces; equal pieces of neighbours are one.
#[derive(Clone, Debug)]
struct Step {
    /// Everything but the two lists.
    rest: Rc<Recipe>,
    additions: Vec<Rc<Addition>>,
    materials: Vec<Rc<OwnMaterial>>,
}

impl History {
    /// A recipe without a past.
    pub fn new(recipe: Recipe) -> History {
        History {
            kept_now: Step::of(&recipe, None),
            now: recipe,
            past: VecDeque::new(),
            undone: Vec::new(),
            key: None,
        }
    }

    /// The recipe as it stands.
    pub fn now(&self) -> &Recipe {
        &self.now
    }

    /// Makes a change: one step, and what was undone is forgotten. An equal recipe is no change.
    pub fn change(&mut self, recipe: Recipe) {
        self.settle();
        if recipe != self.now {
            self.step_to(recipe);
        }
    }

    /// Makes a change that is one of several moves of one control: moves with the same key in a
    /// row are one step, until [`settle`](History::settle) or anything else comes between.
    pub fn change_along(&mut self, recipe: Recipe, key: &str) {
        if recipe == self.now {
            return;
        }
        if self.key.as_deref() != Some(key) {
            self.step_to(recipe);
            self.key = Some(key.to_owned());
            return;
        }
        self.put(recipe);
        // A control that came back to where it started leaves no step that does nothing.
        if let Some(before) = self.past.back()
            && before.whole() == self.now
        {
            self.past.pop_back();
            self.key = None;
        }
    }

    /// Ends a row of moves: the control was let go.
    pub fn settle(&mut self) {
        self.key = None;
    }

    /// Goes a step back; none where there is none.
    pub fn undo(&mut self) -> Option<&Recipe> {
        self.settle();
        let before = self.past.pop_back()?;
        let after = std::mem::replace(&mut self.kept_now, before);
        self.undone.push(after);
        self.now = self.kept_now.whole();
        Some(&self.now)
    }

    /// Makes the step again that was undone last; none where there is none.
    pub fn redo(&mut self) -> Option<&Recipe> {
        self.settle();
        let after = self.undone.pop()?;
        let before = std::mem::replace(&mut self.kept_now, after);
        self.past.push_back(before);
        self.now = self.kept_now.whole();
        Some(&self.now)
    }

    /// Whether a step can be undone.
    pub fn can_undo(&self) -> bool {
        !self.past.is_empty()
    }

    /// Whether a step that was undone can be made again.
    pub fn can_redo(&self) -> bool {
        !self.undone.is_empty()
    }

    fn step_to(&mut self, recipe: Recipe) {
        self.undone.clear();
        self.past.push_back(self.kept_now.clone());
        if self.past.len() > STEPS_LIMIT {
            self.past.pop_front();
        }
        self.put(recipe);
    }

    fn put(&mut self, recipe: Recipe) {
        self.kept_now = Step::of(&recipe, Some(&self.kept_now));
        self.now = recipe;
    }
}

impl Step {
    fn of(recipe: &Recipe, near: Option<&Step>) -> Step {
        let rest = Recipe {
            title: recipe.title.clone(),
            ground: recipe.ground.clone(),
            ground_kept: recipe.ground_kept.clone(),
            ground_ranges_kept: recipe.ground_ranges_kept.clone(),
            soil: recipe.soil.clone(),
            parts_of_soil: recipe.parts_of_soil,
            additions: Vec::new(),
            place: recipe.place.clone(),
            currency: recipe.currency.clone(),
            made_by: recipe.made_by.clone(),
            materials: Vec::new(),
            kept: recipe.kept.clone(),
        };
        Step {
            rest: match near {
                Some(near) if *near.rest == rest => Rc::clone(&near.rest),
                _ => Rc::new(rest),
            },
            additions: shared(&recipe.additions, near.map_or(&[], |near| &near.additions)),
            materials: shared(&recipe.materials, near.map_or(&[], |near| &near.materials)),
        }
    }

    fn whole(&self) -> Recipe {
        let mut recipe = Recipe::clone(&self.rest);
        recipe.additions = self.additions.iter().map(|item| (**item).clone()).collect();
        recipe.materials = self.materials.iter().map(|item| (**item).clone()).collect();
        recipe
    }
}

/// Each item, as the neighbour's own where that is equal; most stand where they stood.
fn shared<T: Clone + PartialEq>(items: &[T], near: &[Rc<T>]) -> Vec<Rc<T>> {
    let mut out = Vec::with_capacity(items.len());
    for (index, item) in items.iter().enumerate() {
        let same = near
            .get(index)
            .filter(|known| ***known == *item)
            .or_else(|| near.iter().find(|known| ***known == *item));
        out.push(same.map_or_else(|| Rc::new(item.clone()), Rc::clone));
    }
    out
}
