"""What stops a press and is no mistake in what the author wrote."""

from __future__ import annotations


class UsageFault(Exception):
    """What was asked for cannot be done as asked; nothing was touched. The command leaves with code 2."""


class MachineFault(Exception):
    """The machine cannot do it: a library that is missing, a disk that is full. The command leaves with code 3."""
