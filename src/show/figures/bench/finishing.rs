//! Sanding and finish: the steps, and the part of the Bench place where they are chosen.

use super::{FinishShown, Shop, StepShown};
use crate::design::Design;
use crate::design::field;
use crate::plan::finish::{FinishPlan, finish};
use crate::plan::open_ring;
use crate::plan::order::{FinishWork, Order};
use crate::plan::surface::{Surface, surface};
use crate::plan::woods;
use crate::show::figures::lathe::rpm;
use crate::show::figures::{Entry, Figure, Message, entry, figure};
use crate::show::words::{self, Word};
use crate::trade::dust::{Dust, listed};
use crate::trade::finish::Finish;
use crate::trade::glue;
use crate::trade::lathe;
use crate::units::quantity::{self, in_words, number};

/// The plain name of a finish within a sentence.
pub(crate) fn name_of(kind: Finish) -> &'static str {
    let word = match kind {
        Finish::Later => words::FINISH_LATER,
        Finish::Bare => words::FINISH_BARE,
        Finish::HardeningOil => words::FINISH_HARDENING_OIL,
        Finish::StayingOil => words::FINISH_STAYING_OIL,
        Finish::Wax => words::FINISH_WAX,
        Finish::Film => words::FINISH_FILM,
    };
    word.text
}

/// A finish with its coats: `oil that hardens, 3 coats`.
pub(crate) fn finish_said(own: &FinishPlan) -> String {
    if own.coats == 0 {
        return name_of(own.kind).to_owned();
    }
    let coats = quantity::counted(own.coats as usize, "coat", "coats");
    words::filled(words::FINISH_COATS_OF, &[name_of(own.kind), &coats])
}

fn grits_figure(own: &FinishPlan) -> Figure {
    let grits: Vec<String> = own.grits.iter().map(u32::to_string).collect();
    figure(words::ROW_GRITS, in_words(grits.join(", ")))
}

impl Shop<'_> {
    pub(super) fn surface(&self) -> Surface {
        surface(self.plan).unwrap_or_default()
    }

    /// The one step that stands for all of it until a finish is chosen.
    pub(super) fn finish_step(&self, order: &Order, shown: &mut StepShown) -> &'static str {
        words::STEP_FINISH.text.clone_into(&mut shown.title);
        shown.saw = vec![
            self.time(words::ROW_STRESS_TIME),
            self.sanding_rpm(order),
            grits_figure(&finish(self.design)),
        ];
        words::SAYS_FINISH.text
    }

    fn sanding_rpm(&self, order: &Order) -> Figure {
        let speeds = lathe::speeds(self.round_mm(order));
        figure(words::ROW_SANDING_RPM, rpm(speeds.slow_rpm))
    }

    pub(super) fn finishing(
        &self,
        work: FinishWork,
        order: &Order,
        shown: &mut StepShown,
    ) -> &'static str {
        let own = finish(self.design);
        match work {
            FinishWork::Sand => self.sand(&own, order, shown),
            FinishWork::Dust => {
                words::STEP_DUST.text.clone_into(&mut shown.title);
                words::SAYS_DUST.text
            }
            FinishWork::Coat(coat) => self.coat(coat, &own, shown),
            FinishWork::Buff => {
                words::STEP_BUFF.text.clone_into(&mut shown.title);
                match own.kind {
                    Finish::Bare | Finish::Later => words::SAYS_BUFF_BARE.text,
                    Finish::StayingOil => words::SAYS_BUFF_STAYING.text,
                    _ => words::SAYS_BUFF.text,
                }
            }
            FinishWork::Sign => {
                words::STEP_SIGN.text.clone_into(&mut shown.title);
                let woods = &self.plan.totals().woods;
                let count: u32 = woods.iter().map(|it| it.piece_count).sum();
                shown.saw = vec![figure(words::ROW_PIECES, number(count.to_string()))];
                let said = in_words(finish_said(&own));
                shown.list = vec![figure(words::CARD_FINISH, said)];
                words::SAYS_SIGN.text
            }
        }
    }

    fn sand(&self, own: &FinishPlan, order: &Order, shown: &mut StepShown) -> &'static str {
        let [first, last] = [own.grits.first(), own.grits.last()]
            .map(|it| it.map_or_else(String::new, u32::to_string));
        shown.title = if first == last {
            words::filled(words::STEP_SAND_ONE, &[&first])
        } else {
            words::filled(words::STEP_SAND, &[&first, &last])
        };
        shown.saw = vec![
            self.time(words::ROW_STRESS_TIME),
            self.sanding_rpm(order),
            grits_figure(own),
        ];
        let all_mm2 = self.surface().all_mm2();
        shown.list = vec![figure(
            words::ROW_SURFACE_ALL,
            quantity::surface(all_mm2, self.unit),
        )];
        if self.has_gaps() {
            shown.own = format!("{} ", words::SAYS_SAND_GAPS.text);
        }
        shown.cautions.extend(self.dust());
        words::SAYS_SAND.text
    }

    fn coat(&self, coat: u32, own: &FinishPlan, shown: &mut StepShown) -> &'static str {
        let [number, count] = [coat + 1, own.coats].map(|it| it.to_string());
        shown.title = words::filled(words::STEP_COAT, &[&number, &count, name_of(own.kind)]);
        let amount_ml = own.coat_milliliters(self.surface().all_mm2(), coat);
        let wait = if coat + 1 == own.coats {
            words::ROW_BUFF_AFTER
        } else {
            words::ROW_NEXT_COAT
        };
        shown.saw = vec![
            figure(
                words::ROW_COAT_AMOUNT,
                super::gluing::amount(amount_ml, self.unit),
            ),
            figure(wait, quantity::duration(own.wait_min)),
        ];
        shown.cautions.extend(rags(own));
        match own.kind {
            Finish::StayingOil => words::SAYS_COAT_STAYING.text,
            Finish::Wax => words::SAYS_COAT_WAX.text,
            Finish::Film => words::SAYS_COAT_FILM.text,
            _ => words::SAYS_COAT_HARDENING.text,
        }
    }

    /// Whether segments stand apart somewhere.
    fn has_gaps(&self) -> bool {
        (0..self.plan.rings.len()).any(|place| open_ring::is_open(self.plan, place))
    }

    /// Woods of the piece whose dust is listed, and what is to be done.
    fn dust(&self) -> Vec<Message> {
        let used = self.vessel.woods_used();
        let names = || {
            used.iter()
                .filter_map(|place| self.vessel.woods.get(*place))
        };
        let is_listed = |name: &&String, as_what: Dust| {
            let known = woods::named(self.design, name);
            known.and_then(|wood| listed(wood.name)) == Some(as_what)
        };
        let told = |(word, as_what): (Word, Dust)| {
            let those = names().filter(|name| is_listed(name, as_what));
            let those: Vec<&str> = those.map(String::as_str).collect();
            (!those.is_empty()).then(|| {
                message(
                    words::filled(word, &[&those.join("; ")]),
                    words::DUST_REMEDY,
                )
            })
        };
        [
            (words::DUST_SENSITIZES, Dust::Sensitizes),
            (words::DUST_CONFIRMED, Dust::Confirmed),
            (words::DUST_SUSPECTED, Dust::Suspected),
        ]
        .into_iter()
        .filter_map(told)
        .collect()
    }

    /// What is chosen of the finish, and what follows.
    pub(super) fn finish_shown(&self) -> FinishShown {
        let own = finish(self.design);
        let mut cautions: Vec<Message> = rags(&own).into_iter().collect();
        if own.coats > 0 && own.kind != Finish::StayingOil {
            let air = words::FINISH_AIR.text.to_owned();
            cautions.push(message(air, words::FINISH_AIR_REMEDY));
        }
        cautions.extend(self.dust());
        let mut notes = Vec::new();
        if own.coats > 0 {
            let room = quantity::temperature(glue::ROOM_C, self.unit);
            notes.push(words::filled(words::FINISH_DRIES, &[&room]));
            notes.push(words::FINISH_RAG_TAKES.text.to_owned());
        }
        notes.extend(food(own.kind).map(|it| it.text.to_owned()));
        FinishShown {
            now: finish_said(&own),
            entries: entries(self.design, &own),
            list: self.finish_list(&own),
            cautions,
            notes,
        }
    }

    fn finish_list(&self, own: &FinishPlan) -> Vec<Figure> {
        let found = self.surface();
        let parts = [
            (words::ROW_SURFACE_OUTSIDE, found.outside_mm2),
            (words::ROW_SURFACE_INSIDE, found.inside_mm2),
            (words::ROW_SURFACE_ENDS, found.rim_mm2 + found.foot_mm2),
            (words::ROW_SURFACE_GAPS, found.gaps_mm2),
            (words::ROW_SURFACE_ALL, found.all_mm2()),
        ];
        let mut list: Vec<Figure> = parts
            .into_iter()
            .filter(|it| it.1 > 0.0)
            .map(|(word, mm2)| figure(word, quantity::surface(mm2, self.unit)))
            .collect();
        list.push(grits_figure(own));
        let Some(habits) = own.kind.habits() else {
            return list;
        };
        let coats = quantity::counted(own.coats as usize, "coat", "coats");
        let all_ml = own.kind.milliliters(found.all_mm2(), own.coats);
        let goes_over = [habits.first_m2_l, habits.next_m2_l];
        let spread = quantity::spread(goes_over, self.unit);
        list.extend([
            Figure {
                label: words::filled(words::ROW_COATS_AMOUNT, &[&coats]),
                ..figure(
                    words::ROW_COATS_AMOUNT,
                    super::gluing::amount(all_ml, self.unit),
                )
            },
            figure(words::ROW_SPREAD, in_words(spread)),
            figure(words::ROW_NEXT_COAT, quantity::duration(own.wait_min)),
        ]);
        list
    }
}

fn message(reason: String, remedy: Word) -> Message {
    Message {
        field: field::key::FINISH.to_owned(),
        reason,
        remedy: remedy.text.to_owned(),
    }
}

/// What rags with this finish may do.
fn rags(own: &FinishPlan) -> Option<Message> {
    let told = || message(words::RAGS.text.to_owned(), words::RAGS_REMEDY);
    own.kind.heats_rags().then(told)
}

/// What is commonly held of a finish that food touches.
fn food(kind: Finish) -> Option<Word> {
    match kind {
        Finish::Later => None,
        Finish::Bare => Some(words::FOOD_BARE),
        Finish::HardeningOil => Some(words::FOOD_HARDENING),
        Finish::StayingOil => Some(words::FOOD_STAYING),
        Finish::Wax => Some(words::FOOD_WAX),
        Finish::Film => Some(words::FOOD_FILM),
    }
}

/// The fields; of coats only where some go on.
fn entries(design: &Design, own: &FinishPlan) -> Vec<Entry> {
    let design = design.with_finish();
    let whole = crate::design::read::to_value(&design);
    let is_of_coats = |key: &str| ["finish.coats", "finish.wait_h"].contains(&key);
    field::FIELDS
        .iter()
        .filter(|field| field.key.starts_with("finish."))
        .map(|field| Entry {
            is_hidden: is_of_coats(field.key) && own.kind.habits().is_none(),
            ..entry(&design, &whole, field, field.key)
        })
        .collect()
}
