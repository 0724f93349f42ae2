"""The folder: its own files alone, nothing overwritten unseen, what was there before kept."""

import pytest
from web_bench import OTHER, SHEET

from bladehold.web.shelf import MOST_COPIES, ChangedError, NoSheetError, Shelf, mark_of


def test_only_sheets_of_the_folder_are_seen(folder, tmp_path):
    (tmp_path / "outside.toml").write_text("x = 1")
    (folder / "link.toml").symlink_to(tmp_path / "outside.toml")
    (folder / ".hidden.toml").write_text("x = 1")
    (folder / "sub.toml").mkdir()
    shelf = Shelf(folder)
    assert shelf.names() == ["sub.toml", OTHER, SHEET]
    assert shelf.line_names() == ["ostrel_line.csv"]
    for name in ("link.toml", ".hidden.toml", "sub.toml", "none.toml"):
        with pytest.raises(NoSheetError):
            shelf.read(name)


@pytest.mark.parametrize(
    "name",
    [
        "../outside.toml",
        "..",
        "/a/b",
        "a/b.toml",
        "a\\b.toml",
        "a\0.toml",
        "con.toml",
        "x.TOML\n",
        "x.py",
        "",
    ],
)
def test_no_name_leads_out_of_the_folder(folder, tmp_path, name):
    (tmp_path / "outside.toml").write_text("x = 1")
    shelf = Shelf(folder)
    with pytest.raises(NoSheetError):
        shelf.path(name)
    with pytest.raises(ValueError, match="a sheet is named by"):
        shelf.add(name, "x = 1")


def test_saving_keeps_the_text_before_as_a_copy(folder, text):
    shelf = Shelf(folder)
    shelf.save(SHEET, "new", mark_of(text))
    assert (folder / SHEET).read_text() == "new"
    assert [copy.read_text(encoding="utf-8") for copy in shelf.copies(SHEET)] == [text]
    shelf.save(SHEET, "new", mark_of("new"))
    assert len(shelf.copies(SHEET)) == 1


def test_a_file_that_was_changed_by_another_is_not_overwritten(folder, text):
    shelf = Shelf(folder)
    shelf.save(SHEET, "theirs", mark_of(text))
    with pytest.raises(ChangedError) as caught:
        shelf.save(SHEET, "mine", mark_of(text))
    assert caught.value.there.text == "theirs"
    assert (folder / SHEET).read_text() == "theirs"
    shelf.save(SHEET, "mine", mark_of("theirs"))
    assert [copy.read_text(encoding="utf-8") for copy in shelf.copies(SHEET)] == ["theirs", text]


def test_copies_do_not_pile_up(folder, text):
    shelf, before = Shelf(folder), text
    for number in range(MOST_COPIES + 3):
        after = f"text {number}"
        shelf.save(SHEET, after, mark_of(before))
        before = after
    assert len(shelf.copies(SHEET)) == MOST_COPIES
    assert shelf.copies(SHEET)[0].read_text() == f"text {MOST_COPIES + 1}"


def test_a_new_sheet_takes_no_name_that_is_there(folder):
    shelf = Shelf(folder)
    shelf.add("new one.toml", "x = 1\r\n")
    assert (folder / "new one.toml").read_bytes() == b"x = 1\r\n"
    with pytest.raises(FileExistsError):
        shelf.add("new one.toml", "y = 1")


def test_what_is_no_text_or_too_large_is_told(folder):
    (folder / "bytes.toml").write_bytes(b"\xff\xfe")
    (folder / "large.toml").write_bytes(b"#" * 200_001)
    shelf = Shelf(folder)
    with pytest.raises(ValueError, match="UTF-8"):
        shelf.read("bytes.toml")
    with pytest.raises(ValueError, match="more than"):
        shelf.read("large.toml")


def test_no_folder_is_refused(tmp_path):
    with pytest.raises(NotADirectoryError):
        Shelf(tmp_path / "none")
