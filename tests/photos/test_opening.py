"""What a picture file comes to: its pixels upright in sRGB, and nothing else of it."""

from __future__ import annotations

import struct
import zlib
from pathlib import Path

import colour
import numpy as np
import pytest
from PIL import Image, ImageCms

from drills.basics.errors import InputError
from drills.colour.difference import delta_e00
from drills.colour.spaces import srgb_to_lab
from drills.pictures import opening
from drills.pictures.opening import open_picture, picture_of
from drills.pictures.spot import read_spot
from tests.photos.made import filed, opened, plain, quarters, saved, wide_profile

LOSSLESS = {"PNG": {}, "TIFF": {}, "WEBP": {"lossless": True}}
LOSSY = {"JPEG": {"quality": 95, "subsampling": 0}, "HEIF": {"quality": 95, "chroma": 444}}


@pytest.mark.parametrize("form", LOSSLESS)
def test_a_lossless_file_gives_its_very_pixels(form: str) -> None:
    found = opened(quarters(), form, **LOSSLESS[form])
    assert (found.width, found.height) == (24, 16)
    assert (found.levels() == quarters()).all()


@pytest.mark.parametrize("form", LOSSY)
def test_a_lossy_file_gives_its_colours_nearly(form: str) -> None:
    found = opened(plain((180, 90, 60)), form, **LOSSY[form]).levels() / 255
    assert delta_e00(srgb_to_lab(found), srgb_to_lab([180 / 255, 90 / 255, 60 / 255])).max() < 1.0


# What a camera held in each of the eight ways has to store for the picture to come upright
# (Exif 2.32, table of Orientation: where row 0 and column 0 of what is stored belong).
STORED = {
    1: lambda a: a,
    2: lambda a: a[:, ::-1],
    3: lambda a: a[::-1, ::-1],
    4: lambda a: a[::-1],
    5: lambda a: a.transpose(1, 0, 2),
    6: lambda a: np.rot90(a, 1),
    7: lambda a: a[::-1, ::-1].transpose(1, 0, 2),
    8: lambda a: np.rot90(a, -1),
}


@pytest.mark.parametrize("way", STORED)
@pytest.mark.parametrize("form", ["PNG", "TIFF"])
def test_the_camera_may_be_held_any_way(way: int, form: str) -> None:
    exif = Image.Exif()
    exif[0x0112] = way
    found = opened(np.ascontiguousarray(STORED[way](quarters())), form, exif=exif)
    assert (found.levels() == quarters()).all()


def test_heic_is_turned_once_only() -> None:
    exif = Image.Exif()
    exif[0x0112] = 6
    stored = np.ascontiguousarray(np.rot90(quarters(), 1))
    large = np.kron(stored, np.ones((8, 8, 1), np.uint8))
    # The writer makes of it the turn that HEIF keeps outside Exif, and leaves Exif as it is.
    found = opened(large, "HEIF", quality=95, exif=exif.tobytes())
    assert (found.width, found.height) == (24 * 8, 16 * 8)
    assert np.abs(found.levels()[8, 8].astype(int) - quarters()[0, 0]).max() < 12


def test_a_way_that_is_none_leaves_the_picture_as_it_is() -> None:
    exif = Image.Exif()
    exif[0x0112] = 77
    assert (opened(quarters(), exif=exif).levels() == quarters()).all()


def test_place_and_owner_are_let_go() -> None:
    exif = Image.Exif()
    exif[0x013B] = "Somebody's name"
    exif.get_ifd(0x8825)[1] = "N"
    found = opened(quarters(), "JPEG", exif=exif, comment=b"Somebody's name")
    assert found.image.info == {}
    assert not found.image.getexif()
    assert b"Somebody" not in saved(found.image, "JPEG")
    assert not {"exif", "info"} & vars(found).keys()


def test_see_through_pixels_lie_over_white() -> None:
    levels = plain((200, 0, 0, 128))
    over = opened(levels).levels()[0, 0]
    # Source over (Porter & Duff 1984): 200 · α + 255 · (1 − α).
    assert np.abs(over - [227.4, 127, 127]).max() <= 1
    assert (opened(plain((9, 9, 9, 0))).levels() == 255).all()


def test_what_was_see_through_and_what_has_no_colour_is_said() -> None:
    assert "see-through" in " ".join(opened(plain((200, 0, 0, 254))).notes)
    assert opened(plain((200, 0, 0, 255))).notes == ()
    assert "grey picture" in " ".join(opened(plain((90,))[..., 0].copy(), "JPEG").notes)
    deep = Image.fromarray(np.full((4, 4), 30_000, np.uint16))
    assert "grey picture" in " ".join(picture_of(saved(deep, "PNG"), "deep").notes)
    assert opened(plain((90, 90, 90))).notes == ()


def test_a_see_through_palette_and_grey_lie_over_white() -> None:
    grey = Image.fromarray(plain((0, 0))[..., :2].copy(), "LA")
    assert (picture_of(saved(grey, "PNG"), "grey").levels() == 255).all()
    few = Image.fromarray(plain((10, 20, 30))).quantize(2)
    found = picture_of(saved(few, "PNG", transparency=few.getpixel((0, 0))), "few")
    assert (found.levels() == 255).all()


def test_sixteen_bits_and_grey_are_read() -> None:
    ramp = np.linspace(0, 65535, 64).astype(np.uint16)[None].repeat(4, 0)
    found = picture_of(saved(Image.fromarray(ramp), "PNG"), "deep").levels()
    assert np.abs(found[0, :, 0] - ramp[0] / 257).max() <= 0.5
    assert (found[..., 0] == found[..., 1]).all()
    found = picture_of(saved(Image.fromarray(ramp), "TIFF"), "deep").levels()
    assert np.abs(found[0, :, 0] - ramp[0] / 257).max() <= 0.5


def test_sixteen_bits_in_colour_are_read() -> None:
    row = b"".join(struct.pack(">HHH", 51400, 25700, 12850) for _ in range(8))
    png = png_of(8, 2, 16, 2, (b"\0" + row) * 2)
    assert np.abs(picture_of(png, "deep").levels() - [200.0, 100.0, 50.0]).max() <= 1


def test_printing_inks_without_a_profile_are_told_of() -> None:
    found = picture_of(saved(Image.new("CMYK", (8, 8), (0, 255, 255, 0)), "JPEG"), "inks")
    red, green, blue = found.levels()[4, 4].tolist()
    assert red > 200 > green + blue
    assert "guess" in " ".join(found.notes)


def test_a_wide_profile_comes_to_srgb_as_the_standards_say() -> None:
    """Held to colour-science's Display P3, its matrices and curve, not to littleCMS."""
    rng = np.random.default_rng(5)
    levels = rng.integers(60, 200, (6, 8, 3)).astype(np.uint8)
    found = opened(levels, icc_profile=wide_profile()).levels()
    with np.errstate(all="ignore"):
        wanted = colour.RGB_to_RGB(
            levels / 255, "Display P3", "sRGB", apply_cctf_decoding=True, apply_cctf_encoding=True
        )
    inside = ((wanted >= 0) & (wanted <= 1)).all(-1)
    assert inside.sum() > 30
    assert np.abs(found - wanted * 255)[inside].max() <= 1.0


def test_what_lies_outside_srgb_is_kept_and_told() -> None:
    picture = opened(plain((40, 230, 40)), icc_profile=wide_profile())
    spot = read_spot(picture, 10, 10, 5)
    wanted = colour.XYZ_to_Lab(
        colour.RGB_to_XYZ(
            np.array([40, 230, 40]) / 255,
            "Display P3",
            colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D50"],
            "Bradford",
            apply_cctf_decoding=True,
        ),
        colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D50"],
    )
    assert "beyond_screen" in spot.warnings
    assert float(delta_e00(spot.lab, wanted)) < 0.5
    clipped = srgb_to_lab(picture.levels()[0, 0] / 255)
    assert float(delta_e00(clipped, wanted)) > 1.0


def test_a_profile_that_is_srgb_changes_nothing() -> None:
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    found = opened(quarters(), icc_profile=srgb)
    assert found.profile is None
    assert (found.levels() == quarters()).all()


# Hostile files: one line that names the file, what is wrong, and a remedy.


def png_chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def png_of(width: int, height: int, bits: int, kind: int, raw: bytes) -> bytes:
    head = struct.pack(">IIBBBBB", width, height, bits, kind, 0, 0, 0)
    chunks = (png_chunk(b"IHDR", head), png_chunk(b"IDAT", zlib.compress(raw)))
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunks) + png_chunk(b"IEND", b"")


def moving(form: str) -> bytes:
    frames = [Image.fromarray(plain((i, 0, 0))) for i in (0, 200)]
    return saved(frames[0], form, save_all=True, append_images=frames[1:], duration=50)


def broken_profile(start: int = 200) -> bytes:
    data = bytearray(wide_profile())
    data[start:] = b"\xff" * (len(data) - start)
    return bytes(data)


HOSTILE = {
    "empty": (lambda: b"", "empty"),
    "no picture": (lambda: b"name,hex\nred,#f00\n", "not a picture"),
    "a bomb": (lambda: png_of(60_000, 60_000, 8, 0, b"\0" * 900), "million pixels"),
    "a bomb of pixels": (lambda: png_of(30_000, 30_000, 8, 0, b"\0" * 900), "million pixels"),
    "a lesser bomb": (lambda: png_of(11_000, 11_000, 8, 0, b"\0" * 900), "million pixels"),
    "a line": (lambda: png_of(100_000, 1, 8, 0, b"\0" * 100_001), "100,000 by 1 pixels"),
    "cut off": (lambda: filed(quarters(), "JPEG")[:-80], "can't be read"),
    "cut off at its head": (lambda: filed(quarters(), "PNG")[:40], "can be read"),
    "a cut HEIC": (lambda: filed(plain((9, 99, 9), 96, 96), "HEIF")[:-300], "can be read"),
    "moving WebP": (lambda: moving("WEBP"), "moves"),
    "moving PNG": (lambda: moving("PNG"), "moves"),
    "a damaged profile": (
        lambda: filed(quarters(), icc_profile=broken_profile()),
        "profile can't be read",
    ),
    "a profile of noise": (lambda: filed(quarters(), icc_profile=b"\x07" * 400), "profile"),
    "a profile for grey": (
        lambda: filed(quarters()[..., 0].copy(), icc_profile=wide_profile()),
        "for other pixels",
    ),
    "a numbers' TIFF": (
        lambda: saved(Image.fromarray(np.ones((4, 4), np.float32)), "TIFF"),
        "a kind not read here",
    ),
    "an animation": (lambda: saved(Image.new("P", (4, 4)), "GIF"), "not a picture"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_file_is_one_line(name: str, capfd: pytest.CaptureFixture[str]) -> None:
    make, words = HOSTILE[name]
    with pytest.raises(InputError, match=words) as caught:
        picture_of(make(), "theirs.png")
    assert str(caught.value).startswith("theirs.png")
    assert "\n" not in str(caught.value)
    assert capfd.readouterr() == ("", "")


def test_absurd_metadata_is_of_no_matter() -> None:
    exif = b"Exif\0\0MM\0*" + b"\xff" * 60_000
    assert opened(quarters(), "JPEG", exif=exif, quality=95).width == 24
    long = png_chunk(b"tEXt", b"Comment\0" + b"x" * 500_000)
    whole = filed(quarters())
    assert (picture_of(whole[:33] + long + whole[33:], "long").levels() == quarters()).all()


def test_one_pixel_is_a_picture() -> None:
    found = opened(plain((10, 200, 30), 1, 1))
    spot = read_spot(found, 0, 0, 8)
    assert spot.count == 1
    assert "few" in spot.warnings
    assert found.fitted(10, 5).shape == (5, 10, 3)


def refusal(data: bytes) -> str:
    """What is said of a file that can't be read; nothing of one that can."""
    try:
        picture_of(data, "x").levels()
    except InputError as error:
        return str(error)
    return ""


def test_any_file_cut_anywhere_or_with_bytes_turned_is_read_or_one_line() -> None:
    """Drawn from a seed; nothing but InputError may come out."""
    rng = np.random.default_rng(14)
    files = [filed(quarters(), form, **LOSSLESS[form]) for form in LOSSLESS]
    files += [filed(quarters(), "JPEG"), filed(plain((9, 99, 9), 64, 64), "HEIF")]
    files += [filed(quarters(), icc_profile=wide_profile())]
    refused = 0
    for whole in files:
        for _ in range(40):
            data = bytearray(whole)
            for at in rng.integers(0, len(data), 6):
                data[at] = rng.integers(256)
            told = refusal(bytes(data))
            refused += bool(told)
            assert "\n" not in told
    assert refused > 30


def test_a_file_is_looked_at_before_it_is_read(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no such file"):
        open_picture(tmp_path / "none.png")
    with pytest.raises(InputError, match="not an ordinary file"):
        open_picture(tmp_path)
    path = tmp_path / "a.png"
    path.write_bytes(filed(quarters()))
    assert open_picture(path).width == 24


def test_a_file_too_big_is_refused_unread(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(opening, "MOST_BYTES", 1000)
    path = tmp_path / "big.png"
    path.write_bytes(b"x" * 1001)
    with pytest.raises(InputError, match="too big"):
        open_picture(path)
