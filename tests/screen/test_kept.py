"""Screens kept by name, profiles read, hostile ones refused."""

from __future__ import annotations

import struct
import tempfile
from contextlib import suppress
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import ImageCms

from coach.this_screen.kept import Known, keep, look_at, model_of, screens_in, screens_of, take_out
from coach.this_screen.profile import read_profile
from drills.basics.errors import InputError
from drills.colour.difference import delta_e00
from drills.colour.spaces import srgb_to_lab
from scores.record.record import Record

BY_EYE = Known("by eye", powers=(2.1, 2.2, 2.3), told=(4, 4, 1))
LEVELS = np.stack(np.meshgrid(*[[10, 60, 128, 201, 255]] * 3), axis=-1).reshape(-1, 3)


def srgb_profile(folder: Path) -> Path:
    """littleCMS's own sRGB profile, in a file."""
    path = folder / "desk.icc"
    path.write_bytes(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    return path


def test_several_are_kept_and_one_is_looked_at(tmp_path: Path) -> None:
    record = Record.open(tmp_path / "record.db")
    assert screens_of(record).now is None
    keep(record, "desk", BY_EYE)
    keep(record, "  the  laptop ", Known("wide"))
    assert screens_of(record).active == "the laptop"
    look_at(record, "desk")
    assert screens_of(record).now == BY_EYE
    take_out(record, "desk")
    assert screens_of(record).now is None
    assert [name for name, _ in screens_of(record).known] == ["the laptop"]
    for name in ("", " ", "x" * 31, "a\x1b[31m"):
        with pytest.raises(InputError):
            keep(record, name, BY_EYE)
    record.close()


@settings(max_examples=50)
@given(st.recursive(st.none() | st.integers() | st.text() | st.floats(), lambda inner: (
    st.lists(inner, max_size=4) | st.dictionaries(
        st.sampled_from(["known", "active", "how", "powers", "curves", "primaries", "told", "a"]),
        inner | st.just("by eye"), max_size=4)), max_leaves=12))  # fmt: skip
def test_a_setting_of_another_make_is_left_out(kept: object) -> None:
    screens = screens_in(kept)  # type: ignore[arg-type]
    for _, known in screens.known:
        model_of(known)


def test_a_profile_is_read_and_draws_as_it_says(tmp_path: Path) -> None:
    """That of sRGB, against IEC 61966-2-1 itself."""
    known = read_profile(str(srgb_profile(tmp_path)))
    shown = model_of(known).lab(LEVELS)
    assert delta_e00(shown, srgb_to_lab(LEVELS / 255)).max() < 0.3
    assert screens_in({"active": "a", "known": {"a": known.as_json()}}).now == known


def test_a_tabled_curve_and_one_of_a_power_are_read(tmp_path: Path) -> None:
    path = srgb_profile(tmp_path)
    data = path.read_bytes()
    (count,) = struct.unpack_from(">I", data, 128)
    for curve in (
        b"curv\0\0\0\0" + struct.pack(">IH", 1, round(2.2 * 256)),
        b"curv\0\0\0\0"
        + struct.pack(">I256H", 256, *(round(65535 * (i / 255) ** 2.2) for i in range(256))),
    ):
        made = bytearray(data + curve)
        for at in range(count):
            if struct.unpack_from(">4s", data, 132 + 12 * at)[0] in (b"rTRC", b"gTRC", b"bTRC"):
                struct.pack_into(">II", made, 136 + 12 * at, len(data), len(curve))
        struct.pack_into(">I", made, 0, len(made))
        path.write_bytes(made)
        (light, *_) = model_of(read_profile(str(path))).curves
        assert light[128] == pytest.approx((128 / 255) ** 2.2, abs=0.001)


@pytest.mark.parametrize("cut", [0, 100, 131, 200, 400])
def test_a_profile_cut_short_is_one_line(tmp_path: Path, cut: int) -> None:
    path = srgb_profile(tmp_path)
    path.write_bytes(path.read_bytes()[:cut])
    with pytest.raises(InputError, match="by eye"):
        read_profile(str(path))


def test_another_kind_of_profile_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "lab.icc"
    path.write_bytes(ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB")).tobytes())
    with pytest.raises(InputError, match="no screen's profile"):
        read_profile(str(path))


@settings(max_examples=40)
@given(st.data())
def test_a_damaged_profile_is_read_or_refused(data: st.DataObject) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = srgb_profile(Path(folder))
        made = bytearray(path.read_bytes())
        for _ in range(data.draw(st.integers(1, 6))):
            made[data.draw(st.integers(0, len(made) - 1))] = data.draw(st.integers(0, 255))
        path.write_bytes(made)
        with suppress(InputError):
            model_of(read_profile(str(path)))
