"""The compiled march: the physics text written out, laid out in memory, compiled, and run for many burns.

`solve/compile/` runs the physics text as machine code; there is no second copy of a law.

- `specialise.py` and `function_text.py` read the source of every function that the march calls and write it out for
  one number of components: loops over components unrolled, comprehensions to tuples, records to named tuples,
  constants to literals. The order of operations stays, so that both texts give the same slopes to the last bit (a
  test compares).
- `layout.py` lays `Parameters` out as one record with the same field names; it passes to the machine code as a row of
  one.
- There is one march: `stepper.py` (which knows nothing of burners: who steps evaluates the right-hand side between its
  stages), `controller.py`, `events.py`, `peaks.py`, `recorder.py`, `sizes.py` and `march.py` run as they stand on
  lists, and compiled on arrays. They read and write single numbers alone: `row[k]`, `table[i][k]`, lengths as numbers
  of their own, no slices.
- `machine_text.py` (with `calls.py`, `expressions.py`, `lines.py`) writes that text once more, in LLVM's language. The
  kind of everything (`kinds.py`) follows from the arguments of the one function that Python calls: a function is
  written once for each set of kinds. A record is no thing of its own there, but the numbers that it is made of.
  Physics is put into its callers, but for what stands in several places (`CALLED` in `engine.py`).
- `machine.py` has LLVM make an object file of it for this processor, and loads it. No arithmetic of floats is relaxed.
- `engine.py` keeps the object file in the user's cache folder (`burnsim.io.cache`), under a hash of the sources, the
  processor and the versions that made it. A change of any law asks for another file: no stale code can run. What is
  damaged, or not this user's alone, is as good as none. The caller owns all memory.

Numba, which came before, took 37 s of processor time to the first answer (typing and lowering 150 functions one by
one, each a module of its own), now it is 8 to 11 s: 1.2 s to write the text out, 0.4 s to machine text, 1.1 s to
simplify that, 3 s in LLVM's usual passes, 2.5 s to machine code; the rest is Python that starts. A third of it is for
the slopes of the pot's heat. Half of the optimiser's time went when groups of many values were passed by where they
stand, not as values of LLVM's own (its pass IPSCCP follows each of their numbers everywhere). Vector passes gain
nothing.

What the hot text may use: scalar `math`, records, NamedTuples, tuples, `for i in range(n)` over components,
`tuple([... for i in range(n)])`, `sum([...])`, short lists filled by `append`, conditions on `n`, keywords of
records. What it may not: dicts, other keywords, exceptions, strings, generators. The writer refuses the rest by
function and line.

Where the time of a burn goes (`benchmarks/many_burns.py`, perf, 40 double walls): one sixth outside the machine code,
half of that to make the setup ready and a third to judge it. Of the machine code, by samples and calls,

- half are attempts at steps: five evaluations each, some 170 a burn, of which a quarter are rejected;
- a third are the columns of the Jacobian, ten a step at most, each about half an evaluation, and the slopes of the
  pot's heat (`burnsim.slopes`), which cost 1.6 marches of the gas where difference quotients took eight;
- 7 % are evaluations at the ends of steps, 3 % look inside them for peaks, by the gas alone, the rest for roots;
- by laws, the gas along the pot takes a third; functions of the C library 27 % of all (36 % before powers, cube roots
  and tangents became exponentials and logarithms, `burnsim.elementary`), not counting what must leave the registers
  at each call.

What the next factor of two would take. Without any rejection burns were 1.15 times as fast, with columns for nothing
1.35, with nothing outside machine code 1.2. Columns could come from slopes of all laws in one pass (forward
differentiation, the slopes by four states in one vector register; a search differentiated at its root): perhaps half
their time, 1.15. Exponential and logarithm written out here as polynomials: 1.1 to 1.2, but plain Python would have to
run the same polynomials, or agree no longer to the last bit. A looser estimate gains nothing: to keep steps of 1.5
times the error allowed was 1.055 times as fast, and the boil's error rose from 0.08 to 0.15 s (99 in 100).

The one thing that reaches two is lanes: four burns in the registers of one. The march itself can stay as it is, four of
them that each stop at an evaluation and go on when it is there (four stacks); what must be written for lanes are the
pure functions (`balances`, `near`, `pressed`, the slopes of the pot's heat): numbers as vectors of four, branches as
masks with both sides run where lanes differ, searches run to the slowest lane, exponential, logarithm and error
function as polynomials. Roots and quotients take twice as long for four as for one, so that 2 to 2.5 is the most for
the machine code, 1.8 to 2 for all, at twice the time to compile. Text without branches in the laws would help it.
"""
