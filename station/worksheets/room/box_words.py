"""The rules of a mold box in the person's own numbers: sizes, volumes, mass, boards."""

from __future__ import annotations

from station.casting.batch import grown_for_loss
from station.casting.board_fit import Laid
from station.casting.boards import Board, inches, round_box
from station.casting.moldbox import Plan
from station.texts import N_, number, t, tn
from station.worksheets.form import Row, Table
from station.worksheets.plain import plain

_MASS = {
    (False, False): N_("{silicone} cm³ = {to_mix} cm³ × {density} g/cm³ = {grams} g"),
    (True, False): N_("{silicone} cm³ + {margin} % margin = {to_mix} cm³ × {density} g/cm³ = {grams} g"),
    (False, True): N_("{silicone} cm³ = {to_mix} cm³ × {density} g/cm³ = {grams} g, ÷ (1 − {loss}/100) for the cup"),
    (True, True): N_(
        "{silicone} cm³ + {margin} % margin = {to_mix} cm³ × {density} g/cm³ = {grams} g, ÷ (1 − {loss}/100) for the "
        "cup"
    ),
}
"""How the mass of the mix comes about: with a margin or without, with a loss in the cup or without."""


def box_rows(made: Plan) -> tuple[Row, ...]:
    """Silicone, box, level and what is wetted."""
    return (
        Row(t("Silicone in the box"), f"{plain(made.silicone, 5)} cm³", _silicone_rule(made)),
        Row(t("Box inside"), f"{_mm(made.inner)} mm", _box_rule(made)),
        Row(
            t("Fill to"),
            t("{mm} mm above the floor", mm=plain(made.inner[2], 4)),
            t(
                "{mm} mm over the positive; about {inches}",
                mm=plain(made.walls.above, 4),
                inches=inches(made.inner[2]),
            ),
        ),
        Row(
            t("Wetted inside of the box"),
            f"{plain(made.wetted, 4)} cm²",
            t("floor, and walls up to the level, to seal and to brush with release"),
        ),
    )


def mass_rule(made: Plan, density: float, loss_percent: float) -> str:
    """How the mass of the mix comes about."""
    return t(
        _MASS[bool(made.overfill_percent), bool(loss_percent)],
        silicone=plain(made.silicone, 5),
        margin=plain(made.overfill_percent),
        to_mix=plain(made.to_mix, 5),
        density=number(density),
        grams=plain(made.to_mix * density, 5),
        loss=plain(loss_percent),
    )


def board_table(boards: tuple[Board, ...], thickness: float, bought: tuple[Laid, ...]) -> Table:
    """The cutting list; with the number of the board to buy that each piece comes out of, where that is asked."""
    head = ("", t("pieces"), "mm", t("inches, nearest 1/16"))
    rows = [
        (b.name, str(b.count), f"{plain(b.long, 5)} × {plain(b.wide, 5)}", f"{inches(b.long)} × {inches(b.wide)}")
        for b in boards
    ]
    title = t("Boards, {thickness} mm thick", thickness=plain(thickness))
    if not bought:
        return Table(title, head, tuple(rows))
    out_of = [", ".join(str(piece.board) for piece in bought if piece.name == b.name) for b in boards]
    return Table(title, (*head, t("from board")), tuple((*row, cell) for row, cell in zip(rows, out_of, strict=True)))


def round_box_note(made: Plan, density: float, loss_percent: float) -> str:
    """What a piece of pipe around the same positive would take."""
    pipe = round_box(made.extents, made.walls.side, made.walls.below, made.walls.above)
    cm3 = (pipe.volume - (made.positive or 0.0) - made.spout_volume) * (1 + made.overfill_percent / 100)
    grams = grown_for_loss(cm3 * density, loss_percent)
    said = (
        N_(
            "A round box, such as a piece of pipe, needs {mm} mm inside (the positive's diagonal and the wall on both "
            "ends) and {grams} g of mix: less than the square one, and it has no corners to leak."
        )
        if pipe.volume < made.box
        else N_(
            "A round box, such as a piece of pipe, needs {mm} mm inside (the positive's diagonal and the wall on both "
            "ends) and {grams} g of mix: more than the square one, and it has no corners to leak."
        )
    )
    return t(said, mm=plain(pipe.diameter, 4), grams=plain(grams, 4))


def _mm(sizes: tuple[float, float, float]) -> str:
    return " × ".join(plain(size, 5) for size in sizes)


def _box_rule(made: Plan) -> str:
    walls = made.walls
    return t(
        "{positive} mm + 2 × {side} mm around, + {below} mm below + {above} mm above",
        positive=_mm(made.extents),
        side=plain(walls.side),
        below=plain(walls.below),
        above=plain(walls.above),
    )


def _silicone_rule(made: Plan) -> str:
    terms = [t("{cm3} cm³ box", cm3=plain(made.box, 5))]
    if made.positive is not None:
        terms.append(t("{cm3} cm³ positive", cm3=plain(made.positive, 5)))
    if made.spouts.count:
        cm3 = plain(made.spout_volume, 3)
        terms.append(tn("{cm3} cm³ in {n} spouts", "{cm3} cm³ in {n} spouts", made.spouts.count, cm3=cm3))
    return " − ".join(terms)
