#!/usr/bin/env bash
# Writes the files that come from the operations' descriptions, so that they are never written by hand:
#   schema/*.json, web/src/api/types.ts, docs/reference.md, sources/register.json
# With --check it changes nothing and fails when a committed file differs.
set -euo pipefail
cd "$(dirname "$0")/.."
program=build/release/rollwright
out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT
mkdir -p "$out/schema" "$out/web/src/api" "$out/docs" "$out/sources"
"$program" generate schemas | awk -v dir="$out/schema/" '/^==> / { file = dir $2; next } { print > file }'
"$program" generate typescript > "$out/web/src/api/types.ts"
"$program" generate reference > "$out/docs/reference.md"
python3 tools/join_register.py > "$out/sources/register.json"
if [ "${1:-}" = --check ]; then
  status=0
  for file in web/src/api/types.ts docs/reference.md sources/register.json; do
    cmp -s "$out/$file" "$file" || { echo "$file is not what the operations say; run ./dev generate" >&2; status=1; }
  done
  diff -rq "$out/schema" schema >/dev/null 2>&1 || { echo "schema/ is not what the operations say; run ./dev generate" >&2; status=1; }
  exit $status
fi
mkdir -p schema web/src/api docs sources
rm -f schema/*.json
cp "$out"/schema/*.json schema/
cp "$out/web/src/api/types.ts" web/src/api/types.ts
cp "$out/docs/reference.md" docs/reference.md
cp "$out/sources/register.json" sources/register.json
