"""The hooks for pre-commit: their table is well-formed, and their entries run as pre-commit calls them.

Keys and meaning as pre-commit documents them ("Creating new hooks"): `entry` is split as a shell would and gets `args` and,
unless `pass_filenames` is false, the changed files; `files` is a Python regular expression that is searched for in their paths.
"""

import re
import shlex
from pathlib import Path
from typing import Any

import pytest
import yaml

from runner.lint.kinds import KINDS
from tests.lint.examples import whole

from .command import PROCEDURES, ROOT, Done, changeover

HOOKS: list[dict[str, Any]] = yaml.safe_load((ROOT / ".pre-commit-hooks.yaml").read_text(encoding="utf-8"))
BY_ID = {hook["id"]: hook for hook in HOOKS}


def called(hook: dict[str, Any], repository: Path, *changed: str) -> Done:
    wanted = [path for path in changed if re.search(hook["files"], path)]
    words = shlex.split(hook["entry"]) + list(hook.get("args", []))
    assert words[0] == "changeover"
    return changeover(*words[1:], *(wanted if hook.get("pass_filenames", True) else []), cwd=repository)


def test_every_hook_has_what_pre_commit_asks_for() -> None:
    assert list(BY_ID) == ["changeover-lint", "changeover-lint-all"]
    for hook in HOOKS:
        assert {"id", "name", "entry", "language"} <= set(hook)
        assert (hook["language"], hook["types"]) == ("python", ["yaml"])


@pytest.mark.parametrize("hook", HOOKS, ids=lambda hook: hook["id"])
def test_the_pattern_takes_the_files_of_lint_and_no_others(hook: dict[str, Any]) -> None:
    assert all(re.search(hook["files"], f"procedures/change-roll{kind}") for kind in KINDS)
    assert re.search(hook["files"], "site.yaml")
    assert re.search(hook["files"], "line-3/site.yaml")
    for other in ("website.yaml", "procedure.yaml", "a.procedure.yaml.txt", "aprocedure.yaml", "a.plant.yaml"):
        assert not re.search(hook["files"], other)
    shipped = [path.name for path in PROCEDURES.iterdir() if path.suffix == ".yaml"]
    assert shipped
    assert all(re.search(hook["files"], name) for name in shipped)


def test_the_hook_looks_at_what_has_changed(tmp_path: Path) -> None:
    (tmp_path / "good.procedure.yaml").write_text(whole(""), encoding="utf-8")
    (tmp_path / "bad.procedure.yaml").write_text("format: 1\n", encoding="utf-8")
    hook = BY_ID["changeover-lint"]
    assert called(hook, tmp_path, "good.procedure.yaml", "plant.yaml").code == 0
    done = called(hook, tmp_path, "good.procedure.yaml", "bad.procedure.yaml")
    assert done.code == 1
    assert "bad.procedure.yaml:1:" in done.out


def test_the_other_hook_looks_at_the_users_of_a_changed_fragment(tmp_path: Path) -> None:
    using = whole("phases:\n  - phase: Lift\n    steps:\n      - {use: part.fragment.yaml, with: {side: left}}\n")
    (tmp_path / "using.procedure.yaml").write_text(using, encoding="utf-8")
    (tmp_path / "part.fragment.yaml").write_text(
        "fragment: 1\nid: part\ntitle: Part\nsteps:\n  - {id: one, by: unwind, do: Stop.}\n", encoding="utf-8"
    )
    assert called(BY_ID["changeover-lint"], tmp_path, "part.fragment.yaml").code == 0
    done = called(BY_ID["changeover-lint-all"], tmp_path, "part.fragment.yaml")
    assert (done.code, "parameter-unknown" in done.out) == (1, True)
