#!/usr/bin/env python3
"""Writes the hand-made seeds of the fuzz targets (fuzz/corpus). The seeds of the questions come from fuzz_write_seeds, those of the
notebook from the program. Run from the project's root after ./dev build."""
import gzip
import json
import math
import pathlib
import shutil
import subprocess
import tempfile

root = pathlib.Path(__file__).resolve().parent.parent
corpus = root / "fuzz" / "corpus"


def put(target, name, data):
    folder = corpus / target
    folder.mkdir(parents=True, exist_ok=True)
    (folder / name).write_bytes(data.encode() if isinstance(data, str) else data)


# Documents: the examples and their smallest forms.
for path in sorted((root / "examples").rglob("*.json")):
    put("documents", path.stem + ".json", json.dumps(json.loads(path.read_text()), ensure_ascii=False))
for kind in ("car/1", "bar/1", "candidates/1", "linkage/1", "marks/1", "outing/1"):
    put("documents", "empty-" + kind.replace("/", "-") + ".json", json.dumps({"kind": kind}))
put("documents", "deep.json", "[" * 80 + "]" * 80)
put("documents", "twice.json", '{"kind": "car/1", "name": "a", "name": "b"}')
put("documents", "numbers.json", '{"kind": "car/1", "wheelbase_mm": 1e999, "a": -0.0, "b": 1E-400, "c": 00}')

# Words of the command line.
put("words", "bar", "bar rate\n{\"kind\": \"bar/1\"}\nyoung_mpa=205000+-2000 maker\nbar.name=x\n")
put("words", "compare", "forecast compare\n{\"kind\": \"car/1\", \"name\": \"x\"}\nwheelbase_mm=2550±5 measured\nfront.track_mm=1480\nsetups=a\nseed=1\n")
put("words", "log", "test log\na.csv\nb.csv\nfiles=c.csv\nwheelbase_mm=2.5e3\n")


# Logs: a few seconds of an invented slalom in several shapes.
def rows(count, step=0.02):
    for i in range(count):
        t = i * step
        roll = 0.05 * math.sin(2.5 * t)
        yield t, 4 * math.sin(2.5 * t), 9.81 * math.sin(roll), 9.81 * math.cos(roll), 0.1 * math.cos(2.5 * t), 0.01, 0.4 * math.cos(2.5 * t), 12.0


plain = "time (s),acceleration x (m/s^2),acceleration y (m/s^2),acceleration z (m/s^2),rotation x (rad/s),rotation y (rad/s),rotation z (rad/s),speed (m/s)\n" + "".join(
    ",".join(f"{v:.5f}" for v in row) + "\n" for row in rows(60))
put("log_files", "plain.csv", plain)
put("log_files", "semicolon.csv", plain.replace(".", "#").replace(",", ";").replace("#", ","))
put("log_files", "tabs.tsv", "# a comment\n" + plain.replace(",", "\t"))
put("log_files", "plain.csv.gz", gzip.compress(plain.encode(), mtime=0))
put("log_files", "utf16.csv", plain[:1200].encode("utf-16"))
put("log_files", "long.csv", "time,sensor,x,y,z\n" + "".join(
    f"{r[0]:.3f},accelerometer,{r[1]:.3f},{r[2]:.3f},{r[3]:.3f}\n{r[0]:.3f},gyroscope,{r[4]:.3f},{r[5]:.3f},{r[6]:.3f}\n" for r in rows(40)))
put("log_files", "milliseconds.csv", "timestamp_ms;ax_g;ay_g;az_g;gx_dps;gy_dps;gz_dps\n" + "".join(
    f"{int(r[0] * 1000) + 1700000000000};{r[1] / 9.81:.4f};{r[2] / 9.81:.4f};{r[3] / 9.81:.4f};{r[4] * 57.3:.3f};{r[5] * 57.3:.3f};{r[6] * 57.3:.3f}\n" for r in rows(40)))
put("log_files", "nan.csv", "time,ax,ay,az,gx,gy,gz\n0,nan,inf,-inf,1e999,,\n0.01,1,2,9.8,0,0,0\n")
put("log_files", "bomb.csv.gz", gzip.compress(b"0,0,0,0,0,0,0\n" * 200000, 9, mtime=0))
put("log_files", "empty.csv", "")

points = "".join(
    f'<trkpt lat="{51 + i * 1e-5}" lon="{0.1 + i * 1e-5}"><ele>10</ele><time>2026-05-01T10:00:{i:02d}Z</time>'
    f"<extensions><speed>12.5</speed><course>45</course></extensions></trkpt>" for i in range(12))
put("gpx_tracks", "track.gpx", f'<?xml version="1.0"?><gpx version="1.1"><trk><name>a &amp; b</name><trkseg>{points}</trkseg></trk></gpx>')
put("gpx_tracks", "entities.gpx", '<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY a "aaaaaaaa"><!ENTITY b SYSTEM "file:///etc/passwd">]><gpx><trk><trkseg><trkpt lat="&a;" lon="&b;"><time>&b;</time></trkpt></trkseg></trk></gpx>')
put("gpx_tracks", "cut.gpx", f"<gpx><trk><trkseg>{points[:300]}")
put("gpx_tracks", "odd.gpx", "<gpx><trkpt lat='91' lon='1e400'><time>2026-13-40T25:61:61Z</time></trkpt><!-- <trkpt --><![CDATA[<trkpt>]]></gpx>")

put("frames", "text", b"a text that is made smaller, made smaller, made smaller")
put("frames", "zeros", bytes(3000))
if shutil.which("zstd"):
    for name, data in (("packed", plain.encode()), ("bomb", bytes(8 << 20))):
        put("frames", name + ".zst", subprocess.run(["zstd", "-19", "-q", "-c"], input=data, capture_output=True, check=True).stdout)

# Requests: HOST stands for the server's own name and port.
bar = json.dumps({"bar": json.loads((root / "examples/bars/wren-rear-three-hole.json").read_text())})


def request(line, body="", *headers, host="HOST"):
    head = [line, f"Host: {host}", "Connection: close", *headers]
    if body:
        head += [f"Content-Length: {len(body)}"]
    return "\r\n".join(head) + "\r\n\r\n" + body


as_json = "Content-Type: application/json"
put("http_requests", "version", request("GET /api/version HTTP/1.1"))
put("http_requests", "page", request("GET / HTTP/1.1"))
put("http_requests", "bar", request("POST /api/bar/typical HTTP/1.1", "{}", as_json))
put("http_requests", "rate", request("POST /api/bar/rate HTTP/1.1", bar, as_json))
put("http_requests", "job", request("POST /api/jobs/bar/typical HTTP/1.1", "{}", as_json))
put("http_requests", "file", request("POST /api/files?name=..%2f..%2fa.csv HTTP/1.1", "a,b\n1,2\n", "Content-Type: application/octet-stream"))
put("http_requests", "elsewhere", request("GET / HTTP/1.1", "", host="elsewhere.example"))
put("http_requests", "path", request("GET /../../etc/passwd HTTP/1.1"))
put("http_requests", "path-escaped", request("GET /assets/%2e%2e/%2e%2e/etc/passwd HTTP/1.1"))
put("http_requests", "range", request("GET / HTTP/1.1", "", "Range: bytes=0-1,5-2,-,99999999999999999999-"))
put("http_requests", "chunked", "POST /api/bar/typical HTTP/1.1\r\nHost: HOST\r\nContent-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n2\r\n{}\r\n0\r\n\r\n")
put("http_requests", "two", request("GET /api/version HTTP/1.1").replace("Connection: close\r\n", "") + request("DELETE /api/jobs/0123456789abcdef0123456789abcdef HTTP/1.1"))
put("http_requests", "multipart", request("POST /api/files HTTP/1.1", '--x\r\nContent-Disposition: form-data; name="f"; filename="../a"\r\n\r\nhello\r\n--x--\r\n', "Content-Type: multipart/form-data; boundary=x"))
put("http_requests", "length", "POST /api/bar/rate HTTP/1.1\r\nHost: HOST\r\nContent-Type: application/json\r\nContent-Length: 99999999999999999999\r\n\r\n{}")
put("http_requests", "gzip", b"POST /api/bar/typical HTTP/1.1\r\nHost: HOST\r\nContent-Type: application/json\r\nContent-Encoding: gzip\r\nContent-Length: 22\r\nConnection: close\r\n\r\n" + gzip.compress(b"{}", mtime=0))

# Questions whose examples name files, or patterns that a shell expands.
def question(id_, request):
    put("questions", id_.replace(" ", "_"), id_ + "\n" + json.dumps(request, ensure_ascii=False))


def example(name):
    return json.loads((root / "examples" / name).read_text())


def log(seconds):
    return {"name": "log.csv", "text": plain.splitlines()[0] + "\n" + "".join(",".join(f"{v:.4f}" for v in row) + "\n" for row in rows(int(seconds / 0.04), 0.04))}


car, rear = example("wren.json"), example("bars/wren-rear-three-hole.json")
question("bar claim", {"text": "24 mm, three-way, 38 % stiffer", "car_class": "small_hatchback"})
question("forecast compare", {"car": car, "bars": [example("bars/wren-rear-as-built.json"), rear], "draws": 100})
question("test log", {"files": [log(20)]})
question("test prove", {"before": [log(10)], "after": [log(10)]})
question("test learn", {"car": car, "bars": [rear], "setups": [{"name": "now"}], "measured": [{"setup": "now", "roll_gradient_deg_per_g": {"value": 4.1, "pm": 0.2}}]})
question("test tune", {"car": car, "bars": [rear], "draws": 50})
question("test video", {"films": [{"name": "a.mp4", "text": "no film"}], "marks": {"kind": "marks/1"}})
question("notebook add", {"files": [{"name": "wren.json", "text": json.dumps(car)}, log(1)]})
question("notebook import", {"file": {"name": "a.rollwright", "text": "rollwright-notebook.txt"}})
question("notebook show", {"what": "wren"})
for verb in ("undo", "remove", "restore"):
    question("notebook " + verb, {"document": "wren"})

# A notebook with one document, one result, one log, and its export, by the program itself.
program = root / "build/release/rollwright"
with tempfile.TemporaryDirectory() as folder:
    book = folder + "/seed.garage"
    small = pathlib.Path(folder) / "small.csv"
    small.write_text(plain[:600])

    def run(*words):
        subprocess.run([str(program), *map(str, words), "--notebook", book], check=True, capture_output=True, cwd=folder)

    run("notebook", "new")
    run("notebook", "add", root / "examples/wren.json")
    run("notebook", "add", "--files", small)
    run("bar", "typical", "--keep")
    run("notebook", "export", "--out", folder + "/out")
    put("notebook_files", "small.garage", pathlib.Path(book).read_bytes())
    for path in sorted(pathlib.Path(folder, "out").iterdir()):
        if path.suffix != ".html":
            put("notebook_exports", "export", path.read_bytes())
put("notebook_files", "text", "this is no notebook")
put("notebook_files", "empty-database", b"SQLite format 3\0" + bytes(84))
put("notebook_exports", "text", "rollwright-notebook.txt")

# Films of a few frames, drawn here.
try:
    import cv2
    import numpy

    for name, code in (("small.mp4", "mp4v"), ("small.avi", "MJPG")):
        with tempfile.TemporaryDirectory() as folder:
            film = cv2.VideoWriter(folder + "/" + name, cv2.VideoWriter_fourcc(*code), 10, (64, 48))
            for i in range(4):
                film.write(numpy.full((48, 64, 3), 60 * i, numpy.uint8))
            film.release()
            put("films", name, pathlib.Path(folder, name).read_bytes())
except ImportError:
    print("the films' seeds were left as they are: they need python3-opencv")
put("films", "text.mp4", "this is no film")
