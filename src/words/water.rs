//! Sentences of the section on water and pots.

use super::{Speech, Text, Told, Units, class_name, fixed, odds, percent, significant};
use crate::caution::{LIFT_KG, Lift};
use crate::figure::{Ends, Figure};
use crate::outcome::{GRAVEL_CM, Home, Outcome, TALLER, Use, Watered, is_told_as_class};
use crate::quantity::Unit;
use crate::texture::Class;
use crate::tongue::Saying;
use crate::water::drainage::{
    ConductivityClass, HoleClass, RING_READS_HIGH, RingClass, hole_drop_mm_h,
};
use crate::water::pot::AIR_LEAST;
use crate::water::roots::Roots;

/// Numbers of an inch and of the rain told of.
const INCH_CM: f64 = 2.54;
const RAIN_MM: f64 = 25.0;
const INCH_MM: f64 = 25.4;
/// A hole of 12 by 12 inches while its water falls: radius, and water in the middle of the reading,
/// cm.
const HOLE_CM: [f64; 2] = [15.24, 24.0];
/// Air below which roots of most plants fare badly, and from which on a pot dries fast, % (common
/// practice; University of California for the limits of pots).
const AIRLESS_PCT: f64 = 5.0;
const AIRY_PCT: f64 = 25.0;
const VERY_AIRY_PCT: f64 = 35.0;

impl Speech {
    /// A length that is known roughly: whole centimetres, half inches.
    pub fn rough_length(self, cm: f64) -> String {
        let half = (2.0 * cm / INCH_CM).round() / 2.0;
        match self.units {
            Units::Metric if cm < 1.0 => tr!("under 1 cm").into(),
            Units::Metric => fixed(cm, 0) + " cm",
            Units::Us if half < 0.5 => tr!("under ½ in").into(),
            Units::Us if half == 0.5 => "½ in".into(),
            Units::Us => crate::recipe::number_text(half).replace(".5", "½") + " in",
        }
    }

    /// Days, with their ends.
    pub fn days_told(self, days: Figure) -> Told {
        let day = |value: f64| {
            let half = (2.0 * value).round() / 2.0;
            match value {
                value if value >= 10.0 => fixed(value, 0),
                _ if half < 1.0 => tr!("under 1").into(),
                value if value >= 3.0 => fixed(value, 0),
                _ => crate::recipe::number_text(half).replace(".5", "½"),
            }
        };
        let Ends { low, high } = days.ends();
        let (low, typical, high) = (day(low), day(days.typical), day(high));
        // As it is told: under one as one, the rest as in the closure above.
        let count = match days.typical {
            count if count >= 3.0 => count.round(),
            count => ((2.0 * count).round() / 2.0).max(1.0),
        };
        Told {
            value: say_many!(count, "{} day", "{} days", typical),
            range: if low == high {
                String::new()
            } else {
                [&low, "–", &high].concat()
            },
        }
    }
}

/// The layer of gravel that is told of, cm.
pub fn gravel_cm(speech: Speech) -> f64 {
    match speech.units {
        Units::Metric => GRAVEL_CM,
        Units::Us => INCH_CM,
    }
}

/// What the drawing of the pot shows.
pub fn pot_sentence(outcome: &Outcome, home: Home, speech: Speech) -> String {
    match (home, &outcome.container) {
        (Home::Pot(pot), Some(container)) => say!(
            "{} of mix, watered well and left to drip: {} of it is water, {} air. {}",
            speech.length(pot.height_cm),
            percent(container.water_pct.typical),
            percent(container.air_pct.typical),
            air_word(container.air_pct.typical)
        ),
        (Home::Bed(_), _) => {
            let pores = &outcome.pores_pct;
            say!(
                "A bed on the ground drains into it. Two days after rain {} of it is water, {} of that for plants, and {} air.",
                percent(pores.available_water.typical + pores.unavailable_water.typical),
                percent(pores.available_water.typical),
                percent(pores.air.typical)
            )
        }
        (Home::Unsaid, _) => tr!(
            "Say above whether it goes into a pot or a bed: the same mix holds more water in a pot."
        )
        .into(),
        _ => tr!("Say above how high the pot is inside, and it is drawn here.").into(),
    }
}

fn air_word(air_pct: f64) -> &'static str {
    let least = 100.0 * AIR_LEAST;
    match air_pct.round() {
        air if air < AIRLESS_PCT => tr!("Most roots would suffocate: they ask for about a tenth."),
        air if air < least => tr!("Roots ask for about a tenth, so this is short of air."),
        air if air <= AIRY_PCT => tr!("Roots ask for about a tenth, so most will do."),
        air if air <= VERY_AIRY_PCT => tr!("That is airy: good for roots, and it dries sooner."),
        _ => tr!("That is very airy, and dries fast."),
    }
}

/// What can be said of the pot beyond its figures, point by point.
pub fn pot_points(watered: &Watered, outcome: &Outcome, speech: Speech) -> Vec<String> {
    let (Home::Pot(pot), Some(container)) = (watered.home, &outcome.container) else {
        return match watered.home {
            Home::Bed(_) => vec![
                tr!("That holds while the ground below takes the water. On a hard pan or a sealed floor a bed is a pot as high as the bed.")
                    .into(),
                tr!("In a pot the same mix stays wetter, since its bottom cannot drain further. Choose a pot above to see it.")
                    .into(),
            ],
            _ => Vec::new(),
        };
    };
    let air = percent(container.air_pct.typical);
    let wet_cm = watered.blend.wet_layer_cm(&pot);
    let mut points = Vec::new();
    points.push(if wet_cm >= pot.height_cm * 0.999 {
        tr!("It stays wet from bottom to top: nowhere is a tenth of it air.").to_owned()
    } else if wet_cm < 0.2 {
        tr!("There is a tenth of air down to the bottom: no wet layer.").to_owned()
    } else {
        say!("The lowest {} stay wet, with less than a tenth of air. That is the mix, not the holes: more holes change nothing.", speech.rough_length(wet_cm))
    });
    let gravel = gravel_cm(speech);
    points.extend(watered.blend.air_over_gravel_pct(&pot, gravel).map(|left| {
        let left = percent(left);
        let so = if left == air {
            say!("no more than the {} air of now", air)
        } else {
            say!("{} air instead of {}", left, air)
        };
        say!(
            "{} of gravel below would only lift the wet layer: the mix on top of it would hold {}.",
            speech.length(gravel),
            so
        )
    }));
    points.push(say!(
        "The same mix half as high again, {}, would hold {} air.",
        speech.length(pot.height_cm * TALLER),
        percent(watered.blend.air_if_taller_pct(&pot))
    ));
    points
}

/// What the curve shows.
pub fn curve_sentence(outcome: &Outcome) -> String {
    let pores = &outcome.pores_pct;
    say!(
        "Full it holds {}; once it stopped draining {}, of which plants can take {}.",
        percent(outcome.blend.store().theta_s() * 100.0),
        percent(pores.available_water.typical + pores.unavailable_water.typical),
        percent(pores.available_water.typical)
    )
}

/// Heights that people know, for the foot of the curve: cm, a word, and the length.
pub fn known_heights(speech: Speech) -> [(f64, &'static str, &'static str); 4] {
    match speech.units {
        Units::Metric => [
            (1.0, tr!("fingertip"), "1 cm"),
            (10.0, tr!("hand"), "10 cm"),
            (100.0, tr!("waist"), "1 m"),
            (1000.0, tr!("house"), "10 m"),
        ],
        Units::Us => [
            (1.27, tr!("fingertip"), "½ in"),
            (10.16, tr!("hand"), "4 in"),
            (91.44, tr!("waist"), "3 ft"),
            (914.4, tr!("house"), "30 ft"),
        ],
    }
}

/// Texts in the drawings, in this order: this blend, your ground, stopped draining, plants wilt,
/// air, plants can take, plants leave, the bottom's ground.
pub const DRAWN: [Saying; 8] = [
    said!("this blend"),
    said!("your ground"),
    said!("stopped draining"),
    said!("plants wilt"),
    said!("air"),
    said!("plants can take"),
    said!("plants leave"),
    said!("drains into the ground"),
];

/// The height that a pot has in the curve.
pub fn pot_mark(cm: f64, speech: Speech) -> String {
    say!("this pot, {}", speech.length(cm))
}

/// A wet layer beside the pot.
pub fn wet_mark(wet_cm: f64, height_cm: f64, speech: Speech) -> String {
    if wet_cm >= height_cm * 0.999 {
        tr!("wet to the top").into()
    } else if wet_cm < 0.2 {
        String::new()
    } else {
        say!("wet {}", speech.rough_length(wet_cm))
    }
}

/// Names above the drawn profiles: ground and blend.
pub fn profile_names(home: Home) -> [&'static str; 2] {
    match home {
        Home::Bed(_) => [tr!("your ground"), tr!("this blend")],
        _ => [tr!("your ground, dug"), tr!("this blend")],
    }
}

/// Air above a drawn profile.
pub fn air_mark(pct: f64) -> String {
    say!("{} air", percent(pct))
}

/// How long the water lasts.
pub fn days_sentence(of: Use, home: Home, ground: Option<f64>, speech: Speech) -> String {
    let rate = match speech.units {
        Units::Metric => [&fixed(of.mm_per_day(), 0), " mm"].concat(),
        Units::Us => [&fixed(of.mm_per_day() / INCH_MM, 2), " in"].concat(),
    };
    let what = match home {
        Home::Pot(_) => tr!("from the pot"),
        _ => tr!("from the bed"),
    };
    let mut text = say!(
        "Until half of what plants can take {} is used up, at {} of water a day.",
        what,
        rate
    );
    if let Some(days) = ground {
        let told = speech.days_told(Figure::exact(days));
        text += &say!(" Your ground alone: {}.", told.value);
    }
    text
}

/// What is missing for telling days.
pub fn days_missing(home: Home) -> &'static str {
    match home {
        Home::Unsaid => tr!("Say above where it goes."),
        Home::Bed(_) => tr!("Say above how deep the bed is."),
        _ => tr!("Say above how high the pot is."),
    }
}

/// Whose weights are told.
pub fn weights_of(count: f64, home: Home) -> String {
    if count > 1.0 {
        say!("One of {}, without the pot", fixed(count, 0))
    } else if matches!(home, Home::Pot(_) | Home::PotOfNoHeight) {
        tr!("Without the pot").into()
    } else {
        tr!("All of it").into()
    }
}

/// What to mind about a weight of one, kg.
pub fn lifting_text(watered_kg: f64, home: Home, speech: Speech) -> String {
    let in_pot = matches!(home, Home::Pot(_) | Home::PotOfNoHeight);
    if watered_kg > LIFT_KG && in_pot {
        say!(
            "Fill it where it will stand: watered, it is more than the {} that one person should ever lift. The pot comes on top.",
            speech.mass(LIFT_KG)
        )
    } else if watered_kg > Lift::FROM_GROUND.most_kg() && in_pot {
        say!(
            "The pot comes on top. From the ground about {} is the most for a good lift: take two, or a cart.",
            speech.mass(Lift::FROM_GROUND.most_kg())
        )
    } else if in_pot {
        tr!("The pot comes on top. Lift with bent knees, close to the body, and put it down often.")
            .into()
    } else {
        say!(
            "Carry it in loads well under {}, the most that one person should ever lift.",
            speech.mass(LIFT_KG)
        )
    }
}

/// A class of saturated conductivity.
pub fn conductivity_name(class: ConductivityClass) -> &'static str {
    Text::after(Text::DrainsVeryLow, class as usize).text()
}

fn hole_name(class: HoleClass) -> &'static str {
    match class {
        HoleClass::Poor => tr!("poor"),
        HoleClass::WellDrained => tr!("good"),
        HoleClass::Excessive => tr!("too fast"),
    }
}

fn ring_name(class: RingClass) -> &'static str {
    match class {
        RingClass::VeryRapid => tr!("very rapid"),
        RingClass::Rapid => tr!("rapid"),
        RingClass::ModeratelyRapid => tr!("moderately rapid"),
        RingClass::Moderate => tr!("moderate"),
        RingClass::ModeratelySlow => tr!("moderately slow"),
        RingClass::Slow => tr!("slow##of a ring"),
        RingClass::VerySlow => tr!("very slow"),
    }
}

/// From one word to another, or the one.
fn from_to(low: &str, high: &str) -> String {
    if low == high {
        low.into()
    } else {
        say!("{} to {}##from a word to a word", low, high)
    }
}

/// A wait in words, for what has no figure.
fn wait_word(hours: f64) -> &'static str {
    match hours {
        hours if hours < 0.25 => tr!("minutes"),
        hours if hours < 1.5 => tr!("an hour"),
        hours if hours < 8.0 => tr!("some hours"),
        hours if hours < 30.0 => tr!("a day"),
        hours if hours < 168.0 => tr!("days"),
        _ => tr!("weeks"),
    }
}

/// A wait in figures: the value, and the unit of it.
fn wait(hours: f64) -> (String, &'static str) {
    let (value, unit) = match hours {
        hours if hours < 1.0 => (60.0 * hours, "min"),
        hours if hours < 72.0 => (hours, "h"),
        _ => (hours / 24.0, tr!("days")),
    };
    (significant(value, if value < 10.0 { 1 } else { 2 }), unit)
}

fn waits(short: f64, long: f64) -> String {
    let ((low, low_unit), (high, high_unit)) = (wait(short), wait(long));
    if low_unit != high_unit {
        say!("{} {} to {} {}", low, low_unit, high, high_unit)
    } else if low == high {
        [&low, " ", low_unit].concat()
    } else {
        [&low, "–", &high, " ", low_unit].concat()
    }
}

/// How water goes through one soil: its class, how sure that is, an inch of rain, a hole, a ring.
#[derive(Clone, Debug, PartialEq)]
pub struct DrainageTold {
    /// The class.
    pub class: String,
    /// Its odds and the classes about it.
    pub odds: String,
    /// How long rain takes.
    pub rain: String,
    /// What a hole shows.
    pub hole: String,
    /// What a ring shows.
    pub ring: String,
}

/// How water goes through a soil of a texture class when it is full, with the share of the draws in
/// each class of conductivity, and the middle half of them: what rain and tests would show is told
/// for those.
pub fn drainage_told(
    mm_h: Figure,
    shares: &[f64],
    [slower, faster]: [f64; 2],
    texture: Option<Class>,
    speech: Speech,
) -> DrainageTold {
    let Ends { low, high } = mm_h.ends();
    let of = ConductivityClass::of_mm_h;
    let class = of(mm_h.typical);
    let share = shares.get(class as usize).copied().unwrap_or_default();
    let (slowest, fastest) = (conductivity_name(of(low)), conductivity_name(of(high)));
    let range = if slowest == fastest {
        String::new()
    } else {
        say!(", else {}", from_to(slowest, fastest))
    };
    let as_class = is_told_as_class(texture);
    let rain_mm = match speech.units {
        Units::Metric => RAIN_MM,
        Units::Us => INCH_MM,
    };
    let hours = |mm_h: f64| rain_mm / mm_h.max(1e-6);
    let [radius_cm, water_cm] = HOLE_CM;
    let drops = [
        hole_drop_mm_h(slower, radius_cm, water_cm)[0],
        hole_drop_mm_h(faster, radius_cm, water_cm)[1],
    ];
    let [poorest, best] = drops.map(|drop| hole_name(HoleClass::of_mm_h(drop)));
    let [least, most] = RING_READS_HIGH;
    let minutes = |mm_h: f64, reads: f64| 60.0 * INCH_MM / (mm_h.max(1e-6) * reads);
    let times = [minutes(faster, most), minutes(slower, least)];
    let [quick, slow] = times.map(|minutes| ring_name(RingClass::of_minutes(minutes)));
    let drop = |mm: f64| match speech.units {
        Units::Metric => significant(mm, 1),
        Units::Us => significant(mm / INCH_MM, 1),
    };
    let per_hour = match speech.units {
        Units::Metric => tr!("mm an hour"),
        Units::Us => tr!("in an hour"),
    };
    DrainageTold {
        class: conductivity_name(class).into(),
        odds: say!("odds {}{}", odds(share), range),
        rain: if as_class {
            from_to(wait_word(hours(faster)), wait_word(hours(slower)))
        } else {
            waits(hours(faster), hours(slower))
        },
        hole: if as_class {
            from_to(poorest, best)
        } else {
            format!(
                "{}–{} {per_hour}: {}",
                drop(drops[0]),
                drop(drops[1]),
                from_to(poorest, best)
            )
        },
        ring: if as_class {
            from_to(slow, quick)
        } else {
            format!(
                "{}: {}",
                waits(times[0] / 60.0, times[1] / 60.0),
                from_to(slow, quick)
            )
        },
    }
}

/// What is asked of rain, a hole and a ring, for the heads of their rows.
pub fn drainage_heads(speech: Speech) -> [&'static str; 3] {
    match speech.units {
        Units::Metric => [
            tr!("25 mm of rain sinks in within"),
            tr!("A soaked hole, 30 cm wide and deep, drops"),
            tr!("In a ring, 25 mm on wet soil takes"),
        ],
        Units::Us => [
            tr!("An inch of rain sinks in within"),
            tr!("A soaked hole, 1 ft wide and deep, drops"),
            tr!("In a ring, an inch on wet soil takes"),
        ],
    }
}

/// Why clay has words and no figures here.
pub fn clay_drains_text() -> &'static str {
    tr!(
        "For clay only words are given: its cracks and crumbs decide, and good models differ tenfold."
    )
}

/// What the tables say of a density.
pub fn roots_sentence(outcome: &Outcome, roots: &Roots, class: Class, speech: Speech) -> String {
    let density = outcome.bulk_density_kg_m3.settled.typical;
    let [trouble, all_trouble] = roots.affected_kg_m3;
    let [stops, all_stop] = roots.restricted_kg_m3;
    let judged = if density < roots.ideal_kg_m3 {
        tr!("loose enough for any root")
    } else if density < trouble.min(stops) {
        tr!("not loose, but no table sees roots in trouble")
    } else if density < stops {
        tr!("where tables see roots in trouble")
    } else if density < all_stop.max(all_trouble) {
        tr!("where some tables have roots stopped")
    } else {
        tr!("where every table has roots stopped")
    };
    let number = |kg_m3: f64| fixed(speech.units.density(kg_m3), speech.units.density_decimals());
    say!(
        "Settled it weighs {} {} dry: {}. For {} the printed tables begin trouble at {} and have roots stopped from {} to {}. They do not agree, so take it as a band and no line.",
        number(density),
        speech.units.density_unit(),
        judged,
        class_name(class),
        number(trouble.min(stops)),
        number(stops),
        number(all_stop)
    )
}

/// Words in the drawing of the densities: easy, in trouble, stopped.
pub const ROOTS_DRAWN: [Saying; 3] = [said!("easy"), said!("tables differ"), said!("stopped")];

/// The same as rows: what is settled, and where the tables begin.
pub const ROOTS_ROWS: [Saying; 4] = [
    said!("This blend"),
    said!("Your ground"),
    said!("Tables begin trouble at"),
    said!("Roots are stopped from"),
];

/// What there is to say without a texture class.
pub fn no_roots_text() -> &'static str {
    tr!(
        "The tables are for mineral soils, and this mix has no texture class. So light a mix stops no root."
    )
}

/// What is told to a screen reader once the section stands still.
pub fn water_told(outcome: &Outcome) -> String {
    match &outcome.container {
        Some(container) => say!(
            "In the pot {} water, {} air.",
            percent(container.water_pct.typical),
            percent(container.air_pct.typical)
        ),
        None => say!(
            "Once drained {} water for plants, {} air.",
            percent(outcome.pores_pct.available_water.typical),
            percent(outcome.pores_pct.air.typical)
        ),
    }
}

/// What the button says while the section is folded, and while it is open.
pub const WATER_OPENS: [Saying; 2] = [
    said!("Open water and pots"),
    said!("Fold water and pots away"),
];

/// A bed's wet layer.
pub const NO_WET_LAYER: Saying = said!("none");

/// A value that is not known well.
pub fn about(value: &str) -> String {
    say!("about {}", value)
}

/// The unit that a length is typed in.
pub fn length_unit(speech: Speech) -> Unit {
    match speech.units {
        Units::Metric => Unit::Centimetre,
        Units::Us => Unit::Inch,
    }
}
