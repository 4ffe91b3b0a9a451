"""Our laws beside flames that a general flow solver resolved: heat to pot and burner, and air.

python benchmarks/resolved.py [--quick] [--factors] [WORD ...]

The cases stand in benchmarks/resolved/cases.toml, with what was left out there and how far to trust them. Only cases
whose names have all WORDs are shown. --quick says the score and what missed alone, --factors how much more or less of
each law the cases ask for: the bands of burnsim.BANDS and burnsim.calibration.CORRELATIONS come from that.
"""

import argparse
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from resolved.asked import summary
from resolved.cases import once, read
from resolved.table import judge, misses, score, table


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("words", nargs="*", help="words of the names of the cases to show")
    parser.add_argument("--quick", action="store_true", help="only the score and what missed")
    parser.add_argument("--factors", action="store_true", help="which factors the settled cases ask for")
    options = parser.parse_args()
    found = [judge(case) for case in read() if all(word in case.name for word in options.words)]
    if not options.quick:
        print(table(found))
        print()
    print(score(found))
    print(misses(found))
    if options.factors:
        print(summary(once(tuple(one.case for one in found))))


if __name__ == "__main__":
    main()
