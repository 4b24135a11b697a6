//! Words of the boards.

list! {
    BOARDS_TITLE = "boards.title": "Boards",
    BOARDS_ESTIMATE = "boards.estimate": "Quick estimate",
    BOARDS_TOO_THICK = "boards.too_thick": "thicker than boards are sold: glue it up",
    BOARDS_ANSWER = "boards.answer": "Boards to take",
    BOARDS_SCALE = "boards.scale": "Boards are drawn 1 : %1. Strips are listed from the upper edge down.",
    BOARDS_NOT_PLACED = "boards.not_placed": "Not everything is placed",
    BOARDS_EXTRA = "boards.extra": ", to be bought",
    BOARDS_KEY = "boards.key": "Rip along the dashed lines, then cut across, turning the strip over between cuts. Wood that no piece is drawn on is left over.",
    BOARDS_AVOIDED = "boards.avoided": "Hatched lengths are avoided.",
    BOARDS_YIELD = "boards.yield": "Ends up in pieces",
    BOARDS_WOOD = "boards.wood": "Wood taken",
    BOARDS_COST = "boards.cost": "Cost, in your currency",
    ;
    "boards.intro": "Enter your boards, and see which to take and how to cut them.",
    "boards.add": "Add a board",
    "boards.copy": "Copy",
    "boards.remove": "Remove",
    "boards.add_avoid": "Add a length to avoid",
    "boards.remove_avoid": "Leave it out",
    "boards.avoid_is": "Lengths to avoid count from the left end: a knot, a split.",
    "boards.matched": "Grain that matches: rings from one board",
    "boards.matched_is": "All segments of a wood come from one board, so that grain and color match.",
    "boards.none_fit": "None of these boards serves.",
    "boards.layouts": "How to cut them",
}
