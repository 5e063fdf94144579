"""At the saw by keys: what is set is read without doubt, one press is one cut, one comes back to the cut."""

from dataclasses import replace
from fractions import Fraction

import pytest

from bench.core.edits import ChangeSettings, PutPart, PutStick, StartJob
from bench.core.records import Defect, Part, Settings, Species, Typed, inches
from tests.tools.at_the_saw import book, part, plank, sawn, stick
from tests.tools.driving import (
    Notebook,
    events,
    feed,
    lines,
    picture,
    press,
    ready,
    settled,
    spell,
    stamped,
    type_line,
)

FIGURE = "█"


def saw(app):
    return app.bench.query_one("#saw")


def at(app, key: str, time: float) -> None:
    """A key with a stamp of its own [s]."""
    event = events.Key(key, " " if key == "space" else None)
    event.time = time
    app.post_message(event)


def now() -> float:
    """A stamp later than that of every key before."""
    return stamped(events.Key("x", "x")).time


# --- stop and fence -------------------------------------------------------------------------------------


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (160, 45)])
async def test_stop_and_fence_stand_large_under_their_names(
    woods: dict[str, Species], size: tuple[int, int]
) -> None:
    """17 3/16 in long, 47/64 in deep and 1/16 in planing on both faces: the fence at 55/64 in."""
    long = Typed(Fraction(275, 16) * Fraction(254, 10_000), "17 3/16 in")
    notebook = Notebook(
        StartJob("Tansy"),
        ChangeSettings(replace(Settings(), planing=inches("1/16"), end_trim=inches("1/2"))),
        *stick("S-1", "60", "3/4"),
        PutPart(Part("cap", long, inches("3/4"), inches("47/64"), 2, grain="edge grain up")),
    )
    app = notebook.open(woods)
    async with app.run_test(size=size) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter")
        rows, text = lines(app), picture(app)
        name = next(n for n, row in enumerate(rows) if " STOP 17 3/16 in" in row)
        assert rows[name].index("FENCE 55/64 in") > rows[name].index("STOP")
        fence = rows[name].index("FENCE") - 1
        for row in rows[name + 1 : name + 6]:
            assert FIGURE in row[:fence] and FIGURE in row[fence:], "both are large, side by side"
        said = " ".join(text.split())
        assert "FIRST saw off 3/8 in of waste, blade (1/8 in) on the waste side of the 1/2 in mark" in said
        assert "fence 55/64 in for the depth" in said
        assert "dress to 3/4 in wide x 47/64 in deep: plane the depth only" in said
        assert "grain: edge grain up" in said


async def test_a_stick_of_the_finished_size_is_neither_ripped_nor_planed(woods: dict[str, Species]) -> None:
    habits = replace(Settings(), planing=inches("1/16"))
    notebook = Notebook(StartJob("Tansy"), ChangeSettings(habits), *stick("S-1", "60"), part("cap", "28"))
    bare = notebook.history.job.stick("S-1")
    narrow = PutStick(replace(bare, width=inches("3/4"), depth=inches("3/4")), was="S-1")
    app = Notebook(*[entry.edit for _, entry in notebook.entries], narrow).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter")
        text = picture(app)
        assert "no rip" in text and "nothing to plane" in text
        assert "FENCE" not in text and "7/8" not in text


async def test_a_rip_shows_every_fence_and_goes_on_with_its_strips(woods: dict[str, Species]) -> None:
    """The plank P-1 is ripped while S-1 is still to be cut: its strips come next, not S-1."""
    habits = replace(Settings(), planing=inches("1/16"), edge=inches("1/8"))
    notebook = Notebook(
        StartJob("Tansy"),
        ChangeSettings(habits),
        *stick("S-1", "60", "3/4"),
        *plank("P-1"),
        part("cap", "40", 6),
        PutPart(Part("wide", inches("30"), inches("3/4"), inches("9/8"), 3)),
        part("short", "55"),
    )
    app = notebook.open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter")
        while "SAW rip first" not in picture(app):
            await press(pilot, "down")
        text, rows = picture(app), lines(app)
        name = next(row for row in rows if row.startswith(" FENCE"))
        # 9/8 and 3/4 in with 1/16 in planed off both faces.
        assert {"FENCE 1 1/4 in", "THEN 7/8 in"} <= set(name.strip().split("  ")) | {
            word.strip() for word in name.split("   ")
        }
        assert "FIRST joint one edge straight, 1/8 in goes" in text
        assert "the blade takes 1/8 in beside each strip" in text
        assert "dressed to 3/4 in" in text
        await press(pilot, "space")
        for _ in range(9):
            assert "  P-1." in picture(app), picture(app)
            await press(pilot, "space")
        assert {cut.stick.split(".")[0] for cut in app.bench.job.cuts} == {"P-1"}
        assert "  S-1, " in picture(app)


async def test_a_rip_made_before_a_stick_is_done_goes_on_with_its_strips_as_well(
    woods: dict[str, Species],
) -> None:
    bare, read = stick("S-1", "96")
    thick = PutStick(replace(bare.stick, width=inches("3/2"), depth=inches("3/2")))
    notebook = Notebook(
        StartJob("Tansy"),
        thick,
        read,
        *plank("P-1"),
        PutPart(Part("post", inches("45"), inches("5/4"), inches("5/4"), 2)),
        PutPart(Part("cap", inches("40"), inches("3/4"), inches("3/4"), 6)),
    )
    app = notebook.open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter")
        while "  S-1, 1 of 2" not in picture(app):
            await press(pilot, "down")
        await press(pilot, "space")
        assert "  S-1, 1 of 1" in picture(app), "a post is left on it"
        while "SAW rip first" not in picture(app):
            await press(pilot, "down")
        await press(pilot, "space")
        assert "  P-1.1, " in picture(app)
        await press(pilot, "space")
        assert [cut.stick for cut in app.bench.job.cuts] == ["S-1", "P-1.1"] and "  P-1.1, " in picture(app)


async def test_what_lies_before_another_cut_is_told(woods: dict[str, Species]) -> None:
    app = Notebook(StartJob("Tansy"), *stick("S-1", "96"), part("cap", "28", 3)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter", "down", "down")
        # Two of 28 in and two blades of 1/8 in.
        assert "2 pieces lie before it, still uncut: FIRST saw at the 56 1/4 in mark" in picture(app)
        await press(pilot, "up", "up")
        assert "lie before it" not in picture(app) and "lies before it" not in picture(app)


# --- one press, one cut ---------------------------------------------------------------------------------


@pytest.mark.parametrize("key", ["space", "enter"])
async def test_a_key_held_down_ticks_off_one_cut(woods: dict[str, Species], key: str) -> None:
    """The first repeat after 0.5 s, then every 1/30 s, as consoles and desktops have it (from memory)."""
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter")
        start = now()
        for n in range(60):
            at(app, key, start if n == 0 else start + 0.5 + (n - 1) / 30)
            await settled(pilot)
        assert len(sawn(app)) == 1
        assert "a held or repeated key is ignored" in picture(app)
        at(app, key, start + 0.5 + 59 / 30 + 1.0)
        await settled(pilot)
        assert len(sawn(app)) == 2 and "ignored" not in picture(app), "pressed afresh"


async def test_spoiled_is_one_press_too(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter")
        start = now()
        for n in range(10):
            at(app, "k", start + n / 30)
            await settled(pilot)
        assert len(app.bench.job.spoilt) == 1


async def test_enter_held_on_the_way_to_the_saw_cuts_nothing(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c")
        await app.bench.have("saw")
        start = now()
        saw(app).clock = lambda: start
        at(app, "enter", start)
        await settled(pilot)
        for n in range(1, 20):
            at(app, "enter", start + n / 30)
            await settled(pilot)
        assert "SAW cut 1 of 5" in picture(app) and not sawn(app)


async def test_a_press_from_before_the_cut_was_drawn_is_not_its_own(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter")
        start = now()
        saw(app).clock = lambda: start + 2
        at(app, "space", start)
        await settled(pilot)
        at(app, "space", start + 1.5)  # long after the first, but the second cut came on show at 2 s
        await settled(pilot)
        assert len(sawn(app)) == 1
        at(app, "space", start + 3)
        await settled(pilot)
        assert len(sawn(app)) == 2


# --- what was laid out anew -----------------------------------------------------------------------------


async def test_what_was_undone_is_not_told_as_laid_out_anew(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter", "space", "k")
        assert "LAID OUT ANEW" in picture(app)
        await press(pilot, "c", "f", "c", "enter")
        assert "LAID OUT ANEW" in picture(app), "still true: looking elsewhere changes nothing"
        await press(pilot, "u")
        assert "LAID OUT ANEW" not in picture(app) and not app.bench.job.spoilt


async def test_all_that_was_laid_out_anew_is_listed_and_no_cut_is_ticked_off_unseen(
    woods: dict[str, Species],
) -> None:
    app = book().open(woods)
    async with app.run_test(size=(60, 20)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter", "space", "k")
        assert "v shows all" in picture(app) and "now from" not in picture(app)
        await press(pilot, "v")
        assert "now from" in picture(app) or ", not S-" in picture(app)
        assert "STOP" not in picture(app)
        await press(pilot, "space")
        assert "STOP" in picture(app) and len(sawn(app)) == 1
        await press(pilot, "space")
        assert len(sawn(app)) == 2


async def test_figures_stay_large_beside_what_was_laid_out_anew(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(60, 20)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter", "space", "k")
        text = picture(app)
        assert "LAID OUT ANEW" in text and sum(FIGURE in row for row in lines(app)) == 5


async def test_a_defect_in_what_went_back_to_the_rack_is_said_to_be_off_the_stick(
    woods: dict[str, Species],
) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter", "j")
        tag = app.bench.query_one("#saw").step_here()[0].piece.stick
        await type_line(pilot, "10")
        await press(pilot, "d")
        await type_line(pilot, "4-5 knot 1/4")
        said = " ".join(picture(app).split())
        assert f"4 in to 5 in is off {tag} already (short, 10 in; now {tag} short)" in said
        await press(pilot, "d")
        await type_line(pilot, "40-41 knot 1/4")
        assert "is off" not in picture(app)


# --- where one comes back to ----------------------------------------------------------------------------


async def test_back_to_the_cut_that_was_on_show_unless_another_piece_was_taken(
    woods: dict[str, Species],
) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter", "down", "down", "down")
        here = next(row for row in lines(app) if row.startswith("SAW cut"))
        assert here.startswith("SAW cut 4 of 5")
        await press(pilot, "c", "enter")
        assert here in picture(app)
        await press(pilot, "c", "down", "down")
        piece = app.bench.query_one("#cuts").piece_here()
        await press(pilot, "enter")
        assert saw(app).step_here()[0].piece == piece
        await press(pilot, "space", "c", "enter", "space", "c")
        first = saw(app).queue()[0].piece
        assert app.bench.query_one("#cuts").piece_here() == first, "lit where nothing else was taken"


async def test_a_job_cut_to_the_end_says_so(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter", *["space"] * 5)
        assert "all 5 pieces are cut" in picture(app) and "Nothing is laid out" not in picture(app)
        await press(pilot, "c")
        assert "all 5 pieces are cut" in picture(app) and "0 of 0" not in picture(app)


async def test_what_has_no_place_is_not_forgotten_at_the_end(woods: dict[str, Species]) -> None:
    app = Notebook(StartJob("Tansy"), *stick("S-1", "60"), part("cap", "50", 2)).open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter", "space")
        assert "1 cut, nothing more is laid out: 1 without a place" in picture(app)


# --- a defect -------------------------------------------------------------------------------------------


async def test_a_bare_place_is_asked_what_it_is(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter")
        tag = saw(app).step_here()[0].piece.stick
        spell(app, "31-32")
        await press(pilot, "enter")
        assert not app.bench.job.stick(tag).defects and "what is at 31" in picture(app)
        assert f"ALL of {tag} goes ON HOLD" in " ".join(picture(app).split())
        spell(app, "knot 1/8 edge 1/2")
        await press(pilot, "enter")
        (found,) = app.bench.job.stick(tag).defects
        assert (found.kind, found.start.exact, found.end.exact) == (
            "knot",
            inches("31").exact,
            inches("32").exact,
        )
        assert found.size.exact == inches("1/8").exact and "ON HOLD" not in picture(app)


async def test_what_is_not_named_holds_the_stick_and_the_saw_says_why(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter")
        tag = saw(app).step_here()[0].piece.stick
        spell(app, "31")
        await press(pilot, "enter", "enter")
        assert app.bench.job.stick(tag).defects == (Defect(inches("31"), inches("31")),)
        assert tag not in {row.tag for row in app.bench.river.plan.sticks}
        said = " ".join(picture(app).split())
        assert f"{tag} is ON HOLD for" in said and "say what it is" in said


async def test_a_bare_place_beyond_the_end_is_refused_before_more_is_asked(woods: dict[str, Species]) -> None:
    app = book().open(woods)
    async with app.run_test(size=(80, 24)) as pilot:
        await ready(pilot)
        await press(pilot, "c", "enter")
        spell(app, "99")
        await press(pilot, "enter")
        assert "must lie on the stick" in picture(app) and "what is at" not in picture(app)
        feed(app, "escape")
        await settled(pilot)
        assert not any(one.defects for one in app.bench.job.sticks)
