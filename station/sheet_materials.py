"""The parts of a [[material]] table that a cast can do without: chemistry, temperatures, foam, kits."""

from __future__ import annotations

from station.casting.chemistry import Chemistry
from station.core.mass import Mass
from station.core.material import FoamFacts, Kit, KitPart, PotLifeOf, TimesAt
from station.core.reviewing.foam import packing_out_of_order
from station.errors import SettingsError
from station.quantities import celsius, density, seconds, some_mass
from station.reading import Reader, one_of, positive, text, within
from station.texts import t, tc

CHEMISTRY = one_of(*(kind.value for kind in Chemistry))
_DAY_S = 86400.0
_POT_LIFE = within(seconds, 5, 2 * _DAY_S, "s")


def chemistry(reader: Reader) -> Chemistry:
    """chemistry = "urethane foam"; other when it is not said."""
    return Chemistry(reader.take("chemistry", CHEMISTRY, Chemistry.OTHER.value))


def activation(value: object) -> float:
    """An activation energy such as "50 kJ/mol"."""
    if isinstance(value, str) and value.replace(" ", "").endswith("kJ/mol"):
        try:
            found = float(value.replace("kJ/mol", "").strip().replace(",", "."))
        except ValueError:
            found = -1.0
        if 5 <= found <= 200:
            return found
    raise SettingsError([t('must be an energy from 5 to 200 kJ/mol, such as "50 kJ/mol"')])


def times_at(reader: Reader) -> tuple[TimesAt, ...]:
    """[[at]] tables: what the sheet says for other temperatures, the coldest first."""
    found = []
    for row in reader.tables("at"):
        found.append(
            TimesAt(
                row.need("temperature", within(celsius, -10, 120, "°C"), 23.0),
                row.take("pot_life", _POT_LIFE, None),
                row.take("demold", within(seconds, 1, 30 * _DAY_S, "s"), None),
            )
        )
        if not (row.has("pot_life") or row.has("demold")):
            row.complain(t("says neither pot_life nor demold"), "pot_life")
        row.done()
    return tuple(sorted(found, key=lambda one: one.celsius))


def pot_life_of(reader: Reader) -> tuple[PotLifeOf, ...]:
    """[[of]] tables: the pot life of other mixed masses, the smallest first."""
    found = []
    for row in reader.tables("of"):
        mass: Mass = row.need("mass", some_mass, Mass.grams(100))
        found.append(PotLifeOf(mass.g, row.need("pot_life", _POT_LIFE, 600.0)))
        row.done()
    return tuple(sorted(found, key=lambda one: one.mass_g))


def foam(reader: Reader, *, to_review: bool) -> FoamFacts | None:
    """The table [foam]; None when the sheet has none. `to_review` as in `sheet_tables.material`."""
    if not reader.has("foam"):
        return None
    table = reader.table("foam")
    facts = FoamFacts(
        table.take("free_rise", within(density, 0.01, 1, "g/cm³"), None),
        table.take("expansion", within(positive, 1, 100, tc("so much a foam grows", "times")), None),
        table.take("packing_low", within(positive, 0.5, 10, ""), None),
        table.take("packing_high", within(positive, 0.5, 10, ""), None),
    )
    if facts.free_rise_density is None and facts.expansion is None and not table.spoiled:
        table.complain(t("needs free_rise or expansion"), "free_rise")
    if not to_review:
        for said in packing_out_of_order(facts):
            table.complain(said, "packing_low")
    table.done()
    return facts


def kits(reader: Reader, names: tuple[str, ...]) -> tuple[Kit, ...]:
    """[[kit]] tables: sizes in which it is bought, what each holds, and its price."""
    found = []
    for row in reader.tables("kit"):
        parts = []
        for part in row.tables("part"):
            component = part.need("component", one_of(*names) if names else text, names[0] if names else "")
            parts.append(KitPart(component, part.need("mass", some_mass, Mass.grams(1))))
            part.done()
        if not parts:
            row.complain(t("needs at least one [[part]]: which component, and how much of it"), "part")
        found.append(Kit(row.need("title", text, "?"), tuple(parts), row.need("price", price, 0)))
        row.done()
    return tuple(found)


def price(value: object) -> int:
    """A price such as "32.50", in hundredths."""
    if isinstance(value, str):
        whole, _, part = value.strip().replace(",", ".").partition(".")
        if whole.isdigit() and (part == "" or (part.isdigit() and len(part) <= 2)) and len(whole) <= 7:
            return int(whole) * 100 + int(part.ljust(2, "0") or 0)
        raise SettingsError([t("must be a price such as 32.50")])
    raise SettingsError([t('must be a price in quotes, such as "32.50"')])
