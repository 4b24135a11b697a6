//! Words of the Ring place.

list! {
    TABLE_OUTSIDE = "table.outside": "Outside",
    TABLE_INSIDE = "table.inside": "Inside",
    SAW_SETTING = "saw.setting": "Saw setting",
    SAW_STOP = "saw.stop": "Stop, long edge",
    SAW_FALLS_SHORT = "saw.falls_short": "%1 falls short: set %2",
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
    "saw.remainder": "The small gray figure by a fraction is what the exact size has over it or under: −0.004 means 0.004 less.",
    "saw.stale": "These figures are without the marked entry.",
    "saw.why_strip": "Wider than the wall alone: the flat sides and inside corners must still hold the round ring.",
    "count.less": "One segment less",
    "count.more": "One segment more",
}
