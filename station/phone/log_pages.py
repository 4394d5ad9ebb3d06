"""The pages of the log: a list that is searched and turned by addresses, one cast as a sheet, and as JSON."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from urllib.parse import urlencode

from flask import Blueprint, Response, abort, render_template, request

from station.phone.cast_view import cast_view
from station.phone.log_view import DEFECTS, ENDS, NO_VERDICT, VERDICTS, LogBook, Typed, asked_of, typed_of
from station.phone.words import day_text
from station.records import Asked, CastPage, Known
from station.texts import t

PAGE = 30


def log_pages(log: LogBook) -> Blueprint:
    """The routes under /log."""
    bp = Blueprint("log", __name__, url_prefix="/log")

    @bp.get("")
    def casts() -> str | tuple[str, int]:
        typed = typed_of(request.args)
        asked, slips = asked_of(typed)
        before, after = _number(request.args.get("before", "")), _number(request.args.get("after", ""))
        page = log.page(asked, before=before, after=after, limit=PAGE)
        exact = _number(typed.search)
        molds, materials = log.molds(), log.materials()
        body = render_template(
            "log.html",
            typed=typed,
            slips=slips,
            ends=ENDS,
            verdicts=VERDICTS,
            no_verdict=NO_VERDICT,
            defects=DEFECTS,
            molds=molds,
            materials=materials,
            rows=[(line, day_text(line.begun.wall)) for line in page.lines],
            exact=exact if exact is not None and log.number(exact) else None,
            turns=_turns(typed, page),
            less=_less(typed, molds, materials),
            whole=asked == Asked(),
        )
        return (body, 400) if slips else body

    @bp.get("/<int:number>")
    def cast(number: int) -> str:
        return cast_sheet(log, number)

    @bp.get("/<int:number>.json")
    def plain(number: int) -> Response:
        record = log.record(number)
        if record is None:
            abort(404)
        content = json.dumps(log.plain(record), indent=1, ensure_ascii=False) + "\n"
        name = f"cast-{number}.json"
        return Response(
            content,
            mimetype="application/json",
            headers={"Content-Disposition": f'attachment; filename="{name}"'},
        )

    return bp


def cast_sheet(log: LogBook, number: int, **said: object) -> str:
    """The page of one cast; `said` is what its template is told besides. Ends with 404 when there is no such cast."""
    record = log.record(number)
    if record is None:
        abort(404)
    return render_template("cast.html", cast=cast_view(record, log), text=log.text(record), **said)


def _less(typed: Typed, molds: Sequence[Known], materials: Sequence[Known]) -> list[tuple[str, str]]:
    """What the list was narrowed by, in words, and the address without it."""
    titles = {
        "search": t("the words “{search}”", search=typed.search),
        "end": f"“{t(ENDS[typed.end].value)}”" if typed.end in ENDS else t("how far it came"),
        "mold": t("the mold {molds}", molds=_title(molds, typed.mold)),
        "material": t("the material {materials}", materials=_title(materials, typed.material)),
        "since": t("from {since} on", since=typed.since),
        "until": t("up to {until}", until=typed.until),
        "verdict": f"“{t(VERDICTS[typed.verdict].value)}”" if typed.verdict in VERDICTS else t("the verdict"),
        "defect": f"“{t(DEFECTS[typed.defect].value)}”" if typed.defect in DEFECTS else t("the defect"),
    }
    return [(titles[name], _address(typed.without(name))) for name in typed.fields()]


def _title(known: Sequence[Known], key: str) -> str:
    return next((one.title for one in known if one.key == key), key)


def _turns(typed: Typed, page: CastPage) -> dict[str, str]:
    """Addresses of the newer and the older page, where there are such."""
    if not page.lines:
        return {}
    found = {}
    if page.newer:
        found["newer"] = _address({**typed.fields(), "after": str(page.lines[0].number)})
    if page.older:
        found["older"] = _address({**typed.fields(), "before": str(page.lines[-1].number)})
    return found


def _address(fields: Mapping[str, str]) -> str:
    return f"/log?{urlencode(fields)}"


def _number(typed: str) -> int | None:
    return int(typed) if typed.isascii() and typed.isdigit() and 0 < len(typed) < 10 else None
