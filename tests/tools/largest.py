"""Makes tests/reference/largest.json: for random shelves the largest size of a shape that their
boards could give, as an independent solver (HiGHS, from the Python package highspy) says.

    pip install highspy
    cargo test --features house --test making -- --ignored what_a_solver_is_to_look_at_is_written
    python3 tests/tools/largest.py

The test writes, of each shelf, what was found and what every piece of every larger size needs of
boards, the first 2 % larger, then in steps of 1 %: its foot closed in every way, of one wood or
with every count of rings of other woods. Whether boards give a piece is asked of each wood by
itself, since no board serves two: first by faces, each piece on the board where it takes the
least (a linear program), then by the model of sawn_across.py, first with numbers of strips that
need not be whole, then whole, within a time limit. What is found by the library is asked too, and has to be given.

Largest is null where no larger size can be; of shelves 13, 14, 19, 21 and 25 it is the greater of
two runs, one of them with 5 s a question and 40 s a shelf. `asked` counts what was asked of a size larger than
what was found, `by_faces` what the faces alone refused, `unsettled` what was not settled.
"""

import json
import math
import sys
import time

import highspy

import sawn_across

SECONDS = 3.0
# So long at most over one shelf; what is left then is unsettled.
SHELF_SECONDS = 16.0
# What a strip may be wider than its board, and a board thinner than its strip.
HAIR = 0.05
STATUS = highspy.HighsModelStatus


def suits(plane_at_most):
    def of(board, need):
        spare = board["usable"] - need["height"]
        is_thick = -HAIR <= spare <= plane_at_most + HAIR
        return is_thick and need["width"] <= board["width"]

    return of


def may_be_by_faces(given, of):
    """Whether the faces of the boards may be enough: a strip of a board takes its width and a
    kerf, as long as its miter at the fresh end, its pieces and what is held, and a kerf."""
    kerf = given["kerf"]
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    taken = [[] for _ in given["boards"]]
    for need in given["needs"]:
        cut = 0
        is_disc = need["segments"] == 0
        angle = 0.0 if is_disc else math.pi / need["segments"]
        pitch = (need["long"] + need["short"]) / 2 + kerf / math.cos(angle)
        spent = -kerf if is_disc else need["width"] * math.tan(angle) + given["hold_back"]
        for place, board in enumerate(given["boards"]):
            if not of(board, need):
                continue
            most = sawn_across.yielded(board, need, given, 0.0, board["length"])
            most = min(most, need["count"])
            if most == 0:
                continue
            long = spent + most * pitch
            if not is_disc:
                long = max(long, min(sawn_across.SHORTEST_RIPPED, board["length"]))
            each = (need["width"] + kerf) * (long + kerf) / most
            pieces = solver.addVariable(lb=0.0, ub=need["count"])
            cut = cut + pieces
            taken[place].append(each * pieces)
        if isinstance(cut, int):
            return False
        solver.addConstr(cut >= need["count"])
    for board, pieces in zip(given["boards"], taken):
        if pieces:
            face = (board["width"] + kerf) * (board["length"] + kerf)
            solver.addConstr(sum(pieces) <= board["number"] * face)
    solver.run()
    return solver.getModelStatus() != STATUS.kInfeasible


def gives(given, of, seconds):
    """Whether the boards of one wood give its needs, and by what that was settled; None when it is not settled."""
    if not may_be_by_faces(given, of):
        return False, "faces"
    made = sawn_across.model(given, of, max(seconds, 0.1))
    if made is None:
        return False, "model"
    solver, _ = made
    solver.setOptionValue("solve_relaxation", True)
    solver.run()
    if solver.getModelStatus() == STATUS.kInfeasible:
        return False, "model"
    solver.setOptionValue("solve_relaxation", False)
    solver.run()
    status = solver.getModelStatus()
    if status == STATUS.kOptimal:
        return True, "model"
    return (False if status == STATUS.kInfeasible else None), "model"


def need_of(told):
    wood, height, width, long, short, angle, count = told
    segments = round(math.pi / angle) if angle > 0 else 0
    if segments:
        assert abs(math.pi / segments - angle) < 1e-9, angle
    return wood, (round(height, 4), segments, round(width, 4), round(long, 4), round(short, 4), count)


class Shelf:
    def __init__(self, told):
        self.told = told
        self.until = time.perf_counter() + SHELF_SECONDS
        self.known = {}
        self.counts = {"asked": 0, "by_faces": 0, "unsettled": 0}

    def of_wood(self, wood, needs):
        key = wood, needs
        if key not in self.known:
            names = "height", "segments", "width", "long", "short", "count"
            boards = [it for it in self.told["boards"] if it[0] == wood]
            given = {
                "kerf": self.told["kerf"],
                "hold_back": self.told["hold_back"],
                "needs": [dict(zip(names, need)) for need in needs],
                "boards": [
                    {"usable": usable, "width": width + HAIR, "length": length, "number": number, "avoid": []}
                    for _, usable, width, length, number in boards
                ],
            }
            left = self.until - time.perf_counter()
            if left <= 0.0:
                return None, "time"
            self.known[key] = gives(given, suits(self.told["plane_at_most"]), min(SECONDS, left))
        return self.known[key]

    def can_be(self, told):
        """Whether the boards give these needs; None where that is not settled."""
        woods = {}
        for wood, need in map(need_of, told):
            woods.setdefault(wood, []).append(need)
        settled = [self.of_wood(wood, tuple(sorted(needs))) for wood, needs in woods.items()]
        if any(it[0] is False for it in settled):
            return False, all(it[1] == "faces" for it in settled if it[0] is False)
        return (None if any(it[0] is None for it in settled) else True), False

    def of_size(self, told):
        """Needs of a size that the boards give, if there are some, and whether all is settled."""
        size, candidates = told
        is_settled = True
        for needs in candidates:
            self.counts["asked"] += 1
            can_be, by_faces = self.can_be(needs)
            self.counts["by_faces"] += by_faces
            self.counts["unsettled"] += can_be is None
            is_settled &= can_be is not None
            if can_be:
                return True
        return False if is_settled else None

    def largest(self):
        """The largest size that is given, and the largest that is not settled. From the largest
        down for half of the time; if none was settled then, from the smallest up."""
        sizes = [it for it in self.told["sizes"] if it[1]]
        whole, self.until = self.until, self.until - SHELF_SECONDS / 2.0
        unsettled, given = [0.0], None
        while sizes and time.perf_counter() < self.until:
            told = sizes.pop()
            can_be = self.of_size(told)
            if can_be:
                return told[0], max(unsettled)
            if can_be is None:
                unsettled.append(told[0])
        self.until = whole
        for told in sizes:
            can_be = self.of_size(told)
            if can_be:
                given = told[0]
            if can_be is None:
                unsettled.append(told[0])
        above = [it for it in unsettled if it > (given or 0.0)]
        return given, max(above, default=0.0)


def main():
    kept = []
    for line in open("target/largest.jsonl"):
        told = json.loads(line)
        start = time.perf_counter()
        shelf = Shelf(told)
        size, unsettled = shelf.largest()
        found = told.get("needs")
        is_given = None
        if found:
            shelf.until = time.perf_counter() + SHELF_SECONDS
            is_given = shelf.can_be(found)[0]
        kept.append(
            {
                **{name: told[name] for name in ("shelf", "shape", "boards", "found", "looked_at")},
                "largest": size,
                "largest_unsettled": unsettled or None,
                **shelf.counts,
                "found_is_given": is_given,
            }
        )
        seconds = round(time.perf_counter() - start, 1)
        shown = {name: value for name, value in kept[-1].items() if name != "boards"}
        print(seconds, json.dumps(shown), file=sys.stderr, flush=True)
        with open("tests/reference/largest.json", "w") as file:
            file.write("[\n" + ",\n".join(json.dumps(each) for each in kept) + "\n]\n")


if __name__ == "__main__":
    main()
