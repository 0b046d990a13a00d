"""The shot sheet on paper: each of its `forms` is a module of its own, one function from a shot and its answer to text.

`sections` says what stands on the sheet; `text` and `page` lay it out.
"""
