"""Print the table of formulas: `python -m engine.workings`."""

import sys

from engine.workings import table_markdown

sys.stdout.write(table_markdown())
