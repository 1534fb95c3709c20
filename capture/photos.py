"""Photos: when they were taken, whether they can be used, and copies that may leave the office."""

from __future__ import annotations

import io
import struct
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Literal

import numpy as np
import pillow_heif
from numpy.typing import NDArray
from PIL import ExifTags, Image, ImageCms, ImageOps

from capture import stamps
from capture.clock import SAME_S, TimeLine
from capture.media_type import MediaType, sniff
from shared.errors import InputError
from shared.types import Photo

pillow_heif.register_heif_opener()

MOST_PIXELS = 60_000_000
"""A picture of more is refused, unless it is a JPEG, which can be read at a fraction of its size."""
MOST_JPEG_PIXELS = 250_000_000
Image.MAX_IMAGE_PIXELS = MOST_JPEG_PIXELS  # Pillow's own guard, raised to what phones really make

_FORMATS = ("JPEG", "PNG", "HEIF")
_JUDGED_PX = 1024
BLURRED_BELOW = 60.0
"""Variance of the Laplacian. The everyday photographs that scikit-image carries (a face, a cup, coins, a cat)
lie at 170 and more; blurred by 0.4 % of their length, at 35 and less; its motion-blurred clock at 24."""
_DARK = 60
_BRIGHT = 200
_QUALITY = 85

Exposure = Literal["good", "dark", "bright"]


def look(
    path: Path, *, sha256: str, media: MediaType | None = None, name: str | None = None,
    line: TimeLine | None = None,
) -> Photo:  # fmt: skip
    """The photo at `path`, which the user knows as `name`: upright size, moment, sharpness, exposure.

    Raises `InputError` when it cannot be shown: damaged, cut off, or larger than any camera makes.
    """
    name = name or path.name
    line = line or TimeLine()
    media = media or sniff(path, name)
    with _opened(path, name) as picture:
        exif = picture.getexif()
        stored = picture.size
        turned = _turned(exif, media)
        tags = {**exif, **exif.get_ifd(ExifTags.IFD.Exif)}
        place = exif.get_ifd(ExifTags.IFD.GPSInfo)
        has_place = _has_place(place, picture.info)
        luminance = np.asarray(_small(picture).convert("L"), np.float32)
    device = _device(tags)
    stamp = stamps.of_exif(tags, line.zone)
    by_name = stamps.of_name(name, line.zone)
    moment = line.settle(
        (stamp, by_name, stamps.of_file(path, line.zone)), name=name, device=device, verb="was taken"
    )
    exposure = judge_exposure(luminance)
    sharpness = judge_sharpness(luminance)
    told = [*moment.warnings]
    satellite = stamps.of_satellite(place)
    if satellite and moment.origin == "exif" and abs((satellite - moment.at).total_seconds()) > SAME_S:
        told.append(
            f"{name}: its clock says {moment.at:%H:%M:%S}, the satellites said "
            f"{satellite.astimezone(line.zone):%H:%M:%S}; the first was used. If the clock is wrong, "
            "give the seconds to add under [clock_offsets] in inspection.toml"
        )
    if exposure != "good":
        told.append(f"{name}: is too {exposure} to show much; take it again if you still can")
    elif sharpness < BLURRED_BELOW:
        told.append(f"{name}: may be blurred; look at it, and take it again if you still can")
    return Photo(
        sha256=sha256,
        name=name,
        media_type=media.name,
        width=stored[1] if turned else stored[0],
        height=stored[0] if turned else stored[1],
        taken=moment.at,
        taken_from=moment.origin,
        sharpness=round(sharpness, 1),
        exposure=exposure,
        has_place=has_place,
        device=device,
        warnings=tuple(told),
    )


def copy_of(path: Path, *, longest_px: int) -> bytes:
    """A JPEG of the photo to give away: upright, at most `longest_px` long, in sRGB, without metadata.

    No place, device, time or embedded preview is in it. Raises `InputError` like `look`.
    """
    with _opened(path, path.name) as picture:
        profile = picture.info.get("icc_profile")
        _load_reduced(picture, longest_px)
        upright = ImageOps.exif_transpose(picture)
        upright.thumbnail((longest_px, longest_px), Image.Resampling.LANCZOS)
        plain = _on_white(_in_srgb(upright, profile))
    plain.info = {}
    out = io.BytesIO()
    plain.save(out, "JPEG", quality=_QUALITY, optimize=True, progressive=True)
    return out.getvalue()


def judge_sharpness(luminance: NDArray[np.float32]) -> float:
    """The variance of the Laplacian of 8-bit luminance; only meaningful where the exposure is good.

    After Pech-Pacheco et al., "Diatom autofocusing in brightfield microscopy" (ICPR 2000).
    """
    inner = luminance[1:-1, 1:-1]
    if not inner.size:
        return 0.0
    around = luminance[:-2, 1:-1] + luminance[2:, 1:-1] + luminance[1:-1, :-2] + luminance[1:-1, 2:]
    return float((around - 4 * inner).var())


def judge_exposure(luminance: NDArray[np.float32]) -> Exposure:
    """`dark` when hardly anything is lighter than dark grey, `bright` when hardly anything is darker."""
    low, high = np.percentile(luminance, (1, 95))
    if high < _DARK:
        return "dark"
    return "bright" if low > _BRIGHT else "good"


# ---------------------------------------------------------------- opening


@contextmanager
def _opened(path: Path, name: str) -> Iterator[Image.Image]:
    try:
        # Pillow warns on standard error about every oddity in the metadata; the picture itself decides.
        with warnings.catch_warnings(action="ignore"), Image.open(path, formats=_FORMATS) as picture:
            pixels = picture.width * picture.height
            if pixels > (MOST_JPEG_PIXELS if picture.format == "JPEG" else MOST_PIXELS):
                raise _too_large(name, f"{picture.width} × {picture.height} pixels")
            yield picture
    except Image.DecompressionBombError as error:
        raise _too_large(name, "more pixels than any camera makes") from error
    except (
        OSError,
        SyntaxError,
        ValueError,
        struct.error,
        EOFError,
        MemoryError,
        KeyError,
        IndexError,
    ) as error:
        raise _damaged(name) from error


def _too_large(name: str, size: str) -> InputError:
    return InputError(f"{name}: unpacks to {size}, so it was not opened; export it smaller, or leave it out")


def _damaged(name: str) -> InputError:
    return InputError(
        f"{name}: is not a whole photo (damaged or cut off); copy it again from the device, or leave it out"
    )


def _load_reduced(picture: Image.Image, longest_px: int) -> None:
    """Reads the whole picture; a JPEG at a fraction of its size, but at least twice as long as wanted."""
    part = 2 * longest_px / max(picture.size)
    if part < 1:
        picture.draft("RGB", (int(picture.width * part), int(picture.height * part)))
    picture.load()  # only reading all of it shows a cut-off JPEG; `verify` passes one


def _small(picture: Image.Image) -> Image.Image:
    """The whole picture, read, at no more than 1024 pixels on its longer side."""
    _load_reduced(picture, _JUDGED_PX)
    small = _eight_bits(picture)
    small = small.convert("RGB") if small.mode in ("P", "RGBA", "LA", "CMYK") else small.copy()
    small.thumbnail((_JUDGED_PX, _JUDGED_PX), Image.Resampling.LANCZOS)
    return small


# ---------------------------------------------------------------- what the data say


def _turned(exif: Image.Exif, media: MediaType) -> bool:
    """Whether the stored picture lies on its side: orientations 5 to 8 (CIPA DC-008). HEIC comes upright."""
    return media.name != "image/heic" and exif.get(ExifTags.Base.Orientation, 1) in (5, 6, 7, 8)


def _has_place(place: dict[int, Any], info: dict[Any, Any]) -> bool:
    if ExifTags.GPS.GPSLatitude in place or ExifTags.GPS.GPSLongitude in place:
        return True
    xmp = info.get("xmp") or info.get("XML:com.adobe.xmp") or b""
    return ("GPSLatitude" in xmp) if isinstance(xmp, str) else (b"GPSLatitude" in bytes(xmp))


def _device(tags: dict[int, Any]) -> str | None:
    """Maker and model, the maker's name said once: `Larkline P2`."""
    maker = str(tags.get(ExifTags.Base.Make, "")).strip("\0 ")
    model = str(tags.get(ExifTags.Base.Model, "")).strip("\0 ")
    if maker and model.lower().startswith(maker.lower()):
        maker = ""
    return " ".join(f"{maker} {model}".split()) or None


# ---------------------------------------------------------------- colours


def _in_srgb(picture: Image.Image, profile: bytes | None) -> Image.Image:
    if not profile:
        return picture
    try:
        own = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        mode = "RGBA" if picture.mode == "RGBA" else "RGB"
        changed = ImageCms.profileToProfile(picture, own, ImageCms.createProfile("sRGB"), outputMode=mode)
    except (ImageCms.PyCMSError, OSError, ValueError):
        return picture  # a broken profile: the colours stay as stored
    return changed or picture


def _on_white(picture: Image.Image) -> Image.Image:
    """Three colours, with what is transparent as white paper."""
    if picture.mode == "P" and "transparency" in picture.info:
        picture = picture.convert("RGBA")
    if picture.mode in ("RGBA", "LA", "PA"):
        picture = picture.convert("RGBA")
        white = Image.new("RGBA", picture.size, (255, 255, 255, 255))
        return Image.alpha_composite(white, picture).convert("RGB")
    return _eight_bits(picture).convert("RGB")


def _eight_bits(picture: Image.Image) -> Image.Image:
    """The picture, its grey of 16 bits as one of 8; Pillow alone makes all above 255 white."""
    if picture.mode.startswith("I;16") or picture.mode == "I":
        return picture.point(lambda value: value / 256).convert("L")
    return picture
