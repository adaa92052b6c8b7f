//! Checks `src/texture/systems.csv` (corners) and `src/texture/asks.csv` (conditions) and turns them
//! into one table of classes. The two are checked against each other at every half percent.

use super::table::each;
use std::fmt::Write as _;

pub(crate) const CORNERS: &str = "src/texture/systems.csv";
pub(crate) const ASKS: &str = "src/texture/asks.csv";
const CORNER_COLUMNS: [&str; 8] = [
    "system", "class", "name", "clay", "silt", "sand", "source", "mark",
];
const ASK_COLUMNS: [&str; 3] = ["system", "class", "asks"];
/// Quantities that conditions are about, as they are called in Rust, with twice their parts of clay
/// and silt and twice their constant.
const QUANTITIES: [(&str, &str, [i32; 3]); 5] = [
    ("clay", "Clay", [2, 0, 0]),
    ("silt", "Silt", [0, 2, 0]),
    ("sand", "Sand", [-2, -2, 200]),
    ("silt + 1.5 clay", "SiltAndHalfMoreClay", [3, 2, 0]),
    ("silt + 2 clay", "SiltAndTwiceClay", [4, 2, 0]),
];
/// Steps of half a percent along a side.
const STEPS: i32 = 200;

/// An end of a condition, %, and whether it belongs.
type End = Option<(i32, bool)>;

#[derive(Debug)]
struct Ask {
    quantity: usize,
    low: End,
    high: End,
}

#[derive(Debug)]
pub(crate) struct Class {
    line: u64,
    system: String,
    id: String,
    name: String,
    source: String,
    mark: &'static str,
    /// Clay and silt, whole percent.
    corners: Vec<[i32; 2]>,
    ways: Vec<Vec<Ask>>,
}

/// The classes in the order of the table of corners.
pub(crate) fn read(corners: &str, asks: &str) -> Result<Vec<Class>, String> {
    let mut classes: Vec<Class> = Vec::new();
    each(CORNERS, corners, &CORNER_COLUMNS, |row| {
        let whole = |column: &str| {
            let number = row.text(column).parse::<i32>();
            number.map_err(|_| format!("{column} is no whole number"))
        };
        let [clay, silt, sand] = [whole("clay")?, whole("silt")?, whole("sand")?];
        if [clay, silt, sand].iter().any(|part| *part < 0) || clay + silt + sand != 100 {
            return Err("clay, silt and sand must sum to 100".into());
        }
        let mark = match row.text("mark") {
            "verified" => "Verified",
            "memory" => "Memory",
            _ => return Err("mark is one of verified, memory".into()),
        };
        let (system, id) = (row.text("system"), row.text("class"));
        let is_id = |text: &str| {
            !text.is_empty() && text.bytes().all(|b| b.is_ascii_lowercase() || b == b'_')
        };
        if !is_id(system) || !is_id(id) {
            return Err("system and class must be of a-z and _".into());
        }
        if row.text("name").is_empty() || row.text("source").is_empty() {
            return Err(format!("{id} needs name and source"));
        }
        let known = classes
            .iter_mut()
            .find(|class| class.system == system && class.id == id);
        if let Some(class) = known {
            if class.name != row.text("name")
                || class.source != row.text("source")
                || class.mark != mark
            {
                return Err(format!("{id} was told otherwise on line {}", class.line));
            }
            class.corners.push([clay, silt]);
        } else {
            classes.push(Class {
                line: row.line,
                system: system.into(),
                id: id.into(),
                name: row.text("name").into(),
                source: row.text("source").into(),
                mark,
                corners: vec![[clay, silt]],
                ways: Vec::new(),
            });
        }
        Ok(())
    })?;
    each(ASKS, asks, &ASK_COLUMNS, |row| {
        let (system, id) = (row.text("system"), row.text("class"));
        let class = classes
            .iter_mut()
            .find(|class| class.system == system && class.id == id)
            .ok_or(format!("no class {id} of {system} in {CORNERS}"))?;
        let way: Result<Vec<Ask>, String> = row.text("asks").split(';').map(ask).collect();
        class.ways.push(way?);
        Ok(())
    })?;
    let mut from = 0;
    for system in classes.chunk_by(|one, next| one.system == next.system) {
        let name = &system[0].system;
        from += system.len();
        if classes[from..].iter().any(|class| class.system == *name) {
            return Err(format!("{CORNERS}: {name} stands in two blocks"));
        }
        agree(system).map_err(|what| format!("{ASKS}: {name}: {what}"))?;
    }
    Ok(classes)
}

/// Reads `7 <= clay < 20`, or one side of it.
fn ask(text: &str) -> Result<Ask, String> {
    let fault = || format!("{text:?} is no condition");
    let words: Vec<&str> = text.split_whitespace().collect();
    let sign = |word: &&str| matches!(*word, "<" | "<=" | ">" | ">=");
    let signs: Vec<usize> = (0..words.len()).filter(|at| sign(&words[*at])).collect();
    let number = |word: &str| word.parse::<i32>().map_err(|_| fault());
    let (start, end) = match signs[..] {
        [end] => (0, end),
        [1, end] if words[1].starts_with('<') && words[end].starts_with('<') => (2, end),
        _ => return Err(fault()),
    };
    let name = words[start..end].join(" ");
    let quantity = QUANTITIES.iter().position(|(known, ..)| *known == name);
    let quantity = quantity.ok_or_else(fault)?;
    if words.len() != end + 2 {
        return Err(fault());
    }
    let last = number(words[end + 1])?;
    let has_equal = |at: usize| words[at].ends_with('=');
    let (mut low, mut high) = (None, None);
    if words[end].starts_with('<') {
        high = Some((last, has_equal(end)));
    } else {
        low = Some((last, has_equal(end)));
    }
    if start == 2 {
        low = Some((number(words[0])?, has_equal(1)));
    }
    Ok(Ask {
        quantity,
        low,
        high,
    })
}

/// Whether a class asks for this, clay and silt in half percent.
fn asks_for(class: &Class, [clay, silt]: [i32; 2]) -> bool {
    let met = |ask: &Ask| {
        let [of_clay, of_silt, more] = QUANTITIES[ask.quantity].2;
        // In quarter percent: twice the quantity, in halves.
        let value = of_clay * clay + of_silt * silt + 2 * more;
        let above = |(end, belongs)| value > 4 * end || (belongs && value == 4 * end);
        let below = |(end, belongs)| value < 4 * end || (belongs && value == 4 * end);
        ask.low.is_none_or(above) && ask.high.is_none_or(below)
    };
    class.ways.iter().any(|way| way.iter().all(met))
}

/// Whether a place lies in a region or on its edge, clay and silt in half percent.
fn holds(class: &Class, [clay, silt]: [i32; 2]) -> bool {
    let mut is_inside = false;
    for (index, [x, y]) in class.corners.iter().enumerate() {
        let [next_x, next_y] = class.corners[(index + 1) % class.corners.len()];
        let [ax, ay, bx, by] = [2 * x, 2 * y, 2 * next_x, 2 * next_y];
        let cross = (bx - ax) * (silt - ay) - (by - ay) * (clay - ax);
        let within = |a: i32, b: i32, at: i32| a.min(b) <= at && at <= a.max(b);
        if cross == 0 && within(ax, bx, clay) && within(ay, by, silt) {
            return true;
        }
        // Is the edge crossed by a ray towards more clay?
        if (ay > silt) != (by > silt) && (cross > 0) != (by > ay) {
            is_inside = !is_inside;
        }
    }
    is_inside
}

/// Every place meets the conditions of one class, and lies in its region.
fn agree(system: &[Class]) -> Result<(), String> {
    for clay in 0..=STEPS {
        for silt in 0..=STEPS - clay {
            let mut of = system.iter().filter(|class| asks_for(class, [clay, silt]));
            let told = format!(
                "clay {} silt {}",
                f64::from(clay) / 2.0,
                f64::from(silt) / 2.0
            );
            let Some(class) = of.next() else {
                return Err(format!("no class asks for {told}"));
            };
            if let Some(other) = of.next() {
                return Err(format!("{} and {} ask for {told}", class.id, other.id));
            }
            if !holds(class, [clay, silt]) {
                return Err(format!("{} asks for {told}, outside its corners", class.id));
            }
        }
    }
    let twice: i32 = system.iter().map(|class| twice_area(&class.corners)).sum();
    if twice == 100 * 100 {
        Ok(())
    } else {
        Err(format!("regions cover {twice} of 10000"))
    }
}

fn twice_area(corners: &[[i32; 2]]) -> i32 {
    let next = corners.iter().cycle().skip(1);
    let sum: i32 = corners
        .iter()
        .zip(next)
        .map(|([x, y], [next_x, next_y])| x * next_y - next_x * y)
        .sum();
    sum.abs()
}

/// The classes of each system, as lists in Rust under its name.
pub(crate) fn table(classes: &[Class]) -> String {
    let mut out = String::new();
    for system in classes.chunk_by(|one, next| one.system == next.system) {
        let name = &system[0].system;
        let _ = writeln!(
            out,
            "/// The classes of {name}.\nstatic {}: &[SystemClass] = &[",
            name.to_uppercase()
        );
        for class in system {
            let _ = writeln!(
                out,
                "SystemClass {{ id: {:?}, name: {:?}, source: {:?}, mark: Mark::{}, corners: &[",
                class.id, class.name, class.source, class.mark
            );
            for [clay, silt] in &class.corners {
                let sand = 100 - clay - silt;
                let _ = writeln!(out, "[{clay}.0, {silt}.0, {sand}.0],");
            }
            out.push_str("], ways: &[\n");
            for way in &class.ways {
                out.push_str("&[");
                for ask in way {
                    let _ = write!(
                        out,
                        "Ask {{ of: Quantity::{}, low: {}, high: {} }}, ",
                        QUANTITIES[ask.quantity].1,
                        end(ask.low),
                        end(ask.high)
                    );
                }
                out.push_str("],\n");
            }
            out.push_str("] },\n");
        }
        out.push_str("];\n");
    }
    out
}

fn end(end: End) -> String {
    match end {
        Some((pct, belongs)) => format!("Some(End {{ pct: {pct}, belongs: {belongs} }})"),
        None => "None".into(),
    }
}
