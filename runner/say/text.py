"""Every text of ours that a person reads on the screen: the English text is the message, its fields have names.

`say("Step {number} of {total}", number=3, total=9)` looks the message up and fills the fields in afterwards, so that a
value is never taken for a message. The language is a setting of the process, chosen once by `language.choose`; until
then, and wherever a translation is missing or does not fit its message, the text is English. `mark` leaves a text of a
table as it is, for those who look it up when they show it.
"""

TYPE_CHECKING = False  # as typing's, without loading it: this module lies on the way of every command
if TYPE_CHECKING:
    from collections.abc import Callable

CONTEXT = "\x04"
"""Between a context and its message, as gettext's files have it."""


class Speaker:
    """Another language than English: how a message is looked up. What is not found is given back as it is."""

    def __init__(
        self,
        name: str,
        look_up: "Callable[[str], str]",
        look_up_count: "Callable[[str, str, int], str]",
        respelled: bool = False,
    ) -> None:
        self.name = name
        self.respelled = respelled
        self.look_up = look_up
        self.look_up_count = look_up_count


class _Now:
    """The language of this process; None is English."""

    speaker: Speaker | None = None


def say(message: str, /, **fields: object) -> str:
    """The message in the language of the process, its fields filled in. A message without fields may hold braces."""
    if _Now.speaker is None:
        return message.format(**fields) if fields else message
    return _filled(_Now.speaker.look_up(message), message, fields)


def say_as(context: str, message: str, /, **fields: object) -> str:
    """The same for a message that means another thing elsewhere: `say_as("of a run", "open")`."""
    if _Now.speaker is None:
        return message.format(**fields) if fields else message
    key = f"{context}{CONTEXT}{message}"
    found = _Now.speaker.look_up(key)
    return _filled(message if found == key else found, message, fields)


def say_n(one: str, many: str, n: int, /, **fields: object) -> str:
    """`say_n("{n} state", "{n} states", 2)`: the form that the number asks for; the number is the field `n`."""
    english = one if n == 1 else many
    fields["n"] = n
    if _Now.speaker is None:
        return english.format(**fields)
    return _filled(_Now.speaker.look_up_count(one, many, n), english, fields, counted=True)


def mark(message: str, /) -> str:
    """The message itself. It says to whoever collects messages that this one is looked up where it is shown."""
    return message


def speaker() -> Speaker | None:
    """Who speaks now; None is English."""
    return _Now.speaker


def speak(other: Speaker | None) -> None:
    """Another language for this process. Only the rim and tests do this, before anything is shown."""
    _Now.speaker = other


def respelled(spelling: "Callable[[str], str]") -> None:
    """From here on translations are spelled so, for a terminal that shows few characters; English needs no spelling."""
    now = _Now.speaker
    if now is None or now.respelled:
        return

    def look_up(key: str) -> str:
        found = now.look_up(key)
        return key if found == key else spelling(found)

    def look_up_count(one: str, many: str, n: int) -> str:
        return spelling(now.look_up_count(one, many, n))

    speak(Speaker(now.name, look_up, look_up_count, respelled=True))


def _filled(text: str, message: str, fields: dict[str, object], counted: bool = False) -> str:
    """A translation with its fields; the English message where the two have not the same ones."""
    if text is message or not fields:
        return text.format(**fields) if fields else text
    from runner.say.fields import fit

    if fit(text, message, counted):
        return text.format(**fields)
    return message.format(**fields)
