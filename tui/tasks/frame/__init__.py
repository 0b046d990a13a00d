"""The frame that every task's screen shares."""

from forescale.tui.tasks.frame.asking import Question
from forescale.tui.tasks.frame.columns import Column, shortened
from forescale.tui.tasks.frame.pages import PageScreen, WholeScreen
from forescale.tui.tasks.frame.rows_screen import FieldsScreen, RowsScreen
from forescale.tui.tasks.frame.task_screen import TaskScreen
from forescale.tui.tasks.frame.verbs import UNDO, key, listed
from forescale.tui.tasks.frame.widgets import Said, TaskPage, TaskTable, Told

__all__ = ["UNDO", "Column", "FieldsScreen", "PageScreen", "Question", "RowsScreen", "Said", "TaskPage", "TaskScreen"]
__all__ += ["TaskTable", "Told", "WholeScreen", "key", "listed", "shortened"]
