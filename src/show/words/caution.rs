//! What to look at before wood is cut, and what to do about it.

use super::inlay;
use super::list::{SEASON_DAMP, SEASON_DRY, SEASON_SHOP};
use super::open_ring;
use super::paper::rings_named;
use super::plain::stops_at;
use super::word::Message;
use crate::design::GapBy;
use crate::plan::bill::ring_numbers;
use crate::plan::caution::Caution;
use crate::units::length::{Unit, at_least, at_most, decimal, show};
use crate::units::quantity::{self, degrees, duration, fine_length, force, temperature};

/// The message for a caution.
#[allow(clippy::too_many_lines)]
pub fn caution(caution: &Caution, unit: Unit) -> Message {
    let mm = |length_mm: f64| show(length_mm, unit).line();
    let down = |length_mm: f64| at_most(length_mm, unit).line();
    let up = |length_mm: f64| at_least(length_mm, unit).line();
    let (field, reason, remedy) = match caution {
        Caution::RoundedTooSmall {
            circle_mm,
            wanted_mm,
        } => (
            crate::design::field::key::OUTSIDE_ALLOWANCE,
            format!(
                "Cut to the figures as shown, the ring holds a circle of {}, less than {}.",
                down(*circle_mm),
                mm(*wanted_mm)
            ),
            "Set the stop a little long, use a finer fraction, or keep more outside.",
        ),
        Caution::RoundedHoleTooLarge { hole_mm, wanted_mm } => (
            crate::design::field::key::INSIDE_ALLOWANCE,
            format!(
                "Cut to the figures as shown, the hole is {}, more than {}.",
                up(*hole_mm),
                mm(*wanted_mm)
            ),
            "Rip the strip a little wide, use a finer fraction, or keep more inside.",
        ),
        Caution::SmallSegment { long_edge_mm } => (
            crate::design::field::key::SEGMENT_COUNT,
            format!("A segment is only {} long.", mm(*long_edge_mm)),
            "Hold it in a jig from start to end of the cut, or take fewer segments.",
        ),
        Caution::NarrowStrip { width_mm } => (
            crate::design::field::key::WALL,
            format!("The strip is only {} wide.", mm(*width_mm)),
            "Rip it with a jig or on the far side of the blade, never between blade and fence by hand.",
        ),
        Caution::ShortHoldBack { length_mm } => (
            crate::design::field::key::HOLD_BACK,
            format!("Only {} is kept back to hold the strip by.", mm(*length_mm)),
            "Keep at least 3 in (76 mm) from hand to blade, or clamp the strip.",
        ),
        Caution::SteepSaw {
            setting_rad,
            own_deg,
        } => (
            crate::design::field::key::SEGMENT_COUNT,
            format!(
                "The saw must stand at {} from square; {}.",
                degrees(*setting_rad),
                own_deg.map_or_else(
                    || "most gauges and miter saws stop at about 50°".to_owned(),
                    stops_at
                )
            ),
            "Take four segments or more, or cut with the strip clamped square to the fence in a jig, the saw at the complement.",
        ),
        Caution::NoSuchStock {
            rings,
            height_mm,
            plane_mm,
        } => (
            crate::design::field::key::STOCK,
            format!(
                "{} {} {}{}; none of your stock gives that with at most {} planed away.",
                rings_named(&ring_numbers(rings), rings.len()),
                if rings.len() == 1 {
                    "needs"
                } else {
                    "need other stock, the first"
                },
                up(*height_mm),
                if rings.len() == 1 { " stock" } else { "" },
                down(*plane_mm)
            ),
            "Add the thickness to your stock, resaw a thicker board, or make the ring as high as your stock gives.",
        ),
        Caution::RestsOnOne => (
            "vessel.rings.*.turn_half_segments",
            "Some of its segments rest on one segment only: the row could come off there."
                .to_owned(),
            "Shift it by half a segment against the ring below, or make the gaps narrower.",
        ),
        Caution::OpenEnd { is_rim } => (
            "vessel.rings.*.between",
            format!(
                "It is open, and at the {} nothing ties its segments together.",
                if *is_rim { "rim" } else { "foot" }
            ),
            "Close the ring there: segments without air between them.",
        ),
        Caution::RestsLittle { along_mm, gap_by } => (
            match gap_by {
                GapBy::Thickness => "vessel.rings.*.spacer_mm",
                GapBy::Angle => "vessel.rings.*.gap_deg",
                GapBy::Share => "vessel.rings.*.gap_pct",
            },
            format!(
                "Some of its segments reach only {} over one of those below.",
                down(*along_mm)
            ),
            "Make the gaps narrower, shift it by half a segment, or take fewer segments.",
        ),
        Caution::BendsHard {
            glued_mm2,
            above_mm,
        } => (
            "vessel.rings.*.between",
            format!(
                "All its segments together stand on {} of glue, and {} of wall stand above them: a catch at the rim could break the row off.",
                quantity::glue_area(*glued_mm2, unit),
                mm(*above_mm)
            ),
            "Make the gaps narrower, the wall thicker or the piece lower; turn this row before more comes on it, with light cuts.",
        ),
        Caution::NoIndex {
            count,
            turn,
            is_own,
            nearest,
        } => {
            return Message {
                field: crate::design::field::key::INDEX_PLATES.to_owned(),
                reason: format!(
                    "No hole of {} index plates fits {count} segments{}.",
                    if *is_own { "your" } else { "the usual" },
                    open_ring::turned(*turn, *count)
                ),
                remedy: open_ring::other_counts(*nearest),
            };
        }
        Caution::ThinForPlaner {
            rings,
            height_mm,
            least_mm,
        } => (
            crate::design::field::key::PLANER_LEAST,
            format!(
                "{} {} planed to {}; your planer takes no less than {}.",
                rings_named(&ring_numbers(rings), rings.len()),
                if rings.len() == 1 { "is" } else { "are" },
                mm(*height_mm),
                mm(*least_mm)
            ),
            "Hold its boards on a flat carrier board through the planer, sand them to thickness with a drum, or make the ring higher.",
        ),
        Caution::LatheTooFast {
            diameter_mm,
            rpm,
            slowest_rpm,
        } => (
            crate::design::field::key::SLOWEST,
            format!(
                "{} across its corners, it is to turn no faster than {} rpm at first; your lathe turns at {slowest_rpm} at the slowest.",
                mm(*diameter_mm),
                (rpm / 10.0).floor() * 10.0
            ),
            "Saw its corners off round before it is mounted, or turn it on a lathe that runs slower.",
        ),
        Caution::OddCount { count } => (
            crate::design::field::key::SEGMENT_COUNT,
            format!("{count} segments make no two halves."),
            "With an even count two half rings can be trued before the last glue-up.",
        ),
        Caution::ThinWall { left_mm, wanted_mm } => (
            "vessel.rings.*.outside_extra_mm",
            format!(
                "Cut to the figures as shown, {} of the wall’s {} is missing here.",
                quantity::fine_at_least(wanted_mm - left_mm, unit).line(),
                mm(*wanted_mm)
            ),
            "Give the ring extra wood, or set stop and strip a little long.",
        ),
        Caution::MeasuredSmall { left_mm, wanted_mm } => (
            "vessel.rings.*.measured.outside_diameter_mm",
            format!(
                "As measured, {} of the wall’s {} is missing.",
                quantity::fine_at_least(wanted_mm - left_mm, unit).line(),
                mm(*wanted_mm)
            ),
            "Pull the curve into the ring, take a nearer one where Vessel offers it under Glued rings, or make the ring anew.",
        ),
        Caution::MeasuredTight { left_mm } => (
            "vessel.rings.*.measured.outside_diameter_mm",
            if *left_mm < unit.step_mm() {
                "As measured, it just holds the wall: nothing is to spare.".to_owned()
            } else {
                format!(
                    "As measured, it holds the wall with only {} to spare.",
                    down(*left_mm)
                )
            },
            "Center the ring exactly when it is glued on, or pull the curve a little off its limit in Vessel.",
        ),
        Caution::NarrowGlue {
            width_mm,
            are_glued,
        } => (
            crate::design::field::key::FOOT_WALL,
            format!(
                "Only {} of glue is left at this joint after turning.",
                mm(*width_mm)
            ),
            if *are_glued {
                "Turn it with light cuts; or, while it is not turned yet, pull the curve so that more of both rings stays there."
            } else {
                "Make the wall thicker there, or move the joint to where the wall leans more."
            },
        ),
        Caution::JointsInLine { count } => (
            "vessel.rings.*.turn_half_segments",
            format!("{count} joints stand right over joints of the ring below."),
            "Turn the ring by half a segment.",
        ),
        Caution::ShortSegment {
            long_edge_mm,
            least_mm,
        } => (
            "vessel.rings.*.segment_count",
            format!(
                "Its segments are {} long, less than {}.",
                down(*long_edge_mm),
                up(*least_mm)
            ),
            "Take fewer segments, and hold them in a jig.",
        ),
        Caution::WiderThanBoard { width_mm, board_mm } => (
            "vessel.rings.*.height_mm",
            format!(
                "Its strip is {} wide; the widest board is {}.",
                up(*width_mm),
                down(*board_mm)
            ),
            "Take lower rings where the wall leans, more segments, or a wider board.",
        ),
        Caution::HigherThanStock {
            height_mm,
            stock_mm,
        } => (
            "vessel.rings.*.height_mm",
            format!(
                "It needs stock of {}; the thickest is {}.",
                up(*height_mm),
                down(*stock_mm)
            ),
            "Make the ring lower, or add the stock to your list.",
        ),
        Caution::Wasteful { share } => (
            "vessel.rings.*.height_mm",
            format!(
                "Only {} % of this ring stays; the rest is turned away.",
                decimal(share * 100.0, 0)
            ),
            "Two lower rings keep more wood where the wall leans.",
        ),
        Caution::WedgesInFloor => (
            "vessel.rings.*.made_of",
            "Its segments meet in points in the middle of the floor.".to_owned(),
            "Use a solid or cross-laminated disc there, or accept the points.",
        ),
        Caution::Funnel { top_mm } => (
            crate::design::field::key::POINTS,
            format!(
                "Inside, one straight slope runs from the floor up to {}.",
                mm(*top_mm)
            ),
            "Let the curve round into the floor: a funnel collects, and it looks unfinished.",
        ),
        Caution::SmallOpening {
            opening_mm,
            inside_mm,
        } => (
            crate::design::field::key::POINTS,
            format!(
                "The opening is {}, with {} inside to be reached through it.",
                mm(*opening_mm),
                mm(*inside_mm)
            ),
            "Open the rim, or turn and finish the inside in two halves before they are joined.",
        ),
        Caution::SmallFoot { angle_rad } => (
            crate::design::field::key::POINTS,
            format!(
                "It falls over when tipped by {}.",
                degrees((angle_rad * 572.957_795).round() / 572.957_795)
            ),
            "Widen the foot, or make the floor heavier.",
        ),
        Caution::InTheWay { ring, by_mm } => (
            crate::design::field::key::RINGS,
            format!(
                "Ring {} stands out {} farther than these: on the saw’s table the piece does not lie on them.",
                ring + 1,
                mm(*by_mm)
            ),
            "Let the halves meet elsewhere, or slot other rings, so that these are sawn as a stack of their own.",
        ),
        Caution::BlockPastSwing {
            diameter_mm,
            swing_mm,
        } => (
            crate::design::field::key::SWING,
            format!(
                "This block is {} wide; the lathe swings {}.",
                up(*diameter_mm),
                down(*swing_mm)
            ),
            "Make it as wide as the lathe swings, and center by measuring from its edge.",
        ),
        Caution::PastSwing {
            diameter_mm,
            is_round_within,
            swing_mm,
        } => (
            crate::design::field::key::SWING,
            format!(
                "Over its corners this ring is {}; the lathe swings {}.",
                up(*diameter_mm),
                down(*swing_mm)
            ),
            if *is_round_within {
                "Cut the corners off before mounting, or make the vessel smaller."
            } else {
                "Make the vessel smaller: round, too, it would not pass the bed."
            },
        ),
        Caution::StackTooLow { missing_mm } => (
            crate::design::field::key::RINGS,
            format!("The rings end {} below the rim.", mm(*missing_mm)),
            "Add a ring, make one higher, or divide anew.",
        ),
        Caution::StackTooHigh { excess_mm } => (
            crate::design::field::key::RINGS,
            format!("The rings stand {} above the rim.", mm(*excess_mm)),
            "Remove or lower a ring, or divide anew. What stands wholly above the rim can be taken away in one go: touch it, or the rim’s point.",
        ),
        Caution::WallFills { height_mm } => (
            crate::design::field::key::FOOT_WALL,
            format!("The wall fills the whole inside up to {}.", mm(*height_mm)),
            "Make the wall thinner at the foot, or the foot wider.",
        ),
        Caution::BaseBreaksRing { most_mm, share } => (
            crate::design::field::key::BASE_KIND,
            format!(
                "Through the year this base moves {} against its ring, {} % of its diameter: glued all round it breaks the ring or tears from it.",
                fine_length(*most_mm, unit),
                decimal(100.0 * share, 1)
            ),
            "Make it of plies laid crosswise, or leave the play and glue only the middle of one side.",
        ),
        Caution::BaseTears { most_mm } => (
            crate::design::field::key::BASE_KIND,
            format!(
                "Through the year this base moves {} against the ring above it.",
                fine_length(*most_mm, unit)
            ),
            "Make it of plies laid crosswise, or keep the foot small.",
        ),
        Caution::BaseCups { plies, cup_mm } => (
            crate::design::field::key::BASE_PLIES,
            format!(
                "{plies} plies like these pull the base hollow by {}, if nothing holds it.",
                fine_length(*cup_mm, unit)
            ),
            "Take an odd number of plies that are the same on both sides of the middle one, once the floor is turned.",
        ),
        Caution::LedgeTooNarrow { ledge_mm, loose_mm } => (
            crate::design::field::key::BASE_LEDGE,
            format!(
                "In the driest season the base has {} of play, and the ledge is only {} wide.",
                fine_length(*loose_mm, unit),
                mm(*ledge_mm)
            ),
            "Make the ledge wider, or the base of plies.",
        ),
        Caution::BaseNotCarried {
            ring,
            hole_mm,
            wider_mm,
        } => (
            crate::design::field::key::BASE_DIAMETER,
            format!(
                "Ring {ring} does not carry the base: its hole is {} at the corners, {} wider than the base.",
                fine_length(*hole_mm, unit),
                fine_length(*wider_mm, unit)
            ),
            "Make the base larger than that hole, or leave it a ledge in its own ring.",
        ),
        Caution::BaseHeight { base_mm, room_mm } => (
            crate::design::field::key::BASE_KIND,
            format!(
                "The base is {} thick, its place in the ring is {}.",
                mm(*base_mm),
                mm(*room_mm)
            ),
            "Change the thickness here, or the ring’s height in Vessel; a ledge needs wood below it.",
        ),
        Caution::NoFigures { wood } => (
            "woods.*.like",
            if wood.is_empty() {
                "How a wood without a name moves is not known.".to_owned()
            } else {
                format!("How “{wood}” moves is not known.")
            },
            "Say above what wood it is like, or enter its shrinkage.",
        ),
        Caution::AirPastTable { air } => (
            match *air {
                "shop" => crate::design::field::key::SHOP_HUMIDITY,
                "dry" => crate::design::field::key::DRY_HUMIDITY,
                _ => crate::design::field::key::DAMP_HUMIDITY,
            },
            format!(
                "{}: the published table ends before this air, so the moisture is only a guess.",
                match *air {
                    "shop" => SEASON_SHOP,
                    "dry" => SEASON_DRY,
                    _ => SEASON_DAMP,
                }
                .text
            ),
            "Check temperature and humidity; indoors 20 to 80 % is usual.",
        ),
        Caution::SeasonsSwapped => (
            crate::design::field::key::DRY_HUMIDITY,
            "The driest season brings wood to more moisture than the dampest.".to_owned(),
            "Change the two about.",
        ),
        Caution::Stripes(stripes) => super::stripe::caution(stripes, unit),
        Caution::Slots(place, slots) => {
            let (field, reason, remedy) = inlay::caution(slots, unit);
            return Message {
                field: format!("vessel.slot_sets.{place}.{field}"),
                reason: inlay::about_set(*place, &reason),
                remedy: remedy.to_owned(),
            };
        }
        Caution::ColdShop {
            shop_c, least_c, ..
        } => (
            crate::design::field::key::SHOP_TEMPERATURE,
            format!(
                "The shop is at {}; this glue wants {} or more.",
                temperature(*shop_c, unit),
                temperature(*least_c, unit)
            ),
            "",
        ),
        Caution::OutOfBalance {
            offset_mm,
            pull_n,
            rpm,
        } => (
            "vessel.rings.*.pattern",
            format!(
                "The woods weigh unlike: their mass lies {} off the axis and pulls with {} at {} rpm.",
                mm(*offset_mm),
                force(*pull_n, unit),
                decimal(*rpm, 0)
            ),
            "Turn slower until nothing shakes, or repeat the pattern evenly round.",
        ),
        Caution::OutOfReach {
            depth_mm,
            opening_mm,
            overhang_mm,
        } => (
            crate::design::field::key::MEETING,
            format!(
                "A straight tool does not reach all of this: {} deep, {} at the narrowest, {} beyond the rest.",
                mm(*depth_mm),
                mm(*opening_mm),
                mm(*overhang_mm)
            ),
            "Let the halves meet nearer to it, take lower rings there, or use a bent or captured tool.",
        ),
        Caution::NoAllowance => (
            crate::design::field::key::OUTSIDE_ALLOWANCE,
            "Nothing is kept for turning, outside or inside.".to_owned(),
            "Keep a little: no ring is glued exactly round and centered.",
        ),
    };
    let remedy = match caution {
        Caution::ColdShop {
            warming_min,
            stay_min,
            ..
        } => format!(
            "Let wood and glue lie in a room of {} for {}, glue up there, and leave it there for {}.",
            temperature(crate::trade::glue::ROOM_C, unit),
            duration(*warming_min).line(),
            duration(*stay_min).line()
        ),
        _ => remedy.to_owned(),
    };
    Message {
        field: field.to_owned(),
        reason,
        remedy,
    }
}
