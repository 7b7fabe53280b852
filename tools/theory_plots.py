#!/usr/bin/env python3
"""Draw the plots of docs/theory from the program's own answers on the examples.

usage: tools/theory_plots.py [--program build/release/rollwright]

Needs the Debian package python3-matplotlib. The plots are SVG with fixed identifiers, so that the same answers give the same
files. Before is blue and dashed, after is red and solid, as on the workbench.
"""
import argparse
import json
import pathlib
import shutil
import subprocess
import tempfile

import matplotlib

matplotlib.use("svg")
import matplotlib.pyplot as plt  # noqa: E402  (the backend comes first)

ROOT = pathlib.Path(__file__).resolve().parent.parent
PLOTS = ROOT / "docs" / "theory" / "plots"
INK, PENCIL, BEFORE, AFTER = "#1d2730", "#5c6a75", "#1f5fa8", "#b4321f"
WREN = ["wren.json", "bars/wren-front-two-hole.json", "bars/wren-rear-three-hole.json"]

plt.rcParams.update({
    "svg.hashsalt": "rollwright", "svg.fonttype": "none", "font.family": "sans-serif", "font.size": 10, "axes.edgecolor": INK,
    "axes.spines.top": False, "axes.spines.right": False, "axes.grid": True, "grid.color": "#d9dde0", "grid.linewidth": 0.6,
    "lines.linewidth": 1.6, "legend.frameon": False, "figure.figsize": (6.4, 3.8), "figure.constrained_layout.use": True,
})


class Program:
    """Asks the program in a scratch copy of the examples, with the demo's logs beside them."""

    def __init__(self, path, folder):
        self.path, self.folder = str(pathlib.Path(path).resolve()), folder
        shutil.copytree(ROOT / "examples", folder, dirs_exist_ok=True)
        subprocess.run([self.path, "demo", "--out", "logs"], cwd=folder, check=True, capture_output=True)

    def ask(self, *words):
        done = subprocess.run([self.path, *words, "--json"], cwd=self.folder, check=True, capture_output=True, text=True)
        return json.loads(done.stdout)["result"]


def save(figure, name):
    PLOTS.mkdir(parents=True, exist_ok=True)
    figure.savefig(PLOTS / f"{name}.svg", metadata={"Date": None, "Creator": None})
    plt.close(figure)


def labelled(title, x, y):
    figure, axes = plt.subplots()
    axes.set_title(title, loc="left", fontsize=11)
    axes.set_xlabel(x)
    axes.set_ylabel(y)
    return figure, axes


def two_setups(setups, after="both bars"):
    """The car as it is, and one changed setup of it."""
    return ((setups[0], BEFORE, "--"), (next(s for s in setups if s["name"] == after), AFTER, "-"))


def up_to_the_limit(curve):
    """A steady corner's curve turns back where grip ends; the part before that."""
    most = max(range(len(curve)), key=lambda i: curve[i]["lateral_g"])
    return curve[: most + 1]


def bar_curve(program):
    answer = program.ask("bar", "curve", "bars/wren-rear-three-hole.json")
    figure, axes = labelled("Large travel: force of each hole, and the straight line it begins with", "travel of one end, mm (the other the opposite way)",
                            "force at that end, N")
    for setting in [s for s in answer["settings"] if s["id"] in ("1/1", "2/2", "3/3")]:
        travel = [p["travel_mm"] for p in setting["points"]]
        line, = axes.plot(travel, [p["force_left_n"] for p in setting["points"]], label=f"setting {setting['id']}")
        axes.plot(travel, [setting["linear_rate_n_per_mm"] * t for t in travel], color=line.get_color(), linewidth=0.7, linestyle=":")
    axes.legend()
    save(figure, "bar_curve")


def turn(program):
    setups = program.ask("forecast", "turn", *WREN)["setups"]
    figure, axes = labelled("Steady corner: what more cornering costs in steering", "lateral acceleration, g", "understeer gradient, deg/g")
    for setup, colour, dash in two_setups(setups, "rear bar 2/2"):
        points = [p for p in up_to_the_limit(setup["curve"]) if abs(p["understeer_deg_per_g"]) < 15]
        axes.plot([p["lateral_g"] for p in points], [p["understeer_deg_per_g"] for p in points], color=colour, linestyle=dash, label=setup["name"])
    axes.legend()
    save(figure, "understeer_along_g")

    figure, axes = labelled("Load under each wheel in a left turn", "lateral acceleration, g", "load, N")
    for setup, colour, dash in two_setups(setups, "rear bar 2/2"):
        for wheel, name in enumerate(("front left", "front right", "rear left", "rear right")):
            points = up_to_the_limit(setup["curve"])
            axes.plot([p["lateral_g"] for p in points], [p["load_n"][wheel] for p in points], color=colour, linestyle=dash,
                      label=setup["name"] if wheel == 0 else None)
            if colour == AFTER:
                axes.annotate(name, (points[-1]["lateral_g"], points[-1]["load_n"][wheel]), fontsize=8, color=PENCIL, ha="right", va="bottom")
    axes.legend()
    save(figure, "wheel_loads_along_g")

    figure, axes = labelled("Share of its grip that each axle uses", "lateral acceleration, g", "grip used, %")
    for setup, colour, dash in two_setups(setups, "rear bar 2/2"):
        points = up_to_the_limit(setup["curve"])
        for key, marker in (("front_grip_used_percent", "o"), ("rear_grip_used_percent", "s")):
            axes.plot([p["lateral_g"] for p in points], [p[key] for p in points], color=colour, linestyle=dash, marker=marker, markevery=8,
                      markersize=4, label=f"{key.split('_')[0]}, {setup['name']}")
    axes.legend(fontsize=8)
    save(figure, "grip_used_along_g")


def step(program):
    setups = program.ask("forecast", "step", *WREN)["setups"]
    figure, axes = labelled("A quick turn of the wheel: the body leans after the car has turned", "time, s", "lateral acceleration, g, and lean, deg")
    for setup, colour, dash in two_setups(setups):
        trace = setup["trace"]
        time = [p["time_s"] for p in trace]
        axes.plot(time, [p["roll_deg"] for p in trace], color=colour, linestyle=dash, label=f"lean, {setup['name']}")
        axes.plot(time, [p["lateral_g"] for p in trace], color=colour, linestyle=dash, linewidth=0.8, label=f"lateral, {setup['name']}")
    axes.legend(fontsize=8)
    save(figure, "step")


def sine(program):
    points = program.ask("forecast", "sine", *WREN)["points"]
    names = list(dict.fromkeys(p["setup"] for p in points))
    figure, axes = labelled("A weaving wheel: lean per g against the rhythm, 95 % bands", "frequency, Hz", "lean, deg per g")
    for name, colour, dash in ((names[0], BEFORE, "--"), (names[-1], AFTER, "-")):
        mine = [p for p in points if p["setup"] == name]
        rhythm = [p["frequency_hz"] for p in mine]
        lean = [p["roll_per_lateral_deg_per_g"] for p in mine]
        axes.plot(rhythm, [v["value"] for v in lean], color=colour, linestyle=dash, label=name)
        axes.fill_between(rhythm, [v["low"] for v in lean], [v["high"] for v in lean], color=colour, alpha=0.12, linewidth=0)
    axes.legend()
    save(figure, "sine")


def holes(program):
    points = program.ask("forecast", "holes", *WREN)["points"]
    figure, axes = labelled("Every hole: lean against balance", "front share of lateral load transfer, %", "lean, deg/g")
    for point in points:
        axes.plot(point["front_load_transfer_share_percent"]["value"], point["roll_gradient_deg_per_g"]["value"], linestyle="",
                  marker="o" if point["is_now"] else "^", markersize=9 if point["is_now"] else 5, markerfacecolor="none" if point["is_now"] else AFTER,
                  color=BEFORE if point["is_now"] else AFTER)
    axes.annotate("as it is", [(p["front_load_transfer_share_percent"]["value"], p["roll_gradient_deg_per_g"]["value"]) for p in points if p["is_now"]][0],
                  xytext=(8, 4), textcoords="offset points", color=BEFORE)
    save(figure, "holes")


def slalom_fit(program):
    outings = [(program.ask("test", "log", f"logs/wren-{when}.csv", "--set", "phone.height_mm=620")["outing"], colour, marker, when)
               for when, colour, marker in (("before", BEFORE, "o"), ("after", AFTER, "^"))]
    figure, axes = labelled("From a phone: lean at the cones, and the gradient read from the whole pass", "lateral acceleration at the cone, g", "lean, deg")
    for outing, colour, marker, when in outings:
        cones = [cone for one in outing["passes"] for cone in one["cones"]]
        axes.plot([abs(c["lateral_g"]) for c in cones], [abs(c["roll_deg"]) for c in cones], linestyle="", marker=marker, color=colour,
                  markerfacecolor="none" if when == "before" else colour, label=when)
        axes.plot([0, 0.6], [0, 0.6 * outing["roll_gradient_deg_per_g"]["value"]], color=colour, linestyle="--" if when == "before" else "-", linewidth=1)
    axes.legend()
    save(figure, "phone_lean")


def linkage(program):
    curve = program.ask("fit", "travel", "linkages/wren-rear.json", "--droop-mm", "70", "--bump-mm", "60")["curve"]
    travel = [p["travel_mm"] for p in curve]
    figure, axes = labelled("A linkage along its travel", "wheel travel, mm (upwards positive)", "degrees")
    axes.plot(travel, [p["camber_deg"] for p in curve], color=INK, label="camber")
    axes.plot(travel, [p["toe_in_deg"] for p in curve], color=INK, linestyle="--", label="toe in")
    axes.plot(travel, [p["pickup_tilt_deg"] for p in curve], color=PENCIL, linestyle=":", label="tilt of the lower link joint")
    axes.legend()
    save(figure, "linkage")


def ranking(program):
    choices = program.ask("choose", "rank", "wren.json", "bars/wren-rear-three-hole.json", "candidates.json", "--complaints", "leans", "--budget-money",
                          "600")["choices"]
    figure, axes = labelled("Effect against cost", "cost, money and hours together", "part of the wish that is delivered, %")
    for choice in choices:
        best = choice["is_pareto"]
        axes.errorbar(choice["total_cost_money"], choice["delivered_percent"]["value"], linestyle="", marker="o", color=AFTER if best else PENCIL,
                      markerfacecolor=AFTER if best else "none")
    axes.plot([], [], linestyle="", marker="o", color=AFTER, label="none is both better and cheaper")
    axes.plot([], [], linestyle="", marker="o", color=PENCIL, markerfacecolor="none", label="others")
    axes.legend()
    save(figure, "effect_against_cost")


def bolts(program):
    answer = program.ask("fit", "bolts", "--request", "readings/wren-rear-bolts.json")["bolts"]
    figure, axes = labelled("The same torque, and what it may do", "preload, kN (95 %)", "")
    for row, bolt in enumerate(answer):
        load = bolt["preload_n"]
        axes.plot([load["low"] / 1000, load["high"] / 1000], [row, row], color=INK)
        axes.plot(load["value"] / 1000, row, marker="o", color=INK)
    axes.set_yticks(range(len(answer)), [f"{b['name']}\n{b['thread']}, {b['torque_nm']:.0f} N·m" for b in answer])
    axes.set_xlim(left=0)
    save(figure, "torque")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--program", default=ROOT / "build/release/rollwright")
    arguments = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        program = Program(arguments.program, folder)
        for draw in (bar_curve, turn, step, sine, holes, slalom_fit, linkage, ranking, bolts):
            draw(program)


if __name__ == "__main__":
    main()
