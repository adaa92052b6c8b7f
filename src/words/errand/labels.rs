//! Labels of the section on what to buy. They stand in `www/shed.html` from the start.

/// Its button: to open it, to fold it.
pub const ERRAND_OPENS: [&str; 2] = ["Open the errand", "Fold the errand"];

/// Of the section and the sweep.
pub(in crate::words) const ERRAND: &[(&str, &str)] = &[
    ("errand_parts", "Parts of the errand"),
    ("errand_tab_sale", "On sale"),
    ("errand_tab_find", "Find"),
    ("errand_tab_sweep", "Sweep"),
    ("errand_tab_list", "List"),
    (
        "sweep_is",
        "Move one amount, or two, across their range and watch one figure. Press a point to take it into the recipe; undo brings back what was there.",
    ),
    ("sweep_figure", "Figure"),
    ("sweep_against", "Held against"),
    ("sweep_first", "Amount of"),
    ("sweep_second", "And of"),
    ("sweep_from", "from"),
    ("sweep_to", "to"),
    ("sweep_cancel", "Cancel"),
    ("sweep_go_on", "Go on"),
    ("sweep_progress", "How far the sweep has come"),
    ("sweep_here", "Look at"),
    ("sweep_take", "Put this into the recipe"),
    ("sweep_numbers", "The same in numbers"),
    (
        "sweep_empty",
        "Nothing is added yet. Add something to the barrow: its amount can then be moved across its range here.",
    ),
];
