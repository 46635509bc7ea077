"""``coach doctor``: terminal, record and versions, for a report with nothing private in it."""

from __future__ import annotations

import json
import sys

import click


@click.command("doctor")
@click.option("--json", "as_json", is_flag=True, help="The report as one JSON object.")
def command(as_json: bool) -> None:
    """Look at the terminal, the record's health and the versions at work.

    Nothing is changed, and nothing private is printed: no path, no name, no answer.
    The exit status is 1 where something needs a remedy.
    """
    from coach.clock import local_now
    from coach.home import record_dir
    from coach.reports.character_widths import measured_widths
    from coach.reports.checkup import BLOCKS, SIGNS, check_up
    from drills.basics.days import practice_day

    widths = {} if as_json else measured_widths(BLOCKS + SIGNS)
    report = check_up(record_dir() / "record.db", widths=widths, today=practice_day(local_now()))
    if as_json:
        told = {
            part.lower(): [
                {"name": f.name, "found": f.found, "trouble": f.trouble, "remedy": f.remedy}
                for f in findings
            ]
            for part, findings in report.parts.items()
        }
        click.echo(json.dumps(told, ensure_ascii=False))
    else:
        for part, findings in report.parts.items():
            click.echo(part)
            for finding in findings:
                mark = "!" if finding.trouble else " "
                click.echo(f"{mark} {finding.name:20} {finding.found}")
                if finding.remedy:
                    click.echo(f"  {'':20} {finding.remedy}")
            click.echo("")
        click.echo("These should be unbroken and in line, with no gaps and no boxed marks:")
        click.echo(f"  {BLOCKS * 3}  {SIGNS}  ΔE00 ΔL* 3.4")
        troubles = len(report.troubles)
        click.echo("All well." if not troubles else f"Marked with !: {troubles}.")
    sys.exit(1 if report.troubles else 0)
