"""A parcel packed in one job and brought into another: nothing lost, nothing guessed, nothing half done."""

import json
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from core_cases import WOODS, after, demo, part, stick
from textual.events import Paste

from bench.__main__ import main
from bench.core import parcels
from bench.core.demo import entries
from bench.core.edits import MarkCut, PutPart, PutStick, StartJob
from bench.core.errors import FileFault, Missing, Refusal, UnknownName
from bench.core.parcels import CLASH, NEW, OURS, RENAMED, SAME, THEIRS, Decision
from bench.core.records import CutMade, Job, Species, inches
from bench.headless.job_files import read as read_job
from bench.sheets import parcel_file
from bench.sheets.telling import told
from bench.storage import TextFiles
from bench.ui.parcel_view import ParcelView
from tests.tools.driving import Notebook, feed, picture, press, ready, settled, spell
from tests.tools.job_files import saved

TANSY = demo().job
DAY = "2026-03-14"
EMPTY_SHOP = after([StartJob("Other shop")])


def sticks(*tags: str) -> Job:
    return after([StartJob("Other shop"), *(PutStick(stick(tag, 6.5)) for tag in tags)])


# --- packing and the file ----------------------------------------------------------------------------


@pytest.mark.parametrize("lot", ["", "lot 2", "invented lot 1"])
def test_a_parcel_comes_out_of_its_file_as_it_went_in(lot: str) -> None:
    packed = parcels.pack(TANSY, DAY, lot)
    text = parcel_file.write(packed)
    assert parcel_file.read(text) == packed
    assert text.isascii() and all(json.loads(line) for line in text.splitlines())


def test_a_whole_job_in_an_empty_one_is_that_job() -> None:
    packed = parcels.pack(TANSY, DAY)
    edit = parcels.bring(EMPTY_SHOP, packed, {("section", ""): Decision(THEIRS)})
    found = edit.apply(EMPTY_SHOP)
    for field in ("sticks", "parts", "coupons", "offers", "cuts", "spoilt", "section"):
        assert getattr(found, field) == getattr(TANSY, field), field
    assert found.name == "Other shop" and found.settings == EMPTY_SHOP.settings
    assert "31 sticks" in told(edit) and "Tansy parasol trainer" in told(edit)


def test_of_a_lot_come_its_sticks_what_is_off_them_and_its_coupons() -> None:
    edit = parcels.bring(EMPTY_SHOP, parcels.pack(TANSY, DAY, "invented LOT 1"), {})
    found = edit.apply(EMPTY_SHOP)
    assert {one.tag for one in found.sticks} == {one.tag for one in TANSY.sticks if one.tag[0] == "A"}
    assert not found.parts and not found.cuts, "the parts stay where they are"
    gone = {(lost.stick, lost.start, lost.end) for lost in found.spoilt}
    assert gone == {(cut.stick, cut.start, cut.end) for cut in TANSY.cuts if cut.stick[0] == "A"}
    assert {lost.why for lost in found.spoilt} == {"sawn in Tansy parasol trainer"}
    assert found.coupons and all(not one.stick or found.stick(one.stick) for one in found.coupons)
    with pytest.raises(UnknownName, match="invented lot 1"):
        parcels.pack(TANSY, DAY, "lot 9")


# --- what clashes ------------------------------------------------------------------------------------


def test_what_is_here_already_is_told_from_what_clashes() -> None:
    ours = sticks("A-1", "a-2 ", "A-4")
    other = after(
        [PutStick(replace(stick("A-4", 6.5), lot="new"), was="A-4")], sticks("A-1", "A-2", "A-3", "A-4")
    )
    found = {
        item.name: item.state
        for item in parcels.items(ours, parcels.pack(other, DAY))
        if item.kind == "stick"
    }
    assert found == {"A-1": SAME, "A-2": CLASH, "A-3": NEW, "A-4": CLASH}


def test_a_stick_that_more_is_gone_of_is_not_the_same() -> None:
    base = after([PutPart(part("rib", length="10"))], sticks("A-1"))
    sawn = after([MarkCut(CutMade("rib", "A-1", Fraction(0), inches("10").exact))], base)
    states = {item.name: item.state for item in parcels.items(base, parcels.pack(sawn, DAY))}
    assert states["A-1"] == CLASH and states["rib"] == SAME


def test_nothing_is_guessed() -> None:
    other = after([PutStick(replace(stick("A-1", 6.5), lot="x"), was="A-1")], sticks("A-1", "A-2"))
    packed = parcels.pack(other, DAY)
    ours = sticks("A-1")
    with pytest.raises(Missing, match="1 to decide yet, first stick A-1"):
        parcels.bring(ours, packed, {})
    kept = parcels.bring(ours, packed, {("stick", "A-1"): Decision(OURS)}).apply(ours)
    assert kept.stick("A-1") == ours.stick("A-1") and kept.stick("A-2") is not None
    taken = parcels.bring(ours, packed, {("stick", "A-1"): Decision(THEIRS)}).apply(ours)
    assert taken.stick("A-1").lot == "x" and len(taken.sticks) == 2
    both = parcels.bring(ours, packed, {("stick", "A-1"): Decision(RENAMED, "A-9")}).apply(ours)
    assert both.stick("A-1") == ours.stick("A-1") and both.stick("A-9").lot == "x"


def test_a_new_name_goes_with_cuts_coupons_lengths_and_what_was_sawn_from_it() -> None:
    renamed = {("stick", one.tag): Decision(RENAMED, f"T {one.tag}") for one in TANSY.sticks}
    renamed |= {("part", one.name): Decision(RENAMED, f"T {one.name}") for one in TANSY.parts}
    renamed |= {("coupon", one.tag): Decision(RENAMED, f"T {one.tag}") for one in TANSY.coupons}
    ours = replace(
        TANSY,
        sticks=tuple(replace(one, note="ours") for one in TANSY.sticks),
        parts=tuple(replace(one, note="ours") for one in TANSY.parts),
        coupons=tuple(replace(one, note="ours") for one in TANSY.coupons),
        cuts=(),
    )
    found = parcels.bring(ours, parcels.pack(TANSY, DAY), renamed).apply(ours)
    assert len(found.sticks) == 2 * len(TANSY.sticks) and len(found.parts) == 2 * len(TANSY.parts)
    assert [(cut.part, cut.stick) for cut in found.cuts] == [
        (f"T {cut.part}", f"T {cut.stick}") for cut in TANSY.cuts
    ]
    brought = [one for one in found.coupons if one.tag.startswith("T ")]
    assert [one.stick for one in brought] == [f"T {one.stick}" if one.stick else "" for one in TANSY.coupons]


def test_a_piece_cut_of_a_part_that_is_the_same_in_both_is_cut_here_too_while_it_is_wanted() -> None:
    rib = PutPart(part("rib", length="10"))  # one piece
    sawn = after(
        [MarkCut(CutMade("rib", "A-1", Fraction(0), inches("10").exact))], after([rib], sticks("A-1"))
    )
    packed = parcels.pack(sawn, DAY)
    wanting = after([rib], EMPTY_SHOP)
    found = parcels.bring(wanting, packed, {}).apply(wanting)
    assert [(cut.part, cut.stick) for cut in found.cuts] == [("rib", "A-1")] and not found.spoilt
    ours = CutMade("rib", "B-1", Fraction(0), inches("10").exact)
    done = after([PutStick(stick("B-1", 6.5)), MarkCut(ours)], wanting)
    found = parcels.bring(done, packed, {}).apply(done)
    assert found.cuts == (ours,) and [lost.stick for lost in found.spoilt] == ["A-1"]


def test_what_the_job_refuses_brings_nothing_in() -> None:
    base = after([PutPart(part("rib", length="10"))], sticks("A-1"))
    sawn = after([MarkCut(CutMade("rib", "A-1", inches("60").exact, inches("70").exact))], base)
    short = after([PutStick(replace(base.stick("A-1"), length=inches("20")), was="A-1")], base)
    edit = parcels.bring(sawn, parcels.pack(short, DAY), {("stick", "A-1"): Decision(THEIRS)})
    with pytest.raises(Refusal, match="beyond it"):
        edit.check(sawn)


# --- bad files ---------------------------------------------------------------------------------------


def test_no_damaged_parcel_is_taken_and_each_says_where() -> None:
    text = parcel_file.write(parcels.pack(TANSY, DAY, "lot 2"))
    lines = text.splitlines(keepends=True)
    bad = {
        "is no parcel": "tag,wood\nA-1,ash\n",
        "cut short": "".join(lines[:-1]),
        "line 3: is damaged here": "".join([*lines[:2], lines[2][:40] + "\n", *lines[3:]]),
        "newer version": text.replace('"version": 1', '"version": 2', 1),
        "'nonsense' is nothing that is moved": "".join([lines[0], '{"nonsense": 1}\n', *lines[2:]]),
        "this stick cannot be read": text.replace('"species"', '"spices"', 1),
        "does not say its 'from'": text.replace("Tansy", "\\u001b[31mTansy", 1),
    }
    for said, damaged in bad.items():
        with pytest.raises(FileFault, match=said.replace("[", r"\[")):
            parcel_file.read(damaged, "p.parcel")
    for place in range(0, len(text), 997):
        for damaged in (text[:place], text[:place] + "\x00" + text[place + 1 :]):
            try:
                found = parcel_file.read(damaged)
                edit = parcels.bring(EMPTY_SHOP, found, {("section", ""): Decision(OURS)})
                edit.check(EMPTY_SHOP)
            except Refusal:
                continue


def test_a_deep_or_huge_line_is_refused() -> None:
    head = parcel_file.write(parcels.pack(TANSY, DAY, "lot 2")).splitlines()[0]
    for line in ("[" * 100_000, '{"stick": ' * 5000, '{"stick": {"tag": 1e999}}', '{"stick": NaN}'):
        with pytest.raises(FileFault, match="line 2"):
            parcel_file.read(f"{head}\n{line}\n")


def test_a_file_name_made_of_a_job_stays_in_its_folder() -> None:
    packed = replace(parcels.pack(TANSY, DAY), source="../../etc/passwd\\CON")
    assert parcel_file.stem(packed) == "etc-passwd-CON"


# --- the verbs ---------------------------------------------------------------------------------------


def test_pack_and_bring_without_a_screen(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    ours = saved(tmp_path / "a.tenthmark", StartJob("Ours"), PutStick(stick("A-01", 6.5)))
    theirs = saved(tmp_path / "b.tenthmark", *entries(WOODS))
    parcel = tmp_path / "lot.parcel"
    assert main(["pack", str(theirs), str(parcel), "--lot", "invented lot 1"]) == 0
    assert main(["pack", str(theirs), str(parcel)]) == 2, "not written over unasked"
    assert main(["bring", str(ours), str(parcel), "--look", "--json"]) == 0
    assert '"state": "clash"' in capsys.readouterr().out
    before = read_job(ours)
    assert main(["bring", str(ours), str(parcel)]) == 2
    assert "1 to decide yet, first stick A-01" in capsys.readouterr().err
    assert main(["bring", str(ours), str(parcel), "--ours", "stick A-09"]) == 2
    assert "does not clash; these do: stick A-01" in capsys.readouterr().err
    assert read_job(ours) == before
    assert main(["bring", str(ours), str(parcel), "--both", "stick A-01=B-01"]) == 0
    found = read_job(ours)
    assert len(found.sticks) == 21 and found.stick("B-01") is not None
    assert found.stick("A-01") == before.stick("A-01")


# --- by keys -----------------------------------------------------------------------------------------


async def test_a_lot_goes_from_job_to_job_by_keys(woods: dict[str, Species], tmp_path: Path) -> None:
    path = tmp_path / "lot.parcel"
    giver = Notebook(*entries(WOODS)).open(woods, files=TextFiles())
    async with giver.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "r", "k")
        spell(giver, "lot 2")
        feed(giver, "enter")
        await settled(pilot)
        await press(pilot, "ctrl+u")
        pilot.app.post_message(Paste(str(path)))
        feed(giver, "enter")
        await settled(pilot)
        assert path.exists() and "lot 2 packed to" in picture(giver).replace("\n", " ")
    taker = Notebook(StartJob("Other shop"), PutStick(stick("F-01", 5.4))).open(woods, files=TextFiles())
    async with taker.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "r", "j")
        pilot.app.post_message(Paste(str(path)))
        feed(taker, "enter")
        await settled(pilot)
        assert "BRING IN  1 to decide" in picture(taker) and "CLASHES" in picture(taker)
        await press(pilot, "enter")
        assert "1 to decide yet" in picture(taker) and len(taker.bench.job.sticks) == 1
        await press(pilot, "n")
        feed(taker, "enter")
        await settled(pilot)
        assert taker.screen.query_one(ParcelView).decided["stick", "F-01"] == Decision(RENAMED, "F-12")
        await press(pilot, "enter")
        assert len(taker.bench.job.sticks) == 12 and "RECORD" in picture(taker)
        assert taker.bench.job.stick("F-12").species == "douglas_fir_coast"
        await press(pilot, "u")
        assert len(taker.bench.job.sticks) == 1, "one undo takes all of it out again"
