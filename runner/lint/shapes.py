"""Files that are checked for their shape alone: a fragment without its procedure, a job, answers, a site.

What a fragment's parameters will stand for is not known here. Each is tried as a name, a number and so on, and the try that fits
best counts, so that only what no parameter could mend is told.
"""

from runner.lint.allow import ALLOW, allows_in, silence
from runner.procedure.desk import Desk
from runner.procedure.finding import Finding, Severity
from runner.procedure.include import put_in, unknown_parameters
from runner.procedure.language.files import ANSWERS, FRAGMENT, JOB
from runner.procedure.language.shape import Record
from runner.procedure.language.site import SITE
from runner.procedure.nodes import Map, Seq, value_place
from runner.procedure.origin import Origin
from runner.procedure.sound import sound, wrong_file
from runner.procedure.source import read

SHAPES: dict[str, tuple[str, Record]] = {
    ".fragment.yaml": ("fragment", FRAGMENT),
    ".job.yaml": ("job", JOB),
    ".answers.yaml": ("answers", ANSWERS),
    ".site.yaml": ("site", SITE),
}
"""By the end of a file's name: its first key and its shape."""

RENEW = "Have it done again and write the new day, or take the entry out. A live run refuses what no longer counts."

TRIES = ("1", "1 min", "1 mm", "true", "running")
"""What a parameter may stand for, apart from a name."""


def shape_findings(kind: str, text: str, path: str, today: str = "") -> list[Finding]:
    """What is wrong with a text that is a file of this kind by its name, less what comments in it allow. `today` is a day
    (YYYY-MM-DD); without one no day is past."""
    found = _all_findings(kind, text, path, today)
    if ALLOW not in text:
        return found
    from runner.lint.linter import may_be_silenced
    from runner.lint.rule import all_rules
    from runner.lint.rules.allowing import of_part

    silenceable = may_be_silenced(all_rules(), found)
    found, allows = silence(found, allows_in(text, path), silenceable)
    for rule, remark in of_part(allows, silenceable):
        found.append(Finding(rule.id, rule.severity, remark.message, remark.place, remark.hint))
    return found


def _all_findings(kind: str, text: str, path: str, today: str) -> list[Finding]:
    first_key, record = SHAPES[kind]
    source = read(text, path)
    desk = Desk()
    desk.findings.extend(source.findings)
    root = source.root
    if root is None or wrong_file(root, first_key, desk):
        return desk.findings
    if record is FRAGMENT:
        return desk.findings + fragment_findings(root)
    fit = sound(root, record, desk)
    if record is SITE and fit is not None:
        from runner.procedure.parts.site import past_days, read_facts
        from runner.procedure.site import read_motion, read_people

        read_people(fit, desk)
        read_motion(fit, desk)
        read_facts(fit, desk)
        for node, key, words in past_days(fit, today) if today else ():
            desk.findings.append(Finding("no-longer-counts", Severity.WARNING, words, value_place(node, key), RENEW))
    return desk.findings


def fragment_findings(root: Map) -> list[Finding]:
    """What is wrong with a fragment, whatever its parameters stand for."""
    listed = root.get("parameters", ())
    parameters = tuple(name.strip() for name in listed if isinstance(name, str)) if isinstance(listed, Seq) else ()
    given = {name: name for name in parameters}
    found = filled_findings(root, given)
    for name in parameters:
        for word in TRIES if found else ():
            other = filled_findings(root, given | {name: word})
            if len(other) < len(found):
                given, found = given | {name: word}, other
    return [*unknown_parameters(root, parameters), *found]


def filled_findings(root: Map, given: dict[str, str]) -> list[Finding]:
    """What is wrong with a fragment whose parameters stand for these."""
    desk = Desk()
    filled = put_in(root, given, Origin(root.origin.path, root.origin.text, given), desk)
    if isinstance(filled, Map):
        sound(filled, FRAGMENT, desk)
    return desk.findings
