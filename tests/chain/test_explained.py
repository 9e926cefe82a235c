"""`explain` reads like a worked example: formula, the numbers put in, what the ± is made of.

The worked line is computed again here, by hand's rules and with no part of the program: it gives the printed
value, as closely as the rounding of the numbers in it allows. Shares of the variance are those of JCGM
100:2008, 5.1.2, equation (10), so that they sum to one.
"""

from __future__ import annotations

import math
import re
import signal
from contextlib import redirect_stdout
from io import StringIO

import pytest

from lessonpress.cli.commands import lessonpress
from lessonpress.cli.exit_codes import exit_code_of
from lessonpress.cli.explain import worked
from lessonpress.records.measure import Measure
from tests.chain.chain import root_of
from tests.chain.swing import KINDS, ask_all, place
from tests.studio.clip import MadeClip

NAMES = [*(one.id for one in KINDS), "tempo"]
COUNTED = ("path", "radius")  # too many numbers to put in: their line counts them and gives the result
ALONE = ("distance-level", "distance-plumb", "shift", "shift-plumb")  # one number, which is the value itself
FROM_TO = re.compile(r": ± ([\d.:]+)\S* ?\S* to ± ([\d.:]+)")
NUMBER = re.compile(r"\d+(?:\.\d+)?")


@pytest.fixture(scope="module")
def explained(exact: dict[str, Measure]) -> dict[str, str]:
    """What the command prints for one number of each kind."""
    return {name: "\n".join(worked(exact[name], exact, "cm")) for name in NAMES}


def test_the_command_prints_these_lines(kinds_clip: MadeClip, explained: dict[str, str]) -> None:
    place(kinds_clip, None)
    ask_all(kinds_clip)
    assert said(kinds_clip, "tilt") == explained["tilt"] + "\n"


def said(clip: MadeClip, name: str) -> str:
    kept, out = signal.getsignal(signal.SIGTERM), StringIO()
    args = ["explain", "kinds", name, "--site", str(root_of(clip))]
    with redirect_stdout(out):
        code = exit_code_of(lambda: lessonpress(args=args, prog_name="lessonpress", standalone_mode=False))
    signal.signal(signal.SIGTERM, kept)
    assert code == 0, out.getvalue()
    return out.getvalue()


def computed(text: str) -> float:
    """A worked left-hand side as a calculator would take it: degrees, roots, products, quotients."""
    plain = (
        text.replace("−", "-").replace("²", "**2").replace("×", "*").replace("÷", "/").replace("√", "sqrt")
    )
    plain = re.sub(r"([\d.]+)° in radians", r"radians(\1)", plain)
    plain = re.sub(r"\s*(cm|m/s|px|in|s|°|%)(?![a-z(])", "", plain)
    plain = re.sub(r"\|([^|]+)\|", r"inside(\1)", plain)
    known = {
        "sqrt": math.sqrt,
        "radians": math.radians,
        "atan2": lambda y, x: math.degrees(math.atan2(y, x)),
        "acos": lambda x: math.degrees(math.acos(x)),
        "sin": lambda x: math.sin(math.radians(x)),
        "inside": lambda x: min(abs(x) % 360, 360 - abs(x) % 360),
    }
    return float(eval(plain, {"__builtins__": {}}, known))


def rounding(text: str) -> float:
    """By how much the rounding of every number in a line may move its result."""
    here = computed(text)
    total = 0.0
    for found in NUMBER.finditer(text):
        digits = found.group().partition(".")[2]
        if not digits:
            continue  # a factor of the formula, such as 2
        half = 0.5 * 10 ** -len(digits)
        moved = text[: found.start()] + f"{float(found.group()) + half:.6f}" + text[found.end() :]
        total += abs(computed(moved) - here)
    return total


@pytest.mark.parametrize("name", NAMES)
def test_it_names_the_number_its_plane_its_frames_and_its_marks(
    name: str, explained: dict[str, str], exact: dict[str, Measure]
) -> None:
    text, measure = explained[name], exact[name]
    lines = text.splitlines()
    assert lines[0] == f"{name}: {measure.words}"
    assert "±" in lines[2] and ("k = 2: about 95 %" in lines[2] or "95 % between" in lines[2])
    frames = measure.frames
    said = ", ".join(map(str, frames)) if len(frames) < 4 else f"{frames[0]} to {frames[-1]}"
    assert f"  frames  {said} of {measure.clips[0]}" in lines
    if name != "tempo":
        assert "  plane   subject plane, face-on" in lines
        assert f"  marks   {', '.join(measure.marks)} (the points as marked)" in lines
    for assumption in measure.assumed:
        assert assumption in text


@pytest.mark.parametrize("name", NAMES)
def test_the_worked_line_computes_to_the_printed_value(
    name: str, explained: dict[str, str], exact: dict[str, Measure]
) -> None:
    budget = exact[name].budget
    assert budget is not None
    lines = explained[name].splitlines()
    assert f"  {budget.formula}" in lines and f"  {budget.worked}" in lines
    left, right = parts(name, budget.worked)
    half = 0.5 * 10 ** -len(NUMBER.findall(right)[0].partition(".")[2])
    assert abs(apart(computed(right), exact[name])) <= half * 1.01
    if name not in (*COUNTED, *ALONE):
        assert abs(apart(computed(left), exact[name])) <= rounding(left) + 1e-9, computed(left)


def parts(name: str, worked: str) -> tuple[str, str]:
    """What is put in, and what comes out, less a word that follows it."""
    if name == "path":
        return worked, worked.partition("together ")[2]
    left, _, right = worked.rpartition(" = ")
    return left, right.partition(",")[0]


def apart(again: float, measure: Measure) -> float:
    """Computed again less the value; directions by the shorter way round."""
    assert measure.value is not None
    off = again - measure.value
    return (off + 180) % 360 - 180 if measure.dimension == "clock" else off


@pytest.mark.parametrize("name", NAMES)
def test_the_shares_sum_to_one_largest_first(
    name: str, explained: dict[str, str], exact: dict[str, Measure]
) -> None:
    """Those of inputs under half a thousandth each are not listed, but given together as the rest."""
    budget = exact[name].budget
    assert budget is not None
    shares = [share.share for share in budget.shares]
    assert shares == sorted(shares, reverse=True)
    assert 0.99 <= sum(shares) <= 1 + 1e-9, sum(shares)
    printed = [float(part) for part in re.findall(r"(\d+\.\d)%", explained[name])]
    assert sum(printed) == pytest.approx(100, abs=0.05 * len(printed) + 0.05)


def test_what_would_narrow_it_is_said_with_both_uncertainties(
    explained: dict[str, str], exact: dict[str, Measure]
) -> None:
    """From the ± that is printed to one that prints as less."""
    told = [found for name in NAMES for found in FROM_TO.findall(explained[name])]
    assert len(told) == sum(len(exact[name].narrower) for name in NAMES) >= 10
    for now, then in told:
        assert float(then.replace(":", "")) < float(now.replace(":", "")), (now, then)


def test_every_input_has_its_uncertainty_and_unit(
    explained: dict[str, str], exact: dict[str, Measure]
) -> None:
    for name in NAMES:
        budget = exact[name].budget
        assert budget is not None
        for share in budget.shares:
            assert any(
                line.strip().startswith(share.words) and " u " in line
                for line in explained[name].splitlines()
            )
