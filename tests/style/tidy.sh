#!/bin/sh
# clang-tidy over every file of model/ and cli/. A file found clean is not read again until it, any header, the list of
# checks, the tool or this script changes: what was clean is kept in BUILD/tidy by the hash of all that.
# usage: tests/style/tidy.sh BUILD     findings go to BUILD/tidy.txt; exits non-zero when there are any
set -u
build=$1
mkdir -p "$build/tidy"
common=$({
    cat .clang-tidy tests/style/tidy.sh
    find model cli -name '*.h' | LC_ALL=C sort | xargs sha256sum
    clang-tidy --version
    pkg-config --modversion gsl yaml-0.1
} | sha256sum)

# hash and name of those to read: the hash is taken before reading, so that a file changed meanwhile is read again
for file in model/*/*.c cli/*.c cli/*/*.c; do
    key=$( (echo "$common $file" && cat "$file") | sha256sum | cut -c 1-64)
    [ -e "$build/tidy/$key" ] || echo "$build/tidy/$key $file"
done >"$build/tidy_stale.txt"

xargs -r -P 2 -n 24 sh -c '
    keys="" files=""
    while [ $# -gt 0 ]; do keys="$keys $1" files="$files $2"; shift 2; done # names without blanks
    clang-tidy --quiet $files -- -std=c11 -Imodel -Icli -D_POSIX_C_SOURCE=200809L "-DBRV_VERSION=\"0\"" "-DBRV_DATA=\"\"" &&
        touch $keys' sh <"$build/tidy_stale.txt" >"$build/tidy.txt" 2>/dev/null
