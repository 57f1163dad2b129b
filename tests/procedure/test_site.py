"""Site files: who works here, and why somebody may not take a role."""

from runner.lint.linter import lint_text
from runner.procedure.language.site import MOTION, PERSON, SITE
from runner.procedure.reference import whole
from runner.procedure.site import Site, may_take, read_site

DAY = "2026-11-25"


def site() -> Site:
    found = read_site(whole.SITE_TEXT, "site.yaml")
    assert found.site is not None, found.findings
    return found.site


def test_a_site_names_people_with_their_roles() -> None:
    eva, ana = site().people
    assert (eva.name, eva.roles, eva.qualified) == ("Eva Roth", ("lead",), None)
    assert (ana.roles, ana.qualified) == (("unwind", "rewind"), (("change-roll", "2027-06-30"),))
    assert site().unknown == "allowed"


def test_names_that_are_not_listed_are_refused_where_the_site_says_nothing_of_them() -> None:
    found = read_site(whole.SITE_TEXT.replace("unknown: allowed\n", ""), "site.yaml")
    assert found.site is not None
    assert found.site.unknown == "refused"


def test_case_and_spacing_make_no_other_person() -> None:
    assert site().person(" eva  ROTH ") == site().people[0]
    assert site().person("Eva Rot") is None


def test_who_lacks_the_role_is_told_which_roles_they_have() -> None:
    words = may_take(site(), "change-roll", "lead", "Shift lead", "ana berg", DAY)
    assert words == "Ana Berg is not Shift lead (lead) by the site file, which has them as unwind, rewind."


def test_who_has_the_role_and_is_qualified_may_take_it() -> None:
    assert may_take(site(), "change-roll", "unwind", "Operator", "Ana Berg", DAY) == ""
    assert may_take(site(), "change-roll", "unwind", "Operator", "Ana Berg", "2027-06-30") == ""
    assert may_take(site(), "any-other", "lead", "Shift lead", "Eva Roth", DAY) == ""


def test_a_qualification_counts_for_its_procedure_and_until_its_day() -> None:
    assert "not qualified for web-break" in may_take(site(), "web-break", "unwind", "Operator", "Ana Berg", DAY)
    late = may_take(site(), "change-roll", "unwind", "Operator", "Ana Berg", "2027-07-01")
    assert late == "Ana Berg was qualified for change-roll until 2027-06-30 by the site file."


def test_lint_reads_a_site_file_by_its_name() -> None:
    for name in ("site.yaml", "hall/site.yaml", "north.site.yaml"):
        assert lint_text(whole.SITE_TEXT, name, lambda _: None) == ()
        found = lint_text(whole.SITE_TEXT.replace("roles: [lead]", "rolls: [lead]"), name, lambda _: None)
        assert [finding.rule for finding in found] == ["missing-key", "unknown-key"], name


def test_a_pin_as_typed_is_no_hash() -> None:
    plain = "site: 1\npeople: [{name: Eva Roth, roles: [lead], pin: 4711}]\n"
    found = read_site(plain, "site.yaml")
    assert found.site is None
    assert [finding.rule for finding in found.findings] == ["wrong-value"]


def test_the_worked_examples_make_a_site_file() -> None:
    text = "\n".join(key.example for key in SITE.keys) + "\n"
    found = read_site(text, "site.yaml")
    assert found.site is not None, found.findings
    assert found.site.motion is not None
    assert found.site.motion.distance == (0.02, "20 mm")
    assert found.site.motion.source == "Risk assessment of Line 3"
    for record, around in (
        (PERSON, "site: 1\npeople:\n  - {}\n"),
        (MOTION, f"{text.split('motion')[0]}motion:\n    {{}}\n"),
    ):
        whole_record = "\n    ".join(key.example for key in record.keys)
        made = read_site(around.replace("{}", whole_record), "site.yaml")
        assert made.site is not None, (record.name, made.findings)
