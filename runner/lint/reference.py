"""The list of lint's rules as a page, derived from their docstrings: python -m runner.lint.reference > procedures/RULES.md

One line a rule, by theme, with what it finds and on what it rests; the whole page of a rule is `changeover explain RULE`.
"""

from collections.abc import Iterator
from importlib import import_module

from runner.lint.rule import RULE_MODULES, Rule

HEAD = """\
# The rules of lint

Derived from the rules themselves; `changeover explain RULE` shows one with why, a wrong and a right example, and
`changeover rules` lists them with the faults of the language. Rules are informed by what they name, and none conforms to it; a
site's own rules, local codes and the manual of the machine come first. Silence of lint says nothing about a machine.

"Lasting" rules and errors are not silenced by any comment; the others are by `# lint: allow RULE, reason`, on the line or above it.
"""


def page() -> str:
    """The whole page as Markdown."""
    return "\n".join([HEAD, *(line for name in RULE_MODULES for line in theme(name))]).rstrip() + "\n"


def theme(name: str) -> Iterator[str]:
    """One theme module: the first paragraph of its docstring, then its rules."""
    module = import_module(f"runner.lint.rules.{name}")
    yield f"## {name.capitalize()}"
    yield ""
    yield " ".join((module.__doc__ or "").split("\n\n")[0].split())
    yield ""
    yield "| rule | | what it finds | rests on |"
    yield "|---|---|---|---|"
    for rule in (value for value in vars(module).values() if isinstance(value, Rule)):
        read = rule.page
        lasting = "" if rule.silenceable else ", lasting"
        cells = (f"`{rule.id}`", f"{rule.severity.word}{lasting}", read.what, read.source)
        yield "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"
    yield ""


if __name__ == "__main__":
    print(page(), end="")
