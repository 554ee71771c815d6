"""The starter project, as a maker meets it on the first day: made, built, changed, built again."""

from __future__ import annotations

from plangen.cli.main import main


def test_the_starter_builds_as_it_is(tmp_path, capsys):
    folder, out = tmp_path / "my shelf", tmp_path / "out"
    assert main(["new", str(folder)]) == 0
    assert main(["build", str(folder), "--out", str(out)]) == 0
    said = capsys.readouterr()
    assert "error[" not in said.err
    assert "warning[" not in said.err
    assert (out / "booklet.pdf").read_bytes().startswith(b"%PDF-")
    assert (folder / "marks.json").is_file()


def test_its_numbers_may_be_changed(tmp_path, capsys):
    folder = tmp_path / "my shelf"
    main(["new", str(folder)])
    for setting in ("width=30in", "height=20in", "depth=7in", "housing=5/16in", "pine.thickness=0.72in"):
        assert main(["check", str(folder), "--set", setting]) == 0, (setting, capsys.readouterr().err)
