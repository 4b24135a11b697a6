//! The steps that glue rings on: onto a block, onto each other, and the centering plugs.

use super::{PlugShown, Shop, StepShown, block_name, number_of, rings_said};
use crate::plan::bill::ring_numbers;
use crate::plan::order::facts::{Block, Piece, Side};
use crate::plan::order::{self, Centring, Chapter, Order, Step, Way, Work, turn_of};
use crate::plan::rings::Made;
use crate::show::figures::lathe::joint;
use crate::show::figures::open_ring;
use crate::show::figures::{Figure, figure};
use crate::show::words::{self, Word};
use crate::trade::plug::{self, PlugStep};
use crate::units::length::show;
use crate::units::quantity::shown_degrees;

impl Shop<'_> {
    pub(super) fn mount(
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
            _ if step.sets_singly() => {
                words::filled(words::STEP_MOUNT_OPEN, &[&number_of(step), &on])
            }
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
            self.length(self.around(place, is_base), around_mm),
            self.time(words::ROW_TURN_TIME),
        ];
        shown.saw.push(self.glue_of(step, order));
        shown.list = vec![
            self.time(words::ROW_OPEN_TIME),
            self.time(words::ROW_CLAMP_TIME),
        ];
        shown.cautions.extend(self.cold(self.height_mm(step)));
        if step.sets_singly() {
            shown.list.extend(open_ring::list(self.plan, place));
            return words::SAYS_MOUNT_OPEN.text;
        }
        if is_own {
            words::SAYS_MOUNT_STACK.text
        } else {
            words::SAYS_MOUNT.text
        }
    }

    /// What the circle to draw is for: what is sawn round has no corners.
    fn around(&self, place: usize, is_base: bool) -> Word {
        let made = self.plan.rings.get(place).map(|ring| ring.made);
        if is_base || matches!(made, Some(Made::Disc | Made::Plies)) {
            words::ROW_AROUND_DISC
        } else {
            words::ROW_AROUND
        }
    }

    /// How far a ring reaches when it comes on: one of a stack may be round by then.
    pub(super) fn corners_mm(&self, place: usize, is_building: bool, order: &Order) -> f64 {
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

    pub(super) fn stack(
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
            None if step.sets_singly() => {
                words::filled(words::STEP_STACK_OPEN, &[&under, &number_of(step)])
            }
            None => words::filled(words::STEP_STACK, &[&under, &number_of(step)]),
        };
        let rings = self.plan.rings.get(below).zip(self.plan.rings.get(place));
        let reach_mm = self.corners_mm(place, is_apart, order);
        let is_round = rings.is_some_and(|(_, above)| reach_mm < above.reach_mm);
        let centring =
            rings.map(|(below, above)| order::centring(below, above, reach_mm, is_round));
        match centring {
            Some(Centring::Around(diameter)) => {
                let around = self.around(place, is_round);
                shown.saw.push(self.length(around, diameter));
            }
            Some(Centring::Within(diameter)) => {
                shown.saw.push(self.length(words::ROW_WITHIN, diameter));
            }
            Some(Centring::Out(by)) => {
                let out = if is_round {
                    words::ROW_ROUND_OUT
                } else {
                    words::ROW_CORNERS_OUT
                };
                shown.saw.push(self.length(out, by));
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
        shown.saw.push(self.glue_of(step, order));
        shown.list.extend([
            self.time(words::ROW_OPEN_TIME),
            self.time(words::ROW_CLAMP_TIME),
        ]);
        shown.list.extend(Shop::blank_rpm(step));
        shown.list.extend(self.turned(step));
        shown.list.extend(joint(self.plan, below.min(place)));
        shown.cautions.extend(self.cold(self.height_mm(step)));
        if step.sets_singly() {
            shown.list.extend(open_ring::list(self.plan, place));
            return words::SAYS_STACK_OPEN.text;
        }
        if step.rounds().next().is_some() {
            words::SAYS_STACK.text
        } else {
            words::SAYS_STACK_FLAT.text
        }
    }

    /// A stack turned true on its block and split off it.
    pub(super) fn stack_true(
        &self,
        step: &Step,
        order: &Order,
        shown: &mut StepShown,
    ) -> &'static str {
        let rings = rings_said(&step.rings);
        let widest_mm = step.rounds().map(|it| it.1).reduce(f64::max);
        let height_mm = self.stack_height_mm(step, order);
        shown
            .saw
            .push(self.length(words::ROW_STACK_HEIGHT, height_mm));
        shown.saw.extend(Shop::blank_rpm(step));
        let Some(widest_mm) = widest_mm else {
            shown.title = words::filled(words::STEP_STACK_ENDS, &[&rings]);
            return words::SAYS_STACK_ENDS.text;
        };
        let diameter = show(widest_mm, self.unit).whole_line();
        shown.title = words::filled(words::STEP_STACK_ROUND, &[&rings, &diameter]);
        shown
            .saw
            .insert(0, self.length(words::ROW_STACK_DIAMETER, widest_mm));
        // Each within its own flats: the narrower ones cannot be as wide as the widest.
        shown.list = step
            .rounds()
            .filter_map(|(piece, diameter_mm)| match piece {
                Piece::Ring(place) => Some(Figure {
                    label: words::filled(words::ROW_ROUND_TO, &[&(place + 1).to_string()]),
                    key: format!("bench.round.{place}"),
                    ..self.length(words::ROW_ROUND_TO, diameter_mm)
                }),
                _ => None,
            })
            .collect();
        words::SAYS_STACK_ROUND.text
    }

    /// How high the stack of its own that a step is about is once the step is done.
    pub(super) fn stack_height_mm(&self, step: &Step, order: &Order) -> f64 {
        let height_mm = |place: usize| {
            let ring_mm = self.vessel.rings.get(place).map_or(0.0, |it| it.height_mm);
            ring_mm + self.still_lost_mm(place, step, order)
        };
        let stack = order.apart_of(step.rings.start).unwrap_or(&step.rings);
        stack.clone().map(height_mm).sum()
    }

    /// How far a ring is turned against the one that it comes on.
    pub(super) fn turned(&self, step: &Step) -> Option<Figure> {
        let turn = turn_of(self.vessel, step)?;
        let label = match turn.way {
            Way::Either => words::ROW_TURNED,
            Way::AgainstClock => words::ROW_TURNED_AGAINST,
            Way::WithClock => words::ROW_TURNED_WITH,
        };
        Some(Figure {
            label: words::filled(label, &[&(turn.below + 1).to_string()]),
            ..figure(words::ROW_TURNED, shown_degrees(turn.angle_rad))
        })
    }

    pub(super) fn plug_step(&self, place: usize) -> Option<Figure> {
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

    pub(super) fn plugs_shown(&self) -> Vec<PlugShown> {
        let step = |plug: usize, place: usize, step: &PlugStep| Figure {
            key: format!("plug.{plug}.{place}"),
            label: words::filled(words::BENCH_STEP, &[&(place + 1).to_string()]),
            shown: show(step.diameter_mm, self.unit),
            note: words::rings_within(&ring_numbers(&step.rings), step.rings.len()),
        };
        // Who turns a plug in place of printing it needs these too.
        let bore_mm = self.design.bench_or_usual().plug_bore_mm;
        let sizes = [plug::STEP_MM, bore_mm].map(|it| show(it, self.unit).whole_line());
        let plugs = self.plugs.iter().enumerate();
        plugs
            .map(|(plug, steps)| PlugShown {
                title: words::filled(
                    words::BENCH_PLUG_OF,
                    &[&(plug + 1).to_string(), &sizes[0], &sizes[1]],
                ),
                steps: steps
                    .iter()
                    .enumerate()
                    .map(|(place, it)| step(plug, place, it))
                    .collect(),
            })
            .collect()
    }

    /// Which face is glued on which, in words.
    pub(super) fn sides(step: &Step) -> Option<String> {
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
}
