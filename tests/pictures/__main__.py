"""``python -m tests.pictures``: make the pictures of README.md and DEVELOPERS.md again."""

import asyncio

from tests.pictures import FOLDER, make

asyncio.run(make(lambda name, svg: (FOLDER / name).write_text(svg, encoding="utf-8") and None))
