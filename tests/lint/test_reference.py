"""The derived page of the rules is the one in the folder of procedures, and names every rule once."""

from pathlib import Path

from runner.lint.reference import page
from runner.lint.rule import all_rules

ROOT = Path(__file__).parent.parent.parent


def test_the_page_in_the_folder_is_the_derived_one() -> None:
    text = (ROOT / "procedures" / "RULES.md").read_text(encoding="utf-8")
    assert text == page(), "python -m runner.lint.reference > procedures/RULES.md"


def test_every_rule_stands_on_it_once() -> None:
    text = page()
    assert all(text.count(f"| `{name}` |") == 1 for name in all_rules())
