#!/bin/sh
# Does the maker of mutants leave alone what is no slip, and does a draw come out the same again?
# usage: tests/mutation/try.sh MUTATE
set -u
mutate=$1
box=$(mktemp -d) || exit 1
trap 'rm -rf "$box"' EXIT
passed=0
failed=0

# Lines that end with KEEP hold nothing that may change.
cat >"$box/one.c" <<'EOF'
#include "a1/b0.h" /* KEEP */
/* 1 + 1 < 2 KEEP */
// if (1 < 2) return 0; KEEP
#define FACTOR 0.5
#define HALF(x) ((x) / 2.0)
#if 1 > 0 /* KEEP */
static const char *const words[] = {"1 + 1", "a < b \" 0"}; /* KEEP */
#endif /* KEEP */
static double sum(const double value[4], int n)
{
    double room[8]; /* KEEP */
    struct part *part; /* KEEP */
    assert(n > 0 && value[0] >= 0.0); /* KEEP */
    double total = 0.0;
    for (int i = 0; i < n; i++) total += value[i] * FACTOR;
    if (total < 1.0)
        total = fmax(total, 1e-3);
    const char mark = '+'; /* KEEP */
    return -total;
}
EOF

check() {
    what=$1
    shift
    if "$@"; then passed=$((passed + 1)); else failed=$((failed + 1)) && echo "FAILED: $what"; fi
}

i=0
while [ "$i" -lt 400 ]; do
    "$mutate" 1 "$i" 0 "$box/out.c" "$box/one.c" >>"$box/told" || echo 'FAILED: a draw' >>"$box/bad"
    sed 1d "$box/out.c" | diff "$box/one.c" - | grep '^[<>]' >"$box/change"
    grep -q KEEP "$box/change" && cat "$box/change" >>"$box/bad"
    [ "$(grep -c '^<' "$box/change") $(grep -c '^>' "$box/change")" = '1 1' ] || echo "not one line: $i" >>"$box/bad"
    i=$((i + 1))
done
check 'what is no slip stays, and one line changes' [ ! -s "$box/bad" ]
[ ! -s "$box/bad" ] || sort -u "$box/bad" | head -n 20
for what in "'<' becomes '<='" "'<' becomes '>'" "'0.5' becomes '(0.5 \* 1.1)'" "'+=' becomes '-='" \
    "'++' becomes '--'" 'dropped: total = fmax' 'dropped: total += value' \
    'negated: if (total < 1.0)' 'other sign: return -total' \
    "'fmax' becomes 'fmin'" "'/' becomes '\*'" "'0' becomes '1'" "'0.0' becomes '1.0'"; do
    check "drawn: $what" grep -q -e "$what" "$box/told"
done
check 'no size of a parameter' sh -c "! grep -q \"'4' becomes\" '$box/told'"
check 'a function is named, with its lines' grep -q "$(printf '\tsum\t9\t20\t')" "$box/told"
"$mutate" 7 3 0 "$box/a.c" model/*/*.c >"$box/a"
"$mutate" 7 3 0 "$box/b.c" model/*/*.c >"$box/b"
check 'the same draw twice' cmp -s "$box/a" "$box/b"
check 'the same mutant twice' cmp -s "$box/a.c" "$box/b.c"
"$mutate" 8 3 0 "$box/b.c" model/*/*.c >"$box/b"
check 'another seed, another draw' sh -c "! cmp -s '$box/a' '$box/b'"
echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
