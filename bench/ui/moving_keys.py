"""The keys of going up and down, for every screen that has rows to go through or lines to read."""

from textual.binding import Binding


def row_keys(where: str, thing: str = "row") -> list[Binding]:
    """Up and down by one row and by ten; the class has `action_row`.

    Args:
        where: begins the ids of these bindings.
        thing: what a row is.
    """
    one, ten = thing.capitalize(), f"Ten {thing}s"
    return [
        Binding("down", "row(1)", one, id=f"{where}.down", tooltip=f"The next {thing}"),
        Binding("up", "row(-1)", one, id=f"{where}.up", tooltip=f"The {thing} before", show=False),
        Binding("pagedown", "row(10)", ten, id=f"{where}.page-down", tooltip=f"{ten} on"),
        Binding("pageup", "row(-10)", ten, id=f"{where}.page-up", tooltip=f"{ten} back", show=False),
    ]


def scroll_keys(where: str, page: int) -> list[Binding]:
    """Up and down by a line and by a page of so many; the class has `action_scroll`."""
    return [
        Binding("down", "scroll(1)", "Down", id=f"{where}.down", tooltip="One line down"),
        Binding("up", "scroll(-1)", "Down", id=f"{where}.up", tooltip="One line up", show=False),
        Binding("pagedown", f"scroll({page})", "Page", id=f"{where}.page", tooltip="A page down"),
        Binding("pageup", f"scroll({-page})", "Page", id=f"{where}.page-up", tooltip="A page up", show=False),
    ]
