"""The frame families that a simulated scale can speak, with the serial setting that each usually has.

Settings and ways of delivery are those that manuals give as usual; where none does, 9600 bit/s 8N1.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum

from station.simulated.voices import columns, commas, control, digits, letters
from station.simulated.voices.load import Load, Say


class Delivery(Enum):
    """When a scale sends."""

    STREAM = "stream"
    REQUEST = "request"
    ON_STABLE = "on-stable"


@dataclass(frozen=True, slots=True)
class Layout:
    """`wide`: characters for the number, the sign left out unless `sign_inside`, the point unless `pointless`."""

    say: Say
    wide: int
    delivery: Delivery = Delivery.STREAM
    baud: int = 9600
    characters: str = "8N1"
    units: tuple[str, ...] = ("g", "kg", "lb", "oz")
    sign_inside: bool = False
    pointless: bool = False
    implied_decimals: int | None = None
    greeting: bytes = b""

    def room(self, load: Load) -> int:
        """Characters that the size of this load may take."""
        return self.wide - (self.sign_inside and load.minus)


_ASKED, _KG = Delivery.REQUEST, ("kg", "lb")

LAYOUTS: Mapping[str, Layout] = {
    "status-commas": Layout(commas.status_commas, 8, baud=2400, characters="7E1"),
    "status-mode-commas": Layout(commas.status_mode_commas, 8),
    "reply-letter": Layout(letters.reply_letter, 10, _ASKED, sign_inside=True, greeting=b'I4 A "0000000001"\r\n'),
    "echo-mark": Layout(letters.echo_mark_print, 9, _ASKED),
    "sign-16": Layout(columns.sign_16, 8, _ASKED, 1200, "7O1"),
    "sign-22": Layout(columns.sign_22, 8, baud=9600, characters="8O1"),
    "sign-26": Layout(columns.sign_26, 15, baud=1200, characters="8O1"),
    "digits-tail": Layout(columns.digits_tail, 7, baud=1200, characters="8N2"),
    "letter-first": Layout(letters.letter_first, 8, _ASKED, 1200),
    "value-unit-s": Layout(columns.value_unit_s, 8),
    "short-14": Layout(columns.short_14, 7, _ASKED),
    "blank-18": Layout(columns.blank_18, 10, _ASKED),
    "query-mark": Layout(columns.query_mark, 12, sign_inside=True),
    "lf-status-etx": Layout(control.lf_status_etx, 7, _ASKED, 9600, "7E1", sign_inside=True),
    "lf-flags": Layout(control.lf_flags, 10, _ASKED, sign_inside=True),
    "stx-weight-cr": Layout(control.stx_weight_cr, 6, _ASKED, 9600, "7E1", sign_inside=True),
    "enq-five": Layout(control.enq_five, 5, _ASKED, pointless=True, implied_decimals=1, units=("g",)),
    "soh-block": Layout(control.soh_block, 6, _ASKED, units=_KG),
    "stx-bits": Layout(digits.stx_bits, 6, pointless=True),
    "stx-xor": Layout(digits.stx_xor, 6, pointless=True),
    "mirror-equals": Layout(digits.mirror_equals, 7),
    "stx-polarity": Layout(control.stx_polarity, 7, units=_KG),
    "prefix-wn": Layout(commas.prefix_wn, 7, units=("kg",), sign_inside=True),
    "status-letter-6": Layout(
        letters.status_letter_6, 6, sign_inside=True, pointless=True, implied_decimals=1, units=("g",)
    ),
    "colon-type": Layout(letters.colon_type, 6, units=("kg", "lb", "g")),
    "xon-frame": Layout(control.xon_frame, 9, _ASKED),
    "ff-bcd": Layout(digits.ff_bcd, 6, units=_KG, pointless=True),
    "csv-flag": Layout(commas.csv_flag, 7, sign_inside=True),
    "hash-print": Layout(letters.hash_print, 7, _ASKED, units=("g",)),
    "dollar-fields": Layout(commas.dollar_fields, 8, baud=4800, characters="7E2", units=("kg", "lb", "g")),
    "echo-label": Layout(letters.echo_label, 8, _ASKED, sign_inside=True),
    "value-unit": Layout(commas.value_unit, 10, sign_inside=True),
    "bare-number": Layout(commas.bare_number, 8),
    "diy-board": Layout(
        commas.diy_board, 12, baud=115200, sign_inside=True, greeting=b"Load cell sketch\r\nPress T to tare\r\n"
    ),
    "ticket": Layout(commas.ticket, 12, _ASKED, sign_inside=True),
}

TYPICAL: Mapping[str, tuple[int, str]] = {name: (one.baud, one.characters) for name, one in LAYOUTS.items()}
"""The usual serial setting of each family: bits per second and character format."""
