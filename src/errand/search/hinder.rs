//! Where nothing will do: which wish stands in the way, and the nearest that can be had.

use super::{Found, HALVINGS, Hindrance, MOST_HINDERED, Search, Task};
use crate::errand::wish::{OneWish, Values, Wish, Wished};

/// A limit between what can be had and what was wished for.
#[derive(Clone, Debug)]
pub(super) struct Halving {
    had: Found,
    good: f64,
    bad: f64,
    left: usize,
}

impl Search {
    /// Plans a search without each wish.
    pub(super) fn plan_hindered(&mut self) {
        let all = self.judge.wish.all();
        if all.len() < 2 {
            return;
        }
        for (at, one) in all.iter().enumerate() {
            let search = self.sub(self.judge.wish.without(*one));
            self.tasks
                .push_back(Task::Hinder(at, Box::new(search), None));
        }
    }

    fn sub(&self, wish: Wish) -> Search {
        Search::with(self.judge.wishing(wish), None, None, true)
    }

    pub(super) fn hinder(&mut self, at: usize, mut search: Box<Search>, halving: Option<Halving>) {
        let judged = search.judge.judged;
        let over = search.advance();
        let more = search.judge.judged - judged;
        self.judge.judged += more;
        self.hindered += more;
        if self.hindered > MOST_HINDERED {
            // What is known by now has to do.
            let had = search.best.or(halving.map(|halving| halving.had));
            if let Some(nearest) = had {
                let wish = self.judge.wish.all()[at];
                self.hindrances.push(Hindrance { wish, nearest });
            }
            return;
        }
        if !over {
            self.tasks.push_front(Task::Hinder(at, search, halving));
            return;
        }
        let one = self.judge.wish.all()[at];
        let found = search.best.clone();
        let halving = match (halving, found) {
            (None, None) => return,
            (None, Some(had)) => {
                let Some((good, bad)) = self.ends(one, &had.values) else {
                    self.hindrances.push(Hindrance {
                        wish: one,
                        nearest: had,
                    });
                    return;
                };
                Halving {
                    had,
                    good,
                    bad,
                    left: HALVINGS,
                }
            }
            (Some(halving), found) => {
                let middle = (halving.good + halving.bad) / 2.0;
                match found {
                    Some(had) => Halving {
                        had,
                        good: middle,
                        left: halving.left - 1,
                        ..halving
                    },
                    None => Halving {
                        bad: middle,
                        left: halving.left - 1,
                        ..halving
                    },
                }
            }
        };
        if halving.left == 0 {
            self.hindrances.push(Hindrance {
                wish: one,
                nearest: halving.had,
            });
            return;
        }
        let middle = (halving.good + halving.bad) / 2.0;
        let search = self.sub(self.eased(one, middle));
        let task = Task::Hinder(at, Box::new(search), Some(halving));
        self.tasks.push_front(task);
    }

    /// A wish as a number: what was had, and what was wished for.
    fn ends(&self, one: OneWish, had: &Values) -> Option<(f64, f64)> {
        match one {
            OneWish::Classes => Some((self.judge.wish.miss(one, had) * Wished::Sand.scale(), 0.0)),
            OneWish::Figure(of) => {
                let (band, value) = (self.judge.wish.band(of), had.of(of));
                let missed = band.least.filter(|least| value < *least);
                missed
                    .or(band.most.filter(|most| value > *most))
                    .map(|limit| (value, limit))
            }
            OneWish::Fill => {
                let wanted = self.judge.wish.fill.as_ref()?.si();
                Some((had.settled_m3, wanted))
            }
            OneWish::Skeleton => None,
        }
        .filter(|(good, bad)| good.is_finite() && bad.is_finite())
    }

    /// The wish with one of them eased to a number.
    fn eased(&self, one: OneWish, to: f64) -> Wish {
        let mut wish = self.judge.wish.clone();
        match one {
            OneWish::Classes => wish.slack_pct = to,
            OneWish::Figure(of) => {
                let mut band = wish.band(of);
                match band.least {
                    Some(least) if to < least => band.least = Some(to),
                    _ => band.most = Some(to),
                }
                wish.set(of, band);
            }
            OneWish::Fill => {
                if let Some(fill) = &mut wish.fill {
                    fill.value = to / fill.unit.factor();
                }
            }
            OneWish::Skeleton => {}
        }
        wish
    }
}
