"""Events as canonical text: what a journal row holds of an event, and back again, without loss.

The text is JSON with sorted keys, no spaces and only ASCII, so that equal events give equal bytes. A mass
is whole milligrams, an instant ISO 8601 in UTC, an enum its value, a step carries its class name under "is".
"""

from __future__ import annotations

import json
import logging
from typing import Any, Final, get_args

from cattrs.gen import make_dict_unstructure_fn, override
from cattrs.preconf.json import JsonConverter, make_converter
from cattrs.strategies import configure_tagged_union

from station.core.events import Event
from station.core.mass import Mass
from station.core.material import Mold
from station.core.moment import Moment
from station.core.plan import CastPlan
from station.core.standing import Standing
from station.core.steps import Step
from station.errors import LedgerFault
from station.texts import t

log = logging.getLogger("tarebell.record")

STEP_TAG: Final = "is"


def _converter() -> JsonConverter:
    converter = make_converter(forbid_extra_keys=True, detailed_validation=False)
    converter.register_unstructure_hook(Mass, lambda mass: mass.mg)
    converter.register_structure_hook(Mass, lambda mg, _: Mass(int(mg)))
    # 3 and 3.0 are the same length of time and must be the same text.
    converter.register_unstructure_hook(float, float)
    # Said only where it is so: a moment is written as it was before there were hands that set the time, a mold as
    # it was before its release agent was looked after, a plan as before the air's humidity was kept.
    by_hand = make_dict_unstructure_fn(Moment, converter, by_hand=override(omit_if_default=True))
    converter.register_unstructure_hook(Moment, by_hand)
    often = make_dict_unstructure_fn(Mold, converter, release_every=override(omit_if_default=True))
    converter.register_unstructure_hook(Mold, often)
    configure_tagged_union(Step, converter, tag_name=STEP_TAG)
    dry = make_dict_unstructure_fn(CastPlan, converter, humidity_percent=override(omit_if_default=True))
    converter.register_unstructure_hook(CastPlan, dry)  # after the steps that it holds have their tags
    return converter


_CONVERTER: Final = _converter()
KINDS: Final[dict[str, type[Event]]] = {kind.__name__: kind for kind in get_args(Event)}


def encode(event: Event) -> tuple[str, str]:
    """Kind (the class name) and canonical text of an event. Raises ValueError for a number that is not finite."""
    content = _CONVERTER.unstructure(event)
    return type(event).__name__, json.dumps(content, sort_keys=True, separators=(",", ":"), allow_nan=False)


def decode(kind: str, payload: str) -> Event:
    """The event that `encode` was given. Raises LedgerFault for an unknown kind or text that does not fit it."""
    cls = KINDS.get(kind)
    if cls is None:
        raise LedgerFault(
            t("The record holds an event of a kind that this version does not know: {kind}.", kind=repr(kind)),
            t("Install the version of the station that wrote it, or a newer one."),
        )
    try:
        event: Event = _CONVERTER.structure(json.loads(payload), cls)
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError, OverflowError) as why:
        words = t("The text of a {kind} event in the record cannot be read ({why}).", kind=kind, why=_short(why))
        raise LedgerFault(words) from why
    except Exception as why:  # cattrs has error types of its own that share no narrower base
        if not type(why).__module__.startswith("cattrs"):
            raise
        words = t("The text of a {kind} event in the record does not fit it ({why}).", kind=kind, why=_short(why))
        raise LedgerFault(words) from why
    return event


def standing_from(content: Any) -> Standing | None:
    """The durable state from what `plain` made of it; None when it does not fit."""
    try:
        return _CONVERTER.structure(content, Standing)
    except Exception as why:  # cattrs has error types of its own; whatever it is, the journal can be folded instead
        log.warning("checkpoint not used why=%s", _short(why))
        return None


def plain(record: object) -> Any:
    """Any frozen record as dictionaries, lists, text and numbers; masses in whole milligrams."""
    return _CONVERTER.unstructure(record)


def _short(why: BaseException) -> str:
    return " ".join(str(why).split())[:120] or type(why).__name__
