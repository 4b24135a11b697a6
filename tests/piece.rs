//! One piece, one truth: every place that tells what is to be made tells the same, and the
//! same as a recount that shares nothing with the bill; and what is said of the glued and
//! the finished piece is held beside other ways to find it.
#![cfg(not(target_arch = "wasm32"))]

mod shared;
use shared::Dice;

use geo::{Area, BooleanOps, LineString, MultiPolygon, Polygon};
use ringwright::design::{
    Between, BoardGoal, Design, MadeOf, Measured, Rack, SlotSet, StripeChoice, StripeLayer,
};
use ringwright::draw::{Drawing, Mark};
use ringwright::edit::start;
use ringwright::plan::bill::{Cut, Part, Piece};
use ringwright::plan::rings::Made;
use ringwright::plan::{Plan, board, plan};
use ringwright::show::figures;
use ringwright::show::pictures::vessel::Picked;
use ringwright::show::pictures::view::View;
use ringwright::show::sheets::job::Choice;
use ringwright::show::sheets::packet;
use std::collections::BTreeMap;
use std::f64::consts::TAU;

/// A vessel with all that can be in one: patterns, spacers, gaps, glued rings, bases of every
/// kind, slots, boards.
fn random_design(dice: &mut Dice) -> Design {
    let words = ["bowl", "closed", "vase", "platter", "cylinder", "ogee"];
    let word = words[dice.count(0, 5) as usize];
    let mut design = start::begin(
        &Design::starting(if dice.roll() < 0.5 { "en-US" } else { "de-DE" }),
        word,
        dice.between(100.0, 340.0),
        dice.between(40.0, 260.0),
    );
    let vessel = design.vessel.as_mut().unwrap();
    vessel.woods = ["Maple, sugar", "Walnut, black", "Padauk, African"]
        .map(str::to_owned)
        .to_vec();
    let count = vessel.rings.len() as u32;
    for ring in &mut vessel.rings {
        ring.pattern = (0..dice.count(1, 4)).map(|_| dice.count(0, 2)).collect();
        ring.is_matched = dice.roll() < 0.15;
        if ring.made_of == MadeOf::Segments {
            ring.between = match dice.count(0, 7) {
                0 => Between::Spacer,
                1 => Between::Gap,
                _ => Between::Nothing,
            };
            ring.spacer_mm = dice.between(0.5, 4.0);
            ring.turn_half_segments = dice.count(0, 1);
            if dice.one_in(5.0) {
                ring.shares = (0..dice.count(2, 4)).map(|_| dice.count(1, 4)).collect();
            } else if dice.one_in(8.0) {
                let woods = [dice.count(0, 2), dice.count(0, 2)];
                let mut stripes = StripeChoice::of(woods, dice.between(1.0, 8.0));
                stripes.slant_deg = dice.between(0.0, 90.0);
                ring.stripes = Some(stripes);
            }
        }
        if dice.roll() < 0.12 {
            ring.measured = Some(Measured::nothing());
        }
    }
    // Rings alike, so that they share strips.
    if word == "cylinder" && dice.roll() < 0.7 {
        vessel.rim_wall_mm = vessel.foot_wall_mm;
        let one = vessel.rings[1].clone();
        for ring in vessel.rings.iter_mut().skip(1) {
            let own = (ring.measured.take(), ring.turn_half_segments);
            *ring = one.clone();
            (ring.measured, ring.turn_half_segments) = own;
        }
    }
    if dice.roll() < 0.4 && count > 2 {
        let from = dice.count(2, count);
        let mut set = SlotSet::plain(from, count.min(from + dice.count(0, 2)));
        set.wood = dice.count(0, 2);
        set.slot_count = dice.count(1, 16);
        set.beside_count = 1 + set.slot_count % 3;
        set.tilt_deg = [0.0, 12.0, -20.0][set.slot_count as usize % 3];
        if dice.roll() < 0.4 {
            let layer = |_| StripeLayer {
                wood: dice.count(0, 2),
                thickness_mm: 0.4 + 1.5 * dice.roll(),
            };
            set.layers = (0..2 + set.slot_count % 4).map(layer).collect();
        }
        vessel.slot_sets.push(set);
    }
    if dice.roll() < 0.7 {
        let kinds = ["one_board", "plies", "wedges", "open"];
        let sets = ["let_in", "on_ledge", "under"];
        for (key, word) in [
            ("base.kind", kinds[dice.count(0, 3) as usize]),
            ("base.set", sets[dice.count(0, 2) as usize]),
            ("base.in_ring", ["1", "2"][dice.count(0, 1) as usize]),
        ] {
            design = ringwright::edit::type_in(&design, key, word).unwrap();
        }
    }
    if dice.roll() < 0.5 {
        design.rack = Some(Rack {
            goal: BoardGoal::Fewest,
            ..Rack::empty()
        });
    }
    design
}

/// Pieces by wood: segments, discs and plies, counted ring by ring from what the turner
/// decided, and the strips for the slots.
fn recounted(plan: &Plan) -> BTreeMap<String, (u32, u32)> {
    let stack = plan.stack().unwrap();
    let vessel = &stack.vessel;
    let mut counts: BTreeMap<String, (u32, u32)> = BTreeMap::new();
    let mut add = |wood: &str, pieces: u32, strips: u32| {
        let each = counts.entry(wood.to_owned()).or_default();
        *each = (each.0 + pieces, each.1 + strips);
    };
    for (ring, planned) in vessel.rings.iter().zip(&stack.rings) {
        if ring.measured.is_some() {
            continue;
        }
        if let Some(own) = &planned.stripes {
            // As many layers as lie one on the other, once for each board.
            let boards = own
                .board
                .iter()
                .flat_map(|it| it.layers.iter().map(move |layer| (it, *layer)));
            for (board, layer) in boards {
                add(&vessel.woods[own.woods[layer]], board.count, 0);
            }
            continue;
        }
        match planned.made {
            Made::Disc => add(&vessel.woods[ring.pattern[0] as usize], 1, 0),
            Made::Segments => {
                for segment in 0..ring.segment_count as usize {
                    let wood = ring.pattern[segment % ring.pattern.len()];
                    add(&vessel.woods[wood as usize], 1, 0);
                }
            }
            Made::Plies | Made::Nothing => {}
        }
    }
    if let (Some(base), Some(_)) = (&stack.base, &plan.design.base) {
        let lowest = &vessel.rings[0];
        let is_ring = base.choice.set.word() == "under"
            && lowest.made_of == MadeOf::Disc
            && (base.choice.kind.word() != "plies" || lowest.measured.is_some());
        match base.choice.kind.word() {
            _ if is_ring => {}
            "plies" => base
                .choice
                .plies
                .iter()
                .for_each(|ply| add(&ply.wood, 1, 0)),
            "one_board" => add(&base.choice.wood, 1, 0),
            "wedges" if base.choice.set.word() != "under" => {
                add(&base.choice.wood, base.choice.wedge_count, 0);
            }
            _ => {}
        }
    }
    for (set, own) in vessel.slot_sets.iter().zip(&stack.slot_sets) {
        // Without a height for the blade nothing is sawn.
        if own
            .as_ref()
            .is_some_and(|own| own.window.middle_mm().is_some())
        {
            let sticks = own.as_ref().and_then(|own| own.sticks);
            if let Some(sticks) = sticks {
                // Each stick is of one of each layer.
                for layer in &set.layers {
                    add(&vessel.woods[layer.wood as usize], sticks.count, 0);
                }
                continue;
            }
            add(
                &vessel.woods[set.wood as usize],
                0,
                set.slot_count * set.beside_count,
            );
        }
    }
    counts.retain(|_, counts| *counts != (0, 0));
    counts
}

/// Length of strips for so many equal segments, laid on strips one by one.
fn laid_on_strips(plan: &Plan, count: u32, pitch: f64, ends: f64) -> f64 {
    let strip = plan.design.shop.strip_length_mm;
    let (mut total, mut left, mut used) = (0.0, count, 0.0);
    if ends + pitch > strip {
        return ends + f64::from(count) * pitch;
    }
    while left > 0 {
        if used == 0.0 {
            used = ends;
        }
        if used + pitch <= strip + 1e-9 {
            used += pitch;
            left -= 1;
        } else {
            total += used;
            used = 0.0;
        }
    }
    total + used
}

/// The boards are asked for all of it but the spacers; strips may be sliced, so that fewer do.
fn boards_are_asked_for_all(design: &Design, bill: &[Cut], seed: u64) {
    let needs = board::needs(design, bill);
    let asked = needs.iter().filter(|need| !need.is_strip());
    let wanted = bill.iter().filter(|cut| {
        let is_strip = matches!(cut.piece, Piece::Layer { .. } | Piece::SlotStrip { .. });
        cut.wood.is_some() && !is_strip && !cut.is_veneer()
    });
    let wanted: u32 = wanted.map(|cut| cut.count).sum();
    assert_eq!(asked.map(board::Need::count).sum::<u32>(), wanted, "{seed}");
}

#[test]
fn every_place_tells_the_same_of_each_wood() {
    let (mut tried, mut shared, mut based, mut slotted) = (0, 0, 0, 0);
    let (mut glued, mut striped) = (0, 0);
    for seed in 0..1_000 {
        let mut dice = Dice(900_000 + seed);
        let design = random_design(&mut dice);
        let plan = plan(&design);
        let stack = plan.stack().unwrap();
        let (bill, unit) = (plan.bill(), design.unit);
        tried += 1;
        glued += stack.vessel.rings.iter().filter(|it| it.is_glued()).count();
        // The bill against the recount.
        let mut counts: BTreeMap<String, (u32, u32)> = BTreeMap::new();
        for cut in bill {
            let Some(wood) = &cut.wood else { continue };
            let each = counts.entry(wood.clone()).or_default();
            each.0 += cut.piece_count();
            if matches!(cut.piece, Piece::SlotStrip { .. }) {
                each.1 += cut.count;
            }
            assert_eq!(cut.parts.iter().map(|part| part.1).sum::<u32>(), cut.count);
            shared += usize::from(cut.rings().len() > 1);
            based += usize::from(cut.parts[0].0 == Part::Base);
            striped += usize::from(matches!(cut.piece, Piece::Layer { .. }));
            slotted += usize::from(matches!(cut.parts[0].0, Part::Slots(_)));
            if let Piece::Segment(segment, strips) = cut.piece {
                let kerf = design.shop.kerf_mm;
                let angle = segment.outside.half_angle_rad;
                let pitch = f64::midpoint(segment.outside.long_edge_mm, segment.short_edge_mm)
                    + kerf / angle.cos();
                let ends = segment.strip_width_mm * angle.tan() + design.shop.hold_back_mm;
                let laid = laid_on_strips(&plan, cut.count, pitch, ends);
                assert!((strips.total_length_mm - laid).abs() < 1e-6, "{seed}");
            }
        }
        assert_eq!(counts, recounted(&plan), "{seed}");
        // Vessel, cover and Wood, to the last shown digit.
        let view = View::fit(stack, 200.0, 150.0);
        let screen = figures::vessel::vessel(&plan, &view, Picked::default(), false).unwrap();
        let told: BTreeMap<String, String> = screen
            .totals
            .iter()
            .filter(|it| it.key.starts_with("total.wood.") && it.shown.text != "0")
            .map(|it| (it.label.clone(), it.shown.line()))
            .collect();
        let wood = figures::wood::wood(&plan);
        let needed: BTreeMap<String, String> = wood
            .swatches
            .iter()
            .filter_map(|swatch| {
                let needs = swatch.list.iter().find(|it| it.key == "wood.needs")?;
                let is_volume = !needs.shown.unit.is_empty();
                is_volume.then(|| (swatch.name.clone(), needs.shown.line()))
            })
            .collect();
        assert_eq!(told, needed, "{seed}");
        let volumes_mm3: Vec<f64> = counts
            .keys()
            .map(|name| {
                let those = bill.iter().filter(|cut| cut.wood.as_ref() == Some(name));
                those.map(ringwright::plan::bill::Cut::wood_mm3).sum()
            })
            .collect();
        let shown = ringwright::units::quantity::wood_volumes(&volumes_mm3, unit);
        let volumes: BTreeMap<String, String> = counts
            .keys()
            .zip(shown)
            .map(|(name, shown)| (name.clone(), shown.line()))
            .collect();
        assert_eq!(told, volumes, "{seed}");
        // Cuts at the saw.
        let cuts = screen.totals.iter().find(|it| it.key == "total.cuts");
        let saw: u32 = bill.iter().map(ringwright::plan::bill::Cut::saw_cuts).sum();
        assert_eq!(cuts.unwrap().shown.text, saw.to_string());
        // The cut list as CSV: a row each, with the same counts.
        let csv = packet::cut_list_csv(&plan);
        let mut rows = csv::Reader::from_reader(csv.as_bytes());
        let rows: Vec<csv::StringRecord> = rows.records().map(Result::unwrap).collect();
        assert_eq!(rows.len(), bill.len(), "{seed}");
        for (row, cut) in rows.iter().zip(bill) {
            assert_eq!(row[1].trim(), cut.wood.clone().unwrap_or_default());
            assert_eq!(row[4], cut.count.to_string());
        }
        // The bench rips all of it, cuts the veneer, and no more.
        let inlays = ringwright::plan::order::inlays(&stack.vessel);
        if let Some(order) = ringwright::plan::order::order(stack, &inlays) {
            let ripped: usize = order.rips.iter().map(Vec::len).sum();
            let cut = bill.iter().filter(|it| it.is_ripped() || it.is_veneer());
            assert_eq!(ripped, cut.count(), "{seed}");
        }
        boards_are_asked_for_all(&design, bill, seed);
    }
    println!(
        "{tried} designs: {shared} cuts shared by rings, {based} of bases, {slotted} of slots, {glued} glued rings"
    );
    assert!(shared > 50 && based > 100 && slotted > 50 && glued > 500 && striped > 100);
}

/// The cover says the same number of pieces as the bill.
#[test]
fn the_cover_counts_the_pieces_of_the_bill() {
    let design = start::begin(&Design::default(), "vase", 150.0, 240.0);
    let plan = plan(&design);
    let pieces: u32 = plan
        .bill()
        .iter()
        .map(ringwright::plan::bill::Cut::piece_count)
        .sum();
    let sheets = packet::sheets(&plan, "", "", Choice::Usual);
    let cover = sheets.iter().find(|sheet| sheet.key == "cover").unwrap();
    assert_eq!(beside(&cover.pages[0], "Pieces"), pieces.to_string());
}

/// What stands to the right of a word, on its line.
fn beside(page: &Drawing, word: &str) -> String {
    let all = page.marks.iter().filter_map(|mark| match mark {
        Mark::Words(words) => Some((words.at, words.lettering.spoken())),
        Mark::Path(_) => None,
    });
    let all: Vec<_> = all.collect();
    let mut same = all.iter().filter(|(_, spoken)| spoken == word);
    let (at, _) = same.next().expect("the word");
    assert!(same.next().is_none(), "{word} stands twice");
    let line = all
        .iter()
        .filter(|(base, _)| (base.y - at.y).abs() < 1e-9 && base.x > at.x);
    let nearest = line.min_by(|one, other| one.0.x.total_cmp(&other.0.x));
    nearest.expect("something beside it").1.clone()
}

/// A ring's wood seen from above, piece by piece, as polygons.
fn seen_from_above(plan: &Plan, place: usize) -> MultiPolygon<f64> {
    let stack = plan.stack().unwrap();
    let (ring, planned) = (&stack.vessel.rings[place], &stack.rings[place]);
    let closed = |points: Vec<(f64, f64)>| Polygon::new(LineString::from(points), Vec::new());
    let Some(segment) = planned.segment else {
        let edge = (0..720).map(|at| (f64::from(at) / 720.0 * TAU).sin_cos());
        let edge = edge.map(|(x, y)| (planned.reach_mm * x, planned.reach_mm * y));
        return MultiPolygon::new(vec![closed(edge.collect())]);
    };
    let step = TAU / f64::from(ring.segment_count);
    let pieces = (0..ring.segment_count).map(|at| {
        let (sine, cosine) =
            (step * (f64::from(at) + f64::from(ring.turn_half_segments) / 2.0)).sin_cos();
        let (short, long) = (
            segment.short_edge_mm / 2.0,
            segment.outside.long_edge_mm / 2.0,
        );
        let (inside, outside) = (segment.inside_apothem_mm, segment.outside.apothem_mm);
        let corners = [
            (inside, -short),
            (outside, -long),
            (outside, long),
            (inside, short),
        ];
        let turned = corners.map(|(u, v)| (u * sine + v * cosine, u * cosine - v * sine));
        closed(turned.to_vec())
    });
    MultiPolygon::new(pieces.collect())
}

/// Wood on wood, and nothing else, by `geo`'s polygons.
#[test]
fn glue_between_open_rings_counts_only_wood_on_wood() {
    let (mut tried, mut largest) = (0, 0.0_f64);
    for seed in 0..60 {
        let mut dice = Dice(7_000 + seed);
        let mut design = start::begin(
            &Design::default(),
            ["bowl", "vase", "cylinder"][dice.count(0, 2) as usize],
            dice.between(150.0, 300.0),
            dice.between(60.0, 160.0),
        );
        for ring in &mut design.vessel.as_mut().unwrap().rings {
            if ring.made_of == MadeOf::Segments {
                ring.between = Between::Gap;
                ring.spacer_mm = dice.between(1.0, 12.0);
                ring.turn_half_segments = dice.count(0, 3);
                ring.segment_count = dice.count(6, 24);
            }
        }
        let plan = plan(&design);
        let stack = plan.stack().unwrap();
        for place in 1..stack.rings.len() {
            if stack.rings[place].segment.is_none() {
                continue;
            }
            let (below, above) = (
                seen_from_above(&plan, place - 1),
                seen_from_above(&plan, place),
            );
            let brute = below.intersection(&above).unsigned_area();
            let told = stack.glue_between_mm2(place - 1, place);
            let off = (told - brute).abs() / brute.max(1.0);
            // A disc is taken for as many wedges as make its edge round.
            assert!(off < 2e-3, "{seed} {place}: {told} {brute}");
            largest = largest.max(off);
            tried += 1;
        }
    }
    println!("{tried} joints, largest difference {largest:.2e}");
    assert!(tried > 100);
}

/// The wall of a cone leaning by 45° is 8 mm thick square to its surface: level it is
/// 8 √2 mm wide, whatever its blank rings are, and that is what a joint opens by.
#[test]
fn joints_open_by_the_finished_wall() {
    let mut design = start::begin(&Design::starting("de-DE"), "bowl", 300.0, 100.0);
    let vessel = design.vessel.as_mut().unwrap();
    let point = |height_mm: f64, radius_mm: f64| ringwright::design::PointChoice {
        height_mm,
        radius_mm,
        is_corner: false,
    };
    vessel.points = vec![point(0.0, 50.0), point(50.0, 100.0), point(100.0, 150.0)];
    (vessel.foot_wall_mm, vessel.rim_wall_mm) = (8.0, 8.0);
    for ring in &mut vessel.rings {
        ring.height_mm = 20.0;
    }
    vessel.rings.truncate(5);
    let plan = plan(&design);
    let stack = plan.stack().unwrap();
    let seasons = plan.seasons();
    let ring = &seasons.rings[3];
    let along = seasons
        .moistures
        .along(
            &ringwright::trade::wood::PLAIN,
            ringwright::trade::wood::Grain::Along,
        )
        .expect("wood moves along its grain");
    let half = ringwright::trade::ring::half_angle_rad(stack.vessel.rings[3].segment_count);
    let width = 8.0 * 2.0_f64.sqrt();
    let told = ring.opening_mm.unwrap();
    for ((told, across), along) in told.iter().zip(&ring.across).zip(&along) {
        // Miters keep their ends on the wood, tan φ′ = tan φ·(1 + along)/(1 + across): the
        // two faces of a joint, w·(1 + across)/cos φ′ long, are off by φ − φ′ each.
        let moved = (half.tan() * (1.0 + along) / (1.0 + across)).atan();
        let brute = 2.0 * width * (1.0 + across) / moved.cos() * (half - moved).sin();
        assert!(told.abs() > 0.01, "{told}");
        assert!((told / brute - 1.0).abs() < 0.02, "{told} {brute}");
    }
    // The blank ring is far wider.
    let blank = &stack.rings[3].wanted;
    assert!(blank.outside_radius_mm - blank.inside_radius_mm > 2.0 * width);
}

/// A base weighs as its own wood, glued and finished, and strips in slots weigh too.
#[test]
fn bases_and_strips_weigh_as_their_own_wood() {
    let bowl = start::begin(&Design::starting("de-DE"), "bowl", 254.0, 101.6);
    let kilograms = |wood: &str| {
        let mut design = bowl.clone();
        for (key, typed) in [
            ("base.kind", "one_board"),
            ("base.set", "let_in"),
            ("base.wood", wood),
        ] {
            design = ringwright::edit::type_in(&design, key, typed).unwrap();
        }
        let plan = plan(&design);
        let stack = plan.stack().unwrap();
        let base = stack.base.as_ref().unwrap();
        let left_mm = (stack.wall.as_ref().unwrap().floor_mm).min(base.thickness_mm);
        let mm2 = TAU / 8.0 * base.disc_mm * base.disc_mm;
        let totals = stack.totals();
        (
            totals.blank_kg.unwrap(),
            totals.finished_kg.unwrap(),
            mm2 * base.thickness_mm,
            mm2 * left_mm,
        )
    };
    let density = |wood: &str| {
        let wood = ringwright::trade::wood::find(wood).unwrap();
        wood.density_kg_m3().unwrap() * 1e-9
    };
    let (light, heavy) = ("Redcedar, western", "Persimmon, common");
    let (one, other) = (kilograms(light), kilograms(heavy));
    let more = density(heavy) - density(light);
    // The play that each needs differs, and with it what the mortise takes of the ring.
    assert!(((other.0 - one.0) / (more * one.2) - 1.0).abs() < 0.05);
    assert!(
        (other.1 - one.1 - more * one.3).abs() < 1e-6,
        "{one:?} {other:?}"
    );
    let mut slotted = start::begin(&Design::starting("de-DE"), "cylinder", 160.0, 120.0);
    let vessel = slotted.vessel.as_mut().unwrap();
    vessel.woods = vec![light.to_owned(), heavy.to_owned()];
    let bare = plan(&slotted);
    let vessel = slotted.vessel.as_mut().unwrap();
    vessel.slot_sets.push(SlotSet {
        slot_count: 24,
        wood: 1,
        ..SlotSet::plain(3, 5)
    });
    let filled = plan(&slotted);
    let own = filled.stack().unwrap().slot_sets[0].as_ref().unwrap();
    let [thick, wide, long] = own.strip_mm;
    let gained = filled.stack().unwrap().totals().blank_kg.unwrap()
        - bare.stack().unwrap().totals().blank_kg.unwrap();
    // A strip is a little longer and wider than what is glued into its slot.
    let most = 24.0 * thick * wide * long * more;
    assert!(gained > 0.6 * most && gained < most, "{gained} {most}");
    let finished = filled.stack().unwrap().totals().finished_kg.unwrap()
        - bare.stack().unwrap().totals().finished_kg.unwrap();
    assert!(finished > 0.0 && finished < gained);
}
