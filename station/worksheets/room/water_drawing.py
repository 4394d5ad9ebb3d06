"""A mold full of water on the pan, and the density of water with the person's own temperature on it."""

from __future__ import annotations

from dataclasses import replace

from station.drawing.marks import Drawing, Ink, Label, Line, Mark, Path
from station.drawing.plot import Axis, Curve, Point, plot
from station.metrology.water import COLDEST_C, WARMEST_C, Bath, buoyancy_factor, water_density
from station.texts import number, t
from station.worksheets.plain import plain
from station.worksheets.room.scale_drawing import scale

WIDTH, HEIGHT = 420.0, 222.0
_TOLD = 232.0
_MOLD = ((30.0, 44.0), (214.0, 44.0), (214.0, 150.0), (30.0, 150.0))
_CAVITY = ((52.0, 44.0), (192.0, 44.0), (172.0, 128.0), (72.0, 128.0))
_LOWEST, _HIGHEST = 0.986, 1.002


def section(dry_g: float, full_g: float, cm3: float, slack_cm3: float) -> Drawing:
    """A section through the mold on the scale, each mass at its place. A sketch, not to scale."""
    net = f"{plain(full_g - dry_g, 7)} g"
    full = f"{number(full_g)} g"
    mold = f"{number(dry_g)} g" if dry_g else t("0 g (tared)")
    volume = f"{plain(cm3, 5)} cm³"
    marks: list[Mark] = [
        Path(_MOLD, Ink.SHADE, closed=True),
        Path(_CAVITY, Ink.FILL, closed=True),
        Path(_MOLD, Ink.OUTLINE, closed=True),
        Line(16, 44, 228, 44, Ink.DASHED),
        *scale(122, 150, 172, full),
        Label(16, 32, t("level with the brim, ± {slack} cm³", slack=plain(slack_cm3, 3)), size=13),
        *_led(150, 76, t("water")),
        Label(_TOLD, 94, net, size=18, bold=True),
        Label(_TOLD, 112, f"= {volume}", size=14),
        *_led(205, 138, t("mold, dry: {mold}", mold=mold)),
        Label(_TOLD, 195, t("mold and water"), size=13),
    ]
    spoken = t(
        "A section through the mold on the scale, full of water up to the brim. The scale reads {full}, "
        "the mold dry {mold}; the water is {net}, {volume}.",
        full=full,
        mold=mold,
        net=net,
        volume=volume,
    )
    return Drawing(t("The mold on the scale, in section (a sketch)"), spoken, WIDTH, HEIGHT, tuple(marks))


def _led(x: float, y: float, text: str) -> tuple[Mark, ...]:
    """A text at the right with a thin line to what it names."""
    return (Line(x, y - 4, _TOLD - 4, y - 4, Ink.FAINT), Label(_TOLD, y, text, size=13))


def density_plot(bath: Bath) -> Drawing:
    """Water's density by temperature, and below it what 1 cm³ reads on a scale in air; the gap to 1 g/cm³ marked."""
    own = water_density(bath.celsius)
    reads = own / buoyancy_factor(own)
    steps = [COLDEST_C + at for at in range(int(WARMEST_C - COLDEST_C) + 1)]
    dense = tuple((at, water_density(at)) for at in steps)
    in_air = tuple((at, d / buoyancy_factor(d)) for at, d in dense)
    told = {
        "celsius": number(bath.celsius),
        "density": number(own, ".5f"),
        "reads": number(reads, ".5f"),
        "off": number(100 * (1 - reads), ".2f"),
    }
    drawn = plot(
        t("Water's density by temperature"),
        t(
            "Water of {celsius} °C has {density} g/cm³; weighed in air, 1 cm³ of it reads {reads} g. Counting 1 g as "
            "1 ml: {off} % too little.",
            **told,
        ),
        Axis(t("water, °C"), COLDEST_C, WARMEST_C),
        Axis("g/cm³", _LOWEST, _HIGHEST),
        [
            Curve(dense),
            Curve(in_air, ink=Ink.DASHED),
            Curve(((COLDEST_C, 1.0), (WARMEST_C, 1.0)), t("1 g taken as 1 ml"), Ink.OUTLINE),
            Curve(((bath.celsius, reads), (bath.celsius, 1.0)), ink=Ink.MARK),
        ],
        points=[Point(bath.celsius, own)],
    )
    # Below the curves the plot is empty at any temperature; the lines keep clear of the grid at 0.99.
    words = (
        Label(66, 160, t("full line: density"), size=12),
        Label(66, 176, t("dashed: what 1 cm³ reads in air"), size=12),
        Label(66, 198, t("dot: {density} g/cm³ at {celsius} °C", **told), size=13, bold=True),
        Label(66, 213, t("1 cm³ of it reads {reads} g in air", **told), size=12),
        Label(66, 227, t("counting 1 g as 1 ml: {off} % too little", **told), size=12),
    )
    return replace(drawn, marks=(*drawn.marks, *words))
