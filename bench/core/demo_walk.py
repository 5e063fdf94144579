"""An INVENTED job of one stick, for a guided first reading. Nothing here was measured."""

from bench.core.edits import Edit, PutStick, StartJob
from bench.core.records import Stick, inches

TAG, MARK, MOISTURE = "W-1", "6.85", "9.5"  # the stick, and what the guide has typed of it


def entries() -> tuple[Edit, ...]:
    """The edits that make the job: a stick that is not read yet.

    Returns:
        In order; the first starts the job.
    Source:
        invented.
    """
    stick = Stick(TAG, "white_ash", inches("60"), inches("7/8"), inches("7/8"), note="INVENTED")
    return StartJob("First reading", invented=True), PutStick(stick)
