"""The ways to shoot it with the kit at hand: all tried, the impossible dropped and counted, the rest ranked."""

from engine.options.option import Option, as_changes, option_answer, to_mind
from engine.options.outcome import Dropped, Gathering, Outcome, find_options
from engine.options.quest import Quest, plan
from engine.options.rank import Ranked
from engine.options.search import Batch, Miss, search
from engine.options.shelves import Shelves, at_hand
from engine.options.trade import trade

__all__ = [
    "Batch",
    "Dropped",
    "Gathering",
    "Miss",
    "Option",
    "Outcome",
    "Quest",
    "Ranked",
    "Shelves",
    "as_changes",
    "at_hand",
    "find_options",
    "option_answer",
    "plan",
    "search",
    "to_mind",
    "trade",
]
