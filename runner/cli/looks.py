"""How the screen is to look: `--look` and `--ascii`, else the environment, else what was picked last, else dark (on a
terminal of few colours: none).

What was picked is one word in a file of the user's settings. A file that cannot be read or written changes nothing.
"""

import argparse
import codecs
import os
import sys
from collections.abc import Mapping

from runner.cli.terminal import served
from runner.say.language import OPTION, OWN
from runner.say.text import respelled, say
from runner.screen.looks import Looks
from runner.screen.palette import PALETTES, USUAL

LOOK, ASCII, NO_COLOR = "CHANGEOVER_LOOK", "CHANGEOVER_ASCII", "NO_COLOR"
NAMES = tuple(PALETTES)
COERCED = ("C.UTF-8", "C.utf8", "UTF-8")
"""What Python itself puts into LC_CTYPE where the locale is C or not installed (PEP 538): it says nothing of a terminal."""
LONGEST = 64
"""Bytes of the file that are read."""


def add_looks(parser: argparse.ArgumentParser) -> None:
    """`--look`, `--ascii` and `--language`, which go with every command that has a screen."""
    parser.add_argument("--look", choices=NAMES, help=f"colours of the screen (else ${LOOK}, else as picked last)")
    parser.add_argument("--ascii", action="store_true", help="only plain characters, for terminals without others")
    add_language(parser)


def add_language(parser: argparse.ArgumentParser) -> None:
    """`--language`, which goes with every command that talks to an operator."""
    parser.add_argument(OPTION, metavar="NAME", help=f"language of the screen: en, de (else ${OWN}, else the locale)")


def looks_of(options: argparse.Namespace) -> Looks:
    """What the options, the environment and the settings say, in this order; an unknown name is passed over. NO_COLOR
    (a common agreement of terminal programs) wins over all: no colour is sent, whatever is picked."""
    given = getattr(options, "look", None) or os.environ.get(LOOK, "")
    if given and given not in NAMES:
        print(
            say(
                "changeover: {name}={given!r} is none of {names}; not used",
                name=LOOK,
                given=given,
                names=", ".join(NAMES),
            ),
            file=sys.stderr,
        )
        given = ""
    colourless = bool(os.environ.get(NO_COLOR))
    usual = "mono" if few_colours(os.environ) else USUAL
    wanted = "mono" if colourless else given or picked_last() or usual
    plain = ascii_wanted(options)
    if plain:
        respell()
    return Looks(wanted, plain, colourless, keep)


def respell() -> None:
    """What the language of the screen says, in plain characters before it is laid out."""
    from runner.screen.spelled import spell

    respelled(spell)


def few_colours(environment: Mapping[str, str]) -> bool:
    """True for a terminal of 16 colours or fewer: it would turn ours into its own, and nobody knows their contrast."""
    if served() or environment.get("COLORTERM", "").lower() in ("truecolor", "24bit"):
        return False
    term = environment.get("TERM", "")
    return bool(term) and "256color" not in term and "direct" not in term


def ascii_wanted(options: argparse.Namespace) -> bool:
    """True where it is asked for, or where the terminal shows no other characters."""
    if served():
        return False  # a browser shows every character
    if getattr(options, "ascii", False) or os.environ.get(ASCII, "") not in ("", "0"):
        return True
    return not shows_unicode(os.environ, sys.stdout.encoding)


def shows_unicode(environment: Mapping[str, str], encoding: str | None) -> bool:
    """Whether a terminal shows more than ASCII: what the locale says (POSIX: LC_ALL, then LC_CTYPE, then LANG), then
    the encoding of the output. A terminal of which nothing is said is taken to show what the output can encode."""
    names = ["LC_ALL", "LC_CTYPE", "LANG"]
    if environment.get("LC_CTYPE") in COERCED and environment.get("LANG"):
        names.remove("LC_CTYPE")
    named = next((text for name in names if (text := environment.get(name, ""))), "")
    if named.split("@")[0] in ("C", "POSIX"):
        return False
    charset = named.split("@")[0].partition(".")[2]
    return all(is_utf(name) for name in (charset or "utf-8", encoding or "ascii"))


def is_utf(name: str) -> bool:
    """True for the names of encodings that hold every character."""
    try:
        return codecs.lookup(name).name.startswith("utf")
    except LookupError:
        return False


def settings_file() -> str:
    """Where the word is kept."""
    from platformdirs import user_config_dir

    return os.path.join(user_config_dir("changeover", appauthor=False), "look")


def picked_last() -> str:
    """The palette that was picked last; empty where none was, or what is kept is no name of ours."""
    try:
        with open(settings_file(), encoding="ascii") as file:
            word = file.read(LONGEST).strip()
    except (OSError, ValueError):
        return ""
    return word if word in NAMES else ""


def keep(name: str) -> None:
    """Keep what was picked, whole or not at all."""
    path = settings_file()
    half = f"{path}.{os.getpid()}"
    try:
        os.makedirs(os.path.dirname(path), exist_ok=True)
        with open(half, "w", encoding="ascii") as file:
            file.write(f"{name}\n")
        os.replace(half, path)
    except OSError:
        return
