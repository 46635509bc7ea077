"""``coach skills``: every skill with its threshold, due day and tries."""

from __future__ import annotations

import json

import click

from coach.home import close_and_say
from drills.basics.errors import InputError, plain


@click.command("skills")
@click.option("--json", "as_json", is_flag=True, help="All figures as one JSON object.")
def command(as_json: bool) -> None:
    """List every skill: how fine you see, and when it comes back.

    A threshold is the smallest step you see four times in five: smaller is
    finer. Nothing in the record is changed.
    """
    from coach.clock import local_now
    from coach.home import record_path
    from coach.reports.skill_table import as_json as to_json
    from coach.reports.skill_table import lines, skill_figures
    from drills.basics.days import practice_day
    from scores.learner.overlay import skills_told
    from scores.record.failures import FAILURES, reason
    from scores.record.record import Record
    from scores.today.day_plan import aims_of
    from scores.today.offers import offers_in

    now = local_now()
    path = record_path()
    record = Record.open(path, create=False)
    seen: list[str] = []
    try:
        # Kept by an older coach they may lack a new drill, but they name what is asked.
        offers = offers_in(record.setting("offers"))
        skills = record.skills()
        if skills:
            from coach.reports.progress_figures import known_offers
            from scores.learner.eye import EyeModel

            day = practice_day(now)
            eye = EyeModel.of(record, offers or known_offers(record), day.toordinal())
            figures = eye.figures(day.toordinal())
            aims = aims_of(record.settings())
            skills = skills_told(skills, figures, day, aims.retention)
            if not as_json:
                from coach.reports.progress_figures import known_change
                from coach.reports.seen.then_now import lines as then_now_lines

                known = known_change(record, eye, offers or known_offers(record), day)[1]
                seen = then_now_lines(known)
        rows = skill_figures(skills, offers, now)
    except FAILURES as error:
        raise InputError(plain(str(path), 200), reason(error), "Try: coach doctor") from error
    finally:
        close_and_say(record)
    if as_json:
        click.echo(json.dumps(to_json(rows), ensure_ascii=False))
    else:
        for line in lines(rows, practice_day(now)):
            click.echo(line)
        for line in ["", *seen] if seen else []:
            click.echo(line)
