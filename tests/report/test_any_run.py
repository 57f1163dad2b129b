"""Laws over runs that the engine really makes: the report's fold of the events agrees with the engine's own.

The engine's state is the judge here: the two folds were written apart from each other. Names of people and inputs are
those of the shipped procedures and of random wanderers over them.
"""

import random
from typing import Any

import pytest
from rich.cells import cell_len

from runner.engine.state import RunState
from runner.report.contents.run_record import run_record
from runner.report.formats import FORMATS
from runner.report.formats.text import WIDTH
from runner.report.verification import Verification
from tests.engine.bench import Bench
from tests.engine.test_laws import SHIPPED, begun, shipped
from tests.engine.wanderer import wish

WISHES = 400
"""Random intents for each procedure and seed."""


def wandered(seed: int, at: int) -> Bench:
    chance = random.Random(seed)
    bench = begun(shipped(SHIPPED[at]), SHIPPED[at])
    for _ in range(WISHES):
        if bench.state.outcome:
            break
        bench.attempt(wish(bench, chance))
    return bench


def reported(bench: Bench) -> tuple[dict[str, Any], list[bytes]]:
    entries = list(enumerate(bench.events, start=1))
    document = run_record(entries, Verification(True, "0" * 64, len(entries)), bench.procedure)
    assert isinstance(document.data, dict)
    return document.data, [form.render(document) for form in FORMATS.values() if not form.binary]  # those take long


def statuses(state: RunState) -> dict[str, str]:
    return {step: record.status.value for step, record in state.records.items()}


@pytest.mark.parametrize("at", range(len(SHIPPED)), ids=lambda at: SHIPPED[at].name)
@pytest.mark.parametrize("seed", range(2))
def test_the_report_and_the_engine_fold_alike(seed: int, at: int) -> None:
    bench = wandered(seed, at)
    assert len(bench.events) > 100
    data, rendered = reported(bench)
    told = {row["step"]: row for row in data["steps"]}
    for step, status in statuses(bench.state).items():
        assert told[step]["status"] == status, step
        assert len(told[step]["attempts"]) == bench.state.record(step).attempt, step
    assert [row["number"] for row in data["exceptions"] if row["open"]] == [
        e.number for e in bench.state.open_exceptions
    ]
    stale = {row["name"] for row in data["worked_out"] if row["status"].startswith("stale")}
    known = bench.state.values
    assert stale == {name for name in known if known[name].stale and known[name].source == "worked out"}
    crew = {row["role"]: row["person"] for row in data["crew"]}
    assert crew == dict(bench.state.crew)
    assert sum(row["seconds"] for row in data["phases"]) == pytest.approx(data["times"]["total_s"])
    text = rendered[list(FORMATS).index("text")].decode()
    assert max(cell_len(line) for line in text.splitlines()) <= WIDTH
