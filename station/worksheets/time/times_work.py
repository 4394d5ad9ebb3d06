"""The sums behind the worksheets of time, each with its rule in the person's own numbers."""

from __future__ import annotations

from collections.abc import Sequence

from station.casting.kinetics import NOTHING, History, Rate, Unknown, equivalent_age, nurse_saul
from station.casting.potlife import of_mass
from station.core.spans import about, between, span
from station.errors import Refused
from station.worksheets.form import Figure, Row, Table, Values, Worked
from station.worksheets.plain import plain
from station.worksheets.time.times_drawing import age_plot, mass_plot, temperature_plot
from station.worksheets.time.times_reading import (
    check,
    cure_kinetics,
    mass_line,
    pot_kinetics,
    rising,
    spell_line,
    temperature_line,
)

TOO_COLD = (
    "Below the sheet's limit some systems never cure. Bring the closed cans to temperature, which can take a day; "
    "never speed a cure up by changing the ratio."
)


def today(values: Values) -> Worked:
    """Pot life, mixing time, demold and full cure at today's temperature. Raises Refused where nothing is predicted."""
    check(values)
    stated, reserve = values["pot-life"], values["reserve"]
    if not 0 <= reserve < stated:
        raise Refused(
            f"Of a pot life of {span(stated)}, {span(reserve)} kept for pouring leave nothing to mix in.",
            "Give a time from zero to below the pot life.",
        )
    kinetics, _ = pot_kinetics(values)
    found = kinetics.rate(values["today"])
    if isinstance(found, Unknown):
        raise Refused(found.why, TOO_COLD if found.cold else "Take the sheet's times with care, or ask its supplier.")
    low, high = found.shortest(stated), found.longest(stated)
    counted = kinetics.limit(stated, values["today"])
    window = max(0.0, counted - reserve)
    more = "" if low <= counted else "; only a row of the sheet's own table makes a limit longer"
    rows = [
        Row("Pot life, at most", between(low, high), f"{_divided(stated, found, values)}; {_with(counted)}{more}"),
        Row(
            "of it for weighing and mixing",
            between(max(0.0, low - reserve), max(0.0, high - reserve)),
            f"{between(low, high)} − {span(reserve)} kept for pouring; {_with(window)}",
        ),
    ]
    figures: dict[str, Figure] = {
        "rate_slow": found.slow,
        "rate_fast": found.fast,
        "pot_life_shortest_s": low,
        "pot_life_longest_s": high,
        "pot_life_counted_s": counted,
        "window_shortest_s": max(0.0, low - reserve),
        "window_longest_s": max(0.0, high - reserve),
    }
    warnings = [rising((*map(temperature_line, values["table"]), (values["reference"], stated)), "°C")]
    if window == 0:
        warnings.append(
            f"At {values['today']:g} °C pouring alone may take the whole pot life: {about(counted)} against "
            f"{span(reserve)} kept for it. Cool the components as the sheet allows, or pour less at once."
        )
    waits, waited, unsaid = _waits(values)
    return Worked(
        (*rows, *waits),
        figures | waited,
        tuple(said for said in (*warnings, unsaid) if said),
        notes=(
            "A limit is counted at its shortest, a wait at its longest: that is the safe side of each.",
            "Large masses heat themselves and thin films do not: the sheet's times are of some 100 g.",
            "A pot life ends well before the gel point, and demold comes well after it.",
        ),
        drawings=(temperature_plot(kinetics, stated, values["today"]),),
    )


def _waits(values: Values) -> tuple[list[Row], dict[str, Figure], str]:
    """Demold and full cure; the words say why nothing is predicted of them."""
    kinetics, said = cure_kinetics(values)
    found = kinetics.rate(values["today"])
    wanted = [("demold", "Demold, at least"), ("full-cure", "Full cure, at least")]
    given = [(key, label, values[key]) for key, label in wanted if values[key] is not None]
    if isinstance(found, Unknown):
        return [], {}, f"Demold is not predicted. {found.why}" if given else ""
    rows, figures = [], dict[str, Figure]()
    for key, label, stated in given:
        low, high = found.shortest(stated), found.longest(stated)
        rows.append(Row(label, between(low, high), f"{_divided(stated, found, values)}; {_with(high)}"))
        name = key.replace("-", "_")
        figures |= {f"{name}_shortest_s": low, f"{name}_longest_s": high}
    rows.append(Row("One hour of cure counts as", between(3600 * found.slow, 3600 * found.fast), f"by {said}"))
    return rows, figures | {"cure_rate_slow": found.slow, "cure_rate_fast": found.fast}, ""


def _divided(stated_s: float, rate: Rate, values: Values) -> str:
    fast, slow = plain(rate.fast, 4), plain(rate.slow, 4)
    by = fast if fast == slow else f"{fast} to {slow}"
    return f"{span(stated_s)} at {values['reference']:g} °C ÷ {by}, the rate at {values['today']:g} °C"


def _with(counted_s: float) -> str:
    return f"count with {about(counted_s)}"


def mass(values: Values) -> Worked:
    """The pot life of another mass. Raises Refused for lines that cannot be read, ValueError for zeros."""
    table = tuple(mass_line(line) for line in values["table"])
    made = of_mass(values["mass"], values["pot-life"], values["stated-mass"], table)
    own = () if values["stated-mass"] is None else ((values["stated-mass"], values["pot-life"]),)
    points = tuple(sorted({*table, *own}))
    warnings = (() if made.sure else (made.words,), (rising(points, "g"),))
    return Worked(
        (Row("Pot life to count with", about(made.seconds), made.words),),
        {"pot_life_s": made.seconds, "sure": made.sure},
        tuple(said for some in warnings for said in some if said),
        ("Straight lines between the sheet's points on logarithms of both; beyond the last point nothing is added.",),
        ("A full cup of mixed material grows hot: pour it soon, spread it out, never leave it standing.",),
        (mass_plot(points, values["mass"], made.seconds),) if len(points) > 1 else (),
    )


def log(values: Values) -> Worked:
    """What a history of temperatures counts for. Raises Refused where nothing is predicted for a spell."""
    check(values)
    kinetics, said = cure_kinetics(values)
    history = tuple(spell_line(line) for line in values["log"])
    age = equivalent_age(kinetics, history)
    if isinstance(age, Unknown):
        raise Refused(age.why, "Leave that spell out to be on the safe side.")
    rates = [rate for _, at in history if isinstance(rate := kinetics.counting(at), Rate)]
    spells = list(zip(history, rates, strict=True))
    spent, demold, (now, last) = sum(took for took, _ in history), values["demold"], (history[-1][1], rates[-1])
    left = max(0.0, demold - age.slow)
    ready_in = left / last.slow if last.slow > 0 else None
    value = "reached" if not left else "not while it is this cold" if ready_in is None else f"in {about(ready_in)}"
    cold = [f"{about(took)} at {at:g} °C" for (took, at), rate in spells if rate == NOTHING]
    straight, told = _straight(values, history)
    return Worked(
        (
            Row(
                "Age at the reference temperature",
                between(age.slow, age.fast),
                f"{about(spent)} on the clock, by {said}",
            ),
            Row("Demold", value, f"{span(demold)} asked for, {about(age.slow)} counted; at {now:g} °C as now"),
            *straight,
        ),
        {
            "age_slow_s": age.slow,
            "age_fast_s": age.fast,
            "clock_s": spent,
            "demold_in_s": 0.0 if not left else ready_in,
            **told,
        },
        (f"Colder than the sheet's {values['coldest']:g} °C nothing counts: {', '.join(cold)}. {TOO_COLD}",)
        if cold
        else (),
        notes=("Equivalent age as in ASTM C1074: each spell counts by its Arrhenius factor.",),
        tables=(Table("The spells", ("time", "temperature", "counts at least"), _told(history, rates)),),
        drawings=(age_plot([(took, rate) for (took, _), rate in spells], demold),),
    )


def _straight(values: Values, history: History) -> tuple[list[Row], dict[str, Figure]]:
    """The age by the linear rule of ASTM C1074 beside the other, where a datum for it is given."""
    datum, reference = values["datum"], values["reference"]
    if datum is None:
        return [], {}
    if datum >= reference:
        raise Refused(
            f"A datum of {datum:g} °C is not below the sheet's {reference:g} °C.", "Below it no age is gained at all."
        )
    degree_s = nurse_saul(history, datum)
    age = degree_s / (reference - datum)
    rule = f"{plain(degree_s / 3600)} °C h above {datum:g} °C ÷ ({reference:g} − {datum:g}) °C"
    return [Row("Age by the linear rule", about(age), rule)], {"linear_age_s": age}


def _told(history: Sequence[tuple[float, float]], rates: Sequence[Rate]) -> tuple[tuple[str, ...], ...]:
    both = zip(history, rates, strict=True)
    return tuple((about(took), f"{at:g} °C", about(took * rate.slow)) for (took, at), rate in both)
