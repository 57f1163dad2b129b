"""What the site file said of the press, as the record keeps it: pieces, lifting gear, shifts. Quoted, not judged."""

from runner.engine import events as ev
from runner.report.contents.names import Entries
from runner.report.contents.section import EVENT, Column, Row, Section, stamp
from runner.report.contents.words import moment_words


def site_section(entries: Entries) -> Section:
    """A row for each thing that was said, each time that the file was read and said something else."""
    rows = tuple(
        {**stamp(number, event), **row}
        for number, event in entries
        if isinstance(event, ev.SiteRead)
        for row in rows_of(event)
    )
    columns = (
        Column("What", "what"),
        Column("By the site file", "said"),
        Column("As of", "day"),
        Column("Read (UTC)", lambda row: moment_words(row["at"])),
        EVENT,
    )
    return Section(
        "site", "By the site file", columns, rows, "There was no site file, or it said nothing of the press."
    )


def unqualified_section(entries: Entries) -> Section:
    """Who took a role without standing in the register of qualifications."""
    rows = tuple(
        {**stamp(number, event), "role": event.role, "name": event.name, "why": event.why}
        for number, event in entries
        if isinstance(event, ev.QualificationMissing)
    )
    columns = (
        Column("Person", "name"),
        Column("Role", "role"),
        Column("What the register says", "why"),
        Column("When (UTC)", lambda row: moment_words(row["at"])),
        EVENT,
    )
    return Section("unqualified", "Roles taken without a qualification", columns, rows, "Nobody.")


def rows_of(read: ev.SiteRead) -> list[Row]:
    """Pieces, gear and times of one reading."""
    rows: list[Row] = []
    for rack, unit, day, stock in read.pieces:
        said = ", ".join(f"{count} of {mass} {unit}" for mass, count in stock)
        rows.append({"what": f"pieces in {rack}", "said": said, "day": f"counted {day}"})
    for name, label, _rating, shown, until in read.gear or ():
        what = label if label == name.replace("_", " ") else f"{label} ({name})"
        rows.append({"what": what, "said": f"carries {shown}", "day": f"inspection counts until {until}"})
    if read.park_within_s:
        said = f"at most {read.park_within_s / 60:g} min"
        rows.append({"what": "work from one parking place to the next", "said": said, "day": ""})
    if read.shift_ends:
        rows.append({"what": "shifts end", "said": ", ".join(read.shift_ends), "day": "local time"})
    return rows
