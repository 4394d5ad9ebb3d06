"""Photos of a cast: taken in and removed by paired devices, and shown to whoever may look."""

from __future__ import annotations

from typing import Final

from flask import Blueprint, Response, abort, redirect, request
from werkzeug.wrappers import Response as Answer

from station.core.photo_events import MOST_BYTES, MOST_OF_A_CAST
from station.errors import StationError
from station.phone import guard, orders, photos_sent
from station.phone.log_pages import cast_sheet
from station.phone.log_view import LogBook
from station.phone.photo_view import PhotoDesk
from station.texts import t

_FOREVER: Final = "private, max-age=31536000, immutable"
_MB: Final = 1024 * 1024


def photo_pages(desk: PhotoDesk, log: LogBook) -> Blueprint:
    """The routes under /photos, and the pictures under /log.

    Must be registered before the guard of the whole application: it makes room for the files, for paired devices only.
    """
    bp = Blueprint("photos", __name__)

    @bp.app_context_processor
    def everywhere() -> dict[str, int]:
        return {"most_photos": MOST_OF_A_CAST, "most_photo_mb": MOST_BYTES // _MB}

    @bp.before_app_request
    def make_room() -> None:
        if request.endpoint == "photos.add":
            photos_sent.make_room(request)

    def sheet(number: int, said: list[str], caption: str = "") -> str:
        return cast_sheet(log, number, photos_said=said, photo_caption=caption)

    @bp.errorhandler(413)
    def too_much(_: Exception) -> tuple[str, int] | Response:
        words = t("That is too much text. Send less.")
        if request.endpoint == "photos.add":
            words = photos_sent.too_much()
            number = request.args.get("number", "")
            # Whatever were raised here would be a fault of ours.
            if number.isascii() and number.isdigit() and len(number) < 10 and log.number(int(number)):
                return sheet(int(number), [words]), 413
        return Response(f"{words}\n", 413, mimetype="text/plain; charset=utf-8")

    @bp.post("/photos")
    def add() -> Answer | tuple[str, int]:
        number = orders.number(request.args)
        caption = request.form.get("caption", "")
        try:
            said = photos_sent.taken_in(desk, number, request, guard.device())
        except StationError as refusal:
            said = [refusal.sentence()]
        if said:
            return sheet(number, said, caption), 409
        return redirect(f"/log/{number}#photos", 303)

    @bp.post("/photos/remove")
    def remove() -> Answer | tuple[str, int]:
        number = orders.number(request.form)
        try:
            desk.remove(number, request.form.get("name", ""), guard.device())
        except StationError as refusal:
            return sheet(number, [refusal.sentence()]), 409
        return redirect(f"/log/{number}#photos", 303)

    def shown(number: int, name: str, small: bool) -> Response:
        content = desk.picture(number, name, small=small)
        if content is None:
            abort(404)
        # Never changed under its name.
        return Response(content, mimetype="image/jpeg", headers={"Cache-Control": _FOREVER})

    @bp.get("/log/<int:number>/photos/<photo>.jpg")
    def picture(number: int, photo: str) -> Response:
        return shown(number, photo, False)

    @bp.get("/log/<int:number>/photos/small/<photo>.jpg")
    def small(number: int, photo: str) -> Response:
        return shown(number, photo, True)

    return bp
