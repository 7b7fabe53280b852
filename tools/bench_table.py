#!/usr/bin/env python3
"""The table of speeds: every figure that the design asks for, with its target, what was measured, and their ratio.

    tools/bench_table.py            measures and prints (./dev bench builds what it needs first)
    tools/bench_table.py --keep     also writes it into docs/benchmarks.md under this machine's name and today's date

Single figures come from the benchmark programs beside the code; those of whole questions are the processor time of the
program on the examples, less that of a start. Other programs are compared only where they are installed. On a busy machine
wall times are too long: figures of one core are processor time, which other work disturbs less.
"""
import datetime
import glob
import gzip
import json
import os
import pathlib
import platform
import re
import resource
import subprocess
import sys
import time

root = pathlib.Path(__file__).resolve().parent.parent
program = root / "build/release/rollwright"
examples = root / "examples"
rows = []


def row(work, target, value, unit, faster_is_less=True, note=""):
    """target None: nothing was set. The ratio is how many times better than the target; below 1 it is missed."""
    if value is None:
        rows.append((work, f"{'<' if faster_is_less else '≥'} {target:g} {unit}" if target is not None else "–", "not compared here" if note == "" else note, ""))
        return
    ratio = (target / value if faster_is_less else value / target) if target is not None and value > 0 else None
    rows.append((work, f"{'<' if faster_is_less else '≥'} {target:g} {unit}" if target is not None else "–", f"{value:.3g} {unit}" + (f" ({note})" if note else ""),
                 "" if ratio is None else f"{ratio:.2g} ×" + ("" if ratio >= 1 else " **missed**")))


SCALE = {"ns": 1e-9, "us": 1e-6, "ms": 1e-3, "s": 1.0}


def bench(folder, pattern, patience=120, min_time="0.1"):
    """name → entry of a benchmark program; seconds under "cpu" and "real"."""
    path = root / f"build/bench/src/{folder}/{folder}_bench"
    if not path.exists():
        return {}
    try:
        done = subprocess.run([str(path), f"--benchmark_filter={pattern}", f"--benchmark_min_time={min_time}", "--benchmark_format=json"], capture_output=True, text=True, timeout=patience, cwd=root)
        entries = json.loads(done.stdout)["benchmarks"]
    except (subprocess.TimeoutExpired, ValueError, KeyError):
        return {}
    out = {}
    for e in entries:
        e["cpu"], e["real"] = e["cpu_time"] * SCALE[e["time_unit"]], e["real_time"] * SCALE[e["time_unit"]]
        out[e["name"].split("/")[0]] = e
    return out


def run_cpu(*words, best_of=3):
    """Least (processor, wall) seconds of a run of the program."""
    least = (1e9, 1e9)
    for _ in range(best_of):
        before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.monotonic()
        done = subprocess.run([str(program), *map(str, words)], capture_output=True, cwd=examples)
        wall, after = time.monotonic() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
        if done.returncode != 0:
            return None
        cpu = after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime
        least = (min(least[0], cpu), min(least[1], wall))
    return least


def cpu_of(entries, name, factor=1.0):
    return entries[name]["cpu"] * factor if name in entries else None


def main():
    bars = sorted(str(p.relative_to(examples)) for p in (examples / "bars").glob("*.json"))
    b = bench("bar", "linear_one_setting$|large_travel|against_a_general")
    row("bar, linear, one setting", 10, cpu_of(b, "linear_one_setting", 1e6), "µs")
    row("bar, large-travel curve, 25 points", 1, cpu_of(b, "large_travel_curve_of_25_points", 1e3), "ms")
    label = b.get("against_a_general_solver", {}).get("label", "")
    times = re.search(r"([\d.]+(?:e[+]?\d+)?) ?(?:times|×)", label.replace(",", ""))
    row("the same bar: general FE solver over ours", 10000, float(times.group(1)) if times else None, "×", False)

    v = bench("vehicle", "one_equilibrium_from_its_neighbour|sweep_to_the_limit|ten_seconds")
    neighbour = v.get("one_equilibrium_from_its_neighbour", {})
    each = neighbour.get("per_equilibrium")
    row("steady cornering, one equilibrium", 10, each * 1e6 if each and each < 1 else cpu_of(v, "one_equilibrium_from_its_neighbour", 1e6), "µs")
    row("sweep to the limit", 0.5, cpu_of(v, "sweep_to_the_limit", 1e3), "ms")
    row("transient, faster than real time", 2000, v.get("ten_seconds_of_weaving", {}).get("times_real_time"), "×", False)

    start = run_cpu("version", best_of=10)
    holes = run_cpu("forecast", "holes", "wren.json", *bars, "--json")
    row("full hole map, whole question with start taken off, processor time", 30, (holes[0] - start[0]) * 1e3 if holes else None, "ms")
    compare = run_cpu("forecast", "compare", "wren.json", *bars, "--draws", "10000", "--json", best_of=2)
    answer = subprocess.run([str(program), "forecast", "compare", "wren.json", *bars, "--draws", "50", "--json"], capture_output=True, text=True, cwd=examples)
    setups = len(json.loads(answer.stdout)["result"]["setups"]) if answer.returncode == 0 else 2
    row("forecast with uncertainty, 10,000 cars × 2 setups, two cores", 1, compare[0] / 2 * 2 / setups if compare else None, "s", note=f"half the processor time, {setups} setups scaled to 2" if compare else "")
    c = bench("ops", "two_hundred", patience=180)
    row("choose, 200 combinations × 2,000 cars", 5, c["two_hundred_combinations_on_two_thousand_cars"]["real"] if c else None, "s", note="wall time" if c else "")

    s = bench("signal", "ReadOneHour|ReadAndEstimate|AgainstPandas", patience=120)
    row("one hour of a 100 Hz log, read and estimate", 1, cpu_of(s, "ReadAndEstimateOneHour"), "s")
    row("reading: pandas.read_csv over ours", 5, s.get("AgainstPandas", {}).get("pandas_over_ours"), "×", False)

    film = bench("video", "decode_in_colour|measure_whole", patience=150, min_time="0.01")
    if "measure_whole" in film:
        row("film 1080p, followed and measured", 60, film["measure_whole"]["frames/s"], "frames/s", False)
        row("film: time over decoding alone", 1.5, film["measure_whole"]["cpu"] / film["decode_in_colour"]["cpu"], "×")
    else:
        row("film 1080p, followed and measured", 60, None, "frames/s", False, "not finished in its time here")

    page = [f for f in glob.glob(str(root / "web/dist/**/*"), recursive=True) if os.path.isfile(f)]
    html = (root / "web/dist/index.html").read_text() if page else ""
    first = [f for f in page if f.endswith("index.html") or (f.endswith((".js", ".css")) and os.path.basename(f) in html)]
    # What the first script imports at once belongs to the first page as well; what it imports on demand does not.
    names = {os.path.basename(f): f for f in page}
    waiting = [f for f in first if f.endswith(".js")]
    while waiting:
        text = pathlib.Path(waiting.pop()).read_text()
        for name in re.findall(r"(?:\bfrom|\bimport)\s*[\"']\./([\w.-]+\.js)[\"']", text):
            if name in names and names[name] not in first:
                first.append(names[name])
                waiting.append(names[name])
    row("first page, packed, without 3-D and fonts", 120, sum(len(gzip.compress(pathlib.Path(f).read_bytes(), 9)) for f in first) / 1000 if page else None, "kB")
    row("start of the program", 50, start[1] * 1e3, "ms", note="wall time")

    cpu = next((line.split(":", 1)[1].strip() for line in open("/proc/cpuinfo") if line.startswith("model name")), platform.machine())
    revision = subprocess.run(["git", "describe", "--always", "--dirty=+"], capture_output=True, text=True, cwd=root).stdout.strip()
    lines = [f"### {cpu}, {os.cpu_count()} cores, {datetime.date.today().isoformat()}", "",
             f"Revision {revision}; load of the machine when it began: {load:.1f}. Command: `./dev bench`", "",
             "| work | target | measured | ratio |", "|---|---|---|---|"]
    lines += [f"| {' | '.join(r)} |" for r in rows]
    text = "\n".join(lines) + "\n"
    print(text)
    if "--keep" in sys.argv:
        target = root / "docs/benchmarks.md"
        old = target.read_text()
        pattern = re.compile(re.escape(lines[0]) + r"\n.*?(?=\n### |\Z)", re.S)
        target.write_text(pattern.sub(text.rstrip(), old) if pattern.search(old) else old.rstrip() + "\n\n" + text)


load = os.getloadavg()[0]
main()
