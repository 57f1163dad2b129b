"""Rules about locking a machine off, in the order of 29 CFR 1910.147: off, locked, relieved, tried; then clear, unlocked, told, on.

They speak only where a procedure tracks a personal lock as a state, told by its words (`runner.lint.equipment`). They hold the text
to an order; the lock on the hasp is what protects, and the site's own written procedure comes first.
"""

from collections.abc import Iterator

from runner.lint.analysis import Analysis
from runner.lint.equipment import Equipment, Part, among
from runner.lint.rule import Remark, rule
from runner.lint.word_lists import TELLS
from runner.lint.words import first_word, words_of
from runner.procedure.finding import Severity
from runner.procedure.model import Step


@rule(Severity.WARNING, lasting=True)
def lock_before_switch_off(analysis: Analysis) -> Iterator[Remark]:
    """A step puts a lock on and does not need what it locks to be off.

    Why: a lock on a switch that is on keeps the machine running, and the lock itself looks like safety.
    Source: shut down and isolate come before the lock: 29 CFR 1910.147(d)(2) to (d)(4).

    Wrong:
        states:
          main_switch: {of: ["off", "on"], at_start: "on", at_end: "off"}
          fitter_lock: {of: ["off", "on"], at_start: "off", one_owner: true}
        phases:
          - phase: Lock
            park: after
            steps:
              - {id: lock, by: unwind, do: Put your lock on the hasp., makes: {fitter_lock: "on"}}  # here
              - {id: switch, by: unwind, do: Turn the switch off., makes: {main_switch: "off"}}
              - {id: try, by: unwind, do: Press the start button., needs: {fitter_lock: "on", main_switch: "off"}}
              - {id: unlock, by: unwind, do: Take your lock off., needs: {main_switch: "off"}, makes: {fitter_lock: "off"}}
    Right:
        states:
          main_switch: {of: ["off", "on"], at_start: "on", at_end: "off"}
          fitter_lock: {of: ["off", "on"], at_start: "off", one_owner: true}
        phases:
          - phase: Lock
            park: after
            steps:
              - {id: switch, by: unwind, do: Turn the switch off., makes: {main_switch: "off"}}
              - {id: lock, by: unwind, do: Put your lock on., needs: {main_switch: "off"}, makes: {fitter_lock: "on"}}
              - {id: try, by: unwind, do: Press the start button., needs: {fitter_lock: "on", main_switch: "off"}}
              - {id: unlock, by: unwind, do: Take your lock off., needs: {main_switch: "off"}, makes: {fitter_lock: "off"}}
    """
    parts = analysis.equipment
    for step, lock in _steps_making(analysis, parts.locks, safe=True):
        if parts.switches and not any(among(step.needs, switch, switch.safe) for switch in parts.switches):
            yield Remark(
                analysis.within(step.place, "makes"),
                f"`{step.id}` puts on {lock.label} and does not need {_named(parts, parts.switches)}",
                "Add it to its `needs`: off first, then the lock.",
            )


@rule(Severity.WARNING, lasting=True)
def energy_relieved_before_lock(analysis: Analysis) -> Iterator[Remark]:
    """A step relieves stored energy and needs no lock to be on.

    Why: with the supply not locked off, what is vented fills again while hands are inside.
    Source: stored energy is relieved after the locks are on: 29 CFR 1910.147(d)(4) and (d)(5).

    Wrong:
        states:
          air: {of: [vented, full], at_start: full, at_end: vented}
          fitter_lock: {of: ["off", "on"], at_start: "off", at_end: "off", one_owner: true}
        phases:
          - phase: Lock
            park: after
            steps:
              - {id: vent, by: unwind, do: Open the vent., makes: {air: vented}}  # here
              - {id: lock, by: unwind, do: Put your lock on., makes: {fitter_lock: "on"}}
              - {id: try, by: unwind, do: Press the start button., needs: {fitter_lock: "on", air: vented}}
              - {id: unlock, by: unwind, do: Take your lock off the hasp., makes: {fitter_lock: "off"}}
    Right:
        states:
          air: {of: [vented, full], at_start: full, at_end: vented}
          fitter_lock: {of: ["off", "on"], at_start: "off", at_end: "off", one_owner: true}
        phases:
          - phase: Lock
            park: after
            steps:
              - {id: lock, by: unwind, do: Put your lock on., makes: {fitter_lock: "on"}}
              - {id: vent, by: unwind, do: Open the vent., needs: {fitter_lock: "on"}, makes: {air: vented}}
              - {id: try, by: unwind, do: Press the start button., needs: {fitter_lock: "on", air: vented}}
              - {id: unlock, by: unwind, do: Take your lock off the hasp., makes: {fitter_lock: "off"}}
    """
    locks = analysis.equipment.locks
    for step, energy in _steps_making(analysis, analysis.equipment.energies if locks else (), safe=True):
        if not any(among(step.needs, lock, lock.safe) for lock in locks):
            yield Remark(
                analysis.within(step.place, "makes"),
                f"`{step.id}` relieves {energy.label} and needs no lock to be on",
                f"Add {locks[0].label} to its `needs`.",
            )


@rule(Severity.WARNING, lasting=True)
def isolation_not_tried(analysis: Analysis) -> Iterator[Remark]:
    """Locks are put on, and no step tries whether the machine is without power.

    Why: a switch with one pole stuck, or the wrong switch, is found by pressing start, or by the hand inside.
    Source: isolation is verified before work begins: 29 CFR 1910.147(d)(6).

    Wrong:
        states:
          fitter_lock: {of: ["off", "on"], at_start: "off", at_end: "off", one_owner: true}
        phases:
          - phase: Lock
            park: after
            steps:
              - {id: lock, by: unwind, do: Put your lock on the hasp., makes: {fitter_lock: "on"}}  # here
              - {id: wipe, by: unwind, do: Wipe the knives., needs: {fitter_lock: "on"}}
              - {id: unlock, by: unwind, do: Take your lock off the hasp., makes: {fitter_lock: "off"}}
    Right:
        states:
          fitter_lock: {of: ["off", "on"], at_start: "off", at_end: "off", one_owner: true}
        phases:
          - phase: Lock
            park: after
            steps:
              - {id: lock, by: unwind, do: Put your lock on the hasp., makes: {fitter_lock: "on"}}
              - {id: try, by: unwind, do: Press the start button of the slitter., needs: {fitter_lock: "on"}}
              - {id: wipe, by: unwind, do: Wipe the knives., needs: {fitter_lock: "on"}}
              - {id: unlock, by: unwind, do: Take your lock off the hasp., makes: {fitter_lock: "off"}}
    """
    locked = list(_steps_making(analysis, analysis.equipment.locks, safe=True))
    if locked and not any(_tries(analysis, step) for step in analysis.steps):
        yield Remark(
            analysis.within(locked[0][0].place, "makes"),
            f"after `{locked[0][0].id}` no step tries to start the machine",
            "Add a step that presses start, with the locks on, and asks what moved.",
        )


def _tries(analysis: Analysis, step: Step) -> bool:
    """Whether a step presses start, tests or measures while a lock is on or a switch is off."""
    words = set(words_of(step.do.text))
    if first_word(step.do.text) not in ("try", "test") and not (
        {"start", "voltage"} & words and {"press", "try", "push", "operate", "turn", "measure", "test"} & words
    ):
        return False
    kept = (*analysis.equipment.locks, *analysis.equipment.switches)
    return any(among(step.needs, part, part.safe) for part in kept)


@rule(Severity.WARNING, lasting=True)
def lock_off_with_guard_open(analysis: Analysis) -> Iterator[Remark]:
    """A step takes a lock off and needs no guard to be closed.

    Why: with the lock goes the last thing between the crew and the start; guards and tools come before it.
    Source: the machine is looked over and whole before the devices come off: 29 CFR 1910.147(e)(1).

    Wrong:
        states:
          cover: {of: [closed, open], at_start: closed, at_end: closed}
          fitter_lock: {of: ["off", "on"], at_start: "off", at_end: "off", one_owner: true}
        phases:
          - phase: Lock
            park: after
            steps:
              - {id: lock, by: unwind, do: Put your lock on the hasp., makes: {fitter_lock: "on"}}
              - {id: try, by: unwind, do: Press the start button of the slitter., needs: {fitter_lock: "on"}}
              - {id: open, by: unwind, do: Open the cover., needs: {fitter_lock: "on"}, makes: {cover: open}}
              - {id: unlock, by: unwind, do: Take your lock off the hasp., makes: {fitter_lock: "off"}}  # here
              - {id: close, by: unwind, do: Close the cover., needs: {cover: open}, makes: {cover: closed}}
    Right:
        states:
          cover: {of: [closed, open], at_start: closed, at_end: closed}
          fitter_lock: {of: ["off", "on"], at_start: "off", at_end: "off", one_owner: true}
        phases:
          - phase: Lock
            park: after
            steps:
              - {id: lock, by: unwind, do: Put your lock on the hasp., makes: {fitter_lock: "on"}}
              - {id: try, by: unwind, do: Press the start button of the slitter., needs: {fitter_lock: "on"}}
              - {id: open, by: unwind, do: Open the cover., needs: {fitter_lock: "on"}, makes: {cover: open}}
              - {id: close, by: unwind, do: Close the cover., needs: {cover: open}, makes: {cover: closed}}
              - {id: unlock, by: unwind, do: Take your lock off., needs: {cover: closed}, makes: {fitter_lock: "off"}}
    """
    parts = analysis.equipment
    for step, lock in _steps_making(analysis, parts.locks if parts.guards else (), safe=False):
        if not any(among(step.needs, guard, guard.safe) for guard in parts.guards):
            yield Remark(
                analysis.within(step.place, "makes"),
                f"`{step.id}` takes off {lock.label} and does not need {_named(parts, parts.guards)}",
                "Add it to its `needs`: guards closed and tools out first.",
            )


@rule(Severity.WARNING, lasting=True)
def switched_on_under_lock(analysis: Analysis) -> Iterator[Remark]:
    """A step switches power or air on and needs no lock to be off.

    Why: a lock still on says that somebody may be inside. The engine refuses only what a need names.
    Source: each device is removed by the person who put it on before the machine has power: 29 CFR 1910.147(e)(3).

    Wrong:
        states:
          main_switch: {of: ["off", "on"], at_start: "off", at_end: "on"}
          fitter_lock: {of: ["off", "on"], at_start: "off", at_end: "off", one_owner: true}
        phases:
          - phase: Lock
            park: after
            steps:
              - {id: lock, by: unwind, do: Put your lock on., needs: {main_switch: "off"}, makes: {fitter_lock: "on"}}
              - {id: try, by: unwind, do: Press the start button., needs: {fitter_lock: "on"}}
              - {id: unlock, by: unwind, do: Take your lock off the hasp., makes: {fitter_lock: "off"}}
              - {id: tell, by: unwind, do: Tell the crew that the slitter will start.}
              - {id: switch, by: unwind, do: Turn the switch on., makes: {main_switch: "on"}}  # here
    Right:
        states:
          main_switch: {of: ["off", "on"], at_start: "off", at_end: "on"}
          fitter_lock: {of: ["off", "on"], at_start: "off", at_end: "off", one_owner: true}
        phases:
          - phase: Lock
            park: after
            steps:
              - {id: lock, by: unwind, do: Put your lock on., needs: {main_switch: "off"}, makes: {fitter_lock: "on"}}
              - {id: try, by: unwind, do: Press the start button., needs: {fitter_lock: "on"}}
              - {id: unlock, by: unwind, do: Take your lock off the hasp., makes: {fitter_lock: "off"}}
              - {id: tell, by: unwind, do: Tell the crew that the slitter will start.}
              - {id: switch, by: unwind, do: Turn it on., needs: {fitter_lock: "off"}, makes: {main_switch: "on"}}
    """
    locks = analysis.equipment.locks
    for step, switch in _steps_making(analysis, analysis.equipment.switches if locks else (), safe=False):
        if not any(among(step.needs, lock, lock.unsafe) for lock in locks):
            yield Remark(
                analysis.within(step.place, "makes"),
                f"`{step.id}` switches {switch.label} on and needs no lock to be off",
                f"Add {locks[0].label} to its `needs`.",
            )


@rule(Severity.NOTE)
def stored_energy_read_once(analysis: Analysis) -> Iterator[Remark]:
    """Stored energy is relieved under a lock, and no later step looks whether it has come back.

    Why: a valve that leaks fills the line again, slowly, while hands are inside.
    Source: where energy can build up again, verifying goes on until the work is done: 29 CFR 1910.147(d)(5)(ii).

    Wrong:
        states:
          air: {of: [vented, full], at_start: full, at_end: vented}
          fitter_lock: {of: ["off", "on"], at_start: "off", at_end: "off", one_owner: true}
        phases:
          - phase: Lock
            park: after
            steps:
              - {id: lock, by: unwind, do: Put your lock on., makes: {fitter_lock: "on"}}
              - {id: vent, by: unwind, do: Open the vent., needs: {fitter_lock: "on"}, makes: {air: vented}}  # here
              - {id: try, by: unwind, do: Press the start button., needs: {fitter_lock: "on", air: vented}}
              - {id: unlock, by: unwind, do: Take your lock off the hasp., makes: {fitter_lock: "off"}}
    Right:
        states:
          air: {of: [vented, full], at_start: full, at_end: vented}
          fitter_lock: {of: ["off", "on"], at_start: "off", at_end: "off", one_owner: true}
        phases:
          - phase: Lock
            park: after
            steps:
              - {id: lock, by: unwind, do: Put your lock on., makes: {fitter_lock: "on"}}
              - {id: vent, by: unwind, do: Open the vent., needs: {fitter_lock: "on"}, makes: {air: vented}}
              - id: look-again
                by: unwind
                do: Read the gauge again.
                needs: {air: vented}
                read: {air_later: {ask: Pressure on the gauge, unit: bar, likely: [0, 8]}}
              - {id: try, by: unwind, do: Press the start button., needs: {fitter_lock: "on", air: vented}}
              - {id: unlock, by: unwind, do: Take your lock off the hasp., makes: {fitter_lock: "off"}}
    """
    parts = analysis.equipment
    for step, energy in _steps_making(analysis, parts.energies if parts.locks else (), safe=True):
        if not any(among(other.needs, energy, energy.safe) and _reads(other) for other in analysis.steps):
            yield Remark(
                analysis.within(step.place, "makes"),
                f"`{step.id}` relieves {energy.label}, and no later step looks whether it has come back",
                f"Add a step that needs {energy.label} {parts.value(energy, min(energy.safe))} and reads it again.",
            )


def _reads(step: Step) -> bool:
    return any(ask.kind == "read" for ask in step.asks)


@rule(Severity.WARNING)
def start_not_told(analysis: Analysis) -> Iterator[Remark]:
    """After the locks come off power is switched on, and no step tells the crew before.

    Why: those who stood at the machine while it was locked still think that it is.
    Source: affected people are told after the devices are off and before the start: 29 CFR 1910.147(e)(3).

    Wrong:
        states:
          main_switch: {of: ["off", "on"], at_start: "off", at_end: "on"}
          fitter_lock: {of: ["off", "on"], at_start: "off", at_end: "off", one_owner: true}
        phases:
          - phase: Lock
            park: after
            steps:
              - {id: lock, by: unwind, do: Put your lock on., needs: {main_switch: "off"}, makes: {fitter_lock: "on"}}
              - {id: try, by: unwind, do: Press the start button., needs: {fitter_lock: "on"}}
              - {id: unlock, by: unwind, do: Take your lock off the hasp., makes: {fitter_lock: "off"}}
              - {id: switch, by: unwind, do: Turn it on., needs: {fitter_lock: "off"}, makes: {main_switch: "on"}}  # here
    Right:
        states:
          main_switch: {of: ["off", "on"], at_start: "off", at_end: "on"}
          fitter_lock: {of: ["off", "on"], at_start: "off", at_end: "off", one_owner: true}
        phases:
          - phase: Lock
            park: after
            steps:
              - {id: lock, by: unwind, do: Put your lock on., needs: {main_switch: "off"}, makes: {fitter_lock: "on"}}
              - {id: try, by: unwind, do: Press the start button., needs: {fitter_lock: "on"}}
              - {id: unlock, by: unwind, do: Take your lock off the hasp., makes: {fitter_lock: "off"}}
              - {id: tell, by: unwind, do: Tell the crew that the slitter will start.}
              - {id: switch, by: unwind, do: Turn it on., needs: {fitter_lock: "off"}, makes: {main_switch: "on"}}
    """
    parts = analysis.equipment
    unlocked = told = False
    for step in analysis.steps if parts.locks else ():
        if any(among(step.makes, lock, lock.unsafe) for lock in parts.locks):
            unlocked, told = True, False
        elif first_word(step.do.text) in TELLS:
            told = True
        elif unlocked and not told and any(among(step.makes, switch, switch.unsafe) for switch in parts.switches):
            yield Remark(
                analysis.within(step.place, "makes"),
                f"nobody is told between the last lock and `{step.id}`",
                "Add a step that tells the crew, and asks whether each has heard it.",
            )
            return


def _steps_making(analysis: Analysis, parts: tuple[Part, ...], *, safe: bool) -> Iterator[tuple[Step, Part]]:
    """Steps that bring one of the parts into its safe values, or into the other ones."""
    for step in analysis.steps if parts else ():
        for part in parts if step.makes else ():
            if among(step.makes, part, part.safe if safe else part.unsafe):
                yield step, part
                break


def _named(parts: Equipment, of: tuple[Part, ...]) -> str:
    """`main switch to be off`, for the first of several."""
    return f"{of[0].label} to be {parts.value(of[0], min(of[0].safe))}"
