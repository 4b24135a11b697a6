//! Stacks of rings placed segment by segment, and a blade that takes of them what it meets: the
//! independent route beside the formulas of slots.

use super::Dice;
use ringwright::trade::outline::{Corners, Outline};
use ringwright::trade::spline::{Cut, Layer, Level, Slots, Stack};
use std::f64::consts::{PI, TAU};

/// A ring as it is glued: flat-sided pieces, each known by its four corners.
pub struct Glued {
    pub from_mm: f64,
    pub to_mm: f64,
    /// Turned round to this radius, or left with its flats.
    pub round_mm: Option<f64>,
    pub pieces: Vec<[[f64; 2]; 4]>,
}

impl Glued {
    /// Whether there is wood at a place.
    pub fn holds(&self, [x, y, z]: [f64; 3]) -> bool {
        if z < self.from_mm || z > self.to_mm {
            return false;
        }
        if self.round_mm.is_some_and(|radius| x.hypot(y) > radius) {
            return false;
        }
        self.pieces.iter().any(|corners| {
            (0..4).all(|place| {
                let ([ax, ay], [bx, by]) = (corners[place], corners[(place + 1) % 4]);
                (bx - ax) * (y - ay) - (by - ay) * (x - ax) >= 0.0
            })
        })
    }

    /// How far it reaches when it is turned so that a direction points down.
    pub fn reach(&self, direction: f64) -> f64 {
        if let Some(radius) = self.round_mm {
            return radius;
        }
        let corners = self.pieces.iter().flatten();
        let down = corners.map(|[x, y]| x * direction.sin() - y * direction.cos());
        down.fold(0.0, f64::max)
    }
}

/// A random ring, once as placed pieces and once as the library's layer.
fn ring(dice: &mut Dice, from_mm: f64, to_mm: f64, is_round: bool) -> (Glued, Layer) {
    let count = dice.count(6, 16);
    let half = PI / f64::from(count);
    let apothem = dice.between(26.0, 40.0);
    let inside = apothem - dice.between(8.0, 16.0);
    let gap = if dice.roll() < 0.3 {
        dice.between(0.5, 2.5)
    } else {
        0.0
    };
    let turn = dice.between(0.0, TAU);
    // Half the edge at a distance: the joint's face stands half a gap beside the line
    // through the axis.
    let edge = |along: f64| along * half.tan() - gap / (2.0 * half.cos());
    let place = |along: f64, aside: f64, direction: f64| {
        let (sine, cosine) = direction.sin_cos();
        [
            along * sine + aside * cosine,
            -along * cosine + aside * sine,
        ]
    };
    let segments: Vec<[[f64; 2]; 4]> = (0..count)
        .map(|piece| {
            let direction = turn + 2.0 * half * f64::from(piece);
            [
                place(inside, -edge(inside), direction),
                place(apothem, -edge(apothem), direction),
                place(apothem, edge(apothem), direction),
                place(inside, edge(inside), direction),
            ]
        })
        .collect();
    // Spacers fill what is between two segments.
    let spacers = (0..segments.len()).map(|piece| {
        let (one, next) = (segments[piece], segments[(piece + 1) % segments.len()]);
        [one[3], one[2], next[1], next[0]]
    });
    let pieces = segments.iter().copied().chain(spacers).collect();
    let corners = |along: f64| {
        Outline::Corners(Corners {
            radius_mm: along.hypot(edge(along)),
            count,
            joint_rad: turn + half,
            aside_rad: half - edge(along).atan2(along),
        })
    };
    let glued = Glued {
        from_mm,
        to_mm,
        round_mm: is_round.then_some(apothem),
        pieces,
    };
    let layer = Layer {
        from_mm,
        to_mm,
        outside: if is_round {
            Outline::Round(apothem)
        } else {
            corners(apothem)
        },
        hole: Some(corners(inside)),
    };
    (glued, layer)
}

pub struct Case {
    pub glued: Vec<Glued>,
    pub stack: Stack,
    pub slots: Slots,
}

pub fn case(dice: &mut Dice) -> Case {
    let is_round = dice.roll() < 0.5;
    let heights: Vec<f64> = (0..dice.count(1, 3))
        .map(|_| dice.between(6.0, 14.0))
        .collect();
    let whole: f64 = heights.iter().sum();
    let mut bottom = -whole / 2.0;
    let (mut glued, mut layers) = (Vec::new(), Vec::new());
    for height in heights {
        let (pieces, layer) = ring(dice, bottom, bottom + height, is_round);
        glued.push(pieces);
        layers.push(layer);
        bottom += height;
    }
    let (outside, taper) = (dice.between(22.0, 26.0), dice.between(-0.15, 0.15));
    let wall = dice.between(3.0, 8.0);
    let levels = (0..=40)
        .map(|step| {
            let z_mm = whole * (f64::from(step) / 40.0 - 0.5);
            let outside_mm = outside + taper * z_mm;
            Level {
                z_mm,
                outside_mm,
                inside_mm: outside_mm - wall,
            }
        })
        .collect();
    let (places, beside) = (dice.count(1, 5), dice.count(1, 3));
    let slots = Slots {
        count: places * beside,
        beside,
        apart_rad: dice.between(0.05, 0.3),
        gauge_rad: dice.between(-0.8, 0.8),
        tilt_rad: tilt(dice),
        kerf_mm: dice.between(1.6, 5.0),
        first_rad: dice.between(0.0, TAU),
    };
    Case {
        glued,
        stack: Stack {
            layers,
            wall: levels,
        },
        slots,
    }
}

/// Upright now and then, else tilted to either side.
pub fn tilt(dice: &mut Dice) -> f64 {
    if dice.roll() < 0.3 {
        0.0
    } else {
        dice.between(-0.6, 0.6)
    }
}

/// The saw: the stack lies with a direction down, turned by the gauge about the upright; the
/// blade is tilted about the line on the table along which it runs.
pub struct Saw {
    pub direction: f64,
    pub gauge: f64,
    pub tilt: f64,
    pub kerf: f64,
    pub table: f64,
    pub blade: f64,
}

impl Saw {
    /// From the piece to the saw: along the blade, across it, above the table.
    pub fn on_saw(&self, [x, y, z]: [f64; 3]) -> [f64; 3] {
        let (sine, cosine) = self.direction.sin_cos();
        let (down, right) = (x * sine - y * cosine, x * cosine + y * sine);
        let (sine, cosine) = self.gauge.sin_cos();
        [
            right * sine + z * cosine,
            right * cosine - z * sine,
            self.table - down,
        ]
    }

    /// Back from down, right and along the axis to the piece.
    pub fn in_piece(&self, [down, right, z]: [f64; 3]) -> [f64; 3] {
        let (sine, cosine) = self.direction.sin_cos();
        [
            down * sine + right * cosine,
            -down * cosine + right * sine,
            z,
        ]
    }

    /// On the blade: beside its middle, and along it from the table.
    pub fn on_blade(&self, place: [f64; 3]) -> [f64; 2] {
        let [_, across, above] = self.on_saw(place);
        let (sine, cosine) = self.tilt.sin_cos();
        [
            across * cosine - above * sine,
            across * sine + above * cosine,
        ]
    }

    pub fn in_kerf(&self, place: [f64; 3]) -> bool {
        self.on_blade(place)[0].abs() <= self.kerf / 2.0
    }

    pub fn takes(&self, place: [f64; 3]) -> bool {
        // The teeth’s edge lies square to the blade; its higher corner is so high.
        let edge = (self.blade - self.kerf / 2.0 * self.tilt.sin().abs()) / self.tilt.cos();
        self.in_kerf(place) && self.on_blade(place)[1] <= edge
    }

    /// How far a place is from the axis, level along the blade’s plane.
    pub fn before_axis(&self, [down, right]: [f64; 2]) -> f64 {
        let beside = |down: f64, right: f64| self.on_blade(self.in_piece([down, right, 0.0]))[0];
        let by_down = beside(1.0, 0.0) - beside(0.0, 0.0);
        let by_right = beside(0.0, 1.0) - beside(0.0, 0.0);
        (down * by_right - right * by_down) / by_right.hypot(by_down)
    }

    pub fn cut(&self) -> Cut {
        Cut {
            direction_rad: self.direction,
            table_mm: self.table,
            bottom_mm: self.table - self.blade,
        }
    }
}

pub fn saw(case: &Case, direction: f64, blade: f64) -> Saw {
    let reach = case.glued.iter().map(|ring| ring.reach(direction));
    Saw {
        direction,
        gauge: case.slots.gauge_rad,
        tilt: case.slots.tilt_rad,
        kerf: case.slots.kerf_mm,
        table: reach.fold(0.0, f64::max),
        blade,
    }
}
