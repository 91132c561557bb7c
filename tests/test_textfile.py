"""Files as editors leave them: each error names the file, the line or the key, what stands there
and what would be right."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from assistant.app.cli.sheet import planned
from assistant.app.paths import configs_folder
from assistant.errors import BadFile
from assistant.fields import Fields
from assistant.jobs.jobfile import read_head
from assistant.textfile import LONGEST_LINE, as_written, read_file, read_toml, visible

JOB = (configs_folder() / "jobs" / "keyseat-inch.toml").read_text(encoding="utf-8")


def written(folder: Path, raw: bytes) -> Path:
    path = folder / "job.toml"
    path.write_bytes(raw)
    return path


def test_a_mark_of_utf_8_at_the_beginning_is_no_part_of_the_text(tmp_path: Path) -> None:
    path = written(tmp_path, JOB.encode("utf-8-sig"))
    assert read_file(path) == JOB
    state = planned(str(path))
    assert state.at_work


def test_ends_of_lines_may_be_those_of_any_system(tmp_path: Path) -> None:
    state = planned(str(written(tmp_path, JOB.replace("\n", "\r\n").encode())))
    assert state.at_work


@pytest.mark.parametrize(
    ("raw", "says"),
    [
        (JOB.encode("utf-16"), 'encoding is UTF-16: save it as "UTF-8"'),
        (JOB.encode("utf-16-le"), 'encoding is UTF-16: save it as "UTF-8"'),
        (b'unit = "inch"\ntitle = "caf\xe9"\n', "encoding is not UTF-8: line 2 has a character"),
        (b"#" * 1_000_001, "file is 1000001 bytes long"),
    ],
)
def test_another_encoding_is_named(tmp_path: Path, raw: bytes, says: str) -> None:
    path = written(tmp_path, raw)
    with pytest.raises(BadFile) as bad:
        read_file(path)
    assert str(bad.value).startswith(f"{path}: {says}")


@pytest.mark.parametrize("name", ["", "none.toml", "a\0b.toml"])
def test_what_is_no_file_is_no_traceback(tmp_path: Path, name: str) -> None:
    with pytest.raises(BadFile, match="file is"):
        read_file(tmp_path / name)


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ('title = "Shaft', 'line 2, title is "Shaft: a quote is missing at its end: '
                           'title = "Shaft"'),
        ('title = Shaft"', 'line 2, title is Shaft": a quote is missing before it: '
                           'title = "Shaft"'),
        ("teeth = 18,5", "line 2, teeth is 18,5: wanted a decimal point, not a comma: "
                         "teeth = 18.5"),
        ("length = 3/8 in", 'line 2, length is 3/8 in: text, and a size with its unit, stands in '
                            'quotes: length = "3/8 in"'),
        ("flag = True", "line 2, flag is True: wanted flag = true"),
        ("title = “Shaft”", 'line 2, title is “Shaft”: curly quotes: write plain ones'),
        ("unit = 'mm'", "line 2, unit is 'mm': the key is given twice: leave one"),
        ("keyseat", "line 2 is 'keyseat': wanted key = value"),
        ("[shaft", "line 2 is '[shaft': wanted a table such as [key]"),
    ],
)  # fmt: skip
def test_a_line_that_is_no_toml_is_told_in_words(line: str, says: str) -> None:
    with pytest.raises(BadFile) as bad:
        read_toml(f'unit = "inch"\n{line}\nb = 1\n', "job.toml")
    assert str(bad.value).startswith(f"job.toml: {says}")


def test_an_end_in_the_middle_is_told() -> None:
    with pytest.raises(BadFile, match=r"job\.toml: line 3.* is "):
        read_toml('unit = "inch"\nplates = [[1, 2],\n', "job.toml")


def test_a_decimal_comma_in_a_size_is_told() -> None:
    fields = Fields("job.toml", {"width": "0,375 in"})
    with pytest.raises(BadFile) as bad:
        fields.length("width", "inch")
    assert str(bad.value) == (
        "job.toml: width is '0,375 in': wanted a point, not a comma: 0.375 in"
    )


def test_a_misspelt_key_is_named_where_the_right_one_is_missed() -> None:
    fields = Fields("job.toml", {"lenght": "2 in"}, "seat.")
    with pytest.raises(BadFile, match=r"seat\.length is missing: .*has lenght: did you mean"):
        fields.length("length", "inch")
    fields = Fields("job.toml", {"materiel": "brass"})
    fields.text("material", "", "")
    with pytest.raises(BadFile, match=r"materiel is 'brass': unknown key; did you mean material"):
        fields.done()


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (Decimal("18.5"), "18.5"),
        (True, "true"),
        ([1, Decimal("0.5"), "a"], "[1, 0.5, 'a']"),
        ({"a": 1}, "a table"),
        ("a\x1b[2Jb", "'a\\x1b[2Jb'"),
        (list(range(20)), "[0, 1, 2, 3, 4, 5, 6, 7, ...]"),
    ],
)
def test_a_value_is_shown_as_it_is_written(value: object, shown: str) -> None:
    assert as_written(value) == shown


def test_a_number_that_is_not_whole_is_shown_as_it_is_written() -> None:
    with pytest.raises(BadFile, match=r"teeth is 18\.5: wanted a whole number"):
        Fields("job.toml", {"teeth": Decimal("18.5")}).whole("teeth", 2, 100)


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("Ø 1/2 – café ½", "Ø 1/2 – café ½"),
        ("a\x1b[2J\nb\tc", "a\\x1b[2J\\nb\\tc"),
        ("right\u202eleft", "right\\u202eleft"),
        ("thin\u00a0space", "thin space"),
    ],
)
def test_what_a_terminal_would_act_on_is_shown_as_text(text: str, shown: str) -> None:
    assert visible(text) == shown


def head_with(title: str, more: str = "") -> str:
    return f'title = "{title}"\noperation = "keyseat"\nmachine = "m"\nunit = "inch"\n{more}'


def test_a_title_is_one_line_that_nothing_acts_on() -> None:
    head, _ = read_head(
        head_with(r"Shaft\u001b[31m\nred", r'notes = ["a\u0007b"]' + "\n" + r'material = "\u202e"'),
        "job.toml",
    )
    assert head.title == "Shaft\\x1b[31m\\nred"
    assert head.notes == ("a\\x07b",)
    assert head.material == "\\u202e"


def test_a_nul_is_refused() -> None:
    with pytest.raises(BadFile, match=r"job\.toml: title is 'a\\x00b': has a NUL in it"):
        read_head(head_with(r"a\u0000b"), "job.toml")


def test_a_title_without_end_is_cut() -> None:
    head, _ = read_head(head_with("x" * 20_000), "job.toml")
    assert len(head.title) == LONGEST_LINE
    assert head.title.endswith("x…")


def test_an_unknown_machine_lists_machines_and_no_jobs(tmp_path: Path) -> None:
    line = next(line for line in JOB.splitlines() if line.startswith("machine"))
    path = written(tmp_path, JOB.replace(line, 'machine = "millrace"').encode())
    (tmp_path / "other.toml").write_text(JOB, encoding="utf-8")
    with pytest.raises(BadFile) as bad:
        planned(str(path))
    says = str(bad.value)
    assert says.startswith(f"{path}: machine is 'millrace': no such machine; ")
    assert "did you mean millrace-horizontal?" in says
    assert "known machines: brook-horizontal, brook-lathe" in says
    assert "keyseat" not in says
    assert "other" not in says
