"""Findings as people, programs and build servers read them: a module a format, with one pure function `render`. Invariant: author text is cleaned before it goes anywhere."""

from runner.lint.output.form import Format, Texts, summary, wants_colour

__all__ = ["FORMATS", "Format", "Texts", "summary", "wants_colour"]

FORMATS: dict[str, Format] = {
    row.name: row
    for row in (
        Format("text", "for people: the line, a caret, a hint and the way to the fault"),
        Format("concise", "a line a finding"),
        Format("json", "for programs: an array of objects"),
        Format("sarif", "SARIF 2.1.0, for programs that show findings of any tool", beside=True),
        Format("github", "for a build server that annotates changes by workflow commands", beside=True),
        Format("junit", "JUnit XML, for a build server that lists tests: a file a suite"),
    )
}
