"""The measures of a two-by-two table, from one label for each person and never from the counts."""

import random

import numpy as np
from sklearn.metrics import cohen_kappa_score, precision_score, recall_score

# Poor fits failed, good fits failed, poor fits passed, good fits passed. Constructed: derived.
CONSTRUCTED = [[48, 12, 2, 88], [57, 10, 3, 80], [95, 20, 5, 80], [38, 30, 2, 30], [90, 6, 10, 94]]


def measures(a, b, c, d):
    """Sensitivity, value of a pass, specificity, value of a fail, kappa; 1 is a poor fit, and a failed test."""
    counts = [a, b, c, d]
    poor = np.repeat([1, 0, 1, 0], counts)
    failed = np.repeat([1, 1, 0, 0], counts)
    found = [
        recall_score(poor, failed),
        precision_score(poor, failed, pos_label=0),
        recall_score(poor, failed, pos_label=0),
        precision_score(poor, failed),
        cohen_kappa_score(poor, failed),
    ]
    return [float(value) for value in found]


def vectors():
    chance = random.Random(21)
    tables = CONSTRUCTED + [[chance.randint(1, 400) for _ in range(4)] for _ in range(60)]
    return {"tables": [table + measures(*table) for table in tables]}
