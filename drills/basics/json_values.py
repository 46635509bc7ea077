"""What JSON can hold."""

from __future__ import annotations

JSON = None | bool | int | float | str | list["JSON"] | dict[str, "JSON"]
