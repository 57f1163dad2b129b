"""How long after a keystroke an editor has the findings: python -m tests.bench.editor_keystroke [STEPS] [KEYSTROKES]

The real process over standard input and output. Each keystroke changes one word of a step; the time runs from the message that
tells of it to the findings that come back, pause and all. Beside it stands a plain lint of the same text in this process, in
turn, so that drift of the machine hits both alike. The goal: 400 steps, median under 200 ms.
"""

import asyncio
import statistics
import sys
import tempfile
from collections.abc import Awaitable, Callable
from pathlib import Path
from time import perf_counter

from lsprotocol import types
from pytest_lsp import LanguageClient

from runner.lint.linter import lint
from tests.bench.written import procedure
from tests.editor.process import CONFIG, begin, opened, published, typed


async def time_of(act: Callable[[], Awaitable[object]]) -> float:
    """Milliseconds that an act takes."""
    began = perf_counter()
    await act()
    return (perf_counter() - began) * 1e3


async def main(steps: int, keystrokes: int) -> None:
    """Print medians and ratios."""
    text = procedure(steps)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder).resolve() / "measured.procedure.yaml"
        client = await CONFIG.start()
        assert isinstance(client, LanguageClient)
        await begin(client, path.parent)
        uri = opened(client, path, text)
        await published(client, uri)
        findings: list[float] = []
        plain: list[float] = []
        for number in range(keystrokes):
            changed = text.replace("to the mark", f"to the mar{'k' * (number % 3)}", 1 + number % 7)

            async def keystroke(changed: str = changed, number: int = number) -> None:
                typed(client, uri, changed, number + 2)
                await published(client, uri)

            findings.append(await time_of(keystroke))
            began = perf_counter()
            lint(changed, str(path), lambda _: None)
            plain.append((perf_counter() - began) * 1e3)
        here = types.TextDocumentIdentifier(uri), types.Position(text[: text.rindex("needs:")].count("\n"), 20)
        asked: dict[str, list[float]] = {"hover": [], "completion": []}
        for _ in range(9):
            asked["hover"].append(await time_of(lambda: client.text_document_hover_async(types.HoverParams(*here))))
            asked["completion"].append(
                await time_of(lambda: client.text_document_completion_async(types.CompletionParams(*here)))
            )
        await client.shutdown_session()
        await client.stop()
    ratio = statistics.median(mine / its for mine, its in zip(findings, plain, strict=True))
    slowest = sorted(findings)[int(len(findings) * 0.95)]
    print(f"{steps} steps, {keystrokes} keystrokes (goal: findings under 200 ms at 400 steps)")
    print(
        f"  keystroke to findings   {statistics.median(findings):8.1f} ms median, {slowest:.1f} ms at 95 %, {ratio:.2f} x a plain lint"
    )
    print(f"  a plain lint            {statistics.median(plain[1:]):8.1f} ms median")
    for name, taken in asked.items():
        print(f"  {name:23} {statistics.median(taken):8.1f} ms median")


if __name__ == "__main__":
    given = [int(one) for one in sys.argv[1:]]
    asyncio.run(main(*(given + [400, 40][len(given) :])))
