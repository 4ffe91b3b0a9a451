"""The compiled march: the physics text written out, laid out in memory, compiled, and run for many burns.

`solve/compile/` runs the physics text as machine code; there is no second copy of a law.

- `specialise.py` and `function_text.py` read the source of every function that the march calls and write it out for
  one number of components: loops over components unrolled, comprehensions to tuples, records to named tuples,
  constants to literals. The order of operations stays, so that both texts give the same slopes to the last bit (a
  test compares).
- `layout.py` lays `Parameters` out as one record with the same field names; it passes to the machine code as a row of
  one.
- There is one march: `stepper.py` (which knows nothing of burners: who steps evaluates the right-hand side between its
  stages), `controller.py`, `events.py`, `recorder.py`, `sizes.py` and `march.py` run as they stand on lists, and
  compiled on arrays. They read and write single numbers alone: `row[k]`, `table[i][k]`, lengths as numbers of their
  own, no slices.
- `engine.py` writes the text to `march_HASH.py` in the cache folder, the hash being that of the rooms' sources and of
  the versions that compile them, and lets numba keep its machine code beside it. A change of any law makes another
  file: no stale code can run. Physics is put inline but for `balances` and `near`, which hold the rest: records of
  twenty numbers that pass through memory cost a quarter more. The caller owns all memory, so that no references to
  arrays are counted (numba's option `_nrt`, which has no public name): another tenth.

What the hot text may use: scalar `math`, records, NamedTuples, tuples, `for i in range(n)` over components,
`tuple([... for i in range(n)])`, `sum([...])`, short lists filled by `append`, conditions on `n`, keywords of
records. What it may not: dicts, other keywords, exceptions, strings, generators. The writer refuses the rest by
function and line.

One lane, not many: lanes that step together in vector registers would want branch-free text and loops of fixed
length, and the gauge pressures are searches that end when they have converged. What was left on the table is told by
`benchmarks/many_burns.py`: its floor is evaluations times the cost of one.
"""
