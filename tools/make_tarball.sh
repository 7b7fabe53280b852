#!/usr/bin/env bash
# A folder that runs where it is unpacked: rollwright-<version>-<machine>.tar.gz. Needs only the C library of the system
# (glibc of Debian 12 or newer); every other shared library lies beside the program, with its copyright notice. Film is left
# out, because its decoders are a hundred libraries under other terms; 'test video' says so.
#   tools/make_tarball.sh   (after: cmake --preset tarball && cmake --build build/tarball)
set -euo pipefail
cd "$(dirname "$0")/.."
build=build/tarball
version=$(sed -n 's/^project(rollwright VERSION \([0-9.]*\).*/\1/p' CMakeLists.txt)
name=rollwright-$version-$(uname -m)
stage=build/packages/stage/$name
rm -rf "$stage"
mkdir -p "$stage" build/packages
cmake --install "$build" --prefix "$PWD/$stage" --strip >/dev/null
mkdir -p "$stage/lib/rollwright" "$stage/share/doc/rollwright/copyrights"
# Everything but the C library and the loader.
ldd "$build/rollwright" | awk '$2 == "=>" && $3 ~ /^\// {print $3}' | grep -vE '/(libc|libm|libpthread|libdl|librt|libresolv|ld-linux[^/]*)\.so' | sort |
  while read -r library; do
    cp -L "$library" "$stage/lib/rollwright/"
    package=$(dpkg -S "$(realpath "$library")" 2>/dev/null | head -n 1 | cut -d: -f1)
    [ -n "$package" ] && cp "/usr/share/doc/$package/copyright" "$stage/share/doc/rollwright/copyrights/$package"
  done
cp LICENSE "$stage/share/doc/rollwright/copyrights/rollwright"
rm -rf "$stage/share/lintian"
# Names sorted, one date, no owner: the same content gives the same file.
epoch=${SOURCE_DATE_EPOCH:-$(git log -1 --format=%ct 2>/dev/null || echo 0)}
tar --sort=name --mtime="@$epoch" --owner=0 --group=0 --numeric-owner -C build/packages/stage -cf - "$name" | gzip -9n > "build/packages/$name.tar.gz"
rm -rf build/packages/stage
printf '%s\n' "build/packages/$name.tar.gz"
