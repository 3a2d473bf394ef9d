"""Print how many slips of typing the audit finds, by size, and how often it knows the digit. Nothing is asserted.

1,000 single slips from a fixed seed in clean tables of distances, the same in rates of climb, climb and cruise, and
in the tables of one weight alone. Run by `make bench`; alone: python tests/benchmarks/slips.py [COUNT] [SEED].
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "studies"))

from seeded import DIGIT_SLIPS, SLIPS, blocks, distance_tables, found_in, other_tables, rough_tables, slips, summary

COUNT, SEED = 1000, 8083


def main() -> None:
    """Print every figure."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else COUNT
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else SEED
    whole, others = distance_tables(), other_tables()
    apart = [each for table in whole for each in blocks(table)]
    clean = [*whole, *others, *apart]
    print(f"seed {seed}; findings in {len(clean)} clean tables: {sum(len(found_in(table)) for table in clean)}")
    rough = rough_tables(seed, 5)
    alarms = [table.name for table in rough if found_in(table)]
    print(f"rough tables with an alarm: {len(alarms)} of {len(rough)}: {', '.join(sorted(set(alarms))) or 'none'}")
    for name, tables in (
        ("tables of distances", whole),
        ("tables of distances of one weight", apart),
        ("a table of four rows", whole[-1:]),
        ("rough tables of distances, of many shapes", rough),
        ("rates of climb, climb, cruise", others),
    ):
        print(f"\n{name}\n{summary(slips(tables, count, seed, SLIPS))}")
    print(f"\na digit mistyped, tables of distances\n{summary(slips(whole, count // 4, seed, DIGIT_SLIPS[3:]))}")


if __name__ == "__main__":
    main()
