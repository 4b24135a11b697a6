//! The base against the classical theory of laminated plates, in full: six equations
//! with Poisson's ratios and shear, by a solver of its own; and against what every
//! turner knows of solid and laminated bases.
#![cfg(not(target_arch = "wasm32"))]

mod shared;
use ringwright::design::trouble::Reason;
use ringwright::design::{BaseChoice, BaseKind, BaseSet, Climate, Design, MadeOf, Ply, Sawn};
use ringwright::draw::Mark;
use ringwright::edit;
use ringwright::edit::start;
use ringwright::plan::base;
use ringwright::plan::bill::Part;
use ringwright::plan::caution::Caution;
use ringwright::plan::floor;
use ringwright::plan::plan;
use ringwright::show::pictures::vessel::Picked;
use ringwright::show::sheets::job::Choice;
use ringwright::show::sheets::packet;
use ringwright::show::thing::Thing;
use ringwright::trade::laminate::{Layer, Plate, plate};
use ringwright::trade::wood::{self, Grain};
use shared::{Dice, base_of, stack_of};

/// A ply as the full theory takes it, its grain at an angle to the first direction.
struct FullPly {
    thickness: f64,
    along: f64,
    across: f64,
    shear: f64,
    /// Strain across for strain along under stress along.
    poisson: f64,
    turn_rad: f64,
    growth: [f64; 2],
}

impl FullPly {
    /// Reduced stiffness in the plate's directions (Jones, Mechanics of Composite
    /// Materials, chapter 2; from memory), and its free growth turned the same way.
    fn turned(&self) -> ([[f64; 3]; 3], [f64; 3]) {
        let back = self.poisson * self.across / self.along;
        let whole = 1.0 - self.poisson * back;
        let (q11, q22) = (self.along / whole, self.across / whole);
        let (q12, q66) = (self.poisson * self.across / whole, self.shear);
        let (s, c) = self.turn_rad.sin_cos();
        let (s2, c2) = (s * s, c * c);
        let q = [
            [
                q11 * c2 * c2 + 2.0 * (q12 + 2.0 * q66) * s2 * c2 + q22 * s2 * s2,
                (q11 + q22 - 4.0 * q66) * s2 * c2 + q12 * (s2 * s2 + c2 * c2),
                (q11 - q12 - 2.0 * q66) * s * c * c2 + (q12 - q22 + 2.0 * q66) * s * s2 * c,
            ],
            [
                (q11 + q22 - 4.0 * q66) * s2 * c2 + q12 * (s2 * s2 + c2 * c2),
                q11 * s2 * s2 + 2.0 * (q12 + 2.0 * q66) * s2 * c2 + q22 * c2 * c2,
                (q11 - q12 - 2.0 * q66) * s * s2 * c + (q12 - q22 + 2.0 * q66) * s * c * c2,
            ],
            [
                (q11 - q12 - 2.0 * q66) * s * c * c2 + (q12 - q22 + 2.0 * q66) * s * s2 * c,
                (q11 - q12 - 2.0 * q66) * s * s2 * c + (q12 - q22 + 2.0 * q66) * s * c * c2,
                (q11 + q22 - 2.0 * q12 - 2.0 * q66) * s2 * c2 + q66 * (s2 * s2 + c2 * c2),
            ],
        ];
        let [along, across] = self.growth;
        let growth = [
            along * c2 + across * s2,
            along * s2 + across * c2,
            2.0 * (along - across) * s * c,
        ];
        (q, growth)
    }
}

/// Solves by elimination with pivots.
fn solve(mut rows: [[f64; 7]; 6]) -> [f64; 6] {
    for column in 0..6 {
        let pivot = (column..6)
            .max_by(|a, b| rows[*a][column].abs().total_cmp(&rows[*b][column].abs()))
            .unwrap();
        rows.swap(column, pivot);
        for row in 0..6 {
            if row != column {
                let share = rows[row][column] / rows[column][column];
                let pivot = rows[column];
                for (at, cell) in rows[row].iter_mut().enumerate().skip(column) {
                    *cell -= share * pivot[at];
                }
            }
        }
    }
    std::array::from_fn(|row| rows[row][6] / rows[row][row])
}

/// The plate's strains and curvatures by its A, B and D matrices.
fn full_theory(plies: &[FullPly]) -> [f64; 6] {
    let total: f64 = plies.iter().map(|ply| ply.thickness).sum();
    let mut rows = [[0.0; 7]; 6];
    let mut bottom = -total / 2.0;
    for ply in plies {
        let top = bottom + ply.thickness;
        let (q, growth) = ply.turned();
        let powers = [
            top - bottom,
            (top * top - bottom * bottom) / 2.0,
            (top.powi(3) - bottom.powi(3)) / 3.0,
        ];
        for i in 0..3 {
            for j in 0..3 {
                rows[i][j] += q[i][j] * powers[0];
                rows[i][j + 3] += q[i][j] * powers[1];
                rows[i + 3][j] += q[i][j] * powers[1];
                rows[i + 3][j + 3] += q[i][j] * powers[2];
                rows[i][6] += q[i][j] * growth[j] * powers[0];
                rows[i + 3][6] += q[i][j] * growth[j] * powers[1];
            }
        }
        bottom = top;
    }
    solve(rows)
}

/// Woods with all ratios in `elastic_ratios.csv`: name, across and shear ratio, Poisson.
fn elastic() -> Vec<(String, f64, f64, f64)> {
    let path = format!(
        "{}/tests/reference/elastic_ratios.csv",
        env!("CARGO_MANIFEST_DIR")
    );
    let mut reader = csv::Reader::from_path(path).unwrap();
    reader
        .records()
        .map(Result::unwrap)
        .filter_map(|row| {
            let [across, shear, poisson] = [1, 4, 7].map(|at| row[at].parse::<f64>().ok());
            wood::find(&row[0])?;
            Some((row[0].to_owned(), across?, shear?, poisson?))
        })
        .collect()
}

fn both(woods: &[usize], thickness: &[f64], growth: [f64; 2]) -> (Plate, [f64; 6]) {
    let table = elastic();
    let mut layers = Vec::new();
    let mut plies = Vec::new();
    for (place, (at, thickness)) in woods.iter().zip(thickness).enumerate() {
        let (name, across, shear, poisson) = &table[*at];
        let wood = wood::find(name).unwrap();
        let along_gpa = wood.stiffness_gpa(Grain::Along);
        assert!((wood.stiffness_gpa(Grain::Tangential) - across * along_gpa).abs() < 1e-9);
        let is_turned = place % 2 == 1;
        let mut layer = Layer {
            thickness_mm: *thickness,
            stiffness: [along_gpa, across * along_gpa],
            growth,
        };
        if is_turned {
            layer.stiffness.reverse();
            layer.growth.reverse();
        }
        layers.push(layer);
        plies.push(FullPly {
            thickness: *thickness,
            along: along_gpa,
            across: across * along_gpa,
            shear: shear * along_gpa,
            poisson: *poisson,
            turn_rad: if is_turned {
                std::f64::consts::FRAC_PI_2
            } else {
                0.0
            },
            growth,
        });
    }
    (plate(&layers), full_theory(&plies))
}

/// Without Poisson's ratios the two theories are one and the same.
#[test]
fn the_full_theory_without_cross_effects_is_the_rule_of_mixtures() {
    let mut dice = Dice(7);
    for _ in 0..2000 {
        let count = dice.between(1.0, 12.0) as usize;
        let mut layers = Vec::new();
        let mut plies = Vec::new();
        for _ in 0..count {
            let is_turned = dice.between(0.0, 1.0) < 0.5;
            let (thickness, along) = (dice.between(0.5, 20.0), dice.between(5.0, 20.0));
            let across = along * dice.between(0.02, 0.2);
            let growth = [dice.between(-0.001, 0.001), dice.between(-0.03, 0.03)];
            let mut layer = Layer {
                thickness_mm: thickness,
                stiffness: [along, across],
                growth,
            };
            if is_turned {
                layer.stiffness.reverse();
                layer.growth.reverse();
            }
            layers.push(layer);
            plies.push(FullPly {
                thickness,
                along,
                across,
                shear: 0.07 * along,
                poisson: 0.0,
                turn_rad: if is_turned {
                    std::f64::consts::FRAC_PI_2
                } else {
                    0.0
                },
                growth,
            });
        }
        let (ours, full) = (plate(&layers), full_theory(&plies));
        for direction in 0..2 {
            assert!((ours.growth[direction] - full[direction]).abs() < 1e-10);
            assert!((ours.curvature_per_mm[direction] + full[direction + 3]).abs() < 1e-10);
        }
    }
}

/// With Poisson's ratios the full theory says a little else: how much, of the movement
/// that a board of the same wood would make.
#[test]
fn leaving_poisson_out_changes_little() {
    let growth = [0.0002, 0.0152];
    let mut largest = (0.0_f64, String::new());
    let mut largest_bend = 0.0_f64;
    let table = elastic();
    assert!(table.len() >= 17, "{}", table.len());
    for (at, (name, ..)) in table.iter().enumerate() {
        for count in [3, 5, 7, 9] {
            let (ours, full) = both(&vec![at; count], &vec![6.0; count], growth);
            for direction in 0..2 {
                let off = (ours.growth[direction] - full[direction]) / growth[1];
                if off.abs() > largest.0.abs() {
                    largest = (off, format!("{name}, {count} plies"));
                }
                assert!(
                    full[direction + 3].abs() < 1e-12,
                    "a balanced stack stays flat"
                );
            }
        }
        let (ours, full) = both(&[at; 2], &[6.0; 2], growth);
        for direction in 0..2 {
            let off = ours.curvature_per_mm[direction] / -full[direction + 3] - 1.0;
            largest_bend = largest_bend.max(off.abs());
        }
    }
    println!(
        "rule of mixtures against the full theory: {:+.4} of the free movement ({}); curvature of two plies within {:.3}",
        largest.0, largest.1, largest_bend
    );
    assert!(largest.0.abs() < 0.03, "{largest:?}");
    assert!(largest_bend < 0.10, "{largest_bend}");
}

/// Random stacks of random woods, balanced or not.
#[test]
fn random_stacks_stay_near_the_full_theory() {
    let mut dice = Dice(3);
    let woods = elastic().len() as f64;
    for _ in 0..2000 {
        let count = dice.between(2.0, 10.0) as usize;
        let places: Vec<usize> = (0..count)
            .map(|_| dice.between(0.0, woods) as usize)
            .collect();
        let thickness: Vec<f64> = (0..count).map(|_| dice.between(2.0, 12.0)).collect();
        let growth = [dice.between(-0.0005, 0.0005), dice.between(-0.03, 0.03)];
        let (ours, full) = both(&places, &thickness, growth);
        let total: f64 = thickness.iter().sum();
        for direction in 0..2 {
            let free = growth[1].abs().max(growth[0].abs());
            assert!((ours.growth[direction] - full[direction]).abs() < 0.06 * free + 1e-9);
            let bend = (ours.curvature_per_mm[direction] + full[direction + 3]) * total;
            assert!(bend.abs() < 0.15 * free + 1e-9, "{bend} {free}");
        }
    }
}

/// Two strips that grow unlike each other: Timoshenko's formula for bi-metal
/// thermostats (1925; from memory).
#[test]
fn two_plies_bend_as_a_bimetal_does() {
    let mut dice = Dice(11);
    for _ in 0..1000 {
        let (h1, h2) = (dice.between(1.0, 10.0), dice.between(1.0, 10.0));
        let (e1, e2) = (dice.between(0.5, 15.0), dice.between(0.5, 15.0));
        let (a1, a2) = (dice.between(-0.02, 0.02), dice.between(-0.02, 0.02));
        let layers = [(h1, e1, a1), (h2, e2, a2)].map(|(thickness_mm, e, a)| Layer {
            thickness_mm,
            stiffness: [e; 2],
            growth: [a; 2],
        });
        let (m, n, h) = (h1 / h2, e1 / e2, h1 + h2);
        let bend = 6.0 * (a2 - a1) * (1.0 + m).powi(2)
            / (h * (3.0 * (1.0 + m).powi(2) + (1.0 + m * n) * (m * m + 1.0 / (m * n))));
        assert!((plate(&layers).curvature_per_mm[0] + bend).abs() < 1e-12);
    }
}

/// A vessel with this base in it.
fn based(kind: BaseKind, set: BaseSet, plies: &[f64]) -> Design {
    static BOWL: std::sync::OnceLock<Design> = std::sync::OnceLock::new();
    let bowl = BOWL.get_or_init(|| start::begin(&Design::default(), "bowl", 254.0, 101.6));
    let mut design = bowl.clone();
    let vessel = design.vessel.as_mut().unwrap();
    let ring_mm = vessel.rings[0].height_mm;
    // So that turning the floor takes nothing of the plies.
    vessel.floor_mm = ring_mm;
    let mut choice = BaseChoice::of("Maple, sugar", ring_mm);
    choice.kind = kind;
    choice.set = set;
    choice.plies = plies
        .iter()
        .map(|share| Ply {
            thickness_mm: share * ring_mm,
            wood: "Maple, sugar".to_owned(),
        })
        .collect();
    design.base = Some(choice);
    design
}

const THIRDS: [f64; 3] = [1.0 / 3.0; 3];

/// A solid disc let into a ring is a problem, a laminated one is not (common practice,
/// no published source): the numbers show it for every wood with figures, sawn either
/// way, over usual and harsh seasons.
#[test]
fn a_solid_disc_is_a_problem_and_a_laminated_one_is_not() {
    let (mut count, mut safe) = (0, 0);
    for wood in wood::all().filter(ringwright::trade::wood::Wood::moves) {
        for set in [BaseSet::LetIn, BaseSet::OnLedge, BaseSet::Under] {
            let mut solid = based(BaseKind::Solid, set, &THIRDS);
            let mut plies = based(BaseKind::Plies, set, &THIRDS);
            for design in [&mut solid, &mut plies] {
                let choice = design.base.as_mut().unwrap();
                choice.wood = wood.name.to_owned();
                // One board glued under is of its ring's wood.
                if let Some(vessel) = design.vessel.as_mut() {
                    vessel.woods[0] = wood.name.to_owned();
                }
                // A ledge needs wood below the base.
                let share = if set == BaseSet::OnLedge { 0.6 } else { 1.0 };
                choice.thickness_mm *= share;
                for ply in &mut choice.plies {
                    ply.thickness_mm *= share;
                    ply.wood = wood.name.to_owned();
                }
            }
            let (solid, plies) = (base_of(&solid), base_of(&plies));
            assert_eq!(solid.is_safe(), Some(false), "{}", wood.name);
            // Three equal plies of the woods that move most are near what miters bear; the bound
            // is our own, half as much again as what is called safe.
            let share = plies.moved.chosen.unwrap().most_mm() / plies.disc_mm;
            assert!(share < 0.003, "{} {share}", wood.name);
            assert_eq!(plies.is_safe(), Some(share <= 0.002), "{}", wood.name);
            safe += usize::from(share <= 0.002);
            let is_warned = solid.cautions.iter().any(|it| {
                matches!(
                    it,
                    Caution::BaseBreaksRing { .. } | Caution::BaseTears { .. }
                )
            });
            assert!(is_warned);
            assert_eq!(
                plies.cautions.is_empty(),
                share <= 0.002,
                "{:?}",
                plies.cautions
            );
            let most = |it: &base::BasePlan| it.moved.chosen.unwrap().most_mm();
            assert!(most(&plies) < most(&solid) / 3.0, "{}", wood.name);
            // Each shows the other beside it.
            let is_same = |one: f64, other: f64| (one - other).abs() < 1e-12;
            assert!(is_same(
                solid.moved.laminated.unwrap().most_mm(),
                most(&plies)
            ));
            assert!(is_same(plies.moved.solid.unwrap().most_mm(), most(&solid)));
            count += 1;
        }
    }
    println!("{safe} of {count} laminated bases may be glued all round");
    assert!(count > 200 && 10 * safe > 9 * count, "{safe} of {count}");
}

/// The damp season in figures that a hand can follow: sugar maple, flatsawn, 200 mm,
/// from 8.49 to 12.87 % (equation 4-5), tangential coefficient 0.00353.
#[test]
fn a_disc_moves_as_a_hand_computes_it() {
    let mut design = based(BaseKind::Solid, BaseSet::Under, &THIRDS);
    design.base.as_mut().unwrap().diameter_mm = Some(200.0);
    let plan = base_of(&design);
    let moistures = ringwright::plan::season::Moistures::of(&design);
    let change = moistures.season_pct[1] - moistures.shop_pct;
    assert!((3.9..4.9).contains(&change), "{change}");
    let along = change / (3000.0 / 0.15 - 30.0 + moistures.shop_pct);
    let [damp_along, damp_across] = plan.moved.chosen.unwrap().against_ring_mm[1];
    assert!(damp_along.abs() < 1e-9, "both run along the grain");
    let expected = 200.0 * (0.00353 * change - along);
    assert!(
        (damp_across - expected).abs() < 1e-9,
        "{damp_across} {expected}"
    );
}

/// The hole in the lowest ring is the disc's, or its ledge's, and the ring still makes
/// a segment.
#[test]
fn the_lowest_ring_gets_its_hole() {
    let sets = [BaseSet::LetIn, BaseSet::OnLedge];
    for (kind, set) in sets
        .into_iter()
        .flat_map(|set| [(BaseKind::Plies, set), (BaseKind::Wedges, set)])
    {
        let design = based(kind, set, &THIRDS);
        let stack = stack_of(&design);
        let vessel = &stack.vessel;
        assert_eq!(vessel.rings[0].made_of, MadeOf::Segments);
        let base = base_of(&design);
        let ledge = if set == BaseSet::OnLedge { 6.0 } else { 0.0 };
        let hole = stack.rings[0].wanted.inside_radius_mm;
        assert!(
            (hole - (base.disc_mm / 2.0 - ledge)).abs() < 1e-9,
            "{hole} {}",
            base.disc_mm
        );
        assert!(stack.rings[0].segment.is_some());
        assert!(base.troubles.is_empty(), "{:?}", base.troubles);
        assert!(base.mortise_mm.unwrap() > base.disc_mm);
        // The wedges are in the base, and not in the ring's own segments.
        let plan = plan(&design);
        let to_axis = |it: &ringwright::plan::caution::Placed| it.caution == Caution::WedgesInFloor;
        assert!(!plan.placed_cautions().iter().any(to_axis));
    }
    let under = based(BaseKind::Plies, BaseSet::Under, &THIRDS);
    assert_eq!(
        under.vessel.as_ref().unwrap().rings[0].made_of,
        MadeOf::Disc
    );
    assert_eq!(base_of(&under).mortise_mm, None);
}

/// Plies in the lowest ring's place move as their own woods do, and not as the ring's.
#[test]
fn the_height_moves_with_the_plies_that_stand_in_it() {
    let mut design = based(BaseKind::Plies, BaseSet::Under, &[0.25, 0.75]);
    let woods = ["Redcedar, eastern", "Beech, American"];
    let base = design.base.as_mut().unwrap();
    for (ply, wood) in base.plies.iter_mut().zip(woods) {
        wood.clone_into(&mut ply.wood);
    }
    let height = |design: &Design| plan(design).seasons().height_mm.unwrap();
    let rings_mm = design.vessel.as_ref().unwrap().rings[0].height_mm;
    let moistures = plan(&design).seasons().moistures;
    let share = |name: &str| moistures.across_height(&wood::find(name).unwrap()).unwrap();
    let (light, heavy) = (share(woods[0]), share(woods[1]));
    // What one wood alone would do, and the mix of a quarter and three quarters.
    let one = |name: &str| {
        let mut design = design.clone();
        for ply in &mut design.base.as_mut().unwrap().plies {
            name.clone_into(&mut ply.wood);
        }
        height(&design)
    };
    for at in [0, 1] {
        let swing = rings_mm * (heavy[at] - light[at]);
        assert!(swing.abs() > 0.01, "the woods differ");
        assert!((one(woods[1])[at] - one(woods[0])[at] - swing).abs() < 1e-9);
        assert!((height(&design)[at] - one(woods[0])[at] - 0.75 * swing).abs() < 1e-9);
    }
}

/// In every season the play takes what the disc grows against its hole, and no more.
#[test]
fn the_play_is_what_the_disc_needs() {
    let plan = base_of(&based(BaseKind::Solid, BaseSet::LetIn, &THIRDS));
    let motion = plan.moved.chosen.unwrap();
    let play = plan.play_mm().unwrap();
    let all = motion.against_hole_mm.iter().flatten();
    assert!(all.clone().all(|each| *each <= play) && all.clone().any(|each| *each >= play));
    // The ring's own wall swells into the hole, so it needs more than the bare disc.
    // A thin ring's grows by half its wall's swelling at either side of the hole.
    let moistures = ringwright::plan::season::Moistures::of(&Design::default());
    let maple = wood::find("Maple, sugar").unwrap();
    let across = moistures.across_width(&maple).unwrap()[1];
    let swells_mm = (plan.around.outside_mm - plan.disc_mm / 2.0) * across;
    let into_mm = play - motion.against_ring_mm[1][1];
    assert!(
        (0.5..1.1).contains(&(into_mm / swells_mm)),
        "{into_mm} {swells_mm}"
    );
    let mortise = plan.mortise_mm.unwrap();
    assert!((mortise - plan.disc_mm - play - plan.choice.fit_mm).abs() < 1e-9);
}

#[test]
fn plies_that_are_not_balanced_cup() {
    for (plies, is_flat) in [
        (&[0.5, 0.5][..], false),
        (&[0.25; 4], false),
        (&THIRDS, true),
        (&[0.2; 5], true),
        (&[0.5, 0.3, 0.2], false),
        (&[1.0], true),
    ] {
        let plan = base_of(&based(BaseKind::Plies, BaseSet::LetIn, plies));
        let cups = plan.cautions.iter().find_map(|caution| match caution {
            Caution::BaseCups { cup_mm, .. } => Some(*cup_mm),
            _ => None,
        });
        assert_eq!(cups.is_none(), is_flat, "{plies:?} {cups:?}");
        let cup = plan.moved.laminated.unwrap().cup_mm;
        assert_eq!(cup[1] < 1e-9, is_flat, "{plies:?}");
    }
}

#[test]
fn blanks_hold_every_ply_with_its_cuts() {
    let design = based(BaseKind::Plies, BaseSet::LetIn, &[0.2, 0.3, 0.2, 0.3, 0.2]);
    let plan = base_of(&design);
    assert_eq!(plan.blanks.len(), 2);
    for blank in &plan.blanks {
        let face = 2.0 * design.allowance.face_mm;
        assert!((blank.sawn_mm - blank.dressed_mm - face).abs() < 1e-9);
        let cuts = f64::from(blank.count - 1);
        let block = f64::from(blank.count) * blank.sawn_mm + cuts * design.shop.kerf_mm;
        assert!((blank.stock_mm - block).abs() < 1e-9);
        assert!(blank.side_mm > plan.disc_mm);
    }
    // Glued up, all of them are higher than the base by what its two faces lose.
    let glued = plan.blanks.iter();
    let glued: f64 = glued.map(|it| f64::from(it.count) * it.dressed_mm).sum();
    let flattened = glued - 2.0 * design.allowance.face_mm;
    assert!((flattened - plan.thickness_mm).abs() < 1e-9);
    assert_eq!(plan.blanks.iter().map(|blank| blank.count).sum::<u32>(), 5);
}

#[test]
fn bad_input_is_told_and_the_rest_stands() {
    // A disc larger than its ring.
    let mut design = based(BaseKind::Solid, BaseSet::LetIn, &THIRDS);
    design.base.as_mut().unwrap().diameter_mm = Some(500.0);
    let plan = base_of(&design);
    assert!(matches!(
        plan.troubles[0].reason,
        Reason::BaseFillsRing { .. }
    ));
    assert!(plan.moved.chosen.is_some() && !plan.blanks.is_empty());
    let stack = stack_of(&design);
    assert!(stack.rings[0].segment.is_some());
    // A ring that is glued already and has no hole.
    let mut design = based(BaseKind::Solid, BaseSet::LetIn, &THIRDS);
    let lowest = &mut design.vessel.as_mut().unwrap().rings[0];
    lowest.made_of = MadeOf::Disc;
    lowest.measured = Some(ringwright::design::Measured::nothing());
    assert!(
        base_of(&design)
            .troubles
            .iter()
            .any(|it| it.reason == Reason::NoRingForBase)
    );
    // A wood without figures.
    let mut design = based(BaseKind::Solid, BaseSet::LetIn, &THIRDS);
    design.base.as_mut().unwrap().wood = "Bloodwood".to_owned();
    let plan = base_of(&design);
    assert!(plan.moved.chosen.is_none() && plan.mortise_mm.is_some());
    assert!(
        plan.cautions
            .iter()
            .any(|it| matches!(it, Caution::NoFigures { .. }))
    );
    // None at all, and a ring alone.
    let design = based(BaseKind::Open, BaseSet::LetIn, &THIRDS);
    assert!(ringwright::plan::plan(&design).base().is_none());
    let ring = Design::default();
    assert!(ringwright::plan::plan(&ring).base().is_none());
}

/// Thousands of designs of every kind: nothing panics, every number is a number.
#[test]
fn random_bases_stand() {
    let mut dice = Dice(5);
    let woods: Vec<_> = wood::all().map(|wood| wood.name).collect();
    for _ in 0..2000 {
        let kind = BaseKind::ALL[dice.between(0.0, 3.99) as usize];
        let set = BaseSet::ALL[dice.between(0.0, 2.99) as usize];
        let plies: Vec<f64> = (0..dice.between(1.0, 12.0) as usize)
            .map(|_| dice.between(0.01, 2.0))
            .collect();
        let mut design = if dice.between(0.0, 1.0) < 0.2 {
            Design::default()
        } else {
            based(kind, set, &plies)
        };
        design.climate = Some(Climate {
            shop_temperature_c: dice.between(-40.0, 80.0),
            shop_humidity_pct: dice.between(-1.0, 101.0).clamp(0.0, 100.0),
            dry_humidity_pct: dice.between(-1.0, 101.0).clamp(0.0, 100.0),
            damp_humidity_pct: dice.between(-1.0, 101.0).clamp(0.0, 100.0),
            sawn: Sawn::ALL[dice.between(0.0, 2.99) as usize],
            ..Climate::usual()
        });
        if let Some(choice) = &mut design.base {
            choice.wood = woods[dice.between(0.0, woods.len() as f64) as usize].to_owned();
            choice.diameter_mm = (dice.between(0.0, 1.0) < 0.5).then(|| dice.between(0.01, 300.0));
            choice.ledge_mm = dice.between(0.0, 60.0);
            choice.wedge_count = dice.between(3.0, 360.0) as u32;
        }
        let ring_plan = plan(&design);
        if let Some(plan) = ring_plan.base() {
            let motions = [plan.moved.chosen, plan.moved.solid, plan.moved.laminated];
            for motion in motions.iter().flatten() {
                let all = motion.against_hole_mm.iter().chain(&motion.against_ring_mm);
                assert!(all.flatten().chain(&motion.cup_mm).all(|it| it.is_finite()));
                assert!(motion.play_mm() >= 0.0);
            }
            assert!(plan.mortise_mm.is_none_or(f64::is_finite) && plan.disc_mm.is_finite());
        }
        let seasons = ring_plan.seasons();
        let openings = seasons.rings.iter().filter_map(|ring| ring.opening_mm);
        assert!(openings.flatten().all(f64::is_finite));
    }
}

/// What is said of the lowest ring is the same on the cut list, for the boards and at the
/// bench: with plies glued under, no disc is sawn; with one board, one is.
#[test]
fn plies_glued_under_take_the_place_of_the_disc_everywhere() {
    for (kind, is_sawn) in [("one_board", true), ("plies", false)] {
        let begun = start::begin(&Design::default(), "bowl", 254.0, 101.6);
        let design = edit::base::type_in(&begun, "base.kind", kind).unwrap();
        let design = edit::base::type_in(&design, "base.set", "under").unwrap();
        let vessel = design.vessel.as_ref().unwrap();
        assert_eq!(vessel.rings[0].made_of, MadeOf::Disc);
        let stack = stack_of(&design);
        let cuts = stack.bill.clone();
        assert_eq!(cuts.iter().any(|cut| cut.rings().contains(&0)), is_sawn);
        let needs = ringwright::plan::board::needs(&design, ringwright::plan::plan(&design).bill());
        let is_needed = |part: Part| {
            let mut parts = needs.iter().flat_map(|need| &need.parts);
            parts.any(|(each, _)| *each == part)
        };
        assert_eq!(is_needed(Part::Ring(0)), is_sawn);
        assert_ne!(is_needed(Part::Base), is_sawn);
        assert!(is_needed(Part::Ring(1)));
        let chosen = ["ring-1".to_owned()];
        let sheets = packet::sheets(
            &ringwright::plan::plan(&design),
            "",
            "2026-01-01",
            Choice::These(&chosen),
        );
        // A ring that is not sawn has no sheet that says so.
        assert_eq!(sheets.iter().any(|it| !it.pages.is_empty()), is_sawn);
        let pages = sheets.iter().flat_map(|it| &it.pages);
        let told: String = pages
            .flat_map(|page| &page.marks)
            .filter_map(|mark| match mark {
                Mark::Words(words) => Some(words.lettering.spoken()),
                Mark::Path(_) => None,
            })
            .collect();
        assert_eq!(told.contains("A solid disc"), is_sawn, "{told}");
        let bench =
            ringwright::show::figures::bench::bench(&ringwright::plan::plan(&design), &[]).unwrap();
        assert_eq!(bench.steps.iter().any(|step| step.id == "cut-1"), is_sawn);
        assert_ne!(
            bench.steps.iter().any(|step| step.id == "base-saw"),
            is_sawn
        );
    }
}

/// Open below there is no floor: the lowest ring is glued with the hole that its wall
/// leaves, the wall goes down to the foot, and nothing is said to be held.
#[test]
fn a_vessel_that_is_open_below_has_no_floor() {
    let begun = start::begin(&Design::default(), "cylinder", 200.0, 150.0);
    let design = edit::base::type_in(&begun, "base.kind", "open").unwrap();
    let stack = stack_of(&design);
    let vessel = &stack.vessel;
    assert_eq!(vessel.rings[0].made_of, MadeOf::Segments);
    assert!(stack.troubles.is_empty(), "{:?}", stack.troubles);
    let lowest = &stack.rings[0];
    // The wall by hand: at the foot the wall is square to an outside that is upright.
    let wall = stack.wall.as_ref().unwrap();
    assert!(wall.floor_mm.abs() < 1e-12);
    let above = stack.rings[1].span.inside_radius_mm;
    assert!((lowest.span.inside_radius_mm - above).abs() < 15.0);
    assert!(lowest.segment.unwrap().inside_apothem_mm > 0.5 * above);
    let told = ringwright::plan::inspect::inspect(&stack);
    assert!(
        !told.iter().any(|it| it.caution == Caution::WedgesInFloor),
        "{told:?}"
    );
    assert!(stack.totals().held_mm3.abs() < 1e-12);
    // What the floor was is gone: by the closed form of what lies within the wall there.
    let closed = stack_of(&begun);
    let lost = |at: &ringwright::plan::stack::StackPlan| -> f64 {
        (0..at.rings.len())
            .map(|place| at.finished_mm3(place))
            .sum()
    };
    let floor_mm = vessel.floor_mm;
    let steps = 2000;
    let within: f64 = (0..steps)
        .map(|step| floor_mm * (f64::from(step) + 0.5) / f64::from(steps))
        .map(|z| std::f64::consts::PI * wall.inside_radius_at(z).powi(2))
        .sum::<f64>()
        * floor_mm
        / f64::from(steps);
    let gone = lost(&closed) - lost(&stack);
    assert!((gone / within - 1.0).abs() < 0.01, "{gone} {within}");
    // Divided anew, no ring is made a disc for a floor that is not there.
    let again = start::divide(&design);
    let rings = &again.vessel.as_ref().unwrap().rings;
    assert!(rings.iter().all(|ring| ring.made_of == MadeOf::Segments));
    // The turned body has no face across the axis at the foot.
    let look = ringwright::show::mesh::Look {
        finished: true,
        cut_open: false,
    };
    let mesh = ringwright::show::mesh::mesh(&stack, look);
    let nearest = mesh
        .positions
        .chunks_exact(3)
        .map(|corner| corner[0].hypot(corner[1]))
        .fold(f32::MAX, f32::min);
    assert!(f64::from(nearest) > 0.5 * above, "{nearest}");
}

/// How many areas of this name a drawing has.
fn drawn(drawing: &ringwright::draw::Drawing, name: &str) -> usize {
    let is_it = |mark: &&ringwright::draw::Mark| matches!(mark, ringwright::draw::Mark::Path(path) if path.name.as_deref() == Some(name));
    drawing.marks.iter().filter(is_it).count()
}

/// Vessel speaks of plies where plies take the disc's place, and counts them.
#[test]
fn vessel_says_plies_where_plies_take_the_place_of_the_disc() {
    let begun = start::begin(&Design::default(), "bowl", 254.0, 101.6);
    let design = edit::base::type_in(&begun, "base.kind", "plies").unwrap();
    let design = edit::base::type_in(&design, "base.set", "under").unwrap();
    let design = edit::base::type_in(&design, "base.plies.0.wood", "Walnut, black").unwrap();
    let stack = stack_of(&design);
    let view = ringwright::show::pictures::view::View::fit(&stack, 120.0, 90.0);
    let screen = ringwright::show::figures::vessel::vessel(
        &ringwright::plan::plan(&design),
        &view,
        Picked {
            thing: Thing::Ring(0),
            ..Picked::default()
        },
        false,
    )
    .unwrap();
    let row = screen.rows.rows.iter().find(|row| row.id == "0").unwrap();
    assert!(row.cells.iter().any(|it| it.text == "Crossed plies"));
    assert!(row.cells.iter().all(|it| it.text != "A solid disc"));
    let list = ringwright::show::figures::panel::panel(
        &ringwright::plan::plan(&design),
        Thing::Ring(0),
        0,
    )
    .unwrap()
    .list;
    assert!(list.iter().all(|it| it.key != "row.disc"));
    assert!(list.iter().any(|it| it.label.ends_with("of Walnut, black")));
    // By hand: the ply's wood weighs and is taken, though no ring is of it.
    let walnut = stack
        .totals()
        .woods
        .iter()
        .find(|it| it.name == "Walnut, black");
    assert_eq!(walnut.unwrap().piece_count, 1);
    let base = base_of(&design);
    let of_maple: u32 = base.blanks.iter().map(|it| it.count).sum::<u32>() - 1;
    assert!(of_maple >= 2);
    let section = ringwright::show::pictures::vessel::section(
        &stack,
        (120.0, 90.0),
        &view,
        Picked::default(),
        None,
        &ringwright::draw::pen::Pen::paper(design.unit),
    );
    let plies = design.base.as_ref().unwrap().plies.len();
    assert_eq!(drawn(&section, "base kept"), plies);
}

/// What a disc let in adds to the blank, by polygons and circles placed: the ring within
/// its corners, less the mortise, and the disc.
#[test]
fn a_base_let_in_is_weighed_and_drawn() {
    for set in [BaseSet::LetIn, BaseSet::OnLedge] {
        let mut design = based(BaseKind::Plies, set, &THIRDS);
        let choice = design.base.as_mut().unwrap();
        for ply in &mut choice.plies {
            ply.thickness_mm *= 0.6;
        }
        let vessel = design.vessel.clone().unwrap();
        let stack = stack_of(&design);
        let mut without = design.clone();
        without.base.as_mut().unwrap().kind = BaseKind::Wedges;
        let base = base_of(&design);
        let density = wood::find("Maple, sugar").unwrap().density_kg_m3().unwrap();
        let circle = |across: f64| std::f64::consts::PI * across * across / 4.0;
        let lowest = &stack.rings[0];
        let height = lowest.wanted.height_mm;
        // The outside polygon of N triangles, less what is turned out of it.
        let segment = lowest.segment.unwrap();
        let count = f64::from(lowest.wanted.segment_count);
        let outside = count * segment.outside.apothem_mm * segment.outside.long_edge_mm / 2.0;
        let mortise = circle(base.mortise_mm.unwrap());
        let out = match base.through_mm {
            Some(through) => {
                mortise * base.thickness_mm + circle(through) * (height - base.thickness_mm)
            }
            None => mortise * height,
        };
        let disc = circle(base.disc_mm) * base.thickness_mm;
        let others: f64 = stack.rings[1..].iter().map(|ring| ring.blank_mm3).sum();
        let face = 2.0 * design.allowance.face_mm;
        let hole = count * segment.inside_apothem_mm * segment.short_edge_mm / 2.0;
        let lowest_mm3 = outside * height - out + face * (outside - hole);
        let wood_of_rings = wood::find(&vessel.woods[0])
            .unwrap()
            .density_kg_m3()
            .unwrap();
        let expected = ((lowest_mm3 + others) * wood_of_rings + disc * density) * 1e-9;
        let got = stack.totals().blank_kg.unwrap();
        assert!((got - expected).abs() < 1e-9, "{set:?} {got} {expected}");
        let view = ringwright::show::pictures::view::View::fit(&stack, 120.0, 90.0);
        let section = ringwright::show::pictures::vessel::section(
            &stack,
            (120.0, 90.0),
            &view,
            Picked::default(),
            None,
            &ringwright::draw::pen::Pen::paper(design.unit),
        );
        assert!(drawn(&section, "base kept") > 0);
        // Below one on a ledge, above one that is thinner than its ring and the floor.
        assert!(drawn(&section, "base hole") > 0, "{set:?}");
    }
}

/// What moves is what the floor leaves of the plies, and a new base is laid so that this
/// is balanced: beside a base of just the plies that stay.
#[test]
fn plies_are_judged_as_the_floor_leaves_them() {
    let moved = |shares: &[f64], floor_share: f64| {
        let mut design = based(BaseKind::Plies, BaseSet::LetIn, shares);
        let vessel = design.vessel.as_mut().unwrap();
        vessel.floor_mm = floor_share * vessel.rings[0].height_mm;
        let base = base_of(&design);
        (base.moved.laminated.unwrap(), base.is_safe().unwrap())
    };
    // Half of the top ply is turned away, or all of it.
    assert_eq!(
        moved(&[0.25, 0.5, 0.25], 0.875).0,
        moved(&[0.25, 0.5, 0.125], 1.0).0
    );
    assert_eq!(
        moved(&[0.25, 0.5, 0.25], 0.75).0,
        moved(&[0.25, 0.5], 1.0).0
    );
    assert!(
        !moved(&[0.3, 0.3, 0.4], 0.35).1,
        "hardly more than one ply is left"
    );
    // A base that nobody laid yet.
    let mut design = based(BaseKind::Plies, BaseSet::Under, &THIRDS);
    design.base = None;
    let vessel = design.vessel.as_mut().unwrap();
    let ring_mm = vessel.rings[0].height_mm;
    vessel.floor_mm = 0.7 * ring_mm;
    let mut fresh = floor::choice(&design);
    assert_eq!(fresh.plies.len(), 3);
    let whole: f64 = fresh.plies.iter().map(|ply| ply.thickness_mm).sum();
    assert!((whole - ring_mm).abs() < 1e-9);
    fresh.kind = BaseKind::Plies;
    let outer = fresh.plies[0].thickness_mm;
    let top_left = fresh.plies[2].thickness_mm - 0.3 * ring_mm;
    assert!((outer - top_left).abs() < 1e-9, "{:?}", fresh.plies);
    design.base = Some(fresh);
    assert_eq!(base_of(&design).is_safe(), Some(true));
}

/// What a turned piece weighs, slice by slice: wall and floor, less the bores below the
/// floor, and the base in them.
#[test]
fn a_turned_piece_weighs_what_is_left_of_wall_bores_and_base() {
    const SLICES: usize = 20_000;
    let mut tried = 0;
    for set in [BaseSet::LetIn, BaseSet::OnLedge] {
        for in_ring in [1, 2] {
            for (floor_share, base_share) in [(0.4, 0.6), (1.0, 0.5), (1.6, 0.7), (1.3, 1.0)] {
                let mut design = based(BaseKind::Plies, set, &THIRDS);
                let vessel = design.vessel.as_mut().unwrap();
                let ring_mm = vessel.rings[0].height_mm;
                vessel.floor_mm = floor_share * ring_mm;
                vessel.woods = vec!["Maple, sugar".to_owned()];
                for ring in &mut vessel.rings {
                    ring.pattern = vec![0];
                }
                let choice = design.base.as_mut().unwrap();
                choice.in_ring = in_ring;
                for ply in &mut choice.plies {
                    ply.thickness_mm *= base_share;
                }
                let stack = stack_of(&design);
                let base = base_of(&design);
                let (wall, own) = (stack.wall.as_ref().unwrap(), in_ring as usize - 1);
                let area = |radius: f64| std::f64::consts::PI * radius * radius;
                let seat = stack.rings[own].span.bottom_mm
                    + if set == BaseSet::OnLedge {
                        stack.rings[own].span.top_mm
                            - stack.rings[own].span.bottom_mm
                            - base.thickness_mm
                    } else {
                        0.0
                    };
                // Above the floor no base can be.
                assert_eq!(
                    base.troubles.is_empty(),
                    seat < wall.floor_mm,
                    "{:?}",
                    base.troubles
                );
                if seat >= wall.floor_mm {
                    continue;
                }
                let rim = wall.outside.height_mm();
                let step = rim / SLICES as f64;
                let volume: f64 = (0..SLICES)
                    .map(|slice| {
                        let z = (slice as f64 + 0.5) * step;
                        let hollow = if z < wall.floor_mm {
                            0.0
                        } else {
                            wall.inside_radius_at(z)
                        };
                        let place = stack.rings.iter().position(|it| z < it.span.top_mm);
                        let is_base = z > seat && z < seat + base.thickness_mm;
                        let bored = match place {
                            Some(place) if place < own => {
                                stack.rings[place].wanted.inside_radius_mm
                            }
                            Some(place) if place == own && is_base => base.disc_mm / 2.0,
                            Some(place) if place == own && z < seat => {
                                base.through_mm.unwrap() / 2.0
                            }
                            Some(place) if place == own => base.mortise_mm.unwrap() / 2.0,
                            _ => 0.0,
                        };
                        let outside = area(wall.outside.radius_at(z));
                        let ring = (outside - area(hollow.max(bored))).max(0.0);
                        let disc = (area(base.disc_mm / 2.0) - area(hollow)).max(0.0);
                        (ring + if is_base { disc } else { 0.0 }) * step
                    })
                    .sum();
                let density = wood::find("Maple, sugar").unwrap().density_kg_m3().unwrap();
                let expected = volume * density * 1e-9;
                let got = stack.totals().finished_kg.unwrap();
                assert!(
                    (got / expected - 1.0).abs() < 5e-3,
                    "{set:?} in ring {in_ring}, floor {floor_share}, base {base_share}: {got} {expected}"
                );
                tried += 1;
            }
        }
    }
    assert!(tried >= 10, "{tried}");
}

/// The glued blank as a body: the lowest ring bored for its base, and the base in it, by
/// the volume that its faces enclose against polygons and circles; whole, and with the
/// front quarter cut out.
#[test]
fn a_base_let_in_stands_in_the_glued_blank() {
    for set in [BaseSet::LetIn, BaseSet::OnLedge] {
        for (count, share) in [(12, 0.6), (8, 1.0), (7, 0.5)] {
            let mut design = based(BaseKind::Plies, set, &THIRDS);
            for ply in &mut design.base.as_mut().unwrap().plies {
                ply.thickness_mm *= share;
            }
            let vessel = design.vessel.as_mut().unwrap();
            vessel.rings[0].segment_count = count;
            let stack = stack_of(&design);
            let base = base_of(&design);
            let lowest = &stack.rings[0];
            let segment = lowest.segment.unwrap();
            let height = lowest.span.top_mm - lowest.span.bottom_mm;
            let outside =
                f64::from(count) * segment.outside.apothem_mm * segment.outside.long_edge_mm / 2.0;
            let thickness = base.thickness_mm.min(height);
            let circle = |across: f64| std::f64::consts::PI * across * across / 4.0;
            let mortise = circle(base.mortise_mm.unwrap());
            let out = match base.through_mm {
                Some(through) => mortise * thickness + circle(through) * (height - thickness),
                None => mortise * height,
            };
            let expected = outside * height - out + circle(base.disc_mm) * thickness;
            for (cut_open, share) in [(false, 1.0), (true, 0.75)] {
                // Only rings that are the same every quarter turn lose a quarter.
                if cut_open && count % 4 != 0 {
                    continue;
                }
                let look = ringwright::show::mesh::Look {
                    finished: false,
                    cut_open,
                };
                let mesh = ringwright::show::mesh::mesh(&stack, look);
                let corner = |index: u32| -> [f64; 3] {
                    std::array::from_fn(|axis| f64::from(mesh.positions[index as usize * 3 + axis]))
                };
                let enclosed: f64 = mesh.triangles[mesh.rings[0].clone()]
                    .chunks_exact(3)
                    .map(|three| {
                        let [a, b, c] = [corner(three[0]), corner(three[1]), corner(three[2])];
                        let cross = [
                            b[1] * c[2] - b[2] * c[1],
                            b[2] * c[0] - b[0] * c[2],
                            b[0] * c[1] - b[1] * c[0],
                        ];
                        (a[0] * cross[0] + a[1] * cross[1] + a[2] * cross[2]) / 6.0
                    })
                    .sum();
                let off = enclosed / (expected * share) - 1.0;
                assert!(off.abs() < 1e-3, "{set:?} {count} {cut_open}: {off}");
            }
        }
    }
}

/// One board glued under is the lowest ring: its wood is one, wherever it is chosen.
#[test]
fn one_board_under_has_one_wood_everywhere() {
    let begun = start::begin(&Design::default(), "bowl", 254.0, 101.6);
    let design = edit::base::type_in(&begun, "base.kind", "one_board").unwrap();
    let design = edit::base::type_in(&design, "base.set", "under").unwrap();
    let woods = |design: &Design| -> [String; 4] {
        let vessel = design.vessel.as_ref().unwrap();
        let stack = stack_of(design);
        let cuts = stack.bill.clone();
        let cut = cuts.iter().find(|cut| cut.rings() == [0]).unwrap();
        let needs = ringwright::plan::board::needs(design, ringwright::plan::plan(design).bill());
        let is_disc = |need: &&ringwright::plan::board::Need| need.parts == [(Part::Ring(0), 1)];
        let ring = &vessel.rings[0];
        [
            cut.wood.clone().unwrap(),
            needs.iter().find(is_disc).unwrap().wood.clone(),
            vessel.woods[ring.wood_of(0)].clone(),
            ringwright::plan::floor::choice(design).wood,
        ]
    };
    assert!(woods(&design).iter().all(|wood| wood == "Maple, sugar"));
    let typed = edit::base::type_in(&design, "base.wood", "Wenge").unwrap();
    assert!(
        woods(&typed).iter().all(|wood| wood == "Wenge"),
        "{typed:?}"
    );
    let pieces_of_wenge = |design: &Design| {
        let stack = stack_of(design);
        let woods = stack
            .totals()
            .woods
            .iter()
            .filter(|each| each.name == "Wenge");
        woods.map(|each| each.piece_count).sum::<u32>()
    };
    assert_eq!(pieces_of_wenge(&typed), 1);
    let painted = ringwright::edit::vessel::paint(&typed, 0, 0, 0);
    assert!(woods(&painted).iter().all(|wood| wood == "Maple, sugar"));
    assert_eq!(pieces_of_wenge(&painted), 0, "nor is it bought");
}

/// A base let into a higher ring takes the floor along, in a vessel with a curve of its own and
/// in rings that are glued; it closes the foot there, and comes down again.
#[test]
fn the_floor_goes_along_with_a_base_that_is_let_in_higher() {
    let bowl = start::begin(&Design::default(), "bowl", 254.0, 101.6);
    let glued = edit::ring_list::add_rings(
        &Design::default(),
        "5 1/2 x 4 x 3/4, 6 x 4 1/2 x 3/4, 6 1/2 x 5 x 3/4, 7 x 5 1/2 x 3/4, 7 x 5 1/2 x 3/4",
        edit::ring_list::Listed::default(),
    )
    .expect("rings");
    for (what, design) in [("a bowl", bowl), ("glued rings", glued)] {
        let low = edit::base::let_into(&design, 0);
        let typed = edit::type_in(&low, "base.in_ring", "2").unwrap();
        for high in [edit::base::let_into(&low, 1), typed] {
            let plan = plan(&high);
            let base = plan.base().expect("a base");
            assert!(base.is_set_in(), "{what}: {:?}", base.troubles);
            let stack = plan.stack().unwrap();
            let was = plan_floor_mm(&low);
            let risen = stack.vessel.floor_mm - was;
            assert!(
                (risen - stack.rings[0].wanted.height_mm).abs() < 0.01,
                "{what}: {risen}"
            );
            let back = edit::base::let_into(&high, 0);
            assert!((plan_floor_mm(&back) - was).abs() < 0.01, "{what}");
        }
    }
}

/// Where the floor of a vessel lies.
fn plan_floor_mm(design: &Design) -> f64 {
    stack_of(design).vessel.floor_mm
}

/// A shape's base of plies goes along with the lowest ring as it was begun, however the ring
/// is changed; what the turner said of it stays, and so does what an older design says.
#[test]
fn plies_that_a_shape_began_with_go_along_with_the_lowest_ring() {
    let change = |design: &Design, asked: serde_json::Value| {
        ringwright::show::change::change(design, &asked).unwrap()
    };
    let begun = change(
        &Design::default(),
        serde_json::json!({ "kind": "begin", "shape": "bowl" }),
    );
    let fits = |design: &Design| {
        let base = base_of(design);
        let ring = &design.vessel.as_ref().unwrap().rings[0];
        let sum_mm: f64 = base.choice.plies.iter().map(|it| it.thickness_mm).sum();
        let is_of_wood = |wood: &str| base.choice.plies.iter().all(|ply| ply.wood == wood);
        let wood = &design.vessel.as_ref().unwrap().woods[ring.wood_of(0)];
        (sum_mm - ring.height_mm).abs() < 0.02 && is_of_wood(wood) && base.cautions.is_empty()
    };
    assert!(fits(&begun));
    for (key, typed) in [
        ("vessel.rings.0.height_mm", "5/8"),
        ("vessel.floor_mm", "1/4"),
        ("vessel.height_mm", "6"),
        ("vessel.diameter_mm", "14"),
    ] {
        let typed = edit::type_in(&begun, key, typed).unwrap();
        assert!(fits(&typed), "{key}");
        assert!(
            fits(&change(&typed, serde_json::json!({ "kind": "divide" }))),
            "{key}"
        );
        // The unit that lengths are told in is no change of the base.
        let mut metric = begun.clone();
        metric.unit = ringwright::units::length::Unit::Millimeter;
        let typed = edit::type_in(
            &metric,
            key,
            if key.starts_with("vessel.d") {
                "260"
            } else {
                "12"
            },
        );
        assert!(fits(&typed.unwrap()), "{key}");
    }
    let painted = serde_json::json!({ "kind": "paint", "ring": 0, "segment": 0, "wood": 1 });
    let painted = change(&begun, painted);
    assert_ne!(painted.base, begun.base);
    assert!(fits(&painted));
    // What was said of the plies stays.
    let own = edit::type_in(&begun, "base.plies.1.thickness_mm", "3/8").unwrap();
    let higher = edit::type_in(&own, "vessel.rings.0.height_mm", "5/8").unwrap();
    assert_eq!(higher.base, own.base);
    // A design that says nothing of its base goes on saying nothing.
    let older = Design {
        base: None,
        ..begun.clone()
    };
    let higher = edit::type_in(&older, "vessel.rings.0.height_mm", "5/8").unwrap();
    assert_eq!(higher.base, None);
    // Once it is glued, the lowest ring is what closes the foot.
    let glued = change(&begun, serde_json::json!({ "kind": "glued", "ring": 0 }));
    assert_eq!(glued.base, None);
}
