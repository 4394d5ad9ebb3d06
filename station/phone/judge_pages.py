"""The pages of judging: what waits, one part on one screen, and the same for programs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from flask import Blueprint, Response, abort, jsonify, redirect, render_template, request
from werkzeug.wrappers import Response as Answer

from station.board import Board
from station.core.judging_messages import (
    Judge,
    JudgingCommand,
    TakePart,
    WaiveJudging,
    WithdrawHardness,
    WithdrawPartMass,
    WithdrawShrinkage,
    WithdrawVerdict,
)
from station.errors import Refused, StationError
from station.part_records import PartRecord
from station.phone import guard, judge_orders, orders, photos_sent
from station.phone.from_pan import on_the_pan
from station.phone.judge_form import BLOCKS, Slip, block_of
from station.phone.judge_view import JudgeDesk, judge_view
from station.phone.log_view import LogBook
from station.phone.photo_view import PhotoDesk
from station.phone.words import day_text
from station.texts import t

PAGE = 30
_PHOTOS = "photos"
"""The button that keeps nothing but photos; whatever else is typed stays in the form."""


def judge_pages(desk: JudgeDesk, log: LogBook, board: Board, photos: PhotoDesk | None) -> Blueprint:
    """The routes under /judge, /api/judge and /api/part.

    With `photos` the form takes them too; must be registered before the guard then, as their own pages must.
    """
    bp = Blueprint("judging", __name__)

    @bp.app_context_processor
    def everywhere() -> dict[str, bool]:
        return {"has_judge_page": True}

    @bp.before_app_request
    def make_room() -> None:
        if photos is not None and request.endpoint == "judging.keep":
            photos_sent.make_room(request)

    @bp.errorhandler(413)
    def too_much(_: Exception) -> tuple[str, int] | Response:
        words = photos_sent.too_much() if photos is not None else t("That is too much text. Send less.")
        number = (request.view_args or {}).get("number")
        # Whatever were raised here would be a fault of ours.
        if isinstance(number, int) and log.record(number) is not None:
            return page(number, {}, [words]), 413
        return Response(f"{words}\n", 413, mimetype="text/plain; charset=utf-8")

    def page(
        number: int, typed: Mapping[str, str], said: Sequence[str] = (), slips: Mapping[str, str] | None = None
    ) -> str:
        record = log.record(number)
        if record is None:
            abort(404)
        return render_template("judge.html", one=judge_view(record, typed), typed=typed, said=said, slips=slips or {})

    @bp.get("/judge")
    def waiting() -> str:
        before = request.args.get("before", "")
        found = desk.waiting(int(before) if before.isascii() and before.isdigit() and len(before) < 10 else None, PAGE)
        rows = [(line, day_text(line.begun.wall)) for line in found.lines]
        return render_template("judging.html", rows=rows, older=found.lines[-1].number if found.older else None)

    @bp.get("/judge/<int:number>")
    def one(number: int) -> str:
        return page(number, {})

    @bp.post("/judge/<int:number>")
    def keep(number: int) -> Answer | tuple[str, int] | str:
        record = log.record(number)
        if record is None:
            abort(404)
        typed = {name: value[: orders.TEXT_LIMIT] for name, value in request.form.items() if name != "token"}
        # First, and whichever button it was: a page that comes back with a slip has forgotten which files were chosen.
        said, taken = _photos(photos, number, typed.get("save") == _PHOTOS)
        if taken:
            typed.pop("caption", None)
        try:
            if "pan" in typed:
                typed |= {"mass": on_the_pan(board)}
                return page(number, typed, said)
            if typed.get("save") == _PHOTOS:
                return page(number, typed, said), 409 if said else 200
            told = _told(typed, number, guard.device(), record.part, filled=taken or bool(said))
        except Slip as wrong:
            return page(number, typed, said, wrong.fields), 409
        except StationError as refusal:
            return page(number, typed, [*said, refusal.sentence()]), 409
        for block, command in told:
            try:
                desk.tell(command)
            except StationError as refusal:
                return page(number, typed, [*said, refusal.sentence()]), 409
            # What is kept must not be sent once more with what is put right.
            typed = _without(typed, block)
        if said:
            return page(number, typed, said), 409
        return redirect(f"/judge/{number}#known", 303)

    @bp.post("/api/part")
    def part() -> Answer:
        if not request.is_json:
            desk.tell(judge_orders.taken_from_pan(request.form, guard.device()))
            return redirect(f"/judge/{orders.number(request.form)}", 303)
        command = judge_orders.taken_from_pan(_body(), guard.device())
        desk.tell(command)
        return jsonify({"cast": command.number})

    @bp.post("/api/judge")
    def judge() -> Response:
        commands = judge_orders.judged(_body(), guard.device())
        for command in commands:
            desk.tell(command)
        return jsonify({"cast": commands[0].number})

    return bp


def _photos(desk: PhotoDesk | None, number: int, asked: bool) -> tuple[list[str], bool]:
    """Take in what photos came along: a sentence for each that was not, and whether one was.

    `asked`: that there is none is a slip.
    """
    files = photos_sent.chosen(request)
    if desk is None or not (files or asked):
        return [], False
    try:
        said = photos_sent.taken_in(desk, number, request, guard.device())
    except StationError as refusal:
        return [refusal.sentence()], False
    return said, len(said) < len(files)


def _body() -> dict[str, object]:
    body = request.get_json(silent=True)
    if not isinstance(body, dict):
        raise orders.NotUnderstood(t("The request is not a JSON object."))
    return body


def _told(
    typed: Mapping[str, str], number: int, by: str, part: PartRecord | None, *, filled: bool
) -> list[tuple[str, JudgingCommand | TakePart]]:
    """What the pressed button of the form says, each with its block; `filled` when something came besides.

    Raises Slip or Refused.
    """
    if "back" in typed:
        return [("back", _taken_back(typed["back"], number, by))]
    if "waive" in typed:
        return [("waive", WaiveJudging(number, typed.get("reason", ""), by))]
    blocks = BLOCKS if typed.get("save", "all") not in BLOCKS else (typed["save"],)
    told: list[tuple[str, JudgingCommand | TakePart]] = []
    slips: dict[str, str] = {}
    for block in blocks:
        try:
            told += [(block, command) for command in block_of(typed, block, number, by)]
        except Slip as wrong:
            slips |= wrong.fields
    if slips:
        raise Slip(slips)
    if not told and not filled:
        raise Refused(t("Nothing was filled in."), t("Fill in what you know of the part."))
    return [one for one in told if not _known(one[1], part)]


def _known(command: JudgingCommand | TakePart, part: PartRecord | None) -> bool:
    """Whether the record says just this already: a verdict stands in the form when it is sent again."""
    if part is None or not isinstance(command, Judge):
        return False
    return (command.verdict, command.defects, command.note) == (part.verdict, part.defects, part.note)


def _taken_back(what: str, number: int, by: str) -> JudgingCommand:
    kind, _, which = what.partition(" ")
    match kind:
        case "mass":
            return WithdrawPartMass(number, by)
        case "verdict":
            return WithdrawVerdict(number, by)
        case "lengths":
            return WithdrawShrinkage(number, which, by)
        case "reading" if which.isascii() and which.isdigit() and len(which) < 10:
            return WithdrawHardness(number, int(which), by)
        case _:
            raise Refused(t("There is nothing of that kind to take back."), t("Load the page again."))


_FIELDS = {"mass": ("mass",), "hardness": ("value-", "at-", "after"), "lengths": ("mold-mm", "part-mm", "along")}


def _without(typed: Mapping[str, str], block: str) -> dict[str, str]:
    gone = _FIELDS.get(block, ())
    return {name: value for name, value in typed.items() if not any(name.startswith(one) for one in gone)}
