//! The steps that make a ring: cut, glued up, made flat.

use super::{Shop, StepShown, number_of};
use crate::design::{Between, Laid, MadeOf, RingsClose};
use crate::plan::order::facts::{Fact, Piece};
use crate::plan::order::{Order, Step};
use crate::plan::ring::last_joint;
use crate::show::figures::{self, Figure, figure};
use crate::show::words;
use crate::trade::closing::{Halves, OpenAt};
use crate::trade::lathe;
use crate::trade::round::Alike;
use crate::trade::stripe::FirstCut;
use crate::units::length::{MM_PER_INCH, decimal};
use crate::units::quantity;

/// What the figures of halves are told for: a tenth of a degree, which a gauge set with care is
/// off by (common practice, no published source).
const OFF_DEG: f64 = 0.1;

impl Shop<'_> {
    /// The striped board of a ring.
    pub(super) fn stripes(
        &self,
        step: &Step,
        order: &Order,
        shown: &mut StepShown,
    ) -> &'static str {
        shown.title = words::filled(words::STEP_STRIPES, &[&number_of(step)]);
        let place = step.rings.start;
        let alone = self.plan.ring(place);
        let Some((ring, own)) = alone
            .as_ref()
            .and_then(|it| Some((it, it.stripes.as_ref()?)))
        else {
            return "";
        };
        shown.list = figures::stripe::board(self.design, ring, own);
        shown.saw = vec![
            self.time(words::ROW_CLAMP_TIME),
            self.time(words::ROW_OPEN_TIME),
        ];
        let board = own.board.as_ref();
        if let Some(board) = board {
            shown.saw.push(self.glue_of(step, order));
            shown.cautions.extend(self.cold(board.stack_mm));
        }
        if board.is_some_and(|it| it.first_cut == FirstCut::None) {
            words::SAYS_STRIPES_LEVEL.text
        } else {
            words::SAYS_STRIPES.text
        }
    }

    pub(super) fn cut(&self, step: &Step, shown: &mut StepShown) -> &'static str {
        let place = step.rings.start;
        let ring = &self.vessel.rings[place];
        if ring.made_of == MadeOf::Disc {
            shown.title = words::filled(words::STEP_DISC, &[&number_of(step)]);
            let planned = self.plan.rings.get(place);
            let thickness = planned.map_or(ring.height_mm, |it| it.wanted.strip_height_mm());
            shown.saw = vec![
                self.length(words::ROW_DISC, 2.0 * self.reach_mm(&step.rings)),
                self.length(words::ROW_DISC_THICKNESS, thickness),
            ];
            return words::SAYS_DISC.text;
        }
        let count = ring.segment_count.to_string();
        shown.title = words::filled(words::STEP_CUT, &[&number_of(step), &count]);
        if let Some(alone) = self.plan.ring(place) {
            shown.saw = figures::saw(self.design, &alone);
            shown.list = figures::stripe::list(self.design, &alone);
            // Several woods stand with their strips already.
            if let [wood] = alone.woods.as_slice() {
                shown.of_wood = words::filled(words::STEP_OF_WOOD, &[&wood.name]);
            }
        }
        match ring.striped() {
            Some(it) if it.slant_deg > 0.0 && it.laid == Laid::Chevron => {
                words::SAYS_CUT_CHEVRON.text
            }
            Some(it) if it.slant_deg > 0.0 => words::SAYS_CUT_SLANT.text,
            _ if ring.round().is_even() => words::SAYS_CUT.text,
            _ => words::SAYS_CUT_UNLIKE.text,
        }
    }

    /// Two halves glued, their ends kept apart.
    pub(super) fn halves(&self, step: &Step, order: &Order, shown: &mut StepShown) -> &'static str {
        shown.title = words::filled(words::STEP_HALVES, &[&number_of(step)]);
        let place = step.rings.start;
        shown.saw = vec![
            self.time(words::ROW_CLAMP_TIME),
            self.time(words::ROW_OPEN_TIME),
            self.glue_of(step, order),
        ];
        let count = self
            .vessel
            .rings
            .get(place)
            .map_or(0, |it| it.segment_count);
        let each = quantity::number((count / 2).to_string());
        shown.list = vec![figure(words::ROW_IN_EACH_HALF, each)];
        shown.list.extend(self.pressure_on(place));
        shown.list.push(self.time(words::ROW_TURN_TIME));
        shown.cautions.extend(self.cold(self.height_mm(step)));
        words::SAYS_HALVES.text
    }

    /// The ends of both made flat, and what an error of the saw costs then.
    pub(super) fn ends(&self, step: &Step, shown: &mut StepShown) -> &'static str {
        shown.title = words::filled(words::STEP_ENDS, &[&number_of(step)]);
        let planned = self.plan.rings.get(step.rings.start);
        let joint = planned.and_then(|it| last_joint(&it.wanted, &it.alike));
        let error_rad = OFF_DEG.to_radians();
        let both = joint.and_then(|it| Some([it.halves(error_rad)?, it.halves(-error_rad)?]));
        if let Some(both) = both {
            let most = |of: fn(&Halves) -> f64| both.iter().map(of).fold(0.0, f64::max);
            let off = decimal(OFF_DEG, 1);
            let row = |word: words::Word, length_mm: f64| Figure {
                label: words::filled(word, &[&off]),
                ..figure(word, quantity::fine(length_mm, self.unit))
            };
            shown.saw = vec![
                row(words::ROW_ENDS_SANDED, most(|it| it.sanded_mm)),
                row(words::ROW_ENDS_LOST, most(|it| it.lost_mm)),
            ];
            shown.list = vec![
                row(words::ROW_ENDS_HOLE, most(|it| it.hole_mm)),
                row(words::ROW_ENDS_OUT_OF_ROUND, most(|it| it.out_of_round_mm)),
            ];
        }
        words::SAYS_ENDS.text
    }

    pub(super) fn glue_up(
        &self,
        step: &Step,
        order: &Order,
        shown: &mut StepShown,
    ) -> &'static str {
        let place = step.rings.start;
        if order.is_of_halves(step) {
            shown.title = words::filled(words::STEP_CLOSE, &[&number_of(step)]);
            shown.saw = vec![
                self.time(words::ROW_CLAMP_TIME),
                self.time(words::ROW_OPEN_TIME),
                self.glue_of(step, order),
            ];
            shown.list = vec![self.time(words::ROW_TURN_TIME)];
            shown.cautions.extend(self.cold(self.height_mm(step)));
            return words::SAYS_CLOSE.text;
        }
        shown.title = words::filled(words::STEP_GLUE, &[&number_of(step)]);
        let wants_halves = self.bench.rings_close == RingsClose::InHalves;
        if wants_halves && self.vessel.rings[place].between != Between::Gap {
            shown.own = format!("{} ", words::SAYS_NO_HALVES.text);
        }
        let ring = &self.vessel.rings[place];
        shown.saw = vec![
            self.time(words::ROW_CLAMP_TIME),
            self.time(words::ROW_OPEN_TIME),
            self.glue_of(step, order),
        ];
        let planned = self.plan.rings.get(place);
        if let Some((planned, segment)) = planned.and_then(|it| Some((it, it.segment.as_ref()?))) {
            if let [widest, .., narrowest] = &planned.alike[..] {
                let out_mm = |it: &Alike| it.segment.face_ends_mm()[1];
                let circle_mm = segment.largest_circle_mm;
                let list = &mut shown.list;
                list.push(self.length(words::ROW_CIRCLE_DRAWN, circle_mm));
                let beyond_mm = out_mm(widest) - out_mm(narrowest);
                list.push(self.length(words::ROW_CORNER_BEYOND, beyond_mm));
            }
            // As feelers are marked.
            let gap_mm = if self.unit.is_inch() {
                MM_PER_INCH / 100.0
            } else {
                0.2
            };
            // Where it touches at one edge; past what an error of the saw could open there is none.
            let joint = last_joint(&planned.wanted, &planned.alike);
            let error = joint.map(|it| it.error_rad(gap_mm, OpenAt::Outside));
            if let Some(Ok(error)) = error {
                let open = quantity::fine(gap_mm, self.unit).line();
                shown.list.push(Figure {
                    label: words::filled(words::ROW_OPEN_JOINT, &[&open]),
                    ..figure(words::ROW_OPEN_JOINT, quantity::fine_degrees(error))
                });
            }
        }
        shown.list.extend(self.pressure_on(place));
        shown.list.push(self.time(words::ROW_TURN_TIME));
        shown.cautions.extend(self.cold(ring.height_mm));
        if !ring.round().is_even() {
            return words::SAYS_GLUE_UNLIKE.text;
        }
        words::SAYS_GLUE.text
    }

    /// What a ring's faces still lose after a step, each time that one is made flat; its
    /// strips hold no more than the allowance, and one that is glued already nothing.
    pub(super) fn still_lost_mm(&self, place: usize, step: &Step, order: &Order) -> f64 {
        let Some(planned) = self.plan.rings.get(place) else {
            return 0.0;
        };
        if self.is_glued(place) {
            return 0.0;
        }
        let later = order.steps.iter().skip_while(|it| it.id != step.id).skip(1);
        let is_of_it = |fact: &&Fact| matches!(fact, Fact::Face(face) | Fact::Flatten(face) if face.piece == Piece::Ring(place));
        let faced = later.flat_map(|it| &it.facts).filter(is_of_it).count();
        (faced as f64 * lathe::FACED_MM).min(2.0 * planned.wanted.face_allowance_mm)
    }

    pub(super) fn flatten(
        &self,
        step: &Step,
        order: &Order,
        shown: &mut StepShown,
    ) -> &'static str {
        shown.title = words::filled(words::STEP_FLAT, &[&number_of(step)]);
        let place = step.rings.start;
        shown.measures = Some(place);
        let height_mm = self.height_mm(step);
        let lost_mm = self.still_lost_mm(place, step, order);
        let flat_mm = height_mm + lost_mm;
        shown.saw = vec![
            self.length(words::ROW_FLAT_TO, flat_mm),
            self.length(words::ROW_RING_HEIGHT, height_mm),
        ];
        if let Some(planned) = self.plan.rings.get(place) {
            let list = &mut shown.list;
            list.push(self.length(words::ROW_CORNERS, 2.0 * planned.reach_mm));
            if !self.is_glued(place) {
                let spare_mm = planned.wanted.strip_height_mm() - flat_mm;
                list.push(figure(
                    words::ROW_FLAT_SPARE,
                    quantity::fine(spare_mm.max(0.0), self.unit),
                ));
            }
        }
        words::SAYS_FLAT.text
    }
}
