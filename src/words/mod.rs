//! Every visible sentence. One language so far, English; another is another file beside it.

#[cfg(not(feature = "page"))]
mod api;
mod care;
#[cfg(not(feature = "page"))]
mod chemical;
#[cfg(not(feature = "page"))]
mod chemistry;
#[cfg(not(feature = "page"))]
pub mod date;
#[cfg(not(feature = "page"))]
mod dose;
mod doubt;
mod english;
#[cfg(not(feature = "page"))]
pub mod errand;
#[cfg(not(feature = "page"))]
mod find;
mod keep;
mod labels;
#[cfg(not(feature = "page"))]
mod lectern;
mod measure;
mod message;
mod number;
mod page;
#[cfg(not(feature = "page"))]
mod paper;
mod report;
#[cfg(not(feature = "page"))]
mod seasons;
mod shed;
mod sheet;
#[cfg(not(feature = "page"))]
mod shelf;
mod sure;
#[cfg(not(feature = "page"))]
mod systems;
mod text;
mod tools;
#[cfg(not(feature = "page"))]
pub mod trial;
#[cfg(not(feature = "page"))]
mod water;
mod ways;
mod why;

#[cfg(not(feature = "page"))]
pub use api::strange_text;
pub use care::{care_head, care_line, care_text, chemistry_line, severity_word};
#[cfg(not(feature = "page"))]
pub use chemistry::{
    CHEMISTRY_OPENS, FertileRow, From as YearFrom, Grown, Said, TARGET_PH, capacity_told,
    chemistry_told, crop_choices, crop_said, disperses_text, fertile_rows, gypsum_need_text,
    gypsum_salt_text, magnesium_text, nitrogen_said, offset_text, ph_told, phosphorus_text,
    potassium_text, ratio_text, reaction_said, reaction_source_text, salt_may_text, salt_said,
    salt_told, sodium_said, sodium_told, target_text, washing_text,
};
#[cfg(not(feature = "page"))]
pub use dose::{
    dose_advice, dose_back_text, dose_cautions, dose_depth_text, dose_fault_text,
    dose_mismatch_text, dose_room_text, dose_use_text, label_of_dose, rate_unit_name,
    usual_container_name,
};
pub use doubt::{
    Told, changes_text, class_odds_text, cost_told, drains_told, odds, ranges_text, sharpen_text,
};
use english::in_sentence;
#[cfg(not(feature = "page"))]
use english::labelled;
pub use english::{
    agree_text, class_name, cost_text, crumb_word, error_text, fault_text, group_name, percent,
    remark_parts, remark_text,
};
#[cfg(not(feature = "page"))]
pub use find::{everyday_words, is_found, material_line};
pub use keep::{
    bag_kind_name, bucket_fault_text, dug_fault_text, fill_fault_text, imported_text,
    own_fault_text, phrase_fault_text, shape_fault_text, side_name, trade_pot_name,
};
pub use labels::{first_label, label_keys};
#[cfg(not(feature = "page"))]
pub use lectern::{
    READY, Ready, classes_told, guess_text, guess_told, label_of_lectern, mix_text, moved_name,
    moved_number, shown_name, shown_sentence, shown_told, step_of,
};
pub use measure::{
    agreement_text, disagreement_text, label_of_measure, measured_factor, measured_outside_text,
    measured_text, measured_unit, of_the_other_text, range_behind, usual_error_text,
};
pub use message::outcome_as_text;
pub use number::{
    Typed, bound, fixed, parse_typed, power_of_ten, round_significant, shown, significant,
    with_mark, written,
};
pub use page::{
    class_lines, column_sentence, ground_text, line_text, number_in_words, page_fault_text,
    soil_text, state_name, told, triangle_sentence, typed_text, unit_name,
};
#[cfg(not(feature = "page"))]
pub use paper::{Paper, paper, too_long_for_a_code};
pub use report::{
    advice_text, dispersion_fault_text, dispersion_text, dispersion_written_text, finding_text,
    milkiness_name, requirement_text, written_text,
};
#[cfg(not(feature = "page"))]
pub use seasons::{
    SEASONS_OPENS, hold_sentence, in_year, rain_unit, season_row, season_sentences,
    seasons_error_text, top_up_materials, warmth_unit, year_axis, year_told, years_asked,
    years_sentence,
};
#[cfg(not(feature = "page"))]
pub use sheet::{Counted, counted_text};
pub use sheet::{
    constants, fact_name, field_name, findings_shares_text, hazard_name, hazard_text, mark_word,
    numbers_shares_text, printed, printed_range, printed_unit, shares_in_short, short_citation,
};
#[cfg(not(feature = "page"))]
pub use shelf::{
    Done, SHELF_OPENS, class_told, compared_name, compared_told, difference_told, kept_name,
    label_of_shelf, odds_told, same_class_told, shelf_classes, shelf_done_text, shelf_fault_text,
    shelf_told,
};
#[cfg(not(feature = "page"))]
pub use systems::{
    SYSTEMS_OPENS, asks_text, conversion_text, limits_text, system_class_name, system_line,
    system_mark_text, system_name, system_odds_text, system_sentence, texture_fault_text,
    within_doubt_text,
};
pub use text::Text;
#[cfg(feature = "page")]
pub(crate) use text::lend;
#[cfg(not(feature = "page"))]
pub use text::lines;
pub use tools::{
    addition_text, bag_name, dug_text, figure_text, file_name, filled_ground_text,
    filled_line_text, filled_text, found_text, fractions_spread_text, fractions_text,
    label_of_shed, my_material_name, own_kind_text, own_line_text, parts_text, property_name,
    range_needs_all, recipe_in_a_line, still_needed, too_large_text, trait_name, understood_text,
};
#[cfg(not(feature = "page"))]
pub use trial::{
    Praise, RANGE_COVERS, band_ends_text, blocking_text, chance_text, comparison_text,
    guessed_text, no_verdict_text, note_text, one_container_text, permutation_text, plan_text,
    plan_text_by, refused_text, row_text, said_once, size_text, treatment_text, treatment_text_at,
    verdict_text, verdict_text_by,
};
#[cfg(not(feature = "page"))]
pub use water::{
    DRAWN, DrainageTold, NO_WET_LAYER, ROOTS_DRAWN, ROOTS_ROWS, WATER_OPENS, about, air_mark,
    clay_drains_text, conductivity_name, curve_sentence, days_missing, days_sentence,
    drainage_heads, drainage_told, gravel_cm, known_heights, length_unit, lifting_text,
    no_roots_text, pot_mark, pot_points, pot_sentence, profile_names, roots_sentence, water_told,
    weights_of, wet_mark,
};
pub use ways::{
    can_fault_text, can_text, duration_text, feel_answer_text, feel_question_text,
    feel_result_text, jar_band_text, jar_fault_text, reading_times_text, settling_fault_text,
};
pub use why::{Asked, Equation, Limit, Why, equations, why};

/// How sentences are said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Speech {
    /// The units they use.
    pub units: Units,
}

/// Units of display; stored values are always as typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Units {
    /// kg, L, kg/L.
    Metric,
    /// lb, gal, lb/ft3.
    Us,
}

/// Metric units.
pub const METRIC: Speech = Speech {
    units: Units::Metric,
};

impl Units {
    /// A density in the unit shown, from kg/m3.
    pub fn density(self, kg_m3: f64) -> f64 {
        kg_m3 / self.density_factor()
    }

    /// kg/m3 in one of the unit shown.
    pub fn density_factor(self) -> f64 {
        use crate::quantity::Unit;
        match self {
            Units::Metric => Unit::Kilogram.factor() / Unit::Litre.factor(),
            Units::Us => Unit::Pound.factor() / Unit::CubicFoot.factor(),
        }
    }

    /// The unit that a density is shown in.
    pub fn density_unit(self) -> &'static str {
        match self {
            Units::Metric => "kg/L",
            Units::Us => "lb/ft³",
        }
    }

    /// Decimals that a density is shown with: three figures.
    pub fn density_decimals(self) -> usize {
        match self {
            Units::Metric => 2,
            Units::Us => 0,
        }
    }
}
