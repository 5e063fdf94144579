"""Invented parts to be made, planks on offer, and what is ordered for them."""

from dataclasses import replace
from fractions import Fraction

from core_cases import WOODS, stick, typed

from bench.core.buying import Order, Purchase
from bench.core.records import Job, Offer, Part, Settings, Stick, inches
from bench.core.river import River, flow
from bench.sheets import buying as sentences

SPRUCE, ASH = "sitka_spruce", "white_ash"
NO_KERF = Settings(kerf=inches("0"))


def offer(
    name: str,
    length: str,
    width: str = "3/4",
    thickness: str = "3/4",
    price: str = "",
    species: str = SPRUCE,
) -> Offer:
    cost = typed(Fraction(price), price) if price else None
    return Offer(name, species, inches(thickness), inches(width), inches(length), cost)


def part(name: str, length: str, quantity: int = 1, side: str = "3/4", species: str = SPRUCE) -> Part:
    return Part(name, inches(length), inches(side), inches(side), quantity, species=species)


def river(
    parts: list[Part], offers: list[Offer], sticks: list[Stick] | None = None, rules: Settings = NO_KERF
) -> River:
    job = Job("Tansy", settings=rules, parts=tuple(parts), offers=tuple(offers), sticks=tuple(sticks or ()))
    return flow(job, WOODS)


def bought(purchase: Purchase) -> dict[str, int]:
    return {line.offer.name: line.ordered for line in purchase.lines}


def text(order: Order, width: int = 78) -> str:
    return " ".join(" ".join(sentences.lines(order, width=width)).split())


def ash_job(*marks: float, quantity: int = 20) -> River:
    """Ash sticks too short for the parts: 6.6 passes, 5.0 is rejected."""
    sticks = [
        replace(stick(f"A-{number}", mark, length="30"), lot="K2") for number, mark in enumerate(marks, 1)
    ]
    parts = [part("a", "96", quantity, species=ASH)]
    return river(parts, [offer("ash 8 ft", "96", price="6", species=ASH)], sticks)
