"""A small procedure to simulate, and one that sticks."""

from runner.procedure.model import Procedure
from tests.engine.bench import compiled

STEPS = """
  - phase: Stop
    press: stopped
    steps:
      - {id: stop, by: unwind, do: Stop the drive., makes: {drive: stopped}, expect: 2 min}
      - id: press
        by: unwind
        cautions: [load]
        needs: {drive: stopped}
        hold: {release: lead, confirm: [Zone is clear]}
        do: Inflate the chuck.
        read: {pressure: {ask: Pressure, unit: bar, within: [5.5, 7], else: leaks}}
        wait: {at_least: 90 s}
        second: {by: lead, how: independent}
        trouble:
          - {id: leaks, sign: It leaks., do: Tighten the valve., back_to: press}
        expect: 3 min
      - {id: wipe, by: unwind, do: Wipe the bar., optional: reason, expect: 1 min}
      - {id: foil, by: unwind, do: Earth the foil., when: "film == 'foil'", expect: 1 min}
"""

PAIRED = """
  - phase: Both sides
    press: stopped
    together:
      unwind:
        - {id: long, by: unwind, do: Lift the roll., makes: {crane: carrying}, expect: 10 min}
        - {id: put-down, by: unwind, do: Put the roll down., needs: {crane: carrying}, makes: {crane: free}, expect: 5 min}
      rewind:
        - {id: short, by: rewind, do: Wipe the roller., makes: {drive: stopped}, expect: 1 min}
"""

STUCK = """
  - phase: Stop
    press: stopped
    steps:
      - {id: stop, by: unwind, do: Stop the drive., makes: {drive: stopped}}
      - {id: open, by: unwind, needs: {drive: running}, do: Open the guard., makes: {guard: open}}
      - {id: after, by: unwind, do: Close the guard.}
"""


def small() -> Procedure:
    """One list with most that a step may have."""
    return compiled(STEPS)
