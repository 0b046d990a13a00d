"""The drawing as one self-contained SVG: `views` has what both views share, `shot_views` each, `page` their sheet."""
