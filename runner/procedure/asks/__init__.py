"""What a step may ask of a person, one file a kind. Invariant: the rest of the program knows a kind by `AskKind` alone."""

from runner.procedure.asks.ask import AskKind
from runner.procedure.asks.choice import CHOICE
from runner.procedure.asks.feed import FEED
from runner.procedure.asks.reading import READING
from runner.procedure.asks.scan import SCAN
from runner.procedure.asks.threading import THREADING
from runner.procedure.asks.wait import WAIT

KINDS: tuple[AskKind, ...] = (
    READING,
    CHOICE,
    SCAN,
    THREADING,
    FEED,
    WAIT,
)
"""All kinds, in the order in which a step asks."""

KIND_OF: dict[str, AskKind] = {kind.key: kind for kind in KINDS}
"""By the key of a step, which is also `Ask.kind`."""
