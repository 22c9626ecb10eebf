"""Makes the vectors that the Rust checks read, or sees whether the ones that lie here are still what the libraries say.

all.py                  writes them
all.py --check          makes them again, writes nothing, and fails where one differs
all.py --all FOLDER     writes the large sets of segments, schedules and histories into a folder
"""

import json
import math
import random
import sys
from pathlib import Path

sys.dont_write_bytecode = True

import agreement
import answers
import harmonic
import intervals
import knowledge
import motion
import normal
import noticing
import order
import population
import reading
import review
import spacing

IDEAS = [
    motion,
    agreement,
    harmonic,
    noticing,
    population,
    intervals,
    normal,
    answers,
    order,
    reading,
    review,
    spacing,
    knowledge,
]
HERE = Path(__file__).parent / "vectors"
# Another machine may round the last digits otherwise.
SAME = 1e-12


def write(folder, name, vectors):
    folder.mkdir(parents=True, exist_ok=True)
    text = json.dumps(vectors, separators=(",", ":"))
    # One row a line, so that a difference can be read.
    (folder / f"{name}.json").write_text(text.replace("],[", "],\n[").replace("},{", "},\n{") + "\n", encoding="utf-8")


def compare(ours, theirs, where):
    """Counts the numbers, and fails where two differ."""
    if type(ours) is not type(theirs):
        raise SystemExit(f"{where}: {ours} here, {theirs} made again")
    if isinstance(ours, dict):
        if ours.keys() != theirs.keys():
            raise SystemExit(f"{where}: {list(ours)} here, {list(theirs)} made again")
        return sum(compare(ours[key], theirs[key], f"{where}, {key}") for key in ours)
    if isinstance(ours, list):
        if len(ours) != len(theirs):
            raise SystemExit(f"{where}: {len(ours)} here, {len(theirs)} made again")
        return sum(compare(one, other, f"{where}, {at}") for at, (one, other) in enumerate(zip(ours, theirs)))
    same = math.isclose(ours, theirs, rel_tol=SAME) if isinstance(ours, float) else ours == theirs
    if not same:
        raise SystemExit(f"{where}: {ours} here, {theirs} made again")
    return 1


def check():
    count = 0
    for idea in IDEAS:
        name = idea.__name__
        kept = json.loads((HERE / f"{name}.json").read_text(encoding="utf-8"))
        count += compare(kept, json.loads(json.dumps(idea.vectors())), name)
    print(f"{count} numbers are what the libraries make of them")


match sys.argv[1:]:
    case []:
        for idea in IDEAS:
            write(HERE, idea.__name__, idea.vectors())
    case ["--check"]:
        check()
    case ["--all", folder]:
        write(Path(folder), "motion", motion.vectors(random.Random(24), 10_000, 200))
        write(Path(folder), "spacing", spacing.vectors(random.Random(24), 10_000))
    case _:
        raise SystemExit(__doc__)
