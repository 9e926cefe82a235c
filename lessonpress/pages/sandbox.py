"""The sandbox of templates: which values and functions they may use.

Jinja's own sandbox keeps templates from Python's inner attributes, and knows nothing of ours: a path can
write files, a module leads to every other, and a model of the manuscript can be made to read pickles. So
attributes are refused unless they are known to be harmless.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, MutableMapping
from datetime import date
from pathlib import PurePath
from types import ModuleType
from typing import Any

from jinja2 import Template
from jinja2.runtime import LoopContext, Macro, TemplateReference
from jinja2.sandbox import ImmutableSandboxedEnvironment
from jinja2.utils import Cycler, Joiner, Namespace

_PLAIN: tuple[type, ...] = (
    str,
    int,
    float,
    tuple,
    list,
    Mapping,
    set,
    frozenset,
    date,
    type({}.items()),
    type({}.values()),
)
_OF_JINJA = (LoopContext, Macro, TemplateReference, Cycler, Joiner, Namespace)
_OURS = "lessonpress."
_FOR_TEMPLATES = ("lessonpress.pages.", "lessonpress.overlays.words")


class Sandbox(ImmutableSandboxedEnvironment):
    """Raises jinja2.exceptions.SecurityError where a template uses what it was refused.

    used: called with the name of each template used, whether for a page or from another template.
    """

    used: Callable[[str], object] = staticmethod(lambda _: None)

    def _load_template(self, name: str, globals: MutableMapping[str, Any] | None) -> Template:
        self.used(name)
        return super()._load_template(name, globals)

    def is_safe_attribute(self, obj: Any, attr: str, value: Any) -> bool:
        """Whether `obj.attr`, which is `value`, may be had."""
        if not super().is_safe_attribute(obj, attr, value):
            return False
        if isinstance(value, PurePath | ModuleType | type) or isinstance(obj, PurePath | type):
            return False
        if isinstance(obj, _PLAIN) and not type(obj).__module__.startswith(_OURS):
            return True
        if isinstance(obj, _OF_JINJA):
            return True
        if not type(obj).__module__.startswith(_OURS):
            return False
        return not callable(value) or _made_for_templates(value, *_FOR_TEMPLATES)


def _made_for_templates(value: Any, *modules: str) -> bool:
    return callable(value) and str(getattr(value, "__module__", "")).startswith(modules)
