"""Makes tests/reference/true_face.json: random small racks whose boards have knots, splits and
sapwood beside clear wood, and the fewest boards that an independent solver (HiGHS, from the Python
package highspy) finds for them where each board may be left whole, sawn across once, or ripped
once into two bands, before it is ripped into strips.

    pip install highspy
    python3 tests/tools/true_face.py

The model is written from the trade alone, not from the library: what a strip yields is counted by
walking the saw along it, as in sawn_across.py, whose ways of sawing across are taken. Into bands a
board may be ripped anywhere: between two neighboring edges of spots the place is a number that the
solver is free to choose, and each band's strips must go into what it leaves them. Or a near band
ends where a spot begins, a far one begins where a spot ends, and what lies between is waste; so is
what lies before or beyond both, up to a spot's edge. Which spots lie in a band is looked up in the middle of each stretch, and at its ends. Random numbers have
a fixed seed. An instance that is not settled within the time limit is left out.
"""

import json
import math
import random
import sys
import time

import highspy

import sawn_across
from sawn_across import SECONDS, yielded

# Racks where bands save a board, and others.
COUNT = 40, 60


def instance(rng):
    given = sawn_across.instance(rng)
    for board in given["boards"]:
        length, width = board["length"], board["width"]
        board["avoid"] = board["avoid"][: rng.choice([0, 0, 1])]
        for _ in range(rng.choice([1, 1, 1, 2])):
            kind = rng.random()
            if kind < 0.35:
                # Sapwood, or a crack, along much of the board.
                begin, end = 0.0, length
                if rng.random() < 0.4:
                    begin = round(rng.uniform(0, length / 2), 0)
                wide = round(rng.uniform(3, 0.3 * width), 1)
                near = rng.choice([None, round(width - wide, 1), round(rng.uniform(10, width - wide), 1)])
                far = round(wide, 1) if near is None else None if rng.random() < 0.3 else round(near + wide, 1)
            else:
                begin = round(rng.uniform(0, length - 200), 0)
                end = begin + rng.randint(30, 250)
                near = round(rng.uniform(0, width - 20), 1)
                far = round(near + rng.uniform(10, 60), 1)
                if rng.random() < 0.3:
                    near = None
            board["avoid"].append([begin, end, near, far])
    return given


def across(spot, width):
    """From where to where a spot goes across."""
    ends = (list(spot) + [None, None])[2:4]
    low, high = (0.0 if ends[0] is None else ends[0]), (width if ends[1] is None else ends[1])
    return min(low, high), max(low, high)


def heeding(board, near, far):
    """The board with those spots alone, over its whole width, that lie between two places."""
    spots = []
    for spot in board["avoid"]:
        low, high = across(spot, board["width"])
        if len(spot) == 2 or (low < far - 1e-6 and high > near + 1e-6):
            spots.append(spot[:2])
    return {**board, "avoid": spots}


def gives(given, board, near, far):
    """What a strip of each need yields that lies between two places."""
    of = heeding(board, near, far)
    return [yielded(of, need, given, 0.0, board["length"]) for need in given["needs"]]


def bands(given, board):
    """Where the near band begins, ends at least and at most, what lies between, where the far one
    ends, and what both give."""
    width, kerf = board["width"], given["kerf"]
    spots = [across(spot, width) for spot in board["avoid"] if len(spot) == 4]
    begins = {0.0} | {high for _, high in spots if high < width}
    ends = {width} | {low for low, _ in spots if low > 0.0}
    found = []
    for begin in begins:
        for end in ends:
            last = end - kerf
            if last <= begin:
                continue
            places = {begin, last}
            for low, high in spots:
                places |= {place for place in (low, high - kerf) if begin < place < last}
            places = sorted(places)
            stretches = [(a, b, (a + b) / 2, kerf) for a, b in zip(places, places[1:]) if b - a > 1e-6]
            stretches += [(place, place, place, kerf) for place in places]
            for low, _ in spots:
                for _, high in spots:
                    if high - low > kerf and high < end and low > begin:
                        stretches.append((low, low, low, high - low))
            for least, most, inside, between in stretches:
                both = gives(given, board, begin, inside), gives(given, board, inside + between, end)
                found.append((begin, least, most, between, end, both))
    # Of stretches alike in all else the widest is enough.
    def is_as_good(one, other):
        wider = one[0] <= other[0] and one[1] <= other[1] and one[2] >= other[2]
        return wider and one[3] <= other[3] and one[4] >= other[4] and one[5] == other[5]
    kept = []
    for one in found:
        if not any(is_as_good(other, one) for other in kept):
            kept = [other for other in kept if not is_as_good(one, other)] + [one]
    return kept


def fewest(given, is_bands=True):
    """Fewest boards, or None when it is not settled or cannot be done."""
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("time_limit", SECONDS)
    solver.setOptionValue("mip_rel_gap", 0.0)
    kerf = given["kerf"]
    covers = [[] for _ in given["needs"]]
    used = []

    def strips(side, width):
        """Strips side by side, each with its kerf, of what a side yields."""
        across = []
        for place, need in enumerate(given["needs"]):
            if side[place] == 0 or need["width"] > width:
                continue
            most = math.ceil(need["count"] / side[place])
            count = solver.addIntegral(lb=0, ub=most)
            across.append(count * (need["width"] + kerf))
            covers[place].append(count * side[place])
        return across

    for board in given["boards"]:
        width = board["width"]
        whole = sawn_across.ways(given, heeding(board, 0.0, width))
        along = bands(given, board) if is_bands else []
        copies = []
        for _ in range(board["number"]):
            taken = []
            for pair in whole:
                way = solver.addBinary()
                taken.append(way)
                for side in pair:
                    if across := strips(side, width):
                        solver.addConstr(sum(across) <= (width + kerf) * way)
            for begin, least, most, between, end, (near, far) in along:
                way = solver.addBinary()
                taken.append(way)
                # Where the near band ends.
                at = solver.addVariable(lb=0.0, ub=most)
                solver.addConstr(at <= most * way)
                solver.addConstr(at >= least * way)
                if across := strips(near, width):
                    solver.addConstr(sum(across) <= at + (kerf - begin) * way)
                if across := strips(far, width):
                    solver.addConstr(sum(across) <= (end - between + kerf) * way - at)
            solver.addConstr(sum(taken) <= 1)
            copies.append(sum(taken))
            used += taken
        for one, next_one in zip(copies, copies[1:]):
            solver.addConstr(one >= next_one)
    for place, need in enumerate(given["needs"]):
        if not covers[place]:
            return None
        solver.addConstr(sum(covers[place]) >= need["count"])
    solver.minimize(sum(used))
    if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    return round(solver.getObjectiveValue())


def main():
    rng = random.Random(20261201)
    kept, seconds, left_out = [], 0.0, 0
    found = [0, 0]
    while sum(found) < sum(COUNT):
        given = instance(rng)
        if not given["needs"]:
            continue
        start = time.perf_counter()
        boards = fewest(given)
        # How many it takes when no board is ripped into bands; none where that cannot be done.
        without = fewest(given, is_bands=False) if boards is not None else None
        seconds += time.perf_counter() - start
        if boards is None:
            left_out += 1
            continue
        kind = int(without == boards)
        if found[kind] == COUNT[kind]:
            continue
        found[kind] += 1
        kept.append({**given, "fewest": boards, "without_bands": without})
        print(found, left_out, boards, without, round(seconds, 1), file=sys.stderr, flush=True)
        with open("tests/reference/true_face.json", "w") as file:
            file.write("[\n" + ",\n".join(json.dumps(each) for each in kept) + "\n]\n")
    print(f"{len(kept)} instances, {seconds:.1f} s in the solver")


if __name__ == "__main__":
    main()
