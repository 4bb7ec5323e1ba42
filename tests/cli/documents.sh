#!/bin/sh
# Every block of commands in README.md and docs/ is run, page by page, as a reader would: in a folder with scenarios/, docs/
# and build/brevis. It must end with 0, and so must every brevis in it; where a block of `text` follows at once, what was
# printed must be that, byte by byte.
#     ```sh                            commands
#     ```text                          at once behind it: what they print
#     Save this as `NAME`  ```yaml     is saved under that name
#     <!-- not run: REASON -->         the next block is left out, and the reason is told
# In a block that is only indented, lines that begin with build/brevis are run; of `make WORD` the word must be a target.
# usage: BREVIS=build/brevis sh tests/cli/documents.sh [--update] [PAGE...]     --update rewrites blocks of text
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh
top=$PWD
update=
[ "${1:-}" = --update ] && update=yes && shift

# Cuts a page into files: N.sh commands, N.text what they print, N.save a file to be written and its name in N.name,
# N.skip why it is left out, N.line where it stands; N.make words behind make.
cut_up() { # cut_up PAGE FOLDER
    awk -v to="$2/" -v README="$(case $1 in README.md) echo 1 ;; esac)" '
    function begin(kind) { n++; file = sprintf("%s%03d.%s", to, n, kind); printf "" >file; print NR >sprintf("%s%03d.line", to, n) }
    function end() { close(file); file = "" }
    inside && /^```/ { end(); inside = 0; next }
    inside { print >file; next }
    /^```sh$/ {
        begin(reason ? "left" : "sh")
        if (reason) { print reason >sprintf("%s%03d.skip", to, n); after = 0 } else after = n
        reason = ""; inside = 1; save = ""; next
    }
    /^```text$/ && after { file = sprintf("%s%03d.text", to, after); printf "" >file; after = 0; inside = 1; next }
    /^```yaml$/ && save { begin("save"); print save >sprintf("%s%03d.name", to, n); save = ""; inside = 1; next }
    /^```/ { file = "/dev/null"; inside = 1; after = 0; save = ""; next }
    /^<!-- not run: .* -->$/ { reason = substr($0, 15, length - 18); next }
    README && /^    (build\/brevis|make) / && !indented { begin($1 == "make" ? "make" : (reason ? "left" : "sh"))
        if (reason) print reason >sprintf("%s%03d.skip", to, n)
        reason = ""; indented = 1 }
    /^    / && indented { print substr($0, 5) >file; next }
    indented && !/^    / { end(); indented = 0 }
    /Save this as `[^`\/]*`/ { save = $0; sub(/.*Save this as `/, "", save); sub(/`.*/, "", save) }
    NF { after = 0; if (save && !/Save this as/) save = "" }
    ' "$1"
}

# Every brevis of a block ends with 0, also one whose output goes to another program; 141: nobody read on.
reader() { # reader FOLDER: what a reader has in the top folder after make
    mkdir -p "$1/build" && cp -r "$top/scenarios" "$top/docs" "$1" && cat >"$1/build/brevis" <<END
#!/bin/sh
"$brevis" "\$@"
code=\$?
[ \$code = 0 ] || [ \$code = 141 ] || echo "exit \$code: brevis \$*" >>'$1/failed'
exit \$code
END
    chmod +x "$1/build/brevis"
}

runs() { # runs FOLDER BLOCK: in that folder
    rm -f "$1/failed"
    (cd "$1" && sh -eu "$2.sh") >"$2.out" 2>"$2.err" </dev/null && [ ! -s "$1/failed" ] && return
    cat "$2.err" "$1/failed" 2>/dev/null
    return 1
}

targets() { # targets FILE: each `make WORD` of it is a target of the Makefile
    awk '$1 == "make" && $2 ~ /^[a-z]/ { print $2 }' "$1" | while read -r word; do
        grep -qE "^$word:( |\$)" Makefile || { echo "make $word is no target"; exit 1; }
    done
}

# The page with what its blocks printed this time in place of what it says.
rewritten() { # rewritten PAGE FOLDER
    awk -v from="$2/" '
    BEGIN {
        for (n = 1; (getline line < sprintf("%s%03d.line", from, n)) > 0; n++)
            if ((getline printed < sprintf("%s%03d.out", from, n)) >= 0) {
                at[line] = n
                close(sprintf("%s%03d.out", from, n))
            }
    }
    inside && /^```/ { inside = dropped = 0; print; next }
    dropped { next }
    { print }
    /^```text$/ && after {
        file = sprintf("%s%03d.out", from, after)
        while ((getline line < file) > 0) print line
        inside = dropped = 1
        after = 0
        next
    }
    /^```/ { inside = 1; after = (NR in at) ? at[NR] : 0; next }
    NF && !inside { after = 0 }
    ' "$1"
}

found=0
page_holds() { # page_holds PAGE
    cut=$box/cut_$(echo "$1" | tr / _)
    mkdir -p "$cut"
    cut_up "$1" "$cut"
    [ -n "$(ls "$cut")" ] || return 0
    reader "$cut/reader"
    for line in "$cut"/*.line; do
        block=${line%.line}
        where="$1:$(cat "$line")"
        [ ! -f "$block.save" ] || cp "$block.save" "$cut/reader/$(cat "$block.name")"
        [ ! -f "$block.skip" ] || echo "$where is not run: $(cat "$block.skip")"
        [ ! -f "$block.make" ] || check "$where: targets of make" targets "$block.make"
        [ -f "$block.sh" ] || continue
        found=$((found + 1))
        check "$where: its commands" runs "$cut/reader" "$block"
        [ -f "$block.text" ] && [ -z "$update" ] && check "$where: what they print" diff "$block.text" "$block.out"
    done
    [ -z "$update" ] || { rewritten "$1" "$cut" >"$box/page" && cat "$box/page" >"$1"; }
    rm -rf "$cut/reader"
}

[ $# -gt 0 ] || whole=yes
[ $# -gt 0 ] || set -- README.md $(find docs -name '*.md' | sort)
for page in "$@"; do page_holds "$page"; done
[ -z "${whole:-}" ] || check 'there are blocks' [ "$found" -gt 40 ]
: >"$box/stderr"
counted_out
