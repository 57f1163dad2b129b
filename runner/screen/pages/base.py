"""Which page lies beneath all others: the state of the run says so, not the way by which one came.

Pages other than the run page are loaded when they first come up: the time to the first paint is a measured figure.
"""

from runner.engine import flow
from runner.engine.followed import unread
from runner.screen.desk import Desk, Page
from runner.screen.pages.run import RunPage


def base_page(desk: Desk) -> Page:
    """The run's own page now."""
    if desk.state.outcome:
        from runner.screen.pages.over import OverPage

        return OverPage()
    if desk.lost:
        from runner.screen.pages.lost import LostPage

        return LostPage()
    if desk.state.halted or desk.interrupted:
        from runner.screen.pages.halted import HaltedPage

        return HaltedPage()
    if unread(desk.state.exceptions):
        from runner.screen.pages.carried import CarriedPage

        return CarriedPage()
    if desk.practice is not None and not desk.practice.followed.criteria_seen:
        from runner.screen.pages.criteria import CriteriaPage

        return CriteriaPage()
    if flow.ended(desk.procedure, desk.state.position):
        from runner.screen.pages.finish import FinishPage

        return FinishPage()
    return RunPage()
