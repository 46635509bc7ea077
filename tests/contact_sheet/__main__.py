"""``python -m tests.contact_sheet OUT``: picture every screen and state into the folder OUT."""

from __future__ import annotations

import asyncio
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.contact_sheet.walk import SIZES, furnish, walk

PAGE = """<!doctype html><meta charset="utf-8"><title>Every screen</title>
<style>body {{ background: #777; font: 16px sans-serif }} tr {{ vertical-align: top }}
td, th {{ padding: 8px; text-align: left }} img {{ display: block }}</style>
<table><tr><th></th>{heads}</tr>{rows}</table>"""


async def pictures(out: Path) -> list[str]:
    """Write each state at each size as SVG; the states' names in the order seen."""
    names: dict[str, None] = {}
    with TemporaryDirectory() as folder:
        home = Path(folder)
        furnish(home)
        for wide, high in SIZES:
            async for seen in walk(home, (wide, high)):
                names[seen.name] = None
                svg = seen.app.export_screenshot(title=f"{seen.name} {wide}x{high}")
                (out / f"{seen.name}.{wide}x{high}.svg").write_text(svg, encoding="utf-8")
    return list(names)


def main() -> None:
    out = Path(sys.argv[1])
    out.mkdir(parents=True, exist_ok=True)
    names = asyncio.run(pictures(out))
    sizes = [f"{wide}x{high}" for wide, high in SIZES]
    rows = "".join(
        f"<tr><th>{name}</th>"
        + "".join(
            f'<td><img src="{name}.{size}.svg" width="{6 * int(size.split("x")[0])}"></td>'
            for size in sizes
        )
        + "</tr>"
        for name in names
    )
    page = PAGE.format(heads="".join(f"<th>{size}</th>" for size in sizes), rows=rows)
    (out / "index.html").write_text(page, encoding="utf-8")
    print(f"{len(names)} states at {len(sizes)} sizes: {out / 'index.html'}")


if __name__ == "__main__":
    main()
