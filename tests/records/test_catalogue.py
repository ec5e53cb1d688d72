from __future__ import annotations

import os
from pathlib import Path

import pytest

from passport.errors import PassportError
from passport.findings import Code, Finding
from passport.records.catalogue import find_root, is_archive, load, located
from passport.records.filed import SCHEMA
from passport.records.model.workshop import Gauges, Workshop
from tests.checks.examples import changed, found


def codes(root: Path) -> list[tuple[str, str]]:
    return [(Path(finding.file).name, finding.code.slug) for finding in load(root).findings]


def test_every_record_is_loaded_under_the_name_of_its_file(archive: Path) -> None:
    loaded = load(archive)
    assert sorted(loaded.instruments) == ["3YJ834Z", "CZ6EP3J"]
    assert sorted(loaded.wood) == ["MA10", "SP10"]
    assert [*loaded.varnish, *loaded.models, *loaded.private] == ["OV20", "plain-violin", "3YJ834Z"]
    assert loaded.people == ("Nella", "Tobin")
    assert {name: list(pictures) for name, pictures in loaded.photos.items()} == {"CZ6EP3J": ["front.png"]}
    assert len(list(loaded.records())) == 9
    assert loaded.findings == ()


def test_empty_folder_lacks_only_the_two_files(tmp_path: Path) -> None:
    assert codes(tmp_path) == [("workshop.yml", "missing-field"), ("gauges.yml", "missing-field")]
    loaded = load(tmp_path)
    assert (loaded.workshop.record, loaded.gauges.record) == (Workshop(), Gauges())
    assert not loaded.instruments
    assert not loaded.photos


def test_file_where_a_folder_belongs_is_no_crash(tmp_path: Path) -> None:
    for name in ("instruments", "photos", "private"):
        (tmp_path / name).write_text("not a folder", encoding="utf-8")
    assert not load(tmp_path).instruments


@pytest.mark.parametrize("name", ["wood", "instruments", "private", "models", "varnish"])
def test_folder_or_broken_link_with_the_name_of_a_record_is_unreadable(archive: Path, name: str) -> None:
    (archive / name / "A.yml").mkdir()
    (archive / name / "B.yml").symlink_to(archive / "nowhere.yml")
    assert codes(archive) == [("A.yml", "unreadable-file"), ("B.yml", "unreadable-file")]


@pytest.mark.parametrize(
    "stem",
    [
        "SP10 (1)", "SP10(2)", "SP10 - Copy", "SP10 copy", "SP10-copy", "SP10 (copy)", "SP10 copy 2",
        "SP10 (conflicted copy 2024-02-01)", "SP10 (Nella's conflicted copy 2024-02-01)", "SP10-conflict-20240201",
        "SP10.sync-conflict-20240201-101112-ABCDEFG", "SP10_conflict",
    ],
)  # fmt: skip
def test_copy_left_by_two_who_saved_is_named_and_not_read(archive: Path, stem: str) -> None:
    (archive / f"wood/{stem}.yml").write_bytes((archive / "wood/SP10.yml").read_bytes())
    assert found(archive) == [f"wood/{stem}.yml:1:1 conflict-copy"]


@pytest.mark.parametrize("stem", ["copycat", "SP10b", "photocopyist"])
def test_name_that_only_looks_like_a_copy_is_read(archive: Path, stem: str) -> None:
    (archive / f"wood/{stem}.yml").write_text(f"lot: {stem}\nspecies: Salix alba\n", encoding="utf-8")
    assert stem in load(archive).wood


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("SP10.yaml", "misnamed-record"),
        ("SP10.yml.txt", "misnamed-record"),
        ("SP10.YML", "misnamed-record"),
        ("SP10.yml.bak", "stray-file"),
        ("scan.pdf", "stray-file"),
    ],
)
def test_file_that_is_not_read_is_named(archive: Path, name: str, code: str) -> None:
    (archive / "wood" / name).write_text("lot: SP10\n", encoding="utf-8")
    assert codes(archive) == [(name, code)]


@pytest.mark.parametrize("folder", ["wood/2024", "instrument"])
def test_folder_that_is_not_read_is_named(archive: Path, folder: str) -> None:
    (archive / folder).mkdir()
    assert codes(archive) == [(folder.rsplit("/", maxsplit=1)[-1], "stray-file")]


def test_model_named_a_copy_is_read_where_there_is_no_original(archive: Path) -> None:
    (archive / "models/harrow-copy.yml").write_text(
        "schema: 1\nmodel: harrow-copy\nkind: violin\nsize: 4/4\n", encoding="utf-8"
    )
    assert "harrow-copy" in load(archive).models


def test_pipe_named_like_a_record_is_not_waited_for(archive: Path) -> None:
    os.mkfifo(archive / "wood/PIPE.yml")
    assert codes(archive) == [("PIPE.yml", "unreadable-file")]


@pytest.mark.parametrize("name", [".SP10.yml.swp", ".DS_Store", "README.md", "SP10.yml~", "SP10.yml.tmp", ".git"])
def test_what_systems_and_editors_leave_is_passed_over(archive: Path, name: str) -> None:
    (archive / "wood" / name).write_text("x", encoding="utf-8")
    (archive / name).write_text("x", encoding="utf-8")
    assert codes(archive) == []


def test_record_outside_the_folders_is_named(archive: Path) -> None:
    (archive / "SP11.yml").write_text("lot: SP11\n", encoding="utf-8")
    (archive / "a letter.txt").write_text("x", encoding="utf-8")
    assert codes(archive) == [("SP11.yml", "stray-file")]


@pytest.mark.parametrize("file", ["instruments/CZ6EP3J.yml", "wood/SP10.yml", "workshop.yml", "gauges.yml"])
def test_record_of_a_newer_form_is_refused_whole(archive: Path, file: str) -> None:
    changed(archive, file, "schema: 1\n", f"schema: {SCHEMA + 1}\na_field_of_then: 1\n")
    findings = [finding for finding in load(archive).findings if finding.file.endswith(file)]
    assert [finding.code for finding in findings] == [Code.NEWER_SCHEMA]
    assert not any(filed.file.endswith(file) and filed.record.schema_ for filed in load(archive).records())


@pytest.mark.parametrize("typed", ["one", "-1", "1.0", "²", "9" * 5000])
def test_form_that_is_no_number_is_a_fault_of_that_field_only(archive: Path, typed: str) -> None:
    changed(archive, "wood/SP10.yml", "schema: 1\n", f"schema: {typed}\n")
    assert found(archive) == ["wood/SP10.yml:1:9 bad-number"]


def test_file_that_cannot_be_read_leaves_the_others(archive: Path) -> None:
    (archive / "wood/SP10.yml").write_bytes(b"lot: [\n")
    loaded = load(archive)
    assert sorted(loaded.wood) == ["MA10"]
    assert [finding.code for finding in loaded.findings] == [Code.BROKEN_YAML]


def test_found_from_any_place_inside(archive: Path) -> None:
    for inside in (".", "wood", "wood/SP10.yml", "photos/CZ6EP3J", "photos/CZ6EP3J/front.png"):
        assert find_root(archive / inside) == archive
    assert is_archive(archive)
    assert not is_archive(archive / "wood")


@pytest.mark.parametrize("path", ["nowhere", "."])
def test_path_outside_any_archive_is_refused_with_what_to_do(tmp_path: Path, path: str) -> None:
    with pytest.raises(PassportError) as raised:
        find_root(tmp_path / path)
    assert raised.value.todo


def test_places_are_filled_in_and_findings_are_in_order(archive: Path) -> None:
    file = (archive / "wood/SP10.yml").as_posix()
    other = (archive / "wood/MA10.yml").as_posix()
    findings = [
        Finding(Code.BAD_NUMBER, file, "c", "", ("moisture", 1, "value")),
        Finding(Code.BAD_NUMBER, file, "b", "", ("pieces",)),
        Finding(Code.UNKNOWN_FIELD, file, "a", "", ("pieces",), on_key=True),
        Finding(Code.BAD_NUMBER, file, "d", "", line=3, column=2),
        Finding(Code.MISSING_FIELD, file, "e", "", ("storage", "place")),
        Finding(Code.BAD_NUMBER, other, "f", "", ("pieces",)),
        Finding(Code.UNREADABLE, (archive / "wood/gone.yml").as_posix(), "g", "", ("lot",)),
    ]
    assert [(finding.what, finding.line, finding.column) for finding in located(findings)] == [
        ("f", 4, 9), ("e", 1, 1), ("d", 3, 2), ("a", 7, 1), ("b", 7, 9), ("c", 12, 31), ("g", 1, 1),
    ]  # fmt: skip
