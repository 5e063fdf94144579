"""What a section is matched by, in one wording on trace, sheet and ranking; a trace says it once."""

from dataclasses import replace

import pytest
from core_cases import WOODS, after, ash_for_spruce, part

from bench.core.edits import ChooseSection, PutPart, StartJob
from bench.core.records import SectionChoice
from bench.core.river import River, flow
from bench.core.tracing import notes, of_part
from bench.sheets import section_sheet, sections, tracing, writing_text

CHOICES = {
    "weaker in nothing": ash_for_spruce(match="all"),
    "weaker in nothing, width held": ash_for_spruce(match="all", hold="width"),
    "by weight": ash_for_spruce(match="weight"),
    "by bending strength, depth held": ash_for_spruce(match="bending", hold="depth"),
    "no weaker in stiffness, shear": ash_for_spruce(match="own", own=("stiffness", "shear")),
}


def river_of(choice: SectionChoice) -> River:
    return flow(after([StartJob("Tansy"), ChooseSection(choice), PutPart(part("rib"))]), WOODS)


def rows(river: River) -> list[str]:
    trace = of_part("rib", river, notes(()))
    return [row.text for row in tracing.of_part(trace, river, WOODS)]


@pytest.mark.parametrize(("said", "choice"), CHOICES.items())
def test_trace_and_sheet_say_it_alike(said: str, choice: SectionChoice) -> None:
    river = river_of(choice)
    assert sections.matched(choice) == said
    sheet = writing_text.write(section_sheet.sheet(river.section, river, WOODS))
    assert f"match: {said}; shape solid rectangle" in " ".join(sheet.split())
    assert any(text.startswith(f"match: {said}") for text in rows(river))


def test_a_trace_says_weaker_in_nothing_once() -> None:
    said = [text for text in rows(river_of(CHOICES["weaker in nothing"])) if "weaker in nothing" in text]
    assert said == ["match: weaker in nothing known"]


def test_what_is_given_away_has_a_row_of_its_own() -> None:
    said = rows(river_of(CHOICES["by weight"]))
    at = said.index("match: by weight")
    assert said[at + 1].startswith("gives away: ")


def test_a_trace_names_the_wood_of_a_part_and_not_its_key() -> None:
    for species, name in (
        ("sitka_spruce", "Sitka spruce"),
        ("douglas_fir_coast", WOODS["douglas_fir_coast"].name),
    ):
        job = after([StartJob("Tansy"), PutPart(replace(part("rib"), species=species))])
        said = rows(flow(job, WOODS))
        assert f" {name}, becomes " in said[1] and species not in " ".join(said)
