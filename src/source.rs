//! Where numbers come from: every source with its key, and how well a number was read in it.

/// How a number was come by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// Read in the source, or computed from what was read.
    Verified,
    /// From memory of the source.
    Memory,
    /// Common practice, or a rule of this program.
    Practice,
}

impl Mark {
    /// All of them, the surest first.
    pub const ALL: [Mark; 3] = [Mark::Verified, Mark::Memory, Mark::Practice];

    /// Its word in a table of data.
    pub fn id(self) -> &'static str {
        match self {
            Mark::Verified => "verified",
            Mark::Memory => "memory",
            Mark::Practice => "practice",
        }
    }
}

/// How many numbers or findings were come by in which way.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Shares {
    counts: [usize; 3],
}

impl Shares {
    /// How many bear a mark.
    pub fn of(self, mark: Mark) -> usize {
        self.counts[mark as usize]
    }

    /// How many there are.
    pub fn all(self) -> usize {
        self.counts.iter().sum()
    }
}

impl FromIterator<Mark> for Shares {
    fn from_iter<I: IntoIterator<Item = Mark>>(marks: I) -> Shares {
        let mut counts = [0; 3];
        for mark in marks {
            counts[mark as usize] += 1;
        }
        Shares { counts }
    }
}

/// A source.
#[derive(Debug)]
pub struct Source {
    /// Its key in the tables of data.
    pub key: &'static str,
    /// Author, year, title, where.
    pub citation: &'static str,
}

impl Source {
    /// The source of a key, or none.
    pub fn find(key: &str) -> Option<&'static Source> {
        SOURCES.iter().find(|source| source.key == key)
    }
}

/// A number of a table with where it comes from.
#[derive(Debug)]
pub struct Number {
    /// What it is: the name of a property, a trait, a fact or a hazard.
    pub field: &'static str,
    /// Its unit, where the field alone does not say it.
    pub unit: &'static str,
    /// About the 10th percentile of what a buyer meets.
    pub low: f64,
    /// What is usual.
    pub typical: f64,
    /// About the 90th percentile.
    pub high: f64,
    /// The key of its source.
    pub source: &'static str,
    /// How it was come by.
    pub mark: Mark,
    /// How it was measured or computed.
    pub note: &'static str,
}

include!(concat!(env!("OUT_DIR"), "/sources.rs"));
