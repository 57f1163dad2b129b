"""How much web a job takes: whether the roll ends first is one subtraction from there.

What is left over is never clipped: a negative length left over says how many metres are missing. Metres.
"""


def length_needed(good: float, waste: float, once: float, splices: float, each_splice: float) -> float:
    """Web that `good` metres of the job take from the roll, L / (1 - w) + once + n s, in m.

    `waste` is the share of all web run that is lost while running, `once` what is lost a single time (threading, running
    up), `each_splice` what one splice costs. Source: common practice, no source; taken from all web run and not added
    to the good, the same share asks for a little more web. Range: none below zero, waste below 1.
    """
    if min(good, once, each_splice) < 0.0:
        raise ValueError("lengths that a job needs cannot be negative")
    if splices < 0.0:
        raise ValueError("the number of splices cannot be negative")
    if not 0.0 <= waste < 1.0:
        raise ValueError("waste is a share from 0 to less than 1")
    return good / (1.0 - waste) + once + splices * each_splice
