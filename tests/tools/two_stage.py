"""Makes tests/reference/two_stage.json: random racks and rings with the fewest boards
that an independent solver (HiGHS, from the Python package highspy) finds for them.

    pip install highspy
    python3 tests/tools/two_stage.py

The model is written from the trade alone, not from the library: one whole number of
strips for each kind of strip on each single board, one yes or no for each board. What
a strip yields is counted by walking the saw along it. Random numbers have a fixed
seed. An instance that is not settled within the time limit is left out.
"""

import json
import math
import random
import sys
import time

import highspy

COUNT = 150
SECONDS = 30.0


def yielded(board, need, kerf, hold_back):
    """Walks the saw along a strip: near and far end of the present miter."""
    angle = math.pi / need["segments"]
    run = need["width"] * math.tan(angle)
    cut = kerf / math.cos(angle)
    clear, start = [], 0.0
    for begin, end in sorted(board["avoid"]):
        if begin > start:
            clear.append((start, begin))
        start = max(start, end)
    if start < board["length"]:
        clear.append((start, board["length"]))
    pieces = 0
    for begin, end in clear:
        limit = board["length"] - hold_back
        if end < board["length"]:
            limit = min(limit, end)
        near, far, here = begin, begin + run, 0
        while True:
            if near < far:
                near, far = near + need["long"] + cut, far + need["short"] + cut
            else:
                near, far = near + need["short"] + cut, far + need["long"] + cut
            if max(near, far) > limit + 1e-7:
                break
            here += 1
        pieces += here
    return pieces


def instance(rng):
    kerf, hold_back = rng.choice([2.4, 3.2]), rng.choice([100.0, 150.0])
    needs = []
    for _ in range(rng.randint(3, 14)):
        segments = rng.choice([8, 12, 12, 16, 18, 24])
        apothem, width = rng.uniform(60, 190), round(rng.uniform(18, 75), 1)
        tangent = math.tan(math.pi / segments)
        needs.append(
            {
                "segments": segments,
                "width": width,
                "long": round(2 * apothem * tangent, 3),
                "short": round(2 * apothem * tangent, 3) - 2 * width * tangent,
                "count": segments * rng.choice([1, 1, 2, 3, 4]),
            }
        )
        if needs[-1]["short"] <= 0:
            needs.pop()
    boards = []
    for _ in range(rng.randint(1, 7)):
        length = float(rng.randrange(600, 2600, 50))
        avoid = []
        if rng.random() < 0.4:
            begin = round(rng.uniform(0, length - 100), 0)
            avoid.append([begin, begin + rng.randint(20, 90)])
        boards.append(
            {
                "width": round(rng.uniform(90, 260), 1),
                "length": length,
                "number": rng.randint(1, 6),
                "avoid": avoid,
            }
        )
    return {"kerf": kerf, "hold_back": hold_back, "needs": needs, "boards": boards}


def fewest(given):
    """Fewest boards, or None when it is not settled or cannot be done."""
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("time_limit", SECONDS)
    solver.setOptionValue("mip_rel_gap", 0.0)
    kerf = given["kerf"]
    covers = [[] for _ in given["needs"]]
    used = []
    for board in given["boards"]:
        for copy in range(board["number"]):
            taken = solver.addBinary()
            used.append(taken)
            across = []
            for place, need in enumerate(given["needs"]):
                pieces = yielded(board, need, kerf, given["hold_back"])
                if pieces == 0 or need["width"] > board["width"]:
                    continue
                strips = solver.addIntegral(lb=0, ub=50)
                across.append(strips * (need["width"] + kerf))
                covers[place].append(strips * pieces)
            if across:
                solver.addConstr(sum(across) <= (board["width"] + kerf) * taken)
    for place, need in enumerate(given["needs"]):
        if not covers[place]:
            return None
        solver.addConstr(sum(covers[place]) >= need["count"])
    solver.minimize(sum(used))
    if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    return round(solver.getObjectiveValue())


def main():
    rng = random.Random(20261125)
    kept, seconds = [], 0.0
    while len(kept) < COUNT:
        given = instance(rng)
        if not given["needs"]:
            continue
        start = time.perf_counter()
        boards = fewest(given)
        if boards is None:
            continue
        seconds += time.perf_counter() - start
        kept.append({**given, "fewest": boards})
        print(len(kept), boards, round(seconds, 1), file=sys.stderr, flush=True)
    with open("tests/reference/two_stage.json", "w") as file:
        file.write("[\n" + ",\n".join(json.dumps(each) for each in kept) + "\n]\n")
    print(f"{COUNT} instances, {seconds:.1f} s in the solver")


if __name__ == "__main__":
    main()
