"""Prints how the proof over every way grows: python -m tests.bench.proof_scale [STEPS ...]

Procedures of 100, 200, 400 and 800 steps with 30 states, of which 120 stand in two lists of 60 side by side that meet at
states of each other; troubles, optional steps and conditions come with strides of their own. Goal: 400 steps in under 2 s and
300 MB. Each is also given as a ratio to compiling the procedure.
"""

import resource
import sys
import time

from runner.lint.proof.faults import prove
from runner.procedure.compile import compile_procedure
from runner.procedure.model import Procedure

STATES = 30
PAIRED = 60
HEAD = """\
format: 1
id: scale
title: Scale
revision: 1
equipment: Line 3, six-colour flexographic press, 1.3 m web
purpose: Measured.
people: {unwind: "Operator, unwind side", rewind: "Operator, rewind side", lead: Shift lead}
inputs:
  width: {ask: Web width, unit: mm, within: [400, 1300]}
  mass: {ask: Mass, unit: kg, within: [1, 800]}
make_safe:
  - {do: Press the stop button.}
states:
"""


def step(number: int, person: str, states: range) -> str:
    """One step of a chain over some states: it needs the one before and makes its own, ahead and back again."""
    own, before = states[number % len(states)], states[(number - 1) % len(states)]
    turn, turn_before = number // len(states) % 2, (number - 1) // len(states) % 2 if number else 1
    parts = [f"id: {person}-{number}-{states[0]}", f"by: {person}", f"do: Turn valve {own} by hand."]
    if number:
        parts.append(f"needs: {{state_{before}: {('ahead', 'back')[turn_before]}}}")
    parts.append(f"makes: {{state_{own}: {('ahead', 'back')[turn]}}}")
    if number % 9 == 4:
        name = f"{person}-{number}-{states[0]}"
        parts.append(f"trouble: [{{id: stuck-{name}, sign: It sticks, do: Free it., back_to: {name}}}]")
    return f"{{{', '.join(parts)}}}"


def apart(number: int) -> str:
    """A step that bears on no other: conditions and steps left out."""
    parts = [f"id: free-{number}", "by: unwind", "do: Wipe the roller."]
    if number % 3 == 0:
        parts.append('when: "width > 900 [mm]"' if number % 2 else 'when: "mass > 25 [kg]"')
    elif number % 3 == 1:
        parts.append("optional: reason")
    return f"{{{', '.join(parts)}}}"


def written(count: int) -> str:
    """The text of a procedure with so many steps."""
    lines = [HEAD.rstrip()]
    lines += [f"  state_{number}: {{of: [back, ahead], at_start: back}}" for number in range(STATES)]
    lines.append("phases:")
    pair = min(PAIRED, count // 4)
    one, two, alone = range(10), range(8, 18), range(18, 30)
    lines += ["  - phase: Both sides", "    park: after", "    together:"]
    for person, states in (("unwind", one), ("rewind", two)):
        lines.append(f"      {person}:")
        lines += [f"        - {meeting(number, person, states)}" for number in range(pair)]
    left = count - 2 * pair
    for first in range(0, left, 20):
        lines += [f"  - phase: Part {first // 20}", "    park: after", "    steps:"]
        for number in range(first, min(first + 20, left)):
            chained = number - (number + 1) // 4
            lines.append(f"      - {apart(number) if number % 4 == 3 else step(chained, 'unwind', alone)}")
    return "\n".join(lines) + "\n"


def meeting(number: int, person: str, states: range) -> str:
    """A step of one of two lists; states 8 and 9 belong to both, and every tenth step turns or needs one of them."""
    if number % 5 in (3, 4):
        shared = 8 if person == "unwind" else 9
        made = f"makes: {{state_{shared}: {('ahead', 'back')[number % 5 - 3]}}}"
        return f"{{id: {person}-{number}, by: {person}, do: Turn it., {made}}}"
    other = 9 if person == "unwind" else 8
    parts = [f"id: {person}-{number}", f"by: {person}", "do: Turn it."]
    if number % 5 == 1:
        parts.append(f"needs: {{state_{other}: back}}")
    own = [state for state in states if state not in (8, 9)]
    parts.append(f"makes: {{state_{own[number % len(own)]}: {('ahead', 'back')[number % 2]}}}")
    if number % 7 == 3:
        parts.append("optional: reason")
    if number % 9 == 4:
        back = f"{person}-{number - 2}"
        parts.append(f"trouble: [{{id: stuck-{person}-{number}, sign: It sticks, do: Free it., back_to: {back}}}]")
    return f"{{{', '.join(parts)}}}"


def main(counts: list[int]) -> None:
    """Print time, nodes, memory and the ratio to compiling, for each size."""
    for count in counts:
        text = written(count)
        began = time.perf_counter()
        found = compile_procedure(text, "scale.procedure.yaml", lambda _: None)
        load = time.perf_counter() - began
        assert isinstance(found.procedure, Procedure), found.findings[:3]
        began = time.perf_counter()
        proof = prove(found.procedure)
        took = time.perf_counter() - began
        memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        told = "finished" if proof.finished else "NOT finished"
        print(
            f"{count} steps: {took:.2f} s, {took / load:.1f} x compiling, {proof.nodes} nodes, {memory:.0f} MB at most, {told}, "
            f"{len(proof.plain)} faults of plain order, {len(proof.departing)} others"
        )


if __name__ == "__main__":
    main([int(count) for count in sys.argv[1:]] or [100, 200, 400, 800])
