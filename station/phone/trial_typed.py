"""A trial as it is typed into the form: names, settings parted by semicolons, days, what is looked at."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from station.errors import WrongField
from station.insight.trials.design import MOST_FACTORS, Design, Setting, designed
from station.insight.trials.response import Response, response_of
from station.texts import t

LONGEST = 100
SEEDS = 1_000_000
"""Seeds lie below: short enough to be written on the list of casts."""


@dataclass(frozen=True, slots=True)
class TypedTrial:
    """What stands in the form. `settings`: name and levels of each factor, "" when unused; `seed`: "" for a new one."""

    title: str
    settings: tuple[tuple[str, str], ...]
    blocks: str
    half: bool
    response: str
    seed: str

    @property
    def asked(self) -> bool:
        """Whether anything was typed that makes a trial."""
        return any(name or levels for name, levels in self.settings)


@dataclass(frozen=True, slots=True)
class Understood:
    """A trial that can be begun."""

    title: str
    design: Design
    response: Response


def typed_trial(args: Mapping[str, str]) -> TypedTrial:
    """What the address or the form says."""
    put = {name: " ".join(value.split())[:LONGEST] for name, value in args.items()}
    numbers = range(1, MOST_FACTORS + 1)
    return TypedTrial(
        put.get("title", ""),
        tuple((put.get(f"name{n}", ""), put.get(f"levels{n}", "")) for n in numbers),
        put.get("blocks", "4"),
        put.get("half", "") == "yes",
        put.get("response", "NOT_GOOD"),
        put.get("seed", ""),
    )


def understood(typed: TypedTrial, new_seed: int) -> Understood:
    """The trial that was typed, dealt out. Raises WrongField."""
    settings = tuple(
        Setting(name, tuple(level.strip() for level in levels.split(";") if level.strip()))
        for name, levels in typed.settings
        if name or levels
    )
    response = response_of(typed.response)
    if response is None:
        raise WrongField("response", t("That cannot be looked at."), t("Choose one of the list."))
    blocks = _whole(typed.blocks, "blocks", t("how many days"), 99)
    seed = new_seed if not typed.seed else _whole(typed.seed, "seed", t("the seed"), SEEDS - 1)
    return Understood(typed.title, designed(settings, blocks, seed, half=typed.half), response)


def _whole(typed: str, field: str, what: str, most: int) -> int:
    if not (typed.isascii() and typed.isdigit() and len(typed) < 8 and int(typed) <= most):
        raise WrongField(
            field,
            t("{typed} cannot be read: {what}.", typed=repr(typed[:20]), what=what),
            t("Type a whole number up to {most}.", most=most),
        )
    return int(typed)
