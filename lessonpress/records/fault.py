"""The errors that are raised, and the rule for which.

A mistake in what an author wrote is a `Problem`: it is collected and reported with all the others, and never
ends a command. What is raised says why a piece of work cannot be done, and is caught as the table says:

| error | raised where | becomes |
|---|---|---|
| `UsageError` | the command cannot do what was asked | exit code 2 |
| `MachineError` | the machine cannot do it | exit code 3 |
| `cli` `SiteProblemsError` | problems have been printed | exit code 1 |
| `manuscript` `InvalidValueError` | a value is none of its type | a problem at the value |
| `manuscript` `UnreadableTextError` | a file is no text of the site | a problem at the file |
| `footage` `FootageError` | a video cannot give what was asked | a problem at its card |
| `measure` `RefusedError` | a number cannot be known well enough | a `Refusal`, printed as its reason |
| `desk` `RequestError` | a request cannot be met | the response's status and its reason |
| `disk` `LockedError` | another process holds the file | a usage error that names the holder |

An error whose name begins with `_` is caught in the module that raises it.
"""

from __future__ import annotations


class UsageError(Exception):
    """What was asked for cannot be done as asked; nothing was touched. The command's exit code is 2."""


class MachineError(Exception):
    """The machine cannot do it, for want of a library, say. The command's exit code is 3."""
