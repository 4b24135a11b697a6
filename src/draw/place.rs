//! Places on a drawing, and frames that carry them.

/// Nothing that is drawn lies farther out than this; what does is a slip and is left out.
pub(super) const FARTHEST_MM: f64 = 100_000.0;

/// A place on the drawing, in millimeters from its top left corner.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

/// The place `x` to the right and `y` down, in millimeters.
pub const fn point(x: f64, y: f64) -> Point {
    Point { x, y }
}

impl Point {
    /// The place at a distance from here, in the direction of an angle (radians, clockwise from right).
    #[must_use]
    pub fn polar(self, distance: f64, angle: f64) -> Self {
        self.along(point(angle.cos(), angle.sin()), distance)
    }

    /// The distance to another place.
    pub fn distance(self, other: Self) -> f64 {
        (other.x - self.x).hypot(other.y - self.y)
    }

    /// The place halfway to another one.
    #[must_use]
    pub fn halfway(self, other: Self) -> Self {
        point(
            f64::midpoint(self.x, other.x),
            f64::midpoint(self.y, other.y),
        )
    }

    /// The place at a distance along a direction of length 1.
    pub(crate) fn along(self, direction: Self, distance: f64) -> Self {
        point(
            self.x + direction.x * distance,
            self.y + direction.y * distance,
        )
    }

    /// The direction of length 1 to another place; none if they coincide.
    pub(crate) fn toward(self, other: Self) -> Option<Self> {
        let distance = self.distance(other);
        (distance > 1e-9)
            .then(|| point((other.x - self.x) / distance, (other.y - self.y) / distance))
    }

    /// How far this direction reaches along another of length 1.
    pub(crate) fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y
    }

    pub(super) fn is_drawable(self) -> bool {
        self.x.abs() <= FARTHEST_MM && self.y.abs() <= FARTHEST_MM
    }
}

/// The upright rectangle around the places; none without any.
pub(crate) fn around(points: impl Iterator<Item = Point>) -> Option<(Point, Point)> {
    points.fold(None, |bounds, p| {
        let (least, most) = bounds.unwrap_or((p, p));
        Some((
            point(least.x.min(p.x), least.y.min(p.y)),
            point(most.x.max(p.x), most.y.max(p.y)),
        ))
    })
}

/// Where and how a drawing lies on another one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Where its top left corner comes to lie.
    pub at: Point,
    /// How far it is turned about that corner, in degrees clockwise.
    pub turn_deg: f64,
    /// How much larger it is drawn; line widths stay.
    pub scale: f64,
}

impl Frame {
    /// True to scale and upright, at a place.
    pub const fn at(at: Point) -> Self {
        Self {
            at,
            turn_deg: 0.0,
            scale: 1.0,
        }
    }

    /// This frame turned, in degrees clockwise.
    #[must_use]
    pub const fn turned(mut self, turn_deg: f64) -> Self {
        self.turn_deg = turn_deg;
        self
    }

    /// This frame with all lengths multiplied.
    #[must_use]
    pub const fn scaled(mut self, scale: f64) -> Self {
        self.scale = scale;
        self
    }

    /// Where a place within the frame comes to lie.
    pub fn place(&self, p: Point) -> Point {
        let (sin, cos) = self.turn_deg.to_radians().sin_cos();
        point(
            self.at.x + (p.x * cos - p.y * sin) * self.scale,
            self.at.y + (p.x * sin + p.y * cos) * self.scale,
        )
    }
}
