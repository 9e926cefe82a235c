"""The program run on hostile and damaged files; exit code 1 where one of them breaks a rule."""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
from pathlib import Path

from tests.corpus.corpus import Corpus, Judged, table
from tests.corpus.program import finish


def main() -> int:
    asked = argparse.ArgumentParser(prog="python -m tests.corpus", description=__doc__)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--texts", type=int, default=500, help="how many damaged texts")
    asked.add_argument("--videos", type=int, default=350, help="how many damaged films")
    asked.add_argument("--photos", type=int, default=150, help="how many damaged photographs")
    asked.add_argument("--only", action="append", default=[], help="a family, or one case as FAMILY-NUMBER")
    asked.add_argument("--jobs", type=int, default=os.cpu_count() or 1)
    asked.add_argument("--keep", type=Path, default=Path("build/corpus"), help="where failures are kept")
    given = asked.parse_args()
    with tempfile.TemporaryDirectory(prefix="corpus-") as folder:
        corpus = Corpus(Path(folder) / "work", given.keep.absolute())
        cases = corpus.cases(given.seed, given.texts, given.videos, given.photos)
        cases = [one for one in cases if not given.only or {one.family, one.name} & set(given.only)]
        judged = corpus.judge(cases, given.jobs, _tell)
    work, most = finish()
    failed = [one for one in judged if one.broken]
    print(table(judged))
    for one in failed:
        print(f"{one.case.name} (seed {one.case.seed}): {', '.join(one.broken)}: {one.said}")
    print(f"{len(judged)} cases, {len(failed)} break a rule")
    print(f"{work / 60:.1f} min of processor; {most / 1e6:.0f} MB at the most in one process")
    if failed:
        print(f"{len(failed)} of {len(judged)} cases break a rule; each lies in {given.keep}")
    return 1 if failed else 0


def _tell(judged: Judged) -> None:
    print(
        f"{judged.case.name}: {', '.join(judged.broken) or 'sound'} {judged.codes}",
        file=sys.stderr,
        flush=True,
    )


if __name__ == "__main__":
    sys.exit(main())
