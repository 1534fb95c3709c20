"""Photos: upright, timed, judged; and copies that give nothing away."""

from __future__ import annotations

import io
import struct
import zlib
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import ExifTags, Image, ImageCms, ImageFilter
from PIL.PngImagePlugin import PngInfo
from scipy.ndimage import laplace

from capture import photos
from capture.clock import TimeLine
from shared.errors import InputError
from shared.types import Photo
from tests.capture.making import chequered, exif, photo


def linear_profile() -> bytes:
    """sRGB's primaries with straight curves: the built-in profile with its curves replaced (ICC.1:2022)."""
    plain = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    straight = b"curv" + bytes(4) + struct.pack(">I", 0)
    for entry in range(struct.unpack(">I", plain[128:132])[0]):
        at = 132 + 12 * entry
        if plain[at : at + 4] in (b"rTRC", b"gTRC", b"bTRC"):
            offset = struct.unpack(">I", plain[at + 4 : at + 8])[0]
            plain[offset : offset + 12] = straight
            plain[at + 8 : at + 12] = struct.pack(">I", 12)
    return bytes(plain)


LINEAR_PROFILE = linear_profile()
LINE = TimeLine(ZoneInfo("America/Chicago"))
TAKEN = "2026-10-13T10:12:54-05:00"


def look(path: Path, *, name: str | None = None, line: TimeLine = LINE) -> Photo:
    return photos.look(path, sha256="0" * 64, name=name, line=line)


def copied(path: Path, longest_px: int = 100) -> Image.Image:
    return Image.open(io.BytesIO(photos.copy_of(path, longest_px=longest_px)))


def is_red(picture: Image.Image, at: tuple[int, int]) -> bool:
    colour = picture.getpixel(at)
    assert isinstance(colour, tuple)
    return colour[0] > 150 and colour[1] < 110 and colour[2] < 110


# ---------------------------------------------------------------- when, by which device


@pytest.mark.parametrize("ending", [".jpg", ".png", ".heic"])
def test_time_device_and_place_are_read_in_every_format(tmp_path: Path, ending: str) -> None:
    tags = exif(taken="2026:10:13 10:12:54", offset="-05:00", maker="Larkline", model="P2", place=True)
    found = look(photo(tmp_path / f"a{ending}", tags=tags))
    assert (found.taken, found.taken_from) == (datetime.fromisoformat(TAKEN), "exif")
    assert found.device == "Larkline P2"
    assert found.has_place
    assert (found.width, found.height) == (320, 240)
    assert found.warnings == ()


@pytest.mark.parametrize(
    ("maker", "model", "device"),
    [
        ("Larkline", "P2", "Larkline P2"),
        ("Larkline", "LARKLINE P2", "LARKLINE P2"),
        (None, "P2", "P2"),
        (None, None, None),
    ],
)  # fmt: skip
def test_the_makers_name_is_said_once(
    tmp_path: Path, maker: str | None, model: str | None, device: str | None
) -> None:
    assert look(photo(tmp_path / "a.jpg", tags=exif(maker=maker, model=model))).device == device


def test_without_exif_the_name_tells_the_time(tmp_path: Path) -> None:
    found = look(photo(tmp_path / "x.png"), name="20261013_101254.png")
    assert (found.taken, found.taken_from) == (datetime.fromisoformat(TAKEN), "file_name")


def test_a_photo_without_a_date_takes_the_files_and_says_so(tmp_path: Path) -> None:
    found = look(photo(tmp_path / "a.jpg"))
    assert found.taken_from == "file_date"
    assert found.warnings[0].startswith("a.jpg: has no time of its own; the file's date, ")
    assert found.warnings[0].endswith('under [times] in inspection.toml ("a.jpg" = …)')


@pytest.mark.parametrize(("minute", "told"), [(17, True), (13, False)])
def test_a_clock_that_disagrees_with_the_satellites_is_told(tmp_path: Path, minute: int, told: bool) -> None:
    satellite = datetime(2026, 10, 13, 15, minute, 30, tzinfo=UTC)
    tags = exif(taken="2026:10:13 10:12:54", offset="-05:00", satellite=satellite)
    found = look(photo(tmp_path / "a.jpg", tags=tags))
    assert bool(found.warnings) is told
    if told:
        assert found.warnings[0].startswith("a.jpg: its clock says 10:12:54, the satellites said 10:17:30;")


def test_a_clock_that_was_put_right_agrees_with_the_satellites(tmp_path: Path) -> None:
    satellite = datetime(2026, 10, 13, 15, 8, 24, tzinfo=UTC)
    tags = exif(taken="2026:10:13 10:12:54", offset="-05:00", model="Tern 5", satellite=satellite)
    found = look(photo(tmp_path / "a.jpg", tags=tags), line=TimeLine(LINE.zone, {"Tern 5": -270}))
    assert found.taken == satellite
    assert found.warnings == ()


@pytest.mark.parametrize("where", ["exif", "xmp", "none"])
def test_a_place_is_noticed_wherever_it_is_kept(tmp_path: Path, where: str) -> None:
    path = tmp_path / "a.jpg"
    xmp = b'<x:xmpmeta xmlns:x="adobe:ns:meta/"><r exif:GPSLatitude="43,12.5N"/></x:xmpmeta>'
    chequered().save(path, exif=exif(place=where == "exif"), xmp=xmp if where == "xmp" else b"")
    assert look(path).has_place is (where != "none")


# ---------------------------------------------------------------- upright


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_turned_photo_comes_out_upright(tmp_path: Path, orientation: int) -> None:
    """The picture is stored as CIPA DC-008 defines each orientation; red must be upper left again."""
    to_stored = {
        2: Image.Transpose.FLIP_LEFT_RIGHT, 3: Image.Transpose.ROTATE_180, 4: Image.Transpose.FLIP_TOP_BOTTOM,
        5: Image.Transpose.TRANSPOSE, 6: Image.Transpose.ROTATE_90, 7: Image.Transpose.TRANSVERSE,
        8: Image.Transpose.ROTATE_270,
    }  # fmt: skip
    upright = chequered()
    stored = upright.transpose(to_stored[orientation]) if orientation in to_stored else upright
    path = photo(tmp_path / "a.jpg", stored, tags=exif(orientation=orientation))
    found = look(path)
    assert (found.width, found.height) == (320, 240)
    copy = copied(path, 320)
    assert copy.size == (320, 240)
    assert is_red(copy, (10, 10))
    assert not any(is_red(copy, at) for at in ((310, 10), (10, 230), (310, 230)))


def test_a_heic_is_not_turned_twice(tmp_path: Path) -> None:
    """HEIC turns by a box of its own, which the decoder follows; EXIF only repeats it (ISO/IEC 23008-12)."""
    path = photo(tmp_path / "a.heic", tags=exif(orientation=6))
    found = look(path)
    assert (found.width, found.height) == copied(path, 320).size == (320, 240)
    assert is_red(copied(path, 320), (10, 10))


# ---------------------------------------------------------------- judged


@pytest.mark.parametrize(("blur", "warned"), [(0, False), (3, True), (6, True)])
def test_a_blurred_photo_is_warned_of(tmp_path: Path, blur: float, warned: bool) -> None:
    found = look(
        photo(
            tmp_path / "20261013_101254.jpg",
            chequered((1600, 1200), field=30).filter(ImageFilter.GaussianBlur(blur)),
        )
    )
    assert found.exposure == "good"
    assert (found.sharpness < photos.BLURRED_BELOW) is warned
    assert bool(found.warnings) is warned
    if warned:
        assert found.warnings == (
            "20261013_101254.jpg: may be blurred; look at it, and take it again if you still can",
        )


@pytest.mark.parametrize(
    ("low", "high", "exposure"),
    [(70, 190, "good"), (0, 255, "good"), (0, 40, "dark"), (10, 59, "dark"), (10, 61, "good"),
     (210, 250, "bright"), (199, 250, "good"), (255, 255, "bright"), (0, 0, "dark")],
)  # fmt: skip
def test_exposure(low: int, high: int, exposure: str) -> None:
    half = np.full((50, 100), low, np.float32)
    assert photos.judge_exposure(np.vstack([half, half + (high - low)])) == exposure


def test_a_dark_photo_is_called_dark_not_blurred(tmp_path: Path) -> None:
    dark = chequered().point(lambda value: value // 8)
    found = look(photo(tmp_path / "20261013_101254.jpg", dark))
    assert found.exposure == "dark"
    assert found.warnings == (
        "20261013_101254.jpg: is too dark to show much; take it again if you still can",
    )


def test_sharpness_is_the_variance_of_the_laplacian() -> None:
    luminance = np.random.default_rng(4).uniform(0, 255, (60, 80)).astype(np.float32)
    # Source: scipy.ndimage.laplace, without the border, where the two treat the edge differently.
    assert photos.judge_sharpness(luminance) == pytest.approx(laplace(luminance)[1:-1, 1:-1].var(), rel=1e-4)


@pytest.mark.parametrize("size", [(1, 1), (2, 5), (3, 3)])
def test_the_smallest_pictures_can_be_judged(tmp_path: Path, size: tuple[int, int]) -> None:
    path = tmp_path / "20261013_101254.png"
    Image.new("RGB", size, (120, 120, 120)).save(path)
    assert look(path).sharpness == 0
    assert copied(path).size == size


# ---------------------------------------------------------------- copies


@pytest.mark.parametrize("ending", [".jpg", ".png", ".heic"])
def test_a_copy_gives_nothing_away(tmp_path: Path, ending: str) -> None:
    tags = exif(taken="2026:10:13 10:12:54", offset="-05:00", maker="Larkline", model="P2", place=True)
    path = tmp_path / f"a{ending}"
    told = PngInfo()
    told.add_text("Comment", "behind the house")
    extra = {".png": {"pnginfo": told}, ".jpg": {"comment": b"behind the house"}}.get(ending, {})
    chequered().save(path, exif=tags, **extra)
    data = photos.copy_of(path, longest_px=200)
    copy = Image.open(io.BytesIO(data))
    assert copy.format == "JPEG"
    assert dict(copy.getexif()) == {}
    assert set(copy.info) <= {
        "jfif",
        "jfif_version",
        "jfif_unit",
        "jfif_density",
        "progressive",
        "progression",
    }
    for secret in (b"Larkline", b"2026", b"GPS", b"Exif", b"behind"):
        assert secret not in data


def test_the_original_is_left_as_it_is(tmp_path: Path) -> None:
    path = photo(tmp_path / "a.jpg", tags=exif(place=True))
    before = path.read_bytes()
    photos.copy_of(path, longest_px=100)
    look(path)
    assert path.read_bytes() == before
    with Image.open(path) as original:
        assert ExifTags.IFD.GPSInfo in original.getexif()


@pytest.mark.parametrize(
    ("size", "longest", "copy"),
    [
        ((400, 300), 100, (100, 75)),
        ((300, 400), 100, (75, 100)),
        ((400, 300), 1000, (400, 300)),
        ((4000, 30), 100, (100, 1)),
    ],
)  # fmt: skip
def test_a_copy_is_bounded_and_never_larger_than_the_photo(
    tmp_path: Path, size: tuple[int, int], longest: int, copy: tuple[int, int]
) -> None:
    path = tmp_path / "a.jpg"
    Image.new("RGB", size, (90, 120, 90)).save(path)
    assert copied(path, longest).size == copy


@pytest.mark.parametrize("mode", ["L", "LA", "RGBA", "P", "CMYK", "I;16", "1"])
def test_every_kind_of_pixel_becomes_three_colours(tmp_path: Path, mode: str) -> None:
    path = tmp_path / ("a.jpg" if mode == "CMYK" else "a.png")
    if mode == "I;16":
        Image.fromarray(np.full((30, 40), 40_000, np.uint16)).save(path)
    else:
        chequered((40, 32)).convert(mode).save(path)
    copy = copied(path)
    assert copy.mode == "RGB"
    if mode == "I;16":
        assert copy.getpixel((5, 5)) == (156, 156, 156)  # 40000 of 65535 is 156 of 255


def test_what_is_transparent_becomes_white_paper(tmp_path: Path) -> None:
    path = tmp_path / "a.png"
    Image.new("RGBA", (40, 40), (0, 0, 0, 0)).save(path)
    assert copied(path).getpixel((20, 20)) == (255, 255, 255)


def test_colours_of_another_profile_become_srgb(tmp_path: Path) -> None:
    """Half of linear light is 188 in sRGB: IEC 61966-2-1, 1.055 * 0.5 ** (1 / 2.4) - 0.055 = 0.735."""
    path = tmp_path / "a.png"
    Image.new("RGB", (40, 40), (128, 128, 128)).save(path, icc_profile=LINEAR_PROFILE)
    assert copied(path).getpixel((20, 20)) == pytest.approx((188, 188, 188), abs=1)


@pytest.mark.parametrize(
    "profile", [ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes(), None]
)
def test_srgb_stays_as_it_is(tmp_path: Path, profile: bytes | None) -> None:
    path = tmp_path / "a.png"
    Image.new("RGB", (40, 40), (60, 60, 60)).save(path, icc_profile=profile)
    assert copied(path).getpixel((20, 20)) == (60, 60, 60)


def test_a_broken_profile_leaves_the_colours(tmp_path: Path) -> None:
    path = tmp_path / "a.png"
    Image.new("RGB", (40, 40), (60, 90, 60)).save(path, icc_profile=b"not a profile")
    assert copied(path).getpixel((20, 20)) == pytest.approx((60, 90, 60), abs=1)


# ---------------------------------------------------------------- refused


def png_claiming(width: int, height: int) -> bytes:
    """A few hundred bytes that unpack to `width` by `height` black pixels, or would."""

    def part(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + part(b"IHDR", head)
        + part(b"IDAT", zlib.compress(bytes(1000)))
        + part(b"IEND", b"")
    )


@pytest.mark.parametrize(
    ("width", "height"), [(8000, 8000), (20_000, 20_000), (60_000, 60_000), (2_000_000_000, 2_000_000_000)]
)
def test_a_picture_bomb_is_refused_unopened(tmp_path: Path, width: int, height: int) -> None:
    path = tmp_path / "bomb.png"
    path.write_bytes(png_claiming(width, height))
    for use in (look, copied):
        with pytest.raises(InputError, match=r"^bomb\.png: .*(not opened|not a whole photo).* leave it out$"):
            use(path)


@pytest.mark.parametrize("ending", [".jpg", ".png", ".heic"])
@pytest.mark.parametrize("part", [0.98, 0.5, 0.05])
def test_a_photo_that_is_cut_off_is_refused(tmp_path: Path, ending: str, part: float) -> None:
    path = photo(tmp_path / f"a{ending}", chequered((640, 480), field=5))
    path.write_bytes(path.read_bytes()[: int(path.stat().st_size * part)])
    for use in (look, copied):
        with pytest.raises(InputError, match="not a whole photo"):
            use(path)


def test_what_pillow_would_also_open_is_not_taken(tmp_path: Path) -> None:
    path = tmp_path / "a.jpg"
    chequered().save(path, "TIFF")
    with pytest.raises(InputError, match=r"a\.jpg: is a TIFF or raw picture, which is not taken in"):
        look(path)


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("whole")
    for ending in (".jpg", ".png", ".heic"):
        photo(folder / f"a{ending}", chequered((64, 48)), tags=exif(taken="2026:10:13 10:12:54", place=True))
    return folder


@settings(max_examples=120, deadline=None)
@given(st.sampled_from([".jpg", ".png", ".heic"]), st.data())
def test_any_damage_gives_a_photo_or_a_sentence(whole: Path, ending: str, data: st.DataObject) -> None:
    damaged = bytearray((whole / f"a{ending}").read_bytes())
    for _ in range(data.draw(st.integers(1, 6))):
        damaged[data.draw(st.integers(0, len(damaged) - 1))] = data.draw(st.integers(0, 255))
    path = whole / f"damaged{ending}"
    path.write_bytes(damaged)
    for use in (look, copied):
        try:
            use(path)
        except InputError as error:
            assert str(error).startswith(f"damaged{ending}: ")


@pytest.mark.parametrize(("light", "exposure"), [(65_000, "bright"), (40_000, "good"), (8_000, "dark")])
def test_a_picture_of_16_bits_is_judged_by_all_of_them(tmp_path: Path, light: int, exposure: str) -> None:
    grey = np.full((240, 320), light, np.uint16)
    grey[::2] = light - light // 8
    path = tmp_path / "20261013_101254.png"
    Image.fromarray(grey).save(path)
    assert photos.look(path, sha256="0" * 64).exposure == exposure
