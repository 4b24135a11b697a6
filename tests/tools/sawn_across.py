"""Makes tests/reference/sawn_across.json: random small racks, with squares for discs and needs
of few pieces among them, and the fewest boards that an independent solver (HiGHS, from the
Python package highspy) finds for them where each board may be sawn across once before it is
ripped.

    pip install highspy
    python3 tests/tools/sawn_across.py

The model is written from the trade alone, not from the library: for each single board one yes or
no for leaving it whole and for every place to saw it across; a whole number of strips of each
kind in the left length and in the right. What a strip yields is counted by walking the saw along
it. Places are those at which the left length begins to give one piece more of a need, found by
halving, and every 10 mm, in case others should do better. Places of which another gives as much
in both lengths are left out. Random numbers have a fixed seed.
An instance that is not settled within the time limit is left out.
"""

import json
import math
import random
import sys
import time

import highspy

COUNT = 200
SECONDS = 60.0
SHORTEST_RIPPED = 12 * 25.4


def yielded(board, need, given, begin_at, end_at):
    """Walks the saw along a strip of a length: near and far end of the present miter."""
    is_whole = begin_at == 0.0 and end_at == board["length"]
    is_disc = need["segments"] == 0
    if not is_disc and not is_whole and end_at - begin_at < SHORTEST_RIPPED:
        return 0
    kerf = given["kerf"]
    angle = 0.0 if is_disc else math.pi / need["segments"]
    run = need["width"] * math.tan(angle)
    cut = kerf / math.cos(angle)
    clear, start = [], begin_at
    for begin, end in sorted(board["avoid"]):
        if min(begin, end_at) > start:
            clear.append((start, min(begin, end_at)))
        start = max(start, end)
    if start < end_at:
        clear.append((start, end_at))
    pieces, sawn = 0, begin_at
    for begin, end in clear:
        begin = max(begin, sawn)
        # What the last cut of a run must leave; a square's may leave the wood, or fall into
        # what is avoided.
        limit = end + kerf if is_disc else min(end, end_at - given["hold_back"])
        near, far = begin, begin + run
        while True:
            if near < far:
                near, far = near + need["long"] + cut, far + need["short"] + cut
            elif near > far:
                near, far = near + need["short"] + cut, far + need["long"] + cut
            else:
                near, far = near + need["long"] + cut, far + need["long"] + cut
            if max(near, far) > limit + 1e-7:
                break
            pieces += 1
            sawn = max(near, far)
    return pieces


def instance(rng):
    kerf, hold_back = rng.choice([2.4, 3.2]), rng.choice([100.0, 150.0])
    needs = []
    for _ in range(rng.randint(2, 6)):
        segments = rng.choice([8, 12, 12, 16, 18])
        apothem, width = rng.uniform(60, 150), round(rng.uniform(18, 60), 1)
        tangent = math.tan(math.pi / segments)
        long = round(2 * apothem * tangent, 3)
        count = segments * rng.choice([1, 1, 2]) if rng.random() < 0.7 else rng.randint(1, 4)
        need = {
            "segments": segments,
            "width": width,
            "long": long,
            "short": long - 2 * width * tangent,
            "count": count,
        }
        if need["short"] > 0:
            needs.append(need)
    for _ in range(rng.choice([0, 1, 1, 2])):
        side = round(rng.uniform(60, 180), 1)
        needs.append(
            {"segments": 0, "width": side, "long": side, "short": side, "count": rng.choice([1, 1, 2, 3])}
        )
    boards = []
    for _ in range(rng.randint(1, 3)):
        length = float(rng.randrange(600, 2500, 50))
        avoid = []
        if rng.random() < 0.3:
            begin = round(rng.uniform(0, length - 100), 0)
            avoid.append([begin, begin + rng.randint(20, 90)])
        boards.append(
            {
                "width": round(rng.uniform(90, 220), 1),
                "length": length,
                "number": rng.randint(1, 4),
                "avoid": avoid,
            }
        )
    return {"kerf": kerf, "hold_back": hold_back, "needs": needs, "boards": boards}


def ways(given, board):
    """What either length gives of each need, for the whole board and every place."""
    length, kerf = board["length"], given["kerf"]
    gives = lambda begin, end: [yielded(board, need, given, begin, end) for need in given["needs"]]
    found = [(gives(0.0, length), [0] * len(given["needs"]))]
    places = {10.0 * step for step in range(1, int(length / 10.0))}
    for need in given["needs"]:
        left = lambda place: yielded(board, need, given, 0.0, place)
        for count in range(1, min(need["count"], left(length - 1e-6)) + 1):
            low, high = 0.0, length - 1e-6
            while high - low > 1e-6:
                middle = (low + high) / 2.0
                low, high = (low, middle) if left(middle) >= count else (middle, high)
            places.add(high)
    for place in sorted(places):
        if place + kerf >= length:
            continue
        both = (gives(0.0, place), gives(place + kerf, length))
        cap = lambda side: [min(it, need["count"]) for it, need in zip(side, given["needs"])]
        found.append((cap(both[0]), cap(both[1])))
    found = [pair for place, pair in enumerate(found) if pair not in found[:place]]
    no_worse = lambda one, other: all(a >= b for s, t in zip(one, other) for a, b in zip(s, t))
    return [
        pair
        for place, pair in enumerate(found)
        if place == 0 or not any(no_worse(other, pair) for at, other in enumerate(found) if at not in (0, place))
    ]


def is_wide_enough(board, need):
    return need["width"] <= board["width"]


def model(given, suits=is_wide_enough, seconds=SECONDS):
    """A solver with all ways to cut the boards, and for each board whether it is taken; None when
    no board serves a need."""
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("time_limit", seconds)
    solver.setOptionValue("mip_rel_gap", 0.0)
    kerf = given["kerf"]
    covers = [[] for _ in given["needs"]]
    used = []
    for board in given["boards"]:
        served = [place for place, need in enumerate(given["needs"]) if suits(board, need)]
        found = ways({**given, "needs": [given["needs"][place] for place in served]}, board)
        copies = []
        for _ in range(board["number"]):
            taken = []
            for pair in found:
                way = solver.addBinary()
                taken.append(way)
                for side in pair:
                    across = []
                    for place, yields in zip(served, side):
                        if yields == 0:
                            continue
                        need = given["needs"][place]
                        most = math.ceil(need["count"] / yields)
                        strips = solver.addIntegral(lb=0, ub=most)
                        across.append(strips * (need["width"] + kerf))
                        covers[place].append(strips * yields)
                    if across:
                        solver.addConstr(sum(across) <= (board["width"] + kerf) * way)
            solver.addConstr(sum(taken) <= 1)
            copies.append(sum(taken))
            used += taken
        for one, next_one in zip(copies, copies[1:]):
            solver.addConstr(one >= next_one)
    for place, need in enumerate(given["needs"]):
        if not covers[place]:
            return None
        solver.addConstr(sum(covers[place]) >= need["count"])
    return solver, used


def fewest(given):
    """Fewest boards, or None when it is not settled or cannot be done."""
    made = model(given)
    if made is None:
        return None
    solver, used = made
    solver.minimize(sum(used))
    if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    return round(solver.getObjectiveValue())


def main():
    rng = random.Random(20261130)
    kept, seconds, left_out = [], 0.0, 0
    while len(kept) < COUNT:
        given = instance(rng)
        if not given["needs"]:
            continue
        start = time.perf_counter()
        boards = fewest(given)
        seconds += time.perf_counter() - start
        if boards is None:
            left_out += 1
            continue
        kept.append({**given, "fewest": boards})
        print(len(kept), left_out, boards, round(seconds, 1), file=sys.stderr, flush=True)
        with open("tests/reference/sawn_across.json", "w") as file:
            file.write("[\n" + ",\n".join(json.dumps(each) for each in kept) + "\n]\n")
    print(f"{COUNT} instances, {seconds:.1f} s in the solver")


if __name__ == "__main__":
    main()
