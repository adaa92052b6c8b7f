//! A link as a QR code: which squares are dark, as numbers.

use qrcodegen::{Mask, QrCode, QrCodeEcc, QrSegment, Version};

/// Light squares that a reader wants on every side (ISO/IEC 18004, 4 modules).
pub const QUIET: usize = 4;
/// The largest version that is drawn, 117 squares a side (a choice: 125 with its margin on 55 mm of
/// paper are 0.44 mm each, about the least that a phone held by hand reads).
const LARGEST: u8 = 25;

/// A QR code without its margin.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Qr {
    /// Squares along a side.
    pub side: usize,
    dark: Vec<bool>,
}

/// A row of dark squares that touch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Run {
    /// Squares to the left of it.
    pub x: usize,
    /// Rows above it.
    pub y: usize,
    /// How many squares.
    pub length: usize,
}

/// The code of a text, or none if it is longer than a phone could read from paper. A seventh of it
/// may be smudged, more where there is room.
pub fn qr(text: &str) -> Option<Qr> {
    // The one rule that the crate meets with a panic is a version out of 1 to 40.
    let code = QrCode::encode_segments_advanced(
        &QrSegment::make_segments(text),
        QrCodeEcc::Medium,
        Version::MIN,
        Version::new(LARGEST),
        None::<Mask>,
        true,
    )
    .ok()?;
    let side = usize::try_from(code.size()).ok()?;
    let places = (0..code.size()).flat_map(|y| (0..code.size()).map(move |x| (x, y)));
    Some(Qr {
        side,
        dark: places.map(|(x, y)| code.get_module(x, y)).collect(),
    })
}

impl Qr {
    /// Whether a square is dark; those outside are not.
    pub fn is_dark(&self, x: usize, y: usize) -> bool {
        x < self.side && self.dark.get(y * self.side + x) == Some(&true)
    }

    /// Squares along a side of the drawing, its margin included.
    pub fn whole(&self) -> usize {
        self.side + 2 * QUIET
    }

    /// The dark squares, row by row, in a drawing with its margin.
    pub fn runs(&self) -> Vec<Run> {
        let mut runs: Vec<Run> = Vec::new();
        for y in 0..self.side {
            let mut open = false;
            for x in 0..self.side {
                let dark = self.is_dark(x, y);
                match runs.last_mut() {
                    Some(run) if dark && open => run.length += 1,
                    _ if dark => runs.push(Run {
                        x: x + QUIET,
                        y: y + QUIET,
                        length: 1,
                    }),
                    _ => {}
                }
                open = dark;
            }
        }
        runs
    }

    /// The dark squares as the one path of a drawing that is [`Qr::whole`] wide and high.
    pub fn path(&self) -> String {
        let mut path = String::new();
        for Run { x, y, length } in self.runs() {
            path += &format!("M{x} {y}h{length}v1h-{length}z");
        }
        path
    }
}
