"""The age of a cure by a history of temperatures, and when the part may come out."""

from __future__ import annotations

from collections.abc import Sequence

from station.casting.kinetics import NOTHING, History, Rate, Unknown, equivalent_age, nurse_saul
from station.core.spans import about, between, span
from station.errors import Refused
from station.texts import number, t
from station.worksheets.form import Figure, Row, Table, Values, Worked
from station.worksheets.plain import plain
from station.worksheets.time.times_drawing import age_plot
from station.worksheets.time.times_reading import check, cure_kinetics, spell_line
from station.worksheets.time.times_work import TOO_COLD


def log(values: Values) -> Worked:
    """What a history of temperatures counts for. Raises Refused where nothing is predicted for a spell."""
    check(values)
    kinetics, said = cure_kinetics(values)
    history = tuple(spell_line(line) for line in values["log"])
    age = equivalent_age(kinetics, history)
    if isinstance(age, Unknown):
        raise Refused(age.why, t("Leave that spell out to be on the safe side."))
    rates = [rate for _, at in history if isinstance(rate := kinetics.counting(at), Rate)]
    spells = list(zip(history, rates, strict=True))
    spent, demold, (now, last) = sum(took for took, _ in history), values["demold"], (history[-1][1], rates[-1])
    left = max(0.0, demold - age.slow)
    ready_in = left / last.slow if last.slow > 0 else None
    cold = [
        t("{time} at {celsius} °C", time=about(took), celsius=number(at))
        for (took, at), rate in spells
        if rate == NOTHING
    ]
    straight, told = _straight(values, history)
    return Worked(
        (
            Row(
                t("Age at the reference temperature"),
                between(age.slow, age.fast),
                t("{spent} on the clock, by {source}", spent=about(spent), source=said),
            ),
            Row(
                t("Demold"),
                _when(left, ready_in),
                t(
                    "{demold} asked for, {age} counted; at {now} °C as now",
                    demold=span(demold),
                    age=about(age.slow),
                    now=number(now),
                ),
            ),
            *straight,
        ),
        {
            "age_slow_s": age.slow,
            "age_fast_s": age.fast,
            "clock_s": spent,
            "demold_in_s": 0.0 if not left else ready_in,
            **told,
        },
        (_too_cold(values["coldest"], cold),) if cold else (),
        notes=(t("Equivalent age as in ASTM C1074: each spell counts by its Arrhenius factor."),),
        tables=(Table(t("The spells"), (t("time"), t("temperature"), t("counts at least")), _told(history, rates)),),
        drawings=(age_plot([(took, rate) for (took, _), rate in spells], demold),),
    )


def _when(left_s: float, ready_in_s: float | None) -> str:
    """When the part may come out, if it stays as it is now."""
    if not left_s:
        return t("reached")
    return t("not while it is this cold") if ready_in_s is None else t("in {time}", time=about(ready_in_s))


def _too_cold(coldest: float, spells: Sequence[str]) -> str:
    said = t(
        "Colder than the sheet's {coldest} °C nothing counts: {spells}.",
        coldest=number(coldest),
        spells=", ".join(spells),
    )
    return f"{said} {t(TOO_COLD)}"


def _straight(values: Values, history: History) -> tuple[list[Row], dict[str, Figure]]:
    """The age by the linear rule of ASTM C1074 beside the other, where a datum for it is given."""
    datum, reference = values["datum"], values["reference"]
    if datum is None:
        return [], {}
    if datum >= reference:
        raise Refused(
            t(
                "A datum of {datum} °C is not below the sheet's {reference} °C.",
                datum=number(datum),
                reference=number(reference),
            ),
            t("Below it no age is gained at all."),
        )
    degree_s = nurse_saul(history, datum)
    age = degree_s / (reference - datum)
    rule = t(
        "{degree_hours} °C h above {datum} °C ÷ ({reference} − {datum}) °C",
        degree_hours=plain(degree_s / 3600),
        datum=number(datum),
        reference=number(reference),
    )
    return [Row(t("Age by the linear rule"), about(age), rule)], {"linear_age_s": age}


def _told(history: Sequence[tuple[float, float]], rates: Sequence[Rate]) -> tuple[tuple[str, ...], ...]:
    both = zip(history, rates, strict=True)
    return tuple((about(took), f"{number(at)} °C", about(took * rate.slow)) for (took, at), rate in both)
