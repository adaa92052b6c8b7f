//! The print sheet in words: what one takes to the shed and what one pins to its wall.

use super::keep::one_line;
use super::tools::{figure_text, trait_name};
use super::why::{Asked, why};
use super::{
    Speech, Told, Units, agree_text, capacity_told, care_head, care_text, class_name,
    class_odds_text, cost_told, crumb_word, drains_told, fixed, in_sentence, number_in_words,
    ph_told, ranges_text, remark_parts, round_significant, salt_told, severity_word,
    short_citation, shown, with_mark,
};
use crate::blend::Barrow;
use crate::caution::Severity;
use crate::draws::DRAWS;
use crate::figure::Figure;
use crate::ground::Trait;
use crate::material::NUMBERS;
use crate::outcome::Outcome;
use crate::quantity::{Dimension, LITRES_PER_M3, Unit};
use crate::recipe::{Amount, Found, PlaceKind, RELEASE, Recipe, Soil, Support, number_text};
use crate::source::Source;

/// Most sources that are named for one thing; the page of sources has all.
const MOST_SOURCES: usize = 3;
/// Traits that the ground's first line tells.
const SAID: [Trait; 5] = [
    Trait::Sand,
    Trait::Silt,
    Trait::Clay,
    Trait::OrganicMatter,
    Trait::BulkDensity,
];
/// Less than this of a bucket or barrow is told by weight alone.
const LEAST_COUNT: f64 = 0.095;

/// A recipe and its outcome on paper.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Paper {
    /// The recipe's title, or the program's name.
    pub title: String,
    /// The ground and where it goes, line by line.
    pub ground: Vec<String>,
    /// Heads of what to weigh out.
    pub weigh_head: Vec<String>,
    /// What to weigh out: name, as entered, for one of several, in all, buckets, barrows.
    pub weigh: Vec<Vec<String>>,
    /// What is true of all of it.
    pub weigh_notes: Vec<String>,
    /// What becomes of the texture.
    pub class: String,
    /// Figures: name, ground as it lies, blend, range.
    pub figures: Vec<[String; 4]>,
    /// The verdict, each a short sentence and what belongs to it.
    pub verdict: Vec<[String; 2]>,
    /// The graver cautions in full: word, head, text.
    pub cautions: Vec<[String; 3]>,
    /// Lesser cautions in full, and notes shortened to their heads.
    pub notes: Vec<String>,
    /// What rests on which source.
    pub rests: Vec<[String; 2]>,
    /// How all of it was made.
    pub made: String,
}

/// The sheet of a recipe and its outcome, which must be that of the recipe; a bucket and a barrow
/// hold so much.
pub fn paper(recipe: &Recipe, outcome: &Outcome, sizes: &[Amount; 2], speech: Speech) -> Paper {
    let title = recipe.title.as_deref().map(one_line).unwrap_or_default();
    let mut paper = Paper {
        title: if title.is_empty() {
            tr!("A blend without a name").into()
        } else {
            title
        },
        ground: ground(recipe, outcome, speech),
        figures: figures(recipe, outcome, speech),
        rests: rests(recipe, outcome, speech),
        ..Paper::default()
    };
    paper.ground.extend(place(recipe));
    weigh(&mut paper, recipe, outcome, sizes, speech);
    if let Some(texture) = outcome.texture {
        let after = class_name(texture.class);
        let before = outcome.ground.class.filter(|_| has_ground(outcome));
        paper.class = match before {
            Some(before) => say!("{} becomes {}", class_name(before), after),
            None => after.to_owned(),
        };
        paper.class += &format!("; {}.", class_odds_text(outcome));
    }
    let mut notes = Vec::new();
    for remark in &outcome.verdict {
        let (head, rest) = remark_parts(remark, speech);
        paper.verdict.push([one_line(&head), one_line(&rest)]);
    }
    for caution in &outcome.cautions {
        let severity = caution.of.severity();
        if severity == Severity::Note {
            let text = one_line(&care_text(caution, speech));
            notes.push([care_head(caution), ": ", &text].concat());
        } else {
            paper.cautions.push([
                severity_word(severity).to_owned(),
                care_head(caution).to_owned(),
                one_line(&care_text(caution, speech)),
            ]);
        }
    }
    for remark in &outcome.notes {
        let (head, rest) = remark_parts(remark, speech);
        if remark.severity() == Severity::Note {
            notes.push(one_line(&head));
        } else {
            paper
                .cautions
                .push([String::new(), one_line(&head), one_line(&rest)]);
        }
    }
    for note in notes {
        if !note.is_empty() && !paper.notes.contains(&note) {
            paper.notes.push(note);
        }
    }
    paper.made = made(outcome);
    paper
}

fn has_ground(outcome: &Outcome) -> bool {
    outcome.barrow.ground_dry_kg > 0.0
}

fn made(outcome: &Outcome) -> String {
    let mut text = say!(
        "Barrowmix {}. All figures are estimates, worked out {} times with what is not known drawn anew; the ranges hold nine in ten of the results. Mix a bucketful first.",
        RELEASE,
        fixed(f64::from(DRAWS), 0)
    );
    if let Some(measured) = &outcome.measured {
        text += " ";
        text += &agree_text(measured);
    }
    text
}

fn ground(recipe: &Recipe, outcome: &Outcome, speech: Speech) -> Vec<String> {
    if !has_ground(outcome) {
        return vec![tr!("No ground in it.").into()];
    }
    let density = speech
        .density_told(outcome.ground.lying_density_kg_m3)
        .value;
    let mut lines = vec![match outcome.ground.class {
        Some(class) => {
            let [sand, silt, clay] = recipe.ground.fractions_pct().map(|pct| fixed(pct, 0));
            let organic = Told::percent(outcome.ground.organic_matter_pct, 0.1).value;
            say!(
                "Ground: {}; sand {} %, silt {} %, clay {} %; organic matter {}, density as it lies {}.",
                class_name(class),
                sand,
                silt,
                clay,
                organic,
                density
            )
        }
        None => say!(
            "Ground: gravel without finer soil; density as it lies {}.",
            density
        ),
    }];
    let more: Vec<String> = Trait::ALL
        .iter()
        .copied()
        .filter(|of| !SAID.contains(of))
        .filter_map(|of| {
            let typical = recipe.ground.get(of)?.typical;
            let (name, unit, factor) = trait_name(of, speech);
            let number = shown(round_significant(typical / factor, 3));
            let plain = |name| figure_text(name, Figure::exact(typical), factor, unit);
            Some(match of {
                Trait::Crumb => say!("crumb {} ({})", shown(typical), crumb_word(typical)),
                Trait::WaterPerDry => say!("moisture {} % of dry mass", number),
                Trait::CalciumShare => say!("calcium {} % of the CEC", number),
                Trait::MagnesiumShare => say!("magnesium {} % of the CEC", number),
                Trait::PotassiumShare => say!("potassium {} % of the CEC", number),
                Trait::SodiumShare => say!("sodium {} % of the CEC", number),
                Trait::Ec1To5 => plain(tr!("EC 1:5")),
                Trait::Ec1To2 => plain(tr!("EC 1:2")),
                _ => plain(&in_sentence(name)),
            })
        })
        .collect();
    if !more.is_empty() {
        lines.push(say!("Also given: {}.", more.join("; ")));
    }
    let ranges = ranges_text(recipe, speech);
    if !ranges.is_empty() {
        lines.push([&ranges, "."].concat());
    }
    lines
}

/// Where it goes, as far as it is told.
fn place(recipe: &Recipe) -> Option<String> {
    let place = recipe.place.as_ref()?;
    let count = place.count.unwrap_or(1.0);
    let many = fixed(count, 0);
    let mut parts = vec![match (place.kind, count > 1.0) {
        (Some(PlaceKind::Container), false) => tr!("A container").to_owned(),
        (Some(PlaceKind::Container), true) => say!("{} containers", many),
        (Some(PlaceKind::Bed), false) => tr!("A bed").to_owned(),
        (Some(PlaceKind::Bed), true) => say!("{} beds", many),
        (None, false) => tr!("One place").to_owned(),
        (None, true) => say!("{} places", many),
    }];
    parts.extend(place.volume.as_ref().map(|amount| {
        let room = number_in_words(amount);
        if count > 1.0 {
            say!("{} each", room)
        } else {
            room
        }
    }));
    for (amount, what) in [
        (&place.height, tr!("high inside##20 cm")),
        (&place.top_width, tr!("wide at the top##20 cm")),
        (&place.bottom_width, tr!("wide at the bottom##20 cm")),
    ] {
        parts.extend(amount.as_ref().map(|length| {
            let unit = length.unit.spelling();
            format!("{} {unit} {what}", with_mark(number_text(length.value)))
        }));
    }
    parts.extend(place.drains.map(|drains| {
        if drains {
            tr!("water can leave at the bottom").to_owned()
        } else {
            tr!("water cannot leave at the bottom").to_owned()
        }
    }));
    let on = place.on.map(|on| match on {
        Support::Ground => tr!("on the ground"),
        Support::Deck => tr!("on a deck or balcony"),
        Support::Roof => tr!("on a roof"),
    });
    parts.extend(on.map(str::to_owned));
    parts.extend(
        place
            .crop
            .as_deref()
            .map(|crop| say!("for {}", one_line(crop))),
    );
    (parts.len() > 1 || count > 1.0).then(|| say!("Where it goes: {}.", parts.join(", ")))
}

/// How many buckets or barrows; a dash where it is too little of one.
fn counted(m3: f64, size: &Amount) -> String {
    let count = m3 / size.si();
    if count.is_finite() && count >= LEAST_COUNT {
        // Digits enough that a column sums as it is printed.
        let decimals = match count {
            c if c < 1.0 => 2,
            c if c < 100.0 => 1,
            _ => 0,
        };
        fixed(count, decimals)
    } else {
        "–".into()
    }
}

/// How many containers share the blend, where there are several.
fn containers(recipe: &Recipe) -> Option<f64> {
    let place = recipe.place.as_ref()?;
    let count = place.count?;
    (count > 1.0).then_some(count)
}

fn weigh(
    paper: &mut Paper,
    recipe: &Recipe,
    outcome: &Outcome,
    sizes: &[Amount; 2],
    speech: Speech,
) {
    let barrow = &outcome.barrow;
    let count = containers(recipe);
    paper.weigh_head = vec![tr!("What").into(), tr!("As entered").into()];
    if count.is_some() {
        let place = recipe.place.as_ref().and_then(|place| place.kind);
        paper.weigh_head.push(match place {
            Some(PlaceKind::Container) => tr!("For each pot").into(),
            _ => tr!("For each").into(),
        });
    }
    paper.weigh_head.push(match count {
        Some(count) => say!("For all {}", fixed(count, 0)),
        None => tr!("In all").into(),
    });
    for (name, size) in [tr!("Buckets of"), tr!("Barrows of")].iter().zip(sizes) {
        paper
            .weigh_head
            .push(format!("{name} {}", size_of(size, speech)));
    }
    let mut row = |name: String, entered: String, kg: f64, m3: f64| {
        let out = |share: f64| {
            let litres = m3 / share * LITRES_PER_M3;
            if litres > 0.0 {
                format!("{}, {}", speech.dose(kg / share), speech.volume(litres))
            } else {
                speech.dose(kg / share)
            }
        };
        let mut cells = vec![name, entered];
        cells.extend(count.map(&out));
        cells.push(out(1.0));
        cells.extend(sizes.iter().map(|size| counted(m3, size)));
        paper.weigh.push(cells);
    };
    let (mut kg, mut m3) = (0.0, 0.0);
    if has_ground(outcome) {
        let ground_kg = barrow.ground_dry_kg * (1.0 + barrow.ground.water_per_dry);
        let ground_m3 = barrow.ground_loose_m3();
        row(
            tr!("Ground, dug").into(),
            entered(recipe),
            ground_kg,
            ground_m3,
        );
        (kg, m3) = (ground_kg, ground_m3);
    }
    for (addition, line) in recipe.additions.iter().zip(&barrow.lines) {
        let found = recipe.find(&addition.material);
        let mut name = one_line(found.map_or(&addition.material, |found| found.name()));
        if line.on_top {
            name += tr!(", on top");
        } else {
            kg += line.moist_kg;
            m3 += line.loose_m3;
        }
        let entered = number_in_words(&addition.amount);
        row(name, entered, line.moist_kg, line.loose_m3);
    }
    row(tr!("All parts, unmixed").into(), String::new(), kg, m3);
    paper.weigh_notes = weigh_notes(barrow, outcome, speech);
}

/// What a bucket or barrow holds, in the units of display, with a space that does not break.
fn size_of(size: &Amount, speech: Speech) -> String {
    let told = match (speech.units, size.unit) {
        (Units::Metric, _) | (Units::Us, Unit::Gallon | Unit::CubicFoot) => number_in_words(size),
        (Units::Us, _) => speech.volume(size.si() * LITRES_PER_M3),
    };
    told.replace(' ', "\u{a0}")
}

/// The ground's amount as entered.
fn entered(recipe: &Recipe) -> String {
    match &recipe.soil {
        Soil::Amount(amount) if amount.unit.dimension() == Dimension::Mass => {
            number_in_words(amount)
        }
        Soil::Amount(amount) => say!("{} as it lies", number_in_words(amount)),
        Soil::Bed { area, depth, .. } => {
            format!("{}, {}", number_in_words(area), number_in_words(depth))
        }
    }
}

fn weigh_notes(barrow: &Barrow, outcome: &Outcome, speech: Speech) -> Vec<String> {
    let [fresh, settled] = [outcome.volume_l.fresh, outcome.volume_l.settled]
        .map(|figure| speech.volume_told(figure).value);
    let mut notes = vec![say!(
        "Weights moist and volumes loose, as dug and as sold. Parts fill each other’s gaps: mixed they take about {}, {} once settled.",
        fresh,
        settled
    )];
    if barrow.lines.iter().any(|line| line.on_top) {
        notes.push(tr!("What lies on top is not mixed in and not in the sum.").into());
    }
    notes
}

/// A figure in a cell and its range in another.
fn figures(recipe: &Recipe, outcome: &Outcome, speech: Speech) -> Vec<[String; 4]> {
    let ground = &outcome.ground;
    let percent = |figure: Figure| Told::percent(figure, 1.0);
    let organic = |figure: Figure| Told::percent(figure, 0.1);
    let mut rows = Vec::new();
    let mut row = |name: &str, lying: Option<Told>, blend: Told| {
        let lying = lying.filter(|_| has_ground(outcome));
        rows.push([
            name.to_owned(),
            lying.map_or(String::new(), |told| told.value),
            blend.value,
            blend.range,
        ]);
    };
    let pores = outcome.pore_space_pct;
    row(
        tr!("Pores, settled"),
        Some(percent(ground.lying_pore_space_pct)),
        percent(pores.settled),
    );
    row(tr!("Pores, fresh"), None, percent(pores.fresh));
    row(tr!("Pores, puddled"), None, percent(pores.puddled));
    row(
        tr!("Dry density, settled"),
        Some(speech.density_told(ground.lying_density_kg_m3)),
        speech.density_told(outcome.bulk_density_kg_m3.settled),
    );
    if let Some(figure) = outcome.organic_matter_pct {
        let lying = Some(organic(ground.organic_matter_pct));
        row(tr!("Organic matter"), lying, organic(figure));
    }
    row(
        tr!("Air, drained"),
        Some(percent(ground.lying_pores_pct.air)),
        percent(outcome.pores_pct.air),
    );
    row(
        tr!("Water that plants take"),
        Some(percent(ground.lying_pores_pct.available_water)),
        percent(outcome.pores_pct.available_water),
    );
    row(
        tr!("Drains"),
        Some(drains_told(ground.drainage_mm_h[0])),
        drains_told(outcome.drainage_mm_h),
    );
    if let Some(container) = &outcome.container {
        row(tr!("Water in its pot"), None, percent(container.water_pct));
        row(tr!("Air in its pot"), None, percent(container.air_pct));
    }
    row(
        tr!("Volume, settled"),
        None,
        speech.volume_told(outcome.volume_l.settled),
    );
    row(
        tr!("Weight as mixed"),
        None,
        speech.mass_told(outcome.moist_kg),
    );
    row(
        tr!("Weight, watered"),
        None,
        speech.mass_told(outcome.watered_kg),
    );
    let it = &outcome.chemical;
    if let Some(figure) = it.ph {
        row("pH", None, ph_told(figure));
    }
    row(
        tr!("Salt, EC of the paste"),
        None,
        salt_told(it.ec_paste_ds_m),
    );
    row(
        tr!("Exchange capacity"),
        None,
        capacity_told(it.cec_cmol_kg),
    );
    if let Some(cost) = outcome.cost.filter(|_| !recipe.additions.is_empty()) {
        let currency = recipe.currency.as_deref().map(one_line);
        row(tr!("Cost"), None, cost_told(cost, currency.as_deref()));
    }
    rows
}

/// Figures whose sources are told.
const TOLD: [Asked; 8] = [
    Asked::Class,
    Asked::Pores,
    Asked::Density,
    Asked::OrganicMatter,
    Asked::AvailableWater,
    Asked::Drainage,
    Asked::Ph,
    Asked::Salts,
];

/// What rests on which source: figures, those with the same sources together, and materials.
fn rests(recipe: &Recipe, outcome: &Outcome, speech: Speech) -> Vec<[String; 2]> {
    let mut rows: Vec<[String; 2]> = Vec::new();
    let mut add = |name: String, sources: String| {
        if sources.is_empty() {
            return;
        }
        match rows.iter_mut().find(|[_, known]| *known == sources) {
            Some([names, _]) if !names.split("; ").any(|known| known == name) => {
                *names = [names.as_str(), "; ", &name].concat();
            }
            Some(_) => {}
            None => rows.push([name, sources]),
        }
    };
    for of in TOLD {
        let told = why(of, recipe, outcome, speech);
        let mut short: Vec<&str> = Vec::new();
        for equation in &told.equations {
            short.extend(equation.source.split("; ").filter_map(dated));
        }
        // What is borrowed here dies with the loop.
        add(told.title.clone(), few(&short));
    }
    for addition in &recipe.additions {
        match recipe.find(&addition.material) {
            Some(Found::Catalogue(entry)) => {
                let numbers = NUMBERS.iter().find(|(id, _)| *id == entry.id);
                let keys = numbers.map_or(&[][..], |(_, numbers)| numbers);
                let sources = keys.iter().filter_map(|number| Source::find(number.source));
                let all: Vec<&str> = sources.map(|source| source.citation).collect();
                // Works with an author and a year; where there are none, what there is.
                let mut short: Vec<&str> = all.iter().copied().filter_map(dated).collect();
                if short.is_empty() {
                    short = all.iter().copied().map(short_citation).collect();
                }
                add(one_line(entry.told()), few(&short));
            }
            Some(Found::Own(..)) => {
                let name = recipe.find(&addition.material).map_or("", Found::name);
                add(one_line(name), tr!("your own numbers").into());
            }
            None => {}
        }
    }
    rows
}

/// Author and year of a source that has a year; practice and choices have none.
fn dated(source: &str) -> Option<&str> {
    let short = short_citation(source.trim());
    let year = short.get(short.len().checked_sub(4)?..)?;
    year.bytes()
        .all(|byte| byte.is_ascii_digit())
        .then_some(short)
}

/// The first few, each once.
fn few(sources: &[&str]) -> String {
    let mut kept: Vec<&str> = Vec::new();
    for source in sources {
        if !kept.contains(source) {
            kept.push(source);
        }
    }
    let more = kept.len().saturating_sub(MOST_SOURCES);
    kept.truncate(MOST_SOURCES);
    let mut text = kept.join(", ");
    if more > 0 {
        text += &say!(" and {} more", fixed(more as f64, 0));
    }
    text
}

/// What stands where a link is too long for a code.
pub fn too_long_for_a_code(letters: usize) -> String {
    say!(
        "The link has {} letters, too many for a QR code that a phone could read from paper. Type it, or hand the recipe on as a file.",
        fixed(letters as f64, 0)
    )
}
