"""Whether the page of this machine's own station answers."""

from __future__ import annotations

import http.client
import ssl
from urllib.parse import SplitResult, urlsplit

_WITHIN_S = 2.0


def silence(url: str) -> str:
    """Why the page at `url` does not answer a visitor; empty when it does. Nothing is raised."""
    page = _line_to(urlsplit(url))
    try:
        page.request("GET", "/")
        status = page.getresponse().status
        return "" if status < 500 else f"status {status}"
    except (OSError, http.client.HTTPException) as why:
        return str(why) or type(why).__name__
    finally:
        page.close()


def _line_to(url: SplitResult) -> http.client.HTTPConnection:
    if url.scheme == "http":
        return http.client.HTTPConnection(url.netloc, timeout=_WITHIN_S)
    # Whether this machine's own page answers, not who answers: the workshop's certificate names no loopback address.
    context = ssl.create_default_context()
    context.check_hostname = False
    context.verify_mode = ssl.CERT_NONE
    return http.client.HTTPSConnection(url.netloc, timeout=_WITHIN_S, context=context)
