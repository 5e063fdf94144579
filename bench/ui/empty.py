"""What a screen says while there is nothing on it: what is missing, and the key that goes on."""

from textual.content import Content
from textual.widget import Widget

from bench.core.frozen import record
from bench.ui.drawing import DIM, HEAD, line, wrapped
from bench.ui.keys import keyed

Step = tuple[str, str]  # action, what it does here


@record
class Empty:
    """What is missing, what to do next, and what else can be done."""

    what: str
    then: Step
    others: tuple[Step, ...] = ()


NO_STICK = Empty("No stick in the rack yet.", ("go.stock", "goes to Stock, where the first one is added"))


def empty(widget: Widget, title: str, nothing: Empty, width: int) -> list[Content]:
    """A screen without content, line by line."""
    rows = [line((title, HEAD)), Content(""), *(Content(part) for part in wrapped(nothing.what, width))]
    for place, (action, does) in enumerate((nothing.then, *nothing.others)):
        key = keyed(widget, f"<{action}>")
        first, *rest = wrapped(does, max(20, width - len(key) - 4)) or [""]
        style = "" if place == 0 else DIM
        rows += [Content(""), line("  ", (key, "bold"), "  ", (first, style))]
        rows += [line(" " * (len(key) + 4), (part, style)) for part in rest]
    return rows
