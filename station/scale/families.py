"""The table of frame families: how scales speak, by shape. A further family is a row here and a grammar.

The format is a setting in the scale's menu, not a property of its maker, so families carry names of our own.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from station.errors import SettingsError
from station.scale.framers import (
    EchoFramer,
    HeadFramer,
    HeadRule,
    MirrorFramer,
    after_length,
    carriage_return_and_check,
    mirrored,
    until_head,
)
from station.scale.framing import Framer, MarkFramer, Marks
from station.scale.grammars import (
    bits,
    letter_first,
    line_feed,
    query_mark,
    sign_columns,
    stx,
    tagged,
    tail_columns,
    texts,
)
from station.scale.grammars.bare_number import bare_number
from station.scale.grammars.echo_mark import echo_mark
from station.scale.grammars.reply_letter import reply_letter
from station.scale.grammars.status_commas import status_commas
from station.scale.grammars.status_mode_commas import status_mode_commas
from station.scale.grammars.value_unit import value_unit
from station.scale.meaning import Meaning
from station.texts import t

Grammar = Callable[[str], Meaning | None]
Framing = Callable[[bool], Framer]
"""Makes a fresh framer; the flag says that no frame can be under way."""


def marked(
    enders: bytes = b"\r\n", starters: bytes = b"", singles: bytes = b"", alone: re.Pattern[bytes] | None = None
) -> Framing:
    """Frames that end in a mark; see `Marks`."""
    marks = Marks(enders, starters, singles, alone)
    return lambda synced: MarkFramer(marks, synced)


def headed(rule: HeadRule) -> Framing:
    """Frames that begin with a head byte; see `HeadRule`."""
    return lambda _synced: HeadFramer(rule)


LINES = marked()
"""Text lines that end with CR, LF, or both."""


@dataclass(frozen=True, slots=True)
class FamilySpec:
    """One family. `sample` shows a frame; `request` asks for a reading now, None where the scale speaks unasked.

    `eight_bit` frames are binary: bit 7 is never parity. Not `guides`: its lines are printed one at a time, at a key.
    `proof` is what some frame must show before the family is preferred to a plainer one that reads the same lines.
    `silence_ends` a frame that has no ender. `unitless` lines never carry a unit. `mute_moving`: no number while the
    load moves.
    """

    id: str
    sample: bytes
    grammar: Grammar
    framing: Framing = LINES
    request: bytes | None = None
    eight_bit: bool = False
    guides: bool = True
    proof: re.Pattern[bytes] | None = None
    silence_ends: bool = False
    unitless: bool = False
    mute_moving: bool = False

    def framer(self, synced: bool) -> Framer:
        """A fresh framer; `synced` when no frame can be under way."""
        return self.framing(synced)


_STX, _ETX, _ENQ, _ACK, _NAK = b"\x02", b"\x03", b"\x05", b"\x06", b"\x15"
_BY_STX = marked(b"\r\n" + _ETX, _STX)
_SELF_ENDED = re.compile(rb"[+-][0-9]{1,6}\.[0-9]{1,5}k?g")
_QUERY_PROOF = re.compile(rb".*\?.*|.*[A-Za-z%] +(?:[GNT]|NET|GROSS|[0-9:]{8}|(?:WET|DRY) WT|TOTAL) *")
_MIRROR = HeadRule(0x3D, mirrored(0x3D, (9, 8)))

_ROWS = (
    # Most specific first: where two grammars fit the same frames, the earlier family is the likelier.
    FamilySpec(
        "soh-block",
        b"\x01\x02S 02.500LBd\x03\x04",
        bits.soh_block,
        headed(HeadRule(0x01, after_length(bits.SOH_BLOCK_LENGTH, b"\x03\x04"), _ACK + _NAK)),
        request=_ENQ + b"\x11",
    ),
    FamilySpec("stx-xor", b"\x02+00123411E\x03", stx.stx_xor, marked(_ETX, _STX), unitless=True),
    FamilySpec(
        "stx-bits",
        b"\x02-0   1234     0\r",
        bits.stx_bits,
        headed(HeadRule(0x02, carriage_return_and_check(bits.STX_BITS_LENGTH, bits.stx_bits_check))),
        silence_ends=True,
    ),
    FamilySpec(
        "ff-bcd",
        b"\xff\x42\x34\x12\x00\x00",
        bits.ff_bcd,
        headed(HeadRule(0xFF, until_head(0xFF, (6, 5)))),
        eight_bit=True,
        silence_ends=True,
    ),
    FamilySpec(
        "enq-five",
        b"\x0212345\x03",
        stx.enq_five,
        marked(_ETX, _STX, _ACK + _NAK),
        request=_ENQ,
        unitless=True,
        mute_moving=True,
    ),
    FamilySpec("lf-status-etx", b"\n 12.345LB\r\nS00\r\x03", line_feed.lf_status_etx, marked(_ETX), b"W\r"),
    FamilySpec("lf-flags", b"\n 1G       1.250kg \r", line_feed.lf_flags, marked(b"\r", b"\n"), b"\nW\r"),
    FamilySpec("stx-weight-cr", b"\x0201.250\r", stx.stx_weight_cr, _BY_STX, b"W", mute_moving=True),
    FamilySpec("stx-polarity", b"\x02-   0.35 KG NT  \r\n", stx.stx_polarity, _BY_STX),
    FamilySpec("xon-frame", b"\x11 000123.45ct  \x13", tagged.xon_frame, marked(b"\x13", b"\x11", _ACK)),
    FamilySpec("status-mode-commas", b"ST,GS,+  1.234kg\r\n", status_mode_commas, _BY_STX),
    FamilySpec(
        "status-commas",
        b"ST,+00123.45  g\r\n",
        status_commas,
        marked(singles=_ACK, alone=_SELF_ENDED),
        silence_ends=True,
    ),
    FamilySpec("csv-flag", b"0,010.000,000.200,009.800\r\n", tagged.csv_flag, unitless=True),
    FamilySpec("dollar-fields", b"$   12.345     0.000 kg 0000\r\n", tagged.dollar_fields),
    FamilySpec("colon-type", b":W 118.70kgS \r", tagged.colon_type),
    FamilySpec("prefix-wn", b"wn001.172kg\r\n", tagged.prefix_wn),
    FamilySpec("sign-22", b"N     +   0.1234 g  \r\n", sign_columns.sign_22),
    FamilySpec("sign-26", b"    +         12.3456 g  \n\r", sign_columns.sign_26),
    FamilySpec("reply-letter", b"S S     123.45 g\r\n", reply_letter, request=b"SI\r\n"),
    FamilySpec("echo-mark", b"SI ?       18.5 kg \r\n", echo_mark, request=b"SI\r\n"),
    FamilySpec(
        "echo-label",
        b"SGWGross   0.010 lb\r\n",
        tagged.echo_label,
        lambda synced: EchoFramer(tagged.is_echo, synced),
        b"SGW\r",
    ),
    FamilySpec("digits-tail", b"+00123.4 G S\r\n", tail_columns.digits_tail),
    FamilySpec("hash-print", b" +123.45  GS\r\n", tagged.hash_print, request=b"#"),
    FamilySpec("status-letter-6", b"A  1500\r", tagged.status_letter_6, unitless=True),
    FamilySpec("sign-16", b"+   1255.7 g  \r\n", sign_columns.sign_16),
    FamilySpec("value-unit-s", b"     0.00 g S\r\n", tail_columns.value_unit_s, proof=re.compile(rb".*S")),
    FamilySpec("letter-first", b"S  123.45g\r\n", letter_first.letter_first, proof=re.compile(rb"[SUD].*")),
    FamilySpec("query-mark", b"       12.73 g    ?\r\n", query_mark.query_mark, request=b"IP\r\n", proof=_QUERY_PROOF),
    FamilySpec("blank-18", b"         0.2 g  \r\n", tail_columns.blank_18),
    FamilySpec("short-14", b"    12.3 g  \r\n", tail_columns.short_14),
    FamilySpec(
        "mirror-equals",
        b"=00.10000=00.10000",
        bits.mirror_equals,
        lambda synced: MirrorFramer(_MIRROR, synced),
        proof=re.compile(rb"=.*"),
        silence_ends=True,
        unitless=True,
    ),
    FamilySpec("value-unit", b"    123.45 g\r\n", value_unit),
    FamilySpec("bare-number", b"+00123.45\r\n", bare_number, unitless=True),
    FamilySpec("diy-board", b"Weight: 0.123 kg\r\n", texts.diy_board),
    FamilySpec("ticket", b"Net: 123.456 g\r\n", texts.ticket, marked(singles=b"\x04"), guides=False),
)

FAMILIES: Mapping[str, FamilySpec] = MappingProxyType({spec.id: spec for spec in _ROWS})
"""Every family the station can read, by its name in the settings; the most specific first."""

LEFT_OVER: Mapping[str, FamilySpec] = MappingProxyType(
    {
        "partial": FamilySpec("partial", b"3.45  g\r\n", texts.partial, guides=False),
        "not-a-scale": FamilySpec("not-a-scale", b"3.01pH 25.5C ATC\r\n", texts.not_a_scale, guides=False),
    }
)
"""What recordings hold besides frames of a scale: pieces of lines, and other instruments. Never a load."""


def family_named(name: str) -> FamilySpec:
    """The family called `name`. Raises SettingsError that lists the known ones."""
    try:
        return FAMILIES[name]
    except KeyError:
        near = difflib.get_close_matches(name, FAMILIES, 1)
        known = t("Known families: {known}.", known=", ".join(FAMILIES))
        words = [t("[scale] family: {family} is not known.", family=repr(name))]
        words += [t("Did you mean {near}?", near=repr(near[0]))] if near else []
        raise SettingsError([" ".join((*words, known))]) from None
