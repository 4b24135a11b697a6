//! Everything that the turner decided: what is kept, shared and undone.
//!
//! In a file a design is plain JSON with these names; lengths are in millimeters,
//! whatever unit is shown. Names that this version does not know are kept and
//! written back, so that an older page does not spoil a newer page's work.

pub mod example;
pub mod field;
pub mod link;
pub mod trouble;

use crate::design::field::{FIELDS, Field, Kind, LISTS, key, pointer};
use crate::design::trouble::{Reason, Trouble};
pub use crate::trade::room::Across;
use crate::trade::shape::{Curve, Point};
use crate::units::kept::{Kept, kept_choice, kept_record, part};
use crate::units::length::Unit;
use serde_json::{Map, Value};

/// The version of the design's form that this library writes. A reader keeps what it
/// does not know, so the number only grows when old names change their meaning.
pub const FORM: u32 = 1;

/// A whole design.
#[derive(Clone, Debug, PartialEq)]
pub struct Design {
    /// Version of the form, [`FORM`].
    pub form: u32,
    /// The turner's name for it; may be empty.
    pub name: String,
    /// What lengths are shown in.
    pub unit: Unit,
    /// The ring of the Ring place.
    pub ring: RingChoice,
    /// Wood kept for turning away.
    pub allowance: Allowance,
    /// The saw and the strips at hand.
    pub shop: Shop,
    /// What was measured at a dry ring.
    pub dry_fit: DryFit,
    /// The stave look-up.
    pub stave: StaveChoice,
    /// The paper.
    pub paper: Paper,
    /// The vessel, once one was begun.
    pub vessel: Option<Vessel>,
    /// Woods that the turner says something of, beside the table's.
    pub woods: Vec<OwnWood>,
    /// Air of the shop and of the seasons to come, once it was said.
    pub climate: Option<Climate>,
    /// The base, once it was said.
    pub base: Option<BaseChoice>,
    /// The boards, once some were entered.
    pub rack: Option<Rack>,
    /// The bench, once something there was chosen.
    pub bench: Option<Bench>,
    /// Rings as they were measured once glued, from the foot up.
    pub measured: Vec<MeasuredRing>,
    /// What a newer version wrote beside it, at any depth outside of lists (whose things
    /// move); written back by [`to_value`].
    pub unknown: Map<String, Value>,
}

kept_choice! {
    /// How the hole is given.
    pub enum HoleBy {
        /// By the wall's thickness.
        Wall = "wall",
        /// By its diameter.
        InsideDiameter = "inside_diameter",
    }
}

kept_choice! {
    /// What stands between neighbouring segments.
    pub enum Between {
        /// Only glue.
        Nothing = "nothing",
        /// A piece of wood of even thickness.
        Spacer = "spacer",
        /// Air.
        Gap = "gap",
    }
}

kept_record! {
    /// One ring.
    pub struct RingChoice {
        /// Finished outside diameter.
        pub outside_diameter_mm: f64,
        /// Which of the next two counts.
        pub hole_by: HoleBy,
        /// Finished wall.
        pub wall_mm: f64,
        /// Finished inside diameter.
        pub inside_diameter_mm: f64,
        /// Finished height.
        pub height_mm: f64,
        /// Number of segments.
        pub segment_count: u32,
        /// What stands between them.
        pub between: Between,
        /// Thickness of the spacer or gap, when there is one.
        pub spacer_mm: f64,
        /// The wood's name; may be empty.
        pub wood: String,
        /// Whether all its segments are to come from one board.
        pub is_matched: bool,
    }
}

kept_record! {
    /// Wood kept for turning away.
    pub struct Allowance {
        /// On the outside radius.
        pub outside_mm: f64,
        /// On the inside radius.
        pub inside_mm: f64,
        /// On each face of a ring.
        pub face_mm: f64,
    }
}

kept_choice! {
    /// What a price is for.
    pub enum PricePer {
        /// 144 cubic inches.
        BoardFoot = "board_foot",
        /// A cubic meter.
        CubicMeter = "cubic_meter",
    }
}

kept_record! {
    /// The saw and the strips.
    pub struct Shop {
        /// Width of the saw's cut.
        pub kerf_mm: f64,
        /// Shortest piece still held safely at a strip's end.
        pub hold_back_mm: f64,
        /// Length of the strips at hand.
        pub strip_length_mm: f64,
        /// Price of the wood, in the turner's own money.
        pub price: Option<f64>,
        /// What the price is for.
        pub price_per: PricePer,
        /// Thicknesses of stock at hand, planed: a ring is never higher than one of them.
        pub stock_mm: Vec<f64>,
        /// Width of the boards at hand.
        pub board_width_mm: Option<f64>,
        /// Shortest long edge that the turner cuts gladly.
        pub least_segment_mm: f64,
        /// Largest diameter that the lathe swings.
        pub swing_mm: Option<f64>,
        /// Wood reckoned lost to knots, ends and offcuts, of a hundred bought.
        pub waste_percent: u32,
    }
}

kept_record! {
    /// What was measured at a dry ring, or at some glued segments.
    pub struct DryFit {
        /// How the last joint stands open.
        pub open_at: crate::trade::closing::OpenAt,
        /// How far.
        pub gap_mm: Option<f64>,
        /// Segments glued, for the protractor.
        pub glued_count: u32,
        /// What the protractor reads over them.
        pub glued_angle_deg: Option<f64>,
    }
}

kept_record! {
    /// The stave look-up.
    pub struct StaveChoice {
        /// Number of staves.
        pub count: u32,
        /// Lean from vertical, positive outward toward the top.
        pub lean_deg: f64,
        /// Length along the slope.
        pub length_mm: f64,
        /// Outside diameter across the flats at the bottom.
        pub bottom_diameter_mm: f64,
    }
}

kept_choice! {
    /// Sheet sizes.
    pub enum PaperSize {
        /// 8 1/2 × 11 in (ANSI/ASME Y14.1 size A).
        Letter = "letter",
        /// 210 × 297 mm (ISO 216).
        A4 = "a4",
    }
}

kept_choice! {
    /// Which way the sheets lie.
    pub enum Orientation {
        /// The long side upright.
        Portrait = "portrait",
        /// The long side level.
        Landscape = "landscape",
    }
}

kept_record! {
    /// The paper.
    pub struct Paper {
        /// Its size.
        pub size: PaperSize,
        /// Which way it lies.
        pub orientation: Orientation,
    }
}

kept_choice! {
    /// What a layer of the stack is.
    pub enum MadeOf {
        /// Mitred segments.
        Segments = "segments",
        /// One solid disc.
        Disc = "disc",
    }
}

kept_record! {
    /// A point that the outside curve passes.
    pub struct PointChoice {
        /// Above the foot.
        pub height_mm: f64,
        /// From the axis.
        pub radius_mm: f64,
        /// Whether the curve may turn sharply there.
        pub is_corner: bool,
    }
}

kept_record! {
    /// A ring of the stack.
    pub struct StackRing {
        /// Its height when glued up and flattened.
        pub height_mm: f64,
        /// Number of segments.
        pub segment_count: u32,
        /// What it is made of.
        pub made_of: MadeOf,
        /// How far it is turned against straight ahead, in half segments.
        pub turn_half_segments: u32,
        /// What stands between its segments.
        pub between: Between,
        /// Thickness of spacer or gap.
        pub spacer_mm: f64,
        /// Wood that the turner wants outside beyond what the shape needs, on the radius.
        pub outside_extra_mm: f64,
        /// The same inside.
        pub inside_extra_mm: f64,
        /// Whether dividing leaves it as it is.
        pub is_pinned: bool,
        /// Which of the vessel's woods each segment is of, repeated round the ring.
        pub pattern: Vec<u32>,
        /// Whether all its segments of a wood are to come from one board.
        pub is_matched: bool,
    }
}

kept_choice! {
    /// What the boards are chosen for.
    pub enum BoardGoal {
        /// As few boards as can be.
        Fewest = "fewest",
        /// As little money as can be.
        Cheapest = "cheapest",
        /// As little wood as can be.
        LeastWood = "least_wood",
    }
}

kept_choice! {
    /// How a board's thickness is meant.
    pub enum ThicknessIs {
        /// As sawn, before it is surfaced.
        Rough = "rough",
        /// What is there to use.
        Planed = "planed",
    }
}

kept_choice! {
    /// What a board's price is for.
    pub enum BoardPrice {
        /// One board.
        Piece = "piece",
        /// 144 cubic inches.
        BoardFoot = "board_foot",
    }
}

kept_record! {
    /// A length of a board that must not be used: a knot, a split, a worm hole.
    pub struct Avoid {
        /// From the board's left end.
        pub from_mm: f64,
        /// To here.
        pub to_mm: f64,
    }
}

kept_record! {
    /// Boards of one size.
    pub struct Board {
        /// The wood's name.
        pub wood: String,
        /// Thickness, rough or planed.
        pub thickness_mm: f64,
        /// Which of the two.
        pub thickness_is: ThicknessIs,
        /// Width between straight edges.
        pub width_mm: f64,
        /// Length between square ends.
        pub length_mm: f64,
        /// How many there are.
        pub number: u32,
        /// Price in the turner's own money.
        pub price: Option<f64>,
        /// What the price is for.
        pub price_for: BoardPrice,
        /// Lengths to avoid.
        pub avoid: Vec<Avoid>,
    }
}

kept_record! {
    /// The boards at hand or to buy.
    pub struct Rack {
        /// What they are chosen for.
        pub goal: BoardGoal,
        /// The most that a board may be thicker than a ring needs.
        pub plane_at_most_mm: f64,
        /// The boards.
        pub boards: Vec<Board>,
    }
}

impl Rack {
    /// A rack without boards.
    pub fn empty() -> Rack {
        Rack {
            goal: BoardGoal::Fewest,
            // A step of the quarter system (common practice, no published source).
            plane_at_most_mm: 0.25 * crate::units::length::MM_PER_INCH,
            boards: Vec::new(),
        }
    }
}

impl Board {
    /// A board of a usual size: 4/4, 6 in wide, 8 ft long (common practice, no
    /// published source).
    pub fn usual(wood: &str) -> Board {
        let inch = crate::units::length::MM_PER_INCH;
        Board {
            wood: wood.to_owned(),
            thickness_mm: inch,
            thickness_is: ThicknessIs::Rough,
            width_mm: 6.0 * inch,
            length_mm: 96.0 * inch,
            number: 1,
            price: None,
            price_for: BoardPrice::BoardFoot,
            avoid: Vec::new(),
        }
    }
}

kept_choice! {
    /// Which way the slots of a set lean as they rise, seen from outside.
    pub enum Leans {
        /// To the right.
        Right = "right",
        /// To the left.
        Left = "left",
    }
}

kept_choice! {
    /// What the first slot of a set stands on at the middle of its stack.
    pub enum FirstAt {
        /// A joint of the lowest ring.
        Joint = "joint",
        /// The middle of a segment of the lowest ring.
        Segment = "segment",
        /// The front of the vessel.
        Front = "front",
    }
}

kept_choice! {
    /// Where the strips of a set are to show.
    pub enum StripsShow {
        /// All along the outside, and nowhere inside.
        OutsideOnly = "outside_only",
        /// All along the outside and the inside.
        InsideToo = "inside_too",
    }
}

kept_choice! {
    /// How the stack lies on the saw.
    pub enum StackIs {
        /// Turned round outside first.
        TurnedRound = "turned_round",
        /// With its flats.
        LeftFlat = "left_flat",
    }
}

kept_record! {
    /// A set of slots, sawn through some neighbouring rings that are glued as one stack.
    pub struct SlotSet {
        /// The lowest ring of the stack; 1 is the one at the foot.
        pub from_ring: u32,
        /// The topmost.
        pub to_ring: u32,
        /// How many slots, evenly round.
        pub slot_count: u32,
        /// The gauge's angle from the stack's axis.
        pub gauge_deg: f64,
        /// Which way they lean.
        pub leans: Leans,
        /// What the first stands on.
        pub first_at: FirstAt,
        /// How far beyond that it stands, to the right.
        pub further_deg: f64,
        /// Width of the blade's cut.
        pub kerf_mm: f64,
        /// How much thinner the strip is.
        pub fit_mm: f64,
        /// Which of the vessel's woods the strips are of.
        pub wood: u32,
        /// The blade's height above the table; empty for the middle of its window.
        pub blade_mm: Option<f64>,
        /// Where the strips show.
        pub shows: StripsShow,
        /// How the stack lies on the saw.
        pub stack_is: StackIs,
    }
}

kept_record! {
    /// A vessel.
    pub struct Vessel {
        /// Points of the outside, from the foot up.
        pub points: Vec<PointChoice>,
        /// Wall at the foot, square to the surface.
        pub foot_wall_mm: f64,
        /// Wall at the rim.
        pub rim_wall_mm: f64,
        /// Thickness of the floor.
        pub floor_mm: f64,
        /// The stack, from the foot up.
        pub rings: Vec<StackRing>,
        /// The woods that patterns speak of.
        pub woods: Vec<String>,
        /// Sets of slots, in the order in which they are sawn and filled.
        pub slot_sets: Vec<SlotSet>,
    }
}

impl SlotSet {
    /// The set that most begin with: three slots at 30° with a full kerf (common practice,
    /// no published source).
    pub fn plain(from_ring: u32, to_ring: u32) -> SlotSet {
        SlotSet {
            from_ring,
            to_ring,
            slot_count: 3,
            gauge_deg: 30.0,
            leans: Leans::Right,
            first_at: FirstAt::Joint,
            further_deg: 0.0,
            kerf_mm: 3.175,
            fit_mm: 0.127,
            wood: 0,
            blade_mm: None,
            shows: StripsShow::OutsideOnly,
            stack_is: StackIs::TurnedRound,
        }
    }
}

kept_record! {
    /// A wood as the turner has it.
    pub struct OwnWood {
        /// Its name; one of the table's to say something else of that.
        pub name: String,
        /// The wood of the table that it is like; may be empty.
        pub like: String,
        /// `#rrggbb`; empty for that of the wood it is like.
        pub color: String,
        /// Specific gravity at 12 % moisture content.
        pub specific_gravity: Option<f64>,
        /// Shrinkage from green to ovendry, radial.
        pub radial_pct: Option<f64>,
        /// The same, tangential.
        pub tangential_pct: Option<f64>,
        /// Price, as [`Shop::price_per`] says.
        pub price: Option<f64>,
    }
}

impl OwnWood {
    /// A wood of which only the name is said.
    pub fn called(name: &str) -> OwnWood {
        OwnWood {
            name: name.to_owned(),
            like: String::new(),
            color: String::new(),
            specific_gravity: None,
            radial_pct: None,
            tangential_pct: None,
            price: None,
        }
    }
}

kept_choice! {
    /// How boards were sawn from the log, and so which way a strip moves.
    pub enum Sawn {
        /// The face lies along the growth rings: the width moves most.
        Flat = "flat",
        /// The face lies across them: the thickness moves most.
        Quarter = "quarter",
        /// Some of each, or not known: the larger for both.
        Mixed = "mixed",
    }
}

kept_record! {
    /// The air of the shop now, and of the driest and the dampest season to come.
    pub struct Climate {
        /// In the shop.
        pub shop_temperature_c: f64,
        /// In the shop.
        pub shop_humidity_pct: f64,
        /// In the driest season.
        pub dry_temperature_c: f64,
        /// In the driest season.
        pub dry_humidity_pct: f64,
        /// In the dampest season.
        pub damp_temperature_c: f64,
        /// In the dampest season.
        pub damp_humidity_pct: f64,
        /// What a moisture meter reads on the wood.
        pub meter_pct: Option<f64>,
        /// How the boards were sawn.
        pub sawn: Sawn,
    }
}

impl Climate {
    /// A dry shop, a heated winter and a humid summer: the middle of what is usual
    /// indoors (common practice, no published source).
    pub fn usual() -> Climate {
        Climate {
            shop_temperature_c: 20.0,
            shop_humidity_pct: 45.0,
            dry_temperature_c: 20.0,
            dry_humidity_pct: 30.0,
            damp_temperature_c: 25.0,
            damp_humidity_pct: 70.0,
            meter_pct: None,
            sawn: Sawn::Flat,
        }
    }
}

kept_choice! {
    /// What a base is.
    pub enum BaseKind {
        /// One board.
        Solid = "one_board",
        /// Plies, each across the one below.
        Plies = "plies",
        /// Wedges, as a ring without a hole.
        Wedges = "wedges",
        /// None: open below.
        Open = "open",
    }
}

kept_choice! {
    /// How a base meets its ring.
    pub enum BaseSet {
        /// Within the ring, as thick as the ring is high.
        LetIn = "let_in",
        /// Within the ring, on a ledge.
        OnLedge = "on_ledge",
        /// Glued to its lower face.
        Under = "under",
    }
}

kept_record! {
    /// A ply of a base.
    pub struct Ply {
        /// Its thickness once dressed.
        pub thickness_mm: f64,
        /// Its wood.
        pub wood: String,
    }
}

kept_record! {
    /// The base.
    pub struct BaseChoice {
        /// What it is.
        pub kind: BaseKind,
        /// How it meets its ring.
        pub set: BaseSet,
        /// Its diameter; none for what suits the ring.
        pub diameter_mm: Option<f64>,
        /// Its thickness, when it is not of plies.
        pub thickness_mm: f64,
        /// Its wood, when it is not of plies.
        pub wood: String,
        /// How much wider the mortise is than the disc for glue alone.
        pub fit_mm: f64,
        /// Width of the ledge.
        pub ledge_mm: f64,
        /// Number of wedges.
        pub wedge_count: u32,
        /// The plies, from below.
        pub plies: Vec<Ply>,
    }
}

impl BaseChoice {
    /// A disc of this wood and thickness, or three plies of it, glued under its ring.
    pub fn of(wood: &str, thickness_mm: f64) -> BaseChoice {
        let ply = Ply {
            thickness_mm: crate::units::length::round(thickness_mm / 3.0),
            wood: wood.to_owned(),
        };
        BaseChoice {
            kind: BaseKind::Solid,
            set: BaseSet::Under,
            diameter_mm: None,
            thickness_mm,
            wood: wood.to_owned(),
            // 0.1 mm on the diameter is a sliding fit that glue still fills (common
            // practice, no published source).
            fit_mm: 0.1,
            ledge_mm: 6.0,
            wedge_count: 12,
            plies: vec![ply; 3],
        }
    }
}

kept_record! {
    /// How the vessel is put together.
    pub struct Bench {
        /// The glue.
        pub glue: crate::trade::glue::Glue,
        /// The ring above which the halves meet, from 1; 0 for one piece, nothing where
        /// the page chooses.
        pub meet_above_ring: Option<u32>,
        /// How far the turner's tool may stand out beyond the rest.
        pub overhang_mm: f64,
        /// From one caliper station to the next.
        pub station_mm: f64,
        /// How much smaller than its hole a step of the centring plug is, on the diameter.
        pub plug_clearance_mm: f64,
        /// Diameter of the hole through the plug, 0 for none.
        pub plug_bore_mm: f64,
    }
}

impl Bench {
    /// What is usual: yellow glue.
    pub fn usual(unit: Unit) -> Bench {
        let inch = crate::units::length::MM_PER_INCH;
        // A printed peg slides in a hole 0.3 mm larger (common practice, no published
        // source).
        let (overhang_mm, station_mm, plug_bore_mm, plug_clearance_mm) = if unit.is_inch() {
            (6.0 * inch, inch, 0.25 * inch, 0.012 * inch)
        } else {
            (150.0, 25.0, 6.0, 0.3)
        };
        Bench {
            glue: crate::trade::glue::Glue::YellowPva,
            meet_above_ring: None,
            overhang_mm,
            station_mm,
            plug_clearance_mm,
            plug_bore_mm,
        }
    }
}

kept_record! {
    /// A ring as it was measured once glued. What is empty is as planned.
    pub struct MeasuredRing {
        /// Outside diameter, at the lower face where the faces differ.
        pub outside_diameter_mm: Option<f64>,
        /// Inside diameter there; 0 for a disc.
        pub inside_diameter_mm: Option<f64>,
        /// Height.
        pub height_mm: Option<f64>,
        /// Outside diameter at the upper face, where it differs.
        pub upper_outside_diameter_mm: Option<f64>,
        /// Inside diameter at the upper face, where it differs.
        pub upper_inside_diameter_mm: Option<f64>,
        /// Where the caliper was set outside.
        pub outside_across: Across,
        /// Where it was set inside.
        pub inside_across: Across,
        /// Number of segments.
        pub segment_count: u32,
    }
}

impl MeasuredRing {
    /// A ring of which nothing is measured yet.
    pub fn unmeasured(segment_count: u32) -> MeasuredRing {
        MeasuredRing {
            outside_diameter_mm: None,
            inside_diameter_mm: None,
            height_mm: None,
            upper_outside_diameter_mm: None,
            upper_inside_diameter_mm: None,
            // A caliper finds the flats by itself, and for the hole that is the safe reading.
            outside_across: Across::Flats,
            inside_across: Across::Flats,
            segment_count,
        }
    }
}

impl StackRing {
    /// A plain ring of the first wood.
    pub fn plain(height_mm: f64, segment_count: u32) -> StackRing {
        StackRing {
            height_mm,
            segment_count,
            made_of: MadeOf::Segments,
            turn_half_segments: 0,
            between: Between::Nothing,
            spacer_mm: 3.0,
            outside_extra_mm: 0.0,
            inside_extra_mm: 0.0,
            is_pinned: false,
            pattern: vec![0],
            is_matched: false,
        }
    }

    /// The wood of a segment, as a place in the vessel's list.
    pub fn wood_of(&self, segment: u32) -> usize {
        let count = self.pattern.len().max(1);
        self.pattern
            .get(segment as usize % count)
            .map_or(0, |&wood| wood as usize)
    }
}

impl Vessel {
    /// The outside curve; nothing when its points make none.
    pub fn curve(&self) -> Option<Curve> {
        let points: Vec<Point> = self
            .points
            .iter()
            .map(|point| Point {
                height_mm: point.height_mm,
                radius_mm: point.radius_mm,
                is_corner: point.is_corner,
            })
            .collect();
        Curve::through(&points)
    }

    /// A plain cylinder of one ring: what lists are filled up from when a file's or
    /// link's vessel is read.
    fn blank() -> Vessel {
        let point = |height_mm| PointChoice {
            height_mm,
            radius_mm: 50.0,
            is_corner: false,
        };
        Vessel {
            points: vec![point(0.0), point(100.0)],
            foot_wall_mm: 8.0,
            rim_wall_mm: 6.0,
            floor_mm: 10.0,
            rings: Vec::new(),
            woods: vec!["Maple, sugar".to_owned()],
            slot_sets: Vec::new(),
        }
    }
}

impl Default for Design {
    /// A 10 in ring, 3/4 in thick and high, of 12 segments, shown in sixteenths.
    fn default() -> Self {
        let inch = crate::units::length::MM_PER_INCH;
        Design {
            form: FORM,
            name: String::new(),
            unit: Unit::Inch16,
            ring: RingChoice {
                outside_diameter_mm: 10.0 * inch,
                hole_by: HoleBy::Wall,
                wall_mm: 0.75 * inch,
                inside_diameter_mm: 8.5 * inch,
                height_mm: 0.75 * inch,
                segment_count: 12,
                between: Between::Nothing,
                spacer_mm: 0.125 * inch,
                wood: "Maple, sugar".to_owned(),
                is_matched: false,
            },
            allowance: Allowance {
                outside_mm: 0.125 * inch,
                inside_mm: 0.125 * inch,
                face_mm: inch / 32.0,
            },
            shop: Shop {
                // 1/8 in: a full-kerf blade (common practice, no published source).
                kerf_mm: 0.125 * inch,
                // 6 in from the blade (common practice, no published source).
                hold_back_mm: 6.0 * inch,
                strip_length_mm: 36.0 * inch,
                price: None,
                price_per: PricePer::BoardFoot,
                stock_mm: vec![0.75 * inch, 1.0 * inch],
                board_width_mm: None,
                least_segment_mm: 1.5 * inch,
                swing_mm: None,
                // Common practice for small parts, no published source.
                waste_percent: 30,
            },
            dry_fit: DryFit {
                open_at: crate::trade::closing::OpenAt::Through,
                gap_mm: None,
                glued_count: 6,
                glued_angle_deg: None,
            },
            stave: StaveChoice {
                count: 12,
                lean_deg: 10.0,
                length_mm: 8.0 * inch,
                bottom_diameter_mm: 6.0 * inch,
            },
            paper: Paper {
                size: PaperSize::Letter,
                orientation: Orientation::Portrait,
            },
            vessel: None,
            woods: Vec::new(),
            climate: None,
            base: None,
            rack: None,
            bench: None,
            measured: Vec::new(),
            unknown: Map::new(),
        }
    }
}

impl Design {
    /// The design that a new page starts with: inches where the language tag says
    /// that tapes are in inches, else round millimeters and A4.
    pub fn starting(language: &str) -> Design {
        let inches = ["en-US", "en-CA", "es-US"].contains(&language) || language == "en";
        if inches {
            return Design::default();
        }
        let start = Design::default();
        Design {
            unit: Unit::Millimeter,
            ring: RingChoice {
                outside_diameter_mm: 250.0,
                wall_mm: 20.0,
                inside_diameter_mm: 210.0,
                height_mm: 20.0,
                spacer_mm: 3.0,
                ..start.ring
            },
            allowance: Allowance {
                outside_mm: 3.0,
                inside_mm: 3.0,
                face_mm: 1.0,
            },
            shop: Shop {
                kerf_mm: 3.2,
                hold_back_mm: 150.0,
                strip_length_mm: 1000.0,
                price_per: PricePer::CubicMeter,
                stock_mm: vec![20.0, 25.0],
                least_segment_mm: 40.0,
                ..start.shop
            },
            stave: StaveChoice {
                length_mm: 200.0,
                bottom_diameter_mm: 150.0,
                ..start.stave
            },
            paper: Paper {
                size: PaperSize::A4,
                ..start.paper
            },
            ..start
        }
    }

    /// The bench as it was set, or as is usual.
    pub fn bench_or_usual(&self) -> Bench {
        self.bench.clone().unwrap_or(Bench::usual(self.unit))
    }

    /// The design with the bench as it is shown, so that its fields can be read and set.
    pub(crate) fn with_bench(&self) -> Design {
        Design {
            bench: Some(self.bench_or_usual()),
            ..self.clone()
        }
    }

    /// The inside radius wanted, whichever way it was given.
    pub fn inside_radius_mm(&self) -> f64 {
        match self.ring.hole_by {
            HoleBy::Wall => self.ring.outside_diameter_mm / 2.0 - self.ring.wall_mm,
            HoleBy::InsideDiameter => self.ring.inside_diameter_mm / 2.0,
        }
    }

    /// Reads a design from any JSON: a file, a link, or what the device kept. Every
    /// field is taken by itself: a bad one is replaced by the starting value and
    /// reported, and spoils nothing else. Unknown names are kept.
    ///
    /// # Errors
    /// When the value is not an object, or has none of a design's fields.
    pub fn restore(value: &Value) -> Result<(Design, Vec<Trouble>), Trouble> {
        let not_a_design = || Trouble::at(key::DESIGN, Reason::NotADesign);
        let given = value.as_object().ok_or_else(not_a_design)?;
        let form = given
            .get("form")
            .and_then(Value::as_u64)
            .ok_or_else(not_a_design)?;
        if !given.get("ring").is_some_and(Value::is_object) {
            return Err(not_a_design());
        }
        let mut troubles = Vec::new();
        if form > u64::from(FORM) {
            troubles.push(Trouble::at(key::DESIGN, Reason::Newer));
        }
        let mut whole = to_value(&Design::default());
        match given.get("vessel") {
            None | Some(Value::Null) => {}
            Some(Value::Object(_)) => put(&mut whole, key::VESSEL, Vessel::blank().write()),
            Some(_) => troubles.push(Trouble::at(key::VESSEL, Reason::WrongKind)),
        }
        for (name, usual) in PARTS {
            match given.get(*name) {
                None | Some(Value::Null) => {}
                Some(_) => add_part(&mut whole, name, usual()),
            }
        }
        size_lists(&mut whole, value, &mut troubles);
        for field in FIELDS {
            for key in field::expand(field.key, &whole) {
                let Some(found) = value.pointer(&pointer(&key)) else {
                    continue;
                };
                match field.check(found) {
                    Ok(checked) => put(&mut whole, &key, checked),
                    Err(reason) => troubles.push(Trouble::at(key, reason)),
                }
            }
        }
        let unknown = whole
            .as_object()
            .map(|known| unknown_in(given, known))
            .unwrap_or_default();
        let mut design = from_value(&whole).ok_or_else(not_a_design)?;
        design.unknown = unknown;
        design.form = u32::try_from(form).unwrap_or(u32::MAX).max(FORM);
        Ok((design, troubles))
    }

    /// The design with one field set from typed text.
    ///
    /// # Errors
    /// When the text cannot be taken; the design stays as it is.
    pub fn with_typed(&self, key: &str, typed: &str) -> Result<Design, Trouble> {
        let Some(field) = field::find(key) else {
            return Err(Trouble::at(key::DESIGN, Reason::WrongKind));
        };
        let at_key = |reason| Trouble::at(key.to_owned(), reason);
        let value = field.read(typed, self.unit).map_err(at_key)?;
        let mut whole = if key.starts_with("bench.") {
            to_value(&self.with_bench())
        } else {
            to_value(self)
        };
        // Typing into a part that was not said yet says the rest as usual.
        for (name, usual) in PARTS {
            if key.starts_with(name) && key[name.len()..].starts_with('.') {
                add_part(&mut whole, name, usual());
            }
        }
        if whole.pointer(&pointer(key)).is_none() {
            return Err(at_key(Reason::WrongKind));
        }
        put(&mut whole, key, value);
        // Whichever of wall and inside diameter was typed last is the one meant.
        match field.key {
            key::WALL => put(&mut whole, key::HOLE_BY, "wall".into()),
            key::INSIDE_DIAMETER => put(&mut whole, key::HOLE_BY, "inside_diameter".into()),
            _ => {}
        }
        let mut design =
            from_value(&whole).ok_or_else(|| Trouble::at(field.key, Reason::WrongKind))?;
        design.unknown.clone_from(&self.unknown);
        Ok(design)
    }

    /// What the entry field with this key holds, as text; empty for an unknown key.
    pub fn entry_text(&self, key: &str) -> String {
        field::find(key).map_or_else(String::new, |field| {
            self.entry_text_in(&to_value(self), field, key)
        })
    }

    /// The same, from the design's JSON, for reading many fields in turn.
    pub(crate) fn entry_text_in(&self, whole: &Value, field: &Field, key: &str) -> String {
        // The one of wall and inside diameter that follows shows what it came to.
        let followed = match (field.key, self.ring.hole_by) {
            (key::WALL, HoleBy::InsideDiameter) => {
                Some((self.ring.outside_diameter_mm - self.ring.inside_diameter_mm) / 2.0)
            }
            (key::INSIDE_DIAMETER, HoleBy::Wall) => {
                Some(self.ring.outside_diameter_mm - 2.0 * self.ring.wall_mm)
            }
            _ => None,
        };
        if let Some(length_mm) = followed {
            return crate::units::length::entry_text(length_mm, self.unit);
        }
        let value = whole.pointer(&pointer(key)).unwrap_or(&Value::Null);
        match (field.kind, value) {
            (_, Value::String(text)) => text.clone(),
            (Kind::Length { .. }, Value::Number(_)) => {
                crate::units::length::entry_text(value.as_f64().unwrap_or(0.0), self.unit)
            }
            (Kind::Temperature { .. }, Value::Number(_)) => crate::units::length::decimal(
                self.unit.shown_degrees(value.as_f64().unwrap_or(0.0)),
                4,
            ),
            (_, Value::Number(_)) => {
                crate::units::length::decimal(value.as_f64().unwrap_or(0.0), 4)
            }
            (_, Value::Bool(is_set)) => (if *is_set { "yes" } else { "no" }).to_owned(),
            (Kind::Lengths { .. }, Value::Array(lengths)) => lengths
                .iter()
                .map(|each| {
                    crate::units::length::entry_text(each.as_f64().unwrap_or(0.0), self.unit)
                })
                .collect::<Vec<_>>()
                .join("; "),
            _ => String::new(),
        }
    }
}

/// A design as a JSON value, with what a newer version wrote beside it.
pub fn to_value(design: &Design) -> Value {
    let mut whole = Map::new();
    let mut add = |name: &str, value: Value| whole.insert(name.to_owned(), value);
    add("form", design.form.write());
    add("name", design.name.write());
    add("unit", design.unit.write());
    add("ring", design.ring.write());
    add("allowance", design.allowance.write());
    add("shop", design.shop.write());
    add("dry_fit", design.dry_fit.write());
    add("stave", design.stave.write());
    add("paper", design.paper.write());
    add("vessel", design.vessel.write());
    // What was not said is left out: links of designs without it stay short.
    if !design.woods.is_empty() {
        add("woods", design.woods.write());
    }
    if let Some(climate) = &design.climate {
        add("climate", climate.write());
    }
    if let Some(base) = &design.base {
        add("base", base.write());
    }
    if let Some(rack) = &design.rack {
        add("rack", rack.write());
    }
    if let Some(bench) = &design.bench {
        add("bench", bench.write());
    }
    if !design.measured.is_empty() {
        add("measured", design.measured.write());
    }
    add_missing(&mut whole, &design.unknown);
    Value::Object(whole)
}

/// A part's name, and what it begins as.
type Part = (&'static str, fn() -> Value);

/// Parts that are left out until something is said of them, and what they then begin as.
const PARTS: &[Part] = &[
    ("woods", || Value::Array(Vec::new())),
    (key::MEASURED, || Value::Array(Vec::new())),
    ("climate", || Climate::usual().write()),
    ("base", || BaseChoice::of("Maple, sugar", 19.05).write()),
    ("rack", || Rack::empty().write()),
    ("bench", || Bench::usual(Unit::Inch16).write()),
];

/// Adds a part that is not there yet.
fn add_part(whole: &mut Value, name: &str, usual: Value) {
    if let Some(whole) = whole.as_object_mut() {
        whole.entry(name).or_insert(usual);
    }
}

fn from_value(value: &Value) -> Option<Design> {
    let whole = value.as_object()?;
    Some(Design {
        form: part(whole, "form")?,
        name: part(whole, "name")?,
        unit: part(whole, "unit")?,
        ring: part(whole, "ring")?,
        allowance: part(whole, "allowance")?,
        shop: part(whole, "shop")?,
        dry_fit: part(whole, "dry_fit")?,
        stave: part(whole, "stave")?,
        paper: part(whole, "paper")?,
        vessel: part(whole, "vessel")?,
        woods: part(whole, "woods").unwrap_or_default(),
        climate: part(whole, "climate"),
        base: part(whole, "base"),
        rack: part(whole, "rack"),
        bench: part(whole, "bench"),
        measured: part(whole, "measured").unwrap_or_default(),
        unknown: Map::new(),
    })
}

/// Makes every list as long as the given one, of default things that are then set
/// field by field.
fn size_lists(whole: &mut Value, given: &Value, troubles: &mut Vec<Trouble>) {
    for list in LISTS {
        for key in field::expand(list.key, whole) {
            let Some(found) = given.pointer(&pointer(&key)) else {
                continue;
            };
            let Some(items) = found.as_array() else {
                troubles.push(Trouble::at(key, Reason::WrongKind));
                continue;
            };
            if (list.least..=list.most).contains(&items.len()) {
                put(
                    whole,
                    &key,
                    vec![default_thing(list.key); items.len()].into(),
                );
            } else {
                let reason = Reason::OutOfRange {
                    value: items.len() as f64,
                    least: list.least as f64,
                    most: list.most as f64,
                };
                troubles.push(Trouble::at(key, reason));
            }
        }
    }
}

fn default_thing(list_key: &str) -> Value {
    match list_key {
        key::POINTS => PointChoice {
            height_mm: 0.0,
            radius_mm: 0.0,
            is_corner: false,
        }
        .write(),
        key::RINGS => StackRing::plain(20.0, 12).write(),
        key::SLOT_SETS => SlotSet::plain(1, 1).write(),
        "vessel.woods" => Value::from(""),
        "woods" => OwnWood::called("").write(),
        "base.plies" => Ply {
            thickness_mm: 6.35,
            wood: String::new(),
        }
        .write(),
        key::BOARDS => Board::usual("").write(),
        "rack.boards.*.avoid" => Avoid {
            from_mm: 0.0,
            to_mm: 0.0,
        }
        .write(),
        key::MEASURED => MeasuredRing::unmeasured(12).write(),
        _ => Value::from(0),
    }
}

fn put(whole: &mut Value, key: &str, value: Value) {
    if let Some(place) = whole.pointer_mut(&pointer(key)) {
        *place = value;
    }
}

/// Adds every name, at any depth, that is not there yet.
fn add_missing(whole: &mut Map<String, Value>, more: &Map<String, Value>) {
    for (name, value) in more {
        match (whole.get_mut(name), value) {
            (None, _) => {
                whole.insert(name.clone(), value.clone());
            }
            (Some(Value::Object(inner)), Value::Object(more)) => add_missing(inner, more),
            _ => {}
        }
    }
}

/// The names, at any depth, that this version does not know.
fn unknown_in(given: &Map<String, Value>, known: &Map<String, Value>) -> Map<String, Value> {
    let mut unknown = Map::new();
    for (name, value) in given {
        match (known.get(name), value) {
            (None, _) => {
                unknown.insert(name.clone(), value.clone());
            }
            (Some(Value::Object(known)), Value::Object(given)) => {
                let inner = unknown_in(given, known);
                if !inner.is_empty() {
                    unknown.insert(name.clone(), Value::Object(inner));
                }
            }
            _ => {}
        }
    }
    unknown
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn every_field_has_a_place_in_the_design() {
        let mut design = Design::default();
        let mut vessel = Vessel::blank();
        vessel.rings = vec![StackRing::plain(20.0, 12)];
        design.vessel = Some(vessel);
        design.woods = vec![OwnWood::called("Driftwood")];
        design.climate = Some(Climate::usual());
        design.base = Some(BaseChoice::of("Driftwood", 12.0));
        let mut board = Board::usual("Maple, sugar");
        board.avoid.push(Avoid {
            from_mm: 10.0,
            to_mm: 20.0,
        });
        design.rack = Some(Rack {
            boards: vec![board],
            ..Rack::empty()
        });
        design.measured = vec![MeasuredRing::unmeasured(12)];
        let whole = to_value(&design.with_bench());
        for key in FIELDS
            .iter()
            .flat_map(|field| field::expand(field.key, &whole))
        {
            let value = whole
                .pointer(&pointer(&key))
                .unwrap_or_else(|| panic!("{key}"));
            let field = field::find(&key).unwrap();
            assert_eq!(field.check(value).as_ref(), Ok(value), "{key}");
        }
    }

    #[test]
    fn both_starting_designs_come_back_from_their_own_json() {
        for language in ["en-US", "de-DE"] {
            let design = Design::starting(language);
            let (back, troubles) = Design::restore(&to_value(&design)).unwrap();
            assert_eq!((back, troubles), (design, vec![]));
        }
    }

    #[test]
    fn a_bad_field_spoils_nothing_else() {
        let mut value = to_value(&Design::default());
        value["ring"]["segment_count"] = json!(10_000);
        value["ring"]["wall_mm"] = json!("thick");
        value["ring"]["height_mm"] = json!(31.5);
        value["unit"] = json!("cubit");
        let (design, troubles) = Design::restore(&value).unwrap();
        assert_eq!(design.ring.segment_count, 12);
        assert!((design.ring.height_mm - 31.5).abs() < 1e-12);
        let fields: Vec<_> = troubles
            .iter()
            .map(|trouble| trouble.field.clone())
            .collect();
        assert_eq!(fields, [key::UNIT, key::WALL, key::SEGMENT_COUNT]);
    }

    #[test]
    fn a_newer_design_is_read_and_its_own_names_are_kept() {
        let mut value = to_value(&Design::default());
        value["form"] = json!(7);
        value["handle"] = json!({ "length_mm": 120 });
        value["ring"]["bevel"] = json!([1, 2]);
        let (design, troubles) = Design::restore(&value).unwrap();
        assert_eq!(troubles, [Trouble::at(key::DESIGN, Reason::Newer)]);
        let design = design.with_typed(key::WALL, "1").unwrap();
        assert_eq!(to_value(&design)["handle"], json!({ "length_mm": 120 }));
        assert_eq!(to_value(&design)["ring"]["bevel"], json!([1, 2]));
        assert_eq!(design.form, 7);
    }

    #[test]
    fn what_is_not_a_design_is_refused() {
        for value in [
            json!(null),
            json!([1]),
            json!({}),
            json!({ "form": 1, "ring": 3 }),
            json!("x"),
        ] {
            assert!(Design::restore(&value).is_err(), "{value}");
        }
    }

    #[test]
    fn typing_the_wall_or_the_hole_says_which_counts() {
        let design = Design::default()
            .with_typed(key::INSIDE_DIAMETER, "8")
            .unwrap();
        assert_eq!(design.ring.hole_by, HoleBy::InsideDiameter);
        assert_eq!(design.entry_text(key::WALL), "1");
        let design = design.with_typed(key::WALL, "1/2").unwrap();
        assert_eq!(design.entry_text(key::INSIDE_DIAMETER), "9");
    }

    #[test]
    fn rubbish_is_refused_at_its_field() {
        let design = Design::default();
        for (key, typed) in [
            (key::OUTSIDE_DIAMETER, "0"),
            (key::OUTSIDE_DIAMETER, "-4"),
            (key::OUTSIDE_DIAMETER, "NaN"),
            (key::OUTSIDE_DIAMETER, "1e300"),
            (key::OUTSIDE_DIAMETER, ""),
            (key::SEGMENT_COUNT, "2"),
            (key::SEGMENT_COUNT, "10000"),
            (key::SEGMENT_COUNT, "12.5"),
            (key::SEGMENT_COUNT, "twelve"),
            (key::UNIT, "cubit"),
            (key::STAVE_LEAN, "91"),
        ] {
            assert_eq!(
                design.with_typed(key, typed).unwrap_err().field,
                key,
                "{typed}"
            );
        }
        assert!(design.with_typed("no.such", "1").is_err());
        assert_eq!(design.with_typed(key::PRICE, " ").unwrap().shop.price, None);
    }

    #[test]
    fn switching_the_unit_loses_nothing() {
        let design = Design::default()
            .with_typed(key::WALL, "19.123 mm")
            .unwrap();
        let there = design.with_typed(key::UNIT, "millimeter").unwrap();
        let back = there.with_typed(key::UNIT, "inch_16").unwrap();
        assert_eq!(back, design);
        assert_eq!(there.entry_text(key::WALL), "19.123");
    }
}
