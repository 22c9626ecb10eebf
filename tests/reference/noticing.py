"""The chance of noticing a taste: a Weibull curve that is one half at the threshold."""

import math
import random

from scipy.stats import weibull_min


def chance(times, slope):
    """For `times` the threshold: 1 - 2^(-x^b) is the Weibull distribution of this scale."""
    return float(weibull_min.cdf(times, slope, scale=(1 / math.log(2)) ** (1 / slope)))


def vectors():
    drawn = random.Random(23)
    points = [[times, slope] for slope in (1.0, 2.0, 4.0) for times in (0.0, 0.001, 0.1, 0.5, 1.0, 1.5, 2.0, 10.0)]
    while len(points) < 200:
        points.append([round(10 ** drawn.uniform(-3, 1), 6), round(drawn.uniform(0.5, 12), 3)])
    return {"points": [point + [chance(*point)] for point in points]}
