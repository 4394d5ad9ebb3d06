"""Lines on the wire and what they mean, family by family.

Where a line comes from is said by its last word:
MANUAL   printed as an example in a scale's manual
DRIVER   in the tests or comments of publicly readable scale drivers
LOG      in a public field log or issue thread
LAYOUT   constructed from a layout documented in a manual
AWKWARD  constructed to be awkward
"""

from __future__ import annotations

from decimal import Decimal
from enum import Enum
from typing import NamedTuple

from station.scale.meaning import Kind, Mode


class Source(Enum):
    """Where a line was published, or what it was built from."""

    MANUAL = "line printed in a manual"
    DRIVER = "line in a public driver's tests or comments"
    LOG = "line in a public field log"
    LAYOUT = "constructed from a documented layout"
    AWKWARD = "constructed: awkward case"


class Line(NamedTuple):
    """One line as it stands on the wire, and its meaning."""

    family: str
    raw: bytes
    kind: Kind
    value: str | None
    unit: str | None
    grams: str | None
    stable: bool | None
    mode: Mode | None
    source: Source

    @property
    def exact_grams(self) -> Decimal | None:
        """Grams as an exact number."""
        return None if self.grams is None else Decimal(self.grams)


_WEIGHT, _OTHER = Kind.WEIGHT, Kind.OTHER
_OVER, _UNDER, _ERROR = Kind.OVERLOAD, Kind.UNDERLOAD, Kind.ERROR
_NET, _GROSS, _TARE = Mode.NET, Mode.GROSS, Mode.TARE
_MANUAL, _DRIVER, _LOG, _LAYOUT, _AWKWARD = Source

# fmt: off
_ROWS = {
    "status-commas": (
        (b"US,+00123.45  g\r\n", _WEIGHT, "123.45", "g", "123.45", False, None, _LAYOUT),
        (b"ST,+001234.5  g\r\n", _WEIGHT, "1234.5", "g", "1234.5", True, None, _MANUAL),
        (b"QT,+00012345 PC\r\n", _OTHER, "12345", "pcs", None, True, None, _MANUAL),
        (b"ST,+000123.4  %\r\n", _OTHER, "123.4", "pct", None, True, None, _MANUAL),
        (b"OL,+999999.9  g\r\n", _OVER, None, "g", None, None, None, _MANUAL),
        (b"OL,-99999999 PC\r\n", _UNDER, None, "pcs", None, None, None, _MANUAL),
        (b"OL,+9999999E+19\r\n", _OVER, None, None, None, None, None, _DRIVER),
        (b"OL,-9999999E+19\r\n", _UNDER, None, None, None, None, None, _LAYOUT),
        (b"ST,+011.5495  g\r\n", _WEIGHT, "11.5495", "g", "11.5495", True, None, _LOG),
        (b"ST,+011.5483  g\r\n", _WEIGHT, "11.5483", "g", "11.5483", True, None, _LOG),
        (b"ST,-000.0003  g\r\n", _WEIGHT, "-0.0003", "g", "-0.0003", True, None, _LOG),
        (b"ST,-000.0000  g\r\n", _WEIGHT, "-0.0000", "g", "0", True, None, _AWKWARD),
        (b"PT,+000.0000  g\r\n", _WEIGHT, "0.0000", "g", "0", None, _TARE, _LOG),
        (b"ST,+0004775.7   g\r\n", _WEIGHT, "4775.7", "g", "4775.7", True, None, _DRIVER),
        (b"OL,+9999999.9   g\r\n", _OVER, None, "g", None, None, None, _DRIVER),
        (b"ST,+0000058.01  g\r\n", _WEIGHT, "58.01", "g", "58.01", True, None, _DRIVER),
        (b"ST,+00012.345  g\r\n", _WEIGHT, "12.345", "g", "12.345", True, None, _DRIVER),
        (b"ST,-00000.500  g\r\n", _WEIGHT, "-0.500", "g", "-0.5", True, None, _DRIVER),
        (b"ST,+0.245kg\r", _WEIGHT, "0.245", "kg", "245", True, None, _DRIVER),
        (b"ST,+0.000,kg\r\n", _WEIGHT, "0.000", "kg", "0", True, None, _DRIVER),
        (b"ST,+  123.45 g\r\n", _WEIGHT, "123.45", "g", "123.45", True, None, _DRIVER),
        (b"ST,+0001.234 kg\r\n", _WEIGHT, "1.234", "kg", "1234", True, None, _DRIVER),
        (b"ST,      66,kg\r\n", _WEIGHT, "66", "kg", "66000", True, None, _DRIVER),
        (b"ST,+00012.34  g\r", _WEIGHT, "12.34", "g", "12.34", True, None, _LAYOUT),
        (b"ST,+00101.25 ct\r\n", _WEIGHT, "101.25", "ct", "20.25", True, None, _LAYOUT),
        (b"ST,+0001.278, ct\r\n", _WEIGHT, "1.278", "ct", "0.2556", True, None, _MANUAL),
        (b"ST,+03.52740 oz\r\n", _WEIGHT, "3.52740", "oz", "100.000107871125", True, None, _LAYOUT),
        (b"ST,+0.220462 lb\r\n", _WEIGHT, "0.220462", "lb", "99.99988107494", True, None, _LAYOUT),
        (b"ST;+00123,45;  g\r\n", _WEIGHT, "123.45", "g", "123.45", True, None, _LAYOUT),
        (b"ST,+00123,45  g\r\n", _WEIGHT, "123.45", "g", "123.45", True, None, _AWKWARD),
        (b"EC,E11\r\n", _ERROR, None, None, None, None, None, _LAYOUT),
        (b"\x06", _OTHER, None, None, None, None, None, _LAYOUT),
        (b"?\r\n", _ERROR, None, None, None, None, None, _LAYOUT),
        (b"S\xd4\xac+00\xb1\xb23.\xb45\xa0\xa0\xe7\x8d\n", _WEIGHT, "123.45", "g", "123.45", True, None, _LAYOUT),
        (b"US\xac-0000\xb7.\xb80\xa0\xa0\xe7\x8d\n", _WEIGHT, "-7.80", "g", "-7.8", False, None, _LAYOUT),
        (b"\xd3T,\xab\xb0\xb012\xb3\xae4\xb5  g\r\x8a", _WEIGHT, "123.45", "g", "123.45", True, None, _LAYOUT),
        (b"\xd3\xd4\xac\xab\xb0\xb0\xb1\xb2\xb3\xae\xb4\xb5\xa0\xa0\xe7\x8d\x8a", _WEIGHT, "123.45", "g", "123.45", True, None, _LAYOUT),  # noqa: E501
        (b"LAB-0123, 2004/07/01, 12:34:56, ST,+0000.1278,  g\r\n", _WEIGHT, "0.1278", "g", "0.1278", True, None, _LAYOUT),  # noqa: E501
        (b"No,012\r\n", _OTHER, None, None, None, None, None, _LAYOUT),
        (b"WT     +1.278 ct\r\n", _WEIGHT, "1.278", "ct", "0.2556", True, None, _LAYOUT),
        (b"US     +1.278 ct\r\n", _WEIGHT, "1.278", "ct", "0.2556", False, None, _LAYOUT),
        (b"US,+00001.5  N\r\n", _OTHER, "1.5", "N", None, False, None, _LAYOUT),
        (b"ST,+00123.4\r\n", _OTHER, None, None, None, None, None, _LAYOUT),
        (b"+00123.4  g\r\n", _OTHER, None, None, None, None, None, _LAYOUT),
        (b"ST,+1.5E+19  g\r\n", _OTHER, None, None, None, None, None, _LAYOUT),
    ),
    "status-mode-commas": (
        (b"ST,NT,+  1.234kg\r\n", _WEIGHT, "1.234", "kg", "1234", True, _NET, _LOG),
        (b"US,GS,+0000.480kg\r", _WEIGHT, "0.480", "kg", "480", False, _GROSS, _DRIVER),
        (b"ST,NT,+  1.250 kg\r\n", _WEIGHT, "1.250", "kg", "1250", True, _NET, _DRIVER),
        (b"US,GS,   950 g\r\n", _WEIGHT, "950", "g", "950", False, _GROSS, _DRIVER),
        (b"ST,NT,   123.45,kg\r\n", _WEIGHT, "123.45", "kg", "123450", True, _NET, _DRIVER),
        (b"US,GS,+01234.56  kg\r\n", _WEIGHT, "1234.56", "kg", "1234560", False, _GROSS, _MANUAL),
        (b"ST,GS,+123456kg\r\n", _WEIGHT, "123456", "kg", "123456000", True, _GROSS, _MANUAL),
        (b"OL,GS,+            \r\n", _OVER, None, None, None, None, _GROSS, _MANUAL),
        (b"ST,GS,   245.6 g\r\n", _WEIGHT, "245.6", "g", "245.6", True, _GROSS, _LOG),
        (b"US,GS    20.9g  \r\n", _WEIGHT, "20.9", "g", "20.9", False, _GROSS, _LOG),
        (b"ST,GS,1\xbe,       10000 kg\r\n", _WEIGHT, "10000", "kg", "10000000", True, _GROSS, _DRIVER),
        (b"ST,NT,1\xc2,00013.50 kg\r\n", _WEIGHT, "13.50", "kg", "13500", True, _NET, _LAYOUT),
        (b"ERR05\r\n", _ERROR, None, None, None, None, None, _LAYOUT),
        (b"01ST,GS,     0.0,kg\r\n", _WEIGHT, "0.0", "kg", "0", True, _GROSS, _LAYOUT),
        (b"ST,GS,     0.0,kg\r\n", _WEIGHT, "0.0", "kg", "0", True, _GROSS, _LAYOUT),
        (b"UL,GS,     0.0,kg\r\n", _UNDER, None, "kg", None, None, _GROSS, _LAYOUT),
        (b"TL,GS,     0.0,kg\r\n", _ERROR, None, "kg", None, None, _GROSS, _LAYOUT),
        (b"1ST,       0.0,PT      20.8,         0,kg\r\n", _WEIGHT, "0.0", "kg", "0", True, _NET, _LAYOUT),
        (b"1US,     12.34,         2.0,         0,kg\r\n", _WEIGHT, "12.34", "kg", "12340", False, _NET, _LAYOUT),
        (b"PCS:     120pcs\r\n\r\n", _OTHER, "120", "pcs", None, None, None, _LAYOUT),
        (b"ST,TR,+   0.350kg\r\n", _WEIGHT, "0.350", "kg", "350", True, _TARE, _LAYOUT),
        (b"ST,N ,+  12.34 g\r\n", _WEIGHT, "12.34", "g", "12.34", True, _NET, _LAYOUT),
        (b"OL,G,-       ,kg\r\n", _UNDER, None, "kg", None, None, _GROSS, _LAYOUT),
        (b"US,NT,+000000.Kg\r\n", _WEIGHT, "0", "kg", "0", False, _NET, _DRIVER),
        (b"ST,GS,+  1,250kg\r\n", _WEIGHT, "1.250", "kg", "1250", True, _GROSS, _AWKWARD),
        (b"S\xd4\xacN\xd4\xac+0000\xb1\xb2.50\xeb\xe7\x8d\n", _WEIGHT, "12.50", "kg", "12500", True, _NET, _LAYOUT),
        (b"+0012.5kg,GS,ST\r\n", _WEIGHT, "12.5", "kg", "12500", True, _GROSS, _DRIVER),
        (b"ST,G,-  0.123,kg\r\n", _WEIGHT, "-0.123", "kg", "-123", True, _GROSS, _LAYOUT),
        (b"\x02ST,GS,+0001500 kg\r\x03", _WEIGHT, "1500", "kg", "1500000", True, _GROSS, _LAYOUT),
        (b"PERC:   99.50%\r\n", _OTHER, "99.50", "pct", None, None, None, _LAYOUT),
        (b"ST,TW,+  12.5kg\r\n", _OTHER, "12.5", "kg", None, True, None, _LAYOUT),
        (b"OL,NT,+99999.9kg\r\n", _OVER, None, "kg", None, None, _NET, _LAYOUT),
        (b"-0012.5kg,NT,OL\r\n", _UNDER, None, "kg", None, None, _NET, _LAYOUT),
        (b"1OL,          ,PT      20.8,         0,kg\r\n", _OVER, None, "kg", None, None, _NET, _LAYOUT),
        (b"ST,GS,+0012.3\r\n", _OTHER, None, None, None, None, None, _LAYOUT),
    ),
    "reply-letter": (
        (b"S S     105.00 g\r\n", _WEIGHT, "105.00", "g", "105", True, None, _DRIVER),
        (b"S D 104.87 g\r\n", _WEIGHT, "104.87", "g", "104.87", False, None, _DRIVER),
        (b"S D      740.6 g\r\n", _WEIGHT, "740.6", "g", "740.6", False, None, _DRIVER),
        (b"S S      1.020 kg\n", _WEIGHT, "1.020", "kg", "1020", True, None, _DRIVER),
        (b"S S     561.348 kg\r\n", _WEIGHT, "561.348", "kg", "561348", True, None, _DRIVER),
        (b"S S       0.00 g\r\n", _WEIGHT, "0.00", "g", "0", True, None, _DRIVER),
        (b"S S 1.0000 g\r\n", _WEIGHT, "1.0000", "g", "1", True, None, _DRIVER),
        (b"S D    -0.6800 g\r\n", _WEIGHT, "-0.6800", "g", "-0.68", False, None, _LAYOUT),
        (b"S I\r\n", _ERROR, None, None, None, None, None, _DRIVER),
        (b"S +\r\n", _OVER, None, None, None, None, None, _DRIVER),
        (b"SD      -12.3\r\n", _WEIGHT, "-12.3", None, None, False, None, _DRIVER),
        (b"ES\r\n", _ERROR, None, None, None, None, None, _DRIVER),
        (b"ET\r\n", _ERROR, None, None, None, None, None, _LAYOUT),
        (b"EL\r\n", _ERROR, None, None, None, None, None, _LAYOUT),
        (b"Z A\r\n", _OTHER, None, None, None, None, None, _LAYOUT),
        (b"Z I\r\n", _ERROR, None, None, None, None, None, _LAYOUT),
        (b"Z +\r\n", _ERROR, None, None, None, None, None, _LAYOUT),
        (b"T S      12.34 g\r\n", _WEIGHT, "12.34", "g", "12.34", True, _TARE, _LAYOUT),
        (b"TA A      0.00 g\r\n", _WEIGHT, "0.00", "g", "0", None, _TARE, _LAYOUT),
        (b'I2 A "MODEL 220.0090 g"\r\n', _OTHER, None, None, None, None, None, _LAYOUT),
        (b" 1    N    -4544.27 g   \r\n", _WEIGHT, "-4544.27", "g", "-4544.27", None, _NET, _DRIVER),
        (b"S S     0.355 kg\r\n", _WEIGHT, "0.355", "kg", "355", True, None, _DRIVER),
        (b"S S  15.00 kg\r\n", _WEIGHT, "15.00", "kg", "15000", True, None, _DRIVER),
        (b"     N       0.3746 g   \r\n", _WEIGHT, "0.3746", "g", "0.3746", None, _NET, _LAYOUT),
        (b"S       1.278 ct\r\n", _WEIGHT, "1.278", "ct", "0.2556", True, None, _LAYOUT),
        (b"SD    -183.96 g\r\n", _WEIGHT, "-183.96", "g", "-183.96", False, None, _LAYOUT),
        (b"SI+\r\n", _OVER, None, None, None, None, None, _LAYOUT),
        (b"SI-\r\n", _UNDER, None, None, None, None, None, _LAYOUT),
        (b"S -\r\n", _UNDER, None, None, None, None, None, _LAYOUT),
        (b"S S     120 pcs\r\n", _OTHER, "120", "pcs", None, True, None, _LAYOUT),
        (b"S S     100.00\r\n", _OTHER, None, None, None, None, None, _LAYOUT),
    ),
    "value-unit": (
        (b"    12.345 kg\r\n", _WEIGHT, "12.345", "kg", "12345", None, None, _DRIVER),
        (b"+12,345 g\r\n", _WEIGHT, "12.345", "g", "12.345", None, None, _DRIVER),
        (b"  61.73 ct\r\n", _WEIGHT, "61.73", "ct", "12.346", None, None, _DRIVER),
        (b"+  12.345 G\r\n", _WEIGHT, "12.345", "g", "12.345", None, None, _DRIVER),
        (b"PESO:   1,250 KG\r\n", _WEIGHT, "1.250", "kg", "1250", None, None, _DRIVER),
        (b"P:  0.750kg\r\n", _WEIGHT, "0.750", "kg", "750", None, None, _DRIVER),
        (b"ID01 ST W=7.25\r\n", _WEIGHT, "7.25", None, None, True, None, _DRIVER),
        (b"1 lb\r\n", _WEIGHT, "1", "lb", "453.59237", None, None, _DRIVER),
        (b"  1 lb  2.5 oz\r\n", _WEIGHT, "18.5", "lboz", "524.4661778125", None, None, _AWKWARD),
        (b"2:03.5 lb:oz\r\n", _WEIGHT, "35.5", "lboz", "1006.4080709375", None, None, _AWKWARD),
        (b"  1.500 kg\r\n", _WEIGHT, "1.500", "kg", "1500", None, None, _AWKWARD),
        (b"1'234.5 g\r\n", _WEIGHT, "1234.5", "g", "1234.5", None, None, _AWKWARD),
        (b"  \xb0\xae\xb0\xb0 kg \r\x8a", _WEIGHT, "0.00", "kg", "0", None, None, _LOG),
        (b"\x00   15.80 lb\r\n", _WEIGHT, "15.80", "lb", "7166.759446", None, None, _AWKWARD),
        (b"-   0.012 g\r\n", _WEIGHT, "-0.012", "g", "-0.012", None, None, _LAYOUT),
        (b"W 2,750 kg\r\n", _WEIGHT, "2.750", "kg", "2750", None, None, _LAYOUT),
        (b"12.345 kg ST\r\n", _WEIGHT, "12.345", "kg", "12345", True, None, _LAYOUT),
        (b"12.34- g\r\n", _WEIGHT, "-12.34", "g", "-12.34", None, None, _LAYOUT),
        (b"Tare: 1.25 kg\r\n", _WEIGHT, "1.25", "kg", "1250", None, _TARE, _LAYOUT),
        (b"Unit wt: 1.250 g\r\n", _OTHER, None, None, None, None, None, _LAYOUT),
        (b"999999.9 g\r\n", _OVER, None, "g", None, None, None, _LAYOUT),
        (b"OL\r\n", _OVER, None, None, None, None, None, _LAYOUT),
    ),
    "bare-number": (
        (b"  1.250\r\n", _WEIGHT, "1.250", None, None, None, None, _LAYOUT),
        (b"+00123.45\r\n", _WEIGHT, "123.45", None, None, None, None, _LAYOUT),
        (b"+99999999\r\n", _OVER, None, None, None, None, None, _LAYOUT),
        (b"$000000\r", _WEIGHT, "0", None, None, None, None, _LOG),
        (b"12.34\n", _WEIGHT, "12.34", None, None, None, None, _LAYOUT),
        (b"N     100.5\r\n", _WEIGHT, "100.5", None, None, None, _NET, _DRIVER),
        (b"@ 01 1.234\r\n", _WEIGHT, "1.234", None, None, None, None, _DRIVER),
        (b"------\r\n", _ERROR, None, None, None, None, None, _AWKWARD),
        (b"HHHH\r\n", _OVER, None, None, None, None, None, _AWKWARD),
        (b"OL\r\n", _OVER, None, None, None, None, None, _DRIVER),
        (b"1   44140    00\r\n", _WEIGHT, "44140", None, None, None, None, _LAYOUT),
        (b"T     100.5\r\n", _WEIGHT, "100.5", None, None, None, _TARE, _LAYOUT),
        (b"-99999999\r\n", _UNDER, None, None, None, None, None, _LAYOUT),
        (b"9001234567890\r\n", _OTHER, None, None, None, None, None, _LAYOUT),
    ),
}
# fmt: on

WRITTEN = tuple(_ROWS)
"""The families whose lines stand here; `published` has lines of all."""

LINES = tuple(Line(family, *row) for family, rows in _ROWS.items() for row in rows)

NOT_A_LOAD = (
    b"3.01pH 25.5\xf8C ATC\r\n",
    b"T=23.4C RH=41%\r\n",
    b'{"t":21.5,"w":12.3}\n',
    b"9001234567890\r",
    b"Date: 23/09/04\r\n",
    b"Time: 15:45\r\n",
    b"ID No: 123456\r\n",
    b"2023-11-07\r\n",
    b"No. 00017\r\n",
    b"Percent: 12.345 %\r\n",
    b"    0 pcs\r\n",
    b"Press T to tare\r\n",
    b"ST,+0012ST,+00123.45  g\r\n",
    b"\xff\xfe\x80\x00\xe0\r\n",
)
"""Lines of other instruments, of tickets, of a wrong bit rate and of a torn wire: never a load in any family."""
