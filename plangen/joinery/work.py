"""An item under ``cut``: one kind of operation with its values."""

from typing import Annotated

from plangen.expressions import KindEntry, one_of_kinds
from plangen.joinery.operations import OPERATIONS

WorkEntry = Annotated[
    KindEntry, one_of_kinds(lambda: {name: kind.entry for name, kind in OPERATIONS.items()}, "operation")
]
