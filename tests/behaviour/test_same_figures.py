"""The same number has the same characters on the screen and on paper: figures read off the invented job's
screens by the keys are looked for on its sheets, each beside what it is of."""

import re
from typing import Any

from core_cases import WOODS

from bench.core.demo import entries
from bench.core.records import Species
from bench.library import load
from bench.sheets import kinds
from tests.tools.driving import CLOCK, Notebook, feed, lines, picture, press, settled, shows, spell, until
from tests.tools.text_files import FakeFiles

WIDE, PLAIN = (160, 45), (80, 24)


def words(text: str) -> str:
    return " ".join(text.split())


async def sheet(app: Any, pilot: Any, papers: FakeFiles, kind: str) -> str:
    """A sheet as text, written by the keys of the Record screen."""
    await press(pilot, "r", "x")
    feed(app, "ctrl+u")
    spell(app, kind)
    feed(app, "enter")
    await settled(pilot)
    feed(app, "ctrl+u")
    name = f"{kind.replace(' ', '-')}.txt"
    spell(app, name)
    feed(app, "enter")
    await until(pilot, shows(app, f"written to /shop/{name}"), "written")
    await press(pilot, "escape")
    return papers.texts[name]


def demo(papers: FakeFiles) -> Any:
    return Notebook(*entries(WOODS)).open(WOODS, files=papers, sources=load().sources)


async def test_gravity_band_and_limits(woods: dict[str, Species]) -> None:
    papers = FakeFiles()
    app = demo(papers)
    async with app.run_test(size=PLAIN) as pilot:
        await settled(pilot)
        await press(pilot, "f")
        tag = app.bench.river.tag
        shown = words(picture(app))
        value, half = re.search(r"(0\.\d{3}) \+/- (0\.\d{3}) \(95 %\)", shown).groups()
        low, least = re.search(r"lowest likely (0\.\d{3}) \(95 %\), minimum (0\.\d{3})", shown).groups()
        line = re.search(r"draw the minimum 0\.\d{3} at (\d+\.\d+)", shown)[1]
        stick = words(await sheet(app, pilot, papers, f"stick {tag}"))
        assert f"specific gravity {value} +/- {half} (95 %)" in stick
        assert f"gravity {value}, lowest likely {low} (95 %), least {least}" in stick
        # The line at the reading's own moisture stands in the working, with one digit more, rounded up above.
        assert re.search(rf"line = {line[:3]}\d* marks", stick)
        await press(pilot, "t")
        listed = {found[1]: found[2] for row in lines(app) if (found := STOCK.match(row))}
        await press(pilot, "i")
        point = re.search(r"(ACCEPT|HOLD|REJECT) +>?(1:[\d.]+, limit 1:\d+ \(.*?\))", words(picture(app)))
        found = re.findall(
            r"(?:ACCEPT|HOLD|REJECT) +gravity (0\.\d{3}), least (0\.\d{3})", words(picture(app))
        )
        assert found == [(value, least)] and (point is None or point[2] in stick)
        accepted = await sheet(app, pilot, papers, "acceptance")
    assert len(listed) >= 8
    for name, gravity in listed.items():
        row = next(text for text in accepted.splitlines() if text.startswith(f"  {name} "))
        assert gravity in row.split(), (name, gravity, row)


STOCK = re.compile(r"([AF]-\d\d) .*? (0\.\d{3}) ")


async def test_sizes_ratios_and_price_of_the_section(woods: dict[str, Species]) -> None:
    papers = FakeFiles()
    app = demo(papers)
    async with app.run_test(size=PLAIN) as pilot:
        await settled(pilot)
        await press(pilot, "f", "s")
        shown = picture(app)
        shop, exact = re.search(r"shop size (\S+ x \S+ in)\s+exact (\S+ in x \S+ in)", shown).groups()
        ratios = re.findall(r" {2,}(\S+(?: \S+)*) {2,}(\d+\.\d %) +(\d+\.\d %)", shown)
        decision = await sheet(app, pilot, papers, "section")
    assert re.search(rf"shop size +{re.escape(shop)}$", decision, re.MULTILINE)
    assert re.search(rf"exact +{re.escape(exact)}$", decision, re.MULTILINE)
    assert len(ratios) >= 9
    for name, of_exact, of_shop in ratios:
        row = next(text for text in decision.splitlines() if text.strip().startswith(f"{name.strip()} "))
        assert row.endswith(f"{of_exact}  {of_shop}"), (row, of_exact, of_shop)


async def test_stop_fence_and_places_at_the_saw(woods: dict[str, Species]) -> None:
    papers = FakeFiles()
    app = demo(papers)
    async with app.run_test(size=PLAIN) as pilot:
        await settled(pilot)
        await press(pilot, "c", "enter")
        seen = []
        for _ in range(12):
            shown = words(picture(app))
            number = re.search(r"SAW cut (\d+) of", shown)[1]
            stop, fence = re.search(r"STOP (\S+(?: \d+/\d+)? in) FENCE (\S+ in)", shown).groups()
            length = r"(\S+(?: \d+/\d+)? in)"
            start, end = re.search(rf"from {length} to {length}", shown).groups()
            seen.append((number, stop, fence, start, end))
            await press(pilot, "down")
        cuts = (await sheet(app, pilot, papers, "cuts")).splitlines()
    assert len({row[0] for row in seen}) == 12
    for number, stop, fence, start, end in seen:
        at = next(n for n, text in enumerate(cuts) if re.match(rf"\s+\[ \] +{number} ", text))
        assert re.match(rf"\s+\[ \] +{number} +{stop} +{start} +{end} ", cuts[at]), cuts[at]
        told = words(" ".join(cuts[at : at + 3]))
        assert f"fence {fence} for the width, then {fence} for the depth; dress to " in told, (fence, told)


async def test_figures_of_the_coupons(woods: dict[str, Species]) -> None:
    papers = FakeFiles()
    app = demo(papers)
    async with app.run_test(size=WIDE) as pilot:
        await settled(pilot)
        await press(pilot, "b")
        shown = {found[1]: found[2] for row in lines(app) if (found := COUPON.match(row))}
        report = await sheet(app, pilot, papers, "breaks")
        await press(pilot, "b", "v", "v")
        said = words(picture(app))
        mean, limit = re.search(r"mean (\S+ \S+);.*?lower 5 % limit (\S+ \S+) at", said).groups()
    assert len(shown) >= 10
    rows = {text.split()[0]: words(text) for text in report.splitlines() if re.match(r"  [DESG]-\d\d ", text)}
    for tag, result in shown.items():
        assert words(result) in rows[tag], (result, rows[tag])
    assert f"mean {mean}; " in words(report) and f"lower 5 % limit {limit} at" in words(report)


COUPON = re.compile(r"([DESG]-\d\d) .*?(\d[\d,.]* (?:in; [\d.]+ in-lbf|lbf/in2))")


async def test_the_record_on_the_screen_is_that_on_paper_and_the_day_is_of_the_clock(
    woods: dict[str, Species],
) -> None:
    papers = FakeFiles()
    app = demo(papers)
    async with app.run_test(size=WIDE) as pilot:
        await settled(pilot)
        await press(pilot, "r")
        rows = [found.groups() for row in lines(app) if (found := ENTRY.match(row))]
        await press(pilot, "f")
        record = await sheet(app, pilot, papers, "record")
        assert "stick" in kinds.KINDS and CLOCK[:10] in record.splitlines()[1]
        # Nothing that is only tried gets on paper.
        await press(pilot, "f", "up", "r", "x")
        assert "only tried" in picture(app)
    assert len(rows) >= 20
    said = words(record)
    for number, at, what in rows:
        assert f"{number} {at} {words(what.removesuffix('..'))}"[:60] in said


ENTRY = re.compile(r" +(\d+) (\d{4}-\d\d-\d\d \d\d:\d\d:\d\d)  (.*)")


async def test_a_waterline_typed_finer_than_it_is_stepped_keeps_its_digits_everywhere(
    woods: dict[str, Species],
) -> None:
    papers = FakeFiles()
    app = demo(papers)
    async with app.run_test(size=PLAIN) as pilot:
        await settled(pilot)
        await press(pilot, "f")
        spell(app, "6.625")
        feed(app, "enter")
        await until(pilot, shows(app, "TRIED"), "tried")
        assert re.search(r"face N +>? *6\.625 of 10", picture(app))
        feed(app, "enter")
        await until(pilot, shows(app, "face S"), "kept")
        await settled(pilot)
        tag = app.bench.river.tag
        await press(pilot, "w")
        assert "d_1 = 6.625 marks" in picture(app)
        await press(pilot, "escape")
        record = words(await sheet(app, pilot, papers, "record"))
        stick = words(await sheet(app, pilot, papers, f"stick {tag}"))
    assert f"{tag} floats at 6.625, 6.65 of 10" in record
    assert re.search(r"6\.625 6\.65 0\.\d{3} \+/- ", stick)
