"""This program's version."""

from __future__ import annotations


def app_version() -> str:
    """The version as installed; "unknown" in a checkout that is not."""
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("coloured-pencil-coach")
    except PackageNotFoundError:
        return "unknown"
