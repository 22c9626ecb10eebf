"""When something is asked again: histories gone through by the package fsrs, with its default parameters.

Settings: fuzz off, no steps within a day, 0.9 known when due, 36 500 days at most; each time at the same hour, so that a day is
a day. The same histories are gone through by ts-fsrs in spacing/second.mjs.
"""

import random
from datetime import datetime, timedelta, timezone

from fsrs import Card, Rating, Scheduler

BEGAN = datetime(2026, 1, 1, 12, tzinfo=timezone.utc)
# Beyond this, one of the two libraries stops counting.
MOST_STABLE = 36_500


def history(chance):
    """Grades with the days since the last one: some on the same day, most about when they are due, some much later."""
    count = chance.randint(1, 14)
    gaps = [0] + [chance.choice([0, 1, round(10 ** chance.uniform(0, 2.6))]) for _ in range(count - 1)]
    return [(gap, chance.choices([1, 2, 3, 4], [3, 2, 6, 1])[0]) for gap in gaps]


def gone_through(asked):
    scheduler = Scheduler(learning_steps=(), relearning_steps=(), desired_retention=0.9, enable_fuzzing=False)
    card, at, rows = Card(card_id=1), BEGAN, []
    for gap, grade in asked:
        at += timedelta(days=gap)
        known = scheduler.get_card_retrievability(card, at)
        card, _ = scheduler.review_card(card, Rating(grade), at)
        rows.append([gap, grade, known, card.stability, card.difficulty, (card.due - at).days])
    return rows


def vectors(chance=None, count=200):
    chance = chance or random.Random(26)
    histories = [gone_through(history(chance)) for _ in range(count)]
    assert all(row[3] < MOST_STABLE for rows in histories for row in rows)
    return {"histories": histories}
