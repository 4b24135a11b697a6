//! The glue: its times, its pressure, how much of it, and whether the shop is too cold.

use super::Shop;
use crate::design::StackRing;
use crate::plan::base::BasePlan;
use crate::plan::caution::Caution;
use crate::plan::inlay::SetPlan;
use crate::plan::need::Edges;
use crate::plan::order::facts::Block;
use crate::plan::order::{BaseWork, Order, Step, Work};
use crate::plan::rings;
use crate::show::figures::{Figure, Message, figure, noted};
use crate::show::words;
use crate::trade::glue;
use crate::trade::stripe::Board;
use crate::units::length::{Shown, Unit, decimal};
use crate::units::quantity::{self, MILLILITERS_PER_FLUID_OUNCE};

impl Shop<'_> {
    /// The clamp pressure for woods glued together, where the glue wants some; of those
    /// without a figure of their weight that of any wood.
    pub(super) fn pressure<'w>(&self, woods: impl Iterator<Item = &'w str>) -> Option<Figure> {
        let gravity = |wood: &str| crate::plan::woods::named(self.design, wood)?.specific_gravity;
        let mut gravities: Vec<f64> = woods.filter_map(gravity).collect();
        if gravities.is_empty() {
            gravities = vec![0.0, f64::MAX];
        }
        let each = gravities.into_iter();
        let each = each.filter_map(|gravity| self.bench.glue.pressure_pa(gravity));
        let (low, high) = each.reduce(|one, other| (one.0.min(other.0), one.1.max(other.1)))?;
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

    /// The clamp pressure for the woods of a ring. No tailstock presses a ring onto a stack
    /// so hard: there it is only pressed home.
    pub(super) fn pressure_on(&self, place: usize) -> Option<Figure> {
        let ring = self.vessel.rings.get(place).into_iter();
        let woods = ring.flat_map(StackRing::woods);
        let woods = woods.filter_map(|wood| self.vessel.woods.get(wood));
        self.pressure(woods.map(String::as_str))
    }

    /// The glue of a step.
    pub(super) fn glue_of(&self, step: &Step, order: &Order) -> Figure {
        self.glue_amount(self.glue_mm2(step, order))
    }

    /// The glue of all steps.
    pub(super) fn glue_in_all(&self, order: &Order) -> Figure {
        let steps = order.steps.iter();
        let area_mm2 = steps.map(|step| self.glue_mm2(step, order)).sum();
        Figure {
            label: words::BENCH_GLUE_IN_ALL.text.to_owned(),
            ..self.glue_amount(area_mm2)
        }
    }

    /// What the glue of a step covers, square millimeters.
    fn glue_mm2(&self, step: &Step, order: &Order) -> f64 {
        let place = step.rings.start;
        let base = order.base.as_ref();
        match &step.work {
            Work::Edges(group) => {
                let group = order.rips.get(*group).into_iter().flatten();
                let each = group.filter_map(|cut| {
                    Some(Edges::of(cut, self.design)?.glue_mm2(cut.count, cut.thickness_mm))
                });
                each.sum()
            }
            Work::Stripes => {
                let own = self
                    .plan
                    .rings
                    .get(place)
                    .and_then(|it| it.stripes.as_ref());
                own.and_then(|own| own.board.as_ref())
                    .map_or(0.0, Board::glue_mm2)
            }
            Work::Strips(set) => {
                let own = self.plan.slot_sets.get(*set).and_then(Option::as_ref);
                own.map_or(0.0, SetPlan::layers_glue_mm2)
            }
            Work::Halves => self.ring_glue_mm2(place) * (1.0 - self.last_share(place)),
            Work::GlueUp if order.is_of_halves(step) => {
                self.ring_glue_mm2(place) * self.last_share(place)
            }
            Work::GlueUp => self.ring_glue_mm2(place),
            // Its paper is glued on both sides.
            Work::Mount(Block::Stack(_)) => 2.0 * self.plan.glue_between_mm2(place, place),
            Work::Mount(_) => self.plan.glue_between_mm2(place, place),
            Work::Stack(below) => self.plan.glue_between_mm2(*below, place),
            Work::Join(_) => self.plan.glue_at_meeting_mm2(place),
            Work::Inlay(set) => {
                let own = self.plan.slot_sets.get(*set).and_then(Option::as_ref);
                own.map_or(0.0, SetPlan::glue_mm2)
            }
            Work::Base(BaseWork::GlueUp) => base.map_or(0.0, BasePlan::own_glue_mm2),
            Work::Base(BaseWork::Set) => {
                let glued = base.filter(|it| it.is_safe() == Some(true));
                glued.map_or(0.0, BasePlan::set_glue_mm2)
            }
            _ => 0.0,
        }
    }

    fn ring_glue_mm2(&self, place: usize) -> f64 {
        let ring = self.vessel.rings.get(place).zip(self.plan.rings.get(place));
        ring.map_or(0.0, |(ring, planned)| rings::ring_glue_mm2(ring, planned))
    }

    /// The share of the two joints in which the halves of a ring meet.
    fn last_share(&self, place: usize) -> f64 {
        let ring = self.vessel.rings.get(place);
        ring.map_or(0.0, |ring| 2.0 / f64::from(ring.segment_count))
    }

    fn glue_amount(&self, area_mm2: f64) -> Figure {
        let milliliters = glue::milliliters(self.bench.glue, area_mm2);
        noted(
            words::ROW_GLUE_AMOUNT,
            amount(milliliters, self.unit),
            quantity::glue_area(area_mm2, self.unit),
        )
    }

    pub(super) fn time(&self, word: words::Word) -> Figure {
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

    pub(super) fn glue(&self, order: &Order) -> Vec<Figure> {
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
        figures.push(self.glue_in_all(order));
        figures
    }

    /// The caution for a cold shop, for wood of this thickness.
    pub(super) fn cold(&self, thickness_mm: f64) -> Option<Message> {
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

    /// The thickest piece that is glued: it warms slowest.
    pub(super) fn thickest_mm(&self) -> f64 {
        self.vessel
            .rings
            .iter()
            .map(|ring| ring.height_mm)
            .fold(0.0, f64::max)
    }
}

/// Next to nothing is still told as the least that is told, not as nothing.
fn some(amount: f64, least: f64) -> f64 {
    if amount > 0.0 { amount.max(least) } else { 0.0 }
}

/// An amount of glue or finish: bottles are in fluid ounces where tapes are in inches.
pub(super) fn amount(milliliters: f64, unit: Unit) -> Shown {
    if unit.is_inch() {
        let ounces = milliliters / MILLILITERS_PER_FLUID_OUNCE;
        Shown::decimal(decimal(some(ounces, 0.01), 2), "fl oz", " fluid ounces")
    } else {
        Shown::decimal(decimal(some(milliliters, 0.1), 1), "mL", " milliliters")
    }
}
