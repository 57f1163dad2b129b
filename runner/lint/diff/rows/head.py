"""Changes of the head: what the procedure is, who works by it, what is at hand, what lint was told to pass over."""

from collections.abc import Iterator

from runner.lint.allow import Allow, allows_in
from runner.lint.diff.change import Found, Weight
from runner.lint.diff.context import Context
from runner.lint.diff.row import Row, changed, quoted, text_changed
from runner.procedure.model import Procedure


def identity(old: Procedure, new: Procedure, _context: Context) -> Iterator[Found]:
    """The id."""
    yield from changed(old.id, new.id, "it has another id", old.id, new.id)


def status(old: Procedure, new: Procedure, _context: Context) -> Iterator[Found]:
    """Draft, approved, withdrawn, and who approved."""
    yield from changed(old.status, new.status, "its status is another", old.status, new.status)
    was, now = (one.approval.by if one.approval else "" for one in (old, new))
    yield from changed(was, now, "somebody else approved it", was and quoted(was), now and quoted(now))


def head_text(old: Procedure, new: Procedure, _context: Context) -> Iterator[Found]:
    """Title, equipment and purpose."""
    yield from text_changed(old.title, new.title, "its title is reworded")
    yield from text_changed(
        old.equipment, new.equipment, "it is written for other equipment, or says so in other words"
    )
    yield from text_changed(old.purpose, new.purpose, "its purpose is reworded")


def tools(old: Procedure, new: Procedure, _context: Context) -> Iterator[Found]:
    """What to have at hand."""
    for tool in old.tools:
        if tool not in new.tools:
            yield Found(Weight.CHANGED, "a tool is no longer named", quoted(tool), "")
    for tool in new.tools:
        if tool not in old.tools:
            yield Found(Weight.CHANGED, "a tool is named that was not", "", quoted(tool))


def role_there(old: tuple[str, str] | None, new: tuple[str, str] | None, _context: Context) -> Iterator[Found]:
    """A role gone or come."""
    if new is None and old is not None:
        yield Found(Weight.CHANGED, "the role is gone", quoted(old[1]), "")
    elif old is None and new is not None:
        yield Found(Weight.CHANGED, "the role is new", "", quoted(new[1]))


def role_called(old: tuple[str, str], new: tuple[str, str], _context: Context) -> Iterator[Found]:
    """How people call a role."""
    yield from text_changed(old[1], new[1], "people call the role otherwise")


def allowed(given: Procedure) -> list[Allow]:
    """The allowing comments of a procedure and its fragments, with their places as the procedure has them."""
    folder = given.phases[0].place.path.removesuffix(given.sources[0][0]) if given.phases else ""
    return [one for path, text in given.sources for one in allows_in(text, folder + path)]


def silenced(old: Procedure, new: Procedure, _context: Context) -> Iterator[Found]:
    """Comments that let a finding of lint pass."""
    was, now = (allowed(given) for given in (old, new))
    left = [one.rule for one in was]
    for one in now:
        if one.rule in left:
            left.remove(one.rule)
        else:
            yield Found(
                Weight.CHANGED,
                "a finding of lint is allowed that was not",
                "",
                f"{one.rule}: {one.reason}",
                None,
                one.place,
            )
    for rule in left:
        yield Found(Weight.CHANGED, "a finding of lint is no longer allowed", rule, "")


ROWS = (
    Row("identity", "procedure", ("a procedure.id",), identity, "Job and answers files name it by its id."),
    Row(
        "status", "procedure",
        ("a procedure.status", "a procedure.approval", "an approval.by", "an approval.on", "an approval.digest"), status,
        "A run says on every screen and record whether its text is approved.",
    ),
    Row(
        "head-text", "procedure", ("a procedure.title", "a procedure.equipment", "a procedure.purpose"), head_text,
        "People choose the procedure by these words.", paired=False,
    ),
    Row("tool", "procedure", ("a procedure.tools",), tools, "What is not at hand is fetched while others wait."),
    Row("role", "role", ("a procedure.people",), role_there, "Steps and releases go to roles.", alone=True),
    Row("role-name", "role", ("a procedure.people",), role_called, "People find their steps by it.", paired=False),
    Row("silenced-finding", "procedure", (), silenced, "What lint would say about this place is no longer heard."),
)  # fmt: skip
