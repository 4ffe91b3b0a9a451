"""Our laws beside flames that a general flow solver resolved: heat to pot and burner, and air.

python benchmarks/resolved.py [--quick] [WORD ...]

The cases stand in benchmarks/resolved/cases.toml, with what was left out there and how far to trust them. Only cases
whose names have all WORDs are shown. --quick says the score and what missed alone.
"""

import argparse
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from resolved.cases import read
from resolved.table import judge, misses, score, table


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("words", nargs="*", help="words of the names of the cases to show")
    parser.add_argument("--quick", action="store_true", help="only the score and what missed")
    options = parser.parse_args()
    found = [judge(case) for case in read() if all(word in case.name for word in options.words)]
    if not options.quick:
        print(table(found))
        print()
    print(score(found))
    print(misses(found))


if __name__ == "__main__":
    main()
