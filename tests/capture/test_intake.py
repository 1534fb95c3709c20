"""A folder is taken in whole; what cannot be used is told, and everything else goes on."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from capture.intake import take_in
from capture.originals import Originals
from shared.errors import InputError
from shared.types import Facts
from tests.capture.making import chequered, exif, photo, recording
from tests.capture.test_photos import png_claiming

ROUTINE = """
[establishment]
name = "Harbor Wren Kitchen"
[visit]
time_zone = "America/Chicago"
time_in = 2026-10-13T10:05:00
time_out = 2026-10-13T10:52:00
[clock_offsets]
"Tern 5" = -270
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    path = tmp_path / "visit"
    path.mkdir()
    return path


@pytest.fixture
def originals(tmp_path: Path) -> Originals:
    return Originals(tmp_path / "originals")


def whole_visit(folder: Path) -> None:
    """Two recordings and two photos by three devices, one of which runs 4 min 30 s fast."""
    (folder / "inspection.toml").write_text(ROUTINE, "utf-8")
    recording(folder / "walk.ogg", tags={"date": "2026-10-13T10:12:00-05:00", "model": "Fieldnote R1"})
    recording(folder / "back.m4a", tags={"creation_time": "2026-10-13T15:35:30Z", "model": "Tern 5"})
    tags = exif(taken="2026:10:13 10:36:03", offset="-05:00", model="Tern 5", place=True)
    photo(folder / "floor.jpg", tags=tags)
    photo(folder / "20261013_101254.png")


def test_everything_comes_in_the_order_of_the_visit(folder: Path, originals: Originals) -> None:
    whole_visit(folder)
    told: list[str] = []
    taken = take_in(folder, originals=originals, progress=told.append)
    assert [(item.name, item.started.isoformat()) for item in taken.recordings] == [
        ("walk.ogg", "2026-10-13T10:12:00-05:00"),
        ("back.m4a", "2026-10-13T10:31:00-05:00"),
    ]
    assert [(item.name, item.taken.isoformat()) for item in taken.photos] == [
        ("20261013_101254.png", "2026-10-13T10:12:54-05:00"),
        ("floor.jpg", "2026-10-13T10:31:33-05:00"),
    ]
    assert taken.facts.establishment == "Harbor Wren Kitchen"
    assert taken.problems == ()
    assert taken.left_out == ()
    assert told[0] == "taking in 1 of 4: 20261013_101254.png"


def test_the_originals_are_kept_under_what_the_records_name(folder: Path, originals: Originals) -> None:
    whole_visit(folder)
    taken = take_in(folder, originals=originals)
    named = {item.name: item.sha256 for item in (*taken.recordings, *taken.photos)}
    assert set(named.values()) == set(originals)
    for name, sha256 in named.items():
        assert originals.path(sha256).read_bytes() == (folder / name).read_bytes()


def test_taking_in_again_changes_nothing(folder: Path, originals: Originals) -> None:
    whole_visit(folder)
    assert take_in(folder, originals=originals) == take_in(folder, originals=originals)


def test_sub_folders_are_read_and_what_programs_leave_lying_is_passed_over(
    folder: Path, originals: Originals
) -> None:
    phone = folder / "phone"
    phone.mkdir()
    photo(phone / "20261013_101254.png")
    for name in (".DS_Store", "._a.jpg", "Thumbs.db", "a.jpg.json", "a.xmp"):
        (folder / name).write_bytes(b"x")
    results = folder / "results"
    results.mkdir()
    photo(results / "copy.jpg")
    taken = take_in(folder, originals=originals, ignore=[results])
    assert [item.name for item in taken.photos] == ["phone/20261013_101254.png"]
    assert taken.problems == ()


def test_the_same_file_twice_is_taken_once(folder: Path, originals: Originals) -> None:
    photo(folder / "20261013_101254.png")
    (folder / "20261013_101254 (1).png").write_bytes((folder / "20261013_101254.png").read_bytes())
    taken = take_in(folder, originals=originals)
    assert len(taken.photos) == 1
    assert taken.problems == (
        "20261013_101254.png: is the same file as 20261013_101254 (1).png; it was taken once",
    )


def test_a_link_that_leads_in_a_circle_is_not_followed(folder: Path, originals: Originals) -> None:
    photo(folder / "20261013_101254.png")
    (folder / "again").symlink_to(folder, target_is_directory=True)
    (folder / "gone.wav").symlink_to(folder / "nowhere.wav")
    (folder / "self").symlink_to("self")
    taken = take_in(folder, originals=originals)
    assert len(taken.photos) == 1
    assert taken.left_out == ("again", "gone.wav", "self")
    assert [told.split(", and")[0] for told in taken.problems] == [
        f"{name}: is a link to a folder, or to a file that is not there" for name in taken.left_out
    ]


@pytest.mark.parametrize(
    ("file", "content", "passed_over"),
    [
        ("probeside.sqlite", "x", True),
        ("results.json", '{\n "schema": "probeside/1",\n "rules": "x"}', True),
        ("results.json", '{"schema": "other/1"}', False),
        ("results.json", "[]", False),
    ],
)
def test_what_an_earlier_run_left_behind_is_no_evidence(
    folder: Path, originals: Originals, file: str, content: str, passed_over: bool
) -> None:
    photo(folder / "20261013_101254.png")
    earlier = folder / "visit-draft"
    earlier.mkdir()
    (earlier / file).write_text(content)
    photo(earlier / "20261013_101300.png", chequered(field=9))
    assert len(take_in(folder, originals=originals).photos) == (1 if passed_over else 2)


FACTS_BELOW = """
[establishment]
name = "Harbor Wren Kitchen"
[clock_offsets]
"*.png" = 60
"Tern 5" = 10
[times]
"a.jpg" = 2026-10-13T10:12:54-05:00
"""


def test_the_only_facts_are_used_wherever_they_lie(folder: Path, originals: Originals) -> None:
    below = folder / "visit"
    below.mkdir()
    (below / "inspection.toml").write_text(FACTS_BELOW, "utf-8")
    photo(below / "a.jpg")
    photo(below / "20261013_101254.png", chequered(field=9))
    taken = take_in(folder, originals=originals)
    assert taken.facts.establishment == "Harbor Wren Kitchen"
    assert [(item.name, f"{item.taken:%H:%M:%S}") for item in taken.photos] == [
        ("visit/a.jpg", "10:12:54"),
        ("visit/20261013_101254.png", "10:13:54"),
    ]
    (told,) = taken.problems
    assert '"Tern 5" fits no file' in told


def test_facts_that_are_not_used_are_told(folder: Path, originals: Originals) -> None:
    photo(folder / "20261013_101254.png")
    for name in ("a", "b"):
        (folder / name).mkdir()
        (folder / name / "inspection.toml").write_text(f"[establishment]\nname = '{name}'", "utf-8")
    taken = take_in(folder, originals=originals)
    assert taken.facts == Facts()
    (told,) = taken.problems
    assert told.startswith("a/inspection.toml, b/inspection.toml: none was used, because there are several")
    (folder / "inspection.toml").write_text("[establishment]\nname = 'top'", "utf-8")
    taken = take_in(folder, originals=originals)
    assert taken.facts.establishment == "top"
    assert [told.split(",")[0] for told in taken.problems] == [
        f"{name}/inspection.toml: was not used" for name in ("a", "b")
    ]


def test_a_name_that_is_no_text_is_shown_as_far_as_it_goes(folder: Path, originals: Originals) -> None:
    photo(folder / "20261013_101254.png").rename(
        os.fsdecode(os.fsencode(folder) + b"/20261013_101254 \xff\n.png")
    )
    (taken,) = take_in(folder, originals=originals).photos
    assert taken.name == "20261013_101254 \N{REPLACEMENT CHARACTER}\N{REPLACEMENT CHARACTER}.png"


def test_the_moving_part_of_a_photo_is_no_recording(folder: Path, originals: Originals) -> None:
    photo(folder / "20261013_101254.jpg")
    recording(folder / "a.m4a").rename(folder / "20261013_101254.MOV")
    recording(folder / "b.m4a").rename(folder / "20261013_101300.mov")
    taken = take_in(folder, originals=originals)
    assert [item.name for item in taken.recordings] == ["20261013_101300.mov"]
    assert taken.problems == (
        "20261013_101254.MOV: is the moving part of the photo beside it; not taken as a recording",
    )


def test_what_the_inspector_wrote_down_helps_a_file_without_a_time(
    folder: Path, originals: Originals
) -> None:
    (folder / "inspection.toml").write_text('[times]\n"a.jpg" = 2026-10-13T10:12:54-05:00', "utf-8")
    taken = take_in(photo(folder / "a.jpg").parent, originals=originals)
    assert (taken.photos[0].taken, taken.photos[0].taken_from) == (
        datetime.fromisoformat("2026-10-13T10:12:54-05:00"),
        "given",
    )
    assert taken.problems == ()


# ---------------------------------------------------------------- bad input

GOOD = "20261013_101200.wav"


def cut_off(path: Path) -> None:
    recording(path)
    path.write_bytes(path.read_bytes()[:-2000])


def half(path: Path) -> None:
    photo(path)
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])


@pytest.mark.parametrize(
    ("name", "make", "told"),
    [
        ("a.wav", lambda path: path.write_text("The soup was at 118."), "holds text, which is not taken in"),
        ("a.wav", lambda path: path.write_bytes(b""), "is empty; copy it again from the device"),
        ("a.m4a", cut_off, "cannot be read as a recording (damaged, or cut off at its beginning or end)"),
        ("a.ogg", lambda path: path.write_bytes(b"OggS" + bytes(60)), "cannot be read as a recording"),
        ("a.jpg", half, "is not a whole photo (damaged or cut off); copy it again from the device"),
        ("a.png", lambda path: path.write_bytes(png_claiming(30_000, 30_000)), "so it was not opened"),
        ("a.pdf", lambda path: path.write_bytes(b"%PDF-1.7"), "is a PDF, which is not taken in"),
    ],
    ids=["text", "empty", "cut-off recording", "nothing but a head", "cut-off photo", "picture bomb", "PDF"],
)  # fmt: skip
def test_what_cannot_be_used_is_told_and_the_rest_is_taken_in(
    folder: Path, originals: Originals, name: str, make: Callable[[Path], object], told: str
) -> None:
    recording(folder / GOOD)
    make(folder / name)
    taken = take_in(folder, originals=originals)
    assert [item.name for item in taken.recordings] == [GOOD]
    assert taken.left_out == (name,)
    (problem,) = taken.problems
    assert problem.startswith(f"{name}: ")
    assert told in problem
    assert problem.endswith("leave it out")


def test_a_file_that_may_not_be_opened_is_told(
    folder: Path, originals: Originals, monkeypatch: pytest.MonkeyPatch
) -> None:
    recording(folder / GOOD)
    recording(folder / "a.wav")
    opened = Path.open

    def guarded(path: Path, *rest: Any, **more: Any) -> Any:
        if path.name == "a.wav":
            raise PermissionError(13, "Permission denied", str(path))
        return opened(path, *rest, **more)

    monkeypatch.setattr(Path, "open", guarded)
    taken = take_in(folder, originals=originals)
    assert [item.name for item in taken.recordings] == [GOOD]
    assert taken.problems == ("a.wav: cannot be opened (Permission denied); check its permissions",)


def test_faulty_facts_are_told_and_the_rest_is_used(folder: Path, originals: Originals) -> None:
    recording(folder / GOOD)
    (folder / "inspection.toml").write_text("[visit]\ninspector = 'Ines Calloway'\ntime_in = 'ten'", "utf-8")
    taken = take_in(folder, originals=originals)
    assert taken.facts == Facts(inspector="Ines Calloway")
    assert taken.problems[0].startswith("inspection.toml: visit.time_in: 'ten' is not a date and time")
    assert len(taken.recordings) == 1


def test_facts_that_cannot_be_read_at_all_are_told(folder: Path, originals: Originals) -> None:
    recording(folder / GOOD)
    (folder / "inspection.toml").write_text("[visit\n", "utf-8")
    taken = take_in(folder, originals=originals)
    assert "Nothing in it was used" in taken.problems[0]
    assert len(taken.recordings) == 1


@pytest.mark.parametrize(
    ("make", "told"),
    [
        (lambda folder: folder / "gone", "gone: there is no such folder; check the name"),
        (lambda folder: recording(folder / "a.wav"), "is a file; name the folder that holds"),
        (lambda folder: folder, "holds no recording and no photo that can be used; put in recordings as wav"),
    ],
    ids=["no folder", "a file", "nothing in it"],
)
def test_a_folder_with_nothing_in_it_is_refused(
    folder: Path, originals: Originals, make: Callable[[Path], Path], told: str
) -> None:
    with pytest.raises(InputError) as refused:
        take_in(make(folder), originals=originals)
    assert told in str(refused.value)


def test_a_folder_with_nothing_usable_says_why(folder: Path, originals: Originals) -> None:
    (folder / "note.wav").write_text("The soup was at 118.")
    with pytest.raises(InputError, match=r"that can be used.*note\.wav: holds text"):
        take_in(folder, originals=originals)


ON_A_FULL_DISK = """
import resource, sys
from pathlib import Path
from capture.intake import take_in
from capture.originals import Originals
resource.setrlimit(resource.RLIMIT_FSIZE, (30_000, 30_000))  # as on a full disk, writing more fails
taken = take_in(Path(sys.argv[1]), originals=Originals(Path(sys.argv[2])))
print(*[item.name for item in taken.recordings], *taken.problems, sep="\\n")
"""


def test_a_full_disk_is_told_and_what_fits_is_taken_in(folder: Path, originals: Originals) -> None:
    recording(folder / "a.wav", 2.0)  # 64 kB
    recording(folder / GOOD, 0.5)  # 16 kB
    ran = subprocess.run(
        [sys.executable, "-c", ON_A_FULL_DISK, folder, originals.root],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert ran.stdout.splitlines() == [
        GOOD,
        f"a.wav: not kept, because the disk that holds {originals.root} is full; free some space and try "
        "again (what was kept before is whole)",
    ]
