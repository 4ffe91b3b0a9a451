"""Every record of published values, and the page with the table of them."""

import pytest
from validation_records.every import PAGE, README, burns_block, every, in_page, page_block
from validation_records.record import Record, work_out

KNOWN = "ignore::DeprecationWarning", "ignore::SyntaxWarning", "ignore::ResourceWarning"


def parameters() -> list[object]:
    return [
        pytest.param(
            record,
            id=f"{record.quantity}-{record.case}",
            marks=[pytest.mark.xfail(strict=True, reason=record.fails)] if record.fails else [],
        )
        for record in every()
    ]


@pytest.mark.filterwarnings(*KNOWN, "ignore::pytest.PytestUnraisableExceptionWarning")
@pytest.mark.parametrize("record", parameters())
def test_record(record: Record) -> None:
    found = work_out(record)
    assert found.passes, (found.shown_ours(), found.shown_published(), found.shown_difference(), record.source)


def test_every_record_has_a_source_and_its_own_name() -> None:
    names = [(record.room, record.quantity, record.case) for record in every()]
    assert len(set(names)) == len(names), sorted(name for name in names if names.count(name) > 1)
    assert all(record.source.strip() for record in every())
    assert all(record.accept > 0.0 for record in every())


@pytest.mark.filterwarnings(*KNOWN, "ignore::pytest.PytestUnraisableExceptionWarning")
def test_the_page_has_the_table_as_it_is_now() -> None:
    assert in_page(PAGE) == page_block(), "run python benchmarks/validation.py --write"
    assert in_page(README) == burns_block(), "run python benchmarks/validation.py --write"
