#!/usr/bin/env python3
"""clang-tidy (checks: .clang-tidy) and cppcheck over the program's own code. A file that was clean and has not changed since,
nor the checks, is not looked at again (build/lint.json).

    tools/lint.py [folder or file ...]     only these
"""
import concurrent.futures
import hashlib
import json
import os
import pathlib
import subprocess
import sys

root = pathlib.Path(__file__).resolve().parent.parent
build = root / "build/release"
memory = root / "build/lint.json"

# cppcheck sees no library headers, so what needs them is left to clang-tidy.
CPPCHECK = ["cppcheck", "--std=c++20", "--language=c++", "--enable=warning,performance,portability", "--inline-suppr", "--quiet", "--error-exitcode=1", "-Isrc",
            "--suppress=missingInclude", "--suppress=unknownMacro",
            # Eigen's and the test library's constructors are not seen.
            "--suppress=uninitMemberVar", "--suppress=useStlAlgorithm",
            # Small callables and iterators are passed as the standard library does.
            "--suppress=passedByValue"]


def digest(*parts):
    h = hashlib.sha256()
    for part in parts:
        h.update(part if isinstance(part, bytes) else str(part).encode())
    return h.hexdigest()


def main():
    commands = json.loads((build / "compile_commands.json").read_text())
    wanted = [str((root / a).resolve()) for a in sys.argv[1:]] or [str(root / "src"), str(root / "apps")]
    files = sorted({c["file"] for c in commands if any(c["file"].startswith(w) for w in wanted) and c["file"].endswith(".cpp")})
    # Tests are full of macros that the checks stumble over; the sanitizers look after them.
    files = [f for f in files if not f.endswith(("_test.cpp", "_bench.cpp")) and "/build/" not in f]
    headers = digest(*(p.read_bytes() for p in sorted((root / "src").rglob("*.h"))), (root / ".clang-tidy").read_bytes(), pathlib.Path(__file__).read_bytes())
    clean = json.loads(memory.read_text()) if memory.exists() else {}
    key = {f: digest(headers, pathlib.Path(f).read_bytes()) for f in files}
    todo = [f for f in files if clean.get(f) != key[f]]
    bad = 0

    def look(f):
        tidy = subprocess.run(["clang-tidy", "-p", str(build), "--quiet", "--extra-arg=-Wno-unknown-warning-option", f], capture_output=True, text=True, cwd=root)
        check = subprocess.run([*CPPCHECK, f], capture_output=True, text=True, cwd=root)
        return f, tidy, check

    with concurrent.futures.ThreadPoolExecutor(max(1, min(2, os.cpu_count() or 1))) as pool:
        for f, tidy, check in pool.map(look, todo):
            if tidy.returncode or check.returncode:
                bad += 1
                print(tidy.stdout + check.stderr)
            else:
                clean[f] = key[f]
                memory.write_text(json.dumps(clean, indent=0))
    print(f"lint: {len(files)} files, {len(todo)} looked at, {bad} with findings")
    return 1 if bad else 0


os.nice(10)
sys.exit(main())
