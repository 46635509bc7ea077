"""The published rules for an xAPI statement whose object is an activity, as a JSON schema.

Written from the text of ADL's "xAPI-Data.md" (Experience API 1.0.3, 2016), read on 27 November
2026; the numbers are that text's own anchors. IEEE 9274.1.1-2023 ("xAPI 2.0") grew from it; its
text is not free and was not read. What we never write (groups, attachments, an authority) is
refused here rather than described. "MUST" and "SHOULD" are held alike.
"""

from __future__ import annotations

from typing import Any

from jsonschema import Draft202012Validator

IRI = {"type": "string", "pattern": r"^[a-z][a-z0-9+.-]*:[^\s<>\"{}|\\^`]+$"}
"""4.3, and 2.2.s4.b1.b8: none without a scheme. The characters are those of RFC 3987."""
UUID = {
    "type": "string",
    "pattern": "^[0-9a-f]{8}-[0-9a-f]{4}-[1-8][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$",
}
"""2.4.1 and 4.4: variant 2 of RFC 4122 in its standard form."""
LANGUAGES = {
    "type": "object",
    "minProperties": 1,
    "propertyNames": {"pattern": "^[a-z]{2,3}(-[A-Z]{2})?$"},
    "additionalProperties": {"type": "string"},
}
"""4.2: a language and perhaps a country (RFC 5646), and a text in it."""
TIMESTAMP = {
    "type": "string",
    "pattern": r"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3,}(Z|[+-]\d\d:\d\d)$",
    "not": {"pattern": "-00:00$"},
}
"""4.5: RFC 3339, to the millisecond at least, with its zone; ISO 8601 has no -00:00."""
DURATION = {
    "type": "string",
    "pattern": r"^P(?!$)(\d+Y)?(\d+M)?(\d+D)?(T(?=\d)(\d+H)?(\d+M)?(\d+(\.\d{1,2})?S)?)?$",
}
"""4.6: ISO 8601:2004, 4.4.3.2, to 0.01 s at most."""


def _closed(required: tuple[str, ...], **properties: object) -> dict[str, Any]:
    """An object with no key that the rules don't have (2.2.s4.b1.b7); null is of no type."""
    return {
        "type": "object",
        "required": list(required),
        "properties": properties,
        "additionalProperties": False,
    }


NUMBER, TRUTH, TEXT = {"type": "number"}, {"type": "boolean"}, {"type": "string"}
EXTENSIONS = {"type": "object", "propertyNames": IRI}  # 4.1.s3.b1
ACTIVITY = _closed(  # 2.4.4.1
    ("id",),
    objectType={"const": "Activity"},
    id=IRI,
    definition=_closed((), name=LANGUAGES, description=LANGUAGES, type=IRI, moreInfo=IRI),
)
AGENT = _closed(  # 2.4.2.1: exactly one identifier; ours is an account (2.4.2.4)
    ("account",),
    objectType={"const": "Agent"},
    name=TEXT,
    account=_closed(("homePage", "name"), homePage=IRI, name={**TEXT, "minLength": 1}),
)
SCORE = _closed(  # 2.4.5.1
    ("scaled",), scaled={**NUMBER, "minimum": -1, "maximum": 1}, raw=NUMBER, min=NUMBER, max=NUMBER
)
ACTIVITIES = {"type": "array", "items": ACTIVITY}  # 2.4.6.2.s4.b5: an array
STATEMENT = _closed(  # 2.4
    ("id", "actor", "verb", "object", "timestamp"),
    id=UUID,
    actor=AGENT,
    verb=_closed(("id", "display"), id=IRI, display=LANGUAGES),  # 2.4.3.s5.b1
    object=ACTIVITY,
    result=_closed(  # 2.4.5
        (),
        score=SCORE,
        success=TRUTH,
        completion=TRUTH,
        response=TEXT,
        duration=DURATION,
        extensions=EXTENSIONS,
    ),
    context=_closed(  # 2.4.6
        (),
        registration=UUID,
        contextActivities=_closed(  # 2.4.6.2.s4.b1
            (), parent=ACTIVITIES, grouping=ACTIVITIES, category=ACTIVITIES, other=ACTIVITIES
        ),
        revision=TEXT,
        platform=TEXT,
        language=TEXT,
        extensions=EXTENSIONS,
    ),
    timestamp=TIMESTAMP,
)
Draft202012Validator.check_schema(STATEMENT)
RULES = Draft202012Validator(STATEMENT)


def faults(said: object) -> list[str]:
    """Where a statement breaks the rules, and how."""
    return [f"{one.json_path}: {one.message}" for one in RULES.iter_errors(said)]
