"""From the text of a spec as given to its full form: what it stands on taken in, every limit a
table with its source, every hole at a place of its own. The full form is what the model reads and
what the record of a book keeps, so that any machine can judge the book by itself.
"""

from __future__ import annotations

from pathlib import Path as FilePath

from pydantic import BaseModel

from datumbook.messages.refusals import shown
from datumbook.spec.documents import read_document, text_of
from datumbook.spec.drafts import Draft, WrittenAt
from datumbook.spec.faults import SpecFaults
from datumbook.spec.positions import key_lines
from datumbook.spec.resolve_base import base_of, over_base
from datumbook.spec.resolve_holes import holes_in_full, names_in_full, words_in_full
from datumbook.spec.resolve_limits import limits_in_full
from datumbook.spec.resolve_rows import depths_in_full, rows_in_full, units_in_full
from datumbook.spec.resolve_tables import holes_from_files


def resolved(text: str, name: str, folder: FilePath | None, model: type[BaseModel]) -> Draft:
    """The draft of a spec in its full form, with the faults found on the way; SpecFaults where the
    text is no document at all.

    folder: where the files it names stand; None where it may name none.
    """
    draft = _as_stated(text, name, folder, model, ())
    units_in_full(draft)
    depths_in_full(draft)
    rows_in_full(draft)
    words_in_full(draft)
    holes_in_full(draft)
    return draft


def _as_stated(
    text: str,
    name: str,
    folder: FilePath | None,
    model: type[BaseModel],
    above: tuple[FilePath, ...],
) -> Draft:
    """One file and what it stands on, put over each other."""
    document = read_document(text, name)
    spots = {path: WrittenAt(name, line) for path, line in key_lines(text).items()}
    draft = Draft(name, folder, document, {(): WrittenAt(name, 1), **spots})
    base = base_of(draft)
    names_in_full(draft)
    holes_from_files(draft)
    limits_in_full(draft, model)
    if base is None:
        return draft
    if base.resolve() in above or len(above) > 20:
        draft.refuse(("based_on",), "base-circle", shown(base.name))
        return draft
    try:
        below = _as_stated(text_of(base), str(base), base.parent, model, (*above, base.resolve()))
    except SpecFaults as told:
        draft.faults += told.faults
        return draft
    return over_base(below, draft, model)
