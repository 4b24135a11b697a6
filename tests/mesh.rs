//! The mesh of the turning view: every ring a closed body, outward, of the right
//! volume and color. Volumes are read back by `parry3d-f64`, which shares no code with
//! this project, and compared with the plan's and with closed forms (CRC Standard
//! Mathematical Tables and Formulas, 30th edition: cylinder, frustum of a cone).
#![cfg(not(target_arch = "wasm32"))]

mod shared;
use geo::{Area as _, BooleanOps as _, LineString, Polygon, coord};
use parry3d_f64::math::Vector;
use parry3d_f64::shape::{Shape as _, TriMesh};
use proptest::prelude::*;
use ringwright::design::{
    Across, BaseChoice, BaseKind, BaseSet, Between, Design, GapBy, MadeOf, Measured, PointChoice,
    StackRing, Vessel,
};
use ringwright::edit::start;
use ringwright::plan::rings::RingInStack;
use ringwright::plan::stack::StackPlan;
use ringwright::plan::woods;
use ringwright::show::camera::Camera;
use ringwright::show::mesh::{Look, Mesh, mesh, touched};
use ringwright::show::thing::Thing;
use shared::{stack_of, stack_with};
use std::collections::HashMap;
use std::f64::consts::PI;

const LOOKS: [Look; 4] = [
    Look {
        finished: true,
        cut_open: false,
    },
    Look {
        finished: true,
        cut_open: true,
    },
    Look {
        finished: false,
        cut_open: false,
    },
    Look {
        finished: false,
        cut_open: true,
    },
];

fn corner(mesh: &Mesh, index: u32) -> [f32; 3] {
    let start = index as usize * 3;
    [0, 1, 2].map(|axis| mesh.positions[start + axis])
}

/// The triangles of one ring by place: corners that meet are one.
fn body(mesh: &Mesh, ring: usize) -> (Vec<[f32; 3]>, Vec<[u32; 3]>) {
    let mut places: HashMap<[u32; 3], u32> = HashMap::new();
    let mut corners = Vec::new();
    let mut weld = |index: u32| {
        let place = corner(mesh, index);
        // −0 and 0 are one place.
        *places
            .entry(place.map(|part| (part + 0.0).to_bits()))
            .or_insert_with(|| {
                corners.push(place);
                corners.len() as u32 - 1
            })
    };
    let triangles = mesh.triangles[mesh.rings[ring].clone()]
        .chunks_exact(3)
        .map(|three| [weld(three[0]), weld(three[1]), weld(three[2])])
        .collect();
    (corners, triangles)
}

/// Every edge is passed as often one way as the other: the body has no hole and no
/// face that is turned in.
fn assert_closed(mesh: &Mesh, ring: usize, is_plain: bool, what: &str) {
    let (_, triangles) = body(mesh, ring);
    let mut passes: HashMap<[u32; 2], [u32; 2]> = HashMap::new();
    for [a, b, c] in triangles {
        for [from, to] in [[a, b], [b, c], [c, a]] {
            assert_ne!(from, to, "{what}: a triangle of no area");
            let edge = [from.min(to), from.max(to)];
            passes.entry(edge).or_default()[usize::from(from > to)] += 1;
        }
    }
    for (edge, [one, other]) in passes {
        assert_eq!(one, other, "{what}: edge {edge:?} is open");
        assert!(
            !is_plain || one == 1,
            "{what}: edge {edge:?} is shared by more than two"
        );
    }
}

fn volume_mm3(mesh: &Mesh, ring: usize) -> f64 {
    let (corners, triangles) = body(mesh, ring);
    if triangles.is_empty() {
        return 0.0;
    }
    let corners = corners
        .iter()
        .map(|place| {
            let [x, y, z] = place.map(f64::from);
            Vector::new(x, y, z)
        })
        .collect();
    let body = TriMesh::new(corners, triangles).unwrap();
    body.mass_properties(1.0).mass()
}

/// By the divergence theorem, which also tells outward from inward.
fn signed_volume_mm3(mesh: &Mesh, ring: usize) -> f64 {
    mesh.triangles[mesh.rings[ring].clone()]
        .chunks_exact(3)
        .map(|three| {
            let [a, b, c] = [0, 1, 2].map(|k| corner(mesh, three[k]).map(f64::from));
            let cross = [
                b[1] * c[2] - b[2] * c[1],
                b[2] * c[0] - b[0] * c[2],
                b[0] * c[1] - b[1] * c[0],
            ];
            (a[0] * cross[0] + a[1] * cross[1] + a[2] * cross[2]) / 6.0
        })
        .sum()
}

/// What the gaps take out of a finished ring: N slots of even thickness through the
/// wall, each as wide as the wall between its sides, or N wedges of the gap's angle.
fn gaps_mm3(plan: &StackPlan, ring: &StackRing, planned: &RingInStack) -> f64 {
    if ring.between != Between::Gap || planned.segment.is_none() {
        return 0.0;
    }
    let wall = plan.wall.as_ref().unwrap();
    let rim = wall.outside.height_mm();
    let (from, to) = (
        planned.span.bottom_mm.min(rim),
        planned.span.top_mm.min(rim),
    );
    let gap = planned.wanted.spacer_mm;
    // The area at a distance r on one side of a gap's middle line, within its thickness:
    // the integral of sqrt(r² − y²) over y.
    let half = gap / 2.0;
    let reach = |r: f64| {
        if r <= half {
            return PI * r * r / 2.0;
        }
        half * (r * r - half * half).sqrt() + r * r * (half / r).asin()
    };
    let reach = |r: f64| reach(r) + ring.gap_rad() / 2.0 * r * r;
    let count = 400;
    let step = (to - from) / f64::from(count);
    let area: f64 = (0..count)
        .map(|slice| {
            let z = from + (f64::from(slice) + 0.5) * step;
            reach(wall.outside.radius_at(z)) - reach(wall.inside_radius_at(z))
        })
        .sum();
    f64::from(ring.segment_count) * area * step
}

/// The finished wood of a ring by fine slices, without the plan's sum.
fn slices_mm3(plan: &StackPlan, planned: &RingInStack) -> f64 {
    let wall = plan.wall.as_ref().unwrap();
    let rim = wall.outside.height_mm();
    let (from, to) = (
        planned.span.bottom_mm.min(rim),
        planned.span.top_mm.min(rim),
    );
    // The floor's edge falls on a slice's.
    let part = |from: f64, to: f64| {
        let count = 400;
        let step = (to - from) / f64::from(count);
        (0..count)
            .map(|slice| {
                let z = from + (f64::from(slice) + 0.5) * step;
                let (outside, inside) = (wall.outside.radius_at(z), wall.inside_radius_at(z));
                PI * (outside * outside - inside * inside) * step
            })
            .sum::<f64>()
    };
    let floor = wall.floor_mm.clamp(from, to);
    part(from, floor) + part(floor, to)
}

/// How much of a blank is left when the quarter in front is taken out: its upper faces
/// cut by the `geo` library. A quarter of the circle is no quarter of every polygon.
fn opened_share(uncut: &Mesh, ring: usize) -> f64 {
    let far = 1e4;
    let at = |x: f64, y: f64| coord! { x: x, y: y };
    let front = Polygon::new(
        LineString(vec![at(0.0, 0.0), at(-far, -far), at(far, -far)]),
        vec![],
    );
    let (mut whole, mut left) = (0.0, 0.0);
    for three in uncut.triangles[uncut.rings[ring].clone()].chunks_exact(3) {
        if uncut.normals[three[0] as usize * 3 + 2] < 0.5 {
            continue;
        }
        let corners = [0, 1, 2].map(|k| {
            let [x, y, _] = corner(uncut, three[k]);
            at(f64::from(x), f64::from(y))
        });
        let face = Polygon::new(LineString(corners.to_vec()), vec![]);
        whole += face.unsigned_area();
        left += face.difference(&front).unsigned_area();
    }
    left / whole
}

fn check(design: &Design, vessel: &Vessel, what: &str) {
    let plan = stack_with(design, vessel);
    let uncut = mesh(&plan, LOOKS[2]);
    for look in LOOKS {
        let whole = mesh(&plan, look);
        assert_eq!(whole.rings.len(), plan.rings.len());
        assert_eq!(whole.positions.len(), whole.colors.len());
        assert!(
            whole
                .positions
                .iter()
                .chain(&whole.normals)
                .all(|part| part.is_finite())
        );
        for (number, (ring, planned)) in vessel.rings.iter().zip(&plan.rings).enumerate() {
            // What cannot be made is not glued either.
            if planned.made == ringwright::plan::rings::Made::Nothing && !look.finished {
                continue;
            }
            let what = format!("{what}, ring {number}, {look:?}");
            // Wedges that are apart by an angle touch in the axis of a solid ring.
            let touch = planned.wanted.gap_rad > 0.0;
            let is_plain = look.finished && !look.cut_open && !touch;
            assert_closed(&whole, number, is_plain, &what);
            let kept = match (look.cut_open, look.finished) {
                (false, _) => 1.0,
                (true, true) => 0.75,
                (true, false) => opened_share(&uncut, number),
            };
            let (wanted, nearly) = if look.finished {
                let gaps = gaps_mm3(&plan, ring, planned);
                (slices_mm3(&plan, planned) - gaps, 1e-3)
            } else {
                let flattened = planned.wanted.height_mm
                    / (planned.wanted.height_mm + 2.0 * planned.wanted.face_allowance_mm);
                let nearly = if planned.segment.is_some() {
                    1e-5
                } else {
                    1e-3
                };
                (planned.blank_mm3 * flattened, nearly)
            };
            let volume = signed_volume_mm3(&whole, number);
            // A quarter of the circle is no quarter of a ring of gaps.
            let is_known = !(look.finished && look.cut_open && ring.between == Between::Gap);
            if is_known {
                let wanted = wanted * kept;
                assert!(
                    (volume - wanted).abs() <= nearly * wanted + 1e-3,
                    "{what}: {volume} is not {wanted}, off by {} %",
                    100.0 * (volume / wanted - 1.0)
                );
            }
            if look.cut_open != look.finished {
                continue;
            }
            let read = volume_mm3(&whole, number);
            assert!(
                (read - volume).abs() <= 1e-6 * volume + 1e-6,
                "{what}: {read} {volume}"
            );
        }
    }
}

/// A starting shape with every kind of ring.
fn dressed(word: &str, height_mm: f64) -> (Design, Vessel) {
    let design = start::begin(&Design::default(), word, 240.0, height_mm);
    let mut vessel = design.vessel.clone().unwrap();
    vessel
        .woods
        .extend(["Wenge", "Ash, white"].map(str::to_owned));
    for (place, ring) in vessel.rings.iter_mut().enumerate() {
        ring.pattern
            .clone_from(&[vec![0], vec![0, 1], vec![2, 0, 0, 1], vec![3]][place % 4]);
        ring.between = [Between::Nothing, Between::Spacer, Between::Gap][place % 3];
        ring.spacer_mm = 2.0 + place as f64;
    }
    (design, vessel)
}

#[test]
fn every_start_is_closed_and_as_heavy_as_planned() {
    for shape in start::ALL {
        let height = 240.0 * shape.height_for_diameter;
        let design = start::begin(&Design::default(), shape.word, 240.0, height);
        check(&design, design.vessel.as_ref().unwrap(), shape.word);
        let (design, vessel) = dressed(shape.word, height);
        check(&design, &vessel, &format!("{} dressed", shape.word));
    }
}

#[test]
fn the_whole_is_the_sum_that_the_plan_gives() {
    for shape in start::ALL {
        let design = start::begin(
            &Design::default(),
            shape.word,
            300.0,
            300.0 * shape.height_for_diameter,
        );
        let plan = stack_of(&design);
        let whole = mesh(&plan, LOOKS[0]);
        let sum: f64 = (0..whole.rings.len())
            .map(|ring| volume_mm3(&whole, ring))
            .sum();
        let (finished, _) = ringwright::trade::vessel::finished(plan.wall.as_ref().unwrap());
        assert!(
            (sum / finished - 1.0).abs() < 1e-3,
            "{} {sum} {finished}",
            shape.word
        );
    }
}

/// Below a base that is let in higher up, and around it, the rings' holes are open in the
/// turned wall too; so is a glued ring's own.
#[test]
fn what_is_bored_below_the_floor_is_open() {
    let mut tried = 0;
    let cylinder = |diameter: f64, height: f64| PI * diameter * diameter / 4.0 * height;
    for set in [BaseSet::LetIn, BaseSet::OnLedge] {
        for own in [0_u32, 1, 2] {
            for (above_mm, thickness_mm) in [(12.0, 9.0), (16.0, 12.0), (26.0, 20.0)] {
                let floor_mm = 20.0 * f64::from(own) + above_mm;
                let rings = [0; 4].map(|_| StackRing::plain(20.0, 12)).to_vec();
                let mut vessel = plain([(0.0, 90.0), (80.0, 100.0)], 8.0, floor_mm, rings);
                let is_glued = own == 2 && set == BaseSet::LetIn;
                if is_glued {
                    vessel.rings[0].measured = Some(Measured {
                        inside_diameter_mm: Some(70.0),
                        inside_across: Across::Round,
                        ..Measured::nothing()
                    });
                }
                let mut base = BaseChoice::of("Maple, sugar", thickness_mm);
                (base.kind, base.set) = (BaseKind::Plies, set);
                (base.in_ring, base.diameter_mm) = (own + 1, Some(110.0));
                let ledge_mm = base.ledge_mm;
                let mut design = Design {
                    base: Some(base),
                    ..Design::default()
                };
                design.vessel = Some(vessel);
                let plan = stack_of(&design);
                let base = plan.base.as_ref().unwrap();
                assert!(base.troubles.is_empty(), "{:?}", base.troubles);
                let mortise_mm = base.mortise_mm.unwrap();
                let under_mm = if set == BaseSet::OnLedge {
                    20.0 - thickness_mm
                } else {
                    0.0
                };
                let over_mm = (floor_mm - 20.0 * f64::from(own) - under_mm - thickness_mm)
                    .clamp(0.0, 20.0 - under_mm - thickness_mm);
                for look in [LOOKS[0], LOOKS[1]] {
                    let whole = mesh(&plan, look);
                    for (place, planned) in plan.rings.iter().enumerate() {
                        let own = own as usize;
                        let open = match place {
                            0 if is_glued => cylinder(70.0, 20.0),
                            _ if place < own => cylinder(110.0 - 2.0 * ledge_mm, 20.0),
                            _ if place == own => {
                                cylinder(mortise_mm - 2.0 * ledge_mm, under_mm)
                                    + cylinder(mortise_mm, over_mm)
                            }
                            _ => 0.0,
                        };
                        let what = format!("{set:?} in ring {own}, {floor_mm}, ring {place}");
                        assert_closed(&whole, place, false, &what);
                        let share = if look.cut_open { 0.75 } else { 1.0 };
                        let wanted = share * (slices_mm3(&plan, planned) - open);
                        let volume = signed_volume_mm3(&whole, place);
                        assert!(
                            (volume - wanted).abs() < 1e-3 * wanted,
                            "{what}, {look:?}: {volume} {wanted}"
                        );
                        tried += usize::from(open > 0.0);
                    }
                }
            }
        }
    }
    assert!(tried > 50, "{tried}");
}

fn plain(points: [(f64, f64); 2], wall_mm: f64, floor_mm: f64, rings: Vec<StackRing>) -> Vessel {
    Vessel {
        outline_is: ringwright::design::OutlineIs::Own,
        points: points
            .map(|(height_mm, radius_mm)| PointChoice {
                height_mm,
                radius_mm,
                is_corner: false,
            })
            .to_vec(),
        foot_wall_mm: wall_mm,
        rim_wall_mm: wall_mm,
        floor_mm,
        rings,
        woods: vec!["Maple, sugar".to_owned()],
        slot_sets: Vec::new(),
    }
}

fn finished_mm3(vessel: &Vessel, look: Look) -> f64 {
    let design = Design::default();
    let whole = mesh(&stack_with(&design, vessel), look);
    (0..whole.rings.len())
        .map(|ring| signed_volume_mm3(&whole, ring))
        .sum()
}

#[test]
fn a_cylinder_and_a_cone_by_closed_form() {
    let rings = || vec![StackRing::plain(60.0, 12), StackRing::plain(40.0, 12)];
    let cylinder = plain([(0.0, 50.0), (100.0, 50.0)], 6.0, 10.0, rings());
    let wanted = PI * (50.0 * 50.0 * 100.0 - 44.0 * 44.0 * 90.0);
    let volume = finished_mm3(&cylinder, LOOKS[0]);
    assert!((volume / wanted - 1.0).abs() < 1e-3, "{volume} {wanted}");
    assert!((finished_mm3(&cylinder, LOOKS[1]) / wanted - 0.75).abs() < 1e-3);
    // A cone's side of 45°: a wall of 6 square to it is 6 √2 measured level.
    let cone = plain([(0.0, 50.0), (100.0, 150.0)], 6.0, 10.0, rings());
    let frustum = |height: f64, a: f64, b: f64| PI * height * (a * a + a * b + b * b) / 3.0;
    let level = 6.0 * 2.0_f64.sqrt();
    // At the rim the wall ends square to its side, and the ball's lower half counts.
    let wanted = frustum(100.0, 50.0, 150.0) - frustum(90.0, 60.0 - level, 150.0 - level);
    let volume = finished_mm3(&cone, LOOKS[0]);
    assert!((volume / wanted - 1.0).abs() < 3e-3, "{volume} {wanted}");
}

#[test]
fn each_face_has_its_segments_wood() {
    let (design, mut vessel) = dressed("bowl", 100.0);
    for ring in &mut vessel.rings {
        ring.between = Between::Nothing;
    }
    let plan = stack_with(&design, &vessel);
    for look in LOOKS {
        let whole = mesh(&plan, look);
        let mut tried = 0;
        for (ring, range) in vessel.rings.iter().zip(&whole.rings) {
            let width = 2.0 * PI / f64::from(ring.segment_count);
            for three in whole.triangles[range.clone()].chunks_exact(3) {
                let [a, b, c] = [0, 1, 2].map(|k| corner(&whole, three[k]).map(f64::from));
                let middle = [0, 1].map(|axis| (a[axis] + b[axis] + c[axis]) / 3.0);
                let direction = middle[0].atan2(-middle[1]);
                let turned = direction / width - f64::from(ring.turn_half_segments) / 2.0 + 0.5;
                let near = (turned - turned.round()).abs() * width * middle[0].hypot(middle[1]);
                if near < 1e-3 || middle[0].hypot(middle[1]) < 1e-3 {
                    continue;
                }
                let segment = turned.floor().rem_euclid(f64::from(ring.segment_count)) as u32;
                let segment = if ring.made_of == MadeOf::Disc {
                    0
                } else {
                    segment
                };
                let color = woods::color(&Design::default(), &vessel.woods[ring.wood_of(segment)]);
                for index in three {
                    let start = *index as usize * 3;
                    let [r, g, b] = [0, 1, 2].map(|part| whole.colors[start + part]);
                    assert_eq!((r, g, b), (color.r, color.g, color.b), "{look:?}");
                }
                tried += 1;
            }
        }
        // A triangle on a joint or on the axis has no segment of its own.
        assert!(
            tried * 4 > whole.triangles.len(),
            "{tried} of {}",
            whole.triangles.len() / 3
        );
    }
}

#[test]
fn shading_faces_the_same_way_as_the_surface() {
    let (design, vessel) = dressed("vase", 300.0);
    let plan = stack_with(&design, &vessel);
    for look in LOOKS {
        let whole = mesh(&plan, look);
        for three in whole.triangles.chunks_exact(3) {
            let [a, b, c] = [0, 1, 2].map(|k| corner(&whole, three[k]).map(f64::from));
            let [u, v] = [b, c].map(|to| [0, 1, 2].map(|axis| to[axis] - a[axis]));
            let face = [
                u[1] * v[2] - u[2] * v[1],
                u[2] * v[0] - u[0] * v[2],
                u[0] * v[1] - u[1] * v[0],
            ];
            let size = face.iter().map(|part| part * part).sum::<f64>().sqrt();
            if size < 1e-2 {
                continue;
            }
            for index in three {
                let start = *index as usize * 3;
                let normal = [0, 1, 2].map(|axis| f64::from(whole.normals[start + axis]));
                let along: f64 = (0..3).map(|axis| normal[axis] * face[axis] / size).sum();
                assert!(
                    along > 0.85,
                    "{look:?} {along} {normal:?} {a:?} {b:?} {c:?}"
                );
            }
        }
    }
}

fn random_ring() -> impl Strategy<Value = StackRing> {
    (
        (
            4.0_f64..40.0,
            3_u32..50,
            any::<bool>(),
            0_u32..4,
            0_usize..3,
            0.3_f64..9.0,
        ),
        (
            0.0_f64..6.0,
            0.0_f64..6.0,
            proptest::collection::vec(0_u32..4, 1..5),
        ),
    )
        .prop_map(
            |((height, count, is_disc, turn, between, spacer), (outside, inside, pattern))| {
                let mut ring = StackRing::plain(height, count);
                ring.made_of = if is_disc && count % 5 == 0 {
                    MadeOf::Disc
                } else {
                    MadeOf::Segments
                };
                ring.turn_half_segments = turn;
                ring.between = [Between::Nothing, Between::Spacer, Between::Gap][between];
                ring.spacer_mm = spacer;
                ring.gap_by = [GapBy::Thickness, GapBy::Angle, GapBy::Share][turn as usize % 3];
                (ring.gap_deg, ring.gap_pct) = (spacer / 4.0, 2.0 + spacer * 3.0);
                ring.further_deg = if turn % 2 == 0 { height } else { 0.0 };
                ring.outside_extra_mm = outside;
                ring.inside_extra_mm = inside;
                ring.pattern = pattern;
                ring.shares = match count % 4 {
                    1 => vec![2, 1],
                    2 => vec![3, 1, 1],
                    _ => Vec::new(),
                };
                ring
            },
        )
}

fn random_vessel() -> impl Strategy<Value = Vessel> {
    (
        proptest::collection::vec((4.0_f64..60.0, 12.0_f64..200.0, any::<bool>()), 2..7),
        (3.0_f64..12.0, 3.0_f64..12.0, 0.0_f64..30.0),
        proptest::collection::vec(random_ring(), 1..10),
    )
        .prop_map(|(points, (foot_wall_mm, rim_wall_mm, floor_mm), rings)| {
            let mut height_mm = 0.0;
            let points = points
                .into_iter()
                .map(|(rise, radius_mm, is_corner)| {
                    let point = PointChoice {
                        height_mm,
                        radius_mm,
                        is_corner,
                    };
                    height_mm += rise;
                    point
                })
                .collect();
            Vessel {
                outline_is: ringwright::design::OutlineIs::Own,
                points,
                foot_wall_mm,
                rim_wall_mm,
                floor_mm,
                rings,
                woods: ["Maple, sugar", "Wenge", "Padauk, African"]
                    .map(str::to_owned)
                    .to_vec(),
                slot_sets: Vec::new(),
            }
        })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn random_vessels_are_closed_and_as_heavy_as_planned(vessel in random_vessel()) {
        check(&Design::default(), &vessel, "random");
    }
}

/// A finger on a segment's middle, put on the screen by the matrix that the graphics use,
/// touches that segment; one beside the piece touches nothing.
#[test]
fn a_finger_touches_what_it_sees() {
    let (design, mut vessel) = dressed("bowl", 100.0);
    for ring in &mut vessel.rings {
        ring.between = Between::Nothing;
    }
    let plan = stack_with(&design, &vessel);
    let wall = plan.wall.as_ref().unwrap();
    let mut tried = 0;
    for look in LOOKS {
        let shape = mesh(&plan, look);
        for (turn, height_rad, zoom, width_for_height) in [
            (0.0, 0.1, 1.0, 1.0),
            (2.5, 0.4, 1.7, 0.6),
            (4.0, -0.6, 0.8, 1.9),
        ] {
            let camera = Camera {
                direction_rad: turn,
                height_rad,
                zoom,
            };
            let view = camera.view(&shape.bounds(), width_for_height);
            for (place, ring) in vessel.rings.iter().enumerate() {
                if ring.made_of == MadeOf::Disc {
                    continue;
                }
                let planned = &plan.rings[place];
                let segment = ((turn / PI * f64::from(ring.segment_count)
                    - f64::from(ring.turn_half_segments))
                    / 2.0)
                    .round();
                let direction = PI / f64::from(ring.segment_count)
                    * (2.0 * segment + f64::from(ring.turn_half_segments));
                let z = f64::midpoint(planned.span.bottom_mm, planned.span.top_mm);
                let radius = if look.finished {
                    wall.outside.radius_at(z)
                } else {
                    planned.segment.unwrap().outside.apothem_mm
                };
                let at = [radius * direction.sin(), -radius * direction.cos(), z, 1.0];
                let seen: [f64; 4] = std::array::from_fn(|row| {
                    (0..4)
                        .map(|column| f64::from(view.matrix[column * 4 + row]) * at[column])
                        .sum()
                });
                let way = view.ray(seen[0] / seen[3], seen[1] / seen[3]);
                let thing = touched(&plan, &shape, view.eye_mm, way);
                let count = f64::from(ring.segment_count);
                let own = Thing::Segment(place, segment.rem_euclid(count) as u32);
                // Where the piece is cut open, or a wider ring hides it, something else is seen.
                let hides = height_rad.abs() > 0.3;
                if !look.cut_open && !hides {
                    assert_eq!(thing, own, "{look:?} {turn}");
                    tried += 1;
                } else {
                    assert_ne!(thing, Thing::Nothing, "{look:?} {turn}");
                }
            }
            assert_eq!(
                touched(&plan, &shape, view.eye_mm, view.ray(9.0, 0.0)),
                Thing::Nothing
            );
        }
    }
    assert!(tried >= 6, "{tried}");
}
