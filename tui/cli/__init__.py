"""The console script and the commands that print; none of them imports Textual."""
