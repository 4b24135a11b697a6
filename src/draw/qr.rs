//! A link to scan: a QR code (ISO/IEC 18004) as one outline.
//!
//! The dark area is traced along its edge instead of being laid out module by module: fewer bytes,
//! and no hairlines between neighboring modules in viewers that smooth each edge.

use super::{Fill, Mark, Path, Point, palette, point, rectangle};
use qrcodegen::{QrCode, QrCodeEcc};

/// The white border that a reader needs, in modules (ISO/IEC 18004, 6.3.8).
const QUIET_ZONE: usize = 4;

/// The smallest module that a phone reads from a sheet at arm's length, in millimeters.
pub const PAPER_MODULE_MM: f64 = 0.5;
/// The same from a screen, which shines.
pub const SCREEN_MODULE_MM: f64 = 0.33;

/// Modules are whole numbers of these, and begin on one: a printer's dots, and a coarse
/// picture's pixels, then have no half ones.
pub const DOT_MM: f64 = 25.4 / 150.0;

/// Why there is no QR code.
#[derive(Clone, Debug, PartialEq)]
pub enum QrError {
    /// The text holds more than the largest code.
    TooLong {
        /// How many bytes it has.
        bytes: usize,
    },
    /// In the room given, a module would be too small to read.
    TooSmall {
        /// The least side at which the code can be read, in millimeters.
        least_side_mm: f64,
    },
}

impl std::fmt::Display for QrError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::TooLong { bytes } => write!(
                f,
                "QR code: the link has {bytes} characters, and a QR code holds at most 2,953: \
                 shorten the names in the design"
            ),
            Self::TooSmall { least_side_mm } => write!(
                f,
                "QR code: its squares would be too small to scan: it needs {} mm",
                least_side_mm.ceil() as u32
            ),
        }
    }
}

impl std::error::Error for QrError {}

/// The QR code of a text within a square given by its top left corner and its side, the white
/// border included.
///
/// No module is smaller than `least_mm`. About 15 % of the code may be soiled (error correction "medium") if its squares are then
/// large enough, else 7 % ("low").
pub fn qr(text: &str, corner: Point, side_mm: f64, least_mm: f64) -> Result<Vec<Mark>, QrError> {
    let module_of = |code: &QrCode| (side_mm / across(code) / DOT_MM + 1e-9).floor() * DOT_MM;
    let mut code = encode(text, &[QrCodeEcc::Medium, QrCodeEcc::Low])?;
    if module_of(&code) < least_mm {
        code = encode(text, &[QrCodeEcc::Low])?;
    }
    let size = code.size() as usize;
    let across = across(&code);
    let module_mm = module_of(&code);
    // Also when the side is no number.
    if !module_mm.is_finite() || module_mm < least_mm {
        return Err(QrError::TooSmall {
            least_side_mm: across * least_mm,
        });
    }
    let spare = (side_mm - module_mm * across) / 2.0;
    let border = spare + module_mm * QUIET_ZONE as f64;
    let place = |(column, row): (usize, usize)| {
        let reach = |from: f64, modules: usize| {
            let first = ((from + border) / DOT_MM).round() * DOT_MM;
            ((first + modules as f64 * module_mm) * 1000.0).round() / 1000.0
        };
        point(reach(corner.x, column), reach(corner.y, row))
    };
    let dark = Grid::of(&code, size);
    let mut steps = Vec::new();
    for outline in dark.outlines() {
        let points: Vec<Point> = outline.into_iter().map(place).collect();
        steps.extend(super::polygon(&points));
    }
    let ground = rectangle(corner, side_mm, side_mm);
    Ok(vec![
        Path::area(ground, Fill::Exact(palette::WHITE)).into(),
        Path {
            steps,
            ink: None,
            fill: Some(Fill::Exact(palette::BLACK)),
            name: Some("qr".into()),
        }
        .into(),
    ])
}

/// How many modules a code is across, its white border included.
fn across(code: &QrCode) -> f64 {
    (code.size() as usize + 2 * QUIET_ZONE) as f64
}

/// The least side at which the code of a text can be read from paper; none where it holds too much.
pub fn least_side_mm(text: &str) -> Option<f64> {
    let code = encode(text, &[QrCodeEcc::Low]).ok()?;
    Some(across(&code) * (PAPER_MODULE_MM / DOT_MM).ceil() * DOT_MM)
}

fn encode(text: &str, levels: &[QrCodeEcc]) -> Result<QrCode, QrError> {
    levels
        .iter()
        .find_map(|level| QrCode::encode_text(text, *level).ok())
        .ok_or(QrError::TooLong { bytes: text.len() })
}

/// The modules of a code, dark or light, with light ones all around.
struct Grid {
    size: usize,
    dark: Vec<bool>,
}

type Corner = (usize, usize);

impl Grid {
    fn of(code: &QrCode, size: usize) -> Self {
        let side = code.size();
        let dark = (0..side)
            .flat_map(|row| (0..side).map(move |column| (column, row)))
            .map(|(column, row)| code.get_module(column, row))
            .collect();
        Self { size, dark }
    }

    /// Whether the module right below the corner (or left and above by whole modules) is dark.
    fn is_dark(&self, column: usize, row: usize, left: bool, above: bool) -> bool {
        let inside = |place: usize, back: bool| {
            place
                .checked_sub(usize::from(back))
                .filter(|place| *place < self.size)
        };
        match (inside(column, left), inside(row, above)) {
            (Some(column), Some(row)) => self.dark[row * self.size + column],
            _ => false,
        }
    }

    /// The closed outlines of the dark area by their corners.
    ///
    /// Dark lies on the right of the way; so level edges with dark below are walked rightward, and
    /// every outline has one: its topmost.
    fn outlines(&self) -> Vec<Vec<Corner>> {
        let mut seen = vec![false; self.size * (self.size + 1)];
        let mut outlines = Vec::new();
        for row in 0..self.size {
            for column in 0..self.size {
                let is_top = self.is_dark(column, row, false, false)
                    && !self.is_dark(column, row, false, true);
                if is_top && !seen[row * self.size + column] {
                    outlines.push(self.walk((column, row), &mut seen));
                }
            }
        }
        outlines
    }

    /// Walks one outline from the left end of a level edge with dark below it.
    fn walk(&self, start: Corner, seen: &mut [bool]) -> Vec<Corner> {
        let mut corners = Vec::new();
        let (mut here, mut way) = (start, Way::Right);
        loop {
            if way == Way::Right {
                seen[here.1 * self.size + here.0] = true;
            }
            here = way.step(here);
            let next = self.turn(here, way);
            if next != way {
                corners.push(here);
            }
            way = next;
            if here == start && way == Way::Right {
                return corners;
            }
        }
    }

    /// Which way the edge goes on at a corner: dark areas that only touch there stay apart.
    fn turn(&self, (column, row): Corner, way: Way) -> Way {
        let ahead_left = way.turned_left();
        let dark_toward = |turn: Way| {
            let (left, above) = turn.module_on_the_right();
            self.is_dark(column, row, left, above)
        };
        // The module on the right of going straight on, then on the right of turning left.
        if !dark_toward(way) {
            way.turned_right()
        } else if !dark_toward(ahead_left) {
            way
        } else {
            ahead_left
        }
    }
}

#[derive(Clone, Copy, PartialEq)]
enum Way {
    Right,
    Down,
    Left,
    Up,
}

impl Way {
    fn step(self, (column, row): Corner) -> Corner {
        match self {
            Self::Right => (column + 1, row),
            Self::Down => (column, row + 1),
            Self::Left => (column.saturating_sub(1), row),
            Self::Up => (column, row.saturating_sub(1)),
        }
    }

    fn turned_right(self) -> Self {
        match self {
            Self::Right => Self::Down,
            Self::Down => Self::Left,
            Self::Left => Self::Up,
            Self::Up => Self::Right,
        }
    }

    fn turned_left(self) -> Self {
        self.turned_right().turned_right().turned_right()
    }

    /// Where, seen from the corner, the module lies that is on the right of the next edge:
    /// (to the left, above).
    fn module_on_the_right(self) -> (bool, bool) {
        match self {
            Self::Right => (false, false),
            Self::Down => (true, false),
            Self::Left => (true, true),
            Self::Up => (false, true),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grid(rows: &[&str]) -> Grid {
        let dark = rows.concat().chars().map(|c| c == '#').collect();
        Grid {
            size: rows.len(),
            dark,
        }
    }

    #[test]
    fn one_module_has_four_corners() {
        let outlines = grid(&["#"]).outlines();
        assert_eq!(outlines, [[(1, 0), (1, 1), (0, 1), (0, 0)]]);
    }

    #[test]
    fn modules_that_touch_at_a_corner_stay_apart() {
        assert_eq!(grid(&["#.", ".#"]).outlines().len(), 2);
    }

    #[test]
    fn a_hole_is_an_outline_of_its_own() {
        let outlines = grid(&["###", "#.#", "###"]).outlines();
        assert_eq!(outlines.iter().map(Vec::len).collect::<Vec<_>>(), [4, 4]);
    }

    #[test]
    fn refusals_say_why() {
        let corner = point(0.0, 0.0);
        let error = qr(&"x".repeat(3000), corner, 60.0, PAPER_MODULE_MM).unwrap_err();
        assert_eq!(error, QrError::TooLong { bytes: 3000 });
        let error = qr("a link", corner, 5.0, PAPER_MODULE_MM).unwrap_err();
        assert!(error.to_string().ends_with("it needs 15 mm"), "{error}");
        assert!(qr("a link", corner, f64::NAN, PAPER_MODULE_MM).is_err());
    }

    #[test]
    fn a_long_text_falls_back_to_the_lower_correction() {
        assert!(qr(&"x".repeat(2900), point(0.0, 0.0), 100.0, PAPER_MODULE_MM).is_ok());
    }
}
