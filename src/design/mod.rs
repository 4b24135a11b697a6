//! Everything that the turner decided: what is kept, shared and undone.
//!
//! In a file a design is plain JSON with these names; lengths are in millimeters,
//! whatever unit is shown. Names that this version does not know are kept outside of
//! lists and written back, so that an older page spoils little of a newer page's work.

pub mod base;
pub mod example;
pub mod field;
pub mod finish;
pub mod kind;
pub mod link;
pub mod log;
pub mod rack;
pub mod read;
pub mod ring_shelf;
pub mod shelf;
pub mod trouble;
pub mod vessel;

use crate::trade::ring::Wanted;
pub use crate::trade::room::Across;
use crate::units::kept::{kept_choice, kept_record};
use crate::units::length::Unit;
pub use base::{BaseChoice, BaseKind, BaseSet, Ply};
pub use finish::FinishChoice;
pub use rack::{Avoid, Board, BoardGoal, BoardPrice, Rack, ThicknessIs};
use serde_json::{Map, Value};
pub use vessel::{
    Between, FirstAt, GapBy, Laid, Leans, MadeOf, Measured, OutOfTrue, OutlineIs, PointChoice,
    SlotSet, StackHeld, StackIs, StackRing, StripeChoice, StripeLayer, StripsShow, Vessel,
};

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
    /// The finish, once something of it was chosen.
    pub finish: Option<FinishChoice>,
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
        /// By the width of the strip that is at hand: the wall follows.
        StripWidth = "strip_width",
    }
}

kept_record! {
    /// One ring.
    pub struct RingChoice {
        /// Finished outside diameter.
        pub outside_diameter_mm: f64,
        /// Which of the next three counts.
        pub hole_by: HoleBy,
        /// Finished wall.
        pub wall_mm: f64,
        /// Finished inside diameter.
        pub inside_diameter_mm: f64,
        /// Width of the strip.
        pub strip_width_mm: f64,
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
        /// How far from square the turner's miter gauge or miter saw turns.
        pub gauge_most_deg: Option<f64>,
        /// How high the blade of the turner's saw rises, upright.
        pub blade_most_mm: Option<f64>,
        /// The thinnest that the turner's planer takes.
        pub planer_least_mm: Option<f64>,
        /// The slowest that the lathe turns.
        pub slowest_rpm: Option<u32>,
        /// Holes of the turner's index plates; none where they are not said.
        pub index_plates: Vec<u32>,
        /// The sign of the turner's money; empty for none.
        pub currency: String,
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
    /// How a ring's last joints are closed.
    pub enum RingsClose {
        /// All its joints in one glue-up.
        AtOnce = "at_once",
        /// As two halves, whose ends are trued before they are joined.
        InHalves = "in_halves",
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
        /// Hours at the bench of an evening.
        pub evening_h: f64,
        /// How many times as long as is reckoned the turner's work takes.
        pub pace: f64,
        /// How rings are closed.
        pub rings_close: RingsClose,
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
            // Our own choice, no published source.
            evening_h: 2.0,
            pace: 1.0,
            rings_close: RingsClose::AtOnce,
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
                strip_width_mm: 0.875 * inch,
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
                gauge_most_deg: None,
                blade_most_mm: None,
                planer_least_mm: None,
                slowest_rpm: None,
                index_plates: Vec::new(),
                currency: String::new(),
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
            finish: None,
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

    /// The most that is planed off stock.
    pub(crate) fn plane_at_most_mm(&self) -> f64 {
        let usual = || Rack::empty().plane_at_most_mm;
        self.rack
            .as_ref()
            .map_or_else(usual, |it| it.plane_at_most_mm)
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

    /// The design with the finish as it is shown, so that its fields can be read.
    pub(crate) fn with_finish(&self) -> Design {
        let finish = self.finish.clone();
        Design {
            finish: Some(finish.unwrap_or_else(FinishChoice::later)),
            ..self.clone()
        }
    }

    /// What is wanted of the ring, in radii, whichever way its hole was given.
    pub fn wanted_ring(&self) -> Wanted {
        let ring = &self.ring;
        let wanted = Wanted {
            outside_radius_mm: ring.outside_diameter_mm / 2.0,
            inside_radius_mm: 0.0,
            height_mm: ring.height_mm,
            segment_count: ring.segment_count,
            widest: 1.0,
            outside_allowance_mm: self.allowance.outside_mm,
            inside_allowance_mm: self.allowance.inside_mm,
            face_allowance_mm: self.allowance.face_mm,
            spacer_mm: match ring.between {
                Between::Nothing => 0.0,
                Between::Spacer | Between::Gap => ring.spacer_mm,
            },
            gap_rad: 0.0,
        };
        let inside_radius_mm = match ring.hole_by {
            HoleBy::Wall => wanted.outside_radius_mm - ring.wall_mm,
            HoleBy::InsideDiameter => ring.inside_diameter_mm / 2.0,
            // What cannot be is told by the plan.
            HoleBy::StripWidth => wanted
                .inside_radius_of_strip_mm(ring.strip_width_mm)
                .unwrap_or_default(),
        };
        Wanted {
            inside_radius_mm,
            ..wanted
        }
    }

    /// The inside radius wanted, whichever way it was given.
    pub fn inside_radius_mm(&self) -> f64 {
        self.wanted_ring().inside_radius_mm
    }
}
