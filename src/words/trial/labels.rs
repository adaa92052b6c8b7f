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
pub(in crate::words) const RECORD: &[(&str, &str)] = &[
    ("record_measure", "What is measured"),
    ("record_date", "Date"),
    ("record_previous", "‹ Previous"),
    ("record_next", "Next ›"),
    ("record_undo", "Undo"),
    ("record_more", "More of this container"),
    ("record_censor", "The value is"),
    ("record_reps", "Readings that it averages"),
    ("record_missing", "Nothing read because"),
    ("record_not_missing", "(it was read)"),
    ("record_note", "Note"),
    ("record_sample", "One more reading of it"),
    ("record_sample_add", "Add"),
    ("record_lose", "This container is lost"),
    ("record_clear", "Take this value out"),
    ("record_all", "All containers"),
    ("record_empty", "–"),
    ("record_is_lost", "lost"),
    ("record_lost", "Lost containers"),
    (
        "record_lost_is",
        "A container that an animal or an accident took is a gap. One that died of what was added is a result. Only you know which.",
    ),
    ("record_lost_ask", "Did what was added do it?"),
    ("record_lost_yes", "Yes"),
    ("record_lost_no", "No"),
    ("record_lost_back", "It is not lost"),
    ("record_lost_why", "What happened"),
    ("record_own", "A measure of your own"),
    (
        "record_own_is",
        "Anything that you count, weigh or time in every container alike.",
    ),
    ("record_own_name", "What it is called"),
    ("record_own_unit", "Unit"),
    ("record_own_scale", "It is"),
    (
        "record_own_log",
        "a mass, time or rate: compared in percent",
    ),
    ("record_own_raw", "a size: compared in its unit"),
    ("record_own_count", "a count"),
    ("record_own_score", "a score: classes in an order"),
    ("record_own_good", "Better is"),
    ("record_own_more", "more"),
    ("record_own_less", "less"),
    ("record_own_neither", "neither"),
    ("record_own_low", "Least it can be"),
    ("record_own_high", "Most it can be"),
    (
        "record_own_matters",
        "Difference that matters, % or in the unit",
    ),
    ("record_own_add", "Add this measure"),
    ("record_table", "Tables: out to a spreadsheet, in from one"),
    ("record_save", "Save all records as CSV"),
    ("record_key", "Save the containers as CSV"),
    (
        "record_key_is",
        "The table of containers tells what is in each: it opens the key of a blind trial.",
    ),
    ("record_open", "Open a CSV file"),
    ("record_paste", "or paste the table here, with its head"),
    ("record_read", "Read what is pasted"),
    ("record_slashes", "Dates such as 4/5/2026 are"),
    ("record_day_first", "day first: 4 May"),
    ("record_month_first", "month first: April 5"),
    ("record_decimals", "Numbers such as 1,234 are"),
    ("record_point", "thousands: 1234"),
    ("record_comma", "decimals: 1.234"),
    (
        "record_unreadable",
        "The browser could not read this file. Nothing was changed.",
    ),
    ("read_measure", "What was measured"),
    ("read_when", "Read on"),
    ("read_usual", "the last round"),
    ("read_sum", "all days together"),
    (
        "read_none",
        "Nothing is measured yet. Enter values under Record; what they show stands here.",
    ),
    ("read_verdicts", "What it shows"),
    ("read_dots", "Every container"),
    ("read_bars", "Difference from the control"),
    ("read_beside", "Expected, and what happened"),
    ("read_then", "What would the model say then?"),
    ("read_write_blend", "Write it into this recipe as measured"),
    (
        "read_write_ground",
        "Write it into this recipe as measured of the ground",
    ),
    ("read_write_other", "Open this treatment’s recipe with it"),
    ("read_details", "How sure: shuffles and chances"),
    ("read_size", "Against the control"),
    ("read_together", "p, all together"),
    ("read_shuffles", "p, by shuffles"),
    (
        "read_chances_are",
        "p is how often chance alone would part them as far. It says nothing of how large a difference is: that is the bar above.",
    ),
];

/// Of what is printed.
pub(in crate::words) const SHEETS: &[(&str, &str)] = &[];
