# Compares two texts word by word: numbers within a relative tolerance, everything else exactly.
# usage: awk -v tolerance=1e-3 -f same.awk EXPECTED FOUND; prints the first difference and exits 1.
function is_number(word) { return word ~ /^[-+]?[0-9.]+(e[-+]?[0-9]+)?$/ }
function near(a, b,    d) {
    d = a - b; if (d < 0) d = -d
    if (a < 0) a = -a
    return d <= tolerance * a + 1e-12
}
{ gsub(/[(),;:]/, " & ") }
FNR == NR { expected[FNR] = $0; lines = FNR; next }
{
    count = FNR
    n = split($0, found, " ")
    m = split(expected[FNR], wanted, " ")
    for (i = 1; i <= n || i <= m; i++) {
        if (wanted[i] == found[i]) continue
        if (is_number(wanted[i]) && is_number(found[i]) && near(wanted[i], found[i])) continue
        printf "line %d, word %d: expected \"%s\", found \"%s\"\n", FNR, i, wanted[i], found[i]
        exit bad = 1
    }
}
END { if (!bad && count != lines) { printf "%d lines instead of %d\n", count, lines; exit 1 } exit bad }
