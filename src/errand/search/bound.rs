//! The programs: what nothing costs less than, and where every wish is a sum over masses the answer.

use super::{MARGINS, MOST_NODES, NODES, Search, Task};
use crate::errand::program::{Program, Solved};

impl Search {
    pub(super) fn bound(
        &mut self,
        piece: usize,
        margin: usize,
        program: Option<Box<Program>>,
        nodes: u64,
    ) {
        let mut program = program.unwrap_or_else(|| {
            let most = &self.most;
            let (judge, rows) = (&self.judge, &self.rows);
            let margin = MARGINS[margin];
            Box::new(Program::of(judge, rows, piece, most, self.to_fill, margin))
        });
        match program.advance(NODES) {
            None if nodes > MOST_NODES => {
                self.bounds[piece] = program.bound();
                self.unsure = true;
            }
            None => {
                // No sooner done by looking at something else.
                self.tasks.push_front(Task::Bound {
                    piece,
                    margin,
                    program: Some(program),
                    nodes: nodes + NODES,
                });
            }
            Some(Solved::Nothing) => {
                if margin == 0 {
                    self.bounds[piece] = f64::INFINITY;
                }
            }
            Some(Solved::Unsure(least)) => {
                self.bounds[piece] = least;
                self.unsure = true;
            }
            Some(Solved::Found(lots, cost)) => {
                if margin == 0 {
                    self.bounds[piece] = cost;
                }
                let met = self.consider(&lots) <= 0.0;
                if self.linear && !met {
                    if margin + 1 < MARGINS.len() {
                        self.tasks.push_front(Task::Bound {
                            piece,
                            margin: margin + 1,
                            program: None,
                            nodes: 0,
                        });
                    } else {
                        self.unsure = true;
                    }
                }
            }
        }
    }
}
