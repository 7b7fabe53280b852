#!/usr/bin/env python3
"""Runs the fault tests (docs/faults.md) and prints what they counted; with --keep writes it into that page."""
import datetime
import pathlib
import re
import subprocess
import sys

root = pathlib.Path(__file__).resolve().parent.parent
RUNS = [
    ("notebook: killed, full disk, read only, two programs, damage", ["build/release/src/notebook/notebook_test", "--gtest_filter=Survival.*"]),
    ("notebook: exports and merges", ["build/release/src/notebook/notebook_test", "--gtest_filter=Notebook.*"]),
    ("logs: every bad file of the reader's tests", ["build/release/src/signal/signal_test", "--gtest_filter=Reading.*"]),
    ("server: malformed, slow, packed, foreign", ["build/release/src/server/server_test", "--gtest_filter=SecurityTest.*"]),
    ("damaged copies of every seed through every reader and question", ["build/release/fuzz/fuzz_test"]),
]

lines = ["| what | command | tests | passed | seconds |", "|---|---|---|---|---|"]
bad = False
for what, command in RUNS:
    if not (root / command[0]).exists():
        lines.append(f"| {what} | `{' '.join(command)}` | not built here | | |")
        continue
    done = subprocess.run(["nice", "-n", "5", *command], capture_output=True, text=True, cwd=root)
    ran = re.search(r"\[=+\] (\d+) tests? from .* ran\. \((\d+) ms", done.stdout)
    passed = re.search(r"\[  PASSED  \] (\d+)", done.stdout)
    bad |= done.returncode != 0
    lines.append(f"| {what} | `{' '.join(command)}` | {ran.group(1) if ran else '?'} | {passed.group(1) if passed else 0} | {int(ran.group(2)) / 1000 if ran else 0:.1f} |")
text = f"{datetime.date.today().isoformat()}:\n\n" + "\n".join(lines) + "\n"
print(text)
if "--keep" in sys.argv:
    page = root / "docs/faults.md"
    page.write_text(page.read_text().split("<!-- figures -->")[0] + "<!-- figures -->\n\n" + text)
sys.exit(1 if bad else 0)
