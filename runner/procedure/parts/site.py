"""Parts of a site file that concern the press: racks as counted, lifting gear with its inspection, times of the day.

Masses are read as the procedure language reads them. Whether a day has passed is not judged here: nobody knows today's date.
"""

from runner.formula.dimension import MASS, describe
from runner.formula.repairs import clash
from runner.procedure.asks.wait import seconds
from runner.procedure.desk import Desk, one_line
from runner.procedure.nodes import Map, Seq
from runner.procedure.parts.head import text
from runner.procedure.parts.values import read_racks
from runner.procedure.site_facts import Facts, GearRow, PieceRow


def read_facts(root: Map, desk: Desk) -> Facts:
    """What a sound site file says of the press."""
    ends = root.get("shift_ends", ())
    return Facts(
        read_pieces(root, desk),
        read_gear(root["gear"], desk) if isinstance(root.get("gear"), Map) else None,
        seconds(text(root, "park_within")) if "park_within" in root else 0.0,
        tuple(sorted(desk.different(ends, "time"))) if isinstance(ends, Seq) else (),
    )


def read_pieces(root: Map, desk: Desk) -> tuple[PieceRow, ...]:
    """The racks as counted."""
    racks = read_racks(root, desk)
    for name in racks:
        real_day(root["pieces"][name], "counted", desk)
    return tuple(
        (
            name,
            rack.unit.text,
            text(root["pieces"][name], "counted"),
            tuple((mass, count) for mass, _, count in rack.stock),
        )
        for name, rack in racks.items()
    )


def read_gear(nodes: Map, desk: Desk) -> tuple[GearRow, ...]:
    """The lifting gear; a faulty piece is left out after its finding."""
    rows: list[GearRow] = []
    for name, node in nodes.items():
        given = desk.quantity(node, "rating")
        days = [real_day(node, key, desk) for key in ("inspected", "until")]
        if all(days) and text(node, "until") < text(node, "inspected"):
            message = f"the inspection of {text(node, 'inspected')} cannot count until {text(node, 'until')}, before it"
            desk.at_value("dates-reversed", message, node, "until")
        if given is None:
            continue
        value, unit = given
        if unit.dimension != MASS:
            words = f"a rating is a mass (kg); {unit.text} is {describe(unit.dimension, unit.text)}"
            desk.at_value("unit-mismatch", words, node, "rating", clash(unit.dimension, MASS))
        elif value <= 0:
            desk.at_value("wrong-value", "`rating` is above zero", node, "rating")
        else:
            label = one_line(text(node, "label", name.replace("_", " ")))
            rows.append((name, label, unit.si(value), one_line(text(node, "rating")), text(node, "until")))
    return tuple(rows)


def real_day(node: Map, key: str, desk: Desk) -> bool:
    """Whether a date stands in the calendar; else a finding."""
    from datetime import date

    try:
        date.fromisoformat(text(node, key))
    except ValueError:
        desk.at_value("wrong-value", f"there is no day {text(node, key)}", node, key)
        return False
    return True


def past_days(root: Map, today: str) -> list[tuple[Map, str, str]]:
    """(node, key, words) of inspections and qualifications of a sound site file that no longer count on a day."""
    found: list[tuple[Map, str, str]] = []
    gear, people = root.get("gear"), root.get("people", ())
    for name, node in gear.items() if isinstance(gear, Map) else ():
        if text(node, "until") < today:
            label = one_line(text(node, "label", name.replace("_", " ")))
            found.append((node, "until", f"the inspection of {label} counted until {text(node, 'until')}"))
    for node in people if isinstance(people, Seq) else ():
        days = node.get("qualified")
        for procedure, day in days.items() if isinstance(days, Map) else ():
            if str(day).strip() < today:
                who = one_line(text(node, "name"))
                found.append((days, procedure, f"{who} was qualified for {procedure} until {str(day).strip()}"))
    return found
