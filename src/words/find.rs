//! Finding a material by what people call it.

use crate::material::About;
use crate::recipe::phrase::words_of;

/// What each material of the catalogue is called beside its name, or is looked for as.
const EVERYDAY: &[(&str, &str)] = &[
    ("play_sand", "sandpit sandbox silica washed"),
    (
        "mason_sand",
        "mortar brick bricklaying building builders soft plastering",
    ),
    ("concrete_sand", "builders building cement coarse"),
    (
        "sharp_sand",
        "grit gritty horticultural coarse potting builders",
    ),
    (
        "pea_gravel",
        "grit stones pebbles shingle chippings aggregate",
    ),
    ("sphagnum_peat", "moss peatmoss bale turf"),
    ("coir", "coconut coco fibre fiber husks brick peat-free"),
    ("leaf_mold", "leafmould leafmold mould leaves autumn fall"),
    (
        "yard_compost",
        "yard garden waste municipal humus clippings grass",
    ),
    (
        "food_compost",
        "kitchen scraps waste vegetable peelings household",
    ),
    ("smc_fresh", "spent mushroom substrate manure"),
    ("smc_weathered", "spent mushroom substrate manure aged old"),
    (
        "vermicompost",
        "worm castings casts earthworm wormery humus vermicast",
    ),
    ("cattle_manure", "cow dung muck farmyard steer dairy rotted"),
    ("horse_manure", "stable dung muck farmyard pony rotted"),
    (
        "poultry_manure",
        "chicken hen droppings litter dung muck pellets",
    ),
    ("biosolids_compost", "sewage sludge municipal"),
    ("pine_bark", "conifer fir fines mulch soil conditioner"),
    ("hardwood_bark", "deciduous oak shredded mulch"),
    (
        "wood_chips",
        "woodchips chippings arborist ramial brush shredded mulch",
    ),
    ("sawdust", "shavings wood"),
    ("straw", "hay wheat barley oats bale mulch chopped"),
    ("rice_hulls", "husks chaff"),
    ("biochar_wood", "charcoal char carbon"),
    ("biochar_ash", "charcoal char carbon crop residue"),
    ("greensand", "glauconite marl potash"),
    (
        "gypsum",
        "clay breaker buster calcium sulfate sulphate land plaster",
    ),
    (
        "lime_calcitic",
        "lime chalk calcium carbonate garden agricultural",
    ),
    ("lime_dolomitic", "lime magnesium garden agricultural"),
    (
        "liquid_conditioner",
        "clay breaker buster loosener soil humic acid seaweed enzyme wetting agent surfactant",
    ),
    ("perlite", "volcanic glass expanded white"),
    ("pumice", "volcanic rock lava stone"),
    ("vermiculite", "mica expanded flakes"),
    (
        "expanded_shale",
        "lightweight aggregate expanded clay slate pebbles balls hydroponic",
    ),
    (
        "calcined_clay",
        "fired baked turf infield aggregate cat litter",
    ),
    ("diatomite", "diatomaceous earth"),
    ("zeolite", "clinoptilolite cat litter"),
    ("topsoil", "loam earth dirt garden"),
    ("sulfur", "sulphur acidifier elemental"),
    ("wood_ash", "ashes fireplace stove bonfire potash"),
    ("alfalfa_meal", "lucerne pellets fertilizer fertiliser"),
    ("cottonseed_meal", "cotton seed cake fertilizer fertiliser"),
];

/// What a material is, in a line; nothing where that is not told.
pub fn material_line(id: &str) -> &'static str {
    crate::tongue::tr(About::line(id).unwrap_or_default())
}

/// What people call a material beside its name; nothing for one that is not of the catalogue.
pub fn everyday_words(id: &str) -> &'static str {
    let known = EVERYDAY.iter().find(|(known, _)| *known == id);
    known.map_or("", |(_, words)| words)
}

/// Whether each word that was typed begins a word of one of these texts.
pub fn is_found(typed: &str, texts: &[&str]) -> bool {
    let texts: Vec<String> = texts.iter().map(|text| text.to_lowercase()).collect();
    let begins = |said: &String| {
        let mut words = texts
            .iter()
            .flat_map(|text| text.split(|letter: char| !letter.is_alphanumeric()));
        words.any(|word| word.starts_with(said.as_str()))
    };
    words_of(typed).iter().all(begins)
}
