"""`papers`: the way into this layer. From a plan and its house to files that people hold in their hands."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass, replace
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from hearthold.errors import InputError
from hearthold.papers.job import Job, say_of, sheet_for
from hearthold.study.wholefile import write_whole

if TYPE_CHECKING:
    from datetime import date

    from hearthold.house.house import House
    from hearthold.papers.job import Outlook
    from hearthold.plan.result import Plan

Maker = Callable[[Job], bytes | str]


@dataclass(frozen=True, slots=True)
class Paper:
    """One paper: its name, the file it becomes, what it is for, and where its maker stands."""

    name: str
    file: str
    meaning: str
    maker: str  # module:function, imported when it is asked for
    looks_ahead: bool = False  # tells risk and comparison

    def made(self, job: Job) -> bytes:
        """The paper's bytes."""
        module, _, function = self.maker.partition(":")
        maker: Maker = getattr(import_module(module), function)
        content = maker(job)
        return content.encode("utf-8") if isinstance(content, str) else content


PAPERS = (
    Paper("run-sheet", "run-sheet.pdf", "one page for the panel door", "hearthold.papers.runsheet:run_sheet"),
    Paper("brief", "electricians-brief.pdf", "what an electrician asks", "hearthold.papers.brief:brief"),
    Paper(
        "shopping",
        "shopping-list.pdf",
        "what to buy, ratings, price ranges",
        "hearthold.papers.shopping:shopping_list",
    ),
    Paper(
        "report",
        "plan-report.pdf",
        "the whole plan with charts and sources",
        "hearthold.papers.report:plan_report",
        looks_ahead=True,
    ),
    Paper(
        "drill",
        "drill-sheet.pdf",
        "a rehearsed outage, expected against read",
        "hearthold.papers.drill:drill_sheet",
    ),
    Paper(
        "calendar", "upkeep.ics", "upkeep for any calendar program", "hearthold.papers.calendar:calendar_page"
    ),
    Paper(
        "pocket",
        "pocket.html",
        "the routine for a phone, offline",
        "hearthold.papers.pocket.page:pocket_page",
    ),
)


def papers(
    plan: Plan,
    house: House,
    out: Path,
    *,
    today: date,
    paper: str | None = None,
    only: Collection[str] = (),
    url: str = "",
    us: bool | None = None,
    outlook: Callable[[], Outlook] | None = None,
) -> tuple[Path, ...]:
    """Write the papers of a plan into a folder (all if none are named); returns the files.

    `paper` is "letter" or "a4", or what is usual where the house stands; `us` chooses the reader's units;
    `url` is the pocket page's, printed as a code; `outlook` gives the report risk and comparison, and is asked
    only when the other papers are made, since it may still be reckoning. The same plan, outlook, house and day
    give the same bytes. Nothing is written before all is made.
    Raises: InputError for an unknown paper, and where the folder cannot be written.
    """
    chosen = _chosen(only)
    job = job_of(plan, house, today=today, paper=paper, url=url, us=us)
    made = {p: p.made(job) for p in chosen if not p.looks_ahead}
    ahead = replace(job, outlook=outlook()) if outlook is not None else job
    made |= {p: p.made(ahead) for p in chosen if p.looks_ahead}
    return tuple(write_whole(out / p.file, made[p]) for p in chosen)


def job_of(
    plan: Plan,
    house: House,
    *,
    today: date,
    paper: str | None = None,
    url: str = "",
    us: bool | None = None,
    outlook: Outlook | None = None,
) -> Job:
    """What all papers of one set share. Raises InputError for a sheet that is neither Letter nor A4."""
    from hearthold import __version__

    return Job(plan, house, today, sheet_for(house, paper), say_of(house, us), __version__, url, outlook)


def files_of(only: Collection[str] = ()) -> tuple[str, ...]:
    """Names of the files that `papers` writes. Raises InputError for an unknown paper."""
    return tuple(p.file for p in _chosen(only))


def _chosen(only: Collection[str]) -> tuple[Paper, ...]:
    unknown = [name for name in only if name not in {p.name for p in PAPERS}]
    if unknown:
        known = ", ".join(p.name for p in PAPERS)
        raise InputError(f"there is no paper {unknown[0]!r}; there are: {known}.", code="no_such_paper")
    return tuple(p for p in PAPERS if not only or p.name in only)
