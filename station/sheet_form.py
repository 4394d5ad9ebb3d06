"""The form of a material sheet: what to copy from a data sheet, where it is printed, and how it becomes TOML."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import tomlkit
from tomlkit.items import Table

from station.casting.chemistry import Chemistry
from station.core.material import Basis


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing to fill in. `number` and `yes` say that it is written without quotes; `lines`: a list of texts."""

    key: str
    label: str
    hint: str = ""
    choices: tuple[str, ...] = ()
    number: bool = False
    yes: bool = False
    lines: bool = False
    needed: bool = False


@dataclass(frozen=True, slots=True)
class Group:
    """Entries of one table. `table` is its place in the sheet ("" for the sheet itself), `times` how often."""

    table: str
    title: str
    entries: tuple[Entry, ...]
    times: int = 1
    hint: str = ""


MATERIAL: tuple[Group, ...] = (
    Group(
        "",
        "The material",
        (
            Entry(
                "key",
                "Short name",
                "Small letters and hyphens, such as soft-foam-96. Files and links use it.",
                needed=True,
            ),
            Entry("title", "Name", "As you will look for it.", needed=True),
            Entry(
                "chemistry",
                "Chemistry",
                "On the first page of the data sheet.",
                tuple(c.value for c in Chemistry),
                needed=True,
            ),
            Entry(
                "basis",
                "The mix ratio counts",
                "Beside the ratio. If it says neither, ask.",
                tuple(b.value for b in Basis),
                needed=True,
            ),
            Entry(
                "tolerance",
                "Allowed error",
                "± of each component, such as 2 %; urethanes 1 to 2 %, silicones 2 to 5 % "
                "(common practice, no source).",
                needed=True,
            ),
            Entry("density", "Density of the mix", "Before any rise; “specific gravity” 1.08 is 1.08 g/cm3."),
            Entry("hardness", "Hardness", "As printed, such as 25 Shore A."),
            Entry("shrinkage", "Shrinkage", "Linear, such as 0.1 %; in 0.001 in/in it is 0.1 %."),
            Entry(
                "pour_into",
                "Cup that receives",
                "When each component has its own cup: the one the others go into.",
                needed=True,
            ),
            Entry("cling", "Clings to a poured-out cup", "Until the station has learned, such as 1.5 %."),
            Entry("ready", "To be at hand before mixing", "One a line.", lines=True),
            Entry("cautions", "Cautions", "One a line, from the safety data sheet.", lines=True),
        ),
    ),
    Group(
        "component",
        "Components",
        (
            Entry("name", "Name", "A, B, as on the can."),
            Entry("parts", "Parts", "Of the ratio, such as 100.", number=True),
            Entry("density", "Density", "With its unit; needed when the ratio counts by volume."),
            Entry("other_parts", "Parts of the other basis", "Where the sheet gives the ratio both ways.", number=True),
            Entry(
                "isocyanate",
                "It is the isocyanate",
                "The side that moisture ruins; on its safety data sheet.",
                yes=True,
            ),
            Entry("nco", "NCO content", "Such as 16.8 %, on its certificate."),
            Entry("oh", "OH number", "mg KOH/g, on its certificate.", number=True),
            Entry("keeps_opened", "Keeps once opened", "Such as 90 d."),
        ),
        times=4,
        hint="Two at least; leave the others empty.",
    ),
    Group(
        "additive",
        "Additives",
        (
            Entry("name", "Name", "Pigment, thinner, accelerator, filler."),
            Entry("percent", "Amount", "Such as 3 %."),
            Entry("of", "Counted from", "The name of a component, or total for all components together."),
            Entry("into", "Weighed into the cup of", "The name of a component."),
            Entry("premix", "Stir it in for", "Such as 20 s."),
            Entry("tolerance", "Allowed error", "Such as 10 %."),
        ),
        times=2,
    ),
    Group(
        "times",
        "Times",
        (
            Entry("reference", "Temperature they hold for", "Mostly 23 °C, in small print.", needed=True),
            Entry("pot_life", "Pot life", "“Work time”, such as 50 s or 15 min.", needed=True),
            Entry("pot_life_for", "It holds for", "Mostly 100 g, in small print."),
            Entry("mix", "Mix at least", "Such as 2 min.", needed=True),
            Entry(
                "pour_reserve",
                "Keep for pouring",
                "How long you need to pour and close: yours, not the sheet's.",
                needed=True,
            ),
            Entry("demold", "Demold after", "Such as 4 h.", needed=True),
            Entry("full_cure", "Full cure after", "Such as 24 h."),
            Entry("coldest", "Coldest it may be used", "Such as 15 °C."),
            Entry("warmest", "Warmest it may be used", "Such as 35 °C."),
            Entry("activation", "Activation energy", "Rarely given, such as 50 kJ/mol."),
        ),
    ),
    Group(
        "times.at",
        "Times at other temperatures",
        (Entry("temperature", "Temperature"), Entry("pot_life", "Pot life"), Entry("demold", "Demold")),
        times=3,
        hint="Where the sheet has a table.",
    ),
    Group(
        "times.of",
        "Pot life of other masses",
        (Entry("mass", "Mixed mass"), Entry("pot_life", "Pot life")),
        times=3,
        hint="Where the sheet has a table.",
    ),
    Group(
        "foam",
        "Foam",
        (
            Entry("free_rise", "Free-rise density", "Such as 96 kg/m3; a “6 lb” foam has 6 lb/ft3."),
            Entry("expansion", "Expansion", "Times its liquid's volume, when no density is given.", number=True),
            Entry("packing_low", "Lowest packing factor", "Molded ÷ free-rise density.", number=True),
            Entry("packing_high", "Highest packing factor", number=True),
        ),
    ),
    Group(
        "kit",
        "Kits",
        (
            Entry("title", "Title", "Such as small pair."),
            Entry("price", "Price", "Such as 32.50."),
            Entry("part", "What it holds", "One component a line: A 1 kg.", lines=True),
        ),
        times=3,
    ),
)
LOT: tuple[Group, ...] = (
    Group(
        "",
        "A container",
        (
            Entry("material", "Material", "Its short name.", needed=True),
            Entry("component", "Component", "A, B, pigment …", needed=True),
            Entry("number", "Lot number", "On the container.", needed=True),
            Entry("left", "What is in it", "Such as 1.2 kg; weigh it on the page Stock later on."),
            Entry("empty", "Empty container", "Such as 240 g."),
            Entry("opened", "Opened on", "Such as 2026-03-14."),
            Entry("best_before", "Best before", "Such as 2027-01-31."),
        ),
    ),
)


def field(group: Group, entry: Entry, number: int = 1) -> str:
    """The name of a field in a form: "component 2 parts"."""
    return " ".join(filter(None, (group.table, str(number) if group.times > 1 else "", entry.key)))


def written(groups: tuple[Group, ...], typed: Mapping[str, str]) -> Table:
    """What was typed as a TOML table, as typed. Empty fields, and repeated tables without any, are left out."""
    sheet = tomlkit.table()
    inner: dict[str, Table] = {}
    for group in groups:
        rows = [_row(group, typed, number) for number in range(1, group.times + 1)]
        rows = [row for row in rows if len(row)]
        if group.table == "":
            for key, value in rows[0].items() if rows else ():
                sheet.add(key, value)
        elif rows and group.times == 1:
            inner[group.table] = rows[0]
            sheet.add(group.table, rows[0])
        elif rows:
            many = tomlkit.aot()
            for row in rows:
                many.append(row)
            owner, _, name = group.table.rpartition(".")
            inner.get(owner, sheet).add(name, many)
    return sheet


def _row(group: Group, typed: Mapping[str, str], number: int) -> Table:
    row = tomlkit.table()
    for entry in group.entries:
        text = typed.get(field(group, entry, number), "").strip()
        if not text:
            continue
        if entry.yes:
            row.add(entry.key, text == "yes")
        elif entry.number:
            row.add(entry.key, _number(text))
        elif entry.lines:
            lines = [line.strip() for line in text.splitlines() if line.strip()]
            row.add(entry.key, _parts(lines) if entry.key == "part" else lines)
        else:
            row.add(entry.key, " ".join(text.split()))
    return row


def _number(text: str) -> float | int | str:
    """A number, or the text as it is: then reading it back tells what is wrong with it."""
    try:
        found = float(text.replace(",", "."))
    except ValueError:
        return text
    return int(found) if found.is_integer() and abs(found) < 1e9 else found


def _parts(lines: list[str]) -> list[dict[str, str]]:
    cut = [line.partition(" ") for line in lines]
    return [{"component": name, "mass": mass.strip()} for name, _, mass in cut]
