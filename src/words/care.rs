//! Cautions in words: a short head, and what to do and whom to ask, or a question where a fact that
//! decides is not known.

use super::english::in_sentence;
use super::number::significant;
use super::{Speech, Text};
use crate::caution::{Care, Caution, LIFT_KG, Severity};

/// The head of a caution.
pub fn care_head(caution: &Caution) -> &'static str {
    Text::after(Text::CareBuriedLines, caution.of as usize).text()
}

/// The word for how grave a caution is; none for a note.
pub fn severity_word(severity: Severity) -> &'static str {
    match severity {
        Severity::Note => "",
        Severity::Warn => Text::WarnWord.text(),
        Severity::Stop => Text::StopWord.text(),
    }
}

/// The heads of the graver cautions that pass a test, in one line; empty where there are none.
pub fn care_line(cautions: &[Caution], passes: impl Fn(&Caution) -> bool) -> String {
    heads(cautions, Text::TakeCare, &|caution| {
        caution.of.severity() != Severity::Note && passes(caution)
    })
}

/// The heads of what the chemistry of a mix raises, in one line; or that nothing does.
pub fn chemistry_line(cautions: &[Caution]) -> String {
    // They stand side by side, but for the gravest.
    let of_chemistry = Care::SaltSeedling as u8..=Care::Phosphorus as u8;
    let line = heads(cautions, Text::LookAt, &|caution| {
        caution.of == Care::SaltHigh || of_chemistry.contains(&(caution.of as u8))
    });
    if line.is_empty() {
        Text::ChemistryQuiet.text().to_owned()
    } else {
        line
    }
}

fn heads(cautions: &[Caution], line: Text, passes: &dyn Fn(&Caution) -> bool) -> String {
    let mut heads = String::new();
    for caution in cautions {
        if !passes(caution) {
            continue;
        }
        if !heads.is_empty() {
            heads += Text::Between.text();
        }
        let mut head = in_sentence(care_head(caution));
        if caution.asks {
            head = Text::Asks.with(&[&head]);
        }
        heads += &head;
    }
    if heads.is_empty() {
        heads
    } else {
        line.with(&[&heads])
    }
}

/// What a caution says.
pub fn care_text(caution: &Caution, speech: Speech) -> String {
    let first = if caution.asks {
        Text::CareBuriedLinesAsked
    } else {
        Text::CareBuriedLinesTold
    };
    let text = Text::after(first, caution.of as usize);
    let lift = speech.mass(LIFT_KG);
    match (caution.weight_kg, caution.number) {
        (Some(kg), _) => text.with(&[&speech.mass(kg), &lift]),
        (_, Some(number)) => text.with(&[&significant(number, 2)]),
        _ => text.with(&[&lift]),
    }
}
