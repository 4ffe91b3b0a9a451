"""Every record, and the table of them."""

from collections.abc import Iterable
from functools import cache
from pathlib import Path

from validation_records import blends, combustion, flow, fuels, heat, water_air, whole
from validation_records.record import Found, Record, work_out

ROOMS = (fuels, blends, combustion, water_air, flow, heat, whole)
ROOT = Path(__file__).parents[2]
PAGE = ROOT / "benchmarks" / "validation.md"
README = ROOT / "README.md"
BEGIN = "<!-- validation table: made by `python benchmarks/validation.py --write` -->"
END = "<!-- end of the validation table -->"
HEAD = "| quantity | published | ours | difference | accepted | source | status |\n" + 7 * "| --- " + "|"


@cache
def every() -> tuple[Record, ...]:
    """All records in order."""
    return tuple(record for room in ROOMS for record in room.records())


@cache
def worked_out() -> tuple[Found, ...]:
    """All of them evaluated; some burn a burner."""
    return tuple(work_out(record) for record in every())


def line(found: Found, cases: int = 1) -> str:
    """A row of the table."""
    record = found.record
    name = record.quantity
    if record.case:
        name += f", {record.case}"
    if cases > 1:
        name += f" (worst of {cases})"
    cells = (
        name,
        found.shown_published(),
        found.shown_ours(),
        found.shown_difference(),
        found.shown_accept(),
        record.source,
        record.status if found.passes else f"{record.status}; **not met**: {record.fails}",
    )
    return "| " + " | ".join(cell.replace("|", "/") for cell in cells) + " |"


def near(found: Found) -> float:
    """How near the edge of its range a value lies: 0 in the middle, 1 at an end; 0 where there is no range."""
    if found.record.how != "range":
        return 0.0
    low, high = found.published, found.record.accept
    return abs(found.ours - 0.5 * (low + high)) / (0.5 * (high - low))


def groups(found: Iterable[Found]) -> list[list[Found]]:
    """Records by quantity and source, in order."""
    made: dict[tuple[str, str, str], list[Found]] = {}
    for one in found:
        record = one.record
        made.setdefault((record.room, record.quantity, record.source), []).append(one)
    return list(made.values())


def strained(some: list[Found]) -> Found:
    """The case that strains what is accepted most."""
    return max(some, key=lambda one: (one.strain, near(one)))


def short_table(found: Iterable[Found]) -> str:
    """One row for each quantity and source: the case that strains what is accepted most."""
    rows: list[str] = [HEAD]
    before = ""
    for some in groups(found):
        room = some[0].record.room
        if room != before:
            rows.append(f"| **{room}** | | | | | | |")
            before = room
        rows.append(line(strained(some), len(some)))
    return "\n".join(rows)


def page_block() -> str:
    """What stands in the page between the two marks, marks included."""
    found = worked_out()
    met = sum(one.passes for one in found)
    words = (
        f"{len(found)} numbers are checked against something outside the project; {met} are within what is accepted,\n"
        f"and {len(found) - met} are known not to be. Each row shows the worst case of a quantity;\n"
        "`python benchmarks/validation.py` prints all. Status: *published*, the source was read; *from memory*,\n"
        "quoted from memory of the source; *by library*, worked out in the test by another library;\n"
        "*common practice*, no source."
    )
    return "\n".join([BEGIN, "", words, "", short_table(found), "", END])


def burns_block() -> str:
    """What stands in the README between the two marks, marks included: whole burns, measured beside predicted."""
    rows = ["| whole burns | measured | predicted | source |", 4 * "| --- " + "|"]
    for one in map(strained, groups(one for one in worked_out() if one.record.room == whole.ROOM)):
        record = one.record
        name = f"{record.quantity}, {record.case}" if record.case else record.quantity
        ours = one.shown_ours() if one.passes else f"{one.shown_ours()}: not met"
        rows.append(f"| {name} | {one.shown_published()} | {ours} | {record.status} |")
    table = "\n".join(rows).replace("m2", "m²").replace("degC", "°C")
    return "\n".join([BEGIN, "", table, "", END])


def in_page(page: Path) -> str | None:
    """The block as it stands in a page; None if there are no marks."""
    text = page.read_text(encoding="utf-8")
    if BEGIN not in text or END not in text:
        return None
    return BEGIN + text.partition(BEGIN)[2].partition(END)[0] + END


def rewrite_pages() -> None:
    """Put the blocks between the marks."""
    for page, block in ((PAGE, page_block()), (README, burns_block())):
        text = page.read_text(encoding="utf-8")
        before, _, rest = text.partition(BEGIN)
        _, _, after = rest.partition(END)
        page.write_text(before + block + after, encoding="utf-8")
