"""The catalogue: the instruments that lists may name in their order, kind by kind.

Sees only the cards.
"""

from __future__ import annotations

from collections.abc import Iterable

from passport.reference.kinds import KIND_WORDS, KINDS
from passport.views.alike import PLURALS
from passport.views.site_tree import Card, CatalogueGroup


def catalogue(cards: Iterable[Card]) -> tuple[CatalogueGroup, ...]:
    """Give the instruments kind by kind."""
    in_order = sorted(cards, key=lambda card: (card.order, card.line.id))
    groups = ((kind, tuple(card.line for card in in_order if card.line.kind == KIND_WORDS[kind])) for kind in KINDS)
    return tuple(CatalogueGroup(PLURALS[kind], lines) for kind, lines in groups if lines)
