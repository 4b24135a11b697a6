//! The steps beside the rings: boards, ripping, the base, the slots.

use super::{Shop, StepShown, number_of};
use crate::design::{BaseKind, BaseSet, SlotSet, StackHeld, StackIs};
use crate::plan::base::{BasePlan, dressed_plies};
use crate::plan::bill::{Cut, Piece, ring_numbers};
use crate::plan::caution::{Caution, SlotCaution, ThroughCaution};
use crate::plan::inlay::SetPlan;
use crate::plan::need::Edges;
use crate::plan::order::{BaseIs, BaseWork, Chapter, Order, Step};
use crate::plan::rings::flats_mm;
use crate::plan::sawing;
use crate::show::figures::{Figure, Message, boards, figure, inlay, wood};
use crate::show::words;
use crate::trade::closing::HAIR_MM;
use crate::trade::strip;
use crate::units::length::{at_least, show};
use crate::units::quantity::{counted, fine, in_words, number, shown_degrees};

/// How long boards are laid out for the list, in the search's own measure: so short that
/// a tick is not felt. The Wood place searches on.
pub(super) const WORK: u64 = 300_000;

fn titled(shown: &mut StepShown, word: words::Word) {
    word.text.clone_into(&mut shown.title);
}

impl Shop<'_> {
    /// The boards to take, or the wood to buy.
    pub(super) fn boards(&self, shown: &mut StepShown) -> String {
        let design = self.design;
        if design
            .rack
            .as_ref()
            .is_none_or(|rack| rack.boards.is_empty())
        {
            titled(shown, words::STEP_BUY);
            shown.saw = boards::estimate(self.whole);
            shown.list = shown.saw.split_off(shown.saw.len().min(3));
            shown.list.extend(boards::veneers(self.whole));
            return words::SAYS_BUY.text.to_owned();
        }
        titled(shown, words::STEP_BOARDS);
        let Some(found) = self.whole.boards(WORK) else {
            return String::new();
        };
        let told = boards::answer(design, &found, |_, _| String::new());
        if !found.layouts.is_empty() {
            shown.saw = vec![figure(words::BENCH_BOARDS, number(told.count))];
        }
        let rows = told.layouts.into_iter().enumerate();
        shown.list = rows
            .map(|(place, row)| Figure {
                key: format!("bench.board.{place}"),
                label: row.title,
                shown: in_words(row.strips.join("\n")),
                note: String::new(),
            })
            .collect();
        shown.list.extend(boards::veneers(self.whole));
        shown.cautions = told.failures;
        let says = (if found.is_done {
            words::SAYS_BOARDS
        } else {
            words::SAYS_BOARDS_SO_FAR
        })
        .text;
        format!("{} {says}", told.take).trim_start().to_owned()
    }

    /// The strips of one thickness.
    pub(super) fn rip(&self, group: &[Cut], shown: &mut StepShown) -> String {
        let thin = |cut: &Cut| self.whole.thin_strips(cut, WORK);
        let thickness_mm = group.first().map_or(0.0, |cut| cut.thickness_mm);
        let thickness = show(thickness_mm, self.unit).whole_line();
        shown.title = words::filled(words::STEP_RIP, &[&thickness]);
        shown.saw = vec![self.length(words::ROW_DISC_THICKNESS, thickness_mm)];
        shown.list = group
            .iter()
            .enumerate()
            .map(|(place, cut)| {
                let name = cut.wood.as_deref().unwrap_or(words::CUTS_SPACERS.text);
                let rings = cut.rings();
                let rings = if rings.is_empty() {
                    words::cut_name(cut).to_owned()
                } else {
                    words::rings_named(&ring_numbers(&rings), rings.len())
                };
                Figure {
                    key: format!("bench.rip.{place}"),
                    label: format!("{name}, {rings}"),
                    shown: in_words(words::ripped(cut, &thin(cut), self.design)),
                    note: self.planed_on(cut),
                }
            })
            .collect();
        if group.iter().all(Cut::is_veneer) {
            let thickness = fine(thickness_mm, self.unit);
            shown.title = words::filled(words::STEP_VENEER, &[&thickness.line()]);
            shown.saw = vec![figure(words::ROW_DISC_THICKNESS, thickness)];
            return words::SAYS_VENEER.text.to_owned();
        }
        let is_slot_strip = |cut: &Cut| matches!(cut.piece, Piece::SlotStrip { .. });
        if group.iter().all(is_slot_strip) {
            titled(shown, words::STEP_RIP_SLOTS);
            let thickness = show(thickness_mm, self.unit).whole_line();
            shown.own = words::filled(words::SAYS_RIP_SLOTS, &[&thickness]) + " ";
            shown.saw = vec![self.length(words::ROW_STICK_STANDS, thickness_mm)];
            let own = group.iter().enumerate();
            let sticks = own.filter(|(_, cut)| thin(cut).is_empty());
            let sticks = sticks.filter_map(|(place, cut)| self.stick(place, cut));
            shown.list.extend(sticks.collect::<Vec<_>>());
        }
        let is_thin_layer = |cut: &Cut| {
            let is_layer = matches!(cut.piece, Piece::Layer { .. });
            is_layer && cut.rings().is_empty()
        };
        if group.iter().all(is_thin_layer) {
            titled(shown, words::STEP_RIP_LAYERS);
            shown.own = words::filled(words::SAYS_RIP_LAYERS, &[&thickness]) + " ";
        }
        let is_block = |cut: &Cut| matches!(cut.piece, Piece::Disc { slices: 2.., .. });
        if group.iter().all(is_block) {
            shown.title = words::filled(words::STEP_RIP_BLOCK, &[&thickness]);
            shown.own = format!("{} ", words::SAYS_RIP_BLOCK.text);
        }
        format!("{}{}", shown.own, words::SAYS_RIP.text)
    }

    /// Squares for discs that are glued up edge to edge.
    pub(super) fn edges(
        &self,
        group: &[Cut],
        step: &Step,
        order: &Order,
        shown: &mut StepShown,
    ) -> &'static str {
        let thickness_mm = group.first().map_or(0.0, |cut| cut.thickness_mm);
        let thickness = show(thickness_mm, self.unit).whole_line();
        shown.title = words::filled(words::STEP_EDGES, &[&thickness]);
        shown.saw = vec![
            self.time(words::ROW_CLAMP_TIME),
            self.time(words::ROW_OPEN_TIME),
            self.glue_of(step, order),
        ];
        let glued = group
            .iter()
            .filter_map(|cut| Some((cut, Edges::of(cut, self.design)?)));
        shown.list = glued
            .clone()
            .enumerate()
            .map(|(place, (cut, own))| Figure {
                key: format!("bench.edges.{place}"),
                label: format!(
                    "{}, {}",
                    cut.wood.as_deref().unwrap_or_default(),
                    words::boards::part_names(&cut.parts, true).to_lowercase()
                ),
                shown: in_words(words::squares_glued(cut.count, &own, self.unit)),
                note: String::new(),
            })
            .collect();
        let woods = glued.filter_map(|(cut, _)| cut.wood.as_deref());
        shown.list.extend(self.pressure(woods));
        shown.cautions.extend(self.cold(thickness_mm));
        words::SAYS_EDGES.text
    }

    /// How thin the strip of a base's plies is planed in the end.
    fn planed_on(&self, cut: &Cut) -> String {
        let base = self.plan.base.as_ref();
        let dressed_mm = base.and_then(|base| cut.planed_on_mm(base));
        dressed_mm.map_or_else(String::new, |it| words::planed_on_to(it, self.unit))
    }

    /// A stick that thin strips for slots can be ripped off, where the boards have none.
    fn stick(&self, place: usize, cut: &Cut) -> Option<Figure> {
        let Piece::SlotStrip { length_mm } = cut.piece else {
            return None;
        };
        let kerf_mm = self.design.shop.kerf_mm;
        let stick = strip::stick(cut.count, length_mm, cut.width_mm, kerf_mm);
        let is = words::filled(
            words::BENCH_STICK_IS,
            &[
                &at_least(stick.long_mm, self.unit).line(),
                &show(cut.thickness_mm, self.unit).whole_line(),
                &at_least(stick.across_mm, self.unit).line(),
                &counted(stick.strip_count as usize, "thin strip", "thin strips"),
                &stick.each.to_string(),
            ],
        );
        Some(Figure {
            key: format!("bench.stick.{place}"),
            label: words::filled(words::BENCH_STICK, &[cut.wood.as_deref()?]),
            shown: in_words(is),
            note: String::new(),
        })
    }

    /// A step of the base.
    pub(super) fn base(
        &self,
        work: BaseWork,
        step: &Step,
        order: &Order,
        shown: &mut StepShown,
    ) -> &'static str {
        let Some(base) = &order.base else {
            return words::BASE_NONE.text;
        };
        match work {
            BaseWork::Saw => self.base_saw(base, shown),
            BaseWork::GlueUp => self.base_glue(base, step, order, shown),
            BaseWork::Round => {
                let thickness = wood::thickness(self.design, base);
                if order.base_is == BaseIs::Ring {
                    titled(shown, words::STEP_BASE_SAWN);
                    let sawn_mm = base.disc_mm + 2.0 * self.design.allowance.outside_mm;
                    shown.saw = vec![self.length(words::ROW_SAWN_ROUND, sawn_mm)];
                    shown.saw.extend(thickness);
                    return words::SAYS_BASE_SAWN.text;
                }
                titled(shown, words::STEP_BASE_ROUND);
                let has_spare = thickness.len() > 1;
                shown.saw = vec![self.length(words::BASE_DISC, base.disc_mm)];
                shown.saw.extend(thickness);
                shown.list.extend(Shop::blank_rpm(step));
                if has_spare {
                    words::SAYS_BASE_ROUND_SPARE.text
                } else {
                    words::SAYS_BASE_ROUND.text
                }
            }
            BaseWork::Mortise => {
                shown.title = words::filled(words::STEP_BASE_MORTISE, &[&number_of(step)]);
                Shop::above_another(step, words::SAYS_BASE_STOP_AT, shown);
                let mortise_mm = base.mortise_mm.unwrap_or(base.disc_mm);
                shown.saw = vec![self.length(words::BASE_MORTISE, mortise_mm)];
                shown.saw.extend(wood::mortise_depth(base, self.unit));
                let through = base
                    .through_mm
                    .map(|it| self.length(words::BASE_THROUGH, it));
                shown.saw.extend(through);
                shown.list = vec![self.length(words::BASE_DISC, base.disc_mm)];
                shown.list.extend(wood::mortise_room(base, self.unit));
                shown.list.extend(Shop::blank_rpm(step));
                if base.choice.set == BaseSet::OnLedge {
                    words::SAYS_BASE_LEDGE.text
                } else {
                    words::SAYS_BASE_MORTISE.text
                }
            }
            BaseWork::Set => self.base_set(base, step, order, shown),
        }
    }

    fn base_saw(&self, base: &BasePlan, shown: &mut StepShown) -> &'static str {
        match base.choice.kind {
            BaseKind::Plies => {
                let plies = counted(base.choice.plies.len(), "ply", "plies");
                shown.title = words::filled(words::STEP_BASE_PLIES, &[&plies]);
                shown.list = wood::blanks(self.design, base);
                let side = base.blanks.first();
                let side = side.map(|blank| self.length(words::ROW_BLANK_SIDE, blank.side_mm));
                shown.saw.extend(side);
                if base.blanks.iter().all(|blank| blank.is_block) {
                    words::SAYS_BASE_PLIES.text
                } else {
                    words::SAYS_BASE_SQUARES.text
                }
            }
            BaseKind::Wedges => {
                let count = base.choice.wedge_count.to_string();
                shown.title = words::filled(words::STEP_BASE_WEDGES, &[&count]);
                if let Some(wedge) = &base.wedge {
                    shown.saw = vec![
                        figure(
                            words::SAW_SETTING,
                            shown_degrees(wedge.outside.half_angle_rad),
                        ),
                        self.length(words::SAW_STOP, wedge.outside.long_edge_mm),
                        self.length(words::SAW_STRIP, wedge.strip_width_mm),
                    ];
                    shown.list = vec![self.length(words::ROW_STRIP_HEIGHT, wedge.strip_height_mm)];
                }
                words::SAYS_BASE_WEDGES.text
            }
            BaseKind::Solid | BaseKind::Open => {
                titled(shown, words::STEP_BASE_BOARD);
                shown.list = wood::blanks(self.design, base);
                let side = base.blanks.first();
                let side = side.map(|blank| self.length(words::ROW_BLANK_SIDE, blank.side_mm));
                shown.saw.extend(side);
                words::SAYS_DISC.text
            }
        }
    }

    fn base_glue(
        &self,
        base: &BasePlan,
        step: &Step,
        order: &Order,
        shown: &mut StepShown,
    ) -> &'static str {
        let is_plies = base.choice.kind == BaseKind::Plies;
        let (title, says) = if is_plies {
            (
                words::STEP_BASE_GLUE_PLIES,
                words::SAYS_BASE_GLUE_PLIES.text,
            )
        } else {
            (words::STEP_BASE_GLUE_WEDGES, words::SAYS_GLUE.text)
        };
        titled(shown, title);
        shown.saw = vec![
            self.time(words::ROW_CLAMP_TIME),
            self.time(words::ROW_OPEN_TIME),
            self.glue_of(step, order),
        ];
        let woods = base.blanks.iter().map(|it| it.wood.as_str());
        let wedges = base.blanks.is_empty().then_some(base.choice.wood.as_str());
        shown.list.extend(self.pressure(woods.chain(wedges)));
        shown.list.push(self.time(words::ROW_TURN_TIME));
        // Plies that are alike are glued in any order.
        if is_plies && base.blanks.len() > 1 {
            let each = dressed_plies(self.design, &base.choice).map(|(ply, dressed_mm)| {
                format!(
                    "{} of {}",
                    show(dressed_mm, self.unit).whole_line(),
                    ply.wood
                )
            });
            let each: Vec<String> = each.collect();
            shown
                .list
                .push(figure(words::ROW_PLIES, in_words(each.join(", "))));
        }
        shown.cautions.extend(self.cold(base.thickness_mm));
        says
    }

    fn base_set(
        &self,
        base: &BasePlan,
        step: &Step,
        order: &Order,
        shown: &mut StepShown,
    ) -> &'static str {
        let (title, says) = match (base.choice.set, base.is_safe()) {
            _ if order.base_is == BaseIs::Under => {
                (words::STEP_BASE_UNDER, words::SAYS_BASE_UNDER.text)
            }
            (BaseSet::OnLedge, Some(true)) => {
                (words::STEP_BASE_ON_LEDGE, words::SAYS_BASE_ROUND_GLUED.text)
            }
            (BaseSet::OnLedge, _) => (words::STEP_BASE_ON_LEDGE, words::SAYS_BASE_PLAY.text),
            (_, Some(true)) => (words::STEP_BASE_LET_IN, words::SAYS_BASE_ROUND_GLUED.text),
            (_, _) => (words::STEP_BASE_LET_IN, words::SAYS_BASE_PLAY.text),
        };
        shown.title = words::filled(title, &[&number_of(step)]);
        Shop::above_another(step, words::SAYS_BASE_LIES_ON, shown);
        shown.saw = wood::first_of_base(base, self.unit);
        if base.is_safe() == Some(true) {
            shown.list.push(self.glue_of(step, order));
        }
        shown.list.extend([
            self.time(words::ROW_OPEN_TIME),
            self.time(words::ROW_CLAMP_TIME),
            self.time(words::ROW_TURN_TIME),
        ]);
        shown.cautions.extend(self.cold(base.thickness_mm));
        says
    }

    /// What is said first where the base's ring is glued on another already.
    fn above_another(step: &Step, word: words::Word, shown: &mut StepShown) {
        // The upper half is glued up from the rim down.
        if step.rings.start > 0 && step.chapter != Chapter::Upper {
            shown.own = words::filled(word, &[&step.rings.start.to_string()]) + " ";
        }
    }

    /// What there is to look at in the base, where a step begins or glues it.
    pub(super) fn base_cautions(&self, step: &Step, order: &Order) -> Vec<Message> {
        let Some(base) = &order.base else {
            return Vec::new();
        };
        if !order.is_base_set(step) && !order.is_base_begun(step) {
            return Vec::new();
        }
        let is_said = self.design.base.is_some();
        let troubles = base.troubles.iter().filter(|_| is_said);
        let troubles = troubles.map(|it| words::trouble(it, self.unit));
        // A stack's own lowest ring is told of only when it would tear.
        let is_told = |it: &&Caution| is_said || matches!(it, Caution::BaseTears { .. });
        let cautions = base.cautions.iter().filter(is_told);
        troubles
            .chain(cautions.map(|it| words::caution(it, self.unit)))
            .collect()
    }

    /// What stands out farther on the piece than the rings whose slots are sawn there.
    fn in_the_way(&self, step: &Step) -> Option<Caution> {
        let flat_mm = |ring: usize| self.plan.rings.get(ring).map_or(0.0, |it| flats_mm(it).1);
        let own_mm = step.rings.clone().map(flat_mm).fold(0.0, f64::max);
        // All that is glued on by then.
        let on_it = match step.chapter {
            Chapter::Whole => 0..self.plan.rings.len(),
            Chapter::Upper => step.rings.start..self.plan.rings.len(),
            _ => 0..step.rings.end,
        };
        let widest = on_it.max_by(|one, other| flat_mm(*one).total_cmp(&flat_mm(*other)))?;
        let by_mm = flat_mm(widest) - own_mm;
        (by_mm > HAIR_MM).then_some(Caution::InTheWay {
            ring: widest,
            by_mm,
        })
    }

    /// The sticks that a set's layered strips are crosscut from.
    pub(super) fn strips(
        &self,
        set: usize,
        step: &Step,
        order: &Order,
        shown: &mut StepShown,
    ) -> &'static str {
        shown.title = words::filled(words::STEP_STRIPS, &[&(set + 1).to_string()]);
        let Some(own) = self.plan.slot_sets.get(set).and_then(Option::as_ref) else {
            return words::SAYS_STRIPS.text;
        };
        shown.list = inlay::sticks(self.plan, own);
        shown.saw = vec![
            self.time(words::ROW_CLAMP_TIME),
            self.time(words::ROW_OPEN_TIME),
            self.glue_of(step, order),
        ];
        let [thick, wide, _] = own.strip_mm;
        shown.list.extend([
            figure(words::SLOT_THICK, fine(thick, self.unit)),
            self.length(words::SLOT_WIDE, wide),
        ]);
        let woods = own.layers.iter();
        let woods = woods.filter_map(|it| self.vessel.woods.get(it.wood));
        shown.list.extend(self.pressure(woods.map(String::as_str)));
        shown.cautions.extend(self.cold(thick));
        words::SAYS_STRIPS.text
    }

    /// A set of slots: the saw's numbers and the strips'.
    pub(super) fn slots(
        &self,
        set: usize,
        step: &Step,
        order: &Order,
        shown: &mut StepShown,
    ) -> String {
        let places: Vec<usize> = step.rings.clone().collect();
        let rings = words::rings_within(&ring_numbers(&places), places.len());
        let number = (set + 1).to_string();
        shown.title = words::filled(words::STEP_INLAY, &[&number, &rings]);
        let own = self.plan.slot_sets.get(set).and_then(Option::as_ref);
        let held_by = own.map_or(StackHeld::Bridge, |own| own.held_by);
        let shares = sawing::shares_rings(&self.plan.slot_sets, set);
        let told = shares.map(|it| words::caution(&Caution::Slots(set, it), self.unit));
        shown.cautions.extend(told);
        let mut says = match held_by {
            StackHeld::Bridge | StackHeld::Discs => words::SAYS_INLAY,
            StackHeld::Strips => words::SAYS_INLAY_ONE_BY_ONE,
        }
        .text
        .to_owned();
        if step.chapter != Chapter::Stacks {
            let in_the_way = self.in_the_way(step);
            let told = in_the_way.map(|it| words::caution(&it, self.unit));
            shown.cautions.extend(told);
            if held_by == StackHeld::Discs {
                let no_disc = SlotCaution::Through(ThroughCaution::NoDiscOnPiece);
                let told = words::caution(&Caution::Slots(set, no_disc), self.unit);
                shown.cautions.push(told);
            }
            says = format!("{} {says}", words::SAYS_INLAY_ON_PIECE.text);
        }
        let Some(own) = own else {
            let field = format!("vessel.slot_sets.{set}.");
            let troubles = self.plan.troubles.iter();
            let of_it = troubles.filter(|it| it.field.starts_with(&field));
            shown
                .cautions
                .extend(of_it.map(|it| words::trouble(it, self.unit)));
            return words::SAYS_INLAY_UNKNOWN.text.to_owned();
        };
        shown.saw = inlay::saw(self.plan, own, set);
        shown.list = inlay::list(self.plan, own);
        // How far the blade may go is settled in Inlay.
        let settled = [
            words::SLOT_LEAST,
            words::SLOT_LEAST_PARTLY,
            words::SLOT_LEAST_THROUGH,
            words::SLOT_MOST,
            words::SLOT_MOST_ACROSS,
            words::SLOT_MOST_DISCS,
            words::SLOT_HIDDEN,
            words::SLOT_BETWEEN,
        ];
        // The sticks are glued up already: of them only their order is still asked for.
        let mut sticks = inlay::sticks(self.plan, own);
        sticks.retain(|it| it.key != words::STRIP_ORDER.key);
        shown.list.retain(|it| {
            let is_settled = settled.iter().any(|word| word.key == it.key);
            !is_settled && !sticks.contains(it)
        });
        let is_round = |set: &SlotSet| set.stack_is == StackIs::TurnedRound;
        let is_turned = self.vessel.slot_sets.get(set).is_some_and(is_round);
        if is_turned {
            let layers = own.stack.layers.iter();
            let radii = layers.map(|layer| layer.outside.farthest_mm());
            let diameter_mm = 2.0 * radii.fold(0.0, f64::max);
            shown
                .list
                .insert(0, self.length(words::ROW_STACK_DIAMETER, diameter_mm));
        }
        shown.list.push(figure(
            words::ROW_SLOT_KERF,
            fine(own.slots.kerf_mm, self.unit),
        ));
        if step.chapter == Chapter::Stacks {
            let height_mm = self.stack_height_mm(step, order);
            let trimmed = self.length(words::ROW_TRIMMED_HEIGHT, height_mm);
            shown.list.push(trimmed);
        }
        shown.list.extend([
            self.glue_of(step, order),
            self.time(words::ROW_OPEN_TIME),
            self.time(words::ROW_CLAMP_TIME),
            Figure {
                note: words::through::each_of(own),
                ..self.time(words::ROW_TURN_TIME)
            },
        ]);
        let wood = inlay::strip_woods(self.plan, own);
        let strips = shown
            .list
            .iter_mut()
            .find(|it| it.key == words::SLOT_STRIPS.key);
        if let Some(strips) = strips.filter(|_| own.sticks.is_none() && !wood.is_empty()) {
            strips.label = words::filled(words::BENCH_STRIPS_OF, &[&wood]);
        }
        let before = self.plan.slot_sets.iter().take(set).flatten();
        let before: Vec<&SetPlan> = before.collect();
        let told = words::inlay::sawing(own, &wood, is_turned, &before, self.unit);
        says.push(' ');
        says += &told.join(" ");
        says
    }
}
