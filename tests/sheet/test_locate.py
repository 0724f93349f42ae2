"""Every key is found on the line where it was written."""

import string
import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladehold.sheet.locate import line_of, lines_of_keys

TEXTS = {
    "plain": (
        "a = 1\n\n# a remark = 2\n[t]  # b = 3\nb = 'x = y'\n  c = 4\n",
        {("a",): 1, ("t",): 4, ("t", "b"): 5, ("t", "c"): 6},
    ),
    "dotted keys": (
        'a.b.c = 1\na.b."d e" = 2\n[t]\nx . y = 3\n',
        {
            ("a",): 1,
            ("a", "b"): 1,
            ("a", "b", "c"): 1,
            ("a", "b", "d e"): 2,
            ("t",): 3,
            ("t", "x"): 4,
            ("t", "x", "y"): 4,
        },
    ),
    "quoted keys": (
        '"a.b" = 1\n\'c "d"\' = 2\n"e=#f" = 3\n"\\u0067\\t" = 4\n["h.i".j]\nk = 5\n',
        {("a.b",): 1, ('c "d"',): 2, ("e=#f",): 3, ("g\t",): 4, ("h.i", "j"): 5, ("h.i", "j", "k"): 6},
    ),
    "long strings": (
        'a = """\nb = 1\n# c\n[d]\n\\"""\n"""\ne = \'\'\'\nf = 2\n\\\'\'\'\ng = """x"""""\nh = 1\n',
        {("a",): 1, ("e",): 7, ("g",): 10, ("h",): 11},
    ),
    "short strings": (
        'a = "it\'s"\nb = \'say "\'\nc = "\\\\"\nd = \'\'\ne = ""\nf = "\\"#"\ng = 1\n',
        {(name,): place for place, name in enumerate("abcdefg", 1)},
    ),
    "arrays over lines": (
        'a = [\n  1, # b = ]\n  "]",\n  [2,\n   3],\n]\nc = 4\n',
        {("a",): 1, ("c",): 7},
    ),
    "inline tables": (
        'a = { b = 1, c = "}" }\nd = [{ e = 1 }, { e = 2 }]\nf = 3\n',
        {("a",): 1, ("d",): 2, ("f",): 3},
    ),
    "arrays of tables": (
        "[[a]]\nb = 1\n[a.t]\nc = 2\n\n[[a]]\nb = 3\n[[a.u]]\nd = 4\n[[a.u]]\nd = 5\n[z]\n",
        {
            ("a",): 1,
            ("a", 0): 1,
            ("a", 0, "b"): 2,
            ("a", 0, "t"): 3,
            ("a", 0, "t", "c"): 4,
            ("a", 1): 6,
            ("a", 1, "b"): 7,
            ("a", 1, "u"): 8,
            ("a", 1, "u", 0, "d"): 9,
            ("a", 1, "u", 1): 10,
            ("a", 1, "u", 1, "d"): 11,
            ("z",): 12,
        },
    ),
    "windows and byte order mark": ("\ufeffa = 1\r\n[t]\r\nb = 2\r\n", {("a",): 1, ("t",): 2, ("t", "b"): 3}),
    "nothing": ("", {}),
    "no line end": ("[t]\na = 1", {("t",): 1, ("t", "a"): 2}),
}


@pytest.mark.parametrize("name", TEXTS)
def test_keys_stand_where_they_were_written(name):
    text, expected = TEXTS[name]
    tomllib.loads(text.removeprefix("\ufeff"))  # the walk is promised for valid texts only
    found = lines_of_keys(text)
    assert {path: found.get(path) for path in expected} == expected
    if not any(isinstance(part, int) for path in expected for part in path):
        assert set(found) == set(expected)


def test_a_key_in_an_inline_table_is_found_by_the_key_that_holds_it():
    lines = lines_of_keys("x = 1\na = { b = { c = 1 } }\n")
    assert line_of(lines, ("a", "b", "c")) == 2
    assert line_of(lines, ("y",)) is None


BARE = st.text(string.ascii_letters + string.digits + "_-", min_size=1, max_size=6)
QUOTED = st.text(string.printable.replace('"', "").replace("\\", ""), min_size=0, max_size=6).filter(
    lambda name: all(c.isprintable() for c in name)
)
VALUES = st.sampled_from(
    [
        "1",
        "-2.5e3",
        "true",
        "2024-05-01",
        '"text"',
        "'li#t]'",
        '"a \\" = [b"',
        '"""two\nlines = 1\n[x]"""',
        "'''\n# \\\n'''",
        "[1, 2]",
        "[\n  '[', # ]\n  2,\n]",
        "{ q = 1, r = '}' }",
        "[{ q = 1 },\n { q = 2 }]",
    ]
)
REMARKS = st.sampled_from(["", "  # remark", ' # "quote = [', "\n", "\n\n# [x]\n# y = 1\n", "\n   \n"])


@st.composite
def documents(draw):
    """A valid document and the line of every key in it, as the writer of the document knows it."""
    text, lines = draw(REMARKS).lstrip(" "), {}
    names = draw(
        st.lists(st.tuples(BARE | QUOTED, st.booleans()), max_size=4, unique_by=lambda pair: pair[0])
    )
    taken = {name for name, _ in names}
    headers = [((), "")]
    for name, many in names:
        if many:
            headers += [((name, place), f"[[{written(name)}]]") for place in range(draw(st.integers(1, 3)))]
        else:
            headers.append(((name,), f"[ {written(name)} ]"))
    for path, header in headers:
        if header:
            text += "\n"
            lines[path] = text.count("\n") + 1
            text += header + draw(REMARKS)
        for key in draw(st.lists(BARE | QUOTED, max_size=4, unique=True)):
            if not path and key in taken:
                continue
            parts = [key, *draw(st.lists(BARE, max_size=2))]
            text += "\n"
            lines[(*path, *parts)] = text.count("\n") + 1
            text += " . ".join(map(written, parts)) + " = " + draw(VALUES) + draw(REMARKS)
    return text, lines


def written(name):
    """A name as TOML writes it: in quotes where it needs them."""
    bare = name and set(name) <= set(string.ascii_letters + string.digits + "_-")
    return name if bare else f'"{name}"'


@settings(max_examples=150, deadline=None)
@given(documents())
def test_every_key_of_any_document_is_on_its_line(document):
    text, lines = document
    data = tomllib.loads(text)
    found = lines_of_keys(text)
    for path, line in lines.items():
        assert found[path] == line
        value = data
        for part in path:
            value = value[part]


@settings(max_examples=100, deadline=None)
@given(st.text(max_size=80))
def test_the_walk_ends_on_any_text(text):
    assert all(line >= 1 for line in lines_of_keys(text).values())
