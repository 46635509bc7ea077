"""CxF3 (ISO 17972-1:2015): XML with objects, each with a spectrum or a Lab of its own."""

from __future__ import annotations

from collections.abc import Iterator
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from drills.basics.errors import plain
from drills.pencils.measured.cgats import number_in
from drills.pencils.measured.colour import Viewing
from drills.pencils.measured.sample import Measured, MeasuredError, Sample, of_one, resampled

CORE = "http://colorexchangeformat.com/CxF3-core"
_USUAL_STEP = 10
"""nm, where no specification says otherwise (from memory: the schema leaves it open)."""


def read_cxf(text: str) -> Measured:
    """The objects that hold a reflectance spectrum or a Lab. Raises MeasuredError."""
    if "<!DOCTYPE" in text or "<!ENTITY" in text:
        raise MeasuredError("it declares entities of its own", "Export it again as plain CxF3.")
    try:
        root = ElementTree.fromstring(text.lstrip("\ufeff \t\r\n"))
    except ElementTree.ParseError as error:
        line = error.position[0]
        raise MeasuredError(f"its XML breaks off at line {line}", "Export it again.") from None
    if root.tag != f"{{{CORE}}}CxF":
        raise MeasuredError("it is XML, but not CxF3", "Export CxF3, CGATS or CSV.")
    specs = {one.get("Id", ""): one for one in root.iter(f"{{{CORE}}}ColorSpecification")}
    objects = list(root.iter(f"{{{CORE}}}Object"))
    spectra = [(place, one, found) for place, one, found in _with(objects, "ReflectanceSpectrum")]
    if spectra:
        return _spectra(spectra, specs)
    labs = list(_with(objects, "ColorCIELab"))
    if not labs:
        raise MeasuredError("no object in it has a reflectance or a Lab", "Export one of them.")
    return _labs(labs, specs)


def _with(objects: list[Element], what: str) -> Iterator[tuple[int, Element, Element]]:
    for place, one in enumerate(objects, start=1):
        found = one.find(f"{{{CORE}}}ColorValues/{{{CORE}}}{what}")
        if found is not None:
            yield place, one, found


def _spectra(found: list[tuple[int, Element, Element]], specs: dict[str, Element]) -> Measured:
    read = []
    for place, one, spectrum in found:
        values = [number_in(word, place) for word in (spectrum.text or "").split()]
        spec = specs.get(spectrum.get("ColorSpecification", ""))
        reach = None if spec is None else spec.find(f".//{{{CORE}}}WavelengthRange")
        first = spectrum.get("StartWL") or (reach.get("StartWL") if reach is not None else None)
        step = reach.get("Increment") if reach is not None else None
        read.append((place, one, _whole(first, 400), _whole(step, _USUAL_STEP), values))
    scale, note = of_one([values for *_, values in read])
    samples = [
        Sample(
            one.get("Name", ""),
            "",
            place,
            reflectance=resampled(first, step, [value / scale for value in values]),
        )
        for place, one, first, step, values in read
    ]
    return Measured(tuple(samples), (note,) if note else ())


def _labs(found: list[tuple[int, Element, Element]], specs: dict[str, Element]) -> Measured:
    samples: list[Sample] = []
    notes: list[str] = []
    for place, one, lab in found:
        spec = specs.get(lab.get("ColorSpecification", ""))
        words = "" if spec is None else " ".join(spec.itertext()).replace("_", " ")
        viewing = Viewing.of(words)
        parts = [lab.findtext(f"{{{CORE}}}{axis}", "") for axis in "LAB"]
        L, a, b = (number_in(part, place) for part in parts)
        samples.append(Sample(one.get("Name", ""), "", place, lab=viewing.to_d50((L, a, b))))
        notes += viewing.notes()
    return Measured(tuple(samples), tuple(dict.fromkeys(notes)))


def _whole(text: str | None, usual: int) -> int:
    if text is None:
        return usual
    if not text.strip().isdecimal() or len(text) > 4:
        raise MeasuredError(f"a wavelength of “{plain(text, 10)}” is none", "Export it again.")
    return int(text)
