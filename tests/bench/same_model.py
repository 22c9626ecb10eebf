"""The same model of the same rehearsal with SimPy, for comparison: one sample of its speed, and what came of it, as JSON.

Conductor and breathing are processes, each hood a new one to breathe in. It takes the events and the constants from the
file that it is given, and its arithmetic from nowhere.
"""

import json
import sys
import time
from math import exp, expm1

import simpy

SECONDS = 0.5


class Air:
    """What is in the hood and on the tongue, in closed form between the moments at which something changes."""

    def __init__(self, model):
        self.fade = model["fade_per_s"]
        self.tau = model["gathers_s"]
        self.level = self.gathered = self.share = 0.0
        self.since = 0

    def after(self, now):
        seconds = (now - self.since) / 1000
        gap = (1 / self.tau - self.fade) * seconds
        mean = -expm1(-gap) / gap if gap else 1.0
        left = exp(-self.fade * seconds)
        gathered = self.gathered * exp(-seconds / self.tau) + self.share * self.level * seconds * left * mean
        return self.level * left, gathered

    def move(self, now):
        self.level, self.gathered = self.after(now)
        self.since = now


class Rehearsal:
    """One of them, from the first event to the last."""

    def __init__(self, model):
        self.model = model
        self.env = simpy.Environment()
        self.air = Air(model)
        self.hood = None
        self.squeezes = self.breaths = self.signals = 0
        self.strongest = 0.0
        self.env.run(self.env.process(self.conduct()))

    def conduct(self):
        env, air = self.env, self.air
        for at, event in self.model["events"]:
            yield env.timeout(at - env.now)
            air.move(at)
            what = event["what"]
            if what == "squeeze":
                self.squeezes += 1
                air.level += event["with"]
            elif what == "hood-on":
                air.level, air.share = 0.0, event["with"]
                self.hood = at
                env.process(self.breathe(at))
            elif what == "hood-off":
                air.level = air.share = 0.0
                self.hood = None
            elif what == "share":
                air.share = event["with"]
            elif what == "water":
                air.gathered *= event["with"]

    def breathe(self, hood):
        """Breaths on the beat of the first, until the hood is off or the taste is signalled."""
        env, beat, first = self.env, self.model["breath"], self.model["first_breath"]
        yield env.timeout(beat - (hood - first - 1) % beat - 1)
        while self.hood == hood:
            self.breaths += 1
            _, gathered = self.air.after(env.now)
            self.strongest = max(self.strongest, gathered)
            if gathered >= self.model["threshold"]:
                self.signals += 1
                return
            yield env.timeout(beat)

    def impression(self):
        return {
            "squeezes": self.squeezes,
            "breaths": self.breaths,
            "signals": self.signals,
            "strongest": self.strongest,
        }


def main():
    with open(sys.argv[1], encoding="utf-8") as file:
        model = json.load(file)
    impression = Rehearsal(model).impression()
    times, start = 0, time.perf_counter()
    while time.perf_counter() - start < SECONDS:
        Rehearsal(model)
        times += 1
    per_second = times / (time.perf_counter() - start)
    print(json.dumps({"plain": per_second, "impression": impression}))


if __name__ == "__main__":
    main()
