"""Changes made at the saw: the layout that is sawn, what went wrong, planks ripped; and wood on offer."""

from collections import Counter
from fractions import Fraction
from functools import partial

from bench.core import checking, sawing
from bench.core.edit import Edit, free_stretch, the_part, the_stick, with_stick
from bench.core.errors import Clash, Missing, OutOfRange, UnknownName
from bench.core.frozen import record, replace
from bench.core.records import Job, Laid, Offer, Scarfed, Spoilt, Typed


@record
class LayOut(Edit):
    """The layout that is sawn from now on; with no pieces, it is laid out anew each time again."""

    pieces: tuple[Laid, ...]
    scarfed: tuple[Scarfed, ...] = ()  # their lengths are lines of their own from now on
    follows: bool = False  # laid out anew for the edit before, and undone with it
    out: tuple[str, ...] = ()  # parts that have no place in it, a name for each piece

    @property
    def belongs(self) -> bool:
        return self.follows

    @property
    def subject(self) -> str:
        return "layout"

    def check(self, job: Job) -> None:
        made = Counter(cut.part for cut in job.cuts)
        for whole, count in Counter(one.whole for one in self.scarfed).items():
            if the_part(job, whole).quantity - made[whole] < count:
                raise Clash("part", whole, f"fewer than {count} are left to be made of lengths")
        names = [part.name for one in self.scarfed for part in one.lengths]
        for part in (part for one in self.scarfed for part in one.lengths):
            checking.part(part)
        for number, name in enumerate(names):
            checking.unused("part", name, (*(part.name for part in job.parts), *names[:number]))
        known = {part.name for part in job.parts} | set(names)
        for piece in self.pieces:
            the_stick(job, piece.stick)
            if piece.part not in known:
                raise UnknownName("part", piece.part, tuple(sorted(known))[:4])

    def change(self, job: Job) -> Job:
        return replace(sawing.with_lengths(job, self.scarfed), laid=self.pieces, unlaid=self.out)


@record
class SpoilPiece(Edit):
    """A piece sawn and ruined: that stretch of the stick is gone, the part is still wanted."""

    spoilt: Spoilt

    @property
    def subject(self) -> str:
        return f"spoiled {self.spoilt.part} from {self.spoilt.stick}"

    def check(self, job: Job) -> None:
        lost = self.spoilt
        the_part(job, lost.part)
        free_stretch(job, the_stick(job, lost.stick), lost.start, lost.end, lost.part)
        checking.length_of_text("why", lost.why)

    def change(self, job: Job) -> Job:
        lost = self.spoilt
        laid = sawing.taken_off(job.laid, lost.part, lost.stick, lost.start)
        return replace(job, spoilt=(*job.spoilt, lost), laid=laid)


@record
class CutShort(Edit):
    """A piece that came off too short: it goes back to the rack as a stick of its own."""

    part: str
    stick: str
    start: Fraction  # from the stick's marked end [m]
    length: Typed  # of what came off [m]
    tag: str  # of the short piece in the rack

    @property
    def subject(self) -> str:
        return f"short {self.part} from {self.stick}"

    @property
    def end(self) -> Fraction:
        """Where what came off ended [m]."""
        return self.start + self.length.exact

    def check(self, job: Job) -> None:
        checking.size("length", self.length)
        part, stick = the_part(job, self.part), the_stick(job, self.stick)
        if self.length.exact >= part.length.exact:
            raise OutOfRange(
                "length",
                self.length.si,
                f"{part.name} is {part.length.text}: it is not short",
                self.length.text,
            )
        free_stretch(job, stick, self.start, self.end, self.part)
        checking.name("tag", self.tag)
        checking.new_tag(job, self.tag)

    def change(self, job: Job) -> Job:
        lost = Spoilt(
            self.part, self.stick, self.start, self.end, f"short, {self.length.text}; now {self.tag}"
        )
        piece = sawing.piece_of_stick(the_stick(job, self.stick), self.tag, self.start, self.length)
        laid = sawing.taken_off(job.laid, self.part, self.stick, self.start)
        return replace(job, spoilt=(*job.spoilt, lost), sticks=(*job.sticks, piece), laid=laid)


@record
class CondemnStick(Edit):
    """A stick of which nothing more is made, and why; without a reason it is judged as before again."""

    tag: str
    why: str

    @property
    def subject(self) -> str:
        return f"condemn {self.tag}"

    def check(self, job: Job) -> None:
        stick = the_stick(job, self.tag)
        checking.length_of_text("why", self.why)
        if bool(stick.condemned) == bool(self.why.strip()):
            state = "condemned already" if stick.condemned else "not condemned; say why it is to be"
            raise Clash("stick", self.tag, f"it is {state}")

    def change(self, job: Job) -> Job:
        before = the_stick(job, self.tag)
        after = replace(before, condemned=self.why.strip())
        return with_stick(job, before, after)


@record
class RipPlank(Edit):
    """A plank ripped into strips: each is a stick of its own from now on, and so is the board left over."""

    tag: str
    strips: tuple[Typed, ...]  # the fence for each, in the order ripped [m]
    rest: Typed | None = None  # width of the board left over; None: nothing to speak of [m]

    @property
    def subject(self) -> str:
        return f"rip {self.tag}"

    def check(self, job: Job) -> None:
        plank = the_stick(job, self.tag)
        if any(cut.stick == self.tag for cut in job.sawn):
            raise Clash("plank", self.tag, "pieces have been cut from it; it is not ripped any more")
        if not self.strips:
            raise Missing("strips", "say how wide each strip is")
        for width in (*self.strips, *([self.rest] if self.rest else [])):
            checking.size("strip", width)
        most = max(plank.width.exact, plank.depth.exact)
        total = sum((width.exact for width in self.strips), Fraction(0))
        if total + (self.rest.exact if self.rest else 0) > most:
            raise OutOfRange("strips", float(total), f"{self.tag} is no wider than that", str(float(total)))

    def change(self, job: Job) -> Job:
        plank = the_stick(job, self.tag)
        place = job.place(self.tag) or 0
        strips = sawing.strips_of(plank, self.strips, self.rest, partial(job.has_tag, but=self.tag))
        laid = tuple(
            replace(piece, stick=strips[piece.strip - 1].tag, strip=0, strip_width=None)
            if piece.stick == self.tag and 0 < piece.strip <= len(strips)
            else piece
            for piece in job.laid
        )
        section = job.section
        if section.stick == self.tag:
            section = replace(section, stick=strips[0].tag)
        sticks = (*job.sticks[:place], *strips, *job.sticks[place + 1 :])
        return replace(job, sticks=sticks, laid=laid, section=section)


@record
class PutOffer(Edit):
    """Wood that can be bought, or with `was` a changed line of it."""

    offer: Offer
    was: str = ""

    @property
    def subject(self) -> str:
        return f"offer {self.was or self.offer.name}"

    def check(self, job: Job) -> None:
        checking.offer(self.offer)
        others = tuple(offer.name for offer in job.offers if offer.name != self.was)
        checking.unused("offer", self.offer.name, others)
        if self.was:
            _the_offer(job, self.was)

    def change(self, job: Job) -> Job:
        if not self.was:
            return replace(job, offers=(*job.offers, self.offer))
        before = _the_offer(job, self.was)
        return replace(job, offers=tuple(self.offer if offer is before else offer for offer in job.offers))


@record
class RemoveOffer(Edit):
    """A line of wood on offer is taken out."""

    name: str

    @property
    def subject(self) -> str:
        return f"offer {self.name}"

    def check(self, job: Job) -> None:
        _the_offer(job, self.name)

    def change(self, job: Job) -> Job:
        gone = _the_offer(job, self.name)
        return replace(job, offers=tuple(offer for offer in job.offers if offer is not gone))


def _the_offer(job: Job, name: str) -> Offer:
    found = next((offer for offer in job.offers if offer.name == name), None)
    if found is None:
        raise UnknownName("offer", name, tuple(offer.name for offer in job.offers)[:4])
    return found
