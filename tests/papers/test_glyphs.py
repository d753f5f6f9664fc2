"""Letters of the papers' font: what it holds, how wide they are, what becomes of the rest."""

import hashlib
import tomllib

import pytest
from fontTools.ttLib import TTFont

from fencewright.papers.glyphs import (
    MISSING,
    face,
    fitted,
    fonts_folder,
    known_letters,
    plain_letters,
    plain_text,
    width_em,
)


@pytest.mark.parametrize(
    ("file", "is_strong"), [("LiberationSans-Regular.ttf", False), ("LiberationSans-Bold.ttf", True)]
)
def test_letters_and_widths_are_those_that_another_reader_finds(file: str, is_strong: bool) -> None:
    with fonts_folder().joinpath(file).open("rb") as stream:
        font = TTFont(stream)
        glyphs = {chr(code): name for code, name in font.getBestCmap().items() if code < 0xFFFF}
        unit = font["head"].unitsPerEm
        wanted = {letter: font["hmtx"][name][0] / unit for letter, name in glyphs.items()}
    assert dict(face(is_strong).advance_em) == pytest.approx(wanted)


def test_what_sheets_need_is_held() -> None:
    assert set("–—°±½¼¾⅛⅜⅝⅞×²³…·éñüøß£€") | {MISSING} <= known_letters()


def test_digits_are_of_one_width() -> None:
    assert len({width_em(digit) for digit in "0123456789"}) == 1


def test_files_are_as_their_origin_says() -> None:
    origin = tomllib.loads(fonts_folder().joinpath("ORIGIN.toml").read_text("utf-8"))
    for one in origin["file"]:
        assert hashlib.sha256(fonts_folder().joinpath(one["name"]).read_bytes()).hexdigest() == one["sha256"]
    assert "SIL OPEN FONT LICENSE" in fonts_folder().joinpath("OFL.txt").read_text("utf-8")


def test_what_the_font_lacks_is_replaced_visibly() -> None:
    assert plain_letters("a😀b漢\x07\nc") == f"a{MISSING}b{MISSING} \nc"
    assert plain_text("plain") == "plain"


def test_a_long_word_may_be_broken() -> None:
    parts = plain_text("x" * 95).split(" ")
    assert "".join(parts) == "x" * 95
    assert max(map(len, parts)) <= 40


def test_a_text_is_cut_to_its_room() -> None:
    assert fitted("short", 10.0) == "short"
    cut = fitted("a long text that has no room", 8.0)
    assert cut.endswith("…")
    assert width_em(cut) <= 8.0
    assert fitted("", 3.0) == ""
