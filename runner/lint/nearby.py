"""Where keys and words below a named thing stand in the text.

The model keeps the place of every step, state and caution, not of every key in them. A rule that has something to say
about one key finds it here, by reading the text again; this costs nothing until there is a finding.
"""

from collections.abc import Iterator, Mapping, Sequence

from runner.procedure.finding import Place
from runner.procedure.nodes import Map, Seq, key_place, node_place, offset_place, value_place

Key = str | int


class Nearby:
    """The nodes of the texts, by place."""

    def __init__(self, texts: Mapping[str, str]) -> None:
        self.texts = texts
        self.files: dict[str, dict[Place, list[Map | Seq]]] = {}

    def within(self, place: Place, keys: Sequence[Key]) -> Place:
        """The place of the last of `keys`, gone down from the thing at `place`.

        `place` may be where the thing begins, where its key stands, or where the value of its first key does. A thing that
        the text does not show gives the place nearest to it.
        """
        return self._down(self._named(place, keys[0]) if keys else None, place, keys)

    def in_text(self, place: Place, key: str, text: str, offset: int) -> Place:
        """The place of character `offset` of the scalar under a key of the thing at `place`.

        `text` is the scalar as the procedure has it. Where a fragment's parameters made it other than the file's, the word
        at the offset is looked for instead, and the scalar's beginning stands for one that is not there.
        """
        node = self._named(place, key)
        if not isinstance(node, Map) or not isinstance(node[key], str):
            return place
        if node[key] != text:
            word = next(iter(text[offset:].split()), "")
            offset = max(0, node[key].find(word))
        return offset_place(node, key, offset)

    def top(self, path: str, keys: Sequence[Key]) -> Place:
        """The place of the last of `keys`, gone down from the top of a text."""
        from runner.procedure.source import read

        return self._down(read(self.texts.get(path, ""), path).root, Place(path, 1, 1), keys)

    def _named(self, place: Place, key: Key) -> object:
        """The thing at a place that has the key."""
        return next((node for node in self._nodes(place.path).get(place, []) if _has(node, key)), None)

    def _down(self, node: object, found: Place, keys: Sequence[Key]) -> Place:
        for key in keys:
            if not isinstance(node, Map | Seq) or not _has(node, key):
                return found
            found = key_place(node, key)
            node = _get(node, key)
        return found

    def _nodes(self, path: str) -> dict[Place, list[Map | Seq]]:
        if path not in self.files:
            from runner.procedure.source import read

            nodes: dict[Place, list[Map | Seq]] = {}
            for place, node in _by_place(read(self.texts.get(path, ""), path).root):
                nodes.setdefault(place, []).append(node)
            self.files[path] = nodes
        return self.files[path]


def _by_place(node: object) -> Iterator[tuple[Place, Map | Seq]]:
    """Every map and list under the places by which others may name it, inner ones first."""
    if isinstance(node, Map):
        for key, value in node.items():
            yield from _by_place(value)
            if isinstance(value, Map | Seq):
                yield key_place(node, key), value
            else:
                yield value_place(node, key), node
        yield node_place(node), node
    elif isinstance(node, Seq):
        for value in node:
            yield from _by_place(value)
        yield node_place(node), node


def _has(node: object, key: Key) -> bool:
    if isinstance(node, Map):
        return key in node
    return isinstance(node, Seq) and isinstance(key, int) and 0 <= key < len(node)


def _get(node: Map | Seq, key: Key) -> object:
    return node[key]  # type: ignore[index]  # a key for a map, an index for a list: `_has` has looked
