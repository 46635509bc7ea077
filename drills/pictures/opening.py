"""Opening a picture: a file of a stranger's is hostile until its pixels have been read.

JPEG, PNG, TIFF and WebP are read by Pillow, HEIC by pillow-heif. The pixels come upright (Exif
2.32, tag Orientation), 8 bits a channel, see-through ones over white. All else that the file
says (place, owner, camera) is let go.
"""

from __future__ import annotations

import os
import warnings
from io import BytesIO
from typing import TYPE_CHECKING, Final

from drills.basics.errors import InputError, plain
from drills.basics.ordinary_file import read_ordinary
from drills.pictures.picture import Picture
from drills.pictures.profile import Profile, read_profile

if TYPE_CHECKING:
    from PIL.Image import Image

MOST_BYTES: Final = 300_000_000
MOST_PIXELS: Final = 100_000_000
LONGEST_SIDE: Final = 40_000
"""What a picture may hold. The biggest sensors of phones reach 200 million pixels, but such
pictures are saved at a quarter of that unless asked otherwise (common practice, no source)."""

FORMS: Final = "JPEG, PNG, TIFF, WebP or HEIC"
_FORMATS: Final = ("JPEG", "PNG", "TIFF", "WEBP")
_UPRIGHT: Final = {2: 0, 3: 3, 4: 1, 5: 5, 6: 4, 7: 6, 8: 2}
"""Exif orientation → the turn that undoes it (PIL.Image.Transpose)."""
_ORIENTATION = 0x0112
_SMALLER = "Save a smaller copy and give that."
_AGAIN = "Save it again as JPEG or PNG and give that."
_PLAIN_PRIMARIES = (1, 2, 5, 6)
"""Primaries of ITU-T H.273 that are sRGB's or near them, or not said."""


def open_picture(path: str | os.PathLike[str]) -> Picture:
    """A picture from its file. Raises InputError with one line on what is wrong with it."""
    data = read_ordinary(path, MOST_BYTES, "a picture")
    return picture_of(data, plain(os.fspath(path), 200))


def picture_of(
    data: bytes, name: str, most_pixels: int = MOST_PIXELS, formats: tuple[str, ...] = ()
) -> Picture:
    """A picture from a file's bytes; ``name`` is for messages. Raises InputError.

    ``most_pixels`` and ``formats`` (Pillow's names, empty for all of ``FORMS``) can be narrowed.
    """
    if not data:
        raise InputError(name, "the file is empty", f"Give a picture: {FORMS}.")
    if len(data) > MOST_BYTES:
        raise InputError(name, "the file is too big", f"The limit is {MOST_BYTES:,} bytes.")
    with warnings.catch_warnings():
        # What Pillow warns of is either refused here or of no matter for the pixels.
        warnings.simplefilter("ignore")
        image = _opened(data, name, formats)
        _check_size(image, name, most_pixels)
        if image.format in ("PNG", "WEBP") and getattr(image, "is_animated", False):
            raise InputError(name, "the picture moves", "Save one of its pictures and give that.")
        return _read(image, name)


def _opened(data: bytes, name: str, only: tuple[str, ...]) -> Image:
    from PIL import Image, UnidentifiedImageError

    formats = only or _FORMATS
    if data[4:8] == b"ftyp" and not only:
        from pillow_heif import register_heif_opener

        register_heif_opener(thumbnails=False)
        formats = ("HEIF",)
    try:
        return Image.open(BytesIO(data), formats=formats)
    except Image.DecompressionBombError:
        raise _too_many_pixels(name) from None
    except UnidentifiedImageError:
        what = "this is not a picture that can be read"
        wanted = " or ".join(only) or FORMS
        raise InputError(name, what, f"Give {wanted}.") from None
    except Exception as error:
        raise _broken(name, error) from None


def _check_size(image: Image, name: str, most: int) -> None:
    """Before any pixel is read."""
    wide, high = image.size
    if wide < 1 or high < 1:
        raise InputError(name, "the picture has no pixels", _AGAIN)
    if max(wide, high) > LONGEST_SIDE:
        long = f"the picture is {wide:,} by {high:,} pixels; a side may have {LONGEST_SIDE:,}"
        raise InputError(name, long, _SMALLER)
    if wide * high > most:
        raise _too_many_pixels(name, most)


def _has_more(image: Image) -> bool:
    """Whether a second picture follows; the others aren't counted, for there may be millions."""
    try:
        image.seek(1)
    except Exception:
        found = False  # whatever stands there is no picture
    else:
        found = True
    image.seek(0)
    return found


def _read(image: Image, name: str) -> Picture:
    """The pixels, upright and in RGB, and the profile that is theirs."""
    from PIL.ImageFile import ImageFile

    notes: list[str] = []
    try:
        if image.format == "TIFF" and _has_more(image):
            notes.append("The file holds several pictures: the first is read.")
        filed = image.info.get("icc_profile")
        nclx = image.info.get("nclx_profile")
        image.load()
        # Only now: Pillow turns a TIFF itself when it loads it.
        turn = _UPRIGHT.get(_orientation(image))
        if "A" in image.getbands() or "transparency" in image.info:
            image, through = _over_white(image)
            if through:
                notes.append("Parts of it are see-through: they are read as over white.")
        image = _in_8_bits(image, name)
        if turn is not None:
            image = _turned(image, turn)
    except InputError:
        raise
    except MemoryError:
        raise _too_many_pixels(name) from None
    except Exception as error:
        # Pillow raises whatever the bytes of a stranger led to.
        raise _broken(name, error) from None
    if image.mode == "L":
        notes.append("It is a grey picture: only how light its colours are can be read.")
    profile = None
    if isinstance(filed, bytes) and filed:
        profile = read_profile(filed, image.mode, name)
    elif image.mode == "CMYK":
        notes.append("It is in printing inks without a colour profile: its colours are a guess.")
    elif isinstance(nclx, dict) and nclx.get("color_primaries", 2) not in _PLAIN_PRIMARIES:
        notes.append("Its colours are wider than sRGB and no profile says how: they are a guess.")
    image, profile = _in_rgb(image, profile)
    if isinstance(image, ImageFile):
        image = image.copy()  # which leaves what else the file says behind
    image.info.clear()
    return Picture(image, profile, name, tuple(notes))


def _orientation(image: Image) -> int:
    """How the camera was held, 1 where that isn't said or can't be read."""
    if image.format == "HEIF":
        return 1  # its reader has turned it
    try:
        return int(image.getexif().get(_ORIENTATION, 1))
    except Exception:
        return 1  # the pixels are good without it


def _turned(image: Image, turn: int) -> Image:
    from PIL.Image import Transpose

    return image.transpose(Transpose(turn))


def _over_white(image: Image) -> tuple[Image, bool]:
    """The picture laid over white, and whether any of it was see-through."""
    from PIL.Image import new

    seen = image.convert("RGBA")
    alpha = seen.getchannel("A")
    white = new("RGB", seen.size, (255, 255, 255))
    white.paste(seen, mask=alpha)
    through = alpha.getextrema() != (255, 255)
    return white.convert("L") if image.mode in ("LA", "La") else white, through


def _in_8_bits(image: Image, name: str) -> Image:
    """RGB, L or CMYK with 8 bits a channel. Raises InputError for what has no known range."""
    if image.mode in ("RGB", "L", "CMYK"):
        return image
    if image.mode.startswith("I;16"):
        import numpy as np
        from PIL.Image import fromarray

        wide = np.asarray(image).astype(np.uint32)
        return fromarray(((wide * 255 + 32767) // 65535).astype(np.uint8))
    if image.mode in ("I", "F", "LAB"):
        raise InputError(name, f"its pixels are of a kind not read here ({image.mode})", _AGAIN)
    return image.convert("L" if image.mode == "1" else "RGB")


def _in_rgb(image: Image, profile: Profile | None) -> tuple[Image, Profile | None]:
    if image.mode == "RGB":
        return image, profile
    if profile is None:
        return image.convert("RGB"), None
    return profile.to_screen(image), None


def _too_many_pixels(name: str, most: int = MOST_PIXELS) -> InputError:
    said = f"the picture has more than {most // 1_000_000} million pixels"
    return InputError(name, said, _SMALLER)


def _broken(name: str, error: Exception) -> InputError:
    why = "it ends too soon" if "truncated" in str(error).lower() else "its file is damaged"
    return InputError(name, f"the picture can't be read: {why}", _AGAIN)
