"""Level in the hood and taste on the tongue: s' = -k s, u' = a s - u / tau, solved numerically and without any closed form."""

import math
import random

from scipy.integrate import solve_ivp

# Far below what is asked for, 1e-9; the absolute tolerance is next to nothing, so that small values keep their digits.
TOLERANCE = {"method": "DOP853", "rtol": 5e-14, "atol": 1e-290}


def solve(level, gathered, share, fade_per_s, gathers_s, seconds):
    """Level and gathered at the end, and the most that was gathered on the way."""

    def change(_, now):
        return [-fade_per_s * now[0], share * now[0] - now[1] / gathers_s]

    def stands_still(time, now):
        return change(time, now)[1]

    stands_still.direction = -1
    # From an empty tongue the solver cannot guess a first step by itself.
    first = min(seconds, 1e-3 * min(gathers_s, 1 / fade_per_s))
    found = solve_ivp(change, (0, seconds), [level, gathered], events=stands_still, first_step=first, **TOLERANCE)
    if not found.success:
        raise ArithmeticError(found.message)
    end = [float(values[-1]) for values in found.y]
    peaks = [float(peak[1]) for peak in found.y_events[0]]
    return end[0], end[1], max([gathered, end[1], *peaks])


def near(chance, rate):
    """A time close to that of a rate, down to the last digits of a number."""
    return (1 + chance.choice([-1, 1]) * 10 ** -chance.uniform(2, 16)) / rate


def spread(chance, least, most):
    """Evenly over the orders of magnitude, with few digits."""
    return float(f"{math.exp(chance.uniform(math.log(least), math.log(most))):.5g}")


def segments(chance, count):
    """Stretches with no event: what goes in, then level, gathered and the most at the end."""
    rows = []
    for number in range(count):
        fade = math.log(2) / spread(chance, 5, 300)
        given = [
            0.0 if number % 50 == 7 else spread(chance, 0.01, 500),
            0.0 if number % 4 == 1 else spread(chance, 0.001, 5000),
            0.0 if number % 50 == 9 else spread(chance, 1e-5, 1),
            fade,
            near(chance, fade) if number % 3 == 0 else spread(chance, 0.5, 600),
            spread(chance, 0.01, 120),
        ]
        rows.append(given + list(solve(*given)))
    return rows


def schedule(chance, number):
    """A whole test: initial squeezes with gaps, seven minutes with half of them each half minute, a leak for each minute.

    Its pieces are what is added to the level, the share that reaches the tongue, how long, and level and gathered then.
    """
    fade = math.log(2) / spread(chance, 15, 60)
    gathers = [3.0, 60.0, near(chance, fade), spread(chance, 1, 200)][number % 4]
    strength = chance.choice([12.5, 100.0])
    initial = 10 * (1 + number % 3)
    leaks = [0.0 if chance.random() < 0.05 else spread(chance, 1e-5, 0.1) for _ in range(7)]
    plan = [(strength, leaks[0], round(chance.uniform(0.4, 1.2), 3)) for _ in range(initial)]
    for place, share in enumerate(leaks):
        for half in range(2):
            left = 30.0
            if place or half:
                for _ in range(initial // 2):
                    gap = round(chance.uniform(0.4, 1.2), 3)
                    plan.append((strength, share, gap))
                    left -= gap
            # The rest of the half minute, looked at on the way.
            for part in (0.25, 0.75):
                plan.append((0.0, share, round(left * part, 6)))
    level = gathered = 0.0
    pieces = []
    for adds, share, seconds in plan:
        level, gathered, _ = solve(level + adds, gathered, share, fade, gathers, seconds)
        pieces.append([adds, share, seconds, level, gathered])
    return {"fade_per_s": fade, "gathers_s": gathers, "pieces": pieces}


def vectors(chance=None, segment_count=500, schedule_count=20):
    chance = chance or random.Random(20)
    return {
        "segments": segments(chance, segment_count),
        "schedules": [schedule(chance, number) for number in range(schedule_count)],
    }
