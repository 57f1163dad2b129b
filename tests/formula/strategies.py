"""Random formulas over plain numbers, and boxes for their names, for the laws of values and bounds."""

from hypothesis import strategies as st

from runner.formula.interval import Interval

NAMES = ("a", "b", "c")

NUMBERS = st.floats(-50, 50, allow_nan=False).map(lambda number: f"{number:.3g}" if number >= 0 else f"({number:.3g})")
LEAVES = st.one_of(st.sampled_from(NAMES), NUMBERS)


CONDITIONS: st.SearchStrategy[str] = st.deferred(
    lambda: st.builds("{} {} {}".format, PARTS, st.sampled_from(["<", "<=", ">", ">=", "==", "!="]), PARTS)
)
LONGER: st.SearchStrategy[str] = st.deferred(
    lambda: st.one_of(
        st.builds("({} {} {})".format, PARTS, st.sampled_from(["+", "-", "*", "/"]), PARTS),
        st.builds("({})^{}".format, PARTS, st.integers(-4, 4)),
        st.builds("-({})".format, PARTS),
        st.builds(
            "{}({})".format, st.sampled_from(["abs", "sqrt", "exp", "log", "round", "ceil", "floor", "min"]), PARTS
        ),
        st.builds("{}({} * 1 [rad])".format, st.sampled_from(["sin", "cos", "tan"]), PARTS),
        st.builds("{}({}, {})".format, st.sampled_from(["min", "max", "round", "ceil", "floor"]), PARTS, PARTS),
        st.builds("if({}, {}, {})".format, CONDITIONS, PARTS, PARTS),
        st.builds("if({} and not ({}), {}, {})".format, CONDITIONS, CONDITIONS, PARTS, PARTS),
        st.builds("if({} or {}, {}, {})".format, CONDITIONS, CONDITIONS, PARTS, PARTS),
    )
)
PARTS: st.SearchStrategy[str] = st.one_of(LEAVES, LONGER)
FORMULAS = st.one_of(LONGER, PARTS).filter(lambda text: len(text) < 400)

INTERVALS = st.tuples(st.floats(-20, 20), st.one_of(st.just(0.0), st.floats(0, 20))).map(
    lambda ends: Interval(ends[0], ends[0] + ends[1])
)
BOXES = st.fixed_dictionaries(dict.fromkeys(NAMES, INTERVALS))
SHARES = st.lists(st.floats(0, 1), min_size=3, max_size=3)


def sample(box: dict[str, Interval], shares: list[float]) -> dict[str, float]:
    """One point of a box."""
    return {
        name: min(part.high, max(part.low, part.low + (part.high - part.low) * share))
        for (name, part), share in zip(box.items(), shares, strict=False)
    }
