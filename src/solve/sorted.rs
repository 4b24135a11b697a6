//! Putting things in order by a number. The standard library's sorting is faster, and
//! weighs four kilobytes of the page anew for each kind of thing that is sorted.

/// The places of the keys from the least to the greatest; equal ones stay in their
/// order (merging upward: Knuth, The Art of Computer Programming, volume 3, 5.2.4).
pub fn order(keys: &[f64]) -> Vec<usize> {
    let count = keys.len();
    let mut places: Vec<usize> = (0..count).collect();
    let mut merged = places.clone();
    let mut run = 1;
    while run < count {
        for start in (0..count).step_by(2 * run) {
            let (middle, end) = ((start + run).min(count), (start + 2 * run).min(count));
            let (mut left, mut right) = (start, middle);
            for place in &mut merged[start..end] {
                let is_right = left >= middle
                    || (right < end && keys[places[right]].total_cmp(&keys[places[left]]).is_lt());
                let from = if is_right { &mut right } else { &mut left };
                *place = places[*from];
                *from += 1;
            }
        }
        std::mem::swap(&mut places, &mut merged);
        run *= 2;
    }
    places
}

/// The places of the largest key, the next largest and so on; equal ones stay in order.
pub fn descending(keys: &[f64]) -> Vec<usize> {
    let less: Vec<f64> = keys.iter().map(|key| -key).collect();
    order(&less)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn it_is_the_order_of_the_standard_library(
            keys in proptest::collection::vec((-5_i32..5).prop_map(f64::from), 0..80)
        ) {
            let mut expected: Vec<usize> = (0..keys.len()).collect();
            expected.sort_by(|one, other| keys[*one].total_cmp(&keys[*other]));
            prop_assert_eq!(order(&keys), expected);
        }
    }
}
