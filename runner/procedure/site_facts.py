"""What a site file says of the press and not of people: pieces that really hang there, lifting gear, shifts, stretches of work.

They are rows of plain values, so that the record of a run keeps them as they are and a replay works with the same ones. A rack
of the site takes the place of the procedure's rack of the same name; nothing else of a procedure is changed by them.
"""

from typing import NamedTuple

from runner.formula.units import Unit, parse_unit, quotient
from runner.procedure.finding import Place
from runner.procedure.model import Procedure, Rack

PieceRow = tuple[str, str, str, tuple[tuple[str, int], ...]]
"""(rack, unit, day of counting, (mass as written, how many) heaviest first)."""

GearRow = tuple[str, str, float, str, str]
"""(name, what people call it, rating in kg, rating as written, last day on which its inspection counts)."""

NOWHERE = Place("", 1, 1)


class Facts(NamedTuple):
    """All of them. Empty ones say nothing."""

    pieces: tuple[PieceRow, ...] = ()
    gear: tuple[GearRow, ...] | None = None
    """None where the site lists none: nothing is checked then."""
    park_within_s: float = 0.0
    """0 where the site does not say."""
    shift_ends: tuple[str, ...] = ()
    """Local times, 14:00."""

    @property
    def said(self) -> bool:
        """True where the site says any of them."""
        return self != Facts()


NONE = Facts()


def with_pieces(procedure: Procedure, pieces: tuple[PieceRow, ...]) -> Procedure:
    """The procedure with the racks of the site in place of its own; the very same where that changes nothing."""
    counted = {rack.name: rack for row in pieces if (rack := rack_of(row)) is not None}
    if not any(rack.name in counted for rack in procedure.racks):
        return procedure
    racks = tuple(
        counted[rack.name]._replace(place=rack.place) if rack.name in counted else rack for rack in procedure.racks
    )
    return procedure if racks == procedure.racks else procedure._replace(racks=racks)


def rack_of(row: PieceRow) -> Rack | None:
    """A rack from its row; None where the row was not written by this program."""
    name, written, day, stock = row
    unit = parse_unit(written)
    if not isinstance(unit, Unit):
        return None
    bare = Rack(name, unit, (), NOWHERE, f"as counted on {day} (site file)")
    return bare._replace(stock=tuple((mass, parts_of(mass, bare), count) for mass, count in stock))


def parts_of(mass: str, rack: Rack) -> int:
    """A mass as the rack writes it, in the rack's parts."""
    top, bottom = quotient(float(mass))
    return top * rack.parts // bottom
