"""Each way a job is refused: its text, and what is said at which line."""

from __future__ import annotations

AT_THE_BENCH = {"too-many-single"}  # refused once the cells of the book are known
WITHOUT_FIGURES = {"figures-wanting"}  # by a spec of bores alone, in tests/spec/test_tiers.py
CASES = {
    "another engine": {
        "text": 'block = "7"\nengine = "Tarnside F2"\n',
        "code": "other-engine",
        "key": "engine",
        "line": 2,
        "said": 'this job is for "Tarnside F2", the engine file is of "Orrindale QP4". Give the '
        "engine file the job was written for, or write the name of this engine.",
    },
    "a long name": {
        "text": f'block = "{"7" * 41}"\n',
        "code": "job-name",
        "key": "block",
        "line": 1,
        "said": f"'{'7' * 41}' is no name for a job. Give it a name of 1 to 40 printable "
        "characters.",
    },
    "a station not on this engine": {
        "text": 'work = "recondition"\n\nwith = ["cam"]\n',
        "code": "not-on-this-engine",
        "key": "with",
        "line": 3,
        "said": 'the engine file says nothing of "cam". Take it out of the job, or add its '
        "section to the engine file: cam.",
    },
    "a station that is needed": {
        "text": 'work = ["bore"]\nwithout = ["bores"]\n',
        "code": "needed-by",
        "key": "without",
        "line": 2,
        "said": '"bores" is needed by cylinders bored. Leave that out too; or keep the station, '
        "and leave it as it is in the workbook with a reason.",
    },
    "a slip in a station's name": {
        "text": 'work = "measure"\n[[left]]\nstation = "tunels"\nreason = "x"\nby = "A. N."\n',
        "code": "not-one-of",
        "key": "left[1].station",
        "line": 3,
        "said": '"tunels" is not one of identity, plugs, proofs, bores, walls, liners, '
        "heights, faces, tunnels, cam, tappet_bores, dowels, core_holes, fits, holes, map, method, "
        "assembly, surfaces, cleaning, seals, valve_clearances, registers. "
        'Did you mean "tunnels"?',
    },
    "a station left that has no line": {
        "text": 'work = ["crack_test"]\nwith = ["method"]\n[[left]]\nstation = "method"\n'
        'reason = "x"\nby = "A. N."\n',
        "code": "not-one-of",
        "key": "left[1].station",
        "line": 4,
        "said": '"method" is not one of proofs. Leave the stations whose sheets it is about, '
        "or take it out of the job.",
    },
    "a station left that is not in the job": {
        "text": 'work = "recondition"\n[[left]]\nstation = "tunnels"\nreason = "x"\nby = "A. N."\n',
        "code": "not-in-job",
        "key": "left[1].station",
        "line": 3,
        "said": '"tunnels" is no part of this job, so that there is nothing to leave there. Take '
        'it out, or bring the station in: with = ["tunnels"].',
    },
    "nothing measured": {
        "text": 'work = ["strip"]\n',
        "code": "job-empty",
        "key": "work",
        "line": 1,
        "said": "strip: nothing is measured, so that there is nothing to check. Name work that "
        "cuts, or a station beside it, such as plugs, proofs, bores.",
    },
    "a key that is none": {
        "text": 'blok = "7"\n',
        "code": "unknown-key",
        "key": "blok",
        "line": 1,
        "said": 'there is no key "blok" here. Did you mean "block"?',
    },
}
