"""Everything that can be refused, as one short tree.

    Refusal
    |-- BadInput         what was typed cannot be read as the quantity asked for
    |-- OutOfRange       a readable value that cannot be true, or that the method does not cover
    |-- Missing          a value the method cannot do without
    |-- UnknownName      a species, stick or part nobody has heard of; carries the nearest names
    |-- Clash            an edit that contradicts the job (a tag used twice, a part already cut)
    `-- FileFault        a file that cannot be read, with the line and the key where known
        `-- CannotSave   a file or folder that cannot be written

Each carries the quantity and the offending value, so that a pane can point at the field.
"""


class Refusal(Exception):
    """Base of all refusals: `quantity` names the field, `value` is what was offered."""

    def __init__(self, message: str, quantity: str = "", value: object = None) -> None:
        super().__init__(message)
        self.message = message
        self.quantity = quantity
        self.value = value


class BadInput(Refusal):
    """Text that cannot be read; says what would be."""

    def __init__(self, quantity: str, text: str, why: str, wanted: str) -> None:
        super().__init__(f"{quantity}: {text!r} {why}; {wanted} would be read", quantity, text)


class OutOfRange(Refusal):
    """A value outside what is possible or covered; `limits` is the readable range in words."""

    def __init__(self, quantity: str, value: object, limits: str, shown: str = "") -> None:
        super().__init__(f"{quantity}: {shown or value} is not possible here; {limits}", quantity, value)
        self.limits = limits


class Missing(Refusal):
    """A value that was not given."""

    def __init__(self, quantity: str, why: str) -> None:
        super().__init__(f"{quantity}: not given; {why}", quantity)


class UnknownName(Refusal):
    """A name that is not in the list."""

    def __init__(self, kind: str, name: str, near: tuple[str, ...] = ()) -> None:
        hint = f"; nearest: {', '.join(near)}" if near else ""
        super().__init__(f"{kind}: {name!r} is not known{hint}", kind, name)
        self.near = near


class Clash(Refusal):
    """An edit that the job does not allow."""

    def __init__(self, quantity: str, value: object, why: str) -> None:
        super().__init__(f"{quantity}: {value}: {why}", quantity, value)


class FileFault(Refusal):
    """A file that is not what it should be."""

    def __init__(self, path: str, reason: str, line: int | None = None, key: str = "") -> None:
        where = path + (f", line {line}" if line else "") + (f", {key}" if key else "")
        super().__init__(f"{where}: {reason}", "file", path)
        self.path, self.reason, self.line, self.key = path, reason, line, key


class CannotSave(FileFault):
    """A file or folder that cannot be written."""
