"""`forescale options` as it is run: what it prints, where, and with which exit code."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from forescale.engine.kit.library import SHIPPED
from forescale.tui.cli.commands import main

KILN = SHIPPED / "shots" / "kiln-stack.toml"


def kiln_with(folder: Path, old: str, new: str) -> str:
    """Write the demo shot with some text replaced, and return its path."""
    text = KILN.read_text(encoding="utf-8")
    assert text.count(old) == 1
    path = folder / "changed.toml"
    path.write_text(text.replace(old, new), encoding="utf-8")
    return str(path)


def test_table_has_the_best_first_with_its_trades(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["options", "kiln-stack"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    assert max(map(len, out.splitlines())) <= 79
    assert "ways work" in out
    assert "1*" in out
    assert "Best by what counts here" in out
    assert "Dropped" in out
    assert "first 10 of" in out
    assert "ways with * stand first" in " ".join(out.split())


def test_what_to_mind_is_in_words_and_nothing_of_a_bench_of_other_kit(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["options", "kiln-stack", "--limit", "15"]) == 0
    minded = [line.split("Mind: ")[1] for line in capsys.readouterr().out.splitlines() if "Mind: " in line]
    assert "the slide goes to 55 mm." in minded
    assert all(" " in said for said in minded)
    assert not any("ench" in said for said in minded)
    assert main(["options", "kiln-stack", "--json"]) == 0
    warnings = {code for row in json.loads(capsys.readouterr().out)["options"] for code in row["warnings"]}
    assert "points-miss" in warnings
    assert "slip-over" not in warnings
    assert not any(code.startswith("bench-") for code in warnings)


def test_help_fits_80_columns(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    with pytest.raises(SystemExit):
        main(["options", "--help"])
    assert max(map(len, capsys.readouterr().out.splitlines())) <= 80


def test_the_limit_says_how_much_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["options", "kiln-stack", "--limit", "2"]) == 0
    short = capsys.readouterr().out
    assert "first 2 of" in short
    assert main(["options", "kiln-stack", "--limit", "1000"]) == 0
    everything = capsys.readouterr().out
    assert "These are the first" not in everything
    assert len(everything) > len(short)


def test_json_is_whole_unless_limited(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["options", "kiln-stack", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert len(data["options"]) + sum(row["count"] for row in data["dropped"]) == data["searched"]
    assert main(["options", "kiln-stack", "--json", "--limit", "1"]) == 0
    assert json.loads(capsys.readouterr().out)["options"] == data["options"][:1]


def test_exit_code_is_1_where_nothing_works(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shot = kiln_with(tmp_path, "[light]", "[limits]\nframe_min = 50\n\n[light]")
    assert main(["options", shot]) == 1
    out, _ = capsys.readouterr()
    assert out.startswith("None of ")
    assert "Without limits.frame_min" in " ".join(out.split())  # a file's reader is told the file's own name
    assert main(["options", shot, "--json"]) == 1
    data = json.loads(capsys.readouterr().out)
    assert data["options"] == []


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("[light]", "[limits]\nhold = ['tripod']\n\n[light]", "limits.hold 1: 'tripod' is not known"),
        ("[light]", "[limits]\nframe_min = 0.9\nframe_max = 0.1\n\n[light]", "frame_min is above frame_max"),
        ("[light]", "[limits]\nratios = ['1:0.5']\n\n[light]", "limits.ratios 1: "),
        ('camera = "demo-cine-35"', 'camera = "gone"', None),
    ],
)
def test_exit_code_is_2_with_a_line_a_fault(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], old: str, new: str, fault: str | None
) -> None:
    """A camera that is not at hand is no fault here: all that is at hand is searched."""
    shot = kiln_with(tmp_path, old, new)
    assert main(["options", shot]) == (0 if fault is None else 2)
    out, err = capsys.readouterr()
    if fault is None:
        assert err == ""
        return
    assert out == ""
    (line,) = err.splitlines()
    assert line.startswith(f"{shot}: ")
    assert fault in line


@pytest.mark.parametrize("words", [["--limit", "0"], ["--limit", "many"], ["--fast"], []])
def test_bad_words_are_refused_in_a_line(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["options", *(["kiln-stack"] if words else []), *words]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1


def test_a_broken_profile_is_named_and_left_out(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (home / "cameras").mkdir(parents=True)
    (home / "cameras" / "broken.toml").write_text("schema = 1\n", encoding="utf-8")
    assert main(["options", "kiln-stack", "--limit", "1"]) == 0
    out, err = capsys.readouterr()
    assert "ways work" in out
    assert err
    assert all("broken.toml" in line and line.endswith("(left out)") for line in err.splitlines())


def test_no_screen_library_is_loaded_and_a_pipe_gets_no_codes() -> None:
    script = (
        "import sys; from forescale.tui.cli.commands import main; "
        "code = main(['options', 'signal-lamp', '--limit', '3']); "
        "bad = [name for name in ('textual', 'rich') if name in sys.modules]; sys.exit(f'{bad}' if bad else code)"
    )
    run = subprocess.run([sys.executable, "-c", script], capture_output=True, env=dict(os.environ), check=False)
    assert run.returncode == 0, run.stderr
    assert b"\x1b" not in run.stdout
    assert b"first 3 of" in run.stdout
