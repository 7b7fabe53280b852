#!/usr/bin/env bash
# Installs a package into a fresh Debian 12 made for it, runs the program there, and takes it away again.
#   tools/try_package.sh rollwright_*.deb | rollwright-*.tar.gz
# Needs root and debootstrap. A base system is kept in build/fresh/base.tar so that a second try is quick.
set -euo pipefail
package=$(realpath "$1")
cd "$(dirname "$0")/.."
[ "$(id -u)" = 0 ] || { echo "this makes a root of its own and therefore needs root: sudo $0 $1" >&2; exit 4; }
command -v debootstrap >/dev/null || { echo "debootstrap is missing: apt-get install debootstrap" >&2; exit 4; }
say() { printf '== %s\n' "$*"; }

work=$PWD/build/fresh
mkdir -p "$work"
root=$work/root
clear_root() { mountpoint -q "$root/proc" && umount "$root/proc"; rm -rf "$root"; }
clear_root
trap clear_root EXIT
if [ ! -f "$work/base.tar" ]; then
  say "a fresh Debian 12"
  debootstrap --variant=minbase bookworm "$root" >"$work/debootstrap.log" 2>&1 || { tail -n 20 "$work/debootstrap.log" >&2; exit 4; }
  tar -C "$root" --exclude=./proc --exclude=./var/cache/apt/archives/*.deb -cf "$work/base.tar" .
  rm -rf "$root"
fi
mkdir -p "$root"
tar -C "$root" -xf "$work/base.tar"
mkdir -p "$root/proc"
mount -t proc proc "$root/proc"
# The network as this machine has it, for the packages that the .deb depends on.
cp /etc/resolv.conf "$root/etc/resolv.conf" 2>/dev/null || true
cp -r /etc/apt/apt.conf.d/. "$root/etc/apt/apt.conf.d/" 2>/dev/null || true
inside() { chroot "$root" /usr/bin/env -i HOME=/root PATH=/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin LC_ALL=C.UTF-8 DEBIAN_FRONTEND=noninteractive \
  http_proxy="${http_proxy:-}" https_proxy="${https_proxy:-}" "$@"; }

case "$package" in
  *.deb)
    say "installing $(basename "$package") with what it depends on"
    cp "$package" "$root/root/rollwright.deb"
    inside apt-get update -qq
    inside apt-get install -y -qq --no-install-recommends /root/rollwright.deb >"$work/install.log" 2>&1 || { tail -n 20 "$work/install.log" >&2; exit 1; }
    program=rollwright
    examples=/usr/share/doc/rollwright/examples ;;
  *.tar.gz)
    say "unpacking $(basename "$package"); nothing else is installed"
    mkdir -p "$root/opt"
    tar -C "$root/opt" -xzf "$package"
    folder=/opt/$(basename "$package" .tar.gz)
    program=$folder/bin/rollwright
    examples=$folder/share/doc/rollwright/examples ;;
  *) echo "a .deb or a .tar.gz is wanted" >&2; exit 2 ;;
esac

say "version"; inside "$program" version
say "a bar"; inside "$program" bar rate "$examples/bars/wren-rear-three-hole.json" | head -n 12
inside "$program" bar rate "$examples/bars/wren-rear-three-hole.json" --json | grep -q '"rate_relative_n_per_mm"'
say "the workbench answers on this machine only"
inside "$program" serve --port 18034 >"$work/serve.log" 2>&1 &
serving=$!
for _ in $(seq 100); do
  page=$(python3 - <<'PY' 2>/dev/null || true
import urllib.request
print(urllib.request.urlopen("http://127.0.0.1:18034/", timeout=2).read().decode()[:200])
PY
)
  [ -n "$page" ] && break
  sleep 0.1
done
python3 - <<'PY'
import json, urllib.error, urllib.request
def get(path, **headers):
    return urllib.request.urlopen(urllib.request.Request("http://127.0.0.1:18034" + path, headers=headers), timeout=5)
page = get("/").read().decode()
assert "<!doctype html>" in page.lower() and "script" in page, "the page is not part of the program"
assert "version" in json.load(get("/api/version"))
try:
    get("/", Host="elsewhere.example")
    raise SystemExit("another host's name was accepted")
except urllib.error.HTTPError as error:
    assert error.code == 403
listening = [line.split() for line in open("/proc/net/tcp").readlines()[1:]]
addresses = {line[1].split(":")[0] for line in listening if line[1].endswith(":%04X" % 18034) and line[3] == "0A"}
assert addresses == {"0100007F"}, f"listens on {addresses}"
print("page, version, refusal and loopback address: as they should be")
PY
kill -TERM "$(pgrep -f "serve --port 18034" | head -n 1)" 2>/dev/null || kill -TERM "$serving"
wait "$serving" || { echo "the workbench did not stop cleanly" >&2; exit 1; }

case "$package" in
  *.deb)
    say "files"
    list=$(inside dpkg -L rollwright)
    for file in /usr/share/man/man1/rollwright.1.gz /usr/share/bash-completion/completions/rollwright /usr/share/applications/rollwright.desktop \
      /usr/share/metainfo/rollwright.metainfo.xml /usr/share/icons/hicolor/scalable/apps/rollwright.svg /usr/share/doc/rollwright/copyright; do
      # A minimal Debian leaves out manual pages and documents on purpose; then the package's own list must have them.
      grep -qx "$file" <<<"$list" || { echo "$file is missing" >&2; exit 1; }
    done
    say "taking it away"
    inside apt-get purge -y -qq rollwright >"$work/purge.log" 2>&1
    left=$(find "$root/usr" "$root/etc" "$root/var/lib" -name '*rollwright*' | grep -v -e '/var/lib/dpkg' -e '/var/lib/apt' || true)
    [ -z "$left" ] || { echo "left behind: $left" >&2; exit 1; } ;;
esac
say "done: installed, ran, answered, removed"
