"""AtHand as text for the shared log and back: JSON of ASCII alone, an endless time as null, instants in UTC."""

from __future__ import annotations

import json
import math
from datetime import UTC, datetime
from typing import Any, Final

from cattrs import Converter

from station.core.at_hand import AtHand
from station.errors import Refused
from station.texts import t


class NotReadable(Refused):
    """What another bench tells is in words that this version does not know."""


def _converter() -> Converter:
    converter = Converter(detailed_validation=False)
    converter.register_unstructure_hook(float, lambda value: value if math.isfinite(value) else None)
    converter.register_structure_hook(float, lambda value, _: math.inf if value is None else float(value))
    converter.register_unstructure_hook(datetime, lambda wall: wall.isoformat())
    converter.register_structure_hook(datetime, lambda text, _: _utc(text))
    return converter


def _utc(text: str) -> datetime:
    return datetime.fromisoformat(text).astimezone(UTC)


_CONVERTER: Final = _converter()


def told(value: AtHand) -> str:
    """The text of a value."""
    plain: Any = _CONVERTER.unstructure(value)
    return json.dumps(plain, sort_keys=True, separators=(",", ":"), allow_nan=False)


def heard(text: str) -> AtHand:
    """The value of a text. Raises NotReadable, a sentence, when this version cannot read it."""
    try:
        return _CONVERTER.structure(json.loads(text), AtHand)
    except Exception as why:
        # cattrs has error types of its own that share no narrower base.
        if isinstance(why, ValueError | TypeError | KeyError | AttributeError | RecursionError) or type(
            why
        ).__module__.startswith("cattrs"):
            raise NotReadable(
                t("What it tells cannot be read by this station."), t("Bring all benches to the same version.")
            ) from None
        raise
