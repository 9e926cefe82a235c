"""What an author answers stays answered until the text changes, and no longer."""

from __future__ import annotations

from lessonpress.preflight import Answered, LessonSubject, answered, left_over, look_at
from tests.preflight.measured import FRONT, Written, measured

BACK = ("navel-back: shift of navel, 5.2 in ± 0.6 away from the target, top",)
FOUR = "By the top the navel has gone four inches."


def subject_of(body: str, meant: str) -> LessonSubject:
    return measured(Written(body, BACK, FRONT.replace("---\n", f"---\n{meant}", 1)))


def looked_at(body: str, meant: str = "") -> Answered:
    subject = subject_of(body, meant)
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
    assert [one.rule for one in looked.open] == ["typed-number"]
    (note,) = left_over(looked.left, subject_of(FOUR, answer_to(FOUR)).lesson)
    assert (note.rule, note.severity, note.location.line, note.id) == ("answer-left-over", "note", 3, "")


def test_a_finding_reported_by_the_press_says_how_to_answer_it() -> None:
    (finding,) = looked_at(FOUR).open
    assert finding.problem.severity == "warning"
    assert finding.problem.right.endswith(f"write `{finding.id}: why` under `meant`")
