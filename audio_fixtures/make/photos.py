"""Takes the photos of an inspection: draws each scene and writes it as the named device would."""

from __future__ import annotations

import argparse
import json
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pillow_heif
import scenes
from PIL import ExifTags, Image
from PIL.PngImagePlugin import PngInfo

FIXTURES = Path(__file__).resolve().parent.parent
SCENES: dict[str, Callable[[], Image.Image]] = {
    "turkey-shelf.jpg": scenes.turkey_shelf,
    "turkey-probe.jpg": scenes.turkey_probe,
    "ham-no-date.heic": scenes.ham_no_date,
    "reach-in.jpg": scenes.reach_in,
    "chowder-well.jpg": scenes.chowder_well,
    "20261013_101521.png": scenes.cooling_sheet,
    "stew-pot.jpg": scenes.stew_pot,
    "hand-sink.jpg": scenes.hand_sink,
    "quat-strip.jpg": scenes.quat_strip,
    "shrimp-floor.jpg": scenes.shrimp_floor,
    "under-dish-machine.jpg": scenes.under_dish_machine,
    "dumpster.jpg": scenes.dumpster,
    "sanitizer-bucket.jpg": scenes.clean_bucket,
}
MAKERS = {"Larkline P2": ("Larkline", "P2"), "Tern 5": ("Tern", "5")}
OPEN_WATER = {"north": (43.0, 12.0, 30.0), "west": (87.0, 5.0, 15.0)}
"""A place in the middle of a lake: nobody's address."""
_TO_STORED = {
    1: None,
    6: Image.Transpose.ROTATE_90,
    8: Image.Transpose.ROTATE_270,
    3: Image.Transpose.ROTATE_180,
}


def exif(photo: dict[str, Any], clock_fast_by_s: float) -> Image.Exif:
    """What the device writes into the photo, by its own clock."""
    by_device = datetime.fromisoformat(photo["taken"]) + timedelta(seconds=clock_fast_by_s)
    tags = Image.Exif()
    tags[ExifTags.Base.Make], tags[ExifTags.Base.Model] = MAKERS[photo["device"]]
    tags[ExifTags.Base.Orientation] = photo.get("orientation", 1)
    times = tags.get_ifd(ExifTags.IFD.Exif)
    times[ExifTags.Base.DateTimeOriginal] = by_device.strftime("%Y:%m:%d %H:%M:%S")
    times[ExifTags.Base.OffsetTimeOriginal] = (
        by_device.strftime("%z")[:3] + ":" + by_device.strftime("%z")[3:]
    )
    if photo["has_place"]:
        place = tags.get_ifd(ExifTags.IFD.GPSInfo)
        place[ExifTags.GPS.GPSLatitudeRef], place[ExifTags.GPS.GPSLatitude] = "N", OPEN_WATER["north"]
        place[ExifTags.GPS.GPSLongitudeRef], place[ExifTags.GPS.GPSLongitude] = "W", OPEN_WATER["west"]
    return tags


def take(photo: dict[str, Any], folder: Path, clocks: dict[str, float]) -> None:
    """Draws one photo and writes it."""
    path = folder / photo["file"]
    upright = SCENES[photo["file"]]()
    turn = _TO_STORED[photo.get("orientation", 1)]
    stored = upright.transpose(turn) if turn is not None else upright
    match path.suffix:
        case ".png":
            stored.save(path, optimize=True, pnginfo=PngInfo())
        case ".heic":
            stored.save(path, quality=60, exif=exif(photo, clocks.get(photo["device"], 0)))
        case _:
            stored.save(path, quality=82, optimize=True, exif=exif(photo, clocks.get(photo["device"], 0)))


def make(folder: Path, truth: dict[str, Any]) -> None:
    """Writes all photos that `truth`, an `expected.json`, lists."""
    pillow_heif.register_heif_opener()
    clocks = {item["device"]: item.get("clock_fast_by_s", 0) for item in truth["recordings"]}
    for photo in truth["photos"]:
        take(photo, folder, clocks)


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("inspections", nargs="*", default=["harbor_wren", "short"])
    for name in options.parse_args().inspections:
        make(FIXTURES / name, json.loads((FIXTURES / name / "expected.json").read_text("utf-8")))


if __name__ == "__main__":
    main()
