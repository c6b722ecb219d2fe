"""A virtual shop: blocks as point grids, gauges that err, a machine that cuts, and the block
measured again exactly.

It is a witness from outside: numpy and the standard library alone, nothing of the package under
test, and none of its equations. What it knows is solid geometry: points, a straight-edge that
rests on two of them, a table that three of them stand on, a cutter that takes away what is above
it. Lengths are mm, angles radians. Every array has the block as its first axis.

A harness drives it so:

    sizes = tomllib.loads(SIZES.read_text("utf-8"))["four_in_line"]       # or any plain dict
    blocks = random_blocks(sizes, seed, count)
    blocks, intended = intended_work(blocks, seed, uncertainty=0.006)     # half near a limit
    readings = measured(blocks, Gauges(), np.random.default_rng(seed))    # what the machinist reads
    ...                      # elsewhere: readings into the book, the plan out of it, block by block
    boring = BoringSheet(front=…, rear=…, size=…, caps_off=…)
    bored = line_bored(blocks, boring, Shop(), chance)                    # bored.missed: by tunnel
    cutting = CuttingSheet("deck", CRANK_LINE, touch=…, infeed=…)
    cut = face_cut(bored.blocks, cutting, Shop(), chance)
    truth = true_figures(cut)                                             # beside the forecast

The plan hands over what is printed on its sheet and nothing more: set-up words, the touched corner
(0 to 3 for front left, front right, rear left, rear right), the infeed, the lifts, the size and
what comes off the caps. `blocks.take(rows)` picks blocks, `blocks.take([i])` one. A block is made
again from sizes, seed, count and its place in the lot; lots of 500 to 2,000 keep memory small.
"""
