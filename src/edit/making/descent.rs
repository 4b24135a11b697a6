//! Looking for the largest size: first by halving coarse steps, then every size from well above
//! what was found down to it, since with another count of rings a larger one may be had again.
//! Where halving finds none, every coarse step is looked at.

/// How far one coarse step stands below the one before (our own choice, no published source).
const COARSE: f64 = 0.9;

/// So many coarse steps above what was found are looked at closely.
const ABOVE: usize = 3;

/// The search over sizes.
#[derive(Clone, Debug)]
pub(super) struct Descent {
    /// From the smallest.
    sizes: Vec<f64>,
    /// Those looked at coarsely, from the largest.
    coarse: Vec<usize>,
    task: Task,
    found: Option<usize>,
}

#[derive(Clone, Copy, Debug)]
enum Task {
    /// Between the coarse steps that cannot be, from above, and that can be.
    Halve(usize, usize),
    /// One coarse step after the other.
    Coarse(usize),
    /// From a size down to above another.
    Fine(usize, usize),
    Done,
}

impl Descent {
    /// Over these sizes, from the smallest up.
    pub(super) fn new(sizes: Vec<f64>) -> Descent {
        let mut coarse: Vec<usize> = Vec::new();
        for place in (0..sizes.len()).rev() {
            let last = coarse.last().map_or(f64::INFINITY, |it| sizes[*it]);
            if sizes[place] <= last * COARSE || place == 0 {
                coarse.push(place);
            }
        }
        Descent {
            task: if sizes.is_empty() {
                Task::Done
            } else {
                Task::Halve(0, coarse.len())
            },
            sizes,
            coarse,
            found: None,
        }
    }

    /// The size to look at next.
    pub(super) fn size(&self) -> Option<f64> {
        let place = match self.task {
            Task::Halve(from, to) => *self.coarse.get(from.midpoint(to))?,
            Task::Coarse(at) => *self.coarse.get(at)?,
            Task::Fine(at, _) => at,
            Task::Done => return None,
        };
        self.sizes.get(place).copied()
    }

    /// Whether that size can be.
    pub(super) fn tell(&mut self, can_be: bool) {
        self.task = match (self.task, can_be) {
            (Task::Halve(from, to), _) => {
                let at = from.midpoint(to);
                if can_be {
                    self.found = Some(self.coarse[at]);
                }
                let (from, to) = if can_be { (from, at) } else { (at + 1, to) };
                match (from < to, to < self.coarse.len()) {
                    (true, _) => Task::Halve(from, to),
                    (false, true) => self.closely(to),
                    (false, false) => Task::Coarse(0),
                }
            }
            (Task::Coarse(at), true) => {
                self.found = Some(self.coarse[at]);
                self.closely(at)
            }
            (Task::Coarse(at), false) if at + 1 < self.coarse.len() => Task::Coarse(at + 1),
            (Task::Fine(at, _), true) => {
                self.found = Some(at);
                Task::Done
            }
            (Task::Fine(at, above), false) => Self::fine(at.saturating_sub(1), above),
            _ => Task::Done,
        };
    }

    /// From well above a coarse step down to it.
    fn closely(&self, at: usize) -> Task {
        let above = at.checked_sub(ABOVE).map(|it| self.coarse[it]);
        let above = above.unwrap_or(self.sizes.len());
        Self::fine(above.saturating_sub(1), self.coarse[at])
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
        let gap = |size: f64| size <= 250.0 && !(230.0..249.0).contains(&size);
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
