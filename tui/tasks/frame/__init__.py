"""The frame that every task's screen shares."""

from forescale.tui.tasks.frame.asking import Question
from forescale.tui.tasks.frame.columns import Column, shortened
from forescale.tui.tasks.frame.rows_screen import WIDE, FieldsScreen, RowsScreen
from forescale.tui.tasks.frame.task_screen import NARROW, PageScreen, TaskScreen, WholeScreen
from forescale.tui.tasks.frame.verbs import UNDO, key, listed
from forescale.tui.tasks.frame.widgets import Cell, Said, TaskPage, TaskTable, Told
