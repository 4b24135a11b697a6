//! The surface of the finished piece against the area of its mesh, against closed forms and
//! against cells of a fine grid; the finish in the order of work.
#![cfg(not(target_arch = "wasm32"))]

mod shared;
use proptest::prelude::*;
use ringwright::design::{
    BaseChoice, BaseKind, BaseSet, Bench, Between, Design, FinishChoice, GapBy, PointChoice,
    RingsClose, StackRing, Vessel,
};
use ringwright::edit::start;
use ringwright::plan::order::{FinishWork, Ticked, Work};
use ringwright::plan::stack::StackPlan;
use ringwright::plan::surface::{Surface, surface};
use ringwright::plan::{finish, plan};
use ringwright::show::figures::bench::bench;
use ringwright::show::mesh::{Look, Mesh, mesh};
use ringwright::trade::finish::Finish;
use shared::{stack_of, stack_with};
use std::f64::consts::{PI, TAU};

fn point(height_mm: f64, radius_mm: f64) -> PointChoice {
    PointChoice {
        height_mm,
        radius_mm,
        is_corner: false,
    }
}

fn vessel(points: &[(f64, f64)], wall_mm: f64, floor_mm: f64, rings: Vec<StackRing>) -> Vessel {
    Vessel {
        points: points.iter().map(|it| point(it.0, it.1)).collect(),
        foot_wall_mm: wall_mm,
        rim_wall_mm: wall_mm,
        floor_mm,
        woods: vec!["Maple, sugar".to_owned()],
        rings,
        ..Vessel::blank()
    }
}

/// What of a mesh is open to the air: all but the level faces where ring lies on ring.
fn open_mm2(plan: &StackPlan, mesh: &Mesh) -> f64 {
    let joints: Vec<f64> = plan
        .rings
        .iter()
        .skip(1)
        .map(|it| it.span.bottom_mm)
        .collect();
    let corner = |index: u32| {
        let start = index as usize * 3;
        [0, 1, 2].map(|axis| f64::from(mesh.positions[start + axis]))
    };
    let area_mm2 = |three: &[u32]| {
        let [a, b, c] = [0, 1, 2].map(|at| corner(three[at]));
        let (u, v) = (
            [0, 1, 2].map(|k| b[k] - a[k]),
            [0, 1, 2].map(|k| c[k] - a[k]),
        );
        let cross = [
            u[1] * v[2] - u[2] * v[1],
            u[2] * v[0] - u[0] * v[2],
            u[0] * v[1] - u[1] * v[0],
        ];
        let is_between = joints
            .iter()
            .any(|z| [a, b, c].iter().all(|it| (it[2] - z).abs() < 1e-3));
        if is_between {
            0.0
        } else {
            cross.iter().map(|it| it * it).sum::<f64>().sqrt() / 2.0
        }
    };
    mesh.triangles.chunks_exact(3).map(area_mm2).sum()
}

const FINISHED: Look = Look {
    finished: true,
    cut_open: false,
};

/// The bare faces between rings, looked up cell by cell: where just one of two rings has air.
fn bare_mm2(plan: &StackPlan) -> f64 {
    let wall = plan.wall.as_ref().unwrap();
    let is_air = |place: usize, radius: f64, direction: f64| {
        let (ring, planned) = (&plan.vessel.rings[place], &plan.rings[place]);
        let half = planned.wanted.spacer_mm / 2.0;
        ring.between == Between::Gap
            && planned.segment.is_some()
            && (0..ring.segment_count).any(|it| {
                let away = direction - planned.round.edge_rad(it);
                let from_middle = away.sin().atan2(away.cos()).abs();
                away.cos() > 0.0 && (radius * away.sin()).abs() < half
                    || from_middle < ring.gap_rad() / 2.0
            })
    };
    let mut bare = 0.0;
    for below in 0..plan.rings.len() - 1 {
        let z = plan.rings[below].span.top_mm;
        if z >= wall.outside.height_mm() - 1e-6 {
            continue;
        }
        let (outside, inside) = (wall.outside.radius_at(z), wall.inside_radius_at(z));
        let inside = if z < wall.floor_mm - 1e-6 {
            0.0
        } else {
            inside
        };
        let (rings, cells) = (24, 6000);
        for ring in 0..rings {
            let step = (outside - inside) / f64::from(rings);
            let radius = inside + step * (f64::from(ring) + 0.5);
            for cell in 0..cells {
                let direction = TAU * (f64::from(cell) + 0.5) / f64::from(cells);
                if is_air(below, radius, direction) != is_air(below + 1, radius, direction) {
                    bare += radius * step * TAU / f64::from(cells);
                }
            }
        }
    }
    bare
}

fn check(plan: &StackPlan, what: &str) -> Surface {
    let found = surface(plan).unwrap();
    let seen = open_mm2(plan, &mesh(plan, FINISHED)) + bare_mm2(plan);
    let all = found.all_mm2();
    assert!(
        (all / seen - 1.0).abs() < 4e-3,
        "{what}: {all} {seen} {found:?}"
    );
    found
}

#[test]
fn every_start_has_the_surface_of_its_mesh() {
    for shape in start::ALL {
        let height = 240.0 * shape.height_for_diameter;
        let design = start::begin(&Design::default(), shape.word, 240.0, height);
        let whole = check(&stack_of(&design), shape.word);
        assert!(whole.gaps_mm2 <= 0.0);
        let mut vessel = design.vessel.clone().unwrap();
        // The floor stands off the joints: a face at a joint's height is looked over there.
        vessel.floor_mm += 1.3;
        for (place, ring) in vessel.rings.iter_mut().enumerate() {
            ring.between = [
                Between::Gap,
                Between::Nothing,
                Between::Spacer,
                Between::Gap,
            ][place % 4];
            ring.spacer_mm = 2.0 + place as f64 / 2.0;
            ring.gap_by = [GapBy::Thickness, GapBy::Share, GapBy::Angle][place % 3];
            ring.gap_deg = 1.0 + place as f64 / 3.0;
            ring.further_deg = 2.3 * place as f64;
            ring.turn_half_segments = place as u32 % 3;
        }
        let open_plan = stack_with(&design, &vessel);
        let open = check(&open_plan, &format!("{} open", shape.word));
        let mut rings = vessel.rings.iter().zip(&open_plan.rings);
        if rings.any(|(ring, it)| ring.between == Between::Gap && it.segment.is_some()) {
            assert!(open.gaps_mm2 > 0.0 && open.outside_mm2 < whole.outside_mm2);
        }
    }
}

#[test]
fn a_cylinder_and_a_cone_by_closed_form() {
    let rings = || (0..4).map(|_| StackRing::plain(25.0, 12)).collect();
    let plain = Design::default();
    let straight = vessel(&[(0.0, 60.0), (100.0, 60.0)], 8.0, 10.0, rings());
    let found = surface(&stack_with(&plain, &straight)).unwrap();
    let near = |one: f64, other: f64| assert!((one / other - 1.0).abs() < 1e-6, "{one} {other}");
    near(found.outside_mm2, TAU * 60.0 * 100.0);
    near(found.inside_mm2, TAU * 52.0 * 90.0 + PI * 52.0 * 52.0);
    near(found.rim_mm2, PI * (3600.0 - 2704.0));
    near(found.foot_mm2, PI * 3600.0);
    // 45° out: the side is √2 as long as it is high.
    let cone = vessel(&[(0.0, 50.0), (100.0, 150.0)], 10.0, 12.0, rings());
    let found = surface(&stack_with(&plain, &cone)).unwrap();
    near(found.outside_mm2, PI * 200.0 * 100.0 * 2.0_f64.sqrt());
    let (low, high) = (62.0 - 10.0 * 2.0_f64.sqrt(), 150.0 - 10.0 * 2.0_f64.sqrt());
    let side = PI * (low + high) * 88.0 * 2.0_f64.sqrt();
    // Within the wall of the rim no ball is rolled beyond its end.
    let off = found.inside_mm2 / (side + PI * low * low) - 1.0;
    assert!(off.abs() < 0.02, "{off}");
    // Open below: a tube has two ends alike.
    let tube = Design {
        base: Some(BaseChoice {
            kind: BaseKind::Open,
            ..BaseChoice::of("Maple, sugar", 10.0)
        }),
        ..plain
    };
    let found = surface(&stack_with(&tube, &straight)).unwrap();
    near(found.foot_mm2, found.rim_mm2);
    near(found.inside_mm2, TAU * 52.0 * 100.0);
}

#[test]
fn what_is_bored_below_the_floor_is_of_the_foot() {
    for set in [BaseSet::LetIn, BaseSet::OnLedge] {
        for in_ring in [1, 2, 3] {
            let design = Design {
                base: Some(BaseChoice {
                    set,
                    in_ring,
                    ..BaseChoice::of("Maple, sugar", 12.0)
                }),
                ..Design::default()
            };
            let floor_mm = 20.0 * f64::from(in_ring - 1) + 16.0;
            let rings = (0..5).map(|_| StackRing::plain(20.0, 12)).collect();
            let own = vessel(&[(0.0, 70.0), (100.0, 90.0)], 8.0, floor_mm, rings);
            let plan = stack_with(&design, &own);
            let found = surface(&plan).unwrap();
            let seen = open_mm2(&plan, &mesh(&plan, FINISHED));
            // Level faces at a ring's end are left out of the mesh's sum: a bore's own there.
            let ends = |z: f64| {
                plan.rings
                    .iter()
                    .any(|it| (it.span.bottom_mm - z).abs() < 1e-6)
            };
            let bores = plan.bores();
            let mut level = 0.0;
            for bore in &bores {
                let above = bores
                    .iter()
                    .find(|it| (it.from_mm - bore.to_mm).abs() < 1e-6);
                let above_mm = above.map_or(0.0, |it| it.radius_mm);
                if bore.to_mm < floor_mm - 1e-6 && ends(bore.to_mm) {
                    level += PI * (bore.radius_mm.powi(2) - above_mm.powi(2)).abs();
                }
            }
            let all = found.all_mm2() - level;
            assert!(
                (all / seen - 1.0).abs() < 3e-3,
                "{set:?} {in_ring}: {all} {seen}"
            );
        }
    }
}

fn any_vessel() -> impl Strategy<Value = Vessel> {
    let points = prop::collection::vec((6.0_f64..40.0, 40.0_f64..150.0), 2..6);
    let ring = (
        10.0_f64..30.0,
        6_u32..25,
        0_usize..3,
        0.5_f64..5.0,
        0_u32..4,
    );
    (points, prop::collection::vec(ring, 2..7), 3.0_f64..9.0).prop_map(
        |(points, rings, wall_mm)| {
            let mut height = 0.0;
            let mut places = Vec::new();
            for (rise, radius) in points {
                places.push((height, radius));
                height += 15.0 + rise;
            }
            let rings = rings
                .into_iter()
                .map(|(height_mm, count, between, spacer_mm, turn)| StackRing {
                    between: [Between::Nothing, Between::Spacer, Between::Gap][between],
                    spacer_mm,
                    turn_half_segments: turn,
                    ..StackRing::plain(height_mm, count)
                })
                .collect();
            vessel(&places, wall_mm, 7.3, rings)
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_piece_has_the_surface_of_its_mesh(vessel in any_vessel()) {
        let plan = stack_with(&Design::default(), &vessel);
        let wall = plan.wall.as_ref().unwrap();
        // Where the stack ends below the rim the mesh ends with it.
        let found = surface(&plan).unwrap();
        let seen = open_mm2(&plan, &mesh(&plan, FINISHED)) + bare_mm2(&plan);
        let top = plan.rings.last().unwrap().span.top_mm.min(wall.outside.height_mm());
        // A rim at a joint's height is none of the mesh's sum.
        let is_clear = plan.rings.iter().all(|it| (it.span.bottom_mm - top).abs() > 1e-2);
        if is_clear {
            let all = found.all_mm2();
            prop_assert!((all / seen - 1.0).abs() < 1e-2, "{} {} {:?}", all, seen, found);
        }
    }
}

fn finished(kind: Finish, coats: Option<u32>) -> Design {
    Design {
        finish: Some(FinishChoice {
            kind,
            coats,
            ..FinishChoice::later()
        }),
        ..start::begin(&Design::default(), "bowl", 254.0, 101.6)
    }
}

#[test]
fn a_finish_that_is_chosen_stands_coat_by_coat_in_the_order_of_work() {
    for &kind in Finish::ALL {
        let design = finished(kind, None);
        let planned = plan(&design);
        let steps = &planned.order().unwrap().steps;
        let ids: Vec<&str> = steps.iter().map(|it| it.id.as_str()).collect();
        if kind == Finish::Later {
            assert!(ids.ends_with(&["finish", "part-foot"]), "{ids:?}");
            continue;
        }
        let coats = finish::finish(&design).coats;
        let mut wanted = vec!["sand".to_owned(), "dust".to_owned()];
        wanted.extend((1..=coats).map(|it| format!("coat-{it}")));
        wanted.extend(["buff", "part-foot", "sign"].map(str::to_owned));
        assert_eq!(ids[ids.len() - wanted.len()..], wanted, "{kind:?}");
        let screen = bench(&planned, &[]).unwrap();
        let coat = |id: &str| screen.steps.iter().find(|it| it.id == id).unwrap();
        for number in 1..=coats {
            let shown = coat(&format!("coat-{number}"));
            assert_eq!(shown.saw.len(), 2);
            // Never a rag in a heap, at every coat that may set one on fire.
            assert_eq!(
                shown.cautions.len(),
                usize::from(kind.heats_rags()),
                "{kind:?}"
            );
        }
    }
}

/// A tick of a coat stands as long as that coat does.
#[test]
fn ticks_of_coats_follow_the_finish() {
    let marks = |design: &Design| ringwright::edit::log::marks(&plan(design));
    let three = marks(&finished(Finish::HardeningOil, Some(3)));
    let four = marks(&finished(Finish::HardeningOil, Some(4)));
    let film = marks(&finished(Finish::Film, Some(3)));
    let state = |marks: &[(String, String)], id: &str| {
        let found = ringwright::plan::order::ticked(marks, &three);
        found[marks.iter().position(|it| it.0 == id).unwrap()]
    };
    assert_eq!(state(&four, "coat-3"), Ticked::Yes);
    assert_eq!(state(&four, "coat-4"), Ticked::No);
    assert_eq!(state(&film, "coat-1"), Ticked::Changed);
    assert_eq!(state(&film, "sand"), Ticked::Changed);
}

#[test]
fn only_listed_woods_are_named_for_their_dust() {
    let told = |wood: &str| {
        let mut design = finished(Finish::Bare, None);
        design.vessel.as_mut().unwrap().woods = vec![wood.to_owned()];
        let shown = bench(&plan(&design), &[]).unwrap();
        let sand = shown.steps.into_iter().find(|it| it.id == "sand").unwrap();
        sand.cautions
            .into_iter()
            .map(|it| it.reason)
            .collect::<Vec<_>>()
    };
    assert!(told("Maple, sugar").is_empty());
    assert!(told("Redcedar, western")[0].contains("sensitizer"));
    assert!(told("Oak, white")[0].contains("a cause of cancer"));
    assert!(told("Teak")[0].contains("suspected"));
    let steps = plan(&finished(Finish::Wax, Some(12)));
    let steps = &steps.order().unwrap().steps;
    let coats = steps
        .iter()
        .filter(|it| matches!(it.work, Work::Finishing(FinishWork::Coat(_))));
    assert_eq!(coats.count(), 12);
}

/// Rings glued in halves take as much glue, and each is trued before it is closed; where no two
/// halves are alike it is said, and the ring is glued at once.
#[test]
fn rings_in_two_halves_are_trued_before_they_are_closed() {
    let mut design = start::begin(&Design::default(), "bowl", 254.0, 101.6);
    let rings = &mut design.vessel.as_mut().unwrap().rings;
    rings[2].segment_count = 13;
    let at_once = bench(&plan(&design), &[]).unwrap();
    design.bench = Some(Bench {
        rings_close: RingsClose::InHalves,
        ..design.bench_or_usual()
    });
    let halves = bench(&plan(&design), &[]).unwrap();
    assert_eq!(at_once.glue.last(), halves.glue.last());
    assert!(at_once.steps.iter().all(|it| !it.id.starts_with("halves-")));
    let place = |id: &str| halves.steps.iter().position(|it| it.id == id);
    let [glued, trued, closed] = ["halves-2", "ends-2", "glue-2"].map(|id| place(id).unwrap());
    assert!(glued < trued && trued < closed);
    assert!(halves.steps[closed].title.ends_with("close it"));
    assert_eq!(place("halves-3"), None);
    let odd = &halves.steps[place("glue-3").unwrap()];
    assert!(odd.says.contains("no two halves alike"), "{}", odd.says);
    for step in halves.steps.iter().filter(|it| it.id.starts_with("ends-")) {
        assert_eq!(step.saw.len(), 2, "{}", step.id);
    }
}
