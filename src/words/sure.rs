//! The page that says how sure the figures are. It stands in `www/sure.html` from the start, so
//! the running page knows nothing of it.

/// Labels of that page. Measured errors: computed on open data sets of soil cores (4,145 topsoils
/// for density; 7,980 horizons for the packing) and on published mixes (18 of natural grains, 48
/// of spheres), as marked beside the tables in `tests/reference`.
pub(super) const SURE: &[(&str, &str)] = &[
    ("sure_title", "Barrowmix: how sure is this?"),
    ("sure_back", "Back to the blend"),
    (
        "sure_intro",
        "Materials vary from load to load, your ground is known only as well as it was looked at, and the equations err. So every figure here is worked out 1,024 times, each time with other values for what is not known, and shown with the range that holds nine in ten of the results.",
    ),
    ("sure_read_heading", "How to read it"),
    (
        "sure_read_range",
        "“52 %, 50–54” means: 52 if everything is typical, and nine times in ten between 50 and 54. As a rule one in twenty is below and one in twenty above; where measured soils lean one way, the typical value may itself be an end. Figures have no more digits than that allows.",
    ),
    (
        "sure_read_odds",
        "“Odds 7 in 10 that it stays clay” means that 7 of 10 results fell in that texture class. A class is a box with sharp walls: near a wall the odds are worth more than the name.",
    ),
    (
        "sure_read_cloud",
        "In the triangle each faint dot is one of the 1,024 results, and the thin line round them holds nine in ten; those that hardly agree with what you measured are left out. In the pore column the upright mark on each bar is the range of its pores.",
    ),
    (
        "sure_read_change",
        "A change is judged in each result by itself, blend against ground, so that what both share cancels. Less than a point of pores, 0.02 kg/L or 0.2 points of organic matter counts as no change. “More pores 6 in 10” is not much better than a toss of a coin.",
    ),
    ("sure_know_heading", "What is not known, and how much"),
    ("sure_col_what", "What"),
    ("sure_col_doubt", "Nine times in ten within"),
    ("sure_col_from", "Where that comes from"),
    ("sure_row_range", "A number for which you give a range"),
    (
        "sure_row_range_doubt",
        "eight in ten between low and high: one load in ten passes either end",
    ),
    ("sure_row_range_from", "you"),
    ("sure_row_plain", "A number that you give plainly"),
    ("sure_row_plain_doubt", "exact"),
    ("sure_row_plain_from", "you"),
    (
        "sure_row_material",
        "Moisture, weight, organic matter and grains of a material",
    ),
    (
        "sure_row_material_doubt",
        "the spread that a buyer meets; a compost’s organic matter may be half or twice the usual",
    ),
    (
        "sure_row_material_from",
        "the catalogue, each number with its source; own materials as you state them",
    ),
    (
        "sure_row_density",
        "Density of a ground, if you do not give it",
    ),
    (
        "sure_row_density_doubt",
        "about −0.3 to +0.3 kg/L in clay, −0.3 to +0.2 in sandy loam, −0.1 to +0.2 in sand; clay loams down to −0.7",
    ),
    (
        "sure_row_density_from",
        "8,265 measured horizons, by kind of texture, widened by 15 % because places that were not looked at err more",
    ),
    (
        "sure_row_water",
        "Moisture of a ground, if you do not give it",
    ),
    (
        "sure_row_water_doubt",
        "about −9 to +9 litres in 100 in clay, −1 to +18 in sandy loam, −16 to +14 in clay loam",
    ),
    (
        "sure_row_water_from",
        "6,406 measured horizons, in the same way",
    ),
    (
        "sure_row_organic",
        "Organic matter of a ground, if you do not give it",
    ),
    ("sure_row_organic_doubt", "about 0.5 to 6 %"),
    ("sure_row_organic_from", "what gardens commonly have"),
    ("sure_row_crumb", "Crumb, if you do not give it"),
    ("sure_row_crumb_doubt", "from sealed to a good garden crumb"),
    ("sure_row_crumb_from", "a choice"),
    (
        "sure_row_half",
        "How far a settled bed goes along with the packing",
    ),
    ("sure_row_half_doubt", "0.31 to 0.69 of the full effect"),
    (
        "sure_row_half_from",
        "7,980 measured horizons of sand and clay; fitted on those same soils, so itself an estimate",
    ),
    ("sure_row_packing", "The packing itself"),
    (
        "sure_row_packing_doubt",
        "3 points of pore space in mineral mixes, 5 where soft or sticky parts are in it, for a mix that shrinks by a fifth; less for one that shrinks less",
    ),
    (
        "sure_row_packing_from",
        "18 measured mixes of natural grains (root mean square error 2.4 points) and 48 of spheres (2.8)",
    ),
    ("sure_row_chemistry", "pH, salts, exchange, nitrogen"),
    (
        "sure_row_chemistry_doubt",
        "What no report gives is taken as usual for a garden, with a wide range. Buffering is in doubt by 0.6 to 1.6, the way from a 1:5 extract to a paste by 0.75 to 1.3; a pH outside 5 to 7 may move less than it says",
    ),
    (
        "sure_row_chemistry_from",
        "Tables of advice for lime and sulfur, which differ by about so much; two ways to blend salts, a quarter apart; common practice. A soil laboratory has the last word",
    ),
    (
        "sure_measured_heading",
        "How the parts did on measured soils",
    ),
    (
        "sure_measured_density",
        "The density rule, on 4,145 topsoils: right on the middle (bias 0.00 to −0.02 kg/L up to 3 % organic matter, +0.01 to 8 %), and nine in ten within 0.18, 0.25 and 0.29. Above 8 % organic matter it reads low, by 0.14 up to 20 %, and errs by 0.55.",
    ),
    (
        "sure_measured_packing",
        "The packing, half way as it is used for a settled bed, came within 2 to 3 points of the mean pore space in four sets of sand-clay soils: it finds the dense point, at about three quarters of sand, where it was measured. Single places scatter by 4 to 8 points around such means, whatever anyone computes.",
    ),
    (
        "sure_measured_full",
        "Packed in full, as a puddled bed is shown, it matches the worst twentieth of field soils, not the usual ones.",
    ),
    (
        "sure_measured_blend",
        "The blend step itself, your clay with your compost, could be checked against few measured mixtures: one series of sand with compost and topsoil (within 1 point, partly by luck) and two of crushed glass with sand (right in sign, a few points too strong). No readable table of a garden clay mixed with sand was found. Your own bucketful, mixed, settled and weighed, is worth more than all of this.",
    ),
    (
        "sure_measured_ranges",
        "Published error bands of such equations are too narrow: they held 66 to 90 % of measured values where 90 % was claimed. That is why the measured errors are used here, and widened.",
    ),
    ("sure_sharp_heading", "What makes it sharper"),
    (
        "sure_sharp",
        "Press the name of a figure and read which two or three things most of its doubt comes from. Often one cheap test is worth more than any refinement: a ring or a hole of known volume weighed dry, a jar test, a pailful of the material weighed, a sample weighed before and after drying.",
    ),
    ("sure_not_heading", "What the ranges do not hold"),
    (
        "sure_not_ranges",
        "Swelling, cracking, frost, roots, digging while wet, clods that were never broken, a load that is not what its label says, and mistakes of ours. Grain sizes are taken as typical. Solids are taken as dense as their make-up says, which on measured soils is right within 0.09 kg/L.",
    ),
    (
        "sure_repeat",
        "The same recipe gives the same ranges on every machine: the draws are not rolled anew but follow from the names of the inputs.",
    ),
];
