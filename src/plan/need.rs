//! What a piece needs of boards: strips of one width, and the pieces that are cut from them.

use crate::design::{Board, Design};
use crate::plan::bill::{Cut, Part, Piece};
use crate::trade::closing::HAIR_MM;
use crate::trade::strip::thin_strips;
use crate::trade::wood;
use crate::units::length::MM_PER_INCH;

/// Strips of one width that a piece needs of one wood.
#[derive(Clone, Debug, PartialEq)]
pub struct Need {
    /// The wood's name, trimmed.
    pub wood: String,
    /// Width of the strip.
    pub width_mm: f64,
    /// Thickness of the strip.
    pub height_mm: f64,
    /// Half the segment's angle: the saw setting; 0 for a square that becomes a disc.
    pub half_angle_rad: f64,
    /// Long edge of a segment, or side of the square.
    pub long_edge_mm: f64,
    /// Short edge.
    pub short_edge_mm: f64,
    /// Whether all must come from one board.
    pub is_matched: bool,
    /// Whether its pieces are strips, cut off square: for slots, or layers.
    pub is_strip: bool,
    /// Whether these are layers, to be glued to others.
    pub is_layer: bool,
    /// What the pieces are for, and how many for each.
    pub parts: Vec<(Part, u32)>,
    /// Into how many each piece is sliced later; 1 where it is not.
    pub slices: u32,
    /// Into how many plies a square for a disc is sliced, once it is a block of its own.
    pub plies: u32,
    /// How a square for a disc is glued up from these pieces, edge to edge.
    pub edges: Option<Edges>,
}

/// A square for a disc that is glued up edge to edge, since no board is so wide. Millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edges {
    /// From so many pieces.
    pub count: u32,
    /// Width of each as it is ripped.
    pub width_mm: f64,
    /// The square's side; as long is each piece.
    pub side_mm: f64,
}

/// Comes off an edge where it is jointed: 1/16 in (common practice, no published source).
const JOINTED_MM: f64 = MM_PER_INCH / 16.0;

/// A square is glued up from no more pieces (our own choice, no published source).
const MOST_PIECES: u32 = 6;

impl Edges {
    /// How the square of a cut is glued up; nothing for one that a board gives in one piece, that
    /// is no square, or where it is not to be.
    pub fn of(cut: &Cut, design: &Design) -> Option<Edges> {
        let rack = design.rack.as_ref().filter(|rack| rack.is_edge_glued)?;
        let Piece::Disc { .. } = cut.piece else {
            return None;
        };
        let (wood, side_mm) = (cut.wood.as_ref()?, cut.width_mm);
        let suits = |board: &&Board| {
            wood::is_same(&board.wood, wood) && rack.suits(board, cut.thickness_mm)
        };
        let boards = || rack.boards.iter().filter(suits);
        let gives = |board: &Board| {
            board.width_mm + HAIR_MM >= side_mm
                && board.longest_clear_mm(side_mm) + HAIR_MM >= side_mm
        };
        if boards().any(gives) {
            return None;
        }
        let widest_mm = boards().map(|board| board.width_mm).fold(0.0, f64::max);
        let of = |count: u32| Edges {
            count,
            width_mm: (side_mm + 2.0 * JOINTED_MM * f64::from(count - 1)) / f64::from(count),
            side_mm,
        };
        let mut all = (2..=MOST_PIECES).map(of);
        all.find(|it| it.width_mm <= widest_mm + HAIR_MM)
    }

    /// What glue covers in so many squares of a thickness, square millimeters.
    pub fn glue_mm2(&self, squares: u32, thickness_mm: f64) -> f64 {
        f64::from(squares * (self.count - 1)) * self.side_mm * thickness_mm
    }
}

impl Need {
    /// What a piece of the bill needs of boards; nothing for what is of any wood, or of veneer.
    fn of(cut: &Cut, design: &Design) -> Option<Need> {
        if cut.is_veneer() {
            return None;
        }
        let need = Need {
            wood: cut.wood.as_ref()?.trim().to_owned(),
            width_mm: cut.width_mm,
            height_mm: cut.thickness_mm,
            half_angle_rad: 0.0,
            long_edge_mm: cut.width_mm,
            short_edge_mm: cut.width_mm,
            is_matched: cut.is_matched,
            is_strip: matches!(cut.piece, Piece::SlotStrip { .. } | Piece::Layer { .. }),
            is_layer: matches!(cut.piece, Piece::Layer { .. }),
            parts: cut.parts.clone(),
            slices: 1,
            plies: 1,
            edges: None,
        };
        Some(match cut.piece {
            Piece::Segment(segment, _) => Need {
                half_angle_rad: segment.outside.half_angle_rad,
                long_edge_mm: segment.outside.long_edge_mm,
                short_edge_mm: segment.short_edge_mm,
                ..need
            },
            Piece::SlotStrip { length_mm } | Piece::Layer { length_mm, .. } => Need {
                long_edge_mm: length_mm,
                short_edge_mm: length_mm,
                ..need
            }
            .sliced(design),
            Piece::Disc { slices, .. } => Need {
                plies: slices,
                ..need
            }
            .glued_up(Edges::of(cut, design)),
            Piece::Spacer { .. }
            | Piece::Striped(_)
            | Piece::LayeredStrip { .. }
            | Piece::Veneer { .. }
            | Piece::ScrapDisc => need,
        })
    }

    /// The pieces that its squares are glued up from, where they are: ripped as strips are, and
    /// crosscut as long as a square.
    fn glued_up(self, edges: Option<Edges>) -> Need {
        let Some(own) = edges else {
            return self;
        };
        let parts = self.parts.iter();
        Need {
            width_mm: own.width_mm,
            long_edge_mm: own.side_mm,
            short_edge_mm: own.side_mm,
            parts: parts
                .map(|(part, squares)| (*part, squares * own.count))
                .collect(),
            edges,
            ..self
        }
    }

    /// Strips for slots, and layers, are sawn off the edge of a board as thick as they are wide. Where
    /// no board is, a strip is laid flat and sliced into as many as its thickness gives.
    fn sliced(self, design: &Design) -> Need {
        let Some(rack) = &design.rack else {
            return self;
        };
        let of_wood = rack
            .boards
            .iter()
            .filter(|board| wood::is_same(&board.wood, &self.wood));
        if of_wood
            .clone()
            .any(|board| rack.suits(board, self.height_mm))
        {
            return self;
        }
        let kerf_mm = design.shop.kerf_mm;
        let thickest = of_wood.map(Board::usable_mm).fold(0.0, f64::max);
        let each = thin_strips(thickest, self.width_mm, kerf_mm);
        if each == 0 {
            return self;
        }
        let parts = self.parts.iter();
        Need {
            width_mm: self.height_mm,
            height_mm: thickest,
            parts: parts
                .map(|(part, count)| (*part, count.div_ceil(each)))
                .collect(),
            slices: each,
            ..self.clone()
        }
    }

    /// Whether its pieces are cut off square, so that the last cut may leave the board.
    pub fn is_square(&self) -> bool {
        self.half_angle_rad == 0.0
    }

    /// Whether it is strips for slots, or layers of striped boards.
    pub fn is_strip(&self) -> bool {
        self.is_strip
    }

    /// Whether it is a square for a disc, in one piece.
    pub fn is_disc(&self) -> bool {
        self.is_square() && !self.is_strip && self.edges.is_none()
    }

    /// Pieces in all.
    pub fn count(&self) -> u32 {
        self.parts.iter().map(|(_, count)| count).sum()
    }

    /// From one piece to the next along the strip.
    pub fn pitch_mm(&self, kerf_mm: f64) -> f64 {
        f64::midpoint(self.long_edge_mm, self.short_edge_mm) + kerf_mm / self.half_angle_rad.cos()
    }

    /// What the miter at a fresh end takes along the strip.
    pub fn run_mm(&self) -> f64 {
        self.width_mm * self.half_angle_rad.tan()
    }

    /// What must be left of a strip behind the last cut: less than nothing where that cut may
    /// leave the strip.
    pub fn held_mm(&self, saw: &Saw) -> f64 {
        if self.is_square() {
            -saw.kerf_mm
        } else {
            saw.hold_back_mm
        }
    }

    /// Wood in one piece, seen from above, square millimeters.
    pub fn piece_mm2(&self) -> f64 {
        f64::midpoint(self.long_edge_mm, self.short_edge_mm) * self.width_mm
    }
}

/// What a bill needs of boards.
pub fn needs(design: &Design, bill: &[Cut]) -> Vec<Need> {
    bill.iter()
        .filter_map(|cut| Need::of(cut, design))
        .collect()
}

/// What the saw takes and needs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Saw {
    /// Width of its cut, ripping and across.
    pub kerf_mm: f64,
    /// Shortest piece that is still held.
    pub hold_back_mm: f64,
}

/// The saw of a design.
pub fn saw(design: &Design) -> Saw {
    Saw {
        kerf_mm: design.shop.kerf_mm,
        hold_back_mm: design.shop.hold_back_mm,
    }
}
