"""What is said in words about values, sweeps and nearest jobs; the text and the page take their sentences from here."""

from collections.abc import Iterator, Mapping

from runner.procedure.model import Calculation
from runner.procedure.working import Worked
from runner.report.working.asked import Asked
from runner.report.working.marks import Signs, limit_words
from runner.report.working.nearest import Nearest
from runner.report.working.swept import Swept

AID = "Worked out from what was given; whoever uses it confirms it. This is an aid, not a load limiter."


def title(asked: Asked) -> str:
    """Which text this is about."""
    procedure = asked.procedure
    return f"{procedure.title}, revision {procedure.revision} ({procedure.status})"


def value_lines(asked: Asked, name: str, found: Worked, signs: Signs) -> Iterator[str]:
    """One result in full: name and result, then formula, numbers, limits, checks, inputs, why."""
    yield f"{name}: {found.shown}" if found.verdict == "failed" else f"{name} = {found.shown}"
    yield from detail_lines(found, signs)
    why = next((c.why for c in asked.procedure.calculations if isinstance(c, Calculation) and c.name == name), "")
    if why:
        yield f"why: {why}"


def detail_lines(found: Worked, signs: Signs) -> Iterator[str]:
    """Formula, numbers, limits, checks and inputs of a result."""
    yield f"formula: {found.formula}"
    if found.working:
        yield f"numbers: {found.working}"
    if found.limits:
        yield f"limits: {found.limits}: {'within' if found.verdict == 'in' else verdict_words(found.verdict, signs)}"
    elif found.verdict != "in":
        yield verdict_words(found.verdict, signs)
    if found.gives:
        yield found.gives
    if found.rough:
        yield found.rough
    for number, words in enumerate(input_words(found)):
        yield f"{'from: ' if not number else '      '}{words}"


def verdict_words(verdict: str, signs: Signs) -> str:
    """A verdict in full."""
    match verdict:
        case "failed":
            return f"{signs.none} NO RESULT"
        case "held":
            return f"{signs.out} OUT OF TOLERANCE, held until somebody accepts it"
        case _:
            return f"{signs.out} OUT OF LIMITS"


def input_words(found: Worked) -> list[str]:
    """Each input with where it came from, then table rows and constants: `web_width = 1200 mm (job file)`."""
    shown = dict(found.inputs)
    origins = dict(found.origins)
    words = [f"{name} = {value}" + (f" ({origins[name]})" if name in origins else "") for name, value in found.inputs]
    return words + [f"{name}: {origin}" for name, origin in found.origins if name not in shown]


def limits_words(swept: Swept, signs: Signs) -> list[str]:
    """The limits of every value that has some, where they are the same at all places, else at which they are what."""
    lines = []
    for name in swept.names:
        along = [(given.shown, found.limits) for given, found in zip(swept.sweep.given, swept.along(name), strict=True)]
        if swept.along(name)[0].ends:
            continue  # its tolerance lies around what is wanted, which moves with every place
        different = {limits for _, limits in along if limits}
        if len(different) == 1:
            lines.append(f"limits of {name}: {different.pop()}")
        elif different:
            spans = [f"{span}: {limits}" for span, limits in spans_of(along, swept.sweep.ranged) if limits]
            most = 6
            more = f"; and {len(spans) - most} more" if len(spans) > most else ""
            lines.append(f"limits of {name}: {'; '.join(spans[:most])}{more}")
    return [line.replace("<=", limit_words("<=", signs)).replace(">=", limit_words(">=", signs)) for line in lines]


def spans_of(along: list[tuple[str, str]], ranged: bool) -> Iterator[tuple[str, str]]:
    """(`first to last` place, what is the same there) of neighbours; the places of a list are named one by one."""
    if not ranged:
        for same in dict.fromkeys(what for _, what in along):
            yield ", ".join(place for place, what in along if what == same), same
        return
    start = 0
    for at in range(1, len(along) + 1):
        if at == len(along) or along[at][1] != along[start][1]:
            first, last = along[start][0], along[at - 1][0]
            yield (first if at - 1 == start else f"{first} to {last}"), along[start][1]
            start = at


def out_words(swept: Swept) -> list[str]:
    """Where values are out of their limits: `roll_mass is out of limits at 1300 mm`."""
    lines = []
    for name in swept.names:
        along = zip(swept.sweep.given, swept.along(name), strict=True)
        states = [(given.shown, "" if found.verdict == "in" else found.verdict) for given, found in along]
        for span, verdict in spans_of(states, swept.sweep.ranged):
            if verdict in ("out", "held"):
                where = f"from {span}" if swept.sweep.ranged and " to " in span else f"at {span}"
                words = "out of limits" if verdict == "out" else "out of tolerance (held)"
                lines.append(f"{name} is {words} {where}")
    return lines


def reasons(swept: Swept) -> list[str]:
    """Why there is no result where there is none, each reason once with its places."""
    lines = []
    for name in swept.names:
        along = zip(swept.sweep.given, swept.along(name), strict=True)
        failed = [(given.shown, found.shown if found.verdict == "failed" else "") for given, found in along]
        lines += [f"{name} has no result at {span}: {why}" for span, why in spans_of(failed, swept.sweep.ranged) if why]
    return lines


def still_words(swept: Swept) -> str:
    """Values that came out alike at every place, and so are not drawn; empty where there is none."""
    units = [(curve.name, swept.along(curve.name)[0].shown) for curve in swept.curves if curve.still]
    return f"the same at every place: {'; '.join(f'{name} = {shown}' for name, shown in units)}" if units else ""


def lacking_words(lacking: Mapping[str, tuple[str, ...]]) -> list[str]:
    """Values that were not worked out, and what they need."""
    if not lacking:
        return []
    return [
        "not worked out, for want of values:",
        *(f"  {name} needs {', '.join(needs)}" for name, needs in lacking.items()),
    ]


def job_words(near: Nearest) -> str:
    """The job of a limit as one would type it."""
    return ", ".join(f"{name} = {value}" for name, value in near.job) or "as given"


def held_words(asked: Asked) -> str:
    """What was held fixed while the nearest jobs were looked for."""
    if not asked.given:
        return "All values range over what the procedure allows."
    fixed = ", ".join(f"{name} = {given.shown}" for name, given in asked.given.items())
    return f"Held fixed: {fixed}. All else ranges over what the procedure allows."
