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
    return difference_pages(book), advice_pages(book, ask), trial_pages(book, ask)
