"""The trial of the whole method by the book, computed again: who is in which class, and how the test agrees with the fit.

The taste comes from the modes of the matrix and a search for its maxima, the chances from a survival function, one exercise at a
time; the nodes are those that `core/src/population.rs` documents. Parameters and strengths are read from the core's data.
"""

import math
import tomllib
from functools import cache
from pathlib import Path

import numpy as np
from scipy.optimize import minimize_scalar
from scipy.stats import norm, weibull_min

DATA = Path(__file__).parents[2] / "core/data"
AGENTS = ["sweet", "bitter"]
SETS = ["accepted", "less"]

# As chosen in the core: seconds between rapid squeezes and for a question, nodes from -4 to 4, kinds of leak.
RAPID = 0.7
QUESTION = 4.0
PEOPLE, FITS = 41, 161
LEAKS = [
    (0.55, (1.0,) * 7),
    (0.10, (0.5, 0.5, 0.5, 4.0, 0.5, 0.5, 0.5)),
    (0.20, (0.5, 0.5, 0.5, 0.5, 4.0, 0.5, 0.5)),
    (0.15, (0.5, 0.5, 0.5, 0.5, 0.5, 4.0, 0.5)),
]
# App. A I.B.3 and I.B.4: sets of ten up to thirty; half as many every half minute; seven minutes.
CLASSES = [10, 20, 30]
HALF_MINUTE = 30.0


def parameters(agent, of_set):
    with open(DATA / "model.toml", "rb") as file:
        listed = tomllib.load(file)["parameter"]
    return {one["id"]: one["all"] if "all" in one else one[agent][SETS.index(of_set)] for one in listed}


def strength(agent):
    """How many times as strong the fit test solution is."""
    with open(DATA / f"rulebook/us/{agent}.toml", "rb") as file:
        found = tomllib.load(file)
    return found["solution"]["strength_milli"] / 1000


@cache
def modes(half_life, gathers, share):
    """Eigenvalues, eigenvectors and the inverse of these, of the matrix by which level and taste change."""
    values, vectors = np.linalg.eig(np.array([[-math.log(2) / half_life, 0], [share, -1 / gathers]]))
    return values, vectors, np.linalg.inv(vectors)


class Mouth:
    """The air about one tongue, and the strongest taste since it was last asked."""

    def __init__(self, half_life, gathers):
        self.rates = half_life, gathers
        self.air = np.zeros(2)
        self.most = 0.0

    def squeeze(self, adds):
        self.air = self.air + [adds, 0]

    def wait(self, share, seconds):
        values, vectors, inverse = modes(*self.rates, share)
        start = self.air
        parts = vectors * (inverse @ start)
        end = parts @ np.exp(values * seconds)
        self.most = max(self.most, start[1], end[1])
        rising, still_rising = parts[1] @ values > 0, parts[1] @ (values * np.exp(values * seconds)) > 0
        if rising and not still_rising:
            taste = lambda time: -(parts[1] @ np.exp(values * time))
            found = minimize_scalar(taste, bounds=(0, seconds), method="bounded", options={"xatol": 1e-6 * seconds})
            self.most = max(self.most, -found.fun)
        self.air = end

    def strongest(self):
        most, self.most = self.most, self.air[1]
        return float(most)


def screening(half_life, gathers):
    mouth = Mouth(half_life, gathers)
    found = []
    for _ in CLASSES:
        for squeeze in range(10):
            mouth.squeeze(1.0)
            mouth.wait(1.0, RAPID + (QUESTION if squeeze == 9 else 0))
        found.append(mouth.strongest())
    return found


@cache
def strongest(half_life, gathers, strength, initial, leak):
    """In each exercise, the initial squeezes with the first of them."""
    mouth = Mouth(half_life, gathers)
    for _ in range(initial):
        mouth.squeeze(strength)
        mouth.wait(leak[0], RAPID)
    found = []
    for place, share in enumerate(leak):
        for half in range(2):
            squeezes = initial // 2 if place or half else 0
            for _ in range(squeezes):
                mouth.squeeze(strength)
                mouth.wait(share, RAPID)
            mouth.wait(share, HALF_MINUTE - squeezes * RAPID)
        found.append(mouth.strongest())
    return found


def crowd(median, spread, count):
    """Nodes of a lognormal distribution and their shares."""
    z = np.linspace(-4, 4, count)
    shares = norm.pdf(z)
    return median * spread**z, shares / shares.sum()


def trial(agent, of_set):
    given = parameters(agent, of_set)
    rates = given["half_life_s"], given["gathers_s"]
    slope = given["slope"]

    def missed(times):
        return weibull_min.sf(times, slope, scale=(1 / math.log(2)) ** (1 / slope))

    sets = np.array(screening(*rates))
    thresholds, people = crowd(sets[0] * given["threshold_median"], given["threshold_spread"], PEOPLE)
    fits, fitted = crowd(given["fit_median"], given["fit_spread"], FITS)
    still = np.cumprod(missed(sets[:, None] / thresholds), axis=0)
    classed = -np.diff(still, axis=0, prepend=1.0)
    split = [*(classed @ people), still[-1] @ people]

    # By person and fit: the share of each pair, and how many of them pass.
    tested, passed = np.zeros((PEOPLE, FITS)), np.zeros((PEOPLE, FITS))
    for initial, in_class in zip(CLASSES, classed):
        pairs = np.outer(people * in_class, fitted)
        tested += pairs
        for of_leaks, leak in LEAKS:
            unnoticed = np.ones((PEOPLE, FITS))
            for place, taste in enumerate(strongest(*rates, strength(agent), initial, leak)):
                asked = np.outer(thresholds * (1 + given["tiring"] * place), fits)
                unnoticed *= missed(given["reach"] * taste / asked)
            silent = given["lapse"] + (1 - given["lapse"]) * unnoticed
            passed += of_leaks * pairs * silent * (1 - given["false_report"])
    poor = fits < 100
    table = [(tested - passed)[:, poor], (tested - passed)[:, ~poor], passed[:, poor], passed[:, ~poor]]
    gross = fits < 10
    return {
        "agent": agent,
        "set": of_set,
        "split": [float(share) for share in split],
        "table": [float(part.sum() / tested.sum()) for part in table],
        "passed_below_10": float(passed[:, gross].sum() / tested[:, gross].sum()),
    }


def vectors():
    return {"trials": [trial(agent, of_set) for agent in AGENTS for of_set in SETS]}
