"""Before a dry run with a scenario: what it is, who coaches, and what is judged. Nothing goes on before it was read."""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from runner.say.text import say
from runner.screen.blocks import Block, Gap, Heading, Ink, Row, Rows, Say, Sheet
from runner.screen.desk import Desk, Move, Page, Send, Stay
from runner.screen.keys import Action


class CriteriaPage(Page):
    """What is judged."""

    def show(self, desk: Desk) -> Sheet:
        """The title, the people, the criteria."""
        practice = desk.practice
        taken = practice.followed.taken if practice is not None else None
        if taken is None:
            return Sheet("form", say("Dry run"), ())
        kind = say("an assessment: no hints, and an unsafe act ends it") if taken.assessed else say("practice")
        blocks: list[Block] = [
            Say(taken.title, ink=Ink.STRONG),
            Say(kind, say("it is")),
            Say(taken.trainee, say("trainee")),
            Say(taken.coach or say("nobody"), say("coach")),
            Gap(),
            Heading(say("What is judged")),
            Rows(tuple(Row(words) for _, words in taken.criteria)),
            Gap(),
            Say(keys_told(desk, taken.assessed), ink=Ink.QUIET),
        ]
        return Sheet("form", say("Dry run"), tuple(blocks), say("read, begin"), "read", subject="criteria")

    def go(self, desk: Desk, typed: str) -> Move:
        """It was read."""
        return Send(desk.practice.criteria_seen()) if desk.practice is not None else Stay()


def keys_told(desk: Desk, assessed: bool) -> str:
    """The keys of a dry run, which are not in the footer."""
    hint, coach = desk.cap(Action.HINT), desk.cap(Action.COACH)
    if assessed:
        return say("{hint}: through a wait. {coach}: for the coach, questions and the stop.", hint=hint, coach=coach)
    return say(
        "{hint}: a hint, which is counted; through a wait. {coach}: for the coach, questions and the stop.",
        hint=hint,
        coach=coach,
    )
