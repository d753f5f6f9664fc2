"""The command line in process: exit code, what it prints, what it says is wrong."""

from collections.abc import Callable

import pytest

from fencewright.cli.main import run


@pytest.fixture
def cli(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Callable[..., tuple[int, str, str]]:
    """Run a command line and give its exit code, stdout and stderr."""

    def call(*words: object) -> tuple[int, str, str]:
        monkeypatch.setattr("sys.argv", ["fencewright", *(str(word) for word in words)])
        with pytest.raises(SystemExit) as ended:
            run()
        said = capsys.readouterr()
        return int(ended.value.code or 0), said.out, said.err

    return call
