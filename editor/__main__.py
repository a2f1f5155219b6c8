"""``python -m editor`` is the same as ``dartwise``."""

import sys

from editor.cli import main

sys.exit(main())
