from __future__ import annotations

from pathlib import Path

import pytest

from tests.checks.examples import changed, found

VIOLIN = "instruments/CZ6EP3J.yml"
VIOLA = "instruments/3YJ834Z.yml"
ADDRESS = "site_address: https://plumb-reed.example/"


@pytest.mark.parametrize("address", ["http://127.0.0.1:8000/", "https://plumb-reed.example/passports/"])
def test_address_may_have_a_port_and_a_folder(archive: Path, address: str) -> None:
    changed(archive, "workshop.yml", ADDRESS, f"site_address: {address}")
    assert found(archive) == []


@pytest.mark.parametrize(
    "address",
    [
        "plumb-reed.example/", "https://plumb-reed.example", "https:///a/", "ftp://plumb-reed.example/",
        "https://plumb-reed.example/?a=/", '"https://plumb-reed.example/#/"', '"https://plumb reed.example/"',
        '"https://plumb-reed.example/\\n"', "https://[::1/",
    ],
)  # fmt: skip
def test_address_that_cannot_stand_on_a_label_is_refused(archive: Path, address: str) -> None:
    changed(archive, "workshop.yml", ADDRESS, f"site_address: {address}")
    assert found(archive) == ["workshop.yml:6:15 bad-address"]


@pytest.mark.parametrize("size", ["380", "440"])
def test_viola_is_named_by_its_body_length(archive: Path, size: str) -> None:
    changed(archive, VIOLA, "size: 405", f"size: {size}")
    assert found(archive) == []


@pytest.mark.parametrize("size", ["16 in", "40.5", "²", "9" * 5000, "1405", "4/4"])
def test_anything_else_is_not_the_size_of_a_viola(archive: Path, size: str) -> None:
    changed(archive, VIOLA, "size: 405", f"size: {size}")
    assert found(archive) == [f"{VIOLA}:4:7 bad-size"]


def test_strings_of_its_own_replace_the_usual_four(archive: Path) -> None:
    changed(archive, VIOLIN, "publish: listed", "publish: listed\nstrings: [{tuning: C3}, {tuning: G3}, {tuning: E5}]")
    columns = [line.split(":")[2] for line in found(archive) if "unknown-string" in line]
    assert columns == ["29 unknown-string", "37 unknown-string"]  # D and A of the height


def test_string_of_a_model_is_one_of_its_kind(archive: Path) -> None:
    changed(archive, "models/plain-violin.yml", "G: 4.7-5.3, E", "C: 4.7-5.3, E")
    assert found(archive) == ["models/plain-violin.yml:9:19 unknown-string"]


def test_something_found_is_named(archive: Path) -> None:
    changed(archive, VIOLIN, '{open_seam_top: "treble side, lower bout", length: 40}', "{length: 40}")
    assert [line.split()[-1] for line in found(archive)] == ["unknown-condition"]


@pytest.mark.parametrize("name", ["willow old", "forêt", "-wi", "a,b"])
def test_file_name_that_needs_escaping_in_an_address_is_refused(archive: Path, name: str) -> None:
    (archive / f"wood/{name}.yml").write_text(f'lot: "{name}"\nspecies: Salix alba\n', encoding="utf-8")
    assert f"wood/{name}.yml:1:6 bad-name" in found(archive)


def test_file_name_may_hold_points_dashes_and_lines(archive: Path) -> None:
    (archive / "wood/Wi-01_b.2.yml").write_text("lot: Wi-01_b.2\nspecies: Salix alba\n", encoding="utf-8")
    assert found(archive) == ["wood/Wi-01_b.2.yml:1:6 unused-lot"]
