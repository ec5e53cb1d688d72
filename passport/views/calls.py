"""Who to call when a lot or a batch misbehaves: who has the instruments that it is in, each person once.

For the shop alone: the cards of the public hold nobody.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from passport.views.numbers import joined
from passport.views.setup import NOT_RECORDED
from passport.views.site_tree import Call, Card
from passport.views.tree import Link


def calls(cards: Iterable[Card]) -> tuple[Call, ...]:
    """Give everybody by name, with their instruments; at the end those of which nobody is recorded."""
    held: dict[tuple[str, str], list[Link]] = defaultdict(list)
    for card in cards:
        for holder in card.holders:
            held[holder.name, holder.contact].append(_of(card, holder.what))
        if not card.holders:
            held["", ""].append(_of(card))
    in_order = sorted(held.items(), key=lambda each: (each[0] == ("", ""), each[0][0].casefold(), each[0]))
    return tuple(
        Call(name or NOT_RECORDED, contact, tuple(sorted(of, key=lambda link: link.text)))
        for (name, contact), of in in_order
    )


def _of(card: Card, what: str = "") -> Link:
    return Link(joined(card.line.id, what), card.line.path)
