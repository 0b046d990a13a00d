"""The drawing on the sheet: the shot from above and from the side, to scale, as one self-contained SVG.

`views` draws what a view from any side has, `shot_views` what each adds, `page` the sheet around them.
"""
