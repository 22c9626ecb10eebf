"""Intervals for a share that was counted: Wilson's and the exact one of Clopper and Pearson."""

import math
import random

from scipy.special import betainccinv, betaincinv
from scipy.stats import binomtest

# The fixed-leak trial with 26 people; none of n about the count that bounds it by 0.05; 3 of about 100 pairs: published
# counts, the intervals derived. Then counts of the kind in which readiness is shown.
NAMED = [(26, 26), (17, 26), (24, 26), (0, 1), (0, 26), (0, 58), (0, 59), (3, 100)]
NAMED += [(8, 10), (9, 10), (10, 10), (11, 11), (18, 20), (20, 20)]

SIDES = {"both": "two-sided", "lower": "greater", "upper": "less"}

# SciPy finds the ends of its exact interval by a search that stops here.
SEARCHED = 4e-12


def exact(hits, of, confidence, side):
    """By the inverse of the incomplete beta function, which has more digits than the search; both must agree."""
    doubt = (1 - confidence) / (2 if side == "both" else 1)
    low = 0.0 if side == "upper" or hits == 0 else float(betaincinv(hits, of - hits + 1, doubt))
    high = 1.0 if side == "lower" or hits == of else float(betainccinv(hits + 1, of - hits, doubt))
    searched = binomtest(hits, of, alternative=SIDES[side]).proportion_ci(confidence, "exact")
    for ours, theirs in ((low, searched.low), (high, searched.high)):
        if not math.isclose(ours, theirs, rel_tol=0, abs_tol=SEARCHED):
            raise ArithmeticError(f"{hits} of {of}, {side}: {ours}, and searched for {theirs}")
    return [low, high]


def wilson(hits, of, confidence, side):
    found = binomtest(hits, of, alternative=SIDES[side]).proportion_ci(confidence, "wilson")
    return [float(found.low), float(found.high)]


def vectors():
    chance = random.Random(25)
    cases = [(*counted, confidence) for counted in NAMED for confidence in (0.9, 0.95)]
    while len(cases) < 100:
        of = round(10 ** chance.uniform(0, 3.5))
        cases.append((chance.randint(0, of), of, chance.choice([0.5, 0.8, 0.9, 0.95, 0.99, 0.999])))
    return {side: [[*case, *wilson(*case, side), *exact(*case, side)] for case in cases] for side in SIDES}
