"""The fields of a mold: what it takes, and what to think of before it is filled."""

from __future__ import annotations

from station.sheet_form.form import Entry, Group

MOLD: tuple[Group, ...] = (
    Group(
        "",
        "The mold",
        (
            Entry("key", "Short name", "Small letters and hyphens, such as paddle-grip.", needed=True),
            Entry("title", "Name", "As it is written on the mold.", needed=True),
            Entry(
                "cavity",
                "Volume of the cavity",
                "Such as 197.5 cm3 or 0.2 l. Fill it with water on the scale: 1 g is about 1 cm3.",
            ),
            Entry("shot", "Usual amount of mix", "Such as 220 g. It counts before the volume when nothing is typed."),
            Entry("packing", "Packing factor", "For foam: molded by free-rise density, such as 1.25.", number=True),
            Entry("shrinkage", "Parts come out smaller by", "Along their length, measured on a part, such as 0.4 %."),
            Entry("closes", "A lid is clamped on", choices=("yes", "no"), yes=True, needed=True),
            Entry("ready", "To be at hand", "One thing a line: they are asked for before the first cup.", lines=True),
            Entry("cautions", "Cautions", "One a line: they are shown with every cast in it.", lines=True),
            Entry("price", "Price of the mold", "Such as 58.00, borne by the casts that it lasts for."),
            Entry("lasts", "It lasts for", "Casts, such as 40.", number=True),
        ),
    ),
)
