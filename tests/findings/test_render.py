"""How findings look."""

from __future__ import annotations

import json

from plangen.findings import Finding, Findings, Place, Severity, as_json, render

SOURCE = "sizes:\n  width: 24inch\n  depth: 6in\n"


def finding(**changes) -> Finding:
    values = {
        "kind": "unknown-unit",
        "message": "`inch` is not a unit",
        "place": Place("project.yaml", 2, 12, 4),
        "remedy": "write in",
    }
    return Finding(**(values | changes))


def test_a_finding_shows_its_line_and_what_is_right():
    also = ((Place("project.yaml", 3, 3, 5), "as here"),)
    assert render([finding(also=also)], {"project.yaml": SOURCE}) == (
        "project.yaml:2:12: error[unknown-unit]: `inch` is not a unit\n"
        "  2 |   width: 24inch\n"
        "    |            ^^^^\n"
        "  help: write in\n"
        "  see also project.yaml:3:3: as here\n"
        "  3 |   depth: 6in\n"
        "    |   ^^^^^\n"
        "\n"
        "1 error\n"
    )


def test_findings_stand_in_the_order_of_the_file_each_once():
    items = [
        finding(place=None, message="third"),
        finding(place=Place("project.yaml", 3, 1), message="second", severity=Severity.WARNING),
        finding(message="first"),
        finding(message="first"),
    ]
    text = render(items, {})
    assert [text.index(word) for word in ("first", "second", "third")] == sorted(
        text.index(word) for word in ("first", "second", "third")
    )
    assert text.count("first") == 1
    assert text.endswith("2 errors, 1 warning\n")


def test_a_line_that_is_not_there_is_left_out():
    assert render([finding(place=Place("project.yaml", 99, 1))], {"project.yaml": SOURCE}).count("\n") == 4


def test_a_long_line_is_cut_round_the_fault():
    source = "x" * 500 + "FAULT" + "y" * 500
    text = render([finding(place=Place("p", 1, 501, 5))], {"p": source})
    shown, under = text.splitlines()[1:3]
    assert max(len(shown), len(under)) < 130
    at = under.index("^^^^^")
    assert shown[at : at + 5] == "FAULT"


def test_a_mark_past_the_end_of_its_line_still_stands():
    text = render([finding(place=Place("project.yaml", 3, 13, 40))], {"project.yaml": SOURCE})
    assert "  3 |   depth: 6in\n    |             ^\n" in text


def test_nothing_can_move_the_cursor():
    text = render([finding(message="\x1b[2J gone \r", remedy="\x07")], {"project.yaml": "a\n\x1b[31mred"})
    assert "\x1b" not in text
    assert "\r" not in text
    assert "\x07" not in text


def test_colour_is_only_where_it_is_asked_for():
    text = render([finding()], {"project.yaml": SOURCE}, lambda role, words: f"<{role}>{words}</{role}>")
    assert text.startswith("<place>project.yaml:2:12</place>: <error>error[unknown-unit]</error>: ")
    assert "<error>^^^^</error>" in text


def test_very_many_findings_are_counted_and_not_all_shown():
    items = [finding(place=Place("project.yaml", 2 + number, 1)) for number in range(100)]
    text = render(items, {})
    assert "… and 60 more\n" in text
    assert text.endswith("100 errors\n")


def test_nothing_wrong_is_nothing_said():
    assert render(Findings(), {}) == ""


def test_json_holds_everything():
    (row,) = json.loads(as_json([finding(part="side", also=((Place("project.yaml", 3, 3, 5), "as here"),))]))
    assert row == {
        "kind": "unknown-unit",
        "severity": "error",
        "message": "`inch` is not a unit",
        "remedy": "write in",
        "part": "side",
        "place": {"file": "project.yaml", "line": 2, "column": 12, "length": 4},
        "also": [{"file": "project.yaml", "line": 3, "column": 3, "length": 5, "words": "as here"}],
    }


def test_what_one_line_causes_at_every_contact_is_shown_once():
    items = [finding(message=f"`screw` would come out of shelf {number}") for number in range(4)]
    items.append(finding(message="another fault of the same line", remedy="mend it otherwise"))
    text = render(items, {"project.yaml": SOURCE})
    assert "come out of shelf 0 (and 3 more like it)\n" in text
    assert "shelf 1" not in text
    assert "another fault of the same line\n" in text
    assert text.endswith("2 errors\n")
    assert len(json.loads(as_json(items))) == 5


def test_faults_without_a_place_are_never_taken_for_one():
    text = render([finding(place=None, message=f"fault {number}") for number in range(3)], {})
    assert all(f"fault {number}\n" in text for number in range(3))


def test_spaces_that_do_not_break_are_shown_as_spaces():
    text = render([finding(message="it is 14\u00a0in wide\u2009and\u202fbell\x07")], {})
    assert "it is 14 in wide and bell\ufffd\n" in text
