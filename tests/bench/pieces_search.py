"""Prints how long the choice of pieces from a rack of twelve masses takes, against adding up two million numbers.

Goal: 12 masses of 40 pieces each in well under the yardstick.
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
    for target in (36709, 132563, 400000):
        stock = dict.fromkeys(MASSES, 40)
        search = partial(choose_pieces, target, stock, 2, within_g=500)
        pairs = [(seconds(search), seconds(lambda: sum(range(2_000_000)))) for _ in range(RUNS)]
        ratio = statistics.median(one / other for one, other in pairs)
        print(f"{target} g from twelve masses of forty: {ratio:.2f} x adding up two million numbers")


if __name__ == "__main__":
    main()
