"""The page of a new cast: what waits for the bench, what may be cast again, the form, and the plan with its checks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as Answer

from station.core.messages import DropQueued, MoveQueued
from station.core.plan import CastPlan
from station.core.plan_checks import Check, checks_failed, checks_of, notes_besides
from station.core.planning import Impossible
from station.errors import StationError, WrongField
from station.phone import guard, orders
from station.phone.shelf import Ask, Chosen, Shelf
from station.texts import t

Form = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Found:
    """What came of a form: a plan with its checks, or what is wrong, by field where it belongs to one."""

    plan: CastPlan | None = None
    checks: tuple[Check, ...] = ()
    said: str = ""
    at: Mapping[str, str] = field(default_factory=dict)

    @property
    def notes(self) -> tuple[str, ...]:
        """What else there is to know of the plan."""
        return () if self.plan is None else notes_besides(self.plan, self.checks)


def new_pages(shelf: Shelf, ask: Ask) -> Blueprint:
    """The routes under /new."""
    bp = Blueprint("new", __name__, url_prefix="/new")

    def page(form: Form, found: Found) -> str:
        materials = shelf.materials()
        return render_template(
            "new.html",
            materials=materials,
            molds=shelf.molds(),
            form=form,
            found=found,
            lots={material.key: shelf.lots_of(material) for material in materials},
            waiting=shelf.waiting(),
            recent=shelf.recent(),
        )

    @bp.get("")
    def empty() -> str:
        form, said = _prefilled(shelf, request.args)
        return page(form, Found(said=said))

    @bp.post("")
    def worked_out() -> str | Answer | tuple[str, int]:
        form = {name: value[:120] for name, value in request.form.items()}
        found = Found()
        try:
            asked = orders.asked(_of_chosen(form))
            if "queue" in form:
                ask(shelf.for_queue(asked, guard.device(), _ticket(form.get("instead", ""))))
                return redirect(url_for("new.empty"), 303)
            begin = orders.begun(_of_chosen(form), guard.device(), shelf)
            found = Found(begin.plan, checks_of(begin.plan))
            if "begin" in form:
                ask(begin)
                return redirect(url_for("pages.bench"), 303)
        except WrongField as why:
            return page(form, Found(at={why.field: why.sentence()})), 409
        except Impossible as why:
            return page(form, Found(checks=checks_failed(why))), 409
        except StationError as why:
            return page(form, Found(found.plan, found.checks, why.sentence())), 409
        return page(form, found)

    @bp.post("/queue/<int:ticket>/move")
    def move(ticket: int) -> Answer:
        ask(MoveQueued(ticket, orders.number(request.form, "place", t("a place in the queue")), guard.device()))
        return redirect(url_for("new.empty"), 303)

    @bp.post("/queue/<int:ticket>/drop")
    def drop(ticket: int) -> Answer:
        ask(DropQueued(ticket, guard.device()))
        return redirect(url_for("new.empty"), 303)

    return bp


def _prefilled(shelf: Shelf, args: Mapping[str, str]) -> tuple[dict[str, str], str]:
    """The form to begin with, and what could not be filled in."""
    again, queued = _ticket(args.get("again", "")), _ticket(args.get("queued", ""))
    if again is not None:
        asked = shelf.again(again)
        return ({}, t("There is no cast {again} to repeat.", again=again)) if asked is None else (_form(asked), "")
    if queued is not None:
        asked = shelf.queued(queued)
        if asked is None:
            return {}, t("That plan is not in the queue any more.")
        return {**_form(asked), "instead": str(queued)}, ""
    asked_for = {"material": args.get("material", ""), "mold": args.get("mold", ""), "amount": args.get("amount", "")}
    return {name: value[:120] for name, value in asked_for.items() if value}, ""


def _form(asked: Chosen) -> dict[str, str]:
    lots = {f"lot {asked.material} {name}": number for name, number in asked.lots.items()}
    return {"material": asked.material, "mold": asked.mold, "amount": asked.amount, **lots}


def _ticket(typed: str) -> int | None:
    return int(typed) if typed.isascii() and typed.isdigit() and 0 < len(typed) < 10 else None


def _of_chosen(form: Form) -> dict[str, str]:
    """The form without the lots of the materials that were not chosen."""
    mine = f"lot {form.get('material', '')} "
    lots = {f"lot {name.removeprefix(mine)}": value for name, value in form.items() if name.startswith(mine)}
    return {name: value for name, value in form.items() if not name.startswith("lot ")} | lots
