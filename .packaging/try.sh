#!/bin/sh
# Installs the packages of `make deb` in a bare Debian, runs the README's command from an empty folder, builds the C
# example, and wants nothing of it left after purging. Changes the tree it is given: give it a copy. Without one it makes
# its own and takes it away again. Needs root.
# usage: sh .packaging/try.sh [TREE [BUILD]]    TREE: a Debian in a folder, as debootstrap makes one
set -eu
cd "$(dirname "$0")/.."
. .packaging/root.sh
tree=${1:-}
build=${2:-build}
[ "$(id -u)" = 0 ] || { echo 'root is needed for chroot: left out'; exit 1; }
ls "$build"/deb/brevis_*.deb "$build"/deb/libbrevis-dev_*.deb >/dev/null || { echo 'make deb comes first'; exit 1; }
own=''
finish() {
    root_stop
    [ -z "$own" ] || { root_remove "$own/tree" && rm -rf "$own"; }
}
trap finish EXIT
trap 'exit 130' INT
trap 'exit 143' TERM HUP
if [ -z "$tree" ]; then
    own=$(cd "$build/deb" && mktemp -d "$PWD/try.XXXXXX")
    tree=$own/tree
    root_make "$tree" || { tail "$tree.log"; exit 1; }
    echo "a bare Debian by $(cat "$tree.way")"
fi
[ -x "$tree/usr/bin/apt-get" ] || { echo "$tree holds no Debian: left out"; exit 1; }

inside=$tree/tmp/brevis_try
rm -rf "$inside" && mkdir -p "$inside/empty"
cp "$build"/deb/brevis_*.deb "$build"/deb/libbrevis-dev_*.deb docs/how_to/call_the_model.c "$inside"
cat >"$inside/try.sh" <<'EOT'
export DEBIAN_FRONTEND=noninteractive LC_ALL=C
cd /tmp/brevis_try
apt-get update -qq 2>/dev/null
apt-get install -y -qq ./brevis_*.deb >log.txt 2>&1 || { tail log.txt; exit 1; }
(cd empty && brevis run --quiet scenarios/hand_532nm.yaml)
ls empty/out/hand_532nm/temperature.png empty/out/hand_532nm/summary.json
apt-get install -y -qq gcc libc6-dev pkg-config ./libbrevis-dev_*.deb >>log.txt 2>&1 || { tail log.txt; exit 1; }
cc -std=c11 call_the_model.c -o call_the_model $(pkg-config --cflags --libs --static brevis)
./call_the_model
apt-get purge -y -qq brevis libbrevis-dev >>log.txt 2>&1
left=$(find / -xdev -iname '*brevis*' ! -path '/tmp/brevis_try*' ! -path '/root/*' ! -path '/proc/*')
[ -z "$left" ] || { echo "left behind: $left"; exit 1; }
echo 'installed, ran, and went without a trace'
EOT
root_enter "$tree" sh -eu /tmp/brevis_try/try.sh
rm -rf "$inside"
