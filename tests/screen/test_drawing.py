"""The web path beside a step that threads it: on a wide terminal, with every tick; never in the way on a small one."""

import pytest

from runner.screen.view import Stage, StepView
from runner.screen.widgets.lines import text_of, width_of
from tests.procedures.shipped import procedure_of
from tests.screen.test_shipped import Operator


class Threader(Operator):
    """Leads a run at 80x24 and looks at the other sizes whenever a path is threaded."""

    def __init__(self, sizes: tuple[tuple[int, int], ...]) -> None:
        super().__init__(procedure_of("change-roll"), "change-roll")
        self.sizes = sizes
        self.seen: dict[tuple[int, int], list[str]] = {size: [] for size in sizes}

    def answer(self, step: StepView) -> None:
        """A threading is ticked roller by roller, and looked at before each tick."""
        if step.prompt is None or step.prompt.shape != "ticks":
            super().answer(step)
            return
        for _ in step.prompt.choices:
            for size in self.sizes:
                self.seen[size].append(self.shown(size))
            self.person.press("enter")

    def shown(self, size: tuple[int, int]) -> str:
        """The screen at a size, which it fills exactly."""
        shell = self.person.shell
        shell.size = size
        lines = [text_of(line) for line in shell.picture().lines]
        shell.size = (80, 24)
        shell.picture()
        assert len(lines) == size[1]
        assert {width_of(line) for line in lines} == {size[0]}
        return "\n".join(lines)


@pytest.fixture(scope="module")
def threader() -> Threader:
    """A whole change of the roll."""
    operator = Threader(((80, 24), (120, 40), (160, 50)))
    operator.lead()
    assert operator.run.state.outcome == "finished"
    return operator


@pytest.mark.parametrize("size", [(120, 40), (160, 50)])
def test_a_wide_terminal_shows_the_path_as_far_as_it_is_threaded(threader: Threader, size: tuple[int, int]) -> None:
    screens = threader.seen[size]
    assert len(screens) == 6 + 7  # the rollers of both paths
    for ticked, screen in enumerate(screens[:6]):
        assert f"▶{ticked + 1}" in screen
        assert all(f"✓{done}" in screen for done in range(1, ticked + 1))
        assert f"✓{ticked + 1}" not in screen
        assert "✓ done  ▶ next" in screen
    assert "6 infeed nip: over" in screens[0]
    assert "Web path unwind" in screens[0]
    assert "7 rewind core: over" in screens[6]


def test_a_small_terminal_keeps_its_room_for_the_ticks(threader: Threader) -> None:
    for screen in threader.seen[(80, 24)]:
        assert "▶" not in screen
        assert "[ ]" in screen


def test_a_path_that_cannot_be_drawn_is_left_out(threader: Threader) -> None:
    procedure = threader.run.procedure
    rollers = procedure.scope.paths["unwind_path"]
    broken = procedure.scope._replace(paths={"unwind_path": (rollers[0], rollers[0]._replace(name="same place"))})
    operator = Threader(())
    operator.run.procedure = procedure._replace(scope=broken)
    shown: list[bool] = []

    def look(step: StepView | None) -> None:
        threads = step is not None and any(ask.path == "unwind_path" for ask in step.step.asks)
        if threads and step is not None and step.stage is Stage.ASK:
            shown.append("Web path" in operator.shown((120, 40)))

    operator.look = look  # type: ignore[method-assign]  # a test's eyes
    operator.lead()
    assert shown
    assert not any(shown)
