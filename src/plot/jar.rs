//! The jar: three layers on its bottom.

/// One layer of the drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JarLayer {
    /// Left edge.
    pub x: f64,
    /// Top edge.
    pub y: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
}

/// The layers of sand, silt and clay, from the bottom up, filling a box. Heights count by their
/// proportion; what is no height counts as nothing.
pub fn jar_layers(
    heights: [f64; 3],
    [left, top]: [f64; 2],
    [width, height]: [f64; 2],
) -> [JarLayer; 3] {
    let heights = heights.map(|tall| if tall.is_finite() { tall.max(0.0) } else { 0.0 });
    let most = heights[0].max(heights[1]).max(heights[2]);
    // Over the greatest first: no sum of finite heights overflows then.
    let shares = heights.map(|tall| if most > 0.0 { tall / most } else { 0.0 });
    let sum: f64 = shares.iter().sum();
    let mut below = 0.0;
    shares.map(|share| {
        let tall = if sum > 0.0 { share / sum * height } else { 0.0 };
        below += tall;
        JarLayer {
            x: left,
            y: top + height - below,
            width,
            height: tall,
        }
    })
}
