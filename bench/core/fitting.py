"""Which sticks of the rack may become what the parts need; kept up as single sticks change."""

from collections.abc import Iterable, Mapping
from fractions import Fraction

from bench.core import grading
from bench.core.frozen import record
from bench.core.grading import RULES, Candidate, Needs
from bench.core.rack import Rack

Fits = Mapping[Needs, "Fit"]


@record
class Fit:
    """The sticks that a need is met by."""

    tags: frozenset[str]
    passed: tuple[int, ...]  # sticks that pass each rule of grading.RULES and those before it

    @property
    def why(self) -> str:
        """The rule that barred the last stick; empty where some are left."""
        return (
            "" if self.tags else next(rule for rule, left in zip(RULES, self.passed, strict=True) if not left)
        )


@record
class Asked:
    """What is asked of every stick alike."""

    use_held: bool  # whether sticks on hold may be used
    planing: Fraction  # off each face that is not at its finished size [m]


def fits(
    needs: Iterable[Needs], rack: Rack, asked: Asked, before: Fits | None = None, was: Rack | None = None
) -> dict[Needs, Fit]:
    """The sticks for each need.

    Args:
        needs: of the parts.
        rack: every stick of it is graded.
        asked: of all sticks.
        before: the answers for the rack as it was, with the same asked of all; None: there are none.
        was: the rack as it was; where no more than single sticks of it changed, only those are looked at.
    Returns:
        A fit for each.
    Source:
        our rule: every rule of grading.RULES in turn.
    """
    known = before or {}
    changed = ((), ()) if rack is was else rack.exchanged
    found: dict[Needs, Fit] = {}
    for need in dict.fromkeys(needs):
        fit = known.get(need)
        if fit is None or was is None or changed is None:
            found[need] = _fit(need, rack, asked)
        else:
            gone, new = changed
            found[need] = _refit(fit, need, [was.grade(n) for n in gone], [rack.grade(n) for n in new], asked)
    return found


def _fit(need: Needs, rack: Rack, asked: Asked) -> Fit:
    passed, tags = [0] * (len(RULES) + 1), []
    covers: dict[int, bool] = {}  # by section, which the rack keeps once
    for candidate in rack.grades():
        level = 0
        if candidate.stick.species == need.species:
            fitting = covers.get(id(candidate.section))
            if fitting is None:
                fitting = grading.covers(candidate.stick, need.width, need.depth, asked.planing)
                covers[id(candidate.section)] = fitting
            level = grading.level(need, candidate, asked.use_held, asked.planing, 2) if fitting else 1
        passed[level] += 1
        if level == len(RULES):
            tags.append(candidate.stick.tag)
    return Fit(frozenset(tags), tuple(sum(passed[rule + 1 :]) for rule in range(len(RULES))))


def _refit(fit: Fit, need: Needs, were: list[Candidate], are: list[Candidate], asked: Asked) -> Fit:
    passed, gone, new = list(fit.passed), set[str](), set[str]()
    for candidates, tags_of, sign in ((were, gone, -1), (are, new, 1)):
        for one in candidates:
            level = grading.level(need, one, asked.use_held, asked.planing)
            for rule in range(level):
                passed[rule] += sign
            if level == len(RULES):
                tags_of.add(one.stick.tag)
    tags = fit.tags if gone == new else (fit.tags - gone) | new
    return Fit(tags, tuple(passed))
