"""The coach's own folder is its owner's alone: 0700, and 0600 every file the coach makes in it.

New files are made so by the umask that the program sets at its start. This
tightens what is there from before, or was made by another hand.
"""

from __future__ import annotations

import os
import stat
from contextlib import suppress
from pathlib import Path

from scores.upkeep.places import BACKUPS, class_files, crash_files, record_files

OTHERS = stat.S_IRWXG | stat.S_IRWXO
"""The rights of anyone but the owner; also the program's umask."""


def keep_private(home: Path) -> None:
    """Take from others what rights they have to ``home`` and to our files in it.

    Rights are only taken, never given. A folder of somebody else's, one that
    many share (with the sticky bit, such as the system's temporary folder), a
    file system's root and a person's whole home folder stay as they are; a file
    is tightened there too. Links are not followed. What can't be changed stays.
    """
    if os.name != "posix" or not home.is_dir():
        return  # a file of somebody's in the folder's place is none of ours
    # The folder first: then nobody else can change the names in it.
    if not _shared(home):
        _tighten(home)
    _tighten(home / BACKUPS)
    for file in (*record_files(home), *crash_files(home), *class_files(home)):
        _tighten(file)


def _shared(home: Path) -> bool:
    try:
        mode = home.stat().st_mode
        if mode & stat.S_ISVTX or home.is_mount():
            return True
        return home.samefile(Path.home())
    except (OSError, RuntimeError):
        return False


def _tighten(path: Path) -> None:
    with suppress(OSError):
        found = path.lstat()
        ours = found.st_uid == os.geteuid()
        plain = stat.S_ISREG(found.st_mode) or stat.S_ISDIR(found.st_mode)
        if ours and plain and found.st_mode & OTHERS:
            path.chmod(stat.S_IMODE(found.st_mode) & ~OTHERS)
