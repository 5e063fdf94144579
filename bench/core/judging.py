"""A stick of the rack with everything found on it, judged for every use."""

from collections.abc import Mapping
from dataclasses import fields
from operator import attrgetter
from typing import TYPE_CHECKING

from bench.core.acceptance import Found, Verdict, judge_stick
from bench.core.floating import FloatResult
from bench.core.frozen import record
from bench.core.inspecting import Judgement, judge_uses
from bench.core.records import Settings, Species, Stick
from bench.core.spread import Measured

if TYPE_CHECKING:
    from bench.core.estimating import Estimate

# What a verdict of inspection rests on: all of a stick but its readings and weighings.
_SEEN = attrgetter(*(value.name for value in fields(Stick) if value.name not in ("readings", "weighings")))


@record
class Judged:
    """A stick of the rack with what was found on it, and the verdict for each use."""

    stick: Stick
    found: Found
    uses: Mapping[str, Judgement]
    doubts: tuple[str, ...] = ()  # what it was sawn from that is condemned by now, and why

    @property
    def result(self) -> FloatResult | None:
        """Of the latest float reading that counts."""
        return self.found.result

    @property
    def verdict(self) -> Verdict:
        """By gravity alone."""
        return self.found.verdict

    @property
    def words(self) -> dict[str, str]:
        """Accept, hold or reject, by use."""
        return {use: judgement.word for use, judgement in self.uses.items()}


def judge(
    stick: Stick,
    species: Species | None,
    settings: Settings,
    doubts: tuple[str, ...] = (),
    before: Judged | None = None,
) -> Judged:
    """Everything found on a stick, judged for every use.

    Args:
        stick: with its readings and inspection.
        species: its wood, None where the library does not know it.
        settings: which document governs, and the shop's own limits.
        doubts: what it was sawn from that is condemned, and it was not looked over for since.
        before: the same stick judged earlier, by the same settings: where only readings are others, what was
            seen on it is not judged again.
    Returns:
        The stick with its verdicts.
    Source:
        as acceptance.judge_stick and inspecting.judge_uses.
    """
    same = before is not None and before.stick.variant == stick.variant
    found = judge_stick(stick, species, before.found if before is not None and same else None)
    seen = before.uses if before is not None and _only_read(before, stick, doubts) else None
    return Judged(stick, found, judge_uses(stick, species, found.verdict, settings, doubts, seen), doubts)


def _only_read(before: Judged, stick: Stick, doubts: tuple[str, ...]) -> bool:
    """Whether nothing but readings and weighings is other than it was."""
    return before.doubts == doubts and _SEEN(stick) == _SEEN(before.stick)


def estimated(stick: Stick, measured: Measured, species: Species, moisture: float) -> "Estimate":
    """The strengths of a stick estimated from what was measured on it.

    Args:
        stick: with its inspection.
        measured: its gravity.
        species: its wood.
        moisture: at which the strengths are wanted [1].
    Returns:
        The estimate.
    Source:
        as estimating.estimate.
    """
    from bench.core.estimating import estimate

    seen = stick.inspection
    return estimate(
        species,
        stick.variant,
        measured.sg_12,
        measured.uncertainty * measured.sg_12 / measured.sg_oven_dry,
        None if seen.slope_one is None else seen.slope_one.si,
        None if seen.slope_two is None else seen.slope_two.si,
        moisture,
    )
