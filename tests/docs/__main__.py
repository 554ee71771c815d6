"""Write ``docs/reference.md`` and its pictures anew; ``--all`` draws again those that have not changed."""

from __future__ import annotations

import sys

from tests.docs.examples import DIGESTS, PICTURES, all_examples, digests, drawn
from tests.docs.page import PAGE, page


def main(every: bool) -> None:
    """Write the page; draw the pictures whose examples have changed, and take away those without one."""
    before = {} if every else digests()
    PICTURES.mkdir(exist_ok=True)
    examples = all_examples()
    for example in examples:
        if before.get(example.name) != example.digest or not example.picture.exists():
            example.picture.write_bytes(drawn(example))
            print(f"drew {example.picture.name}")
    kept = {example.picture for example in examples}
    for path in sorted(PICTURES.glob("*.svg")):
        if path not in kept:
            path.unlink()
    DIGESTS.write_text("".join(f"{one.name}: {one.digest}\n" for one in examples), encoding="utf-8")
    PAGE.write_text(page(), encoding="utf-8")


if __name__ == "__main__":
    main("--all" in sys.argv[1:])
