"""The whole reference, put together: `procedures/README.md` holds exactly this text, and a test compares."""

from runner.procedure.faults import FAULTS
from runner.procedure.language.files import ANSWERS, FRAGMENT, JOB
from runner.procedure.language.scenario import SCENARIO
from runner.procedure.language.site import SITE
from runner.procedure.reference import prose, whole
from runner.procedure.reference.formulas import functions, operators, units
from runner.procedure.reference.keys import all_keys, file_keys
from runner.procedure.reference.scenarios import SCENARIO_TEXT, SCENARIOS


def page() -> str:
    """The reference as Markdown."""
    parts = [
        prose.OPENING,
        "## The smallest procedure\n\n" + block(prose.SMALLEST_TEXT),
        prose.WHOLE,
        f"`{whole.PROCEDURE_PATH}`\n\n" + block(whole.PROCEDURE_TEXT),
        f"`{whole.FRAGMENT_PATH}`\n\n" + block(whole.FRAGMENT_TEXT),
        prose.MEANING,
        prose.WRITING,
        all_keys(),
        prose.FORMULAS,
        operators() + "\n",
        functions() + "\n",
        units() + "\n",
        prose.SLOTS,
        prose.FRAGMENTS + "\n" + file_keys(FRAGMENT),
        prose.JOBS + "\n" + block(whole.JOB_TEXT) + "\n" + file_keys(JOB),
        prose.ANSWERS + "\n" + block(whole.ANSWERS_TEXT) + "\n" + file_keys(ANSWERS),
        prose.SITE + "\n" + block(whole.SITE_TEXT) + "\n" + file_keys(SITE),
        prose.APPROVING,
        SCENARIOS + "\n" + block(SCENARIO_TEXT) + "\n" + file_keys(SCENARIO),
        faults(),
    ]
    return "\n".join(parts)


def block(text: str) -> str:
    """A text as a code block."""
    return f"```yaml\n{text}```\n"


def faults() -> str:
    """All faults that loading can report, with the wrong and the right text."""
    parts = [
        "## Faults",
        "",
        (
            "What loading a file can report. An error keeps a procedure from running; a warning or a note does not. `changeover explain RULE` prints one of "
            "these, and `changeover rules` lists them together with what lint looks for beyond them."
        ),
        "",
        "| rule | severity | what | why | wrong | right |",
        "|---|---|---|---|---|---|",
    ]
    parts += [
        f"| `{row.rule}` | {row.severity.word} | {cell(row.what)} | {cell(row.why)} | {code(row.wrong)} | {code(row.right)} |"
        for row in FAULTS.values()
    ]
    return "\n".join(parts) + "\n"


def cell(text: str) -> str:
    """A text in a table."""
    return text.replace("|", "\\|")


def code(text: str) -> str:
    """Code in a table, line after line."""
    return "<br>".join(f"`{line.replace('|', chr(92) + '|')}`" for line in text.split("\n"))
