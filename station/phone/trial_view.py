"""A trial as its page shows it: the list of casts, what it can find, and what it found."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from station.core.learning_standing import Trial
from station.errors import Refused
from station.insight.advice import p_words, said_p
from station.insight.asked import Question
from station.insight.compare import usual_spread
from station.insight.facts import CastFacts
from station.insight.trials.design import Design
from station.insight.trials.power import WANTED, noticed, power_of_shares
from station.insight.trials.response import (
    DECIMALS,
    UNITS,
    Measured,
    Response,
    failed,
    measured,
    response_of,
)
from station.texts import number, t

if TYPE_CHECKING:
    from station.insight.trials.evaluation import Effect, MeasuredResult, SharesResult

Cells = tuple[str, ...]
SELDOM = 0.05
"""The share of bad casts at the better setting, when it is said what a trial can find. Our own choice."""


@dataclass(frozen=True, slots=True)
class RunView:
    """One cast of the list: its run, its block, its settings in words, and its number once it was cast."""

    run: int
    block: int
    settings: Cells
    cast: int | None


@dataclass(frozen=True, slots=True)
class Result:
    """What a trial found: sentences, and a table with its head; or why there is nothing yet."""

    said: Cells = ()
    head: Cells = ()
    rows: tuple[Cells, ...] = ()
    why_not: str = ""


def design_of(trial: Trial) -> Design:
    """The design that was dealt out when the trial was begun."""
    begun = trial.begun
    return Design(begun.settings, begun.blocks, begun.seed, begun.half, begun.runs)


def runs_of(design: Design, trial: Trial | None = None) -> tuple[RunView, ...]:
    """The list of casts."""
    return tuple(
        RunView(run.run, run.block, design.words(run), None if trial is None else trial.cast_of(run.run))
        for run in design.runs
    )


def response_words(response: Response) -> str:
    """What is looked at, in words."""
    if isinstance(response, Measured):
        return t(response.value)
    return t("whether a part is good") if response.defect is None else t("{defect} or not", defect=response.words)


def power_words(design: Design, response: Response, facts: Sequence[CastFacts]) -> str:
    """What the trial can find, said before it is begun."""
    casts = len(design.runs)
    if isinstance(response, Measured):
        apart = noticed(design, _terms(design))
        if apart is None:
            return t(
                "{casts} casts without repeats: effects can be told, but not how sure they are. Take more days.",
                casts=casts,
            )
        said = t(
            "{casts} casts notice, in 4 of 5 such trials, a difference of {apart} times the spread between like casts.",
            casts=casts,
            apart=number(apart, ".1f"),
        )
        spread = usual_spread(tuple(measured(facts, response).values()))
        if spread is None:
            return said
        return (
            said
            + " "
            + t(
                "By the casts so far that is {value} {unit}.",
                value=number(apart * spread, DECIMALS[response]),
                unit=UNITS[response],
            )
        )
    each = casts // max(len(one.levels) for one in design.settings)
    worse = next((n / 20 for n in range(2, 21) if power_of_shares(SELDOM, n / 20, each) >= WANTED), None)
    if worse is None:
        return t(
            "{each} casts of each setting: not even all bad against nearly none would be noticed. Take more days.",
            each=each,
        )
    return t(
        "{each} casts of each setting notice, in 4 of 5 such trials, {worse} % bad against {seldom} %; less far apart, "
        "a difference is likely to be missed.",
        each=each,
        worse=number(100 * worse, ".0f"),
        seldom=number(100 * SELDOM, ".0f"),
    )


def _terms(design: Design) -> int:
    if not design.two_level:
        return design.combinations - 1
    factors = len(design.settings)
    return factors if design.half else factors + factors * (factors - 1) // 2


def result_of(trial: Trial, facts: Sequence[CastFacts]) -> Result:
    """What the trial found so far."""
    from station.insight.trials.evaluation import evaluated, evaluated_shares

    response = response_of(trial.begun.response)
    if response is None:
        return Result(why_not=t("That cannot be looked at."))
    design = design_of(trial)
    by_cast = {cast: run for run, cast in trial.casts}
    mine = [one for one in facts if one.number in by_cast]
    try:
        if isinstance(response, Question):
            seen = {by_cast[cast]: bad for cast, bad in failed(mine, response).items()}
            return _shares(evaluated_shares(design, seen), response)
        values = {by_cast[cast]: value for cast, value in measured(mine, response).items()}
        return _measured(evaluated(design, values), response)
    except Refused as why:
        return Result(why_not=why.sentence())


def _shares(found: SharesResult, response: Question) -> Result:
    rows, said = [], []
    for factor, shares, p in found.factors:
        for level, share in shares:
            low, high = share.interval()
            of = t("{bad} of {of}", bad=share.bad, of=share.of)
            within = t("{low} to {high} %", low=number(100 * low, ".0f"), high=number(100 * high, ".0f"))
            rows.append((factor, level, of, within))
        if p is not None:
            said.append(t("{factor}: {p}, exact within days.", factor=factor, p=p_words(p)) + " " + _weight(p))
    head = (t("Factor"), t("Setting"), response.words, t("19 times in 20"))
    return Result(tuple(said), head, tuple(rows))


def _measured(found: MeasuredResult, response: Measured) -> Result:
    unit, how = UNITS[response], DECIMALS[response]
    said = []
    if found.s is not None:
        said.append(
            t(
                "Casts alike in setting and day differ by {s} {unit} (standard deviation, {df} degrees of freedom).",
                s=number(found.s, how),
                unit=unit,
                df=found.df,
            )
        )
    else:
        said.append(t("Without repeats nobody can say how sure these effects are."))
    if found.levels is not None:
        if found.levels.p is not None:
            p = found.levels.p
            said.append(t("That all settings are alike: {p}.", p=p_words(p)) + " " + _weight(p))
        heads = (found.levels.factor, t("mean, {unit}", unit=unit).removesuffix(", "), t("19 times in 20"))
        levels = found.levels.means
        return Result(tuple(said), heads, tuple((name, number(m, how), _ends(a, b, how)) for name, m, a, b in levels))
    said += [f"{_name(one)}: {_weight(one.p)}" for one in found.effects if one.p is not None]
    head = (t("Effect"), t("second setting less first, {unit}", unit=unit), t("19 times in 20"), "p", t("p by lots"))
    rows = tuple(
        (
            _name(one),
            number(one.value, "+" + how),
            _ends(one.low, one.high, "+" + how),
            "–" if one.p is None else said_p(one.p),
            "–" if one.by_lots is None else said_p(one.by_lots),
        )
        for one in found.effects
    )
    return Result(tuple(said), head, rows)


def _name(effect: Effect) -> str:
    return " × ".join(effect.factors)


def _ends(low: float | None, high: float | None, how: str) -> str:
    return "–" if low is None or high is None else t("{low} to {high}", low=number(low, how), high=number(high, how))


def _weight(p: float) -> str:
    if p <= 0.05:
        return t("More than chance shows in 1 of 20 trials.")
    return t("This trial does not tell it from chance; that is no proof that it does not matter.")
