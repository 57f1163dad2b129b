"""Rows of an index to figures again: what is known without reading a record.

Nothing here reads a journal or knows a procedure, so that an answer that is all in the index loads neither.
"""

import json
from collections.abc import Callable, Sequence
from typing import Any

from runner.record.index.kept import Kept
from runner.report.times.figures import Chain, Figures, Places, chain_from, from_data, plan_from
from runner.report.times.plan import Plan

UNREADABLE = "its record is damaged or cannot be read"
NO_PROCEDURE = "the procedure in its record cannot be read by this version of the program"


def fault_of(kept: Kept) -> tuple[str, str]:
    """(why, words) for which a record has no figures; empty where it has."""
    if kept.summary.words:
        return UNREADABLE, kept.summary.words
    if kept.extract:
        return "", ""
    return (NO_PROCEDURE if kept.more == NO_PROCEDURE else UNREADABLE), kept.more


class Figured:
    """Makes figures of rows; a plan is made once for each text of a procedure."""

    def __init__(self, more: Callable[[Kept], str]) -> None:
        """`more` gives what is not read with the rows."""
        self.more = more
        self.plans: dict[str, tuple[Plan, Places]] = {}

    def figures(self, rows: Sequence[Kept]) -> list[Figures]:
        """The figures of rows that have extracts; all are parsed as one text, which takes half the time."""
        for shared in {kept.shared for kept in rows} - self.plans.keys():
            plan = plan_from(json.loads(shared))
            self.plans[shared] = plan, Places(plan)
        data: list[list[Any]] = json.loads(f"[{','.join([kept.extract for kept in rows])}]")
        return [
            from_data(one, *self.plans[kept.shared], self.chain(kept)) for one, kept in zip(data, rows, strict=True)
        ]

    def chain(self, kept: Kept) -> Callable[[], Chain]:
        """Reads the chain when it is asked for."""
        return lambda: chain_from(json.loads(kept.more or self.more(kept) or "[]"))
