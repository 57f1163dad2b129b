"""Every scalar of a tree with the shape that the language gives its place: what is it, and what stands around it.

One walk serves the cursor, the index of names and renaming. Where the text does not fit the language the shape is None, and
nothing is known of what stands there.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from runner.editor.tree import Entries, Pair, Pairs, Scalar, Tree
from runner.procedure.language.files import ANSWERS, FRAGMENT, JOB, PROCEDURE
from runner.procedure.language.scenario import SCENARIO
from runner.procedure.language.shape import Either, ListOf, MapOf, Record, Shape, key_of
from runner.procedure.language.site import SITE

RECORDS: dict[str, Record] = {
    ".procedure.yaml": PROCEDURE,
    ".fragment.yaml": FRAGMENT,
    ".job.yaml": JOB,
    ".answers.yaml": ANSWERS,
    ".site.yaml": SITE,
    ".scenario.yaml": SCENARIO,
}
"""By the end of a file's name: what its top map is."""


@dataclass(frozen=True, slots=True)
class Level:
    """One map or list on the way from the top, with its shape, and the key or number that the way takes through it."""

    node: Pairs | Entries
    shape: Shape | None
    key: str | int


@dataclass(frozen=True, slots=True)
class Seen:
    """One scalar in its place."""

    scalar: Scalar
    role: str
    """key: of a map; value: behind a key or an entry of a list."""
    shape: Shape | None
    """Of a value its own; of a key that of its map."""
    trail: tuple[Level, ...]
    """From the top map to the map or list that it stands in."""
    pair: Pair | None
    """The pair, where it stands in a map."""

    @property
    def record(self) -> Record | None:
        """The nearest record around."""
        return next((level.shape for level in reversed(self.trail) if isinstance(level.shape, Record)), None)

    @property
    def key(self) -> str:
        """The key of that record under which it stands; empty for keys of the record itself."""
        if self.role == "key" and self.trail and isinstance(self.trail[-1].shape, Record):
            return ""
        return next((str(one.key) for one in reversed(self.trail) if isinstance(one.shape, Record)), "")

    @property
    def site(self) -> tuple[str, str, str]:
        """Record, key and role: what `meanings` knows places by."""
        record = self.record
        return ("" if record is None else record.name, self.key, self.role)

    def around(self, name: str) -> Level | None:
        """The nearest record of that name around, with the key that leads on from it."""
        return next(
            (one for one in reversed(self.trail) if isinstance(one.shape, Record) and one.shape.name == name), None
        )

    def named_by(self, key: str) -> str:
        """The key that the author chose in the nearest map of such keys under `key`, as `web_width` under `inputs`."""
        for above, below in zip(reversed(self.trail[:-1]), reversed(self.trail), strict=False):
            if above.key == key and isinstance(below.shape, MapOf):
                return str(below.key)
        return ""


def visit(tree: Tree | None, record: Record) -> Iterator[Seen]:
    """All scalars, in the order of the text."""
    if tree is not None:
        yield from node(tree, record, ())


def node(tree: Tree, shape: Shape | None, trail: tuple[Level, ...], pair: Pair | None = None) -> Iterator[Seen]:
    """The scalars of one node."""
    shape = picked(shape, tree)
    match tree:
        case Scalar():
            if isinstance(shape, ListOf) and shape.alone:
                shape = picked(shape.of, tree)
            yield Seen(tree, "value", shape, trail, pair)
        case Pairs(pairs=pairs):
            for one in pairs:
                here = (*trail, Level(tree, shape, one.key.value))
                yield Seen(one.key, "key", shape, here, one)
                if one.value is not None:
                    yield from node(one.value, under(shape, one.key.value), here, one)
        case Entries(entries=entries):
            inner = shape.of if isinstance(shape, ListOf) else None
            for number, entry in enumerate(entries):
                if entry is not None:
                    yield from node(entry, inner, (*trail, Level(tree, shape, number)))


def picked(shape: Shape | None, tree: Tree) -> Shape | None:
    """The record that is meant, where a shape leaves two."""
    if isinstance(shape, Either):
        return shape.has if isinstance(tree, Pairs) and tree.get(shape.telltale) is not None else shape.without
    return shape


def under(shape: Shape | None, key: str) -> Shape | None:
    """The shape of what stands under a key."""
    match shape:
        case MapOf(value=value):
            return value
        case Record():
            known = key_of(shape, key)
            return None if known is None else known.shape
        case _:
            return None
