"""A class's answers as Apache Parquet: the columns of the CSV, typed, for any engine of tables.

The files of several classes are one table to such an engine, so that any number of classes is
one query. What it needs is an extra: ``pip install "coloured-pencil-coach[parquet]"``.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from importlib.util import find_spec
from itertools import islice

from coach.reports.classes.export import ANSWER_COLUMNS, answer_rows
from drills.basics.errors import InputError
from scores.classes.store import ClassBook

ROWS = 50_000
"""Answers in one row group: what is in memory at once."""


def check_extra() -> None:
    """Raises InputError, saying how to get it, where the extra is not installed."""
    if find_spec("pyarrow") is None:
        raise InputError(
            "class export --parquet",
            "this needs the package pyarrow, which isn't installed",
            'Install it with: pip install "coloured-pencil-coach[parquet]", or use --csv.',
        )


def answers_parquet(book: ClassBook, deck: str) -> Iterator[bytes]:
    """The file's bytes: one row an answer, as ``answer_rows``, of one deck or (empty) of all.

    Times are in UTC to the millisecond, ``score`` and ``level`` from 0 to 1. A text is as it
    was sent: nothing here takes it for a formula. What isn't known is null.
    """
    import pyarrow as pa
    import pyarrow.parquet as pq

    text = pa.string()
    # Few different texts, each many times.
    word = pa.dictionary(pa.int32(), text)
    types = {
        **dict.fromkeys(("student", "student_id", "deck", "kind", "region", "target"), word),
        **{"at_utc": pa.timestamp("ms", "UTC"), "score": pa.float64(), "right": pa.bool_()},
        **{"seconds": pa.float64(), "level": pa.float64(), "truth": word, "said": word},
        **{"id": text, "on_paper": pa.bool_()},
    }
    schema = pa.schema([(name, types[name]) for name in ANSWER_COLUMNS])
    out = io.BytesIO()
    with pq.ParquetWriter(out, schema, compression="zstd") as writer:
        rows = answer_rows(book, deck)
        while part := list(islice(rows, ROWS)):
            columns = [
                pa.array(column, type=field.type)
                for column, field in zip(zip(*part, strict=True), schema, strict=True)
            ]
            writer.write_table(pa.Table.from_arrays(columns, schema=schema))
            yield out.getvalue()
            out.seek(0)
            out.truncate()
    yield out.getvalue()
