//! The steps at the lathe: blocks, the inside, the outside, parting off.

use super::{Shop, StepShown, block_name};
use crate::plan::caution::Caution;
use crate::plan::open_ring;
use crate::plan::order::balance::balance;
use crate::plan::order::facts::{Block, FinishWork};
use crate::plan::order::{End, Order, Stage, Step, Work};
use crate::show::figures::lathe::{rim_speed, rpm, station_table};
use crate::show::figures::table::Table;
use crate::show::figures::{Figure, figure, noted};
use crate::show::words::{self, Message};
use crate::trade::lathe;
use crate::units::length::{no_less, show};
use crate::units::quantity::{self, weight};
use std::ops::Range;

/// A ring whose inside ends so little above the floor has none to turn: both heights are worked
/// out by ways of their own.
const LEAST_HOLLOW_MM: f64 = 0.01;

impl Shop<'_> {
    pub(super) fn block(
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
        shown.saw = [
            (words::ROW_BLOCK_DIAMETER, diameter_mm),
            (words::ROW_BLOCK_THICKNESS, lathe::BLOCK_MM),
            (words::ROW_FACEPLATE, carried_mm * lathe::FACEPLATE_SHARE),
        ]
        .map(|(word, least_mm)| figure(word, no_less(least_mm, self.unit)))
        .to_vec();
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

    /// What to mind where a wall with air in it turns under the tool.
    pub(super) fn open_wall(&self, step: &Step) -> Option<Message> {
        let is_turned = matches!(
            step.work,
            Work::Inside(_)
                | Work::Outside
                | Work::True(_)
                | Work::Finish
                | Work::Finishing(FinishWork::Sand)
        );
        let is_open = step
            .rings
            .clone()
            .any(|place| open_ring::is_open(self.plan, place));
        (is_turned && is_open).then(|| Message {
            field: String::new(),
            reason: words::SAYS_OPEN_WALL.text.to_owned(),
            remedy: String::new(),
        })
    }

    /// The bound while there are corners, for all that turns in a step.
    pub(super) fn blank_rpm(step: &Step) -> Option<Figure> {
        let speeds = lathe::speeds(step.swings_mm()?);
        Some(figure(words::ROW_BLANK_RPM, rpm(speeds.slow_rpm)))
    }

    /// The widest once all is round: the piece finished, or a block.
    pub(super) fn round_mm(&self, order: &Order) -> f64 {
        let blocks = order.steps.iter();
        let blocks = blocks.filter(|step| matches!(step.work, Work::Block(Block::Of(_))));
        blocks
            .filter_map(Step::swings_mm)
            .fold(self.finished_mm(&(0..self.vessel.rings.len())), f64::max)
    }

    /// The finished diameter of an end.
    pub(super) fn end_figure(&self, end: End) -> Figure {
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

    /// The lowest of some rings that has an inside to turn: those that end at the floor or
    /// below it have none.
    fn first_hollow(&self, rings: &Range<usize>) -> usize {
        let floor_mm = self.plan.wall.as_ref().map_or(0.0, |wall| wall.floor_mm);
        let is_hollow = |place: &usize| {
            let ring = self.plan.rings.get(*place);
            ring.is_some_and(|ring| ring.span.top_mm > floor_mm + LEAST_HOLLOW_MM)
        };
        rings.clone().find(is_hollow).unwrap_or(rings.start)
    }

    pub(super) fn inside(
        &self,
        stage: &Stage,
        step: &Step,
        order: &Order,
        shown: &mut StepShown,
    ) -> &'static str {
        let [first, last] = [self.first_hollow(&stage.rings) + 1, stage.rings.end];
        shown.title = if first == last {
            words::filled(words::STEP_INSIDE_ONE, &[&first.to_string()])
        } else {
            words::filled(words::STEP_INSIDE, &[&first.to_string(), &last.to_string()])
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
            self.beyond_rest(stage),
        ];
        // In one piece the outside is shaped before the last of the inside.
        let is_outside_done = stage.before.is_none() && order.halves.len() == 1;
        let on = half.map(|half| half.on);
        shown.stations = self.stations_in(&stage.rings, on, is_outside_done);
        if !stage.is_reached {
            let caution = Caution::OutOfReach {
                depth_mm: stage.depth_mm,
                opening_mm: stage.opening_mm,
                overhang_mm: stage.overhang_mm,
            };
            shown.cautions.push(words::caution(&caution, self.unit));
        }
        if is_outside_done {
            words::SAYS_INSIDE_LAST.text
        } else {
            words::SAYS_INSIDE.text
        }
    }

    fn beyond_rest(&self, stage: &Stage) -> Figure {
        let word = if stage.rest_in_mm > 0.0 {
            words::ROW_OVERHANG_IN
        } else {
            words::ROW_OVERHANG_OUT
        };
        let rest = show(stage.rest_in_mm, self.unit).line();
        Figure {
            label: words::filled(word, &[&rest]),
            ..self.length(word, stage.overhang_mm)
        }
    }

    /// The stations within some rings, counted from the face that is open while this end
    /// is on the block. An outside that still has its corners has its diameters later.
    fn stations_in(&self, rings: &Range<usize>, on: Option<End>, is_outside_done: bool) -> Table {
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
        let outside = if is_outside_done {
            words::TABLE_OUTSIDE
        } else {
            words::BENCH_OUTSIDE_LATER
        };
        let heads = [words::BENCH_FACE_DEPTH, outside];
        station_table(heads, &stations, self.unit)
    }

    pub(super) fn outside(
        &self,
        step: &Step,
        order: &Order,
        shown: &mut StepShown,
    ) -> &'static str {
        words::STEP_OUTSIDE.text.clone_into(&mut shown.title);
        let rough = lathe::speeds(step.swings_mm().unwrap_or(0.0));
        let round = lathe::speeds(self.round_mm(order));
        shown.saw = vec![
            figure(words::ROW_BLANK_RPM, rpm(rough.slow_rpm)),
            figure(words::ROW_FINISHED_RPM, rpm(round.fast_rpm)),
        ];
        shown.list = vec![rim_speed(round.rim_m_s, self.unit)];
        let totals = &self.plan.totals();
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

    pub(super) fn part(&self, end: End, order: &Order, shown: &mut StepShown) -> &'static str {
        let (title, says) = match end {
            End::Foot => (words::STEP_PART_FOOT, words::SAYS_PART_FOOT.text),
            End::Rim => (words::STEP_PART_RIM, words::SAYS_PART_RIM.text),
        };
        title.text.clone_into(&mut shown.title);
        shown.saw = vec![self.end_figure(end)];
        if end == End::Rim && self.stands_far_out() {
            shown.own = format!("{} ", words::SAYS_STEADY.text);
        }
        let speeds = lathe::speeds(self.round_mm(order));
        shown.list = vec![figure(words::ROW_FINISHED_RPM, rpm(speeds.slow_rpm))];
        if let Some(wall) = &self.plan.wall {
            shown
                .saw
                .push(self.length(words::ROW_TALL, wall.outside.height_mm()));
        }
        let wall = self.plan.wall.as_ref();
        let end_mm = wall.map(|wall| {
            let height_mm = wall.outside.height_mm();
            let [foot_mm, rim_mm] = [0.0, height_mm].map(|z| 2.0 * wall.outside.radius_at(z));
            match end {
                End::Foot => foot_mm,
                End::Rim => rim_mm,
            }
        });
        let (neck_mm, says) = match (end, self.plan.foot_neck_mm()) {
            (End::Foot, Some(neck_mm)) => (Some(neck_mm), words::SAYS_PART_FOOT_OPEN.text),
            _ => (end_mm.map(|it| it * lathe::NECK_SHARE), says),
        };
        let neck = neck_mm.map(|it| self.length(words::ROW_NECK, it));
        shown.saw.extend(neck);
        says
    }

    /// Whether the piece reaches so far from its foot that a light hand alone would make it
    /// shake (common practice, no published source).
    fn stands_far_out(&self) -> bool {
        let wall = self.plan.wall.as_ref();
        wall.is_some_and(|wall| wall.outside.height_mm() > 4.0 * wall.outside.radius_at(0.0))
    }
}
