//! Fewer corners for the screen: a line of many short straight pieces without those that
//! the eye cannot miss.

use super::{Point, Step};

/// The same steps, with corners left out where no place of the line moves farther than the
/// tolerance: the rule of Douglas and Peucker (Algorithms for the reduction of the number of
/// points required to represent a digitized line or its caricature, Cartographica 10, 1973).
pub(super) fn thin(steps: &[Step], tolerance_mm: f64) -> Vec<Step> {
    let mut kept = Vec::with_capacity(steps.len());
    let mut run: Vec<Point> = Vec::new();
    for step in steps {
        if let Step::LineTo(to) = *step {
            run.push(to);
            continue;
        }
        end_run(&mut run, tolerance_mm, &mut kept);
        kept.push(*step);
        match *step {
            Step::MoveTo(at) | Step::CurveTo(_, _, at) => run.push(at),
            Step::LineTo(_) | Step::Close => {}
        }
    }
    end_run(&mut run, tolerance_mm, &mut kept);
    kept
}

/// Adds the lines of a run, whose first place is drawn already, and empties it.
fn end_run(run: &mut Vec<Point>, tolerance_mm: f64, kept: &mut Vec<Step>) {
    let mut stays = vec![false; run.len()];
    let mut parts = vec![(0, run.len().saturating_sub(1))];
    while let Some((first, last)) = parts.pop() {
        if let Some(stay) = stays.get_mut(last) {
            *stay = true;
        }
        let off = |at: usize| square_distance(run[at], run[first], run[last]);
        let farthest = (first + 1..last).max_by(|a, b| off(*a).total_cmp(&off(*b)));
        if let Some(middle) = farthest.filter(|at| off(*at) > tolerance_mm * tolerance_mm) {
            parts.extend([(first, middle), (middle, last)]);
        }
    }
    let lines = run.iter().zip(stays).skip(1).filter(|(_, stays)| *stays);
    kept.extend(lines.map(|(at, _)| Step::LineTo(*at)));
    run.clear();
}

/// The square of how far a place is from a straight line between two others.
fn square_distance(at: Point, from: Point, to: Point) -> f64 {
    let (across, down) = (to.x - from.x, to.y - from.y);
    let square = across * across + down * down;
    let along = (at.x - from.x) * across + (at.y - from.y) * down;
    let share = if square > 0.0 {
        (along / square).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (at.x - from.x - share * across).powi(2) + (at.y - from.y - share * down).powi(2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::point;
    use proptest::prelude::*;

    fn lines(points: &[Point]) -> Vec<Step> {
        let rest = points[1..].iter().map(|at| Step::LineTo(*at));
        std::iter::once(Step::MoveTo(points[0]))
            .chain(rest)
            .collect()
    }

    fn places(steps: &[Step]) -> Vec<Point> {
        let place = |step: &Step| match step {
            Step::MoveTo(at) | Step::LineTo(at) | Step::CurveTo(_, _, at) => Some(*at),
            Step::Close => None,
        };
        steps.iter().filter_map(place).collect()
    }

    proptest! {
        #[test]
        fn no_corner_is_farther_than_the_tolerance(
            walk in prop::collection::vec((-3.0..3.0, -3.0..3.0), 1..80),
            tolerance in 0.01..2.0,
        ) {
            let mut at = point(0.0, 0.0);
            let walked: Vec<Point> = walk.iter().map(|(x, y)| {
                at = point(at.x + x, at.y + y);
                at
            }).collect();
            let thinned = places(&thin(&lines(&walked), tolerance));
            prop_assert_eq!(thinned[0], walked[0]);
            prop_assert_eq!(thinned.last(), walked.last());
            prop_assert!(thinned.iter().all(|kept| walked.contains(kept)));
            for each in &walked {
                let nearest = thinned.windows(2).map(|two| square_distance(*each, two[0], two[1]).sqrt());
                let nearest = nearest.fold(f64::MAX, f64::min);
                prop_assert!(thinned.len() == 1 || nearest <= tolerance + 1e-9, "{nearest}");
            }
        }
    }

    #[test]
    fn an_arc_keeps_a_few_corners_and_a_closed_path_its_end() {
        let arc: Vec<Point> = (0..=60)
            .map(|at| point(0.0, 0.0).polar(50.0, f64::from(at) * 0.02))
            .collect();
        let mut steps = lines(&arc);
        steps.push(Step::Close);
        let thinned = thin(&steps, 0.025);
        assert!(
            thinned.len() < 40 && thinned.len() > 12,
            "{}",
            thinned.len()
        );
        assert_eq!(thinned.last(), Some(&Step::Close));
        assert_eq!(thinned.iter().rev().nth(1), Some(&Step::LineTo(arc[60])));
    }

    #[test]
    fn a_line_back_to_where_it_began_keeps_its_turn() {
        let there_and_back = [point(0.0, 0.0), point(10.0, 0.0), point(0.0, 0.0)];
        assert_eq!(thin(&lines(&there_and_back), 0.1).len(), 3);
    }
}
