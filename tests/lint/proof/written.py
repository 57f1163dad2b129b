"""Random small procedures for the proof: up to eight steps, one list or two, needs, makes, conditions, troubles."""

from hypothesis import strategies as st

STATES = ("red", "blue", "green")
VALUES = ("low", "high")
CONDITIONS = ("width > 5 [mm]", "width > 3 [mm]", "width <= 5 [mm]", "gap > 5 [mm]", "width > gap")

FACTS = st.dictionaries(st.sampled_from(STATES), st.sampled_from(VALUES), max_size=2)


@st.composite
def steps(draw: st.DrawFn, prefix: str, person: str, most: int) -> list[str]:
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
        if kind == 0:
            parts.append(f'when: "{draw(st.sampled_from(CONDITIONS))}"')
        elif kind == 1:
            parts.append("optional: reason")
        elif kind in (2, 3):
            back = f"{prefix}{draw(st.integers(0, number))}"
            way = draw(st.sampled_from(["then: go_on", "then: stop", f"back_to: {back}"]))
            parts.append(f"trouble: [{{id: bad-{prefix}{number}, sign: It sticks, do: Free it., {way}}}]")
        lines.append(f"{{{', '.join(parts)}}}")
    return lines


@st.composite
def procedures(draw: st.DrawFn) -> str:
    """The part of a procedure's text that matters to order."""
    lines = ["people: {unwind: 'Operator, unwind side', rewind: 'Operator, rewind side'}", "inputs:"]
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
    lines.append("phases:")
    left = 8
    for number in range(draw(st.integers(1, 2))):
        lines += [f"  - phase: Part {number}", "    park: after"]
        if draw(st.integers(0, 2)):
            one = draw(steps(f"a{number}", "unwind", min(3, left)))
            two = draw(steps(f"b{number}", "rewind", min(3, left)))
            left = max(1, left - len(one) - len(two))
            lines += ["    together:", "      unwind:", *(f"        - {line}" for line in one)]
            lines += ["      rewind:", *(f"        - {line}" for line in two)]
        else:
            only = draw(steps(f"c{number}", "unwind", min(4, left)))
            left = max(1, left - len(only))
            lines += ["    steps:", *(f"      - {line}" for line in only)]
    return "\n".join(lines) + "\n"
