"""The sums behind the times of today and of another mass, each with its rule in the person's own numbers."""

from __future__ import annotations

from station.casting.kinetics import Rate, Unknown
from station.casting.potlife import of_mass
from station.core.spans import about, between, span
from station.errors import Refused
from station.texts import N_, number, t, tc
from station.worksheets.form import Figure, Row, Values, Worked
from station.worksheets.plain import plain
from station.worksheets.time.times_drawing import mass_plot, temperature_plot
from station.worksheets.time.times_reading import (
    check,
    cure_kinetics,
    mass_line,
    pot_kinetics,
    rising,
    temperature_line,
)

TOO_COLD = N_(
    "Below the sheet's limit some systems never cure. Bring the closed cans to temperature, which can take a day; "
    "never speed a cure up by changing the ratio."
)


def today(values: Values) -> Worked:
    """Pot life, mixing time, demold and full cure at today's temperature. Raises Refused where nothing is predicted."""
    check(values)
    stated, reserve = values["pot-life"], values["reserve"]
    if not 0 <= reserve < stated:
        raise Refused(
            t(
                "Of a pot life of {pot_life}, {reserve} kept for pouring leave nothing to mix in.",
                pot_life=span(stated),
                reserve=span(reserve),
            ),
            t("Give a time from zero to below the pot life."),
        )
    kinetics, _ = pot_kinetics(values)
    found = kinetics.rate(values["today"])
    if isinstance(found, Unknown):
        raise Refused(
            found.why, t(TOO_COLD) if found.cold else t("Take the sheet's times with care, or ask its supplier.")
        )
    low, high = found.shortest(stated), found.longest(stated)
    counted = kinetics.limit(stated, values["today"])
    window = max(0.0, counted - reserve)
    limit = [_divided(stated, found, values), _with(counted)]
    if low > counted:
        limit.append(t("only a row of the sheet's own table makes a limit longer"))
    kept = t("{pot_life} − {reserve} kept for pouring", pot_life=between(low, high), reserve=span(reserve))
    rows = [
        Row(t("Pot life, at most"), between(low, high), "; ".join(limit)),
        Row(
            t("of it for weighing and mixing"),
            between(max(0.0, low - reserve), max(0.0, high - reserve)),
            f"{kept}; {_with(window)}",
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
            t(
                "At {today} °C pouring alone may take the whole pot life: {counted} against {reserve} kept for it. "
                "Cool the components as the sheet allows, or pour less at once.",
                today=number(values["today"]),
                counted=about(counted),
                reserve=span(reserve),
            )
        )
    waits, waited, unsaid = _waits(values)
    return Worked(
        (*rows, *waits),
        figures | waited,
        tuple(said for said in (*warnings, unsaid) if said),
        notes=(
            t("A limit is counted at its shortest, a wait at its longest: that is the safe side of each."),
            t("Large masses heat themselves and thin films do not: the sheet's times are of some 100 g."),
            t("A pot life ends well before the gel point, and demold comes well after it."),
        ),
        drawings=(temperature_plot(kinetics, stated, values["today"]),),
    )


def _waits(values: Values) -> tuple[list[Row], dict[str, Figure], str]:
    """Demold and full cure; the words say why nothing is predicted of them."""
    kinetics, said = cure_kinetics(values)
    found = kinetics.rate(values["today"])
    wanted = [("demold", t("Demold, at least")), ("full-cure", t("Full cure, at least"))]
    given = [(key, label, values[key]) for key, label in wanted if values[key] is not None]
    if isinstance(found, Unknown):
        return [], {}, t("Demold is not predicted. {why}", why=found.why) if given else ""
    rows, figures = [], dict[str, Figure]()
    for key, label, stated in given:
        low, high = found.shortest(stated), found.longest(stated)
        rows.append(Row(label, between(low, high), f"{_divided(stated, found, values)}; {_with(high)}"))
        name = key.replace("-", "_")
        figures |= {f"{name}_shortest_s": low, f"{name}_longest_s": high}
    hour = between(3600 * found.slow, 3600 * found.fast)
    rows.append(
        Row(t("One hour of cure counts as"), hour, tc("how the hour was worked out", "by {source}", source=said))
    )
    return rows, figures | {"cure_rate_slow": found.slow, "cure_rate_fast": found.fast}, ""


def _divided(stated_s: float, rate: Rate, values: Values) -> str:
    fast, slow = plain(rate.fast, 4), plain(rate.slow, 4)
    return t(
        "{stated} at {reference} °C ÷ {rate}, the rate at {today} °C",
        stated=span(stated_s),
        reference=number(values["reference"]),
        rate=fast if fast == slow else t("{fast} to {slow}", fast=fast, slow=slow),
        today=number(values["today"]),
    )


def _with(counted_s: float) -> str:
    return t("count with {time}", time=about(counted_s))


def mass(values: Values) -> Worked:
    """The pot life of another mass. Raises Refused for lines that cannot be read, ValueError for zeros."""
    table = tuple(mass_line(line) for line in values["table"])
    made = of_mass(values["mass"], values["pot-life"], values["stated-mass"], table)
    own = () if values["stated-mass"] is None else ((values["stated-mass"], values["pot-life"]),)
    points = tuple(sorted({*table, *own}))
    warnings = (() if made.sure else (made.words,), (rising(points, "g"),))
    return Worked(
        (Row(t("Pot life to count with"), about(made.seconds), made.words),),
        {"pot_life_s": made.seconds, "sure": made.sure},
        tuple(said for some in warnings for said in some if said),
        (
            t(
                "Straight lines between the sheet's points on logarithms of both; beyond the last point nothing is "
                "added."
            ),
        ),
        (t("A full cup of mixed material grows hot: pour it soon, spread it out, never leave it standing."),),
        (mass_plot(points, values["mass"], made.seconds),) if len(points) > 1 else (),
    )
