"""The fields of a mold: what it takes, and what to think of before it is filled."""

from __future__ import annotations

from station.sheet_form.form import Entry, Group
from station.texts import N_

MOLD: tuple[Group, ...] = (
    Group(
        "",
        N_("The mold"),
        (
            Entry("key", N_("Short name"), N_("Small letters and hyphens, such as paddle-grip."), needed=True),
            Entry("title", N_("Name"), N_("As it is written on the mold."), needed=True),
            Entry(
                "cavity",
                N_("Volume of the cavity"),
                N_("Such as 197.5 cm3 or 0.2 l. Fill it with water on the scale: 1 g is about 1 cm3."),
            ),
            Entry(
                "shot",
                N_("Usual amount of mix"),
                N_("Such as 220 g. It counts before the volume when nothing is typed."),
            ),
            Entry(
                "packing", N_("Packing factor"), N_("For foam: molded by free-rise density, such as 1.25."), number=True
            ),
            Entry(
                "shrinkage",
                N_("Parts come out smaller by"),
                N_("Along their length, measured on a part, such as 0.4 %."),
            ),
            Entry("closes", N_("A lid is clamped on"), choices=("yes", "no"), yes=True, needed=True),
            Entry(
                "ready",
                N_("To be at hand"),
                N_("One thing a line: they are asked for before the first cup."),
                lines=True,
            ),
            Entry(
                "release_every",
                N_("Release agent every"),
                N_("Shots between two applications, such as 5. Left empty: none is asked for."),
                number=True,
            ),
            Entry("cautions", N_("Cautions"), N_("One a line: they are shown with every cast in it."), lines=True),
            Entry("price", N_("Price of the mold"), N_("Such as 58.00, borne by the casts that it lasts for.")),
            Entry("lasts", N_("It lasts for"), N_("Casts, such as 40."), number=True),
        ),
    ),
)
