"""The order of work: steps drafted from the joints or written by the maker, and proven complete."""

from plangen.sequence.model import OrderOfWork, Step
from plangen.sequence.order import order_of_work, tools_needed
from plangen.sequence.tokens import length_token, phrase_text, resolve_tokens

__all__ = [
    "OrderOfWork",
    "Step",
    "length_token",
    "order_of_work",
    "phrase_text",
    "resolve_tokens",
    "tools_needed",
]
