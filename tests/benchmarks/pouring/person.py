"""One of our own people at one of our own scales, on a pseudo-terminal, in real time: `whole` plays them by default.

    python -m tests.benchmarks.pouring.person --seed 1 --liquid polyol --target 62.4 --kind "tenth slow" --pours 5

Prints the name of the pseudo-terminal, then an object of JSON for each pour; takes `pace x`, `stop` and `ok` on stdin.
A cup is put down, the person waits for the first pace, pours, lifts the cup when told that it is done. `late_s` tells
by how much a line of the pour was late at worst: a busy machine holds up the person, which no scale does.
"""

from __future__ import annotations

import json
import math
import os
import select
import sys
import time
import tty
from typing import Any

import click
import numpy as np

from tests.benchmarks.pouring.liquids import LIQUIDS
from tests.benchmarks.pouring.own import DT, OnePour, People
from tests.benchmarks.pouring.scales import KINDS, Scales

BARE_S, GIVE_UP_S = 1.5, 90.0


class Loaded:
    """The scale of one lane with a cup on it: what lies there besides the liquid is added."""

    def __init__(self, scales: Scales) -> None:
        self.scales, self.cup_g = scales, 0.0

    def step(self, load_g: Any) -> Any:
        return self.scales.step(load_g + self.cup_g)

    def line(self) -> bytes:
        d = float(self.scales.d[0])
        shown = float(self.scales.shown[0])
        state = "ST" if bool(self.scales.steady[0]) else "US"
        places = max(0, round(-math.log10(d)))
        return f"{state},GS,{'-' if shown < 0 else '+'}{abs(shown):08.{places}f} g\r\n".encode()


class Person:
    """What the person does now; `step` goes on by 10 ms and says whether the scale sends a line."""

    def __init__(self, seed: int, liquid: str, target_g: float, kind: str, pours: int) -> None:
        self.rng = np.random.default_rng(seed)
        self.people = People(self.rng, [liquid], target_g)
        self.pan = Loaded(Scales(self.rng, [KINDS[kind]]))
        self.target_g, self.left = target_g, pours
        self.t, self.number, self.pour = 0.0, 1, OnePour(self.people, self.pan, self.rng)  # type: ignore[arg-type]
        self.results: list[dict[str, object]] = []
        self.heard: dict[str, float] = {}
        self.line_s, self.late_s = 0.0, 0.0
        self._next_cup()

    def _next_cup(self) -> None:
        self.pour = OnePour(self.people, self.pan, self.rng)  # type: ignore[arg-type]
        self.put_s, self.told_s, self.lift_s = self.t + BARE_S, math.inf, math.inf
        self.cup_g = float(self.rng.uniform(8, 60))
        self.heard, self.late_s = {}, 0.0

    def step(self) -> bool:
        self.t += DT
        self.pan.cup_g = self.cup_g if self.put_s <= self.t < self.lift_s else 0.0
        if self.t < self.told_s or self.t >= self.lift_s:
            lies = self.pour.landed if self.t < self.lift_s else np.zeros(1)
            due = self.pan.step(lies)
        else:
            due = self.pour.step()
        if self.t >= self.lift_s + BARE_S and self.left:
            self._next_cup()
        elif math.isinf(self.lift_s) and self.t > self.put_s + GIVE_UP_S:
            self._over(None)
        return bool(len(due))

    def cue(self, word: str, figure: float, at_s: float) -> None:
        """What the bench says, heard at `at_s`."""
        if word == "pace":
            self.told_s = min(self.told_s, self.t)
            self.pour.paced(0, figure)
        elif word == "stop":
            self.heard.setdefault("stop_s", at_s)
            self.heard.setdefault("line_s", self.line_s)
            self.heard.setdefault("said_s", figure)
            self.pour.stopped(0, 0.0)
        elif word == "ok" and not self.pour.done[0] and not math.isinf(self.told_s):
            self.pour.accepted(0)
            self._over(float(self.pour.took_s[0]))

    def _over(self, took_s: float | None) -> None:
        final = float(self.pour.left[0])
        first = final if np.isnan(self.pour.first[0]) else float(self.pour.first[0])
        self.results.append({
            "ev": "result", "pour": self.number, "first_err_g": round(first - self.target_g, 4),
            "final_err_g": round(final - self.target_g, 4), "time_s": took_s, "attempts": int(self.pour.attempts[0]),
            "late_s": round(self.late_s, 4), **self.heard,
        })  # fmt: skip
        self.number += 1
        self.left -= 1
        self.lift_s = self.t + 1.0


@click.command()
@click.option("--seed", default=1)
@click.option("--liquid", default="polyol", type=click.Choice(list(LIQUIDS)))
@click.option("--target", "target_g", default=62.4)
@click.option("--kind", default="tenth slow", type=click.Choice(list(KINDS)))
@click.option("--pours", default=5)
def main(seed: int, liquid: str, target_g: float, kind: str, pours: int) -> None:
    """Pour until so many cups are done."""
    person = Person(seed, liquid, target_g, kind, pours)
    master, slave = os.openpty()
    tty.setraw(slave)
    os.set_blocking(master, False)
    os.set_blocking(0, False)
    print(os.ttyname(slave), flush=True)
    began_s, typed = time.monotonic(), b""
    while person.left or person.t < person.lift_s + 2 * BARE_S:
        wait_s = began_s + person.t - time.monotonic()
        if select.select([0], [], [], max(0.0, wait_s))[0]:
            more = os.read(0, 4096)
            if not more:
                return
            typed += more
            *lines, typed = typed.split(b"\n")
            for line in lines:
                word, _, figure = line.decode().partition(" ")
                person.cue(word, float(figure or 0), time.clock_gettime(time.CLOCK_BOOTTIME))
            continue
        if person.step():
            os.write(master, person.pan.line())
            person.late_s = max(person.late_s, time.monotonic() - began_s - person.t)
            person.line_s = time.clock_gettime(time.CLOCK_BOOTTIME)
        while person.results:
            print(json.dumps(person.results.pop(0)), flush=True)


if __name__ == "__main__":
    sys.exit(main())
