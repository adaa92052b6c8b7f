//! Where each container stands: drawn from a seed, so that anyone can draw it again.
//!
//! The generator is SplitMix64 and each order a shuffle by Fisher and Yates from the last place down.
//! In blocks one stream shuffles a fresh list of the treatments for the first block, then for the
//! next. Blind letters come from a stream of their own, whose seed is that of the plan XOR the
//! FNV-1a hash of `letters`: so that asking for letters never moves a container.

mod suits;

use super::date::whole;
use crate::draws::{SplitMix64, fnv1a};
pub use suits::{
    EVEN_CONTAINERS, FREEDOM_WANTED, LayoutAdvice, SQUARE_SIDES, STRIP_CONTAINERS, USUAL_BLOCKS,
    advice, design_for,
};

/// Fewest and most treatments, controls among them (a choice: beyond it no home trial has room for
/// repeats).
pub const TREATMENTS: (usize, usize) = (2, 12);
/// Most containers (a choice).
pub const CONTAINERS_LIMIT: usize = 200;
/// Most containers of a treatment within one block (a choice: spare ones go to the control).
pub const COPIES_LIMIT: usize = 8;
/// What is printed beside the seed.
pub const GENERATOR: &str = "SplitMix64";
/// Letters of the blind key: none that is taken for a digit or another.
const LETTERS: &[u8; TREATMENTS.1] = b"ABCDEFGHJKLM";

/// How containers are set out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Design {
    /// Randomised blocks: strips of equal light, each with every treatment.
    Blocks,
    /// Completely random.
    Random,
    /// A Latin square: every treatment once in each row and column.
    Latin,
}

impl Design {
    /// All of them, the default first.
    pub const ALL: &'static [Design] = &[Design::Blocks, Design::Random, Design::Latin];

    /// Its word in the document.
    pub fn spelling(self) -> &'static str {
        match self {
            Design::Blocks => "blocks",
            Design::Random => "random",
            Design::Latin => "latin",
        }
    }
}

/// What the light does where the trial stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Site {
    /// The same everywhere.
    Even,
    /// It changes one way, as beside a wall or a hedge.
    OneWay,
    /// It changes two ways that cross.
    TwoWays,
}

impl Site {
    /// All of them.
    pub const ALL: &'static [Site] = &[Site::Even, Site::OneWay, Site::TwoWays];

    /// Its word in the document.
    pub fn spelling(self) -> &'static str {
        match self {
            Site::Even => "even",
            Site::OneWay => "one_way",
            Site::TwoWays => "two_ways",
        }
    }
}

/// What a layout is drawn for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// How.
    pub design: Design,
    /// How many containers of each treatment, in treatment order: within a block, or, completely
    /// random, for each round. 1 unless some stand oftener, such as a control.
    pub copies: Vec<usize>,
    /// Blocks, or rounds where there are none. A Latin square has as many as treatments.
    pub blocks: usize,
    /// The seed.
    pub seed: u64,
    /// How many stand side by side where nothing else says it.
    pub columns: Option<usize>,
}

/// Why nothing can be set out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LayoutFault {
    /// Too few or too many treatments.
    Treatments {
        /// How many.
        found: usize,
        /// Fewest.
        least: usize,
        /// Most.
        most: usize,
    },
    /// A treatment with no container in a block, or too many.
    Copies {
        /// Which treatment.
        treatment: usize,
        /// How many.
        found: usize,
        /// Most.
        most: usize,
    },
    /// No block.
    NoBlocks,
    /// Too many containers.
    Containers {
        /// How many.
        found: usize,
        /// Most.
        most: usize,
    },
    /// A Latin square has each treatment once in a row.
    LatinCopies {
        /// The treatment that has more.
        treatment: usize,
    },
    /// No container side by side.
    NoColumns,
}

/// Where a container stands and what is in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spot {
    /// The block, from 0; completely random there is one.
    pub block: usize,
    /// The row on the ground, along equal light, from 0 at the far end.
    pub row: usize,
    /// The place in the row, from 0.
    pub column: usize,
    /// The place in the block, from 0.
    pub position: usize,
    /// The treatment, in treatment order.
    pub treatment: usize,
}

/// A layout.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Layout {
    /// How it was drawn.
    pub design: Design,
    /// From what.
    pub seed: u64,
    /// How many treatments.
    pub treatments: usize,
    /// How many blocks; for a Latin square its rows.
    pub blocks: usize,
    /// Every container: block by block, place by place. The order of labels.
    pub spots: Vec<Spot>,
    /// The letter of each treatment.
    letters: Vec<u8>,
}

/// A list in an order of chance.
pub fn shuffled<T: Copy>(list: &[T], stream: &mut SplitMix64) -> Vec<T> {
    let order = stream.order(u32::try_from(list.len()).unwrap_or(0));
    order.iter().map(|at| list[*at as usize]).collect()
}

impl Wanted {
    fn check(&self) -> Result<(), LayoutFault> {
        let found = self.copies.len();
        let (least, most) = TREATMENTS;
        if !(least..=most).contains(&found) {
            return Err(LayoutFault::Treatments { found, least, most });
        }
        for (treatment, copies) in self.copies.iter().enumerate() {
            let (found, most) = (*copies, COPIES_LIMIT);
            if found == 0 || found > most {
                return Err(LayoutFault::Copies {
                    treatment,
                    found,
                    most,
                });
            }
            if self.design == Design::Latin && found > 1 {
                return Err(LayoutFault::LatinCopies { treatment });
            }
        }
        if self.blocks == 0 {
            return Err(LayoutFault::NoBlocks);
        }
        if self.columns == Some(0) {
            return Err(LayoutFault::NoColumns);
        }
        let (found, most) = (self.containers(), CONTAINERS_LIMIT);
        if found > most {
            return Err(LayoutFault::Containers { found, most });
        }
        Ok(())
    }

    /// Containers of each treatment.
    pub fn repeats(&self) -> Vec<usize> {
        let blocks = match self.design {
            Design::Latin => self.copies.len(),
            Design::Blocks | Design::Random => self.blocks,
        };
        let each = self.copies.iter();
        each.map(|copies| copies.saturating_mul(blocks)).collect()
    }

    /// Containers in all.
    pub fn containers(&self) -> usize {
        let each = self.repeats().into_iter();
        each.fold(0, usize::saturating_add)
    }

    /// Containers that the spread between containers is told from, less what is fitted; none where
    /// nothing is left.
    pub fn error_freedom(&self) -> usize {
        let treatments = self.copies.len();
        let fitted = match self.design {
            Design::Random => treatments,
            Design::Blocks => treatments.saturating_add(self.blocks.saturating_sub(1)),
            Design::Latin => treatments + 2 * treatments.saturating_sub(1),
        };
        self.containers().saturating_sub(fitted)
    }
}

impl Layout {
    /// Draws a layout.
    ///
    /// # Errors
    /// What is asked for cannot be set out.
    pub fn of(wanted: &Wanted) -> Result<Layout, LayoutFault> {
        wanted.check()?;
        let mut stream = SplitMix64::new(wanted.seed);
        let copies = wanted.copies.iter().enumerate();
        let list = |times: usize| -> Vec<usize> {
            let each = copies.clone();
            each.flat_map(|(treatment, copies)| std::iter::repeat_n(treatment, copies * times))
                .collect()
        };
        let rows = match wanted.design {
            Design::Blocks => {
                let one = list(1);
                let mut rows = Vec::with_capacity(wanted.blocks);
                for _ in 0..wanted.blocks {
                    rows.push(shuffled(&one, &mut stream));
                }
                rows
            }
            Design::Random => vec![shuffled(&list(wanted.blocks), &mut stream)],
            Design::Latin => latin(wanted.copies.len(), &mut stream),
        };
        let mut letters = LETTERS[..wanted.copies.len()].to_vec();
        letters = shuffled(
            &letters,
            &mut SplitMix64::new(wanted.seed ^ fnv1a("letters")),
        );
        Ok(Layout {
            design: wanted.design,
            seed: wanted.seed,
            treatments: wanted.copies.len(),
            blocks: rows.len(),
            spots: spots(wanted, &rows),
            letters,
        })
    }

    /// Rows and columns on the ground.
    pub fn grid(&self) -> (usize, usize) {
        let rows = self.spots.iter().map(|spot| spot.row + 1).max();
        let columns = self.spots.iter().map(|spot| spot.column + 1).max();
        (rows.unwrap_or(0), columns.unwrap_or(0))
    }

    /// A container's code, such as `B2-03`: block or row, and the place there. Completely random
    /// there is the place alone.
    pub fn code(&self, container: usize) -> Option<String> {
        let spot = self.spots.get(container)?;
        let (block, position) = (spot.block + 1, spot.position + 1);
        Some(match self.design {
            Design::Blocks => format!("B{block}-{position:02}"),
            Design::Latin => format!("R{block}-{position:02}"),
            Design::Random => format!("P-{position:02}"),
        })
    }

    /// The container of a code, in any case and without zeros in front; none where there is none.
    pub fn container_of(&self, code: &str) -> Option<usize> {
        let code = code.trim();
        let (block, position) = code.split_once('-')?;
        let position = whole(position.trim())?.checked_sub(1)? as usize;
        let block = block.trim();
        let kind = block.get(..1)?;
        let rest = block.get(1..)?;
        let letter = match self.design {
            Design::Blocks => "B",
            Design::Latin => "R",
            Design::Random => "P",
        };
        if !kind.eq_ignore_ascii_case(letter) {
            return None;
        }
        let block = match self.design {
            Design::Random => rest.is_empty().then_some(0)?,
            Design::Blocks | Design::Latin => whole(rest)?.checked_sub(1)? as usize,
        };
        let same = |spot: &Spot| spot.block == block && spot.position == position;
        self.spots.iter().position(same)
    }

    /// The letter that stands for a treatment while its name is not to be known.
    pub fn letter(&self, treatment: usize) -> Option<char> {
        self.letters.get(treatment).map(|byte| char::from(*byte))
    }

    /// What a label says in one line: trial, container, block, letter.
    pub fn label(&self, trial: &str, container: usize) -> Option<String> {
        let spot = self.spots.get(container)?;
        let letter = self.letter(spot.treatment)?;
        let code = self.code(container)?;
        Some(format!("{trial}|{code}|{}|{letter}", spot.block + 1))
    }

    /// Containers in the order of a walk: along the first row, back along the next.
    pub fn walk(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.spots.len()).collect();
        let columns = self.grid().1;
        order.sort_by_key(|at| {
            let Spot { row, column, .. } = self.spots[*at];
            let along = if row % 2 == 0 {
                column
            } else {
                columns - column
            };
            (row, along)
        });
        order
    }

    /// The plan in letters of treatment order (A is the first), a word for each block.
    pub fn plan_text(&self) -> String {
        let mut out = String::new();
        let mut block = 0;
        for spot in &self.spots {
            if spot.block != block {
                out.push(' ');
                block = spot.block;
            }
            out.push(char::from(b'A' + spot.treatment as u8));
        }
        out
    }

    /// Eight digits that tell this plan from another, for the foot of a sheet.
    pub fn hash(&self) -> String {
        let text = format!("{} {}", self.design.spelling(), self.plan_text());
        let hash = fnv1a(&text);
        format!("{:08x}", (hash >> 32) ^ (hash & 0xffff_ffff))
    }
}

/// A square: rows, columns and symbols of the cyclic one, shuffled in this order.
fn latin(side: usize, stream: &mut SplitMix64) -> Vec<Vec<usize>> {
    let list: Vec<usize> = (0..side).collect();
    let rows = shuffled(&list, stream);
    let columns = shuffled(&list, stream);
    let symbols = shuffled(&list, stream);
    let row = |row: &usize| -> Vec<usize> {
        let cells = columns.iter();
        cells.map(|column| symbols[(row + column) % side]).collect()
    };
    rows.iter().map(row).collect()
}

/// The places of treatments told block by block.
fn spots(wanted: &Wanted, rows: &[Vec<usize>]) -> Vec<Spot> {
    let longest = rows.iter().map(Vec::len).max().unwrap_or(0).max(1);
    let columns = match wanted.design {
        Design::Random => wanted.columns.unwrap_or_else(|| square_side(longest)),
        Design::Blocks => wanted.columns.unwrap_or(longest),
        Design::Latin => longest,
    };
    let rows_of_a_block = longest.div_ceil(columns);
    let mut spots = Vec::new();
    for (block, row) in rows.iter().enumerate() {
        for (position, treatment) in row.iter().enumerate() {
            spots.push(Spot {
                block,
                row: block * rows_of_a_block + position / columns,
                column: position % columns,
                position,
                treatment: *treatment,
            });
        }
    }
    spots
}

/// The least side of a square that holds so many.
fn square_side(count: usize) -> usize {
    (1..=count).find(|side| side * side >= count).unwrap_or(1)
}

/// A seed that cannot be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SeedFault {
    /// It is not digits alone.
    NotDigits,
    /// It is above this.
    TooLarge {
        /// The greatest seed.
        most: u64,
    },
}

/// A seed of a text: digits alone, since a browser's numbers hold fewer of them.
///
/// # Errors
/// It is none.
pub fn seed_of_text(text: &str) -> Result<u64, SeedFault> {
    let text = text.trim();
    if text.is_empty() || !text.bytes().all(|byte| byte.is_ascii_digit()) {
        return Err(SeedFault::NotDigits);
    }
    let most = u64::MAX;
    text.parse().map_err(|_| SeedFault::TooLarge { most })
}
