"""The right answers of the questions that ask for a number, for every figure that can be drawn.

Nothing here is taken from the program: the rule's numbers are written down once more, and where a test goes on in time it is
gone through second by second.
"""

import itertools
import tomllib
from fractions import Fraction
from pathlib import Path

QUESTIONS = Path(__file__).resolve().parents[2] / "core/data/questions"

# Appendix A of 29 CFR 1910.134, Part I.A.14 and I.B.3 and I.B.4; 1910.134(d) and (f).
SET, SETS, EXERCISES, EXERCISE_S, EVERY_S = 10, 3, 7, 60, 30
BY_MOUTH_MIN, WORN_MIN, REFILL_MIN, YEAR_MONTHS = 15, 5, 4 * 60, 12
HALF_TIMES, FULL_TIMES, TASTE_TIMES = 10, 50, 10

# Grams of agent to millilitres of solvent.
SWEET_TEST, SWEET_CHECK = Fraction(83, 100), Fraction("0.83") / 100
BITTER_TEST, BITTER_CHECK = Fraction("0.3375") / 200, Fraction("0.0135") / 100
SALT = Fraction(5, 100)

# In the unit that stands first of its kind.
UNITS = {"ml": 1, "l": 1000, "mg": 1, "g": 1000, "kg": 10**6, "s": 1, "min": 60, "h": 3600, "days": 86400}


def squeezes_until(threshold, second):
    """Goes through a test, and counts what has been sprayed when this second is over."""
    count = threshold
    for now in range(1, second + 1):
        if now % EVERY_S == 0 and now < EXERCISES * EXERCISE_S:
            count += threshold // 2
    return count


def whole(threshold):
    return squeezes_until(threshold, EXERCISES * EXERCISE_S)


def left_in_hood(threshold, missed):
    """Half is lost in each half minute, as half is what makes up for it."""
    level = Fraction(threshold)
    for _ in range(missed + 1):
        level -= level / 2
    return level


def recorded(squeeze):
    return next(SET * n for n in range(1, SETS + 1) if squeeze <= SET * n)


def overall(bad):
    let_in = [Fraction(1, 1000)] * 6 + [1 / Fraction(bad)]
    return 1 / (sum(let_in) / len(let_in))


# Each with the unit it answers in.
ANSWERS = {
    "initial-squeezes": ("squeezes", lambda threshold: threshold),
    "replenish-squeezes": ("squeezes", lambda threshold: Fraction(threshold, 2)),
    "whole-test-squeezes": ("squeezes", whole),
    "squeezes-by": ("squeezes", lambda threshold, seconds: squeezes_until(threshold, seconds)),
    "level-after-missed": ("squeezes", left_in_hood),
    "squeezes-missing": ("squeezes", lambda threshold, missed: Fraction(threshold, 2) * missed),
    "replenishments": ("times", lambda: (whole(10) - 10) // 5),
    "screening-squeezes-left": ("squeezes", lambda given: SET * SETS - given),
    "group-squeezes": ("squeezes", lambda tens, twenties: whole(10) * tens + whole(20) * twenties),
    "recorded-threshold": ("squeezes", recorded),
    "saccharin-grams": ("g", lambda volume: SWEET_TEST * volume),
    "saccharin-check-grams": ("g", lambda volume: SWEET_CHECK * volume),
    "denatonium-mg": ("mg", lambda volume: BITTER_TEST * volume * 1000),
    "denatonium-check-mg": ("mg", lambda volume: BITTER_CHECK * volume * 1000),
    "salt-grams": ("g", lambda volume: SALT * volume),
    "check-from-test-ml": ("ml", lambda volume: volume / Fraction(100)),
    "water-for-batch-ml": ("ml", lambda grams: grams / SWEET_TEST),
    "limit-half-mask": ("mg/m3", lambda limit: HALF_TIMES * limit),
    "limit-full-by-taste": ("mg/m3", lambda limit: TASTE_TIMES * limit),
    "limit-full-quantitative": ("mg/m3", lambda limit: FULL_TIMES * limit),
    "full-facepiece-times": ("times", lambda: TASTE_TIMES),
    "overall-fit-factor": ("times", overall),
    "until-may-start": ("min", lambda minutes: BY_MOUTH_MIN - minutes),
    "until-worn-long-enough": ("min", lambda minutes: WORN_MIN - minutes),
    "until-refill": ("min", lambda minutes: REFILL_MIN - minutes),
    "test-length-s": ("s", lambda done: (EXERCISES - done) * EXERCISE_S),
    "day-plan-minutes": ("min", lambda people, each: people * each),
    "recheck-due-months": ("months", lambda months: YEAR_MONTHS - months),
}


def exact(figure):
    return figure if isinstance(figure, int) else Fraction(str(figure))


def answer(formula, figures, unit):
    own, reckon = ANSWERS[formula]
    value = Fraction(reckon(**{name: exact(figure) for name, figure in figures.items()}))
    return float(value if own == unit else value * UNITS[own] / UNITS[unit])


def rows(question):
    drawn = question.get("drawn", {})
    names = sorted(drawn)
    for values in itertools.product(*(drawn[name] for name in names)):
        figures = dict(zip(names, values))
        yield {
            "id": question["id"],
            "figures": {name: float(value) for name, value in figures.items()},
            "answer": answer(question["answer"], figures, question["unit"]),
        }


def vectors():
    found = []
    for path in sorted(QUESTIONS.glob("*.toml")):
        for question in tomllib.loads(path.read_text(encoding="utf-8"))["question"]:
            if question["kind"] == "number":
                found.extend(rows(question))
    return {"answers": found}
