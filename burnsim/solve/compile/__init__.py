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
- `machine_text.py` (with `calls.py`, `expressions.py`, `lines.py`) writes that text once more, in LLVM's language. The
  kind of everything (`kinds.py`) follows from the arguments of the one function that Python calls: a function is
  written once for each set of kinds. A record is no thing of its own there, but the numbers that it is made of.
  Physics is put into its callers, but for `balances`, `near` and `follow`, which stand in several places.
- `machine.py` has LLVM make an object file of it for this processor, and loads it. No arithmetic of floats is relaxed.
- `engine.py` keeps the object file in the user's cache folder (`burnsim.io.cache`), under a hash of the sources, the
  processor and the versions that made it. A change of any law asks for another file: no stale code can run. What is
  damaged, or not this user's alone, is as good as none. The caller owns all memory.

Numba, which came before, took 37 s of processor time to the first answer (typing and lowering 150 functions one by
one, each a module of its own), now it is 4 to 5 s: 0.5 s to write the text out, 0.2 s to machine text, 0.7 s to
simplify that, 1.3 s in LLVM's usual passes, 1.1 s to machine code; the rest is Python that starts. Half of the
optimiser's time went when groups of many values were passed by where they stand, not as values of LLVM's own (its pass
IPSCCP follows each of their numbers everywhere). Vector passes gain nothing.

What the hot text may use: scalar `math`, records, NamedTuples, tuples, `for i in range(n)` over components,
`tuple([... for i in range(n)])`, `sum([...])`, short lists filled by `append`, conditions on `n`, keywords of
records. What it may not: dicts, other keywords, exceptions, strings, generators. The writer refuses the rest by
function and line.

One lane, not many: lanes that step together in vector registers would want branch-free text and loops of fixed
length, and the gauge pressures are searches that end when they have converged. What was left on the table is told by
`benchmarks/many_burns.py`: its floor is evaluations times the cost of one.
"""
