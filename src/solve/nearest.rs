//! The nearest place within half spaces, and the nearest polynomial.

/// One side of a region: `normal · x ≥ bound`.
#[derive(Clone, Debug, PartialEq)]
pub struct HalfSpace {
    /// Its inward normal.
    pub normal: Vec<f64>,
    /// Its bound.
    pub bound: f64,
}

/// The place nearest to `from` that lies within every half space; nothing when they have
/// none in common. The dual method of Goldfarb and Idnani (A numerically stable dual
/// method for solving strictly convex quadratic programs, Mathematical Programming 27,
/// 1983) for the plainest of objectives, the distance: it starts at `from`, which nothing
/// holds, and takes up the half space that is most violated until none is. It is exact, and
/// takes the first of equals.
pub fn nearest_within(from: &[f64], halves: &[HalfSpace]) -> Option<Vec<f64>> {
    let halves: Vec<HalfSpace> = halves.iter().filter_map(scaled).collect();
    let mut x = from.to_vec();
    let mut active: Vec<usize> = Vec::new();
    let mut weights: Vec<f64> = Vec::new();
    // Each round takes up or drops one; more rounds than this are rounding's.
    for _ in 0..20 * (from.len() + halves.len() + 1) {
        let short = |half: &HalfSpace| dot(&half.normal, &x) - half.bound;
        let worst = (0..halves.len())
            .filter(|place| !active.contains(place))
            .map(|place| (place, short(&halves[place])))
            .min_by(|one, other| one.1.total_cmp(&other.1));
        let Some((taken, mut missing)) = worst.filter(|worst| worst.1 < -1e-10) else {
            return Some(x);
        };
        let mut weight = 0.0;
        loop {
            let normal = &halves[taken].normal;
            let (share, free) = resolve(&halves, &active, normal);
            let freedom = dot(&free, &free);
            let whole_step = if freedom > 1e-14 {
                -missing / freedom
            } else {
                f64::INFINITY
            };
            // The first active one whose weight would turn negative is dropped.
            let dropped = (0..active.len())
                .filter(|&at| share[at] > 1e-12)
                .map(|at| (at, weights[at] / share[at]))
                .min_by(|one, other| one.1.total_cmp(&other.1));
            let part_step = dropped.map_or(f64::INFINITY, |dropped| dropped.1);
            let step = whole_step.min(part_step);
            if step.is_infinite() {
                return None;
            }
            for (at, part) in share.iter().enumerate() {
                weights[at] -= step * part;
            }
            weight += step;
            if whole_step.is_finite() {
                for (to, by) in x.iter_mut().zip(&free) {
                    *to += step * by;
                }
            }
            if whole_step <= part_step {
                active.push(taken);
                weights.push(weight);
                break;
            }
            let (at, _) = dropped?;
            active.remove(at);
            weights.remove(at);
            missing = dot(normal, &x) - halves[taken].bound;
        }
    }
    None
}

fn scaled(half: &HalfSpace) -> Option<HalfSpace> {
    let length = dot(&half.normal, &half.normal).sqrt();
    (length > 1e-12).then(|| HalfSpace {
        normal: half.normal.iter().map(|part| part / length).collect(),
        bound: half.bound / length,
    })
}

/// The inner product of two vectors of one length.
pub fn dot(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(a, b)| a * b).sum()
}

/// A normal as a sum of the active ones, and what is free of them (by an orthonormal basis
/// built up one after the other, each twice, which loses no digits).
fn resolve(halves: &[HalfSpace], active: &[usize], normal: &[f64]) -> (Vec<f64>, Vec<f64>) {
    let mut basis: Vec<Vec<f64>> = Vec::new();
    let mut upper: Vec<Vec<f64>> = Vec::new();
    for &place in active {
        let (mut parts, rest) = split(&basis, &halves[place].normal);
        let length = dot(&rest, &rest).sqrt().max(1e-300);
        parts.push(length);
        upper.push(parts);
        basis.push(rest.iter().map(|part| part / length).collect());
    }
    let (mut share, free) = split(&basis, normal);
    for at in (0..active.len()).rev() {
        share[at] /= upper[at][at];
        for before in 0..at {
            share[before] -= share[at] * upper[at][before];
        }
    }
    (share, free)
}

/// The parts of a vector along a basis, and the rest.
fn split(basis: &[Vec<f64>], vector: &[f64]) -> (Vec<f64>, Vec<f64>) {
    let mut rest = vector.to_vec();
    let mut parts = vec![0.0; basis.len()];
    for _ in 0..2 {
        for (part, along) in parts.iter_mut().zip(basis) {
            let by = dot(along, &rest);
            *part += by;
            for (to, from) in rest.iter_mut().zip(along) {
                *to -= by * from;
            }
        }
    }
    (parts, rest)
}

/// The polynomial of a degree that lies nearest to weighted looks (share of the height,
/// value, weight), by orthogonal polynomials built up from the looks themselves (Forsythe,
/// Generation and use of orthogonal polynomials for data-fitting with a digital computer,
/// Journal of the Society for Industrial and Applied Mathematics 5, 1957).
pub fn polynomial(looks: &[(f64, f64, f64)], degree: usize) -> Option<impl Fn(f64) -> f64 + use<>> {
    if looks.len() <= degree {
        return None;
    }
    // Each is (x − a) times the one before less b times the one before that.
    let mut steps: Vec<(f64, f64)> = Vec::new();
    let mut parts: Vec<f64> = Vec::new();
    let mut before = vec![0.0; looks.len()];
    let mut here = vec![1.0; looks.len()];
    let mut size_before = 1.0;
    for order in 0..=degree {
        let sum = |value: &dyn Fn(usize) -> f64| {
            (0..looks.len())
                .map(|at| looks[at].2 * here[at] * value(at))
                .sum::<f64>()
        };
        let size = sum(&|at| here[at]);
        if size <= 0.0 {
            return None;
        }
        parts.push(sum(&|at| looks[at].1) / size);
        let a = sum(&|at| looks[at].0 * here[at]) / size;
        let b = if order == 0 { 0.0 } else { size / size_before };
        steps.push((a, b));
        let next: Vec<f64> = (0..looks.len())
            .map(|at| (looks[at].0 - a) * here[at] - b * before[at])
            .collect();
        before = std::mem::replace(&mut here, next);
        size_before = size;
    }
    Some(move |x: f64| {
        let (mut before, mut here, mut value) = (0.0, 1.0, 0.0);
        for (part, (a, b)) in parts.iter().zip(&steps) {
            value += part * here;
            (before, here) = (here, (x - a) * here - b * before);
        }
        value
    })
}
