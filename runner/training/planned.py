"""Which faults of a scenario come in one dry run, and where: all that are not seeded, and so many of the seeded as are drawn.

The same seed draws the same; a scenario without anything to draw needs none.
"""

from hashlib import sha256

from runner.procedure.scenarios.model import Scenario


def planned(scenario: Scenario, seed: int) -> tuple[tuple[str, str], ...]:
    """(fault, step) of those that come, in the order of the file."""
    seeded = sorted(
        (fault.id for fault in scenario.faults if fault.seeded), key=lambda name: drawn(scenario.id, seed, name)
    )
    come = {fault.id for fault in scenario.faults if not fault.seeded} | set(seeded[: scenario.draw])
    return tuple(
        (fault.id, min(fault.at, key=lambda step: drawn(fault.id, seed, step)))
        for fault in scenario.faults
        if fault.id in come
    )


def drawn(what: str, seed: int, name: str) -> bytes:
    """A number by which things are put in an order that nobody foresees, the same for the same seed."""
    return sha256(f"{what}/{seed}/{name}".encode()).digest()


def criteria(scenario: Scenario) -> tuple[tuple[str, str], ...]:
    """(id, words) of all criteria, as they are shown beforehand: those of the drawn faults alone would tell what comes."""
    return tuple((one.id, one.words) for one in scenario.criteria)
