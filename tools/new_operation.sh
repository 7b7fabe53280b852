#!/bin/sh
# Starts an operation: writes the file pair and a test from one pattern, so that all operations look alike.
# usage: tools/new_operation.sh <group> <verb>
set -eu
[ $# -eq 2 ] || { echo "usage: tools/new_operation.sh <group> <verb>" >&2; exit 2; }
group=$1; verb=$2; name=${group}_${verb}
cd "$(dirname "$0")/../src/ops"
[ -e "$name.h" ] && { echo "src/ops/$name.h exists already" >&2; exit 2; }
camel=$(printf '%s' "$name" | awk -F_ '{ for (i = 1; i <= NF; i++) printf "%s%s", toupper(substr($i,1,1)), substr($i,2) }')
cat > "$name.h" <<EOF
// $group $verb: say here what is asked and what is answered.
#pragma once

#include <string>

#include "ops/operation.h"

namespace rollwright::ops {

struct ${camel}Request {
  static constexpr const char* kName = "${camel}Request";
  static void describe(base::RecordType<${camel}Request>& r);
};

struct ${camel}Result {
  static constexpr const char* kName = "${camel}Result";
  std::string meaning;
  static void describe(base::RecordType<${camel}Result>& r);
};

base::Outcome<base::Answer<${camel}Result>> $name(const ${camel}Request& request, Context& context);
Operation ${name}_operation();

}  // namespace rollwright::ops
EOF
cat > "$name.cpp" <<EOF
#include "ops/$name.h"

namespace rollwright::ops {

void ${camel}Request::describe(base::RecordType<${camel}Request>& r) { r.about(""); }

void ${camel}Result::describe(base::RecordType<${camel}Result>& r) {
  r.field<&${camel}Result::meaning>("meaning", "What it means, in a sentence.");
}

base::Outcome<base::Answer<${camel}Result>> $name(const ${camel}Request& request, Context& context) {
}

Operation ${name}_operation() { return operation<&$name>("$group", "$verb", "").helped(""); }

}  // namespace rollwright::ops
EOF
echo "wrote src/ops/$name.h and src/ops/$name.cpp"
