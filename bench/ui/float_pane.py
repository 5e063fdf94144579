"""The Float pane: the stick with its waterline and its minimum line, the gravity and the verdict."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

from textual.binding import Binding
from textual.content import Content

from bench import units
from bench.core import checking
from bench.core.edits import TakeReading
from bench.core.errors import BadInput, Missing, OutOfRange
from bench.core.floating import angle_of
from bench.core.records import Species, Typed, with_field
from bench.core.river import Judged, River, mark_on
from bench.sheets import wording
from bench.ui.drawing import (
    DIM,
    HEAD,
    TRIED,
    WORD_STYLE,
    WRONG,
    beside,
    figures,
    large,
    line,
    stack,
    window,
    wrapped,
)
from bench.ui.fieldpane import Field, FieldPane
from bench.ui.float_draft import FACE_NAMES, FACES, FloatDraft, start, stepped_length
from bench.ui.messages import Draft, TakeInHand, Waiting
from bench.ui.naming import read_as
from bench.ui.stepping import turned

SMALL_MARK = 0.05  # half a tenth of a mark: the finest that a careful eye can tell
DRAWN = 10  # rows of the drawn stick
ANGLES = ("", "none", "0", "30", "45", "60", "75", "90")


class FloatPane(FieldPane):
    """Reads one stick."""

    BINDINGS = [
        Binding("left", "other(-1)", "Stick", id="float.before", tooltip="The stick before"),
        Binding("right", "other(1)", "Stick", id="float.after", tooltip="The next stick", show=False),
    ]

    def __init__(self, woods: dict[str, Species]) -> None:
        super().__init__(id="float")
        self.woods = woods
        self.drafts: dict[str, FloatDraft] = {}
        self._tag = ""

    # --- the draft -----------------------------------------------------------------------------------

    @property
    def hand(self) -> Judged | None:
        """The stick in hand."""
        return self.river.hand if self.river else None

    def draft(self) -> FloatDraft | None:
        """The values being tried for the stick in hand, or where its reading begins."""
        if self.hand is None:
            return None
        tag = self.hand.stick.tag
        return self.drafts.get(tag) or start(self.accepted.stick(tag) or self.hand.stick)

    def forget(self, subjects: Iterable[str]) -> None:
        gone = set(subjects)
        self.drafts = {tag: draft for tag, draft in self.drafts.items() if f"reading {tag}" not in gone}
        self.refresh()

    def _try_draft(self, draft: FloatDraft) -> None:
        """Show a draft; refused where it cannot be, kept waiting where something is still missing."""
        assert self.hand is not None and self.river is not None
        tag = self.hand.stick.tag
        checking.size("side", draft.side)
        checking.size("length", draft.length)
        try:
            edit = TakeReading(tag, draft.reading())
        except Missing as missing:
            self.post_message(Waiting(f"reading {tag}", f"{tag}, {missing.message}"))
        else:
            edit.check(self.accepted)
            self.post_message(Draft(edit))
        before = self.draft()
        self.drafts[tag] = draft
        if before is not None and len(before.marks) != len(draft.marks):
            # On to the first face that is still to be read.
            unread = [place for place, mark in enumerate(draft.marks) if mark is None]
            self.at = unread[0] if unread else 0
        # No refresh here: the river that follows draws this pane and the others in one frame.

    def watch_river(self, old: River | None, new: River | None) -> None:
        if self.river is not None and self.river.tag != self._tag:
            self._tag = self.river.tag
            self.at = 0  # another stick begins at its waterline
        super().watch_river(old, new)

    def fields(self) -> Sequence[Field]:
        draft = self.draft()
        if draft is None:
            return ()
        marks = f"0 to {draft.count}, say 6.85"
        names = FACE_NAMES[len(draft.marks)]
        return (
            *(
                Field(
                    f"mark {face}",
                    name,
                    "--" if mark is None else f"{units.mark(mark)} of {draft.count}",
                    marks,
                )
                for face, (name, mark) in enumerate(zip(names, draft.marks, strict=True))
            ),
            Field(
                "moisture",
                "moisture",
                "-- type it" if draft.moisture is None else units.percent(draft.moisture.si),
                "percent of oven-dry weight",
            ),
            Field("water", "water", units.temperature(draft.water.si), "temperature, 20 C or 68 F"),
            Field("side", "side", draft.side.text, "of the float stick, 1/2 or 12.7 mm"),
            Field("length", "length", draft.length.text, "of the float stick, 5 or 127 mm"),
            Field("faces", "faces read", str(len(draft.marks)), "1, 2 or 4"),
            Field("count", "marks", str(draft.count), "equal marks on the stick, 10"),
            Field("angle", "wetting", self._angle(draft), "contact angle in degrees, or none"),
            Field("seconds", "in water", f"{draft.seconds:g} s", "seconds in the water"),
        )

    def _angle(self, draft: FloatDraft) -> str:
        if draft.angle == "" and self.hand is not None and self.hand.stick.species in self.woods:
            angle, least, most = angle_of(self.woods[self.hand.stick.species])
            return f"{angle:g} ({least:g}-{most:g}) deg"
        return "no correction" if draft.angle == "none" else f"{draft.angle} deg"

    def stepped(self, name: str, amount: int) -> None:
        draft = self.draft()
        if draft is None:
            return
        system = self.river.job.settings.units if self.river else "in"
        if name.startswith("mark"):
            self._step_mark(draft, int(name[5:]), amount)
            return
        big, sign = abs(amount) > 1, 1 if amount > 0 else -1
        changed = draft
        if name == "moisture":
            if draft.moisture is None:
                raise Missing("moisture", "type what was measured, say 9.5; no step makes one up")
            size = max(Fraction(0), draft.moisture.exact + Fraction(sign * (20 if big else 5), 1000))
            changed = replace(draft, moisture=Typed(size, f"{float(size * 100):g}"))
        elif name == "water":
            kelvin = min(
                Fraction(31315, 100), max(Fraction(27315, 100), draft.water.exact + sign * (5 if big else 1))
            )
            changed = replace(draft, water=Typed(kelvin, f"{float(kelvin - Fraction(27315, 100)):g} C"))
        elif name in ("side", "length"):
            changed = with_field(draft, name, stepped_length(getattr(draft, name), amount, system))
        elif name == "faces":
            changed = draft.with_faces(turned(FACES, len(draft.marks), sign))
        elif name == "count":
            changed = replace(draft, count=min(100, max(2, draft.count + amount)))
        elif name == "angle":
            changed = replace(
                draft, angle=turned(ANGLES, draft.angle if draft.angle in ANGLES else "60", sign)
            )
        elif name == "seconds":
            changed = replace(draft, seconds=max(0.0, draft.seconds + sign * (60 if big else 10)))
        self._try_draft(changed)

    def _step_mark(self, draft: FloatDraft, face: int, amount: int) -> None:
        mark = draft.marks[face]
        if mark is None:
            near = next((other for other in draft.marks if other is not None), self._minimum(draft))
            mark = near if near is not None else draft.count / 2
            amount = 0
        # Steps land on multiples of the small step, whatever was typed before.
        steps = round(mark / SMALL_MARK) + amount
        self._try_draft(draft.with_mark(face, min(float(draft.count), max(0.0, steps * SMALL_MARK))))

    def typed(self, name: str, text: str) -> None:
        draft = self.draft()
        if draft is None:
            return
        default = self.river.job.settings.units if self.river else "in"
        if name.startswith("mark"):
            changed = draft.with_mark(int(name[5:]), units.read("mark", text).si)
        elif name == "moisture":
            moisture = units.read("moisture", text)
            if moisture.exact > Fraction(30, 100):
                raise OutOfRange("moisture", moisture.si, "0 to 30 % is covered: dry the stick", text)
            changed = replace(draft, moisture=moisture)
        elif name == "water":
            changed = replace(draft, water=units.read("temperature", text))
        elif name in ("side", "length"):
            changed = with_field(draft, name, read_as(name, "length", text, default))
        elif name == "faces":
            changed = draft.with_faces(_one_of("faces read", text, FACES))
        elif name == "count":
            changed = replace(draft, count=int(units.read("count", text).si))
        elif name == "angle":
            angle = "none" if text.strip().lower() == "none" else f"{units.read('angle', text).si:g}"
            changed = replace(draft, angle=angle)
        else:
            changed = replace(draft, seconds=units.read("seconds", text).si)
        self._try_draft(changed)

    def action_other(self, amount: int) -> None:
        """Take the stick before or after in hand."""
        if self.river is None or not self.river.rack:
            return
        tags = [judged.stick.tag for judged in self.river.rack]
        place = tags.index(self.river.tag) if self.river.tag in tags else 0
        self.post_message(TakeInHand(tags[(place + amount) % len(tags)]))

    # --- the picture ---------------------------------------------------------------------------------

    def _mark_of(self, gravity: float, draft: FloatDraft) -> float | None:
        """Where an oven-dry gravity stands on this stick with the values shown [marks]."""
        hand, bath = self.hand, draft.bath()
        if hand is None or bath is None or hand.stick.species not in self.woods:
            return None
        return mark_on(bath, gravity, self.woods[hand.stick.species], hand.stick.variant)

    def _minimum(self, draft: FloatDraft) -> float | None:
        figure = self.hand.verdict.minimum if self.hand else None
        return None if figure is None else self._mark_of(figure.value, draft)

    def render(self) -> Content:
        width, height = self.size.width, self.size.height
        draft = self.draft()
        if self.hand is None or draft is None:
            return stack(
                [
                    Content(text)
                    for text in wrapped(
                        "No stick in the rack yet. Press t for Stock, then a to add one.", width
                    )
                ]
            )
        if self.large:
            return self._large(draft)
        rows = self._said(draft, width)
        first = len(rows)
        values = [self.field_line(field, min(width, 43) - 16, 10) for field in self.fields()]
        shown = window(values, self.at, max(3, height - first))
        picture = self._stick(draft)
        for row in range(max(len(picture), len(shown))):
            left = picture[row] if row < len(picture) else Content(" " * 16)
            rows.append(line(left, " ", shown[row] if row < len(shown) else ""))
        if width >= 70:
            beside(rows, first, 44, self._figures(draft, height - first), width)
        return stack(rows[: max(height, 1)])

    def _wood(self) -> str:
        assert self.hand is not None
        species = self.woods.get(self.hand.stick.species)
        return species.name if species else self.hand.stick.species

    def _stick(self, draft: FloatDraft) -> list[Content]:
        """Ten rows, top mark first: water up to the line, the minimum beside it."""
        mark = next((value for value in draft.marks if value is not None), None)
        minimum = self._minimum(draft)
        rows = []
        top = DRAWN
        for row in range(top, 0, -1):
            low, high = (row - 1) / top * draft.count, row / top * draft.count
            wet = "    " if mark is None or mark <= low else "~~~~" if mark < high else "####"
            line_here = minimum is not None and low < minimum <= high
            label = f"{high:>3.0f}" if draft.count % top == 0 else f"{high:>3.1f}"
            rows.append(
                line(f"{label} |", wet, "|", ("<min", "bold ansi_yellow") if line_here else "    ", "  ")
            )
        return rows

    def _said(self, draft: FloatDraft, width: int) -> list[Content]:
        """Stick, verdict with all it rests on, gravity with its basis, and where to draw the minimum."""
        assert self.hand is not None
        verdict, result = self.hand.verdict, self.hand.result
        rows = [
            line(("FLOAT ", HEAD), (f"{self.hand.stick.tag}  {self._wood()}"[: max(0, width - 6)], "bold"))
        ]
        if draft is not None and result is not None and None in draft.marks:
            rows.append(
                line(("not all faces are read yet; the verdict is of the last reading"[:width], TRIED))
            )
        word = wording.word(verdict)
        sentences = [text for reason in wording.reasons(verdict) for text in wrapped(reason, width - 8)]
        for place, text in enumerate(sentences):
            lead = (f"{word:<7} ", WORD_STYLE[word]) if place == 0 else (" " * 8, "")
            rows.append(line(lead, (text, WRONG if "NOT READ" in text or "WITHOUT" in text else "")))
        if result is not None:
            half = units.gravity_up(result.high - result.sg_oven_dry)
            band = f"{units.gravity(result.sg_oven_dry)} +/- {half} (95 %)"
            if width >= 70:
                rows.append(line((band, "bold"), f"  {wording.BASIS}"))
            else:
                rows += [line((band, "bold")), line((wording.BASIS[:width], DIM))]
            rows += self._limits(result.sg_oven_dry, width)
        rows += self._line_to_draw(draft, width)
        return rows

    def _line_to_draw(self, draft: FloatDraft, width: int) -> list[Content]:
        """Where the minimum stands on this stick today, and from where on a reading like this is sure."""
        assert self.hand is not None
        verdict, result = self.hand.verdict, self.hand.result
        if verdict.minimum is None:
            return []
        minimum = self._mark_of(verdict.minimum.value, draft)
        if minimum is None:
            return [line(("type the moisture to place the minimum line"[:width], DIM))]
        text = f"draw the minimum {units.gravity(verdict.minimum.value)} at {units.mark_up(minimum)}"
        if result is not None:
            sure = self._mark_of(verdict.minimum.value + result.high - result.sg_oven_dry, draft)
            text += f", sure from {units.mark_up(sure)}" if sure is not None else ""
        return [line((text[:width], "bold ansi_yellow"))]

    def _limits(self, value: float, width: int) -> list[Content]:
        """Minimum and average with how far the stick stands from them, in one line where there is room."""
        assert self.hand is not None
        verdict = self.hand.verdict
        said = [
            line(
                (f"{name:<10}", DIM),
                f"{units.gravity(figure.value)}   {units.signed(value - figure.value, 3)}",
            )
            for name, figure in (("minimum", verdict.minimum), ("average", verdict.average))
            if figure is not None
        ]
        return [line(*said[:1], *(line("   ", more) for more in said[1:]))] if width >= 60 else said

    def _figures(self, draft: FloatDraft, room: int) -> list[Content]:
        """The waterline in big figures, and the gravity where there is room, for the right of a wide pane."""
        mark, title = _shown_mark(draft)
        result = self.hand.result if self.hand else None
        rows = [line((title, DIM))]
        rows += [line((row, "bold")) for row in (figures(units.mark(mark)) if mark is not None else ["--"])]
        if result is not None and room >= 12:
            rows.append(line(("gravity, oven-dry", DIM)))
            rows += [line((row, "bold")) for row in figures(units.gravity(result.sg_oven_dry))]
        return rows

    def _large(self, draft: FloatDraft) -> Content:
        """Waterline and verdict alone."""
        assert self.hand is not None
        mark, named = _shown_mark(draft)
        word = wording.word(self.hand.verdict)
        value = self.hand.verdict.value
        gravity = f"{units.gravity(value)} oven-dry  " if value is not None else ""
        below = [Content(""), line((f"{word}  ", WORD_STYLE[word]), (gravity, "bold"))]
        below += [Content(text) for text in wrapped(wording.reasons(self.hand.verdict)[0], self.size.width)]
        title = f"FLOAT {self.hand.stick.tag}  {named}"
        return large(title, units.mark(mark) if mark is not None else "--", below, *self.size)


def _shown_mark(draft: FloatDraft) -> tuple[float | None, str]:
    """The waterline in one number, and what it is: the mean of the faces once all are read."""
    read = [mark for mark in draft.marks if mark is not None]
    if len(read) == len(draft.marks) > 1:
        return sum(read) / len(read), f"waterline, mean of {len(read)} faces"
    return (read[0] if read else None), "waterline" if len(draft.marks) == 1 else "waterline, first face read"


def _one_of(name: str, text: str, choices: tuple[int, ...]) -> int:
    number = int(units.read("count", text).si)
    if number not in choices:
        raise BadInput(name, text, "is not one of them", ", ".join(str(choice) for choice in choices))
    return number
