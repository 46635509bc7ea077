"""Pencils as an instrument wrote them: CGATS.17, CxF3 and tables of spectra.

Sprague's interpolation is held to colour-science; CxF3 files are written by colour-cxf, the
colour-science developers' own writer; CGATS keywords are from memory of ISO 28178.
"""

from __future__ import annotations

import colour
import colour_cxf
import numpy as np
import pytest
from colour_cxf import cxf3
from hypothesis import given
from hypothesis import strategies as st

from drills.basics.errors import InputError
from drills.layering.palette import prepare
from drills.pencils.file import parse_pencils, to_csv
from drills.pencils.measured.sample import halved, resampled
from drills.pencils.pencil import PencilSet

NM = range(380, 731, 10)


def smooth(nm: float, place: float = 560.0) -> float:
    """A reflectance such as a red's: low, then rising."""
    return float(0.05 + 0.6 / (1 + np.exp(-(nm - place) / 18)))


RED = [smooth(nm) for nm in NM]
RED_31 = tuple(smooth(nm) for nm in range(400, 701, 10))


def read(text: str, name: str = "measured.txt") -> PencilSet:
    return parse_pencils(text.encode(), name)


def cgats(
    fields: str, rows: list[str], header: str = "", sets: int | None = None, end: str = "END_DATA"
) -> str:
    count = len(rows) if sets is None else sets
    table = "\n".join(rows)
    return (
        f'CGATS.17\nORIGINATOR "nobody"\n{header}\nBEGIN_DATA_FORMAT\n{fields}\n'
        f"END_DATA_FORMAT\nNUMBER_OF_SETS {count}\nBEGIN_DATA\n{table}\n{end}\n"
    )


def cells(values: list[float], scale: float = 1.0) -> str:
    return " ".join(f"{scale * value:.6f}" for value in values)


class TestResampling:
    @given(st.lists(st.floats(0.0, 1.0), min_size=6, max_size=20))
    def test_steps_of_20_are_halved_as_cie_167_says(self, values: list[float]) -> None:
        x = np.arange(len(values)) * 20.0
        wanted = colour.SpragueInterpolator(x, values)(np.arange(x[-1] / 10 + 1) * 10.0)
        assert halved(values) == pytest.approx(wanted.tolist(), abs=1e-9)

    def test_what_is_measured_finer_or_wider_gives_its_own_values_at_the_tens(self) -> None:
        for step in (1, 2, 5, 10):
            wide = [smooth(nm) for nm in range(380, 731, step)]
            assert resampled(380, step, wide) == pytest.approx(RED_31)

    def test_steps_of_20_come_near_a_smooth_truth(self) -> None:
        found = resampled(400, 20, [smooth(nm) for nm in range(400, 701, 20)])
        assert found == pytest.approx(RED_31, abs=0.004)

    def test_a_spectrum_that_ends_a_little_short_goes_on_with_its_last_value(self) -> None:
        found = resampled(420, 10, [smooth(nm) for nm in range(420, 691, 10)])
        assert found[:2] == (smooth(420),) * 2
        assert found[-1] == smooth(690)


class TestCgats:
    @pytest.mark.parametrize("prefix", ["SPECTRAL_NM", "SPECTRAL_NM_", "SPECTRAL_", "NM", "R_"])
    def test_spectra_by_any_of_the_usual_names(self, prefix: str) -> None:
        fields = "SAMPLE_ID SAMPLE_NAME " + " ".join(f"{prefix}{nm}" for nm in NM)
        made = read(cgats(fields, [f'A1 "Quay Red" {cells(RED)}']))
        (pencil,) = made.pencils
        assert (pencil.name, pencil.code) == ("Quay Red", "A1")
        assert pencil.reflectance == pytest.approx(RED_31, abs=1e-6)
        assert made.notes == ()

    def test_a_comment_ends_a_line_but_not_a_quoted_name(self) -> None:
        rows = ['"Red #2" 45 50 30 # read "twice"', "Blue 30 5 -40  # 9", "# none", '"" 5 0 0']
        fields = "SAMPLE_NAME LAB_L LAB_A LAB_B # of each"
        text = cgats(fields, rows[:3], sets=2)
        assert [one.name for one in read(text).pencils] == ["Red #2", "Blue"]
        with pytest.raises(InputError, match="name"):
            read(cgats(fields, rows[3:]))

    def test_a_sample_may_run_over_several_lines_where_all_come_out_even(self) -> None:
        rows = ['"Quay Red"', "45 50", "30 Blue 30 5", "-40"]
        made = read(cgats("SAMPLE_NAME LAB_L LAB_A LAB_B", rows, sets=2))
        assert [(one.name, one.lab) for one in made.pencils] == [
            ("Quay Red", (45.0, 50.0, 30.0)),
            ("Blue", (30.0, 5.0, -40.0)),
        ]
        with pytest.raises(InputError, match="says 2 samples and holds 3"):
            read(cgats("SAMPLE_NAME LAB_L LAB_A LAB_B", rows[:3], sets=2))

    def test_a_second_table_is_told_of(self) -> None:
        one = cgats("SAMPLE_NAME LAB_L LAB_A LAB_B", ["Red 45 50 30"], 'ILLUMINANT "D50"')
        assert read(one).notes == ()
        made = read(one + one.replace("Red", "Blue").split("\n", 1)[1])
        assert [pencil.name for pencil in made.pencils] == ["Red"]
        assert made.notes == ("It holds 2 tables: the first is read.",)

    def test_per_cent_is_known_and_said(self) -> None:
        fields = "SAMPLE_NAME " + " ".join(f"SPECTRAL_PCT{nm}" for nm in NM)
        made = read(cgats(fields, [f'"Quay Red" {cells(RED, 100)}']))
        assert made.pencils[0].reflectance == pytest.approx(RED_31, abs=1e-6)
        assert "per cent" in made.notes[0]

    def test_lab_under_d50_stands_as_it_is(self) -> None:
        header = 'WEIGHTING_FUNCTION "ILLUMINANT,D50"\nWEIGHTING_FUNCTION "OBSERVER,2degree"'
        made = read(cgats("SAMPLE_NAME LAB_L LAB_A LAB_B", ["Red 45,5 50 30"], header))
        assert made.pencils[0].lab == (45.5, 50.0, 30.0)
        assert made.notes == ()

    def test_lab_under_d65_is_taken_to_d50_by_bradford_and_said(self) -> None:
        header = 'WEIGHTING_FUNCTION "ILLUMINANT,D65"'
        made = read(cgats("SAMPLE_NAME LAB_L LAB_A LAB_B", ["Red 45 50 30"], header))
        d65 = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]
        d50 = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D50"]
        xyz = colour.chromatic_adaptation(
            colour.Lab_to_XYZ([45, 50, 30], d65),
            colour.xy_to_XYZ(d65),
            colour.xy_to_XYZ(d50),
            transform="Bradford",
        )
        assert made.pencils[0].lab == pytest.approx(colour.XYZ_to_Lab(xyz, d50), abs=0.05)
        assert "under D65" in made.notes[0]

    def test_an_unnamed_light_and_the_wide_observer_are_said(self) -> None:
        fields, rows = "SAMPLE_NAME LAB_L LAB_A LAB_B", ["Red 45 50 30"]
        assert "No illuminant is named" in read(cgats(fields, rows)).notes[0]
        header = 'WEIGHTING_FUNCTION "ILLUMINANT,D50"\nWEIGHTING_FUNCTION "OBSERVER,10 degree"'
        assert "10° observer" in read(cgats(fields, rows, header)).notes[0]

    def test_xyz_is_read_where_there_is_no_lab(self) -> None:
        header = 'WEIGHTING_FUNCTION "ILLUMINANT,D50"'
        made = read(cgats("SAMPLE_NAME XYZ_X XYZ_Y XYZ_Z", ["White 96.42 100 82.49"], header))
        assert made.pencils[0].lab == pytest.approx((100.0, 0.0, 0.0), abs=0.05)

    def test_a_swatch_on_black_joins_its_pencil(self) -> None:
        fields = "SAMPLE_NAME " + " ".join(f"NM{nm}" for nm in NM)
        rows = [f'"Quay Red" {cells(RED)}', f'"Quay Red (on black)" {cells(RED, 0.3)}']
        (pencil,) = read(cgats(fields, rows)).pencils
        assert pencil.on_black == pytest.approx([0.3 * value for value in RED_31], abs=1e-6)
        with pytest.raises(InputError, match="has no swatch on white"):
            read(cgats(fields, rows[1:]))

    @pytest.mark.parametrize(
        ("text", "problem"),
        [
            (cgats("SAMPLE_NAME LAB_L LAB_A LAB_B", ["Red 4 5 6"], sets=2), "says 2 samples"),
            (cgats("SAMPLE_NAME LAB_L LAB_A LAB_B", ["Red 4 5"]), "3 values for 4 fields"),
            (cgats("SAMPLE_NAME LAB_L LAB_A LAB_B", ["Red 4 5 x"]), "is no measurement"),
            (cgats("SAMPLE_NAME LAB_L LAB_A LAB_B", ["Red 4 5 6"], end=""), "no END_DATA"),
            (cgats("SAMPLE_NAME LAB_L LAB_A", ["Red 4 5"]), "three colour fields"),
            (cgats("SAMPLE_NAME CMYK_C", ["Red 4"]), "neither spectra nor Lab nor XYZ"),
            (cgats("LAB_L LAB_A LAB_B", ["4 5 6"]), "no field names the samples"),
            (
                cgats("SAMPLE_NAME LAB_L LAB_A LAB_B", ["Red 4 5 6"], 'ILLUMINANT "F11"'),
                "under F11",
            ),
            (
                cgats("SAMPLE_NAME " + " ".join(f"NM{nm}" for nm in range(450, 651, 10)), []),
                "no coloured pencil",
            ),
            (
                cgats(
                    "SAMPLE_NAME " + " ".join(f"NM{nm}" for nm in range(450, 651, 10)),
                    ["Red " + " ".join(["0.5"] * 21)],
                ),
                "runs from 450 to 650 nm",
            ),
        ],
    )
    def test_what_can_not_be_read_is_one_line(self, text: str, problem: str) -> None:
        with pytest.raises(InputError, match=problem) as refused:
            read(text)
        assert "\n" not in str(refused.value)
        assert str(refused.value).startswith("measured.txt")


def test_a_strangers_names_neither_hang_nor_write_to_the_terminal() -> None:
    fields, space = "SAMPLE_NAME LAB_L LAB_A LAB_B", " " * 200_000
    with pytest.raises(InputError, match="over 60 characters"):
        read(cgats(fields, [f'"a{space}b" 50 0 0']))
    with pytest.raises(InputError, match="has no swatch on white") as refused:
        read(cgats(fields, ['"a\x1b[31m on black" 50 0 0']))
    assert "\x1b" not in str(refused.value)


class TestCxf3:
    def written(self, *values: object, spec: cxf3.ColorSpecification | None = None) -> str:
        """A file by colour-cxf with one object for each of ``values``."""
        objects = [
            cxf3.Object(
                object_type="Standard",
                name=f"Pencil {place}",
                id=f"o{place}",
                color_values=cxf3.ColorValues(choice=[value]),
            )
            for place, value in enumerate(values, start=1)
        ]
        made = cxf3.CxF(
            resources=cxf3.Resources(
                object_collection=cxf3.ObjectCollection(object_value=objects),
                color_specification_collection=cxf3.ColorSpecificationCollection(
                    color_specification=[spec]
                )
                if spec is not None
                else None,
            )
        )
        out = colour_cxf.write_cxf(made)
        return out.decode() if isinstance(out, bytes) else out

    def test_spectra(self) -> None:
        spectrum = cxf3.ReflectanceSpectrum(value=RED, start_wl=380)
        (pencil,) = read(self.written(spectrum), "measured.cxf").pencils
        assert pencil.name == "Pencil 1"
        assert pencil.reflectance == pytest.approx(RED_31, abs=1e-6)

    def test_the_specification_says_the_step(self) -> None:
        spec = cxf3.ColorSpecification(
            id="s1",
            measurement_spec=cxf3.MeasurementSpec(
                wavelength_range=cxf3.WavelengthRange(start_wl=400, increment=20)
            ),
        )
        coarse = [smooth(nm) for nm in range(400, 701, 20)]
        spectrum = cxf3.ReflectanceSpectrum(value=coarse, start_wl=400, color_specification="s1")
        (pencil,) = read(self.written(spectrum, spec=spec), "m.cxf").pencils
        assert pencil.reflectance == pytest.approx(RED_31, abs=0.004)

    def test_lab(self) -> None:
        lab = cxf3.ColorCielab(l=45.0, a=50.0, b=30.0)
        made = read(self.written(lab), "m.cxf")
        assert made.pencils[0].lab == (45.0, 50.0, 30.0)
        assert "No illuminant is named" in made.notes[0]

    @pytest.mark.parametrize(
        ("text", "problem"),
        [
            ("<!DOCTYPE a [<!ENTITY b 'c'>]><a>&b;</a>", "entities of its own"),
            ("<a><b></a>", "breaks off at line 1"),
            ("<svg xmlns='http://www.w3.org/2000/svg'/>", "not CxF3"),
            ("<cc:CxF xmlns:cc='http://colorexchangeformat.com/CxF3-core'/>", "no object in it"),
        ],
    )
    def test_other_xml_is_refused_in_one_line(self, text: str, problem: str) -> None:
        with pytest.raises(InputError, match=problem):
            read(text, "m.cxf")


class TestTables:
    @pytest.mark.parametrize("head", ["{}", "r{}", "{} nm", "{}.0", "R_{}nm"])
    def test_a_column_a_wavelength(self, head: str) -> None:
        names = ",".join(head.format(nm) for nm in NM)
        row = ",".join(f"{value:.6f}" for value in RED)
        (pencil,) = read(f"name,{names}\nQuay Red,{row}\n", "box.csv").pencils
        assert pencil.reflectance == pytest.approx(RED_31, abs=1e-6)

    def test_a_pencils_file_of_its_own_31_stays_what_it_was(self) -> None:
        names = ",".join(f"r{nm}" for nm in range(400, 701, 10))
        row = ",".join(["0.25"] * 31)
        made = read(f"name,opacity,{names}\nGrey,opaque,{row}\n", "box.csv")
        assert made.pencils[0].opacity == "opaque"
        assert made.pencils[0].reflectance == (0.25,) * 31

    def test_a_row_that_is_no_measurement_is_named(self) -> None:
        names = ",".join(str(nm) for nm in NM)
        row = ",".join(["0.2"] * len(NM))
        with pytest.raises(InputError, match="line 3"):
            read(f"name,{names}\nA,{row}\nB,{row[:-3]}oh\n", "box.csv")


def test_a_measured_set_is_kept_as_a_pencils_file_and_drilled_with() -> None:
    fields = "SAMPLE_NAME " + " ".join(f"NM{nm}" for nm in NM)
    rows = [f'"P {at}" {cells([smooth(nm, 480 + 25 * at) for nm in NM])}' for at in range(4)]
    made = read(cgats(fields, rows))
    assert parse_pencils(to_csv(made).encode(), "kept").fingerprint == made.fingerprint
    assert len(prepare(made)) == 4
