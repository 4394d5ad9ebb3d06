"""Asks axe-core, which its package carries as a file, what keeps people out of a page."""

from __future__ import annotations

from typing import Any

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Page

TAGS = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")
COLOURS = ("color-contrast", "link-in-text-block")
"""What another scheme may change."""
PLACES = ("target-size", "scrollable-region-focusable", "meta-viewport", "heading-order", "region", "empty-heading")
"""What another size may change besides."""


def asked(page: Page, rules: tuple[str, ...] = ()) -> dict[str, Any]:
    """What axe answers by these rules, or by all that have a tag of `TAGS`."""
    only = {"type": "rule", "values": rules} if rules else {"type": "tag", "values": TAGS}
    if not page.evaluate("typeof axe === 'object'"):
        page.evaluate(AXE_SCRIPT)
    # Nothing is fetched, not even a style that the page has already.
    options = {"runOnly": only, "resultTypes": ["violations", "incomplete"], "preload": False}
    answer: dict[str, Any] = page.evaluate("options => axe.run(document, options)", options)
    return answer


def told(found: list[dict[str, Any]]) -> list[str]:
    """One line for each place, for who mends it."""
    return [
        f"{one['id']}: {node['target'][-1]} {node['html'][:110]!r}: "
        + "; ".join(said["message"] for kind in ("any", "all", "none") for said in node[kind])[:240]
        for one in found
        for node in one["nodes"]
    ]


def violations(page: Page, rules: tuple[str, ...] = ()) -> list[str]:
    """What is wrong for certain."""
    return told(asked(page, rules)["violations"])
