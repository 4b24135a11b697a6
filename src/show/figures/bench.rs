//! What the Bench place shows: the order of work, each step with its numbers, and what
//! goes with it: glue, caliper stations, the centring plug.

mod extra;

use super::built::GluedRow;
use super::{Entry, Figure, Message, entry, figure, noted};
use crate::design::field;
use crate::design::{Bench, Climate, Design, MadeOf, Vessel};
use crate::plan::bill::ring_numbers;
use crate::plan::caution::{Caution, Placed};
use crate::plan::order::balance::balance;
use crate::plan::order::facts::{Block, Piece, Side};
use crate::plan::order::{self, Centring, Chapter, End, Order, Stage, Step, Ticked, Work, plugs};
use crate::plan::stack::StackPlan;
use crate::plan::{Plan, rings};
use crate::show::figures::table::{Row, Table};
use crate::show::words::{self, Word};
use crate::trade::closing::LastJoint;
use crate::trade::glue::{self, Times};
use crate::trade::lathe::{self, Station};
use crate::trade::plug::PlugStep;
use crate::trade::ring::half_angle_rad;
use crate::units::length::{Shown, Unit, decimal, show};
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
    /// Whether what is said before the lathe runs comes before it.
    #[serde(skip)]
    pub is_first_at_lathe: bool,
    /// What is done.
    pub title: String,
    /// How.
    pub says: String,
    /// The beginning of it that is of this step alone.
    #[serde(skip)]
    pub own: String,
    /// The figures that the hands need, at most three.
    pub saw: Vec<Figure>,
    /// The rest.
    pub list: Vec<Figure>,
    /// Its caliper stations.
    pub stations: Table,
    /// What to look at first.
    pub cautions: Vec<Message>,
    /// The place of the ring that it finishes, which may be measured from then on.
    pub measures: Option<usize>,
}

/// A centering plug.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct PlugShown {
    /// Its name, where there are more.
    pub title: String,
    /// Its steps.
    pub steps: Vec<Figure>,
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
    /// The plugs.
    pub plugs: Vec<PlugShown>,
    /// The whole caliper table.
    pub stations: Table,
    /// The fields.
    pub entries: Vec<Entry>,
    /// The rings that are glued, with their sizes.
    pub glued: Vec<GluedRow>,
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
    plugs: Vec<Vec<PlugStep>>,
    found: Vec<Placed>,
}

/// Sets the Bench place; nothing where there is no ring to make. `ticks` are step ids
/// with the marks that they were ticked with.
pub fn bench(whole: &Plan, ticks: &[(String, String)]) -> Option<BenchScreen> {
    let plan = whole.stack()?;
    let (design, vessel) = (&*plan.design, &plan.vessel);
    let order = whole.order()?;
    let shop = Shop::of(whole, plan, order);
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
        let mut shown = shop.step(step, order);
        (shown.id, shown.mark) = (id, mark);
        shown.ticked = match ticked {
            Ticked::No => "no",
            Ticked::Yes => "yes",
            Ticked::Changed => "changed",
        };
        let place = (steps.len() + 1).to_string();
        shown.place = words::filled(
            words::BENCH_PLACE_OF,
            &[&place, &order.steps.len().to_string()],
        );
        let is_at_lathe = |step: &Step| step.swings_mm().is_some();
        shown.is_first_at_lathe =
            is_at_lathe(step) && !order.steps[..steps.len()].iter().any(is_at_lathe);
        if chapter != Some(step.chapter) {
            chapter_name(step.chapter, order).clone_into(&mut shown.chapter);
            chapter = Some(step.chapter);
        }
        steps.push(shown);
    }
    let top = vessel.rings.len() - 1;
    let typed = |ring: Option<usize>| ring.map_or_else(String::new, |ring| ring.to_string());
    Some(BenchScreen {
        progress: words::filled(
            words::BENCH_DONE_OF,
            &[&done.to_string(), &steps.len().to_string()],
        ),
        steps,
        meeting: meeting_says(order),
        meet_lower: typed(order.meeting.checked_sub(1)),
        meet_higher: typed(Some(order.meeting + 1).filter(|ring| *ring <= top)),
        is_own: shop.bench.meet_above_ring.is_none(),
        glue: shop.glue(),
        glue_cautions: shop.cold(thickest_mm(vessel)).into_iter().collect(),
        plugs: shop.plugs_shown(),
        stations: whole_stations(shop.design, shop.plan),
        entries: entries(design),
        glued: super::built::rows(shop.plan),
    })
}

fn chapter_name(chapter: Chapter, order: &Order) -> &'static str {
    let word = match (chapter, order.halves.len()) {
        (Chapter::Wood, _) => words::CHAPTER_WOOD,
        (Chapter::Blocks, _) => words::CHAPTER_BLOCKS,
        (Chapter::Rings, _) => words::CHAPTER_RINGS,
        (Chapter::Stacks, _) => words::CHAPTER_STACKS,
        (Chapter::Lower, 1) => words::CHAPTER_WHOLE_PIECE,
        (Chapter::Lower, _) => words::CHAPTER_LOWER,
        (Chapter::Upper, _) => words::CHAPTER_UPPER,
        (Chapter::Whole, 1) => words::CHAPTER_LAST,
        (Chapter::Whole, _) => words::CHAPTER_JOINED,
    };
    word.text
}

pub(super) fn meeting_says(order: &Order) -> String {
    let name = |meeting: usize| {
        if meeting == 0 {
            words::BENCH_OWN_ONE.text.to_owned()
        } else {
            words::filled(words::BENCH_OWN_ABOVE, &[&meeting.to_string()])
        }
    };
    let stages = order.halves.first().map_or(0, |half| half.stages.len());
    let is = match (order.meeting, stages) {
        (0, 0 | 1) => words::BENCH_ONE_PIECE.text.to_owned(),
        (0, _) => words::BENCH_ONE_IN_STAGES.text.to_owned(),
        (meeting, _) => words::filled(words::BENCH_TWO_HALVES, &[&meeting.to_string()]),
    };
    if order.meeting == order.own_meeting {
        return is;
    }
    let other = words::filled(words::BENCH_OTHER_SAYS, &[&name(order.own_meeting)]);
    format!("{is} {other}")
}

/// Finished outside, inside and glue at the joint above a ring.
pub(super) fn joint(plan: &StackPlan, lower: usize) -> Vec<Figure> {
    let length = |word: Word, length_mm: f64| figure(word, show(length_mm, plan.design.unit));
    plan.joints.get(lower).map_or_else(Vec::new, |joint| {
        vec![
            length(words::ROW_JOINT_OUTSIDE, 2.0 * joint.outside_radius_mm),
            length(words::ROW_JOINT_INSIDE, 2.0 * joint.inside_radius_mm),
            length(words::ROW_GLUE_WIDTH, joint.glue_width_mm()),
        ]
    })
}

/// The thickest piece that is glued: it warms slowest.
fn thickest_mm(vessel: &Vessel) -> f64 {
    vessel
        .rings
        .iter()
        .map(|ring| ring.height_mm)
        .fold(0.0, f64::max)
}

/// A caliper table, its depth under this head.
fn station_table(depth: Word, stations: &[Station], unit: Unit) -> Table {
    let maybe = |length_mm: Option<f64>| {
        length_mm.map_or_else(|| number("–".to_owned()), |length_mm| show(length_mm, unit))
    };
    let row = |(at, station): (usize, &Station)| Row {
        id: at.to_string(),
        cells: vec![
            show(station.depth_mm, unit),
            show(station.outside_mm, unit),
            maybe(station.inside_mm),
            maybe(station.wall_mm),
        ],
        ..Row::default()
    };
    Table::new(
        &[
            depth,
            words::TABLE_OUTSIDE,
            words::TABLE_INSIDE,
            words::BENCH_WALL,
        ],
        stations.iter().enumerate().map(row).collect(),
    )
}

/// The whole caliper table.
pub fn whole_stations(design: &Design, plan: &StackPlan) -> Table {
    let spacing = design.bench_or_usual().station_mm;
    let wall = plan.wall.as_ref();
    let stations = wall.map_or_else(Vec::new, |wall| lathe::stations(wall, spacing));
    station_table(words::BENCH_DEPTH, &stations, design.unit)
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
        noted(words::ROW_RIM_SPEED, shown, format!("{meters} m/s"))
    } else {
        let shown = Shown::decimal(meters, "m/s", " meters a second");
        noted(words::ROW_RIM_SPEED, shown, format!("{feet} ft/min"))
    }
}

fn amount(milliliters: f64) -> Shown {
    // In milliliters everywhere: a ring takes less than a tenth of a fluid ounce.
    Shown::decimal(decimal(milliliters, 1), "mL", " milliliters")
}

impl<'a> Shop<'a> {
    fn of(whole: &'a Plan, plan: &'a StackPlan, order: &Order) -> Shop<'a> {
        let (design, vessel) = (&*plan.design, &plan.vessel);
        let bench = design.bench_or_usual();
        let climate = design.climate.as_ref();
        let air_c = climate.map_or(glue::ROOM_C, |climate| climate.shop_temperature_c);
        Shop {
            times: glue::times(bench.glue, air_c),
            air_c,
            unit: design.unit,
            plugs: plugs::of(plan, order),
            found: whole.placed_cautions().to_vec(),
            whole,
            design,
            vessel,
            plan,
            bench,
        }
    }

    fn length(&self, word: words::Word, length_mm: f64) -> Figure {
        figure(word, show(length_mm, self.unit))
    }

    fn step(&self, step: &Step, order: &Order) -> StepShown {
        let mut shown = StepShown {
            id: String::new(),
            mark: String::new(),
            ticked: "no",
            place: String::new(),
            chapter: String::new(),
            is_first_at_lathe: false,
            title: String::new(),
            says: String::new(),
            own: String::new(),
            saw: Vec::new(),
            list: Vec::new(),
            cautions: Vec::new(),
            stations: Table::default(),
            measures: None,
        };
        let says = match &step.work {
            Work::Cut => self.cut(step, &mut shown),
            Work::GlueUp => self.glue_up(step, &mut shown),
            Work::Flatten => self.flatten(step, &mut shown),
            Work::Block(block) => self.block(*block, step, order, &mut shown),
            Work::Mount(block) => self.mount(*block, step, order, &mut shown),
            Work::Stack(below) => self.stack(*below, step, order, &mut shown),
            Work::True(_) => self.stack_true(step, &mut shown),
            Work::Rip(group) => {
                let group = order.rips.get(*group).map_or(&[][..], Vec::as_slice);
                self.rip(group, &mut shown)
            }
            Work::Base(work) => self.base(*work, step, order, &mut shown),
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
                words::STEP_TRUE_HALVES.text.clone_into(&mut shown.title);
                shown.saw = joint(self.plan, step.rings.start);
                shown.list.extend(Shop::blank_rpm(step));
                words::SAYS_TRUE_HALVES.text
            }
            Work::Join(below) => {
                words::STEP_JOIN.text.clone_into(&mut shown.title);
                shown.saw = vec![
                    self.time(words::ROW_TURN_TIME),
                    self.glue_between(*below, step),
                ];
                shown.list = vec![
                    self.time(words::ROW_OPEN_TIME),
                    self.time(words::ROW_CLAMP_TIME),
                ];
                shown.list.extend(self.turned(step));
                shown.cautions.extend(self.cold(self.height_mm(step)));
                words::SAYS_JOIN.text
            }
            Work::Outside => self.outside(step, order, &mut shown),
            Work::Finish => {
                words::STEP_FINISH.text.clone_into(&mut shown.title);
                let speeds = lathe::speeds(self.round_mm(order));
                shown.saw = vec![
                    self.time(words::ROW_STRESS_TIME),
                    figure(words::ROW_FINISHED_RPM, rpm(speeds.slow_rpm)),
                ];
                words::SAYS_FINISH.text
            }
            Work::Part(end) => self.part(*end, order, &mut shown),
        };
        if !says.is_empty() {
            says.clone_into(&mut shown.says);
        }
        if let Some(sides) = sides(step) {
            shown.own = format!("{sides} ");
            shown.says = format!("{}{}", shown.own, shown.says);
        }
        shown.cautions.extend(self.base_cautions(step, order));
        shown.cautions.extend(self.found_at(step, order));
        shown
    }

    /// The cautions that belong to a step.
    fn found_at(&self, step: &Step, order: &Order) -> Vec<Message> {
        let ring = step.rings.start;
        let is_first = order.steps.first().is_some_and(|it| it.id == step.id);
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
            // What nothing can be done about later is said before anything is sawn.
            (_, None) => is_first,
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
            shown.title = words::filled(words::STEP_DISC, &[&number_of(step)]);
            let thickness = ring.height_mm + 2.0 * self.design.allowance.face_mm;
            shown.saw = vec![
                self.length(words::ROW_DISC, 2.0 * self.reach_mm(&step.rings)),
                self.length(words::ROW_DISC_THICKNESS, thickness),
            ];
            return words::SAYS_DISC.text;
        }
        let count = ring.segment_count.to_string();
        shown.title = words::filled(words::STEP_CUT, &[&number_of(step), &count]);
        if let Some(alone) = self.plan.ring(place) {
            shown.saw = super::saw(self.design, &alone);
            shown.list = super::list(self.design, &alone);
            // Several woods stand with their strips already.
            if let [wood] = alone.woods.as_slice() {
                shown.list.push(Figure {
                    key: "bench.wood".to_owned(),
                    label: wood.name.clone(),
                    shown: number(count),
                    note: String::new(),
                });
            }
        }
        words::SAYS_CUT.text
    }

    fn glue_up(&self, step: &Step, shown: &mut StepShown) -> &'static str {
        shown.title = words::filled(words::STEP_GLUE, &[&number_of(step)]);
        let place = step.rings.start;
        let ring = &self.vessel.rings[place];
        let area = self
            .plan
            .rings
            .get(place)
            .map_or(0.0, |planned| rings::ring_glue_mm2(ring, planned));
        shown.saw = vec![
            self.time(words::ROW_CLAMP_TIME),
            self.time(words::ROW_OPEN_TIME),
            self.glue_amount(area),
        ];
        let planned = self.plan.rings.get(place);
        if let Some((planned, segment)) = planned.and_then(|it| Some((it, it.segment.as_ref()?))) {
            let joint = LastJoint::of(&planned.wanted, segment);
            let accuracy = quantity::fine_degrees(joint.accuracy_rad());
            shown
                .list
                .push(noted(words::ROW_ACCURACY, accuracy, "a cut".to_owned()));
        }
        if let Some(wood) = self.vessel.woods.get(ring.wood_of(0)) {
            shown.list.extend(self.pressure(wood));
        }
        shown.list.push(self.time(words::ROW_TURN_TIME));
        shown.cautions.extend(self.cold(ring.height_mm));
        words::SAYS_GLUE.text
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
        Some(figure(
            words::ROW_PRESSURE,
            Shown::decimal(text, mark, spoken),
        ))
    }

    fn flatten(&self, step: &Step, shown: &mut StepShown) -> &'static str {
        shown.title = words::filled(words::STEP_FLAT, &[&number_of(step)]);
        let place = step.rings.start;
        shown.measures = Some(place);
        shown.saw = vec![self.length(words::ROW_RING_HEIGHT, self.height_mm(step))];
        if let Some(planned) = self.plan.rings.get(place) {
            shown
                .list
                .push(self.length(words::ROW_CORNERS, 2.0 * planned.reach_mm));
        }
        words::SAYS_FLAT.text
    }

    fn block(
        &self,
        block: Block,
        step: &Step,
        order: &Order,
        shown: &mut StepShown,
    ) -> &'static str {
        shown.title = words::filled(words::STEP_BLOCK, &[&block_name(block, order)]);
        let diameter_mm = step.swings_mm().unwrap_or(0.0);
        let carried_mm = match block {
            Block::Of(_) => self.finished_mm(&(0..self.vessel.rings.len())),
            Block::Stack(_) => 2.0 * self.reach_mm(&step.rings),
        };
        shown.saw = vec![
            self.length(words::ROW_BLOCK_DIAMETER, diameter_mm),
            self.length(words::ROW_BLOCK_THICKNESS, lathe::BLOCK_MM),
            self.length(words::ROW_FACEPLATE, carried_mm * lathe::FACEPLATE_SHARE),
        ];
        shown.list.extend(Shop::blank_rpm(step));
        if let Block::Of(end) = block {
            shown.list.push(self.end_figure(end));
        }
        let swing_mm = self.design.shop.swing_mm;
        if let Some(swing_mm) = swing_mm.filter(|swing| diameter_mm > *swing) {
            let caution = Caution::BlockPastSwing {
                diameter_mm,
                swing_mm,
            };
            shown.cautions.push(words::caution(&caution, self.unit));
        }
        words::SAYS_BLOCK.text
    }

    /// The bound while there are corners, for all that turns in a step.
    fn blank_rpm(step: &Step) -> Option<Figure> {
        let speeds = lathe::speeds(step.swings_mm()?);
        Some(figure(words::ROW_BLANK_RPM, rpm(speeds.slow_rpm)))
    }

    /// The widest once all is round: the piece finished, or a block.
    fn round_mm(&self, order: &Order) -> f64 {
        let blocks = order.steps.iter();
        let blocks = blocks.filter(|step| matches!(step.work, Work::Block(Block::Of(_))));
        blocks
            .filter_map(Step::swings_mm)
            .fold(self.finished_mm(&(0..self.vessel.rings.len())), f64::max)
    }

    /// The finished diameter of an end.
    fn end_figure(&self, end: End) -> Figure {
        let radius = self.plan.wall.as_ref().map_or(0.0, |wall| match end {
            End::Foot => wall.outside.radius_at(0.0),
            End::Rim => wall.outside.radius_at(wall.outside.height_mm()),
        });
        let key = match end {
            End::Foot => words::ROW_FOOT,
            End::Rim => words::ROW_RIM,
        };
        self.length(key, 2.0 * radius)
    }

    fn mount(
        &self,
        block: Block,
        step: &Step,
        order: &Order,
        shown: &mut StepShown,
    ) -> &'static str {
        let place = step.rings.start;
        let on = block_name(block, order);
        let is_own = matches!(block, Block::Stack(_));
        let with = order
            .apart_of(place)
            .filter(|span| !is_own && span.len() > 1);
        let is_base = step.glued().is_some_and(|it| it.0.piece == Piece::Base);
        shown.title = match with {
            _ if is_base => words::filled(words::STEP_MOUNT_BASE, &[&on]),
            Some(span) => words::filled(words::STEP_MOUNT, &[&rings_said(span), &on]),
            None => words::filled(words::STEP_MOUNT, &[&rings_said(&step.rings), &on]),
        };
        let base = order.base.as_ref().filter(|_| is_base);
        let around_mm = match base {
            Some(base) => base.disc_mm,
            None => 2.0 * self.corners_mm(place, is_own, order),
        };
        shown.saw = vec![
            self.length(words::ROW_AROUND, around_mm),
            self.time(words::ROW_TURN_TIME),
        ];
        let area = self.plan.glue_between_mm2(place, place);
        shown.saw.push(self.glue_amount(area));
        shown.list = vec![
            self.time(words::ROW_OPEN_TIME),
            self.time(words::ROW_CLAMP_TIME),
        ];
        shown.cautions.extend(self.cold(self.height_mm(step)));
        if is_own {
            words::SAYS_MOUNT_STACK.text
        } else {
            words::SAYS_MOUNT.text
        }
    }

    /// How far a ring reaches when it comes on: one of a stack may be round by then.
    fn corners_mm(&self, place: usize, is_building: bool, order: &Order) -> f64 {
        let ring = Piece::Ring(place);
        let trues = order.steps.iter();
        let mut rounds = trues
            .filter(|step| matches!(step.work, Work::True(_)))
            .flat_map(Step::rounds);
        let round = rounds.find(|(piece, _)| *piece == ring && !is_building);
        round.map_or_else(
            || self.plan.rings.get(place).map_or(0.0, |it| it.reach_mm),
            |(_, diameter_mm)| diameter_mm / 2.0,
        )
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
                words::filled(words::STEP_STACK_WHOLE, &[&under, &first, &last])
            }
            None => words::filled(words::STEP_STACK, &[&under, &number_of(step)]),
        };
        let rings = self.plan.rings.get(below).zip(self.plan.rings.get(place));
        let reach_mm = self.corners_mm(place, is_apart, order);
        let centring = rings.map(|(below, above)| order::centring(below, above, reach_mm));
        match centring {
            Some(Centring::Around(diameter)) => {
                shown.saw.push(self.length(words::ROW_AROUND, diameter));
            }
            Some(Centring::Within(diameter)) => {
                shown.saw.push(self.length(words::ROW_WITHIN, diameter));
            }
            Some(Centring::Out(by)) => {
                shown.saw.push(self.length(words::ROW_CORNERS_OUT, by));
            }
            None => {}
        }
        shown
            .list
            .extend(step.rounds().map(|(_, diameter_mm)| Figure {
                label: words::filled(words::ROW_JUST_ROUND, &[&under]),
                ..self.length(words::ROW_JUST_ROUND, diameter_mm)
            }));
        if with.is_none() {
            shown.list.extend(self.plug_step(place));
        }
        shown.saw.push(self.time(words::ROW_TURN_TIME));
        shown.saw.push(self.glue_between(below, step));
        shown.list.extend([
            self.time(words::ROW_OPEN_TIME),
            self.time(words::ROW_CLAMP_TIME),
        ]);
        shown.list.extend(Shop::blank_rpm(step));
        shown.list.extend(self.turned(step));
        shown.list.extend(joint(self.plan, below.min(place)));
        shown.cautions.extend(self.cold(self.height_mm(step)));
        if step.rounds().next().is_some() {
            words::SAYS_STACK.text
        } else {
            words::SAYS_STACK_FLAT.text
        }
    }

    /// A stack turned true on its block and split off it.
    fn stack_true(&self, step: &Step, shown: &mut StepShown) -> &'static str {
        let rings = rings_said(&step.rings);
        let widest_mm = step.rounds().map(|it| it.1).reduce(f64::max);
        shown.saw.extend(Shop::blank_rpm(step));
        let Some(widest_mm) = widest_mm else {
            shown.title = words::filled(words::STEP_STACK_ENDS, &[&rings]);
            return words::SAYS_STACK_ENDS.text;
        };
        let diameter = show(widest_mm, self.unit).line();
        shown.title = words::filled(words::STEP_STACK_ROUND, &[&rings, &diameter]);
        shown
            .saw
            .insert(0, self.length(words::ROW_STACK_DIAMETER, widest_mm));
        // Each to its own flats: the narrower ones cannot be as wide as the widest.
        shown.list = step
            .rounds()
            .filter_map(|(piece, diameter_mm)| match piece {
                Piece::Ring(place) => Some(Figure {
                    label: words::filled(words::ROW_JUST_ROUND, &[&(place + 1).to_string()]),
                    key: format!("bench.round.{place}"),
                    ..self.length(words::ROW_JUST_ROUND, diameter_mm)
                }),
                _ => None,
            })
            .collect();
        words::SAYS_STACK_ROUND.text
    }

    /// How far a ring is turned against the one that it comes on, as one looks at the
    /// open face: up to where its woods repeat.
    fn turned(&self, step: &Step) -> Option<Figure> {
        let (face, to) = step.glued()?;
        let (Piece::Ring(place), Piece::Ring(below)) = (face.piece, to.piece) else {
            return None;
        };
        let (ring, under) = (self.vessel.rings.get(place)?, self.vessel.rings.get(below)?);
        if ring.made_of != MadeOf::Segments || under.made_of != MadeOf::Segments {
            return None;
        }
        let at = |ring: &crate::design::StackRing| {
            f64::from(ring.turn_half_segments) * half_angle_rad(ring.segment_count)
        };
        // From above, directions grow from the front to the right: against the clock.
        let grown = match to.side {
            Side::Rim => at(ring) - at(under),
            Side::Foot => at(under) - at(ring),
        };
        let count = ring.segment_count;
        let repeats = |after: &u32| {
            let same = |place: u32| ring.wood_of(place) == ring.wood_of((place + after) % count);
            count.is_multiple_of(*after) && (0..count).all(same)
        };
        let period = (1..=count).find(repeats)?;
        let period = 2.0 * half_angle_rad(count) * f64::from(period);
        let against = grown.rem_euclid(period);
        if against < 1e-6 || period - against < 1e-6 {
            return None;
        }
        let (key, turned) = if (2.0 * against - period).abs() < 1e-6 {
            (words::ROW_TURNED, against)
        } else if 2.0 * against < period {
            (words::ROW_TURNED_AGAINST, against)
        } else {
            (words::ROW_TURNED_WITH, period - against)
        };
        Some(Figure {
            label: words::filled(key, &[&(below + 1).to_string()]),
            ..figure(words::ROW_TURNED, super::shown_degrees(turned))
        })
    }

    fn glue_between(&self, below: usize, step: &Step) -> Figure {
        self.glue_amount(self.plan.glue_between_mm2(below, step.rings.start))
    }

    fn glue_amount(&self, area_mm2: f64) -> Figure {
        let milliliters = glue::milliliters(self.bench.glue, area_mm2);
        noted(
            words::ROW_GLUE_AMOUNT,
            amount(milliliters),
            quantity::glue_area(area_mm2, self.unit),
        )
    }

    fn plug_step(&self, place: usize) -> Option<Figure> {
        let plugs = self.plugs.iter().enumerate();
        let (plug, step) = plugs
            .flat_map(|(plug, steps)| steps.iter().map(move |step| (plug, step)))
            .find(|(_, step)| step.rings.contains(&place))?;
        let mut figure = self.length(words::ROW_PLUG_STEP, step.diameter_mm);
        if self.plugs.len() > 1 {
            figure.label = words::filled(words::ROW_PLUG_STEP_OF, &[&(plug + 1).to_string()]);
        }
        Some(figure)
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
            words::filled(words::STEP_INSIDE_ONE, &[&number_of(step)])
        } else {
            words::filled(words::STEP_INSIDE, &[&number_of(step), &last])
        };
        if let Some(before) = stage.before {
            let before = (before + 1).to_string();
            shown.title += &words::filled(words::STEP_BEFORE, &[&before]);
        }
        let half = order.halves.iter().find(|half| {
            half.rings.start <= stage.rings.start && half.rings.end >= stage.rings.end
        });
        let across_mm = step.swings_mm().unwrap_or(0.0);
        let speeds = lathe::speeds(across_mm);
        // The outside still has its corners.
        shown.saw = vec![
            figure(words::ROW_BLANK_RPM, rpm(speeds.slow_rpm)),
            self.length(words::ROW_DEPTH, stage.depth_mm),
            self.length(words::ROW_OPENING, stage.opening_mm),
        ];
        shown.list = vec![
            rim_speed(lathe::rim_m_s(across_mm, speeds.slow_rpm), self.unit),
            self.length(words::ROW_OVERHANG, stage.overhang_mm),
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
            words::SAYS_INSIDE_LAST.text
        } else {
            words::SAYS_INSIDE.text
        }
    }

    /// The stations within some rings, counted from the face that is open while this end
    /// is on the block.
    fn stations_in(&self, rings: &Range<usize>, on: Option<End>) -> Table {
        let Some(wall) = &self.plan.wall else {
            return Table::default();
        };
        let bottom = self.plan.rings.get(rings.start);
        let top = self.plan.rings.get(rings.end - 1);
        let (Some(bottom), Some(top)) = (bottom, top) else {
            return Table::default();
        };
        let low = bottom.span.bottom_mm.max(wall.floor_mm);
        let high = top.span.top_mm.min(wall.outside.height_mm());
        let (face, deepest) = match on {
            Some(End::Rim) => (low, high),
            _ => (high, low),
        };
        let spacing = self.design.bench_or_usual().station_mm;
        let stations = lathe::stations_from(wall, face, deepest, spacing);
        if stations.is_empty() {
            return Table::default();
        }
        station_table(words::BENCH_FACE_DEPTH, &stations, self.unit)
    }

    fn outside(&self, step: &Step, order: &Order, shown: &mut StepShown) -> &'static str {
        words::STEP_OUTSIDE.text.clone_into(&mut shown.title);
        let rough = lathe::speeds(step.swings_mm().unwrap_or(0.0));
        let round = lathe::speeds(self.round_mm(order));
        shown.saw = vec![
            figure(words::ROW_BLANK_RPM, rpm(rough.slow_rpm)),
            figure(words::ROW_FINISHED_RPM, rpm(round.fast_rpm)),
        ];
        shown.list = vec![rim_speed(round.rim_m_s, self.unit)];
        let totals = &self.plan.totals;
        let weights = [
            (words::TOTAL_BLANK, totals.blank_kg),
            (words::TOTAL_FINISHED, totals.finished_kg),
        ];
        for (key, kilograms) in weights {
            shown
                .list
                .extend(kilograms.map(|it| figure(key, weight(it, self.unit))));
        }
        let (from, to) = (step.rings.start, step.rings.end);
        if let Some(balance) = balance(self.plan, from, to) {
            let pull_n = balance.pull_n(rough.slow_rpm);
            let offset_mm = balance.offset_mm();
            if offset_mm > 1e-6 {
                shown.list.push(noted(
                    words::ROW_OFF_CENTER,
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
        words::SAYS_OUTSIDE.text
    }

    fn part(&self, end: End, order: &Order, shown: &mut StepShown) -> &'static str {
        let (title, says) = match end {
            End::Foot => (words::STEP_PART_FOOT, words::SAYS_PART_FOOT.text),
            End::Rim => (words::STEP_PART_RIM, words::SAYS_PART_RIM.text),
        };
        title.text.clone_into(&mut shown.title);
        shown.saw = vec![self.end_figure(end)];
        let speeds = lathe::speeds(self.round_mm(order));
        shown.list = vec![figure(words::ROW_FINISHED_RPM, rpm(speeds.slow_rpm))];
        if let Some(wall) = &self.plan.wall {
            shown
                .saw
                .push(self.length(words::ROW_TALL, wall.outside.height_mm()));
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

    fn time(&self, word: words::Word) -> Figure {
        // A time not to be passed is rounded down.
        let open = self.times.open_min.floor().max(1.0);
        let shown = match word {
            words::ROW_OPEN_TIME => Shown::decimal(decimal(open, 0), "min", " minutes"),
            words::ROW_CLAMP_TIME => quantity::duration(self.times.clamp_min),
            words::ROW_TURN_TIME => quantity::duration(self.times.turn_min),
            _ => quantity::duration(self.times.stress_min),
        };
        let figure = figure(word, shown);
        if !self.times.is_too_cold {
            return figure;
        }
        // A warm room's times, said as what they are.
        let room = quantity::temperature(glue::ROOM_C, self.unit);
        let stay = quantity::duration(self.times.turn_min).line();
        let label = if word == words::ROW_STRESS_TIME {
            words::filled(words::ROW_AFTER_ROOM, &[&figure.label, &stay, &room])
        } else {
            words::filled(words::ROW_IN_ROOM, &[&figure.label, &room])
        };
        Figure { label, ..figure }
    }

    fn glue(&self) -> Vec<Figure> {
        let least_c = self.bench.glue.habits().least_c;
        let text = decimal(self.unit.shown_degrees(least_c), 0);
        let mark = self.unit.degrees_mark();
        let mut figures: Vec<Figure> = [
            words::ROW_OPEN_TIME,
            words::ROW_CLAMP_TIME,
            words::ROW_TURN_TIME,
            words::ROW_STRESS_TIME,
        ]
        .iter()
        .map(|word| self.time(*word))
        .collect();
        figures.push(figure(
            words::ROW_LEAST_C,
            Shown::decimal(text, mark, " degrees"),
        ));
        // A base, a block and strips for slots have theirs at their steps.
        figures.push(Figure {
            label: words::BENCH_GLUE_IN_ALL.text.to_owned(),
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

    fn plugs_shown(&self) -> Vec<PlugShown> {
        let step = |plug: usize, place: usize, step: &PlugStep| Figure {
            key: format!("plug.{plug}.{place}"),
            label: words::filled(words::BENCH_STEP, &[&(place + 1).to_string()]),
            shown: show(step.diameter_mm, self.unit),
            note: words::rings_within(&ring_numbers(&step.rings), step.rings.len()),
        };
        let plugs = self.plugs.iter().enumerate();
        plugs
            .map(|(plug, steps)| PlugShown {
                title: if self.plugs.len() > 1 {
                    words::filled(words::BENCH_PLUG_OF, &[&(plug + 1).to_string()])
                } else {
                    String::new()
                },
                steps: steps
                    .iter()
                    .enumerate()
                    .map(|(place, it)| step(plug, place, it))
                    .collect(),
            })
            .collect()
    }
}

/// Rings within a sentence: "ring 3", "the stack of rings 5 to 7".
fn rings_said(rings: &Range<usize>) -> String {
    if rings.len() == 1 {
        return words::rings_within(&(rings.start + 1).to_string(), 1);
    }
    let (first, last) = ((rings.start + 1).to_string(), rings.end.to_string());
    words::filled(words::BENCH_STACK_OF, &[&first, &last])
}

/// A block within a sentence.
fn block_name(block: Block, order: &Order) -> String {
    match block {
        Block::Of(End::Foot) => words::BENCH_BLOCK_FOOT.text.to_owned(),
        Block::Of(End::Rim) => words::BENCH_BLOCK_RIM.text.to_owned(),
        Block::Stack(at) => {
            words::filled(words::BENCH_BLOCK_STACK, &[&rings_said(&order.apart[at])])
        }
    }
}

/// Which face is glued on which, in words.
fn sides(step: &Step) -> Option<String> {
    let (face, to) = step.glued()?;
    let side = |side: Side| match side {
        Side::Foot => words::BENCH_SIDE_FOOT.text,
        Side::Rim => words::BENCH_SIDE_RIM.text,
    };
    match (step.chapter, to.piece) {
        (Chapter::Whole, _) => None,
        (_, Piece::Block(_)) => Some(words::filled(words::SAYS_SIDE_DOWN, &[side(face.side)])),
        (_, Piece::Ring(below)) if face.piece != Piece::Base => {
            let below = (below + 1).to_string();
            Some(words::filled(
                words::SAYS_SIDES,
                &[side(face.side), side(to.side), &below],
            ))
        }
        _ => None,
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
    use crate::plan::plan;

    fn shown(design: &Design) -> BenchScreen {
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
