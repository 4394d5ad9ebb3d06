"""How surely contacts, cups, hands, rest and late drops are told apart, a table by scale.

    python -m tests.benchmarks.detecting [--scenes 200] [--seed 1] [--rules] [--rest]

All readings go through `bench.step`; rest is judged by the core's own functions under several rules on the same lines.
"""

from __future__ import annotations

import time
from collections.abc import Iterator

import click
import numpy as np

from tests.benchmarks.detecting import contacts, cups, drops, rests
from tests.benchmarks.detecting.filters import ALL, QUICK, SLOW, Array, Kind


def share(part: float, whole: float) -> str:
    return f"{100 * part / whole:.2f} %" if whole else "–"


def quantiles(values: Array, at: tuple[float, ...] = (0.05, 0.5, 0.95)) -> str:
    known = values[~np.isnan(values)]
    return ", ".join(f"{value:+.2f}" for value in np.quantile(known, at)) + " s" if known.size else "–"


def of_contacts(kind: Kind, scenes: int, seed: int) -> Iterator[str]:
    found = contacts.measure(kind, scenes, seed)
    known = found.error_s[~np.isnan(found.error_s)]
    yield f"contacts found {share(known.size, scenes - found.false_bumps - found.false_touches)}"
    yield f"within 0.3 s {share(int((np.abs(known) <= 0.3).sum()), known.size)}, 5, 50, 95 %: {quantiles(known)}"
    yield f"false by a bump {share(found.false_bumps, found.bumps)} of {found.bumps}"
    yield f"false by a touch {share(found.false_touches, found.touches)} of {found.touches}"


def of_cups(kind: Kind, scenes: int, seed: int) -> Iterator[str]:
    put, off = cups.placing(kind, scenes, seed), cups.lifting(kind, scenes, seed)
    empty = cups.of_an_empty_cup(kind, scenes, seed)
    yield f"cups found {share(put.found, scenes - put.false_cups)}, tare within 2 d {share(put.near, put.found)}"
    yield f"after the hand 5, 50, 95 %: {quantiles(put.waited_s)}"
    yield f"leans on the bare pan tared {share(put.false_cups, scenes)}"
    yield f"lifts found {share(off.found, scenes)}; leans on the cup: lifted {share(off.false_lifts, scenes)}"
    yield f"… contact {share(off.false_contacts, scenes)}; on an empty cup anything {share(empty, scenes)}"


def of_rest(kind: Kind, scenes: int, seed: int, rules: tuple[rests.Rule, ...]) -> Iterator[str]:
    for rule, found in rests.measure(kind, scenes, seed, rules).items():
        yield (
            f"rest, {rule.title}: wrong {100 * found.wrong:.2f} % (unhurried {100 * found.unhurried:.2f}), "
            f"more came {100 * found.coming:.2f} %, never {100 * found.never:.2f} %, {quantiles(found.waited_s)}"
        )


def of_drops(kind: Kind, scenes: int, seed: int) -> Iterator[str]:
    found = drops.measure(kind, scenes, seed)
    yield f"drops of the limit and more weighed again {share(found.seen, found.above)} of {found.above}"
    yield f"… with none, opened again {share(found.false, found.without)} of {found.without}"
    struck = drops.measure(kind, scenes, seed, struck=True)
    yield f"… just after the table was struck {share(struck.seen, struck.above)} of {struck.above}"
    hand = drops.measure(kind, scenes, seed, stirred=True)
    yield f"opened again by a stick that stirs {share(hand.false, hand.without)} of {hand.without}"


@click.command()
@click.option("--scenes", default=200, help="For each scale and question.")
@click.option("--seed", default=1)
@click.option("--rules", is_flag=True, help="Try other rules of rest, too.")
@click.option("--rest", is_flag=True, help="Rest alone, on every kind of scale, with and without waiting for drops.")
def main(scenes: int, seed: int, rules: bool, rest: bool) -> None:
    """Prints the table, a line for each figure."""
    if rest:
        for kind in ALL:
            for line in of_rest(kind, scenes, seed, rests.RULES if rules else (rests.OURS, rests.HASTY)):
                click.echo(f"{kind.title:<38} {line}")
        return
    for kind in (*QUICK, SLOW):
        began = time.perf_counter()
        for line in (
            *of_contacts(kind, scenes, seed),
            *of_cups(kind, scenes, seed),
            *of_rest(kind, scenes, seed, rests.RULES if rules else (rests.OURS,)),
            *of_drops(kind, scenes, seed),
        ):
            click.echo(f"{kind.title:<38} {line}")
        click.echo(f"{kind.title:<38} {scenes} scenes of each, {time.perf_counter() - began:.0f} s")


if __name__ == "__main__":
    main()
