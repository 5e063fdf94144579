"""The acceptance summary: every stick's verdict for each use, why some are held, and the limits asked."""

from collections.abc import Mapping

from bench import units
from bench.core import limits
from bench.core.acceptance import ACCEPT, HOLD, REJECT
from bench.core.frozen import replace
from bench.core.inspecting import CUT_ROUND
from bench.core.judging import Judged
from bench.core.records import Species
from bench.core.river import River
from bench.core.steps import place
from bench.sheets import brief, evidence, heading, inspecting, wording
from bench.sheets.paper import SMALL, Section, Sheet, Table, Text, table

_HEADS = (":stick", "wood", ":size", ":G dry", ":95 % band")


def sheet(
    river: River,
    woods: Mapping[str, Species],
    printed: str = "",
    sources: heading.Sources = heading.NO_SOURCES,
) -> Sheet:
    """The summary of a job.

    Args:
        river: the job with its rack.
        woods: the library by species key.
        printed: the day it is printed; empty for none.
        sources: the bibliography; may be empty.
    Returns:
        The sheet.
    """
    begun = heading.begun("acceptance summary", river.job, printed)
    made = replace(begun, sections=sections(river, woods), foot=(heading.SIGNATURE,))
    return heading.ended(made, sources)


def sections(river: River, woods: Mapping[str, Species]) -> tuple[Section, ...]:
    """All sticks, what keeps some from a use, and every limit with its document and place."""
    if not river.rack:
        return (Section("Sticks", (Text("no sticks yet: nothing to judge"),)),)
    made = [
        Section(
            "Sticks", (*map(Text, _counts(river)), Text(f"G dry: {wording.BASIS}"), _sticks(river, woods))
        ),
        Section("Why not accepted", (_reasons(river),)),
        Section("Gravity asked of each wood", (Text(f"all {wording.BASIS}"), _gravities(river, woods))),
        Section("Limits of the documents", (Text(_governs(river), SMALL), _limits())),
        Section("The shop's own limits", (_house(river),)),
    ]
    return tuple(
        section for section in made if any(not isinstance(b, Table) or b.rows for b in section.blocks)
    )


def _counts(river: River) -> list[str]:
    said = []
    for use in limits.USES:
        words = [judged.words[use] for judged in river.rack]
        counted = ", ".join(f"{words.count(word)} {word.upper()}" for word in (ACCEPT, HOLD, REJECT))
        said.append(f"as {inspecting.use_name(use)}: {counted}")
    return said


def _sticks(river: River, woods: Mapping[str, Species]) -> Table:
    system = river.job.settings.units
    heads = (*_HEADS, *map(inspecting.use_name, limits.USES))
    return table(heads, tuple(_stick(judged, woods, system) for judged in river.rack))


def _stick(judged: Judged, woods: Mapping[str, Species], system: str) -> tuple[str, ...]:
    stick, verdict = judged.stick, judged.verdict
    sides = units.sides(stick.width.exact, stick.depth.exact, system)
    size = f"{sides} x {units.place(stick.length.exact, system)}"
    gravity, band = wording.gravity(verdict), wording.band(verdict)
    words = tuple(_word(judged, use) for use in limits.USES)
    return (stick.tag, evidence.wood_name(stick, woods.get(stick.species)), size, gravity, band, *words)


def _word(judged: Judged, use: str) -> str:
    around = brief.cut_round(judged.uses[use])
    return f"{judged.words[use].upper()}{f', {around}' if around else ''}"


def _reasons(river: River) -> Table:
    """What keeps sticks from a use; one row where it is the same for several."""
    rows: dict[tuple[str, str, str], list[str]] = {}
    system = river.job.settings.units
    for judged in river.rack:
        said: dict[tuple[str, str], list[str]] = {}
        for use in limits.USES:
            for point in judged.uses[use].points:
                if point.word != ACCEPT and point.reason != CUT_ROUND:
                    key = (point.word.upper(), inspecting.reason(point, system))
                    said.setdefault(key, []).append(inspecting.use_name(use))
        for (word, why), uses in said.items():
            every = "every use" if len(uses) == len(limits.USES) else ", ".join(uses)
            rows.setdefault((word, every, why), []).append(judged.stick.tag)
    told = sorted(rows.items(), key=lambda row: row[0][0] != REJECT.upper())
    return table((":", "for", "why", "sticks"), tuple((*key, ", ".join(tags)) for key, tags in told))


def _gravities(river: River, woods: Mapping[str, Species]) -> Table:
    """Least and most of every wood of the rack, with who says so."""
    rows = {}
    for judged in river.rack:
        stick, verdict = judged.stick, judged.verdict
        name = evidence.wood_name(stick, woods.get(stick.species))
        for what, figure in (("least", verdict.minimum), ("most", verdict.maximum)):
            if figure is not None:
                rows[name, what] = (name, what, units.gravity(figure.value), place(figure))
        if verdict.minimum is None:
            rows[name, "least"] = (name, "least", "--", "no published minimum on this basis")
    return table(("wood", "", ":gravity", "source"), tuple(rows.values()))


def _governs(river: River) -> str:
    document = river.job.settings.document
    if document == limits.STRICTER:
        return "Where the documents differ the stricter governs."
    return f"By the choice of the shop the limits of {document} govern."


def _limits() -> Table:
    rows = []
    for limit in limits.LIMITS:
        uses = "every use" if limit.uses == limits.USES else ", ".join(map(inspecting.use_name, limit.uses))
        unit = "" if limit.unit in ("words", "ratio", "fraction") else f" {limit.unit}"
        condition = f"{limit.condition}{'; RECALLED, decides nothing' if limit.memory else ''}"
        name = limit.name.replace("_", " ")
        rows.append((name, uses, f"{limit.printed}{unit}", f"{limit.document} {limit.where}", condition))
    return table(("limit", "use", "as printed", "document", "condition"), tuple(rows))


def _house(river: River) -> Table:
    house = river.job.settings.house
    told = (
        ("gravity over the minimum", house.gravity_over),
        ("rings, least", house.rings),
        ("slope of grain, steepest", house.slope),
        ("moisture, least", house.moisture_low),
        ("moisture, most", house.moisture_high),
        ("knot, greatest diameter", house.knot),
    )
    return table(("limit", "as typed"), tuple((name, typed.text) for name, typed in told if typed))
