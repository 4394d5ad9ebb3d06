"""The API's own description, in the open form for such (OpenAPI 3.1): what may be asked, and what comes back."""

from __future__ import annotations

from station.core.clocks import ClockKind
from station.insight.charted import Charted
from station.phone.api_judging import PART, TRIMMED
from station.phone.api_shapes import CAST_NUMBER, SCHEMAS, Shape, one_of, ref
from station.phone.guard import TOKEN_HEADER
from station.phone.insight_shapes import INSIGHT
from station.phone.insight_typed import LASTS
from station.phone.learning_shapes import ADVICE, ADVICE_ASKED, DIFFERENCES, DIFFERENCES_ASKED
from station.phone.orders import TEXT_LIMIT

_ABOUT = """What the station's own pages use. Masses are whole milligrams, times are seconds; every value comes in \
the words that a person reads, too.

To act, a program does as a page does: it is paired (the code goes to /pair as a form), keeps the session's cookie, \
whose name ends in the port, sends the station's own address as Origin, and as X-Tarebell-Token the token that stands \
in the head of every page. A station whose settings say `look = "paired"` answers nobody else."""

_NUMBER: Shape = {"anyOf": [CAST_NUMBER, {"type": "string", "pattern": "^0*[1-9][0-9]{0,8}$", "maxLength": 9}]}
_SENTENCE: Shape = {"type": "string", "minLength": 1, "maxLength": TEXT_LIMIT}
_KEY: Shape = {"type": "string", "minLength": 1, "maxLength": 120}
_LOTS: Shape = {"type": "object", "additionalProperties": {"type": "string"}}
_CLOCK = one_of(*(kind.name for kind in ClockKind))

_REFUSALS = {
    "400": "What was sent cannot be read.",
    "403": "Not paired, not from this station's own page, or a station that only paired devices may look at.",
    "404": "Nothing of that name is known.",
    "409": "It makes no sense now. Nothing has changed.",
    "413": "More than sixteen kilobytes.",
    "503": "The bench does not answer, or has just started.",
}


def _answer(words: str, schema: Shape, kind: str = "application/json") -> Shape:
    return {"description": words, "content": {kind: {"schema": schema}}}


def _refusals(*numbers: str) -> dict[str, Shape]:
    return {number: _answer(_REFUSALS[number], ref("refused")) for number in numbers}


def _looked(name: str, words: str, answers: dict[str, Shape], *asked: Shape) -> Shape:
    told: Shape = {"operationId": name, "summary": words, "responses": answers | _refusals("403")}
    return {"get": told | ({"parameters": list(asked)} if asked else {})}


def _query(name: str, words: str, schema: Shape, *, needed: bool) -> Shape:
    return {"name": name, "in": "query", "description": words, "required": needed, "schema": schema}


def _compared() -> Shape:
    """What the newest poured casts say about each other."""
    key: Shape = {"type": "string", "maxLength": 100}
    day: Shape = {"type": "string", "format": "date"}
    figure: Shape = {"type": "string", "pattern": "^-?[0-9]{1,9}([.][0-9]{1,9})?$"}
    asked: dict[str, tuple[str, Shape]] = {
        "figure": ("What is compared; left out: ratio.", one_of(*(charted.name.lower() for charted in Charted))),
        "mold": ("Key of a mold; left out: any.", key),
        "material": ("Key of a material; left out: any.", key),
        "last": ("So many of the newest casts; left out: 60.", one_of(*(str(count) for count in LASTS))),
        "since": ("First day at the bench.", day),
        "until": ("Last day.", day),
        "low": ("The lowest figure that is allowed.", figure),
        "high": ("The highest.", figure),
    }
    answers = {"200": _answer("What they say.", ref("insight")), **_refusals("400", "503")}
    fields = [_query(name, words, schema, needed=False) for name, (words, schema) in asked.items()]
    return _looked("insight", "What the newest poured casts say about each other.", answers, *fields)


def _learned(name: str, words: str, asked: dict[str, tuple[str, Shape]], too_often: Shape) -> Shape:
    answers = {"200": _answer("By the newest casts.", ref(name)), "429": too_often, **_refusals("409", "503")}
    return _looked(name, words, answers, *(_query(key, *of, needed=False) for key, of in asked.items()))


def _asked(name: str, words: str, needed: dict[str, Shape], any_of: tuple[str, ...] = (), **left_out: Shape) -> Shape:
    body: Shape = {"type": "object", "properties": {**needed, **left_out}, "required": list(needed)}
    if any_of:
        body["anyOf"] = [{"required": [field]} for field in any_of]
    return {
        "post": {
            "operationId": name,
            "summary": words,
            "security": [{"device": [], "token": []}],
            "requestBody": {"required": True, "content": {"application/json": {"schema": body}}},
            "responses": {
                "200": _answer("Done and written down; the number of the cast that it concerns.", ref("cast")),
            }
            | _refusals("400", "403", "409", "413", "503"),
        }
    }


def description(version: str) -> Shape:
    """The whole description for this version of the station."""
    too_often = _answer("Opened too often from this address.", ref("refused"))
    too_often["headers"] = {"Retry-After": {"schema": {"type": "integer", "minimum": 1}}}
    stream = {
        "200": _answer(
            "Each event's data is a state; of an event called beat it is how many seconds old the last state is.",
            {"type": "string"},
            "text/event-stream",
        ),
        "429": too_often,
        **_refusals("503"),
    }
    return {
        "openapi": "3.1.0",
        "info": {"title": "Tarebell", "version": version, "description": _ABOUT},
        "paths": {
            "/api/state": _looked(
                "state", "What goes on at the bench.", {"200": _answer("Now.", ref("state_now")), **_refusals("503")}
            ),
            "/api/stream": _looked("stream", "The state now, and each newer one, as server-sent events.", stream),
            "/api/benches": _looked(
                "benches",
                "What goes on at all benches of a shared log; only where there is one.",
                {"200": _answer("As last heard.", ref("benches")), **_refusals("503")},
            ),
            "/api/insight": _compared(),
            "/api/openapi.json": _looked(
                "description", "This description.", {"200": _answer("OpenAPI 3.1.", {"type": "object"})}
            ),
            "/api/press": _asked(
                "press", "Press as the pedal does.", {"press": one_of("short", "long", "SHORT", "LONG")}
            ),
            "/api/acknowledge": _asked("acknowledge", "Silence one alarm.", {"number": _NUMBER, "clock": _CLOCK}),
            "/api/abort": _asked("abort", "Give a cast up.", {"number": _NUMBER, "reason": _SENTENCE}),
            "/api/demold": _asked("demold", "The part is out of the mold.", {"number": _NUMBER}),
            "/api/note": _asked("note", "A remark for a cast's record.", {"number": _NUMBER, "text": _SENTENCE}),
            "/api/part": _asked(
                "part", "What lies at rest on the pan is the part of this cast.", {"number": _NUMBER}, trimmed=TRIMMED
            ),
            "/api/judge": _asked(
                "judge",
                "Say what is known of a part that is out of its mold; what is said again takes the place of what was.",
                {"number": CAST_NUMBER},
                tuple(PART),
                trimmed=TRIMMED,
                **PART,
            ),
            "/api/take": _asked("take", "Begin a plan that waits for the bench.", {"ticket": _NUMBER}),
            "/api/molds": _looked(
                "molds",
                "Shots, release agent and retirement of every mold.",
                {"200": _answer("As the record has it.", ref("molds"))},
            ),
            "/api/insight/differences": _learned(
                "differences", "What went together with bad casts, each look by itself.", DIFFERENCES_ASKED, too_often
            ),
            "/api/insight/advice": _learned(
                "advice", "What to change next, and what plans use already.", ADVICE_ASKED, too_often
            ),
            "/api/lot": _looked(
                "lot",
                "All of one lot: its counts, and which casts contain it.",
                {
                    "200": _answer("As the record has it.", ref("lot")),
                    "429": too_often,
                    **_refusals("400", "404", "503"),
                },
                _query(
                    "lot", "Its number, letter by letter.", {"type": "string", "pattern": "^[!-~]{1,60}$"}, needed=True
                ),
                _query("before", "Only casts numbered below.", CAST_NUMBER, needed=False),
            ),
            "/api/release": _asked("release", "Release agent was put on a mold.", {"mold": _KEY}),
            "/api/retire": _asked("retire", "Cast in a mold no more.", {"mold": _KEY, "reason": _SENTENCE}),
            "/api/return": _asked("return", "Take a retired mold into use again.", {"mold": _KEY}),
            "/api/begin": _asked(
                "begin",
                "Work out a batch and begin its cast.",
                {"material": _KEY, "mold": _KEY},
                amount={
                    "type": ["string", "null"],
                    "description": 'Such as "220 g"; left out: the mold\'s usual shot.',
                },
                lots={**_LOTS, "description": "Component to lot number."},
            ),
        },
        "components": {
            "schemas": SCHEMAS | {"insight": INSIGHT, "differences": DIFFERENCES, "advice": ADVICE},
            "securitySchemes": {
                "device": {"type": "apiKey", "in": "cookie", "name": "tarebell-8060"},
                "token": {"type": "apiKey", "in": "header", "name": TOKEN_HEADER},
            },
        },
    }
