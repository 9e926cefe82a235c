"""A site of words alone, for the last look."""

from __future__ import annotations

from pathlib import Path


def of_words(root: Path, lesson: str, about: str, language: str = "en") -> Path:
    """Without a clip, so that nothing is to be decoded or measured. language: of site.yaml."""
    site = f"title: Notebook\nlanguage: {language}\n"
    files = {"site.yaml": site, "lessons/turning.md": lesson, "pages/about.md": about}
    for name, text in files.items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return root
