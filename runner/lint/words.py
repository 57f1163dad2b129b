"""Words of instructions, and how they are told apart: the lists behind the rules about wording and cautions.

The lists are short on purpose: a rule about wording that is often wrong is switched off. They are English and of the trade.
"""


def listed(text: str) -> frozenset[str]:
    """The words of a text."""
    return frozenset(text.split())


EMPTY_ANSWERS = listed(
    "ok okay yes no all everything is are been has have it checked check done set good fine ready right correct verified "
    "confirmed complete completed as required in order"
)
"""Words that say nothing about what is seen."""

ACTS = listed(
    "add adjust attach bleed bring close confirm connect deflate detach disconnect engage enter fasten fit go hang hoist "
    "inflate insert install isolate keep lay loosen lower make mark measure mount move open place pull push put raise "
    "remove replace rotate run secure select shut slide start stop switch take tear thread tighten turn unhook unlock "
    "unscrew wait weigh wind wipe withdraw"
)
"""Words that begin an order to do something."""

SECOND_ACTS = listed(
    "adjust attach bleed close connect deflate detach disconnect engage fasten hang hoist inflate insert install isolate "
    "loosen lower open pull push put raise remove replace secure slide tighten unhook unlock unscrew wipe withdraw"
)
"""Those of them that are hardly ever a noun, so that one after `and` is a second act."""

VAGUE = (
    *sorted(
        listed("adequate adequately appropriate appropriately approximately carefully etc frequently properly quickly")
    ),
    *sorted(listed("regularly roughly slightly slowly sufficient sufficiently suitable suitably")),
    *("as appropriate", "as necessary", "as needed", "as required", "if necessary", "if needed", "if required"),
    *("from time to time", "and so on", "a bit", "a little", "a while", "some time"),
)
"""Words that two people understand otherwise."""

SENTENCE_ENDS = ".!?"


def words_of(text: str) -> list[str]:
    """The words in lower case, without punctuation."""
    kept = "".join(char if char.isalnum() else " " for char in text.lower())
    return kept.split()


def first_word(text: str) -> str:
    """The first word in lower case, empty where there is none."""
    return next(iter(words_of(text)), "")


def sentences_of(text: str) -> list[tuple[int, str]]:
    """The sentences, each with the offset at which it begins; a dot inside a number or word ends none."""
    found = []
    start = 0
    for at, char in enumerate(text):
        ends = char in SENTENCE_ENDS and (at + 1 == len(text) or text[at + 1].isspace())
        if ends or at + 1 == len(text):
            piece = text[start : at + 1]
            lead = len(piece) - len(piece.lstrip())
            if piece.strip():
                found.append((start + lead, piece.strip()))
            start = at + 1
    return found


def find_words(text: str, wanted: str) -> int:
    """The offset of a word or words standing by themselves, -1 where they do not."""
    plain = text.lower()
    at = plain.find(wanted)
    while at >= 0:
        end = at + len(wanted)
        before = plain[at - 1] if at else " "
        after = plain[end] if end < len(plain) else " "
        if not before.isalnum() and not after.isalnum():
            return at
        at = plain.find(wanted, at + 1)
    return -1
