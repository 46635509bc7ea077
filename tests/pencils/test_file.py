"""The pencils file: what may stand in it, and what is refused with file, row, column and remedy."""

from __future__ import annotations

import os
import subprocess
import sys
import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.basics.errors import InputError, plain
from drills.pencils.file import MAX_PENCILS, load_pencils, make_set, parse_pencils, to_csv
from drills.pencils.file_cell import REFLECTANCE_COLUMNS, WAVELENGTHS_NM
from drills.pencils.pencil import LIGHTFASTNESS, Pencil, PencilsError

FLAT = ",".join(["0.25"] * 31)
R_COLUMNS = ",".join(REFLECTANCE_COLUMNS)
K_COLUMNS = ",".join(f"k{nm}" for nm in WAVELENGTHS_NM)


def parse(text: str | bytes):
    data = text if isinstance(text, bytes) else text.encode()
    return parse_pencils(data, "box.csv")


def one(text: str) -> Pencil:
    (pencil,) = parse(text).pencils
    return pencil


# -- what may stand in it ------------------------------------------------------------


def test_a_name_and_a_hex_colour_are_enough():
    pencil = one("name,hex\nQuay Red,#B5443C\n")
    assert (pencil.name, pencil.hex, pencil.opacity, pencil.row) == (
        "Quay Red",
        "#b5443c",
        "semi",
        2,
    )


@pytest.mark.parametrize(
    "cell", ["52 48 23.5", "lab(52 48 23.5)", '"52, 48, 23.5"', "52; 48; 23.5"]
)
def test_lab_may_be_written_in_these_ways(cell):
    assert one(f"name,lab\nRed,{cell}\n").lab == (52.0, 48.0, 23.5)


def test_a_spectrum_may_stand_for_the_colour_and_another_for_black_paper():
    black = ",".join(["0.05"] * 31)
    pencil = one(f"name,{R_COLUMNS},{K_COLUMNS}\nGrey,{FLAT},{black}\n")
    assert pencil.reflectance == (0.25,) * 31
    assert pencil.on_black == (0.05,) * 31


def test_every_optional_column_in_any_order_and_case():
    pencil = one(
        "Notes,NAME,Opacity,on_black,Lightfastness,hex,code\n"
        '"bought, at the fair",Red,Opaque,30 10 5,iii,b5443c,R1\n'
    )
    assert pencil == Pencil(
        "Red",
        "R1",
        "#b5443c",
        None,
        None,
        "opaque",
        (30.0, 10.0, 5.0),
        "III",
        "bought, at the fair",
    )


def test_a_colourless_pencil_is_the_blender_and_needs_no_swatch():
    found = parse("name,hex,opacity\nRed,#b5443c,\nWax,,colourless\n")
    assert found.blender == 1
    assert found.pencils[1].is_blender


def test_spreadsheet_habits_are_borne():
    """A byte-order mark, CRLF or old CR ends, blank rows, own columns, notes on two lines."""
    text = 'name,hex,price,notes\r\n\r\nRed,#b5443c,2.10,"warm\r\nstrong"\r\n,,,\r\n'
    found = parse(b"\xef\xbb\xbf" + text.encode())
    assert [p.name for p in found.pencils] == ["Red"]
    assert found.pencils[0].row == 3
    assert found.pencils[0].notes == "warm strong"
    assert found.ignored == ("price",)
    assert parse(text.replace("\r\n", "\r")).pencils == found.pencils


@pytest.mark.parametrize(
    "name", ["[red]", "[link=x]Red[/]", "=1+1", "@SUM(A1)", "-Red", "Чёрный", "紅"]
)
def test_markup_and_formula_looking_names_are_just_text(name):
    assert one(f"name,hex\n{name},#b5443c\n").name == name


# All that a name may hold. What nothing but blanks is left of becomes a name by a letter.
PRINTED = st.characters(exclude_categories=("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"))
NAMES = st.text(PRINTED, min_size=1, max_size=60).map(lambda text: text.strip() or "x")
NUMBERS = st.floats(0.0, 1.0)
LABS = st.tuples(st.floats(0, 100), st.floats(-160, 160), st.floats(-160, 160))
HEXES = st.integers(0, 0xFFFFFF).map(lambda n: f"#{n:06x}")
SPECTRA = st.tuples(*[NUMBERS] * 31)
SWATCHES = st.one_of(
    st.fixed_dictionaries({"hex": HEXES}),
    st.fixed_dictionaries({"lab": LABS}),
    st.fixed_dictionaries({"reflectance": SPECTRA}),
    st.just({"opacity": "colourless"}),
)


@st.composite
def pencils(draw):
    swatch = draw(SWATCHES)
    rest = {}
    if "opacity" not in swatch:
        rest["opacity"] = draw(st.sampled_from(["transparent", "semi", "opaque"]))
        rest["painted"] = draw(st.sampled_from([0, 0, 1, 99]))
        rest["on_black"] = draw(st.none() | HEXES | LABS | SPECTRA)
    return Pencil(
        draw(NAMES),
        lightfastness=draw(st.sampled_from(LIGHTFASTNESS)),
        notes=" ".join(draw(NAMES | st.just("")).split()),
        **swatch,
        **rest,
    )


def same_name(pencil):
    return " ".join(unicodedata.normalize("NFKC", pencil.name).casefold().split())


@settings(max_examples=50, deadline=None)
@given(st.lists(pencils(), max_size=6, unique_by=same_name))
def test_written_and_read_again_it_is_the_same_set(box):
    written = make_set("box", (Pencil("A sure colour" * 4, hex="#808080"), *box))
    read = parse(to_csv(written))
    assert read == written
    assert read.fingerprint == written.fingerprint


def test_the_fingerprint_is_of_what_the_file_means():
    a = parse("name,hex\nRed,#b5443c\n")
    assert parse("hex,name,mine\n  B5443C ,Red,x\n").fingerprint == a.fingerprint
    assert parse("name,hex\nRed,#b5443d\n").fingerprint != a.fingerprint


# -- what is refused -----------------------------------------------------------------

REFUSED = {
    "empty file": ("", "row 1", "no column called name"),
    "no rows": ("name,hex\n", "box.csv", "no coloured pencil"),
    "only a blender": ("name,hex,opacity\nWax,,colourless\n", "box.csv", "no coloured pencil"),
    "no name column": ("colour,hex\nRed,#b5443c\n", "row 1", "no column called name"),
    "semicolons": ("name;hex\nRed;#b5443c\n", "row 1", "Separate the columns with commas."),
    "no colour column": ("name,code\nRed,1\n", "row 1", "no column for the colour"),
    "a column twice": ("name,hex,hex\nRed,#b5443c,#b5443c\n", "row 1", "hex is there twice"),
    "half a spectrum": ("name,r400,r410\nRed,0.1,0.2\n", "row 1", "the column r420 is missing"),
    "no name": ("name,hex\n ,#b5443c\n", "row 2, column name", "no name"),
    "long name": (f"name,hex\n{'x' * 61},#b5443c\n", "row 2, column name", "60 characters"),
    "same name": ("name,hex\nRed,#b5443c\nred,#b5443c\n", "row 3, column name", "of row 2"),
    "same name in other letters": ("name,hex\nRed,#b5443c\nＲed,#b5443c\n", "row 3", "of row 2"),
    "escape code": ("name,hex\nRe\x1b[31md,#b5443c\n", "row 2, column name", "control"),
    "bell in a note": ("name,hex,notes\nRed,#b5443c,a\x07b\n", "row 2, column notes", "control"),
    "right-to-left override": ("name,hex\nRe\u202ed,#b5443c\n", "row 2, column name", "invisible"),
    "line break in a name": ('name,hex\n"Re\nd",#b5443c\n', "row 2, column name", "control"),
    "bad hex": ("name,hex\nRed,#b5443\n", "row 2, column hex", "not a hex colour"),
    "hex of other digits": ("name,hex\nRed,#１２３４５６\n", "row 2, column hex", "not a hex"),
    "two Lab numbers": ("name,lab\nRed,52 48\n", "row 2, column lab", "not three Lab numbers"),
    "NaN": ("name,lab\nRed,nan 48 23\n", "row 2, column lab", "“nan” is not a number"),
    "infinity": ("name,lab\nRed,inf 48 23\n", "row 2, column lab", "“inf” is not a number"),
    "underscored number": ("name,lab\nRed,5_2 48 23\n", "row 2, column lab", "not a number"),
    "too light": ("name,lab\nRed,101 0 0\n", "row 2, column lab", "outside 0 to 100"),
    "too red": ("name,lab\nRed,50 1e9 0\n", "row 2, column lab", "a* 1e9 is outside"),
    "too blue": ("name,lab\nRed,50 0 -1e300\n", "row 2, column lab", "b* -1e300 is outside"),
    "per cent": (f"name,{R_COLUMNS}\nRed,25{FLAT[4:]}\n", "column r400", "Write 0.25 for 25"),
    "negative": (f"name,{R_COLUMNS}\nRed,-0.1{FLAT[4:]}\n", "column r400", "outside 0 to 1"),
    "hole in a spectrum": (f"name,{R_COLUMNS}\nRed,{FLAT[5:]},\n", "row 2, column r700", "missing"),
    "both forms": ("name,hex,lab\nRed,#b5443c,52 48 23\n", "row 2", "its swatch in 2 forms"),
    "no form": ("name,hex,lab\nRed,,\n", "row 2", "“Red” has no swatch"),
    "blender with swatch": ("name,hex,opacity\nWax,#ffffff,colourless\n", "row 2", "colourless"),
    "bad opacity": ("name,hex,opacity\nRed,#b5443c,so-so\n", "row 2, column opacity", "semi"),
    "bad class": ("name,hex,lightfastness\nRed,#b5443c,VI\n", "column lightfastness", "D6901"),
    "bad painted": ("name,hex,painted\nRed,#b5443c,twice\n", "row 2, column painted", "1 to 99"),
    "painted by thousands of digits": (
        f"name,hex,painted\nRed,#b5443c,{'9' * 5000}\n",
        "row 2, column painted",
        "1 to 99",
    ),
    "painted often behind zeros": (
        "name,hex,painted\nRed,#b5443c,000000000999\n",
        "row 2, column painted",
        "1 to 99",
    ),
    "painted blender": (
        "name,hex,opacity,painted\nWax,,colourless,1\n",
        "row 2, column painted",
        "colourless",
    ),
    "bad on_black": ("name,hex,on_black\nRed,#b5443c,dark\n", "row 2, column on_black", "Lab"),
    "ragged short": ("name,hex,code\nRed,#b5443c\n", "row 2", "2 cells and the header 3"),
    "ragged long": ("name,hex\nRed,#b5443c,,\n", "row 2", "4 cells and the header 2"),
    "unclosed quote": ('name,hex\nBlue,#3344cc\n"Red,#b5443c\n', "row 3", "never closed"),
    "text after a quote": ('name,hex\n"Red"x,#b5443c\n', "row 2", "after a closing quotation"),
    "endless cell": (f'name,hex\n"{"x" * 200_000}",#b5443c\n', "row 2", "a cell is too long"),
    "NUL": ("name,hex\nRe\0d,#b5443c\n", "row 2", "byte 12 is a NUL"),
    "Latin-1": ("name,hex\nRos\u00e9,#b5443c\n".encode("latin-1"), "row 2", "byte 13 (0xe9)"),
    "UTF-16": ("name,hex\nRed,#b5443c\n".encode("utf-16"), "box.csv", "UTF-16"),
    "too many": (
        "name,hex\n" + "".join(f"P{i},#b5443c\n" for i in range(10_000)),
        f"row {MAX_PENCILS + 2}",
        f"more than {MAX_PENCILS} pencils",
    ),
    "too big": (b"x" * 2_000_001, "box.csv", "too big"),
}


@pytest.mark.parametrize("what", REFUSED)
def test_refused_in_one_line_naming_place_and_remedy(what):
    text, place, words = REFUSED[what]
    with pytest.raises(InputError) as refusal:
        parse(text)
    line = str(refusal.value)
    assert line.startswith("box.csv")
    assert place in line
    assert words in line
    assert plain(line, len(line)) == line  # nothing that could move a cursor
    assert len(line) < 300
    assert refusal.value.remedy


def test_five_hundred_pencils_are_taken():
    rows = "".join(f"P{i},#{i:06x}\n" for i in range(MAX_PENCILS))
    assert len(parse("name,hex\n" + rows)) == MAX_PENCILS


@settings(max_examples=100, deadline=None)
@given(st.binary(max_size=300) | st.text(max_size=200).map(lambda t: f"name,hex\n{t}".encode()))
def test_whatever_the_bytes_it_is_a_set_or_one_line(data):
    try:
        line = f"{len(parse_pencils(data, 'box.csv'))} pencils"
    except InputError as refusal:
        line = str(refusal)
    assert plain(line, 10_000) == line


# -- the file on disk ----------------------------------------------------------------


def test_a_set_goes_by_its_files_name(tmp_path):
    path = tmp_path / "my box.csv"
    path.write_text("name,hex\nRed,#b5443c\n")
    assert load_pencils(path).name == "my box"


def test_a_huge_file_is_refused_unread(tmp_path, monkeypatch):
    path = tmp_path / "huge.csv"
    with open(path, "wb") as file:
        file.truncate(1 << 30)  # sparse: a gigabyte that takes no room
    monkeypatch.setattr("builtins.open", lambda *_, **__: pytest.fail("it was opened"))
    with pytest.raises(InputError, match=r"too big \(1,073,741,824 bytes\)"):
        load_pencils(path)


def test_pipes_devices_and_folders_are_refused_and_nothing_hangs(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    for path in (tmp_path / "pipe", "/dev/zero", tmp_path):
        with pytest.raises(InputError, match="not an ordinary file"):
            load_pencils(path)


@pytest.mark.parametrize("path", ["nowhere.csv", "a\x1b[31mb.csv", "a\0b.csv", "x" * 5000])
def test_a_path_that_leads_nowhere(path):
    with pytest.raises(InputError) as refusal:
        load_pencils(path)
    assert plain(str(refusal.value), 1000) == str(refusal.value)


def test_reading_pencils_needs_no_numpy():
    """The first screen names the pencils, and its start counts milliseconds."""
    code = "import sys, drills.pencils.sets as s; s.demo_set(); print('numpy' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "False\n"


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("name,hex\nA,#12\n", (2, "hex")),
        ("name,hex\n\nA,#123456\nA,#123456\n", (4, "name")),
        ("name,hex\nA,#123456,x\n", (2, "")),
        ("name\n", (1, "")),
        ("name,hex\n", (0, "")),
    ],
)
def test_a_fault_has_its_place_as_data_too(text: str, place: tuple[int, str]):
    with pytest.raises(PencilsError) as found:
        parse(text)
    assert (found.value.row, found.value.column) == place
