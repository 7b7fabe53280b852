#!/usr/bin/env bash
# Builds the same revision twice, in folders with different names, without a compiler cache, and compares the results byte
# for byte.
#   tools/check_reproducible.sh            a part: the doors and what lies below them without the subjects (minutes)
#   tools/check_reproducible.sh --whole    the whole program and its .deb
set -euo pipefail
cd "$(dirname "$0")/.."
part=(rollwright_base rollwright_numerics rollwright_wire rollwright_notebook rollwright_bar)
[ "${1:-}" = --whole ] && part=(all)
SOURCE_DATE_EPOCH=$(git log -1 --format=%ct)
export SOURCE_DATE_EPOCH
work=$PWD/build/reproducible
rm -rf "$work"
mkdir -p "$work"
for folder in one another-and-longer-name; do
  git clone -q --shared . "$work/$folder"
  # The page is taken as built: what npm makes of its sources is checked by its lock file.
  [ -d web/dist ] && cp -r web/dist "$work/$folder/web/dist"
  (
    cd "$work/$folder"
    mkdir -p build
    cmake --preset package -Wno-dev -DCCACHE=CCACHE-NOTFOUND >build/configure.log 2>&1
    nice -n 10 cmake --build build/package --target "${part[@]}" >build/build.log 2>&1 || { tail -n 20 build/build.log >&2; exit 1; }
    [ "${part[0]}" = all ] && (cd build/package && cpack -G DEB >cpack.log 2>&1)
    cd build/package
    { find . -name '*.a'; find . -maxdepth 1 \( -name rollwright -o -name '*.deb' \); } | sort | xargs sha256sum > "$work/$folder.sums"
  )
done
if ! diff "$work/one.sums" "$work/another-and-longer-name.sums"; then
  echo "two builds of the same revision differ" >&2
  exit 1
fi
printf '%s files are the same in both builds\n' "$(wc -l < "$work/one.sums")"
rm -rf "$work"
