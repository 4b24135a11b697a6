//! A drawing as SVG: for the screen, in CSS pixels and classes, and as a file, in millimeters.
//!
//! On the screen the page's style sheet colors the classes (so that dark and high contrast follow
//! the system), and there is no style attribute, which the page's content security policy would
//! refuse. A file stands alone: every color and width is an attribute of its stroke, which even
//! programs that know no style sheets read.

use super::lettering::font_size_mm;
use super::mark::{LAYERS, layer};
use super::thin::thin;
use super::widths::width;
use super::{Anchor, Drawing, Fill, Ink, MM_PER_PX, Mark, Path, Point, Step, Weight, Words, point};
use super::{Color, palette};

/// A drawing for the screen.
#[derive(Clone, Debug, PartialEq)]
pub struct Screen {
    /// The `<svg>` element.
    pub svg: String,
    /// Where the page lays its fields, in the order in which they were drawn.
    pub placements: Vec<Placement>,
}

/// Where a field lies on the drawing, in CSS pixels from its top left corner.
#[derive(Clone, Debug, PartialEq)]
pub struct Placement {
    /// The field's name.
    pub field: String,
    /// The place that [`Placement::anchor`] speaks of.
    pub x_px: f64,
    /// The height of the field's middle.
    pub y_px: f64,
    /// The width kept free for it.
    pub width_px: f64,
    /// The height kept free for it.
    pub height_px: f64,
    /// Which part of the field lies at the place.
    pub anchor: Anchor,
    /// Whether the words that it replaces run upward.
    pub turned: bool,
    /// The words that it replaces.
    pub text: String,
}

/// The drawing for the screen. `id` names it among the drawings of the page.
pub fn to_screen(drawing: &Drawing, id: &str) -> Screen {
    let mut writer = Writer::new(Target::Screen);
    writer.open_on_screen(drawing, id);
    let mut placements = Vec::new();
    for mark in drawing.drawable() {
        match mark {
            Mark::Words(words) if words.field.is_some() => placements.extend(placement(words)),
            mark => writer.mark(mark),
        }
    }
    Screen {
        svg: writer.close(),
        placements,
    }
}

/// The drawing as a file of its own, true to scale.
pub fn to_file(drawing: &Drawing) -> String {
    let mut writer = Writer::new(Target::File);
    writer.open_as_file(drawing);
    for mark in drawing.drawable() {
        writer.mark(mark);
    }
    writer.close()
}

/// The drawing for a drawing program or a cutter, its layers as groups and without a ground:
/// each layer in one group where it is a template, else as they follow each other.
pub fn to_layers(drawing: &Drawing, is_template: bool) -> String {
    let mut writer = Writer::new(Target::File);
    writer.open_bare(drawing);
    let mut marks: Vec<(usize, &Mark)> = drawing.drawable().map(|it| (layer(it), it)).collect();
    if is_template {
        // Grounds only keep lines off words.
        let is_ground = |mark: &Mark| matches!(mark, Mark::Path(path) if path.ink.is_none() && path.fill == Some(Fill::Tone(super::Tone::Paper)));
        marks.retain(|(_, mark)| !is_ground(mark));
        marks.sort_by_key(|it| it.0);
    }
    let kind = if is_template { "id" } else { "class" };
    for run in marks.chunk_by(|one, other| one.0 == other.0) {
        for part in ["<g ", kind, "=\"", LAYERS[run[0].0], "\">"] {
            writer.out.push_str(part);
        }
        for (_, mark) in run {
            writer.mark(mark);
        }
        writer.out.push_str("</g>");
    }
    writer.close()
}

fn placement(words: &Words) -> Option<Placement> {
    let field = words.field.as_ref()?;
    let base = words.base();
    let middle = base.polar(-words.height_mm / 2.0, (words.turn_deg + 90.0).to_radians());
    Some(Placement {
        field: field.name.clone(),
        x_px: middle.x / MM_PER_PX,
        y_px: middle.y / MM_PER_PX,
        width_px: field.width_mm / MM_PER_PX,
        height_px: field.height_mm / MM_PER_PX,
        anchor: words.anchor,
        turned: words.turn_deg.to_radians().sin().abs() > std::f64::consts::FRAC_1_SQRT_2,
        text: words.lettering.spoken(),
    })
}

/// A tenth of a CSS pixel.
const UNSEEN_MM: f64 = 0.1 * MM_PER_PX;

#[derive(Clone, Copy, PartialEq)]
enum Target {
    Screen,
    File,
}

struct Writer {
    out: String,
    target: Target,
    /// Units of the drawing in a millimeter.
    scale: f64,
    /// Ten to the number of decimals.
    grain: f64,
}

impl Writer {
    fn new(target: Target) -> Self {
        let (scale, grain) = match target {
            Target::Screen => (1.0 / MM_PER_PX, 10.0),
            Target::File => (1.0, 10_000.0),
        };
        Self {
            out: String::with_capacity(4096),
            target,
            scale,
            grain,
        }
    }

    fn open_on_screen(&mut self, drawing: &Drawing, id: &str) {
        self.out
            .push_str("<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"drawing\"");
        self.attribute_length("width", drawing.width_mm);
        self.attribute_length("height", drawing.height_mm);
        self.view_box(drawing);
        self.out
            .push_str(" role=\"img\" fill-rule=\"evenodd\" aria-labelledby=\"");
        escape(id, &mut self.out);
        self.out.push_str("-title ");
        escape(id, &mut self.out);
        self.out.push_str("-description\">");
        self.described("title", Some(id), &drawing.title);
        self.described("desc", Some(id), &drawing.description);
    }

    fn open_as_file(&mut self, drawing: &Drawing) {
        self.open_bare(drawing);
        // A dark viewer would else show graphite on black.
        let ground = super::rectangle(point(0.0, 0.0), drawing.width_mm, drawing.height_mm);
        self.mark(&Path::area(ground, Fill::Tone(super::Tone::Paper)).into());
    }

    fn open_bare(&mut self, drawing: &Drawing) {
        self.out
            .push_str("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
        self.out
            .push_str("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"");
        self.number(drawing.width_mm);
        self.out.push_str("mm\" height=\"");
        self.number(drawing.height_mm);
        self.out.push_str("mm\"");
        self.view_box(drawing);
        self.out.push_str(
            " fill-rule=\"evenodd\" stroke-linejoin=\"round\" \
             font-family=\"Helvetica, Arial, sans-serif\">",
        );
        self.described("title", None, &drawing.title);
        self.described("desc", None, &drawing.description);
    }

    fn view_box(&mut self, drawing: &Drawing) {
        self.out.push_str(" viewBox=\"0 0 ");
        self.number(drawing.width_mm);
        self.out.push(' ');
        self.number(drawing.height_mm);
        self.out.push('"');
    }

    fn described(&mut self, element: &str, id: Option<&str>, text: &str) {
        self.out.push('<');
        self.out.push_str(element);
        if let Some(id) = id {
            self.out.push_str(" id=\"");
            escape(id, &mut self.out);
            self.out.push_str(if element == "title" {
                "-title\""
            } else {
                "-description\""
            });
        }
        self.out.push('>');
        escape(text, &mut self.out);
        self.out.push_str("</");
        self.out.push_str(element);
        self.out.push('>');
    }

    fn close(mut self) -> String {
        self.out.push_str("</svg>");
        if self.target == Target::File {
            self.out.push('\n');
        }
        self.out
    }

    fn mark(&mut self, mark: &Mark) {
        match mark {
            Mark::Path(path) if self.is_worth_drawing(path) => self.path(path),
            Mark::Path(_) => {}
            Mark::Words(words) => self.words(words),
        }
    }

    /// A file has no use for what is only to be touched.
    fn is_worth_drawing(&self, path: &Path) -> bool {
        self.target == Target::Screen || path.ink.is_some() || path.fill != Some(Fill::Touch)
    }

    fn path(&mut self, path: &Path) {
        self.out.push_str("<path");
        match self.target {
            Target::Screen => self.path_classes(path),
            Target::File => self.path_colors(path),
        }
        if let Some(name) = &path.name {
            self.attribute("data-name", name);
        }
        self.out.push_str(" d=\"");
        match self.target {
            Target::Screen => self.steps(&thin(&path.steps, UNSEEN_MM)),
            Target::File => self.steps(&path.steps),
        }
        self.out.push_str("\"/>");
    }

    fn path_classes(&mut self, path: &Path) {
        self.out.push_str(" class=\"");
        if let Some(ink) = path.ink {
            self.out.push_str(ink.class());
        }
        let (class, exact) = match path.fill {
            None => ("", None),
            Some(Fill::Tone(tone)) => (tone.class(), None),
            Some(Fill::Wood(color)) if color.is_light() => ("wood", Some(color)),
            // A thin dark line would not be seen on it.
            Some(Fill::Wood(color)) => ("wood is-dark", Some(color)),
            Some(Fill::Exact(color)) => ("exact", Some(color)),
            Some(Fill::Touch) => ("touch", None),
        };
        if !class.is_empty() {
            self.out.push_str(if path.ink.is_some() {
                " fill-"
            } else {
                "fill-"
            });
            self.out.push_str(class);
        }
        self.out.push('"');
        match exact {
            Some(color) => self.attribute("fill", &color.hex()),
            None if path.fill.is_none() => self.attribute("fill", "none"),
            None => {}
        }
    }

    fn path_colors(&mut self, path: &Path) {
        match path.fill {
            None | Some(Fill::Touch) => self.attribute("fill", "none"),
            Some(fill) => self.attribute("fill", &file_color(fill).hex()),
        }
        if let Some(ink) = path.ink {
            self.stroke(ink);
        }
    }

    fn stroke(&mut self, ink: Ink) {
        self.attribute("stroke", &ink.tone().color().hex());
        self.attribute_length("stroke-width", ink.width_mm());
        if !ink.dashes_mm().is_empty() {
            self.out.push_str(" stroke-dasharray=\"");
            for (index, dash) in ink.dashes_mm().iter().enumerate() {
                if index > 0 {
                    self.out.push(' ');
                }
                self.number(*dash);
            }
            self.out.push('"');
        }
    }

    fn steps(&mut self, steps: &[Step]) {
        let mut here = point(f64::NAN, f64::NAN);
        let mut start = here;
        for step in steps {
            match *step {
                Step::MoveTo(p) => {
                    self.command('M', &[p]);
                    start = p;
                    here = p;
                }
                Step::LineTo(p) => {
                    self.straight(here, p);
                    here = p;
                }
                Step::CurveTo(a, b, p) => {
                    self.command('C', &[a, b, p]);
                    here = p;
                }
                Step::Close => {
                    self.out.push('Z');
                    here = start;
                }
            }
        }
    }

    /// A straight line; one coordinate is enough if it is level or upright.
    fn straight(&mut self, from: Point, to: Point) {
        if from.y.to_bits() == to.y.to_bits() {
            self.out.push('H');
            self.number(to.x);
        } else if from.x.to_bits() == to.x.to_bits() {
            self.out.push('V');
            self.number(to.y);
        } else {
            self.command('L', &[to]);
        }
    }

    fn command(&mut self, letter: char, points: &[Point]) {
        self.out.push(letter);
        for (index, p) in points.iter().enumerate() {
            if index > 0 {
                self.out.push(' ');
            }
            self.number(p.x);
            self.out.push(' ');
            self.number(p.y);
        }
    }

    fn words(&mut self, words: &Words) {
        let base = words.base();
        let font = font_size_mm(words.height_mm);
        self.out.push_str("<text");
        self.attribute_length("x", base.x);
        self.attribute_length("y", base.y);
        self.attribute_length("font-size", font);
        self.words_look(words);
        self.fitted(words);
        match words.anchor {
            Anchor::Start => {}
            Anchor::Middle => self.attribute("text-anchor", "middle"),
            Anchor::End => self.attribute("text-anchor", "end"),
        }
        if words.turn_deg != 0.0 {
            self.out.push_str(" transform=\"rotate(");
            push_fixed(words.turn_deg, 10_000.0, &mut self.out);
            self.out.push(' ');
            self.number(base.x);
            self.out.push(' ');
            self.number(base.y);
            self.out.push_str(")\"");
        }
        self.out.push('>');
        self.letters(words, font);
        self.out.push_str("</text>");
    }

    /// In whatever typeface a file's reader has, words are as long as they were laid out.
    fn fitted(&mut self, words: &Words) {
        let pieces = words.lettering.pieces();
        let mut letters = pieces.iter().flat_map(|piece| piece.text.chars());
        let is_known = letters.all(|letter| width(letter, words.weight).is_some());
        let length_mm = words.lettering.width_mm(words.height_mm, words.weight);
        if self.target == Target::File && is_known && length_mm > 0.0 {
            self.attribute_length("textLength", length_mm);
            self.attribute("lengthAdjust", "spacingAndGlyphs");
        }
    }

    fn words_look(&mut self, words: &Words) {
        let bold = words.weight == Weight::Bold;
        match self.target {
            Target::Screen => {
                self.out.push_str(" class=\"words tone-");
                self.out.push_str(words.tone.class());
                self.out.push_str(if bold { " bold\"" } else { "\"" });
            }
            Target::File => {
                self.attribute("fill", &words.tone.color().hex());
                if bold {
                    self.attribute("font-weight", "bold");
                }
            }
        }
    }

    fn letters(&mut self, words: &Words, font_mm: f64) {
        let mut rise = 0.0;
        for piece in words.lettering.pieces() {
            let change = rise - piece.rise;
            let small = piece.size < 1.0;
            if !small && change == 0.0 {
                escape(&piece.text, &mut self.out);
                continue;
            }
            self.out.push_str("<tspan");
            if change != 0.0 {
                self.attribute_length("dy", change * font_mm);
            }
            if small {
                self.attribute_length("font-size", piece.size * font_mm);
            }
            self.out.push('>');
            escape(&piece.text, &mut self.out);
            self.out.push_str("</tspan>");
            rise = piece.rise;
        }
    }

    fn attribute(&mut self, name: &str, value: &str) {
        self.out.push(' ');
        self.out.push_str(name);
        self.out.push_str("=\"");
        escape(value, &mut self.out);
        self.out.push('"');
    }

    fn attribute_length(&mut self, name: &str, length_mm: f64) {
        self.out.push(' ');
        self.out.push_str(name);
        self.out.push_str("=\"");
        self.number(length_mm);
        self.out.push('"');
    }

    fn number(&mut self, length_mm: f64) {
        push_fixed(length_mm * self.scale, self.grain, &mut self.out);
    }
}

fn file_color(fill: Fill) -> Color {
    match fill {
        Fill::Tone(tone) => tone.color(),
        Fill::Wood(color) | Fill::Exact(color) => color,
        Fill::Touch => palette::WHITE,
    }
}

/// Writes a number rounded to a grain (100 for two decimals) without trailing zeros.
///
/// By whole numbers, since the formatting of floating point numbers weighs several kilobytes of
/// wasm; what is no number becomes 0 (the conversion saturates), never `NaN`.
pub(super) fn push_fixed(value: f64, grain: f64, out: &mut String) {
    let grains = (value * grain).round() as i64;
    if grains < 0 {
        out.push('-');
    }
    let grain = grain as u64;
    let grains = grains.unsigned_abs();
    out.push_str(&(grains / grain).to_string());
    let mut rest = grains % grain;
    if rest == 0 {
        return;
    }
    out.push('.');
    let mut place = grain / 10;
    while rest > 0 && place > 0 {
        out.push(char::from(b'0' + (rest / place) as u8));
        rest %= place;
        place /= 10;
    }
}

/// Writes text so that it stays text, whatever it holds (XML 1.0, 2.2 and 2.4).
fn escape(text: &str, out: &mut String) {
    for character in text.chars() {
        match character {
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            // Neither control characters nor non-characters may stand in XML.
            '\u{fffe}' | '\u{ffff}' => {}
            _ if character.is_control() => {}
            _ => out.push(character),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::{Lettering, Tone, circle, polyline, rectangle};

    fn fixed(value: f64) -> String {
        let mut out = String::new();
        push_fixed(value, 10_000.0, &mut out);
        out
    }

    #[test]
    fn numbers_are_short_and_always_numbers() {
        let table = [
            (0.0, "0"),
            (-0.000_01, "0"),
            (12.5, "12.5"),
            (-0.05, "-0.05"),
            (1.000_04, "1"),
            (1.000_05, "1.0001"),
            (120.0, "120"),
            (-7.1234, "-7.1234"),
            (f64::NAN, "0"),
        ];
        for (value, text) in table {
            assert_eq!(fixed(value), text);
        }
    }

    #[test]
    fn a_name_that_holds_script_stays_text() {
        let name = "\"'</text><script>alert(1)</script>&\u{1b}";
        let mut drawing = Drawing::new(50.0, 20.0, name).described(name);
        drawing.add(Words::new(point(1.0, 5.0), name, 3.5));
        drawing.add(Path::line(circle(point(9.0, 9.0), 3.0), Ink::Object).named(name));
        for svg in [to_file(&drawing), to_screen(&drawing, name).svg] {
            assert!(!svg.contains("<script"), "{svg}");
            assert!(!svg.contains("\"'"), "{svg}");
            assert!(!svg.contains('\u{1b}'), "{svg}");
            let escaped = "&lt;/text&gt;&lt;script&gt;alert(1)&lt;/script&gt;&amp;</text>";
            assert!(svg.contains(escaped), "{svg}");
            assert_eq!(svg.matches('<').count(), svg.matches('>').count());
        }
    }

    #[test]
    fn a_file_is_in_millimeters() {
        let mut drawing = Drawing::new(120.0, 80.5, "Ring");
        drawing.add(Path::line(
            polyline(&[point(10.0, 10.0), point(110.0, 10.0), point(110.0, 20.25)]),
            Ink::Center,
        ));
        let svg = to_file(&drawing);
        assert!(
            svg.contains("width=\"120mm\" height=\"80.5mm\" viewBox=\"0 0 120 80.5\""),
            "{svg}"
        );
        assert!(svg.contains("d=\"M10 10H110V20.25\""), "{svg}");
        assert!(
            svg.contains("stroke-dasharray=\"6 0.75 0.25 0.75\""),
            "{svg}"
        );
    }

    #[test]
    fn a_screen_is_in_pixels_and_has_no_style() {
        let mut drawing = Drawing::new(25.4, 25.4, "Ring");
        let wood = Fill::Wood(Color::new(1, 2, 3));
        drawing.add(
            Path::line(rectangle(point(0.0, 0.0), 12.7, 6.35), Ink::Object)
                .filled(wood)
                .named("a"),
        );
        let svg = to_screen(&drawing, "ring").svg;
        assert!(
            svg.contains("width=\"96\" height=\"96\" viewBox=\"0 0 96 96\""),
            "{svg}"
        );
        assert!(
            svg.contains("class=\"object fill-wood is-dark\" fill=\"#010203\""),
            "{svg}"
        );
        assert!(svg.contains("d=\"M0 0H48V24H0Z\""), "{svg}");
        assert!(
            svg.contains("aria-labelledby=\"ring-title ring-description\""),
            "{svg}"
        );
        assert!(!svg.contains("style"), "{svg}");
    }

    #[test]
    fn a_field_is_left_out_on_the_screen_and_drawn_in_the_file() {
        let mut drawing = Drawing::new(100.0, 50.0, "Ring");
        let words = Words::new(point(50.8, 25.4), "120 mm", 3.0)
            .anchored(Anchor::Middle)
            .level_middle()
            .field("outside", 25.4, 12.7);
        drawing.add(words);
        let screen = to_screen(&drawing, "ring");
        assert!(!screen.svg.contains("120 mm"));
        assert!(to_file(&drawing).contains("120 mm"));
        let [field] = &screen.placements[..] else {
            panic!("one field")
        };
        assert_eq!(
            (field.field.as_str(), field.text.as_str()),
            ("outside", "120 mm")
        );
        assert!((field.x_px - 192.0).abs() < 1e-9 && (field.y_px - 96.0).abs() < 1e-9);
        assert!((field.width_px - 96.0).abs() < 1e-9 && (field.height_px - 48.0).abs() < 1e-9);
        assert!(!field.turned);
    }

    #[test]
    fn a_fraction_comes_back_to_the_base_line() {
        let mut drawing = Drawing::new(100.0, 50.0, "Ring");
        let line = Lettering::default().fraction(2, 3, 4).then(" in");
        drawing.add(Words::new(point(10.0, 10.0), line, 7.18));
        let svg = to_file(&drawing);
        let expected = "2<tspan dy=\"-2.872\" font-size=\"6\">3</tspan>\
                        <tspan dy=\"2.872\">\u{2044}</tspan>\
                        <tspan font-size=\"6\">4</tspan> in</text>";
        assert!(svg.contains(expected), "{svg}");
    }

    #[test]
    fn what_is_no_number_is_not_drawn() {
        let mut drawing = Drawing::new(100.0, 50.0, "Ring");
        drawing.line(point(f64::NAN, 0.0), point(1.0, 1.0), Ink::Object);
        drawing.line(point(0.0, 0.0), point(f64::INFINITY, 1.0), Ink::Object);
        drawing.add(Words::new(point(0.0, f64::NAN), "lost", 3.0));
        drawing.add(Words::new(point(0.0, 1.0), "kept", 3.0).toned(Tone::Quiet));
        let svg = to_file(&drawing);
        assert_eq!(svg.matches("<path").count(), 1, "only the ground: {svg}");
        assert!(
            !svg.contains("NaN") && !svg.contains("inf") && !svg.contains("lost"),
            "{svg}"
        );
        assert!(svg.contains("kept"));
    }

    #[test]
    fn what_is_only_to_be_touched_is_not_in_the_file() {
        let mut drawing = Drawing::new(100.0, 50.0, "Ring");
        drawing.add(Path::area(circle(point(9.0, 9.0), 6.0), Fill::Touch).named("handle"));
        assert!(to_screen(&drawing, "ring").svg.contains("fill-touch"));
        assert!(!to_file(&drawing).contains("handle"));
    }
}
