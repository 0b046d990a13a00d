"""The forms of the sheet; the code of each is loaded when it is asked for."""

from importlib import import_module

from forescale.engine.shot.records import Shot
from forescale.engine.solve.record import Answer

FORMS = {  # the ending of a file's name, what is written into it, and by what of this room
    ".txt": ("text", "text", "sheet_text"),
    ".svg": ("the drawing", "drawing.page", "sheet_svg"),
    ".html": ("pages to print", "page", "sheet_html"),
    ".templates.html": ("templates at true size", "templates.pages", "sheet_templates"),
    ".csv": ("the build list", "data", "build_csv"),
    ".json": ("every number", "data", "sheet_json"),
}


def sheet_as(ending: str, shot: Shot, answer: Answer) -> str:
    """Return the sheet of a shot in the form that the ending of a file's name stands for."""
    _, module, function = FORMS[ending]
    return str(getattr(import_module(f"forescale.engine.sheet.{module}"), function)(shot, answer))
