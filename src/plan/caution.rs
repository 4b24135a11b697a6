//! Things to look at before cutting: each with its number, its reason and what to
//! do. The sentences are made in [`crate::show::words`].

use crate::design::GapBy;
use crate::trade::index_plate::Turn;

/// One caution. Lengths are in millimeters.
#[derive(Clone, Debug, PartialEq)]
pub enum Caution {
    /// The figures as rounded for the tape leave less outside than the finished ring.
    RoundedTooSmall {
        /// Diameter of the largest circle in the ring as it will be cut.
        circle_mm: f64,
        /// Finished outside diameter.
        wanted_mm: f64,
    },
    /// The figures as rounded for the tape leave a larger hole than the finished ring.
    RoundedHoleTooLarge {
        /// Diameter of the smallest hole in the ring as it will be cut.
        hole_mm: f64,
        /// Finished inside diameter.
        wanted_mm: f64,
    },
    /// A segment so small that it must be held by a jig or clamp.
    SmallSegment {
        /// Its long edge.
        long_edge_mm: f64,
    },
    /// A strip so narrow that ripping it needs a jig on the far side of the blade.
    NarrowStrip {
        /// Its width.
        width_mm: f64,
    },
    /// The piece kept back brings the hand near the blade.
    ShortHoldBack {
        /// Its length.
        length_mm: f64,
    },
    /// An odd count leaves no two halves to true before the last glue-up.
    OddCount {
        /// The segment count.
        count: u32,
    },
    /// So few segments that the saw must stand at an angle which most do not reach.
    SteepSaw {
        /// The saw's setting from square, radians.
        setting_rad: f64,
        /// Where the turner's own stops, degrees; where that is not said, most do.
        own_deg: Option<f64>,
    },
    /// Rings thinner than the turner's planer takes.
    ThinForPlaner {
        /// The rings, each by its place.
        rings: Vec<usize>,
        /// What the first of them is planed to.
        height_mm: f64,
        /// The least that the planer takes.
        least_mm: f64,
    },
    /// A segment of an open ring, or on one, that rests on a single segment.
    RestsOnOne,
    /// An open ring at the foot or the rim.
    OpenEnd {
        /// Whether at the rim.
        is_rim: bool,
    },
    /// A segment that hardly rests on one of those below.
    RestsLittle {
        /// How far it reaches over it along the middle of the wall.
        along_mm: f64,
        /// How the ring’s gaps are told.
        gap_by: GapBy,
    },
    /// A row that a catch at the rim could break off its glue.
    BendsHard {
        /// What is glued under all its segments together.
        glued_mm2: f64,
        /// How far the rim stands above it.
        above_mm: f64,
    },
    /// An open ring whose segments stand in no holes of an index plate.
    NoIndex {
        /// Its segments.
        count: u32,
        /// How far they are turned on.
        turn: Turn,
        /// Whether the plates are the turner's own.
        is_own: bool,
        /// The nearest counts below and above that some plate serves.
        nearest: [Option<u32>; 2],
    },
    /// A ring that is to turn slower than the lathe does, while it has corners.
    LatheTooFast {
        /// Diameter over the corners.
        diameter_mm: f64,
        /// The fastest that it may turn, turns a minute.
        rpm: f64,
        /// The slowest that the lathe turns, turns a minute.
        slowest_rpm: u32,
    },
    /// Rings that are not as thick as any stock at hand, planed.
    NoSuchStock {
        /// The rings, each by its place.
        rings: Vec<usize>,
        /// What the first of them needs, both faces' allowance included.
        height_mm: f64,
        /// The most that is planed away.
        plane_mm: f64,
    },
    /// Nothing is kept for turning.
    NoAllowance,
    /// The ring as it will be cut does not hold the whole wall.
    ThinWall {
        /// The least that is left square across, at the worst side.
        left_mm: f64,
        /// The wall that was wanted there.
        wanted_mm: f64,
    },
    /// The ring as it was measured does not hold the whole wall.
    MeasuredSmall {
        /// The least that is left, at the worst place.
        left_mm: f64,
        /// The wall that was wanted there.
        wanted_mm: f64,
    },
    /// The ring as it was measured holds the wall with next to nothing to spare.
    MeasuredTight {
        /// What is to spare, at the worst place.
        left_mm: f64,
    },
    /// Little glue is left at a joint between two rings after turning.
    NarrowGlue {
        /// Width of the joint.
        width_mm: f64,
        /// Whether both its rings are glued already.
        are_glued: bool,
    },
    /// Half or more of a ring's joints stand over joints of the ring below.
    JointsInLine {
        /// How many do.
        count: u32,
    },
    /// A segment shorter than the turner cuts gladly.
    ShortSegment {
        /// Its long edge.
        long_edge_mm: f64,
        /// The shortest that is wanted.
        least_mm: f64,
    },
    /// A strip wider than the boards at hand.
    WiderThanBoard {
        /// Width of the strip.
        width_mm: f64,
        /// Width of the widest board.
        board_mm: f64,
    },
    /// A ring higher than the stock at hand.
    HigherThanStock {
        /// Height of the strip, both faces' allowance included.
        height_mm: f64,
        /// Thickest stock at hand.
        stock_mm: f64,
    },
    /// A wall that leans so much that more of the ring is turned away than kept.
    Wasteful {
        /// Share of the blank that is kept, 0 to 1.
        share: f64,
    },
    /// Segments that meet in the middle of the floor.
    WedgesInFloor,
    /// The inside is a long straight slope down to the floor.
    Funnel {
        /// Height at which the slope ends.
        top_mm: f64,
    },
    /// An opening small against the inside that must be reached through it.
    SmallOpening {
        /// Diameter of the opening.
        opening_mm: f64,
        /// Greatest inside diameter below it.
        inside_mm: f64,
    },
    /// A foot so small that the vessel tips easily.
    SmallFoot {
        /// Angle at which it falls, radians.
        angle_rad: f64,
    },
    /// A ring that the lathe does not swing.
    PastSwing {
        /// Diameter over the corners.
        diameter_mm: f64,
        /// Whether it swings the ring once its corners are off.
        is_round_within: bool,
        /// What the lathe swings.
        swing_mm: f64,
    },
    /// A waste block that the lathe does not swing.
    BlockPastSwing {
        /// Its diameter.
        diameter_mm: f64,
        /// What the lathe swings.
        swing_mm: f64,
    },
    /// A ring of the piece that keeps the rings with slots off the saw's table.
    InTheWay {
        /// The ring.
        ring: usize,
        /// How far it stands out beyond them.
        by_mm: f64,
    },
    /// The rings end below the rim.
    StackTooLow {
        /// What is missing.
        missing_mm: f64,
    },
    /// The rings end above the rim.
    StackTooHigh {
        /// What is too much.
        excess_mm: f64,
    },
    /// A base let into its ring that moves farther than the ring can bear.
    BaseBreaksRing {
        /// How far it moves against the ring, on the diameter.
        most_mm: f64,
        /// The same as a share of the diameter.
        share: f64,
    },
    /// A base glued under its ring that moves farther than the joint can bear.
    BaseTears {
        /// How far it moves against the ring, on the diameter.
        most_mm: f64,
    },
    /// Plies that pull a base hollow.
    BaseCups {
        /// How many they are.
        plies: u32,
        /// Rise of the middle, if it lay free.
        cup_mm: f64,
    },
    /// A disc that can slip past its ledge.
    LedgeTooNarrow {
        /// Width of the ledge.
        ledge_mm: f64,
        /// Play in the driest season.
        loose_mm: f64,
    },
    /// A base let into a ring above a glued one whose hole is wider than the base.
    BaseNotCarried {
        /// The number of that ring.
        ring: usize,
        /// Diameter around its hole, corners and all.
        hole_mm: f64,
        /// How much wider that is than the base.
        wider_mm: f64,
    },
    /// A base that is not as thick as its place is high.
    BaseHeight {
        /// Thickness of the base.
        base_mm: f64,
        /// Height of its place.
        room_mm: f64,
    },
    /// A wood whose movement is not known.
    NoFigures {
        /// Its name.
        wood: String,
    },
    /// Air that the published table does not cover.
    AirPastTable {
        /// `shop`, `dry` or `damp`.
        air: &'static str,
    },
    /// The driest season is not drier than the dampest.
    SeasonsSwapped,
    /// The wall fills the whole inside up to a height above the floor.
    WallFills {
        /// That height.
        height_mm: f64,
    },
    /// The shop is colder than the glue stands.
    ColdShop {
        /// Temperature of the shop, degrees Celsius.
        shop_c: f64,
        /// The least that the glue stands.
        least_c: f64,
        /// How long the wood lies in a warm room before it is glued.
        warming_min: f64,
        /// How long it stays there.
        stay_min: f64,
    },
    /// The wood's mass lies off the axis.
    OutOfBalance {
        /// How far.
        offset_mm: f64,
        /// How hard it pulls at the upper bound of speed, newtons.
        pull_n: f64,
        /// That speed, turns a minute.
        rpm: f64,
    },
    /// A straight tool does not reach some of the inside.
    OutOfReach {
        /// How deep it lies.
        depth_mm: f64,
        /// The narrowest way there.
        opening_mm: f64,
        /// How far the tool stands out from the rest there.
        overhang_mm: f64,
    },
    /// About the slot set at this place.
    Slots(usize, SlotCaution),
    /// About a ring's striped segments.
    Stripes(StripeCaution),
}

/// A caution about striped segments. Lengths are in millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
#[allow(missing_docs, reason = "each name says what the figure is")]
pub enum StripeCaution {
    /// An odd count leaves two segments alike side by side.
    OddChevron { count: u32 },
    /// The stripes miss each other at the joints.
    Miss { by_mm: f64 },
    /// The layers come to more than a segment shows.
    RepeatPastBoard { repeat_mm: f64, across_mm: f64 },
    /// A layer that is sanded through.
    ThinLayer { thickness_mm: f64 },
    /// Hardly anything is left of a layer at a segment's edge.
    Sliver { left_mm: f64 },
    /// The ring's faces are end grain.
    EndGrain { slant_rad: f64 },
    /// A saw setting that most gauges do not reach.
    SteepSaw {
        setting_rad: f64,
        /// Where the turner's own gauge stops, where that is said.
        own_deg: Option<f64>,
    },
    /// Each segment is mitered from a stick of its own.
    ShortPieces { long_mm: f64 },
}

/// A caution about a set of slots. Lengths are in millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
#[allow(missing_docs, reason = "each name says what the figure is")]
pub enum SlotCaution {
    /// No blade height both shows the strips as wished and leaves the bridge.
    NoWindow {
        /// The least height at which they show.
        least_mm: f64,
        /// The most that leaves what must stay.
        most_mm: f64,
        /// Whether above it they would show inside as well.
        shows_inside: bool,
        /// Whether a part of the way would do.
        is_partly: bool,
    },
    /// The heights that do both are nearer to each other than a hand sets a blade.
    NarrowWindow {
        /// So much either way of the middle.
        room_mm: f64,
        /// Whether a part of the way would do.
        is_partly: bool,
    },
    /// The lean carries the slots off the finished surface before the stack's ends.
    LeavesSurface {
        /// Whether the blade's tilt has a part in it.
        is_tilted: bool,
    },
    /// The blade comes through into the hole.
    BreaksThrough { by_mm: f64 },
    /// Little wood is left under the slots.
    ThinBridge { left_mm: f64, least_mm: f64 },
    /// The strip does not reach deep enough for the finished outside.
    TurnedAway { by_mm: f64 },
    /// Nothing of a strip that is to show along a part is seen.
    NothingShows { by_mm: f64 },
    /// The strip does not reach the finished inside everywhere.
    NotAllInside { by_mm: f64 },
    /// The finished inside uncovers the bottom of a slot.
    Uncovered { by_mm: f64 },
    /// The slots are to go through the whole wall.
    Through(ThroughCaution),
    /// Neighbouring slots run into each other.
    Overlap { count: u32 },
    /// The kerf is wider than a segment is long.
    KerfPastSegment { kerf_mm: f64, segment_mm: f64 },
    /// The fit leaves no strip.
    NoStrip { fit_mm: f64, kerf_mm: f64 },
    /// The stack is a single ring.
    OneRing { height_mm: f64 },
    /// A gauge angle that most gauges do not reach.
    SteepGauge {
        gauge_rad: f64,
        /// Where the turner's own gauge stops, where that is said.
        own_deg: Option<f64>,
    },
    /// The slots stand upright.
    Upright,
    /// Higher than most blades can be raised.
    HighBlade {
        blade_mm: f64,
        /// Whether the blade is tilted.
        is_tilted: bool,
        /// How high the turner's own rises at that tilt, where that is said.
        own_mm: Option<f64>,
    },
    /// The strip's wood is none of the vessel's.
    NoWood,
    /// Another set goes through some of its rings, and not through the same.
    SharesRings {
        /// The other set's place.
        other: usize,
        /// Whether the topmost rings differ; else the lowest ones do.
        is_above: bool,
    },
    /// The layers do not come to the strip's thickness; the layer in the middle is named.
    LayersOff {
        layer: usize,
        layers_mm: f64,
        strip_mm: f64,
    },
    /// A layer that is sanded through.
    ThinLayer { layer: usize, thickness_mm: f64 },
}

/// A caution about slots that go through the whole wall. Lengths are in millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
#[allow(missing_docs, reason = "each name says what the figure is")]
pub enum ThroughCaution {
    /// There is no hole in one of the rings, counted from 0, or a floor lies
    /// in it.
    NoHole { ring: usize },
    /// Slots that are to go through the wall pass beside the hole.
    PastHole {
        /// Whether the blade's tilt has a part in it.
        is_tilted: bool,
    },
    /// No blade height goes through the wall and leaves what holds the stack.
    NoWayThrough {
        /// The least height that goes through.
        least_mm: f64,
        /// The most that leaves the rest.
        most_mm: f64,
        /// Whether that is the middle of the discs; else the wall across.
        of_discs: bool,
    },
    /// The blade does not come through the whole wall.
    NotThrough { by_mm: f64 },
    /// The blade goes so far that it takes what holds the stack.
    TooDeep {
        by_mm: f64,
        /// Whether that is the middle of the discs; else the wall across.
        of_discs: bool,
    },
    /// Slots that are sawn on the piece: no disc can be glued on a face that is glued already.
    NoDiscOnPiece,
    /// What stands between slots hardly hangs on the discs, or would come loose.
    LooseBetween { left_mm: f64, least_mm: f64 },
}

/// A caution at its place in a vessel.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// The caution.
    pub caution: Caution,
    /// The ring that it is about, from the foot up.
    pub ring: Option<usize>,
    /// The height at which it applies.
    pub height_mm: f64,
}

/// Below this share of its blank a ring wastes too much: a quarter. An upright wall
/// keeps about half of its ring, corners and allowances being turned away (our own
/// choice, no published source).
pub const WASTEFUL_SHARE: f64 = 0.25;

/// Below this width a glue joint between rings is weak: 1/4 in (common practice, no
/// published source).
pub const NARROW_GLUE_MM: f64 = 6.35;

/// Below this a glued ring has next to nothing to spare: 1/64 in, as far as a ring is
/// easily glued off center (our own choice, no published source).
pub const TIGHT_RING_MM: f64 = 0.397;

/// A segment of an open ring that reaches less far over one below is hardly held: 1/4 in, as a
/// narrow glue joint (our own choice, no published source).
pub const RESTS_LITTLE_MM: f64 = 6.35;

/// A catch at the rim that bends harder than this on the glue under an open row is told: a tenth
/// of what a good joint of wood holds, newtons a square millimeter (our own choice, no published
/// source).
pub const BENDS_HARD_N_MM2: f64 = 1.0;

/// Below this angle a vessel tips easily: 12° (our own choice, no published source).
pub const TIPS_EASILY_RAD: f64 = 0.209_4;

pub use crate::trade::lathe::SMALL_OPENING_MM;

/// Below this long edge a segment is hard to hold by anything but a jig: 1 in
/// (common practice, no published source).
pub const SMALL_SEGMENT_MM: f64 = 25.4;

/// Most miter gauges and miter saws swing no farther from square than 50° (common
/// practice, no published source).
pub const STEEPEST_SAW_DEG: f64 = 50.0;

/// Below this width a strip falls between blade and fence: 1/2 in (common practice,
/// no published source).
pub const NARROW_STRIP_MM: f64 = 12.7;

/// The least distance from hand to blade: 3 in (common practice, no published source;
/// 3 to 6 in is the usual clear zone).
pub const HAND_TO_BLADE_MM: f64 = 76.2;
