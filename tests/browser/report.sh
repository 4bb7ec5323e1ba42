#!/bin/sh
# report.html in a browser: no complaint of the page, no request to anybody, nothing wider than a phone, and a page count on
# paper. For a machine with Chromium; where there is none this says so and passes. Not part of `make test`.
# usage: BREVIS=build/brevis sh tests/browser/report.sh [FOLDER for pictures and PDFs to look at]
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh
for name in chromium chromium-browser; do
    command -v $name >/dev/null 2>&1 && browser=$name && break
done
if [ -z "${browser:-}" ]; then
    echo 'left out: no Chromium is here'
    exit 0
fi
looks=${1:-$box/looks}
mkdir -p "$looks"

open() { # open OPTIONS... FILE: no network, nothing kept
    "$browser" --headless --no-sandbox --disable-gpu --hide-scrollbars --user-data-dir="$box/profile" --no-first-run \
        --disable-background-networking --disable-component-update --disable-sync --host-resolver-rules='MAP * ~NOTFOUND' \
        "$@" 2>"$box/stderr"
}
quiet() { # no word of the page on its console
    open --enable-logging=stderr --v=0 --screenshot="$2" --window-size=$3,3200 "file://$1" >/dev/null
    ! grep -E 'CONSOLE' "$box/stderr"
}
asks() { # what a page asks for beyond itself: from the log of all requests, without what the browser asks for its own sake
    open --log-net-log="$box/net.json" --net-log-capture-mode=IncludeSensitive --dump-dom "file://$1" >/dev/null
    [ -s "$box/net.json" ] || echo 'no log was written'
    grep -E '"url":"(https?|wss?|ftp):' "$box/net.json" | grep -v '"initiator":"not an origin"' | grep '"initiator"' |
        grep -oE '"url":"[^"]*"' | sort -u
}
alone() { [ -z "$(asks "$1")" ] || { asks "$1"; return 1; }; }
# The page measures itself: a copy with a line of script writes its width, and what sticks out, into its title.
width_of() { # width_of FILE PIXELS
    sed 's|</body>|<script>document.title="width "+document.documentElement.scrollWidth+" of "+innerWidth+" images "+[...document.images].filter(i=>i.complete\&\&i.naturalWidth>0).length+"/"+document.images.length</script></body>|' "$1" >"$box/measured.html"
    open --window-size=$2,3200 --dump-dom "file://$box/measured.html" | sed -n 's|.*<title>\(width [^<]*\)</title>.*|\1|p'
}
fits() { # fits FILE PIXELS: as wide as the window, which a browser may not make as narrow as it is told
    found=$(width_of "$1" "$2")
    echo "$found" | awk '{ exit !($2 > 300 && $2 <= $4) }' || { echo "at $2 pixels: $found"; return 1; }
}
drawn() { width_of "$1" 1280 | awk '{ split($6, n, "/"); exit !(n[1] == n[2] && n[1] + 0 >= least) }' least="$2"; }
pages_of() { # of a PDF that the browser made; counted by its own objects
    grep -acE '/Type ?/Page([^s]|$)' "$1"
}
paper() { # paper FILE PDF LEAST MOST
    open --no-pdf-header-footer --print-to-pdf="$2" "file://$1"
    n=$(pages_of "$2")
    [ "$n" -ge "$3" ] && [ "$n" -le "$4" ] || { echo "$n pages instead of $3 to $4"; return 1; }
}

printf '<!doctype html><title>x</title><img src="http://nowhere.invalid/a.png" alt="">' >"$box/asking.html"
check 'a page that asks somebody is noticed' sh -c "echo '$(asks "$box/asking.html")' | grep -q nowhere"
printf '<!doctype html><title>x</title><body><div style="width:700px">wide</div></body>' >"$box/wide.html"
check 'so is one that is too wide' sh -c "! $(fits "$box/wide.html" 390 >/dev/null && echo true || echo false)"
"$brevis" run --quiet --out "$box/run" scenarios/hand_532nm.yaml
"$brevis" run --quiet --no-figures --out "$box/bare" --set 'title=<b>"a" & שלום `id` 50 % and a word_that_has_no_place_to_break_but_goes_on_and_on_and_on_and_on' \
    scenarios/film_soot_1064nm.yaml
"$brevis" compare --quiet --out "$box/compare" scenarios/compare/pulse_widths.yaml
for name in run bare compare; do
    page=$box/$name/report.html
    check "$name: nothing on the console at 390 pixels" quiet "$page" "$looks/$name-390.png" 390
    check "$name: nor at 1280" quiet "$page" "$looks/$name-1280.png" 1280
    check "$name: asks nobody" alone "$page"
    check "$name: a phone does not scroll sideways" fits "$page" 390
    check "$name: nor does a screen" fits "$page" 1280
done
check 'run: all figures are shown' drawn "$box/run/report.html" 6
check 'compare: its figure is shown' drawn "$box/compare/report.html" 1
check 'run: on paper' paper "$box/run/report.html" "$looks/run.pdf" 8 13
check 'bare: on paper' paper "$box/bare/report.html" "$looks/bare.pdf" 5 9
check 'compare: on paper' paper "$box/compare/report.html" "$looks/compare.pdf" 6 11

counted_out
