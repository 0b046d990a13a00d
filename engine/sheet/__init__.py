"""The shot sheet on paper: plain text, JSON, a drawing (SVG), a page to print (HTML) and the build list (CSV).

Each form is a module of its own with one function from a shot and its answer to text, so that a command loads
only the one it was asked for. `sections` says what stands on the sheet; `text` and `page` lay it out.
"""
