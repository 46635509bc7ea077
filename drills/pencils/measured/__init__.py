"""Pencils as an instrument measured them: CGATS.17, CxF3, or a table of spectra."""
