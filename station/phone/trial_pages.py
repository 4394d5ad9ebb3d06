"""The pages of trials: what a design can find, its list of casts to print, which cast is which run, what came of it."""

from __future__ import annotations

import secrets

from flask import Blueprint, abort, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as Answer

from station.core.judging_events import DefectKind
from station.core.learning_messages import BeginTrial, EndTrial, LeaveTrialCast, TakeTrialCast
from station.core.learning_standing import Trial
from station.errors import StationError, WrongField
from station.insight.trials.response import Measured, key_of, response_of
from station.phone import guard, orders
from station.phone.learning_view import LearningBook
from station.phone.shelf import Ask
from station.phone.trial_typed import SEEDS, TypedTrial, Understood, typed_trial, understood
from station.phone.trial_view import design_of, power_words, response_words, result_of, runs_of
from station.texts import t

TITLE_LIMIT = 100
REASON_LIMIT = 300


def trial_pages(book: LearningBook, ask: Ask) -> Blueprint:
    """The routes under /insight/trials."""
    bp = Blueprint("trials", __name__, url_prefix="/insight/trials")

    def overview(typed: TypedTrial, said: str = "", at: str = "", status: int = 200) -> tuple[str, int]:
        made: Understood | None = None
        if typed.asked and not said:
            try:
                made = understood(typed, secrets.randbelow(SEEDS))
            except WrongField as why:
                said, at, status = why.sentence(), why.field, 409
        return (
            render_template(
                "trials.html",
                typed=typed,
                said=said,
                at=at,
                made=made,
                runs=runs_of(made.design) if made else (),
                power=power_words(made.design, made.response, book.facts()) if made else "",
                trials=list(reversed(book.trials())),
                responses=_responses(),
                design=made and made.design,
            ),
            status,
        )

    @bp.get("")
    def trials() -> tuple[str, int]:
        return overview(typed_trial(request.args))

    @bp.post("/begin")
    def begin() -> Answer | tuple[str, int]:
        typed = typed_trial(request.form)
        try:
            made = understood(typed, secrets.randbelow(SEEDS))
            title = orders.text({"title": typed.title}, "title", t("what it is to find out"), TITLE_LIMIT)
            design = made.design
            ask(
                BeginTrial(
                    title,
                    design.settings,
                    design.blocks,
                    design.seed,
                    design.half,
                    design.runs,
                    key_of(made.response),
                    guard.device(),
                )
            )
        except WrongField as why:
            return overview(typed, why.sentence(), why.field, 409)
        except StationError as why:
            return overview(typed, why.sentence(), "title", 409)
        newest = max((one.number for one in book.trials()), default=0)
        return redirect(url_for("trials.one", trial=newest), 303)

    def page(number: int, said: str = "", status: int = 200) -> tuple[str, int]:
        trial = _known(book, number)
        design = design_of(trial)
        response = response_of(trial.begun.response)
        return (
            render_template(
                "trial.html",
                trial=trial,
                design=design,
                said=said,
                runs=runs_of(design, trial),
                response="" if response is None else response_words(response),
                result=result_of(trial, book.facts()),
            ),
            status,
        )

    @bp.get("/<int:trial>")
    def one(trial: int) -> tuple[str, int]:
        return page(trial)

    @bp.post("/<int:trial>/take")
    def take(trial: int) -> Answer | tuple[str, int]:
        return done(trial, lambda run: TakeTrialCast(trial, run, orders.number(request.form, "cast"), guard.device()))

    @bp.post("/<int:trial>/leave")
    def leave(trial: int) -> Answer | tuple[str, int]:
        return done(trial, lambda run: LeaveTrialCast(trial, run, guard.device()))

    @bp.post("/<int:trial>/end")
    def end(trial: int) -> Answer | tuple[str, int]:
        reason = request.form.get("reason", "")[:REASON_LIMIT]
        return done(trial, lambda _: EndTrial(trial, reason, guard.device()), has_run=False)

    def done(trial: int, order: object, *, has_run: bool = True) -> Answer | tuple[str, int]:
        assert callable(order)
        try:
            run = orders.number(request.form, "run", t("a run of the trial")) if has_run else 0
            ask(order(run))
        except StationError as why:
            return page(trial, why.sentence(), 409)
        return redirect(url_for("trials.one", trial=trial), 303)

    return bp


def _known(book: LearningBook, number: int) -> Trial:
    found = next((one for one in book.trials() if one.number == number), None)
    return abort(404) if found is None else found


def _responses() -> list[tuple[str, str]]:
    """What a trial can look at: its key and its words."""
    defects = [(kind.name, t("{defect} or not", defect=t(kind.value))) for kind in DefectKind]
    return [("NOT_GOOD", t("whether a part is good")), *defects, *((one.name, t(one.value)) for one in Measured)]
