"""How everything that is said of one stick came about, from its reading and the balance to its strengths.

Steps as data, as in `working`.
"""

from bench.core import working_evidence, working_float, working_strength
from bench.core.errors import Refusal
from bench.core.evidence import standing
from bench.core.judging import Judged, estimated
from bench.core.records import Species
from bench.core.steps import Step


def of_stick(judged: Judged, species: Species | None) -> tuple[Step, ...]:
    """The latest reading, the latest weighing, what stands beside them, and the estimate that follows.

    Args:
        judged: the stick with what was found on it.
        species: its wood, None where the library does not know it.
    Returns:
        Steps in order; none where nothing was measured. Without the estimate where it is refused.
    Source:
        named in each step.
    """
    found, stick = judged.found, judged.stick
    if species is None or found.measured is None:
        return ()
    steps: list[Step] = []
    if found.result is not None and stick.reading is not None:
        steps += working_float.of_float(stick.reading, found.result, found.verdict)
    if found.weighed is not None:
        last = stick.weighings[-1]
        size = (last.width.si, last.depth.si, last.length.si)
        steps += working_float.of_weigh(last.mass.si, size, found.weighed, found.verdict)
    steps += working_evidence.of_found(found, standing(found.measured, species, stick.variant))
    try:
        guess = estimated(stick, found.measured, species, found.measured.moisture)
    except Refusal:
        return tuple(steps)
    return (*steps, *working_strength.of_estimate(guess))
