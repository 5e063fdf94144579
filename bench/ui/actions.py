"""Every action by its id, with the keys it has: those of the program, or those of the user's own table.

Nothing else names a key: the lines at the foot, the help, the list of actions, and the texts that say which
key to press (they name the action, as `<go.stock>`) all ask here.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from types import MappingProxyType

from textual.binding import Binding
from textual.keys import Keys, _character_to_key, key_to_character
from textual.widget import Widget

from bench.core.frozen import record, replace
from bench.core.naming import nearest
from bench.ui.everywhere import EVERYWHERE

Groups = Sequence[tuple[str, type[Widget]]]

# Begin a number wherever one is.
FIGURES = frozenset(("full_stop", *"0123456789"))
# Mean the same on every screen and in every line that is typed: what has them keeps them.
KEPT = ("enter", "escape", "tab", "shift+tab", "up", "down", "left", "right")
OWN = ("enter", "escape", "ctrl+q", "ctrl+c")  # nothing else may have these
_NAMED = frozenset(key.value for key in Keys)
_MARK = re.compile(r"<([a-z]+\.[a-z-]+)>")
# Keys that the framework calls by another name than Unicode does.
_SIGNS = {"minus": "-", "plus": "+", "slash": "/", "backslash": "\\", "at": "@", "underscore": "_"}
_SHORT = {
    "up": "up/dn",
    "down": "up/dn",
    "pageup": "pgup/dn",
    "pagedown": "pgup/dn",
    "left": "lt/rt",
    "right": "lt/rt",
    "escape": "esc",
}


@record
class Action:
    """One thing that a key does."""

    id: str
    where: str
    kind: type[Widget]  # the class that acts
    run: str
    does: str
    tells: str
    keys: tuple[str, ...]
    shown: bool  # at the foot of the screen
    twin: bool  # the other way of a pair, or the same on another key: not listed


def printed(key: str) -> str:
    """A key as it stands on the keyboard, or by its name."""
    if key == "space":
        return key
    sign = _sign(key)
    return sign if sign.isprintable() and sign else "esc" if key == "escape" else key


def _sign(key: str) -> str:
    """The character of a key, or nothing."""
    return _SIGNS.get(key) or key_to_character(key) or ""


def key_name(binding: Binding) -> str:
    """A key as it is printed on the keyboard, or short for a pair that does the same both ways."""
    if binding.key_display:
        return binding.key_display
    return ",".join(_SHORT.get(key, printed(key)) for key in binding.key.split(","))


def read_key(text: str) -> str:
    """The framework's name of a key as people write it: `g`, `?`, `f5`, `space`; empty if it is none."""
    text = text if text.isspace() else text.strip()
    if len(text) == 1:
        return _character_to_key(text) if text.isprintable() else ""
    name = text.lower()
    sign = _sign(name)
    return name if name in _NAMED or (len(sign) == 1 and _character_to_key(sign) == name) else ""


def catalogue(groups: Groups) -> tuple[Action, ...]:
    """Every action with the keys of the program, group by group."""
    lists: list[tuple[str, type[Widget], list[Binding]]] = [
        (where, kind, kind.__dict__["BINDINGS"]) for where, kind in groups
    ]
    return tuple(
        Action(
            id=binding.id or "",
            where=where,
            kind=kind,
            run=binding.action,
            does=binding.description,
            tells=binding.tooltip,
            keys=tuple(binding.key.split(",")),
            shown=binding.show,
            twin=not binding.show and any(one.show and one.description == binding.description for one in of),
        )
        for where, kind, of in lists
        for binding in of
    )


class KeyTable:
    """The actions with their keys. The classes that bind them are read when first asked for."""

    def __init__(
        self, groups: Callable[[], Groups], changed: Mapping[str, tuple[str, ...]] = MappingProxyType({})
    ) -> None:
        """Args:
        groups: gives the classes that bind keys, by where they work; the first works everywhere.
        changed: the user's own keys, by action.
        """
        self._groups, self.changed = groups, changed

    @cached_property
    def actions(self) -> tuple[Action, ...]:
        """Every action, by where it works."""
        return catalogue(self._groups())

    def keymap(self) -> dict[str, str]:
        """What the framework is told: keys by id, of what the user changed."""
        return {name: ",".join(keys) for name, keys in self.changed.items()}

    def name(self, action: Action) -> str:
        """Its keys as the user reads them; short for a pair that the user has not changed."""
        if action.id in self.changed:
            return ",".join(printed(key) for key in self.changed[action.id])
        return ",".join(_SHORT.get(key, printed(key)) for key in action.keys)

    def shown(self, binding: Binding) -> str:
        """One key of a binding as the user reads it, at the foot of the screen."""
        return printed(binding.key) if binding.id in self.changed else key_name(binding)

    def order(self) -> dict[str | None, int]:
        """Where each action stands among all, if the user has keys of their own: they move none."""
        return {action.id: place for place, action in enumerate(self.actions)} if self.changed else {}

    def key(self, name: str) -> str:
        """The first key of an action, by its id."""
        if name in self.changed:
            return printed(self.changed[name][0])
        everywhere = (binding for binding in EVERYWHERE if isinstance(binding, Binding))
        found = next((binding for binding in everywhere if binding.id == name), None)
        if found is not None:  # no screen need be read for these
            return printed(found.key.split(",")[0])
        return next((printed(action.keys[0]) for action in self.actions if action.id == name), "")

    def said(self, text: str) -> str:
        """A text with `<go.stock>` and the like as the key that it is here."""
        if "<" not in text:
            return text
        return _MARK.sub(lambda found: self.key(found[1]) or found[0], text)


def checked(groups: Groups, wanted: Mapping[str, Sequence[str]]) -> tuple[KeyTable, dict[str, str]]:
    """The user's own keys, and why each that cannot be taken is not; that action keeps its own key.

    Args:
        groups: the classes that bind keys, by where they work; the first works everywhere.
        wanted: keys as people write them, by action.
    Returns:
        The table, and reasons by action.
    """
    actions = catalogue(groups)
    by_id = {action.id: action for action in actions}
    taken: dict[str, tuple[str, ...]] = {}
    faults: dict[str, str] = {}
    for name, texts in wanted.items():
        try:
            taken[name] = _keys(by_id, name, texts)
        except ValueError as wrong:
            faults[name] = str(wrong)
    while taken and (clashes := dict(_clashes(groups, actions, taken))):
        # Out with all of them: the program's own keys clash with none.
        for name, (key, other) in clashes.items():
            theirs = f"{by_id[other].does} ({other})"
            faults[name] = (
                f"{printed(key)!r} is the key of {theirs}, and both work there; free: {_free(actions, taken)}"
            )
            del taken[name]
    return KeyTable(lambda: groups, taken), faults


def _keys(by_id: Mapping[str, Action], name: str, texts: Sequence[str]) -> tuple[str, ...]:
    """Keys wanted for one action; a ValueError says why not."""
    action = by_id.get(name)
    if action is None:
        near = ", ".join(nearest(name, by_id)) or "tenthmark keys"
        raise ValueError(f"there is no such action; nearest: {near}")
    keys = []
    for text in texts:
        key = read_key(text)
        if not key:
            raise ValueError(f"{text!r} is no key; a character, or a name like f5, space, home or ctrl+t is")
        if key in FIGURES:
            raise ValueError(f"{text!r} begins a number everywhere; another key is wanted")
        if key in OWN and key not in action.keys:
            raise ValueError(f"{text!r} means the same everywhere; another key is wanted")
        keys.append(key)
    if not keys:
        raise ValueError("at least one key is wanted")
    return tuple(dict.fromkeys((*keys, *(key for key in action.keys if key in KEPT))))


def _clashes(
    groups: Groups, actions: Sequence[Action], taken: Mapping[str, tuple[str, ...]]
) -> Iterator[tuple[str, tuple[str, str]]]:
    """Actions of the user's table that share a key, in one place, with another: (action, (key, other))."""
    now = [replace(action, keys=taken.get(action.id, action.keys)) for action in actions]
    everywhere = groups[0][1]
    for _, kind in groups:
        owners: dict[str, str] = {}
        for action in now:
            if action.kind is not everywhere and not issubclass(kind, action.kind):
                continue
            for key in action.keys:
                other = owners.setdefault(key, action.id)
                if other != action.id:
                    yield from (
                        (a, (key, b)) for a, b in ((action.id, other), (other, action.id)) if a in taken
                    )


def _free(actions: Iterable[Action], taken: Mapping[str, tuple[str, ...]]) -> str:
    """A few keys that nothing has."""
    used = {key for action in actions for key in taken.get(action.id, action.keys)}
    letters = (*"abcdefghijklmnopqrstuvwxyz", "comma", "semicolon", *(f"f{n}" for n in range(4, 13)))
    return " ".join([printed(key) for key in letters if key not in used][:6])


def settings_page(table: KeyTable, place: str) -> list[str]:
    """Every action with its keys, by where it works, and an example of the user's settings file."""
    rows, where = [], ""
    for action in table.actions:
        if action.where != where:
            where = action.where
            rows += ["", where]
        own = "  (your own)" if action.id in table.changed else ""
        keys = " ".join(printed(key) for key in table.changed.get(action.id, action.keys))
        rows.append(f"  {action.id:<20} {keys:<14} {action.tells}{own}")
    return [
        *rows[1:],
        "",
        f"Keys, look and typing are yours to change, in {place}",
        "",
        *EXAMPLE.splitlines(),
    ]


EXAMPLE = """\
theme = "dark"         # dark, light, contrast
characters = "auto"    # auto: as the locale says; boxes; plain: - | + # in place of lines and blocks

[keys]                 # an action of the list above, and its key, or several; what is not here stays
go.float = "f5"
go.section = ["s", "f6"]
list.only = "#"

[typing]               # a character, and what it is typed for: / - . ' " : % x
";" = "/"              # where / needs two hands
"," = "."              # the comma of a number pad begins and continues a number
"""
