"""Script and other active content in every field that may reach a page, and in prose."""

from __future__ import annotations

from pathlib import Path
from random import Random

from tests.corpus.case import CANARY
from tests.corpus.sound import LESSON, PAGE
from tests.corpus.texts.fields import replace_a_field

SCRIPTS = tuple(
    script.replace("CANARY", CANARY)
    for script in (
        "<script>CANARY()</script>",
        '"><script>CANARY()</script>',
        "'><img src=x onerror=CANARY()>",
        "</style><script>CANARY()</script>",
        "</title><script>CANARY()</script>",
        "--><script>CANARY()</script><!--",
        "]]><script>CANARY()</script>",
        '" onmouseover="CANARY()',
        "' onfocus='CANARY()' autofocus='",
        "javascript:CANARY()",
        "java\tscript:CANARY()",
        "JaVaScRiPt:CANARY()",
        "data:text/html,<script>CANARY()</script>",
        "vbscript:CANARY()",
        "<svg onload=CANARY()>",
        "<iframe srcdoc='CANARY'></iframe>",
        "<base href='https://CANARY.example/'>",
        "<meta http-equiv=refresh content='0;url=https://CANARY.example/'>",
        "https://e.example/</style><script>CANARY()</script>",
        'https://e.example/"onload="CANARY()',
        "&lt;script&gt;CANARY()&lt;/script&gt;",
        "<math><mtext></mtext><script>CANARY()</script></math>",
        "<a href='javascript:CANARY()'>x</a>",
        'en" onload="CANARY()',
        "</text></svg><script>CANARY()</script>",
        "}</style><script>CANARY()</script>",
    )
)
PROSE = (
    "[x]({})",
    "![x]({})",
    "<{}>",
    "[x]: {}\n\n[x]",
    "{}",
    "`{}`",
    "# {}",
    "> {}",
    "| {} |\n|---|\n| {} |",
    "```frame {}\n```",
    "```{}\n{}\n```",
    "~~~caution {}\n~~~",
    "[x](<{}>)",
    "![{}](x.png)",
    '[x](y "{}")',
)


def spoil(root: Path, random: Random) -> str:
    script = random.choice(SCRIPTS)
    if random.random() < 0.6:
        return replace_a_field(root, random, script)
    name = random.choice((LESSON, PAGE))
    form = random.choice(PROSE)
    path = root / name
    path.write_text(path.read_text(encoding="utf-8") + "\n\n" + form.replace("{}", script) + "\n")
    return f"{name}: prose {form!r} with {script!r}"
