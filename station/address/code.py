"""An address as a QR code (ISO/IEC 18004), for a page and for a terminal."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from segno import QRCode

QUIET = 4
"""Light modules around the code; the standard asks for four."""


def _code(url: str) -> QRCode:
    import segno  # only for who looks at a code

    # A fourth may be hidden by glare or dust before it cannot be read any more.
    return segno.make_qr(url, error="q", boost_error=False)


def svg(url: str) -> str:
    """The code as an SVG that keeps its own light ground, so that it can be read in a dark page, too."""
    return _code(url).svg_inline(
        border=QUIET, dark="#000", light="#fff", omitsize=True, svgclass="code2d", lineclass=None, title=url
    )


def rows(url: str) -> list[list[bool]]:
    """The code module by module, dark ones true, with its light margin."""
    return [[bool(module) for module in row] for row in _code(url).matrix_iter(border=QUIET)]


def blocks(url: str) -> str:
    """The code in half blocks for a terminal, white on black by itself: without colours it suits a dark ground."""
    text = io.StringIO()
    _code(url).terminal(out=text, border=QUIET, compact=True)
    return "".join(f"\x1b[97;40m{line}\x1b[0m\n" for line in text.getvalue().splitlines() if line)
