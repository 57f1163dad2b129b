"""The head of a record as a QR code (ISO/IEC 18004), for a page that somebody scans: the number of lines and the whole hash.

Made by the package `segno`, the extra `seal`; without it there is no picture, and the head code in text says the same.
The drawing has no attribute but presentation, as the policy of the page asks.
"""

from runner.procedure.clean import clean

QUIET = 4
"""Modules of white around it, as ISO/IEC 18004 asks."""
SCALE = 3
"""Pixels a module."""


def qr_lines(count: int, head: str) -> tuple[str, ...]:
    """What a reader of the code shows, as lines for formats without pictures."""
    return f"changeover record of {count} lines", f"head {clean(head)}"


def qr_svg(count: int, head: str) -> str:
    """Inline SVG, black on white in any look of the page; empty without `segno`."""
    try:
        import segno
    except ImportError:
        return ""
    matrix = segno.make(" ".join(qr_lines(count, head)), error="m", micro=False).matrix
    rows = (
        f"M{QUIET + x} {QUIET + y}h1v1h-1z" for y, row in enumerate(matrix) for x, module in enumerate(row) if module
    )
    size = len(matrix) + 2 * QUIET
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="QR code of the head of the record" viewBox="0 0 {size} {size}" '
        f'width="{SCALE * size}" height="{SCALE * size}"><rect width="{size}" height="{size}" fill="#fff"/>'
        f'<path d="{"".join(rows)}" fill="#000"/></svg>'
    )
