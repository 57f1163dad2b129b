"""Nothing fails on any input: random edits of real texts, every question asked at random places. Bounded by the examples."""

import random

import pytest

from runner.editor.completions import completions
from runner.editor.hovers import hover
from runner.editor.jumps import definition
from runner.editor.problems import problems
from runner.editor.renames import Refused, renamable, rename
from tests.editor.shelf import DOCUMENTS, HEAD, PROCEDURES, in_memory

PIECES = [
    *"{}[]:,#'\"\\|>-<&*!%@ \t\n\r", ": ", "- ", "\r\n", "\ufeff", "\u2028", "\U0001f9fb", "\ud800", "\ue000", "\0", "{{", "<side>",
    "needs: ", "{use: a.fragment.yaml}", "lookup(", "# lint: allow ", "'tension bar'", "[kg]", "\n      - ", "\n        ", "use: ../x",
]  # fmt: skip
FRAGMENT = (PROCEDURES / "core-chuck.fragment.yaml").read_text(encoding="utf-8")
SEEDS = {
    "/desk/a.procedure.yaml": [
        HEAD,
        HEAD + "      - {use: core-chuck.fragment.yaml, with: {side: guard, other: x, core: y}}\n",
        (DOCUMENTS / "good" / "folded.procedure.yaml").read_text(encoding="utf-8"),
        (DOCUMENTS / "good" / "change-roll.procedure.yaml").read_text(encoding="utf-8"),
    ],
    "/desk/core-chuck.fragment.yaml": [FRAGMENT],
    "/desk/a.job.yaml": ["job: 1\nprocedure: small\ninputs:\n  web_width: 900 mm\n  substrate: kraft paper\ncrew: {unwind: Ana Berg}\n"],
    "/desk/a.answers.yaml": ["answers: 1\nprocedure: small\nsteps:\n  - {step: open-guard, answers: {pressure: [8, 6]}, trouble: leak}\n"],
}  # fmt: skip


def edited(text: str, chance: random.Random) -> str:
    """A few cuts, doublings and insertions."""
    for _ in range(chance.randint(0, 4)):
        at = chance.randint(0, len(text))
        match chance.randint(0, 3):
            case 0:
                text = text[:at] + chance.choice(PIECES) + text[at:]
            case 1:
                text = text[:at] + text[at + chance.randint(1, 30) :]
            case 2:
                text = text[:at] + text[at : at + chance.randint(1, 40)] * 2 + text[at + 1 :]
            case _:
                text = text[:at] if chance.random() < 0.3 else text[:at] + "\n" + text[at:]
    return text


def ask_everything(seed: int) -> None:
    chance = random.Random(seed)
    path = chance.choice(sorted(SEEDS))
    text = edited(chance.choice(SEEDS[path]), chance)
    others = {
        "/desk/a.procedure.yaml": edited(HEAD, chance) if chance.random() < 0.3 else HEAD,
        "/desk/core-chuck.fragment.yaml": FRAGMENT,
    }
    library = in_memory({**others, path: text})
    found = problems(path, text, library.fetch_beside(path))
    for name, told in found.problems.items():
        length = len(found.texts.get(name, ""))
        assert all(0 <= one.start <= one.end <= length for one in told), (seed, name)
    for _ in range(4):
        offset = chance.randint(0, len(text))
        shown = hover(library, path, offset)
        if shown is not None:
            assert shown.help.markdown()
            assert shown.help.plain()
            assert 0 <= shown.start <= shown.end <= len(text)
        for choice in completions(library, path, offset):
            assert 0 <= choice.start <= offset <= choice.end <= len(text)
        for target in definition(library, path, offset):
            assert 0 <= target.start <= target.end <= len(library.text(target.path) or "")
        if not isinstance(renamable(library, path, offset), Refused):
            rename(library, path, offset, "other-name" if chance.random() < 0.5 else "other_name")


@pytest.mark.parametrize("block", range(4))
def test_no_edit_makes_any_answer_fail(block: int) -> None:
    for seed in range(block * 60, block * 60 + 60):
        ask_everything(seed)


@pytest.mark.long
@pytest.mark.parametrize("block", range(40))
def test_no_edit_makes_any_answer_fail_over_thousands_of_edits(block: int) -> None:
    for seed in range(10_000 + block * 100, 10_100 + block * 100):
        ask_everything(seed)
