#!/usr/bin/env python3
"""Compares every #include between folders of src/ with layers.txt, so that the order of dependencies stays one way."""
import pathlib
import re
import sys

root = pathlib.Path(__file__).resolve().parent.parent
allowed = {}
for line in (root / "layers.txt").read_text().splitlines():
    if line and not line.startswith("#"):
        folder, names = line.split(":", 1)
        allowed[folder.strip()] = set(names.split()) | {folder.strip()}

# Third-party headers and the only folders that may see them (Eigen excepted, which crosses folders on purpose).
THIRD_PARTY = {
    r"nlohmann/": {"wire", "api"},
    r"CLI/": {"cli", "server"},
    r"httplib\.h": {"server"},
    r"sqlite3\.h": {"notebook"},
    r"opencv2/": {"video"},
    r"qrencode\.h": {"server"},
    r"ceres/|nlopt": {"numerics"},
    r"tbb/|oneapi/": {"numerics"},
    r"fast_float/": {"signal"},
}

problems = []
for path in sorted((root / "src").rglob("*")):
    if path.suffix not in {".h", ".cpp"}:
        continue
    folder = path.relative_to(root / "src").parts[0]
    if folder not in allowed:
        problems.append(f"{path.relative_to(root)}: the folder '{folder}' is not in layers.txt")
        continue
    is_test = path.name.endswith(("_test.cpp", "_bench.cpp", "_for_test.h", "_for_tests.h"))
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        match = re.match(r'\s*#\s*include\s*([<"])([^>"]+)[>"]', line)
        if not match:
            continue
        target = match.group(2)
        place = f"{path.relative_to(root)}:{number}"
        if match.group(1) == '"' and "/" in target:
            other = target.split("/", 1)[0]
            if other in allowed and other not in allowed[folder]:
                problems.append(f"{place}: {folder} may not include {other} (layers.txt)")
        for pattern, folders in THIRD_PARTY.items():
            if re.match(pattern, target) and folder not in folders and not is_test:
                problems.append(f"{place}: <{target}> may only be seen in {', '.join(sorted(folders))}")

print("\n".join(problems) or "layers: every include is allowed")
sys.exit(1 if problems else 0)
