"""The four panes of the board, in the order of their digit keys."""

from forescale.engine.solve.record import Pane

TITLES: dict[Pane, str] = {"scale": "Scale", "speed": "Speed", "focus": "Focus zone", "slip": "Slip check"}
