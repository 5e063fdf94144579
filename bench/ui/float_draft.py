"""A float reading while it is being taken: values may still be missing, and none is made up."""

from fractions import Fraction

from bench.core.errors import Missing, OutOfRange
from bench.core.frozen import record, replace
from bench.core.records import FloatReading, Stick, TimedMark, Typed, Weighing, inches
from bench.core.typed import millimetres

WATER = Typed(Fraction(29315, 100), "20 C")
CUSTOMARY = {"in": (inches("1/2"), inches("5")), "mm": (millimetres("12"), millimetres("120"))}
FACES = (1, 2, 3, 4)
FACE_NAMES = {
    1: ("waterline",),
    2: ("face N", "face S"),
    3: ("face N", "face E", "face S"),
    4: ("face N", "face E", "face S", "face W"),
}


@record
class FloatDraft:
    """The values on the Float pane for one stick."""

    marks: tuple[float | None, ...]
    side: Typed
    length: Typed
    moisture: Typed | None
    water: Typed
    count: int
    angle: str
    seconds: float
    timed: tuple[TimedMark, ...] = ()
    mass: Typed | None = None  # of the check by weight
    size: tuple[Typed, ...] = ()  # of the piece weighed; empty: the float stick itself

    def reading(self) -> FloatReading:
        """The reading, once nothing is missing; raises Missing naming the value."""
        if self.moisture is None:
            raise Missing("moisture", "type it, say 9.5")
        for name, mark in zip(FACE_NAMES[len(self.marks)], self.marks, strict=True):
            if mark is None:
                raise Missing(name, "step or type its waterline, say 6.85")
        marks = tuple(mark for mark in self.marks if mark is not None)
        return replace(self._with(marks, self.moisture), timed=self.timed)

    def unread(self) -> tuple[str, ...]:
        """The faces that are still to be read, by name."""
        named = zip(FACE_NAMES[len(self.marks)], self.marks, strict=True)
        return tuple(name for name, mark in named if mark is None)

    def bath(self) -> FloatReading | None:
        """The reading with a waterline put in anywhere, for placing limits; None without a moisture."""
        return None if self.moisture is None else self._with((self.count / 2,), self.moisture)

    def weighing(self) -> Weighing:
        """The check by weight and size; raises Missing."""
        if self.mass is None:
            raise Missing("weighs", "type the mass, in grams")
        if self.moisture is None:
            raise Missing("moisture", "type it, say 9.5")
        width, depth, length = self.size or (self.side, self.side, self.length)
        return Weighing(self.mass, width, depth, length, self.moisture)

    def _with(self, marks: tuple[float, ...], moisture: Typed) -> FloatReading:
        return FloatReading(
            marks=marks,
            side=self.side,
            length=self.length,
            moisture=moisture,
            water=self.water,
            count=self.count,
            angle=self.angle,
            seconds=self.seconds,
        )

    def with_mark(self, face: int, mark: float) -> "FloatDraft":
        """The draft with one face read; refuses a mark that the stick does not have."""
        if not 0 <= mark <= self.count:
            raise OutOfRange("waterline", mark, f"the stick has {self.count} marks, 0 at its lower end")
        return replace(self, marks=(*self.marks[:face], mark, *self.marks[face + 1 :]))

    def with_faces(self, count: int) -> "FloatDraft":
        """The draft with another number of faces; each face keeps its own mark, new ones are unread."""
        named = dict(zip(FACE_NAMES[len(self.marks)], self.marks, strict=True))
        if len(self.marks) == 1:
            named["face N"] = self.marks[0]
        if count == 1:
            named["waterline"] = named.get("face N")
        return replace(self, marks=tuple(named.get(name) for name in FACE_NAMES[count]))

    def with_timed(self, seconds: float, mark: float) -> "FloatDraft":
        """The draft with a later waterline on the first face; one at the same time is replaced."""
        others = [timed for timed in self.timed if timed.seconds != seconds]
        ordered = sorted((*others, TimedMark(seconds, mark)), key=lambda timed: timed.seconds)
        return replace(self, timed=tuple(ordered))


def start(stick: Stick, system: str) -> FloatDraft:
    """Where a reading of a stick begins: its last one, or the customary stick with nothing read."""
    last = stick.reading
    if last is None:
        side, length = CUSTOMARY[system]
        return FloatDraft((None,), side, length, stick.moisture, WATER, 10, "", 30.0)
    return FloatDraft(
        last.marks,
        last.side,
        last.length,
        stick.moisture or last.moisture,
        last.water,
        last.count,
        last.angle,
        last.seconds,
    )
