"""A single thing of an earlier state of the job, taken into the job as it is now: an edit like any other."""

from typing import Any

from bench.core.differing import standing
from bench.core.edits import (
    ChangeSettings,
    ChooseSection,
    Edit,
    MarkCut,
    PutCoupon,
    PutOffer,
    PutPart,
    PutStick,
    ReadAir,
    SpoilPiece,
)
from bench.core.errors import Clash
from bench.core.records import Job


def take(job: Job, kind: str, name: str, earlier: Any) -> Edit:
    """The edit that puts a thing back as it was.

    Args:
        job: as it is now.
        kind: as differing.things names it.
        name: of the thing; empty where there is one only.
        earlier: its record as it was.
    Returns:
        The edit; the job may still refuse it, as every edit.
    Raises:
        Clash: it is now as it was then.
    Source:
        the job.
    """
    now = standing(job)(kind, name, earlier)
    if now == earlier:
        raise Clash(kind, name or "it", "is now as it was then: there is nothing to take")
    was = name if now is not None else ""
    match kind:
        case "stick":
            return PutStick(earlier, was)
        case "part":
            return PutPart(earlier, was)
        case "coupon":
            return PutCoupon(earlier, was)
        case "offer":
            return PutOffer(earlier, was)
        case "section":
            return ChooseSection(earlier)
        case "settings":
            return ChangeSettings(earlier)
        case "cut":
            return MarkCut(earlier)
        case "lost piece":
            return SpoilPiece(earlier)
        case _:
            return ReadAir(earlier)
