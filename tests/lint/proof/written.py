"""Random small procedures for the proof: up to eight steps, one to three lists, needs, makes, conditions, troubles, repeats.

Some begin with a step that reads a depth, on which conditions of later steps rest; a trouble may lead back to it.
"""

from hypothesis import strategies as st

STATES = ("red", "blue", "green")
VALUES = ("low", "high")
CONDITIONS = ("width > 5 [mm]", "width > 3 [mm]", "width <= 5 [mm]", "gap > 5 [mm]", "width > gap")
READ = ("depth > 5 [mm]", "depth > gap", "depth > 3 [mm]")
"""Conditions of procedures that read the depth."""
READING = "{ask: Depth, unit: mm, within: [0, 10]}"
PEOPLE = (("a", "unwind"), ("b", "rewind"), ("d", "helper"))
"""The lists side by side: how ids of their steps begin, and whose they are."""

FACTS = st.dictionaries(st.sampled_from(STATES), st.sampled_from(VALUES), max_size=2)


@st.composite
def steps(draw: st.DrawFn, prefix: str, person: str, most: int, conditions: tuple[str, ...]) -> list[str]:
    """The lines of the steps of one list."""
    count = draw(st.integers(1, most))
    lines = []
    for number in range(count):
        parts = [f"id: {prefix}{number}", f"by: {person}", "do: Turn it."]
        for key in ("needs", "makes"):
            facts = draw(FACTS)
            if facts:
                parts.append(f"{key}: {{{', '.join(f'{state}: {value}' for state, value in facts.items())}}}")
        kind = draw(st.integers(0, 9))
        if kind == 0 or (kind > 5 and conditions is not CONDITIONS):
            parts.append(f'when: "{draw(st.sampled_from(conditions))}"')
        elif kind == 1:
            parts.append("optional: reason")
        elif kind in (2, 3):
            back = f"{prefix}{draw(st.integers(0, number))}"
            way = draw(st.sampled_from(["then: go_on", "then: stop", f"back_to: {back}"]))
            parts.append(f"trouble: [{{id: bad-{prefix}{number}, sign: It sticks, do: Free it., {way}}}]")
        elif kind == 5:
            parts.append('repeat: {until: "width > 1 [mm]", at_most: 3}')
        lines.append(f"{{{', '.join(parts)}}}")
    return lines


@st.composite
def procedures(draw: st.DrawFn, *, alone: bool = False) -> str:
    """The part of a procedure's text that matters to order; `alone`: no lists side by side, and acts of making safe."""
    lines = ["people: {unwind: 'Operator, unwind side', rewind: 'Operator, rewind side', helper: Helper}", "inputs:"]
    lines += [f"  {name}: {{ask: A length, unit: mm, within: [0, 10]}}" for name in ("width", "gap")]
    lines.append("states:")
    for name in STATES:
        keys = ["of: [low, high]"]
        if draw(st.integers(0, 3)):
            keys.append(f"at_start: {draw(st.sampled_from(VALUES))}")
        if draw(st.integers(0, 3)) == 0:
            keys.append(f"at_end: {draw(st.sampled_from(VALUES))}")
        if draw(st.integers(0, 3)) == 0:
            keys.append("one_owner: true")
        lines.append(f"  {name}: {{{', '.join(keys)}}}")
    if alone:
        facts = draw(st.dictionaries(st.sampled_from(STATES), st.sampled_from(VALUES), min_size=1, max_size=2))
        made = ", ".join(f"{state}: {value}" for state, value in facts.items())
        lines += ["make_safe:", f"  - {{do: Press the stop button., makes: {{{made}}}}}"]
    lines.append("phases:")
    left = 8
    conditions: tuple[str, ...] = CONDITIONS
    if draw(st.integers(0, 3)) == 0:
        left, conditions = 6, CONDITIONS + READ * 2
        looked = f"id: look, by: unwind, do: Look at it., read: {{depth: {READING}}}"
        lines += ["  - phase: Look", "    park: after", "    steps:", f"      - {{{looked}}}"]
        if draw(st.booleans()):
            back = "trouble: [{sign: It has moved, do: Look again., back_to: look}]"
            lines.append(f"      - {{id: after, by: unwind, do: Turn it., {back}}}")
    for number in range(draw(st.integers(1, 2))):
        lines += [f"  - phase: Part {number}", "    park: after"]
        lists = 1 if alone else draw(st.sampled_from((1, 2, 2, 3)))
        if lists == 1:
            only = draw(steps(f"c{number}", "unwind", min(4, left), conditions))
            left = max(1, left - len(only))
            lines += ["    steps:", *(f"      - {line}" for line in only)]
            continue
        lines.append("    together:")
        for prefix, person in PEOPLE[:lists]:
            mine = draw(steps(f"{prefix}{number}", person, min(4 - lists, left) + (lists == 2), conditions))
            left = max(1, left - len(mine))
            lines += [f"      {person}:", *(f"        - {line}" for line in mine)]
    return "\n".join(lines) + "\n"
