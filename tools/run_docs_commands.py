#!/usr/bin/env python3
"""Runs every command that README.md and docs/ show, in a scratch folder with the examples, so that no page shows one that
does not work.

    tools/run_docs_commands.py [--list] [page ...]

A command is a line that starts with "rollwright " (after an optional "$ ") in a fenced ```sh block or in a block indented by
four spaces. What follows two or more spaces and is no option is a remark. A line that ends in a backslash goes on. Files of
one's own that the pages name (before.csv) are put there first: the demo's logs. A document that a page prints in full, in
a block that begins ```json NAME, lies there under that name. Each page starts in a fresh folder.
"serve" is only tried with --help, and the project's own ./dev commands are not run here: ./dev test is what runs this.
"""
import pathlib
import re
import shlex
import shutil
import subprocess
import sys
import tempfile

root = pathlib.Path(__file__).resolve().parent.parent
program = root / "build/release/rollwright"


def pages():
    named = [root / a for a in sys.argv[1:] if not a.startswith("-")]
    return named or [root / "README.md", *sorted((root / "docs").rglob("*.md"))]


def commands(path):
    fenced, fence_is_shell, pending = False, False, ""
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        if line.lstrip().startswith("```"):
            fence_is_shell = not fenced and line.strip() in ("```sh", "```bash", "```console")
            fenced = not fenced
            continue
        is_shown = fence_is_shell if fenced else line.startswith("    ")
        if not is_shown:
            continue
        text = pending + line.strip()
        pending = ""
        if text.startswith("$ "):
            text = text[2:]
        if not re.match(r"rollwright( |$)", text):
            continue
        if text.endswith("\\"):
            pending = text[:-1] + " "
            continue
        text = re.split(r"\s+# |\s{2,}(?!-)", text)[0]
        yield number, text


def documents(path):
    """File name and text of each block that says its name: ```json siskin.json."""
    return re.findall(r"^```json (\S+)\n(.*?)^```", path.read_text(encoding="utf-8"), re.S | re.M)


def prepare(folder):
    shutil.copytree(root / "examples", folder, dirs_exist_ok=True)
    done = subprocess.run([str(program), "demo", "--logs", "--out", str(folder / "demo")], capture_output=True, text=True, cwd=folder)
    if done.returncode:
        sys.exit("the demo does not run: " + done.stderr)
    before, after = folder / "demo/wren-before.csv", folder / "demo/wren-after.csv"
    for name in ("before.csv", "a.csv", "outing.csv", "log.csv"):
        shutil.copy(before, folder / name)
    for name in ("after.csv", "b.csv"):
        shutil.copy(after, folder / name)


def main():
    problems, count = [], 0
    with tempfile.TemporaryDirectory() as name:
        ready = pathlib.Path(name) / "ready"
        ready.mkdir()
        if "--list" not in sys.argv:
            prepare(ready)
        for index, page in enumerate(pages()):
            folder = pathlib.Path(name) / str(index)
            shutil.copytree(ready, folder)
            for file, text in documents(page):
                (folder / file).write_text(text)
            for number, text in commands(page):
                place = f"{page.relative_to(root)}:{number}"
                if "…" in text or "<" in text or "FILE" in text or "FOLDER" in text:
                    continue  # a form, not a command
                count += 1
                if "--list" in sys.argv:
                    print(f"{place}: {text}")
                    continue
                if re.match(r"rollwright serve", text):
                    text = "rollwright serve --help"
                script = f"rollwright() {{ {shlex.quote(str(program))} \"$@\"; }}\nset -o pipefail\n{text}\n"
                done = subprocess.run(["bash", "-c", script], capture_output=True, text=True, cwd=folder, timeout=300, env={"HOME": name, "PATH": "/usr/bin:/bin", "LC_ALL": "C.UTF-8"})
                # 3 is an answer too: that there is none.
                if done.returncode not in (0, 3):
                    problems.append(f"{place}: {text}\n    " + (done.stderr.strip() or done.stdout.strip())[:600].replace("\n", "\n    "))
    print("\n".join(problems) or f"documents: all {count} commands run")
    return 1 if problems else 0


sys.exit(main())
