"""What several tests of the application start from."""

import pytest

from editor.cli import main
from tests.editor.told import Run


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    """The command line as a person types it: status, and what it says on either stream."""

    def run_words(*words: object) -> tuple[int, str, str]:
        status = main([str(word) for word in words])
        said = capsys.readouterr()
        return status, said.out, said.err

    return run_words
