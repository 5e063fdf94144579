"""What the library holds of a wood: every figure with its source. Frozen, as all records are."""

from dataclasses import field

from bench.core.frozen import record


@record
class Figure:
    """One printed number. It cannot be built without a source."""

    quantity: str  # a name of quantities.QUANTITIES
    value: float  # [SI unit of the quantity]
    printed: str  # the digits as printed
    unit: str  # the unit as printed, a key of quantities.DATA_UNITS
    source: str  # key of the bibliography
    where: str  # table, page or section
    at: str = ""  # moisture of the wood tested: "green", "12 %", "15 %"; empty where it has none
    volume: str = ""  # moisture of the volume a specific gravity is taken on: "green", "12 %", "oven-dry"
    variant: str = ""  # "canadian", "class L"; empty for the species at large
    memory: bool = False  # recalled, not read; never decides about a stick
    used: bool = True  # False: kept for the record, another printing is used
    note: str = ""

    @property
    def standing(self) -> str:
        """How far the number can be trusted: "read", "trade" (no published source) or "memory"."""
        if self.memory:
            return "memory"
        return "trade" if self.source == "trade" else "read"


@record
class Statement:
    """Something a source says about a species in words."""

    text: str
    source: str
    where: str


@record
class Species:
    """A wood with all its figures. What is unknown is absent."""

    key: str
    name: str
    kind: str  # "softwood" or "hardwood"
    figures: tuple[Figure, ...]
    statements: tuple[Statement, ...] = ()
    origin: str = "ours"  # "ours", or the path of the user's own file
    _index: dict[tuple[str, str, str, str], Figure] = field(
        default_factory=dict, init=False, repr=False, compare=False, hash=False
    )

    def __post_init__(self) -> None:
        for figure in self.figures:
            if figure.used:
                self._index.setdefault((figure.quantity, figure.at, figure.volume, figure.variant), figure)

    def find(self, quantity: str, at: str = "", volume: str = "", variant: str = "") -> Figure | None:
        """The figure in use for a quantity, or None. `at` and `volume` are moistures as in `Figure`."""
        return self._index.get((quantity, at, volume, variant))


@record
class Source:
    """One entry of the bibliography."""

    key: str
    title: str
    publisher: str
    year: str
    note: str = ""
    retrieved: str = ""
