"""Every finding with the shots that show it: see `shown.py`."""

from shown_day import DAY
from shown_focus_slip import FOCUS_AND_SLIP
from shown_line_up import LINE_UP
from shown_picture import PICTURE
from shown_scale_speed import SCALE_AND_SPEED
from shown_stand import STAND

SHOWN = [*SCALE_AND_SPEED, *FOCUS_AND_SLIP, *STAND, *DAY, *PICTURE, *LINE_UP]
