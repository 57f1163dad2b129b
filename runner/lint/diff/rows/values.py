"""Changes of what is given: inputs of the ticket, tables, racks, web paths."""

from collections.abc import Iterator

from runner.formula.scope import PathRoller, TableRows
from runner.lint.diff import said
from runner.lint.diff.change import Found, Weight
from runner.lint.diff.context import Context, path_key, table_key
from runner.lint.diff.naming import roller_in_new_names
from runner.lint.diff.row import Row, changed, quoted, text_changed
from runner.lint.diff.rows import limits
from runner.procedure.model import Input, Rack

Table = tuple[str, TableRows]
WebPath = tuple[str, tuple[PathRoller, ...]]


def input_there(old: Input | None, new: Input | None, _context: Context) -> Iterator[Found]:
    """An input gone or come."""
    if new is None and old is not None:
        yield Found(Weight.CHANGED, "it is no longer on the ticket", quoted(old.ask), "")
    elif old is None and new is not None:
        yield Found(Weight.CHANGED, "it is on the ticket now", "", quoted(new.ask))


def kind_of(given: Input) -> str:
    """Number, choice or text."""
    return "number" if given.unit else "choice" if given.choices else "any text"


def input_kind(old: Input, new: Input, _context: Context) -> Iterator[Found]:
    """What is typed, and in which unit."""
    yield from changed(
        kind_of(old), kind_of(new), "it is another kind of value", kind_of(old), kind_of(new), Weight.MAYBE
    )
    if old.unit and new.unit and old.unit.text != new.unit.text:
        yield Found(Weight.CHANGED, "it is asked for in another unit", old.unit.text, new.unit.text)


def input_within(old: Input, new: Input, _context: Context) -> Iterator[Found]:
    """The numbers allowed."""
    unit = new.unit or old.unit
    yield from limits.band(old.within, new.within, unit, ("least value allowed", "greatest value allowed"))
    yield from limits.band(old.likely, new.likely, unit, ("least usual value", "greatest usual value"))


def input_choice(old: Input, new: Input, _context: Context) -> Iterator[Found]:
    """The texts allowed."""
    if not old.choices or not new.choices:
        return
    for text in new.choices:
        if text not in old.choices:
            yield Found(Weight.WEAKER, "a choice is allowed that was not", "", quoted(text))
    for text in old.choices:
        if text not in new.choices:
            yield Found(Weight.STRONGER, "a choice is no longer allowed", quoted(text), "")


def input_text(old: Input, new: Input, _context: Context) -> Iterator[Found]:
    """What people read."""
    yield from text_changed(old.ask, new.ask, "it is called otherwise")
    yield from text_changed(old.why, new.why, "its why is reworded")


def table(old: Table | None, new: Table | None, _context: Context) -> Iterator[Found]:
    """The rows of a table; what they do to limits is told at the limits."""
    if old is None and new is not None:
        yield Found(Weight.CHANGED, "the table is new", "", f"{len(new[1].rows)} rows")
    elif new is None and old is not None:
        yield Found(Weight.CHANGED, "the table is gone", f"{len(old[1].rows)} rows", "")
    elif old is not None and new is not None and table_key(old[1]) != table_key(new[1]):
        (columns, was), (other, now) = table_key(old[1]), table_key(new[1])
        if columns != other:
            yield Found(
                Weight.CHANGED, "its columns are others", said.several(old[1].columns), said.several(new[1].columns)
            )
            return
        for row in old[1].rows:
            if row not in new[1].rows:
                yield Found(Weight.CHANGED, "a row is gone, or says something else", row_words(row), "")
        for row in new[1].rows:
            if row not in old[1].rows:
                yield Found(Weight.CHANGED, "a row is new, or says something else", "", row_words(row))
        if set(was) == set(now):  # type: ignore[call-overload]  # a table's key: its columns, then its rows
            yield Found(Weight.CHANGED, "its rows stand in another order")


def row_words(row: tuple[float | str, ...]) -> str:
    """A row, its numbers in SI."""
    return said.several([cell if isinstance(cell, str) else f"{cell:g} (SI)" for cell in row])


def path(old: WebPath | None, new: WebPath | None, context: Context) -> Iterator[Found]:
    """The rollers of a web path; what they do to values is told at the values."""
    if old is None and new is not None:
        yield Found(Weight.CHANGED, "the web path is new", "", f"{len(new[1])} rollers")
    elif new is None and old is not None:
        yield Found(Weight.CHANGED, "the web path is gone", f"{len(old[1])} rollers", "")
    elif old is not None and new is not None:
        was = {roller.name: roller_in_new_names(roller, context.naming) for roller in old[1]}
        now = {roller.name: roller for roller in new[1]}
        for name in was.keys() | now.keys():
            yield from roller(was.get(name), now.get(name), context)
        if was.keys() == now.keys() and list(was) != list(now):
            yield Found(
                Weight.MAYBE,
                "the web meets its rollers in another order",
                said.several(list(was)),
                said.several(list(now)),
            )


def roller(old: PathRoller | None, new: PathRoller | None, _context: Context) -> Iterator[Found]:
    """One roller."""
    if old is None and new is not None:
        yield Found(Weight.CHANGED, f"the roller {new.name} is new", "", new.side)
    elif new is None and old is not None:
        yield Found(Weight.CHANGED, f"the roller {old.name} is gone", old.side, "")
    elif old is not None and new is not None:
        if old.side != new.side:
            yield Found(Weight.MAYBE, f"the web passes the roller {new.name} on the other side", old.side, new.side)
        if path_key((old,)) != path_key((new._replace(side=old.side),)):
            yield Found(
                Weight.CHANGED,
                f"the roller {new.name} has another place, size or way to move",
                roller_words(old),
                roller_words(new),
            )


def roller_words(given: PathRoller) -> str:
    """Where a roller is and how large."""
    moves = "" if given.moves is None else f", moves at {given.moves:.4g} rad"
    travel = "" if given.travel is None else f", travel {given.travel[0]:g} m to {given.travel[1]:g} m"
    return (
        f"at {said.formula(given.x)}, {said.formula(given.y)}, diameter {said.formula(given.diameter)}{moves}{travel}"
    )


def rack(old: Rack | None, new: Rack | None, _context: Context) -> Iterator[Found]:
    """The pieces at hand."""
    was, now = (stock_words(one) if one else "" for one in (old, new))
    words = "the rack is new" if old is None else "the rack is gone" if new is None else "it holds other pieces"
    yield from changed(was, now, words, was, now)


def stock_words(given: Rack) -> str:
    """The pieces of a rack."""
    return said.several([f"{count} of {parts / given.parts:g} {given.unit.text}" for _, parts, count in given.stock])


ROWS = (
    Row("input", "input", ("a procedure.inputs",), input_there, "The ticket has to say it, or no longer does.", alone=True),
    Row("input-kind", "input", ("an input.unit", "an input.choose"), input_kind, "The same typing means something else."),
    Row(
        "input-limits", "input", ("an input.within", "an input.likely"), input_within,
        "A ticket passes that was refused or marked.",
    ),
    Row("input-choice", "input", ("an input.choose",), input_choice, "A ticket passes that was refused."),
    Row("input-text", "input", ("an input.ask", "an input.why"), input_text, "People read it off the ticket by these words.", paired=False),
    Row(
        "table", "table", ("a procedure.tables", "a table.columns", "a table.rows"), table,
        "Limits and values that look into it are told by themselves.", alone=True,
    ),
    Row(
        "web-path", "path",
        ("a procedure.web_paths", "a web path.rollers", "a roller.roller", "a roller.at", "a roller.diameter", "a roller.pass", "a roller.moves", "a roller.travel"),
        path, "Web is threaded by it, and lengths and pulls are worked out from it.", paired=False, alone=True,
    ),
    Row("rack", "rack", ("a procedure.pieces", "a rack.unit", "a rack.stock"), rack, "Pieces are planned from it.", alone=True),
)  # fmt: skip
