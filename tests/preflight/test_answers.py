"""What an author answers stays answered until the text changes, and no longer."""

from __future__ import annotations

from lessonpress.preflight import Answered, answered, look_at
from tests.preflight.measured import FRONT, Written, measured

BACK = ("navel-back: shift of navel, 5.2 in ± 0.6 away from the target, top",)
FOUR = "By the top the navel has gone four inches."


def looked_at(body: str, meant: str = "") -> Answered:
    front = FRONT.replace("---\n", f"---\n{meant}", 1) if meant else FRONT
    subject = measured(Written(body, BACK, front))
    return answered(look_at(subject), subject.lesson)


def answer_to(body: str) -> str:
    (finding,) = looked_at(body).open
    return f"meant:\n  {finding.id}: a student's guess\n"


def test_an_answered_finding_is_settled_with_its_reason() -> None:
    looked = looked_at(FOUR, answer_to(FOUR))
    assert looked.open == ()
    assert [reason for _, reason in looked.settled] == ["a student's guess"]


def test_an_answer_holds_where_lines_are_broken_anew_and_other_text_changes() -> None:
    anew = FOUR.replace("has gone", "has\ngone")
    looked = looked_at(f"Another sentence. {anew}", answer_to(FOUR))
    assert looked.open == ()


def test_a_changed_sentence_is_found_again_and_its_old_answer_is_a_note() -> None:
    looked = looked_at(FOUR.replace("By the top", "At the top"), answer_to(FOUR))
    assert [(one.rule, one.severity) for one in looked.open] == [
        ("typed-number", "severe"),
        ("answer-left-over", "note"),
    ]
    assert looked.open[1].location.line == 3


def test_a_finding_reported_by_the_press_says_how_to_answer_it() -> None:
    (finding,) = looked_at(FOUR).open
    assert finding.problem.severity == "warning"
    assert finding.problem.right.endswith(f"write `{finding.id}: why` under `meant`")
