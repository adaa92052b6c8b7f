//! What is shown at a lectern: steps with a caption each, and what the recipe has otherwise there.
//!
//! A step names whole fields of the recipe and what they are in it; `null` takes one away. So a step
//! is short, and a recipe that has steps is still one recipe with one ground. What is the same as in
//! a step before is written once: `like` names that step by its number, from nothing.

mod ends;

pub use ends::{Ends, ends};

use super::moment::{self, FIELDS, like, over};
use super::object::{Object, Reading};
use super::{Fault, Kept, Kind, Path, Recipe, RecipeError, Tree};
use crate::ground::Trait;
use crate::quantity::Unit;

/// Most steps (a choice: an hour at a minute and a half each).
pub const STEPS_LIMIT: usize = 40;
/// Most letters of a caption (a choice: three lines at 1/27 of a screen's height).
pub const CAPTION_LIMIT: usize = 160;
/// Figures that are shown at once.
pub const FIGURES: usize = 4;

/// Those that a moment is told by; own materials stay those of the recipe.
const MOMENT: usize = 6;

/// A figure that can be shown large.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shown {
    /// Pore space, settled.
    Pores,
    /// Bulk density, settled.
    Density,
    /// Organic matter.
    Organic,
    /// Air once drained.
    Air,
    /// Water that plants can take.
    PlantWater,
    /// How fast it drains.
    Drainage,
    /// pH.
    Ph,
    /// Sodium's share of the exchange.
    Sodium,
    /// Salt in the paste.
    Salt,
    /// Water in the container, once watered and drained.
    PotWater,
    /// Air there.
    PotAir,
    /// The layer there that stays full of water.
    WetLayer,
}

impl Shown {
    /// All of them.
    pub const ALL: &'static [Shown] = &[
        Shown::Pores,
        Shown::Density,
        Shown::Organic,
        Shown::Air,
        Shown::PlantWater,
        Shown::Drainage,
        Shown::Ph,
        Shown::Sodium,
        Shown::Salt,
        Shown::PotWater,
        Shown::PotAir,
        Shown::WetLayer,
    ];
    /// What is shown where a step names none.
    pub const USUAL: [Shown; FIGURES] =
        [Shown::Pores, Shown::Air, Shown::PlantWater, Shown::Drainage];

    /// Its word in the document.
    pub fn spelling(self) -> &'static str {
        match self {
            Shown::Pores => "pores",
            Shown::Density => "density",
            Shown::Organic => "organic",
            Shown::Air => "air",
            Shown::PlantWater => "plant_water",
            Shown::Drainage => "drainage",
            Shown::Ph => "ph",
            Shown::Sodium => "sodium",
            Shown::Salt => "salt",
            Shown::PotWater => "pot_water",
            Shown::PotAir => "pot_air",
            Shown::WetLayer => "wet_layer",
        }
    }

    fn of_spelling(text: &str) -> Option<Shown> {
        let mut all = Self::ALL.iter().copied();
        all.find(|shown| shown.spelling() == text)
    }
}

/// What the one slider moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Moved {
    /// The amount of an addition.
    Amount(usize),
    /// A number of the ground.
    Ground(Trait),
}

impl Moved {
    /// Numbers of the ground that a slider may move.
    pub const GROUND: [Trait; 3] = [Trait::Clay, Trait::OrganicMatter, Trait::Ph];

    /// Its path in the document.
    pub fn path(self) -> String {
        match self {
            Moved::Amount(index) => Path::from("additions").item(index).field("amount"),
            Moved::Ground(of) => Path::from("ground").field(of.name()),
        }
        .to_string()
    }

    /// What a path means in a recipe, or none.
    pub fn of_path(text: &str, recipe: &Recipe) -> Option<Moved> {
        let mut all = Self::all(recipe).into_iter();
        all.find(|moved| moved.path() == text)
    }

    /// The number that it moves, in a recipe.
    pub fn number(self, recipe: &Recipe) -> Option<f64> {
        match self {
            Moved::Amount(index) => Some(recipe.additions.get(index)?.amount.value),
            Moved::Ground(of) => recipe.ground.typical(of),
        }
    }

    /// The unit of an amount.
    pub fn unit(self, recipe: &Recipe) -> Option<Unit> {
        match self {
            Moved::Amount(index) => Some(recipe.additions.get(index)?.amount.unit),
            Moved::Ground(_) => None,
        }
    }

    /// All that a recipe has, the additions first.
    pub fn all(recipe: &Recipe) -> Vec<Moved> {
        let mut all: Vec<Moved> = (0..recipe.additions.len()).map(Moved::Amount).collect();
        // What is not told has no number to begin with.
        for of in Self::GROUND {
            if recipe.ground.get(of).is_some() {
                all.push(Moved::Ground(of));
            }
        }
        all
    }
}

/// What the audience is asked before the outcome is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Asked {
    /// Nothing: the outcome is there.
    #[default]
    Nothing,
    /// A point of the triangle, and the pores of the bar.
    Drawings,
    /// One of the figures that the step shows.
    Figure(Shown),
}

impl Asked {
    /// Whether anything is asked.
    pub fn is_any(self) -> bool {
        self != Asked::Nothing
    }
}

/// A step.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Step {
    /// What is said.
    pub caption: String,
    /// What the outcome waits for.
    pub guess: Asked,
    /// The path of what the slider moves, where it is not the last addition.
    pub moves: Option<String>,
    /// What is shown large; at most [`FIGURES`], and the usual where there is none.
    pub figures: Vec<Shown>,
    /// Fields of the recipe that are otherwise.
    pub changes: Vec<(String, Tree)>,
    /// Fields of a later release.
    pub kept: Kept,
}

impl Step {
    /// The moment that a recipe is in, whatever becomes of it.
    pub fn of_moment(recipe: &Recipe, caption: &str) -> Step {
        Step {
            caption: shortened(caption),
            changes: moment::taken(recipe, &FIELDS[..MOMENT]),
            ..Step::default()
        }
    }

    /// The recipe as it is in this step.
    ///
    /// # Errors
    /// What is wrong with it, with the path in the recipe.
    pub fn recipe(&self, base: &Recipe) -> Result<Recipe, RecipeError> {
        moment::applied(base, &self.changes)
    }

    /// What the slider moves in the step's recipe.
    pub fn moved(&self, recipe: &Recipe) -> Option<Moved> {
        let named = self.moves.as_deref();
        let named = named.and_then(|path| Moved::of_path(path, recipe));
        let last = recipe.additions.len().checked_sub(1).map(Moved::Amount);
        named
            .or(last)
            .or_else(|| Moved::all(recipe).first().copied())
    }

    /// The figures that are shown.
    pub fn shown(&self) -> Vec<Shown> {
        if self.figures.is_empty() {
            return Shown::USUAL.to_vec();
        }
        self.figures.clone()
    }

    /// As it is written, with what it shares with an earlier step.
    fn tree(&self, like: Option<(usize, moment::Changes)>) -> Tree {
        let mut pairs = vec![("caption".to_owned(), Tree::text(&*self.caption))];
        let mut put = |name: &str, value: Tree| pairs.push((name.to_owned(), value));
        match self.guess {
            Asked::Nothing => {}
            Asked::Drawings => put("guess", Tree::Bool(true)),
            Asked::Figure(of) => put("guess", Tree::text(of.spelling())),
        }
        if let Some(path) = &self.moves {
            put("moves", Tree::text(&**path));
        }
        if !self.figures.is_empty() {
            let words = self
                .figures
                .iter()
                .map(|shown| Tree::text(shown.spelling()));
            put("figures", Tree::List(words.collect()));
        }
        let own = match like {
            Some((index, own)) => {
                put("like", Tree::number(index as f64));
                own
            }
            None => self.changes.clone(),
        };
        if !own.is_empty() {
            put("changes", Tree::Object(own));
        }
        pairs.extend(self.kept.iter().cloned());
        Tree::Object(pairs)
    }
}

/// A text that fits into a caption.
pub fn shortened(text: &str) -> String {
    text.chars().take(CAPTION_LIMIT).collect()
}

/// The steps of a recipe, each of which can be read as one.
///
/// # Errors
/// The first fault, with its path below `lectern`.
pub fn steps(recipe: &Recipe) -> Result<Vec<Step>, RecipeError> {
    let Some(tree) = &recipe.lectern else {
        return Ok(Vec::new());
    };
    let reading = Reading::new(recipe.is_of_later_release());
    let pairs = vec![("lectern".to_owned(), tree.clone())];
    let mut root = Object::of(&reading, Tree::Object(pairs), Path::root());
    let mut steps: Vec<Step> = Vec::new();
    for object in root.objects("lectern", STEPS_LIMIT) {
        let step = step(object, &steps);
        steps.push(step);
    }
    if let Some(fault) = reading.fault() {
        return Err(fault);
    }
    for (index, step) in steps.iter().enumerate() {
        let path = Path::from("lectern").item(index);
        let changed = step.recipe(recipe);
        let changed = changed.map_err(|error| moment::within(&path.field("changes"), error))?;
        if let Some(moves) = &step.moves
            && Moved::of_path(moves, &changed).is_none()
        {
            let found = moves.clone();
            let allowed = paths_of(&changed);
            return Err(Fault::NotOneOf { found, allowed }.at(path.field("moves")));
        }
    }
    Ok(steps)
}

/// Gives a recipe steps; none take the field away.
pub fn set_steps(recipe: &mut Recipe, steps: &[Step]) {
    let all: Vec<&[(String, Tree)]> = steps.iter().map(|step| &*step.changes).collect();
    let tree = |index: usize| steps[index].tree(moment::likest(&all[..=index]));
    let list = || Tree::List((0..steps.len()).map(tree).collect());
    recipe.lectern = (!steps.is_empty()).then(list);
}

/// What a slider can move in a recipe, as far as errors list it.
fn paths_of(recipe: &Recipe) -> Vec<&'static str> {
    const AMOUNTS: [&str; 6] = [
        "additions[0].amount",
        "additions[1].amount",
        "additions[2].amount",
        "additions[3].amount",
        "additions[4].amount",
        "additions[5].amount",
    ];
    const GROUND: [&str; 3] = ["ground.clay_pct", "ground.organic_matter_pct", "ground.ph"];
    let has = |path: &&str| Moved::of_path(path, recipe).is_some();
    AMOUNTS.into_iter().chain(GROUND).filter(has).collect()
}

fn step(mut object: Object, before: &[Step]) -> Step {
    let caption = object.text("caption").unwrap_or_else(|| {
        object.missing("caption");
        String::new()
    });
    let letters = caption.chars().count();
    if letters > CAPTION_LIMIT {
        let limit = CAPTION_LIMIT;
        object.wrong_field("caption", Fault::TooMany { limit });
    }
    let mut step = Step {
        caption,
        moves: object.text("moves"),
        figures: figures(&mut object),
        ..Step::default()
    };
    step.guess = asked(&mut object, &step.shown());
    let own = changes(&mut object);
    step.changes = match like(&mut object, before) {
        Some(like) => over(&like.changes, &own),
        None => own,
    };
    step.kept = object.finish();
    step
}

/// What is asked: yes, no, or one of the figures that are shown.
fn asked(object: &mut Object, shown: &[Shown]) -> Asked {
    match object.take("guess") {
        None | Some(Tree::Bool(false)) => Asked::Nothing,
        Some(Tree::Bool(true)) => Asked::Drawings,
        Some(Tree::Text(found)) => {
            let mut known = shown.iter().filter(|of| of.guess_ends().is_some());
            if let Some(of) = known.clone().find(|of| of.spelling() == found) {
                return Asked::Figure(*of);
            }
            let mut allowed: Vec<_> = known.by_ref().map(|of| of.spelling()).collect();
            if allowed.is_empty() {
                allowed = Shown::guessable()
                    .into_iter()
                    .map(Shown::spelling)
                    .collect();
            }
            object.wrong_field("guess", Fault::NotOneOf { found, allowed });
            Asked::Nothing
        }
        Some(_) => {
            object.wrong_field("guess", Fault::Kind(Kind::Bool));
            Asked::Nothing
        }
    }
}

fn figures(object: &mut Object) -> Vec<Shown> {
    let mut figures = Vec::new();
    match object.take("figures") {
        None => {}
        Some(Tree::List(words)) if words.len() > FIGURES => {
            object.wrong_field("figures", Fault::TooMany { limit: FIGURES });
        }
        Some(Tree::List(words)) => {
            for word in words {
                let Tree::Text(found) = word else {
                    object.wrong_field("figures", Fault::Kind(Kind::Text));
                    continue;
                };
                match Shown::of_spelling(&found) {
                    Some(shown) => figures.push(shown),
                    None => {
                        let allowed = Shown::ALL.iter().map(|shown| shown.spelling()).collect();
                        object.wrong_field("figures", Fault::NotOneOf { found, allowed });
                    }
                }
            }
        }
        Some(_) => object.wrong_field("figures", Fault::Kind(Kind::List)),
    }
    figures
}

fn changes(object: &mut Object) -> Vec<(String, Tree)> {
    let pairs = match object.take("changes") {
        None => Vec::new(),
        Some(Tree::Object(pairs)) => pairs,
        Some(_) => {
            object.wrong_field("changes", Fault::Kind(Kind::Object));
            Vec::new()
        }
    };
    for (index, (name, _)) in pairs.iter().enumerate() {
        if !FIELDS.contains(&name.as_str()) {
            let (found, allowed) = (name.clone(), FIELDS.to_vec());
            object.wrong_field("changes", Fault::NotOneOf { found, allowed });
        }
        if pairs[..index].iter().any(|(known, _)| known == name) {
            object.wrong_field("changes", Fault::Twice);
        }
    }
    pairs
}
