#!/bin/sh
# The pages as texts: every link leads somewhere, every equation can be set by a host of code, every stage of the model has
# its page, every word of the glossary is used, generated pages are the ones that the program writes and are linked.
# usage: BREVIS=build/brevis sh tests/cli/pages.sh
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh
# A table of tests/validation is set into docs/validation.md, whose links it has.
pages=$(find README.md DEVELOPERS.md docs tests plots scenarios -name '*.md' ! -path 'tests/validation/*' | sort)

# ---- links ----
# Prose of a page: blocks of code and words in code are left out, line numbers stay.
prose() {
    awk '/^```/ { inside = !inside; print ""; next } inside { print ""; next } { gsub(/``[^`]*``/, ""); gsub(/`[^`]*`/, ""); print }' "$1"
}
# Anchors as a host of code makes them of headings: small letters, blanks to hyphens, other signs left out, doubles counted.
anchors() {
    awk '/^```/ { inside = !inside } !inside && /^#+ / {
        sub(/^#+ */, ""); gsub(/\[|\]\([^)]*\)/, ""); $0 = tolower($0); gsub(/[^a-z0-9_ -]/, ""); gsub(/ /, "-")
        print $0 (seen[$0]++ ? "-" seen[$0] - 1 : "") }' "$1"
}
links() { # links PAGE: its targets, one a line, behind the line's number
    prose "$1" | awk '{ while (match($0, /\]\([^()]*(\([^()]*\))?[^()]*\)/)) {
        print NR, substr($0, RSTART + 2, RLENGTH - 3); $0 = substr($0, RSTART + RLENGTH) } }'
}
leads() { # leads PAGE TARGET: says what is missing
    case $2 in
    https://* | mailto:*) return ;;
    http:*) echo "$1: $2 is not https" && return ;;
    esac
    file=${2%%#*}
    [ -z "$file" ] && file=$1 || file=$(dirname "$1")/$file
    [ -e "$file" ] || { echo "$1: $2 is not there" && return; }
    case $2 in
    *#*) anchors "$file" | grep -qxF -e "${2#*#}" || echo "$1: $2 has no such heading" ;;
    esac
}
for page in $pages; do links "$page" | while read -r line target; do leads "$page:$line" "$target" >/dev/null; echo "$page $target"; done; done >"$box/links"
check 'there are links' [ "$(wc -l <"$box/links")" -gt 100 ]
while read -r page target; do leads "$page" "$target"; done <"$box/links" >"$box/stderr"
check 'every link leads somewhere' [ ! -s "$box/stderr" ]
: >"$box/stderr"

# Each page of docs/ can be reached from README.md.
reach=README.md
while :; do
    more=$({ for page in $reach; do
        echo "$page"
        sed -n "s|^$page ||p" "$box/links" | sed 's/#.*//' | grep '\.md$' | while read -r target; do
            echo "$(dirname "$page")/$target" | awk -F/ '{ n = 0; for (i = 1; i <= NF; i++) if ($i == "..") n--; else if ($i != ".") part[++n] = $i
                for (i = 1; i <= n; i++) printf "%s%s", part[i], i < n ? "/" : "\n" }'
        done
    done; } | sort -u)
    [ "$more" = "$reach" ] && break
    reach=$more
done
for page in $(find docs -name '*.md' ! -name changes.md | sort); do # changes.md is looked for by its name
    check "$page can be reached from README.md" sh -c "echo '$reach' | grep -qx '$page'"
done

# ---- equations ----
# A host of code sets $...$ within a paragraph and blocks of ```math. In a paragraph it takes \, \; \{ and * for signs of its
# own before it sees an equation, so these belong into a block; a blank inside the dollars ends the equation.
equations() { # says what is wrong
    awk -v page="$1" '
    function fault(text) { print page ":" NR ": " text }
    function braces(text,   i, n, c) {
        for (i = 1; i <= length(text); i++) { c = substr(text, i, 1); n += (c == "{") - (c == "}"); if (n < 0) return 0 }
        return n == 0
    }
    function maths(text) {
        if (!braces(text)) fault("braces do not match: " text)
        if (text ~ /\\(ref|eqref|label|cite|newcommand|def|require|tag)[^a-z]/) fault("no host sets this: " text)
        if (gsub(/\\begin\{/, "&", text) != gsub(/\\end\{/, "&", text)) fault("begin without end: " text)
        if (gsub(/\\left[^a-z]/, "&", text) != gsub(/\\right[^a-z]/, "&", text)) fault("left without right: " text)
    }
    /^```math$/ { inside = "math"; block = ""; next }
    /^```/ && inside { if (inside == "math") maths(block); inside = ""; next }
    /^```/ { inside = "code"; next }
    inside == "math" { block = block $0 " "; if ($0 ~ /\$/) fault("a dollar in a block"); next }
    inside || /^    / { next }
    {
        gsub(/`[^`]*`/, ""); gsub(/\\\$/, "")
        if (!NF) next
        if ($0 ~ /\$\$/) { fault("write a block of ```math for $$"); next }
        n = split($0, part, "$")
        if (n % 2 == 0) { fault("a dollar without its other"); next }
        for (i = 1; i <= n; i++) {
            if (i % 2 == 0) {
                maths(part[i])
                if (part[i] ~ /^ | $/ || part[i] == "") fault("a blank inside the dollars: " part[i])
                if (part[i] ~ /\\[^a-zA-Z]|\*/) fault("a sign that the host takes away; write a block: " part[i])
                if (part[i + 1] ~ /^[0-9]/) fault("a digit behind the dollar: " part[i])
            } else if (part[i] ~ /\\[a-zA-Z]+/) fault("an equation that would be read as text: " part[i])
        }
    }
    END { if (inside) fault("a block without end") }' "$1"
}
for page in $pages; do equations "$page"; done >"$box/stderr"
check 'every equation can be set' [ ! -s "$box/stderr" ]
: >"$box/stderr"
check 'there are equations' [ "$(grep -l '^```math$' docs/theory/*.md | wc -l)" -ge 3 ]

# ---- pages of the theory ----
# Base and scenario have no physics; what stands beside the heat model has a page by question.
for stage in model/*/; do
    stage=$(basename "$stage")
    case $stage in base | scenario) continue ;; side) set -- cover room colour output ;; *) set -- "$stage" ;; esac
    for page in "$@"; do
        check "docs/theory/$page.md is there and names its folder" grep -q "model/$stage/" "docs/theory/$page.md"
    done
done
# A test that a page names is there.
for page in docs/theory/*.md; do
    grep -oE '(tests|model|cli|plots|scenarios|docs)/[a-zA-Z0-9_/.-]*[a-z0-9]' "$page" | sort -u | while read -r name; do
        [ -e "$name" ] || [ -e "$name.c" ] || echo "$page names $name, which is not there"
    done
done >"$box/stderr"
check 'files that pages name are there' [ ! -s "$box/stderr" ]
: >"$box/stderr"

# ---- generated pages ----
"$brevis" explain --page >"$box/scenario.md"
check 'the page of keys is fresh' cmp -s "$box/scenario.md" docs/reference/scenario.md
"$brevis" explain --page terms >"$box/glossary.md"
check 'the glossary is fresh' cmp -s "$box/glossary.md" docs/theory/glossary.md
check 'there are words in it' [ "$(grep -c '^| [a-z]' "$box/glossary.md")" -gt 40 ]
# Words that nothing shows and no page uses would be dead.
sed -n '/^## Words/,$s/^| \([^|]*[^| ]\) *|.*/\1/p' "$box/glossary.md" | grep -vx -e word -e --- >"$box/words"
# An entry of several words, "hit, missed", is used when each of them is.
tr '\n' '\0' <"$box/words" | xargs -0 -n 1 | sed 's/, and \|, \| and /\n/g' | while read -r word; do
    grep -qriwF --include='*.md' --include='*.c' --include='*.gp' --exclude=glossary.md --exclude=term.c -e "$word" -e "${word}s" docs cli plots model || echo "$word"
done >"$box/stderr"
check 'every word of the glossary is used' [ ! -s "$box/stderr" ]
: >"$box/stderr"

counted_out
