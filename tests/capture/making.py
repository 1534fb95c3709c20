"""Makes the small recordings and photos that the tests of capture hand in."""

from __future__ import annotations

import os
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path

import av
import numpy as np
from numpy.typing import NDArray
from PIL import ExifTags, Image

RATE = 16_000
CODECS = {
    ".wav": "pcm_s16le", ".flac": "flac", ".mp3": "libmp3lame", ".m4a": "aac",
    ".ogg": "libopus", ".opus": "libopus", ".webm": "libopus",
}  # fmt: skip


def tone(seconds: float) -> NDArray[np.int16]:
    time = np.arange(int(seconds * RATE)) / RATE
    return (6000 * np.sin(2 * np.pi * 330 * time)).astype(np.int16)


def recording(path: Path, seconds: float = 2.0, *, tags: Mapping[str, str] | None = None) -> Path:
    """A tone in the format that the ending of `path` names, with the tags given."""
    codec = CODECS[path.suffix]
    rate = 48_000 if codec == "libopus" else RATE
    options = {"movflags": "+use_metadata_tags"} if path.suffix == ".m4a" else {}
    with av.open(str(path), "w", options=options) as out:
        stream = out.add_stream(codec, rate=rate, layout="mono")
        out.metadata.update(tags or {})
        out.start_encoding()
        context = stream.codec_context
        fit = av.AudioResampler(context.format, context.layout, rate, frame_size=context.frame_size or None)
        frame = av.AudioFrame.from_ndarray(tone(seconds)[None], format="s16", layout="mono")
        frame.sample_rate = RATE
        for part in (*fit.resample(frame), *fit.resample(None)):
            out.mux(stream.encode(part))
        out.mux(stream.encode(None))
    return path


def chequered(size: tuple[int, int] = (320, 240), *, field: int = 8) -> Image.Image:
    """A sharp, well lit picture: dark and light fields, its upper left corner red."""
    rows, columns = np.indices((size[1], size[0])) // field
    grey = np.where((rows + columns) % 2, 70, 190).astype(np.uint8)
    picture = Image.fromarray(np.stack([grey] * 3, axis=2))
    picture.paste((220, 30, 30), (0, 0, size[0] // 4, size[1] // 4))
    return picture


def exif(
    *, taken: str | None = None, offset: str | None = None, orientation: int | None = None,
    maker: str | None = None, model: str | None = None, place: bool = False,
    satellite: datetime | None = None,
) -> Image.Exif:  # fmt: skip
    """EXIF data as a phone writes them."""
    tags = Image.Exif()
    for tag, value in (
        (ExifTags.Base.Make, maker), (ExifTags.Base.Model, model), (ExifTags.Base.Orientation, orientation),
    ):  # fmt: skip
        if value is not None:
            tags[tag] = value
    times = tags.get_ifd(ExifTags.IFD.Exif)
    if taken:
        times[ExifTags.Base.DateTimeOriginal] = taken
    if offset:
        times[ExifTags.Base.OffsetTimeOriginal] = offset
    gps = tags.get_ifd(ExifTags.IFD.GPSInfo)
    if place:
        gps[ExifTags.GPS.GPSLatitudeRef], gps[ExifTags.GPS.GPSLatitude] = "N", (43.0, 12.0, 30.0)
        gps[ExifTags.GPS.GPSLongitudeRef], gps[ExifTags.GPS.GPSLongitude] = "W", (87.0, 5.0, 15.0)
    if satellite:
        gps[ExifTags.GPS.GPSDateStamp] = satellite.strftime("%Y:%m:%d")
        gps[ExifTags.GPS.GPSTimeStamp] = (
            float(satellite.hour),
            float(satellite.minute),
            float(satellite.second),
        )
    return tags


def photo(path: Path, picture: Image.Image | None = None, *, tags: Image.Exif | None = None) -> Path:
    (picture or chequered()).save(path, exif=Image.Exif() if tags is None else tags)
    return path


def dated(path: Path, at: datetime) -> Path:
    """The file, with its date set."""
    os.utime(path, (at.timestamp(), at.timestamp()))
    return path
