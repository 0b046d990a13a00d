"""Print the table of formulas: `python -m forescale.engine.workings`."""

import sys

from forescale.engine.workings import table_markdown

sys.stdout.write(table_markdown())
