"""The command line. Exit codes: 0 done, 1 the project is at fault, 2 the call is at fault, 70 plangen is."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from plangen import __version__

# Everything else is imported where it is used: `plangen --help` answers before the rooms are loaded.
from plangen.cli.folders import PROJECT_FILE, CallError, OutsideError, ProjectFiles

if TYPE_CHECKING:
    from plangen.findings import Findings
    from plangen.pipeline import Source

# Values stand on one another through chains of names: enough for several hundred links, and little
# enough that no library overruns the machine's stack before Python stops it.
DEEPEST_CALLS = 10_000

DONE, PROJECT_AT_FAULT, CALL_AT_FAULT, PLANGEN_AT_FAULT, STOPPED = 0, 1, 2, 70, 130


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and give its exit code; never raises for bad input."""
    try:
        arguments = _parser().parse_args(argv)
    except SystemExit as leaving:
        return int(leaving.code or 0)
    sys.setrecursionlimit(max(sys.getrecursionlimit(), DEEPEST_CALLS))
    try:
        return int(arguments.run(arguments))
    except CallError as error:
        _complain(str(error))
        return CALL_AT_FAULT
    except OutsideError as error:
        return _refuse("outside-folder", str(error), "keep every file of a project in its own folder")
    except RecursionError:
        return _refuse(
            "too-deep",
            "values stand on one another through too long a chain of names",
            "place rows of copies with `spread`, and let sizes stand on fewer others",
        )
    except KeyboardInterrupt:
        _complain("stopped")
        return STOPPED
    except BrokenPipeError:
        # Whoever read the output has gone; a second complaint at exit would help nobody.
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123, SIM115
        return DONE
    except Exception as error:
        if os.environ.get("PLANGEN_DEBUG") == "1":
            raise
        _complain(
            f"sorry, this is a fault of plangen and not of your project ({type(error).__name__}: "
            f"{' '.join(str(error).split())[:200]}); PLANGEN_DEBUG=1 shows where"
        )
        return PLANGEN_AT_FAULT


def _refuse(kind: str, message: str, remedy: str) -> int:
    from plangen.cli.terminal import show
    from plangen.findings import Finding

    show((Finding(kind, message, None, remedy),), {})
    return PROJECT_AT_FAULT


def _complain(words: str) -> None:
    from plangen.cli.terminal import say

    say(f"plangen: {words}", sys.stderr)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="plangen", description="Turn one description of a piece of furniture into a plan booklet."
    )
    parser.add_argument("--version", action="version", version=f"plangen {__version__}")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)

    new = commands.add_parser("new", help="make a folder with a starter project")
    new.add_argument("folder", metavar="FOLDER", type=Path, help="the folder to make")
    new.set_defaults(run=_new)

    check = commands.add_parser("check", help="check a project and say what is wrong")
    _takes_project(check)
    check.add_argument("--json", action="store_true", help="print the findings as JSON on standard output")
    check.set_defaults(run=_check)

    build = commands.add_parser("build", help="check a project and write its booklet")
    _takes_project(build)
    build.add_argument("--out", metavar="DIR", type=Path, help="where to write (default: output/NAME)")
    build.add_argument(
        "--paper", choices=("letter", "a4"), help="paper size (default: by the project's units)"
    )
    build.add_argument(
        "--units", choices=("inch", "mm", "both"), help="printed units (default: the project's)"
    )
    build.add_argument(
        "--edition",
        choices=("publish", "binder", "sample"),
        default="publish",
        help="for sale, for the shop, or a sample to give away (default: publish)",
    )
    build.add_argument(
        "--labels",
        metavar="SHEET",
        help="the sheet for part labels, by how many it holds or by their size: 30, 20, 10 (Letter: "
        "1 x 2-5/8 in, 1 x 4 in, 2 x 4 in), 24, 21, 8 (A4: 70 x 37 mm, 63.5 x 38.1 mm, 99.1 x 67.7 mm); "
        "default: 30 on Letter, 24 on A4",
    )
    build.add_argument(
        "--first-label",
        metavar="N",
        type=int,
        default=1,
        help="the label at which a part-used sheet begins, counted along the rows (default: 1)",
    )
    build.set_defaults(run=_build)

    schema = commands.add_parser("schema", help="print the JSON Schema of a project file, for editors")
    schema.set_defaults(run=_schema)
    return parser


def _takes_project(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "project", metavar="PROJECT", type=Path, help=f"a folder with {PROJECT_FILE}, or the file"
    )
    parser.add_argument(
        "--set",
        metavar="NAME=VALUE",
        action="append",
        default=[],
        dest="settings",
        help="another value for a size (width=15in), for a field of a stock, of hardware or of the shop "
        '(ply.thickness=0.703in, maple.species="white oak"), another stock for all its parts (ply=birch18) '
        "or for one part (shelf.stock=birch18)",
    )


def _new(arguments: argparse.Namespace) -> int:
    from plangen.cli.folders import starter_project
    from plangen.cli.terminal import say

    folder: Path = arguments.folder
    path = folder / PROJECT_FILE
    if path.exists() or path.is_symlink():
        raise CallError(f"{path} is there already; nothing was changed")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8", newline="\n") as stream:
            stream.write(starter_project())
    except OSError as error:
        raise CallError(f"{folder} cannot be written: {error.strerror}") from None
    say(f"made {path}; now `plangen build {folder}`")
    return DONE


def _check(arguments: argparse.Namespace) -> int:
    files = _read(arguments.project)

    from plangen import pipeline
    from plangen.cli.terminal import say, show
    from plangen.findings import as_json

    result = pipeline.check(_source(files, arguments.settings))
    if arguments.json:
        say(as_json(result.findings).rstrip("\n"))
    else:
        show(result.findings, _sources(files, arguments.settings))
        if not result.findings.has_errors:
            say(f"{files.file} is sound")
    return _code(result.findings)


def _build(arguments: argparse.Namespace) -> int:
    files = _read(arguments.project)
    out: Path = arguments.out or Path("output") / files.name
    if out.exists() and not out.is_dir():
        raise CallError(f"{out} is not a folder")

    from plangen import pipeline
    from plangen.cli.folders import keep, remove_stale, write_output
    from plangen.cli.terminal import progress, say, show

    _check_labels(arguments.labels, arguments.paper, arguments.first_label)
    options = pipeline.BuildOptions(
        paper=arguments.paper,
        units=arguments.units,
        edition=arguments.edition,
        labels=arguments.labels,
        first_label=arguments.first_label,
    )
    with progress() as tell:
        result = pipeline.build(_source(files, arguments.settings, out), options, tell)
    show(result.findings, _sources(files, arguments.settings))
    if result.findings.has_errors or result.files is None:
        return _code(result.findings) or PROJECT_AT_FAULT
    written = write_output(out, result.files)
    remove_stale(out, result.stale)
    keep(files, result.kept)
    booklet = out / "booklet.pdf"
    say(f"wrote {booklet} and {len(written) - 1} files beside it")
    if result.comparison is not None:
        from plangen.record import report_text

        say(report_text(result.comparison).rstrip("\n"))
    return DONE


def _check_labels(words: str | None, paper: Literal["letter", "a4"] | None, first: int) -> None:
    """Refuse a sheet of labels that is not known, and a place that its sheets do not have."""
    from plangen.drawing.label_sheets import USUAL, find_sheet, sheets_said

    sheet = find_sheet(words) if words is not None else USUAL[paper] if paper is not None else None
    if words is not None and sheet is None:
        raise CallError(f"there is no label sheet `{words}`; there are {sheets_said()}")
    most = sheet.number if sheet is not None else max(one.number for one in USUAL.values())
    if not 1 <= first <= most:
        raise CallError(f"--first-label {first} is not on the sheet; it has labels 1 to {most}")


def _schema(arguments: argparse.Namespace) -> int:
    import json

    from plangen.cli.terminal import say
    from plangen.description import json_schema

    say(json.dumps(json_schema(), ensure_ascii=False, indent=2))
    return DONE


def _read(project: Path) -> ProjectFiles:
    from plangen.cli.folders import read_project

    return read_project(project)


def _source(files: ProjectFiles, settings: Sequence[str], out: Path | None = None) -> Source:
    """Gather all that a build may know; the maker's words for the booklet go before our own."""
    from plangen.cli.folders import last_record, shipped_templates
    from plangen.pipeline import Source

    return Source(
        folder_name=files.name,
        file=files.file,
        text=files.text,
        kept=files.kept,
        templates={**shipped_templates(), **files.templates},
        settings=tuple(settings),
        last_record=last_record(out) if out is not None else None,
    )


def _sources(files: ProjectFiles, settings: Sequence[str]) -> dict[str, str]:
    """Give the text behind every file that a finding may point into."""
    from plangen.description import SETTINGS_FILE

    text = files.text.decode("utf-8", "replace").removeprefix("\ufeff")
    return {
        **files.templates,
        files.file: text.replace("\r\n", "\n").replace("\r", "\n"),
        SETTINGS_FILE: "\n".join(settings),
    }


def _code(findings: Findings) -> int:
    """Give the exit code: a fault in what was typed after --set is the call's, any other the project's."""
    from plangen.description import SETTINGS_FILE
    from plangen.findings import Severity

    errors = [item for item in findings if item.severity is Severity.ERROR]
    if not errors:
        return DONE
    of_call = all(item.place is not None and item.place.file == SETTINGS_FILE for item in errors)
    return CALL_AT_FAULT if of_call else PROJECT_AT_FAULT
