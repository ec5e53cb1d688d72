"""A workshop's own stocks and printers, as they stand in its file."""

from __future__ import annotations

from passport.analysis.printing import all_stocks, own_stocks, printers
from passport.records.model.workshop import Workshop
from passport.stocks import STOCKS, Printer, Sheet, Stock
from tests import archives

OWN = """\
name: Tamm & Penn
stocks:
  64x34:
    width: 64
    height: 34
    sheet:
      {paper: letter, columns: 3, rows: 7, margin_left: 0.5 in, margin_top: 12, pitch_x: 66, pitch_y: "34,5", cut: yes}
  60x30: {width: 61, height: 30}
printers:
  bench: {dpi: 203, stock: 60x30}
  office: {offset_x: -0.4, offset_y: 0.8, scale: 99.6}
"""


def test_own_stocks_are_read_in_millimetres_and_stand_in_for_those_of_the_same_name() -> None:
    workshop = archives.record(Workshop, OWN)
    sheet = Sheet("letter", 3, 7, 12.7, 12.0, 66.0, 34.5, cut=True)
    assert own_stocks(workshop)["64x34"] == Stock("64x34", 64.0, 34.0, sheet)
    by_name = {stock.name: stock for stock in all_stocks(workshop)}
    assert by_name["60x30"].width_mm == 61.0
    assert len(by_name) == len(STOCKS) + 1


def test_printers_have_what_was_written_and_are_true_otherwise() -> None:
    assert printers(archives.record(Workshop, OWN)) == {
        "bench": Printer(dpi=203, stock="60x30"),
        "office": Printer(offset_x_mm=-0.4, offset_y_mm=0.8, scale=0.996),
    }
