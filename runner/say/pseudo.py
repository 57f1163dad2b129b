"""No language, but a look at one: every message between brackets, a third longer, no plain letter left in it.

What is then still in plain letters on the screen was never looked up, and what is cut had no room for a longer language.
Fields keep their names, so that what is filled in stays as it is.
"""

from functools import lru_cache
from string import Formatter

from runner.say.text import CONTEXT, Speaker

PLAIN = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
ODD = "àƀćďéƒĝĥíĵķłḿńóƥʠřşťúṽŵẋýžÀƁĆĎÉƑĜĤÍĴĶŁḾŃÓƤɊŘŞŤÚṼŴẊÝŽ"
MORE = 0.35
"""How much longer: German is a third longer than English in texts of this kind. Common practice, no source."""
FILL = "~"
TABLE = str.maketrans(PLAIN, ODD)


@lru_cache(maxsize=4096)
def pseudo(message: str) -> str:
    """The message in letters that no English text has."""
    message = message.rpartition(CONTEXT)[2]
    parts = []
    count = 0
    for text, name, spec, conversion in Formatter().parse(message):
        count += len(text)
        parts.append(text.translate(TABLE).replace("{", "{{").replace("}", "}}"))
        if name is not None:
            parts.append("{" + name + (f"!{conversion}" if conversion else "") + (f":{spec}" if spec else "") + "}")
    return f"[{''.join(parts)}{FILL * max(1, round(count * MORE - 2))}]"


def pseudo_speaker() -> Speaker:
    """For `choose("pseudo")`, which no help page names."""
    return Speaker("pseudo", pseudo, lambda one, many, n: pseudo(one if n == 1 else many))
