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
];

/// Of recording and reading.
pub(in crate::words) const RECORD: &[(&str, &str)] = &[];

/// Of what is printed.
pub(in crate::words) const SHEETS: &[(&str, &str)] = &[];
