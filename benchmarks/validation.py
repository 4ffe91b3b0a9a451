"""Every number that is checked against something outside the project, in one table.

python benchmarks/validation.py [--short] [--write] [--quick]

The records stand in tests/validation_records, each with its source; the tests run the same ones. --short shows the
worst case of each quantity; --write rewrites the tables in validation.md and in the README. Exit code 1 if a check
fails that is not known to.
"""

import argparse
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from validation_records.every import HEAD, line, rewrite_pages, short_table, worked_out


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--short", action="store_true", help="one row for each quantity")
    parser.add_argument("--write", action="store_true", help="rewrite the tables in validation.md and README.md")
    parser.add_argument("--quick", action="store_true", help="the same as --short")
    options = parser.parse_args()
    found = worked_out()
    if options.write:
        rewrite_pages()
    elif options.short or options.quick:
        print(short_table(found))
    else:
        print("\n".join([HEAD, *map(line, found)]))
    wrong = [one for one in found if one.passes == bool(one.record.fails)]
    for one in wrong:
        print(
            f"{one.record.quantity}, {one.record.case}: {one.shown_ours()}, published {one.shown_published()}",
            file=sys.stderr,
        )
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
