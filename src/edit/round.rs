//! Wide and narrow segments in a ring.

use crate::design::{Design, MadeOf};
use crate::edit::vessel::with_vessel;

/// Shares a ring's round two to one, wide and narrow in turn. A ring of one wood gets its
/// narrow ones of `wood`; an odd count is one more.
pub fn share_unevenly(design: &Design, place: usize, wood: usize) -> Design {
    with_vessel(design, |vessel| {
        let is_wood = wood < vessel.woods.len();
        let ring = vessel.rings.get_mut(place);
        let may_be = |ring: &&mut crate::design::StackRing| {
            ring.made_of == MadeOf::Segments && ring.stripes.is_none() && !ring.is_glued()
        };
        let Some(ring) = ring.filter(may_be) else {
            return;
        };
        ring.segment_count += ring.segment_count % 2;
        ring.shares = vec![2, 1];
        if let [own] = ring.pattern[..]
            && is_wood
            && own as usize != wood
        {
            ring.pattern.push(wood as u32);
        }
    })
}

/// Makes all segments of a ring alike again.
pub fn share_evenly(design: &Design, place: usize) -> Design {
    with_vessel(design, |vessel| {
        if let Some(ring) = vessel.rings.get_mut(place) {
            ring.shares.clear();
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::start;
    use crate::edit::vessel::add_wood;

    #[test]
    fn narrow_segments_take_the_wood_in_hand_and_go_again() {
        let design = add_wood(
            &start::begin(&Design::default(), "bowl", 200.0, 90.0),
            "Wenge",
        );
        let uneven = share_unevenly(&design, 1, 1);
        let ring = &uneven.vessel.as_ref().unwrap().rings[1];
        assert_eq!(
            (ring.shares.as_slice(), ring.pattern.as_slice()),
            (&[2, 1][..], &[0, 1][..])
        );
        let even = share_evenly(&uneven, 1);
        assert!(even.vessel.as_ref().unwrap().rings[1].shares.is_empty());
        // A disc and a wood that is not there change nothing of it.
        let last = design.vessel.as_ref().unwrap().rings.len();
        assert_eq!(share_unevenly(&design, last, 0), design);
        let strange = share_unevenly(&design, 1, 99);
        assert_eq!(strange.vessel.unwrap().rings[1].pattern, [0]);
    }
}
