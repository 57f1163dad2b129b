"""Which language this process speaks: what was asked for, else the environment, else English. Chosen once, at the rim.

A language without a catalogue is English, without a word: a terminal that speaks Finnish still has to run. Nothing but
the catalogue is read, and gettext is loaded only for a language that has one.
"""

import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager

from runner.say.text import CONTEXT, Speaker, speak, speaker

OPTION = "--language"
OWN = "CHANGEOVER_LANGUAGE"
FROM = (OWN, "LC_ALL", "LC_MESSAGES", "LANG")
"""In this order; the first one that says anything decides, as it does for the locale (POSIX.1, section 8.2)."""
DOMAIN = "changeover"
PSEUDO = "pseudo"
CATALOGUES = os.path.join(os.path.dirname(__file__), "catalogues")


def languages() -> tuple[str, ...]:
    """English and what has a catalogue."""
    found = sorted(name for name in os.listdir(CATALOGUES) if os.path.exists(compiled(name)))
    return ("en", *found)


def compiled(name: str) -> str:
    """Where the compiled catalogue of a language lies."""
    return os.path.join(CATALOGUES, name, "LC_MESSAGES", f"{DOMAIN}.mo")


def wanted(asked: str, environment: Mapping[str, str]) -> str:
    """The language that is asked for: `de` of `de`, `de_DE.UTF-8` or `de_AT@euro`; empty for English."""
    given = asked or next((environment[name] for name in FROM if environment.get(name)), "")
    name = given.replace("-", "_").partition(".")[0].partition("@")[0].partition("_")[0].lower()
    return "" if name in ("", "c", "posix", "en") or not (name.isascii() and name.isalpha()) else name


def choose(asked: str = "", environment: Mapping[str, str] | None = None) -> str:
    """Speak the language from here on; gives its name, `en` where there is no catalogue for what was wanted."""
    name = wanted(asked, os.environ if environment is None else environment)
    speak(_speaker(name) if name else None)
    now = speaker()
    return now.name if now is not None else "en"


@contextmanager
def spoken(name: str) -> Iterator[None]:
    """Another language for a while, then the one before: for tests, and for what stays English."""
    before = speaker()
    choose(name, {})
    try:
        yield
    finally:
        speak(before)


def _speaker(name: str) -> Speaker | None:
    if name == PSEUDO:
        from runner.say.pseudo import pseudo_speaker

        return pseudo_speaker()
    if not os.path.exists(compiled(name)):
        return None
    from gettext import translation

    try:
        catalogue = translation(DOMAIN, CATALOGUES, [name])
    except (OSError, UnicodeError, ValueError):
        return None  # a catalogue that cannot be read is none
    return Speaker(name, catalogue.gettext, catalogue.ngettext)


__all__ = ["CONTEXT", "choose", "languages", "spoken", "wanted"]
