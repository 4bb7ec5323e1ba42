# A bare Debian in a folder: made, entered, taken away. Read with `.` by what tries the project on a new machine.
# Mounts are made inside a namespace of their own that ends with the command, so that none is left on any way out and a
# folder can be deleted without reaching through one.

suite=bookworm

root_private() { unshare --mount --pid --fork --kill-child true 2>/dev/null; }

# root_alone COMMAND...: in a namespace where that is allowed. It is waited for in the background, since only so a signal is
# heard at once; root_stop then ends it with all it started.
root_alone() {
    ! root_private || set -- unshare --mount --pid --fork --kill-child "$@"
    "$@" </dev/null &
    root_child=$!
    root_code=0
    wait $root_child || root_code=$?
    root_child=''
    return $root_code
}

root_stop() {
    [ -n "${root_child:-}" ] || return 0
    root_signal=TERM # without a namespace only the command itself knows what it started
    ! root_private || root_signal=KILL
    kill -$root_signal "$root_child" 2>/dev/null || :
    wait "$root_child" || :
}

# Mirrors as this machine's own apt has them: address, suite, part.
root_mirrors() {
    apt-get indextargets --format '$(SITE) $(RELEASE) $(COMPONENT)' 'Created-By: Packages' 2>/dev/null |
        awk -v suite=$suite '$2 ~ "^" suite && $3 == "main"' | sort -u
}

# root_make TREE: how it was made goes to TREE.way, what debootstrap prints to TREE.log.
root_make() {
    mirror=$(root_mirrors | awk -v suite=$suite '$2 == suite { print $1; exit }')
    : "${mirror:=http://deb.debian.org/debian}"
    mkdir -p "$1" || return 1
    if [ "${ROOT_WAY:-debootstrap}" = debootstrap ] && command -v debootstrap >/dev/null 2>&1 &&
        root_alone debootstrap --variant=minbase $suite "$1" "$mirror" >"$1.log" 2>&1; then
        echo "debootstrap from $mirror" >"$1.way"
    else
        root_remove "$1" && mkdir -p "$1" && root_unpack "$1" "$mirror" >>"$1.log" 2>&1 || return 1
        echo "packages unpacked by apt and dpkg, without debootstrap, from $mirror" >"$1.way"
    fi
    root_settle "$1"
}

# The same without debootstrap: essential packages are fetched by the apt of this machine, unpacked, then set up inside.
root_unpack() {
    tree=$1
    for folder in etc/apt/apt.conf.d etc/apt/preferences.d etc/apt/trusted.gpg.d var/lib/dpkg/info \
        var/lib/apt/lists/partial var/cache/apt/archives/partial usr/bin usr/sbin usr/lib usr/lib64 dev; do
        mkdir -p "$tree/$folder"
    done
    for folder in bin sbin lib lib64; do ln -s usr/$folder "$tree/$folder"; done
    : >"$tree/var/lib/dpkg/status"
    echo "deb $2 $suite main" >"$tree/etc/apt/sources.list"
    architecture=$(dpkg --print-architecture)
    fetch() {
        # Addresses of this machine's proxies still come from its own /etc/apt, which is read first.
        apt-get -o Dir::Etc::SourceList="$tree/etc/apt/sources.list" -o Dir::Etc::SourceParts=/dev/null \
            -o Dir::State="$tree/var/lib/apt" -o Dir::State::status="$tree/var/lib/dpkg/status" \
            -o Dir::Cache="$tree/var/cache/apt" -o APT::Architecture="$architecture" \
            -o APT::Install-Recommends=0 -o APT::Sandbox::User=root -o Binary::apt-get::APT::Keep-Downloaded-Packages=1 \
            -o APT::Keep-Downloaded-Packages=1 -o DPkg::Post-Invoke= -o APT::Update::Post-Invoke= "$@"
    }
    fetch update -qq && fetch install -y -qq --download-only '?essential' apt passwd adduser debian-archive-keyring || return 1
    for archive in "$tree"/var/cache/apt/archives/*.deb; do
        dpkg-deb --fsys-tarfile "$archive" | tar -xk -C "$tree" || return 1
    done
    root_devices "$tree"
    for table in passwd group; do cp "$tree/usr/share/base-passwd/$table.master" "$tree/etc/$table"; done
    root_enter "$tree" sh -c 'export DEBIAN_FRONTEND=noninteractive
        dpkg --force-depends --install /var/cache/apt/archives/*.deb && dpkg --configure -a'
}

# What programs and tests open; made once more where debootstrap could not.
root_devices() {
    for device in null:3 zero:5 full:7 random:8 urandom:9; do
        [ -e "$1/dev/${device%:*}" ] || mknod -m 666 "$1/dev/${device%:*}" c 1 "${device#*:}"
    done
    [ -e "$1/dev/tty" ] || mknod -m 666 "$1/dev/tty" c 5 0
    [ -e "$1/dev/fd" ] || ln -s /proc/self/fd "$1/dev/fd"
    for stream in 0:stdin 1:stdout 2:stderr; do
        [ -L "$1/dev/${stream#*:}" ] || ln -s "/proc/self/fd/${stream%:*}" "$1/dev/${stream#*:}"
    done
    mkdir -p "$1/dev/shm" && chmod 1777 "$1/dev/shm"
}

# Network and apt as this machine has them: mirrors, proxies, names. Nothing of its passwords goes in.
root_settle() {
    root_mirrors | awk '{ print "deb", $1, $2, $3 }' >"$1/etc/apt/sources.list.new"
    if [ -s "$1/etc/apt/sources.list.new" ]; then
        mv "$1/etc/apt/sources.list.new" "$1/etc/apt/sources.list"
    else
        rm "$1/etc/apt/sources.list.new"
    fi
    {
        [ -z "${http_proxy:-}" ] || echo "Acquire::http::Proxy \"$http_proxy\";"
        apt-config dump 2>/dev/null | grep -i '^Acquire::[a-z]*::Proxy'
    } >"$1/etc/apt/apt.conf.d/01proxy"
    cp -L /etc/resolv.conf "$1/etc/resolv.conf"
    echo "127.0.0.1 localhost $(hostname)" >"$1/etc/hosts"
    rm -f "$1"/var/cache/apt/archives/*.deb
}

# root_enter TREE COMMAND...: as root inside, with /proc where that is allowed and with nothing of the caller's environment.
# What still runs after ROOT_SECONDS is killed with all it started; the code is then 137.
root_enter() {
    tree=$1
    shift
    set -- chroot "$tree" timeout -s KILL "${ROOT_SECONDS:-900}" "$@"
    ! root_private || set -- sh -c 'mount -t proc proc "$0/proc" && exec "$@"' "$tree" "$@"
    root_alone env -i PATH=/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin HOME=/root TERM=dumb "$@"
}

root_remove() { # never through a mount: another file system in there would be emptied with the folder
    [ -n "$1" ] && [ -d "$1" ] || return 0
    if awk -v tree="$(cd "$1" && pwd -P)" 'index($2 "/", tree "/") == 1 { found = 1 } END { exit !found }' /proc/mounts; then
        echo "$1 holds a mount and is left: umount it, then delete the folder" >&2
        return 1
    fi
    rm -rf --one-file-system "$1"
}
