"""Whose a film or a picture is, and who can be recognised on it: what every card has to say."""

from __future__ import annotations

from typing import ClassVar, Literal

from pydantic import Field

from lessonpress.manuscript.fields.fieldtypes import DateText, Text, Url, YesNo
from lessonpress.manuscript.fields.wording import Words
from lessonpress.manuscript.fields.written import Written

SourceKind = Literal["own", "licensed", "public-domain", "quotation"]
Consent = Literal["written", "spoken", "guardian"]


def missing_rights(of: str) -> dict[str, Words]:
    """What a card is asked that says nothing of its rights. of: "footage" or "picture"."""
    return {
        "source": (
            f"nothing says where this {of} comes from",
            "add `source: {kind: own, credit: …}`; kinds are own, licensed, public-domain and quotation",
            (),
        ),
        "people": (
            "nothing says who can be recognised",
            "add `people:` with `- {name: …, consent: written}`, or `people: []` where no one is seen",
            (),
        ),
    }


class Source(Written):
    """Where footage or a picture comes from, and what it may be used for."""

    kind: SourceKind = Field(examples=["own"])
    credit: Text | None = None
    licence: Text | None = None
    url: Url | None = None
    until: DateText | None = None
    reason: Text | None = None


class Person(Written):
    """Someone who can be recognised, and the consent on record."""

    MISSING: ClassVar[dict[str, Words]] = {
        "consent": (
            "no consent of this person is on record",
            "ask, then write `consent: written`, `spoken` or `guardian`",
            (),
        ),
    }
    name: Text = Field(examples=["Dune"])
    consent: Consent = Field(examples=["written"])
    given: DateText | None = None
    until: DateText | None = None
    minor: YesNo = False
