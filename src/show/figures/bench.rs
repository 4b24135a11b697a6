//! What the Bench place shows: the order of work, each step with its numbers, and what
//! goes with it: glue, caliper stations, the centring plug.

mod account;
pub mod calendar;
pub mod clock;
pub mod evening;
mod extra;
pub(crate) mod finishing;
mod fold;
mod gluing;
pub mod logbook;
pub mod out_of_true;
mod ring;
mod stack;
pub(crate) mod tools;
mod turning;

use super::built::GluedRow;
use super::{Entry, Figure, Message, entry, figure};
use crate::design::field;
use crate::design::{Bench, Climate, Design, StackRing, Vessel};
use crate::edit::log;
use crate::plan::Plan;
use crate::plan::caution::{Caution, Placed, StripeCaution};
use crate::plan::order::facts::Block;
use crate::plan::order::{self, End, Order, Step, Ticked, Work, plugs};
use crate::plan::stack::StackPlan;
use crate::show::figures::lathe::{joint, whole_stations};
use crate::show::figures::table::Table;
use crate::show::thing::Thing;
use crate::show::words::{self};
use crate::trade::glue::{self, Times};
use crate::trade::plug::PlugStep;
use crate::units::length::{Unit, show};
use crate::units::quantity;
use serde::Serialize;
use std::ops::Range;

pub use fold::{ChapterShown, Fold};

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
    /// Of which wood, behind it, where it is one; else empty. Paper has it on the ring's sheet.
    pub of_wood: String,
    /// How.
    pub says: String,
    /// The same sentence by sentence, where much is done one after the other; else none.
    pub numbered: Vec<String>,
    /// The beginning of it that is of this step alone.
    #[serde(skip)]
    pub own: String,
    /// The figures that the hands need, at most three.
    pub saw: Vec<Figure>,
    /// The rest.
    pub list: Vec<Figure>,
    /// Whether the rest is what the hands need, and comes before how it is done.
    pub is_list_first: bool,
    /// Its caliper stations.
    pub stations: Table,
    /// What to look at first.
    pub cautions: Vec<Message>,
    /// The name of the thing that it makes or changes; empty where that is no single one.
    pub thing: String,
    /// The place of the ring that it finishes, which may be measured from then on.
    pub measures: Option<usize>,
    /// The halves that are turned in it, which may run out of true by then.
    pub may_run_out: Vec<MayRunOut>,
}

/// A half that may be out of true when a step begins.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct MayRunOut {
    /// The ring that is measured first, at its open face.
    pub ring: usize,
    /// What the button says.
    pub label: String,
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

/// What is chosen of the finish, and what follows.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct FinishShown {
    /// What goes on, in a few words.
    pub now: String,
    /// Its fields.
    pub entries: Vec<Entry>,
    /// The surface, the grits, and how much it takes.
    pub list: Vec<Figure>,
    /// What may harm.
    pub cautions: Vec<Message>,
    /// Where the figures are from, and what is held of food.
    pub notes: Vec<String>,
}

/// All that the Bench place says.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct BenchScreen {
    /// The steps.
    pub steps: Vec<StepShown>,
    /// The same as they are looked over.
    pub chapters: Vec<ChapterShown>,
    /// How many are done, in words.
    pub progress: String,
    /// One piece, or where the halves meet, in a word or two.
    pub meets: String,
    /// One piece, or where the halves meet, and why.
    pub meeting: String,
    /// The rings below the joint where the halves meet a ring lower; nothing where that
    /// cannot be.
    pub meet_lower: Option<usize>,
    /// The same a ring higher.
    pub meet_higher: Option<usize>,
    /// Whether the page chose.
    pub is_own: bool,
    /// The glue, and the shop's warmth, in a line.
    pub glue_now: String,
    /// The glue's times.
    pub glue: Vec<Figure>,
    /// What is wrong with the shop for this glue.
    pub glue_cautions: Vec<Message>,
    /// The finish.
    pub finish: FinishShown,
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
    let marks = log::marks(whole);
    let ticked = order::ticked(&marks, ticks);
    let chapters = fold::chapters(vessel, order, &ticked);
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
            fold::chapter_name(step.chapter, order).clone_into(&mut shown.chapter);
            chapter = Some(step.chapter);
        }
        steps.push(shown);
    }
    Some(BenchScreen {
        progress: words::filled(
            words::BENCH_DONE_OF,
            &[&done.to_string(), &steps.len().to_string()],
        ),
        steps,
        chapters,
        meets: meets(order.meeting),
        meeting: meeting_says(order),
        meet_lower: lower(order),
        meet_higher: higher(order, vessel),
        is_own: shop.bench.meet_above_ring.is_none(),
        glue_now: words::filled(
            words::BENCH_GLUE_NOW,
            &[
                words::by_key(&format!("choice.{}", shop.bench.glue.word())),
                &quantity::temperature(shop.air_c, shop.unit),
            ],
        ),
        glue: shop.glue(order),
        glue_cautions: shop.cold(shop.thickest_mm()).into_iter().collect(),
        finish: shop.finish_shown(),
        plugs: shop.plugs_shown(),
        stations: whole_stations(shop.plan),
        entries: entries(design),
        glued: super::built::rows(shop.plan),
    })
}

/// Where the halves meet a ring lower; 0 is one piece.
pub(super) fn lower(order: &Order) -> Option<usize> {
    order.meeting.checked_sub(1)
}

/// Where the halves meet a ring higher.
pub(super) fn higher(order: &Order, vessel: &Vessel) -> Option<usize> {
    Some(order.meeting + 1).filter(|ring| *ring < vessel.rings.len())
}

/// One piece, or where the halves meet.
fn meets(above_ring: usize) -> String {
    if above_ring == 0 {
        words::BENCH_OWN_ONE.text.to_owned()
    } else {
        words::filled(words::BENCH_OWN_ABOVE, &[&above_ring.to_string()])
    }
}

pub(super) fn meeting_says(order: &Order) -> String {
    let stages = order.halves.first().map_or(0, |half| half.stages.len());
    let is = match (order.meeting, stages) {
        (0, 0 | 1) => words::BENCH_ONE_PIECE.text.to_owned(),
        (0, _) => words::BENCH_ONE_IN_STAGES.text.to_owned(),
        (meeting, _) => words::filled(words::BENCH_TWO_HALVES, &[&meeting.to_string()]),
    };
    if order.meeting == order.own_meeting {
        return is;
    }
    let other = words::filled(words::BENCH_OTHER_SAYS, &[&meets(order.own_meeting)]);
    format!("{is} {other}")
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
            of_wood: String::new(),
            says: String::new(),
            numbered: Vec::new(),
            own: String::new(),
            saw: Vec::new(),
            list: Vec::new(),
            is_list_first: matches!(step.work, Work::Rip(_)),
            cautions: Vec::new(),
            stations: Table::default(),
            thing: Thing::of_step(step).name(),
            measures: None,
            may_run_out: Vec::new(),
        };
        let says = match &step.work {
            Work::Stripes => self.stripes(step, order, &mut shown),
            Work::Edges(group) => {
                let group = order.rips.get(*group).map_or(&[][..], Vec::as_slice);
                self.edges(group, step, order, &mut shown)
            }
            Work::Strips(set) => self.strips(*set, step, order, &mut shown),
            Work::Cut => self.cut(step, &mut shown),
            Work::Halves => self.halves(step, order, &mut shown),
            Work::TrueEnds => self.ends(step, &mut shown),
            Work::GlueUp => self.glue_up(step, order, &mut shown),
            Work::Flatten => self.flatten(step, order, &mut shown),
            Work::Block(block) => self.block(*block, step, order, &mut shown),
            Work::Mount(block) => self.mount(*block, step, order, &mut shown),
            Work::Stack(below) => self.stack(*below, step, order, &mut shown),
            Work::True(_) => self.stack_true(step, order, &mut shown),
            Work::Base(work) => self.base(*work, step, order, &mut shown),
            // These say more than one thing.
            Work::Rip(group) => {
                let group = order.rips.get(*group).map_or(&[][..], Vec::as_slice);
                shown.says = self.rip(group, &mut shown);
                ""
            }
            Work::Boards => {
                shown.says = self.boards(&mut shown);
                ""
            }
            Work::Inlay(set) => {
                shown.says = self.slots(*set, step, order, &mut shown);
                ""
            }
            Work::Inside(stage) => self.inside(stage, step, order, &mut shown),
            Work::TrueHalves => {
                words::STEP_TRUE_HALVES.text.clone_into(&mut shown.title);
                shown.saw = joint(self.plan, step.rings.start);
                shown.list.extend(Shop::blank_rpm(step));
                words::SAYS_TRUE_HALVES.text
            }
            Work::Join(_) => {
                words::STEP_JOIN.text.clone_into(&mut shown.title);
                shown.saw = vec![self.time(words::ROW_TURN_TIME), self.glue_of(step, order)];
                shown.list = vec![
                    self.time(words::ROW_OPEN_TIME),
                    self.time(words::ROW_CLAMP_TIME),
                ];
                shown.list.extend(self.turned(step));
                shown.cautions.extend(self.cold(self.height_mm(step)));
                words::SAYS_JOIN.text
            }
            Work::Outside => self.outside(step, order, &mut shown),
            Work::Finish => self.finish_step(order, &mut shown),
            Work::Finishing(work) => self.finishing(*work, order, &mut shown),
            Work::Part(end) => self.part(*end, order, &mut shown),
        };
        if !says.is_empty() {
            shown.says = format!("{}{says}", shown.own);
        }
        if let Some(sides) = Shop::sides(step) {
            shown.own = format!("{sides} ");
            shown.says = format!("{}{}", shown.own, shown.says);
        }
        if matches!(step.work, Work::Inlay(_)) {
            let sentences = shown.says.split_inclusive(". ");
            shown.numbered = sentences.map(|it| it.trim_end().to_owned()).collect();
        }
        self.tell_of_true(step, order, &mut shown);
        shown.cautions.extend(self.open_wall(step));
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
            (Caution::Stripes(it), Some(place)) => {
                let is_of_board = !matches!(it, StripeCaution::ShortPieces { .. });
                let work = if is_of_board {
                    Work::Stripes
                } else {
                    Work::Cut
                };
                step.work == work && place == ring
            }
            // A ring that is there already is not sawn any more.
            (_, Some(place)) if self.is_glued(place) => is_first,
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
            .map(|placed| {
                let message = words::caution(&placed.caution, self.unit);
                match placed.ring.filter(|place| self.is_glued(*place)) {
                    Some(place) => words::of_ring(place, message),
                    None => message,
                }
            })
            .collect()
    }

    fn is_glued(&self, place: usize) -> bool {
        self.vessel
            .rings
            .get(place)
            .is_some_and(StackRing::is_glued)
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
            let is_gluing = ["glue-", "mount-", "stack-", "base-glue"]
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
