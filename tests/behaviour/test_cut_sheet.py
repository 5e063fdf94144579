"""The cut sheet and the labels: every piece once, places as they are, marks that cannot be missed."""

import re
from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest
from core_cases import WOODS, demo, part, reading, stick, typed
from cut_cases import BAD, DOUBTFUL, GOOD, NASTY, every_piece, inch, job, ripped, spoilt, unchecked

from bench import units
from bench.core import grading, sawing
from bench.core.cutting import Proof
from bench.core.edits import ChangeSettings, MarkCut, PutPart, SetAside, TakeReading
from bench.core.edits_saw import CondemnStick
from bench.core.errors import OutOfRange
from bench.core.records import CutMade, Job, Settings, inches
from bench.core.river import River, flow
from bench.sheets import cut_sheet, labels, saw, wording, writing_text

CUT = re.compile(r"^ +\[ \] +(\d+) ")


def river() -> River:
    return flow(demo().job, WOODS)


def sheet(found: River) -> list[str]:
    return writing_text.lines(cut_sheet.sheet(found, WOODS))


def tags(found: River) -> list[str]:
    return writing_text.lines(labels.sheet(found, WOODS))


def joined(lines: list[str]) -> str:
    return " ".join(" ".join(lines).split())


def rows(lines: list[str]) -> dict[int, str]:
    """The lines of the cuts by their numbers."""
    found = [(int(match[1]), line) for line in lines if (match := CUT.match(line))]
    assert len(found) == len(dict(found)), "a number stands twice"
    return dict(found)


def simple(**habits: object) -> River:
    """A stick, two ribs and a cap."""
    parts = [part("rib", "20", 2), replace(part("cap", "30"), critical=True, group="left", grain="flat down")]
    return flow(job(stick("A", GOOD), parts=parts, habits=replace(Settings(), **habits)), WOODS)


# --- every piece once ----------------------------------------------------------------------------------


@pytest.mark.parametrize("found", [river(), ripped(), simple()], ids=["demo", "ripped", "simple"])
@pytest.mark.parametrize("system", ["in", "mm"])
def test_every_piece_of_the_plan_stands_once_with_its_places(found: River, system: str) -> None:
    found = replace(found, job=replace(found.job, settings=replace(found.job.settings, units=system)))
    on_sheet, wanted = rows(sheet(found)), every_piece(found)
    assert len(wanted) == sum(len(row.pieces) for row in found.plan.sticks) > 0
    assert sorted(on_sheet) == [number for number, *_ in wanted]
    for number, name, start, end in wanted:
        told = [units.place(place, system) for place in (end - start, start, end)]
        assert on_sheet[number].split()[3:] == [*" ".join(told).split(), *name.split()]


def test_the_numbers_are_those_at_the_saw_and_rise_down_the_sheet() -> None:
    found = river()
    steps = {(s.piece.stick, s.piece.start): s for s in sawing.queue(found.job, found.plan)}
    wanted = {step.number: step.piece.part for step in steps.values()}
    on_sheet = rows(sheet(found))
    assert list(on_sheet) == sorted(wanted) == list(range(len(found.job.cuts) + 1, 75))
    assert all(on_sheet[number].endswith(name) for number, name in wanted.items())


def test_every_piece_has_a_label_and_so_has_every_stick() -> None:
    for found in (river(), ripped(), simple()):
        text = "\n".join(tags(found))
        numbers = Counter(re.findall(r"\| CUT (\d+)  ", text))
        assert numbers == {str(number): 1 for number, *_ in every_piece(found)}
        assert text.count("| STICK ") == len(found.job.sticks)
        assert text.count("| cut from ") == len(found.job.cuts)


def test_a_name_too_long_for_its_column_goes_on_below() -> None:
    name = "W" * 40
    found = flow(job(stick("A", GOOD), parts=[part(name, "20")]), WOODS)
    lines = writing_text.lines(cut_sheet.sheet(found, WOODS), 60)
    at = next(number for number, line in enumerate(lines) if CUT.match(line))
    assert lines[at].split()[-1] + lines[at + 1].strip() == name


# --- width ---------------------------------------------------------------------------------------------


def wide() -> River:
    """Everything as long as it may be, and letters that no printer shows."""
    parts = [
        replace(
            part("p\nq" * 13, "20", 2),
            group="g" * 40,
            grain="grain " * 33,
            note="\x1b[31mnote " * 20,
            piece_of="w" * 40,
        )
    ]
    return flow(unchecked(replace(stick("T" * 40, GOOD), lot="L" * 40), parts=parts), WOODS)


@pytest.mark.parametrize("system", ["in", "mm"])
@pytest.mark.parametrize("found", [river(), ripped(), wide()], ids=["demo", "ripped", "wide"])
def test_no_line_is_wider_than_the_paper(found: River, system: str) -> None:
    settings = replace(found.job.settings, units=system)
    found = replace(found, job=replace(found.job, name="A job " * 30, settings=settings))
    for width in (60, 78, 100):
        lines = writing_text.lines(cut_sheet.sheet(found, WOODS, "2031-06-01"), width)
        assert [line for line in lines if len(line) > width] == []
        assert all(line.isprintable() and line == line.rstrip() for line in lines)
    found_labels = tags(found)
    assert max(map(len, found_labels)) <= 78
    assert all(line.isprintable() for line in found_labels)


def test_labels_are_frames_of_one_width_that_can_be_cut_apart() -> None:
    lines = tags(river())
    framed = [line for line in lines if line[:1] in "+|" and line]
    assert {len(line) for line in framed} <= {38, 78}
    for line in framed:
        for first in range(0, len(line), 40):
            block = line[first : first + 38]
            assert (block[0], block[-1]) in (("+", "+"), ("|", "|")), line
        assert line[38:40].strip() == ""


# --- what must be said ---------------------------------------------------------------------------------


def test_invented_is_said_and_only_where_it_is() -> None:
    assert "INVENTED: nothing here was measured" in sheet(river())[0]
    assert "| INVENTED " in "\n".join(tags(river()))
    assert "INVENTED" not in joined(sheet(simple())) + joined(tags(simple()))


def test_the_day_stands_only_where_it_is_handed_in() -> None:
    assert writing_text.lines(cut_sheet.sheet(simple(), printed="2031-06-01"))[1].endswith(", 2031-06-01")
    assert not re.search(r"\d{4}-\d\d-\d\d", joined(sheet(simple())))


def test_the_rules_of_the_saw_are_said_as_typed() -> None:
    found = simple(
        kerf=inches("3/32"), end_trim=inches("1/4"), planing=inches("1/16"), rip_kerf=inches("1/10")
    )
    text = joined(sheet(found))
    for rule in ("kerf 3/32 in", "trim 1/4 in off each end", "rip kerf 1/10 in", "planing 1/16 in off each"):
        assert rule in text
    assert "planing" not in joined(sheet(simple()))


def test_the_fence_on_paper_is_the_one_at_the_saw_with_the_planing_in_it() -> None:
    found = simple(planing=inches("1/32"))
    steps = sawing.queue(found.job, found.plan)
    told = joined(sheet(found))
    assert len(steps) == 3
    for step in steps:
        sized = next(one for one in found.parts if one.part.name == step.piece.part)
        fence = saw.fence(saw.sides(found.job.sticks[0], sized, found.job.settings), "in")
        assert fence == "fence 11/16 in for the width, then 11/16 in for the depth"
        assert units.sides(sized.width, sized.depth) == "5/8 x 5/8 in"
        assert fence in told


def test_of_a_strip_the_sheet_gives_the_fence_once_and_for_the_thickness_where_it_is_ripped_too() -> None:
    board = ripped()
    thinner = tuple(replace(one, depth=inches("1/2").exact) for one in board.parts)
    told = joined(sheet(replace(board, parts=thinner)))
    assert "strip 1, fence 7/8 in" in told
    assert "for the depth" in told and "for the width, then" not in told


def test_each_cut_says_what_goes_with_it() -> None:
    asked = replace(
        part("cap", "30"),
        critical=True,
        group="left",
        grain="flat down",
        note="mind the bevel",
        minimum_sg=typed("0.4", "0.40"),
        piece_of="spar",
    )
    found = flow(
        job(stick("A", GOOD), parts=[asked], habits=replace(Settings(), squaring=inches("1/8"))), WOODS
    )
    lines = sheet(found)
    at = next(number for number, line in enumerate(lines) if CUT.match(line))
    assert lines[at].split()[3:6] == ["30", "1/8", "in"], "the stop is the rough length"
    told = joined(lines[at + 1 : at + 5])
    width, depth = found.parts[0].width, found.parts[0].depth
    fence = "fence 5/8 in for the width, then 5/8 in for the depth"
    size = units.sides(width, depth)
    assert told.startswith(f"group left; {fence}; dress to {size}; finish to 30 in; CRITICAL;")
    for said in (
        "length of spar, to be scarfed",
        "grain: flat down",
        "gravity 0.40 or more",
        "mind the bevel",
    ):
        assert said in told


def test_what_is_left_and_what_is_lost_is_said() -> None:
    lines = sheet(ripped())
    assert "offcut 51 7/8 in: 20 1/8 in to 72 in" in joined(lines)
    assert joined(lines).count("lost: 30 in to 31 in") == 2, "in either strip"
    assert "mineral streak" in joined(lines), "what may stay in a part is told, and is not lost"


def test_a_plank_is_ripped_first_and_in_order() -> None:
    lines = sheet(ripped())
    at = next(number for number, line in enumerate(lines) if "RIP FIRST" in line)
    assert [line.strip() for line in lines[at + 1 : at + 5]] == [
        "joint that edge straight: 1/8 in goes",
        "strip 1: fence 7/8 in, for cuts 1, 2, 3, 4, 5",
        "strip 2: fence 1 in, for cuts 6, 7, 8, 9",
        # 5 less 1/8 in of edge, 7/8 and 1 in of strips, and two kerfs of 1/8 in.
        "left of the board: 2 3/4 in wide",
    ]
    assert joined(lines).count("RIP FIRST") == 1, "the other stick is not ripped"
    assert "from P" in "\n".join(tags(ripped())) and ".1" in "\n".join(tags(ripped()))


def test_a_held_stick_is_marked() -> None:
    habits = replace(Settings(), use_held=True)
    found = flow(
        job(stick("D", DOUBTFUL), stick("A", GOOD, length="30"), parts=[part("rib", "40")], habits=habits),
        WOODS,
    )
    lines = sheet(found)
    head = next(line for line in lines if line.startswith("D: "))
    assert head.endswith("** ON HOLD **") and "small part HOLD" in joined(lines)
    assert "from D, ON HOLD" in "\n".join(tags(found))
    assert "ON HOLD" not in joined(sheet(simple()))


def test_a_stick_rejected_after_it_was_cut_from_is_marked() -> None:
    start = MarkCut(CutMade("rib", "A", Fraction(0), inch(20))).apply(simple().job)
    aside = SetAside("A", 0, "slipped").apply(start)
    found = flow(TakeReading("A", replace(reading(BAD), taken="2031-05-09")).apply(aside), WOODS)
    text = joined(sheet(found))
    assert "NOT ACCEPTED NOW: rib sawn from A" in text and "** REJECTED **" in text
    assert rows(sheet(found)) == {}, "nothing more is cut from it"
    assert "every use REJECT" in joined(tags(found))


def test_a_condemned_stick_says_why() -> None:
    start = MarkCut(CutMade("rib", "A", Fraction(0), inch(20))).apply(simple().job)
    found = flow(CondemnStick("A", "compression failure").apply(start), WOODS)
    assert "** CONDEMNED: compression failure **" in joined(sheet(found))
    assert "CONDEMNED: compression failure" in joined(tags(found)).replace("|", "")
    assert rows(sheet(found)) == {}


def test_parts_without_a_place_say_why() -> None:
    found = flow(job(stick("A", GOOD), parts=[part("spar", "100", 2), part("rib", species="mallorn")]), WOODS)
    barred = {sized.part.name: sized.barred_by for sized in found.parts}
    assert barred["rib"] == grading.BY_WOOD
    text = joined(sheet(found))
    assert "2 spar longer than any clear length by 28 in (72 in is the longest)" in text, "100 less 72 in"
    assert f"1 rib {wording.BARRED[grading.BY_WOOD]}" in text


def test_what_is_cut_already_is_listed_with_its_size() -> None:
    start = simple().job
    made = CutMade("rib", "A", Fraction(0), inch(20), inch("3/4"), inch("5/8"))
    lines = sheet(flow(MarkCut(made).apply(start), WOODS))
    at = next(number for number, line in enumerate(lines) if "[x]" in line)
    assert lines[at].split() == [*["[x]", "rib", "0", "in", "20", "in", "3/4", "x", "5/8", "in"]]
    assert at > max(number for number, line in enumerate(lines) if CUT.match(line))


def test_a_spoiled_stretch_is_told_with_its_reason() -> None:
    assert "spoiled rib: 0 in to 20 in, tear-out" in joined(sheet(spoilt_simple()))


def spoilt_simple() -> River:
    return spoilt(flow(job(stick("A", GOOD), parts=[part("rib", "20", 2)]), WOODS))


def test_the_plan_says_what_is_proved() -> None:
    found = simple()
    assert found.plan.optimal
    assert wording.plan_line(found.plan, 3) in joined(sheet(found)) and "PROVED BEST" in joined(sheet(found))
    more = replace(found, plan=replace(found.plan, proof=Proof.of(0, False)))
    text = joined(sheet(more))
    assert "PROVED BEST" not in text and "not proved best, at most 1 above the bound" in text


def test_a_plan_that_is_only_tried_says_so() -> None:
    found = simple()
    assert "BEING TRIED" not in joined(sheet(found))
    assert "BEING TRIED, not kept" in joined(sheet(replace(found, accepted=found)))


def test_the_sheet_has_the_totals_and_the_caution() -> None:
    found = river()
    text, made = joined(sheet(found)), len(found.job.cuts)
    assert 0 < made < 74 and f"74: {made} cut, {74 - made} laid out, 0 without a place" in text
    assert "push sticks" in text and wording.CAUTION_SHORT in text


# --- nothing to show -----------------------------------------------------------------------------------


def test_no_job_no_parts_no_sticks_no_plan() -> None:
    empty = flow(Job("Empty"), WOODS)
    assert "no parts yet: nothing to cut" in sheet(empty)
    assert "no sticks and no parts: nothing to label" in tags(empty)
    no_sticks = flow(PutPart(part("rib")).apply(Job("Empty")), WOODS)
    assert "1 rib no stick of its wood" in joined(sheet(no_sticks)) and tags(no_sticks)
    refused = replace(simple(), plan=None, plan_refusal=OutOfRange("kerf", -1, "it cannot be below zero"))
    assert f"no plan: {refused.plan_refusal}" in joined(sheet(refused)) and rows(sheet(refused)) == {}
    assert tags(refused)


def test_a_job_cut_to_the_end_says_so() -> None:
    start = job(stick("A", GOOD), parts=[part("rib", "20")])
    found = flow(MarkCut(CutMade("rib", "A", Fraction(0), inch(20))).apply(start), WOODS)
    text = joined(sheet(found))
    assert "all 1 cut: nothing left to cut" in text and "offcut 51 7/8 in: 20 1/8 in to 72 in" in text


def test_metric_shops_read_millimetres() -> None:
    found = flow(ChangeSettings(replace(Settings(), units="mm")).apply(simple().job), WOODS)
    line = next(iter(rows(sheet(found)).values()))
    assert line.split()[3:5] == ["762.00", "mm"], "30 in are 762 mm"


def test_nasty_names_stay_as_they_are_in_plain_text() -> None:
    assert f"rib {NASTY}" in "\n".join(sheet(ripped()))
