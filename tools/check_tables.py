#!/usr/bin/env python3
"""Checks that every test which a page of docs/ names really exists, so that a table of protections cannot outlive them.

A test is named in backquotes: `Suite.Name` for C++ (src/, fuzz/, tests/), `file.e2e.ts: its sentence` or
`file.test.ts: its sentence` for the page, `tools/script` for a script.
"""
import pathlib
import re
import sys

root = pathlib.Path(__file__).resolve().parent.parent
PAGES = ["docs/security.md", "docs/faults.md", "docs/how_sure.md"]

known = set()
for folder in ("src", "fuzz", "tests"):
    for path in (root / folder).rglob("*.cpp"):
        for suite, name in re.findall(r"\bTEST(?:_F|_P)?\(\s*(\w+),\s*(\w+)\)", path.read_text(encoding="utf-8")):
            known.add(f"{suite}.{name}")
pages = {path.name: path.read_text(encoding="utf-8") for path in (root / "web").rglob("*.ts*") if "node_modules" not in path.parts and re.search(r"\.(test|e2e)\.tsx?$", path.name)}

problems, count = [], 0
for page in PAGES:
    path = root / page
    if not path.exists():
        problems.append(f"{page} is missing")
        continue
    for name in re.findall(r"`([^`\n]+)`", path.read_text(encoding="utf-8")):
        if re.fullmatch(r"[A-Z]\w+\.\w{12,}", name):
            count += 1
            if name not in known:
                problems.append(f"{page}: there is no test {name}")
        elif match := re.fullmatch(r"(\S+\.(?:test|e2e)\.tsx?): (.+)", name):
            count += 1
            if match.group(2) not in pages.get(match.group(1), ""):
                problems.append(f"{page}: there is no test '{match.group(2)}' in {match.group(1)}")
        elif name.startswith("tools/") and not (root / name.split()[0]).exists():
            problems.append(f"{page}: there is no {name}")
if count < 20:
    problems.append("hardly any test is named; the pages or this script have changed")
print("\n".join(problems) or f"tables: all {count} tests that the pages name exist")
sys.exit(1 if problems else 0)
