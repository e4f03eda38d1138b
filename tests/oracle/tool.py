"""Runs the command on a folder of robots and reads its working points."""

import json
import os
import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
#: The word of a charge as the command prints it.
CHARGES = {"full": "full", "half-charged": "nominal", "nominal": "nominal", "empty": "empty"}


def target():
    """Where cargo builds."""
    return Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target"))


def run(*arguments):
    """What the command prints. Its exit status says whether everything was analysed completely, which is not asked here."""
    done = subprocess.run([target() / "debug" / "wattle", *map(str, arguments)], capture_output=True, text=True)
    if done.returncode not in (0, 1, 3):
        raise RuntimeError(f"wattle {arguments}: exit {done.returncode}\n{done.stderr}")
    return json.loads(done.stdout)


def figures(folder):
    """What is computed of each robot in a folder, by file name."""
    return {Path(robot["path"]).name: robot for robot in run("figures", "--as", "json", folder)["robots"]}


def points(robot):
    """The points of a robot by mode and corner."""
    return {(point["mode"], corner(point["corner"])): point for point in robot["points"]}


def corner(written):
    """Charge, regulators and conductors; a robot may be printed at three corners or at twelve."""
    if isinstance(written, str):
        words = written.replace(",", " ").split()
    else:
        words = [written.get(key) for key in ("charge", "regulators", "conductors")]
    charge = next(CHARGES[word] for word in words if word in CHARGES)
    regulators = next((word for word in words if word in ("low", "high")), None)
    conductors = next((word for word in words if word in ("cold", "hot")), "cold")
    return charge, regulators, conductors


def findings(folder):
    """The report on each robot in a folder, by file name: its findings and what was not assessed."""
    return {Path(robot["path"]).name: robot for robot in run("lint", "--as", "json", folder)["robots"]}
