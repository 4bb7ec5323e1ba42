#!/bin/sh
# Lays files out under DESTDIR and PREFIX, and takes away exactly those again: a list of every file put there and of every
# folder made for them lies with them. The makefile gives the variables; see install.mk.
# usage: sh .packaging/install.sh install|uninstall
set -eu
umask 022

fault() {
    echo "make $task: $*" >&2
    exit 1
}

task=$1
case $PREFIX in
/*) ;;
*) fault "PREFIX=$PREFIX: a path from / on is wanted here, since the program keeps it; DESTDIR may be any folder" ;;
esac
data=$PREFIX/share/brevis
list=$DESTDIR$data/installed.txt

take_away() { # files first, then folders from the deepest up, as far as nothing else is in them
    sed -n 's/^file //p' "$list" | while IFS= read -r file; do rm -f "$DESTDIR$file"; done
    folders=$(sed -n 's/^folder //p' "$list" | LC_ALL=C sort -r)
    rm -f "$list"
    printf '%s\n' "$folders" | while IFS= read -r folder; do rmdir "$DESTDIR$folder" 2>/dev/null || :; done
}

if [ "$task" = uninstall ]; then
    [ -f "$list" ] || fault "no list of installed files at $list; nothing was removed. Were PREFIX and DESTDIR the same?"
    take_away
    echo "removed from $DESTDIR$PREFIX"
    exit 0
fi

# ---- install ----
[ ! -f "$list" ] || take_away # files of another version would stay behind
aside=$(mktemp -d)
made=$aside/list
: >"$made"
finish() { # the list is left even where something failed half way, so that it can be taken away
    [ ! -d "$DESTDIR$data" ] || { [ -s "$made" ] && LC_ALL=C sort -u "$made" >"$list"; }
    rm -rf "$aside"
}
trap finish EXIT

folder() { # folder PATH: made with those above it, as far as they are missing
    [ ! -d "$DESTDIR$1" ] || return 0
    [ "$1" = / ] || [ "$1" = . ] || folder "$(dirname "$1")"
    mkdir "$DESTDIR$1"
    echo "folder $1" >>"$made"
}
[ -z "$DESTDIR" ] || mkdir -p "$DESTDIR"
folder "$data" # the list lies there

put() { # put MODE FILE TARGET
    folder "$(dirname "$3")"
    echo "file $3" >>"$made"
    install -m "$1" "$2" "$DESTDIR$3"
}
put_all() { # put_all TARGET: the files named on standard input, below it
    while IFS= read -r file; do
        case $file in *.sh) mode=755 ;; *) mode=644 ;; esac
        put "$mode" "$file" "$1/$file"
    done
}
files_below() { find "$@" -type f ! -name '.*' ! -name '*~' | LC_ALL=C sort; }

put 755 "$PROGRAM" "$PREFIX/bin/brevis"
# shellcheck disable=SC2153 # LIBDIR comes from the makefile
put 644 "$LIBRARY" "$LIBDIR/libbrevis.a"
for header in model/*/*.h; do put 644 "$header" "$PREFIX/include/brevis/${header#model/}"; done

case $LIBDIR in "$PREFIX"/*) libdir="\${prefix}${LIBDIR#"$PREFIX"}" ;; *) libdir=$LIBDIR ;; esac
sed -e "s|@PREFIX@|$PREFIX|" -e "s|@LIBDIR@|$libdir|" -e "s|@VERSION@|$VERSION|" -e "s|@LINK@|$LINK|" \
    .packaging/brevis.pc.in >"$aside/brevis.pc"
put 644 "$aside/brevis.pc" "$LIBDIR/pkgconfig/brevis.pc"

files_below plots | put_all "$data"
files_below scenarios ! -path 'scenarios/wrong/*' | put_all "$data"
{ echo README.md; echo LICENSE; files_below docs; } | put_all "$PREFIX/share/doc/brevis"

for page in $MANUAL; do put 644 "$page" "$PREFIX/share/man/man${page##*.}/${page##*/}"; done
for file in $COMPLETION; do
    case $file in
    */_*) put 644 "$file" "$ZSHDIR/${file##*/}" ;;
    *) put 644 "$file" "$PREFIX/share/bash-completion/completions/$(basename "$file" .bash)" ;; # as bash looks for it
    esac
done
echo "installed in $DESTDIR$PREFIX: bin/brevis, the library with headers, plots, scenarios and pages"
