"""The list of the desk's routes for DEVELOPERS.md: `python -m lessonpress.desk.http.routelist` prints it."""

from __future__ import annotations

from collections.abc import Iterator

from lessonpress.desk.http.requests import Request, models_in
from lessonpress.desk.http.routes import ROUTES


def listed() -> str:
    """Tables in Markdown: the routes, then every model that they take with its keys."""
    rows = [f"| {row.method} `{row.path}` | {_taken(row.takes)} | {row.does} |" for row in ROUTES]
    return "\n".join(
        [
            "| route | takes | does |",
            "|---|---|---|",
            *rows,
            "",
            "| body | keys |",
            "|---|---|",
            *_models(),
            "",
        ]
    )


def _taken(model: type[Request] | None) -> str:
    return f"`{model.__name__}`" if model else ""


def _models() -> Iterator[str]:
    """Each model once, an edit after the request that first has it."""
    listed_models: set[type[Request]] = set()
    for row in ROUTES:
        for model in _with_inner(row.takes):
            if model not in listed_models:
                listed_models.add(model)
                yield f"| `{model.__name__}` | {'; '.join(_keys(model))} |"


def _with_inner(model: type[Request] | None) -> list[type[Request]]:
    if model is None:
        return []
    return [model, *(one for field in model.model_fields.values() for one in models_in(field.annotation))]


def _keys(model: type[Request]) -> Iterator[str]:
    for name, field in model.model_fields.items():
        optional = "" if field.is_required() else "?"
        inner = [one.__name__ for one in models_in(field.annotation)]
        of = f" of `{inner[0]}`" if inner else ""
        yield f"`{field.alias or name}`{optional}: {field.description}{of}"


if __name__ == "__main__":
    print(listed(), end="")
