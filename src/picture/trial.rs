//! A trial: the plan from above, every container of a measure beside how far its treatment differs
//! from the control, and texts. A drawing is as wide as a page of paper, and its smallest letters are
//! then read without a glass.

mod plan;
mod shown;

use super::MUTED;
use super::pen::Pen;
pub(super) use plan::{narrow_plan, plan};
pub(super) use shown::shown;

/// Width of a drawing: printed over a page's 184 mm a unit is 0.29 mm.
pub(super) const WIDTH: f64 = 640.0;
/// Edge about a drawing.
const EDGE: f64 = 10.0;
/// Height of a line of text.
pub(super) const LINE_HEIGHT: f64 = 17.0;
/// Letters of a line from edge to edge, at the size of notes.
const LINE_LETTERS: usize = 104;

/// Texts in lines from the left edge; gives their height.
pub(super) fn lines(pen: &mut Pen, texts: &[String], top: f64) -> f64 {
    let look = format!("fill=\"{MUTED}\" font-size=\"12\"");
    let mut y = top;
    for text in texts {
        for line in wrapped(text, LINE_LETTERS) {
            y += LINE_HEIGHT;
            pen.word(&look, "start", [EDGE, y - 4.0], &line);
        }
    }
    y - top
}

/// A head above texts; gives its height.
pub(super) fn head(pen: &mut Pen, text: &str, top: f64) -> f64 {
    let at = [EDGE, top + LINE_HEIGHT + 4.0];
    pen.word("font-size=\"14\" font-weight=\"700\"", "start", at, text);
    LINE_HEIGHT + 10.0
}

fn cut(text: &str, most: usize) -> String {
    let mut out: String = text.chars().take(most).collect();
    if out.len() < text.len() {
        out.push('…');
    }
    out
}

/// A text in lines of so many letters at the most, broken between words where there are any.
fn wrapped(text: &str, most: usize) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        for piece in pieces(word, most) {
            let room = out.last().map(|line| line.chars().count());
            match (room, out.last_mut()) {
                (Some(long), Some(line)) if long + 1 + piece.chars().count() <= most => {
                    line.push(' ');
                    line.push_str(&piece);
                }
                _ => out.push(piece),
            }
        }
    }
    out
}

fn pieces(word: &str, most: usize) -> Vec<String> {
    let letters: Vec<char> = word.chars().collect();
    letters
        .chunks(most)
        .map(|piece| piece.iter().collect())
        .collect()
}
