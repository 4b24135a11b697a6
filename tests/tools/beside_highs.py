"""The fewest boards, ours beside HiGHS: the same racks on the same machine in one run.

    pip install highspy
    python3 tests/tools/beside_highs.py

Reads tests/reference/sawn_across.json. Ours is run by `cargo bench --bench boards`; HiGHS's time is that of building and solving its model.
"""

import json
import statistics
import subprocess
import time

from sawn_across import fewest


def ours():
    command = ["cargo", "bench", "--quiet", "--bench", "boards"]
    printed = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    rows = [line.split("\t") for line in printed.splitlines()]
    return [(int(boards), float(milliseconds)) for boards, _, milliseconds in rows]


def theirs(instances):
    for given in instances:
        start = time.perf_counter()
        boards = fewest(given)
        yield boards, (time.perf_counter() - start) * 1000.0


def main():
    with open("tests/reference/sawn_across.json") as file:
        instances = json.load(file)
    columns = {"ours": ours(), "HiGHS": list(theirs(instances))}
    print(f"{len(instances)} racks, milliseconds")
    print(f"{'':8}{'median':>10}{'95th':>10}{'worst':>10}{'in all':>10}{'boards':>10}")
    for name, rows in columns.items():
        times = sorted(milliseconds for _, milliseconds in rows)
        figures = [
            statistics.median(times),
            times[int(0.95 * len(times))],
            times[-1],
            sum(times),
        ]
        boards = sum(count for count, _ in rows)
        print(f"{name:8}" + "".join(f"{it:10.1f}" for it in figures) + f"{boards:10}")
    same = sum(a[0] == b[0] for a, b in zip(*columns.values()))
    print(f"as few boards: {same} of {len(instances)}")


if __name__ == "__main__":
    main()
