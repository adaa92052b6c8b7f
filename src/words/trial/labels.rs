//! Labels of the section on the trial. They stand in `www/shed.html` from the start.

/// Its button: to open it, to fold it.
pub const TRIAL_OPENS: [&str; 2] = ["Open the trial", "Fold the trial"];

/// Of the section, of planning and laying out.
pub(in crate::words) const TRIAL: &[(&str, &str)] = &[
    ("trial_parts", "Parts of the trial"),
    ("trial_tab_plan", "Plan"),
    ("trial_tab_layout", "Lay out"),
    ("trial_tab_record", "Record"),
    ("trial_tab_read", "Read"),
    (
        "trial_begin_is",
        "No trial is planned yet. Begin with the additions of this recipe, one in each container, beside the same clay with nothing added. All of it can be changed.",
    ),
    ("trial_begin", "Begin a trial"),
    ("trial_what", "What is compared"),
    ("trial_add", "Another addition"),
    ("trial_add_one", "Add it"),
    ("trial_add_two", "Add it at two doses"),
    ("trial_add_blend", "Add the blend"),
    ("trial_controls", "Controls, to compare with"),
    ("trial_dug", "Dug, nothing added"),
    ("trial_untouched", "Untouched"),
    ("trial_in", "In what, and how much"),
    ("trial_kind", "Each is"),
    ("trial_volume", "Holds, up to the line"),
    ("trial_height", "Height of the soil"),
    ("trial_empty", "Weighs, empty"),
    ("trial_area", "Area of one strip"),
    ("trial_depth", "Dug how deep"),
    ("trial_dose", "Addition in each"),
    (
        "trial_volume_hint",
        "Fill one with water from a measuring jug up to a line, and draw the line on all of them: the same volume and the same height for all. A share is of that volume.",
    ),
    ("trial_equal", "The same dose of every addition"),
    ("trial_equal_volume", "by volume"),
    ("trial_equal_mass", "by weight"),
    ("trial_crop", "What is grown"),
    ("trial_crop_which", "Crop"),
    ("trial_variety", "Variety"),
    ("trial_seeds", "Seeds in each"),
    ("trial_plants", "Thinned to"),
    ("trial_start", "Day of sowing"),
    ("trial_crop_from", "Where these numbers come from"),
    ("trial_how", "How many of each?"),
    ("trial_spread", "Spread between containers treated alike"),
    ("trial_difference", "Difference that matters"),
    ("trial_power_table", "The same in numbers"),
    ("trial_power_found", "Found, of 100 such trials"),
    ("trial_measure", "What decides"),
    ("trial_primary", "The one measure"),
    (
        "trial_measure_hint",
        "Choose one before sowing, and the difference that would change what you do. Everything else that is measured supports it.",
    ),
    ("trial_takes", "What each container takes"),
    ("trial_treatment", "Treatment"),
    ("trial_of_each", "How many"),
    ("trial_ground", "Ground, moist as dug"),
    ("trial_added", "Addition"),
    ("trial_weighs", "Filled, it weighs"),
    ("trial_all", "For the whole trial"),
    ("trial_predict", "Predict first"),
    (
        "trial_predict_is",
        "A guess written down before the first reading is worth ten after it. The model knows the soil, not the crop; the crop is yours to guess.",
    ),
    ("trial_predict_of", "The model tells"),
    ("trial_model", "The model expects"),
    ("trial_by", "By, %"),
    ("trial_store", "Store what the model expects"),
    ("trial_remove", "Take the trial out of the recipe"),
    ("trial_site", "The light there"),
    ("trial_design", "Set out"),
    ("trial_columns", "Side by side"),
    ("trial_columns_none", "by itself"),
    ("trial_seed", "Seed of the order"),
    (
        "trial_seed_hint",
        "The seed alone makes the order: who types it gets the same plan. Type one, such as the date, and keep what comes: an order drawn again until it looks random is not random.",
    ),
    (
        "trial_blind",
        "Score blind: labels show a letter, not the treatment",
    ),
    (
        "trial_blind_hint",
        "Who knows what is in a container sees what they hope for. Open the key when all is scored.",
    ),
    ("trial_key", "The key: what each letter stands for"),
    ("trial_list", "Every container in the order of a walk"),
    ("trial_code", "Container"),
    ("trial_row", "Row"),
    ("trial_place", "Place"),
    ("trial_letter", "Letter"),
];

/// Of recording and reading.
pub(in crate::words) const RECORD: &[(&str, &str)] = &[];

/// Of what is printed.
pub(in crate::words) const SHEETS: &[(&str, &str)] = &[];
