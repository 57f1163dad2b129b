"""The shapes as a JSON schema: for editors, and for jsonschema, which finds every fault of shape.

Everything here is made from the tables of the language. `python -m runner.procedure.schema` prints the schema for
editors, with `site` or `scenario` behind it the one of those files alone.
"""

from typing import Any

from runner.procedure.language.shape import Either, Group, Key, ListOf, MapOf, OneOf, Record, Scalar, Shape

DRAFT = "http://json-schema.org/draft-07/schema#"
PARAMETER = "<[a-z][a-z0-9_]*>"
LOOSE = ["string", "number", "boolean"]
"""What a text may be to a reader that guesses: `no`, `12` and `1e3` are texts where a text is asked for."""


def json_schema() -> dict[str, Any]:
    """The schema of all files of the language, for editors; parameters of fragments may stand for any value."""
    from runner.procedure.language.files import ANSWERS, FRAGMENT, JOB, PROCEDURE
    from runner.procedure.language.site import SITE

    definitions: dict[str, Any] = {}
    define(PROCEDURE, definitions, False)
    define(FRAGMENT, definitions, True)
    define(JOB, definitions, False)
    define(ANSWERS, definitions, False)
    define(SITE, definitions, False)
    return {
        "$schema": DRAFT,
        "title": "Changeover procedures, fragments, jobs, answers and sites, language version 1",
        "description": "Written from the tables of the language; change those, not this file.",
        "type": "object",
        **told_apart(
            [("fragment", FRAGMENT, True), ("job", JOB, False), ("answers", ANSWERS, False), ("site", SITE, False)],
            PROCEDURE,
        ),
        "definitions": {name: definitions[name] for name in sorted(definitions)},
    }


def told_apart(files: list[tuple[str, Record, bool]], otherwise: Record) -> dict[str, Any]:
    """Which record a file is to be, by its first key."""
    if not files:
        return reference(otherwise, False)
    key, record, loose = files[0]
    return {
        "if": {"required": [key]},
        "then": reference(record, loose),
        "else": told_apart(files[1:], otherwise),
    }


def schema_of(record: Record) -> dict[str, Any]:
    """The strict schema of one record, as loading uses it."""
    definitions: dict[str, Any] = {}
    define(record, definitions, False)
    return {"$schema": DRAFT, **reference(record, False), "definitions": definitions}


def name_of(record: Record, loose: bool) -> str:
    """The name of a record's definition."""
    name = record.name.removeprefix("a ").removeprefix("an ")
    return f"{name} with parameters" if loose else name


def reference(record: Record, loose: bool) -> dict[str, Any]:
    """A reference to a record's definition."""
    return {"$ref": "#/definitions/" + name_of(record, loose).replace(" ", "%20")}


def define(record: Record, definitions: dict[str, Any], loose: bool) -> None:
    """Put a record, and all that it is made of, into the definitions."""
    name = name_of(record, loose)
    if name in definitions:
        return
    made: dict[str, Any] = {"type": "object", "description": record.doc, "additionalProperties": False}
    definitions[name] = made
    made["properties"] = {key.name: described(key, definitions, loose) for key in record.keys}
    required = [key.name for key in record.keys if key.required]
    if required:
        made["required"] = required
    if record.groups:
        made["allOf"] = [grouped(group) for group in record.groups]


def described(key: Key, definitions: dict[str, Any], loose: bool) -> dict[str, Any]:
    """A key with its words and its example. Draft 7 reads nothing beside a reference, so that goes into a list."""
    made = value_schema(key.shape, definitions, loose)
    words = {"description": key.doc, "examples": [key.example]}
    return {**words, "allOf": [made]} if "$ref" in made else {**words, **made}


def grouped(group: Group) -> dict[str, Any]:
    """Keys that go together."""
    given = [{"required": [key]} for key in group.keys]
    match group.rule:
        case "exactly one":
            return {"oneOf": given}
        case "at most one":
            return {"not": {"required": list(group.keys)}}
        case _:
            return {"anyOf": given}


def value_schema(shape: Shape, definitions: dict[str, Any], loose: bool) -> dict[str, Any]:
    """The schema of a value."""
    match shape:
        case Scalar():
            return scalar_schema(shape, loose)
        case OneOf(words=words):
            return or_parameter({"enum": list(words)}, loose)
        case ListOf():
            return list_schema(shape, definitions, loose)
        case MapOf(key=key, value=value, least=least):
            names = {"pattern": anchored(key.pattern, loose)}
            inner = value_schema(value, definitions, loose)
            return {"type": "object", "propertyNames": names, "additionalProperties": inner, "minProperties": least}
        case Record():
            define(shape, definitions, loose)
            return reference(shape, loose)
        case Either(telltale=telltale, has=has, without=without):
            first, second = value_schema(has, definitions, loose), value_schema(without, definitions, loose)
            return {"type": "object", "if": {"required": [telltale]}, "then": first, "else": second}


def scalar_schema(shape: Scalar, loose: bool) -> dict[str, Any]:
    """A scalar; where a reader guesses types, a text may come as a number or a truth value."""
    if shape.json == "loose":
        return {"type": LOOSE, "pattern": anchored(shape.pattern, loose) if shape.pattern else r"\S"}
    if shape.json == "string":
        return {"type": "string", "pattern": anchored(shape.pattern, loose)}
    made: dict[str, Any] = {"type": shape.json}
    if shape.least is not None:
        made["minimum"] = shape.least
    if shape.pattern == "1":
        made["maximum"] = 1
    return or_parameter(made, loose)


def or_parameter(made: dict[str, Any], loose: bool) -> dict[str, Any]:
    """In a fragment, a parameter may stand for any value."""
    return {"if": {"type": "string", "pattern": PARAMETER}, "else": made} if loose else made


def list_schema(shape: ListOf, definitions: dict[str, Any], loose: bool) -> dict[str, Any]:
    """A list, or a single entry where that may stand alone."""
    inner = value_schema(shape.of, definitions, loose)
    made: dict[str, Any] = {"type": "array", "items": inner, "minItems": shape.least}
    if shape.most is not None:
        made["maxItems"] = shape.most
    return {"if": {"type": "array"}, "then": made, "else": inner} if shape.alone else made


def anchored(pattern: str, loose: bool) -> str:
    """The pattern for a whole text, in a fragment also for one that holds a parameter."""
    whole = f"^(?:{pattern})$"
    return f"{whole}|{PARAMETER}" if loose else whole


def site_written() -> str:
    """The schema of site files alone, as the file beside it."""
    from runner.procedure.language.site import SITE

    return alone(SITE, "site files")


def scenario_written() -> str:
    """The schema of scenarios alone: trainers write them, and nobody beside a press."""
    from runner.procedure.language.scenario import SCENARIO

    return alone(SCENARIO, "scenarios")


def alone(record: Record, what: str) -> str:
    """The schema of one kind of file, as its own file holds it."""
    import json

    schema = schema_of(record)
    told = {
        "$schema": schema.pop("$schema"),
        "title": f"Changeover {what}, language version 1",
        "description": "Written from the table of keys; change that, not this file.",
    }
    return json.dumps(told | schema, ensure_ascii=False, indent=2) + "\n"


def written() -> str:
    """The schema as its file holds it."""
    import json

    return json.dumps(json_schema(), indent=2, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    import sys

    ALONE = {"site": site_written, "scenario": scenario_written}
    sys.stdout.write(ALONE.get("".join(sys.argv[1:]), written)())
