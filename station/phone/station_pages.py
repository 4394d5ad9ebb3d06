"""The page Station: how each part fares, and the way to everything that has a page of its own."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, current_app, render_template

PARTS = (
    "station",
    "scale",
    "time",
    "record",
    "climate",
    "materials",
    "molds",
    "stock",
    "devices",
    "push",
    "pair",
)
"""First words of the addresses that are reached from here."""


def station_pages() -> Blueprint:
    """The routes under /station."""
    bp = Blueprint("station_page", __name__, url_prefix="/station")

    @bp.app_context_processor
    def everywhere() -> dict[str, Any]:
        return {"station_parts": PARTS}

    @bp.get("")
    def station() -> str:
        return render_template("station.html", places=_places())

    return bp


def _places() -> frozenset[str]:
    """The addresses that this station has a page for: some parts are not in every station."""
    return frozenset(rule.rule for rule in current_app.url_map.iter_rules() if "GET" in (rule.methods or ()))
