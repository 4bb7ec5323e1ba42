#!/bin/sh
# The quick end of tests/faults: commands with one call for memory that fails, in front of the program as it was built.
# `make faults` has the rest.
#     sh tests/cli/faults.sh
cd "$(dirname -- "$0")/../.." || exit 1
. tests/support/cli.sh

compiler=${CC:-cc}
tools=$box/build
mkdir -p "$tools/faults"
check 'what fails in front of the program is built' sh -c "
    '$compiler' -std=c11 -O1 -o '$tools/faults/every_allocation' tests/faults/every_allocation.c &&
    '$compiler' -std=c11 -O1 -fPIC -shared -DPRELOAD -o '$tools/faults/allocation.so' tests/faults/allocation.c"

# A library in front of the program gets into the way of a sanitizer, which has its own malloc.
if nm -D "$brevis" 2>/dev/null | grep -q '__asan_init\|__tsan_init\|__msan_init' || nm "$brevis" 2>/dev/null | grep -q '__[amt]san_init'; then
    echo 'this program has a malloc of a sanitizer: left out'
elif nm "$brevis" 2>/dev/null | grep -q ' __gcov_'; then
    echo 'this program counts its lines, and asks for memory once more to write them down: left out'
else
    sh tests/faults/allocations.sh "$tools" short >"$box/log" 2>&1
    check 'some commands with each of some calls for memory failing' sh -c "tail -n 1 '$box/log' | grep -q '^[1-9][0-9]* passed, 0 failed$' || { cat '$box/log'; false; }"
fi

counted_out
