"""What the library does not hold of a wood, in words."""

from bench.core.lacking import lacks
from bench.core.wood import Species

_PANE = {"float": "Float", "section": "Section", "moisture": "Moisture"}
_STANDING = {"absent": "no {what}", "memory": "{what} RECALLED, NOT READ", "estimate": "{what} estimated"}


def line(species: Species) -> str:
    """What is lacking, pane by pane, in one line; says so where nothing is.

    Args:
        species: of the library.
    """
    by_pane: dict[str, list[str]] = {}
    for lack in lacks(species):
        said = _STANDING[lack.standing].format(what=lack.what.replace("_", " "))
        by_pane.setdefault(_PANE[lack.pane], []).append(said)
    if not by_pane:
        return "Nothing is lacking that Float, Section or Moisture ask for."
    return "LACKING  " + "; ".join(f"{pane}: {', '.join(said)}" for pane, said in by_pane.items())
