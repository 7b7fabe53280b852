#!/usr/bin/env python3
"""The list of what a release is made of (software bill of materials), as CycloneDX 1.5 JSON, and its check.

    tools/sbom.py [FILE]     writes the list: libraries of the program from Debian's package data, parts of the page from
                             web/package-lock.json, each with version and licence; standard output without FILE
    tools/sbom.py --check    fails when a dependency's licence is unknown, does not go with Apache-2.0 in the way it is used,
                             or is not listed in docs/licences.md

The libraries are those that the program was linked with (its NEEDED entries) and the headers that are compiled into it;
what those libraries load themselves is Debian's and is listed by Debian. Licences of Debian packages are not written in a
form that programs can read reliably, so they stand here, taken from each package's /usr/share/doc/<package>/copyright.
"""
import hashlib
import json
import pathlib
import re
import subprocess
import sys

root = pathlib.Path(__file__).resolve().parent.parent

# Debian package (source of the header or library): SPDX expression, how it is used, its name in docs/licences.md.
DEBIAN = {
    "libeigen3-dev": ("MPL-2.0", "headers", "Eigen"),
    "libboost-dev": ("BSL-1.0", "headers", "Boost"),
    "libexpected-dev": ("CC0-1.0", "headers", "tl::expected"),
    "libfast-float-dev": ("Apache-2.0 OR MIT", "headers", "fast_float"),
    "nlohmann-json3-dev": ("MIT", "headers", "nlohmann-json"),
    "libcli11-dev": ("BSD-3-Clause", "headers", "CLI11"),
    "libcpp-httplib0.11": ("MIT", "shared library", "cpp-httplib"),
    "libssl3": ("Apache-2.0", "shared library", "OpenSSL"),
    "libbrotli1": ("MIT", "shared library", "Brotli"),
    "zlib1g": ("Zlib", "shared library", "zlib"),
    "libzstd1": ("BSD-3-Clause", "shared library", "zstd"),
    "libsqlite3-0": ("blessing", "shared library", "SQLite"),
    "libqrencode4": ("LGPL-2.1-or-later", "shared library", "libqrencode"),
    "libtbb12": ("Apache-2.0", "shared library", "oneTBB"),
    "libopencv-core406": ("Apache-2.0", "shared library", "OpenCV"),
    "libopencv-imgproc406": ("Apache-2.0", "shared library", "OpenCV"),
    "libopencv-video406": ("Apache-2.0", "shared library", "OpenCV"),
    "libavformat59": ("GPL-2.0-or-later", "shared library", "FFmpeg"),
    "libavcodec59": ("GPL-2.0-or-later", "shared library", "FFmpeg"),
    "libavutil57": ("GPL-2.0-or-later", "shared library", "FFmpeg"),
    "libswscale6": ("GPL-2.0-or-later", "shared library", "FFmpeg"),
    "libstdc++6": ("GPL-3.0-or-later WITH GCC-exception-3.1", "shared library", "GCC runtime"),
    "libgcc-s1": ("GPL-3.0-or-later WITH GCC-exception-3.1", "shared library", "GCC runtime"),
    "libc6": ("LGPL-2.1-or-later", "shared library", "glibc"),
}
HEADERS = [name for name, (_, how, _) in DEBIAN.items() if how == "headers"]

# What may be part of a program under Apache-2.0, and how.
ANY_WAY = {"MIT", "BSD-2-Clause", "BSD-3-Clause", "ISC", "Apache-2.0", "BSL-1.0", "CC0-1.0", "Zlib", "blessing", "MPL-2.0", "0BSD", "OFL-1.1", "Unlicense", "BlueOak-1.0.0"}
SHARED_ONLY = {"LGPL-2.1-or-later", "GPL-3.0-or-later WITH GCC-exception-3.1"}
# Debian builds FFmpeg with GPL parts. Apache-2.0 goes with GPL version 3, which "or later" allows: a whole that is handed on
# together with it (the .deb names it as a dependency, and does not contain it) is then under GPL-3.0.
SHARED_WITH_A_NOTE = {"GPL-2.0-or-later"}
# Licences of parts of the page's tools that are never handed on.
TOOLS_ONLY = ANY_WAY | {"CC-BY-4.0", "Python-2.0", "MIT-0", "CC-BY-3.0", "LGPL-3.0-or-later", "MPL-2.0 AND MIT", "W3C-20150513", "Artistic-2.0"}


def output(*words):
    return subprocess.run(words, capture_output=True, text=True, check=False).stdout


def version_of(package):
    return output("dpkg-query", "-W", "-f", "${Version}", package).strip()


def linked_packages(problems):
    """Debian packages of the libraries that the program names itself."""
    program = root / "build/release/rollwright"
    if not program.exists():
        sys.exit("build the program first: ./dev build")
    needed = re.findall(r"NEEDED\s+(\S+)", output("objdump", "-p", str(program)))
    paths = dict(re.findall(r"(\S+) => (/\S+)", output("ldd", str(program))))
    found = set()
    for library in needed:
        real = pathlib.Path(paths.get(library, "/lib64/" + library)).resolve()
        owner = output("dpkg", "-S", str(real)) or output("dpkg", "-S", str(real).removeprefix("/usr"))
        if not owner:
            problems.append(f"{library}: no Debian package owns it")
            continue
        found.add(owner.split(":")[0])
    # cpp-httplib brings these, and they handle what comes from the network.
    found |= {"libssl3", "libbrotli1"}
    return found


def page_parts(problems):
    """Everything in web/package-lock.json: (name, version, licence, is part of the page, integrity)."""
    lock = json.loads((root / "web/package-lock.json").read_text())
    parts = []
    for path, entry in lock["packages"].items():
        if not path or entry.get("link"):
            continue
        name = path.split("node_modules/")[-1]
        licence = entry.get("license")
        if not licence:
            problems.append(f"{name}: the lock file names no licence")
            licence = "NOASSERTION"
        parts.append((name, entry["version"], licence, not entry.get("dev", False) and not entry.get("devOptional", False), entry.get("integrity", "")))
    return parts


def choices(expression):
    return [part.strip(" ()") for part in re.split(r"\bOR\b", expression)]


def check(linked, parts, problems):
    text = (root / "docs/licences.md").read_text()
    for package in sorted(linked | set(HEADERS)):
        if package not in DEBIAN:
            problems.append(f"{package}: is linked, but its licence is not known to tools/sbom.py")
            continue
        licence, how, name = DEBIAN[package]
        good = ANY_WAY | (SHARED_ONLY | SHARED_WITH_A_NOTE if how == "shared library" else set())
        if not any(choice in good for choice in choices(licence)):
            problems.append(f"{package}: {licence} does not go with Apache-2.0 as {how}")
        if name.lower() not in text.lower():
            problems.append(f"{package}: '{name}' is not listed in docs/licences.md")
        if not version_of(package):
            problems.append(f"{package}: is not installed, so its version is not known")
    for name, _, licence, in_page, _ in parts:
        if not any(choice in (ANY_WAY if in_page else TOOLS_ONLY) for choice in choices(licence)):
            problems.append(f"{name}: {licence} does not go with Apache-2.0" + (" as a part of the page" if in_page else " as a tool"))
        # Parts of parts (the runtime of a listed part) are listed under the name of their maker.
        if in_page and name.lower() not in text.lower() and name.split("/")[0].lower() not in text.lower():
            problems.append(f"{name}: is a part of the page and is not listed in docs/licences.md")


def licence_entry(expression):
    return [{"expression": expression}] if re.search(r"\b(OR|AND|WITH)\b", expression) else [{"license": {"id": expression}}]


def bill(linked, parts):
    version = re.search(r"project\(rollwright VERSION ([0-9.]+)", (root / "CMakeLists.txt").read_text()).group(1)
    components = []
    for package in sorted(linked | set(HEADERS)):
        licence, how, _ = DEBIAN.get(package, ("NOASSERTION", "", ""))
        v = version_of(package)
        components.append({"type": "library", "bom-ref": f"deb:{package}", "name": package, "version": v, "scope": "required",
                           "licenses": licence_entry(licence), "purl": f"pkg:deb/debian/{package}@{v}?distro=debian-12",
                           "properties": [{"name": "rollwright:used-as", "value": how}]})
    for name, v, licence, in_page, integrity in sorted(parts):
        entry = {"type": "library", "bom-ref": f"npm:{name}@{v}", "name": name, "version": v, "scope": "required" if in_page else "excluded",
                 "licenses": licence_entry(licence), "purl": "pkg:npm/" + name.replace("@", "%40", 1) + "@" + v}
        if integrity.startswith("sha512-"):
            import base64
            entry["hashes"] = [{"alg": "SHA-512", "content": base64.b64decode(integrity[7:]).hex()}]
        if all(entry["bom-ref"] != c["bom-ref"] for c in components):
            components.append(entry)
    body = {"bomFormat": "CycloneDX", "specVersion": "1.5", "version": 1,
            "metadata": {"component": {"type": "application", "name": "rollwright", "version": version, "licenses": licence_entry("Apache-2.0")}},
            "components": components}
    digest = hashlib.sha256(json.dumps(body, sort_keys=True).encode()).hexdigest()
    body["serialNumber"] = f"urn:uuid:{digest[:8]}-{digest[8:12]}-5{digest[13:16]}-8{digest[17:20]}-{digest[20:32]}"
    return body


def main():
    problems = []
    linked, parts = linked_packages(problems), page_parts(problems)
    if "--check" in sys.argv:
        check(linked, parts, problems)
        print("\n".join(problems) or f"licences: {len(linked) + len(HEADERS)} libraries and {len(parts)} parts and tools of the page are known, compatible and listed")
        return 1 if problems else 0
    text = json.dumps(bill(linked, parts), indent=1) + "\n"
    target = next((a for a in sys.argv[1:] if not a.startswith("-")), None)
    if target:
        pathlib.Path(target).write_text(text)
    else:
        print(text, end="")
    return 0


sys.exit(main())
