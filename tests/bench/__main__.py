"""List the studies, or run one and exit 0 only where its target holds."""

from __future__ import annotations

import argparse
import importlib
import pkgutil

from tests.bench import studies
from tests.bench.study import Study, table


def find_studies() -> dict[str, Study]:
    """Every module under ``studies`` holds one, called ``STUDY``."""
    found = [
        importlib.import_module(f"{studies.__name__}.{module.name}").STUDY
        for module in pkgutil.iter_modules(studies.__path__)
    ]
    return {study.name: study for study in sorted(found, key=lambda study: study.name)}


def main(argv: list[str] | None = None) -> int:
    """Run from the command line."""
    known = find_studies()
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument(
        "name", nargs="?", choices=list(known), metavar="NAME", help="the study; left out: list them"
    )
    parser.add_argument("--quick", action="store_true", help="a smaller study, under 50 seconds")
    arguments = parser.parse_args(argv)
    if arguments.name is None:
        print(table(("study", "question"), [(study.name, study.question) for study in known.values()]))
        return 0
    outcome = known[arguments.name].run(arguments.quick)
    print(table(outcome.columns, outcome.rows))
    print()
    verdict = "holds" if outcome.holds else "does not hold"
    print(f"{arguments.name}: {outcome.figure}; target: {outcome.target}: {verdict}")
    return 0 if outcome.holds else 1


if __name__ == "__main__":
    raise SystemExit(main())
