//! Looking for the largest size: coarse steps one by one for a first answer, small ones first,
//! which cost little; halving above it; then from the largest down in steps of a fiftieth, since with another count of rings a larger one may be
//! had again, and at last every size between the one that can be and the one before.

/// How far one step stands below the one before: for a first answer, and so that none is missed
/// by more than a fiftieth (our own choice, no published source).
const COARSE: f64 = 0.9;
const CLOSE: f64 = 0.98;

/// The search over sizes.
#[derive(Clone, Debug)]
pub(super) struct Descent {
    /// From the smallest.
    sizes: Vec<f64>,
    /// Those looked at first, from the largest.
    coarse: Vec<usize>,
    /// Those looked at then, from the largest.
    close: Vec<usize>,
    task: Task,
    found: Option<usize>,
}

#[derive(Clone, Copy, Debug)]
enum Task {
    /// Coarse steps up from a small one, and then down from it.
    First(usize),
    /// Between the coarse steps that cannot be, from above, and that can be.
    Halve(usize, usize),
    /// One close step after the other.
    Down(usize),
    /// From a size down to above another.
    Fine(usize, usize),
    Done,
}

impl Descent {
    /// Over these sizes, from the smallest up.
    pub(super) fn new(sizes: Vec<f64>) -> Descent {
        let coarse = steps(&sizes, COARSE);
        Descent {
            task: if sizes.is_empty() {
                Task::Done
            } else {
                Task::First(0)
            },
            close: steps(&sizes, CLOSE),
            coarse,
            sizes,
            found: None,
        }
    }

    /// The size to look at next.
    pub(super) fn size(&self) -> Option<f64> {
        let place = match self.task {
            Task::First(tries) => *self.coarse.get(self.early(tries))?,
            Task::Halve(from, to) => *self.coarse.get(from.midpoint(to))?,
            Task::Down(at) => *self.close.get(at)?,
            Task::Fine(at, _) => at,
            Task::Done => return None,
        };
        self.sizes.get(place).copied()
    }

    /// The coarse step that is looked at after so many: up from a small one, then down.
    fn early(&self, tries: usize) -> usize {
        let small = self.coarse.len() * 3 / 4;
        small.checked_sub(tries).unwrap_or(tries)
    }

    /// Whether that size can be.
    pub(super) fn tell(&mut self, can_be: bool) {
        self.task = match self.task {
            Task::First(tries) if can_be => {
                let at = self.early(tries);
                self.found = Some(self.coarse[at]);
                self.halve(0, at)
            }
            Task::First(tries) if tries + 1 < self.coarse.len() => Task::First(tries + 1),
            Task::First(_) => self.down(0),
            Task::Halve(from, to) => {
                let at = from.midpoint(to);
                if can_be {
                    self.found = Some(self.coarse[at]);
                }
                let (from, to) = if can_be { (from, at) } else { (at + 1, to) };
                self.halve(from, to)
            }
            Task::Down(at) if can_be => {
                self.found = Some(self.close[at]);
                self.closely(at)
            }
            Task::Down(at) => self.down(at + 1),
            Task::Fine(at, _) if can_be => {
                self.found = Some(at);
                Task::Done
            }
            Task::Fine(at, above) => Self::fine(at.saturating_sub(1), above),
            Task::Done => Task::Done,
        };
    }

    fn halve(&self, from: usize, to: usize) -> Task {
        if from < to {
            Task::Halve(from, to)
        } else {
            self.down(0)
        }
    }

    /// The next close step, down to what was found.
    fn down(&self, at: usize) -> Task {
        match (self.close.get(at), self.found) {
            (Some(place), Some(found)) if *place <= found => {
                let above = at
                    .checked_sub(1)
                    .map_or(self.sizes.len(), |it| self.close[it]);
                Self::fine(above.saturating_sub(1), found)
            }
            (Some(_), _) => Task::Down(at),
            (None, _) => Task::Done,
        }
    }

    /// The sizes between a close step and the one before.
    fn closely(&self, at: usize) -> Task {
        let above = at
            .checked_sub(1)
            .map_or(self.sizes.len(), |it| self.close[it]);
        Self::fine(above.saturating_sub(1), self.close[at])
    }

    fn fine(at: usize, above: usize) -> Task {
        if at > above {
            Task::Fine(at, above)
        } else {
            Task::Done
        }
    }

    /// Whether nothing is left to look at.
    pub(super) fn is_done(&self) -> bool {
        matches!(self.task, Task::Done)
    }
}

/// Places of sizes, from the largest, each so far below the one before.
fn steps(sizes: &[f64], share: f64) -> Vec<usize> {
    let mut steps: Vec<usize> = Vec::new();
    for place in (0..sizes.len()).rev() {
        let last = steps.last().map_or(f64::INFINITY, |it| sizes[*it]);
        // No step is left out, nor is one longer than it may be.
        let is_next_too_far = place == 0 || sizes[place - 1] < last * share;
        if is_next_too_far {
            steps.push(place);
        }
    }
    steps
}

#[cfg(test)]
mod tests {
    use super::*;

    fn largest(sizes: &[f64], can_be: impl Fn(f64) -> bool) -> Option<f64> {
        let mut descent = Descent::new(sizes.to_vec());
        while let Some(size) = descent.size() {
            descent.tell(can_be(size));
        }
        assert!(descent.is_done());
        descent.found.map(|it| sizes[it])
    }

    #[test]
    fn the_largest_is_found_above_a_gap() {
        let sizes: Vec<f64> = (40..400).map(f64::from).collect();
        assert_eq!(largest(&sizes, |size| size <= 250.0), Some(250.0));
        let gap = |size: f64| size <= 250.0 && !(150.0..247.0).contains(&size);
        assert_eq!(largest(&sizes, gap), Some(250.0));
        // One that halving steps over.
        let lone = |size: f64| (90.0..=101.0).contains(&size);
        assert_eq!(largest(&sizes, lone), Some(101.0));
        assert_eq!(largest(&sizes, |size| size <= 40.0), Some(40.0));
        assert_eq!(largest(&sizes, |_| true), Some(399.0));
        assert_eq!(largest(&sizes, |_| false), None);
        assert_eq!(largest(&[], |_| true), None);
    }
}
