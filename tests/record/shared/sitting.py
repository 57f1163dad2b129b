"""A terminal as a process of its own, for tests that kill it: it notes exceptions and writes down each that was taken.

keep FOLDER NAME COUNT      begins a run and keeps it; writes `path PATH` first, then waits for a line
join PATH NAME COUNT        joins it, and takes it over where nobody keeps it any more
"""

import sys
import time
from pathlib import Path

from runner.engine.intents import Refusal, Resume
from tests.record.shared.bench import joined, kept
from tests.record.shared.test_pair import note


def main(what: str, where: str, name: str, count: str) -> None:
    """Sit there until all is noted, or until killed."""
    run = kept(Path(where)) if what == "keep" else joined(where, name)
    print("path", run.path, flush=True)
    sys.stdin.readline()
    for number in range(int(count)):
        words = f"{name}/{number}"
        taken = run.submit(note(words))
        while isinstance(taken, Refusal):
            if "take over" not in taken.reason and run.lost:
                print("over", run.submit(Resume("Uma")) == (), run.submit(Resume("Uma")) != (), flush=True)
            print("refused", words, taken.reason, flush=True)
            words += "'"  # whether it was kept is an open question: what is said next is another thing
            time.sleep(0.02)
            taken = run.submit(note(words))
        print("taken", words, flush=True)
    run.close()
    print("left", flush=True)


if __name__ == "__main__":
    main(*sys.argv[1:])
