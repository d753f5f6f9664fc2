"""Why a file could not be opened, without the system's words."""

import errno
import os

import pytest

from fencewright.findings.file_faults import cannot_be_read


@pytest.mark.parametrize(
    ("code", "words"),
    [
        (errno.ENOENT, "there is no such file: check"),
        (errno.EACCES, "it may not be read: check its permissions"),
        (errno.EISDIR, "it is a folder"),
        (errno.ENAMETOOLONG, "its name is too long"),
        (errno.EIO, "the disk could not read it"),
        (errno.ENXIO, "it cannot be read: check the disk"),
    ],
)
def test_every_fault_has_words_of_its_own(code: int, words: str) -> None:
    said = cannot_be_read(OSError(code, os.strerror(code)))
    assert words in said
    assert os.strerror(code) not in said


def test_a_name_that_no_file_can_have() -> None:
    assert "its name cannot be" in cannot_be_read(ValueError("embedded null byte"))
