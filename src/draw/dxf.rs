//! A drawing as ASCII DXF, for a laser or a vinyl cutter: the plain entities of release
//! 12 (1992), which every such program reads, in millimeters, y upward.
//!
//! Source: Autodesk, "DXF Reference", the group codes of `LINE`, `POLYLINE`, `CIRCLE` and
//! `TEXT` (from memory; `tests/packet.rs` reads the files with another reader).
//! Layers: `CUT` for the edges along which is cut out, `SCORE` for the lines that are used on
//! what is cut out, `NOTE` for what is only to be read.

use super::flat::flatten;
use super::mark::{LAYERS, layer};
use super::{Anchor, Drawing, Fill, Mark, Path, Point, Step, Words};
use std::fmt::Write as _;

/// How far straight pieces may stray from a curve.
const TOLERANCE_MM: f64 = 0.005;

/// The drawing as a file.
pub fn to_dxf(drawing: &Drawing) -> String {
    let mut file = Dxf {
        text: String::from(
            "0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1009\n9\n$INSUNITS\n70\n4\n9\n$MEASUREMENT\n70\n1\n0\nENDSEC\n\
             0\nSECTION\n2\nTABLES\n0\nTABLE\n2\nLTYPE\n70\n1\n0\nLTYPE\n2\nCONTINUOUS\n70\n0\n\
             3\nSolid line\n72\n65\n73\n0\n40\n0\n0\nENDTAB\n0\nTABLE\n2\nLAYER\n70\n3\n",
        ),
        height_mm: drawing.height_mm,
    };
    for (layer, color) in LAYERS.into_iter().zip([1, 5, 3]) {
        let _ = write!(
            file.text,
            "0\nLAYER\n2\n{layer}\n70\n0\n62\n{color}\n6\nCONTINUOUS\n"
        );
    }
    file.text
        .push_str("0\nENDTAB\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n");
    for mark in drawing.drawable() {
        match mark {
            Mark::Path(path) => file.path(path, LAYERS[layer(mark)]),
            Mark::Words(words) => file.words(words),
        }
    }
    file.text.push_str("0\nENDSEC\n0\nEOF\n");
    file.text
}

struct Dxf {
    text: String,
    height_mm: f64,
}

impl Dxf {
    fn entity(&mut self, name: &str, layer: &str) {
        let _ = write!(self.text, "0\n{name}\n8\n{layer}\n");
    }

    fn number(&mut self, code: u32, value: f64) {
        let _ = writeln!(self.text, "{code}");
        super::svg::push_fixed(value, 10_000.0, &mut self.text);
        self.text.push('\n');
    }

    /// A place by the group codes of its x and y, the latter ten more.
    fn at(&mut self, code: u32, at: Point) {
        self.number(code, at.x);
        self.number(code + 10, self.height_mm - at.y);
    }

    fn path(&mut self, path: &Path, layer: &str) {
        let is_seen = matches!(
            path.fill,
            Some(Fill::Tone(super::Tone::Graphite) | Fill::Exact(super::palette::BLACK))
        );
        // Of what has no line, arrowheads have an outline; grounds are nothing to be drawn.
        if path.ink.is_none() && !is_seen {
            return;
        }
        if let Some((center, radius)) = round(&path.steps) {
            self.entity("CIRCLE", layer);
            self.at(10, center);
            self.number(40, radius);
            return;
        }
        for line in flatten(&path.steps, TOLERANCE_MM) {
            if let [from, to] = line.points[..] {
                self.entity("LINE", layer);
                self.at(10, from);
                self.at(11, to);
                continue;
            }
            self.entity("POLYLINE", layer);
            let closed = u32::from(line.is_closed);
            let _ = write!(self.text, "66\n1\n70\n{closed}\n");
            for corner in &line.points {
                self.entity("VERTEX", layer);
                self.at(10, *corner);
            }
            self.entity("SEQEND", layer);
        }
    }

    fn words(&mut self, words: &Words) {
        let said = words.lettering.spoken();
        if said.is_empty() {
            return;
        }
        self.entity("TEXT", "NOTE");
        let base = words.base();
        self.at(10, base);
        self.number(40, words.height_mm);
        self.text.push_str("1\n");
        for character in said.chars() {
            match character {
                ' '..='~' => self.text.push(character),
                // Release 12 has codes of its own for these, and knows no other letters.
                'Ø' => self.text.push_str("%%c"),
                '°' => self.text.push_str("%%d"),
                '−' | '–' => self.text.push('-'),
                '×' => self.text.push('x'),
                '’' => self.text.push('\''),
                '\u{a0}' | '\u{2009}' | '\u{202f}' => self.text.push(' '),
                // This escape came with Unicode; an older reader shows it as it is.
                _ => {
                    let mut units = [0; 2];
                    for unit in character.encode_utf16(&mut units) {
                        let _ = write!(self.text, "\\U+{unit:04X}");
                    }
                }
            }
        }
        self.text.push('\n');
        if words.turn_deg != 0.0 {
            self.number(50, -words.turn_deg);
        }
        let justified = match words.anchor {
            Anchor::Start => return,
            Anchor::Middle => 1,
            Anchor::End => 2,
        };
        let _ = write!(self.text, "72\n{justified}\n");
        self.at(11, base);
    }
}

/// Center and radius of a path that is one whole circle of eight equal arcs, as
/// [`super::circle`] makes it.
fn round(steps: &[Step]) -> Option<(Point, f64)> {
    let [Step::MoveTo(start), arcs @ .., Step::Close] = steps else {
        return None;
    };
    let ends: Vec<Point> = arcs
        .iter()
        .map(|step| match step {
            Step::CurveTo(_, _, end) => Some(*end),
            _ => None,
        })
        .collect::<Option<_>>()?;
    let center = start.halfway(*ends.get(3)?);
    let radius = center.distance(*start);
    let is_round = ends.len() == 8
        && ends
            .iter()
            .all(|end| (center.distance(*end) - radius).abs() < 1e-6);
    is_round.then_some((center, radius))
}
