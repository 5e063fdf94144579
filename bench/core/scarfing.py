"""Parts made of lengths that are scarfed together, where they would stay out of the plan whole.

A scarf is a long bevel on both ends that meet, so that a joint takes its own length of wood twice: a part of
length L in n lengths needs L + (n - 1) times the overlap. The bevel is cut out of the overlap; the lengths
themselves are sawn square, each with the squaring allowance of any part.

Fewest joints come first, directly after how many parts are placed; then what counts for every plan.
"""

from collections.abc import Callable, Collection, Mapping, Sequence
from fractions import Fraction
from itertools import combinations_with_replacement, islice

from bench.core import cutting
from bench.core.cutting_records import CutPart, CutPlan, CutProblem, Piece, Proof, StickPlan
from bench.core.frozen import record, replace
from bench.core.quantities import INCH
from bench.core.records import Part, Scarfed, Typed
from bench.core.splitting import Joint, Lengths, joins, least_lengths, overlap, splits

__all__ = [
    "Joint",
    "Split",
    "exact_inches",
    "joins",
    "joint_of",
    "least_lengths",
    "lengths_of",
    "overlap",
    "scarf",
]

# How much is tried, so that a list that does not fit is answered for as well. Our own bounds: of n pieces
# that are placed, a plan takes about n times as long as of one.
SPLITS, FEWEST_SPLITS, PIECES_SPLIT = 20, 6, 600  # of one piece into one number of lengths: 600 / n, 6 to 20
PLANS, FEWEST_PLANS, PIECES_PLANNED = 120, 16, 2400  # in all: 2400 / n, 16 to 120; what is left stays out
COMPARED = 3  # splits that have room, of which the best is taken
REPAIR_MOVES = 150  # for every fourth split, if none has room at once
WIDTHS = 8  # of parts, and clear lengths, that are looked at for what lies beside one another
LETTERS = "abcdef"  # after the names of the lengths: so many at most
NAME = 40  # letters at most, as checking.name has it
SPARE = "\0"  # before the name of a line's pieces that were left out; no typed name has it


@record
class Split:
    """One piece of a part as its lengths."""

    part: str  # name of the whole
    names: tuple[str, ...]  # of the lengths, each a line of the cut list
    lengths: Lengths  # finished, in order from the start of the part [m]


def joint_of(part: Part, width: Fraction, depth: Fraction, least: Fraction) -> Joint | None:
    """What a part says of its joints.

    Args:
        part: the part.
        width: its finished section in the wood it is made of [m].
        depth: the same [m].
        least: shortest length that is glued in [m].
    Returns:
        The joint; None where the part allows none.
    Raises:
        As overlap.
    Source:
        the job.
    """
    if part.scarf is None:
        return None
    barred = tuple((stretch.start.exact, stretch.end.exact) for stretch in part.no_joint)
    return Joint(overlap(part.scarf.exact, width, depth, part.scarf_side), least, barred)


def exact_inches(length: Fraction) -> Typed:
    """A length with a text in inches that reads back to it.

    Args:
        length: the length [m].
    Returns:
        As "52 1/2 in".
    Source:
        geometry: derived.
    """
    whole, part = divmod(length / INCH, 1)
    return Typed(length, f"{whole} {part} in" if whole and part else f"{part or whole} in")


def lengths_of(part: Part, split: Split) -> Scarfed:
    """The lengths of a split as lines of the drawing's list.

    Args:
        part: the whole.
        split: its lengths.
    Returns:
        One line for each, with all that the part asks of its wood, and which joints it gets as its note.
    Source:
        the job.
    """
    names = split.names
    shared = (sum(split.lengths) - part.length.exact) / (len(names) - 1)
    if part.length.text.strip().endswith("mm"):
        shown = f"{float(shared * 1000):.4g} mm"
    else:
        inches = shared / INCH
        shown = exact_inches(shared).text if inches.denominator <= 64 else f"{float(inches):.4g} in"
    slope = f"scarf 1:{float(1 / part.scarf.exact):g}" if part.scarf is not None else "scarf"
    lines = []
    for place, (name, length) in enumerate(zip(names, split.lengths, strict=True)):
        beside = " and ".join((*names[max(0, place - 1) : place], *names[place + 1 : place + 2]))
        note = f"{slope}, {shown} overlap, to {beside}"
        lines.append(
            replace(
                part,
                name=name,
                length=exact_inches(length),
                quantity=1,
                scarf=None,
                no_joint=(),  # they are stretches of the whole
                piece_of=part.name,
                note=f"{part.note}; {note}" if part.note else note,
            )
        )
    return Scarfed(part.name, tuple(lines))


def scarf(
    problem: CutProblem,
    plan: CutPlan,
    joints: Mapping[str, Joint],
    moves: int = cutting.MOVES,
    taken: Collection[str] = (),
    stop: Callable[[], bool] | None = None,
) -> tuple[CutProblem, CutPlan, tuple[Split, ...]]:
    """Make of lengths what stays out whole; nothing that the plan has placed falls out for it.

    Critical parts come first, then long ones. Before a part is split it is tried whole once more, unless the
    plan is proved. Equal input gives an equal answer; how much is tried is bound by the figures above.

    Args:
        problem: parts, sticks and rules [m].
        plan: of this problem.
        joints: of the parts that may be scarfed, by name.
        moves: as cutting.plan, for the plan at the end.
        taken: names in use elsewhere, that no length may get.
        stop: asked now and again; once it says so, nothing more is tried, and what is found is the answer.
    Returns:
        The problem with the lengths as lines at the end, their part fewer or gone; its plan; the splits. What
        the plan says is proved of these lengths: others might do with fewer sticks. Without a split the
        problem as it came, with the plan as it came unless a part was found room for whole.
    Raises:
        As cutting.plan.
    """
    rows = [row for row in plan.unplaced if row.part in joints]
    if not rows:
        return problem, plan, ()
    lines = {part.name: part for part in problem.parts}
    search = _Search(problem, plan, taken, stop)
    for row in sorted(rows, key=lambda row: (not row.critical, -lines[row.part].length, row.part)):
        whole = row.why == "no_room" and not plan.optimal
        for _ in range(row.quantity):
            whole = whole and search.whole(lines[row.part], moves)
            if not whole and not search.split(lines[row.part], joints[row.part]):
                break
    return search.answer(moves) if search.found else (problem, plan, ())


class _Search:
    """The pieces that are placed, as a problem in which nothing is left out, and their plan."""

    def __init__(
        self,
        problem: CutProblem,
        plan: CutPlan,
        taken: Collection[str],
        stop: Callable[[], bool] | None = None,
    ) -> None:
        self.stop = stop
        self.problem, self.first, self.plan = problem, plan, plan
        out = {row.part: row.quantity for row in plan.unplaced}
        self.placed = tuple(
            replace(part, quantity=part.quantity - out.get(part.name, 0)) for part in problem.parts
        )
        self.names = {name.casefold() for name in (*taken, *(part.name for part in problem.parts))}
        self.splits: list[Split] = []
        pieces = 1 + sum(part.quantity for part in self.placed)
        self.ways = min(SPLITS, max(FEWEST_SPLITS, PIECES_SPLIT // pieces))
        self.plans = min(PLANS, max(FEWEST_PLANS, PIECES_PLANNED // pieces))  # still to be made
        self.found = False
        self.clear = {
            stick.tag: [end - start for start, end in cutting.clear_lengths(stick, problem.rules)]
            for stick in problem.sticks
        }

    def _try(self, parts: tuple[CutPart, ...], moves: int) -> CutPlan:
        self.plans -= 1
        return cutting.plan(replace(self.problem, parts=parts), moves, keep=[self.plan], stop=self.stop)

    def _over(self) -> bool:
        """Whether nothing more is to be tried."""
        return self.plans <= 0 or (self.stop is not None and self.stop())

    def _take(self, parts: tuple[CutPart, ...], plan: CutPlan) -> None:
        self.placed, self.plan, self.found = parts, plan, True

    def whole(self, part: CutPart, moves: int) -> bool:
        """Place one more of the part as it is, if it has room after all."""
        if self._over():
            return False
        parts = tuple(
            replace(line, quantity=line.quantity + 1) if line.name == part.name else line
            for line in self.placed
        )
        made = self._try(parts, moves)
        if made.unplaced_count == 0:
            self._take(parts, made)
        return made.unplaced_count == 0

    def split(self, part: CutPart, joint: Joint) -> bool:
        """Place one more of the part as few lengths, if they have room."""
        if self._over():
            return False
        squaring = self.problem.rules.squaring
        allowed = [tag for tag in self.clear if part.sticks is None or tag in part.sticks]
        clear = [each - squaring for tag in allowed for each in self.clear[tag]]
        free = [each - squaring for each, tag, _ in self._free() if tag in allowed]
        fewest = least_lengths(part.length, joint, clear)
        if fewest is None:
            return False
        fewest = max(2, fewest)
        most = max(fewest, least_lengths(part.length, joint, free) or 0)
        for number in range(fewest, min(most, len(LETTERS)) + 1):
            ways = splits(part.length, joint, number, free, clear, self._beside(clear))
            if self._best(part, list(islice(ways, SPLITS))):
                return True
        return False

    def _free(self) -> list[tuple[Fraction, str, bool]]:
        """Stretches in which nothing lies: length, stick, whether it is one that is used [m]."""
        used = {row.tag for row in self.plan.sticks}
        rows = [(end - start, row.tag, True) for row in self.plan.sticks for start, end in row.offcuts]
        rows += [(each, tag, False) for tag, own in self.clear.items() if tag not in used for each in own]
        return sorted(rows, reverse=True)

    def _beside(self, clear: Sequence[Fraction]) -> list[Fraction]:
        """What some of the placed parts would leave of the longest clear lengths [m]."""
        rules = self.problem.rules
        widths = sorted({p.length + rules.squaring + rules.kerf for p in self.placed if p.quantity})[:WIDTHS]
        together = range(1, 4 if len(widths) <= WIDTHS // 2 else 3)
        sums = {sum(some) for count in together for some in combinations_with_replacement(widths, count)}
        stock = sorted(set(clear), reverse=True)[:WIDTHS]
        return sorted({each - less for each in stock for less in sums if each > less}, reverse=True)

    def _room(self, part: CutPart, lengths: Lengths) -> tuple[Fraction, int, Fraction]:
        """How lengths lie in what is free now; less is better: room lacking, sticks more, longest left."""
        rules = self.problem.rules
        free = [row for row in self._free() if part.sticks is None or row[1] in part.sticks]
        more, lacking = set(), Fraction(0)
        for length in sorted(lengths, reverse=True):
            rough = length + rules.squaring
            fits = [row for row in free if row[0] >= rough]
            if fits:
                chosen = min(fits, key=lambda row: (not row[2] and row[1] not in more, *row))
            else:
                chosen = max(free, default=(Fraction(0), "", True))
                lacking += rough - chosen[0]
            free = [row for row in free if row is not chosen]
            free.append((max(Fraction(0), chosen[0] - rough - rules.kerf), *chosen[1:]))
            more |= set() if chosen[2] else {chosen[1]}
        return lacking, len(more), -max(row[0] for row in free)

    def _best(self, part: CutPart, ways: list[Lengths]) -> bool:
        """Take the best of some splits, if any has room."""
        done: list[tuple[CutPlan, tuple[CutPart, ...], Lengths]] = []
        missed: list[tuple[CutPlan, tuple[CutPart, ...], Lengths]] = []
        names = self._names(part.name, len(ways[0])) if ways else ()
        for lengths in sorted(ways, key=lambda lengths: self._room(part, lengths))[: self.ways]:
            lines = (
                replace(part, name=name, length=length, quantity=1)
                for name, length in zip(names, lengths, strict=True)
            )
            parts = (*self.placed, *lines)
            if len(done) == COMPARED or self._over():
                break
            made = self._try(parts, 0)
            (missed if made.unplaced_count else done).append((made, parts, lengths))
        missed.sort(key=lambda row: row[0].unplaced_count)
        for _, parts, lengths in missed[: self.ways // 4]:
            if done or self._over():
                break
            made = self._try(parts, REPAIR_MOVES)
            if made.unplaced_count == 0:
                done.append((made, parts, lengths))
        if not done:
            return False
        made, parts, lengths = min(done, key=lambda row: self._worth(row[0]))
        self._take(parts, made)
        self.names |= {name.casefold() for name in names}
        self.splits.append(Split(part.name, names, lengths))
        return True

    def _worth(self, plan: CutPlan) -> tuple[int, Fraction, Fraction]:
        started = {stick.tag for stick in self.problem.sticks if stick.started}
        return len({row.tag for row in plan.sticks} - started), -plan.largest_offcut, plan.waste

    def _names(self, whole: str, number: int) -> tuple[str, ...]:
        """Names after the whole part that nothing has yet."""
        for piece in range(1, len(self.names) + 2):
            mark = f" {piece} " if piece > 1 else " "
            ends = [mark + letter for letter in LETTERS[:number]]
            names = tuple(whole[: NAME - len(end)].rstrip() + end for end in ends)
            if not self.names & {name.casefold() for name in names}:
                break
        return names

    def answer(self, moves: int) -> tuple[CutProblem, CutPlan, tuple[Split, ...]]:
        """The whole problem again, with what stays out, and its plan."""
        splits = tuple(self.splits)
        fewer = [split.part for split in splits]
        lines = [
            replace(part, quantity=part.quantity - fewer.count(part.name))
            for part in self.problem.parts
            if part.quantity != fewer.count(part.name) or part.name not in fewer
        ]
        lines += self.placed[len(self.problem.parts) :]
        problem = replace(self.problem, parts=tuple(lines)) if splits else self.problem
        placed = {part.name: part.quantity for part in self.placed}
        out = {line.name: line.quantity - placed[line.name] for line in lines}
        made = cutting.plan(problem, moves, keep=[self.plan], stop=self.stop)
        if any(row.quantity > out[row.part] for row in made.unplaced):
            made = self._guarded(problem, out, moves)
        return problem, made, splits

    def _guarded(self, problem: CutProblem, out: Mapping[str, int], moves: int) -> CutPlan:
        """The plan where the search would give a length up for another part: what is placed is critical."""
        parts = [
            replace(line, quantity=line.quantity - out[line.name], critical=True) for line in problem.parts
        ]
        parts += [
            replace(line, name=SPARE + line.name, quantity=out[line.name], critical=False)
            for line in problem.parts
        ]
        made = cutting.plan(replace(problem, parts=tuple(parts)), moves, keep=[self.plan], stop=self.stop)
        reasons = {row.part: row for row in self.first.unplaced}
        unplaced = tuple(
            replace(reasons[row.part.removeprefix(SPARE)], quantity=row.quantity) for row in made.unplaced
        )
        return replace(
            made,
            sticks=tuple(_named(row) for row in made.sticks),
            unplaced=unplaced,
            unplaced_critical=sum(row.quantity for row in unplaced if row.critical),
            # Fewer parts of the first problem could not do with fewer sticks than these.
            proof=Proof.of(min(made.fewest_possible, self.first.fewest_possible), False),
        )


def _named(row: StickPlan) -> StickPlan:
    pieces = tuple(Piece(piece.part.removeprefix(SPARE), piece.start, piece.end) for piece in row.pieces)
    return replace(row, pieces=pieces)
