//! The sentences of the Inlay place and its sheet.

use super::plain::stops_at;
use super::through;
use crate::design::{StackHeld, StripsShow};
use crate::edit::opening::Opening;
use crate::plan::caution::SlotCaution;
use crate::plan::inlay::{BLOCK_BEYOND_MM, CLAMP_ABOVE_MM, SetPlan};
use crate::trade::closing::HAIR_MM;
use crate::units::length::{Unit, at_least, at_most, decimal, show};
use crate::units::quantity;
use crate::units::quantity::{counted, degrees, length};

// One arm a sentence: the list is long because much can go wrong at the saw.
#[allow(clippy::too_many_lines)]
/// A caution about a set: its field's name, what is so, and what to do.
pub fn caution(caution: &SlotCaution, unit: Unit) -> (&'static str, String, &'static str) {
    let mm = |length_mm: f64| length(length_mm, unit);
    match *caution {
        SlotCaution::NoWindow {
            least_mm,
            most_mm,
            shows_inside,
            is_partly,
        } => (
            "blade_mm",
            format!(
                "No blade height works: the strips show {} from {} on, and {} {}.",
                if is_partly { "at all" } else { "all along" },
                quantity::fine_at_least(least_mm, unit).line(),
                quantity::fine_at_most(most_mm, unit).line(),
                if shows_inside {
                    "is the most at which they stay hidden inside"
                } else {
                    "is the most that leaves wood enough"
                }
            ),
            "Do not saw it like this. Inlay lists what would help.",
        ),
        SlotCaution::NarrowWindow { room_mm, is_partly } => (
            "blade_mm",
            format!(
                "The blade’s height must be right to {}: higher, too little wood is left; lower, the strips do not show {}.",
                quantity::fine_at_most(room_mm, unit).line(),
                if is_partly { "at all" } else { "all along" }
            ),
            "Saw a test piece first; Inlay says what leaves more.",
        ),
        SlotCaution::LeavesSurface { is_tilted: false } => (
            "gauge_deg",
            "The lean carries the slots off the finished surface before the stack ends.".to_owned(),
            "Take a smaller gauge angle or fewer rings.",
        ),
        SlotCaution::LeavesSurface { is_tilted: true } => (
            "tilt_deg",
            "Lean and tilt carry the slots off the finished surface before the stack ends."
                .to_owned(),
            "Tilt the blade less, take a smaller gauge angle or fewer rings.",
        ),
        SlotCaution::BreaksThrough { by_mm } => (
            "blade_mm",
            format!("The blade breaks through into the hole by {}.", mm(by_mm)),
            "Lower the blade, or glue the rings with a smaller hole.",
        ),
        SlotCaution::ThinBridge { left_mm, least_mm } => (
            "blade_mm",
            format!(
                "Only {} is left under the slots; {} holds the stack.",
                at_most(left_mm, unit).line(),
                at_least(least_mm, unit).line()
            ),
            "Lower the blade, or glue the rings with a smaller hole.",
        ),
        SlotCaution::TurnedAway { by_mm } => (
            "blade_mm",
            format!(
                "Somewhere the finished outside lies {} below the slots: the strip is turned away there.",
                mm(by_mm)
            ),
            "Raise the blade, or cut from a stack nearer to its finished size.",
        ),
        SlotCaution::NothingShows { by_mm } => (
            "blade_mm",
            format!(
                "Nothing of the strips shows: the finished outside lies {} or more below the slots.",
                mm(by_mm)
            ),
            "Raise the blade, or cut from a stack nearer to its finished size.",
        ),
        SlotCaution::NotAllInside { by_mm } => (
            "blade_mm",
            format!(
                "The strip misses the finished inside somewhere by {}.",
                mm(by_mm)
            ),
            "Raise the blade within its window, or let it show outside only.",
        ),
        SlotCaution::Uncovered { by_mm } => (
            "blade_mm",
            format!(
                "The finished inside uncovers the bottom of the slots: it lies up to {} past them.",
                mm(by_mm)
            ),
            "Lower the blade, keep a thicker wall, or let it show inside too.",
        ),
        SlotCaution::Overlap { count } => (
            "slot_count",
            format!("{count} slots run into each other at their bottoms."),
            "Take fewer slots or a narrower kerf.",
        ),
        SlotCaution::KerfPastSegment {
            kerf_mm,
            segment_mm,
        } => (
            "kerf_mm",
            format!(
                "A kerf of {} takes a whole segment: the shortest is {} long.",
                mm(kerf_mm),
                mm(segment_mm)
            ),
            "Take a narrower kerf or fewer segments.",
        ),
        SlotCaution::NoStrip { fit_mm, kerf_mm } => (
            "fit_mm",
            format!(
                "A fit of {} in a kerf of {} leaves no strip.",
                mm(fit_mm),
                mm(kerf_mm)
            ),
            "Make the fit a few thousandths of an inch (0.1 mm).",
        ),
        SlotCaution::OneRing { height_mm } => (
            "to_ring",
            format!("The stack is a single ring, {} high.", mm(height_mm)),
            "Hold a low ring in a sled or jig; a longer slot goes through neighboring rings.",
        ),
        SlotCaution::SteepGauge { gauge_rad, own_deg } => (
            "gauge_deg",
            match own_deg {
                None => format!("{} is farther than most gauges swing.", degrees(gauge_rad)),
                Some(own_deg) => format!("At {}: {}.", degrees(gauge_rad), stops_at(own_deg)),
            },
            "Use a sled with a fence at that angle, or a smaller angle.",
        ),
        SlotCaution::Upright => (
            "gauge_deg",
            "At 0° the slots stand upright, along the axis.".to_owned(),
            "Nothing to mend if that is meant.",
        ),
        SlotCaution::HighBlade {
            blade_mm,
            is_tilted,
            own_mm,
        } => (
            "blade_mm",
            format!(
                "A blade {} above the table is higher than {}{}.",
                mm(blade_mm),
                own_mm.map_or_else(
                    || "most 10 in saws reach".to_owned(),
                    |own_mm| format!("yours rises, {}", mm(own_mm))
                ),
                if is_tilted { " at this tilt" } else { "" }
            ),
            "Look at the saw’s manual, turn the stack smaller, or show outside only.",
        ),
        SlotCaution::NoWood => (
            "wood",
            "The strips are of a wood that the vessel does not have.".to_owned(),
            "Choose one of the vessel’s woods.",
        ),
        SlotCaution::SharesRings { other, is_above } => (
            if is_above { "to_ring" } else { "from_ring" },
            format!(
                "Set {} goes through some of these rings, but not through the same: the blade saws the whole length of their stack, so each of both sets would cut through all rings of both.",
                other + 1
            ),
            "Let both sets go through the same rings, or share no ring.",
        ),
        SlotCaution::LayersOff {
            layer,
            layers_mm,
            strip_mm,
        } => (
            layer_field(layer),
            layers_off(layers_mm, strip_mm, unit),
            "Make the layers fit, or change one: the middle layer is the least seen.",
        ),
        SlotCaution::ThinLayer {
            layer,
            thickness_mm,
        } => (
            layer_field(layer),
            format!(
                "Layer {} of {} is sanded through before it is glued.",
                layer + 1,
                quantity::fine_length(thickness_mm, unit)
            ),
            "Take veneer of half a millimeter or more and do not sand it; press it between flat cauls.",
        ),
        SlotCaution::Through(ref caution) => through::caution(caution, unit),
    }
}

/// The field of a layer's thickness.
fn layer_field(layer: usize) -> &'static str {
    const FIELDS: [&str; 9] = [
        "layers.0.thickness_mm",
        "layers.1.thickness_mm",
        "layers.2.thickness_mm",
        "layers.3.thickness_mm",
        "layers.4.thickness_mm",
        "layers.5.thickness_mm",
        "layers.6.thickness_mm",
        "layers.7.thickness_mm",
        "layers.8.thickness_mm",
    ];
    FIELDS.get(layer).copied().unwrap_or("layers")
}

/// By how much layers are more or less than the strip that they are to be.
fn layers_off(layers_mm: f64, strip_mm: f64, unit: Unit) -> String {
    let mm = |length_mm: f64| quantity::fine_length(length_mm, unit);
    let how = if layers_mm > strip_mm {
        "too thick: the strip does not go into its slot"
    } else {
        "too thin: the strip is loose in its slot"
    };
    format!(
        "The layers come to {}, the strip is {}: they are {} {how}.",
        mm(layers_mm),
        mm(strip_mm),
        mm((layers_mm - strip_mm).abs())
    )
}

/// The woods of a strip's layers, from the left; names of woods hold commas.
pub fn layer_woods(names: &[&str]) -> String {
    names.join(" / ")
}

/// So many layers to rip of a wood.
pub fn rip_layers(count: u32, wood: &str, is_ripped: bool) -> String {
    let cut = if is_ripped { "Rip" } else { "Cut" };
    format!("{cut} {count} of {wood}")
}

/// What is ripped so thick: how wide, how long, and what is left of it when it is planed.
pub fn ripped_layer(
    [wide_mm, long_mm, planed_mm]: [f64; 3],
    is_planed: bool,
    unit: Unit,
) -> String {
    let wide = format!(
        "{} wide, {} long",
        show(wide_mm, unit).line(),
        at_least(long_mm, unit).line()
    );
    if is_planed {
        format!(
            "{wide}; plane to {}",
            quantity::fine_length(planed_mm, unit)
        )
    } else {
        format!("{wide}; of veneer")
    }
}

/// How many layers each of the strips has.
pub fn layers(count: usize) -> String {
    format!("each of {}", counted(count, "layer", "layers"))
}

/// What of the sticks one gives.
pub fn strips_each(each: u32) -> String {
    format!("{} from each", counted(each as usize, "strip", "strips"))
}

/// A caution's reason with the set that it is about.
pub fn about_set(place: usize, reason: &str) -> String {
    format!("Slot set {}: {reason}", place + 1)
}

/// A change that opens a window, in a few words.
pub fn opening(opening: Opening, unit: Unit) -> String {
    let mm = |length_mm: f64| length(length_mm, unit);
    match opening {
        Opening::HeldBy(held_by) => through::opening(held_by).to_owned(),
        Opening::SmallerHole(less) => format!(
            "Glue the rings with a hole {} smaller in diameter (extra inside {} on the radius).",
            mm(2.0 * less),
            mm(less)
        ),
        Opening::ThickerWall(more) => {
            format!("Make the finished wall {} thicker, foot to rim.", mm(more))
        }
        Opening::SmallerGauge(gauge_deg) => {
            format!("Set the gauge to {}°.", decimal(gauge_deg, 1))
        }
        Opening::SmallerTilt(tilt_deg) => {
            if tilt_deg == 0.0 {
                "Leave the blade upright.".to_owned()
            } else {
                format!("Set the blade’s tilt to {}°.", decimal(tilt_deg, 1))
            }
        }
        Opening::OtherRings(low, high) => format!("Slot {}.", rings(low, high)),
        Opening::Together(low, high, gauge_deg, shows) => {
            let outside = match shows {
                StripsShow::OutsideOnly => ", the strips outside only",
                StripsShow::OutsidePartly => ", the strips outside, a part of the way",
                StripsShow::InsideToo => "",
            };
            format!(
                "Slot {} with the gauge at {}°{outside}.",
                rings(low, high),
                decimal(gauge_deg, 1)
            )
        }
        Opening::OutsideOnly => "Let the strips show outside only.".to_owned(),
        Opening::TurnedRound => "Turn the stack round before you slot it.".to_owned(),
    }
}

/// What is said where no change of a set helps: about how much the wall leans too far.
pub fn no_opening(own: &SetPlan, unit: Unit) -> String {
    if own.is_through() {
        return "No single change helps: take other rings, or let the slots go into the wall only."
            .to_owned();
    }
    let missing_mm = own.window.least_mm.max(0.0) - own.window.most_mm().max(0.0);
    if own.window.leaves_surface || missing_mm < unit.snap_step_mm() {
        return "No single change helps: this wall leans too much for slots. In Vessel, draw it steeper through two rings, or keep it thicker.".to_owned();
    }
    format!(
        "No single change helps: across these rings the wall leans about {} too much for slots. In Vessel, draw it that much steeper through two rings, or keep it that much thicker.",
        length(missing_mm, unit)
    )
}

fn rings(low: usize, high: usize) -> String {
    match high - low {
        0 => format!("ring {} alone, held in a sled or jig,", low + 1),
        1 => format!("rings {} and {}", low + 1, high + 1),
        _ => format!("rings {} to {}", low + 1, high + 1),
    }
}

/// A set in a few words.
pub fn set_name(place: usize, own: Option<&SetPlan>) -> String {
    let Some(own) = own else {
        return format!("{} {}", super::list::INLAY_SET.text, place + 1);
    };
    let (low, high) = (own.rings.start() + 1, own.rings.end() + 1);
    let lean = match own.slots.gauge_rad {
        gauge if gauge > 0.0 => " right",
        gauge if gauge < 0.0 => " left",
        _ => "",
    };
    let rings = if low == high {
        format!("ring {low}")
    } else {
        format!("rings {low}–{high}")
    };
    let gauge = degrees(own.slots.gauge_rad.abs());
    let tilted = tilted(own.slots.tilt_rad);
    let through = if own.is_through() {
        ", through the wall"
    } else {
        ""
    };
    format!(
        "{}: {} × {gauge}{lean}{tilted}, {rings}{through}",
        place + 1,
        own.slots.count
    )
}

/// That a blade is tilted; nothing of an upright one.
pub fn tilted(tilt_rad: f64) -> String {
    if tilt_rad == 0.0 {
        return String::new();
    }
    let side = if tilt_rad < 0.0 { "left" } else { "right" };
    format!(", tilted {} in to the {side}", degrees(tilt_rad.abs()))
}

/// Where a tilted blade's top goes, for who stands behind the gauge.
pub fn tilts_to(tilt_rad: f64) -> &'static str {
    if tilt_rad < 0.0 {
        "its top to your right"
    } else {
        "its top to your left"
    }
}

/// What a slot's handle says.
pub fn handle_says(is_lean: bool, own: &SetPlan, further_deg: f64) -> String {
    if is_lean {
        format!("Lean of the slots: {}", degrees(own.slots.gauge_rad))
    } else {
        format!("Place of the slots: {}° further", decimal(further_deg, 2))
    }
}

/// How far that is round the outside.
pub fn along(length_mm: f64, unit: Unit) -> String {
    format!("{} round the outside", show(length_mm, unit).line())
}

/// A count of slots.
pub fn slots(count: u32) -> String {
    format!("with {}", counted(count as usize, "slot", "slots"))
}

/// From one slot to the next, in segments.
pub fn segments_apart(count: u32) -> String {
    let end = match (count % 10, count % 100) {
        (1, tens) if tens != 11 => "st",
        (2, tens) if tens != 12 => "nd",
        (3, tens) if tens != 13 => "rd",
        _ => "th",
    };
    format!("every {count}{end} segment")
}

/// Where the two ends of a zigzag would each meet, where they differ.
pub fn zigzag_ends(bottom_rad: f64, top_rad: f64) -> String {
    let shown = |radians: f64| decimal(radians.to_degrees(), 1);
    format!(
        "{}° at the foot end, {}° at the rim end",
        shown(bottom_rad),
        shown(top_rad)
    )
}

/// A zigzag's note where the blade has no height at that angle.
pub fn without_window(note: &str) -> String {
    let says = "no blade height works at this angle";
    if note.is_empty() {
        says.to_owned()
    } else {
        format!("{note}; {says}")
    }
}

/// What the least height of a set's blade is for.
pub fn least(own: &SetPlan) -> super::word::Word {
    match own.shows {
        _ if own.is_through() => super::list::SLOT_LEAST_THROUGH,
        StripsShow::OutsidePartly => super::list::SLOT_LEAST_PARTLY,
        StripsShow::OutsideOnly | StripsShow::InsideToo => super::list::SLOT_LEAST,
    }
}

/// What the most height of a set's blade leaves.
pub fn most(own: &SetPlan) -> super::word::Word {
    match own.held_by {
        StackHeld::Bridge => super::list::SLOT_MOST,
        StackHeld::Strips => super::list::SLOT_MOST_ACROSS,
        StackHeld::Discs => super::list::SLOT_MOST_DISCS,
    }
}

/// Between which heights strips show.
pub fn shown_between(heights_mm: &[[f64; 2]], unit: Unit) -> String {
    let mm = |length_mm: f64| show(length_mm, unit).line();
    let between = |[from, to]: &[f64; 2]| format!("{} to {}", mm(*from), mm(*to));
    match heights_mm {
        [] => "nowhere".to_owned(),
        all => all.iter().map(between).collect::<Vec<_>>().join(", "),
    }
}

/// How many times larger heights are drawn.
pub fn drawn_larger(times: f64) -> String {
    format!(
        "Drawn to scale along the outside; heights {} times larger.",
        decimal(times, 1)
    )
}

/// What strips are crosscut from.
pub fn strips_from(length_mm: f64, unit: Unit) -> String {
    format!(
        "crosscut from long thin strips, {} of them in all",
        at_least(length_mm, unit).line()
    )
}

/// What is left between the blade and its limits.
pub fn either_side(room_mm: f64, unit: Unit) -> String {
    format!(
        "give or take {}",
        quantity::fine_at_most(room_mm, unit).line()
    )
}

/// The order of work for every set, with its numbers: each with its strips' woods, and
/// whether its stack is turned round.
pub fn order_of_work(sets: &[(&SetPlan, String, bool)], unit: Unit) -> Vec<String> {
    let mut steps = Vec::new();
    let mut before: Vec<&SetPlan> = Vec::new();
    for (place, (own, wood, _)) in sets.iter().enumerate() {
        steps.extend(sticks_glued(place, own, wood, unit));
    }
    for (own, wood, is_round) in sets {
        if !is_on_same_stack(own, &before) {
            steps.push(stack_made(own, *is_round, unit));
            steps.extend(own.is_open().then(|| pushed(own, unit)));
        }
        steps.extend(sawing(own, wood, *is_round, &before, unit));
        before.push(own);
    }
    if !sets.is_empty() {
        steps.push(
            "When all sets are dry and trimmed, glue the stack to its neighbors or mount it."
                .to_owned(),
        );
    }
    steps
}

/// How the sticks of a set's layered strips are glued up, before anything is sawn.
fn sticks_glued(place: usize, own: &SetPlan, wood: &str, unit: Unit) -> Option<String> {
    let sticks = own.sticks.as_ref().filter(|_| own.is_open())?;
    let mm = |length_mm: f64| show(length_mm, unit).whole_line();
    let [thick, wide, _] = own.strip_mm;
    Some(format!(
        "Set {}: glue the layers face to face in their order, {wood}, to {}, each {} long and {} wide, between straight cauls. When the glue is hard, clean the edges, bring it to {} wide and {} thick.",
        place + 1,
        counted(sticks.count as usize, "stick", "sticks"),
        at_least(sticks.long_mm, unit).line(),
        mm(sticks.wide_mm),
        mm(wide),
        quantity::fine(thick, unit).line(),
    ))
}

/// How far a stack is pushed over the blade, and what then stands out on the turner's side.
pub fn pushed(own: &SetPlan, unit: Unit) -> String {
    let behind_mm = own.blade_behind_mm();
    format!(
        "Push until the fence’s face is over the blade’s middle: only there is the slot full depth at the foot side. A 10 in blade then comes out {} behind that face: a block at least {} thick, screwed behind the fence, keeps it from your side; hands on the gauge’s handle only.",
        at_least(behind_mm, unit).line(),
        at_least(behind_mm + BLOCK_BEYOND_MM, unit).line(),
    )
}

fn is_on_same_stack(own: &SetPlan, before: &[&SetPlan]) -> bool {
    before.last().is_some_and(|it| it.rings == own.rings)
}

/// Whether a strip that fits the slots of one set fits those of another.
fn is_same_slot(one: &SetPlan, other: &SetPlan) -> bool {
    let same = |a: f64, b: f64| (a - b).abs() < HAIR_MM;
    let is_tilted = |own: &SetPlan| own.slots.tilt_rad != 0.0;
    same(one.slots.kerf_mm, other.slots.kerf_mm)
        && same(one.strip_mm[0], other.strip_mm[0])
        && same(one.blade_mm, other.blade_mm)
        && !is_tilted(one)
        && !is_tilted(other)
}

/// How far each ring of a set's stack reaches, and the widest.
fn reaches(own: &SetPlan) -> (Vec<f64>, f64) {
    let layers = own.stack.layers.iter();
    let reaches: Vec<f64> = layers.map(|layer| layer.outside.farthest_mm()).collect();
    let widest = reaches.iter().copied().fold(0.0, f64::max);
    (reaches, widest)
}

/// The stack that a set is sawn into, before it is.
fn stack_made(own: &SetPlan, is_round: bool, unit: Unit) -> String {
    let mm = |length_mm: f64| show(length_mm, unit).whole_line();
    let (low, high) = (own.rings.start() + 1, own.rings.end() + 1);
    let (reaches, widest) = reaches(own);
    let is_one = reaches.iter().all(|reach| *reach > widest - HAIR_MM);
    let turned = match (is_round, is_one) {
        (true, true) => format!("turn the outside round to {}", mm(2.0 * widest)),
        (true, false) => format!(
            "turn each ring round within its flats, the widest to {}",
            mm(2.0 * widest)
        ),
        (false, _) => "leave the outside as polygons".to_owned(),
    };
    let height = mm(own.stack.height_mm());
    if low == high {
        format!("Ring {low}, {height} high: flatten both faces and {turned}.")
    } else {
        format!(
            "Glue rings {low} to {high} into one stack, {height} high; flatten both faces and {turned}."
        )
    }
}

/// A set's slots from their marks to the trimmed strips, once their stack is there;
/// `before` are the sets that are sawn before it.
pub fn sawing(
    own: &SetPlan,
    wood: &str,
    is_round: bool,
    before: &[&SetPlan],
    unit: Unit,
) -> Vec<String> {
    let mm = |length_mm: f64| show(length_mm, unit).whole_line();
    let name = before.len() + 1;
    let mut steps: Vec<String> = crossed(own, before).into_iter().collect();
    steps.push(if is_on_same_stack(own, before) {
        "Mark this set from the same index strip, and draw its lines anew: the trimming took them."
            .to_owned()
    } else {
        format!(
            "Wrap the index strip round the stack and mark the slots: {} apart along the outside.",
            mm(own.circumference_mm() / f64::from(own.slots.places()))
        )
    });
    if !own.is_open() {
        steps.push(format!(
            "Set {name}: do not saw it. No blade height works as it is; change it first."
        ));
        return steps;
    }
    let lean = if own.slots.gauge_rad < 0.0 {
        "left"
    } else {
        "right"
    };
    if own.is_through() {
        steps.extend(through::before(own, unit));
    }
    steps.push(format!(
        "Set {name}: gauge {} so that the slots lean {lean} as they rise, kerf {}, {}blade {} above the table{}.{}",
        degrees(own.slots.gauge_rad.abs()),
        mm(own.slots.kerf_mm),
        blade_tilted(own.slots.tilt_rad),
        mm(own.blade_mm),
        if own.slots.tilt_rad == 0.0 { "" } else { " at its highest tooth" },
        if before.iter().any(|it| is_same_slot(it, own)) {
            ""
        } else {
            " Saw one slot in a scrap first, with a blade that leaves its bottom flat, and try the strips in it."
        }
    ));
    steps.extend(tilt_kept(own.slots.tilt_rad));
    if own.shows == StripsShow::OutsidePartly {
        steps.push(format!(
            "The depth says where the strips begin and end on the turned surface: from {} above the foot. A little deeper or shallower they hold as well, and end elsewhere: measure it on the scrap slot.",
            shown_between(&own.shown_mm(), unit),
        ));
    }
    steps.push(format!(
        "Stand the foot side against a fence at least {} high and longer than the stack is wide, let the outside rest on the table, and clamp the stack to the fence, a bar across its other face, at least {} above the table, clear of the blade.",
        at_least(own.table_mm(), unit).line(),
        at_least(own.blade_mm + CLAMP_ABOVE_MM, unit).line()
    ));
    let (reaches, widest) = reaches(own);
    if reaches.iter().any(|reach| *reach < widest - 0.5) {
        steps.push(
            "Only the widest ring touches the table: the fence alone holds the stack’s axis level, so shim the smaller rings before you clamp."
                .to_owned(),
        );
    }
    if !is_round {
        steps.push(
            "Where a slot stands on a corner, that corner touches the table: hold the stack in a cradle so that it cannot roll onto a flat."
                .to_owned(),
        );
    }
    match own.held_by {
        StackHeld::Bridge => steps.extend(saw_and_fill(own, wood, unit)),
        StackHeld::Strips => {
            steps.extend(through::one_by_one(&crosscut(own, wood, unit), unit));
        }
        StackHeld::Discs => {
            let [saw, fill, _] = saw_and_fill(own, wood, unit);
            steps.extend([saw, fill, through::discs_off(own)]);
        }
    }
    steps
}

/// What must be done before slots that cut through other strips are sawn.
fn crossed(own: &SetPlan, before: &[&SetPlan]) -> Option<String> {
    let numbered = (1..).zip(before);
    let crossed = numbered.filter(|(_, it)| crate::plan::inlay::cross(it, own));
    let crossed: Vec<String> = crossed.map(|(set, _)| set.to_string()).collect();
    (!crossed.is_empty()).then(|| {
        format!(
            "First the strips of set {} must be glued, dry and flush: these slots cut through them.",
            crossed.join(", ")
        )
    })
}

/// The tilt that a blade is set to before its height; nothing of an upright one.
fn blade_tilted(tilt_rad: f64) -> String {
    if tilt_rad == 0.0 {
        return String::new();
    }
    let (angle, to) = (degrees(tilt_rad.abs()), tilts_to(tilt_rad));
    format!("tilt the blade to {angle} from upright, {to}; then set its height, ")
}

/// What to keep to with a tilted blade.
fn tilt_kept(tilt_rad: f64) -> Option<String> {
    let [leans, other] = if tilt_rad < 0.0 {
        ["right", "left"]
    } else {
        ["left", "right"]
    };
    (tilt_rad != 0.0).then(|| format!(
        "Read the saw’s manual on tilted cuts first: insert, guard and knife must clear the blade. It leans over the table to your {leans}: keep hands, clamps and stops clear of that side. A saw that tilts only to the {other}: stand the rim side against the fence in place of the foot side; gauge, marks and height stay as they are."
    ))
}

/// Sawing and filling the slots of a set: one slot takes one strip.
fn saw_and_fill(own: &SetPlan, wood: &str, unit: Unit) -> [String; 3] {
    let count = own.slots.count as usize;
    let (turning, glue, strips) = match count {
        1 => ("", "it in down to the bottom of the slot", "strip"),
        _ => (
            ", the blade stopped while turning to the next mark",
            "them in down to the bottom of the slots",
            "strips",
        ),
    };
    [
        format!("Saw {}{turning}.", counted(count, "slot", "slots")),
        format!(
            "{} Glue {glue}, as many at a time as are home before the glue grabs, and press them home with a band clamp round the stack, wax paper under it.",
            crosscut(own, wood, unit)
        ),
        format!(
            "Let the glue dry, then trim the {strips} flush outside and at both faces with a saw and a flat sanding block, before anything else rests on the table; the faces stay flat."
        ),
    ]
}

/// What the strips of a set are cut off, and how large.
fn crosscut(own: &SetPlan, wood: &str, unit: Unit) -> String {
    let mm = |length_mm: f64| show(length_mm, unit).whole_line();
    let [thick, wide, long] = own.strip_mm;
    format!(
        "Crosscut {} of {wood}, {} thick, {} wide, {} long, off {}.",
        counted(own.slots.count as usize, "strip", "strips"),
        quantity::fine(thick, unit).line(),
        mm(wide),
        mm(long),
        if own.sticks.is_some() {
            "the sticks of layers, one end of all marked “up”: in the slots the layers lie in this order from the left, seen from outside"
        } else {
            "the long thin ones: a piece so short is never ripped by itself"
        }
    )
}
