//! Everything that the turner decided: what is kept, shared and undone.
//!
//! In a file a design is plain JSON with these names; lengths are in millimeters,
//! whatever unit is shown. Names that this version does not know are kept outside of
//! lists and written back, so that an older page spoils little of a newer page's work.

pub mod example;
pub mod field;
pub mod kind;
pub mod link;
pub mod read;
pub mod trouble;

pub use crate::trade::room::Across;
use crate::trade::shape::{Curve, Point};
use crate::units::kept::{kept_choice, kept_record};
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
    /// What a newer version wrote beside it, at any depth outside of lists (whose things
    /// move); written back by [`read::to_value`].
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
    /// A ring that is glued already, as it was measured. What is empty is as planned.
    pub struct Measured {
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
    }
}

impl Measured {
    /// A glued ring of which nothing is measured yet.
    pub fn nothing() -> Measured {
        Measured {
            outside_diameter_mm: None,
            inside_diameter_mm: None,
            height_mm: None,
            upper_outside_diameter_mm: None,
            upper_inside_diameter_mm: None,
            // A caliper finds the flats by itself, and for the hole that is the safe reading.
            outside_across: Across::Flats,
            inside_across: Across::Flats,
        }
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
        /// The ring as it was measured, once it is glued; nothing while it is planned.
        pub measured: Option<Measured>,
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

kept_choice! {
    /// Where the outside curve comes from.
    pub enum OutlineIs {
        /// The turner's own points.
        Own = "own",
        /// Drawn in the middle of what the glued rings allow, until it is pulled.
        InRings = "in_rings",
    }
}

kept_record! {
    /// A vessel.
    pub struct Vessel {
        /// Where its outside comes from.
        pub outline_is: OutlineIs,
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
        /// The ring that it is let into, or on whose ledge it lies; 1 is the lowest.
        pub in_ring: u32,
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
        let ply = |share: f64| Ply {
            thickness_mm: crate::units::length::round(thickness_mm * share),
            wood: wood.to_owned(),
        };
        BaseChoice {
            kind: BaseKind::Solid,
            set: BaseSet::Under,
            in_ring: 1,
            diameter_mm: None,
            thickness_mm,
            wood: wood.to_owned(),
            // 0.1 mm on the diameter is a sliding fit that glue still fills, and 6 mm of
            // ledge hold a base (our own choice, no published source).
            fit_mm: 0.1,
            ledge_mm: 6.0,
            wedge_count: 12,
            plies: vec![ply(0.25), ply(0.5), ply(0.25)],
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
            measured: None,
        }
    }

    /// Its height: as measured, else as planned.
    pub fn height_now_mm(&self) -> f64 {
        let measured = self.measured.as_ref().and_then(|it| it.height_mm);
        measured.unwrap_or(self.height_mm)
    }

    /// Whether it exists already.
    pub fn is_glued(&self) -> bool {
        self.measured.is_some()
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
    pub fn blank() -> Vessel {
        let point = |height_mm| PointChoice {
            height_mm,
            radius_mm: 50.0,
            is_corner: false,
        };
        Vessel {
            outline_is: OutlineIs::Own,
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
}
