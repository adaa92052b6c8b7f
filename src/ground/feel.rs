//! Texture by feel: questions about a wetted pinch of soil, to one class (Thien 1979, J. Agron. Educ.
//! 8:54; branches verified in a reprint, lengths of the ribbon, there 1 and 2 inches, from memory).
//!
//! Silt is never the answer: the flow has no question that tells it from silt loam.

use crate::texture::Class;

/// What is asked, or advised.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Question {
    /// Does a wetted ball hold when squeezed?
    Ball,
    /// Advice: knead in dry soil.
    AddSoil,
    /// Advice: knead in water.
    AddWater,
    /// Does a ribbon form between thumb and forefinger?
    Ribbon,
    /// At what length does the ribbon break?
    Length,
    /// How does a pinch feel, rubbed very wet?
    Rub,
}

/// What can be answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answer {
    /// The ball holds.
    Holds,
    /// It does not, and is too wet.
    TooWet,
    /// It does not, and is too dry.
    TooDry,
    /// It does not, and is neither.
    FallsApart,
    /// The advice was followed.
    Done,
    /// A ribbon forms.
    RibbonForms,
    /// None does.
    NoRibbon,
    /// The ribbon breaks under 2.5 cm.
    Short,
    /// It breaks at 2.5 to 5 cm.
    Medium,
    /// It breaks beyond 5 cm.
    Long,
    /// Very gritty.
    Gritty,
    /// Very smooth.
    Smooth,
    /// Neither very gritty nor very smooth.
    Between,
}

/// Where the answers lead.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum At {
    Asked(Question),
    /// The last question, with the length of the ribbon.
    Rub(Answer),
    Found(Class),
}

impl Question {
    /// The answers to choose from.
    pub fn answers(self) -> &'static [Answer] {
        match self {
            Question::Ball => &[
                Answer::Holds,
                Answer::TooWet,
                Answer::TooDry,
                Answer::FallsApart,
            ],
            Question::AddSoil | Question::AddWater => &[Answer::Done],
            Question::Ribbon => &[Answer::RibbonForms, Answer::NoRibbon],
            Question::Length => &[Answer::Short, Answer::Medium, Answer::Long],
            Question::Rub => &[Answer::Gritty, Answer::Smooth, Answer::Between],
        }
    }
}

impl At {
    /// Where an answer leads from here, if it is one of the question.
    fn then(self, answer: Answer) -> Option<At> {
        Some(match (self, answer) {
            (At::Asked(Question::Ball), Answer::Holds) => At::Asked(Question::Ribbon),
            (At::Asked(Question::Ball), Answer::TooWet) => At::Asked(Question::AddSoil),
            (At::Asked(Question::Ball), Answer::TooDry) => At::Asked(Question::AddWater),
            (At::Asked(Question::Ball), Answer::FallsApart) => At::Found(Class::Sand),
            (At::Asked(Question::AddSoil | Question::AddWater), Answer::Done) => {
                At::Asked(Question::Ball)
            }
            (At::Asked(Question::Ribbon), Answer::RibbonForms) => At::Asked(Question::Length),
            (At::Asked(Question::Ribbon), Answer::NoRibbon) => At::Found(Class::LoamySand),
            (At::Asked(Question::Length), Answer::Short | Answer::Medium | Answer::Long) => {
                At::Rub(answer)
            }
            (At::Rub(length), _) => At::Found(class(length, answer)?),
            _ => return None,
        })
    }
}

/// The class of a ribbon's length and its feel.
fn class(length: Answer, feel: Answer) -> Option<Class> {
    Some(match (length, feel) {
        (Answer::Short, Answer::Gritty) => Class::SandyLoam,
        (Answer::Short, Answer::Smooth) => Class::SiltLoam,
        (Answer::Short, Answer::Between) => Class::Loam,
        (Answer::Medium, Answer::Gritty) => Class::SandyClayLoam,
        (Answer::Medium, Answer::Smooth) => Class::SiltyClayLoam,
        (Answer::Medium, Answer::Between) => Class::ClayLoam,
        (Answer::Long, Answer::Gritty) => Class::SandyClay,
        (Answer::Long, Answer::Smooth) => Class::SiltyClay,
        (Answer::Long, Answer::Between) => Class::Clay,
        _ => return None,
    })
}

/// How far the questions have come. Every step gives a new one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Feel {
    /// Where each answer was given.
    earlier: Vec<At>,
    at: At,
}

impl Feel {
    /// At the first question.
    pub fn start() -> Feel {
        Feel {
            earlier: Vec::new(),
            at: At::Asked(Question::Ball),
        }
    }

    /// What is asked now; none once the class is found.
    pub fn question(&self) -> Option<Question> {
        match self.at {
            At::Asked(question) => Some(question),
            At::Rub(_) => Some(Question::Rub),
            At::Found(_) => None,
        }
    }

    /// The answers to choose from now; none once the class is found.
    pub fn answers(&self) -> &'static [Answer] {
        self.question().map_or(&[], Question::answers)
    }

    /// After an answer. One that is not of the question changes nothing.
    #[must_use]
    pub fn answer(&self, answer: Answer) -> Feel {
        let mut feel = self.clone();
        if let Some(next) = self.at.then(answer) {
            feel.earlier.push(self.at);
            feel.at = next;
        }
        feel
    }

    /// Before the last answer; at the first question nothing changes.
    #[must_use]
    pub fn back(&self) -> Feel {
        let mut feel = self.clone();
        if let Some(before) = feel.earlier.pop() {
            feel.at = before;
        }
        feel
    }

    /// The class, once it is found.
    pub fn result(&self) -> Option<Class> {
        match self.at {
            At::Found(class) => Some(class),
            At::Asked(_) | At::Rub(_) => None,
        }
    }
}
