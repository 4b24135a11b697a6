//! What the Bench place shows: the order of work, each step with its numbers, and what
//! goes with it: glue, caliper stations, the centring plug.

mod extra;

use super::vessel::as_ring;
use super::{Entry, Figure, Message, entry, figure, noted};
use crate::design::field;
use crate::design::{Bench, Climate, Design, MadeOf, Vessel};
use crate::plan::caution::{Caution, Placed};
use crate::plan::lathe::{self, Station};
use crate::plan::order::{self, Centring, Chapter, End, Order, Stage, Step, Ticked, Work};
use crate::plan::plug;
use crate::plan::stack::StackPlan;
use crate::plan::{Plan, plan, rings};
use crate::show::words;
use crate::trade::closing::LastJoint;
use crate::trade::glue::{self, Times};
use crate::trade::ring::half_angle_rad;
use crate::units::length::{MM_PER_INCH, Shown, Unit, decimal, show};
use crate::units::quantity;
use crate::units::quantity::{number, weight};
use serde::Serialize;
use std::ops::Range;

/// A step of the order of work.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct StepShown {
    /// Stays the same while the design changes around it.
    pub id: String,
    /// Stays the same while its numbers do: what a tick is kept with.
    pub mark: String,
    /// `no`, `yes`, or `changed`: ticked with other numbers.
    pub ticked: &'static str,
    /// Which it is of how many, in words.
    pub place: String,
    /// The heading that it begins; empty where it follows under one.
    pub chapter: String,
    /// What is done.
    pub title: String,
    /// How.
    pub says: String,
    /// The figures that the hands need, at most three.
    pub saw: Vec<Figure>,
    /// The rest.
    pub list: Vec<Figure>,
    /// Its caliper stations.
    pub stations: Vec<StationRow>,
    /// What to look at first.
    pub cautions: Vec<Message>,
}

/// A row of the caliper table: depth, outside, inside, wall.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct StationRow {
    /// The figures.
    pub figures: Vec<Shown>,
}

/// All that the Bench place says.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct BenchScreen {
    /// The steps.
    pub steps: Vec<StepShown>,
    /// How many are done, in words.
    pub progress: String,
    /// One piece, or where the halves meet, and why.
    pub meeting: String,
    /// What is typed to let the halves meet a ring lower; empty where that cannot be.
    pub meet_lower: String,
    /// The same a ring higher.
    pub meet_higher: String,
    /// Whether the page chose.
    pub is_own: bool,
    /// The glue's times.
    pub glue: Vec<Figure>,
    /// What is wrong with the shop for this glue.
    pub glue_cautions: Vec<Message>,
    /// The plug's steps.
    pub plug: Vec<Figure>,
    /// The whole caliper table.
    pub stations: Vec<StationRow>,
    /// The fields.
    pub entries: Vec<Entry>,
}

/// What a step's figures are made from.
struct Shop<'a> {
    whole: &'a Plan,
    design: &'a Design,
    vessel: &'a Vessel,
    plan: &'a StackPlan,
    bench: Bench,
    /// Temperature of shop, wood and glue, degrees Celsius.
    air_c: f64,
    times: Times,
    unit: Unit,
    stations: Vec<Station>,
    plug: Vec<plug::PlugStep>,
    found: Vec<Placed>,
}

/// The spans of rings that slots are sawn through, one a set, for the order of work.
pub fn inlays(vessel: &Vessel) -> Vec<Range<usize>> {
    let count = vessel.rings.len();
    let span = |set: &crate::design::SlotSet| {
        let (from, to) = (
            set.from_ring.min(set.to_ring),
            set.to_ring.max(set.from_ring),
        );
        (from as usize).saturating_sub(1)..(to as usize).min(count)
    };
    vessel.slot_sets.iter().map(span).collect()
}

/// Sets the Bench place; nothing where there is no ring to make. `ticks` are step ids
/// with the marks that they were ticked with.
pub fn bench(whole: &Plan, ticks: &[(String, String)]) -> Option<BenchScreen> {
    let plan = whole.stack()?;
    let (design, vessel) = (&*plan.design, &plan.vessel);
    let order = order::order(plan, &inlays(vessel))?;
    let shop = Shop::of(whole, plan);
    let marks: Vec<(String, String)> = order
        .steps
        .iter()
        .map(|step| (step.id.clone(), order::mark(plan, step)))
        .collect();
    let ticked = order::ticked(&marks, ticks);
    let done = ticked.iter().filter(|each| **each == Ticked::Yes).count();
    let mut steps = Vec::new();
    let mut chapter = None;
    for ((step, (id, mark)), ticked) in order.steps.iter().zip(marks).zip(ticked) {
        let mut shown = shop.step(step, &order);
        (shown.id, shown.mark) = (id, mark);
        shown.ticked = match ticked {
            Ticked::No => "no",
            Ticked::Yes => "yes",
            Ticked::Changed => "changed",
        };
        let place = (steps.len() + 1).to_string();
        shown.place = words::filled("bench.place_of", &[&place, &order.steps.len().to_string()]);
        if chapter != Some(step.chapter) {
            chapter_name(step.chapter, &order).clone_into(&mut shown.chapter);
            chapter = Some(step.chapter);
        }
        steps.push(shown);
    }
    let top = vessel.rings.len() - 1;
    let typed = |ring: Option<usize>| ring.map_or_else(String::new, |ring| ring.to_string());
    Some(BenchScreen {
        progress: words::filled(
            "bench.done_of",
            &[&done.to_string(), &steps.len().to_string()],
        ),
        steps,
        meeting: meeting_says(&order),
        meet_lower: typed(order.meeting.checked_sub(1)),
        meet_higher: typed(Some(order.meeting + 1).filter(|ring| *ring <= top)),
        is_own: shop.bench.meet_above_ring.is_none(),
        glue: shop.glue(),
        glue_cautions: shop.cold(thickest_mm(vessel)).into_iter().collect(),
        plug: shop.plug_steps(),
        stations: shop
            .stations
            .iter()
            .map(|each| station_row(each, shop.unit))
            .collect(),
        entries: entries(design),
    })
}

fn chapter_name(chapter: Chapter, order: &Order) -> &'static str {
    words::page(match (chapter, order.halves.len()) {
        (Chapter::Wood, _) => "chapter.wood",
        (Chapter::Rings, _) => "chapter.rings",
        (Chapter::Stacks, _) => "chapter.stacks",
        (Chapter::Lower, 1) => "chapter.whole_piece",
        (Chapter::Lower, _) => "chapter.lower",
        (Chapter::Upper, _) => "chapter.upper",
        (Chapter::Whole, 1) => "chapter.last",
        (Chapter::Whole, _) => "chapter.joined",
    })
}

fn meeting_says(order: &Order) -> String {
    let name = |meeting: usize| {
        if meeting == 0 {
            words::page("bench.own_one").to_owned()
        } else {
            words::filled("bench.own_above", &[&meeting.to_string()])
        }
    };
    let stages = order.halves.first().map_or(0, |half| half.stages.len());
    let is = match (order.meeting, stages) {
        (0, 0 | 1) => words::page("bench.one_piece").to_owned(),
        (0, _) => words::page("bench.one_in_stages").to_owned(),
        (meeting, _) => words::filled("bench.two_halves", &[&meeting.to_string()]),
    };
    if order.meeting == order.own_meeting {
        return is;
    }
    let other = words::filled("bench.other_says", &[&name(order.own_meeting)]);
    format!("{is} {other}")
}

/// The thickest piece that is glued: it warms slowest.
fn thickest_mm(vessel: &Vessel) -> f64 {
    vessel
        .rings
        .iter()
        .map(|ring| ring.height_mm)
        .fold(0.0, f64::max)
}

fn station_row(station: &Station, unit: Unit) -> StationRow {
    let maybe = |length_mm: Option<f64>| {
        length_mm.map_or_else(|| number("–".to_owned()), |length_mm| show(length_mm, unit))
    };
    StationRow {
        figures: vec![
            show(station.depth_mm, unit),
            show(station.outside_mm, unit),
            maybe(station.inside_mm),
            maybe(station.wall_mm),
        ],
    }
}

/// The whole caliper table.
pub fn station_rows(design: &Design, plan: &StackPlan) -> Vec<StationRow> {
    let spacing = design.bench_or_usual().station_mm;
    plan.wall.as_ref().map_or_else(Vec::new, |wall| {
        lathe::stations(wall, spacing)
            .iter()
            .map(|each| station_row(each, design.unit))
            .collect()
    })
}

fn entries(design: &Design) -> Vec<Entry> {
    let mut design = design.with_bench();
    design.climate.get_or_insert_with(Climate::usual);
    let whole = crate::design::read::to_value(&design);
    field::FIELDS
        .iter()
        .filter(|field| {
            field.key.starts_with("bench.") || field.key == field::key::SHOP_TEMPERATURE
        })
        .map(|field| entry(&design, &whole, field, field.key))
        .collect()
}

fn rpm(turns: f64) -> Shown {
    // Down to the next ten: never above the bound.
    Shown::decimal(
        decimal((turns / 10.0).floor() * 10.0, 0),
        "rpm",
        " turns a minute",
    )
}

/// The rim's speed in the country's unit, the other one behind it.
fn rim_speed(meters_a_second: f64, unit: Unit) -> Figure {
    // 1 ft = 0.3048 m exactly (NIST SP 811, appendix B).
    let feet = decimal(meters_a_second / 0.3048 * 60.0, 0);
    let meters = decimal(meters_a_second, 1);
    if unit.is_inch() {
        let shown = Shown::decimal(feet, "ft/min", " feet a minute");
        noted("row.rim_speed", shown, format!("{meters} m/s"))
    } else {
        let shown = Shown::decimal(meters, "m/s", " meters a second");
        noted("row.rim_speed", shown, format!("{feet} ft/min"))
    }
}

fn amount(milliliters: f64) -> Shown {
    // In milliliters everywhere: a ring takes less than a tenth of a fluid ounce.
    Shown::decimal(decimal(milliliters, 1), "mL", " milliliters")
}

/// Thickness of a waste block, 1 1/2 in (common practice, no published source).
const BLOCK_MM: f64 = 1.5 * MM_PER_INCH;

/// A faceplate is at least a third of what it carries (common practice, no published
/// source).
const FACEPLATE_SHARE: f64 = 1.0 / 3.0;

/// How much wider than the ring's corners a block is, so that the circle is seen.
const BLOCK_EDGE_MM: f64 = 10.0;

impl<'a> Shop<'a> {
    fn of(whole: &'a Plan, plan: &'a StackPlan) -> Shop<'a> {
        let (design, vessel) = (&*plan.design, &plan.vessel);
        let bench = design.bench_or_usual();
        let climate = design.climate.as_ref();
        let air_c = climate.map_or(glue::ROOM_C, |climate| climate.shop_temperature_c);
        Shop {
            times: glue::times(bench.glue, air_c),
            air_c,
            unit: design.unit,
            stations: plan
                .wall
                .as_ref()
                .map_or_else(Vec::new, |wall| lathe::stations(wall, bench.station_mm)),
            plug: plug::steps(plan),
            found: whole.placed_cautions().to_vec(),
            whole,
            design,
            vessel,
            plan,
            bench,
        }
    }

    fn length(&self, key: &str, length_mm: f64) -> Figure {
        figure(key, show(length_mm, self.unit))
    }

    fn step(&self, step: &Step, order: &Order) -> StepShown {
        let mut shown = StepShown {
            id: String::new(),
            mark: String::new(),
            ticked: "no",
            place: String::new(),
            chapter: String::new(),
            title: String::new(),
            says: String::new(),
            saw: Vec::new(),
            list: Vec::new(),
            stations: Vec::new(),
            cautions: Vec::new(),
        };
        let says = match &step.work {
            Work::Cut => self.cut(step, &mut shown),
            Work::GlueUp => self.glue_up(step, &mut shown),
            Work::Flatten => self.flatten(step, &mut shown),
            Work::Block(end) => self.block(*end, step, &mut shown),
            Work::Mount(_) => self.mount(step, &mut shown),
            Work::Stack(below) => self.stack(*below, step, order, &mut shown),
            Work::Rip(group) => {
                let group = order.rips.get(*group).map_or(&[][..], Vec::as_slice);
                self.rip(group, &mut shown)
            }
            Work::Base(work) => self.base(*work, order, &mut shown),
            // These say more than one thing.
            Work::Boards => {
                shown.says = self.boards(&mut shown);
                ""
            }
            Work::Inlay(set) => {
                shown.says = self.slots(*set, step, &mut shown);
                ""
            }
            Work::Inside(stage) => self.inside(stage, step, order, &mut shown),
            Work::TrueHalves => {
                words::page("step.true_halves").clone_into(&mut shown.title);
                shown.saw = self.joint(step.rings.start);
                "says.true_halves"
            }
            Work::Join(below) => {
                words::page("step.join").clone_into(&mut shown.title);
                shown.saw = vec![self.time("row.turn_time"), self.glue_between(*below, step)];
                shown.list = vec![self.time("row.open_time"), self.time("row.clamp_time")];
                shown.list.extend(self.turned(*below));
                shown.cautions.extend(self.cold(self.height_mm(step)));
                "says.join"
            }
            Work::Outside => self.outside(step, &mut shown),
            Work::Finish => {
                words::page("step.finish").clone_into(&mut shown.title);
                let speeds = lathe::speeds(self.finished_mm(&step.rings));
                shown.saw = vec![
                    self.time("row.stress_time"),
                    figure("row.finished_rpm", rpm(speeds.slow_rpm)),
                ];
                "says.finish"
            }
            Work::Part(end) => self.part(*end, &mut shown),
        };
        if !says.is_empty() {
            words::page(says).clone_into(&mut shown.says);
        }
        shown.cautions.extend(self.base_cautions(step, order));
        shown.cautions.extend(self.found_at(step));
        shown
    }

    /// The cautions that belong to a step.
    fn found_at(&self, step: &Step) -> Vec<Message> {
        let ring = step.rings.start;
        let is_here = |placed: &&Placed| match (&placed.caution, placed.ring) {
            (Caution::NarrowGlue { .. } | Caution::JointsInLine { .. }, Some(upper)) => {
                match step.work {
                    Work::Stack(below) | Work::Join(below) => ring.max(below) == upper,
                    _ => false,
                }
            }
            (Caution::Slots(set, _), _) => step.id == format!("inlay-{}", set + 1),
            (Caution::PastSwing { .. }, Some(place)) => {
                matches!(step.work, Work::Mount(_) | Work::Stack(_)) && place == ring
            }
            (_, Some(place)) => step.work == Work::Cut && place == ring,
            (Caution::SmallOpening { .. } | Caution::Funnel { .. }, None) => {
                matches!(&step.work, Work::Inside(stage) if stage.before.is_none())
            }
            (Caution::SmallFoot { .. }, None) => step.work == Work::Part(End::Foot),
            (_, None) => step.work == Work::Outside,
        };
        self.found
            .iter()
            .filter(is_here)
            .map(|placed| words::caution(&placed.caution, self.unit))
            .collect()
    }

    fn cut(&self, step: &Step, shown: &mut StepShown) -> &'static str {
        let place = step.rings.start;
        let ring = &self.vessel.rings[place];
        if ring.made_of == MadeOf::Disc {
            shown.title = words::filled("step.disc", &[&number_of(step)]);
            let thickness = ring.height_mm + 2.0 * self.design.allowance.face_mm;
            shown.saw = vec![
                self.length("row.disc", 2.0 * self.reach_mm(&step.rings)),
                self.length("row.disc_thickness", thickness),
            ];
            return "says.disc";
        }
        let count = ring.segment_count.to_string();
        shown.title = words::filled("step.cut", &[&number_of(step), &count]);
        if let Some(alone) = as_ring(self.plan, place) {
            let planned = plan(&alone);
            shown.saw = super::saw(&alone, &planned.ring);
            shown.list = super::list(&alone, &planned.ring);
        }
        for (wood, name) in self.vessel.woods.iter().enumerate() {
            let of_it = |segment: &u32| ring.wood_of(*segment) == wood;
            let pieces = (0..ring.segment_count).filter(of_it).count();
            if pieces > 0 {
                shown.list.push(Figure {
                    key: format!("bench.wood.{wood}"),
                    label: name.clone(),
                    shown: number(pieces.to_string()),
                    note: String::new(),
                });
            }
        }
        "says.cut"
    }

    fn glue_up(&self, step: &Step, shown: &mut StepShown) -> &'static str {
        shown.title = words::filled("step.glue", &[&number_of(step)]);
        let place = step.rings.start;
        let ring = &self.vessel.rings[place];
        let area = self
            .plan
            .rings
            .get(place)
            .map_or(0.0, |planned| rings::ring_glue_mm2(ring, planned));
        shown.saw = vec![
            self.time("row.clamp_time"),
            self.time("row.open_time"),
            self.glue_amount(area),
        ];
        let planned = self.plan.rings.get(place);
        if let Some((planned, segment)) = planned.and_then(|it| Some((it, it.segment.as_ref()?))) {
            let joint = LastJoint::of(&planned.wanted, segment);
            let accuracy = quantity::fine_degrees(joint.accuracy_rad());
            shown
                .list
                .push(noted("row.accuracy", accuracy, "a cut".to_owned()));
        }
        if let Some(wood) = self.vessel.woods.get(ring.wood_of(0)) {
            shown.list.extend(self.pressure(wood));
        }
        shown.list.push(self.time("row.turn_time"));
        shown.cautions.extend(self.cold(ring.height_mm));
        "says.glue"
    }

    /// The clamp pressure for a wood, where the glue wants some.
    fn pressure(&self, wood: &str) -> Option<Figure> {
        let gravity = crate::plan::woods::named(self.design, wood)?.specific_gravity?;
        let (low, high) = self.bench.glue.pressure_pa(gravity)?;
        // 1 psi = 6 894.757 Pa (NIST SP 811, appendix B).
        let (text, mark, spoken) = if self.unit.is_inch() {
            let psi = |pascals: f64| decimal(pascals / 6_894.757, 0);
            (
                format!("{}–{}", psi(low), psi(high)),
                "psi",
                " pounds a square inch",
            )
        } else {
            let mega = |pascals: f64| decimal(pascals * 1e-6, 1);
            (
                format!("{}–{}", mega(low), mega(high)),
                "MPa",
                " megapascals",
            )
        };
        Some(figure("row.pressure", Shown::decimal(text, mark, spoken)))
    }

    fn flatten(&self, step: &Step, shown: &mut StepShown) -> &'static str {
        shown.title = words::filled("step.flat", &[&number_of(step)]);
        let place = step.rings.start;
        shown.saw = vec![self.length("row.ring_height", self.height_mm(step))];
        if let Some(planned) = self.plan.rings.get(place) {
            shown
                .list
                .push(self.length("row.corners", 2.0 * planned.reach_mm));
        }
        shown.list.extend(self.plug_step(place));
        "says.flat"
    }

    fn block(&self, end: End, step: &Step, shown: &mut StepShown) -> &'static str {
        words::page(match end {
            End::Foot => "step.block.foot",
            End::Rim => "step.block.rim",
        })
        .clone_into(&mut shown.title);
        let reach = self.reach_mm(&step.rings);
        let widest = self.finished_mm(&(0..self.vessel.rings.len()));
        shown.saw = vec![
            self.length("row.block_diameter", 2.0 * reach + BLOCK_EDGE_MM),
            self.length("row.block_thickness", BLOCK_MM),
            self.length("row.faceplate", widest * FACEPLATE_SHARE),
        ];
        shown.list = vec![self.end_figure(end)];
        "says.block"
    }

    /// The finished diameter of an end.
    fn end_figure(&self, end: End) -> Figure {
        let radius = self.plan.wall.as_ref().map_or(0.0, |wall| match end {
            End::Foot => wall.outside.radius_at(0.0),
            End::Rim => wall.outside.radius_at(wall.outside.height_mm()),
        });
        let key = match end {
            End::Foot => "row.foot",
            End::Rim => "row.rim",
        };
        self.length(key, 2.0 * radius)
    }

    fn mount(&self, step: &Step, shown: &mut StepShown) -> &'static str {
        shown.title = words::filled("step.mount", &[&number_of(step)]);
        let place = step.rings.start;
        shown.saw = vec![
            self.length("row.around", 2.0 * self.reach_mm(&step.rings)),
            self.time("row.turn_time"),
        ];
        if let Some(planned) = self.plan.rings.get(place) {
            let area = rings::stack_glue_mm2(planned, planned);
            shown.saw.push(self.glue_amount(area));
        }
        shown.list = vec![self.time("row.open_time"), self.time("row.clamp_time")];
        shown.cautions.extend(self.cold(self.height_mm(step)));
        "says.mount"
    }

    fn stack(
        &self,
        below: usize,
        step: &Step,
        order: &Order,
        shown: &mut StepShown,
    ) -> &'static str {
        let under = (below + 1).to_string();
        let place = step.rings.start;
        let is_apart = step.chapter == Chapter::Stacks;
        let with = order
            .apart_of(place)
            .filter(|span| !is_apart && span.len() > 1);
        shown.title = match with {
            Some(span) => {
                let (first, last) = ((span.start + 1).to_string(), span.end.to_string());
                words::filled("step.stack_whole", &[&under, &first, &last])
            }
            None => words::filled("step.stack", &[&under, &number_of(step)]),
        };
        let rings = self.plan.rings.get(below).zip(self.plan.rings.get(place));
        let centring = rings.map(|(below, above)| order::centring(below, above));
        match centring {
            Some(Centring::Around(diameter)) => {
                shown.saw.push(self.length("row.around", diameter));
            }
            Some(Centring::Within(diameter)) => {
                shown.saw.push(self.length("row.within", diameter));
            }
            Some(Centring::Out(by)) => {
                shown.saw.push(self.length("row.corners_out", by));
            }
            None => {}
        }
        shown.list.extend(self.plug_step(place));
        shown.saw.push(self.time("row.turn_time"));
        shown.saw.push(self.glue_between(below, step));
        shown
            .list
            .extend([self.time("row.open_time"), self.time("row.clamp_time")]);
        // Its face is turned with all the rings that are on the block by now.
        let half = order.halves.iter().find(|half| half.rings.contains(&below));
        if let Some(half) = half {
            let on = match (half.on, order.apart_of(below).filter(|_| is_apart)) {
                (_, Some(span)) => span.clone(),
                (End::Foot, None) => half.rings.start..below + 1,
                (End::Rim, None) => below..half.rings.end,
            };
            let speeds = lathe::speeds(2.0 * self.reach_mm(&on));
            shown
                .list
                .push(figure("row.blank_rpm", rpm(speeds.slow_rpm)));
        }
        // Rings of the upper half hang the other way up: told from the one below.
        let lower = below.min(place);
        shown.list.extend(self.turned(lower));
        shown.list.extend(self.joint(lower));
        shown.cautions.extend(self.cold(self.height_mm(step)));
        "says.stack"
    }

    /// How far the ring above is turned against this one, within one segment.
    fn turned(&self, lower: usize) -> Option<Figure> {
        let (below, above) = (
            self.vessel.rings.get(lower)?,
            self.vessel.rings.get(lower + 1)?,
        );
        let half = |count: u32| half_angle_rad(count);
        let at = |ring: &crate::design::StackRing| {
            f64::from(ring.turn_half_segments) * half(ring.segment_count)
        };
        let segment = 2.0 * half(above.segment_count);
        let turned = (at(above) - at(below)).rem_euclid(segment);
        let is_none = turned < 1e-6 || segment - turned < 1e-6;
        (above.made_of == MadeOf::Segments && !is_none)
            .then(|| figure("row.turned", quantity::shown_degrees(turned)))
    }

    /// Finished outside, inside and glue at the joint above a ring.
    fn joint(&self, lower: usize) -> Vec<Figure> {
        self.plan.joints.get(lower).map_or_else(Vec::new, |joint| {
            vec![
                self.length("row.joint_outside", 2.0 * joint.outside_radius_mm),
                self.length("row.joint_inside", 2.0 * joint.inside_radius_mm),
                self.length("row.glue_width", joint.glue_width_mm()),
            ]
        })
    }

    fn glue_between(&self, below: usize, step: &Step) -> Figure {
        let rings = self.plan.rings.get(below);
        let rings = rings.zip(self.plan.rings.get(step.rings.start));
        let area = rings.map_or(0.0, |(below, above)| rings::stack_glue_mm2(below, above));
        self.glue_amount(area)
    }

    fn glue_amount(&self, area_mm2: f64) -> Figure {
        let milliliters = glue::milliliters(self.bench.glue, area_mm2);
        noted(
            "row.glue_amount",
            amount(milliliters),
            quantity::glue_area(area_mm2, self.unit),
        )
    }

    fn plug_step(&self, place: usize) -> Option<Figure> {
        let step = self.plug.iter().find(|step| step.rings.contains(&place))?;
        Some(self.length("row.plug_step", step.diameter_mm))
    }

    fn inside(
        &self,
        stage: &Stage,
        step: &Step,
        order: &Order,
        shown: &mut StepShown,
    ) -> &'static str {
        let last = stage.rings.end.to_string();
        shown.title = if stage.rings.len() == 1 {
            words::filled("step.inside_one", &[&number_of(step)])
        } else {
            words::filled("step.inside", &[&number_of(step), &last])
        };
        if let Some(before) = stage.before {
            let before = (before + 1).to_string();
            shown.title += &words::filled("step.before", &[&before]);
        }
        let half = order.halves.iter().find(|half| {
            half.rings.start <= stage.rings.start && half.rings.end >= stage.rings.end
        });
        let glued = half.map_or(stage.rings.clone(), |half| half.rings.clone());
        let across_mm = 2.0 * self.reach_mm(&glued);
        let speeds = lathe::speeds(across_mm);
        // The outside still has its corners.
        shown.saw = vec![
            figure("row.blank_rpm", rpm(speeds.slow_rpm)),
            self.length("row.depth", stage.depth_mm),
            self.length("row.opening", stage.opening_mm),
        ];
        shown.list = vec![
            rim_speed(lathe::rim_m_s(across_mm, speeds.slow_rpm), self.unit),
            self.length("row.overhang", stage.overhang_mm),
        ];
        shown.stations = self.stations_in(&stage.rings, half.map(|half| half.on));
        if !stage.is_reached {
            let caution = Caution::OutOfReach {
                depth_mm: stage.depth_mm,
                opening_mm: stage.opening_mm,
                overhang_mm: stage.overhang_mm,
            };
            shown.cautions.push(words::caution(&caution, self.unit));
        }
        if stage.before.is_none() && order.halves.len() == 1 {
            "says.inside_last"
        } else {
            "says.inside"
        }
    }

    /// The stations within some rings, counted from the face that is open while this end
    /// is on the block.
    fn stations_in(&self, rings: &Range<usize>, on: Option<End>) -> Vec<StationRow> {
        let Some(wall) = &self.plan.wall else {
            return Vec::new();
        };
        let bottom = self.plan.rings.get(rings.start);
        let top = self.plan.rings.get(rings.end - 1);
        let (Some(bottom), Some(top)) = (bottom, top) else {
            return Vec::new();
        };
        let low = bottom.span.bottom_mm.max(wall.floor_mm);
        let high = top.span.top_mm.min(wall.outside.height_mm());
        let (face, deepest) = match on {
            Some(End::Rim) => (low, high),
            _ => (high, low),
        };
        let spacing = self.design.bench_or_usual().station_mm;
        lathe::stations_from(wall, face, deepest, spacing)
            .iter()
            .map(|station| station_row(station, self.unit))
            .collect()
    }

    fn outside(&self, step: &Step, shown: &mut StepShown) -> &'static str {
        words::page("step.outside").clone_into(&mut shown.title);
        let rough = lathe::speeds(2.0 * self.reach_mm(&step.rings));
        let round = lathe::speeds(self.finished_mm(&step.rings));
        shown.saw = vec![
            figure("row.blank_rpm", rpm(rough.slow_rpm)),
            figure("row.finished_rpm", rpm(round.fast_rpm)),
        ];
        shown.list = vec![rim_speed(round.rim_m_s, self.unit)];
        let totals = &self.plan.totals;
        let weights = [
            ("total.blank", totals.blank_kg),
            ("total.finished", totals.finished_kg),
        ];
        for (key, kilograms) in weights {
            shown
                .list
                .extend(kilograms.map(|it| figure(key, weight(it, self.unit))));
        }
        let (from, to) = (step.rings.start, step.rings.end);
        if let Some(balance) = lathe::balance(self.plan, from, to) {
            let pull_n = balance.pull_n(rough.slow_rpm);
            let offset_mm = balance.offset_mm();
            if offset_mm > 1e-6 {
                shown.list.push(noted(
                    "row.off_center",
                    quantity::fine(offset_mm, self.unit),
                    quantity::force(pull_n, self.unit),
                ));
            }
            if pull_n > lathe::PULL_SHARE * balance.mass_kg * lathe::GRAVITY_M_S2 {
                let caution = Caution::OutOfBalance {
                    offset_mm,
                    pull_n,
                    rpm: (rough.slow_rpm / 10.0).floor() * 10.0,
                };
                shown.cautions.push(words::caution(&caution, self.unit));
            }
        }
        "says.outside"
    }

    fn part(&self, end: End, shown: &mut StepShown) -> &'static str {
        let (title, says) = match end {
            End::Foot => ("step.part_foot", "says.part_foot"),
            End::Rim => ("step.part_rim", "says.part_rim"),
        };
        words::page(title).clone_into(&mut shown.title);
        shown.saw = vec![self.end_figure(end)];
        if let Some(wall) = &self.plan.wall {
            shown
                .saw
                .push(self.length("row.tall", wall.outside.height_mm()));
        }
        says
    }

    fn height_mm(&self, step: &Step) -> f64 {
        self.vessel
            .rings
            .get(step.rings.start)
            .map_or(0.0, |ring| ring.height_mm)
    }

    /// The largest radius of the blanks of some rings.
    fn reach_mm(&self, rings: &Range<usize>) -> f64 {
        let those = self.plan.rings.iter().skip(rings.start).take(rings.len());
        those.map(|ring| ring.reach_mm).fold(0.0, f64::max)
    }

    /// The largest finished diameter within some rings.
    fn finished_mm(&self, rings: &Range<usize>) -> f64 {
        let those = self.plan.rings.iter().skip(rings.start).take(rings.len());
        2.0 * those
            .map(|ring| ring.span.outside_radius_mm)
            .fold(0.0, f64::max)
    }

    fn time(&self, key: &str) -> Figure {
        let minutes = match key {
            "row.open_time" => {
                // A time not to be passed is rounded down.
                let text = decimal(self.times.open_min.floor().max(1.0), 0);
                return figure(key, Shown::decimal(text, "min", " minutes"));
            }
            "row.clamp_time" => self.times.clamp_min,
            "row.turn_time" => self.times.turn_min,
            _ => self.times.stress_min,
        };
        figure(key, quantity::duration(minutes))
    }

    fn glue(&self) -> Vec<Figure> {
        let least_c = self.bench.glue.habits().least_c;
        let text = decimal(self.unit.shown_degrees(least_c), 0);
        let mark = self.unit.degrees_mark();
        let mut figures: Vec<Figure> = [
            "row.open_time",
            "row.clamp_time",
            "row.turn_time",
            "row.stress_time",
        ]
        .iter()
        .map(|key| self.time(key))
        .collect();
        figures.push(figure(
            "row.least_c",
            Shown::decimal(text, mark, " degrees"),
        ));
        // A base, a block and strips for slots have theirs at their steps.
        figures.push(Figure {
            label: words::page("bench.glue_in_all").to_owned(),
            ..self.glue_amount(self.plan.totals.glue_mm2)
        });
        figures
    }

    /// The caution for a cold shop, for wood of this thickness.
    fn cold(&self, thickness_mm: f64) -> Option<Message> {
        let caution = Caution::ColdShop {
            shop_c: self.air_c,
            least_c: self.bench.glue.habits().least_c,
            warming_min: glue::warming_min(self.bench.glue, self.air_c, thickness_mm),
            stay_min: self.times.turn_min,
        };
        self.times
            .is_too_cold
            .then(|| words::caution(&caution, self.unit))
    }

    fn plug_steps(&self) -> Vec<Figure> {
        let steps = self.plug.iter().enumerate();
        steps
            .map(|(place, step)| {
                let rings: Vec<String> = step
                    .rings
                    .iter()
                    .map(|ring| (ring + 1).to_string())
                    .collect();
                Figure {
                    key: format!("plug.{place}"),
                    label: words::filled("bench.step", &[&(place + 1).to_string()]),
                    shown: show(step.diameter_mm, self.unit),
                    note: words::filled("bench.plug_rings", &[&rings.join(", ")]),
                }
            })
            .collect()
    }
}

/// The number of a step's first ring.
fn number_of(step: &Step) -> String {
    (step.rings.start + 1).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::start;

    fn shown(design: &Design) -> BenchScreen {
        let _vessel = design.vessel.clone().unwrap();
        bench(&plan(design), &[]).unwrap()
    }

    #[test]
    fn every_step_says_what_and_how_and_its_labels_are_words() {
        for word in ["bowl", "closed", "vase", "platter"] {
            let design = start::begin(&Design::default(), word, 254.0, 220.0);
            for step in shown(&design).steps {
                assert!(!step.title.contains(['%', '_']), "{}", step.title);
                assert!(step.says.len() > 20, "{}", step.id);
                assert!(step.saw.len() <= 3, "{}", step.id);
                for figure in step.saw.iter().chain(&step.list) {
                    assert!(figure.key.starts_with("bench.wood") || figure.key != figure.label);
                    assert!(!figure.shown.text.contains("NaN"), "{}", step.id);
                }
            }
        }
    }

    #[test]
    fn a_cold_shop_is_told_at_every_gluing() {
        let design = start::begin(&Design::default(), "bowl", 254.0, 101.6)
            .with_typed(field::key::SHOP_TEMPERATURE, "40")
            .unwrap();
        let screen = shown(&design);
        assert_eq!(screen.glue_cautions.len(), 1);
        assert!(
            screen.glue_cautions[0].reason.contains("40 °F"),
            "{:?}",
            screen.glue_cautions
        );
        let told = |step: &StepShown| {
            step.cautions
                .iter()
                .any(|caution| caution.field == field::key::SHOP_TEMPERATURE)
        };
        for step in &screen.steps {
            let is_gluing = ["glue-", "mount-", "stack-"]
                .iter()
                .any(|kind| step.id.starts_with(kind));
            assert_eq!(told(step), is_gluing, "{}", step.id);
        }
    }

    #[test]
    fn an_uneven_pattern_is_told_with_its_number() {
        let mut design = start::begin(&Design::default(), "bowl", 254.0, 101.6);
        let vessel = design.vessel.as_mut().unwrap();
        vessel.woods = vec!["Maple, sugar".to_owned(), "Cedar, incense".to_owned()];
        for ring in &mut vessel.rings {
            ring.pattern = (0..ring.segment_count)
                .map(|place| u32::from(place < ring.segment_count / 2))
                .collect();
        }
        let screen = shown(&design);
        let outside = screen.steps.iter().find(|step| step.id == "outside");
        let cautions = &outside.unwrap().cautions;
        assert!(
            cautions
                .iter()
                .any(|caution| caution.reason.contains("off the axis")),
            "{cautions:?}"
        );
    }
}
