"""MoldRecord: what the record and the bench know of molds, as their pages ask for it."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from station.core.mold_care import MoldCare, care_of
from station.core.standing import Standing
from station.insight.wear import Wear, wear
from station.phone.mold_view import NEWEST, MoldCasts
from station.store.archive import Archive


class MoldRecord:
    """Implements `phone.mold_view.MoldBook`. `standing` gives the present one."""

    def __init__(self, archive: Archive, standing: Callable[[], Standing]) -> None:
        self._archive, self._standing = archive, standing

    def casts(self) -> Mapping[str, MoldCasts]:
        """What became of the casts in each mold, by its key. Raises LedgerFault."""
        found = {}
        for key, past in self._archive.mold_pasts().items():
            judged = (past.good, past.usable, past.scrap)
            last = past.last
            found[key] = MoldCasts(past.casts, past.out, past.failed, past.last_number, last.wall, last.sure, judged)
        return found

    def care(self, key: str) -> MoldCare:
        """Its shots, its release agent, and whether it is retired."""
        return care_of(self._standing().molds, key)

    def wear(self, key: str) -> Wear:
        """How its newest shots came out, one after the other. Raises LedgerFault."""
        return wear(self._archive.facts(mold=key, last=NEWEST))
