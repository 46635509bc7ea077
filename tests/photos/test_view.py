"""Where a screen's pixels lie in a picture: laws that hold for any size, zoom and move."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from drills.pictures.view import CLOSEST, View, whole

SIZE = st.integers(1, 40_000)
CELLS = st.integers(1, 300)


@given(
    width=SIZE,
    height=SIZE,
    across=CELLS,
    down=CELLS,
    does=st.lists(st.tuples(st.sampled_from("zmpr"), st.integers(-9, 9), st.integers(-9, 9))),
)
def test_the_crosshair_is_in_the_picture_and_in_view(
    width: int, height: int, across: int, down: int, does: list[tuple[str, int, int]]
) -> None:
    view = whole(width, height, across, down)
    holds(view)
    for what, a, b in does:
        if what == "z":
            view = view.zoomed(a)
        elif what == "m":
            view = view.moved(a, b)
        elif what == "p":
            view = view.at(a * 20, b * 20)
        else:
            view = view.resized(across + a, down + b)
        holds(view)


def holds(view: View) -> None:
    left, top, right, bottom = view.box
    assert 0 <= left < right <= view.width
    assert 0 <= top < bottom <= view.height
    assert left <= view.x <= right
    assert top <= view.y <= bottom
    wide, high = view.shown
    column, row = view.crosshair
    assert 0 <= column - view.margin[0] <= wide <= view.across
    assert 0 <= row - view.margin[1] <= high <= view.down


def test_a_pixel_put_is_the_pixel_that_it_stands_on() -> None:
    view = whole(6000, 4000, 120, 60).zoomed(3)
    for column, row in ((0, 0), (30, 50), (119, 59)):
        put = view.at(column, row)
        assert put.on_screen(put.x, put.y) == put.crosshair
        assert view.on_screen(put.x, put.y) == (column, row)


def test_the_nearest_shows_a_pixel_on_eight_and_moves_by_one() -> None:
    view = whole(6000, 4000, 120, 60).zoomed(40)
    assert view.scale == 1 / CLOSEST
    assert view.moved(1, 0).x == view.x + 1
    assert view.zoomed(-99) == view.zoomed(-40)


def test_a_move_out_of_sight_takes_the_picture_along() -> None:
    view = whole(6000, 4000, 120, 60).zoomed(4)
    far = view
    for _ in range(60):
        far = far.moved(5, 0)
    assert far.box[0] > view.box[0]
    assert far.x > 5900
