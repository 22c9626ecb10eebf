"""Knowledge tracing as what it is: a hidden Markov model of two states, summed over every way that learning could have gone.

With n answers there are 2^(n+1) ways, from before the first answer to after the last; those in which something known is
forgotten have no chance. Nothing is carried on from answer to answer, so no error of such a recursion can be repeated here.
"""

import itertools
import random


def chance(way, answers, before, learns, slips, guesses):
    """Of one way (known or not, at each moment) and the answers given on it."""
    product = before if way[0] else 1 - before
    for known, then, right, guess in zip(way, way[1:], answers, guesses):
        shows = 1 - slips if known else guess
        product *= shows if right else 1 - shows
        product *= (1.0 if then else 0.0) if known else (learns if then else 1 - learns)
    return product


def known_after(answers, before, learns, slips, guesses):
    ways = itertools.product((0, 1), repeat=len(answers) + 1)
    chances = [(way[-1], chance(way, answers, before, learns, slips, guesses)) for way in ways]
    return sum(one for known, one in chances if known) / sum(one for _, one in chances)


def case(chosen, answers, before, learns, slips, options):
    guesses = [1 / chosen.choice(options) for _ in answers]
    after = [known_after(answers[:n], before, learns, slips, guesses[:n]) for n in range(1, len(answers) + 1)]
    return {
        "parameters": [before, learns, slips],
        "answers": [[int(right), round(1 / guess), known] for right, guess, known in zip(answers, guesses, after)],
    }


def vectors():
    chosen = random.Random(26)
    # The two that were worked out beforehand.
    usual = (0.2, 0.15, 0.1)
    cases = [case(chosen, [1] * 4, *usual, [4]), case(chosen, [1, 0, 1, 1, 1, 1], *usual, [4])]
    for _ in range(60):
        answers = [chosen.randint(0, 1) for _ in range(chosen.randint(1, 10))]
        before, learns, slips = (chosen.uniform(*bounds) for bounds in ((0.01, 0.9), (0.0, 0.5), (0.01, 0.3)))
        cases.append(case(chosen, answers, before, learns, slips, [2, 3, 4, 5, 6, 15, 31, 120]))
    return {"cases": cases}
