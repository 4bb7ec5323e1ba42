#!/bin/sh
# What the compiler and the linker put into the program and the library so that a slip past a buffer ends the program instead
# of going on: position-independent code, a stack that holds no code and is guarded, tables of addresses made read-only before
# the first line runs, string functions that know how much room there is. Read from what was built, not from the makefile.
#     sh tests/cli/hardened.sh
cd "$(dirname -- "$0")/../.." || exit 1
. tests/support/cli.sh

library=$(dirname "$brevis")/libbrevis.a
if ! command -v readelf >/dev/null 2>&1; then
    echo 'readelf is not here: what the linker did is left out'
    check 'the program runs' exits 0 "$brevis" --version
    counted_out
    exit
fi

LC_ALL=C readelf -hldW "$brevis" >"$box/headers" 2>/dev/null
LC_ALL=C readelf -W --dyn-syms "$brevis" >"$box/symbols" 2>/dev/null
# Places of 32 bits would fix the code where it is linked; those of the debugger's tables are no code.
LC_ALL=C readelf -rW "$library" 2>/dev/null | awk '/^Relocation section/ { code = !/debug/ } code' >"$box/objects"
has() { grep -q -e "$2" "$box/$1"; } # has FILE PATTERN
lacks() { ! has "$@"; }

check 'an ELF file was read' has headers '^ELF Header'
check 'position-independent, so that its place in memory is drawn anew' has headers 'Type: *DYN'
check '  as a program, not as a library' has headers '(FLAGS_1).*PIE'
check 'the stack holds no code' has headers '^ *GNU_STACK .* RW  *0x'
check 'no part of it is written and run' lacks headers '^ *LOAD .* RWE'
check 'tables of the linker are read-only' has headers '^ *GNU_RELRO '
check '  all of them, before the first line runs' has headers '(FLAGS.*NOW'
check 'libraries are looked for nowhere but where the system has them' lacks headers '(R\(UN\)\{0,1\}PATH)'
check 'a guard lies behind arrays on the stack' has symbols '__stack_chk_fail'
check 'the library has places for the linker to fill' has objects 'brv_'
check '  and can be linked into a program that is position-independent' lacks objects 'R_X86_64_32S\{0,1\} '

# Sanitizers look for the same and more, and the checked functions would come before them; clang links all that it watches
# into the program. gcov builds are not optimised.
if grep -aqE '__asan_init|__ubsan_handle|__tsan_init|__msan_init|\.gcda' "$brevis"; then
    echo 'built for a sanitizer or to count lines: which string functions are called is left out'
    counted_out
    exit
fi
for name in snprintf vsnprintf fprintf; do
    check "$name knows how much room there is" has symbols "__${name}_chk@"
done
for name in gets strcpy stpcpy sprintf vsprintf strtok system popen tmpnam mktemp scanf sscanf __isoc99_scanf __isoc99_sscanf \
    execvp execlp posix_spawnp; do
    check "$name is not called" lacks symbols " ${name}\(@\|\$\)"
done

counted_out
