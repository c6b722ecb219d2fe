"""The examples kept in the repository are those the tool makes today, and the page of pictures
shows what it names.
"""

from __future__ import annotations

import re
import zipfile
from pathlib import Path

from make_examples import EXAMPLES, make_examples
from make_pictures import FOLDER, FORM, PAGE, page_text, titles, wanted

INDEX = "README.md"


def parts(path: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(path) as book:
        return {name: book.read(name) for name in book.namelist()}


def test_the_examples_are_current(tmp_path: Path) -> None:
    made = make_examples(tmp_path)
    assert {path.name for path in EXAMPLES.iterdir()} - {PAGE, FOLDER, INDEX} == {
        path.name for path in made
    }
    for path in made:
        kept = EXAMPLES / path.name
        if path.suffix == ".xlsx":
            assert parts(path) == parts(kept), (
                f"run python tests/scripts/make_examples.py: {path.name} is not current"
            )
        else:
            assert path.read_bytes() == kept.read_bytes(), (
                f"run python tests/scripts/make_examples.py: {path.name} is not current"
            )


def size(picture: bytes) -> tuple[int, int]:
    """Width and height of a PNG, by the first chunk that every PNG begins with."""
    assert picture[:8] == b"\x89PNG\r\n\x1a\n"
    assert picture[12:16] == b"IHDR"
    assert picture[-8:-4] == b"IEND"
    return int.from_bytes(picture[16:20]), int.from_bytes(picture[20:24])


def test_the_page_of_pictures_names_the_sheets_and_every_picture_is_there() -> None:
    page = (EXAMPLES / PAGE).read_text("utf-8")
    assert page == page_text(wanted(EXAMPLES / FOLDER)), "run python tests/scripts/make_pictures.py"
    named = re.findall(r"!\[(.+)\]\((.+)\)", page)
    assert sorted(file for _, file in named) == sorted(
        f"{FOLDER}/{path.name}" for path in (EXAMPLES / FOLDER).iterdir()
    )
    for name in titles():
        assert (EXAMPLES / FOLDER / f"{name}.png").is_file(), "every sheet is looked at"
    assert sum(file.startswith(f"{FOLDER}/Cards") for _, file in named) > 3
    assert sum(file.startswith(f"{FOLDER}/{FORM}_") for _, file in named) > 9
    for title, file in named:
        width, height = size((EXAMPLES / file).read_bytes())
        assert 300 <= width <= 1000, file
        assert 200 <= height <= 1200, file
        other = (FORM, "report", "telephone")
        assert title in {*titles().values()} or Path(file).name.startswith(other)


def test_the_readme_shows_a_picture_that_is_there_and_on_the_index() -> None:
    readme = (EXAMPLES.parent / "README.md").read_text("utf-8")
    (shown,) = re.findall(r"!\[.+\]\((.+)\)", readme)
    assert (EXAMPLES.parent / shown).is_file()
    index = (EXAMPLES / INDEX).read_text("utf-8")
    assert shown.removeprefix(f"{EXAMPLES.name}/") in re.findall(r"!\[.+\]\((.+)\)", index)


def test_the_index_leads_to_every_example_and_to_the_page_of_pictures() -> None:
    index = (EXAMPLES / INDEX).read_text("utf-8")
    leads = re.findall(r"^- \[(.+)\]\((.+)\): ", index, re.MULTILINE)
    assert [name for name, _ in leads] == [file for _, file in leads]
    assert {file for _, file in leads} == {path.name for path in EXAMPLES.iterdir()} - {
        FOLDER,
        INDEX,
    }
