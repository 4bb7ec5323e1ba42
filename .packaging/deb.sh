#!/bin/sh
# Builds the Debian packages in a copy of what they need, below BUILD/deb, and looks them over with lintian.
# usage: VERSION=0.1.0 BUILD=build sh .packaging/deb.sh   (make deb)
set -eu
cd "$(dirname "$0")/.."
here=$PWD
told=$(sed -n '1s/^brevis (\([^)]*\)).*/\1/p' .packaging/debian/changelog)
[ "$told" = "$VERSION" ] || {
    echo "make deb: .packaging/debian/changelog speaks of version $told, the Makefile of $VERSION" >&2
    exit 1
}

rm -rf "$BUILD/deb"
tree=$BUILD/deb/brevis-$VERSION
mkdir -p "$tree"
cp -R Makefile README.md LICENSE .packaging .ci model cli plots scenarios docs "$tree"
mv "$tree/.packaging/debian" "$tree/debian"

cd "$tree"
unset MAKEFLAGS MFLAGS MAKELEVEL || : # those of the make that called are for this tree, not for the copy
dpkg-buildpackage -us -uc -b >../log.txt 2>&1 || { tail -n 30 ../log.txt; echo "make deb: all of it is in $BUILD/deb/log.txt" >&2; exit 1; }
cd ..
lintian --tag-display-limit 0 --fail-on error -- ./*.changes
cd "$here"
ls "$BUILD"/deb/*.deb
