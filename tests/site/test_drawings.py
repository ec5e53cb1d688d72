"""What documents take of the stylesheet, so that a drawing looks on paper as it does on its page."""

from __future__ import annotations

from passport.site.drawings import drawing_rules


def test_every_variable_is_filled_in_and_nothing_of_screens_or_frames_is_left() -> None:
    rules = drawing_rules()
    assert ".drawing .line-strong" in rules
    assert ".drawing .band-0{fill: #f3e3c3;}" in rules
    assert "var(" not in rules
    assert "@media" not in rules
    assert "max-width" not in rules
    assert rules.count("{") == rules.count("}")
