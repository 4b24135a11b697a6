//! Words of the Ring place.

list! {
    TABLE_OUTSIDE = "table.outside": "Outside",
    TABLE_INSIDE = "table.inside": "Inside",
    SAW_SETTING = "saw.setting": "Saw setting",
    SAW_STOP = "saw.stop": "Stop, long edge",
    SAW_STRIP = "saw.strip": "Strip width",
    STRIP_AT_HAND = "saw.strip_at_hand": "Go by the strip at hand",
    COUNTS_SAW = "counts.saw": "Saw",
    COUNTS_STOP = "counts.stop": "Stop",
    COUNTS_STRIP = "counts.strip": "Strip width",
    COUNTS_LENGTH = "counts.length": "Strip in all",
    TABLE_HEIGHT = "table.height": "Height",
    COUNTS_SEGMENTS = "counts.segments": "Segments",
    COUNTS_SHORT = "counts.short": "Short edge",
    COUNTS_ACCURACY = "counts.accuracy": "Accuracy",
    ;
    "saw.title": "At the saw",
    "saw.remainder": "A small figure behind a fraction tells what it leaves over: −0.004 means that the exact size is 0.004 less.",
    "saw.stale": "These figures are without the marked entry.",
    "saw.why_strip": "Wider than the wall alone: the flat sides and inside corners must still hold the round ring.",
    "count.less": "One segment less",
    "count.more": "One segment more",
}
