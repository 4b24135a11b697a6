//! A photograph or drawing laid under the half-section, to trace its outline. It stays
//! on the device: only where it lies is worked out here.
//!
//! A photograph taken level with the piece and from far enough away shows its outline at
//! one scale, so that one known length is enough (common practice, no published source:
//! stand back and zoom in, so that the rim is not seen as an ellipse).

use crate::draw::{Point, point};
use crate::show::pictures::view::View;

/// How a picture lies: in its own pixels, from its upper left corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trace {
    /// Width and height of the picture.
    pub size_px: (f64, f64),
    /// Where the middle of the piece's foot is on it; at first the middle of its lower
    /// edge.
    pub foot_px: Option<Point>,
    /// The two ends of the known length.
    pub ends_px: Option<(Point, Point)>,
    /// The known length, once it was told.
    pub length_mm: Option<f64>,
}

/// A place for a picture: left, top, width, height, in the view's own millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lies {
    /// Left edge.
    pub left_mm: f64,
    /// Upper edge.
    pub top_mm: f64,
    /// Width.
    pub width_mm: f64,
    /// Height.
    pub height_mm: f64,
}

impl Trace {
    /// Real millimeters that a pixel shows: from the known length, and until then so
    /// that the picture is as high as the vessel.
    fn mm_a_px(&self, vessel_height_mm: f64) -> f64 {
        let known = self.ends_px.zip(self.length_mm).map(|((one, other), mm)| {
            let apart_px = (other.x - one.x).hypot(other.y - one.y);
            mm / apart_px
        });
        known
            .filter(|scale| scale.is_finite() && *scale > 0.0)
            .unwrap_or(vessel_height_mm / self.size_px.1.max(1.0))
    }

    fn foot_px(&self) -> Point {
        self.foot_px
            .unwrap_or_else(|| point(self.size_px.0 / 2.0, self.size_px.1))
    }

    /// Where the picture lies in a view of a vessel of this height: its foot stands on
    /// the drawing's.
    pub fn lies(&self, view: &View, vessel_height_mm: f64) -> Lies {
        let scale = self.mm_a_px(vessel_height_mm) * view.scale;
        let foot = self.foot_px();
        Lies {
            left_mm: view.axis_mm - foot.x * scale,
            top_mm: view.foot_mm - foot.y * scale,
            width_mm: self.size_px.0 * scale,
            height_mm: self.size_px.1 * scale,
        }
    }

    /// The picture's pixel that lies at a place in the view.
    pub fn pixel_at(&self, at: Point, view: &View, vessel_height_mm: f64) -> Point {
        let scale = self.mm_a_px(vessel_height_mm) * view.scale;
        let lies = self.lies(view, vessel_height_mm);
        point((at.x - lies.left_mm) / scale, (at.y - lies.top_mm) / scale)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const VIEW: View = View {
        axis_mm: 60.0,
        foot_mm: 90.0,
        scale: 0.5,
    };

    fn photograph() -> Trace {
        Trace {
            size_px: (3000.0, 4000.0),
            foot_px: Some(point(1400.0, 3600.0)),
            ends_px: Some((point(1000.0, 3600.0), point(1000.0, 1200.0))),
            length_mm: Some(240.0),
        }
    }

    #[test]
    fn a_known_length_lies_on_the_drawing_at_its_length_and_the_foot_on_the_foot() {
        let trace = photograph();
        let lies = trace.lies(&VIEW, 100.0);
        // 2400 px are 240 mm, drawn at half: 0.05 mm a pixel.
        let place = |at: Point| (lies.left_mm + at.x * 0.05, lies.top_mm + at.y * 0.05);
        let (one, other) = trace.ends_px.unwrap();
        assert!((place(one).1 - place(other).1 - 120.0).abs() < 1e-9);
        let foot = place(trace.foot_px.unwrap());
        assert!((foot.0 - 60.0).abs() < 1e-9 && (foot.1 - 90.0).abs() < 1e-9);
        assert!((lies.width_mm / lies.height_mm - 0.75).abs() < 1e-12);
    }

    #[test]
    fn a_tap_finds_the_pixel_under_it() {
        for trace in [
            photograph(),
            Trace {
                ends_px: None,
                foot_px: None,
                ..photograph()
            },
        ] {
            let lies = trace.lies(&VIEW, 100.0);
            let corner = point(lies.left_mm + lies.width_mm, lies.top_mm + lies.height_mm);
            let pixel = trace.pixel_at(corner, &VIEW, 100.0);
            assert!((pixel.x - 3000.0).abs() < 1e-6 && (pixel.y - 4000.0).abs() < 1e-6);
        }
    }

    #[test]
    fn a_length_of_nothing_is_not_taken_for_a_scale() {
        let end = point(5.0, 5.0);
        for trace in [
            Trace {
                ends_px: Some((end, end)),
                ..photograph()
            },
            Trace {
                length_mm: Some(0.0),
                ..photograph()
            },
        ] {
            let lies = trace.lies(&VIEW, 100.0);
            assert!((lies.height_mm - 50.0).abs() < 1e-9);
        }
    }
}
