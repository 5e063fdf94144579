"""What the last change at the saw laid out anew, told from the record alone: also after a restart."""

from bench.core.edits import CutShort, LayOut, SpoilPiece
from bench.core.history import History
from bench.core.records import Job
from bench.core.sawing import Change, changes

LOOKED_BACK = 50  # changes of other things since then that are looked past at most
LOST = (SpoilPiece, CutShort)  # the piece that was lost is wanted again


def laid_anew(history: History) -> tuple[Change, ...]:
    """Which pieces lie elsewhere since the last change that laid out anew.

    Args:
        history: of the job; an earlier job that is no longer at hand is worked out again.
    Returns:
        What moved; nothing once anything was sawn or laid out since, or where that change was undone.
    """
    job, back = history.job, history.back
    for _ in range(LOOKED_BACK):
        step = back.top
        if step is None or not job.laid:
            return ()
        before = history.job_after(step.number - 1)
        if _at_saw(before) != _at_saw(job):
            break
        back = back.pop()
    else:
        return ()
    layout = history.edit_of(step.last)
    if not isinstance(layout, LayOut) or not layout.follows:
        return ()
    lost = isinstance(history.edit_of(step.number), LOST)
    return changes((before if lost else history.job_after(step.last - 1)).laid, layout.pieces)


def _at_saw(job: Job) -> tuple[object, ...]:
    return job.laid, job.cuts, job.spoilt
