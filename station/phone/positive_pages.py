"""The page of a positive: its mesh is sent in, measured and shown; the unit is asked for without sending it again."""

from __future__ import annotations

import secrets
import threading
from collections import OrderedDict
from dataclasses import dataclass
from typing import BinaryIO, Protocol, cast
from urllib.parse import urlencode

from flask import Blueprint, Response, redirect, render_template, request
from werkzeug.wrappers import Response as Answer

from station.casting import positive_said
from station.casting.positive import MOST_BYTES, NAMES, Positive, Survey, Unit, growth, mirrored, read_as, scaled
from station.casting.positive_scale import factors, per_cent
from station.errors import Refused, StationError
from station.phone import guard
from station.texts import t

KEPT = 6
"""Results that can be gone back to; a picture has 2 MB at most."""
FORM_BYTES = 64 * 1024
"""What a form has around the file."""


class Surveying(Protocol):
    """Measures a mesh, given as a file and its name. Takes seconds; raises StationError with a sentence."""

    def __call__(self, file: BinaryIO, name: str, /) -> Survey:
        """The positive and its picture."""


@dataclass(frozen=True, slots=True)
class Result:
    """A survey, and the name its file had."""

    survey: Survey
    name: str


class Recent:
    """The last few results, by a key that nobody guesses. They are gone when the station starts again."""

    def __init__(self, most: int = KEPT) -> None:
        self._kept: OrderedDict[str, Result] = OrderedDict()
        self._most = most
        self._lock = threading.Lock()

    def keep(self, result: Result) -> str:
        """Keeps it, and lets the oldest go; gives its key."""
        key = secrets.token_urlsafe(9)
        with self._lock:
            self._kept[key] = result
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)
        return key

    def get(self, key: str) -> Result:
        """The result of this key. Raises Refused when it is not kept any more."""
        with self._lock:
            if key in self._kept:
                return self._kept[key]
        raise Refused(t("This result is not kept any more."), t("Send the mesh again."))


def positive_pages(survey: Surveying) -> Blueprint:
    """The routes under /positive.

    Must be registered before the guard of the whole application: it makes room for the file, for paired devices only.
    """
    bp = Blueprint("positive", __name__, url_prefix="/positive")
    recent = Recent()
    busy = threading.Lock()

    @bp.app_context_processor
    def everywhere() -> dict[str, bool]:
        return {"has_positive_page": True}

    @bp.before_app_request
    def make_room() -> None:
        if request.endpoint == "positive.take":
            guard.needs_pairing()
            request.max_content_length = MOST_BYTES + FORM_BYTES

    @bp.errorhandler(413)
    def too_large(_: Exception) -> tuple[str, int]:
        return page(
            t(
                "The file is too large; at most {most_bytes} MB are taken. Save it coarser.",
                most_bytes=MOST_BYTES // 1024**2,
            )
        ), 413

    def page(said: str = "") -> str:
        return render_template("positive.html", said=said, part=None, most_mb=MOST_BYTES // 1024**2)

    @bp.get("")
    def empty() -> str:
        return page()

    @bp.post("")
    def take() -> Answer | tuple[str, int]:
        try:
            sent = request.files.get("mesh")
            if sent is None or not sent.filename:
                raise Refused(t("No file was chosen."), t("Choose the mesh of a positive."))
            # One at a time: a second one would take the memory that the bench needs.
            if not busy.acquire(blocking=False):
                raise Refused(t("Another mesh is being measured."), t("Wait a minute, then send it again."))
            try:
                found = survey(cast("BinaryIO", sent.stream), sent.filename)
            finally:
                busy.release()
        except StationError as refusal:
            return page(refusal.sentence()), 409
        name = "".join(c for c in sent.filename if c.isprintable())[:80]
        return redirect(f"/positive/{recent.keep(Result(found, name))}", 303)

    @bp.get("/<key>")
    def show(key: str) -> str | tuple[str, int]:
        result = recent.get(key)
        said = ""
        try:
            part = _as_asked(result.survey.positive)
        except StationError as refusal:
            part, said = result.survey.positive, refusal.sentence()
        body = render_template(
            "positive.html",
            said=said,
            part=part,
            words=positive_said,
            key=key,
            name=result.name,
            units={unit.value: t(name) for unit, name in NAMES.items()},
            typed=request.args,
            box=_box(part),
            most_mb=MOST_BYTES // 1024**2,
        )
        return (body, 409) if said else body

    @bp.get("/<key>.png")
    def picture(key: str) -> Response:
        return Response(recent.get(key).survey.picture, mimetype="image/png")

    return bp


def _as_asked(part: Positive) -> Positive:
    """The positive in the unit, scale and hand that the address asks for. Raises Refused."""
    # The form sends the unit in force, then the button that was pressed.
    unit = (request.args.getlist("unit") or [""])[-1]
    if unit:
        if unit not in {known.value for known in Unit}:
            raise Refused(t("{unit} is no unit of length here.", unit=repr(unit[:20])), t("Press mm, cm, in or m."))
        part = read_as(part, Unit(unit))
    if shrinkage := request.args.get("shrinkage", "").strip():
        part = scaled(part, (growth(per_cent(shrinkage)),) * 3)
    if scale := request.args.get("scale", "").strip():
        part = scaled(part, factors(scale))
    return mirrored(part) if request.args.get("mirror") == "yes" else part


def _box(part: Positive) -> str:
    """The address of the mold box worksheet with this positive filled in; empty when there is no volume."""
    if part.volume_cm3 is None:
        return ""
    sides = zip(("length", "width", "height"), part.extents_mm, strict=True)
    filled = {name: f"{side:.2f} mm" for name, side in sides} | {"volume": f"{part.volume_cm3:.2f} cm3"}
    return f"/work/box?{urlencode(filled)}"
