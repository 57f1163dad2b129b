"""Site files: who works here, and why somebody may not take a role."""

import json
from pathlib import Path

from jsonschema import Draft7Validator
from ruamel.yaml import YAML

from runner.lint.linter import Options, lint_text
from runner.procedure.language.site import HASH, MOTION, PERSON, SITE
from runner.procedure.reference import whole
from runner.procedure.schema import site_written
from runner.procedure.site import Site, may_take, read_site, whole_hash

DAY = "2026-11-25"
ROOT = Path(__file__).parents[2]
GOOD_SITES = (ROOT / "tests" / "documents" / "good" / "line-3.site.yaml", ROOT / "procedures" / "site.yaml")


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


def test_the_schema_of_site_files_is_the_one_that_the_table_gives_and_takes_what_is_good() -> None:
    written = (ROOT / "schemas" / "site.schema.json").read_text(encoding="utf-8")
    assert written == site_written()
    schema = json.loads(written)
    Draft7Validator.check_schema(schema)
    for path in GOOD_SITES:
        found = read_site(path.read_text(encoding="utf-8"), path.name)
        assert found.findings == (), path
        assert list(Draft7Validator(schema).iter_errors(guessed(path))) == []
    for path in (ROOT / "tests" / "documents" / "bad").glob("shape*.site.yaml"):
        assert list(Draft7Validator(schema).iter_errors(guessed(path))) != []


def guessed(path: Path) -> object:
    """A site file as an editor reads it: types guessed by YAML 1.2, dates left as texts."""
    yaml = YAML(typ="safe")
    texts = yaml.constructor.yaml_constructors["tag:yaml.org,2002:str"]
    yaml.constructor.yaml_constructors["tag:yaml.org,2002:timestamp"] = texts
    return yaml.load(path.read_text(encoding="utf-8"))


def test_what_a_site_says_of_the_press_is_read_in_si_and_kept_as_written() -> None:
    found = read_site(GOOD_SITES[0].read_text(encoding="utf-8"), "site.yaml")
    assert found.site is not None
    assert found.site.needs_qualification == "refuse"
    facts = found.site.facts
    # NIST SP 811: a tonne is 1000 kg; the rest is in kg as written
    assert facts.gear == (
        ("crane", "Crane of Line 3", 1000.0, "1000 kg", "2027-09-14"),
        ("lifting_beam", "lifting beam", 900.0, "0.9 t", "2027-09-14"),
    )
    assert facts.pieces[0] == ("rack", "kg", "2026-11-24", (("5", 6), ("2.5", 0), ("1", 6)))
    assert (facts.park_within_s, facts.shift_ends) == (5400.0, ("06:00", "14:00", "22:00"))
    assert found.site.person("Ana Berg") is not None


def test_days_that_are_past_are_told_with_their_place() -> None:
    found = lint_text(
        GOOD_SITES[0].read_text(encoding="utf-8"), "site.yaml", lambda _: None, Options(today="2027-07-01")
    )
    assert [(f.rule, f.message) for f in found] == [
        ("no-longer-counts", "Ana Berg was qualified for change-roll until 2027-06-30")
    ]


def test_a_hash_that_was_cut_short_is_told_and_a_whole_one_is_not() -> None:
    from argon2 import PasswordHasher

    for length in (16, 17, 18):  # every length of base64 without its filling
        hashed = PasswordHasher(salt_len=length, hash_len=length + 14).hash("2468")
        assert whole_hash(hashed)
    assert not whole_hash(HASH + "xx")
