//! What stands on the screen: the plan's numbers as figures in the turner's unit,
//! each with its label and what a screen reader says. The page only places them.

pub mod bench;
pub mod boards;
pub mod built;
pub mod inlay;
pub mod lathe;
mod open_ring;
pub mod panel;
pub mod shelf;
pub mod shop;
pub mod step;
pub mod stripe;
pub mod table;
pub mod vessel;
pub mod wood;

use crate::design::field::{self, FIELDS, Field, Kind, key};
use crate::design::{Between, Design, GapBy, HoleBy, StackHeld, StripsShow};
use crate::edit::allowance;
use crate::plan::ring::{CountPlan, RingPlan, SAW_ERRORS_DEG};
use crate::plan::{self, Plan};
use crate::show::figures::table::{Row, Table};
use crate::show::words::{self, Message, Word};
use crate::trade::closing::OpenAt;
use crate::trade::ring::Segment;
use crate::trade::round::SegmentKind;
use crate::trade::strip::Strips;
use crate::units::length::{Shown, Unit, as_shown_mm, at_least, at_most, decimal, show};
use crate::units::quantity;
use crate::units::quantity::{
    fine, fine_degrees, in_words, money, number, shown_degrees, weight, wood_volume,
};
use serde::Serialize;

/// One labeled figure.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct Figure {
    /// What it is: the key of its word.
    pub key: String,
    /// Its label.
    pub label: String,
    /// The number.
    pub shown: Shown,
    /// A few words behind it; may be empty.
    pub note: String,
}

/// What an entry field holds.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct Entry {
    /// The field's key.
    pub key: String,
    /// Its label.
    pub label: String,
    /// Its text.
    pub text: String,
    /// The unit's mark, for lengths and angles.
    pub unit: String,
    /// `length`, `count`, `degrees`, `money`, `choice`, `wood` or `text`.
    pub kind: &'static str,
    /// Whether it is not asked for as things are.
    pub is_hidden: bool,
    /// The words to choose from.
    pub choices: &'static [&'static str],
    /// Names of the turner's own to choose from, by their place; empty where it is no choice
    /// among such.
    pub names: Vec<String>,
}

/// All figures of the Ring place.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct RingScreen {
    /// The three figures that the hands need, in their order.
    pub saw: Vec<Figure>,
    /// What stop and strip width include.
    pub includes: String,
    /// What the fold of wood, allowances and kerf holds now.
    pub choices: String,
    /// What takes out the wood to turn away, or keeps some where none is kept.
    pub allowance_switch: String,
    /// What leads to the strip's width, and says that the wall follows it where it does.
    pub strip_at_hand: String,
    /// The rest.
    pub list: Vec<Figure>,
    /// What a saw error does.
    pub saw_error: Vec<Figure>,
    /// What the measured gap says; empty when nothing was measured.
    pub gap_says: String,
    /// What the protractor says; empty when nothing was measured.
    pub protractor_says: String,
    /// The staves.
    pub staves: Vec<Figure>,
    /// What each entry field holds.
    pub entries: Vec<Entry>,
    /// What could not be computed.
    pub messages: Vec<Message>,
    /// What to look at before cutting.
    pub cautions: Vec<Message>,
    /// The three figures in one sentence, for a screen reader.
    pub summary: String,
    /// One segment less, as typed text; the same count where it is the least.
    pub count_less: String,
    /// One segment more, as typed text; the same count where it is the most.
    pub count_more: String,
}

/// Sets the Ring place's figures.
pub fn ring(plan: &Plan) -> RingScreen {
    let design = &*plan.design;
    let saw = saw(design, &plan.ring);
    RingScreen {
        summary: saw
            .iter()
            .map(|figure| format!("{}: {}.", figure.label, figure.shown.spoken))
            .collect::<Vec<_>>()
            .join(" "),
        includes: words::saw_includes(
            design.ring.outside_diameter_mm,
            // The strip at hand settles it, so it is told.
            (design.ring.hole_by == HoleBy::StripWidth).then(|| 2.0 * design.inside_radius_mm()),
            [design.allowance.outside_mm, design.allowance.inside_mm],
            design.vessel.is_some(),
            design.unit,
        ),
        choices: words::choices_now(
            &design.ring.wood,
            [design.allowance.outside_mm, design.allowance.inside_mm],
            design.shop.kerf_mm,
            design.unit,
        ),
        allowance_switch: words::allowance_switch(allowance::other_mm(design), design.unit),
        strip_at_hand: words::strip_at_hand(design),
        count_less: next_count(design, -1),
        count_more: next_count(design, 1),
        list: list(design, &plan.ring),
        saw_error: saw_error(design.unit, &plan.ring),
        gap_says: says(plan, plan.dry_fit.from_gap_rad),
        protractor_says: says(plan, plan.dry_fit.from_protractor_rad),
        staves: staves(design.unit, plan),
        entries: entries(design),
        messages: plan
            .troubles
            .iter()
            .map(|it| words::trouble(it, design.unit))
            .collect(),
        cautions: plan
            .cautions
            .iter()
            .map(|it| words::caution(it, design.unit))
            .collect(),
        saw,
    }
}

fn figure(word: Word, shown: Shown) -> Figure {
    noted(word, shown, String::new())
}

fn noted(word: Word, shown: Shown, note: String) -> Figure {
    Figure {
        key: word.key.to_owned(),
        label: word.text.to_owned(),
        shown,
        note,
    }
}

/// The figures that the hands need, in their order: three, and two more for each kind of
/// segment beside the first.
pub(crate) fn saw(design: &Design, ring: &RingPlan) -> Vec<Figure> {
    if ring.alike.len() > 1 {
        return saw_of_kinds(design, ring);
    }
    let even_rad = crate::trade::ring::half_angle_rad(ring.wanted.segment_count);
    let setting_rad = ring.outside.map_or(even_rad, |it| it.half_angle_rad);
    let complement_rad = std::f64::consts::FRAC_PI_2 - setting_rad;
    let mut saw = vec![noted(
        words::SAW_SETTING,
        shown_degrees(setting_rad),
        format!(
            "{} {}",
            words::ROW_COMPLEMENT.text,
            quantity::degrees(complement_rad)
        ),
    )];
    if let Some(outside) = &ring.outside {
        saw.push(noted(
            words::SAW_STOP,
            show(outside.long_edge_mm, design.unit),
            set_instead(design, ring, 0, outside.long_edge_mm),
        ));
    }
    saw.extend(ring.segment.map(|segment| strip(design, ring, &segment)));
    saw
}

/// The strip of a ring's segments.
fn strip(design: &Design, ring: &RingPlan, segment: &Segment) -> Figure {
    let width_mm = segment.strip_width_mm;
    noted(
        words::SAW_STRIP,
        show(width_mm, design.unit),
        set_instead(design, ring, 1, width_mm),
    )
}

/// Where a figure that is cut as shown spoils the ring: what to set instead. Of both stop and
/// strip, by their places.
fn set_instead(design: &Design, ring: &RingPlan, at: usize, exact_mm: f64) -> String {
    let set_mm = ring.to_set_mm(design).map_or(exact_mm, |set_mm| set_mm[at]);
    let [shown, set] = [exact_mm, set_mm].map(|length_mm| show(length_mm, design.unit));
    if shown.text == set.text {
        return String::new();
    }
    words::filled(words::SAW_FALLS_SHORT, &[&shown.text, &set.line()])
}

/// The same of wide and narrow segments: setting and stop of each kind, and the strip of all.
fn saw_of_kinds(design: &Design, ring: &RingPlan) -> Vec<Figure> {
    let kinds: Vec<SegmentKind> = ring.alike.iter().map(|it| it.kind).collect();
    let mut saw = Vec::new();
    for (place, it) in ring.alike.iter().enumerate() {
        let named = |figure: Figure| Figure {
            key: format!("{}.{place}", figure.key),
            label: words::of_kind(&figure.label, &kinds, place),
            ..figure
        };
        saw.push(named(noted(
            words::SAW_SETTING,
            shown_degrees(it.segment.outside.half_angle_rad),
            words::filled(words::KIND_COUNT, &[&it.kind.count.to_string()]),
        )));
        let stop_mm = it.segment.outside.long_edge_mm;
        saw.push(named(figure(
            words::COUNTS_STOP,
            show(stop_mm, design.unit),
        )));
    }
    saw.extend(ring.segment.map(|segment| strip(design, ring, &segment)));
    saw
}

/// The rest of a ring's figures; what stripes add to them is in [`stripe`].
pub(crate) fn list(design: &Design, ring: &RingPlan) -> Vec<Figure> {
    let Some(segment) = &ring.segment else {
        return Vec::new();
    };
    let length = |length_mm: f64| show(length_mm, design.unit);
    let kinds: Vec<SegmentKind> = ring.alike.iter().map(|it| it.kind).collect();
    let short_edges = ring.alike.iter().enumerate().map(|(place, it)| Figure {
        label: words::of_kind(words::ROW_SHORT_EDGE.text, &kinds, place),
        ..figure(words::ROW_SHORT_EDGE, length(it.segment.short_edge_mm))
    });
    let mut list: Vec<Figure> = short_edges.collect();
    list.push(figure(
        words::ROW_STRIP_HEIGHT,
        length(segment.strip_height_mm),
    ));
    match &ring.strips {
        Some(strips) => list.extend(strip_list(design, ring, strips)),
        None if ring.stripes.is_some() => {}
        None => return Vec::new(),
    }
    if ring.between == Between::Spacer {
        list.push(noted(
            words::ROW_SPACERS,
            length(segment.spacer_length_mm),
            words::spacers(
                ring.wanted.segment_count,
                ring.wanted.spacer_mm,
                design.unit,
            ),
        ));
    }
    if let Some(volume_mm3) = ring.strip_wood_mm3 {
        list.push(figure(
            words::ROW_WOOD,
            wood_volume(volume_mm3, design.unit),
        ));
    }
    if let Some(cost) = ring.cost {
        list.push(figure(words::ROW_COST, money(cost, &design.shop.currency)));
    }
    if let Some(weight_kg) = ring.weight_kg {
        list.push(figure(words::ROW_WEIGHT, weight(weight_kg, design.unit)));
    }
    list.push(figure(
        words::ROW_CIRCLE,
        at_most(segment.largest_circle_mm, design.unit),
    ));
    list.push(figure(
        words::ROW_HOLE,
        at_least(segment.smallest_hole_mm, design.unit),
    ));
    list.push(figure(
        words::ROW_CORNERS,
        length(segment.across_corners_mm),
    ));
    list.extend(as_cut(design, ring));
    list
}

/// The strips of a ring's woods.
fn strip_list(design: &Design, ring: &RingPlan, strips: &Strips) -> Vec<Figure> {
    let laid = |strips: &Strips| {
        in_words(words::strips(
            strips.strip_count,
            design.shop.strip_length_mm,
            strips.last_strip_mm,
            design.unit,
        ))
    };
    let mut list = Vec::new();
    // Of several woods each strip is told: no shorter than a planer takes.
    if ring.woods.len() < 2 {
        list.push(figure(
            words::ROW_STRIP_LENGTH,
            show(strips.total_length_mm, design.unit),
        ));
        list.push(figure(words::ROW_STRIPS, laid(strips)));
    }
    for own in ring.woods.iter().filter(|_| ring.woods.len() > 1) {
        list.extend(own.strips.as_ref().map(|strips| Figure {
            label: words::strips_of(own.segment_count, &own.name),
            ..figure(words::ROW_STRIPS, laid(strips))
        }));
    }
    if strips.strip_count > 1 && ring.alike.len() < 2 {
        list.push(figure(
            words::ROW_SEGMENTS_A_STRIP,
            number(strips.segments_a_strip.to_string()),
        ));
    }
    list
}

/// What the ring becomes when the figures are cut as rounded, where that differs.
fn as_cut(design: &Design, ring: &RingPlan) -> Vec<Figure> {
    let (Some((circle_mm, hole_mm)), Some(segment)) = (ring.as_cut_mm, &ring.segment) else {
        return Vec::new();
    };
    let exact = |length_mm: f64| (as_shown_mm(length_mm, design.unit) - length_mm).abs() < 1e-6;
    let mut stops = ring.alike.iter().map(|it| it.segment.outside.long_edge_mm);
    if stops.all(exact) && exact(segment.strip_width_mm) {
        return Vec::new();
    }
    vec![
        figure(words::ROW_AS_CUT_CIRCLE, at_most(circle_mm, design.unit)),
        figure(words::ROW_AS_CUT_HOLE, at_least(hole_mm, design.unit)),
    ]
}

fn saw_error(unit: Unit, ring: &RingPlan) -> Vec<Figure> {
    let Some(joint) = &ring.last_joint else {
        return Vec::new();
    };
    let mut rows: Vec<Figure> = SAW_ERRORS_DEG
        .iter()
        .map(|&error_deg| Figure {
            key: format!("saw_error.{error_deg}"),
            label: format!("{}° a cut", decimal(error_deg, 2)),
            shown: fine(
                joint.opening_mm(error_deg.to_radians(), OpenAt::Through),
                unit,
            ),
            note: String::new(),
        })
        .collect();
    rows.push(noted(
        words::ROW_ACCURACY,
        fine_degrees(joint.accuracy_rad()),
        "a cut".to_owned(),
    ));
    rows
}

fn says(plan: &Plan, error_rad: Option<f64>) -> String {
    let setting_rad = crate::trade::ring::half_angle_rad(plan.ring.wanted.segment_count);
    error_rad.map_or_else(String::new, |error| {
        words::saw_correction(setting_rad, error)
    })
}

fn staves(unit: Unit, plan: &Plan) -> Vec<Figure> {
    let Some(staves) = &plan.staves else {
        return Vec::new();
    };
    vec![
        figure(words::ROW_FACE_MITER, shown_degrees(staves.face_miter_rad)),
        figure(words::ROW_BLADE_TILT, shown_degrees(staves.blade_tilt_rad)),
        figure(words::ROW_BOTTOM_WIDTH, show(staves.bottom_width_mm, unit)),
        figure(words::ROW_TOP_WIDTH, show(staves.top_width_mm, unit)),
        figure(words::ROW_TOP_DIAMETER, show(staves.top_diameter_mm, unit)),
        figure(words::ROW_STAVE_HEIGHT, show(staves.height_mm, unit)),
    ]
}

/// Sets the table of counts.
pub fn counts(design: &Design) -> Table {
    let rows = plan::ring::counts(design);
    Table::new(
        &[
            words::COUNTS_SEGMENTS,
            words::COUNTS_SAW,
            words::COUNTS_STOP,
            words::COUNTS_SHORT,
            words::COUNTS_STRIP,
            words::COUNTS_LENGTH,
            words::COUNTS_ACCURACY,
        ],
        rows.iter().map(|row| count_row(design, row)).collect(),
    )
}

fn count_row(design: &Design, count: &CountPlan) -> Row {
    let length = |length_mm: f64| show(length_mm, design.unit);
    let typed = count.segment_count.to_string();
    Row {
        is_current: count.segment_count == design.ring.segment_count,
        cells: vec![
            number(typed.clone()),
            shown_degrees(count.segment.outside.half_angle_rad),
            length(count.segment.outside.long_edge_mm),
            length(count.segment.short_edge_mm),
            length(count.segment.strip_width_mm),
            length(count.strip_length_mm),
            fine_degrees(count.accuracy_rad),
        ],
        id: typed,
        ..Row::default()
    }
}

/// What the fields outside every list hold.
fn entries(design: &Design) -> Vec<Entry> {
    let whole = crate::design::read::to_value(design);
    let single = FIELDS.iter().filter(|field| {
        field.key.split('.').next().is_some_and(is_rings) && !field.key.contains('*')
    });
    single
        .map(|field| entry(design, &whole, field, field.key))
        .collect()
}

/// Whether a part of the design stands in the Ring place's list of entries; the other
/// places list their own.
fn is_rings(part: &str) -> bool {
    ![
        "vessel", "woods", "climate", "base", "rack", "bench", "measured",
    ]
    .contains(&part)
}

/// What one field holds.
fn entry(design: &Design, whole: &serde_json::Value, field: &Field, key: &str) -> Entry {
    Entry {
        key: key.to_owned(),
        label: words::label(key).to_owned(),
        text: design.entry_text_in(whole, field, key),
        unit: match field.kind {
            Kind::Length { .. } | Kind::Lengths { .. } => design.unit.mark().to_owned(),
            Kind::Degrees { .. } => "°".to_owned(),
            Kind::Percent { .. } => "%".to_owned(),
            Kind::Temperature { .. } => design.unit.degrees_mark().to_owned(),
            _ => String::new(),
        },
        kind: kind_name(field),
        is_hidden: is_hidden(whole, key),
        choices: match field.kind {
            Kind::Choice(words) => words,
            Kind::Flag => &["no", "yes"],
            _ => &[],
        },
        names: Vec::new(),
    }
}

/// A thickness between segments is asked for where something stands between them, their
/// widths where they are not sawn from a striped board; where strips end, if they show along
/// a part of the way, or else the blade's height.
fn is_hidden(whole: &serde_json::Value, key: &str) -> bool {
    let is_striped =
        |part| field::at(whole, &format!("{part}stripes")).is_some_and(|it| !it.is_null());
    // Widths that were said before it was striped can be taken away again.
    let is_even = || {
        let shares = field::at(whole, key).and_then(serde_json::Value::as_array);
        shares.is_none_or(Vec::is_empty)
    };
    let is_single = |part| {
        field::at(whole, &format!("{part}beside_count")).and_then(serde_json::Value::as_u64)
            == Some(1)
    };
    // Through the whole wall strips show inside too, all along.
    let is_through = |part: &str| {
        let held = field::at(whole, &format!("{part}held_by"));
        held.is_some_and(|it| *it != StackHeld::Bridge.word())
    };
    let is_partly = |part: &str| {
        if is_through(part) {
            return false;
        }
        let shows = field::at(whole, &format!("{part}shows"));
        shows == Some(&StripsShow::OutsidePartly.word().into())
    };
    let has_end =
        |part: &str| field::at(whole, &format!("{part}ends_at_mm")).is_some_and(|it| !it.is_null());
    key.strip_suffix("apart_deg").is_some_and(is_single)
        || key.strip_suffix(".shows").is_some_and(|part| is_through(&format!("{part}.")))
        || key.strip_suffix("ends_at_mm").is_some_and(|part| !is_partly(part))
        // The end says how high the blade is.
        || key.strip_suffix("blade_mm").is_some_and(|part| is_partly(part) && has_end(part))
        || key.strip_suffix("shares").is_some_and(|part| is_striped(part) && is_even())
        || is_hidden_between(whole, key)
}

/// Whether a field of what stands between segments is not asked for: a thickness where nothing
/// does, a gap's other ways to be told, and a turn finer than half segments of a closed ring.
fn is_hidden_between(whole: &serde_json::Value, key: &str) -> bool {
    let says = |part: &str, name: &str, word: &str| {
        field::at(whole, &format!("{part}{name}")) == Some(&word.into())
    };
    let is_gap = |part: &str| says(part, "between", Between::Gap.word());
    let is_told = |part: &str, by: GapBy| is_gap(part) && says(part, "gap_by", by.word());
    let is_told_by_angle = |part: &str| is_told(part, GapBy::Angle) || is_told(part, GapBy::Share);
    let is_turned = || field::at(whole, key).and_then(serde_json::Value::as_f64) != Some(0.0);
    let hides = |name: &str, is_hidden: &dyn Fn(&str) -> bool| {
        key.strip_suffix(name).is_some_and(is_hidden)
    };
    hides("spacer_mm", &|part| {
        says(part, "between", Between::Nothing.word()) || is_told_by_angle(part)
    }) || hides("gap_by", &|part| !is_gap(part))
        || hides("gap_deg", &|part| !is_told(part, GapBy::Angle))
        || hides("gap_pct", &|part| !is_told(part, GapBy::Share))
        || (key.starts_with("vessel.rings.")
            && hides("further_deg", &|part| !is_gap(part) && !is_turned()))
}

/// The next count that a ring can have, in steps of one.
fn next_count(design: &Design, step: i32) -> String {
    let count = design.ring.segment_count;
    let next = count.saturating_add_signed(step);
    let is_possible = design
        .with_typed(key::SEGMENT_COUNT, &next.to_string())
        .is_ok();
    (if is_possible { next } else { count }).to_string()
}

fn kind_name(field: &Field) -> &'static str {
    match field.kind {
        Kind::Length { .. } => "length",
        Kind::Count { .. } => "count",
        Kind::Degrees { .. } => "degrees",
        Kind::Money => "money",
        Kind::Number { .. } => "number",
        Kind::Percent { .. } => "percent",
        Kind::Temperature { .. } => "temperature",
        Kind::Color => "color",
        Kind::Choice(_) => "choice",
        Kind::Text(_) if field.key.ends_with("wood") || field.key.ends_with("like") => "wood",
        Kind::Text(_) => "text",
        Kind::Flag => "flag",
        Kind::Lengths { .. } => "lengths",
        Kind::Shares | Kind::Counts { .. } => "shares",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::plan;

    fn screen(design: &Design) -> RingScreen {
        ring(&plan(design))
    }

    #[test]
    fn the_first_three_figures_are_those_of_the_saw() {
        // 10 in finished and 1/8 in kept: a flat of 10 1/4 · tan 15° = 2.746 in, and a
        // width of 5 1/8 − 4 1/8 · cos 15° = 1.141 in.
        let screen = screen(&Design::default());
        let shown: Vec<_> = screen
            .saw
            .iter()
            .map(|figure| words_of(&figure.shown))
            .collect();
        assert_eq!(shown, ["15°", "2 3/4 in −0.004", "1 1/8 in +0.016"]);
    }

    /// With nothing kept a figure that is rounded down spoils the ring, and what is told beside it
    /// does not: by the very ring that is cut so.
    #[test]
    fn a_figure_that_falls_short_says_what_to_set() {
        use crate::trade::ring::as_cut;
        assert!(
            screen(&Design::default())
                .saw
                .iter()
                .all(|it| { it.key == words::SAW_SETTING.key || it.note.is_empty() })
        );
        let mut told = 0;
        for count in (6..=48).step_by(3) {
            for diameter in ["6", "8 1/4", "9 7/8", "14 1/32"] {
                let mut design = Design::default();
                for (field, typed) in [
                    (key::SEGMENT_COUNT, count.to_string().as_str()),
                    (key::OUTSIDE_DIAMETER, diameter),
                    ("allowance.outside_mm", "0"),
                    ("allowance.inside_mm", "0"),
                ] {
                    design = design.with_typed(field, typed).unwrap();
                }
                let ring = plan(&design).ring.clone();
                let segment = ring.segment.unwrap();
                let exact_mm = [segment.outside.long_edge_mm, segment.strip_width_mm];
                let saw = saw(&design, &ring);
                let cut_mm = [0, 1].map(|at| {
                    let note = &saw[at + 1].note;
                    told += usize::from(!note.is_empty());
                    note.rsplit_once("set ").map_or_else(
                        || as_shown_mm(exact_mm[at], design.unit),
                        |(_, set)| crate::units::reading::parse(set, design.unit).unwrap(),
                    )
                });
                let half_rad = segment.outside.half_angle_rad;
                let (circle_mm, hole_mm) = as_cut(half_rad, cut_mm[0], cut_mm[1], 0.0);
                let wanted = &ring.wanted;
                assert!(
                    circle_mm > 2.0 * wanted.outside_radius_mm - 0.11,
                    "{count} {diameter}"
                );
                assert!(
                    hole_mm < 2.0 * wanted.inside_radius_mm + 0.11,
                    "{count} {diameter}"
                );
            }
        }
        assert!(told > 20, "{told}");
    }

    fn words_of(shown: &Shown) -> String {
        format!("{} {}", shown.line(), shown.remainder)
            .trim()
            .to_owned()
    }

    #[test]
    fn every_label_is_a_word() {
        let design = Design::default()
            .with_typed("ring.between", "spacer")
            .and_then(|design| design.with_typed("shop.price", "9"))
            .unwrap();
        let screen = screen(&design);
        for figure in screen.list.iter().chain(&screen.saw).chain(&screen.staves) {
            assert_ne!(figure.key, figure.label);
        }
        assert!(screen.summary.starts_with("Saw setting: 15 degrees."));
    }

    #[test]
    fn little_wood_is_told_in_a_smaller_unit() {
        let said = |volume_mm3: f64, unit: Unit| wood_volume(volume_mm3, unit).line();
        assert_eq!(said(840.0e3, Unit::Millimeter), "840 cm³");
        assert_eq!(said(2.44e6, Unit::Millimeter), "2.5 L");
        assert_eq!(said(0.25e9, Unit::Millimeter), "0.25 m³");
        assert_eq!(said(2.359_73e6, Unit::Inch16), "1 board ft");
        // Never less than it is; in one list in one unit.
        assert_eq!(said(2.37e6, Unit::Inch16), "1.01 board ft");
        assert_eq!(said(840.1e3, Unit::Millimeter), "841 cm³");
        let list = crate::units::quantity::wood_volumes(&[0.6e6, 2.0e3, 0.0], Unit::Inch16);
        let list: Vec<String> = list.iter().map(super::Shown::line).collect();
        assert_eq!(list, ["0.26 board ft", "0.01 board ft", "0 board ft"]);
        assert_eq!(
            said(
                2.0 * crate::units::length::MM_PER_INCH.powi(3),
                Unit::Inch16
            ),
            "2 cu in"
        );
        // Nothing between a thimble and a trunk is told as nothing.
        for unit in [Unit::Millimeter, Unit::Inch16] {
            for step in 0..80 {
                let volume_mm3 = 1000.0 * 1.2_f64.powi(step);
                assert_ne!(wood_volume(volume_mm3, unit).text, "0", "{volume_mm3}");
                let kilograms = 0.002 * 1.2_f64.powi(step);
                assert_ne!(weight(kilograms, unit).text, "0", "{kilograms}");
            }
        }
    }
}
