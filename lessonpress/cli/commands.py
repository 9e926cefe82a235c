"""The table of commands.

One module a command, a row in COMMANDS. A command's module is imported when it is called, not before, and
imports what is heavy (video, arrays) inside its function: help, `start` and a mistyped option are to answer
at once, also on a machine where the video libraries do not load.
"""

from __future__ import annotations

import importlib
import sys
from functools import partial
from io import TextIOWrapper
from typing import NoReturn

import click

from lessonpress import __version__
from lessonpress.cli.exit_codes import exit_code_of, exit_with

# name → (module, what the help says of it), in the order in which an author meets them
COMMANDS = {
    "start": ("lessonpress.cli.start", "Lay out a small site that presses at once."),
    "ingest": ("lessonpress.cli.ingest", "Make a clip of a video: its card begun, its frames numbered."),
    "sheet": ("lessonpress.cli.sheet", "Show every picture around an instant, to find events by."),
    "track": ("lessonpress.cli.track", "Carry marks over the pictures between those placed by hand."),
    "suggest": ("lessonpress.cli.suggest", "Propose marks of the body, for you to look at."),
    "desk": ("lessonpress.cli.desk", "Open the local pages where marks are placed and figures composed."),
    "restore": ("lessonpress.cli.restore", "Bring a file back to what it was before a save."),
    "preflight": ("lessonpress.cli.preflight", "Look once more at everything before it is published."),
    "press": ("lessonpress.cli.press", "Press a site into a folder of static files."),
    "withdraw": ("lessonpress.cli.withdraw", "Take a clip or a person out of everything."),
    "diagram": ("lessonpress.cli.diagram", "Draw a plate once more: wider, square, without letters."),
    "mail": ("lessonpress.cli.mail", "Write lessons as letters, ready to address or to paste."),
    "compare": ("lessonpress.cli.compare", "Hold a clip against a lesson: a draft for one student."),
    "measure": ("lessonpress.cli.measure", "Print the ledger of a lesson."),
    "explain": ("lessonpress.cli.explain", "Show how a number of a lesson came about."),
}


class _Commands(click.Group):
    """A group whose commands are imported when they are called; their one-line helps are in the table."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        command = importlib.import_module(COMMANDS[cmd_name][0]).command
        assert isinstance(command, click.Command)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl([(name, help_line) for name, (_, help_line) in COMMANDS.items()])


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, message="%(prog)s %(version)s")
def lessonpress() -> None:
    """A press for illustrated, measured swing lessons: Markdown and video in, a static site out.

    It gives no legal and no medical advice: local rules and licensed practice come first.

    Exit codes: 0 done, warnings included; 1 mistakes in the site; 2 mistakes in the command as typed;
    3 a fault of the machine or of the program; 130 interrupted.
    """


def run(words: list[str]) -> NoReturn:
    """Does what these words ask for and ends the program with its exit code."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")  # a terminal that lacks a letter is no reason to fail
    asked = partial(lessonpress, args=words, prog_name="lessonpress", standalone_mode=False, obj=words)
    exit_with(exit_code_of(asked))
