"""Prints how long the choice of pieces from a rack of twelve masses takes, against adding up two million numbers.

Goal: 12 masses of 40 pieces each in under 50 ms, and well under the yardstick; once with ends of equal mass, once with ends
that may differ by 1 kg, which takes a search over both ends.
"""

import statistics
import time
from collections.abc import Callable
from functools import partial

from runner.trade.pieces import choose_pieces

MASSES = (250, 500, 1000, 1250, 1500, 2000, 2500, 3000, 5000, 7500, 10000, 20000)
RUNS = 7


def seconds(act: Callable[[], object]) -> float:
    began = time.perf_counter()
    act()
    return time.perf_counter() - began


def main() -> None:
    stock = dict.fromkeys(MASSES, 40)
    for target in (36709, 132563, 400000):
        for uneven in (0, 1000):
            search = partial(choose_pieces, target, stock, 2, within_g=500, uneven_g=uneven)
            pairs = [(seconds(search), seconds(lambda: sum(range(2_000_000)))) for _ in range(RUNS)]
            ratio = statistics.median(one / other for one, other in pairs)
            took = 1000 * statistics.median(one for one, _ in pairs)
            ends = f"ends within {uneven} g" if uneven else "equal ends"
            print(
                f"{target} g from twelve masses of forty, {ends}: {took:.1f} ms, {ratio:.2f} x adding up two million numbers"
            )


if __name__ == "__main__":
    main()
