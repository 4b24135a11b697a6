//! Striped segments against brute force: a segment is taken out of the piece, laid back on
//! its board, and looked up in a stack of layers, one after the other; what the body in
//! space, the unrolled outside, the band of slots and the ring from above show is compared
//! with that at many places. The board is checked with polygons (`geo`), the shares of the
//! woods by throwing points.
#![cfg(not(target_arch = "wasm32"))]

mod shared;
use geo::{Area as _, BooleanOps as _, BoundingRect as _, LineString, Polygon, Rect};
use ringwright::design::{Design, Laid, StackRing, StripeChoice, StripeLayer};
use ringwright::draw::flat::flatten;
use ringwright::draw::{Drawing, Fill, Mark};
use ringwright::edit::{start, stripe};
use ringwright::plan::rings::RingInStack;
use ringwright::plan::stack::StackPlan;
use ringwright::show::mesh::{Look, Mesh, mesh};
use ringwright::show::pictures::vessel::{Picked, ring_from_above, unrolled};
use ringwright::trade::ring::{Segment, Wanted};
use ringwright::trade::strip::Cutting;
use ringwright::trade::stripe::{FirstCut, Stripes, board};
use ringwright::units::color::Color;
use shared::{Dice, stack_of};
use std::f64::consts::{PI, TAU};

const WOODS: [&str; 4] = ["Maple, sugar", "Walnut, black", "Cherry, black", "Padauk"];

/// A piece with one striped ring, and its place.
fn piece(chance: &mut Dice) -> (Design, usize) {
    let shape = ["bowl", "vase", "closed"][chance.count(0, 2) as usize];
    let mut design = start::begin(
        &Design::default(),
        shape,
        254.0,
        chance.between(90.0, 300.0),
    );
    let vessel = design.vessel.as_mut().unwrap();
    vessel.woods = WOODS.map(str::to_owned).to_vec();
    let place = 1 + chance.count(0, vessel.rings.len() as u32 - 1 - 1) as usize;
    let layers = 1 + chance.count(0, 3);
    let ring = &mut vessel.rings[place];
    ring.segment_count = 3 + chance.count(0, 29);
    ring.turn_half_segments = chance.count(0, 2 * ring.segment_count - 1);
    let slant_deg = match chance.count(0, 5) {
        0 => 0.0,
        1 => 90.0,
        _ => chance.between(0.0, 90.0),
    };
    let repeat: Vec<StripeLayer> = (0..layers)
        .map(|_| StripeLayer {
            wood: chance.count(0, 3),
            thickness_mm: chance.between(1.0, 9.0),
        })
        .collect();
    ring.stripes = Some(StripeChoice {
        layers: repeat,
        slant_deg,
        laid: if chance.roll() < 0.5 {
            Laid::Chevron
        } else {
            Laid::Slant
        },
        is_mirrored: chance.roll() < 0.5,
        shift_pct: chance.between(0.0, 100.0),
    });
    (design, place)
}

/// A ring as brute force sees it.
struct Brute<'a> {
    ring: &'a StackRing,
    said: &'a StripeChoice,
    middle_mm: f64,
    colors: Vec<Color>,
}

impl Brute<'_> {
    fn of(stack: &StackPlan, place: usize) -> Brute<'_> {
        let ring = &stack.vessel.rings[place];
        let said = ring.stripes.as_ref().unwrap();
        let color = |layer: &StripeLayer| {
            ringwright::plan::woods::color(&stack.design, WOODS[layer.wood as usize])
        };
        let span = &stack.rings[place].span;
        Brute {
            ring,
            said,
            middle_mm: f64::midpoint(span.bottom_mm, span.top_mm),
            colors: said.layers.iter().map(color).collect(),
        }
    }

    /// The color at a place in the piece; nothing nearer to a layer's edge than the hair.
    fn color(&self, [x, y, z]: [f64; 3], hair_mm: f64) -> Option<Color> {
        // Turn the piece until the segment stands at the front.
        let step = TAU / f64::from(self.ring.segment_count);
        let turn = step / 2.0 * f64::from(self.ring.turn_half_segments);
        let number = ((x.atan2(-y) - turn) / step).round();
        let back = -(number * step + turn);
        let (to_right, up) = (x * back.cos() - y * back.sin(), z - self.middle_mm);
        let number = number.rem_euclid(f64::from(self.ring.segment_count)) as u32;
        self.at_segment(number, to_right, up, hair_mm)
    }

    /// The same at a place of a segment as one looks at it from outside.
    fn at_segment(&self, number: u32, to_right: f64, up: f64, hair_mm: f64) -> Option<Color> {
        let mut at = [to_right, up];
        // Seen from behind, left is right.
        if self.said.laid == Laid::Chevron && number % 2 == 1 {
            at[0] = -at[0];
        }
        if self.said.is_mirrored {
            at[1] = -at[1];
        }
        // Lay it on the board, whose layers are level.
        let slant = self.said.slant_deg.to_radians();
        let height = at[0] * slant.sin() + at[1] * slant.cos();
        let repeat: f64 = self.said.layers.iter().map(|it| it.thickness_mm).sum();
        let mut left = (height + self.said.shift_pct / 100.0 * repeat) % repeat;
        if left < 0.0 {
            left += repeat;
        }
        if left < hair_mm || repeat - left < hair_mm {
            return None;
        }
        for (layer, color) in self.said.layers.iter().zip(&self.colors) {
            if (left - layer.thickness_mm).abs() < hair_mm {
                return None;
            }
            if left < layer.thickness_mm {
                return Some(*color);
            }
            left -= layer.thickness_mm;
        }
        None
    }
}

/// A filled path: its color, its bounds and its corners.
type Area = (Color, [f64; 4], Vec<(f64, f64)>);

/// What a drawing shows at a place: the filled path that was drawn last.
struct Shown {
    areas: Vec<Area>,
}

impl Shown {
    fn of(drawing: &Drawing) -> Shown {
        let filled = drawing.marks.iter().filter_map(|mark| {
            let Mark::Path(path) = mark else { return None };
            let Some(Fill::Wood(color)) = path.fill else {
                return None;
            };
            let corners: Vec<(f64, f64)> = flatten(&path.steps, 0.001)
                .into_iter()
                .flat_map(|line| line.points)
                .map(|at| (at.x, at.y))
                .collect();
            let start = [f64::MAX, f64::MAX, f64::MIN, f64::MIN];
            let bounds = corners.iter().fold(start, |it, (x, y)| {
                [it[0].min(*x), it[1].min(*y), it[2].max(*x), it[3].max(*y)]
            });
            Some((color, bounds, corners))
        });
        Shown {
            areas: filled.collect(),
        }
    }

    fn at(&self, x: f64, y: f64) -> Option<Color> {
        let is_in = |(_, bounds, corners): &&Area| {
            if x < bounds[0] || x > bounds[2] || y < bounds[1] || y > bounds[3] {
                return false;
            }
            let next = corners.iter().cycle().skip(1);
            let crossed = corners.iter().zip(next).filter(|(from, to)| {
                (from.1 > y) != (to.1 > y)
                    && x < from.0 + (to.0 - from.0) * (y - from.1) / (to.1 - from.1)
            });
            crossed.count() % 2 == 1
        };
        self.areas.iter().rev().find(is_in).map(|it| it.0)
    }
}

/// The volume within a ring's triangles: of the wedges from the origin to each.
fn volume_mm3(mesh: &Mesh, place: usize) -> f64 {
    let corner = |index: u32| -> [f64; 3] {
        std::array::from_fn(|axis| f64::from(mesh.positions[3 * index as usize + axis]))
    };
    let triangles = mesh.triangles[mesh.rings[place].clone()].chunks_exact(3);
    let wedges = triangles.map(|three| {
        let [a, b, c] = [three[0], three[1], three[2]].map(corner);
        a[0] * (b[1] * c[2] - b[2] * c[1])
            + a[1] * (b[2] * c[0] - b[0] * c[2])
            + a[2] * (b[0] * c[1] - b[1] * c[0])
    });
    wedges.sum::<f64>() / 6.0
}

/// What of the turned body is outside, between its triangles' corners.
fn body_is_right(stack: &StackPlan, place: usize, chance: &mut Dice, finished: bool) {
    let brute = Brute::of(stack, place);
    let look = Look {
        finished,
        cut_open: chance.roll() < 0.3,
    };
    let shown = mesh(stack, look);
    // Cut along the layers, it is as large as it was.
    let mut plainly = stack.design.as_ref().clone();
    plainly.vessel.as_mut().unwrap().rings[place].stripes = None;
    let whole = mesh(&stack_of(&plainly), look);
    let [is, was] = [&shown, &whole].map(|it| volume_mm3(it, place));
    assert!((is - was).abs() < 1e-5 * was, "{is} {was} {:?}", brute.said);
    let triangles = &shown.triangles[shown.rings[place].clone()];
    let count = triangles.len() as u32 / 3;
    let mut looked = 0;
    for _ in 0..3_000 {
        let three = &triangles[3 * chance.count(0, count - 1) as usize..][..3];
        let (mut a, mut b) = (chance.roll(), chance.roll());
        if a + b > 1.0 {
            (a, b) = (1.0 - a, 1.0 - b);
        }
        let part =
            |corner: u32, axis: usize| f64::from(shown.positions[3 * corner as usize + axis]);
        let at: [f64; 3] = std::array::from_fn(|axis| {
            part(three[0], axis) * (1.0 - a - b)
                + part(three[1], axis) * a
                + part(three[2], axis) * b
        });
        // Within a hair of a joint either neighbor may be meant.
        let step = TAU / f64::from(brute.ring.segment_count);
        let turn = step / 2.0 * f64::from(brute.ring.turn_half_segments);
        let from_joint = ((at[0].atan2(-at[1]) - turn) / step - 0.5).rem_euclid(1.0);
        if !(1e-4..1.0 - 1e-4).contains(&from_joint) || at[0].hypot(at[1]) < 0.1 {
            continue;
        }
        let Some(wanted) = brute.color(at, 0.002) else {
            continue;
        };
        let first = 3 * three[0] as usize;
        let colors = &shown.colors[first..first + 3];
        assert_eq!(
            colors,
            [wanted.r, wanted.g, wanted.b],
            "{:?} at {at:?}",
            brute.said
        );
        looked += 1;
    }
    assert!(looked > 500, "{looked} {:?}", brute.said);
}

fn unrolled_is_right(stack: &StackPlan, place: usize, chance: &mut Dice) {
    let brute = Brute::of(stack, place);
    let (width, height) = (1000.0, 600.0);
    let shown = Shown::of(&unrolled(stack, (width, height), 0.0, Picked::default()));
    let total: f64 = stack.vessel.rings.iter().map(|ring| ring.height_mm).sum();
    let below: f64 = stack.vessel.rings[..place]
        .iter()
        .map(|ring| ring.height_mm)
        .sum();
    let outside = &stack.wall.as_ref().unwrap().outside;
    let mut looked = 0;
    for _ in 0..10_000 {
        let direction = chance.between(-PI, PI);
        let up = brute.ring.height_mm * chance.roll();
        let z = stack.rings[place].span.bottom_mm + up;
        let radius = outside.radius_at(z);
        let at = [radius * direction.sin(), -radius * direction.cos(), z];
        // Where the wall leans, an edge bends between the heights at which it is drawn.
        let Some(wanted) = brute.color(at, 0.2) else {
            continue;
        };
        let x = 1.0 + (direction + PI) / TAU * (width - 2.0);
        let y = height - 1.0 - (below + up) / total * (height - 2.0);
        let off = (1..400).find(|it| brute.color(at, f64::from(*it) * 0.01).is_none());
        assert_eq!(
            shown.at(x, y),
            Some(wanted),
            "{:?} at {direction} {up} of {}, {off:?} off, {} segments {radius} r {} turn",
            brute.said,
            brute.ring.height_mm,
            brute.ring.segment_count,
            brute.ring.turn_half_segments
        );
        looked += 1;
    }
    assert!(looked > 5_000, "{looked}");
}

fn from_above_is_right(stack: &StackPlan, place: usize, chance: &mut Dice) {
    let brute = Brute::of(stack, place);
    let planned: &RingInStack = &stack.rings[place];
    let segment = planned.segment.unwrap();
    let side = 400.0;
    let shown = Shown::of(&ring_from_above(
        &stack.vessel,
        place,
        planned,
        (side, side),
    ));
    let scale = (side / 2.0 - 1.5) / planned.reach_mm;
    let step = TAU / f64::from(brute.ring.segment_count);
    for _ in 0..2_000 {
        let number = chance.count(0, brute.ring.segment_count - 1);
        let along = chance.between(segment.inside_apothem_mm, segment.outside.apothem_mm);
        let share = (along - segment.inside_apothem_mm) / segment.strip_width_mm;
        let long =
            segment.short_edge_mm + (segment.outside.long_edge_mm - segment.short_edge_mm) * share;
        let aside = chance.between(-0.499, 0.499) * long;
        let up = brute.ring.height_mm / 2.0;
        let Some(wanted) = brute.at_segment(number, aside, up, 1e-3) else {
            continue;
        };
        let middle =
            step * f64::from(number) + step / 2.0 * f64::from(brute.ring.turn_half_segments);
        // The front is below.
        let (x, y) = (
            along * middle.sin() + aside * middle.cos(),
            along * middle.cos() - aside * middle.sin(),
        );
        let seen = shown.at(side / 2.0 + x * scale, side / 2.0 + y * scale);
        assert_eq!(
            seen,
            Some(wanted),
            "{:?} {number} {along} {aside}",
            brute.said
        );
    }
}

#[test]
fn every_picture_shows_what_a_stack_of_layers_says() {
    let mut chance = Dice(7);
    let mut striped = 0;
    while striped < 100 {
        let (design, place) = piece(&mut chance);
        let stack = stack_of(&design);
        if stack.rings[place].stripes.is_none() {
            continue;
        }
        striped += 1;
        body_is_right(&stack, place, &mut chance, true);
        body_is_right(&stack, place, &mut chance, false);
        unrolled_is_right(&stack, place, &mut chance);
        from_above_is_right(&stack, place, &mut chance);
    }
}

#[test]
fn the_shares_of_the_woods_are_those_of_points_thrown_into_the_wall() {
    let mut chance = Dice(11);
    let mut striped = 0;
    while striped < 30 {
        let (design, place) = piece(&mut chance);
        let stack = stack_of(&design);
        let planned = &stack.rings[place];
        let Some(own) = &planned.stripes else {
            continue;
        };
        striped += 1;
        let wall = stack.wall.as_ref().unwrap();
        let said = stack.vessel.rings[place].stripes.as_ref().unwrap();
        let brute = Brute::of(&stack, place);
        let mut thrown = vec![0.0; said.layers.len()];
        let reach = planned.span.outside_radius_mm;
        let mut all = 0.0;
        while all < 20_000.0 {
            let at = [
                chance.between(-reach, reach),
                chance.between(-reach, reach),
                chance.between(
                    planned.span.bottom_mm,
                    planned.span.top_mm.min(wall.outside.height_mm()),
                ),
            ];
            let radius = at[0].hypot(at[1]);
            let inside = if at[2] < wall.floor_mm {
                0.0
            } else {
                wall.inside_radius_at(at[2])
            };
            if radius < inside || radius > wall.outside.radius_at(at[2]) {
                continue;
            }
            // Layers of one wood are one color.
            let Some(color) = brute.color(at, 0.0) else {
                continue;
            };
            all += 1.0;
            let layer = brute.colors.iter().position(|it| *it == color).unwrap();
            thrown[layer] += 1.0;
        }
        for color in &brute.colors {
            let of_color = |shares: &[f64]| -> f64 {
                shares
                    .iter()
                    .zip(&brute.colors)
                    .filter(|it| it.1 == color)
                    .map(|it| it.0)
                    .sum()
            };
            let (wanted, is) = (of_color(&thrown) / all, of_color(&own.finished_shares));
            assert!((wanted - is).abs() < 0.02, "{said:?}: {wanted} {is}");
        }
        let whole: f64 = own.finished_shares.iter().sum();
        assert!((whole - 1.0).abs() < 1e-9);
    }
}

fn rectangle(middle: (f64, f64), long: f64, high: f64, slant: f64) -> Polygon {
    let (sine, cosine) = slant.sin_cos();
    let corners = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)].map(|(a, b)| {
        let (v, z) = (a * long / 2.0, b * high / 2.0);
        (
            middle.0 + v * cosine - z * sine,
            middle.1 + v * sine + z * cosine,
        )
    });
    Polygon::new(LineString::from(corners.to_vec()), vec![])
}

fn cutting() -> Cutting {
    Cutting {
        kerf_mm: 3.0,
        hold_back_mm: 90.0,
        strip_length_mm: 1500.0,
    }
}

fn segment(count: u32, height_mm: f64) -> Segment {
    Wanted {
        outside_radius_mm: 110.0,
        inside_radius_mm: 90.0,
        height_mm,
        segment_count: count,
        widest: 1.0,
        outside_allowance_mm: 3.0,
        inside_allowance_mm: 3.0,
        face_allowance_mm: 0.5,
        spacer_mm: 0.0,
        gap_rad: 0.0,
    }
    .segment()
    .unwrap()
}

/// Every piece lies on the board with a kerf to its neighbor and no more; without its first
/// or last layer the board would be too small.
#[test]
fn the_board_is_as_large_as_its_pieces_need() {
    let mut chance = Dice(5);
    for _ in 0..300 {
        let slant = chance.between(0.5, 90.0).to_radians();
        let layers = [
            chance.between(1.0, 8.0),
            chance.between(1.0, 8.0),
            chance.between(0.6, 3.0),
        ];
        let stripes = Stripes::new(&layers, slant, chance.roll()).unwrap();
        let segment = segment(6 + chance.count(0, 23), chance.between(8.0, 40.0));
        let count = 6 + chance.count(0, 23);
        let made = board(&stripes, &segment, count, &cutting()).unwrap();
        assert!(made.pieces * made.count >= count);
        let (long, high) = (segment.outside.long_edge_mm, segment.strip_height_mm);
        let kerf = cutting().kerf_mm;
        let apart = |pitch: f64, more: f64| {
            let one = rectangle((0.0, 0.0), long + more, high + more, slant);
            let next = rectangle((pitch, 0.0), long + more, high + more, slant);
            one.intersection(&next).unsigned_area()
        };
        assert!(apart(made.pitch_mm, kerf) < 1e-3, "{slant} {made:?}");
        assert!(apart(made.pitch_mm * 0.99, kerf) > 1e-2, "{slant} {made:?}");
        // The layers, one on the other from below.
        let thickness: f64 = made.layers.iter().map(|layer| layers[*layer]).sum();
        assert!((thickness - made.stack_mm).abs() < 1e-9);
        let repeat: f64 = layers.iter().sum();
        let low = stripes.shift_mm - made.across_mm / 2.0;
        let mut foot = (low / repeat).floor() * repeat;
        foot += layers[..made.layers[0]].iter().sum::<f64>();
        if foot > low {
            foot -= repeat;
        }
        let top = foot + made.stack_mm;
        let pieces: Vec<_> = (0..made.pieces)
            .map(|number| {
                let along = made.along_mm / 2.0 + f64::from(number) * made.pitch_mm;
                let piece = rectangle((along, stripes.shift_mm), long, high, slant);
                piece.bounding_rect().unwrap()
            })
            .collect();
        let least = |of: fn(&Rect) -> f64| pieces.iter().map(of).fold(f64::MAX, f64::min);
        let most = |of: fn(&Rect) -> f64| pieces.iter().map(of).fold(f64::MIN, f64::max);
        let (low, high) = (least(|it| it.min().y), most(|it| it.max().y));
        let (first, last) = (made.layers[0], made.layers[made.layers.len() - 1]);
        assert!(foot < low + 1e-9 && foot + layers[first] > low - 1e-9);
        assert!(top > high - 1e-9 && top - layers[last] < high + 1e-9);
        assert!(least(|it| it.min().x).abs() < 1e-9);
        assert!(most(|it| it.max().x) < made.length_mm);
        // What is left at the end is held, and no more.
        let end = made.along_mm + f64::from(made.pieces - 1) * made.pitch_mm;
        assert!((made.length_mm - end - cutting().hold_back_mm).abs() < 1e-9);
    }
}

#[test]
fn level_and_upright_boards_are_the_closed_forms() {
    let segment = segment(12, 20.0);
    let stripes = |slant: f64| Stripes::new(&[3.0, 4.0], slant, 0.0).unwrap();
    let level = board(&stripes(0.0), &segment, 12, &cutting()).unwrap();
    // As any strip, the layers as high as the ring with its allowance.
    let pitch = f64::midpoint(segment.outside.long_edge_mm, segment.short_edge_mm)
        + 3.0 / (PI / 12.0).cos();
    assert_eq!(
        (level.first_cut, level.pieces, level.count),
        (FirstCut::None, 12, 1)
    );
    assert!((level.across_mm - 21.0).abs() < 1e-9 && (level.pitch_mm - pitch).abs() < 1e-9);
    let upright = board(&stripes(PI / 2.0), &segment, 12, &cutting()).unwrap();
    assert_eq!((upright.first_cut, upright.pieces), (FirstCut::Faces, 12));
    assert!((upright.across_mm - segment.outside.long_edge_mm).abs() < 1e-9);
    assert!((upright.pitch_mm - 24.0).abs() < 1e-9, "{upright:?}");
    assert!(
        upright.saw_rad.abs() < 1e-9
            && (upright.length_mm - (12.0 * 24.0 - 3.0 + 90.0)).abs() < 1e-9
    );
}

/// Made to meet, the stripes of neighbors are one line over every joint at the ring's middle.
#[test]
fn made_to_meet_they_meet_at_every_joint() {
    let mut chance = Dice(3);
    let mut looked = 0;
    for _ in 0..60 {
        let (design, place) = piece(&mut chance);
        let design = stripe::meet(&design, place);
        let stack = stack_of(&design);
        let (planned, ring) = (&stack.rings[place], &stack.vessel.rings[place]);
        if planned.stripes.is_none() {
            continue;
        }
        let brute = Brute::of(&stack, place);
        let z = brute
            .middle_mm
            .min(stack.wall.as_ref().unwrap().outside.height_mm());
        let radius = stack.wall.as_ref().unwrap().outside.radius_at(z);
        let step = TAU / f64::from(ring.segment_count);
        let aside = radius * (step / 2.0).sin();
        for joint in 0..ring.segment_count {
            let next = (joint + 1) % ring.segment_count;
            for up in 0..40 {
                let up = -8.0 + f64::from(up) * 0.4;
                let left = brute.at_segment(joint, aside, up, 0.02);
                let right = brute.at_segment(next, -aside, up, 0.02);
                if let (Some(left), Some(right)) = (left, right) {
                    assert_eq!(left, right, "{:?} joint {joint}", brute.said);
                    looked += 1;
                }
            }
        }
    }
    assert!(looked > 10_000, "{looked}");
}
