"""Sheets to print: marks in millimetres, laid on A4 or Letter, as one HTML page or SVG."""
