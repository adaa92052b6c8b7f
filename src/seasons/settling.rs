//! How loose soil settles under rain, and how far decay lets a bed sink: two things that are told
//! apart.

/// Least depth of a layer, m.
const LEAST_DEPTH_M: f64 = 0.001;

/// Share of the way from loose to settled that one rain brings (the form of EPIC, as in Lutz et al.
/// 2019, Geosci. Model Dev. 12:2419; from memory): of the rain that enters, mm, the sand in percent
/// and the depth of the layer, m.
pub fn settled_by_rain(rain_mm: f64, sand_pct: f64, depth_m: f64) -> f64 {
    let sand = 1.0 + 2.0 * sand_pct / (sand_pct + libm::exp(8.597 - 0.075 * sand_pct));
    let depth = libm::pow(depth_m.max(LEAST_DEPTH_M), 0.6);
    let work = 0.2 * rain_mm.max(0.0) * sand / depth;
    // A cloudburst settles all there is.
    let rest = libm::exp(3.92 - 0.0226 * work);
    if work > 0.0 {
        work / (work + rest)
    } else {
        0.0
    }
}

/// Density after rains, from loose towards settled, kg/m3.
pub fn density_after(
    [loose_kg_m3, settled_kg_m3]: [f64; 2],
    rains_mm: &[f64],
    sand_pct: f64,
    depth_m: f64,
) -> f64 {
    rains_mm.iter().fold(loose_kg_m3, |density, rain_mm| {
        density + (settled_kg_m3 - density) * settled_by_rain(*rain_mm, sand_pct, depth_m)
    })
}

/// Height over what it was, of the volumes of solids and the pore spaces before and after.
pub fn height_ratio([solids_before, solids_after]: [f64; 2], [before, after]: [f64; 2]) -> f64 {
    solids_after / solids_before * (1.0 - before) / (1.0 - after)
}
