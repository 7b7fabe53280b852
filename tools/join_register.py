#!/usr/bin/env python3
"""Joins sources/register/*.json (one file a subject) into sources/register.json; refuses a key given twice."""
import json
import pathlib
import sys

root = pathlib.Path(__file__).resolve().parent.parent / "sources" / "register"
entries = {}
for path in sorted(root.glob("*.json")):
    for entry in json.loads(path.read_text(encoding="utf-8")):
        if entry["key"] in entries and entries[entry["key"]] != entry:
            sys.exit(f"{path.name}: the key {entry['key']} is given twice with different words")
        entries[entry["key"]] = entry
print(json.dumps([entries[key] for key in sorted(entries)], ensure_ascii=False, indent=2))
