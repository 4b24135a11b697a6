//! Rings of striped segments where they were plain, and striped ones otherwise.

use crate::design::{Design, Laid, StackRing, StripeChoice, Vessel};
use crate::edit::stripe::{meet, mirror, plain, stripe};
use crate::edit::vessel::with_vessel;
use crate::solve::dice::Dice;

/// Slants that are drawn from, degrees: steeper ones show end grain on a ring's faces (our own
/// choice, no published source).
const SLANTS_DEG: [f64; 3] = [30.0, 38.0, 45.0];

/// How thick layers are drawn, as shares of the usual (our own choice, no published source).
const SHARES: [f64; 3] = [1.0, 0.7, 1.5];

/// Stripes one of these rings, or does something else with its stripes.
pub(super) fn striped_so(
    design: &Design,
    vessel: &Vessel,
    rings: &[usize],
    dice: &mut Dice,
    reach: f64,
) -> Option<Design> {
    let is_even = |ring: &StackRing| ring.shares.is_empty();
    let rings: Vec<usize> = rings
        .iter()
        .copied()
        .filter(|place| is_even(&vessel.rings[*place]))
        .collect();
    let place = *dice.pick(&rings)?;
    match &vessel.rings[place].stripes {
        Some(stripes) => otherwise(design, place, stripes, dice),
        None => striped(design, vessel, place, dice, reach),
    }
}

/// Stripes a plain ring, and now and then the one above it as its mirror image.
fn striped(
    design: &Design,
    vessel: &Vessel,
    place: usize,
    dice: &mut Dice,
    reach: f64,
) -> Option<Design> {
    // Every second segment turned over wants an even count.
    let is_odd = vessel.rings[place].segment_count % 2 == 1;
    let laid = if is_odd || dice.below(3) == 0 {
        Laid::Slant
    } else {
        Laid::Chevron
    };
    let wood = dice.below(vessel.woods.len() as u32) as usize;
    let design = stripe(design, place, wood, laid.word())?;
    let (slant_deg, share) = (*dice.pick(&SLANTS_DEG)?, *dice.pick(&SHARES)?);
    let laid_so = with_vessel(&design, |vessel| {
        if let Some(stripes) = &mut vessel.rings[place].stripes {
            stripes.slant_deg = slant_deg;
            for layer in &mut stripes.layers {
                layer.thickness_mm *= share;
            }
        }
    });
    let met = meet(&laid_so, place);
    // Of a chevron and its mirror image the joints stand in line.
    Some(if laid == Laid::Slant && dice.share() < 0.4 + 0.4 * reach {
        mirror(&met, place)
    } else {
        met
    })
}

/// A striped ring laid the other way, with its mirror image above, or plain again.
fn otherwise(
    design: &Design,
    place: usize,
    stripes: &StripeChoice,
    dice: &mut Dice,
) -> Option<Design> {
    let other = match stripes.laid {
        Laid::Chevron => Laid::Slant,
        Laid::Slant => Laid::Chevron,
    };
    Some(match dice.below(4) {
        0 => plain(design, place),
        1 if stripes.laid == Laid::Slant => mirror(design, place),
        _ => meet(&stripe(design, place, 0, other.word())?, place),
    })
}
