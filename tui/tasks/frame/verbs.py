"""The keys of every task, in one place: a letter means one thing in all of them. Footers, help and lists read it."""

from typing import NamedTuple

from textual.binding import Binding

from forescale.tui.keys import NO_KEY


class Verb(NamedTuple):
    """What a key does in every task that has it; `action` is the method that a task has for it."""

    key: str
    action: str
    means: str


VERBS: dict[str, Verb] = {
    "next view": Verb("tab", "next_view", "go on to what else stands on the screen"),
    "view before": Verb("shift+tab", "next_view(-1)", "go back to what stands before it on the screen"),
    "add": Verb("a", "add", "add a row to the list"),
    "back": Verb("b", "back", "go back to how it was"),
    "compare": Verb("c", "compare", "hold two states or scales beside each other"),
    "do": Verb("d", "do", "do what is told, or say that it was done"),
    "edit": Verb("e", "edit", "edit all that is behind the selected row"),
    "focal length": Verb("f", "focal", "set a zoom's focal length"),
    "get": Verb("g", "get", "take what stands elsewhere: a file, this machine's clock"),
    "less": Verb("h", "step_by(-1)", "a step less"),
    "stand": Verb("i", "stand", "will it stand: wind, weight, ballast, sway"),
    "later": Verb("j", "move(1)", "move the selected row down the list"),
    "earlier": Verb("k", "move(-1)", "move the selected row up the list"),
    "more": Verb("l", "step_by(1)", "a step more"),
    "vary": Verb("m", "vary", "let vary what the shot has set"),
    "new": Verb("n", "new", "begin a new one"),
    "order": Verb("o", "order", "put the list in order by the selected column"),
    "put": Verb("p", "put", "put what was found into the shot"),
    "redo": Verb("r", "redo", "take the undone change back"),
    "save": Verb("s", "save", "save it"),
    "turn": Verb("t", "turn", "turn it over: the next of what it may be"),
    "undo": Verb("u", "undo", "undo the last change"),
    "details": Verb("v", "details", "all that is to be said of what is selected"),
    "save as": Verb("w", "save_as", "save it under another name"),
    "delete": Verb("x", "delete", "take away what is selected"),
    "copy": Verb("y", "copy", "make a new one from the selected one"),
}


def key(verb: str, short: str = "", tooltip: str = "") -> Binding:
    """Return a task's binding for one of the verbs: in a word for the footer, and whole for help and lists."""
    one = VERBS[verb]
    return Binding(one.key, one.action, short or verb, tooltip=tooltip or one.means)


def listed(action: str, short: str, tooltip: str) -> Binding:
    """Return the binding of what has no letter: it is done from the list of all that can be done."""
    return Binding(NO_KEY, action, short, tooltip=tooltip)


UNDO = (key("undo"), key("redo"))
