//! Short fixed texts by key. `www/index.html` names them in double braces, and the site is built
//! with them in place; what only the page's first text needs stays out of the wasm.

use super::Text;
use crate::tongue::tr;

/// Labels that the running page writes as well.
const RUNNING: &[(&str, Text)] = &[
    ("blend", Text::Blend),
    ("clay", Text::Clay),
    ("ground", Text::Ground),
    ("sand", Text::Sand),
    ("silt", Text::Silt),
];

/// Labels that stand in the page from the start.
const STANDING: &[(&str, &str)] = &[
    ("additions", "Additions"),
    ("barrow", "Barrow"),
    ("class", "Class"),
    ("cost", "Cost"),
    ("count", "How many"),
    ("crumb", "Crumb"),
    ("height", "Height"),
    ("material", "Material"),
    ("name", "Barrowmix"),
    ("notes", "Notes"),
    ("place", "Where it goes"),
    ("room", "Room in one"),
    (
        "stale",
        "This is the outcome before the field that needs mending.",
    ),
    ("unit", "Unit"),
    ("verdict", "Verdict"),
    ("ground_is", "what you have"),
    ("care", "Take care"),
    ("care_is", "before you begin"),
    ("care_notes", "Good to know as well"),
    (
        "care_ask",
        "This page gives no medical, legal or building advice. A soil laboratory knows your soil, the extension office your region, the label its product; where they say otherwise, they are right.",
    ),
    ("chemistry", "Chemistry"),
    ("chemistry_open", "Open chemistry"),
    ("water", "Water and pots"),
    ("water_is", "how it holds and drains"),
    (
        "water_intro",
        "How wet it stays in a pot of your height, how long the water lasts, what it weighs, and how fast rain leaves.",
    ),
    ("water_open", "Open water and pots"),
    ("shelf", "Shelf"),
    ("shelf_is", "which of them gives more?"),
    (
        "shelf_intro",
        "Keep up to eight blends and see them side by side: on one triangle, in one table, with how they differ and how sure that is.",
    ),
    ("shelf_open", "Open the shelf"),
    ("shelf_keep", "Keep this blend"),
    ("seasons", "Seasons"),
    ("seasons_is", "what the years do"),
    (
        "seasons_intro",
        "What is left of the organic matter, how far the bed sinks, what nitrogen comes free, and what holds it.",
    ),
    ("seasons_open", "Open seasons"),
    ("trial", "Side by side"),
    ("trial_is", "which of these helps your clay?"),
    (
        "trial_intro",
        "A fair trial in a row of containers: plan it, set it out by chance, write down what you see, and read what it shows and what it cannot.",
    ),
    ("trial_open", "Open the trial"),
    ("errand", "Errand"),
    ("errand_is", "what should you buy?"),
    (
        "errand_intro",
        "What is on sale, the least that gets you there, what any amount does, and the list to take along.",
    ),
    ("errand_open", "Open the errand"),
    ("place_drains", "Water can leave below"),
    ("place_on", "It stands on"),
    ("place_on_ground", "the ground"),
    ("place_on_deck", "a deck or balcony"),
    ("place_on_roof", "a roof"),
    ("place_near", "Near it is"),
    ("place_near_building", "a house from before 1978"),
    ("place_near_road", "a road"),
    ("place_near_slope", "a slope"),
    ("place_near_water", "water or a well"),
    ("draft", "draft"),
    ("yes", "yes"),
    ("no", "no"),
    ("jump", "See what it becomes"),
    ("barrow_is", "what you mix in"),
    ("undo", "Undo"),
    ("redo", "Redo"),
    ("open", "Open"),
    ("save", "Save"),
    ("more", "More"),
    ("copy_text", "Copy the result as text"),
    ("lectern", "Show it large"),
    ("steps", "Steps to show"),
    ("own", "Materials of my own"),
    ("kept", "Recipes kept here"),
    ("forget", "Delete my data"),
    (
        "late",
        "This tool could not be fetched. The rest of the page works; try again when there is a connection.",
    ),
    (
        "not_kept",
        "This browser keeps nothing for this page: its storage is full or blocked. Save a file, or copy the link; it holds everything.",
    ),
    (
        "other_tab",
        "Another tab has changed the recipe that is kept here. Nothing is overwritten; the one you do not choose stays under “Recipes kept here”.",
    ),
    ("embed_whole", "Open the whole page with this recipe"),
    ("keep_mine", "Go on with this one"),
    ("fresh", "A new version of this page is ready."),
    (
        "unstarted",
        "Nothing here yet? Then the place that shows this page may not let it run: it needs its scripts and WebAssembly, and in a sandboxed frame allow-scripts and allow-same-origin.",
    ),
    ("fresh_use", "Use it"),
    ("fresh_later", "Later"),
    ("take_theirs", "Take the other one"),
    ("ways_ground", "Or tell it by"),
    ("way_usual", "usual soil"),
    ("way_jar", "jar"),
    ("way_feel", "feel"),
    ("way_class", "class"),
    ("way_can", "can"),
    ("way_ranges", "ranges"),
    ("ways_lab", "pH, salt, lime and sodium by"),
    ("way_report", "soil report"),
    ("way_crumbs", "crumbs in water"),
    ("ways_barrow", "Or say it"),
    ("way_parts", "in parts"),
    ("way_dug", "in buckets"),
    ("way_fill", "by the place to fill"),
    ("why_verdict", "How do we know?"),
    (
        "triangle_hint",
        "Press the triangle to set your ground; arrow keys move it.",
    ),
    ("title_hint", "Name this blend"),
    ("title_label", "Name of this blend"),
    ("add_button", "Add"),
    ("add_label", "Add a material"),
    ("find_one", "Find one…"),
    (
        "barrow_empty",
        "Nothing is added yet. Choose a material, then move its slider.",
    ),
    ("air", "Air"),
    ("air_drained", " once drained"),
    ("becomes", "becomes"),
    ("copy_link", "Copy link"),
    ("crumb_acts", "; it acts once something is added"),
    ("deep", "deep"),
    ("density_as_it_lies", "Density as it lies"),
    ("density_settled", "Density"),
    ("depth_unit", "Unit of the depth"),
    ("drains", "Drains"),
    ("dug", "Dug and settled"),
    (
        "figures_caption",
        "Before and after, settled where nothing else is said",
    ),
    ("gravel", "Gravel"),
    ("ground_amount", "Ground"),
    ("ground_unit", "Unit of the ground's amount"),
    ("height_unit", "Unit of the height"),
    ("lying", "As it lies"),
    ("mineral_solids", "minerals"),
    ("moisture", "Moisture"),
    ("moisture_hint", "water, % of the dry mass"),
    ("more_ground", "More about this ground"),
    (
        "no_script",
        "This page computes in your browser and needs scripts switched on. Nothing you enter leaves your device.",
    ),
    ("numbers_of_column", "The pore column in numbers"),
    ("numbers_of_triangle", "The triangle in numbers"),
    ("organic_matter", "Organic matter"),
    ("organic_solids", "organic matter"),
    ("outcome", "Outcome"),
    (
        "page_description",
        "What heavy clay becomes when something is mixed in: texture, density and pore space, worked out in your browser.",
    ),
    (
        "page_title",
        "Barrowmix: what would this soil blend become?",
    ),
    ("part_air", "air"),
    ("part_closed", "closed cells"),
    ("part_left", "water plants leave"),
    ("part_taken", "water plants take"),
    ("place_bed", "a bed"),
    ("place_container", "a pot, pail or bag"),
    ("place_kind", "Kind"),
    ("place_unknown", "not said"),
    ("plant_water", "Water"),
    ("plant_water_more", " that plants take"),
    ("pores_settled", "Pores"),
    ("reset_demo", "Back to the demo"),
    ("room_unit", "Unit of the room"),
    ("skip_to_outcome", "Skip to the outcome"),
    ("strip_density", "density"),
    ("strip_organic", "organic"),
    ("strip_pores", "pores"),
    ("sure", "How sure is this?"),
    (
        "sure_ask",
        "Who to ask: a soil laboratory for texture, organic matter, salt and reaction; the extension office or a local gardening society for rates; the label for the product. They know your place, and they come before this page. Wear a dust mask and damp down dry sand, perlite and powders; wash your hands after compost and manure.",
    ),
    (
        "sure_estimates",
        "Every figure is worked out 1,024 times with what is not known drawn anew, and shown with the range that holds nine in ten: the spread of materials, the measured errors of the equations, and those of the packing.",
    ),
    (
        "sure_more",
        "How sure is this? In plain words, with the measured errors",
    ),
    (
        "sure_not",
        "Not covered: what rain washes out, trace elements, how crumbs change over the years, swelling and cracking, stones over 75 mm, frost and roots.",
    ),
    (
        "sure_packing",
        "How parts fill each other's gaps could be checked against few measured mixtures, and against 7,980 natural horizons of sand and clay, whose dense point it finds. Mix a bucketful, weigh it and trust that more.",
    ),
    (
        "trap",
        "Something went wrong in this page, and it is ours to mend. Your recipe is still in the address. The report below says what happened.",
    ),
    ("trap_report", "Report"),
    ("units_legend", "Units shown"),
    ("units_metric", "metric"),
    ("units_us", "US"),
    ("volume_settled", "Volume"),
    ("weight_moist", "Weight"),
    ("within", "9 in 10 within"),
    (
        "what_it_is",
        "Mix it here first: what would your clay become?",
    ),
];

/// Labels that stand in a page from the start, list by list.
const LISTS: &[&[(&str, &str)]] = &[
    STANDING,
    #[cfg(not(feature = "page"))]
    super::errand::labels::ERRAND,
    #[cfg(not(feature = "page"))]
    super::lectern::LECTERN,
    super::measure::MEASURE,
    super::report::REPORT,
    super::shed::SHED,
    super::sure::SURE,
    super::sheet::SHEET,
    #[cfg(not(feature = "page"))]
    super::shelf::LABELS,
    #[cfg(not(feature = "page"))]
    super::systems::LABELS,
    #[cfg(not(feature = "page"))]
    super::trial::labels::TRIAL,
    #[cfg(not(feature = "page"))]
    super::trial::page_plan::LABELS,
    #[cfg(not(feature = "page"))]
    super::trial::page_record::LABELS,
    #[cfg(not(feature = "page"))]
    super::trial::labels::RECORD,
    #[cfg(not(feature = "page"))]
    super::trial::labels::SHEETS,
];

/// The label of a key of a page's first text, or none.
pub fn first_label(key: &str) -> Option<&'static str> {
    let standing = LISTS.iter().copied().flatten();
    let running = RUNNING.iter().find(|(known, _)| *known == key);
    standing
        .copied()
        .find_map(|(known, text)| (known == key).then(|| tr(text)))
        .or_else(|| Some(running?.1.text()))
}

/// Every key.
pub fn label_keys() -> impl Iterator<Item = &'static str> {
    let running = RUNNING.iter().map(|(key, _)| *key);
    LISTS
        .iter()
        .copied()
        .flatten()
        .map(|(key, _)| *key)
        .chain(running)
}
