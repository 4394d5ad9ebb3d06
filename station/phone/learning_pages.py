"""All pages of learning: differences, two casts, advice, trials."""

from __future__ import annotations

from flask import Blueprint

from station.phone.advice_pages import advice_pages
from station.phone.difference_pages import difference_pages
from station.phone.learning_view import LearningBook
from station.phone.shelf import Ask
from station.phone.trial_pages import trial_pages


def learning_pages(book: LearningBook, ask: Ask) -> tuple[Blueprint, ...]:
    """Their routes, all under /insight."""
    first = difference_pages(book)

    @first.app_context_processor
    def everywhere() -> dict[str, bool]:
        return {"has_learning_pages": True}

    return first, advice_pages(book, ask), trial_pages(book, ask)
