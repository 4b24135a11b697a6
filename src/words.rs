//! Every word that the turner reads, in one place, so that a language can be added
//! here: the page's fixed labels in [`PAGE`], and the sentences that carry numbers.

pub mod boards;
pub mod inlay;

use crate::built::{Better, Reorder};
use crate::caution::Caution;
use crate::cut_list::{Cut, Piece, ring_numbers};
use crate::design::{Design, StackRing};
use crate::length::{NotALength, Shown, Unit, decimal, show};
use crate::measured::{Side, Tightest};
use crate::moisture::Ready;
use crate::ring::Segment;
use crate::season::Moistures;
use crate::stack::WoodUse;
use crate::trouble::{Reason, Trouble};
use serde::Serialize;

/// The page's fixed words by key. `index.html` names the key in double braces.
pub const PAGE: &[(&str, &str)] = &[
    ("app.name", "Ringwright"),
    (
        "app.description",
        "All the arithmetic of a segmented ring, beside the saw.",
    ),
    (
        "app.needs_script",
        "Ringwright computes in the page itself and needs JavaScript switched on.",
    ),
    (
        "app.cannot_start",
        "The page could not start. Your work is still kept on this device. Load the page anew; if it still does not start, use an up-to-date browser.",
    ),
    ("start.anew", "Load the page anew"),
    ("start.before", "Go back to the version before"),
    ("start.save", "Save all designs as a file"),
    (
        "start.no_network",
        "There is no way to the page’s own server now. Try again when there is a network.",
    ),
    ("start.nothing", "There is nothing kept on this device."),
    (
        "app.stumbled",
        "That change could not be computed and was not taken. Everything before it is kept.",
    ),
    (
        "app.not_shown",
        "Something could not be computed. The page shows what it last could, and your work is kept. If it comes again, save the design as a file and load the page again.",
    ),
    ("app.skip", "Skip to the figures"),
    ("place.ring", "Ring"),
    ("place.paper", "Paper"),
    ("place.vessel", "Vessel"),
    ("place.wood", "Wood"),
    ("place.inlay", "Inlay"),
    ("place.bench", "Bench"),
    ("goto.vessel", "Draw a vessel first"),
    // Wood: swatches, seasons, base.
    ("wood.table", "Woods of this piece"),
    ("wood.more", "Own figures and price"),
    ("wood.less", "Leave the own figures out"),
    ("wood.not_taken", "not used yet"),
    ("wood.needs", "Needs"),
    ("wood.strips", "Strips"),
    ("wood.cost", "Cost, in your currency"),
    ("wood.moves", "Moves, dry to damp"),
    ("wood.weighs", "Weighs"),
    ("wood.from_memory", "figure not seen but remembered"),
    ("wood.no_figures", "no figures: say what it is like"),
    ("wood.unnamed", "Wood not named yet"),
    ("wood.all", "All woods"),
    (
        "wood.all.intro",
        "Shrinkage from green to ovendry. Change for each % of moisture content, between 6 and 14 %. An empty place has no figure in the sources; * was not seen but remembered.",
    ),
    ("wood.own", "Say something of another wood"),
    ("wood.add", "Add it"),
    ("wood.column.wood", "Wood"),
    ("wood.column.gravity", "Specific gravity"),
    ("wood.column.radial", "Shrinks radial"),
    ("wood.column.tangential", "Shrinks tangential"),
    ("wood.column.volumetric", "Shrinks in volume"),
    ("wood.column.radial_change", "Change radial"),
    ("wood.column.tangential_change", "Change tangential"),
    ("wood.column.density", "Density"),
    ("wood.column.source", "Source"),
    ("season.title", "Through the seasons"),
    ("season.shop", "Shop now"),
    ("season.dry", "Driest season at its home"),
    ("season.damp", "Dampest season at its home"),
    ("season.take", "Take air like"),
    ("season.typed", "As typed"),
    ("air.heated_winter", "Heated house in winter"),
    ("air.hard_winter", "Heated house, hard frost"),
    ("air.cooled_summer", "Cooled house in summer"),
    ("air.humid_summer", "Humid summer indoors"),
    ("air.seaside", "Damp summer by the sea"),
    ("air.dry_country", "Hot, dry country"),
    ("air.warm_shop", "Warm, dry shop"),
    ("air.cold_shop", "Cold shop in winter"),
    ("season.brings", "Brings wood to"),
    ("season.opens_dry", "Each miter joint, dry season"),
    ("season.opens_damp", "Each miter joint, damp season"),
    ("season.wall", "Wall at its thickest"),
    ("season.height", "Height"),
    ("season.disc", "Base across its grain"),
    ("season.rings", "Ring by ring"),
    ("season.dry_short", "dry"),
    ("season.damp_short", "damp"),
    (
        "season.intro",
        "A joint wants to open by this much if nothing held it: inside while the wood shrinks, outside while it swells. Glue must bear it. A narrower wall, more segments or a wood that moves less make it smaller. Changes count from the shop’s air.",
    ),
    ("season.meter", "Is the wood ready?"),
    (
        "season.no_meter",
        "Enter a moisture meter’s reading to see whether the wood is ready.",
    ),
    ("base.title", "Base"),
    ("base.none", "Open below: no base that could move."),
    ("base.safe", "Safe glued all round"),
    ("base.play", "Play to leave"),
    ("base.not_safe", "Do not glue it all round"),
    ("base.unknown", "no figures"),
    ("base.disc", "Disc, finished"),
    ("base.mortise", "Mortise"),
    ("base.through", "Hole through the ledge"),
    ("base.thickness", "Thickness"),
    ("base.depth", "Depth of the mortise"),
    ("base.movement", "Against its ring, from the shop"),
    ("base.solid", "One board"),
    ("base.plies", "The plies"),
    ("base.wedges", "Wedges"),
    ("base.along_dry", "Along the grain, dry"),
    ("base.along_damp", "Along the grain, damp"),
    ("base.across_dry", "Across the grain, dry"),
    ("base.across_damp", "Across the grain, damp"),
    ("base.fitting", "Sizes"),
    ("base.blanks", "Wood to saw"),
    ("base.add_ply", "One ply more"),
    ("base.remove_ply", "One ply less"),
    (
        "base.intro",
        "Plus is growing past the ring, minus is shrinking from it, on the diameter. Along and across are those of the lowest ply.",
    ),
    (
        "base.ply_order",
        "Glue each ply across the one below, growth rings of all the same way round.",
    ),
    (
        "drawing.base",
        "The base in its ring, from above and cut open",
    ),
    ("sheet.base", "Base"),
    ("field.woods.*.name", "Name"),
    ("field.woods.*.like", "Like"),
    ("field.woods.*.color", "Color"),
    ("field.woods.*.specific_gravity", "Specific gravity"),
    ("field.woods.*.radial_pct", "Shrinks radial"),
    ("field.woods.*.tangential_pct", "Shrinks tangential"),
    ("field.woods.*.price", "Price for"),
    ("field.woods", "Own woods"),
    ("field.climate", "Seasons"),
    ("field.climate.shop_temperature_c", "Shop, temperature"),
    ("field.climate.shop_humidity_pct", "Shop, humidity"),
    ("field.climate.dry_temperature_c", "Dry season, temperature"),
    ("field.climate.dry_humidity_pct", "Dry season, humidity"),
    (
        "field.climate.damp_temperature_c",
        "Damp season, temperature",
    ),
    ("field.climate.damp_humidity_pct", "Damp season, humidity"),
    ("field.climate.meter_pct", "Moisture meter reads"),
    ("field.climate.sawn", "Boards are"),
    ("field.base", "Base"),
    ("field.base.kind", "Made of"),
    ("field.base.set", "Set"),
    ("field.base.diameter_mm", "Diameter, empty to suit"),
    ("field.base.thickness_mm", "Base thickness"),
    ("field.base.wood", "Base wood"),
    ("field.base.fit_mm", "Room for glue, on the diameter"),
    ("field.base.ledge_mm", "Ledge width"),
    ("field.base.wedge_count", "Wedges"),
    ("field.base.plies", "Plies"),
    ("field.base.plies.*.thickness_mm", "Ply thickness"),
    ("field.base.plies.*.wood", "Ply wood"),
    ("choice.flat", "Flatsawn"),
    ("choice.quarter", "Quartersawn"),
    ("choice.mixed", "Mixed, or not known"),
    ("choice.one_board", "One board"),
    ("choice.plies", "Plies laid crosswise"),
    ("choice.wedges", "Wedges"),
    ("choice.open", "Nothing, open below"),
    ("choice.let_in", "Let into its ring, full depth"),
    ("choice.on_ledge", "Let in, on a ledge"),
    ("choice.under", "Glued under its ring"),
    (
        "inlay.empty",
        "Here slots are sawn through a stack of rings and filled with strips of another wood.",
    ),
    (
        "bench.empty",
        "Here the order of work for a vessel stands, step by step, with its numbers.",
    ),
    ("start.title", "Start from a shape"),
    (
        "start.intro",
        "Choose a shape, then pull its points. It begins at the size of the ring in Ring.",
    ),
    ("example.title", "Or open an example"),
    ("example.porridge_bowl", "Porridge bowl"),
    ("example.lantern_vase", "Lantern vase"),
    ("start.bowl", "Open bowl"),
    ("start.ogee", "Ogee bowl"),
    ("start.closed", "Closed form"),
    ("start.vase", "Vase"),
    ("start.platter", "Platter"),
    ("start.cylinder", "Cylinder with a rounded foot"),
    ("vessel.again", "Another shape"),
    ("vessel.divide", "Divide into rings for me"),
    (
        "vessel.tap",
        "Tap the curve to add a point, a ring to open it, a segment to paint it.",
    ),
    ("vessel.point_corner", "Corner"),
    ("vessel.point_remove", "Remove the point"),
    ("vessel.size", "Size and wall"),
    ("vessel.stock", "Stock and limits"),
    ("vessel.rings", "All rings"),
    ("vessel.ring", "Ring"),
    ("vessel.split", "Split it"),
    ("vessel.accent", "Thin accent above it"),
    ("vessel.remove_ring", "Remove it"),
    ("vessel.woods", "Woods"),
    ("vessel.brush", "Pick a wood, then tap segments."),
    ("vessel.add_wood", "Add a wood"),
    ("vessel.remove_wood", "Remove this wood"),
    ("vessel.pattern", "Repeat this wood round the ring"),
    ("pattern.all", "All of it"),
    ("pattern.every2", "Every 2nd"),
    ("pattern.every3", "Every 3rd"),
    ("pattern.every4", "Every 4th"),
    ("pattern.blocks2", "Blocks of 2"),
    ("pattern.blocks3", "Blocks of 3"),
    ("pattern.spiral", "Spiral upward from here"),
    ("pattern.columns", "Straight upward from here"),
    ("pattern.mirror", "Mirror lower half upward"),
    ("vessel.totals", "What it comes to"),
    ("vessel.csv", "Copy as CSV"),
    ("vessel.csv_copied", "The table is copied."),
    ("vessel.csv_failed", "The table could not be copied."),
    ("vessel.no_cautions", "Nothing to look at first."),
    ("trace.title", "Trace a photograph or drawing"),
    (
        "trace.intro",
        "It lies over the section while you pull the points to it. It stays on this device and is not part of the link or the file.",
    ),
    (
        "trace.how",
        "Take the photograph level with the piece, from well back, so that the rim looks like a line.",
    ),
    ("trace.choose", "Choose a picture"),
    ("trace.place", "Place it again"),
    ("trace.remove", "Take it away"),
    ("trace.show", "Show it"),
    ("trace.strength", "How strong it shows"),
    (
        "trace.tap.foot",
        "Tap the middle of the foot on the picture.",
    ),
    (
        "trace.tap.one",
        "Tap one end of a length that you know, such as the rim or the full height.",
    ),
    ("trace.tap.other", "Tap the other end of it."),
    ("trace.length", "Length between the two ends"),
    (
        "trace.placed",
        "The picture lies at true scale. Pull the points to its outline.",
    ),
    (
        "trace.cross",
        "The picture. Tap, or move the cross with the arrow keys and press Enter.",
    ),
    (
        "trace.not_a_picture",
        "This file could not be shown as a picture. Use a photograph (JPEG, PNG or WebP).",
    ),
    (
        "trace.not_kept",
        "The browser does not keep the picture: it is here until the page is closed.",
    ),
    ("three.title", "The piece in wood"),
    ("three.blank", "As glued"),
    ("three.cut", "Cut open"),
    ("three.front", "Front view"),
    (
        "three.missing",
        "This browser has no 3D view. The section and the unrolled outside show the same.",
    ),
    (
        "three.lost",
        "The graphics were taken away for a moment. The view comes back by itself; the section and the unrolled outside show the same.",
    ),
    (
        "three.label",
        "The vessel in three dimensions. Drag to turn it, pinch or use plus and minus to come nearer.",
    ),
    ("table.height", "Height"),
    ("table.outside", "Outside"),
    ("table.inside", "Inside"),
    ("choice.yes", "Yes"),
    ("choice.no", "No"),
    ("places", "Places"),
    ("undo", "Undo"),
    ("redo", "Redo"),
    ("share", "Share"),
    ("designs", "Designs"),
    ("close", "Close"),
    ("settings", "Settings"),
    ("unnamed", "Unnamed"),
    // The saw.
    ("saw.title", "At the saw"),
    ("saw.setting", "Saw setting"),
    ("saw.stop", "Stop, long edge"),
    ("saw.strip", "Strip width"),
    (
        "saw.remainder",
        "A small figure behind a fraction tells what it leaves over: −0.004 means that the exact size is 0.004 less.",
    ),
    (
        "saw.stale",
        "One entry cannot be used. These figures are for the last one that could.",
    ),
    (
        "saw.why_strip",
        "Wider than the wall alone: the flat sides and inside corners must still hold the round ring.",
    ),
    ("row.complement", "Complement"),
    ("row.disc", "Disc diameter"),
    ("total.blank", "Weight glued up"),
    ("total.finished", "Weight finished"),
    ("total.holds", "Holds to the rim"),
    ("total.cuts", "Cuts at the miter saw"),
    ("total.joints", "Glue joints"),
    ("row.short_edge", "Short edge"),
    ("row.strip_height", "Strip height"),
    ("row.segments_a_strip", "Segments from one strip"),
    ("row.strips", "Strips"),
    ("row.strip_length", "Strip length in all"),
    ("row.wood", "Wood in the strips"),
    ("row.cost", "Cost of that wood, in your currency"),
    ("row.weight", "Weight of the glued ring"),
    ("row.circle", "Largest true circle"),
    ("row.hole", "Smallest hole"),
    ("row.corners", "Across the corners"),
    ("row.spacers", "Spacer length"),
    ("row.as_cut_circle", "Cut as shown: circle"),
    ("row.as_cut_hole", "Cut as shown: hole"),
    ("row.accuracy", "For a gap under a hair (0.002 in, 0.05 mm)"),
    ("row.face_miter", "Miter on the face"),
    ("row.blade_tilt", "Blade tilt"),
    ("row.bottom_width", "Width at the bottom"),
    ("row.top_width", "Width at the top"),
    ("row.top_diameter", "Diameter at the top"),
    ("row.stave_height", "Height standing"),
    // Fields.
    ("field.name", "Name"),
    ("field.unit", "Unit"),
    ("field.ring.outside_diameter_mm", "Outside diameter"),
    ("field.ring.wall_mm", "Wall"),
    ("field.ring.inside_diameter_mm", "Inside diameter"),
    ("field.ring.height_mm", "Ring height"),
    ("field.ring.segment_count", "Segments"),
    ("field.ring.between", "Between segments"),
    ("field.ring.spacer_mm", "Its thickness"),
    ("field.ring.wood", "Wood"),
    ("field.allowance.outside_mm", "Allowance outside"),
    ("field.allowance.inside_mm", "Allowance inside"),
    ("field.allowance.face_mm", "Allowance, each face"),
    ("field.shop.kerf_mm", "Kerf"),
    ("field.shop.hold_back_mm", "Kept back at the strip’s end"),
    ("field.shop.strip_length_mm", "Strip length at hand"),
    ("field.shop.price", "Price of the wood, in your currency"),
    ("field.shop.price_per", "Price for"),
    ("field.dry_fit.open_at", "How the last joint stands"),
    ("field.dry_fit.gap_mm", "Gap there"),
    ("field.dry_fit.glued_count", "Segments glued"),
    ("field.dry_fit.glued_angle_deg", "Angle over them"),
    ("field.stave.count", "Staves"),
    ("field.stave.lean_deg", "Lean from upright"),
    ("field.stave.length_mm", "Stave length"),
    (
        "field.stave.bottom_diameter_mm",
        "Outside diameter at the bottom",
    ),
    ("field.paper.size", "Paper"),
    ("field.shop.stock_mm", "Stock at hand, planed thicknesses"),
    ("field.shop.board_width_mm", "Widest board"),
    ("field.shop.least_segment_mm", "Shortest segment to cut"),
    ("field.shop.swing_mm", "Lathe’s swing"),
    ("field.shop.waste_percent", "Waste, in percent"),
    ("field.ring.is_matched", "All from one board"),
    ("field.vessel.rings.*.is_matched", "All from one board"),
    ("choice.fewest", "Fewest boards"),
    ("choice.cheapest", "Least cost"),
    ("choice.least_wood", "Least wood"),
    ("choice.rough", "Rough"),
    ("choice.planed", "Planed"),
    ("choice.piece", "a board"),
    ("boards.title", "Boards"),
    ("boards.list", "Boards you have, or could buy"),
    (
        "boards.intro",
        "Enter your boards, and see which to take and how to cut them.",
    ),
    ("boards.add", "Add a board"),
    ("boards.copy", "Copy"),
    ("boards.remove", "Remove"),
    ("boards.add_avoid", "Add a length to avoid"),
    ("boards.remove_avoid", "Leave it out"),
    (
        "boards.avoid_is",
        "Lengths to avoid count from the left end: a knot, a split.",
    ),
    ("boards.estimate", "Quick estimate"),
    (
        "boards.too_thick",
        "thicker than boards are sold: glue it up",
    ),
    ("boards.matched", "Rings from one board"),
    (
        "boards.matched_is",
        "All segments of a wood come from one board, so that grain and color match.",
    ),
    ("boards.answer", "Boards to take"),
    ("boards.none_fit", "None of these boards serves."),
    ("boards.layouts", "How to cut them"),
    (
        "boards.key",
        "Rip along the dashed lines, then cut across, turning the strip over between cuts. Hatched lengths are avoided; pale wood is left over.",
    ),
    ("boards.yield", "Ends up in pieces"),
    ("boards.wood", "Wood taken"),
    ("boards.cost", "Cost, in your currency"),
    ("field.rack", "The boards"),
    ("field.rack.boards", "The boards"),
    ("field.rack.goal", "Choose for"),
    ("field.rack.plane_at_most_mm", "Plane away at most"),
    ("field.rack.boards.*.wood", "Wood"),
    ("field.rack.boards.*.thickness_mm", "Thickness"),
    ("field.rack.boards.*.thickness_is", "Thickness is"),
    ("field.rack.boards.*.width_mm", "Width"),
    ("field.rack.boards.*.length_mm", "Length"),
    ("field.rack.boards.*.number", "Number"),
    ("field.rack.boards.*.price", "Price"),
    ("field.rack.boards.*.price_for", "Price for"),
    ("field.rack.boards.*.avoid", "Lengths to avoid"),
    ("field.rack.boards.*.avoid.*.from_mm", "Avoid from"),
    ("field.rack.boards.*.avoid.*.to_mm", "to"),
    ("field.vessel", "Vessel"),
    ("field.vessel.height_mm", "Height"),
    ("field.vessel.diameter_mm", "Greatest diameter"),
    ("field.vessel.points", "Outline"),
    ("field.vessel.rings", "Rings"),
    ("field.vessel.woods", "Woods"),
    ("field.vessel.points.*.height_mm", "Point’s height"),
    ("field.vessel.points.*.radius_mm", "Point’s radius"),
    ("field.vessel.points.*.is_corner", "Corner"),
    ("field.vessel.foot_wall_mm", "Wall at the foot"),
    ("field.vessel.rim_wall_mm", "Wall at the rim"),
    ("field.vessel.floor_mm", "Floor"),
    ("field.vessel.woods.*", "Wood"),
    ("field.vessel.rings.*.height_mm", "Ring height"),
    ("field.vessel.rings.*.segment_count", "Segments"),
    ("field.vessel.rings.*.made_of", "Made of"),
    (
        "field.vessel.rings.*.turn_half_segments",
        "Turned by half segments",
    ),
    ("field.vessel.rings.*.between", "Between segments"),
    ("field.vessel.rings.*.spacer_mm", "Its thickness"),
    ("field.vessel.rings.*.outside_extra_mm", "Extra outside"),
    ("field.vessel.rings.*.inside_extra_mm", "Extra inside"),
    ("field.vessel.rings.*.is_pinned", "Keep when dividing"),
    ("field.vessel.rings.*.pattern.*", "Segment’s wood"),
    ("field.vessel.rings.*.pattern", "Pattern"),
    ("built.title", "As built"),
    (
        "built.intro",
        "For rings that are glued already: measure them from the foot up, and see which curve still fits in them.",
    ),
    ("built.add", "Add a ring on top"),
    ("built.planned", "Take the rings as planned"),
    ("built.take_made", "Take this curve for the vessel"),
    ("built.take_nearest", "Take the nearest curve that fits"),
    ("built.reorder", "Do that"),
    ("built.turn_over", "Turn it over"),
    ("built.up", "Move it up"),
    ("built.down", "Move it down"),
    ("built.remove", "Take it off"),
    ("built.alike", "All were measured like this"),
    ("built.ring", "Ring"),
    ("built.more", "More about ring"),
    ("built.height", "Height of the rings"),
    ("built.left", "Left where it is tightest"),
    ("built.foot_wall", "Wall at the foot"),
    ("built.rim_wall", "Wall at the rim"),
    ("built.even_wall", "Thickest even wall in these rings"),
    (
        "built.pull",
        "Pull the points: the curve stops where the rings end. Dashes show how far in it may come before the wall is gone.",
    ),
    (
        "built.not_counted",
        "A ring could not be counted: its message stands at its figures. Whether the curve fits cannot be told until that is mended; the others are checked.",
    ),
    (
        "built.no_curve",
        "These rings leave no wall for any curve: the hole of one reaches past the outside of its neighbor.",
    ),
    (
        "drawing.built",
        "The glued rings cut open, and the curve in them",
    ),
    ("field.measured", "Measured rings"),
    ("field.measured.*.outside_diameter_mm", "Outside"),
    ("field.measured.*.inside_diameter_mm", "Inside"),
    ("field.measured.*.height_mm", "Height"),
    (
        "field.measured.*.upper_outside_diameter_mm",
        "Outside at its upper face, if it differs",
    ),
    (
        "field.measured.*.upper_inside_diameter_mm",
        "Inside at its upper face, if it differs",
    ),
    ("field.measured.*.outside_across", "Outside was measured"),
    ("field.measured.*.inside_across", "Inside was measured"),
    ("field.measured.*.segment_count", "Its segments"),
    ("choice.flats", "Flat to flat"),
    ("choice.corners", "Corner to corner"),
    ("choice.round", "Turned round already"),
    ("choice.segments", "Segments"),
    ("choice.disc", "A disc"),
    ("vessel.solid_disc", "A solid disc"),
    ("choice.nothing", "Glue only"),
    ("choice.spacer", "A spacer"),
    ("choice.gap", "An open gap"),
    ("choice.board_foot", "a board foot"),
    ("choice.cubic_meter", "a cubic meter"),
    (
        "choice.through",
        "Open right through, wider outside: measured outside",
    ),
    (
        "choice.outside",
        "Touches inside, open outside: measured outside",
    ),
    (
        "choice.inside",
        "Touches outside, open inside: measured inside",
    ),
    ("choice.letter", "Letter, 8½ × 11 in"),
    ("choice.a4", "A4, 210 × 297 mm"),
    ("unit.title", "Show lengths in"),
    ("unit.inch_8", "Inches, eighths"),
    ("unit.inch_16", "Inches, 16ths"),
    ("unit.inch_32", "Inches, 32nds"),
    ("unit.inch_64", "Inches, 64ths"),
    ("unit.inch_decimal", "Inches, decimal"),
    ("unit.millimeter", "Millimeters"),
    ("unit.change", "Change the unit"),
    ("count.less", "One segment less"),
    ("count.more", "One segment more"),
    // Folds.
    ("fold.figures", "The rest of the figures"),
    ("fold.choices", "Wood, allowances, kerf, strips"),
    ("fold.dry_fit", "It does not close"),
    (
        "fold.dry_fit.intro",
        "Clamp the ring dry. Push every joint tight but the last, and measure that one.",
    ),
    (
        "fold.protractor.intro",
        "Or glue a few segments and read the angle between the two end faces.",
    ),
    ("fold.saw_error", "What a small saw error does"),
    (
        "fold.saw_error.intro",
        "If every cut is off by this much, the last joint opens at the outside by:",
    ),
    ("fold.counts", "Other segment counts"),
    (
        "fold.counts.intro",
        "This ring with 6 to 48 segments. Tap a row to take it.",
    ),
    ("fold.staves", "Staves"),
    (
        "fold.staves.intro",
        "Boards standing round the axis, leaning outward toward the top (a minus leans inward).",
    ),
    ("fold.safety", "Before the saw runs"),
    (
        "safety.1",
        "Segments are too small to hold by hand. Use a sled with a clamp or hold-down, and keep both hands well clear of the blade.",
    ),
    (
        "safety.2",
        "Never trap a cut-off between stop and blade: clamp the stop ahead of the blade, or set it so that the piece is free when the cut ends.",
    ),
    (
        "safety.3",
        "Leave a strip’s last piece when it is too short to hold. Let the blade stop before you reach for offcuts.",
    ),
    (
        "safety.4",
        "Eye protection to ANSI/ISEA Z87.1, hearing protection, and dust extraction.",
    ),
    (
        "safety.5",
        "The saw’s manual, local rules and proper instruction come before anything this page says.",
    ),
    ("cautions", "Look at this first"),
    ("counts.segments", "Segments"),
    ("counts.saw", "Saw"),
    ("counts.stop", "Stop"),
    ("counts.short", "Short edge"),
    ("counts.strip", "Strip width"),
    ("counts.length", "Strip in all"),
    ("counts.accuracy", "Accuracy"),
    ("drawing.ring_names", "ring: count × long edge"),
    ("drawing.ring", "The ring from above and from the side"),
    (
        "drawing.segment",
        "One segment on its strip, the next one turned over",
    ),
    // Keypad.
    ("keypad.title", "Keypad"),
    ("keypad.erase", "Erase"),
    ("keypad.clear", "Clear"),
    ("keypad.done", "Done"),
    ("keypad.next", "Next"),
    ("keypad.minus", "Minus"),
    ("keypad.point", "Point"),
    ("keypad.stroke", "Fraction stroke"),
    ("keypad.system", "Use the system’s keyboard"),
    ("keypad.own", "Fraction keypad on touch"),
    // Share and keep.
    ("share.title", "Share this design"),
    (
        "share.intro",
        "The whole design is in the link. Nothing is sent anywhere until you send the link.",
    ),
    ("share.send", "Send the link"),
    ("share.copy", "Copy the link"),
    ("share.copied", "The link is copied."),
    ("share.shared", "The link is handed on."),
    (
        "share.failed",
        "The link could not be copied. Mark it in the field below and copy it by hand.",
    ),
    ("share.link", "The link"),
    (
        "share.qr",
        "The link as a code, for the tablet beside this one",
    ),
    (
        "share.qr_far",
        "This page is open from a file on this device, so another device cannot follow its address. Share the file ringwright.html too, open it there, and paste this link under Designs.",
    ),
    ("share.file", "Save as a file"),
    ("share.file_saved", "The file is saved."),
    (
        "share.file_failed",
        "The file could not be saved. Share the link instead.",
    ),
    ("designs.title", "Designs on this device"),
    ("designs.new", "New design"),
    ("designs.copy", "Copy this one"),
    ("designs.open_file", "Open a file"),
    ("designs.open_link", "Open a link"),
    ("designs.link_field", "Paste a Ringwright link"),
    ("designs.remove", "Remove"),
    ("designs.removed", "Removed."),
    (
        "designs.removed_for_good",
        "Removed for good, because there was no room to keep it.",
    ),
    ("designs.put_back", "Put it back"),
    ("designs.open", "Open"),
    ("designs.this", "Open now"),
    ("designs.earlier", "Earlier states of this design"),
    (
        "designs.no_earlier",
        "Earlier states appear here as you work.",
    ),
    ("designs.go_back", "Go back to it"),
    ("designs.outside_never", "Not yet kept outside this browser"),
    (
        "designs.outside_changed",
        "Changed since it was last kept outside this browser:",
    ),
    ("designs.outside_same", "Kept outside this browser:"),
    (
        "designs.aside",
        "These cannot be opened by this version. What is there is untouched:",
    ),
    ("designs.unreadable", "Could not be read; found"),
    ("designs.later", "Kept by a newer version of Ringwright"),
    ("designs.stranded", "Earlier state, kept"),
    ("designs.open_earlier", "Open it"),
    ("designs.show_aside", "Show what is there"),
    ("designs.save_aside", "Save what is there as a file"),
    ("designs.file_not_read", "The file could not be opened:"),
    (
        "designs.file_too_large",
        "It is larger than 2 MB, and no design is. Choose a file that Ringwright saved.",
    ),
    (
        "designs.beside",
        "Opened beside your own work, which is unchanged.",
    ),
    (
        "designs.reset_fields",
        "Some values could not be taken and were set to the usual ones:",
    ),
    (
        "designs.stay.granted",
        "The browser has promised not to clear what is kept here.",
    ),
    (
        "designs.stay.denied",
        "The browser may clear what is kept here when space runs short or after weeks without a visit. Keep a file or a link of what matters.",
    ),
    ("kept.kept", "Kept"),
    ("kept.late", "Kept soon"),
    ("kept.keeping", "Keeping…"),
    ("kept.not", "Not kept"),
    (
        "keep.memory",
        "This browser keeps nothing (storage is blocked). The work lasts until the page closes: save it as a file.",
    ),
    (
        "keep.full",
        "This device’s storage for the page is full. New changes are not kept: save the design as a file, or remove designs you no longer need.",
    ),
    (
        "keep.slow",
        "The last change is not on this device’s disk yet. If this stays, save the design as a file.",
    ),
    (
        "keep.given_up",
        "Room on this device ran short. Steps of undo, earlier states or removed designs were given up so that the design itself is kept.",
    ),
    (
        "keep.erased",
        "What was kept on this device was erased while the page was open. The open design is kept again.",
    ),
    (
        "keep.unreadable",
        "Something kept on this device could not be read. It was put aside, untouched.",
    ),
    (
        "keep.later",
        "A design on this device was kept by a newer version of Ringwright. It stays as it is. Load the page again to get that version.",
    ),
    ("leave.title", "The last changes are not kept"),
    (
        "leave.says",
        "This device’s storage is full, and the last changes of the open design found no room. Save it as a file before you leave it.",
    ),
    ("leave.go", "Leave it without"),
    ("leave.stay", "Stay"),
    (
        "keep.newer",
        "Another tab has changed this design. This tab’s version goes on as a copy.",
    ),
    ("keep.other_tab", "This design was changed in another tab."),
    ("keep.load_other", "Load that version"),
    ("offline.ready", "Ready to work with no network."),
    ("offline.new", "A new version of Ringwright is ready."),
    ("offline.apply", "Change to it now"),
    ("offline.later", "Later"),
    // Paper.
    ("paper.title", "Paper"),
    (
        "paper.intro",
        "All that the shop needs with the tablet switched off. Tick the sheets that you want.",
    ),
    ("paper.pdf", "Save the PDF"),
    ("paper.all", "Tick all"),
    ("paper.usual", "Tick the usual ones"),
    ("paper.nothing", "Tick none"),
    ("paper.none_ticked", "Tick a sheet first."),
    (
        "paper.no_cuts",
        "Draw a vessel first: the cut list is of its rings.",
    ),
    ("paper.more", "Other files"),
    (
        "paper.more_intro",
        "Single sheets for drawing programs, and templates in one piece for a laser or vinyl cutter: the layer CUT holds the edges, SCORE the finer lines. Lasers, knives and their fumes hurt: the machine’s manual comes first.",
    ),
    ("paper.svg", "Ticked sheets as SVG"),
    ("paper.dxf", "Ticked sheets as DXF"),
    ("paper.csv", "Cut list as CSV"),
    ("paper.zip", "Everything as one ZIP"),
    (
        "paper.letters",
        "Letters that this paper’s typeface lacks stand as ?. The screen shows them all.",
    ),
    ("sheet.cover", "Cover"),
    ("sheet.section", "Section"),
    ("sheet.cuts", "Cut list"),
    ("sheet.story", "Story stick"),
    ("sheet.outside", "Template, outside"),
    ("sheet.inside", "Template, inside"),
    ("sheet.discs", "Centering disc"),
    (
        "sheet.template_note",
        "Glue it to card or thin plywood, then cut along the thick line. Sheets in parts: lay circled cross over circled cross, then trim.",
    ),
    (
        "sheet.plies_note",
        "No disc is sawn for this ring: the base’s plies stand in its place, glued crosswise. The base’s own sheet tells how.",
    ),
    (
        "sheet.disc_note",
        "A solid disc: it moves across its grain with the seasons, the ring glued to it hardly does. Keep it small, or cross-laminate it.",
    ),
    (
        "sheet.goes_on",
        "The segment is larger than the room on this sheet. It follows at true scale, on its own sheets.",
    ),
    (
        "cover.no_code",
        "The design’s link is too long for a code on paper. Share it from the screen instead.",
    ),
    ("cover.pieces", "Pieces"),
    ("section.foot_wall", "Wall at the foot"),
    ("section.rim_wall", "Wall at the rim"),
    ("section.floor", "Floor"),
    ("cuts.rip", "Rip the strips, the widest first"),
    (
        "cuts.rip_note",
        "Lengths hold kerfs, both ends and the piece to hold by. A strip spoiled at the fence still makes a narrower one.",
    ),
    ("cuts.miter", "Cut the segments, by saw setting and stop"),
    ("cuts.thickness", "Thickness"),
    ("cuts.width", "Rip to"),
    ("cuts.count", "Pieces"),
    ("cuts.disc", "Disc"),
    ("cuts.spacers", "Spacers"),
    ("story.foot", "Foot"),
    ("story.rim", "Rim"),
    ("story.floor", "Floor"),
    ("field.paper.orientation", "Sheets lie"),
    ("choice.portrait", "Upright"),
    ("choice.landscape", "On their long side"),
    (
        "paper.true_scale",
        "Print at actual size, 100 %, then check the bar with a rule: it must measure 4 in and 100 mm.",
    ),
    ("paper.saved", "The file is saved."),
    ("paper.failed", "The file could not be saved."),
    (
        "paper.none",
        "There is no sheet yet: the ring has no segment that can be cut. Look at the message in Ring.",
    ),
    ("sheet.segment", "One segment at true scale"),
    (
        "sheet.wedge",
        "Miter wedge at true scale: set fence and blade by it",
    ),
    // Inlay.
    ("field.vessel.slot_sets", "Slot sets"),
    ("field.vessel.slot_sets.*.from_ring", "Lowest ring"),
    ("field.vessel.slot_sets.*.to_ring", "Topmost ring"),
    ("field.vessel.slot_sets.*.slot_count", "Slots"),
    ("field.vessel.slot_sets.*.gauge_deg", "Gauge angle"),
    ("field.vessel.slot_sets.*.leans", "Rising, they lean"),
    ("field.vessel.slot_sets.*.first_at", "Count from"),
    (
        "field.vessel.slot_sets.*.further_deg",
        "First slot further on",
    ),
    ("field.vessel.slot_sets.*.kerf_mm", "Kerf of the slots"),
    ("field.vessel.slot_sets.*.fit_mm", "Strip thinner by"),
    ("field.vessel.slot_sets.*.wood", "Wood of the strips"),
    (
        "field.vessel.slot_sets.*.blade_mm",
        "Blade height (empty: the middle)",
    ),
    ("field.vessel.slot_sets.*.shows", "The strips show"),
    ("field.vessel.slot_sets.*.stack_is", "The stack is"),
    ("choice.right", "To the right"),
    ("choice.left", "To the left"),
    ("choice.joint", "A joint"),
    ("choice.segment", "A segment’s middle"),
    ("choice.front", "The front"),
    ("choice.outside_only", "Outside only"),
    ("choice.inside_too", "Inside too"),
    ("choice.turned_round", "Turned round"),
    ("choice.left_flat", "Left with flats"),
    ("inlay.set", "Set"),
    ("inlay.add", "Add a set of slots"),
    ("inlay.crossing", "The same the other way, crossing"),
    ("inlay.zigzag", "The same the other way, half a step on"),
    ("inlay.remove", "Remove this set"),
    ("inlay.band", "The outside of these rings, unrolled"),
    (
        "inlay.band_help",
        "Drag the middle of a slot to place the set, its upper end to lean it.",
    ),
    ("inlay.drawn_true", "Drawn to scale."),
    ("inlay.window", "Blade above the table"),
    ("inlay.inside_band", "The inside, unrolled"),
    ("inlay.saw", "At the table saw"),
    ("inlay.choices", "This set"),
    ("inlay.openings", "Any one of these opens a window"),
    ("inlay.list", "Slots and strips"),
    ("inlay.work", "Order of work"),
    ("inlay.fit_zigzag", "Set the gauge to meet"),
    ("inlay.fit_nearest", "Take the nearest zigzag"),
    ("inlay.sheet", "Spline slots"),
    (
        "inlay.index",
        "Index strip, true to scale: wrap it round the stack",
    ),
    ("inlay.join", "join to the next piece here"),
    ("slot.blade", "Blade above the table"),
    ("slot.gauge", "Gauge angle"),
    ("slot.index", "From slot to slot"),
    ("slot.round", "From slot to slot along the outside"),
    ("slot.least", "Least blade height to show"),
    ("slot.most", "Most to leave the bridge"),
    ("slot.hidden", "Most to stay hidden inside"),
    ("slot.bridge", "Left under the slots"),
    ("slot.between", "Left between slots"),
    ("slot.thick", "Strip thickness"),
    ("slot.wide", "Strip width"),
    ("slot.long", "Strip length"),
    ("slot.strips", "Strips"),
    ("slot.fence", "Fence at least this high"),
    ("slot.clamp", "Clamps at least this far above the table"),
    ("slot.first", "First slot, from the front"),
    ("slot.zigzag", "Gauge for these slots to meet in a zigzag"),
    ("slot.nearest", "Nearest zigzag to this angle"),
    (
        "inlay.safety.1",
        "Clamp the stack to the gauge well above the blade; never hold it by hand alone.",
    ),
    (
        "inlay.safety.2",
        "Let the stack’s outside rest on the table along its length, with a tall fence behind its face.",
    ),
    (
        "inlay.safety.3",
        "These are cuts that do not go through: what the guard and the riving knife need is told by the saw’s manual and the local rules.",
    ),
    (
        "inlay.safety.4",
        "Stop the blade before you clear small offcuts, and try the whole set-up on scrap first.",
    ),
    ("window.table", "table"),
    // Bench.
    ("bench.setup", "Glue and tool"),
    ("bench.meeting", "Where the halves meet"),
    ("bench.meet_lower", "Lower"),
    ("bench.meet_higher", "Higher"),
    ("bench.meet_own", "Choose for me"),
    (
        "bench.one_piece",
        "In one piece, rim up: a tool reaches the whole inside from the rim.",
    ),
    (
        "bench.one_in_stages",
        "In one piece, rim up: the inside is turned in stages, before the next ring closes it in.",
    ),
    (
        "bench.two_halves",
        "In two halves that meet above ring %1: the lower one on a block under the foot, the upper one on a block over the rim.",
    ),
    ("bench.own_says", "That is where the page would join them."),
    ("bench.other_says", "The page would choose: %1."),
    ("bench.own_one", "one piece"),
    ("bench.own_above", "above ring %1"),
    ("bench.glue", "This glue in this shop"),
    (
        "bench.glue_note",
        "Usual figures. The maker’s data sheet for your glue comes first.",
    ),
    ("bench.done_of", "%1 of %2 steps done"),
    ("bench.at_saw", "At the saw"),
    ("bench.next_open", "Next to do"),
    ("bench.tick", "Done"),
    (
        "bench.changed",
        "Its numbers have changed since you ticked it.",
    ),
    (
        "bench.none",
        "There is no ring to make yet. Divide the vessel in Vessel.",
    ),
    ("bench.safety", "Before the lathe runs"),
    (
        "bench.safety.1",
        "Full face shield to ANSI/ISEA Z87.1 over safety glasses, no gloves, nothing loose, sleeves tight.",
    ),
    (
        "bench.safety.2",
        "Turn the wood round by hand first. Stand aside, out of the line of the rim, when you switch on, and begin slow.",
    ),
    (
        "bench.safety.3",
        "The speed bounds are common practice, no rule for your lathe. Come near them from below, and only while nothing shakes. Glued wood with a crack, an open joint or a loose segment does not spin.",
    ),
    (
        "bench.safety.4",
        "Working from the far side or deep inside, have the stop within reach: a remote stop switch.",
    ),
    (
        "bench.safety.5",
        "Extract dust and wear a respirator when you turn dry wood and sand. Some woods sensitize; the dust of all can harm.",
    ),
    (
        "bench.safety.6",
        "Lathe’s manual, glue’s data sheet, local rules and proper instruction come before anything this page says.",
    ),
    ("bench.stations", "Caliper stations"),
    (
        "bench.stations.intro",
        "Measured from the rim down. The wall is square to the outside.",
    ),
    ("bench.depth", "Depth"),
    ("bench.face_depth", "From the open face"),
    ("bench.wall", "Wall"),
    ("bench.plug", "Centering plug"),
    (
        "bench.plug.intro",
        "A stepped plug to print: each ring hangs on the step that fits its hole. Slide it on a rod or pin in the tailstock, small end first, and press the ring home.",
    ),
    ("bench.plug_save", "Save the plug as STL"),
    ("bench.plug_saved", "The plug is saved."),
    ("bench.plug_failed", "The plug could not be saved."),
    (
        "bench.plug_none",
        "No ring has a hole that a plug of up to 200 mm (8 in) fits.",
    ),
    ("bench.plug_rings", "rings %1"),
    ("bench.step", "Step %1"),
    ("bench.awake", "The screen stays on."),
    (
        "bench.not_awake",
        "This browser cannot keep the screen on. Set the tablet’s own screen time longer.",
    ),
    ("bench.back", "Back"),
    ("bench.next", "Next"),
    ("bench.place_of", "Step %1 of %2"),
    ("bench.picture", "Drawing of this step"),
    ("chapter.wood", "Boards and strips"),
    ("step.buy", "Buy the wood"),
    (
        "says.buy",
        "Waste counted in. Enter the boards in Wood, and they are laid out with the least waste. The slots’ strips come from scrap.",
    ),
    ("step.boards", "Take the boards"),
    (
        "says.boards",
        "Mark each board with the rings that it is for. The slots’ strips come from scrap.",
    ),
    (
        "says.boards_so_far",
        "Wood searches on and may need fewer. The slots’ strips come from scrap.",
    ),
    ("bench.boards", "Boards in all"),
    ("bench.strips_of", "Strips of %1"),
    ("step.rip", "Plane to %1 and rip the strips"),
    (
        "says.rip",
        "The widest first: one spoiled still makes a narrower one. Straight edge to the fence, riving knife on, a push stick for the last of it.",
    ),
    ("row.blank_side", "Side of the square"),
    ("row.slot_kerf", "Kerf"),
    ("step.base_plies", "Base: saw %1 plies"),
    (
        "says.base_plies",
        "Saw them off a block, which may be glued from scrap, and dress them. Mark the grain’s direction on each.",
    ),
    ("step.base_board", "Base: saw the board"),
    ("step.base_wedges", "Base: saw %1 wedges"),
    (
        "says.base_wedges",
        "Points: hold each with a clamp, never by hand. Turn the strip over between cuts.",
    ),
    ("step.base_glue_plies", "Base: glue the plies crosswise"),
    (
        "says.base_glue_plies",
        "In the order that Wood draws, the grain of each across the one below. Between flat cauls, clamped all over.",
    ),
    ("step.base_glue_wedges", "Base: glue the wedges up"),
    ("step.base_round", "Base: make it flat and round"),
    (
        "says.base_round",
        "Flatten both faces to the thickness, saw it round a little large, turn it to the diameter between blocks.",
    ),
    ("step.base_mortise", "Ring 1: turn the mortise"),
    (
        "says.base_mortise",
        "From the open face, before ring 2 comes on. Straight sides, creep up on the diameter, try the disc often.",
    ),
    (
        "says.base_ledge",
        "From the open face, before ring 2 comes on: first the hole, then the mortise down to the ledge. Try the disc often.",
    ),
    ("step.base_let_in", "Let the base into ring 1"),
    ("step.base_on_ledge", "Set the base on ring 1’s ledge"),
    ("step.base_under", "Glue the base under ring 1"),
    (
        "says.base_round_glued",
        "Try it dry. Glue all round, paper under it where it must not hold to the block. Before ring 2 comes on.",
    ),
    (
        "says.base_play",
        "Look at the cautions before any glue. Leave the play all round and glue only the middle of one side, paper under it. Before ring 2 comes on.",
    ),
    (
        "says.base_under",
        "Both faces flat to the straightedge. Look at the cautions before any glue. Centered, clamped all round.",
    ),
    (
        "says.inlay_across",
        "These slots cut through the strips of set %1: those must be glued, dry and flush first.",
    ),
    ("chapter.stacks", "Stacks with slots, before they go on"),
    (
        "step.stack_whole",
        "Turn ring %1 flat, glue the stack of rings %2 to %3 on",
    ),
    ("chapter.rings", "The rings, one by one"),
    ("chapter.whole_piece", "On the lathe"),
    ("chapter.lower", "Lower half, on the foot’s block"),
    ("chapter.upper", "Upper half, on the rim’s block"),
    ("chapter.last", "Last"),
    ("chapter.joined", "Both halves"),
    ("step.cut", "Ring %1: saw %2 segments"),
    (
        "says.cut",
        "Small pieces: a sled with a clamp or hold-down, the stop clear of the cut. Turn the strip over between cuts.",
    ),
    ("step.disc", "Ring %1: saw the disc"),
    (
        "says.disc",
        "Saw it a little large and round. Mark its center; flatten the side that goes down.",
    ),
    ("step.glue", "Ring %1: dry-fit and glue up"),
    (
        "says.glue",
        "Clamp it dry first and hold it against the light. Where the last joint stands open, Ring tells by how much to turn the saw.",
    ),
    ("step.flat", "Ring %1: flatten both faces"),
    (
        "says.flat",
        "Wait until the glue is hard. Take the same from both faces; try them with a straightedge.",
    ),
    ("step.block.foot", "Block for the foot"),
    ("step.block.rim", "Block for the rim"),
    (
        "says.block",
        "Screw a sound piece of face grain to the faceplate, screws shorter than it is thick. Turn it round and its face flat.",
    ),
    ("step.mount", "Glue ring %1 on the block"),
    (
        "says.mount",
        "Draw the circle while it turns slowly. Set the ring’s corners on it and clamp.",
    ),
    ("step.stack", "Turn ring %1 flat, glue ring %2 on"),
    (
        "says.stack",
        "Flat to the straightedge, with no hollow, and just round. Press it home with the tailstock or clamps. Do not spin it before the squeeze-out is hard: it flies.",
    ),
    (
        "step.inlay",
        "Slot set %1, %2: saw the slots, glue the strips in",
    ),
    (
        "says.inlay",
        "Turn these rings round outside to the face that Inlay names, both end faces flat. Saw off the lathe, every slot before the first strip. Glue the strips, let them dry, trim them flush before anything else goes on.",
    ),
    ("step.inside_one", "Turn the inside of ring %1"),
    ("step.inside", "Turn the inside of rings %1 to %2"),
    ("step.before", ", before ring %1 closes it in"),
    (
        "says.inside",
        "Begin at the lathe’s slowest. Check wall and depth at the stations. Sand and seal it now: later no hand gets in.",
    ),
    (
        "says.inside_last",
        "Check wall and depth at the stations, and stop often to measure.",
    ),
    ("step.true_halves", "Turn both open faces true"),
    (
        "says.true_halves",
        "Flat to the straightedge. Put them together dry: no light through, walls that meet. Seal what is inside.",
    ),
    ("step.join", "Glue the halves together"),
    (
        "says.join",
        "Both on their blocks, between headstock and tailstock; the tailstock presses. Segments stand as drawn. Leave it there until the glue is hard.",
    ),
    ("step.outside", "Turn the outside"),
    (
        "says.outside",
        "Begin at the lathe’s slowest, tailstock up as long as it can be. Take the corners off, then the curve. Stand aside at switch-on.",
    ),
    ("step.finish", "Sand and finish"),
    (
        "says.finish",
        "Not before the glue has its full strength: swollen lines sink back, then sand. Slower than you turned, dust extracted.",
    ),
    ("step.part_rim", "Part off the rim’s block"),
    (
        "says.part_rim",
        "Slow, tailstock up but not pressing. Leave a neck, stop, saw it through. Then true the rim.",
    ),
    ("step.part_foot", "Part off the foot"),
    (
        "says.part_foot",
        "Leave a neck, stop, saw it through. Finish the foot against a padded block, tailstock up to the last cut, a little hollow so that it stands.",
    ),
    ("row.open_time", "Close the joint within"),
    ("row.clamp_time", "In the clamps"),
    ("row.turn_time", "Turn it after"),
    ("row.stress_time", "Full strength after"),
    ("row.least_c", "Never colder than"),
    ("bench.glue_in_all", "Glue in the rings and between them"),
    ("row.glue_amount", "Glue"),
    ("row.pressure", "Clamp pressure"),
    ("row.ring_height", "Ring height"),
    ("row.block_diameter", "Block diameter, at least"),
    ("row.block_thickness", "Block thickness, at least"),
    ("row.faceplate", "Faceplate, at least"),
    ("row.foot", "Finished foot"),
    ("row.rim", "Finished rim"),
    ("row.tall", "Height in all"),
    ("row.around", "Circle for its corners"),
    ("row.within", "Circle within its hole"),
    ("row.plug_step", "Plug’s step"),
    ("row.corners_out", "Its corners stand out all round by"),
    ("row.disc_thickness", "Thickness"),
    ("row.turned", "Turned against the ring below"),
    ("row.joint_outside", "Finished outside at the joint"),
    ("row.joint_inside", "Finished inside at the joint"),
    ("row.glue_width", "Glue left after turning"),
    ("row.blank_rpm", "While it has corners, never above"),
    ("row.finished_rpm", "Once round, never above"),
    ("row.rim_speed", "Rim speed at the highest"),
    ("row.depth", "Depth"),
    ("row.opening", "Narrowest way in"),
    ("row.overhang", "Tool beyond the rest"),
    ("row.off_center", "Mass off the axis"),
    ("row.pull", "It pulls there with"),
    ("field.bench.glue", "Glue"),
    (
        "field.bench.meet_above_ring",
        "Halves meet above ring, 0 for one piece",
    ),
    ("field.bench.overhang_mm", "Tool beyond the rest, at most"),
    ("field.bench.station_mm", "From station to station"),
    (
        "field.bench.plug_clearance_mm",
        "Plug smaller than the hole by",
    ),
    ("field.bench.plug_bore_mm", "Hole through the plug"),
    ("choice.yellow_pva", "Yellow PVA"),
    ("choice.white_pva", "White PVA"),
    ("choice.polyurethane", "Polyurethane"),
    ("choice.liquid_hide", "Liquid hide glue"),
    ("choice.hot_hide", "Hot hide glue"),
    ("choice.slow_epoxy", "Epoxy, slow"),
    ("sheet.order", "Order of work"),
];

/// A page word by its key; the key itself where there is none (a test sees to it that
/// this does not happen).
pub fn page(key: &str) -> &str {
    PAGE.iter()
        .find(|(name, _)| *name == key)
        .map_or(key, |(_, text)| text)
}

/// A page word with values put in for `%1`, `%2` ….
pub fn filled(key: &str, values: &[&str]) -> String {
    let mut pieces = page(key).split('%');
    let mut text = pieces.next().unwrap_or_default().to_owned();
    for piece in pieces {
        let place = piece.chars().next().and_then(|digit| digit.to_digit(10));
        let value = place.and_then(|place| values.get((place as usize).wrapping_sub(1)));
        if let Some(value) = value {
            text.push_str(value);
            text.push_str(&piece[1..]);
        } else {
            text.push('%');
            text.push_str(piece);
        }
    }
    text
}

/// The label of a field.
pub fn label(field_key: &str) -> &'static str {
    let pattern = crate::field::pattern_of(field_key);
    PAGE.iter()
        .find(|(name, _)| name.strip_prefix("field.") == Some(pattern.as_str()))
        .map_or("This design", |(_, text)| text)
}

/// What the turner is told: at which field, what is wrong, what mends it.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(target_arch = "wasm32", derive(tsify::Tsify))]
pub struct Message {
    /// Key of the field; empty when it is about no single field.
    pub field: String,
    /// What is so, with the number.
    pub reason: String,
    /// What to do.
    pub remedy: String,
}

/// Degrees with up to three places and the sign behind them.
pub fn degrees(radians: f64) -> String {
    format!("{}°", decimal(radians.to_degrees(), 3))
}

/// A length in one line, `2 3/4 in`: as the tape has it. In a sentence, what the rounding
/// left over is in the way.
pub fn length(length_mm: f64, unit: Unit) -> String {
    show(length_mm, unit).line()
}

/// A movement or play: thousandths of an inch, hundredths of a millimeter.
pub fn fine_length(length_mm: f64, unit: Unit) -> String {
    if unit.is_inch() {
        format!("{} in", decimal(length_mm / crate::length::MM_PER_INCH, 3))
    } else {
        format!("{} mm", decimal(length_mm, 2))
    }
}

/// A figure with its sign, for growing and shrinking.
pub fn signed(figure: &str) -> String {
    let is_bare = !figure.starts_with('\u{2212}') && !figure.starts_with("0 ");
    (if is_bare { "+" } else { "" }).to_owned() + figure
}

/// Where a miter joint opens, and in which ring where there are more.
pub fn joint_opens(opening_mm: f64, place: Option<usize>) -> String {
    let side = if opening_mm < 0.0 {
        "inside"
    } else {
        "outside"
    };
    let ring = place.map_or_else(String::new, |place| format!(", ring {} most", place + 1));
    format!("{side}{ring}")
}

/// `Ring 4`.
pub fn ring_number(place: usize) -> String {
    format!("{} {}", page("vessel.ring"), place + 1)
}

/// A ply's field: `Ply 2: wood`.
pub fn ply(place: usize, label: &str) -> String {
    format!("{} {}", label, place + 1)
}

/// A price's label, with what it is for.
pub fn price_for(what: &str) -> String {
    let what = page(&format!("choice.{what}")).to_owned();
    format!("{} {what}", page("field.woods.*.price"))
}

/// The saw cuts that a block takes.
pub fn block_cuts(count: u32) -> String {
    match count {
        1 => "one piece".to_owned(),
        2 => "glued up from scrap, 1 saw cut".to_owned(),
        _ => format!("glued up from scrap, {} saw cuts", count - 1),
    }
}

/// The slices of a block.
pub fn slices(count: u32) -> String {
    if count == 1 {
        "Sawn to".to_owned()
    } else {
        format!("{count} slices, each sawn to")
    }
}

/// What a slice is dressed to.
pub fn dressed_to(length_mm: f64, unit: Unit) -> String {
    format!("dressed to {}", show(length_mm, unit).line())
}

/// What a meter's reading says.
pub fn ready(ready: Ready, reading_pct: f64, moistures: &Moistures) -> String {
    let [dry, damp] = moistures.season_pct.map(|it| decimal(it, 1));
    let shop = decimal(moistures.shop_pct, 1);
    let says = match ready {
        Ready::Yes => "Ready: it rests, near the middle of the seasons to come.",
        Ready::Drying => {
            "Not ready: it still dries. Stack it on stickers in the shop and measure again."
        }
        Ready::TakingUp => {
            "Not ready: it still takes up moisture. Stack it on stickers in the shop and measure again."
        }
        Ready::ShopTooDry => {
            "It rests, but the shop is drier than the home: every joint will swell there."
        }
        Ready::ShopTooDamp => {
            "It rests, but the shop is damper than the home: every joint will shrink there. Dry the shop, or let the wood rest where it will live."
        }
        Ready::PastMeter => {
            "A meter does not read reliably below 4 or above 30 %. Measure again inside a fresh cut."
        }
    };
    format!(
        "{says} Read {} %; the shop brings it to {shop} %, the home to {dry} to {damp} %.",
        decimal(reading_pct, 1)
    )
}

/// The message for a trouble.
pub fn trouble(trouble: &Trouble, unit: Unit) -> Message {
    let (reason, remedy) = reason_and_remedy(trouble, unit);
    Message {
        field: trouble.field.clone().into_owned(),
        reason,
        remedy,
    }
}

// One arm a sentence: the list is long because the trade's mishaps are many.
#[allow(clippy::too_many_lines)]
fn reason_and_remedy(trouble: &Trouble, unit: Unit) -> (String, String) {
    let name = label(&trouble.field);
    let mm = |length_mm: f64| length(length_mm, unit);
    let text = |reason: String, remedy: &str| (reason, remedy.to_owned());
    match &trouble.reason {
        Reason::NotALength(why) => not_a_length(name, why, unit, trouble.field.ends_with("_mm")),
        Reason::NotWhole(value) => text(
            format!("{name}: {} is not a whole number.", decimal(*value, 3)),
            "Enter a whole number, such as 12.",
        ),
        Reason::OutOfRange { value, least, most } => {
            let is_length = trouble.field.ends_with("_mm");
            let show = |value: f64| {
                if is_length {
                    mm(value)
                } else if trouble.field.ends_with("_temperature_c") {
                    let degrees = decimal(unit.shown_degrees(value), 1);
                    format!("{degrees} {}", unit.degrees_mark())
                } else if trouble.field.ends_with("_pct") {
                    format!("{} %", decimal(value, 3))
                } else {
                    decimal(value, 3)
                }
            };
            let range = if is_length && *least < 0.05 {
                if *least > 0.0 {
                    format!("more than 0, up to {}", show(*most))
                } else {
                    format!("0 to {}", show(*most))
                }
            } else {
                format!("{} to {}", show(*least), show(*most))
            };
            let value = if value.abs() > 1e9 {
                "that".to_owned()
            } else {
                show(*value)
            };
            (
                format!("{name}: {value} cannot be made."),
                format!("It takes {range}."),
            )
        }
        Reason::NotAChoice(word) => text(
            format!("{name}: “{word}” is not known here."),
            "Choose one from the list.",
        ),
        Reason::WrongKind => text(
            format!("{name}: what stands there is not a value for it."),
            "Enter it anew.",
        ),
        Reason::NoWall {
            inside_mm,
            outside_mm,
        } => text(
            format!(
                "Inside diameter {} leaves no wall: outside is {}.",
                mm(*inside_mm),
                mm(*outside_mm)
            ),
            "Make the inside smaller or the outside larger.",
        ),
        Reason::WallPastCenter { wall_mm, radius_mm } => (
            format!(
                "A wall of {} is thicker than the radius, {}.",
                mm(*wall_mm),
                mm(*radius_mm)
            ),
            format!("Enter a wall of at most {}.", mm(*radius_mm)),
        ),
        Reason::AllowancePastCenter {
            allowance_mm,
            radius_mm,
        } => (
            format!(
                "An inside allowance of {} is more than the hole’s radius, {}.",
                mm(*allowance_mm),
                mm(*radius_mm)
            ),
            format!(
                "Keep at most {} inside, or make the hole 0.",
                mm(*radius_mm)
            ),
        ),
        Reason::SpacerTooThick {
            thickness_mm,
            most_mm,
        } => (
            format!(
                "With {} between them the segments have no short edge left.",
                mm(*thickness_mm)
            ),
            format!(
                "Make it thinner than {}, take fewer segments, or a larger hole.",
                mm(*most_mm)
            ),
        ),
        Reason::StripTooShort {
            length_mm,
            needed_mm,
        } => (
            format!(
                "A strip of {} does not hold one segment and the piece to hold it by.",
                mm(*length_mm)
            ),
            format!(
                "Use strips of at least {}; the figures are for one long strip.",
                mm(*needed_mm)
            ),
        ),
        Reason::GapTooWide { most_mm } => (
            "That gap is wider than any error of the saw could make it.".to_owned(),
            format!(
                "Measure again, at most {}; a piece may be missing or turned round.",
                mm(*most_mm)
            ),
        ),
        Reason::TooManyGlued { segment_count } => (
            format!("The ring has only {segment_count} segments."),
            format!("Enter 1 to {segment_count} glued segments."),
        ),
        Reason::StavesPastCenter { most_mm } => (
            "Leaning in this far, the staves meet before their end.".to_owned(),
            format!(
                "Make them at most {} long, or lean them less.",
                mm(*most_mm)
            ),
        ),
        Reason::NoCurve => text(
            "These points make no curve.".to_owned(),
            "Take two or more, each higher than the one below it.",
        ),
        Reason::FloorPastRim {
            floor_mm,
            height_mm,
        } => (
            format!(
                "A floor of {} leaves no hollow: the vessel is {} high.",
                mm(*floor_mm),
                mm(*height_mm)
            ),
            "Make the floor thinner or the vessel higher.".to_owned(),
        ),
        Reason::BaseFillsRing { disc_mm, ring_mm } => (
            format!(
                "A base of {} leaves nothing of its ring: that is {} outside.",
                mm(*disc_mm),
                mm(*ring_mm)
            ),
            format!("Make it smaller than {}, or glue it under.", mm(*ring_mm)),
        ),
        Reason::NoRingForBase => text(
            "The lowest ring is a disc: there is no hole to let a base into.".to_owned(),
            "Make it of segments in Vessel, or glue the base under.",
        ),
        Reason::NoSuchWood(wood) => text(
            format!("{name}: “{wood}” is not in the table of woods."),
            "Take one of the list, or enter the figures themselves.",
        ),
        Reason::NoSuchRing { ring, count } => (
            format!("There is no ring {ring}: the vessel has {count}."),
            format!("Enter 1 to {count}, from the foot up."),
        ),
        Reason::NoWallInStack => text(
            "These rings lie above the rim: no finished wall is in them.".to_owned(),
            "Choose rings below the rim.",
        ),
        Reason::NotMeasured => text(
            format!("{name}: not measured yet, and nothing is planned for this ring."),
            "Measure it and enter it.",
        ),
        Reason::BrokenLink => text(
            "This link is not complete, or is not one of Ringwright’s.".to_owned(),
            "Ask for it again, or copy it whole: it begins with #r1 and has no spaces.",
        ),
        Reason::Newer => text(
            "This comes from a newer version of Ringwright.".to_owned(),
            "Load the page again to get the new version. What this one does not know is kept.",
        ),
        Reason::NotADesign => text(
            "This is not a Ringwright design.".to_owned(),
            "Choose a file that Ringwright saved; its name ends in .ringwright.json.",
        ),
    }
}

fn not_a_length(name: &str, why: &NotALength, unit: Unit, is_length: bool) -> (String, String) {
    let example = if !is_length {
        "12 or 7.5"
    } else if unit.is_inch() {
        "10 1/2 or 266 mm"
    } else {
        "266 or 10 1/2 in"
    };
    let write = format!("Write it like {example}.");
    match why {
        NotALength::Empty => (format!("{name} is empty."), write),
        NotALength::Strange(word) => (format!("{name}: “{word}” has no meaning here."), write),
        NotALength::BrokenFraction(text) => (
            format!("{name}: the fraction in “{text}” is not complete."),
            "Write a whole number above and below the stroke, like 3/4.".to_owned(),
        ),
        NotALength::TwoReadings(text) => (
            format!("{name}: “{text}” can be read in two ways."),
            "Write thousands without a comma, and decimals with a point.".to_owned(),
        ),
        NotALength::WhichUnit(text) => (
            format!("{name}: is “{text}” of an inch or of a millimeter?"),
            format!("Write {text}\" for inches, or a decimal for millimeters."),
        ),
        NotALength::TooLong => (format!("{name}: that is too long."), write),
    }
}

/// The message for a caution.
#[allow(clippy::too_many_lines)]
pub fn caution(caution: &Caution, unit: Unit) -> Message {
    let mm = |length_mm: f64| show(length_mm, unit).line();
    let (field, reason, remedy) = match caution {
        Caution::RoundedTooSmall {
            circle_mm,
            wanted_mm,
        } => (
            crate::field::key::OUTSIDE_ALLOWANCE,
            format!(
                "Cut to the figures as shown, the ring holds a circle of {}, less than {}.",
                mm(*circle_mm),
                mm(*wanted_mm)
            ),
            "Set the stop a little long, use a finer fraction, or keep more outside.",
        ),
        Caution::RoundedHoleTooLarge { hole_mm, wanted_mm } => (
            crate::field::key::INSIDE_ALLOWANCE,
            format!(
                "Cut to the figures as shown, the hole is {}, more than {}.",
                mm(*hole_mm),
                mm(*wanted_mm)
            ),
            "Rip the strip a little wide, use a finer fraction, or keep more inside.",
        ),
        Caution::SmallSegment { long_edge_mm } => (
            crate::field::key::SEGMENT_COUNT,
            format!("A segment is only {} long.", mm(*long_edge_mm)),
            "Hold it in a jig from start to end of the cut, or take fewer segments.",
        ),
        Caution::NarrowStrip { width_mm } => (
            crate::field::key::WALL,
            format!("The strip is only {} wide.", mm(*width_mm)),
            "Rip it with a jig or on the far side of the blade, never between blade and fence by hand.",
        ),
        Caution::ShortHoldBack { length_mm } => (
            crate::field::key::HOLD_BACK,
            format!("Only {} is kept back to hold the strip by.", mm(*length_mm)),
            "Keep at least 3 in (76 mm) from hand to blade, or clamp the strip.",
        ),
        Caution::SteepSaw { setting_rad } => (
            crate::field::key::SEGMENT_COUNT,
            format!(
                "The saw must stand at {} from square; most gauges and miter saws stop at about 50°.",
                degrees(*setting_rad)
            ),
            "Take four segments or more, or cut with the strip clamped square to the fence in a jig, the saw at the complement.",
        ),
        Caution::NoSuchStock {
            rings,
            height_mm,
            plane_mm,
        } => (
            crate::field::key::STOCK,
            format!(
                "{} {} {}{}; none of your stock gives that with at most {} planed away.",
                rings_named(&ring_numbers(rings), rings.len()),
                if rings.len() == 1 {
                    "needs"
                } else {
                    "need other stock, the first"
                },
                mm(*height_mm),
                if rings.len() == 1 { " stock" } else { "" },
                mm(*plane_mm)
            ),
            "Add the thickness to your stock, resaw a thicker board, or make the ring as high as your stock gives.",
        ),
        Caution::OddCount { count } => (
            crate::field::key::SEGMENT_COUNT,
            format!("{count} segments make no two halves."),
            "With an even count two half rings can be trued before the last glue-up.",
        ),
        Caution::ThinWall { left_mm, wanted_mm } => (
            "vessel.rings.*.outside_extra_mm",
            format!(
                "Cut to the figures as shown, the wall here is down to {} instead of {}.",
                mm(*left_mm),
                mm(*wanted_mm)
            ),
            "Give the ring extra wood, or set stop and strip a little long.",
        ),
        Caution::MeasuredSmall { left_mm, wanted_mm } => (
            "measured.*.outside_diameter_mm",
            format!(
                "As measured, it leaves {} of the wall instead of {}.",
                mm(*left_mm),
                mm(*wanted_mm)
            ),
            "Take the nearest curve under As built in Bench, or make the ring anew.",
        ),
        Caution::NarrowGlue { width_mm } => (
            crate::field::key::FOOT_WALL,
            format!(
                "Only {} of glue is left at this joint after turning.",
                mm(*width_mm)
            ),
            "Make the wall thicker there, or move the joint to where the wall leans more.",
        ),
        Caution::JointsInLine { count } => (
            "vessel.rings.*.turn_half_segments",
            format!("{count} joints stand right over joints of the ring below."),
            "Turn the ring by half a segment.",
        ),
        Caution::ShortSegment {
            long_edge_mm,
            least_mm,
        } => (
            "vessel.rings.*.segment_count",
            format!(
                "Its segments are {} long, less than {}.",
                mm(*long_edge_mm),
                mm(*least_mm)
            ),
            "Take fewer segments, and hold them in a jig.",
        ),
        Caution::WiderThanBoard { width_mm, board_mm } => (
            "vessel.rings.*.height_mm",
            format!(
                "Its strip is {} wide; the widest board is {}.",
                mm(*width_mm),
                mm(*board_mm)
            ),
            "Take lower rings where the wall leans, more segments, or a wider board.",
        ),
        Caution::HigherThanStock {
            height_mm,
            stock_mm,
        } => (
            "vessel.rings.*.height_mm",
            format!(
                "It needs stock of {}; the thickest is {}.",
                mm(*height_mm),
                mm(*stock_mm)
            ),
            "Make the ring lower, or add the stock to your list.",
        ),
        Caution::Wasteful { share } => (
            "vessel.rings.*.height_mm",
            format!(
                "Only {} % of this ring stays; the rest is turned away.",
                decimal(share * 100.0, 0)
            ),
            "Two lower rings keep more wood where the wall leans.",
        ),
        Caution::WedgesInFloor => (
            "vessel.rings.*.made_of",
            "Its segments meet in points in the middle of the floor.".to_owned(),
            "Use a solid or cross-laminated disc there, or accept the points.",
        ),
        Caution::Funnel { top_mm } => (
            crate::field::key::POINTS,
            format!(
                "Inside, one straight slope runs from the floor up to {}.",
                mm(*top_mm)
            ),
            "Let the curve round into the floor: a funnel collects, and it looks unfinished.",
        ),
        Caution::SmallOpening {
            opening_mm,
            inside_mm,
        } => (
            crate::field::key::POINTS,
            format!(
                "The opening is {}, with {} inside to be reached through it.",
                mm(*opening_mm),
                mm(*inside_mm)
            ),
            "Open the rim, or turn and finish the inside in two halves before they are joined.",
        ),
        Caution::SmallFoot { angle_rad } => (
            crate::field::key::POINTS,
            format!(
                "It falls over when tipped by {}.",
                degrees((angle_rad * 572.957_795).round() / 572.957_795)
            ),
            "Widen the foot, or make the floor heavier.",
        ),
        Caution::PastSwing {
            diameter_mm,
            swing_mm,
        } => (
            crate::field::key::SWING,
            format!(
                "Over its corners this ring is {}; the lathe swings {}.",
                mm(*diameter_mm),
                mm(*swing_mm)
            ),
            "Cut the corners off before mounting, or make the vessel smaller.",
        ),
        Caution::StackTooLow { missing_mm } => (
            crate::field::key::RINGS,
            format!("The rings end {} below the rim.", mm(*missing_mm)),
            "Add a ring, make one higher, or divide anew.",
        ),
        Caution::StackTooHigh { excess_mm } => (
            crate::field::key::RINGS,
            format!("The rings stand {} above the rim.", mm(*excess_mm)),
            "Remove or lower a ring, or divide anew.",
        ),
        Caution::WallFills { height_mm } => (
            crate::field::key::FOOT_WALL,
            format!("The wall fills the whole inside up to {}.", mm(*height_mm)),
            "Make the wall thinner at the foot, or the foot wider.",
        ),
        Caution::BaseBreaksRing { most_mm, share } => (
            crate::field::key::BASE_KIND,
            format!(
                "Through the year this base moves {} against its ring, {} % of its diameter: glued all round it breaks the ring or tears from it.",
                fine_length(*most_mm, unit),
                decimal(100.0 * share, 1)
            ),
            "Make it of plies laid crosswise, or leave the play and glue only the middle of one side.",
        ),
        Caution::BaseTears { most_mm } => (
            crate::field::key::BASE_KIND,
            format!(
                "Through the year this base moves {} against the ring above it.",
                fine_length(*most_mm, unit)
            ),
            "Make it of plies laid crosswise or of wedges, or keep the foot small.",
        ),
        Caution::BaseCups { plies, cup_mm } => (
            crate::field::key::BASE_PLIES,
            format!(
                "{plies} plies like these pull the base hollow by {}, if nothing holds it.",
                fine_length(*cup_mm, unit)
            ),
            "Take an odd number of plies, the same on both sides of the middle one.",
        ),
        Caution::LedgeTooNarrow { ledge_mm, loose_mm } => (
            crate::field::key::BASE_LEDGE,
            format!(
                "In the driest season the base has {} of play, and the ledge is only {} wide.",
                fine_length(*loose_mm, unit),
                mm(*ledge_mm)
            ),
            "Make the ledge wider, or the base of plies.",
        ),
        Caution::BaseHeight { base_mm, room_mm } => (
            crate::field::key::BASE_KIND,
            format!(
                "The base is {} thick, its place in the ring is {}.",
                mm(*base_mm),
                mm(*room_mm)
            ),
            "Change the thickness here, or the ring’s height in Vessel; a ledge needs wood below it.",
        ),
        Caution::NoFigures { wood } => (
            "woods.*.like",
            if wood.is_empty() {
                "How a wood without a name moves is not known.".to_owned()
            } else {
                format!("How “{wood}” moves is not known.")
            },
            "Say above what wood it is like, or enter its shrinkage.",
        ),
        Caution::AirPastTable { air } => (
            match *air {
                "shop" => crate::field::key::SHOP_HUMIDITY,
                "dry" => crate::field::key::DRY_HUMIDITY,
                _ => crate::field::key::DAMP_HUMIDITY,
            },
            format!(
                "{}: the published table ends before this air, so the moisture is only a guess.",
                page(match *air {
                    "shop" => "season.shop",
                    "dry" => "season.dry",
                    _ => "season.damp",
                })
            ),
            "Check temperature and humidity; indoors 20 to 80 % is usual.",
        ),
        Caution::SeasonsSwapped => (
            crate::field::key::DRY_HUMIDITY,
            "The driest season brings wood to more moisture than the dampest.".to_owned(),
            "Change the two about.",
        ),
        Caution::Slots(place, slots) => {
            let (field, reason, remedy) = inlay::caution(slots, unit);
            return Message {
                field: format!("vessel.slot_sets.{place}.{field}"),
                reason: inlay::about_set(*place, &reason),
                remedy: remedy.to_owned(),
            };
        }
        Caution::ColdShop {
            shop_c, least_c, ..
        } => (
            crate::field::key::SHOP_TEMPERATURE,
            format!(
                "The shop is at {}; this glue wants {} or more.",
                temperature(*shop_c, unit),
                temperature(*least_c, unit)
            ),
            "",
        ),
        Caution::OutOfBalance {
            offset_mm,
            pull_n,
            rpm,
        } => (
            "vessel.rings.*.pattern",
            format!(
                "The woods weigh unlike: their mass lies {} off the axis and pulls with {} at {} rpm.",
                mm(*offset_mm),
                force(*pull_n, unit),
                decimal(*rpm, 0)
            ),
            "Turn slower until nothing shakes, or repeat the pattern evenly round.",
        ),
        Caution::OutOfReach {
            depth_mm,
            opening_mm,
            overhang_mm,
        } => (
            crate::field::key::MEETING,
            format!(
                "A straight tool does not reach all of this: {} deep, {} at the narrowest, {} beyond the rest.",
                mm(*depth_mm),
                mm(*opening_mm),
                mm(*overhang_mm)
            ),
            "Let the halves meet nearer to it, take lower rings there, or use a bent or captured tool.",
        ),
        Caution::NoAllowance => (
            crate::field::key::OUTSIDE_ALLOWANCE,
            "Nothing is kept for turning, outside or inside.".to_owned(),
            "Keep a little: no ring is glued exactly round and centered.",
        ),
    };
    let remedy = match caution {
        Caution::ColdShop {
            warming_min,
            stay_min,
            ..
        } => format!(
            "Let wood and glue lie in a room of {} for {}, glue up there, and leave it there for {}.",
            temperature(crate::glue::ROOM_C, unit),
            duration(*warming_min).line(),
            duration(*stay_min).line()
        ),
        _ => remedy.to_owned(),
    };
    Message {
        field: field.to_owned(),
        reason,
        remedy,
    }
}

/// A temperature with its mark.
pub fn temperature(celsius: f64, unit: Unit) -> String {
    let degrees = decimal(unit.shown_degrees(celsius), 0);
    format!("{degrees} {}", unit.degrees_mark())
}

/// A force in pounds or newtons.
pub fn force(newtons: f64, unit: Unit) -> String {
    // 1 lbf = 4.448 221 615 260 5 N (NIST SP 811, appendix B).
    if unit.is_inch() {
        format!("{} lb", decimal(newtons / 4.448_221_615, 1))
    } else {
        format!("{} N", decimal(newtons, 0))
    }
}

/// Minutes, or hours from two on, rounded so that no wait becomes shorter.
pub fn duration(minutes: f64) -> Shown {
    if minutes < 120.0 {
        Shown::decimal(decimal(minutes.ceil(), 0), "min", " minutes")
    } else {
        Shown::decimal(decimal((minutes / 30.0).ceil() / 2.0, 1), "h", " hours")
    }
}

/// What the dry ring says about the saw, in two sentences.
pub fn saw_correction(setting_rad: f64, error_rad: f64) -> String {
    // A thousandth of a degree is finer than any saw is set.
    if error_rad.to_degrees().abs() < 0.000_5 {
        return format!(
            "The cuts are true. Leave the saw at {}.",
            degrees(setting_rad)
        );
    }
    let (which, turn) = if error_rad > 0.0 {
        ("small", "larger")
    } else {
        ("large", "smaller")
    };
    let error = degrees(error_rad.abs());
    format!(
        "Every cut is {error} too {which}. Turn the saw {error} to a {turn} miter: \
         its scale then reads {} if it read {} before.",
        degrees(setting_rad + error_rad),
        degrees(setting_rad)
    )
}

/// How many strips, and how long the last must be.
pub fn strips(count: u32, length_mm: f64, last_mm: f64, unit: Unit) -> String {
    // A strip cut to a length rounded down would be too short.
    let last = show(last_mm + unit.step_mm() / 2.0, unit).line();
    match count {
        0 => format!("one of {last}"),
        1 => format!("1, at least {last} long"),
        _ => format!(
            "{count} of {}; the last may be {last}",
            show(length_mm, unit).line()
        ),
    }
}

/// What is ripped for some pieces, and how long.
pub fn ripped(cut: &Cut, design: &Design) -> String {
    let unit = design.unit;
    let width = show(cut.width_mm, unit).line();
    match cut.piece {
        Piece::Segment(_, of) => {
            let length_mm = design.shop.strip_length_mm;
            let strips = strips(of.strip_count, length_mm, of.last_strip_mm, unit);
            format!("{width} wide: {strips}")
        }
        Piece::Disc(_) => format!("{} × {width} × {width}", cut.count),
        Piece::Spacer(length_mm, _) => {
            let length = show(length_mm, unit).line();
            format!("{width} thick: {} of {length}", cut.count)
        }
    }
}

/// The ring's drawing in one sentence.
pub fn ring_described(count: u32, outside_mm: f64, inside_mm: f64, unit: Unit) -> String {
    format!(
        "A ring of {count} segments, outside diameter {}, inside diameter {}; one segment is picked out.",
        length(outside_mm, unit),
        length(inside_mm, unit)
    )
}

/// The ring in a few words, under a sheet's title.
pub fn ring_in_short(count: u32, outside_mm: f64, inside_mm: f64, unit: Unit) -> String {
    format!(
        "{count} segments, outside diameter {}, inside diameter {}",
        length(outside_mm, unit),
        length(inside_mm, unit)
    )
}

/// A ring beside the section: its number, count and stop.
pub fn ring_name(place: usize, ring: &StackRing, segment: Option<&Segment>, unit: Unit) -> String {
    match segment {
        Some(segment) => format!(
            "{}: {} × {}",
            place + 1,
            ring.segment_count,
            show(segment.outside.long_edge_mm, unit).text
        ),
        None => format!("{}: disc", place + 1),
    }
}

/// A point's height and diameter.
pub fn point_says(height_mm: f64, diameter_mm: f64, unit: Unit) -> String {
    format!(
        "height {}, diameter {}",
        show(height_mm, unit).line(),
        show(diameter_mm, unit).line()
    )
}

/// A caution's reason with the ring that it is about.
pub fn about_ring(place: usize, reason: &str) -> String {
    format!("Ring {}: {reason}", place + 1)
}

/// Whether a curve fits, and where it is tightest.
pub fn built_fits(tightest: &Tightest, unit: Unit) -> String {
    let left = show(tightest.left_mm.abs(), unit).line();
    let at = built_where(tightest, unit);
    if tightest.left_mm < 0.0 {
        format!("It does not fit: {left} is missing {at}.")
    } else if tightest.left_mm < unit.step_mm() / 2.0 {
        format!("It just fits: nothing is to spare {at}.")
    } else {
        format!("It fits, with {left} to spare {at}.")
    }
}

/// Where a curve is tightest.
pub fn built_where(tightest: &Tightest, unit: Unit) -> String {
    let side = match tightest.side {
        Side::Outside => "outside",
        Side::Inside => "inside",
    };
    format!("{side}, {}", at_height(tightest.height_mm, unit))
}

/// At a height.
pub fn at_height(height_mm: f64, unit: Unit) -> String {
    format!("at a height of {}", show(height_mm, unit).line())
}

/// No curve has the wall that is wanted.
pub fn built_closed(most_mm: f64, height_mm: f64, unit: Unit) -> String {
    format!(
        "No curve has that wall in these rings: {} they allow {} at most. Make the wall thinner in Vessel, or another ring.",
        at_height(height_mm, unit),
        show(most_mm.max(0.0), unit).line()
    )
}

/// The stack is higher or lower than the curve.
pub fn built_heights(above_mm: f64, unit: Unit) -> String {
    let by = show(above_mm.abs(), unit).line();
    if above_mm > 0.0 {
        format!("The rings stand {by} above the rim.")
    } else {
        format!("The rings end {by} below the rim; above them the curve is not checked.")
    }
}

/// The hole reaches into the floor.
pub fn built_floor(solid_mm: f64, unit: Unit) -> String {
    if solid_mm > 0.0 {
        format!(
            "The wood is solid only up to {}: less than the floor.",
            show(solid_mm, unit).line()
        )
    } else {
        "The lowest ring has a hole: the floor needs a base of its own.".to_owned()
    }
}

/// The thickest wall that a ring allows.
pub fn built_wall(wall_mm: f64, unit: Unit) -> String {
    if wall_mm.is_finite() {
        format!("wall up to {}", show(wall_mm, unit).line())
    } else {
        "solid".to_owned()
    }
}

/// A better order of the rings.
pub fn better_order(better: &Better, unit: Unit) -> String {
    let change = match better.change {
        Reorder::Turn(place) => format!("With ring {} turned over", place + 1),
        Reorder::Swap(one, two) => {
            format!("With rings {} and {} changed about", one + 1, two + 1)
        }
    };
    let now = show(better.after_mm.abs(), unit).line();
    if better.after_mm < 0.0 {
        format!("{change} only {now} is missing.")
    } else {
        format!("{change} it fits, with {now} to spare.")
    }
}

/// What a vessel takes of a wood.
pub fn wood_taken(taken: &WoodUse, volume: &str) -> String {
    let mut said = Vec::new();
    if taken.piece_count > 0 {
        let name = if taken.piece_count == 1 {
            "piece"
        } else {
            "pieces"
        };
        said.push(format!("{} {name}", taken.piece_count));
    }
    if taken.slot_strip_count > 0 {
        said.push(slot_strips(taken.slot_strip_count));
    }
    said.push(volume.to_owned());
    said.join(", ")
}

/// Strips that are glued into slots; empty where there are none.
pub fn slot_strips(count: u32) -> String {
    match count {
        0 => String::new(),
        1 => "1 strip for a slot".to_owned(),
        _ => format!("{count} strips for slots"),
    }
}

/// Plies of one wood.
pub fn plies_of(count: u32, wood: &str) -> String {
    match count {
        1 => format!("1 ply of {wood}"),
        _ => format!("{count} plies of {wood}"),
    }
}

/// The square that a ply is sawn from.
pub fn sawn_square(side_mm: f64, unit: Unit) -> String {
    let side = show(side_mm, unit).line();
    format!("thick once flat, from {side} square")
}

/// Segments of one wood in a ring, and their strips.
pub fn strips_of(segment_count: u32, wood: &str) -> String {
    format!("{segment_count} of {wood}")
}

/// The area to be glued.
pub fn glue_area(area_mm2: f64, unit: Unit) -> String {
    if unit.is_inch() {
        format!("{} sq in of glue", decimal(area_mm2 / 645.16, 1))
    } else {
        format!("{} cm² of glue", decimal(area_mm2 / 100.0, 0))
    }
}

/// The head of the table of rings as comma-separated values.
pub fn csv_head(unit: Unit) -> String {
    let mark = unit.mark();
    format!(
        "ring,height {mark},made of,segments,outside diameter {mark},inside diameter {mark},saw deg,\
         long edge {mark},short edge {mark},strip width {mark},strip height {mark},\
         strip length {mark},woods\r\n"
    )
}

/// The segment's drawing in one sentence.
pub fn segment_described(segment: &Segment, unit: Unit) -> String {
    format!(
        "A segment with a long edge of {}, a short edge of {} and a width of {}, mitered at {}.",
        length(segment.outside.long_edge_mm, unit),
        length(segment.short_edge_mm, unit),
        length(segment.strip_width_mm, unit),
        degrees(segment.outside.half_angle_rad)
    )
}

/// The line under a sheet's title.
pub fn made_on(date: &str) -> String {
    let by = page("app.name");
    if date.is_empty() {
        by.to_owned()
    } else {
        format!("{by}, {date}")
    }
}

/// Which page of how many.
pub fn page_of(page: usize, count: usize) -> String {
    format!("Page {page} of {count}")
}

/// How many pages a sheet takes.
pub fn pages(count: usize) -> String {
    match count {
        1 => "1 page".to_owned(),
        _ => format!("{count} pages"),
    }
}

/// The vessel in a few words, under the packet's title.
pub fn vessel_in_short(rings: usize, height_mm: f64, diameter_mm: f64, unit: Unit) -> String {
    format!(
        "{rings} rings, {}",
        point_says(height_mm, diameter_mm, unit)
    )
}

/// The section's sheet and its scale.
pub fn section_at_scale(one_over: f64) -> String {
    format!(
        "{}, scale 1 : {}",
        page("sheet.section"),
        decimal(one_over, 1)
    )
}

/// A ring before its height.
pub fn ring_and_height(place: usize) -> String {
    format!("Ring {}: ", place + 1)
}

/// A joint by the rings that it joins; `upper` is the upper one's place.
pub fn story_joint(upper: usize) -> String {
    format!("Ring {} on {upper}", upper + 1)
}

/// Rings that share a sheet, by their numbers.
pub fn rings_named(numbers: &str, count: usize) -> String {
    let name = if count == 1 { "Ring" } else { "Rings" };
    format!("{name} {numbers}")
}

/// The same within a sentence.
pub fn rings_within(numbers: &str, count: usize) -> String {
    rings_named(numbers, count).to_lowercase()
}

/// A ring's sheet of the packet, in a few words.
pub fn ring_sheet(name: &str, count: u32, outside_mm: f64, inside_mm: f64, unit: Unit) -> String {
    format!(
        "{name}: {count} segments, {} outside, {} inside",
        show(outside_mm, unit).line(),
        show(inside_mm, unit).line()
    )
}

/// The same at true scale.
pub fn ring_full_size(numbers: &str, count: usize) -> String {
    format!("{}, true scale", rings_named(numbers, count))
}

/// A circle of the centering disc, before its diameter.
pub fn circle_of(numbers: &str) -> String {
    format!("{numbers}:  Ø ")
}

/// One sheet of a template that takes several.
pub fn part_of_template(template: &str, part: &str, columns: usize, rows: usize) -> String {
    format!("{template}: part {part} of {rows} × {columns}")
}

/// Why a template is not on paper.
pub fn too_many_sheets(width_mm: f64, height_mm: f64, unit: Unit) -> String {
    format!(
        "At true scale this is {} × {}, too much for sheets of this size. Cut it by its figures, or save it as DXF or SVG and have it plotted in one piece.",
        show(width_mm, unit).line(),
        show(height_mm, unit).line()
    )
}

/// The head of the cut list as comma-separated values.
pub fn cut_list_head(unit: Unit) -> String {
    let mark = unit.mark();
    format!(
        "piece,wood,thickness {mark},width {mark},count,saw deg,long edge {mark},short edge {mark},\
         length in all {mark},strips,rings\r\n"
    )
}

/// The kerf's note on the drawing.
pub fn kerf_note(kerf_mm: f64, unit: Unit) -> String {
    format!("kerf {}", show(kerf_mm, unit).text)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::field::{FIELDS, key};

    #[test]
    fn every_field_has_a_label_and_no_key_stands_twice() {
        for field in FIELDS {
            // The two that go with another field are labeled by it.
            let shared = [key::HOLE_BY].contains(&field.key);
            assert!(shared || label(field.key) != "This design", "{}", field.key);
        }
        for (at, (name, text)) in PAGE.iter().enumerate() {
            assert!(!text.is_empty());
            assert!(
                PAGE[..at].iter().all(|(other, _)| other != name),
                "{name} stands twice"
            );
        }
    }

    #[test]
    fn a_message_names_field_reason_and_remedy() {
        let message = trouble(
            &Trouble::at(
                key::INSIDE_DIAMETER,
                Reason::NoWall {
                    inside_mm: 120.0,
                    outside_mm: 110.0,
                },
            ),
            Unit::Millimeter,
        );
        assert_eq!(
            message.reason,
            "Inside diameter 120 mm leaves no wall: outside is 110 mm."
        );
        assert!(!message.remedy.is_empty());
    }

    #[test]
    fn one_of_a_thing_is_told_as_one() {
        assert_eq!(duration(0.4).spoken, "1 minute");
        assert_eq!(duration(1.6).spoken, "2 minutes");
        assert_eq!(duration(240.0).spoken, "4 hours");
        let of_one = |unit: &str| Shown::decimal("1".to_owned(), "", unit).spoken;
        assert_eq!(of_one(" board feet"), "1 board foot");
        assert_eq!(of_one(" inches"), "1 inch");
        assert_eq!(of_one(""), "1");
    }

    #[test]
    fn a_sentence_has_the_length_of_the_tape_and_no_more() {
        let off = 12.0625 * 25.4 + 0.2;
        assert!(!show(off, Unit::Inch16).remainder.is_empty());
        assert_eq!(length(off, Unit::Inch16), "12 1/16 in");
        let trouble = Trouble::at(
            crate::field::key::WALL,
            Reason::WallPastCenter {
                wall_mm: off,
                radius_mm: off - 10.0,
            },
        );
        let told = super::trouble(&trouble, Unit::Inch16);
        let all = format!("{} {}", told.reason, told.remedy);
        assert!(all.contains("12 1/16 in"), "{all}");
        assert!(!all.contains("+0.") && !all.contains("\u{2212}0."), "{all}");
    }

    #[test]
    fn says_which_way_to_turn_the_saw() {
        let small = saw_correction(15_f64.to_radians(), 0.05_f64.to_radians());
        assert!(
            small.contains("0.05° too small") && small.contains("reads 15.05°"),
            "{small}"
        );
        let large = saw_correction(15_f64.to_radians(), -0.1_f64.to_radians());
        assert!(
            large.contains("too large") && large.contains("reads 14.9°"),
            "{large}"
        );
        assert!(saw_correction(0.26, 1e-9).contains("true"));
    }
}
