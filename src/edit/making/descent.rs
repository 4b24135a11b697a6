//! Looking for the largest size: coarsely from above until one can be, then every size up to
//! well above it, since with another count of rings a larger one may be had again.

/// How far one size stands below the one before, coarsely (our own choice, no published
/// source).
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
                Task::Coarse(0)
            },
            sizes,
            coarse,
            found: None,
        }
    }

    /// The size to look at next.
    pub(super) fn size(&self) -> Option<f64> {
        let place = match self.task {
            Task::Coarse(at) => *self.coarse.get(at)?,
            Task::Fine(at, _) => at,
            Task::Done => return None,
        };
        self.sizes.get(place).copied()
    }

    /// Whether that size can be.
    pub(super) fn tell(&mut self, can_be: bool) {
        self.task = match (self.task, can_be) {
            (Task::Coarse(at), true) => {
                self.found = Some(self.coarse[at]);
                let above = at.checked_sub(ABOVE).map(|it| self.coarse[it]);
                let above = above.unwrap_or(self.sizes.len());
                Self::fine(above.saturating_sub(1), self.coarse[at])
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

    fn fine(at: usize, above: usize) -> Task {
        if at > above {
            Task::Fine(at, above)
        } else {
            Task::Done
        }
    }

    /// The size after this one.
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
        let gap = |size: f64| size <= 250.0 && !(200.0..249.0).contains(&size);
        assert_eq!(largest(&sizes, gap), Some(250.0));
        assert_eq!(largest(&sizes, |size| size <= 40.0), Some(40.0));
        assert_eq!(largest(&sizes, |_| true), Some(399.0));
        assert_eq!(largest(&sizes, |_| false), None);
        assert_eq!(largest(&[], |_| true), None);
    }
}
