"""At the saw by keys: one cut at a time, what goes wrong is laid out anew, and nothing is lost on the way."""

import re
from fractions import Fraction

import pytest

from bench.core.edits import StartJob
from bench.core.history import UNDO
from bench.core.records import Species, Typed, inches
from bench.sheets.telling import told_record
from tests.tools.at_the_saw import book, part, plank, sawn, sound, stick
from tests.tools.driving import Notebook, feed, picture, press, ready, shows, spell, until


def lying(app) -> set[tuple[str, str, Fraction]]:
    """Part, stick and start of every piece still to come."""
    return {(piece.part, row.tag, piece.start) for row in app.bench.river.plan.sticks for piece in row.pieces}


async def go_to(pilot, wanted) -> None:
    """To the saw, at the first piece of the layout that is wanted."""
    await press(pilot, "c")
    lying = [(row, piece) for row in pilot.app.bench.river.plan.sticks for piece in row.pieces]
    place = next(n for n, (row, piece) in enumerate(lying) if wanted(row, piece))
    await press(pilot, *["down"] * place, "enter")


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (160, 45)])
async def test_one_cut_fills_the_screen_and_space_ticks_it_off(
    woods: dict[str, Species], size: tuple[int, int]
) -> None:
    notebook = book()
    app = notebook.open(woods)
    async with app.run_test(size=size) as pilot:
        await ready(pilot)
        await go_to(pilot, lambda row, piece: piece.part == "cap" and not piece.start)
        text = picture(app)
        assert re.search(r"SAW cut [1-5] of 5", text) and "█" in text
        assert "cap (left): stop 28 in" in text
        assert "fence 3/4 in for the width, then 3/4 in for the depth" in " ".join(text.split())
        assert "grain: edge grain up" in text
        assert " STOP 28 in " in text and " FENCE 3/4 in" in text
        assert "next: " in text and "from 0 in to 28 in of the marked end" in text
        await press(pilot, "space")
        assert len(app.bench.job.cuts) == 1 and "SAW cut 2 of 5" in picture(app)
        assert {type(entry.edit).__name__ for _, entry in notebook.entries} >= {"MarkCut", "LayOut"}
        await press(pilot, "enter", "space", "space", "space")
        assert len(app.bench.job.cuts) == 5 and app.bench.job.laid == ()
        assert "all 5 pieces are cut" in picture(app)


async def test_the_layout_stays_while_it_is_sawn(woods: dict[str, Species]) -> None:
    """However the cuts are ordered, no piece that is still to come moves; a stick in the saw comes first."""
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        laid = lying(app)
        await press(pilot, "c", "down", "down", "enter", "space")
        (first,) = sawn(app)
        while app.bench.river.plan.sticks:
            tags = {row.tag for row in app.bench.river.plan.sticks}
            assert f"  {first[1]}, " in picture(app) or first[1] not in tags, (
                "the stick in the saw comes first"
            )
            assert lying(app) | set(sawn(app)) == laid
            sound(app)
            await press(pilot, "space")
        assert set(sawn(app)) == laid


async def test_a_spoiled_piece_is_wanted_again_and_one_step_back_takes_it_all(
    woods: dict[str, Species],
) -> None:
    notebook = book()
    app = notebook.open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter", "space")
        before = app.bench.job
        await press(pilot, "k")
        job = app.bench.job
        assert len(job.spoilt) == 1 and len(job.cuts) == 1
        wanted = sum(row.quantity for row in job.parts) - len(job.cuts)
        assert app.bench.river.plan.placed == wanted == 4
        assert "LAID OUT ANEW" in picture(app)
        sound(app)
        await press(pilot, "u")
        assert app.bench.job == before
        await press(pilot, "y")
        assert app.bench.job == job
        assert notebook.entries[-2][1].what == UNDO


async def test_a_short_piece_goes_back_to_the_rack_and_serves_as_something_shorter(
    woods: dict[str, Species],
) -> None:
    app = book(part("peg", "9", 1)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter")
        while "cap (left): stop" not in picture(app):
            await press(pilot, "down")
        stick_tag = picture(app).split("of 6  ")[1].split(",")[0]
        await press(pilot, "j")
        spell(app, "99")
        await press(pilot, "enter")
        assert "is not short" in picture(app), "refused, and what was typed is still there"
        feed(app, "ctrl+u")
        spell(app, "27 1/2")
        await press(pilot, "enter")
        short = app.bench.job.stick(f"{stick_tag} short")
        assert short is not None and short.length.text == "27 1/2 in" and short.parent == stick_tag
        assert short.readings == app.bench.job.stick(stick_tag).readings
        assert app.bench.river.plan.unplaced_count == 0
        sound(app)


async def test_a_defect_found_at_the_saw_is_laid_out_round(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter", "space")
        tag = app.bench.river.plan.sticks[0].tag
        spell(app, "99-100 knot 1/8")  # typed out of the blue, beyond the end
        await press(pilot, "enter")
        assert "must lie on the stick" in picture(app) and not app.bench.job.stick(tag).defects
        feed(app, "ctrl+u")
        spell(app, "31-32 knot 1/8 edge 1/2")
        await press(pilot, "enter")
        on = next(stick for stick in app.bench.job.sticks if stick.defects)
        assert on.defects[0].kind == "knot"
        sound(app)


async def test_a_condemned_stick_is_used_for_nothing_more(woods: dict[str, Species]) -> None:
    notebook = book()
    app = notebook.open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await go_to(pilot, lambda row, piece: len(row.pieces) > 1 and piece is row.pieces[0])
        await press(pilot, "space")
        first = sawn(app)[0]
        tag = picture(app).split("cut 2 of 5  ")[1].split(",")[0]
        assert tag == first[1], "something is left on the stick in the saw"
        await press(pilot, "a", "enter")
        assert not app.bench.job.stick(tag).condemned, "a reason is asked for"
        spell(app, "compression failure")
        await press(pilot, "enter")
        assert app.bench.job.stick(tag).condemned == "compression failure"
        assert tag not in {row.tag for row in app.bench.river.plan.sticks}
        assert sawn(app) == [first], "what is cut is never moved"
        assert "NOT ACCEPTED NOW: cap sawn from" in picture(app)
        await press(pilot, "p")
        assert f"cap: NOT ACCEPTED NOW: cap sawn from {tag}; 1 of 3 cut, 2 laid out on" in picture(app)
        await press(pilot, "p")
        assert set(app.bench.river.judged(tag).words.values()) == {"reject"}
        said = " ".join(told_record(entry for _, entry in notebook.entries))
        assert "compression failure" in said


async def test_what_is_only_tried_is_not_sawn(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "o", "tab", "up", "c", "enter", "space")
        assert not app.bench.job.cuts and "a change is being tried" in picture(app)


async def test_a_plank_is_ripped_before_its_strips_are_cut(woods: dict[str, Species]) -> None:
    """Six pieces of 40 in: two a strip, three strips of 3/4 in, 1/8 in lost to each, 2-3/8 in left."""
    notebook = Notebook(StartJob("Tansy"), *plank("P-1"), part("cap", "40", 6))
    app = notebook.open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter")
        assert "SAW rip first" in picture(app)
        assert "P-1: rip 3 strips at fence 3/4 in; a board 2 3/8 in wide is left over" in picture(app)
        await press(pilot, "k")
        assert "rip P-1 first" in picture(app) and not app.bench.job.spoilt
        await press(pilot, "space")
        tags = [stick.tag for stick in app.bench.job.sticks]
        assert tags == ["P-1.1", "P-1.2", "P-1.3", "P-1.4"]
        assert [stick.width.text for stick in app.bench.job.sticks] == ["3/4 in"] * 3 + ["2 3/8 in"]
        assert all(stick.readings and stick.parent == "P-1" for stick in app.bench.job.sticks)
        assert "SAW cut 1 of 6  P-1.1" in picture(app)
        await press(pilot, *["space"] * 6)
        assert len(app.bench.job.cuts) == 6
        assert {cut.stick for cut in app.bench.job.cuts} == {"P-1.1", "P-1.2", "P-1.3"}


async def test_a_part_longer_than_any_stick_is_scarfed_where_it_may_be(woods: dict[str, Species]) -> None:
    """120 in at 1:12 over 3/4 in: a joint of 9 in, so the lengths make 129 in; kept with the first cut."""
    slope = Typed(Fraction(1, 12), "1:12")
    sticks = [*stick("S-1", "96"), *stick("S-2", "60")]
    for allowed in (slope, None):
        notebook = Notebook(StartJob("Tansy"), *sticks, part("spar", "120", scarf=allowed))
        app = notebook.open(woods, moves=50)
        async with app.run_test(size=(80, 24)) as pilot:
            await ready(pilot)
            await press(pilot, "c")
            if allowed is None:
                await until(pilot, shows(app, "longer than any clear length by"), "no place")
                assert not app.bench.river.plan.placed
                continue
            await until(pilot, shows(app, "scarfed: spar of spar a"), "found in the background")
            lengths = [one.part.length.exact for one in app.bench.river.parts if one.part.piece_of]
            assert sum(lengths) == inches("129").exact
            assert app.bench.job.part("spar").quantity == 1, "the job is as it was: nothing is accepted yet"
            await press(pilot, "enter", "space")
            assert app.bench.job.part("spar").quantity == 0 and len(app.bench.job.cuts) == 1
            assert "scarf 1:12, 9 in overlap" in picture(app)
            await press(pilot, "space")
            assert len(app.bench.job.cuts) == 2
            await press(pilot, "u", "u", "u")
            assert app.bench.job.part("spar").quantity == 1 and not app.bench.job.cuts
