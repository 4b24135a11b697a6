//! What the turner decided of a vessel: its curve, its rings, planned or measured, and its
//! slots.

use crate::trade::index_plate::Turn;
use crate::trade::out_of_true::Reading;
use crate::trade::room::Across;
use crate::trade::round::Round;
use crate::trade::shape::{Curve, Point};
use crate::units::kept::{kept_choice, kept_record};
use std::f64::consts::TAU;

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

kept_choice! {
    /// How wide an open gap is told.
    pub enum GapBy {
        /// As a thickness, the same inside and outside.
        Thickness = "by_thickness",
        /// As an angle, its sides through the axis.
        Angle = "by_angle",
        /// As a share of the angle from one segment to the next, its sides through the axis.
        Share = "by_share",
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
    /// What was read of a ring that does not run true any more. What is empty was not read.
    pub struct OutOfTrue {
        /// The outside's widest diameter.
        pub widest_mm: Option<f64>,
        /// The outside's narrowest diameter.
        pub narrowest_mm: Option<f64>,
        /// How far the outside runs out: the greatest distance less the smallest, while it is
        /// turned by hand.
        pub runs_out_mm: Option<f64>,
        /// The hole's widest diameter.
        pub hole_widest_mm: Option<f64>,
        /// How far the inside runs out; as the outside where it is empty.
        pub hole_runs_out_mm: Option<f64>,
        /// How far the half's open face runs out, where this is its last ring.
        pub face_runs_out_mm: Option<f64>,
        /// Whether the half's inside is turned to its shape already.
        pub is_hollowed: bool,
    }
}

impl OutOfTrue {
    /// A ring of which nothing was read.
    pub fn nothing() -> OutOfTrue {
        OutOfTrue {
            widest_mm: None,
            narrowest_mm: None,
            runs_out_mm: None,
            hole_widest_mm: None,
            hole_runs_out_mm: None,
            face_runs_out_mm: None,
            is_hollowed: false,
        }
    }

    /// What was read round the outside.
    pub fn outside(&self) -> Reading {
        Reading {
            widest_mm: self.widest_mm,
            narrowest_mm: self.narrowest_mm,
            runs_out_mm: self.runs_out_mm,
        }
    }

    /// What was read round the hole, where anything was: it runs out as the outside does where
    /// that alone was not read.
    pub fn hole(&self) -> Option<Reading> {
        let is_read = self.hole_widest_mm.is_some() || self.hole_runs_out_mm.is_some();
        is_read.then(|| Reading {
            widest_mm: self.hole_widest_mm,
            narrowest_mm: None,
            runs_out_mm: self.hole_runs_out_mm.or(self.runs_out_mm),
        })
    }
}

kept_choice! {
    /// How striped segments lie round the ring.
    pub enum Laid {
        /// Every second one with its other edge outside.
        Chevron = "chevron",
        /// All alike.
        Slant = "slant",
    }
}

kept_record! {
    /// A layer of a striped board, or of the strips of a slot set.
    pub struct StripeLayer {
        /// Which of the vessel's woods it is of.
        pub wood: u32,
        /// Its thickness once planed.
        pub thickness_mm: f64,
    }
}

kept_record! {
    /// The striped board that a ring's segments are sawn from.
    pub struct StripeChoice {
        /// Its layers, which repeat.
        pub layers: Vec<StripeLayer>,
        /// The stripes' angle to the ring's faces: 0° level, 90° upright.
        pub slant_deg: f64,
        /// How the segments lie round the ring.
        pub laid: Laid,
        /// Whether the ring is the mirror image of one below it.
        pub is_mirrored: bool,
        /// By how much of the repeat the stripes are shifted.
        pub shift_pct: f64,
    }
}

impl StripeChoice {
    /// Two layers at 45°, of these woods, each so thick.
    pub fn of(woods: [u32; 2], thickness_mm: f64) -> StripeChoice {
        StripeChoice {
            layers: woods
                .map(|wood| StripeLayer { wood, thickness_mm })
                .to_vec(),
            slant_deg: 45.0,
            laid: Laid::Chevron,
            is_mirrored: false,
            shift_pct: 0.0,
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
        /// The striped board of its segments, in place of the pattern; nothing where each
        /// segment is of one wood.
        pub stripes: Option<StripeChoice>,
        /// How wide the segments are beside each other, repeated round the ring; nothing
        /// where all are alike.
        pub shares: Vec<u32>,
        /// What was read where it does not run true any more; nothing where it does.
        pub out_of_true: Option<OutOfTrue>,
        /// How its open gaps are told.
        pub gap_by: GapBy,
        /// Their angle, where they are told by one.
        pub gap_deg: f64,
        /// Their share of the angle from one segment to the next, where they are told by that.
        pub gap_pct: f64,
        /// How far it is turned on beyond its half segments.
        pub further_deg: f64,
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
        /// Along a part of the outside, begun and ended by the depth of the cut.
        OutsidePartly = "outside_partly",
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

kept_choice! {
    /// What holds a stack together while the slots of a set are sawn.
    pub enum StackHeld {
        /// Wood of its own, left between the slots and the hole.
        Bridge = "bridge",
        /// The strips: the slots go through the whole wall, and each strip is glued in before
        /// the next slot is sawn.
        Strips = "strip_by_strip",
        /// A disc of scrap glued on each face: the slots go through the whole wall.
        Discs = "scrap_discs",
    }
}

kept_record! {
    /// A set of slots, sawn through some neighbouring rings that are glued as one stack.
    pub struct SlotSet {
        /// The lowest ring of the stack; 1 is the one at the foot.
        pub from_ring: u32,
        /// The topmost.
        pub to_ring: u32,
        /// How many slots, evenly round; or places, where several stand side by side.
        pub slot_count: u32,
        /// How many stand side by side at each place.
        pub beside_count: u32,
        /// From one to the next of these; empty to suit.
        pub apart_deg: Option<f64>,
        /// The gauge's angle from the stack's axis.
        pub gauge_deg: f64,
        /// Which way they lean.
        pub leans: Leans,
        /// The blade's tilt; above 0 they run in to the right as they are seen from outside.
        pub tilt_deg: f64,
        /// What the first stands on.
        pub first_at: FirstAt,
        /// How far beyond that it stands, to the right.
        pub further_deg: f64,
        /// Width of the blade's cut.
        pub kerf_mm: f64,
        /// How much thinner the strip is.
        pub fit_mm: f64,
        /// Which of the vessel's woods the strips are of, where they are of one.
        pub wood: u32,
        /// The blade's height above the table; empty for the middle of its window.
        pub blade_mm: Option<f64>,
        /// Where the strips show.
        pub shows: StripsShow,
        /// Height above the foot at which they end where they show along a part, in place of the
        /// blade's height; empty for what the blade makes of it.
        pub ends_at_mm: Option<f64>,
        /// How the stack lies on the saw.
        pub stack_is: StackIs,
        /// What holds the stack together meanwhile.
        pub held_by: StackHeld,
        /// The layers that the strips are glued of, from the left as they are seen from
        /// outside; none where they are of one wood.
        pub layers: Vec<StripeLayer>,
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
            beside_count: 1,
            apart_deg: None,
            gauge_deg: 30.0,
            leans: Leans::Right,
            tilt_deg: 0.0,
            first_at: FirstAt::Joint,
            further_deg: 0.0,
            kerf_mm: 3.175,
            fit_mm: 0.127,
            wood: 0,
            blade_mm: None,
            shows: StripsShow::OutsideOnly,
            ends_at_mm: None,
            stack_is: StackIs::TurnedRound,
            held_by: StackHeld::Bridge,
            layers: Vec::new(),
        }
    }

    /// Whether its slots go through the whole wall; its strips then show inside too.
    pub fn is_through(&self) -> bool {
        self.held_by != StackHeld::Bridge
    }

    /// The layers of its strips; nothing where these are of one wood: a single layer is that.
    pub fn layered(&self) -> Option<&[StripeLayer]> {
        (self.layers.len() > 1).then_some(&self.layers)
    }

    /// The woods that its strips show, as places in the vessel's list, from the left.
    pub fn woods(&self) -> Vec<usize> {
        match self.layered() {
            Some(layers) => layers.iter().map(|it| it.wood as usize).collect(),
            None => vec![self.wood as usize],
        }
    }

    /// The places of woods that it names, to be changed.
    pub fn wood_places(&mut self) -> impl Iterator<Item = &mut u32> {
        let layers = self.layers.iter_mut().map(|it| &mut it.wood);
        std::iter::once(&mut self.wood).chain(layers)
    }

    /// How thick its strips are.
    pub fn strip_mm(&self) -> f64 {
        (self.kerf_mm - self.fit_mm).max(0.0)
    }
}

impl StackRing {
    /// How its round is shared among its segments. Striped ones are all alike: each is sawn
    /// from a stick of the same board.
    pub fn round(&self) -> Round {
        let shares = if self.stripes.is_none() {
            &self.shares[..]
        } else {
            &[]
        };
        Round::new(self.segment_count, shares, self.turn_half_segments)
            .turned_on(self.further_deg.to_radians())
    }

    /// How far it is turned on from straight ahead.
    pub fn turn(&self) -> Turn {
        Turn {
            half_segments: self.turn_half_segments,
            further_rad: self.further_deg.to_radians(),
        }
    }

    /// How thick what stands between its segments is; 0 where nothing does, or a gap that is
    /// told by an angle.
    pub fn between_mm(&self) -> f64 {
        match self.between {
            Between::Spacer => self.spacer_mm,
            Between::Gap if self.gap_by == GapBy::Thickness => self.spacer_mm,
            Between::Nothing | Between::Gap => 0.0,
        }
    }

    /// The angle of its open gaps; 0 where they are told by a thickness.
    pub fn gap_rad(&self) -> f64 {
        let is_gap = self.between == Between::Gap;
        match self.gap_by {
            GapBy::Angle if is_gap => self.gap_deg.to_radians(),
            GapBy::Share if is_gap => {
                self.gap_pct / 100.0 * TAU / f64::from(self.segment_count.max(1))
            }
            _ => 0.0,
        }
    }

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
            stripes: None,
            shares: Vec::new(),
            out_of_true: None,
            gap_by: GapBy::Thickness,
            gap_deg: 5.0,
            gap_pct: 25.0,
            further_deg: 0.0,
        }
    }

    /// The striped board of its segments; nothing for a disc, which has none.
    pub fn striped(&self) -> Option<&StripeChoice> {
        let stripes = self.stripes.as_ref();
        stripes.filter(|_| self.made_of == MadeOf::Segments)
    }

    /// The woods that it is of, as places in the vessel's list, each once, in their order.
    pub fn woods(&self) -> Vec<usize> {
        let mut woods: Vec<usize> = match (self.striped(), self.made_of) {
            (Some(stripes), _) => stripes.layers.iter().map(|it| it.wood as usize).collect(),
            (None, MadeOf::Disc) => vec![self.wood_of(0)],
            (None, MadeOf::Segments) => {
                (0..self.segment_count).map(|it| self.wood_of(it)).collect()
            }
        };
        woods.sort_unstable();
        woods.dedup();
        woods
    }

    /// The places of woods that it names, to be changed.
    pub fn wood_places(&mut self) -> impl Iterator<Item = &mut u32> {
        let layers = self.stripes.iter_mut().flat_map(|it| &mut it.layers);
        self.pattern.iter_mut().chain(layers.map(|it| &mut it.wood))
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
    /// The woods that its rings and slots are of, as places in its list, each once, in their order.
    pub fn woods_used(&self) -> Vec<usize> {
        let rings = self.rings.iter().flat_map(StackRing::woods);
        let strips = self.slot_sets.iter().flat_map(SlotSet::woods);
        let mut places: Vec<usize> = rings
            .chain(strips)
            .filter(|wood| *wood < self.woods.len())
            .collect();
        places.sort_unstable();
        places.dedup();
        places
    }

    /// Of how many segments each ring is, where all that are sawn are alike.
    pub fn common_segment_count(&self) -> Option<u32> {
        let rings = self.rings.iter();
        let mut sawn = rings.filter(|ring| ring.made_of == MadeOf::Segments);
        let first = sawn.next()?.segment_count;
        sawn.all(|ring| ring.segment_count == first)
            .then_some(first)
    }

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
