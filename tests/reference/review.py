"""What a review shows in figures, computed again from the saved run alone: sets of squeezes, lengths, levels in the hood, poor
fits missed and good fits failed, and what each departure did to them.

Level and taste come from linear filters on a grid of hundredths of a second, the sums from numpy; people, leaks and screening are
those of `population.py`. A run file does not say what a squeeze brought, so these are runs in which every bulb had refilled and the
nebulizer sprayed: each squeeze is a whole one. `runs.json` says what was changed in which kept run.
"""

import json
import tomllib
from pathlib import Path

import numpy as np
from scipy.signal import lfilter
from scipy.stats import weibull_min

from population import CLASSES, DATA, LEAKS, PEOPLE, RAPID, SETS, crowd, parameters, screening, strength

HERE = Path(__file__).parent
STEP = 0.01
POOR, GOOD = (20.0, 50.0, 90.0), (200.0, 500.0, 2000.0)
ORDER = [
    "normal-breathing", "deep-breathing", "head-side", "head-up-down", "talking", "bending", "normal-again",
]


def rule_numbers():
    with open(DATA / "rulebook/us/common.toml", "rb") as file:
        rules = tomllib.load(file)["rule"]
    found = {}
    for rule in rules:
        found |= rule.get("numbers", {})
    return {name: float(str(value).split()[0]) for name, value in found.items() if str(value).endswith(" s")}


RULE = rule_numbers()


def acts_of(run):
    kept = json.loads((HERE.parent / f"golden/{run['golden']}.json").read_text(encoding="utf-8"))
    acts = [(act["at"], act["act"], act.get("with")) for act in kept["acts"]]
    for what, begin, end in run.get("drop", []):
        acts = [act for act in acts if not (begin <= act[0] < end and what in ("*", act[1]))]
    for begin, end, by in run.get("shift", []):
        acts = [(at + by, *rest) if begin <= at < end else (at, *rest) for at, *rest in acts]
    acts += [tuple(added) for added in run.get("add", [])]
    return kept["scenario"]["agent"], sorted(acts, key=lambda act: act[0])


class Test:
    """The fit test of a run with one of them, in seconds."""

    def __init__(self, acts):
        donned = next(at for at, act, _ in acts if act == "don")
        hooded = next(at for at, act, _ in acts if act == "hood-on" and at > donned)
        closed = next(at for at, act, _ in acts if act == "give")
        within = [(at / 1000, act, what) for at, act, what in acts if hooded <= at <= closed]
        self.squeezes = [at for at, act, _ in within if act == "squeeze"]
        begins = [(at, what) for at, act, what in within if act == "begin"]
        end = next(at for at, act, _ in within if act == "end")
        hood_off = next((at for at, act, _ in within if act == "hood-off"), end)
        self.begun = begins[0][0]
        self.exercises = []
        for number, (at, what) in enumerate(begins):
            following = begins[number + 1][0] if number + 1 < len(begins) else None
            # The last one's air goes on until the hood comes off; the exercise itself until it was ended.
            self.exercises.append((what, at, following or end, following or hood_off))
        noted = [what for at, act, what in acts if act == "note-threshold" and at < hooded]
        self.threshold = int(noted[-1]) if noted else None
        asked = [what for _, act, what in within if act == "ask"]
        self.led_to_yes, self.led_to_no = "towards-yes" in asked, "towards-no" in asked

    def asked(self):
        """Squeezes at first, and half as many later. Where no threshold was noted, from what the first ones amount to."""
        first = self.threshold or next(size for size in CLASSES if sum(at <= self.begun for at in self.squeezes) <= size)
        return first, first // 2

    def rounds(self):
        """The initial set and one for each half minute: when due, when begun, which squeezes."""
        first, _ = self.asked()
        lost = RULE["replenish_lost"]
        since = self.begun - RULE["rapid_set"] * -(-first // 10) - lost
        found = [(self.begun, [at for at in self.squeezes if since <= at < self.begun + lost])]
        later = [at for at in self.squeezes if at >= self.begun + lost]
        sets = np.split(later, np.flatnonzero(np.diff(later) > RULE["set_gap"]) + 1) if later else []
        ended = self.exercises[-1][2]
        due = self.begun + RULE["replenish_every"]
        while due < ended - 1e-9:
            here = [at for one in sets if due - lost <= one[0] < due + lost for at in one]
            found.append((due, here))
            due += RULE["replenish_every"]
        return found


def as_a_minute(length):
    """What the rule lets pass as a minute counts as one."""
    return 60.0 if RULE["exercise_slack"] <= length <= RULE["exercise_long"] else length


def course_of(test, adds):
    """Stretches by exercise: how long, and puffs with their moments; prompt sets count as on time."""
    moved = {}
    for due, given in test.rounds()[1:]:
        if given and abs(given[0] - due) <= RULE["replenish_slack"] + 1e-9:
            moved |= {at: due + at - given[0] for at in test.squeezes if given[0] <= at <= given[-1]}
    before = [at for at in test.squeezes if at <= test.begun]
    idle = test.begun - (before[-1] + RAPID)
    if 0 <= idle <= RULE["replenish_slack"]:
        moved |= {at: at + idle for at in before if at not in moved}
    puffs = sorted(moved.get(at, at) for at in test.squeezes)
    start = min(puffs[0], test.begun)
    course = {"initial": (test.begun - start, [(at - start, adds) for at in puffs if at < test.begun - 1e-9])}
    begins = test.begun
    for what, at, ended, following in test.exercises:
        lasts, until = as_a_minute(ended - at), as_a_minute(following - at)
        here = [(puff - begins, adds) for puff in puffs if begins - 1e-9 <= puff < begins + until - 1e-9]
        course[what] = (until, here)
        begins += until
    return course


def by_the_book(first, adds):
    rapid = lambda count, start: [(start + number * RAPID, adds) for number in range(count)]
    course = {"initial": (first * RAPID, rapid(first, 0.0))}
    for place, what in enumerate(ORDER):
        course[what] = (60.0, (rapid(first // 2, 0.0) if place else []) + rapid(first // 2, 30.0))
    return course


class Air:
    """The level in a hood, carried from one stretch to the next."""

    def __init__(self, half_life):
        self.fade = 0.5 ** (STEP / half_life)
        self.level = 0.0

    def through(self, length, puffs):
        """The level at each moment of the grid, the end included: there without what comes with it."""
        count = round(length / STEP)
        adds = np.zeros(count + 1)
        for at, amount in puffs:
            adds[round(at / STEP)] += amount
        adds[0] += self.level
        levels = lfilter([1.0], [1.0, -self.fade], adds)
        self.level = levels[count]
        return levels


class Tongue:
    """What has gathered on a tongue behind a leak."""

    def __init__(self, half_life, gathers):
        fade, lost = np.log(2) / half_life, 1 / gathers
        self.lost = np.exp(-STEP * lost)
        self.gain = (np.exp(-STEP * fade) - self.lost) / (lost - fade)
        self.gathered = 0.0

    def through(self, levels, share):
        """The strongest taste in a stretch of these levels."""
        fed = np.concatenate([[self.gathered], self.gain * share * levels[:-1]])
        taste = lfilter([1.0], [1.0, -self.lost], fed)
        self.gathered = taste[-1]
        return taste.max()


def strongest(course, rates, leak):
    air, tongue = Air(rates[0]), Tongue(*rates)
    most = tongue.through(air.through(*course["initial"]), leak[0])
    found = []
    for what, share in zip(ORDER, leak):
        if what in course:
            found.append(max(tongue.through(air.through(*course[what]), share), most))
        else:
            found.append(0.0)
        most = 0.0
    return found


def strongest_within(course, book, rates, leak):
    """Nowhere more than by the book: of both levels the lesser counts, and no exercise counts longer than either."""
    ours, theirs, theirs_tongue, counted = Air(rates[0]), Air(rates[0]), Tongue(*rates), Tongue(*rates)
    most, found = 0.0, []
    for what, share in [("initial", leak[0]), *zip(ORDER, leak)]:
        counted.gathered = min(counted.gathered, theirs_tongue.gathered)
        start = counted.gathered
        levels = theirs.through(*book[what])
        theirs_tongue.through(levels, share)
        here = 0.0
        if what in course:
            own = ours.through(*course[what])
            both = min(len(own), len(levels))
            here = max(start, counted.through(np.minimum(own[:both], levels[:both]), share))
        if what == "initial":
            most = here
        else:
            found.append(max(here, most))
            most = 0.0
    return found


def figures(agent, of_set, course, sound, led):
    """As run and by the book: poor fits missed, good fits failed. `sound` is the class of a sound screening."""
    given = parameters(agent, of_set)
    rates, slope = (given["half_life_s"], given["gathers_s"]), given["slope"]
    missed = lambda times: weibull_min.sf(times, slope, scale=(1 / np.log(2)) ** (1 / slope))
    sets = np.array(screening(*rates))
    thresholds, people = crowd(sets[0] * given["threshold_median"], given["threshold_spread"], PEOPLE)
    still = np.cumprod(missed(sets[:, None] / thresholds), axis=0)
    classed = -np.diff(still, axis=0, prepend=1.0)

    def silent(tastes, fits):
        """By threshold, the chance of never being heard, over these fits."""
        unnoticed = np.ones((PEOPLE, len(fits)))
        for place, taste in enumerate(tastes):
            asked = np.outer(thresholds * (1 + given["tiring"] * place), fits)
            unnoticed = unnoticed * missed(given["reach"] * taste / asked)
        return ((given["lapse"] + (1 - given["lapse"]) * unnoticed) * (1 - given["false_report"])).mean(axis=1)

    sums, weight = np.zeros(4), 0.0
    for size, in_class in zip(CLASSES, classed):
        if sound not in (None, size):
            continue
        book = by_the_book(size, strength(agent))
        for of_leaks, leak in LEAKS:
            shares = people * in_class * of_leaks
            weight += shares.sum()
            as_book = strongest(book, rates, leak)
            sums += [
                shares @ silent(strongest_within(course, book, rates, leak), POOR),
                shares @ (1 - silent(strongest(course, rates, leak), GOOD)),
                shares @ silent(as_book, POOR),
                shares @ (1 - silent(as_book, GOOD)),
            ]
    ran_poor, ran_good, book_poor, book_good = sums / weight
    if sound is None:
        # Those who cannot taste it are tested too, and never heard; by the book they are not.
        none, quiet = still[-1] @ people, 1 - given["false_report"]
        ran_poor = (1 - none) * ran_poor + none * quiet
        ran_good = (1 - none) * ran_good + none * (1 - quiet)
        book_poor, book_good = (1 - none) * book_poor, (1 - none) * book_good
    led_to_yes, led_to_no = led
    ran_poor = ran_poor + (1 - ran_poor) * given["suggestible"] * led_to_no
    ran_good = ran_good + (1 - ran_good) * given["suggestible"] * led_to_yes
    return [float(one) for one in (ran_poor, ran_good, book_poor, book_good)]


def put_right(course, book, one):
    """The course with an exercise's sets, or its length with what was due in it, or the whole exercise as the book has it."""
    what, of = one
    better = dict(course)
    until, puffs = course.get(of, (0.0, []))
    if what == "replenishments":
        better[of] = (until, [puff for puff in book[of][1] if puff[0] < until])
    elif what == "length":
        better[of] = (60.0, [p for p in puffs if p[0] < 60.0] + [p for p in book[of][1] if p[0] >= until])
    elif what == "left-out":
        better[of] = book[of]
    return better


def levels(test, agent):
    """In the hood just before each half minute, in squeezes: as run, from what really was sprayed and when."""
    half_life = parameters(agent, "accepted")["half_life_s"]
    found = []
    at = test.begun
    while at <= test.exercises[-1][2] + 1e-9:
        found.append(float(sum(0.5 ** ((at - puff) / half_life) for puff in test.squeezes if puff < at - 1e-9)))
        at += 30.0
    return found


# What is off in each run, where it is of a kind that is put right on the course.
OFF = {
    "two exercises without replenishment": [("replenishments", "head-side"), ("replenishments", "head-up-down")],
    "one replenishment ten seconds late": [("replenishments", "head-up-down")],
    "bending left out": [("left-out", "bending")],
}


def of_run(run):
    agent, acts = acts_of(run)
    test = Test(acts)
    first, later = test.asked()
    rounds = test.rounds()
    course = course_of(test, strength(agent))
    led = (test.led_to_yes, test.led_to_no)
    of_sets = lambda course, sound, led: [figures(agent, of_set, course, sound, led) for of_set in SETS]
    shares = []
    for one in OFF.get(run["name"], []):
        better = put_right(course, by_the_book(first, strength(agent)), one)
        shares.append({"of": list(one), "figures": of_sets(better, test.threshold, led)})
    return {
        "name": run["name"],
        "sets": [[round(due * 1000), round(given[0] * 1000) if given else None, len(given)] for due, given in rounds],
        "asked": [first, later],
        "lengths": [[what, round((ended - at) * 1000)] for what, at, ended, _ in test.exercises],
        "levels": levels(test, agent),
        "figures": of_sets(course, test.threshold, led),
        "shares": shares,
    }


def vectors():
    runs = json.loads((HERE / "runs.json").read_text(encoding="utf-8"))["runs"]
    return {"runs": [of_run(run) for run in runs]}
