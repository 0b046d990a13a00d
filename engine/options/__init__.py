"""The ways to shoot it with the kit at hand: all tried, the impossible dropped and counted, the rest ranked."""

from forescale.engine.options.option import Option, as_changes, option_answer, to_mind
from forescale.engine.options.outcome import Dropped, Gathering, Outcome, find_options
from forescale.engine.options.rank import Ranked
from forescale.engine.options.search import Batch, Miss, search
from forescale.engine.options.to_try import Shelves, ToTry, at_hand, plan
from forescale.engine.options.trade import trade

__all__ = [
    "Batch",
    "Dropped",
    "Gathering",
    "Miss",
    "Option",
    "Outcome",
    "Ranked",
    "Shelves",
    "ToTry",
    "as_changes",
    "at_hand",
    "find_options",
    "option_answer",
    "plan",
    "search",
    "to_mind",
    "trade",
]
