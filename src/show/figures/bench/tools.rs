//! What the shop needs for this piece: tools with the sizes that they must reach, and what
//! is used up.

use super::Shop;
use crate::plan::Plan;
use crate::plan::bill::{Cut, Piece};
use crate::plan::inlay::SetPlan;
use crate::plan::order::facts::{Block, Fact};
use crate::plan::order::{BaseIs, Order, Step, Work};
use crate::show::figures::{Figure, noted};
use crate::show::words;
use crate::trade::lathe;
use crate::units::length::{at_least, show};
use crate::units::quantity::{self, in_words};

/// Tools and supplies of a vessel; none where there is no order of work.
pub(crate) fn tools(whole: &Plan) -> Vec<Figure> {
    let Some((plan, order)) = whole.stack().zip(whole.order()) else {
        return Vec::new();
    };
    let shop = Shop::of(whole, plan, order);
    let mut list = shop.at_lathe(order);
    list.extend(shop.at_rings());
    list.extend(shop.at_slots(order));
    list.extend(shop.used_up(order));
    list
}

fn most(lengths_mm: impl Iterator<Item = f64>) -> f64 {
    lengths_mm.fold(0.0, f64::max)
}

impl Shop<'_> {
    fn least(&self, word: words::Word, length_mm: f64) -> Option<Figure> {
        let line = at_least(length_mm, self.unit).line();
        (length_mm > 0.0).then(|| noted(word, in_words(line), String::new()))
    }

    fn at_lathe(&self, order: &Order) -> Vec<Figure> {
        let facts = || order.steps.iter().flat_map(|step| &step.facts);
        let blocks = facts().filter_map(|fact| match fact {
            Fact::Screw { diameter_mm, .. } => Some(at_least(*diameter_mm, self.unit).line()),
            _ => None,
        });
        let blocks: Vec<String> = blocks.collect();
        let thick = at_least(lathe::BLOCK_MM, self.unit).line();
        let across = words::filled(words::TOOL_BLOCKS_ARE, &[&thick, &blocks.join(", ")]);
        let mut list = vec![
            noted(
                words::TOOL_FACEPLATES,
                in_words(blocks.len().to_string()),
                String::new(),
            ),
            noted(words::TOOL_BLOCKS, in_words(across), String::new()),
        ];
        let swings = order.steps.iter().filter_map(Step::swings_mm);
        let lathe = [most(swings), self.between_mm(order)];
        let lathe = lathe.map(|it| at_least(it, self.unit).line());
        list.push(noted(
            words::TOOL_LATHE,
            in_words(words::filled(words::TOOL_LATHE_IS, &[&lathe[0], &lathe[1]])),
            String::new(),
        ));
        let rounds = order.steps.iter().flat_map(Step::rounds);
        let rounds = most(rounds.map(|(_, diameter_mm)| diameter_mm));
        list.extend(self.least(words::TOOL_CALIPER, rounds));
        let stages = || {
            order.steps.iter().filter_map(|step| match &step.work {
                Work::Inside(stage) => Some(stage),
                _ => None,
            })
        };
        list.extend(self.least(words::TOOL_DEPTH, most(stages().map(|it| it.depth_mm))));
        list.extend(self.least(words::ROW_OVERHANG, most(stages().map(|it| it.overhang_mm))));
        if !self.plugs.is_empty() {
            let count = in_words(self.plugs.len().to_string());
            list.push(noted(words::TOOL_PLUGS, count, String::new()));
        }
        list
    }

    /// The longest that hangs between the spindle and the tailstock: all of it, on the blocks
    /// of its halves.
    fn between_mm(&self, order: &Order) -> f64 {
        let rings_mm: f64 = self.vessel.rings.iter().map(|ring| ring.height_mm).sum();
        let under = order
            .base
            .as_ref()
            .filter(|_| order.base_is == BaseIs::Under);
        let under_mm = under.map_or(0.0, |base| base.thickness_mm);
        rings_mm + under_mm + order.halves.len() as f64 * lathe::BLOCK_MM
    }

    /// For the rings, before they are turned.
    fn at_rings(&self) -> Vec<Figure> {
        let glued = self.vessel.rings.iter().zip(&self.plan.rings);
        let made = || {
            glued
                .clone()
                .filter_map(|(ring, it)| Some((it, it.segment?)).filter(|_| !ring.is_glued()))
        };
        let rounds = made().map(|(it, _)| {
            let edges = it.alike.iter();
            let edges = edges.map(|it| f64::from(it.kind.count) * it.segment.outside.long_edge_mm);
            edges.sum()
        });
        let across = made().map(|(it, _)| 2.0 * it.reach_mm);
        let band = self.least(words::TOOL_BAND, most(rounds));
        let board = self.least(words::TOOL_BOARD, most(across));
        band.into_iter().chain(board).collect()
    }

    fn at_slots(&self, order: &Order) -> Vec<Figure> {
        let sets = order.steps.iter().filter_map(|step| match step.work {
            Work::Inlay(set) => self.plan.slot_sets.get(set)?.as_ref(),
            _ => None,
        });
        let sets: Vec<&SetPlan> = sets.collect();
        let fence = (!sets.is_empty()).then(|| {
            let high_mm = most(sets.iter().map(|it| it.table_mm()));
            let long_mm = most(sets.iter().map(|it| it.fence_mm()));
            let [high, long] = [high_mm, long_mm].map(|it| at_least(it, self.unit).line());
            let told = words::filled(words::TOOL_FENCE_IS, &[&high, &long]);
            noted(words::TOOL_FENCE, in_words(told), String::new())
        });
        let mut kerfs: Vec<String> = Vec::new();
        for own in sets {
            let kerf = quantity::fine(own.slots.kerf_mm, self.unit).line();
            if !kerfs.contains(&kerf) {
                kerfs.push(kerf);
            }
        }
        let blade = (!kerfs.is_empty()).then(|| {
            noted(
                words::TOOL_SLOT_BLADE,
                in_words(kerfs.join(", ")),
                String::new(),
            )
        });
        let blade_and_fence = blade.into_iter().chain(fence);
        blade_and_fence.chain(self.scrap_discs()).collect()
    }

    /// The discs of scrap that hold stacks which are sawn through.
    fn scrap_discs(&self) -> Option<Figure> {
        let bill = self.plan.bill.iter();
        let discs: Vec<&Cut> = bill.filter(|cut| cut.piece == Piece::ScrapDisc).collect();
        let thick = show(discs.first()?.thickness_mm, self.unit).line();
        let each = discs.iter().map(|cut| {
            let across = show(cut.width_mm, self.unit).line();
            format!("{} × {across}", cut.count)
        });
        Some(Figure {
            label: words::filled(words::TOOL_SCRAP_DISCS, &[&thick]),
            ..noted(
                words::TOOL_SCRAP_DISCS,
                in_words(each.collect::<Vec<_>>().join(", ")),
                String::new(),
            )
        })
    }

    fn used_up(&self, order: &Order) -> Vec<Figure> {
        let papers = order.steps.iter().filter_map(|step| match step.work {
            Work::Mount(Block::Stack(_)) => Some(2.0 * self.reach_mm(&step.rings)),
            _ => None,
        });
        let papers: Vec<f64> = papers.collect();
        let paper = self.least(words::TOOL_PAPER, most(papers.into_iter()));
        paper.into_iter().chain([self.glue_in_all(order)]).collect()
    }
}
