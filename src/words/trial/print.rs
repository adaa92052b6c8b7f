//! What of a trial is printed before it is read: the plan, what is weighed out for each container,
//! labels, the key to their letters, the sheet that records are written on, days of photographs.

use super::plan::{crop_name, measure_name, treatment_name};
use super::records::class_text;
use crate::quantity::Dimension;
use crate::recipe::{Amount, RELEASE, Recipe};
use crate::tongue::Saying;
use crate::trial::doses::{Doses, One, Weighed};
use crate::trial::layout::{Design, GENERATOR, Layout, Site};
use crate::trial::measures::{Error, Measure};
use crate::trial::plan::{Deed, Trial, Vessel};
use crate::words::keep::one_line;
use crate::words::{Speech, cost_text, fixed, shown, significant, unit_name};

/// A box to tick.
const TICK: &str = "☐";
/// Room to write in.
pub const ROOM: &str = "____________";
/// Classes of a score at the most.
const CLASSES: u32 = 10;

/// Labels in a row, and rows that a page has room for.
const LABELS_ACROSS: usize = 3;
const LABELS_DOWN: usize = 6;

/// A sheet by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sheet {
    /// The plan from above, and days of photographs.
    Layout,
    /// What is weighed out.
    Weigh,
    /// Labels.
    Labels,
    /// What their letters stand for.
    Key,
    /// For records.
    Record,
}

impl Sheet {
    /// All of them; those that tell what is in each container come last, so that they can be laid
    /// aside in one.
    pub const ALL: &'static [Sheet] = &[
        Sheet::Layout,
        Sheet::Labels,
        Sheet::Record,
        Sheet::Weigh,
        Sheet::Key,
    ];

    /// Its word on the page.
    pub fn spelling(self) -> &'static str {
        match self {
            Sheet::Layout => tr!("layout"),
            Sheet::Weigh => tr!("weigh"),
            Sheet::Labels => tr!("labels"),
            Sheet::Key => tr!("key"),
            Sheet::Record => tr!("record"),
        }
    }

    /// Its head on paper.
    pub fn head(self) -> &'static str {
        match self {
            Sheet::Layout => tr!("How it stands"),
            Sheet::Weigh => tr!("Weigh out, container by container"),
            Sheet::Labels => tr!("Labels"),
            Sheet::Key => tr!("Key"),
            Sheet::Record => tr!("Records"),
        }
    }
}

/// What stands above the labels.
pub const LABELS_ARE: Saying = said!(
    "Rain takes ink: copy them in pencil, or put them into clear bags. Turn the side marked N to the north on each container, so that all are turned alike."
);
/// The side of a label that is turned to the north.
pub const NORTH: &str = "N ▲";
/// Above the days of photographs.
pub const PHOTO_DAYS: Saying = said!("Photographs");
/// Above what is bought.
pub const TO_GET: Saying = said!("To get");
/// A record sheet on which the measure is left open.
pub const MEASURE_BLANK: Saying = said!("a measure to be written in");
/// What a screen reader is told as the browser's printing opens.
pub const SHEETS_LAID: Saying = said!("The sheets are ready for the printer.");
/// What is written where the plan comes to nothing to weigh.
pub const NO_SHEETS: Saying = said!("There is nothing to print while the plan has a fault.");

/// A table on paper, its first column the heads of the rows.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PaperTable {
    /// Heads of the columns.
    pub head: Vec<String>,
    /// Rows, each with as many cells.
    pub rows: Vec<Vec<String>>,
}

impl PaperTable {
    /// Its rows as sentences, for where a table does not go.
    pub fn lines(&self) -> Vec<String> {
        let rows = self.rows.iter();
        let row = |cells: &Vec<String>| {
            let mut told = String::new();
            for cell in cells.iter().filter(|cell| !cell.is_empty()) {
                if !told.is_empty() {
                    told += if told.contains(": ") { "; " } else { ": " };
                }
                told += cell.trim_end_matches('.');
            }
            told + "."
        };
        rows.map(row).collect()
    }
}

/// A container's label.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Label {
    /// The trial.
    pub trial: String,
    /// Its code.
    pub code: String,
    /// The letter that hides what is in it, or what it is where nothing is hidden.
    pub letter: String,
    /// Whether that is a letter.
    pub is_blind: bool,
    /// Crop and day of sowing.
    pub sown: String,
    /// All of it in one line for who types it.
    pub plain: String,
}

/// The sheet on which records are written.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RecordSheet {
    /// What is filled in above: name and value.
    pub head: Vec<[String; 2]>,
    /// How it is measured.
    pub notes: Vec<String>,
    /// A line for each container, in walking order.
    pub table: PaperTable,
    /// What stands below.
    pub foot: Vec<String>,
}

/// All that is printed of a plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sheets {
    /// The trial by name.
    pub title: String,
    /// What stands beside the plan from above.
    pub layout: Vec<String>,
    /// Days of photographs.
    pub photos: PaperTable,
    /// What is weighed out, container by container.
    pub weigh: PaperTable,
    /// What is true of all of it.
    pub weigh_notes: Vec<String>,
    /// What is bought and dug for all of it.
    pub buy: PaperTable,
    /// A label for each container.
    pub labels: Vec<Label>,
    /// What stands above the key.
    pub key_intro: Vec<String>,
    /// The key.
    pub key: PaperTable,
    /// How the plan is drawn again.
    pub key_notes: Vec<String>,
    /// For records.
    pub record: RecordSheet,
    /// What stands below the head of each sheet: which trial, and which plan of it.
    pub mark: String,
}

/// A trial by name.
pub fn trial_title(trial: &Trial) -> String {
    let title = trial.title.as_deref().map(one_line).unwrap_or_default();
    if title.is_empty() {
        say!("Trial {}", one_line(&trial.id))
    } else {
        title
    }
}

fn heads(names: &[&str]) -> Vec<String> {
    names.iter().map(|name| (*name).to_owned()).collect()
}

fn whole(count: usize) -> String {
    fixed(count as f64, 0)
}

/// What containers are called.
fn vessels(trial: &Trial, count: usize) -> String {
    let name = match (&trial.vessel, count) {
        (Vessel::Container { .. }, 1) => tr!("container"),
        (Vessel::Container { .. }, _) => tr!("containers"),
        (Vessel::Strip { .. }, 1) => tr!("strip"),
        (Vessel::Strip { .. }, _) => tr!("strips"),
    };
    [&whole(count), " ", name].concat()
}

/// How many treatments stand how.
pub fn set_out_text(trial: &Trial, layout: &Layout) -> String {
    let all = vessels(trial, layout.spots.len());
    let treatments = whole(layout.treatments);
    match layout.design {
        Design::Blocks => say!(
            "{} treatments in {} blocks, each with all of them in an order of chance: {}.",
            treatments,
            whole(layout.blocks),
            all
        ),
        Design::Random => say!("{} treatments, completely at random: {}.", treatments, all),
        Design::Latin => say!(
            "{} treatments in a Latin square, each once in every row and column: {}.",
            treatments,
            all
        ),
    }
}

/// Where the light is, as the plan is drawn.
pub fn light_text(site: Option<Site>) -> &'static str {
    match site {
        None => tr!("What the light does there is not told."),
        Some(Site::Even) => tr!("The light is the same everywhere."),
        Some(Site::OneWay) => {
            tr!(
                "The top row stands nearest to what shades, the wall or hedge; the wedge widens towards more light, so that each row stands in equal light."
            )
        }
        Some(Site::TwoWays) => {
            tr!(
                "The top left corner is the darkest; both wedges widen towards more light, down and to the right."
            )
        }
    }
}

/// The plan in words, for those who do not see its drawing: row by row from the far end.
pub fn plan_drawing_text(trial: &Trial, recipe: &Recipe, layout: &Layout) -> String {
    let mut rows: Vec<Vec<String>> = vec![Vec::new(); layout.grid().0];
    for (container, spot) in layout.spots.iter().enumerate() {
        let code = layout.code(container).unwrap_or_default();
        let what = content(trial, recipe, layout, spot.treatment);
        if let Some(row) = rows.get_mut(spot.row) {
            row.push([&code, " ", &what].concat());
        }
    }
    let each = rows.iter().enumerate();
    let told: Vec<String> = each
        .map(|(row, cells)| say!("Row {}: {}.", row + 1, cells.join(", ")))
        .collect();
    say!(
        "The trial from above. {} {}",
        light_text(trial.site),
        told.join(" ")
    )
}

/// What a label says of what is in a container.
fn content(trial: &Trial, recipe: &Recipe, layout: &Layout, treatment: usize) -> String {
    if trial.blind {
        let letter = layout.letter(treatment);
        letter.map(String::from).unwrap_or_default()
    } else {
        treatment_name(trial, recipe, treatment)
    }
}

/// A dose as one weighs or measures it.
fn weighed_text(of: &Weighed, speech: Speech) -> String {
    let mass = speech.dose(of.moist_kg);
    if of.loose_l > 0.0 {
        let volume = speech.volume(of.loose_l);
        say!("{} or {} loose", mass, volume)
    } else {
        mass
    }
}

/// What goes into one container beside the ground; what it is is left out where a single thing gives
/// the treatment its name.
pub fn added_text(trial: &Trial, treatment: usize, one: &One, speech: Speech) -> String {
    let of = trial.treatments.get(treatment);
    let is_named = of.is_some_and(|of| of.name.is_none() && one.added.len() == 1);
    let each = one.added.iter().map(|of| {
        let amount = weighed_text(of, speech);
        if is_named {
            amount
        } else {
            [&one_line(&of.name), ": ", &amount].concat()
        }
    });
    let each: Vec<String> = each.collect();
    if each.is_empty() {
        tr!("nothing").into()
    } else {
        each.join("; ")
    }
}

/// A length or size as it was told.
fn told(amount: &Amount) -> String {
    let number = shown(amount.value);
    let unit = match amount.unit.dimension() {
        // As a choice in a list a length is told as a depth.
        Dimension::Length => amount.unit.spelling(),
        _ => unit_name(amount.unit),
    };
    [&number, " ", unit].concat()
}

/// Containers or strips and how each is filled.
pub fn vessel_text(trial: &Trial) -> String {
    match &trial.vessel {
        Vessel::Container {
            volume,
            height,
            empty,
            ..
        } => {
            let empty = empty.as_ref().map(|empty| {
                let weight = told(empty);
                say!("; one weighs {} empty", weight)
            });
            say!(
                "Each container holds {} up to its line, {} high{}. Fill all to the same line, once they have settled.",
                told(volume),
                told(height),
                empty.unwrap_or_default()
            )
        }
        Vessel::Strip { area, depth, .. } => say!(
            "Each strip has {} and is dug {} deep; its own ground stays in it.",
            told(area),
            told(depth)
        ),
    }
}

/// The sheets of a plan. `measure` is what the record sheet is for; without one its name is left to
/// be written in.
pub fn sheets(
    trial: &Trial,
    recipe: &Recipe,
    layout: &Layout,
    doses: &Doses,
    measure: Option<&str>,
    speech: Speech,
) -> Sheets {
    let [weigh, buy] = weigh(trial, recipe, layout, doses, speech);
    let seed = layout.seed;
    let [title, id] = [trial_title(trial), one_line(&trial.id)];
    let title = if title.ends_with(&id) {
        title
    } else {
        [&title, ", ", &id].concat()
    };
    Sheets {
        title: trial_title(trial),
        layout: layout_lines(trial, layout),
        photos: photos(trial),
        weigh,
        weigh_notes: weigh_notes(trial),
        buy,
        labels: labels(trial, recipe, layout),
        key_intro: key_intro(trial),
        key: key(trial, recipe, layout, doses, speech),
        key_notes: key_notes(trial, recipe, layout),
        record: record_sheet(trial, layout, measure),
        mark: say!(
            "{}; seed {}, plan {}; Barrowmix {}.",
            title,
            seed,
            layout.hash(),
            RELEASE
        ),
    }
}

fn layout_lines(trial: &Trial, layout: &Layout) -> Vec<String> {
    let mut lines = vec![
        set_out_text(trial, layout),
        light_text(trial.site).to_owned(),
        vessel_text(trial),
    ];
    if let Some(crop) = &trial.crop {
        let mut said = vec![one_line(crop_name(crop))];
        said.extend(trial.variety.as_deref().map(one_line));
        said.extend(trial.seeds.map(|seeds| say!("{} seeds in each", seeds)));
        said.extend(
            trial
                .plants
                .map(|plants| say!("thinned to {} by a rule, not to the best", plants)),
        );
        lines.push([&said.join(", "), "."].concat());
    }
    if layout.design == Design::Blocks {
        lines.push(
            tr!("Do each job block by block, in one go for a block: then helpers, weather and tiredness fall between blocks and not between treatments.")
                .into(),
        );
    }
    lines.push(
        tr!("Where there is room, set a filled container that does not count at both ends of each row: ends dry first.")
            .into(),
    );
    lines
}

/// Days of photographs.
fn photos(trial: &Trial) -> PaperTable {
    let first = trial.photo_days.iter().min();
    let last = trial.photo_days.iter().max();
    let rows = trial.photo_days.iter().map(|day| {
        let date = trial
            .start
            .and_then(|start| start.later(i32::try_from(*day).ok()?));
        let what = if Some(day) == first {
            tr!("Each from above, with its label and a ruler; the row from its end")
        } else if Some(day) == last {
            tr!("The washed crop of each on a grid, with its label; the soil cut open")
        } else {
            tr!("The row from the same spot at the same hour; each from above")
        };
        vec![
            fixed(f64::from(*day), 0),
            date.map(|date| date.iso()).unwrap_or_else(|| ROOM.into()),
            what.into(),
            TICK.into(),
        ]
    });
    PaperTable {
        head: heads(&[tr!("Day"), tr!("Date"), tr!("Photograph"), tr!("Done")]),
        rows: rows.collect(),
    }
}

fn weigh(
    trial: &Trial,
    recipe: &Recipe,
    layout: &Layout,
    doses: &Doses,
    speech: Speech,
) -> [PaperTable; 2] {
    let in_strips = matches!(trial.vessel, Vessel::Strip { .. });
    let empty_kg = match &trial.vessel {
        Vessel::Container { empty, .. } => empty.as_ref().map(Amount::si),
        Vessel::Strip { .. } => None,
    };
    let mut head = heads(&[tr!("Container"), tr!("Treatment")]);
    if in_strips {
        head[0] = tr!("Strip").into();
    } else {
        head.push(tr!("Ground as dug").into());
    }
    head.push(tr!("Add").into());
    if !in_strips {
        let together = if empty_kg.is_some() {
            tr!("Together, with the container")
        } else {
            tr!("Together, without the container")
        };
        head.push(together.into());
    }
    head.push(tr!("Done").into());
    let mut rows = Vec::with_capacity(layout.spots.len());
    for (container, spot) in layout.spots.iter().enumerate() {
        let Some(one) = doses.each.get(spot.treatment) else {
            continue;
        };
        let mut row = vec![
            layout.code(container).unwrap_or_default(),
            treatment_name(trial, recipe, spot.treatment),
        ];
        if !in_strips {
            row.push(ground_text(one.ground_moist_kg, one.ground_l, speech));
        }
        row.push(added_text(trial, spot.treatment, one, speech));
        if !in_strips {
            let added: f64 = one.added.iter().map(|of| of.moist_kg).sum();
            let all = one.ground_moist_kg + added + empty_kg.unwrap_or(0.0);
            row.push(speech.dose(all));
        }
        row.push(TICK.into());
        rows.push(row);
    }
    let weigh = PaperTable { head, rows };
    [weigh, buy(recipe, doses, in_strips, speech)]
}

fn ground_text(kg: f64, litres: f64, speech: Speech) -> String {
    say!("{}, {} as it lies", speech.dose(kg), speech.volume(litres))
}

/// What is bought and dug.
fn buy(recipe: &Recipe, doses: &Doses, in_strips: bool, speech: Speech) -> PaperTable {
    let currency = recipe.currency.as_deref();
    let mut rows = Vec::new();
    if !in_strips {
        rows.push(vec![
            tr!("Ground as dug").to_owned(),
            ground_text(doses.ground_moist_kg, doses.ground_l, speech),
            String::new(),
            String::new(),
        ]);
    }
    for bought in &doses.bought {
        let bags = bought.bags.map(|bags| {
            let name = if bags == 1 { tr!("bag") } else { tr!("bags") };
            [&fixed(f64::from(bags), 0), " ", name].concat()
        });
        let cost = bought.cost.map(|cost| cost_text(cost, currency));
        rows.push(vec![
            one_line(&bought.name),
            say!(
                "{}, {} loose",
                speech.dose(bought.moist_kg),
                speech.volume(bought.loose_l)
            ),
            bags.unwrap_or_default(),
            cost.unwrap_or_default(),
        ]);
    }
    if let Some(cost) = doses.cost {
        rows.push(vec![
            tr!("All of it").to_owned(),
            String::new(),
            String::new(),
            cost_text(cost, currency),
        ]);
    }
    PaperTable {
        head: heads(&[
            tr!("For the whole trial"),
            tr!("How much"),
            tr!("Bags"),
            tr!("Cost"),
        ]),
        rows,
    }
}

fn weigh_notes(trial: &Trial) -> Vec<String> {
    let mut notes = vec![
        tr!("Weigh and mix each container by itself: one large batch would make a slip of the scale look like an effect.")
            .to_owned(),
    ];
    if matches!(trial.vessel, Vessel::Container { .. }) {
        notes.push(
            tr!("Ground of one heap, broken up and passed through one sieve, as moist as the recipe says. Volumes as it lies are of ground that is not yet dug: dug it is looser, so go by weight.")
                .to_owned(),
        );
    }
    if trial.treatments.iter().any(|of| of.deed == Deed::Untouched) {
        notes.push(
            tr!("Untouched: put in as whole clods as it can be, neither broken up nor sieved.")
                .into(),
        );
    }
    notes
}

/// What stands above a sheet that tells what the labels hide; empty of any other.
pub fn keep_away_text(trial: &Trial, sheet: Sheet) -> &'static str {
    match sheet {
        Sheet::Weigh if trial.blind => {
            tr!(
                "This list tells what is in each container. Keep it, like the key, from whoever will score."
            )
        }
        _ => "",
    }
}

/// Labels of each page, so that none is left with one alone.
pub fn labels_by_page(labels: &[Label]) -> impl Iterator<Item = &[Label]> {
    let rows = labels.len().div_ceil(LABELS_ACROSS);
    let pages = rows.div_ceil(LABELS_DOWN).max(1);
    labels.chunks(LABELS_ACROSS * rows.div_ceil(pages).max(1))
}

fn labels(trial: &Trial, recipe: &Recipe, layout: &Layout) -> Vec<Label> {
    let crop = trial.crop.as_deref().map(|crop| one_line(crop_name(crop)));
    let variety = trial.variety.as_deref().map(one_line);
    let sown = match trial.start {
        Some(start) => say!("sown {}", start.iso()),
        None => say!("sown {}", ROOM),
    };
    let sown: Vec<String> = crop.into_iter().chain(variety).chain([sown]).collect();
    let each = layout.spots.iter().enumerate();
    each.map(|(container, spot)| Label {
        trial: one_line(&trial.id),
        code: layout.code(container).unwrap_or_default(),
        letter: content(trial, recipe, layout, spot.treatment),
        is_blind: trial.blind,
        sown: sown.join(", "),
        plain: one_line(&layout.label(&trial.id, container).unwrap_or_default()),
    })
    .collect()
}

fn key_intro(trial: &Trial) -> Vec<String> {
    if trial.blind {
        vec![
            tr!("What each letter stands for. Put it in an envelope, and open it when the last score is written down.")
                .into(),
        ]
    } else {
        vec![tr!("What stands where. The labels hide nothing in this trial.").into()]
    }
}

fn key(
    trial: &Trial,
    recipe: &Recipe,
    layout: &Layout,
    doses: &Doses,
    speech: Speech,
) -> PaperTable {
    let rows = (0..layout.treatments).map(|treatment| {
        let spots = layout.spots.iter().enumerate();
        let own = spots.filter(|(_, spot)| spot.treatment == treatment);
        let codes: Vec<String> = own.filter_map(|(at, _)| layout.code(at)).collect();
        let one = doses.each.get(treatment);
        let letter = layout.letter(treatment).map(String::from);
        vec![
            letter.unwrap_or_default(),
            treatment_name(trial, recipe, treatment),
            one.map(|one| added_text(trial, treatment, one, speech))
                .unwrap_or_default(),
            codes.join(", "),
        ]
    });
    // By letter, so that none says by its place what it is.
    let mut rows: Vec<Vec<String>> = rows.collect();
    rows.sort();
    PaperTable {
        head: heads(&[
            tr!("Letter"),
            tr!("Treatment"),
            tr!("Added to each"),
            tr!("Containers"),
        ]),
        rows,
    }
}

fn key_notes(trial: &Trial, recipe: &Recipe, layout: &Layout) -> Vec<String> {
    let names = (0..layout.treatments).map(|treatment| {
        let order = char::from(b'A'.saturating_add(treatment as u8));
        let name = treatment_name(trial, recipe, treatment);
        format!("{order} {name}")
    });
    vec![
        say!(
            "To draw the plan again: {}, seed {}, shuffled from the last place down, with the treatments in this order: {}.",
            GENERATOR,
            layout.seed,
            names.collect::<Vec<_>>().join("; ")
        ),
        say!(
            "In these letters, which are not those of the labels, the plan is {}.",
            layout.plan_text()
        ),
        say!(
            "The plan's mark is {}; it stands on every sheet.",
            layout.hash()
        ),
    ]
}

/// What one reading may be wrong by.
fn error_text(measure: &Measure) -> Option<String> {
    Some(match measure.error? {
        Error::By(by) => {
            let number = significant(by, 2);
            ["± ", &number, " ", &one_line(measure.unit)].concat()
        }
        Error::Share(share) => ["± ", &significant(100.0 * share, 2), " %"].concat(),
    })
}

/// The sheet for one measure, container by container as one walks.
pub fn record_sheet(trial: &Trial, layout: &Layout, measure: Option<&str>) -> RecordSheet {
    let known = measure.and_then(|id| trial.measure(id));
    let blank = || ROOM.to_owned();
    let unit = known.as_ref().map(|of| one_line(of.unit));
    let name = known.as_ref().map(|of| measure_name(trial, of.id));
    let head = [
        (tr!("Date"), blank()),
        (tr!("By"), blank()),
        (tr!("Weather"), blank()),
        (tr!("Measure"), name.unwrap_or_else(blank)),
        (
            tr!("Unit"),
            unit.clone()
                .filter(|unit| !unit.is_empty())
                .unwrap_or_else(|| {
                    if known.is_some() {
                        tr!("none").into()
                    } else {
                        blank()
                    }
                }),
        ),
        (tr!("With"), blank()),
        (
            tr!("One reading may be off by"),
            known.as_ref().and_then(error_text).unwrap_or_else(blank),
        ),
    ];
    let mut notes = Vec::new();
    if let Some(of) = &known {
        let classes = (0..=CLASSES).filter_map(|class| {
            let text = class_text(of.id, class)?;
            Some(format!("{class} {text}"))
        });
        let classes: Vec<String> = classes.collect();
        if !classes.is_empty() {
            notes.push([&classes.join("; "), "."].concat());
        }
    }
    notes.push(
        tr!("Several readings of one container: write all of them, they are averaged first. Nothing to read: leave it empty and say why; never write 0 for a container that is lost.")
            .into(),
    );
    let value = match unit.filter(|unit| !unit.is_empty()) {
        Some(unit) => say!("Value, {}", unit),
        None => tr!("Value").into(),
    };
    let walk = layout.walk();
    let rows = walk.iter().enumerate().map(|(at, container)| {
        let spot = layout.spots[*container];
        let lost = trial.lost(*container).map(|_| "lost".to_owned());
        vec![
            whole(at + 1),
            format!("{}, {}", spot.row + 1, spot.column + 1),
            layout.code(*container).unwrap_or_default(),
            String::new(),
            lost.unwrap_or_default(),
            TICK.into(),
        ]
    });
    let lost = (0..layout.spots.len()).filter(|of| trial.lost(*of).is_some());
    let expected = layout.spots.len() - lost.count();
    RecordSheet {
        head: head.map(|(name, value)| [name.to_owned(), value]).to_vec(),
        notes,
        table: PaperTable {
            head: vec![
                tr!("On the way").into(),
                tr!("Row, place").into(),
                tr!("Container").into(),
                value,
                tr!("Note").into(),
                tr!("Checked").into(),
            ],
            rows: rows.collect(),
        },
        foot: vec![say!(
            "{} expected; filled in: {}",
            vessels(trial, expected),
            ROOM
        )],
    }
}
