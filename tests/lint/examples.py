"""Examples of rule pages made whole: laid over the smallest procedure that lint has nothing to say about."""

from runner.procedure.language.site import HASH

SMALLEST = {
    "format": "format: 1\n",
    "id": "id: example\n",
    "title": "title: Example\n",
    "revision": "revision: 1\n",
    "equipment": "equipment: Line 3, six-colour flexographic press, 1.3 m web\n",
    "purpose": "purpose: The example stands in a whole procedure.\n",
    "people": "people:\n  unwind: Operator, unwind side\n",
    "make_safe": "make_safe:\n  - {do: Press the stop button of the unwind.}\n",
    "phases": "phases:\n  - phase: Clean\n    park: after\n    steps:\n      - {id: wipe, by: unwind, do: Wipe the entry idler.}\n",
}

WITHOUT = "# without "
IN_SITE = "# in site.yaml: "
SITE = f'site: 1\npeople: [{{name: Eva Roth, roles: [unwind, lead], pin: "{HASH}"}}]'


def whole(example: str) -> str:
    """The example with every top-level key of the smallest procedure that it has not itself, nor leaves out."""
    lines = example.splitlines(keepends=True)
    left_out = {line.removeprefix(WITHOUT).strip() for line in lines if line.startswith(WITHOUT)}
    own = {line.partition(":")[0] for line in lines if line[:1].isalpha()}
    rest = "".join(text for key, text in SMALLEST.items() if key not in own | left_out)
    return rest + "".join(line for line in lines if not line.startswith(WITHOUT))


def site_of(example: str) -> str | None:
    """The site file of an example: a person with the smallest procedure's role, and the lines after `# in site.yaml:`."""
    lines = [line.removeprefix(IN_SITE) for line in example.splitlines() if line.startswith(IN_SITE)]
    return "\n".join((SITE, *lines, "")) if lines else None


def marked_lines(text: str) -> set[int]:
    """Numbers of the lines that end with `# here`."""
    return {number for number, line in enumerate(text.splitlines(), start=1) if line.endswith("# here")}
