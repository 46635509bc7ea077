"""A teacher's class: how it stands in words, the report, the brief before class, exports."""
