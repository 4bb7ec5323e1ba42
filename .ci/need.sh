#!/bin/sh
# Looks for what a job needs and installs what is missing: through apt as root or with sudo; otherwise it prints the command
# to run. A machine that has everything is left alone at once.
# usage: .ci/need.sh demo|test|deb|lint|fuzz|sanitize|coverage|fresh
set -u

want=$1
missing=''

need() { # need PACKAGE COMMAND...: the package is missing when the command fails
    package=$1
    shift
    "$@" >/dev/null 2>&1 || missing="$missing $package"
}

has_library() { pkg-config --exists "$1" || cc -E -include "$2" -x c /dev/null; }
has_cmocka() { echo '#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>' | cc -E -x c -; }
has_runtime() { ls "$(clang -print-resource-dir)"/lib/linux/libclang_rt.asan-*.a; }
has_font() { find /usr/share/fonts /usr/local/share/fonts -name 'DejaVuSans.ttf' 2>/dev/null | grep -q .; }

if [ "$want" = fresh ]; then # it compiles in a root of its own, and needs nothing of the rest here
    need git command -v git
    need debootstrap command -v debootstrap
else
    need gcc command -v cc
    need libc6-dev sh -c 'echo "#include <math.h>" | cc -E -x c -'
    need pkg-config command -v pkg-config
    need libgsl-dev has_library gsl gsl/gsl_version.h
    need libyaml-dev has_library yaml-0.1 yaml.h
    need gnuplot-nox command -v gnuplot
    need fonts-dejavu-core has_font
fi
case $want in test | lint | sanitize | coverage) need libcmocka-dev has_cmocka ;; esac
if [ "$want" = deb ]; then
    need build-essential dpkg-query -W build-essential
    need dpkg-dev command -v dpkg-buildpackage
    need debhelper command -v dh
    need lintian command -v lintian
fi
if [ "$want" = lint ]; then
    need cppcheck command -v cppcheck
    need clang-format command -v clang-format
    need clang-tidy command -v clang-tidy
    need codespell command -v codespell
    need shellcheck command -v shellcheck
fi
if [ "$want" = fuzz ] || [ "$want" = sanitize ]; then
    need clang command -v clang
    need libclang-rt-14-dev has_runtime
fi
if [ "$want" = sanitize ]; then
    need libomp-dev sh -c 'echo "#include <omp.h>" | clang -fopenmp -E -x c -'
    need valgrind command -v valgrind
fi
[ "$want" != coverage ] || need gcovr command -v gcovr

[ -n "$missing" ] || exit 0
install="apt-get install -y --no-install-recommends$missing"
echo "brevis needs:$missing"

if ! command -v apt-get >/dev/null 2>&1; then
    echo 'This machine has no apt. Please install these (names as in Debian) and run the same command again.'
    exit 1
fi
if [ "$(id -u)" = 0 ]; then
    as_root=''
elif command -v sudo >/dev/null 2>&1 && { [ -t 0 ] || sudo -n true 2>/dev/null; }; then
    as_root='sudo'
else
    echo 'Please run, as an administrator:'
    echo "    apt-get update && $install"
    exit 1
fi

echo "Installing with:${as_root:+ $as_root} $install"
export DEBIAN_FRONTEND=noninteractive
$as_root apt-get update -qq && $as_root $install >/dev/null && exit 0
echo 'The installation failed; the lines above say why. The command was:'
echo "    ${as_root:+$as_root }apt-get update && ${as_root:+$as_root }$install"
exit 1
