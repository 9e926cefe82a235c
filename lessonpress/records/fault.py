"""What stops a command and is no mistake in what the author wrote."""

from __future__ import annotations


class UsageError(Exception):
    """What was asked for cannot be done as asked; nothing was touched. The command's exit code is 2."""


class MachineError(Exception):
    """The machine cannot do it, for want of a library, say. The command's exit code is 3."""
