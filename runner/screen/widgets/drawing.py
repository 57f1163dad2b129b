"""The side view of a web path, as large as its column allows, with the list of its rollers by their numbers.

The drawing is text already; what the signs mean stands below it. It is loaded when a path first comes up.
"""

from runner.say.text import mark, say
from runner.screen.blocks import Drawing, Hanging, Ink
from runner.screen.widgets.lines import Line, fit

SIDES = (mark("over"), mark("under"))
"""On which side of a roller the web passes."""


def drawing_lines(drawing: Drawing, width: int) -> list[Line]:
    """The drawing, the key to its signs, and a line for each roller; the next one is set apart."""
    from runner.screen.spelled import spell
    from runner.trade.path_drawing.text import key_line, rows_for, text_lines
    from runner.trade.path_drawing.view import mark_of

    path, done, plain, room = drawing
    rows = min(room, rows_for(path, width)) if room else rows_for(path, width)
    lines: list[Line] = [((line, Ink.PLAIN),) for line in text_lines(path, width, rows, done=done, plain=plain)]
    if done is not None:
        lines.append(((f" {key_line(done, plain)}", Ink.LABEL),))
    if room:
        return lines
    for place, roller in enumerate(path.rollers):
        mark = mark_of(place, done)
        ink = {"next": Ink.CHOSEN, "done": Ink.QUIET}.get(mark.words, Ink.PLAIN)
        name, sign = (spell(roller.name), mark.ascii) if plain else (roller.name, mark.sign)
        text = f"{sign:>1} {place + 1} {name}: {say(roller.side)}"
        lines.append(((" ", Ink.PLAIN), (fit(text, width - 2).rstrip(), ink)))
    return lines


def hanging_lines(hanging: Hanging, width: int) -> list[Line]:
    """Pieces as they hang, with what they weigh under each end."""
    from runner.screen.widgets.hangers import brief_lines, hanger_lines

    lines = brief_lines if hanging.brief else hanger_lines
    return [((line, Ink.PLAIN),) for line in lines(hanging.ends, hanging.unit, width - 1, plain=hanging.plain)]
